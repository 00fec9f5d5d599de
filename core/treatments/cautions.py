"""Which caution belongs to an act, and the line of an emergency: from cautions.toml, which a grower can correct."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from core.entries import Entry
from core.errors import BadTradeFile
from core.vocabulary.plants import genus as genus_of

LONGEST_LINE = 160
_WORD = re.compile(r"\w+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A caution: its name, its one line, and the entries and words that call for it."""

    name: str
    text: str
    when: tuple[dict[str, Any], ...]
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Emergency:
    """An emergency: name, its one line, the words that tell of it, and words of which one must stand beside them.

    `together`: in one statement with them; `joined`: more such words, which count only where a small word joins
    the two.
    """

    name: str
    text: str
    words: tuple[str, ...]
    beside: tuple[str, ...] = ()
    together: bool = False
    joined: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionPage:
    """All cautions, the emergencies, and the genera that are eaten or hurt."""

    cautions: tuple[Caution, ...]
    emergencies: tuple[Emergency, ...]
    genera: dict[str, frozenset[str]]


@cache
def caution_page() -> CautionPage:
    """The page of cautions. Raises BadTradeFile where a line is too long or has no words."""
    told = tomllib.loads(files("core.treatments").joinpath("cautions.toml").read_text(encoding="utf-8"))
    for one in (*told["caution"], *told["emergency"]):
        if not 0 < len(one["text"]) <= LONGEST_LINE or not one.get("source"):
            raise BadTradeFile(f"caution {one['name']}: a line of at most {LONGEST_LINE} characters, with a source")
    return CautionPage(
        cautions=tuple(
            Caution(
                name=one["name"],
                text=one["text"],
                when=tuple(one.get("when", ())),
                words=tuple(one.get("words", ())),
            )
            for one in told["caution"]
        ),
        emergencies=tuple(
            Emergency(
                name=one["name"],
                text=one["text"],
                words=tuple(one["words"]),
                beside=tuple(one.get("with", ())),
                together=one.get("together", False),
                joined=tuple(one.get("joined", ())),
            )
            for one in told["emergency"]
        ),
        genera={name: frozenset(genera) for name, genera in told["genera"].items()},
    )


def hazards_of(entry: Entry, said: str = "") -> tuple[str, ...]:
    """The names of the cautions that an entry, or the words it was said in, calls for."""
    page = caution_page()
    told = " ".join(_WORD.findall(said.lower()))
    words = f" {told} "
    return tuple(
        caution.name
        for caution in page.cautions
        if any(_fits(entry, wanted, page) for wanted in caution.when)
        or any(f" {word} " in words for word in caution.words)
    )


def caution_text(name: str) -> str:
    """The line of a caution. Raises KeyError for a name that the page does not hold."""
    return {caution.name: caution.text for caution in caution_page().cautions}[name]


def safety_text(kind: str) -> str:
    """The one line of an emergency of this kind."""
    return {emergency.name: emergency.text for emergency in caution_page().emergencies}[kind]


def _fits(entry: Entry, wanted: dict[str, Any], page: CautionPage) -> bool:
    return all(_has(entry, key, value, page) for key, value in wanted.items())


def _has(entry: Entry, key: str, value: Any, page: CautionPage) -> bool:
    if key == "genus":
        genus = genus_of(entry.plant) if entry.plant else None
        return genus in page.genera[value]
    allowed = {value} if isinstance(value, str) else set(value)
    if key == "hormone":
        return entry.hormone is not None and (entry.hormone.form or "powder") in allowed
    if key == "things":
        return any(word in allowed for thing in entry.things for word in (thing, *thing.split()))
    return getattr(entry, key) in allowed
