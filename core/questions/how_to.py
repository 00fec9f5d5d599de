"""How is it done: the few lines that a first-day volunteer needs, from a file that a grower can mend."""

from __future__ import annotations

import re
import tomllib
from datetime import datetime
from functools import cache
from importlib.resources import files
from typing import Any

from core.answers import Answer, HowTold, Refused
from core.entries import Entry
from core.storage import Books
from core.treatments.plant_facts import PlantFact, known_of


@cache
def _topics() -> tuple[dict[str, Any], ...]:
    text = files("core.questions").joinpath("how_to.toml").read_text(encoding="utf-8")
    return tuple(tomllib.loads(text)["topic"])


_OF_SEED = ("pretreatment", "warm_days", "cold_days", "germination_days")
_OF_CUTTINGS = ("cutting_season", "wood", "hormone", "medium", "weeks_to_root", "weaning_start")
_SEED = re.compile(r"\b(seeds?|sow|sowing|germinat\w*|stratif\w*|cold|fridge|scarif\w*|soak|pretreat\w*|sprout)\b")
_CUTTINGS = re.compile(r"\b(cuttings?|stick|root|rooting|hormone|iba|heels?|tips?|wood|medium|mallets?|strength|ppm)\b")


def how_is_it_done(books: Books, entry: Entry, words: str, now: datetime) -> Answer:
    """The lines for the topic that the question's words name and what is known of its plant, or what may be asked."""
    facts = _known(entry.plant, words)
    told = (entry.rest, entry.did, entry.method, entry.solution, str(entry.cutting) if entry.cutting else None)
    about = " ".join(word for word in told if word)
    best = max(_topics(), key=lambda topic: max((len(word) for word in topic["words"] if word in about), default=0))
    if not any(word in about for word in best["words"]):
        if facts:
            return HowTold(topic="plant", lines=(), plant=entry.plant or "", facts=facts)
        return Refused(why="no_how_to", facts={"topics": [topic["name"] for topic in _topics()], "plant": entry.plant})
    return HowTold(
        topic=best["name"],
        lines=tuple(best["lines"]),
        caution=best.get("caution"),
        plant=entry.plant or "",
        facts=facts,
    )


def _known(plant: str | None, words: str) -> tuple[PlantFact, ...]:
    """What the bench's table knows of a plant: of its seed, of its cuttings, or of both where the words name neither."""
    if plant is None:
        return ()
    of_seed, of_cuttings = bool(_SEED.search(words)), bool(_CUTTINGS.search(words))
    facts = (_OF_SEED if of_seed or not of_cuttings else ()) + (_OF_CUTTINGS if of_cuttings or not of_seed else ())
    return known_of(plant, facts)
