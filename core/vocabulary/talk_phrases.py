"""What do people say to the bot itself: whole notes that are talk, and what a correction opens with."""

from __future__ import annotations

from functools import cache

from core.vocabulary.loading import read_toml, spelled_out


@cache
def whole_notes() -> dict[str, tuple[str, str]]:
    """Whole notes that are talk: the words -> (act, value)."""
    found: dict[str, tuple[str, str]] = {}
    cues = read_toml("cues.toml")
    for role, want in (("help", "help"), ("thanks", "thanks"), ("greeting", "hi")):
        greetings = (phrase for pattern in cues[role] for phrase in spelled_out(pattern))
        found.update(dict.fromkeys(greetings, ("hello", want)))
    talk = read_toml("talk.toml")
    for answer, phrases in talk["reply"].items():
        found.update(dict.fromkeys(phrases, ("reply", answer)))
    said = (phrase for pattern in talk["undo"]["says"] for phrase in spelled_out(pattern))
    found.update(dict.fromkeys(said, ("undo", "")))
    return found


@cache
def correction_openers() -> frozenset[str]:
    """The phrases that corrections begin with."""
    return frozenset(phrase for pattern in read_toml("talk.toml")["amend"]["opens"] for phrase in spelled_out(pattern))


@cache
def said_beside_talk() -> tuple[frozenset[str], frozenset[str]]:
    """The words that may stand before talk, and after it, and change nothing."""
    aside = read_toml("talk.toml")["aside"]
    return frozenset(aside["before"]), frozenset(aside["after"])
