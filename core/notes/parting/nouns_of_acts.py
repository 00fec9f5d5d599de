"""Which nouns beside counts tell a deed of their own (`lot 9 12 roots, 3 deaths`)."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_SWITCHED: Final = small_words("no_plants", "machines") | small_words("no_plants", "switched")
_BEING: Final = frozenset({"is", "are", "was", "were", "came", "went", "goes", "now", "it", "all"})
_COME_UP: Final = frozenset({"seedlings", "seedling", "sprout"})
_NOT_WHERE: Final = frozenset({"for", "from", "to", "with", "by", "at", "after", "before"})
_SOON: Final = frozenset({"early", "late"})
_WITH: Final = frozenset({"w", "with", "w/"})


def counted_nouns(pieces: list[Piece], first: int) -> list[tuple[int, ActWord]]:
    """`14 germ 3 damped off`, `cold strat 90 days lot 50 smoked lot 51`: nouns before a verb that tell a thing of their
    own, by a count before them or a time after.
    """
    found = []
    for place, piece in enumerate(pieces[:first]):
        word = piece.roles.get("noun")
        if word is None or piece.kind != "phrase":
            continue
        lead = place - 1 - (place > 1 and pieces[place - 1].low in _WITH)
        counted = place and pieces[lead].kind in COUNTS and word.act == "check" and word.counts_before
        between = pieces[place + 1 : first]
        timed = word.act == "treat" and any(one.kind == "duration" for one in between)
        named = any(one.kind in ("lots", "trays") for one in between) or _rinsed_after(pieces, first)
        if (counted and any(one.kind in COUNTS for one in pieces[place + 1 :])) or (timed and named):
            found.append((place, word))
    return found


def _rinsed_after(pieces: list[Piece], place: int) -> bool:
    """`in acid 20 min rinsed`: the length of time right before the rinse is that of what was done before it."""
    word = pieces[place].roles.get("shared") or pieces[place].roles.get("act")
    rinse = word is not None and (word.rule == "rinsed" or word.says.get("treatment") == "rinse")
    return rinse and place > 0 and pieces[place - 1].kind == "duration"


def sensible_nouns(pieces: list[Piece], weak: list[tuple[int, ActWord]]) -> list[tuple[int, ActWord]]:
    """The nouns that may stand for an act where no verb does."""
    kept: list[tuple[int, ActWord]] = []
    for place, word in weak:
        low = pieces[place].low
        before = pieces[place - 1] if place else None
        after = pieces[place + 1] if place + 1 < len(pieces) else None
        if low == "water" and not any(piece.kind == "size" for piece in pieces):
            continue
        if low == "up" and not (
            before is not None
            and (
                before.kind in COUNTS
                or any(role in before.roles for role in ("all", "none", "negation", "vague"))
                or ("plant" in before.roles and any(piece.kind in COUNTS for piece in pieces[:place]))
                or (before.kind in ("lots", "trays") and _tells_share(pieces[: place - 1]))
                or (before.kind in ("lots", "trays") and _only_counts(pieces, place))
                or ("plant" in before.roles and [piece.kind for piece in pieces[place + 2 : place + 3]] == ["duration"])
            )
        ):
            continue
        told = next((piece for piece in pieces[place + 1 :] if "filler" not in piece.roles), None)
        if low == "back on" and told is not None and not _only_when(told):
            continue
        if low == "back on" and _is_switched(pieces[:place]):
            continue
        if low in ("mix", "soak", "dip", "root", "fridge") and before is None and after is None:
            continue
        if low == "mix" and not any("solution" in piece.roles or piece.kind in ("colon", "amount") for piece in pieces):
            continue
        counted = low == "seedlings" and before is not None and before.kind in COUNTS
        if low in _COME_UP and not (counted or _none_came_up(pieces, place)):
            continue
        if word.act == "check" and low in ("roots", "rooting", "root", "callus") and not _tells_state(pieces):
            continue
        if (low in ("warm", "cold") or " and " in low) and not any(
            piece.kind == "duration" and (piece.value[0].days or piece.value[0].months) for piece in pieces
        ):
            continue
        if low == "fridge" and not any(piece.kind == "duration" for piece in pieces):
            continue
        kept.append((place, word))
    return kept


def _none_came_up(pieces: list[Piece], place: int) -> bool:
    """`not one | seedling in tray 31 yet`, `tray 31 still has no | seedlings`; not `no seedlings for lot 9`."""
    if not place or "none" not in pieces[place - 1].roles:
        return False
    others = [*pieces[: place - 1], *pieces[place + 1 :]]
    said = [one for one in others if one.kind not in SUBJECTS and one.kind not in ("moment", "break")]
    small = all("filler" in one.roles and one.low not in _NOT_WHERE for one in said)
    return small and any(one.kind in SUBJECTS for one in others)


def _only_when(piece: Piece) -> bool:
    """`back on early`; not `back on monday's job`, `back on the bench`, where another thing went on, or on another."""
    return piece.kind not in ("word", "phrase") or piece.low in _SOON


def _is_switched(told: list[Piece]) -> bool:
    """`turned the heat | back on`, `fridge is | back on`: a machine, and no cover."""
    thing = next((piece for piece in reversed(told) if piece.low not in _BEING), None)
    return thing is not None and thing.low.removeprefix("the ") in _SWITCHED


def _tells_share(pieces: list[Piece]) -> bool:
    """`two thirds of | lot 31 | up`, `12 of | lot 31 | up`."""
    told = [piece for piece in pieces if "filler" not in piece.roles and piece.kind not in ("moment", "person")]
    return len(told) == 1 and (told[0].kind in COUNTS or not told[0].roles.keys().isdisjoint(("fraction", "all")))


def _tells_state(pieces: list[Piece]) -> bool:
    return any(
        piece.kind in COUNTS
        or piece.kind in ("lots", "trays")
        or any(role in piece.roles for role in ("none", "all", "negation", "vague", "fraction"))
        for piece in pieces
    )


def _only_counts(pieces: list[Piece], place: int) -> bool:
    """`yesterday tray 4 up 30`: a lot or tray, how many are up, and at most when that was."""
    others = [one.kind for at, one in enumerate(pieces) if at != place and one.kind not in ("moment", "kept")]
    return len(others) == 2 and others[0] in ("lots", "trays") and others[1] == "number"
