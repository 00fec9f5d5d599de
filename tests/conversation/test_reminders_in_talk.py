"""Can people end reminders and have them back, be asked which was done, and does their own record teach the bench?"""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from bot.reminder_job import tick
from core.conversation.learning import learned_of
from tests.conversation.talking import Talk


def heard(talk: Talk, until: datetime) -> list[str]:
    """What the bot says of its own accord, minute by minute, as "chat: words"."""
    said = []
    while talk.now < until:
        talk.now += timedelta(minutes=1)
        tick(talk.store, talk.now)
        said += [f"{one.chat}: {one.text}" for one in talk.collect()]
    return said


@pytest.mark.parametrize(
    "words", ["stop reminding me of lot 1", "no more reminders for lot 26-001", "don't remind us of #1 anymore"]
)
def test_a_lot_is_left_alone_and_asked_for_again(talk: Talk, words: str) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2, domed")
    assert "vents" in talk.say("what's due for tray 2")
    assert talk.say(words).startswith("I will not remind you of that any more")
    assert talk.say("what's due for lot 1") == "Nothing is planned there."
    assert talk.say("what's due for tray 2") == "Nothing is planned there."
    assert "vents from" in talk.say("remind us of lot 1 again")
    assert "vents" in talk.say("what's due for tray 2")


def test_a_stop_can_be_undone(talk: Talk) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2, domed")
    talk.say("stop reminding me of lot 1")
    talk.say("undo")
    assert "vents" in talk.say("what's due for tray 2")


def test_a_tray_with_a_lot_that_still_wants_its_reminders_keeps_them(talk: Talk) -> None:
    talk.say("stuck 72 coyote brush tips, tray 2, domed")
    talk.say("stuck 20 toyon tips, tray 2")
    talk.say("stop reminding me of lot 1")
    assert "Tray 2" in talk.say("what's due for tray 2")
    talk.say("stop reminding me of lot 2")
    assert talk.say("what's due for tray 2") == "Nothing is planned there."


def test_who_wants_no_reminders_hears_none_and_has_them_back(talk: Talk) -> None:
    talk.say("remind me to shut the gate at 9:30am", by="osei")
    assert talk.say("stop reminding me", by="osei").startswith("I will not remind you any more")
    assert heard(talk, talk.now + timedelta(minutes=40)) == []
    assert talk.say("remind me again", by="osei") == "I remind you again."
    said = heard(talk, talk.now + timedelta(minutes=2))
    assert len(said) == 1
    assert said[0].startswith("group: ")
    assert "shut the gate" in said[0]


def test_stop_reminding_me_is_undone_like_any_note(talk: Talk) -> None:
    talk.say("stuck 30 toyon tips, tray 3", by="osei")
    talk.say("stop reminding me", by="osei")
    talk.say("undo", by="osei")
    assert talk.lot("26-001").left == 30
    talk.say("remind me to shut the gate at 9:30am", by="osei")
    assert "shut the gate" in " ".join(heard(talk, talk.now + timedelta(minutes=40)))


def test_another_s_reminder_comes_all_the_same(talk: Talk) -> None:
    talk.say("stop reminding me", by="osei")
    talk.say("remind me to shut the gate at 9:30am", by="imke")
    assert len(heard(talk, talk.now + timedelta(minutes=40))) == 1


def test_done_with_two_messages_open_asks_which(talk: Talk) -> None:
    talk.say("remind me to shut the gate at 9:10am")
    talk.say("remind me to wash the pots at 9:20am")
    assert len(heard(talk, talk.now + timedelta(minutes=25))) == 2
    assert talk.say("done").startswith("Several things are open. Which one is done?")
    assert len(talk.heard[-1].buttons) >= 2
    with talk.store.reading(talk.crew) as books:
        assert len(books.open_reminders(sent=True)) == 2
    message = next(one for one in talk.heard if "wash the pots" in one.text and "Remind" not in one.text)
    talk.say("done", replied_to=message.sent_message_id)
    with talk.store.reading(talk.crew) as books:
        assert [one.due.facts["text"] for one in books.open_reminders(sent=True)] == ["shut the gate"]


def test_three_lots_teach_the_first_day_of_looking_and_open_lots_follow(talk: Talk) -> None:
    began = talk.now
    for tray in (1, 2, 3):
        talk.say(f"stuck 40 coyote brush tips, tray {tray}")
    talk.now = began + timedelta(days=33)
    talk.say("stuck 40 coyote brush tips, tray 9")
    talk.say("lot 1 12 rooted")
    talk.say("lot 2 11 rooted")
    with talk.store.reading(talk.crew) as books:
        assert learned_of(books) == ()
    talk.say("lot 3 14 rooted")
    with talk.store.reading(talk.crew) as books:
        (taught,) = learned_of(books)
        looks = [one.due for one in books.open_reminders(kinds=["root_check"]) if one.due.subject.name.endswith("004")]
    assert (taught.days, taught.lots, taught.version) == (33, 3, 1)
    assert [look.facts["day"] for look in looks] == [33]
    talk.say("undo")
    with talk.store.reading(talk.crew) as books:
        assert learned_of(books) == ()
        looks = [one.due for one in books.open_reminders(kinds=["root_check"]) if one.due.subject.name.endswith("004")]
    assert [look.facts["day"] for look in looks] == [21]
