"""Is a lot found under every name that people text, and does it come off the shelf as it was put there?"""

from __future__ import annotations

from datetime import date, datetime, timedelta, timezone
from types import NoneType, UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

import pytest
from bench_rows import DAY, NOW, found, lot
from hypothesis import given, settings
from hypothesis import strategies as st

from core.errors import BooksBroken
from core.lengths import Length
from core.lots import Cold, Counted, Loss, Lot
from core.storage import Store
from core.storage.lot_codec import read_lot, write_lot

# Fixed offsets: a local time that a zone skips or has twice is, to Python, no instant that equals its own UTC.
_OFFSETS = st.integers(-14, 14).map(lambda hours: timezone(timedelta(hours=hours)))
_INSTANTS = st.datetimes(datetime(1990, 1, 1), datetime(2190, 1, 1), timezones=_OFFSETS)  # noqa: DTZ001
_LENGTHS = st.builds(Length, months=st.integers(0, 12), days=st.integers(1, 99), seconds=st.integers(0, 9999))
_PLAIN: dict[Any, st.SearchStrategy[Any]] = {
    int: st.integers(-(10**6), 10**6),
    float: st.floats(-1e6, 1e6),
    bool: st.booleans(),
    str: st.text(max_size=12),
    datetime: _INSTANTS,
    date: st.dates(),
    Length: _LENGTHS,
    NoneType: st.none(),
}


def values_of(hint: Any) -> st.SearchStrategy[Any]:
    """Any value of a type that a lot is made of, so that a field added later is tried too."""
    if hint in _PLAIN:
        return _PLAIN[hint]
    if get_origin(hint) in (Union, UnionType):
        return st.one_of([values_of(one) for one in get_args(hint)])
    if get_origin(hint) is tuple:
        return st.lists(values_of(get_args(hint)[0]), max_size=3).map(tuple)
    return st.builds(hint, **{name: values_of(one) for name, one in get_type_hints(hint).items()})


@settings(max_examples=100, deadline=None)
@given(values_of(Lot))
def test_any_lot_comes_back_as_it_was(any_lot: Lot):
    assert read_lot(write_lot(any_lot)) == any_lot


def test_a_lot_from_before_a_field_was_added_is_read_with_its_default():
    body = write_lot(lot())
    assert "hold" not in body
    assert read_lot(body) == lot()


@pytest.mark.parametrize("body", [{"number": "26-001"}, {"glow": 1}, {}])
def test_a_body_that_is_no_lot_is_said_to_be_broken(body):
    with pytest.raises(BooksBroken):
        read_lot(body)


def test_an_instant_without_a_zone_is_refused_in_a_lot():
    with pytest.raises(ValueError, match="needs its zone"):
        write_lot(lot(opened_at=datetime(2026, 3, 2)))  # noqa: DTZ001


@pytest.fixture
def crew(store: Store) -> int:
    return found(store).number


def test_a_lot_stands_where_it_was_put_and_is_replaced_whole(store: Store, crew: int):
    counted = Counted(state="rooted", count=31, of=72, share=None, at=NOW, by="ilse")
    cold = Cold(
        treatment="cold_stratify", began_at=NOW, days_asked=90, days_asked_max=None, days_counted=3.5, days_uncertain=0,
        running=True, ended_at=None,
    )  # fmt: skip
    rich = lot(counts=(counted,), colds=(cold,), losses=(Loss(cause="rot", count=4),), trays=("2", "B3"), rooted=31)
    with store.books(crew) as books:
        books.save_lot(rich)
    with store.books(crew) as books:
        assert books.lot("26-001") == rich
        assert books.lots(tray="b3") == books.lots(tray="2") == books.lots() == (rich,)
        moved = lot(trays=("9",), stage="potted")
        books.save_lot(moved)
        assert books.lots(tray="2") == ()
        assert books.lots(tray="9") == (moved,)
        books.drop_lot("26-001")
        assert books.lot("26-001") is None
        assert books.lots(tray="9") == ()
        assert books.next_lot_number(26) == "26-001"


def test_lots_are_listed_by_number_and_closed_ones_on_demand(store: Store, crew: int):
    numbers = ["26-010", "26-002", "25-900", "26-1000"]
    with store.books(crew) as books:
        for number in numbers:
            books.save_lot(lot(number, closed=number == "26-010", plant="toyon" if number == "26-002" else "sage"))
        assert [one.number for one in books.lots()] == ["25-900", "26-002", "26-1000"]
        assert [one.number for one in books.lots(open_only=False)] == ["25-900", "26-002", "26-010", "26-1000"]
        assert [one.number for one in books.lots(plant="toyon")] == ["26-002"]


@pytest.mark.parametrize(
    ("texted", "meant"),
    [
        ("14", "26-014"),  # this year's, although last year's is open too
        ("#14", "26-014"),
        ("lot 14", "26-014"),
        ("014", "26-014"),
        ("26-014", "26-014"),
        ("26-14", "26-014"),
        ("2026-014", "26-014"),
        ("25-014", "25-014"),
        ("7", "24-007"),  # the latest year that has it open
        ("25-007", "25-007"),  # closed, but named with its year
        ("8", None),  # only a closed one
        ("15", None),
        ("24-014", None),
        ("1" * 40, None),
        ("", None),
        ("-", None),
        ("rosemary", None),
    ],
)
def test_a_texted_number_is_this_years_else_the_latest_that_is_open(store: Store, crew: int, texted, meant):
    with store.books(crew) as books:
        for number, closed in (
            ("26-014", False), ("25-014", False), ("25-007", True), ("24-007", False), ("23-007", False),
            ("25-008", True),
        ):  # fmt: skip
            books.save_lot(lot(number, closed=closed))
        assert books.resolve(texted, 26) == books.resolve(texted, 2026) == meant


def test_a_closed_lot_of_an_earlier_year_is_found_where_that_is_wanted(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_lot(lot("25-008", closed=True))
        books.save_lot(lot("24-008", closed=True))
        assert books.resolve("8", 26) is None
        assert books.resolve("8", 26, closed_too=True) == "25-008"


def test_the_running_number_is_the_smallest_unused_of_the_year(store: Store, crew: int):
    with store.books(crew) as books:
        assert books.next_lot_number(2026) == books.next_lot_number(26) == "26-001"
        for number, after in (("26-001", "002"), ("26-212", "002"), ("26-002", "003"), ("25-003", "003")):
            books.save_lot(lot(number))
            assert books.next_lot_number(26) == f"26-{after}"
        books.save_lot(lot("26-003b"))
        assert books.lot_number_free("26-003")
        assert books.full_number("212", 26) == "26-212"
        assert not books.lot_number_free("26-212")
        for serial in range(3, 1000):
            books.save_lot(lot(f"26-{serial:03d}", opened_at=NOW + DAY))
        assert books.next_lot_number(26) == "26-1000"
