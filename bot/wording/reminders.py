"""How a reminder is said: what, where, why and by when, in one line; and what was planned, in one line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any, Final
from zoneinfo import ZoneInfo

from bot.wording.plain import clock, day_of, length_text, listed, near_day
from core.answers import DueTold
from core.lengths import Length
from core.reminders import Due, kinds
from core.reminders.digest import MOST_BUTTONS, Digest, Line
from core.reminders.roster import Shift

MOST_LINES: Final = 12
MOST_PLANNED: Final = 4
_OPENINGS: Final = {0.1: "a crack", 0.25: "a quarter", 0.5: "half", 0.75: "three quarters", 1.0: "wide"}
_COUNTDOWN: Final = {
    90: "last day to pot up into 1 gal",
    70: "last day to pot up into 4 in",
    30: "print labels",
    28: "count the stock",
    14: "harden off",
    7: "grade, and clean the pots",
    1: "water well",
}
_NAMES: Final = {
    "cover_back": "cover back on",
    "daily_look": "look under the cover",
    "vent": "vents",
    "wean": "weaning",
    "cover_off": "cover off for good",
    "mist": "misting",
    "quiet_tray": "no note for days",
    "root_check": "root check",
    "pot_up": "pot up",
    "shade_out": "out of the shade",
    "old_count": "count again",
    "hold_review": "look at what is set apart",
    "bring_in": "bring in",
    "soak_cooled": "drain the soak",
    "soak_ended": "soak over",
    "cold_look": "look into the cold",
    "cold_unseen": "no look into the cold for weeks",
    "cold_ends": "cold ends",
    "warm_over": "into the cold",
    "germination_check": "look for seedlings",
    "bags_check": "look at the bags",
    "bleach_old": "pour out the bleach",
    "hormone_leftover": "throw out left-over hormone",
    "countdown": "sale countdown",
    "target_short": "target out of reach",
    "hand_over": "hand-over",
    "as_asked": "reminder",
}
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
        if wanted and due.kind in _PLANNED:
            first.setdefault(due.kind, due)
    running = [due for kind, due in first.items() if kind in _RUNNING]
    chosen = running + [due for kind, due in first.items() if kind not in _RUNNING]
    parts = [_planned(due, now) for due in chosen[:MOST_PLANNED]]
    return f"I'll remind you: {', '.join(parts)}." if parts else ""


def short_name(due: Due) -> str:
    """A reminder in a few words, fit for a button: "vents, tray 2"."""
    if due.kind == "as_asked":
        text = str(due.facts.get("text", ""))
        return text if len(text) <= 40 else text[:39] + "…"
    return _named(due.kind, due.subject.kind, due.subject.name)


def short_name_of(facts: Mapping[str, str]) -> str:
    """The same, of a reminder's kind and subject alone."""
    return _named(facts["kind"], facts["subject_kind"], facts["subject"])


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
    greeting = f"{listed(digest.to)}: " if digest.to else ""
    return greeting + "\n".join(rows)


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
    text = _sentence(due, where(line.dues))
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
            case "subject":
                return "Nothing is planned there."
            case _:
                return "Nothing is due today."
    rows = []
    for due in dues:
        when = due.due_at.astimezone(zone)
        hour = f" {clock(when)}" if due.timed else ""
        rows.append(f"- {near_day(when, today)}{hour}: {_sentence(due, where((due,)), plain=True)}")
    return "\n".join(_cut(rows))


def where(dues: Sequence[Due]) -> str:
    """Where, and which lots: "Tray 2 (26-001 coyote brush)", "Trays 2 and 3", "26-014 toyon (tray 4)"."""
    first = dues[0]
    names = list(dict.fromkeys(due.subject.name for due in dues))
    if first.subject.kind == "tray":
        lots = list(dict.fromkeys(_lot_names(dues)))
        head = f"Tray {names[0]}" if len(names) == 1 else f"Trays {listed(names)}"
        return head if len(lots) > 2 or not lots else f"{head} ({listed(lots)})"
    if first.subject.kind == "lot":
        lots = list(dict.fromkeys(_lot_names(dues))) or names
        trays = list(dict.fromkeys(tray for due in dues for tray in due.facts.get("trays", ())))
        stands = f" (tray{'s' * (len(trays) != 1)} {listed(trays)})" if trays and len(trays) <= 3 else ""
        return f"{listed(lots)}{stands}"
    return listed(names)


def _lot_names(dues: Sequence[Due]) -> list[str]:
    found: list[str] = []
    for due in dues:
        lots, plants = list(due.facts.get("lots", ())), list(due.facts.get("plants", ()))
        found += [f"{lots[0]} {plants[0]}"] if len(lots) == 1 and len(plants) == 1 else lots
    return found


def _sentence(due: Due, place: str, *, plain: bool = False) -> str:
    facts = due.facts
    day = f", day {facts['day']}" if "day" in facts else ""
    match due.kind:
        case "cover_back":
            if facts.get("wilted"):
                return f"{place}: wilting seen, cover back on at once."
            return f"{place}: cover back on by {_clock(facts['back_at'])} (off since {_clock(facts['off_at'])})."
        case "daily_look":
            return f"{place}: look under the cover for wilting, rot, leaves touching it, water over 1/4 in."
        case "vent":
            return f"{place}: vents {_opening(facts['open'])}{day} under the cover."
        case "wean":
            return _wean_sentence(facts, place, day, plain)
        case "cover_off":
            return f"{place}: weaned, so the cover comes off for good this morning. Watch for wilting."
        case "mist":
            return f"{place}: mist, day {facts['day']} of {facts['of']} without a cover."
        case "quiet_tray":
            return f"{place}: no note for {facts['days']} days. How does it look?"
        case "root_check":
            again = "look for roots" if facts.get("first") else "look for roots again"
            own = f" ({facts['source']})" if facts.get("own_record") and facts.get("first") else ""
            return f"{place}: {again}{day} since sticking{own}. Text how many, or none yet."
        case "pot_up":
            why = "roots show at the holes" if facts.get("roots_out") else "enough have rooted"
            return f"{place}: {why}, so pot up by {_day(facts['by'])}."
        case "shade_out":
            return f"{place}: {facts['days']} days in the shade since potting, so out of it if they stand firm."
        case "old_count":
            why = "it moved since the last count" if facts.get("moved") else f"last counted {_day(facts['counted_on'])}"
            return f"{place}: count again, {why}."
        case "hold_review":
            since = f"set apart on {_day(facts['held_on'])} ({facts['cause']})"
            return f"{place}: {since}. Look again: clear it or throw it out?"
        case "bring_in":
            out = f" from {facts['to']}" if facts.get("to") else ""
            return f"{place}: bring in{out} by {_clock(facts['when'])}."
        case _:
            return _other_sentence(due, place, day)


def _other_sentence(due: Due, place: str, day: str) -> str:
    facts = due.facts
    match due.kind:
        case "soak_cooled":
            return (
                f"{place}: the hot water poured {_when(facts['poured_at'])} has cooled. Drain, and go on with the cold."
            )
        case "soak_ended":
            what = facts.get("what") or "what soaks"
            place = f"{place}: {what}" if due.subject.kind == "lot" else f"{what[:1].upper()}{what[1:]} in the {place}"
            length = length_text(Length.from_iso(facts["length"]))
            return f"{place}: {length} are over at {_clock(facts['when'])}, take out."
        case "cold_look":
            return f"{place}: look at the seed{day}: moist, no mold, none sprouting?"
        case "cold_unseen":
            weeks = facts["days"] // 7
            return f"{place}: no look noted for {weeks} weeks. Open it: moist, no mold, none sprouting?"
        case "cold_ends" if facts.get("ready"):
            return f"{place}: the cold ends {_span(facts)}. Get medium and room ready."
        case "cold_ends":
            return f"{place}: {facts['days']} days of cold are over {_span(facts)}. Sow, or say it stays in."
        case "warm_over":
            return f"{place}: {facts['days']} warm days are over {_span(facts)}. Into the cold."
        case "germination_check":
            off = "" if facts.get("up") else " Cover off at the first one."
            return f"{place}: look for seedlings{day} since sowing.{off}"
        case "bags_check":
            place = listed(list(facts.get("plants", ())))
            source = f" ({facts['source']})" if facts.get("source") else ""
            return f"Bags on {place}{source}: ripe yet? On since {_day(facts['bagged_on'])}."
        case "bleach_old":
            return (
                f"{place.capitalize()} mixed {_when(facts['mixed_at'])} is past its {facts['hours']:g} h: pour it out, "
                f"mix fresh. Rule: {_rule(str(facts['source']))}"
            )
        case "hormone_leftover":
            lots = listed(list(facts["lots"])) or "sticking"
            return f"Throw out the hormone that was poured for {lots}, never back into the jar."
        case "countdown":
            left = facts["before"]
            step = _COUNTDOWN.get(left, "see to the plants")
            to_go = f"{left} day{'s' * (left != 1)} to go"
            return f"Sale {_day(facts['sale_on'])}, {to_go}, {listed(facts['plants'])}: {step}."
        case "target_short":
            return _short_of_target(facts)
        case "hand_over":
            return f"{listed(facts['who'])}, your shift ends at {facts['until']}."
        case "as_asked":
            asked = f", asked by {facts['by']}" if due.to and due.to != facts["by"] else ""
            return f"{due.to or facts['by']}: {facts['text']}{asked}."
        case _:
            return f"{place}: {_NAMES.get(due.kind, due.kind)}."


def _short_of_target(facts: Mapping[str, Any]) -> str:
    missing = facts["count"] - facts["able"]
    head = f"{facts['count']} {listed(facts['plants'])} for {_day(facts['sale_on'])} can no longer all be ready: "
    why = f"{facts['able']} can, {missing} short, and new cuttings come too late."
    if facts["why"] == "pot":
        why = f"{facts['able']} are in pots, {missing} short, and what is potted now comes too late."
    return f"{head}{why} Lower the count, move the day, or buy plants in."


def _wean_sentence(facts: Mapping[str, Any], place: str, day: str, plain: bool) -> str:
    off = f"cover off for {facts['minutes']} min, back on by {facts['back_by']}"
    if plain:
        return f"{place}: cover off for {facts['minutes']} min."
    if facts.get("first"):
        return f"{place}{day}: firm, callus or roots? Then {off}."
    if facts.get("after_wilt"):
        return f"{place}: {off}. Shorter, because it wilted last time."
    return f"{place}: {off}. {facts['done']} done so far."


def _past(line: Line) -> str:
    return f"{_what_was_due(line)}."


def _question(line: Line) -> str:
    return f"{_what_was_due(line)}?"


def _what_was_due(line: Line) -> str:
    due = line.dues[0]
    if due.subject.kind in ("tray", "lot"):
        return f"{where(line.dues)}: {_NAMES.get(due.kind, due.kind)}, {_spoken(due)}"
    return f"{short_name(due)}, {_spoken(due)}"


def _named(kind: str, subject_kind: str, subject: str) -> str:
    name = _NAMES.get(kind, kind)
    place = {"tray": f", tray {subject}", "lot": f", {subject}", "target": f", {subject}"}.get(subject_kind, "")
    return f"{name}{place}"


def _planned(due: Due, now: datetime) -> str:
    when = datetime.fromisoformat(due.facts["when"])
    today = when.date() == now.date()
    day = "today" if today else f"{when.day} {when:%b}" + (f" {when.year}" if when.year != now.year else "")
    return _PLANNED[due.kind].format(day=day, clock=clock(when))


def _span(facts: Mapping[str, Any]) -> str:
    first, last = date.fromisoformat(facts["first"]), date.fromisoformat(facts["last"])
    if first == last:
        return f"on {day_of(first)}"
    return f"between {day_of(first)} and {day_of(last)}, because it is not known how long it was out"


def _rule(source: str) -> str:
    text = source.partition(";")[0].rstrip(".")
    return f"{text}; the product label wins."


def _opening(share: float) -> str:
    words = _OPENINGS.get(share, f"{share * 100:.0f} %")
    return f"{words} open"


def _clock(moment: str) -> str:
    return clock(datetime.fromisoformat(moment))


def _day(moment: str) -> str:
    return day_of(datetime.fromisoformat(moment))


def _when(moment: str) -> str:
    at = datetime.fromisoformat(moment)
    return f"{day_of(at)} {clock(at)}"


def _spoken(due: Due) -> str:
    return _when(due.facts["when"]) if due.timed else _day(due.facts["when"])


def _cut(rows: list[str]) -> list[str]:
    return rows if len(rows) <= MOST_LINES else [*rows[:MOST_LINES], f"… and {len(rows) - MOST_LINES} more."]
