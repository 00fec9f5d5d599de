"""How an answer is worded: what stands around it ("i think 15", "16 is the lot"), and that nobody knows ("ask dell").

Rules
1. What stands around an answer is left out, as long as something is left.
2. Who does not know gives no answer: the question waits. No place and no plant is made of such words.
"""

from __future__ import annotations

from core.conversation.correction_words import bare
from core.conversation.heard import heard

_WORDS = "answers_heard"
_NAMES = frozenset({"to", "plant", "source"})
_MOST_WORDS = 8


def core_of(text: str) -> str:
    """The words of an answer in lower case, without what may stand around them."""
    words = bare(text.replace("?", " ").replace(",", " "))
    while True:
        shorter = _without_lead(words)
        if shorter == words:
            return words
        words = shorter


def _without_lead(words: str) -> str:
    for phrase in heard(_WORDS, "around", "before"):
        if words.startswith(f"{phrase} "):
            return words.removeprefix(phrase).strip()
    for phrase in heard(_WORDS, "around", "after"):
        if words.endswith(f" {phrase}"):
            return words.removesuffix(phrase).strip()
    return words


def without_closers(text: str) -> str:
    """The words of an answer in lower case, without what may stand after them alone ("at 2 please")."""
    words = bare(text)
    closer = next((one for one in heard(_WORDS, "around", "after") if words.endswith(f" {one}")), None)
    return words if closer is None else without_closers(words.removesuffix(f" {closer}"))


def knows_not(kind: str, text: str) -> bool:
    """Whether an answer to a question of this kind says that its speaker does not know."""
    words = bare(text)
    if len(words.split()) > _MOST_WORDS or any(letter.isdigit() for letter in words):
        return False
    told = (words, core_of(text))
    if any(one in heard(_WORDS, "knows_not") for one in told):
        return True
    if any(words.startswith(f"{opener} ") for opener in heard(_WORDS, "knows_not", "opens")):
        return True
    return kind in _NAMES and bool({*words.split()} & {*heard(_WORDS, "no_name", "words")})
