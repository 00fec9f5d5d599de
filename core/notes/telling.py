"""What becomes of a sentence that tells something: its pieces put right, parted into clauses, and made entries.

The order of the steps is the whole of this file: what is no count and no deed goes first, then days, names and people,
then deeds. A step is left out where the sentence holds nothing that it looks for.
"""

from __future__ import annotations

from datetime import datetime
from typing import Final

from core.notes.acts.shared import decide
from core.notes.as_before import mats_again, name_bare_numbers, repeat_deeds
from core.notes.clauses import part
from core.notes.compared import join_compared
from core.notes.counted_not import join_denied
from core.notes.counted_things import keep_counted_things
from core.notes.counted_wholes import join_tallies, join_wholes
from core.notes.cues import find_cues
from core.notes.days_among_counts import find_days
from core.notes.diseases import settle_holds
from core.notes.dividing import settle_divisions
from core.notes.drafts import Draft
from core.notes.equipment import find_gear
from core.notes.exceptions import leave_out
from core.notes.gathering import gather
from core.notes.leading import days_at_heads, join_subjects, lots_before_colons
from core.notes.listed_counts import join_counts
from core.notes.mixtures import join_mixtures
from core.notes.named_alike import name_alike, name_flats
from core.notes.names_joined import join_plant_names
from core.notes.not_plants import find_things_in_solution, keep_why_cleaned, settle_things
from core.notes.numbered import join_numbered
from core.notes.old_and_new import keep_old
from core.notes.parts import join_samples, join_sides
from core.notes.parts_of_total import find_gallons, keep_totals
from core.notes.parts_told import find_lone_measures, keep_parts
from core.notes.people import find_people, name_receivers
from core.notes.pieces import Piece
from core.notes.plant_lists import part_counted_flats, settle_plant_lists
from core.notes.relative import join_relative
from core.notes.said_beside import keep_dusts, keep_said_beside, settle_dips, settle_said_beside
from core.notes.sayings import keep_sayings
from core.notes.signed import find_signers
from core.notes.solutions import find_new_batches, keep_days_of_batches, keep_refills, settle_solutions
from core.notes.spans import join_clocks
from core.notes.steps import marks_of, take
from core.notes.strat import settle_strat
from core.notes.strengths import find_strengths
from core.notes.temps import find_readings
from core.notes.tokens import Token
from core.notes.values import Names

_COUNTS: Final = (
    name_alike, name_flats, leave_out, keep_counted_things, keep_old, find_gallons, keep_totals, join_wholes,
    join_samples, join_relative, join_sides, join_denied, join_compared,
)  # fmt: skip
# Exceptions and counts in a row are looked for twice: some show only when days, colons and lists are read.
_LISTS: Final = (
    join_numbered, join_counts, days_at_heads, lots_before_colons, join_subjects, leave_out, join_counts, join_tallies,
)  # fmt: skip
_NAMES: Final = (
    join_plant_names, join_mixtures, part_counted_flats, find_lone_measures, keep_parts, find_strengths, join_clocks,
    name_bare_numbers, mats_again, name_receivers,
)  # fmt: skip
_DEEDS: Final = (
    keep_said_beside, settle_strat, keep_sayings, find_gear, find_readings, keep_why_cleaned, find_things_in_solution,
    keep_days_of_batches, find_new_batches, keep_refills,
)  # fmt: skip


def told(text: str, tokens: list[Token], pieces: list[Piece], now: datetime, names: Names) -> list[Draft]:
    """The drafts of a sentence that tells, asks nothing and wishes nothing."""
    marks = marks_of(pieces)
    take(pieces, _COUNTS, marks)
    find_signers(pieces, names)
    take(pieces, _LISTS, marks)
    find_days(pieces, now)
    take(pieces, _NAMES, marks)
    find_people(pieces, names)
    repeat_deeds(pieces, names)
    marks |= marks_of(pieces)
    take(pieces, _DEEDS, marks)
    clauses = part(pieces, marks)
    for place, clause in enumerate(clauses):
        decide(clause, clauses[:place])
    settle_divisions(clauses)
    clauses = settle_solutions(settle_things(clauses))
    settle_said_beside(clauses)
    settle_dips(clauses)
    keep_dusts(clauses)
    settle_holds(clauses)
    find_cues(clauses, now)
    clauses = settle_plant_lists(clauses)
    return gather(text, tokens, clauses, now)
