"""Who is called as a plant is (`rose lost her keys`), and what else begins with a plant's name (`bay bridge`).

Rules
1. A plant is somebody only by what is said: what people alone do, have or are, whose things it tells of, who is texted.
2. What such a one did to a thing that is no plant's is no deed of the bench, unless lots, trays or numbers follow.
"""

from __future__ import annotations

from typing import Final

from core.notes.names.people import NAMELIKE, may_be_name
from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.said import end_of_statement, is_end, keep_words, said_in
from core.notes.words.steps import looks_for
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_NAMES: Final = NAMELIKE | small_words("namesakes", "names")
_BEFORE: Final = small_words("namesakes", "before")
_VERBS: Final = small_words("namesakes", "verbs")
_BEING: Final = small_words("namesakes", "being")
_HAVING: Final = small_words("namesakes", "having")
_KIN: Final = small_words("namesakes", "kin")
_WHOSE: Final = small_words("namesakes", "whose")
_ARTICLES: Final = small_words("namesakes", "articles")
_NOT_FOUND: Final = small_words("namesakes", "not_found")
_OWN: Final = small_words("namesakes", "own")
_BARE_OBJECTS: Final = small_words("namesakes", "bare_objects")
_FAR: Final = small_words("namesakes", "far")
_OTHERS: Final = small_words("namesakes", "others")
_OPENING: Final = small_words("namesakes", "opening")
_IS: Final = ("is", "are", "was", "were", "will be", "'s")
_HAS: Final = ("has", "had", "got", "gets", "have", "needs", "lost", "forgot")
_AND: Final = ("and", "&")
_WAY: Final = ("does", "did", "taught", "likes", "wants", "told", "wanted", "liked")
_MOST_WORDS: Final = 4
_BENCH: Final = frozenset({"plant", "thing", "solution", "all", "container", "place_word", "vent_noun", "cover_noun"})


@looks_for(any_of=(*_NAMES, *(f"{name}s" for name in _NAMES)))
def name_namesakes(pieces: list[Piece]) -> None:
    """Makes a plant's name that is somebody's, or that only begins other words, a word without a meaning, in place."""
    for at, who in enumerate(pieces):
        if "plant" not in who.roles or not {who.low, who.low.removesuffix("s")} & _NAMES:
            continue
        if _begins_others(pieces, at):
            keep_words(who)
        elif _is_somebody(pieces, at):
            who.kind, who.value, who.roles = "word", None, NO_ROLES
            _keep_what_was_done(pieces, at + 1)


def _begins_others(pieces: list[Piece], at: int) -> bool:
    """`bay bridge is backed up`, `sage advice`."""
    return any(said_in(pieces[at : at + count]) in _OTHERS for count in range(2, _MOST_WORDS + 1))


def _is_somebody(pieces: list[Piece], at: int) -> bool:
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    if pieces[at].low not in _NAMES or (after is not None and after.low == "'s"):
        after = pieces[at + 2] if after is not None and after.low == "'s" and at + 2 < len(pieces) else after
        return after is not None and after.low in _KIN
    if at and (pieces[at - 1].low in _BEFORE or said_in(pieces[max(0, at - 2) : at]) in _BEFORE):
        return True
    if at and pieces[at - 1].low == "way" and after is not None:
        return after.low in _WAY
    if _with_others(pieces, at):
        return True
    heads = at == 0 or pieces[at - 1].kind in ("break", "moment") or pieces[at - 1].low in ("and", "but", "cuz")
    return heads and after is not None and (
        _does_so(pieces, at + 1) or _deals_with_things(pieces, at + 1) or _opens(pieces, at + 1)
    )


def _with_others(pieces: list[Piece], at: int) -> bool:
    """`holly and kit are carpooling`, `ruthanne and iris`: beside a given name at the head of a statement."""
    for joint, other in ((at + 1, at + 2), (at - 1, at - 2)):
        if other < 0 or other >= len(pieces) or pieces[joint].low not in _AND:
            continue
        first = min(at, other)
        heads = first == 0 or pieces[first - 1].kind in ("break", "moment")
        after = max(at, other) + 1
        known = pieces[other].kind == "word" and is_given_name(pieces[other].low)
        known = known or (may_be_name(pieces[other]) and after < len(pieces) and _does_so(pieces, after))
        if heads and known and not is_end(pieces, after):
            return True
    return False


def _does_so(pieces: list[Piece], at: int) -> bool:
    """`called in sick`, `is in charge`, `has the flu`: what is told of people alone."""
    if _begins_with(pieces, at, _VERBS):
        return True
    verb = pieces[at].low
    if verb == "found":
        return not is_end(pieces, at + 1) and pieces[at + 1].low not in _NOT_FOUND
    late = [one.low for one in pieces[at + 1 : at + 3]]
    if late[:1] == ["late"] and late[1:] in (["to"], ["this"], ["for"]):
        # "violet is late to root".
        return False
    if verb in _IS and (_begins_with(pieces, at + 1, _BEING) or _begins_with(pieces, at + 1, _VERBS)):
        return True
    return verb in _HAS and _begins_with(pieces, _after_article(pieces, at + 1), _HAVING)


def _begins_with(pieces: list[Piece], at: int, known: frozenset[str]) -> bool:
    return any(said_in(pieces[at:end]) in known for end in range(at + 1, min(at + 1 + _MOST_WORDS, len(pieces) + 1)))


def _after_article(pieces: list[Piece], at: int) -> int:
    led = at < len(pieces) and (pieces[at].low in _ARTICLES or pieces[at].low in _WHOSE)
    return at + 1 if led else at


def _deals_with_things(pieces: list[Piece], at: int) -> bool:
    """`broke her wrist`, `checked the mail`, `brought donuts`, `moved to ohio`: a verb, and no object of the bench."""
    verb = pieces[at]
    if not (is_act(verb) or verb.kind == "word" or verb.low in (*_HAS, "put", "gave", "did")):
        return False
    if verb.low == "moved" and [one.low for one in pieces[at + 1 : at + 2]] == ["to"]:
        return any(said_in(pieces[at + 2 : end]) in _FAR and is_end(pieces, end) for end in (at + 3, at + 4))
    start = _after_article(pieces, at + 1 + _has_particle(pieces, at + 1))
    if is_end(pieces, start) or pieces[start].low in _OWN or pieces[start].low.split(" ")[0] in _OWN:
        return False
    lead = pieces[start - 1].low
    if lead in _WHOSE:
        return pieces[start].roles.keys().isdisjoint(_BENCH) and pieces[start].kind == "word"
    led = start > at + 1 and (is_act(pieces[start]) or "cause" in pieces[start].roles)
    thing = led or pieces[start].kind == "word"
    named = thing and not _tells_of_bench(pieces, start)
    meaning = verb.roles.get("act") or verb.roles.get("shared")
    done = meaning is not None and meaning.form == "done" and not meaning.counts_before
    if lead in _ARTICLES:
        return named and (done or verb.low.endswith("ed") or verb.low in _BARE_OBJECTS)
    return named and start == at + 1 and verb.low in _BARE_OBJECTS


def _opens(pieces: list[Piece], at: int) -> bool:
    """`opened the vents on tray 3`: a cover or vents that somebody set."""
    after = pieces[at + 1 : at + 2]
    if after and after[0].low in _ARTICLES:
        after = pieces[at + 2 : at + 3]
    named = bool(after) and not after[0].roles.keys().isdisjoint(("vent_noun", "cover_noun"))
    return named and pieces[at].low in _OPENING


def _has_particle(pieces: list[Piece], at: int) -> bool:
    """`mixed up the keys`: a small word that belongs to the verb."""
    return at < len(pieces) and pieces[at].low in ("up", "out", "off", "over")


def _tells_of_bench(pieces: list[Piece], at: int) -> bool:
    """Whether lots, trays, numbers, plants or things of the bench follow in the statement."""
    return any(
        piece.kind in ("lots", "trays", "number", "amount", "fraction", "quote")
        or not piece.roles.keys().isdisjoint(_BENCH)
        for piece in pieces[at : end_of_statement(pieces, at)]
    )


def _keep_what_was_done(pieces: list[Piece], at: int) -> None:
    """Keeps the words of what somebody did to no plant, in place."""
    if is_end(pieces, at) or _tells_of_bench(pieces, at):
        return
    if _deals_with_things(pieces, at) or _does_so(pieces, at):
        end = end_of_statement(pieces, at)
        keep_words(*(piece for piece in pieces[at - 1 : end] if piece.kind != "moment"))


__all__ = ["name_namesakes"]
