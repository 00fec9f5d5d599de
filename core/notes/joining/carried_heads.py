"""The day, the person and the tray that head a statement, handed on to the statements after it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any, Final

from core.notes.days.moments import Moment, resolve_past
from core.notes.details.drafts import Draft
from core.notes.names.people import may_be_name
from core.notes.words.act_kinds import NO_SUBJECT, OPENING
from core.notes.words.pieces import SENTENCE_ENDS, Piece, is_act
from core.vocabulary.loading import small_words

_DATED: Final = frozenset({"sanitize", "mix", "temp", "pour_out"})
"""Acts without a subject of their own that the day and the person of the note are said of too."""
_NOW: Final = frozenset({"now", "right now", "currently", "as of now"})
_SPEAKER: Final = small_words("people", "speaker")
_PRONOUNS: Final = frozenset({"she", "he", "they", "then she", "then he"})
_DOERS: Final = frozenset({"i", "we"})


def carry_heads(drafts: list[Draft]) -> None:
    """The day and the person that head a statement hold for those after it, until another heads one; a person who does
    not head the note holds to the end of the sentence.
    """
    held: dict[str, Any] = {}
    of_sentence = False
    day: Moment | None = None
    for place, draft in enumerate(drafts):
        slots = draft.slots
        if draft.act == "note" and _was_left_undone(draft):
            _date_undone(draft, held)
        if slots is None or (draft.act in NO_SUBJECT and draft.act not in _DATED):
            continue
        heads, speaker = heads_of(draft)
        speaker = speaker or (place > 0 and _ends_with_speaker(drafts[place - 1]))
        if of_sentence and begins_sentence(draft):
            held.pop("by", None)
        moment = slots.values.get("moment")
        if moment is not None and day is not None and not moment.names_day:
            _set_hour(draft, day, moment)
        if draft.held("on") and any(one.kind == "moment" for one in heads):
            held["on"] = draft.held("on")
            if moment is not None and moment.names_day:
                day = replace(moment, hour=None, minute=0, half="")
        if slots.values.get("by") and (draft is not drafts[0] or any(one.kind == "person" for one in heads)):
            of_sentence = draft is not drafts[0] and (of_sentence or held.get("by") != slots.values["by"])
            held["by"] = slots.values["by"]
        elif speaker or _names_another(draft):
            held.pop("by", None)
        if any(one.kind == "trays" for one in heads) and draft.held("trays"):
            held["trays"] = draft.held("trays")
        elif draft.held("trays"):
            held.pop("trays", None)
        if draft is drafts[0]:
            continue
        today = _counts_now(draft)
        for name, value in held.items():
            same = _into_the_same(draft) and (drafts[place - 1].act in OPENING or says_it(draft))
            if name == "trays" and not same:
                continue
            if slots.values.get(name) is None and "date" not in slots.asks and not (today and name == "on"):
                draft.carried[name] = value
                if name == "by":
                    _use_pronoun(draft)


def _was_left_undone(draft: Draft) -> bool:
    """`didnt mist lot 19`: what was not done then, and is neither planned nor heard of."""
    return bool(draft.clauses) and all(clause.cue == "negation" for clause in draft.clauses)


def _date_undone(draft: Draft, held: dict[str, Any]) -> None:
    """`yesterday misted lot 18, | didnt mist lot 19`, `yesterday didnt mist lot 18, | watered lot 19`."""
    first = draft.clauses[0].pieces[0]
    if first.kind == "moment" and draft.extra.get("on") is not None:
        held["on"] = draft.extra["on"]
    elif "on" in held and "moment" not in {kind for clause in draft.clauses for kind in clause.kinds()}:
        draft.extra.setdefault("on", held["on"])


def _use_pronoun(draft: Draft) -> None:
    """The "she" of `hana checked lot 94. she potted 26`: who was named before."""
    for clause in draft.clauses:
        for piece, after in pairwise(clause.pieces):
            piece.used = piece.used or (piece.low in _PRONOUNS and is_act(after))


def _ends_with_speaker(draft: Draft) -> bool:
    """`kit potted 12 sage and i | potted 8 toyon`: who did what follows."""
    told = draft.clauses[-1].pieces if draft.clauses else []
    return len(told) > 1 and told[-1].low in _DOERS and told[-2].low in ("and", "&", "then", "so", "but", ",")


def begins_sentence(draft: Draft) -> bool:
    return bool(draft.clauses) and draft.clauses[0].after in SENTENCE_ENDS


def _names_another(draft: Draft) -> bool:
    """`…, wick potted 25`: a word right before the deed that heads its statement, which may be who did it."""
    told = draft.clauses[0].pieces if draft.clauses else []
    return len(told) > 1 and told[0].kind == "word" and may_be_name(told[0]) and is_act(told[1])


def _into_the_same(draft: Draft) -> bool:
    """`tray 17: stuck 24 quailbush, 24 saltbush`: the second of a list, without a tray or a lot of its own."""
    listed = bool(draft.clauses) and draft.clauses[0].after in ("and", "&", "+", ",")
    return draft.act in OPENING and listed and not (draft.held("trays") or draft.held("lots"))


def says_it(draft: Draft) -> bool:
    """`restuck 24 toyon in it`."""
    return any(piece.low in ("it", "there", "in it") for clause in draft.clauses for piece in clause.pieces)


def _counts_now(draft: Draft) -> bool:
    """`mon lot 9 12, 20 rooted now`: a count of this day."""
    return draft.act == "check" and any(piece.low in _NOW for clause in draft.clauses for piece in clause.pieces)


def heads_of(draft: Draft) -> tuple[list[Piece], bool]:
    """The days, people and trays before the act's word, and whether the speaker is named."""
    said = (*draft.heads, *draft.clauses)
    pieces = [piece for clause in said for piece in clause.pieces if clause.cue != "aside" or piece.kind == "moment"]
    own = [piece for clause in draft.clauses for piece in clause.pieces]
    act_at = next((piece.first for piece in own if is_act(piece)), None)
    if act_at is None and draft.clauses[0].word is not None and draft.act == "check":
        # "12 last tues, 20 rooted now" tells the state of both, and the day of the first only.
        act_at = next((piece.first for piece in own if piece.kind in ("number", "fraction")), None)
    heads = [
        piece
        for piece in pieces
        if (act_at is None or piece.first < act_at)
        and (piece.kind in ("person", "trays") or (piece.kind == "moment" and piece.used))
    ]
    return heads, any(piece.low in _SPEAKER for piece in pieces)


def _set_hour(draft: Draft, day: Moment, clock: Moment) -> None:
    """`sun 9am misted tray 2, 11am aired it`: an hour alone is of the day that heads the note."""
    slots = draft.slots
    together = day.joined(clock)
    found = resolve_past(together, slots.now) if slots is not None and together is not None else None
    if slots is None or found is None:
        return
    slots.values["on"] = found
    if "date" in slots.asks:
        slots.asks.remove("date")
        for piece in slots.doubtful:
            piece.used = True
