"""Does each kind of reminder fall due when the rules of time say, and does its own act close it?"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time

import pytest
from bench_history import LOT, Notes, at, covered, minutes, one, plan_of, told

from core.entries import Hormone
from core.lengths import Length
from core.reminders import kinds
from core.reminders.planning import PLANNERS
from core.treatments import protocols

BLEACH = "2026-03-02 15:00"


def test_a_cover_plans_vents_the_first_session_and_a_look_each_day() -> None:
    dues = plan_of(covered(), "2026-02-23 09:01", of="tray")
    assert told(dues, "vent", "wean", "daily_look", "quiet_tray") == [
        ("daily_look", "2026-02-24 08:00"),
        ("quiet_tray", "2026-02-28 10:00"),
        ("vent", "2026-03-02 10:00"),
        ("vent", "2026-03-05 10:00"),
        ("vent", "2026-03-08 10:00"),
        ("wean", "2026-03-09 09:30"),
    ]
    assert [due.facts["open"] for due in dues if due.kind == "vent"] == [0.25, 0.5, 1.0]


@pytest.mark.parametrize(
    ("duration", "due"), [(minutes(15), "09:45"), (None, "09:50"), (Length(seconds=7200), "11:30")]
)  # fmt: skip
def test_the_cover_goes_back_on_at_the_time_said_else_after_twenty_minutes(duration: Length | None, due: str) -> None:
    notes = covered().note("2026-02-27 09:30", "air", duration=duration, said="dome off tray 2")
    back = one(plan_of(notes, "2026-02-27 09:31", of="tray"), "cover_back")
    assert told([back]) == [("cover_back", f"2026-02-27 {due}")]
    assert back.critical
    assert back.timed
    assert not back.soft
    notes.note("2026-02-27 09:44", "cover")
    assert not told(plan_of(notes, "2026-02-27 09:45", of="tray"), "cover_back")


def test_a_cover_taken_off_without_a_time_while_weaning_goes_back_after_the_step_s_time() -> None:
    notes = covered().note("2026-03-09 09:30", "air", duration=minutes(15)).note("2026-03-09 09:45", "cover")
    notes.note("2026-03-09 12:30", "air", said="dome off tray 2")
    assert told(plan_of(notes, "2026-03-09 12:31", of="tray"), "cover_back") == [("cover_back", "2026-03-09 12:50")]


def test_wilting_while_the_cover_is_off_asks_for_it_at_once() -> None:
    notes = (
        covered()
        .note("2026-02-27 09:30", "air", duration=minutes(60), said="dome off")
        .note("2026-02-27 09:41", "wilt")
    )
    back = one(plan_of(notes, "2026-02-27 09:41", of="tray"), "cover_back")
    assert back.due_at == at("2026-02-27 09:41")
    assert back.facts["wilted"]


def test_an_airing_told_when_it_was_over_asks_for_no_cover() -> None:
    notes = covered().note("2026-02-27 09:30", "air", duration=minutes(20), said="aired tray 2 20 min")
    assert not told(plan_of(notes, "2026-02-27 09:31", of="tray"), "cover_back")


@pytest.mark.parametrize("opened", [0.25, 0.3])
def test_a_vent_at_least_as_far_closes_its_step(opened: float) -> None:
    notes = covered().note("2026-03-02 10:10", "vent", vent_open=opened)
    assert told(plan_of(notes, "2026-03-02 10:11", of="tray"), "vent") == [
        ("vent", "2026-03-05 10:00"), ("vent", "2026-03-08 10:00"),
    ]  # fmt: skip


def test_a_crack_is_not_a_quarter_and_half_is_more_than_one() -> None:
    crack = covered().note("2026-03-02 10:10", "vent", vent_open=0.1)
    assert len(told(plan_of(crack, "2026-03-02 10:11", of="tray"), "vent")) == 3
    half = covered().note("2026-03-02 10:10", "vent", vent_open=0.5)
    assert told(plan_of(half, "2026-03-02 10:11", of="tray"), "vent") == [("vent", "2026-03-08 10:00")]


def test_wilting_takes_the_vents_a_step_back_and_waits_three_days() -> None:
    notes = covered().note("2026-03-02 10:10", "vent", vent_open=0.25).note("2026-03-05 10:00", "vent", vent_open=0.5)
    notes.note("2026-03-06 14:00", "wilt")
    dues = plan_of(notes, "2026-03-06 14:01", of="tray")
    assert [(due.facts["open"], told([due])[0][1]) for due in dues if due.kind == "vent"] == [
        (0.5, "2026-03-09 10:00"),
        (1.0, "2026-03-12 10:00"),
    ]


def test_a_daily_look_is_answered_by_any_word_on_how_the_tray_is() -> None:
    for act, more in (("check", {}), ("lose", {"count": 1}), ("water", {"method": "mist"}), ("wilt", {})):
        notes = covered().note("2026-02-25 11:00", act, **more)
        assert told(plan_of(notes, "2026-02-25 11:01", of="tray"), "daily_look") == [("daily_look", "2026-02-26 08:00")]
    unseen = plan_of(covered(), "2026-02-25 11:01", of="tray")
    assert told(unseen, "daily_look") == [("daily_look", "2026-02-25 08:00")]


def test_a_covered_tray_without_a_word_is_asked_after_on_the_fifth_day() -> None:
    notes = covered().note("2026-02-24 12:00", "water")
    assert told(plan_of(notes, "2026-02-24 12:01", of="tray"), "quiet_tray") == [("quiet_tray", "2026-03-01 10:00")]


def test_misting_follows_the_cover_off_for_five_days_and_a_watering_answers_its_day() -> None:
    notes = covered().note("2026-03-20 08:10", "uncover")
    days = [f"2026-03-{day} 11:00" for day in (20, 21, 22, 23, 24)]
    assert told(plan_of(notes, "2026-03-20 08:11", of="tray")) == [("mist", day) for day in days]
    notes.note("2026-03-21 09:00", "water", method="mist")
    assert told(plan_of(notes, "2026-03-21 11:01", of="tray"), "mist") == [("mist", day) for day in days[2:]]


def test_roots_are_looked_for_on_the_plant_s_day_then_weekly_until_most_have_rooted() -> None:
    notes = covered(plant="coyote brush")
    assert told(plan_of(notes, "2026-02-24 09:00"), "root_check") == [("root_check", "2026-03-16 08:00")]
    notes.note("2026-03-17 10:00", "check", state="rooted", count=0)
    assert told(plan_of(notes, "2026-03-17 10:01"), "root_check") == [("root_check", "2026-03-24 08:00")]
    notes.note("2026-03-25 10:00", "check", state="rooted", count=50, of=72)
    assert told(plan_of(notes, "2026-03-25 10:01"), "root_check") == [("root_check", "2026-04-01 08:00")]
    notes.note("2026-03-26 10:00", "lose", count=8)
    assert not told(plan_of(notes, "2026-03-26 10:01"), "root_check")


def test_plants_that_were_sold_had_rooted_and_bring_no_look_for_roots_back() -> None:
    notes = covered(plant="coyote brush").note("2026-03-17 10:00", "check", state="rooted", count=58, of=72)
    notes.note("2026-03-18 10:00", "pot", count=58)
    for went, act in (("2026-04-18 10:00", "sell"), ("2026-04-18 11:00", "give"), ("2026-04-19 10:00", "plant_out")):
        notes.note(went, act, count=10)
        assert not told(plan_of(notes, went), "root_check")


def test_a_look_for_roots_that_nobody_took_is_offered_again_a_week_later() -> None:
    notes = covered(plant="coyote brush")
    assert told(plan_of(notes, "2026-03-20 09:00"), "root_check") == [("root_check", "2026-03-16 08:00")]
    assert told(plan_of(notes, "2026-03-23 00:01"), "root_check") == [("root_check", "2026-03-23 08:00")]


@pytest.mark.parametrize("seen", [{"state": "rooted", "count": 51, "of": 72}, {"state": "roots_out"}])
def test_potting_up_is_said_on_the_first_and_fifth_day_after_roots_were_seen(seen: dict[str, object]) -> None:
    notes = covered().note("2026-04-06 10:00", "check", **seen)
    assert told(plan_of(notes, "2026-04-06 10:01"), "pot_up") == [
        ("pot_up", "2026-04-07 08:00"), ("pot_up", "2026-04-11 08:00"),
    ]  # fmt: skip
    notes.note("2026-04-08 10:00", "pot", count=51)
    assert not told(plan_of(notes, "2026-04-08 10:01"), "pot_up")


def test_half_rooted_is_not_enough_to_pot() -> None:
    notes = covered().note("2026-04-06 10:00", "check", state="rooted", count=50, of=72)
    assert not told(plan_of(notes, "2026-04-06 10:01"), "pot_up")


def test_out_of_the_shade_ten_days_after_potting_and_three_more_for_a_day_of_wilting() -> None:
    notes = covered().note("2026-04-08 10:00", "pot", count=72)
    assert told(plan_of(notes, "2026-04-08 10:01"), "shade_out") == [("shade_out", "2026-04-18 10:00")]
    notes.note("2026-04-10 15:00", "wilt")
    assert told(plan_of(notes, "2026-04-10 15:01"), "shade_out") == [("shade_out", "2026-04-21 10:00")]
    notes.note("2026-04-20 15:00", "move", to="sun bench")
    assert not told(plan_of(notes, "2026-04-20 15:01"), "shade_out")


def test_a_count_is_old_after_four_weeks_or_a_move() -> None:
    notes = covered()
    assert told(plan_of(notes, "2026-02-24 09:00"), "old_count") == [("old_count", "2026-03-23 08:00")]
    notes.note("2026-03-03 09:00", "move", to="bench c")
    assert told(plan_of(notes, "2026-03-03 09:01"), "old_count") == [("old_count", "2026-03-04 08:00")]
    notes.note("2026-03-03 10:00", "check", state="alive", count=70)
    assert told(plan_of(notes, "2026-03-03 10:01"), "old_count") == [("old_count", "2026-03-31 08:00")]


def test_a_hold_is_looked_at_after_one_two_and_four_weeks_until_it_is_cleared() -> None:
    notes = covered().note("2026-03-02 10:00", "hold", cause="pest")
    assert told(plan_of(notes, "2026-03-02 10:01"), "hold_review") == [
        ("hold_review", "2026-03-09 08:00"), ("hold_review", "2026-03-16 08:00"), ("hold_review", "2026-03-30 08:00"),
    ]  # fmt: skip
    notes.note("2026-03-10 10:00", "clear")
    assert not told(plan_of(notes, "2026-03-10 10:01"), "hold_review")


@pytest.mark.parametrize(
    ("act", "more", "due"),
    [
        ("move", {"to": "outside", "duration": Length(seconds=7200)}, "2026-05-04 12:00"),
        ("harden", {}, "2026-05-04 17:00"),
        ("harden", {"to": "slab", "duration": Length(seconds=4 * 3600)}, "2026-05-04 14:00"),
    ],
)
def test_plants_carried_out_come_in_at_the_time_said_else_at_five(act: str, more: dict[str, object], due: str) -> None:
    notes = covered().note("2026-05-04 10:00", act, **more)
    found = one(plan_of(notes, "2026-05-04 10:01"), "bring_in")
    assert told([found]) == [("bring_in", due)]
    assert found.critical
    notes.note("2026-05-04 11:00", "move", to="inside")
    assert not told(plan_of(notes, "2026-05-04 11:01"), "bring_in")


def test_a_hot_water_soak_has_cooled_in_bench_hours() -> None:
    notes = Notes().note("2026-03-02 09:00", "treat", plant="redberry", treatment="hot_water", temp_c=82.2)
    assert told(plan_of(notes, "2026-03-02 09:01"), "soak_cooled") == [("soak_cooled", "2026-03-03 08:00")]
    notes.note("2026-03-03 08:30", "treat", treatment="cold_stratify", duration=Length(days=60))
    assert not told(plan_of(notes, "2026-03-03 08:31"), "soak_cooled")


def test_a_soak_of_seed_ends_at_its_minute_even_at_night() -> None:
    notes = Notes().note(
        "2026-03-02 16:20", "treat", plant="redberry", treatment="soak", duration=Length(seconds=12 * 3600),
        said="redberry into water overnight",
    )  # fmt: skip
    assert told(plan_of(notes, "2026-03-02 16:21"), "soak_ended") == [("soak_ended", "2026-03-03 04:20")]


def test_things_put_into_bleach_come_out_at_their_minute_and_what_was_soaked_asks_for_nothing() -> None:
    put_in = {"things": ("clippers",), "solution": "bleach", "duration": minutes(10)}
    now = Notes().free("2026-03-02 09:00", "sanitize", said="clippers into the bleach for 10 min", **put_in)
    assert told(plan_of(now, "2026-03-02 09:01", of="solution")) == [("soak_ended", "2026-03-02 09:10")]
    now.free("2026-03-02 09:09", "sanitize", things=("trays",), solution="bleach")
    assert not told(plan_of(now, "2026-03-02 09:09", of="solution"))
    over = Notes().free("2026-03-02 09:00", "sanitize", said="soaked the clippers 10 min", **put_in)
    assert not told(plan_of(over, "2026-03-02 09:01", of="solution"))


def test_bleach_is_past_its_time_after_a_day_unless_poured_out_or_mixed_anew() -> None:
    notes = Notes().free(BLEACH, "mix", solution="bleach", parts=(1, 9))
    old = one(plan_of(notes, BLEACH, of="solution"), "bleach_old")
    assert told([old]) == [("bleach_old", "2026-03-03 15:00")]
    assert old.critical
    assert "970-216" in old.facts["source"]
    poured = Notes().free(BLEACH, "mix", solution="bleach").free("2026-03-02 17:00", "pour_out", solution="bleach")
    assert plan_of(poured, "2026-03-02 17:01", of="solution") == ()
    notes.free("2026-03-03 09:00", "mix", solution="bleach")
    assert told(plan_of(notes, "2026-03-03 09:01", of="solution")) == [("bleach_old", "2026-03-04 09:00")]
    evening = Notes().free("2026-03-02 19:30", "mix", solution="bleach")
    assert told(plan_of(evening, "2026-03-02 19:31", of="solution")) == [("bleach_old", "2026-03-04 08:00")]


def test_the_crew_s_own_rule_for_bleach_wins_and_is_named() -> None:
    rule = Notes().free(
        "2026-03-01 09:00", "rule", what="bleach is good for 2 hours", said="bleach is good for 2 hours"
    )
    notes = Notes().free(BLEACH, "mix", solution="bleach")
    old = one(plan_of(notes, BLEACH, of="solution", rules=protocols().with_rules(rule.records)), "bleach_old")
    assert told([old]) == [("bleach_old", "2026-03-02 17:00")]
    assert "the crew" in old.facts["source"]


def test_stratification_counts_only_the_days_in_the_cold() -> None:
    notes = Notes().note("2026-11-02 10:00", "sow", plant="hollyleaf redberry", count=200)
    notes.note("2026-11-02 11:00", "treat", treatment="cold_stratify", duration=Length(days=90))
    assert told(plan_of(notes, "2026-11-02 11:01"), "cold_ends") == [
        ("cold_ends", "2027-01-24 08:00"), ("cold_ends", "2027-01-31 08:00"),
    ]  # fmt: skip
    notes.note("2026-12-01 10:00", "treat", treatment="cold_stratify", ends=True)
    assert not told(plan_of(notes, "2026-12-01 10:01"), "cold_ends", "cold_look")
    notes.note("2026-12-11 10:00", "treat", treatment="cold_stratify")
    assert told(plan_of(notes, "2026-12-11 10:01"), "cold_ends") == [
        ("cold_ends", "2027-02-03 08:00"), ("cold_ends", "2027-02-10 08:00"),
    ]  # fmt: skip


def test_a_range_of_days_ends_in_a_range_that_says_so() -> None:
    notes = Notes().note("2026-11-02 10:00", "sow", plant="hollyleaf redberry", count=200)
    notes.note(
        "2026-11-02 11:00", "treat", treatment="cold_stratify", duration=Length(days=60), duration_max=Length(days=90)
    )
    ends = [due for due in plan_of(notes, "2026-11-02 11:01") if due.kind == "cold_ends"]
    assert (ends[-1].facts["first"], ends[-1].facts["last"]) == ("2027-01-01", "2027-01-31")


def test_a_weekly_look_into_the_cold_moves_with_the_looks_taken() -> None:
    notes = Notes().note(
        "2026-11-02 11:00", "treat", plant="hollyleaf redberry", treatment="cold_stratify", duration=Length(days=90)
    )
    assert told(plan_of(notes, "2026-11-02 11:01"), "cold_look") == [("cold_look", "2026-11-09 10:00")]
    notes.note("2026-11-11 11:00", "note", text="moist, no mold")
    assert told(plan_of(notes, "2026-11-11 11:01"), "cold_look") == [("cold_look", "2026-11-18 10:00")]


def test_the_warm_part_ends_on_its_day_and_the_cold_answers_it() -> None:
    notes = Notes().note(
        "2026-06-01 11:00", "treat", plant="hollyleaf redberry", treatment="warm_stratify", duration=Length(days=42)
    )
    assert told(plan_of(notes, "2026-06-01 11:01"), "warm_over") == [("warm_over", "2026-07-13 08:00")]
    notes.note("2026-07-13 09:00", "treat", treatment="cold_stratify", duration=Length(days=90))
    assert not told(plan_of(notes, "2026-07-13 09:01"), "warm_over")


def test_seedlings_are_looked_for_from_the_plant_s_first_day_every_third_day() -> None:
    notes = Notes().note("2026-03-02 10:00", "sow", plant="baccharis", count=100)
    assert told(plan_of(notes, "2026-03-02 10:01"), "germination_check") == [("germination_check", "2026-03-09 08:00")]
    notes.note("2026-03-09 10:00", "check", state="germinated", count=0)
    assert told(plan_of(notes, "2026-03-09 10:01"), "germination_check") == [("germination_check", "2026-03-12 08:00")]
    notes.note("2026-03-12 10:00", "check", state="germinated", count=85)
    assert not told(plan_of(notes, "2026-03-12 10:01"), "germination_check")


def test_bagged_heads_are_looked_at_weekly_until_collected() -> None:
    notes = Notes().free("2026-06-01 10:00", "collect", plant="lupine", bagged=True, source="north slope")
    notes.free("2026-06-01 10:05", "collect", plant="poppy", bagged=True, source="north slope")
    dues = plan_of(notes, "2026-06-01 10:06", of="crew")
    assert told(dues) == [("bags_check", "2026-06-08 08:00")] * 2
    assert len({due.key() for due in dues}) == 2
    notes.free("2026-06-09 10:05", "collect", plant="poppy", what="seed")
    assert [due.facts["plants"] for due in plan_of(notes, "2026-06-09 10:06", of="crew")] == [["lupine"]]


@pytest.mark.parametrize(
    ("when", "form", "due"),
    [("09:00", "powder", "2026-03-02 17:00"), ("17:20", "liquid", "2026-03-03 17:00"), ("09:00", "none", None)],
)
def test_poured_hormone_is_thrown_out_at_five(when: str, form: str, due: str | None) -> None:
    hormone = Hormone(form=form, ppm=3000 if form != "none" else None)
    notes = Notes().note(f"2026-03-02 {when}", "stick", plant="toyon", count=10, hormone=hormone)
    wanted = [] if due is None else [("hormone_leftover", due)]
    assert told(plan_of(notes, f"2026-03-02 {when}", of="crew")) == wanted


def test_a_new_date_dates_the_countdown_anew() -> None:
    notes = Notes().free("2026-12-01 10:00", "target", plant="toyon", count=60, due=date(2027, 4, 17))
    wanted = ["2027-01-17", "2027-02-06", "2027-03-18", "2027-03-20", "2027-04-03", "2027-04-10", "2027-04-16"]
    dues = plan_of(notes, "2026-12-01 10:01", of="target", name="toyon")
    assert told(dues, "countdown") == [("countdown", f"{day} 08:00") for day in wanted]
    notes.free("2027-03-29 10:00", "target", plant="toyon", count=60, due=date(2027, 4, 18))
    assert told(plan_of(notes, "2027-03-29 10:01", of="target", name="toyon"), "countdown") == [
        ("countdown", f"{day} 08:00") for day in ("2027-04-04", "2027-04-11", "2027-04-17")
    ]


def test_what_was_asked_for_comes_at_its_own_time_to_whom_it_was_asked_for() -> None:
    notes = Notes().free("2026-03-02 09:00", "remind", text="vent tray 2", at=datetime(2026, 3, 2, 19, 30))  # noqa: DTZ001
    notes.free("2026-03-02 09:00", "remind", text="bring pots", at=date(2026, 3, 6), who=("ruth",))
    notes.free("2026-03-02 09:00", "remind", text="check the fridge", every=("mon",))
    dues = plan_of(notes, "2026-03-02 09:01", of="crew")
    assert [(due.facts["text"], due.to, told([due])[0][1]) for due in dues] == [
        ("vent tray 2", "imke", "2026-03-02 19:30"),
        ("bring pots", "ruth", "2026-03-06 08:00"),
        ("check the fridge", "imke", "2026-03-09 08:00"),
    ]


def test_a_weekly_reminder_that_was_done_comes_again_next_week() -> None:
    notes = Notes().free("2026-03-02 09:00", "remind", text="check the fridge", every=("mon",))
    first = one(plan_of(notes, "2026-03-09 08:00", of="crew"), "as_asked")
    notes.free("2026-03-09 08:30", "reply", answer="done", reminder=first.key())
    assert told(plan_of(notes, "2026-03-09 08:31", of="crew")) == [("as_asked", "2026-03-16 08:00")]


def test_a_shift_s_end_is_told_ten_minutes_before() -> None:
    notes = Notes().free(
        "2026-03-02 07:00", "roster", who=("odile",), from_time=time(9), until=time(12), every=("tue",)
    )
    due = one(plan_of(notes, "2026-03-02 09:01", of="crew"), "hand_over")
    assert told([due]) == [("hand_over", "2026-03-03 11:50")]
    assert due.facts["who"] == ["odile"]


def test_every_kind_of_the_file_has_a_planner_and_every_plan_a_kind() -> None:
    named = {planner.__name__ for planners in PLANNERS.values() for planner in planners}
    assert len(named) == sum(map(len, PLANNERS.values()))
    assert set(kinds()) == {
        "cover_back", "daily_look", "vent", "wean", "cover_off", "mist", "quiet_tray", "root_check", "pot_up",
        "shade_out", "old_count", "hold_review", "bring_in", "soak_cooled", "soak_ended", "cold_look", "cold_ends",
        "warm_over", "germination_check", "bags_check", "bleach_old", "hormone_leftover", "countdown", "hand_over",
        "as_asked", "cold_unseen", "target_short",
    }  # fmt: skip
    critical = {name for name, kind in kinds().items() if kind.critical}
    assert critical == {"cover_back", "soak_ended", "cold_ends", "bleach_old", "bring_in"}


def test_a_lot_that_is_gone_or_was_taken_back_has_no_reminders() -> None:
    sold = covered().note("2026-03-02 10:00", "sell", count=72)
    assert plan_of(sold, "2026-03-02 10:01") == ()
    assert plan_of(sold, "2026-03-02 10:01", of="tray") == ()
    assert plan_of(covered().records, "2026-03-02 10:01", name="26-099") == ()


def test_stop_leaves_a_lot_alone() -> None:
    notes = covered().note("2026-03-02 10:00", "reply", trays=(), answer="stop", lots=(LOT,))
    assert plan_of(notes, "2026-03-02 10:01") == ()


def test_later_moves_a_reminder_and_skip_closes_it() -> None:
    notes = covered()
    first = one(plan_of(notes, "2026-03-09 09:30", of="tray"), "wean")
    notes.note("2026-03-09 09:35", "reply", answer="later", duration=Length(seconds=7200), reminder=first.key())
    later = one(plan_of(notes, "2026-03-09 11:00", of="tray"), "wean")
    assert later.key() == first.key()
    assert later.put_off_until == at("2026-03-09 11:35")
    notes.note("2026-03-09 11:40", "reply", answer="skip", reminder=first.key())
    assert told(plan_of(notes, "2026-03-09 11:41", of="tray"), "wean") == [("wean", "2026-03-09 12:30")]


def test_an_undo_of_the_note_that_confirmed_opens_the_reminder_again() -> None:
    notes = covered().note("2026-03-02 10:10", "vent", vent_open=0.25)
    before = plan_of(covered(), "2026-03-02 10:15", of="tray")
    notes.records[-1] = replace(notes.records[-1], taken_back=True)
    assert told(plan_of(notes, "2026-03-02 10:15", of="tray"), "vent") == told(before, "vent")
