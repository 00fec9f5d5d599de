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
    for answer, phrases in answers_said().items():
        found.update(dict.fromkeys(phrases, ("reply", answer)))
    found.update(dict.fromkeys(said_of("undo", "says"), ("undo", "")))
    return found


@cache
def answers_said() -> dict[str, tuple[str, ...]]:
    """Each answer to a reminder, and the whole notes that give it."""
    answers = read_toml("talk.toml")["reply"].items()
    return {answer: _all_of(patterns) for answer, patterns in answers}


@cache
def said_of(part: str, name: str) -> tuple[str, ...]:
    """The phrases of a list of talk, as the `opens` of `later`."""
    return _all_of(read_toml("talk.toml")[part][name])


def _all_of(patterns: list[str]) -> tuple[str, ...]:
    return tuple(phrase for pattern in patterns for phrase in spelled_out(pattern))


@cache
def correction_openers() -> frozenset[str]:
    """The phrases that corrections begin with."""
    return frozenset(said_of("amend", "opens"))


@cache
def said_beside_talk() -> tuple[frozenset[str], frozenset[str]]:
    """The words that may stand before talk, and after it, and change nothing."""
    aside = read_toml("talk.toml")["aside"]
    return frozenset(aside["before"]), frozenset(aside["after"])
