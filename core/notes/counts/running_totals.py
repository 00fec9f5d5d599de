"""How many it comes to in all, told after what was done now: `7 dead in lot 20, 15 dead in total`.

Such a sum is no second deed: it is kept. A vessel that is told of all at the end holds for each (`…, all in 4s`).
"""

from __future__ import annotations

from typing import Final

from core.notes.counts.counted_ways import KEEP_WAYS
from core.notes.counts.deeds_between_losses import say_deed_after_loss
from core.notes.counts.sums import ADD_UP
from core.notes.words.pieces import NO_ROLES, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_sentence, end_of_statement, pass_over
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_SUMS: Final = small_words("counted_wholes", "sums")
_LEAVING: Final = frozenset({"sell", "give", "plant_out", "pot"})
_OPENERS: Final = frozenset({"and", "&", "so", "now", "for", "(", "makes", "thats", "that's"})


@looks_for(*_SUMS, beside=("=counts",))
def keep_running_totals(pieces: list[Piece]) -> None:
    """Keeps a number that sums up a deed of before, in place."""
    for at in range(len(pieces) - 2, 0, -1):
        opens = pieces[at - 1].kind == "break" or pieces[at - 1].low in _OPENERS or is_act(pieces[at - 1])
        word = _summed(pieces[at : at + 3]) if opens else None
        if word is not None and word.act != "check" and _counted_before(pieces, at, word):
            since = pieces[at + 2].low == "since" and at + 3 < len(pieces) and pieces[at + 3].kind == "moment"
            run = pieces[at : at + 3 + since]
            low = " ".join(piece.low for piece in run)
            pieces[at : at + len(run)] = [Piece("kept", None, run[0].first, run[-1].last, low, NO_ROLES)]


def _summed(told: list[Piece]) -> ActWord | None:
    """The deed of `15 dead in total`, `15 total dead`, `lost 15 in all`."""
    deeds: list[ActWord] = [piece.roles["act"] for piece in told if "act" in piece.roles]
    numbers = sum(piece.kind == "number" for piece in told)
    sums = sum(piece.low in _SUMS for piece in told[1:])
    return deeds[0] if len(told) == 3 and len(deeds) == numbers == sums == 1 else None


def _counted_before(pieces: list[Piece], at: int, word: ActWord) -> bool:
    """Whether the same deed was counted before in the sentence, of what is told of at a place too."""
    start = begin_of_sentence(pieces, at)
    before = pieces[start:at]
    acts = {piece.roles["act"].act for piece in before if "act" in piece.roles}
    told = word.act in acts or (pieces[at + 1].low == "gone" and not acts.isdisjoint(_LEAVING))
    end = end_of_statement(pieces, at)
    own = any(piece.kind in SUBJECTS for piece in pieces[at:end])
    counted = any(piece.kind in ("number", "fraction") for piece in before)
    return told and counted and not (own and any(piece.kind in SUBJECTS for piece in before))


@looks_for("combined", beside=("=several",))
def count_together(pieces: list[Piece]) -> None:
    """`lots 4 & 5 combined: 30 rooted`: so many in all, and no merging, in place."""
    for at in range(1, len(pieces) - 2):
        count = at + 1 + (pieces[at + 1].low in (":", "-"))
        named = pieces[at - 1].kind in SUBJECTS and len(pieces[at - 1].value) > 1
        if pieces[at].low == "combined" and named and pieces[count].kind in ("number", "fraction"):
            pass_over(pieces[at])


@looks_for("all", beside=("@pot_size", "@container", "=size", "=amount"))
def deal_vessels(pieces: list[Piece]) -> None:
    """`potted 12 lot 40, 14 lot 41, all in 4s`: the vessel again with each count; "all" is then no count, in place."""
    for at in range(len(pieces) - 3, 2, -1):
        every, lead, vessel = pieces[at : at + 3]
        closes = at + 3 == len(pieces) or pieces[at + 3].low in SENTENCE_ENDS
        if every.low != "all" or lead.low not in ("in", "into") or not _holds(vessel) or not closes:
            continue
        ends = _ends_of_counted(pieces, at)
        if ends:
            every.roles, every.used = {"filler": True}, True
        for end in reversed(ends[:-1]) if not any(map(_holds, pieces[:at])) else ():
            again = [Piece(one.kind, one.value, one.first, one.last, one.low, one.roles) for one in (lead, vessel)]
            pieces[end:end] = again
        return


def _holds(piece: Piece) -> bool:
    return piece.kind in ("size", "amount") or not piece.roles.keys().isdisjoint(("pot_size", "container"))


def _ends_of_counted(pieces: list[Piece], at: int) -> list[int]:
    """Where the members end that have a count and a lot or tray of their own, after the deed before a place."""
    ends: list[int] = []
    start = next((place + 1 for place in range(at - 1, -1, -1) if is_act(pieces[place])), 0)
    counted = False
    for place in range(start, at):
        if pieces[place].kind == "number" and pieces[place].value.whole is not None:
            counted = True
        elif pieces[place].kind in SUBJECTS and counted:
            ends.append(place + 1)
            counted = False
    return ends


SUM_UP: Final = (say_deed_after_loss, *KEEP_WAYS, *ADD_UP, keep_running_totals, count_together, deal_vessels)
"""Tell the sums and what is told of all at the end from what is counted, in place."""
