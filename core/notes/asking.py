"""Is it a question, and what is it about: the openings of questions and the words that tell what is wanted.

Rules
1. A sentence is a question where it opens like one, or ends in a question mark and tells no deed.
2. What it is about is decided by the first rule that fits, from the most particular to the most general.
3. The act asked about is `did` where the question looks back ("did anyone water"); elsewhere its words stay in the rest.
"""

from __future__ import annotations

import re
from datetime import datetime
from functools import cache
from typing import Any, Final

from core.entries import Amount
from core.notes.clauses import Clause
from core.notes.drafts import Draft, rest_of
from core.notes.moments import resolve_coming, resolve_past
from core.notes.pieces import Piece
from core.notes.slots import joined
from core.notes.tokens import Token
from core.vocabulary.loading import read_toml

_AUX: Final = frozenset(
    {
        "is",
        "are",
        "was",
        "were",
        "did",
        "does",
        "do",
        "has",
        "have",
        "can",
        "could",
        "should",
        "will",
        "would",
        "am",
        "any",
        "anyone",
        "anybody",
        "may",
        "shall",
        "r",
        "u",
    }
)
_ASKERS: Final = frozenset(
    {
        "how",
        "what",
        "when",
        "where",
        "which",
        "who",
        "why",
        "whose",
        "hows",
        "how's",
        "whats",
        "what's",
        "wheres",
        "where's",
        "whens",
        "when's",
        "whos",
        "who's",
        "wat",
        "wut",
        "how'd",
        "who'd",
        "who've",
        "what're",
        "hwo",
        "hw",
        "wen",
        "wich",
        "whys",
    }
)
_PEOPLE: Final = frozenset(
    {
        "i",
        "we",
        "you",
        "anyone",
        "anybody",
        "someone",
        "somebody",
        "it",
        "they",
        "he",
        "she",
        "there",
        "the",
        "my",
        "our",
        "lot",
        "lots",
        "tray",
        "trays",
        "any",
        "anything",
        "this",
        "that",
        "these",
        "those",
        "it's",
        "all",
        "u",
        "one",
        "everyone",
        "everything",
    }
)
_POLITE: Final = frozenset(
    {
        "hi",
        "hey",
        "hello",
        "so",
        "ok",
        "and",
        "quick",
        "question",
        "please",
        "pls",
        "also",
        "btw",
        "but",
        "um",
        "sorry",
        "bot",
        ",",
    }
)


def begins_question(pieces: list[Piece], place: int) -> bool:
    """Whether a question begins at a piece (the first after a mark)."""
    at = place
    while at < len(pieces) and (pieces[at].low in _POLITE or pieces[at].kind == "mark") and at - place < 3:
        at += 1
    if at >= len(pieces) or pieces[at].kind == "break":
        return False
    if at > place and pieces[place].low not in _POLITE:
        return False
    first = pieces[at].low.split(" ")[0]
    following = [word for piece in pieces[at : at + 3] for word in piece.low.split(" ")][1:3]
    if first in _ASKERS:
        return not (
            first in ("when", "how", "which", "what", "who", "where") and first == "when" and _conditional(pieces, at)
        )
    if first in ("tell", "show", "list", "give", "count"):
        return _orders(pieces, at)
    if first in (
        "do",
        "did",
        "does",
        "is",
        "are",
        "was",
        "were",
        "has",
        "have",
        "can",
        "could",
        "should",
        "will",
        "would",
        "am",
    ):
        if (
            first == "did"
            and following
            and following[0] in ("all", "everything", "them", "it", "em", "that", "this", "both")
            and not _ends_asking(pieces, at)
        ):
            return False
        if (
            first in ("did", "do", "have")
            and following
            and following[0] in ("lot", "tray", "lots", "trays")
            and not _ends_asking(pieces, at)
        ):
            return first == "have"
        if (
            first in ("can", "could", "would", "will")
            and following
            and following[0] in ("someone", "somebody", "anyone", "you", "we")
            and not _ends_asking(pieces, at)
        ):
            return (
                following[0] == "we"
                and first == "can"
                and len(following) > 1
                and following[1] in ("stick", "sow", "pot", "start", "harden", "wean", "move", "plant", "sell")
            )
        return bool(following) and (
            following[0] in _PEOPLE
            or following[0] in ("bleach", "quat")
            or _ends_asking(pieces, at)
            or (first in ("is", "are", "did", "does") and _noun_follows(pieces, at))
        )
    if first in ("any", "anyone", "anybody"):
        return True
    return _ends_asking(pieces, at) and _no_deed(pieces, at)


def _noun_follows(pieces: list[Piece], at: int) -> bool:
    return at + 1 < len(pieces) and (
        "plant" in pieces[at + 1].roles or pieces[at + 1].kind == "word" or "cutting" in pieces[at + 1].roles
    )


def _conditional(pieces: list[Piece], at: int) -> bool:
    """`when they root, pot them`: a condition, not a question."""
    words = [word for piece in pieces[at : at + 4] for word in piece.low.split(" ")]
    if (
        len(words) > 1
        and words[1] in ("lot", "tray", "lots", "trays")
        and any("to_do" in piece.roles for piece in pieces[at:])
        and not _ends_asking(pieces, at)
    ):
        return True
    return (
        len(words) > 1
        and words[1] in ("they", "it", "roots", "the", "its", "it's")
        and not _ends_asking(pieces, at)
        and (words[2:3] or [""])[0] not in ("was", "were", "is", "are", "did")
    )


def _orders(pieces: list[Piece], at: int) -> bool:
    words = " ".join(piece.low for piece in pieces[at : at + 4])
    if words.startswith(
        (
            "list",
            "show me",
            "show lots",
            "show all",
            "show open",
            "show what",
            "tell me",
            "give me a list",
            "give me the list",
            "show trays",
        )
    ):
        return not any(
            "act" in piece.roles and piece.roles["act"].form == "done" and not piece.roles["act"].counts_before
            for piece in pieces[at:]
        )
    return False


def _ends_asking(pieces: list[Piece], at: int) -> bool:
    for piece in pieces[at:]:
        if piece.low == "?":
            return True
        if piece.low in (".", "\n", ";", "!"):
            return False
    return False


def _no_deed(pieces: list[Piece], at: int) -> bool:
    for piece in pieces[at:]:
        if piece.low in ("?", ".", "\n"):
            break
        word = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None and not word.counts_before and word.form == "done" and word.act not in ("check",):
            return piece.low in ("mixed", "fresh")
    return True


def is_question(pieces: list[Piece], tokens: list[Token]) -> bool:
    first = next((place for place, piece in enumerate(pieces) if piece.kind != "break"), None)
    return first is not None and begins_question(pieces, first)


def asks_at_end(pieces: list[Piece]) -> bool:
    """`heel vs tip for ceanothus, which is better?`: what is asked about stands before the question."""
    for place in range(1, len(pieces)):
        if pieces[place - 1].low == "," and begins_question(pieces, place):
            return not any(
                "act" in one.roles or "shared" in one.roles or one.kind == "number" or "plan" in one.roles
                for one in pieces[:place]
            )
    return False


@cache
def _rules() -> tuple[tuple[str, re.Pattern[str]], ...]:
    rules = read_toml("questions.toml")["about"]
    return tuple((rule["about"], re.compile(rule["says"])) for rule in rules)


@cache
def _small_words() -> frozenset[str]:
    return frozenset(read_toml("questions.toml")["small"]["words"])


def ask_of(pieces: list[Piece], tokens: list[Token], now: datetime) -> Draft:
    """The question that some pieces ask."""
    words = " ".join(piece.low for piece in pieces if piece.kind not in ("break", "mark")).replace("’", "'")
    words = re.sub(r"\s+", " ", words)
    about = next((about for about, says in _rules() if says.search(words)), "how")
    values: dict[str, Any] = {}
    about = _settled(about, words, pieces)
    values["about"] = about
    did_at = _did(pieces, about, words, values)
    _named(pieces, tokens, about, now, values)
    if about == "forecast" and values.get("state") == "ready":
        values.pop("state")
    clause = Clause("", pieces)
    for piece in pieces:
        if _is_small(piece):
            piece.used = True
    if did_at is not None:
        pieces[did_at].used = True
    rest = rest_of([clause], "", tokens) if False else _ask_rest(pieces, tokens)
    if rest:
        values["rest"] = rest
    draft = Draft("ask", None, [clause])
    draft.extra = values
    return draft


def _settled(about: str, words: str, pieces: list[Piece]) -> str:
    if about == "count" and any("solution" in piece.roles for piece in pieces):
        return "mix"
    return about


def _did(pieces: list[Piece], about: str, words: str, values: dict[str, Any]) -> int | None:
    if about not in ("history", "due"):
        return None
    if about == "due" and not re.search(r"\bwhen (is|are|do|does|should)\b", words):
        return None
    for place, piece in enumerate(pieces):
        for role in ("act", "to_do", "shared", "noun"):
            word = piece.roles.get(role)
            if word is None or (word.says.get("state") and role in ("act", "noun")):
                continue
            if role == "noun" and (about == "due" or "plant" in piece.roles or "medium" in piece.roles):
                continue
            if about == "due":
                return None
            values["did"] = word.act
            if "method" in word.says:
                values["method"] = word.says["method"]
            return place
    return None


def _named(pieces: list[Piece], tokens: list[Token], about: str, now: datetime, values: dict[str, Any]) -> None:
    cuttings: list[str] = []
    for place, piece in enumerate(pieces):
        if piece.used:
            continue
        roles = piece.roles
        if piece.kind in ("lots", "trays"):
            values[piece.kind] = tuple(dict.fromkeys((*values.get(piece.kind, ()), *piece.value)))
            piece.used = True
        elif piece.kind == "moment" and "on" not in values:
            found = (
                resolve_past(piece.value, now)
                if about == "history"
                else resolve_coming(piece.value, now) or resolve_past(piece.value, now)
            )
            if found is not None:
                values["on"] = found
                piece.used = True
        elif piece.kind == "amount" and "volume" not in values and about in ("mix", "how"):
            values["volume"] = Amount(value=piece.value[0], unit=piece.value[1])
            piece.used = True
        elif piece.kind == "colon" and "parts" not in values:
            values["parts"] = tuple(piece.value)
            piece.used = True
        elif "solution" in roles and "solution" not in values and about != "history":
            values["solution"] = roles["solution"]
            piece.used = True
        elif "hormone" in roles and about == "mix" and "solution" not in values:
            values["solution"] = "hormone"
            piece.used = True
        elif (
            "plant" in roles
            and "plant" not in values
            and about != "mix"
            and not (place and piece.low in ("plant", "plants"))
        ):
            name = joined(tokens, piece.first, piece.last)
            if place + 1 < len(pieces) and pieces[place + 1].kind == "quote":
                name += f" '{pieces[place + 1].value}'"
                pieces[place + 1].used = True
            values["plant"] = name
            piece.used = True
        elif "cutting" in roles and (
            about == "compare"
            or (about in ("plan", "how", "count", "forecast") and piece.low not in ("leaves", "leaf"))
        ):
            cuttings.append(roles["cutting"])
            piece.used = True
        elif (
            "act" in roles
            and roles["act"].says.get("state")
            and about in ("count", "list", "stock", "forecast", "history", "compare")
            and "did" not in values
        ):
            if about == "stock" and roles["act"].says["state"] == "ready":
                piece.used = True
            elif "state" not in values and about != "compare":
                values["state"] = roles["act"].says["state"]
                piece.used = True
        elif (
            "noun" in roles
            and roles["noun"].says.get("state")
            and about in ("count", "list", "forecast")
            and "state" not in values
        ):
            values["state"] = roles["noun"].says["state"]
            piece.used = True
        elif (
            piece.kind == "number"
            and about in ("plan", "mix", "how", "forecast", "stock", "count")
            and "count" not in values
            and piece.value.whole is not None
        ):
            values["count"] = piece.value.whole
            piece.used = True
    if cuttings:
        unique = tuple(dict.fromkeys(cuttings))
        values["cutting"] = unique if len(unique) > 1 else unique[0]


def _is_small(piece: Piece) -> bool:
    small = _small_words()
    if piece.kind in ("break", "mark", "dash"):
        return True
    return piece.low in small or all(word in small for word in piece.low.split(" "))


def _ask_rest(pieces: list[Piece], tokens: list[Token]) -> str:
    kept = [piece for piece in pieces if not piece.used]
    return " ".join(joined(tokens, piece.first, piece.last) for piece in kept)
