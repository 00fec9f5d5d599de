"""How much bleach, chlorine powder or alcohol for a volume at the strength asked for.

Rules
1. What the question says of the jug wins over what the crew told before, and that over the usual jug.
2. A percent beside the product ("6% bleach", "from 91%", "jug says 8.25%") is the product's; what is left is wanted.
3. Of two percents that nothing tells apart, the stronger is the product's: nothing is made stronger with water.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

from core.answers import Answer, FiguresTold, MixTold, Refused
from core.entries import Entry
from core.errors import BenchError
from core.figures.dips import dilute_alcohol
from core.figures.measures import to_ml
from core.figures.solutions import mix_powder
from core.figures.strengths import AvailableChlorine, SodiumHypochlorite
from core.questions.jug import WEAKEST, jug_of, strength_told
from core.questions.mixing import bleach_of, mix_facts
from core.storage import Books

_PERCENT = re.compile(r"(\d*\.?\d+)\s*(?:%|percent\b)")
_PPM = re.compile(r"\b(\d[\d,]*(?:\.\d+)?)\s*ppm\b")
_PRODUCT_AFTER = re.compile(r"^[\s-]*(bleach|hypochlorite|sodium|jug|stock|alcohol|isopropyl|iso|ethanol|powder|concentrate)")
_PRODUCT_BEFORE = re.compile(r"\b(from|with|using|jug|bottle|label|is|says|powder at|have)\W*$")
_POWDER = re.compile(r"\b(powder|granules|hth)\b")


@dataclass(frozen=True, slots=True, kw_only=True)
class Strengths:
    """The percents that a question names: of the product as bought, and of what is wanted; None where not said."""

    product: float | None
    wanted: float | None


def how_much_bleach(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Bleach (or powder by weight) and water for a volume, by parts or by strength."""
    if entry.volume is None:
        return Refused(why="mix_needs_volume", facts={"solution": "bleach"})
    said = strengths_said(words)
    try:
        if _POWDER.search(words):
            return _powder(entry, said)
        told = strength_told(words) or said.product
        label = SodiumHypochlorite(percent=told) if told else jug_of(books)
        wanted = SodiumHypochlorite(percent=said.wanted) if said.wanted else None
        mix = bleach_of(entry, label, wanted)
    except BenchError as wrong:
        return Refused(why="mix_impossible", facts={"hint": str(wrong)})
    return MixTold(facts=mix_facts(mix, entry), caution="bleach_mix")


def _powder(entry: Entry, said: Strengths) -> Answer:
    if said.product is None or said.wanted is None or entry.volume is None:
        return Refused(why="powder_needs", facts={})
    powder = mix_powder(
        finished_ml=to_ml(entry.volume.value, entry.volume.unit),
        powder=AvailableChlorine(percent=said.product),
        wanted=AvailableChlorine(percent=said.wanted),
    )
    return FiguresTold(
        kind="powder",
        facts={
            "grams": powder.grams,
            "per_litre": powder.grams_per_litre,
            "finished": powder.finished.metric.text,
            "percent": said.wanted,
            "powder": said.product,
        },
        caution="bleach_mix",
    )


def how_much_alcohol(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """Alcohol of the bottle's strength and water for a volume, by volume."""
    said = strengths_said(words)
    if said.product is None or said.wanted is None or entry.volume is None:
        return Refused(why="alcohol_needs", facts={})
    try:
        mix = dilute_alcohol(
            stock_percent=said.product,
            wanted_percent=said.wanted,
            finished_ml=to_ml(entry.volume.value, entry.volume.unit),
        )
    except BenchError as wrong:
        return Refused(why="mix_impossible", facts={"hint": str(wrong)})
    return FiguresTold(
        kind="alcohol",
        facts={
            "stock": [mix.stock.kitchen.text, mix.stock.metric.text],
            "water": [mix.thinner.kitchen.text, mix.thinner.metric.text] if mix.thinner else None,
            "finished": mix.finished.kitchen.text,
            "product": said.product,
            "wanted": said.wanted,
            "warnings": [str(one) for one in mix.warnings],
        },
        caution="alcohol_flame",
    )


def strengths_said(words: str) -> Strengths:
    """The strengths in a question; ppm are of what is wanted."""
    product: float | None = None
    others: list[float] = []
    for found in _PERCENT.finditer(words):
        percent = float(found.group(1))
        beside = _PRODUCT_AFTER.search(words[found.end() :]) or _PRODUCT_BEFORE.search(words[: found.start()])
        if beside and product is None and percent >= WEAKEST:
            product = percent
        else:
            others.append(percent)
    ppm = _PPM.search(words)
    if ppm:
        others.append(float(ppm.group(1).replace(",", "")) / 10_000)
    if product is None and len(others) > 1:
        product = max(others)
        others.remove(product)
    return Strengths(product=product, wanted=others[0] if others else None)
