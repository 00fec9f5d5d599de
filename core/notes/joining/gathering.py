"""How do clauses become entries: each act a draft, clauses without an act joined to the right one.

Rules
1. A clause without an act before the first heads the note; later it adds to the act before it, repeats that act for
   a new subject with its own count, or (a bare subject) heads what follows.
2. A loss said twice over (`3 rotted, tossed`) is one; so is a check and its count (`checked tray 4, 12 rooted`).
"""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise
from typing import Final

from core.notes.details.drafts import Draft, draft_of
from core.notes.joining.adding import add, merges, subject_only, take_heads
from core.notes.joining.beside import is_beside, speaks_of_people
from core.notes.joining.counted import bare_check, check_before_deed, counted_check, heads_day
from core.notes.joining.dealt_out import before_aside, deals_out, fold_heading, told_of_both, weighs_else
from core.notes.joining.givings import gives_first, named_first
from core.notes.joining.in_turn import goes_on_in_turn
from core.notes.joining.left_over import keep_lost
from core.notes.joining.naming_lots import names_new_lot, split_again, splits_again
from core.notes.joining.noting import draft_notes, put_in_order
from core.notes.joining.of_them_all import share_among_all
from core.notes.joining.other_subjects import NAMES_LOTS, tells_of_another, tells_of_somebody_else
from core.notes.joining.parts_of_total import fold_parts, is_part, is_some_of_them
from core.notes.joining.repeating import repeat, repeats, share_last
from core.notes.joining.seed_numbers import ask_how_long, count_of_headed
from core.notes.joining.states_counted import fold_states
from core.notes.joining.told_alike import count_early, lend_day
from core.notes.joining.trays_told_after import fold_trays
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import COUNTLESS, NO_SUBJECT, OPENING
from core.notes.words.pieces import SENTENCE_ENDS
from core.notes.words.said import keep_words
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_LEAVING: Final = frozenset({"sell", "give", "plant_out", "pot"})
_COUNTED: Final = frozenset({"lots", "trays", "number", "fraction"})
_POINTING: Final = frozenset({"that", "those", "them", "it"})
_TAKING: Final = frozenset({"took out", "took", "pulled", "pulled out", "removed", "taken out"})
_NAMING: Final = frozenset({"now", "new", "called", "has"})
_SPARE: Final = small_words("beside", "spare")


def gather(text: str, tokens: list[Token], clauses: list[Clause], now: datetime) -> list[Draft]:
    """The drafts of a telling, in order."""
    if not any(clause.act is not None and clause.cue is None for clause in clauses):
        counted = counted_check(clauses, tokens, now) or bare_check(clauses, tokens, now)
        if counted is None:
            return draft_notes(text, tokens, clauses, now)
        keep_lost(counted, [piece for clause in clauses for piece in clause.pieces])
        return counted
    clauses = told_of_both(clauses)
    drafts: list[Draft] = []
    heads: list[Clause] = []
    noted: list[Clause] = []
    alike = count_early(clauses)
    for place, clause in enumerate(clauses):
        if clause.cue == "aside":
            for piece in clause.pieces:
                # The dog of "dog ate my sandwich" caused no loss.
                piece.used = piece.used and "cause" not in piece.roles
            (drafts[-1].clauses if drafts and not noted else heads).append(clause)
            continue
        if clause.cue is not None:
            if noted and heads_day(clause) and heads_day(noted[0]):
                drafts.extend(draft_notes(text, tokens, noted, now, whole=False))
                noted = []
            noted.append(clause)
            continue
        if clause.act is None and noted and (not subject_only(clause) or clause.kinds() <= {"moment"}):
            if _only_counts(clause) and repeats(drafts, clause):
                again = repeat(drafts[-1], clause, tokens, now)
                drafts.extend((*draft_notes(text, tokens, noted, now, whole=False), again))
                noted = []
            else:
                noted.append(clause)
            continue
        if noted:
            drafts.extend(draft_notes(text, tokens, noted, now, whole=False))
            noted = []
        if clause.act == "treat" and drafts and drafts[-1].act in OPENING | {"temp"}:
            _keep_left_over(clause)
        if drafts and _heads_next(clauses, place):
            heads.append(clause)
        elif clause.act is None:
            _place_clause(drafts, heads, clause, clauses, place, text, tokens, now)
        elif _part_of_counted(drafts, clause):
            drafts[-1].clauses.append(clause)
        elif merges(drafts, clause, heads):
            add(drafts[-1], clause)
        else:
            draft = draft_of(clause, tokens, now)
            if drafts and drafts[-1].act == "treat" and drafts[-1].own_subject():
                ask_how_long(draft)
            if any(head.has("plant") and "lots" not in head.kinds() for head in heads):
                count_of_headed(draft)
            take_heads(draft, heads)
            heads = []
            drafts.append(draft)
    if noted:
        drafts.extend(draft_notes(text, tokens, noted, now, whole=False))
    if heads:
        _leftover_heads(drafts, heads)
    if len(drafts) > 1:
        fold_states(drafts)
        fold_parts(drafts)
        fold_heading(drafts)
        fold_trays(drafts)
        share_last(drafts)
        share_among_all(drafts)
        _backfill_states(drafts)
        lend_day(drafts, alike)
        put_in_order(drafts)
    keep_lost(drafts, [piece for clause in clauses for piece in clause.pieces])
    return drafts


def _heads_next(clauses: list[Clause], place: int) -> bool:
    """The lot of `22 of lot 76 potted and t12: 19 of 31 alive`, which heads what follows its colon."""
    clause, after = clauses[place], clauses[place + 1 : place + 2]
    plant = clause.after in (",", ";") and clause.has("plant") and not clause.kinds() & {"lots", "trays"}
    joined = clause.act is None and (plant or clause.after in ("and", "&", "then"))
    return joined and bool(after) and after[0].after == ":" and subject_only(clause)


def _only_counts(clause: Clause) -> bool:
    """`lot 15 12`, after `none lost`: a subject and its count, and no words of another matter."""
    return all(piece.kind in _COUNTED | {"mark"} or "filler" in piece.roles for piece in clause.pieces)


def _keep_left_over(clause: Clause) -> None:
    """`stuck 40 snowberry, 15 in the fridge`: how many were kept cold, and no lot."""
    told = [piece for piece in clause.pieces if piece.kind != "mark" and "filler" not in piece.roles]
    told = [piece for piece in told if piece.low not in _SPARE]
    if len(told) == 2 and told[0].kind == "number" and "act" in told[1].roles and told[1].low.startswith("in"):
        keep_words(*clause.pieces)
        clause.act, clause.word, clause.says = None, None, {}


def _part_of_counted(drafts: list[Draft], clause: Clause) -> bool:
    """`5 dead in lot 9, 3 of them rotted`: more of those that the same act has counted already."""
    if not drafts or clause.act not in (None, drafts[-1].act) or clause.act == "check":
        return False
    return not clause.kinds() & {"lots", "trays"} and is_some_of_them(clause, drafts[-1].held("count"))


def _leftover_heads(drafts: list[Draft], heads: list[Clause]) -> None:
    if drafts:
        for head in heads:
            add(drafts[-1], head)


def _name_bare_numbers(before: Draft, clause: Clause) -> None:
    """`misted trays 1-3, today only 2`: a bare number with a day of its own is a tray (or lot) like those before."""
    slots = before.slots
    if slots is None or before.act not in COUNTLESS or "moment" not in clause.kinds():
        return
    kind = next((kind for kind in ("trays", "lots") if slots.values.get(kind)), None)
    if kind is None or any(
        piece.kind not in ("moment", "number") and "filler" not in piece.roles and piece.low not in ("only", "just")
        for piece in clause.pieces
    ):
        return
    for piece in clause.pieces:
        if piece.kind == "number" and piece.low.isdigit():
            piece.kind, piece.value = kind, (piece.low,)
        elif piece.low in ("only", "just"):
            piece.used = True


def _place_clause(
    drafts: list[Draft],
    heads: list[Clause],
    clause: Clause,
    clauses: list[Clause],
    place: int,
    text: str,
    tokens: list[Token],
    now: datetime,
) -> None:
    if not drafts:
        if not heads and check_before_deed(clause):
            clause.act = "check"
            drafts.append(draft_of(clause, tokens, now))
            return
        heads.append(clause)
        return
    before = drafts[-1]
    _name_bare_numbers(before, clause)
    if splits_again(before, clause):
        drafts.append(split_again(before, clause, tokens, now))
        return
    if _part_of_counted(drafts, clause):
        before.clauses.append(clause)
        return
    if is_part(before, clause):
        drafts.append(repeat(before, clause, tokens, now))
        drafts[-1].part = True
        return
    following = clauses[place + 1] if place + 1 < len(clauses) else None
    lines = clause.after == "\n" and following is not None and following.after == "\n"
    if clause.kinds() == {"moment"} and following is not None and (lines or following.after in (":", "-")):
        heads.append(clause)
        return
    if deals_out(drafts, clause):
        return
    if weighs_else(before, clause):
        before.clauses.append(clause)
        return
    if before.act == "merge" and names_new_lot(before, clause):
        return
    listed = before_aside(drafts)
    if listed and repeats(listed, clause):
        drafts.append(repeat(listed[-1], clause, tokens, now))
        return
    if repeats(drafts, clause):
        if before.act in _LEAVING | {"lose"} and clause.has("none"):
            drafts.extend(draft_notes(text, tokens, [clause], now, whole=False))
            return
        drafts.append(repeat(before, clause, tokens, now))
        return
    if any(piece.low in _NAMING for piece in clause.pieces) and names_new_lot(before, clause):
        return
    if heads or _heads_what_follows(drafts, clause, clauses[place + 1 :]):
        heads.append(clause)
        return
    if names_new_lot(before, clause):
        return
    if before.slots is not None and gives_first(before.act, before.slots.values, clause):
        who = named_first(clause)
        if who is not None:
            before.slots.put("to", who[0].low, who[0])
    if _takes_out(before, clause):
        clause.act = "lose"
        add(before, clause)
        return
    if _dips_after(before, clause):
        clause.act, clause.says = "treat", {"treatment": "hormone"}
        drafts.append(draft_of(clause, tokens, now))
        return
    if tells_of_another(drafts, clause) or _only_talk(before, clause):
        before.clauses.append(clause)
        before.strays = before.strays or bool(clause.kinds() & {"lots", "trays"})
        return
    if tells_of_somebody_else(before, clause):
        before.clauses.append(clause)
        return
    add(before, clause)


def _heads_what_follows(drafts: list[Draft], clause: Clause, after: list[Clause]) -> bool:
    """Whether a clause without an act names what the next act was done to (`…. lot 9: 4 gone`), not more of the act
    before.
    """
    before = drafts[-1]
    if clause.kinds() == {"numbered"} and after and after[0].after == ":":
        return True
    names: list[str] = [name for name in ("lots", "trays") if name in clause.kinds()]
    if clause.has("plant") and not names:
        names.append("plant")
    following = next((one for one in after if one.act is not None or one.cue is not None), None)
    if not names or following is None or following.cue is not None or following.kinds() & {"lots", "trays"}:
        return False
    between = [one for one in after[: after.index(following)] if one.after != "("]
    if following.after == "so" and not between and all(before.held(name) for name in names):
        return not any(piece.low in _POINTING for piece in following.pieces)
    if any(one.kinds() & {"lots", "trays"} or one.after in SENTENCE_ENDS for one in between):
        return False
    fresh = all(before.held(name) for name in names) or goes_on_in_turn(drafts, names[0], following)
    new_sentence = clause.after in SENTENCE_ENDS
    if subject_only(clause) and names != ["plant"]:
        apart = following.after == ":" or (before.own_subject() and before.act not in OPENING)
        apart = apart or (clause.after == following.after == "\n" and _is_told_below(before))
        return not between and (fresh or (new_sentence and apart))
    if not new_sentence or following.after not in (",", ":"):
        return False
    tells_no_more = before.act in NO_SUBJECT or (before.own_subject() and before.act not in OPENING)
    return following.after == ":" or clause.has("cause") or fresh or tells_no_more


def _is_told_below(before: Draft) -> bool:
    """The `no mites` of a list of lines below their lot: more was told of the act before than its own line."""
    return len(before.clauses) > 1 and all(clause.after == "\n" for clause in before.clauses)


def _takes_out(before: Draft, clause: Clause) -> bool:
    """`tray 17 damping off again, took out 4`: how many of those just said to be lost."""
    uncounted = before.act == "lose" and not any(before.held(name) for name in ("count", "share", "all_of", "left"))
    taken = any(piece.low in _TAKING for piece in clause.pieces)
    return uncounted and taken and "number" in clause.kinds() and not clause.kinds() & {"lots", "trays"}


def _dips_after(before: Draft, clause: Clause) -> bool:
    """`wounded lot 48, then iba 4500 ppm powder`: the hormone is a treatment of its own."""
    treated = before.slots.values.get("treatment") if before.slots is not None and before.act == "treat" else None
    return treated not in (None, "hormone") and clause.has("hormone", "hormone_name", "hormone_form")


def _only_talk(before: Draft, clause: Clause) -> bool:
    names_lots = before.act in NAMES_LOTS and bool(clause.kinds() & NAMES_LOTS[before.act])
    return is_beside(clause, before) and (not names_lots or speaks_of_people(clause))


def _backfill_states(drafts: list[Draft]) -> None:
    """`14: 31/72, 15: 20/36 rooted`: a count without a state takes the state that a like count after it names."""
    for draft, after in reversed(list(pairwise(drafts))):
        if (
            draft.act == after.act == "check"
            and draft.slots
            and after.slots
            and "state" not in draft.slots.values
            and draft.slots.values.get("count") is not None
        ):
            state = after.slots.values.get("state")
            if state and draft.slots.clause.word is None:
                draft.slots.values["state"] = state
