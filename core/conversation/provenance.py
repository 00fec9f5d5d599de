"""Where a lot is from, told after it was stuck or sown: its opening record is corrected with the source.

Rules
1. A plant names the lot where only one open lot is of it ("the toyon were from the ridge").
2. Several mother plants are told with how many came of each ("m3 and m4, 18 each").
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from functools import cache
from importlib.resources import files

from core.answers import Answer, Refused
from core.conversation.correcting import amend_to
from core.conversation.scene import Scene
from core.entries import Act
from core.lots.by_plant import lots_of_plant
from core.notes import Reading, read
from core.records import Record
from core.storage import Books

_LOT = r"(?:lot )?#?(?P<lot>[\d-]+):?"
_ARTICLE = re.compile(r"^(?:the|our|that|a|an) ")


@cache
def _patterns() -> tuple[re.Pattern[str], ...]:
    """The phrases of provenance.toml, the longest first."""
    text = files("core.conversation").joinpath("provenance.toml").read_text(encoding="utf-8")
    phrases = sorted(tomllib.loads(text)["says"], key=len, reverse=True)
    return tuple(
        re.compile(re.escape(one).replace(r"\{lot\}", _LOT).replace(r"\{source\}", "(?P<source>.+)")) for one in phrases
    )


def hear_source(books: Books, scene: Scene, reading: Reading) -> Answer | None:
    """The correction that "lot 2 is from m7" makes to how lot 2 began; None where the note says nothing of the kind."""
    note = reading.entries[0] if len(reading.entries) == 1 else None
    if note is None or note.act is not Act.NOTE or len(note.lots) > 1 or note.trays:
        return None
    words = " ".join((note.text or "").lower().replace(",", " ").split()).strip(" .!")
    named = note.lots[0] if note.lots else None
    if named is None and note.plant is not None:
        of_plant = lots_of_plant(note.plant, books.lots())
        named = of_plant[0].number if len(of_plant) == 1 else None
        words = re.sub(rf"^(?:the |our )?{re.escape(note.plant)}(?= )", f"lot {named}", words)
    found = next((match for one in _patterns() if (match := one.fullmatch(words))), None)
    number = books.resolve(named, scene.year()) if named is not None else None
    if found is None or number is None or found["lot"].lstrip("#") != named:
        return None
    opening = min((one for one in books.lot_records(number) if one.holds()), key=Record.order, default=None)
    if opening is None:
        return None
    source = _ARTICLE.sub("", found["source"])
    after = replace(opening.entry, source=source, sources=())
    if opening.entry.act is Act.STICK and " and " in source:
        told = read(f"stuck {opening.entry.count} toyon from {source}", scene.local_now, scene.names).entries
        if len(told) != 1 or told[0].rest or told[0].count != opening.entry.count:
            return None
        after = replace(after, source=told[0].source, sources=told[0].sources)
    if after == opening.entry:
        return Refused(why="nothing_changed")
    books.learn("source", source)
    return amend_to(books, scene, [opening], opening.entry, after)
