"""How long do the answers that rest on sums take, beside a plain SQL sum of the same rows in the same run?

1,000 lots and 100,000 entries on SQLite. Not a test: run it by hand; exits with 1 where an answer takes 20 times the sum
or more.

python tests/benchmarks/bench_answers.py
"""

from __future__ import annotations

import random
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from functools import partial
from pathlib import Path
from zoneinfo import ZoneInfo

sys.path.insert(0, str(Path(__file__).parents[2]))

from sqlalchemy import insert, text

from core.entries import Act, Entry, SourceShare
from core.lots import Counted, Loss, Lot
from core.questions import answer_question
from core.storage import Store, open_store
from core.storage.tables import records

LOTS, ENTRIES, LIMIT, ROUNDS = 1_000, 100_000, 20.0, 7
NOW = datetime(2026, 11, 25, 17, 0, tzinfo=UTC)
PLANTS = ("coyote brush", "toyon", "coffeeberry", "salvia clevelandii", "california fuchsia", "yarrow", "manzanita",
          "ceanothus", "monkeyflower", "flannelbush")  # fmt: skip
QUESTIONS = (
    ("rates", Entry(act=Act.ASK, about="history", plant="coyote brush"), "how well does coyote brush root"),
    ("plan", Entry(act=Act.ASK, about="plan", plant="coyote brush", count=120, on=date(2027, 4, 17)),
     "how many coyote brush do i need to stick for 120 by 17 april"),
    ("forecast", Entry(act=Act.ASK, about="forecast", plant="coyote brush", count=120, on=date(2027, 4, 17)),
     "will we have 120 coyote brush on 17 april"),
    ("compare", Entry(act=Act.ASK, about="compare", plant="coyote brush", cutting=("heel", "tip")),
     "is heel or tip better for coyote brush"),
)  # fmt: skip


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        store = open_store(f"sqlite:///{folder}/bench.db")
        crew = store.found_crew("Plover Landing", ZoneInfo("America/Los_Angeles"), "sesame").number
        fill(store, crew)
        with store.books(crew) as books:
            connection = books._connection
            plain = timed(lambda: connection.execute(SUM, {"crew": crew}).fetchall())
            print(f"plain SQL sum of {ENTRIES:,} entries by lot: {plain * 1000:.1f} ms")
            worst = 0.0
            for name, entry, words in QUESTIONS:
                taken = timed(partial(answer_question, books, entry, NOW, words))
                worst = max(worst, taken / plain)
                print(f"{name:9} {taken * 1000:7.1f} ms, {taken / plain:5.2f} times the sum")
        store.close()
    print(f"worst {worst:.2f}, wanted under {LIMIT:g}")
    return 0 if worst < LIMIT else 1


SUM = text(
    "SELECT lot, SUM(json_extract(entry, '$.count')), COUNT(*) FROM record WHERE crew_id = :crew AND act IN "
    "('stick', 'check', 'lose', 'pot', 'sell') GROUP BY lot"
)


def timed(work: Callable[[], object]) -> float:
    """The median of some warm rounds, seconds."""
    work()
    taken = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return statistics.median(taken)


def fill(store: Store, crew: int) -> None:
    """Lots and entries of our own invention, drawn from a fixed seed."""
    chance = random.Random(5)
    acts = ("check", "lose", "pot", "water", "sell", "stick", "air", "move")
    with store.books(crew) as books:
        for number in range(LOTS):
            books.save_lot(one_lot(number, chance))
        rows = []
        for number in range(1, ENTRIES + 1):
            lot = number % LOTS
            act = chance.choice(acts)
            rows.append({
                "crew_id": crew, "number": number, "act": act, "lot": f"26-{lot + 1:03d}", "plant": PLANTS[lot % 10],
                "at": NOW - timedelta(minutes=number), "said_at": NOW, "done_by": "imke", "told_by": "imke",
                "said": "a note", "message_key": f"m{number}", "trays": [],
                "entry": {"act": act, "count": chance.randrange(1, 40)}, "stands": True, "taken_back": False,
            })  # fmt: skip
        for start in range(0, ENTRIES, 5_000):
            books._connection.execute(insert(records), rows[start : start + 5_000])


def one_lot(number: int, chance: random.Random) -> Lot:
    """A lot somewhere on its way from cutting to pot."""
    started = chance.choice((36, 48, 60, 72))
    days = chance.randrange(5, 250)
    opened = NOW - timedelta(days=days)
    rooted = min(int(started * chance.betavariate(6, 4)), started - 2) if days > 40 else None
    lost = min(chance.randrange(0, 8), started - (rooted or 0))
    potted = (rooted or 0) if days > 80 and chance.random() < 0.6 else 0
    counts = ()
    if rooted is not None:
        at = opened + timedelta(days=min(days, chance.randrange(40, 80)))
        counts = (Counted(state="rooted", count=rooted, of=started, share=None, at=at, by="imke"),)
    return Lot(
        number=f"26-{number + 1:03d}", kind="cuttings", plant=PLANTS[number % 10], opened_at=opened, opened_by="imke",
        started=started, cutting=chance.choice(("heel", "tip")), rooted=rooted, potted=potted, counts=counts,
        losses=(Loss(cause="rot", count=lost),), living=started - lost, left=started - lost,
        sources=(SourceShare(source=f"m{number % 7}", count=started),), trays=(str(number),),
        potted_at=opened + timedelta(days=80) if potted else None, last_count_at=counts[0].at if counts else None,
        stage="potted" if potted else "rooted" if rooted else "stuck",
    )  # fmt: skip


if __name__ == "__main__":
    sys.exit(main())
