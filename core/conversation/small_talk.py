"""What is said to a greeting, a thank-you, a call for help, or a picture without words."""

from __future__ import annotations

from core.answers import Answer, Greeting
from core.conversation.scene import Scene
from core.entries import Entry
from core.records import local_day
from core.storage import Books


def greet(entry: Entry) -> Answer:
    """The answer to a greeting, thanks, or a call for help."""
    return Greeting(want=entry.want or "hi")


def keep_photo(books: Books, scene: Scene, entries: tuple[Entry, ...] = ()) -> Answer:
    """Keeps a picture with the lots that its caption names."""
    year = local_day(scene.message.said_at, scene.zone).year % 100
    texted = dict.fromkeys(lot for entry in entries for lot in entry.lots)
    lots = [number for number in (books.resolve(one, year) for one in texted) if number]
    books.keep_photo(
        file=scene.message.photo or "",
        caption=scene.message.text,
        by=scene.speaker,
        at=scene.message.said_at,
        lots=lots,
    )
    return Greeting(want="photo")
