"""How one count is shared out among several lots: "3 and 1", "2 in 14 and 1 in 17".

Rules
1. Each number goes to the lot beside it, or to the lots in the order in which they were named.
2. The shares must make the count of the note, where it gave one; words that name another lot answer nothing.
3. A tray stands for the one lot that is in it. "Half from each" halves an even count between two lots.
4. Words that tell another deed, or are said where no count is to be shared, are a note of their own.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from core.conversation.doubts import EACH_OR_ALL, SHARES
from core.conversation.heard import heard
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots.trays import lots_in
from core.notes import Reading, read_answer
from core.storage import Books

_COUNTS = frozenset({EACH_OR_ALL, SHARES, "lot", "count"})
"""What is asked so that shares may be the answer, where the note has no count of its own."""
_NO_DEED = frozenset({Act.NOTE, Act.REPLY, Act.AMEND, Act.ASK})
_BETWEEN = re.compile(r"\s*(?:,|;|\band\b|&)\s*")


@cache
def _pieces() -> tuple[re.Pattern[str], ...]:
    """The ways of naming a count and its lot, from shares.toml."""
    named = (re.escape(way).replace(r"\ ", r"\s*") for way in heard("shares", "piece"))
    return tuple(
        re.compile(
            one.replace(r"\{count\}", r"(?P<count>\d{1,5}|a couple(?: of them)?|a dozen|[a-z]+)")
            .replace(r"lot\s*\{lot\}", r"(?P<noun>lot|tray)\s*(?P<lot>\d[\d-]*)")
            .replace(r"\{lot\}", r"(?P<noun>#?)(?P<lot>\d[\d-]*)")
        )
        for one in named
    )


def shared_out(
    books: Books, scene: Scene, first: Pending, choices: Sequence[str], reading: Reading
) -> tuple[Entry, ...] | None:
    """The entry once for each lot with its share, or None where the words do not share out its count.

    Empty where the shares do not make the count: it is asked again.
    `choices` are the lots (full numbers) that the question named, in order.
    """
    whole = first.entries[0]
    if _is_another_note(first, reading):
        return None
    told = [part for part in _BETWEEN.split(" ".join(scene.message.text.lower().split()).strip(" .!")) if part]
    told = [part for part in told if part not in heard("shares", "beside")]
    shares = _by_name(books, scene, told) or _halved(scene, whole, choices)
    shares = shares or (_in_order(told, choices) if first.kind in (EACH_OR_ALL, SHARES) else {})
    if len(shares) < 2 and not (first.kind in (EACH_OR_ALL, SHARES) and shares):
        return None
    named = {books.resolve(one, scene.year()) for one in whole.lots} if first.kind == "count" else set()
    if not set(shares) <= (set(choices) or named or set(shares)):
        return None
    if whole.count is not None and sum(shares.values()) != whole.count:
        return ()
    return tuple(replace(whole, lots=(lot,), trays=(), count=count) for lot, count in shares.items() if count)


def _is_another_note(first: Pending, reading: Reading) -> bool:
    """ "14 lost 2, 16 lost 3" where it was asked how far the vents are open, or which lot was potted."""
    whole = first.entries[0]
    if whole.count is None and first.kind not in _COUNTS:
        return True
    return any(one.act not in _NO_DEED | {whole.act} for one in reading.entries)


def _by_name(books: Books, scene: Scene, told: Sequence[str]) -> dict[str, int]:
    shares: dict[str, int] = {}
    for part in told:
        found = next((match for way in _pieces() if (match := way.fullmatch(part))), None)
        if found is None:
            return {}
        count = (read_answer("count", found["count"], scene.local_now) or {}).get("count")
        number = _lot_of(books, scene, found["lot"], found["noun"])
        if number is None or number in shares or count is None:
            return {}
        shares[number] = count
    return shares


def _lot_of(books: Books, scene: Scene, named: str, noun: str | None) -> str | None:
    """The lot of this number, or the only one in the tray of this number."""
    if not (noun or "").startswith("tray"):
        return books.resolve(named, scene.year())
    there = lots_in(named, books.lots())
    return there[0].number if len(there) == 1 else None


def _halved(scene: Scene, whole: Entry, lots: Sequence[str]) -> dict[str, int]:
    words = " ".join(scene.message.text.lower().split()).strip(" .!")
    if words not in heard("shares", "halves") or len(lots) != 2 or not whole.count:
        return {}
    # An odd count cannot be halved: then the shares do not make it, and it is asked again.
    return dict.fromkeys(lots, whole.count // 2)


def _in_order(told: Sequence[str], lots: Sequence[str]) -> dict[str, int]:
    if len(told) != len(lots) or not all(part.isdecimal() for part in told):
        return {}
    return {lot: int(part) for lot, part in zip(lots, told, strict=True)}
