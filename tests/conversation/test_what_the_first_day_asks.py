"""Whether a new crew's first questions are answered in the words that people text."""

from __future__ import annotations

import pytest

from tests.conversation.talking import Talk


@pytest.mark.parametrize("asked", ["what's in tray 2", "whats in tray 2?", "what is in tray 2", "which lots are open"])
def test_what_stands_in_a_tray_or_at_all_is_told(talk: Talk, asked: str) -> None:
    talk.say("stuck 72 coyote brush tips, perlite, tray 2")
    assert "26-001 coyote brush" in talk.say(asked)
