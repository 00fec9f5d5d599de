"""Which statements of a note are everyday talk beside the bench: `, my neighbour held the flashlight`, `who drove all
the way from the city`, `because their bed washed out`.

Rules
1. A statement is talk where it names nothing of the bench (no lot, count, plant, vessel or stuff) and its subject or its
   object is somebody's or a thing of everyday life; or where somebody tells no deed in it at all.
2. Talk parts what stands around it as a comma does, and is kept for the rest; words of deeds in it are no deeds.
3. Where nothing but talk is told, the note is left whole, and none of its words is a deed.
"""

from __future__ import annotations

from typing import Final

from core.notes.talk.asking import begins_question
from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.said import keep_words
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import home_words, is_everyday, is_given_name, is_plain_noun
from core.vocabulary.loading import small_words

_SELVES: Final = small_words("side_talk", "selves")
_OTHERS: Final = small_words("side_talk", "others")
_OWN: Final = small_words("side_talk", "own")
_OWNERS: Final = _OWN | small_words("side_talk", "owners")
_ARTICLES: Final = small_words("side_talk", "articles")
_JOINTS: Final = small_words("side_talk", "joints")
_REASONS: Final = small_words("cues", "reasons")
_WHO: Final = small_words("side_talk", "who")
_PARTICLES: Final = small_words("home", "particles") | small_words("side_talk", "particles")
_BEING: Final = small_words("side_talk", "being")
_POINTING: Final = small_words("side_talk", "pointing")
_NEVER_THINGS: Final = small_words("side_talk", "never_things")
_PERHAPS_PLANTS: Final = small_words("home", "perhaps_plants")
_AT_HOME: Final = home_words(
    "clothes", "food", "papers", "money", "vehicles", "household", "animals", "matters", "people"
)
_OF_NOTHING: Final = frozenset({
    "filler", "plan", "negation", "hearsay", "company", "approx", "opens", "closes", "remarks", "medium_is", "inch",
    "condition", "coming", "greeting", "no_deed", "act", "shared", "to_do", "noun", "fraction", "vague", "more", "wish",
})  # fmt: skip
"""Meanings that a word of everyday talk may have."""
_WEAK: Final = frozenset({"container", "thing", "place_word", "cause", "person"})
"""Meanings that tell nothing of the bench where somebody does something else."""
_SAID: Final = frozenset({"word", "phrase", "mark", "dash", "person", "saying", "times"})
_DOING: Final = frozenset({"act", "shared", "to_do", "noun"})
_LONGEST_NAME: Final = 4


@looks_for(any_of=_SELVES | _OTHERS | _OWNERS | _ARTICLES | _WHO)
def part_side_talk(pieces: list[Piece]) -> tuple[list[Piece], list[Piece]]:
    """The pieces of a note without its talk (a comma where it stood), and the talk as remarks; what is nothing but talk
    is left, and its words are taken for no deed, in place.
    """
    spans = [span for span in _statements(pieces) if _is_talk(pieces, *span)]
    if not spans:
        return pieces, []
    within = {place for start, end in spans for place in range(start, end)}
    left = [piece for place, piece in enumerate(pieces) if place not in within]
    if not any(map(is_act, left)) and not _asks(pieces, within):
        for start, end in spans:
            if any(piece.roles.keys() & _DOING for piece in pieces[start:end]):
                keep_words(*pieces[start:end])
        return pieces, []
    told: list[Piece] = []
    for place, piece in enumerate(pieces):
        if place not in within:
            told.append(piece)
        elif told and told[-1].kind != "break":
            told.append(Piece("break", ",", piece.first, piece.first, ","))
    while told[0].kind == "break":
        del told[0]
    while told[-1].kind == "break" and told[-1].low != "?":
        del told[-1]
    return told, [_remark(pieces, start, end) for start, end in spans]


def _asks(pieces: list[Piece], without: set[int]) -> bool:
    fresh = (place for place in range(len(pieces)) if place == 0 or pieces[place - 1].kind == "break")
    return any(place not in without and begins_question(pieces, place) for place in fresh)


def _remark(pieces: list[Piece], start: int, end: int) -> Piece:
    """The words of a statement without the joint before it."""
    while start + 1 < end and pieces[start].low in _JOINTS:
        start += 1
    low = " ".join(piece.low for piece in pieces[start:end])
    return Piece("phrase", None, pieces[start].first, pieces[end - 1].last, low, {"remarks": True})


def _statements(pieces: list[Piece]) -> list[tuple[int, int]]:
    """Where each statement begins and ends: between marks, and from a reason or a joint before another subject on."""
    spans: list[tuple[int, int]] = []
    start = 0
    for place, piece in enumerate(pieces):
        if piece.kind == "break":
            spans.append((start, place))
            start = place + 1
        elif place > start and _opens_another(pieces, start, place):
            spans.append((start, place))
            start = place
    spans.append((start, len(pieces)))
    return [(start, end) for start, end in spans if end > start]


def _opens_another(pieces: list[Piece], start: int, place: int) -> bool:
    """Whether a statement of its own begins within one: a reason, who somebody is, what another did, or what comes after
    who somebody is (`for hal who plays the organ | and 4 for greta`).
    """
    low = pieces[place].low
    if place + 1 >= len(pieces) or pieces[place + 1].kind == "break":
        return False
    if low in _REASONS:
        return _end_of_subject(pieces, place + 1, len(pieces)) > 0
    if low in _WHO:
        return pieces[place - 1].kind in ("word", "person", "quote") and not is_everyday(pieces[place - 1].low)
    if low not in _JOINTS or (pieces[place - 1].low in _JOINTS and place - 1 > start):
        return False
    if pieces[start].low in _WHO:
        return pieces[place + 1].kind in COUNTS | SUBJECTS or is_act(pieces[place + 1])
    purpose = low == "so" and pieces[place + 1].low in _OTHERS
    return not purpose and _does_something(pieces, place + 1)


def _does_something(pieces: list[Piece], at: int) -> bool:
    """Whether somebody or something of everyday life stands at a place, and a verb after it."""
    end = _end_of_subject(pieces, at, len(pieces))
    return end > 0 and (end == at + 1 or _is_verbal(pieces[end : end + 1]))


def _is_verbal(after: list[Piece]) -> bool:
    """Whether a verb may follow: a word of being or doing, or any word that is no preposition."""
    if not after or after[0].kind not in ("word", "phrase"):
        return False
    piece = after[0]
    return piece.kind == "word" or piece.low in _BEING or not piece.roles.keys().isdisjoint((*_DOING, "plan", "negation"))


def _is_talk(pieces: list[Piece], start: int, end: int) -> bool:
    """Whether a statement is talk."""
    at = start
    while at < end and (pieces[at].low in _JOINTS or pieces[at].low in _REASONS or pieces[at].kind == "mark"):
        at += 1
    if at >= end or begins_question(pieces, start):
        return False
    if start and pieces[at].low in _WHO and pieces[start - 1].kind != "break":
        return not any(_is_of_bench(piece) for piece in pieces[at:end])
    subject = _end_of_subject(pieces, at, end)
    alien = subject > at + 1
    verbs = [place for place in range(subject or at, end) if not pieces[place].roles.keys().isdisjoint(_DOING)]
    if not verbs:
        doing = subject and (not alien or _is_verbal(pieces[subject : subject + 1]))
        return bool(doing) and end - at > 2 and all(_is_of_talk(piece, weak=True) for piece in pieces[subject:end])
    objects = [_end_of_object(pieces, place + 1, end) for place in verbs]
    if not alien and not any(objects):
        return False
    within = set(range(at, subject))
    for place, stop in zip(verbs, objects, strict=True):
        within.update(range(place, stop))
    return all(_is_of_talk(pieces[place], weak=alien) for place in range(at, end) if place not in within)


def _is_of_bench(piece: Piece) -> bool:
    return piece.kind in COUNTS | SUBJECTS | {"quote"} or "plant" in piece.roles


def _is_of_talk(piece: Piece, *, weak: bool) -> bool:
    """Whether a word may stand in everyday talk, and points to no plants."""
    meanings = _OF_NOTHING | _WEAK if weak else _OF_NOTHING
    return piece.kind in _SAID and piece.roles.keys() <= meanings and piece.low not in _POINTING


def _end_of_subject(pieces: list[Piece], at: int, end: int) -> int:
    """Where the subject of a statement ends that begins at a place; nought where none does."""
    if at >= end:
        return 0
    low = pieces[at].low.split(" ")[0]
    if low in _SELVES or low in _OTHERS:
        return at + 1
    with_self = pieces[at + 1 : at + 3]
    named = pieces[at].kind == "word" or is_given_name(low)
    if named and len(with_self) == 2 and with_self[0].low in ("and", "&") and with_self[1].low in _SELVES:
        return at + 3
    return min(_end_of_name(pieces, at, doing=True), end)


def _end_of_name(pieces: list[Piece], at: int, *, doing: bool = False) -> int:
    """Where what is somebody's or a thing of everyday life ends that begins at a place; nought where none does."""
    if at >= len(pieces) or (pieces[at].low not in _OWNERS and pieces[at].low not in _ARTICLES):
        return 0
    owner = pieces[at].low if pieces[at].low in _OWNERS else ""
    place = at + 1
    while place < min(at + 1 + _LONGEST_NAME, len(pieces)) and _names(pieces[place], owner=owner):
        place += 1
    if doing and place == at + 1 and place < len(pieces) and pieces[place].low in _NEVER_THINGS:
        return place + 1
    if place == at + 1:
        return 0
    last = pieces[place - 1]
    plain = last.low in _AT_HOME or is_plain_noun(last.low)
    return place if plain or (owner and last.low not in _PERHAPS_PLANTS) else 0


def _names(piece: Piece, *, owner: str) -> bool:
    """Whether a word may be part of the name of such a thing."""
    if piece.low in _BEING or is_act(piece) or is_given_name(piece.low):
        return False
    if piece.kind == "word":
        return piece.low not in _PERHAPS_PLANTS and (bool(owner) or is_everyday(piece.low) or piece.low in _AT_HOME)
    others = bool(owner) and owner not in _OWN and bool(piece.roles)
    return others and piece.kind == "phrase" and piece.roles.keys() <= _WEAK


def _end_of_object(pieces: list[Piece], at: int, end: int) -> int:
    """Where the thing of everyday life ends that something was done to; nought where it is of the bench."""
    while at < end and pieces[at].low in _PARTICLES:
        at += 1
    return min(_end_of_name(pieces, at), end) if at < end else 0


__all__ = ["part_side_talk"]
