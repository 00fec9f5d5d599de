"""Is it the size of a pot: a number in inches, which may be a length, a strength or a day elsewhere."""

from __future__ import annotations

from typing import Any, Final

from core.notes.words.numbers import WRITTEN_SHARES, Number
from core.notes.words.pieces import Piece, longest_phrase, statement_ends
from core.notes.words.tokens import VULGAR, Token
from core.vocabulary import Leaf
from core.vocabulary.loading import small_words

_SMALL_POTS: Final = 10
_LARGEST: Final = 24
_DEEPEST: Final = 4
"""Water stands at most so many inches deep in a tray."""
_NEAR: Final = 6
_INTO_POTS: Final = frozenset({"divide", "stick", "sow", "pot"})
INCHES: Final = small_words("quantities", "inches")
DISTANCES: Final = small_words("quantities", "distances")
_MEANT: Final = small_words("quantities", "before_meant_sizes")
_CORRECTING: Final = frozenset({"no", "nope", "actually", "sorry", "oops"})
_AFTER_INCHES: Final = small_words("quantities", "after_inches")
_POTLIKE: Final = frozenset({"pot", "liner", "band", "tube"})
_LEADS: Final = frozenset({"to", "into", "in", "up to"})
_AFTER_SIZES: Final = small_words("quantities", "after_sizes")
_ARTICLES: Final = small_words("places", "articles")
_GOING_ON: Final = small_words("quantities", "after_pot_sizes")


def _is_day(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`potted in 4 in on thurs`, `into 4 in on 1 may`: a day after a size."""
    if at >= len(tokens):
        return False
    if tokens[at].kind in ("iso", "slashes") or (tokens[at].kind == "fraction" and tokens[at - 1].low == "on"):
        return True
    month = at + (tokens[at].kind == "number")
    leaf = (longest_phrase(tokens, month, tree) or (0, {}))[1]
    return "month" in leaf or (month == at and not leaf.keys().isdisjoint(("weekday", "day")))


def _is_headed(before: list[Piece], piece: Piece) -> bool:
    """The lot of `14: potted 10 in bands`: a number before a colon counts nothing."""
    place = before.index(piece)
    return place + 1 < len(before) and before[place + 1].low == ":"


def _as_texted(value: float, tokens: list[Token], end: int) -> str:
    """A size with its fraction as it was texted: `3 1/2`, `3.5`."""
    typed = tokens[end - 1].low == "-" or tokens[end - 1].kind == "fraction" or tokens[end - 1].low[-1:] in VULGAR
    whole, part = divmod(value, 1)
    written = next((name for name, share in WRITTEN_SHARES.items() if abs(share - part) < 0.01), None)
    if not typed or written is None or not whole:
        return f"{value:g}"
    return f"{whole:g} {written}"


def pot_size(
    tokens: list[Token], place: int, last: int, low: str, number: Number, tree: dict[str, Any], before: list[Piece]
) -> Piece | None:
    """The size of a pot, or the depth of water, that a number in inches is; None where "in" means no inches."""
    if last < len(tokens) and tokens[last].low == "deep":
        return Piece("depth", float(number.value), place, last + 1, "depth")
    if last < len(tokens) and tokens[last].low in ("roots", "root"):
        return None
    doubtful = low == "in" and not tokens[place].glued and last < len(tokens)
    if number.value > _LARGEST or (doubtful and not _means_inches(tokens, last, number, tree, before)):
        return None
    last += _is_short_for_inches(tokens, last, tree)
    return Piece("size", f"{_as_texted(number.value, tokens, place)} in", place, last)


def pots_follow(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether pots, or what is like them, are named at a place."""
    named = longest_phrase(tokens, at, tree) if at < len(tokens) else None
    return named is not None and named[1].get("container") in _POTLIKE


def _means_inches(tokens: list[Token], last: int, number: Number, tree: dict[str, Any], before: list[Piece]) -> bool:
    """Whether "in" after a number is inches (`potted 12 in 4 in pots`), and does not lead to a place."""
    if number.value > _SMALL_POTS:
        return False
    times = bool(before) and before[-1].kind == "number" and before[-1].low.endswith("x")
    if tokens[last].low in ("x", "×") or (times and tokens[last].low not in ("a", "the")):
        # "4 in x 20", "6 x 4 in toyon".
        return True
    mark, following = tokens[last], longest_phrase(tokens, last, tree)
    potlike = pots_follow(tokens, last, tree)
    if not (potlike or mark.low in _AFTER_INCHES or statement_ends(tokens, last, tree)):
        into = mark.low == "in" and last + 1 < len(tokens) and tokens[last + 1].kind == "word"
        renamed = mark.low == "not" and last + 1 < len(tokens) and tokens[last + 1].kind == "number"
        dated = _is_day(tokens, last + (mark.low == "on"), tree)
        old = bool(before) and before[-1].low == "from" and mark.low in ("to", "into")
        if not (into or old or renamed or dated or _is_length(before, following) or _leads_on(mark, following, before)):
            return False
    of_lot = following is not None and following[0] < len(tokens) and tokens[following[0]].low in ("of", "from")
    meant = bool(before) and before[-1].low in _MEANT
    meant = meant or (following is not None and following[0] == len(tokens) and _corrects(before))
    if potlike and not (_is_led(before) or of_lot or meant):
        return False
    if mark.low in ("water", "of") and number.value > _DEEPEST:
        return False
    counted = any(piece.kind in ("number", "fraction") for piece in before[-_NEAR:])
    return mark.low != "and" or counted or _leads_on(mark, following, before)


def _corrects(before: list[Piece]) -> bool:
    """`no, 4 in pots`, `actually 4 in pots`: what corrects the size of the pots told before."""
    return 0 < len(before) <= 2 and before[0].low in _CORRECTING and before[-1].low in (",", *_CORRECTING)


def _leads_on(mark: Token, following: tuple[int, Leaf] | None, before: list[Piece]) -> bool:
    """`into 4 in perlite`, `into 4 in by kit`, `into 4 in then watered`: a size that `into` leads to; `potted lot 3 in
    4 in the shade house` too.
    """
    if not before or before[-1].low not in _LEADS:
        return False
    fills = following is not None and "medium" in following[1]
    if mark.low in _ARTICLES and _pots(before):
        return True
    return fills or mark.low in _AFTER_SIZES or (mark.low in _GOING_ON and (before[-1].low == "into" or _pots(before)))


def _pots(before: list[Piece]) -> bool:
    return any("act" in piece.roles and piece.roles["act"].act in ("pot", "divide") for piece in before)


def _is_led(before: list[Piece]) -> bool:
    """Whether a count of plants, `into`, or a word of cleaning stands before a size."""
    opened = any("act" in piece.roles and piece.roles["act"].act in _INTO_POTS for piece in before)
    near = before if opened else before[-_NEAR:]
    counted = any(piece.kind in ("number", "fraction") and not _is_headed(before, piece) for piece in near)
    vague = any("all" in piece.roles or "vague" in piece.roles for piece in near)
    return counted or vague or (bool(before) and (before[-1].low in ("to", "into") or _cleans(before[-1])))


def _cleans(piece: Piece) -> bool:
    """`washed | 4 in pots`: nothing is cleaned in pots."""
    word = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and (word.act == "sanitize" or word.rule == "rinsed")


def _is_short_for_inches(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """The point of `3 in. tips`, which ends no sentence."""
    if at + 1 >= len(tokens) or tokens[at].low != "." or not tokens[at].glued:
        return False
    if tokens[at + 1].low in ("tray", "trays") and tokens[at + 2 : at + 3] and tokens[at + 2].kind == "number":
        return False
    after = longest_phrase(tokens, at + 1, tree)
    return after is not None and not after[1].keys().isdisjoint(("cutting", "wood", "what", "container"))


def _is_length(before: list[Piece], following: tuple[int, Leaf] | None) -> bool:
    """`stuck 36 ninebark 5 in hw`, `40 4 in toyon cuttings`: how long counted cuttings were; `sold 4 4 in sage`."""
    acts = {piece.roles["act"].act for piece in before if "act" in piece.roles}
    roles = following[1].keys() if following is not None else set()
    if not acts.isdisjoint(("sell", "give", "reserve")) and before[-1].kind == "number":
        return "plant" in roles
    if acts.isdisjoint(("stick", "collect")):
        return False
    counted = any(piece.kind == "number" for piece in before)
    return counted and (bool(roles & {"wood", "cutting"}) or (before[-1].kind == "number" and "plant" in roles))
