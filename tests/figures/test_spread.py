"""The rate of a plant between lots: published fits, exact reference distributions, and what must always hold."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from core.figures.outcomes import Outcome, add_up, binomial_table, share_nodes
from core.figures.posterior import weigh
from core.figures.spread import (
    Prior,
    Spread,
    fit,
    lot_from_sample,
    lot_share,
    most_likely,
    next_lot,
    no_history,
    prior_from,
    rho_between,
)
from core.figures.values import BadFigure, Tally

# Tarone 1982, as tabled in Gelman et al., Bayesian Data Analysis, chapter 5 (counts in am207.info/wiki/hierlab.html).
RATS = """0/20 0/20 0/20 0/20 0/20 0/20 0/20 0/19 0/19 0/19 0/19 0/18 0/18 0/17 1/20 1/20 1/20 1/20 1/19 1/19 1/18 1/18
3/27 2/25 2/24 2/23 2/20 2/20 2/20 2/20 2/20 2/20 1/10 5/49 2/19 5/46 2/17 7/49 7/47 3/20 3/20 2/13 9/48 10/50 4/20
4/20 4/20 4/20 4/20 4/20 4/20 10/48 4/19 4/19 4/19 5/22 11/46 12/49 5/20 5/20 6/23 5/19 6/22 6/20 6/20 6/20 16/52
15/46 15/47 9/24 4/14"""
lots = st.lists(
    st.integers(1, 90).flatmap(lambda tried: st.builds(Tally, hits=st.integers(0, tried), tried=st.just(tried))),
    max_size=8,
)


def tallies(text: str) -> list[Tally]:
    return [Tally(hits=int(a), tried=int(b)) for a, b in (pair.split("/") for pair in text.split())]


def only(a: float, b: float) -> Spread:
    """A spread that is one beta for certain."""
    return Spread(
        mean=a / (a + b), rho=1 / (a + b + 1), lots=0, hits=0, tried=0, lowest=None, highest=None,
        prior=no_history(), shapes=((a, b, 1.0),),
    )  # fmt: skip


def test_rat_tumours_have_the_books_posterior():
    # Bayesian Data Analysis, 3rd edition, section 5.3: prior (a + b)^(-5/2), posterior means a = 2.4, b = 14.3.
    from scipy.special import betaln

    pairs = [(one.hits, one.tried) for one in tallies(RATS)]

    def log_weight(x, y):  # x = log(a/b), y = log(a+b), with the Jacobian a b
        size = np.exp(y)
        a = size / (1 + np.exp(-x))
        b = size - a
        total = np.log(a) + np.log(b) - 2.5 * np.log(size)
        return total + sum(betaln(a + k, b + n - k) - betaln(a, b) for k, n in pairs)

    x, y, weights = weigh(log_weight, first=(-3.0, -0.5, 15), second=(1.0, 5.0, 15))
    a = np.exp(y) / (1 + np.exp(-x))
    assert weights @ a == pytest.approx(2.4, abs=0.06)
    assert weights @ (np.exp(y) - a) == pytest.approx(14.3, abs=0.3)


def test_maximum_likelihood_is_the_best_beta_binomial_of_scipy():
    found = most_likely(tallies(RATS))
    pairs = [(one.hits, one.tried) for one in tallies(RATS)]

    def log_likelihood(mean, rho):
        size = (1 - rho) / rho
        return sum(stats.betabinom.logpmf(k, n, mean * size, (1 - mean) * size) for k, n in pairs)

    best = log_likelihood(*found)
    assert found[0] == pytest.approx(0.14, abs=0.01)
    for shift in (-0.004, 0.004):
        assert log_likelihood(found[0] + shift, found[1]) < best
        assert log_likelihood(found[0], found[1] + shift) < best


def test_many_lots_leave_the_prior_behind():
    rng = np.random.default_rng(11)
    seen = [Tally(hits=int(rng.binomial(72, p)), tried=72) for p in rng.beta(9, 6, 600)]
    found = fit(seen)
    assert (found.mean, found.rho) == pytest.approx(most_likely(seen), abs=0.003)
    assert found.mean_range().high - found.mean_range().low < 0.03


def test_the_fit_is_the_brute_force_posterior():
    prior, seen = Prior(mean=0.5, worth=4, rho=0.1, rho_worth=16), tallies("31/72 58/72 40/72 49/72 36/72")
    m, rho = (axis.ravel() for axis in np.meshgrid((np.arange(300) + 0.5) / 300, (np.arange(300) + 0.5) / 600))
    size = (1 - rho) / rho
    logs = stats.beta.logpdf(m, 2, 2) + stats.beta.logpdf(rho, 1.6, 14.4)
    for one in seen:
        logs = logs + stats.betabinom.logpmf(one.hits, one.tried, m * size, (1 - m) * size)
    weights = np.exp(logs - logs.max())
    weights /= weights.sum()
    found = fit(seen, prior)
    assert found.mean == pytest.approx(float(weights @ m), abs=0.003)
    assert found.rho == pytest.approx(float(weights @ rho), abs=0.004)
    exact = stats.betabinom.pmf(30, 72, m * size, (1 - m) * size) @ weights
    assert next_lot(found, 72).chance_of(30) - next_lot(found, 72).chance_of(31) == pytest.approx(exact, abs=0.0005)


def test_uniform_shares_give_every_count_alike():
    # Bayes' billiard table: with a uniform prior each count of 10 has chance 1/11.
    assert next_lot(only(1, 1), 10).chances == pytest.approx([1 / 11] * 11)


def test_the_beta_binomial_of_scipy():
    # Beta(8.5, 2.5), n = 20: scipy.stats.betabinom.
    found = next_lot(only(8.5, 2.5), 20)
    assert found.mean == pytest.approx(15.4545, abs=5e-5)
    assert 1 - found.chance_of(10) == pytest.approx(0.041668, abs=5e-7)
    assert found.chance_of(20) == pytest.approx(0.055915, abs=5e-7)
    assert found.chances == pytest.approx(stats.betabinom.pmf(np.arange(21), 20, 8.5, 2.5), abs=1e-9)


def test_shares_are_summed_exactly_enough():
    from core.figures.outcomes import beta_weights

    for a, b in ((0.7, 0.9), (9.1, 6.2), (200.0, 40.0)):
        weights = beta_weights(np.array([a]), np.array([b]))[0]
        assert weights @ share_nodes() == pytest.approx(a / (a + b), abs=2e-4)
        assert weights @ binomial_table(72) == pytest.approx(stats.betabinom.pmf(np.arange(73), 72, a, b), abs=2e-4)


def test_three_of_three_is_not_all():
    found = fit(tallies("3/3"))
    assert 0.55 < found.mean < 0.85
    assert lot_share(found, Tally(hits=3, tried=3)).low < 0.75


def test_no_lot_is_the_prior_and_not_zero():
    found = fit([])
    assert found.mean == pytest.approx(no_history().mean, abs=0.01)
    assert found.lowest is None
    assert found.lots == 0


def test_a_published_range_is_the_middle_eighty_of_lots_and_weak():
    prior = prior_from(published=(0.4, 0.7))
    assert prior.basis == "published range"
    assert 0.45 < fit([], prior).mean < 0.65
    assert fit(tallies("5/72 8/72 3/72 6/72"), prior).mean < 0.16


def test_other_plants_pull_a_new_one():
    good = prior_from(others=[tallies("60/72 66/72"), tallies("50/60 55/60"), tallies("65/72")])
    bad = prior_from(others=[tallies("6/72 16/72"), tallies("10/60 5/60"), tallies("9/72")])
    assert fit(tallies("3/6"), bad).mean < fit(tallies("3/6")).mean < fit(tallies("3/6"), good).mean


def test_a_sample_is_a_range_for_the_lot():
    found = lot_from_sample(only(1, 1), Tally(hits=4, tried=12), 63)
    reference = stats.betabinom(51, 5, 9)
    assert found.range(0.8) == (4 + int(reference.ppf(0.1)), 4 + int(reference.ppf(0.9)))
    assert found.first >= 4
    with pytest.raises(BadFigure):
        lot_from_sample(only(1, 1), Tally(hits=4, tried=12), 10)


def test_alike_lots_have_no_correlation_and_split_ones_have_much():
    assert rho_between([tallies("36/72 35/72 37/72 36/72 36/72 35/72")]) < 0.06
    assert rho_between([tallies("70/72 2/72 71/72 1/72 72/72 0/72")]) > 0.2


def test_one_lot_cannot_tell_how_lots_differ():
    with pytest.raises(BadFigure):
        most_likely(tallies("30/72"))


@settings(max_examples=40, deadline=None)
@given(lots, st.randoms(use_true_random=False))
def test_order_never_matters(seen, chance):
    shuffled = list(seen)
    chance.shuffle(shuffled)
    assert fit(shuffled) == fit(seen)


@settings(max_examples=40, deadline=None)
@given(lots)
def test_ranges_hold_the_mean_and_one_more_success_never_lowers_it(seen):
    found = fit(seen)
    assert found.mean_range().low < found.mean < found.mean_range().high
    assert 0 < found.rho < 1
    if seen and seen[0].hits < seen[0].tried:
        better = [Tally(hits=seen[0].hits + 1, tried=seen[0].tried), *seen[1:]]
        assert fit(better).mean > found.mean - 1e-3


@settings(max_examples=40, deadline=None)
@given(lots, st.integers(0, 120))
def test_a_prediction_is_a_distribution(seen, tried):
    found = next_lot(fit(seen), tried)
    assert sum(found.chances) == pytest.approx(1)
    assert 0 <= found.quantile(0.1) <= found.middle <= found.quantile(0.9) <= tried


@settings(max_examples=40, deadline=None)
@given(st.lists(st.lists(st.floats(0.01, 1), min_size=1, max_size=12), min_size=1, max_size=11))
def test_sums_of_outcomes_are_convolutions(rows):
    parts = [Outcome.of(np.array(row) / sum(row), first) for first, row in enumerate(rows)]
    total = add_up(parts)
    exact = np.ones(1)
    for part in parts:
        exact = np.convolve(exact, part.chances)
    assert total.mean == pytest.approx(sum(part.mean for part in parts))
    kept = exact[total.first - sum(part.first for part in parts) :][: len(total.chances)]
    assert total.chances == pytest.approx(kept, abs=1e-9)
