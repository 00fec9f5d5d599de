"""What gives pause before it is written: said twice, told by two, more than the books hold, set apart, closed."""

from __future__ import annotations

import pytest

from tests.conversation.talking import Talk


@pytest.fixture
def bench(talk: Talk) -> Talk:
    talk.say("stuck 72 coyote brush tips, tray 2")
    talk.wait(days=1)
    return talk


def test_the_same_words_within_minutes_are_asked_about(bench: Talk) -> None:
    bench.say("misted tray 2")
    bench.wait(minutes=3)
    assert bench.say("Misted  TRAY 2") == "The same words came a moment ago. Was it done again, or is it the same?"
    assert bench.say("the same") == "All right, nothing more recorded."
    assert bench.acts().count("water") == 1


def test_again_records_it_again(bench: Talk) -> None:
    bench.say("misted tray 2")
    bench.say("misted tray 2")
    assert bench.press("Again").startswith("Lot 26-001, tray 2: misted.")
    assert bench.acts().count("water") == 2


def test_the_same_words_hours_later_are_a_new_act(bench: Talk) -> None:
    bench.say("misted tray 2")
    bench.wait(hours=3)
    assert bench.say("misted tray 2").startswith("Lot 26-001")


def test_two_people_who_saw_one_loss(bench: Talk) -> None:
    bench.say("lost 4 in lot 1", by="osei")
    bench.wait(hours=3)
    answer = bench.say("4 of lot 1 died", by="imke")
    assert answer == "osei told me of 4 lost in 26-001 on Wed 11 Feb. The same 4, or 4 more?"
    bench.press("The same")
    assert bench.lot("26-001").lost == 4


def test_two_people_who_saw_two_losses(bench: Talk) -> None:
    bench.say("lost 4 in lot 1", by="osei")
    bench.say("lost 4 in lot 1", by="imke")
    bench.say("4 more", by="imke")
    assert bench.lot("26-001").lost == 8


def test_five_dead_may_be_five_more_or_five_in_all(bench: Talk) -> None:
    bench.say("4 dead in lot 1")
    assert bench.say("7 dead in lot 1") == "4 were noted lost in 26-001 before. 7 more, or 7 in all?"
    bench.say("7 in all")
    assert bench.lot("26-001").lost == 7


def test_fewer_than_before_is_a_recount_or_a_loss(bench: Talk) -> None:
    assert bench.say("lot 1 60 alive") == "26-001 had 72, now 60: miscounted, or 12 lost?"
    assert bench.buttons() == ["Recount", "12 lost"]
    bench.press("12 lost")
    assert (bench.lot("26-001").left, bench.lot("26-001").lost) == (60, 12)
    assert bench.faults() == []


def test_what_the_books_cannot_explain_stands_on_its_own(bench: Talk) -> None:
    bench.say("lot 1 40 alive")
    assert "32 unexplained" in bench.press("Recount")


def test_plants_on_hold_are_not_sold_without_a_second_yes(bench: Talk) -> None:
    bench.say("hold lot 1, mold")
    assert bench.say("sold 3 of lot 1").startswith("26-001 is on hold (mold).")
    assert bench.say("no") == "All right, nothing more recorded."
    bench.say("sold 3 of lot 1")
    assert bench.say("yes").startswith("Lot 26-001: sold 3.")


def test_more_than_are_free_is_asked(bench: Talk) -> None:
    bench.say("reserved 60 of lot 1 for the school")
    assert bench.say("sold 20 of lot 1").startswith("60 of 26-001 are reserved, so 12 are free.")


@pytest.mark.parametrize(
    ("words", "books"),
    [
        ("lot 1: 58/70 rooted, 2 lost", "72 = 12 unrooted + 58 rooted + 2 lost; 70 left."),
        ("lot 1: 70 alive, 2 lost", "72 = 70 living + 2 lost; 70 left."),
        ("lot 1: lost 2, 58/70 rooted", "72 = 12 unrooted + 58 rooted + 2 lost; 70 left."),
    ],
)
def test_a_loss_in_the_same_note_explains_what_was_counted(talk: Talk, words: str, books: str) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2")
    said = talk.say(words)
    assert f"26-001: {books}" in said
    assert "?" not in said
    assert talk.faults() == []


def test_a_count_that_the_loss_does_not_explain_is_still_asked_about(talk: Talk) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2")
    assert "Was the whole lot counted, or a part of it?" in talk.say("lot 1: 8/10 rooted, 2 lost")
