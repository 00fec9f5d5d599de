"""The other numbers of a list after the word for one: `lot 12, 13 and 14 misted`, `fed tray 2, 3 5`.

Rules
1. They rise, and an "and" joins the last, or a deed of care, which counts no plants, is told of them.
2. Each the next after the one before (`potted lot 14 15 16, 30 total`) they are lots after any deed.
3. One more alone is a lot only where it follows the first closely, and is no count.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Final

from core.notes.assembly.counted_after import is_counted, state_of_all
from core.notes.assembly.subject_names import MOST_IN_RANGE, read_name
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import longest_phrase, statement_ends
from core.notes.words.tokens import Token
from core.vocabulary import ActWord, Leaf
from core.vocabulary.loading import small_words

_NUMBERED: Final = small_words("numbered", "signs")
_TURNED: Final = frozenset({"off", "on"})
_TO: Final = frozenset({"to", "into", "onto", "outside", "inside"})
_WORD_AND_NUMBER: Final = 2
_TENS: Final = 10
_NEAR: Final = 3
_INTO: Final = frozenset({"in", "into", "to", "up"})
_MOST_BEFORE: Final = 6
"""How many words may stand before the first number of `roots out of lot no. 50`, and they too."""


def row_after_one(
    tokens: list[Token], at: int, kind: str, tree: dict[str, Any], first: list[str], cared: bool
) -> tuple[list[str], int] | None:
    """`lot 12 | 13 and 14 misted`, `fed tray 2 | 3 5`: the other numbers of a list after the word for one. They rise,
    and an "and" joins the last, or a deed of care is told of them.
    """
    names: list[str] = []
    closed, bare, place, last = False, not cared and _in_step([*first, tokens[at].low]), at, first[-1]
    while not closed:
        step = place
        while step < len(tokens) and step < place + 2 and tokens[step].low in (",", "and", "&"):
            step += 1
        rises = step < len(tokens) and tokens[step].kind == "number" and last.isdigit()
        rises = rises and isinstance(tokens[step].value, int) and tokens[step].value > int(last)
        found = read_name(tokens, step, kind, tree, first=False) if rises else None
        # "aired t3 630-650": hours, and no trays.
        hours = found is not None and len(found[0]) > 1 and step == place and _far_off(last, found[0][0])
        # "lot 14 15 16, 30 total": a count after the comma.
        total = rises and step > place and len(names) > 1 and bare and not _in_step([last, tokens[step].low])
        if found is None or hours or total or (not names and step > place and tokens[step - 1].low != ","):
            break
        bare = bare and step == place and len(found[0]) == 1
        closed = step > place and tokens[step - 1].low != ","
        names, place, last = [*names, *found[0]], found[1], found[0][-1]
    if len(names) == 1 and _follows_on(first[-1], names[0]) and not closed and not cared:
        led = " out of " in f" {' '.join(token.low for token in tokens[max(0, at - _MOST_BEFORE) : at])} "
        told = statement_ends(tokens, place, tree) if led else _deed_of_care_at(tokens, place, tree)
        return (names, place) if told else None
    if len(names) == 1 and not closed and tokens[at].low == "," and _is_second_alone(tokens, at, place, tree, cared):
        return names, place
    if len(names) < 2 or (place < len(tokens) and tokens[place].kind in ("number", "fraction", "colon")):
        return None
    if closed:
        counts = is_counted(tokens, place, tree) and not state_of_all(tokens, place, tree)
        return None if counts else (names, place)
    if (cared or bare) and _in_step([first[-1], *names]) and not is_counted(tokens, place, tree):
        led = tokens[place].low in _INTO if place < len(tokens) else True
        return (names, place) if led or statement_ends(tokens, place, tree) or _deed_at(tokens, place, tree) else None
    headed = place < len(tokens) and tokens[place].low == ":"
    told = headed or statement_ends(tokens, place, tree) if cared or headed else _deed_of_care_at(tokens, place, tree)
    return (names, place) if told else None


def _is_second_alone(tokens: list[Token], at: int, end: int, tree: dict[str, Any], cared: bool) -> bool:
    """`misted tray 2, 3`, `vented tray 2, 3 half`, `moved tray 3, 4 to the lath`, `dome off tray 2, 3 for 20 min`:
    nothing that is counted or told apart.
    """
    named = at - _WORD_AND_NUMBER
    while named > 0 and tokens[named].low in _NUMBERED:
        named -= 1
    before = named - 1
    taken_off = before > 0 and tokens[before].low in _TURNED and "cover_noun" in _roles(tokens, before - 1, tree)
    lasts = end < len(tokens) and tokens[end].low == "for"
    if (cared or taken_off) and (lasts or statement_ends(tokens, end, tree)):
        return True
    told = longest_phrase(tokens, end, tree)
    opened = told is not None and "vent_open" in told[1] and statement_ends(tokens, told[0], tree)
    if cared and opened:
        return True
    went = tokens[end].low in _TO if end < len(tokens) else False
    return went and deed_before(tokens, named, tree) == "move"


def _roles(tokens: list[Token], at: int, tree: dict[str, Any]) -> Leaf:
    phrase = longest_phrase(tokens, at, tree)
    return phrase[1] if phrase is not None else {}


def _far_off(name: str, after: str) -> bool:
    return name.isdigit() and after.isdigit() and int(after) - int(name) > MOST_IN_RANGE


def _in_step(names: list[str]) -> bool:
    """`14 15 16`: each the next after the one before."""
    return all(name.isdigit() and after == str(int(name) + 1) for name, after in pairwise(names))


def _follows_on(name: str, after: str) -> bool:
    """`lot 60 | 61`, `lot 12 | 14`: so near that the second is a lot too, and no count."""
    return name.isdigit() and after.isdigit() and int(name) >= _TENS and int(after) - int(name) <= _NEAR


def deed_of_care(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`fed | lot 20 21 22`: whether a deed that counts no plants stands right before a place."""
    starts = range(max(0, at - 4), at)
    return any(
        _deed_of_care_at(tokens, start, tree) and (longest_phrase(tokens, start, tree) or (0, {}))[0] == at
        for start in starts
    )


def deed_before(tokens: list[Token], at: int, tree: dict[str, Any]) -> str | None:
    """The act of the deed right before a place (`potted | lots 3 and 4`)."""
    for start in range(max(0, at - 4), at):
        phrase = longest_phrase(tokens, start, tree)
        if phrase is not None and phrase[0] == at and "act" in phrase[1]:
            return str(phrase[1]["act"].act)
    return None


def _deed_of_care_at(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    word = _deed_at(tokens, at, tree)
    return word is not None and word.act in COUNTLESS and not word.counts_before


def _deed_at(tokens: list[Token], at: int, tree: dict[str, Any]) -> ActWord | None:
    phrase = longest_phrase(tokens, at, tree)
    return phrase[1].get("act") if phrase is not None else None
