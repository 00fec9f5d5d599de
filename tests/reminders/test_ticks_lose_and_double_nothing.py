"""Is no reminder lost and none doubled, whatever the clock does and however long the bot was away?

A crew notes, answers and falls silent; the bot ticks, is away for minutes or weeks, starts again on the same books, and
its clock jumps forward and back. Held after every step: a chat hears one message of reminders a minute; a reminder is
never said twice in a minute, and never more often than the rules of silence allow; what has fallen due was said or is
known to have passed.
"""

from __future__ import annotations

import shutil
import tempfile
from collections import Counter
from datetime import UTC, datetime, timedelta
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from test_tick import House

from bot.reminder_job import tick
from core.lengths import Length
from core.reminders import kinds
from core.storage import OutboxMessage, open_store

START = datetime(2026, 2, 23, 17, tzinfo=UTC)
NOTES = (
    ("cover", {}), ("vent", {"vent_open": 0.5}), ("air", {"duration": Length.of_minutes(20)}), ("wilt", {}),
    ("uncover", {}), ("water", {"method": "mist"}), ("check", {"state": "rooted", "count": 30}), ("lose", {"count": 1}),
    ("harden", {}), ("hold", {"cause": "pest"}), ("pot", {"count": 5}),
)  # fmt: skip


class Away(RuleBasedStateMachine):
    """A house whose bot ticks when it can."""

    laid: Path

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="bench-ticks-"))
        shutil.copy(Away.laid, self.folder / "bench.db")
        self.url = f"sqlite:///{self.folder / 'bench.db'}"
        self.house = House(open_store(self.url))
        self.now = START
        self.heard: list[tuple[datetime, OutboxMessage, tuple[int, ...]]] = []

    def teardown(self) -> None:
        self.house.store.close()
        shutil.rmtree(self.folder)

    @initialize()
    def two_trays_are_covered(self) -> None:
        for lot, tray in (("26-001", "2"), ("26-002", "3")):
            self._note("stick", lot, tray, {"plant": "tussock wort", "count": 72})
            self._note("cover", lot, tray, {})

    def _note(self, act: str, lot: str | None, tray: str | None, more: dict[str, object]) -> None:
        local = self.now.astimezone(self.house_zone()).strftime("%Y-%m-%d %H:%M")
        self.house.note(local, act, lot=lot, tray=tray, **more)

    @staticmethod
    def house_zone():  # type: ignore[no-untyped-def]
        from test_tick import ZONE

        return ZONE

    def _tick(self) -> None:
        tick(self.house.store, self.now)
        for one in self.house.said(self.now):
            with self.house.store.reading(self.house.crew) as books:
                about = books.spoken_of(one.chat, f"b{one.number}")
            self.heard.append((self.now, one, about.reminders if about else ()))

    @rule(minutes=st.integers(1, 90))
    def the_bot_ticks_each_minute_that_matters(self, minutes: int) -> None:
        for _ in range(minutes // 10 + 1):
            self.now += timedelta(minutes=min(minutes, 10))
            self._tick()

    @rule(days=st.integers(1, 4))
    def days_go_by_with_a_tick_each_half_hour(self, days: int) -> None:
        for _ in range(days * 24):
            self.now += timedelta(minutes=60)
            self._tick()

    @rule(hours=st.integers(1, 24 * 40))
    def the_bot_is_away(self, hours: int) -> None:
        self.house.store.close()
        self.now += timedelta(hours=hours)
        self.house.store = open_store(self.url)
        self._tick()

    @rule(hours=st.integers(1, 48))
    def the_clock_jumps_back_and_forth(self, hours: int) -> None:
        before = len(self.heard)
        real = self.now
        self._tick()
        said = len(self.heard)
        self.now = real - timedelta(hours=hours)
        self._tick()
        assert len(self.heard) == said, "a clock that went back says nothing again"
        self.now = real
        self._tick()
        assert len(self.heard) == said
        assert said >= before

    @rule(act=st.sampled_from(NOTES), place=st.sampled_from((("26-001", "2"), ("26-002", "3"))))
    def somebody_notes(self, act: tuple[str, dict[str, object]], place: tuple[str, str]) -> None:
        self.now += timedelta(minutes=1)
        self._note(act[0], *place, act[1])

    @rule()
    def bleach_is_mixed(self) -> None:
        self.now += timedelta(minutes=1)
        self._note("mix", None, None, {"solution": "bleach"})

    @rule(minutes=st.integers(1, 3000))
    def somebody_asks_for_a_reminder(self, minutes: int) -> None:
        self.now += timedelta(minutes=1)
        at = (self.now + timedelta(minutes=minutes)).astimezone(self.house_zone()).replace(tzinfo=None)
        self._note("remind", None, None, {"text": f"look {minutes}", "at": at.replace(second=0)})

    @invariant()
    def a_chat_hears_one_message_a_minute(self) -> None:
        minutes = Counter((one.chat, when.replace(second=0)) for when, one, _ in self.heard)
        assert all(count == 1 for count in minutes.values()), minutes.most_common(3)

    @invariant()
    def none_is_said_twice_in_a_minute_or_once_more_too_often(self) -> None:
        told: dict[int, list[datetime]] = {}
        for when, one, numbers in self.heard:
            if one.chat == "group":
                for number in numbers:
                    told.setdefault(number, []).append(when)
        with self.house.store.reading(self.house.crew) as books:
            for number, whens in told.items():
                stored = books.reminder(number)
                assert stored is not None
                assert len(set(whens)) == len(whens)
                a_day = Counter(when.astimezone(self.house_zone()).date() for when in whens)
                most = 4 if kinds()[stored.due.kind].repeats_while_open else 2
                assert max(a_day.values()) <= most, (stored.due.key(), whens)
                if kinds()[stored.due.kind].once:
                    assert len(whens) == 1

    @invariant()
    def nothing_that_fell_due_is_lost(self) -> None:
        """What is planned and due is said by the next tick; nothing stays claimed."""
        with self.house.store.reading(self.house.crew) as books:
            assert not books.open_reminders(states=("claimed",))
            ticked = self.heard[-1][0] if self.heard else None
            if ticked == self.now:
                waiting = [one.due.key() for one in books.open_reminders(sent=False) if one.due_at <= self.now]
                assert not waiting, waiting


def test_away(laid_file: Path) -> None:
    from hypothesis.stateful import run_state_machine_as_test

    Away.laid = laid_file
    run_state_machine_as_test(Away, settings=settings(max_examples=15, stateful_step_count=20, deadline=None))
