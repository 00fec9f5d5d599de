"""How well and how fast did a seed lot come up; and do the replicates of a test agree?

Rules
1. A course is read from the question's own words ("50 seeds, day 5 4, day 6 17", "4 on day 5 ... out of 50"), else from
   the looks at the lot; a look says only that a seedling came by then, so the days are late by up to the time between.
2. Nothing is recorded: counts told in a question are a sum, not a check.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.errors import BenchError
from core.figures.germination import Course, check_replicates, summarize
from core.figures.rates import wilson
from core.figures.values import LotFigures
from core.questions.figured_lots import figured
from core.questions.subjects import asked_lots
from core.storage import Books

_COUNT_THEN_DAY = re.compile(r"\b(\d+)\s+(?:more\s+)?(?:up\s+|new\s+)?(?:on|by|at)\s+(?:day|d)\s*(\d+)\b")
_DAY_THEN_COUNT = re.compile(r"\b(?:day|d)\s*(\d+)\s*[:=,-]?\s+(\d+)\b(?!\s*(?:on|by|at)\b)")
_SOWN = re.compile(r"\b(?:out of|of)\s+(\d+)\b|\b(\d+)\s+seeds?\b")
_TOTALS = re.compile(r"\b(total|totals|cumulative|in all|so far)\b")
_EACH = re.compile(r"\b(?:of|out of|x)\s*(\d+)\b|\b(\d+)\s+seeds?\b")
_NUMBER = re.compile(r"\b\d+\b")
_T50 = "50"
_MOST_LOTS = 3


def can_be_told(entry: Entry, words: str) -> bool:
    """True where the question names a lot or a plant, or tells a course itself."""
    return bool(entry.plant or entry.lots or _days_and_counts(words))


def how_it_came_up(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Percent up, T50, mean germination time and Maguire's speed, of a course told or of the lots asked about."""
    told = _days_and_counts(words)
    if told:
        return _of_course_told(words, told)
    trays = tuple(tray for tray in entry.trays if tray != _T50) if "t50" in words else entry.trays
    asked = asked_lots(books, replace(entry, trays=trays), now, closed_too=True)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    lots = [lot for lot in figured(asked.lots, books.crew.zone) if lot.kind == "seed"]
    rows = [row for lot in lots if (row := _of_lot(lot)) is not None]
    if not rows:
        return Refused(why="no_course", facts={"asked": entry.plant or ", ".join(entry.lots)})
    return FiguresTold(kind="course", facts={"rows": rows[-_MOST_LOTS:], "told": False})


def do_replicates_agree(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Whether the replicates of one germination test lie within the published tolerance."""
    each = _EACH.search(words)
    seeds = int(next(filter(None, each.groups()))) if each else 100
    rest = _EACH.sub(" ", words) if each else words
    rest = re.sub(r"\b\d+\s+(?=reps?\b|replicates?\b)", " ", rest)
    counts = [int(one) for one in _NUMBER.findall(rest)]
    try:
        seen = check_replicates(counts, seeds_each=seeds)
    except BenchError as wrong:
        return Refused(why="replicates_need", facts={"hint": str(wrong)})
    return FiguresTold(
        kind="replicates",
        facts={
            "counts": counts,
            "each": seeds,
            "average": seen.average_percent,
            "range": seen.range_percent,
            "allowed": seen.allowed_percent,
            "published": seen.published,
            "agrees": seen.agrees,
        },
    )


def _days_and_counts(words: str) -> list[tuple[int, int]]:
    """(day, seedlings) as the words tell them, by day; empty where fewer than two days are told."""
    found = [(int(day), int(count)) for count, day in _COUNT_THEN_DAY.findall(words)]
    if len(found) < 2:
        found = [(int(day), int(count)) for day, count in _DAY_THEN_COUNT.findall(words)]
    return sorted(found) if len(found) > 1 else []


def _of_course_told(words: str, told: Sequence[tuple[int, int]]) -> Answer:
    rest = _DAY_THEN_COUNT.sub(" ", _COUNT_THEN_DAY.sub(" ", words))
    said = _SOWN.search(rest)
    days, counts = [float(day) for day, _ in told], [count for _, count in told]
    totals = bool(_TOTALS.search(words))
    up = counts[-1] if totals else sum(counts)
    sown = int(next(filter(None, said.groups()))) if said else up
    try:
        course = (
            Course.of_totals(counts, sown=sown, days=days)
            if totals
            else Course(days=tuple(days), counts=tuple(counts), sown=sown)
        )
    except BenchError as wrong:
        return Refused(why="sum_impossible", facts={"hint": str(wrong)})
    return FiguresTold(
        kind="course", facts={"rows": [_course_facts(course) | {"of_known": said is not None}], "told": True}
    )


def _of_lot(lot: LotFigures) -> dict[str, object] | None:
    looks = sorted((look for look in lot.looks if look.whole and lot.day(look.on) > 0), key=lambda look: look.on)
    if not looks:
        return None
    by_day: dict[int, int] = {}
    for look in looks:
        day = lot.day(look.on)
        by_day[day] = max(look.rooted, *by_day.values()) if by_day else look.rooted
    course = Course.of_totals(list(by_day.values()), sown=lot.started, days=[float(day) for day in by_day])
    days = list(by_day)
    gap = max(later - earlier for earlier, later in zip((0, *days), days, strict=False))
    return _course_facts(course) | {
        "number": lot.number,
        "plant": lot.plant,
        "looks": len(by_day),
        "gap": gap,
        "last_look": days[-1],
        "of_known": True,
    }


def _course_facts(course: Course) -> dict[str, object]:
    seen = summarize(course)
    ends = wilson(course.germinated, course.sown)
    return {
        "up": course.germinated,
        "sown": course.sown,
        "percent": seen.percent,
        "low": ends.low,
        "high": ends.high,
        "first": seen.first_day,
        "last": seen.last_day,
        "half": seen.half_day,
        "mean": seen.mean_day.days if seen.mean_day else None,
        "error": seen.mean_day.standard_error if seen.mean_day else None,
        "speed": seen.speed,
    }
