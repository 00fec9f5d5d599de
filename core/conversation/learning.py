"""What the crew's own record teaches, kept as versions: which day of looking for roots holds now, and for which plants.

Rules
1. A version is never changed: where the lots teach another day, that is a new version, kept beside the old ones.
2. A new version plans the open lots of its plant anew.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from datetime import datetime
from typing import Any, Final

from core.lots import Lot
from core.reminders import Subject
from core.reminders.learning import first_roots_on_day, learn_first_look
from core.storage import Books
from core.treatments import Learned, protocols

KEPT_AS: Final = "learned_first_root_check"
NUMBER: Final = "first_root_check"
MOST_LOTS: Final = 40
"""So many lots of a plant teach, the latest ones: a bench changes over the years."""


def learned_of(books: Books) -> tuple[Learned, ...]:
    """The versions that hold now, one for each plant and wood."""
    return tuple(_as_learned(versions[-1]) for versions in _versions(books).values() if versions[-1]["days"])


def learn_anew(books: Books, subjects: Iterable[Subject], now: datetime) -> tuple[Subject, ...]:
    """Learns from the lots among these subjects; the subjects to plan anew because of it."""
    versions = _versions(books)
    touched: dict[str, Lot] = {}
    for subject in subjects:
        lot = books.lot(subject.name) if subject.kind == "lot" else None
        if lot is not None and lot.kind == "cuttings" and (_may_teach(lot) or _key(lot) in versions):
            touched[_key(lot)] = lot
    changed: list[Subject] = []
    for key, lot in touched.items():
        days, lots = _taught(books, lot)
        known = versions.get(key, [])
        if days == (known[-1]["days"] if known else None):
            continue
        versions[key] = [*known, {
            "plant": lot.plant, "wood": lot.wood, "days": days, "lots": lots, "version": len(known) + 1,
            "learned_at": now.isoformat(timespec="minutes"),
        }]  # fmt: skip
        changed += [Subject(kind="lot", name=one.number) for one in books.lots(plant=lot.plant)]
    if changed or versions != _versions(books):
        books.settle(KEPT_AS, json.dumps(versions, sort_keys=True))
    return tuple(changed)


def _taught(books: Books, lot: Lot) -> tuple[int | None, int]:
    alike = [one for one in books.lots(open_only=False, plant=lot.plant) if one.wood == lot.wood]
    alike = sorted(alike, key=lambda one: one.opened_at)[-MOST_LOTS:]
    looks = books.records(acts=("check",), lots=[one.number for one in alike])
    zone = books.crew.zone
    seen = [
        first_roots_on_day(one, [record for record in looks if record.lot == one.number], zone) for one in alike
    ]  # fmt: skip
    days = [day for day in seen if day is not None]
    fewest = round(protocols().for_plant(None).times("learned_from"))
    return learn_first_look(days, fewest=fewest), len(days)


def _may_teach(lot: Lot) -> bool:
    sample = lot.latest_sample
    return bool(lot.rooted) or lot.roots_out or any(one.state == "rooted" for one in (*lot.counts, sample) if one)


def _key(lot: Lot) -> str:
    return f"{lot.plant}|{lot.wood or ''}"


def _versions(books: Books) -> dict[str, list[dict[str, Any]]]:
    text = books.setting(KEPT_AS)
    return {} if text is None else json.loads(text)


def _as_learned(version: dict[str, Any]) -> Learned:
    return Learned(
        name=NUMBER, plant=version["plant"], wood=version["wood"], days=version["days"], lots=version["lots"],
        version=version["version"],
    )  # fmt: skip
