"""What a bare answer to the bot's open question says: "14", "about 40", "tuesday", "rooted", "20 min".

Rules
1. An answer is read as the one thing that was asked, never as more; words that are a note of their own are no answer.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import fields
from datetime import datetime
from typing import Any, Final

from core.entries import Act, Entry
from core.notes.needs import missing
from core.notes.reading import read
from core.vocabulary.loading import small_words

_NUMBER: Final = re.compile(r"#?(\d{1,4}|\d{2}-\d{1,4})[.!]?")
_LONGEST_ANSWER: Final = 60
_NO_PLACES: Final = small_words("moved_out", "no_places")
_LOT_AND_MORE: Final = re.compile(
    r"^(?:lot|lots|tray|trays) #?[\d-]+[a-z]? (?:is|are|was|were|has|have|stands|went|goes)\b", re.IGNORECASE
)


def needs_of(entry: Entry) -> tuple[str, ...]:
    """The kinds of question that an entry still leaves open."""
    return tuple(missing(entry.act.value, {part.name: getattr(entry, part.name) for part in fields(Entry)}))


def read_answer(kind: str, text: str, now: datetime) -> dict[str, Any] | None:
    """The field values that `text` gives as the answer to a question of this kind, or None where it is no answer."""
    words = " ".join(text.split()).strip(" .!")
    reader = _READ.get(kind)
    if reader is None or not words or len(words) > _LONGEST_ANSWER:
        return None
    return reader(words, now)


def act_of_word(word: str) -> str | None:
    """The act that a bare verb names ("stuck", "watered"), or None."""
    reading = read(f"{word} lot 1", datetime(2026, 1, 1))  # noqa: DTZ001
    act = reading.entries[0].act if reading.entries else Act.NOTE
    return None if act in (Act.NOTE, Act.ASK) else act.value


def _only(note: str, now: datetime, act: Act) -> Entry | None:
    """The entry that a note gives, where it gives one of this act and leaves no word over."""
    reading = read(note, now)
    if len(reading.entries) != 1 or reading.entries[0].act is not act or reading.entries[0].rest:
        return None
    return reading.entries[0]


def _tells(words: str, now: datetime) -> bool:
    """Whether words tell a deed of their own ("watered tray 4"), or leave it open which they name ("14 or 15")."""
    told = read(words, now).entries
    return " or " in words.lower() or any(one.act not in (Act.NOTE, Act.AMEND, Act.ASK) for one in told)


def _lot(words: str, now: datetime) -> dict[str, Any] | None:
    if _NUMBER.fullmatch(words):
        return {"lots": (words.strip("#.!"),)}
    named = None if _tells(words, now) else _only(f"misted {words}", now, Act.WATER)
    if named is not None and named.depth_in is None and (named.lots or named.trays or named.plant):
        return {name: value for name in ("lots", "trays", "plant") if (value := getattr(named, name))}
    return None


def _count(words: str, now: datetime) -> dict[str, Any] | None:
    told = _only(f"lot 1: {words} rooted", now, Act.CHECK)
    if told is not None and told.count is not None:
        return _given(told, "count", "count_max", "approx", "of")
    if told is not None and told.share is not None:
        return {"all_of": True, "share": told.share} if told.share == 1 else {"share": told.share}
    lost = _only(f"lot 1: lost {words}", now, Act.LOSE)
    return _given(lost, "count", "share", "all_of", "left", "approx") if lost is not None else None


def _plant(words: str, now: datetime) -> dict[str, Any] | None:
    told = _only(f"stuck 10 {words}", now, Act.STICK)
    return {"plant": told.plant} if told is not None and told.plant else None


def _date(words: str, now: datetime) -> dict[str, Any] | None:
    wanted = _only(f"need 10 toyon by {words.removeprefix('by ')}", now, Act.TARGET)
    reminded = _only(f"remind me to water {words}", now, Act.REMIND)
    done = _only(f"misted lot 1 {words}", now, Act.WATER)
    values: dict[str, Any] = {}
    if wanted is not None and wanted.due is not None:
        values["due"] = wanted.due
    if reminded is not None and reminded.at is not None:
        values["at"] = reminded.at
    if done is not None and done.on is not None:
        values["on"] = done.on
    return values or None


def _state(words: str, now: datetime) -> dict[str, Any] | None:
    told = _only(f"lot 1: 5 {words}", now, Act.CHECK)
    return {"state": told.state} if told is not None and told.state else None


def _unit(words: str, now: datetime) -> dict[str, Any] | None:
    told = _only(f"aired tray 1 {words}", now, Act.AIR)
    return {"duration": told.duration} if told is not None and told.duration else None


def _open(words: str, now: datetime) -> dict[str, Any] | None:
    told = _only(f"tray 1 vents {words}", now, Act.VENT)
    return {"vent_open": told.vent_open} if told is not None and told.vent_open is not None else None


def _solution(words: str, now: datetime) -> dict[str, Any] | None:
    told = _only(f"mixed {words}", now, Act.MIX)
    return {"solution": told.solution} if told is not None and told.solution else None


def _to(words: str, now: datetime) -> dict[str, Any] | None:
    if words.lower() in _NO_PLACES:
        return None
    deeds = [one for one in read(words, now).entries if one.act not in (Act.NOTE, Act.AMEND, Act.ASK)]
    if _LOT_AND_MORE.search(words) is not None or (deeds and re.search(r"\d", words) is not None):
        return None  # "lot 4 is in tray 14", "moved lot 4": told of that lot
    return {"to": words.lower().removeprefix("to ").removeprefix("the ")}


def _text(words: str, now: datetime) -> dict[str, Any] | None:
    return {"text": words.removeprefix("to ")}


def _jug(words: str, now: datetime) -> dict[str, Any] | None:
    found = re.fullmatch(r"(\d{1,2}(?:\.\d{1,2})?) ?(?:%|percent)?", words)
    return {"percent": float(found.group(1))} if found else None


def _given(entry: Entry, *names: str) -> dict[str, Any]:
    return {name: value for name in names if (value := getattr(entry, name)) not in (None, False, ())}


_READ: Final[dict[str, Callable[[str, datetime], dict[str, Any] | None]]] = {
    "lot": _lot,
    "count": _count,
    "count_above": _count,
    "plant": _plant,
    "date": _date,
    "state": _state,
    "unit": _unit,
    "open": _open,
    "solution": _solution,
    "to": _to,
    "text": _text,
    "jug": _jug,
}
