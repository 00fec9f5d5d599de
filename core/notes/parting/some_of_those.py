"""Which bare numbers are some of the lots or trays named before, or others like them, by what is told of them.

Rules
1. `trays 2-5 watered, wilt in 4`, `dome off 3 for 10 min`, `shut on 4`: where something is.
2. `lots 12-14 misted, 13 lost 2`, `2 and 3 wilting`: some of several named, and what happened to them.
3. `pinched lots 4 and 5, 6 too small`, `9 needs more time`: another, of which no more than words are told.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.parting.as_before import is_bare, is_care, kind_before, list_end, name_as, names_it, parts_from
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_STATES_OF_ONE: Final = small_words("beside", "said_of_one") | small_words("wholes", "stays")
_STATES_OF_MANY: Final = small_words("beside", "said_of_many")
_WITH_MORE: Final = small_words("beside", "of_one_with_more")
_LEADS: Final = frozenset({"in", "on", "off"})
_TURNED: Final = frozenset({"cover_noun", "vent_noun"})
_SEEN: Final = frozenset({"check", "lose", "wilt"})


@looks_for(
    "=several", "@vent_noun", "@cover_noun", "~soaked", "~dipped", *(f"!{act}" for act in COUNTLESS),
    beside=("=number",),
)  # fmt: skip
def name_some_of_those(pieces: list[Piece]) -> None:
    """Makes such numbers lots or trays, in place."""
    for at, piece in enumerate(pieces):
        if not at or piece.kind != "number" or not is_bare(piece):
            continue
        alone = _told_alone(pieces, at) or _timed(pieces, at)
        end = at + 1 if alone else _end_where_led(pieces, at) or _end_of_some(pieces, at)
        kind = kind_before(pieces, at) if end else None
        if kind is not None:
            name_as(pieces, at, end, kind)


def _end_where_led(pieces: list[Piece], at: int) -> int:
    """Where the numbers end that tell where something is, and count nothing (`trays 2-5 watered, wilt in 4`,
    `dome off 3 for 10 min`, `shut on 4`); 0 where they may count.
    """
    if at < 2 or not _leads_to(pieces, at):
        return 0
    ends = (list_end(pieces, at), at + 1)
    known = is_bare(pieces[at - 2])
    return next((end for end in ends if end >= len(pieces) or parts_from(pieces[end]) or _tells(pieces, end, known)), 0)


def _tells(pieces: list[Piece], end: int, known: bool) -> bool:
    """`2 in 3 | wilted`: the state of so many in one of those named."""
    word = pieces[end].roles.get("act")
    return known and word is not None and word.counts_before


def _leads_to(pieces: list[Piece], at: int) -> bool:
    told, lead = pieces[at - 2], pieces[at - 1]
    over = told.kind == "break" and any(not piece.roles.keys().isdisjoint(_TURNED) for piece in pieces[:at])
    joined = lead.low.endswith(" in") and "act" in lead.roles
    if lead.low not in _LEADS and not joined:
        return over and "vent_open" in lead.roles
    roles = lead.roles if joined else told.roles
    word = roles.get("act") or roles.get("noun")
    known = any(_several(piece) and names_it(piece, pieces[at]) for piece in pieces[:at])
    if word is not None and word.counts_before and word.act in _SEEN:
        return lead.low != "on" or known
    if lead.low == "in" and known and is_bare(told) and at > 2 and pieces[at - 3].kind == "break":
        return True
    if lead.low == "in":
        leads = pairwise(pieces[: at - 2])
        return is_bare(told) and any(one.low.endswith("in") and after.kind in SUBJECTS for one, after in leads)
    return over or not told.roles.keys().isdisjoint(("cover_noun", "vent_open"))


def _end_of_some(pieces: list[Piece], at: int) -> int:
    """`lots 12-14 misted, 13 lost 2`, `trays 1-3 misted, 2 and 3 wilting`, `lots 4 and 5: 4 fed`: where some of several
    named before end, of which something is told; else 0.
    """
    end = list_end(pieces, at)
    headed = _several(pieces[at - 1])
    if not (pieces[at - 1].kind == "break" or headed) or end >= len(pieces):
        return 0
    word: ActWord | None = pieces[end].roles.get("act")
    if headed and (word is None or not is_care(word)):
        return 0
    listed = end > at + 1 and any(piece.low in ("and", "&") for piece in pieces[at:end])
    counted = end + 1 < len(pieces) and pieces[end + 1].kind == "number"
    if word is None or not (headed or (listed if word.counts_before else counted)):
        return 0
    numbers = [piece for piece in pieces[at:end] if piece.kind == "number"]
    known = (one for one in pieces[:at] if _several(one))
    return end if any(all(names_it(one, number) for number in numbers) for one in known) else 0


def _told_alone(pieces: list[Piece], at: int) -> bool:
    """`misted lots 4 and 5, 6 was wet`, `… 6 too small`: another one, where nothing was counted, and what it is."""
    if at + 1 >= len(pieces) or not at or (pieces[at - 1].kind != "break" and pieces[at - 1].low != "but"):
        return False
    start = next((place for place in range(at - 1, -1, -1) if pieces[place].low in SENTENCE_ENDS), 0)
    before, after = pieces[start:at], pieces[at + 1].low.split(" ")[0]
    if not any(map(is_act, before)) or any(piece.kind in COUNTS for piece in before):
        return False
    if after in _STATES_OF_ONE:
        return after not in _STATES_OF_MANY or any(map(_several, before))
    more = after in _WITH_MORE and at + 2 < len(pieces) and pieces[at + 2].kind != "break"
    last: ActWord | None = next((piece.roles["act"] for piece in reversed(before) if "act" in piece.roles), None)
    cared = last is not None and is_care(last)
    return more and (cared or any(map(_several, before))) and not _counts_state(pieces, at + 1)


def _timed(pieces: list[Piece], at: int) -> bool:
    """`aired tray 4 20 min, 5 for 30 min`: a number before its own time, after another with its time."""
    if pieces[at - 1].kind != "break" and pieces[at - 1].low not in ("and", "&"):
        return False
    time = at + 1 + (at + 1 < len(pieces) and pieces[at + 1].low == "for")
    if time >= len(pieces) or pieces[time].kind != "duration":
        return False
    start = next((place + 1 for place in range(at - 2, -1, -1) if pieces[place].kind == "break"), 0)
    before = pieces[start : at - 1]
    meant = any(lead.low == "for" and after.kind == "number" for lead, after in pairwise(before))
    return meant or any(piece.kind == "duration" for piece in before)


def _counts_state(pieces: list[Piece], at: int) -> bool:
    """Whether a state that is counted follows in the statement (`6 still | alive`)."""
    words: list[ActWord | None] = []
    for piece in pieces[at:]:
        if piece.kind == "break":
            break
        words.append(piece.roles.get("act") or piece.roles.get("noun"))
    return any(word is not None and word.counts_before for word in words)


def _several(piece: Piece) -> bool:
    return piece.kind in SUBJECTS and len(piece.value) > 1
