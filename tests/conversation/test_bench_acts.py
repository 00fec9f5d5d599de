"""Covers off and on, bleach and its jug, gathered seed, reminders answered: as a crew texts them."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.conversation.talking import Talk

STUCK = "stuck 72 coyote brush tips, tray 2, domed"


def test_a_cover_taken_off_has_just_begun_and_gets_its_timer(talk: Talk) -> None:
    talk.say(STUCK)
    answer = talk.say("dome off tray 2 for 25 min")
    assert answer.startswith("Lot 26-001, tray 2: aired 25 min, just begun.")
    assert "cover back on by 09:25" in answer
    assert talk.buttons() == ["Undo", "It is over"]
    assert talk.say("what is open now?") == "Cover off: tray 2 (26-001) since Tue 10 Feb 09:00, back by 09:25."
    assert talk.press("It is over").startswith("Lot 26-001, tray 2: aired 25 min, over.")
    assert talk.say("what is open now?").startswith("Nothing stands open")


def test_an_airing_told_of_is_over_and_can_be_said_to_have_begun(talk: Talk) -> None:
    talk.say(STUCK)
    assert talk.say("aired tray 2 20 min").startswith("Lot 26-001, tray 2: aired 20 min, over.")
    assert talk.say("what is open now?").startswith("Nothing stands open")
    assert talk.press("Just begun").startswith("Lot 26-001, tray 2: aired 20 min, just begun.")
    assert talk.say("what is open now?").startswith("Cover off: tray 2")
    talk.say("undo")
    assert talk.say("what is open now?").startswith("Nothing stands open")
    assert talk.faults() == []


def test_off_and_on_in_one_note_offers_no_other_reading(talk: Talk) -> None:
    talk.say(STUCK)
    assert ", over." in talk.say("dome off tray 2 for 15 min, dome back on")
    assert talk.buttons() == ["Undo"]


def test_the_jugs_strength_is_asked_once_and_kept(talk: Talk) -> None:
    answer = talk.say("mixed bleach 1:9 2 gal")
    # 1 part in 10 of 2 US gallons: 3.2 cups; 5.25 % / 10 = 0.525 %, by hand.
    assert "3 1/4 cups of bleach filled up to 2 gal: about 5,250 ppm (0.525 %) from a jug of 5.25 % assumed" in answer
    assert answer.endswith("What does the jug's label say, in percent sodium hypochlorite? (5.25, 6, 7.5, 8.25 …)")
    assert talk.press("8.25 %").startswith('Kept as a note: "the jug says 8.25 %"')
    assert "8,250 ppm" in talk.say("how much bleach for 3 gal at 1:9?")
    talk.wait(hours=1)
    assert "What does the jug" not in talk.say("mixed bleach 1:9 3 gal")


@pytest.mark.parametrize("words", ["jug is 6%", "the jug says 6 percent", "bottle label says 6"])
def test_the_jugs_strength_is_told_at_any_time_and_undone_like_a_note(talk: Talk, words: str) -> None:
    talk.say(words)
    assert "6,000 ppm" in talk.say("how much bleach for 3 gal at 1:9?")
    talk.say("undo")
    assert "assumed" in talk.say("how much bleach for 3 gal at 1:9?")


def test_a_caution_for_bleach_is_said_once(talk: Talk) -> None:
    assert "never with acid" in talk.say("how much bleach for 3 gal at 1:9?")
    assert "never with acid" not in talk.say("mixed bleach 1:9 3 gal")


@pytest.mark.parametrize("words", ["mixed bleach with vinegar for the algae", "bleach in eye", "i drank some bleach"])
def test_a_danger_gets_one_safety_line_and_the_lead_is_told(talk: Talk, words: str) -> None:
    answer = talk.say(words, by="osei")
    assert "\n" not in answer
    assert talk.acts() == ["note"]
    assert [one.text for one in talk.heard if one.chat == "private:imke"] == [f"osei: {words}"]


def test_is_the_bleach_still_good(talk: Talk) -> None:
    assert talk.say("is the bleach still good?").startswith("No record of any bleach mixed.")
    talk.say("mixed bleach 1:9 3 gal")
    talk.wait(hours=1)
    assert talk.say("is the bleach still good?").startswith("Yes by the 24 h rule")
    talk.wait(hours=24)
    assert talk.say("is the bleach still good?").startswith("No: mixed Tue 10 Feb 09:00 by imke, 25 h ago")


def test_seed_of_two_places_is_asked_about(talk: Talk) -> None:
    talk.say("collected 400 toyon seed from fern gully")
    talk.say("collected 200 toyon seed from ridge road")
    assert talk.say("toyon seed cold strat 60 days") == (
        "Seed of toyon was gathered at fern gully and ridge road. From which is this?"
    )
    assert talk.press("ridge road").startswith("New lot 26-001: toyon cold strat 60 days")
    assert [one.source for one in talk.lot("26-001").sources] == ["ridge road"]
    assert talk.say("sowed 200 toyon seed from ridge road, tray 4").startswith("Lot 26-001: sowed 200 toyon")


def test_seed_of_one_place_keeps_its_source(talk: Talk) -> None:
    talk.say("collected 400 toyon seed from fern gully")
    assert "from fern gully" in talk.say("sowed 200 toyon seed, tray 4")


def test_a_number_given_to_treated_seed_opens_its_lot(talk: Talk) -> None:
    assert talk.say("lot 50: hot water 180f on wild lilac seed").startswith("New lot 26-050: wild lilac hot water")
    assert talk.say("lot 51 cold strat 60 days").startswith("I have no lot 51.")


@pytest.fixture
def offered(talk: Talk) -> Talk:
    """Two trays at whose vents it is time to look."""
    talk.say(STUCK)
    talk.say("stuck 36 toyon tips, tray 3, domed")
    talk.now = talk.now.replace(day=17, hour=18, minute=0)
    assert any("vents a quarter open" in text for text in talk.remind())
    return talk


def _reply(talk: Talk, words: str) -> str:
    return talk.say(words, replied_to=talk.heard[-1].sent_message_id)


def test_a_reply_of_done_writes_the_act(offered: Talk) -> None:
    assert "vents a quarter" in _reply(offered, "done")
    assert offered.acts().count("vent") == 2


def test_done_all_but_one_tray(offered: Talk) -> None:
    _reply(offered, "done all but tray 3")
    assert [row["trays"] for row in offered.rows() if row["act"] == "vent"] == [["2"]]
    assert "Tray 3" in offered.say("what's due")


def test_later_moves_it_by_an_hour_or_as_long_as_said(offered: Talk) -> None:
    assert _reply(offered, "later 2h") == "Later: I say it again at 12:00."


def test_skip_closes_it_and_stands_in_the_history(offered: Talk) -> None:
    assert _reply(offered, "skip").startswith("Skipped: ")
    assert "skip" in offered.say("what happened with tray 2 today")


def test_a_note_of_the_act_confirms_it(offered: Talk) -> None:
    offered.say("vented trays 2 and 3 a quarter")
    assert "vents a quarter" not in offered.say("what's due")


def test_ok_is_seen_and_not_done(offered: Talk) -> None:
    assert offered.say("ok") == "Seen. It stays open until somebody texts it done."
    assert "vent" not in offered.acts()


def test_a_reply_to_a_reminder_takes_its_tray(talk: Talk) -> None:
    talk.say(STUCK)
    talk.now = talk.now.replace(day=17, hour=18, minute=0)
    talk.remind()
    assert _reply(talk, "misted").startswith("Lot 26-001, tray 2: misted.")


def test_done_with_nothing_open_says_so(talk: Talk) -> None:
    assert talk.say("done").startswith("No reminder is open here.")


def test_later_till_a_day_waits_until_that_day(offered: Talk) -> None:
    assert "fri" in _reply(offered, "snooze till friday").lower()
    offered.now = offered.now + timedelta(days=1)
    assert not any("vents a quarter" in text for text in offered.remind())


def test_done_by_another_or_on_another_day_is_written_so(offered: Talk) -> None:
    _reply(offered, "mei did it yesterday")
    told = [row for row in offered.rows() if row["act"] == "vent"]
    assert len(told) == 2
    assert all(row["by"] == "mei" for row in told)
