"""How do clauses become entries: each act a draft with its details, clauses without an act joined to the right one.

Rules
1. A clause without an act before the first heads the note; later it adds to the act before it, repeats that act for a new
   subject with its own count, or (a bare subject) heads what follows.
2. A loss said twice over (`3 rotted, tossed`) is one; so is a check and its count (`checked tray 4, 12 rooted`).
3. Rest: runs of unused words, fillers inside a run kept with it, runs of fillers alone dropped.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from core.entries import Entry
from core.notes.clauses import Clause
from core.notes.counting import COUNTLESS
from core.notes.filling import fill, finish
from core.notes.moments import resolve_coming, resolve_past
from core.notes.pieces import Piece
from core.notes.slots import OPENING, Slots, joined
from core.notes.tokens import Token

_SUBJECTS: Final = ("lots", "trays", "plant")
_LINKS: Final = frozenset(
    {
        "of",
        "in",
        "from",
        "to",
        "for",
        "on",
        "at",
        "with",
        "w/",
        "into",
        "by",
        "the",
        "and",
        "a",
        "an",
        "are",
        "is",
        "was",
        "were",
        "have",
        "has",
        "it",
        "as",
        "or",
        "now",
        "had",
        "off",
        "out",
    }
)
_LEADS: Final = frozenset(
    {
        "and",
        "is",
        "are",
        "was",
        "were",
        "but",
        "so",
        "then",
        "it",
        "them",
        "they",
        "has",
        "have",
        "also",
        "too",
        "already",
        "up",
        "seeing",
        "saw",
        "see",
    }
)


class Draft:
    """An entry in the making: its act, details, the clauses whose words are its own, and what to ask."""

    __slots__ = ("act", "asks", "carried", "choices", "clauses", "extra", "heads", "slots", "start", "text_end")

    def __init__(self, act: str, slots: Slots | None, clauses: list[Clause]) -> None:
        self.act = act
        self.slots = slots
        self.clauses = clauses
        self.asks: list[str] = []
        self.extra: dict[str, Any] = {}
        self.choices: dict[str, tuple[Entry | str, ...]] = {}
        self.heads: list[Clause] = []
        self.carried: dict[str, Any] = {}
        self.start = clauses[0].first if clauses else 0
        self.text_end = 0

    def held(self, name: str) -> Any:
        if self.slots is not None and self.slots.values.get(name) is not None:
            return self.slots.values[name]
        return self.extra.get(name)

    def own_subject(self) -> bool:
        return any(self.held(name) for name in _SUBJECTS)

    def values(self, text: str, tokens: list[Token]) -> tuple[dict[str, Any], list[str]]:
        """The entry's values and the questions that its words leave, besides what its act needs."""
        values = finish(self.slots) if self.slots is not None else {}
        if self.slots is not None:
            self.act = self.slots.act
        values = {**self.carried, **values, **self.extra}
        asks = [*self.asks, *(self.slots.asks if self.slots is not None else ())]
        if self.act not in ("note", "remind", "hello", "rule") and "rest" not in values:
            rest = rest_of([*self.heads, *self.clauses], text, tokens)
            if rest:
                values["rest"] = rest
        return {name: value for name, value in values.items() if value is not None}, list(dict.fromkeys(asks))


def rest_of(clauses: list[Clause], text: str, tokens: list[Token]) -> str:
    """The unused words of some clauses, in order, as typed."""
    parts: list[str] = []
    for clause in clauses:
        run: list[Piece] = []
        for piece in (*clause.pieces, None):
            if piece is not None and not piece.used:
                if piece.kind != "mark" or piece.low in ("$", "%"):
                    run.append(piece)
                continue
            parts.extend(_kept(run, piece is not None, text, tokens))
            run = []
    return " ".join(parts)


def _kept(run: list[Piece], before_used: bool, text: str, tokens: list[Token]) -> list[str]:
    if run and before_used and run[-1].low.endswith(" of") and run[-1].last - run[-1].first > 1:
        last = run[-1]
        run = [*run[:-1], Piece(last.kind, last.value, last.first, last.last - 1, last.low[:-3], last.roles)]
    while run and before_used and run[-1].low in _LINKS:
        run = run[:-1]
    while run and run[0].low in _LEADS:
        run = run[1:]
    if (
        run
        and all(piece.kind in ("number", "dash", "break") or "filler" in piece.roles for piece in run)
        and run[0].kind == "number"
    ):
        while "filler" in run[-1].roles:
            run = run[:-1]
    if not any(_matters(piece) for piece in run):
        return []
    return [
        as_typed(text, tokens, piece.first, piece.last)
        for piece in run
        if piece.kind not in ("break", "dash") or piece.low == "/"
    ]


def _matters(piece: Piece) -> bool:
    if piece.kind in ("break", "mark", "dash"):
        return False
    return not ("filler" in piece.roles and piece.kind in ("phrase",))


def as_typed(text: str, tokens: list[Token], first: int, last: int) -> str:
    """The words from one token to before another as the note has them, blanks made single."""
    return " ".join(text[tokens[first].start : tokens[last - 1].end].split())


def draft_of(clause: Clause, tokens: list[Token], now: datetime) -> Draft:
    slots = Slots(clause, tokens, now)
    draft = Draft(slots.act, slots, [clause])
    _take_person(draft, clause)
    fill(slots, clause.pieces)
    draft.act = slots.act
    return draft


def _take_person(draft: Draft, clause: Clause) -> None:
    for piece in clause.pieces:
        if piece.kind == "person":
            piece.used = True
            if draft.slots is not None:
                draft.slots.values.setdefault("by", piece.value)


def gather(text: str, tokens: list[Token], clauses: list[Clause], now: datetime) -> list[Draft]:
    """The drafts of a telling, in order."""
    if not any(clause.act is not None and clause.cue is None for clause in clauses):
        counted = _counted_check(clauses, tokens, now) or _bare_check(clauses, tokens, now)
        return counted if counted is not None else draft_notes(text, tokens, clauses, now)
    drafts: list[Draft] = []
    heads: list[Clause] = []
    noted: list[Clause] = []
    _count_early(clauses)
    for place, clause in enumerate(clauses):
        if clause.cue is not None:
            noted.append(clause)
            continue
        if clause.act is None and noted and not _subject_only(clause) and not _repeats(drafts, clause):
            noted.append(clause)
            continue
        if noted:
            drafts.extend(draft_notes(text, tokens, noted, now, whole=False))
            noted = []
        if clause.act is None:
            _place_clause(drafts, heads, clause, clauses, place, tokens, now)
        elif _merges(drafts, clause, heads):
            _add(drafts[-1], clause)
        else:
            draft = draft_of(clause, tokens, now)
            _take_heads(draft, heads)
            heads = []
            drafts.append(draft)
    if noted:
        drafts.extend(draft_notes(text, tokens, noted, now, whole=False))
    if heads:
        _leftover_heads(drafts, heads)
    _backfill_states(drafts)
    return drafts


def _count_early(clauses: list[Clause]) -> None:
    """`lot 3 10/20, lot 4 12/20, lot 5 none rooted`: counts of lots before the state is named are checks too."""
    first = next((clause for clause in clauses if clause.act is not None), None)
    if first is None or first.act != "check" or "state" not in first.says or first.cue is not None:
        return
    for clause in clauses[: clauses.index(first)]:
        counted = any(
            piece.kind == "fraction" or (piece.kind == "number" and piece.value.of is not None)
            for piece in clause.pieces
        )
        if counted and clause.kinds() & {"lots", "trays"} and clause.cue is None:
            clause.act = "check"


def _take_heads(draft: Draft, heads: list[Clause]) -> None:
    if not heads or draft.slots is None:
        return
    for head in heads:
        draft.heads.append(head)
        _take_person(draft, head)
        own = {name: draft.slots.values.get(name) for name in _SUBJECTS}
        if any(own.values()):
            pieces = [piece for piece in head.pieces if piece.kind not in ("lots", "trays") or not own.get(piece.kind)]
        else:
            pieces = head.pieces
        if any(piece.kind == "word" and not piece.used for piece in pieces) and not draft.clauses[0].after == ":":
            pieces = [
                piece
                for piece in pieces
                if piece.kind in ("lots", "trays", "moment", "quote")
                or "plant" in piece.roles
                or "filler" in piece.roles
            ]
        fill(draft.slots, pieces)
    draft.start = min(draft.start, heads[0].first)


def _leftover_heads(drafts: list[Draft], heads: list[Clause]) -> None:
    if drafts:
        for head in heads:
            _add(drafts[-1], head)


def _add(draft: Draft, clause: Clause) -> None:
    """Adds a clause's details to the draft before it."""
    if draft.slots is None:
        draft.clauses.append(clause)
        return
    for key, value in clause.says.items():
        draft.slots.values.setdefault(key, value)
    _take_person(draft, clause)
    slots = draft.slots
    if (
        slots.act == "check"
        and clause.act == "check"
        and "count" in slots.values
        and not slots.values.get("of")
        and "state" in clause.says
    ):
        slots.values["sample"] = True
        whole = slots.values.pop("count")
        fill(slots, clause.pieces)
        if slots.values.get("count") is not None and slots.values["count"] > whole:
            slots.values.pop("sample")
            slots.values.setdefault("lots", (str(whole),))
        elif slots.values.get("count") is not None and slots.values.get("of") is None:
            slots.values["of"] = whole
        elif slots.values.get("share") is None:
            slots.values["count"] = whole
            slots.values.pop("sample")
    else:
        fill(slots, clause.pieces)
    draft.clauses.append(clause)


def _merges(drafts: list[Draft], clause: Clause, heads: list[Clause]) -> bool:
    """Whether an act clause only tells more of the act before it."""
    if not drafts or heads or drafts[-1].slots is None:
        return False
    before = drafts[-1].slots
    if (
        drafts[-1].act == "stick"
        and clause.act == "treat"
        and clause.says.get("treatment") == "hormone"
        and not clause.kinds() & {"lots", "trays"}
        and not clause.has("plant")
    ):
        clause.says = {}
        return True
    if (
        drafts[-1].act == "wilt"
        and clause.act == "lose"
        and clause.after in ("and", "&")
        and before.values.get("count") is not None
        and not clause.kinds() & {"number", "fraction", "percent"}
    ):
        before.act = drafts[-1].act = "lose"
        before.values.setdefault("cause", "wilt")
        return True
    if drafts[-1].act != clause.act or clause.after in ("then",):
        return False
    own = bool(clause.kinds() & {"lots", "trays"}) or (clause.has("plant") and clause.act not in ("check", "lose"))
    held = any(before.values.get(name) for name in _SUBJECTS)
    if own and held:
        return False
    counted = (
        before.values.get("count") is not None or before.values.get("share") is not None or before.values.get("all_of")
    )
    counts = bool(clause.kinds() & {"number", "fraction", "percent"}) or clause.has("all", "none", "negation", "vague")
    if clause.act == "check":
        if "state" in before.values:
            return before.values["state"] == clause.says.get("state") and not counted and clause.after in (":", ",", "")
        if "state" not in clause.says and not counted and not own:
            return True
        return "state" in clause.says and (
            not counted
            or bool(before.values.get("sample"))
            or (before.clause.word is not None and not before.clause.word.says and before.values.get("of") is None)
        )
    if clause.act == "lose":
        same = clause.says.get("cause") is None or before.values.get("cause") in (None, clause.says["cause"])
        return same and not (counted and counts)
    if clause.act in ("temp", "air", "mix"):
        return (
            not any(before.values.get(name) is not None and name != "place" for name in _told(clause))
            if clause.act != "air"
            else not counts
        )
    return False


def _told(clause: Clause) -> list[str]:
    names = []
    if clause.kinds() & {"temp", "degrees"}:
        names.append("temp_c")
    if clause.has("humidity"):
        names.append("humidity")
    if clause.act == "mix":
        names.append("solution")
    return names


def _subject_only(clause: Clause) -> bool:
    kinds = {piece.kind for piece in clause.pieces if "filler" not in piece.roles}
    return bool(kinds) and all(
        piece.kind in ("lots", "trays", "mark", "moment", "person")
        or "filler" in piece.roles
        or "plant" in piece.roles
        or piece.kind == "quote"
        for piece in clause.pieces
    )


def _repeats(drafts: list[Draft], clause: Clause) -> bool:
    """Whether a clause without an act gives a count of its own for another subject than the act before it."""
    if not drafts or drafts[-1].slots is None or drafts[-1].act in ("note", "ask", "sanitize", "mix", "temp"):
        return False
    before = drafts[-1].slots
    kinds = clause.kinds()
    if before.act == "split" and before.values.get("to") is None:
        return False
    moved_on = "moment" in kinds and before.values.get("on") is not None
    if moved_on and any(
        piece.kind in ("lots", "trays") and before.values.get(piece.kind) not in (None, piece.value)
        for piece in clause.pieces
    ):
        return True
    if (
        _subject_only(clause)
        and clause.has("plant")
        and before.values.get("plant")
        and before.act in COUNTLESS
        and not kinds & {"lots", "trays"}
    ):
        return True
    counts = kinds & {"number", "fraction", "percent", "amount", "duration"} or clause.has(
        "all", "none", "vague", "fraction", "vent_open"
    )
    fresh = False
    for kind in ("lots", "trays"):
        named = [piece.value for piece in clause.pieces if piece.kind == kind]
        if named and before.values.get(kind) not in (None, named[0]):
            fresh = True
    if clause.has("plant") and before.values.get("plant") is not None:
        fresh = True
    if (
        before.act == "stick"
        and "number" in kinds
        and clause.has("cutting")
        and before.values.get("count") is not None
        and before.values.get("cutting")
    ):
        return True
    if before.act == "lose" and "number" in kinds and clause.has("cause") and before.values.get("count") is not None:
        return True
    if (
        before.act in ("pot", "sell", "give", "plant_out", "reserve")
        and "number" in kinds
        and before.values.get("count") is not None
    ):
        fresh = (
            fresh
            or bool(kinds & {"size"})
            or any(piece.low in ("to", "into", "at") for piece in clause.pieces)
            or any(piece.kind == "amount" for piece in clause.pieces)
        )
    return bool(fresh and counts)


def _place_clause(
    drafts: list[Draft],
    heads: list[Clause],
    clause: Clause,
    clauses: list[Clause],
    place: int,
    tokens: list[Token],
    now: datetime,
) -> None:
    if not drafts:
        heads.append(clause)
        return
    before = drafts[-1]
    if _repeats(drafts, clause):
        assert before.slots is not None
        clause.act = before.act
        clause.word = before.slots.clause.word
        own_cause = before.act == "lose" and clause.has("cause")
        clause.says = {
            key: value
            for key, value in before.slots.values.items()
            if key in ("state", "method", "cause", "care", "treatment", "what", "cutting", "bagged", "sample")
        }
        if own_cause:
            clause.says.pop("cause", None)
        if before.act in ("stick", "sow", "divide"):
            clause.says.pop("cutting", None)
            if not clause.has("plant") and before.slots.values.get("plant"):
                clause.says["plant"] = before.slots.values["plant"]
        repeated = draft_of(clause, tokens, now)
        if before.held("by") and "by" not in repeated.slots.values:  # type: ignore[union-attr]
            repeated.slots.values["by"] = before.held("by")  # type: ignore[union-attr]
        drafts.append(repeated)
        return
    if _subject_only(clause) and clause.kinds() & {"lots", "trays"}:
        following = clauses[place + 1] if place + 1 < len(clauses) else None
        fresh = all(
            before.held(name) for name in ("lots", "trays") if any(piece.kind == name for piece in clause.pieces)
        )
        if (
            following is not None
            and following.act is not None
            and following.cue is None
            and not following.kinds() & {"lots", "trays"}
            and (fresh or (clause.after in ("\n", ".", ";") and before.own_subject() and before.act not in OPENING))
        ):
            heads.append(clause)
            return
    if (
        before.act not in ("merge", "split")
        and clause.kinds() & {"lots", "trays"}
        and before.own_subject()
        and not _subject_only(clause)
        and any(piece.kind == "word" or "cause" in piece.roles for piece in clause.pieces)
    ):
        before.clauses.append(clause)
        return
    _add(before, clause)


def _backfill_states(drafts: list[Draft]) -> None:
    """`14: 31/72, 15: 20/36 rooted`: a count without a state takes the state that a like count after it names."""
    for draft, after in reversed(list(zip(drafts, drafts[1:], strict=False))):
        if (
            draft.act == after.act == "check"
            and draft.slots
            and after.slots
            and "state" not in draft.slots.values
            and draft.slots.values.get("count") is not None
        ):
            state = after.slots.values.get("state")
            if state and draft.slots.clause.word is None:
                draft.slots.values["state"] = state


def _bare_check(clauses: list[Clause], tokens: list[Token], now: datetime) -> list[Draft] | None:
    """`lot 14: 30`: a subject and one number, and nothing else, is a check whose state is asked."""
    if len(clauses) != 1:
        return None
    told = [piece for piece in clauses[0].pieces if piece.kind != "mark" and "filler" not in piece.roles]
    kinds = sorted(piece.kind for piece in told)
    if kinds not in (["lots", "number"], ["number", "trays"]) or (
        told[-1].kind == "number" and told[-1].value.whole is None
    ):
        return None
    clauses[0].act = "check"
    return [draft_of(clauses[0], tokens, now)]


def _counted_check(clauses: list[Clause], tokens: list[Token], now: datetime) -> list[Draft] | None:
    """`12/40 in lot 9`: a count out of a whole, and no act, is a check whose state is asked."""
    found: list[Draft] = []
    if any(clause.cue for clause in clauses):
        return None
    for clause in clauses:
        whole = any(
            piece.kind == "fraction" or (piece.kind == "number" and piece.value.of is not None)
            for piece in clause.pieces
        )
        if whole:
            clause.act = "check"
            found.append(draft_of(clause, tokens, now))
        elif found:
            _add(found[-1], clause)
        else:
            return _headed_check(clauses, tokens, now)
    return found if found and all(draft.slots is not None and draft.slots.values.get("of") for draft in found) else None


def _headed_check(clauses: list[Clause], tokens: list[Token], now: datetime) -> list[Draft] | None:
    if len(clauses) < 2 or not _subject_only(clauses[0]):
        return None
    later = _counted_check(clauses[1:], tokens, now)
    if later is not None:
        _take_heads(later[0], [clauses[0]])
    return later


def draft_notes(
    text: str, tokens: list[Token], clauses: list[Clause], now: datetime, *, whole: bool = True
) -> list[Draft]:
    """One note of some clauses, with the subjects and the date that they name; a bare subject, or a deed left open, is asked."""
    pieces = [piece for clause in clauses for piece in clause.pieces]
    values: dict[str, Any] = {}
    for place, piece in enumerate(pieces):
        if piece.kind in ("lots", "trays"):
            values[piece.kind] = tuple(dict.fromkeys((*values.get(piece.kind, ()), *piece.value)))
        elif "plant" in piece.roles and "plant" not in values and piece.kind == "phrase":
            name = joined(tokens, piece.first, piece.last)
            if place + 1 < len(pieces) and pieces[place + 1].kind == "quote":
                name += f" '{pieces[place + 1].value}'"
            values["plant"] = name
        elif piece.kind == "moment" and "on" not in values:
            cue = next((clause.cue for clause in clauses if clause.cue), None)
            moment = (
                resolve_coming(piece.value, now)
                if cue in ("plan", "condition", "wish")
                else resolve_past(piece.value, now) or resolve_coming(piece.value, now)
            )
            if moment is not None:
                values["on"] = moment
        elif piece.kind == "person" and not whole:
            values.setdefault("by", None)
    draft = Draft("note", None, clauses)
    if whole:
        values["text"] = text.strip()
    else:
        first, last = pieces[0].first, pieces[-1].last
        values["text"] = text[tokens[first].start : tokens[last - 1].end].strip()
    draft.extra = {name: value for name, value in values.items() if value is not None}
    draft.asks = _asks_of_note(clauses, pieces) if whole else []
    if not whole and any(clause.cue == "wish" for clause in clauses):
        draft.asks = ["act"]
    return [draft]


def _asks_of_note(clauses: list[Clause], pieces: list[Piece]) -> list[str]:
    bare = [
        piece
        for piece in pieces
        if piece.kind == "number" and piece.value.whole is not None and not (piece.value.approx or piece.value.of)
    ]
    others = [
        piece
        for piece in pieces
        if piece not in bare and piece.kind not in ("break", "dash", "mark") and "filler" not in piece.roles
    ]
    subjects = [piece for piece in others if piece.kind in ("lots", "trays")]
    if bare and not others:
        return ["act", "number"] if len(bare) == 2 or bare[0].value.high is not None else ["act"]
    if any(clause.cue == "wish" for clause in clauses):
        return [] if any(piece.low in ("please", "pls", "plz") for piece in pieces) else ["act"]
    if any(clause.cue for clause in clauses):
        return []
    plants = [piece for piece in others if "plant" in piece.roles or piece.kind == "quote"]
    if (subjects or (bare and plants)) and len(others) == len(subjects) + len(plants):
        return ["act"]
    if (subjects or plants or bare) and any(
        piece.low in ("did", "done", "finished", "started") for piece in pieces[:3]
    ):
        return ["act"]
    measured = any(
        piece.kind in ("number", "fraction", "size", "amount", "percent", "duration")
        or ("container" in piece.roles and piece.low not in ("bed", "tray"))
        for piece in pieces
    )
    if subjects and measured and not any("no_deed" in piece.roles for piece in pieces):
        return ["act"]
    if any("shared" in piece.roles for piece in pieces) and (subjects or bare or plants):
        return ["act"]
    return []
