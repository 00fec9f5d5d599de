"""Which is best, worst, most: lots or trays side by side, by what was counted of them.

Rules
1. What the question names decides what they are ranked by; without it, by the share that rooted or came up.
2. What nobody counted has no rank, and is named as such.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any, Final

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.lots import Lot
from core.lots.phrases import longest_in, says
from core.questions.asked_words import asked_words
from core.questions.subjects import asked_lots
from core.storage import Books

Figure = Callable[[Lot], tuple[int, int | None] | None]


def _share_of(lot: Lot, count: int | None) -> tuple[int, int | None] | None:
    return None if count is None or not lot.started else (min(count, lot.started), lot.started)


def _grown(lot: Lot) -> tuple[int, int | None] | None:
    return _share_of(lot, lot.germinated if lot.kind == "seed" else _rooted_ever(lot))


def _rooted_ever(lot: Lot) -> int | None:
    return None if lot.rooted is None else lot.rooted + (lot.sold + lot.given + lot.planted_out)


_BY: Final[dict[str, Figure]] = {
    "rooted": lambda lot: _share_of(lot, _rooted_ever(lot)) if lot.kind != "seed" else None,
    "germinated": lambda lot: _share_of(lot, lot.germinated) if lot.kind == "seed" else None,
    "lost": lambda lot: (lot.lost, lot.started) if lot.lost else None,
    "sold": lambda lot: (lot.sold, None) if lot.sold else None,
    "left": lambda lot: None if lot.left is None else (lot.left, None),
    "grown": _grown,
}


def rank_asked(entry: Entry, words: str) -> bool:
    """Whether a question asks which of the lots or trays is the first, or the last, by some figure."""
    rank = asked_words()["rank"]
    of_lots = says(words, rank["of"]) and says(words, (*rank["first"], *rank["last"]))
    return entry.about in ("list", "history", "compare", "where") and of_lots and not (entry.lots or entry.trays)


def which_is_first(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The open lots by the figure that the question means, the first one asked of first."""
    asked = asked_lots(books, entry, now)
    if not asked.lots:
        return Refused(why="no_open_lots", facts={"plant": entry.plant, "trays": []})
    by = _by(entry, words)
    known = [(lot, figure) for lot in asked.lots if (figure := _BY[by](lot)) is not None]
    last = says(words, asked_words()["rank"]["last"])
    known.sort(key=lambda one: _weight(one[1]), reverse=not last)
    rows: list[dict[str, Any]] = [
        {"number": lot.number, "plant": lot.plant, "trays": list(lot.trays), "count": count, "of": of, "kind": lot.kind}
        for lot, (count, of) in known
    ]
    counted = {lot.number for lot, _ in known}
    silent = [lot.number for lot in asked.lots if lot.number not in counted and _may_have(lot, by)]
    return FiguresTold(kind="ranked", facts={"by": by, "rows": rows, "silent": silent, "last": last})


def _by(entry: Entry, words: str) -> str:
    if entry.state in _BY:
        return str(entry.state)
    found = {by: longest_in(words, said) for by, said in asked_words()["rank"]["by"].items()}
    best = max(found, key=lambda by: found[by])
    return best if found[best] else "grown"


def _may_have(lot: Lot, by: str) -> bool:
    """Whether a figure that nobody noted of a lot is one that it could have."""
    if lot.kind == "seed":
        return by in ("germinated", "grown", "left") and lot.sown_at is not None
    return by in ("rooted", "grown", "left")


def _weight(figure: tuple[int, int | None]) -> float:
    count, of = figure
    return count / of if of else float(count)
