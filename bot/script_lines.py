"""What a conversation script says: its lines read into steps, with the place of every fault.

Rules
1. A line is a remark, a head line, a step, a line of the bot's (what it is expected to say), or empty.
2. A line that stands two spaces in goes on with the line before it.
3. The bot's lines are no input: they are what a check compares with.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from core.errors import BenchError

_NAME = r"[^\W\d_][\w.'-]*"
_STEPS: tuple[tuple[str, re.Pattern[str]], ...] = (
    ("clock", re.compile(r"clock: *(?P<text>.+)")),
    ("crew", re.compile(r"crew: *(?P<text>.+)")),
    ("zone", re.compile(r"zone: *(?P<text>.+)")),
    ("restart", re.compile(r"restart")),
    ("bot", re.compile(r"bot(?: \([^)]*\))?(?:, private to [^:(]+)?(?: \([^)]*\))?: ?(?P<text>.*)")),
    ("stranger", re.compile(rf"stranger (?P<name>{_NAME}): ?(?P<text>.*)")),
    (
        "late",
        re.compile(
            rf"late (?P<when>\d{{4}}-\d\d-\d\d \d\d:\d\d) (?P<name>{_NAME})(?P<private>, private)?: ?(?P<text>.*)"
        ),
    ),
    (
        "replies",
        re.compile(rf"(?P<name>{_NAME})(?P<private>, private,)? replies(?: to (?P<which>\d+))?: ?(?P<text>.*)"),
    ),
    ("edits", re.compile(rf"(?P<name>{_NAME})(?P<private>, private,)? edits: ?(?P<text>.*)")),
    ("presses", re.compile(rf"(?P<name>{_NAME})(?P<private>, private,)? presses: *(?P<text>.+)")),
    ("sends", re.compile(rf"(?P<name>{_NAME})(?P<private>, private,)? sends (?P<file>\S+?)(?:: ?(?P<text>.*))?")),
    ("says", re.compile(rf"(?P<name>{_NAME})(?P<private>, private)?: ?(?P<text>.*)")),
)
_SPAN = re.compile(r"\+(\d+)([mhdw])")
_UNIT = {"m": "minutes", "h": "hours", "d": "days", "w": "weeks"}


class ScriptFault(BenchError):
    """A fault in a conversation script, with its place."""

    def __init__(self, file: str, line: int, message: str) -> None:
        super().__init__(f"{file}:{line}: {message}")


@dataclass(slots=True)
class Step:
    """One step of a script: its kind, the lines as they stand, and the parts of them."""

    kind: str
    line: int
    raw: list[str]
    text: str = ""
    name: str = ""
    private: bool = False
    when: str = ""
    which: int | None = None
    file: str = ""
    extra: dict[str, str] = field(default_factory=dict)


def read_script(text: str, file: str) -> list[Step]:
    """The steps of a script. Raises ScriptFault with file and line for a line that is none."""
    steps: list[Step] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if (
            line.startswith("  ")
            and steps
            and steps[-1].kind not in ("remark", "empty", "clock", "crew", "zone", "restart")
        ):
            steps[-1].raw.append(line)
            steps[-1].text += "\n" + line[2:]
        else:
            steps.append(_read_line(line, number, file))
    return steps


def _read_line(line: str, number: int, file: str) -> Step:
    if not line.strip():
        return Step(kind="empty", line=number, raw=[line])
    if line.startswith("#"):
        return Step(kind="remark", line=number, raw=[line])
    for kind, pattern in _STEPS:
        found = pattern.fullmatch(line)
        if found is not None:
            parts = found.groupdict()
            return Step(
                kind=kind,
                line=number,
                raw=[line],
                text=parts.get("text") or "",
                name=parts.get("name") or "",
                private=bool(parts.get("private")),
                when=parts.get("when") or "",
                which=int(parts["which"]) if parts.get("which") else None,
                file=parts.get("file") or "",
            )
    raise ScriptFault(file, number, f"not a line of a script: {line}")


def read_clock(text: str, now: datetime | None, file: str, line: int) -> datetime:
    """The local time that a `clock:` line names: `2026-03-01 08:00`, or `+20m` `+3h` `+14d` after `now`."""
    found = _SPAN.fullmatch(text.strip())
    if found is not None:
        if now is None:
            raise ScriptFault(file, line, "the first clock names a date and a time, like 2026-02-10 09:00")
        return now + timedelta(**{_UNIT[found.group(2)]: int(found.group(1))})
    try:
        return datetime.strptime(text.strip(), "%Y-%m-%d %H:%M")  # noqa: DTZ007
    except ValueError:
        raise ScriptFault(file, line, f"no such time: {text}; write 2026-03-01 08:00 or +14d") from None
