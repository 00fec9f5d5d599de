"""Days in the cold: local calendar days, counted only while in. Dates are checked against python-dateutil."""

from datetime import date, timedelta

from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as some

from core.lengths import Length
from core.lots import Cold, cold_ends, cold_up_to, fold_colds
from core.records import local_day
from tests.lots.book import COAST, Book

DAYS = Length.from_iso


def chilled(length: str | None = "P90D", at: float | str = 0, **keys: object) -> Book:
    book = Book()
    asked = DAYS(length) if length else None
    book.write("treat", at, treatment="cold_stratify", duration=asked, plant="madrone", **keys)
    return book


def cold(book: Book, at: float | str = 400) -> Cold:
    return fold_colds(book.records, COAST, book.time(at))[-1]


def ends(book: Book, at: float | str = 400) -> tuple[date, date] | None:
    return cold_ends(cold(book, at), COAST)


def test_40_days_from_the_3rd_of_november_end_on_the_13th_of_december() -> None:
    book = chilled("P40D", "2026-11-03T15:00")
    assert ends(book, "2026-11-20T09:00") == (date(2026, 12, 13), date(2026, 12, 13))
    assert cold(book, "2026-11-20T09:00").days_counted == 17


def test_a_fridge_that_was_off_for_about_3_days_makes_the_end_a_range() -> None:
    book = chilled("P40D", "2026-11-03T15:00")
    book.write("note", "2026-11-23T09:00", text="fridge was unplugged about 3 days")
    assert ends(book, "2026-11-24T09:00") == (date(2026, 12, 13), date(2026, 12, 16))
    assert cold(book, "2026-11-24T09:00").days_uncertain == 3
    assert cold(book, "2026-11-24T09:00").days_counted == 18


def test_unplugged_over_the_weekend_is_two_days_and_an_unknown_while_is_since_the_last_look() -> None:
    book = chilled("P40D", "2026-11-03T15:00")
    book.write("note", "2026-11-23T09:00", text="fridge was unplugged over wknd!!")
    assert cold(book).days_uncertain == 2
    book = chilled("P40D", "2026-11-03T15:00")
    book.write("check", "2026-11-17T10:00", rest="moist, no mold")
    book.write("note", "2026-11-23T09:00", text="found the fridge off")
    assert cold(book).days_uncertain == 6


def test_a_fridge_that_runs_again_leaves_the_days_since_it_failed_in_doubt() -> None:
    book = chilled("P40D", "2026-11-03T15:00")
    book.write("check", "2026-11-20T10:00", rest="moist, no mold")
    book.write("note", "2026-11-20T16:00", text="fridge died")
    book.write("note", "2026-11-23T09:00", text="fridge is back on")
    assert cold(book, "2026-11-24T09:00").days_uncertain == 3
    book.write("note", "2026-11-26T09:00", text="fridge runs again, told wyn")
    assert cold(book, "2026-11-27T09:00").days_uncertain == 3


def test_days_out_move_the_end() -> None:
    book = chilled("P40D", "2026-11-03T15:00")
    book.write("treat", "2026-11-20T09:00", treatment="cold_stratify", ends=True)
    stopped = cold(book, "2026-11-22T09:00")
    assert (stopped.running, stopped.days_counted, cold_ends(stopped, COAST)) == (False, 17, None)
    book.write("treat", "2026-11-23T16:00", treatment="cold_stratify")
    again = cold(book, "2026-11-30T09:00")
    assert (again.running, again.ended_at, again.days_out, again.days_counted) == (True, None, 3, 24)
    assert cold_ends(again, COAST) == (date(2026, 12, 16), date(2026, 12, 16))


def test_back_in_with_no_note_of_when_it_came_out_is_a_range() -> None:
    book = chilled("P40D", "2026-11-03T15:00")
    book.write("check", "2026-11-17T10:00")
    book.write("treat", "2026-11-21T10:00", treatment="cold_stratify")
    assert ends(book) == (date(2026, 12, 13), date(2026, 12, 17))


def test_60_to_90_days_end_in_a_range() -> None:
    book = Book()
    book.write("treat", treatment="cold_stratify", duration=DAYS("P60D"), duration_max=DAYS("P90D"))
    began = local_day(book.time(0), COAST)
    assert ends(book) == (began + timedelta(days=60), began + timedelta(days=90))
    assert (cold(book).days_asked, cold(book).days_asked_max) == (60, 90)


def test_no_length_has_no_end() -> None:
    assert ends(chilled(None)) is None
    assert cold(chilled(None), 10).days_counted == 10


def test_a_length_said_later_is_that_of_the_one_that_runs() -> None:
    book = chilled(None)
    book.write("treat", 3, treatment="cold_stratify", duration=DAYS("P90D"))
    (only,) = fold_colds(book.records, COAST, book.time(4))
    assert (only.began_at, only.days_asked) == (book.time(0), 90)


def test_a_length_said_after_it_ended_begins_another() -> None:
    book = chilled("P30D")
    book.write("treat", 30, treatment="cold_stratify", ends=True)
    book.write("treat", 60, treatment="cold_stratify", duration=DAYS("P30D"))
    first, second = fold_colds(book.records, COAST, book.time(70))
    assert (first.running, first.days_counted, second.running, second.days_counted) == (False, 30, True, 10)


def test_cold_after_warm_ends_the_warm() -> None:
    book = Book()
    book.write("treat", treatment="warm_stratify", duration=DAYS("P56D"))
    book.write("treat", 56, treatment="cold_stratify", duration=DAYS("P90D"))
    warm, cold_one = fold_colds(book.records, COAST, book.time(60))
    assert (warm.treatment, warm.running, warm.days_counted) == ("warm_stratify", False, 56)
    assert (cold_one.running, cold_one.days_counted) == (True, 4)


def test_sowing_ends_the_cold_unless_the_same_note_says_both() -> None:
    book = chilled("P30D")
    book.write("sow", 30, plant="madrone")
    assert not cold(book).running
    together = Book()
    together.write("sow", plant="coffeeberry", message="one")
    together.write("treat", treatment="cold_stratify", duration=DAYS("P90D"), message="one")
    assert cold(together).running


def test_moved_out_of_the_fridge_and_in_again() -> None:
    book = chilled("P30D")
    book.write("move", 1, to="fridge top")
    book.write("move", 10, to="bench a")
    assert not cold(book, 11).running
    book.write("move", 14, to="fridge")
    assert (cold(book, 15).running, cold(book, 15).days_out) == (True, 4)


def test_counting_on_to_today_without_new_records() -> None:
    book = chilled()
    lots_cold = fold_colds(book.records, COAST)[0]
    assert lots_cold.days_counted == 0
    assert cold_up_to(lots_cold, book.time(12), COAST).days_counted == 12


def test_the_days_are_the_crews_and_not_utc_days() -> None:
    """Late evening in California is the next day in UTC; local days are what a calendar on the fridge shows."""
    book = chilled("P10D", "2026-03-01T23:30")
    assert ends(book) == (date(2026, 3, 11), date(2026, 3, 11))


@given(
    some.dates(date(2020, 1, 1), date(2035, 12, 31)),
    some.integers(0, 18),
    some.integers(0, 200),
    some.integers(0, 30),
)
@settings(max_examples=150, deadline=None)
def test_the_end_is_dateutils_end_moved_by_the_days_out(began: date, months: int, days: int, out: int) -> None:
    """python-dateutil's relativedelta counts months and days from a date the way a calendar does."""
    if not (months or days):
        days = 1
    book = Book()
    length = Length(months=months, days=days)
    book.write("treat", f"{began}T14:00", treatment="cold_stratify", duration=length)
    book.write("treat", f"{began + timedelta(days=1)}T10:00", treatment="cold_stratify", ends=True)
    back = began + timedelta(days=1 + out)
    book.write("treat", f"{back}T11:00", treatment="cold_stratify")
    expected = began + relativedelta(months=months, days=days) + timedelta(days=out)
    (only,) = fold_colds(book.records, COAST, book.time(f"{back + timedelta(days=5)}T12:00"))
    assert cold_ends(only, COAST) == (expected, expected)
    assert only.days_counted == 6


def one_after_the_other(warm: str | None, chill: str | None, said: str = "") -> Book:
    book = Book()
    for treatment, length in (("warm_stratify", warm), ("cold_stratify", chill)):
        asked = DAYS(length) if length else None
        book.write("treat", "2026-01-05T09:00", treatment=treatment, duration=asked, message="m", said=said)
    return book


@given(some.integers(1, 200), some.integers(1, 300))
@settings(max_examples=60, deadline=None)
def test_what_is_told_at_once_is_one_after_the_other(warm: int, chill: int) -> None:
    book = one_after_the_other(f"P{warm}D", f"P{chill}D")
    begins = date(2026, 1, 5) + timedelta(days=warm)
    assert cold(book, "2026-01-05T10:00").planned
    assert local_day(cold(book, "2026-01-05T10:00").began_at, COAST) == begins
    assert ends(book, "2026-01-05T10:00") == (begins + timedelta(days=chill),) * 2


def test_60_days_warm_and_90_cold_as_published_for_bearberry_are_150_days() -> None:
    # Arctostaphylos uva-ursi 60 warm + 90 cold: Native Plant Network protocol, in tests/published/seed_treatments.csv
    book = one_after_the_other("P60D", "P90D", "lot 14: bearberry seed 60 days warm then 90 days cold")
    assert ends(book, "2026-01-05T10:00") == (date(2026, 6, 4),) * 2
    assert [one.running for one in fold_colds(book.records, COAST)] == [True, False]


def test_the_cold_begins_when_somebody_says_so() -> None:
    for said_on, its_end in (("2026-03-01T09:00", date(2026, 4, 30)), ("2026-03-09T09:00", date(2026, 5, 8))):
        book = one_after_the_other("P60D", "P60D")
        book.write("treat", said_on, treatment="cold_stratify", said="lot 14 into the fridge")
        assert ends(book) == (its_end, its_end)
        assert [one.running for one in fold_colds(book.records, COAST, book.time(400))] == [False, True]


def test_until_then_it_is_still_to_begin() -> None:
    book = one_after_the_other("P60D", "P60D")
    late = cold(book, "2026-03-09T09:00")
    assert (late.planned, late.running, late.days_counted) == (True, False, 0)
    assert local_day(late.began_at, COAST) == date(2026, 3, 9)


def test_a_longer_warm_moves_the_cold_that_follows() -> None:
    book = one_after_the_other("P60D", "P60D")
    book.write("treat", "2026-01-20T09:00", treatment="warm_stratify", duration=DAYS("P90D"))
    assert ends(book, "2026-01-21T09:00") == (date(2026, 6, 4),) * 2


def test_a_warm_that_is_told_as_over_is_over() -> None:
    book = one_after_the_other("P60D", "P90D", "lot 14 had 60 days warm, now 90 days in the fridge")
    assert ends(book, "2026-01-06T10:00") == (date(2026, 4, 5),) * 2
    assert cold(book, "2026-01-06T10:00").running


def test_sown_while_warm_there_is_no_cold_to_come() -> None:
    book = one_after_the_other("P60D", "P60D")
    book.write("sow", "2026-02-01T09:00", count=40)
    assert [one.treatment for one in fold_colds(book.records, COAST, book.time(400))] == ["warm_stratify"]
