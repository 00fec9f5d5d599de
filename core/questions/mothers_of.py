"""On how many mother plants does a plant, or a lot, rest?"""

from __future__ import annotations

from datetime import datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.figures import defaults
from core.figures.mothers import clones_of
from core.questions.figured_lots import figured
from core.questions.subjects import asked_lots
from core.storage import Books


def how_many_mothers(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Mothers, the effective number, the largest share, and plants of no known mother."""
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    if not asked.named:
        return Refused(why="name_plant", facts={"example": "how many mothers does toyon come from"})
    lots = figured(asked.lots, books.crew.zone)
    seen = clones_of(lots)
    return FiguresTold(
        kind="mothers",
        facts={
            "asked": entry.plant or "lot " + ", ".join(entry.lots),
            "lots": len(lots),
            "clones": seen.clones,
            "effective": seen.effective,
            "largest": seen.largest,
            "largest_share": seen.largest_share,
            "unknown": seen.unknown,
            "captured": seen.captured,
            "narrow": seen.narrow,
            "few": int(defaults.number("mothers", "few")),
            "cultivar": "'" in (entry.plant or ""),
            "hybrid": any(lot.kind == "seed" and "'" in lot.plant for lot in lots),
        },
    )
