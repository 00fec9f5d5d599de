"""What the receipt says is read back as the same entry."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

from hypothesis import given, settings
from hypothesis import strategies as st

from core.entries import Act, Amount, Container, Entry, Hormone
from core.lengths import Length
from core.notes import read, say_back
from core.vocabulary.plants import plant_names

NOW = datetime(2026, 10, 5, 14, 20)  # noqa: DTZ001  local wall clock, as the reader takes it
PLANTS = sorted(plant_names())

plants = st.sampled_from(PLANTS)
counts = st.integers(1, 400)
lots = st.lists(st.integers(1, 400).map(str), min_size=1, max_size=4, unique=True).map(tuple)
trays = st.lists(st.integers(1, 90).map(str), min_size=1, max_size=3, unique=True).map(tuple)
days = st.dates(date(2025, 6, 1), date(2026, 10, 4))
minutes = st.integers(1, 600).map(lambda number: Length(seconds=60 * number))
whole_days = st.integers(1, 120).map(lambda number: Length(days=number))
causes = st.sampled_from(
    ["rot", "damping_off", "mold", "dried", "pest", "animal", "heat", "cold", "wilt", "handling", "unknown"]
)
places = st.sampled_from(["shade house", "bench c", "west fence", "lower bench", "mist bench", "lath house"])
people = st.sampled_from(["dune school", "finn", "ranger station", "odile"])
containers = st.one_of(
    st.sampled_from(["4 in", "1 gal", "6 in", "5 gal"]).map(lambda size: Container(kind="pot", size=size)),
    st.sampled_from(["six-pack", "plug", "liner", "band", "cell"]).map(lambda kind: Container(kind=kind)),
)
hormones = st.builds(
    Hormone,
    form=st.sampled_from(["powder", "liquid", "gel", None]),
    ppm=st.sampled_from([1000, 3000, 8000]),
    name=st.sampled_from(["iba", "naa", "k-iba", None]),
)

on_lots = st.one_of(
    st.builds(
        Entry, act=st.sampled_from([Act.COVER, Act.UNCOVER, Act.HOLD, Act.CLEAR]), lots=lots, on=st.none() | days
    ),
    st.builds(
        Entry, act=st.just(Act.AIR), lots=lots, duration=st.none() | minutes, times=st.none() | st.integers(2, 4)
    ),
    st.builds(
        Entry, act=st.just(Act.VENT), trays=trays, vent_open=st.sampled_from([0.0, 0.1, 0.25, 0.5, 0.75, 1.0, 0.6])
    ),
    st.builds(
        Entry,
        act=st.just(Act.WATER),
        lots=lots,
        method=st.sampled_from([None, "mist", "tray", "overhead", "soak"]),
        on=st.none() | days,
    ),
    st.builds(Entry, act=st.just(Act.WILT), lots=lots, count=counts),
    st.builds(
        Entry,
        act=st.just(Act.TREAT),
        lots=lots,
        treatment=st.sampled_from(["cold_stratify", "warm_stratify"]),
        duration=whole_days,
    ),
    st.builds(
        Entry,
        act=st.just(Act.TREAT),
        lots=lots,
        treatment=st.sampled_from(["soak", "smoke", "acid", "hot_water"]),
        duration=minutes,
    ),
    st.builds(
        Entry,
        act=st.just(Act.CHECK),
        lots=lots,
        state=st.sampled_from(["rooted", "callused", "germinated", "alive", "ready", "flowering"]),
        count=counts,
        of=st.none() | st.integers(400, 500),
    ),
    st.builds(Entry, act=st.just(Act.LOSE), lots=lots, count=counts, cause=st.none() | causes, approx=st.booleans()),
    st.builds(
        Entry,
        act=st.just(Act.POT),
        lots=lots,
        count=counts,
        container=st.none() | containers,
        medium=st.none() | st.sampled_from(["perlite", "coir", "potting mix"]),
    ),
    st.builds(Entry, act=st.just(Act.MOVE), lots=lots, count=st.none() | counts, to=places),
    st.builds(Entry, act=st.just(Act.HARDEN), lots=lots, to=st.none() | places, duration=st.none() | minutes),
    st.builds(
        Entry,
        act=st.just(Act.TEND),
        lots=lots,
        care=st.sampled_from(["pinch", "prune", "feed", "weed", "disbud", "thin", "pest_control", "label"]),
    ),
    st.builds(Entry, act=st.sampled_from([Act.SELL, Act.GIVE, Act.RESERVE]), lots=lots, count=counts, to=people),
    st.builds(
        Entry,
        act=st.just(Act.SPLIT),
        lots=lots.map(lambda named: named[:1]),
        count=counts,
        to=st.integers(401, 500).map(str),
    ),
)
of_plants = st.one_of(
    st.builds(
        Entry,
        act=st.just(Act.STICK),
        plant=plants,
        count=counts,
        cutting=st.sampled_from([None, "tip", "heel", "nodal", "mallet"]),
        hormone=st.none() | hormones,
        medium=st.sampled_from([None, "perlite", "perlite+peat 2:1"]),
        trays=st.just(()) | trays,
    ),
    st.builds(
        Entry,
        act=st.just(Act.SOW),
        plant=plants,
        amount=st.builds(Amount, value=st.sampled_from([1, 2, 0.5]), unit=st.sampled_from(["oz", "g", "tsp", "cup"])),
        trays=st.just(()) | trays,
    ),
    st.builds(Entry, act=st.sampled_from([Act.SELL, Act.GIVE, Act.RESERVE]), plant=plants, count=counts, to=people),
    st.builds(
        Entry, act=st.just(Act.TARGET), plant=plants, count=counts, due=st.dates(date(2026, 10, 6), date(2027, 12, 1))
    ),
)


def _said(entry: Entry) -> tuple[Entry, ...]:
    return read(say_back(entry), NOW).entries


@given(on_lots)
@settings(max_examples=200, deadline=None)
def test_an_entry_on_lots_is_said_so_that_it_is_read_back(entry: Entry) -> None:
    assert _said(entry) == (entry,), say_back(entry)


@given(of_plants)
@settings(max_examples=200, deadline=None)
def test_an_entry_of_a_plant_is_said_so_that_it_is_read_back(entry: Entry) -> None:
    assert _said(entry) == (entry,), say_back(entry)


@given(on_lots, st.sampled_from(["looks sad", "some"]))
@settings(max_examples=50, deadline=None)
def test_the_rest_is_not_said(entry: Entry, rest: str) -> None:
    assert say_back(replace(entry, rest=rest)) == say_back(entry)
