"""How sums are told: the figure first, how sure it is, and what it rests on, in at most six lines."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.wording import figures_ahead, figures_bench, figures_rates
from bot.wording.figures_plain import far
from core.answers import FiguresTold
from core.treatments.cautions import caution_text

MOST_LINES = 6

_TOLD: dict[str, Callable[[dict[str, Any]], list[str]]] = {
    "stock": figures_ahead.stock,
    "when": figures_ahead.when,
    "forecast": figures_ahead.forecast,
    "forecasts": figures_ahead.forecasts,
    "no_bench": figures_ahead.no_bench,
    "plan": figures_ahead.plan,
    "what_if": figures_ahead.what_if,
    "next_list": figures_ahead.next_list,
    "rate": figures_rates.rate,
    "way_rate": figures_rates.way_rate,
    "survival": figures_rates.survival,
    "time": figures_rates.time,
    "compare": figures_rates.compare,
    "trial": figures_rates.trial,
    "outlook": figures_rates.outlook,
    "mothers": figures_rates.mothers,
    "season": figures_rates.season,
    "seed": figures_bench.seed,
    "cells": figures_bench.cells,
    "medium": figures_bench.medium,
    "bench": figures_bench.bench,
    "bench_length": figures_bench.bench_length,
    "dip": figures_bench.dip,
    "weighed": figures_bench.weighed,
    "talc": figures_bench.talc,
    "strength": figures_bench.strength,
    "shift": figures_bench.shift,
}


def figures_told(answer: FiguresTold) -> str:
    """The sentences for a sum."""
    lines = [line for line in _TOLD[answer.kind](answer.facts) if line]
    if answer.caution:
        lines = [*lines[: MOST_LINES - 1], caution_text(answer.caution)]
    return "\n".join(lines[:MOST_LINES])


def sum_refused(why: str, facts: dict[str, Any]) -> str | None:
    """Why a sum was not worked, and how to ask for it; None where it was no sum."""
    match why:
        case "name_plant":
            return f'Which plant, and how many? Ask like "{facts["example"]}".'
        case "name_day":
            return f'For which day? Ask like "{facts["example"]}", or text a target first ("need 60 by 17 april").'
        case "day_past":
            return f"{far(facts['day'])} is past. Name a day that is still to come."
        case "compare_what":
            plant = facts["plant"] or "toyon"
            return f'Which two ways? Ask like "is heel or tip better for {plant}" or "does 8000 ppm beat 3000 for {plant}".'
        case "trial_sum":
            return f"Those add up to {facts['sum']}, not {facts['said']}. Text the trial again with the numbers right."
        case "sum_impossible" | "trial_impossible":
            return f"That cannot be worked: {facts['hint']}."
        case "mix_for_what":
            return 'For which pots, and how many? Ask like "how much mix for 96 4 in pots and 40 1 gal pots".'
        case "bench_size":
            return 'How big is the bench? Ask like "how many trays fit on a 3x8 ft bench".'
        case "dip_needs":
            return (
                'From which strength, to which, how much? Ask like "how much 3000 ppm from 1% concentrate for 500 ml".'
            )
        case _:
            return None
