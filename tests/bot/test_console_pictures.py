"""Does the console say where it wrote a picture that was asked for?"""

from __future__ import annotations

import io
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from bot.console_chat import chat
from core.storage import open_store

_TALK = "lot 5: stuck 40 coyote brush tips, tray 2\nlot 5 12 rooted\nhow do coyote brush root\n[Picture]\n"


def test_a_picture_asked_for_at_the_console_is_written_and_named(tmp_path: Path) -> None:
    store, out, media = open_store(f"sqlite:///{tmp_path}/bench.db"), io.StringIO(), tmp_path / "media"
    try:
        chat(store, ZoneInfo("UTC"), lambda: datetime(2026, 3, 9, 9, tzinfo=UTC), io.StringIO(_TALK), out, media)
    finally:
        store.close()
    written = list(media.glob("rooting-*.png"))
    assert len(written) == 1
    assert f"Drawn: {written[0]}" in out.getvalue()
