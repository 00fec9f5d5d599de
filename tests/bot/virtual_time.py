"""Hours in seconds: an event loop whose clock jumps to the next thing due, and a postman that runs by it."""

from __future__ import annotations

import asyncio
import selectors
from collections import defaultdict
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, cast

from bot.books_thread import BooksThread
from bot.outcomes import NotSent, Outcome, Sent
from bot.postman import Postman
from bot.reminder_job import tick
from bot.telegram_door import Letter
from core.storage import Store


class _Jumping(selectors.DefaultSelector):
    """Waits for nothing: where no file is ready, the clock of its loop jumps."""

    loop: VirtualTime

    def select(self, timeout: float | None = None) -> list[Any]:
        found = super().select(0)
        if not found and timeout is None:
            raise RuntimeError("nothing will ever happen any more")
        if not found and timeout:
            self.loop.at += timeout
        return found


class VirtualTime(asyncio.SelectorEventLoop):
    """An event loop that begins at 0 seconds and never sleeps."""

    def __init__(self) -> None:
        self.at = 0.0
        selector = _Jumping()
        selector.loop = self
        super().__init__(selector)

    def time(self) -> float:
        return self.at


async def _at_once(call: Callable[..., Any], *arguments: Any, **named: Any) -> Any:
    return call(*arguments, **named)


@dataclass
class Round:
    """A postman and a tick each minute from `began_at` on, for some minutes of a clock of our own; a sending takes
    `takes_seconds`, and none arrives during `away` (seconds from, seconds until)."""

    store: Store
    began_at: datetime
    minutes: int
    takes_seconds: float = 0.05
    away: tuple[float, float] = (0.0, 0.0)
    at_second: dict[float, Callable[[datetime], object]] = field(default_factory=dict)
    arrived: list[tuple[float, str, str]] = field(default_factory=list)
    tried: list[tuple[float, str]] = field(default_factory=list)

    def run(self) -> Round:
        """Lets the minutes pass."""
        with asyncio.Runner(loop_factory=VirtualTime) as runner:
            runner.run(self._pass())
        return self

    def by_chat(self) -> dict[str, list[float]]:
        """When each chat heard something, in seconds from the beginning."""
        at: dict[str, list[float]] = defaultdict(list)
        for second, chat, _ in self.arrived:
            at[chat].append(second)
        return dict(at)

    def most_tried_within(self, seconds: float) -> int:
        """The most sendings begun in any window of so many seconds."""
        times = sorted(second for second, _ in self.tried)
        most = first = 0
        for last, time in enumerate(times):
            while times[first] <= time - seconds + 1e-6:
                first += 1
            most = max(most, last - first + 1)
        return most

    def _clock(self) -> datetime:
        return self.began_at + timedelta(seconds=asyncio.get_running_loop().time())

    async def _send(self, letter: Letter) -> Outcome:
        loop = asyncio.get_running_loop()
        self.tried.append((loop.time(), letter.chat))
        away = self.away[0] <= loop.time() < self.away[1]
        await asyncio.sleep(self.takes_seconds)
        if away:
            return NotSent(why="no connection")
        self.arrived.append((self.tried[-1][0] if self.takes_seconds == 0 else loop.time(), letter.chat, letter.text))
        return Sent(message_id=str(len(self.arrived)))

    async def _pass(self) -> None:
        stopping = asyncio.Event()
        books = cast("BooksThread", _at_once)
        postman = Postman(self.store, books, self._send, self._clock, media=Path("nowhere"), jitter=lambda: 1.0)
        delivering = asyncio.create_task(postman.run(stopping, alone=True))
        others = [asyncio.create_task(self._later(second, what)) for second, what in self.at_second.items()]
        for minute in range(self.minutes):
            await self._until(60.0 * minute)
            tick(self.store, self._clock())
            postman.wake.set()
        await self._until(60.0 * self.minutes)
        stopping.set()
        waiting: list[Awaitable[object]] = [delivering, *others]
        await asyncio.gather(*waiting)

    async def _later(self, second: float, what: Callable[[datetime], object]) -> None:
        await self._until(second)
        what(self._clock().astimezone(UTC))

    @staticmethod
    async def _until(second: float) -> None:
        await asyncio.sleep(max(second - asyncio.get_running_loop().time(), 0))
