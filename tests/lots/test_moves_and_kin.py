"""Where lots stand, how they part and join, and who may have them."""

from core.entries import Container, Hormone
from core.lengths import Length
from core.lots import Lot, books_line, fold, fold_books, kin_of, lots_in, stays, stood_in, there
from core.lots.trays import trays_in_place
from tests.lots.book import COAST, Book, stuck


def split_book(**keys: object) -> Book:
    """Lot 14 of 72 with 31 rooted, of which 18 become lot 95."""
    book = stuck(hormone=Hormone(form="powder", ppm=3000), cutting="tip", medium="perlite")
    book.write("check", 40, state="rooted", count=31)
    said = {"count": 18, "lots": ("14",), "to": "95"} | keys
    for lot in ("26-014", "26-095"):
        book.write("split", 41, lot=lot, message="split", stands_in=("2",), **said)
    return book


class TestSplits:
    def test_a_split_takes_from_the_one_and_opens_the_other(self) -> None:
        lots = split_book().lots()
        parent, part = lots["26-014"], lots["26-095"]
        assert (parent.left, parent.split_off, parent.rooted) == (54, 18, 13)
        assert (part.started, part.left, part.rooted, part.parent) == (18, 18, 18, "26-014")
        assert str(books_line(parent)) == "72 = 41 unrooted + 13 rooted + 18 split off"

    def test_the_new_lot_is_of_the_same_plant_and_making(self) -> None:
        part = split_book().lots()["26-095"]
        assert (part.plant, part.kind, part.cutting, part.medium) == ("coyote brush", "cuttings", "tip", "perlite")
        assert part.hormone == Hormone(form="powder", ppm=3000)
        assert part.trays == ("2",)

    def test_without_its_kin_the_new_lot_knows_what_its_entry_says(self) -> None:
        book = split_book(plant="coyote brush")
        part = fold("26-095", book.of("26-095"), COAST)
        assert part is not None
        assert (part.plant, part.started, part.rooted, part.parent) == ("coyote brush", 18, None, "26-014")
        assert kin_of("26-095", book.of("26-095")) == ("26-014",)
        assert kin_of("26-014", book.of("26-014")) == ()

    def test_a_split_whose_new_number_the_bot_chose(self) -> None:
        lots = split_book(to=None).lots()
        assert (lots["26-014"].split_off, lots["26-095"].left, lots["26-095"].parent) == (18, 18, "26-014")

    def test_a_lot_that_was_split_off_can_be_split_again(self) -> None:
        book = split_book()
        for lot in ("26-095", "26-096"):
            book.write("split", 50, lot=lot, message="again", count=5, lots=("95",), to="96")
        lots = book.lots()
        assert (lots["26-095"].left, lots["26-096"].left, lots["26-096"].parent) == (13, 5, "26-095")
        assert lots["26-096"].plant == "coyote brush"

    def test_two_splits_within_one_minute_are_each_their_own(self) -> None:
        book = split_book(to=None)
        for lot in ("26-014", "26-096"):
            book.write("split", 41, lot=lot, message="second", count=12, lots=("14",))
        lots = book.lots()
        assert (lots["26-014"].split_off, lots["26-095"].left, lots["26-096"].left) == (30, 18, 12)

    def test_two_splits_of_one_note_are_each_their_own(self) -> None:
        book = split_book(to=None)
        for lot in ("26-014", "26-096"):
            book.write("split", 41, lot=lot, message="split", count=12, lots=("14",))
        lots = book.lots()
        assert (lots["26-014"].split_off, lots["26-095"].left, lots["26-096"].left) == (30, 18, 12)

    def test_a_loss_noted_late_but_dated_before_the_split_is_the_parents(self) -> None:
        book = split_book()
        book.write("lose", 20, count=10)
        assert book.lot().left == 44


class TestMerges:
    def merged(self) -> Book:
        book = stuck()
        book.write("stick", plant="coyote brush", count=36, trays=("3",), lot="26-015")
        book.write("lose", 5, count=6, lot="26-015")
        for lot in ("26-014", "26-015"):
            book.write("merge", 10, lot=lot, message="merge", lots=("14", "15"), to="14")
        return book

    def test_the_lot_that_goes_is_closed_and_the_other_has_its_plants(self) -> None:
        lots = self.merged().lots()
        stays_, gone = lots["26-014"], lots["26-015"]
        assert (gone.closed, gone.left, gone.merged_out, gone.merged_into) == (True, 0, 30, "26-014")
        assert (stays_.left, stays_.merged_in, stays_.started) == (102, 30, 72)
        assert str(books_line(stays_)) == "102 = 102 living"

    def test_a_loss_told_late_of_the_lot_that_went_is_missing_after_the_merge_too(self) -> None:
        book = self.merged()
        book.write("lose", 8, count=4, lot="26-015")
        assert book.lots()["26-014"].left == 98

    def test_a_merge_without_kin_brings_what_its_note_says(self) -> None:
        book = stuck()
        book.write("merge", 10, lots=("15",), to="14", count=20)
        assert book.lot().left == 92


class TestPlaces:
    def test_a_move_changes_the_place_and_a_part_that_moved_does_not(self) -> None:
        book = stuck()
        book.write("move", 5, to="shade house")
        book.write("move", 9, to="greenhouse 2", count=12)
        lot = book.lot()
        assert (lot.place, lot.moved_partly, lot.trays) == ("shade house", ("greenhouse 2",), ("2",))

    def test_some_that_moved_leave_the_others_where_they_stood_and_the_rest_joins_none(self) -> None:
        book = stuck()
        book.write("move", 5, to="mist bench")
        book.write("move", 6, to="north rack", rest="some")
        assert (book.lot().place, book.lot().moved_partly) == ("mist bench", ("north rack",))
        book.write("move", 7, to="lath", rest="the rest")
        assert (book.lot().place, book.lot().moved_partly) == ("lath", ("north rack",))
        book.write("move", 8, to="tray 9", rest="a few of them")
        assert (book.lot().place, book.lot().trays) == ("lath", ("2", "9"))

    def test_a_move_to_a_tray_moves_into_that_tray(self) -> None:
        book = stuck()
        book.write("move", 5, to="tray 9")
        assert book.lot().trays == ("9",)

    def test_one_of_two_trays_moves(self) -> None:
        book = stuck(trays=("1", "2"))
        book.write("move", 5, to="lath", trays=("2",))
        assert (book.lot().place, book.lot().moved_partly) == (None, ("lath",))
        book.write("move", 6, to="tray 9", trays=("2",))
        assert book.lot().trays == ("1", "9")

    def test_a_part_that_moves_to_another_tray_stands_in_both(self) -> None:
        book = stuck()
        book.write("move", 5, to="tray 9", count=12)
        assert book.lot().trays == ("2", "9")

    def test_out_for_the_day_is_no_new_place(self) -> None:
        book = stuck()
        book.write("move", 5, to="lath")
        out = book.write("harden", 9, to="slab", duration=Length.from_iso("PT3H"))
        lot = book.lot()
        assert (lot.place, lot.stage) == ("lath", "hardening")
        assert lot.outing is not None
        assert (lot.outing.to, lot.outing.began_at, lot.outing.back_at) == ("slab", out.at, book.time(9.125))
        book.write("move", 9.2, to="inside")
        assert (book.lot().outing, book.lot().place) == (None, "lath")

    def test_trays_named_as_a_place(self) -> None:
        assert trays_in_place("tray 9") == ("9",)
        assert trays_in_place("the tray #b") == ("b",)
        assert trays_in_place("trays 3 and 4") == ("3", "4")
        assert trays_in_place("shade house") == ()
        assert trays_in_place("tray bench") == ()

    def test_which_lots_stood_in_a_tray_then(self) -> None:
        book = stuck()
        book.write("stick", 1, plant="toyon", count=20, trays=("2",), lot="26-015")
        book.write("move", 5, to="tray 9", lot="26-015")
        assert stood_in("2", book.records, book.time(3)) == ("26-014", "26-015")
        assert stood_in("2", book.records, book.time(6)) == ("26-014",)
        assert stood_in("tray 9", book.records, book.time(6)) == ("26-015",)
        assert [(stay.tray, stay.lot, stay.until_at) for stay in stays(book.records)] == [
            ("2", "26-014", None), ("2", "26-015", book.time(5)), ("9", "26-015", None),
        ]  # fmt: skip

    def test_lots_now_in_a_tray(self) -> None:
        book = stuck()
        book.write("stick", 1, plant="toyon", count=20, trays=("2", "b"), lot="26-015")
        lots = list(fold_books(book.records, COAST).values())
        assert [lot.number for lot in lots_in("2", lots)] == ["26-014", "26-015"]
        assert [lot.number for lot in lots_in("B", lots)] == ["26-015"]
        assert lots_in("7", lots) == ()
        assert len(lots_in("all", lots)) == 2


class TestMaking:
    def test_potting_changes_container_and_medium(self) -> None:
        book = stuck(medium="perlite", container=Container(kind="six-pack", count=12))
        book.write("pot", 40, count=72, container=Container(kind="pot", size="4 in"), medium="potting mix")
        lot = book.lot()
        assert (lot.medium, lot.container) == ("potting mix", Container(kind="pot", size="4 in"))

    def test_treatments_are_kept_in_order_and_once(self) -> None:
        book = stuck()
        for day, treatment in ((1, "wound"), (2, "hormone"), (3, "wound")):
            book.write("treat", day, treatment=treatment)
        assert book.lot().treated == ("wound", "hormone")

    def test_held_and_set_free(self) -> None:
        book = stuck()
        book.write("hold", 5, cause="mold")
        assert (book.lot().hold, book.lot().held_at) == ("mold", book.time(5))
        book.write("clear", 9)
        assert book.lot().hold is None

    def test_reserved_plants_are_still_ours_until_they_go(self) -> None:
        book = stuck()
        book.write("reserve", 5, count=20, to="the school")
        assert (book.lot().reserved, book.lot().left) == (20, 72)
        book.write("sell", 9, count=15, to="the school")
        assert (book.lot().reserved, book.lot().left) == (5, 57)

    def test_a_corrected_plant_is_the_lots_plant(self) -> None:
        book = stuck()
        right = book.write("stick", 0, plant="toyon", count=72, trays=("2",))
        book.supersede(book.records[0], right)
        lot: Lot = book.lot()
        assert (lot.plant, lot.started) == ("toyon", 72)

    def test_what_is_dated_before_the_sticking_does_not_undo_it(self) -> None:
        book = Book()
        book.write("check", 0, state="rooted", count=3)
        book.write("stick", 0.1, plant="toyon", count=20)
        assert (book.lot().left, book.lot().rooted) == (20, 3)


class TestPartsMoved:
    def test_what_was_moved_to_another_tray_stands_there_and_the_rest_where_it_was(self) -> None:
        book = stuck(trays=("2",))
        book.write("move", 10, count=20, to="tray 9")
        assert [(there(book.lot(), f"tray {tray}").count) for tray in "29"] == [52, 20]
        book.write("lose", 11, count=5, trays=("9",))
        assert [(there(book.lot(), f"tray {tray}").count) for tray in "29"] == [52, 15]

    def test_what_is_told_of_the_whole_lot_may_be_of_either_part(self) -> None:
        book = stuck(trays=("2",))
        book.write("move", 10, count=20, to="lath")
        book.write("lose", 11, count=5)
        lath, tray = there(book.lot(), "lath"), there(book.lot(), "tray 2")
        assert (lath.count, lath.sure, tray.count, tray.whole) == (20, False, None, False)

    def test_a_lot_that_moves_as_a_whole_leaves_no_part_behind(self) -> None:
        book = stuck(trays=("2",))
        book.write("move", 10, count=20, to="tray 9")
        book.write("move", 11, to="tray 4")
        assert (book.lot().trays, book.lot().parts_moved) == (("4",), ())
        assert there(book.lot(), "tray 4").whole
        assert there(book.lot(), "tray 9") is None


class TestWhatWasSplitOff:
    def test_of_which_kind_they_were_decides_what_both_lots_hold(self) -> None:
        lots = split_book(rest="unrooted ones").lots()
        assert (lots["26-014"].rooted, lots["26-014"].unrooted, lots["26-095"].rooted) == (31, 23, None)

    def test_a_mixed_split_leaves_the_roots_of_both_to_be_counted(self) -> None:
        lots = split_book(rest="mixed").lots()
        for lot in lots.values():
            assert lot.rooted is None
            assert lot.roots_mixed_at is not None
            assert books_line(lot) is not None
            assert books_line(lot).adds_up()

    def test_more_than_either_kind_has_are_mixed_whoever_says_so(self) -> None:
        lots = split_book(count=45).lots()
        assert (lots["26-014"].rooted, lots["26-095"].rooted, lots["26-095"].left) == (None, None, 45)

    def test_a_count_after_a_mixed_split_is_known_again(self) -> None:
        book = split_book(rest="mixed")
        book.write("check", 42, state="rooted", count=20)
        assert (book.lots()["26-014"].rooted, book.lots()["26-014"].roots_mixed_at) == (20, None)
