"""How many trays go on that bench, and how many more?

Rules
1. Rectangles are packed, areas are never divided: a 3 x 8 ft bench has area for 14 trays and holds 12.
2. Trays lie along or across; the bench is cut straight through, again and again (guillotine), so that rows may mix both
   ways; on benches of usual size five blocks round a middle (a pinwheel) are tried too. That is at least as good as
   any plain grid, and never more than the area allows.
3. Trays of other sizes already there are taken as pushed together in whole rows at one end.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import combinations
from typing import Final

from core.figures.measures import BadMeasure

_STEPS_PER_UNIT: Final = 100
_MOST_CUTS: Final = 20_000
_MOST_POINTS: Final = 46
_MOST_POINTS_ROUND: Final = 21
"""So many places along a side are tried for straight cuts, and for the corners of five blocks round a middle."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Footprint:
    """Length and width of a bench, tray or pot, in one unit throughout (inches or centimetres). Raises BadMeasure."""

    length: float
    width: float

    def __post_init__(self) -> None:
        if not (0 < self.length < math.inf and 0 < self.width < math.inf):
            raise BadMeasure("a length and a width are above nothing", words=f"{self.length:g} x {self.width:g}")


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchRoom:
    """What a bench holds: `fits` trays by packing, `by_grid` all laid one way, `by_area` if they were sand."""

    fits: int
    by_grid: int
    by_area: int


def pack_trays(bench: Footprint, tray: Footprint, *, gap: float = 0.0) -> BenchRoom:
    """How many trays of one size go on a bench, `gap` apart, laid along and across mixed.

    Method: guillotine cuts at sums of tray sides, exact among those layouts; on benches of very many trays so much of
    them beside whole rows, or the best of two blocks of straight rows. Arithmetic in hundredths of the unit. Raises
    BadMeasure for a gap below nothing.
    """
    if not 0 <= gap < math.inf:
        raise BadMeasure(f"a gap of {gap:g} cannot be", words=f"{gap:g}")
    across, along = _steps(bench.length + gap), _steps(bench.width + gap)
    long, short = _steps_up(tray.length + gap), _steps_up(tray.width + gap)
    grid = max(_grid(across, along, long, short), _grid(across, along, short, long))
    area = (across * along) // (long * short)
    return BenchRoom(fits=max(grid, _pack(across, along, long, short)), by_grid=grid, by_area=area)


def fit_more(
    bench: Footprint, wanted: Footprint, *, standing: Sequence[tuple[Footprint, int]] = (), gap: float = 0.0
) -> int:
    """How many more trays of the wanted size fit beside those that stand there (rule 3).

    Trays of the wanted size count one for one; others take whole rows across the bench. A layout that can be laid, so
    a little more may fit. Returns 0 where the bench is full.
    """
    same = sum(count for tray, count in standing if tray == wanted)
    length = bench.length
    for tray, count in standing:
        if tray != wanted and count:
            length -= _rows_for(bench, tray, count, gap)
    if length <= 0:
        return 0
    free = pack_trays(Footprint(length=length, width=bench.width), wanted, gap=gap).fits
    return max(free - same, 0)


def benches_for(trays: int, bench: Footprint, tray: Footprint, *, gap: float = 0.0) -> int:
    """Benches of one size for so many trays. Raises BadMeasure where not even one goes on."""
    each = pack_trays(bench, tray, gap=gap).fits
    if each == 0:
        raise BadMeasure("that tray does not go on that bench", words=f"{tray.length:g} x {tray.width:g}")
    return math.ceil(trays / each)


def bench_length_for(trays: int, bench_width: float, tray: Footprint, *, gap: float = 0.0) -> float:
    """The shortest bench of that width for so many trays, in the unit given, to a hundredth. Raises BadMeasure."""
    if trays <= 0:
        return 0.0
    longest = (max(tray.length, tray.width) + gap) * trays
    if not pack_trays(Footprint(length=longest, width=bench_width), tray, gap=gap).fits:
        raise BadMeasure("that tray does not go on a bench so narrow", words=f"{bench_width:g}")
    low, high = 0, _steps_up(longest)
    while high - low > 1:
        middle = (low + high) // 2
        shorter = Footprint(length=middle / _STEPS_PER_UNIT, width=bench_width)
        if pack_trays(shorter, tray, gap=gap).fits >= trays:
            high = middle
        else:
            low = middle
    return high / _STEPS_PER_UNIT


def _rows_for(bench: Footprint, tray: Footprint, count: int, gap: float) -> float:
    """Length of bench that `count` trays take in whole rows, the better way round."""
    lengths = []
    for deep, wide in ((tray.length, tray.width), (tray.width, tray.length)):
        in_row = math.floor((bench.width + gap) / (wide + gap) + 1e-9)
        if in_row:
            lengths.append(math.ceil(count / in_row) * (deep + gap))
    return min(lengths, default=math.inf)


def _steps(length: float) -> int:
    return math.floor(length * _STEPS_PER_UNIT + 1e-6)


def _steps_up(length: float) -> int:
    return math.ceil(length * _STEPS_PER_UNIT - 1e-6)


def _grid(across: int, along: int, long: int, short: int) -> int:
    return (across // long) * (along // short)


def _pack(across: int, along: int, long: int, short: int) -> int:
    """The best of straight rows, and of a part of usual size that is cut finely beside whole rows.

    How large that part may be hangs on the tray alone, so that a longer bench never holds fewer.
    """
    fine = _last_of(_cut_points(min(across, _MOST_POINTS * short), long, short), _MOST_POINTS)
    deep = _last_of(_cut_points(min(along, _MOST_POINTS * short), long, short), _MOST_POINTS)
    most = max(_two_blocks(across, along, long, short), _two_blocks(along, across, long, short))
    for rows, (width, depth) in (
        *_rows_beside(across, along, fine, deep, long, short),
        *((rows, (width, depth)) for rows, (depth, width) in _rows_beside(along, across, deep, fine, long, short)),
    ):
        most = max(most, rows + _cut_finely(width, depth, long, short))
    return most


def _rows_beside(
    side: int, other: int, most: int, most_other: int, long: int, short: int
) -> Iterator[tuple[int, tuple[int, int]]]:
    """How many trays lie in whole rows at the end of a side, and the sides of what is left to be cut finely."""
    for step, wide in ((long, short), (short, long)):
        needed = max(0, -((most - side) // step))
        for rows in range(max(0, needed - 1), needed + 2):
            if rows * step <= side:
                yield rows * (other // wide), (min(side - rows * step, most), min(other, most_other))


@lru_cache(maxsize=1024)
def _cut_finely(across: int, along: int, long: int, short: int) -> int:
    """The best of straight cuts, again and again, and of five blocks round a middle where the sides are short."""
    points = {side: _cut_points(side, long, short) for side in (across, along)}

    def settle(side: int, cuts: tuple[int, ...]) -> int:
        return cuts[bisect_right(cuts, side) - 1]

    @cache
    def best(x: int, y: int) -> int:
        most = max(_grid(x, y, long, short), _grid(x, y, short, long))
        if most == (x * y) // (long * short):
            return most
        for cut in points[across]:
            if cut > x // 2:
                break
            if cut:
                most = max(most, best(cut, y) + best(settle(x - cut, points[across]), y))
        for cut in points[along]:
            if cut > y // 2:
                break
            if cut:
                most = max(most, best(x, cut) + best(x, settle(y - cut, points[along])))
        return most

    most = best(settle(across, points[across]), settle(along, points[along]))
    if most == (across * along) // (long * short):
        return most
    width, depth = (
        min(side, _last_of(points[side], _MOST_POINTS_ROUND) if len(points[side]) > _MOST_POINTS_ROUND else side)
        for side in (across, along)
    )
    for left, right in combinations([cut for cut in points[across][1:] if cut < width], 2):
        for near, far in combinations([cut for cut in points[along][1:] if cut < depth], 2):
            blocks = (
                (left, far),
                (right, depth - far),
                (width - right, depth - near),
                (width - left, near),
                (right - left, far - near),
            )
            laid = (best(settle(x, points[across]), settle(y, points[along])) for x, y in blocks)
            most = max(most, sum(laid))
    return most


def _last_of(points: tuple[int, ...], most: int) -> int:
    return points[min(len(points), most) - 1]


def _cut_points(side: int, long: int, short: int) -> tuple[int, ...]:
    """Every sum of tray sides up to `side`, rising from 0: the only places where a straight cut can gain a tray."""
    sums = {i * long + j * short for i in range(side // long + 1) for j in range((side - i * long) // short + 1)}
    return tuple(sorted(sums))


def _two_blocks(across: int, along: int, long: int, short: int) -> int:
    """The best of so many rows laid one way, and the rest of the bench laid the other way."""
    most = across // long
    left = range(max(0, most - 2 * short), most + 1) if most > _MOST_CUTS else range(most + 1)
    return max(rows * (along // short) + _grid(across - rows * long, along, short, long) for rows in left)
