"""Which count is of which deed where no marks part them: `12 toyon sold 40 sage stuck`, `took 70 sage 66 stuck`.

As many counts as deeds, each right beside its own, can be told apart in one way only.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.act_kinds import OF_PLANTS
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_COUNTED: Final = OF_PLANTS - {"reserve"} | {"lose", "check"}
_BETWEEN: Final = frozenset({"plant", "what", "cutting"})
_UNSURE: Final = frozenset({"negation", "none", "condition", "plan", "hearsay", "all", "both", "vague"})
_SEEN: Final = frozenset({"check", "lose"})
_LEADS: Final = frozenset({"from", "of", "in", "into"})
_FRAMES: Final = small_words("counts_in_turn", "frames")
_FEWEST: Final = 2
_IN: Final = frozenset({"in", "out", "left"})


@looks_for("=counts", beside=("=deeds",))
def part_counts_in_turn(pieces: list[Piece]) -> None:
    """Puts a comma between each deed with its count and the next, in place."""
    start = 0
    while start < len(pieces):
        end = end_of_statement(pieces, start)
        begins = _groups(pieces, start, end)
        if begins:
            keep_words(*(piece for piece in pieces[start : begins[0]] if piece.kind == "number"))
            last = next((at for at in range(end - 1, begins[-1], -1) if pieces[at - 1].low in _FRAMES), end)
            keep_words(*(piece for piece in pieces[last:end] if piece.kind == "number"))
        for at in reversed(begins[1:]):
            pieces.insert(at, Piece("break", "and", pieces[at].first, pieces[at].first, "and"))
        start = end + len(begins[1:]) + 1


def _groups(pieces: list[Piece], start: int, end: int) -> list[int]:
    """Where each deed with its count begins in a statement; nothing where they cannot be told apart."""
    said = pieces[start:end]
    if sum([piece.kind == "number" for piece in said]) < _FEWEST:
        return []
    if sum(piece.kind in SUBJECTS for piece in said) > 1 or any(_UNSURE & piece.roles.keys() for piece in said):
        return []
    told = [at for at in range(start, end) if is_act(pieces[at]) or _counts(pieces, at, end)]
    deeds = [at for at in told if is_act(pieces[at])]
    if len(deeds) < _FEWEST or len(told) != 2 * len(deeds) or not all(_is_counted(pieces[at]) for at in deeds):
        return []
    pairs = list(zip(told[::2], told[1::2], strict=True))
    matched = all(is_act(pieces[first]) != is_act(pieces[second]) for first, second in pairs)
    moved = any(_act(pieces[at]) not in _SEEN for at in deeds)
    beside = all(_BETWEEN & one.roles.keys() for first, second in pairs for one in pieces[first + 1 : second])
    parted = all(_may_end(one) for (_, last), (after, _) in pairwise(pairs) for one in pieces[last + 1 : after])
    return [first for first, _ in pairs] if moved and matched and beside and parted else []


def _may_end(piece: Piece) -> bool:
    """What may stand after a deed with its count, before the next: a plant, a lot, pots."""
    named = piece.kind in SUBJECTS or piece.kind in ("size", "quote") or piece.low in _LEADS
    return named or not piece.roles.keys().isdisjoint(_BETWEEN | {"container"})


def _act(piece: Piece) -> str:
    word = piece.roles.get("act")
    return word.act if word is not None else ""


def _counts(pieces: list[Piece], at: int, end: int) -> bool:
    """A bare count; not the 30 of `30 in 20 rooted` or the 20 of `start 20 sold 4`."""
    number = pieces[at]
    if number.kind != "number" or number.value.whole is None or number.value.of is not None:
        return False
    told_in = at + 2 < end and pieces[at + 1].low in _IN and pieces[at + 2].kind == "number"
    framed = at > 0 and (pieces[at - 1].kind == "word" or pieces[at - 1].low in _FRAMES)
    return not told_in and not framed


def _is_counted(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared")
    if word is None:
        return False
    return word.rule == "took" or (word.act in _COUNTED and (word.act != "check" or "state" in word.says))
