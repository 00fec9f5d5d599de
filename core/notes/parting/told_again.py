"""Which deeds and counts are told again of other plants, where a comma was left out.

Each looks at one place: `lot 14 31 rooted 4 rotted | lot 15 12 rooted`, `potted 12 of lot 20 | potted 10 of lot 21`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import comma_before, statement_at
from core.notes.words.steps import looks_for

_TURNS: Final = frozenset({"on", "off", "back"})
_FAR: Final = 8
LINKS: Final = frozenset(
    {"of", "in", "from", "on", "to", "as", "into", "for", "and", "&", "off", "with", "+", "out of", "or"}
)


def counts_again(pieces: list[Piece], place: int) -> bool:
    """`lot 14 31 rooted 4 rotted | lot 15 12 rooted`, `tray 3 misted 2 dead | tray 4 misted`: another lot or tray, told
    of in turn like the one before.
    """
    near = list(pairwise(pieces[max(0, place - _FAR) : place]))
    named = any(one.kind == pieces[place].kind for one, _ in near)
    in_turn = any(one.kind == pieces[place].kind and is_act(after) for one, after in near)
    deed = place + 1 < len(pieces) and is_act(pieces[place + 1]) and in_turn
    return named and follows_count(pieces, place) and (deed or _counts_next(pieces, place + 1))


def _counts_next(pieces: list[Piece], at: int) -> bool:
    """`12 rooted`, `none rooted`, `10 potted`: a count and what it tells of, right at a place."""
    if at + 1 >= len(pieces):
        return False
    end = at + 1 + (pieces[at + 1].low in ("of", "out of") and at + 3 < len(pieces)) * 2
    counts = pieces[at].kind in ("number", "fraction") or "none" in pieces[at].roles
    return counts and "act" in pieces[end].roles


def follows_count(pieces: list[Piece], at: int) -> bool:
    """`4 rotted`, right before a place."""
    if at <= 1:
        return False
    word = pieces[at - 1].roles.get("act")
    return word is not None and pieces[at - 2].kind in ("number", "fraction")


def counts_part_again(pieces: list[Piece], start: int, place: int) -> bool:
    """`moved 6 of lot 20 to the slab | 4 of lot 21 to the lath`: a part of another lot, told like the one before."""
    if pieces[place - 1].low in LINKS or is_act(pieces[place - 1]) or not _is_part(pieces, place):
        return False
    return any(_is_part(pieces, at) for at in range(start, place - 2))


def _is_part(pieces: list[Piece], at: int) -> bool:
    told = pieces[at : at + 3]
    kinds = len(told) == 3 and told[0].kind == "number" and told[2].kind in SUBJECTS
    return kinds and told[1].low in ("of", "from")


def counted_after_another(pieces: list[Piece], start: int, place: int) -> bool:
    """`misted tray 3 | lot 14 31 rooted`: a lot with its count, right after the tray that a deed was done to."""
    before, after = pieces[place - 1], pieces[place + 1 : place + 3]
    if before.kind not in SUBJECTS or before.kind == pieces[place].kind or len(after) < 2:
        return False
    done = any(map(is_act, pieces[start : place - 1]))
    word = after[1].roles.get("act")
    return done and after[0].kind in ("number", "fraction") and word is not None and word.counts_before


def counts_deed(pieces: list[Piece], at: int) -> bool:
    """`lot 12 | lost 4 | lot 13 | lost 2`: a deed and its count right after a lot or tray."""
    deed = pieces[at].roles.get("act") if at + 1 < len(pieces) else None
    return deed is not None and deed.form == "done" and pieces[at + 1].kind in ("number", "fraction")


@looks_for("@cover_noun", beside=("=subjects",))
def part_covers(pieces: list[Piece]) -> None:
    """`lid on tray 5 | lid off tray 6`: a cover that went on or off, after one with its own tray, parted in place."""
    for at in range(len(pieces) - 2, 1, -1):
        start, _ = statement_at(pieces, at)
        first = next((one for one in range(start, at) if "cover_noun" in pieces[one].roles), at)
        named_first = any(piece.kind in SUBJECTS for piece in pieces[start:first])
        turned = pieces[at + 1].low.split(" ")[-1] in _TURNS and any(one.kind in SUBJECTS for one in pieces[at:])
        if first < at and turned and not named_first and _ends_cover(pieces, at):
            pieces.insert(at, comma_before(pieces[at]))


def _ends_cover(pieces: list[Piece], at: int) -> bool:
    return "cover_noun" in pieces[at].roles and pieces[at - 1].kind in SUBJECTS


def done_to_both(pieces: list[Piece], place: int) -> bool:
    """`tray 3 watered tray 4 misted | both domed`: a deed on two that were each told of before."""
    deed = pieces[place + 1].roles.get("act") if place + 1 < len(pieces) else None
    near = pairwise(pieces[max(0, place - _FAR) : place])
    turns = sum(one.kind in SUBJECTS and is_act(after) for one, after in near)
    return deed is not None and not deed.counts_before and turns > 1 and is_act(pieces[place - 1])


def same_deed_again(pieces: list[Piece], start: int, place: int) -> bool:
    """`potted 12 of lot 20 | potted 10 of lot 21`, `fed lot 3 | fed lot 4`: a deed told again of others."""
    word = pieces[place].roles.get("act")
    if word is None or word.counts_before or word.form != "done":
        return False
    if pieces[place - 1].low in LINKS or pieces[place - 1].kind == "person":
        return False
    last = max((at for at in range(start, place) if is_act(pieces[at])), default=None)
    before = pieces[last].roles.get("act") if last is not None else None
    if last is None or before is None or before.act != word.act or pieces[last].low != pieces[place].low:
        return False
    own, told = pieces[last + 1 : place], pieces[place + 1 : end_before_deed(pieces, place + 1)]
    each_named = all(any(map(names_plants, run)) for run in (own, told))
    return each_named and not any(map(names_plants, pieces[start:last]))


def end_before_deed(pieces: list[Piece], at: int) -> int:
    end = at
    while end < len(pieces) and pieces[end].kind != "break" and not is_act(pieces[end]):
        end += 1
    return end
