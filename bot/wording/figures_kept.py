"""How it is told for whom plants are kept, how many are free, what somebody got, and what is wanted by when."""

from __future__ import annotations

from typing import Any

from bot.wording.figures_plain import day, far
from bot.wording.plain import kept_line, listed, plural

_MOST_ROWS = 5
_GOT = {"sell": "sold", "give": "given", "plant_out": "planted out"}


def free(facts: dict[str, Any]) -> list[str]:
    """How many of each lot are kept for nobody, beside how many are left and for whom the others are kept."""
    rows = facts["rows"]
    lines = [_free_line(row) for row in rows[:_MOST_ROWS]]
    if len(rows) > _MOST_ROWS:
        lines[_MOST_ROWS - 1 :] = [f"… and {len(rows) - _MOST_ROWS + 1} more lots."]
    if len(rows) > 1:
        lines.append(f"In all: {sum(row['free'] for row in rows)} free.")
    return lines


def _free_line(row: dict[str, Any]) -> str:
    kept = f"; reserved {kept_line(row['kept'])}" if row["kept"] else ""
    return f"{row['lot']} {row['plant']}: {row['free']} free ({row['left']} left{kept})."


def kept(facts: dict[str, Any]) -> list[str]:
    """For whom plants are kept, by lot; for one of them, where one was named."""
    who, rows = facts["who"], facts["rows"]
    of = f" of {listed(facts['lots'])}" if 0 < len(facts["lots"]) <= _MOST_ROWS else ""
    if not rows:
        return [f"Nothing{of} is reserved by the notes{f' for {who}' if who else ''}."]
    lines = [f"Nothing is reserved for {facts['stranger']} by the notes. Reserved are:"] if facts["stranger"] else []
    for row in rows[: _MOST_ROWS - 1]:
        named = [one for one in row["kept"] if who is None or one[0] == who]
        also = f"; {row['free']} free" if who is None and row["free"] is not None else ""
        lines.append(f"{row['lot']} {row['plant']}: reserved {kept_line(named)}{also}.")
    if len(rows) >= _MOST_ROWS:
        lines.append(f"… and {len(rows) - _MOST_ROWS + 1} more lots.")
    if len(rows) > 1:
        counts = [count for row in rows for name, count in row["kept"] if who is None or name == who]
        lines.append(f"In all: {sum(counts)} reserved{f' for {who}' if who else ''}.")
    return lines


def got(facts: dict[str, Any]) -> list[str]:
    """What somebody got, by lot and in all."""
    rows, days = facts["rows"], facts["days"]
    within = "" if not days else f" on {day(days[0])}" if days[0] == days[1] else f" from {day(days[0])} to {day(days[1])}"
    if not rows:
        plant = f"{facts['plant']} " if facts["plant"] else "plants "
        return [f"No record of {plant}to {facts['who']}{within}. That is not none: nobody has texted it."]
    lines = [f"{row['lot']} {row['plant']}: {row['count']} {_GOT[row['act']]} to {facts['who']}{within}." for row in rows]
    if len(lines) > _MOST_ROWS:
        lines[_MOST_ROWS - 1 :] = [f"… and {len(rows) - _MOST_ROWS + 1} more."]
    if len(rows) > 1:
        lines.append(f"In all: {sum(row['count'] for row in rows)} to {facts['who']}.")
    return lines


def got_by(facts: dict[str, Any]) -> list[str]:
    """Who got the plants asked of, by lot."""
    rows = facts["rows"]
    if not rows:
        of = facts["plant"] or listed(facts["lots"][:_MOST_ROWS])
        return [f"No record of any {of} sold, given or planted out. That is not none: nobody has texted it."]
    lines = [
        f"{row['lot']} {row['plant']}: {row['count']} {_GOT[row['act']]}"
        + (f" to {row['who']}." if row["who"] else "; to whom is not noted.")
        for row in rows
    ]
    return [*lines[: _MOST_ROWS - 1], f"… and {len(rows) - _MOST_ROWS + 1} more."] if len(rows) > _MOST_ROWS else lines


def targets(facts: dict[str, Any]) -> list[str]:
    """Each target in a line, the nearest first, with what stands of its plant now."""
    rows = facts["rows"]
    if not rows:
        of = f" of {facts['asked']}" if facts["asked"] else ""
        return [f'No target{of} is in the books. Text one, like "need 40 {facts["asked"] or "toyon"} by 14 nov".']
    lines = [_target_line(row) for row in rows[:_MOST_ROWS]]
    if len(rows) > _MOST_ROWS:
        lines.append(f"… and {len(rows) - _MOST_ROWS} more targets. Ask by plant.")
    return lines


def _target_line(row: dict[str, Any]) -> str:
    unknown = f"; not counted: {listed(row['unknown'][:3])}" if row["unknown"] else ""
    kept = f", {row['reserved']} reserved" if row["reserved"] else ""
    now = f"now {row['left']} left, {row['potted']} potted{kept}{unknown}"
    return f"{row['plant']}: {row['count']} by {far(row['due'])}; {now}."


def until(facts: dict[str, Any]) -> list[str]:
    """How long it is until each day that plants are wanted by, the nearest first."""
    return [_until_line(row) for row in facts["rows"][:_MOST_ROWS]]


def _until_line(row: dict[str, Any]) -> str:
    weeks, days = divmod(row["days"], 7)
    rest = f" and {plural(days, 'day')}" if days else ""
    long = f"{plural(row['days'], 'day')} ({plural(weeks, 'week')}{rest})" if weeks else plural(row["days"], "day")
    shown = row["plants"][:3]
    more = f" and {len(row['plants']) - len(shown)} more" if len(row["plants"]) > len(shown) else ""
    return f"{long if row['days'] else 'today'} to {far(row['day'])}, the day of the target of {listed(shown)}{more}."
