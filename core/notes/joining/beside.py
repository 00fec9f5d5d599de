"""Is a clause without a deed only talk beside the matter (`nice crew today`, `gate code is 4417`).

Words that nobody at the bench would use of plants tell that the numbers and days beside them are of something else:
such a clause is kept, and gives the act before it no count, no day and no name.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.details.drafts import Draft
from core.notes.details.sources import is_place
from core.notes.names.place_leads import PLACE_LEADS
from core.notes.names.unknown_plants import unknown_plant
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import OF_PLANTS, OPENING
from core.notes.words.pieces import SUBJECTS, Piece
from core.vocabulary.loading import small_words

_LEADS: Final = small_words("beside", "leads_to_names")
_LEFT_OVER: Final = small_words("beside", "left_over")
_SPEAKERS: Final = small_words("beside", "people")
_COLOURS: Final = small_words("names", "colours")
_PARTS: Final = small_words("names", "parts")
_CLEANED_TOO: Final = small_words("beside", "cleaned_too")
BEING: Final = small_words("beside", "being")
COMING: Final = small_words("beside", "coming")
_MEASURED: Final = frozenset(
    {"number", "moment", "percent", "fraction", "amount", "duration", "colon", "times", "size", "degrees"}
)
_LEAVING: Final = frozenset({"sell", "give", "plant_out", "reserve", "pot", "lose"})
_TOLD: Final = frozenset(
    {"all", "none", "vague", "fraction", "cause", "more", "couple", "vent_open", "method", "thing"}
)


def is_beside(clause: Clause, draft: Draft) -> bool:
    """Whether a clause beside the act of a draft counts, dates or blames something that is none of the bench's."""
    if is_place(clause.pieces) or (clause.after == ":" and not speaks_of_people(clause)):
        return False
    if draft.act in _LEAVING and _counts_of_lot(clause.pieces):
        return False
    if draft.act == "sanitize" and _tells_how_it_is(clause.pieces):
        return True
    things = draft.act == "sanitize" and clause.has("thing") and not clause.has("none", "negation")
    if things and not speaks_of_people(clause) and not _tells_stock_or_time(clause):
        return False
    if draft.act in OF_PLANTS and draft.held("plant") and unknown_plant(clause.pieces) is not None:
        return False
    named = draft.act not in OPENING or draft.held("plant") is not None
    return tells_of_else(clause, PLACE_LEADS.get(draft.act, frozenset()), named=named)


def _tells_how_it_is(pieces: list[Piece]) -> bool:
    """`domes are still dirty`, `sink is a disaster` after `bleached the snips`; not `the flats are done too`."""
    told = next((at for at, piece in enumerate(pieces[:-1]) if "thing" in piece.roles), len(pieces) - 1)
    is_so = pieces[told + 1 : told + 2] and pieces[told + 1].low in BEING
    return bool(is_so) and not any(piece.low in _CLEANED_TOO for piece in pieces[told + 2 :])


def _counts_of_lot(pieces: list[Piece]) -> bool:
    """`9 of lot 13 before the drizzle came`: so many of another lot, whatever is told beside them."""
    told = [(piece.kind, piece.low) for piece in pieces[:3]]
    return len(told) == 3 and told[0][0] == "number" and told[1][1] in ("of", "from") and told[2][0] in SUBJECTS


def tells_of_else(clause: Clause, leads: frozenset[str] = frozenset(), *, named: bool = True) -> bool:
    """Whether a clause without a deed tells of something else. `leads`: the words that lead to where the act beside it
    goes; `named`: its plant is known, so that an unknown word cannot be the plant's name.
    """
    if clause.act is not None:
        return False
    counts_people = speaks_of_people(clause) and "numbered" in clause.kinds()
    if counts_people and not clause.kinds() & {"lots", "trays"}:
        return True
    if not any(_measures(piece) or piece.low in leads for piece in clause.pieces) and (
        named or not any(piece.kind == "word" for piece in clause.pieces)
    ):
        return False
    if _tells_stock_or_time(clause):
        return True
    return any(_is_alien(clause.pieces, place) for place in range(len(clause.pieces)))


def speaks_of_people(clause: Clause) -> bool:
    """`3 people helped`, `it was 4 of us today`."""
    return any(_are_people(piece) for piece in clause.pieces)


def _are_people(piece: Piece) -> bool:
    """`us`, `4 of us`, `volunteers`, or so many of them in one piece (`3 people`)."""
    counted = piece.kind == "numbered" and piece.low.rpartition(" ")[2] in _SPEAKERS
    return counted or piece.low in _SPEAKERS or piece.low.endswith(" of us")


def _tells_stock_or_time(clause: Clause) -> bool:
    """`2 bags of perlite left`, `took 2 hours`: what is left of a supply, how long the work took."""
    if clause.kinds() & {"lots", "trays"} or clause.has("plant"):
        return False
    last = next((piece for piece in reversed(clause.pieces) if piece.kind not in ("break", "mark")), None)
    if last is not None and last.low in _LEFT_OVER and not clause.has("left", "all"):
        return clause.has("medium", "container", "thing", "solution")
    return any(piece.low == "took" and after.kind == "duration" for piece, after in pairwise(clause.pieces))


def _measures(piece: Piece) -> bool:
    if piece.low in _COLOURS:
        return False
    return piece.kind in _MEASURED or not piece.roles.keys().isdisjoint(_TOLD)


def _is_alien(pieces: list[Piece], place: int) -> bool:
    piece = pieces[place]
    if _are_people(piece):
        return True
    if piece.low in _PARTS or piece.kind != "word" or not piece.low.replace("'", "").isalpha() or len(piece.low) == 1:
        return False
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    if after is not None and ("plant" in after.roles or (_counts(pieces, place - 1) and after.low in _LEADS)):
        return False
    before = place - 1
    while before >= 0 and pieces[before].low not in _LEADS and pieces[before].kind in ("word", "phrase"):
        before -= 1
    return before < 0 or pieces[before].low not in _LEADS


def _counts(pieces: list[Piece], place: int) -> bool:
    """`25 rabbitweed at the quarry`: an unknown word between a count and a place may be a plant."""
    return place >= 0 and pieces[place].kind == "number"
