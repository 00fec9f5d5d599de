"""Do bleach and chlorine sums agree with published sheets, and is no strength ever made from nothing?"""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import BadTradeFile
from core.figures.measures import BadMeasure, to_ml
from core.figures.solution_book import open_book, read_book
from core.figures.solutions import (
    MixWarning,
    judge_bleach_age,
    mix_bleach,
    mix_bleach_by_parts,
    mix_bleach_by_share,
    mix_powder,
    parts_of_water,
    share_left,
    strength_of_mix,
    stretch_bleach,
)
from core.figures.strengths import (
    AvailableChlorine,
    ChlorineStrength,
    SodiumHypochlorite,
    as_available_chlorine,
    as_sodium_hypochlorite,
    ppm_from_percent,
)
from core.notes import read

GALLON = to_ml(1, "gal")


def jug(percent: float) -> SodiumHypochlorite:
    return SodiumHypochlorite(percent=percent)


def chlorine(percent: float) -> AvailableChlorine:
    return AvailableChlorine(percent=percent)


@pytest.mark.parametrize(
    ("label", "wanted", "parts"),
    [
        (3.5, 0.5, 6),  # CDC, Environmental Cleaning in Global Healthcare Facilities, appendix E, example 1
        (5, 0.1, 49),  # runyoncanyon-losangeles.com dilution page: 1 + 49 of 5 % is 1,000 ppm
        (5.25, 0.525, 9),  # Penn State Extension (1 gal in 9 gal) with Swiecki & Bernhardt s. 2.3 (0.525 %)
        (6, 6 / 7, 6),  # grower's article quoting an EPA label, violetbarn.com 2023: 1 + 6 is about 0.857 %
        (8.25, 0.525, 14.7),  # arithmetic, to one decimal
        (6.0, 0.525, 10.4),  # arithmetic, to one decimal
    ],
)
def test_parts_of_water_agree_with_published_examples(label: float, wanted: float, parts: float) -> None:
    assert parts_of_water(jug(label), jug(wanted)) == pytest.approx(parts, abs=0.05)


@pytest.mark.parametrize(
    ("label", "spoons", "unit", "made_to", "printed_low", "printed_high"),
    [
        (5.25, 5, "tbsp", "gal", 1000, 1035),  # CDC household guidance: 5 tbsp per gallon, 1,000 ppm or more
        (5.25, 4, "tsp", "qt", 1000, 1095),  # the same: 4 tsp per quart, 1,000 ppm or more
        (2.75, 19 / 3, "tbsp", "gal", 600, 800),  # Washington State DOH 970-216: about 600 to 800 ppm
        (5.25, 3, "tbsp", "gal", 600, 800),  # the same
        (6.25, 3, "tbsp", "gal", 600, 800),  # the same
        (8.25, 2, "tbsp", "gal", 600, 800),  # the same
        (8.25, 1, "tsp", "gal", 95, 140),  # the same: sanitizing, about 100 ppm
        (2.75, 1, "tbsp", "gal", 95, 140),  # the same
    ],
)
def test_spoons_to_the_gallon_give_the_strength_that_sheets_print(
    label: float, spoons: float, unit: str, made_to: str, printed_low: float, printed_high: float
) -> None:
    bleach, finished = to_ml(spoons, unit), to_ml(1, made_to)
    made = strength_of_mix(bleach_ml=bleach, water_ml=finished - bleach, label=jug(label))
    assert printed_low <= made.ppm <= printed_high


@pytest.mark.parametrize(
    ("note", "label", "printed_low", "printed_high"),
    [
        ("mixed 5 tbsp bleach in a gallon of water", 5.25, 1000, 1035),  # CDC household guidance: 1,000 ppm or more
        ("mixed bleach 4 tsp per quart", 5.25, 1000, 1095),  # the same: 4 tsp per quart, 1,000 ppm or more
        ("made up bleach, 3 tbsp to a gallon", 5.25, 600, 800),  # Washington State DOH 970-216: about 600 to 800 ppm
        ("1/3 cup + 1 tbsp bleach in a gal of water, mixed", 2.75, 600, 800),  # the same
        ("mixed 2 tbsp bleach into 1 gallon of water", 8.25, 600, 800),  # the same
        ("mixed bleach, 1 tsp in a gallon", 8.25, 95, 140),  # the same: sanitizing, about 100 ppm
        ("mixed bleach 400 ml made up to 20 l", 5, 999, 1001),  # runyoncanyon-losangeles.com: 1 + 49, 1,000 ppm
        ("mixed 250 ml bleach in a litre of water", 5, 9_999, 10_001),  # Cholera guidance appendix 14: 1 %
        ("mixed 1 gal bleach and 9 gal water", 5.25, 5249, 5251),  # Penn State Extension; Swiecki & Bernhardt: 0.525 %
    ],
)
def test_volumes_told_in_a_note_give_the_strength_that_sheets_print(
    note: str, label: float, printed_low: float, printed_high: float
) -> None:
    (entry,) = read(note, datetime.fromisoformat("2026-03-02T09:00")).entries
    bleach, water = entry.parts
    made = mix_bleach_by_parts(finished_ml=GALLON, bleach_parts=bleach, water_parts=water, label=jug(label))
    assert printed_low <= made.ppm <= printed_high


def test_one_in_ten_of_five_and_a_quarter_is_5250_ppm() -> None:
    # Bleach safety fact sheet, pdf4pro.com: 5,250 ppm, 0.525 % (printed 0.53 %)
    mix = mix_bleach_by_share(finished_ml=1000, jug_share=0.1, label=jug(5.25))
    assert mix.ppm == pytest.approx(5250)
    assert mix.parts_water == pytest.approx(9)
    assert MixWarning.SHARE_OF_JUG in mix.warnings


def test_400_ml_made_to_20_l_is_1000_ppm() -> None:
    # runyoncanyon-losangeles.com dilution page, 5 % bleach
    assert strength_of_mix(bleach_ml=400, water_ml=19_600, label=jug(5)).ppm == pytest.approx(1000)


def test_one_to_ten_has_two_readings_and_gives_both() -> None:
    # Arithmetic: 1 in 10 of 5.25 % is 5,250 ppm, 1 + 10 is 4,773 ppm
    mix = mix_bleach_by_parts(finished_ml=GALLON, water_parts=10, label=jug(5.25))
    assert mix.ppm == pytest.approx(4773, abs=0.5)
    assert mix.other_reading_ppm == pytest.approx(5250)
    assert MixWarning.RATIO_READ_TWO_WAYS in mix.warnings
    nine = mix_bleach_by_parts(finished_ml=GALLON, water_parts=9, label=jug(5.25))
    assert nine.ppm == pytest.approx(5250)
    assert MixWarning.RATIO_READ_TWO_WAYS not in nine.warnings


def test_added_to_a_litre_is_not_made_up_to_a_litre() -> None:
    # Cholera guidance appendix 14 prints 250 ml of 5 % for 1 %: true when added to 1 l, 1.25 % when made up to it
    assert strength_of_mix(bleach_ml=250, water_ml=1000, label=jug(5)).percent == pytest.approx(1)
    assert strength_of_mix(bleach_ml=250, water_ml=750, label=jug(5)).percent == pytest.approx(1.25)


@pytest.mark.parametrize(
    ("powder", "wanted", "grams_a_litre", "within"),
    [
        (35, 0.5, 14.3, 0.05),  # CDC appendix E, example 2
        (70, 1.05, 15, 0.01),  # Cholera guidance appendix 14: 15 g/l of 70 % for about 1 %; back from the 15 g
        (30, 0.99, 33, 0.01),  # the same: 33 g/l of 30 %
    ],
)
def test_powder_by_the_litre(powder: float, wanted: float, grams_a_litre: float, within: float) -> None:
    mix = mix_powder(finished_ml=10_000, powder=chlorine(powder), wanted=chlorine(wanted))
    assert mix.grams_per_litre == pytest.approx(grams_a_litre, abs=within)
    assert mix.grams == pytest.approx(10 * mix.grams_per_litre)


def test_70_ml_of_15_percent_in_a_litre_is_about_one_percent() -> None:
    # Cholera guidance appendix 14
    assert strength_of_mix(bleach_ml=70, water_ml=930, label=chlorine(15)).percent == pytest.approx(1.05)


def test_degrees_chlorum_and_percent_by_weight() -> None:
    # CDC hypochlorite factsheet footnote: one degree is 0.3 %; molar masses 70.906 and 74.44 (from memory): 0.9525
    assert AvailableChlorine.of_chlorum(12).percent == pytest.approx(3.6)
    assert as_available_chlorine(jug(1)).percent == pytest.approx(0.9525, abs=5e-5)
    assert ppm_from_percent(1) == 10_000  # Cholera guidance appendix 14: 1 % is 10,000 ppm


@pytest.mark.parametrize(
    ("label", "ounces", "five_gallons_in_cups"),
    [(5.25, 12.8, 8.0), (6.0, 11.2, 7.0), (7.5, 9.0, 5.6), (8.25, 8.1, 5.1)],  # arithmetic: 128 x 0.525 / label
)
def test_bleach_for_a_gallon_at_the_tool_strength(label: float, ounces: float, five_gallons_in_cups: float) -> None:
    mix = mix_bleach(finished_ml=GALLON, label=jug(label), wanted=jug(0.525))
    assert mix.bleach.ml / to_ml(1, "fl oz") == pytest.approx(ounces, abs=0.06)
    five = mix_bleach(finished_ml=5 * GALLON, label=jug(label), wanted=jug(0.525))
    assert five.bleach.ml / to_ml(1, "cup") == pytest.approx(five_gallons_in_cups, abs=0.06)


def test_three_gallons_from_a_seven_and_a_half_jug() -> None:
    mix = mix_bleach(finished_ml=3 * GALLON, label=jug(7.5))
    assert mix.bleach.kitchen.text == "3 3/8 cups"
    assert mix.bleach.fluid_ounces.text == "27 fl oz"
    assert mix.bleach.metric.text == "795 ml"
    assert mix.finished.kitchen.text == "3 gal"
    assert mix.poured_ppm == pytest.approx(5250, rel=0.01)
    assert mix.warnings == (MixWarning.WANTED_ASSUMED,)


def test_no_label_is_said_to_be_assumed() -> None:
    mix = mix_bleach_by_parts(finished_ml=GALLON, water_parts=9)
    assert mix.label == jug(open_book().bleach.assumed_label_percent)
    assert MixWarning.LABEL_ASSUMED in mix.warnings
    assert mix.caution == "bleach_mixing"


def test_a_wanted_strength_of_the_other_kind_is_turned_by_weight() -> None:
    mix = mix_bleach(finished_ml=1000, label=jug(5.25), wanted=chlorine(0.5))
    assert MixWarning.KINDS_CONVERTED in mix.warnings
    assert mix.available_chlorine_ppm == pytest.approx(5000)
    assert mix.ppm == pytest.approx(5000 / 0.95253, rel=1e-4)


def test_odd_jugs_and_strong_mixes_are_warned_of() -> None:
    assert MixWarning.LABEL_UNUSUAL in mix_bleach(finished_ml=1000, label=jug(1.5), wanted=jug(0.5)).warnings
    assert MixWarning.STRONG_SOLUTION in mix_bleach_by_parts(finished_ml=1000, water_parts=1, label=jug(6)).warnings


def test_bleach_as_it_comes_has_no_water() -> None:
    neat = mix_bleach_by_share(finished_ml=500, jug_share=1, label=jug(6))
    assert neat.water is None
    assert neat.ppm == pytest.approx(60_000)


@pytest.mark.parametrize(
    "impossible",
    [
        lambda: mix_bleach(finished_ml=1000, label=jug(0.1), wanted=jug(0.5)),
        lambda: mix_bleach(finished_ml=0, label=jug(5)),
        lambda: mix_bleach(finished_ml=1000, label=jug(65)),
        lambda: mix_bleach_by_parts(finished_ml=1000, water_parts=-1),
        lambda: mix_bleach_by_parts(finished_ml=1000, bleach_parts=0, water_parts=9),
        lambda: mix_bleach_by_share(finished_ml=1000, jug_share=1.2),
        lambda: mix_powder(finished_ml=1000, powder=chlorine(30), wanted=chlorine(40)),
        lambda: strength_of_mix(bleach_ml=0, water_ml=1, label=jug(5)),
        lambda: jug(0),
        lambda: jug(101),
    ],
)
def test_what_cannot_be_mixed_is_refused(impossible: object) -> None:
    with pytest.raises(BadMeasure):
        impossible()  # type: ignore[operator]


strengths = st.one_of(
    st.floats(min_value=2, max_value=14).map(jug),
    st.floats(min_value=2, max_value=14).map(chlorine),
)


@given(st.floats(min_value=50, max_value=200_000), strengths, st.floats(min_value=0.005, max_value=0.9))
def test_mixing_keeps_the_chlorine(finished_ml: float, label: ChlorineStrength, share: float) -> None:
    mix = mix_bleach(finished_ml=finished_ml, label=label, wanted=type(label)(percent=label.percent * share))
    assert mix.water is not None
    assert mix.bleach.ml + mix.water.ml == pytest.approx(finished_ml)
    assert mix.bleach.ml * mix.label.percent == pytest.approx(finished_ml * mix.result.percent)
    assert mix.bleach.ml * mix.parts_water == pytest.approx(mix.water.ml)


@given(st.floats(min_value=5, max_value=50_000), st.floats(min_value=3, max_value=14))
def test_stretching_uses_all_the_bleach_there_is(bleach_ml: float, label: float) -> None:
    mix = stretch_bleach(bleach_ml=bleach_ml, label=jug(label))
    assert mix.bleach.ml == pytest.approx(bleach_ml)
    assert mix.result.percent == pytest.approx(0.525)


@given(st.floats(min_value=0.01, max_value=90))
def test_the_two_strengths_of_bleach_turn_there_and_back(percent: float) -> None:
    assert as_sodium_hypochlorite(as_available_chlorine(jug(percent))).percent == pytest.approx(percent)
    assert as_available_chlorine(jug(percent)).percent < percent


def test_a_batch_fades_by_its_half_life() -> None:
    # AGED-SOUTH ind1108 (half-life 2 h): after 3 h 35 %, after 4 h 25 %; arithmetic
    assert share_left(hours=3, half_life_hours=2) == pytest.approx(0.354, abs=5e-4)
    assert share_left(hours=4, half_life_hours=2) == 0.25
    # CDC 2008 (from memory): a closed bottle loses 40 to 50 % in 30 days
    assert 0.5 <= share_left(hours=720, half_life_hours=720) <= 0.6


def test_a_batch_is_judged_by_the_rule_in_force_and_tells_the_others() -> None:
    fresh, old, yesterday = judge_bleach_age(1.5), judge_bleach_age(2.17), judge_bleach_age(25)
    assert fresh.still_good
    assert fresh.outlived == ()
    assert not old.still_good  # Purdue Vegetable Crops Hotline 2017: change after about 2 h of use
    assert old.share_left < 0.5
    assert yesterday.outlived == ("in_use", "shift", "day")
    with pytest.raises(BadMeasure):
        judge_bleach_age(-1)


def test_the_book_names_a_source_for_every_time_and_strength() -> None:
    page = open_book().bleach
    assert all(one.source for one in (*page.jugs, *page.contacts, *page.life))
    assert [one.percent for one in page.jugs] == sorted(one.percent for one in page.jugs)
    assert any(one.minutes_least == 1 for one in page.contacts)  # Swiecki & Bernhardt s. 2.3
    assert any(one.minutes_most == 30 for one in page.contacts)  # CDC appendix E table: immersion 30 min


@pytest.mark.parametrize(
    "edit",
    [
        "[bleach\n",
        "[bleach]\ncaution = 'x'\n",
        "nothing = 1\n",
    ],
)
def test_a_broken_book_is_refused_in_words(edit: str) -> None:
    with pytest.raises(BadTradeFile):
        read_book(edit)
