"""Whether two sizes of pots behind one number are two counts: "sold 2 sage 4in and 1 gal"."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Final

from core.answers import Choice
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.pot_sizes import sizes_named

TWO_SIZES: Final = "two_sizes"
"""The kind of question that asks it."""
GOING: Final = frozenset({Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.LOSE})
"""How plants go, which a size of pot may be told with."""
_BOTH: Final = re.compile(r"(?P<one>.+?) (?:and|&|plus) (?P<count>\d{1,3})[ -]?(?P<other>[a-z0-9].*)")


def of_two_sizes(entry: Entry, lot: Lot) -> tuple[Choice, ...]:
    """The buttons for both readings, or none where the words have only one."""
    found = _BOTH.fullmatch((entry.rest or "").lower())
    if found is None or entry.act not in GOING or entry.count is None:
        return ()
    sizes = [size for size, _ in lot.pots]
    one, other = (sizes_named(words, sizes) for words in (found["one"], found["other"]))
    if len(one) != 1 or len(other) != 1 or one == other:
        return ()
    first = replace(entry, rest=found["one"])
    second = replace(entry, count=int(found["count"]), rest=found["other"])
    both = {"choose": first.as_keys(), "also": second.as_keys(), "force": TWO_SIZES}
    return (
        Choice(label=f"{first.count} {first.rest} and {second.count} {second.rest}", action=both),
        Choice(label=f"{entry.count} in all", action={"force": TWO_SIZES}),
    )
