"""Solutions, soaks, and all that stands open now."""

from datetime import timedelta
from typing import Any

import pytest

from core.entries import Amount
from core.lengths import Length
from core.lots import fold_batches, fold_books, fold_soaks, open_states, soak_is_over, still_good
from tests.lots.book import COAST, Book

HOURS = 1 / 24


def bleach(**keys: Any) -> Book:
    book = Book()
    mixed = {"solution": "bleach", "parts": (1, 9), "volume": Amount(value=2, unit="gal")} | keys
    book.write("mix", 0, lot=None, **mixed)
    return book


def test_a_batch_is_as_old_as_its_mixing_and_good_by_the_rule_handed_in() -> None:
    (batch,) = fold_batches(bleach().records, Book().time(5 * HOURS))
    assert batch.age(Book().time(5 * HOURS)) == timedelta(hours=5)
    assert still_good(batch, Book().time(23 * HOURS), Length(days=1)) is True
    assert still_good(batch, Book().time(24 * HOURS), Length(days=1)) is False
    assert still_good(batch, Book().time(3 * HOURS), Length(seconds=7200)) is False
    assert still_good(batch, Book().time(3 * HOURS), None) is None


def test_one_to_nine_of_a_5_25_percent_jug_is_0_525_percent() -> None:
    """0.525 % for 1 part of 5.25 % bleach with 9 of water: Swiecki and Bernhardt, Phytosanitary Procedures, s. 2.3."""
    (batch,) = fold_batches(bleach().records, Book().time(1))
    assert batch.strength(0.0525) == pytest.approx(0.00525)


def test_a_new_batch_replaces_the_old_and_pouring_out_ends_it() -> None:
    book = bleach()
    book.write("sanitize", 0.1, lot=None, things=("clippers",), solution="bleach", said="bleached clippers")
    book.write("mix", 1, lot=None, solution="bleach", parts=(1, 9))
    book.write("pour_out", 2, lot=None, solution="bleach")
    old, new = fold_batches(book.records, book.time(3))
    assert (old.stands, old.replaced_at, old.uses) == (False, book.time(1), 1)
    assert (new.stands, new.poured_out_at, new.uses) == (False, book.time(2), 0)
    assert still_good(new, book.time(3), Length(days=30)) is False


def test_solutions_are_kept_apart() -> None:
    book = bleach()
    book.write("mix", 1, lot=None, solution="quat")
    book.write("pour_out", 2, lot=None, solution="quat")
    assert [(batch.solution, batch.stands) for batch in fold_batches(book.records, book.time(3))] == [
        ("bleach", True), ("quat", False),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("said", "over"),
    [
        ("clippers into the bleach for 10 min", False),
        ("soaking six packs in bleach 10 min", False),
        ("soaked six packs in bleach 10 min", True),
        ("bleached six packs 10 min", True),
        ("clippers in bleach 10 min", False),
        ("six packs soaked in bleach since 9, 10 min", False),
    ],
)
def test_the_words_tell_whether_things_still_soak(said: str, over: bool) -> None:
    book = Book()
    soak = book.write(
        "sanitize", lot=None, things=("six packs",), solution="bleach", duration=Length.of_minutes(10), said=said
    )
    assert soak_is_over(soak) is over
    assert len(fold_soaks(book.records, book.time(1))) == (0 if over else 1)


def test_a_soak_of_seed_ends_with_the_next_treatment() -> None:
    book = Book()
    book.write("sow", plant="toyon", count=50)
    book.write("treat", 1, treatment="soak", duration=Length(seconds=12 * 3600), said="soak lot 14 overnight")
    (soak,) = fold_soaks(book.records, book.time(1.2))
    assert (soak.lot, soak.ends_at, soak.ended_at) == ("26-014", book.time(1.5), None)
    book.write("treat", 1.6, treatment="cold_stratify", duration=Length(days=60))
    assert fold_soaks(book.records, book.time(2))[0].ended_at == book.time(1.6)


def kinds(book: Book, at: float) -> list[str]:
    lots = fold_books(book.records, COAST).values()
    return [kind for kind, _ in open_states(book.records, lots, COAST, book.time(at))]


def test_what_stands_open_now_and_what_was_closed_again() -> None:
    book = bleach()
    book.write("stick", plant="toyon", count=50, trays=("2",))
    book.write("cover", trays=("2",))
    book.write("treat", 1, lot="26-015", plant="madrone", treatment="cold_stratify", duration=Length(days=40))
    book.write("air", 14, trays=("2",), said="dome off tray 2 20 min", duration=Length.of_minutes(20))
    book.write("harden", 14, lot="26-014", to="slab", duration=Length(seconds=7200))
    lots = fold_books(book.records, COAST).values()
    opens = open_states(book.records, lots, COAST, book.time(15))
    assert [kind for kind, _ in opens] == ["cover_off", "outside", "cold", "solution"]
    cover, outside, cold, solution = (facts for _, facts in opens)
    assert (cover["where"], cover["lots"], cover["since"]) == ("tray 2", ["26-014"], book.time(14))
    assert (outside["where"], outside["back_at"]) == ("slab", book.time(14 + 2 * HOURS))
    assert (cold["lots"], cold["days_counted"], cold["ends"]) == (["26-015"], 14, "2026-03-23")
    assert (solution["where"], solution["parts"]) == ("bleach", [1, 9])

    book.write("cover", 15.1, trays=("2",))
    book.write("move", 15.1, to="inside")
    book.write("pour_out", 15.1, lot=None, solution="bleach")
    assert kinds(book, 16) == ["cold"]
    book.write("treat", 16.1, lot="26-015", treatment="cold_stratify", ends=True)
    assert kinds(book, 17) == []


def test_a_lot_in_no_tray_has_its_own_cover() -> None:
    book = Book()
    book.write("stick", plant="toyon", count=50)
    book.write("air", 1, said="dome off lot 14 20 min", lots=("14",), duration=Length.of_minutes(20))
    lots = fold_books(book.records, COAST).values()
    ((kind, facts),) = open_states(book.records, lots, COAST, book.time(2))
    assert (kind, facts["where"], facts["lots"]) == ("cover_off", "lot 26-014", ["26-014"])


def test_what_is_noted_later_does_not_stand_open_yet() -> None:
    assert kinds(bleach(), -1) == []


def test_the_phrases_are_lower_case_and_of_one_kind_only() -> None:
    from core.lots.phrases import phrases

    words = phrases()
    for over, begun in ((words.air_over, words.air_begun), (words.soak_over, words.soak_begun)):
        assert not set(over) & set(begun)
        assert all(phrase == " ".join(phrase.lower().split()) for phrase in (*over, *begun))
