"""Which covers were left off: "tray 2 lid is off still, i'm going", and one that came off long before its note arrived.

Rules
1. A cover that the books have on, and that is told to be off still, has just come off for all that is known.
2. Where a note of a cover comes so late that no reminder can ask for it any more, the receipt does.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any

from core import answers
from core.conversation.correction_words import bare
from core.conversation.heard import either
from core.conversation.replanning import history_of
from core.conversation.scene import Scene
from core.entries import Act
from core.lots import fold_cover
from core.notes import Reading, read_answer
from core.reminders import Subject
from core.storage import Books

_WORDS = "answers_heard"
_TABLE = "left_off"
_ASKS_BACK = "cover_back"


def with_cover_left_off(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the cover of a tray that is told to be off still, where the books have it on; else as it was."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act is not Act.NOTE or one.plant or "?" in scene.message.text:
        return reading
    first, _, rest = scene.message.text.partition(",")
    found = _pattern().fullmatch(bare(first))
    named = read_answer("lot", found["before"] or found["after"], scene.local_now) or {} if found is not None else {}
    trays = tuple(named.get("trays", ()))
    if not trays or trays != one.trays:
        return reading
    covers = [fold_cover(books.tray_records(tray), scene.zone, scene.now) for tray in trays]
    if not all(cover.on and cover.aired_at is None for cover in covers):
        return reading
    off = replace(one, act=Act.AIR, text=None, rest=" ".join(["still", *bare(rest).split()]))
    return replace(reading, entries=(off,), asks=())


@cache
def _pattern() -> re.Pattern[str]:
    """ "Tray 2 lid is off still", "the dome is still off tray 2"."""
    cover, off = (either(_WORDS, _TABLE, key) for key in ("covers", "off"))
    place = r"(?P<{}>(?:tray )?\d[\w-]*)s?"
    being = r"(?: is| are| was|s)?"
    return re.compile(
        rf"(?:the )?{place.format('before')}(?: (?:the )?(?:{cover}))?{being} (?:{off})"
        rf"|(?:the )?(?:{cover}){being} (?:{off})(?: (?:of|on|at))? {place.format('after')}"
    )


def remarks_on_left_off(
    books: Books, scene: Scene, acts: Sequence[answers.Act]
) -> list[tuple[str, dict[str, Any]]]:
    """A remark for each tray (or lot that stands in none) whose cover is off by these acts, for so long that no
    reminder asks for it.
    """
    told = []
    for subject in _aired(acts):
        cover = fold_cover(history_of(books, subject).records, scene.zone, scene.now)
        if cover.aired_at is None or books.open_reminders(subject=subject, kinds=[_ASKS_BACK]):
            continue
        since: datetime = cover.aired_at.astimezone(scene.zone).replace(tzinfo=None)
        told.append(("left_off", {"place": f"{subject.kind} {subject.name}", "since": since.isoformat()}))
    return told


def _aired(acts: Sequence[answers.Act]) -> dict[Subject, None]:
    subjects: dict[Subject, None] = {}
    for act in (one for one in acts if one.entry.act is Act.AIR):
        trays = act.trays or tuple(tray for lot in act.lots for tray in lot.trays)
        subjects |= {Subject(kind="tray", name=tray): None for tray in trays}
        subjects |= {Subject(kind="lot", name=lot.number): None for lot in act.lots if not trays}
    return subjects
