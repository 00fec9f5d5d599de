"""How long plants stay out, or a cover off, where the hour of its end is told: "hardening lot 1 out till 4".

Rules
1. An hour without "am" or "pm" is the next such hour after the deed began.
2. An hour that is over when the deed begins says no length; its words are kept.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, time, timedelta
from functools import cache

from core.conversation.heard import either
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lengths import Length
from core.notes import Reading

_ENDING = frozenset({Act.HARDEN, Act.MOVE, Act.AIR})
_HALF_DAY = timedelta(hours=12)


def with_length_until(scene: Scene, reading: Reading) -> Reading:
    """The reading with the length of what ends at an hour told; else as it was."""
    if not any(one.act in _ENDING and one.rest and one.duration is None for one in reading.entries):
        return reading
    return replace(reading, entries=tuple(_lasting(scene, one) for one in reading.entries))


def _lasting(scene: Scene, one: Entry) -> Entry:
    found = _pattern().fullmatch((one.rest or "").lower())
    if found is None or one.act not in _ENDING or one.duration is not None:
        return one
    began = one.on if isinstance(one.on, datetime) else scene.local_now
    ends = _ends_at(began.replace(tzinfo=None), found)
    if ends is None:
        return one
    return replace(one, rest=None, duration=Length.of_minutes(round((ends - began).total_seconds() / 60)))


@cache
def _pattern() -> re.Pattern[str]:
    words, out, noon = (either("answers_heard", "until_told", key) for key in ("words", "out", "noon"))
    hour = r"(?P<hour>\d{1,2})(?:[:.](?P<minute>\d\d))?\s?(?P<half>am|pm)?(?: o'?clock)?"
    return re.compile(rf"(?:(?:{out}) )*(?:{words}) (?:(?P<noon>{noon})|{hour})")


def _ends_at(began: datetime, found: re.Match[str]) -> datetime | None:
    """The instant that the words name, on the day on which the deed began; None where there is no such later hour."""
    hour, minute = (12, 0) if found["noon"] else (int(found["hour"]), int(found["minute"] or 0))
    if hour > 23 or minute > 59:
        return None
    if found["half"]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if found["half"] == "pm" else 0)
    ends = datetime.combine(began.date(), time(hour, minute))
    if ends <= began and not found["half"] and not found["noon"] and hour < 12:
        ends += _HALF_DAY
    return ends if ends > began else None
