"""How a reminder is said: what, where, why and by when, in one line; and what was planned, in one line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any, Final
from zoneinfo import ZoneInfo

from bot.wording.plain import clock, day_of, listed, near_day
from bot.wording.reminder_lines import NAMES, day_text, moment_text, sentence, where
from core.answers import DueTold
from core.records import Record
from core.reminders import Due, kinds
from core.reminders.digest import MOST_BUTTONS, Digest, Line
from core.reminders.roster import Shift

MOST_LINES: Final = 12
MOST_PLANNED: Final = 4
_PLANNED: Final = {
    "vent": "vents from {day}",
    "wean": "weaning from {day}",
    "root_check": "root check {day}",
    "cover_back": "cover back on by {clock}",
    "cover_off": "cover off for good {day}",
    "mist": "misting from {day}",
    "soak_ended": "end of the soak at {clock}",
    "soak_cooled": "draining the soak {day} {clock}",
    "cold_ends": "end of the cold {day}",
    "warm_over": "into the cold {day}",
    "cold_look": "a look into the cold every week",
    "germination_check": "seedlings from {day}",
    "bleach_old": "pour it out by {day} {clock}",
    "hormone_leftover": "left-over hormone at {clock}",
    "pot_up": "potting up {day}",
    "shade_out": "out of the shade {day}",
    "hold_review": "a look again {day}",
    "bring_in": "bring in by {clock}",
    "bags_check": "a look at the bags {day}",
    "countdown": "countdown from {day}",
    "as_asked": "{day} {clock}",
}
_NOT_IN_PLAN: Final = frozenset({"daily_look", "quiet_tray", "old_count", "hand_over", "cold_unseen", "target_short"})
_RUNNING: Final = ("cover_back", "bring_in", "soak_ended")


def plan_line(dues: Sequence[Due], now: datetime) -> str:
    """What was planned, in one line: "I'll remind you: vents from 2 Mar, weaning from 9 Mar"; else empty."""
    first: dict[str, Due] = {}
    for due in sorted(dues, key=lambda one: one.due_at):
        wanted = due.kind not in _NOT_IN_PLAN and not (due.kind == "cold_ends" and due.facts.get("ready"))
        if wanted and due.kind in _PLANNED and not _is_past(due, now):
            first.setdefault(due.kind, due)
    running = [due for kind, due in first.items() if kind in _RUNNING]
    chosen = running + [due for kind, due in first.items() if kind not in _RUNNING]
    parts = [_planned(due, now) for due in chosen[:MOST_PLANNED]]
    return f"I'll remind you: {', '.join(parts)}." if parts else ""


def short_name(due: Due) -> str:
    """A reminder in a few words, fit for a button: "vents, tray 2"."""
    facts = {"kind": due.kind, "subject_kind": due.subject.kind, "subject": due.subject.name}
    return short_name_of(facts | {name: str(due.facts[name]) for name in ("text", "ready") if due.facts.get(name)})


def short_name_of(facts: Mapping[str, str]) -> str:
    """The same, of a reminder's kind, subject and, where somebody asked for it, text."""
    text = facts.get("text", "")
    if facts["kind"] == "as_asked":
        return text if len(text) <= 40 else text[:39] + "…"
    kind = "cold_ready" if facts.get("ready") else facts["kind"]
    return _named(kind, facts["subject_kind"], facts["subject"])


def answer_given(record: Record) -> str:
    """How somebody answered a reminder: "skipped: vents, tray 4"."""
    subject, kind, *_ = (record.reminder or "").split("|")
    subject_kind, _, name = subject.partition(":")
    word = {"skip": "skipped", "no": "not yet", "yes": "done"}.get(record.entry.answer or "", record.entry.answer)
    return f"{word}: {_named(kind, subject_kind, name)}"


def digest_text(digest: Digest, now: datetime, zone: ZoneInfo) -> str:
    """The words of one message of reminders at `now` (aware), a line each, longest lists cut with a count."""
    told = [line for line in digest.lines if line.how != "question"]
    asked = [line for line in digest.lines if line.how == "question"]
    past = [line for line in told if line.how == "past"]
    open_now = [line for line in told if line.how != "past"]
    rows: list[str] = []
    if past:
        rows += ["Fell due before I could say so, and is past:", *_cut([f"- {_past(line)}" for line in past])]
    if digest.away and open_now:
        rows.append("Still worth doing:" if past else "Fell due before I could say so, and still worth doing:")
    if digest.morning and not digest.away:
        rows.append(f"Today, {day_of(now.astimezone(zone))}:")
    marked = len(open_now) > 1 or digest.morning or digest.away
    rows += _cut([("- " if marked else "") + line_text(line) for line in open_now])
    if asked:
        rows += [
            "I never heard of these; text me if they were done:",
            *_cut([f"- {_question(line)}" for line in asked]),
        ]
    if not digest.to:
        return "\n".join(rows)
    return f"{listed(digest.to)}:" + ("\n" if rows[0].startswith("- ") else " ") + "\n".join(rows)


def digest_buttons(digest: Digest) -> list[tuple[str, dict[str, Any]]]:
    """The buttons of a message: one for all, one for each up to six, later and skip."""
    lines = [line for line in digest.lines if line.numbers]
    numbers = [number for line in lines for number in line.numbers]
    if not numbers:
        return []
    buttons: list[tuple[str, dict[str, Any]]] = [("Done" if len(numbers) == 1 else "All done", {"done": numbers})]
    each = [one for line in lines for one in line.waiting]
    if 1 < len(each) <= MOST_BUTTONS:
        buttons += [(f"Done: {short_name(one.due)}", {"done": [one.number]}) for one in each]
    if len(each) == 1 and each[0].due.kind == "wean" and each[0].due.facts.get("first"):
        buttons.append(("Not yet", {"no": numbers}))
    return [*buttons, ("Later", {"later": numbers}), ("Skip", {"skip": numbers})]


def handed_over(open_names: Sequence[str], following: Shift | None) -> str:
    """What stands open at the end of a shift, and who is on next."""
    text = f"Open now: {'; '.join(open_names)}."
    if following is None:
        return text
    hour = f" {following.from_time:%H:%M}" if following.from_time else ""
    return f"{text} Next on: {following.who}, {day_of(following.on)}{hour}."


def line_text(line: Line) -> str:
    """One line of a message: what, where, why, by when."""
    due = line.dues[0]
    if "to_go" in due.facts:
        due = replace(due, facts=due.facts | {"to_go": max(due.facts["to_go"] - line.days_late, 0)})
    text = sentence(due, where(line.dues))
    if line.how == "all":
        return f"Anyone at the bench: {text}"
    if line.how == "lead":
        return f"For the lead: {text} Nobody has answered since {_spoken(due)}."
    if line.how == "again":
        return f"Once more: {text}"
    if line.how == "late":
        return f"{text} It was due {_spoken(due)}."
    if line.days_late:
        return f"{text} {line.days_late} day{'s' * (line.days_late != 1)} late."
    return text


def due_told(answer: DueTold, now: datetime, zone: ZoneInfo) -> str:
    """What is to be done when."""
    today = now.date()
    dues = [due for due in answer.dues if not kinds()[due.kind].once]  # a warning is no work to plan on
    if not dues:
        match answer.about:
            case "day" if answer.day is not None:
                return f"Nothing is planned for {near_day(answer.day, today)}."
            case "days" if answer.day is not None and answer.until is not None:
                return f"Nothing is planned from {near_day(answer.day, today)} to {day_of(answer.until)}."
            case "subject":
                return "Nothing is planned there."
            case "step":
                return "No lot or tray is due for that."
            case _:
                return "Nothing is due today."
    rows = []
    for due in dues:
        when = due.due_at.astimezone(zone)
        hour = f" {clock(when)}" if due.timed else ""
        rows.append(f"- {near_day(when, today)}{hour}: {sentence(due, where((due,)), plain=True)}")
    return "\n".join(_cut(rows))


def _past(line: Line) -> str:
    return f"{_what_was_due(line)}."


def _question(line: Line) -> str:
    return f"{_what_was_due(line)}?"


def _what_was_due(line: Line) -> str:
    due = line.dues[0]
    if due.subject.kind in ("tray", "lot"):
        kind = "cold_ready" if due.facts.get("ready") else due.kind
        return f"{where(line.dues)}: {NAMES.get(kind, kind)}, {_spoken(due)}"
    return f"{short_name(due)}, {_spoken(due)}"


def _named(kind: str, subject_kind: str, subject: str) -> str:
    name = NAMES.get(kind, kind)
    place = {"tray": f", tray {subject}", "lot": f", {subject}", "target": f", {subject}"}.get(subject_kind, "")
    return f"{name}{place}"


def _is_past(due: Due, now: datetime) -> bool:
    """True for what has an hour of its own that is past; the others can still be done today."""
    return "{clock}" in _PLANNED[due.kind] and datetime.fromisoformat(due.facts["when"]) <= now


def _planned(due: Due, now: datetime) -> str:
    when = datetime.fromisoformat(due.facts["when"])
    today = when.date() <= now.date()
    day = "today" if today else f"{when.day} {when:%b}" + (f" {when.year}" if when.year != now.year else "")
    return _PLANNED[due.kind].format(day=day, clock=clock(when))


def _spoken(due: Due) -> str:
    return moment_text(due.facts["when"]) if due.timed else day_text(due.facts["when"])


def _cut(rows: list[str]) -> list[str]:
    return rows if len(rows) <= MOST_LINES else [*rows[:MOST_LINES], f"… and {len(rows) - MOST_LINES} more."]
