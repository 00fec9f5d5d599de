"""Time to root from looks now and then: Turnbull's estimate and parametric fits, against published analyses."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from lifelines import KaplanMeierFitter, LogNormalFitter, WeibullFitter
from scipy import stats

from core.figures.rooting_time import Span, fit_time, most_likely_time, published_weeks, spans_of, turnbull
from core.figures.values import BadFigure, Look, LotFigures

# Breast cosmesis data (Finkelstein and Wolfe 1985, Biometrics 41:933-945), as in R's package interval (bcos), months.
RADIATION = """45-inf 6-10 0-7 46-inf 46-inf 7-16 17-inf 7-14 37-44 0-8 4-11 15-inf 11-15 22-inf 46-inf 46-inf 25-37
46-inf 26-40 46-inf 27-34 36-44 46-inf 36-48 37-inf 40-inf 17-25 46-inf 11-18 38-inf 5-12 37-inf 0-5 18-inf 24-inf
36-inf 5-11 19-35 17-25 24-inf 32-inf 33-inf 19-26 37-inf 34-inf 36-inf"""


def spans(text: str) -> list[Span]:
    pairs = [one.split("-") for one in text.split()]
    return [Span(after=float(a), by=None if b == "inf" else float(b)) for a, b in pairs]


def test_turnbull_radiation_only():
    # R package interval, icfit on bcos, radiation arm (from memory; the shares at 4 and 5 months are printed there).
    pieces = turnbull(spans(RADIATION)).pieces
    printed = [
        (4, 5, 0.0463), (6, 7, 0.0334), (7, 8, 0.0887), (11, 12, 0.0708), (24, 25, 0.0926), (33, 34, 0.0818),
        (38, 40, 0.1209), (46, 48, 0.4656),
    ]  # fmt: skip
    assert [(a, b) for a, b, _ in pieces] == [(a, b) for a, b, _ in printed]
    assert [share for *_, share in pieces] == pytest.approx([share for *_, share in printed], abs=1e-4)
    assert turnbull(spans(RADIATION)).share_left(4) == pytest.approx(1)
    assert turnbull(spans(RADIATION)).share_left(5) == pytest.approx(0.9537, abs=5e-5)
    assert turnbull(spans(RADIATION)).share_left(4.5) is None


@pytest.mark.parametrize(
    ("week", "left"),
    [(6, 0.857143), (7, 0.806723), (10, 0.752941), (13, 0.690196), (16, 0.627451), (22, 0.537815), (23, 0.448179)],
)
def test_exact_times_give_kaplan_and_meier(week, left):
    # Freireich et al. 1963, Blood 21:699-716, 6-MP arm; + is not yet relapsed.
    text = "6, 6, 6, 6+, 7, 9+, 10, 10+, 11+, 13, 16, 17+, 19+, 20+, 22, 23, 25+, 32+, 32+, 34+, 35+"
    times = text.split(", ")
    seen = [Span(after=float(t.rstrip("+")), by=None if t[-1] == "+" else float(t)) for t in times]
    assert turnbull(seen).share_left(week) == pytest.approx(left, abs=1e-6)


def weekly(middle: float, spread: float, seed: int) -> list[Span]:
    """Looks once a week for ten weeks at plants that root log-normally."""
    days = np.random.default_rng(seed).lognormal(np.log(middle), spread, 120)
    return [Span(after=7 * (day // 7), by=7 * (day // 7) + 7) if day < 70 else Span(after=70, by=None) for day in days]


@pytest.mark.parametrize("seen", [spans(RADIATION), weekly(40, 0.4, 3), weekly(60, 0.6, 4)])
def test_parametric_fits_agree_with_lifelines(seen):
    low = np.array([max(span.after, 1e-9) for span in seen])
    high = np.array([np.inf if span.by is None else span.by for span in seen])
    middle, spread = most_likely_time(seen)
    normal = LogNormalFitter().fit_interval_censoring(low, high)
    assert (middle, spread) == pytest.approx((normal.mu_, normal.sigma_), rel=2e-3)
    middle, spread = most_likely_time(seen, family="weibull")
    weibull = WeibullFitter().fit_interval_censoring(low, high)
    assert (np.exp(middle), 1 / spread) == pytest.approx((weibull.lambda_, weibull.rho_), rel=2e-3)


def test_turnbull_agrees_with_lifelines():
    # lifelines closes intervals at both ends, so that its left ends must lie just after ours.
    seen = spans(RADIATION)
    high = [np.inf if span.by is None else span.by for span in seen]
    fitter = KaplanMeierFitter().fit_interval_censoring([span.after + 1e-4 for span in seen], high)
    for month in (5, 8, 12, 25, 34, 40):
        reference = fitter.survival_function_.loc[: month + 1e-3].iloc[-1]
        assert turnbull(seen).share_left(month) == pytest.approx(reference.min(), abs=2e-3)


def test_spans_that_touch_but_do_not_overlap_are_counted_by_hand():
    seen = weekly(40, 0.4, 7)
    for day in (14, 28, 42, 56, 70):
        by_hand = sum(span.after >= day for span in seen) / len(seen)
        assert turnbull(seen).share_left(day) == pytest.approx(by_hand)


@pytest.mark.parametrize("seen", [[s for s in spans(RADIATION) if s.after > 0], weekly(60, 0.6, 4)])
def test_the_log_normal_fit_agrees_with_scipy(seen):
    data = stats.CensoredData(
        interval=[(s.after, s.by) for s in seen if s.by is not None], right=[s.after for s in seen if s.by is None]
    )
    shape, _, scale = stats.lognorm.fit(data, floc=0)
    middle, spread = most_likely_time(seen)
    assert (middle, spread) == pytest.approx((np.log(scale), shape), rel=2e-3)


def test_without_a_look_the_published_weeks_speak():
    found = fit_time((), weeks=(4, 8))
    assert 24 < found.day_of(0.1) < 30
    assert found.day_of(0.5) == pytest.approx(7 * np.sqrt(32), rel=0.03)
    assert 54 < found.day_of(0.9) < 66
    assert found.plants == 0


def test_many_looks_overrule_the_weeks():
    rng = np.random.default_rng(5)
    days = rng.lognormal(np.log(80), 0.25, 400)
    seen = [Span(after=7 * (day // 7), by=7 * (day // 7) + 7) for day in days]
    found = fit_time(seen, weeks=(3, 6))
    assert found.day_of(0.5) == pytest.approx(80, rel=0.04)
    assert found.share_by(found.day_of(0.3)) == pytest.approx(0.3, abs=1e-4)
    assert found.days().quantile(0.9) == pytest.approx(80 * np.exp(0.25 * 1.2816), rel=0.06)


def test_those_that_never_root_do_not_slow_the_others():
    seen = [Span(after=21, by=28, count=20), Span(after=28, by=35, count=20), Span(after=70, by=None, count=40)]
    assert fit_time(seen, weeks=(3, 7), could_root=0.5).day_of(0.9) < 45 < fit_time(seen, weeks=(3, 7)).day_of(0.9)


STUCK = date(2026, 9, 1)


def look(day: int, rooted: int, of: int, whole: bool = True) -> Look:
    return Look(on=STUCK + timedelta(days=day), rooted=rooted, of=of, whole=whole)


def test_looks_become_spans():
    lot = LotFigures(
        number="26-001", plant="coyote brush", started_on=STUCK, started=72, lost=4, rooted=30,
        looks=(look(42, 30, 72), look(28, 10, 72), look(20, 3, 12, whole=False)),
    )  # fmt: skip
    found, count = spans_of([lot], rho=0.0)
    assert count == 1
    assert found == (
        Span(after=0, by=28, count=10), Span(after=28, by=42, count=20), Span(after=42, by=None, count=38),
    )  # fmt: skip
    weighed, _ = spans_of([lot], rho=0.1)
    assert sum(span.count for span in weighed) == pytest.approx(68 / 7.7)


def test_a_sample_alone_speaks_for_itself_and_an_unseen_lot_for_nothing():
    lot = LotFigures(number="1", plant="toyon", started_on=STUCK, started=72, looks=(look(42, 4, 12, whole=False),))
    unseen = LotFigures(number="2", plant="toyon", started_on=STUCK, started=72)
    found, count = spans_of([lot, unseen], rho=0.0)
    assert (found, count) == ((Span(after=0, by=42, count=4), Span(after=42, by=None, count=8)), 1)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 60), st.integers(1, 30), st.integers(1, 20)), min_size=1, max_size=8))
@example([(0, 1, 9)])
def test_shares_add_up_and_grow_with_the_day(rows):
    seen = [Span(after=a, by=a + width, count=count) for a, width, count in rows]
    assert sum(share for *_, share in turnbull(seen).pieces) == pytest.approx(1, abs=1e-4)
    assert [x for *_, x in turnbull(seen).pieces] == pytest.approx(
        [x for *_, x in turnbull(seen[::-1]).pieces], abs=1e-6
    )
    found = fit_time(seen, weeks=published_weeks("softwood"))
    shares = [found.share_by(day) for day in (1, 10, 20, 40, 80, 400)]
    assert shares == sorted(shares)
    assert sum(found.days().chances) == pytest.approx(1)


def test_impossible_spans_are_refused():
    with pytest.raises(BadFigure):
        Span(after=10, by=5)
    with pytest.raises(BadFigure):
        turnbull([])
