"""Do vapour pressures agree with FAO-56, and is chilling given as an honest range?"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.figures.air import (
    AirVerdict,
    deficit_kpa,
    dew_point_celsius,
    dew_point_of_kpa,
    judge_air,
    mean_saturation_kpa,
    saturation_kpa,
    saturation_slope,
    vapour_from_wet_bulb_kpa,
    vapour_kpa,
    vapour_of_day_kpa,
)
from core.figures.chill import FridgeReading, Interruption, accumulate_chill, chill_end
from core.figures.measures import BadMeasure, to_celsius


@pytest.mark.parametrize(
    ("celsius", "kpa", "within"),
    [
        (24.5, 3.075, 5e-4),  # FAO-56 example 3; NCL satvpr_temp_fao56 page
        (15, 1.705, 5e-4),  # the same
        (1, 0.657, 1e-3),  # FAO-56 table 2.3 (from memory), here and below
        (5, 0.872, 1e-3),
        (10, 1.228, 1e-3),
        (20, 2.338, 1e-3),
        (25, 3.168, 1e-3),
        (30, 4.243, 1e-3),
        (35, 5.624, 2e-3),
        (45, 9.585, 4e-3),  # at high temperatures the printed table and the formula differ in the third decimal
    ],
)
def test_saturation_agrees_with_the_table(celsius: float, kpa: float, within: float) -> None:
    assert saturation_kpa(celsius) == pytest.approx(kpa, abs=within)


def test_a_day_s_saturation_is_the_mean_of_its_ends() -> None:
    assert mean_saturation_kpa(15, 24.5) == pytest.approx(2.39, abs=5e-3)  # FAO-56 example 3
    assert saturation_kpa(19.75) == pytest.approx(2.302, abs=5e-4)  # lower at the mean temperature: arithmetic


def test_vapour_of_a_day() -> None:
    # FAO-56 example 5 as in the PyETo tests (p. 72): 18 C 82 %, 25 C 54 %
    assert vapour_of_day_kpa(18, 25, highest_humidity=0.82, lowest_humidity=0.54) == pytest.approx(1.70, abs=5e-3)
    assert vapour_of_day_kpa(18, 25, highest_humidity=0.82) == pytest.approx(1.69, abs=5e-3)
    assert 0.68 * mean_saturation_kpa(18, 25) == pytest.approx(1.78, abs=5e-3)
    # deficit of that day: FAO-56 prints 0.91 (from memory)
    day = mean_saturation_kpa(18, 25) - vapour_of_day_kpa(18, 25, highest_humidity=0.82, lowest_humidity=0.54)
    assert day == pytest.approx(0.91, abs=5e-3)


def test_vapour_from_a_wet_bulb_and_the_slope() -> None:
    assert vapour_from_wet_bulb_kpa(25.6, 19.5, pressure_kpa=87.9) == pytest.approx(1.91, abs=5e-3)  # FAO-56 example 4
    assert saturation_slope(30.2) == pytest.approx(0.246, abs=5e-4)  # PyETo tests (FAO-56 p. 111)
    assert saturation_kpa(14.8) == pytest.approx(1.68, abs=5e-3)  # PyETo tests (FAO-56 p. 121)
    with pytest.raises(BadMeasure):
        vapour_from_wet_bulb_kpa(19, 20)


def test_the_dew_point() -> None:
    # FAO-56 annex formula (from memory)
    assert dew_point_of_kpa(1.70) == pytest.approx(14.94, abs=5e-3)
    assert dew_point_celsius(20, 0.5) == pytest.approx(9.26, abs=5e-3)
    with pytest.raises(BadMeasure):
        dew_point_celsius(20, 0)


@given(st.floats(min_value=0, max_value=45), st.floats(min_value=0.05, max_value=1))
def test_at_the_dew_point_the_air_is_full(celsius: float, humidity: float) -> None:
    dew = dew_point_celsius(celsius, humidity)
    assert dew <= celsius
    assert saturation_kpa(dew) == pytest.approx(vapour_kpa(celsius, humidity), rel=2e-3)
    assert deficit_kpa(celsius, humidity) >= 0


def test_a_leaf_colder_than_the_dew_point_gathers_water() -> None:
    assert deficit_kpa(22, 0.95, leaf_celsius=20) < 0 < deficit_kpa(22, 0.95)


def test_what_the_air_means_for_cuttings() -> None:
    dome = judge_air(to_celsius(72), 0.95)
    assert dome.deficit_kpa == pytest.approx(0.134, abs=2e-3)  # 5 % of e(22.2) = 2.68 kPa: arithmetic
    assert dome.verdict is AirVerdict.FITS
    assert not dome.sure  # three points more would be too wet
    assert dome.deficit_least_kpa < dome.deficit_kpa < dome.deficit_most_kpa
    hot = judge_air(35, 0.5)
    assert hot.verdict is AirVerdict.TOO_DRY
    assert hot.sure
    assert judge_air(22, 1.0).verdict is AirVerdict.TOO_WET
    assert judge_air(22, 0.75, stage="rooted").verdict is AirVerdict.FITS
    assert judge_air(22, 0.75).verdict is AirVerdict.TOO_DRY
    with pytest.raises(BadMeasure):
        judge_air(22, 95)
    with pytest.raises(BadMeasure):
        judge_air(22, 0.9, stage="asleep")


START = datetime(2026, 11, 3, 12, tzinfo=UTC)


def test_three_days_without_the_fridge_give_two_ends() -> None:
    # Harrington and Kraft 2004: madrone 40 days; 3 Nov + 40 d = 13 Dec, + 3 d = 16 Dec: calendar
    out = Interruption(began_at=START + timedelta(days=10), ended_at=START + timedelta(days=13))
    so_far = accumulate_chill(started_at=START, now=START + timedelta(days=20), interruptions=[out])
    assert (so_far.least_days, so_far.most_days) == pytest.approx((17, 20))
    assert not so_far.lead_decides
    end = chill_end(so_far, 40)
    assert end.earliest_at == datetime(2026, 12, 13, 12, tzinfo=UTC)
    assert end.latest_at == datetime(2026, 12, 16, 12, tzinfo=UTC)


def test_a_warm_reading_is_warm_to_its_neighbours_at_most() -> None:
    readings = [
        FridgeReading(at=START + timedelta(days=7), celsius=3),
        FridgeReading(at=START + timedelta(days=9), celsius=9),
        FridgeReading(at=START + timedelta(days=10), celsius=8),
        FridgeReading(at=START + timedelta(days=12), celsius=to_celsius(38)),
    ]
    so_far = accumulate_chill(started_at=START, now=START + timedelta(days=20), readings=readings)
    assert so_far.out_days == pytest.approx(5)  # from day 7 to day 12 at most
    assert so_far.likely_days == pytest.approx(20 - 3)  # day 8 to day 11 likely
    assert so_far.least_days == pytest.approx(15)


def test_a_long_warm_time_is_the_lead_s_to_decide() -> None:
    warm = [FridgeReading(at=START + timedelta(days=day), celsius=12) for day in (1, 5)]
    assert accumulate_chill(started_at=START, now=START + timedelta(days=6), readings=warm).lead_decides


def test_cold_readings_take_nothing_off() -> None:
    steady = [FridgeReading(at=START + timedelta(days=day), celsius=to_celsius(f)) for day, f in ((1, 33), (8, 41))]
    so_far = accumulate_chill(started_at=START, now=START + timedelta(days=10), readings=steady)
    assert so_far.least_days == so_far.most_days == 10


def test_chilling_cannot_end_before_it_began() -> None:
    with pytest.raises(BadMeasure):
        accumulate_chill(started_at=START, now=START - timedelta(hours=1))
    with pytest.raises(BadMeasure):
        Interruption(began_at=START, ended_at=START - timedelta(hours=1))


@given(
    st.lists(st.tuples(st.floats(min_value=-5, max_value=50), st.floats(min_value=-5, max_value=20)), max_size=8),
    st.lists(st.tuples(st.floats(min_value=-5, max_value=45), st.floats(min_value=0, max_value=10)), max_size=4),
)
def test_the_range_is_in_order_whatever_was_noted(
    noted: list[tuple[float, float]], out: list[tuple[float, float]]
) -> None:
    so_far = accumulate_chill(
        started_at=START,
        now=START + timedelta(days=40),
        readings=[FridgeReading(at=START + timedelta(days=day), celsius=warmth) for day, warmth in noted],
        interruptions=[
            Interruption(began_at=START + timedelta(days=day), ended_at=START + timedelta(days=day + length))
            for day, length in out
        ],
    )
    assert -1e-9 <= so_far.least_days <= so_far.likely_days + 1e-9 <= so_far.most_days + 2e-9
    assert so_far.most_days == pytest.approx(40)
