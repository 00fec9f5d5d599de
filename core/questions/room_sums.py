"""How much mix for so many pots, and how many trays on a bench."""

from __future__ import annotations

import re
from datetime import datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.errors import BenchError
from core.figures.medium import Filling, need_medium, open_container_book, trays_for
from core.figures.room import Footprint, bench_length_for, pack_trays
from core.storage import Books

_SIZED = re.compile(r"\b(\d+)\s+(\d+(?:\.\d+)?)\s*-?\s*(in|inch|inches|\"|gal|gals|gallons?)\b")
_KINDS = re.compile(
    r"\b(\d+)\s+(six[- ]?packs?|4[- ]?packs?|four[- ]?packs?|flats?|liners?|bands?|fours|gals|gallons|ones)\b"
)
_TRAYS_OF = re.compile(r"\b(\d+)\s+(?:(?:trays?|flats?) of\s+)?(50|72|98|128|200)[- ]?(?:cells?|plugs?)\b")
_BENCH = re.compile(
    r"(\d+(?:\.\d+)?)\s*(?:ft|feet|foot|')?\s*(?:x|by|×)\s*(\d+(?:\.\d+)?)\s*(ft|feet|foot|in|inch|inches|m|'|\")?"
)
_TRAYS = re.compile(r"\b(\d+)\s+(?:trays?|flats?)\b")
_BAG = re.compile(r"\b(\d+)\s+bags?\b")
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
    found: list[Filling] = []
    for count, cells in _TRAYS_OF.findall(words):
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
    """How many trays a bench holds by packing, or how much bench so many trays take."""
    book = open_container_book()
    tray = Footprint(length=book.tray.length_in, width=book.tray.width_in)
    bench = _BENCH.search(words)
    many = _TRAYS.search(words)
    if bench:
        scale = _INCHES.get(bench.group(3) or "ft", 12.0)
        sides = sorted((float(bench.group(1)) * scale, float(bench.group(2)) * scale), reverse=True)
        room = pack_trays(Footprint(length=sides[0], width=sides[1]), tray)
        return FiguresTold(
            kind="bench",
            facts={
                "length": sides[0],
                "width": sides[1],
                "fits": room.fits,
                "by_area": room.by_area,
                "tray": [book.tray.length_in, book.tray.width_in],
                "pots": book.fill_of("pot", "4 in").a_tray,
                "asked": int(many.group(1)) if many else None,
            },
        )
    if many:
        width = 36.0
        length = bench_length_for(int(many.group(1)), width, tray)
        return FiguresTold(
            kind="bench_length",
            facts={"trays": int(many.group(1)), "width": width, "length": length, "tray": [tray.length, tray.width]},
        )
    return Refused(why="bench_size", facts={})


def _size(number: str, unit: str) -> str:
    return f"{float(number):g} {'gal' if unit.startswith('gal') else 'in'}"


def _singular(name: str) -> str:
    plain = name.replace(" ", "-").removesuffix("s")
    return {"4-pack": "four-pack", "sixpack": "six-pack", "fourpack": "four-pack"}.get(plain, plain)
