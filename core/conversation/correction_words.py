"""The words of corrections.toml: by table, and whether a text has one of them."""

from __future__ import annotations

import re

from core.conversation.heard import heard


def said(table: str, key: str = "says") -> tuple[str, ...]:
    """The phrases under a key of a table, the longest first."""
    return heard("corrections", table, key)


def bare(text: str) -> str:
    """The words of a text in lower case, one space between them, without marks."""
    return " ".join(re.findall(r"[\w.:/-]+", text.lower().replace("'", "").replace("\u2019", ""))).strip(" .:")


def has_one(text: str, table: str) -> bool:
    """True where the words of a table stand in a text."""
    words = f" {bare(text)} "
    return any(f" {phrase} " in words for phrase in said(table))


def without_ends(words: str, table: str) -> str:
    """Bare words without those that say nothing at their two ends (`before` and `after` of a table)."""
    ends = True
    while ends:
        ends = False
        for phrase in said(table, "before"):
            if words.startswith(f"{phrase} "):
                words, ends = words.removeprefix(phrase).strip(), True
        for phrase in said(table, "after"):
            if words.endswith(f" {phrase}"):
                words, ends = words.removesuffix(phrase).strip(), True
    return words
