"""What is said around the matter: greetings, thanks, remarks and picture signs, set apart before anything is read.

Rules
1. An opening stands at the head of the note, a closing or a remark at the end of a statement; anywhere else the same
   words may belong to it (`thanks to ana`, `as planned on tue`).
2. An aside parts what stands around it as a comma does. Politeness is dropped; a remark is kept for the rest.
3. A note that is nothing but asides, or names and a remark, is left whole.
"""

from __future__ import annotations

import unicodedata
from typing import Final

from core.notes.counts.compared import OTHERS
from core.notes.details.drafts import Draft, as_typed
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import comma_before
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_ENDING: Final = frozenset({"is", "are", "was", "were", "did", "does", "has", "have"})
_REPORTS: Final = small_words("asking", "reports")
_JOINTS: Final = small_words("side_talk", "dropped_joints")
_STILL: Final = frozenset({"still", "now", "all", "also", "too"})
_PICTURES: Final = ("So", "Sk", "Cf", "Mn")
"""The Unicode categories of picture signs and of what joins and colours them."""


@looks_for("@greeting", "@opens", "@closes", "@remarks", "=mark", "hi", "hey")
def part_asides(pieces: list[Piece]) -> tuple[list[Piece], list[Piece]]:
    """The pieces of a note without its asides (a comma where one stood), and the remarks among those."""
    opened = _openings(pieces)
    found = [*opened, *_picture_signs(pieces)]
    found.extend(_endings(pieces, set(found)))
    dropped = {place for place in opened if "opens" in pieces[place].roles}
    gone = set(found)
    told = [piece for place, piece in enumerate(pieces) if place not in gone and piece.kind not in ("break", "mark")]
    if not gone or not told or (_only_names(told) and any("remarks" in pieces[place].roles for place in gone)):
        return pieces, []
    left: list[Piece] = []
    for place, piece in enumerate(pieces):
        if place not in gone:
            left.append(piece)
        elif left and left[-1].kind != "break":
            left.append(comma_before(piece))
    while left[0].kind == "break" and left[0].low != "+":
        left.pop(0)
    while left[-1].kind == "break" and left[-1].low not in ("?", ")"):
        left.pop()
    return left, [_remark(pieces, place) for place in sorted(gone - dropped) if "remarks" in pieces[place].roles]


def _remark(pieces: list[Piece], place: int) -> Piece:
    """A remark with the small words that open its sentence."""
    first = pieces[_opening_of(pieces, place)].first
    return Piece("phrase", None, first, pieces[place].last, pieces[place].low, {"remarks": True})


def _only_names(told: list[Piece]) -> bool:
    """`lot 14 - all good`: where nothing else is said, the remark is the matter."""
    return all(piece.kind in ("lots", "trays", "moment", "quote") or "plant" in piece.roles for piece in told)


def keep_remarks(text: str, tokens: list[Token], drafts: list[Draft], remarks: list[Piece]) -> None:
    """Puts each remark into the rest of the entry that it stands after (or, where none is before it, of the first), or
    into the text of the note that it goes on with, in place.
    """
    if not remarks:
        return
    told = [draft for draft in drafts if draft.act != "note"]
    # What stands before all is put before the rest, so the last of it first.
    before_all = [remark for remark in remarks if drafts and remark.first < drafts[0].start]
    for remark in [*reversed(before_all), *(remark for remark in remarks if remark not in before_all)]:
        before = [draft for draft in drafts if draft.start <= remark.first]
        typed = as_typed(text, tokens, remark.first, remark.last)
        if before and before[-1].act == "note":
            _go_on(before[-1], text, tokens, remark)
            continue
        before = [draft for draft in before if draft.act != "note"] or told[:1]
        if not before:
            continue
        leads = before[-1].start > remark.first
        if before[-1].slots is not None:
            (before[-1].heads if leads else before[-1].clauses).append(Clause("", [remark]))
        else:
            kept = before[-1].extra.get("rest")
            said = (typed, kept) if leads else (kept, typed)
            before[-1].extra["rest"] = _together(text, *said) if kept else typed


def _together(text: str, first: str, second: str) -> str:
    """Two remarks, with the joint that stands between them."""
    for joint in _JOINTS:
        whole = f"{first} {joint} {second}"
        if whole in text:
            return whole
    return f"{first} {second}"


def _go_on(note: Draft, text: str, tokens: list[Token], remark: Piece) -> None:
    """`tray 5 isn't misted yet, the tank ran dry`: a remark right after a note is more of it."""
    told = text[tokens[note.start].start : tokens[remark.last - 1].end].strip()
    if told.startswith(note.extra.get("text", "")):
        note.extra["text"] = told


def _asks_how(pieces: list[Piece], place: int) -> bool:
    """`status tray 6`: how it is."""
    return pieces[place].low in _REPORTS and [one.kind in SUBJECTS for one in pieces[place + 1 :]] == [True]


def _openings(pieces: list[Piece]) -> list[int]:
    """The places of what opens the note: greetings with who is greeted, "ok so", "quick update:"."""
    found: list[int] = []
    place = 0
    while place < len(pieces):
        piece = pieces[place]
        greets = "greeting" in piece.roles or (piece.low in ("hi", "hey") and bool(piece.roles))
        of_something = place + 1 < len(pieces) and pieces[place + 1].low == "of"
        if greets or ("opens" in piece.roles and not of_something and not _asks_how(pieces, place)):
            found.append(place)
            if greets and place + 1 < len(pieces) and "company" in pieces[place + 1].roles:
                place += 1
                found.append(place)
        elif piece.kind != "break" or not found:
            break
        place += 1
    return found if place < len(pieces) else []


def _picture_signs(pieces: list[Piece]) -> list[int]:
    return [
        place
        for place, piece in enumerate(pieces)
        if piece.kind == "mark"
        and piece.low != "°"
        and (unicodedata.category(piece.low[0]) in _PICTURES or _smiles(piece))
    ]


def _smiles(piece: Piece) -> bool:
    return len(piece.low) > 1 and piece.low[0] in ":;"


def _endings(pieces: list[Piece], gone: set[int]) -> list[int]:
    """The places of what closes a statement; several may follow each other."""
    found: list[int] = []
    ends = True
    for place in range(len(pieces) - 1, -1, -1):
        piece = pieces[place]
        if place in gone or piece.kind == "break":
            ends = True
        elif ends and place and ("closes" in piece.roles or "remarks" in piece.roles) and not _of_one(pieces, place):
            found.extend(range(_opening_of(pieces, place), place + 1))
        elif piece.kind != "mark":
            ends = False
    return found


def _of_one(pieces: list[Piece], place: int) -> bool:
    """`lost 6 in tray 3, tray 2 looks good`, `17 lost, 3 ok`: after a lot or a count of its own it is said of that."""
    if pieces[place - 1].kind == "number" and pieces[place].low in OTHERS:
        return any(is_act(piece) or "noun" in piece.roles for piece in pieces[:place])
    if pieces[place].low.startswith(("as ", "per ")):
        # `lot 9 not rooted, lot 10 is as planned`: how it went is said of the whole.
        return False
    start = place
    while start and pieces[start - 1].kind in ("lots", "trays", "phrase") and not is_act(pieces[start - 1]):
        start -= 1
    if any("act" in piece.roles and piece.roles["act"].act == "split" for piece in pieces[:start]):
        # "split 8 off lot 21, thats lot 97 now as planned": the lot is the new one, nothing is said of it.
        return False
    opens = not start or pieces[start - 1].kind == "break" or pieces[start - 1].low in ("and", "but")
    subjects = [piece for piece in pieces[start:place] if piece.kind in ("lots", "trays")]
    alone = all(piece.kind != "phrase" or piece.low in _ENDING | _STILL for piece in pieces[start:place])
    return "remarks" in pieces[place].roles and opens and alone and bool(subjects) and any(map(is_act, pieces[:start]))


def _opening_of(pieces: list[Piece], place: int) -> int:
    """Where the sentence of a remark begins: `i am so happy`."""
    start = place
    while start and pieces[start - 1].kind == "phrase" and pieces[start - 1].roles.keys() <= {"filler"}:
        start -= 1
    return start if start and pieces[start - 1].kind == "break" and "remarks" in pieces[place].roles else place
