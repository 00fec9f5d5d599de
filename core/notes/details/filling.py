"""How is an act filled from the pieces of its clause: texts first, then piece by piece, then names and numbers."""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Final

from core.entries import Container, Hormone, SourceShare
from core.notes.acts.diseases import held_for
from core.notes.acts.slots import Slots, use
from core.notes.counts.shares import is_mother
from core.notes.details.counting import counts
from core.notes.details.details import by_kind
from core.notes.details.places import place_of, texts
from core.notes.details.things import cell_tray, more_things, plant_as_texted, plant_treated
from core.notes.details.vessels import count_each, keep_vessels
from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import Piece, is_act
from core.vocabulary.loading import small_words

_NUMBERED: Final = frozenset({"temp", "degrees", "number", "percent"})
_ENDING: Final = frozenset({"treat", "clear"})
"""Acts whose end is told by words that mean nothing beside others (`soak over`)."""
_ENDED: Final = frozenset({"ended", "stopped", "finished", "over"})
_SET_FREE_FROM: Final = frozenset({"quarantine", "hold", "isolation", "from quarantine", "let"})
_HELPERS: Final = frozenset({"moment", "loose", "things_at", "each", "per", "stays", "receiver"})
"""What is gathered only to settle other details."""
_HOLES: Final = small_words("roots", "holes")


def fill(slots: Slots, pieces: list[Piece], *, undecided: bool = False) -> None:
    """Fills the details of an act from the pieces of its clause (or of a clause that only adds to it).

    `undecided`: the clause has a verb that no rule could settle; it is kept for the rest.
    """
    keep_vessels(slots, pieces)
    _use_deeds(slots, pieces, undecided=undecided)
    if slots.values.get("state") in ("rooted", "roots_out") and any(piece.low in _HOLES for piece in pieces):
        slots.values["state"] = "roots_out"
        for piece in pieces:
            piece.used = piece.used or piece.low in _HOLES or piece.low in ("out", "at", "drain", "drainage")
    if slots.act in ("air", "uncover"):
        for before, piece in pairwise(pieces):
            if piece.low == "off" and "cover_noun" in before.roles:
                use(piece)
    held_for(slots, pieces)
    texts(slots, pieces)
    for place, piece in enumerate(pieces):
        if not piece.used:
            by_kind(slots, pieces, place, piece)
    if slots.act == "sanitize":
        more_things(slots, pieces)
    if slots.act == "temp" and "place" not in slots.values:
        place_of(slots, pieces)
    if slots.act in OPENING or slots.act in ("target",):
        plant_as_texted(slots, pieces)
    elif slots.act == "treat":
        plant_treated(slots, pieces)
    cell_tray(slots, pieces)
    counts(slots, pieces)
    count_each(slots, pieces)


def _use_deeds(slots: Slots, pieces: list[Piece], *, undecided: bool) -> None:
    """Uses the words that say the act itself, and those that end a treatment or a hold."""
    for place, piece in enumerate(pieces):
        roles = piece.roles
        if not roles and slots.act not in _ENDING:
            continue
        noun = roles.get("noun")
        if undecided and "shared" in roles:
            continue
        dips = noun is not None and slots.act == "stick" and noun.says.get("treatment") == "hormone"
        if dips or (is_act(piece) and piece.kind not in _NUMBERED):
            use(piece)
        elif slots.act == "treat" and _ends_treatment(pieces, place):
            slots.put("ends", True, piece)
        elif (slots.act == "clear" and piece.low in _SET_FREE_FROM) or (
            noun is not None and _same_act(noun, slots, piece.low)
        ):
            use(piece)


def _ends_treatment(pieces: list[Piece], place: int) -> bool:
    """`soak ended`, `strat over`."""
    piece = pieces[place]
    ended = piece.low in _ENDED and piece.kind in ("word", "phrase")
    return ended and (piece.low != "over" or place + 1 == len(pieces))


def _same_act(word: Any, slots: Slots, low: str) -> bool:
    """Whether a noun tells of the same act; `water` tells of a tray only with its depth (`flushed w plain water`)."""
    if word.act != slots.act or _treats_otherwise(word, slots):
        return False
    told = slots.clause.word
    if low == "water" and told is not word and not slots.clause.kinds() & {"size", "depth"}:
        return slots.values.get("method") == "tray" or (told is not None and told.rule == "put")
    for key, value in word.says.items():
        slots.values.setdefault(key, value)
    return True


def _treats_otherwise(word: Any, slots: Slots) -> bool:
    """The `warm` of `kept on the warm mat 30 days` beside a chill: a word of another treatment; the roots of those that
    are green and have none.
    """
    if {word.says.get("state"), slots.values.get("state")} == {"rooted", "alive"}:
        return True
    told = slots.values.get("treatment")
    return told is not None and word.says.get("treatment", told) != told


def finish(slots: Slots) -> dict[str, Any]:
    """The details as values of an entry: dictionaries made into their types, helpers dropped."""
    values = dict(slots.values)
    _put_sources(values)
    for name in values.keys() & _HELPERS:
        del values[name]
    container = values.get("container")
    if isinstance(container, dict):
        values["container"] = Container(**container)
    hormone = values.get("hormone")
    if isinstance(hormone, dict):
        if not hormone:
            values.pop("hormone")
        else:
            values["hormone"] = Hormone(**hormone)
    return {name: value for name, value in values.items() if value is not None and value != ()}


def _put_sources(values: dict[str, Any]) -> None:
    """`20 toyon from m2 and 16 from m3`: the source of the first count is the first of several. A share that cannot be
    told with the rest (no count for the first source, another count for the whole) is left over.
    """
    shares = values.pop("shares", None)
    if not shares:
        return
    if all(share[2] for share in shares):
        shares = sorted(shares, key=lambda share: int(share[2][0].first))
    source, count = values.get("source"), values.get("count")
    if source is not None and count is not None and (
        count != sum(share[1] for share in shares) or is_mother(source) == is_mother(shares[0][0])
    ):
        shares = [(source, count, ()), *shares]
        values.pop("source")
        values["count"] = sum(share[1] for share in shares)
    if len(shares) == 1 and (source is not None or count not in (None, shares[0][1])):
        for piece in shares[0][2]:
            piece.used = False
    elif len(shares) == 1:
        values.update(source=shares[0][0], count=shares[0][1])
    elif shares:
        values["sources"] = tuple(SourceShare(source=name, count=part) for name, part, _ in shares)
        values.setdefault("count", sum(share[1] for share in shares))
