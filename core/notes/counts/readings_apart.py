"""Where what was read stands beside what was done, or beside another reading: `68f in the greenhouse and soaked lot 3`,
`greenhouse low 34f high 71f`.
"""

from __future__ import annotations

from typing import Final

from core.notes.counts.temps import claims
from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.said import comma_before, keep_words, statement_at, statements
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_LOWEST: Final = small_words("readings", "lowest")
_HIGHEST: Final = small_words("readings", "highest")


@looks_for(any_of=_HIGHEST, beside=("=temp",))
def part_low_and_high(pieces: list[Piece]) -> None:
    """`greenhouse low 34f high 71f`: two readings at one place, in place."""
    for start, end in reversed(statements(pieces)):
        said = pieces[start:end]
        read = [at for at, piece in enumerate(said) if piece.kind == "temp"]
        lowest = [at for at, piece in enumerate(said) if piece.low in _LOWEST]
        highest = [at for at, piece in enumerate(said) if piece.low in _HIGHEST]
        if [len(read), len(lowest), len(highest)] != [2, 1, 1]:
            continue
        marks = sorted((*lowest, *highest))
        where = [piece for piece in said if "place_word" in piece.roles]
        second = marks[1] if marks[0] < read[0] < marks[1] < read[1] else read[1] if read[0] < marks[0] < read[1] else 0
        if not second or len(where) > 1:
            continue
        keep_words(*(said[at] for at in marks))
        also = [where[0].copied()] if where else []
        if where and said.index(where[0]) > second:
            pieces[start + second : start + second] = [*also, comma_before(said[second])]
        else:
            pieces[start + second : start + second] = [comma_before(said[second]), *also]


@looks_for(any_of=("and", "&"), beside=("=temp",))
def part_readings(pieces: list[Piece]) -> None:
    """`watered tray 18 and shade house 77f`: a comma between what was read and what was done, in place."""
    for at in range(1, len(pieces) - 1):
        if pieces[at].low not in ("and", "&"):
            continue
        start, end = statement_at(pieces, at)
        before, after = pieces[start:at], pieces[at + 1 : end]
        if (_reads(before) and any(map(claims, after))) or (_reads(after) and any(map(claims, before))):
            pieces[at].kind, pieces[at].low, pieces[at].roles = "break", ",", NO_ROLES


def _reads(said: list[Piece]) -> bool:
    """`68f in the greenhouse`: a place and its degrees, and nothing else."""
    read = any(piece.kind == "temp" for piece in said) and any("place_word" in piece.roles for piece in said)
    known = ("temp", "percent", "moment")
    return read and all(
        piece.kind in known or not piece.roles.keys().isdisjoint(("place_word", "filler", "humidity", "temp_word"))
        for piece in said
    )
