"""Which numbers are the name of something: `day 30`, `row 1`, `zone 2`, `cell 4`, and `only 13` of the lots told of.

Such a number is no count, and no lot but where it is one of the lots named before it.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import COUNTS, NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.said import end_of_statement
from core.notes.words.steps import looks_for
from core.vocabulary import Leaf
from core.vocabulary.loading import read_toml, small_words

_TIMES: Final = small_words("numbered", "times")
_THINGS: Final = small_words("numbered", "parts") | _TIMES
_PEOPLE: Final = small_words("numbered", "people")
_RANKED: Final = frozenset(read_toml("date_words.toml")["ranked"])
_OTHER_THINGS: Final = small_words("numbered", "things")
_PAPERS: Final = small_words("numbered", "papers")
_VERBS_TOO: Final = small_words("numbered", "verbs_too")
_PARTS: Final = _THINGS | _VERBS_TOO
_NAMED: Final = _PARTS | {f"{part}s" for part in _PARTS} | _OTHER_THINGS | _PAPERS | {"bay"}
_NUMBERS: Final = frozenset({"number", "rank"})
"""A thing and its number begin with one of these, or with a number where they are people (`3 volunteers`)."""
_LEAST_DIGITS: Final = 2
"""Of lots with fewer digits a few plants may wilt as well."""
_ONE_ALONE: Final = small_words("beside", "said_of_one")


@looks_for(
    "=rank", "bay", any_of=_PARTS | {f"{part}s" for part in _PARTS} | _PEOPLE | _OTHER_THINGS,
    beside=("=number", "=rank"),
)  # fmt: skip
def join_numbered(pieces: list[Piece]) -> None:
    """Makes one unread piece of each thing and its number, in place."""
    place = 0
    while place + 1 < len(pieces):
        thing = pieces[place]
        end = _thing_until(pieces, place) if thing.kind in _NUMBERS or thing.low in _NAMED else 0
        if end:
            run = pieces[place:end]
            low = " ".join(piece.low for piece in run)
            whole = run[0].low in _TIMES | _OTHER_THINGS or run[0].kind == "number"
            roles: Leaf = NO_ROLES if whole else {"of_a_part": True}
            kind = "word" if run[0].low in _OTHER_THINGS - _PAPERS else "numbered"
            pieces[place:end] = [Piece(kind, None, run[0].first, run[-1].last, low, roles)]
        place += 1


@looks_for("=several", beside=("=number",))
def name_one_again(pieces: list[Piece]) -> None:
    """`checked lots 12-15, only 13 has roots`: a number that names one of several lots told of, in place."""
    for place, piece in enumerate(pieces):
        if piece.kind != "number":
            continue
        named = _named_again(pieces, place)
        if named:
            piece.kind, piece.value = named, (piece.low,)
        elif _either(pieces, place):
            deed = pieces[place - 1].roles.get("act")
            cares = deed is not None and deed.act in COUNTLESS
            piece.kind, piece.value = (_kind_of(pieces, piece.low), (piece.low,)) if cares else ("either", None)


@looks_for("!wilt", beside=("=number",))
def name_wilted_one(pieces: list[Piece]) -> None:
    """`lids off 14, 15, 18 for 15 min, 18 wilted`: one of a few lots listed one by one, and hardly so many plants."""
    for place in range(2, len(pieces) - 1):
        piece, word = pieces[place], pieces[place + 1].roles.get("act")
        wilted = word is not None and word.act == "wilt" and pieces[place - 1].kind == "break"
        if not wilted or piece.kind != "number" or not piece.low.isdigit() or len(piece.low) < _LEAST_DIGITS:
            continue
        if any(one.kind in SUBJECTS for one in pieces[place + 1 : end_of_statement(pieces, place)]):
            # "52 wilted in t7".
            continue
        if any(one.kind == "lots" and piece.low in one.value and "-" not in one.low for one in pieces[:place]):
            piece.kind, piece.value = "lots", (piece.low,)


def _thing_until(pieces: list[Piece], place: int) -> int:
    """Where `row 3`, `rows 1-3`, `cells 4 and 5`, `3 volunteers` or `2nd batch` ends; 0 where none begins."""
    thing, number = pieces[place], pieces[place + 1]
    if thing.kind == "number" and " ".join(piece.low for piece in pieces[place + 1 : place + 3]) in _PEOPLE:
        return place + 3
    if thing.kind == "number" and number.low in _PEOPLE:
        return place + 2
    if thing.kind == "rank" and number.low.split(" ")[0] in _RANKED:
        return place + 2
    if thing.low == "bay" and (not place or pieces[place - 1].kind in ("break", "moment")) and number.low.isdigit():
        return place + 2 if place + 2 < len(pieces) and pieces[place + 2].kind in ("lots", "trays") else 0
    if thing.low in _PAPERS and number.low == "no" and place + 2 < len(pieces) and pieces[place + 2].low.isdigit():
        return place + 3
    if thing.low in _OTHER_THINGS and number.low.removeprefix("#").isdigit():
        return place + 2
    several = thing.low.endswith("s") and thing.low[:-1] in _PARTS
    if not several and thing.low not in _PARTS:
        return 0
    if number.kind != "number" or number.value.whole is None or (place and pieces[place - 1].kind in COUNTS):
        return 0
    end = place + 2
    while _goes_on(pieces, end, several=several):
        end += 2
    listed = end > place + 2 or (number.value.high is not None and number.value.of is None)
    if several or not number.low.isdigit():
        return end if several and listed else 0
    return end if thing.low in _THINGS or _of_state_after(pieces, end) else 0


def _goes_on(pieces: list[Piece], at: int, *, several: bool) -> bool:
    """`row 3 and 4`: another number of a list, which counts nothing itself; of `rows 3 and 4 dead` it is a row too."""
    if (
        at + 1 >= len(pieces)
        or pieces[at].low not in ("and", "&", "thru", "through", "to", "-")
        or not pieces[at + 1].low.isdigit()
    ):
        return False
    if at + 2 < len(pieces) and pieces[at + 2].low == "from":
        # "20 from mother 2 | and 18 from mother 5".
        return False
    roles = pieces[at + 2].roles if at + 2 < len(pieces) else {}
    word = roles.get("act") or roles.get("noun")
    return several or word is None or not word.counts_before


def _of_state_after(pieces: list[Piece], at: int) -> bool:
    """`pot 3 of lot 6 died`: not `pot 3 of lot 6`, which may be an order."""
    for piece in pieces[at:]:
        if piece.kind == "break" or piece.kind in COUNTS:
            return False
        if is_act(piece):
            word = piece.roles.get("act")
            return word is not None and bool(word.counts_before)
    return False


def _kind_of(pieces: list[Piece], name: str) -> str:
    """The kind of the list that names a number (`lots 12 and 13 rooted, misted 12`)."""
    return next(one.kind for one in pieces if one.kind in ("lots", "trays") and name in one.value)


def _either(pieces: list[Piece], place: int) -> bool:
    """`lots 12 and 13 look ready, potted 12 only`: the number of one of them, or how many."""
    piece = pieces[place]
    if piece.kind != "number" or not piece.low.isdigit() or not place or not is_act(pieces[place - 1]):
        return False
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    alone = after is None or after.kind == "break" or after.low in ("only", "too", "also", "as")
    named = any(one.kind in ("lots", "trays") and len(one.value) > 1 and piece.low in one.value for one in pieces)
    told = any(is_act(one) or "noun" in one.roles for one in pieces[: place - 1])
    return alone and named and told


def _named_again(pieces: list[Piece], place: int) -> str | None:
    """`checked lots 12-15, only 13 has roots`: what the number names, where it is one of several lots told of."""
    piece = pieces[place]
    after = pieces[place + 1].low.split(" ")[0] if place + 1 < len(pieces) else ""
    if piece.kind != "number" or not piece.low.isdigit() or after not in _ONE_ALONE:
        return None
    for before in pieces[:place]:
        if before.kind in ("lots", "trays") and len(before.value) > 1 and piece.low in before.value:
            return before.kind
    return None
