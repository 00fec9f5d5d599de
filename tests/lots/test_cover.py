"""The cover of a tray: the day count, the vents, and what an airing was."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from core.entries import Act, Entry
from core.lengths import Length
from core.lots import Cover, air_is_over, fold_cover, sessions
from core.records import Record
from tests.lots.book import COAST, Book

MINUTES = Length.of_minutes


def cover(book: Book, at: float) -> Cover:
    return fold_cover(book.records, COAST, book.time(at))


def domed() -> Book:
    book = Book()
    book.write("cover", trays=("9",))
    return book


@pytest.mark.parametrize(
    ("said", "over"),
    [
        ("aired tray 9 20 min", True),
        ("tray 9 aired for 20 min", True),
        ("dome off tray 9 20 min", False),
        ("took the dome off tray 9 for 20 min", False),
        ("lids off tray 9, 20 min", False),
        ("had the dome off tray 9 for 20 min", True),
        ("dome off tray 9, goes back on at 10", False),
        ("airing tray 9 20 min", False),
        ("tray 9 was off 20 min", True),
        ("aired tray 8 35 min, dome off tray 9 20 min", False),
        ("dome off tray 8 35 min, aired tray 9 20 min", True),
        ("watered bench b, covers off tray 9 20 min", False),
        ("Dome OFF  tray 9 20 min", False),
        ("tray 9 20 min", False),
    ],
)
def test_the_words_tell_whether_an_airing_is_over(said: str, over: bool) -> None:
    book = domed()
    record = book.write("air", 14, trays=("9",), duration=MINUTES(20), said=said)
    assert air_is_over(record) is over
    assert (cover(book, 14).aired_at is None) is over


def test_three_times_a_quarter_of_an_hour_is_over() -> None:
    book = domed()
    record = book.write("air", 14, trays=("9",), duration=MINUTES(15), times=3, said="dome off tray 9 3x 15 min")
    assert air_is_over(record)
    assert sessions(book.records)[0].times == 3


def test_an_airing_whose_time_was_past_when_it_was_noted_is_over() -> None:
    at = datetime.fromisoformat("2026-02-24T09:00")
    book = domed()
    record = book.write("air", 14.1, trays=("9",), duration=MINUTES(20), on=at, said="dome off tray 9 at 9am 20 min")
    assert air_is_over(record)
    still = book.write("air", 14.01, trays=("9",), duration=MINUTES(20), on=at, said="dome off tray 9 at 9am 20 min")
    assert not air_is_over(still)


def test_a_note_that_arrives_late_leaves_the_cover_off_until_somebody_says_it_is_back() -> None:
    book = domed()
    record = book.write("air", 14, trays=("9",), duration=MINUTES(20), said="dome off tray 9 20 min")
    assert not air_is_over(record, book.time(15))
    assert cover(book, 15).aired_at == record.at
    assert cover(book, 15).back_at == datetime(2026, 2, 24, 17, 20, tzinfo=UTC)


def test_a_cover_in_the_same_note_makes_it_over() -> None:
    book = domed()
    said = "dome off tray 9 20 min, dome back over it"
    book.write("air", 14, trays=("9",), duration=MINUTES(20), said=said, message="one")
    book.write("cover", 14, trays=("9",), said=said, message="one")
    assert cover(book, 14).aired_at is None
    (done,) = sessions(book.records)
    assert (done.minutes(), done.confirmed) == (20, True)


def test_a_cover_that_ends_an_airing_goes_on_with_the_day_count() -> None:
    book = domed()
    book.write("air", 14, trays=("9",), said="dome off tray 9")
    book.write("cover", 14.02, trays=("9",))
    now = cover(book, 15)
    assert (now.on, now.since, now.aired_at) == (True, book.time(0), None)


def test_after_the_cover_came_off_for_good_the_count_begins_anew() -> None:
    book = domed()
    book.write("uncover", 30, trays=("9",))
    assert (cover(book, 31).on, cover(book, 31).off_for_good_at) == (False, book.time(30))
    book.write("cover", 40, trays=("9",))
    assert (cover(book, 41).on, cover(book, 41).since) == (True, book.time(40))


def test_new_cuttings_under_an_old_cover_begin_the_count_anew() -> None:
    book = domed()
    book.write("stick", 60, trays=("9",), plant="toyon", count=20)
    book.write("cover", 60.1, trays=("9",))
    assert cover(book, 61).since == book.time(60.1)


def test_cuttings_told_with_a_cover_that_went_on_before_the_note_stand_beneath_it() -> None:
    book = Book()
    note = book.write("stick", 0.04, message="n", plant="sage", count=50, trays=("9",))
    book.records.append(replace(note, number=99, entry=Entry(act=Act.COVER, trays=("9",)), at=book.time(0)))
    book.write("air", 14, trays=("9",))
    book.write("cover", 14.01, trays=("9",))
    assert cover(book, 15).since == book.time(0)


def test_vents_are_the_last_setting_and_shut_under_a_new_cover() -> None:
    book = domed()
    book.write("vent", 7, trays=("9",), vent_open=0.25)
    book.write("vent", 10, trays=("9",), vent_open=0.5)
    assert cover(book, 8).vent_open == 0.25
    assert cover(book, 11).vent_open == 0.5
    book.write("uncover", 20, trays=("9",))
    book.write("cover", 21, trays=("9",))
    assert cover(book, 22).vent_open == 0.0


def test_the_length_is_what_was_really_done() -> None:
    book = domed()
    book.write("air", 14, trays=("9",), duration=MINUTES(15), said="dome off tray 9 15 min")
    book.write("cover", 14 + 40 / 1440, trays=("9",))
    (done,) = sessions(book.records)
    assert (done.minutes(), done.said_for, done.confirmed) == (40, MINUTES(15), True)


def test_an_airing_that_nobody_ended_confirms_nothing() -> None:
    book = domed()
    book.write("air", 14, trays=("9",), duration=MINUTES(15), said="dome off tray 9 15 min")
    book.write("air", 15, trays=("9",), duration=MINUTES(15), said="dome off tray 9 15 min")
    book.write("cover", 15.01, trays=("9",))
    first, second = sessions(book.records)
    assert (first.ended_at, first.minutes(), first.confirmed) == (None, None, False)
    assert second.confirmed


def test_an_airing_told_when_over_ended_when_it_was_told() -> None:
    book = domed()
    told = book.write("air", 14, trays=("9",), duration=MINUTES(20), said="aired tray 9 20 min")
    (done,) = sessions(book.records)
    assert (done.ended_at, done.minutes()) == (told.at, 20)


def test_wilting_is_laid_to_the_airing_before_it_and_not_to_the_one_after() -> None:
    book = domed()
    book.write("air", 14, trays=("9",), duration=MINUTES(20), said="aired tray 9 20 min")
    book.write("wilt", 14.01, trays=("9",))
    book.write("air", 15, trays=("9",), duration=MINUTES(15), said="aired tray 9 15 min")
    book.write("wilt", 17, trays=("9",))
    assert [done.wilted for done in sessions(book.records)] == [True, False]


def test_what_is_said_of_a_tray_with_three_lots_is_one_airing() -> None:
    book = domed()
    for lot in ("26-001", "26-002", "26-003"):
        book.write("air", 14, lot=lot, trays=("9",), duration=MINUTES(20), said="aired tray 9 20 min", message="one")
    assert len(sessions(book.records)) == 1


def test_a_tray_of_which_nothing_is_noted_has_no_cover() -> None:
    assert fold_cover([], COAST, datetime(2026, 2, 10, tzinfo=UTC)) == Cover(on=False)


def test_back_by_is_elapsed_time_over_the_change_of_the_clock() -> None:
    """The US clocks went forward on 8 March 2026 at 02:00 (IANA tz database, America/Los_Angeles)."""
    at = datetime(2026, 3, 8, 9, 30, tzinfo=UTC)
    entry = Entry(act=Act.AIR, trays=("9",), duration=MINUTES(60))
    record = Record(
        number=1, lot=None, trays=("9",), entry=entry, at=at, said_at=at, by="ines", told_by="ines",
        said="dome off tray 9 1 hour", message="m1",
    )  # fmt: skip
    now = fold_cover([record], COAST, at)
    assert now.back_at == datetime(2026, 3, 8, 10, 30, tzinfo=UTC)
