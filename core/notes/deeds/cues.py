"""Was it done at all: the words that make a clause a plan, a hearsay, a condition or a thing not done.

Rules
1. A cue holds for its own clause; `if`, `heard` and `will have` hold to the end of their sentence.
2. With a state that is counted, "none", "no" and "not" are a count of nought; with anything else they make a note.
3. A bare verb (`mist tray 3`) may be a wish: it is noted, and asked about.
"""

from __future__ import annotations

from datetime import datetime
from typing import Final

from core.notes.deeds.ahead import (
    begins_ahead,
    ends_waiting,
    goes_back_later,
    is_bare_ahead,
    lies_ahead,
    names_coming,
    put_off,
    put_off_of_counted,
    waits_for,
)
from core.notes.deeds.aims import aims_at, foresees, waits_until, yet_to_reach
from core.notes.deeds.compared_lots import only_compares
from core.notes.deeds.denied import comes_to_an_end, denies_cleaning, left_to_do, not_done_there, too_much_to
from core.notes.deeds.equipment import KIND as GEAR
from core.notes.deeds.headings import heading_cue, heads_lines, heads_sentence
from core.notes.deeds.idioms import is_idiom, sticks_fast
from core.notes.deeds.in_jest import said_in_jest
from core.notes.deeds.no_plants import moves_a_day, of_no_plants
from core.notes.deeds.of_speaker import SELVES, of_the_speaker
from core.notes.deeds.orders import asks_politely, asks_sentence, goes_with_plan, is_order, may_be_asked, opens_ahead
from core.notes.deeds.retold import is_retold, speaks_for_self, tells_how_long
from core.notes.deeds.said_by_words import said_by_words
from core.notes.deeds.still_so import still_so
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import SENTENCE_ENDS, Piece, is_act
from core.notes.words.steps import AnyOf, Look, Marks
from core.vocabulary.everyday import is_everyday
from core.vocabulary.loading import small_words

_LASTING: Final = frozenset({"condition", "hearsay"})

_LASTING_PLANS: Final = small_words("cues", "lasting_plans")
_BROUGHT: Final = small_words("cues", "brought")
_HOLDING: Final = small_words("cues", "holding")
_BEFORE_NOUNS: Final = small_words("cues", "before_nouns")
_LOOKING: Final = small_words("cues", "looking")
_STRUCTURES: Final = small_words("places", "structures")
_PUT_BACK: Final = frozenset({"cover", "air", "uncover", "vent", "move"})
_BARE: Final = Look({"@to_do", "@vent_noun", "@cover_noun"})
"""Marks of a sentence that may hold a bare verb (`mist tray 3`, `close the vents`)."""


def find_cues(clauses: list[Clause], marks: Marks, now: datetime) -> None:
    """Sets the cue of each clause (`plan hearsay condition negation wish`), or None; `marks` are those of them all."""
    lasting: str | None = None
    headed: str | None = None
    before: Clause | None = None
    in_jest = said_in_jest(clauses) if said_in_jest.needed_by(marks) else ()
    for place, clause in enumerate(clauses):
        if place == 0 or clause.after in SENTENCE_ENDS:
            if heads_lines(clauses, place):
                headed = heading_cue(clauses, place)
            elif headed is not None and heads_sentence(clauses, 0):
                headed = None
            lasting = "plan" if _is_ahead(clauses, place, marks) else headed
        if lasting == "hearsay" and before is not None and speaks_for_self(clause, before):
            lasting = None
        clause.cue = _cue_of(clause, marks, now) or lasting or _not_there(clause, clauses[:place], marks, now)
        if clause.cue == "negation" and place and _denies_nothing(clause):
            clause.cue = "aside"
        if before is not None and denies_cleaning(clause, before):
            before.cue, clause.cue = "aside", "negation"
        if before is not None and clause.after == "" and moves_a_day(clause) and _is_deed_by_name(before):
            # "potting of lot 14 | moved to sat".
            before.cue = clause.cue
        if place in in_jest:
            clause.cue = "negation"
        if clause.cue == "aside" and place + 1 < len(clauses) and _done_to_lot_too(clause, clauses[place + 1]):
            clause.cue = None
        if clause.cue == "wish" and lasting == "plan":
            clause.cue = "plan"
        if clause.cue == "wish" and place + 1 < len(clauses) and _heads_counts(clause, clauses[place + 1]):
            clause.cue = None
        if (
            clause.cue is None
            and before is not None
            and before.cue in ("plan", "wish")
            and (
                (clause.after in ("and", "then", "&", "also", "+") and _only_bare(clause))
                or (clause.after in (",", "", "and", "then") and goes_with_plan(clause.pieces))
            )
        ):
            clause.cue = before.cue
        if clause.cue is None and clause.after == "" and before is not None and before.cue and ends_waiting(before):
            clause.cue = before.cue
        if clause.cue in _LASTING or (clause.cue == "plan" and _lasts(clause)):
            lasting = clause.cue
        if (
            clause.act is None
            and clause.cue == "hearsay"
            and before is not None
            and before.act is not None
            and _only_hedges(clause)
        ):
            before.cue = "hearsay"
            lasting = None
        before = clause


def _is_deed_by_name(clause: Clause) -> bool:
    """`potting of lot 14`: a deed by its name, not told as done."""
    deeds = [piece for piece in clause.pieces if is_act(piece)]
    return len(deeds) == 1 and deeds[0].low.split(" ")[0].endswith("ing")


def _not_there(clause: Clause, before: list[Clause], marks: Marks, now: datetime) -> str | None:
    """Why what was done to the subjects before was not done to those of a clause with no deed of its own."""
    if before and before[-1].cue == "negation" and sticks_fast(clause):
        return "negation"
    deed = next((one for one in reversed(before) if one.act is not None), None)
    if deed is None:
        return None
    if clause.act is None and put_off.needed_by(marks) and put_off(clause.pieces, now):
        return "plan"
    if put_off_of_counted.needed_by(marks) and put_off_of_counted(clause, deed):
        return "plan"
    back = clause.act in _PUT_BACK and goes_back_later.needed_by(marks)
    if back and goes_back_later(clause.pieces, before, now):
        return "plan"
    return not_done_there(clause, deed)


def _denies_nothing(clause: Clause) -> bool:
    """`checked lots 41-43 | and found nothing amiss`: words that deny no deed, and name nothing of the bench."""
    named = clause.has("plant", "noun", "to_do", "cover_noun", "vent_noun", "thing", "container", "place_word", "all")
    return clause.act is None and "word" in clause.kinds() <= {"word", "phrase", "mark"} and not named


def _heads_counts(clause: Clause, after: Clause) -> bool:
    """`final count: lot 9 31 rooted`: a noun that heads what was counted, no order."""
    bare = [piece for piece in clause.pieces if "to_do" in piece.roles]
    named = clause.kinds() & {"lots", "trays", "number"} or clause.has("plant")
    return after.after == ":" and after.act == "check" and not named and all(piece.low == "count" for piece in bare)


def _done_to_lot_too(clause: Clause, after: Clause) -> bool:
    """`covered the desk | and lot 9`: plants beside a thing that the same was done to."""
    if clause.act is None or after.act is not None or after.after not in ("and", "&", "+"):
        return False
    named = any(piece.kind in ("lots", "trays") for piece in after.pieces)
    return named and all(piece.kind in ("lots", "trays") or "filler" in piece.roles for piece in after.pieces)


def _sentence_at(clauses: list[Clause], start: int) -> list[Clause]:
    """The clauses from one to the end of its sentence."""
    end = start + 1
    while end < len(clauses) and clauses[end].after not in SENTENCE_ENDS:
        end += 1
    return clauses[start:end]


def _is_ahead(clauses: list[Clause], place: int, marks: Marks) -> bool:
    """Whether the sentence that begins with a clause is asked of somebody, or is of a day to come."""
    asked, opened = asks_sentence.needed_by(marks), opens_ahead.needed_by(marks)
    if not asked and not opened:
        return False
    sentence = _sentence_at(clauses, place)
    return (asked and asks_sentence(sentence)) or (opened and opens_ahead(sentence))


def _cue_of(clause: Clause, marks: Marks, now: datetime) -> str | None:
    """Why the act of a clause was not done, or is none of plants; None where it was done."""
    cue = _told_by_cue(clause, marks) if _TELLING.needed_by(marks) else None
    if cue is not None:
        return cue
    if clause.after == "," and clause.pieces[0].low.split(" ")[0] == "which":
        # "moved lot 5 to the lath, which is full now".
        return "aside"
    cue = said_by_words(clause) if said_by_words.needed_by(marks) else None
    return cue or _not_yet(clause, marks, now) or _of_no_plants(clause, marks, now)


def _told_by_cue(clause: Clause, marks: Marks) -> str | None:
    """Whether words say that the act was heard of, is compared or is waited for."""
    if is_retold.needed_by(marks) and is_retold(clause.pieces):
        return "hearsay"
    if only_compares.needed_by(marks) and only_compares(clause.pieces):
        return "aside"
    return "plan" if waits_for.needed_by(marks) and waits_for(clause.pieces) else None


_TELLING: Final = AnyOf(is_retold, only_compares, waits_for)


def _not_yet(clause: Clause, marks: Marks, now: datetime) -> str | None:
    """Whether the act is past and gone, or yet to come."""
    told_ahead = _AHEAD.needed_by(marks)
    if _DENYING.needed_by(marks) and any(one.needed_by(marks) and one(clause.pieces) for one in _DENIALS):
        return "negation"
    if clause.act in ("cover", "uncover", "air") and still_so(clause.pieces):
        return "negation"
    if is_idiom(clause) or (clause.act is None and GEAR in clause.kinds()):
        return "aside"
    if told_ahead and _comes(clause, marks, now):
        return "plan"
    if moves_a_day(clause):
        return "plan"
    return "wish" if told_ahead and may_be_asked.needed_by(marks) and may_be_asked(clause.pieces) else None


def _comes(clause: Clause, marks: Marks, now: datetime) -> bool:
    """Whether the act is planned, ordered, or of a day to come."""
    pieces = clause.pieces
    return bool(
        (lies_ahead.needed_by(marks) and lies_ahead(pieces, now))
        or (is_bare_ahead.needed_by(marks) and is_bare_ahead(pieces, now))
        or (begins_ahead.needed_by(marks) and begins_ahead(pieces, now))
        or (clause.act is not None and aims_at.needed_by(marks) and aims_at(pieces))
        or (waits_until.needed_by(marks) and waits_until(pieces))
        or (yet_to_reach.needed_by(marks) and yet_to_reach(pieces))
        or (foresees.needed_by(marks) and foresees(pieces, now))
        or (comes_to_an_end.needed_by(marks) and comes_to_an_end(pieces))
        or (is_order.needed_by(marks) and is_order(clause))
        or (clause.act is not None and asks_politely.needed_by(marks) and asks_politely(clause))
    )


_DENIALS: Final = (tells_how_long, too_much_to, left_to_do)
_DENYING: Final = AnyOf(*_DENIALS)
_AHEAD: Final = AnyOf(
    lies_ahead, is_bare_ahead, begins_ahead, aims_at, waits_until, yet_to_reach, foresees, comes_to_an_end, is_order,
    asks_politely, may_be_asked,
)  # fmt: skip


def _of_no_plants(clause: Clause, marks: Marks, now: datetime) -> str | None:
    """Whether the act is done to no plants, or only wished for by a bare verb."""
    pieces = clause.pieces
    if of_the_speaker(clause) or of_no_plants(clause):
        return "aside"
    of_itself = clause.act == "lose" and clause.word is not None and clause.word.counts_before
    of_itself = of_itself or (clause.act == "split" and is_act(pieces[-1]))
    flooded = _FLOODED.finds_in(marks) and any(piece.low in _FLOODING for piece in pieces)
    if (of_itself or flooded) and _of_something_else(pieces):
        return "aside"
    if clause.act == "merge" and not _joins_lots(clause):
        return "aside"
    if clause.act == "sanitize" and {piece.kind for piece in pieces if not is_act(piece)} == {"number"}:
        # "trays 3 4 spaced out, 5 cleaned".
        return "aside"
    if clause.act == "move" and _brings_something_else(pieces):
        return "aside"
    if not _BARE.finds_in(marks):
        return None
    named_only = clause.word is not None and clause.word.form == "noun"
    if (clause.act is None or named_only) and any(
        "to_do" in piece.roles
        and _verbal(pieces, place)
        and (clause.act is None or piece.low in _LOOKING)
        and not (place == 0 and _of_plain_english(clause))
        for place, piece in enumerate(pieces)
    ):
        return "plan" if names_coming(pieces, now, weekdays=True) else "wish"
    return None


_FLOODING: Final = small_words("cues", "flooding")
_FLOODED: Final = Look(_FLOODING)


def _of_something_else(pieces: list[Piece]) -> bool:
    """`hose broke`, `the heater died`: an unknown thing, not plants, and nothing counted."""
    if any(
        piece.kind in ("number", "fraction", "percent", "lots", "trays", "quote")
        or any(role in piece.roles for role in ("all", "plant", "vague", "left", "none", "fraction"))
        for piece in pieces
    ):
        return False
    at = next((place for place, piece in enumerate(pieces) if "act" in piece.roles), 0)
    before = [piece for piece in pieces[:at] if "filler" not in piece.roles and piece.kind != "moment"]
    return (
        bool(before)
        and all(piece.kind in ("word", "phrase") for piece in before)
        and any(piece.kind == "word" or piece.roles.keys() & {"thing", "place_word", "no_deed"} for piece in before)
    )


def _joins_lots(clause: Clause) -> bool:
    """Whether a merging names what was merged: `my sister joined` does not, nor `lot 9 from three trays into one`."""
    named = [piece for piece in clause.pieces if piece.kind == "lots"]
    if clause.has("container") and len(named) == 1 and len(named[0].value) == 1:
        return False
    return bool(clause.kinds() & {"lots", "trays", "number"}) or any(
        "both" in piece.roles
        or "all" in piece.roles
        or "plant" in piece.roles
        or piece.low in ("them", "these", "those")
        for piece in clause.pieces
    )


def _brings_something_else(pieces: list[Piece]) -> bool:
    """`ana brought cookies`: an unknown thing, no plants, and nowhere said."""
    at = next((place for place, piece in enumerate(pieces) if "act" in piece.roles), 0)
    after = [piece for piece in pieces[at + 1 :] if piece.low not in ("the", "a", "some", "us", "our")]
    if len(after) > 1 and "plant" in after[0].roles and after[1].kind == "word":
        # "lemon cake" is named after a plant and is none.
        return pieces[at].low in _BROUGHT and not any(piece.kind in ("lots", "trays", "number") for piece in pieces)
    return (
        pieces[at].low in _BROUGHT
        and bool(after)
        and all(piece.kind in ("word", "mark") or "filler" in piece.roles for piece in after)
        and after[0].kind == "word"
        and not any(piece.low in ("to", "into", "in", "out", "over", "onto", "inside", "outside") for piece in after)
        and not any(piece.kind in ("lots", "trays", "number") or "plant" in piece.roles for piece in pieces)
    )


def _verbal(pieces: list[Piece], place: int) -> bool:
    """Whether a bare verb stands as a verb: not after an article, nor before the noun that it belongs to."""
    before = pieces[place - 1].low if place else ""
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    if before.endswith(" of") or before in _BEFORE_NOUNS:
        return False
    if place > 1 and pieces[place - 2].low.split(" ")[-1] in _ARTICLES and pieces[place - 1].kind == "word":
        # "under the blue pot".
        return False
    if after is not None and (after.low in _STRUCTURES or after.low in _HOLDING or _tells_of_it(after)):
        return False
    if place and pieces[place - 1].kind == "amount":
        # "14 bags mix left".
        return False
    return place == 0 or not (after is not None and after.kind == "word")


def _of_plain_english(clause: Clause) -> bool:
    """`mix tape for mei`, `thin walls in the office`, `pinch me`: a word of the bench in everyday talk."""
    of_bench = ("plant", "container", "thing", "medium", "solution")
    named = any(not piece.roles.keys().isdisjoint(of_bench) for piece in clause.pieces[1:])
    if named or clause.kinds() & {"lots", "trays", "number"}:
        return False
    after = next((piece for piece in clause.pieces[1:] if piece.low not in _ARTICLES), None)
    return after is not None and (after.low in SELVES or (after.kind == "word" and _is_plain(after.low)))


def _is_plain(word: str) -> bool:
    return is_everyday(word) and word not in _PERHAPS_PLANTS and word not in _GEAR


_ARTICLES: Final = small_words("places", "articles")
_PERHAPS_PLANTS: Final = small_words("home", "perhaps_plants")
_GEAR: Final = small_words("equipment", "gear")


def _tells_of_it(after: Piece) -> bool:
    """`water pooled in tray 8`, `mist drifting over`: a verb that the noun before it does."""
    return after.kind == "word" and after.low.endswith(("ed", "ing"))


def _lasts(clause: Clause) -> bool:
    return clause.act is not None and any(piece.low in _LASTING_PLANS for piece in clause.pieces)


def _only_bare(clause: Clause) -> bool:
    return clause.act is None or (clause.word is not None and clause.word.form != "done")


def _only_hedges(clause: Clause) -> bool:
    return all(
        "hearsay" in piece.roles or "filler" in piece.roles or "negation" in piece.roles for piece in clause.pieces
    )
