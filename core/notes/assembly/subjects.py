"""Which lots and trays does a note name: `lot 14`, `#14`, `lots 14-17`, `trays 1, 2 and 3`, `tray d`, `all trays`.

A list goes on over `,` `&` `and` `+`; a number that counts something (`tray 1, 3 wilted`) ends it.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.assembly.bare_numbers import says_no_more_of
from core.notes.assembly.counted_after import (
    ALSO,
    SUBJECT_WORDS,
    before_counts,
    counts_after,
    counts_in_row,
    is_counted,
    is_grade,
    is_measure,
    state_of_all,
)
from core.notes.assembly.rows_after_one import deed_before, deed_of_care, row_after_one
from core.notes.assembly.subject_names import read_name
from core.notes.words.number_words import number_of_word
from core.notes.words.numbers import read_number
from core.notes.words.pieces import longest_phrase, statement_ends
from core.notes.words.tokens import Token
from core.vocabulary.loading import END, small_words

_NUMBERED: Final = small_words("numbered", "signs")
_SAID_OF_ONE: Final = small_words("beside", "said_of_one")
_OF_ONE_ALONE: Final = small_words("beside", "of_one_alone")
_OF_ONE_WITH_MORE: Final = small_words("beside", "of_one_with_more")
_TO_COME: Final = small_words("beside", "to_come")
_ABOUT: Final = frozenset({"about", "abt", "~", "around", "approx", "roughly"})
_HALVES: Final = frozenset({"am", "pm"})
_MOST_BETWEEN: Final = 3
"""Within so many words after a lot the next of a list stands (`lot 12, and 13`)."""
_FOR_ONE: Final = {"lot": "lots", "tray": "trays"}
_LONGEST: Final = 6
"""No lot and no tray has a number of more figures."""
_COUNTING: Final = frozenset({"count", "counts", "counted", "recount", "recounts", "tally"})
"""Before one lot these tell that counts follow it (`two counts | lot 9 44 and 47`)."""
_COUNTED_DEEDS: Final = frozenset({"pot", "sell", "give", "plant_out", "lose"})
_FAR: Final = 8
_NO_QUALITY: Final = frozenset({"act", "shared", "filler", "weekday", "day", "closes", "remarks"})


def read_subjects(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[str, tuple[str, ...], int] | None:
    """The lots or trays named at a place: the key, their numbers, and where the words end; None where none are."""
    word = tokens[at].low
    if word in _FOR_ONE and _one_alone(tokens, at + 1):
        return _FOR_ONE[word], (tokens[at + 1].low,), at + 2
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
            return _every(tokens, at, tree)
        else:
            return None
    place = at + 1
    while (
        place < len(tokens)
        and (
            (tokens[place].low in _NUMBERED and (tokens[place].low != "." or _is_point(tokens, place, at)))
            or _hyphened(tokens, place)
        )
        and place - at <= 2
    ):
        place += 1
    plural = word.endswith("s")
    counted = at > 0 and (tokens[at - 1].kind == "number" or number_of_word(tokens[at - 1].low) is not None)
    if plural and counted and counts_after(tokens, place, tree):
        return None
    if plural and place + 1 < len(tokens) and tokens[place].low in ("x", "×") and tokens[place + 1].kind == "number":
        # "4 trays x 24".
        return None
    named: list[str] = []
    one = read_name(tokens, place, kind, tree, first=True)
    if one is None:
        return None
    named.extend(one[0])
    place = one[1]
    listed = not plural and any(token.kind == "number" for token in tokens[place : place + _MOST_BETWEEN])
    listed = listed and not (at and tokens[at - 1].low in _COUNTING)
    cared = listed and deed_of_care(tokens, at, tree)
    row = row_after_one(tokens, place, kind, tree, named, cared) if listed else None
    if row is not None:
        return kind, tuple(dict.fromkeys((*named, *row[0]))), row[1]
    ranged = closed = len(named) > 1
    while True:
        counted = closed and deed_before(tokens, at, tree) in _COUNTED_DEEDS
        if closed and counts_in_row(tokens, place, tree, len(named), alone=counted):
            break
        if plural and (last := before_counts(tokens, place, tree, len(named))) is not None:
            return kind, tuple(dict.fromkeys((*named, tokens[last].low))), last + 1
        following = _next_in_list(
            tokens, place, kind, tree, plural or len(named) > 1, bool(plural), len(named) > 1, heads
        )
        if following is None or set(following[0]) <= set(named) or _some_in(tokens, following[1], named, tree):
            break
        if closed and _comes_later(tokens, following[1]):
            break
        if ranged and following[1] == place + 1 and counts_after(tokens, following[1], tree):
            # "lots 4-6 12 14 rooted": whether the 12 is a lot or a count is not told.
            break
        if any(token.low in ("and", "&") for token in tokens[place : place + 2]):
            closed = True
        named.extend(following[0])
        place = following[1]
    return kind, tuple(dict.fromkeys(named)), place


def _one_alone(tokens: list[Token], at: int) -> bool:
    """Whether the number at a place names the one lot or tray that is meant: no other number is near, and the word
    after it goes on with no list.
    """
    number = tokens[at].low if at < len(tokens) else ""
    if not number.isdigit() or tokens[at].kind != "number" or len(number) > _LONGEST:
        return False
    after = tokens[at + 1 : at + 1 + _MOST_BETWEEN]
    if not after or after[0].kind == "line":
        return True
    near = any(token.kind != "word" for token in after)
    return not near and not after[0].glued and says_no_more_of(after[0].low)


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


def _is_point(tokens: list[Token], place: int, at: int) -> bool:
    """The point of `tray no. 2`, which ends no sentence."""
    return tokens[place].glued and place > at + 1


def _hyphened(tokens: list[Token], at: int) -> bool:
    """The hyphen of `tray-2`."""
    return tokens[at].low == "-" and tokens[at].glued and at + 1 < len(tokens) and tokens[at + 1].glued


def _every(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[str, tuple[str, ...], int] | None:
    place = at + 1
    if tokens[place].low in ("the", "of", "my", "our") and place + 1 < len(tokens):
        place += 1
        if tokens[place].low == "the" and place + 1 < len(tokens):
            place += 1
    word = tokens[place].low
    if tokens[at].low != "both" and word in ("trays", "lots", "tray", "lot"):
        if word in ("tray", "lot") and tokens[at].low == "all":
            return None
        hour = place + 2 < len(tokens) and tokens[place + 2].low in _HALVES | {"x", "times"}
        timed = tokens[at].low == "every" and _lasts(tokens, place + 1, tree)
        if place + 1 < len(tokens) and tokens[place + 1].kind in ("number", "lot") and not (hour or timed):
            return None
        return SUBJECT_WORDS[word], ("all",), place + 1
    return None


def _lasts(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """The `20-30 min` of `aired every tray 20-30 min`: how long, and no trays."""
    number = read_number(tokens, at, tree) if at < len(tokens) else None
    return number is not None and "duration" in _roles_at(tokens, number[1], tree)


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
    if is_grade(tokens, place):
        return None
    if kind == "trays" and _is_short_lot(tokens, at, place):
        return None
    headed = place + 1 < len(tokens) and tokens[place].kind == "number" and tokens[place + 1].low == ":"
    listing = listing or (marks == [","] and tokens[at].glued and tokens[place].glued)
    if marks == [","] and not listing and tokens[place].kind != "lot" and not headed:
        return None
    again = False
    if marks == [","] and _lid_follows(tokens, place, kind, tree):
        return None
    if marks and place + 1 < len(tokens) and _kind_again(tokens, place) == kind:
        again, place = True, place + 1
    named = read_name(tokens, place, kind, tree, first=False)
    if named is None or (tokens[place].low == "a" and not again) or _speaks(tokens, place):
        return None
    if _lost_to(tokens, named[1], tree) and any(_lost_to(tokens, one, tree) for one in range(max(0, at - _FAR), at)):
        # "lost 3 to slugs lot 22 | and 2 to mice lot 23".
        return None
    if named[1] < len(tokens) and tokens[named[1]].low in _HALVES and tokens[place].kind == "number":
        # "trays 1-4 | 10am", "lots 12 and 13, | 11am misted tray 5".
        return None
    lone = plural and not listing_more
    second = bool(marks) and marks[0] in ("and", "&")
    if (
        not bare
        and is_counted(tokens, named[1], tree, plural)
        and not ((marks == ["/"] or (marks == [","] and tokens[at].glued)) and _has_own_count(tokens, named[1], tree))
        and not (lone and not is_measure(tokens, named[1], tree, listed=second))
        and not (plural and listing_more and marks[-1] in ("and", "&") and state_of_all(tokens, named[1], tree))
        and not (second and heads and _in_turn(tokens, at, place) and state_of_all(tokens, named[1], tree))
    ):
        return None
    counts = is_counted(tokens, named[1], tree) and not _of_lot(tokens, named[1])
    if bare and (counts or not (tokens[place].kind in ("number", "lot") or _worded_row(tokens, place))):
        return None
    joined = heads and marks and marks[0] in ("and", "&", "+")
    single = plural and not listing_more and not again
    if marks == [","] and not (heads or single) and _deed_begins(tokens, at, named[1], tree, again=again):
        return None
    if marks == [","] and not heads and _tells_of_one(tokens, named[1], tree):
        return None
    stands = marks == [","] and named[1] < len(tokens) and tokens[named[1]].low in _OF_ONE_ALONE
    if stands and statement_ends(tokens, named[1] + 1, tree) and _told_before(tokens, at, tree, "act"):
        return None
    following = tokens[named[1]].low if named[1] < len(tokens) else ""
    if following == "out" and [token.kind for token in tokens[named[1] + 1 : named[1] + 3]] == ["word", "number"]:
        # "sowed 69 ceanothus in t22 and | 12 out of 22 germinated".
        return None
    if again and marks[:1] in (["and"], ["&"], [","]) and _told_of_next(tokens, at, named[1], tree):
        return None
    if again and not joined and (following == ":" or (following in _SAID_OF_ONE and len(named[0]) == 1 and not heads)):
        return None
    return named


def _told_of_next(tokens: list[Token], at: int, end: int, tree: dict[str, Any]) -> bool:
    """`wilted in t38 and | tray 25 vents shut`, `potted lot 3 and | lot 4: 19 of 31 alive`: what is told of the second
    alone, after a deed with the first.
    """
    while end + 1 < len(tokens) and tokens[end].low in ("and", "&") and tokens[end + 1].kind == "number":
        end += 2
    if end >= len(tokens) or not any(_told_before(tokens, at, tree, told) for told in ("act", "shared", "vent_noun")):
        return False
    if tokens[end].low == ":" or tokens[end].kind == "fraction":
        return True
    while end < len(tokens) and (tokens[end].kind == "number" or tokens[end].low in _ABOUT):
        end += 1
    return not _roles_at(tokens, end, tree).isdisjoint(("act", "shared", "noun", "vent_noun", "cover_noun"))


def _is_short_lot(tokens: list[Token], at: int, place: int) -> bool:
    """`tray 4 and | l6`: a lot, where the trays before have no letters."""
    before, last = tokens[at - 2], tokens[at - 1]
    numbered = last.kind == "number" and (not last.glued or before.low in ("#", "t", "-", "/"))
    return numbered and tokens[place].low == "l" and tokens[place + 1 : place + 2] != [] and tokens[place + 1].glued


def _has_own_count(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`t12/13 | germ 20/72`: what is told of both has its count after it."""
    phrase = longest_phrase(tokens, at, tree)
    if phrase is None or phrase[1].keys().isdisjoint(("act", "noun")) or phrase[0] >= len(tokens):
        return False
    return tokens[phrase[0]].kind in ("number", "fraction") and statement_ends(tokens, phrase[0] + 1, tree)


def _worded_row(tokens: list[Token], at: int) -> bool:
    """`trays one two and three`: a number word right after another."""
    return all(number_of_word(token.low) is not None for token in tokens[at - 1 : at + 1])


def _lost_to(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`to slugs`: what took so many."""
    return at + 1 < len(tokens) and tokens[at].low == "to" and "cause" in _roles_at(tokens, at + 1, tree)


def _lid_follows(tokens: list[Token], place: int, kind: str, tree: dict[str, Any]) -> bool:
    """`vents half trays 7 and 8, | tray 9 lid off`: another tray, and its cover."""
    if place + 1 >= len(tokens) or _kind_again(tokens, place) != kind:
        return False
    named = read_name(tokens, place + 1, kind, tree, first=False)
    return named is not None and not _roles_at(tokens, named[1], tree).isdisjoint(("cover_noun", "vent_noun"))


def _in_turn(tokens: list[Token], at: int, place: int) -> bool:
    """`tray 4 | and 5 wilting`: the next number after the one before."""
    before, after = tokens[at - 1].value, tokens[place].value
    return isinstance(before, int) and isinstance(after, int) and after == before + 1


def _speaks(tokens: list[Token], at: int) -> bool:
    """`trays 4-6, i pruned lot 9`: whoever texts, and no tray; after tray h it is one."""
    return tokens[at].low == "i" and not any(token.low == "h" for token in tokens[max(0, at - 2) : at])


def _some_in(tokens: list[Token], at: int, named: list[str], tree: dict[str, Any]) -> bool:
    """`lots 14-16, 2 | in 15 rotted`, `trays 11 and 12, 4 | in 13`: so many in one of those named, or in another."""
    if at + 1 >= len(tokens) or tokens[at].low != "in":
        return False
    another = tokens[at + 1].kind == "number" and statement_ends(tokens, at + 2, tree)
    return tokens[at + 1].low in named or another


def _comes_later(tokens: list[Token], at: int) -> bool:
    """`potted lots 3 and 4, 5 | and 6 next week`: what is to be done to those after another list."""
    if at + 2 >= len(tokens) or tokens[at].low not in ("and", "&") or tokens[at + 1].kind != "number":
        return False
    return tokens[at + 2].low in _TO_COME


def _tells_of_one(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`pinched lots 4 and 5, 6 | too small`, `cleared lot 4, lot 6 | still has gnats`: words about the last alone."""
    if at >= len(tokens) or tokens[at].low in _SAID_OF_ONE:
        return at < len(tokens)
    if tokens[at].low in _TO_COME:
        return True
    if tokens[at].low not in _OF_ONE_WITH_MORE or statement_ends(tokens, at + 1, tree):
        return False
    return tokens[at].low != "too" or _roles_at(tokens, at + 1, tree).isdisjoint(_NO_QUALITY)


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
        told = (_told_before(tokens, at, tree, way) for way in ("act", "cover_noun", "vent_noun"))
        return not phrase[1]["act"].counts_before and any(told)
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
