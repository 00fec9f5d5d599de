"""Which words make one lot of several, or a lot of some of another: `put lot 13 in with 12`, `12 aside as lot 91`.

Rules
1. Bare numbers listed after a merging are lots; plants put in with another lot are merged with it, unless counted.
2. Plants set aside, taken or broken off `as lot 91` are a lot of their own.
3. Where a lot was parted into several, which of them got how many is only kept.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import NO_ROLES, SENTENCE_ENDS, Piece
from core.notes.words.said import begin_of_statement, end_of_statement, is_end, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_LISTING: Final = small_words("sources", "listing")
_AFTER_LISTS: Final = small_words("lots_made", "after_lists")
_BEFORE_LISTS: Final = small_words("lots_made", "before_lists")
_IN_WITH: Final = small_words("lots_made", "in_with")
_AS: Final = small_words("lots_made", "as")
_MAKING: Final = small_words("lots_made", "making")
_ONE_LOT: Final = small_words("lots_made", "one_lot")
_IN_PARTS: Final = small_words("lots_made", "in_parts")
_OUT_OF: Final = small_words("split", "out_of")
_INTO: Final = frozenset({"into", "to", "as"})
_THEM: Final = frozenset({"them", "em", "it", "those", "these"})
_THE: Final = frozenset({"the", "all", "those"})
_FILLER: Final = {"filler": True}


def _act(piece: Piece) -> str:
    word: ActWord | None = piece.roles.get("act")
    return word.act if word is not None else ""


def _rule(piece: Piece) -> str:
    word: ActWord | None = piece.roles.get("shared")
    return (word.rule or "") if word is not None else ""


def _becomes(piece: Piece, act: str) -> None:
    piece.kind, piece.roles = "phrase", {"act": ActWord(act=act)}


def _opens_care(piece: Piece) -> bool:
    """What was done after the parting, or what covers and vents something."""
    held = piece.roles.get("shared")
    other = _act(piece) not in ("", "split") or (held is not None and held.rule == "hold")
    return other or "vent_noun" in piece.roles or "cover_noun" in piece.roles


def _is_lot(piece: Piece) -> bool:
    """A lot, or a bare number that may be one."""
    return (piece.kind == "lots" and len(piece.value) == 1) or _is_bare(piece)


def _is_bare(piece: Piece) -> bool:
    return piece.kind == "number" and not piece.used and piece.low.isdigit()


def _as_lots(pieces: list[Piece], start: int, end: int) -> None:
    named = tuple(
        name for one in pieces[start:end] if _is_lot(one) for name in (one.value if one.kind == "lots" else (one.low,))
    )
    low = " ".join(one.low for one in pieces[start:end])
    pieces[start:end] = [Piece("lots", tuple(dict.fromkeys(named)), pieces[start].first, pieces[end - 1].last, low)]


def _list_ends(pieces: list[Piece], start: int) -> list[int]:
    """Where a list of two or more bare numbers that begins at a place may end, the farthest first; the first may be a
    lot.
    """
    ends: list[int] = []
    at = start
    while at < len(pieces) and (_is_bare(pieces[at]) or (at == start and _is_lot(pieces[at]))):
        ends.insert(0, at + 1)
        at += 1
        while at < len(pieces) and at - ends[0] < 2 and pieces[at].low in _LISTING:
            at += 1
        if at == ends[0]:
            break
    return ends[:-1]


_WITH: Final = frozenset({"with", "w", "w/"})


@looks_for("!merge")
def _list_merged(pieces: list[Piece]) -> None:
    """`merged 15, 16 and 17 into 15`, `merged the tail ends of 12, 13 and 14`."""
    for place, piece in enumerate(pieces):
        if _act(piece) != "merge":
            continue
        start = place + 1
        while start < len(pieces) and start - place < 6 and not _is_lot(pieces[start]):
            if pieces[start].kind == "break" or pieces[start].low in _BEFORE_LISTS:
                break
            start += 1
        start += start < len(pieces) and pieces[start].low in _BEFORE_LISTS
        for end in _list_ends(pieces, start):
            after = pieces[end] if end < len(pieces) else None
            if after is None or after.kind == "break" or after.low in _AFTER_LISTS:
                _as_lots(pieces, start, end)
                return


@looks_for("~put", "!move", "!merge", beside=_IN_WITH | {"in"})
def _in_with(pieces: list[Piece]) -> None:
    """`put lot 13 in with 12`, `lot 16 went into lot 15`: merged, where not only some of it."""
    for place, piece in enumerate(pieces):
        if _rule(piece) != "put" and _act(piece) not in ("move", "merge"):
            continue
        end = end_of_statement(pieces, place)
        at = next((at for at in range(place + 1, end - 1) if _in_with_at(pieces, at)), None)
        named = [one for one in _statement(pieces, place)[: (at or 0)] if one.kind == "lots"]
        if at is None or not named:
            continue
        last = at + (pieces[at].low == "in")
        if _act(piece) != "merge" and any(one.kind == "number" for one in pieces[:at]):
            piece.roles = NO_ROLES
            return
        _becomes(piece, "merge")
        pieces[at].used = True
        pieces[last].low, pieces[last].kind, pieces[last].roles = "into", "phrase", _FILLER
        return


def _in_with_at(pieces: list[Piece], at: int) -> bool:
    if pieces[at].low == "in":
        return pieces[at + 1].low in _WITH and at + 2 < len(pieces) and _is_lot(pieces[at + 2])
    return pieces[at].low in _IN_WITH and pieces[at + 1].kind == "lots" and len(pieces[at + 1].value) == 1


def _statement(pieces: list[Piece], place: int) -> list[Piece]:
    start = begin_of_statement(pieces, place)
    return pieces[start:]


@looks_for("=several", beside=_ONE_LOT)
def _one_lot_now(pieces: list[Piece]) -> None:
    """`lots 40 & 41 are one lot now, lot 40`."""
    for place, piece in enumerate(pieces[:-2]):
        if piece.kind != "lots" or len(piece.value) < 2:
            continue
        for end in range(min(len(pieces), place + 6), place + 2, -1):
            run = pieces[place + 1 : end]
            if " ".join(one.low for one in run) in _ONE_LOT:
                _becomes(run[0], "merge")
                for one in run[1:]:
                    one.kind, one.roles, one.used = "mark", NO_ROLES, True
                return


@looks_for("broke", "broken")
def _break_in_parts(pieces: list[Piece]) -> None:
    """`broke lot 41 in half, lot 103 has 18`."""
    for verb, lot, parts in zip(pieces, pieces[1:], pieces[2:], strict=False):
        after = pieces[pieces.index(parts) + 1] if parts is not pieces[-1] else parts
        told = parts.low in _IN_PARTS or f"{parts.low} {after.low}" in _IN_PARTS
        if verb.low in ("broke", "broken") and lot.kind in ("lots", "trays") and told:
            _becomes(verb, "split")


@looks_for("now", any_of=_MAKING, beside=("=lots",))
def _made_lot(pieces: list[Piece]) -> None:
    """`made lot 100 out of 20 from lot 41`, `took 12 of lot 9 and made lot 30`: a lot is made, nothing mixed."""
    for place, piece in enumerate(pieces[:-1]):
        them = place + 2 < len(pieces) and pieces[place + 1].low in _THEM
        new = pieces[place + 1 + them]
        makes = piece.low in _MAKING or (piece.low == "now" and is_end(pieces, place + 2))
        if not makes or _act(piece) not in ("mix", "") or new.kind != "lots" or len(new.value) != 1:
            continue
        out_of = [at for at in range(place + 2, min(len(pieces), place + 5)) if pieces[at].kind == "number"]
        if out_of and any(one.kind == "lots" for one in pieces[out_of[0] :]):
            _becomes(piece, "split")
            for one in pieces[place + 2 : out_of[0]]:
                one.used = True
            return
        taken = next((one for one in pieces[:place] if _rule(one) in ("took", "put")), None)
        treated = any(_act(one) == "treat" for one in pieces[place + 2 + them : place + 3 + them])
        counted = any(one.kind == "number" or "all" in one.roles for one in pieces[:place]) and not treated
        if taken is not None and counted and any(one.kind == "lots" for one in pieces[:place]):
            _becomes(taken, "split")
            joint = pieces[place - 1]
            joint.kind, joint.low, joint.roles = "phrase", "as", _FILLER
            for one in pieces[place : place + 1 + them]:
                one.kind, one.roles, one.used = "mark", NO_ROLES, True
            return


@looks_for("!reserve", "broke", "~put", "~took", "~hold", beside=_AS | {"for"})
def _aside_as_lot(pieces: list[Piece]) -> None:
    """`put 12 from lot 30 aside as lot 91`, `broke 18 off lot 41 as lot 103`."""
    for place, piece in enumerate(pieces):
        own = _act(piece) == "reserve" or piece.low in ("broke", "broke off") or _rule(piece) in ("put", "took", "hold")
        if not own:
            continue
        end = end_of_statement(pieces, place)
        said = pieces[place:end]
        if any(_act(one) == "split" for one in said):
            continue
        leads = _AS | {"for"} if piece.low in ("broke", "broke off") else _AS
        made = [at for at in range(1, len(said)) if said[at - 1].low in leads and said[at].kind == "lots"]
        others = [one for one in pieces[:end] if one.kind in ("lots", "trays", "number")]
        if made and len(said[made[0]].value) == 1 and len(others) > 1:
            _becomes(piece, "split")
            for one in said:
                if one.low in ("aside", "off", "apart", "by", "back"):
                    one.kind, one.roles, one.used = "mark", NO_ROLES, True
            return


@looks_for(
    "!split", "!merge", "!move", "!mix", "!reserve", "~put", "~took", "broke", "broken", any_of=_MAKING,
    beside=("=number", "=several"),
)  # fmt: skip
def _several_made(pieces: list[Piece]) -> None:
    """`split lot 14 into 95 and 96`, `three ways: lots 95, 96, 97`, `5 each from 14 and 15`: only kept."""
    for place, piece in enumerate(pieces):
        if "act" not in piece.roles or _act(piece) != "split":
            continue
        at = place + 1
        while at < len(pieces) and pieces[at].low not in SENTENCE_ENDS and not _opens_care(pieces[at]):
            one = pieces[at]
            if one.kind != "lots" and one.kind != "number":
                at += 1
                continue
            if one.kind == "number" and at + 1 < len(pieces) and pieces[at + 1].low in ("ways", "way", "each"):
                _keep(one, pieces[at + 1])
            led = pieces[at - 1].low
            stops = _AS if led in _OUT_OF else frozenset()
            listed = next((end for end in _list_ends(pieces, at) if _closes(pieces, end, stops)), at)
            if listed > at and led in _OUT_OF:
                _as_lots(pieces, at, listed)
            elif (listed > at and led in ("into", "to", "as")) or (
                one.kind == "lots"
                and len(one.value) > 1
                and any(other.kind == "lots" for other in pieces[:at])
                and not any(map(_opens_care, pieces[at : end_of_statement(pieces, at)]))
            ):
                _keep(*pieces[at - (led in ("into", "to", "as")) : max(listed, at + 1)])
            at += 1


@looks_for("!split")
def _parts_into(pieces: list[Piece]) -> None:
    """`split lot 14, 30 into 17 and 20 into 18`: each a lot of its own, where several are told of."""
    for place, piece in enumerate(pieces):
        if _act(piece) != "split":
            continue
        end = next((at for at in range(place + 1, len(pieces)) if _ends_split(pieces[at])), len(pieces))
        made = [
            at
            for at in range(place + 2, end)
            if pieces[at - 1].low in _INTO and _is_lot(pieces[at]) and not _goes_on_as(pieces, at)
        ]
        if len(made) > 1 and any(pieces[at - 2].kind == "number" for at in made):
            for at in made:
                _as_lots(pieces, at, at + 1)
            return


def _goes_on_as(pieces: list[Piece], at: int) -> bool:
    """Whether a number is a count after all (`into 10 as lot 91`)."""
    return at + 1 < len(pieces) and pieces[at + 1].low in _INTO


def _ends_split(piece: Piece) -> bool:
    return piece.low in SENTENCE_ENDS or bool(_act(piece))


@looks_for("!split")
def _of_a_kind(pieces: list[Piece]) -> None:
    """`split the rooted into lot 17`: those that rooted, and no look at them."""
    for place, piece in enumerate(pieces):
        if _act(piece) != "split":
            continue
        for at in range(place + 1, min(place + 4, len(pieces) - 1)):
            if _act(pieces[at]) == "check" and pieces[at - 1].low in _THE and pieces[at + 1].low in _INTO | _OUT_OF:
                _keep(pieces[at - 1], pieces[at])
                return


def _closes(pieces: list[Piece], at: int, stops: frozenset[str]) -> bool:
    return is_end(pieces, at) or pieces[at].low in stops


def _keep(*pieces: Piece) -> None:
    for piece in pieces:
        if piece.kind != "break":
            keep_words(piece)


FIND_LOTS_MADE: Final = (
    _list_merged, _in_with, _one_lot_now, _break_in_parts, _made_lot, _aside_as_lot, _parts_into, _of_a_kind,
    _several_made,
)  # fmt: skip
"""Give the verbs that merge or split lots here their meaning, and lists of lots their kind, in place."""
