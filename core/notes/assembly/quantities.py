"""Which quantity is it: a number with its unit, in the order that a bench would understand."""

from __future__ import annotations

from typing import Any, Final

from core.lengths import Length
from core.notes.assembly.pot_sizes import DISTANCES, INCHES
from core.notes.assembly.units import is_glued_number, opens_age, says_how_full, with_unit
from core.notes.days.dates import length_of
from core.notes.days.moments import Moment
from core.notes.words.number_words import part_after, read_plain
from core.notes.words.numbers import Number, read_number, skip_about
from core.notes.words.pieces import Piece, longest_phrase, words_of
from core.notes.words.tokens import Token
from core.vocabulary import Leaf
from core.vocabulary.loading import read_toml, small_words

_OTHER_UNITS: Final = small_words("quantities", "of_no_plants")
_SPACINGS: Final = small_words("quantities", "spacings")
RANK_ENDINGS: Final = frozenset(read_toml("date_words.toml")["endings"])
_BEFORE_DAYS: Final = small_words("dates", "until") | {"on", "since"}
_BEFORE_ONE: Final = frozenset({"the", "this", "that", "each", "which", "every", "no"}) | RANK_ENDINGS


def quantity(tokens: list[Token], at: int, tree: dict[str, Any], before: list[Piece]) -> Piece | None:
    """The quantity that begins at a token, or None."""
    token = tokens[at]
    if token.kind == "colon":
        return Piece("colon", token.value, at, at + 1, token.low)
    start = at
    about = skip_about(tokens, at, tree)
    if at < about < len(tokens) and tokens[about].kind == "fraction":
        at = about
        token = tokens[at]
    if token.kind == "fraction":
        if (
            start
            and (tokens[start - 1].low in _BEFORE_DAYS or _as_of(tokens, start))
            and 1 <= token.value[0] <= 12
            and 1 <= token.value[1] <= 31
        ):
            return Piece("moment", Moment(month=token.value[0], day=token.value[1]), start, at + 1, token.low)
        return _fraction(tokens, start, at, tree)
    found = read_number(tokens, start, tree)
    if found is None:
        return _one_of_unit(tokens, start, tree)
    number, end = found
    other = _of_no_plants(tokens, start, end, tree)
    if other is not None:
        return other
    if (
        token.low == "one"
        and number.high is None
        and (end >= len(tokens) or (start and tokens[start - 1].low in _BEFORE_ONE))
    ):
        return None
    part = _part_of_whole(tokens, start, number, end, tree)
    if part is not None:
        return part
    measured = with_unit(tokens, start, number, end, tree, before)
    if measured is not None:
        return measured
    return Piece("number", number, start, end, words_of(tokens, start, end))


def _as_of(tokens: list[Token], at: int) -> bool:
    """`20 rooted as of 6/2`."""
    return at > 1 and tokens[at - 1].low == "of" and tokens[at - 2].low == "as"


def _of_no_plants(tokens: list[Token], start: int, end: int, tree: dict[str, Any]) -> Piece | None:
    """`5th`, `$10`, `ten dollars`, `18 inches apart`, `12 in long`: a rank, a price, a distance; no count of plants."""
    after = [token.low for token in tokens[end : end + 2]]
    if after[:1] and after[0] in RANK_ENDINGS and tokens[end].glued and tokens[end - 1].kind == "number":
        return Piece("rank", None, start, end + 1, words_of(tokens, start, end + 1))
    if after[:1] and after[0] in _OTHER_UNITS and "plant" not in (longest_phrase(tokens, end, tree) or (0, {}))[1]:
        last = end + 1 + (after[1:] != [] and after[1] in DISTANCES)
        return Piece("measure", None, start, last, words_of(tokens, start, last))
    held = longest_phrase(tokens, end + 2, tree) if after[:1] == ["in"] and end + 2 < len(tokens) else None
    potted = held and "container" in held[1] and after[1] not in _SPACINGS
    if after[1:] and after[0] in INCHES and after[1] in DISTANCES and not potted:
        return Piece("measure", None, start, end + 2, words_of(tokens, start, end + 2))
    if start and tokens[start - 1].low == "$":
        return Piece("measure", None, start, end, words_of(tokens, start, end))
    return None


def _part_of_whole(tokens: list[Token], start: int, number: Number, end: int, tree: dict[str, Any]) -> Piece | None:
    """`two fifths`, `nine tenths of`: a part in words, which is a share."""
    at = end + 1 if end + 1 < len(tokens) and tokens[end].low == "-" and tokens[end].glued else end
    phrase = longest_phrase(tokens, at, tree) if at < len(tokens) else None
    if phrase is None or "part" not in phrase[1] or number.whole is None or number.high is not None:
        return None
    below = phrase[1]["part"]
    if not 0 < number.whole < below or (number.whole == 1) == tokens[phrase[0] - 1].low.endswith("s"):
        return None
    end = phrase[0] + (phrase[0] < len(tokens) and tokens[phrase[0]].low == "of")
    return Piece("phrase", None, start, end, words_of(tokens, start, end), {"fraction": number.whole / below})


def _one_of_unit(tokens: list[Token], at: int, tree: dict[str, Any]) -> Piece | None:
    """`a gallon`, `a handful of`, `half an ounce`, `a quarter lb`: one of a measure, or a part of one."""
    start = at
    at += tokens[at].low in ("a", "an")
    part = _PARTS.get(tokens[at].low) if at < len(tokens) else None
    if part is not None:
        at += 1
        at += at < len(tokens) and tokens[at].low == "of"
        at += at < len(tokens) and tokens[at].low in ("a", "an")
    elif at == start:
        return None
    if at >= len(tokens):
        return None
    if says_how_full(tokens, at, tree):
        at += 1
    unit = longest_phrase(tokens, at, tree)
    if unit is not None and "inch" in unit[1] and tokens[at].low != "in":
        return Piece("size", f"{1 if part is None else part:g} in", start, unit[0], words_of(tokens, start, unit[0]))
    if unit is None or "amount" not in unit[1] or tokens[at].low in ("l", "gals", "g"):
        return None
    if unit[1]["amount"] == "bag" and not (unit[0] < len(tokens) and tokens[unit[0]].low == "of"):
        return None
    more, end = (0.0, unit[0]) if part is not None else _and_part_of_it(tokens, unit[0], tree)
    words = words_of(tokens, start, end)
    return Piece("amount", ((1 if part is None else part) + more, unit[1]["amount"], Number(1)), start, end, words)


def _and_part_of_it(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[float, int]:
    """The half of `a gallon and a half`, which is none in `a gallon and a half cup`, and where it ends."""
    part, end = part_after(tokens, at)
    following = longest_phrase(tokens, end + (tokens[end].low in ("a", "an")), tree) if end < len(tokens) else None
    of_another = following is not None and following[1].keys() & {"amount", "container", "duration", "plant"}
    return (0.0, at) if of_another else (part, end)


_SMALLEST_PART: Final[int] = read_toml("small_words.toml")["quantities"]["smallest_part_of_time"]
"""No length of time is told in smaller parts than these."""
_PARTS = {"half": 0.5, "quarter": 0.25}


def _inches_up_to(tokens: list[Token], at: int, tree: dict[str, Any]) -> int | None:
    """Where `1/2 to 1 in` ends that begins with the fraction at a place; None where no inches follow it."""
    if at + 2 >= len(tokens) or tokens[at + 1].low not in ("to", "-"):
        return None
    most = read_plain(tokens, at + 2)
    unit = longest_phrase(tokens, most[1], tree) if most is not None and most[1] < len(tokens) else None
    return unit[0] if unit is not None and "inch" in unit[1] else None


def _fraction(tokens: list[Token], start: int, at: int, tree: dict[str, Any]) -> Piece:
    above, below = tokens[at].value
    end = at + 1
    ranged = _inches_up_to(tokens, at, tree)
    if ranged is not None and above < below <= _SMALLEST_PART:
        return Piece("size", f"{above / below:g} in", start, ranged, words_of(tokens, start, ranged))
    lettered = end + 1 < len(tokens) and tokens[end].low in ("l", "t") and is_glued_number(tokens[end + 1])
    aged = end < len(tokens) and opens_age(tokens, end, below, tree)
    if below and above < below and end < len(tokens) and not lettered and not aged:
        unit = longest_phrase(tokens, end, tree)
        if unit is not None:
            if "inch" in unit[1] and unit[0] < len(tokens) and tokens[unit[0]].low == "deep":
                return Piece("depth", above / below, start, unit[0] + 1, words_of(tokens, start, unit[0] + 1))
            if "inch" in unit[1] and below <= 8:
                return Piece("size", f"{above / below:g} in", start, unit[0], words_of(tokens, start, unit[0]))
            if "duration" in unit[1] and below > _SMALLEST_PART:
                # "20/30m": from twenty to thirty minutes.
                least, most = length_of(above, unit[1]["duration"]), length_of(below, unit[1]["duration"])
                return Piece("duration", (least, most), start, unit[0], words_of(tokens, start, unit[0]))
            if "duration" in unit[1]:
                length = length_of(above / below, unit[1]["duration"])
                if length is not None:
                    return Piece("duration", (length, None), start, unit[0], words_of(tokens, start, unit[0]))
            if tokens[end].low == "c":
                share = round(above / below, 4)
                return Piece("amount", (share, "cup", None), start, unit[0], words_of(tokens, start, unit[0]))
            if "amount" in unit[1] and unit[1]["amount"] != "bag":
                return Piece(
                    "amount",
                    (round(above / below, 4), unit[1]["amount"], None),
                    start,
                    unit[0],
                    words_of(tokens, start, unit[0]),
                )
        if tokens[end].low in ("an", "a") and end + 1 < len(tokens):
            unit = longest_phrase(tokens, end + 1, tree)
            if unit is not None and "duration" in unit[1]:
                length = length_of(above / below, unit[1]["duration"])
                return Piece("duration", (length, None), start, unit[0], words_of(tokens, start, unit[0]))
    return Piece("fraction", (above, below, start != at), start, end, words_of(tokens, start, end))


def phrase_piece(tokens: list[Token], at: int, end: int, leaf: Leaf) -> Piece:
    """The piece of a known phrase: a length of time where it is one by itself (`an hour and a half`)."""
    if "span" not in leaf:
        return Piece("phrase", None, at, end, words_of(tokens, at, end), leaf)
    length = Length.from_iso(leaf["span"])
    part, last = part_after(tokens, end)
    if part and length.seconds:
        length, end = Length(seconds=round(length.seconds * (1 + part))), last
    elif part and length.days:
        length, end = Length(seconds=round(length.days * 86400 * (1 + part))), last
    return Piece("duration", (length, None), at, end, words_of(tokens, at, end), leaf)
