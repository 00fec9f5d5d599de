"""Does the mix for a potting agree with published fills, and is the book of containers whole?"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadTradeFile
from core.figures.measures import BadMeasure, to_ml
from core.figures.medium import (
    ContainerFill,
    Filling,
    MediumNeed,
    need_medium,
    open_container_book,
    own_fill,
    split_parts,
    trays_for,
)
from core.figures.trade_blocks import read_block

BOOK = open_container_book()


def _need(count: int, kind: str, size: str | None = None, **rest: float) -> MediumNeed:
    return need_medium([Filling(container=BOOK.fill_of(kind, size), count=count)], **rest)  # type: ignore[arg-type]


def test_four_inch_pots_go_48_to_the_cubic_foot() -> None:
    # Potting chart, rileylab.org copy: 48 four-inch pots to a cubic foot
    bare = _need(48, "pot", "4 in", settling_share=0.0)
    assert bare.cubic_feet == pytest.approx(1, rel=0.002)
    need = _need(96, "pot", "4 in")
    assert need.cubic_feet == pytest.approx(2.3, abs=0.01)
    assert need.bags == 2


def test_trade_gallons_and_cells() -> None:
    # 170 cubic inches each (from memory): 40 x 170 / 1728 = 3.94 cubic feet, x 1.15 = 4.5: arithmetic
    need = _need(40, "pot", "1 gal")
    assert need.filled_ml / to_ml(1, "cu ft") == pytest.approx(3.94, abs=0.01)
    assert need.cubic_feet == pytest.approx(4.5, abs=0.04)
    assert need.bags == 3
    assert _need(72, "cell", settling_share=0.0).litres == pytest.approx(2.88)  # 40 ml a cell (from memory)


@pytest.mark.parametrize(
    ("size", "gallons"),
    [("1 gal", 0.734), ("2 gal", 1.66), ("3 gal", 2.296), ("5 gal", 3.843)],  # bonsainut.com/posts/1098490, measured
)
def test_trade_pots_hold_less_than_their_name(size: str, gallons: float) -> None:
    pot = BOOK.fill_of("pot", size)
    assert pot.ml == pytest.approx(to_ml(gallons, "gal"), rel=0.005)
    assert pot.ml < to_ml(float(size.split()[0]), "gal")


@pytest.mark.parametrize(("size", "ml"), [("10 cu in", 163.9), ("27 cu in", 442.5)])  # NPN protocol pages
def test_tubes_hold_their_cubic_inches(size: str, ml: float) -> None:
    assert BOOK.fill_of("tube", size).ml == pytest.approx(ml, abs=0.6)


def test_both_together_and_bags_on_hand() -> None:
    both = need_medium(
        [
            Filling(container=BOOK.fill_of("pot", "4 in"), count=96),
            Filling(container=BOOK.fill_of("pot", "1 gal"), count=40),
        ],
        bags_on_hand=3,
    )
    assert both.cubic_feet == pytest.approx(6.8, abs=0.05)
    assert (both.bags, both.bags_to_buy) == (4, 1)
    assert both.least_ml == pytest.approx(0.8 * both.ml)


def test_headroom_is_left_only_where_the_volume_is_to_the_rim() -> None:
    assert _need(10, "pot", "2 gal", headroom_share=0.1, settling_share=0.0).filled_ml == pytest.approx(0.9 * 62_840)
    assert _need(10, "pot", "4 in", headroom_share=0.1, settling_share=0.0).filled_ml == pytest.approx(5_900)


def test_a_crew_s_own_fill_beats_the_book_and_has_no_doubt() -> None:
    each = own_fill(containers=110, ml=to_ml(2, "cu ft"))
    need = need_medium([Filling(container=BOOK.fill_of("pot", "4 in"), count=220, own_ml=each)], settling_share=0.0)
    assert need.bags == 2
    assert need.least_ml == need.ml == need.most_ml


def test_parts_of_a_mix() -> None:
    assert split_parts(9000, [("perlite", 8), ("vermiculite", 1)]) == (("perlite", 8000), ("vermiculite", 1000))
    with pytest.raises(BadMeasure):
        split_parts(9000, [])


def test_what_the_book_does_not_hold_is_asked() -> None:
    with pytest.raises(BadMeasure) as which:
        BOOK.fill_of("pot")
    assert "4 in" in which.value.hint
    with pytest.raises(BadMeasure):
        BOOK.fill_of("bathtub")
    with pytest.raises(BadMeasure):
        trays_for(10, BOOK.fill_of("pot", "5 gal"))
    with pytest.raises(BadMeasure):
        _need(10, "pot", "4 in", settling_share=2.0)


def test_every_container_says_its_source() -> None:
    assert all(one.source and one.ml > 0 for one in BOOK.containers)
    assert BOOK.tray.source


@pytest.mark.parametrize(
    "block",
    [
        {"kind": "pot"},
        {"kind": "pot", "size": "4 in", "ml": "much", "brim": True, "source": "x"},
        {"kind": "pot", "size": "4 in", "ml": 590, "brim": 1, "source": "x"},
        {"kind": "pot", "size": "4 in", "ml": 590, "brim": True, "source": "x", "colour": "green"},
    ],
)
def test_a_broken_block_is_refused_in_words(block: dict[str, object]) -> None:
    with pytest.raises(BadTradeFile):
        read_block(ContainerFill, block, file="containers.toml")


@given(st.integers(min_value=0, max_value=5000), st.floats(min_value=0, max_value=0.5))
def test_bags_hold_the_mix_and_none_is_spare(count: int, settling: float) -> None:
    need = _need(count, "pot", "4 in", settling_share=settling)
    assert (need.bags - 1) * need.bag_ml < need.ml or need.bags == 0
    assert need.ml <= need.bags * need.bag_ml * (1 + 1e-6)
    assert need.least_ml <= need.ml <= need.most_ml
