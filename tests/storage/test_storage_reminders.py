"""Does a reminder follow its plan, come once, and stay answered?"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from bench_rows import CHAT, DAY, HOUR, MINUTE, NOW, TRAY_2, due, found, said, say_due

from core.entries import Act, Entry
from core.reminders import Subject
from core.storage import Store
from core.storage.reminder_rows import CLAIM_LASTS


@pytest.fixture
def crew(store: Store) -> int:
    return found(store).number


def steps_of(reminders) -> list[int]:
    return [one.due.step for one in reminders]


def test_a_due_comes_back_as_it_was_planned(store: Store, crew: int):
    planned = due(
        3,
        NOW + DAY,
        critical=True,
        soft=False,
        last_useful_at=NOW + 2 * DAY,
        facts={"minutes": 15, "trays": ["2"], "plant": "toyon"},
        done_means=Entry(act=Act.VENT, trays=("2",), vent_open=0.25),
        to="odo",
        chat="private 7",
    )
    with store.books(crew) as books:
        difference = books.save_plan(TRAY_2, [planned], NOW)
    with store.reading(crew) as books:
        (stored,) = books.reminders(TRAY_2)
    assert difference.added == (planned,)
    assert stored.due == planned
    assert (stored.state, stored.due_at, stored.said_times, stored.crew) == ("planned", NOW + DAY, 0, crew)


def test_the_same_plan_twice_changes_nothing(store: Store, crew: int):
    plan = [due(1), due(2, NOW + DAY)]
    with store.books(crew) as books:
        books.save_plan(TRAY_2, plan, NOW)
        before = books.reminders(TRAY_2)
        again = books.save_plan(TRAY_2, [*reversed(plan), plan[0]], NOW)
        assert (again.added, again.cancelled, again.kept) == ((), (), tuple(plan))
        assert books.reminders(TRAY_2) == before


def test_a_new_plan_adds_keeps_and_cancels(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1), due(2, NOW + DAY)], NOW)
        changed = replace(due(2, NOW + DAY), facts={"days": 10})
        difference = books.save_plan(TRAY_2, [changed, due(3, NOW + 2 * DAY)], NOW)
        assert steps_of([one for one in difference.cancelled if one.due.kind == "vent"]) == [1]
        assert difference.kept == (changed,)
        assert difference.added == (due(3, NOW + 2 * DAY),)
        assert [one.due for one in books.reminders(TRAY_2)] == [changed, due(3, NOW + 2 * DAY)]


def test_a_plan_touches_only_its_own_subject(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1)], NOW)
        other = Subject(kind="lot", name="2")
        books.save_plan(other, [], NOW)
        books.save_plan(Subject(kind="tray", name="3"), [due(1, name="3")], NOW)
        assert steps_of(books.reminders(TRAY_2)) == [1]
        assert len(books.open_reminders()) == 2


def test_what_was_said_is_not_said_again_when_the_plan_turns_back(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1), due(2)], NOW)
        said_first = next(one for one in books.claim_due(NOW) if one.due.step == 1)
        say_due(books, [said_first.number])
        books.save_plan(TRAY_2, [], NOW)
        assert books.reminders(TRAY_2) == ()
        back = books.save_plan(TRAY_2, [due(1), due(2)], NOW)
        assert steps_of(one for one in books.reminders(TRAY_2) if one.state == "sent") == [1]
        assert (back.kept, back.added) == ((due(1),), (due(2),))
        assert steps_of(books.claim_due(NOW)) == [2]


def test_a_step_said_already_is_the_same_when_its_time_shifts_within_the_past(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1, NOW)], NOW)
        (claimed,) = books.claim_due(NOW)
        say_due(books, [claimed.number])
        shifted = due(1, NOW - HOUR)
        difference = books.save_plan(TRAY_2, [shifted], NOW + MINUTE)
        assert (difference.added, difference.cancelled, difference.kept) == ((), (), (shifted,))
        assert books.claim_due(NOW + MINUTE) == ()
        assert books.reminders(TRAY_2)[0].due == shifted


def test_a_step_said_already_comes_again_when_it_moves_into_the_future(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1, NOW)], NOW)
        (claimed,) = books.claim_due(NOW)
        say_due(books, [claimed.number])
        difference = books.save_plan(TRAY_2, [due(1, NOW + DAY)], NOW)
        assert len(difference.cancelled) == len(difference.added) == 1
        assert steps_of(books.claim_due(NOW + DAY)) == [1]


@pytest.mark.parametrize("how", ["confirmed", "skipped", "asked", "gone"])
def test_what_was_answered_stays_answered_while_the_plan_still_names_it(store: Store, crew: int, how):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1)], NOW)
        (one,) = books.claim_due(NOW)
        books.close_reminder(one.number, how=how, at=NOW, by="ilse", message="k")
        assert books.save_plan(TRAY_2, [due(1)], NOW).added == ()
        assert books.reminders(TRAY_2) == ()
        closed = books.reminder(one.number)
        assert (closed.state, closed.closed_by, closed.closed_at) == (how, "ilse", NOW)
        assert books.claim_due(NOW + DAY) == ()


def test_a_reminder_is_closed_in_no_other_way(store: Store, crew: int):
    with pytest.raises(ValueError, match="planned"), store.books(crew) as books:
        books.close_reminder(1, how="planned", at=NOW)


def test_what_is_due_is_claimed_once_soonest_first(store: Store, crew: int):
    with store.books(crew) as books:
        plan = [due(1, NOW), due(2, NOW - HOUR), due(3, NOW + MINUTE), due(4, NOW - DAY)]
        books.save_plan(TRAY_2, plan, NOW)
    assert store.crews_due(NOW) == (crew,)
    assert store.next_due_at() == NOW - DAY
    assert steps_of(store.claim_due(NOW, 2)) == [4, 2]
    assert steps_of(store.claim_due(NOW)) == [1]
    assert store.claim_due(NOW) == ()
    assert store.crews_due(NOW) == ()
    assert store.next_due_at() == NOW + MINUTE


def test_a_claim_that_nobody_finished_ages_out(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1), due(2)], NOW)
    first, second = store.claim_due(NOW)
    with store.books(crew) as books:
        say_due(books, [first.number])
    assert store.claim_due(NOW + CLAIM_LASTS - MINUTE) == ()
    assert [one.number for one in store.claim_due(NOW + CLAIM_LASTS)] == [second.number]
    assert store.claim_due(NOW + CLAIM_LASTS) == ()
    assert len(store.claim_due(NOW + 2 * CLAIM_LASTS + MINUTE, lease=timedelta(minutes=1))) == 1


def test_a_sent_reminder_is_said_again_at_its_time_and_once(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1)], NOW)
        (one,) = books.claim_due(NOW)
        first = say_due(books, [one.number], again_at=NOW + 3 * HOUR)
    assert store.claim_due(NOW + 2 * HOUR) == ()
    assert store.crews_due(NOW + 3 * HOUR) == (crew,)
    (again,) = store.claim_due(NOW + 3 * HOUR)
    assert (again.number, again.said_times, again.said_in) == (one.number, 1, first)
    with store.books(crew) as books:
        second = say_due(books, [again.number], NOW + 3 * HOUR)
        stored = books.reminder(one.number)
    assert (stored.state, stored.said_times, stored.said_in, stored.again_at) == ("sent", 2, second, None)
    assert store.claim_due(NOW + DAY) == ()


def test_a_reminder_that_was_put_off_comes_later_under_its_own_key(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1)], NOW)
        (one,) = books.claim_due(NOW)
        say_due(books, [one.number])
        books.postpone(one.number, NOW + HOUR)
        assert books.save_plan(TRAY_2, [due(1)], NOW).kept == (due(1),)
    assert store.claim_due(NOW + HOUR - MINUTE) == ()
    (later,) = store.claim_due(NOW + HOUR)
    assert (later.number, later.due, later.due_at) == (one.number, due(1), NOW + HOUR)


def test_an_undo_opens_again_what_its_message_closed_and_is_still_of_use(store: Store, crew: int):
    plan = [due(1, last_useful_at=NOW + HOUR), due(2), due(3, NOW + DAY), due(4, last_useful_at=NOW + DAY)]
    with store.books(crew) as books:
        books.save_plan(TRAY_2, plan, NOW)
        claimed = books.claim_due(NOW)
        say_due(books, [one.number for one in claimed])
        for one in books.reminders(TRAY_2):
            books.close_reminder(one.number, how="confirmed", at=NOW, message="k" if one.due.step != 4 else "other")
        assert books.reopen_reminders_of("k", NOW + 2 * HOUR) == 2
        states = {one.due.step: one.state for one in books.reminders(TRAY_2)}
        assert states == {2: "sent", 3: "planned"}
        assert books.reopen_reminders_of("k", NOW) == 1
        (other,) = [one for one in claimed if one.due.step == 4]
        books.reopen(other.number)
        assert books.reminder(other.number).state == "sent"


def test_open_reminders_are_found_by_chat_kind_and_time(store: Store, crew: int):
    with store.books(crew) as books:
        books.save_plan(TRAY_2, [due(1), due(2, kind="wean"), due(3, NOW + DAY, chat="private 7")], NOW)
        assert steps_of(books.open_reminders("anywhere")) == [1, 2]
        books.meet_in("telegram", "-100")
        assert steps_of(books.open_reminders("-100")) == [1, 2]
        assert steps_of(books.open_reminders("private 7")) == [3]
        assert books.open_reminders(CHAT) == ()
        assert steps_of(books.open_reminders(kinds=["wean"])) == [2]
        assert steps_of(books.open_reminders(until=NOW + HOUR)) == [1, 2]
        first = books.open_reminders()[0]
        message = say_due(books, [first.number])
        assert steps_of(books.open_reminders(CHAT, sent=True)) == [1]
        assert steps_of(books.open_reminders(sent=False)) == [2, 3]
        assert books.open_reminders(CHAT)[0].said_in == message


def test_a_reply_to_the_bots_message_finds_its_reminders(store: Store, crew: int):
    with store.books(crew) as books:
        books.hear(said(1), NOW)
        books.save_plan(TRAY_2, [due(1), due(2)], NOW)
        numbers = [one.number for one in books.claim_due(NOW)]
        say_due(books, numbers)
    for message in store.outbox_due(NOW):
        store.outbox_state(message.number, "sent", at=NOW, sent_message_id="90")
    with store.reading(crew) as books:
        assert list(books.spoken_of(CHAT, "90").reminders) == numbers
