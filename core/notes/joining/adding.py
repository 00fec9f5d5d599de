"""When does a clause add to the act before it, and how: heads, second words for a loss, a check and its count."""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots
from core.notes.details.apiece import says_each
from core.notes.details.drafts import SUBJECTS, Draft, take_person
from core.notes.details.filling import fill
from core.notes.joining.beside import BEING, COMING, is_beside
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import COUNTS, Piece
from core.vocabulary.loading import small_words

_HEADED: Final = ("trays", "on", "container", "medium", "hormone", "wood", "cutting", "to", "duration", "source")
"""Details that hold for a whole list where they stand before its colon (`potted into 1 gal: 12 from lot 30, …`)."""

_ADDING: Final = frozenset({",", "", "(", "-", "for"})
_SPEAKER: Final = small_words("people", "speaker")
_FROM: Final = small_words("places", "from")
_LOOKING: Final = small_words("cues", "looks")
_BOTH: Final = 2
_LOTLESS: Final = frozenset({"mix", "pour_out", "sanitize"})
_MOVED: Final = frozenset({"lots", "trays", "moment", "quote", "number", "fraction", "plant", "all", "vague", "left"})


def take_heads(draft: Draft, heads: list[Clause]) -> None:
    """Takes what stood before an act without a deed of its own: subjects, days, persons, details."""
    if not heads or draft.slots is None:
        return
    listed = sum(head.has("plant") and "number" in head.kinds() for head in heads) > 1
    instead = any(piece.low == "instead" for head in heads for piece in head.pieces)
    for head in heads:
        draft.heads.append(head)
        if instead and head.kinds() & {"lots", "trays", "number"}:
            # "ran out of perlite for lot 22, did 23 instead and domed it".
            continue
        if _told_of_others(head, heads):
            fill(draft.slots, [piece for piece in head.pieces if _opens_with_day(head, piece)])
            continue
        if listed and head.has("plant"):
            # Of several plants counted before it (`12 toyon, 4 sage, 3 dead`) the deed may be of any.
            continue
        if head.cue == "aside":
            fill(draft.slots, _told_beside(draft, head))
            continue
        take_person(draft, head)
        own = {name: draft.slots.values.get(name) for name in SUBJECTS}
        if (own["lots"] or own["trays"]) and draft.clauses[0].after != ":" and _tells_how_it_is(draft, head):
            # "gnats in lot 4, misted tray 5", "lot 4 looks sad, watered tray 5".
            pieces = [piece for piece in head.pieces if piece.kind not in ("lots", "trays")]
        elif any(own.values()):
            pieces = [piece for piece in head.pieces if piece.kind not in ("lots", "trays") or not own.get(piece.kind)]
        else:
            pieces = head.pieces
        if _is_sentence(head) and not head.kinds() & {"lots", "trays", "number"}:
            pieces = [piece for piece in pieces if "cause" not in piece.roles and draft.act != "temp"]
        if is_beside(head, draft):
            pieces = [piece for piece in pieces if piece.kind in ("lots", "trays") or _opens_with_day(head, piece)]
        if draft.act == "move" and draft.clauses[0].after != ":":
            # Where plants stood (`too hot on bench 2, moved lot 9`) is not where they went.
            pieces = [piece for piece in pieces if piece.kind in _MOVED or piece.roles.keys() & _MOVED]
        elif (
            any(piece.kind == "word" and not piece.used for piece in pieces)
            and draft.clauses[0].after != ":"
            and not (draft.act in OPENING and _tells_source(head))
        ):
            pieces = [
                piece
                for piece in pieces
                if piece.kind in ("lots", "trays", "moment", "quote")
                or "plant" in piece.roles
                or "filler" in piece.roles
            ]
        if draft.act == "treat" and head.has("solution", "brew"):
            # "lot 3 in bleach 5 min, rinsed": how long it lay in that, and not how long it was rinsed.
            pieces = [piece for piece in pieces if piece.kind != "duration"]
        fill(draft.slots, pieces, undecided=head.act is None)
        says_each(draft.slots, head.pieces)
    draft.start = min(draft.start, heads[0].first)


def _tells_how_it_is(draft: Draft, head: Clause) -> bool:
    """Whether what stands before a deed tells how a lot is, and no more of what the deed was done to."""
    looks = draft.act not in OPENING and any(piece.low.split(" ")[0] in _LOOKING for piece in head.pieces)
    return looks or head.has("cause")


def _tells_source(head: Clause) -> bool:
    """`from heron gulch, 60 tips stuck`, also after a day."""
    opening = next((piece for piece in head.pieces if piece.kind != "moment" and piece.low != "on"), None)
    return opening is not None and opening.low in _FROM


def _told_of_others(head: Clause, heads: list[Clause]) -> bool:
    """`bea took trays 1-6, | lon took lot 7 and potted 10`: words of their own about others than those named after."""
    later = heads[heads.index(head) + 1 :]
    named = {"lots", "trays"}
    if not later or not head.kinds() & named or subject_only(head):
        return False
    # "lot 5 looks dry, lot 6 looks good, misted": the nearer one.
    return any(one.kinds() & named and (not subject_only(one) or one.kinds() & head.kinds() & named) for one in later)


def _told_beside(draft: Draft, head: Clause) -> list[Piece]:
    """Of words that tell no deed the day that opens them, and their subject (`gave lot 9 a look, 4 rooted`)."""
    own = draft.own_subject() or draft.act in _LOTLESS
    return [
        piece
        for piece in head.pieces
        if _opens_with_day(head, piece) or (piece.kind in ("lots", "trays") and not own)
    ]


def _is_sentence(head: Clause) -> bool:
    """`sun came out`: a verb of its own, so that it blames nothing and names no place."""
    return any(piece.low in BEING for piece in head.pieces)


def _opens_with_day(head: Clause, piece: Piece) -> bool:
    """The day of `yesterday fog lifted, misted tray 4`, or of a heading (`closing notes 8/18`)."""
    opens = piece is head.pieces[0] or (head.pieces[0].low == "on" and piece is head.pieces[1])
    return piece.kind == "moment" and ((opens and piece.value.names_day) or "heads" in piece.roles)


def _tells_of_new_lot(draft: Draft, clause: Clause) -> bool:
    """`split 14 off lot 50 as lot 97, | lot 97 is in tray 3`: what is told of the new lot is kept with the words."""
    named = [piece.value for piece in clause.pieces if piece.kind == "lots"]
    return named == [(draft.held("to"),)]


def add(draft: Draft, clause: Clause) -> None:
    """Adds a clause's details to the draft before it."""
    if draft.slots is None:
        return
    if draft.act == "split" and _tells_of_new_lot(draft, clause):
        draft.clauses.append(clause)
        return
    names_lot = draft.act == "merge" or bool(clause.kinds() & {"lots", "trays"})
    if (draft.held("to") or not names_lot) and draft.act in ("split", "merge") and is_beside(clause, draft):
        draft.clauses.append(clause)
        return
    if draft.act == "merge" and clause.after in (".", ";", "!") and not clause.kinds() & {"lots", "trays"}:
        draft.clauses.append(clause)
        return
    heads_lines = clause.after == "\n" and not draft.own_subject() and draft.held("count") is None
    if (clause.after == ":" or heads_lines) and not draft.headed:
        draft.headed = {key: draft.slots.values[key] for key in _HEADED if draft.slots.values.get(key) is not None}
    for key, value in clause.says.items():
        draft.slots.values.setdefault(key, value)
    take_person(draft, clause)
    slots = draft.slots
    if (
        slots.act == "check"
        and clause.act == "check"
        and "count" in slots.values
        and not slots.values.get("of")
        and "state" in clause.says
    ):
        _count_sample(slots, clause)
    else:
        fill(slots, _blaming(clause), undecided=clause.act is None)
    draft.clauses.append(clause)


def _count_sample(slots: Slots, clause: Clause) -> None:
    """`tugged 12` before `9 rooted`: how many of those that were looked at."""
    whole = slots.values.pop("count")
    slots.values.update(sample=True, of=whole)
    both = next((piece for piece in clause.pieces if "both" in piece.roles), None)
    if both is not None and whole == _BOTH:
        slots.put("share", 1.0, both)
    fill(slots, clause.pieces)
    count = slots.values.get("count")
    if count is not None and slots.values.get("of") != whole:
        return
    if count is not None and count > whole:
        del slots.values["of"], slots.values["sample"]
        slots.values.setdefault("lots", (str(whole),))
    elif count is None and slots.values.get("share") is None:
        del slots.values["of"], slots.values["sample"]
        slots.values["count"] = whole


def _blaming(clause: Clause) -> list[Piece]:
    """The pieces of a clause without a cause that heads a sentence of its own (`lost 2, sun came out`), or that there
    is none of (`lost 4, no slugs`).
    """
    said = [piece for piece in clause.pieces if "filler" not in piece.roles or piece.low in COMING]
    if clause.act is None and len(said) > 1 and "cause" in said[0].roles and said[1].low in COMING:
        return [piece for piece in clause.pieces if piece is not said[0]]
    if clause.has("none", "negation") and clause.has("cause"):
        denied = next(at for at, piece in enumerate(clause.pieces) if piece.roles.keys() & {"none", "negation"})
        # The "no" of "no mold" counts nothing either.
        blamed = any("cause" in piece.roles for piece in clause.pieces[denied + 1 : denied + 2])
        told = clause.pieces[:denied] if blamed else clause.pieces[: denied + 1]
        return [*told, *(piece for piece in clause.pieces[denied + 1 :] if "cause" not in piece.roles)]
    return clause.pieces


def _only_a_cause(clause: Clause) -> bool:
    return all("act" in piece.roles or "filler" in piece.roles or piece.kind == "mark" for piece in clause.pieces)


def merges(drafts: list[Draft], clause: Clause, heads: list[Clause]) -> bool:
    """Whether an act clause only tells more of the act before it."""
    if not drafts or heads or drafts[-1].slots is None:
        return False
    before = drafts[-1].slots
    if (
        drafts[-1].act == "stick"
        and clause.act == "treat"
        and clause.says.get("treatment") == "hormone"
        and not clause.kinds() & {"lots", "trays"}
        and not clause.has("plant")
    ):
        clause.says = {}
        return True
    if _weans_again(drafts[-1], clause):
        return True
    if drafts[-1].act == "hold" and clause.act == "lose" and "cause" in clause.says and _only_a_cause(clause):
        return True
    if (
        drafts[-1].act == "wilt"
        and clause.act == "lose"
        and clause.after in ("and", "&")
        and before.values.get("count") is not None
        and not clause.kinds() & COUNTS
    ):
        before.act = drafts[-1].act = "lose"
        before.values.setdefault("cause", "wilt")
        return True
    if drafts[-1].act != clause.act or clause.after in ("then",):
        return False
    own = bool(clause.kinds() & {"lots", "trays"}) or (clause.has("plant") and clause.act not in ("check", "lose"))
    held = any(before.values.get(name) for name in SUBJECTS)
    if own and held:
        return False
    counted = (
        before.values.get("count") is not None or before.values.get("share") is not None or before.values.get("all_of")
    )
    counts = bool(clause.kinds() & COUNTS) or clause.has("all", "none", "negation", "vague")
    if clause.act == "check" and "state" not in clause.says and not own and not counts:
        return not _told_by_another(drafts[-1], clause)
    if clause.act == "check":
        if "state" in before.values:
            return before.values["state"] == clause.says.get("state") and not counted and clause.after in (":", ",", "")
        if "state" not in clause.says and not counted and not own:
            return True
        return "state" in clause.says and (
            not counted
            or bool(before.values.get("sample"))
            or (before.clause.word is not None and not before.clause.word.says and before.values.get("of") is None)
        )
    if clause.act == "lose":
        same = clause.says.get("cause") is None or before.values.get("cause") in (None, clause.says["cause"])
        return same and not (counted and counts)
    if clause.act == "treat" and not own and clause.after in _ADDING and not clause.says.get("ends"):
        same = before.values.get("treatment") == clause.says.get("treatment") and not before.values.get("ends")
        return same and before.values.get("duration") is None and "duration" in clause.kinds()
    if clause.act == "water" and not own and before.values.get("method") == "tray":
        return bool(clause.kinds() & {"size", "depth"}) and before.values.get("depth_in") is None
    if clause.act in ("temp", "air", "mix"):
        return (
            not any(before.values.get(name) is not None and name != "place" for name in _told(clause))
            if clause.act != "air"
            else not counts
        )
    return False


def _told_by_another(draft: Draft, clause: Clause) -> bool:
    """`bao counted lot 14 … and i counted`: whoever texts tells apart from the one named before."""
    return bool(draft.held("by")) and any(piece.low in _SPEAKER for piece in clause.pieces)


def _weans_again(draft: Draft, clause: Clause) -> bool:
    """`put the domes away for trays 4-6, done weaning`, `uncovered lot 19 for good, weaned finally`: one deed."""
    acts = {draft.act, clause.act}
    plain = not clause.kinds() & {"lots", "trays", "duration", "times", "moment"} and not clause.has("plant")
    if draft.slots is None or not plain or "uncover" not in acts or not acts <= {"air", "uncover"}:
        return False
    timed = any(draft.slots.values.get(name) for name in ("duration", "times"))
    if draft.act == "air" and not timed:
        draft.act = draft.slots.act = "uncover"
    return draft.act == "uncover"


def _told(clause: Clause) -> list[str]:
    names = []
    if clause.kinds() & {"temp", "degrees"}:
        names.append("temp_c")
    if clause.has("humidity"):
        names.append("humidity")
    told_of = clause.kinds() & {"parts", "colon", "amount", "ppm", "percent"}
    if clause.act == "mix" and (told_of or clause.has("solution", "hormone", "hormone_name")):
        names.append("solution")
    return names


def subject_only(clause: Clause) -> bool:
    """Whether a clause names only lots, trays, plants, days and persons."""
    kinds = {piece.kind for piece in clause.pieces if "filler" not in piece.roles}
    return bool(kinds) and all(
        piece.kind in ("lots", "trays", "mark", "moment", "person")
        or "filler" in piece.roles
        or "plant" in piece.roles
        or "remarks" in piece.roles
        or piece.kind == "quote"
        for piece in clause.pieces
    )
