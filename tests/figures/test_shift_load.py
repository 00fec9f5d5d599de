"""Is the work of a shift weighed against the hands there, and does only what may wait ever wait?"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.figures.measures import BadMeasure
from core.figures.shift_load import Duty, LoadState, Presence, ShiftLoad, duty_of, open_load_book, weigh_shift

NINE = datetime(2026, 11, 5, 9, tzinfo=UTC)


def there(who: str, hours: float, *, late: float = 0) -> Presence:
    return Presence(who=who, from_at=NINE + timedelta(hours=late), until_at=NINE + timedelta(hours=late + hours))


MORNING = (
    Duty(name="cover rounds", minutes=48, slip_cost=3, may_slip=False),
    Duty(name="water", minutes=40, slip_cost=3, may_slip=False),
    Duty(name="counts", minutes=40, slip_cost=1),
    Duty(name="pot 96", minutes=128, slip_cost=1),
    Duty(name="wash 60 pots", minutes=55, slip_cost=0),
)


def test_two_people_for_three_hours() -> None:
    # 48 + 40 + 40 + 128 + 55 = 311 of 2 x 180 = 360 minutes, 86 %: arithmetic; full above 80 % is common practice
    load = weigh_shift(MORNING, [there("Ines", 3), there("Bo", 3)])
    assert (load.due_minutes, load.there_minutes) == (311, 360)
    assert load.share == pytest.approx(0.864, abs=5e-4)
    assert load.state is LoadState.FULL
    assert load.waits == ()
    assert load.could_wait == ("wash 60 pots", "pot 96", "counts")
    assert load.stays == ("cover rounds", "water")


def test_one_person_short_means_the_cheapest_waits_first() -> None:
    load = weigh_shift(MORNING, [there("Ines", 3), there("Bo", 1.5)])
    assert load.state is LoadState.OVER
    assert load.waits == ("wash 60 pots",)
    assert load.short_by == 0


def test_when_all_that_may_wait_waits_the_rest_is_still_said() -> None:
    load = weigh_shift(MORNING, [there("Ines", 1)])
    assert load.waits == load.could_wait
    assert load.short_by == pytest.approx(28)  # 88 minutes that may not wait in 60


def test_nobody_there() -> None:
    assert weigh_shift(MORNING, []).state is LoadState.OVER
    assert weigh_shift([], []).state is LoadState.LIGHT


def test_fixed_work_that_falls_together_is_a_clash_even_with_time_to_spare() -> None:
    rounds = [
        Duty(name="covers A", minutes=20, may_slip=False, fixed_at=NINE),
        Duty(name="covers B", minutes=20, may_slip=False, fixed_at=NINE + timedelta(minutes=10)),
    ]
    alone = weigh_shift(rounds, [there("Ines", 3)])
    assert alone.state is LoadState.LIGHT
    assert [(one.at, one.duties) for one in alone.clashes] == [(NINE + timedelta(minutes=10), ("covers A", "covers B"))]
    assert weigh_shift(rounds, [there("Ines", 3), there("Bo", 3)]).clashes == ()


def test_fixed_work_before_anyone_comes_or_after_they_leave_is_a_clash() -> None:
    early = Duty(name="vent", minutes=10, fixed_at=NINE - timedelta(hours=1))
    late = Duty(name="covers on", minutes=30, fixed_at=NINE + timedelta(minutes=50))
    load = weigh_shift([early, late], [there("Ines", 1)])
    assert [one.duties for one in load.clashes] == [("vent",), ("covers on",)]


def test_minutes_from_the_book_and_from_the_crew() -> None:
    assert duty_of("pot", 96).minutes == pytest.approx(128, abs=0.1)  # 45 an hour, common practice
    assert duty_of("pot", 96, own_minutes_each=1).minutes == 96
    assert not duty_of("cover_round", 3).may_slip
    stick = open_load_book().work_of("stick")
    assert 40 <= 60 / stick.minutes_each <= 90  # volunteers, common practice
    with pytest.raises(BadMeasure):
        duty_of("juggle")
    with pytest.raises(BadMeasure):
        Duty(name="x", minutes=-1)


@given(
    st.lists(
        st.tuples(st.floats(min_value=0, max_value=200), st.integers(min_value=0, max_value=3), st.booleans()),
        max_size=12,
    ),
    st.lists(st.floats(min_value=0, max_value=6), max_size=5),
)
def test_what_stays_fits_or_the_lack_is_said(works: list[tuple[float, int, bool]], hours: list[float]) -> None:
    duties = [
        Duty(name=f"d{place}", minutes=minutes, slip_cost=cost, may_slip=slips)
        for place, (minutes, cost, slips) in enumerate(works)
    ]
    load: ShiftLoad = weigh_shift(duties, [there(f"p{place}", length) for place, length in enumerate(hours)])
    kept = sum(one.minutes for one in duties if one.name not in load.waits)
    assert kept <= load.there_minutes + load.short_by + 1e-6
    assert set(load.waits).isdisjoint(load.stays)
    assert load.waits == load.could_wait[: len(load.waits)]
    assert (load.state is LoadState.OVER) == (load.due_minutes > load.there_minutes)
