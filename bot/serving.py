"""How do the parts of `serve` run together? One poller, one postman, one tick a minute, one thread for the books.

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
from contextlib import suppress
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from typing import TextIO

from telegram import error as errors

from bot.books_thread import BooksThread
from bot.one_poller import only_poller
from bot.pacing import Limits
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
    open_application,
    send_letter,
)
from bot.telegram_updates import Came, Me, Note, Press, read_update
from bot.token_filter import open_log
from bot.wording import say_in
from bot.wording.delivery import COMMANDS, crew_line, listening_line, waiting_line
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
        raise BadSetting("BENCHHAND_WEBHOOK_URL is set, but this version only polls; unset it")
    strike = open_log(token, sys.stderr)
    with only_poller(token, settings.telegram_api):
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
    limits: Limits | None = None,
    pace: float = 1.0,
) -> None:
    """Serves until `stopping`; `limits` and `pace` (of the pauses after a failed sending) are Telegram's by default."""
    token = settings.telegram_token or ""
    application = build_application(token, settings.telegram_api)
    asker = Asker(token, settings.telegram_api)
    await asker.open()
    books = BooksThread()
    try:
        me = await first_of(_meet_telegram(application, out), stopping)
        if me is None:
            return
        for crew in await books(store.crews):
            print(crew_line(crew.name, crew.code, me.username, crew.lead is not None), file=out)
        print(listening_line(me.username), file=out, flush=True)
        postman = Postman(
            store, books, partial(send_letter, application), clock,
            media=Path(settings.media), limits=limits, pace=pace,
        )  # fmt: skip
        await _work(settings, application, asker, store, books, postman, me, clock, stopping)
    finally:
        books.close()
        await asker.close()
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


async def _meet_telegram(application: AnyApplication, out: TextIO) -> Me:
    """Learns our own name, however long Telegram takes to answer; makes sure that polling is what it expects."""
    back_off = BackOff()
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


async def _work(
    settings: Settings,
    application: AnyApplication,
    asker: Asker,
    store: Store,
    books: BooksThread,
    postman: Postman,
    me: Me,
    clock: Clock,
    stopping: asyncio.Event,
) -> None:
    chat = TelegramChat(store, take_turn, say_in)
    photographer = Photographer(store, books, application, Path(settings.media))
    asides: set[asyncio.Task[None]] = set()

    async def hear(came: Came) -> None:
        await books(chat.hear, came, clock())
        postman.wake.set()
        if isinstance(came, Note) and came.photo is not None:
            photographer.wake.set()
        if isinstance(came, Press):
            aside = asyncio.create_task(_tidy(application, books, chat, came))
            asides.add(aside)
            aside.add_done_callback(asides.discard)

    async def refuse(raw: str, why: str) -> None:
        await books(store.keep_refused, CHANNEL, raw, why, clock())

    async def own_failure(came: Came) -> None:
        await books(chat.own_failure, came, clock())
        postman.wake.set()

    taker = Taker(lambda raw: read_update(raw, application.bot, me), hear, refuse, own_failure)
    poller = Poller(asker, taker, clock)
    parts = [
        poller.run(stopping),
        _keep_up("postman", lambda: postman.run(stopping, alone=True), stopping),
        _keep_up("tick", lambda: _tick(store, books, postman, clock, stopping), stopping),
        _keep_up("photographer", lambda: photographer.run(stopping), stopping),
    ]
    tasks = [asyncio.create_task(part) for part in parts]
    try:
        await asyncio.wait(tasks, return_when=asyncio.FIRST_COMPLETED)
    finally:
        stopping.set()
        await asyncio.gather(*tasks, *asides, return_exceptions=True)
    for task in tasks:
        task.result()


async def _keep_up(name: str, begin: Callable[[], Awaitable[None]], stopping: asyncio.Event) -> None:
    back_off = BackOff()
    while not stopping.is_set():
        try:
            await begin()
        except Exception:
            log.exception("the %s failed and is begun again", name)
            await pause(back_off.next_pause(), stopping)


async def _tick(store: Store, books: BooksThread, postman: Postman, clock: Clock, stopping: asyncio.Event) -> None:
    """What fell due goes to the outbox, at the beginning of every minute of the clock."""
    while not stopping.is_set():
        if await books(tick, store, clock()):
            postman.wake.set()
        now = clock()
        next_minute = now.replace(second=0, microsecond=0) + timedelta(minutes=1)
        await pause((next_minute - now).total_seconds() + 0.05, stopping)


async def _tidy(application: AnyApplication, books: BooksThread, chat: TelegramChat, press: Press) -> None:
    left: tuple[tuple[str, str], ...] = press.buttons
    try:
        left = await books(chat.buttons_left, press)
    except Exception:
        log.exception("the buttons of a message could not be tidied")
    await answer_press(
        application, press.query, chat=press.chat, under=press.under, left=left, changed=left != press.buttons
    )
