"""Do hormone and alcohol dilutions agree with published figures, and do they keep what is dissolved?"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.figures.dips import (
    DipWarning,
    dilute_alcohol,
    dilute_hormone,
    millimolar_of,
    parts_of_concentrate,
    ppm_of,
    talc_for,
    usual_methods,
    usual_strength,
    weigh_hormone,
)
from core.figures.measures import BadMeasure
from core.figures.strengths import millimolar_from_ppm, percent_from_ppm, ppm_from_millimolar, ppm_from_percent


def test_percent_and_ppm() -> None:
    # HORT 221 exercise 6: ppm = % x 10,000; talc grades of 0.1, 0.3 and 0.8 % are 1,000, 3,000 and 8,000 ppm
    assert [ppm_from_percent(one) for one in (0.1, 0.3, 0.8)] == pytest.approx([1000, 3000, 8000])
    assert percent_from_ppm(5000) == 0.5


@pytest.mark.parametrize(
    ("stock", "wanted", "finished", "stock_ml", "thinner_ml"),
    [
        (10_000, 2_500, 250, 62.5, 187.5),  # arithmetic, C1 V1 = C2 V2
        (10_000, 3_000, 100, 30, 70),  # arithmetic
        (10_000, 3_000, 500, 150, 350),  # arithmetic: 3,000 ppm from a 1 % concentrate
    ],
)
def test_a_concentrate_is_thinned(
    stock: float, wanted: float, finished: float, stock_ml: float, thinner_ml: float
) -> None:
    mixed = dilute_hormone(stock_ppm=stock, wanted_ppm=wanted, finished_ml=finished)
    assert mixed.thinner is not None
    assert mixed.stock.ml == pytest.approx(stock_ml)
    assert mixed.thinner.ml == pytest.approx(thinner_ml)
    assert mixed.caution == "hormone"


def test_parts_of_a_concentrate() -> None:
    # A 1.03 % IBA liquid (Kroin 1992, IPPS 42:489) at 1 to 10 as its sheet starts with: 10,300 / 11 ppm
    assert parts_of_concentrate(stock_ppm=10_300, concentrate_parts=1, thinner_parts=10) == pytest.approx(
        936.4, abs=0.1
    )


@pytest.mark.parametrize(
    ("compound", "ppm", "millimolar"),
    [
        ("iba", 1000, 4.920),  # molar mass 203.24 from standard atomic weights (from memory; arithmetic)
        ("naa", 1000, 5.370),  # molar mass 186.21, likewise
        ("iba", 203.24, 1.0),  # likewise
    ],
)
def test_ppm_and_millimolar(compound: str, ppm: float, millimolar: float) -> None:
    assert millimolar_of(compound, ppm) == pytest.approx(millimolar, abs=5e-4)
    assert ppm_of(compound, millimolar) == pytest.approx(ppm, rel=2e-4)


@pytest.mark.parametrize(
    ("formula", "compound"),
    [
        ({"C": 12, "H": 13, "N": 1, "O": 2}, "iba"),
        ({"C": 12, "H": 12, "N": 1, "O": 2, "K": 1}, "k-iba"),
        ({"C": 12, "H": 10, "O": 2}, "naa"),
        ({"C": 12, "H": 9, "O": 2, "K": 1}, "k-naa"),
        ({"C": 10, "H": 9, "N": 1, "O": 2}, "iaa"),
        ({"C": 19, "H": 22, "O": 6}, "ga3"),
    ],
)
def test_molar_masses_follow_from_the_formula(formula: dict[str, int], compound: str) -> None:
    # Standard atomic weights, IUPAC abridged (from memory)
    weights = {"C": 12.011, "H": 1.008, "N": 14.007, "O": 15.999, "K": 39.098}
    mass = sum(weights[symbol] * count for symbol, count in formula.items())
    assert ppm_of(compound, 1) == pytest.approx(mass, abs=0.015)


def test_the_salt_weighs_more_than_its_acid() -> None:
    # 241.33 / 203.24: 1,187 mg of K-IBA in a litre match 1,000 ppm IBA (arithmetic on molar masses)
    salt = weigh_hormone(compound="k-iba", wanted_ppm=1000, finished_ml=1000)
    assert salt.grams == pytest.approx(1.187, abs=5e-4)
    assert salt.counted_as == "iba"
    assert salt.millimolar == pytest.approx(4.920, abs=5e-4)
    plain = weigh_hormone(compound="K-IBA", wanted_ppm=1000, finished_ml=1000, counted_as="k-iba")
    assert plain.grams == pytest.approx(1.0)
    acid = weigh_hormone(compound="iba", wanted_ppm=3000, finished_ml=250)
    assert acid.grams == pytest.approx(0.75)
    assert acid.warnings == (DipWarning.NOT_SOLUBLE_IN_WATER,)


def test_one_acid_is_not_counted_as_another() -> None:
    with pytest.raises(BadMeasure):
        weigh_hormone(compound="k-iba", wanted_ppm=1000, finished_ml=1000, counted_as="naa")
    with pytest.raises(BadMeasure):
        weigh_hormone(compound="willow water", wanted_ppm=1000, finished_ml=1000)


def test_talc_for_a_tray() -> None:
    # One 0.8 % talc label (docslib.org/doc/8324759): 8 oz, 226.8 g, treats at least 17,500 cuttings
    assert talc_for(17_500).grams == pytest.approx(226.8, rel=0.01)
    assert talc_for(72).grams == pytest.approx(0.94, abs=0.01)
    with pytest.raises(BadMeasure):
        talc_for(0)


def test_spans_of_strength_have_their_source() -> None:
    # FAO AD224E: soak at 20 to 200 ppm for about 24 h, quick dip at 500 to 10,000 ppm for 4 to 5 s
    assert [one.name for one in usual_methods(100)] == ["soak"]
    assert [one.name for one in usual_methods(3000)] == ["quick dip"]
    assert usual_methods(300) == ()
    semi = usual_strength("semi-hardwood")
    assert semi is not None
    assert (semi.ppm_least, semi.ppm_most) == (1000, 3000)  # Hartmann & Kester (from memory)
    assert usual_strength("driftwood") is None


def test_alcohol_is_filled_up_to_the_mark() -> None:
    # C1 V1 = C2 V2 by volume: 70 of 91 parts; 70 to 90 % is the span of Swiecki & Bernhardt s. 2.3
    mixed = dilute_alcohol(stock_percent=91, wanted_percent=70, finished_ml=1000)
    assert mixed.stock.ml == pytest.approx(769.2, abs=0.05)
    assert mixed.warnings == (DipWarning.FILL_TO_THE_MARK,)
    assert mixed.caution == "alcohol_flame"
    weak = dilute_alcohol(stock_percent=70, wanted_percent=50, finished_ml=500)
    assert DipWarning.WEAKER_THAN_USUAL in weak.warnings
    neat = dilute_alcohol(stock_percent=70, wanted_percent=70, finished_ml=500)
    assert neat.thinner is None
    assert neat.warnings == (DipWarning.AS_IT_COMES,)


@pytest.mark.parametrize(
    "impossible",
    [
        lambda: dilute_hormone(stock_ppm=1000, wanted_ppm=3000, finished_ml=100),
        lambda: dilute_hormone(stock_ppm=1000, wanted_ppm=0, finished_ml=100),
        lambda: dilute_hormone(stock_ppm=1000, wanted_ppm=100, finished_ml=-1),
        lambda: dilute_alcohol(stock_percent=191, wanted_percent=70, finished_ml=100),
        lambda: dilute_alcohol(stock_percent=70, wanted_percent=91, finished_ml=100),
        lambda: parts_of_concentrate(stock_ppm=1000, concentrate_parts=0, thinner_parts=9),
    ],
)
def test_what_cannot_be_thinned_is_refused(impossible: object) -> None:
    with pytest.raises(BadMeasure):
        impossible()  # type: ignore[operator]


def test_a_drop_too_small_to_pour_is_said() -> None:
    mixed = dilute_hormone(stock_ppm=10_000, wanted_ppm=1, finished_ml=100)
    assert DipWarning.TOO_SMALL_TO_POUR in mixed.warnings


@given(
    st.floats(min_value=10, max_value=50_000),
    st.floats(min_value=0.001, max_value=0.999),
    st.floats(min_value=10, max_value=20_000),
)
def test_thinning_keeps_what_is_dissolved(stock_ppm: float, share: float, finished_ml: float) -> None:
    mixed = dilute_hormone(stock_ppm=stock_ppm, wanted_ppm=stock_ppm * share, finished_ml=finished_ml)
    assert mixed.thinner is not None
    assert mixed.stock.ml * stock_ppm == pytest.approx(finished_ml * stock_ppm * share)
    assert mixed.stock.ml + mixed.thinner.ml == pytest.approx(finished_ml)


@given(st.floats(min_value=1, max_value=20_000), st.floats(min_value=50, max_value=500))
def test_millimolar_goes_there_and_back(ppm: float, molar_mass: float) -> None:
    assert ppm_from_millimolar(millimolar_from_ppm(ppm, molar_mass), molar_mass) == pytest.approx(ppm)
