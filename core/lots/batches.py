"""Which solutions stand mixed, how old are they, and what was put into them?

Rules
1. A batch begins with `mix` and ends with `pour_out` of its solution, or when the next batch of it is mixed.
2. Whether a batch is still good is decided by the crew's own rule and the product label; this page only knows its age.
3. Things put into a solution for a length ("clippers into the bleach for 10 min") are a soak; "bleached six packs" is
   over.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

from core.entries import Act, Amount, Hormone
from core.lengths import Length
from core.lots.phrases import phrases, says
from core.records import Record, in_order

_SOAKING: Final = ("soak", "hot_water")
_ENDS_SOAK: Final = frozenset({Act.TREAT, Act.SOW, Act.SANITIZE})


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """One mixing of a solution. `parts` as noted ((1, 9) is one of stock and nine of water), `share` where a
    percentage was.

    `poured_out_at` is when it was noted as poured out, `replaced_at` when the next was mixed; with neither it stands.
    `uses` counts what was disinfected with it since.
    """

    solution: str
    mixed_at: datetime
    by: str
    record: int
    parts: tuple[float, ...] = ()
    share: float | None = None
    volume: Amount | None = None
    hormone: Hormone | None = None
    poured_out_at: datetime | None = None
    replaced_at: datetime | None = None
    last_used_at: datetime | None = None
    uses: int = 0

    @property
    def stands(self) -> bool:
        return self.poured_out_at is None and self.replaced_at is None

    def age(self, now: datetime) -> timedelta:
        """How long ago it was mixed; up to when it was poured out or replaced, where it was."""
        return (self.poured_out_at or self.replaced_at or now) - self.mixed_at

    def strength(self, stock: float) -> float | None:
        """The share of active matter in the mix, from a stock of that share (0.0525 for a jug of 5.25 %); None: not
        noted."""
        if len(self.parts) == 2 and sum(self.parts) > 0:
            return stock * self.parts[0] / sum(self.parts)
        return self.share


@dataclass(frozen=True, slots=True, kw_only=True)
class Soak:
    """Something in a liquid for a length of time: since when, how long, and whether it is over. `lot` None: things."""

    began_at: datetime
    length: Length | None
    ends_at: datetime | None
    ended_at: datetime | None
    lot: str | None = None
    things: tuple[str, ...] = ()
    solution: str | None = None
    treatment: str | None = None
    by: str = ""


def fold_batches(records: Iterable[Record], now: datetime) -> tuple[Batch, ...]:
    """The batches of a crew's records (any order, any acts) up to `now`, oldest first."""
    batches: list[Batch] = []
    latest: dict[str, int] = {}
    for record in _once(records, now):
        entry = record.entry
        place = latest.get(entry.solution or "bleach")
        if entry.act is Act.MIX and entry.solution:
            if place is not None and batches[place].stands:
                batches[place] = replace(batches[place], replaced_at=record.at)
            latest[entry.solution] = len(batches)
            batches.append(_batch(record))
        elif place is None or not batches[place].stands:
            continue
        elif entry.act is Act.POUR_OUT and entry.solution:
            batches[place] = replace(batches[place], poured_out_at=record.at)
        elif entry.act is Act.SANITIZE and entry.solution:
            used = batches[place]
            batches[place] = replace(used, last_used_at=record.at, uses=used.uses + 1)
    return tuple(batches)


def still_good(batch: Batch, now: datetime, keeps: Length | None) -> bool | None:
    """True or False by the rule handed in (`keeps`, hours or days after mixing); None where there is no rule."""
    if not batch.stands:
        return False
    if keeps is None:
        return None
    return batch.age(now) < timedelta(days=keeps.day_count() - keeps.seconds // 86400, seconds=keeps.seconds)


def fold_soaks(records: Iterable[Record], now: datetime) -> tuple[Soak, ...]:
    """The soaks of a crew's records up to `now`, oldest first: seed by lot, and things put into a solution."""
    soaks: list[Soak] = []
    for record in _once(records, now, by_lot=True):
        entry = record.entry
        if entry.act in _ENDS_SOAK:
            for place, soak in enumerate(soaks):
                if soak.ended_at is None and _ends(record, soak):
                    soaks[place] = replace(soak, ended_at=record.at)
        starts = (entry.act is Act.SANITIZE and entry.duration is not None) or (
            entry.act is Act.TREAT and entry.treatment in _SOAKING and not entry.ends
        )
        if starts and not soak_is_over(record):
            soaks.append(_soak(record))
    return tuple(soaks)


def soak_is_over(record: Record) -> bool:
    """True where a soak was over when its note was written, by its words or its times; False where it has just
    begun."""
    entry = record.entry
    if entry.ends:
        return True
    if entry.duration is not None and _end(record.at, entry.duration) <= record.said_at:
        return True
    words = phrases()
    if says(record.said, words.soak_going_on):
        return False
    if says(record.said, words.soak_over):
        return True
    # "bleached six packs 10 min" is work done; seed "24 h in water" without a word for it has only been put in.
    return entry.act is Act.SANITIZE and not says(record.said, words.soak_begun)


def _ends(record: Record, soak: Soak) -> bool:
    if soak.lot is not None:
        return record.lot == soak.lot and record.at >= soak.began_at
    return record.lot is None and record.entry.act is Act.SANITIZE


def _soak(record: Record) -> Soak:
    entry = record.entry
    return Soak(
        began_at=record.at,
        length=entry.duration,
        ends_at=None if entry.duration is None else _end(record.at, entry.duration),
        ended_at=None,
        lot=record.lot,
        things=entry.things,
        solution=entry.solution,
        treatment=entry.treatment,
        by=record.by,
    )


def _end(at: datetime, length: Length) -> datetime:
    return at + timedelta(days=length.day_count() - length.seconds // 86400, seconds=length.seconds)


def _batch(record: Record) -> Batch:
    entry = record.entry
    return Batch(
        solution=entry.solution or "",
        mixed_at=record.at,
        by=record.by,
        record=record.number,
        parts=entry.parts,
        share=entry.share,
        volume=entry.volume,
        hormone=entry.hormone,
    )


def _once(records: Iterable[Record], now: datetime, *, by_lot: bool = False) -> list[Record]:
    seen: dict[object, Record] = {}
    for record in in_order(records):
        if record.at <= now:
            seen.setdefault((record.message, record.at, record.entry, record.lot if by_lot else None), record)
    return list(seen.values())
