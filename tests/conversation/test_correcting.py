"""A volunteer can correct anything: undo, "no wait 27", another lot, another plant, or an edit of any message."""

from __future__ import annotations

import pytest

from tests.conversation.talking import Talk


@pytest.fixture
def bench(talk: Talk) -> Talk:
    talk.say("stuck 72 coyote brush tips, tray 2")
    talk.say("stuck 36 toyon tips, tray 3")
    talk.wait(days=1)
    return talk


def test_undo_and_undo_of_undo(bench: Talk) -> None:
    bench.say("lost 4 in lot 1")
    lost = []
    for _ in range(4):
        bench.say("undo")
        lost.append(bench.lot("26-001").lost)
    assert lost == [0, 4, 0, 4]
    assert bench.faults() == []


def test_undo_says_what_it_took_back_and_offers_the_way_back(bench: Talk) -> None:
    bench.say("lost 4 in lot 1")
    assert bench.say("undo") == 'Taken back: "lot 1: lost 4" (26-001).'
    assert bench.buttons() == ["Bring it back"]
    assert bench.press("Bring it back") == 'Brought back: "lot 1: lost 4" (26-001).'
    assert bench.lot("26-001").lost == 4


def test_undo_takes_only_the_speakers_own_note(bench: Talk) -> None:
    bench.say("lost 4 in lot 1", by="osei")
    bench.say("misted tray 3", by="imke")
    bench.say("undo", by="osei")
    assert bench.lot("26-001").lost == 0
    assert "water" in bench.acts()


def test_nothing_to_undo_is_said(talk: Talk) -> None:
    assert talk.say("undo").startswith("There is nothing of yours here to take back.")


def test_a_number_is_corrected_and_the_old_one_kept(bench: Talk) -> None:
    bench.say("lot 1 31/72 rooted")
    answer = bench.say("no wait 27")
    assert answer.startswith("Corrected: lot 26-001: 27/72 rooted.\nBefore: lot 1: 31/72 rooted.")
    assert bench.lot("26-001").rooted == 27
    checks = [row for row in bench.rows() if row["act"] == "check"]
    assert [row["count"] for row in checks] == [31, 27]
    assert checks[0]["superseded_by"] == checks[1]["id"]


def test_a_correction_that_could_mean_two_entries_is_asked(bench: Talk) -> None:
    bench.say("lot 1 31/72 rooted, lost 4 to rot")
    assert bench.say("no wait 7") == "Which of them is to be corrected?"
    assert bench.buttons() == ["lot 1: 7/72 rooted", "lot 1: lost 7 to rot"]
    assert bench.say("lost").startswith("Corrected: lot 26-001: lost 7 to rot.")
    assert (bench.lot("26-001").rooted, bench.lot("26-001").lost) == (31, 7)


def test_a_correction_above_the_whole_is_asked_again(bench: Talk) -> None:
    bench.say("lot 1 31/72 rooted")
    assert bench.say("no wait 80") == "80 is more than the 72 it was out of. What should it be?"
    assert bench.say("30").startswith("Corrected: lot 26-001: 30/72 rooted.")


def test_a_note_goes_to_another_lot(bench: Talk) -> None:
    bench.say("lost 2 in lot 2")
    assert bench.say("make that lot 1").startswith("Corrected: lot 26-001: lost 2.")
    assert (bench.lot("26-001").lost, bench.lot("26-002").lost) == (2, 0)
    bench.say("undo")
    assert (bench.lot("26-001").lost, bench.lot("26-002").lost) == (0, 2)
    assert bench.faults() == []


def test_a_lot_gets_another_plant(bench: Talk) -> None:
    bench.say("lot 1 is coffeeberry, not coyote brush")
    assert bench.lot("26-001").plant == "coffeeberry"
    assert bench.faults() == []


def test_what_changes_nothing_is_said_so(bench: Talk) -> None:
    bench.say("lot 1 31/72 rooted")
    assert bench.say("make that 31") == "That is what I have already; nothing changed."


def test_an_edit_keeps_the_number_that_the_note_opened(talk: Talk) -> None:
    talk.say("stuck 27 coyote brush tips, tray 2", message_id="x")
    talk.say("stuck 36 toyon tips, tray 3")
    assert talk.say("stuck 72 coyote brush tips, tray 2", message_id="x", edit=1).startswith("New lot 26-001: stuck 72")
    assert talk.lot("26-001").started == 72
    assert talk.faults() == []


def test_an_old_message_is_edited_weeks_later(bench: Talk) -> None:
    bench.say("lost 4 in lot 1", message_id="x")
    bench.wait(days=21)
    bench.say("lost 2 in lot 1")
    bench.say("lost 14 in lot 1", message_id="x", edit=1)
    assert bench.lot("26-001").lost == 16
    assert bench.faults() == []


def test_an_edit_of_an_edit(bench: Talk) -> None:
    for edit, count in enumerate((4, 5, 6)):
        bench.say(f"lost {count} in lot 1", message_id="x", edit=edit)
    assert bench.lot("26-001").lost == 6
    assert bench.faults() == []


def test_a_reply_corrects_the_note_replied_to(bench: Talk) -> None:
    bench.say("lost 4 in lot 1")
    replied_to = bench.heard[-1].sent_message_id
    bench.say("misted tray 3")
    assert bench.say("make that 5", replied_to=replied_to).startswith("Corrected: lot 26-001: lost 5.")


def test_an_undo_opens_the_reminder_that_its_note_confirmed(talk: Talk) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2, domed")
    talk.now = talk.now.replace(day=17, hour=18, minute=0)
    assert any("vents a quarter open" in text for text in talk.remind())
    talk.say("vented tray 2 a quarter")
    assert "vents a quarter open" not in talk.say("what's due for tray 2")
    talk.say("undo")
    assert "vents a quarter open" in talk.say("what's due for tray 2")


def test_a_note_corrects_itself_midway(bench: Talk) -> None:
    answer = bench.say("lost 4 in lot 1, no wait 5, tray 3 misted")
    assert "Corrected: lot 26-001: lost 5.\nBefore: lot 1: lost 4." in answer
    assert bench.lot("26-001").lost == 5
    assert bench.faults() == []


def test_a_note_takes_itself_back_midway(bench: Talk) -> None:
    bench.say("lost 4 in lot 1, scratch that. lost 3 in lot 2")
    assert (bench.lot("26-001").lost, bench.lot("26-002").lost) == (0, 3)
    assert bench.faults() == []
