"""What stands around a note changes nothing of what it tells.

Every reading of the tables that tells deeds is read again with words around it that record nothing, and told in other
dress. Its facts (acts, lots, counts, values; not the left-over words) must stay the same, or at least none may be added.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any
from zlib import crc32

from tables_of_readings import readings

from core.notes import read

TALK = frozenset({"note", "hello", "ask", "reply", "undo", "amend", "remind", "rule", "roster", "target"})

OPENINGS = ("ok so ", "hey all, ", "hi crew - ", "fyi ", "quick update: ", "morning! ", "right, ", "good news: ")
CLOSINGS = (
    " thanks",
    "!!",
    " 🌱",
    ", all good",
    " as planned",
    ". see you all next week",
    " - lmk if thats wrong",
    ", phew",
)
BESIDE = (
    "nice crew today", "lunch at noon", "cost 12 dollars", "gate code is 4417", "fog till 11", "3 people helped",
    "next workday is saturday", "had 2 visitors", "parking was full", "it was 4 of us today",
)  # fmt: skip
AT_HOME = (
    "my neighbour held the flashlight", "her piano lesson moved", "my back gave out again",
    "my brother split the firewood", "the dentist pulled two of my teeth", "i burnt my toast", "my sister is visiting",
    "because my ride leaves early", "bram told the goat story again", "my hat blew off twice",
    "his car died on the bridge", "the wind took my hat", "my son lost 2 teeth at school",
    "her dog ran off with my sandwich", "my aunt pinched my cheeks", "the neighbours cut down their fence",
    "ana washed her truck", "my boots are soaked", "since the bus was late",
    "the kids covered the whiteboard in stickers", "his knee is swollen", "i dropped my phone in the sink",
)  # fmt: skip
BEFORE = ("my bus was late", "my phone died", "the road was flooded", "his knee is swollen")
UNDONE = (
    "didnt get to tray 944", "will check tray 944 tomorrow", "need to vent tray 944 later", "no time for tray 944",
    "someone should mist lot 977", "if tray 944 wilts mist it", "no rot in lot 977", "wendell says tray 944 looks rooted",
)  # fmt: skip


def _told() -> list[tuple[str, datetime, str, dict[str, Any]]]:
    """The readings that tell deeds and are read right: where they stand, when, the note, and what it becomes."""
    found = []
    for where, reading in readings():
        now, want = datetime.fromisoformat(reading["now"]), reading["want"]
        acts = {entry["act"] for entry in want["entries"]}
        if acts and not acts & TALK and _keys(reading["note"], now) == want:
            found.append((where, now, reading["note"], want))
    return found


def _keys(note: str, now: datetime) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(json.dumps(read(note, now).as_keys()))
    return found


def _facts(reading: dict[str, Any]) -> Counter[tuple[str, str, str]]:
    facts: Counter[tuple[str, str, str]] = Counter()
    for entry in reading["entries"]:
        if entry["act"] not in ("note", "hello"):
            facts[entry["act"], "", ""] += 1
            for key, value in entry.items():
                if key not in ("act", "rest", "text"):
                    facts[entry["act"], key, json.dumps(_plain(value), sort_keys=True)] += 1
    return facts


def _plain(value: Any) -> Any:
    return int(value) if isinstance(value, float) and value == int(value) else value


def _ended(note: str) -> str:
    """The note with its full stop; after a dozen for short that would be the short word's own."""
    return note + ("\n" if note.endswith("doz") else ". ")


TOLD = _told()


def _around(change: Callable[[int, datetime, str], str | None], *, may_lose: bool = False) -> list[str]:
    """The notes whose facts do not survive a change, which a number of the note's own words picks: none may be added, and
    none lost but where `may_lose`.
    """
    broken = []
    for where, now, note, want in TOLD:
        changed = change(crc32(note.encode()), now, note)
        if changed is None:
            continue
        before, after = _facts(want), _facts(_keys(changed, now))
        if after - before or (before - after and not may_lose):
            broken.append(f"{where} {changed!r}: more {list(after - before)}, less {list(before - after)}")
    return broken


def test_the_tables_tell_enough() -> None:
    assert len(TOLD) > 1500


def test_greetings_before_a_note_change_nothing() -> None:
    assert _around(lambda pick, _, note: OPENINGS[pick % len(OPENINGS)] + note) == []


def test_thanks_and_remarks_after_a_note_change_nothing() -> None:
    assert _around(lambda pick, _, note: note + CLOSINGS[pick % len(CLOSINGS)]) == []


def test_talk_of_something_else_after_a_note_adds_nothing() -> None:
    assert _around(lambda pick, _, note: f"{_ended(note)}{BESIDE[pick % len(BESIDE)]}", may_lose=True) == []


def test_what_happened_at_home_adds_nothing_to_what_was_told_before_it() -> None:
    assert _around(lambda pick, _, note: f"{_ended(note)}{AT_HOME[pick % len(AT_HOME)]}", may_lose=True) == []


def test_what_happened_at_home_adds_nothing_to_what_is_told_after_it() -> None:
    assert _around(lambda pick, _, note: f"{BEFORE[pick % len(BEFORE)]}. {note}", may_lose=True) == []


def test_what_was_not_done_adds_nothing_and_takes_no_subject_from_what_was() -> None:
    assert _around(lambda pick, _, note: f"{_ended(note)}{UNDONE[pick % len(UNDONE)]}", may_lose=True) == []


def test_capitals_and_blanks_change_nothing() -> None:
    assert _around(lambda pick, _, note: note.upper() if pick % 2 else note.replace(" ", "  ")) == []


NOW = re.compile(r"\bnow\b")
"""A note that tells how it was and is now has a day for what was."""
LOT = re.compile(r"\b(lot|tray) (\d+)\b(?![-/\d])")
DRESSES = {"lot": ("#{}", "Lot{}", "lot #{}", "lot no. {}"), "tray": ("tray #{}", "tray no. {}", "Tray{}")}


def test_a_lot_by_another_writing_is_the_same_lot() -> None:
    def dress(pick: int, _: datetime, note: str) -> str | None:
        named = LOT.search(note)
        if named is None:
            return None
        dresses = DRESSES[named[1]]
        return note[: named.start()] + dresses[pick % len(dresses)].format(named[2]) + note[named.end() :]

    assert _around(dress) == []


def test_yesterday_before_a_note_dates_it_and_changes_nothing_else() -> None:
    broken = []
    for where, now, note, want in TOLD:
        if (
            "\n" in note
            or want["asks"]
            or any("on" in entry for entry in want["entries"])
            or "tomorrow" in note
            or NOW.search(note)
            or note.startswith("morning")
        ):
            continue
        got = _keys(f"yesterday {note}", now)
        days = {entry.get("on") for entry in got["entries"]}
        undated = {"entries": [{key: entry[key] for key in entry if key != "on"} for entry in got["entries"]]}
        yesterday: date = now.date() - timedelta(days=1)
        if _facts(undated) != _facts(want) or days != {yesterday.isoformat()}:
            broken.append(f"{where} {note!r}: {got}")
    assert broken == []
