"""How much of what to mix, and whether a batch is still good."""

from __future__ import annotations

from datetime import datetime

from core.answers import Answer, MixTold, Refused
from core.entries import Entry
from core.errors import BenchError
from core.figures.measures import measure_out, to_ml
from core.figures.solutions import BleachMix, mix_bleach, mix_bleach_by_parts, mix_bleach_by_share
from core.figures.strengths import SodiumHypochlorite
from core.questions.jug import jug_of, strength_told
from core.questions.present import is_it_good
from core.storage import Books

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
