"""What cannot be recorded as it stands is asked; words or a button complete the note, a restart later too."""

from __future__ import annotations

import pytest

from core.storage import open_store
from tests.conversation.talking import Talk


@pytest.fixture
def bench(talk: Talk) -> Talk:
    talk.say("stuck 72 coyote brush tips, tray 2")
    talk.say("stuck 36 toyon tips, tray 3")
    return talk


def test_the_answer_completes_the_note_under_its_own_words_and_time(bench: Talk) -> None:
    assert bench.say("rooted 20", by="osei") == "Which lot or tray (20 rooted)?"
    bench.wait(hours=2)
    assert bench.say("lot 1", by="osei").startswith("Lot 26-001: 20 rooted.")
    row = bench.rows()[-1]
    assert (row["act"], row["count"], row["said"], row["at"]) == ("check", 20, "rooted 20", "2026-02-10T17:00:00Z")


def test_a_question_survives_a_restart(bench: Talk, database_url: str) -> None:
    bench.say("rooted 20", by="osei")
    again = open_store(database_url)
    bench.store = again
    assert bench.say("2", by="osei").startswith("Lot 26-002: 20 rooted.")
    again.close()


def test_each_speaker_has_a_question_of_their_own(bench: Talk) -> None:
    bench.say("sold some of lot 1", by="imke")
    bench.say("lost some of lot 2", by="osei")
    assert bench.say("3", by="imke").startswith("Lot 26-001: sold 3.")
    assert bench.say("4", by="osei").startswith("Lot 26-002: lost 4.")


def test_what_one_note_lacks_is_asked_one_after_the_other(bench: Talk) -> None:
    assert bench.say("sold some of lot 1, gave some to the school") == "How many were sold (lot 1)?"
    assert bench.say("5").endswith("How many were given (lot 1)?")
    assert bench.say("2").startswith("Lot 26-001: gave 2 to school.")
    assert bench.lot("26-001").left == 65


def test_a_question_of_the_volunteers_own_is_no_answer(bench: Talk) -> None:
    bench.say("wilted", by="osei")
    assert bench.say("where is lot 1", by="osei") == "26-001 coyote brush: tray 2."
    assert bench.say("lot 2", by="osei").startswith("Lot 26-002: wilted.")


def test_a_whole_note_wins_and_leaves_the_question_standing(bench: Talk) -> None:
    bench.say("sold some of lot 1")
    assert bench.say("misted tray 3").startswith("Lot 26-002, tray 3: misted.")
    assert bench.say("6").startswith("Lot 26-001: sold 6.")


def test_a_question_that_gives_way_leaves_its_words_as_a_note(bench: Talk) -> None:
    bench.say("sold some of lot 1")
    bench.say("lost some of lot 2")
    bench.say("gave some of lot 2 to the school")
    bench.say("potted some of lot 1")
    assert bench.rows()[-1]["act"] == "note"
    assert bench.rows()[-1]["said"] == "sold some of lot 1"
    bench.say("4")
    bench.say("undo")
    assert [row["said"] for row in bench.rows() if row["act"] == "note"] == ["sold some of lot 1"]


def test_a_second_question_leaves_the_first_open(bench: Talk) -> None:
    bench.say("sold some of lot 1")
    assert bench.say("lost some of lot 2") == "How many were lost (lot 2)?"
    assert 'Still open: "sold some of lot 1". How many were sold (lot 1)?' in bench.say("4")
    assert bench.say("5").startswith("Lot 26-001: sold 5.")


def test_a_question_that_expires_leaves_its_words_as_a_note(bench: Talk) -> None:
    bench.say("sold some of lot 1")
    bench.wait(hours=25)
    bench.say("6")
    assert bench.lot("26-001").sold == 0
    assert "sold some of lot 1" in [row["said"] for row in bench.rows() if row["act"] == "note"]


@pytest.mark.parametrize("words", ["2", "lot 2", "#2", "26-002", "toyon"])
def test_a_lot_is_named_in_many_ways(bench: Talk, words: str) -> None:
    bench.say("lost 3 in lot 9", by="osei")
    assert bench.say(words, by="osei").startswith("Lot 26-002: lost 3.")


@pytest.mark.parametrize("words", ["lost", "the second", "second one", "lost to rot"])
def test_a_choice_is_named_by_its_words(bench: Talk, words: str) -> None:
    bench.say("lot 1: 6 roted")
    assert bench.buttons() == ["Undo", "lot 1: 6 rooted", "lot 1: lost 6 to rot"]
    assert bench.say(words).startswith("Lot 26-001: lost 6 to rot.")


def test_a_button_completes_the_note(bench: Talk) -> None:
    bench.say("lot 1: 6 roted")
    assert bench.press("lot 1: lost 6 to rot").startswith("Lot 26-001: lost 6 to rot.")
    assert bench.press("lot 1: lost 6 to rot") == "That button is no longer good. Text it instead."
    assert bench.lot("26-001").lost == 6


def test_a_correction_right_after_a_question_corrects_the_note_asked_about(bench: Talk) -> None:
    bench.say("lot 9 misted")
    assert bench.say("make that lot 2").startswith("Lot 26-002: misted.")
    bench.say("sold 80 of lot 1")
    assert bench.say("no wait 8").startswith("Lot 26-001: sold 8.")


def test_a_tray_of_several_lots_is_asked_about_where_plants_are_counted(bench: Talk) -> None:
    bench.say("stuck 24 currant tips, tray 2")
    assert bench.say("lost 3 in tray 2") == "Tray 2 holds several lots. Which one is it?"
    assert bench.buttons() == ["26-001 coyote brush", "26-003 currant"]
    assert bench.press("26-003 currant").startswith("Lot 26-003, tray 2: lost 3.")
    assert bench.say("misted tray 2").startswith("Lots 26-001 and 26-003, tray 2: misted.")


def test_a_taken_number_is_asked_about_and_a_new_one_offered(bench: Talk) -> None:
    assert bench.say("split 20 of lot 1 as lot 2").startswith("26-002 is taken already. Is this a new lot, 26-003?")
    assert bench.press("New lot").startswith("Lot 26-001: split 20 as lot 26-003.")


def test_an_edit_of_a_note_that_waits_for_an_answer_replaces_it(bench: Talk) -> None:
    bench.say("sold some of lot 1", message_id="x")
    assert bench.say("sold 6 of lot 1", message_id="x", edit=1).startswith("Lot 26-001: sold 6.")
    bench.say("9")
    assert bench.lot("26-001").sold == 6
