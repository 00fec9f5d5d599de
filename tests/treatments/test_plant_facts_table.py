"""Does every plant fact say where it comes from, and does no published figure fall outside ours?

Rules
1. The two published tables hold figures that were seen on the page each citation names;
   ours may be wider, never narrower.
2. Conversions are checked against figures that a source prints in both units.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from pathlib import Path

import pytest

TESTS = Path(__file__).parents[1]
CORE = TESTS.parent / "core"
UNITS = {
    "first_root_check": "days",
    "weeks_to_root": "weeks",
    "weaning_start": "days",
    "hormone": "ppm",
    "medium": "",
    "wood": "",
    "cutting_season": "month",
    "rooting_share": "share",
    "pretreatment": "celsius",
    "warm_days": "days",
    "cold_days": "days",
    "cold_celsius": "celsius",
    "germination_days": "days",
    "germination_share": "share",
    "seeds_per_gram": "per gram",
    "shade_days": "days",
    "watering": "",
}
WORDY = {"medium", "wood", "pretreatment", "watering"}
BY_WOOD = {"first_root_check", "weeks_to_root", "weaning_start", "cutting_season"}
WOODS = {"softwood", "greenwood", "semi-hardwood", "hardwood"}
FORMS = {"powder", "liquid", "gel", "none"}
TREATMENTS = {"none", "soak", "hot_water", "scarify", "acid", "smoke", "heat", "rinse"}
MEDIUM = re.compile(r"[a-z ]+(\+[a-z ]+)*( \d+(:\d+)+)?")
PUBLISHED_COLUMNS = {
    "warm": "warm_days",
    "cold": "cold_days",
    "celsius": "cold_celsius",
    "seeds": "seeds_per_gram",
    "germination": "germination_share",
    "days": "germination_days",
}


def read_rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


FACTS = read_rows(CORE / "treatments" / "plants.csv")
SEEDS = read_rows(TESTS / "published" / "seed_treatments.csv")
ROOTING = read_rows(TESTS / "published" / "rooting.csv")
SPANS = {
    (row["plant"], row["fact"], row["words"] if row["fact"] in BY_WOOD | {"hormone"} else ""): (
        float(row["low"]),
        float(row["high"]),
    )
    for row in FACTS
    if row["low"]
}


def list_published_seed_figures() -> list[tuple[str, str, float, float]]:
    return [
        (row["taxon"], fact, float(row[f"{column}_low"]), float(row[f"{column}_high"]))
        for row in SEEDS
        for column, fact in PUBLISHED_COLUMNS.items()
        if row[f"{column}_low"]
    ]


def test_the_file_says_how_to_edit_it() -> None:
    lines = (CORE / "treatments" / "plants.csv").read_text(encoding="utf-8").splitlines()
    heading = " ".join(line for line in lines if line.startswith("#"))
    assert "To change a number" in heading
    assert "To add a plant" in heading
    assert all(fact in heading for fact in UNITS)


def test_the_columns_are_the_ones_the_loader_knows() -> None:
    assert list(FACTS[0]) == ["plant", "fact", "low", "high", "unit", "words", "source", "how_known"]
    assert all(None not in row and None not in row.values() for row in FACTS)


def test_every_fact_has_a_source_and_says_how_it_is_known() -> None:
    assert [row for row in FACTS if not row["source"].strip()] == []
    assert {row["how_known"] for row in FACTS} == {"published", "common practice", "from memory"}


def test_facts_and_units_are_the_fixed_ones() -> None:
    assert {row["fact"] for row in FACTS} == set(UNITS)
    assert [row for row in FACTS if row["unit"] != (UNITS[row["fact"]] if row["low"] else "")] == []


def test_numbers_are_ranges_that_can_be() -> None:
    for row in FACTS:
        assert bool(row["low"]) == bool(row["high"]), row
        if not row["low"]:
            assert row["fact"] in WORDY, row
            continue
        low, high = float(row["low"]), float(row["high"])
        assert low <= high, row
        most = {"share": 1, "month": 24, "celsius": 100, "ppm": 20_000, "weeks": 52, "days": 365}.get(row["unit"])
        assert low >= (1 if row["unit"] == "month" else 0), row
        assert most is None or high <= most, row
        if row["fact"] == "cutting_season":
            assert low <= 12, row
            assert high - low < 12, row


def test_words_are_of_the_fixed_lists() -> None:
    for row in FACTS:
        words = row["words"]
        match row["fact"]:
            case "first_root_check" | "weeks_to_root" | "weaning_start" | "cutting_season":
                assert words in WOODS | {""}, row
            case "hormone":
                form, *wood = words.split()
                assert form in FORMS, row
                assert set(wood) <= WOODS, row
                assert (form == "none") == (float(row["high"]) == 0), row
            case "wood":
                assert words in WOODS, row
            case "watering":
                assert words in {"dry", "medium", "moist"}, row
            case "medium":
                assert MEDIUM.fullmatch(words), row
            case "pretreatment":
                treatment, colon, how = words.partition(": ")
                assert treatment in TREATMENTS, row
                assert colon, row
                assert how, row


def test_no_fact_is_said_twice() -> None:
    keys = Counter(
        (row["plant"], row["fact"], row["words"] if row["fact"] in BY_WOOD | {"hormone"} else "") for row in FACTS
    )
    assert [key for key, times in keys.items() if times > 1] == []


def test_every_plant_is_in_the_plant_names() -> None:
    names = {row["botanical"] for row in read_rows(CORE / "vocabulary" / "plants.csv")}
    assert {row["plant"] for row in FACTS} - names == {"default"}


def test_at_least_sixty_genera_have_facts() -> None:
    genera = {row["plant"].split()[0] for row in FACTS} - {"default"}
    rich = [genus for genus in genera if sum(row["plant"] == genus for row in FACTS) >= 4]
    assert len(genera) >= 60
    assert len(rich) >= 60


@pytest.mark.parametrize(
    ("fact", "words", "low"),
    [  # common practice: what any cutting gets whose plant has no line of its own
        ("first_root_check", "softwood", 21),
        ("first_root_check", "semi-hardwood", 35),
        ("first_root_check", "hardwood", 56),
        ("weaning_start", "", 14),
        ("shade_days", "", 10),
    ],
)
def test_the_default_serves_any_plant(fact: str, words: str, low: float) -> None:
    assert SPANS["default", fact, words][0] == low


def test_the_default_has_what_a_reminder_needs() -> None:
    facts = {row["fact"] for row in FACTS if row["plant"] == "default"}
    assert {"first_root_check", "weaning_start", "shade_days", "germination_days", "hormone", "medium"} <= facts


@pytest.mark.parametrize(("taxon", "fact", "low", "high"), list_published_seed_figures())
def test_published_seed_figures_lie_within_ours(taxon: str, fact: str, low: float, high: float) -> None:
    ours = SPANS[taxon, fact, ""]
    assert ours[0] <= low <= high <= ours[1]


@pytest.mark.parametrize("row", [row for row in ROOTING if row["low"]], ids=lambda row: f"{row['taxon']} {row['fact']}")
def test_published_rooting_figures_lie_within_ours(row: dict[str, str]) -> None:
    words = row["words"] if row["fact"] in BY_WOOD | {"hormone"} else ""
    ours = SPANS[row["taxon"], row["fact"], words]
    assert ours[0] <= float(row["low"]) <= float(row["high"]) <= ours[1]


def test_there_are_published_figures_enough_to_mean_something() -> None:
    assert len(SEEDS) >= 40
    assert len(list_published_seed_figures()) >= 70
    assert all(row["citation"].strip() for row in [*SEEDS, *ROOTING])


@pytest.mark.parametrize(("taxon", "fact", "low", "high"), list_published_seed_figures())
def test_a_genus_line_does_not_contradict_its_published_species(taxon: str, fact: str, low: float, high: float) -> None:
    """Days of cold and warmth: what is published of a species overlaps what we say of its genus."""
    genus = SPANS.get((taxon.split()[0], fact, ""))
    if fact in {"cold_days", "warm_days"} and genus is not None:
        assert genus[0] <= high
        assert low <= genus[1]


def test_pounds_and_grams_agree() -> None:
    """Ceanothus sanguineus is printed as 128,000 to 132,000 a pound and 282,185 to 291,005 a kilogram (NPN
    rhamnaceae-ceanothus-2907); Cornus sericea as 40,700 a kilogram (NPN cornaceae-cornus-62)."""
    low, high = SPANS["Ceanothus sanguineus", "seeds_per_gram", ""]
    assert low == pytest.approx(128_000 / 453.59237, rel=1e-3)
    assert high >= 132_000 / 453.59237
    assert SPANS["Cornus sericea", "seeds_per_gram", ""][0] == pytest.approx(40.7)


@pytest.mark.parametrize(
    ("taxon", "seeds_per_pound"),
    [  # as printed on the page that the row names
        ("Eschscholzia californica", 293_000),
        ("Elymus glaucus", 120_000),
        ("Hordeum brachyantherum", 60_000),
        ("Erythranthe guttata", 45_360_000),
        ("Ribes triste", 215_000),
        ("Artemisia suksdorfii", 2_300_000),
        ("Alnus incana", 720_000),
        ("Holodiscus discolor", 5_000_000),
    ],
)
def test_seeds_per_gram_are_what_the_pound_says(taxon: str, seeds_per_pound: int) -> None:
    low, high = SPANS[taxon, "seeds_per_gram", ""]
    assert low == high == pytest.approx(seeds_per_pound / 453.59237, rel=1e-3)


def test_acid_is_left_to_trained_people() -> None:
    """A crew bot gives no strength and no time for acid, whatever the handbooks print."""
    acid = [row["words"] for row in FACTS if row["words"].startswith("acid")]
    assert acid
    assert all("trained people only" in words for words in acid)
    assert [words for words in acid if re.search(r"\d+ ?(min|%|ppm)", words)] == []
