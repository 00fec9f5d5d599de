"""How sums are told: the figure, how sure it is, and what it rests on, in at most six lines."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from bot.wording.plain import day_of, listed, percent, plural
from core.answers import FiguresTold

_MOST_ROWS = 5


def figures_told(answer: FiguresTold) -> str:
    """The sentence for a sum."""
    return _TOLD[answer.kind](answer.facts)


def _stock(facts: dict[str, Any]) -> str:
    rows = [row for row in facts["rows"] if row["left"]]
    if not rows:
        return f"Nothing of {facts['asked']} is left." if facts["asked"] else "Nothing is in stock that I know of."
    lines = []
    for row in sorted(rows, key=lambda row: -row["left"])[:_MOST_ROWS]:
        ready = f"{row['ready']} ready, " if row["ready"] else ""
        old = row["oldest_count_days"]
        count_age = "never counted" if old is None else f"counted {plural(old, 'day')} ago"
        lines.append(
            f"{row['plant']}: {ready}{row['potted']} potted, {row['left']} left in {listed(row['lots'])} ({count_age})."
        )
    if len(rows) > _MOST_ROWS:
        lines.append(f"… and {len(rows) - _MOST_ROWS} more plants. Ask by name.")
    return "\n".join(lines)


def _when(facts: dict[str, Any]) -> str:
    lines = []
    for lot in facts["lots"][:3]:
        rooted = lot["rooted"]
        if lot["stage"] in ("potted", "hardening", "closed"):
            state = f"{lot['stage']} already"
        elif rooted is None:
            state = "no root count yet: evidence moves it on, so tug a dozen first"
        else:
            share = f" of {lot['living']} ({percent(rooted / lot['living'])})" if lot["living"] else ""
            state = f"{rooted}{share} rooted"
            state += "; pot when about 7 in 10 have rooted or roots show" if not lot["roots_out"] else ", roots show: pot now"
        lines.append(f"{lot['number']} {lot['plant']}: day {lot['days']}, {state}.")
    for due in facts["dues"][:3]:
        lines.append(f"{day_of(date.fromisoformat(due['on']))}: {due['kind'].replace('_', ' ')} ({due['subject']}).")
    return "\n".join(lines) or "I have no open lot there."


_TOLD: dict[str, Callable[[dict[str, Any]], str]] = {"stock": _stock, "when": _when}
