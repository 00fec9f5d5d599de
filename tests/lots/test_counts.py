"""What counts, losses and departures make of a lot."""

import pytest

from core.lots import books_line, fold
from tests.lots.book import COAST, LOT, Book, sown, stuck


def sum_of(book: Book) -> str:
    return str(books_line(book.lot()))


def test_nothing_opens_a_lot_of_which_only_watering_is_known() -> None:
    book = Book()
    book.write("water", method="mist")
    assert fold(LOT, book.records, COAST) is None


def test_a_lot_that_was_taken_back_is_none() -> None:
    book = stuck()
    book.supersede(book.records[0], book.write("note", text="wrong tray"))
    assert fold(LOT, book.records, COAST) is None


def test_31_of_72_rooted_and_9_lost_is_63_left() -> None:
    book = stuck()
    book.write("check", 40, state="rooted", count=31, of=72)
    book.write("lose", 40, count=9, cause="rot")
    lot = book.lot()
    assert (lot.started, lot.rooted, lot.living, lot.left, lot.unrooted, lot.unexplained) == (72, 31, 63, 63, 32, 0)
    assert sum_of(book) == "72 = 32 unrooted + 31 rooted + 9 lost"


def test_the_same_fraction_after_the_loss_is_still_of_what_was_stuck() -> None:
    book = stuck()
    book.write("lose", 30, count=9)
    book.write("check", 40, state="rooted", count=31, of=72)
    assert sum_of(book) == "72 = 32 unrooted + 31 rooted + 9 lost"


def test_a_fraction_of_what_is_left_is_no_difference_either() -> None:
    book = stuck()
    book.write("lose", 30, count=9)
    book.write("check", 40, state="rooted", count=31, of=63)
    assert book.lot().unexplained == 0


def test_a_fraction_of_another_number_stands_as_unexplained() -> None:
    book = stuck()
    book.write("check", 40, state="rooted", count=31, of=60)
    lot = book.lot()
    assert (lot.living, lot.rooted, lot.unexplained) == (60, 31, -12)
    assert sum_of(book) == "72 = 29 unrooted + 31 rooted + 12 unexplained"


def test_another_5_rooted_adds_and_a_total_replaces() -> None:
    book = stuck()
    book.write("check", 30, state="rooted", count=20)
    book.write("check", 33, state="rooted", count=5, more=True)
    assert book.lot().rooted == 25
    book.write("check", 40, state="rooted", count=31)
    assert book.lot().rooted == 31


def test_none_rooted_is_zero_and_no_count_is_unknown() -> None:
    book = stuck()
    assert book.lot().rooted is None
    book.write("check", 21, state="rooted", count=0)
    assert book.lot().rooted == 0


def test_a_share_is_of_the_living() -> None:
    book = stuck()
    book.write("lose", 10, count=12)
    book.write("check", 40, state="rooted", share=0.8)
    assert book.lot().rooted == 48


@pytest.mark.parametrize("keys", [{"count": 4, "of": 12}, {"count": 4, "of": 12, "sample": True}])
def test_4_of_12_rooted_on_a_lot_of_72_is_a_sample(keys: dict[str, object]) -> None:
    book = stuck()
    book.write("check", 30, state="rooted", **keys)
    lot = book.lot()
    assert lot.rooted is None
    assert lot.unexplained == 0
    assert lot.latest_sample is not None
    assert (lot.latest_sample.count, lot.latest_sample.of) == (4, 12)
    assert lot.counted("rooted") is None


def test_a_count_remembers_what_the_books_held() -> None:
    book = stuck()
    book.write("lose", 10, count=9)
    book.write("check", 40, state="rooted", count=31, of=72)
    counted = book.lot().counted("rooted")
    assert counted is not None
    assert (counted.count, counted.of, counted.books, counted.by) == (31, 72, 63, "ines")


def test_a_loss_takes_the_unrooted_first_then_the_rooted_then_the_potted() -> None:
    book = stuck()
    book.write("check", 40, state="rooted", count=60)
    book.write("pot", 45, count=20)
    book.write("lose", 50, count=15)
    lot = book.lot()
    assert (lot.unrooted, lot.rooted, lot.potted) == (0, 57, 20)
    book.write("lose", 51, count=40)
    lot = book.lot()
    assert (lot.rooted, lot.potted, lot.left) == (17, 17, 17)


def test_all_but_3_are_lost() -> None:
    book = stuck()
    book.write("lose", 20, left=3, cause="heat")
    lot = book.lot()
    assert (lot.left, lot.lost, lot.closed) == (3, 69, False)


def test_half_of_them_are_lost() -> None:
    book = stuck()
    book.write("lose", 20, share=0.5)
    assert book.lot().lost == 36


def test_half_of_the_potted_ones_are_half_of_those_in_pots() -> None:
    book = stuck()
    book.write("check", 18, state="rooted", count=30)
    book.write("pot", 19, count=18)
    book.write("lose", 20, share=0.5, rest="of the potted ones")
    assert sum_of(book) == "72 = 42 unrooted + 12 rooted + 9 potted + 9 lost"


def test_losses_are_kept_by_cause() -> None:
    book = stuck()
    book.write("lose", 5, count=4, cause="rot")
    book.write("lose", 9, count=2)
    book.write("lose", 12, count=3, cause="rot")
    assert [(loss.cause, loss.count) for loss in book.lot().losses] == [("rot", 7), ("unknown", 2)]


def test_all_lost_closes_the_lot_at_that_moment() -> None:
    book = stuck()
    gone = book.write("lose", 20, all_of=True, cause="heat")
    book.write("note", 25, text="washed the tray")
    lot = book.lot()
    assert (lot.left, lot.lost, lot.closed, lot.closed_at, lot.stage) == (0, 72, True, gone.at, "closed")


def test_potting_more_than_were_rooted_says_that_they_had_rooted() -> None:
    book = stuck()
    book.write("check", 30, state="rooted", count=10)
    book.write("pot", 40, count=14)
    lot = book.lot()
    assert (lot.rooted, lot.potted, lot.unrooted, lot.left, lot.unexplained) == (14, 14, 58, 72, 0)


def test_potted_ones_are_still_left_and_sold_ones_are_not() -> None:
    book = stuck()
    book.write("check", 40, state="rooted", count=31)
    book.write("pot", 42, count=31)
    book.write("sell", 90, count=12)
    book.write("give", 91, count=2, to="the school")
    book.write("plant_out", 92, count=1, to="creek")
    lot = book.lot()
    assert (lot.left, lot.potted, lot.sold, lot.given, lot.planted_out) == (57, 16, 12, 2, 1)
    assert sum_of(book) == "72 = 41 unrooted + 16 potted + 12 sold + 2 given + 1 planted out"


def test_potting_all_pots_all_that_live() -> None:
    book = stuck()
    book.write("lose", 20, count=2)
    book.write("pot", 42, all_of=True)
    assert (book.lot().potted, book.lot().closed) == (70, False)


def test_all_potted_and_gone_closes_the_lot() -> None:
    book = stuck()
    book.write("lose", 20, count=2)
    book.write("pot", 42, all_of=True)
    last = book.write("sell", 90, all_of=True)
    lot = book.lot()
    assert (lot.sold, lot.left, lot.closed, lot.closed_at) == (70, 0, True, last.at)


def test_a_count_of_the_living_reopens_a_lot_that_was_given_up() -> None:
    book = stuck()
    book.write("lose", 20, all_of=True)
    book.write("check", 25, state="alive", count=6)
    lot = book.lot()
    assert (lot.closed, lot.left, lot.unexplained) == (False, 6, 6)
    assert sum_of(book) == "72 = 6 living + 72 lost − 6 unexplained"


def test_more_lost_than_there_were_is_shown_and_never_below_zero() -> None:
    book = stuck(10)
    book.write("lose", 20, count=13)
    lot = book.lot()
    assert (lot.left, lot.lost, lot.unexplained) == (0, 13, 3)
    assert sum_of(book) == "10 = 13 lost − 3 unexplained"


def test_a_recount_of_the_living_that_nothing_explains_is_its_own_line() -> None:
    book = stuck()
    book.write("lose", 20, count=9)
    book.write("check", 30, state="alive", count=60)
    assert sum_of(book) == "72 = 60 living + 9 lost + 3 unexplained"
    book.write("check", 33, state="alive", count=63)
    assert sum_of(book) == "72 = 63 living + 9 lost"


def test_about_60_alive_agrees_with_63_in_the_books() -> None:
    book = stuck()
    book.write("lose", 20, count=9)
    book.write("check", 30, state="alive", count=60, approx=True)
    assert (book.lot().left, book.lot().unexplained) == (63, 0)


def test_a_rooted_count_below_what_is_potted_is_of_those_still_in_the_tray() -> None:
    book = stuck()
    book.write("check", 40, state="rooted", count=31)
    book.write("pot", 42, count=31)
    book.write("check", 50, state="rooted", count=12, of=41)
    lot = book.lot()
    assert (lot.rooted, lot.potted, lot.unrooted, lot.unexplained) == (43, 31, 29, 0)


def test_a_rooted_count_lower_than_before_makes_the_rooted_unrooted_again() -> None:
    book = stuck()
    book.write("check", 40, state="rooted", count=31)
    book.write("check", 42, state="rooted", count=21)
    lot = book.lot()
    assert (lot.rooted, lot.unrooted, lot.left, lot.unexplained) == (21, 51, 72, 0)


def test_bigger_pots_for_potted_plants_pot_nobody_twice() -> None:
    from core.entries import Container

    book = stuck()
    book.write("pot", 42, count=31, container=Container(kind="pot", size="4 in"))
    book.write("pot", 120, count=20, container=Container(kind="pot", size="1 gal"))
    lot = book.lot()
    assert (lot.potted, lot.unrooted, lot.left) == (31, 41, 72)
    assert lot.container == Container(kind="pot", size="1 gal")


def test_counts_of_single_trays_make_the_lots_count_together() -> None:
    book = stuck(trays=("1", "2"))
    book.write("check", 40, state="rooted", count=10, of=36, trays=("1",))
    assert book.lot().rooted == 10
    book.write("check", 40.1, state="rooted", count=12, of=36, trays=("2",))
    assert book.lot().rooted == 22
    book.write("check", 45, state="rooted", count=15, trays=("1",))
    lot = book.lot()
    assert (lot.rooted, lot.left, lot.unexplained) == (27, 72, 0)


def test_a_lot_whose_start_nobody_counted_is_known_from_its_first_full_count() -> None:
    book = stuck(None)
    assert book.lot().left is None
    book.write("lose", 10, count=4)
    assert book.lot().left is None
    book.write("check", 20, state="rooted", count=31, of=60)
    lot = book.lot()
    assert (lot.started, lot.left, lot.rooted, lot.unexplained) == (None, 60, 31, 0)
    assert books_line(lot) is None


def test_counts_by_mother_add_up_to_the_lots() -> None:
    from core.entries import SourceShare

    book = stuck(None, sources=(SourceShare(source="m2", count=18), SourceShare(source="m5", count=30)))
    assert book.lot().started == 48


def test_roots_at_the_holes_make_the_lot_a_rooted_one() -> None:
    book = stuck()
    book.write("check", 40, state="roots_out")
    assert (book.lot().roots_out, book.lot().stage, book.lot().rooted) == (True, "rooted", None)


def test_callused_ready_and_flowering_are_kept_apart_from_rooted() -> None:
    book = stuck()
    book.write("check", 14, state="callused", count=50)
    book.write("check", 40, state="rooted", count=40)
    book.write("pot", 50, count=40)
    book.write("check", 90, state="ready", count=26)
    book.write("check", 91, state="flowering")
    lot = book.lot()
    assert (lot.callused, lot.rooted, lot.ready, lot.left) == (50, 40, 26, 72)
    assert lot.counted("flowering") is not None
    book.write("sell", 95, count=6)
    assert book.lot().ready == 20


class TestSeed:
    def test_sown_seed_of_which_nothing_is_seen_has_no_count_of_living(self) -> None:
        lot = sown().lot()
        assert (lot.kind, lot.started, lot.living, lot.germinated, lot.unsprouted) == ("seed", 200, None, None, 200)
        assert lot.stage == "sown"

    def test_the_living_are_those_that_came_up(self) -> None:
        book = sown()
        book.write("check", 20, state="germinated", count=120)
        book.write("lose", 25, count=10, cause="damping_off")
        lot = book.lot()
        assert (lot.germinated, lot.living, lot.left, lot.unsprouted) == (120, 110, 110, 80)
        assert lot.stage == "germinated"
        assert sum_of(book) == "200 = 80 not up + 110 living + 10 lost"

    def test_more_come_up(self) -> None:
        book = sown()
        book.write("check", 20, state="germinated", count=40)
        book.write("check", 24, state="germinated", count=15, more=True)
        book.write("check", 30, state="germinated", share=0.5)
        lot = book.lot()
        assert (lot.germinated, lot.left) == (100, 100)

    def test_more_up_than_were_sown_is_unexplained(self) -> None:
        book = sown(30)
        book.write("check", 20, state="germinated", count=34)
        lot = book.lot()
        assert (lot.left, lot.unexplained) == (34, 4)
        assert sum_of(book) == "30 = 34 living − 4 unexplained"

    def test_pricking_out_more_than_were_seen_says_that_they_had_come_up(self) -> None:
        book = sown(50)
        book.write("pot", 40, count=20)
        lot = book.lot()
        assert (lot.potted, lot.left, lot.unsprouted, lot.germinated, lot.unexplained) == (20, 20, 30, 20, 0)

    def test_seedlings_that_nobody_counted_are_potted_one_after_the_other(self) -> None:
        book = sown()
        book.write("pot", 20, count=30)
        book.write("pot", 21, count=20)
        book.write("pot", 22, count=5, rest="more")
        assert sum_of(book) == "200 = 145 not up + 55 potted"

    def test_more_that_came_up_late_are_potted_too(self) -> None:
        book = sown()
        book.write("check", 20, state="germinated", count=40)
        book.write("pot", 21, count=40)
        book.write("pot", 25, count=5, rest="more")
        assert sum_of(book) == "200 = 155 not up + 45 potted"

    def test_seedlings_that_were_counted_go_on_to_other_pots(self) -> None:
        book = sown()
        book.write("check", 20, state="germinated", count=40)
        book.write("pot", 21, count=40)
        book.write("pot", 50, count=20)
        assert sum_of(book) == "200 = 160 not up + 40 potted"

    def test_mice_take_seed_that_never_came_up(self) -> None:
        book = sown()
        book.write("lose", 5, count=60, cause="animal")
        lot = book.lot()
        assert (lot.unsprouted, lot.living, lot.unexplained) == (140, None, 0)

    def test_seedlings_all_lost_leave_a_lot_that_may_still_sprout(self) -> None:
        book = sown()
        book.write("check", 20, state="germinated", count=12)
        book.write("lose", 25, count=12)
        assert (book.lot().left, book.lot().closed) == (0, False)
        book.write("lose", 60, all_of=True)
        assert book.lot().closed

    def test_an_ounce_of_seed_has_no_count_but_what_comes_up_has(self) -> None:
        from core.entries import Amount

        book = sown(None, amount=Amount(value=1, unit="oz"))
        book.write("check", 20, state="germinated", count=300)
        lot = book.lot()
        assert (lot.started, lot.left, lot.unexplained, lot.amount) == (None, 300, 0, Amount(value=1, unit="oz"))

    def test_seed_treated_by_plant_opens_a_lot_that_is_sown_later(self) -> None:
        book = Book()
        book.write("treat", plant="manzanita", treatment="hot_water", temp_c=82.2)
        lot = book.lot()
        assert (lot.kind, lot.stage, lot.sown_at, lot.started) == ("seed", "seed", None, None)
        assert lot.treated == ("hot_water",)
        book.write("sow", 60, plant="manzanita", count=100, trays=("7",))
        lot = book.lot()
        assert (lot.stage, lot.started, lot.trays, lot.opened_at) == ("sown", 100, ("7",), book.records[0].at)

    def test_a_treatment_of_a_lot_that_nothing_opened_opens_nothing(self) -> None:
        book = Book()
        book.write("treat", treatment="cold_stratify", lots=("14",))
        assert fold(LOT, book.records, COAST) is None
