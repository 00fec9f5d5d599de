"""What was done to the sick and the eaten: `rot in lot 57, pulled 11`, `caterpillars on the toyon, picked off 12`.

Rules
1. So many plants of a lot that has rot, mold or damping off, taken out with no more said, are lost.
2. Those on whom the mold was, and that were taken out then, are lost too (`mold on 4, removed`).
3. Pests that were picked off or squashed were fought, and their number counts no plants.
4. What an animal flipped was harmed by it, where a loss is told beside that.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import begin_of_statement, deed_of, is_count, is_end, keep, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_PULLING: Final = small_words("pulled_sick", "pulling")
_THEM: Final = small_words("pulled_sick", "them")
_NO_PLANTS: Final = small_words("pulled_sick", "no_plants")
_AFTER: Final = small_words("pulled_sick", "after")
_LOOKED_FOR: Final = small_words("pulled_sick", "looked_for")
_SQUASHING: Final = small_words("pulled_sick", "squashing")
_UPSETTING: Final = small_words("pulled_sick", "upsetting")
_DISEASES: Final = frozenset({"rot", "mold", "damping_off"})
_OF_PESTS: Final = frozenset({"of", "them", "em", "of them", "of em", "so far", "off"})
_CARE: Final = frozenset({"water", "vent", "air", "cover", "uncover"})
_OF: Final = frozenset({"of", "from", "in", "out of"})


@looks_for("@cause", beside=_PULLING)
def lose_pulled_sick(pieces: list[Piece]) -> None:
    """`rot in lot 57, pulled 11`, `lot 57 grey mold on 4, removed`: thrown out for the disease, in place."""
    sick = [at for at, piece in enumerate(pieces) if piece.roles.get("cause") in _DISEASES and not is_act(piece)]
    verbs = [at for at, piece in enumerate(pieces) if piece.low in _PULLING]
    if len(sick) != 1 or len(verbs) != 1 or _is_no_loss(pieces, sick[0]):
        return
    verb, at = verbs[0], sick[0]
    if _pulled_after(pieces, verb) or (at < verb and _pulled_before(pieces, at, verb)):
        lost = ActWord(act="lose", says={"cause": pieces[at].roles["cause"]})
        pieces[verb].kind, pieces[verb].roles = "phrase", {"act": lost}
        for out in pieces[verb + 1 : verb + 2]:
            out.used = out.used or out.low == "out"


def _is_no_loss(pieces: list[Piece], sick: int) -> bool:
    """Whether nothing is surely lost: there was no rot, or it was only looked for, those pulled are told of further, or
    what was pulled may be leaves.
    """
    begin, end = statement_at(pieces, sick)
    denied = any(piece.roles.keys() & {"none", "negation", "plan", "hearsay"} for piece in pieces[begin:end])
    told = any((word := deed_of(piece)) is not None and word.act in ("lose", "check", "hold") for piece in pieces)
    further = any(piece.low in _NO_PLANTS or piece.low in _THEM for piece in pieces)
    placed = {tuple(piece.value) for piece in pieces if piece.kind in SUBJECTS}
    known = len(placed) == 1 or (not placed and any("plant" in piece.roles for piece in pieces))
    return denied or told or further or not known or (sick > 0 and pieces[sick - 1].low in _LOOKED_FOR)


def _pulled_after(pieces: list[Piece], verb: int) -> bool:
    """`pulled | 11`, `pulled out | 11 of lot 5`, `11 | pulled`."""
    if is_end(pieces, verb + 1) and verb and is_count(pieces[verb - 1]):
        return verb == 1 or pieces[verb - 2].kind in ("break", *SUBJECTS)
    at = verb + 1 + (pieces[verb + 1 : verb + 2] != [] and pieces[verb + 1].low == "out")
    if at >= len(pieces) or pieces[at].kind != "number" or pieces[at].value.whole is None:
        return False
    at += 1
    while not is_end(pieces, at) and pieces[at].low in _AFTER:
        at += 1
    if is_end(pieces, at) or at + 1 >= len(pieces):
        return is_end(pieces, at) or pieces[at].kind in SUBJECTS
    word = deed_of(pieces[at + 1])
    cared = pieces[at].low in ("and", "&") and word is not None and word.act in _CARE
    lots = pieces[at + (pieces[at].low in _OF)]
    return cared or names_plants(lots)


def _pulled_before(pieces: list[Piece], sick: int, verb: int) -> bool:
    """`mold on 4 | removed`, `mold on 4 in lot 57, | removed`."""
    if not is_end(pieces, verb + 1) or sick + 2 >= verb:
        return False
    on, number = pieces[sick + 1 : sick + 3]
    beside = ("break", *SUBJECTS)
    between = [piece for piece in pieces[sick + 3 : verb] if piece.kind not in beside and "plant" not in piece.roles]
    return on.low == "on" and is_count(number) and all(piece.low in _OF for piece in between)


@looks_for("@cause", beside=_SQUASHING)
def fight_pests(pieces: list[Piece]) -> None:
    """`caterpillars on the manzanita, picked off 12`: pests that were fought, in place."""
    for at, piece in enumerate(pieces):
        if piece.low not in _SQUASHING or at + 1 >= len(pieces):
            continue
        number = at + 1 + (pieces[at + 1].low == "off")
        begin = begin_of_statement(pieces, at)
        pest = any(one.roles.get("cause") == "pest" and not is_act(one) for one in pieces[:begin])
        of_them = [one for one in pieces[number + 1 : number + 3] if one.low not in _OF_PESTS]
        if pest and is_count(pieces[number]) and (not of_them or is_end(pieces, number + 1)):
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="tend", says={"care": "pest_control"})}
            keep(*pieces[at + 1 : number + 1])


@looks_for("@cause", beside=_UPSETTING)
def keep_upset(pieces: list[Piece]) -> None:
    """`raccoon flipped tray 24, lost 10`: what the animal did, beside what was lost by it, in place."""
    lost = any((word := deed_of(piece)) is not None and word.act == "lose" for piece in pieces)
    for agent, verb in pairwise(pieces):
        if lost and agent.roles.get("cause") == "animal" and verb.low in _UPSETTING and not is_act(verb):
            keep(verb)
