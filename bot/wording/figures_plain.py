"""How chances, ranges and what a figure rests on are put into plain words."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from bot.wording.plain import day_of, day_with_year, percent, plural
from core.figures import defaults


def in_ten(chance: float) -> str:
    """A chance as people say it: "9 in 10"; the ends as what they are."""
    if chance >= 0.975:
        return "almost sure"
    if chance >= 0.925:
        return "19 in 20"
    if chance < 0.025:
        return "almost none"
    if chance < 0.075:
        return "1 in 20"
    if 0.3 < chance < 0.36:
        return "1 in 3"
    if 0.64 < chance < 0.69:
        return "2 in 3"
    return f"{round(chance * 10)} in 10"


def span(low: float, high: float) -> str:
    """Two shares as a range in percent: "43 to 58 %"."""
    return f"{low * 100:.0f} to {high * 100:.0f} %"


def day(iso: str) -> str:
    """A day in an answer: "Sat 17 Apr"."""
    return day_of(date.fromisoformat(iso))


def far(iso: str) -> str:
    """A day with its year."""
    return day_with_year(date.fromisoformat(iso))


def is_old(age: timedelta) -> bool:
    """Whether a count of this age is said to be old."""
    return age > timedelta(days=defaults.number("counting", "old_days"))


def count_age(days: int | None) -> str:
    """How old a count is, and that an old one is old."""
    if days is None:
        return "never counted"
    old = "; old, count again" if is_old(timedelta(days=days)) else ""
    return ("counted today" if days == 0 else f"counted {plural(days, 'day')} ago") + old


def rests_on(facts: dict[str, Any], *, lots: str = "lots", tried: str = "tried", seed: bool = False) -> str:
    """On how many lots and plants a rate rests, and on what besides."""
    what = "seed" if seed else "cutting"
    behind = {
        "published range": "the usual range for it",
        "other plants": "how your other plants do",
        "nothing known": "nothing else known",
        "stage": "common practice",
        "usual losses": "common practice",
    }[facts["basis"]]
    number = facts[lots]
    if not number:
        return f"A guess: no finished lot of it here, only {behind}."
    rest = f"Rests on {plural(number, 'lot')} here ({plural(facts[tried], what)}) and {behind}."
    return f"{rest} One lot is a guess." if number == 1 else rest


def points(low: float, high: float) -> str:
    """A difference of shares as a range of points: "+2 to +45 points"."""
    return f"{low * 100:+.0f} to {high * 100:+.0f} points"


def share(hits: int, tried: int) -> str:
    """A count with its share: "31/72 (43 %)"."""
    return f"{hits}/{tried} ({percent(hits / tried)})" if tried else f"{hits}/{tried}"
