"""Any text at all is read without an error, and no word of it is lost."""

from __future__ import annotations

import json
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tables_of_readings import readings

from core.notes import Reading, read
from core.notes.words.tokens import split_note

NOW = datetime(2026, 10, 5, 14, 20)  # noqa: DTZ001  local wall clock, as the reader takes it
NOTES = [reading["note"] for _, reading in readings()]
WORDS = [
    "lot",
    "tray",
    "lots",
    "trays",
    "14",
    "15",
    "3",
    "31/72",
    "30-40",
    "½",
    "3o",
    "rooted",
    "rotted",
    "lost",
    "misted",
    "watered",
    "potted",
    "stuck",
    "sowed",
    "dome",
    "lid",
    "off",
    "on",
    "back",
    "vents",
    "half",
    "shut",
    "for",
    "20",
    "min",
    "180f",
    '4"',
    "in",
    "6",
    "weeks",
    "a",
    "dozen",
    "all",
    "but",
    "none",
    "not",
    "should",
    "if",
    "heard",
    "ana",
    "by",
    "to",
    "from",
    "at",
    "tuesday",
    "3/5",
    "nov",
    "1",
    "9am",
    "toyon",
    "sage",
    "'low",
    "tide'",
    "perlite",
    "coir",
    "3:1",
    "bleach",
    "1:9",
    "gal",
    "iba",
    "3000",
    "ppm",
    "%",
    "?",
    "!",
    ",",
    ".",
    ":",
    ";",
    "-",
    "&",
    "and",
    "then",
    "remind",
    "me",
    "need",
    "how",
    "many",
    "when",
    "undo",
    "no",
    "wait",
    "make",
    "that",
    "split",
    "merged",
    "as",
    "into",
    "moved",
    "hold",
    "done",
    "later",
    "\n",
    "🌱",
    "#14",
    "26-031",
    "both",
    "some",
    "most",
]


@given(st.text(max_size=300))
@settings(max_examples=150, deadline=None)
def test_any_text_is_read(text: str) -> None:
    assert isinstance(read(text, NOW), Reading)


@given(st.lists(st.sampled_from(WORDS), max_size=14).map(" ".join))
@settings(max_examples=200, deadline=None)
def test_any_words_of_the_bench_are_read(text: str) -> None:
    reading = read(text, NOW)
    json.dumps(reading.as_keys())
    assert bool(reading.entries) == any(token.kind != "line" for token in split_note(text))


@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=8), st.integers(0, 8))
@settings(max_examples=200, deadline=None)
def test_an_unknown_word_is_kept(words: list[str], place: int) -> None:
    told = [*words[:place], "zzyzzx", *words[place:]]
    kept = json.dumps(read(" ".join(told), NOW).as_keys())
    assert "zzyzzx" in kept


@given(st.sampled_from(NOTES), st.sampled_from([",", ", ,", ",;", ":", "?", "and", "three:", "\n,"]), st.data())
@settings(max_examples=400, deadline=None)
def test_a_note_cut_and_marked_anywhere_is_read(note: str, mark: str, data: st.DataObject) -> None:
    words = note.split(" ")
    place = data.draw(st.integers(0, len(words)))
    cut = data.draw(st.sampled_from(["whole", "cut", "turned"]))
    after = {"whole": words[place:], "cut": [], "turned": list(reversed(words[place:]))}[cut]
    json.dumps(read(" ".join([*words[:place], mark, *after]), NOW).as_keys())


@pytest.mark.parametrize(
    "text",
    [
        "a" * 4096, "1 " * 2048, "lots 1, 2, 3, " * 300, "9" * 4096, "\x00\x07\u202e", "'; DROP TABLE entries; --",
        "<b>lot 14</b>", "9999-12-31", "lot 0", "lot 14 0 rooted", "-5 rooted in lot 14", "lot 14 99999999999 rooted",
        "31/0 rooted", "0/0", "🌱" * 500, "\n" * 100, "misted tray 3 on 31 dec 9999",
    ],
)  # fmt: skip
def test_odd_texts_are_read(text: str) -> None:
    for entry in read(text, NOW).entries:
        assert entry.as_keys()
