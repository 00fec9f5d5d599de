"""Lot numbers as people text them, and as the books write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as some

from core.lots.numbers import (
    LotName,
    format_number,
    full_number,
    names_lot,
    number_order,
    parse_number,
    year_of,
)


@pytest.mark.parametrize(
    ("texted", "year", "serial"),
    [
        ("14", None, 14), ("#14", None, 14), ("lot 14", None, 14), ("Lot #14", None, 14), ("L14", None, 14),
        ("26-014", 26, 14), ("26-14", 26, 14), ("lot 26-014", 26, 14), ("2026-014", 26, 14), ("014", None, 14),
        ("25-1203", 25, 1203),
    ],
)  # fmt: skip
def test_the_ways_to_text_a_lot(texted: str, year: int | None, serial: int) -> None:
    assert parse_number(texted) == LotName(year=year, serial=serial)


@pytest.mark.parametrize("words", ["", "tray", "fourteen", "0", "26-000", "1-2", "14-17-20", "12345", "14 15", "-14"])
def test_other_words_are_no_lot(words: str) -> None:
    assert parse_number(words) is None


def test_a_part_of_a_lot_keeps_its_letter() -> None:
    assert parse_number("14B") == LotName(year=None, serial=14, part="b")
    assert full_number("14b", 26) == "26-014b"
    assert not names_lot("14", "26-014b")


def test_a_number_without_a_year_may_mean_any_years_lot() -> None:
    assert names_lot("14", "26-014")
    assert names_lot("26-14", "26-014")
    assert not names_lot("25-014", "26-014")
    assert not names_lot(None, "26-014")


def test_books_are_sorted_by_year_and_running_number() -> None:
    shuffled = ["26-002", "25-010", "26-1000", "26-010", "25-002"]
    assert sorted(shuffled, key=number_order) == ["25-002", "25-010", "26-002", "26-010", "26-1000"]


@given(some.integers(0, 99), some.integers(1, 9999))
def test_a_written_number_is_read_back(year: int, serial: int) -> None:
    number = format_number(year, serial)
    assert parse_number(number) == LotName(year=year, serial=serial)
    assert full_number(number, 50) == number
    assert year_of(number) == year
