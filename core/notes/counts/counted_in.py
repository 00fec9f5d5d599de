"""Which lot or tray each of several counts is of: `2 dead in 11, 1 in 12, none in 14`, `checked tray 11 (2 dead) and
tray 12 (1 dead)`, `nothing dead in lots 1 and 2, 3 in lot 3`.

Rules
1. Bare numbers that "in" leads to, each after a count of its own, are lots; trays where the sentence told of trays.
2. What stands in brackets right after a lot or tray of a list is told of that one, and the deed before of them all.
3. "None" denies the loss of the lots beside it; a count in another lot after it is lost there.
"""

from __future__ import annotations

from typing import Final

from core.notes.assembly.counted_after import SUBJECT_WORDS
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_statement, deed_of, is_end, one_piece
from core.notes.words.steps import looks_for
from core.vocabulary import words

_COUNTED: Final = frozenset({"lose", "check", "wilt"})
_JOINTS: Final = frozenset({",", "and", "&", ";", "\n", "but", "."})
_LISTING: Final = frozenset({",", "and", "&", "+"})
_NONE: Final = frozenset({"none", "negation"})
_FEWEST: Final = 2
_LONGEST: Final = 4
"""Between a count and its lot stand so many pieces at most (`2 more dead in 11`)."""


@looks_for("in", beside=("!lose", "!check", "!wilt"))
def name_counted_in(pieces: list[Piece]) -> None:
    """Makes lots or trays of the bare numbers of such a list, in place."""
    found: list[int] = []
    for at in range(1, len(pieces)):
        if pieces[at].kind == "break" and pieces[at].low in SENTENCE_ENDS:
            found = []
        led = pieces[at].kind == "number" and _words_end(pieces[at - 1]) == "in"
        if not led or not _is_lot_alone(pieces, at) or not _counted_before(pieces, at):
            continue
        word = next((deed for piece in reversed(pieces[:at]) if (deed := deed_of(piece)) is not None), None)
        if word is None or word.act not in _COUNTED:
            continue
        if any(piece.kind in SUBJECTS and pieces[at].low in piece.value for piece in pieces[:at]):
            continue
        found.append(at)
        if len(found) >= _FEWEST:
            kinds = (SUBJECT_WORDS.get(_words_end(piece), piece.kind) for piece in reversed(pieces[: found[0]]))
            kind = next((kind for kind in kinds if kind in SUBJECTS), "lots")
            for place in found:
                pieces[place].kind, pieces[place].value = kind, (pieces[place].low,)


def _words_end(piece: Piece) -> str:
    return piece.low.rpartition(" ")[2]


def _is_lot_alone(pieces: list[Piece], at: int) -> bool:
    """A bare number at the end of its statement."""
    piece = pieces[at]
    if piece.kind in SUBJECTS:
        return False
    bare = piece.kind == "number" and piece.low.isdigit() and piece.value.of is None and not piece.value.approx
    return bare and (is_end(pieces, at + 1) or pieces[at + 1].low in _JOINTS)


def _counted_before(pieces: list[Piece], at: int) -> bool:
    """Whether a count, or none, begins the statement that goes up to a place (`2 dead in | 11`, `none in | 14`)."""
    start = at
    while start and not (pieces[start - 1].kind == "break" or pieces[start - 1].low in _JOINTS):
        start -= 1
    said = [piece for piece in pieces[start:at] if piece.low != "in"]
    if not said or len(said) > _LONGEST or any(piece.kind in SUBJECTS for piece in said):
        return False
    return sum(piece.kind == "number" or not _NONE.isdisjoint(piece.roles) for piece in said) == 1


@looks_for("(", beside=("!lose", "!wilt"))
def part_bracketed(pieces: list[Piece]) -> None:
    """`checked tray 11 (2 dead) and tray 12 (1 dead)`: the deed of all in the list, and then what is told of each, in
    place.
    """
    for at in range(1, len(pieces)):
        if pieces[at].kind not in SUBJECTS or not _tells_deed_of_care(pieces, at):
            continue
        listed, told, end = _bracketed_from(pieces, at)
        if len(listed) < _FEWEST or not any(_loses(run) for _, run in told):
            continue
        names = tuple(dict.fromkeys(name for one in listed for name in one.value))
        low = " ".join(one.low for one in listed)
        said = [Piece(listed[0].kind, names, listed[0].first, listed[0].last, low)]
        plain = [run for _, run in told if not any(map(is_act, run))]
        said += [one_piece(run) for run in plain]
        for one, run in told:
            first = run[0].first
            own = [Piece("break", ",", first, first, ","), Piece(one.kind, one.value, first, first, one.low), *run]
            said += own if run not in plain else []
        pieces[at:end] = said
        return


def _tells_deed_of_care(pieces: list[Piece], at: int) -> bool:
    """Whether a look or a deed that counts no plants goes before the lots or trays at a place."""
    said = pieces[begin_of_statement(pieces, at) : at]
    deeds = [word for piece in said if (word := deed_of(piece)) is not None]
    plain = len(deeds) == 1 and "state" not in deeds[0].says and not any(piece.kind == "number" for piece in said)
    return plain and (deeds[0].act == "check" or deeds[0].act in COUNTLESS)


def _bracketed_from(pieces: list[Piece], at: int) -> tuple[list[Piece], list[tuple[Piece, list[Piece]]], int]:
    """The lots or trays of a list from a place on, what stands in brackets after each, and where the list ends."""
    listed, told = [pieces[at]], list[tuple[Piece, list[Piece]]]()
    end = at + 1
    while True:
        if end < len(pieces) and pieces[end].low == "(":
            closes = next((place for place in range(end, len(pieces)) if pieces[place].low == ")"), len(pieces))
            told.append((listed[-1], pieces[end + 1 : closes]))
            end = closes + 1
        place = end
        while place < len(pieces) and pieces[place].low in _LISTING:
            place += 1
        if end == place or place >= len(pieces):
            return listed, [one for one in told if one[1]], min(end, len(pieces))
        row = _row_until_bracket(pieces, place)
        if pieces[place].kind == listed[0].kind:
            listed.append(pieces[place])
        elif row:
            listed += [Piece(listed[0].kind, (one.low,), one.first, one.last, one.low) for one in row]
            place = pieces.index(row[-1])
        else:
            return listed, [one for one in told if one[1]], end
        end = place + 1


def _row_until_bracket(pieces: list[Piece], at: int) -> list[Piece]:
    """The bare numbers of `12 and 13 (1 dead)` from a place on; none where no bracket ends them."""
    end = at
    while end < len(pieces) and (pieces[end].low.isdigit() or pieces[end].low in _LISTING):
        end += 1
    ends = end < len(pieces) and pieces[end].low == "(" and pieces[end - 1].low.isdigit()
    return [piece for piece in pieces[at:end] if piece.low.isdigit()] if ends else []


def _loses(run: list[Piece]) -> bool:
    word = next((deed for piece in run if (deed := deed_of(piece)) is not None), None)
    return word is not None and word.act in ("lose", "wilt")


@looks_for("@none", "@negation", beside=("!lose",))
def lose_in_another(pieces: list[Piece]) -> None:
    """`nothing dead in lots 1 and 2, 3 in lot 3`: the deed again where another lot has a count, in place."""
    lost: Piece | None = None
    start = 0
    while start < len(pieces):
        end = next((at for at in range(start, len(pieces)) if is_end(pieces, at)), len(pieces))
        said = pieces[start:end]
        if lost is not None and (number := _only_counts_there(said)) is not None:
            at = pieces.index(number) + 1
            pieces.insert(at, Piece("phrase", None, number.last, number.last, lost.low, lost.roles))
            end += 1
        elif said:
            lost = _lost_none(said)
        start = end + 1


def _lost_none(said: list[Piece]) -> Piece | None:
    """The word for a loss that a statement denies of some lots or trays, as it stands after a count; None where it
    denies none.
    """
    named = any(piece.kind in SUBJECTS for piece in said)
    if not named or all(_NONE.isdisjoint(piece.roles) for piece in said):
        return None
    for piece in said:
        word = piece.roles.get("act") or piece.roles.get("noun") or piece.roles.get("to_do")
        if word is not None and word.act != "lose":
            return None
        if word is not None and "act" in piece.roles and word.counts_before:
            return piece
        if word is not None:
            return Piece("phrase", None, piece.first, piece.last, "dead", words().phrases["dead"])
    return None


def _only_counts_there(said: list[Piece]) -> Piece | None:
    """The number of `3 in lot 3`, `but lot 3 3`, where nothing else is said; else None."""
    told = [piece for piece in said if piece.low not in _JOINTS and "filler" not in piece.roles]
    numbers = [piece for piece in told if piece.kind == "number" and piece.value.value > 0]
    subjects = [piece for piece in told if piece.kind in SUBJECTS]
    return numbers[0] if len(told) == 2 and len(numbers) == len(subjects) == 1 else None
