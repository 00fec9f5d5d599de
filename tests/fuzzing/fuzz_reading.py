"""Throws bytes at the reader and watches that it never raises: `python tests/fuzzing/fuzz_reading.py -max_total_time=60`.

Half of the notes are free text, half are strung together from the words of the vocabulary, so that the fuzzer reaches past
the first unknown word. Wants the extra `fuzz` (atheris). A note that breaks the reader is printed by the fuzzer and kept as
a file; it becomes a line of `tests/readings`.
"""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path

import atheris

sys.path.insert(0, str(Path(__file__).parents[2]))
with atheris.instrument_imports(include=["core.notes"]):
    from core.entries import Entry
    from core.notes import read, say_back
from core.vocabulary import words

NOW = datetime.fromisoformat("2026-03-02T09:10")
PHRASES = sorted(words().phrases)
GLUE = (" ", " ", " ", ", ", ". ", "\n", ": ", " - ", "/", "", " 14 ", " 31/72 ", " lot 14 ", " tray 3 ", " 5 ", "?", " and ")


def note_of(data: bytes) -> str:
    """The note that some bytes stand for."""
    source = atheris.FuzzedDataProvider(data)
    if source.ConsumeBool():
        return str(source.ConsumeUnicodeNoSurrogates(4096))
    parts = []
    while source.remaining_bytes() > 3 and len(parts) < 80:
        parts.append(PHRASES[source.ConsumeIntInRange(0, len(PHRASES) - 1)])
        parts.append(GLUE[source.ConsumeIntInRange(0, len(GLUE) - 1)])
    return "".join(parts)


def read_once(data: bytes) -> None:
    """Reads a note, writes its entries as keys and back, and says them back: none of it may raise."""
    for entry in read(note_of(data), NOW).entries:
        if Entry.from_keys(entry.as_keys()) != entry:
            raise AssertionError(entry)
        say_back(entry)


if __name__ == "__main__":
    atheris.Setup(sys.argv, read_once)
    atheris.Fuzz()
