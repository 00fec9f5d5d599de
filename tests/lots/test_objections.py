"""What is asked about before it is written."""

from datetime import timedelta
from typing import Any

import pytest

from core.entries import Act, Entry
from core.lots import Objection, may_not
from tests.lots.book import Book, sown, stuck


def objection(book: Book, act: str, **keys: Any) -> Objection | None:
    return may_not(book.lot(), Entry(act=Act(act), **keys))


def kind(book: Book, act: str, **keys: Any) -> str | None:
    found = objection(book, act, **keys)
    return None if found is None else found.kind


@pytest.mark.parametrize("act", ["lose", "pot", "sell", "give", "plant_out", "split"])
def test_more_than_are_left_is_asked(act: str) -> None:
    book = stuck()
    book.write("lose", 10, count=9)
    found = objection(book, act, count=64)
    assert found == Objection(kind="above_left", facts={"act": act, "count": 64, "left": 63})
    assert kind(book, act, count=63) is None


def test_a_count_above_what_is_alive_is_asked() -> None:
    book = stuck()
    book.write("lose", 10, count=9)
    assert kind(book, "check", state="rooted", count=64) == "above_living"
    assert kind(book, "check", state="alive", count=64) == "above_living"
    assert kind(book, "check", state="rooted", count=63) is None


def test_another_5_rooted_beyond_what_is_alive_is_asked() -> None:
    book = stuck(20)
    book.write("check", 20, state="rooted", count=18)
    assert kind(book, "check", state="rooted", count=5, more=True) == "above_living"
    assert kind(book, "check", state="rooted", count=2, more=True) is None


@pytest.mark.parametrize("act", ["sell", "give", "split", "plant_out"])
def test_a_lot_on_hold_leaves_only_by_a_second_yes(act: str) -> None:
    book = stuck()
    book.write("hold", 10, cause="mold")
    found = objection(book, act, count=5)
    assert found is not None
    assert (found.kind, found.facts["cause"]) == ("on_hold", "mold")
    assert kind(book, "lose", count=5) is None
    book.write("clear", 11)
    assert kind(book, act, count=5) is None


def test_acts_on_a_closed_lot_are_asked_and_a_note_is_not() -> None:
    book = stuck()
    book.write("lose", 10, all_of=True)
    for act in ("pot", "sell", "check", "lose", "move"):
        assert kind(book, act, count=1, state="alive" if act == "check" else None) == "closed"
    assert kind(book, "note", text="washed the tray") is None


def test_fewer_rooted_than_before_is_a_recount_or_a_loss() -> None:
    book = stuck()
    book.write("check", 30, state="rooted", count=31, by="dell")
    found = objection(book, "check", state="rooted", count=21)
    assert found is not None
    assert found.kind == "count_lower"
    assert (found.facts["before"], found.facts["missing"], found.facts["before_by"]) == (31, 10, "dell")
    assert kind(book, "check", state="rooted", count=21, sample=True) is None
    assert kind(book, "check", state="rooted", count=5, more=True) is None
    assert kind(book, "check", state="rooted", count=0) == "count_lower"


def test_a_count_of_a_day_before_the_last_one_is_the_older_of_the_two() -> None:
    book = stuck()
    book.write("check", 30, state="rooted", count=31)
    counted = book.lot().counted("rooted")
    assert counted is not None
    fewer = Entry(act=Act.CHECK, state="rooted", count=21)
    assert may_not(book.lot(), fewer, at=counted.at - timedelta(days=10)) is None
    later = may_not(book.lot(), fewer, at=counted.at + timedelta(days=1))
    assert later is not None
    assert later.kind == "count_lower"


def test_fewer_rooted_than_before_of_those_still_in_the_tray_is_no_surprise() -> None:
    book = stuck()
    book.write("check", 30, state="rooted", count=31)
    book.write("pot", 31, count=31)
    assert kind(book, "check", state="rooted", count=12, of=41) is None


def test_out_of_fewer_than_are_left_is_part_or_whole() -> None:
    book = stuck()
    found = objection(book, "check", state="rooted", count=4, of=12)
    assert found is not None
    assert (found.kind, found.facts["likely_part"], found.facts["left"]) == ("part_or_whole", True, 72)
    found = objection(book, "check", state="rooted", count=31, of=60)
    assert found is not None
    assert (found.kind, found.facts["likely_part"]) == ("part_or_whole", False)
    assert kind(book, "check", state="rooted", count=31, of=72) is None
    assert kind(book, "check", state="rooted", count=4, of=12, sample=True) is None


def test_more_up_than_were_sown_is_asked() -> None:
    book = sown(100)
    assert kind(book, "check", state="germinated", count=101) == "above_sown"
    assert kind(book, "check", state="germinated", count=100) is None
    book.write("check", 20, state="germinated", count=90)
    assert kind(book, "check", state="germinated", count=15, more=True) == "above_sown"


def test_seed_not_yet_seen_may_still_be_potted_but_not_sold() -> None:
    book = sown(100)
    book.write("check", 20, state="germinated", count=30)
    assert kind(book, "pot", count=40) is None
    assert kind(book, "sell", count=40) == "above_left"
    assert kind(book, "pot", count=101) == "above_left"


def test_what_is_kept_for_somebody_is_not_sold_to_another() -> None:
    book = stuck()
    book.write("reserve", 10, count=60, to="the school")
    assert kind(book, "sell", count=20) == "above_free"
    assert kind(book, "sell", count=20, to="The School") is None
    assert kind(book, "reserve", count=13) == "above_free"
    assert kind(book, "sell", count=12) is None


class TestLossesToldAgain:
    def book(self) -> Book:
        book = stuck()
        book.write("lose", 10, count=4, by="dell")
        return book

    def told(self, said: str, count: int, at: float, by: str = "ines", **keys: Any) -> str | None:
        book = self.book()
        found = may_not(book.lot(), Entry(act=Act.LOSE, count=count, **keys), at=book.time(at), by=by, said=said)
        return None if found is None else found.kind

    def test_5_dead_the_day_after_4_dead_may_be_a_change_or_the_total(self) -> None:
        assert self.told("lot 14 5 dead", 5, 11) == "change_or_total"
        assert self.told("lot 14 5 dead", 5, 11, by="dell") == "change_or_total"

    def test_lost_5_and_5_more_dead_are_changes(self) -> None:
        assert self.told("lot 14 lost 5", 5, 11) is None
        assert self.told("lot 14 another 5 dead", 5, 11, more=True) is None
        assert self.told("lot 14 5 more dead", 5, 11) is None

    def test_fewer_dead_than_before_cannot_be_the_total(self) -> None:
        assert self.told("lot 14 3 dead", 3, 11) is None

    def test_weeks_later_it_is_a_new_loss(self) -> None:
        assert self.told("lot 14 5 dead", 5, 40) is None

    def test_the_same_loss_told_by_another_person(self) -> None:
        assert self.told("14 lost 4", 4, 10.2) == "told_twice"
        assert self.told("14 lost 4", 4, 10.2, by="dell") is None
        assert self.told("14 lost 4", 4, 13) is None

    def test_without_a_time_a_loss_is_held_against_nothing(self) -> None:
        assert may_not(self.book().lot(), Entry(act=Act.LOSE, count=4)) is None


def test_more_dead_than_have_no_roots_is_asked_soon_after_the_roots_were_counted() -> None:
    book = stuck()
    book.write("check", 20, state="rooted", count=31)
    found = may_not(book.lot(), Entry(act=Act.LOSE, count=50), at=book.time(20.5))
    assert found is not None
    assert (found.kind, found.facts["among"]) == ("above_unrooted", 9)
    assert may_not(book.lot(), Entry(act=Act.LOSE, count=41), at=book.time(20.5)) is None
    assert may_not(book.lot(), Entry(act=Act.LOSE, count=50), at=book.time(24)) is None
    assert may_not(book.lot(), Entry(act=Act.LOSE, count=50, rest="rooted ones"), at=book.time(20.5)) is None


def test_more_sold_than_are_in_pots_is_asked_where_some_were_potted() -> None:
    book = stuck()
    assert kind(book, "sell", count=25) is None
    book.write("pot", 30, count=20)
    assert kind(book, "sell", count=25) == "above_potted"
    assert kind(book, "sell", count=20) is None


def test_all_that_are_dead_are_all_that_were_ever_lost() -> None:
    book = stuck()
    book.write("lose", 10, count=5)
    book.write("lose", 11, count=4)
    for count, more in ((7, 0), (9, 0), (12, 3)):
        found = may_not(book.lot(), Entry(act=Act.LOSE, count=count), at=book.time(12), by="ana", said=f"{count} dead")
        assert found is not None
        assert (found.kind, found.facts["before"], found.facts["more"]) == ("change_or_total", 9, more)


def test_a_split_of_a_lot_half_rooted_is_asked_unless_it_says_of_which() -> None:
    book = stuck()
    book.write("check", 20, state="rooted", count=31)
    assert kind(book, "split", count=20) == "split_of"
    assert kind(book, "split", count=20, rest="rooted ones") is None
    assert kind(book, "split", count=20, rest="mixed") is None
    assert kind(book, "split", count=45) is None
