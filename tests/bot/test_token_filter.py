"""The token never appears in a log, whoever writes it and however."""

from __future__ import annotations

import io
import logging
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from bot.token_filter import open_log
from tests.bot.bot_api_stand_in import TOKEN, BotApi

ROOT = Path(__file__).parents[2]
SECRET = TOKEN.partition(":")[2]


@pytest.fixture
def lines() -> Iterator[io.StringIO]:
    root = logging.getLogger()
    before, level = list(root.handlers), root.level
    levels = {name: logging.getLogger(name).level for name in ("httpx", "httpcore", "telegram")}
    stream = io.StringIO()
    strike = open_log(TOKEN, stream)
    yield stream
    root.setLevel(level)
    for name, was in levels.items():
        logging.getLogger(name).setLevel(was)
    for added in root.handlers:
        added.removeFilter(strike)
    root.handlers[:] = before


def test_every_way_into_a_log_is_struck(lines: io.StringIO) -> None:
    log = logging.getLogger("anybody")
    log.warning("address https://host/bot%s/getMe", TOKEN)
    log.warning(f"address https://host/bot{TOKEN.replace(':', '%3A')}/getMe")
    log.error("only the secret half %s", SECRET)
    log.error("wrong arguments %d", TOKEN)
    log.warning({"token": TOKEN})
    try:
        raise ValueError(f"the token {TOKEN}")
    except ValueError:
        log.exception("it failed")
    log.warning("a stack", stack_info=True)
    told = lines.getvalue()
    assert told.count("(token)") >= 6
    assert "Traceback" in told
    assert SECRET not in told


def test_httpx_does_not_write_addresses(lines: io.StringIO, api: BotApi) -> None:
    """httpx writes "HTTP Request: POST <address>" at INFO; here that line must not come at all."""
    with httpx.Client(trust_env=False) as client:
        assert client.get(f"{api.address}/bot{TOKEN}/getMe").status_code == 200
    logging.getLogger("benchhand.test").info("still heard")
    assert "HTTP Request" not in lines.getvalue()
    assert "still heard" in lines.getvalue()


def test_serve_with_a_wrong_token_says_so_without_it(tmp_path: Path, api: BotApi) -> None:
    api.token = "1:another"
    environment = os.environ | {
        "BENCHHAND_TELEGRAM_TOKEN": TOKEN,
        "BENCHHAND_TELEGRAM_API": api.address,
        "BENCHHAND_DATABASE_URL": f"sqlite:///{tmp_path / 'bench.db'}",
    }
    run = subprocess.run(  # noqa: PLW1510
        [sys.executable, "-m", "bot", "serve"], cwd=ROOT, env=environment, capture_output=True, text=True, timeout=40
    )
    assert run.returncode == 2
    assert "token" in run.stderr
    assert len(run.stderr.strip().splitlines()) == 1
    assert SECRET not in run.stderr + run.stdout
