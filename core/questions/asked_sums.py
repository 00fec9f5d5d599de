"""Which sum does a question ask for? By what it is about, and by its words where the reader's key is a wider one.

Rules
1. Rows are tried from the most particular to the most general; the first that fits decides, and none is an answer too.
2. A row needs its own words: a question that no row knows goes to where the reader sent it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from core.answers import Answer
from core.entries import Entry
from core.questions import comparing, dip_sums, forecasts, mothers_of, plans, rates, room_sums, season, seed_sums, shift
from core.questions import warnings as outlooks
from core.storage import Books

Sum = Callable[[Books, Entry, str, datetime], Answer]

_HOW_TO = re.compile(r"\bhow (do|to|can|should|would|did) (i|we|you|u)\b|\bhow to\b|\bhow deep\b|\bhow hot\b")
_BLEACH = re.compile(r"\b(bleach|quat|alcohol|iso)\b")
_CONTAINERS = (
    r"\b(pots?|cells?|six[- ]?packs?|four[- ]?packs?|flats?|trays?|liners?|bands?|fours|gals|gallons?|plugs?)\b"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A sum, what the question must be about (none: anything), the words it must have, and whether it fits the rest."""

    find: Sum
    says: re.Pattern[str]
    about: frozenset[str] = frozenset()
    fits: Callable[[Entry, str], bool] = lambda entry, words: True


def _row(find: Sum, says: str, about: str = "", fits: Callable[[Entry, str], bool] | None = None) -> Row:
    asked = frozenset(about.split())
    compiled = re.compile(says)
    return Row(find=find, says=compiled, about=asked) if fits is None else Row(
        find=find, says=compiled, about=asked, fits=fits
    )  # fmt: skip


def _about_all(entry: Entry, words: str) -> bool:
    return not (entry.plant or entry.lots or entry.trays or entry.solution or entry.did)


def _no_lot(entry: Entry, words: str) -> bool:
    return not (entry.lots or entry.trays)


def _asks_a_rate(entry: Entry, words: str) -> bool:
    return _no_lot(entry, words) and not _HOW_TO.search(words) and not re.search(r"\bhow many\b", words)


def _when_it_moves(entry: Entry, words: str) -> bool:
    return bool(entry.lots or entry.trays)


def _wants_numbers(entry: Entry, words: str) -> bool:
    return _no_lot(entry, words) and bool(
        entry.plant or entry.count or re.search(r"\bhow many\b.*\b(stick|sow|take|start)\b", words)
    )


def _plain_how_many(entry: Entry, words: str) -> bool:
    return entry.count is not None and not _BLEACH.search(words)


def _move_on(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    return forecasts.when_can_it_move(books, entry, now)


_ROWS: tuple[Row, ...] = (
    _row(season.next_list, r"\bnext (year|season|sale)\b|\b(what|which)\b.*\b(grow|propagate)\b.*\bnext\b", fits=_about_all),
    _row(season.season_report, r"\bseason report\b|\bhow (did|was|were|has|have)\b.*\b(year|season)\b|\byear in review\b|\b(report|summary|review)\b.*\b(year|season)\b|\bsum up\b.*\b(year|season)\b", fits=_about_all),
    _row(mothers_of.how_many_mothers, r"\b(mothers?|mother plants?|clones?|stock plants?|genotypes?)\b", "count how history list plan forecast"),
    _row(shift.can_it_be_done, r"\b(do it all|get it all done|enough (people|hands|time|volunteers)|too much (work|to do)|shift load|work ?load|how (full|busy|bad))\b|\bshift\b.*\b(look|looking|full|busy)\b"),
    _row(seed_sums.how_many_to_a_cell, r"\bper (cell|plug|pot)\b|\b(to|in) (a|each|every) (cell|plug)\b|\b(a|each) cell\b"),
    _row(dip_sums.how_much_dip, r"\b(ppm|concentrate|k-?iba|iba|naa|talc|hormone|dip)\b", "mix count how", lambda entry, words: bool(re.search(r"\d", words)) and not re.search(r"\b(good|fresh|old|root|rooted|better)\b", words)),
    _row(room_sums.how_much_mix, r"\b(mix|medium|soil|media|potting)\b.*" + _CONTAINERS + r"|" + _CONTAINERS + r".*\b(mix|medium|soil)\b", "mix plan count how", _plain_how_many),
    _row(room_sums.how_many_fit, r"\bfit\b|\bbench (space|room|length)\b|\bhow (much|long|big)( of)?( a)? bench\b|\bbench\b.*\bneed\b|\b\d+ trays\b.*\bbench\b"),
    _row(seed_sums.how_much_seed, r"\b(seeds?|sow)\b", "mix plan count how", lambda entry, words: entry.count is not None and not entry.lots and not _BLEACH.search(words)),
    _row(comparing.which_is_better, r"", "compare", _no_lot),
    _row(comparing.which_is_better, r"\b(beats?|better|vs|versus)\b", "", lambda entry, words: _no_lot(entry, words) and len(comparing.ways_asked(entry, words)) > 1),
    _row(outlooks.is_it_failing, r"\b(failing|behind|doing (ok|okay|well|badly|poorly)|in trouble|on schedule|too slow)\b", "", lambda entry, words: bool(entry.lots or entry.plant) or "lots" in words),
    _row(plans.what_if, r"\bwhat if\b|\b(chances?|odds)\b.*\b(stick|stuck|only|if)\b|\bif (we|i) (only )?(stick|get|take)\b", "", lambda entry, words: entry.count is not None),
    _row(forecasts.how_many_will_be, r"\b(chances?|odds|likely|probability)\b", "", lambda entry, words: _no_lot(entry, words) and entry.plant is not None),
    _row(rates.how_long, r"\bhow (long|fast|soon|quick|quickly|many (days|weeks))\b.*\b(root|roots|take|strike|germinate|sprout|come up)\b|\btime to root\b|\btake root\b", "", lambda entry, words: _no_lot(entry, words) and entry.plant is not None),
    _row(_move_on, r"", "plan", _when_it_moves),
    _row(plans.how_many_and_when, r"\b(stick|stuck|sow|start|take|strike|collect|need|plant|cuttings|propagate|make|get)\b", "plan", _wants_numbers),
    _row(plans.how_many_and_when, r"\b(when|how late|last day|latest|by when|deadline)\b.*\b(stick|sow|start|take|strike|cuttings)\b|\bmust stick\b", "how due plan forecast", _wants_numbers),
    _row(forecasts.how_many_will_be, r"", "forecast", _no_lot),
    _row(rates.how_it_roots, r"\b(roots?|rooted|rooting|strike|takes?|took|germinat\w*|surviv\w*|success|do|did)\b.*", "how history count", lambda entry, words: _asks_a_rate(entry, words) and _rate_words(entry, words)),
)  # fmt: skip


def _rate_words(entry: Entry, words: str) -> bool:
    if entry.plant is None and not isinstance(entry.cutting, str) and not re.search(r"\bppm\b|\bcuttings?\b", words):
        return False
    return bool(
        re.search(r"\bhow (well|good|reliably|easily|does|did|do|are|is)\b.*\b(root|roots|rooted|rooting|strike|take|takes|germinate|survive|do|did)\b", words)
        or re.search(r"\b(percent|percentage|rate|share|success|odds)\b", words)
        or words.strip() in ("root", "roots", "rooting")
    )  # fmt: skip


def sum_asked(entry: Entry, words: str) -> Sum | None:
    """The sum that a question asks for, or None where it asks for none."""
    about = entry.about or ""
    for row in _ROWS:
        if (not row.about or about in row.about) and row.says.search(words) and row.fits(entry, words):
            return row.find
    return None
