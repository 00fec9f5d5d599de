"""Which of two pots is the smaller, by what they hold; which size the words of a note name; how many stand in each.

Rules
1. Pots that are neither all of one size nor named by their size when some go are from then not told apart.
2. What was potted on came out of the pots that the note names, else out of the only smaller ones.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Final

from core.entries import Container
from core.lots.phrases import phrases

UNKNOWN: Final = ""
"""The size of pots of which nobody said it."""
_OR: Final = " or "
_SIZE: Final = re.compile(r"((?:\d+ )?\d+(?:\.\d+|/[1-9]\d*)?)\s*(in|gal|qt|l|cm|ml)\b")
"""`4 in`, `3.5 in`, `3 1/2 in`, `1 gal`."""


def size_of(container: Container | None) -> str:
    """What the pots of a container are told apart by: their size, else their kind ("4 in", "band")."""
    if container is None:
        return UNKNOWN
    return container.size or (container.kind if container.kind != "pot" else UNKNOWN)


def is_smaller(one: Container | None, other: Container | None) -> bool:
    """Whether a pot is surely smaller than another: a `4 in` than a `1 gal`."""
    return is_smaller_size(size_of(one), size_of(other))


def is_smaller_size(one: str, other: str) -> bool:
    """Whether a size of pot is surely smaller than another."""
    litres, more = _litres(one), _litres(other)
    return litres is not None and more is not None and litres < more


def _litres(size: str) -> float | None:
    """Roughly what a pot holds, for telling the bigger of two; None for cells, trays and pots without a size."""
    found = _SIZE.match(size)
    if found is None:
        return dict(phrases().pot_litres).get(size)
    number, unit = float(sum(Fraction(part) for part in found[1].split())), found[2]
    # A pot as wide as tall, tapered, holds about 0.6 of its cube (common practice); trade gallons are not full gallons.
    cubes = {"in": 0.6 * (number * 0.254) ** 3, "cm": 0.6 * (number * 0.1) ** 3}
    return cubes.get(unit, number * {"gal": 2.8, "qt": 0.95, "l": 1.0, "ml": 0.001}.get(unit, 1.0))


def sizes_named(words: str | None, sizes: Iterable[str]) -> tuple[str, ...]:
    """Which of these sizes the words name ("from 4 in", "of the gallons", "5 bands")."""
    said = " ".join((words or "").lower().replace('"', " in ").split())
    return tuple(size for size in sizes if size and any(_names(said, name) for name in _names_of(size)))


def _names(said: str, name: str) -> bool:
    return re.search(rf"(?<![\d.]){name}(?!\w)", said) is not None


def _names_of(size: str) -> list[str]:
    """Patterns for what a size is called: of `1 gal` "1 gal", "gallons"; of `4 in` "4in", "4 ins", "fours"."""
    units = dict(phrases().pot_units)
    found = _SIZE.fullmatch(size)
    if found is None:
        return [rf"\b{re.escape(size)}s?"]
    number, unit = re.escape(found[1]), "|".join(map(re.escape, units.get(found[2], (found[2],))))
    names = [rf"{number}[ -]?(?:{unit})", *(re.escape(name) for name in dict(phrases().pot_names).get(size, ()))]
    # "Gallons" alone are of one gallon, whatever count stands before them.
    return [*names, rf"(?<!\d )\b(?:{unit})"] if found[1] == "1" and found[2] != "in" else names


def may_go_on(pots: Mapping[str, int], into: Container | None) -> bool:
    """Whether plants may have gone from some of these pots into those of a container: not from as big ones."""
    size = size_of(into)
    return any(
        count and (UNKNOWN in (one, size) or (one != size and not is_smaller_size(size, one)))
        for one, count in pots.items()
    )


def potted_on(pots: Counter[str], count: int, size: str, words: str | None) -> None:
    """So many plants went from other pots into those of this size."""
    named = [one for one in sizes_named(words, pots) if one != size]
    others = [one for one in pots if one != size and pots[one] and not is_smaller_size(size, one)]
    _take(pots, count, named if len(named) == 1 else [], others)
    pots[size] += count


def taken(pots: Counter[str], count: int, words: str | None) -> None:
    """So many plants in pots are gone, of the size that the words name."""
    named = sizes_named(words, pots)
    _take(pots, count, named if len(named) == 1 else (), [one for one in pots if pots[one]])


def settle(pots: Counter[str], potted: int) -> None:
    """Makes the sizes agree with how many stand in pots; of those that are over nobody knows the size."""
    over = potted - sum(pots.values())
    if over < 0:
        _take(pots, -over, (), [one for one in pots if pots[one]])
    pots[UNKNOWN] += max(over, 0)


def _take(pots: Counter[str], count: int, named: Iterable[str], others: list[str]) -> None:
    count = _take_out(pots, count, named)
    holding = [one for one in others if pots[one]]
    if not count or not holding:
        return
    there = sum(pots[one] for one in holding)
    if len(holding) > 1 and count < there:
        # From which of them nobody said: they are no longer told apart.
        pots.update({one: -pots[one] for one in holding})
        pots[_either(holding)] += there - count
        return
    _take_out(pots, count, holding)


def _take_out(pots: Counter[str], count: int, sizes: Iterable[str]) -> int:
    """Takes so many out of one size after the other; how many are still to be taken."""
    for size in sizes:
        part = min(count, pots[size])
        pots[size] -= part
        count -= part
    return count


def _either(sizes: Iterable[str]) -> str:
    """What plants are told apart by that stand in one of these sizes, nobody knows in which: "1 gal or 4 in"."""
    parts = {part for size in sizes for part in parts_of_size(size)}
    return UNKNOWN if UNKNOWN in parts else _OR.join(sorted(parts))


def parts_of_size(size: str) -> list[str]:
    """The sizes that a size may be: one, but for "1 gal or 4 in"."""
    return size.split(_OR)


def in_size(pots: Iterable[tuple[str, int]], size: str, potted: int) -> int | None:
    """How many of the potted stand in pots of this size, or None where some of them may, and nobody knows."""
    known = dict(pots)
    if sum(known.values()) != potted:
        return None
    doubtful = any(len(parts := parts_of_size(one)) > 1 and size in parts for one in known)
    return None if doubtful or UNKNOWN in known else known.get(size, 0)
