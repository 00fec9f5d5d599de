"""Is it a correction of what was said, and of which details.

A correction that tells a deed (`oops, lost 4 in tray 3`) is that deed; what it does not use stays as rest.
"""

from __future__ import annotations

import re
from datetime import datetime
from functools import cache
from typing import Final

from core.notes.acts.slots import Slots, joined
from core.notes.counts.shares import names_mother
from core.notes.counts.strengths import find_strengths
from core.notes.days.moments import Moment
from core.notes.days.who import may_be_who_beside
from core.notes.details.drafts import Draft
from core.notes.parting.clauses import Clause
from core.notes.talk.corrected_counts import (
    count_put_right,
    counts_both,
    ends_after_share,
    is_bare_number,
    numbers_lot,
)
from core.notes.talk.corrected_values import correct, take_unit_of_wrong
from core.notes.words.pieces import Piece, is_act
from core.notes.words.steps import Look, Marks, looks_for
from core.notes.words.tokens import Token
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import read_toml, small_words
from core.vocabulary.talk_phrases import correction_openers, said_of

_NAMED: Final = (
    "treatment", "plant", "cutting", "medium", "wood", "hormone_form", "hormone_name", "container", "pot_size",
    "solution",
)  # fmt: skip
_MEASURED: Final = frozenset(
    {"number", "lots", "trays", "moment", "ppm", "duration", "temp", "size", "fraction", "amount"}
)
_STUFF: Final = ("solution", "medium")
_WAITS: Final = re.compile(r"(?:hold on to|wait (?:on|for|till|til|until|to|before)) ")
_BOUNDS: Final = re.compile(r"no (?:more|less|fewer) than ")
_SLIP_AT: Final = re.compile(
    r".*\bmistake (?:in|with|on|at|about|of|to)\b(?! (?:the |my )?(?:count|lot|tray|number|date|day|plant)\b(?! \d))"
    r"|.*\bmistake \w+ (?:the|my) \w+ (?:in|on|for|of|at|with)\b"
)
_WORD: Final = re.compile(r"[\w']+")
_IS: Final = small_words("corrections", "being")
_FEWER: Final = small_words("corrections", "fewer")
_PEOPLE: Final = small_words("beside", "people")
_NOT: Final = small_words("corrections", "denying")
_FROM: Final = small_words("corrections", "from_lot")
_BEFORE_LOT: Final = small_words("corrections", "before_lot")
_NOUNS: Final = small_words("corrections", "nouns")
_LONGEST_CLOSING: Final = 5
_BEEN: Final = (" was", " were")
_MOST_CORRECTED: Final = 6
_REALLY: Final = small_words("corrections", "really")
_AMENDS: Final = read_toml("talk.toml")["amend"]
_WEAK_OPENERS: Final = frozenset(said_of("amend", "weak"))
_MAKE_IT: Final = "make it"
_WEAK_CLOSERS: Final = frozenset(_AMENDS["weak_closes"])
_CLOSERS: Final = frozenset((*_AMENDS["closes"], *_WEAK_CLOSERS))
_CLOSING: Final = Look(closer.split(" ")[0] for closer in _CLOSERS)


@cache
def _openers() -> dict[str, tuple[str, ...]]:
    """The openers of a correction by their first word, the longest first."""
    found: dict[str, list[str]] = {}
    for phrase in sorted(correction_openers(), key=len, reverse=True):
        found.setdefault(_first_word(phrase), []).append(phrase)
    return {word: tuple(phrases) for word, phrases in found.items()}


def _first_word(said: str) -> str:
    found = _WORD.match(said)
    return found[0] if found is not None else ""


@looks_for(any_of=_NOT | _REALLY)
def renamed(tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """`lot 7 is toyon, not coffeeberry`, `lot 7 is actually toyon`: what was said of a lot before is corrected."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark")]
    if len(solid) < 4 or solid[0].kind not in ("lots", "trays") or solid[1].low not in _IS:
        return None
    stop = next((place for place, piece in enumerate(pieces) if piece.low in _NOT), 0)
    if not stop and solid[2].low in _REALLY:
        stop = len(pieces)
        solid[2].used = True
    if (
        not stop
        or not any(
            "plant" in piece.roles or "cutting" in piece.roles or "medium" in piece.roles for piece in pieces[:stop]
        )
        or any(is_act(piece) for piece in pieces)
    ):
        return None
    clause = Clause("", pieces[:stop])
    clause.act = "amend"
    slots = Slots(clause, tokens, now)
    correct(slots, clause.pieces, now)
    return [Draft("amend", slots, [Clause("", pieces)])]


def amend(text: str, tokens: list[Token], pieces: list[Piece], bare: str, now: datetime) -> list[Draft] | None:
    """The correction that a note is from end to end: it opens like one, or closes like one."""
    openers = _openers().get(_first_word(bare), ())
    whole, closer = _without_closing(pieces)
    opener = next(
        (
            phrase
            for phrase in openers
            if bare == phrase or (bare.startswith(phrase) and not bare[len(phrase)].isalnum())
        ),
        None,
    )
    if opener is not None and (_WAITS.match(bare) or _BOUNDS.match(bare) or _SLIP_AT.match(bare)):
        # "hold on to 6 for kit" keeps plants, "wait on lot 14" puts work off, "no more than 40 rooted" bounds a count,
        # "i made a mistake in tray 13" says where: none takes anything back.
        opener = None
    if opener is None:
        return _correction(text, tokens, pieces, whole, closer, now) if _only_closed(whole, closer) else None
    opened = said = opener
    left = _after(bare, opener)
    while True:
        more = next(
            (
                phrase
                for phrase in _openers().get(_first_word(left), ())
                if left == phrase or left.startswith(phrase + " ") or left.startswith(phrase + ",")
            ),
            None,
        )
        if more is None:
            break
        opened, left = more, _after(left, more)
        said = f"{said} {more}"
    begin = len(pieces)
    wanted = _letters(left)
    for place in range(len(pieces)):
        if (
            _letters("".join(tokens[step].low for piece in pieces[place:] for step in range(piece.first, piece.last)))
            == wanted
        ):
            begin = place
            break
    told = pieces[begin : len(whole)] if len(whole) > begin else pieces[begin:]
    _name_number(told, said)
    _name_lot(told)
    return _correction(text, tokens, pieces, told, opened, now)


def _name_number(told: list[Piece], said: str) -> None:
    """`wrong lot, should be 22`, `the date should be 4/12`: a bare number is what the opening names, in place."""
    kind = next((name for name in ("lots", "trays") if name[:-1] in said.split()), None)
    first = next((piece for piece in told if piece.kind != "break"), None)
    if first is not None and "date" in said.split() and first.kind == "fraction":
        first.kind, first.value = "moment", Moment(month=first.value[0], day=first.value[1])
    if kind is None or first is None or first.kind != "number" or first.value.whole is None or first.value.high:
        return
    first.kind, first.value = kind, (first.low,)


def _name_lot(told: list[Piece]) -> None:
    """`those were from 16`, `it was in 16 not 14`: where from a bare number says is a lot, in place."""
    solid = [piece for piece in told if piece.kind != "break"]
    while solid and solid[0].low in _BEFORE_LOT:
        solid = solid[1:]
    if len(solid) == 3 and is_bare_number(solid[0]):
        # "It was 4 in 16".
        solid = solid[1:]
    right, wrong = solid[:2], solid[3:]
    if len(solid) > 2 and (solid[2].low not in _NOT or len(wrong) not in (1, 2)):
        return
    if len(right) < 2 or right[0].low not in _FROM or not is_bare_number(right[1]):
        return
    right[1].kind, right[1].value = "lots", (right[1].low,)


def _without_closing(pieces: list[Piece]) -> tuple[list[Piece], str]:
    """The pieces before what closes a correction (`lot 21 i meant`), and what closes it, or "" where nothing does."""
    for place in range(max(1, len(pieces) - _LONGEST_CLOSING), len(pieces)):
        said = " ".join(piece.low for piece in pieces[place:] if piece.kind not in ("break", "mark"))
        if said in _CLOSERS:
            # Of "lot 9? lot 8 i mean" the first is what was doubted.
            doubted = next((at for at in range(min(place - 1, 3)) if pieces[at].low == "?"), -1)
            return pieces[doubted + 1 : place], said
    return pieces, ""


def closes(marks: Marks) -> bool:
    """Whether a note with these marks may close as a correction."""
    return _CLOSING.finds_in(marks)


def _only_closed(told: list[Piece], closer: str) -> bool:
    """Whether a few details that no opening word corrects are corrected by what closes them."""
    solid = [piece for piece in told if piece.kind not in ("break", "mark")]
    wrong = any(piece.low in _NOT and _corrects(solid[at + 1 :], closer) for at, piece in enumerate(solid) if at)
    return (
        bool(closer)
        and (wrong or closer not in _WEAK_CLOSERS)
        and len(solid) <= _MOST_CORRECTED
        and _corrects(told, closer)
        and not any(role in piece.roles for piece in solid for role in ("act", "shared", "to_do"))
    )


def _after(bare: str, opener: str) -> str:
    return bare[len(opener) :].lstrip(" ,.:;-!")


def _letters(words: str) -> str:
    return "".join(mark for mark in words if mark.isalnum())


def _correction(
    text: str, tokens: list[Token], pieces: list[Piece], told: list[Piece], opened: str, now: datetime
) -> list[Draft] | None:
    weak = opened in _WEAK_OPENERS or opened in _WEAK_CLOSERS
    deeds = [
        piece
        for piece in told
        if is_act(piece) and not (piece.roles.get("act") is not None and piece.roles["act"].says.get("state"))
    ]
    if opened.endswith(_MAKE_IT) and len(told) > 1 and told[0].kind == "number" and deeds[:1] == told[1:2]:
        # "make it 3 dead not 5".
        deeds = deeds[1:]
    if (deeds and weak and not count_put_right(told)) or len(told) > 14:
        return None
    if not told or all(piece.kind in ("break", "mark") for piece in told):
        return None
    if opened.startswith("should") and any(piece.low in _FEWER for piece in told):
        # "should be 72 in lot 14, only 60" tells how many there ought to be.
        return None
    if opened.startswith(("should", "supposed")) and counts_both(told):
        return None
    stop = next((place for place, piece in enumerate(told) if piece.low in _NOT and place), len(told))
    somebody = _somebody(told) if opened.endswith(_BEEN) else None
    if somebody is not None:
        return [_done_by(somebody, told, tokens, now)]
    _name_treatment(told, stop)
    take_unit_of_wrong(told, stop, tokens)
    if weak and (
        not _corrects(told, opened)
        or _lacks(pieces, told)
        or any("place_word" in piece.roles or _covered(told, place) for place, piece in enumerate(told))
    ):
        return None
    find_strengths(told)
    clause = Clause("", [*told[: min(stop, _small_talk(told))], *_and_more(told, stop)])
    clause.act = "amend"
    slots = Slots(clause, tokens, now)
    draft = Draft("amend", slots, [Clause("", told)])
    correct(slots, clause.pieces, now)
    if not slots.values and not slots.asks:
        _correct_place(slots, clause.pieces)
    if not slots.values and not slots.asks:
        return None if weak else [draft]
    return [draft]


def _correct_place(slots: Slots, pieces: list[Piece]) -> None:
    """`sorry it was bench d`: the place that it was, where nothing else is told."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark")]
    if any("place_word" in piece.roles for piece in solid) and all(_may_name_place(piece) for piece in solid):
        slots.put("to", joined(slots.tokens, solid[0].first, solid[-1].last).removeprefix("the "), *solid)


def _may_name_place(piece: Piece) -> bool:
    plain = piece.kind in ("word", "number") or len(piece.low) == 1
    return plain or piece.roles.keys() <= {"place_word", "filler", "thing"}


def _somebody(told: list[Piece]) -> Piece | None:
    """`no it was bo not kit`, `that was ana`: the known name that stands alone, or before the one that was wrong."""
    solid = [piece for piece in told if piece.kind not in ("break", "mark")]
    names = solid[::2] if len(solid) > 1 and solid[1].low in _NOT else solid
    beside = zip(names, reversed(names), strict=True)
    named = any(is_given_name(piece.low) for piece in names)
    known = named and all(may_be_who_beside(*both) for both in beside)
    return solid[0] if known and len(solid) in (1, 3) and len(names) * 2 - 1 == len(solid) else None


def _done_by(name: Piece, told: list[Piece], tokens: list[Token], now: datetime) -> Draft:
    clause = Clause("", [name])
    clause.act = "amend"
    slots = Slots(clause, tokens, now)
    slots.put("by", name.low, name)
    return Draft("amend", slots, [Clause("", told)])


def _and_more(told: list[Piece], stop: int) -> list[Piece]:
    """`8 not 18 and tray 3`: a lot or a tray that is corrected too, after the one detail that was wrong."""
    more = told[stop + 3 :]
    joined = stop + 2 < len(told) and told[stop + 2].low in ("and", "&")
    return more if joined and [piece.kind for piece in more] in (["lots"], ["trays"]) else []


def _small_talk(told: list[Piece]) -> int:
    """Where unknown words after a mark begin (`make that 33, my glasses fogged`)."""
    for place, piece in enumerate(told):
        after = told[place + 1 : place + 3]
        if place and piece.low in (",", ".", "-", "(") and any(one.kind == "word" for one in after):
            return place
    return len(told)


def _covered(told: list[Piece], place: int) -> bool:
    """`88 under the dome`: where it is so hot, not what was meant."""
    return "cover_noun" in told[place].roles and any(one.low in ("under", "in", "inside") for one in told[:place])


def _corrects(told: list[Piece], opened: str) -> bool:
    """After a weak opener (`oops`, `actually`) a correction is short: a number, a subject, a name, with little else."""
    solid = [piece for piece in told if piece.kind not in ("break", "mark", "dash") and "filler" not in piece.roles]
    if not solid or any(piece.low in _PEOPLE for piece in told) or _tells_of_here(told) or _tells_dryness(told):
        return False
    if opened == "no" and numbers_lot([piece for piece in told if piece.low != ","]):
        return False
    if opened in ("no", "nope") and _is_noun(next(piece for piece in told if piece.kind != "break")):
        return False
    if solid[0].kind in _MEASURED:
        return True
    if solid[0].kind == "percent":
        return ends_after_share(told)
    if names_mother(solid[0]) and (len(solid) == 1 or solid[1].low in _NOT):
        return True
    if "cause" in solid[0].roles:
        return opened not in ("no", "nope")
    return any(role in solid[0].roles for role in _NAMED)


def _name_treatment(told: list[Piece], stop: int) -> None:
    """`it was cold not warm strat`: beside a treatment that was wrong the right one is no cause, in place."""
    if not any(treatment_named(piece) for piece in told[stop + 1 :]):
        return
    for piece in told[:stop]:
        named = treatment_named(piece)
        if named:
            piece.roles = {"treatment": named}


def treatment_named(piece: Piece) -> str:
    """The treatment that a piece names; "" for none."""
    word = piece.roles.get("noun") or piece.roles.get("act")
    return str(word.says.get("treatment", "")) if word is not None and word.act == "treat" else ""


def _tells_of_here(told: list[Piece]) -> bool:
    """`its freezing in here`, `its 88 in there`, `it's 95 out`: how it is at a place."""
    said = " ".join(piece.low for piece in told)
    nightly = told[-1].kind == "moment" and told[-1].low.split(" ")[-1] in ("night", "overnight", "am", "morning")
    if nightly and len(told) == 2 and told[0].kind == "number":
        return True
    if told[-1].low in ("out", "outside") and len(told) < 4 and told[0].kind in ("number", "temp"):
        return True
    return any(where in said for where in ("in here", "in there", "out here", "out there"))


def _tells_dryness(told: list[Piece]) -> bool:
    """`sorry, tray 4 was bone dry`: how it was, and not why plants were lost."""
    solid = [piece for piece in told if piece.kind not in ("break", "mark")]
    was = len(solid) > 2 and solid[0].kind in ("lots", "trays") and solid[1].low in _IS
    return was and solid[-1].roles.get("cause") == "dried"


def _lacks(pieces: list[Piece], told: list[Piece]) -> bool:
    """`no bleach`, `no fert lot 5`, `no tray 4 today`: what there is none of; `no, bleach` and `no tray 4` correct."""
    if pieces[0].low != "no" or pieces[1] is not told[0] or any(piece.low in _NOT for piece in told):
        return False
    if not told[0].roles.keys().isdisjoint(_STUFF):
        return True
    return told[-1].kind == "moment" and (told[0].kind in ("lots", "trays") or "plant" in told[0].roles)


def _is_noun(piece: Piece) -> bool:
    """`no shift monday`: what there will not be."""
    return piece.low in _NOUNS or (piece.kind == "phrase" and piece.roles.keys() <= {"filler"})
