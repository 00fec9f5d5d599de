"""The little words that lead to where an act goes (`to the lath`, `at gull point`), by act."""

from __future__ import annotations

from typing import Final

from core.vocabulary.loading import read_toml

PLACE_LEADS: Final[dict[str, frozenset[str]]] = {
    act: frozenset(leads) for act, leads in read_toml("small_words.toml")["place_leads"].items()
}
