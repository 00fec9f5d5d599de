"""How rates divided by something, losses and survival are told."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from bot.wording.figures_plain import day, is_old, share, span
from bot.wording.plain import listed, percent, plural

_NAMES = {"cutting": "type of cutting", "by": "person", "place": "place"}


def divided(facts: dict[str, Any]) -> list[str]:
    """Rates side by side, best first, each with its range."""
    what = _NAMES.get(facts["what"], facts["what"])
    of = f" of {facts['plant']}" if facts["plant"] else ""
    if not facts["rows"]:
        waiting = f" Not finished or never counted: {listed(facts['left_out'][:3])}." if facts["left_out"] else ""
        return [f"No finished lot{of} says its {what}. No record is not zero.{waiting}"]
    lines = [f"Rooted or up{of}, by {what}:"]
    for row in facts["rows"][:3]:
        lines.append(
            f"{row['name'] if row['name'] != 'none' else 'no hormone'}: {share(row['hits'], row['tried'])} "
            f"in {plural(row['lots'], 'lot')}, likely {span(row['low'], row['high'])} (8 in 10)."
        )
    rest = []
    if len(facts["rows"]) > 3:
        rest.append(f"{len(facts['rows']) - 3} more, lower")
    if facts["silent"]:
        rest.append(f"{plural(facts['silent'], 'lot')} do not say" if facts["silent"] > 1 else "1 lot does not say")
    if facts["left_out"]:
        rest.append(f"not finished: {listed(facts['left_out'][:3])}")
    lines.append(f"Left out: {'; '.join(rest)}." if rest else "")
    return [*lines, "Lots differ in more than this, so no verdict: ask for two of them to compare."]


def losses(facts: dict[str, Any]) -> list[str]:
    """What was lost, to what, and of which plants."""
    of = f" of {facts['plant']}" if facts["plant"] else ""
    if not facts["lots"]:
        return [f"I know no lot{of} of {facts['year']}."]
    if not facts["lost"]:
        return [f"No loss{of} was noted in {plural(facts['lots'], 'lot')}. No record is not zero."]
    started = f" of {facts['started']:,} started" if facts["started"] else ""
    causes = listed([f"{count} {cause.replace('_', ' ')}" for cause, count in facts["causes"][:5]])
    lines = [f"Lost{of}: {facts['lost']:,}{started} in {plural(facts['lots'], 'lot')}: {causes}."]
    if facts["asked_cause"]:
        count = dict(facts["causes"])[facts["asked_cause"]]
        lines.insert(0, f"To {facts['asked_cause'].replace('_', ' ')}: {count} ({percent(count / facts['lost'])} of what was lost).")
    if not facts["plant"] and len(facts["plants"]) > 1:
        lines.append(f"By plant: {listed([f'{name} {count}' for name, count in facts['plants']])}.")
    if facts["unexplained"]:
        lines.append(f"Unexplained besides: {abs(facts['unexplained'])}.")
    return [*lines, "Only what was noted: a loss nobody texted is not in it."]


def survival(facts: dict[str, Any]) -> list[str]:
    """What lived of what was started, in lots that are closed; what open lots lost so far."""
    of = f"{facts['plant']}: " if facts["plant"] else ""
    still = ""
    if facts["open"]:
        still = (
            f"{plural(facts['open'], 'open lot')}: {facts['open_lost']} of {facts['open_started']} noted lost so far; "
            "a loss nobody texted is not in it."
        )
    if not facts["lots"]:
        return [f"{of}no lot is closed yet, so no rate of survival. No record is not zero.", still]
    return [
        f"{of}about {percent(facts['mean'])} were not lost ({span(facts['low'], facts['high'])}, 8 in 10).",
        f"Counted: {facts['hits']} of {facts['tried']} in {plural(facts['lots'], 'closed lot')}.",
        still,
    ]


def table(facts: dict[str, Any]) -> list[str]:
    """The lots behind an answer, a line each, newest first."""
    lines = []
    for row in facts["rows"]:
        started = f"{row['started']}" if row["started"] is not None else "number never said"
        verb, up = ("sown", "up") if row["kind"] == "seed" else ("started", "rooted")
        known = f"{row['hits']} {up}" if row["hits"] is not None else "not counted"
        parts = [f"{started} {verb}", known]
        parts += [f"{row[key]} {name}" for key, name in (("potted", "potted"), ("gone", "gone"), ("lost", "lost")) if row[key]]
        if row["left"] is not None:
            parts.append(f"{row['left']} left")
        if row["unexplained"]:
            parts.append(f"{abs(row['unexplained'])} unexplained")
        if row["how"]:
            parts.append(row["how"])
        days = row["counted_days"] or 0
        old = f", count {days} days old" if is_old(timedelta(days=days)) else ""
        lines.append(f"{row['number']} {row['plant']}, {day(row['opened'])}: {', '.join(parts)}{old}.")
    return [*lines, f"… and {facts['more']} older lots." if facts["more"] > 0 else ""]


def rooting(facts: dict[str, Any]) -> list[str]:
    """What the picture shows."""
    up = "comes up" if facts["kind"] == "seed" else "roots"
    looks = f"{plural(len(facts['looks']), 'look')} at {facts['number']}"
    others = f", {plural(len(facts['others']), 'other lot')} behind" if facts["others"] else ""
    basis = f"{plural(facts['lots'], 'finished lot')} here" if facts["lots"] else "no finished lot here: a guess"
    return [f"How {facts['plant']} {up}: {looks}{others}; the band is where 8 in 10 lots lie ({basis})."]
