"""How does Telegram bring updates to us by itself? A small HTTP door, for a proxy that speaks TLS to stand before.

Rules
1. An update is answered with 200 when it is committed, and not before; anything else makes Telegram bring it again
   (Bot API, `setWebhook`).
2. Who does not know the secret is turned away before a word of the body is read.
3. A request is bounded in its size and in its time, and a door in how many stand in it.
"""

from __future__ import annotations

import asyncio
import hashlib
import hmac
import json
import logging
import re
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlsplit

from bot.settings import BadSetting

log = logging.getLogger("benchhand.webhook")

SECRET_HEADER = "x-telegram-bot-api-secret-token"
LARGEST_HEAD = 16_384
LARGEST_BODY = 1_048_576
SECONDS_A_REQUEST = 60.0
SECONDS_OF_SILENCE = 75.0
AT_ONCE = 64
_WORDS = {200: "OK", 400: "Bad Request", 401: "Unauthorized", 405: "Method Not Allowed", 413: "Content Too Large",
          500: "Internal Server Error", 503: "Service Unavailable"}  # fmt: skip

_SECRET = re.compile(r"[A-Za-z0-9_-]{1,256}")

Take = Callable[[Any], Awaitable[None]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    method: str
    headers: dict[str, str]
    body: bytes


class _Turned(Exception):
    """A request that is answered with a status and no more."""

    def __init__(self, status: int) -> None:
        super().__init__(status)
        self.status = status


def secret_for(token: str, given: str | None) -> str:
    """The secret that Telegram sends along: the one set, else one made of the token, the same on every machine."""
    return given or hashlib.sha256(f"benchhand webhook {token}".encode()).hexdigest()


def read_listen(text: str) -> tuple[str, int]:
    """Host and port to listen on. Raises BadSetting."""
    host, colon, port = text.rpartition(":")
    if not colon or not port.isdecimal() or int(port) > 65535:
        raise BadSetting(f"BENCHHAND_WEBHOOK_LISTEN={text}: write it like 127.0.0.1:8443")
    return host.strip("[]") or "127.0.0.1", int(port)


def check_webhook(url: str, listen: str, secret: str | None) -> None:
    """Raises BadSetting where Telegram would not take these (Bot API, `setWebhook`)."""
    if urlsplit(url).scheme != "https" or not urlsplit(url).hostname:
        raise BadSetting("BENCHHAND_WEBHOOK_URL must be an https address, of a proxy that passes requests on to us")
    if secret is not None and not _SECRET.fullmatch(secret):
        raise BadSetting("BENCHHAND_WEBHOOK_SECRET may hold up to 256 letters, figures, _ and -")
    read_listen(listen)


class WebhookDoor:
    """Listens, and hands each update to `take`; `port` is known once it is open."""

    def __init__(self, take: Take, secret: str, listen: str) -> None:
        self._take, self._secret = take, secret
        self._host, self._asked_port = read_listen(listen)
        self._inside: set[asyncio.Task[None]] = set()
        self._one_at_a_time = asyncio.Lock()
        self._server: asyncio.Server | None = None
        self.port = self._asked_port

    async def open(self) -> None:
        """Begins to listen. Raises BadSetting where the address cannot be had."""
        try:
            self._server = await asyncio.start_server(
                self._meet, self._host, self._asked_port, limit=LARGEST_HEAD, reuse_address=True
            )
        except OSError as wrong:
            raise BadSetting(f"cannot listen on {self._host}:{self._asked_port}: {wrong.strerror}") from None
        self.port = self._server.sockets[0].getsockname()[1]

    async def close(self) -> None:
        """Listens no more, and waits for the update in hand."""
        if self._server is not None:
            self._server.close()
        async with self._one_at_a_time:
            for task in self._inside:
                task.cancel()
        await asyncio.gather(*self._inside, return_exceptions=True)

    async def _meet(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        task = asyncio.current_task()
        assert task is not None
        if len(self._inside) >= AT_ONCE:
            await _answer(writer, 503, stay=False)
            writer.close()
            return
        self._inside.add(task)
        try:
            while await self._serve_one(reader, writer):
                pass
        except (OSError, TimeoutError, EOFError, asyncio.LimitOverrunError):
            pass  # whoever went away, or says nothing, is not answered
        finally:
            self._inside.discard(task)
            writer.close()

    async def _serve_one(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> bool:
        """Answers one request; False where the connection ends with it."""
        head = await asyncio.wait_for(reader.readuntil(b"\r\n\r\n"), timeout=SECONDS_OF_SILENCE)
        try:
            asked = await asyncio.wait_for(self._read(head, reader), timeout=SECONDS_A_REQUEST)
            status = await self._hear(asked.body)
        except _Turned as turned:
            await _answer(writer, turned.status, stay=False)
            return False
        await _answer(writer, status, stay=True)
        return asked.headers.get("connection", "").casefold() != "close"

    async def _read(self, head: bytes, reader: asyncio.StreamReader) -> _Asked:
        first, *lines = head.decode("latin-1").rstrip("\r\n").split("\r\n")
        headers = {name.strip().casefold(): value.strip() for name, _, value in (line.partition(":") for line in lines)}
        known = hmac.compare_digest(headers.get(SECRET_HEADER, "").encode(), self._secret.encode())
        if not known:
            raise _Turned(401)
        if first.split(" ")[0] != "POST":
            raise _Turned(405)
        length = headers.get("content-length", "")
        if not (length.isascii() and length.isdecimal()) or "transfer-encoding" in headers:
            raise _Turned(400)
        if len(length) > 9 or int(length) > LARGEST_BODY:
            raise _Turned(413)
        return _Asked(method="POST", headers=headers, body=await reader.readexactly(int(length)))

    async def _hear(self, body: bytes) -> int:
        try:
            raw = json.loads(body.decode("utf-8", errors="replace"))
        except ValueError:
            raw = body.decode("utf-8", errors="replace")
        try:
            # In the order they came: two updates of one chat must not overtake one another.
            async with self._one_at_a_time:
                await self._take(raw)
        except Exception:
            log.exception("an update could not be written; Telegram brings it again")
            return 500
        return 200


async def _answer(writer: asyncio.StreamWriter, status: int, *, stay: bool) -> None:
    kept = "keep-alive" if stay else "close"
    head = f"HTTP/1.1 {status} {_WORDS[status]}\r\nContent-Length: 0\r\nConnection: {kept}\r\n\r\n"
    writer.write(head.encode())
    await writer.drain()
