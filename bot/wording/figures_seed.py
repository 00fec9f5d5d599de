"""How germination, live seed and chilling are told."""

from __future__ import annotations

from typing import Any

from bot.wording.figures_plain import day, span
from bot.wording.plain import listed, plural
from core.figures.measures import to_fahrenheit


def course(facts: dict[str, Any]) -> list[str]:
    """How a test or a lot came up: percent with its range, T50, mean time, speed."""
    lines: list[str] = []
    for row in facts["rows"]:
        name = f"{row['number']} {row['plant']}: " if "number" in row else ""
        if not row["of_known"]:
            lines.append(f"{row['up']} up; of how many nobody said, so no percent.")
        else:
            small = ", a small test" if row["sown"] < 100 else ""
            lines.append(
                f"{name}{row['up']} of {row['sown']} up ({row['percent']:.0f} %{small}; "
                f"the truth may be {span(row['low'], row['high'])})."
            )
        if row["mean"] is None:
            continue
        error = f" (standard error {row['error']:.2g})" if row["error"] else ""
        lines.append(
            f"Days {row['first']:g} to {row['last']:g}, half of those up by day {row['half']:.1f} (T50), "
            f"mean {row['mean']:.1f} days{error}, Maguire's speed {row['speed']:.2f} a day."
        )
    rows = facts["rows"]
    if not facts["told"] and len(rows) == 1:
        lines.append(
            f"From {plural(rows[0]['looks'], 'look')}, up to {plural(rows[0]['gap'], 'day')} apart: days may be late by that. "
            f"Last look on day {rows[0]['last_look']}; what comes later is not in it."
        )
    return lines


def replicates(facts: dict[str, Any]) -> list[str]:
    """Whether the replicates of a test agree, by which rule."""
    rule = "the published tolerance" if facts["published"] else "the binomial spread (no published row)"
    head = (
        f"{listed([str(one) for one in facts['counts']])} of {facts['each']}: mean {facts['average']:.1f} %, "
        f"range {facts['range']:.0f}; {rule} allows {facts['allowed']:.0f}."
    )
    said = "They agree: the test stands." if facts["agrees"] else "They do not agree: find out why, and test again."
    return [head, said]


def live_seed(facts: dict[str, Any]) -> list[str]:
    """Pure live seed, and how much of the bulk to one part of it."""
    lines = [
        f"{facts['purity'] * 100:g} % pure and {facts['germination'] * 100:g} % germination: "
        f"{facts['live'] * 100:.4g} % pure live seed.",
        f"One part of live seed takes {1 / facts['live']:.2f} of the bulk, by weight.",
    ]
    if facts["amount"]:
        amount, unit = facts["amount"]
        lines.append(f"{amount:g} {unit} of live seed: {amount / facts['live']:.4g} {unit} of bulk.")
    return lines


def untrue(facts: dict[str, Any]) -> list[str]:
    """Whether seed of a plant comes true."""
    plant = facts["plant"]
    match facts["why"]:
        case "cultivar":
            return [f"No: seed of {plant} does not come true. Only cuttings or divisions keep the name."]
        case "hybrid":
            return [f"No: seed of {plant} is of a hybrid and does not come true; each seedling differs."]
        case _:
            return [
                f"{plant} is a wild kind: its seedlings are that kind, each its own plant.",
                "Where other kinds of the genus flower near, some may be hybrids: note where the seed came from.",
            ]


def chill(facts: dict[str, Any]) -> list[str]:
    """Days of cold with both ends, when it is enough, and what the fridge read."""
    lines = []
    for row in facts["rows"]:
        days = _days(row["least"], row["most"])
        asked = f" of {row['asked']}" if row["asked"] else ""
        over = "" if row["running"] else ", now out of it"
        line = f"{row['number']} {row['plant']}: {days}{asked} days of cold since {day(row['since'])}{over}."
        if row["ends"]:
            first, last = row["ends"]
            ends = f"{day(first)} to {day(last)}, the later if warm time does not count" if first != last else day(first)
            line += f" Enough on {ends}."
        lines.append(line)
    if facts["more"]:
        lines.append(f"… and {facts['more']} more lots in the cold. Ask by name.")
    lines.append(_fridge(facts))
    if any(row["lead_decides"] for row in facts["rows"]):
        lines.append("More warm days than the usual few: the lead decides whether it starts again.")
    if facts["rows"]:
        lines.append("Look for white tips every week: a sprout overrides every count.")
    return lines


def _days(least: float, most: float) -> str:
    low, high = f"{least:.0f}", f"{most:.0f}"
    return low if low == high else f"{low} to {high}"


def _fridge(facts: dict[str, Any]) -> str:
    if not facts["readings"]:
        return "No fridge reading noted: it is taken as cold."
    low, high = facts["coldest"], facts["warmest"]
    outside = facts["outside"]
    band = f"{facts['band'][0]:g} to {facts['band'][1]:g} C"
    bad = f", {outside} outside {band}" if outside else f", all within {band}"
    return (
        f"The fridge read {low:.0f} to {high:.0f} C ({to_fahrenheit(low):.0f} to {to_fahrenheit(high):.0f} F) "
        f"in {plural(facts['readings'], 'note')}{bad}."
    )
