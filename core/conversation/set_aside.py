"""What is said of plants that the books keep for somebody: "release mrs dunn's", "mia took hers", "tess only wants 8".

Rules
1. Only names for whom plants are kept are heard here, so that what anybody else took or wants stays what it is.
2. What is kept ends, or grows, by a record of its own; who fetches what was kept for them was given it.
3. Where nothing is kept for whom the note says, nothing is written, and that is said.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache

from core.answers import Answer, Refused
from core.conversation.correction_words import bare
from core.conversation.heard import page
from core.conversation.said_patterns import one_of, spoken, without_small_ends
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.by_plant import lots_of_plant
from core.lots.trays import lots_in
from core.notes import Reading, read, read_answer
from core.storage import Books

_FILE = "set_aside"
_SAID = ("over", "fetched", "now", "more")
_GETTING = frozenset({Act.GIVE, Act.SELL})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Said:
    """What is said (`over fetched now more`), of whose plants, how many, and of which of these lots."""

    how: str
    who: str
    count: int | None
    lots: tuple[Lot, ...]


def of_what_is_kept(books: Books, scene: Scene, reading: Reading) -> Reading | Answer:
    """The reading with what it says of plants that are kept for somebody; or the answer that none are."""
    if any(one.act in (Act.ASK, Act.AMEND, Act.REMIND) for one in reading.entries):
        return reading
    ends = [one for one in reading.entries if one.act is Act.RESERVE and one.ends]
    gets = any(one.act in _GETTING and one.to and not one.lots for one in reading.entries)
    alone = len(reading.entries) == 1 and not _tells().isdisjoint(bare(scene.message.text).split())
    if not (ends or gets or alone):
        return reading
    kept = tuple(lot for lot in books.lots() if lot.reserved)
    said = _heard(books, scene, kept) if alone and not ends else None
    if said is not None:
        return _recorded(said, reading)
    found = [_with_lots(one, kept) for one in reading.entries]
    none = next((one for one in found if one in ends and _keeps_none(books, scene, one)), None)
    if none is not None:
        numbers = (books.resolve(lot, scene.year()) or lot for lot in none.lots)
        return Refused(why="nothing_reserved", facts={"to": none.to, "lots": list(numbers)})
    placed = {at for at, one in enumerate(found) if one is not reading.entries[at]}
    asks = tuple(ask for ask in reading.asks if ask.kind != "lot" or ask.entry not in placed)
    return replace(reading, entries=tuple(found), asks=asks) if placed else reading


@cache
def _tells() -> frozenset[str]:
    """Words of which a note must hold one to say anything of what is kept."""
    lists = page(_FILE)["words"]
    said = (*lists["release"], *lists["took"], *lists["wants"], *lists["only"], *page(_FILE)["tells"]["words"])
    return frozenset(word for phrase in said for word in phrase.split())


def _with_lots(one: Entry, kept: tuple[Lot, ...]) -> Entry:
    """The entry with the one lot of which plants are kept for whom it names, where it names none itself."""
    named = bool(one.lots or one.trays)
    if named or not ((one.act in _GETTING and one.to) or (one.act is Act.RESERVE and one.ends)):
        return one
    fits = lots_of_plant(one.plant, kept) if one.plant else kept
    own = [lot for lot in fits if one.to is None or one.to.lower() in lot.reserved_for]
    return replace(one, lots=(own[0].number,)) if len(own) == 1 else one


def _keeps_none(books: Books, scene: Scene, one: Entry) -> bool:
    """Whether nothing is kept in the lots (or, without lots, anywhere) for whom an entry says it is kept no more."""
    numbers = [books.resolve(lot, scene.year()) for lot in one.lots if lot != "all"]
    named = tuple(lot for lot in (books.lot(number) for number in numbers if number) if lot is not None)
    if (one.lots and not named) or one.trays:
        return False
    lots = named or books.lots()
    return not any(lot.reserved and (one.to is None or one.to.lower() in lot.reserved_for) for lot in lots)


def _recorded(said: _Said, reading: Reading) -> Reading | Answer:
    own = [(lot, dict(lot.kept_for)[said.who]) for lot in said.lots]
    if said.count is not None and len(own) > 1:
        # Of which of the lots is not said.
        one = _entry(said.how, said.who, said.count, sum(count for _, count in own))
        return Reading(entries=(one,), repairs=reading.repairs) if one is not None and said.how != "now" else reading
    told = [(lot, _entry(said.how, said.who, said.count, count)) for lot, count in own]
    entries = tuple(replace(one, lots=(lot.number,)) for lot, one in told if one is not None)
    if not entries:
        facts = {"to": said.who, "count": said.count, "lots": [lot.number for lot in said.lots]}
        return Refused(why="reserved_so_already", facts=facts)
    return Reading(entries=entries, repairs=reading.repairs)


def _entry(how: str, who: str, count: int | None, kept: int) -> Entry | None:
    """What is to be recorded of so many that are kept; None where it changes nothing."""
    match how:
        case "fetched":
            return Entry(act=Act.GIVE, count=kept if count is None else count, to=who)
        case "more":
            return Entry(act=Act.RESERVE, count=count, to=who)
        case "now":
            more = (count or 0) - kept
            return Entry(act=Act.RESERVE, count=abs(more), to=who, ends=more < 0) if more else None
        case _:
            return Entry(act=Act.RESERVE, count=kept if count is None else count, to=who, ends=True)


def _heard(books: Books, scene: Scene, kept: tuple[Lot, ...]) -> _Said | None:
    names = {bare(name): name for lot in kept for name in lot.reserved_for}
    words = bare(scene.message.text)
    if not any(name in words for name in names):
        return None
    words = without_small_ends(_FILE, words)
    who = rf"(?:the )?(?P<who>{one_of(tuple(names))})"
    named = {"who": who, "whos": rf"{who}s?", "n": r"(?P<count>\w+)"}
    heard = (_said(books, scene, how, found, names, kept) for how, found in spoken(_FILE, _SAID, words, named))
    return next((one for one in heard if one is not None), None)


def _said(
    books: Books, scene: Scene, how: str, found: re.Match[str], names: dict[str, str], kept: tuple[Lot, ...]
) -> _Said | None:
    who = names[found["who"]]
    parts = found.groupdict()
    count = _count(scene, parts["count"]) if parts.get("count") else None
    own = tuple(lot for lot in kept if who in lot.reserved_for)
    lots = _of(books, scene, found["tail"], own) if found["tail"] else own
    known = "count" not in parts or count is not None
    return _Said(how=how, who=who, count=count, lots=lots) if known and lots else None


def _count(scene: Scene, words: str) -> int | None:
    count = (read_answer("count", words, scene.local_now) or {}).get("count")
    return count if isinstance(count, int) else None


def _of(books: Books, scene: Scene, tail: str, own: tuple[Lot, ...]) -> tuple[Lot, ...]:
    """Those of some lots that the words behind name by number, tray or plant; none where they say anything else."""
    told = read(f"sold 1{tail}", scene.local_now, scene.names).entries
    one = told[0] if len(told) == 1 and told[0].act is Act.SELL else None
    if one is None or one.rest or one.to or one.count != 1:
        return ()
    if one.lots:
        numbers = {books.resolve(texted, scene.year()) for texted in one.lots}
        return tuple(lot for lot in own if lot.number in numbers)
    if one.trays:
        return tuple(lot for tray in one.trays for lot in lots_in(tray, own))
    return lots_of_plant(one.plant, own) if one.plant else ()
