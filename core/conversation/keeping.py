"""What becomes of a message that a turn could not work out: its words are kept as a note, and the answer says so."""

from __future__ import annotations

import logging
from datetime import datetime

from core.answers import Answer, Refused
from core.conversation.messages import Message, Say, Turn, message_values
from core.entries import Act, Entry
from core.storage import RecordDraft, Store

_log = logging.getLogger(__name__)


def may_be_kept(wrong: Exception) -> bool:
    """True for a fault of ours; False where the database failed, so that the channel offers the message again."""
    return getattr(wrong, "orig", None) is None and not isinstance(wrong, OSError)


def keep_unworked(store: Store, crew: int, message: Message, now: datetime, say: Say, wrong: Exception) -> Turn:
    """Keeps the words of a message whose turn broke, and answers it; the fault goes to the log and into the turn."""
    _log.error("a turn broke; the words are kept as a note: %s", type(wrong).__name__)
    _log.debug("the turn that broke", exc_info=wrong)
    answers: tuple[Answer, ...] = (Refused(why="broke"),)
    with store.books(crew) as books:
        key, first_time = books.hear(message_values(message), now)
        if not first_time:
            return Turn(answers=(), repeated=True)
        if message.text.strip():
            books.write(
                RecordDraft(
                    lot=None, trays=(), entry=Entry(act=Act.NOTE, text=message.text), at=message.said_at,
                    said_at=message.said_at, by=message.speaker, told_by=message.speaker, said=message.text,
                    message=key,
                )
            )  # fmt: skip
        said = say(answers, now.astimezone(books.crew.zone).replace(tzinfo=None))
        books.post(chat=message.chat, text=said.text, at=now, reply_to=message.message_id)
    return Turn(answers=answers, fault=wrong)
