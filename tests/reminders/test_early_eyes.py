"""Is what goes wrong quietly said early, once, and does the crew's own record move the first look for roots?"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from bench_history import LOT, ZONE, Notes, at, covered, one, plan_of, told

from core.lengths import Length
from core.lots import fold
from core.reminders.learning import first_roots_on_day, learn_first_look
from core.treatments import Learned, protocols

SALE = date(2027, 4, 17)
# toyon roots in 7 weeks at its fastest (plants.csv), and grows on for 70 days (times.toml): cuttings stuck by
# 19 December 2026 are in time, and pots filled by 6 February 2027.


def toyon(count: int, stuck: str, *, target: int = 60) -> Notes:
    notes = Notes().free("2026-10-01 10:00", "target", plant="toyon", count=target, due=SALE)
    return notes.note(f"{stuck} 10:00", "stick", plant="toyon", count=count)


def short_of(notes: Notes, now: str) -> list[tuple[str, str]]:
    return told(plan_of(notes, now, of="target", name="toyon"), "target_short")


def last_day_to_stick() -> date:
    from core.treatments.plant_facts import fact_of

    fact = fact_of("toyon", "weeks_to_root")
    assert fact is not None
    assert fact.low is not None
    return date.fromordinal(SALE.toordinal() - 70 - round(7 * fact.low))


def test_a_target_is_out_of_reach_the_day_after_the_last_day_for_sticking() -> None:
    last = last_day_to_stick()
    after = date.fromordinal(last.toordinal() + 1)
    assert short_of(toyon(40, "2026-11-01"), "2026-11-02 10:00") == [("target_short", f"{after} 08:00")]
    found = one(plan_of(toyon(40, "2026-11-01"), f"{after} 09:00", of="target", name="toyon"), "target_short")
    assert (found.facts["able"], found.facts["count"], found.facts["why"]) == (40, 60, "stick")


def test_cuttings_stuck_too_late_do_not_count_and_those_in_time_do() -> None:
    last = last_day_to_stick()
    late = date.fromordinal(last.toordinal() + 1)
    in_time = toyon(40, "2026-11-01").note(f"{last} 10:00", "stick", lot="26-002", plant="toyon", count=20)
    assert [step for _, step in short_of(in_time, f"{late} 12:00")] == ["2027-02-07 08:00"]
    too_late = toyon(40, "2026-11-01").note(f"{late} 10:00", "stick", lot="26-002", plant="toyon", count=20)
    assert short_of(too_late, f"{late} 12:00") == [("target_short", f"{late} 08:00")]


def test_what_is_in_pots_by_the_last_day_for_potting_is_all_there_will_be() -> None:
    notes = toyon(80, "2026-10-02")
    assert short_of(notes, "2027-02-01 10:00") == [("target_short", "2027-02-07 08:00")]
    notes.note("2027-02-05 10:00", "pot", count=60)
    assert short_of(notes, "2027-02-05 10:01") == []


def test_losses_after_the_last_day_bring_the_same_one_reminder() -> None:
    notes = toyon(64, "2026-10-02").note("2027-01-05 10:00", "lose", count=3)
    key = "2027-02-07 08:00"
    assert [when for _, when in short_of(notes, "2027-01-05 11:00")] == [key]
    notes.note("2027-01-06 10:00", "lose", count=9)
    first = short_of(notes, "2027-01-06 11:00")
    notes.note("2027-01-07 10:00", "lose", count=9)
    assert short_of(notes, "2027-01-07 11:00") == first
    assert first[0][1] < key


def test_a_lot_that_nobody_counted_is_not_taken_for_none() -> None:
    notes = Notes().free("2026-10-01 10:00", "target", plant="toyon", count=60, due=SALE)
    notes.note("2026-10-02 10:00", "stick", plant="toyon")
    assert short_of(notes, "2027-03-01 10:00") == []


def cold() -> Notes:
    return Notes().note(
        "2026-11-02 10:00", "treat", plant="redberry", treatment="cold_stratify", duration=Length(days=90)
    )


def test_a_stratification_without_a_look_for_three_weeks_is_said_once_in_the_place_of_that_week_s_look() -> None:
    looks = [told(plan_of(cold(), f"{day} 07:00"), "cold_look", "cold_unseen")
             for day in ("2026-11-09", "2026-11-16", "2026-11-23")]  # fmt: skip
    assert looks[0] == [("cold_look", "2026-11-09 10:00"), ("cold_unseen", "2026-11-23 10:00")]
    assert looks[2] == [("cold_unseen", "2026-11-23 10:00"), ("cold_look", "2026-11-30 10:00")]
    seen = cold().note("2026-11-20 12:00", "check")
    assert told(plan_of(seen, "2026-11-23 07:00"), "cold_unseen") == [("cold_unseen", "2026-12-11 10:00")]
    out = cold().note("2026-11-20 12:00", "treat", treatment="cold_stratify", ends=True)
    assert told(plan_of(out, "2026-11-23 07:00"), "cold_unseen") == []


def test_roots_seen_late_in_the_crew_s_own_lots_move_the_first_look() -> None:
    taught = protocols().with_learned(
        [Learned(name="first_root_check", plant="coyote brush", wood=None, days=30, lots=4)]
    )
    found = one(plan_of(covered(plant="coyote brush"), "2026-02-24 09:00", rules=taught), "root_check")
    assert told([found]) == [("root_check", "2026-03-25 08:00")]
    assert found.facts["own_record"]
    other = one(plan_of(covered(plant="toyon"), "2026-02-24 09:00", rules=taught), "root_check")
    assert "own_record" not in other.facts


def test_a_rule_that_the_crew_said_wins_over_its_record() -> None:
    rule = Notes().free("2026-02-20 09:00", "rule", what="first root check day 18", plant="coyote brush")
    taught = Learned(name="first_root_check", plant="coyote brush", wood=None, days=30, lots=4)
    rules = protocols().with_rules(rule.records).with_learned([taught])
    found = plan_of(covered(plant="coyote brush"), "2026-02-24 09:00", rules=rules)
    assert told(found, "root_check") == [("root_check", "2026-03-13 08:00")]


@pytest.mark.parametrize(
    ("days", "learned"),
    [([], None), ([30, 31], None), ([35, 28, 31], 28), ([30, 28, 35, 36, 40], 30), ([21] * 3 + [40] * 9, 21)],
)
def test_the_lower_quarter_is_learned_from_three_lots_on(days: list[int], learned: int | None) -> None:
    assert learn_first_look(days, fewest=3) == learned
    assert learn_first_look(list(reversed(days)), fewest=3) == learned


def test_a_look_that_found_none_teaches_nothing() -> None:
    notes = covered().note("2026-03-16 10:00", "check", state="rooted", count=0)
    lot = fold(LOT, notes.records, ZONE)
    assert lot is not None
    assert first_roots_on_day(lot, notes.records, ZONE) is None
    notes.note("2026-03-23 10:00", "check", state="rooted", count=2).note(
        "2026-03-30 10:00", "check", state="roots_out"
    )
    assert first_roots_on_day(lot, notes.records, ZONE) == (at("2026-03-23 10:00") - at("2026-02-23 09:00")).days


def test_a_look_that_was_answered_as_done_is_a_look() -> None:
    notes = cold()
    look = one(plan_of(notes, "2026-11-09 10:01"), "cold_look")
    notes.note("2026-11-09 10:05", "reply", answer="done", reminder=look.key())
    assert told(plan_of(notes, "2026-11-09 10:06"), "cold_unseen") == [("cold_unseen", "2026-11-30 10:00")]


def test_plants_brought_in_for_the_night_need_no_new_count() -> None:
    notes = (
        covered().note("2026-03-20 08:00", "pot", count=72).note("2026-03-20 09:00", "check", state="alive", count=72)
    )
    notes.note("2026-03-21 09:00", "harden").note("2026-03-21 17:00", "move", to="inside")
    assert told(plan_of(notes, "2026-03-21 17:01"), "old_count") == [("old_count", "2026-04-17 08:00")]
    notes.note("2026-03-22 09:00", "move", to="slab")
    assert told(plan_of(notes, "2026-03-22 09:01"), "old_count") == [("old_count", "2026-03-23 08:00")]


def test_a_move_noted_in_the_minute_of_the_potting_takes_them_out_of_the_shade() -> None:
    notes = covered().note("2026-03-20 08:00", "pot", count=72).note("2026-03-20 08:00", "move", to="slab")
    assert told(plan_of(notes, "2026-03-20 08:01"), "shade_out") == []


def test_a_note_written_today_of_days_ago_breaks_the_silence_of_its_tray() -> None:
    notes = covered()
    assert told(plan_of(notes, "2026-02-28 09:00", of="tray"), "quiet_tray") == [("quiet_tray", "2026-02-28 10:00")]
    late = [replace(record, said_at=at("2026-03-01 09:00")) for record in notes.records]
    assert told(plan_of(late, "2026-03-01 09:01", of="tray"), "quiet_tray") == [("quiet_tray", "2026-03-06 10:00")]
