"""A message of two parts, an answer to the open question and what was told behind it: how both are taken, in one turn.

Rules
1. The answer completes its note first; what follows is then taken as a note of its own, of the same lot where it
   names none.
2. What was recorded stands before what is asked, and one Undo, the last, takes the whole message back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from core.answers import Answer, Asked, Corrected, Noted
from core.conversation.completing import Answered
from core.conversation.noting import complete_note, take_note
from core.conversation.scene import Scene, look_around
from core.entries import Act
from core.notes import Reading
from core.records import Record
from core.storage import Books


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoParts:
    """The note that the first words completed, these words, and what was told behind them, also as read."""

    answered: Answered
    words: str
    rest: str = ""
    told: Reading | None = None


def take_both(books: Books, scene: Scene, parts: TwoParts) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    """Completes the note that was answered, then takes what was told behind the answer."""
    first = replace(scene, message=replace(scene.message, text=parts.words))
    answers, records = complete_note(books, first, parts.answered)
    if parts.told is None:
        return answers, records
    then = look_around(books, replace(scene.message, text=parts.rest), scene.key, scene.now)
    lots = tuple(dict.fromkeys(one.lot for one in records if one.lot is not None))
    told, written = take_note(books, then, _of_the_same_lots(parts.told, lots))
    return in_order(answers, told), (*records, *written)


def in_order(first: Sequence[Answer], then: Sequence[Answer]) -> tuple[Answer, ...]:
    """What was recorded by both parts, then what is asked; of two Undos only the last stays, for it takes back both."""
    undone = any(isinstance(one, Noted | Corrected) for one in then)
    told = [replace(one, choices=()) if undone and isinstance(one, Noted) else one for one in first]
    answers = (*told, *then)
    asked = [one for one in answers if isinstance(one, Asked)]
    return (*(one for one in answers if not isinstance(one, Asked)), *asked)


def _of_the_same_lots(reading: Reading, lots: tuple[str, ...]) -> Reading:
    """What was told on, of the lots that the answer named where it names none ("and watered it").

    Mere words are a remark about these lots, unless they have a number of their own.
    """
    lacking = {ask.entry for ask in reading.asks if ask.kind == "lot"} if lots else set()
    lacking |= {
        at for at, one in enumerate(reading.entries)
        if one.act is Act.NOTE and not (one.lots or one.trays or one.plant or any(map(str.isdigit, one.text or "")))
    }  # fmt: skip
    entries = tuple(replace(one, lots=lots) if at in lacking else one for at, one in enumerate(reading.entries))
    asks = tuple(ask for ask in reading.asks if ask.kind != "lot" or ask.entry not in lacking)
    return replace(reading, entries=entries, asks=asks)
