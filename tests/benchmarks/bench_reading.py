"""How long does reading take, beside dateparser's search over the same notes in the same run?

Not a test: run it by hand.

python tests/benchmarks/bench_reading.py
"""

from __future__ import annotations

import sys
import time
import tracemalloc
from datetime import datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
from dateparser.search import search_dates

from core.notes import read
from tests.notes.tables_of_readings import readings


def main() -> None:
    notes = [(line["note"], datetime.fromisoformat(line["now"])) for _, line in readings()][::8]
    for note, now in notes:
        read(note, now)
        search_dates(note, languages=["en"])
    start = time.perf_counter()
    for note, now in notes:
        read(note, now)
    ours = time.perf_counter() - start
    start = time.perf_counter()
    for note, _ in notes:
        search_dates(note, languages=["en"])
    theirs = time.perf_counter() - start
    print(
        f"{len(notes)} notes: reading {ours / len(notes) * 1e3:.3f} ms a note, "
        f"search_dates {theirs / len(notes) * 1e3:.3f}, ratio {ours / theirs:.2f}"
    )
    ordinary = min(
        _each_letter(note, now) for note, now in [("lot 14 31/72 rooted, misted, dome back on", notes[0][1])] * 20
    )
    long_note = ("lot 14 31/72 rooted, misted, dome back on\n" * 100)[:4096]
    long_cost = min(_each_letter(long_note, notes[0][1]) for _ in range(3))
    print(f"a note of 4,096 characters costs {long_cost / ordinary:.2f} of an ordinary one, by the character")
    tracemalloc.start()
    for number in range(20_000):
        read(f"lot {number} {number % 70}/72 rooted zq{number}", notes[0][1])
        if number == 5_000:
            before = tracemalloc.get_traced_memory()[0]
    grown = tracemalloc.get_traced_memory()[0] - before
    print(f"memory grown over 15,000 different notes: {grown / 1024:.0f} KiB")


def _each_letter(note: str, now: datetime) -> float:
    start = time.perf_counter()
    read(note, now)
    return (time.perf_counter() - start) / len(note)


if __name__ == "__main__":
    main()
