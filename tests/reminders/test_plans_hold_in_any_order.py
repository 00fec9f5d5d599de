"""Is the plan the same in whatever order notes arrive, however often it is made, and silent of what is gone?"""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from bench_history import LOT, TRAY, Notes, minutes, plan_of
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from core.records import Record
from core.reminders import Due

START = datetime(2026, 2, 23, 17, tzinfo=UTC)
SUBJECTS = (("lot", LOT), ("lot", "26-002"), ("tray", TRAY), ("tray", "3"), ("solution", "bleach"), ("crew", "crew"))
ACTS = (
    ("cover", {}), ("vent", {"vent_open": 0.25}), ("vent", {"vent_open": 0.5}), ("air", {"duration": minutes(15)}),
    ("air", {"duration": minutes(40)}), ("wilt", {}), ("uncover", {}), ("water", {"method": "mist"}),
    ("check", {"state": "rooted", "count": 40}), ("check", {"state": "rooted", "count": 0}),
    ("check", {"state": "roots_out"}), ("lose", {"count": 3}), ("pot", {"count": 10}), ("harden", {}),
    ("move", {"to": "inside"}), ("hold", {"cause": "pest"}), ("clear", {}), ("sell", {"count": 72}),
)  # fmt: skip


class Crew(RuleBasedStateMachine):
    """A crew that notes things about two lots in two trays, takes some back, and lets time pass."""

    def __init__(self) -> None:
        super().__init__()
        self.now = START
        self.notes = Notes()
        for lot, tray in ((LOT, TRAY), ("26-002", "3")):
            self._note("stick", lot, tray, {"plant": "tussock wort", "count": 72})

    def _note(self, act: str, lot: str | None, tray: str | None, more: dict[str, object]) -> None:
        local = f"{self.now.astimezone(self.notes.zone):%Y-%m-%d %H:%M}"
        self.notes.note(local, act, lot=lot, trays=(tray,) if tray else (), **more)

    @rule(hours=st.integers(0, 200), spare=st.integers(1, 59))
    def time_passes(self, hours: int, spare: int) -> None:
        self.now += timedelta(hours=hours, minutes=spare)

    @rule(act=st.sampled_from(ACTS), place=st.sampled_from(((LOT, TRAY), ("26-002", "3"))))
    def somebody_notes(self, act: tuple[str, dict[str, object]], place: tuple[str, str]) -> None:
        self._note(act[0], *place, act[1])
        self.now += timedelta(minutes=1)

    @rule()
    def bleach_is_mixed(self) -> None:
        self._note("mix", None, None, {"solution": "bleach"})
        self.now += timedelta(minutes=1)

    @rule(which=st.randoms(use_true_random=False))
    def a_note_is_taken_back(self, which: random.Random) -> None:
        place = which.randrange(len(self.notes.records))
        self.notes.records[place] = replace(self.notes.records[place], taken_back=True)

    @rule(which=st.randoms(use_true_random=False), answer=st.sampled_from(("done", "skip", "later", "no")))
    def a_reminder_is_answered(self, which: random.Random, answer: str) -> None:
        dues = [due for kind, name in SUBJECTS for due in self._plan(kind, name)]
        if dues:
            due = which.choice(dues)
            lot = due.subject.name if due.subject.kind == "lot" else None
            tray = due.subject.name if due.subject.kind == "tray" else None
            self._note("reply", lot, tray, {"answer": answer, "reminder": due.key()})

    def _plan(self, kind: str, name: str, records: list[Record] | None = None) -> tuple[Due, ...]:
        notes = self.notes.records if records is None else records
        return plan_of(notes, self.now, of=kind, name=name)

    @invariant()
    def any_order_gives_the_same_and_planning_twice_changes_nothing(self) -> None:
        mixed = list(self.notes.records)
        random.Random(len(mixed)).shuffle(mixed)
        for kind, name in SUBJECTS:
            planned = self._plan(kind, name)
            assert planned == self._plan(kind, name)
            assert planned == self._plan(kind, name, mixed)
            assert len({due.key() for due in planned}) == len(planned)

    @invariant()
    def nothing_is_planned_for_what_is_gone_or_no_longer_useful(self) -> None:
        standing = {
            record.lot for record in self.notes.records if record.entry.act == "stick" and not record.taken_back
        }
        for kind, name in SUBJECTS:
            for due in self._plan(kind, name):
                assert due.last_useful_at is None or due.last_useful_at > self.now
                assert set(due.facts.get("lots", ())) <= standing
                assert due.timed or (due.due_at.astimezone(self.notes.zone).hour, due.due_at.minute) == (8, 0)
        sold = {LOT, "26-002"} - {name for kind, name in SUBJECTS if kind == "lot" and self._plan(kind, name)}
        for lot in sold & {record.lot for record in self.notes.records if record.entry.act == "sell"}:
            assert self._plan("lot", lot) == ()


Crew.TestCase.settings = settings(max_examples=40, stateful_step_count=25, deadline=None)
TestCrew = Crew.TestCase
