"""The loop of questions and answers by itself, with an asker whose answers are handed in."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from bot.polling import CONFLICTS_AT_MOST, SILENCE, PolledElsewhere, Poller
from bot.telegram_door import PollFailed


class Script:
    """Answers in turn, remembers the offsets it was asked with, and stops the loop at the end."""

    def __init__(self, *answers: Any) -> None:
        self.answers = list(answers)
        self.offsets: list[int | None] = []
        self.stopping = asyncio.Event()

    async def ask(self, offset: int | None, *, wait_seconds: int = 25, limit: int = 100) -> list[Any]:
        if wait_seconds == 0:
            return []
        self.offsets.append(offset)
        if not self.answers:
            self.stopping.set()
            return []
        answer = self.answers.pop(0)
        if callable(answer):
            answer = answer()
        if isinstance(answer, Exception):
            raise answer
        return list(answer)


async def run(script: Script, take: Callable[[Any], Any], clock: Callable[[], datetime]) -> Poller:
    async def taken(raw: Any) -> None:
        take(raw)

    poller = Poller(script, taken, clock, first_pause=0.001)  # type: ignore[arg-type]
    await asyncio.wait_for(poller.run(script.stopping), timeout=10)
    return poller


def still() -> datetime:
    return datetime(2026, 2, 10, tzinfo=UTC)


async def test_the_offset_only_grows_and_stale_updates_are_still_taken() -> None:
    script = Script([{"update_id": 9}], [{"update_id": 4}], [{"update_id": 12}, {"update_id": 3}], [])
    taken: list[int] = []
    await run(script, lambda raw: taken.append(raw["update_id"]), still)
    assert script.offsets == [None, 10, 10, 13, 13]
    assert taken == [9, 4, 3, 12]


async def test_what_cannot_be_written_is_tried_again_before_anything_is_confirmed() -> None:
    script = Script([{"update_id": 1}, {"update_id": 2}])
    tries: list[int] = []

    def away_at_first(raw: Any) -> None:
        tries.append(raw["update_id"])
        if tries.count(2) == 1:
            raise OSError("the database is away")

    await run(script, away_at_first, still)
    assert tries == [1, 2, 2]
    assert script.offsets == [None, 3]


async def test_stopping_while_nothing_can_be_written_confirms_nothing() -> None:
    script = Script([{"update_id": 1}, {"update_id": 2}])

    def away(raw: Any) -> None:
        if raw["update_id"] == 2:
            script.stopping.set()
            raise OSError("the database is away")

    poller = await run(script, away, still)
    assert poller.offset == 2


async def test_after_a_long_silence_lower_numbers_are_heard_again() -> None:
    """ "If there are no new updates for at least a week, then identifier of the next update will be chosen randomly
    instead of sequentially" (https://core.telegram.org/bots/api#update)."""
    now = [still()]

    def later() -> list[Any]:
        now[0] += SILENCE + timedelta(hours=1)
        return []

    script = Script([{"update_id": 900}], later, [{"update_id": 5}])
    taken: list[int] = []
    await run(script, lambda raw: taken.append(raw["update_id"]), lambda: now[0])
    assert script.offsets == [None, 901, None, 6]
    assert taken == [900, 5]


async def test_a_passing_conflict_is_borne_and_a_lasting_one_ends_the_loop() -> None:
    conflict = PollFailed("another process", conflict=True)
    script = Script(conflict, conflict, [{"update_id": 1}])
    await run(script, lambda raw: None, still)
    assert script.offsets == [None, None, None, 2]
    lasting = Script(*[PollFailed("another", wait_seconds=0, conflict=True)] * CONFLICTS_AT_MOST)
    with pytest.raises(PolledElsewhere):
        await run(lasting, lambda raw: None, still)


async def test_what_telegram_asks_for_is_waited() -> None:
    loop = asyncio.get_running_loop()
    script, began = Script(PollFailed("asked to wait", wait_seconds=0.3)), loop.time()
    await run(script, lambda raw: None, still)
    assert loop.time() - began >= 0.3
