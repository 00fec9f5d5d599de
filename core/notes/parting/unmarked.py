"""Where a comma was left out: `potted 10 of lot 3 12 of lot 4`, `vents: tray 3 half tray 4 shut`.

Rules
1. A count after a lot or tray, or after its detail, with a lot or tray of its own after it, begins a statement.
2. A lot or tray begins one where the one before it has its count, time or place, and it has its own; so does one
   before a colon.
3. A deed begins one where what stands before it and what stands after it are both counted or named.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.entries import KNOWN_STATES
from core.notes.counts.compared import OTHERS
from core.notes.names.place_leads import PLACE_LEADS
from core.notes.parting.counts_in_turn import part_counts_in_turn
from core.notes.parting.denied_details import part_denied_details
from core.notes.parting.told_again import (
    LINKS,
    counted_after_another,
    counts_again,
    counts_deed,
    counts_part_again,
    done_to_both,
    end_before_deed,
    follows_count,
    same_deed_again,
)  # fmt: skip
from core.notes.words.pieces import COUNTS, NO_ROLES, SENTENCE_ENDS, SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import begin_of_statement, comma_before, end_of_sentence, end_of_statement
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_COUNTS: Final = frozenset({"number", "fraction", "percent", "amount"})
_VESSELS: Final = frozenset({"container", "pot_size"})
_NAMED: Final = SUBJECTS | {"size", "fraction"}
_NAMING: Final = _VESSELS | {"plant", "both"}
_WAITING: Final = frozenset({"when", "after", "at"})
_PLANS: Final = small_words("unmarked", "plans")
_TIMES: Final = frozenset({"duration", "size"})
_COUNTING: Final = frozenset({"all", "none", "vague", "fraction", "couple", "more", "vent_open"})
_LEAVING: Final = frozenset({"pot", "sell", "give", "plant_out", "lose"})
_FEWEST_DEGREES: Final = 15
_AFTER_LOSSES: Final = SUBJECTS | {"break", "moment"}
_SEVERAL: Final = 2
_MOVING: Final = frozenset({"move", "harden"})
_BEGINNING: Final = _COUNTS | SUBJECTS
_BEGINNING_WORDS: Final = _COUNTING | {"both", "act", "shared"}
"""A statement begins with one of these."""


@looks_for("=names", "@none", "@both", ":", "=fraction", beside=("=lots", "=trays", "@plant", "=fraction"))
def _part_run_on(pieces: list[Piece]) -> None:
    """Puts a comma where a statement begins without one, in place."""
    start = place = 0
    while place < len(pieces):
        if place == start and (end := _end_of_plain(pieces, start)):
            start = place = end
            continue
        piece = pieces[place]
        if piece.kind == "break":
            start = place + 1
        elif place > start and _may_begin(piece) and _begins(pieces, start, place):
            denied = place > start + 1 and "none" in pieces[place - 1].roles and is_act(pieces[place])
            place -= denied
            first = pieces[place].first
            if [one.kind for one in pieces[place + 1 : place + 3]] == ["break", "fraction"]:
                del pieces[place + 1]  # "lot 9: 8/10 rooted | lot 10: 9/10"
            pieces.insert(place, Piece("break", ",", first, first, ","))
            start = place + 1
            place += 1 + denied
        place += 1


@looks_for("@none", beside=tuple(f"!{state}" for state in KNOWN_STATES))
def _part_denied_state(pieces: list[Piece]) -> None:
    """`lot 22 alive but no roots`, `22 green no roots tray 12`: another state that is denied, in place; a lot after
    both is of both.
    """
    for at in range(len(pieces) - 2, 0, -1):
        noun = pieces[at + 1].roles.get("noun")
        if "none" not in pieces[at].roles or noun is None or noun.act != "check" or "state" not in noun.says:
            continue
        start = begin_of_statement(pieces, at)
        acts = [piece.roles["act"] for piece in pieces[start:at] if "act" in piece.roles]
        others = any("vague" in piece.roles for piece in pieces[start:at])
        if others or not any(word.act == "check" and word.says.get("state") != noun.says["state"] for word in acts):
            continue
        of_both = at + 2 < len(pieces) and pieces[at + 2].kind in SUBJECTS and end_of_sentence(pieces, at) == at + 3
        if of_both and not any(piece.kind in SUBJECTS for piece in pieces[start:at]):
            pieces.insert(at + 2, comma_before(pieces[at + 2]))
        if pieces[at - 1].low in ("but", "and", "&", "with"):
            pieces[at - 1].kind, pieces[at - 1].roles, pieces[at - 1].low = "break", NO_ROLES, ","
        else:
            pieces.insert(at, comma_before(pieces[at]))


@looks_for("=counts", beside=("=deeds",))
def _part_counted_deeds(pieces: list[Piece]) -> None:
    """`lot 12 17 potted 5 given to bao`: each deed has the count before it, in place."""
    for at in range(len(pieces) - 2, 1, -1):
        if pieces[at].kind != "number" or pieces[at - 2].kind != "number":
            continue
        deed, number, other = pieces[at - 1 : at + 2]
        if _leaves(deed) and _leaves(other):
            pieces.insert(at, comma_before(number))


@looks_for("left", beside=("to",))
def _part_rest(pieces: list[Piece]) -> None:
    """`given to bao 12 left`: what is left, after who got some, in place."""
    for at in range(len(pieces) - 2, 1, -1):
        to, who, number, left = pieces[at - 2 : at + 2]
        ends = at + 2 == len(pieces) or pieces[at + 2].kind == "break"
        if to.low == "to" and who.kind == "word" and number.kind == "number" and left.low == "left" and ends:
            pieces.insert(at, comma_before(number))


@looks_for("=counts", beside=("!lose",))
def _part_counted_losses(pieces: list[Piece]) -> None:
    """`12/24 rooted 2 lost`: how many have come so far, and then the count of those that were lost, in place."""
    for at in range(len(pieces) - 2, 1, -1):
        counted, state, number, lost = pieces[at - 2 : at + 2]
        told = state.roles.get("act") or state.roles.get("noun")
        word = lost.roles.get("act")
        stated = told is not None and "state" in told.says and counted.kind in COUNTS
        if not stated or word is None or word.act != "lose" or word.counts_before or number.kind != "number":
            continue
        after = pieces[at + 2] if at + 2 < len(pieces) else None
        if after is None or after.kind in _AFTER_LOSSES or after.low in ("to", "from", "in"):
            pieces.insert(at, comma_before(number))


@looks_for("@plan", beside=("!wilt", *(f"!{state}" for state in KNOWN_STATES)))
def _part_plan(pieces: list[Piece]) -> None:
    """`lot 5 12 rooted will pot sat`: what was counted, and then what is to be done, in place."""
    unsure = ("condition", "hearsay", "plan", "negation")
    for at in range(len(pieces) - 2, 1, -1):
        if any(piece.low in _WAITING or not piece.roles.keys().isdisjoint(unsure) for piece in pieces[:at]):
            continue
        counted, state, plan, deed = pieces[at - 2 : at + 2]
        word = state.roles.get("act")
        told = counted.kind in COUNTS and word is not None and (word.act == "wilt" or "state" in word.says)
        if told and plan.low in _PLANS and "to_do" in deed.roles and deed.low not in ("count", "check"):
            pieces.insert(at, comma_before(plan))


@looks_for("bottom heat", beside=("!stick", "!sow", "!pot", "!divide"))
def _part_bottom_heat(pieces: list[Piece]) -> None:
    """`stuck 40 toyon tips bottom heat 70 f tray 4`: what stood in the tray before, and how warm it is, in place."""
    at = next((place for place, piece in enumerate(pieces) if piece.low == "bottom heat"), 0)
    before = pieces[at - 1] if at else None
    if before is None or before.kind == "break" or not {"filler", "none", "negation"}.isdisjoint(before.roles):
        return
    if not any(is_act(piece) for piece in pieces[begin_of_statement(pieces, at) : at]):
        return
    end = at + 1 + (at + 1 < len(pieces) and pieces[at + 1].kind in ("unitless", "temp"))
    stop = end_of_statement(pieces, at)
    if any(map(is_act, pieces[at:stop])):
        return
    first = pieces[at].first
    pieces[at:stop] = [*pieces[end:stop], Piece("break", ",", first, first, ","), *pieces[at:end]]


@looks_for("bottom heat", beside=("=number",))
def _keep_degrees(pieces: list[Piece]) -> None:
    """`bottom heat 72`: degrees of no told kind, and no lot and no count, in place."""
    for heat, degrees in pairwise(pieces):
        if heat.low == "bottom heat" and degrees.kind == "number" and degrees.value.value >= _FEWEST_DEGREES:
            degrees.kind = "unitless"


def _leaves(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.act in _LEAVING and not word.counts_before


@looks_for("=subjects")
def _part_one_of_those(pieces: list[Piece]) -> None:
    """`trays 1-3: 12 rooted in 2`, `trays 5-8: vents half on 6`: after several that head it, what is told of one of
    them, in place.
    """
    for at in range(len(pieces) - 2, -1, -1):
        if pieces[at].kind not in SUBJECTS or len(pieces[at].value) < _SEVERAL:
            continue
        _count_below(pieces, at)
        opens = at == 0 or pieces[at - 1].kind in ("moment", "person") or pieces[at - 1].low in SENTENCE_ENDS
        if not opens or pieces[at].kind not in SUBJECTS:
            continue
        own = pieces[at + 1]
        if own.kind == pieces[at].kind and set(own.value) < set(pieces[at].value):
            pieces.insert(at + 1, Piece("break", ",", pieces[at].last, pieces[at].last, ","))
        turned = not own.roles.keys().isdisjoint(("vent_noun", "cover_noun"))
        if not (_counts(own) or turned):
            continue
        for place in range(at + 2, end_of_statement(pieces, at)):
            one = pieces[place]
            led = pieces[place - 1].low.split(" ")[-1] in ("in", "on", "off") and one.kind == pieces[at].kind
            if led and set(one.value) < set(pieces[at].value):
                pieces.insert(at + 1, Piece("break", ",", pieces[at].last, pieces[at].last, ","))
                break


def _count_below(pieces: list[Piece], at: int) -> None:
    """`hattie counted trays 4 and 5: 17/36 rooted in tray 4`: a deed on several that heads the counts below it, in
    place.
    """
    deed = pieces[at - 1].roles.get("act") if at else None
    heads = at == 1 or (at > 1 and (pieces[at - 2].kind in ("moment", "person") or pieces[at - 2].low in SENTENCE_ENDS))
    if deed is None or deed.act != "check" or "state" in deed.says or not heads:
        return
    if [one.low for one in pieces[at + 1 : at + 2]] == [":"] and any(map(_counts, pieces[at + 2 : at + 3])):
        one_named = (one for one in pieces[at + 3 : end_of_statement(pieces, at + 2)] if one.kind == pieces[at].kind)
        if any(set(one.value) < set(pieces[at].value) for one in one_named):
            del pieces[at - 1 : at + 2]


def _end_of_plain(pieces: list[Piece], start: int) -> int:
    """Where the statement ends that begins at a place; 0 where it names two lots, plants or pots, or tells of both, of
    parts out of a whole, or of a lot after a counted deed or before a colon, so that another may begin in it.
    """
    named = False
    for at, piece in enumerate(pieces[start:], start):
        kind = piece.kind
        if kind == "break":
            return at + 1
        if kind in _NAMED or not _NAMING.isdisjoint(piece.roles):
            if named or kind == "fraction" or "both" in piece.roles:
                return 0
            if kind in SUBJECTS and _told_or_heads(pieces, at):
                return 0
            named = True
    return len(pieces)


def _may_begin(piece: Piece) -> bool:
    """Whether a statement may begin with a piece: a count, a lot or tray, a deed, `both`."""
    return piece.kind in _BEGINNING or not _BEGINNING_WORDS.isdisjoint(piece.roles)


def _told_or_heads(pieces: list[Piece], at: int) -> bool:
    """`4 rotted | tray 4`, `tray 4 | :`."""
    return follows_count(pieces, at) or (at + 1 < len(pieces) and pieces[at + 1].low == ":")


def _begins(pieces: list[Piece], start: int, place: int) -> bool:
    piece = pieces[place]
    if _counts(piece):
        return counts_part_again(pieces, start, place) or _counts_another(pieces, start, place)
    if "both" in piece.roles or is_act(piece):
        return _deed_apart(pieces, start, place)
    if piece.kind not in SUBJECTS or pieces[place - 1].low in LINKS:
        return False
    if place > start + 1 and pieces[place - 2].low in ("and", "&", "then") and is_act(pieces[place - 1]):
        return False  # "cold strat l14 8 weeks and soaked | lot 61"
    if _deed_follows_another(pieces, start, place):
        return True
    if place > start + 1 and pieces[place - 2].kind == piece.kind and pieces[place - 1].low in OTHERS:
        return True
    if place + 1 < len(pieces) and pieces[place + 1].low == ":":
        counted = pieces[place - 1].roles.get("act")
        by_one = counted is not None and counted.act == "check" and pieces[place - 2].kind == "person"
        by_one = by_one and len(piece.value) == 1
        return not by_one and any(is_act(one) or one.kind == "fraction" for one in pieces[start:place])
    if counted_after_another(pieces, start, place):
        return True
    if _planted(pieces, place) and any(_planted(pieces, step) for step in range(start, place)):
        return True
    if counts_again(pieces, place):
        return True
    if is_act(pieces[place - 1]) and any(map(is_act, pieces[start : place - 1])):
        return False  # "potted 36 of lot 15 and moved | lot 15 to the lath"
    named = [step for step in range(start, place) if pieces[step].kind == piece.kind]
    if named and counts_deed(pieces, named[-1] + 1) and counts_deed(pieces, place + 1):
        return True
    if not named or not _told(pieces, named[-1] + 1, place, pieces[start:place]):
        return False
    before = [pieces[step - 1].kind for step in (named[-1], place) if step > start]
    if before == ["number", "number"] and pieces[place - 2].low in ("and", "&"):
        return False  # "potted 20 lot 1 and 8 | lot 4 into 4in"
    return _told(pieces, place + 1, end_before_deed(pieces, place + 1), pieces[start:place])


def _deed_follows_another(pieces: list[Piece], start: int, place: int) -> bool:
    """`watered lots 40 and 44 tray 6 misted`: a lot or tray and its deed after a deed with its own."""
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    word = after.roles.get("act") if after is not None else None
    if word is None or word.counts_before or word.form != "done":
        return False
    deed = next((step for step in range(start, place) if is_act(pieces[step])), place)
    if is_act(pieces[place - 1]) and deed < place - 1:
        return False  # "misted tray 3 domed | tray 4 vented tray 5"
    return any(one.kind in SUBJECTS for one in pieces[deed + 1 : place])


def _planted(pieces: list[Piece], at: int) -> bool:
    """`tray 1 yarrow tray 2 clarkia`: a lot or tray right before its plant."""
    return pieces[at].kind in SUBJECTS and at + 1 < len(pieces) and "plant" in pieces[at + 1].roles


def _counts_another(pieces: list[Piece], start: int, place: int) -> bool:
    before = pieces[place - 1]
    if _sized(pieces, place) and any(_sized(pieces, step) for step in range(start, place)):
        return True
    ends = before.kind in SUBJECTS | _TIMES | {"amount"} or not before.roles.keys().isdisjoint(("cause", "vent_open"))
    named = any(one.kind in SUBJECTS for one in pieces[start:place])
    return ends and named and _measured(pieces, start, place - 1) and _subject_follows(pieces, place + 1)


def _sized(pieces: list[Piece], at: int) -> bool:
    """`20 in 4s`: so many, and what they went into."""
    told = pieces[at : at + 3]
    led = len(told) == 3 and told[0].kind == "number" and told[1].low in ("in", "into")
    return led and (told[2].kind == "size" or not told[2].roles.keys().isdisjoint(_VESSELS))


def _deed_apart(pieces: list[Piece], start: int, place: int) -> bool:
    """`…, 4 from lot 41 gave 2 from lot 42`, `lot 4 30 min both misted`: the deed is of what follows, or of both."""
    said = pieces[start:place]
    if "both" in pieces[place].roles and done_to_both(pieces, place):
        return True
    if same_deed_again(pieces, start, place):
        return True
    if any(is_act(one) for one in said) and "both" not in pieces[place].roles:
        return False
    if any(map(_names_state, said)) and any(one.kind == "fraction" for one in said) and is_act(pieces[place]):
        return True
    measured = any(_counts(one) or one.low in PLACE_LEADS["move"] for one in said)
    if not measured or not any(map(names_plants, said)):
        return False
    if "both" in pieces[place].roles:
        return place + 1 < len(pieces) and is_act(pieces[place + 1])
    word = pieces[place].roles.get("act")
    if start == 0 or word is None or word.counts_before:
        return False
    told = pieces[place + 1 : end_before_deed(pieces, place + 1)]
    return any("both" in one.roles for one in told) or (any(map(names_plants, told)) and any(map(_counts, told)))


def _names_state(piece: Piece) -> bool:
    """The `germ` of `lot 33 germ 44/50 thinned`."""
    noun = piece.roles.get("noun")
    return noun is not None and noun.act == "check" and "state" in noun.says


def _counts(piece: Piece) -> bool:
    return piece.kind in _COUNTS or not piece.roles.keys().isdisjoint(_COUNTING)


def _measured(pieces: list[Piece], start: int, end: int) -> bool:
    return any(_counts(piece) for piece in pieces[start:end])


def _subject_follows(pieces: list[Piece], at: int) -> bool:
    """A lot or tray before the next mark, with no deed and no other count between."""
    for piece in pieces[at : at + 6]:
        if piece.kind in SUBJECTS:
            return True
        if piece.kind == "break" or is_act(piece) or _counts(piece):
            return False
    return False


def _told(pieces: list[Piece], at: int, end: int, before: list[Piece]) -> bool:
    """Whether what stands after a lot or tray tells how many of it, how long, how far, or where to."""
    moves = any(_moves(piece) for piece in before)
    for piece in pieces[at:end]:
        if piece.kind in SUBJECTS:
            return False
        if piece.kind in _COUNTS | _TIMES or not piece.roles.keys().isdisjoint(_COUNTING):
            return True
        if moves and piece.low in PLACE_LEADS["move"]:
            return True
    return False


def _moves(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and (word.act in _MOVING or word.rule in ("took", "put"))


PART_UNMARKED: Final = (
    part_denied_details, part_counts_in_turn, _keep_degrees, _part_bottom_heat, _part_plan, _part_counted_losses,
    _part_denied_state,
    _part_one_of_those, _part_counted_deeds, _part_rest, _part_run_on,
)  # fmt: skip
"""Put a comma where one was left out, in place."""
