"""What one reminder asks, in one line: what, where, why, and by when."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any, Final

from bot.wording.plain import clock, day_of, length_text, listed
from core.lengths import Length
from core.reminders import Due

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
NAMES: Final = {
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
    "cold_ready": "medium and room ready",
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


def sentence(due: Due, place: str, *, plain: bool = False) -> str:
    """What a reminder says of what is due."""
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
            return (
                f"{place}: vents {_OPENINGS.get(facts['open'], opening_text(facts['open']))} open{day} under the cover."
            )
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
            return f"{place}: {why}, so pot up by {day_text(facts['by'])}."
        case "shade_out":
            return f"{place}: {facts['days']} days in the shade since potting, so out of it if they stand firm."
        case "old_count":
            why = (
                "it moved since the last count"
                if facts.get("moved")
                else f"last counted {day_text(facts['counted_on'])}"
            )
            return f"{place}: count again, {why}."
        case "hold_review":
            since = f"set apart on {day_text(facts['held_on'])} ({facts['cause']})"
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
            return f"{place}: the hot water poured {moment_text(facts['poured_at'])} has cooled. Drain, and go on with the cold."
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
            return f"Bags on {place}{source}: ripe yet? On since {day_text(facts['bagged_on'])}."
        case "bleach_old":
            return (
                f"{place.capitalize()} mixed {moment_text(facts['mixed_at'])} is past its {facts['hours']:g} h: pour it out, "
                f"mix fresh. Rule: {_rule(str(facts['source']))}"
            )
        case "hormone_leftover":
            lots = listed(list(facts["lots"])) or "sticking"
            return f"Throw out the hormone that was poured for {lots}, never back into the jar."
        case "countdown":
            left = facts.get("to_go", facts["before"])
            step = _COUNTDOWN.get(facts["before"], "see to the plants")
            to_go = f"{left} day{'s' * (left != 1)} to go"
            return f"Sale {day_text(facts['sale_on'])}, {to_go}, {listed(facts['plants'])}: {step}."
        case "target_short":
            return _short_of_target(facts)
        case "hand_over":
            return f"{listed(facts['who'])}, your shift ends at {facts['until']}."
        case "as_asked":
            asked = f", asked by {facts['by']}" if due.to and due.to != facts["by"] else ""
            return f"{due.to or facts['by']}: {facts['text']}{asked}."
        case _:
            return f"{place}: {NAMES.get(due.kind, due.kind)}."


def _short_of_target(facts: Mapping[str, Any]) -> str:
    missing = facts["count"] - facts["able"]
    head = f"{facts['count']} {listed(facts['plants'])} for {day_text(facts['sale_on'])} can no longer all be ready: "
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


def _span(facts: Mapping[str, Any]) -> str:
    first, last = date.fromisoformat(facts["first"]), date.fromisoformat(facts["last"])
    if first == last:
        return f"on {day_of(first)}"
    return f"between {day_of(first)} and {day_of(last)}, because it is not known how long it was out"


def _rule(source: str) -> str:
    text = source.partition(";")[0].rstrip(".")
    return f"{text}; the product label wins."


def opening_text(share: float) -> str:
    """How far vents are open: "half", "wide open", "shut"."""
    return {0.0: "shut", 1.0: "wide open"}.get(share) or _OPENINGS.get(share, f"{share * 100:.0f} %")


def _clock(moment: str) -> str:
    return clock(datetime.fromisoformat(moment))


def day_text(moment: str) -> str:
    """The day of a moment (ISO 8601), with its weekday."""
    return day_of(datetime.fromisoformat(moment))


def moment_text(moment: str) -> str:
    """The day and hour of a moment (ISO 8601)."""
    at = datetime.fromisoformat(moment)
    return f"{day_of(at)} {clock(at)}"
