"""A stand-in for Telegram's Bot API on this machine: real HTTP on 127.0.0.1, with faults as a test scripts them.

What it does is written after Telegram's own description of the methods (https://core.telegram.org/bots/api):
`getUpdates` confirms every update whose number is below the offset and waits for a new one as long as it is asked to,
here a second at most; a group that became a supergroup answers with `migrate_to_chat_id`; a flood answer is a 429 with
`retry_after`.
"""

from __future__ import annotations

import email.parser
import email.policy
import json
import socket
import struct
import threading
import time
from collections import defaultdict, deque
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qsl, unquote, urlsplit

TOKEN = "4242:AAstand-in-token-of-our-own-invention"
ACCOUNT = 4242
USERNAME = "plover_bench_bot"
LONGEST_POLL_SECONDS = 1.0
MOST_CALLS = 20_000


@dataclass(frozen=True)
class Fault:
    """What happens instead of an answer: a status, a reset before anything is done, or an answer that is lost."""

    status: int = 0
    description: str = "made to fail"
    parameters: dict[str, Any] = field(default_factory=dict)
    kind: str = "status"  # status | reset | lost | babble


@dataclass(frozen=True)
class Call:
    """One call as it came in, and when (seconds of the monotonic clock)."""

    method: str
    fields: dict[str, Any]
    at: float


class BotApi:
    """What Telegram knows: updates that wait, messages that arrived, chats that are closed or moved."""

    def __init__(self, token: str = TOKEN) -> None:
        self.token = token
        self.calls: list[Call] = []
        self.arrived: list[dict[str, Any]] = []
        self.faults: dict[str, deque[Fault]] = defaultdict(deque)
        self.batches: deque[list[Any]] = deque()
        self.blocked: set[int] = set()
        self.moved: dict[int, int] = {}
        self.files: dict[str, bytes] = {}
        self._waiting: list[dict[str, Any]] = []
        self._news = threading.Condition()
        self._next_message = 5000
        self._server = _Server(("127.0.0.1", 0), _Answerer)
        self._server.api = self
        self.address = f"http://127.0.0.1:{self._server.server_address[1]}"
        self._thread = threading.Thread(target=self._server.serve_forever, args=(0.02,), daemon=True)
        self._thread.start()

    def close(self) -> None:
        self._server.shutdown()
        self._server.server_close()

    # -- what a test does

    def put(self, *updates: Any) -> None:
        """Lets updates wait to be asked for."""
        with self._news:
            self._waiting += updates
            self._news.notify_all()

    def put_batch(self, batch: list[Any]) -> None:
        """The next answer to `getUpdates` is this, whatever its order and numbers."""
        with self._news:
            self.batches.append(batch)
            self._news.notify_all()

    def fail(self, method: str, *faults: Fault) -> None:
        """The next calls of a method fail like this."""
        with self._news:
            self.faults[method].extend(faults)

    def unconfirmed(self) -> int:
        with self._news:
            return len(self._waiting)

    def texts(self, chat: int | None = None) -> list[str]:
        """The words that arrived, in order."""
        with self._news:
            return [one["text"] for one in self.arrived if chat is None or one["chat"] == chat]

    def called(self, method: str) -> list[Call]:
        with self._news:
            return [call for call in self.calls if call.method == method]

    # -- what Telegram does

    def answer(self, method: str, fields: dict[str, Any]) -> tuple[Fault | None, Any]:
        """The result of a call, and the fault that befalls it."""
        with self._news:
            if len(self.calls) < MOST_CALLS:
                self.calls.append(Call(method, fields, time.monotonic()))
            fault = self.faults[method].popleft() if self.faults[method] else None
            if fault is not None and fault.kind != "lost":
                return fault, None
            act = getattr(self, f"_{method}", None)
            if act is None:
                return Fault(status=404, description="Not Found"), None
            result = act(fields)
            return (result, None) if isinstance(result, Fault) else (fault, result)

    def _getMe(self, fields: dict[str, Any]) -> Any:
        return {"id": ACCOUNT, "is_bot": True, "first_name": "Bench", "username": USERNAME}

    def _deleteWebhook(self, fields: dict[str, Any]) -> Any:
        return True

    _setMyCommands = _answerCallbackQuery = _setWebhook = _deleteWebhook

    def _getUpdates(self, fields: dict[str, Any]) -> Any:
        offset = int(fields.get("offset") or 0)
        limit = int(fields.get("limit") or 100)
        self._waiting = [one for one in self._waiting if _number(one) is None or _number(one) >= offset]
        until = time.monotonic() + min(float(fields.get("timeout") or 0), LONGEST_POLL_SECONDS)
        while not self.batches and not self._waiting:
            left = until - time.monotonic()
            if left <= 0 or not self._news.wait(left):
                break
        if self.batches:
            return self.batches.popleft()
        return self._waiting[:limit]

    def _sendMessage(self, fields: dict[str, Any]) -> Any:
        return self._arrive(fields, fields.get("text", ""))

    def _sendDocument(self, fields: dict[str, Any]) -> Any:
        return self._arrive(fields, fields.get("caption", ""))

    _sendPhoto = _sendDocument

    def _arrive(self, fields: dict[str, Any], text: str) -> Any:
        chat = int(fields["chat_id"])
        if chat in self.blocked:
            return Fault(status=403, description="Forbidden: bot was blocked by the user")
        if chat in self.moved:
            return Fault(
                status=400,
                description="Bad Request: group chat was upgraded to a supergroup chat",
                parameters={"migrate_to_chat_id": self.moved[chat]},
            )
        if len(text.encode("utf-16-le")) // 2 > 4096:
            return Fault(status=400, description="Bad Request: message is too long")
        self._next_message += 1
        keyboard = json.loads(fields["reply_markup"])["inline_keyboard"] if fields.get("reply_markup") else []
        self.arrived.append(
            {
                "chat": chat, "text": text, "message_id": self._next_message, "fields": fields,
                "buttons": [(one["text"], one["callback_data"]) for row in keyboard for one in row],
                "keyboard": keyboard, "at": time.monotonic(),
            }
        )  # fmt: skip
        kind = "private" if chat > 0 else "supergroup"
        return {"message_id": self._next_message, "date": 1_770_000_000, "chat": {"id": chat, "type": kind}}

    def _editMessageReplyMarkup(self, fields: dict[str, Any]) -> Any:
        return True

    def _getFile(self, fields: dict[str, Any]) -> Any:
        if fields["file_id"] not in self.files:
            return Fault(status=400, description="Bad Request: invalid file_id")
        return {"file_id": fields["file_id"], "file_unique_id": "u", "file_path": f"photos/{fields['file_id']}.jpg"}


def _number(update: Any) -> Any:
    return update.get("update_id") if isinstance(update, dict) else None


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    request_queue_size = 64
    api: BotApi

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A client that is killed leaves broken connections; that is what some tests are about."""


class _Answerer(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    timeout = 60
    server: _Server

    def log_message(self, format: str, *arguments: Any) -> None:
        pass

    def do_GET(self) -> None:
        self._answer()

    def do_POST(self) -> None:
        self._answer()

    def _answer(self) -> None:
        api = self.server.api
        address = urlsplit(self.path)
        body = self.rfile.read(min(int(self.headers.get("Content-Length") or 0), 2_000_000))
        path = unquote(address.path)
        if path.startswith(f"/file/bot{api.token}/"):
            content = api.files.get(path.rpartition("/")[2].removesuffix(".jpg"), b"")
            self._write(200, content, "image/jpeg")
            return
        if not path.startswith(f"/bot{api.token}/"):
            self._say(Fault(status=401, description="Unauthorized"), None)
            return
        fields = {**dict(parse_qsl(address.query)), **_fields_of(self.headers.get("Content-Type", ""), body)}
        fault, result = api.answer(path.rpartition("/")[2], fields)
        if fault is not None and fault.kind in ("reset", "lost"):
            self.connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            self.close_connection = True
            self.connection.close()
            return
        if fault is not None and fault.kind == "babble":
            self._write(200, b"<html>not what was asked", "text/html")
            return
        self._say(fault, result)

    def _say(self, fault: Fault | None, result: Any) -> None:
        told: dict[str, Any] = {"ok": fault is None}
        if fault is None:
            told["result"] = result
        else:
            told |= {"error_code": fault.status, "description": fault.description}
            if fault.parameters:
                told["parameters"] = fault.parameters
        self._write(200 if fault is None else fault.status, json.dumps(told).encode(), "application/json")

    def _write(self, status: int, content: bytes, kind: str) -> None:
        try:
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(content)))
            self.end_headers()
            self.wfile.write(content)
        except OSError:
            self.close_connection = True


def _fields_of(kind: str, body: bytes) -> dict[str, Any]:
    if kind.startswith("multipart/form-data"):
        parser = email.parser.BytesParser(policy=email.policy.HTTP)
        parts = parser.parsebytes(b"Content-Type: " + kind.encode() + b"\r\n\r\n" + body)
        found: dict[str, Any] = {}
        for part in parts.iter_parts():
            name = part.get_param("name", header="content-disposition")
            content = part.get_payload(decode=True)
            found[str(name)] = part.get_filename() or (content.decode() if isinstance(content, bytes) else "")
        return found
    return dict(parse_qsl(body.decode(), keep_blank_values=True))
