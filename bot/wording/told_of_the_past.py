"""How it is told what was done, by whom and when, and what was not noted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from bot.wording.plain import clock, day_of, listed, named, near_day
from bot.wording.reminders import answer_given
from core.answers import HistoryTold, UndoneTold
from core.entries import Act
from core.notes import say_back
from core.records import Record

_DONE = {
    "water": "watered", "air": "aired", "wean": "weaned", "cover": "covered", "uncover": "uncovered", "vent": "vented",
    "check": "checked", "pot": "potted", "sell": "sold from", "stick": "stuck", "sow": "sowed", "move": "moved",
    "mix": "mixed", "pour_out": "poured out", "sanitize": "cleaned", "treat": "treated", "tend": "tended",
    "lose": "lost any in", "give": "gave from", "collect": "collected", "wilt": "saw wilting in",
}  # fmt: skip
_MOST_LOTS = 5
_MOST_MISSED = 12


def history_told(answer: HistoryTold, zone: ZoneInfo, today: date) -> str:
    """What was recorded, newest first; where nothing was, no record is said, never no."""
    if not answer.records:
        what = f" that anybody {_DONE.get(answer.did, 'did that with')}" if answer.did else " of"
        when = f" {near_day(answer.on, today)}" if answer.on else ""
        return f"No record{what} {answer.asked}{when}. That is not a no: nobody has texted it."
    all_lots = answer.lots or ((),) * len(answer.records)
    lines = [record_line(one, zone, today, lots=lots) for one, lots in zip(answer.records, all_lots, strict=True)]
    return "\n".join([*lines, f"No record of it for {listed(answer.silent)}."] if answer.silent else lines)


def record_line(
    record: Record, zone: ZoneInfo, today: date, *, of_lot: bool = False, lots: Sequence[str] = ()
) -> str:
    """One record: when it was done, by whom and what; `lots` are all that it was told of, where that is more."""
    local = record.at.astimezone(zone)
    told = f" (told by {record.told_by})" if record.told_by != record.by else ""
    named = lots[:_MOST_LOTS] or ([record.lot] if record.lot else [])
    more = [f"{len(lots) - _MOST_LOTS} more"] if len(lots) > _MOST_LOTS else []
    lot = f"{listed([*named, *more])}: " if named and not of_lot and not record.entry.trays else ""
    entry = replace(record.entry, lots=(), by=None, on=None, rest=None)
    words = answer_given(record) if record.reminder and entry.act is Act.REPLY else f"{lot}{say_back(entry)}"
    day_alone = record.entry.on is not None and not isinstance(record.entry.on, datetime)
    when = near_day(local, today) if day_alone else f"{near_day(local, today)} {clock(local)}"
    return f"{when}, {record.by}{told}: {words}"


def undone_told(answer: UndoneTold, today: date) -> str:
    """The lots of which no record tells that it was done; nobody's silence is taken for a no."""
    did = "misted" if answer.method == "mist" else _DONE[answer.did]
    days = answer.span
    when = near_day(days[0], today) if days[0] == days[1] else f"from {day_of(days[0])} to {day_of(days[1])}"
    if not answer.spots:
        return f"All of them are noted as {did} {when}." if answer.asked_of else "No lots are open."
    lines = [f"Not noted as {did} {when}:"]
    for lot, trays in answer.spots[:_MOST_MISSED]:
        where = f", tray{'s' * (len(trays) > 1)} {listed(trays)}" if trays else ""
        lines.append(f"{named(lot)}{where}")
    if len(answer.spots) > _MOST_MISSED:
        lines.append(f"… and {len(answer.spots) - _MOST_MISSED} more.")
    return "\n".join(lines)
