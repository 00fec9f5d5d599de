"""A note that leans on the one before it: the same again elsewhere, the next of a list, or all of what was talked of.

Rules
1. "same for lot 16", "and 15 too", "and the sage" is the acts before, there; only where the note says nothing else.
   "And 3 in lot 15" is what was counted before, counted there, where one thing was.
2. "and 36 black sage heels, tray 3" after a sticking is another sticking; "same hormone" is the hormone before.
3. "misted both", "domed all three" are the lots or trays last talked of, where they are exactly that many.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any

from core.entries import Act, Entry
from core.notes.reading import read
from core.notes.words.number_words import number_of_word
from core.notes.words.values import Ask, Names, Reading
from core.vocabulary.loading import read_toml

_FREE = frozenset({Act.NOTE, Act.HELLO, Act.UNDO, Act.AMEND, Act.REPLY, Act.REMIND, Act.TARGET, Act.ROSTER})
_OPENING = frozenset({Act.STICK, Act.SOW, Act.COLLECT, Act.DIVIDE})
_CARED = frozenset({Act.COVER, Act.VENT, Act.WATER, Act.TREAT, Act.TEND})
"""What is done at once to what was just begun: the next of a list goes on with the beginning."""
_SEED = frozenset({"seed", "seeds"})
_COUNTED = frozenset({Act.CHECK, Act.LOSE, Act.POT, Act.SELL, Act.GIVE, Act.PLANT_OUT})
_WORD = r"[\w'&-]+"
_LEADS, _TOO = r"(?:(?:and|also|plus|then|&) )*", r"(?: (?:too|also|as well))*"
_SO_MANY, _NUMBER = r"(?P<count>\d{1,4}|[a-z]+)", r"(?P<number>\d[\d-]*)"
_COUNT_IN = re.compile(
    rf"{_LEADS}(?:(?:just|only) )?{_SO_MANY} (?:in|from|of) (?:the )?(?P<noun>lot |tray )?{_NUMBER}{_TOO}"
)
_IN_COUNT = re.compile(rf"{_LEADS}(?P<noun>lot |tray ){_NUMBER}(?: (?:just|only|had|has))* {_SO_MANY}{_TOO}")


@cache
def _lists() -> dict[str, Any]:
    return read_toml("likewise.toml")


def same_elsewhere(reading: Reading, text: str, before: Sequence[Entry]) -> tuple[Entry, ...]:
    """The acts `before` for the lots or trays that this note names, or none where it says anything else."""
    acts = [one for one in before if one.act not in _FREE]
    words = _spaced(text)
    found = _found(words, _lists()["again"]["words"])
    counted = _count_elsewhere(reading, words, acts)
    if counted is not None:
        return (counted,)
    acts = acts or [one for one in before if one.act is Act.NOTE and one.lots][-1:]
    if len(reading.entries) != 1 or reading.entries[0].act is not Act.NOTE or not acts:
        return ()
    if not found and not goes_on(text):
        return ()
    for word in found:
        words = words.replace(f" {word} ", "  ")
    said = [word for word in words.split() if word not in _lists()["again"]["filler"]]
    note = reading.entries[0]
    if note.plant and said == note.plant.split() and acts[-1].act not in (*_OPENING, Act.NOTE):
        plain = (replace(_uncounted(one), lots=(), trays=(), on=note.on or one.on) for one in acts)
        return tuple(replace(one, plant=note.plant) for one in plain)
    numbers = tuple(word for word in said if re.fullmatch(r"#?\d[\d-]*|[a-z]\d?", word))
    if not said or len(numbers) != len(said):
        return ()
    lots, trays = note.lots, note.trays
    if not lots and not trays:
        told = tuple(number.removeprefix("#") for number in numbers)
        lots, trays = (told, ()) if acts[-1].lots or not acts[-1].trays else ((), told)
    named = ((one, one.plant if one.act in _OPENING else None) for one in acts)
    again: Iterable[Entry] = (
        replace(_uncounted(one), lots=lots, trays=trays, plant=plant, on=note.on or one.on) for one, plant in named
    )
    # What was done to two trays stands in the books once for each.
    again = dict.fromkeys(again)
    return tuple(replace(one, text=f'{text.strip()} ("{one.text}")') if one.act is Act.NOTE else one for one in again)


def goes_on(text: str) -> bool:
    """Whether the words begin as what goes on from the note before ("and lots 16 and 17")."""
    return any(_spaced(text).startswith(f" {lead} ") for lead in _lists()["again"]["opens"])


def says_too(text: str) -> bool:
    """Whether the words end as what holds there as well ("15 too")."""
    return any(_spaced(text).endswith(f" {word} ") for word in _lists()["again"]["closes"])


def _count_elsewhere(reading: Reading, words: str, acts: Sequence[Entry]) -> Entry | None:
    """ "and 3 in lot 15", "tray 2 one" after "lot 14 5 dead": the one thing that was counted, counted there."""
    found = _COUNT_IN.fullmatch(words.strip()) or _IN_COUNT.fullmatch(words.strip())
    count = _count(found["count"]) if found is not None else None
    if count is None or found is None or len(reading.entries) != 1 or not reading.asks or not acts:
        return None
    last = acts[-1]
    told = {(one.act, one.state, one.to, one.container) for one in acts}
    if len(told) != 1 or last.act not in _COUNTED or last.count is None:
        return None
    number = found["number"]
    lots, trays = ((), (number,)) if (found["noun"] or "").startswith("tray") else ((number,), ())
    plain = _uncounted(replace(last, share=None, all_of=False, left=None, plant=None, rest=None))
    return replace(plain, count=count, lots=lots, trays=trays)


def _count(word: str) -> int | None:
    """The number that digits or a word tell."""
    told = None if word.isdigit() else number_of_word(word)
    return int(word) if word.isdigit() else told[0] if told is not None and not told[1] else None


def _uncounted(entry: Entry) -> Entry:
    """The act without its count: other plants' number is asked, not copied; "none" holds there too."""
    if not entry.count:
        return entry
    return replace(entry, count=None, count_max=None, of=None, approx=False, more=False)


def how_many_begun(again: Sequence[Entry], before: Sequence[Entry]) -> tuple[Ask, ...]:
    """How many were begun again elsewhere ("same again in tray 6"), with as many as before as the answer offered."""
    counts = {(one.act, one.plant): one.count for one in before if one.act in _OPENING and one.count}
    wholes = ((at, one, counts.get((one.act, one.plant))) for at, one in enumerate(again) if one.count is None)
    return tuple(
        Ask(kind="count", entry=at, choices=(replace(one, count=count),)) for at, one, count in wholes if count
    )


def next_of_list(
    reading: Reading, text: str, before: Sequence[Entry], earlier: Sequence[Entry], now: datetime, names: Names
) -> Reading | None:
    """The note read with the verb of the last act `before`, where it has none of its own and is whole with it; where
    those were only cared for, with that of the cuttings or seed begun `earlier`, if it names such.
    """
    verbs, deed = _lists()["goes_on"], _deed_to_go_on(before)
    if deed is None or deed.act in _CARED:
        deed = _begun_earlier(earlier, text) or deed
    if deed is None or deed.act.value not in verbs or _found(_spaced(text), _lists()["contrary"]["words"]):
        return None
    more_cuttings = deed.act is Act.STICK and _lists_cuttings(reading, text)
    bare, alike = _without_lead(text)
    if not more_cuttings and not _lacks_a_verb(reading, deed, alike=alike):
        return None
    told = _of_the_same(read(f"{verbs[deed.act.value]} {bare}", now, names), deed)
    if alike:
        told = replace(told, entries=tuple(_made_alike(one, (*earlier, deed)) for one in told.entries))
    if told.asks or not told.entries or told.entries[0].act is not deed.act:
        return None
    if not told.entries[0].count and told.entries[0].duration is None:
        return None
    if any(word not in _same_words() for entry in told.entries for word in re.findall(_WORD, entry.rest or "")):
        return None
    return told


def _without_lead(text: str) -> tuple[str, bool]:
    """A note without the words that it begins with as the next of a list, and whether they say "the same"."""
    verbs = _lists()["goes_on"]
    bare = text.strip()
    for lead in (verbs["lead"], verbs["same"]):
        found = re.match(rf"\W*(?:(?:{'|'.join(map(re.escape, lead))})\b\s*)+", bare, flags=re.IGNORECASE)
        bare = bare[found.end() :] if found else bare
    return bare, found is not None


def _made_alike(one: Entry, before: Sequence[Entry]) -> Entry:
    """`same for 36 currant mallets`: with the hormone, medium and containers last told of such, where it tells none."""
    if one.act not in _OPENING:
        return one
    named = ("hormone", "medium", "container") if one.act is Act.STICK else ("medium", "container")
    for key in (key for key in named if getattr(one, key) is None):
        values = (getattr(told, key) for told in reversed(before) if told.act is one.act)
        value: Any = next((value for value in values if value is not None), None)
        one = replace(one, **{key: value})
    return one


def _lacks_a_verb(reading: Reading, deed: Entry, *, alike: bool) -> bool:
    """Whether a note is only what an act was done to: its plants, or where, or what more of them went into; `alike`: it
    says that it is the same.
    """
    if any(one.act is not Act.NOTE for one in reading.entries):
        return False
    if deed.act is Act.POT and not any(one.plant or one.lots or one.trays for one in reading.entries):
        return True
    named = any(one.plant for one in reading.entries)
    if deed.act not in _OPENING:
        named = named or any(one.lots or one.trays for one in reading.entries)
    asked = {ask.kind for ask in reading.asks}
    return named and (alike or "act" in asked) and not any(ask.choices for ask in reading.asks)


def _of_the_same(told: Reading, deed: Entry) -> Reading:
    """`and the other 15 in gallons` after a potting: more of the same lot, where a size is told."""
    one = told.entries[0] if len(told.entries) == 1 else None
    if one is None or not (deed.act is one.act is Act.POT) or one.container is None:
        return told
    nowhere = not (one.plant or one.lots or one.trays) and [ask.kind for ask in told.asks] == ["lot"]
    if not nowhere or not (deed.lots or deed.trays):
        return told
    return replace(told, entries=(replace(one, lots=deed.lots, trays=deed.trays),), asks=())


def _deed_to_go_on(before: Sequence[Entry]) -> Entry | None:
    """The last act of a note, or the beginning of plants that were only cared for since ("stuck 72 toyon, domed")."""
    acts = [one for one in before if one.act not in _FREE]
    begun = next((one for one in reversed(acts) if one.act not in _CARED), None)
    return begun if begun is not None and begun.act in _OPENING else acts[-1] if acts else None


def _begun_earlier(earlier: Sequence[Entry], text: str) -> Entry | None:
    """The last sticking or sowing of those told earlier, where nothing but care came after it and the words name
    cuttings, or seed (`40 sage heels tray 5` after `stuck 72 toyon` and `domed`).
    """
    deed = _deed_to_go_on(earlier)
    named = _forms() if deed is not None and deed.act is Act.STICK else _SEED
    begun = deed is not None and deed.act in (Act.STICK, Act.SOW)
    return deed if begun and not named.isdisjoint(_spaced(text).split()) else None


def _forms() -> frozenset[str]:
    """The words for the forms of cuttings (`heels`, `tips`)."""
    return frozenset(word for phrases in read_toml("values.toml")["cutting"].values() for word in phrases)


def _lists_cuttings(reading: Reading, text: str) -> bool:
    """`36 toyon heels in tray 3, same dip`, `36 toyon heels, tray 3, domed`: more cuttings, with how they were dipped
    or what was done with their tray; they are stuck as those before were.
    """
    one = reading.entries[0] if reading.entries and not reading.asks else None
    if one is None or one.plant is None or any(told.lots or told.act not in _CARED for told in reading.entries):
        return False
    if one.act is Act.TREAT:
        dipped = len(reading.entries) == 1 and one.treatment == "hormone" and one.count is not None
        return dipped and bool(_found(_spaced(text), _lists()["dips"]["words"]))
    left_over = _spaced(one.rest or "").split()
    return bool(left_over) and left_over[0].isdecimal() and not _forms().isdisjoint(left_over)


def _same_words() -> frozenset[str]:
    return frozenset(word for phrases in _lists()["same"].values() for phrase in phrases for word in phrase.split())


def with_the_same(reading: Reading, text: str, before: Sequence[Entry]) -> tuple[Reading, bool]:
    """The reading with "same hormone" and the like filled in from the last of `before` that has such a value."""
    if " same " not in f" {text.lower()} " or not before or not reading.entries:
        return reading, False
    entries = tuple(_with_the_same(entry, text, *before) for entry in reading.entries)
    return replace(reading, entries=entries), entries != reading.entries


def _with_the_same(entry: Entry, text: str, *before: Entry) -> Entry:
    words = _spaced(text)
    for key, phrases in _lists()["same"].items():
        found = _found(words, phrases)
        if not found or not hasattr(entry, key) or getattr(entry, key) is not None:
            continue
        value = next((told for one in reversed(before) if (told := getattr(one, key)) is not None), None)
        if value is not None:
            entry = replace(_without(entry, found[0]), **{key: value})
    return entry


def says_how_many(text: str) -> bool:
    """Whether the words count what was talked of: "both", "all three"."""
    words = _spaced(text)
    return any(_found(words, phrases) for phrases in _lists()["all_of"].values())


def all_of_them(entry: Entry, text: str, lots: Sequence[str], trays: Sequence[str]) -> Entry | None:
    """The entry for the lots or trays last talked of, where the note says how many they are; else None."""
    words = _spaced(text)
    for number, phrases in _lists()["all_of"].items():
        found = _found(words, phrases)
        if not found:
            continue
        if len(trays) == int(number) and "lot" not in found[0]:
            return replace(_without(entry, found[0]), trays=tuple(trays))
        if len(lots) == int(number) and "tray" not in found[0]:
            return replace(_without(entry, found[0]), lots=tuple(lots))
    return None


def _spaced(text: str) -> str:
    """The words of a text in lower case, a blank around each."""
    return f" {' '.join(re.findall(_WORD, text.lower()))} "


def _found(words: str, phrases: Sequence[str]) -> list[str]:
    """Those of the phrases that stand in some spaced words, the longest first."""
    return [phrase for phrase in sorted(phrases, key=len, reverse=True) if f" {phrase} " in words]


def _without(entry: Entry, phrase: str) -> Entry:
    """The entry with the words of a phrase that was understood taken out of its rest."""
    left = [word for word in (entry.rest or "").split() if word.strip(",.") not in phrase.split()]
    return replace(entry, rest=" ".join(left) or None)
