"""Did plants go under a cover, or is it only where something is: `put tray 13 under the dome`, `90% under the dome`."""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import begin_of_statement, deed_of, end_of_statement, pass_over
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_COVER: Final = ActWord(act="cover")
_WHERE: Final = small_words("covers", "where")
_GOING: Final = small_words("covers", "going")
_WITH: Final = frozenset({"w", "with", "w/", "plus", "and"})
_UNSURE: Final = frozenset({"plan", "negation", "hearsay", "wish", "to_do"})
_UNDER: Final = small_words("covers", "under")
_FITTING: Final = small_words("covers", "fitting")
_IN: Final = frozenset({"in", "into", "inside", "back in", "up in"})
_GOING_UNDER: Final = small_words("covers", "going_under")
_STANDING_UNDER: Final = small_words("covers", "standing_under")
_WHEN: Final = frozenset({"now", "again", "tonight", "for the night", "too", "as well", "already", "overnight"})


def is_read(piece: Piece) -> bool:
    """A temperature or a humidity, which is read under a cover as at another place."""
    return piece.kind in ("temp", "degrees") or "humidity" in piece.roles


def is_under(pieces: list[Piece], place: int) -> bool:
    """`humidity 90% under the dome on tray 4`: a place, unless plants went under it."""
    lead = place - 1 - (place > 1 and pieces[place - 1].low in ("the", "its", "their", "a"))
    if lead < 0 or pieces[lead].low not in _WHERE:
        return False
    return not any(piece.low in _GOING for piece in pieces[max(0, lead - 4) : lead])


def goes_under(pieces: list[Piece], place: int) -> bool:
    """`stuck 30 toyon, tray 13, under the dome`, `put tray 13 under the dome`: where plants went, told alone or with
    their tray or their sticking; not `lost 3 in tray 13 under the dome`.
    """
    lead = place - 1 - (pieces[place - 1].low in ("the", "its", "their", "a"))
    bagged = pieces[place].low.startswith("bag") and pieces[place - 1].low in ("its", "their")
    if lead < 0 or not (pieces[lead].low in _UNDER or (bagged and pieces[lead].low in _IN)):
        return False
    after = [piece for piece in pieces[place + 1 : end_of_statement(pieces, place)] if not _tells_when(piece)]
    start = begin_of_statement(pieces, lead)
    told = [piece for piece in pieces[start:lead] if piece.kind not in SUBJECTS and piece.low not in ("and", "&")]
    told = [piece for piece in told if piece.kind not in ("moment", "person") and "plant" not in piece.roles]
    if after or (start == lead == 0):
        return False
    if not told:
        words = [word for piece in pieces[:start] if (word := deed_of(piece)) is not None]
        named = all(piece.kind in SUBJECTS or piece.kind in ("break", "moment") for piece in pieces[:start])
        return words[-1].act in OPENING | {"pot", "water"} if words else named
    if _went_under(told, pieces[place:]):
        for piece in (pieces[lead], *told):
            piece.roles, piece.used = {"filler": True}, True
        return True
    deed = deed_of(told[0])
    return len(told) > 1 and deed is not None and deed.act in ("stick", "sow")


def _went_under(told: list[Piece], after: list[Piece]) -> bool:
    """`tucked tray 9 under its dome`, `tray 16 is under a lid now`; not `tray 16 is under the lid`."""
    if not all(piece.low in _GOING_UNDER for piece in told):
        return False
    moved = any(piece.low not in _STANDING_UNDER for piece in told)
    return moved or any(piece.low in ("now", "again") for piece in after)


def _tells_when(piece: Piece) -> bool:
    return piece.kind == "moment" or "loose_times" in piece.roles or piece.low in _WHEN


def fitted_with(pieces: list[Piece], place: int) -> bool:
    """`fitted | tray 8 | with a | dome`, `closed up | tray 5 | with its | lid`: what was put on plants, in place."""
    lead = place - 1 - (place > 1 and pieces[place - 1].low in ("the", "its", "their", "a"))
    if lead < 2 or pieces[lead].low not in _WITH or pieces[lead - 1].kind not in SUBJECTS:
        return False
    verb = pieces[lead - 2]
    if verb.low in _FITTING:
        pass_over(verb, pieces[lead])
        return True
    return False


def goes_with(pieces: list[Piece], place: int) -> bool:
    """`stuck 30 toyon, tray 13, dome`, `sowed 40 yarrow with a lid`: what was stuck or sown went under it."""
    if place + 1 < len(pieces) and pieces[place + 1].kind != "break":
        return False
    lead = place - 1 - (place > 1 and pieces[place - 1].low in ("a", "the"))
    deeds = [at for at, piece in enumerate(pieces[:place]) if deed_of(piece) is not None]
    if lead < 0 or not deeds or getattr(deed_of(pieces[deeds[-1]]), "act", None) not in ("stick", "sow"):
        return False
    if pieces[lead].kind not in ("break", "trays") and pieces[lead].low not in _WITH:
        return False
    return not any(piece.kind == "word" or not _UNSURE.isdisjoint(piece.roles) for piece in pieces[deeds[-1] : lead])


def back_under(pieces: list[Piece], place: int) -> ActWord | None:
    """`back under its dome`."""
    near = pieces[max(0, place - 3) : place]
    lows = " ".join(piece.low for piece in near)
    if "back under" not in lows:
        return None
    for piece in near:
        if piece.low in ("back", "under", "back under", "its", "their"):
            piece.roles = {"filler": True}
    return _COVER
