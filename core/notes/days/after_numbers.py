"""What may stand after a number that makes it a day or an hour."""

from __future__ import annotations

from functools import cache
from typing import Any, Final

from core.notes.words.number_words import NUMBER_STARTS
from core.notes.words.tokens import Token
from core.vocabulary import words
from core.vocabulary.loading import END

_HALVES: Final = frozenset({"am", "pm", "a", "p"})


def may_go_on(tokens: list[Token], at: int) -> bool:
    """Whether what stands after a number may make it a day or an hour: at a glance that most counts fail."""
    if at >= len(tokens):
        return False
    after = tokens[at]
    return after.kind != "word" or after.glued or after.low in _after_numbers()


@cache
def _after_numbers() -> frozenset[str]:
    """The first words of what a number counts in a day or an hour, or goes on with itself."""
    tree = words().tree
    return NUMBER_STARTS | _HALVES | {"and", "n"} | {word for word, node in tree.items() if _tells_time(node)}


def _tells_time(node: dict[str, Any]) -> bool:
    """Whether a phrase of the vocabulary that goes on so is a month or a length of time."""
    return any(
        not leaf.keys().isdisjoint(("month", "duration")) if word == END else _tells_time(leaf)
        for word, leaf in node.items()
    )
