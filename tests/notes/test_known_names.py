"""What the crew's own names change: a misspelt plant is put right in talk, a known place is a place, a known source a source."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.notes import Names, Repair, read
from core.vocabulary.plants import candidates, plant_names, right_name

NOW = datetime.fromisoformat("2026-05-20T10:30")
CREW = Names(places=("kelp nook", "mistor shed"), sources=("heron gulch",), puts_plants_right=True)


def test_a_misspelt_plant_is_read_as_the_right_one_and_the_repair_is_told() -> None:
    reading = read("stuck 72 manzinita 'gravel bar' tips, tray 8", NOW, CREW)
    assert reading.entries[0].plant == "manzanita 'gravel bar'"
    assert reading.repairs == (Repair(read="manzinita", as_="manzanita"),)


def test_the_words_alone_leave_a_plant_as_texted() -> None:
    reading = read("stuck 72 manzinita tips, tray 8", NOW)
    assert reading.entries[0].plant == "manzinita"
    assert reading.repairs == ()


def test_a_misspelt_plant_is_a_plant_of_the_bench() -> None:
    assert read("potted 12 cyanothus in 4 in", NOW).entries[0].plant == "cyanothus"
    assert candidates("cyanothus") == candidates("ceanothus")


def test_the_crews_own_name_for_a_plant_is_never_put_right() -> None:
    reading = read("stuck 72 manzinita tips", NOW, Names(plants=("manzinita",), puts_plants_right=True))
    assert reading.entries[0].plant == "manzinita"
    assert reading.repairs == ()


@pytest.mark.parametrize(
    ("texted", "meant"),
    [
        ("monkeyflwer", "monkeyflower"),
        ("bush monkeyflwer", "bush monkeyflower"),
        ("sticky monkyflower", "sticky monkeyflower"),
        ("salvia clevlandii", "salvia clevelandii"),
        ("wild lilak", "wild lilac"),
    ],
)
def test_a_slip_of_the_thumb_in_a_plants_name_is_put_right_though_no_list_has_it(texted: str, meant: str) -> None:
    reading = read(f"stuck 31 {texted} tips, tray 2", NOW, CREW)
    assert reading.entries[0].plant == meant
    assert reading.repairs == (Repair(read=texted, as_=meant),)


@pytest.mark.parametrize("name", ["coyote bush", "blue sedge", "calendula", "squash", "red elder", "tangelo"])
def test_another_plants_name_is_never_taken_for_a_slip(name: str) -> None:
    assert read(f"stuck 12 {name} cuttings", NOW, CREW).entries[0].plant == name


@given(name=st.sampled_from(sorted(name for name in plant_names() if name.isalpha())), data=st.data())
def test_a_name_with_a_letter_missing_is_that_plant_or_stays_as_texted(name: str, data: st.DataObject) -> None:
    at = data.draw(st.integers(1, len(name) - 1))
    texted = name[:at] + name[at + 1 :]
    plant = read(f"stuck 12 {texted} cuttings", NOW, CREW).entries[0].plant
    meant = candidates(plant or "")
    assert plant == texted or meant == candidates(name) or meant == candidates(texted)


@pytest.mark.parametrize("word", ["toyota", "carrot", "arrow"])
def test_an_everyday_word_is_never_replaced(word: str) -> None:
    assert right_name(word) is None
    assert read(f"stuck 40 {word} tips", NOW, CREW).entries[0].plant == word


def test_a_known_source_needs_no_from() -> None:
    known = read("stuck 24 seaside daisy heron gulch, tray 10", NOW, CREW).entries[0]
    assert (known.plant, known.source) == ("seaside daisy", "heron gulch")
    unknown = read("stuck 24 seaside daisy heron gulch, tray 10", NOW).entries[0]
    assert unknown.source is None


def test_a_known_place_is_where_a_temperature_was_read() -> None:
    reading = read("kelp nook was 88", NOW, CREW)
    assert reading.entries[0].place == "kelp nook"
    assert [ask.kind for ask in reading.asks] == ["unit"]


def test_the_words_of_a_known_place_are_never_mended() -> None:
    assert read("moved tray 5 to the mistor shed", NOW, CREW).entries[0].to == "mistor shed"
    assert read("mistor shed 70f", NOW, CREW).repairs == ()
