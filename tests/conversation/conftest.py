"""A talk on each kind of database."""

from __future__ import annotations

import pytest

from core.storage import Store
from tests.conversation.talking import Talk


@pytest.fixture
def talk(store: Store) -> Talk:
    return Talk(store)
