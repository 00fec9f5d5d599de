"""Whether the bot says in each talk of demo_conversations/ what stands there, on both databases."""

from __future__ import annotations

from pathlib import Path

import pytest

from bot.script_chat import play
from core.conversation.checking import check_books
from core.storage import open_store

TALKS = sorted(Path(__file__).parents[2].joinpath("demo_conversations").glob("*.chat"))


def test_there_are_talks() -> None:
    assert len(TALKS) >= 8


@pytest.mark.parametrize("talk", TALKS, ids=lambda path: path.stem)
def test_the_bot_says_what_the_talk_says(talk: Path, database_url: str) -> None:
    text = talk.read_text(encoding="utf-8")
    assert play(text, talk.name, database_url) == text
    store = open_store(database_url)
    faults = [fault for crew in store.crews() for fault in check_books(store, crew.number)]
    store.close()
    assert faults == []


@pytest.mark.parametrize("talk", TALKS, ids=lambda path: path.stem)
def test_a_talk_is_short_enough_to_read(talk: Path) -> None:
    assert len(talk.read_text(encoding="utf-8").splitlines()) < 120
