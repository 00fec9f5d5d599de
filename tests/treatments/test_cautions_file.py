"""Is every caution short, sourced, and left to the label, the law or a trained person?"""

from __future__ import annotations

import csv
import re
import tomllib
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from core.entries import Act, Entry
from core.notes.danger import danger

CORE = Path(__file__).parents[2] / "core"
FILE = tomllib.loads((CORE / "treatments" / "cautions.toml").read_text(encoding="utf-8"))
HAZARDS = {
    "bleach_mix",
    "bleach_soak_metal",
    "alcohol_flame",
    "hot_water",
    "acid",
    "blades",
    "hormone_powder",
    "hormone_edible",
    "pesticide",
    "dust_of_media",
    "heavy_trays",
    "irritant_plants",
}
EMERGENCIES = {"mixed_chemicals", "eye", "swallowed", "breathed", "injury", "bleeding", "scald"}
WHO_DECIDES = re.compile(r"label|rule|law|licen[cs]e|lead|trained|medical")
WHO_HELPS = re.compile(r"emergency number|poison control")


def list_emergencies(note: str) -> list[str]:
    heard = danger(note)
    return [] if heard is None else [heard]


def name_of(table: dict[str, Any]) -> str:
    return str(table["name"])


@pytest.fixture(scope="module")
def genera() -> set[str]:
    with (CORE / "vocabulary" / "plants.csv").open(encoding="utf-8", newline="") as lines:
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return {row["botanical"] for row in rows if " " not in row["botanical"]}


def test_every_hazard_and_emergency_has_one_line() -> None:
    assert sorted(map(name_of, FILE["caution"])) == sorted(HAZARDS)
    assert sorted(map(name_of, FILE["emergency"])) == sorted(EMERGENCIES)


@pytest.mark.parametrize("table", [*FILE["caution"], *FILE["emergency"]], ids=name_of)
def test_a_line_is_short_and_has_a_source(table: dict[str, Any]) -> None:
    assert 20 < len(table["text"]) <= 160
    assert "\n" not in table["text"]
    assert table["source"]


@pytest.mark.parametrize("table", FILE["caution"], ids=name_of)
def test_a_caution_says_who_decides(table: dict[str, Any]) -> None:
    assert WHO_DECIDES.search(table["text"])


@pytest.mark.parametrize("table", FILE["emergency"], ids=name_of)
def test_an_emergency_sends_for_help(table: dict[str, Any]) -> None:
    assert WHO_HELPS.search(table["text"])


@pytest.mark.parametrize("table", FILE["caution"], ids=name_of)
def test_a_caution_is_shown_for_something_that_a_note_can_say(table: dict[str, Any]) -> None:
    keys = {place.name for place in fields(Entry)}
    acts = set(Act)
    assert table["when"] or table["words"]
    for condition in table["when"]:
        named = condition["act"] if isinstance(condition["act"], list) else [condition["act"]]
        assert set(named) <= acts
        assert set(condition) - {"genus"} <= keys
        assert condition.get("genus", "edible") in FILE["genera"]


def test_words_are_lower_case_and_not_of_two_cautions() -> None:
    words = [word for table in FILE["caution"] for word in table.get("words", [])]
    assert len(words) == len(set(words))
    everywhere = words + [
        word for table in FILE["emergency"] for word in table["words"] + table.get("with", []) + table.get("joined", [])
    ]
    assert [word for word in everywhere if word != " ".join(word.lower().split())] == []


def test_genera_are_known_plants(genera: set[str]) -> None:
    assert set(FILE["genera"]) == {"edible", "irritant"}
    assert set(FILE["genera"]["edible"]) <= genera
    assert set(FILE["genera"]["irritant"]) <= genera


def test_no_caution_gives_a_strength_or_a_dose() -> None:
    """Strengths, times and recipes are the label's (the 22 lb of lifting and first aid's minutes are none)."""
    assert [table["name"] for table in FILE["caution"] if re.search(r"\d+ ?(%|ppm|min|ml)", table["text"])] == []


@pytest.mark.parametrize(
    ("note", "name"),
    [
        ("mei poured vinegar in the bleach bucket", "mixed_chemicals"),
        ("mixed bleach and alcohol", "mixed_chemicals"),
        ("bleach and ammonia together", "mixed_chemicals"),
        ("poured the iso into the bleach bucket", "mixed_chemicals"),
        ("bleach & quat in the dunk tank", "mixed_chemicals"),
        ("added vinegar, bleach was in the same bucket", "mixed_chemicals"),
        ("bleach and vinegar for the algae?", "mixed_chemicals"),
        ("mixed bleach w the ammonia cleaner", "mixed_chemicals"),
        ("bleeding bad", "bleeding"),
        ("kit is hurt, blood everywhere", "bleeding"),
        ("got bleach in my eye", "eye"),
        ("kit swallowed some hormone powder", "swallowed"),
        ("a kid ate berries off the flat", "swallowed"),
        ("dev inhaled the fumes", "breathed"),
        ("cut my thumb with the knife", "injury"),
        ("bram sliced his finger, bleeding", "injury"),
        ("spilled boiling water on my foot", "scald"),
    ],
)
def test_an_emergency_is_heard(note: str, name: str) -> None:
    assert list_emergencies(note) == [name]


@pytest.mark.parametrize(
    "note",
    [
        "stuck 30 bleeding heart, tray 4",
        "maple cuttings bleeding sap",
        "slugs ate the leaves of lot 7",
        "mice ate 12 seeds in tray 3",
        "sun burned tray 2, 5 dead",
        "poured boiling water on my lupine seed, left overnight",
        "cut 40 tips off the big coyote",
        "moss choking lot 9",
        "clippers in bleach 10 min, rinsed, then wiped with alcohol",
        "mixed bleach 1:9, soaked pots 10 min",
        "mixed bleach 1:9, washed pots with vinegar yesterday",
        "bleached the trays. wiped snips with alcohol",
        "is bleach or alcohol better for pruners",
        "mixed bleach and wiped the snips with alcohol",
        "poured out the bleach, mixed quat 1 gal",
        "tray 6 drank all its water",
        "potted by hand, heavy rain",
        "white eyed grass up in tray 2, eye level shelf",
    ],
)
def test_a_plain_note_is_no_emergency(note: str) -> None:
    assert list_emergencies(note) == []
