"""Are trays packed as rectangles: never more than the area, never fewer than a plain grid, and laid for real?"""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.figures.measures import BadMeasure
from core.figures.medium import trays_for
from core.figures.room import BenchRoom, Footprint, bench_length_for, benches_for, fit_more, pack_trays

FLAT = Footprint(length=21.4, width=11)
BENCH = Footprint(length=96, width=36)


def test_a_bench_holds_fewer_trays_than_its_area() -> None:
    # 96 x 36 in: 4 x 3 of 21.4 x 11 in; area 3456 / 235.4 = 14.7: arithmetic
    assert pack_trays(BENCH, FLAT) == BenchRoom(fits=12, by_grid=12, by_area=14)


def test_twelve_hundred_fours_need_seven_benches() -> None:
    assert trays_for(1200, _fours()) == 75  # 16 to a tray, arithmetic
    assert benches_for(75, BENCH, FLAT) == 7


def _fours():  # type: ignore[no-untyped-def]
    from core.figures.medium import open_container_book

    return open_container_book().fill_of("pot", "4 in")


@pytest.mark.parametrize(
    ("bench", "tray", "fits", "grid"),
    [
        # Rows both ways beat either grid; each can be drawn: arithmetic
        ((5, 3), (2, 1), 7, 6),  # 2 x 1 on 5 x 3: one tile of 15 is lost
        ((5, 5), (3, 2), 4, 2),  # the pinwheel: four round a square that stays empty; straight cuts give 3
        ((7, 5), (3, 2), 5, 4),
        ((10, 7), (4, 3), 5, 4),
        ((21.4, 32.4), (21.4, 11), 2, 2),
        ((10, 10), (20, 1), 0, 0),
    ],
)
def test_rows_both_ways_beat_a_plain_grid(
    bench: tuple[float, float], tray: tuple[float, float], fits: int, grid: int
) -> None:
    room = pack_trays(Footprint(length=bench[0], width=bench[1]), Footprint(length=tray[0], width=tray[1]))
    assert (room.fits, room.by_grid) == (fits, grid)


def test_a_gap_takes_room() -> None:
    assert pack_trays(BENCH, FLAT, gap=2).fits < 12  # 38 / 13 leaves two to a row
    assert pack_trays(BENCH, FLAT, gap=0.5).fits == 12


def test_how_many_more_fit() -> None:
    assert fit_more(BENCH, FLAT) == 12
    assert fit_more(BENCH, FLAT, standing=[(FLAT, 6)]) == 6
    assert fit_more(BENCH, FLAT, standing=[(FLAT, 14)]) == 0
    crate = Footprint(length=24, width=18)  # two to a row of 24 in (or 18 in turned, one to a row)
    assert fit_more(BENCH, FLAT, standing=[(crate, 2)]) == 9  # 72 in left: 3 rows of 3
    assert fit_more(BENCH, FLAT, standing=[(crate, 40)]) == 0
    assert fit_more(BENCH, FLAT, standing=[(Footprint(length=200, width=200), 1)]) == 0


def test_length_of_bench_for_trays() -> None:
    # 3 ft deep: 3 trays to each 21.4 in, 12 trays in 85.6 in: arithmetic
    assert bench_length_for(12, 36, FLAT) == pytest.approx(85.6)
    assert bench_length_for(0, 36, FLAT) == 0
    with pytest.raises(BadMeasure):
        bench_length_for(3, 5, FLAT)
    with pytest.raises(BadMeasure):
        benches_for(3, Footprint(length=5, width=5), FLAT)


def test_a_size_of_nothing_is_refused() -> None:
    with pytest.raises(BadMeasure):
        Footprint(length=0, width=3)
    with pytest.raises(BadMeasure):
        pack_trays(BENCH, FLAT, gap=-1)


def test_a_very_long_bench_is_packed_in_blocks() -> None:
    room = pack_trays(Footprint(length=100_000, width=60), FLAT)
    assert room.by_grid <= room.fits <= room.by_area


sides = st.integers(min_value=1, max_value=60)


@settings(max_examples=150, deadline=None)
@given(sides, sides, st.integers(min_value=1, max_value=20), st.integers(min_value=1, max_value=20))
def test_packing_lies_between_the_grid_and_the_area(length: int, width: int, long: int, short: int) -> None:
    bench, tray = Footprint(length=length, width=width), Footprint(length=long, width=short)
    room = pack_trays(bench, tray)
    assert (length // long) * (width // short) <= room.fits <= (length * width) // (long * short)
    assert (length // short) * (width // long) <= room.fits
    turned = pack_trays(Footprint(length=width, width=length), Footprint(length=short, width=long))
    assert turned.fits == room.fits


@settings(max_examples=60, deadline=None)
@example(53, 55, 7, 4)
@example(53, 55, 4, 7)
@given(sides, sides, st.integers(min_value=2, max_value=12), st.integers(min_value=2, max_value=12))
def test_a_longer_bench_never_holds_fewer(length: int, width: int, long: int, short: int) -> None:
    tray = Footprint(length=long, width=short)
    shorter = pack_trays(Footprint(length=length, width=width), tray).fits
    assert pack_trays(Footprint(length=length + 1, width=width), tray).fits >= shorter


@settings(max_examples=40, deadline=None)
@given(st.integers(min_value=1, max_value=9), st.integers(min_value=1, max_value=9))
def test_dominoes_fill_all_but_one_square(length: int, width: int) -> None:
    # Any rectangle is tiled by 2 x 1 up to one odd square (both sides above 1, or a single row)
    assert pack_trays(Footprint(length=length, width=width), Footprint(length=2, width=1)).fits == length * width // 2
