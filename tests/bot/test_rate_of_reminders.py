"""At what rate do reminders leave? Within Telegram's limits, one message a minute to a chat, and none is lost.

The clock is our own (tests/bot/virtual_time.py), so nothing here is measured: every second is one that the code chose.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from core.reminders import Due, Subject
from core.storage import Store, open_store
from tests.bot.virtual_time import Round

ZONE = ZoneInfo("America/Los_Angeles")
TEN = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)
"""Ten in the morning, bench time."""
CREWS, A_CREW = 100, 5


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    opened = open_store(f"sqlite:///{tmp_path / 'bench.db'}")
    yield opened
    opened.close()


def open_crew(store: Store, number: int) -> int:
    crew = store.found_crew(f"Crew {number}", ZONE, f"code {number}").number
    with store.books(crew) as books:
        books.meet_in("telegram", str(-1000 - number))
        books.join("imke", "telegram", str(5000 + number), "lead", private_chat=str(5000 + number))
    return crew


def plan(store: Store, crew: int, kind: str, name: str, due_at: datetime, **facts: object) -> None:
    """One reminder of a tray that falls due at an instant."""
    local = f"{due_at.astimezone(ZONE):%Y-%m-%dT%H:%M}"
    due = Due(
        subject=Subject(kind="tray", name=name), kind=kind, step=0, due_at=due_at, timed=True,
        soft=kind != "cover_back", critical=kind == "cover_back", facts={"trays": [name], "when": local, **facts},
    )  # fmt: skip
    with store.books(crew) as books:
        books.save_plan(due.subject, [due], due_at - timedelta(days=1))


def vents(store: Store, crew: int, trays: int, due_at: datetime = TEN) -> None:
    for tray in range(1, trays + 1):
        plan(store, crew, "vent", f"{due_at:%H%M}-{tray}", due_at, open=0.25, day=7)


def covers_off(store: Store, crew: int, due_at: datetime = TEN) -> None:
    """A cover that goes back on at an instant, and that nobody puts back: said again, to all, to the lead."""
    local = f"{due_at.astimezone(ZONE):%Y-%m-%dT%H:%M}"
    plan(store, crew, "cover_back", "9", due_at, back_at=local, off_at=local)


def all_said(store: Store, crews: int) -> bool:
    """True where every reminder that fell due stands in a message that has left."""
    for crew in range(1, crews + 1):
        with store.reading(crew) as books:
            for one in books.open_reminders():
                message = books.posted([one.said_in])[0] if one.said_in else None
                if message is None or message.state != "sent":
                    return False
    return True


def test_a_minute_that_is_full_leaves_at_thirty_a_second_and_loses_none(store: Store) -> None:
    for number in range(CREWS):
        vents(store, open_crew(store, number), A_CREW)
    going = Round(store, TEN, minutes=2).run()
    heard = going.by_chat()
    assert len(heard) == CREWS
    assert all(len(times) == 1 for times in heard.values()), "the five of a crew are one message"
    assert going.most_tried_within(1.0) == 30
    assert going.most_tried_within(60.0) == CREWS
    assert max(second for second, _, _ in going.arrived) < CREWS / 30 + 2
    assert all_said(store, CREWS)
    assert all(text.count("1800-") == A_CREW for _, _, text in going.arrived)


def test_a_chat_hears_one_message_of_reminders_a_minute_and_a_group_never_twenty(store: Store) -> None:
    """Something falls due at each minute for longer than twenty, beside a cover that is off, and the lead is told too."""
    crews = 2
    for number in range(crews):
        crew = open_crew(store, number)
        covers_off(store, crew)
        for minute in range(22):
            plan(store, crew, "bring_in", f"{minute}", TEN + timedelta(minutes=minute), to="the slab")
    going = Round(store, TEN, minutes=23).run()
    for chat, times in going.by_chat().items():
        gaps = [later - sooner for sooner, later in itertools.pairwise(times)]
        assert min(gaps) >= 60 - 0.01, chat
    assert all(len(times) >= 22 for chat, times in going.by_chat().items() if chat.startswith("-"))
    assert all_said(store, crews)


def test_what_piled_up_while_telegram_was_away_leaves_a_message_a_minute_and_answers_go_ahead(store: Store) -> None:
    crew = open_crew(store, 0)
    covers_off(store, crew)
    vents(store, crew, 2, TEN + timedelta(minutes=5))

    def answer(now: datetime) -> None:
        with store.books(crew) as books:
            books.post(chat="-1000", text="Lot 26-001: checked.", at=now, channel="telegram", answers="a message")

    # The try that gets through is the first after the outage, at most 61 s on; the answer is posted behind it.
    back, asked = 12 * 60.0, 13 * 60.0 + 5
    going = Round(store, TEN, minutes=18, away=(0.0, back), at_second={asked: answer}).run()
    group = [(second, text) for second, chat, text in going.arrived if chat == "-1000"]
    reminders = [second for second, text in group if "checked" not in text]
    assert len(reminders) == 3
    assert all(later - sooner >= 60 - 0.01 for sooner, later in itertools.pairwise(reminders))
    answered = next(second for second, text in group if "checked" in text)
    assert reminders[0] < asked < reminders[1]
    assert answered < reminders[1]
    assert answered - asked < 15
    assert all_said(store, 1)
