"""Do several people, threads and processes at once lose nothing and double nothing, even when one is killed?"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from bench_rows import CHAT, DAY, MINUTE, NOW, TRAY_2, draft, due, found, lot, said, say_due

from core.reminders import Subject
from core.storage import Books, Store, open_store


def turn(books: Books, message_id: str) -> bool:
    """A whole turn: the message, its record, the lot, its reminder and the answer. False where it was heard before."""
    key, first_time = books.hear(said(message_id), NOW)
    if not first_time:
        return False
    record = books.write(draft(key, lot="26-001", trays=("2",)))
    books.save_lot(lot(trays=("2",), started=record.number))
    subject = Subject(kind="crew", name=message_id)
    books.save_plan(subject, [due(1, NOW + DAY, subject_kind="crew", name=message_id)], NOW)
    books.post(chat=CHAT, text=key, at=NOW, records=[record.number])
    return True


def take_turns(address: str, crew: int, first: int, count: int) -> int:
    """Takes turns on a store of its own; returns how many were new."""
    store = open_store(address)
    new = 0
    for number in range(first, first + count):
        with store.books(crew) as books:
            new += turn(books, str(number))
    store.close()
    return new


def whole_turns(store: Store, crew: int) -> int:
    """How many turns are in the books, each of them whole: one record, one reminder and one answer to each message."""
    with store.reading(crew) as books:
        records = books.records()
        numbers = [record.number for record in records]
        keys = [record.message for record in records]
        heard = [books.heard(*key.split(":")[:3]) for key in keys]
        reminders = books.open_reminders()
        assert sorted(numbers) == list(range(1, len(records) + 1))
        assert len(set(keys)) == len(keys)
        assert all(message is not None and len(message.answers) == 1 for message in heard)
        assert sorted(one.due.subject.name for one in reminders) == sorted(key.split(":")[2] for key in keys)
        assert books.tray_records("2") == books.lot_records("26-001") == records
        found_lot = books.lot("26-001")
        assert found_lot is None if not records else found_lot.started == max(numbers)
    return len(records)


def test_two_at_once_write_every_turn_once(store: Store, database_url: str):
    crew = found(store).number
    with ThreadPoolExecutor(2) as hands:
        mine = hands.submit(take_turns, database_url, crew, 0, 30)
        yours = hands.submit(take_turns, database_url, crew, 15, 30)
    assert mine.result() + yours.result() == 45
    assert whole_turns(store, crew) == 45


def test_a_message_delivered_to_two_at_once_is_heard_by_one(store: Store, database_url: str):
    crew = found(store).number
    with ThreadPoolExecutor(4) as hands:
        new = list(hands.map(lambda _: take_turns(database_url, crew, 7, 1), range(4)))
    assert sorted(new) == [0, 0, 0, 1]
    assert whole_turns(store, crew) == 1


def test_lots_opened_at_once_get_numbers_of_their_own(store: Store):
    crew = found(store).number

    def open_lot(_: int) -> str:
        with store.books(crew) as books:
            number = books.next_lot_number(26)
            books.save_lot(lot(number))
            return number

    with ThreadPoolExecutor(4) as hands:
        numbers = list(hands.map(open_lot, range(12)))
    assert sorted(numbers) == [f"26-{serial:03d}" for serial in range(1, 13)]


def test_a_reminder_is_claimed_by_one_of_many(store: Store, database_url: str):
    crew = found(store).number
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(step, NOW - step * MINUTE) for step in range(60)], NOW)

    def claim(_: int) -> list[int]:
        own = open_store(database_url)
        claimed: list[int] = []
        while batch := own.claim_due(NOW, 7):
            claimed += [one.number for one in batch]
        own.close()
        return claimed

    with ThreadPoolExecutor(3) as hands:
        claimed = [number for one in hands.map(claim, range(3)) for number in one]
    assert len(claimed) == len(set(claimed)) == 60


def test_a_message_is_taken_by_one_of_many_postmen_and_in_order(store: Store, database_url: str):
    crew = found(store).number
    with store.books(crew) as books:
        for number in range(40):
            books.post(chat=f"chat {number % 4}", text=f"{number:02d}", at=NOW)
    seen: list[tuple[str, str]] = []

    def carry(_: int) -> None:
        own = open_store(database_url)
        while batch := own.outbox_due(NOW, 3):
            for message in batch:
                seen.append((message.chat, message.text))
                own.outbox_state(message.number, "sent", at=NOW)
        own.close()

    for _ in range(3):  # a postman stops when all chats are in others' hands; the rest is for the next round
        with ThreadPoolExecutor(3) as hands:
            list(hands.map(carry, range(3)))
    assert len(seen) == len(set(seen)) == 40
    for chat in {chat for chat, _ in seen}:
        texts = [text for other, text in seen if other == chat]
        assert texts == sorted(texts)


def test_claiming_while_others_write_locks_nobody_out(store: Store, database_url: str):
    crew = found(store).number

    def plan_anew(turn_number: int) -> None:
        with store.books(crew) as books:
            books.save_plan(TRAY_2, [due(step, NOW) for step in range(turn_number % 3, 12)], NOW)

    def tick(_: int) -> None:
        claimed = store.claim_due(NOW, 5)
        with store.books(crew) as books:
            still = [one.number for one in claimed if books.reminder(one.number).state == "claimed"]
            if still:
                say_due(books, still)

    with ThreadPoolExecutor(4) as hands:
        done = [hands.submit(work, number) for number in range(15) for work in (plan_anew, tick)]
    assert all(one.exception() is None for one in done)


CHILD = """
import sys, time
sys.path.insert(0, sys.argv[1])
from test_storage_many_hands import open_store, turn
store = open_store(sys.argv[2])
crew, first, stop_inside = int(sys.argv[3]), int(sys.argv[4]), sys.argv[5] == "inside"
number = first
while True:
    with store.books(crew) as books:
        turn(books, str(number))
        if stop_inside:
            print("inside", flush=True)
            sys.stdin.read()
    print(number, flush=True)
    number += 1
    time.sleep(0.003)  # lets the other one in
"""


def start_child(address: str, crew: int, first: int, how: str) -> subprocess.Popen[str]:
    here = Path(__file__).parent
    return subprocess.Popen(
        [sys.executable, "-c", CHILD, str(here), address, str(crew), str(first), how],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONPATH": os.pathsep.join([str(here.parents[1]), *sys.path])},
    )


def test_a_turn_that_was_killed_before_its_commit_never_was(store: Store, database_url: str):
    crew = found(store).number
    child = start_child(database_url, crew, 1, "inside")
    assert child.stdout.readline() == "inside\n"
    child.kill()
    child.communicate()
    assert whole_turns(store, crew) == 0
    with store.books(crew) as books:
        assert turn(books, "1")
    assert whole_turns(store, crew) == 1


@pytest.mark.parametrize("wait", [0.02, 0.11, 0.3])
def test_a_kill_at_any_moment_leaves_whole_turns_and_loses_none_that_was_committed(
    store: Store, database_url: str, wait: float
):
    crew = found(store).number
    children = [start_child(database_url, crew, first, "on") for first in (0, 1000)]
    begun = [child.stdout.readline() for child in children]
    time.sleep(wait)
    told = 0
    for child in children:
        child.kill()
        told += len(child.stdout.read().splitlines())
        child.communicate()
    kept = whole_turns(store, crew)
    assert all(begun)
    # Each child may have committed one more turn than it could still tell of.
    assert told + 2 <= kept <= told + 4
    assert take_turns(database_url, crew, 0, 3) <= 2
    assert whole_turns(store, crew) >= kept
