"""Which of a note's numbers is a lot, where either could be: "16 4" of a loss, "14 of 16 rooted" in the talk of lot 15.

Rules
1. Of a deed that counts nothing, bare numbers that are all open lots, or all trays, are lots or trays ("misted 14 15").
2. Lots and their counts in turn ("15 2 dead, 16 3 dead") are told apart where only one of the two ways has open lots.
3. Of two bare numbers those that are open lots are offered, each with the other as the count. Where one alone is a lot
   of the books, and holds so many, there is nothing to ask; what the note goes on with is of that lot too.
4. A whole number of plants, or what was moved, that is the number of an open lot is asked about where the note names
   no lot and only the talk would give one.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from core.answers import Choice
from core.conversation.recording import Pending
from core.entries import Act, Entry
from core.lots import Lot, lots_in
from core.notes import Ask, Reading, needs_of
from core.storage import Books
from core.vocabulary.loading import small_words

_NUMBER = re.compile(r"(?<![\w.-])\d{1,5}(?![\w.-])")


def numbers_of(entry: Entry) -> list[str]:
    """The bare numbers among the words that an entry left over."""
    return _NUMBER.findall(entry.rest or "")


def lot_and_count(entry: Entry, lot: str) -> Entry | None:
    """The entry with one of its two left-over numbers as the lot and the other as the count."""
    numbers = numbers_of(entry)
    if len(numbers) != 2 or lot not in numbers:
        return None
    numbers.remove(lot)
    if entry.count is not None:
        # "15 31, 2 rotted": the 2 are counted already.
        return replace(entry, lots=(lot,), rest=numbers[0])
    rest = " ".join(word for word in (entry.rest or "").split() if not _NUMBER.fullmatch(word) and word not in _LINKS)
    return replace(entry, lots=(lot,), count=int(numbers[0]), rest=rest or None)


_COUNTLESS = frozenset({Act.COVER, Act.VENT, Act.AIR, Act.UNCOVER, Act.WATER, Act.TEND, Act.HARDEN})
_COUNTED = frozenset({Act.CHECK, Act.LOSE, Act.POT, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.WILT})
_LED = re.compile(
    r"(?:^(?=\d+ (?:w|with|under|are|is|still|now)\b)|\b(?:on|in) )(\d{1,4})(?![\w.-])(?! (?:of|to|x)\b)"
)
_LINKS = frozenset({"of", "in", "out of", "from"})


def with_lot_choices(books: Books, one: Pending, year: int) -> Pending:
    """The question which number is the lot, with those that are open lots as buttons; so too the question which lot
    wilted, where how many did is such a number ("15 wilted")."""
    entry = one.entries[0] if one.entries else None
    if entry is None:
        return one
    ways: list[Entry | None] = []
    if one.kind == "number":
        ways = [lot_and_count(entry, number) for number in _open_lots(books, numbers_of(entry), year)]
    elif one.kind != "lot" or one.choices or one.facts:
        return one
    elif entry.act is Act.WILT and entry.count is not None:
        ways = [replace(entry, lots=(lot,), count=None) for lot in _open_lots(books, [str(entry.count)], year)]
    choices = tuple(Choice(label="reading", action={"choose": way.as_keys()}) for way in ways if way is not None)
    return replace(one, choices=choices)


def _open_lots(books: Books, numbers: Sequence[str], year: int) -> list[str]:
    return [number for number in dict.fromkeys(numbers) if _is_open(books, number, year)]


def with_numbers_settled(books: Books, reading: Reading, year: int) -> Reading:
    """The reading with the lot and the count of two bare numbers, where only one of them can be the lot; and with the
    lot that heads a note ("23 looks good, half with roots").
    """
    reading = _in_turn(books, reading, year)
    entries, asks = list(reading.entries), list(reading.asks)
    asked = any(ask.kind == "lot" and ask.entry == 0 for ask in asks)
    headed = _headed(books, entries[0], year) if asked else None
    if headed is not None:
        entries[0] = headed
        asks = [ask for ask in asks if ask.kind != "lot" or ask.entry != 0]
    for place in [ask.entry for ask in reading.asks if ask.kind == "number" and ask.entry is not None]:
        known = _all_named(books, entries[place], year) or _only_reading(books, entries[place], year)
        if known is None:
            continue
        entries[place] = known
        asks = [ask for ask in asks if ask.entry != place]
        asks += [Ask(kind=kind, entry=place) for kind in needs_of(known)]
        for after in range(place + 1, len(entries)):
            one = entries[after]
            if one.lots or one.trays or one.plant:
                break
            if any(ask.kind == "lot" and ask.entry == after for ask in asks):
                entries[after] = replace(one, lots=known.lots)
                asks = [ask for ask in asks if ask.kind != "lot" or ask.entry != after]
    return replace(reading, entries=tuple(entries), asks=tuple(asks))


def _headed(books: Books, entry: Entry, year: int) -> Entry | None:
    """The entry with the open lot whose bare number stands before what is said of one lot alone, or is all that is left
    over of what counts no plants; None for none."""
    if entry.act is Act.HOLD and entry.rest and entry.rest.isdecimal() and entry.count is None:
        whose = replace(entry, lots=(entry.rest,), rest=None)
        return whose if _is_open(books, entry.rest, year) and not (entry.lots or entry.trays or entry.plant) else None
    found = re.match(r"(\d{1,5}) (\S+)", entry.rest or "")
    named = entry.lots or entry.trays or entry.plant
    led = _LED.search(entry.rest or "")
    if led is not None and not named and entry.act in _COUNTLESS and len(numbers_of(entry)) == 1:
        # "vents on 7 are shut": not of the lot that the talk was of; whether 7 is a lot or a tray the books say.
        return replace(entry, lots=(led[1],), rest=" ".join(_LED.sub("", entry.rest or "").split()) or None)
    if found is None or named or found[2] not in small_words("beside", "said_of_one"):
        return None
    rest = (entry.rest or "").removeprefix(f"{found[1]} ")
    return replace(entry, lots=(found[1],), rest=rest) if _is_open(books, found[1], year) else None


def _all_named(books: Books, entry: Entry, year: int) -> Entry | None:
    """The entry with all its left-over numbers as lots, where it counts nothing and each is open, or each is a tray."""
    numbers = numbers_of(entry)
    words = [word for word in (entry.rest or "").split() if not _NUMBER.fullmatch(word)]
    named = entry.lots or entry.trays or entry.plant
    if entry.act not in _COUNTLESS or named or len(set(numbers)) < max(2, len(numbers)):
        return None
    if any(word not in ("and", "&", ",") for word in words):
        return None
    if all(_is_open(books, number, year) for number in numbers):
        return replace(entry, lots=tuple(numbers), rest=None)
    standing = {tray for lot in books.lots() for tray in lot.trays}
    return replace(entry, trays=tuple(numbers), rest=None) if standing.issuperset(numbers) else None


def _in_turn(books: Books, reading: Reading, year: int) -> Reading:
    """The reading with an entry of lots and their counts in turn made one of each; else as it was."""
    asked = [ask.entry for ask in reading.asks if ask.kind == "number" and ask.entry is not None]
    for place in reversed(asked):
        each = _each_in_turn(books, reading.entries[place], year)
        if not each:
            continue
        more = len(each) - 1
        asks = [
            replace(ask, entry=ask.entry + more) if ask.entry is not None and ask.entry > place else ask
            for ask in reading.asks
            if ask.entry != place
        ]
        asks += [Ask(kind=kind, entry=place + at) for at, one in enumerate(each) for kind in needs_of(one)]
        entries = (*reading.entries[:place], *each, *reading.entries[place + 1 :])
        reading = replace(reading, entries=entries, asks=tuple(asks))
    return reading


def _each_in_turn(books: Books, entry: Entry, year: int) -> list[Entry]:
    numbers = numbers_of(entry)
    named = entry.lots or entry.trays or entry.plant or entry.count is not None or entry.of is not None
    if named or len(numbers) < 4 or len(numbers) % 2 or len(numbers) < len((entry.rest or "").split()):
        return []
    ways = [
        [replace(entry, lots=(lot,), count=int(count), rest=None) for lot, count in zip(lots, counts, strict=True)]
        for lots, counts in ((numbers[::2], numbers[1::2]), (numbers[1::2], numbers[::2]))
        if len(set(lots)) == len(lots) and all(_is_open(books, lot, year) for lot in lots)
    ]
    fits = len(ways) == 1 and all(_holds(books, one, year) for one in ways[0])
    return ways[0] if fits and entry.act in _COUNTED else []


def _holds(books: Books, entry: Entry, year: int) -> bool:
    lot = _lot(books, entry.lots[0], year)
    return lot is not None and (lot.left is None or (entry.count or 0) <= lot.left)


def _only_reading(books: Books, entry: Entry, year: int) -> Entry | None:
    """The entry with its lot and count, where only one of its two numbers is a lot and that holds as many as the other.

    A number that is a tray is none of the plants but where the lot goes before it, or a little word leads to the lot.
    """
    numbers = numbers_of(entry)
    lots = [number for number in numbers if _lot(books, number, year) is not None]
    if len(numbers) != 2 or len(lots) != 1 or not _is_open(books, lots[0], year):
        return None
    other = numbers[1 - numbers.index(lots[0])]
    lot = _lot(books, lots[0], year)
    if lot is None or lot.left is None or int(other) > lot.left:
        return None
    led = re.search(rf"\b(?:{'|'.join(_LINKS)}) {lots[0]}\b", entry.rest or "")
    if numbers[0] != lots[0] and led is None and lots_in(other, books.lots()):
        return None
    return lot_and_count(entry, lots[0])


def lots_for_numbers(books: Books, told: Reading, filled: Reading, year: int) -> Reading:
    """The reading with a question where the talk gave the lot, and a number of the note may be the lot itself.

    `told` is the reading as the words alone gave it.
    """
    asks = list(filled.asks)
    for place, (before, one) in enumerate(zip(told.entries, filled.entries, strict=False)):
        if before.act is not one.act or before.lots or before.trays or before.plant or not one.lots:
            continue
        number, own = _other_number(one)
        if number is None or not _is_open(books, str(number), year):
            continue
        ways = [replace(own, lots=(str(number),), trays=())]
        if one.of is None or (one.count or 0) <= one.of:
            ways.append(one)
        asks = [ask for ask in asks if ask.entry != place]
        asks.insert(0, Ask(kind="act", entry=place, choices=tuple(ways)))
    return replace(filled, asks=tuple(asks))


def _other_number(one: Entry) -> tuple[int | None, Entry]:
    """The number that may be a lot, and the entry without it."""
    if one.of is not None and not one.sample and one.count is not None:
        return one.of, replace(one, of=None)
    if one.act is Act.MOVE and one.count is not None:
        return one.count, replace(one, count=None)
    return None, one


def _is_open(books: Books, number: str, year: int) -> bool:
    lot = _lot(books, number, year)
    return lot is not None and not lot.closed


def _lot(books: Books, number: str, year: int) -> Lot | None:
    full = books.resolve(number, year)
    return books.lot(full) if full is not None else None
