"""How is Telegram reached? The one door to python-telegram-bot: an Application, raw updates, and sending as outcomes.

Rules
1. The order of the errors matters: `BadRequest` and `TimedOut` are kinds of `NetworkError`, and a timeout of the
   connection or of the pool means not sent, while a timeout of the answer means unknown.
2. Updates are asked for as raw JSON, so that one that cannot be read does not stop those after it.
"""

from __future__ import annotations

import json
import warnings
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta
from ipaddress import ip_address
from pathlib import Path
from typing import Any
from urllib.parse import urlencode, urlsplit

import httpx
from telegram import (
    InlineKeyboardButton,
    InlineKeyboardMarkup,
    InputFile,
    MessageEntity,
    ReplyParameters,
    User,
)
from telegram import error as errors
from telegram.ext import Application
from telegram.request import HTTPXRequest
from telegram.warnings import PTBDeprecationWarning

from bot.outcomes import Moved, NotSent, Outcome, Refused, Sent, Unknown, Unreachable, Wait
from core.errors import BenchError

AnyApplication = Application[Any, Any, Any, Any, Any, Any]
Buttons = tuple[tuple[str, str], ...]

KINDS = ("message", "edited_message", "callback_query", "my_chat_member")
LONG_POLL_SECONDS = 25
SENDS_AT_ONCE = 8
CAPTION_LENGTH = 1024
_NEVER_LEFT = (httpx.ConnectError, httpx.ConnectTimeout, httpx.PoolTimeout, httpx.UnsupportedProtocol)
# What Telegram says of a chat that takes no messages; its errors have no codes (seen in its answers, from memory).
_NO_WAY_IN = (
    "chat not found", "not enough rights", "have no rights", "user is deactivated", "bot was kicked",
    "need administrator rights", "group chat was deactivated", "chat_write_forbidden", "peer_id_invalid",
    "bot is not a member", "chat_restricted", "topic_closed",
)  # fmt: skip


class PollFailed(BenchError):
    """The next updates could not be had; `wait_seconds` is what Telegram asked for, where it did."""

    def __init__(self, message: str, *, wait_seconds: float | None = None, conflict: bool = False) -> None:
        super().__init__(message)
        self.wait_seconds = wait_seconds
        self.conflict = conflict


class BadToken(BenchError):
    """Telegram does not know this token."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """One sending: a piece of text with what hangs on it; a mention is (start, length, account) in UTF-16 units."""

    chat: str
    text: str
    buttons: Buttons = ()
    reply_to: int | None = None
    document: Path | None = None
    mentions: tuple[tuple[int, int, int], ...] = ()


def build_application(token: str, api: str) -> tuple[AnyApplication, Asker]:
    """python-telegram-bot's Application without its updater and its job queue, and what asks for updates instead.

    Both connections are opened and closed by the application.
    """
    sending = HTTPXRequest(
        connection_pool_size=SENDS_AT_ONCE + 8, connect_timeout=10, read_timeout=20, write_timeout=20, pool_timeout=30,
        **_options(api),
    )  # fmt: skip
    asking = HTTPXRequest(
        connection_pool_size=2, connect_timeout=10, read_timeout=LONG_POLL_SECONDS + 10, pool_timeout=5, **_options(api)
    )
    # The library warns of a change in `retry_after` each time it makes one; `seconds_to_wait` knows both forms.
    warnings.filterwarnings("ignore", message=".*retry_after.*timedelta", category=PTBDeprecationWarning)
    builder = Application.builder().token(token).base_url(f"{api}/bot").base_file_url(f"{api}/file/bot")
    built = builder.updater(None).job_queue(None).request(sending).get_updates_request(asking).build()
    return built, Asker(asking, f"{api}/bot{token}/getUpdates")


def _options(api: str) -> dict[str, Any]:
    """No proxy of the environment's stands before an address on this machine."""
    return {"httpx_kwargs": {"trust_env": False}} if _on_this_machine(api) else {}


def _on_this_machine(api: str) -> bool:
    host = urlsplit(api).hostname or ""
    try:
        return host == "localhost" or ip_address(host).is_loopback
    except ValueError:
        return False


class Asker:
    """Asks for updates over a connection of its own."""

    def __init__(self, request: HTTPXRequest, address: str) -> None:
        self._request, self._address = request, address

    async def ask(self, offset: int | None, *, wait_seconds: int = LONG_POLL_SECONDS, limit: int = 100) -> list[Any]:
        """The next updates as raw JSON values. Asking confirms all that come before `offset`. Raises PollFailed."""
        query: dict[str, Any] = {"timeout": wait_seconds, "limit": limit, "allowed_updates": json.dumps(KINDS)}
        if offset is not None:
            query["offset"] = offset
        try:
            body = await self._request.retrieve(f"{self._address}?{urlencode(query)}")
        except errors.RetryAfter as wrong:
            raise PollFailed("asked to wait", wait_seconds=seconds_to_wait(wrong)) from None
        except errors.Conflict:
            raise PollFailed("another process asks for this bot's messages", conflict=True) from None
        except errors.InvalidToken:
            raise BadToken("Telegram does not accept the token", hint="ask @BotFather for it again") from None
        except errors.TelegramError as wrong:
            raise PollFailed(type(wrong).__name__) from None
        return _updates_in(body)


def _updates_in(body: bytes) -> list[Any]:
    try:
        told = json.loads(body.decode("utf-8", errors="replace"))
    except ValueError:
        raise PollFailed("an answer that is no JSON") from None
    updates = told.get("result") if isinstance(told, dict) else None
    if not isinstance(updates, list):
        raise PollFailed("an answer without updates")
    return updates


def seconds_to_wait(wrong: errors.RetryAfter) -> float:
    """The seconds a flood answer asks for; the library has them as a number now and as a timedelta later."""
    stored: Any = getattr(wrong, "_retry_after", None) or wrong.retry_after
    return float(stored.total_seconds() if isinstance(stored, timedelta) else stored)


def outcome_of(wrong: errors.TelegramError) -> Outcome:
    """What an error of the library means for the message that was being sent."""
    why = f"{type(wrong).__name__}: {wrong.message}"[:300]
    match wrong:
        case errors.RetryAfter():
            return Wait(seconds=seconds_to_wait(wrong))
        case errors.ChatMigrated():
            return Moved(chat=str(wrong.new_chat_id))
        case errors.Forbidden():
            return Unreachable(why=why)
        case errors.InvalidToken() | errors.Conflict():
            return NotSent(why=why)
        case errors.BadRequest():
            told = wrong.message.casefold()
            return Unreachable(why=why) if any(words in told for words in _NO_WAY_IN) else Refused(why=why)
        case errors.NetworkError() if isinstance(wrong.__cause__, _NEVER_LEFT):
            return NotSent(why=why)
        case errors.NetworkError():
            return Unknown(why=why)
        case _:
            return Unknown(why=why)


async def send_letter(application: AnyApplication, letter: Letter) -> Outcome:
    """Sends one piece and says how it came out; an error of Telegram's is an outcome, not an exception."""
    try:
        sent = await _send(application, letter)
    except errors.TelegramError as wrong:
        outcome = outcome_of(wrong)
        bare = not (letter.buttons or letter.mentions or letter.reply_to or letter.document)
        if not isinstance(outcome, Refused) or bare or not letter.text:
            return outcome
        # The words must come, even where something that hangs on them is refused.
        return await send_letter(application, Letter(chat=letter.chat, text=letter.text))
    except (KeyError, TypeError, ValueError) as wrong:
        return Unknown(why=f"an answer that could not be read: {wrong!r}"[:300])
    return Sent(message_id=str(sent.message_id))


async def _send(application: AnyApplication, letter: Letter) -> Any:
    chat = int(letter.chat)
    more: dict[str, Any] = {"reply_markup": keyboard(letter.buttons)}
    if letter.reply_to is not None:
        more["reply_parameters"] = ReplyParameters(message_id=letter.reply_to, allow_sending_without_reply=True)
    if letter.document is None:
        entities = [_mention(*one) for one in letter.mentions] or None
        return await application.bot.send_message(chat_id=chat, text=letter.text, entities=entities, **more)
    with letter.document.open("rb") as opened:
        file = InputFile(opened, filename=letter.document.name)
    if letter.document.suffix.lower() in (".png", ".jpg", ".jpeg"):
        return await application.bot.send_photo(chat_id=chat, photo=file, caption=letter.text or None, **more)
    return await application.bot.send_document(chat_id=chat, document=file, caption=letter.text or None, **more)


def _mention(start: int, length: int, account: int) -> MessageEntity:
    user = User(id=account, first_name="", is_bot=False)
    return MessageEntity(type=MessageEntity.TEXT_MENTION, offset=start, length=length, user=user)


def keyboard(buttons: Sequence[tuple[str, str]]) -> InlineKeyboardMarkup | None:
    """Buttons under a message: short labels three to a row, long ones a row each."""
    if not buttons:
        return None
    rows: list[list[InlineKeyboardButton]] = [[]]
    for label, token in buttons:
        room = 36 - sum(len(one.text) + 4 for one in rows[-1])
        if rows[-1] and (len(rows[-1]) == 3 or len(label) + 4 > room):
            rows.append([])
        rows[-1].append(InlineKeyboardButton(label, callback_data=token))
    return InlineKeyboardMarkup(rows)


async def open_application(application: AnyApplication, commands: Sequence[tuple[str, str]]) -> tuple[int, str]:
    """Makes the application ready and returns the bot's account and name. Raises the library's TelegramError."""
    await application.initialize()
    bot = application.bot
    with suppress(errors.TelegramError):
        await bot.set_my_commands(list(commands))
    return bot.id, bot.username


async def choose_polling(application: AnyApplication) -> None:
    """Polling and a webhook exclude each other: no webhook from now on. What waits is kept. Raises TelegramError."""
    await application.bot.delete_webhook(drop_pending_updates=False)


async def choose_webhook(application: AnyApplication, url: str, secret: str) -> None:
    """Updates come to this address, one at a time so that they keep their order. Raises TelegramError."""
    await application.bot.set_webhook(
        url, secret_token=secret, max_connections=1, allowed_updates=list(KINDS), drop_pending_updates=False
    )


async def fetch_file(application: AnyApplication, file_id: str) -> bytes | str | None:
    """A file's content; words where Telegram will never give it; None where it may be had later."""
    try:
        file = await application.bot.get_file(file_id)
        return bytes(await file.download_as_bytearray())
    except errors.TelegramError as wrong:
        match outcome_of(wrong):
            case Refused(why=why) | Unreachable(why=why):
                return why
            case _:
                return None


async def answer_press(
    application: AnyApplication, query: str, *, chat: str, under: str, left: Buttons, changed: bool
) -> None:
    """Ends the waiting sign on a pressed button and takes away the buttons that are settled. Best effort."""
    bot = application.bot
    with suppress(errors.TelegramError):
        await bot.answer_callback_query(query)
    if changed:
        with suppress(errors.TelegramError):
            await bot.edit_message_reply_markup(chat_id=int(chat), message_id=int(under), reply_markup=keyboard(left))


__all__ = [
    "AnyApplication", "Asker", "BadToken", "Letter", "PollFailed", "answer_press", "build_application",
    "choose_polling", "choose_webhook", "fetch_file", "keyboard", "open_application", "outcome_of", "seconds_to_wait",
    "send_letter",
]  # fmt: skip
