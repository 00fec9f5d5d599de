"""The books as tables: JSON lines and CSV out, JSON lines in."""

from __future__ import annotations

import csv
import json
from datetime import datetime
from pathlib import Path
from typing import TextIO
from zoneinfo import ZoneInfo

from bot.settings import BadSetting
from core.conversation.checking import refold_everything
from core.storage import Store

FIRST_COLUMNS = ("id", "at", "lot", "act", "count", "plant", "lots", "trays", "by", "said", "superseded_by")


def write_export(store: Store, form: str, whole: bool, out: TextIO) -> int:
    """Prints every entry of every crew, in the keys of a note plus id, lot, at, by, said and superseded_by.

    `whole` adds the key `books`, with which an import loses nothing.
    """
    rows = [row for crew in store.crews() for row in store.export_rows(crew.number, whole=whole)]
    if form == "jsonl":
        for row in rows:
            print(json.dumps(row, ensure_ascii=False), file=out)
        return 0
    others = sorted({key for row in rows for key in row} - set(FIRST_COLUMNS))
    table = csv.DictWriter(out, fieldnames=[*FIRST_COLUMNS, *others])
    table.writeheader()
    for row in rows:
        table.writerow({key: _cell(value) for key, value in row.items()})
    return 0


def _cell(value: object) -> object:
    return json.dumps(value, ensure_ascii=False) if isinstance(value, (list, dict)) else value


def read_import(store: Store, zone: ZoneInfo, file: str, now: datetime, out: TextIO) -> int:
    """Reads an export into an empty database, folds every lot, and plans its reminders."""
    try:
        lines = Path(file).read_text(encoding="utf-8").splitlines()
        rows = [json.loads(line) for line in lines if line.strip()]
    except OSError as wrong:
        raise BadSetting(f"{file}: {wrong.strerror}") from None
    except ValueError:
        raise BadSetting(f"{file} is no export: a line of it is no JSON") from None
    crews = store.crews()
    crew = crews[0] if crews else store.found_crew("The bench", zone, "")
    with store.books(crew.number) as books:
        books.import_rows(rows)
    lots = refold_everything(store, crew.number, now)
    print(f"{len(rows)} entries and {lots} lots are in the books.", file=out)
    return 0
