"""What was asked for in a private chat, and is told there alone.

Rules
1. A reminder asked for in a private chat stands in no answer that is given in another chat, not even to who asked.
2. What was noted of the bench in a private chat belongs to the crew's books and is told to everybody.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from core.answers import Answer, DueTold, HistoryTold
from core.conversation.replanning import said_in_private
from core.entries import Act
from core.records import Record
from core.storage import Books


def without_private(books: Books, chat: str, answers: Sequence[Answer]) -> tuple[Answer, ...]:
    """The answers as they may be given in `chat`: "what's due friday" leaves out what a member asked for in private."""
    return tuple(_told_in(books, chat, answer) for answer in answers)


def _told_in(books: Books, chat: str, answer: Answer) -> Answer:
    match answer:
        case DueTold():
            return replace(answer, dues=tuple(due for due in answer.dues if due.chat in (None, chat)))
        case HistoryTold():
            return _history_in(books, chat, answer)
        case _:
            return answer


def _history_in(books: Books, chat: str, told: HistoryTold) -> HistoryTold:
    asked_for: list[Record] = [one for one in (*told.records, *told.others) if one.entry.act is Act.REMIND]
    elsewhere = {message for message, its in said_in_private(books, asked_for).items() if its != chat}
    if not elsewhere:
        return told
    hidden = {one.number for one in asked_for if one.message in elsewhere}
    stay = [place for place, one in enumerate(told.records) if one.number not in hidden]
    return replace(
        told,
        records=tuple(told.records[place] for place in stay),
        lots=tuple(told.lots[place] for place in stay if place < len(told.lots)),
        others=tuple(one for one in told.others if one.number not in hidden),
    )
