"""Does any entry and any record come back from JSON, and from an export, as it was?"""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, time
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from core.entries import KNOWN_STATES, Act, Amount, Container, Entry, Exceptions, Hormone, SourceShare
from core.lengths import Length
from core.records import Record
from core.storage.exports import read_row, write_row

WORDS = st.text(max_size=12)
COUNTS = st.integers(0, 999_999)
MOMENTS = st.dates() | st.datetimes(datetime(1, 1, 1), datetime(9999, 12, 31)).map(  # noqa: DTZ001
    lambda at: at.replace(second=0, microsecond=0)
)
TIMES = st.times().map(lambda at: at.replace(second=0, microsecond=0))
FRACTIONS = st.floats(0, 1)
LENGTHS = st.builds(Length, months=st.integers(0, 12), days=st.integers(1, 99), seconds=st.integers(0, 86400))
AMOUNTS = st.builds(Amount, value=st.floats(0.1, 1e6), unit=WORDS)


def many(values: st.SearchStrategy[Any]) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(values, max_size=3).map(tuple)


def perhaps(values: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | values


ENTRIES = st.builds(
    Entry,
    act=st.sampled_from(Act),
    lots=many(WORDS),
    trays=many(WORDS),
    plant=perhaps(WORDS),
    count=perhaps(COUNTS),
    count_max=perhaps(COUNTS),
    approx=st.booleans(),
    more=st.booleans(),
    all_of=st.booleans(),
    on=perhaps(MOMENTS),
    by=perhaps(WORDS),
    what=perhaps(WORDS),
    amount=perhaps(AMOUNTS),
    bagged=st.booleans(),
    source=perhaps(WORDS),
    sources=many(st.builds(SourceShare, source=WORDS, count=perhaps(COUNTS))),
    cutting=perhaps(WORDS | many(WORDS).filter(bool)),
    hormone=perhaps(
        st.builds(
            Hormone,
            form=perhaps(WORDS),
            ppm=perhaps(st.floats(0, 1e5)),
            name=perhaps(WORDS),
            seconds=perhaps(COUNTS),
        )
    ),
    container=perhaps(st.builds(Container, kind=WORDS, count=perhaps(COUNTS), size=perhaps(WORDS))),
    duration=perhaps(LENGTHS),
    duration_max=perhaps(LENGTHS),
    temp_c=perhaps(st.floats(-60, 130)),
    ends=st.booleans(),
    vent_open=perhaps(FRACTIONS),
    times=perhaps(COUNTS),
    depth_in=perhaps(st.floats(0, 10)),
    state=perhaps(st.sampled_from(KNOWN_STATES)),
    share=perhaps(FRACTIONS),
    sample=st.booleans(),
    left=perhaps(COUNTS),
    who=many(WORDS),
    from_time=perhaps(TIMES),
    until=perhaps(TIMES),
    parts=many(st.floats(0, 100)),
    volume=perhaps(AMOUNTS),
    humidity=perhaps(FRACTIONS),
    due=perhaps(st.dates()),
    at=perhaps(MOMENTS),
    but=perhaps(st.builds(Exceptions, lots=many(WORDS), trays=many(WORDS))),
    rest=perhaps(WORDS),
)
INSTANTS = st.datetimes(datetime(1970, 1, 2), datetime(2190, 1, 1), timezones=st.just(UTC))  # noqa: DTZ001
RECORDS = st.builds(
    Record,
    number=st.integers(1, 2**31 - 1),
    lot=perhaps(WORDS),
    trays=many(WORDS),
    entry=ENTRIES,
    at=INSTANTS,
    said_at=INSTANTS,
    by=WORDS,
    told_by=WORDS,
    said=WORDS,
    message=WORDS,
    reminder=perhaps(WORDS),
    superseded_by=perhaps(st.integers(1, 2**31 - 1)),
    taken_back=st.booleans(),
)


@settings(max_examples=150, deadline=None)
@given(ENTRIES)
def test_any_entry_comes_back_from_json(entry: Entry):
    assert Entry.from_keys(json.loads(json.dumps(entry.as_keys(), allow_nan=False))) == entry


@settings(max_examples=150, deadline=None)
@given(RECORDS)
def test_any_record_comes_back_from_its_row(record: Record):
    row = json.loads(json.dumps(write_row(record), allow_nan=False))
    assert read_row(row, 1) == record


def test_an_entry_keeps_its_hour_and_its_day_apart():
    for moment in (date(2026, 3, 1), datetime(2026, 3, 1, 0, 0)):  # noqa: DTZ001
        entry = Entry(act=Act.REMIND, text="vent", at=moment, until=time(9, 5))
        back = Entry.from_keys(entry.as_keys())
        assert back == entry
        assert type(back.at) is type(moment)
