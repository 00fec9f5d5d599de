"""Who did it, told before or after the deed: `it was kit who stuck 44 penstemon`, `lot 24 was in acid 5 min, odalys did
it`, `finn lowered the dome onto tray 11`.

Rules
1. `it was kit who …` is told of kit, and asks nothing.
2. `…, odalys did it` and `…, that was odalys` tell of the deed just before, as `by odalys` does.
3. A known name at the head of a statement with a verb right after it did what the rest of it tells.
"""

from __future__ import annotations

from typing import Final

from core.notes.days.who import may_be_who
from core.notes.names.people import NAMELIKE
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_sentence, is_end
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_POINTING: Final = small_words("doers", "pointing")
_WHO: Final = frozenset({"who", "that"})
_ONE: Final = small_words("doers", "the_one")
_NO_DOING: Final = small_words("doers", "no_doing")
_IT: Final = small_words("doers", "it")
_DID: Final = small_words("doers", "did")
_CREDIT: Final = small_words("doers", "credit")
_WORK: Final = small_words("doers", "work")
_BEFORE: Final = frozenset({"oh", "so", "and", "but", "btw", "fyi", "actually", "also", "well", "i think", "yeah"})
_NOT_OF: Final = frozenset({"plan", "negation", "hearsay", "condition", "wish", "none"})
_OF_THE_BENCH: Final = frozenset({"noun", "cover_noun", "vent_noun", "plant", "solution"})
_NAME_AND_VERB: Final = 2
_BY: Final = {"filler": True}


def _is_somebody(piece: Piece) -> bool:
    """A name by which people are known: `odalys`, `june`."""
    return (may_be_who(piece) and is_given_name(piece.low)) or (piece.low in NAMELIKE and is_given_name(piece.low))


@looks_for(any_of=_WHO, beside=("was", "it's", "its", "twas", "were", "is", "one"))
def tell_of_who(pieces: list[Piece]) -> None:
    """`it was dell who closed the vents`, `kit was the one who stuck 44`: told of somebody, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        if pieces[at].low not in _WHO:
            continue
        verb = pieces[at + 1]
        if verb.low in _NO_DOING or verb.kind == "break" or any(p.low == "?" for p in pieces[at:]):
            continue
        named = _named_before(pieces, at)
        if named is None:
            continue
        first, name = named
        pieces[first : at + 1] = [name]
        return


def _named_before(pieces: list[Piece], who: int) -> tuple[int, Piece] | None:
    """Where the words begin that point at somebody before `who`, and the name; None where none does."""
    name, first = pieces[who - 1], who - 1
    if name.low in _ONE:
        while first and (pieces[first].low in _ONE or pieces[first].low in ("the", "was", "is", "were")):
            first -= 1
        name = pieces[first]
    else:
        lead = first
        while first and pieces[first - 1].low in _POINTING:
            first -= 1
        if first == lead:
            return None
    while first and pieces[first - 1].low in _BEFORE:
        first -= 1
    may_be = _is_somebody(name) or may_be_who(name)
    heads = first == 0 or pieces[first - 1].kind in ("break", "moment")
    return (first, name) if may_be and heads else None


@looks_for(any_of=_DID | _CREDIT | _WORK | frozenset({"that was", "was"}), beside=("=word", *NAMELIKE))
def tell_who_did_it(pieces: list[Piece]) -> None:
    """`lot 24 was in acid 5 min, odalys did it`: by her, in place."""
    for at in range(len(pieces) - 1, 0, -1):
        if at >= len(pieces) or pieces[at - 1].kind not in ("break", "dash") or pieces[at - 1].low == "?":
            continue
        stop = at
        while not is_end(pieces, stop):
            stop += 1
        if stop < len(pieces) and pieces[stop].low == "?":
            continue
        name = _who_did(pieces[at:stop])
        if name is None or not _tells_deed(pieces, at - 1):
            continue
        mark = pieces[at - 1]
        closes = stop < len(pieces) and pieces[stop].low == ")"
        pieces[at - 1 : stop + closes] = [Piece("phrase", None, mark.first, mark.last, "by", _BY), name]


def _who_did(told: list[Piece]) -> Piece | None:
    """The somebody of `odalys did it`, `that was odalys`, `thanks to odalys`, `odalys's work`; None for none."""
    words = [piece.low for piece in told]
    while words and words[0] in _BEFORE:
        told, words = told[1:], words[1:]
    if not words:
        return None
    if _is_somebody(told[0]) and len(words) > 1 and words[1] in _DID:
        return told[0] if " ".join(words[2:]) in _IT or (len(words) == _NAME_AND_VERB and words[1] != "did") else None
    if not _is_somebody(told[-1]):
        return None
    return told[-1] if " ".join(words[:-1]) in _CREDIT else None


def _tells_deed(pieces: list[Piece], at: int) -> bool:
    """Whether the sentence before a place tells of plants or things, and of nobody who did it."""
    end = at
    while end and pieces[end - 1].kind == "break":
        end -= 1
    told = pieces[begin_of_sentence(pieces, end) : end]
    named = any(piece.kind == "person" or piece.low == "by" for piece in told)
    sure = not any(piece.roles.keys() & _NOT_OF for piece in told)
    telling = any(piece.kind in SUBJECTS or is_act(piece) or piece.roles.keys() & _OF_THE_BENCH for piece in told)
    return telling and sure and not named and pieces[at].low not in SENTENCE_ENDS - {".", ";", "\n", "!"}
