"""Is a count without an act a check: `12/40 in lot 9`, `lot 14: 30`."""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise
from typing import Final

from core.notes.days.shy_days import NOTHING
from core.notes.details.drafts import Draft, draft_of
from core.notes.joining.adding import add, subject_only, take_heads
from core.notes.joining.beside import tells_of_else
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS
from core.notes.words.tokens import Token

_COUNT_AND_SUBJECT: Final = 2
_DID: Final = frozenset({"did", "done", "finished", "handled"})


def bare_check(clauses: list[Clause], tokens: list[Token], now: datetime) -> list[Draft] | None:
    """`lot 14: 30`: a subject and one number, and nothing else, is a check whose state is asked;
    `lot 9: -17` is none, and of `did 20 of lot 9` nobody can tell what was done.
    """
    if len(clauses) != 1:
        return None
    if any(mark.low == "-" and mark.last == number.first for mark, number in pairwise(clauses[0].pieces)):
        return None
    if any(piece.low in _DID for piece in clauses[0].pieces):
        return None
    told = [piece for piece in clauses[0].pieces if piece.kind not in ("mark", "kept") and "filler" not in piece.roles]
    kinds = sorted(piece.kind for piece in told)
    if kinds not in (["lots", "number"], ["number", "trays"]) or (
        told[-1].kind == "number" and told[-1].value.whole is None
    ):
        return None
    clauses[0].act = "check"
    return [draft_of(clauses[0], tokens, now)]


def counted_check(clauses: list[Clause], tokens: list[Token], now: datetime) -> list[Draft] | None:
    """`12/40 in lot 9`: a count out of a whole, and no act, is a check whose state is asked."""
    found: list[Draft] = []
    if any(clause.cue or clause.word is not None for clause in clauses):
        return None
    beside = [clause for clause in clauses if tells_of_else(clause)]
    clauses = [clause for clause in clauses if clause not in beside]
    for clause in clauses:
        whole = any(
            piece.kind == "fraction" or (piece.kind == "number" and piece.value.of is not None)
            for piece in clause.pieces
        )
        if whole or (found and clause.has("none") and clause.kinds() & {"lots", "trays"}):
            clause.act = "check"
            found.append(draft_of(clause, tokens, now))
        elif found:
            add(found[-1], clause)
        else:
            return _headed_check(clauses, tokens, now)
    if not found or not all(_counts_whole(draft) for draft in found):
        return None
    found[-1].clauses.extend(beside)
    return found


def check_before_deed(clause: Clause) -> bool:
    """`11 of 24 in lot 8`, `lot 8: 11 of 24`, before `fed it`: a count out of a whole in a lot or tray, and
    nothing else; its state is asked.
    """
    told = [piece for piece in clause.pieces if "filler" not in piece.roles]
    if clause.act is not None or clause.cue is not None or len(told) != _COUNT_AND_SUBJECT:
        return False
    headed = told[0].kind in SUBJECTS
    subject, count = told if headed else reversed(told)
    whole = (count.kind == "fraction" and count.value[0] <= count.value[1]) or (
        count.kind == "number" and count.value.of is not None
    )
    within = headed or any(piece.low == "in" for piece in clause.pieces)
    return whole and within and subject.kind in SUBJECTS and len(subject.value) == 1


def _counts_whole(draft: Draft) -> bool:
    values = draft.slots.values if draft.slots is not None else {}
    return bool(values.get("of")) or (values.get("count") == 0 and draft.own_subject())


def _headed_check(clauses: list[Clause], tokens: list[Token], now: datetime) -> list[Draft] | None:
    if len(clauses) < 2 or not subject_only(clauses[0]):
        return None
    later = counted_check(clauses[1:], tokens, now)
    if later is not None:
        take_heads(later[0], [clauses[0]])
    return later


def opens_with_plants(clause: Clause) -> bool:
    """`4 toyon` after `sold 6 tall ones and`: a count and its plant, which are none of those counted before."""
    told = [piece for piece in clause.pieces if "filler" not in piece.roles]
    return len(told) > 1 and told[0].kind == "number" and "plant" in told[1].roles


def heads_day(clause: Clause) -> bool:
    """`tue: nobody in`, `tues aired 18 | , wed nothing`: a sentence that its day heads, or an idle day."""
    if not clause.pieces or clause.pieces[0].kind != "moment":
        return False
    return clause.after in SENTENCE_ENDS or any(one.low in NOTHING for one in clause.pieces[1:2])
