"""What lots will give, whether they fail, on whose mothers they rest, and what next year's sale will want."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from core.figures.demand import Sale, demand_of, grow_for, newsvendor, traded_by
from core.figures.forecast import Ways, fit_from, forecast, shortfall, usual_ways
from core.figures.mothers import captured_alleles, clones_of, effective_mothers, mothers_for
from core.figures.rooting_time import fit_time
from core.figures.spread import Spread, fit, next_lot, no_history, stage_prior
from core.figures.values import (
    BadFigure,
    Look,
    LotFigures,
    Tally,
    grouped,
    rooted_tallies,
    saleable_tallies,
    survived_tallies,
)
from core.figures.warning import look_at, look_at_losses, look_at_roots

TODAY, SALE = date(2026, 12, 20), date(2027, 4, 17)
ROOTING = fit([Tally(hits=hits, tried=60) for hits in (40, 47, 28, 51)])
TIME = fit_time((), weeks=(4, 8))
WAYS: Ways = usual_ways(ROOTING, fit((), stage_prior("potting")), fit((), stage_prior("growing_on")), TIME)


def only(a: float, b: float) -> Spread:
    return Spread(
        mean=a / (a + b), rho=1 / (a + b + 1), lots=0, hits=0, tried=0, lowest=None, highest=None,
        prior=no_history(), shapes=((a, b, 1.0),),
    )  # fmt: skip


def lot(number: str, day: date, **facts: object) -> LotFigures:
    return LotFigures(**{"number": number, "plant": "coyote brush", "started_on": day, "started": 72, **facts})


POTTED = lot(
    "A", date(2026, 7, 1), rooted=58, counted_on=date(2026, 12, 1), potted=58, lost=14, potted_on=date(2026, 10, 1)
)
LATE = lot("C", date(2026, 12, 1))


def test_half_of_what_is_in_pots_is_fit_by_the_day_that_the_forecast_puts_at_even_chances():
    young = lot("Y", date(2026, 7, 1), rooted=58, counted_on=TODAY, potted=58, lost=14, potted_on=TODAY)
    day = fit_from([young], WAYS, on=TODAY)
    assert day is not None
    part = forecast("coyote brush", [young], WAYS, on=TODAY, for_on=day).parts[0]
    before = forecast("coyote brush", [young], WAYS, on=TODAY, for_on=day - timedelta(days=2)).parts[0]
    assert before.on_time < 0.5 <= part.on_time
    assert fit_from([LATE], WAYS, on=TODAY) is None


def test_a_lot_in_pots_is_the_beta_binomial_of_growing_on():
    found = forecast("coyote brush", [POTTED], WAYS, on=TODAY, for_on=SALE)
    exact = next_lot(WAYS.growing_on, 58)
    assert found.fork is None
    assert found.outcome.mean == pytest.approx(exact.mean, abs=0.2)
    for number in (40, 48, 52, 55):
        assert found.outcome.chance_of(number) == pytest.approx(exact.chance_of(number), abs=0.004)


def test_a_late_lot_is_a_fork_and_not_a_mean():
    found = forecast("coyote brush", [POTTED, LATE], WAYS, on=TODAY, for_on=SALE)
    assert found.fork is not None
    (part,) = found.fork.parts
    assert (part.lot, part.stage, part.plants) == ("C", "unrooted", 72)
    assert found.fork.none.quantile(0.9) < found.fork.every.middle
    assert found.fork.chance_none == pytest.approx(1 - part.on_time)
    mixed = part.on_time * found.fork.every.mean + (1 - part.on_time) * found.fork.none.mean
    assert found.outcome.mean == pytest.approx(mixed, abs=0.05)
    assert found.uncounted == ("C",)


def test_old_counts_and_unexplained_plants_are_said():
    old = lot("B", date(2026, 8, 1), rooted=40, counted_on=date(2026, 10, 1), left=50, lost=9)
    found = forecast("coyote brush", [old, POTTED], WAYS, on=TODAY, for_on=SALE)
    assert found.old_counts == ("B",)
    assert found.unexplained == (("B", 13),)


def test_not_knowing_the_growing_on_rate_is_common_to_all_lots():
    one = forecast("x", [POTTED], WAYS, on=TODAY, for_on=SALE).outcome
    many = forecast("x", [POTTED] * 16, WAYS, on=TODAY, for_on=SALE).outcome
    spread, spread_of_many = one.quantile(0.9) - one.quantile(0.1), many.quantile(0.9) - many.quantile(0.1)
    assert many.mean == pytest.approx(16 * one.mean, rel=1e-3)
    assert spread_of_many > 1.5 * 4 * spread


def test_a_bad_count_lowers_the_forecast_of_the_rest():
    start = date(2026, 9, 1)
    poor = lot("P", start, rooted=5, counted_on=start + timedelta(days=50))
    fine = lot("F", start, rooted=40, counted_on=start + timedelta(days=50))
    unseen = lot("U", start)
    poor_part, fine_part, unseen_part = (
        next(p for p in forecast("x", [one], WAYS, on=TODAY, for_on=SALE).parts if p.stage == "unrooted")
        for one in (poor, fine, unseen)
    )
    assert poor_part.share < unseen_part.share
    assert poor_part.share * 67 + 5 < fine_part.share * 32 + 40


def test_shortfall():
    found = forecast("x", [POTTED], WAYS, on=TODAY, for_on=SALE).outcome
    short = shortfall(found, 120)
    assert short.chance == 0
    assert short.lacking_middle == 120 - found.middle
    assert short.lacking_low == 120 - found.quantile(0.1) > short.lacking_middle


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 72), st.integers(20, 150), st.booleans()), min_size=1, max_size=6), st.randoms()
)
def test_order_of_lots_never_matters_and_another_lot_never_hurts(rows, chance):
    lots = [
        lot(
            str(i),
            TODAY - timedelta(days=age),
            rooted=rooted if counted else None,
            counted_on=TODAY if counted else None,
        )
        for i, (rooted, age, counted) in enumerate(rows)
    ]
    found = forecast("x", lots, WAYS, on=TODAY, for_on=SALE).outcome
    mixed = list(lots)
    chance.shuffle(mixed)
    again = forecast("x", mixed, WAYS, on=TODAY, for_on=SALE).outcome
    assert found.mean == pytest.approx(again.mean, abs=1e-6)
    more = forecast("x", [*lots, POTTED], WAYS, on=TODAY, for_on=SALE).outcome
    for number in (10, 50, 100):
        assert more.chance_of(number) >= found.chance_of(number) - 1e-9
    assert 0 <= found.quantile(0.01) <= found.quantile(0.99) <= sum(one.living for one in lots)


# --- warnings -------------------------------------------------------------------------------------------------------


def test_once_all_is_due_a_warning_is_the_beta_binomials_tail():
    # scipy.stats.betabinom, when the day is so late that every rooter has rooted.
    found = look_at_roots(3, 24, 400, only(9, 6), TIME)
    assert found.tail == pytest.approx(stats.betabinom.cdf(3, 24, 9, 6), abs=2e-4)
    assert found.expected == pytest.approx(24 * 0.6, abs=0.01)
    tails = stats.betabinom.cdf(np.arange(25), 24, 9, 6)
    assert (found.red_at, found.amber_at) == (int((tails < 0.05).sum()) - 1, int((tails < 0.2).sum()) - 1)
    assert found.level == "red"
    posterior = stats.beta(12, 27)
    assert found.final is not None
    assert (found.final.low, found.final.high) == pytest.approx(posterior.ppf([0.1, 0.9]), abs=0.01)


def test_none_on_an_early_day_is_no_news():
    early, late = (look_at_roots(0, 12, day, ROOTING, TIME) for day in (20, 70))
    assert (early.level, early.amber_at) == ("no news", None)
    assert late.level == "red"


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 72), st.integers(1, 120), st.data())
def test_more_rooted_is_never_worse(of, day, data):
    seen = data.draw(st.integers(0, of - 1))
    fewer, more = look_at_roots(seen, of, day, ROOTING, TIME), look_at_roots(seen + 1, of, day, ROOTING, TIME)
    assert fewer.tail <= more.tail + 1e-12
    assert fewer.amber_at is None or fewer.red_at is None or fewer.red_at <= fewer.amber_at


def test_losses_are_judged_with_the_spread_between_lots():
    found = look_at_losses(9, 72, 14)
    assert found.tail > 3 * stats.binom.sf(8, 72, 0.05)
    assert found.level == "amber"
    assert look_at_losses(30, 72, 14).level == "red"
    assert look_at_losses(0, 72, 14).level == "fine"
    assert look_at_losses(3, 72, 100).level == "fine"
    assert found.amber_at is not None
    assert look_at_losses(found.amber_at, 72, 14).level == "amber"
    assert look_at_losses(found.amber_at - 1, 72, 14).level == "fine"


def test_a_lot_that_nobody_looked_at_has_no_news_of_roots():
    roots, losses = look_at(LATE, ROOTING, TIME, on=TODAY)
    assert roots is None
    assert losses.level == "fine"
    sampled = lot("S", date(2026, 9, 1), looks=(Look(on=date(2026, 11, 10), rooted=1, of=24, whole=False),))
    roots, _ = look_at(sampled, ROOTING, TIME, on=TODAY)
    assert roots is not None
    assert (roots.seen, roots.of, roots.day, roots.level) == (1, 24, 70, "red")


# --- the values -----------------------------------------------------------------------------------------------------


def test_no_record_is_not_zero_and_a_sample_not_the_lot():
    late = date(2026, 9, 1)
    lots = [
        lot("1", late, rooted=40, counted_on=late + timedelta(days=90)),
        lot("2", late),
        lot("3", late, rooted=4, counted_on=late + timedelta(days=20)),
        lot("4", late, looks=(Look(on=late + timedelta(days=90), rooted=4, of=12, whole=False),)),
        lot("5", late, rooted=30, counted_on=late + timedelta(days=20), closed=True),
    ]
    found = rooted_tallies(lots, settled_day=60)
    assert [(t.of, t.hits, t.tried) for t in found.tallies] == [("1", 40, 72), ("4", 4, 12), ("5", 30, 72)]
    assert (found.uncounted, found.too_early) == (("2",), ("3",))


def test_a_lots_books():
    one = lot("1", date(2026, 12, 3), rooted=40, potted=30, sold=10, lost=9, left=50)
    assert (one.in_pots, one.in_cells, one.unrooted) == (20, 10, 20)
    assert one.unexplained == 3
    assert one.season == "winter 2027"
    assert one.age_of_count(TODAY) is None


def test_lots_are_grouped_by_what_was_noted():
    lots = [lot("1", TODAY, medium="sand", mothers=(("M1", 72),)), lot("2", TODAY), lot("3", TODAY, medium="perlite")]
    assert list(grouped(lots, "medium")) == ["perlite", "sand"]
    assert list(grouped(lots, "mother")) == ["M1"]
    with pytest.raises(BadFigure):
        grouped(lots, "moon")


def test_survived_and_saleable_come_from_closed_lots():
    closed = lot("1", TODAY, rooted=50, potted=48, sold=40, lost=32, closed=True)
    assert survived_tallies([closed, LATE]) == (Tally(hits=40, tried=72, of="1"),)
    assert saleable_tallies([closed, LATE]) == (Tally(hits=40, tried=50, of="1"),)


def test_impossible_tallies_are_refused():
    with pytest.raises(BadFigure):
        Tally(hits=5, tried=4)
    with pytest.raises(BadFigure):
        Look(on=TODAY, rooted=5, of=4)


# --- mothers --------------------------------------------------------------------------------------------------------


def test_effective_mothers():
    # Inverse Simpson (Laakso and Taagepera 1979): equal parts give their number, by hand.
    assert effective_mothers([12] * 6) == pytest.approx(6)
    assert effective_mothers([40, 20, 12]) == pytest.approx(72**2 / (1600 + 400 + 144))
    assert effective_mothers([]) == 0


def test_mothers_that_hold_an_allele():
    # Brown and Marshall 1995 (from memory): 30 outcrossing or 59 selfing plants hold an allele at 5 % with 95 % chance.
    assert (mothers_for(), mothers_for(selfing=True)) == (30, 59)
    assert captured_alleles(30) == pytest.approx(0.954, abs=5e-4)
    assert captured_alleles(59, selfing=True) == pytest.approx(0.9515, abs=5e-4)


def test_clones_behind_a_sale_plant():
    lots = [lot("1", TODAY, mothers=(("M1", 60), ("M2", 12))), lot("2", TODAY, mothers=(("M3", 72),)), lot("3", TODAY)]
    found = clones_of(lots, clone_of={"M3": "M1"})
    assert (found.clones, found.largest, found.unknown, found.narrow) == (2, "M1", 72, True)
    assert found.largest_share == pytest.approx(132 / 144)
    assert clones_of([lots[2]]).clones == 0


# --- next year ------------------------------------------------------------------------------------------------------


def test_newsvendor_as_in_the_textbook():
    # Cachon and Terwiesch, Matching Supply with Demand, the wetsuit of chapter 12 (from memory): mean 3192, deviation
    # 1181, price 190, cost 110, left over 90: order 4186.
    assert newsvendor(3192, 1181, price=190, cost=110, left_over=90) == pytest.approx(4186, abs=1)
    assert newsvendor(100, 20, price=4, cost=2) == pytest.approx(100)


def test_sold_out_early_is_demand_at_least():
    early, late, never = (demand_of([Sale(year=2026, brought=48, sold=48, sold_out_at=at)]) for at in (0.25, 0.9, None))
    assert early.middle > late.middle > never.middle == 48
    assert never.at_least
    assert early.low < early.middle < early.high
    assert traded_by(0) == 0
    assert traded_by(1) == 1


def test_a_sale_nobody_counted_says_nothing():
    assert demand_of([Sale(year=2025, brought=40, sold=None)]) is None
    assert demand_of([]) is None


def test_asked_in_vain_counts_once():
    plain = demand_of([Sale(year=2026, brought=40, sold=40, sold_out_at=0.5)])
    asked = demand_of([Sale(year=2026, brought=40, sold=40, sold_out_at=0.5, asked_in_vain=5)])
    many = demand_of([Sale(year=2026, brought=40, sold=40, sold_out_at=0.5, asked_in_vain=90)])
    assert asked.middle == plain.middle
    assert many.middle == 130


def test_later_years_weigh_more_and_dear_plants_are_grown_fewer():
    rising = demand_of([Sale(year=2024, brought=50, sold=20), Sale(year=2026, brought=50, sold=40)])
    assert 30 < rising.middle < 40
    assert grow_for(rising, price=10, cost=8) < rising.middle < grow_for(rising, price=10, cost=2)
    with pytest.raises(BadFigure):
        grow_for(rising, price=5, cost=6)
