"""Which caution goes with an act, once for each person and hazard in a season."""

from __future__ import annotations

from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.records import local_day
from core.storage import Books
from core.treatments.cautions import hazards_of


def cautions_for(books: Books, scene: Scene, entries: tuple[Entry, ...]) -> tuple[str, ...]:
    """The hazards to be named beside these acts: those that this person was not yet told of this season."""
    year = local_day(scene.message.said_at, scene.zone).year
    told: list[str] = []
    for entry in entries:
        if entry.act is Act.NOTE:
            continue
        for hazard in hazards_of(entry, scene.message.text):
            setting = f"told:{hazard}:{scene.speaker}:{year}"
            if hazard not in told and books.setting(setting) is None:
                books.settle(setting, scene.key)
                told.append(hazard)
    return tuple(told)
