"""For whom plants are kept, how many are kept for nobody, and how many somebody got.

Rules
1. Kept plants are left, and not free: both numbers are told together.
2. A name for whom nothing is kept is said so, with what is kept for others; that somebody got none is no record, not none.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from typing import Any

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.lots import Lot
from core.lots.phrases import says
from core.questions.asked_words import page
from core.questions.spans import days_meant
from core.questions.subjects import asked_lots
from core.records import Record, local_day
from core.storage import Books

Asked = Callable[[Books, Entry, str, datetime], Answer | None]

RECEIVED = ("sell", "give", "plant_out")
_MARKS = re.compile(r"[^\w' -]+")
_FAR = 4
"""So many words a name has at most."""


def kept_asked(entry: Entry, words: str) -> Asked | None:
    """Who answers a question about plants that are kept, or that somebody got; None where it asks for neither."""
    free, kept, got = (page("kept")[name] for name in ("free", "kept", "got"))
    if says(words, free["says"]) and says(words, free["beside"]) and not says(words, free["not"]):
        return _how_many_free
    if says(words, kept["says"]) and not says(words, kept["not"]) and entry.on is None:
        return _what_is_kept
    if says(words, got["asks"]) and any(one.split(" {who}")[0].split("{")[0].strip() in words for one in got["says"]):
        return _what_somebody_got
    return None


def _how_many_free(books: Books, entry: Entry, words: str, now: datetime) -> Answer | None:
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    lots = [lot for lot in asked.lots if lot.left is not None and (asked.named or lot.left)]
    if not lots:
        return None
    return FiguresTold(kind="free", facts={"rows": [_row(lot) for lot in lots]})


def _what_is_kept(books: Books, entry: Entry, words: str, now: datetime) -> Answer | None:
    asked = asked_lots(books, entry, now)
    if asked.unknown:
        return Refused(why="no_lot", facts={"unknown": asked.unknown})
    if days_meant(words, local_day(now, books.crew.zone)) is not None:
        return None
    bench = books.lots()
    known = {name for lot in bench for name in lot.reserved_for}
    who = _named(words, known)
    stranger = None if who else _stranger(words, asked.lots if asked.named else bench)
    rows = [_row(lot) for lot in asked.lots if lot.reserved and (who is None or who in lot.reserved_for)]
    facts = {"rows": rows, "who": who, "stranger": stranger, "lots": [lot.number for lot in asked.lots if asked.named]}
    return FiguresTold(kind="kept", facts=facts)


def _row(lot: Lot) -> dict[str, object]:
    named = sum(count for _, count in lot.kept_for)
    others = [["", lot.reserved - named]] if lot.reserved > named else []
    kept = [*([name, count] for name, count in lot.kept_for), *others]
    return {"lot": lot.number, "plant": lot.plant, "left": lot.left, "free": lot.free, "kept": kept}


def _plain(words: str) -> str:
    return " ".join(_MARKS.sub(" ", words).split())


def _named(words: str, names: Iterable[str]) -> str | None:
    """The longest of some names that stands in the words."""
    plain = f" {_plain(words)} "
    return max((name for name in names if f" {name} " in plain or f" {name}'s " in plain), key=len, default=None)


def _stranger(words: str, lots: Sequence[Lot]) -> str | None:
    """Who is named after a little word and has nothing kept; None where nobody is."""
    table = page("kept")["kept"]
    leads = "|".join(map(re.escape, table["before_names"]))
    found = re.search(rf"(?:for|to|{leads}) (?:the )?((?:[a-z'-]+ ?){{1,{_FAR}}})$", _plain(words))
    if found is None:
        return None
    name = found[1].strip()
    plants = {word for lot in lots for word in (lot.plant, *lot.plant.split())}
    if name.split()[0] in {*table["no_names"], *plants} or says(name, table["says"]):
        return None
    return name


def _what_somebody_got(books: Books, entry: Entry, words: str, now: datetime) -> Answer | None:
    asked = asked_lots(books, entry, now, closed_too=True)
    if asked.unknown:
        return None
    records = [one for one in books.records(acts=RECEIVED) if one.holds() and one.entry.to]
    who = _named(words, {(one.entry.to or "").lower() for one in records})
    if who is not None and not _is_receiver(words, who):
        return None
    who = who or _unheard_of(words)
    if who is None:
        return None
    span = days_meant(words, local_day(now, books.crew.zone))
    numbers = {lot.number: lot for lot in asked.lots}
    counts: Counter[tuple[str, str]] = Counter()
    for one in records:
        fits = (one.entry.to or "").lower() == who and one.lot in numbers and _within(books, one, span)
        if fits and one.lot is not None:
            counts[one.lot, one.entry.act.value] += one.entry.count or 0
    rows = [
        {"lot": number, "plant": numbers[number].plant, "act": act, "count": count}
        for (number, act), count in counts.items()
    ]
    days = [day.isoformat() for day in span] if span else None
    return FiguresTold(kind="got", facts={"who": who, "rows": rows, "days": days, "plant": entry.plant})


def _is_receiver(words: str, who: str) -> bool:
    """Whether the words ask what somebody got (`went to the school`), and not what they did (`did ana sell`)."""
    plain = _plain(words).replace(f"the {who}", who)
    wanted = (one if "{who}" in one else f"{one} {{who}}" for one in page("kept")["got"]["says"])
    return any(f" {one.replace('{who}', who)} " in f" {plain} " for one in wanted) or plain.endswith(f"to {who}")


def _unheard_of(words: str) -> str | None:
    """Whom a question of what was sold or given names, who got nothing by the notes; None where it names nobody."""
    found = re.search(r"\bto (?:the )?((?:[a-z'-]+ ?){1,3})$", _plain(words))
    table = page("kept")["got"]
    if found is None or not says(words, table["handing_over"]) or found[1].split()[0] in page("kept")["kept"]["no_names"]:
        return None
    return found[1].strip()


def _within(books: Books, one: Record, span: tuple[Any, Any] | None) -> bool:
    return span is None or span[0] <= local_day(one.at, books.crew.zone) <= span[1]

