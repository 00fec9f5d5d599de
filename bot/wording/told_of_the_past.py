"""How it is told what was done, by whom and when, and what was not noted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from bot.wording.plain import clock, days_text, listed, named, near_day, opening
from bot.wording.reminders import answer_given
from core.answers import HistoryTold, MostTold, UndoneTold
from core.entries import Act
from core.notes import say_back
from core.records import Record

_DONE = {
    "water": "watered", "air": "aired", "wean": "weaned", "cover": "covered", "uncover": "uncovered", "vent": "vented",
    "check": "checked", "pot": "potted", "sell": "sold from", "stick": "stuck", "sow": "sowed", "move": "moved",
    "mix": "mixed", "pour_out": "poured out", "sanitize": "cleaned", "treat": "treated", "tend": "tended",
    "lose": "lost any in", "give": "gave from", "collect": "collected", "wilt": "saw wilting in",
}  # fmt: skip
_DONE_TO_ANY = {"sell": "sold any", "lose": "lost any", "give": "gave any", "wilt": "saw any wilting"}
_STEM = {"lose": "lost", "sell": "sold", "give": "given"} | {did: done for did, done in _DONE.items() if " " not in done}
_MOST_LOTS = 5
_MOST_MISSED = 12


def history_told(answer: HistoryTold, zone: ZoneInfo, today: date) -> str:
    """What was recorded, newest first; where nothing was, no record is said, never no."""
    if not answer.records:
        others = [record_line(one, zone, today, lots=[one.lot] if one.lot else []) for one in answer.others]
        who, what, when = listed(answer.by, last="or") or "anybody", answer.asked, days_text(answer.span, today)
        if answer.did or answer.by:
            none = f"No record that {who} {_done(answer.did, what)}{when}."
        else:
            none = f"No record of {what or 'anything'}{when}."
        return "\n".join([f"{none} By others:", *others]) if others else f"{none} That is not a no: nobody has texted it."
    all_lots = answer.lots or ((),) * len(answer.records)
    lines = [record_line(one, zone, today, lots=lots) for one, lots in zip(answer.records, all_lots, strict=True)]
    return "\n".join([*lines, f"No record of it for {listed(answer.silent)}."] if answer.silent else lines)


def _done(did: str | None, what: str) -> str:
    """A deed and what it was done to: "watered tray 3", "sold anything"."""
    if did is None:
        return f"did anything with {what}" if what else "did anything"
    if not what:
        return _DONE_TO_ANY.get(did) or f"{_DONE.get(did, 'did any of')} {'that' if did not in _DONE else 'anything'}"
    return f"{_DONE.get(did, 'did that with')} {what}"


def most_told(answer: MostTold) -> str:
    """Who did it most, then the others."""
    if not answer.people:
        return f"No record that anybody {_done(answer.did, '')}. That is not a no: nobody has texted it."
    word = opening(_STEM.get(answer.did, answer.did.replace("_", " ")))
    return f"{word}, the most first: {', '.join(f'{who} {count}' for who, count in answer.people)}."


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
    when = days_text(answer.span, today).strip()
    if not answer.spots:
        return f"All of them are noted as {did} {when}." if answer.asked_of else "No lots are open."
    lines = [f"Not noted as {did} {when}:"]
    for lot, trays in answer.spots[:_MOST_MISSED]:
        where = f", tray{'s' * (len(trays) > 1)} {listed(trays)}" if trays else ""
        lines.append(f"{named(lot)}{where}")
    if len(answer.spots) > _MOST_MISSED:
        lines.append(f"… and {len(answer.spots) - _MOST_MISSED} more.")
    return "\n".join(lines)
