"""A treatment beside another or beside other deeds: `warm strat 30 d then cold 90`, `fed lot 7, lot 9 cold strat`."""

from __future__ import annotations

from typing import Final

from core.notes.deeds.strat import COLD_OR_WARM, strat_of
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import comma_before
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord

_AFTER_NAME: Final = SUBJECTS | {"break", "duration", "moment", "number", "mark", "person"}
_HEADING: Final = frozenset({"and", "&", "started", "began", "start", "then"})


@looks_for("!treat", beside=("=duration",))
def _begin_beside(pieces: list[Piece]) -> None:
    """`pinched lot 19 and lot 72 in the fridge 16 weeks`, `held lot 7. started lot 60 cold strat 11 weeks`: what begins
    for a lot of its own beside other deeds, in place.
    """
    for at in range(1, len(pieces) - 1):
        subject, noun, length = pieces[at - 1 : at + 2]
        if subject.kind not in SUBJECTS or length.kind != "duration" or "act" in noun.roles or not strat_of(noun):
            continue
        before = pieces[at - 2] if at > 1 else None
        heads = before is None or before.kind == "break" or before.low in _HEADING
        if heads and any(map(is_act, (*pieces[: at - 1], *pieces[at + 2 :]))):
            noun.roles = {"act": noun.roles["noun"]}


@looks_for("!treat", beside=("=number",))
def _find_second_length(pieces: list[Piece]) -> None:
    """`warm strat 30 d then cold 90`, `then 90 cold`: a second treatment, of which the unit is not said."""
    for place in range(1, len(pieces) - 1):
        piece, number = pieces[place], pieces[place + 1]
        if piece.kind == "number" and pieces[place - 1].low in ("then", "and", ",", "/", "+", "&"):
            piece, number = number, piece
        if piece.low == "of" and pieces[place - 1].kind == "number":
            piece, number = number, pieces[place - 1]
        bare = number.kind == "number" and number.value.whole is not None and number.value.high is None
        closes = place + 2 >= len(pieces) or pieces[place + 2].kind == "break"
        strat = strat_of(piece)
        if not (strat and bare and closes) or not any(strat_of(one) not in ("", strat) for one in pieces[:place]):
            continue
        if any(one.kind == "duration" for one in pieces[:place]):
            piece.roles = {"act": ActWord(act="treat", says={"treatment": strat})}
            number.kind = "unitless"


@looks_for("then", beside=("!treat",))
def _begin_after_then(pieces: list[Piece]) -> None:
    """`hot water then fridge lot 33`, `acid then warm then cold`: what begins after another treatment, in place."""
    for at in range(2, len(pieces)):
        piece = pieces[at]
        strat = strat_of(piece) or COLD_OR_WARM.get(piece.low, "")
        if pieces[at - 1].low != "then" or not strat or "act" in piece.roles:
            continue
        if any(map(_is_treated, pieces[:at])) and all(map(_may_follow, pieces[at + 1 : at + 2])):
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="treat", says={"treatment": strat})}
            first = pieces[at - 2]
            if "act" not in first.roles and _is_treated(first) and "noun" in first.roles:
                first.roles = {"act": first.roles["noun"]}


def _is_treated(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("noun") or piece.roles.get("shared")
    return word is not None and "to_do" not in piece.roles and (word.act == "treat" or word.rule == "soaked")


def _may_follow(piece: Piece) -> bool:
    """What may stand after a treatment told by its name alone: not the `rinse` of `cold rinse`."""
    return piece.kind in _AFTER_NAME or piece.low in ("for", "then", "and") or "plant" in piece.roles


@looks_for("!treat")
def _part_second_treatment(pieces: list[Piece]) -> None:
    """`scarified overnight soak`, `soaked 24 hrs after boiling water`: two treatments, each with its own length."""
    place = 1
    while place < len(pieces):
        noun = pieces[place].roles.get("noun")
        told = _told_before(pieces, place) if noun is not None and noun.act == "treat" else ""
        if not told or told == noun.says.get("treatment"):  # type: ignore[union-attr]
            place += 1
            continue
        before = pieces[place - 1]
        length = before.kind == "duration" and noun.says.get("treatment") == "soak"  # type: ignore[union-attr]
        if length or before.low == "after":
            pieces[place].roles = {"act": noun}
            at = place - 1 + (before.low == "after")
            pieces.insert(at, comma_before(pieces[at]))
            place += 1
        place += 1


def _told_before(pieces: list[Piece], place: int) -> str:
    """The treatment that a verb tells before a place, up to the mark before it."""
    for piece in reversed(pieces[:place]):
        if piece.kind == "break":
            return ""
        word = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None:
            treatment = str(word.says.get("treatment", "")) if word.act == "treat" else ""
            return "soak" if word.rule == "soaked" else treatment
    return ""


SECOND_TREATMENTS: Final = (_begin_beside, _find_second_length, _begin_after_then, _part_second_treatment)
"""The steps in their order."""
