"""Which entries count plants, so that they belong to one lot and not to all the lots of a tray."""

from core.entries import Act, Entry

_COUNTING = frozenset(
    {Act.CHECK, Act.LOSE, Act.POT, Act.SPLIT, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.RESERVE, Act.WILT, Act.MOVE}
)


def counts_plants(entry: Entry) -> bool:
    """True where the entry gives a number of plants that only one lot can have."""
    return entry.act in _COUNTING and any(number is not None for number in (entry.count, entry.of, entry.left))
