"""How much mix for so many pots, and how many trays on a bench."""

from __future__ import annotations

import re
from datetime import datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.errors import BenchError
from core.figures.medium import Filling, need_medium, open_container_book, trays_for
from core.figures.room import Footprint, bench_length_for, benches_for, pack_trays
from core.records import in_order
from core.storage import Books

_SIZED = re.compile(r"\b(\d+)\s+(\d+(?:\.\d+)?)\s*-?\s*(in|inch|inches|\"|gal|gals|gallons?)\b")
_KINDS = re.compile(
    r"\b(\d+)\s+(six[- ]?packs?|4[- ]?packs?|four[- ]?packs?|flats?|liners?|bands?|fours|gals|gallons|ones)\b"
)
_TRAYS_OF = re.compile(
    r"\b(\d+)\s+(?:(?:trays?|flats?) of\s+)?(50|72|98|128|200)[- ]?(?:cells?|plugs?)\b"
    r"|\b(\d+)\s+(?:trays?|flats?) of (50|72|98|128|200)\b"
)
_BENCH = re.compile(
    r"(\d+(?:\.\d+)?)\s*(?:ft|feet|foot|')?\s*(?:x|by|×)\s*(\d+(?:\.\d+)?)\s*(ft|feet|foot|in|inch|inches|m|'|\")?"
)
_TRAYS = re.compile(r"\b(\d+)\s+(?:trays?|flats?)\b")
_BAG = re.compile(r"\b(\d+)\s+bags?\b")
_BENCH_NAME = re.compile(r"\bbench \d+\b|\bbench [a-z]\b")
_MEDIA = ("perlite", "vermiculite", "pumice", "coir", "peat", "sand", "bark")
_TO_A_TRAY = re.compile(r"\bhow many ((?:\d+(?:\.\d+)?[- ]?(?:in|inch|gal)\w* )?[a-z -]+?) (?:fit|fits|go|sit|stand)\b.*\btray\b")
_SIZES_IN_WORDS = {"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6"}
_WORDED = re.compile(rf"\b({'|'.join(_SIZES_IN_WORDS)})[ -](in|inch|inches|gal|gals|gallons?)\b")
"""A size told in words: "96 four inch pots"."""
_NAMED = {"fours": ("pot", "4 in"), "gals": ("pot", "1 gal"), "gallons": ("pot", "1 gal"), "ones": ("pot", "1 gal")}
_INCHES = {
    "ft": 12.0,
    "feet": 12.0,
    "foot": 12.0,
    "'": 12.0,
    "in": 1.0,
    "inch": 1.0,
    "inches": 1.0,
    '"': 1.0,
    "m": 39.37,
}


def how_much_mix(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The mix that some containers take, in cubic feet, litres and bags, and the trays they stand in."""
    try:
        fillings = fillings_in(words)
        if not fillings:
            return Refused(why="mix_for_what", facts={})
        need = need_medium(fillings)
        trays = sum(trays_for(one.count, one.container) for one in fillings if one.container.a_tray)
    except BenchError as wrong:
        return Refused(why="sum_impossible", facts={"hint": f"{wrong}"})
    book = open_container_book()
    return FiguresTold(
        kind="medium",
        facts={
            "medium": next((word for word in _MEDIA if re.search(rf"\b{word}\b", words)), "mix"),
            "what": [[one.count, one.container.kind, one.container.size, one.container.ml] for one in fillings],
            "cubic_feet": need.cubic_feet,
            "litres": need.litres,
            "least_litres": need.least_ml / 1000,
            "most_litres": need.most_ml / 1000,
            "bags": need.bags,
            "bag_cubic_feet": book.bag_cubic_feet,
            "trays": trays,
            "settling": book.settling_share,
            "source": fillings[0].container.source,
        },
    )


def fillings_in(words: str) -> list[Filling]:
    """The containers that a question names with their number; raises a BenchError for a size nobody knows."""
    book = open_container_book()
    words = _WORDED.sub(lambda told: f"{_SIZES_IN_WORDS[told[1]]} {told[2]}", words)
    found: list[Filling] = []
    for trays_first, cells_first, trays_only, cells_only in _TRAYS_OF.findall(words):
        count, cells = trays_first or trays_only, cells_first or cells_only
        kind = "plug" if cells in ("128", "200", "98", "50") else "cell"
        found.append(Filling(container=book.fill_of(kind, cells), count=int(count) * int(cells)))
    words = _TRAYS_OF.sub(" ", words)
    for count, size, unit in _SIZED.findall(words):
        found.append(Filling(container=book.fill_of("pot", _size(size, unit)), count=int(count)))
    words = _SIZED.sub(" ", words)
    for count, name in _KINDS.findall(words):
        kind, size = _NAMED.get(name, (_singular(name), None))
        found.append(Filling(container=book.fill_of(kind, size), count=int(count)))
    return found


def how_many_fit(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """How many trays a bench holds by packing, how many more it takes, or how much bench so many trays or pots take."""
    book = open_container_book()
    tray = Footprint(length=book.tray.length_in, width=book.tray.width_in)
    to_a_tray = _TO_A_TRAY.search(words)
    if to_a_tray and (each := _kinds_in(f"1 {to_a_tray.group(1)}")):
        container = each[0].container
        return FiguresTold(
            kind="to_a_tray", facts={"kind": container.kind, "size": container.size, "a_tray": container.a_tray}
        )
    bench = bench_said(words)
    named = _BENCH_NAME.search(words)
    noted = bench_noted(books, named.group(0)) if named and bench is None else None
    many = _trays_wanted(words)
    size = bench or noted
    if size is not None:
        room = pack_trays(size, tray)
        standing = trays_on(books, named.group(0)) if named else ()
        return FiguresTold(
            kind="bench",
            facts={
                "length": size.length,
                "width": size.width,
                "fits": room.fits,
                "by_area": room.by_area,
                "tray": [book.tray.length_in, book.tray.width_in],
                "pots": book.fill_of("pot", "4 in").a_tray,
                "asked": many,
                "bench": named.group(0) if named else "",
                "standing": list(standing),
                "more": max(room.fits - len(standing), 0) if named else None,
            },
        )
    if named and many is None:
        return Refused(why="bench_unknown", facts={"bench": named.group(0), "standing": list(trays_on(books, named.group(0)))})
    if many:
        usual = Footprint(length=book.bench.length_in, width=book.bench.width_in)
        return FiguresTold(
            kind="bench_length",
            facts={
                "trays": many,
                "width": usual.width,
                "length": bench_length_for(many, usual.width, tray),
                "tray": [tray.length, tray.width],
                "benches": benches_for(many, usual, tray),
                "bench": [usual.width / 12, usual.length / 12],
                "of": [[one.count, one.container.kind, one.container.size] for one in _kinds_in(words)],
            },
        )
    return Refused(why="bench_size", facts={})


def bench_said(words: str) -> Footprint | None:
    """The bench that words give the size of ("3x8 ft"), in inches, or None."""
    found = _BENCH.search(words)
    if found is None:
        return None
    scale = _INCHES.get(found.group(3) or "ft", 12.0)
    sides = sorted((float(found.group(1)) * scale, float(found.group(2)) * scale), reverse=True)
    return Footprint(length=sides[0], width=sides[1])


def bench_noted(books: Books, name: str) -> Footprint | None:
    """The size that a bench was last said to have, in a note of its own ("bench 2 is 3x8 ft"), or None."""
    for record in reversed(in_order(books.records(acts=("note", "rule")))):
        said = record.said.lower()
        if re.search(rf"\b{re.escape(name)}\b", said) and (size := bench_said(said)) is not None:
            return size
    return None


def trays_on(books: Books, name: str) -> tuple[str, ...]:
    """The trays that stand on a bench by what was noted of the open lots in them, or of the trays themselves."""
    standing: dict[str, bool] = {}
    for lot in books.lots():
        for tray in lot.trays:
            standing[tray] = (lot.place or "").lower() == name
    for record in in_order(books.records(acts=("move",))):
        for tray in record.entry.trays:
            standing[tray] = (record.entry.to or record.entry.place or "").lower() == name
    return tuple(sorted(tray for tray, there in standing.items() if there))


def _trays_wanted(words: str) -> int | None:
    """The trays that a question is about: named, or those that its pots fill."""
    pots = _kinds_in(words)
    if pots:
        return sum(trays_for(one.count, one.container) for one in pots)
    many = _TRAYS.search(words)
    return int(many.group(1)) if many else None


def _kinds_in(words: str) -> list[Filling]:
    try:
        return [one for one in fillings_in(words) if one.container.a_tray]
    except BenchError:
        return []


def _size(number: str, unit: str) -> str:
    return f"{float(number):g} {'gal' if unit.startswith('gal') else 'in'}"


def _singular(name: str) -> str:
    plain = name.replace(" ", "-").removesuffix("s")
    return {"4-pack": "four-pack", "sixpack": "six-pack", "fourpack": "four-pack"}.get(plain, plain)
