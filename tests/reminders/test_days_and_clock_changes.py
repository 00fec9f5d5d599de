"""Are days calendar days and hours wall-clock hours? Held against python-dateutil's rrule and relativedelta."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from bench_history import Notes, at, covered, minutes, one, plan_of, told
from dateutil.relativedelta import relativedelta
from dateutil.rrule import DAILY, WEEKLY, rrule
from dateutil.tz import gettz
from hypothesis import given, settings
from hypothesis import strategies as st

from core.lengths import Length
from core.reminders import clock

ZONES = [
    "America/Los_Angeles",
    "Europe/Dublin",
    "Australia/Lord_Howe",
    "America/Santiago",
    "Asia/Beirut",
    "America/St_Johns",
]
"""Zones that change their clocks, one of them by half an hour, one at midnight."""


@pytest.mark.parametrize("zone", ZONES)
@given(
    day=st.dates(date(2026, 1, 1), date(2028, 12, 31)),
    hour=st.sampled_from([time(8), time(9, 30), time(10), time(15), time(17)]),
)
@settings(max_examples=60, deadline=None)
def test_an_hour_of_a_day_is_the_same_instant_as_in_dateutil(zone: str, day: date, hour: time) -> None:
    ours = clock.wall(day, hour, ZoneInfo(zone))
    assert ours == datetime.combine(day, hour, gettz(zone)).astimezone(UTC)
    assert clock.hour_of(ours, ZoneInfo(zone)) == hour


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("season", ["2026-02-23", "2026-03-16", "2026-08-27", "2026-09-24", "2026-10-20"])
def test_vents_looks_and_sessions_keep_their_wall_time_over_both_clock_changes(zone: str, season: str) -> None:
    home = ZoneInfo(zone)
    notes = (
        Notes(home).note(f"{season} 09:00", "stick", plant="tussock wort", count=72).note(f"{season} 09:00", "cover")
    )
    began = date.fromisoformat(season)
    dues = plan_of(notes, f"{season} 09:01", of="tray")
    assert told(dues, "vent", "wean", zone=home) == [
        ("vent", f"{began + relativedelta(days=7)} 10:00"),
        ("vent", f"{began + relativedelta(days=10)} 10:00"),
        ("vent", f"{began + relativedelta(days=13)} 10:00"),
        ("wean", f"{began + relativedelta(days=14)} 09:30"),
    ]
    looks = rrule(DAILY, dtstart=datetime.combine(began + timedelta(days=1), time(8)), count=45)
    for look in looks:
        found = one(plan_of(notes, f"{look:%Y-%m-%d} 08:30", of="tray"), "daily_look")
        assert found.due_at == look.replace(tzinfo=gettz(zone)).astimezone(UTC)


def test_weekly_root_checks_are_those_of_a_weekly_rule() -> None:
    notes = covered(plant="coyote brush")
    weekly = rrule(WEEKLY, dtstart=datetime(2026, 3, 16, 8), count=12)  # noqa: DTZ001
    for due_at in weekly:
        found = one(plan_of(notes, f"{due_at:%Y-%m-%d} 07:00"), "root_check")
        assert told([found]) == [("root_check", f"{due_at:%Y-%m-%d %H:%M}")]


@given(
    began=st.dates(date(2026, 1, 1), date(2027, 12, 31)),
    months=st.integers(0, 6),
    days=st.integers(0, 200),
)
@settings(max_examples=120, deadline=None)
def test_a_stratification_ends_where_relativedelta_ends_it(began: date, months: int, days: int) -> None:
    if not months and days < 9:
        days += 9
    notes = Notes().note(
        f"{began} 10:00",
        "treat",
        plant="redberry",
        treatment="cold_stratify",
        duration=Length(months=months, days=days),
    )
    ends = began + relativedelta(months=months, days=days)
    assert told(plan_of(notes, f"{began} 10:01"), "cold_ends") == [
        ("cold_ends", f"{ends - relativedelta(days=7)} 08:00"), ("cold_ends", f"{ends} 08:00"),
    ]  # fmt: skip


@given(sale=st.dates(date(2026, 6, 1), date(2029, 12, 31)))
@settings(max_examples=60, deadline=None)
def test_the_countdown_counts_calendar_days(sale: date) -> None:
    set_on = sale - relativedelta(days=120)
    notes = Notes().free(f"{set_on} 10:00", "target", plant="toyon", count=60, due=sale)
    assert told(plan_of(notes, f"{set_on} 10:01", of="target", name="toyon"), "countdown") == [
        ("countdown", f"{sale - relativedelta(days=before)} 08:00") for before in (90, 70, 30, 28, 14, 7, 1)
    ]


def test_a_timer_that_runs_over_a_clock_change_runs_its_minutes() -> None:
    notes = Notes().note("2026-02-01 09:00", "stick", plant="tussock wort", count=9).note("2026-02-01 09:00", "cover")
    notes.note("2026-03-08 01:50", "air", duration=minutes(20), said="dome off")
    found = one(plan_of(notes, "2026-03-08 01:51", of="tray"), "cover_back")
    assert found.due_at - at("2026-03-08 01:50") == timedelta(minutes=20)


def test_an_hour_that_the_clock_skips_comes_as_far_after_the_gap() -> None:
    skipped = clock.wall(date(2026, 3, 8), time(2, 30), ZoneInfo("America/Los_Angeles"))
    assert clock.hour_of(skipped, ZoneInfo("America/Los_Angeles")) == time(3, 30)


@pytest.mark.parametrize(
    ("local", "moved"),
    [
        ("2026-03-07 07:59", "2026-03-07 08:00"),
        ("2026-03-07 18:00", "2026-03-07 18:00"),
        ("2026-03-07 18:01", "2026-03-08 08:00"),
    ],
)
def test_what_falls_outside_bench_hours_waits_for_the_next_opening(local: str, moved: str) -> None:
    zone = ZoneInfo("America/Los_Angeles")
    assert clock.within_bench(at(local), time(8), time(18), zone) == at(moved)
