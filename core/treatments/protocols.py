"""Which numbers hold for this plant, lot and tray: the bench's, then the plant's, then what the crew said.

Rules
1. times.toml holds the bench's numbers, plants.csv the plants'. A crew's own rule wins over both, the later over the
   earlier, one for a lot or tray over one for a plant, one for a plant over one for all.
2. A rule for a list of days (vents, countdown) moves its first day and keeps the distances between the rest.
3. Every number can say where it comes from.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import time, timedelta
from functools import cache
from importlib.resources import files
from typing import Any, Final

from core.entries import Act
from core.errors import BadTradeFile
from core.records import Record, in_order
from core.treatments.plant_facts import fact_of, names_of
from core.treatments.rules import RuleChange, read_rule
from core.vocabulary.plants import same_plant

BY_PLANT: Final = ("first_root_check", "weaning_start", "shade_days", "germination_days", "cold_days", "warm_days")
OWN_RECORD: Final = "your own record"
_UNITS: Final = ("days", "minutes", "at", "share", "times")
Value = float | time


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number of the protocol: one value or the steps of a rule, in `unit` (`days minutes at share times`), and why.

    Values in `at` are hours of the day, all others plain numbers. `high` is the upper end where a plant has a range.
    """

    name: str
    unit: str
    values: tuple[Value, ...]
    says: str
    source: str
    high: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Protocol:
    """All numbers that hold for one plant, lot and tray."""

    plant: str | None
    numbers: Mapping[str, Number]

    def days(self, name: str) -> int:
        """The number `name` in whole days. Raises KeyError for a name that no file has, as all of these do."""
        return round(self._plain(name, "days")[0])

    def day_steps(self, name: str) -> tuple[int, ...]:
        return tuple(round(value) for value in self._plain(name, "days"))

    def minutes(self, name: str) -> int:
        return round(self._plain(name, "minutes")[0])

    def length(self, name: str) -> timedelta:
        """The number `name` as elapsed time: minutes, or days of 24 hours."""
        number = self.numbers[name]
        return timedelta(days=self.days(name)) if number.unit == "days" else timedelta(minutes=self.minutes(name))

    def share(self, name: str) -> float:
        return self._plain(name, "share")[0]

    def share_steps(self, name: str) -> tuple[float, ...]:
        return self._plain(name, "share")

    def times(self, name: str) -> float:
        return self._plain(name, "times")[0]

    def hour(self, name: str) -> time:
        return self.hours(name)[0]

    def hours(self, name: str) -> tuple[time, ...]:
        return tuple(value for value in self.numbers[name].values if isinstance(value, time))

    def source(self, name: str) -> str:
        """Where the number comes from, fit to be shown."""
        return self.numbers[name].source

    def _plain(self, name: str, unit: str) -> tuple[float, ...]:
        number = self.numbers[name]
        if number.unit != unit:
            raise BadTradeFile(f"{name} is in {number.unit}, not in {unit}", words=name)
        return tuple(value for value in number.values if not isinstance(value, time))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Rule:
    change: RuleChange
    plant: str | None
    lots: tuple[str, ...]
    trays: tuple[str, ...]
    said: str

    def reaches(self, plants: frozenset[str], lot: str | None, trays: tuple[str, ...]) -> int:
        """How near the rule is to what is asked: 0 not at all, 1 for all, 2 the plant, 3 the lot or tray."""
        if self.lots or self.trays:
            return 3 if (lot and lot in self.lots) or set(trays) & set(self.trays) else 0
        if self.plant:
            return 2 if plants & set(list(names_of(self.plant))[:1] + _accepted(self.plant)) else 0
        return 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """A number that the crew's own record shows for a plant (and wood, where known), from so many lots."""

    name: str
    plant: str
    wood: str | None
    days: int
    lots: int
    version: int = 1

    def fits(self, plant: str | None, wood: str | None) -> bool:
        return plant is not None and self.wood == wood and same_plant(self.plant, plant)

    def over(self, number: Number) -> Number:
        """The number with this in its place, and where it comes from."""
        source = f"{OWN_RECORD}, {self.lots} lots"
        return replace(number, values=(float(self.days),), high=None, source=source)


@dataclass(frozen=True, slots=True, kw_only=True)
class Protocols:
    """The bench's numbers, with what a crew's record taught on top of them, and its own rules on top of that."""

    numbers: Mapping[str, Number]
    rules: tuple[_Rule, ...] = ()
    unread: tuple[Record, ...] = field(default=(), repr=False)
    learned: tuple[Learned, ...] = ()

    def for_plant(
        self, plant: str | None, *, wood: str | None = None, lot: str | None = None, trays: tuple[str, ...] = ()
    ) -> Protocol:
        """What holds for a plant as texted (None: any plant), of this wood, in this lot and these trays."""
        numbers = dict(self.numbers)
        for name in BY_PLANT:
            found = fact_of(plant, name, wood if name in ("first_root_check", "weaning_start") else None)
            if found is not None and found.low is not None:
                numbers[name] = Number(
                    name=name, unit="days", values=(found.low,), high=found.high, says=found.words, source=found.cite()
                )
            elif name not in numbers:
                raise BadTradeFile(f"plants.csv has no {name} for default", words=name)
        for one in self.learned:
            if one.fits(plant, wood):
                numbers[one.name] = one.over(numbers[one.name])
        if self.rules:
            known = frozenset(names_of(plant)) - {"default"} if plant else frozenset()
            near = [(rule.reaches(known, lot, trays), rule) for rule in self.rules]
            for _, rule in sorted((pair for pair in near if pair[0]), key=lambda pair: pair[0]):
                numbers[rule.change.name] = _changed(numbers[rule.change.name], rule)
        return Protocol(plant=plant, numbers=numbers)

    def with_rules(self, records: Iterable[Record]) -> Protocols:
        """These protocols with the crew's own changes (records of act rule) on top, in the order said.

        What no rule was read from stands in `unread`.
        """
        rules, unread = [], []
        for record in in_order(record for record in records if record.entry.act is Act.RULE):
            entry = record.entry
            change = read_rule(entry.what or "", entry.plant)
            if change is None or (change.name not in self.numbers and change.name not in BY_PLANT):
                unread.append(record)
                continue
            lots = tuple(dict.fromkeys((*((record.lot,) if record.lot else ()), *entry.lots)))
            rules.append(
                _Rule(change=change, plant=entry.plant, lots=lots, trays=entry.trays or (), said=record.said or "")
            )
        return replace(self, rules=(*self.rules, *rules), unread=(*self.unread, *unread))

    def with_learned(self, learned: Iterable[Learned]) -> Protocols:
        """These protocols with what the crew's own record taught; a rule that the crew said still wins over it."""
        return replace(self, learned=(*self.learned, *learned))

    def working_hours(self, solution: str) -> float | None:
        """For how many hours a solution is used after mixing, or None where no rule names it."""
        name = f"{solution}_lasts"
        if name not in self.numbers:
            return None
        return self.for_plant(None).minutes(name) / 60


@cache
def protocols() -> Protocols:
    """The protocols of the files. Raises BadTradeFile with the name of the number that cannot be read."""
    try:
        told = tomllib.loads(files("core.treatments").joinpath("times.toml").read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as wrong:
        raise BadTradeFile(f"times.toml cannot be read: {wrong}", words="times.toml") from wrong
    return Protocols(numbers={name: _read_number(name, table) for name, table in told.items()})


def _read_number(name: str, table: Mapping[str, Any]) -> Number:
    given = [unit for unit in (*_UNITS, "hours") if unit in table]
    if len(given) != 1 or not table.get("source") or not table.get("says"):
        raise BadTradeFile(f"times.toml: {name} needs one number, says and source", words=name)
    unit = given[0]
    listed = table[unit] if isinstance(table[unit], list) else [table[unit]]
    try:
        values: tuple[Value, ...] = tuple(time.fromisoformat(one) if unit == "at" else float(one) for one in listed)
    except (TypeError, ValueError) as wrong:
        raise BadTradeFile(f"times.toml: {name} cannot be {table[unit]!r}", words=name) from wrong
    if unit == "hours":
        unit, values = "minutes", tuple(float(value) * 60 for value in values if not isinstance(value, time))
    return Number(name=name, unit=unit, values=values, says=table["says"], source=table["source"])


def _changed(number: Number, rule: _Rule) -> Number:
    value = rule.change.value
    values: tuple[Value, ...] = (value,)
    rest = [one for one in number.values if not isinstance(one, time)]
    if len(rest) > 1 and not isinstance(value, time) and number.unit == "days":
        values = tuple(max(0.0, value + one - rest[0]) for one in rest)
    elif len(number.values) > 1:
        values = (value, *(one for one in number.values[1:] if one > value))  # type: ignore[operator]
    return replace(number, values=values, high=None, source=f"the crew: {rule.said or rule.change.said}")


def _accepted(plant: str) -> list[str]:
    """The botanical names that a rule's plant means, in lower case: for a species not its genus."""
    return [name for name in list(names_of(plant))[1:2] if name != "default"]
