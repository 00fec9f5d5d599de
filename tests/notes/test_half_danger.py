"""Which words tell one half of a mixture that must never be made; common practice of what crews text."""

from __future__ import annotations

import pytest

from core.notes import half_danger


@pytest.mark.parametrize(
    ("note", "kind"),
    [
        ("added vinegar to get the scale off", "mixed_chemicals"),
        ("theres vinegar in that bucket too, ok?", "mixed_chemicals"),
        ("can i put a cup of white vinegar in it", "mixed_chemicals"),
        ("the bucket has ammonia in it", "mixed_chemicals"),
        ("put bleach in that bucket too", "mixed_chemicals"),
        ("added iso to that bucket", "mixed_chemicals"),
        ("smells strong, eyes stinging", "breathed"),
    ],
)
def test_one_half_is_heard(note: str, kind: str) -> None:
    half = half_danger(note)
    assert half is not None
    assert half.kind == kind


@pytest.mark.parametrize(
    "note",
    [
        "poured the vinegar out", "poured vinegar down the drain", "washed pots with vinegar", "added vinegar to the salad",
        "put the seeds in acid", "put acid fert on the blueberries", "added acid mix to tray 3", "mixed bleach 1:9",
        "added fertilizer to lot 3", "wiped snips with alcohol", "put 3 in the tub", "put vinegar on the list",
    ],
)  # fmt: skip
def test_what_went_elsewhere_is_no_half(note: str) -> None:
    assert half_danger(note) is None
