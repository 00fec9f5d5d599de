"""How do the parts of `serve` run together? Updates in, one postman, one tick a minute, one thread for the books.

Rules
1. Each part that fails is begun again after a pause; only a wrong token, a second poller and our being told to stop
   end the whole.
2. On SIGTERM or SIGINT the update in hand is finished, what is on the wire is waited for, and the rest is left where
   the next start finds it: in the books, or with Telegram.
"""

from __future__ import annotations

import asyncio
import logging
import secrets
import signal
import sys
from collections.abc import Awaitable, Callable
from contextlib import nullcontext, suppress
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any, TextIO

from telegram import error as errors

from bot.books_thread import BooksThread
from bot.one_poller import only_poller
from bot.pacing import Pacer
from bot.photographs import Photographer
from bot.polling import BackOff, Poller, Taker, first_of, pause
from bot.postman import Postman
from bot.reminder_job import tick
from bot.settings import BadSetting, Settings
from bot.telegram_chat import CHANNEL, UNNAMED_CREWS, TelegramChat
from bot.telegram_door import (
    AnyApplication,
    Asker,
    BadToken,
    answer_press,
    build_application,
    choose_polling,
    choose_webhook,
    open_application,
    send_letter,
)
from bot.telegram_updates import Came, Me, Note, Press, read_update
from bot.token_filter import open_log
from bot.webhook import WebhookDoor, check_webhook, secret_for
from bot.wording import say_in
from bot.wording.delivery import COMMANDS, crew_line, door_line, listening_line, waiting_line
from core.conversation import take_turn
from core.errors import BenchError
from core.storage import Store, open_store

log = logging.getLogger("benchhand.serving")

Clock = Callable[[], datetime]
CODE_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""Letters and figures that nobody mistakes for one another on a phone."""


def serve(settings: Settings, clock: Clock, out: TextIO) -> int:
    """Talks on Telegram until it is told to stop; 0 then. Raises BadSetting, BadToken and PolledAlready."""
    token = settings.telegram_token
    if token is None:
        raise BadSetting("BENCHHAND_TELEGRAM_TOKEN is not set")
    if settings.webhook_url is not None:
        check_webhook(settings.webhook_url, settings.webhook_listen, settings.webhook_secret)
    strike = open_log(token, sys.stderr)
    # Any number of processes may stand behind a webhook; only one may poll.
    alone = nullcontext() if settings.webhook_url is not None else only_poller(token, settings.telegram_api)
    with alone:
        store = open_store(settings.database_url)
        try:
            ready_crews(store, settings)
            asyncio.run(_until_signalled(settings, store, clock, out))
        except errors.TelegramError as wrong:
            # The library's words may hold the token.
            raise BenchError(strike.strike(f"Telegram: {wrong.message}")) from None
        finally:
            store.close()
    return 0


def ready_crews(store: Store, settings: Settings) -> None:
    """Founds the crew where there is none, gives each a code, and lets a lead of the console's give way."""
    if not store.crews():
        store.found_crew(UNNAMED_CREWS[0], settings.zone, new_code())
    for crew in store.crews():
        with store.books(crew.number) as books:
            if not crew.code:
                books.name_crew(code=new_code())
            for member in books.members():
                # Somebody who only tried the bot out at the console does not keep the crew from having a lead here.
                if member.role == "lead" and member.channel == "console":
                    books.join(member.name, role="member")
            if crew.group_channel == "console" and crew.group_chat is not None:
                books.forget_chat("console", crew.group_chat)


def new_code() -> str:
    """A code that cannot be guessed, easy to type: two groups of five."""
    drawn = "".join(secrets.choice(CODE_LETTERS) for _ in range(10))
    return f"{drawn[:5]}-{drawn[5:]}"


async def _until_signalled(settings: Settings, store: Store, clock: Clock, out: TextIO) -> None:
    stopping = asyncio.Event()
    _stop_on_signals(stopping)
    await run(settings, store, clock, out, stopping)


async def run(
    settings: Settings,
    store: Store,
    clock: Clock,
    out: TextIO,
    stopping: asyncio.Event,
    *,
    pacer: Pacer | None = None,
    pace: float = 1.0,
) -> None:
    """Serves until `stopping`; `pacer` keeps Telegram's limits; `pace` stretches the pauses after a failure."""
    application, asker = build_application(settings.telegram_token or "", settings.telegram_api)
    books = BooksThread()
    try:
        me = await first_of(_meet_telegram(application, out, pace), stopping)
        if me is None:
            return
        for crew in await books(store.crews):
            print(crew_line(crew.name, crew.code, me.username, crew.lead is not None), file=out)
        postman = Postman(
            store, books, partial(send_letter, application), clock,
            media=Path(settings.media), pacer=pacer, pace=pace,
        )  # fmt: skip
        bench = _Bench(
            settings=settings,
            application=application,
            asker=asker,
            store=store,
            books=books,
            postman=postman,
            photographer=Photographer(store, books, application, Path(settings.media)),
            chat=TelegramChat(store, take_turn, partial(say_in, pictures=True)),
            me=me,
            clock=clock,
            stopping=stopping,
            out=out,
            pace=pace,
        )
        await bench.work()
    finally:
        books.close()
        with suppress(RuntimeError):
            await application.shutdown()


def _stop_on_signals(stopping: asyncio.Event) -> None:
    loop = asyncio.get_running_loop()
    for number in (signal.SIGTERM, signal.SIGINT):
        try:
            loop.add_signal_handler(number, stopping.set)
        except (NotImplementedError, ValueError, RuntimeError):  # Windows, or not the main thread
            with suppress(ValueError):
                signal.signal(number, lambda *_: loop.call_soon_threadsafe(stopping.set))


async def _meet_telegram(application: AnyApplication, out: TextIO, pace: float) -> Me:
    """Learns our own name, however long Telegram takes to answer."""
    back_off = BackOff(first=pace)
    while True:
        try:
            me = await open_application(application, COMMANDS)
            return Me(account=me[0], username=me[1])
        except errors.InvalidToken:
            raise BadToken("Telegram does not accept the token", hint="ask @BotFather for it again") from None
        except errors.TelegramError as wrong:
            if back_off.failures == 0:
                print(waiting_line(type(wrong).__name__), file=out, flush=True)
            await asyncio.sleep(back_off.next_pause())


@dataclass(slots=True, kw_only=True)
class _Bench:
    """The parts that work side by side, and what goes between them."""

    settings: Settings
    application: AnyApplication
    asker: Asker
    store: Store
    books: BooksThread
    postman: Postman
    photographer: Photographer
    chat: TelegramChat
    me: Me
    clock: Clock
    stopping: asyncio.Event
    out: TextIO
    pace: float
    _asides: set[asyncio.Task[None]] = field(default_factory=set)

    async def work(self) -> None:
        """Until we are told to stop, or a part ends that the rest is nothing without."""
        stopping, alone = self.stopping, self.settings.webhook_url is None
        taker = Taker(self._read, self._hear, self._refuse, self._own_failure, between_tries=0.3 * self.pace)
        parts = [
            self._poll(taker) if alone else self._stand_at_the_door(taker),
            _keep_up("postman", lambda: self.postman.run(stopping, alone=alone), stopping),
            _keep_up("tick", self._tick, stopping),
            _keep_up("photographer", lambda: self.photographer.run(stopping), stopping),
        ]
        tasks = [asyncio.create_task(part) for part in parts]
        try:
            await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
        finally:
            stopping.set()
            await asyncio.gather(*tasks, *self._asides, return_exceptions=True)
        for task in tasks:
            task.result()

    async def _poll(self, taker: Taker) -> None:
        await self._insist(lambda: choose_polling(self.application))
        print(listening_line(self.me.username), file=self.out, flush=True)
        await Poller(self.asker, taker, self.clock, first_pause=self.pace).run(self.stopping)

    async def _stand_at_the_door(self, taker: Taker) -> None:
        settings = self.settings
        secret = secret_for(settings.telegram_token or "", settings.webhook_secret)
        door = WebhookDoor(taker, secret, settings.webhook_listen)
        await door.open()
        try:
            url = settings.webhook_url or ""
            await self._insist(lambda: choose_webhook(self.application, url, secret))
            print(door_line(self.me.username, door.port, url), file=self.out, flush=True)
            await self.stopping.wait()
        finally:
            await door.close()

    async def _insist(self, choice: Callable[[], Awaitable[None]]) -> None:
        """Tells Telegram how updates are to come, as often as it takes; a refusal of the choice itself is an error."""
        back_off = BackOff()
        while not self.stopping.is_set():
            try:
                return await choice()
            except errors.BadRequest:
                raise
            except (errors.NetworkError, errors.RetryAfter) as wrong:
                log.warning("Telegram does not take how updates are to come (%s)", type(wrong).__name__)
                await pause(back_off.next_pause(), self.stopping)

    def _read(self, raw: Any) -> Came:
        return read_update(raw, self.application.bot, self.me)

    async def _hear(self, came: Came) -> None:
        await self.books(self.chat.hear, came, self.clock())
        self.postman.wake.set()
        if isinstance(came, Note) and came.photo is not None:
            self.photographer.wake.set()
        if isinstance(came, Press):
            aside = asyncio.create_task(self._tidy(came))
            self._asides.add(aside)
            aside.add_done_callback(self._asides.discard)

    async def _refuse(self, raw: str, why: str) -> None:
        await self.books(self.store.keep_refused, CHANNEL, raw, why, self.clock())

    async def _own_failure(self, came: Came) -> None:
        await self.books(self.chat.own_failure, came, self.clock())
        self.postman.wake.set()

    async def _tick(self) -> None:
        """What fell due goes to the outbox, at the beginning of every minute of the clock."""
        while not self.stopping.is_set():
            if await self.books(tick, self.store, self.clock()):
                self.postman.wake.set()
            now = self.clock()
            next_minute = now.replace(second=0, microsecond=0) + timedelta(minutes=1)
            await pause((next_minute - now).total_seconds() + 0.05, self.stopping)

    async def _tidy(self, press: Press) -> None:
        """Ends the waiting sign of a press and takes away the buttons that it settled."""
        left = press.buttons
        try:
            left = await self.books(self.chat.buttons_left, press)
        except Exception:
            log.exception("the buttons of a message could not be tidied")
        await answer_press(
            self.application, press.query, chat=press.chat, under=press.under, left=left,
            changed=left != press.buttons,
        )  # fmt: skip


async def _keep_up(name: str, begin: Callable[[], Awaitable[None]], stopping: asyncio.Event) -> None:
    back_off = BackOff()
    while not stopping.is_set():
        try:
            await begin()
        except Exception:
            log.exception("the %s failed and is begun again", name)
            await pause(back_off.next_pause(), stopping)
