"""Which numbers count things that are no plants: domes and trays, days that are gone or left, the hours of a day.

Rules
1. `3 domes off` counts domes, `2 trays 40 rooted` trays: the number names no lot.
2. `lot 22 day 30: 18 rooted` tells how old it is; `45 days in the fridge, 15 left` tells of days.
3. `misted at 6 and 7` names hours.
4. `washed domes 1-6` names domes by their numbers.
"""

from __future__ import annotations

from typing import Final

from core.notes.days.moments import Moment
from core.notes.words.act_kinds import OPENING
from core.notes.words.numbers import Number
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.said import begin_of_statement, keep_words, said_in
from core.notes.words.steps import looks_at_each, looks_for
from core.vocabulary.everyday import several_at_home
from core.vocabulary.loading import read_toml, small_words

_AGES: Final = small_words("counted_things", "ages")
_NAMED_DAYS: Final = frozenset({"last", "this", "next"})
_LEFT: Final = small_words("counted_things", "left")
_TOLD_OF_COVERS: Final = small_words("covers", "on") | small_words("covers", "off") | {"still"}
_FIRST_YEAR, _LAST_YEAR = read_toml("small_words.toml")["counted_things"]["years"]
_DIGITS: Final = 4
_LONGEST: Final = 3
_HOURS: Final = 12
_AT_HOME: Final = several_at_home()
_BUNDLES: Final = small_words("counted_things", "bundles")
_CROPS: Final = small_words("counted_things", "crops")
_JOINTS: Final = frozenset({"and", "&", ",", "+", "again", "then"})


@looks_for("out", beside=("=number",))
def keep_hours_out(pieces: list[Piece]) -> None:
    """`lot 9 out 9 to 11`: from which hour to which, and no count, in place."""
    for at in range(len(pieces) - 2, -1, -1):
        hours = at + 1 + (pieces[at + 1].low == "from" and at + 2 < len(pieces))
        number = pieces[hours]
        ends = hours + 1 == len(pieces) or pieces[hours + 1].kind == "break"
        spans = number.kind == "number" and number.value.high is not None and number.value.high <= _HOURS
        if pieces[at].low == "out" and ends and spans and at and pieces[at - 1].kind in SUBJECTS:
            keep_words(number)


@looks_for("@thing", beside=("!sanitize", "~rinsed", "~wiped"))
def keep_numbers_of_things(pieces: list[Piece]) -> None:
    """`washed domes 1-6`, `cleaned domes 4 and 5`: which things, and no count, no lot, in place."""
    for at in range(len(pieces) - 1, 1, -1):
        thing, number = pieces[at - 1 : at + 1]
        if "thing" not in thing.roles or not thing.low.endswith("s") or number.kind != "number":
            continue
        listed = at + 2 < len(pieces) and pieces[at + 1].low in _JOINTS and _is_bare(pieces[at + 2])
        listed = listed and (at + 3 == len(pieces) or pieces[at + 3].kind == "break")
        if any(_cleans(piece) for piece in pieces[: at - 1]) and (number.value.dashed or listed):
            last = pieces[at + 2 if listed else at]
            low = " ".join(piece.low for piece in pieces[at : at + 1 + 2 * listed])
            pieces[at : at + 1 + 2 * listed] = [Piece("kept", None, number.first, last.last, low)]


def _cleans(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and (word.act == "sanitize" or word.rule in ("rinsed", "wiped"))


@looks_for("=year", beside=("@what", "from", "!sow", "!collect"))
def keep_years(pieces: list[Piece]) -> None:
    """`sowed 2024 toyon seed 60`, `lot 9 is 2022 seed`, `40 redbud seed from 2022`: the year of seed, and no count, in
    place.
    """
    for at in range(len(pieces) - 1, -1, -1):
        piece = pieces[at]
        if not _is_bare(piece) or not _FIRST_YEAR <= piece.value.whole <= _LAST_YEAR or len(piece.low) != _DIGITS:
            continue
        after = pieces[at + 1 : at + 4]
        if any(one.low in _CROPS for one in after[:1]):
            pieces[at : at + 2] = [Piece("word", None, piece.first, after[0].last, f"{piece.low} {after[0].low}")]
        elif at and (pieces[at - 1].low == "from" or (pieces[at - 1].low == "in" and _gathers(pieces[:at]))):
            run = pieces[at - 1 : at + 1]
            pieces[at - 1 : at + 1] = [Piece("kept", None, run[0].first, piece.last, said_in(run))]
        elif any("plant" in one.roles or one.low in ("seed", "seeds") for one in after):
            keep_words(piece)


def _gathers(pieces: list[Piece]) -> bool:
    """The `collected` of `collected in 2023`."""
    word = pieces[-2].roles.get("act") if len(pieces) > 1 else None
    return word is not None and word.act == "collect"


@looks_for(any_of=_AT_HOME, beside=("=number", "=measure"))
def keep_numbers_at_home(pieces: list[Piece]) -> None:
    """`sold 4 mugs and 12 sage`, `and 3 cookies to the desk`, `and 20 bucks`: so many things of everyday life, and no
    plants, in place.
    """
    for at, piece in enumerate(pieces):
        money = piece.kind == "measure" and piece.low.split(" ")[-1] in _AT_HOME
        end = _end_at_home(pieces, at)
        if not end and not money:
            continue
        keep_words(*pieces[at:end])
        if at and pieces[at - 1].low in ("and", "&", "plus"):
            before = pieces[at - 1]
            pieces[at - 1] = Piece("break", ",", before.first, before.last, ",")


def _plants(piece: Piece) -> bool:
    """`sowed | 40 watermelons`: what is planted is a plant."""
    word = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and (word.act in OPENING or word.act == "pot" or word.rule == "planted")


def _end_at_home(pieces: list[Piece], at: int) -> int:
    """Where the words end of a number of such things that begins at a place; nought where none is counted there."""
    if not _is_bare(pieces[at]) or (at and _plants(pieces[at - 1])):
        return 0
    end = at + 1
    while end < len(pieces) and pieces[end].kind == "word" and pieces[end].low not in _AT_HOME:
        end += 1
    if end >= len(pieces) or pieces[end].kind != "word" or end - at > _LONGEST:
        return 0
    after = pieces[end + 1] if end + 1 < len(pieces) else None
    named = after is None or after.roles.keys().isdisjoint(("plant", "container", "what", "cutting"))
    return end + 1 if named else 0


def _is_bare(piece: Piece) -> bool:
    if piece.kind != "number":
        return False
    number = piece.value
    return number.whole is not None and number.high is None and number.of is None and not number.each


@looks_at_each("@cover_noun", beside=("=number",))
def _keep_covers(pieces: list[Piece], at: int) -> None:
    """`3 domes off for good`, `4 lids back on`."""
    listed = at > 1 and pieces[at - 1].low in _JOINTS and pieces[at - 2].kind == "number"
    if at + 1 < len(pieces) and _is_bare(pieces[at]) and pieces[at].value.whole > 1 and not listed:
        after = pieces[at + 1]
        told = pieces[at + 2].low.split(" ")[0] if at + 2 < len(pieces) else ""
        if "cover_noun" in after.roles and after.low.endswith("s") and told in _TOLD_OF_COVERS:
            keep_words(pieces[at])


@looks_at_each(any_of=_BUNDLES, beside=("=number",))
def _keep_bundles(pieces: list[Piece], at: int) -> None:
    """`cut 2 bundles arroyo willow whips`: so many bundles, and no so many cuttings."""
    if at + 1 < len(pieces) and pieces[at].kind == "number" and pieces[at + 1].low in _BUNDLES:
        keep_words(*pieces[at : at + 2])


@looks_at_each("row", "rows", "x", beside=("=counts",))
def _count_rows(pieces: list[Piece], at: int) -> None:
    """`stuck 4 rows of 10 toyon`, `4 trays x 24`: so many in each row or tray, made so many in all."""
    rows = pieces[at : at + 4]
    if len(rows) < 4 or not (_is_bare(rows[0]) and _is_bare(rows[3])):
        return
    if rows[2].low == "x" and "container" in rows[1].roles:
        whole = rows[0].value.whole * rows[3].value.whole
        pieces[at + 2 : at + 4] = [Piece("number", Number(whole), rows[2].first, rows[3].last, str(whole))]
        return
    if rows[1].low in ("rows", "row") and rows[2].low == "of":
        whole = rows[0].value.whole * rows[3].value.whole
        pieces[at : at + 4] = [Piece("number", Number(whole), rows[0].first, rows[3].last, str(whole))]


@looks_at_each("old", "d", any_of=_AGES, beside=("=number",))
def _keep_age(pieces: list[Piece], at: int) -> None:
    """`day 30`, `week 3`, `3 yr old`; `lot 20 d21`."""
    if _is_bare(pieces[at]) and [one.low for one in pieces[at + 2 : at + 3]] == ["old"]:
        # "3 yr old lupine seed".
        keep_words(*pieces[at : at + 3])
    named = at > 0 and pieces[at - 1].low in _NAMED_DAYS  # "31 last wk 36 today"
    tells_age = pieces[at].low in _AGES or (pieces[at].low == "d" and at > 0 and _numbered(pieces[at - 1]))
    aged = tells_age and at + 1 < len(pieces) and not named
    if aged and (_is_bare(pieces[at + 1]) or _of_days(pieces, at + 1)):
        number = pieces[at + 1]
        low = f"{pieces[at].low} {number.low}"
        pieces[at : at + 2] = [Piece("kept", None, pieces[at].first, number.last, low)]


def _numbered(piece: Piece) -> bool:
    """Whether a piece names lots or trays by numbers; the `d` of `trays c d` is a tray."""
    return piece.kind in SUBJECTS and piece.value[-1][-1].isdigit()


def _of_days(pieces: list[Piece], at: int) -> bool:
    """`day 3 of 10`: of so many days; the 12 of `day 12 of 30 rooted` may count."""
    number = pieces[at].value
    of_days = pieces[at].kind == "number" and number.of is not None and number.high is None
    told = (piece.roles.get("act") or piece.roles.get("noun") for piece in pieces[at + 1 : at + 2])
    return of_days and not any(word is not None and word.counts_before for word in told)


@looks_at_each("=duration", beside=_LEFT)
def _keep_days_left(pieces: list[Piece], at: int) -> None:
    """`45 days in fridge, 15 left`."""
    if not _is_bare(pieces[at]) or at < 2 or pieces[at - 1].kind != "break" or at + 1 >= len(pieces):
        return
    closes = at + 2 >= len(pieces) or pieces[at + 2].kind == "break"
    if pieces[at + 1].low not in _LEFT or not closes:
        return
    start = begin_of_statement(pieces, at - 1)
    if any(piece.kind == "duration" and piece.value[0].days for piece in pieces[start : at - 1]):
        keep_words(*pieces[at : at + 2])


@looks_at_each("=moment", beside=_JOINTS)
def _join_hours(pieces: list[Piece], at: int) -> None:
    """`at 9, 11 and 1`: several hours of a day as one piece."""
    if not _is_hour(pieces[at]):
        return
    hours: list[Moment] = [pieces[at].value]
    end = at + 1
    while end < len(pieces):
        step = end
        while step < len(pieces) and step < end + 2 and pieces[step].low in _JOINTS:
            step += 1
        if step == end or step >= len(pieces):
            break
        hour = _hour_of(pieces[step])
        if hour is None:
            break
        hours.append(hour)
        end = step + 1
    if len(hours) > 1 and (end >= len(pieces) or pieces[end].kind in ("break", "moment")):
        low = " ".join(piece.low for piece in pieces[at:end])
        pieces[at:end] = [Piece("hours", tuple(hours), pieces[at].first, pieces[end - 1].last, low)]


def _is_hour(piece: Piece) -> bool:
    return piece.kind == "moment" and piece.value.hour is not None and not piece.value.names_day


def _hour_of(piece: Piece) -> Moment | None:
    if _is_hour(piece):
        found: Moment = piece.value
        return found
    if _is_bare(piece) and 1 <= piece.value.whole <= 12:
        return Moment(hour=piece.value.whole)
    return None


KEEP_COUNTED_THINGS: Final = (_keep_covers, _keep_bundles, _count_rows, _keep_age, _keep_days_left, _join_hours)
"""Keep the numbers of things, days and hours out of lots and counts of plants, in place."""
