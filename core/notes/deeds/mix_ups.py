"""What was mixed up by mistake, or is of two kinds: `mixed up the tags on 8 and 9`, `mixed tray of sage and yarrow`."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_MIXED: Final = frozenset({"mixed", "mixed up", "mixing", "mixing up"})
_LABELS: Final = small_words("mix_ups", "labels")
_ARTICLES: Final = small_words("no_plants", "before_things")
_LIQUIDS: Final = ("solution", "hormone", "hormone_name", "hormone_form")


@looks_for("!mix", any_of=_MIXED)
def keep_mix_ups(pieces: list[Piece]) -> None:
    """`mixed the tags up on lot 8`, `tags on 8 and 9 got mixed up`, `a mixed tray of sage`: no solution, in place."""
    for at, piece in enumerate(pieces):
        if piece.low not in _MIXED:
            continue
        end = end_of_statement(pieces, at)
        start = at
        while start and pieces[start - 1].kind != "break":
            start -= 1
        after = next((step for step in range(at + 1, end) if pieces[step].low not in _ARTICLES), end)
        vessel = after + 1 < end and "container" in pieces[after].roles and pieces[after + 1].low == "of"
        labels = [one for one in pieces[start:end] if one.low.split(" ")[0] in _LABELS]
        stirred = any(not one.roles.keys().isdisjoint(_LIQUIDS) for one in pieces[start:end])
        sold = after == at + 1 < end and "container" in pieces[after].roles and any(map(is_act, pieces[start:at]))
        if (vessel or sold) and not stirred:
            keep_words(piece)
        elif labels and not stirred:
            keep_words(piece, *(one for one in pieces[start:end] if one.kind not in (*SUBJECTS, "moment", "person")))
