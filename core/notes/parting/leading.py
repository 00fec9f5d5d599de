"""Which bare numbers are lots by where they stand: before a colon or a dash, or in a list joined by "and"."""

from __future__ import annotations

from typing import Final

from core.notes.counts.strengths import says_dip
from core.notes.days.moments import Moment
from core.notes.names.people import may_be_name
from core.notes.words.numbers import SHARES, Number
from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import comma_before, is_end, said_in
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_JOINTS: Final = frozenset({",", "and", "&", "+"})
_DEEDS: Final = frozenset({"act", "shared", "vent_noun", "cover_noun", "none"})
_CARE: Final = frozenset({"water", "cover", "air", "vent", "tend", "harden", "uncover"})
_COUNTED: Final = frozenset({"pot", "sell", "give", "plant_out"})
_OF_WHOLES: Final = frozenset({"of", "out of"})
"""After these a number before a colon is out of how many (`lot 1 out of 80: 35 rooted`)."""
_TIMELESS: Final = _CARE - {"air", "harden"}
_HOW: Final = frozenset({"vent_open", "method", "for_good", "times"})
_LEADING: Final = SUBJECTS | {"number", "fraction", "moment", "person"}
_LINKS: Final = small_words("counting", "after_care")
_ON: Final = frozenset({"on", "onto", "over", "back on"})
_COMING: Final = small_words("covers", "coming") | {"have", "has"}
_SINCE: Final = frozenset({"when", "while", "because", "bc", "cuz", "since", "as", "before", "after", "so"})
_ONTO: Final = frozenset({"off", "on", "over", "of", "from", "the", "gone", "away"})


def _samples(piece: Piece) -> bool:
    """The `tugged` of `lot 9 tugged 12: 4 rooted`."""
    word = piece.roles.get("act")
    return word is not None and bool(word.says.get("sample"))


@looks_for(":", "-", "=")
def lots_before_colons(pieces: list[Piece]) -> None:
    """A bare number that leads a clause before a colon or a dash is a lot (`14: 31 rooted`), in place; the
    mark is dropped.
    """
    at = 0
    while at + 1 < len(pieces):
        piece, mark = pieces[at], pieces[at + 1]
        if piece.kind not in _LEADING:
            at += 1
            continue
        if _is_slot(pieces, at):
            slot = pieces[at - 1 : at + 1]
            low = f"{slot[0].low}{piece.low}"
            pieces[at - 1 : at + 1] = [Piece("word", None, slot[0].first, piece.last, low)]
            continue
        leads = at == 0 or pieces[at - 1].kind == "break" or _heading_moment(pieces, at - 1)
        if leads and _has_letter(pieces, at):
            named = f"{piece.low}{mark.low}"
            pieces[at : at + 3] = [Piece("lots", (named,), piece.first, mark.last, named)]
            at += 1
            continue
        if (
            not leads
            and piece.kind == "number"
            and _is_bare(piece.value)
            and mark.low == ":"
            and mark.kind == "break"
            and at + 2 < len(pieces)
            and pieces[at + 2].kind in COUNTS
            and "place_word" not in pieces[at - 1].roles
            and pieces[at - 1].roles.get("container") != "bed"
            and pieces[at - 1].low not in _OF_WHOLES
            and not says_dip(pieces, at)
            and not _samples(pieces[at - 1])
        ):
            pieces.insert(at, comma_before(piece))
            at += 1
            leads = True
        if piece.kind == "number" and _is_bare(piece.value) and _plain_list(pieces, at):
            _name_list(pieces, at)
            at += 1
            continue
        if leads and piece.kind == "number" and _is_bare(piece.value):
            end = _listed_numbers(pieces, at)
            if end > at + 1 and end < len(pieces) and pieces[end].low == ":":
                numbers = tuple(_as_label(one) for one in pieces[at:end] if one.kind == "number")
                pieces[at : end + 1] = [Piece("lots", numbers, piece.first, pieces[end - 1].last, "lots")]
                continue
        if (
            leads
            and piece.kind == "number"
            and mark.kind == "break"
            and (mark.low in (":", "-") or (mark.low == "=" and _opens(pieces, at)))
            and _is_bare(piece.value)
        ):
            kind = _kind_before(pieces, at) if _follows_in_turn(pieces, at) else "lots"
            pieces[at] = Piece(kind, (_as_label(piece),), piece.first, piece.last, piece.low)
            del pieces[at + 1]
        elif piece.kind == "fraction" and mark.low == ":" and (leads or _heads_after_name(pieces, at)):
            above, below, _ = piece.value
            if 1 <= above <= 12 and 1 <= below <= 31:
                pieces[at] = Piece("moment", Moment(month=above, day=below), piece.first, piece.last, piece.low)
                if at + 2 < len(pieces) and pieces[at + 2].kind in ("lots", "trays"):
                    del pieces[at + 1]
        elif (not leads and piece.kind == "moment" and mark.low == ":" and _heads_after_name(pieces, at)) or (
            leads
            and piece.kind in ("lots", "trays", "moment", "person")
            and mark.kind == "break"
            and mark.low in (":", "-")
            and not (piece.kind in ("lots", "trays") and _names_who(pieces, at + 2))
        ):
            del pieces[at + 1]
        at += 1


@looks_for("=counts", beside=_JOINTS)
def lots_in_lists(pieces: list[Piece]) -> None:
    """`misted 3, 4 and 5`: bare numbers joined by "and" that count nothing are lots, in place."""
    for at, piece in enumerate(pieces):
        listed = piece.kind == "number" and at + 2 < len(pieces) and pieces[at + 2].kind == "number"
        if listed and _is_bare(piece.value):
            first = _begin_of_run(pieces, at)
            said = pieces if first == at else _with_commas(pieces, first, at)
            if _plain_list(said, first):
                pieces[:] = said
                _name_list(pieces, first)


def _begin_of_run(pieces: list[Piece], at: int) -> int:
    """`misted | 1 2 and 3`: where a list begins of which only the last two are joined."""
    first = at
    while first and pieces[first - 1].kind == "number" and _is_bare(pieces[first - 1].value):
        first -= 1
    return first if first < at and _cares_for(pieces, first) in _TIMELESS else at


def _with_commas(pieces: list[Piece], first: int, last: int) -> list[Piece]:
    """Some pieces with a comma between each two of the numbers from one to another."""
    run = [one for number in pieces[first:last] for one in (number, comma_before(number))]
    return [*pieces[:first], *run, *pieces[last:]]


def _name_list(pieces: list[Piece], at: int) -> None:
    end = _listed_numbers(pieces, at)
    numbers = tuple(_as_label(one) for one in pieces[at:end] if one.kind == "number")
    first, last = pieces[at].first, pieces[end - 1].last
    pieces[at:end] = [Piece(_kind_before(pieces, at), numbers, first, last, "lots")]


def _is_slot(pieces: list[Piece], at: int) -> bool:
    """`b3: 20 rooted`: a slot of a bench, and no lot."""
    letter, slot, mark = pieces[at - 1], pieces[at], pieces[at + 1]
    lettered = at > 0 and len(letter.low) == 1 and letter.low.isalpha() and letter.kind in ("word", "phrase")
    return lettered and slot.kind == "number" and slot.low.isdigit() and mark.low == ":"


def _has_letter(pieces: list[Piece], at: int) -> bool:
    """`14a: 3 dead`: a part of a lot, named by its letter."""
    if at + 2 >= len(pieces) or pieces[at].kind != "number" or not _is_bare(pieces[at].value):
        return False
    letter, mark = pieces[at + 1], pieces[at + 2]
    return len(letter.low) == 1 and letter.low.isalpha() and mark.kind == "break" and mark.low in (":", "-")


def _opens(pieces: list[Piece], at: int) -> bool:
    """`70 = 24 sage`: not `12 + 4 = 16`."""
    return at == 0 or pieces[at - 1].low == "," or pieces[at - 1].low in SENTENCE_ENDS


def _kind_before(pieces: list[Piece], at: int) -> str:
    """`misted trays 3 and 4, | 5 and 6 bottom watered`: what the numbers at a place name, as those before them do."""
    for piece in reversed(pieces[:at]):
        if piece.kind in SUBJECTS:
            return piece.kind
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            break
    return "lots"


def _follows_in_turn(pieces: list[Piece], at: int) -> bool:
    """`tray 4: dome on, | 5: dome off`: the next number after the one told of before the comma."""
    before = next((piece for piece in reversed(pieces[:at]) if piece.kind in SUBJECTS), None)
    last = before.value[-1] if before is not None else ""
    follows = last.isdigit() and _as_label(pieces[at]) == str(int(last) + 1)
    return follows and at > 0 and pieces[at - 1].low == ","


def _names_who(pieces: list[Piece], at: int) -> bool:
    """`tray 7: ana misted`: an unknown word before a deed, which the mark must keep apart."""
    deed = pieces[at + 1].roles.keys() & {"act", "shared"} if at + 1 < len(pieces) else None
    return bool(deed) and pieces[at].kind == "word"


def _heading_moment(pieces: list[Piece], at: int) -> bool:
    """`this morning 14: misted`: a day that opens the statement."""
    if pieces[at].kind != "moment":
        return False
    at -= at > 0 and pieces[at - 1].low == "on"
    return at == 0 or pieces[at - 1].kind == "break"


def _plain_list(pieces: list[Piece], at: int) -> bool:
    """Whether bare numbers joined by "and" stand for lots: nothing that they could count follows (`misted 3,
    4 and 5`).
    """
    end = _listed_numbers(pieces, at)
    deed = pieces[at - 2].roles.get("act") if at > 1 and pieces[at - 1].low == "," else None
    if deed is not None and deed.act in _COUNTED:
        # "both potted, 12 and 10": how many of each.
        return False
    cared = _cares_for(pieces, at)
    joined = any(one.low in ("and", "&") for one in pieces[at:end])
    if end == at + 1 or not (joined or cared in _TIMELESS):
        return False
    if at and pieces[at - 1].kind != "break" and not cared and not _heading_moment(pieces, at - 1):
        return False
    after = pieces[end] if end < len(pieces) else None
    if after is None or after.kind == "break":
        return True
    if cared and (after.kind in ("moment", "duration", "percent") or after.roles.keys() & _HOW or after.low in _LINKS):
        return True
    if cared and (after.low in _SINCE or "condition" in after.roles):
        # "misted 2 and 3 when it got hot".
        return True
    if _go_back_on(pieces[end : end + 2]):
        return True
    return (
        "all" in after.roles or "none" in after.roles or ("act" in after.roles and not after.roles["act"].counts_before)
    )


def _go_back_on(told: list[Piece]) -> bool:
    """The `back on` of `11 and 13 back on`, the `lids back on` or `lids off` of `11 and 13 lids off`."""
    if len(told) > 1 and "cover_noun" in told[0].roles and told[1].low in ("on", "off"):
        return True
    word = told["cover_noun" in told[0].roles :][:1]
    noun = word[0].roles.get("noun") if word else None
    return noun is not None and bool(noun.act == "cover") and word[0].low.startswith("back")


def _cares_for(pieces: list[Piece], at: int) -> str | None:
    """The deed before a place that counts nothing (`vented | 4 and 5`, `popped the domes off | 5 and 6`)."""
    while at and pieces[at - 1].low in _ONTO:
        at -= 1
    on = at < len(pieces) and pieces[at].low in _ON
    while at > 1 and pieces[at - 1].low in _COMING and pieces[at - 1].low not in _ONTO:
        at -= 1
    before = pieces[at - 1].roles if at else {}
    word = before.get("act")
    if word is not None and not word.counts_before and word.act in _CARE:
        return str(word.act)
    noun = before.get("noun")
    if noun is not None and noun.act == "cover" and at > 1 and "cover_noun" in pieces[at - 2].roles:
        return "cover"
    if "cover_noun" not in before:
        return None
    return "cover" if on else "air"


def _listed_numbers(pieces: list[Piece], at: int) -> int:
    end = at + 1
    while (
        end + 1 < len(pieces)
        and pieces[end].low in ("and", "&", ",", "+")
        and pieces[end + 1].kind == "number"
        and _is_bare(pieces[end + 1].value)
    ):
        end += 2
    return end


def _as_label(piece: Piece) -> str:
    """What a number that stands for a lot or a tray is called by (`three: 31 rooted` is of lot 3)."""
    return piece.low if piece.low.isdigit() else str(piece.value.whole)


def _is_bare(number: Number) -> bool:
    plain = number.high is None and number.of is None and not number.approx and not number.each
    return number.whole is not None and plain


def _heads_after_name(pieces: list[Piece], at: int) -> bool:
    """Whether nothing but who did it stands before a day (`kit 9/30 misted 14`)."""
    at -= at > 0 and may_be_name(pieces[at - 1])
    return at == 0 or pieces[at - 1].kind == "break"


@looks_for("=subjects")
def join_subjects(pieces: list[Piece]) -> None:
    """`tray 4, tray 5 and tray 6 misted`: lots or trays named one by one before their deed are one list, in place."""
    for at, first in enumerate(pieces):
        kind = first.kind
        if kind not in SUBJECTS:
            continue
        end = at + 1
        while [piece.kind for piece in pieces[end + 1 : end + 2]] == [kind]:
            if pieces[end].low not in _JOINTS:
                break
            end += 2
        opens = at == 0 or (pieces[at - 1].kind in ("break", "moment", "person") and not _lacks_subject(pieces[:at]))
        if end > at + 1 and opens and end < len(pieces) and _tells(pieces[end]):
            names = tuple(dict.fromkeys(name for piece in pieces[at:end] if piece.kind == kind for name in piece.value))
            pieces[at:end] = [Piece(kind, names, first.first, pieces[end - 1].last, said_in(pieces[at:end]))]


def _lacks_subject(before: list[Piece]) -> bool:
    """`half open on the vents, | tray 29, tray 30 misted`: the first belongs to what was told before it."""
    return any(piece.roles.keys() & _DEEDS for piece in before) and not any(piece.kind in SUBJECTS for piece in before)


def _tells(piece: Piece) -> bool:
    """Whether what was done to the lots or trays before begins here."""
    return piece.low == ":" or bool(piece.roles.keys() & _DEEDS) or piece.low in ("all", "both")


@looks_for("=fraction")
def days_at_heads(pieces: list[Piece]) -> None:
    """A fraction that opens a statement right before a deed, or alone on the first line, or stands before an hour, is
    a day (`3/13 vents half`, `9/3 2pm`), in place.
    """
    for at, piece in enumerate(pieces[:-1]):
        clock = pieces[at + 1].kind == "moment" and not pieces[at + 1].value.names_day
        if piece.kind != "fraction" or not (clock or _heads_after_name(pieces, at)):
            continue
        month, day, approx = piece.value
        word = pieces[at + 1].roles.get("act")
        done = word is not None and not word.counts_before and not _may_have_count(pieces, at, word)
        deed = done or "vent_noun" in pieces[at + 1].roles
        deed = deed or clock or (pieces[at + 1].low == "\n" and all(one.kind == "break" for one in pieces[:at]))
        if deed and not approx and 1 <= month <= 12 and 1 <= day <= 31 and (month, day) not in SHARES:
            piece.kind, piece.value = "moment", Moment(month=month, day=day)


def _may_have_count(pieces: list[Piece], at: int, word: ActWord) -> bool:
    """The 12/16 of `12/16 potted, tray 2`, which no other count follows: so many, or a day where it is one of late."""
    return word.act in ("pot", "sell", "give", "plant_out") and is_end(pieces, at + 2)
