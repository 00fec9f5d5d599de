"""A bot that serves, over real HTTP, against a stand-in for Telegram on this machine."""

from __future__ import annotations

import asyncio
import io
import shutil
import sqlite3
import time
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from bot.pacing import Limits, Pacer
from bot.serving import ready_crews, run
from bot.settings import Settings
from core.storage import Store, open_store
from tests.bot.bot_api_stand_in import TOKEN, BotApi
from tests.bot.updates import BEGAN, Mail

ZONE = ZoneInfo("America/Los_Angeles")
QUICK = Limits(chat_gap_seconds=0.0, group_count=1000, all_count=1000)
LEAD, OSEI, STRANGER, GROUP = 11, 12, 13, -1001


class Serving:
    """A bot under way: its store, what it printed, and ways to wait for what it does."""

    def __init__(self, api: BotApi, store: Store, folder: Path) -> None:
        self.api, self.store, self.folder = api, store, folder
        self.mail = Mail()
        self.out = io.StringIO()
        self.began_at, self._began = datetime.fromtimestamp(BEGAN, UTC), time.monotonic()
        self.pacer, self.pace = Pacer(QUICK), 0.05
        self.settings = settings_for(api, f"sqlite:///{folder / 'bench.db'}", folder)
        ready_crews(store, self.settings)

    def clock(self) -> datetime:
        """A clock that runs, from the time at which the messages of these tests are written."""
        return self.began_at + timedelta(seconds=time.monotonic() - self._began)

    @asynccontextmanager
    async def under_way(self) -> AsyncIterator[None]:
        stopping = asyncio.Event()
        task = asyncio.create_task(
            run(self.settings, self.store, self.clock, self.out, stopping, pacer=self.pacer, pace=self.pace)
        )
        try:
            yield
            if task.done():
                task.result()
        finally:
            stopping.set()
            await asyncio.wait_for(task, timeout=15)

    async def until(self, what: Callable[[], Any], seconds: float = 8.0) -> Any:
        """What it gives when it is true; fails where that takes too long."""
        end = asyncio.get_running_loop().time() + seconds
        while not (found := what()):
            if asyncio.get_running_loop().time() > end:
                raise AssertionError(f"never came to be; arrived: {self.api.texts()}")
            await asyncio.sleep(0.02)
        return found

    async def settled(self) -> None:
        """All that was put is committed and confirmed, and what it said has arrived."""
        await self.until(lambda: not self.api.unconfirmed() and not self.api.batches)
        await self.until(lambda: not self.waits_to_be_sent())

    def waits_to_be_sent(self) -> bool:
        """True while the outbox holds something that waits or is under way."""
        crews = [crew.number for crew in self.store.crews()]
        return any(state in ("waiting", "sending") for crew in crews for state in self.states(crew))

    def states(self, crew: int = 1) -> list[str]:
        """How the sending of each message stands, in the order posted."""
        with self.store.reading(crew) as books:
            return [one.state for one in books.posted(range(1, 60))]

    def refused(self) -> list[tuple[str, str]]:
        """The updates that were refused, with the reasons, oldest first."""
        with sqlite3.connect(self.folder / "bench.db") as books:
            return list(books.execute("select raw, why from refused_update order by id"))

    async def hear(self, *updates: Any) -> list[str]:
        """What arrives after these updates."""
        before = len(self.api.arrived)
        self.api.put(*updates)
        await self.settled()
        return [one["text"] for one in self.api.arrived[before:]]

    def code(self) -> str:
        return self.store.crews()[0].code

    def found(self) -> None:
        """Imke leads, Osei is a member, and the group is the crew's; how they come to be so has tests of its own."""
        with self.store.books(1) as books:
            books.join("imke", "telegram", str(LEAD), "lead", private_chat=str(LEAD))
            books.join("osei", "telegram", str(OSEI), "member", private_chat=str(OSEI))
            books.meet_in("telegram", str(GROUP))

    def rows(self) -> list[dict[str, Any]]:
        """The entries that hold."""
        rows = self.store.export_rows(self.store.crews()[0].number)
        return [row for row in rows if row.get("superseded_by") is None]

    def acts(self) -> list[Any]:
        return [row["act"] for row in self.rows()]


def settings_for(api: BotApi, url: str, folder: Path) -> Settings:
    return Settings(
        database_url=url, zone=ZONE, media=str(folder / "media"), telegram_token=TOKEN, telegram_api=api.address,
        webhook_url=None, webhook_listen="127.0.0.1:0", webhook_secret=None,
    )  # fmt: skip


@pytest.fixture
def api() -> Iterator[BotApi]:
    stand_in = BotApi()
    yield stand_in
    stand_in.close()


@pytest.fixture
def serving(api: BotApi, tmp_path: Path, laid_file: Path) -> Iterator[Serving]:
    shutil.copy(laid_file, tmp_path / "bench.db")
    store = open_store(f"sqlite:///{tmp_path / 'bench.db'}")
    yield Serving(api, store, tmp_path)
    store.close()
