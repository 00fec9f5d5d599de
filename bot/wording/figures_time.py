"""How ages, days yet to go, the day of the sale and ranks are told."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from bot.wording.figures_plain import day, far, share
from bot.wording.plain import age, clock, day_of, listed, opening, plural
from bot.wording.reminders import short_name

_MOST = 5
_BY = {
    "rooted": "rooted", "germinated": "up", "grown": "rooted or up", "lost": "lost", "sold": "sold", "left": "left",
}  # fmt: skip


def ages(facts: dict[str, Any]) -> list[str]:
    """Since when each lot is there, in days and, where that is long, in weeks."""
    rows = facts["rows"]
    lines = [
        f"{row['number']} {row['plant']}: {row['how']} {day(row['day'])}, {_days(row['days'])} ago." for row in rows[:_MOST]
    ]
    return [*lines, f"… and {len(rows) - _MOST} more lots."] if len(rows) > _MOST else lines


def days_to(facts: dict[str, Any]) -> list[str]:
    """In how many days a day comes, or what is planned."""
    lines = []
    for row in facts["rows"]:
        what = f"{short_name(row['due'])}: " if "due" in row else ""
        when = day(row["day"]) if what else far(row["day"])
        late = f"{_days(-row['days'])} late" if what and row["days"] < 0 else _away(row["days"])
        lines.append(opening(f"{what}{when}, {late}."))
    return lines


def sale(facts: dict[str, Any]) -> list[str]:
    """The days for which plants are wanted."""
    if not facts["days"]:
        return ['No day of the sale is noted. Text what is wanted, like "need 60 toyon for the sale by 17 april".']
    lines = []
    for row in facts["days"]:
        wanted = listed([f"{count} {plant}" for count, plant in row["wanted"]])
        lines.append(f"{far(row['day'])}, {_away(row['days'])}: {wanted} wanted.")
    return lines


def ranked(facts: dict[str, Any]) -> list[str]:
    """The lots by a figure, the first one asked of first; those without it are named."""
    word = _BY[facts["by"]]
    if not facts["rows"]:
        return [f"I cannot rank them: no record of any {word}. No record is not none."]
    lines = [f"By the share {word}, the {'lowest' if facts['last'] else 'highest'} first:"]
    if facts["rows"][0]["of"] is None:
        lines = [f"By how many are {word}, the {'fewest' if facts['last'] else 'most'} first:"]
    for row in facts["rows"][: _MOST - 1]:
        where = f", tray {listed(row['trays'])}" if row["trays"] else ""
        figure = f"{row['count']}" if row["of"] is None else share(row["count"], row["of"])
        lines.append(f"{row['number']} {row['plant']}{where}: {figure}.")
    return [*lines, f"Not counted: {listed(facts['silent'][:_MOST])}." if facts["silent"] else ""]


def trays(facts: dict[str, Any]) -> list[str]:
    """How many trays have a lot in them, and which."""
    if not facts["trays"]:
        return ["No lot is noted in a tray."]
    return [f"{plural(len(facts['trays']), 'tray')} in use: {listed(facts['trays'])}."]


def off_for(facts: dict[str, Any]) -> list[str]:
    """How long the covers asked of were off the last time, or are by now."""
    lines = [opening(_off_for(row)) for row in facts["rows"][:_MOST]]
    return [*lines, f"… and {len(facts['rows']) - _MOST} more."] if len(facts["rows"]) > _MOST else lines


def _off_for(row: dict[str, Any]) -> str:
    began = datetime.fromisoformat(row["began"])
    since = f"{day_of(began.date())} {clock(began)}"
    if row["ended"] is None:
        return f"{row['where']}: off from {since}; when it went back on is not noted."
    length = age(timedelta(minutes=row["minutes"]))
    if row["off"]:
        by_now = f"{length} by now" if row["minutes"] else "just now"
        return f"{row['where']}: off since {since}, {by_now}. It is not back on by the notes."
    times = f", {row['times']} times" if row["times"] > 1 else ""
    if row["as_told"]:
        return f"{row['where']}: off for {length}{times}, as it was told {day_of(began.date())}."
    return f"{row['where']}: off for {length}, {since} to {clock(datetime.fromisoformat(row['ended']))}."


def _days(days: int) -> str:
    about = "about " if days % 7 else ""
    weeks = f" ({about}{plural(round(days / 7), 'week')})" if days >= 14 else ""
    return f"{plural(days, 'day')}{weeks}"


def _away(days: int) -> str:
    if days == 0:
        return "today"
    return f"in {_days(days)}" if days > 0 else f"{_days(-days)} ago"
