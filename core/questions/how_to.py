"""How is it done: the few lines that a first-day volunteer needs, from a file that a grower can mend."""

from __future__ import annotations

import tomllib
from datetime import datetime
from functools import cache
from importlib.resources import files
from typing import Any

from core.answers import Answer, HowTold, Refused
from core.entries import Entry
from core.storage import Books


@cache
def _topics() -> tuple[dict[str, Any], ...]:
    text = files("core.questions").joinpath("how_to.toml").read_text(encoding="utf-8")
    return tuple(tomllib.loads(text)["topic"])


def how_is_it_done(books: Books, entry: Entry, now: datetime) -> Answer:
    """The lines for the topic that the question's words name, or what may be asked."""
    told = (entry.rest, entry.did, entry.method, entry.solution, str(entry.cutting) if entry.cutting else None)
    words = " ".join(word for word in told if word)
    best = max(_topics(), key=lambda topic: max((len(word) for word in topic["words"] if word in words), default=0))
    if not any(word in words for word in best["words"]):
        return Refused(why="no_how_to", facts={"topics": [topic["name"] for topic in _topics()]})
    return HowTold(topic=best["name"], lines=tuple(best["lines"]), caution=best.get("caution"))
