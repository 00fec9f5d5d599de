"""Several plants in one tray: `tray 2: toyon 12 rooted, redbud 20 rooted`, `tray 2 toyon 12/24 redbud 20/24 rooted`.

The tray that heads them holds for each plant that has a count of its own.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.numbers import Number
from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import comma_before, end_of_sentence
from core.notes.words.steps import looks_for

_LEADING: Final = 3
"""So many pieces at most stand before a tray that heads a sentence (`yesterday in tray 5: …`)."""
_JOINTS: Final = frozenset({",", "and", "&", "+"})


@looks_for("=trays", beside=("=counts",))
def share_tray(pieces: list[Piece]) -> None:
    """Names the tray again before each later plant, in place."""
    for at in range(len(pieces) - 1, -1, -1):
        if pieces[at].kind != "trays" or len(pieces[at].value) > 1 or not _heads(pieces, at):
            continue
        colon = at + 1 < len(pieces) and pieces[at + 1].low == ":"
        first = at + 1 + colon
        end = end_of_sentence(pieces, first)
        if any(piece.kind in SUBJECTS for piece in pieces[first:end]):
            continue
        if colon or (first < end and "plant" in pieces[first].roles):
            end += _part_fractions(pieces, first, end)
            for place in reversed(_later_plants(pieces, first, end)):
                pieces.insert(place, _again(pieces[at], pieces[place]))


def _heads(pieces: list[Piece], at: int) -> bool:
    """`tray 2: …`, `potted up tray 9: …`."""
    at -= 0 < at < _LEADING and pieces[at - 1].low in ("in", "on")
    before = pieces[at - 1] if at else None
    return before is None or before.low in SENTENCE_ENDS or before.kind in ("moment", "person") or "act" in before.roles


def _later_plants(pieces: list[Piece], first: int, end: int) -> list[int]:
    """Where the members after the first begin that are each a plant and its count; none where another plant is not."""
    starts = [place + 1 for place in range(first, end) if pieces[place].low in _JOINTS]
    members = list(zip([first, *starts], [*(start - 1 for start in starts), end], strict=True))
    told = [pieces[start:stop] for start, stop in members]
    last = next((place for place, member in enumerate(told) if not _counts_plant(member)), len(told))
    plain = not any("plant" in piece.roles for member in told[last:] for piece in member)
    return starts[: last - 1] if last > 1 and plain else []


def _counts_plant(member: list[Piece]) -> bool:
    counted = sum(piece.kind in COUNTS or "none" in piece.roles for piece in member)
    return counted == 1 and sum("plant" in piece.roles for piece in member) == 1


def _part_fractions(pieces: list[Piece], first: int, end: int) -> int:
    """`toyon 12/24 redbud 20/24`: so many of so many of each, and no days, parted in place; how many pieces more."""
    run = [place for place in range(first, end - 1) if _is_part(pieces, place)]
    if len(run) < 2 or run != list(range(run[0], run[-1] + 1, 2)):
        return 0
    for place in run:
        above, below, approx = pieces[place + 1].value
        pieces[place + 1].kind, pieces[place + 1].value = "number", Number(above, of=below, approx=bool(approx))
    for place in reversed(run[1:]):
        pieces.insert(place, comma_before(pieces[place]))
    return len(run) - 1


def _is_part(pieces: list[Piece], place: int) -> bool:
    after = pieces[place + 1]
    return "plant" in pieces[place].roles and after.kind == "fraction" and after.value[0] <= after.value[1]


def _again(tray: Piece, before: Piece) -> Piece:
    return Piece("trays", tray.value, before.first, before.first, tray.low)
