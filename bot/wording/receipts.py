"""How a recorded note is said back: the words that were understood, what follows from them, what must be heeded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from bot.wording.figures_bench import air
from bot.wording.figures_rates import warning
from bot.wording.plain import day_of, free_line, kept_line, listed
from bot.wording.reminder_lines import moment_text, opening_text
from bot.wording.reminders import plan_line
from core.answers import Act, Confirmed, Corrected, Noted, Undone
from core.entries import Act as ActKind
from core.entries import Entry
from core.figures.measures import to_fahrenheit
from core.lots import Lot, books_line
from core.notes import say_back
from core.reminders import Due
from core.treatments.cautions import caution_text

_COUNTED = frozenset(
    {ActKind.CHECK, ActKind.LOSE, ActKind.POT, ActKind.SPLIT, ActKind.SELL, ActKind.GIVE, ActKind.PLANT_OUT}
)


_MOST_SHOWN = 4
_FEW_WORDS = 5
_MOST_QUOTED = 3
_OVER = {True: ", over", False: ", just begun", None: ""}

_LEAVING = _COUNTED | {ActKind.MERGE}


def noted(answer: Noted, now: datetime) -> str:
    """The receipt of a note."""
    lines = [act_line(act) for act in answer.acts]
    lines += [f"Before: {say_back(replace(one, rest=None))}." for one in answer.instead_of]
    lines += [f"({took})" for took in answer.took]
    if answer.repairs:
        lines.append("I read " + ", ".join(f'"{one.read}" as "{one.as_}"' for one in dict.fromkeys(answer.repairs)) + ".")
    lines += [line for line in _balances(answer.acts) if line]
    lines += _closings(answer.acts)
    lines += [line for line in (_remark(kind, facts) for kind, facts in answer.remarks) if line]
    lines += [caution_text(hazard) for hazard in answer.cautions]
    plan = plan_line(answer.plan, now)
    if plan:
        lines.append(plan)
    if answer.late:
        lines.append("It reached me late; I have put it where it belongs in time.")
    return "\n".join(lines)


def act_line(act: Act) -> str:
    """One act in words that the reader itself would read back to the same entry."""
    entry = act.entry
    if act.lots and entry.act is not ActKind.NOTE:
        entry = _with_lots(entry, act.lots)
    words = say_back(replace(entry, rest=None))
    if entry.act is ActKind.NOTE:
        words = entry.text or ""
        if act.lots and words.startswith("picture "):
            return f"Picture kept with {listed([lot.number for lot in act.lots])}."
        return f'Kept as a note: "{words}"' + (f" ({listed([lot.number for lot in act.lots])})" if act.lots else "")
    line = (
        f"New {words}."
        if act.opened and entry.act is not ActKind.SPLIT
        else f"{words[0].upper()}{words[1:]}{_OVER.get(act.over, '')}."
    )
    if entry.act is ActKind.TARGET and _says_what_for(entry.rest or ""):
        return f"{line.removesuffix('.')} {entry.rest}."
    if entry.rest:
        line += f' Kept with it: "{entry.rest}".'
    return line


def _says_what_for(rest: str) -> bool:
    """Whether what is kept with a target only tells what it is for ("for the spring sale")."""
    return rest.startswith(("for the ", "for our ")) and len(rest.split()) <= _FEW_WORDS


def _with_lots(entry: Entry, lots: Sequence[Lot]) -> Entry:
    if entry.act is ActKind.SPLIT and len(lots) == 2:
        return replace(entry, lots=(lots[0].number,), to=lots[1].number)
    if entry.act is ActKind.MERGE and entry.to and len(lots) > 1:
        return replace(entry, lots=tuple(lot.number for lot in lots[:-1]), to=lots[-1].number)
    return replace(entry, lots=tuple(lot.number for lot in lots))


def _balances(acts: Sequence[Act]) -> list[str]:
    """The books of each lot whose plants were counted, as they stand after the whole note."""
    latest: dict[str, Lot] = {}
    for act in acts:
        if act.entry.act in _COUNTED and not act.opened:
            latest.update((lot.number, lot) for lot in act.lots)
    return [balance_line(lot) for lot in latest.values()]


def balance_line(lot: Lot) -> str:
    """The books of a lot in one line: "26-001: 72 = 37 unrooted + 31 rooted + 4 lost; 68 left"."""
    balance = books_line(lot)
    if balance is None or (lot.left == lot.started and "+" not in str(balance).partition("=")[2]):
        return ""
    left = f"; {lot.left} left" if lot.left is not None and lot.left != lot.started else ""
    return f"{lot.number}: {balance}{left}."


def _closings(acts: Sequence[Act]) -> list[str]:
    """The lots that this note used up."""
    closed = {lot.number: None for act in acts if act.entry.act in _LEAVING for lot in act.lots if lot.closed}
    return [f"That closes {listed(list(closed))}: nothing is left."] if closed else []


def strength_words(facts: dict[str, Any]) -> str:
    """How strong a mix of bleach is: "5,250 ppm (0.525 %) from a jug of 5.25 % assumed"."""
    label = f"{facts['label']:g} %" + (" assumed" if facts["label_assumed"] else "")
    return f"{facts['ppm']:,} ppm ({facts['percent']:g} %) from a jug of {label}"


def _remark(kind: str, facts: dict[str, Any]) -> str:
    match kind:
        case "nothing_changed":
            return "It changes nothing in the books. To correct a note, reply to it with what is right."
        case "potted_on":
            return (
                f"I take these as potted on from smaller pots, so {facts['potted']} stay potted in all. "
                f'If they are new ones, undo this and text "potted {facts["count"]} more of lot {facts["lot"]} into …".'
            )
        case "bleach_amounts":
            to = f"to {facts['finished']} of water" if facts["added"] else f"filled up to {facts['finished']}"
            return f"That is {facts['bleach']} of bleach {to}: about {strength_words(facts)}."
        case "bleach_strength":
            return f"That is about {strength_words(facts)}."
        case "no_ratio":
            return "How strong it is I cannot say: no ratio was said. Text it like \"1:9\"."
        case "hot_under_cover":
            warm = f"{facts['celsius']:g} C ({to_fahrenheit(facts['celsius']):.0f} F)"
            return f"{warm} under cover is too warm: vent, shade, and look for wilting now."
        case "left_off":
            since = moment_text(facts["since"])
            return f"The cover of {facts['place']} is off since {since} then. Is it back on? Text when it is."
        case "deep_water":
            return "More than 1/4 in of water stands there: tip it out."
        case "target_over":
            return f"No {facts['plant']} is wanted any more."
        case "target_before":
            due = f" by {day_of(date.fromisoformat(facts['due']))}; for both, text the sum" if facts["due"] else ""
            return f"That takes the place of {facts['count']} {facts['plant']}{due}."
        case "kept_now":
            return f"Reserved of {facts['lot']}: {kept_line(facts['kept'])}{free_line(facts['free'])}."
        case "kept_short":
            left = f"only {facts['left']} {'is' if facts['left'] == 1 else 'are'}" if facts["left"] else "none is"
            return f"Reserved of {facts['lot']}: {kept_line(facts['kept'])}, and {left} left."
        case "wilting":
            return _wilting(facts)
        case "old_bleach":
            return f"That bleach was mixed {facts['age_hours']} h ago, past its {facts['hours']:g} h: mix it fresh."
        case "no_lot_in_tray":
            return f"No lot is noted in tray {facts['tray']}."
        case "plant_meant":
            return f'Is "{facts["texted"]}" {facts["meant"]}? Then say "meant {facts["meant"]}".'
        case "sum_told":
            where = " in the tray" if facts["in_tray"] else ""
            if facts["said"] == facts["left"]:
                return f"Yes, {facts['left']} left{where}."
            return f"By the books {facts['left']} are left{where}, not {facts['said']}: count again, and text the count."
        case "jug_kept":
            return f"From a jug of {facts['percent']:g} %, 1:9 gives about {facts['percent'] / 10:g} %."
        case "photo_kept":
            of = f" with {listed(facts['lots'])}" if facts["lots"] else ". Reply to this with its lot to keep it there"
            return f"Picture kept{of}."
        case "failing_roots" | "failing_losses":
            return warning(kind, facts)
        case "air":
            return air(facts)
        case "few_mothers":
            return f"All of these are from {facts['source']}: one plant is one clone."
        case _:
            return str(facts.get("text", ""))


def _wilting(facts: dict[str, Any]) -> str:
    lines = [f"Cover back on {facts['place']} at once."] if facts["off"] else []
    if "vents" in facts:
        lines.append(f"Vents a step back, to {opening_text(facts['vents'])}.")
    if facts.get("waits"):
        lines.append(f"{facts['first']} min wilts already, so weaning waits until a root check shows roots.")
    elif "minutes" in facts:
        lines.append(f"Next time {facts['minutes']} min, not before tomorrow morning.")
    return " ".join(lines)


def corrected(answer: Corrected, now: datetime) -> str:
    """A correction: what stood before and what stands now."""
    before, after = replace(answer.before, rest=None), replace(answer.after, rest=None)
    if answer.lots:
        after = _with_lots(after, answer.lots)
    if after.act is ActKind.NOTE:
        where = listed([*(lot.number for lot in answer.lots), *(f"tray {tray}" for tray in after.trays)])
        moved = (before.lots, before.trays) != (answer.after.lots, answer.after.trays)
        of = f" is of {where}" if where and moved else ""
        day = f" is of {day_of(after.on)}" if after.on and after.on != before.on else ""
        return f'Corrected: "{after.text}"{of}{" and" if of and day else ""}{day}.'
    lines = [f"Corrected: {say_back(after)}{_OVER[answer.over]}."]
    lines += [f"With it: {say_back(replace(one, rest=None))}." for one in answer.beside]
    lines.append(f"Before: {say_back(before)}.")
    lines += [line for line in map(balance_line, answer.lots) if line and after.act in _COUNTED]
    plan = plan_line(answer.plan, now)
    return "\n".join([*lines, plan] if plan else lines)


def undone(answer: Undone) -> str:
    """What was taken back or brought back."""
    verb = "Brought back" if answer.again else "Taken back"
    what = _quoted(answer.entries)
    lots = f" ({listed(answer.lots)})" if answer.lots else ""
    reopened = " Its reminder is open again." if answer.reopened else ""
    also = [f'{one.lot}, {one.by}: "{say_back(replace(one.entry, rest=None))}"' for one in answer.also[:_MOST_SHOWN]]
    if len(answer.also) > _MOST_SHOWN:
        also.append(f"and {len(answer.also) - _MOST_SHOWN} more")
    gone = "\nWhat was told of it since counts no more:\n" + "\n".join(also) if also else ""
    back_to = f" Back to: {_quoted(answer.back_to)}." if answer.back_to else ""
    return f"{verb}: {what}{lots}.{back_to}{reopened}{gone}"


def _quoted(entries: Sequence[Entry]) -> str:
    """A few entries in their own words, and how many more there are."""
    shown = listed([f'"{say_back(replace(entry, rest=None))}"' for entry in entries[:_MOST_QUOTED]])
    more = len(entries) - _MOST_QUOTED
    return f"{shown} and {more} more" if more > 0 else shown


def confirmed(answer: Confirmed, now: datetime) -> str:
    """A reminder answered, and what comes next."""
    if answer.how == "stop":
        return 'I will not remind you of that any more. To have it back: "remind us of tray 2 again", or of the lot.'
    if answer.how == "stop_all":
        return 'I will not remind you any more; the crew still gets its reminders. "Remind me again" ends that.'
    if answer.how == "start_all":
        return "I remind you again."
    if answer.how == "start":
        return plan_line(answer.plan, now) or "I remind you of that again."
    lines: list[str] = []
    match answer.how:
        case "later":
            lines.append(f"Later: I say it again at {answer.until and _local_clock(answer.until, now)}.")
        case "not_yet":
            lines.append(f"Not yet, then: {_dues(answer.dues)}.")
        case "skip":
            lines.append(f"Skipped: {_dues(answer.dues)}.")
        case _ if answer.acts:
            lines += [act_line(act) for act in answer.acts]
            untold = [due for due in answer.dues if due.done_means is None]
            lines += [f"Done: {_dues(untold)}."] if untold else []
        case _:
            lines.append(f"Done: {_dues(answer.dues)}. Thank you.")
    plan = plan_line(answer.plan, now)
    return "\n".join([*lines, plan] if plan else lines)


def _local_clock(until: datetime, now: datetime) -> str:
    local = until if until.tzinfo is None else until.replace(tzinfo=None)
    return f"{local:%H:%M}" + ("" if local.date() == now.date() else f" on {local:%a} {local.day} {local:%b}")


def _dues(dues: Sequence[Due]) -> str:
    from bot.wording.reminders import short_name

    return listed([short_name(due) for due in dues])
