"""How much concentrate for a hormone dip, how much talc for so many cuttings, and percent against ppm."""

from __future__ import annotations

import re
from datetime import datetime

from core.answers import Answer, FiguresTold, Refused
from core.entries import Entry
from core.errors import BenchError
from core.figures.dips import dilute_hormone, talc_for, usual_methods, weigh_hormone
from core.figures.measures import to_ml
from core.figures.solution_book import open_book
from core.figures.strengths import millimolar_from_ppm
from core.storage import Books

_PERCENT = re.compile(r"(\d*\.?\d+)\s*%")
_PPM = re.compile(r"\b(\d[\d,]*(?:\.\d+)?)\s*k?\s*ppm\b")
_SALT = re.compile(
    r"\b(k-iba|k-naa|kiba|iba|naa|iaa)\b.*\b(salt|crystals?|pure|weigh|grams?)\b|\b(weigh|grams?)\b.*\b(k-iba|k-naa|kiba|iba|naa)\b"
)

_MILLIMOLAR = re.compile(r"\b(mm|millimolar|mmol|molar)\b")
_COMPOUNDS = ("k-iba", "kiba", "k-naa", "knaa", "iba", "naa", "iaa")


def how_much_dip(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The sum that a question about hormone asks for."""
    ppms = [float(one.replace(",", "")) for one in _PPM.findall(words)]
    percents = [float(one) for one in _PERCENT.findall(words)]
    strengths = ppms + [one * 10_000 for one in percents]
    if ("talc" in words or "powder" in words) and entry.count is not None and "cutting" in words:
        need = talc_for(entry.count)
        return FiguresTold(
            kind="talc",
            facts={"cuttings": need.cuttings, "grams": need.grams, "source": need.source},
            caution="hormone_powder",
        )
    if entry.volume is None:
        if len(strengths) == 1 and _MILLIMOLAR.search(words) and (compound := _compound(words)) is not None:
            return _molar(compound, strengths[0])
        if len(strengths) == 1 and ("ppm" in words or percents):
            return FiguresTold(kind="strength", facts={"ppm": strengths[0], "percent": strengths[0] / 10_000})
        return Refused(why="dip_needs", facts={})
    try:
        finished = to_ml(entry.volume.value, entry.volume.unit)
        if _SALT.search(words) and ppms:
            return _weighed(words, ppms[0], finished)
        if len(strengths) < 2:
            return Refused(why="dip_needs", facts={})
        stock, wanted = max(strengths), min(strengths)
        mix = dilute_hormone(stock_ppm=stock, wanted_ppm=wanted, finished_ml=finished)
    except BenchError as wrong:
        return Refused(why="sum_impossible", facts={"hint": str(wrong)})
    methods = usual_methods(wanted)
    return FiguresTold(
        kind="dip",
        facts={
            "stock": mix.stock.metric.text,
            "stock_kitchen": mix.stock.kitchen.text if mix.stock.kitchen.measurable else None,
            "thinner": mix.thinner.metric.text if mix.thinner else None,
            "finished": mix.finished.metric.text,
            "stock_ppm": stock,
            "wanted_ppm": wanted,
            "methods": [one.name for one in methods],
            "seconds": [methods[0].seconds_least, methods[0].seconds_most] if methods else None,
            "warnings": [str(one) for one in mix.warnings],
        },
        caution="hormone_powder",
    )


def _compound(words: str) -> str | None:
    """The compound that a question names, as the solution book names it."""
    named = next((name for name in _COMPOUNDS if re.search(rf"(?<![\w-]){name}\b", words)), None)
    return {"kiba": "k-iba", "knaa": "k-naa"}.get(named or "", named)


def _molar(name: str, ppm: float) -> Answer:
    book = open_book().hormone
    mass = next(one.molar_mass for one in book.compounds if one.name == name)
    facts = {"ppm": ppm, "percent": ppm / 10_000, "compound": name, "millimolar": millimolar_from_ppm(ppm, mass)}
    return FiguresTold(kind="strength", facts=facts)


def _weighed(words: str, ppm: float, finished_ml: float) -> Answer:
    compound = _compound(words) or "iba"
    weighed = weigh_hormone(compound=compound, wanted_ppm=ppm, finished_ml=finished_ml)
    return FiguresTold(
        kind="weighed",
        facts={
            "compound": weighed.compound,
            "counted_as": weighed.counted_as,
            "grams": weighed.grams,
            "ppm": weighed.ppm,
            "millimolar": weighed.millimolar,
            "finished": weighed.finished.metric.text,
            "warnings": [str(one) for one in weighed.warnings],
        },
        caution="hormone_powder",
    )
