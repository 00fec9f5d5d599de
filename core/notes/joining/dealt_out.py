"""What is told at the end of several deeds alike, and holds for each: `24 each`, `trays 3 and 4`, `all in tray 5`."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.counts.listed_counts import EACH
from core.notes.details.drafts import Draft
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, is_act, names_plants

_DEALT: Final = OPENING | {"pot"}


def deals_out(drafts: list[Draft], clause: Clause) -> bool:
    """Gives each of several deeds alike what a clause tells of them all; False where it tells no such thing."""
    alike = _alike(drafts)
    if len(alike) < 2 or clause.act is not None:
        return False
    told = [piece for piece in clause.pieces if _is_each(piece) or "filler" not in piece.roles]
    told = [piece for piece in told if piece.kind != "mark"]
    dealt = _deal_count(alike, told) or _deal_trays(alike, told)
    if dealt:
        alike[-1].clauses.append(clause)
        for piece in clause.pieces:
            piece.used = True
    return dealt


def told_of_both(clauses: list[Clause]) -> list[Clause]:
    """`tray 3 30 sage, tray 4 24 ribes, both stuck tues`: the deed of all, told first."""
    deed = next((clause for clause in clauses if clause.act is not None), None)
    at = clauses.index(deed) if deed is not None else 0
    if deed is None or at < 2 or deed.act not in OPENING or deed.cue is not None or len(clauses) > at + 1:
        return clauses
    told = [piece for piece in deed.pieces if "filler" not in piece.roles or "both" in piece.roles]
    every = [piece for piece in told if "both" in piece.roles or "all" in piece.roles]
    others = [piece for piece in told if piece not in every and not is_act(piece)]
    many = next((piece.roles["both"] for piece in every if "both" in piece.roles), None)
    if len(every) != 1 or (many is not None and at != (2 if many is True else many)):
        return clauses
    doers = [after for by, after in pairwise(deed.pieces) if by.low == "by"]
    plain = all(piece.kind in ("moment", "person") or piece.low == "by" or piece in doers for piece in others)
    days = [piece for piece in clauses[0].pieces[:1] if piece.kind == "moment"]
    clauses[0].pieces = clauses[0].pieces[len(days) :]
    if not plain or not all(map(_is_of_list, clauses[:at])):
        clauses[0].pieces = [*days, *clauses[0].pieces]
        return clauses
    deed.pieces = [*days, *deed.pieces]
    every[0].used = True
    first = clauses[0].after
    clauses[0].after, deed.after = ":", first
    return [deed, *clauses[:at]]


def _is_of_list(clause: Clause) -> bool:
    """`tray 3 30 sage`, `lot 70 24 sage tray 2`: a lot or tray with its count and its plant."""
    told = [piece for piece in clause.pieces if "filler" not in piece.roles]
    kinds = ["plant" if "plant" in piece.roles else piece.kind for piece in told]
    known = kinds[:1] in (["lots"], ["trays"]) and kinds[1:3] == ["number", "plant"]
    return known and kinds[3:] in ([], ["trays"]) and clause.act is None and clause.cue is None


def fold_heading(drafts: list[Draft]) -> None:
    """`stuck lots 70 and 71 today. 70 = 24 sage, 71 = 30 ribes`: lots that are told one by one after all of them were
    named are told once; the day and the person hold for each, in place.
    """
    if len(drafts) < len(("all", "one", "other")) or drafts[0].act not in OPENING or drafts[0].slots is None:
        return
    heading, parts = drafts[0], [draft for draft in drafts[1:] if draft.act == drafts[0].act]
    named = [name for draft in parts for name in draft.held("lots") or ()]
    if any(heading.held(key) for key in ("plant", "count", "amount")) or tuple(named) != heading.held("lots"):
        return
    for draft in parts:
        for key in ("on", "by"):
            if draft.slots is not None and heading.held(key) is not None:
                draft.slots.values.setdefault(key, heading.held(key))
    parts[0].heads = [*heading.heads, *heading.clauses, *parts[0].heads]
    del drafts[0]


def lend_from_ends(drafts: list[Draft]) -> None:
    """`30 potted, 10 dead, lot 30. 20 potted, 2 dead, lot 31`: the lot at the end of each sentence is of all in it, as
    long as each ends so, in place.
    """
    group: list[Draft] = []
    for place, draft in enumerate(drafts):
        group.append(draft)
        following = drafts[place + 1].clauses[:1] if place + 1 < len(drafts) else []
        if following and following[0].after not in SENTENCE_ENDS:
            continue
        named = _named_at_end(group)
        if named is None:
            return
        for one in group[:-1]:
            one.carried = {named.kind: named.value}
        group = []


def _named_at_end(sentence: list[Draft]) -> Piece | None:
    """The lots or trays in a clause of their own at the end of a sentence, where nothing else in it names any."""
    clauses = sentence[-1].clauses
    ends = (place for place, clause in enumerate(clauses) if place and clause.after in SENTENCE_ENDS)
    clauses = clauses[: next(ends, len(clauses))]
    while len(clauses) > 1 and all("remarks" in piece.roles for piece in clauses[-1].pieces):
        clauses = clauses[:-1]  # "…, lot 5 as planned"
    if any(one.slots is None or one.heads for one in sentence) or len(clauses) < 2:
        return None
    told = [piece for piece in clauses[-1].pieces if piece.kind != "mark" and "filler" not in piece.roles]
    before = [piece for one in sentence for clause in one.clauses for piece in clause.pieces if piece not in told]
    if len(told) != 1 or told[0].kind not in SUBJECTS or clauses[-1].after != ",":
        return None
    return None if any(map(names_plants, before)) else told[0]


def before_aside(drafts: list[Draft]) -> list[Draft]:
    """`potted 9 from lot 3, none from lot 4, 6 from lot 5`, `tray 2 (soaked first), 60 lupine tray 3`: what was told
    before the last of which there were none, or before what stands in brackets.
    """
    end = len(drafts)
    while end > 1 and (_tells_none(drafts[end - 1]) or drafts[end - 1].clauses[0].after == "("):
        end -= 1
    return drafts[:end] if end < len(drafts) else []


def weighs_else(before: Draft, clause: Clause) -> bool:
    """`collected 30 willow cuttings, 2 lb acorns`: so much of something that is not named as a plant."""
    counted = before.act == "collect" and before.held("count") is not None and "amount" in clause.kinds()
    return counted and any(piece.kind == "word" or "what" in piece.roles for piece in clause.pieces)


def _tells_none(draft: Draft) -> bool:
    plain = all(clause.act is None and clause.cue is None and clause.has("none") for clause in draft.clauses)
    return draft.act == "note" and plain


def _alike(drafts: list[Draft]) -> list[Draft]:
    """The last deeds, of one act, each with a plant or a lot of its own."""
    start = len(drafts)
    while start and drafts[start - 1].act == drafts[-1].act and drafts[start - 1].act in _DEALT:
        if drafts[start - 1].slots is None or not drafts[start - 1].own_subject():
            break
        start -= 1
    return drafts[start:]


def _is_each(piece: Piece) -> bool:
    return piece.low in EACH or "all" in piece.roles or "both" in piece.roles


def _deal_count(alike: list[Draft], told: list[Piece]) -> bool:
    """`stuck lot 75 sage, lot 76 toyon, 24 each`."""
    each = len(told) == 2 and told[0].kind == "number" and told[1].low in EACH and told[0].value.whole is not None
    if not each or any(draft.held("count") is not None for draft in alike):
        return False
    for draft in alike:
        if draft.slots is not None:
            draft.slots.put("count", told[0].value.whole)
    return True


def _deal_trays(alike: list[Draft], told: list[Piece]) -> bool:
    """`sowed 100 clarkia, 50 madia, trays 3 and 4`; `stuck 24 toyon, 30 sage, all in tray 5`."""
    trays = [piece for piece in told if piece.kind == "trays"]
    others = [piece for piece in told if piece not in trays]
    if len(trays) != 1 or any(draft.held("trays") for draft in alike) or not all(map(_is_each, others)):
        return False
    names = trays[0].value
    whole = len(names) == 1 and bool(others)
    if not whole and len(names) != len(alike):
        return False
    for at, draft in enumerate(alike):
        if draft.slots is not None:
            draft.slots.put("trays", names if whole else (names[at],))
    return True
