"""A turn that breaks keeps the words as a note and says so; a database that fails is tried again by the channel."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from bot.wording import say_in
from core.answers import Answer, Refused
from core.conversation import Message, Said, Say, take_turn
from tests.conversation.talking import Talk


def breaking(say: Say) -> Say:
    """Words that break at every answer but the last resort's."""

    def say_or_break(answers: tuple[Answer, ...], now: datetime) -> Said:
        if any(isinstance(one, Refused) and one.why == "broke" for one in answers):
            return say(answers, now)
        raise ZeroDivisionError

    return say_or_break


def test_the_words_are_kept_and_the_answer_says_so(talk: Talk) -> None:
    message = Message(
        channel="test", chat="group", message_id="m1", speaker="imke", said_at=talk.now, text="misted tray 2"
    )
    turn = take_turn(talk.store, talk.crew, message, talk.now, breaking(say_in(talk.zone)))
    assert isinstance(turn.fault, ZeroDivisionError)
    assert [row["said"] for row in talk.rows()] == ["misted tray 2"]
    assert talk.acts() == ["note"]
    assert [one.text for one in talk.collect()] == [
        "I could not work that one out and recorded nothing of it; your words are kept. Text it another way."
    ]
    assert take_turn(talk.store, talk.crew, message, talk.now, say_in(talk.zone)).repeated


def test_a_fault_of_the_database_is_not_swallowed(talk: Talk) -> None:
    def say(answers: tuple[Answer, ...], now: datetime) -> Said:
        raise OSError("the disk is full")

    message = Message(channel="test", chat="group", message_id="m1", speaker="imke", said_at=talk.now, text="hi")
    with pytest.raises(OSError, match="disk is full"):
        take_turn(talk.store, talk.crew, message, datetime(2026, 2, 10, 17, 0, tzinfo=UTC), say)
    assert talk.say("hi", message_id="m1").startswith("Hello.")
