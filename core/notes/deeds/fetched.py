"""What was gathered by somebody who went there for it: `ana was out at gull creek yesterday and came home with a pint
of gumplant seed`, `the lupine heads have bags on them now`.

Rules
1. Where somebody went and then gathered is where that is from, and no move of plants.
2. Bags that stand beside the heads of a plant are for its seed, wherever in the statement they are told of.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.said import deed_of, end_of_statement, keep_words, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_GOING: Final = small_words("fetched", "going")
_WAYS: Final = small_words("fetched", "ways")
_LEADS: Final = frozenset({"at", "to", "by", "in", "into", "through", "along"})
_JOINTS: Final = frozenset({"and", "then", "&", "+", "where", ","})
_DOERS: Final = small_words("people", "speaker") | {"she", "he", "they"}
_SOURCED: Final = frozenset({"from", "off", "off of", "at", "out of"})
_FAR: Final = 5
_HEADS: Final = small_words("fetched", "heads")
_BEFORE_BAGS: Final = frozenset({"got", "a", "in", "is", "are", "was", "were", "has", "have", "been", "now", "with"})
_BAGS: Final = frozenset({"bags", "bag", "bagged", "bagged up"})
_BAGGED: Final = ActWord(act="collect", says={"bagged": True, "what": "seed"})
_OVER: Final = frozenset({"on", "over", "around", "in", "into", "onto"})


@looks_for(any_of=_GOING, beside=("=word", "@what", "@cutting", "@wood", "=amount", "=lots", "=trays"))
def fetch(pieces: list[Piece]) -> None:
    """`ana was out at gull creek and collected a pint of seed`: from there, in place."""
    dated = pieces[0].kind == "moment"
    at = int(dated) + (len(pieces) > dated + 1 and not _goes(pieces[dated]))
    if at + _FAR > len(pieces) or not _goes(pieces[at]):
        return
    lead = at + 1
    while lead + 1 < len(pieces) and pieces[lead].low in _WAYS:
        lead += 1
    lead -= pieces[lead - 1].low in _LEADS and lead > at + 1
    if lead + 1 >= len(pieces) or pieces[lead].low.split(" ")[-1] not in _LEADS:
        return
    end = lead + 1
    while end < len(pieces) and pieces[end].kind in ("word", "phrase") and pieces[end].low not in _JOINTS:
        if is_act(pieces[end]) or "plant" in pieces[end].roles:
            return
        end += 1
    deed = end
    while deed < len(pieces) and (pieces[deed].kind == "moment" or pieces[deed].low in _JOINTS):
        deed += 1
    days = [piece for piece in pieces[end:deed] if piece.kind == "moment"]
    deed += deed < len(pieces) and pieces[deed].low in _DOERS
    if not lead + 1 < end <= lead + _FAR or end == deed:
        return
    if not _gathers(pieces, deed):
        if _does_own(pieces, deed, by_somebody=at > dated):
            keep_words(*pieces[at:end])
        return
    stop = end_of_statement(pieces, deed)
    told = pieces[deed:stop]
    where = [] if any(piece.low in _SOURCED for piece in told) else pieces[lead:end]
    if where:
        where[0] = Piece("phrase", None, where[0].first, where[0].last, "from", {"filler": True})
    pieces[at:stop] = [*days, *told, *where]


def _goes(piece: Piece) -> bool:
    return piece.low in _GOING


def _does_own(pieces: list[Piece], at: int, *, by_somebody: bool) -> bool:
    """`we went to the market and | sold 20 toyon`: what was done there, to plants that it names itself."""
    told = pieces[at + 1 : end_of_statement(pieces, at)] if at < len(pieces) and is_act(pieces[at]) else []
    named = any(piece.kind in SUBJECTS for piece in told)
    return named or (by_somebody and any(piece.kind in COUNTS or "plant" in piece.roles for piece in told))


def _gathers(pieces: list[Piece], at: int) -> bool:
    """Whether a deed of gathering stands at a place, with how much was gathered."""
    if at >= len(pieces) or not is_act(pieces[at]):
        return False
    told = pieces[at + 1 : end_of_statement(pieces, at)]
    word = deed_of(pieces[at])
    taken = word is None and pieces[at].roles["shared"].rule == "took"
    things = any("what" in piece.roles or "cutting" in piece.roles or "wood" in piece.roles for piece in told)
    counted = any(piece.kind in COUNTS or piece.kind == "amount" for piece in told)
    named = any(piece.kind in SUBJECTS for piece in told)
    gathered = (word is not None and word.act == "collect") or (taken and things)
    return gathered and counted and not named


@looks_for(any_of=_HEADS, beside=_BAGS)
def bag_heads(pieces: list[Piece]) -> None:
    """`deergrass heads at rook hill got bagged`, `the lupine heads have bags on them`: bagged for seed, in place."""
    for start, end in reversed(statements(pieces)):
        said = pieces[start:end]
        heads = next((at for at, piece in enumerate(said) if piece.low in _HEADS and at), None)
        named = any("plant" in piece.roles for piece in said) and not any(piece.kind in SUBJECTS for piece in said)
        if heads is None or not named:
            continue
        for at in range(heads + 1, len(said)):
            bagged = said[at].low.startswith("bagged")
            over = not bagged and said[at].low in _BAGS and (_leads_over(said, at + 1) or _in_bags(said, at - 1))
            if bagged or over:
                said[at].kind, said[at].roles = "phrase", {"act": _BAGGED}
                said[heads].used = True
                while pieces[start + at - 1].low in _BEFORE_BAGS:
                    at -= 1
                    del pieces[start + at]
                break


def _in_bags(said: list[Piece], at: int) -> bool:
    """`is in | a | bag`."""
    return _leads_over(said, at - (said[at].low == "a"))


def _leads_over(said: list[Piece], at: int) -> bool:
    return at < len(said) and said[at].low in _OVER
