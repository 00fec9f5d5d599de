"""Which phrases does a note hold.

Words joined to the longest phrase that the vocabulary knows, each with its meanings.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.words.tokens import Token
from core.vocabulary import Leaf
from core.vocabulary.loading import END

NO_ROLES: Final[Leaf] = {}
BREAKS: Final = frozenset(
    {",", ";", ".", ":", "!", "?", "+", "&", "/", "(", ")", "|", "->", "=", "*", "[", "]", "<", ">", "-"}
)
SENTENCE_ENDS: Final = frozenset({".", "\n", ";", "!", "?"})
COUNTS: Final = frozenset({"number", "fraction", "percent"})
"""The kinds of pieces that count plants."""
SUBJECTS: Final = frozenset({"lots", "trays"})
"""The kinds of pieces that name lots or trays."""


class Piece:
    """A run of tokens that is read as one thing: its kind, value and meanings, and whether an entry has used it."""

    __slots__ = ("first", "kind", "last", "low", "roles", "used", "value")

    def __init__(self, kind: str, value: Any, first: int, last: int, low: str = "", roles: Leaf = NO_ROLES) -> None:
        self.kind = kind
        self.value = value
        self.first = first
        self.last = last
        self.low = low
        self.roles = roles
        self.used = False

    def copied(self) -> Piece:
        """Another piece that says the same, to be read without changing this one."""
        same = Piece(self.kind, self.value, self.first, self.last, self.low, self.roles)
        same.used = self.used
        return same

    def __repr__(self) -> str:
        return f"<{self.kind} {self.low!r} {self.value!r}{' used' if self.used else ''}>"


def is_act(piece: Piece) -> bool:
    """Whether a piece is the word of a deed."""
    roles = piece.roles
    return "act" in roles or "shared" in roles


def names_plants(piece: Piece) -> bool:
    """Whether a piece names plants: a lot, a tray, or what they are called."""
    return piece.kind in SUBJECTS or "plant" in piece.roles


def longest_phrase(
    tokens: list[Token], at: int, tree: dict[str, Any], stop: int | None = None
) -> tuple[int, Leaf] | None:
    """The longest known phrase that begins at a token (and ends before `stop`): where it ends, and its meanings.

    Hyphens inside it do not count.
    """
    count = len(tokens) if stop is None else stop
    node = tree.get(tokens[at].low) if at < count else None
    if node is None:
        return None
    place = at + 1
    leaf = node.get(END)
    if leaf is not None and len(node) == 1:
        return place, leaf
    found: tuple[int, Leaf] | None = None if leaf is None else (place, leaf)
    while place < count:
        token = tokens[place]
        following = node.get(token.low)
        if following is None:
            if token.low == "-" and token.glued:
                place += 1
                continue
            break
        node = following
        place += 1
        leaf = node.get(END)
        if leaf is not None:
            if len(node) == 1:
                return place, leaf
            found = place, leaf
    return found


def words_of(tokens: list[Token], first: int, last: int) -> str:
    """The words from one token to before another, as compared (lower case, single blanks, nothing between
    glued tokens).
    """
    if last - first == 1:
        return tokens[first].low
    parts = [tokens[first].low]
    for token in tokens[first + 1 : last]:
        parts.append(token.low if token.glued else f" {token.low}")
    return "".join(parts)


def statement_ends(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether nothing more of a statement stands at a place: the end of the note, a mark, or thanks and the like (but
    not the `finally` of `sun finally shining`).
    """
    if at >= len(tokens) or tokens[at].kind == "line" or tokens[at].low in BREAKS:
        return True
    if tokens[at].kind == "mark":
        return not tokens[at].low.isascii()
    phrase = longest_phrase(tokens, at, tree)
    if phrase is None or phrase[1].keys().isdisjoint(("closes", "remarks")):
        return False
    return "filler" not in phrase[1] or statement_ends(tokens, phrase[0], tree)
