"""What does a note say: the door to the reader."""

from core.notes.context import Context, complete
from core.notes.danger import danger
from core.notes.half_danger import half_danger, names_any
from core.notes.likewise import goes_on, same_elsewhere, says_how_many, says_too
from core.notes.reading import read
from core.notes.say_back import say_back
from core.notes.short_answers import act_of_word, needs_of, read_answer
from core.notes.words.values import NO_NAMES, Ask, Names, Reading, Repair

__all__ = [
    "NO_NAMES",
    "Ask",
    "Context",
    "Names",
    "Reading",
    "Repair",
    "act_of_word",
    "complete",
    "danger",
    "goes_on",
    "half_danger",
    "names_any",
    "needs_of",
    "read",
    "read_answer",
    "same_elsewhere",
    "say_back",
    "says_how_many",
    "says_too",
]
