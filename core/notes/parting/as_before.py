"""The kind of bare numbers and letters that a statement leaves out, because the one before it says it: beside a deed of
care they are trays or lots as those named before (`trays 1-3 misted; 4, 5 bottom watered`, `weeded tray 6, thinned 8`,
`trays a and b misted, d fed`).
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.pieces import NO_ROLES, SENTENCE_ENDS, Piece, is_act
from core.notes.words.said import begin_of_statement, is_end
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_SUBJECTS: Final = ("lots", "trays")
_WHO: Final = small_words("relative", "who")
_COVERS: Final = frozenset({"cover_noun", "vent_noun"})
_JOINING: Final = frozenset({"and", "&", ",", "+", "or"})
_AFTER_THEM: Final = small_words("people", "after_them")
_STATES: Final = small_words("people", "still")
_WAYS: Final = frozenset({"up", "down", "over", "out", "back"})
_DENIED: Final = small_words("cues", "no") | {"skipped"}
_NOT_DONE: Final = small_words("cues", "not_done")
_LAST_NOT_DONE: Final = frozenset(said.split(" ")[-1] for said in _NOT_DONE)
_MOST: Final = 60
_PARTING: Final = frozenset({
    "and", "but", "then", "so", "too", "today", "also", "again", "now", "from", "with", "for", "at",
})  # fmt: skip
_TAKEN_OFF: Final = frozenset({"undomed", "uncovered", "unlidded", "dedomed", "unbagged"})
"""Words for airing after which a bare number is a tray; after others ("aired 20") it may be minutes."""
_OF_CARE: Final = (
    "@vent_noun", "@cover_noun", "@vent_open", "@method", "!move", "~hold", "skipped", "forgot", "missed",
    *(f"!{act}" for act in COUNTLESS),
)  # fmt: skip
"""The marks of deeds that tell which lots or trays, and not how many plants."""


@looks_for("=number", beside=_OF_CARE)
def name_bare_numbers(pieces: list[Piece]) -> None:
    """Makes bare numbers beside a deed the trays or lots that they are, in place."""
    for at, piece in enumerate(pieces):
        if piece.kind == "number" and is_bare(piece):
            kind = _kind_beside_deed(pieces, at)
            if kind is not None:
                name_as(pieces, at, list_end(pieces, at), kind)


@looks_for("=letter", beside=_OF_CARE)
def name_bare_letters(pieces: list[Piece]) -> None:
    """Makes letters beside a deed the trays that they are, in place."""
    for at, piece in enumerate(pieces):
        if len(piece.low) == 1 and _is_letter(piece):
            kind = _kind_beside_deed(pieces, at)
            if kind is not None:
                name_as(pieces, at, list_end(pieces, at), kind)


def _kind_beside_deed(pieces: list[Piece], at: int) -> str | None:
    """The kind of what a bare number or letter names that stands beside a deed; None where it names nothing."""
    if _moved_of_those(pieces, at) or _lone_list(pieces, at):
        return kind_before(pieces, at) or "lots"
    said = _before_deed(pieces, at) or _after_deed(pieces, at) or _timed_too(pieces, at) or _was_done_to(pieces, at)
    return kind_before(pieces, at) if said else None


@looks_for("\n", beside=("=number",))
def name_lines(pieces: list[Piece]) -> None:
    """`fed today:`, then `3` and `4` on lines of their own: numbers below a deed of care as one list, in place."""
    at = 1
    while at < len(pieces):
        if pieces[at - 1].low != "\n":
            at += 1
            continue
        end = at
        while _is_line(pieces, end):
            end += 2
        start = at - 1
        while start and pieces[start - 1].low != "\n":
            start -= 1
        head = pieces[start : at - 1]
        deed: ActWord | None = next((piece.roles["act"] for piece in head if "act" in piece.roles), None)
        plain = not any(piece.kind in ("number", *_SUBJECTS) for piece in head)
        if end > at and deed is not None and plain and is_care(deed):
            name_as(pieces, at, min(end - 1, len(pieces)), kind_before(pieces, at) or "lots")
        at += 1


def _is_line(pieces: list[Piece], at: int) -> bool:
    """A bare number alone on its line."""
    alone = at + 1 >= len(pieces) or pieces[at + 1].low in SENTENCE_ENDS
    return alone and at < len(pieces) and pieces[at - 1].low == "\n" and is_bare(pieces[at])


@looks_for("!treat", beside=("on", "off"))
def mats_again(pieces: list[Piece]) -> None:
    """`tray 4 off the mat, 5 on`, `tray 2 on the mat, tray 5 off`: the mat named before, in place."""
    for at in range(1, len(pieces) - 1):
        deed = next((piece.roles.get("act") for piece in reversed(pieces[:at]) if is_act(piece)), None)
        way = pieces[at + 1]
        if deed is None or deed.says.get("treatment") != "heat" or way.low not in ("on", "off"):
            continue
        ends = at + 2 >= len(pieces) or pieces[at + 2].kind in ("break", "moment")
        if pieces[at - 1].kind != "break" or not ends or not (pieces[at].kind in _SUBJECTS or is_bare(pieces[at])):
            continue
        if pieces[at].kind == "number":
            name_as(pieces, at, at + 1, kind_before(pieces, at) or "lots")
        says = {"treatment": "heat", "ends": True} if way.low == "off" else {"treatment": "heat"}
        way.kind, way.roles = "phrase", {"act": ActWord(act="treat", says=says)}


def kind_before(pieces: list[Piece], at: int) -> str | None:
    """The kind of the subject named last before a place where bare numbers or a letter stand; None for neither."""
    before = next((piece for piece in reversed(pieces[:at]) if piece.kind in _SUBJECTS), None)
    if before is None:
        return None
    lettered = all(len(name) == 1 and name.isalpha() for name in before.value)
    if _is_letter(pieces[at]):
        return "trays" if lettered and before.kind == "trays" else None
    return before.kind if is_bare(pieces[at]) else None


def _is_letter(piece: Piece) -> bool:
    single = piece.kind in ("word", "phrase") and len(piece.low) == 1
    return single and piece.low.isalpha() and piece.low not in ("a", "i")


def is_bare(piece: Piece) -> bool:
    if piece.kind != "number" or not piece.low[:1].isdigit():
        return False
    number = piece.value
    return number.whole is not None and number.of is None and not number.approx and number.value < 1000


def list_end(pieces: list[Piece], at: int) -> int:
    end = at + 1
    while end + 1 < len(pieces) and pieces[end].low in _JOINING:
        step = end + 1 + (pieces[end].low == "," and pieces[end + 1].low in ("and", "&"))
        if step >= len(pieces) or not is_bare(pieces[step]):
            break
        end = step + 1
    return end


def _lone_list(pieces: list[Piece], at: int) -> bool:
    """`misted 14, 15 and 16 but skipped 17`, `vents shut on 4 & 5`: bare numbers in a row, where no lot or tray is
    named and nothing is counted.
    """
    if not at or pieces[at].kind != "number":
        return False
    end = list_end(pieces, at)
    if end <= at + 1 or (end < len(pieces) and not parts_from(pieces[end])):
        return False
    ends = (place for place in range(at, len(pieces)) if pieces[place].low in (".", "\n", ";", "!"))
    if any(piece.kind in _SUBJECTS for piece in pieces[: next(ends, len(pieces))]):
        return False
    lead = at - 1
    while lead > 0 and pieces[lead].low in ("on", "over", "off", "the"):
        lead -= 1
    word: ActWord | None = pieces[lead].roles.get("act")
    covers = not pieces[lead].roles.keys().isdisjoint(("vent_noun", "cover_noun")) or "vent_open" in pieces[lead].roles
    return covers if word is None else is_care(word)


def parts_from(piece: Piece) -> bool:
    """Whether a piece after numbers is of something else, so that it is nothing that they count."""
    if piece.kind in ("break", "moment", "duration", "person"):
        return True
    return "vent_open" in piece.roles or "negation" in piece.roles or piece.low in _PARTING


def _before_deed(pieces: list[Piece], at: int) -> bool:
    """`; 2, 4 bottom watered`, `, 12 wide open`, `, 45 still held`."""
    if at == 0 or (pieces[at - 1].kind != "break" and pieces[at - 1].low not in ("and", "but")):
        return False
    end = list_end(pieces, at)
    end += end < len(pieces) and pieces[end].low in _STATES
    if end >= len(pieces):
        return False
    after = pieces[end]
    if after.low in _DENIED and (end + 1 == len(pieces) or pieces[end + 1].kind == "break"):
        # "lot 6 fed, 7 no".
        return _deed_of_care_before(pieces, at)
    way = pieces[end + 1].low if after.low in _WAYS and end + 1 < len(pieces) else after.low
    if way in ("to", "into", "onto"):
        return _moved_uncounted(pieces[:at])
    if "vent_open" in after.roles:
        vented = (piece.roles["act"].act == "vent" for piece in pieces[:at] if "act" in piece.roles)
        return any(vented) or any("vent_noun" in piece.roles for piece in pieces[:at])
    if not _COVERS.isdisjoint(after.roles):
        return any(not _COVERS.isdisjoint(piece.roles) for piece in pieces[:at])
    if "method" in after.roles:
        return any("act" in piece.roles and piece.roles["act"].act == "water" for piece in pieces[:at])
    word: ActWord | None = after.roles.get("act") or after.roles.get("shared")
    if word is not None and word.act == "treat" and after.low.split(" ")[0] == "in" and _opened_before(pieces, at):
        # "stuck 48 toyon in tray 3, 12 in the fridge": so many that are left.
        return False
    return word is not None and is_care(word)


def _was_done_to(pieces: list[Piece], at: int) -> bool:
    """`mixed up tray 3 and 4, it was | 4 i watered`: the one that the deed was done to."""
    if at < 2 or pieces[at - 1].low not in ("was", "is") or pieces[at - 2].low != "it":
        return False
    said = pieces[at + 1 : at + 3]
    word: ActWord | None = said[1].roles.get("act") if len(said) > 1 else None
    return word is not None and said[0].low in _WHO and is_care(word)


def _opened_before(pieces: list[Piece], at: int) -> bool:
    """Whether the last deed before a place opens a lot."""
    deed = next((piece for piece in reversed(pieces[:at]) if is_act(piece)), None)
    word: ActWord | None = deed.roles.get("act") if deed is not None else None
    return word is not None and word.act in OPENING


def _moved_uncounted(before: list[Piece]) -> bool:
    """`moved trays 3, 4 to the lath` before `and 5 to the slab`: after a count this would be one too."""
    start = next((place for place in range(len(before) - 1, -1, -1) if is_act(before[place])), None)
    if start is None or (before[start].roles.get("act") or before[start].roles["shared"]).act != "move":
        return False
    subject = next((place for place in range(start, len(before)) if before[place].kind in _SUBJECTS), start)
    counted = any(piece.kind in ("number", "fraction") or "all" in piece.roles for piece in before[start:subject])
    return not counted


def _after_deed(pieces: list[Piece], at: int) -> bool:
    """`, thinned 8`, `but skipped 17`: nothing that it could count or measure follows."""
    word: ActWord | None = pieces[at - 1].roles.get("act") if at else None
    skipped = at and pieces[at - 1].low in ("skipped", "forgot", "missed")
    if skipped or (at and _says_not_done(pieces, at) and _deed_of_care_before(pieces, at)):
        return is_end(pieces, list_end(pieces, at))
    ordered: ActWord | None = pieces[at - 1].roles.get("to_do") if at else None
    if ordered is not None and ordered.act in COUNTLESS and ordered.act != "air":
        end = list_end(pieces, at)
        return is_end(pieces, end + (end < len(pieces) and pieces[end].kind == "moment"))
    timed = word is not None and word.act == "air" and pieces[at - 1].low.split(" ")[0] not in _TAKEN_OFF
    if word is None or not is_care(word) or timed:
        return False
    end = list_end(pieces, at)
    return is_end(pieces, end + (end < len(pieces) and pieces[end].low in _AFTER_THEM))


def _timed_too(pieces: list[Piece], at: int) -> bool:
    """`hardened lots 30 and 31 for 2 hrs, 32 for 1 hr`: another, with a time of its own."""
    if at < 2 or pieces[at - 1].low not in _JOINING or pieces[at - 2].kind != "duration":
        return False
    end = list_end(pieces, at)
    end += end < len(pieces) and pieces[end].low == "for"
    timed = end < len(pieces) and pieces[end].kind == "duration"
    deed: ActWord | None = next((piece.roles["act"] for piece in reversed(pieces[:at]) if "act" in piece.roles), None)
    return timed and deed is not None and deed.act in COUNTLESS and is_end(pieces, end + 1)


def _says_not_done(pieces: list[Piece], at: int) -> bool:
    """`didnt do | 6 or 7`, `not | 6`."""
    if pieces[at - 1].low.split(" ")[-1] not in _LAST_NOT_DONE:
        return False
    start = begin_of_statement(pieces, at)
    return " ".join(piece.low for piece in pieces[start:at]) in _NOT_DONE


def _deed_of_care_before(pieces: list[Piece], at: int) -> bool:
    """Whether the last deed before a place is one of care."""
    deed = next((piece for piece in reversed(pieces[:at]) if is_act(piece)), None)
    word: ActWord | None = deed.roles.get("act") if deed is not None else None
    return word is not None and is_care(word)


def _moved_of_those(pieces: list[Piece], at: int) -> bool:
    """`fed 44-46, …, moved 46 to bench a`: one of those named before, and where it went."""
    word: ActWord | None = pieces[at - 1].roles.get("act") if at else None
    led = at + 1 < len(pieces) and pieces[at + 1].low in ("to", "into", "onto", "out", "outside", "over to", "back to")
    if word is None or word.act != "move" or not led or not is_bare(pieces[at]):
        return False
    end = at - 2 - (at > 2 and pieces[at - 2].low == ":")  # "lot 1: moved 1" counts
    return any(names_it(piece, pieces[at]) for piece in pieces[: max(0, end)])


def names_it(piece: Piece, number: Piece) -> bool:
    """Whether a lot or tray, or a range of bare numbers, is the one that a bare number names."""
    if piece.kind in _SUBJECTS:
        return number.low in piece.value
    within = is_bare(piece) and piece.value.high is not None
    return within and piece.value.value <= number.value.value <= piece.value.high


def is_care(word: ActWord) -> bool:
    return not word.counts_before and word.form == "done" and (word.act in COUNTLESS or word.rule == "hold")


def name_as(pieces: list[Piece], at: int, end: int, kind: str) -> None:
    if _is_letter(pieces[at]):
        pieces[at].kind, pieces[at].value, pieces[at].roles = kind, (pieces[at].low,), NO_ROLES
        return
    named: list[str] = []
    for piece in pieces[at:end]:
        if piece.kind == "number" and piece.value.each:
            named.extend(str(one["count"]) for one in piece.value.each if "count" in one)
        elif piece.kind == "number":
            low, high = int(piece.value.value), int(piece.value.high or piece.value.value)
            if not low <= high < low + _MOST:
                return
            named.extend(str(one) for one in range(low, high + 1))
    low_words = " ".join(piece.low for piece in pieces[at:end])
    pieces[at:end] = [Piece(kind, tuple(dict.fromkeys(named)), pieces[at].first, pieces[end - 1].last, low_words)]
