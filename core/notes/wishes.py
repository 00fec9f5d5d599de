"""Is it a wish of its own kind: a reminder, a target, a rule, or who is at the bench when.

`remind me friday to order perlite`, `need 75 snowberry by nov 1`, `weaning starts day 12 for salvia`, `odile is on sat 9-12`.
"""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any, Final

from core.notes.clauses import Clause
from core.notes.drafts import Draft, as_typed, rest_of
from core.notes.moments import Moment, resolve_coming
from core.notes.pieces import Piece
from core.notes.slots import Slots, _plant_as_texted, joined
from core.notes.tokens import Token

_REMIND: Final = (
    "remind me",
    "remind us",
    "remind",
    "reminder",
    "set a reminder",
    "set reminder",
    "ping me",
    "nudge me",
    "text me",
    "alert me",
    "dont let me forget",
    "don't let me forget",
)
_WANT: Final = frozenset(
    {
        "need",
        "needs",
        "want",
        "wants",
        "target",
        "goal",
        "aim",
        "aiming",
        "would like",
        "would like to",
        "needing",
        "wanting",
        "i need",
        "we need",
        "order",
        "wanted",
        "will need",
        "aim to",
        "gotta",
        "have to",
        "aiming to",
        "looking to",
        "must",
        "must have",
        "gotta have",
        "trying to",
    }
)
_WANT_FILLERS: Final = frozenset(
    {
        "we",
        "i",
        "our",
        "the",
        "is",
        "for",
        "a",
        "to",
        "have",
        "of",
        "us",
        "they",
        "school",
        "total",
        "at least",
        "will",
        "still",
        "going",
        "lets",
        "let's",
        "get",
        "make",
        "grow",
        "gonna",
    }
)
_DAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_ROSTER_VERBS: Final = frozenset(
    {
        "on",
        "works",
        "working",
        "is on",
        "is in",
        "in",
        "here",
        "covering",
        "covers",
        "on shift",
        "shift",
        "on duty",
        "there",
        "scheduled",
        "opening",
        "closing",
        "on the bench",
        "at the bench",
        "comes",
        "coming",
        "available",
        "around",
        "does",
        "doing",
        "has",
        "opens",
        "closes",
        "subbing",
        "volunteering",
        "every",
        "each",
        "weekly",
    }
)


def begins_wish(pieces: list[Piece], place: int) -> bool:
    """Whether a reminder or a target begins at a piece (the first after a mark)."""
    if _reminder_words(pieces, place):
        return True
    return _target_at(pieces, place) is not None and _opens_sentence(pieces, place)


def _opens_sentence(pieces: list[Piece], place: int) -> bool:
    return place == 0 or pieces[place - 1].low in (".", "\n", ";", "!")


def find_wishes(text: str, tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """The drafts of a sentence that is a reminder, target, rule or roster; None where it is something else."""
    solid = [piece for piece in pieces if piece.kind != "break"]
    if not solid:
        return None
    first = pieces.index(solid[0])
    words = _reminder_words(pieces, first)
    if words:
        return [_reminder(text, tokens, pieces[first:], words, now)]
    at = _target_at(pieces, first)
    if at is not None:
        found = _targets(text, tokens, pieces[first:], at - first, now)
        if found is not None:
            return found
    from core.notes.rules import rule_of

    ruled = rule_of(text, tokens, pieces)
    if ruled is not None:
        return [ruled]
    return _roster(text, tokens, pieces, now)


# --- reminders -------------------------------------------------------------------------------------------------------


def _reminder_words(pieces: list[Piece], place: int) -> int:
    """How many pieces the opening of a reminder takes; 0 where none begins here."""
    at = place
    while at < len(pieces) and pieces[at].low in (
        "please",
        "pls",
        "hey",
        "hi",
        "can you",
        "could you",
        "and",
        "also",
        "bot",
        "ok",
        "would you",
        "can",
        "you",
        ",",
    ):
        at += 1
    said = ""
    best = 0
    for step in range(at, min(at + 5, len(pieces))):
        said = f"{said} {pieces[step].low}".strip()
        if said in _REMIND:
            best = step + 1 - place
    if best and pieces[place + best - 1].low in ("remind",) and place + best < len(pieces):
        if pieces[place + best].kind == "word" or pieces[place + best].low in (
            "them",
            "everyone",
            "everybody",
            "all",
            "the crew",
            "crew",
            "me",
            "us",
        ):
            best += 1
    if (
        best
        and pieces[at].low == "text"
        and not any(piece.low == "to" or piece.kind in ("moment", "duration") for piece in pieces[place + best :])
    ):
        return 0
    return best


def _reminder(text: str, tokens: list[Token], pieces: list[Piece], words: int, now: datetime) -> Draft:
    left = pieces[words:]
    for place, piece in enumerate(left):
        if piece.kind == "fraction" and place and left[place - 1].low in ("on", "by", "for"):
            above, below = piece.value[:2]
            if 1 <= above <= 12 and 1 <= below <= 31:
                piece.kind, piece.value = "moment", Moment(month=above, day=below)
    at: Any = None
    cut: list[tuple[int, int]] = []
    moment: Moment | None = None
    for place, piece in enumerate(left):
        found = _moment_at(left, place)
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
    if moment is not None:
        at = resolve_coming(moment, now)
    draft = Draft("remind", None, [])
    if at is not None:
        draft.extra["at"] = at
        for start, end in list(cut):
            if start and left[start - 1].low in ("every", "each"):
                draft.extra["rest"] = as_typed(text, tokens, left[start - 1].first, left[end - 1].last)
                cut.append((start - 1, start))
    kept = [
        piece for place, piece in enumerate(left) if at is None or not any(start <= place < end for start, end in cut)
    ]
    named = pieces[words - 1]
    if named.kind == "word" and words > 1 and pieces[words - 2].low == "remind" and "rest" not in draft.extra:
        draft.extra["rest"] = as_typed(text, tokens, named.first, named.last)
    said = _task(text, tokens, kept)
    if said:
        draft.extra["text"] = said
    return draft


def _moment_at(pieces: list[Piece], place: int) -> tuple[int, int, Moment] | None:
    piece = pieces[place]
    before = pieces[place - 1] if place else None
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
        kept[0].low
        in (
            "to",
            "about",
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
            "at",
            "in",
            "should",
            "need to",
            "the",
            "please",
        )
        and kept[0].low not in ("the",)
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


# --- targets ---------------------------------------------------------------------------------------------------------


def _target_at(pieces: list[Piece], place: int) -> int | None:
    """Where the word of wanting stands, if a plant or a count is wanted and no act."""
    at = place
    wanted = _wanted_after(pieces, place)
    if wanted is not None:
        return wanted
    if at + 1 < len(pieces) and pieces[at].low == "must" and pieces[at + 1].low == "have":
        pieces[at + 1].used = True
    while (
        at < len(pieces)
        and pieces[at].low
        in (
            "we",
            "i",
            "our",
            "the",
            "so",
            "also",
            "and",
            "they",
            "school",
            "hey",
            "hi",
            "will",
            "still",
            "target",
            "is",
            "for",
            "i'd",
            "we'd",
            "we'll",
            "i'll",
            "gonna",
            "really",
            "going to",
            "lets",
            "let's",
        )
        and at - place < 4
        and pieces[at].low not in _WANT
    ):
        at += 1
    if at >= len(pieces) or pieces[at].low not in _WANT:
        return None
    named = counted = dated = False
    for step in range(at + 1, len(pieces)):
        piece = pieces[step]
        if piece.low in (".", "\n", ";", "!"):
            break
        if "plant" in piece.roles or piece.kind == "quote":
            named = True
        elif piece.kind in ("number",) and step - at <= 4:
            counted = True
        elif piece.kind == "moment":
            dated = True
        elif piece.kind in ("lots", "trays") and not counted:
            return None
        elif (
            ("to_do" in piece.roles or "act" in piece.roles or "shared" in piece.roles)
            and not named
            and not (counted and piece.roles.get("act") is not None and piece.roles["act"].counts_before)
        ):
            return None
    if pieces[at].low in ("have to", "gotta", "trying to", "must") and not (counted and named):
        return None
    unknown = any(piece.kind == "word" for piece in pieces[at + 1 : at + 5])
    return (
        at
        if named
        and (counted or dated or any("vague" in piece.roles for piece in pieces[at:]))
        or counted
        and (unknown or dated)
        and not _supplies(pieces, at)
        else None
    )


def _wanted_after(pieces: list[Piece], place: int) -> int | None:
    """`40 yarrow needed by april 12`: the wanting after a count and a plant."""
    for step in range(place, min(place + 7, len(pieces))):
        if pieces[step].kind == "break":
            return None
        if pieces[step].low in ("needed", "wanted", "required", "are needed", "is needed"):
            before = pieces[place:step]
            if (
                any(piece.kind == "number" for piece in before)
                and any("plant" in piece.roles for piece in before)
                and not any("act" in piece.roles for piece in before)
            ):
                pieces[step].used = True
                return place
            return None
    return None


def _supplies(pieces: list[Piece], at: int) -> bool:
    return any(
        "medium" in piece.roles
        or "container" in piece.roles
        or "thing" in piece.roles
        or "solution" in piece.roles
        or piece.kind in ("amount", "duration", "size")
        for piece in pieces[at:]
    )


def _targets(text: str, tokens: list[Token], pieces: list[Piece], at: int, now: datetime) -> list[Draft] | None:
    runs: list[list[Piece]] = [[]]
    for place in range(at, len(pieces)):
        piece = pieces[place]
        if (
            piece.low in ("and", "&", ",", "\n", "+", "plus")
            and runs[-1]
            and _counts_anew(pieces, place + 1)
            and any(one.kind == "number" for one in runs[-1])
        ):
            runs.append([])
            continue
        runs[-1].append(piece)
    for piece in pieces[:at]:
        piece.used = True
    drafts = [_target(text, tokens, run, now) for run in runs if run]
    shared = next((draft.extra.get("due") for draft in reversed(drafts) if draft.extra.get("due")), None)
    last_only = len(drafts) > 1 and all("due" not in draft.extra and not draft.asks for draft in drafts[:-1])
    if shared is not None and last_only:
        for draft in drafts[:-1]:
            draft.extra["due"] = shared
    return drafts


def _counts_anew(pieces: list[Piece], at: int) -> bool:
    while at < len(pieces) and "filler" in pieces[at].roles and pieces[at].kind == "phrase":
        at += 1
    return (
        at + 1 < len(pieces)
        and pieces[at].kind == "number"
        and ("plant" in pieces[at + 1].roles or pieces[at + 1].kind in ("word", "quote"))
    )


def _target(text: str, tokens: list[Token], run: list[Piece], now: datetime) -> Draft:
    clause = Clause("", run)
    clause.act = "target"
    slots = Slots(clause, tokens, now)
    draft = Draft("target", None, [clause])  # its subject is carried to a question after it
    run[0].used = run[0].used or run[0].low in _WANT
    moment: Moment | None = None
    seen: list[Piece] = []
    for place, piece in enumerate(run):
        if (
            piece.kind == "fraction"
            and place
            and run[place - 1].low in ("by", "for", "on", "before")
            and 1 <= piece.value[0] <= 12
            and 1 <= piece.value[1] <= 31
        ):
            piece.kind, piece.value = "moment", Moment(month=piece.value[0], day=piece.value[1])
        if piece.kind == "moment":
            moment = piece.value if moment is None else moment.joined(piece.value) or moment
            seen.append(piece)
        elif piece.kind == "duration" and place and run[place - 1].low in ("in", "within"):
            moment = Moment(ahead=piece.value[0])
            seen.append(piece)
        elif piece.kind == "number" and "count" not in draft.extra and piece.value.whole is not None:
            draft.extra["count"] = piece.value.whole
            if piece.value.approx:
                draft.extra["approx"] = True
            if piece.value.high is not None:
                draft.extra["count_max"] = int(piece.value.high)
            piece.used = True
    if moment is not None:
        due = resolve_coming(moment, now)
        if due is not None:
            draft.extra["due"] = due.date() if isinstance(due, datetime) else due
            for piece in seen:
                piece.used = True
        else:
            draft.asks.append("date")
    known = next((piece for piece in run if "plant" in piece.roles), None)
    if known is None:
        end = next(
            (place for place, piece in enumerate(run) if place and piece.low in ("by", "for", "before", "in", "on")),
            len(run),
        )
        _plant_as_texted(slots, run[:end])
    else:
        _plant_as_texted(slots, run)
    if slots.values.get("plant"):
        draft.extra["plant"] = slots.values["plant"]
    return draft


# --- rosters ---------------------------------------------------------------------------------------------------------


def _roster(text: str, tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """Names, a day, and hours or a word of being there; nothing of the bench's work beside them."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark")]
    if len(solid) > 24 or any(_is_work(piece) for piece in solid):
        return None
    names, end = _names(pieces)
    if not names:
        return None
    told: dict[str, Any] = {}
    every = any(piece.low in ("every", "each", "weekly") for piece in pieces) or any(
        piece.kind == "moment"
        and piece.low.endswith("s")
        and piece.value.weekday is not None
        and piece.low not in ("tues", "thurs", "weds")
        for piece in pieces
    )
    verbs = any(
        piece.low.endswith("'s") or piece.low in _ROSTER_VERBS or piece.low.split(" ")[0] in ("covering", "works")
        for piece in pieces[end:]
    )
    shift = any(piece.low in ("shift", "roster", "schedule") for piece in pieces)
    days: list[int] = []
    on: date | None = None
    for piece in pieces:
        if piece.kind != "moment":
            continue
        moment: Moment = piece.value
        if moment.weekday is not None:
            days.append(moment.weekday)
        if moment.names_day and on is None:
            found = resolve_coming(
                Moment(
                    days=moment.days,
                    weekday=moment.weekday,
                    which=moment.which,
                    year=moment.year,
                    month=moment.month,
                    day=moment.day,
                ),
                now,
            )
            on = found.date() if isinstance(found, datetime) else found
    hours = _hours(pieces[end:])
    if on is None and not every or not (hours or verbs or shift):
        return None
    if every and days:
        told["every"] = tuple(_DAYS[day] for day in dict.fromkeys(days))
    elif on is not None:
        told["on"] = on
    told["who"] = tuple(names)
    if hours:
        if hours[0] is not None:
            told["from_time"] = hours[0]
        if hours[1] is not None:
            told["until"] = hours[1]
    draft = Draft("roster", None, [Clause("", pieces)])
    draft.extra = told
    others = []
    if not every:
        for day in list(dict.fromkeys(days))[1:]:
            other = Draft("roster", None, [Clause("", [])])
            found = resolve_coming(Moment(weekday=day), now)
            other.extra = {**told, "on": found}
            others.append(other)
    for piece in pieces[: end + 1]:
        piece.used = True
    for piece in pieces:
        if (
            piece.kind in ("moment", "number", "colon", "dash")
            or piece.low in _ROSTER_VERBS
            or piece.low
            in (
                "every",
                "each",
                "shift",
                "bench",
                "the bench",
                "noon",
                "weekly",
                "roster",
                "schedule",
                "till",
                "until",
                "both",
                "back",
                "is",
                "will be",
                "will",
                "this",
                "next",
            )
        ):
            piece.used = True
    return [draft, *others]


def _is_work(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared")
    if word is not None and piece.low not in ("covered", "covering"):
        return True
    return (
        piece.kind in ("lots", "trays", "duration", "temp", "amount", "size", "ppm")
        or "plant" in piece.roles
        and piece.low
        not in (
            "rose",
            "sage",
            "ivy",
            "iris",
            "lily",
            "fern",
            "heather",
            "holly",
            "laurel",
            "olive",
            "hazel",
            "juniper",
            "ash",
            "aspen",
            "willow",
            "poppy",
            "rush",
            "basil",
            "clover",
            "rosemary",
            "violet",
            "daisy",
            "reed",
            "bay",
        )
    )


def _names(pieces: list[Piece]) -> tuple[list[str], int]:
    names: list[str] = []
    at = 0
    while at < len(pieces) and (
        pieces[at].low
        in ("shift", "roster", "schedule", ":", "new", "shifts", "on shift", "for", "on", "at the bench", "bench")
        or pieces[at].kind == "moment"
        and pieces[at].low not in ("june", "may", "april")
    ):
        at += 1
    while at < len(pieces):
        piece = pieces[at]
        named = (
            piece.kind == "word"
            and piece.low.removesuffix("'s").isalpha()
            or piece.kind == "phrase"
            and "plant" in piece.roles
            or piece.kind == "person"
        )
        if named and piece.low not in _ROSTER_VERBS and "filler" not in piece.roles:
            names.append(piece.low.removesuffix("'s"))
        elif not (names and (piece.low in ("and", "&", ",", "+"))):
            break
        at += 1
    if names and pieces[at - 1].low.endswith("'s"):
        at -= 1
    return (names, at) if len(names) <= 6 else ([], 0)


def _hours(pieces: list[Piece]) -> tuple[time | None, time | None] | None:
    """`9-12`, `1-4pm`, `8am to noon`, `10am-2pm`, `14:00-17:00`, `from 9`, `till 1`."""
    clocks: list[tuple[int, int, str]] = []
    until_first = False
    for place, piece in enumerate(pieces):
        if piece.kind == "number" and piece.value.whole is not None and 1 <= piece.value.value <= 23:
            half = ""
            if place + 1 < len(pieces) and pieces[place + 1].low in ("am", "pm"):
                half = pieces[place + 1].low
            clocks.append((int(piece.value.value), 0, ""))
            if piece.value.high is not None and piece.value.high <= 23:
                clocks.append((int(piece.value.high), 0, half))
        elif piece.kind == "moment" and piece.value.hour is not None:
            clocks.append((piece.value.hour, piece.value.minute, piece.value.half))
        elif piece.kind == "colon":
            hour, minute = piece.value
            if isinstance(hour, int) and isinstance(minute, int) and hour < 24 and minute < 60:
                clocks.append((hour, minute, ""))
        if piece.low in ("till", "until", "til", "by") and not clocks:
            until_first = True
        if piece.low.startswith(("until ", "till ", "til ")) and len(clocks) == 1:
            until_first = True
    if not clocks:
        return None
    if len(clocks) == 1:
        one = _clock(clocks[0], "am" if not until_first else "")
        return (None, one) if until_first else (one, None)
    first, second = clocks[0], clocks[1]
    return _shift(first, second)


def _shift(first: tuple[int, int, str], second: tuple[int, int, str]) -> tuple[time | None, time | None]:
    half = first[2]
    if not half and second[2] == "pm":
        half = "pm" if first[0] < second[0] and first[0] != 12 and second[0] != 12 else "am"
        if second[0] == 12:
            half = "am"
    start = _clock((first[0], first[1], half), "")
    end = _clock(second, "")
    if start is not None and end is not None and end <= start and end.hour < 12:
        end = time(end.hour + 12, end.minute)
    return start, end


def _clock(clock: tuple[int, int, str], fallback: str) -> time | None:
    hour, minute, half = clock
    if half == "am":
        hour %= 12
    elif half == "pm":
        hour = hour % 12 + 12
    elif not half and not fallback and hour < 7:
        hour += 12
    return time(hour, minute) if hour < 24 else None


__all__ = ["begins_wish", "find_wishes", "joined", "rest_of"]
