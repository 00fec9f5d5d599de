"""How many of a lot stand in pots of each size, as notes told it."""

from __future__ import annotations

import pytest

from core.entries import Container
from core.lots.pot_sizes import in_size, is_smaller_size, may_go_on, size_of, sizes_named

FOUR_IN, GALLON = Container(kind="pot", size="4 in"), Container(kind="pot", size="1 gal")


@pytest.mark.parametrize(
    ("words", "named"),
    [
        ("from 4 in", ("4 in",)),
        ("more of the 4 ins", ("4 in",)),
        ("4in", ("4 in",)),
        ("fours", ("4 in",)),
        ("of the gallons", ("1 gal",)),
        ("1 gal pots", ("1 gal",)),
        ("2 gallon", ()),
        ("14 in", ()),
        ("bands", ("band",)),
        ("4in and 1 gal", ("4 in", "1 gal")),
        ("by the door", ()),
        (None, ()),
    ],
)
def test_words_that_name_a_size(words: str | None, named: tuple[str, ...]) -> None:
    assert sizes_named(words, ("4 in", "1 gal", "band")) == named


def test_a_band_is_told_apart_by_its_kind_and_is_smaller_than_a_pot_of_four_inches() -> None:
    assert size_of(Container(kind="band")) == "band"
    assert is_smaller_size("band", "4 in")
    assert not is_smaller_size("1 gal", "4 in")


def test_plants_go_on_to_other_pots_but_not_to_as_big_or_smaller_ones() -> None:
    assert may_go_on({"4 in": 30}, GALLON)
    assert not may_go_on({"4 in": 30}, FOUR_IN)
    assert not may_go_on({"1 gal": 30}, FOUR_IN)


def test_what_was_taken_from_either_of_two_sizes_is_known_of_neither_alone() -> None:
    pots = (("1 gal or 4 in", 12), ("band", 5))
    assert in_size(pots, "band", 17) == 5
    assert in_size(pots, "4 in", 17) is None
    assert in_size(pots, "6 in", 17) == 0


def test_a_lot_whose_sizes_were_never_told_has_no_count_of_any() -> None:
    assert in_size((), "4 in", 12) is None
