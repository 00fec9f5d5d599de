"""Which picture does a message's file name ask for, and how is it drawn: read from the books, then drawn, at sending.

Rules
1. The name says all: what, of which crew, and the minute it was asked for; the message needs nothing else in the books.
2. Nothing is drawn within a turn: a message waits in the outbox with its picture's name, and who sends it draws it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from bot.pictures import draw_rooting, draw_season
from core.answers import Answer, FiguresTold
from core.questions.season import facts_of_year
from core.questions.shown import rooting_facts
from core.storage import Store

_NAME = re.compile(r"(?P<what>season|rooting)-(?P<crew>\d+)-(?P<of>[\w-]+?)-\d{8}T\d{4}\.(?:pdf|png)")


def picture_of(answers: tuple[Answer, ...], now: datetime) -> str | None:
    """The name of the picture that goes with these answers, or None."""
    for answer in answers:
        if not isinstance(answer, FiguresTold):
            continue
        if answer.kind == "season" and answer.facts["lots"]:
            return f"season-{answer.facts['crew']}-{answer.facts['year']}-{now:%Y%m%dT%H%M}.pdf"
        if answer.kind == "rooting":
            return f"rooting-{answer.facts['crew']}-{answer.facts['number']}-{now:%Y%m%dT%H%M}.png"
    return None


def facts_for(store: Store, name: str) -> dict[str, Any] | None:
    """What the named picture is drawn from, read only; None for another name, or where there is nothing to draw."""
    asked = _NAME.fullmatch(name)
    if asked is None:
        return None
    with store.reading(int(asked["crew"])) as books:
        if asked["what"] == "season":
            return facts_of_year(books, int(asked["of"]))
        return rooting_facts(books, asked["of"])


def draw(name: str, facts: Mapping[str, Any], media: Path) -> Path:
    """Draws the named picture into the folder of media; where it was written."""
    return draw_season(facts, media / name) if name.startswith("season-") else draw_rooting(facts, media / name)


def size_of(path: Path) -> str:
    """How big a picture is, as a talk prints it: `800x500`, or `3 pages`."""
    body = path.read_bytes()
    if body.startswith(b"\x89PNG"):
        return f"{int.from_bytes(body[16:20])}x{int.from_bytes(body[20:24])}"
    pages = len(re.findall(rb"/Type\s*/Page\b", body))
    return f"{pages} page{'s' * (pages != 1)}"
