"""The words of a statement as they stand together, and how they are kept without a meaning."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from core.notes.words.pieces import COUNTS, NO_ROLES, SENTENCE_ENDS, Piece
from core.vocabulary import ActWord


def statements(pieces: list[Piece]) -> list[tuple[int, int]]:
    """Where each statement of some pieces begins and ends."""
    return _between(pieces, lambda mark: mark not in ("&", "+"))


def sentences(pieces: list[Piece]) -> list[tuple[int, int]]:
    """Where each sentence of some pieces begins and ends."""
    return _between(pieces, SENTENCE_ENDS.__contains__)


def _between(pieces: list[Piece], parts: Callable[[str], bool]) -> list[tuple[int, int]]:
    spans, start = [], 0
    for place, piece in enumerate(pieces):
        if piece.kind == "break" and parts(piece.low):
            spans.append((start, place))
            start = place + 1
    return [*spans, (start, len(pieces))]


def begin_of_statement(pieces: list[Piece], at: int) -> int:
    """Where the statement begins that goes up to a place: after the mark before it."""
    while at and pieces[at - 1].kind != "break":
        at -= 1
    return at


def end_of_statement(pieces: list[Piece], at: int) -> int:
    """Where the statement ends that goes on at a place: at the next mark."""
    while at < len(pieces) and pieces[at].kind != "break":
        at += 1
    return at


def begin_of_sentence(pieces: list[Piece], at: int) -> int:
    """Where the sentence begins that goes up to a place: after the mark before it that ends another."""
    while at and pieces[at - 1].low not in SENTENCE_ENDS:
        at -= 1
    return at


def end_of_sentence(pieces: list[Piece], at: int) -> int:
    """Where the sentence ends that goes on at a place: at the next mark that ends one."""
    while at < len(pieces) and pieces[at].low not in SENTENCE_ENDS:
        at += 1
    return at


def sentence_at(pieces: list[Piece], at: int) -> tuple[int, int]:
    """Where the sentence that holds a place begins and ends."""
    return begin_of_sentence(pieces, at), end_of_sentence(pieces, at)


def is_end(pieces: list[Piece], at: int) -> bool:
    """Whether a statement ends before a place: at a mark, or with the note."""
    return at >= len(pieces) or pieces[at].kind == "break"


def places_up_to(pieces: list[Piece], signs: Iterable[int]) -> Iterator[int]:
    """Each place of a statement up to the signs in it, once, in order; `signs` go from first to last."""
    looked_until = 0
    for at in signs:
        yield from range(max(looked_until, begin_of_statement(pieces, at)), at + 1)
        looked_until = at + 1


def statement_at(pieces: list[Piece], at: int) -> tuple[int, int]:
    """Where the statement that holds a place begins and ends."""
    return begin_of_statement(pieces, at), end_of_statement(pieces, at)


def said_in(run: list[Piece]) -> str:
    """The words of some pieces."""
    return " ".join(piece.low for piece in run)


def one_piece(run: list[Piece], kind: str = "kept") -> Piece:
    """Some pieces as one that no act reads."""
    return Piece(kind, None, run[0].first, run[-1].last, said_in(run))


def keep(*pieces: Piece, kind: str = "saying") -> None:
    """Takes every meaning from some pieces, so that only their words are kept, in place."""
    for piece in pieces:
        piece.kind, piece.roles = kind, NO_ROLES


def comma_before(piece: Piece) -> Piece:
    """A comma that nobody wrote, right before a piece: what begins there is a statement of its own."""
    return Piece("break", ",", piece.first, piece.first, ",")


def keep_words(*pieces: Piece) -> None:
    """Keeps the words of what is told in passing, in place."""
    keep(*pieces, kind="kept")


def pass_over(*pieces: Piece) -> None:
    """Takes some words for said by what stands beside them, so that no rest keeps them, in place."""
    for piece in pieces:
        piece.kind, piece.roles, piece.used = "phrase", {"filler": True}, True


def deed_of(piece: Piece) -> ActWord | None:
    """The deed that a piece says, where one word alone says it."""
    word: ActWord | None = piece.roles.get("act")
    return word


def state_of(piece: Piece) -> str:
    """The state that a word tells (`rooted`, `roots`), or an empty string."""
    word = piece.roles.get("act") or piece.roles.get("noun")
    return str(word.says.get("state", "")) if word is not None and word.act == "check" else ""


def is_count(piece: Piece) -> bool:
    """Whether a piece is a whole number of its own: no range, no part of a whole, and not so many of each."""
    number = piece.value
    return piece.kind == "number" and number.whole is not None and not (number.high or number.of or number.each)


def is_whole_number(piece: Piece) -> bool:
    """Whether a piece is a whole number that is no range and no part of a whole; perhaps so many of each."""
    number = piece.value
    return piece.kind == "number" and number.whole is not None and number.high is None and number.of is None


def counted_before(pieces: list[Piece], at: int) -> bool:
    """`4 rotted | lid off`: whether a deed has its count before it, so that what follows is not what it was done to."""
    word = deed_of(pieces[at])
    counted = at > 0 and pieces[at - 1].kind in COUNTS
    return word is not None and word.counts_before and counted
