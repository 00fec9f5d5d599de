"""Which lots a picture belongs to: those of its note, those of the message replied to, else it is asked.

Rules
1. A picture with a note that lacks its lot gets the lot with the note, once that is answered.
2. A number in the words under a picture may be its lot: it is offered, never taken.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from core.answers import Answer, Greeting
from core.conversation.asking import Asker, put_question
from core.conversation.placing import offer
from core.conversation.recording import Outcome, Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.records import Record
from core.storage import Books

_NUMBER = re.compile(r"(?<![\w.-])\d{1,4}(?![\w.-])")


def keep_photo(books: Books, scene: Scene, lots: Iterable[str] = (), *, file: str | None = None) -> None:
    """Keeps a picture with the lots (full numbers) that it shows."""
    books.keep_photo(
        file=file or scene.message.photo or "",
        caption=scene.message.text,
        by=scene.speaker,
        at=scene.message.said_at,
        lots=list(dict.fromkeys(lots)),
    )


def keep_photo_alone(books: Books, scene: Scene) -> tuple[tuple[Answer, ...], Sequence[Record]]:
    """Keeps a picture without words: with the lots of the message replied to, else it is asked which lot it shows."""
    lots = [record.lot for record in scene.replied_records if record.lot]
    keep_photo(books, scene, lots)
    if lots:
        return (Greeting(want="photo_of_lot"),), ()
    entry = Entry(act=Act.NOTE, text=f"picture {scene.message.photo}")
    return (put_question(books, scene, [Pending(kind="photo", entries=(entry,))]),), ()


def keep_with_note(books: Books, scene: Scene, outcome: Outcome) -> None:
    """Keeps the picture of a note with the lots of its acts; where there are none, those that its numbers may name are
    offered."""
    lots = lots_of(outcome)
    keep_photo(books, scene, lots)
    numbers = dict.fromkeys(_NUMBER.findall(scene.message.text))
    named = [books.resolve(one, scene.year()) for one in numbers]
    shown = [lot for number in named if number and (lot := books.lot(number)) and not lot.closed]
    if lots or outcome.pending or not shown:
        outcome.remarks.append(("photo_kept", {"lots": lots}))
        return
    entry = Entry(act=Act.NOTE, text=f"picture {scene.message.photo}")
    outcome.pending.append(Pending(kind="photo", entries=(entry,), choices=offer(shown)))


def keep_with_answer(books: Books, scene: Scene, note: Asker, outcome: Outcome) -> None:
    """Keeps the picture that came with a note with the lots that an answer gave to the note."""
    lots = lots_of(outcome)
    of_note = [one for one in books.photos() if one.at == note.said_at and one.caption == note.said and not one.lots]
    if not lots or not of_note or not note.said:
        return
    keep_photo(books, scene, lots, file=of_note[-1].file)
    outcome.remarks.append(("photo_kept", {"lots": lots}))


def lots_of(outcome: Outcome) -> list[str]:
    """The lots (full numbers) that the acts of a note were of."""
    return list(dict.fromkeys(lot.number for act in outcome.acts for lot in act.lots))
