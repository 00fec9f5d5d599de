"""What was counted, told in reply to reminders that ask for it: "about 30 of them", "41, lost 6", "lot 1 59, lot 2 48".

Rules
1. A number is of the state that the reminder of its lot asks to count. Where reminders of one lot ask for two states,
   or reminders of several lots could be meant, that is asked.
2. A list of lots with their counts is so also without a reply, where nobody has said anything since the reminder.
3. "Lot 3 70 with 45 rooted" are two counts; then the bare numbers beside it are of those alive.
4. Nothing is taken from words of which a number would be left over.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from core.conversation.correction_words import bare
from core.conversation.heard import either, heard
from core.conversation.looks import counts_for, none_found, replied_to, said_last
from core.conversation.placing import Placed, place
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Ask, Reading, read
from core.storage import Books, StoredReminder

_WORDS = "answers_heard"
_TABLE = "counts_replied"
_TALK = frozenset({Act.ASK, Act.HELLO, Act.REPLY, Act.UNDO, Act.AMEND})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """The states that the reminders replied to ask to count, by the full number of the lot."""

    states: dict[str, tuple[str, ...]]

    def state_of(self, lot: str) -> str | None:
        """The one state asked of a lot; None where there is none, or there are two."""
        states = self.states.get(lot, ())
        return states[0] if len(states) == 1 else None


def count_replied(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The counts that the words give to the reminders replied to, or the looks that found none; else the reading."""
    none = none_found(books, scene, reading)
    if none is not reading or "?" in scene.message.text or any(one.act in _TALK for one in reading.entries):
        return none
    parts = _parts(scene)
    if not scene.replied_reminders and (len(parts) < 2 or scene.message.replied_to is not None):
        return reading
    asked = _asked(replied_to(books, scene) if scene.replied_reminders else _said_last(books, scene))
    if not asked.states:
        return reading
    listed = _listed(books, scene, asked, reading, parts)
    if listed is None and scene.replied_reminders:
        listed = _of_no_name(books, scene, asked)
    return listed or reading


def _said_last(books: Books, scene: Scene) -> tuple[StoredReminder, ...]:
    """The reminders that are open here, where they are what was said last."""
    open_ones = books.open_reminders(chat=scene.chat, sent=True)
    return open_ones if said_last(books, scene, open_ones) else ()


def _asked(reminders: Sequence[StoredReminder]) -> _Asked:
    states: dict[str, tuple[str, ...]] = {}
    for one in reminders:
        state = counts_for(one.due)
        if state is not None:
            lot = one.due.subject.name
            states[lot] = tuple(dict.fromkeys((*states.get(lot, ()), state)))
    return _Asked(states=states)


def _of_no_name(books: Books, scene: Scene, asked: _Asked) -> Reading | None:
    """ "33", "half", "41, lost 6": a count that names no lot, and what is told beside it."""
    looked_for = {state for states in asked.states.values() for state in states} - {"alive"}
    if len(looked_for) > 1:
        return None
    state = next(iter(looked_for), "alive")
    words, by = _by_whom(scene, " ".join(scene.message.text.lower().split()).strip(" .!"))
    if _has_state(scene, words):
        return None
    only = next(iter(asked.states)) if len(asked.states) == 1 else None
    told = _all_but(books, words, only, state) or _counted(scene, words, state)
    if told is None:
        return None
    first = replace(told.entries[0], by=by or told.entries[0].by)
    of_a_look = [lot for lot, states in asked.states.items() if states != ("alive",)]
    if only is not None:
        # A number beside "look for roots" is of those with roots, also where the count is old.
        entries = (replace(first, lots=(only,)), *told.entries[1:])
        return replace(told, entries=entries, asks=tuple(ask for ask in told.asks if ask.entry != 0))
    mixed = len(of_a_look) < len(asked.states) and bool(of_a_look)
    ways = tuple(
        replace(first, lots=(lot,), state=one) for lot, states in asked.states.items() for one in states[-1:]
    )
    first = replace(first, state=None) if mixed else first
    state_too = (Ask(kind="state", entry=0),) if mixed else ()
    asks = (Ask(kind="lot", entry=0, choices=ways), *state_too, *(ask for ask in told.asks if ask.entry != 0))
    return replace(told, entries=(first, *told.entries[1:]), asks=asks)


def _has_state(scene: Scene, words: str) -> bool:
    """Whether what heads the words counts a state of its own ("20 callused, 3 rooted")."""
    head = words[: min(_ends_within(words), default=len(words))]
    return any(one.act is Act.CHECK and one.state for one in read(head, scene.local_now, scene.names).entries)


def _by_whom(scene: Scene, words: str) -> tuple[str, str | None]:
    """The words without "yes," or "dell did it," at their head, and who did it."""
    head, mark, rest = words.partition(", ")
    told = read(head, scene.local_now, scene.names).entries if mark else ()
    if len(told) == 1 and told[0].act is Act.REPLY and told[0].answer in ("done", "yes"):
        return rest, told[0].by
    return words, None


@cache
def _all_but_patterns() -> tuple[re.Pattern[str], ...]:
    return tuple(
        re.compile(re.escape(way).replace(r"\{left\}", r"(\d{1,5})")) for way in heard(_WORDS, _TABLE, "all_but")
    )


def _all_but(books: Books, words: str, only: str | None, state: str) -> Reading | None:
    """All of the one lot but so many."""
    lot = books.lot(only) if only is not None else None
    found = next((match for way in _all_but_patterns() if (match := way.fullmatch(words))), None)
    if lot is None or lot.left is None or found is None or int(found[1]) >= lot.left:
        return None
    count = lot.left - int(found[1])
    return Reading(entries=(Entry(act=Act.CHECK, state=state, count=count, of=lot.left),))


def _counted(scene: Scene, words: str, state: str) -> Reading | None:
    """The count that heads the words, read as one of this state, with what they tell beside it."""
    if re.match(rf"(?:{either(_WORDS, _TABLE, 'no_count')})\b", words):
        return None
    for end in _ends(words):
        head = read(f"{words[:end]} {state}", scene.local_now, scene.names)
        if not _is_plain(head, state) or any(head.entries[0].lots + head.entries[0].trays):
            continue
        told = read(f"{words[:end]} {state}{words[end:]}", scene.local_now, scene.names) if end < len(words) else head
        first = told.entries[0]
        beside = told.entries[1:]
        whole = first.act is Act.CHECK and first.state == state and all(one.act is not Act.NOTE for one in beside)
        if whole and not any(re.search(r"\d", one.rest or "") for one in told.entries):
            return told
    return None


def _ends(words: str) -> Iterator[int]:
    """Where the count may end: at the end of the words, else before what is told beside it, the first such place."""
    yield len(words)
    yield from sorted(_ends_within(words))


def _ends_within(words: str) -> set[int]:
    return {match.start() for match in re.finditer(either(_WORDS, _TABLE, "parts"), words)}


def _is_plain(told: Reading, state: str) -> bool:
    """Whether a reading is one count of this state and nothing else."""
    one = told.entries[0] if len(told.entries) == 1 else None
    if one is None or one.act is not Act.CHECK or one.state != state or one.rest or one.on:
        return False
    return (one.count is not None or one.share is not None) and {ask.kind for ask in told.asks} <= {"lot"}


@cache
def _two_counts() -> re.Pattern[str]:
    return re.compile(rf"(?P<alive>.*\d),? (?:{either(_WORDS, _TABLE, 'of_which')}) (?P<of_them>\d.*)")


def _parts(scene: Scene) -> list[str]:
    return [bare(part) for part in re.split(r"[,;\n]|\.(?!\d)|\band\b", scene.message.text) if bare(part)]


def _listed(books: Books, scene: Scene, asked: _Asked, reading: Reading, parts: Sequence[str]) -> Reading | None:
    """ "Lot 1 59, lot 2 48, lot 3 70 with 45 rooted": bare counts by lot, each of the state asked of its lot."""
    two = [_two_counts().fullmatch(part) for part in parts]
    if not any(two) and any(one.act is not Act.NOTE for one in reading.entries):
        return None
    entries: list[Entry] = []
    for part, both in zip(parts, two, strict=True):
        found = _of_lot(books, scene, both["alive"] if both else part, asked, alive=any(two))
        if found is None:
            return None
        entries.append(found)
        if both is not None:
            more = read(f"lot {found.lots[0]}: {both['of_them']}", scene.local_now, scene.names)
            if more.asks or any(one.act is not Act.CHECK or one.rest for one in more.entries):
                return None
            entries += more.entries
    return Reading(entries=tuple(entries), asks=_states_asked(entries)) if entries else None


def _of_lot(books: Books, scene: Scene, part: str, asked: _Asked, *, alive: bool) -> Entry | None:
    """The count of one lot that a reminder asks to count; its state stays open where two are asked.

    With `alive` it is of those alive, also of lots that nobody asked to count.
    """
    told = read(f"{_lot_named(books, scene, part, asked)} alive", scene.local_now, scene.names)
    one = told.entries[0]
    if not _is_plain(told, "alive") or told.asks or len(one.lots) + len(one.trays) > 1 or one.share is not None:
        return None
    lots = _standing(books, scene, one)
    if len(lots) != 1 or (lots[0] not in asked.states and not alive):
        return None
    state = "alive" if alive else asked.state_of(lots[0])
    return replace(one, lots=tuple(lots), trays=(), plant=None, state=state)


@cache
def _lot_and_count() -> re.Pattern[str]:
    return re.compile(rf"(?P<lot>\d{{1,5}})(?: (?:{either(_WORDS, _TABLE, 'has')}))? (?P<count>\d{{1,5}}|none|zero)")


def _lot_named(books: Books, scene: Scene, part: str, asked: _Asked) -> str:
    """ "14 has 20", "16 none": the words with the lot called one, where it is asked to count, and the count is no lot
    that is.
    """
    found = _lot_and_count().fullmatch(part)
    if found is None or books.resolve(found["lot"], scene.year()) not in asked.states:
        return part
    may_be_lot = found["count"].isdigit() and books.resolve(found["count"], scene.year()) in asked.states
    return part if may_be_lot else f"lot {found['lot']}: {found['count']}"


def _standing(books: Books, scene: Scene, one: Entry) -> Sequence[str]:
    """The full number of the lot that an entry names, by itself, its tray or its plant; of several lots all."""
    placed = place(books, one, year=scene.year(), reuse=[])
    return placed.lots if isinstance(placed, Placed) else ()


def _states_asked(entries: Sequence[Entry]) -> tuple[Ask, ...]:
    return tuple(Ask(kind="state", entry=place) for place, one in enumerate(entries) if one.state is None)
