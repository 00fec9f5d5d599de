"""Spans of words that name a day, with the days that they must give, worked by hand for Wednesday 20 May 2026, 10:30."""

from __future__ import annotations

import subprocess
import sys
from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.notes import read

NOW = datetime.fromisoformat("2026-05-20T10:30")
ASKED = "asks date"

DONE = {
    "on the third of may": "2026-05-03",
    "third of may": "2026-05-03",
    "may the third": "2026-05-03",
    "on the twelfth": "2026-05-12",
    "the first of the month": "2026-05-01",
    "on the twenty first of april": "2026-04-21",
    "april twenty first": "2026-04-21",
    "on the 3rd of last month": "2026-04-03",
    "on may 3rd '26": "2026-05-03",
    "sept. 9th '25": "2025-09-09",
    "on 3-may": "2026-05-03",
    "on 3-May-26": "2026-05-03",
    "on may-3": "2026-05-03",
    "on 5-3-26": "2026-05-03",
    "on 2026/05/03": "2026-05-03",
    "2026-05-03T15:00": "2026-05-03T15:00",
    "monday last week": "2026-05-11",
    "last week monday": "2026-05-11",
    "a week ago monday": "2026-05-11",
    "two weeks ago monday": "2026-05-04",
    "the friday before last": "2026-05-08",
    "a week before last friday": "2026-05-08",
    "a week last friday": "2026-05-08",
    "2 days after last friday": "2026-05-17",
    "this past monday": "2026-05-18",
    "on sunday 17 may": "2026-05-17",
    "sun may 17": "2026-05-17",
    "on sun 5/17": "2026-05-17",
    "the first monday in may": "2026-05-04",
    "on the last friday of april": "2026-04-24",
    "2 fortnights ago": "2026-04-22",
    "a fortnight ago": "2026-05-06",
    "two and a half weeks ago": "2026-05-02",
    "half an hour ago": "2026-05-20T10:00",
    "an hour and a half ago": "2026-05-20T09:00",
    "at 8 a.m.": "2026-05-20T08:00",
    "at 8:15 a.m.": "2026-05-20T08:15",
    "at half past eight": "2026-05-20T08:30",
    "at quarter to nine": "2026-05-20T08:45",
    "at 0815": "2026-05-20T08:15",
    "at 8ish": "2026-05-20T08:00",
    "around 8am": "2026-05-20T08:00",
    "last night at 9": "2026-05-19T21:00",
    "on sunday 16 may": ASKED,  # the sixteenth is a Saturday
    "on 3.5.26": ASKED,  # the third of May or the fifth of March
    "on 5-3-19": ASKED,  # seven years back
    "on 12-24-26": ASKED,  # to come
    "on may 32": ASKED,
    "last week": ASKED,
    "over the weekend": ASKED,
    "a few days ago": ASKED,
    "2-3 days ago": ASKED,
    "the week before last": ASKED,
}

WANTED = {
    "on the third of next month": "2026-06-03",
    "on the 5th of next month": "2026-06-05",
    "on the ninth of september": "2026-09-09",
    "on sept. 9th '26": "2026-09-09",
    "on 6-5-26": "2026-06-05",
    "first of june": "2026-06-01",
    "on the last day of the month": "2026-05-31",
    "the first monday in june": "2026-06-01",
    "on the second tuesday of next month": "2026-06-09",
    "friday next week": "2026-05-29",
    "next week friday": "2026-05-29",
    "the friday after next": "2026-05-29",
    "monday week": "2026-06-01",
    "a week from monday": "2026-06-01",
    "two weeks from friday": "2026-06-05",
    "3 days before june 5": "2026-06-02",
    "in a fortnight": "2026-06-03",
    "tonight at 7": "2026-05-20T19:00",
    "tomorrow morning at 8": "2026-05-21T08:00",
    "6/5 at 9": "2026-06-05T09:00",
    "on 6-5-36": ASKED,  # ten years on
    "on 5-3-26": ASKED,  # past
    "next week": ASKED,
}


@pytest.mark.parametrize("span", DONE)
def test_the_day_of_something_done(span: str) -> None:
    reading = read(f"misted tray 3 {span}", NOW).as_keys()
    [entry] = reading["entries"]
    assert entry["act"] == "water"
    if DONE[span] == ASKED:
        assert reading["asks"] == ["date"]
        assert "on" not in entry
        assert entry["rest"]
    else:
        assert reading["asks"] == []
        assert entry["on"] == DONE[span]
        assert "rest" not in entry


@pytest.mark.parametrize("span", WANTED)
def test_the_day_of_something_wanted(span: str) -> None:
    reading = read(f"remind me to water {span}", NOW).as_keys()
    [entry] = reading["entries"]
    if WANTED[span] == ASKED:
        assert reading["asks"] == ["date"]
        assert "at" not in entry
    else:
        assert reading["asks"] == []
        assert (entry["at"], entry["text"]) == (WANTED[span], "water")


WORDS = st.sampled_from(
    ["on", "by", "the", "a", "last", "next", "this", "of", "in", "ago", "before", "after", "from", "week", "weeks", "month", "day", "days", "monday", "fri", "sun", "may", "june", "3", "5", "9", "12", "31", "26", "2026", "1/2", "5/3", "5-3-26", "2026-05-03", "3rd", "first", "third", "twenty", "fortnight", "'25", ",", ".", "-", "half", "an", "hour", "at", "am", "pm"]
)
SPANS = st.lists(WORDS, min_size=1, max_size=7).map(" ".join)


@given(span=SPANS, minutes=st.integers(0, 2 * 366 * 1440))
def test_what_was_done_lies_in_the_last_two_years_or_is_asked(span: str, minutes: int) -> None:
    now = NOW + timedelta(minutes=minutes)
    for entry in read(f"misted tray 3 {span}", now).entries:
        if entry.on is not None and entry.act == "water":
            day = entry.on.date() if isinstance(entry.on, datetime) else entry.on
            assert now.date() - timedelta(days=731) <= day <= now.date()
            if isinstance(entry.on, datetime):
                assert entry.on <= now


@given(span=SPANS, minutes=st.integers(0, 2 * 366 * 1440))
def test_what_is_wanted_lies_in_the_next_three_years_or_is_asked(span: str, minutes: int) -> None:
    now = NOW + timedelta(minutes=minutes)
    for entry in read(f"remind me to water tray 3 {span}", now).entries:
        told = getattr(entry, "at", None)
        if told is not None:
            day: date = told.date() if isinstance(told, datetime) else told
            assert now.date() <= day <= now.date() + timedelta(days=3 * 366)


@pytest.mark.parametrize(
    ("span", "opened"), [("at 3pm on may 3", False), ("for 5-6 weeks", False), ("on 5-3-26", True)]
)
def test_dateparser_is_asked_only_for_what_our_rules_do_not_read(span: str, opened: bool) -> None:
    program = (
        "import sys\nfrom datetime import datetime\nfrom core.notes import read\n"
        f"read({f'misted tray 3 {span}'!r}, datetime(2026, 5, 20, 10, 30))\n"
        "sys.exit(int('dateparser' in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == int(opened)
