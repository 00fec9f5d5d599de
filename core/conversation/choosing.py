"""Which button the words of an answer name: by what stands on it, or by its place."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from core.answers import Choice
from core.conversation.heard import heard, page
from core.entries import Entry
from core.notes import Reading, say_back


def chosen_by_words(choices: Sequence[Choice], text: str, yes_or_no: bool | None, *, known: str = "") -> Choice | None:
    """The only choice that these words name, or None. `known` is the number that the question spoke of."""
    if yes_or_no is not None:
        wanted = [one for one in choices if ("yes" if yes_or_no else "no") in _label_words(one)]
        return wanted[0] if len(wanted) == 1 else None
    words = re.findall(r"[\w.-]+", text.lower())
    if not words or len(words) > 6:
        return None
    for place, names in enumerate(page("answers_heard")["places"]["says"][: len(choices)]):
        if [word for word in words if word not in ("the", "one")] in ([name] for name in names.split()):
            return choices[place]
    named = [one for one in choices if set(words) <= {*_label_words(one), known} and words != [known]]
    if len(named) > 1:
        named = [one for one in named if _label_words(one)[0] in words]
    if not named:
        telling = {word for word in words if word not in heard("answers_heard", "which", "fillers")}
        named = [one for one in choices if _says_a_note(one) and telling and telling <= {*_label_words(one)}]
    return named[0] if len(named) == 1 else None


def _says_a_note(choice: Choice) -> bool:
    """Whether a button says a whole note, of which a few words are enough ("the library one")."""
    return choice.label == "reading" or choice.label.count(" ") > 1


def says_otherwise(reading: Reading, choice: Choice) -> bool:
    """Whether words that have all in common with a reading count something else ("14 of 16" beside "lot 14: 16")."""
    chosen = choice.action.get("choose", {}) if choice.label == "reading" else {}
    told = [one for one in reading.entries if chosen and one.of is not None]
    return any((one.count, one.of) != (chosen.get("count"), chosen.get("of")) for one in told)


def _label_words(choice: Choice) -> list[str]:
    if choice.label == "reading":
        label = say_back(replace(Entry.from_keys(choice.action["choose"]), rest=None))
    else:
        label = page("answers_heard")["buttons"].get(choice.label, choice.label)
    words = re.findall(r"[\w.-]+", label.lower())
    return [*words, *(short for word in words[:1] for short in _short_of(word))]


def _short_of(word: str) -> tuple[str, ...]:
    """How a lot that heads a button may be named beside its full number."""
    found = re.fullmatch(r"\d{2}-0*(\d+)", word)
    return (found[1], "lot", "the") if found else ()
