"""Updates that Telegram brings by itself: the secret, the bounds, and 200 only for what is committed."""

from __future__ import annotations

import asyncio
import dataclasses
import json
import re
from collections.abc import AsyncIterator
from typing import Any

import httpx
import pytest

from bot.settings import BadSetting
from bot.webhook import LARGEST_BODY, WebhookDoor, check_webhook, read_listen, secret_for
from tests.bot.conftest import LEAD, Serving

SECRET = "a-secret-of-the-tests"
KNOWN = {"X-Telegram-Bot-Api-Secret-Token": SECRET}


class Door:
    """An open door, what came in, and whether it can be written."""

    def __init__(self) -> None:
        self.came: list[Any] = []
        self.broken = False
        self.door = WebhookDoor(self._take, SECRET, "127.0.0.1:0")

    async def _take(self, raw: Any) -> None:
        if self.broken:
            raise OSError("the database is away")
        self.came.append(raw)


@pytest.fixture
async def door() -> AsyncIterator[Door]:
    opened = Door()
    await opened.door.open()
    yield opened
    await opened.door.close()


async def send(door: Door, body: bytes, *, method: str = "POST", headers: dict[str, str] | None = None) -> int:
    async with httpx.AsyncClient(trust_env=False) as client:
        answer = await client.request(
            method, f"http://127.0.0.1:{door.door.port}/", content=body, headers=KNOWN if headers is None else headers
        )
    return answer.status_code


async def send_raw(door: Door, words: bytes) -> bytes:
    reader, writer = await asyncio.open_connection("127.0.0.1", door.door.port)
    writer.write(words)
    answer = await asyncio.wait_for(reader.read(), timeout=5)
    writer.close()
    return answer


async def test_only_who_knows_the_secret_is_heard(door: Door) -> None:
    update = json.dumps({"update_id": 1}).encode()
    assert await send(door, update, headers={}) == 401
    assert await send(door, update, headers={"X-Telegram-Bot-Api-Secret-Token": "another"}) == 401
    assert door.came == []
    assert await send(door, update) == 200
    assert door.came == [{"update_id": 1}]


async def test_requests_are_bounded_and_broken_ones_turned_away(door: Door) -> None:
    assert await send(door, b"", method="GET") == 405
    assert await send(door, b"x" * (LARGEST_BODY + 1)) == 413
    for length in ("two", "-1", "\xb2", ""):
        head = f"POST / HTTP/1.1\r\nX-Telegram-Bot-Api-Secret-Token: {SECRET}\r\nContent-Length: {length}\r\n\r\n"
        assert (await send_raw(door, head.encode("latin-1"))).startswith(b"HTTP/1.1 400 ")
    assert await send_raw(door, b"no http at all\r\n\r\n") != b""
    assert door.came == []
    # What is no JSON is kept as refused by the taker, and confirmed.
    assert await send(door, b"\xff{not json") == 200
    assert door.came == ["\ufffd{not json"]


async def test_what_cannot_be_written_is_brought_again(door: Door) -> None:
    door.broken = True
    assert await send(door, b"{}") == 500
    door.broken = False
    assert await send(door, b"{}") == 200


async def test_a_note_comes_in_by_the_door_and_its_receipt_goes_out(serving: Serving) -> None:
    serving.settings = dataclasses.replace(
        serving.settings, webhook_url="https://bench.example/hook", webhook_secret=SECRET
    )
    async with serving.under_way():
        await serving.until(lambda: "Listening" in serving.out.getvalue())
        chosen = serving.api.called("setWebhook")[0].fields
        assert (chosen["url"], chosen["secret_token"]) == ("https://bench.example/hook", SECRET)
        assert chosen["max_connections"] == "1"
        port = re.search(r"port (\d+)", serving.out.getvalue())
        assert port is not None
        async with httpx.AsyncClient(trust_env=False, base_url=f"http://127.0.0.1:{port[1]}", headers=KNOWN) as client:
            join, note = serving.mail.say(LEAD, serving.code()), serving.mail.say(LEAD, "misted tray 2")
            for update in (join, note, note, {"update_id": 5, "message": {"text": "no date"}}):
                assert (await client.post("/hook", json=update)).status_code == 200
        assert serving.acts() == ["water"]
        assert len(serving.refused()) == 1
        await serving.until(lambda: len(serving.api.texts(LEAD)) == 2)
    assert serving.api.called("getUpdates") == []


def test_settings_that_telegram_would_not_take_are_refused() -> None:
    assert read_listen("0.0.0.0:8443") == ("0.0.0.0", 8443)
    assert read_listen("[::1]:8443") == ("::1", 8443)
    for listen in ("8443", "host:", "host:99999", "host:x"):
        with pytest.raises(BadSetting):
            read_listen(listen)
    check_webhook("https://bench.example/hook", "127.0.0.1:8443", None)
    for url, secret in (("http://bench.example/", None), ("https://", None), ("https://x.example/", "with blank ")):
        with pytest.raises(BadSetting):
            check_webhook(url, "127.0.0.1:8443", secret)
    assert secret_for("1:a", None) != secret_for("1:b", None)
    check_webhook("https://x.example/", "127.0.0.1:1", secret_for("1:a", None))
