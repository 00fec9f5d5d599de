"""What the talk just before fills in: the lot, tray or plant that a note leaves out, and what was taken from where.

Rules
1. The message replied to comes first, then what this person talked of last within the hour.
2. Only what a note lacks is filled in; what it says stands.
3. "and 15 too", "same for lot 16" is the act before, on another lot.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from core.entries import Act, Entry
from core.notes.values import Ask, Reading

_AGAIN: Final = frozenset({"too", "as well", "also", "same", "same for", "same again", "ditto", "likewise", "and too"})
_FREE: Final = frozenset({Act.NOTE, Act.HELLO, Act.UNDO, Act.AMEND, Act.REPLY, Act.REMIND, Act.TARGET, Act.ROSTER})


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """What was talked of: the lots, trays or plant of the message replied to, and of this person's latest note."""

    now: datetime
    replied: Entry | None = None
    latest: Entry | None = None
    latest_entries: tuple[Entry, ...] = ()


def complete(reading: Reading, context: Context) -> tuple[Reading, tuple[str, ...]]:
    """The reading with what the talk fills in, and a few words for each thing taken, for the receipt."""
    again = _again(reading, context)
    if again is not None:
        return again
    source = context.replied or context.latest
    if source is None:
        return reading, ()
    entries, asks, filled = list(reading.entries), list(reading.asks), False
    lacking = {ask.entry for ask in reading.asks if ask.kind == "lot"}
    for place, entry in enumerate(entries):
        about_lots = (
            entry.act is Act.ASK and entry.about in ("count", "history", "where", "plan") and not entry.solution
        )
        bare_question = about_lots and not (entry.lots or entry.trays or entry.plant)
        if place in lacking or (bare_question and context.replied is not None):
            entries[place] = _filled(entry, source)
            asks = [ask for ask in asks if not (ask.kind == "lot" and ask.entry == place)]
            filled = True
    if not filled:
        return reading, ()
    where = "the message you replied to" if context.replied is not None else "what you told last"
    return replace(reading, entries=tuple(entries), asks=tuple(asks)), (f"{_named(source)}, from {where}",)


def _filled(entry: Entry, source: Entry) -> Entry:
    if source.lots:
        return replace(entry, lots=source.lots)
    if source.trays:
        return replace(entry, trays=source.trays)
    return replace(entry, plant=entry.plant or source.plant)


def _again(reading: Reading, context: Context) -> tuple[Reading, tuple[str, ...]] | None:
    """A note that only names another lot, with a word for "too": the acts before, there."""
    if len(reading.entries) != 1 or not context.latest_entries:
        return None
    entry = reading.entries[0]
    words = (entry.text or entry.rest or "").lower()
    named = bool(entry.lots or entry.trays)
    if entry.act is not Act.NOTE or not named or not any(f" {word} " in f" {words} " for word in _AGAIN):
        return None
    repeated = tuple(
        replace(one, lots=entry.lots, trays=entry.trays, on=entry.on or one.on)
        for one in context.latest_entries
        if one.act not in _FREE
    )
    if not repeated:
        return None
    return Reading(entries=repeated, repairs=reading.repairs), ("the same as you told before",)


def _named(entry: Entry) -> str:
    if entry.lots:
        return f"lot {', '.join(entry.lots)}"
    if entry.trays:
        return f"tray {', '.join(entry.trays)}"
    return str(entry.plant)


__all__ = ["Ask", "Context", "complete"]
