"""Where do pieces that stand side by side say one of some phrases (`better than`, `everything but`)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from core.notes.words.pieces import Piece


class Runs:
    """Some phrases as runs of pieces. A place costs one look where no phrase begins with its words."""

    __slots__ = ("_phrases", "heads")

    def __init__(self, phrases: Iterable[str]) -> None:
        self._phrases: Final = frozenset(phrases)
        self.heads: Final = frozenset(
            " ".join(words[:size])
            for words in (phrase.split(" ") for phrase in self._phrases)
            for size in range(1, len(words) + 1)
        )
        """What a piece must say to begin one of them."""

    def end_at(self, pieces: Sequence[Piece], at: int) -> int:
        """Where the longest phrase that begins at a place ends; 0 where none begins."""
        if at >= len(pieces):
            return 0
        said, found = pieces[at].low, 0
        while said in self.heads:
            at += 1
            if said in self._phrases:
                found = at
            if at == len(pieces):
                break
            said = f"{said} {pieces[at].low}"
        return found

    def first_from(self, pieces: Sequence[Piece], start: int = 0) -> tuple[int, int] | None:
        """Where the first of them from a place on begins and ends; None where none stands."""
        heads = self.heads
        for at in range(start, len(pieces)):
            if pieces[at].low in heads:
                end = self.end_at(pieces, at)
                if end:
                    return at, end
        return None
