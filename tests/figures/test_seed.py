"""Do the sums on seed lots agree with published ones, and does a small test ask for more seed?"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.figures.measures import BadMeasure
from core.figures.seed import (
    CellSowing,
    GerminationTest,
    SowInFlat,
    alternate_filled,
    bulk_for,
    cell_filled,
    cells_for,
    chance_of,
    fill_cells,
    grams_of,
    live_in,
    live_share,
    plants_from,
    price_of_live,
    seeds_in,
    seeds_per_cell,
    seeds_per_gram,
    sow_by_division,
    sow_for_chance,
)


@pytest.mark.parametrize(
    ("purity", "germination", "live"),
    [
        (0.96, 0.80, 0.768),  # Ernst, Bulk vs. PLS
        (0.85, 0.75, 0.6375),  # Texas DOT, Pure live seed (prints the rounded .64)
        (0.85, 0.95, 0.8075),  # Texas DOT or MBS: TZ 85 % x 95 %
        (0.98, 0.95, 0.931),  # Wind River Seed, PLS sheet
        (0.89, 0.92, 0.8188),  # Wind River Seed, PLS sheet (prints .819)
        (0.95, 0.85, 0.8075),  # MBS Seed, What is pure live seed
        (0.91, 0.96, 0.8736),  # Rangelands Gateway glossary
    ],
)
def test_pure_live_seed(purity: float, germination: float, live: float) -> None:
    assert live_share(purity, germination) == pytest.approx(live)


def test_bulk_for_a_weight_of_live_seed() -> None:
    assert bulk_for(1, purity=0.96, germination=0.80) == pytest.approx(1.30, abs=0.005)  # Ernst
    assert bulk_for(1, purity=0.85, germination=0.75) == pytest.approx(1.5686, abs=5e-5)  # Texas DOT, unrounded
    assert bulk_for(20, purity=0.95, germination=0.85) == pytest.approx(24.77, abs=0.005)  # MBS Seed
    assert live_in(30, purity=0.95, germination=0.85) == pytest.approx(24.225)  # MBS Seed prints 24.23
    assert bulk_for(1000, purity=0.98, germination=0.95) == pytest.approx(1074, abs=0.5)  # Wind River Seed
    assert bulk_for(1000, purity=0.89, germination=0.92) == pytest.approx(1221, abs=0.5)  # Wind River Seed
    assert bulk_for(0.12, purity=0.95, germination=0.85) == pytest.approx(0.1486, abs=5e-5)  # Texas DOT prints 0.15


def test_the_price_of_live_seed() -> None:
    assert price_of_live(5.00, purity=0.98, germination=0.95) == pytest.approx(5.37, abs=0.005)  # Wind River Seed
    assert price_of_live(4.75, purity=0.89, germination=0.92) == pytest.approx(5.80, abs=0.005)  # Wind River Seed


def test_seeds_in_a_gram() -> None:
    # NPN protocol for Ceanothus sanguineus prints 128,000-132,000 per lb and 282,185-291,005 per kg
    assert seeds_per_gram(128_000, "lb") == pytest.approx(282.185, abs=0.01)
    assert seeds_per_gram(132_000, "lb") == pytest.approx(291.005, abs=0.01)
    assert seeds_per_gram(480_000, "kg") == 480


def test_seeds_and_grams_for_a_target() -> None:
    # 200 / (.80 x .85) = 294.1, so 295 seeds; / 480 per gram / .95 pure = 0.647 g: arithmetic
    need = sow_by_division(200, germination=0.80, survival=0.85, per_gram=480, purity=0.95)
    assert need.seeds == 295
    assert need.grams == pytest.approx(0.647, abs=5e-4)
    assert need.chance is None
    assert sow_by_division(60, germination=0.5).seeds == 120


@pytest.mark.parametrize(
    ("lowest", "highest", "seeds", "printed_low", "printed_high"),
    [
        # Sowing table of AH 730 / GTR-274 (Dumroese, Landis and Luna) after Wenny (from memory)
        (0.80, 0.89, 2, 96, 99),
        (0.70, 0.79, 2, 91, 96),
        (0.60, 0.69, 3, 94, 97),
        (0.50, 0.59, 4, 94, 97),
        (0.40, 0.49, 5, 92, 97),
    ],
)
def test_the_share_of_cells_filled_agrees_with_the_sowing_table(
    lowest: float, highest: float, seeds: int, printed_low: int, printed_high: int
) -> None:
    assert round(100 * cell_filled(seeds, germination=lowest)) == printed_low
    assert round(100 * cell_filled(seeds, germination=highest)) == pytest.approx(printed_high, abs=0.5)


def test_one_and_two_seeds_in_alternate_pots() -> None:
    # FAO AD225E, chapter 3: worth it above 8 in 10; at .85, (.85 + .9775) / 2: arithmetic
    assert alternate_filled(0.85) == pytest.approx(0.91375)


def test_seeds_to_a_cell_or_rather_a_flat() -> None:
    # 1 - (1 - g)^s, arithmetic
    assert seeds_per_cell(germination=0.85) == CellSowing(seeds=2, filled_share=pytest.approx(0.9775))
    assert seeds_per_cell(germination=0.55) == CellSowing(seeds=4, filled_share=pytest.approx(0.959, abs=5e-4))
    assert seeds_per_cell(germination=0.40) == CellSowing(seeds=6, filled_share=pytest.approx(0.953, abs=5e-4))
    assert seeds_per_cell(germination=0.25, most_seeds=8) == SowInFlat(
        most_seeds=8, filled_share=pytest.approx(0.90, abs=5e-4)
    )
    assert seeds_per_cell(germination=0.9, wanted_filled=0.9) == CellSowing(seeds=1, filled_share=pytest.approx(0.9))


def test_a_tray_of_cells() -> None:
    # 72 cells x 3 seeds at .55: 72 (1 - .45^3) = 65.4 filled, 72 x .57475 = 41.4 with two or more: arithmetic
    tray = fill_cells(72, seeds_each=3, germination=0.55)
    assert tray.filled == pytest.approx(65.4, abs=0.05)
    assert tray.to_thin == pytest.approx(41.4, abs=0.05)
    assert 2 * tray.filled_sd == pytest.approx(4.9, abs=0.05)


def _binomial_at_least(target: int, seeds: int, share: float) -> float:
    """An independent sum of the binomial, by whole-number combinations."""
    return sum(math.comb(seeds, k) * share**k * (1 - share) ** (seeds - k) for k in range(target, seeds + 1))


def test_a_stated_chance_takes_more_than_division_and_a_small_test_more_still() -> None:
    test = GerminationTest(germinated=22, tested=40)
    known = sow_for_chance(60, germination=0.55, survival=0.85)
    tested = sow_for_chance(60, germination=test, survival=0.85)
    assert known.by_division == 129  # arithmetic: 60 / (.55 x .85) = 128.3
    assert known.seeds == 144  # the fewest whose binomial tail, summed by hand below, is 9 in 10
    assert _binomial_at_least(60, 144, 0.55 * 0.85) >= 0.9 > _binomial_at_least(60, 143, 0.55 * 0.85)
    assert tested.seeds > known.seeds
    assert tested.small_test
    assert tested.germination_range is not None
    assert tested.germination_range.low == pytest.approx(0.398, abs=5e-4)  # Wilson's formula by hand
    assert tested.germination_range.high == pytest.approx(0.693, abs=5e-4)


def test_the_test_error_is_the_average_over_what_the_lot_could_be() -> None:
    # Independent: average the plain binomial over a fine grid of the beta density (midpoint rule)
    test, steps = GerminationTest(germinated=22, tested=40), 4000
    grid = [(step + 0.5) / steps for step in range(steps)]
    logs = [21.5 * math.log(g) + 17.5 * math.log(1 - g) for g in grid]
    weights = [math.exp(one - max(logs)) for one in logs]
    from scipy.stats import binom

    tails = binom.sf(59, 160, [0.85 * g for g in grid])
    averaged = sum(w * tail for w, tail in zip(weights, tails, strict=True)) / sum(weights)
    assert chance_of(60, seeds=160, germination=test, survival=0.85) == pytest.approx(averaged, abs=1e-6)


def test_a_cell_s_chance_under_a_test_is_the_average_too() -> None:
    # E[1 - (1-g)^s] for Beta(1/2 + k, 1/2 + n - k), s = 1: 1 - mean of (1 - g), arithmetic
    assert cell_filled(1, germination=GerminationTest(germinated=22, tested=40)) == pytest.approx(22.5 / 41)


def test_a_large_sowing_is_nearly_the_exact_sum() -> None:
    test = GerminationTest(germinated=170, tested=200)
    for target in (2300, 2450, 2550, 2650):
        exact = chance_of(target, seeds=3000, germination=test)
        below, above = (chance_of(target + more, seeds=3001, germination=test) for more in (1, 0))
        assert below - 0.002 <= exact <= above + 0.002


def test_seed_on_hand_gives_a_range_of_plants() -> None:
    span = plants_from(160, germination=0.55, survival=0.85)
    assert span.low < 160 * 0.55 * 0.85 < span.high
    assert chance_of(int(span.low), seeds=160, germination=0.55, survival=0.85) >= 0.9


def test_a_test_in_which_nothing_came_up_still_plans() -> None:
    need = sow_for_chance(5, germination=GerminationTest(germinated=0, tested=10), chance=0.5)
    assert need.seeds > 5
    assert need.germination == 0


@pytest.mark.parametrize(
    "impossible",
    [
        lambda: live_share(1.2, 0.8),
        lambda: bulk_for(1, purity=0.9, germination=0),
        lambda: GerminationTest(germinated=41, tested=40),
        lambda: GerminationTest(germinated=0, tested=0),
        lambda: sow_by_division(0, germination=0.5),
        lambda: sow_by_division(10, germination=0),
        lambda: sow_for_chance(10, germination=0.5, chance=1),
        lambda: seeds_per_gram(100, "handful"),
        lambda: grams_of(10, per_gram=0),
        lambda: cell_filled(-1, germination=0.5),
    ],
)
def test_what_cannot_be_sown_is_refused(impossible: object) -> None:
    with pytest.raises(BadMeasure):
        impossible()  # type: ignore[operator]


shares = st.floats(min_value=0.05, max_value=1)


@settings(max_examples=60, deadline=None)
@given(st.integers(min_value=1, max_value=300), shares, shares, st.floats(min_value=0.5, max_value=0.99))
def test_the_seeds_said_are_the_fewest(target: int, germination: float, survival: float, chance: float) -> None:
    need = sow_for_chance(target, germination=germination, survival=survival, chance=chance)
    assert chance_of(target, seeds=need.seeds, germination=germination, survival=survival) >= chance
    assert chance_of(target, seeds=need.seeds - 1, germination=germination, survival=survival) < chance
    assert need.seeds >= target


@settings(max_examples=30, deadline=None)
@given(st.integers(min_value=10, max_value=60), st.integers(min_value=2, max_value=8))
def test_a_bigger_test_with_the_same_share_never_asks_for_more(tested: int, times: int) -> None:
    small = GerminationTest(germinated=tested // 2, tested=tested)
    big = GerminationTest(germinated=tested // 2 * times, tested=tested * times)
    assert (
        sow_for_chance(40, germination=big, survival=0.9).seeds
        <= sow_for_chance(40, germination=small, survival=0.9).seeds
    )


@given(st.floats(min_value=1, max_value=1e6), st.floats(min_value=1, max_value=5000), shares)
def test_grams_and_seeds_go_there_and_back(seeds: float, per_gram: float, purity: float) -> None:
    grams = grams_of(seeds, per_gram=per_gram, purity=purity)
    assert seeds_in(grams, per_gram=per_gram, purity=purity) == pytest.approx(seeds)


def test_cells_for_a_target_are_more_than_the_target() -> None:
    assert cells_for(60, seeds_each=4, germination=0.55, survival=1.0) > 60
    assert cells_for(60, seeds_each=4, germination=1.0) == 60
