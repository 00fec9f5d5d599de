"""How many came from each of several mother plants: `m2 20, m3 16`, `15 each from m1, m4 and m7`.

Rules
1. A mother plant (`m2`) and the bare number beside it are one share; so is each of a list with a count for each.
2. Only beside a deed that opens a lot; a mother after a tray or a lot's word is that tray or lot.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.numbers import Number
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.said import statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_SHARED: Final = frozenset({"took", "planted", "put"})
_FROM: Final = small_words("places", "from")
_EACH: Final = small_words("sources", "each")
_TIMES: Final = small_words("sources", "times")
_BEFORE_COUNTS: Final = small_words("sources", "before_counts")
_LISTING: Final = small_words("sources", "listing")
_MANY: Final = small_words("sources", "many_mothers")
_FILLER: Final = {"filler": True}
_MOST_MOTHERS: Final = 20
_FARTHEST: Final = 5


def is_mother(word: str) -> bool:
    """Whether a word is the short name of a mother plant (`m2`, `k12`)."""
    return 1 < len(word) <= 4 and word[0].isalpha() and word[1:].isdigit()


def names_mother(piece: Piece) -> bool:
    """Whether a piece is a mother plant by its short name where no place leads to it (`sorry m3`, `m5 is dead`)."""
    return piece.kind == "word" and piece.low.startswith("m") and is_mother(piece.low)


@looks_for(*(f"!{act}" for act in OPENING), *(f"~{rule}" for rule in _SHARED), beside=("=word",))
def join_shares(pieces: list[Piece]) -> None:
    """Makes one piece of each mother plant and its count, and of a list of mothers with a count for each, in place."""
    if not any(_opens_lot(piece) for piece in pieces):
        return
    for place, piece in enumerate(pieces[1:], start=1):
        if piece.low in _MANY and _counts(pieces[place - 1]):
            _times_mothers(pieces, place)
            break
    if not any(is_mother(piece.low) for piece in pieces):
        return
    _spell_ranges(pieces)
    at = 0
    while at < len(pieces):
        if not _of_new_lot(pieces, at):
            # "gave 74 from l38 to ana. stuck 39 yarrow".
            at += 1
            continue
        if _share_each(pieces, at) or _shares_listed(pieces, at):
            continue
        _join_list(pieces, at)
        at += 1


def _join_list(pieces: list[Piece], at: int) -> None:
    """`from m2, m5 and m9`: one source of several mothers, where no counts are told, in place."""
    end = mothers_end(pieces, at) if at and pieces[at - 1].low in _FROM else at
    if end > at + 1 and any(piece.low == "," for piece in pieces[at:end]):
        low = " ".join(piece.low for piece in pieces[at:end])
        pieces[at:end] = [Piece("word", None, pieces[at].first, pieces[end - 1].last, low)]


def _spell_ranges(pieces: list[Piece]) -> None:
    """`m1-m4`: each of the mothers by its name, in place."""
    for at in range(len(pieces) - 3, -1, -1):
        first, dash, last = pieces[at : at + 3]
        ranged = dash.low in ("-", "to") and is_mother(first.low) and is_mother(last.low)
        if not ranged or first.low[0] != last.low[0]:
            continue
        low, high = int(first.low[1:]), int(last.low[1:])
        if low < high < low + _MOST_MOTHERS:
            names = [f"{first.low[0]}{number}" for number in range(low + 1, high)]
            pieces[at + 1 : at + 2] = [Piece("word", None, dash.first, dash.last, name) for name in names]


def _times_mothers(pieces: list[Piece], at: int) -> None:
    """`12 cuttings from each of four mothers`, `from 3 moms, 25 each`: the count of each made that of all, in place."""
    many: int = pieces[at - 1].value.whole
    after = pieces[at + 1 : at + 3]
    if len(after) == 2 and after[0].low == "of" and "plant" in after[1].roles:
        after[0].kind, after[0].low, after[0].roles = "break", ",", NO_ROLES
    lead = pieces[at - 3 : at - 1]
    each = len(lead) == 2 and lead[1].low == "of" and lead[0].low in _EACH
    number = _each_before(pieces, at - 1) if each else None
    if number is not None:
        start = at - 3 - (at > 3 and pieces[at - 4].low in _FROM)
        pieces[start : at - 1] = [Piece("phrase", None, pieces[start].first, pieces[at - 2].last, "from", _FILLER)]
    elif not any(_counts(piece) for piece in pieces[: at - 1]):
        number, end = _each_after(pieces, at + 1)
        if number is not None:
            pieces[end - 1].used = True
    if number is not None and number.value.whole is not None:
        number.value = Number(number.value.whole * many)


def _of_new_lot(pieces: list[Piece], at: int) -> bool:
    start, end = statement_at(pieces, at)
    return any(map(_opens_lot, pieces[start:end])) or not any(map(is_act, pieces[start:end]))


def _opens_lot(piece: Piece) -> bool:
    word: ActWord | None = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and (word.act in OPENING or word.rule in _SHARED)


def _share_each(pieces: list[Piece], at: int) -> bool:
    """`15 each from m1, m4 and m7`, `m2 and m3, 18 each`: a list of mothers and the count for each of them."""
    end = mothers_end(pieces, at)
    if sum(is_mother(piece.low) for piece in pieces[at:end]) < 2:
        return False
    number = _each_before(pieces, at)
    last = end
    if number is None:
        number, last = _each_after(pieces, end)
    if number is None:
        return False
    mothers = [piece.low for piece in pieces[at:end] if is_mother(piece.low)]
    value = tuple((mother, number.value.whole) for mother in mothers)
    number.used = True
    _join(pieces, at, last, value)
    return True


def mothers_end(pieces: list[Piece], at: int) -> int:
    """Where a list of mothers that begins at a place ends (`m1, m4 and m7`)."""
    if not is_mother(pieces[at].low):
        return at
    end = at + 1
    while True:
        step = end
        while step < len(pieces) and pieces[step].low in _LISTING:
            step += 1
        counts = step + 1 < len(pieces) and pieces[step].kind == "number" and pieces[step + 1].low in _FROM
        if step >= len(pieces) or counts or not is_mother(pieces[step].low) or step - end > 2:
            return end
        end = step + 1


def _each_before(pieces: list[Piece], at: int) -> Piece | None:
    """The count before `each from` that leads to a list of mothers (`15 each from`, `15 toyon each from`)."""
    step = at - 1
    while step >= 0 and (pieces[step].low in _FROM or pieces[step].low == "of"):
        step -= 1
    if step < 0 or pieces[step].low not in _EACH:
        return None
    for back in range(step - 1, max(-1, step - 1 - _FARTHEST), -1):
        piece = pieces[back]
        if _counts(piece):
            pieces[step].used = True
            return piece
        if piece.kind == "break" or is_act(piece):
            break
    return None


def _each_after(pieces: list[Piece], end: int) -> tuple[Piece | None, int]:
    """The count after a list of mothers, and where it ends (`, 18 each`, `18 ea`)."""
    step = end + (end < len(pieces) and pieces[end].low == ",")
    if step + 1 < len(pieces) and _counts(pieces[step]) and pieces[step + 1].low in _EACH:
        return pieces[step], step + 2
    return None, end


def _shares_listed(pieces: list[Piece], at: int) -> bool:
    """`m2 20 m3 16`, `20 m2 16 m3`, `m2 x20`: mothers and counts by turns, as many of each."""
    found: list[Piece] = []
    end = step = at
    while step < len(pieces):
        piece = pieces[step]
        if (_counts(piece) and not _of_something(pieces, step)) or is_mother(piece.low):
            if found and found[-1].kind == piece.kind:
                break
            found.append(piece)
            end = step = step + 1
        elif found and len(found) % 2 and piece.low in (_FROM | _TIMES if _counts(found[-1]) else _BEFORE_COUNTS):
            step += 1
        else:
            break
    mothers = [piece.low for piece in found if is_mother(piece.low)]
    numbers = [piece for piece in found if _counts(piece)]
    if end < len(pieces) and is_act(pieces[end]) and any(piece.kind in SUBJECTS for piece in found):
        # "t13 47 wilting and collected 57 twinberry": a tray, and what is counted there.
        return False
    if len(numbers) == len(mothers) + 1 and _counts(pieces[at]):
        return False
    if not mothers or len(numbers) != len(mothers) or (at and pieces[at - 1].kind == "dash"):
        return False
    value = tuple((mother, number.value.whole) for mother, number in zip(mothers, numbers, strict=True))
    _join(pieces, at, end, value)
    return True


def _counts(piece: Piece) -> bool:
    if piece.kind != "number" or piece.used:
        return False
    number: Number = piece.value
    return number.whole is not None and number.high is None and number.of is None and not number.approx


def _of_something(pieces: list[Piece], place: int) -> bool:
    """`m2 2 flats`: a number that counts what follows it."""
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    return after is not None and bool(after.roles.keys() & {"container", "pot_size", "plant"} or after.low in _EACH)


def _join(pieces: list[Piece], first: int, last: int, value: tuple[tuple[str, int], ...]) -> None:
    low = " ".join(piece.low for piece in pieces[first:last])
    pieces[first:last] = [Piece("shares", value, pieces[first].first, pieces[last - 1].last, low)]
