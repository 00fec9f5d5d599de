"""On which thread is the database used? On one of its own, so that waiting for it holds up nobody else."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import Any, TypeVar

Answer = TypeVar("Answer")


class BooksThread:
    """Runs calls to the books one after the other, off the event loop."""

    def __init__(self) -> None:
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="books")

    async def __call__(self, call: Callable[..., Answer], *arguments: Any, **named: Any) -> Answer:
        """What the call returns or raises. Once begun it is finished, even where the one who waits is cancelled."""
        loop = asyncio.get_running_loop()
        return await asyncio.shield(loop.run_in_executor(self._thread, partial(call, *arguments, **named)))

    def close(self) -> None:
        """Waits for the call that runs, if any."""
        self._thread.shutdown(wait=True)
