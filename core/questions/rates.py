"""How does a plant, or a way of doing it, root: the rate, where it lies, and what it rests on."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.figures.spread import Spread, fit, prior_from
from core.figures.values import Counts, LotFigures, Tally, grouped, rooted_tallies, survived_tallies
from core.questions.figured_lots import Known, figured, know, of_plant, time_to_root
from core.records import local_day
from core.storage import Books

_SEED = re.compile(r"\b(seeds?|seedlings?|germinat\w*|sprout\w*|come? up|sow\w*|sown)\b")
_SURVIVE = re.compile(r"\b(surviv\w*|live through|make it|die|died|losses)\b")
FORMS = ("tip", "stem", "nodal", "heel", "mallet", "leaf-bud", "root", "leaf", "basal")
_WAYS = ("cutting", "wood", "hormone", "medium", "season", "mother", "by")
_SPLIT = {
    "cutting": re.compile(r"\bby (?:type|kind|cutting|form)|cutting type\b|\b(which|what) (?:type of )?cuttings?\b"),
    "wood": re.compile(r"\bby wood\b|\b(which|what) wood\b"),
    "hormone": re.compile(r"\bby (?:hormone|strength)\b|\b(which|what) (?:hormone|strength)\b"),
    "medium": re.compile(r"\bby (?:medium|media|mix)\b|\b(which|what) (?:medium|mix)\b"),
    "season": re.compile(r"\bby (?:season|month|time of year)\b|\b(which|what) season\b"),
    "mother": re.compile(r"\bby mothers?\b|\b(which|what) mother|\bmothers? (?:plants? )?(?:roots?|rooted) (?:best|better)"),
    "by": re.compile(r"\bby (?:person|people|hand|who)\b"),
    "plant": re.compile(r"\bby (?:plant|species|kind of plant)\b|\b(which|what) plants? (?:roots?|do|does)\b"),
}
"""What a question wants a rate divided by."""
_SEASONS = ("winter", "spring", "summer", "autumn", "fall")


def how_it_roots(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The rate of a plant (by what its lots differ in), or of a method over all plants."""
    zone = books.crew.zone
    today = local_day(now, zone)
    every = figured(books.lots(open_only=False), zone)
    kind = "seed" if _SEED.search(words) else "cuttings"
    if _SURVIVE.search(words):
        return _survival(every, entry)
    divided = next((what for what, says in _SPLIT.items() if says.search(words)), None)
    if divided is not None:
        return _divided(every, entry, divided, kind)
    if entry.plant is None:
        return _of_a_way(every, entry, words, kind, today)
    own = of_plant(every, entry.plant)
    if kind == "cuttings" and own and all(lot.kind == "seed" for lot in own):
        kind = "seed"
    known = know(entry.plant, every, kind=kind, lots=own)
    narrowed = _narrowed(known.lots, entry, words)
    if narrowed is not None and len(narrowed) < len(known.lots):
        known = know(entry.plant, every, kind=kind, lots=narrowed)
    return FiguresTold(
        kind="rate", facts=rate_facts(known, today) | {"way": way_named(entry, words), "by": _split_up(known)}
    )


def rate_facts(known: Known, today: date) -> dict[str, object]:
    """What a sentence about a rate needs."""
    spread = known.spread
    mean, lot = spread.mean_range(0.8), spread.lot_range(0.8)
    counted = [(today - one.counted_on).days for one in known.lots if one.counted_on is not None]
    return {
        "plant": known.plant,
        "kind": known.kind,
        "mean": spread.mean,
        "low": mean.low,
        "high": mean.high,
        "lot_low": lot.low,
        "lot_high": lot.high,
        "lots": spread.lots,
        "hits": spread.hits,
        "tried": spread.tried,
        "worst": spread.lowest,
        "best": spread.highest,
        "basis": spread.prior.basis,
        "prior": spread.prior.mean,
        "prior_worth": round(spread.prior.worth),
        "published": known.published if spread.prior.basis == "published range" else None,
        "source": known.source if spread.prior.basis == "published range" else "",
        "uncounted": list(known.counts.uncounted),
        "too_early": list(known.counts.too_early),
        "so_far": [
            [lot.number, lot.rooted, lot.started, lot.day(lot.counted_on)]
            for lot in known.lots
            if lot.number in known.counts.too_early and lot.rooted is not None and lot.counted_on is not None
        ],
        "newest_count_days": min(counted, default=None),
    }


def how_long(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """How long a plant takes to root or to come up, from the crew's own looks and the published weeks."""
    if entry.plant is None:
        return Refused(why="name_plant", facts={"example": "how long does toyon take to root"})
    zone = books.crew.zone
    kind = "seed" if _SEED.search(words) else "cuttings"
    lots = of_plant(figured(books.lots(open_only=False), zone), entry.plant)
    own = [lot for lot in lots if (lot.kind == "seed") == (kind == "seed")]
    time = time_to_root(entry.plant, own, kind=kind)
    return FiguresTold(
        kind="time",
        facts={
            "plant": entry.plant,
            "kind": kind,
            "first": time.day_of(0.1),
            "half": time.day_of(0.5),
            "most": time.day_of(0.9),
            "plants": sum(look.of for lot in own for look in lot.looks),
            "looks": sum(len(lot.looks) for lot in own),
            "lots": time.lots,
            "weeks": time.weeks,
        },
    )


def names_a_way(entry: Entry, words: str) -> bool:
    """True where a question names a way of doing it, or what to divide the rate by, though no plant."""
    named = isinstance(entry.cutting, str) or re.search(r"\bppm\b|\bcuttings?\b|\bmother\b|\bwe|our\b", words)
    return bool(named or any(says.search(words) for says in _SPLIT.values()))


def _divided(every: Sequence[LotFigures], entry: Entry, what: str, kind: str) -> Answer:
    """The finished lots' counts divided by one thing, each with its range; lots differ in more, so no verdict."""
    lots = of_plant(every, entry.plant) if entry.plant else tuple(every)
    lots = tuple(lot for lot in lots if (lot.kind == "seed") == (kind == "seed"))
    rows: list[dict[str, object]] = []
    left_out: list[str] = []
    for name, own in grouped(lots, what).items():
        tallies: list[Tally] = []
        for plant, same in grouped(own, "plant").items():
            settled = time_to_root(plant, of_plant(lots, plant), kind=kind).day_of(0.9)
            counts = rooted_tallies(same, settled_day=settled)
            tallies += counts.tallies
            left_out += [*counts.too_early, *counts.uncounted]
        tried, hits = sum(t.tried for t in tallies), sum(t.hits for t in tallies)
        if tried:
            spread = fit(tallies, prior_from(others=[])).mean_range(0.8)
            rows.append(
                {"name": name, "hits": hits, "tried": tried, "lots": len(tallies), "low": spread.low, "high": spread.high}
            )
    rows.sort(key=lambda row: -float(str(row["hits"])) / float(str(row["tried"])))
    silent = len(lots) - sum(len(own) for own in grouped(lots, what).values())
    return FiguresTold(
        kind="divided",
        facts={
            "plant": entry.plant,
            "what": what,
            "rows": rows,
            "left_out": sorted(set(left_out)),
            "silent": silent,
        },
    )


def way_named(entry: Entry, words: str) -> str:
    """The way that a question narrows to, as its own words."""
    cutting = _cutting_named(entry, words)
    strength = re.search(r"\b(\d{3,5}) ?(?:ppm)?\b", words)
    season = re.search(rf"\bin (?:the )?({'|'.join(_SEASONS)})\b", words)
    mother = re.search(r"\bmother \w+\b", words)
    parts = [
        cutting,
        f"{strength.group(1)} ppm" if strength and "ppm" in words else "",
        season.group(1) if season else "",
        mother.group(0) if mother else "",
    ]
    return " ".join(part for part in parts if part)


def _cutting_named(entry: Entry, words: str) -> str:
    """The one form of cutting that a question names ("heel cuttings"); `root` and `leaf` are mostly other words."""
    if isinstance(entry.cutting, str):
        return entry.cutting
    named = [form for form in FORMS if re.search(rf"\b{form}s?\b", words) and form not in ("root", "leaf")]
    return named[0] if len(named) == 1 else ""


def _narrowed(lots: Sequence[LotFigures], entry: Entry, words: str) -> tuple[LotFigures, ...] | None:
    """The lots of the way named in the question: the form of cutting, a strength, a wood, a medium, a mother."""
    kept = tuple(lots)
    cutting = _cutting_named(entry, words)
    if cutting:
        kept = tuple(lot for lot in kept if lot.cutting == cutting)
    strength = re.search(r"\b(\d{3,5}) ?ppm\b", words)
    if strength:
        kept = tuple(lot for lot in kept if f"{strength.group(1)} ppm" in lot.hormone)
    for what in ("wood", "medium"):
        named = {getattr(lot, what) for lot in lots if getattr(lot, what) and getattr(lot, what) in words}
        if named:
            kept = tuple(lot for lot in kept if getattr(lot, what) in named)
    seasons = {"autumn" if one == "fall" else one for one in _SEASONS if re.search(rf"\bin (?:the )?{one}\b", words)}
    if seasons:
        kept = tuple(lot for lot in kept if lot.season.split(" ")[0] in seasons)
    mothers = {name for lot in lots for name, _ in lot.mothers if re.search(rf"\b{re.escape(name.lower())}\b", words)}
    if mothers:
        kept = tuple(lot for lot in kept if {name for name, _ in lot.mothers} <= mothers and lot.mothers)
    named_any = bool(cutting or strength or mothers or seasons)
    return kept if named_any or len(kept) != len(lots) else None


def _split_up(known: Known) -> list[dict[str, object]]:
    """How the first thing that divides the counted lots divides them; a thing with one value says nothing."""
    for what in _WAYS[:4]:
        groups = grouped(known.lots, what)
        rows = [
            {"name": name, "hits": sum(t.hits for t in tallies), "tried": sum(t.tried for t in tallies)}
            for name, lots in groups.items()
            if (tallies := _settled(lots, known).tallies)
        ]
        if len(rows) > 1:
            return rows[:3]
    return []


def _settled(lots: Sequence[LotFigures], known: Known) -> Counts:
    return rooted_tallies(lots, settled_day=known.time.day_of(0.9))


def _of_a_way(every: Sequence[LotFigures], entry: Entry, words: str, kind: str, today: date) -> Answer:
    same = [lot for lot in every if (lot.kind == "seed") == (kind == "seed")]
    lots = _narrowed(same, entry, words)
    if lots is None:
        return Refused(why="name_plant", facts={"example": "how well does toyon root"})
    plants: dict[str, list[LotFigures]] = {}
    for lot in lots:
        plants.setdefault(lot.plant, []).append(lot)
    rows: list[dict[str, object]] = []
    tallies: list[Tally] = []
    early: list[str] = []
    uncounted: list[str] = []
    for plant, own in plants.items():
        counts = rooted_tallies(own, settled_day=time_to_root(plant, own, kind=kind).day_of(0.9))
        early += counts.too_early
        uncounted += counts.uncounted
        tallies += counts.tallies
        if counts.tallies:
            hits, tried = sum(t.hits for t in counts.tallies), sum(t.tried for t in counts.tallies)
            rows.append({"name": plant, "hits": hits, "tried": tried})
    spread: Spread = fit(tallies, prior_from(others=[]))
    mean = spread.mean_range(0.8)
    rows.sort(key=lambda row: -int(str(row["tried"])))
    return FiguresTold(
        kind="way_rate",
        facts={
            "way": way_named(entry, words) or "those",
            "mean": spread.mean,
            "low": mean.low,
            "high": mean.high,
            "lots": spread.lots,
            "hits": spread.hits,
            "tried": spread.tried,
            "plants": rows,
            "too_early": early,
            "uncounted": uncounted,
        },
    )


def _survival(every: Sequence[LotFigures], entry: Entry) -> Answer:
    lots = of_plant(every, entry.plant) if entry.plant else tuple(every)
    tallies = survived_tallies(lots)
    spread = fit(tallies)
    mean = spread.mean_range(0.8)
    still = [lot for lot in lots if not lot.closed]
    return FiguresTold(
        kind="survival",
        facts={
            "plant": entry.plant,
            "mean": spread.mean,
            "low": mean.low,
            "high": mean.high,
            "lots": spread.lots,
            "hits": spread.hits,
            "tried": spread.tried,
            "open": len(still),
            "open_lost": sum(lot.lost for lot in still),
            "open_started": sum(lot.started for lot in still),
        },
    )
