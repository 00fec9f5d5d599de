"""What the bot asks: one short question for each thing that may be missing or doubtful, answerable by a word."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from bot.wording.plain import day_of, listed
from bot.wording.reminders import short_name_of
from core.answers import Asked
from core.entries import Act, Entry
from core.notes import say_back

_MISSING = {
    "count": "How many?",
    "plant": "Which plant?",
    "date": "Which day?",
    "state": "Rooted, callused, germinated, or only alive?",
    "unit": "Minutes, hours or days?",
    "open": "How far: shut, a crack, a quarter, half or wide?",
    "solution": "Which solution: bleach, alcohol, quat, hormone or fertilizer?",
    "to": "Where to?",
    "text": "Remind you of what?",
    "act": "What was done?",
    "number": "Which of the numbers is the lot, and which the count?",
    "not_covered": "Which cover is still off?",
    "amend_which": "Which of them is to be corrected?",
    "amend_what": 'What should it be? Text for example "make that 27" or "make that lot 15".',
}
_MOST_LISTED = 12
_OF_A_LOT = frozenset({"count", "state"})
"""What is asked of a lot by its name, so that two such questions can be told apart."""
_COUNT_OF = {
    Act.CHECK: "How many, out of how many?",
    Act.LOSE: "How many were lost?",
    Act.POT: "How many were potted?",
    Act.SELL: "How many were sold?",
    Act.GIVE: "How many were given?",
    Act.PLANT_OUT: "How many were planted out?",
    Act.SPLIT: "How many were split off?",
    Act.TARGET: "How many are wanted?",
}
_DATE_OF = {
    Act.TARGET: "By which day are they wanted?",
    Act.REMIND: "When shall I remind you?",
}


def ask(asked: Asked) -> str:
    """The question for what is missing or doubtful, with what was understood so far where that helps."""
    question = _question(asked)
    if "rest" in asked.facts and asked.choices and asked.entry is not None:
        question = _the_rest(asked.entry, asked.facts)
    elif asked.kind in _OF_A_LOT and asked.entry is not None:
        question = _with_place(asked.entry, question)
    waits = asked.facts.get("still_open")
    return f'Still open: "{waits}". {question}' if waits else question


def _the_rest(entry: Entry, facts: dict[str, Any]) -> str:
    told = say_back(replace(entry, count=facts["rest"], lots=(), trays=(), plant=None))
    return f"{told[0].upper()}{told[1:]}, the rest of {facts['lot']}?"


def _with_place(entry: Entry, question: str) -> str:
    """A question that names the lot or tray that it is about."""
    noun, names = ("lot", entry.lots) if entry.lots else ("tray", entry.trays)
    if not names and entry.plant:
        return f"{question.removesuffix('?')} ({entry.plant})?"
    if not names or names == ("all",):
        return question
    plural = "s" if len(names) > 1 else ""
    return f"{question.removesuffix('?')} ({noun}{plural} {listed(names)})?"


def _question(asked: Asked) -> str:
    facts = asked.facts
    match asked.kind:
        case "lot":
            return _which_lot(asked.entry, facts)
        case "number":
            return _which_number(asked.entry, offered=bool(asked.choices))
        case "act" if len(asked.choices) == 1:
            return "Is that what you mean? If not, text it again in other words."
        case "act" if asked.choices:
            return "I can read that in two ways. Which is it?"
        case "again":
            return "The same words came a moment ago. Was it done again, or is it the same?"
        case "photo":
            return "Picture kept. Which lot is it?"
        case "source":
            return f"Seed of {facts['plant']} was gathered at {listed(facts['sources'])}. From which is this?"
        case "merge_others":
            return f"These are not the same: {listed(facts['lots'])}. Put them together all the same?"
        case "to" if "taken" in facts:
            return f"{facts['taken']} is taken already. Is this a new lot, {facts['next']}? Or text another number."
        case "to" if "merged" in facts or "alone" in facts:
            return _which_stays(facts)
        case "to" if "into_which" in facts:
            return f"All of {facts['lot']}. Which tray is it in now: {listed(facts['into_which'], last='or')}?"
        case "told_twice":
            by, lot, count = facts["by"], facts["lot"], facts["count"]
            at = datetime.fromisoformat(facts["at"])
            return f"{by} told me of {count} lost in {lot} on {day_of(at)}. The same {count}, or {count} more?"
        case "which_reminder":
            return _which_reminder(facts)
        case "each_or_all":
            return f"{facts['count']} in each of {listed(facts['lots'])}, or {facts['count']} in all?"
        case "shares":
            lots = facts["lots"][:2]
            example = f"{facts['count'] - 1} in {lots[0]} and 1 in {lots[1]}"
            return f'How many of the {facts["count"]} in each? Text it like "{example}".'
        case "jug":
            return "What does the jug's label say, in percent sodium hypochlorite? (5.25, 6, 7.5, 8.25 …)"
        case "amend_what" if facts.get("names") == "who":
            return "Who was it?"
        case "amend_what" if facts.get("names"):
            return f"Which {facts['names']} is right?"
        case "amend_old":
            return _change_old(facts)
        case "denied":
            day = day_of(date.fromisoformat(facts["day"]))
            return f'{facts["by"]} told me on {day}: "{facts["said"]}". Take that back?'
        case "amend_or_new":
            before = say_back(replace(Entry.from_keys(facts["before"]), rest=None))
            return f'Is that instead of "{before}", or a note of its own?'
        case "undo_old":
            day = day_of(date.fromisoformat(facts["day"]))
            return f'Your last note here is of {day}: "{facts["said"]}". Take it back?'
        case "undo_of_a_day":
            day = day_of(date.fromisoformat(facts["day"]))
            if facts["of_that_day"] > 1:
                return f"Which of your notes of {day} shall I take back?"
            return f'Your note of {day} is "{facts["said"]}". Take it back?'
        case "hold_over":
            return f"{facts['lot']} is on hold ({_cause(facts)}). Is that over?"
        case "closing":
            left = f"{facts['left']} are left in {facts['lot']}. " if facts["left"] else ""
            return f"{left}What became of them?" if left else f"What became of the plants of {facts['lot']}?"
        case "same_again":
            again = listed([f'"{one}"' for one in facts["again"]])
            whose = f"As {facts['by']} told: " if facts["by"] else ""
            return f"{whose}{again}: was that done again now?" if not whose else f"{whose}{again}?"
        case "count_above":
            return f"{facts['count']} is more than the {facts['of']} it was out of. What should it be?"
        case kind if kind in _OBJECTION:
            return str(_OBJECTION[kind](facts))
        case "count" if "sold_out" in facts:
            return f"{_sold_out(facts)} If neither, how many?"
        case "count" if "whole" in facts and asked.entry is not None and asked.entry.act is Act.SELL:
            return f"All {facts['left']} of {facts['whole']} sold? If not, how many were sold?"
        case "count" if "whole" in facts and len(asked.choices) > 1:
            return f"All {facts['left']} of {facts['whole']} sold, or lost? If not all, how many are gone?"
        case "count" if "whole" in facts:
            return f"All {facts['left']} of {facts['whole']} lost? If not, how many were lost?"
        case "count":
            return _COUNT_OF.get(asked.entry.act, _MISSING["count"]) if asked.entry else _MISSING["count"]
        case "unit" if asked.entry is not None and (asked.entry.act is Act.TEMP or asked.entry.treatment == "hot_water"):
            return "Fahrenheit or Celsius?"
        case "date":
            return _DATE_OF.get(asked.entry.act, _MISSING["date"]) if asked.entry else _MISSING["date"]
        case kind:
            return _MISSING.get(kind, "What is missing there? Text the whole note again, a little longer.")


def _change_old(facts: dict[str, Any]) -> str:
    day = day_of(date.fromisoformat(facts["day"]))
    whose = f"{facts['by']}'s note" if facts["by"] else "Your last note that fits"
    before, after = (say_back(replace(Entry.from_keys(facts[name]), rest=None)) for name in ("before", "after"))
    return f'{whose} is of {day}: "{before}". Change it to "{after}"?'


def _which_lot(entry: Entry | None, facts: dict[str, Any]) -> str:
    if "covers_off" in facts:
        return f"Covers are off {listed(facts['covers_off'])}. Which is back on?"
    if "or_trays" in facts:
        word = "tray" if len(facts["or_trays"]) == 1 else "trays"
        return f"I have no lot {facts['unknown']}. Do you mean {word} {listed(facts['or_trays'])}, or which lot?"
    if "unknown" in facts:
        return f"I have no lot {facts['unknown']}. Which lot is it?"
    if "taken" in facts:
        return f"{facts['taken']} is taken already. Is this a new lot, {facts['next']}? Or text another number."
    if "no_lot_of" in facts:
        return f"I have no open lot of {facts['no_lot_of']}. Which lot is it?"
    if "plant" in facts:
        return f"There are several lots of {facts['plant']}. Which one?"
    if "into" in facts:
        what = f" ({say_back(replace(entry, lots=(), trays=(), plant=None))})" if entry is not None else ""
        return f"{facts['lot']} of tray {listed(facts['trays'])} went into {facts['into']}. Is it of {facts['into']}{what}?"
    if "empty_trays" in facts:
        return f"I have no lot noted in tray {listed(facts['empty_trays'])}. Which lot is it?"
    if "trays" in facts:
        return f"Tray {listed(facts['trays'])} holds several lots. Which one is it?"
    what = f" ({say_back(entry)})" if entry is not None and entry.act is not Act.NOTE else ""
    return f"Which lot or tray{what}?"


def _which_stays(facts: dict[str, Any]) -> str:
    unknown = f"I have no lot {facts['unknown']}. " if "unknown" in facts else ""
    if "alone" in facts:
        return f"{unknown}Into which lot did {listed(facts['alone'])} go?"
    return f"{unknown}Which number stays: {listed(facts['merged'], last='or')}?"


def _which_reminder(facts: dict[str, Any]) -> str:
    """A numbered list, so that a number answers as well as a name or a button."""
    names = list(map(short_name_of, facts["dues"]))[:_MOST_LISTED]
    rows = [f"{number}. {name}" for number, name in enumerate(names, start=1)]
    what = {"done": "is done", "later": "shall I say later"}.get(facts["answer"], "do you mean")
    asked = f"Several things are open. Which one {what}?" if len(names) > 1 else "Only this is open. Text 1 if you mean it."
    return "\n".join([asked, *rows])


def _which_number(entry: Entry | None, *, offered: bool) -> str:
    words = (entry.rest or entry.text) if entry is not None else None
    if not words:
        return _MISSING["number"]
    numbers = re.findall(r"\d+", words)
    how = "" if offered or not numbers else f' Text it like "lot {numbers[0]}".'
    return f'In "{words}": which number is the lot, and which the count?{how}'


def _above(facts: dict[str, Any]) -> str:
    return (
        f"The books have {facts.get('left', facts.get('living', 'fewer'))} left in {facts['lot']}, "
        f"and that is {facts.get('count', 'more')}. Record it all the same?"
    )


def _part_or_whole(facts: dict[str, Any]) -> str:
    return (
        f"That is out of {facts['of']}, and the books have {facts['left']} left in {facts['lot']}. "
        "Was the whole lot counted, or a part of it?"
    )


def _change_or_total(facts: dict[str, Any]) -> str:
    before = f"{facts['before']} were noted lost in {facts['lot']} before."
    others = f"{facts['count']} in all" if facts["count"] >= facts["before"] else f"among the {facts['before']}"
    return f"{before} {facts['count']} more, or {others}?"


def _above_unrooted(facts: dict[str, Any]) -> str:
    make = f"{facts['rooted']} rooted and {facts['count']} dead make {facts['rooted'] + facts['count']}"
    return (
        f"{make}, and the books have {facts['left']} left in {facts['lot']}. "
        f"Were {facts['among']} of the rooted ones among the dead?"
    )


def _above_potted(facts: dict[str, Any]) -> str:
    went = "sold" if facts["act"] == "sell" else "lost"
    return (
        f"The books have {facts['potted']} of {facts['lot']} in pots. Record {facts['count']} {went} all the same?"
    )


def _sold_out(facts: dict[str, Any]) -> str:
    there = "in pots" if facts["kind"] == "potted" else "with roots"
    return (
        f"The books have {facts['left']} left in {facts['lot']}, {facts['count']} of them {there}. "
        f"Were the {facts['count']} sold, or all {facts['left']}?"
    )


def _merged_away(facts: dict[str, Any]) -> str:
    went = f"{facts['lot']} went into {facts['into']}"
    if not facts["there"]:
        return f"{went}: nothing is left under its number. Record it there all the same?"
    what = say_back(replace(Entry.from_keys(facts["entry"]), lots=(), trays=(), plant=None, rest=None))
    return f"{went}. Record it there ({what})?"


def _potted_again(facts: dict[str, Any]) -> str:
    count, potted = facts["count"], facts["potted"]
    same = f"The same {count}" if count == potted else f"Among the {potted}" if count < potted else f"{count} in all"
    unpotted = facts["unpotted"] or "none"
    return f"The books have {potted} of {facts['lot']} in pots and {unpotted} unpotted. {same}, or {count} more?"


def _two_sizes(facts: dict[str, Any]) -> str:
    went = {"sell": "sold", "give": "given", "plant_out": "planted out"}.get(facts["act"], "lost")
    return f"So many of each size, or {facts['count']} {went} in all?"


def _split_of(facts: dict[str, Any]) -> str:
    there = listed([f"{count} {kind.replace('unrooted', 'without roots')}" for kind, count in facts["there"].items()])
    return f"{facts['lot']} has {there}. Which are the {facts['count']} split off?"


def _share_of(facts: dict[str, Any]) -> str:
    known = f"The books have {facts['before']} {'left' if facts['state'] == 'alive' else facts['state']} in {facts['lot']}"
    share = f"{facts['share']:.0%}"
    if facts["left"] == facts["all"]:
        return f"{known}, and {share} of {facts['left']} are {facts['of_left']}. Record it all the same?"
    return f"{known}. Is that {share} of the {facts['left']} left, or of all {facts['all']} that there were?"


def _before_a_count(facts: dict[str, Any]) -> str:
    counted = day_of(date.fromisoformat(facts["counted"]))
    return (
        f"With what was counted on {counted}, {facts['lot']} would then have had {facts['over']} more than ever came. "
        "Record it all the same?"
    )


def _slang(facts: dict[str, Any]) -> str:
    how_many = "all" if facts["share"] == 1 else f"{facts['share']:.0%}"
    return f"Are {how_many} of {listed(facts['lots'])} really dead, and shall I take them off the books?"


def _gone(facts: dict[str, Any]) -> str:
    counts = facts["left"] if facts["count"] is None else [facts["count"]]
    known = None if None in counts else sum(counts)
    how_many = f"all {known}" if facts["count"] is None and known else str(known) if known else "all"
    return f"{how_many[0].upper()}{how_many[1:]} of {listed(facts['lots'])} gone: sold, or lost?"


def _moved_there(facts: dict[str, Any]) -> str:
    places = []
    for lot, (trays, place) in facts["places"].items():
        where = listed([part for part in (f"tray {listed(trays)}" if trays else "", place or "") if part], last="at")
        places.append(f"{lot} in {where}" if where else f"no place of {lot}")
    known = f"The books have {listed(places)}. " if places else ""
    return f"{known}Was it moved to {facts['to']}?"


def _cause(facts: dict[str, Any]) -> str:
    cause = facts.get("cause")
    return "no cause noted" if cause in (None, "unknown") else str(cause).replace("_", " ")


_OBJECTION: dict[str, Any] = {
    "part_or_whole": _part_or_whole,
    "change_or_total": _change_or_total,
    "above_sown": lambda facts: (
        f"Only {facts['sown']} were sown in {facts['lot']}. Record {facts['count']} all the same?"
    ),
    "above_free": lambda facts: (
        f"{facts['reserved']} of {facts['lot']} are reserved, so {facts['free']} are free. Record it all the same?"
    ),
    "germinated_cuttings": lambda facts: (
        f"{facts['lot']} are cuttings, which do not germinate. {facts['count']} rooted, or seedlings all the same?"
    ),
    "other_plant": lambda facts: (
        f"{facts['lot']} is {facts['is']}, not {facts['plant']}. Which lot is it?"
    ),
    "moved_there": _moved_there,
    "slang": _slang,
    "gone": _gone,
    "above_left": _above,
    "above_potted": _above_potted,
    "above_unrooted": _above_unrooted,
    "sold_out": _sold_out,
    "split_of": _split_of,
    "potted_again": _potted_again,
    "merged_away": _merged_away,
    "two_sizes": _two_sizes,
    "share_of": _share_of,
    "before_a_count": _before_a_count,
    "minus": lambda facts: (
        f'-{facts["count"]}: is that "{say_back(replace(Entry.from_keys(facts["entry"]), rest=None))}"?'
    ),
    "above_living": _above,
    "closed": lambda facts: f"{facts['lot']} is closed: nothing is left of it. Record it all the same?",
    "on_hold": lambda facts: f"{facts['lot']} is on hold ({_cause(facts)}). Let them go all the same?",
    "in_the_cold": lambda facts: f"{facts['lot']} is seed in the cold. Record it of that lot all the same?",
    "count_lower": lambda facts: (
        f"{facts['lot']} had {facts['before']}, now {facts['count']}: miscounted, or {facts['missing']} lost?"
    ),
}
