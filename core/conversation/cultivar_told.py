"""Which cultivar a lot is said to be of: "lot 14 is 'low tide'", "14 is 'high tide' not 'low tide'"."""

from __future__ import annotations

import re

from core.answers import Answer
from core.conversation.correcting import amend
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading
from core.storage import Books

_TOLD = re.compile(
    r"(?:no,? |oops,? |sorry,? |actually,? )?(?:lot |#)?(?P<lot>\d[\d-]*) (?:is|was|are|were) "
    r"(?:actually |really |all )?(?:the )?['\u2018\u201c\"](?P<name>[^'\u2019\u201d\"]+)['\u2019\u201d\"]"
    r"(?:,? (?:not|instead of) \S.*)?[.!]?"
)


def hear_cultivar(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """The correction of what a lot was begun with, or None where the note names no cultivar of a lot."""
    note = reading.entries[0] if len(reading.entries) == 1 else None
    found = _TOLD.fullmatch(scene.message.text.strip().lower())
    number = books.resolve(found["lot"], scene.year()) if found is not None else None
    lot = books.lot(number) if number is not None else None
    if note is None or note.act is not Act.NOTE or found is None or lot is None or lot.plant is None:
        return None
    plant = f"{lot.plant.partition(' ' + chr(39))[0]} '{found['name'].strip()}'"
    return amend(books, scene, Entry(act=Act.AMEND, lots=(lot.number,), plant=plant))
