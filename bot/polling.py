"""When is the next batch asked for? When every update of this one is committed; never before, and never twice as fast.

Rules
1. The offset only grows. It is sent with the next question, which confirms to Telegram what is committed here.
2. An update whose effects cannot be written holds everything up until they can be: it is not confirmed.
3. An update that cannot be read is kept as refused, once, and confirmed. One whose turn fails again and again is kept
   so too, and its sender is told.
4. After a failed question the pause grows to a cap, with jitter; what Telegram asks for is kept.
5. After a long silence Telegram may begin its numbers anew, lower ones too (Bot API, `Update`): then, once all is
   confirmed, the offset is left out.
"""

from __future__ import annotations

import asyncio
import json
import logging
import random
from collections.abc import Awaitable, Callable
from datetime import datetime, timedelta
from typing import Any, TypeVar

from bot.telegram_door import Asker, PollFailed
from core.errors import BenchError

log = logging.getLogger("benchhand.polling")

LONGEST_PAUSE_SECONDS = 30.0
EMPTY_ANSWERS_SECONDS = 0.2
SILENCE = timedelta(days=2)
CONFLICTS_AT_MOST = 20
Result = TypeVar("Result")


class PolledElsewhere(BenchError):
    """Another machine polls with the same token, and goes on doing so."""


class BackOff:
    """Pauses that double from the first to the longest, each shortened by chance so that nobody knocks in step."""

    def __init__(self, first: float = 1.0, longest: float = LONGEST_PAUSE_SECONDS) -> None:
        self._first, self._longest, self.failures = first, longest, 0

    def next_pause(self) -> float:
        """The seconds to wait after one more failure."""
        self.failures += 1
        full = min(self._longest, self._first * float(1 << min(self.failures - 1, 16)))
        return full * random.uniform(0.5, 1.0)

    def recover(self) -> None:
        """All is well again."""
        self.failures = 0


async def first_of(work: Awaitable[Result], stopping: asyncio.Event) -> Result | None:
    """What the work gives, or None where it was given up because we are stopping."""
    task, stop = asyncio.ensure_future(work), asyncio.ensure_future(stopping.wait())
    try:
        await asyncio.wait((task, stop), return_when=asyncio.FIRST_COMPLETED)
        if task.done():
            return task.result()
        task.cancel()
        await asyncio.gather(task, return_exceptions=True)
        return None
    finally:
        stop.cancel()


async def pause(seconds: float, stopping: asyncio.Event) -> None:
    """Waits, but not beyond the moment we stop."""
    await first_of(asyncio.sleep(seconds), stopping)


def in_order(batch: list[Any]) -> list[Any]:
    """A batch by its numbers, whatever order it came in; what has no number comes last."""
    return sorted(batch, key=lambda raw: (0, number) if (number := number_of(raw)) is not None else (1, 0))


def number_of(raw: Any) -> int | None:
    """An update's number, or None where it has none."""
    number = raw.get("update_id") if isinstance(raw, dict) else None
    return number if isinstance(number, int) and not isinstance(number, bool) else None


class Poller:
    """Asks, commits, asks again. `take` writes one update's effects, and raises where they could not be written."""

    def __init__(
        self,
        asker: Asker,
        take: Callable[[Any], Awaitable[None]],
        clock: Callable[[], datetime],
        *,
        first_pause: float = 1.0,
    ) -> None:
        self._asker = asker
        self._first_pause = first_pause
        self._take = take
        self._clock = clock
        self.offset: int | None = None

    async def run(self, stopping: asyncio.Event) -> None:
        """Polls until we stop. Raises PolledElsewhere and BadToken."""
        back_off, conflicts, heard_at = BackOff(first=self._first_pause), 0, self._clock()
        loop = asyncio.get_running_loop()
        while not stopping.is_set():
            began = loop.time()
            try:
                batch = await first_of(self._asker.ask(self.offset), stopping)
            except PollFailed as wrong:
                conflicts = conflicts + 1 if wrong.conflict else 0
                if conflicts >= CONFLICTS_AT_MOST:
                    raise PolledElsewhere(str(wrong), hint="let only one of them run") from None
                seconds = back_off.next_pause() if wrong.wait_seconds is None else wrong.wait_seconds
                if back_off.failures in (1, 5, 25) or back_off.failures % 100 == 0:
                    log.warning("cannot ask for updates (%s); failure %d in a row", wrong, back_off.failures)
                await pause(seconds, stopping)
                continue
            if batch is None:
                break
            conflicts, before = 0, self.offset
            if not await self._take_all(batch, stopping):
                break
            if batch and self.offset == before:
                # The same again, or nothing that can be confirmed: no reason to hurry.
                await pause(back_off.next_pause(), stopping)
                continue
            back_off.recover()
            if batch:
                heard_at = self._clock()
                continue
            if self._clock() - heard_at > SILENCE:
                self.offset = None
            if loop.time() - began < EMPTY_ANSWERS_SECONDS:
                await pause(EMPTY_ANSWERS_SECONDS, stopping)
        await self._confirm()

    async def _take_all(self, batch: list[Any], stopping: asyncio.Event) -> bool:
        """Commits a batch; False where we stopped before its end."""
        for raw in in_order(batch):
            back_off = BackOff(first=0.5)
            while True:
                try:
                    await self._take(raw)
                    break
                except Exception:
                    log.exception("an update cannot be written yet; it is not confirmed")
                    await pause(back_off.next_pause(), stopping)
                if stopping.is_set():
                    return False
            number = number_of(raw)
            if number is not None:
                self.offset = max(self.offset or 0, number + 1)
            if stopping.is_set():
                return False
        return True

    async def _confirm(self) -> None:
        """Tells Telegram on the way out what is committed; what it does not hear, it sends again."""
        if self.offset is None:
            return
        try:
            await asyncio.wait_for(self._asker.ask(self.offset, wait_seconds=0, limit=1), timeout=3)
        except (BenchError, TimeoutError):
            log.info("the last updates are not confirmed; they will come again and change nothing")


class Taker:
    """Writes the effects of one update, whatever is in it."""

    TRIES = 3

    def __init__(
        self,
        read: Callable[[Any], Any],
        hear: Callable[[Any], Awaitable[None]],
        refuse: Callable[[str, str], Awaitable[None]],
        own_failure: Callable[[Any], Awaitable[None]],
        *,
        between_tries: float = 0.3,
    ) -> None:
        self._read, self._hear, self._refuse, self._own_failure = read, hear, refuse, own_failure
        self._between_tries = between_tries
        self._refused: dict[str, None] = {}

    async def __call__(self, raw: Any) -> None:
        """Raises what the database raises."""
        try:
            came = self._read(raw)
        except BenchError as wrong:
            await self._keep(raw, str(wrong))
            return
        for tried in range(1, self.TRIES + 1):
            try:
                await self._hear(came)
                return
            except Exception as wrong:
                why = f"{type(wrong).__name__}: {wrong}"[:300]
                log.exception("a turn failed, try %d of %d", tried, self.TRIES)
                if tried < self.TRIES:
                    await asyncio.sleep(self._between_tries * tried)
        # Where the database is away, this raises too, and the update stays unconfirmed.
        await self._keep(raw, why)
        try:
            await self._own_failure(came)
        except Exception:
            log.exception("the sender could not be told; the update is kept as refused")

    async def _keep(self, raw: Any, why: str) -> None:
        words = json.dumps(raw, sort_keys=True)
        if words in self._refused:
            return
        await self._refuse(words, why)
        self._refused[words] = None
        while len(self._refused) > 1000:
            self._refused.pop(next(iter(self._refused)))
        log.warning("an update was refused and kept: %s", why)
