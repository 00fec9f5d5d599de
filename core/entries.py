"""What is an entry: one act on the bench, valid or impossible to build.

Rules
1. An entry says only what its note says: a key that the note does not give is None (or empty), never a default.
2. `as_keys` and `from_keys` are inverse; their keys are the published ones of `benchhand parse` and `benchhand export`.
3. Dates inside an entry are the crew's local ones; instants belong to records.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date, datetime, time
from enum import StrEnum
from typing import Any, Final

from core.errors import BadEntry
from core.lengths import Length

LocalMoment = date | datetime
"""A local date, or a local date and time (naive wall clock of the crew's zone)."""

MOST_PLANTS: Final = 999_999
WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
KNOWN_STATES: Final = ("rooted", "callused", "alive", "germinated", "roots_out", "flowering", "ready")
KNOWN_ASKS: Final = (
    "lot", "count", "plant", "act", "date", "number", "state", "unit", "open", "solution", "to", "text",
)  # fmt: skip


class Act(StrEnum):
    """What was done, seen, wanted or said."""

    COLLECT = "collect"
    STICK = "stick"
    DIVIDE = "divide"
    SOW = "sow"
    TREAT = "treat"
    COVER = "cover"
    VENT = "vent"
    AIR = "air"
    UNCOVER = "uncover"
    WILT = "wilt"
    WATER = "water"
    CHECK = "check"
    LOSE = "lose"
    POT = "pot"
    MOVE = "move"
    HARDEN = "harden"
    TEND = "tend"
    MERGE = "merge"
    SPLIT = "split"
    SELL = "sell"
    GIVE = "give"
    PLANT_OUT = "plant_out"
    HOLD = "hold"
    CLEAR = "clear"
    RESERVE = "reserve"
    ROSTER = "roster"
    MIX = "mix"
    POUR_OUT = "pour_out"
    SANITIZE = "sanitize"
    TEMP = "temp"
    TARGET = "target"
    REMIND = "remind"
    REPLY = "reply"
    RULE = "rule"
    UNDO = "undo"
    AMEND = "amend"
    ASK = "ask"
    HELLO = "hello"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """A quantity: `value` above zero in `unit` (`ml l tsp tbsp cup pt qt gal g kg oz lb packet handful bag`)."""

    value: float
    unit: str

    def as_keys(self) -> dict[str, Any]:
        return {"value": _plain(self.value), "unit": self.unit}


@dataclass(frozen=True, slots=True, kw_only=True)
class Hormone:
    """A rooting hormone as noted: form (`powder liquid gel none`), strength in ppm, name, seconds of dip; as known."""

    form: str | None = None
    ppm: float | None = None
    name: str | None = None
    seconds: int | None = None

    def as_keys(self) -> dict[str, Any]:
        pairs = {"form": self.form, "ppm": _plain(self.ppm), "name": self.name, "seconds": self.seconds}
        return {key: value for key, value in pairs.items() if value is not None}


@dataclass(frozen=True, slots=True, kw_only=True)
class Container:
    """A kind of container (`six-pack cell pot …`), how many of them, and a pot's size as texted (`4 in`, `1 gal`)."""

    kind: str
    count: int | None = None
    size: str | None = None

    def as_keys(self) -> dict[str, Any]:
        pairs = {"kind": self.kind, "count": self.count, "size": self.size}
        return {key: value for key, value in pairs.items() if value is not None}


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceShare:
    """One of several mother plants or places of a lot, with the count that came from it."""

    source: str
    count: int | None = None

    def as_keys(self) -> dict[str, Any]:
        return {"source": self.source} if self.count is None else {"source": self.source, "count": self.count}


@dataclass(frozen=True, slots=True, kw_only=True)
class Exceptions:
    """What a "done" leaves out: trays or lots."""

    lots: tuple[str, ...] = ()
    trays: tuple[str, ...] = ()

    def as_keys(self) -> dict[str, Any]:
        return {key: list(named) for key, named in (("lots", self.lots), ("trays", self.trays)) if named}


_KEY_OF_FIELD: Final = {"all_of": "all", "vent_open": "open", "from_time": "from"}
_FIELD_OF_KEY: Final = {key: name for name, key in _KEY_OF_FIELD.items()}


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One act, with what the note said of it. Raises BadEntry where the values cannot be true of any bench."""

    act: Act
    lots: tuple[str, ...] = ()
    trays: tuple[str, ...] = ()
    plant: str | None = None
    count: int | None = None
    count_max: int | None = None
    approx: bool = False
    more: bool = False
    all_of: bool = False
    on: LocalMoment | None = None
    by: str | None = None
    what: str | None = None
    amount: Amount | None = None
    bagged: bool = False
    source: str | None = None
    sources: tuple[SourceShare, ...] = ()
    cutting: str | tuple[str, ...] | None = None
    wood: str | None = None
    hormone: Hormone | None = None
    medium: str | None = None
    container: Container | None = None
    treatment: str | None = None
    duration: Length | None = None
    duration_max: Length | None = None
    temp_c: float | None = None
    ends: bool = False
    vent_open: float | None = None
    times: int | None = None
    method: str | None = None
    depth_in: float | None = None
    state: str | None = None
    of: int | None = None
    share: float | None = None
    sample: bool = False
    cause: str | None = None
    left: int | None = None
    to: str | None = None
    care: str | None = None
    who: tuple[str, ...] = ()
    from_time: time | None = None
    until: time | None = None
    every: tuple[str, ...] = ()
    solution: str | None = None
    parts: tuple[float, ...] = ()
    volume: Amount | None = None
    things: tuple[str, ...] = ()
    humidity: float | None = None
    place: str | None = None
    due: date | None = None
    text: str | None = None
    at: LocalMoment | None = None
    answer: str | None = None
    but: Exceptions | None = None
    about: str | None = None
    did: str | None = None
    want: str | None = None
    rest: str | None = None

    def __post_init__(self) -> None:
        for name in ("count", "count_max", "of", "left"):
            number = getattr(self, name)
            if number is not None and not 0 <= number <= MOST_PLANTS:
                raise BadEntry(f"{name} {number} is no count of plants", words=str(number), hint="text the count again")
        for name in ("share", "vent_open", "humidity"):
            fraction = getattr(self, name)
            if fraction is not None and not 0 <= fraction <= 1:
                raise BadEntry(f"{name} {fraction} is not between 0 and 1", words=str(fraction))
        if self.temp_c is not None and not -60 <= self.temp_c <= 130:
            raise BadEntry(f"{self.temp_c} C is no temperature of a bench", words=str(self.temp_c))
        if self.state is not None and self.state not in KNOWN_STATES:
            raise BadEntry(f"no such state: {self.state}", words=self.state)

    @classmethod
    def saying(cls, act: Act, said: Mapping[str, Any]) -> Entry:
        """The entry of an act with these fields, which holds nothing else; the reader builds its entries so. Raises
        BadEntry as the class does, and TypeError for what is no field.
        """
        if not said.keys() <= cls.__dataclass_fields__.keys():
            raise TypeError(f"no fields of an entry: {sorted(said.keys() - cls.__dataclass_fields__.keys())}")
        entry = object.__new__(cls)
        entry.__dict__.update(said, act=act)
        entry.__post_init__()
        return entry

    def as_keys(self) -> dict[str, Any]:
        """The entry under its published keys, JSON values only, absent where the note was silent."""
        keys: dict[str, Any] = {}
        for place in fields(self):
            value = getattr(self, place.name)
            if value is None or value is False or value == ():
                continue
            keys[_KEY_OF_FIELD.get(place.name, place.name)] = _to_json(value)
        return keys

    @classmethod
    def from_keys(cls, keys: Mapping[str, Any]) -> Entry:
        """The entry that `as_keys` wrote. Raises BadEntry for unknown keys or values of the wrong form."""
        known = {place.name for place in fields(cls)}
        values: dict[str, Any] = {}
        for key, value in keys.items():
            name = _FIELD_OF_KEY.get(key, key)
            if name not in known:
                raise BadEntry(f"an entry has no key {key!r}", words=key)
            try:
                values[name] = _READ_KEY[name](value) if name in _READ_KEY else value
            except (TypeError, ValueError, KeyError) as wrong:
                raise BadEntry(f"{key} cannot be {value!r}", words=str(value)) from wrong
        return cls(**values)


def read_moment(text: str) -> LocalMoment:
    """A local date (`2026-03-01`) or date and time (`2026-03-01T15:00`). Raises ValueError for anything else."""
    return datetime.fromisoformat(text) if "T" in text else date.fromisoformat(text)


def write_moment(moment: LocalMoment) -> str:
    """A date, or a date and time to the minute, in ISO 8601."""
    return moment.isoformat(timespec="minutes") if isinstance(moment, datetime) else moment.isoformat()


def _plain(number: float | None) -> float | int | None:
    return int(number) if number is not None and number == int(number) else number


def _to_json(value: Any) -> Any:
    if isinstance(value, (Amount, Hormone, Container, SourceShare, Exceptions)):
        return value.as_keys()
    if isinstance(value, Length):
        return value.iso()
    if isinstance(value, time):
        return value.isoformat(timespec="minutes")
    if isinstance(value, date):
        return write_moment(value)
    if isinstance(value, tuple):
        return [_to_json(one) for one in value]
    if isinstance(value, StrEnum):
        return value.value
    return _plain(value) if isinstance(value, float) else value


def _texts(value: Any) -> tuple[str, ...]:
    return tuple(str(one) for one in value)


_READ_KEY: Final[dict[str, Any]] = {
    "act": Act,
    "lots": _texts,
    "trays": _texts,
    "on": read_moment,
    "amount": lambda value: Amount(**value),
    "volume": lambda value: Amount(**value),
    "sources": lambda value: tuple(SourceShare(**one) for one in value),
    "cutting": lambda value: value if isinstance(value, str) else _texts(value),
    "hormone": lambda value: Hormone(**value),
    "container": lambda value: Container(**value),
    "duration": Length.from_iso,
    "duration_max": Length.from_iso,
    "who": _texts,
    "from_time": time.fromisoformat,
    "until": time.fromisoformat,
    "every": _texts,
    "parts": tuple,
    "things": _texts,
    "due": date.fromisoformat,
    "at": read_moment,
    "but": lambda value: Exceptions(**{key: _texts(named) for key, named in value.items()}),
}
