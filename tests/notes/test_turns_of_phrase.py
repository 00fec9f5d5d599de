"""The file of turns of phrase is sound: what is told again in the plain words is named in each of the ways."""

from __future__ import annotations

import re

import pytest

from core.vocabulary import words
from core.vocabulary.loading import read_toml

_TURNS = read_toml("turns_of_phrase.toml")["turn"]
_NAMED = re.compile(r"<([a-z0-9]+)>")


@pytest.mark.parametrize(("said", "reads"), [(said, turn["reads"]) for turn in _TURNS for said in turn["says"]])
def test_each_way_names_what_the_plain_words_tell_again(said: str, reads: str) -> None:
    named = _NAMED.findall(said)
    assert set(_NAMED.findall(reads)) <= set(named)
    told = [name for name in named if name not in ("comma", "mark")]
    assert len(told) == len(set(told))
    assert said == said.casefold()


@pytest.mark.parametrize("reads", sorted({turn["reads"] for turn in _TURNS}))
def test_the_plain_words_hold_one_known_deed(reads: str) -> None:
    plain = [part.strip("{}") for part in re.findall(r"\{[^{}]*\}|[^<>{}\s]+(?![^<]*>)", reads)]
    assert all(part in words().phrases for part in plain)
    assert sum("act" in words().phrases[part] for part in plain) == 1
