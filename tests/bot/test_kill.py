"""kill -9 in the middle of a backlog: nothing is lost, nothing doubled, and the next start goes on with the rest."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

import pytest

from bot.postman import CHATS_AT_ONCE
from bot.wording.delivery import POSSIBLY_REPEATED
from core.storage import Store, open_store
from tests.bot.bot_api_stand_in import TOKEN, BotApi
from tests.bot.conftest import ZONE
from tests.bot.updates import Mail

ROOT = Path(__file__).parents[2]
MEMBERS, NOTES_EACH = 60, 5
KILLS_AT = (15, 110, 200)  # how many messages have arrived when the next kill comes


class Process:
    """A real `benchhand serve`, and its end by force."""

    def __init__(self, api: BotApi, folder: Path, errors: IO[str]) -> None:
        environment = os.environ | {
            "BENCHHAND_TELEGRAM_TOKEN": TOKEN, "BENCHHAND_TELEGRAM_API": api.address,
            "BENCHHAND_DATABASE_URL": f"sqlite:///{folder / 'bench.db'}", "BENCHHAND_MEDIA": str(folder / "media"),
        }  # fmt: skip
        self.process = subprocess.Popen(
            [sys.executable, "-m", "bot", "serve"], cwd=ROOT, env=environment, stdout=subprocess.DEVNULL, stderr=errors
        )

    def end(self, number: signal.Signals) -> int:
        self.process.send_signal(number)
        return self.process.wait(timeout=20)


@pytest.fixture
def errors(tmp_path: Path) -> Iterator[IO[str]]:
    with (tmp_path / "errors.txt").open("w+") as opened:
        yield opened


def until(what: object, seconds: float, errors: IO[str], every: float = 0.005) -> None:
    end = time.monotonic() + seconds
    while not what():  # type: ignore[operator]
        if time.monotonic() > end:
            errors.seek(0)
            raise AssertionError(f"never came to be\n{errors.read()[-2000:]}")
        time.sleep(every)


def crew_of(store: Store) -> None:
    crew = store.found_crew("Plover Landing", ZONE, "a-code")
    with store.books(crew.number) as books:
        for member in range(1, MEMBERS + 1):
            role = "lead" if member == 1 else "member"
            books.join(f"person{member}", "telegram", str(member), role, private_chat=str(member))


def test_a_backlog_of_300_survives_kill_9(tmp_path: Path, api: BotApi, errors: IO[str]) -> None:
    store = open_store(f"sqlite:///{tmp_path / 'bench.db'}")
    crew_of(store)
    mail = Mail()
    notes = [
        mail.say(member, f"misted tray {number * MEMBERS + member}")
        for number in range(NOTES_EACH)
        for member in range(1, MEMBERS + 1)
    ]
    api.put(*notes)
    for arrived in KILLS_AT:
        serving = Process(api, tmp_path, errors)
        until(lambda arrived=arrived: len(api.arrived) >= arrived, 30, errors)  # type: ignore[misc]
        assert serving.end(signal.SIGKILL) == -signal.SIGKILL
    polled = len(api.called("getUpdates"))
    serving = Process(api, tmp_path, errors)
    until(lambda: len(api.called("getUpdates")) > polled, 30, errors)
    second = Process(api, tmp_path, errors)
    assert second.process.wait(timeout=30) == 2  # only one may poll with a token
    until(lambda: not api.unconfirmed() and not waiting(store), 60, errors, every=0.2)
    assert serving.end(signal.SIGTERM) == 0
    errors.seek(0)
    told = errors.read()
    assert "already uses this token" in told
    assert "Traceback" not in told

    rows = [row for row in store.export_rows(1) if row["act"] == "water"]
    assert Counter(row["said"] for row in rows) == Counter(note["message"]["text"] for note in notes)
    # Each note has its receipt. One that was on the wire at a kill comes once more and says so.
    once = Counter(note["message"]["message_id"] for note in notes)
    sure = Counter(fields_reply(one) for one in api.arrived if POSSIBLY_REPEATED not in one["text"])
    doubtful = [fields_reply(one) for one in api.arrived if POSSIBLY_REPEATED in one["text"]]
    assert sure - once == Counter()
    assert once - sure - Counter(doubtful) == Counter()
    assert len(doubtful) <= CHATS_AT_ONCE * len(KILLS_AT)
    # In each chat the receipts come in the order of the notes.
    for member in range(1, MEMBERS + 1):
        asked = [fields_reply(one) for one in api.arrived if one["chat"] == member]
        assert asked == sorted(asked)
    store.close()


def fields_reply(arrived: dict[str, Any]) -> int:
    """The note that a receipt answers."""
    return int(json.loads(arrived["fields"]["reply_parameters"])["message_id"])


def waiting(store: Store) -> bool:
    with store.reading(1) as books:
        return any(one.state in ("waiting", "sending") for one in books.posted(list(range(1, 500))))
