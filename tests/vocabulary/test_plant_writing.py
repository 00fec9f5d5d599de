"""Names are written by the codes: ICN (Shenzhen 2018) art. 20.1 and 60F.1, ICNCP (9th ed., 2016) art. 14 and 21.3.

The examples of form are those of the codes' rules from memory; the plants and cultivars are our own invention.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.vocabulary.plant_writing import written
from core.vocabulary.plants import listed

SPECIES = [plant.botanical for plant in listed() if " " in plant.botanical]


@pytest.mark.parametrize(
    ("texted", "said"),
    [
        ("stuck 40 ribes sanguineum heel cuttings", "stuck 40 Ribes sanguineum heel cuttings"),
        ("baccharis pilularis 'tern ledge'", "Baccharis pilularis 'Tern Ledge'"),
        ("30 wild lilac 'gravel bar' tips", "30 wild lilac 'Gravel Bar' tips"),
        ('"salvia clevelandii \'edge of the fog-bank\'"', "\"Salvia clevelandii 'Edge of the Fog-bank'\""),
        ("arctostaphylos uva-ursi", "Arctostaphylos uva-ursi"),
    ],
)
def test_a_genus_gets_its_capital_and_a_cultivar_its_own(texted: str, said: str) -> None:
    assert written(texted) == said


@pytest.mark.parametrize(
    "text",
    ["40 coyote brush tips", "salvia: 3 lots", "kit's note 'sun'", "saw 'em by the sage 'em", "the sage 'n' the bay"],
)
def test_what_is_no_botanical_name_stays_as_it_was(text: str) -> None:
    assert written(text) == text


@given(st.sampled_from(SPECIES), st.sampled_from(["lot 14: {} rooted", "{}", "potted 3 {} into 4 in"]))
def test_every_listed_species_is_written_as_it_is_listed(name: str, around: str) -> None:
    assert written(around.format(name.lower())) == around.format(name)


@given(st.text(max_size=60))
def test_only_capitals_change(text: str) -> None:
    assert written(text).casefold() == text.casefold()
