"""What becomes of a sentence that tells something: its pieces put right, parted into clauses, and made entries.

The order of the steps is the whole of this file: what is no count and no deed goes first, then days, names and people,
then deeds. A step is left out where the sentence holds nothing that it looks for.
"""

from __future__ import annotations

from datetime import datetime
from typing import Final

from core.notes.acts.diseases import settle_holds
from core.notes.acts.gone_over import catch_wilting, pour_in, water_with
from core.notes.acts.put_in import part_cover_after, settle_put_in
from core.notes.acts.shared import decide
from core.notes.assembly.mixtures import join_mixtures
from core.notes.assembly.volumes import join_poured, keep_doses
from core.notes.counts.added_counts import ADD_COUNTS
from core.notes.counts.all_of_them import join_all_of_them, leave_sayings_of_all, tell_wholes
from core.notes.counts.bare_heat import find_peaks, keep_heat_at_vents, part_heat_read
from core.notes.counts.cell_trays import join_cell_trays
from core.notes.counts.cells_up import find_cells_up
from core.notes.counts.compared import JOIN_COMPARED
from core.notes.counts.counted_from import name_counted_from
from core.notes.counts.counted_in import lose_in_another, name_counted_in, part_bracketed
from core.notes.counts.counted_not import count_nothing, join_denied, keep_no_shows
from core.notes.counts.counted_things import (
    KEEP_COUNTED_THINGS,
    keep_hours_out,
    keep_numbers_at_home,
    keep_numbers_of_things,
    keep_years,
)
from core.notes.counts.counted_wholes import JOIN_WHOLES, join_tallies, keep_of_trays
from core.notes.counts.counts_of_merged import keep_counts_of_merged
from core.notes.counts.days_among_counts import find_days
from core.notes.counts.differences import keep_differences
from core.notes.counts.dropped import keep_dropped
from core.notes.counts.each_but_one import deal_each_but_one
from core.notes.counts.each_did import add_what_each_did
from core.notes.counts.each_person import count_each_person
from core.notes.counts.exceptions import leave_out
from core.notes.counts.fewer_than_full import keep_what_lacks
from core.notes.counts.from_and_to import KEEP_CHANGED
from core.notes.counts.kept_sizes import keep_cells, keep_grades, keep_lengths, keep_old_sizes, name_sized_pots
from core.notes.counts.left_after_losses import find_left_after, find_left_before
from core.notes.counts.lengths_told import KEEP_LENGTHS_TOLD
from core.notes.counts.listed_counts import JOIN_COUNTS, say_each
from core.notes.counts.look_headings import keep_look_headings
from core.notes.counts.lots_split import lead_lots_to_be, tell_new_lots
from core.notes.counts.members_of_headings import name_members
from core.notes.counts.merged_with import name_merged
from core.notes.counts.multiplied import COUNT_IN_ALL
from core.notes.counts.named_alike import NAME_ALIKE, name_below_heading, name_letters
from core.notes.counts.numbered import join_numbered, name_one_again, name_wilted_one
from core.notes.counts.numbers_beside import NUMBERS_BESIDE
from core.notes.counts.numbers_in_brackets import name_lots_before_brackets
from core.notes.counts.old_and_new import KEEP_OLD, keep_lessened
from core.notes.counts.others_left import keep_others_left
from core.notes.counts.out_of_those import (
    count_part_of_that,
    keep_rates_of_packs,
    part_those_with,
    share_of_every,
)
from core.notes.counts.participles import (
    count_potted_seedlings,
    keep_participles,
    keep_potted_ones,
    keep_potted_plants,
    keep_sprouts,
)
from core.notes.counts.parts import FIND_SAMPLES, join_sides, keep_which
from core.notes.counts.parts_of_counts import count_part_of
from core.notes.counts.parts_of_lots import name_lots_of_it, name_lots_taken_from, name_parts_of_lots
from core.notes.counts.parts_told import find_lone_measures, keep_parts
from core.notes.counts.plants_in_tray import share_tray
from core.notes.counts.prices import KEEP_PRICES
from core.notes.counts.rates import count_at_each, count_per_row
from core.notes.counts.readings_apart import part_low_and_high, part_readings
from core.notes.counts.relative import join_relative
from core.notes.counts.rest_thrown_out import keep_those_got
from core.notes.counts.risen import FIND_RISEN
from core.notes.counts.roots_of_one import keep_roots_of_one
from core.notes.counts.rows_not_rooted import keep_other_rows
from core.notes.counts.running_totals import SUM_UP
from core.notes.counts.some_left_out import count_excepted, leave_out_some, tell_what_is_left
from core.notes.counts.states_apart import TELL_STATES_APART
from core.notes.counts.staying import keep_those_staying
from core.notes.counts.strengths import find_strengths, keep_dilutions, keep_dilutions_apart
from core.notes.counts.temps import FIND_READINGS, find_place_read
from core.notes.counts.those_meant import join_those_meant
from core.notes.counts.told_of_those import TELL_OF_THOSE, keep_when_stuck
from core.notes.counts.trays_before_counts import join_counts_after_commas, name_last_of_row
from core.notes.counts.unrooted_ones import count_with_unrooted, part_unrooted
from core.notes.counts.where_alone import name_where_alone
from core.notes.counts.yes_and_no import join_yes_and_no
from core.notes.days.days_of_others import KEEP_DAYS_OF_OTHERS
from core.notes.days.hours_of_vents import keep_hours_of_vents
from core.notes.days.lengths_in_row import keep_lengths_in_row
from core.notes.days.open_hours import find_open_hours, keep_hours_worked, keep_sides_of_vents
from core.notes.days.spans import join_clocks
from core.notes.deeds.baths import find_things_in_solution
from core.notes.deeds.beginnings import read_beginnings
from core.notes.deeds.broken_up import (
    break_in_pieces,
    break_up,
    divide_by_division,
    keep_torn_apart,
    leave_size_of_clump,
    make_divisions,
)
from core.notes.deeds.chill_told_of import (
    find_moves_out,
    keep_chill_before,
    keep_days_over,
    keep_nearly_over,
    keep_time_out,
    keep_where_it_lies,
    keep_where_it_stood,
    move_within_cold,
    settle_days_up,
)
from core.notes.deeds.clipped import READ_CLIPPED
from core.notes.deeds.cues import find_cues
from core.notes.deeds.dividing import settle_divisions
from core.notes.deeds.either_or import join_either, keep_either
from core.notes.deeds.equipment import FIND_GEAR
from core.notes.deeds.fetched import bag_heads, fetch
from core.notes.deeds.flagging import tell_flagging
from core.notes.deeds.had_in_a_row import read_what_they_had
from core.notes.deeds.home_things import find_home_things
from core.notes.deeds.in_the_ground import keep_in_ground
from core.notes.deeds.lids_cracked import keep_mats_below
from core.notes.deeds.mix_ups import keep_mix_ups
from core.notes.deeds.not_plants import (
    keep_things_lacking,
    keep_why_cleaned,
    settle_things,
)
from core.notes.deeds.of_plants import keep_of_no_plants, read_stood
from core.notes.deeds.on_oneself import keep_on_oneself
from core.notes.deeds.other_senses import keep_other_senses, keep_set_to, keep_stuck_fast, keep_stuck_on, read_struck
from core.notes.deeds.plain_forms import read_plain_forms
from core.notes.deeds.plant_lists import part_counted_flats, settle_plant_lists
from core.notes.deeds.planted_gallons import count_gallons, find_planted_gallons
from core.notes.deeds.pulled_sick import fight_pests, keep_upset, lose_pulled_sick
from core.notes.deeds.said_beside import KEEP_SAID_BESIDE, keep_dusts, keep_which_seed, settle_dips, settle_said_beside
from core.notes.deeds.second_treatments import SECOND_TREATMENTS
from core.notes.deeds.seed_dried import bake_seed, keep_dried_seed
from core.notes.deeds.solutions import find_new_batches, keep_days_of_batches, keep_refills, settle_solutions
from core.notes.deeds.solutions_told import TELL_SOLUTIONS
from core.notes.deeds.sounds_like_deeds import SOUNDS_LIKE_DEEDS
from core.notes.deeds.strat import SETTLE_STRAT
from core.notes.deeds.strat_days import join_days_of_strat
from core.notes.deeds.taken_out import find_taken_out
from core.notes.deeds.treated_by_place import TREATED_BY_PLACE
from core.notes.deeds.turns_of_phrase import read_turns
from core.notes.details.drafts import Draft
from core.notes.joining.gathering import gather
from core.notes.joining.parts_of_total import find_gallons, keep_bracketed_parts, keep_totals, part_causes
from core.notes.names.beds import name_beds
from core.notes.names.landforms import keep_smoke, name_benches, name_houses, name_landforms, name_lot_again, name_sun
from core.notes.names.names_joined import JOIN_PLANT_NAMES, name_cuts
from core.notes.names.namesakes import name_namesakes
from core.notes.names.people import find_people, keep_company, name_receivers, part_doers, tell_bracketed
from core.notes.names.signed import find_signers
from core.notes.names.speakers import name_speakers
from core.notes.names.titled import name_titled
from core.notes.names.unknown_plants import name_listed
from core.notes.names.work_benches import name_work_benches
from core.notes.parting.as_before import mats_again, name_bare_letters, name_bare_numbers, name_lines
from core.notes.parting.clauses import part
from core.notes.parting.deeds_repeated import repeat_deeds
from core.notes.parting.dry_ones import name_dry_so_watered, water_dry_ones
from core.notes.parting.harm import name_agents, tell_what_harmed
from core.notes.parting.held_as_they_are import put_by
from core.notes.parting.leading import days_at_heads, join_subjects, lots_before_colons, lots_in_lists
from core.notes.parting.lone_subjects import head_lines
from core.notes.parting.put_right import keep_put_right
from core.notes.parting.sayings import KEEP_SAYINGS
from core.notes.parting.shared_out import share_out
from core.notes.parting.shifts_covered import keep_shifts
from core.notes.parting.some_of_those import name_some_of_those
from core.notes.parting.states_first import part_counts_last
from core.notes.parting.taken_by import keep_when_lost, lose_those_taken, sweep_through, take_by_harm
from core.notes.parting.wet_already import keep_too_wet
from core.notes.parting.when_told import keep_no_sooner, part_when
from core.notes.words.pieces import Piece
from core.notes.words.steps import Marks, Steps, marks_of
from core.notes.words.tokens import Token
from core.notes.words.values import Names

_COUNTS: Final = Steps(
    leave_sayings_of_all,
    *READ_CLIPPED, *TELL_SOLUTIONS,
    keep_torn_apart, break_up, break_in_pieces, leave_size_of_clump, make_divisions, divide_by_division,
    read_beginnings, fetch, bag_heads,
    count_with_unrooted, name_lots_of_it, join_counts_after_commas,
    find_left_before, read_plain_forms, tell_flagging, keep_of_no_plants, read_stood, water_with, pour_in,
    catch_wilting, read_struck, sweep_through, take_by_harm, lose_those_taken,
    name_agents, *NUMBERS_BESIDE, *TELL_OF_THOSE,
    name_lots_before_brackets, water_dry_ones, keep_when_stuck, join_either, part_when, keep_no_sooner,
    deal_each_but_one, count_part_of_that,
    keep_rates_of_packs, keep_hours_out, keep_of_trays, *TELL_STATES_APART, keep_shifts, find_open_hours,
    keep_sides_of_vents, keep_hours_worked, *KEEP_DAYS_OF_OTHERS, keep_days_over, keep_counts_of_merged, keep_no_shows,
    head_lines, part_counts_last, count_part_of, share_out, name_speakers, name_titled, name_namesakes, part_doers,
    keep_others_left, keep_roots_of_one, keep_dried_seed, add_what_each_did, keep_hours_of_vents, keep_lengths_in_row,
    name_work_benches, name_landforms, name_houses, name_benches, name_beds, name_lot_again, name_sun, keep_smoke,
    name_below_heading,
    find_place_read, part_heat_read, keep_heat_at_vents, name_last_of_row, keep_those_got, join_days_of_strat,
    part_unrooted, keep_mats_below, lead_lots_to_be, tell_new_lots, say_each, name_counted_from, name_counted_in,
    name_where_alone, find_cells_up, part_bracketed,
    *NAME_ALIKE, lose_in_another, name_members, name_letters, keep_look_headings, part_those_with,
    share_of_every, join_those_meant, tell_what_is_left, count_excepted, leave_out_some, keep_differences,
    keep_dilutions,
    keep_dilutions_apart,
    count_per_row, count_at_each, keep_lessened, keep_what_lacks, leave_out, keep_years, keep_numbers_at_home,
    keep_old_sizes, keep_lengths, keep_grades, keep_cells, *COUNT_IN_ALL, *KEEP_COUNTED_THINGS, keep_numbers_of_things,
    *ADD_COUNTS, *FIND_RISEN, *KEEP_CHANGED, *KEEP_OLD, find_gallons, find_planted_gallons, count_gallons, part_causes,
    keep_totals, keep_bracketed_parts, *SUM_UP, *JOIN_WHOLES, keep_dropped, *KEEP_PRICES, keep_those_staying,
    *FIND_SAMPLES, join_all_of_them, tell_wholes, join_relative, join_sides, keep_which, keep_participles, keep_sprouts,
    keep_potted_ones,
    keep_potted_plants, count_potted_seedlings,
    join_yes_and_no, join_denied, *JOIN_COMPARED,
)  # fmt: skip
_SIZES: Final = Steps(join_cell_trays, name_sized_pots, *KEEP_LENGTHS_TOLD)
# Exceptions and counts in a row are looked for twice: some show only when days, colons and lists are read.
_LISTS: Final = Steps(
    share_tray, name_parts_of_lots, name_lots_taken_from, join_numbered, name_one_again, keep_other_rows,
    *JOIN_COUNTS, days_at_heads, lots_before_colons,
    count_nothing,
    lots_in_lists, join_subjects, leave_out, *JOIN_COUNTS,
    join_tallies,
)  # fmt: skip
_NAMES: Final = Steps(
    name_merged, name_cuts, *JOIN_PLANT_NAMES, name_listed, join_poured, keep_doses, join_mixtures, part_counted_flats,
    find_lone_measures, keep_upset, tell_what_harmed, lose_pulled_sick, fight_pests, put_by,
    keep_parts, find_strengths, join_clocks, name_some_of_those,
    name_lines, name_dry_so_watered, name_bare_numbers,
    name_wilted_one,
    name_bare_letters, mats_again, name_receivers, keep_company,
    tell_bracketed,
)  # fmt: skip
_DEEDS: Final = Steps(
    *TREATED_BY_PLACE,
    *SOUNDS_LIKE_DEEDS, find_left_after, keep_when_lost, count_each_person, keep_mix_ups, *KEEP_SAID_BESIDE,
    keep_which_seed,
    keep_nearly_over, find_taken_out, keep_time_out, keep_chill_before, settle_days_up, keep_where_it_lies,
    keep_where_it_stood, move_within_cold, find_moves_out,
    *SETTLE_STRAT, *SECOND_TREATMENTS,
    *KEEP_SAYINGS,
    keep_on_oneself,
    *FIND_GEAR, find_home_things, keep_put_right, keep_too_wet, keep_stuck_on, keep_stuck_fast, keep_other_senses,
    keep_in_ground, bake_seed, part_readings,
    part_low_and_high,
    find_peaks, *FIND_READINGS, keep_things_lacking, keep_why_cleaned,
    find_things_in_solution, keep_days_of_batches, find_new_batches, keep_refills, keep_set_to, part_cover_after,
)  # fmt: skip


def told(text: str, tokens: list[Token], pieces: list[Piece], marks: Marks, now: datetime, names: Names) -> list[Draft]:
    """The drafts of a sentence with these marks that tells, asks nothing and wishes nothing."""
    if read_what_they_had.needed_by(marks) and read_what_they_had(pieces):
        marks = Marks(marks | marks_of(pieces))
    if read_turns.needed_by(marks) and read_turns(pieces, tokens):
        marks = Marks(marks | marks_of(pieces))
    _SIZES.take(pieces, marks)
    _COUNTS.take(pieces, marks)
    named = bool(names.people)
    if named or find_signers.needed_by(marks):
        find_signers(pieces, names)
    _LISTS.take(pieces, marks)
    if find_days.needed_by(marks):
        find_days(pieces, marks, now)
    _NAMES.take(pieces, marks)
    if named or find_people.needed_by(marks):
        find_people(pieces, names)
    if named or repeat_deeds.needed_by(marks):
        repeat_deeds(pieces, names)
    marks = Marks(marks | marks_of(pieces))
    _DEEDS.take(pieces, marks)
    clauses = part(pieces, marks)
    for place, clause in enumerate(clauses):
        decide(clause, clauses[:place])
    if settle_put_in.needed_by(marks):
        settle_put_in(clauses)
    if settle_divisions.needed_by(marks):
        settle_divisions(clauses)
    clauses = settle_things(clauses)
    if settle_solutions.needed_by(marks):
        clauses = settle_solutions(clauses)
    settle_said_beside(clauses)
    if settle_dips.needed_by(marks):
        settle_dips(clauses)
    if keep_dusts.needed_by(marks):
        keep_dusts(clauses)
    settle_holds(clauses)
    find_cues(clauses, marks, now)
    if keep_either.needed_by(marks):
        keep_either(clauses)
    clauses = settle_plant_lists(clauses)
    return gather(text, tokens, clauses, now)
