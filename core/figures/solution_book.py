"""What do the crew's tables say of bleach, alcohol and hormones: solutions.toml, read once and checked."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Final, TypeVar

from core.errors import BadTradeFile
from core.figures.measures import BadMeasure
from core.figures.trade_blocks import read_block, read_blocks

_FILE: Final = "solutions.toml"
Page = TypeVar("Page")


@dataclass(frozen=True, slots=True, kw_only=True)
class Jug:
    """A strength of bleach that jugs are sold in, % sodium hypochlorite."""

    percent: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactTime:
    """How long a surface stays wet or a pot soaks, minutes, for one use."""

    use: str
    minutes_least: float
    minutes_most: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeRule:
    """One published answer to how long a solution stays good; the half-life or monthly loss where one is stated."""

    rule: str
    hours: float
    source: str
    half_life_hours: float | None = None
    monthly_loss_share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BleachPage:
    """What the book says of bleach. Percents are of sodium hypochlorite; `life[0]` is the rule in force."""

    caution: str
    wanted_percent: float
    wanted_source: str
    assumed_label_percent: float
    assumed_label_source: str
    weakest_label_percent: float
    strongest_label_percent: float
    strong_solution_percent: float
    strong_solution_source: str
    jugs: tuple[Jug, ...]
    contacts: tuple[ContactTime, ...]
    life: tuple[LifeRule, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AlcoholPage:
    """The span of strengths that disinfects, % by volume."""

    caution: str
    least_percent: float
    most_percent: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Compound:
    """A growth regulator or its salt: g/mol, and for a salt the acid whose ppm the trade counts."""

    name: str
    molar_mass: float
    water_soluble: bool
    acts_as: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodStrength:
    """The usual span of ppm for one kind of wood."""

    wood: str
    ppm_least: float
    ppm_most: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DipMethod:
    """A way of giving a liquid hormone: its span of ppm and of seconds."""

    name: str
    ppm_least: float
    ppm_most: float
    seconds_least: int
    seconds_most: int
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HormonePage:
    """What the book says of rooting hormones."""

    caution: str
    talc_mg_a_cutting: float
    talc_source: str
    compounds: tuple[Compound, ...]
    strengths: tuple[WoodStrength, ...]
    methods: tuple[DipMethod, ...]
    life: tuple[LifeRule, ...]

    def compound(self, name: str) -> Compound:
        """The compound of that name, any case. Raises BadMeasure for a name that the book does not hold."""
        for one in self.compounds:
            if one.name == name.casefold():
                return one
        known = ", ".join(one.name for one in self.compounds)
        raise BadMeasure(f"no molar mass for {name}", words=name, hint=f"known: {known}")


@dataclass(frozen=True, slots=True, kw_only=True)
class SolutionBook:
    """The whole of solutions.toml."""

    bleach: BleachPage
    alcohol: AlcoholPage
    hormone: HormonePage


@cache
def open_book() -> SolutionBook:
    """The book that ships with the program. Raises BadTradeFile where a grower's edit made it unreadable."""
    return read_book(files("core.figures").joinpath(_FILE).read_text(encoding="utf-8"))


def read_book(text: str) -> SolutionBook:
    """A solution book from TOML text. Raises BadTradeFile with what is missing, unknown or no number."""
    try:
        pages = tomllib.loads(text)
        bleach, alcohol, hormone = pages["bleach"], pages["alcohol"], pages["hormone"]
    except (tomllib.TOMLDecodeError, KeyError) as wrong:
        raise BadTradeFile(f"{_FILE} cannot be read: {wrong}", hint="undo the last edit of that file") from wrong
    return SolutionBook(
        bleach=_page(BleachPage, bleach, jugs=(Jug, "jug"), contacts=(ContactTime, "contact"), life=(LifeRule, "life")),
        alcohol=read_block(AlcoholPage, alcohol, file=_FILE),
        hormone=_page(
            HormonePage,
            hormone,
            compounds=(Compound, "compound"),
            strengths=(WoodStrength, "strength"),
            methods=(DipMethod, "method"),
            life=(LifeRule, "life"),
        ),
    )


def _page(kind: type[Page], page: dict[str, Any], **lists: tuple[type[Any], str]) -> Page:
    listed = {name: read_blocks(block, page.get(key), file=_FILE) for name, (block, key) in lists.items()}
    plain = {key: value for key, value in page.items() if key not in {key for _, key in lists.values()}}
    return read_block(kind, plain | listed, file=_FILE)
