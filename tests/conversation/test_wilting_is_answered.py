"""Wilting noted under a cover is answered at once: the cover back, the vents a step back, the next session or none."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tests.conversation.talking import Talk


@pytest.fixture
def covered(talk: Talk) -> Talk:
    """Tray 5 on its fourteenth day under a cover, at half past nine, vents wide open."""
    talk.now = datetime(2026, 2, 24, 17, 30, tzinfo=UTC)
    talk.say("on 10 feb stuck 50 tussock wort tips, tray 5, domed")
    talk.say("tray 5 vents wide open")
    return talk


def test_a_session_that_wilts_is_ended_at_once_and_halved(covered: Talk) -> None:
    covered.say("dome off tray 5 for 45 min")
    covered.wait(minutes=45)
    said = covered.say("tray 5 wilted")
    assert "Cover back on tray 5 at once. Vents a step back, to half." in said
    assert "Next time 25 min, not before tomorrow morning." in said
    assert any("wilting seen, cover back on at once" in one for one in covered.remind(minutes=1))


def test_fifteen_minutes_that_wilt_hold_the_weaning_until_roots_show(covered: Talk) -> None:
    covered.say("dome off tray 5 for 15 min")
    covered.wait(minutes=12)
    said = covered.say("tray 5 is wilting, put the dome back on")
    assert "15 min wilts already, so weaning waits until a root check shows roots." in said
    assert "at once" not in said
    assert "cover off for" not in covered.say("what's due for tray 5")
    covered.say("lot 1 0 rooted")
    assert "cover off for" not in covered.say("what's due for tray 5")
    covered.say("lot 1 12 rooted")
    assert "tomorrow 09:30: Tray 5 (26-001 tussock wort): cover off for 15 min." in covered.say("what's due for tray 5")


def test_wilting_without_a_session_takes_the_vents_back_and_no_more(covered: Talk) -> None:
    said = covered.say("tray 5 wilted")
    assert "Vents a step back, to half." in said
    assert "Next time" not in said
    assert "at once" not in said


def test_wilting_without_a_cover_is_only_noted(talk: Talk) -> None:
    talk.say("stuck 50 tussock wort tips, tray 5")
    assert talk.say("tray 5 wilted") == "Lot 26-001, tray 5: wilted."


@pytest.mark.parametrize("words", ["not yet, tray 5 still soft", "not yet, they are soft", "No, not yet: tray 5 is soft"])
def test_not_yet_and_why_asks_again_after_three_days(covered: Talk, words: str) -> None:
    assert any("firm, callus or roots?" in one for one in covered.remind(minutes=1))
    assert covered.say(words).startswith("Not yet, then: weaning, tray 5.")
    assert "Fri 27 Feb 09:30: Tray 5" in covered.say("what's due for tray 5")


def test_not_yet_of_another_tray_is_a_note(covered: Talk) -> None:
    covered.remind(minutes=1)
    assert "Not yet, then" not in covered.say("not yet, tray 8 still soft")
