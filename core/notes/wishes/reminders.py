"""Is it a reminder that is asked for, of what and when: `remind me friday to order perlite`."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from core.notes.days.again import EVERY, WHOLE_WEEK, find_again
from core.notes.days.moments import Moment, resolve_coming
from core.notes.details.drafts import Draft, as_typed
from core.notes.names.people import NAMELIKE, may_be_name
from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_REMINDED: Final = frozenset({"them", "everyone", "everybody", "all", "the crew", "crew", "me", "us"})
_REMIND: Final = small_words("reminders", "opens")
_ASKED_FOR: Final = small_words("reminders", "asked_for")
_MAY: Final = small_words("reminders", "may")
_WEAK: Final = small_words("reminders", "weak")
_BEFORE: Final = small_words("reminders", "before")
_LONGEST_OPENING: Final = 7
_LET_KNOW: Final = "let me know"


@looks_for("alarm", "timer", "tell", _LET_KNOW, any_of=_REMIND | _ASKED_FOR)
def reminder_words(pieces: list[Piece], place: int) -> int:
    """How many pieces the opening of a reminder takes; 0 where none begins here."""
    at = place
    while at < len(pieces) and pieces[at].low in _BEFORE:
        at += 1
    said = ""
    best = 0
    for step in range(at, min(at + _LONGEST_OPENING, len(pieces))):
        said = f"{said} {pieces[step].low}".strip()
        if said in _REMIND or (said in _ASKED_FOR and at > place and pieces[at - 1].low in _MAY):
            best = step + 1 - place
    if not best and at < len(pieces) and _is_alarm(pieces, at):
        best = at + 1 - place
    if not best and _is_told(pieces, at):
        best = at + (1 if pieces[at].low == _LET_KNOW else 2) - place
    if best and pieces[place + best - 1].low == "remind" and place + best < len(pieces):
        named = pieces[place + best]
        best += named.kind in ("word", "person") or named.low in _REMINDED or named.low in NAMELIKE
    if (
        best
        and pieces[at].low.split(" ")[0] in _WEAK
        and not any(piece.low == "to" or piece.kind in ("moment", "duration") for piece in pieces[place + best :])
        and not _at_hour(pieces, place + best)
    ):
        return 0
    return best


_AGAIN: Final = frozenset({"again", "me again", "us again"})
_BEING: Final = frozenset({"is", "are", "was", "is on", "are on"})
_BEFORE_TIMES: Final = frozenset({"in", "on", "at", "by", "this", "next", "for", *EVERY, *WHOLE_WEEK})
_LONGEST_TIME: Final = 12
"""So many pieces at most say when (`every mon, wed and fri at 9`)."""


def reminder_after_time(pieces: list[Piece], place: int) -> int:
    """How many pieces say when, where they open a reminder (`in 45 min remind me`); 0 where none do."""
    at = place
    if at >= len(pieces) or (pieces[at].kind != "moment" and pieces[at].low not in _BEFORE_TIMES):
        return 0
    if at + 1 < len(pieces) and pieces[at].low == "in" and pieces[at + 1].kind == "duration":
        at += 2
    else:
        again = find_again(pieces[at : at + _LONGEST_TIME])
        if again is not None and again.spans[0][0] == 0:
            at += again.spans[0][1]
        at += at < len(pieces) and pieces[at].low in ("on", "at", "by", "this", "next")
        while at < len(pieces) and (pieces[at].kind == "moment" or (at > place and pieces[at].low == "at")):
            at += 1
    if at == place or not any(piece.kind in ("moment", "duration") for piece in pieces[place:at]):
        return 0
    at += at < len(pieces) and pieces[at].low in (",", ":", "-")
    return at - place if reminder_words(pieces, at) else 0


def _is_told(pieces: list[Piece], at: int) -> bool:
    """`tell me tomorrow to mist tray 4`: when, and what to do; `tell me what to do tomorrow` asks."""
    lows = [piece.low for piece in pieces[at : at + 5]]
    if lows[:2] != ["tell", "me"] and lows[:1] != [_LET_KNOW]:
        return False
    when = at + 1 + (lows[0] != _LET_KNOW)
    when += when < len(pieces) and pieces[when].low in ("on", "at", "in")
    timed = when < len(pieces) and pieces[when].kind in ("moment", "duration")
    return (timed or _at_hour(pieces, when - (pieces[when - 1].low == "at"))) and "to" in lows[2:]


def _at_hour(pieces: list[Piece], at: int) -> bool:
    """`text me at 4 about vents`: a bare hour."""
    led = at + 1 < len(pieces) and pieces[at].low in ("at", "@") and pieces[at + 1].kind == "number"
    return led and _is_hour(pieces[at + 1])


def _is_hour(piece: Piece) -> bool:
    number = piece.value
    return piece.kind == "number" and piece.low.isdigit() and number.whole is not None and 0 < number.whole <= 12


def _is_alarm(pieces: list[Piece], at: int) -> bool:
    """`alarm 3:15 lids on 14`, `alarm in 20 min: dome on`, `timer 15 min dome off`: right before a time; a clock or a
    length becomes one, in place.
    """
    if pieces[at].low not in ("alarm", "timer", "reminder"):
        return False
    led = at + 1 < len(pieces) and pieces[at + 1].low in ("for", "at", "@", ":", "in")
    place = at + 1 + led
    if place >= len(pieces):
        return False
    clock = pieces[place]
    if place + 1 < len(pieces) and pieces[place + 1].low.split(" ")[0] in _RANG:
        return False
    _be_clock(clock)
    if place + 1 < len(pieces) and led and pieces[place - 1].low in ("at", "@") and _is_hour(clock):
        clock.kind, clock.value = "moment", Moment(hour=clock.value.whole)
    if place + 1 < len(pieces) and clock.kind == "duration" and pieces[at + 1].low in (clock.low, "in", "for"):
        clock.kind, clock.value = "moment", Moment(ahead=clock.value[0])
    return clock.kind == "moment"


_RANG: Final = frozenset({"went", "rang", "beeped", "sounded", "goes", "was", "is"})
_BEFORE_TASKS: Final = frozenset({"", "if", "when", "that", "to", "about"})


def _be_clock(clock: Piece) -> None:
    """Makes `3:15` a time of day, in place."""
    if clock.kind == "colon" and clock.value[0] < 24 and clock.value[1] < 60:
        clock.kind, clock.value = "moment", Moment(hour=clock.value[0], minute=clock.value[1])


def _find_clocks(left: list[Piece]) -> None:
    """`thurs 8:30 to count lot 9`, `8:30 to mist`, `7:30 tomorrow`: the clock beside a day, or before what is to be
    done, in place.
    """
    for place, piece in enumerate(left):
        day = place > 0 and left[place - 1].kind == "moment" and left[place - 1].value.hour is None
        heads = place == 0 and left[1:2] and (left[1].low in ("to", "about") or left[1].kind == "moment")
        if day or heads:
            _be_clock(piece)
        told = left[place + 1].low if place + 1 < len(left) else ""
        if place and left[place - 1].low in ("at", "@") and _is_hour(piece) and told in _BEFORE_TASKS:
            piece.kind, piece.value = "moment", Moment(hour=piece.value.whole)


def reminder(text: str, tokens: list[Token], pieces: list[Piece], words: int, now: datetime) -> Draft:
    """The draft of a reminder: what it is about, and when."""
    others = _others_reminded(pieces, words)
    left = pieces[words + 2 * len(others) :]
    _find_clocks(left)
    for place, piece in enumerate(left):
        if piece.kind == "fraction" and _is_day(left, place):
            above, below = piece.value[:2]
            if 1 <= above <= 12 and 1 <= below <= 31:
                piece.kind, piece.value = "moment", Moment(month=above, day=below)
    at: Any = None
    cut: list[tuple[int, int]] = []
    moment: Moment | None = None
    for place in range(len(left)):
        found = moment_at(left, place)
        if found is None:
            continue
        start, end, told = found
        if moment is None:
            moment = told
        else:
            together = moment.joined(told)
            if together is None:
                continue
            moment = together
        cut.append((start, end))
    draft = Draft("remind", None, [])
    again = find_again(left)
    if again is not None:
        draft.extra["every"] = again.days
        cut.extend(again.spans)
        if again.clock is not None:
            draft.extra["from_time"] = again.clock
        at = again
    elif moment is not None:
        at = resolve_coming(moment, now)
        if at is not None:
            draft.extra["at"] = at
    kept = [
        piece for place, piece in enumerate(left) if at is None or not any(start <= place < end for start, end in cut)
    ]
    named = pieces[words - 1]
    kept = _without_bare_number(text, tokens, kept, draft)
    kept = [] if all(piece.kind == "break" for piece in kept) else kept
    if kept and all(piece.low in _AGAIN or piece.kind == "break" for piece in kept):
        # "remind me again tomorrow": what of is not said.
        kept, draft.extra["rest"] = [], "again"
    if words > 1 and pieces[words - 2].low == "remind" and named.low not in _REMINDED:
        draft.extra["who"] = (named.low, *others)
    said = _task(text, tokens, kept)
    if kept and kept[-1].low.endswith(" on") and "to_do" in kept[-1].roles and kept[-1] is not left[-1]:
        # "the fridge check on tuesday": the little word led to the day that was taken out.
        said = said.removesuffix(" on")
    if said:
        draft.extra["text"] = said
    return draft


def _others_reminded(pieces: list[Piece], words: int) -> list[str]:
    """The `ines` of `remind kim and ines sat to open`: those named after the first, each after a joint."""
    others: list[str] = []
    if pieces[words - 2 : words - 1] and pieces[words - 2].low != "remind":
        return others
    at = words
    while at + 2 < len(pieces) and pieces[at].low in ("and", "&", "+") and may_be_name(pieces[at + 1]):
        others.append(pieces[at + 1].low)
        at += 2
    return others


def _without_bare_number(text: str, tokens: list[Token], kept: list[Piece], draft: Draft) -> list[Piece]:
    """The pieces without `in 20`, which says no unit; it is kept as the rest."""
    if len(kept) < 2 or kept[0].low != "in" or kept[1].kind != "number" or (kept[2:3] and kept[2].low != "to"):
        return kept
    draft.extra["rest"] = as_typed(text, tokens, kept[0].first, kept[1].last)
    return kept[2:]


def _is_day(pieces: list[Piece], place: int) -> bool:
    """Whether `6/5` in a reminder is a day: after a word that says so, beside an hour, or first or last of all."""
    before = pieces[place - 1] if place else None
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    if before is None or after is None or before.low in ("on", "by", "for"):
        return True
    return before.kind == "moment" or after.kind == "moment"


def moment_at(pieces: list[Piece], place: int) -> tuple[int, int, Moment] | None:
    """The moment that begins at a place, with where it begins and ends; None where none does."""
    piece = pieces[place]
    before = pieces[place - 1] if place else None
    if before is not None and before.low in _BEING and piece.kind == "moment" and piece.value.names_day:
        # "remind us that the sale is april 17": what is to be remembered, not when.
        return None
    if piece.kind == "moment":
        start = (
            place - 1
            if before is not None and before.low in ("on", "at", "by", "for", "this", "come", "in", "around")
            else place
        )
        end = place + 1
        if end < len(pieces) and pieces[end].low in ("morning", "mornings") and piece.value.hour is None:
            end += 1
        return start, end, piece.value
    if piece.kind == "duration" and before is not None and before.low == "in":
        return place - 1, place + 1, Moment(ahead=piece.value[0])
    if (
        piece.kind == "duration"
        and place + 2 < len(pieces)
        and pieces[place + 1].low == "from"
        and pieces[place + 2].low == "now"
    ):
        return place, place + 3, Moment(ahead=piece.value[0])
    return None


def _task(text: str, tokens: list[Token], kept: list[Piece]) -> str:
    while kept and (
        (
            kept[0].low
            in (
                "to",
                "about",
                "re",
                "that",
                ":",
                ",",
                "-",
                "for",
                "of",
                "me",
                "we",
                "i",
                "on",
                "all",
                "all that",
                "at",
                "in",
                "should",
                "need to",
                "the",
                "please",
            )
            and kept[0].low not in ("the",)
        )
        or kept[0].kind in ("break", "dash")
    ):
        kept = kept[1:]
    while kept and (
        kept[-1].low in ("at", "please", "pls", "thanks", "thx", "thank you") or kept[-1].kind in ("break", "mark")
    ):
        kept = kept[:-1]
    if not kept:
        return ""
    parts: list[str] = []
    start = 0
    for step in range(1, len(kept) + 1):
        if step == len(kept) or kept[step].first != kept[step - 1].last:
            parts.append(as_typed(text, tokens, kept[start].first, kept[step - 1].last))
            start = step
    return " ".join(parts)
