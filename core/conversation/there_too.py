"""What was asked about holds in another lot as well: "15 too", said where the bot asked how many died in lot 16.

Rules
1. The number is an open lot, other than the one asked about; its count is asked, and the first question stays.
"""

from __future__ import annotations

import re
from dataclasses import replace

from core.conversation.asking import pending_of
from core.conversation.scene import Scene
from core.entries import Entry
from core.notes import Ask, Reading, says_too
from core.storage import Books


def there_too(books: Books, scene: Scene) -> Reading | None:
    """The deed asked about in the lot that is named too, its count still to be told; None for other words."""
    question = scene.question
    if question is None or question.kind != "count" or scene.replied_records or scene.replied_reminders:
        return None
    number = too_number(scene.message.text)
    lot = books.resolve(number, scene.year()) if number is not None else None
    asked = pending_of(question)[0].entries[0]
    known = books.lot(lot) if lot is not None else None
    if known is None or known.closed or lot in {books.resolve(one, scene.year()) for one in asked.lots}:
        return None
    there = replace(asked, lots=(str(number),), trays=(), plant=None, left=None, rest=None)
    return Reading(entries=(_uncounted(there),), asks=(Ask(kind="count", entry=0),))


def too_number(text: str) -> str | None:
    """The one number of words that say that it holds there as well ("and 15 too")."""
    found = re.fullmatch(r"\D*\b(\d{1,4})\b\D*", text) if says_too(text) else None
    return found[1] if found is not None else None


def _uncounted(entry: Entry) -> Entry:
    return replace(entry, count=None, count_max=None, of=None, approx=False, more=False, share=None, all_of=False)
