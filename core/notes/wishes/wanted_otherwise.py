"""How many are wanted by when, in other words than "need": `april 10 is the deadline for 60 coyote mint`.

Rules
1. Nothing stands in it but one count, one plant, one day to come, words of wanting, and small words beside them.
2. Where some such words name no day it is asked (`shooting for 80 sedge`).
3. Who wants them may stand before such a word, and is kept (`dune school is after 60 toyon by april 10`).
"""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from core.notes.acts.slots import joined
from core.notes.days.moments import Moment, resolve_coming
from core.notes.details.drafts import Draft, as_typed
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import Piece
from core.notes.words.runs import Runs
from core.notes.words.said import is_whole_number
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_WANTING: Final = small_words("targets", "otherwise")
_WHO_WANTS: Final = small_words("targets", "who_wants")
_WITHOUT_DAY: Final = small_words("targets", "without_day")
_SMALL: Final = small_words("targets", "small")
_BEFORE_DAYS: Final = frozenset({"by", "before"})
_BY_A_DAY: Final = frozenset({"get", "get me", "get us", "have"})
_PHRASES: Final = Runs(_WANTING | _WHO_WANTS)
_BESIDE: Final = frozenset().union(*(small_words("targets", part) for part in ("small", "before_days", "around")))
_MOST_NAMES: Final = 3


@looks_for(any_of=_WANTING | _WHO_WANTS, beside=("@plant",))
def wanted_otherwise(text: str, tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """The target that a sentence tells so; None where it tells more, or none."""
    said = [piece for piece in pieces if piece.kind not in ("break", "mark")]
    wanting = _PHRASES.first_from(said)
    if wanting is None:
        return None
    phrase = " ".join(piece.low for piece in said[wanting[0] : wanting[1]])
    who = _who(said[: wanting[0]]) if phrase in _WHO_WANTS else []
    left = [*said[len(who) : wanting[0]], *said[wanting[1] :]]
    counts = [piece for piece in left if is_whole_number(piece)]
    plants = [piece for piece in left if "plant" in piece.roles]
    quotes = [piece for piece in left if piece.kind == "quote"]
    days = [piece for piece in left if piece.kind == "moment"]
    vague = [] if counts else [piece for piece in left if "vague" in piece.roles]
    others = [piece for piece in left if not any(piece is one for one in (*counts, *vague, *plants, *quotes, *days))]
    if phrase in _BY_A_DAY and not any(piece.low in _BEFORE_DAYS for piece in others):
        # "get 60 toyon friday": they may be fetched then.
        return None
    told = (phrase in _WANTING or who) and len(counts or vague) == len(plants) == 1 and len(quotes) < 2
    due = _due(days, now) if told and all(piece.low in _BESIDE for piece in others) else None
    asks_day = told and not days and phrase in _WITHOUT_DAY and all(piece.low in _SMALL for piece in others)
    if due is None and not asks_day:
        return None
    draft = Draft("target", None, [Clause("", [])])
    values: dict[str, Any] = {"count": counts[0].value.whole} if counts else {}
    if due is not None:
        values["due"] = due
    values["plant"] = joined(tokens, plants[0].first, plants[0].last) + "".join(f" '{one.value}'" for one in quotes)
    if counts and counts[0].value.approx:
        values["approx"] = True
    if kept := who or vague:
        values["rest"] = as_typed(text, tokens, kept[0].first, kept[-1].last).removesuffix(" of")
    draft.extra = values
    return [draft]


def _who(before: list[Piece]) -> list[Piece]:
    """The `dune school` that wants them, where nothing else stands before the wanting."""
    named = all(piece.kind in ("word", "person") or "place_word" in piece.roles for piece in before)
    return before if named and len(before) <= _MOST_NAMES else []


def _due(days: list[Piece], now: datetime) -> Any:
    """The one day to come that is told; None where none is, or more."""
    moment: Moment | None = None
    for piece in days:
        moment = piece.value if moment is None else moment.joined(piece.value)
        if moment is None:
            return None
    found = resolve_coming(moment, now) if moment is not None and moment.names_day else None
    return found.date() if isinstance(found, datetime) else found
