"""How is a lot's number texted and written: "14", "#14", "lot 14" or "26-014"?

A full number is the crew's year and a running number, `26-014`; a letter may follow for a part of a lot, `26-014b`.
Which lot a number without a year means, and which number is the next, the books know (`storage.lots_shelf`).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_TEXTED = re.compile(
    r"(?:lots?|l|no\.?|number)?\s*\#?\s*(?:(?P<year>\d{2}|20\d{2})\s?[-–/]\s?)?(?P<serial>\d{1,4})(?P<part>[a-z]?)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class LotName:
    """A lot's number in its parts: two-digit year (None where not texted), running number, letter of a part or ''."""

    year: int | None
    serial: int
    part: str = ""

    def full(self, year: int) -> str:
        """The full number (`26-014`), in `year` (two digits) where none was texted."""
        return f"{year if self.year is None else self.year:02d}-{self.serial:03d}{self.part}"


def parse_number(texted: str) -> LotName | None:
    """The lot that `texted` names (`14`, `#14`, `lot 14`, `26-014`, `26-14`, `2026-014`, `14b`), or None for other
    words."""
    found = _TEXTED.fullmatch(texted.strip())
    if found is None or int(found["serial"]) == 0:
        return None
    year = None if found["year"] is None else int(found["year"]) % 100
    return LotName(year=year, serial=int(found["serial"]), part=found["part"].lower())


def format_number(year: int, serial: int, part: str = "") -> str:
    """The full number of a lot, `26-014`: two digits of the year, at least three of the running number."""
    return f"{year % 100:02d}-{serial:03d}{part}"


def year_of(number: str) -> int | None:
    """The two-digit year of a full number, or None where `number` has none."""
    name = parse_number(number)
    return None if name is None else name.year


def names_lot(texted: str | None, number: str) -> bool:
    """True where `texted` may mean the lot `number`: the same running number, and the same year if a year was
    texted."""
    if texted is None:
        return False
    said, lot = parse_number(texted), parse_number(number)
    if said is None or lot is None:
        return texted.strip().lower() == number.lower()
    return (said.serial, said.part) == (lot.serial, lot.part) and said.year in (None, lot.year)


def full_number(texted: str, year: int) -> str:
    """`texted` as a full number, in `year` (two or four digits) where it names none; other words as they stand."""
    name = parse_number(texted)
    return texted.strip().lower() if name is None else name.full(year % 100)


def number_order(number: str) -> tuple[int, int, str]:
    """What lot numbers are sorted by: year, running number, part; words that are no number stand last."""
    name = parse_number(number)
    return (100, 0, number) if name is None else (name.year or 0, name.serial, name.part)
