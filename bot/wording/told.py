"""How questions are answered: places, how a lot stands, which lots, what is open, mixes."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from bot.wording.plain import age, clock, day_of, days_text, listed, named, near_day, opening, plural, share_there
from bot.wording.plant_sheet import sheet_lines
from bot.wording.receipts import balance_line, strength_words
from bot.wording.reminders import short_name
from bot.wording.told_of_the_past import record_line
from core.answers import (
    BatchTold,
    HowTold,
    ListTold,
    LotTold,
    MixTold,
    OpenTold,
    ShiftsTold,
    WhereTold,
    WhoTold,
)  # fmt: skip
from core.lots import Cold, Cover, Lot, cold_ends, there
from core.notes import say_back
from core.reminders import Due
from core.reminders.roster import Shift
from core.treatments.cautions import caution_text

_MOST_LOTS = 5
_MOST_SHIFTS = 14


def where_told(answer: WhereTold, zone: ZoneInfo) -> str:
    """Where lots stand, or what stands in a tray and how its cover is."""
    if answer.trays or answer.covered:
        lines = [_covered_in_all(answer)] if answer.covered == "which" else []
        covers = dict(answer.covers)
        for tray in answer.trays:
            inside = [lot for lot in answer.lots if tray in lot.trays]
            held = listed([_held_there(lot, f"tray {tray}") for lot in inside]) if inside else "no lot noted"
            cover = cover_words(covers.get(tray), zone) or ("No cover noted." if answer.covered else "")
            places = {lot.place for lot in inside if lot.place}
            at = f", {listed(sorted(places))}" if places and not answer.covered else ""
            lines.append(f"Tray {tray}{at}: {held}. {cover}".rstrip())
        return "\n".join(lines)
    if not answer.lots:
        return f"I have no open lot of {answer.asked}." if answer.asked else "No lots are open."
    return "\n".join(f"{named(lot)}: {_place(lot)}{_origin(lot, asked=answer.origin)}." for lot in answer.lots[:_MOST_LOTS])


def _covered_in_all(answer: WhereTold) -> str:
    aired = sum(cover.aired_at is not None for _, cover in answer.covers)
    if not answer.covers:
        return "No tray is under a cover, by the notes."
    under = f"{plural(len(answer.covers) - aired, 'tray')} under a cover"
    return f"{under}, {aired} off for a while:" if aired else f"{under}:"


def _origin(lot: Lot, *, asked: bool) -> str:
    sources = [f"{share.count} from {share.source}" if share.count else f"from {share.source}" for share in lot.sources]
    if not sources:
        return ", no mother plant or place of origin noted" if asked else ""
    return f", {listed(sources)}"


def _held(lot: Lot) -> str:
    left = "" if lot.left is None else f", {lot.left} left"
    return f"{named(lot)} ({lot.stage}{left})"


def _held_there(lot: Lot, where: str) -> str:
    spot = there(lot, where)
    return _held(lot) if spot is None or spot.whole else f"{named(lot)} ({lot.stage}, {share_there(lot, spot)})"


def _place(lot: Lot, *, cold_told: bool = False) -> str:
    """Where a lot stands; of seed in the cold that it lies there, where that is not told beside it (`cold_told`)."""
    if lot.closed and lot.merged_into is not None:
        return f"went into {lot.merged_into}"
    counts = {one.to: f"{one.count} of it " for one in lot.parts_moved if one.count is not None and one.sure}
    apart = [f"{counts[name]}in {name}" for name in (f"tray {tray}" for tray in lot.trays) if name in counts]
    homes = [tray for tray in lot.trays if f"tray {tray}" not in counts]
    trays = f"tray {listed(homes)}" if homes else ""
    chilled = any(cold.running and cold.treatment == "cold_stratify" for cold in lot.colds)
    lies = "in the cold" if chilled and not cold_told else ""
    where = listed([part for part in (trays, lot.place or lies) if part], last="at") or "no place noted"
    parts = [*apart, *(f"{counts.get(place, 'some of it ')}at {place}" for place in lot.moved_partly)]
    return f"{where}, {listed(parts)}" if parts else where


def next_line(due: Due, now: datetime, zone: ZoneInfo) -> str:
    """What comes next, in one line: "Next: root check, 26-001, Tue 3 Mar"."""
    return f"Next: {short_name(due)}, {near_day(due.due_at.astimezone(zone), now.date())}."


def lot_told(answer: LotTold, now: datetime, zone: ZoneInfo) -> str:
    """How a lot stands: what it is now, its books, what was noted last, what comes next."""
    lot = answer.lot
    where = _place(lot, cold_told=True)
    then = f"{opening(near_day(answer.on, now.date()))}, " if answer.on is not None else ""
    lines = [f"{then}{_held(lot)}: {where}."]
    lines += [words for _, cover in answer.covers if (words := cover_words(cover, zone))][:1]
    lines += [_cold_words(cold, now, zone) for cold in lot.colds if cold.running or cold.planned]
    if balance := balance_line(lot):
        lines.append(balance)
    lines += [record_line(record, zone, now.date(), of_lot=True) for record in answer.records]
    if answer.dues:
        lines.append(next_line(answer.dues[0], now, zone))
    return "\n".join(lines)


def _cold_words(cold: Cold, now: datetime, zone: ZoneInfo) -> str:
    where = "cold" if cold.treatment == "cold_stratify" else "warm"
    ends = cold_ends(cold, zone)
    until = _until(ends[0].isoformat(), ends[1].isoformat()) if ends else ""
    if cold.planned and cold.began_at.astimezone(zone).date() < now.date():
        return f"Then into the {where}: that was to be on {day_of(cold.began_at.astimezone(zone))}."
    lead = f"Then in the {where} from" if cold.planned else f"In the {where} since"
    return f"{lead} {day_of(cold.began_at.astimezone(zone))}{until}."


def cover_words(cover: Cover | None, zone: ZoneInfo) -> str:
    """How a tray's cover is, in one sentence; nothing where no cover was ever noted."""
    if cover is None or cover.since is None:
        return ""
    if cover.aired_at is not None:
        back = f", back by {clock(cover.back_at.astimezone(zone))}" if cover.back_at else ""
        return f"Cover off since {clock(cover.aired_at.astimezone(zone))}{back}."
    if not cover.on:
        since = f" since {day_of(cover.off_for_good_at.astimezone(zone))}" if cover.off_for_good_at else ""
        return f"Cover off for good{since}."
    vents = {0.0: "shut", 0.1: "a crack", 0.25: "a quarter", 0.5: "half", 1.0: "wide"}.get(cover.vent_open)
    return f"Cover on since {day_of(cover.since.astimezone(zone))}" + (f", vents {vents}." if vents else ".")


def who_told(answer: WhoTold, today: date) -> str:
    """Who is at the bench."""
    day = date.fromisoformat(answer.facts["day"]) if answer.facts.get("day") else today
    if not answer.names:
        nobody = f"Nobody is noted at the bench {near_day(day, today)}."
        return f'{nobody} Text "ana has the bench today" or "roster ana tue 9-12".'
    hours = {one.who: _hours(one) for one in reversed(answer.shifts)}
    there = [name + hours.get(name, "") for name in answer.names]
    return f"At the bench {near_day(day, today)}: {listed(there)}."


def shifts_told(answer: ShiftsTold, today: date) -> str:
    """Who is on when, a line a shift; that nobody is noted is no proof that nobody comes."""
    if not answer.shifts:
        of = f" of {answer.who}" if answer.who else ""
        when = " to come" if answer.following else days_text(answer.span, today)
        return f'No shift{of} is noted{when}. Text "roster {answer.who or "ana"} tue 9-12".'
    return "\n".join(f"{opening(near_day(one.on, today))}{_hours(one)}: {one.who}." for one in answer.shifts[:_MOST_SHIFTS])


def _hours(shift: Shift) -> str:
    if shift.from_time is None:
        return f" until {shift.until:%H:%M}" if shift.until else ""
    return f" {shift.from_time:%H:%M} to {shift.until:%H:%M}" if shift.until else f" from {shift.from_time:%H:%M}"


def list_told(answer: ListTold) -> str:
    """The open lots, a line each."""
    if not answer.lots:
        return "No open lots." if answer.asked == "open" else f"No open lots: {answer.asked}."
    lines = [f'I cannot pick lots by "{answer.unread}". Without it:'] if answer.unread else []
    lines += [f"{_held(lot)}: {_place(lot)}" for lot in answer.lots[:12]]
    if len(answer.lots) > 12:
        lines.append(f"… and {len(answer.lots) - 12} more. Ask by plant or tray.")
    return "\n".join(lines)


def open_told(answer: OpenTold, zone: ZoneInfo) -> str:
    """What stands open, each with how to close it."""
    if not answer.opens:
        return "Nothing stands open that I know of: no cover off, nothing outside, no soak, no solution."
    return "\n".join(_open_line(kind, facts, zone) for kind, facts in answer.opens)


def _open_line(kind: str, facts: dict[str, Any], zone: ZoneInfo) -> str:
    def at(moment: datetime) -> str:
        return f"{day_of(moment.astimezone(zone))} {clock(moment.astimezone(zone))}"

    where, since = facts.get("where", ""), at(facts["since"])
    lots = f" ({listed(facts['lots'])})" if facts.get("lots") else ""
    match kind:
        case "cover_off":
            back = f", back by {clock(facts['back_at'].astimezone(zone))}" if facts.get("back_at") else ""
            return f"Cover off: {where}{lots} since {since}{back}."
        case "outside":
            back = f", in by {clock(facts['back_at'].astimezone(zone))}" if facts.get("back_at") else ""
            return f"Outside: {where}{lots} since {since}{back}."
        case "soak":
            ends = f", out at {clock(facts['ends_at'].astimezone(zone))}" if facts.get("ends_at") else ""
            return f"Soaking: {where}{lots} since {since}{ends}."
        case "cold" | "warm":
            return f"In the {kind}: {where}{lots} since {since}{_until(facts.get('ends'), facts.get('ends_max'))}."
        case "solution":
            by = f" by {facts['by']}" if facts.get("by") else ""
            return f"Mixed and not poured out: {where}, {since}{by}."
        case _:
            return f"{kind}: {where}{lots} since {since}."


def _until(first: str | None, last: str | None) -> str:
    if first is None:
        return ""
    days = [day_of(date.fromisoformat(day)) for day in dict.fromkeys((first, last or first))]
    return f", until {' to '.join(days)}"


def mix_told(answer: MixTold) -> str:
    """How much of what, the strength that gives, and the caution."""
    facts = answer.facts
    water = f" and {facts['water']} ({facts['water_metric']}) of cool water" if facts["water"] else ""
    label = f"{facts['label']:g} %" + (" (assumed: read the jug)" if facts["label_assumed"] else "")
    parts = ":".join(f"{part:g}" for part in facts["parts"])
    lines = [
        f"{facts['bleach']} ({facts['bleach_metric']}) of bleach{water} make {facts['finished']} at {parts}.",
        f"From a jug of {label} that is {facts['percent']:g} %, {facts['ppm']:,} ppm sodium hypochlorite.",
    ]
    if "ratio_read_two_ways" in facts["warnings"]:
        lines.append(f"I read it as {facts['parts'][0]:g} part and {facts['parts'][1]:g} parts of water.")
    return "\n".join([*lines, caution_text(answer.caution)] if answer.caution else lines)


def batch_told(answer: BatchTold) -> str:
    """Whether a batch is still good, by which rule."""
    facts = answer.facts
    if not facts["known"]:
        return f"No record of any {answer.solution} mixed. If it stands there unlabelled, do not guess: mix it fresh."
    mixed_at = datetime.fromisoformat(facts["mixed_at"])
    when = f"{day_of(mixed_at)} {clock(mixed_at)} by {facts['by']}"
    if facts["poured_out"]:
        return f"The last {answer.solution} (mixed {when}) was poured out. Mix it fresh."
    if "mixed" in facts:
        return f"{_how_mixed(facts, when)}\n{batch_told(replace(answer, facts=_without_mixed(facts)))}"
    passed = timedelta(minutes=facts["age_minutes"])
    hours = facts["good_for_hours"]
    if hours is None:
        return f"The {answer.solution} was mixed {when}, {age(passed)} ago. The product label says how long it keeps."
    left = timedelta(hours=hours) - passed
    if left <= timedelta():
        past = f"No: mixed {when}, {age(passed)} ago, past the {hours:g} h rule."
        return f"{past} Pour it out as the label says, mix it fresh."
    return (
        f"Yes by the {hours:g} h rule, if it is clean: mixed {when}, {age(passed)} ago, good for {age(left)} more. "
        "Dirty water ends it sooner; the label rules."
    )


def _without_mixed(facts: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in facts.items() if name != "mixed"}


def _how_mixed(facts: dict[str, Any], when: str) -> str:
    """What was noted of a batch: how much, in what ratio, and how strong that is."""
    said = say_back(facts["mixed"])
    if not facts["ratio_told"]:
        return f"{said[:1].upper()}{said[1:]} ({when}). How strong it is I cannot say: no ratio was said."
    strength = f": about {strength_words(facts['strength'])}" if facts["strength"] else ""
    return f"{said[:1].upper()}{said[1:]} ({when}){strength}."


def how_told(answer: HowTold) -> str:
    """The lines for a piece of work, with its caution, and what is known of the plant."""
    caution = [caution_text(answer.caution)] if answer.caution else []
    return "\n".join([*answer.lines, *caution, *sheet_lines(answer.plant, answer.facts)])
