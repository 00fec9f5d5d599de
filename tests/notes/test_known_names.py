"""What the crew's own names change: a misspelt plant is put right in talk, a known place is a place, a known source a source."""

from __future__ import annotations

from datetime import datetime

import pytest

from core.notes import Names, Repair, read
from core.vocabulary.plants import candidates, right_name

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
