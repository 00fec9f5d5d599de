"""Which sum does a question ask for? By what it is about, and by its words where the reader's key is a wider one.

Rules
1. Rows of sums.toml are tried from the top; the first that fits decides, and none is an answer too.
2. A row names its sum; what a sum is, stands here, so that a row cannot name what nobody can work.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from importlib.resources import files
from typing import Final

from core.answers import Answer
from core.entries import Entry
from core.errors import BadTradeFile
from core.questions import (
    air_sums,
    chilled,
    comparing,
    dip_sums,
    forecasts,
    germination_sums,
    mixing,
    mothers_of,
    plans,
    rates,
    room_sums,
    season,
    seed_sums,
    shift,
    wash_sums,
)
from core.questions import warnings as outlooks
from core.storage import Books

Sum = Callable[[Books, Entry, str, datetime], Answer]

_FILE: Final = "sums.toml"


def _move_on(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    return forecasts.when_can_it_move(books, entry, now)


_SUMS: Final[Mapping[str, Sum]] = {
    "next_list": season.next_list,
    "season_report": season.season_report,
    "season_of_plant": season.season_of_plant,
    "losses": season.losses_by_cause,
    "how_many_mothers": mothers_of.how_many_mothers,
    "will_it_come_true": seed_sums.will_it_come_true,
    "can_it_be_done": shift.can_it_be_done,
    "how_it_came_up": germination_sums.how_it_came_up,
    "do_replicates_agree": germination_sums.do_replicates_agree,
    "pure_live_seed": seed_sums.pure_live_seed,
    "how_dry_is_the_air": air_sums.how_dry_is_the_air,
    "how_much_chill": chilled.how_much_chill,
    "how_many_to_a_cell": seed_sums.how_many_to_a_cell,
    "how_much_alcohol": wash_sums.how_much_alcohol,
    "how_it_was_mixed": mixing.how_it_was_mixed,
    "how_much_bleach": wash_sums.how_much_bleach,
    "how_much_dip": dip_sums.how_much_dip,
    "how_much_mix": room_sums.how_much_mix,
    "how_many_fit": room_sums.how_many_fit,
    "how_much_seed": seed_sums.how_much_seed,
    "which_is_better": comparing.which_is_better,
    "is_it_failing": outlooks.is_it_failing,
    "what_if": plans.what_if,
    "how_many_will_be": forecasts.how_many_will_be,
    "how_long": rates.how_long,
    "when_can_it_move": _move_on,
    "how_many_and_when": plans.how_many_and_when,
    "how_it_roots": rates.how_it_roots,
}

_NEEDS: Final[Mapping[str, Callable[[Entry, str], bool]]] = {
    "plant": lambda entry, words: entry.plant is not None,
    "count": lambda entry, words: entry.count is not None,
    "volume": lambda entry, words: entry.volume is not None,
    "number": lambda entry, words: re.search(r"\d", words) is not None,
    "lot": lambda entry, words: bool(entry.lots or entry.trays),
    "no_lot": lambda entry, words: not (entry.lots or entry.trays),
    "nothing": lambda entry, words: not (entry.plant or entry.lots or entry.trays or entry.solution or entry.did),
    "plant_or_lots": lambda entry, words: bool(
        entry.plant or entry.lots or re.search(r"\b(lots|anything|something|we|it|they|tray|trays)\b", words)
    ),
    "plant_or_count": lambda entry, words: entry.plant is not None or entry.count is not None,
    "two_ways": lambda entry, words: len(comparing.ways_asked(entry, words)) > 1,
    "plant_or_way": lambda entry, words: entry.plant is not None or rates.names_a_way(entry, words),
    "lot_or_course": germination_sums.can_be_told,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of sums.toml, its phrases made ready."""

    sum: str
    about: frozenset[str]
    says: re.Pattern[str] | None
    also: re.Pattern[str] | None
    without: re.Pattern[str] | None
    needs: tuple[str, ...]

    def fits(self, entry: Entry, words: str) -> bool:
        """True where a question about `entry.about` in these words is of this row."""
        return (
            (not self.about or (entry.about or "") in self.about)
            and (self.says is None or self.says.search(words) is not None)
            and (self.also is None or self.also.search(words) is not None)
            and (self.without is None or self.without.search(words) is None)
            and all(_NEEDS[need](entry, words) for need in self.needs)
        )


def sum_asked(entry: Entry, words: str) -> Sum | None:
    """The sum that a question asks for, or None where it asks for none."""
    row = next((row for row in rows() if row.fits(entry, words)), None)
    return None if row is None else _SUMS[row.sum]


@cache
def rows() -> tuple[Row, ...]:
    """The rows that ship with the program. Raises BadTradeFile where an edit made one unreadable."""
    return read_rows(files("core.questions").joinpath(_FILE).read_text(encoding="utf-8"))


def read_rows(text: str) -> tuple[Row, ...]:
    """The rows of a text like sums.toml; raises BadTradeFile that names what nobody knows in it."""
    try:
        page = tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        raise BadTradeFile(f"{_FILE} cannot be read: {wrong}", hint="undo the last edit of that file") from wrong
    lists = {f"<{name}>": words for name, words in page.get("words", {}).items()}
    return tuple(_row(block, lists) for block in page.get("row", ()))


def _row(block: Mapping[str, object], lists: Mapping[str, str]) -> Row:
    known = {"sum", "about", "says", "also", "not", "needs"}
    strange = sorted(set(block) - known)
    name, needs = str(block.get("sum")), _texts(block.get("needs"))
    strange += [name] if name not in _SUMS else []
    strange += [need for need in needs if need not in _NEEDS]
    if strange:
        raise BadTradeFile(f"{_FILE} names what nobody knows: {', '.join(strange)}", words=", ".join(strange))
    return Row(
        sum=name,
        about=frozenset(_texts(block.get("about"))),
        says=_pattern(_texts(block.get("says")), lists),
        also=_pattern(_texts(block.get("also")), lists),
        without=_pattern(_texts(block.get("not")), lists),
        needs=needs,
    )


def _texts(value: object) -> tuple[str, ...]:
    return tuple(str(one) for one in value) if isinstance(value, list) else ()


def _pattern(phrases: Iterable[str], lists: Mapping[str, str]) -> re.Pattern[str] | None:
    """Any of the phrases, at the bounds of words."""
    made = [_phrase(phrase, lists) for phrase in phrases]
    return re.compile("|".join(made)) if made else None


def _phrase(phrase: str, lists: Mapping[str, str]) -> str:
    made, gap = "", r"(?<![\w.])"
    for name, words in lists.items():
        phrase = phrase.replace(name, words.replace(" ", "_"))
    for part in phrase.removeprefix("^").removesuffix("$").split(" "):
        if part == "…":
            gap = r"\b.*(?<![\w.])"
            continue
        if part.startswith("("):
            made += rf"(?:{gap}(?:{_choices(part[1:-1])}))?"
        else:
            made += rf"{gap}(?:{_choices(part)})"
        gap = " "
    start, end = ("^" if phrase.startswith("^") else ""), ("$" if phrase.endswith("$") else r"(?!\w)")
    return f"{start}{made}{end}"


def _choices(part: str) -> str:
    words = (re.escape(one).replace("_", " ") for one in part.split("|"))
    return "|".join(one.replace(r"\*", r"\w*").replace(r"\#", r"\d[\d,.]*") for one in words)
