"""Properties of a fold: no order of arrival changes it, no count is forced, everything adds up."""

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as some

from core.lengths import Length
from core.lots import Lot, books_line, fold, fold_books, fold_colds, fold_cover, may_not, sessions
from core.records import Record
from tests.lots.book import COAST, LOT, Book

COUNT = some.integers(0, 90)


def keyed(act: str, **keys: Any) -> some.SearchStrategy[tuple[str, dict[str, Any]]]:
    return some.fixed_dictionaries(keys).map(lambda chosen: (act, chosen))


ACTS = some.one_of(
    keyed("check", state=some.sampled_from(["rooted", "alive", "callused", "ready", "germinated"]), count=COUNT),
    keyed("check", state=some.just("rooted"), count=some.integers(0, 40), of=some.integers(40, 90)),
    keyed("check", state=some.just("rooted"), count=some.integers(0, 9), more=some.just(True)),
    keyed("check", state=some.sampled_from(["rooted", "alive"]), share=some.floats(0, 1)),
    keyed("check", state=some.just("rooted"), count=COUNT, trays=some.sampled_from([("1",), ("2",), ("1", "2")])),
    keyed("lose", count=COUNT, cause=some.sampled_from([None, "rot"])),
    keyed("lose", left=some.integers(0, 9)),
    keyed("lose", all_of=some.just(True)),
    keyed("lose", share=some.floats(0, 1)),
    keyed("pot", count=COUNT),
    keyed("pot", all_of=some.just(True)),
    keyed("sell", count=COUNT),
    keyed("give", count=some.integers(0, 20)),
    keyed("plant_out", all_of=some.just(True)),
    keyed("split", count=some.integers(0, 20), lots=some.just(("14",)), to=some.just("95")),
    keyed("reserve", count=some.integers(0, 30), to=some.sampled_from([None, "school"])),
    keyed("move", to=some.sampled_from(["lath", "tray 9", "bench a"])),
    keyed("hold", cause=some.just("mold")),
    keyed("clear"),
    keyed("treat", treatment=some.just("cold_stratify"), duration=some.just(Length(days=30))),
    keyed("treat", treatment=some.just("cold_stratify"), ends=some.just(True)),
    keyed("cover"),
    keyed("uncover"),
    keyed("air", duration=some.just(Length(seconds=1200))),
    keyed("wilt"),
)
HISTORIES = some.lists(some.tuples(some.integers(1, 60), ACTS), max_size=14)
STARTS = some.one_of(
    keyed("stick", plant=some.just("toyon"), count=some.one_of(some.none(), COUNT), trays=some.just(("1", "2"))),
    keyed("sow", plant=some.just("toyon"), count=some.one_of(some.none(), COUNT), trays=some.just(("1", "2"))),
    keyed("divide", plant=some.just("yarrow"), count=COUNT),
)


def history(start: tuple[str, dict[str, Any]], acts: list[tuple[int, tuple[str, dict[str, Any]]]]) -> list[Record]:
    book = Book()
    book.write(start[0], 0, **start[1])
    for day, (act, keys) in acts:
        book.write(act, day, **keys)
    return book.records


@given(STARTS, HISTORIES, some.randoms(use_true_random=False))
@settings(max_examples=200, deadline=None)
def test_any_order_of_arrival_gives_the_same_lot(start: Any, acts: Any, chance: Any) -> None:
    records = history(start, acts)
    shuffled = records[:]
    chance.shuffle(shuffled)
    now = max(record.at for record in records)
    assert fold(LOT, shuffled, COAST) == fold(LOT, records, COAST)
    assert fold_cover(shuffled, COAST, now) == fold_cover(records, COAST, now)
    assert sessions(shuffled) == sessions(records)
    assert fold_colds(shuffled, COAST, now) == fold_colds(records, COAST, now)


@given(STARTS, HISTORIES)
@settings(max_examples=200, deadline=None)
def test_the_books_always_add_up_and_no_count_is_below_zero(start: Any, acts: Any) -> None:
    lot = fold(LOT, history(start, acts), COAST)
    assert lot is not None
    counts = (lot.left, lot.living, lot.rooted, lot.potted, lot.unrooted, lot.unsprouted, lot.reserved, lot.ready)
    assert all(count is None or count >= 0 for count in counts)
    assert lot.left is None or lot.reserved <= lot.left
    balance = books_line(lot)
    if balance is not None:
        assert balance.adds_up()
        assert balance.came == (lot.started or 0) + lot.merged_in


@given(STARTS, HISTORIES, some.sampled_from(["lose", "sell", "split", "pot", "give"]), COUNT)
@settings(max_examples=200, deadline=None)
def test_no_more_go_than_are_left_without_an_objection(start: Any, acts: Any, act: str, count: int) -> None:
    book = Book(records=history(start, acts))
    before = fold(LOT, book.records, COAST)
    assert before is not None
    record = book.write(act, 61, count=count, lots=("14",))
    after = fold(LOT, book.records, COAST)
    assert after is not None
    if may_not(before, record.entry) is None and before.left is not None:
        assert after.unexplained == before.unexplained


@given(some.lists(some.integers(1, 30), min_size=1, max_size=4), some.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_splits_and_merges_lose_no_plant_and_have_no_order(parts: list[int], chance: Any) -> None:
    book = Book()
    book.write("stick", plant="toyon", count=130, lot="26-001")
    for place, count in enumerate(parts, start=2):
        for lot in ("26-001", f"26-{place:03d}"):
            book.write("split", place, lot=lot, count=count, lots=("1",), to=str(place), message=f"split {place}")
    for lot in ("26-001", "26-002"):
        book.write("merge", 40, lot=lot, lots=("1", "2"), to="1", message="merge")
    lots = fold_books(book.records, COAST)
    assert sum(lot.left or 0 for lot in lots.values()) == 130
    chance.shuffle(book.records)
    assert fold_books(book.records, COAST) == lots
    assert all(isinstance(lot, Lot) and lot.plant == "toyon" for lot in lots.values())
