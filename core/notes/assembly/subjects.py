"""Which lots and trays does a note name: `lot 14`, `#14`, `lots 14-17`, `trays 1, 2 and 3`, `tray d`, `all trays`.

Rules
1. A list goes on over `,` `&` `and` `+`; a number that counts something (`tray 1, 3 wilted`) ends it.
2. A range is written out where its second number is the greater and it holds at most sixty.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.assembly.counted_after import (
    ALSO,
    SUBJECT_WORDS,
    before_counts,
    counts_after,
    counts_in_row,
    counts_one,
    deed_follows,
    is_counted,
    is_measure,
    state_of_all,
)
from core.notes.words.number_words import WORD_VALUES, number_of_word, read_plain
from core.notes.words.pieces import longest_phrase, statement_ends
from core.notes.words.tokens import Token
from core.vocabulary.loading import END, small_words

_SAID_OF_ONE: Final = small_words("beside", "said_of_one")
_RANGE: Final = frozenset({"-", "to", "thru", "through"})
MOST_IN_RANGE: Final = 60


def read_subjects(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[str, tuple[str, ...], int] | None:
    """The lots or trays named at a place: the key, their numbers, and where the words end; None where none are."""
    word = tokens[at].low
    heads = _may_head(tokens, at, tree)
    kind = SUBJECT_WORDS.get(word)
    if word == "#" and _numbers_a_thing(tokens, at, tree):
        return None
    if kind is None:
        if word in ("l", "t") and at + 1 < len(tokens) and tokens[at + 1].kind == "number" and tokens[at + 1].glued:
            kind = "lots" if word == "l" else "trays"
        elif tokens[at].kind == "lot":
            kind = "lots"
            at -= 1
        elif word in ("all", "every", "both") and at + 1 < len(tokens):
            return _every(tokens, at)
        else:
            return None
    place = at + 1
    while (
        place < len(tokens)
        and (
            tokens[place].low in ("no", "nos", "num", "number", "numbers", "#")
            or (tokens[place].low == "." and tokens[place].glued and place > at + 1)
            or _hyphened(tokens, place)
        )
        and place - at <= 2
    ):
        place += 1
    plural = word.endswith("s")
    if plural and at and tokens[at - 1].kind == "number" and counts_after(tokens, place, tree):
        return None
    named: list[str] = []
    one = _read_name(tokens, place, kind, tree, first=True)
    if one is None:
        return None
    named.extend(one[0])
    place = one[1]
    closed = False
    while True:
        if plural and closed and counts_in_row(tokens, place, tree, len(named)):
            break
        if plural and (last := before_counts(tokens, place, tree, len(named))) is not None:
            return kind, tuple(dict.fromkeys((*named, tokens[last].low))), last + 1
        following = _next_in_list(
            tokens, place, kind, tree, plural or len(named) > 1, bool(plural), len(named) > 1, heads
        )
        if following is None or set(following[0]) <= set(named):
            break
        if any(token.low in ("and", "&") for token in tokens[place : place + 2]):
            closed = True
        named.extend(following[0])
        place = following[1]
    return kind, tuple(dict.fromkeys(named)), place


def _may_head(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether a lot at a place may open its statement: it belongs to nothing before it (as in `lost 3 in lot 14`)."""
    if at == 0 or tokens[at - 1].kind in ("line", "mark"):
        return True
    before = tree.get(tokens[at - 1].low, {}).get(END, {})
    led = tokens[at - 1].low in ("in", "of", "from", "on", "to", "for", "off", "into", "with")
    return tokens[at - 1].kind == "word" and not led and before.keys().isdisjoint(("act", "shared", "noun"))


def _numbers_a_thing(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`#1 cans`, `#2 powder`: a size of pot or a make of hormone, no lot."""
    named = longest_phrase(tokens, at, tree)
    if named is not None and "pot_size" in named[1]:
        return True
    after = longest_phrase(tokens, at + 2, tree) if at + 2 < len(tokens) else None
    roles = after[1].keys() if after is not None else set()
    return "noun" not in roles and not {"hormone_form", "hormone", "hormone_name"}.isdisjoint(roles)


def _hyphened(tokens: list[Token], at: int) -> bool:
    """The hyphen of `tray-2`."""
    return tokens[at].low == "-" and tokens[at].glued and at + 1 < len(tokens) and tokens[at + 1].glued


def _every(tokens: list[Token], at: int) -> tuple[str, tuple[str, ...], int] | None:
    place = at + 1
    if tokens[place].low in ("the", "of", "my", "our") and place + 1 < len(tokens):
        place += 1
        if tokens[place].low == "the" and place + 1 < len(tokens):
            place += 1
    word = tokens[place].low
    if tokens[at].low != "both" and word in ("trays", "lots", "tray", "lot"):
        if word in ("tray", "lot") and tokens[at].low == "all":
            return None
        hour = place + 2 < len(tokens) and tokens[place + 2].low in ("am", "pm", "x", "times")
        if place + 1 < len(tokens) and tokens[place + 1].kind in ("number", "lot") and not hour:
            return None
        return SUBJECT_WORDS[word], ("all",), place + 1
    return None


def _read_name(
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
            return _worded_range(tokens, int(found[0]), found[1])
    if token.low == "#" and at + 1 < len(tokens) and tokens[at + 1].kind == "number":
        return [tokens[at + 1].low], at + 2
    return None


def _read_number_name(
    tokens: list[Token], at: int, tree: dict[str, Any], *, first: bool
) -> tuple[list[str], int] | None:
    """`14`, `14-17` and `14 to 17` written out, `4b`; None where the number measures or counts something."""
    token = tokens[at]
    end = at + 1
    measured = is_measure(tokens, end, tree) and not _is_numbered_day(tokens, end)
    if measured and tokens[end].low not in ("in", "on", "from", "m", "d", "l", "h", "w", "s", "g"):
        return None
    inches = end < len(tokens) and tokens[end].low == "in"
    if not first and inches and (statement_ends(tokens, end + 1, tree) or tokens[end + 1].low == "of"):
        # `bottom watered trays 4-6, 1 in`: inches, with nothing that they could be in.
        return None
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
            and not (tokens[end].low == "to" and _is_size(tokens, end + 2, tree))
            and not (spaced and first and counts_one(tokens, at, end + 2, tree))
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
    ):
        # The s of "tray 4s lid" is the lid's owner, or a plural, and no part of the number.
        return [token.low if tokens[end].low == "s" else token.low + tokens[end].low], end + 1
    return [token.low], end


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
    if not first and not _ends_name(tokens, end) and not deed_follows(tokens, end, tree):
        return None
    if not first and token.low == "i" and at and not _is_letter(tokens[at - 1 - (tokens[at - 1].low in ALSO)].low):
        return None
    return [token.low], end


def _is_letter(low: str) -> bool:
    return len(low) == 1 and low.isalpha()


def _is_numbered_day(tokens: list[Token], at: int) -> bool:
    """`lot 6 week 5`, `lot 3 day 21`: how long it has been there, and no length of time of six weeks."""
    return tokens[at].low in ("day", "week", "wk", "month") and at + 1 < len(tokens) and tokens[at + 1].kind == "number"


def _is_size(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`lot 3 to 4 inch`, `lot 3 to 1 gal`: a size that it was potted to, no range."""
    unit = longest_phrase(tokens, at, tree)
    return unit is not None and not unit[1].keys().isdisjoint(("inch", "amount", "pot_size")) and tokens[at].low != "in"


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
    return [tokens[at].low], end


def _next_in_list(
    tokens: list[Token],
    at: int,
    kind: str,
    tree: dict[str, Any],
    listing: bool,
    plural: bool,
    listing_more: bool,
    heads: bool,
) -> tuple[list[str], int] | None:
    if at >= len(tokens):
        return None
    place = at
    marks: list[str] = []
    while place < len(tokens) and tokens[place].low in ALSO and len(marks) < 2:
        marks.append(tokens[place].low)
        place += 1
    if place >= len(tokens):
        return None
    bare = not marks
    if bare and not plural:
        return None
    headed = place + 1 < len(tokens) and tokens[place].kind == "number" and tokens[place + 1].low == ":"
    if marks == [","] and not listing and tokens[place].kind != "lot" and not headed:
        return None
    again = False
    if marks and place + 1 < len(tokens) and _kind_again(tokens, place) == kind:
        again, place = True, place + 1
    named = _read_name(tokens, place, kind, tree, first=False)
    if named is None or (tokens[place].low == "a" and not again) or _speaks(tokens, place):
        return None
    lone = plural and not listing_more
    second = bool(marks) and marks[0] in ("and", "&")
    if (
        not bare
        and is_counted(tokens, named[1], tree, plural)
        and not (lone and not is_measure(tokens, named[1], tree, listed=second))
        and not (plural and listing_more and marks[-1] in ("and", "&") and state_of_all(tokens, named[1], tree))
    ):
        return None
    counts = is_counted(tokens, named[1], tree) and not _of_lot(tokens, named[1])
    if bare and (counts or tokens[place].kind not in ("number", "lot")):
        return None
    joined = heads and marks and marks[0] in ("and", "&", "+")
    single = plural and not listing_more and not again
    if marks == [","] and not (heads or single) and _deed_begins(tokens, at, named[1], tree, again=again):
        return None
    following = tokens[named[1]].low if named[1] < len(tokens) else ""
    if again and not joined and (following == ":" or (following in _SAID_OF_ONE and len(named[0]) == 1 and not heads)):
        return None
    return named


def _speaks(tokens: list[Token], at: int) -> bool:
    """`trays 4-6, i pruned lot 9`: whoever texts, and no tray; after tray h it is one."""
    return tokens[at].low == "i" and not any(token.low == "h" for token in tokens[max(0, at - 2) : at])


def _deed_begins(tokens: list[Token], at: int, end: int, tree: dict[str, Any], *, again: bool) -> bool:
    """`misted lots 12 and 13, lot 14 watered`, `vents half on trays 3 and 4, 5 and 6 shut`: those after the comma are
    of the deed, the cover or the way after them.
    """
    if again and not _roles_at(tokens, end, tree).isdisjoint(("act", "shared", "cover_noun", "vent_noun")):
        return True
    turned = end < len(tokens) and tokens[end].low in ("on", "off") and statement_ends(tokens, end + 1, tree)
    if turned and _told_before(tokens, at, tree, "cover_noun"):
        return True
    while end + 1 < len(tokens) and tokens[end].low in ("and", "&") and tokens[end + 1].kind == "number":
        end += 2
    phrase = longest_phrase(tokens, end, tree)
    if phrase is not None and "act" in phrase[1] and statement_ends(tokens, phrase[0], tree):
        return not phrase[1]["act"].counts_before and _told_before(tokens, at, tree, "act")
    ways = _roles_at(tokens, end, tree) & {"vent_open", "method"}
    return any(_told_before(tokens, at, tree, way) for way in ways)


def _told_before(tokens: list[Token], at: int, tree: dict[str, Any], way: str) -> bool:
    """Whether a statement up to a place says already how far or in what way (`vents half on`, `misted`)."""
    start = at
    while start and tokens[start - 1].low not in (";", ".", "!") and tokens[start - 1].kind != "line":
        start -= 1
        leaf = (longest_phrase(tokens, start, tree, at) or (0, {}))[1]
        if way in leaf or ("act" in leaf and way in leaf["act"].says):
            return True
    return False


def _roles_at(tokens: list[Token], at: int, tree: dict[str, Any]) -> set[str]:
    phrase = longest_phrase(tokens, at, tree)
    return set(phrase[1]) if phrase is not None else set()


def _of_lot(tokens: list[Token], at: int) -> bool:
    """`trays 3 4 of lot 44`: the trays of a lot."""
    return [token.low for token in tokens[at : at + 2]] == ["of", "lot"]


def _kind_again(tokens: list[Token], at: int) -> str | None:
    """What the word for lots or trays at a place names, said again in a list (`lot 14 and lot 15`, `L14 & L15`)."""
    if tokens[at].low in ("l", "t") and tokens[at + 1].kind == "number" and tokens[at + 1].glued:
        return "lots" if tokens[at].low == "l" else "trays"
    return SUBJECT_WORDS.get(tokens[at].low)
