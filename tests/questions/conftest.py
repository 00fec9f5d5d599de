"""A talk on each kind of database, for questions that rest on sums."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from core.storage import Store
from tests.conversation.talking import Talk


@pytest.fixture
def talk(store: Store) -> Talk:
    """A crew in spring 2026, with nothing in its books."""
    return Talk(store, now=datetime(2026, 3, 2, 17, 0, tzinfo=UTC))


@pytest.fixture
def year(talk: Talk) -> Talk:
    """A year's bench: two finished coyote brush lots, coffeeberry two ways, toyon seed, two lots stuck in October."""
    for note in (
        "stuck 72 coyote brush tips, 0.3% iba powder, perlite, tray 1, 40 from m1 20 from m2 12 from m3",
        "stuck 72 coyote brush heel, 0.8% iba powder, perlite, tray 2",
        "stuck 72 coffeeberry tip, perlite, tray 3",
        "stuck 72 coffeeberry heel, perlite, tray 4",
        "sowed 200 toyon seeds, tray 5",
    ):
        talk.wait(minutes=20)
        talk.say(note)
    talk.wait(days=49)
    for note in ("lot 1 31/72 rooted", "lot 2 58/72 rooted", "lot 3 20/72 rooted", "lot 4 41/72 rooted"):
        talk.wait(minutes=20)
        talk.say(note)
    talk.say("lot 5 110 germinated")
    talk.wait(days=20)
    for note in ("potted 31 from lot 1", "sold 20 from lot 1", "lost 41 from lot 1 to rot"):
        talk.wait(minutes=20)
        talk.say(note)
    talk.now = datetime(2026, 10, 25, 17, 0, tzinfo=UTC)
    talk.say("stuck 72 coyote brush tips, 0.3% iba powder, tray 9")
    talk.wait(minutes=20)
    talk.say("stuck 60 sage tips tray 10")
    talk.now = datetime(2026, 11, 25, 17, 0, tzinfo=UTC)
    return talk
