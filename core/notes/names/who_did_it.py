"""Who did it, told after the deed: `misted tray 2, lou did it`, `sold 12 of lot 4, that was ana`, `watering on tray 6
was june's doing`.
"""

from __future__ import annotations

from typing import Final

from core.notes.days.who import may_be_who
from core.notes.names.doers import is_somebody
from core.notes.names.people import may_be_name
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_sentence, end_of_statement, is_end, said_in
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_DID_IT: Final = small_words("answers", "somebody_did") - {"did", "done it"} | small_words("doers", "did_it")
_LEADING: Final = small_words("doers", "leading")
_WORK_OF: Final = small_words("doers", "work_of")
_WORK: Final = small_words("doers", "work")
_BEING: Final = frozenset({"was", "is", "all"})
_NOT_TOLD: Final = frozenset({"plan", "negation", "hearsay", "condition", "wish", "none"})
_OF_THE_BENCH: Final = frozenset({"noun", "cover_noun", "vent_noun", "plant", "solution"})
_PARTING: Final = frozenset({",", ".", ";", "\n", "!", "(", "-"})
_BY: Final = {"filler": True}


@looks_for("did", "done", "finished", "handled", any_of=_LEADING, beside=("=word", "@month"))
def name_who_did_it(pieces: list[Piece]) -> None:
    """`misted tray 2, | lou did it` as `misted tray 2 by lou`, where nothing was lost and nobody else is named."""
    for at in range(len(pieces) - 1, 0, -1):
        if at >= len(pieces) or pieces[at - 1].low not in _PARTING:
            continue
        stop = end_of_statement(pieces, at)
        asked = stop < len(pieces) and pieces[stop].low == "?"
        while stop > at and (pieces[stop - 1].kind == "mark" or "remarks" in pieces[stop - 1].roles):
            stop -= 1
        who = None if asked else _who_did(pieces[at:stop])
        if who is None or not _tells_deed(pieces, at - 1):
            continue
        closes = stop < len(pieces) and pieces[stop].low == ")"
        by = Piece("phrase", None, who.first, who.first, "by", _BY)
        pieces[at - 1 : stop + closes] = [by, who]


def _who_did(told: list[Piece]) -> Piece | None:
    """The somebody of `odalys did it`, `that was odalys`, `courtesy of marnie`; None for none."""
    if not told:
        return None
    if (may_be_who(told[0]) or is_somebody(told[0])) and said_in(told[1:]) in _DID_IT:
        return told[0]
    lead, last = said_in(told[:-1]), told[-1]
    month = "month" in last.roles and lead.startswith("it")
    somebody = is_somebody(last) or (lead in _WORK_OF and may_be_name(last))
    return last if lead in _LEADING and somebody and not month else None


def _tells_deed(pieces: list[Piece], at: int) -> bool:
    """Whether the sentence before a place tells what was done, of no loss, and names nobody."""
    end = at
    while end and pieces[end - 1].kind == "break":
        end -= 1
    told = pieces[begin_of_sentence(pieces, end) : end]
    words = [piece.roles.get("act") or piece.roles.get("shared") for piece in told]
    lost = any(word is not None and word.act == "lose" for word in words)
    named = any(piece.kind == "person" or piece.low == "by" or is_given_name(piece.low) for piece in told)
    sure = not any(piece.roles.keys() & _NOT_TOLD for piece in told)
    telling = any(piece.kind in SUBJECTS or is_act(piece) or piece.roles.keys() & _OF_THE_BENCH for piece in told)
    return telling and sure and not lost and not named


@looks_for(any_of=_WORK, beside=_BEING)
def tell_whose_work(pieces: list[Piece]) -> None:
    """`watering on tray 6 was june's doing`: hers, in place."""
    for at in range(1, len(pieces) - 1):
        was, whose, work = pieces[at - 1 : at + 2]
        name = whose.low.removesuffix("'s")
        own = name != whose.low and is_given_name(name)
        if own and work.low in _WORK and was.low in _BEING and is_end(pieces, at + 2):
            pieces[at - 1 : at + 2] = []
            pieces.insert(begin_of_sentence(pieces, at - 1), Piece("person", name, whose.first, work.last, name))
            return
