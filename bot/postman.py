"""When does a message leave the outbox, and in which pieces? In the order posted for each chat, within the limits.

Rules
1. A chat has one message on its way at a time; the next is taken when that one is settled.
2. Whatever comes of a sending is settled in the books by the table of outcomes; nothing is kept only here.
3. What may have arrived before says that it may be a repeat.
4. When we stop, what waits for its turn goes back to the outbox; what is on the wire is waited for.
"""

from __future__ import annotations

import asyncio
import logging
import random
import re
from collections.abc import Awaitable, Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from types import MappingProxyType
from typing import assert_never

from bot.books_thread import BooksThread
from bot.drawing import draw, facts_for
from bot.outcomes import Moved, NotSent, Outcome, Refused, Sent, Unknown, Unreachable, Wait, pause_before
from bot.pacing import Limits, Pacer
from bot.polling import BackOff, first_of, pause
from bot.telegram_chat import CHANNEL, move_group
from bot.telegram_door import CAPTION_LENGTH, SENDS_AT_ONCE, Letter
from bot.wording.delivery import POSSIBLY_REPEATED
from core.storage import OutboxMessage, Store

log = logging.getLogger("benchhand.postman")

LONGEST_TEXT = 4096
CHATS_AT_ONCE = 16
PATIENCE_SECONDS = 0.3
"""How long a message may be held for its turn; for a longer wait it goes back, so that a crash leaves few in doubt."""
LOOKS_EVERY_SECONDS = 2.0
LAST_SENDS_SECONDS = 10.0
_WORD = re.compile(r"[^\s,]+")
_NOBODY: Mapping[str, int] = MappingProxyType({})

Send = Callable[[Letter], Awaitable[Outcome]]


def length_of(text: str) -> int:
    """How long Telegram finds a text: in UTF-16 units, which is never less than it counts."""
    return len(text.encode("utf-16-le", errors="surrogatepass")) // 2


def in_pieces(text: str, longest: int = LONGEST_TEXT) -> list[str]:
    """A text in pieces that fit: cut between lines, else between words, else anywhere."""
    pieces: list[str] = []
    while length_of(text) > longest:
        cut = longest if len(text) > longest else len(text)
        while length_of(text[:cut]) > longest:
            cut -= max(1, (length_of(text[:cut]) - longest) // 2)
        for between in ("\n", " "):
            found = text.rfind(between, 1, cut + 1)
            if found > 0 and text[:found].strip():
                cut = found
                break
        pieces.append(text[:cut].rstrip())
        text = text[cut:].lstrip("\n ")
    if text.strip() or not pieces:
        pieces.append(text)
    return [piece for piece in pieces if piece]


def mentions_in(text: str, accounts: Mapping[str, int]) -> tuple[tuple[int, int, int], ...]:
    """The names before a line's colon ("imke and osei: vents on tray 2") that are members', so that they are called."""
    found: list[tuple[int, int, int]] = []
    start = 0
    for line in text.split("\n"):
        head, colon, _ = line.partition(": ")
        for word in _WORD.finditer(head) if colon else ():
            account = accounts.get(word.group().casefold())
            if account is not None:
                at = length_of(text[: start + word.start()])
                found.append((at, length_of(word.group()), account))
        start += len(line) + 1
    return tuple(found)


def letters_of(message: OutboxMessage, media: Path, accounts: Mapping[str, int] = _NOBODY) -> list[Letter]:
    """The pieces in which a message goes out; its buttons stand under the last. `accounts` are those it may call."""
    text = f"{message.text}\n{POSSIBLY_REPEATED}" if message.doubtful else message.text
    document = media / message.document if message.document else None
    if document is not None and not document.is_file():
        log.error("message %d should carry a file that is not there", message.number)
        document = None
    pieces = in_pieces(text)
    first_reply = int(message.reply_to) if message.reply_to and message.reply_to.isdecimal() else None
    letters = [Letter(chat=message.chat, text=piece, mentions=mentions_in(piece, accounts)) for piece in pieces]
    if document is not None:
        if len(letters) == 1 and length_of(pieces[0]) <= CAPTION_LENGTH:
            letters = []
        caption = "" if letters else "".join(pieces)
        letters.append(Letter(chat=message.chat, text=caption, document=document))
    last = len(letters) - 1
    return [
        replace(
            one,
            buttons=message.buttons if place == last else (),
            reply_to=first_reply if place == 0 else None,
        )
        for place, one in enumerate(letters)
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class _NotYet:
    """It did not get its turn: back to the outbox, for so many seconds."""

    seconds: float


class Postman:
    """Empties the outbox of Telegram's chats until told to stop."""

    def __init__(
        self,
        store: Store,
        books: BooksThread,
        send: Send,
        clock: Callable[[], datetime],
        *,
        media: Path,
        pacer: Pacer | None = None,
        pace: float = 1.0,
        jitter: Callable[[], float] = lambda: random.uniform(1.0, 1.2),
    ) -> None:
        self._store, self._books, self._send, self._clock = store, books, send, clock
        self._media = media
        self._pace = pace  # what the pauses between looks and tries are multiplied with
        self._jitter = jitter  # and each pause by itself, so that what failed together does not come back together
        self._pacer = pacer or Pacer(Limits())
        self._on_the_wire = asyncio.Semaphore(SENDS_AT_ONCE)
        self._under_way: set[asyncio.Task[None]] = set()
        self._pieces_sent: dict[int, int] = {}
        self._tried: dict[tuple[int, type], int] = {}
        self._again_at: dict[int, datetime] = {}
        self._leftovers = True
        self.wake = asyncio.Event()

    async def run(self, stopping: asyncio.Event, *, alone: bool) -> None:
        """Delivers until we stop. `alone` says that no other postman lives: what was under way is then a leftover."""
        back_off, self._leftovers = BackOff(), self._leftovers and alone
        while not stopping.is_set():
            self.wake.clear()
            try:
                taken = await self._take()
                self._leftovers = False
                if not taken:
                    await self._rest(stopping)
                back_off.recover()
            except Exception:
                log.exception("the outbox cannot be read")
                await pause(back_off.next_pause(), stopping)
                continue
            for message in taken:
                self._again_at.pop(message.number, None)
                task = asyncio.create_task(self._deliver(message, stopping))
                self._under_way.add(task)
                task.add_done_callback(self._landed)
        if self._under_way:
            await asyncio.wait(self._under_way, timeout=LAST_SENDS_SECONDS)

    async def _take(self) -> Sequence[OutboxMessage]:
        room = CHATS_AT_ONCE - len(self._under_way)
        if room <= 0:
            return ()
        lease = {"lease": timedelta(0)} if self._leftovers else {}
        return await self._books(self._store.outbox_due, self._clock(), room, channel=CHANNEL, **lease)

    async def _rest(self, stopping: asyncio.Event) -> None:
        """Waits until something is posted, comes home or falls due."""
        next_at = await self._books(self._store.outbox_waits)
        now = self._clock()
        # What could go by its time and was not taken belongs to a chat that is busy or parked: it is not waited for.
        ahead = [(at - now).total_seconds() for at in (next_at, *self._again_at.values()) if at is not None]
        seconds = min([LOOKS_EVERY_SECONDS * self._pace, *(one + 0.01 for one in ahead if one > 0)])
        await first_of(_within(self.wake.wait(), seconds), stopping)

    def _landed(self, task: asyncio.Task[None]) -> None:
        self._under_way.discard(task)
        self.wake.set()
        if not task.cancelled() and (wrong := task.exception()) is not None:
            log.error("a message could not be settled and stays under way", exc_info=wrong)

    async def _deliver(self, message: OutboxMessage, stopping: asyncio.Event) -> None:
        try:
            outcome: Outcome | _NotYet = await self._send_pieces(message, stopping)
        except Exception as wrong:
            # A fault of ours before or while sending; whether anything left is not known.
            log.exception("message %d could not be sent", message.number)
            outcome = Unknown(why=f"{type(wrong).__name__}: {wrong}"[:300])
        for tried in range(1, 6):
            try:
                await self._books(self._settle, message, outcome)
                return
            except Exception:
                if tried == 5:
                    raise
                await asyncio.sleep(0.2 * tried * self._pace)

    async def _draw(self, message: OutboxMessage) -> None:
        """Draws the message's picture where it is not there yet; one that cannot be drawn leaves the words alone."""
        name = message.document
        if not name or (self._media / name).is_file():
            return
        try:
            facts = await self._books(facts_for, self._store, name)
            if facts is not None:
                await asyncio.to_thread(draw, name, facts, self._media)
        except Exception:
            log.exception("the picture of message %d cannot be drawn", message.number)

    async def _send_pieces(self, message: OutboxMessage, stopping: asyncio.Event) -> Outcome | _NotYet:
        """Sends what is left of a message, or as much as has its turn now."""
        group = message.chat.startswith("-")
        # Only what the bot says of its own accord calls people; whoever asked is looking already.
        calls = group and message.answers is None
        accounts = await self._books(self._accounts, message.crew) if calls else _NOBODY
        await self._draw(message)
        letters = letters_of(message, self._media, accounts)
        sent: Outcome = Refused(why="an empty message")
        for place, letter in enumerate(letters):
            if place < self._pieces_sent.get(message.number, 0):
                continue
            time = asyncio.get_running_loop().time()
            ahead = self._pacer.wait_for(message.chat, time, group=group)
            if ahead > PATIENCE_SECONDS:
                return _NotYet(seconds=ahead)
            wait = self._pacer.book(message.chat, time, group=group)
            if wait > 0:
                await pause(wait, stopping)
            async with self._on_the_wire:
                if stopping.is_set():
                    return _NotYet(seconds=0)
                sent = await self._send(letter)
            if not isinstance(sent, Sent):
                return sent
            self._pieces_sent[message.number] = place + 1
        return sent

    def _accounts(self, crew: int) -> Mapping[str, int]:
        with self._store.reading(crew) as books:
            members = books.members()
        return {
            one.name.casefold(): int(one.user_id)
            for one in members
            if one.channel == CHANNEL and one.user_id is not None and one.user_id.isdecimal()
        }

    def _settle(self, message: OutboxMessage, outcome: Outcome | _NotYet) -> None:
        """Writes what came of it; runs on the thread of the books."""
        if isinstance(outcome, _NotYet):
            self._again_at[message.number] = again_at = self._clock() + timedelta(seconds=outcome.seconds)
            self._store.outbox_state(message.number, "waiting", retry_at=again_at)
            return
        kind = (message.number, type(outcome))
        tried = self._tried[kind] = self._tried.get(kind, 0) + 1
        pause_seconds = pause_before(outcome, tried)
        retry_at = None
        if pause_seconds is not None:
            retry_at = self._clock() + timedelta(seconds=pause_seconds * self._pace * self._jitter())
            self._again_at[message.number] = retry_at
        number = message.number
        match outcome:
            case Sent():
                self._store.outbox_state(number, "sent", at=self._clock(), sent_message_id=outcome.message_id)
            case Wait():
                # What the channel asks for is never shortened.
                asked = self._clock() + timedelta(seconds=outcome.seconds)
                self._store.outbox_state(
                    number, "waiting", retry_at=max(asked, retry_at or asked), trouble=f"wait {outcome.seconds:g} s"
                )
            case NotSent():
                self._store.outbox_state(number, "waiting", retry_at=retry_at, trouble=outcome.why)
            case Unknown():
                self._store.outbox_state(number, "unknown", retry_at=retry_at, trouble=outcome.why)
            case Refused():
                log.error("message %d was refused: %s", number, outcome.why)
                self._store.outbox_state(number, "refused", trouble=outcome.why)
            case Unreachable():
                log.warning("a chat cannot be reached and is parked: %s", outcome.why)
                self._store.outbox_state(number, "unreachable", at=self._clock(), trouble=outcome.why)
            case Moved():
                move_group(self._store, message.chat, outcome.chat)
                self._store.outbox_state(number, "waiting", trouble="the group has another number")
            case _:
                assert_never(outcome)
        if pause_seconds is None:
            self._pieces_sent.pop(number, None)
            for key in [key for key in self._tried if key[0] == number]:
                del self._tried[key]


async def _within(work: Awaitable[object], seconds: float) -> None:
    try:
        await asyncio.wait_for(work, timeout=seconds)
    except TimeoutError:
        return
