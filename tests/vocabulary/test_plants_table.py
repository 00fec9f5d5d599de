"""Is the table of plant names readable, consistent, and honest about names that several plants share?

Rules
1. A name of several plants is listed in double_plant_names.csv beside this file: who makes a name double, adds it there
   and so sees that the bot will ask about it from then on.
2. Families and accepted names follow current floras, from memory; the checks of form need no source.
"""

from __future__ import annotations

import csv
import re
from collections import Counter, defaultdict
from pathlib import Path

import pytest

VOCABULARY = Path(__file__).parents[2] / "core" / "vocabulary"
BOTANICAL = re.compile(r"[A-Z][a-z]+( (× )?[a-z]{2}[a-z-]*( (subsp\.|var\.) [a-z-]+)?)?")
CULTIVAR_QUOTE = re.compile(r"(^|\s)['‘\"]")


def read_rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def split_names(cell: str) -> list[str]:
    return cell.split(";") if cell else []


PLANTS = read_rows(VOCABULARY / "plants.csv")
SLIPS = read_rows(VOCABULARY / "plant_misspellings.csv")
DOUBLE = read_rows(Path(__file__).parent / "double_plant_names.csv")


def collect_meanings() -> dict[str, set[str]]:
    """Every name that can be texted, with the plants that bear it."""
    meanings: dict[str, set[str]] = defaultdict(set)
    for row in PLANTS:
        for name in [row["botanical"].lower(), *split_names(row["common"]), *split_names(row["synonyms"])]:
            meanings[name].add(row["botanical"])
    return meanings


MEANINGS = collect_meanings()


@pytest.mark.parametrize("name", ["plants.csv", "plant_misspellings.csv"])
def test_the_file_says_how_to_edit_it(name: str) -> None:
    lines = (VOCABULARY / name).read_text(encoding="utf-8").splitlines()
    heading = [line for line in lines if line.startswith("#")]
    assert lines[: len(heading)] == heading, "remarks stand at the top"
    assert "add" in " ".join(heading)


def test_the_columns_are_the_ones_the_reader_knows() -> None:
    assert list(PLANTS[0]) == ["botanical", "family", "common", "synonyms"]
    assert list(SLIPS[0]) == ["texted", "meant", "sure"]
    assert all(None not in row and None not in row.values() for row in [*PLANTS, *SLIPS])


def test_there_are_enough_species() -> None:
    species = [row["botanical"] for row in PLANTS if " " in row["botanical"]]
    assert len(species) >= 350


def test_names_are_written_as_the_codes_of_nomenclature_ask() -> None:
    """ICN: genus capitalised, epithet lower case; a hybrid's sign stands before its epithet."""
    assert [row["botanical"] for row in PLANTS if not BOTANICAL.fullmatch(row["botanical"])] == []


def test_no_plant_stands_twice() -> None:
    assert [name for name, times in Counter(row["botanical"] for row in PLANTS).items() if times > 1] == []


def test_families_have_their_regular_ending() -> None:
    """ICN Art. 18: -aceae. The eight conserved older names (Compositae, Gramineae …) are not used."""
    assert [row for row in PLANTS if not re.fullmatch(r"[A-Z][a-z]+aceae", row["family"])] == []


def test_every_genus_has_its_own_row_with_one_family() -> None:
    families: dict[str, set[str]] = defaultdict(set)
    for row in PLANTS:
        families[row["botanical"].split()[0]].add(row["family"])
    rows = {row["botanical"] for row in PLANTS}
    assert sorted(set(families) - rows) == []
    assert {genus: found for genus, found in families.items() if len(found) > 1} == {}


def test_a_genus_can_be_called_by_its_own_name() -> None:
    missing = [
        row["botanical"]
        for row in PLANTS
        if " " not in row["botanical"] and row["botanical"].lower() not in split_names(row["common"])
    ]
    assert missing == []


def test_every_species_can_be_called_by_a_common_name() -> None:
    assert [row["botanical"] for row in PLANTS if not row["common"]] == []


def test_texted_names_are_lower_case_and_clean() -> None:
    bad = [
        (row["botanical"], name)
        for row in PLANTS
        for name in split_names(row["common"]) + split_names(row["synonyms"])
        if name != " ".join(name.lower().split()) or "," in name or not name[:1].isalpha()
    ]
    assert bad == []


def test_no_row_says_a_name_twice() -> None:
    twice = [
        row["botanical"]
        for row in PLANTS
        if max(Counter(split_names(row["common"]) + split_names(row["synonyms"])).values()) > 1
    ]
    assert twice == []


def test_there_are_no_cultivars() -> None:
    cells = [row[column] for row in PLANTS for column in ("botanical", "common", "synonyms")]
    assert [cell for cell in cells for name in split_names(cell) if CULTIVAR_QUOTE.search(name)] == []


def test_names_of_several_plants_are_the_listed_ones() -> None:
    found = {name: plants for name, plants in MEANINGS.items() if len(plants) > 1}
    assert found == {row["name"]: set(row["plants"].split(";")) for row in DOUBLE}


def test_no_synonym_is_another_plants_accepted_name() -> None:
    """A genus split in two is the one exception: Rhamnus is still a genus, and was coffeeberry's."""
    accepted = {row["botanical"].lower() for row in PLANTS}
    clash = {name for row in PLANTS for name in split_names(row["synonyms"]) if name in accepted}
    assert clash == {"rhamnus"}


@pytest.mark.parametrize(
    ("texted", "botanical"),
    [  # accepted names after Jepson eFlora and POWO, from memory
        ("coyote bush", "Baccharis pilularis"),
        ("christmas berry", "Heteromeles arbutifolia"),
        ("deer grass", "Muhlenbergia rigens"),
        ("deer weed", "Acmispon glaber"),
        ("sandmat manzanita", "Arctostaphylos pumila"),
        ("woolly sunflower", "Eriophyllum lanatum"),
        ("rhamnus californica", "Frangula californica"),
        ("zauschneria californica", "Epilobium canum"),
        ("mimulus aurantiacus", "Diplacus aurantiacus"),
        ("nassella pulchra", "Stipa pulchra"),
        ("mahonia aquifolium", "Berberis aquifolium"),
        ("rosmarinus officinalis", "Salvia rosmarinus"),
        ("cornus stolonifera", "Cornus sericea"),
        ("lotus scoparius", "Acmispon glaber"),
        ("aster chilensis", "Symphyotrichum chilense"),
        ("sage", "Salvia"),
        ("manzanita", "Arctostaphylos"),
        ("wild lilac", "Ceanothus"),
        ("rush", "Juncus"),
        ("lupine", "Lupinus"),
    ],
)
def test_a_texted_name_leads_to_its_plant(texted: str, botanical: str) -> None:
    assert MEANINGS[texted] == {botanical}


def test_misspellings_lead_to_known_names() -> None:
    assert len(SLIPS) >= 80
    assert [row for row in SLIPS if row["meant"] not in MEANINGS] == []


def test_a_right_name_is_never_called_a_misspelling() -> None:
    assert [row["texted"] for row in SLIPS if row["texted"] in MEANINGS] == []


def test_a_misspelling_has_one_meaning_and_says_whether_it_is_sure() -> None:
    assert [texted for texted, times in Counter(row["texted"] for row in SLIPS).items() if times > 1] == []
    assert {row["sure"] for row in SLIPS} == {"yes", "ask"}


def test_everyday_words_are_asked_about_not_replaced() -> None:
    sure = {row["texted"]: row["sure"] for row in SLIPS}
    assert {word: sure[word] for word in ("carrot", "current", "salad", "ribs", "toyota", "arrow")} == dict.fromkeys(
        ("carrot", "current", "salad", "ribs", "toyota", "arrow"), "ask"
    )
