"""What were plants given: `gave lot 12 water`, `gave the redbud seed a 24 h soak`, `hit tray 13 with the mister`."""

from __future__ import annotations

from typing import Final

from core.notes.days.soak_lengths import lasts_as_soaks
from core.notes.words.pieces import SUBJECTS, Piece, names_plants
from core.notes.words.said import end_of_statement, statement_at
from core.vocabulary import ActWord
from core.vocabulary.loading import read_toml, small_words

_OF_PEOPLE: Final = frozenset({"air", "check"})
"""What people are given too."""
_GIVEN: Final[dict[str, dict[str, str]]] = {
    words: dict(says) for words, says in read_toml("small_words.toml")["given"].items()
}
_ADJECTIVES: Final = small_words("treated", "adjectives")
_FAR: Final = 8
_WITH: Final = frozenset({"with", "w", "w/"})


def gave_water(pieces: list[Piece], place: int, piece: Piece, near: list[Piece]) -> bool:
    """`gave lot 12 water`, `gave trays 2-4 a good soak`; not `rain got the slab so no need to water`."""
    if piece.low not in ("gave", "give", "got") or piece.kind != "phrase":
        return False
    if any(not other.roles.keys().isdisjoint(("negation", "none", "plan")) for other in near):
        return False
    if any(other.roles.get("cause") in ("animal", "pest") for other in near):
        # "lot 9 got a haircut from the deer".
        return False
    if _gave_so_much_water(piece, near):
        return True
    if any(other.low == "to" for other in near):
        return False
    near = pieces[place + 1 : min(end_of_statement(pieces, place), place + _FAR)]
    span = next((span for span in _runs(near) if _said(near, span) in _GIVEN), None)
    if span is None:
        return False
    says = dict(_GIVEN[_said(near, span)])
    if says["act"] in _OF_PEOPLE and not _names_plants(pieces, place):
        # "the kids got some fresh air", "gave ana a check".
        return False
    if says.get("method") == "soak" and _is_seed_soaked(pieces, place):
        says = {"act": "treat", "treatment": "soak"}
    bare = piece.low == "give"
    word = ActWord(act=says.pop("act"), says=says, form="to_do" if bare else "done")
    piece.roles = {"to_do" if bare else "act": word}
    for given in near[span]:
        given.used, given.roles = True, {"filler": True}
    start = span.start
    while start and near[start - 1].low in _ADJECTIVES:
        start -= 1
        near[start].used = True
        near[start].roles = {"filler": True}
    return True


def _is_seed_soaked(pieces: list[Piece], place: int) -> bool:
    """`gave the redbud seed a 24 h soak`, `gave lot 9 a soak overnight`; not `gave tray 4 a soak for 20 min`."""
    start, end = statement_at(pieces, place)
    said = pieces[start:end]
    return any(map(lasts_as_soaks, said)) and not any(one.kind == "trays" for one in said)


def _names_plants(pieces: list[Piece], place: int) -> bool:
    start, end = statement_at(pieces, place)
    return any(map(names_plants, pieces[start:end]))


def hit_with_water(_: list[Piece], __: int, piece: Piece, near: list[Piece]) -> bool:
    """`hit tray 13 with the mister`, `hit trays 3 and 4 w mist`."""
    if piece.low != "hit" or not near or near[0].kind not in SUBJECTS:
        return False
    if any("method" in other.roles for other in near):
        piece.kind, piece.roles = "phrase", {"act": ActWord(act="water")}
        return True
    if len(near) < 3 or near[1].low not in _WITH or near[2].low not in _GIVEN:
        return False
    says = dict(_GIVEN[near[2].low])
    piece.kind, piece.roles = "phrase", {"act": ActWord(act=says.pop("act"), says=says)}
    for given in near[1:3]:
        given.used, given.roles = True, {"filler": True}
    return True


def _gave_so_much_water(piece: Piece, near: list[Piece]) -> bool:
    """`gave 2 gal of water to lot 4`."""
    water = next((step for step, other in enumerate(near) if other.low in ("water", "of water")), None)
    if water is None or not any(other.kind == "amount" for other in near[:water]):
        return False
    piece.roles = {"act": ActWord(act="water")}
    for other in near[: water + 1]:
        if other.kind != "amount" and other.kind not in SUBJECTS:
            other.used, other.roles = True, {"filler": True}
    return True


def _runs(near: list[Piece]) -> list[slice]:
    """The runs of up to three pieces, the longest first."""
    return [slice(start, start + length) for length in (3, 2, 1) for start in range(len(near) - length + 1)]


def _said(near: list[Piece], span: slice) -> str:
    return " ".join(piece.low for piece in near[span])
