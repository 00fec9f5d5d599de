"""What number is this: one number in digits or words, by the grammar in which people count.

Rules
1. Digits (`3,000`, `1 1/2`, `½`, `3k`), words (`thirty one`, `a hundred and twenty`, `2 thousand`), and counting words
   (`two dozen`, `half a dozen`, `a score`, `a couple`).
2. `and a half` belongs to a number only before a unit or after a counting word (`two and a half hours`, `a dozen and a
   half`).
"""

from __future__ import annotations

from functools import cache
from typing import Any, Final

from core.notes.words.tokens import Token
from core.vocabulary import words
from core.vocabulary.loading import END, plain_words, read_toml

_A: Final = frozenset({"a", "an"})
_AND: Final = frozenset({"and", "&", "n"})
_PARTS: Final = {"half": 0.5, "quarter": 0.25, "third": 1 / 3}
_UNITS: Final = frozenset({"duration", "amount", "inch"})
_AFTER_A_PAIR: Final = frozenset({"to", "from", "of", "for", "more", "and", "died", "rotted"})
_MOST_TENS: Final = 100


@cache
def _worded() -> tuple[dict[str, int], dict[str, int]]:
    """Single number words below a hundred, and the words that multiply (`dozen score hundred thousand`)."""
    tables = read_toml("measures.toml")
    plain = {word: int(value) for value, named in tables["number"].items() for word in named if " " not in word}
    scales = {word: value for word, value in plain.items() if value >= _MOST_TENS}
    scales |= {word: int(value) for value, named in tables["dozen"].items() for word in named if word.isalpha()}
    small = {word: value for word, value in plain.items() if value < _MOST_TENS}
    ones = {word: value for word, value in small.items() if 0 < value < 10}
    tens = {word: value for word, value in small.items() if value >= 20}
    small |= {high + low: tens[high] + ones[low] for high in tens for low in ones}
    return small, scales


WORD_VALUES: Final = _worded()[0]
"""Number words below a hundred, and their values."""
NUMBER_STARTS: Final = frozenset({"a", "an", "half", "quarter", "couple", *_worded()[0], *_worded()[1]})
_SCALES: Final = _worded()[1]
DOZENS: Final = frozenset(word for word, value in _SCALES.items() if value < _MOST_TENS)


def number_of_word(word: str) -> tuple[int, bool] | None:
    """The value of one number word, and whether it is about by itself (`thirtyish`); None for any other word."""
    if word in WORD_VALUES:
        return WORD_VALUES[word], False
    if word.endswith("ish") and word[:-3] in WORD_VALUES:
        return WORD_VALUES[word[:-3]], True
    return None


def number_of_token(token: Token) -> float | None:
    """The value of a number in digits or of one number word; None for any other token."""
    if token.kind == "number":
        return float(token.value)
    found = number_of_word(token.low)
    return None if found is None else found[0]


_STATEMENTS: Final = frozenset({"act", "to_do", "none", "negation", "plan", "hearsay", "condition"})


def read_plain(tokens: list[Token], at: int) -> tuple[float, int, bool] | None:
    """One number at a place: its value, where it ends, and whether it is about by itself; None where there is none."""
    token = tokens[at]
    about = False
    if token.kind == "number":
        value, end = _digits(tokens, at)
    elif token.kind == "word":
        found = number_of_word(token.low)
        if found is None:
            return _collective(tokens, at)
        value, about = found
        value, end = _tens_and_ones(tokens, value, at + 1) if not about else (value, at + 1)
    else:
        return None
    value, end = _scaled(tokens, value, end)
    value, end = _and_a_part(tokens, value, end)
    return value, end, about


def _digits(tokens: list[Token], at: int) -> tuple[float, int]:
    value, end = tokens[at].value, at + 1
    if end >= len(tokens):
        return value, end
    then = tokens[end]
    if (
        then.kind == "fraction"
        and not then.glued
        and then.value[0] < then.value[1] <= 8
        and value == int(value)
        and value <= 20
    ):
        return value + then.value[0] / then.value[1], end + 1
    mixed = tokens[end + 1] if end + 1 < len(tokens) and then.low == "-" and then.glued else None
    if mixed is not None and mixed.kind == "fraction" and mixed.glued and mixed.value[0] < mixed.value[1] <= 8:
        return (value + mixed.value[0] / mixed.value[1], end + 2) if value <= 20 else (value, end)
    dashed = end + 1 < len(tokens) and tokens[end + 1].low == "-" and tokens[end + 1].glued
    if then.low == "k" and then.glued and not dashed:
        return value * 1000, end + 1
    return value, end


def _tens_and_ones(tokens: list[Token], value: float, end: int) -> tuple[float, int]:
    if value < 20 or value % 10 or end >= len(tokens):
        return value, end
    step = end + 1 if tokens[end].low == "-" and end + 1 < len(tokens) else end
    ones = WORD_VALUES.get(tokens[step].low, 0)
    return (value + ones, step + 1) if 0 < ones < 10 else (value, end)


def _scaled(tokens: list[Token], value: float, end: int) -> tuple[float, int]:
    """`2 dozen of`, `three hundred and five`, `2 thousand`: a number times the counting word after it."""
    scale = _SCALES.get(tokens[end].low) if end < len(tokens) and not _joined(tokens, end) else None
    if scale is None:
        return value, end
    end += 1
    if end < len(tokens) and tokens[end].low == "." and tokens[end].glued and tokens[end - 1].low in DOZENS:
        end += not _begins_statement(tokens, end + 1)
    if end + 1 < len(tokens) and tokens[end].low == "of" and tokens[end - 1].low in DOZENS:
        return value * scale, end + (tokens[end + 1].kind != "number" and tokens[end + 1].low != "the")
    value *= scale
    step = end + 1 if end < len(tokens) and tokens[end].low == "and" else end
    if scale >= _MOST_TENS and step < len(tokens) and tokens[step].kind == "word":
        tail = read_plain(tokens, step) if number_of_word(tokens[step].low) is not None else None
        if tail is not None and tail[0] < scale:
            return value + tail[0], tail[1]
    return value, end


def _joined(tokens: list[Token], at: int) -> bool:
    """The thousand of `40 thousand-leaf`: part of a name, and no scale."""
    after = tokens[at + 1 : at + 3]
    return len(after) == 2 and after[0].low == "-" and after[0].glued and after[1].kind == "word"


def scale_after(tokens: list[Token], at: int) -> int:
    """What the counting word at a place multiplies by (`3-4 dozen`, `2-3k`); 1 where none stands there."""
    if at >= len(tokens) or _joined(tokens, at):
        return 1
    return 1000 if tokens[at].low == "k" and tokens[at].glued else _SCALES.get(tokens[at].low, 1)


def _begins_statement(tokens: list[Token], at: int) -> bool:
    """Whether what follows `doz.` is no part of what is counted: then the mark ends a sentence too."""
    if at >= len(tokens):
        return False
    leaf: dict[str, Any] = words().tree.get(tokens[at].low, {}).get(END, {})
    plain = tokens[at].low in plain_words() and not leaf.keys() & {"plant", "cutting", "wood"}
    return plain or tokens[at].low in ("lot", "lots", "tray", "trays") or bool(_STATEMENTS & leaf.keys())


def _and_a_part(tokens: list[Token], value: float, end: int) -> tuple[float, int]:
    """`two and a half dozen`, `one and a half gallons`, `a dozen and a half`."""
    part, last = part_after(tokens, end)
    if not part:
        return value, end
    if tokens[end - 1].low in DOZENS:
        scale = _SCALES[tokens[end - 1].low]
        return value + part * scale, last
    if last >= len(tokens):
        return value, end
    scale = _SCALES.get(tokens[last].low, 0)
    if scale:
        return (value + part) * scale, last + 1
    leaf: dict[str, Any] = words().tree.get(tokens[last].low, {}).get(END, {})
    return (value + part, last) if _UNITS & leaf.keys() else (value, end)


def part_after(tokens: list[Token], at: int) -> tuple[float, int]:
    """The part that `and a half`, `& 1/4` says at a place, and where it ends; nought where none is said."""
    if at + 1 >= len(tokens) or tokens[at].low not in _AND:
        return 0, at
    place = at + 1
    if tokens[place].kind == "fraction" and tokens[place].value[0] < tokens[place].value[1] <= 8:
        return tokens[place].value[0] / tokens[place].value[1], place + 1
    if tokens[place].kind == "number" and 0 < tokens[place].value < 1:
        return tokens[place].value, place + 1
    place += tokens[place].low in _A or tokens[place].low == "one"
    if place < len(tokens) and tokens[place].low in _PARTS:
        return _PARTS[tokens[place].low], place + 1
    return 0, at


def _collective(tokens: list[Token], at: int) -> tuple[float, int, bool] | None:
    """`a dozen`, `half a dozen`, `a couple of`, `a hundred and twenty`, `a pair of`."""
    count = len(tokens)
    low = tokens[at].low
    if (low in DOZENS and low != "score") or (low == "hundred" and _counts_on(tokens, at + 1)):
        return (*_and_a_part(tokens, *_scaled(tokens, 1, at)), False)
    if low == "couple":
        return _couple(tokens, at)
    if low not in _A and low != "half":
        return None
    place = at + 1
    half = low == "half"
    if place < count and tokens[place].low == "half" and low == "a":
        half, place = True, place + 1
    if half and place < count and tokens[place].low in _A:
        place += 1
    if place >= count:
        return None
    following = tokens[place].low
    if half:
        return (_SCALES[following] / 2, place + 1, False) if following in DOZENS else None
    if following == "couple":
        return _couple(tokens, place)
    if following in _SCALES:
        return (*_and_a_part(tokens, *_scaled(tokens, 1, place)), False)
    if following == "pair":
        return _pair(tokens, place + 1)
    return None


def _counts_on(tokens: list[Token], at: int) -> bool:
    """The ten of `hundred ten`."""
    return at < len(tokens) and number_of_word(tokens[at].low) is not None


def _pair(tokens: list[Token], at: int) -> tuple[float, int, bool] | None:
    """`a pair of sage`, `a pair to my neighbor`, `sold a pair`: two; `a pair pruners` counts no plants."""
    if at < len(tokens) and tokens[at].low == "of":
        return 2, at + 1, False
    ends = at >= len(tokens) or tokens[at].low in _AFTER_A_PAIR or not tokens[at].low.isalnum()
    return (2, at, False) if ends else None


def _couple(tokens: list[Token], at: int) -> tuple[float, int, bool]:
    end = at + 1
    if end < len(tokens) and tokens[end].low == "of":
        end += 1
    if end < len(tokens) and tokens[end].low in _SCALES:
        return 2 * _SCALES[tokens[end].low], end + 1, True
    return 2, end, True
