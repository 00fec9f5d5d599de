"""Which words at the bench say that a thing is over, has begun, or stands in the cold: the door to phrases.toml."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from core.errors import BadTradeFile

_FILE = "phrases.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Phrases:
    """The phrases of phrases.toml, each list a tuple."""

    air_over: tuple[str, ...]
    air_begun: tuple[str, ...]
    air_about: tuple[str, ...]
    soak_over: tuple[str, ...]
    soak_begun: tuple[str, ...]
    soak_going_on: tuple[str, ...]
    loss_state: tuple[str, ...]
    loss_change: tuple[str, ...]
    loss_more: tuple[str, ...]
    loss_in_all: tuple[str, ...]
    loss_slang: tuple[str, ...]
    loss_gone: tuple[str, ...]
    loss_how: tuple[str, ...]
    loss_of: tuple[tuple[str, tuple[str, ...]], ...]
    loss_but: tuple[str, ...]
    loss_between: tuple[str, ...]
    loss_others: tuple[tuple[str, str], ...]
    split_mixed: tuple[str, ...]
    sold_out: tuple[str, ...]
    reserved: tuple[str, ...]
    them: tuple[str, ...]
    each: tuple[str, ...]
    together: tuple[str, ...]
    cold_places: tuple[str, ...]
    back_places: tuple[str, ...]
    moved_some: tuple[str, ...]
    moved_rest: tuple[str, ...]
    pot_sizes: tuple[str, ...]
    pot_units: tuple[tuple[str, tuple[str, ...]], ...]
    pot_names: tuple[tuple[str, tuple[str, ...]], ...]
    pot_litres: tuple[tuple[str, float], ...]
    potted_on: tuple[str, ...]
    pots_go_on: tuple[str, ...]
    warm_had: tuple[str, ...]
    warm_then: tuple[str, ...]
    not_looked: tuple[str, ...]
    trouble_where: tuple[str, ...]
    trouble_what: tuple[str, ...]
    trouble_over: tuple[str, ...]
    trouble_days: tuple[tuple[str, int], ...]


@cache
def phrases() -> Phrases:
    """The phrases as the crew's file has them, read once. Raises BadTradeFile where the file cannot be read."""
    try:
        tables = tomllib.loads(files("core.lots").joinpath(_FILE).read_text(encoding="utf-8"))
        return _arrange(tables)
    except (tomllib.TOMLDecodeError, OSError, KeyError, TypeError, ValueError) as wrong:
        hint = "mend it as its header says"
        raise BadTradeFile(f"{_FILE} cannot be read: {wrong}", words=_FILE, hint=hint) from wrong


def _arrange(tables: dict[str, Any]) -> Phrases:
    def words(table: str, key: str) -> tuple[str, ...]:
        return tuple(str(phrase) for phrase in tables[table][key])

    return Phrases(
        air_over=words("air", "over"),
        air_begun=words("air", "begun"),
        air_about=words("air", "about"),
        soak_over=words("soak", "over"),
        soak_begun=words("soak", "begun"),
        soak_going_on=words("soak", "going_on"),
        loss_state=words("loss", "state_words"),
        loss_change=words("loss", "change_words"),
        loss_more=words("loss", "more_words"),
        loss_in_all=words("loss", "in_all"),
        loss_slang=words("loss", "slang"),
        loss_gone=words("loss", "gone"),
        loss_how=words("loss", "how"),
        loss_of=tuple((str(pool), tuple(map(str, said))) for pool, said in tables["loss"]["of"].items()),
        loss_but=tuple(map(str, tables["loss"]["but"]["words"])),
        loss_between=tuple(map(str, tables["loss"]["but"]["between"])),
        loss_others=tuple((str(kind), str(others)) for kind, others in tables["loss"]["but"]["others"].items()),
        split_mixed=words("split", "mixed"),
        sold_out=words("sold_out", "words"),
        reserved=words("reserved", "words"),
        them=words("them", "words"),
        each=words("each", "words"),
        together=words("each", "together"),
        cold_places=words("places", "cold"),
        back_places=words("places", "back"),
        moved_some=words("moved", "some"),
        moved_rest=words("moved", "rest"),
        pot_sizes=words("pots", "sizes"),
        pot_units=tuple((str(unit), tuple(map(str, said))) for unit, said in tables["pots"]["units"].items()),
        pot_names=tuple((str(size), tuple(map(str, said))) for size, said in tables["pots"]["names"].items()),
        pot_litres=tuple((str(kind), float(litres)) for kind, litres in tables["pots"]["litres"].items()),
        potted_on=words("pots", "on"),
        pots_go_on=words("pots", "goes_on"),
        warm_had=words("one_after_the_other", "had"),
        warm_then=words("one_after_the_other", "then"),
        not_looked=words("looks", "none"),
        trouble_where=words("cold_trouble", "where"),
        trouble_what=words("cold_trouble", "what"),
        trouble_over=words("cold_trouble", "over"),
        trouble_days=tuple((str(phrase), int(days)) for phrase, days in tables["cold_trouble"]["days"].items()),
    )


def longest_in(text: str, wanted: Iterable[str]) -> int:
    """The number of letters of the longest phrase of `wanted` that stands in `text` as whole words; 0 for none."""
    lowered = " ".join(text.lower().split())
    return max((len(phrase) for phrase in wanted if _stands_in(lowered, phrase)), default=0)


def says(text: str, wanted: Iterable[str]) -> bool:
    """True where a phrase of `wanted` stands in `text` as whole words."""
    return longest_in(text, wanted) > 0


def _stands_in(text: str, phrase: str) -> bool:
    start = text.find(phrase)
    while start >= 0:
        end = start + len(phrase)
        before, after = text[start - 1 : start], text[end : end + 1]
        if not (before.isalnum() or after.isalnum()):
            return True
        start = text.find(phrase, start + 1)
    return False


def lost_of(rest: str | None) -> str | None:
    """Which plants a loss was of ("potted" …), by the words kept with it; None where they do not say. Of "all but the
    unrooted ones" it was the others.
    """
    if not rest:
        return None
    found = {pool: longest_in(rest, said) for pool, said in phrases().loss_of}
    best = max(found, key=lambda pool: found[pool])
    if not found[best]:
        return None
    return dict(phrases().loss_others).get(best) if _left_out(best).search(rest.lower()) else best


@cache
def _left_out(pool: str) -> re.Pattern[str]:
    """Words that leave out the plants of one kind."""
    known = phrases()
    but, between, said = (
        "|".join(re.escape(word) for word in sorted(some, key=len, reverse=True))
        for some in (known.loss_but, known.loss_between, dict(known.loss_of)[pool])
    )
    return re.compile(rf"\b(?:{but})\s+(?:(?:{between})\s+)*(?:{said})\b")


MIXED = "mixed"
"""What was split off where rooted and unrooted ones went together and nobody counted them apart."""


def parted_of(rest: str | None) -> str | None:
    """Which plants were split off ("rooted", "potted" … or MIXED), by the words kept with it; None where they do not
    say."""
    return MIXED if says(rest or "", phrases().split_mixed) else lost_of(rest)


_PARTS = re.compile(r"[,;\n&]|\.(?!\d)|\band\b|\bthen\b|\bwhile\b")


def parts_of(text: str) -> list[str]:
    """A note cut at commas, line ends, "and" and "then": roughly a part for each act."""
    return [part.strip() for part in _PARTS.split(text.lower()) if part.strip()]
