"""How many to stick and by when: exact sums, scipy's beta-binomial, and what must always hold."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from core.figures.outcomes import Outcome, add_up
from core.figures.plan import (
    Enough,
    OutOfReach,
    Stick,
    Way,
    chance_with,
    days_between,
    how_many,
    latest_start,
    needs_of,
    on_time_chance,
    outcome_of,
)
from core.figures.spread import Spread, fit, next_lot, no_history, stage_prior
from core.figures.values import BadFigure, Tally


def only(a: float, b: float) -> Spread:
    return Spread(
        mean=a / (a + b), rho=1 / (a + b + 1), lots=0, hits=0, tried=0, lowest=None, highest=None,
        prior=no_history(), shapes=((a, b, 1.0),),
    )  # fmt: skip


GOOD = fit([Tally(hits=hits, tried=60) for hits in (40, 47, 28, 51)])
FULL = Way(rooting=GOOD, later=(fit((), stage_prior("potting")), fit((), stage_prior("growing_on"))))


@pytest.mark.parametrize(("a", "b", "needed", "chance"), [(9, 6, 100, 0.9), (3, 5, 24, 0.8), (30, 10, 250, 0.95)])
def test_one_stage_is_scipys_beta_binomial(a, b, needed, chance):
    # scipy.stats.betabinom: the smallest n with P(X >= needed) >= chance.
    exact = next(n for n in range(needed, 5000) if stats.betabinom.sf(needed - 1, n, a, b) >= chance)
    found = how_many(needed, Way(rooting=only(a, b)), chance=chance)
    assert isinstance(found, Stick)
    assert abs(found.number - exact) <= 1


def test_stages_are_summed_as_a_double_sum_would():
    # Rooted beta-binomial of stuck, then saleable beta-binomial of rooted, summed term by term with scipy.
    rooted = stats.betabinom.pmf(np.arange(91), 90, 8, 5)
    exact = sum(
        chance * stats.betabinom.pmf(np.arange(91), number, 30, 6) if number else chance * (np.arange(91) == 0)
        for number, chance in enumerate(rooted)
    )
    found = outcome_of(90, Way(rooting=only(8, 5), later=(only(30, 6),)))
    dense = np.zeros(91)
    dense[found.first : found.first + len(found.chances)] = found.chances
    assert dense == pytest.approx(exact, abs=4e-4)


def test_two_stickings_are_a_convolution():
    half = stats.betabinom.pmf(np.arange(41), 40, 8, 5)
    found = outcome_of(80, Way(rooting=only(8, 5)), stickings=2)
    dense = np.zeros(81)
    dense[found.first : found.first + len(found.chances)] = found.chances
    assert dense == pytest.approx(np.convolve(half, half), abs=3e-4)


def test_division_is_a_coin_toss_and_more_sureness_costs_more():
    plans = [how_many(100, FULL, chance=chance) for chance in (0.5, 0.8, 0.9, 0.95)]
    numbers = [plan.number for plan in plans if isinstance(plan, Stick)]
    assert numbers == sorted(set(numbers))
    assert abs(numbers[0] - plans[0].by_division) < 0.05 * numbers[0]
    assert chance_with(numbers[2], 100, FULL) >= 0.9 > chance_with(numbers[2] - 1, 100, FULL)


def test_splitting_helps_but_never_cures_not_knowing_the_mean():
    one, two, many = (how_many(100, FULL, stickings=count).number for count in (1, 2, 12))
    sure = Way(rooting=only(1e6 * GOOD.mean, 1e6 * (1 - GOOD.mean)), later=FULL.later)
    certain = how_many(100, sure, stickings=12).number
    assert one > two > many > certain


def test_spread_between_lots_asks_for_more_than_the_binomial():
    binomial = next(n for n in range(100, 999) if stats.binom.sf(99, n, 0.6) >= 0.9)
    assert how_many(100, Way(rooting=only(9, 6))).number > 1.2 * binomial


def test_a_plant_without_history_is_said_with_much_more():
    assert how_many(24, Way(rooting=fit([]))).number > how_many(24, FULL).number


def test_what_stands_on_the_bench_counts():
    bench = next_lot(GOOD, 72)
    assert how_many(100, FULL, on_bench=bench).number < how_many(100, FULL).number
    assert isinstance(how_many(5, FULL, on_bench=bench), Enough)
    assert how_many(0, FULL) == Enough(chance=1.0)


def test_a_late_start_puts_sureness_out_of_reach():
    late = Way(rooting=GOOD, later=FULL.later, on_time=0.35)
    found = how_many(50, late)
    assert isinstance(found, OutOfReach)
    assert found.best == pytest.approx(0.35, abs=0.01)
    assert chance_with(10_000, 50, late) <= 0.35


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 150), st.integers(0, 300), st.integers(1, 5))
def test_more_cuttings_never_lower_the_chance(needed, number, stickings):
    fewer = chance_with(number, needed, FULL, stickings=stickings)
    assert fewer <= chance_with(number + 7, needed, FULL, stickings=stickings) + 1e-9
    assert chance_with(number, needed + 1, FULL, stickings=stickings) <= fewer + 1e-9


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 120), st.sampled_from([0.5, 0.8, 0.9]), st.integers(1, 4))
def test_the_plan_is_the_smallest_that_serves(needed, chance, stickings):
    found = how_many(needed, FULL, chance=chance, stickings=stickings)
    assert isinstance(found, Stick)
    assert found.chance >= chance
    assert chance_with(found.number - 1, needed, FULL, stickings=stickings) < chance


def test_lengths_of_stages_are_added_as_distributions():
    # Nine in ten between the two ends; checked with scipy's log-normal.
    days = days_between(56, 98)
    assert 1 - days.chance_of(57) == pytest.approx(0.05, abs=0.01)
    assert days.chance_of(99) == pytest.approx(0.05, abs=0.01)
    middle, doubt = np.log(56 * 98) / 2, np.log(98 / 56) / 2 / stats.norm.ppf(0.95)
    assert days.mean == pytest.approx(stats.lognorm.mean(doubt, scale=np.exp(middle)), abs=0.1)
    stages = [days_between(25, 71), days_between(7, 16), days, days_between(10, 21), days_between(0, 14)]
    total = add_up(stages)
    assert total.mean == pytest.approx(sum(stage.mean for stage in stages), abs=1e-6)
    assert total.quantile(0.5) > sum(stage.quantile(0.5) for stage in stages)
    assert total.quantile(0.9) < sum(stage.quantile(0.9) for stage in stages)


def test_the_latest_day_to_start_reads_the_sum_off():
    stages = [Outcome(first=10, chances=(0.5, 0.5)), Outcome(first=20, chances=(0.25, 0.5, 0.25))]
    # 30 to 33 days with chances 1/8, 3/8, 3/8, 1/8 by hand.
    assert latest_start(date(2027, 4, 17), stages, chance=0.5) == date(2027, 3, 17)
    assert latest_start(date(2027, 4, 17), stages, chance=0.9) == date(2027, 3, 15)
    assert on_time_chance(date(2027, 3, 16), date(2027, 4, 17), stages) == pytest.approx(7 / 8)
    assert on_time_chance(date(2027, 4, 1), date(2027, 4, 17), stages) == pytest.approx(0)


def test_what_it_takes():
    needs = needs_of(281, saleable=100, cells=72)
    assert (needs.trays, needs.cells_left_over, needs.packs) == (4, 7, 17)
    assert needs_of(25, saleable=0, cuttings_each=12).mothers == 3


@pytest.mark.parametrize("chance", [0.0, 1.0, 1.2])
def test_no_plan_for_certainty(chance):
    with pytest.raises(BadFigure):
        how_many(10, FULL, chance=chance)
