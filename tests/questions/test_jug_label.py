"""Which words tell what the bleach jug says, in percent; common practice of what crews text."""

from __future__ import annotations

import pytest

from core.entries import Act, Entry
from core.questions.jug import strength_in, strength_told


@pytest.mark.parametrize(
    ("text", "percent"),
    [
        ("jug is 6%", 6), ("the bottle says 7.5", 7.5), ("bottle label says 6", 6), ("label: 8.25", 8.25),
        ("fed the gals, bleach jug is 6", 6), ("label says 7.5, fed lot 2 too", 7.5), ("jug's 6% and i fed lot 2", 6),
        ("bleach bottle says 2.5", 2.5), ("bleach label says 8.25% now, mixed fresh", 8.25), ("the new jug is 7.5 percent", 7.5), ("jug's 6%", 6), ("jug says 8.25 so i used less", 8.25),
    ],
)  # fmt: skip
def test_the_jugs_strength_is_read(text: str, percent: float) -> None:
    assert strength_told(text) == percent


@pytest.mark.parametrize(
    "text",
    [
        "label for lot 1", "label 12 pots", "label tray 12", "label says lot 4", "bottle 3 in tray 4", "labels are 2 short",
        "fish emulsion 5 gal, label says 2 tbsp per gal", "label says 12 g per gallon pot", "bottle says 5 drops", "label says 4 to 6",
        "label says 5% iba", "label says 1%", "peroxide bottle says 3%", "mixed bleach, iba bottle is 1%", "label: 5% nitrogen", "label says 4,5 and 6",
        "jug is 2 years old", "bottle is 3 for 2", "jug says 60%",
    ],
)  # fmt: skip
def test_other_numbers_beside_a_jug_or_a_label_tell_no_strength(text: str) -> None:
    assert strength_told(text) is None


def test_the_label_of_what_the_rest_of_the_note_names_tells_no_strength() -> None:
    assert strength_told("label says 5", "fed the gals with fish emulsion, label says 5") is None
    assert strength_told("label says 5", "mixed bleach, label says 5") == 5


@pytest.mark.parametrize(
    ("mix", "percent"),
    [
        (Entry(act=Act.MIX, solution="bleach", parts=(1, 9), rest="jug 6%"), 6),
        (Entry(act=Act.MIX, solution="bleach", parts=(1, 9), share=0.0825), 8.25),
        (Entry(act=Act.MIX, solution="bleach", parts=(1, 9), share=0.1), None),
        (Entry(act=Act.MIX, solution="bleach", parts=(1, 10), share=0.1), None),
        (Entry(act=Act.MIX, solution="bleach", parts=(1, 9), share=0.005), None),
        (Entry(act=Act.MIX, solution="bleach", share=0.06), None),
        (Entry(act=Act.MIX, solution="fertilizer", parts=(1, 9), rest="jug 6%"), None),
        (Entry(act=Act.SANITIZE, solution="bleach", things=("pots",), rest="jug is 6%"), 6),
    ],
)  # fmt: skip
def test_what_a_mix_was_made_from_tells_the_jug_and_the_share_of_its_parts_does_not(
    mix: Entry, percent: float | None
) -> None:
    assert strength_in(mix) == percent
