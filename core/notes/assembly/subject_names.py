"""The names of lots or trays at a place: `14`, `14-17`, `4b`, `d`, `a to d`, `b1-b4`, `26-014`, `two thru four`.

A range is written out where its second number is the greater and it holds at most sixty.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.assembly.counted_after import ALSO, counts_one, deed_follows, is_counted, is_measure
from core.notes.assembly.pot_sizes import pots_follow
from core.notes.days.dates import read_moment
from core.notes.words.number_words import WORD_VALUES, number_of_word, read_plain
from core.notes.words.pieces import longest_phrase, statement_ends
from core.notes.words.tokens import Token
from core.vocabulary.loading import END, small_words

_RANGE: Final = frozenset({"-", "to", "thru", "through"})
_REDUCED: Final = small_words("wholes", "reduced")
_COUNT_OF: Final = small_words("wholes", "count_of")
_PEOPLE: Final = small_words("numbered", "people")
MOST_IN_RANGE: Final = 60
_NUMBERED: Final = small_words("numbered", "signs")


def read_name(
    tokens: list[Token], at: int, kind: str, tree: dict[str, Any], *, first: bool
) -> tuple[list[str], int] | None:
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token.kind == "lot":
        return _lot_range(tokens, at)
    if token.kind == "fraction" and first and token.value[1] == token.value[0] + 1:
        return [str(token.value[0]), str(token.value[1])], at + 1
    if token.kind == "fraction" and not first and at and tokens[at - 1].low == "/" and token.glued:
        return [str(token.value[0]), str(token.value[1])], at + 1
    if token.kind == "slashes" and first:
        return token.low.split("/"), at + 1
    if token.kind == "colon" and first and isinstance(token.value[0], int):
        return [str(token.value[0])], at
    if token.kind == "number" and isinstance(token.value, int) and len(token.low) <= 6:
        return _read_number_name(tokens, at, tree, first=first)
    if kind == "trays" and token.kind == "word" and 1 < len(token.low) <= 4 and token.low[1:].isdigit():
        return _lettered(tokens, at)
    if kind == "trays" and token.kind == "word" and len(token.low) == 1 and token.low.isascii():
        return _read_letter_name(tokens, at, tree, first=first)
    if token.kind == "word" and (first or not is_counted(tokens, at + 1, tree)):
        found = read_plain(tokens, at) if token.low in WORD_VALUES else None
        if found is not None and found[0] == int(found[0]):
            spoken = _spoken(tokens, int(found[0]), found[1])
            return spoken or _worded_range(tokens, int(found[0]), found[1])
    if token.low == "#" and at + 1 < len(tokens) and tokens[at + 1].kind == "number":
        return [tokens[at + 1].low], at + 2
    return None


def _spoken(tokens: list[Token], value: int, at: int) -> tuple[list[str], int] | None:
    """`two | oh four`, `twenty six | oh fourteen`, `one | twenty has fifteen`: a lot as its figures are read out."""
    zero = at < len(tokens) and tokens[at].low in _ZEROS
    place = at + zero
    after = read_plain(tokens, place) if place < len(tokens) and tokens[place].low in WORD_VALUES else None
    if after is None or after[0] != int(after[0]) or after[0] >= _HUNDRED:
        return None
    number, end = int(after[0]), after[1]
    if zero and value < _TEN:
        return ([str(value * _HUNDRED + number)], end) if number < _TEN else None
    if zero:
        return [f"{value}-{number:03}"], end
    had = end < len(tokens) and tokens[end].low in _HAVING
    return ([str(value * _HUNDRED + number)], end) if had and value < _TEN <= number else None


_TEN: Final = 10
_HUNDRED: Final = 100
_ZEROS: Final = frozenset({"oh", "o"})
_HAVING: Final = frozenset({"has", "had", "have"})


def _read_number_name(
    tokens: list[Token], at: int, tree: dict[str, Any], *, first: bool
) -> tuple[list[str], int] | None:
    """`14`, `14-17` and `14 to 17` written out, `4b`; None where the number measures or counts something."""
    token = tokens[at]
    end = at + 1
    measured = is_measure(tokens, end, tree) and not (_is_numbered_day(tokens, end) or _says_which(tokens, end))
    if measured and tokens[end].low not in ("in", "on", "from", "m", "d", "l", "h", "w", "s", "g"):
        return None
    inches = end < len(tokens) and tokens[end].low == "in"
    if not first and inches and (statement_ends(tokens, end + 1, tree) or tokens[end + 1].low == "of"):
        # `bottom watered trays 4-6, 1 in`: inches, with nothing that they could be in.
        return None
    if _points_to(tokens, at, end):
        return [str(number) for number in range(token.value, tokens[end + 1].value + 1)], end + 2
    again = _word_again(tokens, at, end)
    if again is not None and 0 < again - token.value < MOST_IN_RANGE:
        return [str(number) for number in range(token.value, again + 1)], end + 3
    if (
        end + 1 < len(tokens)
        and tokens[end].low in _RANGE
        and tokens[end + 1].kind == "number"
        and isinstance(tokens[end + 1].value, int)
    ):
        dash = tokens[end].low == "-"
        spaced_once = dash and tokens[end].glued != tokens[end + 1].glued
        high = tokens[end + 1].value
        spaced = dash and not tokens[end].glued and not tokens[end + 1].glued
        if (
            not spaced_once
            and not (spaced and end + 2 < len(tokens) and tokens[end + 2].low == "/" and tokens[end + 2].glued)
            and not (tokens[end].low == "to" and _is_no_range(tokens, at, end + 2, tree))
            and not (spaced and first and counts_one(tokens, at, end + 2, tree))
            and not (spaced and not first and _dash_counts(tokens, end + 2, tree))
            and 0 < high - token.value < MOST_IN_RANGE
        ):
            return [str(number) for number in range(token.value, high + 1)], end + 2
        if dash and first and tokens[end].glued and tokens[end + 1].glued:
            return None
    if (
        end < len(tokens)
        and tokens[end].kind == "word"
        and tokens[end].glued
        and len(tokens[end].low) == 1
        and tokens[end].low not in ("x", "f")
        and not _begins_next(tokens, end)
    ):
        # The s of "tray 4s lid" is the lid's owner, or a plural, and no part of the number.
        return [token.low if tokens[end].low == "s" else token.low + tokens[end].low], end + 1
    return [token.low], end


def _says_which(tokens: list[Token], at: int) -> bool:
    """`tray 3 | second airing`: which of several times, and no length of one."""
    return at < len(tokens) and tokens[at].low == "second" and not tokens[at].glued and tokens[at - 1].low != "1"


def _points_to(tokens: list[Token], at: int, end: int) -> bool:
    """`t4->6`: an arrow written onto the numbers of trays."""
    if end + 1 >= len(tokens) or not at or tokens[at - 1].low not in ("t", "tray", "trays"):
        return False
    arrow, last = tokens[end : end + 2]
    glued = arrow.low == "->" and arrow.glued and last.glued and isinstance(last.value, int)
    ends = end + 2 >= len(tokens) or not tokens[end + 2].glued
    return glued and ends and 0 < last.value - tokens[at].value < MOST_IN_RANGE


def _begins_next(tokens: list[Token], at: int) -> bool:
    """`t4 | t5 | t6` written onto each other: the letter of the next tray."""
    return tokens[at].low in ("t", "l") and tokens[at + 1 : at + 2] != [] and tokens[at + 1].glued


def _word_again(tokens: list[Token], at: int, end: int) -> int | None:
    """The last of `t3-t5`, `l14-l17`: a range whose letter is said again."""
    if end + 2 >= len(tokens) or not at or tokens[end].low not in _RANGE or tokens[end + 1].low not in ("t", "l"):
        return None
    last = tokens[end + 2]
    same = tokens[end + 1].low == tokens[at - 1].low and last.kind == "number" and last.glued
    return last.value if same and isinstance(last.value, int) else None


def _dash_counts(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`trays 3, 4, 5 - 15 | min each`, `lots 7, 8 - 12 | rooted`: after a list a spaced dash leads to what is told of
    it, where that counts or measures something.
    """
    phrase = longest_phrase(tokens, at, tree)
    times = phrase is not None and "times_word" in phrase[1]
    return not times and (is_counted(tokens, at, tree) or is_measure(tokens, at, tree))


def _read_letter_name(
    tokens: list[Token], at: int, tree: dict[str, Any], *, first: bool
) -> tuple[list[str], int] | None:
    """`d`, `d4`, `a to d` written out; None where the letter is a small word."""
    token = tokens[at]
    if token.low in ("a", "w") and first and _is_small_word(tokens, at, tree):
        return None
    end = at + 1
    if end < len(tokens) and tokens[end].kind == "number" and tokens[end].glued:
        return [token.low + tokens[end].low], end + 1
    if (
        end + 1 < len(tokens)
        and tokens[end].low in _RANGE
        and len(tokens[end + 1].low) == 1
        and tokens[end + 1].low.isalpha()
    ):
        low, high = ord(token.low), ord(tokens[end + 1].low)
        if low < high < low + 26 and (tokens[end].low == "-" or high - low < 26):
            return [chr(mark) for mark in range(low, high + 1)], end + 2
    ends = _ends_name(tokens, end) or deed_follows(tokens, end, tree)
    if not first and not ends and (end >= len(tokens) or read_moment(tokens, end, tree) is None):
        return None
    if not first and token.low == "i" and at and not _is_letter(tokens[at - 1 - (tokens[at - 1].low in ALSO)].low):
        return None
    return [token.low], end


def _is_letter(low: str) -> bool:
    return len(low) == 1 and low.isalpha()


def _is_numbered_day(tokens: list[Token], at: int) -> bool:
    """`lot 6 week 5`, `lot 3 day 21`: how long it has been there, and no length of time of six weeks."""
    return tokens[at].low in ("day", "week", "wk", "month") and at + 1 < len(tokens) and tokens[at + 1].kind == "number"


def _is_no_range(tokens: list[Token], at: int, end: int, tree: dict[str, Any]) -> bool:
    """`lot 3 to 4 inch`, `thinned lot 4 to 20`, `sold 1 of lot 1 to 2 kids`, `moved 12 from tray 3 to 4`: a size, what
    is left, who got it, or where it went.
    """
    one = at > 0 and not tokens[at - 1].low.endswith("s")
    people = end < len(tokens) and tokens[end].low in _PEOPLE
    inches = one and [token.low for token in tokens[end : end + 1]] == ["in"] and pots_follow(tokens, end + 1, tree)
    went = one and _moved_from(tokens, at, tree)
    return people or inches or went or _is_size(tokens, end, tree) or _thinned_to(tokens, at)


def _moved_from(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`moved 12 from tray | 3 to 4`, `half of tray | 3 to 4`: where they stood, and where they went."""
    lead = at - 1
    while lead > 1 and tokens[lead].low in _NUMBERED:
        lead -= 1
    if lead < 1 or tokens[lead - 1].low not in ("from", "of") or tokens[lead].low != "tray":
        return False
    roles = (tree.get(token.low, {}).get(END, {}) for token in tokens[:at])
    return any("act" in leaf and leaf["act"].act == "move" for leaf in roles)


def _thinned_to(tokens: list[Token], at: int) -> bool:
    """`thinned lot | 4 to 20`, `change the count on lot | 9 to 44`: what is left of one, or what is put right."""
    lead = at - 1
    while lead > 0 and tokens[lead].low in _NUMBERED:
        lead -= 1
    lead -= tokens[lead].low in ("lot", "tray")
    while 0 < lead < at - 1 and tokens[lead].low in _COUNT_OF:
        lead -= 1
    return 0 <= lead < at - 1 and tokens[lead].low in _REDUCED


def _is_size(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`lot 3 to 4 inch`, `lot 3 to 1 gal`: a size that it was potted to, no range."""
    unit = longest_phrase(tokens, at, tree)
    if unit is None or unit[1].keys().isdisjoint(("inch", "amount", "pot_size")):
        return False
    return tokens[at].low != "in" or statement_ends(tokens, at + 1, tree) or _joins_size(tokens, at + 1, tree)


def _joins_size(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`to 4 in | and gal`, `to 4 in | and 6 to gal`: another size, or so many to another."""
    if at + 1 >= len(tokens) or tokens[at].low not in ("and", "&", "+"):
        return False
    size = at + 1 + (tokens[at + 1].kind == "number")
    size += size < len(tokens) and tokens[size].low in ("to", "into")
    named = longest_phrase(tokens, size, tree) if size < len(tokens) else None
    return named is not None and not named[1].keys().isdisjoint(("inch", "amount", "pot_size"))


def _lettered(tokens: list[Token], at: int) -> tuple[list[str], int]:
    """`b3`, or `b1-b4` and `b1 to b4` written out."""
    letter, low = tokens[at].low[0], int(tokens[at].low[1:])
    if at + 2 < len(tokens) and tokens[at + 1].low in _RANGE:
        last = tokens[at + 2].low
        high = int(last[1:]) if last[:1] == letter and last[1:].isdigit() else 0
        if 0 < high - low < MOST_IN_RANGE:
            return [f"{letter}{number}" for number in range(low, high + 1)], at + 3
    return [tokens[at].low], at + 1


def _worded_range(tokens: list[Token], low: int, end: int) -> tuple[list[str], int]:
    """`two`, or `two thru four` written out."""
    if end + 1 < len(tokens) and tokens[end].low in _RANGE and tokens[end].low != "-":
        high = number_of_word(tokens[end + 1].low)
        if high is not None and 0 < high[0] - low < MOST_IN_RANGE:
            return [str(number) for number in range(low, high[0] + 1)], end + 2
    return [str(low)], end


def _ends_name(tokens: list[Token], at: int) -> bool:
    return (
        at >= len(tokens)
        or tokens[at].kind != "word"
        or tokens[at].low in ("and", "to", "is", "was", "off", "on", "for", "at", "dome", "vents", "misted", "watered")
    )


def _is_small_word(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`trays a bit dry`, `sanitized trays w bleach`, `trays w 24 cells`: the letter is "a", or short for "with"."""
    if deed_follows(tokens, at + 1, tree) or (at + 2 < len(tokens) and _ranges_letters(tokens, at)):
        return False
    return not _ends_name(tokens, at + 1) or (tokens[at].low == "w" and tokens[at + 1].kind == "number")


def _ranges_letters(tokens: list[Token], at: int) -> bool:
    """`trays a thru d`."""
    return tokens[at + 1].low in _RANGE and tokens[at + 1].low != "to" and _is_letter(tokens[at + 2].low)


def _lot_range(tokens: list[Token], at: int) -> tuple[list[str], int]:
    year, number = tokens[at].low.split("-")
    end = at + 1
    if end + 1 < len(tokens) and tokens[end].low in _RANGE:
        second = tokens[end + 1]
        high = 0
        if second.kind == "lot" and second.low.startswith(year + "-"):
            high = int(second.low.split("-")[1])
        elif second.kind == "number" and isinstance(second.value, int) and len(second.low) == 3:
            high = second.value
        if 0 < high - int(number) < MOST_IN_RANGE:
            return [f"{year}-{one:03d}" for one in range(int(number), high + 1)], end + 2
    named = [tokens[at].low]
    while end + 1 < len(tokens) and _joins_lots(tokens[end]) and _is_short_lot(tokens[end + 1]):
        named.append(f"{year}-{tokens[end + 1].value:03d}")
        end += 2
    return named, end


def _joins_lots(mark: Token) -> bool:
    """The mark of `26-014,15` and `26-014/015`."""
    return mark.low in (",", "/") and mark.glued


def _is_short_lot(token: Token) -> bool:
    """The 15 of `26-014,15`: a lot of the same year, right after the comma."""
    return token.kind == "number" and token.glued and isinstance(token.value, int) and len(token.low) in (2, 3)
