"""Which lots are there: the open ones, picked by plant, tray, state and what listing.toml has words for.

Rules
1. What the question names by plant, tray and state narrows first; then every phrase of listing.toml that it holds.
2. Words that pick by nothing known are told back with the list: a list that ignores them would be a false answer.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from functools import cache
from typing import Any

from core.answers import Answer, ListTold
from core.entries import Act, Entry
from core.lots import Lot, fold_cover
from core.lots.trays import trays_in_place
from core.questions.asked_words import page
from core.questions.present import where_is
from core.questions.subjects import asked_lots
from core.storage import Books
from core.vocabulary.loading import read_toml

_LOOKS = frozenset({Act.CHECK, Act.LOSE, Act.WILT, Act.NOTE})
_SPAN = re.compile(r"\b(?:for |in )?(?:the )?(?:past |last )?(\d+|a|two|three|four) (day|week|month)s?\b")
_FROM = re.compile(r" (?:from|off) (?:the )?([\w' -]+?) $")
_LONGEST_PLACE = 3
_WORD = r"[\w'-]+"
_NUMBERS = {"a": 1, "two": 2, "three": 3, "four": 4}
_DAYS = {"day": 1, "week": 7, "month": 30}

Picks = Callable[[Books, Lot, datetime], bool]


@cache
def _phrases() -> tuple[tuple[str, str, str], ...]:
    """Each phrase with its table and key, the longest first."""
    found = [
        (phrase, name, key)
        for name, table in page("listing").items()
        if name not in ("small", "of_all")
        for key, listed in table.items()
        if isinstance(listed, list)
        for phrase in listed
    ]
    return tuple(sorted(found, key=lambda one: -len(one[0])))


def which_lots(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The open lots that fit everything the question says, and the words that it could not pick by."""
    asked = asked_lots(books, entry, now)
    spot = place_asked(books, asked.lots, words, entry.rest or "")
    if spot is not None:
        words = f" {words} ".replace(f" {spot}", " ", 1).strip()
    picks, unread = _picks_of(words, entry.rest or "")
    if entry.trays and not picks and spot is None:
        return where_is(books, entry, words, now)
    place = spot or place_named(asked.lots, unread)
    if spot is not None:
        picks, unread = [*picks, (_stands_at(spot), f"at {spot}")], _without(unread, spot)
    elif place is not None:
        picks, unread = [*picks, (_stands_at(place), f"at {place}")], ""
    elif unread and any(_noted(books, lot, unread) for lot in asked.lots):
        picks, unread = [*picks, (_noted_with(unread), unread)], ""
    lots = tuple(
        lot
        for lot in asked.lots
        if (entry.state is None or _is_in(lot, entry.state)) and all(pick(books, lot, now) for pick, _ in picks)
    )
    named = [entry.state or "", entry.plant or "", *(phrase for _, phrase in picks)]
    return ListTold(lots=lots, asked=" ".join(filter(None, named)) or "open", unread=unread)


def _picks_of(words: str, rest: str) -> tuple[list[tuple[Picks, str]], str]:
    """What the words pick by, each with its phrase, and the left-over words that pick by nothing."""
    picks: list[tuple[Picks, str]] = []
    left, span = f" {' '.join(re.findall(_WORD, words))} ", _SPAN.search(words)
    for phrase, name, key in _phrases():
        if f" {phrase} " in left:
            left = left.replace(f" {phrase} ", " ; ")
            picks.append((_pick(name, key, phrase, _length(span)), phrase))
    source = _FROM.search(left)
    if source is not None:
        left = left.replace(source.group(), " ; ")
        picks.append((_from(source[1]), source.group().strip()))
    spoken = set(left.split()) - set(page("listing")["small"]["words"]) - set(span.group().split() if span else ())
    return picks, " ".join(word for word in re.findall(_WORD, rest) if word in spoken)


def unread_in(books: Books, words: str, rest: str) -> str:
    """The left-over words of a question of all lots that pick them by nothing known; names of the crew pick none."""
    nothing = {*page("listing")["of_all"]["words"], *(name.lower() for name in books.names().people)}
    return " ".join(word for word in _picks_of(words, rest)[1].split() if word not in nothing)


def _length(span: re.Match[str] | None) -> timedelta | None:
    if span is None:
        return None
    number = _NUMBERS.get(span[1]) or int(span[1])
    return timedelta(days=number * _DAYS[span[2]])


def _pick(name: str, key: str, phrase: str, span: timedelta | None) -> Picks:
    if name == "lost_to":
        return lambda books, lot, now: any(loss.cause == key for loss in lot.losses) or _noted(books, lot, phrase)
    if name == "lost":
        return lambda books, lot, now: bool(lot.losses)
    if name == "wilted":
        return lambda books, lot, now: _acted(books, lot, frozenset({Act.WILT}), now - (span or _default(name)))
    if name == "unseen":
        return lambda books, lot, now: not _acted(books, lot, _LOOKS, now - (span or _default(name)))
    return lambda books, lot, now: _stands(books, lot, key, now)


def _from(place: str) -> Picks:
    return lambda books, lot, now: is_from(lot, place)


def place_named(lots: Sequence[Lot], unread: str) -> str | None:
    """The place of one of these lots that the left-over words name."""
    places = {place for lot in lots for place in (lot.place, *lot.moved_partly) if place}
    bare = " ".join(word for word in unread.split() if word not in page("listing")["small"]["words"])
    return next((place for place in sorted(places, key=len) if bare and f" {bare} " in f" {place} "), None)


def place_asked(books: Books, lots: Sequence[Lot], words: str, rest: str) -> str | None:
    """The whole place that a question names, of the lots, of the crew's, or by what it is (`in the shade house`)."""
    picking = {phrase for phrase, _, _ in _phrases()}
    places = {*books.names().places, *(place for lot in lots for place in (lot.place, *lot.moved_partly) if place)}
    known = sorted({place.lower() for place in places if not trays_in_place(place)}, key=len, reverse=True)
    said = re.findall(_WORD, words)
    for place in known:
        led = rf"\b(?:in|on|at|under|inside) (?:the |our |my )?{re.escape(place)}\b"
        if not {place, f"in the {place}", f"in {place}"} & picking and re.search(led, " ".join(said)):
            return place
    bare = [word for word in rest.lower().split() if word not in page("listing")["small"]["words"]]
    is_one = 0 < len(bare) <= _LONGEST_PLACE and bare[-1] in read_toml("small_words.toml")["places"]["structures"]
    return " ".join(bare) if is_one and " ".join(bare) in " ".join(said) and len(bare) > 1 else None


def _without(words: str, place: str) -> str:
    return " ".join(word for word in words.split() if word not in place.split())


def source_named(lots: Sequence[Lot], unread: str) -> str | None:
    """The source of one of these lots that the left-over words name ("mill creek", or "creek" of it)."""
    sources = {one.source.lower() for lot in lots for one in lot.sources}
    bare = " ".join(word for word in unread.lower().split() if word not in page("listing")["small"]["words"])
    said = [one for one in sources if f" {one} " in f" {bare} "]
    return max(said, key=len) if said else next((one for one in sorted(sources) if bare and f" {bare} " in f" {one} "), None)


def is_from(lot: Lot, source: str) -> bool:
    """Whether a lot, or a part of it, is from a source."""
    return any(source in one.source.lower() for one in lot.sources)


def _noted_with(phrase: str) -> Picks:
    return lambda books, lot, now: _noted(books, lot, phrase)


def _noted(books: Books, lot: Lot, phrase: str) -> bool:
    """Whether a note of this lot has these words, but for the small ones."""
    words = [word for word in phrase.split() if word not in page("listing")["small"]["words"]]
    notes = [one.entry.text or "" for one in books.lot_records(lot.number) if one.holds() and one.entry.act is Act.NOTE]
    return bool(words) and any(set(words) <= set(re.findall(_WORD, note.lower())) for note in notes)


def _stands_at(place: str) -> Picks:
    return lambda books, lot, now: place in (lot.place, *lot.moved_partly)


def _default(name: str) -> timedelta:
    return timedelta(days=page("listing")[name]["days"])


def _acted(books: Books, lot: Lot, acts: frozenset[Act], since: datetime) -> bool:
    records = [*books.lot_records(lot.number), *(one for tray in lot.trays for one in books.tray_records(tray))]
    return any(record.holds() and record.entry.act in acts and since <= record.at for record in records)


def _stands(books: Books, lot: Lot, how: str, now: datetime) -> bool:
    covers = (fold_cover(books.tray_records(tray), books.crew.zone, now) for tray in lot.trays)
    facts: dict[str, Callable[[], Any]] = {
        "covered": lambda: any(cover.on for cover in covers),
        "cold": lambda: any(cold.running for cold in lot.colds),
        "held": lambda: lot.hold,
        "potted": lambda: lot.potted,
        "hardening": lambda: lot.stage == "hardening" or lot.outing,
        "sown": lambda: lot.sown_at,
        "stuck": lambda: lot.kind == "cuttings",
    }
    return bool(facts[how]())


def _is_in(lot: Lot, state: str) -> bool:
    number = {"rooted": lot.rooted, "germinated": lot.germinated, "callused": lot.callused, "ready": lot.ready}.get(
        state
    )
    return bool(number) or (state == "alive" and bool(lot.left)) or (state == "roots_out" and lot.roots_out)
