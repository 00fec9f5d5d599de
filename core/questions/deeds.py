"""Which records does a question of the past ask for: of which deed, of what, by whom and on which days?

Rules
1. What the question names narrows: the deed, lots, trays or plant, a solution, what was cleaned, who did it, the days.
2. Without any of that, and without a deed, it is the last two weeks.
3. Gathered seed belongs to no lot; it is found by its plant.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Final

from core.answers import Refused
from core.entries import Act, Entry
from core.lots import stays
from core.lots.phrases import says
from core.lots.trays import tray_name
from core.notes import act_of_word, read
from core.questions.asked_words import asked_words
from core.questions.spans import span_asked
from core.questions.subjects import asked_lots
from core.questions.troubles import of_trouble, trouble_asked
from core.records import Record, local_day
from core.storage import Books
from core.vocabulary.plants import same_plant

RECENT: Final = timedelta(days=14)
TALK: Final = frozenset({Act.UNDO, Act.AMEND, Act.ASK, Act.HELLO})
_NO_DEED: Final = TALK | {Act.NOTE, Act.REPLY, Act.ROSTER, Act.RULE, Act.REMIND, Act.TARGET}
_TO_SOMEBODY: Final = frozenset({Act.SELL, Act.GIVE, Act.RESERVE})
_RANKED: Final = re.compile(r"^(?:the )?(?:last|first|one)(?: one)?(?: to| who| that)? ")
_WHO: Final = re.compile(r"\bwho(?:'s|s|'ve|'d)?(?: (?:has|have|had|was|did|is|all|else))* (.+?)\??$")
_WORD: Final = r"[\w'-]+"


def deed_of_who(entry: Entry, words: str, now: datetime) -> Entry:
    """The question "who mixed the bleach" with the deed that its words name, told as a note would tell it."""
    found = _WHO.search(words)
    if entry.did is not None or not entry.rest or found is None:
        return entry
    said = _RANKED.sub("", found[1])
    told = read(said, now.replace(tzinfo=None)).entries
    deed = told[0] if len(told) == 1 and told[0].act not in _NO_DEED else None
    if deed is None:
        did = next((act for act in map(act_of_word, entry.rest.split()) if act), None)
        if did is None and said != found[1]:
            anew = read(f"did anyone {said}", now.replace(tzinfo=None)).entries
            did = anew[0].did if len(anew) == 1 else None
        return replace(entry, did=did)
    rest = " ".join(deed.things) or (str(deed.count) if deed.count is not None else None)
    return replace(entry, did=deed.act.value, method=deed.method, solution=entry.solution or deed.solution, rest=rest)


def records_asked(books: Books, entry: Entry, words: str, now: datetime) -> list[Record] | Refused:
    """The records that hold of what the question names, whoever did it; a lot that nobody knows is refused."""
    zone = books.crew.zone
    span = span_asked(entry.on, words, local_day(now, zone))
    found = _of_the_named(books, entry, now, recent=span is None)
    if isinstance(found, Refused):
        return found
    acts = acts_of(entry.did) if entry.did else None
    kept = [
        record
        for record in found
        if record.holds()
        and record.entry.act not in TALK
        and (acts is None or record.entry.act in acts)
        and (entry.care is None or record.entry.care == entry.care)
        and (entry.method is None or record.entry.method in (entry.method, None))
        and (span is None or span[0] <= local_day(record.at, zone) <= span[1])
    ]
    things = things_asked(entry, words)
    if things:
        kept = [record for record in kept if things & _stems(" ".join(record.entry.things))]
    trouble = trouble_asked(entry)
    if trouble is not None:
        kept = of_trouble(kept, trouble)
    number = number_asked(entry)
    return kept if number is None else [one for one in kept if number in (one.entry.count, one.entry.count_max)]


def by_those(found: Sequence[Record], who: Sequence[str], words: str = "") -> list[Record]:
    """The records of what these people did, or got ("what did mia buy"); all of them where nobody is named."""
    names = {name.lower() for name in who}
    if names and says(words, asked_words()["got"]["says"]):
        return [record for record in found if (record.entry.to or "").lower() in names and record.entry.act in _TO_SOMEBODY]
    return [record for record in found if not names or record.by.lower() in names]


def things_asked(entry: Entry, words: str) -> frozenset[str]:
    """What a question of cleaning names, as bare stems ("clipper")."""
    if entry.did != Act.SANITIZE.value or entry.lots or entry.trays or entry.plant:
        return frozenset()
    nouns, small = set(asked_words()["things"]["nouns"]), set(asked_words()["things"]["small"])
    named = {word for word in re.findall(_WORD, words) if word in nouns}
    named |= {word for word in re.findall(_WORD, (entry.rest or "").lower()) if act_of_word(word) is None}
    return _stems(" ".join(named - small))


def _stems(words: str) -> frozenset[str]:
    return frozenset(re.sub(r"(?<=[sx])es$|(?<=[cs]h)es$|(?<=[a-z]{2})s$", "", word) for word in re.findall(_WORD, words.lower()))


def number_asked(entry: Entry) -> int | None:
    """The count by which a record is asked for ("who counted 41"); a number beside a lot or tray is none."""
    if entry.did is None or entry.about != "who" or entry.lots or entry.trays or not (entry.rest or "").isdigit():
        return None
    return int(entry.rest or "")


def _of_the_named(books: Books, entry: Entry, now: datetime, *, recent: bool) -> list[Record] | Refused:
    if entry.lots or entry.plant:
        asked = asked_lots(books, entry, now, closed_too=True)
        if asked.unknown:
            return Refused(why="no_lot", facts={"unknown": asked.unknown})
        records = [record for lot in asked.lots for record in books.lot_records(lot.number)]
        return [*records, *_gathered(books, entry.plant)] if entry.plant and not entry.lots else records
    if entry.trays:
        return [record for tray in entry.trays for record in _of_the_tray(books, tray)]
    if entry.solution:
        mixed = books.records(acts=("mix", "pour_out", "sanitize"))
        return [one for one in mixed if one.entry.solution == entry.solution]
    if recent and entry.did is None and not entry.who:
        return list(books.records(since=now - RECENT))
    return list(books.records())


def _gathered(books: Books, plant: str | None) -> list[Record]:
    """The records of seed gathered of a plant."""
    told = books.records(acts=(Act.COLLECT.value,))
    return [one for one in told if one.lot is None and plant and one.entry.plant and same_plant(one.entry.plant, plant)]


def _of_the_tray(books: Books, tray: str) -> list[Record]:
    """The records that count for a tray; of one note of several lots, those of the lots that stood there."""
    name, told = tray_name(tray), list(books.tray_records(tray))
    lots = {record.lot for record in told if record.lot}
    there = [stay for stay in stays(one for lot in lots for one in books.lot_records(lot)) if stay.tray == name]
    of_it = {
        record.number
        for record in told
        if record.lot is None
        or name in map(tray_name, record.entry.trays)
        or any(stay.lot == record.lot and stay.holds_at(record.at) for stay in there)
    }
    notes = {record.message for record in told if record.number in of_it}
    return [record for record in told if record.number in of_it or record.message not in notes]


def acts_of(did: str) -> frozenset[Act]:
    """The acts that a question's word stands for: "weaned" is airing and uncovering, "covered" is the cover."""
    if did in ("air", "wean", "uncover"):
        return frozenset({Act.AIR, Act.UNCOVER})
    try:
        return frozenset({Act(did)})
    except ValueError:
        return frozenset(Act) - TALK

