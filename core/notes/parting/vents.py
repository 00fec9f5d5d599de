"""How far are the vents open: an act said by the noun and a little word (`vents half`, `opened the vents a crack`)."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import end_of_statement, keep_words, pass_over
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_SHUTTING: Final = small_words("put_back", "shut") | small_words("put_back", "cracked")
_ARTICLES: Final = small_words("people", "articles")
_TURNS: Final = small_words("vents", "turns")
_WAS: Final = small_words("old_and_new", "was")
_NOW: Final = small_words("old_and_new", "now")
_FOUND: Final = small_words("vents", "found")
_SETTING: Final = small_words("vents", "setting")
_MOVING: Final = small_words("vents", "moving")
_SEALING: Final = small_words("vents", "sealing")
_UNCHANGED: Final = small_words("vents", "unchanged")
_BETWEEN: Final = small_words("covers", "before_noun") | {"both", "with", "on"}
_UP: Final = frozenset({"up", "down", "back", "shut", "open"})
_OPEN: Final = small_words("vents", "open")
_MAKING: Final = small_words("vents", "making")
_MARKS: Final = small_words("vents", "marks")
_OTHERS: Final = small_words("vents", "others")
_ONTO: Final = frozenset({"on", "for", "in"})
_JOINTS: Final = frozenset({"and", "&", "but"})


@looks_for("@vent_noun")
def find_vents(pieces: list[Piece]) -> None:
    """Marks the vent noun as an act, and the words beside it as how far open."""
    _spend_verbs(pieces)
    _spend_cover(pieces)
    _spend_marks(pieces)
    _shut_by_nought(pieces)
    _keep_old_openings(pieces)
    _keep_others(pieces)
    for place, piece in enumerate(pieces):
        if "vent_noun" not in piece.roles or _looked_at(pieces, place) or _as_they_were(pieces, place):
            continue
        verb = None
        owned = place > 2 and _owns(pieces, place - 1) and _owns(pieces, place - 2)
        for step in (1, 2, 3) if owned else (1, 2):
            if place - step >= 0 and pieces[place - step].kind == "break":
                # "lot 70 vents shut, | vents a quarter on tray 28".
                break
            if place - step >= 0 and pieces[place - step].low in (
                "opened",
                "closed",
                "shut",
                "cracked",
                "open",
                "close",
                "set",
                "propped",
                "put",
                "left",
                "widened",
                "adjusted",
                "tweaked",
                "opened up",
                "closed up",
                "crack",
            ):
                verb = pieces[place - step]
                break
        says: dict[str, float] = {}
        if verb is not None:
            if verb.low in ("closed", "shut", "closed up"):
                says = {"vent_open": 0.0}
            elif verb.low == "cracked":
                says = {"vent_open": 0.1}
            elif verb.low in ("open", "close", "crack"):
                verb.roles, verb.used = {"filler": True}, True
                piece.roles = {"to_do": ActWord(act="vent", form="to_do")}
                continue
            verb.roles = {"filler": True}
            verb.used = True
        for other in pieces[place + 1 : place + 3]:
            if other.low in ("open", "opened", "are", "set"):
                other.used = True
                other.roles = {"filler": True}
        piece.roles = {"act": ActWord(act="vent", says=says), "vent_noun": True}


def _shut_by_nought(pieces: list[Piece]) -> None:
    """`vents 0`: shut, in place."""
    for vents, nought in pairwise(pieces):
        if "vent_noun" in vents.roles and nought.kind == "number" and nought.value.whole == 0:
            nought.kind, nought.value, nought.roles = "phrase", None, {"vent_open": 0.0}


def _spend_verbs(pieces: list[Piece]) -> None:
    """`slid | the vents on lot 27 to half`, `vents on tray 3 | went to half`, `gave | tray 15 half vents`: verbs that
    move vents say no deed but theirs, in place; with `sealed` they were shut.
    """
    for place, piece in enumerate(pieces):
        if "vent_noun" not in piece.roles:
            continue
        verb = place - 1
        while verb >= 0 and (pieces[verb].low in _BETWEEN or "vent_open" in pieces[verb].roles or _owns(pieces, verb)):
            verb -= 1
        verb -= verb > 0 and pieces[verb].low in _UP and pieces[verb - 1].low in _MOVING | _SEALING
        end = end_of_statement(pieces, place)
        if verb >= 0:
            _spend_verb(pieces[verb])
        for at in range(place + 1, end):
            if pieces[at].low in _MOVING | _SEALING and _leads_to_opening(pieces, at, end):
                _spend_verb(pieces[at])


def _spend_cover(pieces: list[Piece]) -> None:
    """`air holes on lot 12 | 's dome | are halfway`: whose cover they are in says no more, in place."""
    for vents, lead, subject, owns, cover in zip(pieces, *(pieces[step:] for step in range(1, 5)), strict=False):
        named = "vent_noun" in vents.roles and lead.low in _ONTO | {"of"} and subject.kind in SUBJECTS
        if named and owns.low in ("'s", "'", "s") and "cover_noun" in cover.roles:
            pass_over(owns, cover)


def _spend_marks(pieces: list[Piece]) -> None:
    """`vents at the half | mark`, `at halfway | point`, in place."""
    for at in range(len(pieces) - 1, 0, -1):
        if pieces[at].low in _MARKS and "vent_open" in pieces[at - 1].roles and _vents_before(pieces, at):
            pass_over(pieces[at])


def _spend_verb(verb: Piece) -> None:
    if verb.low in _MOVING:
        pass_over(verb)
    elif verb.low in _SEALING:
        verb.kind, verb.roles, verb.used = "phrase", {"vent_open": 0.0}, False


def _owns(pieces: list[Piece], at: int) -> bool:
    """`tray 15 | 's | vents`, `gave | tray 15 | half vents`."""
    given = pieces[at].kind in SUBJECTS and at > 0 and pieces[at - 1].low in ("gave", "given")
    owner = pieces[at].kind in SUBJECTS and pieces[at + 1].low in ("'s", "'", "s")
    return given or owner or (pieces[at].low in ("'s", "'", "s") and at > 0 and pieces[at - 1].kind in SUBJECTS)


def _leads_to_opening(pieces: list[Piece], verb: int, end: int) -> bool:
    """`went | to half`, `been adjusted`: a verb after the vents, and how far open, or nothing."""
    if pieces[verb].low in _SEALING:
        return True
    at = verb + 1
    while at < end and (pieces[at].low in _TURNS | _MOVING or "filler" in pieces[at].roles):
        at += 1
    return at >= end or _is_opening(pieces[at]) or pieces[at].kind == "moment"


def _as_they_were(pieces: list[Piece], place: int) -> bool:
    """`the vents on tray 6 are untouched`, `are full of dirt`: nothing that was set."""
    after = pieces[place + 1 : end_of_statement(pieces, place)]
    full_of = any((full.low, of.low) == ("full", "of") for full, of in pairwise(after))
    return full_of or any(piece.low in _UNCHANGED for piece in after)


def _keep_old_openings(pieces: list[Piece]) -> None:
    """`vent went from a crack to half`, `vents up to 3/4 from half`, `vents half to full`, `vents were shut, now half`:
    how they stood before is kept, in place.
    """
    for at in range(len(pieces) - 2, -1, -1):
        lead, opening = pieces[at], pieces[at + 1]
        stood = lead.low in _WAS or _found_so(pieces, at)
        was = stood and (any(piece.low in _NOW for piece in pieces[at + 2 : at + 8]) or _set_then(pieces, at + 2))
        if was and "vent_noun" in lead.roles:
            keep_words(opening)
            continue
        if "vent_noun" in lead.roles:
            _turn([opening])
        if not _is_opening(opening) or not _vents_before(pieces, at + 1):
            continue
        after = pieces[at + 2 : at + 4]
        if lead.low == "from" or was:
            _turn(pieces[max(0, at - 1) : at] + pieces[at + 2 : at + 3])
            low = f"{lead.low} {opening.low}"
            pieces[at : at + 2] = [Piece("kept", None, lead.first, opening.last, low)]
        elif len(after) > 1 and after[0].low == "to" and _is_opening(after[1]):
            _turn(after[:1])
            keep_words(opening)


def _found_so(pieces: list[Piece], at: int) -> bool:
    """`found | vents | shut`, `found the | vents | half`."""
    before = at - 1 - (at > 1 and pieces[at - 1].low in _ARTICLES)
    return "vent_noun" in pieces[at].roles and before >= 0 and pieces[before].low in _FOUND


def _set_then(pieces: list[Piece], at: int) -> bool:
    """`vents were shut on tray 6 | , opened to 1/4`: whether they were set after that; their verb then begins no deed
    of its own, in place.
    """
    start = next((step for step in range(at, len(pieces)) if _parts(pieces[step])), len(pieces)) + 1
    if start >= len(pieces) or pieces[start].low.split(" ")[0] not in _SETTING:
        return False
    end = end_of_statement(pieces, start)
    said = pieces[start:end]
    told = any(_is_opening(piece) and piece.low not in _OPEN for piece in said)
    if not told or any(piece.kind in ("lots", "trays") for piece in said):
        return False
    verb = said[0]
    verb.low = f"now {verb.low}"
    if "vent_open" not in verb.roles:
        pass_over(verb)
    return True


def _parts(piece: Piece) -> bool:
    return piece.kind == "break" or piece.low in _JOINTS


def _turn(small: list[Piece]) -> None:
    """Makes the words of `vents | went from half | to full` mean no deed."""
    for piece in small:
        if piece.low in _TURNS:
            pass_over(piece)


def _keep_others(pieces: list[Piece]) -> None:
    """`vents open on tray 2, shut on the rest`: how those stand that nobody can tell here is kept, in place."""
    for at in range(2, len(pieces) - 1):
        starts = pieces[at - 1].kind == "break" or pieces[at - 1].low in _JOINTS
        if not starts or "vent_open" not in pieces[at].roles or not _vents_before(pieces, at):
            continue
        others = at + 1
        while others < len(pieces) - 1 and pieces[others].low in _ONTO:
            others += 1
        if pieces[others].low in _OTHERS:
            run = pieces[at : others + 1]
            low = " ".join(piece.low for piece in run)
            pieces[at : others + 1] = [Piece("kept", None, run[0].first, run[-1].last, low)]
            return


def _is_opening(piece: Piece) -> bool:
    """`half`, `3/4`, `shut`."""
    part = piece.kind == "fraction" and piece.value[0] < piece.value[1]
    return part or "vent_open" in piece.roles or piece.low in _OPEN


def _vents_before(pieces: list[Piece], at: int) -> bool:
    """Whether the vents are named before a place in its sentence."""
    for piece in reversed(pieces[:at]):
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            return False
        if "vent_noun" in piece.roles:
            return True
    return False


def _looked_at(pieces: list[Piece], place: int) -> bool:
    """`checked the vents`, `cleaned the vents`, `drilled air holes`: nothing that was set."""
    before = place - 1 - (place > 0 and pieces[place - 1].low in _ARTICLES)
    word = pieces[before].roles.get("act") if before >= 0 else None
    made = before >= 0 and pieces[before].low in _MAKING
    return made or (word is not None and word.act in ("check", "sanitize", "tend"))


def shuts_another(pieces: list[Piece], place: int) -> bool:
    """`closed the greenhouse`, `cracked the door`: another thing than the vents."""
    after = pieces[place + 1 : place + 3]
    shuts = pieces[place].low in _SHUTTING and len(after) == 2 and after[0].low in _ARTICLES
    return shuts and "vent_noun" not in after[1].roles and after[1].kind in ("word", "phrase")
