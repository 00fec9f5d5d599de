"""Which pictures are still to be fetched? Those that the books name and the media folder does not hold.

Rules
1. The row is the task and the file is its end, so that a picture is fetched after a restart too.
2. A picture that Telegram refuses to give is not asked for again until the next start.
"""

from __future__ import annotations

import asyncio
import logging
import re
from pathlib import Path

from bot.books_thread import BooksThread
from bot.polling import BackOff, first_of, pause
from bot.telegram_door import AnyApplication, fetch_file
from core.storage import Store

log = logging.getLogger("benchhand.photographs")

_OURS = re.compile(r"telegram/[\w-]{1,200}\.[a-z]{3,4}", re.ASCII)
LOOKS_EVERY_SECONDS = 600.0


def missing_pictures(store: Store, media: Path) -> tuple[str, ...]:
    """The names, below the media folder, of the pictures from Telegram that are not there yet."""
    named: list[str] = []
    for crew in store.crews():
        with store.reading(crew.number) as books:
            named += [photo.file for photo in books.photos() if _OURS.fullmatch(photo.file)]
    return tuple(name for name in dict.fromkeys(named) if not (media / name).exists())


class Photographer:
    """Fetches what is missing, when woken and now and then."""

    def __init__(self, store: Store, books: BooksThread, application: AnyApplication, media: Path) -> None:
        self._store, self._books, self._application, self._media = store, books, application, media
        self._given_up: set[str] = set()
        self.wake = asyncio.Event()

    async def run(self, stopping: asyncio.Event) -> None:
        back_off = BackOff(first=5, longest=LOOKS_EVERY_SECONDS)
        while not stopping.is_set():
            self.wake.clear()
            try:
                all_there = await self._fetch_missing(stopping)
            except Exception:
                log.exception("pictures cannot be fetched")
                all_there = False
            if all_there:
                back_off.recover()
                await first_of(self.wake.wait(), stopping)
            else:
                await pause(back_off.next_pause(), stopping)

    async def _fetch_missing(self, stopping: asyncio.Event) -> bool:
        complete = True
        for name in await self._books(missing_pictures, self._store, self._media):
            if stopping.is_set() or name in self._given_up:
                continue
            fetched = await fetch_file(self._application, Path(name).stem)
            match fetched:
                case bytes():
                    await asyncio.to_thread(write_whole, self._media / name, fetched)
                case None:
                    complete = False
                case str():
                    log.warning("a picture cannot be had: %s", fetched)
                    self._given_up.add(name)
        return complete


def write_whole(path: Path, content: bytes) -> None:
    """Writes a file so that it is there whole or not at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_suffix(path.suffix + ".part")
    part.write_bytes(content)
    part.replace(path)
