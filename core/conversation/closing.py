"""What became of a lot that the crew says is over: "close lot 15", "lot 16 given up", "done with lot 14".

Rules
1. A lot closes by what became of its plants, so that is asked, with how many are left; nothing is written unasked.
2. A lot that is open is not opened again: its state is said.
"""

from __future__ import annotations

import re
from functools import cache

from core.answers import Answer, Choice, Refused
from core.conversation.asking import put_question
from core.conversation.correction_words import bare, said, without_ends
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading
from core.storage import Books


def hear_closing(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """The question what became of a lot, or None where the note does not say that one is over."""
    note = reading.entries[0] if len(reading.entries) == 1 else None
    if note is None or note.act is not Act.NOTE or scene.replied_reminders:
        return None
    words = without_ends(bare(scene.message.text), "closes")
    closes = next((found["lot"] for one in _patterns("says") if (found := one.fullmatch(words))), None)
    opens = next((found["lot"] for one in _patterns("opens_again") if (found := one.fullmatch(words))), None)
    number = books.resolve(closes or opens or "", scene.year())
    lot = books.lot(number) if number is not None else None
    if lot is None or lot.closed:
        return None
    if closes is None:
        return Refused(why="lot_is_open", facts={"lot": lot.number, "left": lot.left})
    ways = (Entry(act=act, lots=(lot.number,), all_of=True) for act in (Act.LOSE, Act.GIVE, Act.PLANT_OUT))
    choices = (
        *(Choice(label="reading", action={"choose": one.as_keys()}) for one in ways),
        Choice(label="still_here", action={"drop": True}),
    )
    facts = {"lot": lot.number, "left": lot.left}
    return put_question(books, scene, [Pending(kind="closing", entries=(note,), choices=choices, facts=facts)])


def says_it_is_over(text: str) -> bool:
    """Whether some words say of a lot that it is over ("lot 14 done")."""
    words = without_ends(bare(text), "closes")
    return any(one.fullmatch(words) for one in _patterns("says"))


@cache
def _patterns(key: str) -> tuple[re.Pattern[str], ...]:
    named = (re.escape(one) for one in said("closes", key))
    return tuple(re.compile(one.replace(r"\{lot\}", r"(?:lot )?(?P<lot>\d{1,2}-\d{1,4}|\d{1,4})")) for one in named)
