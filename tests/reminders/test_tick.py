"""Is what falls due said at its minute, once, in one message a chat, and is silence made good on return?"""

from __future__ import annotations

import tracemalloc
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from bench_history import at, minutes

from bot.reminder_job import next_due_at, tick
from core.conversation.replanning import replan
from core.entries import Act, Entry
from core.lengths import Length
from core.lots import fold
from core.reminders import Due, Subject
from core.storage import OutboxMessage, RecordDraft, Store

ZONE = ZoneInfo("America/Los_Angeles")


class House:
    """One crew with a group chat, a lead with a private one, and two trays; it notes acts and lets the clock tick."""

    def __init__(self, store: Store, code: str = "sorrel") -> None:
        self.store = store
        self.crew = store.found_crew("Curlew Flat", ZONE, code).number
        self.notes = 0
        with store.books(self.crew) as books:
            books.meet_in("test", "group")
            books.join("imke", "test", "imke", "lead", private_chat="private:imke")
            books.join("osei", "test", "osei", "member", private_chat="private:osei")

    def note(self, when: str, act: str, *, lot: str | None = "26-001", tray: str | None = "2", **more: object) -> None:
        moment = at(when)
        self.notes += 1
        trays = (tray,) if tray else ()
        with self.store.books(self.crew) as books:
            entry = Entry(act=Act(act), trays=trays, **more)  # type: ignore[arg-type]
            said = {"air": "dome off"}.get(act, act)
            books.write(
                RecordDraft(
                    lot=lot, trays=trays, entry=entry, at=moment, said_at=moment, by="osei", told_by="osei", said=said,
                    message=f"m{self.notes}",
                )
            )  # fmt: skip
            if lot:
                folded = fold(lot, books.lot_records(lot), ZONE)
                assert folded is not None
                books.save_lot(folded)
            subjects = [Subject(kind="crew", name="crew"), Subject(kind="solution", name="bleach")]
            subjects += [Subject(kind="lot", name=lot)] if lot else []
            subjects += [Subject(kind="tray", name=tray)] if tray else []
            replan(books, subjects, moment)

    def tick(self, when: str) -> list[OutboxMessage]:
        """What is said at a local minute, taken as sent."""
        tick(self.store, at(when))
        return self.said(at(when))

    def said(self, now: datetime) -> list[OutboxMessage]:
        taken: list[OutboxMessage] = []
        while waiting := self.store.outbox_due(now, limit=50):
            for one in waiting:
                self.store.outbox_state(one.number, "sent", sent_message_id=f"b{one.number}", at=now)
                taken.append(one)
        return taken

    def run(self, start: str, end: str) -> list[tuple[str, str, str]]:
        """Every message between two local moments: when, chat and words, from one due minute to the next."""
        now, last = at(start), at(end)
        heard: list[tuple[str, str, str]] = []
        while (due := next_due_at(self.store, self.crew, now)) is not None and due <= last:
            now = due
            tick(self.store, now)
            heard += [(f"{now.astimezone(ZONE):%Y-%m-%d %H:%M}", one.chat, one.text) for one in self.said(now)]
            now += timedelta(minutes=1)
        return heard

    def dues(self) -> list[Due]:
        with self.store.reading(self.crew) as books:
            return [one.due for one in books.open_reminders()]


@pytest.fixture
def house(store: Store) -> House:
    return House(store)


@pytest.fixture
def covered(house: House) -> House:
    """Cuttings stuck and covered on 23 February at nine."""
    house.note("2026-02-23 09:00", "stick", plant="tussock wort", count=72)
    house.note("2026-02-23 09:00", "cover")
    return house


@pytest.fixture
def next_day(covered: House) -> House:
    """The same at ten the next day, its list of that morning said."""
    assert len(covered.run("2026-02-23 09:01", "2026-02-24 09:59")) == 1
    return covered


def test_a_running_timer_is_said_at_its_minute_then_to_all_then_to_the_lead(next_day: House) -> None:
    covered = next_day
    covered.note("2026-02-24 10:00", "air", duration=minutes(20))
    heard = covered.run("2026-02-24 10:00", "2026-02-24 11:30")
    assert [(when[11:], chat) for when, chat, _ in heard] == [
        ("10:20", "group"), ("10:30", "group"), ("10:40", "group"), ("10:40", "private:imke"),
    ]  # fmt: skip
    assert "cover back on by 10:20" in heard[0][2]
    assert heard[1][2].startswith("Anyone at the bench")
    assert heard[3][2].startswith("For the lead")
    covered.note("2026-02-24 11:31", "cover")
    assert not [due for due in covered.dues() if due.kind == "cover_back"]


def test_a_note_of_the_act_closes_what_was_said(covered: House) -> None:
    covered.note("2026-02-24 10:00", "air", duration=minutes(20))
    assert len(covered.tick("2026-02-24 10:20")) == 1
    covered.note("2026-02-24 10:24", "cover")
    assert covered.tick("2026-02-24 10:30") == []


def test_nothing_is_said_twice_in_a_minute_or_by_two_ticks(covered: House) -> None:
    covered.note("2026-02-24 10:00", "air", duration=minutes(20))
    assert len(covered.tick("2026-02-24 10:20")) == 1
    assert covered.tick("2026-02-24 10:20") == []
    assert covered.tick("2026-02-24 10:21") == []


def test_one_message_a_minute_to_a_chat(covered: House) -> None:
    covered.note("2026-02-24 10:00", "air", duration=minutes(20))
    assert len(covered.tick("2026-02-24 10:20")) == 1
    late = at("2026-02-24 10:20") + timedelta(seconds=30)
    covered.note(
        "2026-02-24 10:20", "sanitize", lot=None, tray=None, solution="bleach", duration=minutes(1), things=("knife",)
    )
    with covered.store.books(covered.crew) as books:
        for one in books.open_reminders(kinds=["soak_ended"]):
            books.postpone(one.number, at("2026-02-24 10:20"))
    tick(covered.store, late)
    assert covered.said(late) == []
    assert len(covered.tick("2026-02-24 10:21")) == 1


def test_the_morning_list_comes_at_eight_overdue_first_and_not_when_empty(covered: House) -> None:
    covered.note("2026-02-24 10:00", "stick", lot="26-002", tray="3", plant="tussock wort", count=20)
    covered.note("2026-02-24 10:00", "cover", lot="26-002", tray="3")
    heard = covered.run("2026-02-24 10:01", "2026-03-04 08:30")
    lists = [(when, words) for when, _, words in heard if when.endswith("08:00")]
    assert [when[:10] for when, _ in lists] == [f"2026-02-{day}" for day in (25, 26, 27, 28)] + [
        f"2026-03-0{day}" for day in (1, 2, 3, 4)
    ]
    assert lists[0][1].splitlines()[1].startswith("- Trays 2 and 3")
    last = lists[-1][1].splitlines()
    assert last[1].startswith("- Tray 2")
    late = [int(row.split(" day")[-2].split()[-1]) for row in last[1:] if row.endswith("late.")]
    assert late == [2, 1]
    assert House(covered.store, "yarrow").run("2026-02-23 07:00", "2026-02-26 09:00") == []


def test_what_takes_the_place_of_a_look_that_is_past_waits_for_the_morning_list(covered: House) -> None:
    covered.run("2026-02-23 09:01", "2026-03-18 08:59")
    covered.note("2026-02-23 10:00", "stick", lot="26-002", tray=None, plant="coyote brush", count=60)  # told late
    heard = covered.run("2026-03-18 09:00", "2026-03-28 09:00")
    lists = {when for when, _, words in heard if "26-002" in words}
    assert "2026-03-26 08:00" in lists
    assert {when[11:] for when in lists} == {"08:00"}


def test_a_vent_unanswered_is_said_once_more_after_three_hours_then_in_the_list(covered: House) -> None:
    vents = [
        (when, words) for when, _, words in covered.run("2026-02-23 09:01", "2026-03-04 09:00") if "vents" in words
    ]
    assert [when for when, _ in vents] == [
        "2026-03-02 10:00", "2026-03-02 13:00", "2026-03-03 08:00", "2026-03-04 08:00",
    ]  # fmt: skip
    assert vents[1][1].startswith("Once more")


def test_soft_ones_within_half_an_hour_share_a_message_and_a_timer_does_not_wait(covered: House) -> None:
    covered.note(
        "2026-03-02 09:00",
        "remind",
        lot=None,
        tray=None,
        text="close the gate",
        at=datetime(2026, 3, 2, 10, 20),  # noqa: DTZ001
    )
    covered.run("2026-02-23 09:01", "2026-03-02 09:30")
    covered.note("2026-03-01 10:15", "mix", lot=None, tray=None, solution="bleach")
    covered.note("2026-03-02 09:58", "air", duration=minutes(20))
    heard = covered.run("2026-03-02 09:59", "2026-03-02 10:25")
    assert [when[11:] for when, _, _ in heard] == ["10:00", "10:18", "10:20"]
    assert "vents" in heard[0][2]
    assert "pour it out" in heard[0][2]
    assert "cover back on" in heard[1][2]
    assert "close the gate" in heard[2][2]


def test_after_three_days_of_silence_one_message_tells_what_is_past_and_what_is_worth_doing(covered: House) -> None:
    covered.note("2026-03-09 08:50", "air", duration=minutes(20))
    covered.tick("2026-03-09 09:00")
    said = covered.tick("2026-03-12 10:17")
    assert len([one for one in said if one.chat == "group"]) == 1
    words = said[0].text
    assert "is past" in words
    assert "cover back on, Mon 9 Mar 09:10" in words
    assert "cover back on by" not in words
    assert covered.tick("2026-03-12 10:18") == []


def test_a_missed_session_becomes_a_question_in_the_next_list_and_is_offered_again(covered: House) -> None:
    heard = covered.run("2026-02-23 09:01", "2026-03-10 08:00")
    offers = [when for when, _, words in heard if "firm, callus or roots" in words]
    assert offers == ["2026-03-09 09:30", "2026-03-09 12:30", "2026-03-09 15:30"]
    assert heard[-1][0] == "2026-03-10 08:00"
    assert "I never heard of these" in heard[-1][2]
    assert "weaning, Mon 9 Mar 15:30?" in heard[-1][2]


def test_a_critical_one_two_days_late_goes_to_the_lead(house: House) -> None:
    house.note("2026-03-02 10:00", "mix", lot=None, tray=None, solution="bleach")
    heard = house.run("2026-03-02 10:01", "2026-03-05 09:00")
    assert [(when, chat) for when, chat, _ in heard] == [
        ("2026-03-03 10:00", "group"), ("2026-03-03 13:00", "group"), ("2026-03-04 08:00", "group"),
        ("2026-03-05 08:00", "group"), ("2026-03-05 08:00", "private:imke"),
    ]  # fmt: skip


def test_whoever_is_on_shift_is_addressed_and_the_hand_over_tells_what_is_open(covered: House) -> None:
    for who, start, end in (("osei", 9, 12), ("ana", 13, 17)):
        hours = {"from_time": datetime(2026, 1, 1, start).time(), "until": datetime(2026, 1, 1, end).time()}  # noqa: DTZ001
        covered.note("2026-02-23 09:00", "roster", lot=None, tray=None, who=(who,), every=("tue",), **hours)
    covered.run("2026-02-23 09:01", "2026-02-24 11:19")
    covered.note("2026-02-24 11:20", "air", duration=minutes(40))
    heard = covered.run("2026-02-24 11:21", "2026-02-24 12:00")
    assert [when[11:] for when, _, _ in heard] == ["11:50", "12:00"]
    assert "osei, your shift ends at 12:00" in heard[0][2]
    assert "cover back on, tray 2" in heard[0][2]
    assert "ana" in heard[0][2]
    covered.note("2026-02-24 12:01", "cover")
    assert not [when for when, _, words in covered.run("2026-02-24 12:02", "2026-02-24 17:00") if "shift ends" in words]


def test_buttons_answer_all_and_each(covered: House) -> None:
    said = covered.tick("2026-03-02 10:00")
    assert said[0].buttons[0][0] == "All done"
    assert {"Later", "Skip"} <= {label for label, _ in said[0].buttons}
    with covered.store.reading(covered.crew) as books:
        actions = [books.pressed(token) for _, token in said[0].buttons]
    assert all(action and set(action) <= {"done", "later", "skip"} for action in actions)


def test_a_crash_before_the_commit_says_it_at_the_next_tick(covered: House, monkeypatch: pytest.MonkeyPatch) -> None:
    from bot import reminder_job

    def breaks(*_: object) -> str:
        raise RuntimeError("the lights went out")

    covered.note("2026-02-24 10:00", "air", duration=minutes(20))
    with monkeypatch.context() as lights:
        lights.setattr(reminder_job, "digest_text", breaks)
        with pytest.raises(RuntimeError):
            tick(covered.store, at("2026-02-24 10:20"))
    assert covered.said(at("2026-02-24 10:20")) == []
    assert len(covered.tick("2026-02-24 10:21")) == 1


def test_an_hour_that_jumps_back_says_nothing_again(covered: House) -> None:
    covered.note("2026-02-24 10:00", "air", duration=minutes(20))
    assert len(covered.tick("2026-02-24 10:20")) == 1
    assert covered.tick("2026-02-24 09:20") == []
    assert covered.tick("2026-02-24 10:20") == []


def test_many_crews_at_one_minute_are_each_told_once(store: Store) -> None:
    due_at = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)
    for number in range(40):
        crew = store.found_crew(f"Crew {number}", ZONE, f"code {number}").number
        with store.books(crew) as books:
            books.meet_in("test", f"group {number}")
            for tray in range(1, 6):
                subject = Subject(kind="tray", name=str(tray))
                facts = {"trays": [str(tray)], "open": 0.25, "day": 7, "when": "2026-03-02T10:00"}
                books.save_plan(
                    subject, [Due(subject=subject, kind="vent", step=0, due_at=due_at, timed=True, facts=facts)], due_at
                )
    tracemalloc.start()
    assert tick(store, due_at) == 40
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 20 * 2**20
    first = store.outbox_due(due_at, limit=1)[0]
    assert first.text == "Trays 1, 2, 3, 4 and 5: vents a quarter open, day 7 under the cover."


def test_a_question_of_the_morning_is_asked_once(covered: House) -> None:
    covered.note("2026-02-24 09:00", "check")
    heard = covered.run("2026-03-09 08:00", "2026-03-16 12:00")
    asked = [line for _, _, text in heard for line in text.splitlines() if line.endswith("?") and "weaning, " in line]
    assert len(asked) == len(set(asked)) > 3
    covered.note("2026-01-05 10:00", "treat", lot="26-002", tray=None, plant="redberry", treatment="cold_stratify",
                 duration=Length(days=60))  # fmt: skip
    heard = covered.run("2026-02-27 08:00", "2026-03-20 12:00")
    asked = [line for _, _, text in heard for line in text.splitlines() if "medium and room ready, " in line]
    assert asked == ["- 26-002 redberry: medium and room ready, Fri 27 Feb?"]
