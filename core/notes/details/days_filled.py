"""Which day or hour was it: moments, hours from and to, and `1:10` where it is no hour."""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots, use
from core.notes.days.moments import Moment, resolve_past
from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import Piece

_COUNTED_SINCE: Final = frozenset(
    {"lose", "check", "water", "pot", "wilt", "sell", "give", "plant_out", "split", "tend"}
)
"""What was done or came about between a day and now (`5 dead since monday`), not on that day."""


def when(slots: Slots, piece: Piece) -> None:
    """Takes a moment as the day or hour of the act."""
    moment: Moment = piece.value
    place = slots.clause.pieces.index(piece) if piece in slots.clause.pieces else 0
    before = slots.clause.pieces[place - 1].low if place else ""
    ahead = before == "by" and moment.names_day and moment.days is None
    if ahead or (before == "since" and slots.act in _COUNTED_SINCE):
        return
    if before in ("after", "before") and moment.hour is None:
        # "14 dead in tray 10 after saturday": not on that day.
        return
    if before == "from" and slots.act in OPENING and not moment.hour:
        # "stuck 40 toyon from yesterday": when it was gathered.
        return
    if slots.act in OPENING and piece.low.endswith("days") and _of_a_plant(slots.clause.pieces[place + 1 : place + 2]):
        # "stuck mondays willow": when it was gathered.
        return
    weekday = moment.weekday is not None and not moment.which and moment.hour is None
    if before == "for" and weekday and not _before_deed(slots, piece):
        # "mixed bleach for sat": the day that it was done for.
        return
    if slots.act == "reserve" and moment.days not in (0, -1, -2) and not _before_deed(slots, piece):
        return
    if "moment" in slots.values:
        together = slots.values["moment"].joined(moment)
        if together is None:
            return
        moment = together
    slots.values["moment"] = moment
    found = resolve_past(moment, slots.now)
    if before == "on":
        slots.clause.pieces[place - 1].used = True
    if found is None:
        slots.doubtful.append(piece)
        if "date" not in slots.asks:
            slots.asks.append("date")
        slots.values.pop("on", None)
        return
    slots.values["on"] = found
    if "date" in slots.asks:
        slots.asks.remove("date")
        for other in slots.doubtful:
            if other.kind == "moment":
                other.used = True
        slots.doubtful = [other for other in slots.doubtful if other.kind != "moment"]
    use(piece)


def _of_a_plant(after: list[Piece]) -> bool:
    return bool(after) and "plant" in after[0].roles


def hours(slots: Slots, piece: Piece) -> None:
    """`misted at 6 and 7`: the act at each of several hours, where all of them are sure."""
    found = [resolve_past(hour, slots.now) for hour in piece.value]
    if "on" in slots.values or any(hour is None for hour in found):
        slots.doubtful.append(piece)
        slots.asks.append("date")
        return
    slots.values["hours"] = tuple(found)
    use(piece)


def _before_deed(slots: Slots, piece: Piece) -> bool:
    """`mon: set aside 8 for finn`: a day before a deed is when it was done, one after it when it is fetched."""
    word = slots.clause.word
    deed = next((one for one in slots.clause.pieces if word in (one.roles.get("act"), one.roles.get("shared"))), None)
    return word is not None and word.form == "done" and deed is not None and piece.first < deed.first


def ratio(slots: Slots, pieces: list[Piece], piece: Piece) -> None:
    """Takes `1:10` as parts of a solution or a medium, or as an hour, by what the act takes."""
    first, second = piece.value
    clock = (
        isinstance(first, int)
        and isinstance(second, int)
        and first < 24
        and second < 60
        and len(piece.low.split(":")[1]) == 2
    )
    if slots.takes("parts") and not (clock and first not in (0, 1) and second not in (0, 1)):
        slots.put("parts", tuple(piece.value), piece)
    elif clock and not (
        (slots.takes("hormone") and _is_dilution(pieces, piece)) or _dilutes_wash(slots, pieces, piece)
    ):
        piece.kind, piece.value = "moment", Moment(hour=first, minute=second)
        when(slots, piece)


def _dilutes_wash(slots: Slots, pieces: list[Piece], piece: Piece) -> bool:
    """`sanitized trays with bleach, 1:10`: how strong the solution was; `at 1:10` is an hour."""
    place = pieces.index(piece)
    timed = place > 0 and pieces[place - 1].low in ("at", "@", "around")
    return slots.act == "sanitize" and piece.value[0] == 1 and not timed and slots.clause.has("solution")


def _is_dilution(pieces: list[Piece], piece: Piece) -> bool:
    """`dipped in 1:10`: a dilution of no known strength, beside a dip or a hormone; no hour of the day."""
    place = pieces.index(piece)
    return any(
        other.roles.keys() & {"hormone", "hormone_name", "hormone_form", "stock"}
        or any(
            word is not None and (word.rule == "dipped" or word.says.get("treatment") in ("hormone", "smoke"))
            for word in (other.roles.get("noun"), other.roles.get("act"), other.roles.get("shared"))
        )
        for other in pieces[max(0, place - 4) : place + 5]
    )
