"""What a turn of talk begins and ends with: a message heard, and what is to be said."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from core.answers import Answer, Choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Message:
    """What somebody sent: words, an edit of words, a button, or a photograph.

    `message_id` is the channel's own; an edit has the id of what it edits and an `edit` above zero. `said_at` is when
    it was written (aware UTC). `replied_to` is the id of the message it answers; `pressed` is a button's token; `photo`
    is the channel's name of a picture or document sent along.
    """

    channel: str
    chat: str
    message_id: str
    speaker: str
    said_at: datetime
    text: str = ""
    edit: int = 0
    private: bool = False
    replied_to: str | None = None
    pressed: str | None = None
    photo: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """An answer in words, with its buttons; `document` names a file in the folder of media that goes with it."""

    text: str
    choices: tuple[Choice, ...] = ()
    document: str | None = None


Say = Callable[[tuple[Answer, ...], datetime], Said]
"""Puts answers into words; the second argument is the crew's local time now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """What came of a message: the answers, or nothing new where it had been heard before.

    `fault` is what broke the turn, where something did; the words are then kept as a note.
    """

    answers: tuple[Answer, ...]
    repeated: bool = False
    fault: Exception | None = None


LONGEST_NOTE = 4096


def message_values(message: Message) -> dict[str, Any]:
    """A message as the journal keeps it."""
    return {
        "channel": message.channel,
        "chat": message.chat,
        "message_id": message.message_id,
        "edit": message.edit,
        "speaker": message.speaker,
        "text": message.text[:LONGEST_NOTE],
        "said_at": message.said_at,
        "replied_to": message.replied_to,
    }
