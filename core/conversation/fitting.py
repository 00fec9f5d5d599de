"""What a record says once it is corrected: each word of the correction in the place that the record has for it.

Rules
1. A number goes where the record has a number: plants, else a length of time, a volume, a temperature, an hour.
2. A day is when it was done; of a reminder, a target or a roster it is the day to come that they are for.
3. A correction that says anything for which the record has no place does not fit it at all.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import fields, replace
from datetime import date, datetime
from functools import cache
from typing import Any, Final

from core.conversation.correction_words import bare, said
from core.conversation.heard import either
from core.conversation.other_deed import as_deed
from core.entries import Act, Amount, Entry
from core.errors import BadEntry, BadLength
from core.figures.measures import to_celsius
from core.lengths import Length
from core.notes import read_answer
from core.vocabulary.loading import read_toml

_ABOUT_THE_NOTE: Final = frozenset({"act", "rest", "lots"})
_OPENING: Final = frozenset({Act.STICK, Act.SOW, Act.DIVIDE})
_LEAVING: Final = frozenset({Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.RESERVE})
_COUNTED: Final = frozenset(
    {*_OPENING, *_LEAVING, Act.COLLECT, Act.CHECK, Act.LOSE, Act.POT, Act.SPLIT, Act.TARGET, Act.WILT}
)
_AHEAD: Final = {Act.TARGET: "due", Act.REMIND: "at", Act.ROSTER: "on"}
_MOST_PERCENT: Final[float] = read_toml("small_words.toml")["quantities"]["most_percent_put_right"]
_OF_COUNT: Final = ("count", "count_max", "approx", "more", "of", "share", "all_of", "left")
_MAY_HAVE: Final[dict[str, frozenset[Act]]] = {
    "plant": _OPENING | {Act.COLLECT, Act.TARGET, Act.TREAT},
    "cutting": _OPENING,
    "wood": _OPENING,
    "hormone": _OPENING | {Act.TREAT, Act.MIX},
    "medium": _OPENING | {Act.POT},
    "container": _OPENING | {Act.POT},
    "source": _OPENING | {Act.COLLECT},
    "vent_open": frozenset({Act.VENT}),
    "from_time": frozenset({Act.ROSTER}),
    "until": frozenset({Act.ROSTER}),
    "state": frozenset({Act.CHECK}),
    "sample": frozenset({Act.CHECK}),
    "cause": frozenset({Act.LOSE, Act.HOLD}),
    "method": frozenset({Act.WATER}),
    "solution": frozenset({Act.MIX, Act.POUR_OUT, Act.SANITIZE}),
    "duration": frozenset({Act.AIR, Act.HARDEN, Act.TREAT, Act.MOVE, Act.SANITIZE}),
    "temp_c": frozenset({Act.TEMP, Act.TREAT}),
    "to": _LEAVING | {Act.MOVE, Act.HARDEN},
}
_OF_MIX: Final[dict[str, dict[str, Any]]] = {"volume": {}, "parts": {"share": None}, "share": {"parts": ()}}
_CLOCK: Final = re.compile(r"\b(?:\d{1,2}(?::\d\d)? ?(?:am|pm|a|p)?|noon|midday)[.!]?$")


def given(told: Entry) -> dict[str, Any]:
    """What a correction gives, but for the lots that it names."""
    values = {part.name: getattr(told, part.name) for part in fields(Entry) if part.name not in _ABOUT_THE_NOTE}
    return {name: value for name, value in values.items() if value not in (None, (), False)}


def fitted(target: Entry, told: Entry, words: str, now: datetime) -> Entry | None:
    """`target` corrected by what `told` gives (lots and trays are not looked at), or None where it does not fit.

    `words` are those of the correction and `now` the crew's local time, for days to come.
    """
    if told.did is not None:
        return as_deed(target, told)
    changed = {name: value for name, value in given(told).items() if name != "trays"}
    if told.container is not None and told.container.count is None and _counts_containers(told, words):
        changed["container"] = replace(told.container, count=changed.pop("count"))
    if _may_be_its_tray(target, told):
        return None
    after: dict[str, Any] = {}
    for name in list(changed):
        if name in changed:
            found = _place(target, name, changed, words, now)
            if found is None:
                return None
            after.update(found)
    receiver = _receiver().search(bare(told.rest or ""))
    if receiver is not None and target.act in _MAY_HAVE["to"] and given(told):
        after["to"] = receiver["to"]
    try:
        return replace(target, **after)
    except (BadEntry, BadLength):
        return None


def _may_be_its_tray(target: Entry, told: Entry) -> bool:
    """ "No, only 7", of 30 stuck in tray 7: the number is as well the tray's, of which another note may speak."""
    begun = target.act in (Act.STICK, Act.SOW, Act.DIVIDE)
    return begun and set(given(told)) == {"count"} and not told.rest and str(told.count) in target.trays


@cache
def _receiver() -> re.Pattern[str]:
    """To whom plants went, at the end of the words."""
    before, articles = (either("answers_heard", "receiver", key) for key in ("before", "articles"))
    return re.compile(rf"\b(?:{before}) (?:(?:{articles}) )?(?P<to>[a-z][\w '-]*)$")


def _counts_containers(told: Entry, words: str) -> bool:
    """Whether the number is said of the container that follows it ("5 six packs"), and not of plants in it."""
    found = re.search(rf"\b{told.count} ([a-z0-9][\w'-]*)", words.lower()) if told.count is not None else None
    return found is not None and found[1] not in said("after_number") and not told.plant and not told.cutting


def _place(target: Entry, name: str, changed: dict[str, Any], words: str, now: datetime) -> dict[str, Any] | None:
    if target.act is Act.MIX and name in _OF_MIX:
        # A ratio is told in one way or the other.
        return {**_OF_MIX[name], name: changed[name]}
    if name == "share" and "count" not in changed and not target.all_of:
        other = _share_of_other(target, changed[name])
        if other is not None:
            return other
    if name in _OF_COUNT:
        numbers: dict[str, Any] = {one: changed.pop(one) for one in _OF_COUNT if one in changed}
        return _number(target, numbers, now)
    if name == "on" and target.act in _AHEAD:
        return _day_ahead(target, words, now)
    value = changed[name]
    if name == "hormone" and target.hormone is not None:
        kept = {key: getattr(target.hormone, key) for key in ("form", "ppm", "name", "seconds")}
        value = replace(value, **{key: old for key, old in kept.items() if getattr(value, key) is None})
    if name == "container" and target.act is Act.MIX and value.size:
        return _volume_of_size(value.size)
    if name == "container" and target.container is not None and target.container.count is not None:
        value = replace(value, count=value.count or target.container.count)
    if name == "temp_c" and target.act not in _MAY_HAVE["temp_c"]:
        return None
    if name == "by" and target.act is Act.NOTE:
        return None
    if name in ("on", "by", "amount", "volume", "parts"):
        return {name: value} if name in ("on", "by") or getattr(target, name) else None
    if getattr(target, name) not in (None, (), False) or target.act in _MAY_HAVE.get(name, ()):
        return {name: value, **({"sources": ()} if name == "source" else {})}
    return None


def _share_of_other(target: Entry, share: float) -> dict[str, Any] | None:
    """ "Make it 0.8%": how strong the hormone was, how far the vent is open, how moist it is; None of plants."""
    if target.hormone is not None and 100 * share <= _MOST_PERCENT:
        return {"hormone": replace(target.hormone, ppm=round(share * 1_000_000))}
    if target.act is Act.VENT:
        return {"vent_open": share}
    return {"humidity": share} if target.humidity is not None else None


def _volume_of_size(size: str) -> dict[str, Any] | None:
    found = re.fullmatch(r"([\d.]+) (gal)", size)
    return {"volume": Amount(value=float(found[1]), unit=found[2])} if found else None


def _number(target: Entry, numbers: dict[str, Any], now: datetime) -> dict[str, Any] | None:
    if target.act in _OPENING and "share" in numbers:
        return None
    if target.count is not None or (target.act in _COUNTED and target.amount is None):
        cleared = {"count": None, "count_max": None, "approx": False, "share": None, "all_of": False, "left": None}
        return {**(cleared if set(numbers) - {"of", "approx", "more"} else {}), **numbers}
    count = numbers.get("count")
    if count is None or set(numbers) - {"count", "count_max", "approx"}:
        return None
    if numbers.get("count_max") is not None:
        return _range_of_lots(target, count, numbers["count_max"])
    return next((found for place in _PLACES if (found := place(target, count)) is not None), None)


def _range_of_lots(target: Entry, first: int, last: int) -> dict[str, Any] | None:
    if len(target.lots) < 2 or not 0 < last - first < 60:
        return None
    return {"lots": tuple(str(number) for number in range(first, last + 1))}


def _as_one_of_several(target: Entry, count: int) -> dict[str, Any] | None:
    """ "No, just 14", of lots 14 and 15."""
    if len(target.lots) > 1 and str(count) in target.lots:
        return {"lots": (str(count),)}
    return {"trays": (str(count),)} if len(target.trays) > 1 and str(count) in target.trays else None


def _as_duration(target: Entry, count: int) -> dict[str, Any] | None:
    old = target.duration
    if old is None or not count:
        return None
    if old.months:
        new = Length(months=count)
    elif old.days:
        new = Length(days=count)
    else:
        new = Length(seconds=count * (3600 if old.seconds % 3600 == 0 else 60))
    return {"duration": new, "duration_max": None}


def _as_volume(target: Entry, count: int) -> dict[str, Any] | None:
    return {"volume": replace(target.volume, value=float(count))} if target.volume is not None and count else None


def _as_amount(target: Entry, count: int) -> dict[str, Any] | None:
    return {"amount": replace(target.amount, value=float(count))} if target.amount is not None and count else None


def _as_temperature(target: Entry, count: int) -> dict[str, Any] | None:
    """A bare number at the bench is in degrees Fahrenheit (common practice in the trade's own notes)."""
    return {"temp_c": round(to_celsius(count), 1)} if target.act is Act.TEMP and target.temp_c is not None else None


def _as_hour(target: Entry, count: int) -> dict[str, Any] | None:
    """The hour of that name that is nearest to the one noted."""
    if target.act is not Act.REMIND or not isinstance(target.at, datetime) or not 1 <= count <= 23:
        return None
    old = target.at
    hours = [hour for hour in (count, count + 12) if hour <= 23]
    return {"at": old.replace(hour=min(hours, key=lambda hour: abs(hour - old.hour)), minute=0)}


def _as_hour_done(target: Entry, count: int) -> dict[str, Any] | None:
    """ "No 8", of what was done at 7."""
    if not isinstance(target.on, datetime) or not 1 <= count <= 23:
        return None
    hours = [hour for hour in (count, count + 12) if hour <= 23]
    old = target.on
    return {"on": old.replace(hour=min(hours, key=lambda hour: abs(hour - old.hour)), minute=0)}


def _as_tray(target: Entry, count: int) -> dict[str, Any] | None:
    """ "No 4", of what was done to tray 3, where the note has no other number."""
    named = len(target.trays) == 1 and target.trays[0].isdecimal() and not target.lots
    return {"trays": (str(count),)} if named and target.act not in (Act.NOTE, *_OPENING) else None


_PLACES: Final[tuple[Callable[[Entry, int], dict[str, Any] | None], ...]] = (
    _as_one_of_several, _as_duration, _as_volume, _as_amount, _as_temperature, _as_hour, _as_hour_done,
    _as_tray,
)  # fmt: skip


def _day_ahead(target: Entry, words: str, now: datetime) -> dict[str, Any] | None:
    """The day to come that the last words of the correction name, for what is wanted and not for what was done."""
    told = words.split()
    for start in range(len(told)):
        named = read_answer("date", " ".join(told[start:]), now)
        day = named.get("at", named.get("due")) if named else None
        if day is None:
            continue
        only_day = day.date() if isinstance(day, datetime) else day
        if target.act is Act.REMIND:
            return {"at": _at(day, target.at, only_clock=_names_no_day(words, day, now))}
        return {_AHEAD[target.act]: only_day}
    return None


def _names_no_day(words: str, found: date | datetime, now: datetime) -> bool:
    """Whether a clock time at the end of the words is all that `found` was read from."""
    clock = _CLOCK.search(words.lower())
    alone = read_answer("date", clock[0], now) if clock is not None else None
    return alone is not None and alone.get("at") == found


def _at(day: date | datetime, before: date | datetime | None, *, only_clock: bool) -> date | datetime:
    if only_clock and isinstance(day, datetime) and before is not None:
        return datetime.combine(before, day.time())
    if isinstance(day, datetime) or not isinstance(before, datetime):
        return day
    return datetime.combine(day, before.time()) if before is not None else day


def has_day_ahead(target: Entry) -> bool:
    """True for what lies ahead, so that a day said of it is a day to come."""
    return target.act in _AHEAD
