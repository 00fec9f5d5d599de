"""Does a reminder say what, where, why and by when, in one short line that makes sense when it is read late?"""

from __future__ import annotations

from datetime import date, datetime, time

import pytest
from bench_history import ZONE, Notes, at, covered, minutes, one, plan_of

from bot.wording.reminders import digest_buttons, digest_text, due_told, line_text, plan_line, short_name
from core.answers import DueTold
from core.entries import Hormone
from core.lengths import Length
from core.reminders import Due, kinds
from core.reminders.digest import Line, Waiting, group
from core.treatments import protocols

LOCAL = datetime(2026, 2, 23, 9, 1)  # noqa: DTZ001


def every_kind() -> dict[str, Due]:
    """A reminder of each kind, planned from notes."""
    weaned = covered()
    weaned.note("2026-03-09 09:30", "air", duration=minutes(470), said="dome off").note("2026-03-09 17:20", "cover")
    seed = Notes().note("2026-11-02 10:00", "sow", plant="hollyleaf redberry", count=200)
    cold = Notes().note(
        "2026-11-02 10:00", "treat", plant="redberry", treatment="cold_stratify", duration=Length(days=90)
    )
    warm = Notes().note(
        "2026-11-02 10:00", "treat", plant="redberry", treatment="warm_stratify", duration=Length(days=42)
    )
    soak = Notes().note(
        "2026-11-02 10:00", "treat", plant="redberry", treatment="soak", duration=minutes(90), said="into water"
    )
    crew = Notes().free("2026-03-02 09:00", "remind", text="close the gate", at=date(2026, 3, 4))
    crew.note("2026-03-02 09:00", "stick", plant="toyon", count=10, hormone=Hormone(form="powder", ppm=3000))
    crew.free("2026-03-02 09:00", "collect", plant="lupine", bagged=True, source="north slope")
    crew.free("2026-03-02 09:00", "roster", who=("ana",), from_time=time(9), until=time(12), every=("tue",))
    target = Notes().free("2026-12-01 10:00", "target", plant="toyon", count=60, due=date(2027, 4, 17))
    plans = [
        plan_of(covered(), "2026-02-23 09:01", of="tray"),
        plan_of(covered().note("2026-02-27 09:30", "air", said="dome off"), "2026-02-27 09:31", of="tray"),
        plan_of(weaned, "2026-03-09 17:21", of="tray"),
        plan_of(covered().note("2026-03-20 08:00", "uncover"), "2026-03-20 08:01", of="tray"),
        plan_of(covered().note("2026-03-20 08:00", "check", state="roots_out"), "2026-03-20 08:01"),
        plan_of(covered(), "2026-02-23 09:01"),
        plan_of(covered().note("2026-03-20 08:00", "pot", count=70), "2026-03-20 08:01"),
        plan_of(covered().note("2026-03-20 08:00", "hold", cause="pest"), "2026-03-20 08:01"),
        plan_of(covered().note("2026-03-20 08:00", "harden", to="slab"), "2026-03-20 08:01"),
        plan_of(Notes().note("2026-11-02 10:00", "treat", plant="redberry", treatment="hot_water"), "2026-11-02 10:01"),
        *(plan_of(notes, "2026-11-02 10:01") for notes in (seed, cold, warm, soak)),
        plan_of(
            Notes().free("2026-03-02 09:00", "mix", solution="bleach", parts=(1, 9)), "2026-03-02 09:01", of="solution"
        ),
        plan_of(crew, "2026-03-02 09:01", of="crew"),
        plan_of(target, "2026-12-01 10:01", of="target", name="toyon"),
    ]
    return {due.kind: due for plan in plans for due in plan}


EVERY = every_kind()


def test_there_is_one_of_each_kind() -> None:
    assert set(EVERY) == set(kinds())


@pytest.mark.parametrize("kind", sorted(EVERY))
def test_every_kind_has_a_line_of_its_own_with_its_place_and_no_now(kind: str) -> None:
    due = EVERY[kind]
    for how in ("due", "again", "all", "lead", "late"):
        text = line_text(Line(how=how, waiting=(Waiting(number=1, due=due, comes_at=due.due_at),)))
        assert text.rstrip().endswith((".", "?")), text
        assert " now " not in text
        assert "{" not in text
        assert "None" not in text
        assert len(text) <= 320
        place = {"tray": "Tray 2", "lot": "26-001", "target": "toyon", "solution": "leach"}.get(due.subject.kind, "")
        assert place in text


@pytest.mark.parametrize("kind", sorted(EVERY))
def test_every_kind_has_a_short_name_for_a_button(kind: str) -> None:
    assert 0 < len(short_name(EVERY[kind])) <= 60
    assert "_" not in short_name(EVERY[kind])


def test_the_receipt_s_line_names_what_is_planned_soonest_first() -> None:
    notes = covered(plant="coyote brush")
    dues = (*plan_of(notes, "2026-02-23 09:01"), *plan_of(notes, "2026-02-23 09:01", of="tray"))
    assert plan_line(dues, LOCAL) == "I'll remind you: vents from 2 Mar, weaning from 9 Mar, root check 16 Mar."
    assert plan_line((), LOCAL) == ""


def test_a_cover_off_is_planned_to_its_minute() -> None:
    back = one(
        plan_of(covered().note("2026-02-27 09:30", "air", said="dome off"), "2026-02-27 09:31", of="tray"), "cover_back"
    )
    assert plan_line((back,), datetime(2026, 2, 27, 9, 31)) == "I'll remind you: cover back on by 09:50."  # noqa: DTZ001
    text = line_text(Line(how="due", waiting=(Waiting(number=1, due=back, comes_at=back.due_at),)))
    assert text == "Tray 2 (26-001 tussock wort): cover back on by 09:50 (off since 09:30)."


def test_a_range_says_why() -> None:
    notes = Notes().note(
        "2026-11-02 10:00", "treat", plant="redberry", treatment="cold_stratify", duration=Length(days=90)
    )
    notes.note("2026-11-20 10:00", "treat", treatment="cold_stratify")
    end = [due for due in plan_of(notes, "2026-11-20 10:01") if due.kind == "cold_ends"][-1]
    text = line_text(Line(how="due", waiting=(Waiting(number=1, due=end, comes_at=end.due_at),)))
    assert "between Sun 31 Jan and" in text


def test_a_message_has_a_button_for_all_and_one_for_each_up_to_six() -> None:
    def message(count: int) -> list[str]:
        dues = [
            Waiting(
                number=number,
                due=one(plan_of(covered(), "2026-02-23 09:01", of="tray"), "wean"),
                comes_at=at("2026-03-09 09:30"),
            )
            for number in range(count)
        ]
        digest = group(dues, at("2026-03-09 09:30"), ZONE, protocols().for_plant(None))
        assert digest is not None
        assert digest_text(digest, at("2026-03-09 09:30"), ZONE)
        return [label for label, _ in digest_buttons(digest)]

    assert message(1) == ["Done", "Not yet", "Later", "Skip"]
    assert message(6)[0] == "All done"
    assert len(message(6)) == 9
    assert message(7) == ["All done", "Later", "Skip"]


def test_what_is_due_is_told_by_day_and_hour() -> None:
    dues = plan_of(covered(), "2026-02-23 09:01", of="tray")
    told = due_told(DueTold(dues=dues, about="subject"), LOCAL, ZONE)
    assert "- Mon 2 Mar 10:00: Tray 2 (26-001 tussock wort): vents a quarter open, day 7 under the cover." in told
    assert due_told(DueTold(dues=(), about="today"), LOCAL, ZONE) == "Nothing is due today."
