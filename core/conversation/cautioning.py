"""Which caution goes with an act, once for each person and hazard in a season."""

from __future__ import annotations

from dataclasses import replace

from core.answers import Answer, FiguresTold, HowTold, MixTold
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.records import local_day
from core.storage import Books
from core.treatments.cautions import hazards_of


def cautions_for(books: Books, scene: Scene, entries: tuple[Entry, ...]) -> tuple[str, ...]:
    """The hazards to be named beside these acts: those that this person was not yet told of this season."""
    told: list[str] = []
    for entry in entries:
        if entry.act is Act.NOTE:
            continue
        for hazard in hazards_of(entry, scene.message.text):
            if hazard not in told and _is_first(books, scene, hazard):
                told.append(hazard)
    return tuple(told)


def caution_once(books: Books, scene: Scene, answer: Answer) -> Answer:
    """An answer without its caution where this person was told it this season; a first telling is remembered."""
    if not isinstance(answer, (MixTold, HowTold, FiguresTold)) or answer.caution is None:
        return answer
    return answer if _is_first(books, scene, answer.caution) else replace(answer, caution=None)


def _is_first(books: Books, scene: Scene, hazard: str) -> bool:
    year = local_day(scene.message.said_at, scene.zone).year
    setting = f"told:{hazard}:{scene.speaker}:{year}"
    if books.setting(setting) is not None:
        return False
    books.settle(setting, scene.key)
    return True
