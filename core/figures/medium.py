"""How much mix does the potting take, and how many bags must be bought?

Rules
1. Volume = containers x fill x (1 - headroom, where the volume is to the rim) x (1 + settling and spilling).
2. Trade sizes hold less than their name: a trade gallon is about 0.73 of a gallon.
3. A crew's own fill beats the book; the book's error is stated as a range.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Final

from core.errors import BadTradeFile
from core.figures.measures import ML_PER, BadMeasure
from core.figures.trade_blocks import read_block, read_blocks

_FILE: Final = "containers.toml"
_CUBIC_FOOT_ML: Final = float(ML_PER["cu ft"])


@dataclass(frozen=True, slots=True, kw_only=True)
class ContainerFill:
    """One kind and size of container: ml of one, whether to the brim, how many to a tray where that is known."""

    kind: str
    size: str
    ml: float
    brim: bool
    source: str
    a_tray: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """The outside of a tray or a bench, inches."""

    length_in: float
    width_in: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ContainerBook:
    """The whole of containers.toml."""

    settling_share: float
    headroom_share: float
    brand_error_share: float
    bag_cubic_feet: float
    tray: Outline
    bench: Outline
    containers: tuple[ContainerFill, ...]

    def fill_of(self, kind: str, size: str | None = None) -> ContainerFill:
        """The container of that kind and size ("pot", "4 in"); the only one of its kind needs no size.

        Raises BadMeasure where none fits, or where the kind comes in several sizes and none was said.
        """
        named = [one for one in self.containers if one.kind == kind]
        fitting = [one for one in named if size is None or one.size == size]
        if len(fitting) == 1:
            return fitting[0]
        sizes = ", ".join(one.size for one in named if one.size) or "none known"
        raise BadMeasure(f"which {kind}?", words=f"{kind} {size or ''}".strip(), hint=f"sizes: {sizes}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Filling:
    """So many containers of one kind; `own_ml` is the crew's own fill of one, which beats the book's."""

    container: ContainerFill
    count: int
    own_ml: float | None = None

    def __post_init__(self) -> None:
        if self.count < 0 or (self.own_ml is not None and self.own_ml <= 0):
            raise BadMeasure(f"{self.count} containers cannot be filled", words=str(self.count))


@dataclass(frozen=True, slots=True, kw_only=True)
class MediumNeed:
    """Mix for a potting: ml without and with settling, the range of the book's error, and whole bags for the middle.

    `bags_to_buy` is less what is on hand; `least_ml` and `most_ml` span brand and fluffing.
    """

    filled_ml: float
    ml: float
    least_ml: float
    most_ml: float
    bag_ml: float
    bags: int
    bags_to_buy: int

    @property
    def litres(self) -> float:
        return self.ml / 1000

    @property
    def cubic_feet(self) -> float:
        return self.ml / _CUBIC_FOOT_ML


def need_medium(
    fillings: Sequence[Filling],
    *,
    bag_ml: float | None = None,
    bags_on_hand: float = 0,
    settling_share: float | None = None,
    headroom_share: float | None = None,
    book: ContainerBook | None = None,
) -> MediumNeed:
    """The mix that these containers take, and the bags to buy (the book's bag unless `bag_ml` says otherwise).

    Method: rule 1; shares from containers.toml with their source. Raises BadMeasure for shares or bags that cannot be.
    """
    pages = book or open_container_book()
    settling = pages.settling_share if settling_share is None else settling_share
    headroom = pages.headroom_share if headroom_share is None else headroom_share
    bag = pages.bag_cubic_feet * _CUBIC_FOOT_ML if bag_ml is None else bag_ml
    if not (0 <= settling <= 1 and 0 <= headroom < 1) or bag <= 0 or bags_on_hand < 0:
        raise BadMeasure("settling, headroom and bags must be possible", words=f"{settling:g} {headroom:g} {bag:g}")
    filled = own = 0.0
    for one in fillings:
        book_ml = one.container.ml * (1 - headroom if one.container.brim else 1)
        filled += one.count * (book_ml if one.own_ml is None else one.own_ml)
        own += one.count * one.own_ml if one.own_ml is not None else 0.0
    total, doubt = filled * (1 + settling), (filled - own) * (1 + settling) * pages.brand_error_share
    bags = math.ceil(round(total / bag, 9))
    return MediumNeed(
        filled_ml=filled,
        ml=total,
        least_ml=total - doubt,
        most_ml=total + doubt,
        bag_ml=bag,
        bags=bags,
        bags_to_buy=max(math.ceil(round(total / bag - bags_on_hand, 9)), 0),
    )


def own_fill(*, containers: int, ml: float) -> float:
    """A crew's own fill of one container, ml, from how many a known volume filled (settling is then within it)."""
    if containers <= 0 or ml <= 0:
        raise BadMeasure("nothing was filled", words=f"{containers} from {ml:g} ml")
    return ml / containers


def split_parts(ml: float, parts: Sequence[tuple[str, float]]) -> tuple[tuple[str, float], ...]:
    """A volume of mix by its parts ("perlite", 2), ("peat", 1): each name with its ml. Mixed parts shrink a little;
    common practice takes them as adding up. Raises BadMeasure for parts that are none."""
    whole = sum(share for _, share in parts)
    if whole <= 0 or any(share < 0 for _, share in parts):
        raise BadMeasure("the parts of a mix are above nothing", words=str(list(parts)))
    return tuple((name, ml * share / whole) for name, share in parts)


def trays_for(count: int, container: ContainerFill, *, own_a_tray: int | None = None) -> int:
    """Trays for so many containers, the last one perhaps not full. Raises BadMeasure where none go on a tray."""
    a_tray = own_a_tray or container.a_tray
    if not a_tray:
        raise BadMeasure(f"{container.kind} {container.size} does not go on trays", words=container.kind)
    return math.ceil(count / a_tray)


@cache
def open_container_book() -> ContainerBook:
    """The book that ships with the program. Raises BadTradeFile where a grower's edit made it unreadable."""
    try:
        page = tomllib.loads(files("core.figures").joinpath(_FILE).read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as wrong:
        raise BadTradeFile(f"{_FILE} cannot be read: {wrong}", hint="undo the last edit of that file") from wrong
    plain = {key: value for key, value in page.items() if key not in ("container", "tray", "bench")}
    built = {
        "containers": read_blocks(ContainerFill, page.get("container"), file=_FILE),
        "tray": read_block(Outline, page.get("tray", {}), file=_FILE),
        "bench": read_block(Outline, page.get("bench", {}), file=_FILE),
    }
    return read_block(ContainerBook, plain | built, file=_FILE)
