"""Is one way of doing it better than another; and how should a trial be dealt, so that it could tell?

Rules
1. Lots and trays have their own luck: unless both ways stood in the same trays, trays were compared and that is said.
2. Where no lot of a way is finished, counts taken too early stand in for both ways, and that is said.
3. Where the ways differ wholly in something else too (date, mother, person), there is no verdict.
4. A trial is dealt by a seed made from the key of the message that asked for it: the same message deals the same trays.
"""

from __future__ import annotations

import hashlib
import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.errors import BenchError
from core.figures import defaults
from core.figures.compare import Arm, compare, differences_of
from core.figures.trial import deal_trial
from core.figures.values import LotFigures, Tally, rooted_tallies
from core.questions.figured_lots import figured, of_plant, time_to_root
from core.questions.rates import FORMS
from core.storage import Books

_WOODS = ("semi-hardwood", "softwood", "greenwood", "hardwood")
_FORMS = ("powder", "liquid", "gel", "talc")
_MEDIA = ("perlite", "vermiculite", "sand", "peat", "coir", "pumice", "bark", "soil", "potting mix")
_PPM = re.compile(r"\b(\d{3,5})\s*(?:ppm)?\b|\b(0?\.\d+|\d(?:\.\d+)?)\s*%")
_ARM = re.compile(
    r"(\d+)\s+(?:(?:with|at|in|of)\s+(?:the\s+)?)?(\d{3,5}\s*ppm|0?\.\d+\s*%|[a-z][a-z-]*(?:\s+(?!and\b)[a-z][a-z-]*)?)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One of the ways asked about: its name, what it is a kind of, and which lots went that way."""

    name: str
    what: str
    has: Callable[[LotFigures], bool]


def which_is_better(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Two ways against each other, from the lots whose rooting is over."""
    zone = books.crew.zone
    every = figured(books.lots(open_only=False), zone)
    lots = of_plant(every, entry.plant) if entry.plant else every
    lots = tuple(lot for lot in lots if lot.kind != "seed")
    ways = ways_asked(entry, words)
    if len(ways) < 2:
        ways = _ways_of_what(words, lots) or ways
    if len(ways) < 2:
        return Refused(why="compare_what", facts={"plant": entry.plant})
    lots = lots if entry.plant else _of_shared_plants(lots, ways)
    arms = [_arm(way, lots) for way in ways[:2]]
    provisional = not all(arm.tried for arm, _, _ in arms)
    if provisional:
        arms = [_arm(way, lots, early_too=True) for way in ways[:2]]
    (first, ours, early), (second, theirs, early_too) = arms
    shared = {tray for lot in ours for tray in lot.trays} & {tray for lot in theirs for tray in lot.trays}
    together = bool(shared) and all(set(lot.trays) <= shared and lot.trays for lot in (*ours, *theirs))
    asked = (ways[0].what, "plant") if entry.plant else (ways[0].what,)
    found = compare(first, second, by_tray=not together, differences=differences_of(ours, theirs, asked=asked))
    ends = (found.interval.low, found.interval.high)
    facts: dict[str, object] = {
        "plant": entry.plant or (lots[0].plant if len({lot.plant for lot in lots}) == 1 else None),
        "first": {"name": first.name, "hits": first.hits, "tried": first.tried, "lots": len(first.trays)},
        "second": {"name": second.name, "hits": second.hits, "tried": second.tried, "lots": len(second.trays)},
        "difference": found.difference,
        "low": ends[0],
        "high": ends[1],
        "chance": found.chance_better,
        "plain_chance": found.plain_chance,
        "fisher": found.fisher_p,
        "by_tray": found.by_tray,
        "worth": [round(one) for one in found.worth],
        "needed": found.needed,
        "needed_half": math.ceil(found.needed / found.design_effect) if found.needed else None,
        "more": list(found.more) if found.more else None,
        "verdict": found.verdict,
        "differences": [{"what": one.what, "wholly": one.wholly} for one in found.differences],
        "too_early": [*early, *early_too],
        "provisional": provisional,
        "trays": math.ceil(found.needed / defaults.number("trays", "cells")) if found.needed else None,
    }
    return FiguresTold(kind="compare", facts=facts)


def _of_shared_plants(lots: Sequence[LotFigures], ways: Sequence[Way]) -> tuple[LotFigures, ...]:
    """The lots of plants that went both ways, where there are any: plants differ more than methods."""
    both = {lot.plant for lot in lots if ways[0].has(lot)} & {lot.plant for lot in lots if ways[1].has(lot)}
    return tuple(lot for lot in lots if lot.plant in both) if both else tuple(lots)


def ways_asked(entry: Entry, words: str) -> list[Way]:
    """The ways that a question names: forms of cutting, woods, strengths, forms of hormone, or media."""
    named = list(entry.cutting) if isinstance(entry.cutting, tuple) else _spoken(words, FORMS)
    if len(named) >= 2:
        return [_cutting(name) for name in named]
    woods = _spoken(words, _WOODS)
    if len(woods) >= 2:
        return [_wood(name) for name in woods]
    if len(strengths := _strengths(words)) >= 2:
        return [_strength(ppm) for ppm in strengths]
    forms = _spoken(words, _FORMS)
    if len(forms) >= 2:
        return [_form(name) for name in forms]
    if strengths and re.search(r"\b(no|none|without)\b", words):
        return [_strength(strengths[0]), _no_hormone()]
    if re.search(r"\bhormone\b", words) and re.search(r"\b(no|none|without)\b", words):
        return [_any_hormone(), _no_hormone()]
    media = _spoken(words, _MEDIA)
    return [_medium(name) for name in media] if len(media) >= 2 else []


def deal(entry: Entry, words: str, key: str) -> Answer | None:
    """A designed trial ("split 60 toyon: 30 heel, 30 tip"), or None where the words name no two arms with numbers."""
    arms = [
        (name, int(count))
        for count, name in _ARM.findall(words)
        if name[0] in ".0123456789" or name.split(" ")[0] in (*FORMS, *_WOODS, *_FORMS, *_MEDIA, "no", "straight")
    ]
    arms = [(name.strip(), count) for name, count in arms]
    if len(arms) < 2 or len({name for name, _ in arms}) < 2:
        return None
    whole = sum(count for _, count in arms)
    if entry.count is not None and entry.count != whole:
        return Refused(why="trial_sum", facts={"said": entry.count, "sum": whole})
    cells = int(defaults.number("trays", "cells"))
    trays = max(math.ceil(whole / cells), 2 if whole >= 24 else 1)
    seed = seed_of(key)
    try:
        trial = deal_trial(arms, trays=trays, seed=seed, unit="half")
    except BenchError as wrong:
        return Refused(why="trial_impossible", facts={"hint": str(wrong)})
    beds = [{"tray": bed.tray, "part": bed.part, "arm": bed.arm, "cuttings": bed.cuttings} for bed in trial.beds]
    return FiguresTold(
        kind="trial", facts={"plant": entry.plant, "seed": seed, "beds": beds, "trays": trays, "arms": arms}
    )


def seed_of(key: str) -> int:
    """A number from a message's key, the same each time: the first 32 bits of its SHA-256."""
    return int.from_bytes(hashlib.sha256(key.encode()).digest()[:4], "big")


def _arm(way: Way, lots: Sequence[LotFigures], *, early_too: bool = False) -> tuple[Arm, list[LotFigures], list[str]]:
    chosen = [lot for lot in lots if way.has(lot)]
    plants: dict[str, list[LotFigures]] = {}
    for lot in chosen:
        plants.setdefault(lot.plant, []).append(lot)
    tallies: list[Tally] = []
    early: list[str] = []
    for plant, own in plants.items():
        settled = 0.0 if early_too else time_to_root(plant, own).day_of(0.9)
        counts = rooted_tallies(own, settled_day=settled)
        tallies += counts.tallies
        early += [*counts.too_early, *counts.uncounted]
    spoke = {tally.of for tally in tallies}
    return Arm(name=way.name, trays=tuple(tallies)), [lot for lot in chosen if lot.number in spoke], early


def _ways_of_what(words: str, lots: Sequence[LotFigures]) -> list[Way]:
    """The two commonest values of what is asked about ("which medium is better"), where none was named."""
    makers: tuple[tuple[str, str, Callable[[str], Way]], ...] = (
        (r"\b(cutting type|cuttings?|type)\b", "cutting", _cutting),
        (r"\bwood\b", "wood", _wood),
        (r"\b(medium|mix)\b", "medium", _medium),
    )
    for says, what, make in makers:
        if re.search(says, words):
            values = [str(getattr(lot, what)) for lot in lots if getattr(lot, what)]
            common = sorted(set(values), key=lambda value: (-values.count(value), value))[:2]
            if len(common) == 2:
                return [make(value) for value in common]
    return []


def _spoken(words: str, names: Sequence[str]) -> list[str]:
    found = []
    rest = words
    for name in sorted(names, key=len, reverse=True):
        at = re.search(rf"\b{name}(?:s|es)?\b", rest)
        if at:
            found.append((at.start(), name))
            rest = rest[: at.start()] + " " * (at.end() - at.start()) + rest[at.end() :]
    return [name for _, name in sorted(found)]


def _strengths(words: str) -> list[int]:
    found = []
    for ppm, percent in _PPM.findall(words):
        number = int(ppm) if ppm else round(float(percent) * 10_000)
        if number >= 100 and number not in found:
            found.append(number)
    return found


def _cutting(name: str) -> Way:
    return Way(name=name, what="cutting", has=lambda lot: lot.cutting == name)


def _wood(name: str) -> Way:
    return Way(name=name, what="wood", has=lambda lot: lot.wood == name)


def _strength(ppm: int) -> Way:
    return Way(name=f"{ppm} ppm", what="hormone", has=lambda lot: f"{ppm} ppm" in lot.hormone)


def _form(name: str) -> Way:
    word = "powder" if name == "talc" else name
    return Way(name=word, what="hormone", has=lambda lot: word in lot.hormone.split(" "))


def _no_hormone() -> Way:
    return Way(name="no hormone", what="hormone", has=lambda lot: lot.hormone == "none")


def _any_hormone() -> Way:
    return Way(name="hormone", what="hormone", has=lambda lot: lot.hormone not in ("", "none"))


def _medium(name: str) -> Way:
    return Way(name=name, what="medium", has=lambda lot: lot.medium == name)
