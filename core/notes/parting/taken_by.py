"""What took plants, told by words of all kinds: `rot has taken 5 of lot 14`, `frost polished off 8`, `fell to rot`.

Rules
1. A harm that is known, a verb of taking and so many plants are a loss, and the harm its cause.
2. So are plants that were taken by it, or that fell to it; not the pests that died themselves.
3. Where it went through them before it took some, it took those (`botrytis swept through lot 5 and took 14`).
4. What was done when plants were lost tells when (`7 broke when i moved them`).
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, deed_of, keep, keep_words, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_TAKING: Final = small_words("taken_by", "taking")
_TOOK: Final = Runs(_TAKING)
_BEING_TAKEN: Final = small_words("taken_by", "being_taken")
_TAKEN: Final = Runs(_BEING_TAKEN)
_HAVING: Final = small_words("taken_by", "having")
_ARTICLES: Final = small_words("taken_by", "articles")
_OTHER_HARM: Final = small_words("sayings", "other_harm")
_SWEEPING: Final = small_words("taken_by", "sweeping")
_CAUSING: Final = small_words("acts", "causing")
_JOINTS: Final = frozenset({"and", ",", "&"})
_WHEN: Final = frozenset({"when", "while", "as"})
_DOERS: Final = frozenset({"i", "we", "someone", "somebody", "they", "he", "she"})
_THEM: Final = frozenset({"it", "them", "em", "'em", "those", "these", "the", "tray", "flat", "over", "around"})
_GETTING: Final = frozenset({"got", "gotten", "getting"})
_PLANTS: Final = frozenset({"plant", "all", "both", "left", "fraction"})
_SMALL: Final = frozenset({"approx", "more"})
_ON: Final = frozenset({"in", "of", "from", "on", "out of", "the", "my", "our", "those", "these"})


@looks_for("@cause", any_of=_OTHER_HARM, beside=_TAKING)
def take_by_harm(pieces: list[Piece]) -> None:
    """`rot has taken 5 of lot 14`, `mice helped themselves to 11`: as if it claimed them, in place."""
    at = 0
    while at < len(pieces):
        harm = pieces[at]
        at += 1
        cause = harm.roles.get("cause")
        if (cause is None and harm.low not in _OTHER_HARM) or "plant" in harm.roles:
            continue
        start = at
        while start < len(pieces) and pieces[start].low in _HAVING:
            start += 1
        end = _TOOK.end_at(pieces, start)
        if not end or not _are_plants(pieces, end):
            continue
        took = Piece("phrase", None, pieces[at].first, pieces[end - 1].last, "claimed")
        if cause is None:
            keep(harm)
            took.roles = {"act": ActWord(act="lose")}
        else:
            harm.roles = {"cause": cause}
        pieces[at:end] = [took]


def _are_plants(pieces: list[Piece], at: int) -> bool:
    """Whether plants, and no other things, stand at a place: `5 of lot 14`, `nearly all of them`; not `3 labels`."""
    while at < len(pieces) and (pieces[at].low in _ARTICLES or not _SMALL.isdisjoint(pieces[at].roles)):
        at += 1
    if at >= len(pieces):
        return False
    if pieces[at].kind not in COUNTS:
        return pieces[at].kind in SUBJECTS or not _PLANTS.isdisjoint(pieces[at].roles)
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    return after is None or (after.kind != "word" and "container" not in after.roles) or after.low in _ON


@looks_for("@cause", beside=_BEING_TAKEN)
def lose_those_taken(pieces: list[Piece]) -> None:
    """`11 were killed by fungus gnats`, `a quarter succumbed to rot`: lost to it, in place."""
    at = 0
    while at < len(pieces):
        start, end = at, _TAKEN.end_at(pieces, at)
        at += 1
        while end and end < len(pieces) and pieces[end].low in _ARTICLES:
            end += 1
        cause = pieces[end].roles.get("cause") if 0 < end < len(pieces) else None
        start -= start > 0 and pieces[start - 1].low in _GETTING
        before = pieces[begin_of_statement(pieces, start) : start]
        if cause is None or any(one.roles.get("cause") in ("pest", "animal") or is_act(one) for one in before):
            continue
        lost = ActWord(act="lose", says={"cause": cause}, counts_before=True)
        pieces[start : end + 1] = [
            Piece("phrase", None, pieces[start].first, pieces[end].last, "lost to", {"act": lost})
        ]  # fmt: skip


@looks_for("@cause", beside=_SWEEPING)
def sweep_through(pieces: list[Piece]) -> None:
    """`botrytis swept through lot 5 and took 14`: it took so many of them, in place."""
    for at, harm in enumerate(pieces):
        cause = harm.roles.get("cause")
        if cause is None or at + 3 >= len(pieces) or pieces[at + 1].low not in _SWEEPING:
            continue
        named = next((step for step in (at + 2, at + 3) if pieces[step].kind in SUBJECTS), None)
        if named is None:
            continue
        keep(*(verb for verb in pieces[at + 1 : named] if verb.low == "came through"))
        if named + 2 >= len(pieces) or pieces[named + 1].low not in _JOINTS:
            continue
        end = _TOOK.end_at(pieces, named + 2) or (pieces[named + 2].low in _CAUSING and named + 3)
        if end and end < len(pieces) and _are_plants(pieces, end):
            keep_words(*pieces[at + 1 : named])
            harm.roles, harm.used = {"cause": cause}, True
            took = Piece("phrase", None, pieces[named + 2].first, pieces[end - 1].last, "claimed")
            took.roles = {"act": ActWord(act="lose", says={"cause": cause})}
            pieces[named + 2 : end] = [took]
            pieces[named + 1].used = True
            return


@looks_for("when", "while", "as", beside=("!lose",))
def keep_when_lost(pieces: list[Piece]) -> None:
    """`7 broke when i moved them`, `lost 2 as i moved it`: when that was, in place; not `moved it to the lath`."""
    for at, when in enumerate(pieces):
        if when.low not in _WHEN or at + 2 >= len(pieces) or pieces[at + 1].low not in _DOERS:
            continue
        start, end = statement_at(pieces, at)
        lost = any((word := deed_of(one)) is not None and word.act == "lose" for one in pieces[start:at])
        told = pieces[at + 2 : end]
        object_only = all(one.low in _THEM for one in told[1:])
        if lost and is_act(told[0]) and object_only:
            keep_words(*pieces[at:end])
