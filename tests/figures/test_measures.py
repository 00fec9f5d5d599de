"""Do volumes, weights and lengths convert exactly, and does every poured measure hold what it says?"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.figures.measures import (
    CM_PER,
    GRAMS_PER,
    ML_PER,
    BadMeasure,
    convert,
    from_ml,
    in_fluid_ounces,
    in_kitchen,
    in_metric,
    measure_out,
    speak_fraction,
    to_celsius,
    to_fahrenheit,
    to_ml,
)

volumes = st.floats(min_value=0.7, max_value=400_000, allow_nan=False)


@pytest.mark.parametrize(
    ("value", "unit", "into", "expected"),
    [
        (1, "gal", "l", 3.785411784),  # NIST Handbook 44, Appendix C (from memory)
        (1, "fl oz", "ml", 29.5735295625),  # NIST Handbook 44, Appendix C (from memory)
        (1, "cu ft", "l", 28.316846592),  # NIST Handbook 44, Appendix C (from memory)
        (1, "lb", "g", 453.59237),  # NIST Handbook 44, Appendix C (from memory)
        (1, "oz", "g", 28.349523125),  # NIST Handbook 44, Appendix C (from memory)
        (10, "cu in", "ml", 163.9),  # NPN protocol pages, container of 10 cubic inches; arithmetic, to 4 figures
        (27, "cu in", "ml", 442.5),  # NPN protocol pages, container of 27 cubic inches; arithmetic, to 4 figures
        (0.75, "gal", "l", 2.84),  # trade gallon of 3 US quarts, encyclopaedia entry (prints 2.8); arithmetic
        (3, "qt", "gal", 0.75),  # NIST Handbook 44, Appendix C (from memory)
        (0.71, "gal", "l", 2.69),  # trade gallon, second published figure; arithmetic
        (0.734, "gal", "l", 2.78),  # measured number 1 pot, bonsainut.com/posts/1098490
        (3.843, "gal", "l", 14.55),  # measured number 5 pot, the same
    ],
)
def test_a_conversion_agrees_with_its_published_value(value: float, unit: str, into: str, expected: float) -> None:
    assert convert(value, unit, into) == pytest.approx(expected, rel=1e-3 if expected < 1e3 else 1e-9)


def test_the_exact_definitions_are_exact() -> None:
    # NIST Handbook 44, Appendix C (from memory): 231 cubic inches to the gallon, 768 teaspoons, 128 fluid ounces
    assert ML_PER["gal"] == Fraction("3785.411784")
    assert ML_PER["gal"] / ML_PER["tsp"] == 768
    assert ML_PER["gal"] / ML_PER["fl oz"] == 128
    assert CM_PER["ft"] == Fraction("30.48")
    assert GRAMS_PER["lb"] == Fraction("453.59237")


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [
        (140, 60),  # UC Davis heat treatment page: 140 F (60 C)
        (75, 23.888888888888889),  # NPN protocol 2765, bottom heat 75 F; arithmetic
        (-40, -40),  # NIST SP 811 B.8 (from memory)
        (32, 0),
    ],
)
def test_temperatures_convert(fahrenheit: float, celsius: float) -> None:
    assert to_celsius(fahrenheit) == pytest.approx(celsius, abs=1e-12)
    assert to_fahrenheit(celsius) == pytest.approx(fahrenheit, abs=1e-12)


@given(st.floats(min_value=1e-6, max_value=1e9), st.sampled_from(sorted(ML_PER)), st.sampled_from(sorted(ML_PER)))
def test_volumes_go_there_and_back(value: float, unit: str, into: str) -> None:
    assert convert(convert(value, unit, into), into, unit) == pytest.approx(value, rel=1e-12)


def test_ounces_of_a_liquid_are_fluid_and_of_a_solid_are_weight() -> None:
    assert to_ml(8, "oz") == pytest.approx(to_ml(1, "cup"))
    assert from_ml(to_ml(3, "gal"), "oz") == pytest.approx(384)
    assert convert(16, "oz", "lb") == 1
    with pytest.raises(BadMeasure):
        convert(1, "oz", "ml")
    with pytest.raises(BadMeasure):
        to_ml(1, "handful")
    with pytest.raises(BadMeasure):
        to_ml(float("nan"), "gal")


@pytest.mark.parametrize(
    ("value", "unit", "kitchen", "ounces"),
    [
        (0.21, "gal", "3 3/8 cups", "27 fl oz"),  # 3 gal at 0.525 % from 7.5 %: arithmetic
        (5, "tbsp", "5 tbsp", "2 1/2 fl oz"),  # CDC household guidance: 5 tbsp to the gallon
        (4, "tsp", "4 tsp", None),  # CDC household guidance: 4 tsp to the quart
        (19 / 3, "tbsp", "1/3 cup + 1 tbsp", None),  # Washington State DOH 970-216: 1/3 cup + 1 tbsp
        (1, "gal", "1 gal", "128 fl oz"),
        (2.5, "gal", "2 1/2 gal", "320 fl oz"),
        (0.5, "gal", "8 cups", "64 fl oz"),
        (0.5, "tsp", "1/2 tsp", None),
    ],
)
def test_a_poured_measure_is_spoken_as_a_crew_says_it(
    value: float, unit: str, kitchen: str, ounces: str | None
) -> None:
    poured = measure_out(to_ml(value, unit))
    assert poured.kitchen.text == kitchen
    if ounces is not None:
        assert poured.fluid_ounces.text == ounces


def _read_back(text: str) -> float:
    """The millilitres that a spoken measure holds, read by a reader that knows nothing of how it was spoken."""
    total = 0.0
    for piece in text.split(" + "):
        found = re.fullmatch(r"(?:(\d+(?:\.\d+)?) ?)?(?:(\d+)/(\d+) )?(gal|cups?|tbsp|tsp|fl oz|ml|l)", piece)
        assert found is not None, text
        whole, above, below, unit = found.groups()
        amount = float(whole or 0) + (int(above) / int(below) if above else 0)
        total += to_ml(amount, unit.removesuffix("s"))
    return total


@given(volumes)
def test_every_spoken_measure_holds_the_volume_it_states(ml: float) -> None:
    for poured in (in_kitchen(ml), in_fluid_ounces(ml), in_metric(ml)):
        assert _read_back(poured.text) == pytest.approx(poured.ml, rel=1e-9)
        assert poured.off_share == pytest.approx(poured.ml / ml - 1, abs=1e-12)


@given(volumes)
def test_no_kitchen_measure_is_far_off(ml: float) -> None:
    limit = 0.03 if ml >= float(ML_PER["tbsp"]) else 0.34
    assert abs(in_kitchen(ml).off_share) <= limit


@given(st.floats(min_value=100, max_value=1e6))
def test_metric_measures_are_within_half_a_percent_or_so(ml: float) -> None:
    assert abs(in_metric(ml).off_share) <= 0.011


def test_what_is_too_small_for_spoons_names_millilitres() -> None:
    tiny = in_kitchen(0.3)
    assert not tiny.measurable
    assert tiny.text == "0.3 ml"


@pytest.mark.parametrize("nothing", [0.0, -1.0, float("nan"), float("inf")])
def test_nothing_cannot_be_measured_out(nothing: float) -> None:
    with pytest.raises(BadMeasure):
        measure_out(nothing)


def test_mixed_numbers_read_as_a_cook_writes_them() -> None:
    assert [speak_fraction(Fraction(n, 8)) for n in (27, 4, 40, 1)] == ["3 3/8", "1/2", "5", "1/8"]
