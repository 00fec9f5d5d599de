"""Which words that have other meanings too name a day: `sun`, `sat`, `wed`, and `tom`, who may be somebody.

They are days only where the words beside them say so.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.words.pieces import longest_phrase, statement_ends
from core.notes.words.tokens import Token
from core.vocabulary.loading import END, read_toml, small_words

_TABLE: Final = read_toml("date_words.toml")
_TRIGGERS: Final = frozenset(_TABLE["before"])
_BEFORE_TOM: Final = frozenset(_TABLE["before_tom"])
_AFTER_TOM: Final = frozenset(_TABLE["after_tom"])
_NAMESAKES: Final = small_words("people", "namelike") | small_words("namesakes", "names")
_WITH: Final = frozenset({"w", "w/", "with"})
_SUBJECTS: Final = frozenset(_TABLE["before_subjects"])
_GIVING: Final = frozenset({"give", "sell", "reserve"})
_OUT: Final = frozenset({"out", "outside", "outdoors"})
_HEADS: Final = frozenset(_TABLE["heads"])
NOTHING: Final = frozenset(_TABLE["nothing"])
"""After a day these tell that nothing was done on it."""
_MOST_COMPANY: Final = 8
_SITTING: Final = frozenset({"in", "on", "under", "out", "outside", "overnight", "there", "without", "with", "bare"})
_AFTER_DAY: Final = frozenset(_TABLE["after"])


def is_tom(tokens: list[Token], at: int, end: int, tree: dict[str, Any]) -> bool:
    """`vera and tom misted tray 4`, `watered w tom`, `tom says it is dry`: somebody, and no day."""
    joined = at > 0 and (tokens[at - 1].low in _BEFORE_TOM or _receives(tokens, at, tree))
    return joined or (end < len(tokens) and (tokens[end].low in _AFTER_TOM or deed_follows(tokens, end, tree)))


def _receives(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """The tom of `gave 4 of lot 1 to tom`, `gave tom 4`, `reserved 5 for tom`: who got them, and no day."""
    led = tokens[at - 1].low in ("to", "for")
    deeds = (tree.get(token.low, {}).get(END, {}).get("act") for token in tokens[: at - led])
    given = [deed is not None and deed.act in _GIVING for deed in deeds]
    return given[-1] if given and not led else any(given)


def beside_date(tokens: list[Token], at: int, end: int, tree: dict[str, Any]) -> bool:
    """`sat misted tray 3`, `sun 9am`: a word that is a weekday only where the words beside it say so."""
    before = tokens[at - 1].low if at else ""
    after = tokens[end].low if end < len(tokens) else ","
    if before in ("the", "full", "some", "partial", "hot", "direct", "much", "afternoon", "in"):
        return False
    if tokens[at].low == "sat" and at and tokens[at - 1].kind == "number" and after in _SITTING:
        return False  # "lot 3 sat in the fridge"
    if tokens[at].low == "sat" and at and _so_long(tokens, end, tree):
        return False  # "lupine sat 10 min in hot water"
    if tokens[at].low == "sun" and _out_so_long(tokens, at, tree):
        return False
    other = tokens[end + 1].low if end + 1 < len(tokens) else ""
    if before == "from" and after == "to" and "weekday" not in tree.get(other, {}).get("", {}):
        return False  # "from sun to shade"
    dated = heads_line(tokens, at, tree) or _after_a_day(tokens, at, tree)
    if end < len(tokens) and dated and (deed_follows(tokens, end, tree) or _company_heads(tokens, end)):
        return True
    if end < len(tokens) and dated and _heads_one_word(tokens, end):
        return True
    if end < len(tokens) and (tokens[end].kind in ("number", "colon") or "month" in tree.get(after, {}).get("", {})):
        return True
    if tokens[at].low != "sun" and "weekday" in tree.get(after, {}).get("", {}):
        # "misted tray 4 mon wed and fri".
        return True
    if after in _SUBJECTS and at and tokens[at - 1].kind == "number" and _after_a_day(tokens, at, tree):
        # "lost 3 sat 2 sun lot 9".
        return True
    done = tree.get(before, {}).get("", {})
    if after in _SUBJECTS and (heads_line(tokens, at, tree) or ("act" in done and before.endswith("ing"))):
        return True
    if after in ("in", "from", "at") and not done.keys().isdisjoint(("act", "shared")):
        return True
    if after in _WITH and tokens[at].low != "sun" and statement_ends(tokens, end + 2, tree):
        # "fed lot 6 sat w ana"; not "lot 5 sat w lid off", "lot 5 sun w shadecloth".
        return end + 1 < len(tokens) and tokens[end + 1].kind == "word" and tokens[end + 1].low not in tree
    return before in _TRIGGERS or after in _AFTER_DAY or statement_ends(tokens, end, tree)


def _so_long(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`10 min`, right at a place."""
    if at + 1 >= len(tokens) or tokens[at].kind != "number":
        return False
    return "duration" in tree.get(tokens[at + 1].low, {}).get(END, {})


def _out_so_long(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`out 2 hrs sun`: how long plants were in the sun."""
    length = [token.low for token in tokens[max(0, at - 3) : at]]
    return len(length) == 3 and length[0] in _OUT and "duration" in tree.get(length[2], {}).get(END, {})


def _after_a_day(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`tue misted | wed fed lot 5`: whether the line has told of another weekday."""
    for token in reversed(tokens[:at]):
        if token.kind == "line":
            return False
        if "weekday" in tree.get(token.low, {}).get("", {}):
            return True
    return False


def heads_line(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether nothing stands before a place in its line, or only what opens a note (`fyi mon watered lot 1`)."""
    if at == 0 or tokens[at - 1].kind in ("line", "mark"):
        return True
    if at > 1 and tokens[at - 1].kind == "number" and tokens[at - 2].low in _SUBJECTS:
        # "lot 5 mon misted".
        return at == 2 or tokens[at - 3].kind in ("line", "mark")
    opened = [longest_phrase(tokens, start, tree, at) for start in range(max(0, at - 3), at)]
    return any(phrase is not None and phrase[0] == at and "opens" in phrase[1] for phrase in opened)


def deed_follows(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`mon watered lot 1`, `sat we misted`, `wed dome off`: a day before a deed or who did it, not what did it (`sun
    killed 4`).
    """
    if tokens[at].low in ("we", "i"):
        return True
    unknown = tokens[at].low not in tree or tokens[at].low in _NAMESAKES
    named = tokens[at].kind == "word" and unknown and at + 1 < len(tokens)
    if named and tokens[at + 1].low == ":":
        return True
    leaf = (longest_phrase(tokens, at + named, tree) or (0, {}))[1]
    if not leaf.keys().isdisjoint(("cover_noun", "vent_noun")):
        return True
    act = leaf.get("act")
    return act is not None and not act.counts_before


def _heads_one_word(tokens: list[Token], at: int) -> bool:
    """`sat | crew: bleached flats`, `mon watered 1-10, wed | nothing`: a head of one word, or a day without a deed."""
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    headed = after is not None and after.low == ":" and tokens[at].low in _HEADS
    return headed or (tokens[at].low in NOTHING and (after is None or after.kind in ("mark", "line")))


def _company_heads(tokens: list[Token], at: int) -> bool:
    """`sat | w ana n bo: stuck 40 toyon`: who was there too, and a colon."""
    if tokens[at].low not in ("w", "with", "w/"):
        return False
    mark = next((token for token in tokens[at + 1 : at + _MOST_COMPANY] if token.kind != "word"), None)
    return mark is not None and mark.low == ":"
