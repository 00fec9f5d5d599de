"""Who is at the bench at this hour, as the crew said?"""

from __future__ import annotations

from datetime import date, time

import pytest
from bench_history import ZONE, Notes, at

from core.reminders.roster import next_on, on_shift, shifts


def roster() -> Notes:
    notes = Notes().free("2026-03-01 09:00", "roster", who=("ana",), from_time=time(9), until=time(12), every=("tue",))
    return notes.free(
        "2026-03-01 09:00", "roster", who=("ben", "tov"), from_time=time(13), until=time(16), every=("tue", "thu")
    )


@pytest.mark.parametrize(
    ("when", "names"),
    [
        ("2026-03-03 09:00", ("ana",)), ("2026-03-03 11:59", ("ana",)), ("2026-03-03 12:00", ()),
        ("2026-03-03 14:00", ("ben", "tov")), ("2026-03-04 10:00", ()), ("2026-03-05 14:00", ("ben", "tov")),
    ],
)  # fmt: skip
def test_weekly_hours(when: str, names: tuple[str, ...]) -> None:
    assert on_shift(roster().records, at(when), ZONE) == names


def test_a_day_s_own_word_takes_the_place_of_the_weekly_one() -> None:
    notes = roster().free(
        "2026-03-02 09:00", "roster", who=("ana",), on=date(2026, 3, 3), from_time=time(14), until=time(15)
    )
    assert on_shift(notes.records, at("2026-03-03 10:00"), ZONE) == ()
    assert on_shift(notes.records, at("2026-03-03 14:30"), ZONE) == ("ben", "tov", "ana")
    assert on_shift(notes.records, at("2026-03-10 10:00"), ZONE) == ("ana",)


def test_the_bench_for_a_day_without_hours_is_the_whole_day() -> None:
    notes = Notes().free("2026-03-02 08:00", "roster", who=("ruth",), on=date(2026, 3, 2))
    assert on_shift(notes.records, at("2026-03-02 07:00"), ZONE) == ("ruth",)
    assert on_shift(notes.records, at("2026-03-03 07:00"), ZONE) == ()
    assert on_shift(notes.records, at("2026-03-01 07:00"), ZONE, day=date(2026, 3, 2)) == ("ruth",)


def test_two_shifts_of_a_day_stand_side_by_side_and_a_later_word_about_the_same_hours_wins() -> None:
    notes = roster().free(
        "2026-03-01 10:00", "roster", who=("ana",), from_time=time(15), until=time(17), every=("tue",)
    )
    notes.free("2026-03-01 11:00", "roster", who=("ana",), from_time=time(8), until=time(10), every=("tue",))
    hours = [(one.from_time, one.until) for one in shifts(notes.records, [date(2026, 3, 3)], ZONE) if one.who == "ana"]
    assert hours == [(time(8), time(10)), (time(15), time(17))]


def test_the_next_on_is_the_soonest_shift_that_begins() -> None:
    found = next_on(roster().records, at("2026-03-03 12:00"), ZONE)
    assert found is not None
    assert (found.who, found.on) == ("ben", date(2026, 3, 3))
