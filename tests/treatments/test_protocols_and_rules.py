"""Which numbers hold for a plant, and what does a crew change with its own words?"""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

import pytest

from core.entries import Act, Entry
from core.records import Record
from core.treatments import protocols, read_rule
from core.treatments.protocols import BY_PLANT
from core.vocabulary.plants import listed

SAID = datetime(2026, 3, 2, 17, tzinfo=UTC)


def rule(what: str, number: int = 1, *, lot: str | None = None, **more: object) -> Record:
    entry = Entry(act=Act.RULE, what=what, **more)  # type: ignore[arg-type]
    said_at = SAID + timedelta(minutes=number)
    return Record(
        number=number, lot=lot, trays=entry.trays, entry=entry, at=said_at, said_at=said_at, by="imke", told_by="imke",
        said=what, message=f"m{number}",
    )  # fmt: skip


def test_every_number_says_what_it_is_and_where_it_comes_from() -> None:
    for name, number in protocols().numbers.items():
        assert number.says, name
        assert number.source, name
        assert number.values, name


def test_a_plant_without_a_line_has_the_default_s_numbers() -> None:
    unknown, default = protocols().for_plant("tussock wort"), protocols().for_plant(None)
    assert {name: unknown.days(name) for name in BY_PLANT} == {name: default.days(name) for name in BY_PLANT}
    assert default.days("weaning_start") == 14
    assert default.day_steps("vent_days") == (7, 10, 13)


def test_a_species_is_found_by_every_name_and_falls_back_on_its_genus() -> None:
    by_name = protocols().for_plant("coyote brush")
    assert by_name.days("first_root_check") == protocols().for_plant("Baccharis pilularis 'Low Tide'").days(
        "first_root_check"
    )
    assert by_name.days("first_root_check") == protocols().for_plant("baccharis").days("first_root_check") == 21


@pytest.mark.parametrize(("wood", "days"), [("softwood", 21), ("semi-hardwood", 35), ("hardwood", 56)])
def test_the_first_look_for_roots_depends_on_the_wood(wood: str, days: int) -> None:
    assert protocols().for_plant("tussock wort", wood=wood).days("first_root_check") == days


def test_every_plant_of_the_list_has_every_number() -> None:
    for plant in listed():
        protocol = protocols().for_plant(plant.botanical)
        assert protocol.days("weaning_start") >= 14, plant.botanical
        assert all(0 <= protocol.days(name) <= 400 for name in BY_PLANT), plant.botanical


@pytest.mark.parametrize(
    ("what", "name", "value"),
    [
        ("weaning starts day 10", "weaning_start", 10),
        ("weaning starts day ten", "weaning_start", 10),
        ("start weaning after 3 weeks", "weaning_start", 21),
        ("root check every 5 days", "root_check_every", 5),
        ("root checks weekly", "root_check_every", 7),
        ("first root check day 30", "first_root_check", 30),
        ("vents from day 5", "vent_days", 5),
        ("bleach is good for 2 hours", "bleach_lasts", 120),
        ("bleach lasts half an hour", "bleach_lasts", 30),
        ("mist for 7 days", "mist_days", 7),
        ("check the fridge every 2 weeks", "cold_look_every", 14),
        ("first session 10 min", "wean_first", 10),
        ("cover off for 25 min", "air_lasts", 25),
        ("morning list at 7:30am", "morning_list", time(7, 30)),
        ("bench opens at 7", "bench_open", time(7)),
        ("bring in at 4pm", "bring_in_hour", time(16)),
        ("pot up when 50% rooted", "pot_up_share", 0.5),
        ("weaning starts day 12 instead of day 10", "weaning_start", 12),
        ("root check every 5 days rather than every 7 days", "root_check_every", 5),
        ("weaning waits for roots", "weaning_needs_roots", 1),
    ],
)
def test_what_a_crew_says_is_read(what: str, name: str, value: object) -> None:
    change = read_rule(what)
    assert change is not None
    assert (change.name, change.value) == (name, value)


@pytest.mark.parametrize(
    "what",
    [
        "",
        "weaning starts",
        "weaning starts soon",
        "weaning starts 10",
        "weaning day 10 or day 12",
        "hardening takes 14 days",
        "weaning starts day 9999999",
        "be nice to the new people",
        "root check every monday",
        "bleach lasts 0 hours",
        "7 days",
        "morning list at 25:00",
    ],
)
def test_what_is_no_rule_or_two_is_not_guessed(what: str) -> None:
    assert read_rule(what) is None


def test_the_nearer_rule_wins_and_the_later_over_the_earlier() -> None:
    rules = [
        rule("weaning starts day 12", 1, lot="26-014", lots=("14",)),
        rule("weaning starts day 10", 2, plant="salvia"),
        rule("weaning starts day 9", 3),
        rule("weaning starts day 8", 4, plant="salvia"),
    ]
    crew = protocols().with_rules(reversed(rules))
    assert crew.for_plant("toyon").days("weaning_start") == 9
    assert crew.for_plant("cleveland sage").days("weaning_start") == 8
    assert crew.for_plant("salvia clevelandii", lot="26-014").days("weaning_start") == 12
    assert crew.for_plant("toyon").source("weaning_start") == "the crew: weaning starts day 9"


def test_a_rule_for_a_species_does_not_reach_its_sisters_and_one_taken_back_reaches_nobody() -> None:
    crew = protocols().with_rules([rule("weaning starts day 30", plant="salvia apiana")])
    assert crew.for_plant("white sage").days("weaning_start") == 30
    assert crew.for_plant("salvia mellifera").days("weaning_start") == 14
    from dataclasses import replace

    undone = protocols().with_rules([replace(rule("weaning starts day 30"), taken_back=True)])
    assert undone.for_plant("toyon").days("weaning_start") == protocols().for_plant("toyon").days("weaning_start")


def test_a_rule_for_the_first_of_several_days_moves_the_others_with_it() -> None:
    crew = protocols().with_rules([rule("vents from day 5")])
    assert crew.for_plant(None).day_steps("vent_days") == (5, 8, 11)


def test_a_rule_that_was_not_read_is_kept_for_asking() -> None:
    kept = rule("hardening takes 14 days")
    assert protocols().with_rules([kept]).unread == (kept,)


def test_bleach_is_used_for_a_day_and_other_solutions_by_their_label() -> None:
    # Washington State DOH 970-216 (January 2015): diluted bleach is made fresh each day.
    assert protocols().working_hours("bleach") == 24
    assert protocols().working_hours("quat") is None
