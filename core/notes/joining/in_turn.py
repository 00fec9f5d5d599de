"""Does a lot or tray by itself head what is counted after it, when the one before it was counted too?"""

from __future__ import annotations

from core.notes.details.drafts import Draft
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import SENTENCE_ENDS
from core.vocabulary import ActWord


def goes_on_in_turn(drafts: list[Draft], name: str, following: Clause) -> bool:
    """`misted lot 3, 2 dead, and | lot 4 | , 1 dead`: what was lost of the one named before, and then of another."""
    before = drafts[-1]
    if before.held("count") is None or not any(draft.held(name) for draft in drafts[:-1]):
        return False
    counted = before.clauses[-1].word if before.clauses else None
    if following.after in SENTENCE_ENDS:
        return False
    lost = before.act == following.act == "lose" and not before.held("plant")
    return lost or (_counts_before(counted) and _counts_before(following.word))


def _counts_before(word: ActWord | None) -> bool:
    return word is not None and word.counts_before
