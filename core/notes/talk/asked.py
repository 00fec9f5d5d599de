"""What is a question about, and what does it name.

Rules
1. The first rule of questions.toml that fits decides, from the most particular to the most general.
2. The act asked about is `did` where the question looks back ("did anyone water"); elsewhere its words stay in the
   rest.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from typing import Any, Final

from core.entries import Amount
from core.notes.acts.slots import joined
from core.notes.days.moments import resolve_coming, resolve_past
from core.notes.details.bare_numbers import LEAST_STRENGTH
from core.notes.details.drafts import Draft
from core.notes.parting.clauses import Clause
from core.notes.talk.asking import is_bare, is_tag
from core.notes.talk.did_asked import act_asked
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import SUBJECTS, Piece
from core.notes.words.runs import Runs
from core.notes.words.tokens import Token
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import read_toml, small_words

_OVER: Final = small_words("questions", "over")
_SLOT: Final = re.compile(r"[a-kn-z]\d{1,2}")
_STRUCTURES: Final = small_words("places", "structures")
_ASKING: Final = frozenset({"what", "whats", "what's", "which", "how", "why"})
_OF_CUTTINGS: Final = frozenset({"plan", "how", "count", "forecast", "history"})
_OF_STATES: Final = frozenset({"count", "list", "stock", "forecast", "history", "compare"})
_OF_COVERS: Final = frozenset({"mix", "plan", "list"})
_OF_COUNTS: Final = frozenset({"plan", "mix", "how", "forecast", "stock", "count"})
_OF_LOTS: Final = frozenset({"history", "where", "who", "count"})
_BEFORE_LOT: Final = small_words("questions", "before_lot")
_MAY: Final = frozenset({"can", "could", "may", "should", "shall", "do", "must"})


@cache
def _rules() -> tuple[tuple[dict[str, str], re.Pattern[str]], ...]:
    """What questions are about, the act or the state that some ask of, and their words, the first to be tried first."""
    rules = read_toml("questions.toml")["about"]
    return tuple((rule, re.compile(rule["says"])) for rule in rules)


def _asked_by(rule: dict[str, str]) -> dict[str, str]:
    """The act that a rule asks of, its way, and the state."""
    return {name: rule[name] for name in ("did", "method", "state") if name in rule}


@cache
def _small_words() -> frozenset[str]:
    return frozenset(read_toml("questions.toml")["small"]["words"])


def ask_of(pieces: list[Piece], tokens: list[Token], now: datetime) -> Draft:
    """The question that some pieces ask."""
    words = " ".join(piece.low for piece in pieces if piece.kind not in ("break", "mark")).replace("’", "'")
    words = re.sub(r"\s+", " ", words)
    words = re.sub(r"^hw(?= (?:many|much|do|is|long|old))", "how", words)
    rule, found = next(((rule, found) for rule, says in _rules() if (found := says.search(words))), ({}, None))
    about = _settled(rule.get("about") or _told_about(pieces), words, pieces)
    values: dict[str, Any] = {"about": about, **_asked_by(rule)}
    _hush(pieces, about)
    if "did" in rule:
        deed = found.groupdict().get("deed") if found else None
        did_at = next((at for at, one in enumerate(pieces) if one.low == deed or _says_it(one, rule["did"])), None)
    else:
        did_at = act_asked(pieces, about, words, values)
    _named(pieces, tokens, about, now, values)
    if about == "forecast" and values.get("state") == "ready":
        values.pop("state")
    clause = Clause("", pieces)
    for piece in pieces:
        covers = about in _OF_COVERS and "cover_noun" in piece.roles
        if (_is_small(piece) and not covers) or (about == "where" and piece.low in _STRUCTURES) or _sells(piece, about):
            piece.used = True
    if did_at is not None:
        pieces[did_at].used = True
    tag = next((at for at in range(1, len(pieces)) if is_tag(pieces, at)), len(pieces))
    for piece in pieces[tag:]:
        piece.used = True
    rest = _ask_rest(pieces, tokens)
    if rest:
        values["rest"] = rest
    draft = Draft("ask", None, [clause])
    draft.extra = values
    return draft


def _says_it(piece: Piece, did: str) -> bool:
    """Whether a word says the act that a question asks of."""
    word = piece.roles.get("act")
    return "temp_word" in piece.roles or (word is not None and word.act == did)


@cache
def _quiet(about: str) -> Runs:
    """What asks nothing more beside what a question is about (`end up` beside `where`)."""
    quiet = read_toml("questions.toml")["quiet"]
    return Runs((*quiet["any"], *quiet.get(about, ())))


def _hush(pieces: list[Piece], about: str) -> None:
    """Takes every meaning from words that ask nothing more (`how many will we end up with`), in place."""
    quiet, at = _quiet(about), 0
    while at < len(pieces):
        end = quiet.end_at(pieces, at) if pieces[at].low in quiet.heads else 0
        for piece in pieces[at:end]:
            piece.roles, piece.used = {"filler": True}, True
        at = max(at + 1, end)


def _sells(piece: Piece, about: str) -> bool:
    word, state = piece.roles.get("to_do"), piece.roles.get("act")
    free = state is not None and state.act == "clear" and " to sell" in piece.low
    return about == "stock" and (free or (word is not None and word.act == "sell"))


def _told_about(pieces: list[Piece]) -> str:
    """What a question without a word for asking is about: whether it was done, how many, or when it can be."""
    if any(piece.low.split(" ")[0] in _ASKING for piece in pieces):
        return "how"
    if next((piece.low for piece in pieces if piece.kind != "break"), "") == "any":
        return "history"
    for piece in pieces:
        word = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None and piece.kind in ("phrase", "word"):
            return "plan" if is_bare(piece) else "count" if word.says.get("state") else "history"
    if any("to_do" in piece.roles for piece in pieces):
        return "plan"
    if any("cover_noun" in piece.roles for piece in pieces):
        return "open"
    return "history" if any(piece.kind in ("lots", "trays") for piece in pieces) else "how"


def _settled(about: str, words: str, pieces: list[Piece]) -> str:
    if about == "count" and any("solution" in piece.roles for piece in pieces):
        return "mix"
    return about


@dataclass
class _Question:
    """What a question is about, and what it was found to name so far."""

    pieces: list[Piece]
    tokens: list[Token]
    about: str
    now: datetime
    values: dict[str, Any]
    cuttings: list[str] = field(default_factory=list)

    def lacks(self, name: str) -> bool:
        return name not in self.values


def _named(pieces: list[Piece], tokens: list[Token], about: str, now: datetime, values: dict[str, Any]) -> None:
    """Takes what each piece names into the values; the first reading of a piece that fits uses it."""
    _bare_names(pieces, about, values)
    asked = _Question(pieces, tokens, about, now, values)
    for place, piece in enumerate(pieces):
        if not piece.used:
            piece.used = any(names(asked, place, piece) for names in _NAMING)
    unique = tuple(dict.fromkeys(asked.cuttings))
    if unique:
        values["cutting"] = unique if len(unique) > 1 else unique[0]


def _names_subject(asked: _Question, _: int, piece: Piece) -> bool:
    if piece.kind not in ("lots", "trays"):
        return False
    asked.values[piece.kind] = tuple(dict.fromkeys((*asked.values.get(piece.kind, ()), *piece.value)))
    return True


def _names_other(asked: _Question, place: int, piece: Piece) -> bool:
    """`is lot 5 or 6 doing better`: the other of the two that are compared."""
    lead = asked.pieces[max(0, place - 2) : place]
    joined_to = len(lead) > 1 and lead[0].kind in SUBJECTS and lead[1].low == "or"
    if asked.about != "compare" or not joined_to or piece.kind != "number" or not piece.low.isdigit():
        return False
    asked.values[lead[0].kind] = (*asked.values.get(lead[0].kind, ()), piece.low)
    return True


def _names_pot(asked: _Question, place: int, piece: Piece) -> bool:
    """`how many 4 in sage do we have`: the size of their pots, and no count; it stays in the rest."""
    after = asked.pieces[place + 1 : place + 3]
    sized = len(after) > 1 and after[0].low == "in" and "plant" in after[1].roles
    if piece.kind == "number" and asked.about in ("count", "stock") and sized:
        piece.kind, piece.last = "size", after[0].last
        after[0].used = True
    return False


def _looks_back(pieces: list[Piece]) -> bool:
    """`who was here sat`, `who stuck lot 9 mon`: a past of "to be", or a deed."""
    return any(piece.low in _OVER or _is_done(piece) for piece in pieces)


def _is_done(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.form == "done" and not word.counts_before and not piece.low.endswith("ing")


def _names_day(asked: _Question, place: int, piece: Piece) -> bool:
    """`who was here saturday`, `is the dip from friday still good` look back, `who is here saturday` ahead."""
    if piece.kind != "moment" or not asked.lacks("on"):
        return False
    past = resolve_past(piece.value, asked.now)
    made = asked.about == "mix" and place > 0 and asked.pieces[place - 1].low in ("from", "of")
    since = place > 0 and asked.pieces[place - 1].low.split(" ")[-1] == "since"
    over = asked.about == "history" or made or since or _looks_back(asked.pieces)
    found = past if over else resolve_coming(piece.value, asked.now) or past
    if found is None:
        return False
    asked.values["on"] = found
    return True


def _names_volume(asked: _Question, _: int, piece: Piece) -> bool:
    if piece.kind != "amount" or not asked.lacks("volume") or asked.about not in ("mix", "how"):
        return False
    asked.values["volume"] = Amount(value=piece.value[0], unit=piece.value[1])
    return True


def _names_parts(asked: _Question, _: int, piece: Piece) -> bool:
    several = any(one.kind == "colon" and one is not piece for one in asked.pieces)
    if piece.kind != "colon" or several or not asked.lacks("parts"):
        return False
    asked.values["parts"] = tuple(piece.value)
    return True


def _names_solution(asked: _Question, _: int, piece: Piece) -> bool:
    if not asked.lacks("solution"):
        return False
    if "solution" in piece.roles and (asked.about != "history" or asked.values.get("did") in ("mix", "pour_out")):
        asked.values["solution"] = piece.roles["solution"]
    elif "hormone" in piece.roles and asked.about == "mix":
        asked.values["solution"] = "hormone"
    else:
        hormone = asked.about == "mix" and not piece.roles.keys().isdisjoint(("hormone_name", "hormone_form"))
        if hormone and not any("solution" in one.roles for one in asked.pieces):
            # "how much k-iba for 1 l at 500 ppm": which one is kept in the rest.
            asked.values["solution"] = "hormone"
        return False
    return True


def _names_plant(asked: _Question, place: int, piece: Piece) -> bool:
    named = "plant" in piece.roles and not (place and piece.low in ("plant", "plants"))
    if is_given_name(piece.low) and [one.low for one in asked.pieces[place + 1 : place + 2]] == ["do"]:
        # "what did rosa do" asks about somebody.
        return False
    if not named or not asked.lacks("plant") or asked.about == "mix":
        return False
    name = joined(asked.tokens, piece.first, piece.last)
    following = asked.pieces[place + 1 : place + 2]
    if following and following[0].kind == "quote":
        name += f" '{following[0].value}'"
        following[0].used = True
    asked.values["plant"] = name
    return True


def _names_cutting(asked: _Question, _: int, piece: Piece) -> bool:
    leafless = asked.about in _OF_CUTTINGS and piece.low not in ("leaves", "leaf")
    if "cutting" not in piece.roles or not (asked.about == "compare" or leafless):
        return False
    asked.cuttings.append(piece.roles["cutting"])
    return True


def _names_state(asked: _Question, _: int, piece: Piece) -> bool:
    told, called = (piece.roles[role].says.get("state") if role in piece.roles else None for role in ("act", "noun"))
    if told and asked.about in _OF_STATES and asked.lacks("did"):
        if asked.about == "stock" and told == "ready":
            return True
        if asked.lacks("state") and asked.about != "compare":
            asked.values["state"] = told
            return True
        return False
    if called and asked.about in ("count", "list", "forecast") and asked.lacks("state"):
        asked.values["state"] = called
        return True
    return False


def _says_strength(asked: _Question, place: int, piece: Piece) -> bool:
    """`how much iba for 1 pt at 3000`, `does 3000 beat 8000`: how strong a hormone is, which is kept in the rest."""
    counts = _counts_something(asked.pieces, place + 1) or (place > 0 and asked.pieces[place - 1].low == "for")
    if counts or not _is_strength(piece):
        return False
    others = [one for one in asked.pieces if one is not piece]
    return any(_is_strength(one) or one.roles.keys() & {"hormone", "hormone_name", "hormone_form"} for one in others)


def _is_strength(piece: Piece) -> bool:
    return piece.kind == "number" and piece.value.value >= LEAST_STRENGTH


def _names_count(asked: _Question, place: int, piece: Piece) -> bool:
    if piece.kind != "number" or asked.about not in _OF_COUNTS or not asked.lacks("count"):
        return False
    times = any(one.low == "x" for one in asked.pieces[max(0, place - 1) : place + 2])
    if piece.value.whole is None or piece.value.high is not None or times:
        return False
    if all(one.kind in ("number", "break", "mark") for one in asked.pieces) or _says_strength(asked, place, piece):
        # "14?" may be a lot.
        return False
    asked.values["count"] = piece.value.whole
    return True


_NAMING: Final = (
    _names_subject, _names_other, _names_pot, _names_day, _names_volume, _names_parts, _names_solution,
    _names_plant, _names_cutting, _names_state, _names_count,
)  # fmt: skip


def _bare_names(pieces: list[Piece], about: str, values: dict[str, Any]) -> None:
    """`how's 14`, `how many of 14 are rooted`, `what's in b3`: a lot or a tray without its word."""
    if any(piece.kind in ("lots", "trays") for piece in pieces):
        return
    for place, piece in enumerate(pieces):
        before = pieces[place - 1].low.split(" ")[-1] if place else ""
        if piece.kind == "word" and _SLOT.fullmatch(piece.low):
            values["trays"] = (*values.get("trays", ()), piece.low)
            piece.used = True
        elif (
            piece.kind == "number"
            and piece.low.isdigit()
            and ((about in _OF_LOTS and before in _BEFORE_LOT) or _done_to_lot(pieces, place))
            and "lots" not in values
            and not _counts_something(pieces, place + 1)
        ):
            values["lots"] = (piece.low,)
            piece.used = True


def _done_to_lot(pieces: list[Piece], place: int) -> bool:
    """`when can i pot 14`, `can i take the dome off 12`, `should i mist 4`, `why is 22 wilting`: one lot, and no
    count.
    """
    first = next((piece.low.split(" ")[0] for piece in pieces if piece.kind not in ("break", "mark")), "")
    before = pieces[place - 1] if place else None
    if before is None or pieces[place].value.high is not None:
        return False
    ends = all(piece.kind in ("break", "mark", "moment") for piece in pieces[place + 1 :])
    deed = "to_do" in before.roles or before.low.split(" ")[-1] in ("off", "up", "out")
    cares = first in _MAY and before.low.split(" ")[-1] == "off"
    cares = cares or (first in _MAY and "to_do" in before.roles and before.roles["to_do"].act in COUNTLESS)
    if ends and (cares or (first == "when" and deed)):
        return True
    return first == "why" and before.low.split(" ")[-1] in ("is", "are", "did")


def _counts_something(pieces: list[Piece], at: int) -> bool:
    if at >= len(pieces):
        return False
    following = pieces[at]
    return following.kind in ("word", "number") or any(
        role in following.roles for role in ("plant", "cutting", "container", "what", "medium")
    )


def _is_small(piece: Piece) -> bool:
    small = _small_words()
    if piece.kind in ("break", "mark", "dash"):
        return True
    return piece.low in small or all(word in small for word in piece.low.split(" "))


def _ask_rest(pieces: list[Piece], tokens: list[Token]) -> str:
    kept = [piece for piece in pieces if not piece.used and piece.low != "'s"]
    return " ".join(joined(tokens, piece.first, piece.last) for piece in kept)
