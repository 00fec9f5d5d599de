"""Does a tray climb the weaning ladder as it was really aired, and step down when it wilts?"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from bench_history import Notes, at, covered, minutes, one, plan_of, told

from core.reminders.wean import longer
from core.treatments import protocols

LADDER = [15, 20, 25, 35, 45, 60, 75, 95, 120, 150, 190, 240, 300, 375, 470]
"""The ladder of the rules of time: a quarter longer each time, rounded up to five minutes."""


def aired(notes: Notes, when: str, count: int) -> Notes:
    """A cover off at a local time, and back on after so many minutes."""
    notes.note(when, "air", duration=minutes(count), said="dome off")
    back = (at(when) + timedelta(minutes=count)).astimezone(notes.zone)
    return notes.note(f"{back:%Y-%m-%d %H:%M}", "cover")


def offer(notes: Notes, now: str) -> tuple[str, int]:
    """When the next session is offered, and its minutes."""
    due = one(plan_of(notes, now, of="tray"), "wean")
    return told([due])[0][1], due.facts["minutes"]


def test_each_session_is_a_quarter_longer_rounded_up_to_five_minutes() -> None:
    protocol = protocols().for_plant(None)
    assert [longer(length, protocol) for length in LADDER[:-1]] == LADDER[1:]
    assert longer(LADDER[-1], protocol) >= protocol.minutes("wean_off")


def test_a_tray_that_never_wilts_climbs_the_whole_ladder_and_loses_its_cover_the_next_morning() -> None:
    notes, now, climbed, hours = covered(), "2026-03-09 08:00", [], []
    while sessions := [due for due in plan_of(notes, now, of="tray") if due.kind == "wean"]:
        when = told(sessions)[0][1]
        climbed.append(sessions[0].facts["minutes"])
        hours.append(when[11:])
        aired(notes, when, climbed[-1])
        now = f"{(notes.records[-1].at + timedelta(minutes=1)).astimezone(notes.zone):%Y-%m-%d %H:%M}"
    assert climbed == LADDER
    assert hours == [
        "09:30", "12:30", "15:30", "09:30", "12:30", "15:30", "09:30", "12:30", "09:30", "12:30", "09:30",
        "08:30", "08:30", "08:30", "08:30",
    ]  # fmt: skip
    off = one(plan_of(notes, now, of="tray"), "cover_off")
    last = notes.records[-1].at.astimezone(notes.zone).date()
    assert off.due_at == at(f"{last + timedelta(days=1)} 08:00")


@pytest.mark.parametrize(("really", "following"), [(11, 20), (20, 20), (21, 30), (40, 50), (5, 15)])
def test_the_length_really_done_moves_the_ladder_and_five_minutes_count_as_asked(really: int, following: int) -> None:
    assert offer(aired(covered(), "2026-03-09 09:30", really), "2026-03-09 11:00") == ("2026-03-09 12:30", following)


def test_a_session_that_would_end_after_five_waits_for_the_next_morning() -> None:
    notes = aired(covered(), "2026-03-09 12:30", 120)
    assert offer(notes, "2026-03-09 14:31") == ("2026-03-10 09:30", 150)
    assert offer(aired(covered(), "2026-03-09 12:30", 60), "2026-03-09 14:10") == ("2026-03-09 15:30", 75)
    assert offer(aired(covered(), "2026-03-09 12:30", 75), "2026-03-09 14:10") == ("2026-03-10 09:30", 95)


def test_a_session_of_four_hours_is_offered_at_half_past_eight() -> None:
    assert offer(aired(covered(), "2026-03-09 09:30", 190), "2026-03-09 12:45") == ("2026-03-10 08:30", 240)


def test_a_missed_session_is_offered_again_at_its_length() -> None:
    assert offer(covered(), "2026-03-09 10:29") == ("2026-03-09 09:30", 15)
    assert offer(covered(), "2026-03-09 10:30") == ("2026-03-09 12:30", 15)
    assert offer(covered(), "2026-03-09 13:30") == ("2026-03-09 15:30", 15)
    assert offer(covered(), "2026-03-09 16:30") == ("2026-03-10 09:30", 15)


@pytest.mark.parametrize(("wilted", "following"), [(60, 30), (25, 15), (20, 15), (45, 25), (190, 95)])
def test_wilting_halves_the_session_that_wilted_and_waits_for_the_morning(wilted: int, following: int) -> None:
    notes = covered().note("2026-03-09 09:30", "air", duration=minutes(wilted), said="dome off")
    back = f"{(at('2026-03-09 09:30') + timedelta(minutes=wilted)).astimezone(notes.zone):%Y-%m-%d %H:%M}"
    notes.note(back, "wilt").note(back, "cover")
    assert offer(notes, "2026-03-09 13:00") == ("2026-03-10 09:30", following)


def test_after_a_wilt_the_ladder_goes_on_from_the_shorter_session() -> None:
    notes = covered().note("2026-03-09 09:30", "air", duration=minutes(60), said="dome off")
    notes.note("2026-03-09 10:30", "wilt").note("2026-03-09 10:30", "cover")
    aired(notes, "2026-03-10 09:30", 30)
    assert offer(notes, "2026-03-10 10:30") == ("2026-03-10 12:30", 40)


def test_where_fifteen_minutes_wilt_weaning_waits_for_roots() -> None:
    notes = covered().note("2026-03-09 09:30", "air", duration=minutes(15), said="dome off")
    notes.note("2026-03-09 09:45", "wilt").note("2026-03-09 09:45", "cover")
    assert not told(plan_of(notes, "2026-03-20 09:00", of="tray"), "wean")
    notes.note("2026-03-20 09:30", "check", state="rooted", count=0)
    assert not told(plan_of(notes, "2026-03-20 09:31", of="tray"), "wean")
    notes.note("2026-03-27 09:00", "check", state="rooted", count=12, of=72)
    assert offer(notes, "2026-03-27 09:01") == ("2026-03-27 09:30", 15)


def test_a_session_whose_end_nobody_told_of_lengthens_nothing_and_stops_the_day() -> None:
    notes = covered().note("2026-03-09 09:30", "air", duration=minutes(15), said="dome off")
    assert offer(notes, "2026-03-09 12:00") == ("2026-03-10 09:30", 15)
    notes.note("2026-03-10 09:30", "air", duration=minutes(15), said="dome off").note("2026-03-10 09:46", "cover")
    assert offer(notes, "2026-03-10 09:47") == ("2026-03-10 12:30", 20)


def test_not_yet_asks_again_after_three_days() -> None:
    notes = covered()
    first = one(plan_of(notes, "2026-03-09 09:30", of="tray"), "wean")
    assert first.facts["first"]
    notes.note("2026-03-09 09:40", "reply", answer="no", reminder=first.key())
    assert offer(notes, "2026-03-09 09:41") == ("2026-03-12 09:30", 15)


def test_a_session_begun_early_counts_for_its_hour() -> None:
    assert offer(aired(covered(), "2026-03-09 12:05", 15), "2026-03-09 12:21") == ("2026-03-09 15:30", 20)


def test_a_crew_can_ask_for_roots_first_and_for_another_day() -> None:
    said = Notes().free("2026-02-20 09:00", "rule", what="weaning waits for roots")
    rules = protocols().with_rules(said.records)
    notes = covered()
    assert not told(plan_of(notes, "2026-03-12 09:00", of="tray", rules=rules), "wean")
    notes.note("2026-03-12 09:10", "check", state="rooted", count=20, of=72)
    assert told(plan_of(notes, "2026-03-12 09:11", of="tray", rules=rules), "wean") == [("wean", "2026-03-12 09:30")]
    said = Notes().free("2026-02-20 09:00", "rule", what="weaning starts day 10", plant="tussock wort")
    rules = protocols().with_rules(said.records)
    assert told(plan_of(covered(), "2026-02-24 09:00", of="tray", rules=rules), "wean") == [
        ("wean", "2026-03-05 09:30")
    ]


def test_a_cover_put_back_for_good_begins_its_days_anew() -> None:
    notes = covered().note("2026-03-20 08:10", "uncover").note("2026-03-22 09:00", "cover")
    assert offer(notes, "2026-03-22 09:01") == ("2026-04-05 09:30", 15)
    assert told(plan_of(notes, "2026-03-22 09:01", of="tray"), "mist") == []


def test_a_lot_in_two_trays_is_weaned_in_each() -> None:
    notes = Notes().note("2026-02-23 09:00", "stick", plant="tussock wort", count=72, trays=("2", "3"))
    notes.note("2026-02-23 09:00", "cover", trays=("2", "3"))
    aired(notes, "2026-03-09 09:30", 15)
    assert offer(notes, "2026-03-09 09:50") == ("2026-03-09 12:30", 20)
    other = one(plan_of(notes, "2026-03-09 09:50", of="tray", name="3"), "wean")
    assert (told([other])[0][1], other.facts["minutes"]) == ("2026-03-09 09:30", 15)


def test_two_lots_in_a_tray_are_aired_once() -> None:
    notes = covered().note("2026-02-23 08:55", "stick", lot="26-002", plant="tussock wort", count=50)
    for lot in ("26-001", "26-002"):
        notes.note("2026-03-09 09:30", "air", lot=lot, duration=minutes(15), said="dome off")
    notes.records[-1] = replace(notes.records[-1], message=notes.records[-2].message)
    notes.note("2026-03-09 09:45", "cover")
    assert offer(notes, "2026-03-09 09:50") == ("2026-03-09 12:30", 20)


@pytest.mark.parametrize(("said", "really", "following"), [(40, 45, 50), (40, 46, 60), (40, 40, 50), (18, 20, 20)])
def test_a_cover_put_back_minutes_late_counts_as_the_note_said(said: int, really: int, following: int) -> None:
    notes = covered().note("2026-03-09 09:30", "air", duration=minutes(said), said="dome off")
    back = (at("2026-03-09 09:30") + timedelta(minutes=really)).astimezone(notes.zone)
    assert offer(notes.note(f"{back:%Y-%m-%d %H:%M}", "cover"), "2026-03-09 11:00") == ("2026-03-09 12:30", following)


def test_a_tray_of_which_nobody_says_a_word_is_offered_once_a_day_after_three_days() -> None:
    notes = covered().note("2026-03-08 10:00", "vent", vent_open=1.0)
    for day, offered in (("2026-03-10", "12:30"), ("2026-03-11", "12:30")):
        assert offer(notes, f"{day} 11:00") == (f"{day} {offered}", 15)
    assert offer(notes, "2026-03-12 09:30") == ("2026-03-12 09:30", 15)
    assert offer(notes, "2026-03-12 11:00") == ("2026-03-13 09:30", 15)
    notes.note("2026-03-12 11:05", "water")
    assert offer(notes, "2026-03-12 11:06") == ("2026-03-12 12:30", 15)
