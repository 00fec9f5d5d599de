"""What can be shown beside an answer: the lots behind it as a table, and how they rooted as a picture.

Rules
1. An answer offers only what there is to see: a table where lots stand behind it, a picture where one was looked at.
2. A picture shows the plant's usual course, one lot's looks in front, and the looks of the plant's other lots behind.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any, Final

from core.answers import Answer, Choice, FiguresTold, Refused
from core.entries import Entry
from core.figures.values import LotFigures
from core.lots import Lot
from core.questions.figured_lots import figured, figures_of, know, of_plant
from core.questions.subjects import asked_lots
from core.records import local_day
from core.storage import Books

OFFERED: Final = frozenset(
    {"rate", "divided", "survival", "time", "compare", "forecast", "plan", "what_if", "outlook", "course", "season", "losses"}
)
"""The kinds of answer that rest on lots."""
MOST_ROWS: Final = 20
_CURVE_STEPS: Final = 40
_MOST_BEHIND: Final = 30


def offer(books: Books, entry: Entry, answer: Answer, now: datetime) -> Answer:
    """The answer with its buttons for a picture and a table, where there is something to show."""
    if not isinstance(answer, FiguresTold) or answer.kind not in OFFERED or answer.choices:
        return answer
    plant = entry.plant or answer.facts.get("plant")
    asked = asked_lots(books, replace(entry, plant=str(plant) if plant else None), now, closed_too=True)
    lots = [lot for lot in asked.lots if lot.merged_into is None]
    if answer.kind == "season":
        year = answer.facts["year"]
        lots = [lot for lot in lots if local_day(lot.opened_at, books.crew.zone).year == year]
    if not lots:
        return answer
    choices = []
    looked = [lot for lot in lots if lot.looks and lot.started] if plant or entry.lots or entry.trays else []
    if looked:
        newest = max(looked, key=lambda lot: lot.opened_at)
        choices.append(Choice(label="picture", action={"show": "picture", "lot": newest.number}))
    shown = sorted(lots, key=lambda lot: lot.opened_at, reverse=True)[:MOST_ROWS]
    action = {"show": "table", "lots": [lot.number for lot in shown], "of": len(lots)}
    choices.append(Choice(label="table", action=action))
    return replace(answer, choices=tuple(choices))


def show(books: Books, action: Mapping[str, Any], now: datetime) -> Answer:
    """What a pressed button shows: the table in words, or the sentence that a picture goes with."""
    if action["show"] == "picture":
        facts = rooting_facts(books, str(action["lot"]))
        return Refused(why="old_button") if facts is None else FiguresTold(kind="rooting", facts=facts)
    lots = [lot for number in action["lots"] if (lot := books.lot(number)) is not None]
    rows = [_row(lot, books, now) for lot in lots]
    return FiguresTold(kind="table", facts={"rows": rows, "more": int(action["of"]) - len(rows)})


def rooting_facts(books: Books, number: str) -> dict[str, Any] | None:
    """What a lot's picture is drawn from: the plant's usual course and the looks at it and its plant's other lots."""
    zone = books.crew.zone
    lot = books.lot(number)
    own = figures_of(lot, zone) if lot is not None else None
    if lot is None or own is None:
        return None
    every = figured(books.lots(open_only=False), zone)
    same = tuple(one for one in of_plant(every, own.plant) if (one.kind == "seed") == (own.kind == "seed"))
    known = know(own.plant, every, kind="seed" if own.kind == "seed" else "cuttings", lots=same)
    last = max((one.day(look.on) for one in same for look in one.looks), default=0)
    days = max(round(known.time.day_of(0.95)), last, 14)
    lot_range = known.spread.lot_range(0.8)
    curve = []
    for step in range(_CURVE_STEPS + 1):
        day = days * step / _CURVE_STEPS
        share = known.time.share_by(day) if day > 0 else 0.0
        curve.append([day, lot_range.low * share, known.spread.mean * share, lot_range.high * share])
    others = sorted((one for one in same if one.number != number and one.looks), key=lambda one: one.started_on)
    return {
        "crew": books.crew.number,
        "number": number,
        "plant": own.plant,
        "kind": own.kind,
        "curve": curve,
        "looks": _looks(own),
        "others": [_looks(one) for one in others[-_MOST_BEHIND:]],
        "lots": known.spread.lots,
        "basis": known.spread.prior.basis,
    }


def _looks(lot: LotFigures) -> list[list[Any]]:
    looks = sorted(lot.looks, key=lambda look: look.on)
    return [[lot.day(look.on), look.rooted, look.of if not look.whole else lot.started, look.whole] for look in looks]


def _row(lot: Lot, books: Books, now: datetime) -> dict[str, Any]:
    zone = books.crew.zone
    known = lot.germinated if lot.kind == "seed" else lot.rooted
    gone = lot.sold + lot.given + lot.planted_out
    return {
        "number": lot.number,
        "plant": lot.plant,
        "kind": lot.kind,
        "opened": local_day(lot.opened_at, zone).isoformat(),
        "started": lot.started,
        "hits": None if known is None else known + (0 if lot.kind == "seed" else gone),
        "potted": lot.potted,
        "gone": gone,
        "lost": lot.lost,
        "left": lot.left,
        "unexplained": lot.unexplained,
        "how": " ".join(word for word in (lot.cutting or "", lot.medium or "") if word),
        "counted_days": (now - lot.last_count_at).days if lot.last_count_at else None,
    }
