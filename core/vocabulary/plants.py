"""Which plant is it: common and botanical names, as people text them, to accepted names.

Rules
1. A name leads to every plant that bears it. One candidate is an answer; several are a question, never a guess.
2. A cultivar stands in single quotes after its species or genus and is never in the file: crews bring their own.
3. Writing follows the codes: genus capitalised, epithet lower case (ICN, art. 60), cultivar epithet in single
   quotes with capitals (ICNCP, art. 14).
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from typing import Final

from core.errors import BadTradeFile

_CULTIVAR: Final = re.compile(r"\s*'([^']*)'\s*$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Plant:
    """A plant of the list: accepted botanical name, family, and the other names it goes by (lower case)."""

    botanical: str
    family: str
    common: tuple[str, ...]
    synonyms: tuple[str, ...]

    @property
    def genus(self) -> str:
        return self.botanical.split(" ")[0]


@cache
def listed() -> tuple[Plant, ...]:
    """Every plant of plants.csv; empty where there is no file. Raises BadTradeFile for a file without its columns."""
    path = files("core.vocabulary").joinpath("plants.csv")
    if not path.is_file():
        return ()
    lines = (
        line for line in path.read_text(encoding="utf-8").splitlines() if line.strip() and not line.startswith("#")
    )
    rows = csv.DictReader(lines)
    try:
        return tuple(
            Plant(
                botanical=row["botanical"].strip(),
                family=row["family"].strip(),
                common=_split(row["common"]),
                synonyms=_split(row["synonyms"]),
            )
            for row in rows
        )
    except KeyError as missing:
        raise BadTradeFile(f"plants.csv has no column {missing}", words="plants.csv") from missing


def _split(names: str | None) -> tuple[str, ...]:
    return tuple(" ".join(name.lower().split()) for name in (names or "").split(";") if name.strip())


@cache
def _by_name() -> dict[str, tuple[Plant, ...]]:
    found: dict[str, list[Plant]] = {}
    for plant in listed():
        names: Iterable[str] = (plant.botanical.lower(), *plant.common, *plant.synonyms)
        for name in dict.fromkeys(_plain(one) for one in names):
            found.setdefault(name, []).append(plant)
    return {name: tuple(plants) for name, plants in found.items()}


@cache
def _slips() -> dict[str, tuple[str, bool]]:
    """Misspelt names to the name that is meant, and whether nothing else can be."""
    name = "plant_misspellings.csv"
    path = files("core.vocabulary").joinpath(name)
    lines = (line for line in path.read_text(encoding="utf-8").splitlines() if line.strip() and line[0] != "#")
    try:
        return {_plain(row["texted"]): (_plain(row["meant"]), row["sure"] == "yes") for row in csv.DictReader(lines)}
    except KeyError as missing:
        raise BadTradeFile(f"{name} has no column {missing}", words=name) from missing


def misspelt_names() -> frozenset[str]:
    """Every misspelt name that can mean one plant only."""
    return frozenset(name for name, (_, sure) in _slips().items() if sure)


@lru_cache(maxsize=4096)
def right_name(name: str) -> str | None:
    """The name that a misspelt one means, where nothing else can be meant; None for any other name."""
    meant, sure = _slips().get(_plain(name), ("", False))
    return meant if sure else None


def perhaps(name: str) -> str | None:
    """The plant that an everyday word may be a keyboard's guess for (`toyota`: toyon); None where the word is none."""
    meant, sure = _slips().get(_plain(split_cultivar(name)[0]), ("", True))
    return None if sure else meant


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").replace("’", "'").split())


def plant_names() -> frozenset[str]:
    """Every name, lower case, that a plant of the list goes by; hyphens as spaces."""
    return frozenset(_by_name())


def split_cultivar(name: str) -> tuple[str, str | None]:
    """The name without its cultivar, and the cultivar without quotes: "yarrow 'skiff'" is ("yarrow", "skiff")."""
    found = _CULTIVAR.search(name.replace("’", "'").replace("‘", "'"))
    return (name[: found.start()].strip(), found[1].strip()) if found else (name.strip(), None)


def candidates(name: str) -> tuple[Plant, ...]:
    """Every plant that `name` may mean: none for an unknown name, several where people use it for several.

    A genus row counts as one candidate of its own: "salvia" is the genus, not each of its species.
    """
    plain, _ = split_cultivar(name)
    known = _by_name()
    key = _plain(plain)
    if key not in known and key.endswith("s"):
        key = key[:-1] if key[:-1] in known else key[:-2] if key.endswith("es") else key
    return known.get(key) or known.get(right_name(plain) or "", ())


def botanical_name(name: str) -> str | None:
    """The accepted botanical name of the one plant that `name` means, without cultivar; None if unknown or
    ambiguous.
    """
    found = candidates(name)
    return found[0].botanical if len(found) == 1 else None


def family(name: str) -> str | None:
    """The family of the plant, also where several candidates agree on it; None if unknown or in dispute."""
    families = {plant.family for plant in candidates(name)}
    return families.pop() if len(families) == 1 else None


def genus(name: str) -> str | None:
    """The genus of the plant, also where several candidates agree on it; None if unknown or in dispute."""
    genera = {plant.genus for plant in candidates(name)}
    return genera.pop() if len(genera) == 1 else None


def same_plant(one: str, other: str) -> bool:
    """Whether two names as texted mean the same plant: same accepted name and, where either has one, same cultivar."""
    (first, first_cultivar), (second, second_cultivar) = split_cultivar(one), split_cultivar(other)
    if (first_cultivar or "").lower() != (second_cultivar or "").lower():
        return False
    if _plain(first) == _plain(second):
        return True
    accepted = botanical_name(first)
    return accepted is not None and accepted == botanical_name(second)
