"""Is the whole note talk with the bot: a greeting, an answer to a reminder, an undo or a correction.

Rules
1. These are read only where the note holds nothing else; a correction keeps what it does not use as rest.
2. A correction that tells a deed (`oops, lost 4 in tray 3`) is that deed.
"""

from __future__ import annotations

import re
from datetime import datetime
from functools import cache
from typing import Any, Final

from core.notes.clauses import Clause
from core.notes.drafts import Draft
from core.notes.filling import fill
from core.notes.moments import resolve_past
from core.notes.pieces import Piece
from core.notes.slots import Slots
from core.notes.things import plant_as_texted as _plant_as_texted
from core.notes.tokens import Token
from core.vocabulary.loading import plain_words, read_toml

_TRIM: Final = re.compile(r"^[\s.!,;:)(*~\"-]+|[\s.!,;:)(*~\"-]+$")
_SPACES: Final = re.compile(r"\s+")
_GREET_WORDS: Final = ("greeting", "thanks", "help")


@cache
def _phrases() -> dict[str, tuple[str, str]]:
    """Whole notes that are talk: the words -> (act, value)."""
    found: dict[str, tuple[str, str]] = {}
    cues = read_toml("cues.toml")
    for role, want in (("help", "help"), ("thanks", "thanks"), ("greeting", "hi")):
        found.update(dict.fromkeys(cues[role], ("hello", want)))
    talk = read_toml("talk.toml")
    for answer, phrases in talk["reply"].items():
        found.update(dict.fromkeys(phrases, ("reply", answer)))
    found.update(dict.fromkeys(talk["undo"]["says"], ("undo", "")))
    return found


@cache
def _openers() -> tuple[str, ...]:
    return tuple(sorted(read_toml("talk.toml")["amend"]["opens"], key=len, reverse=True))


@cache
def _asides() -> tuple[frozenset[str], frozenset[str]]:
    talk = read_toml("talk.toml")
    return frozenset(talk["aside"]["before"]), frozenset(talk["aside"]["after"])


def whole_note(text: str, tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """The drafts of a note that is talk from end to end; None where it is not."""
    if len(tokens) > 40:
        return None
    words = " ".join(token.low for token in tokens if token.kind not in ("mark", "line") or token.low in "?/")
    said = _SPACES.sub(" ", "".join(_spaced(token) for token in tokens if _speaks(token))).strip()
    bare = _TRIM.sub("", said)
    simple = _simple(bare, words)
    if simple is not None:
        return [simple]
    answer = _answer(bare, pieces)
    if answer is not None:
        return [answer]
    return _amend(text, tokens, pieces, bare, now) or _renamed(tokens, pieces, now)


def _renamed(tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """`lot 7 is toyon, not coffeeberry`: what was said of a lot before is corrected."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark")]
    if (
        len(solid) < 5
        or solid[0].kind not in ("lots", "trays")
        or solid[1].low not in ("is", "was", "are", "were", "should be", "is actually", "was actually")
    ):
        return None
    stop = next((place for place, piece in enumerate(pieces) if piece.low in ("not", "instead of", "rather than")), 0)
    if (
        not stop
        or not any(
            "plant" in piece.roles or "cutting" in piece.roles or "medium" in piece.roles for piece in pieces[:stop]
        )
        or any("act" in piece.roles or "shared" in piece.roles for piece in pieces)
    ):
        return None
    clause = Clause("", pieces[:stop])
    clause.act = "amend"
    slots = Slots(clause, tokens, now)
    _correct(slots, clause.pieces, now)
    return [Draft("amend", slots, [Clause("", pieces)])]


def _spaced(token: Token) -> str:
    return token.low if token.glued else f" {token.low}"


def _speaks(token: Token) -> bool:
    return token.kind not in ("mark",) or (token.low in "?/'&%:,.-#" and token.low != "")


def _simple(bare: str, words: str) -> Draft | None:
    known = _phrases()
    before, after = _asides()
    candidates = [bare, bare.rstrip("?"), bare.replace(",", "")]
    plain = bare.replace(",", "").split(" ")
    if len(plain) > 1 and plain[0] in before:
        candidates.append(" ".join(plain[1:]))
    if len(plain) > 1 and plain[-1] in after:
        candidates.append(" ".join(plain[:-1]))
    if len(plain) > 2 and plain[0] in before and plain[-1] in after:
        candidates.append(" ".join(plain[1:-1]))
    if not bare and words.strip("? ") == "" and "?" in words:
        candidates.append("?")
    for candidate in candidates:
        meaning = known.get(candidate)
        if meaning is not None:
            draft = Draft(meaning[0], None, [])
            key = {"hello": "want", "reply": "answer"}.get(meaning[0])
            if key:
                draft.extra[key] = meaning[1]
            return draft
    if (
        len(plain) == 2
        and plain[1].isalpha()
        and known.get(plain[0], ("", ""))[0] == "hello"
        and plain[1] not in plain_words()
    ):
        draft = Draft("hello", None, [])
        draft.extra["want"] = known[plain[0]][1]
        return draft
    parts = [part.strip() for part in re.split(r"[,.!;]| and ", bare) if part.strip()]
    if len(parts) == 2 and all(part in known for part in parts):
        meanings = [known[part] for part in parts]
        if meanings[0][0] == meanings[1][0] == "hello":
            draft = Draft("hello", None, [])
            draft.extra["want"] = next((want for _, want in meanings if want != "hi"), "hi")
            return draft
        for act, value in meanings:
            if act in ("reply", "undo"):
                draft = Draft(act, None, [])
                if act == "reply":
                    draft.extra["answer"] = value
                return draft
    return None


def _answer(bare: str, pieces: list[Piece]) -> Draft | None:
    """`done all but tray 3`, `later, 30 min`, `in an hour`, `done 14 not 22`."""
    plain = bare.replace(",", "")
    draft = Draft("reply", None, [])
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash")]
    lows = [piece.low for piece in solid]
    if not lows:
        return None
    subjects = [piece for piece in solid if piece.kind in ("lots", "trays")]
    talk = read_talk()
    lead = next((phrase for phrase in talk["later"] if plain == phrase or plain.startswith(phrase + " ")), None)
    length = next((piece for piece in solid if piece.kind == "duration"), None)
    if lead is not None:
        others = [
            piece
            for piece in solid
            if piece is not length
            and piece.low not in lead.split()
            and piece.low != lead
            and "filler" not in piece.roles
        ]
        if length is not None and not others:
            draft.extra.update(answer="later", duration=length.value[0])
            return draft
        return None
    if (
        length is not None
        and lows[0] in ("in", "give me")
        and all(piece is length or "filler" in piece.roles or piece.low in ("in", "give me") for piece in solid)
    ):
        draft.extra.update(answer="later", duration=length.value[0])
        return draft
    lead = next((phrase for phrase in talk["done"] if plain.startswith(phrase + " ")), None)
    if lead is None or not subjects:
        return None
    count = len(lead.split())
    after = (
        " ".join(lows)[len(lead) :].strip() if " ".join(lows).startswith(lead) else " ".join(plain.split(" ")[count:])
    )
    for phrase in talk["except"]:
        if after.startswith(phrase + " ") and all(
            piece in subjects
            or "filler" in piece.roles
            or "left" in piece.roles
            or piece.low in _EXCEPT_WORDS
            or piece.low in lead
            for piece in solid
        ):
            from core.entries import Exceptions

            named: dict[str, tuple[str, ...]] = {"lots": (), "trays": ()}
            for piece in subjects:
                named[piece.kind] += piece.value
            draft.extra.update(answer="done", but=Exceptions(lots=named["lots"], trays=named["trays"]))
            return draft
    if all(
        piece in subjects or "filler" in piece.roles or piece.low in lead.split() or piece.low == lead
        for piece in solid
    ) and lows[0] in ("done", "finished", "did it", "all done"):
        draft.extra["answer"] = "done"
        for piece in subjects:
            draft.extra[piece.kind] = draft.extra.get(piece.kind, ()) + piece.value
        return draft
    return None


_EXCEPT_WORDS: Final = frozenset(
    {
        "all",
        "but",
        "except",
        "not",
        "everything",
        "for",
        "besides",
        "excluding",
        "done",
        "did",
        "everything but",
        "except for",
        "all but",
        "all except",
        "yes",
        "all done",
        "minus",
    }
)


@cache
def read_talk() -> dict[str, list[str]]:
    """The openings of answers, longest first."""
    talk = read_toml("talk.toml")
    return {
        "later": sorted(talk["reply"]["later"], key=len, reverse=True),
        "done": sorted(talk["reply"]["done"], key=len, reverse=True),
        "except": sorted(talk["but"]["says"], key=len, reverse=True),
    }


def _amend(text: str, tokens: list[Token], pieces: list[Piece], bare: str, now: datetime) -> list[Draft] | None:
    opener = next(
        (
            phrase
            for phrase in _openers()
            if bare == phrase or (bare.startswith(phrase) and not bare[len(phrase)].isalnum())
        ),
        None,
    )
    if opener is None:
        return None
    opened = opener
    left = _after(bare, opener)
    while True:
        more = next(
            (
                phrase
                for phrase in _openers()
                if left == phrase or left.startswith(phrase + " ") or left.startswith(phrase + ",")
            ),
            None,
        )
        if more is None:
            break
        opened, left = more, _after(left, more)
    begin = len(pieces)
    wanted = _letters(left)
    for place in range(len(pieces)):
        if (
            _letters("".join(tokens[step].low for piece in pieces[place:] for step in range(piece.first, piece.last)))
            == wanted
        ):
            begin = place
            break
    told = pieces[begin:]
    return _correction(text, tokens, pieces, told, opened, now)


def _after(bare: str, opener: str) -> str:
    return bare[len(opener) :].lstrip(" ,.:;-!")


def _letters(words: str) -> str:
    return "".join(mark for mark in words if mark.isalnum())


def _correction(
    text: str, tokens: list[Token], pieces: list[Piece], told: list[Piece], opened: str, now: datetime
) -> list[Draft] | None:
    weak = opened in read_toml_weak()
    deeds = [
        piece
        for piece in told
        if ("act" in piece.roles or "shared" in piece.roles)
        and not (piece.roles.get("act") is not None and piece.roles["act"].says.get("state"))
    ]
    if (deeds and weak) or len(told) > 14:
        return None
    if not told or all(piece.kind in ("break", "mark") for piece in told):
        return None
    stop = next(
        (place for place, piece in enumerate(told) if piece.low in ("not", "instead of", "rather than") and place),
        len(told),
    )
    if weak and (not _corrects(told) or any("place_word" in piece.roles for piece in told)):
        return None
    clause = Clause("", told[:stop])
    clause.act = "amend"
    slots = Slots(clause, tokens, now)
    draft = Draft("amend", slots, [Clause("", told)])
    _correct(slots, clause.pieces, now)
    if not slots.values and not slots.asks:
        return None if weak else [draft]
    return [draft]


@cache
def read_toml_weak() -> frozenset[str]:
    return frozenset(read_toml("talk.toml")["amend"]["weak"])


def _corrects(told: list[Piece]) -> bool:
    """After a weak opener (`oops`, `actually`) a correction is short: a number, a subject, a name, with little else."""
    solid = [piece for piece in told if piece.kind not in ("break", "mark", "dash") and "filler" not in piece.roles]
    if not solid:
        return False
    return solid[0].kind in ("number", "lots", "trays", "moment", "ppm", "duration", "temp", "size", "fraction") or any(
        role in solid[0].roles for role in ("plant", "cutting", "medium", "wood")
    )


def _correct(slots: Slots, pieces: list[Piece], now: datetime) -> None:
    """Any detail that a correction names."""
    for place, piece in enumerate(pieces):
        roles = piece.roles
        if piece.kind in ("lots", "trays"):
            slots.put(piece.kind, piece.value, piece)
        elif piece.kind == "moment":
            found = resolve_past(piece.value, now)
            if found is not None:
                slots.put("on", found, piece)
            else:
                slots.asks.append("date")
        elif piece.kind == "number":
            _corrected_number(slots, piece)
        elif piece.kind == "fraction" and piece.value[0] <= piece.value[1]:
            slots.put("count", piece.value[0], piece)
            slots.put("of", piece.value[1], piece)
        elif piece.kind == "duration":
            slots.put("duration", piece.value[0], piece)
        elif piece.kind == "temp":
            slots.put("temp_c", piece.value, piece)
        elif piece.kind == "ppm":
            slots.values.setdefault("hormone", {})["ppm"] = piece.value
            piece.used = True
        elif piece.kind == "size":
            slots.put("container", {"kind": "pot", "size": piece.value}, piece)
        elif "plant" in roles:
            name = piece.low
            if place + 1 < len(pieces) and pieces[place + 1].kind == "quote":
                name += f" '{pieces[place + 1].value}'"
                pieces[place + 1].used = True
            slots.put("plant", name, piece)
        elif "act" in roles and roles["act"].act == "check" and roles["act"].says.get("state"):
            slots.put("state", roles["act"].says["state"], piece)
        elif "act" in roles and roles["act"].says.get("method"):
            slots.put("method", roles["act"].says["method"], piece)
        else:
            for role in (
                "cutting",
                "wood",
                "medium",
                "solution",
                "container",
                "pot_size",
                "cause",
                "hormone_form",
                "hormone_name",
            ):
                if role in roles:
                    _corrected_word(slots, piece, role)
                    break


def _corrected_number(slots: Slots, piece: Piece) -> None:
    number = piece.value
    if number.whole is None or slots.values.get("count") is not None:
        return
    slots.put("count", number.whole, piece)
    if number.of is not None:
        slots.values["of"] = number.of
    if number.approx:
        slots.values["approx"] = True
    if number.high is not None:
        slots.values["count_max"] = int(number.high)


def _corrected_word(slots: Slots, piece: Piece, role: str) -> None:
    value: Any = piece.roles[role]
    if role in ("hormone_form", "hormone_name"):
        slots.values.setdefault("hormone", {})[role.split("_")[1]] = value
        piece.used = True
    elif role in ("container", "pot_size"):
        slots.put("container", {"kind": "pot", "size": value} if role == "pot_size" else {"kind": value}, piece)
    else:
        slots.put(role, value, piece)


__all__ = ["_plant_as_texted", "fill", "whole_note"]
