"""How much of what to mix, and whether a batch is still good."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from core.answers import Answer, BatchTold, MixTold, Refused
from core.entries import Act, Amount, Entry
from core.errors import BenchError
from core.figures.measures import measure_out, to_ml
from core.figures.solutions import BleachMix, mix_bleach, mix_bleach_by_parts, mix_bleach_by_share
from core.figures.strengths import SodiumHypochlorite
from core.lots import fold_batches
from core.questions.jug import jug_of, strength_told
from core.questions.present import is_it_good
from core.records import in_order
from core.storage import Books

_ANY_VOLUME = Amount(value=1, unit="gal")
_EXACT = 0.001
"""A measure that is off by less than this share is just what was asked for."""


def how_much(books: Books, entry: Entry, now: datetime) -> Answer:
    """The amounts for a mix; a question without a volume is about the batch: is it still good?"""
    if entry.volume is None and not entry.parts and entry.share is None:
        return is_it_good(books, entry, now)
    if entry.solution not in (None, "bleach"):
        return Refused(why="mix_by_label", facts={"solution": entry.solution})
    if entry.volume is None:
        return Refused(why="mix_needs_volume", facts={"solution": "bleach"})
    try:
        told = strength_told(entry.rest or "")
        mix = bleach_of(entry, SodiumHypochlorite(percent=told) if told else jug_of(books))
    except BenchError as wrong:
        return Refused(why="mix_impossible", facts={"hint": str(wrong)})
    return MixTold(facts=mix_facts(mix, entry), caution="bleach_mix")


def how_it_was_mixed(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """How strong the batch that was mixed last is, and how much was mixed, as noted; and whether it is still good."""
    good = is_it_good(books, entry, now)
    if not isinstance(good, BatchTold) or not good.facts["known"] or good.facts["poured_out"]:
        return good
    batches = fold_batches(in_order(books.records(acts=("mix", "pour_out"))), now)
    latest = next(batch for batch in reversed(batches) if batch.solution == good.solution)
    mixed = Entry(
        act=Act.MIX, solution=latest.solution, parts=latest.parts, share=latest.share, volume=latest.volume,
        hormone=latest.hormone,
    )  # fmt: skip
    told = bool(latest.parts or latest.share is not None or latest.hormone)
    facts = good.facts | {"mixed": mixed, "ratio_told": told, "strength": None}
    if told and latest.solution == "bleach":
        try:
            facts["strength"] = strength_facts(mixed, jug_of(books))
        except BenchError:
            return replace(good, facts=facts)
    return replace(good, facts=facts)


def strength_facts(entry: Entry, jug: SodiumHypochlorite | None) -> dict[str, object]:
    """How strong a mix of bleach is that was told, whatever its volume. Raises BadMeasure for what cannot be."""
    whole = entry if entry.volume is not None else replace(entry, volume=_ANY_VOLUME)
    return poured_facts(bleach_of(whole, jug), entry)


def bleach_of(entry: Entry, jug: SodiumHypochlorite | None, wanted: SodiumHypochlorite | None = None) -> BleachMix:
    """The bleach and water for an entry's volume: by its parts, its share of the jug, or to a strength (the usual one)."""
    assert entry.volume is not None
    finished_ml = to_ml(entry.volume.value, entry.volume.unit)
    if len(entry.parts) == 2:
        return mix_bleach_by_parts(
            finished_ml=finished_ml, bleach_parts=entry.parts[0], water_parts=entry.parts[1], label=jug
        )
    if entry.share is not None and wanted is None:
        return mix_bleach_by_share(finished_ml=finished_ml, jug_share=entry.share, label=jug)
    return mix_bleach(finished_ml=finished_ml, label=jug, wanted=wanted)


def poured_facts(mix: BleachMix, entry: Entry) -> dict[str, object]:
    """What was poured for a mix that was told: the bleach and the volume in the units of the note, and whether the
    bleach was filled up to that volume (1:9, 3 gal) or rather added to it (1:32, 1 gal is just 1/2 cup in a gallon).
    """
    if entry.volume is not None and entry.volume.unit in ("ml", "l"):
        in_metric = {"bleach": mix.bleach.metric.text, "finished": mix.finished.metric.text}
        return mix_facts(mix, entry) | in_metric | {"added": False}
    added = measure_out(mix.finished.ml / mix.parts_water).kitchen if mix.parts_water else mix.bleach.kitchen
    exact = abs(added.off_share) < _EXACT and len(added.text) < len(mix.bleach.kitchen.text)
    return mix_facts(mix, entry) | ({"bleach": added.text} if exact else {}) | {"added": exact}


def mix_facts(mix: BleachMix, entry: Entry) -> dict[str, object]:
    """What a sentence about this mix needs: how much of each in kitchen and metric measures, and the strength."""
    return {
        "bleach": mix.bleach.kitchen.text,
        "bleach_metric": mix.bleach.metric.text,
        "water": mix.water.kitchen.text if mix.water else None,
        "water_metric": mix.water.metric.text if mix.water else None,
        "finished": mix.finished.kitchen.text,
        "ppm": round(mix.ppm),
        "percent": round(mix.ppm / 10_000, 3),
        "label": mix.label.percent,
        "label_assumed": "label_assumed" in {str(one) for one in mix.warnings},
        "parts": list(entry.parts) or [1, round(mix.parts_water, 1)],
        "warnings": [str(one) for one in mix.warnings],
    }
