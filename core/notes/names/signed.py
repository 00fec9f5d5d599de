"""Who heads a note: `bram -- potted 18`, `petra yesterday: …`, `mei, wed: …`, a name alone on the first line.

An unknown word before a colon or a dash with something of the bench told after it is a person, unless it is a place, a
plant or a word of plain English.
"""

from __future__ import annotations

from typing import Final

from core.notes.days.moments import Moment
from core.notes.days.who import may_be_who
from core.notes.names.people import NAMELIKE, NO_HEADS
from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.steps import looks_for
from core.notes.words.values import Names
from core.vocabulary.everyday import is_everyday, is_given_name

_MARKS: Final = frozenset({":", "-"})
_DASHES: Final = frozenset({"-", "~"})
_INTRODUCING: Final = frozenset({"this", "is", "this is", "its", "it's"})
_RECEIVED: Final = frozenset({"give", "sell", "reserve"})
_TOLD: Final = frozenset({"fraction", "percent"})


@looks_for("=word", "its", "it's", "this")
def find_signers(pieces: list[Piece], names: Names) -> None:
    """Makes the word that heads a telling a person, in place."""
    people = {name.lower() for name in names.people}
    at = 0
    while at < len(pieces):
        if at == 0 or pieces[at - 1].low == "\n" or (at == 1 and pieces[0].kind == "moment"):
            _sign(pieces, at, people)
            _sign_day(pieces, at, people)
        elif pieces[at - 1].low in SENTENCE_ENDS and any(piece.kind == "person" for piece in pieces[:at]):
            _sign(pieces, at, people, dated=True)
        at += 1
    _introduce(pieces, people)
    _sign_below(pieces, people)


def _introduce(pieces: list[Piece], people: set[str]) -> None:
    """`this is mei, lot 14 31 rooted`, `kit here, misted 1-9`: a known name that introduces itself, in place."""
    first = int(bool(pieces) and pieces[0].kind == "moment")
    greets = first < len(pieces) and ("greeting" in pieces[first].roles or pieces[first].low == "hi")
    start = first + greets
    while start < len(pieces) and pieces[start].low in _INTRODUCING:
        start += 1
    if start >= len(pieces) or not (_is_known(pieces[start], people) or _introduced(pieces, start)):
        return
    end = start + 1
    end += end < len(pieces) and pieces[end].low == "here"
    if end == first + greets + 1 or end + 1 >= len(pieces) or pieces[end].kind != "break":
        return
    person = pieces[start]
    pieces[first : end + 1] = [Piece("person", person.low, person.first, person.last, person.low)]


def _introduced(pieces: list[Piece], at: int) -> bool:
    """`its rosa, misted 1-4`: a name that is a plant too, right after a word of introducing."""
    name = pieces[at].low
    return at > 0 and pieces[at - 1].low in _INTRODUCING and name in NAMELIKE and is_given_name(name)


def _sign_below(pieces: list[Piece], people: set[str]) -> None:
    """`lot 9 12/40 rooted - kit`: a known name after a dash at the end, where nobody is named yet, in place."""
    last = len(pieces) - 1
    while last > 1 and pieces[last].kind == "break":
        last -= 1
    if last < 2 or not _is_known(pieces[last], people) or pieces[last - 1].low not in _DASHES:
        return
    deeds = [piece.roles["act"].act for piece in pieces if "act" in piece.roles]
    if not deeds or _RECEIVED.intersection(deeds) or any(piece.kind == "person" for piece in pieces):
        return
    person = pieces[last]
    del pieces[last - 1 : last + 1]
    pieces.insert(0, Piece("person", person.low, person.first, person.last, person.low))


def _is_known(piece: Piece, people: set[str]) -> bool:
    return piece.low in people or (piece.kind == "word" and is_given_name(piece.low))


def _sign(pieces: list[Piece], at: int, people: set[str], *, dated: bool = False) -> None:
    """One head: the name becomes a person, the mark after it is dropped, the day stays (`petra yesterday: …`); with
    `dated`, only where it names a day and a mark ends it.
    """
    if not _may_head(pieces[at], people):
        return
    told, end = _head_end(pieces, at + 1)
    if end == at + 1 or end >= len(pieces) or not _tells(pieces, end) or (dated and not told):
        return
    if pieces[end - 1].low == "\n" and (at or not _tells_of_lots(pieces, end)):
        return
    person = pieces[at]
    pieces[at:end] = [
        Piece("person", person.low, person.first, person.last, person.low),
        *told,
    ]


def _sign_day(pieces: list[Piece], at: int, people: set[str]) -> None:
    """`5/10 kit misted trays 1-4`, `5/11 mei lot 14 31/72 rooted`: a day, who did it, and what, in place."""
    day = _day(pieces[at])
    if day is None or at + 2 >= len(pieces) or not _may_head(pieces[at + 1], people):
        return
    after = pieces[at + 2]
    word = after.roles.get("act")
    deed = word is not None and not word.counts_before
    counted = after.kind in SUBJECTS and any(piece.kind == "fraction" for piece in pieces[at + 3 :])
    if deed or counted:
        pieces[at] = day
        name = pieces[at + 1]
        pieces[at + 1] = Piece("person", name.low, name.first, name.last, name.low)


def _may_head(piece: Piece, people: set[str]) -> bool:
    unknown = may_be_who(piece) and not piece.low.endswith("'s") and not is_everyday(piece.low)
    return piece.low in people or (unknown and piece.low not in NO_HEADS and len(piece.low) > 1)


def _head_end(pieces: list[Piece], at: int) -> tuple[list[Piece], int]:
    """The day and hour in a head, and where the head ends after its mark; the place itself where it has none."""
    place = at
    bracket = place < len(pieces) and pieces[place].low in (",", "(")
    day = _day(pieces[place + bracket]) if place + bracket < len(pieces) else None
    told = [day] if day is not None else []
    if day is not None:
        place += 1 + bracket
        if place < len(pieces) and pieces[place].kind == "moment":
            told.append(pieces[place])
            place += 1
        place += place < len(pieces) and pieces[place].low == ")"
    elif bracket:
        return [], at
    marks = place
    while marks < len(pieces) and pieces[marks].kind in ("break", "dash") and pieces[marks].low in _MARKS:
        marks += 1
    if marks == place and not told and place < len(pieces) and pieces[place].low == "\n":
        marks += 1
    return (told, marks) if marks > place else ([], at)


def _day(piece: Piece) -> Piece | None:
    """The day that a piece names, a fraction too (`kit 5/10: …`); None for none."""
    if piece.kind == "moment" and piece.value.names_day:
        return piece
    if piece.kind == "fraction" and 1 <= piece.value[0] <= 12 and 1 <= piece.value[1] <= 31:
        return Piece("moment", Moment(month=piece.value[0], day=piece.value[1]), piece.first, piece.last, piece.low)
    return None


def _tells(pieces: list[Piece], at: int) -> bool:
    """Whether the sentence from a place on tells something of the bench."""
    opens = None
    for piece in pieces[at:]:
        if piece.low in SENTENCE_ENDS and opens is not None:
            break
        if piece.kind in ("break", "mark"):
            continue
        opens = opens or piece
        if piece.kind in _TOLD or is_act(piece) or "cover_noun" in piece.roles or "vent_noun" in piece.roles:
            return not _needs_plant(pieces, at, piece)
        if "noun" in piece.roles and piece is not opens:
            return True
    return False


def _needs_plant(pieces: list[Piece], at: int, piece: Piece) -> bool:
    """`ocotillo: stuck 24`, `quailbush: potted 12`: with no plant and no lot after it the word is one."""
    named = any("plant" in one.roles or one.kind == "quote" for one in pieces[at:])
    word = piece.roles.get("act")
    opening = word is not None and word.act in OPENING
    if "cover_noun" in piece.roles or (word is not None and word.act in COUNTLESS):
        return False
    return not named and (opening or not any(one.kind in SUBJECTS for one in pieces[at:]))


def _tells_of_lots(pieces: list[Piece], at: int) -> bool:
    """A name alone on the first line: every line after it begins with a lot or a tray, or with a deed."""
    starts = [piece for place, piece in enumerate(pieces) if place >= at and pieces[place - 1].low == "\n"]
    return bool(starts) and all(
        piece.kind in SUBJECTS or is_act(piece) or piece.roles.keys() & {"cover_noun", "vent_noun"} for piece in starts
    )
