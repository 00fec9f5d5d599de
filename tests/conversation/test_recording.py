"""A texted note becomes a record, a reminder and an answer."""

from __future__ import annotations

from tests.conversation.talking import Talk

STUCK = "stuck 72 coyote brush tips, 0.3% iba powder, perlite, twelve six packs, tray 2"


def test_the_receipt_of_a_sticking(talk: Talk) -> None:
    lines = talk.say(STUCK).split("\n")
    assert lines[0] == (
        "New lot 26-001: stuck 72 coyote brush tip cuttings, 3000 ppm iba powder, perlite, 12 six-packs, tray 2."
    )
    assert lines[1].startswith("Rooting hormone: gloves")
    # 21 days: the common first look at softwood cuttings in core/treatments/plants.csv.
    assert lines[2] == "I'll remind you: left-over hormone at 17:00, root check 3 Mar."
    assert talk.buttons() == ["Undo"]


def test_one_note_records_two_entries_and_the_books_balance(talk: Talk) -> None:
    talk.say(STUCK)
    answer = talk.say("lot 1 31/72 rooted, lost 4 to rot")
    assert talk.acts() == ["stick", "check", "lose"]
    assert "26-001: 72 = 37 unrooted + 31 rooted + 4 lost; 68 left." in answer


def test_how_many_are_rooted_gives_the_number_both_shares_the_day_and_what_is_left(talk: Talk) -> None:
    talk.say(STUCK)
    talk.wait(days=28)
    talk.say("lot 1 31/72 rooted, lost 4 to rot", by="osei")
    # 31/72 = 0.4306, 31/68 = 0.4559, by hand.
    assert talk.say("how many of lot 1 are rooted?") == (
        "26-001 coyote brush: 31 rooted: 43 % of the 72 counted, 46 % of the 68 alive (counted Tue 10 Mar by osei).\n"
        "26-001: 72 = 37 unrooted + 31 rooted + 4 lost; 68 left."
    )


def test_no_record_is_not_no(talk: Talk) -> None:
    talk.say(STUCK)
    answer = talk.say("did anyone mist tray 2?")
    assert answer == "No record that anybody watered tray 2. That is not a no: nobody has texted it."
    assert "No record is not none" in talk.say("how many of lot 1 are rooted?")


def test_a_bare_lot_number_tells_how_it_stands_and_records_nothing(talk: Talk) -> None:
    talk.say(STUCK)
    for text in ("1", "lot 1", "#1", "26-001"):
        answer = talk.say(text)
        assert answer.startswith("26-001 coyote brush (stuck, 72 left): tray 2.")
        assert "Next: root check, 26-001, Tue 3 Mar." in answer
        assert len(answer.split("\n")) <= 6
    assert talk.acts() == ["stick"]


def test_a_caution_is_said_once_to_a_person(talk: Talk) -> None:
    assert "Rooting hormone" in talk.say(STUCK)
    assert "Rooting hormone" not in talk.say("stuck 30 toyon tips, 0.3% iba powder, tray 3")
    assert "Rooting hormone" in talk.say("stuck 31 toyon tips, 0.3% iba powder, tray 4", by="osei")


def test_the_lot_comes_from_the_message_replied_to(talk: Talk) -> None:
    talk.say(STUCK)
    replied_to = talk.heard[-1].sent_message_id
    talk.say("stuck 30 toyon tips, tray 3")
    answer = talk.say("lost 2", by="osei", replied_to=replied_to)
    assert answer.startswith("Lot 26-001: lost 2.")
    assert "(lot 26-001, from the message you replied to)" in answer


def test_words_that_no_act_used_are_kept_and_shown(talk: Talk) -> None:
    talk.say(STUCK)
    assert "Kept with it:" in talk.say("misted tray 2 behind the blue bin")


def test_a_misspelt_word_is_shown(talk: Talk) -> None:
    talk.say(STUCK)
    assert 'I read "mistedd" as "misted".' in talk.say("mistedd tray 2")


def test_a_redelivered_message_is_answered_once(talk: Talk) -> None:
    talk.say(STUCK, message_id="same")
    assert talk.say(STUCK, message_id="same") == ""
    assert talk.acts() == ["stick"]


def test_what_came_late_falls_into_its_place(talk: Talk) -> None:
    talk.say(STUCK)
    talk.wait(hours=5)
    said_at = talk.now.replace(hour=18, minute=30)
    answer = talk.say("misted tray 2", by="osei", said_at=said_at)
    assert "It reached me late" in answer
    assert "today 10:30, osei: tray 2: misted" in talk.say("did anyone mist tray 2?")


def test_a_number_that_the_volunteer_gives_a_lot_is_kept(talk: Talk) -> None:
    assert talk.say("lot 212: stuck 30 toyon tips, tray 3").startswith("New lot 26-212")
    assert talk.say("stuck 30 currant tips, tray 4").startswith("New lot 26-001")


def test_the_last_sale_closes_the_lot(talk: Talk) -> None:
    talk.say(STUCK)
    assert "That closes 26-001: nothing is left." in talk.say("sold all of lot 1")
    assert talk.say("lost 2 in lot 1").startswith("26-001 is closed")


def test_a_split_stands_in_both_lots(talk: Talk) -> None:
    talk.say(STUCK)
    assert talk.say("split 20 of lot 1 as lot 7").startswith("Lot 26-001: split 20 as lot 26-007.")
    assert (talk.lot("26-001").left, talk.lot("26-007").left) == (52, 20)
    talk.say("undo")
    assert talk.lot("26-001").left == 72
    assert talk.faults() == []


def test_a_merge_stands_in_both_lots(talk: Talk) -> None:
    talk.say(STUCK)
    talk.say("split 20 of lot 1 as lot 7")
    talk.say("lost 2 in lot 7")
    answer = talk.say("merged lot 7 into lot 1")
    assert answer.startswith("Merged lot 26-007 into lot 26-001.")
    assert (talk.lot("26-001").left, talk.lot("26-007").left) == (70, 0)
    talk.say("undo")
    assert (talk.lot("26-001").left, talk.lot("26-007").left) == (52, 18)
    assert talk.faults() == []


def test_different_plants_are_not_put_together_unasked(talk: Talk) -> None:
    talk.say(STUCK)
    talk.say("stuck 30 toyon tips, tray 3")
    assert talk.say("merged lot 2 into lot 1").startswith("These are not the same")
    talk.say("no")
    assert talk.lot("26-001").left == 72
    talk.say("merged lot 2 into lot 1")
    talk.say("yes")
    assert talk.lot("26-001").left == 102


def test_a_picture_goes_with_its_lot(talk: Talk) -> None:
    talk.say(STUCK)
    assert "Picture kept with 26-001." in talk.say("lot 1 spots on two leaves", photo="a.jpg")
    assert talk.say("", photo="b.jpg") == "Picture kept. Which lot is it?"
    assert talk.say("lot 1").startswith("Picture kept with 26-001.")
    with talk.store.reading(talk.crew) as books:
        assert [photo.file for photo in books.photos("26-001")] == ["a.jpg", "b.jpg"]


def test_what_is_asked_in_private_is_answered_there(talk: Talk) -> None:
    talk.say(STUCK)
    answer = talk.say("how many of lot 1 are left?", by="osei", chat="private:osei", private=True)
    assert answer.startswith("26-001 coyote brush: 72 left")
    assert talk.heard[-1].chat == "private:osei"
