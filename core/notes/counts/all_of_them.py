"""What is said of all: `misted all 3`, `vents shut on all three`, after so many were told of; `tray 4 all up`; and
what is not, as `after all`.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.numbers import Number
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_AFTER_ALL: Final = small_words("parts", "after_all")
_SAYINGS: Final = small_words("parts", "sayings_of_all")
_FROM_WHERE: Final = frozenset({"in", "from"})
_LONGEST_SAYING: Final = 3
_WHOLE: Final = {
    "all up": ActWord(act="check", says={"state": "germinated"}, counts_before=True),
    "sold out": ActWord(act="sell"),
}
_MOST_SUBJECTS: Final = 12


@looks_for("@all", beside=("=number",))
def join_all_of_them(pieces: list[Piece]) -> None:
    """Makes `all 3` one piece that says so, in place: never the lot of that number."""
    for place, piece in enumerate(pieces[:-1]):
        number = pieces[place + 1]
        if "all" not in piece.roles or number.kind != "number" or not _counts_subjects(number):
            continue
        after = pieces[place + 2] if place + 2 < len(pieces) else None
        ends = after is None or after.kind in ("break", "moment", "duration") or after.low in _AFTER_ALL
        if (ends and _cares_at(pieces, place)) or _deed_follows(pieces, place):
            low = f"{piece.low} {number.low}"
            roles = {"both": number.value.whole}
            pieces[place : place + 2] = [Piece("phrase", None, piece.first, number.last, low, roles)]
            return


def _counts_subjects(piece: Piece) -> bool:
    number: Number = piece.value
    plain = number.high is None and number.of is None and not number.approx
    return number.whole is not None and 1 < number.whole <= _MOST_SUBJECTS and plain


def _deed_follows(pieces: list[Piece], place: int) -> bool:
    """`lot 5 soaked, lot 6 nicked, | all 2 | into the fridge`: before a deed that counts nothing."""
    opens = place > 0 and pieces[place - 1].kind == "break"
    word = pieces[place + 2].roles.get("act") if opens and place + 2 < len(pieces) else None
    return word is not None and (word.act in COUNTLESS or word.act == "move")


def _cares_at(pieces: list[Piece], place: int) -> bool:
    """Whether the deed told last before a place counts nothing."""
    for piece in reversed(pieces[:place]):
        word = piece.roles.get("act")
        if word is not None or not piece.roles.keys().isdisjoint(("vent_noun", "cover_noun")):
            return word is None or word.act in COUNTLESS
        if piece.kind == "break":
            return False
    return False


@looks_for("@all", "of all", "in all", "all in", beside=("after", "in", "of", "first", "above", "same"))
def leave_sayings_of_all(pieces: list[Piece]) -> None:
    """Makes `after all`, `first of all` one piece that says nothing of how many, in place."""
    for place in range(len(pieces) - 1):
        for end in range(min(place + _LONGEST_SAYING, len(pieces)), place + 1, -1):
            said = " ".join(piece.low for piece in pieces[place:end])
            in_all = said == "in all" and end < len(pieces) and pieces[end].low in _FROM_WHERE
            if not in_all and (said not in _SAYINGS or (said == "after all" and not _ends_at(pieces, end))):
                continue
            first, last = pieces[place].first, pieces[end - 1].last
            pieces[place:end] = [Piece("phrase", None, first, last, said, {"filler": True})]
            return


def _ends_at(pieces: list[Piece], place: int) -> bool:
    return place >= len(pieces) or pieces[place].kind in ("break", "mark")


@looks_for("all up", "sold out")
def tell_wholes(pieces: list[Piece]) -> None:
    """`tray 4 all up`, `lot 5 is sold out`: said of a lot and nothing else it tells of all of it, in place."""
    for start, end in reversed(statements(pieces)):
        said = pieces[start:end]
        at = next((at for at, piece in enumerate(said) if piece.low in _WHOLE), None)
        if at is None or not _of_subjects_only(said[:at] + said[at + 1 :]):
            continue
        whole = said[at]
        deed = Piece("phrase", None, whole.first, whole.last - 1, whole.low, {"act": _WHOLE[whole.low]})
        all_of_it = Piece("phrase", None, whole.last - 1, whole.last, "all", {"all": True})
        pieces[start + at : start + at + 1] = [all_of_it, deed] if whole.low == "all up" else [deed, all_of_it]


def _of_subjects_only(told: list[Piece]) -> bool:
    named = any(piece.kind in SUBJECTS for piece in told)
    return named and all(piece.kind in (*SUBJECTS, "moment", "mark") or "filler" in piece.roles for piece in told)
