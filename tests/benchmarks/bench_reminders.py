"""What do reminders cost, as ratios in one run?

Not a test: run it by hand. It prints each ratio beside its bar, and ends with 1 where one is missed.

python -m tests.benchmarks.bench_reminders
"""

from __future__ import annotations

import re
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from sqlalchemy import insert

from bot.reminder_job import tick
from core.conversation.replanning import history_of
from core.entries import Act, Entry
from core.lots import fold
from core.reminders import Due, Subject, plan
from core.storage import RecordDraft, Store, open_store
from core.storage.tables import reminders
from core.treatments import protocols
from tests.bot.virtual_time import Round

ZONE = ZoneInfo("America/Los_Angeles")
NOW = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)
DUE_NOW = 100
CREWS = 2_000
A_CREW = 5


def main() -> int:
    """Prints every ratio; 1 where one is above its bar."""
    missed = 0
    for told, value, bar in (_finding_due(), _replanning(), *_a_full_minute(), *_leaving()):
        fine = value <= bar
        missed += not fine
        print(f"{'fine  ' if fine else 'MISSED'} {told}: {value:.2f}, at most {bar:g}")
    return 1 if missed else 0


def _finding_due() -> tuple[str, float, float]:
    with _new_store() as few, _new_store() as many:
        crews = [_open_crew(few, 0), _open_crew(many, 0)]
        for store, crew, count in ((few, crews[0], 10_000), (many, crews[1], 1_000_000)):
            _lay_reminders(store, crew, count)
        took = [
            min(_seconds(lambda store=store, crew=crew: _find(store, crew)) for _ in range(40))  # type: ignore[misc]
            for store, crew in ((few, crews[0]), (many, crews[1]))
        ]
    print(f"       finding what is due: {took[0] * 1e3:.2f} ms among 10,000, {took[1] * 1e3:.2f} ms among 1,000,000")
    return "finding what is due among 1,000,000 beside 10,000", took[1] / took[0], 1.3


def _find(store: Store, crew: int) -> None:
    """Looks for crews and claims what is due, then gives it back, so that the next look finds the same."""
    assert store.crews_due(NOW) == (crew,)
    with store.books(crew) as books:
        claimed = books.claim_due(NOW, 2 * DUE_NOW)
        assert len(claimed) == DUE_NOW
        for one in claimed:
            books.postpone(one.number, one.due_at)


def _lay_reminders(store: Store, crew: int, count: int) -> None:
    later = NOW + timedelta(days=30)
    for start in range(0, count, 50_000):
        rows = [
            {
                "crew_id": crew, "key": f"k{number}", "subject_kind": "tray", "subject_name": str(number % 997),
                "kind": "vent", "step": number, "timed": True, "critical": False, "soft": True, "facts": {},
                "state": "planned", "said_times": 0, "planned_at": NOW if number < DUE_NOW else later,
                "due_at": NOW if number < DUE_NOW else later + timedelta(minutes=number % 100_000),
            }
            for number in range(start, min(start + 50_000, count))
        ]  # fmt: skip
        with store._engine.begin() as connection:
            connection.execute(insert(reminders), rows)


def _replanning() -> tuple[str, float, float]:
    took = []
    for entries in (50, 500):
        with _new_store() as store:
            crew = _open_crew(store, 0)
            subjects = _note_a_lot(store, crew, entries)
            with store.books(crew) as books:
                histories = [history_of(books, subject) for subject in subjects]
            took.append(min(_seconds(lambda h=histories: [plan(one, protocols(), NOW) for one in h]) for _ in range(9)))  # type: ignore[misc]
    print(f"       replanning a lot and its tray: {took[0] * 1e3:.2f} ms of 50 entries, {took[1] * 1e3:.2f} ms of 500")
    return "replanning a lot of 500 entries beside 50", took[1] / took[0], 12


def _note_a_lot(store: Store, crew: int, entries: int) -> list[Subject]:
    began = NOW - timedelta(days=60)
    acts = [
        Entry(act=Act.WATER, method="mist", trays=("2",)), Entry(act=Act.CHECK, state="rooted", count=10, trays=("2",)),
        Entry(act=Act.AIR, trays=("2",)), Entry(act=Act.COVER, trays=("2",)), Entry(act=Act.LOSE, count=1, trays=("2",)),
        Entry(act=Act.VENT, vent_open=0.5, trays=("2",)),
    ]  # fmt: skip
    opener = Entry(act=Act.STICK, plant="tussock wort", count=5_000, trays=("2",))
    with store.books(crew) as books:
        for number in range(entries):
            moment = began + timedelta(hours=number * 1400 / entries)
            entry = opener if number == 0 else Entry(act=Act.COVER) if number == 1 else acts[number % len(acts)]
            books.write(
                RecordDraft(
                    lot="26-001", trays=("2",), entry=entry, at=moment, said_at=moment, by="osei", told_by="osei",
                    said=entry.act.value, message=f"m{number}",
                )
            )  # fmt: skip
        lot = fold("26-001", books.lot_records("26-001"), ZONE)
        assert lot is not None
        books.save_lot(lot)
    return [Subject(kind="lot", name="26-001"), Subject(kind="tray", name="2")]


def _a_full_minute() -> Iterator[tuple[str, float, float]]:
    with _new_store() as store:
        for number in range(CREWS):
            _plan_vents(store, _open_crew(store, number))
        tick(store, NOW - timedelta(minutes=5))
        small = _peak_of(lambda: None)
        assert store.crews_due(NOW)
        took = _seconds(lambda: _tick_all(store))
        posted = len(store.outbox_due(NOW, limit=CREWS + 1))
        assert posted == CREWS, posted
    with _new_store() as store:
        for number in range(CREWS):
            _plan_vents(store, _open_crew(store, number))
        grown = _peak_of(lambda: _tick_all(store)) - small
    print(f"       {CREWS * A_CREW:,} reminders for {CREWS:,} crews in one tick: {took:.1f} s")
    yield "seconds of that tick, of the minute until the next", took, 60
    yield "MiB of growth in that tick", grown / 2**20, 60


def _leaving() -> Iterator[tuple[str, float, float]]:
    """The same full minute through the postman, by a clock of our own: how long until all have left, how fast."""
    with _new_store() as store:
        for number in range(CREWS):
            _plan_vents(store, _open_crew(store, number, channel="telegram", group=str(-1000 - number)))
        going = Round(store, NOW, minutes=3).run()
    texts = {chat: text for _, chat, text in going.arrived}
    lost = CREWS * A_CREW - sum(len(set(re.findall(r"\b\d\b", text.partition(":")[0]))) for text in texts.values())
    yield "reminders lost on the way", lost, 0
    yield "messages more than one a crew", len(going.arrived) - CREWS, 0
    yield "messages in the fullest second", going.most_tried_within(1.0), 30
    last = max(second for second, _, _ in going.arrived)
    yield "seconds until the last has left, beside what 30 a second needs", last / (CREWS / 30), 1.1


def _plan_vents(store: Store, crew: int) -> None:
    with store.books(crew) as books:
        for tray in map(str, range(1, A_CREW + 1)):
            subject = Subject(kind="tray", name=tray)
            facts = {"trays": [tray], "open": 0.25, "day": 7, "when": "2026-03-02T10:00"}
            due = Due(subject=subject, kind="vent", step=0, due_at=NOW, timed=True, facts=facts)
            books.save_plan(subject, [due], NOW - timedelta(days=1))


def _tick_all(store: Store) -> None:
    assert tick(store, NOW) == CREWS


def _peak_of(work: Callable[[], object]) -> int:
    tracemalloc.start()
    work()
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return peak


def _seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _open_crew(store: Store, number: int, *, channel: str = "test", group: str = "") -> int:
    crew = store.found_crew(f"Crew {number}", ZONE, f"code {number}").number
    with store.books(crew) as books:
        books.meet_in(channel, group or f"group {number}")
        books.join("imke", channel, f"imke {number}", "lead", private_chat=f"private {number}")
    return crew


@contextmanager
def _new_store() -> Iterator[Store]:
    with tempfile.TemporaryDirectory(prefix="bench-reminders-") as folder:
        store = open_store(f"sqlite:///{Path(folder) / 'bench.db'}")
        yield store
        store.close()


if __name__ == "__main__":
    sys.exit(main())
