"""Words of a deed that are said in another sense: `stuck on lot 9, what hormone`, `gave a talk on toyon`.

Rules
1. Whoever is stuck on a lot does not know what to do with it; a talk or a tour is given to people.
2. What is uncovered under a tray (`a nest of slugs`) was found there.
3. A spill that was cleaned up was no disinfecting; plants that the crew got donated were not given away.
4. Pots called bleached (`rinsed the bleached pots`) had been cleaned before.
5. Of a whole so many that struck have roots (`lot 8 60% struck`); cuttings that somebody struck were stuck.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Final

from core.notes.words.pieces import SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import deed_of, keep, keep_words, statements
from core.notes.words.steps import InEach, looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_LESSONS: Final = small_words("other_senses", "lessons")
_SPILLS: Final = small_words("other_senses", "spills")
_ASKERS: Final = small_words("asking", "askers")
_ARTICLES: Final = small_words("places", "articles")
_GETTING: Final = frozenset({"got", "received", "have", "brought", "picked up", "were", "accepted"})
_CLEANED: Final = small_words("other_senses", "cleaned")
_OF_THINGS: Final = frozenset({"lose", "move", "rinsed", "put"})
_LONGEST_FAST: Final = 5
_STUCK_FAST: Final = re.compile(
    rf"stuck (?:(?:{'|'.join(sorted(small_words('other_senses', 'fast')))})"
    rf"|(?:in|to|on|against|behind) (?:(?:the|a|my|our|some|all that) )?"
    rf"(?:{'|'.join(sorted(small_words('other_senses', 'fast_in')))}))"
)
_PAST: Final = ("ed", "away")
_LEADS: Final = frozenset({"to", "for", "at", "from", "with"})
_SHARES: Final = frozenset({"percent", "fraction"})


@looks_for("stuck", beside=("on",))
def keep_stuck_on(pieces: list[Piece]) -> None:
    """`stuck on lot 9, what hormone`, `stuck on which hormone for lot 9`: nobody knows what to do, in place."""
    if any(piece.kind == "number" or "plant" in piece.roles for piece in pieces):
        # "stuck on tray 4, 40 toyon".
        return
    for stuck, on, after in zip(pieces, pieces[1:], pieces[2:], strict=False):
        if (stuck.low, on.low) == ("stuck", "on") and (after.kind in SUBJECTS or after.low in _ASKERS):
            keep(stuck, on)


@looks_for("!stick", beside=("mud", "muck", "together", "traffic", "drain", "hole"))
def keep_stuck_fast(pieces: list[Piece]) -> None:
    """`five were just stuck in the mud`, `3 stuck together`: what hangs fast, and nothing that was put in, in place."""
    for at, piece in enumerate(pieces):
        if not is_act(piece) or not piece.low.startswith("stuck"):
            continue
        for end in range(at + 1, min(at + _LONGEST_FAST, len(pieces)) + 1):
            fast = _STUCK_FAST.fullmatch(" ".join(one.low for one in pieces[at:end]))
            if fast and not any(one.kind == "number" for one in pieces[end : end + 1]):
                keep_words(*pieces[at:end])


@looks_for("set", beside=("=duration",))
def keep_set_to(pieces: list[Piece]) -> None:
    """`mist set to 10 sec`: how long a clock runs, and nothing that was put anywhere, in place."""
    for at in range(len(pieces) - 2):
        run = pieces[at : at + 3]
        if (run[0].low, run[1].low) == ("set", "to") and run[2].kind == "duration":
            keep_words(*run)


@looks_for("struck", beside=("=percent", "=fraction", "=number"))
def read_struck(pieces: list[Piece]) -> None:
    """`lot 8 60% struck`, `12 of 20 struck`: how many of a whole have roots, in place."""
    for at, piece in enumerate(pieces):
        if piece.low == "struck" and is_act(piece):
            after = pieces[at + 1 : at + 2]
            counted = any(one.kind == "number" and one.value.of is None for one in after)
            if not counted and any(map(_of_whole, (*pieces[max(0, at - 1) : at], *after))):
                piece.roles = {"act": ActWord(act="check", says={"state": "rooted"}, counts_before=True)}


def _of_whole(piece: Piece) -> bool:
    return piece.kind in _SHARES or (piece.kind == "number" and piece.value.of is not None)


@looks_for(any_of=_LESSONS, beside=("!give",))
def _keep_lessons(said: list[Piece]) -> None:
    """`gave a talk on toyon`, `gave the kids a lesson on lot 9`, in place."""
    for at in range(2, len(said)):
        deed = next((piece for piece in said[: at - 1] if _does(piece, "give")), None)
        led = said[at - 1].low in _ARTICLES and said[at - 2].low not in _LEADS
        if said[at].low in _LESSONS and led and deed is not None:
            keep(deed)


@looks_for("donated", beside=_GETTING)
def _keep_donated(said: list[Piece]) -> None:
    """`got 12 donated currants`: what somebody gave the crew, in place."""
    got = next((at for at, piece in enumerate(said) if piece.low in _GETTING), None)
    for piece, after in pairwise(said[got:]) if got is not None else ():
        if piece.low == "donated" and is_act(piece) and "plant" in after.roles:
            keep(piece)


@looks_for("uncovered")
def _keep_what_was_found(said: list[Piece]) -> None:
    """`uncovered a nest of slugs under tray 3`, `uncovered some rot in lot 9`, in place."""
    for at, piece in enumerate(said[:-1]):
        if piece.low != "uncovered" or not is_act(piece):
            continue
        thing = at + 1
        while thing < len(said) - 1 and (said[thing].low in _ARTICLES or "vague" in said[thing].roles):
            thing += 1
        unknown = said[thing].kind == "word" and thing > at + 1
        if "cause" in said[thing].roles or unknown:
            keep(piece)


@looks_for(any_of=_SPILLS, beside=("!sanitize", "~wiped", "~rinsed"))
def _keep_spills(said: list[Piece]) -> None:
    """`bleach spill cleaned up`, in place."""
    if any(piece.low in _SPILLS for piece in said):
        keep(*(piece for piece in said if is_act(piece) or piece.low in _SPILLS))


@looks_for(any_of=_CLEANED, beside=_ARTICLES)
def _keep_how_clean(said: list[Piece]) -> None:
    """`rinsed the bleached pots`, `stacked the sanitized trays`: what had been cleaned before, in place."""
    for at in range(2, len(said) - 1):
        thing = not said[at + 1].roles.keys().isdisjoint(("thing", "container", "cover_noun"))
        if said[at].low not in _CLEANED or said[at - 1].low not in _ARTICLES or not thing:
            continue
        deed = said[at - 2]
        word = deed.roles.get("act") or deed.roles.get("shared")
        if word is None and not deed.low.endswith(_PAST) and "filler" not in deed.roles:
            continue
        keep(said[at])
        if word is not None and (word.act in _OF_THINGS or word.rule in _OF_THINGS):
            keep(deed)


@looks_for("!tend")
def _keep_supplies(said: list[Piece]) -> None:
    """`out of neem`, `bought sticky traps`: beside no lots, trays or plants nothing was done with them, in place."""
    if not any(map(names_plants, said)):
        for piece in said:
            noun = piece.roles.get("noun")
            if noun is not None and noun.says.get("care") == "pest_control" and piece.low != "pest control":
                keep(piece)


def _does(piece: Piece, act: str) -> bool:
    word = deed_of(piece)
    return word is not None and word.act == act


keep_other_senses: Final = InEach(
    statements, _keep_lessons, _keep_donated, _keep_what_was_found, _keep_spills, _keep_how_clean,
    _keep_supplies,
)
"""Takes the meaning of a deed from words that are said in another sense, in place."""
