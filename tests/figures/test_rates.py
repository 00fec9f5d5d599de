"""Intervals and tests of shares, against printed tables and reference libraries."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import confint_proportions_2indep, proportion_confint

from core.figures.rates import clopper_pearson, jeffreys, newcombe, number_to_know, tail_at_or_below, wilson, z_of
from core.figures.values import BadFigure

counts = st.integers(1, 300).flatmap(lambda tried: st.tuples(st.integers(0, tried), st.just(tried)))


# Newcombe 1998, Statistics in Medicine 17:857-872, Table I, 95 % (Wilson as in DescTools' and other public copies).
@pytest.mark.parametrize(
    ("hits", "tried", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_wilson_as_newcombe_prints_it(hits, tried, low, high):
    assert wilson(hits, tried).low == pytest.approx(low, abs=5.1e-5)
    assert wilson(hits, tried).high == pytest.approx(high, abs=5.1e-5)


# statsmodels, stats/tests/results/results_proportion.py: values of R's package binom, 95 %.
@pytest.mark.parametrize(
    ("hits", "tried", "low", "high"),
    [
        (18, 20, 0.6989664, 0.9721335),
        (4, 20, 0.0806577, 0.4160174),
        (4, 200, 0.0078044, 0.0502871),
        (0, 30, 0.0, 0.1135134),
        (1, 30, 0.0059086, 0.1667039),
        (19, 38, 0.348499283643951, 0.651500716356049),
    ],
)
def test_wilson_as_r_gives_it(hits, tried, low, high):
    assert (wilson(hits, tried).low, wilson(hits, tried).high) == pytest.approx((low, high), abs=6e-8)


@pytest.mark.parametrize(
    ("hits", "tried", "low", "high"),
    [
        (18, 20, 0.6830173, 0.9876515),  # R binom, as above
        (4, 20, 0.0573340, 0.4366140),
        (4, 200, 0.0054756, 0.0504136),
        (0, 30, 0.0, 0.1157033),
        (1, 30, 0.0008436, 0.1721695),
    ],
)
def test_exact_as_r_gives_it(hits, tried, low, high):
    assert (clopper_pearson(hits, tried).low, clopper_pearson(hits, tried).high) == pytest.approx((low, high), abs=6e-8)


def test_exact_interval_of_the_nist_handbook():
    # NIST/SEMATECH e-Handbook 7.2.4.1 (from memory, recomputed): 4 of 20 defective, 90 %: 0.071354 to 0.401029.
    found = clopper_pearson(4, 20, level=0.9)
    assert (found.low, found.high) == pytest.approx((0.071354, 0.401029), abs=1.1e-6)


@pytest.mark.parametrize(("tried", "upper"), [(20, 0.1391), (30, 0.0950), (100, 0.0295)])
def test_nothing_found_has_its_one_sided_upper_limit(tried, upper):
    # 1 - 0.05^(1/n), of which the rule of three is the round figure (Hanley and Lippman-Hand 1983, JAMA 249:1743).
    found = clopper_pearson(0, tried, sides="upper")
    assert found.high == pytest.approx(upper, abs=5e-5)
    assert found.high <= 3 / tried


def test_one_sided_lower_limit_of_scipys_example():
    # scipy.stats.binomtest, docstring: 3 of 15, greater.
    assert clopper_pearson(3, 15, sides="lower").low == pytest.approx(0.05684686759024681, abs=1e-12)
    assert 1 - tail_at_or_below(2, 15, 0.1) == pytest.approx(0.18406106910639114, abs=1e-12)


def test_jeffreys_is_the_equal_tailed_one():
    # R binom via statsmodels for 4 of 20; 1 of 30 there is highest-density, ours (equal tails) is 0.0036 to 0.1454.
    assert (jeffreys(4, 20).low, jeffreys(4, 20).high) == pytest.approx((0.0715201, 0.4082258), abs=6e-8)
    assert (jeffreys(1, 30).low, jeffreys(1, 30).high) == pytest.approx((0.0036205, 0.1454178), abs=6e-8)
    assert jeffreys(0, 20).low == 0


# Newcombe 1998, Statistics in Medicine 17:873-890, Table II, method 10 (from memory, recomputed).
@pytest.mark.parametrize(
    ("counts_", "low", "high"),
    [
        ((9, 10, 3, 10), 0.1705, 0.8090),
        ((6, 7, 2, 7), 0.0582, 0.8062),
        ((5, 56, 0, 29), -0.0381, 0.1926),
        ((0, 10, 0, 20), -0.1611, 0.2775),
        ((10, 10, 0, 10), 0.6075, 1.0),
    ],
)
def test_newcombe_difference(counts_, low, high):
    found = newcombe(*counts_)
    assert (found.low, found.high) == pytest.approx((low, high), abs=5.1e-5)


@pytest.mark.parametrize(
    ("share", "within", "number"), [(0.5, 0.05, 385), (0.5, 0.1, 97), (0.8, 0.05, 246), (0.9, 0.03, 385)]
)
def test_sample_size_for_a_share(share, within, number):
    # z² p q / d² (Cochran, Sampling Techniques; from memory, recomputed).
    assert number_to_know(share, within) == number


@given(counts, st.sampled_from([0.8, 0.9, 0.95, 0.99]))
def test_intervals_agree_with_statsmodels(pair, level):
    hits, tried = pair
    for ours, name in ((wilson, "wilson"), (clopper_pearson, "beta")):
        found, reference = ours(hits, tried, level=level), proportion_confint(hits, tried, 1 - level, method=name)
        assert (found.low, found.high) == pytest.approx(reference, abs=1e-8)


@given(counts, counts)
def test_difference_agrees_with_statsmodels(one, two):
    found = newcombe(*one, *two)
    assert (found.low, found.high) == pytest.approx(confint_proportions_2indep(*one, *two, method="newcomb"), abs=1e-8)


@given(counts)
def test_every_interval_holds_the_share_seen(pair):
    hits, tried = pair
    for interval in (wilson(hits, tried), jeffreys(hits, tried), clopper_pearson(hits, tried)):
        assert 0 <= interval.low <= hits / tried <= interval.high <= 1


@given(counts)
def test_failures_mirror_successes(pair):
    hits, tried = pair
    for ours in (wilson, jeffreys, clopper_pearson):
        one, other = ours(hits, tried), ours(tried - hits, tried)
        assert (one.low, one.high) == pytest.approx((1 - other.high, 1 - other.low), abs=1e-9)


def test_nothing_tried_is_nothing_known():
    assert (wilson(0, 0).low, wilson(0, 0).high) == (0, 1)
    assert (newcombe(3, 4, 0, 0).low, newcombe(3, 4, 0, 0).high) == (-1, 1)


@pytest.mark.parametrize(("hits", "tried"), [(5, 4), (-1, 4)])
def test_impossible_counts_are_refused(hits, tried):
    with pytest.raises(BadFigure):
        wilson(hits, tried)
    with pytest.raises(BadFigure):
        z_of(1.0)


def test_normal_quantile():
    assert z_of(0.95) == pytest.approx(stats.norm.ppf(0.975))
