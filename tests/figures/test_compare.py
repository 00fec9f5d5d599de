"""Is one way better: exact tests against published tables, the luck of trays, and a dealt trial."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from scipy.special import betaln

from core.figures.compare import (
    Arm,
    chance_above,
    chance_first_better,
    compare,
    differences_of,
    fisher,
    needed_per_arm,
)
from core.figures.trial import deal_trial
from core.figures.values import BadFigure, LotFigures, Tally

counts = st.integers(1, 80).flatmap(lambda tried: st.tuples(st.integers(0, tried), st.just(tried)))


def arm(name: str, *trays: tuple[int, int]) -> Arm:
    return Arm(name=name, trays=tuple(Tally(hits=hits, tried=tried) for hits, tried in trays))


@pytest.mark.parametrize(
    ("table", "p"),
    [
        ((8, 10, 1, 6), 0.034965034965034975),  # scipy.stats.fisher_exact, docstring
        ((3, 4, 1, 4), 0.4857142857),  # the lady tasting tea, Fisher 1935; two-sided
        ((2, 17, 10, 13), 0.0005367),  # twins of criminals, R's fisher.test example (from memory)
    ],
)
def test_fisher_as_published(table, p):
    assert fisher(*table) == pytest.approx(p, abs=5e-8)


@given(counts, counts)
def test_fisher_agrees_with_scipy(one, two):
    table = [[one[0], one[1] - one[0]], [two[0], two[1] - two[0]]]
    assert fisher(*one, *two) == pytest.approx(stats.fisher_exact(table).pvalue, abs=1e-9)


@given(st.integers(1, 40), st.integers(1, 40), st.integers(1, 40), st.integers(1, 40))
def test_chance_above_is_the_closed_sum(a, b, c, d):
    # For whole numbers: sum over i < a of B(c + i, b + d) / ((b + i) B(1 + i, b) B(c, d)) with the arms swapped
    # (Miller, Formulas for Bayesian A/B testing; from memory). P(first > second).
    import math

    exact = sum(math.exp(betaln(c + i, d + b) - math.log(b + i) - betaln(1 + i, b) - betaln(c, d)) for i in range(a))
    assert chance_above(a, b, c, d) == pytest.approx(exact, abs=1e-4)


@given(counts, counts)
def test_chances_of_both_ways_add_up(one, two):
    assert chance_first_better(*one, *two) + chance_first_better(*two, *one) == pytest.approx(1, abs=2e-3)


@pytest.mark.parametrize(
    ("share", "other", "power", "number"),
    [
        (0.50, 0.75, 0.9, 77),  # R, power.prop.test help page: n = 76.7 (from memory)
        (0.45, 0.60, 0.8, 173),  # the same formula by hand
        (0.65, 0.45, 0.8, 96),  # recomputed from Fleiss' formula without continuity correction
    ],
)
def test_number_to_tell_two_shares_apart(share, other, power, number):
    assert needed_per_arm(share, other, power=power) == number
    assert needed_per_arm(share, share) is None


def test_whole_trays_are_worth_far_fewer_cuttings():
    heel, straight = arm("heel", (27, 40)), arm("straight", (16, 40))
    found = compare(heel, straight, rho=0.06)
    assert found.design_effect == pytest.approx(1 + 39 * 0.06)
    assert found.worth[0] == pytest.approx(40 / found.design_effect)
    assert found.plain_interval.low > 0 > found.interval.low
    assert 0.5 < found.chance_better < found.plain_chance
    assert found.verdict != "clear"
    assert found.more is not None
    assert found.more[0] > 0
    shared = compare(heel, straight, by_tray=False)
    assert shared.design_effect == 1
    assert shared.interval == shared.plain_interval
    assert shared.verdict == "clear"


def test_more_trays_of_the_same_cuttings_say_more():
    one = compare(arm("heel", (48, 72)), arm("tip", (30, 72)), rho=0.1)
    six = compare(arm("heel", *[(8, 12)] * 6), arm("tip", *[(5, 12)] * 6), rho=0.1)
    assert six.design_effect < one.design_effect
    assert six.chance_better > one.chance_better


def test_many_comparisons_widen_the_interval():
    pair = arm("a", (24, 36)), arm("b", (12, 36))
    assert compare(*pair, by_tray=False, looked_at=10).interval.low < compare(*pair, by_tray=False).interval.low


def test_an_arm_without_a_count_gets_no_verdict():
    found = compare(arm("a", (5, 10)), arm("b"))
    assert (found.verdict, found.difference, found.needed) == ("nothing counted", None, None)


def lot(number: str, day: date, **facts: object) -> LotFigures:
    return LotFigures(number=number, plant="coffeeberry", started_on=day, started=36, **facts)  # type: ignore[arg-type]


def test_arms_that_differ_in_more_than_the_question_are_confounded():
    heel = [lot("1", date(2026, 9, 1), cutting="heel", by="Ana", mothers=(("M1", 36),))]
    tip = [lot("2", date(2026, 10, 20), cutting="tip", by="Ana", mothers=(("M2", 36),))]
    found = {one.what: one for one in differences_of(heel, tip, asked=("cutting",))}
    assert set(found) == {"mother", "date"}
    assert found["mother"].wholly
    result = compare(arm("heel", (30, 36)), arm("tip", (3, 36)), differences=tuple(found.values()))
    assert result.verdict == "confounded"


def test_a_shared_fact_is_a_difference_only_in_part_and_silence_is_none():
    heel = [lot("1", date(2026, 9, 1), medium="perlite"), lot("2", date(2026, 9, 8), medium="sand", place="A")]
    tip = [lot("3", date(2026, 9, 5), medium="perlite")]
    found = differences_of(heel, tip, asked=("cutting",))
    assert [(one.what, one.wholly) for one in found] == [("medium", False)]


@settings(max_examples=60)
@given(st.integers(2, 12), st.integers(0, 10**9), st.sampled_from(["tray", "half"]))
def test_a_trial_deals_every_cutting_and_can_be_dealt_again(trays, seed, unit):
    trial = deal_trial([("heel", 30), ("tip", 30)], trays=trays, seed=seed, unit=unit)
    assert (trial.cuttings_of("heel"), trial.cuttings_of("tip")) == (30, 30)
    assert trial == deal_trial([("heel", 30), ("tip", 30)], trays=trays, seed=seed, unit=unit)
    held = {tray: {bed.arm for bed in trial.beds if bed.tray == tray} for tray in range(1, trays + 1)}
    if unit == "half":
        assert all(arms == {"heel", "tip"} for arms in held.values())
    else:
        assert all(len(arms) == 1 for arms in held.values())
        owners = [next(iter(arms)) for arms in held.values()]
        assert abs(owners.count("heel") - owners.count("tip")) <= 1


def test_seeds_deal_differently():
    dealt = {deal_trial([("heel", 30), ("tip", 30)], trays=8, seed=seed).beds for seed in range(20)}
    assert len(dealt) > 10


def test_a_trial_of_one_way_is_refused():
    with pytest.raises(BadFigure):
        deal_trial([("heel", 30)], trays=4, seed=1)
    with pytest.raises(BadFigure):
        deal_trial([("heel", 30), ("tip", 30)], trays=1, seed=1)
