"""Who or what of everyday life does something, or has it done to it: `my neighbour`, `the county`, `kit's nose`.

Rules
1. What follows a word of owning is somebody's, unless plants, cuttings or covers are; what is ours or mine may be a
   vessel or a thing of the bench, what is another's is none of it.
2. What follows an article is of everyday life where the lists of everyday things know it.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from core.notes.words.pieces import Piece, is_act
from core.vocabulary.everyday import home_words, is_everyday, is_given_name, is_plain_noun, several_of_plain_nouns
from core.vocabulary.loading import small_words

SELVES: Final = small_words("side_talk", "selves")
_OTHERS: Final = small_words("side_talk", "others")
OWN: Final = small_words("side_talk", "own")
OWNERS: Final = small_words("side_talk", "owners")
"""Words of what is another's."""
_OWNERS: Final = OWN | OWNERS
_NO_OWNERS: Final = small_words("side_talk", "no_owners")
_LIKE: Final = frozenset({"new", "old", "poor"})
ARTICLES: Final = small_words("side_talk", "articles")
_LEADS: Final = small_words("side_talk", "leads")
_PARTICLES: Final = small_words("home", "particles") | small_words("side_talk", "particles") | _LEADS
BEING: Final = small_words("side_talk", "being")
_NEVER_THINGS: Final = small_words("side_talk", "never_things")
_PERHAPS_PLANTS: Final = small_words("home", "perhaps_plants")
_GEAR: Final = small_words("equipment", "gear") | small_words("no_plants", "machines")
_AROUND: Final = home_words("subjects")
BARE: Final = home_words("clothes", "food", "papers", "money", "vehicles", "household", "animals", "matters", "people")
"""What is of everyday life also without an article (`brought cookies`)."""
AT_HOME: Final = BARE | home_words("of_somebody")
_OF_PLANTS: Final = frozenset({
    "plant", "cutting", "wood", "medium", "what", "cover_noun", "vent_noun", "all", "both", "none", "hormone",
    "hormone_name", "hormone_form", "solution", "pot_size", "left", "act", "shared",
})  # fmt: skip
_OF_BENCH: Final = _OF_PLANTS | {"container", "thing", "place_word"}
_JOINTS: Final = frozenset({"and", "&"})
_LONGEST: Final = 4

PRONOUNS: Final = SELVES | _OTHERS
THINGS: Final = several_of_plain_nouns() | AT_HOME | _GEAR | _AROUND | _NEVER_THINGS
"""What an article may stand before that is of everyday life."""
OPENERS: Final = PRONOUNS | _OWNERS | ARTICLES


class Somebody(NamedTuple):
    """Who or what a statement tells of: where its words end (nought where none are there), and whether it is surely
    nothing of the bench.
    """

    end: int
    alien: bool


NOBODY: Final = Somebody(0, alien=False)


def subject_at(pieces: list[Piece], at: int, end: int) -> Somebody:
    """The subject of a statement that begins at a place."""
    if at >= end:
        return NOBODY
    piece = pieces[at]
    low = piece.low.split(" ")[0]
    if low in PRONOUNS:
        return Somebody(at + 1, alien=False)
    owned = _end_of_owned(pieces, at, end)
    unknown = piece.kind == "word" and (is_given_name(low) or not is_everyday(low))
    named = unknown or piece.kind == "person" or piece.roles.keys() == {"plant"}
    if named and not owned and not _end_of_bare(pieces, at, end):
        return _named(pieces, at, end)
    stop = owned or _end_of_thing(pieces, at, end) or gear_at(pieces, at, end) or _end_of_bare(pieces, at, end)
    if stop and stop + 1 < end and pieces[stop].low in _JOINTS and pieces[stop + 1].low in SELVES:
        return Somebody(stop + 2, alien=True)
    if not stop and pieces[at].low in ARTICLES and at + 1 < end and pieces[at + 1].low in _NEVER_THINGS:
        return Somebody(at + 2, alien=True)
    return Somebody(stop, alien=bool(stop))


def thing_done_to(pieces: list[Piece], at: int, end: int) -> int:
    """Where the thing or person of everyday life ends that a deed before a place was done to; nought where none is."""
    led = False
    while at < end and pieces[at].low in _PARTICLES:
        led = led or pieces[at].low in _LEADS
        at += 1
    if at < end and not led and pieces[at].kind == "word" and pieces[at].low in BARE:
        return at + 1
    return _end_of_owned(pieces, at, end) or (0 if led else _end_of_thing(pieces, at, end))


def is_at_home(word: str) -> bool:
    """Whether a word is a thing or a person of everyday life."""
    return word in AT_HOME or is_plain_noun(word)


def is_verbal(pieces: list[Piece], at: int, end: int) -> bool:
    """Whether a verb may stand at a place: of being, of planning or denying, or any word that is no small word."""
    if at >= end or pieces[at].kind not in ("word", "phrase"):
        return False
    piece = pieces[at]
    said = {"plan", "negation", "act", "shared", "to_do"}
    verb = piece.kind == "word" and not is_plain_noun(piece.low)
    return verb or piece.low.split(" ")[0] in BEING or not piece.roles.keys().isdisjoint(said)


def _named(pieces: list[Piece], at: int, end: int) -> Somebody:
    """`dev`, `dev and i`: somebody, who may do the work of the bench too."""
    if at + 2 < end and pieces[at + 1].low in _JOINTS and pieces[at + 2].low in SELVES:
        return Somebody(at + 3, alien=False)
    return Somebody(at + 1, alien=False)


def _end_of_owned(pieces: list[Piece], at: int, end: int) -> int:
    """Where what is somebody's ends; nought where it is of the bench, or nobody's."""
    if at + 1 >= end:
        return 0
    owner = pieces[at].low
    others = owner.endswith("'s") and owner not in _NO_OWNERS and pieces[at].kind == "word"
    if owner not in _OWNERS and not others:
        return 0
    bench = _OF_BENCH if owner in OWN else _OF_PLANTS
    place = at + 1
    while place < min(at + 1 + _LONGEST, end):
        piece = pieces[place]
        first = place == at + 1
        if piece.kind not in ("word", "phrase") or piece.low in BEING:
            break
        if not (_may_be_owned(piece, bench, first=first) or (first and _names_deed(pieces, place, end))):
            break
        place += 1
    last = pieces[place - 1].low
    plants = last in _PERHAPS_PLANTS and last not in AT_HOME and (owner in OWN or pieces[place - 1].kind == "word")
    return place if place > at + 1 and not plants else 0


def _may_be_owned(piece: Piece, bench: frozenset[str], *, first: bool) -> bool:
    """Right after its owner any word is a thing that is none of the bench (`my back gave out`)."""
    if (piece.low in AT_HOME or piece.low in _GEAR) and not is_act(piece):
        return True
    if piece.kind == "word":
        return piece.low not in _PERHAPS_PLANTS and not is_given_name(piece.low)
    return (first or "filler" not in piece.roles) and piece.roles.keys().isdisjoint(bench)


def _names_deed(pieces: list[Piece], place: int, end: int) -> bool:
    """`my toast`, `his cover`: a deed's word right after its owner, where nothing that it could be said of follows."""
    after = pieces[place + 1] if place + 1 < end else None
    return is_act(pieces[place]) and (after is None or "filler" in after.roles or after.kind == "moment")


def _end_of_thing(pieces: list[Piece], at: int, end: int) -> int:
    """Where a thing of everyday life ends that begins with an article; nought where none does."""
    if at >= end or pieces[at].low not in ARTICLES:
        return 0
    place = at + 1
    while place < min(at + 1 + _LONGEST, end) and _may_be_thing(pieces[place]):
        place += 1
    return place if place > at + 1 and is_at_home(pieces[place - 1].low) else 0


def gear_at(pieces: list[Piece], at: int, end: int) -> int:
    """Where the gear, or the place out of doors, ends that something happens to (`the fridge | died`, `the road | was
    flooded`); nought where none is.
    """
    led = at + 1 < end and pieces[at].low in ARTICLES
    return at + 2 if led and (pieces[at + 1].low in _GEAR or pieces[at + 1].low in _AROUND) else 0


def _end_of_bare(pieces: list[Piece], at: int, end: int) -> int:
    """`homework | can wait`, `lunch | was late`: a thing without an article, and how it is."""
    bare = pieces[at].kind == "word" and pieces[at].low in BARE and not is_given_name(pieces[at].low)
    return at + 1 if bare and at + 1 < end and pieces[at + 1].low in BEING else 0


def _may_be_thing(piece: Piece) -> bool:
    if piece.kind == "phrase" and piece.roles.keys() <= {"medium_is", "filler"} and piece.low in _LIKE:
        return True
    if piece.kind != "word" or piece.low in _PERHAPS_PLANTS or piece.low in BEING or is_given_name(piece.low):
        return False
    return is_everyday(piece.low) or piece.low in AT_HOME


__all__ = [
    "ARTICLES", "AT_HOME", "BARE", "BEING", "NOBODY", "OPENERS", "OWN", "OWNERS", "PRONOUNS", "SELVES", "THINGS",
    "Somebody", "gear_at", "is_at_home", "is_verbal", "subject_at", "thing_done_to",
]  # fmt: skip
