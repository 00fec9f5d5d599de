"""The deed that answers "What was done?": "dead", said of a note "3 coyote" that told none.

Rules
1. The words that name the deed are read with the note that lacked it, before it or after it; together they must tell
   one thing that was done, and ask nothing but what that deed asks for.
2. An answer that names plants, lots or a count of its own is a note of its own.
"""

from __future__ import annotations

from typing import Final

from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading, read

_NO_DEED: Final = frozenset({Act.NOTE, Act.REPLY, Act.AMEND, Act.ASK, Act.HELLO, Act.UNDO, Act.RULE, Act.REMIND})


def deed_named(scene: Scene, first: Pending, said: str, reading: Reading) -> tuple[Entry, tuple[str, ...]] | None:
    """The note `said` with the deed that these words name, and what it lacks still; None where they name none alone."""
    told = reading.entries[0] if len(reading.entries) == 1 else None
    if first.kind != "act" or first.choices or told is None or told.act in _NO_DEED:
        return None
    if told.lots or told.trays or told.plant or told.count is not None or told.rest:
        return None
    for whole in (f"{said} {scene.message.text}", f"{scene.message.text} {said}"):
        both = read(whole, scene.local_now, scene.names)
        entry = both.entries[0] if len(both.entries) == 1 else None
        if entry is not None and entry.act is told.act and "number" not in {ask.kind for ask in both.asks}:
            return entry, tuple(ask.kind for ask in both.asks)
    return None
