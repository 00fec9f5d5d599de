"""What does one act hand on to the next: its subject; the day and person that head the note (`carried_heads`).

Rules
1. The lots, else the trays, else the plant of the last subject named hold for acts after it that name none.
2. A date or person before the first act's word holds for all, until another is named.
3. `both` is the last two subjects of a kind; `misted and domed tray 3` lends its subject backwards.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any, Final

from core.notes.deeds.solutions import names_solution
from core.notes.details.drafts import Draft
from core.notes.joining.all_named import Named, all_of_any, all_of_several, sum_of_several, told_together
from core.notes.joining.carried_heads import begins_sentence, carry_heads, heads_of, says_it
from core.notes.joining.counted import heads_day, opens_with_plants
from core.notes.joining.dealt_out import lend_from_ends
from core.notes.joining.shared_ends import lend_last_tray, lend_shared_ends
from core.notes.words.act_kinds import COUNTLESS, NO_SUBJECT
from core.notes.words.pieces import SENTENCE_ENDS, Piece, is_act
from core.vocabulary.loading import small_words

_SUBJECTS: Final = ("lots", "trays", "plant")
_CARE: Final = frozenset({"water", "tend", "cover", "air", "vent"})
_COUNTED: Final = frozenset({"lose", "check"})
_BOTH: Final = 2
_OTHERS: Final = frozenset({"the rest", "rest", "the others", "others"})
_ARTICLES: Final = small_words("people", "articles")
_VESSELS: Final = small_words("strat", "vessels")
_A_BIT: Final = small_words("sayings", "a_bit")
_THE_OTHERS: Final = frozenset({"other", "remaining", "last", "first"})
_IN: Final = frozenset({"in", "with", "w", "w/", "using"})
_IT: Final = frozenset({"it", "that", "this"})


def carry(drafts: list[Draft]) -> None:
    """Hands on subjects, dates and people between the drafts of a note, in place."""
    for draft in drafts:
        of_one_before = draft.act in ("pour_out", "mix") or (draft.act == "sanitize" and _in_it(draft))
        if of_one_before and not draft.held("solution"):
            _carry_solution(drafts, draft)
    _carry_things(drafts)
    if len(drafts) < 2 and not any(_says_both(draft) for draft in drafts):
        return
    if not any(draft.act in NO_SUBJECT for draft in drafts):
        lend_from_ends(drafts)
    _lend_back(drafts)
    subject: dict[str, Any] = {}
    read_at: dict[str, Any] = {}
    wanted: dict[str, Any] = {}
    plant: str | None = None
    split_off: str | None = None
    seen: list[Named] = []
    fresh = 0
    for place, draft in enumerate(drafts):
        fresh = len(seen) if begins_sentence(draft) else fresh
        if draft.act == "target" and draft.extra.get("plant"):
            wanted = {"plant": draft.extra["plant"]}
        if (
            draft.act == "ask"
            and wanted
            and not subject
            and not draft.own_subject()
            and draft.extra.get("about") == "forecast"
        ):
            draft.carried = dict(wanted)
        if (
            draft.act == "ask"
            and subject
            and not draft.own_subject()
            and draft.extra.get("about") in ("forecast", "count", "plan")
            and not draft.extra.get("rest")
        ):
            draft.carried = dict(subject)
        if draft.act == "amend" and (kinds := [name for name in _SUBJECTS if draft.held(name)]):
            subject = {kinds[0]: draft.held(kinds[0])}
        if draft.act == "ask":
            subject = _asked_of(draft, subject)
        if draft.act in NO_SUBJECT:
            read_at = _where_read(draft) or read_at
            continue
        if draft.slots is not None and "lot" in draft.slots.asks:
            # "lost 5 in lot 8 or 9": neither the lot before, nor for what follows.
            subject = {}
            continue
        own = {name: value for name in _SUBJECTS if (value := draft.held(name))}
        together = None if own else _of_several(drafts, draft, seen, fresh)
        if together is not None:
            own = draft.carried = {together[0]: together[1]}
            _use_both(draft)
            seen.append(together)
        elif own:
            if any(len(own.get(kind, ())) == _all_told(draft) > 0 for kind in ("lots", "trays")):
                _use_both(draft)
            for kind in ("lots", "trays"):
                if kind in own:
                    seen.append((kind, own[kind]))
            if draft.act == "split" and draft.held("to") and not draft.held("stays"):
                seen.append(("lots", (draft.held("to"),)))
        if draft.act == "sow" and own.keys() == {"trays"} and "lots" in subject and says_it(draft):
            draft.carried = {"lots": subject["lots"]}
        if own:
            kept = "lots" if "lots" in own else "trays" if "trays" in own else "plant"
            stays = draft.held("stays") or (draft.act == "merge" and draft.held("to") in own.get("lots", ()))
            subject = {kept: (draft.held("to"),)} if stays else {kept: own[kept]}
        elif draft.carried:
            subject = dict(draft.carried)
        elif read_at and not subject and draft.act in COUNTLESS:
            # "88f tray 4, vents half".
            subject = draft.carried = dict(read_at)
        elif split_off and _says_those(draft):
            subject = draft.carried = {"lots": (split_off,)}
        elif subject and len(seen) == 1 and _is_rest_of_one(drafts[place - 1], draft, subject):
            draft.carried = dict(subject)
        elif subject and not _of_its_own(draft, subject) and not all_of_any(seen, fresh, draft):
            draft.carried = dict(subject)
            if any(len(named) == _all_told(draft) for kind, named in subject.items() if kind != "plant"):
                _use_both(draft)
        split_off = draft.held("to") if draft.act == "split" and not draft.held("stays") else None
        if draft.strays:
            subject = {}
        if draft.held("plant"):
            plant = draft.held("plant")
        elif plant and draft.act in ("stick", "sow", "divide", "collect"):
            draft.carried = {**draft.carried, "plant": plant}
    lend_shared_ends(drafts)
    lend_last_tray(drafts)
    carry_heads(drafts)
    _lend_plant_back(drafts)


def _says_those(draft: Draft) -> bool:
    """`split 15 off lot 30 as lot 77, potted those`: those that were split off."""
    return any(piece.low in ("those", "these") for clause in draft.clauses for piece in clause.pieces)


def _asked_of(draft: Draft, subject: dict[str, Any]) -> dict[str, Any]:
    """`is lot 12 ready? 20 of 24 rooted`: a question names the lot for what is told after it; after a deed with another
    lot nobody can say which of the two is meant.
    """
    named = {kind: draft.extra[kind] for kind in ("lots", "trays") if draft.extra.get(kind)}
    if not named or named == subject:
        return subject
    return {} if subject or len(named) > 1 else named


def _lend_plant_back(drafts: list[Draft]) -> None:
    """`stuck 20 heel and 20 tip sage cuttings`: the plant of both is named once."""
    for draft, after in pairwise(drafts):
        forms = [one.held("cutting") for one in (draft, after)]
        joined = after.clauses[0].after in ("and", "&", "+", ",") if after.clauses else False
        if draft.act == after.act == "stick" and joined and None not in forms and forms[0] != forms[1]:
            plant = after.held("plant")
            if plant and not draft.held("plant") and not draft.carried.get("plant"):
                draft.carried = {**draft.carried, "plant": plant}


def _lacks_the_other(draft: Draft, subject: dict[str, Any]) -> bool:
    """`lost 3 in lot 9, lot 10 is fine. misted both`: two are meant, and only one is known."""
    many = _all_told(draft)
    if many > _BOTH:
        return not any(kind != "plant" and len(named) == many for kind, named in subject.items())
    alone = all(kind == "plant" or len(named) == 1 for kind, named in subject.items())
    return alone and _says_both(draft)


def _done_to_another_thing(draft: Draft) -> bool:
    """`misted tray 3, watered the cat`: an unknown thing right after the deed, not what the note spoke of."""
    for clause in draft.clauses[:1]:
        for deed, article, thing in zip(clause.pieces, clause.pieces[1:], clause.pieces[2:], strict=False):
            others = thing.low in _THE_OTHERS or f"{article.low} {thing.low}" in _A_BIT
            if "act" in deed.roles and article.low in _ARTICLES and thing.kind == "word" and not (thing.used or others):
                return True
    return False


def _of_its_own(draft: Draft, subject: dict[str, Any]) -> bool:
    """Whether a deed has a subject of its own, though it may be unknown: `14 of 10 into 1 gal` names a lot itself."""
    asked = draft.slots is not None and "number" in draft.slots.asks
    if draft.act == "note" and draft.clauses and heads_day(draft.clauses[0]):
        return True
    if draft.act in _COUNTED and begins_sentence(draft) and _names_vessel(draft.clauses[0].pieces[0]):
        return True
    apart = _done_to_another_thing(draft) or _leaves_out(draft) or _lacks_the_other(draft, subject)
    return asked or apart or _of_each(draft, subject) or ("trays" in subject and _some_of_trays(draft))


def _names_vessel(first: Piece) -> bool:
    """`bag 41 | moldy`: a sentence that begins so is of that bag."""
    return first.kind == "numbered" and first.low.split(" ")[0] in _VESSELS


def _of_each(draft: Draft, subject: dict[str, Any]) -> bool:
    """`sold 3 coyote brush, 4 sage, gave away 2 of each`: two are meant, and only the last is known."""
    one = all(kind == "plant" or len(named) == 1 for kind, named in subject.items())
    pairs = (pair for clause in draft.clauses for pair in pairwise(clause.pieces))
    return one and any((of.low, each.low) == ("of", "each") for of, each in pairs)


def _some_of_trays(draft: Draft) -> bool:
    """`tray 6 20 up. watered 3 of the 5 trays`: some of several trays, and not the one told of before."""
    pairs = (pair for clause in draft.clauses for pair in pairwise(clause.pieces)) if draft.act in COUNTLESS else ()
    return any(some.kind == "number" and some.value.of and "container" in trays.roles for some, trays in pairs)


def _is_rest_of_one(before: Draft, draft: Draft, subject: dict[str, Any]) -> bool:
    """`potted 12 from lot 82, misted the rest`: those of the one lot that were not counted before; `the rest of the
    lots` is of others.
    """
    one = all(len(named) == 1 for named in subject.values()) and not subject.keys() & {"plant"}
    told = _leaves_out(draft) and not any(clause.has("left") for clause in draft.clauses)
    pairs = (pair for clause in draft.clauses for pair in pairwise(clause.pieces))
    apart = any(rest.low in _OTHERS and of.low == "of" for rest, of in pairs)
    return one and told and not apart and before.act not in COUNTLESS and before.held("count") is not None


def _leaves_out(draft: Draft) -> bool:
    """`misted all but tray 4`, `misted the rest`: neither the last subject nor all of it."""
    pieces = [piece for clause in draft.clauses for piece in clause.pieces if not piece.used]
    others = draft.act in COUNTLESS and any(piece.low in _OTHERS for piece in pieces)
    return others or any(piece.kind == "exception" or "left" in piece.roles for piece in pieces)


def _counts_containers(draft: Draft) -> bool:
    """`misted 4 trays and watered lot 22`: so many trays, not the lot that is named next."""
    pieces = [piece for clause in draft.clauses for piece in clause.pieces]
    return any(
        number.kind in ("number", "kept") and not number.used and not thing.used and "container" in thing.roles
        for number, thing in pairwise(pieces)
    )


def _in_it(draft: Draft) -> bool:
    """`mixed 2 gal bleach, soaked snips in it`: in the solution told before; the words are used."""
    for clause in draft.clauses:
        for lead, it in pairwise(clause.pieces):
            if lead.low in _IN and it.low in _IT and not it.used:
                lead.used = it.used = True
                return True
    return False


def _carry_things(drafts: list[Draft]) -> None:
    """`snips dunked in bleach, then wiped w iso`: the same things, in another solution."""
    for before, draft in pairwise(drafts):
        alike = before.act == draft.act == "sanitize" and before.held("solution") != draft.held("solution")
        if alike and draft.held("solution") and not draft.held("things") and not draft.own_subject():
            things = before.held("things") or before.carried.get("things")
            draft.carried = {**draft.carried, "things": things} if things else draft.carried


def _carry_solution(drafts: list[Draft], draft: Draft) -> None:
    """`tossed the bleach, made 2 gal`: the solution before is poured out, or is made anew after it was poured out."""
    if draft.act == "pour_out":
        for piece in (piece for head in draft.heads for piece in head.pieces if names_solution(piece)):
            draft.carried["solution"] = piece.roles.get("solution", "hormone")
            piece.used = True
            return
    for before in reversed(drafts[: drafts.index(draft)]):
        if (before.held("solution") or before.carried.get("solution")) and (
            draft.act in ("pour_out", "sanitize") or before.act == "pour_out"
        ):
            draft.carried["solution"] = before.held("solution") or before.carried["solution"]
            return


def _says_both(draft: Draft) -> bool:
    return any("both" in piece.roles for clause in draft.clauses for piece in clause.pieces)


def _where_read(draft: Draft) -> dict[str, Any]:
    """The trays or the lots that a temperature was read at."""
    kinds = [kind for kind in ("trays", "lots") if draft.act == "temp" and draft.held(kind)]
    return {kinds[0]: draft.held(kinds[0])} if kinds else {}


def _all_told(draft: Draft) -> int:
    """How many lots or trays a statement says it is of (`both`, `all 3`); 0 where it does not say."""
    told = (piece.roles["both"] for clause in draft.clauses for piece in clause.pieces if "both" in piece.roles)
    return next((_BOTH if many is True else int(many) for many in told), 0)


def _of_several(drafts: list[Draft], draft: Draft, seen: list[Named], fresh: int) -> Named | None:
    """The lots or trays told of before that a deed means together."""
    together = told_together(seen, _all_told(draft)) or all_of_several(seen, fresh, draft)
    return together or sum_of_several(drafts[: drafts.index(draft)], draft)


def _use_both(draft: Draft) -> None:
    for clause in draft.clauses:
        for piece in clause.pieces:
            if "both" in piece.roles:
                piece.used = True


def _one_object(draft: Draft, after: Draft) -> bool:
    """`moved lot 12, | fed and weeded lot 13`: two deeds of care right after each other, and what both were done to."""
    bare = len(draft.clauses) == 1 and all(map(is_act, draft.clauses[0].pieces))
    cared = draft.act in COUNTLESS and after.act in COUNTLESS and draft.clauses[0].after == ","
    return bare and cared and after.clauses[0].after in ("and", "&") and after.own_subject()


def _lend_back(drafts: list[Draft]) -> None:
    for place in range(len(drafts) - 2, -1, -1):
        draft, after = drafts[place], drafts[place + 1]
        if place == 0 and not draft.own_subject() and _denied_of_the_same(draft, after):
            draft.carried = {name: after.extra[name] for name in _SUBJECTS if after.extra.get(name)}
        if (
            draft.own_subject()
            or draft.carried
            or _leaves_out(draft)
            or _counts_containers(draft)
            or draft.act in NO_SUBJECT
            or after.act in NO_SUBJECT
            or draft.slots is None
            or "number" in draft.slots.asks
            or after.slots is None
        ):
            continue
        named = draft.clauses[0].after not in SENTENCE_ENDS and any(other.own_subject() for other in drafts[:place])
        if named and not _one_object(draft, after):
            continue
        if _done_by_others(draft, after):
            continue
        joined = after.clauses[0].after in ("and", "&", "then", "+", "also", "but", "", "(")
        joined = joined or (draft.act == after.act and bool(draft.held("to")) and bool(after.held("to")))
        if not joined and not (
            after.clauses[0].after == ","
            and len(after.clauses) > 1
            and place + 2 == len(drafts)
            and not after.clauses[0].kinds() & {"lots", "trays"}
        ):
            continue
        if draft.act == after.act and draft.held("amount") and after.held("amount"):
            # "5 lb of acorns and 2 lb of buckeyes": each amount is of its own plant.
            continue
        if draft.act == after.act and opens_with_plants(after.clauses[0]) and draft.held("count") is not None:
            # "sold 6 tall ones and 4 toyon": those counted before may be of any plant.
            continue
        lent = {name: after.held(name) or after.carried.get(name) for name in _SUBJECTS}
        kind = next((name for name in _SUBJECTS if lent[name]), None)
        alone = draft.slots.values.get("count") is None or draft.act == after.act or _of_the_same(draft, after)
        if kind is not None and alone:
            draft.carried = {kind: lent[kind]}


def _denied_of_the_same(draft: Draft, after: Draft) -> bool:
    """`misted | but not fed lot 5`: a deed of care, and another that was not done to the same; not `but not tray 4`."""
    clause = after.clauses[0] if after.act == "note" and after.clauses else None
    if clause is None or clause.cue != "negation" or clause.after not in ("but", "and", "&") or draft.slots is None:
        return False
    pieces = clause.pieces
    at = next((at for at, piece in enumerate(pieces) if piece.kind in ("lots", "trays")), 0)
    word = pieces[at - 1].roles.get("act") or pieces[at - 1].roles.get("to_do") if at else None
    alone = all(is_act(piece) or "filler" in piece.roles for one in draft.clauses for piece in one.pieces)
    own = draft.slots.clause.word
    if word is None or own is None or not alone or draft.act not in _CARE:
        return False
    return bool(word.act != draft.act or (word.act == "tend" and word.says != own.says))


def _of_the_same(draft: Draft, after: Draft) -> bool:
    """`15 rooted and 4 lost in lot 17`: two counts of one lot, told before it is named."""
    word = draft.slots.clause.word if draft.slots is not None else None
    counts = {draft.act, after.act} <= {"check", "lose"} and word is not None and word.counts_before
    bare = all(piece.kind in ("number", "moment") or is_act(piece) for piece in draft.clauses[0].pieces)
    return counts and bare and len(draft.clauses) == 1


def _done_by_others(draft: Draft, after: Draft) -> bool:
    """`dev did the watering, i did the vents, tray 4 half`: what another did is told apart."""
    who = draft.held("by")
    return after.held("by") not in (None, who) or (who is not None and heads_of(after)[1])
