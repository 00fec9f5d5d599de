"""What is an entry in the making: its act, its details, the words that are its own, and the rest that nothing used.

Rest: runs of unused words, with the fillers inside a run; runs of fillers alone are dropped.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any, Final

from core.entries import Entry
from core.notes.acts.slots import Slots
from core.notes.counts.listed_counts import EACH
from core.notes.details.apiece import COUNTS, told_of
from core.notes.details.filling import fill, finish
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import Piece
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

SUBJECTS: Final = ("lots", "trays", "plant")


_LINKS: Final = small_words("rest", "links")


_MOVING: Final = small_words("beside", "coming")
"""Small words that tell something of what a number counts (`4 came back`)."""


_LEADS: Final = small_words("rest", "leads")


_SUBJECTS_OF_TALK: Final = small_words("rest", "subjects_of_talk")
"""What opens a remark of its own (`they look amazing`), which is kept whole."""


class Draft:
    """An entry in the making: its act, details, the clauses whose words are its own, and what to ask."""

    __slots__ = (
        "act",
        "asks",
        "carried",
        "choices",
        "clauses",
        "extra",
        "headed",
        "heads",
        "part",
        "slots",
        "start",
        "strays",
        "text_end",
    )

    def __init__(self, act: str, slots: Slots | None, clauses: list[Clause]) -> None:
        self.act = act
        self.slots = slots
        self.clauses = clauses
        self.asks: list[str] = []
        self.extra: dict[str, Any] = {}
        self.choices: dict[str, tuple[Entry | str, ...]] = {}
        self.heads: list[Clause] = []
        self.headed: dict[str, Any] = {}
        self.carried: dict[str, Any] = {}
        self.part = False
        self.start = clauses[0].first if clauses else 0
        self.text_end = 0
        self.strays = False

    def held(self, name: str) -> Any:
        value = self.slots.values.get(name) if self.slots is not None else None
        return self.extra.get(name) if value is None else value

    def own_subject(self) -> bool:
        return any(self.held(name) for name in SUBJECTS)

    def draws_on_lot(self) -> bool:
        """Whether what was sown or stuck is of a lot that the note names (`sowed 200 of lot 1`)."""
        if self.act not in OPENING or not self.held("lots"):
            return False
        return any(
            piece.kind == "lots" and place and clause.pieces[place - 1].low in ("of", "from", "all of", "rest of")
            for clause in self.clauses
            for place, piece in enumerate(clause.pieces)
        )

    def values(self, text: str, tokens: list[Token]) -> tuple[dict[str, Any], list[str]]:
        """The entry's values and the questions that its words leave, besides what its act needs."""
        values = finish(self.slots) if self.slots is not None else {}
        if self.slots is not None:
            self.act = self.slots.act
        values = {**self.carried, **values, **self.extra}
        if values.get("apiece") and told_of(values) is None:
            self._counts_of_no_list(values)
        dated = self._days_of_no_list(values)
        asks = [*self.asks, *dated, *(self.slots.asks if self.slots is not None else ())]
        if self.act not in ("note", "remind", "hello", "rule") and "rest" not in values:
            rest = rest_of([*self.heads, *self.clauses], text, tokens)
            if rest:
                values["rest"] = rest
        return {name: value for name, value in values.items() if value is not None}, list(dict.fromkeys(asks))


    def _days_of_no_list(self, values: dict[str, Any]) -> list[str]:
        """`stuck 40 toyon mon and tue`, `misted lots 3 and 4 mon and tue`: which were done when is asked."""
        hours = values.get("hours")
        if not hours:
            return []
        dealt = any(1 < len(values.get(kind, ())) == len(hours) for kind in ("lots", "trays"))
        if not dealt and all(values.get(name) is None for name in COUNTS):
            return []
        values.pop("hours")
        for piece in (piece for clause in self.clauses for piece in clause.pieces):
            piece.used = piece.used and piece.kind != "hours"
        return ["date"]

    def _counts_of_no_list(self, values: dict[str, Any]) -> None:
        """`lots 5, 6 and 7 lost 3 and 4`, `lot 9, 2 trays, 40 rooted in each`: counts that fit no list are kept for the
        rest, and the count is asked.
        """
        each = values.pop("apiece")
        alone = len(each) == 1
        held = values.get("container")
        same = values.get("count") is not None and values["count"] == each[0].get("count")
        if alone and held is not None and held.count and same:
            # "stuck 10 toyon per tray, 4 trays".
            values["count"] *= held.count
            return
        amount = each[0].get("amount")
        if alone and held is not None and held.count and amount is not None and values.get("amount") == amount:
            # "sowed 2 flats yarrow, 1/4 tsp each".
            values["amount"] = replace(amount, value=amount.value * held.count)
            return
        if alone and (self.act not in ("check", "lose") or not (values.get("lots") or values.get("trays"))):
            return
        for name in COUNTS:
            values.pop(name, None)
        for piece in (piece for clause in self.clauses for piece in clause.pieces):
            counted = piece.kind == "number" and bool(alone or piece.value.each)
            if counted or (alone and (piece.kind == "fraction" or piece.low in EACH)):
                piece.used = False


def rest_of(clauses: list[Clause], text: str, tokens: list[Token]) -> str:
    """The unused words of some clauses, in order, as typed."""
    parts: list[str] = []
    for clause in clauses:
        run: list[Piece] = []
        for piece in (*clause.pieces, None):
            if piece is not None and not piece.used:
                if piece.kind != "mark" or piece.low in ("$", "%", "#"):
                    run.append(piece)
                continue
            if run:
                opens = run[0] is clause.pieces[0]
                parts.extend(_kept(run, piece is not None, text, tokens, opens=opens))
                run = []
    return " ".join(parts)


def _kept(run: list[Piece], before_used: bool, text: str, tokens: list[Token], *, opens: bool) -> list[str]:
    while run and before_used and run[-1].low in _LINKS and run[-1].kind != "letter":
        run = run[:-1]
    if run and before_used and run[-1].low.endswith(" of") and run[-1].last - run[-1].first > 1:
        last = run[-1]
        run = [*run[:-1], Piece(last.kind, last.value, last.first, last.last - 1, last.low[:-3], last.roles)]
    sentence = opens and len(run) > 2 and run[0].low in _SUBJECTS_OF_TALK
    while run and run[0].low in _LEADS and not sentence:
        run = run[1:]
    if (
        run
        and all(piece.kind in ("number", "dash", "break") or "filler" in piece.roles for piece in run)
        and run[0].kind == "number"
        and not any(piece.low in _MOVING for piece in run)
    ):
        while "filler" in run[-1].roles:
            run = run[:-1]
    if not any(_matters(piece) for piece in run):
        return []
    kept: list[str] = []
    end = -1
    for piece in run:
        inside = piece.kind == "dash" and kept and end == piece.first
        if piece.kind in ("break", "dash") and piece.low != "/" and not inside:
            continue
        typed = as_typed(text, tokens, piece.first, piece.last)
        if not typed:
            continue
        if kept and end == piece.first and tokens[piece.first].glued:
            kept[-1] += typed
        else:
            kept.append(typed)
        end = piece.last
    return kept


def _matters(piece: Piece) -> bool:
    if piece.kind in ("break", "mark", "dash"):
        return False
    return not ("filler" in piece.roles and piece.kind in ("phrase",))


def as_typed(text: str, tokens: list[Token], first: int, last: int) -> str:
    """The words from one token to before another as the note has them, blanks made single."""
    return " ".join(text[tokens[first].start : tokens[last - 1].end].split())


def draft_of(clause: Clause, tokens: list[Token], now: datetime) -> Draft:
    """The draft of the act of a clause, filled from its own pieces."""
    slots = Slots(clause, tokens, now)
    draft = Draft(slots.act, slots, [clause])
    take_person(draft, clause)
    fill(slots, clause.pieces)
    draft.act = slots.act
    return draft


def take_person(draft: Draft, clause: Clause) -> None:
    """Takes who did it from a clause."""
    for piece in clause.pieces:
        if piece.kind == "person":
            told = draft.slots.values.setdefault("by", piece.value) if draft.slots is not None else piece.value
            piece.used = told == piece.value
