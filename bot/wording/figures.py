"""How sums are told: the figure first, how sure it is, and what it rests on, in at most six lines."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.wording import (
    figures_ahead,
    figures_bench,
    figures_kept,
    figures_past,
    figures_rates,
    figures_seed,
    figures_time,
)
from bot.wording.figures_plain import far
from core.answers import FiguresTold
from core.treatments.cautions import caution_text

MOST_LINES = 6

_TOLD: dict[str, Callable[[dict[str, Any]], list[str]]] = {
    "stock": figures_ahead.stock,
    "free": figures_kept.free,
    "kept": figures_kept.kept,
    "got": figures_kept.got,
    "got_by": figures_kept.got_by,
    "targets": figures_kept.targets,
    "until": figures_kept.until,
    "when": figures_ahead.when,
    "forecast": figures_ahead.forecast,
    "forecasts": figures_ahead.forecasts,
    "no_bench": figures_ahead.no_bench,
    "plan": figures_ahead.plan,
    "what_if": figures_ahead.what_if,
    "next_list": figures_ahead.next_list,
    "rate": figures_rates.rate,
    "way_rate": figures_rates.way_rate,
    "survival": figures_past.survival,
    "divided": figures_past.divided,
    "losses": figures_past.losses,
    "table": figures_past.table,
    "rooting": figures_past.rooting,
    "course": figures_seed.course,
    "replicates": figures_seed.replicates,
    "live_seed": figures_seed.live_seed,
    "untrue": figures_seed.untrue,
    "chill": figures_seed.chill,
    "air": figures_bench.air_asked,
    "powder": figures_bench.powder,
    "alcohol": figures_bench.alcohol,
    "to_a_tray": figures_bench.to_a_tray,
    "work": figures_bench.work,
    "time": figures_rates.time,
    "compare": figures_rates.compare,
    "trial": figures_rates.trial,
    "outlook": figures_rates.outlook,
    "mothers": figures_rates.mothers,
    "season": figures_rates.season,
    "season_of_plant": figures_rates.season_of_plant,
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
    "ages": figures_time.ages,
    "days_to": figures_time.days_to,
    "sale": figures_time.sale,
    "ranked": figures_time.ranked,
    "trays": figures_time.trays,
    "off_for": figures_time.off_for,
}


def figures_told(answer: FiguresTold) -> str:
    """The sentences for a sum."""
    lines = [line for line in _TOLD[answer.kind](answer.facts) if line]
    if answer.caution:
        lines = [*lines[: MOST_LINES - 1], caution_text(answer.caution)]
    return "\n".join(lines if answer.kind == "table" else lines[:MOST_LINES])


def sum_refused(why: str, facts: dict[str, Any]) -> str | None:
    """Why a sum was not worked, and how to ask for it; None where it was no sum."""
    match why:
        case "name_plant":
            return f'Which plant, and how many? Ask like "{facts["example"]}".'
        case "no_sale_day":
            return 'I know of no day of the sale. Text what is wanted by it, like "need 40 toyon by 14 nov".'
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
        case "bench_unknown":
            there = f" {len(facts['standing'])} trays stand there by the notes." if facts["standing"] else ""
            return f'How big is {facts["bench"]}?{there} Text "{facts["bench"]} is 3x8 ft" and ask again.'
        case "powder_needs":
            return 'Of which strength is the powder, and what is wanted? Ask like "powder at 35% for 1 liter of 0.5%".'
        case "alcohol_needs":
            return 'From which strength, to which? Ask like "how much 91% alcohol for 1 qt at 70%".'
        case "air_needs":
            return 'At which temperature and humidity? Ask like "what is the vpd at 72F 60%", or text a reading first.'
        case "live_needs":
            return 'Purity and germination? Ask like "what is the pls of 96% pure, 80% germination".'
        case "no_cold":
            asked = f" of {facts['asked']}" if facts["asked"] else ""
            return f"No seed{asked} is in the cold that I know of, and no fridge reading was noted."
        case "no_course":
            return (
                f"Nobody counted seedlings of {facts['asked']} yet. Text a count, like \"lot 4 12 germinated\", "
                'or ask with counts: "germination of 50 seeds: 4 on day 5, 17 on day 6".'
            )
        case "replicates_need":
            return f'{facts["hint"][:1].upper()}{facts["hint"][1:]}. Ask like "do reps 92 88 95 79 of 100 agree?"'
        case "dip_needs":
            return (
                'From which strength, to which, how much? Ask like "how much 3000 ppm from 1% concentrate for 500 ml".'
            )
        case _:
            return None
