"""What the talk just before fills in: the lot, tray or plant that a note leaves out, and what was taken from where.

Rules
1. The message replied to comes first, then what this person asked or told of last within the hour.
2. Only what a note lacks is filled in; what it says stands. One count is never filled in for several lots.
3. A note that leans on the one before it ("same for lot 16", "and 30 toyon too") goes on with that one's act.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import datetime

from core.entries import Act, Entry
from core.notes.likewise import all_of_them, how_many_begun, next_of_list, same_elsewhere, with_the_same
from core.notes.short_answers import needs_of
from core.notes.words.values import NO_NAMES, Ask, Names, Reading
from core.vocabulary.loading import small_words

_EACH = re.compile(r"\b(each|apiece)\b")
_WORD = re.compile(r"[\w'-]+")
_ALL = small_words("questions", "of_all")


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """What was talked of: the lots, trays or plant of the message replied to, of what this person asked about since
    the latest note, and of that note.

    `latest_entries` are the entries of that note, `earlier` those of all this person's notes within the hour (the
    last one last), for "same hormone"; `talked_of` are the trays and lots that this person spoke of within
    the hour, and `standing` all open ones: each as (lots, trays), for "both" and "all three".
    """

    now: datetime
    replied: Entry | None = None
    asked: Entry | None = None
    latest: Entry | None = None
    latest_entries: tuple[Entry, ...] = ()
    earlier: tuple[Entry, ...] = ()
    talked_of: tuple[tuple[str, ...], tuple[str, ...]] = ((), ())
    standing: tuple[tuple[str, ...], tuple[str, ...]] = ((), ())
    names: Names = NO_NAMES


def complete(reading: Reading, context: Context, text: str) -> tuple[Reading, tuple[str, ...]]:
    """The reading with what the talk fills in, and a few words for each thing taken, for the receipt."""
    again = same_elsewhere(reading, text, context.latest_entries)
    if again:
        asks = tuple(Ask(kind=kind, entry=at) for at, one in enumerate(again) for kind in needs_of(one))
        asks += how_many_begun(again, context.latest_entries)
        return Reading(entries=again, asks=asks, repairs=reading.repairs), ("the same as you told before",)
    before, earlier = context.latest_entries, context.earlier
    following = next_of_list(reading, text, before, earlier, context.now, context.names)
    if following is not None:
        return with_the_same(following, text, context.earlier)[0], ("going on with what you told last",)
    reading, same = with_the_same(reading, text, context.earlier)
    reading, took = _fill(reading, context, text)
    return reading, (*(("the same as you told before",) if same else ()), *took)


def _fill(reading: Reading, context: Context, text: str) -> tuple[Reading, tuple[str, ...]]:
    source = context.replied or context.asked or context.latest
    entries, asks, took = list(reading.entries), list(reading.asks), list[str]()
    lacking = {ask.entry for ask in reading.asks if ask.kind == "lot" and not ask.choices}
    undecided = min((ask.entry for ask in asks if ask.kind == "number" and ask.entry is not None), default=len(entries))
    for place, entry in enumerate(entries):
        if place > undecided and reading.entries[undecided].act is not Act.NOTE:
            # "16 4 rooted, 2 dead": which number is the lot is asked first, and the dead are of that lot.
            continue
        bare_question = _asks_of_lots(entry) and context.replied is not None
        if (place not in lacking and not bare_question) or (context.replied is None and _of_all(entry, context, text)):
            continue
        filled, whence = _filled(entry, context, source, text)
        if filled is None:
            continue
        entries[place] = filled
        asks = [ask for ask in asks if not (ask.kind == "lot" and ask.entry == place)]
        took.append(whence)
    if not took:
        return reading, ()
    return replace(reading, entries=tuple(entries), asks=tuple(asks)), tuple(dict.fromkeys(took))


def _asks_of_lots(entry: Entry) -> bool:
    about_lots = entry.about in ("count", "history", "where", "plan") and not entry.solution
    return entry.act is Act.ASK and about_lots and not (entry.lots or entry.trays or entry.plant)


def _of_all(entry: Entry, context: Context, text: str) -> bool:
    """`how many up in all`, `how many are up from mill creek`: of all lots, or of those of a source, and not of the one
    that was talked of.
    """
    if entry.act is not Act.ASK or entry.about != "count":
        return False
    words = f" {' '.join(_WORD.findall(text.lower()))} "
    rest = f" {(entry.rest or '').lower()} "
    of_source = any(f" {one.lower()} " in rest for one in context.names.sources)
    from_there = bool(entry.rest) and f" from {rest.strip()} " in words.replace(" from the ", " from ")
    return of_source or from_there or any(f" {said} " in words for said in _ALL)


def _filled(entry: Entry, context: Context, source: Entry | None, text: str) -> tuple[Entry | None, str]:
    for lots, trays in (context.talked_of, context.standing):
        every = all_of_them(entry, text, lots, trays)
        if every is not None:
            return every, _named(every)
    if source is None or not (source.lots or source.trays or source.plant):
        return None, ""
    if _one_count_of_several(entry, source, text):
        return None, ""
    before = "what you told last" if context.asked is None else "what you asked last"
    where = "the message you replied to" if context.replied is not None else before
    told = f"{_named(source)}, from {where}"
    if source.lots:
        return replace(entry, lots=source.lots), told
    if source.trays:
        return replace(entry, trays=source.trays), told
    return replace(entry, plant=entry.plant or source.plant), told


def _one_count_of_several(entry: Entry, source: Entry, text: str) -> bool:
    """Whether the entry counts plants once, and the talk was of several lots that cannot all have that count."""
    counted = any(number is not None for number in (entry.count, entry.of, entry.left))
    return counted and len(source.lots) > 1 and not _EACH.search(text.lower())


def _named(entry: Entry) -> str:
    if entry.lots:
        return f"lot {', '.join(entry.lots)}"
    if entry.trays:
        return f"tray {', '.join(entry.trays)}"
    return str(entry.plant)


__all__ = ["Ask", "Context", "complete"]
