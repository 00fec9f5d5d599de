"""What a reading is: the entries of a note, what must be asked, and which words were mended."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.entries import Entry


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """What the crew knows beyond the vocabulary: its plants, people, places and sources (lower case), and whether a
    misspelt plant is put right (as in talk) or left as texted.
    """

    plants: tuple[str, ...] = ()
    people: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    puts_plants_right: bool = False


NO_NAMES = Names()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One thing to ask: its kind (one of KNOWN_ASKS), the index of the entry it concerns, and the readings to
    choose from.
    """

    kind: str
    entry: int | None = None
    choices: tuple[Entry | str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair:
    """A misspelt word and what it was read as."""

    read: str
    as_: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A note as understood: entries in the note's order, what to ask, and the repaired words."""

    entries: tuple[Entry, ...] = ()
    asks: tuple[Ask, ...] = ()
    repairs: tuple[Repair, ...] = ()

    def as_keys(self) -> dict[str, Any]:
        """The reading as `benchhand parse` prints it: entries under their keys, asks as kinds, each once."""
        return {
            "entries": [entry.as_keys() for entry in self.entries],
            "asks": list(dict.fromkeys(ask.kind for ask in self.asks)),
        }
