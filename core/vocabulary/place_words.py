"""Which places does any nursery have: benches, houses and rooms by their common names."""

from __future__ import annotations

from functools import cache

from core.vocabulary.loading import read_toml


@cache
def places_of_a_nursery() -> frozenset[str]:
    """`greenhouse`, `mist bench`, `cold frame`: common names of places, in lower case."""
    return frozenset(read_toml("values.toml")["place_word"]["place"])
