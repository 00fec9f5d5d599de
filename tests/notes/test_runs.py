"""A run of pieces is found where a phrase begins, as plain joining finds it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from core.notes.words.pieces import Piece
from core.notes.words.runs import Runs

_WORDS = st.sampled_from(["better", "than", "all", "but", "but the", "next", "to"])
_PHRASES = st.sets(st.lists(_WORDS, min_size=1, max_size=3).map(" ".join), max_size=6)


def _pieces(words: list[str]) -> list[Piece]:
    return [Piece("word", None, at, at + 1, word) for at, word in enumerate(words)]


def _longest(words: list[str], at: int, phrases: set[str]) -> int:
    ends = [end for end in range(at + 1, len(words) + 1) if " ".join(words[at:end]) in phrases]
    return max(ends, default=0)


@given(st.lists(_WORDS, max_size=8), _PHRASES)
def test_the_longest_phrase_that_begins_at_a_place_is_found(words: list[str], phrases: set[str]) -> None:
    runs, pieces = Runs(phrases), _pieces(words)
    assert [runs.end_at(pieces, at) for at in range(len(words))] == [
        _longest(words, at, phrases) for at in range(len(words))
    ]


@given(st.lists(_WORDS, max_size=8), _PHRASES)
def test_the_first_phrase_is_the_first_place_where_one_begins(words: list[str], phrases: set[str]) -> None:
    ends = [(at, _longest(words, at, phrases)) for at in range(len(words))]
    assert Runs(phrases).first_from(_pieces(words)) == next((found for found in ends if found[1]), None)
