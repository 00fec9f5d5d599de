"""Which things lie in a solution, with no verb that says they are disinfected: `domes sat in bleach half an hr`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.said import begin_of_sentence, pass_over
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_LYING: Final = small_words("not_plants", "lying")


@looks_for("@solution")
def find_things_in_solution(pieces: list[Piece]) -> None:
    """`domes sat in bleach half an hr`, `ran tags thru quat`, `then quat on the benches`: things disinfected without a
    verb that says it; the word for it is marked, in place.
    """
    start = 0
    for place, piece in enumerate([*pieces, None]):
        if piece is None or (piece.kind == "break" and piece.low not in ("&", "+")):
            before = pieces[begin_of_sentence(pieces, start) : start]
            done = any("solution" in piece.roles for piece in before)
            _find_bath(pieces[start:place], listed=not done and any(map(_cleans, before)))
            start = place + 1


def _cleans(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and (word.act == "sanitize" or word.rule in ("rinsed", "wiped", "dipped", "soaked"))


def _find_bath(said: list[Piece], *, listed: bool) -> None:
    """`listed`: the things may be the last of a list that something was done to."""
    joints = (at for at, piece in enumerate(said) if at and piece.low in ("and", "&"))
    joint = next((at for at in joints if _bathes(said[at + 1 :])), 0)
    if joint and not listed and "thing" not in said[joint - 1].roles and not any(map(_cleans, said[:joint])):
        # "sold 20 of lot 9 to the school and | flats in bleach 5 min".
        said[joint].kind, said[joint].low, said[joint].roles = "break", ",", NO_ROLES
        said = said[joint + 1 :]
    thing = next((place for place, piece in enumerate(said) if "thing" in piece.roles), None)
    solution = next((place for place, piece in enumerate(said) if "solution" in piece.roles), None)
    if thing is None or solution is None or any(piece.kind == "lots" for piece in said):
        return
    if any(is_act(piece) and piece.low not in _LYING for piece in said[: max(thing, solution)]):
        return
    between = said[min(thing, solution) + 1 : max(thing, solution)]
    if solution > thing:
        lying = next((piece for piece in between if piece.low in _LYING), None)
        lead = lying or next((piece for piece in said[:thing] if piece.low in _LYING), None)
        lead = lead if lead is not None or listed else _lies_in(said, solution)
    else:
        lead = next((piece for piece in between if piece.low in ("on", "onto", "over")), None)
        heads = all("filler" in piece.roles or piece.kind == "moment" for piece in said[:solution])
        lead = lead if heads else None
    if lead is None:
        return
    for piece in said:
        if piece.low in _LYING and piece.kind in ("word", "phrase"):
            pass_over(piece)
    lead.kind, lead.roles, lead.used = "phrase", {"act": ActWord(act="sanitize")}, True


def _bathes(said: list[Piece]) -> bool:
    at = next((at for at, piece in enumerate(said) if "solution" in piece.roles), 0)
    return at > 1 and _lies_in(said, at) is not None


def _lies_in(said: list[Piece], solution: int) -> Piece | None:
    """The "in" of `pruners in bleach 10 min`, `trays 20 min in bleach`, where only things, the solution and how long
    are told; None elsewhere.
    """
    lead = said[solution - 1]
    lasts = any(piece.kind == "duration" for piece in said)
    things = all(_is_any(piece, "moment", "thing") or piece.kind == "duration" for piece in said[:solution])
    alone = all(_is_any(piece, "moment") or piece.kind == "duration" for piece in said[solution + 1 :])
    return lead if lead.low == "in" and lasts and things and alone else None


def _is_any(piece: Piece, kind: str, role: str = "filler") -> bool:
    return piece.kind == kind or "filler" in piece.roles or role in piece.roles
