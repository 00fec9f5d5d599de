"""Does what stands beside a number make it a count or a measure (`3 wilted`, `20 min`), not a lot or a tray.

Rules
1. A count is known by the word after it: a state, a unit, a plant, a container, or where they are (`2 in tray 5`).
2. The last of three and more that are joined by "and" is one of them (`trays 1, 2 and 3 wilted`).
3. After one lot and a spaced dash stands a count, but beside a deed that counts nothing.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.number_words import DOZENS
from core.notes.words.pieces import longest_phrase, statement_ends
from core.notes.words.tokens import Token
from core.vocabulary import Leaf
from core.vocabulary.everyday import several_at_home
from core.vocabulary.loading import small_words

_NUMBERED: Final = small_words("numbered", "signs")
SUBJECT_WORDS: Final = {
    "lot": "lots",
    "lots": "lots",
    "tray": "trays",
    "trays": "trays",
    "#": "lots",
    "lt": "lots",
    "flat#": "trays",
}
ALSO: Final = frozenset({",", "&", "and", "+", "/", "n", "or"})
_SAID_OF_MANY: Final = small_words("beside", "said_of_many")
_LEFT_OVER: Final = small_words("beside", "left_over")
_HOLDING: Final = small_words("parts", "holding")
_TUGGED: Final = small_words("parts", "tugged")
_IN_SUM: Final = small_words("counted_wholes", "in_sum")
_IN_SUBJECT: Final = frozenset({"in", "from", "on"})
_TO_SUBJECT: Final = _IN_SUBJECT | {"as", "off", "into"}
_AT_HOME: Final = several_at_home()
"""Several of what is no plant (`3 from lot 8 and 2 tshirts`)."""
_EACH: Final = small_words("apiece", "each") | small_words("apiece", "said") | small_words("apiece", "of_one")
_COUNTED: Final = frozenset(
    {
        "what",
        "act",
        "noun",
        "duration",
        "temperature",
        "percent",
        "amount",
        "times_word",
        "inch",
        "cutting",
        "plant",
        "ppm",
        "vague",
        "container",
        "negation",
    }
)


def is_measure(tokens: list[Token], at: int, tree: dict[str, Any], *, listed: bool = False) -> bool:
    """Whether a unit of time, or a lot or tray, follows a number (`10 min`, `2 in tray 5`); `listed`: the number is the
    second of two (`lots 3 and 4 from tray 6`).
    """
    if at >= len(tokens):
        return False
    leads = tokens[at].low in ("in", "from", "on", "off") and not listed
    if leads and at + 1 < len(tokens) and tokens[at + 1].low in SUBJECT_WORDS:
        return True
    phrase = longest_phrase(tokens, at, tree)
    return phrase is not None and "duration" in phrase[1]


def state_of_all(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`trays 1, 2 and 3 wilted`: what a list of three and more is told of, and no other lot after it."""
    phrase = longest_phrase(tokens, at, tree)
    if phrase is None or not any(role in phrase[1] and phrase[1][role].counts_before for role in ("act", "noun")):
        return False
    return not any(token.low in SUBJECT_WORDS for token in tokens[phrase[0] : phrase[0] + 2])


def is_counted(tokens: list[Token], at: int, tree: dict[str, Any], plural: bool = True) -> bool:
    """Whether what follows a number makes it a count or a measure (`3 wilted`, `20 min`), not a lot or tray."""
    if at >= len(tokens):
        return False
    token = tokens[at]
    if plural and token.low in SUBJECT_WORDS and _is_numbered(tokens, at):
        return False
    if _said_of_each(tokens, at) or _held(tokens, at):
        return True
    if not plural and token.low in ("w", "with") and _says_hormone(tokens, at + 1, tree):
        return True
    if token.low == ":" or (token.low == "w" and not token.glued and not statement_ends(tokens, at + 1, tree)):
        return False
    if not plural and token.low in _SAID_OF_MANY:
        return True
    if token.low in _AT_HOME or _is_left_over(tokens, at) or _is_of_lot(tokens, at, tree):
        return True
    if token.low == "(":
        closes = next((step for step in range(at + 1, min(len(tokens), at + 5)) if tokens[step].low == ")"), None)
        after = tokens[closes + 1 : closes + 3] if closes is not None else []
        return len(after) == 2 and after[0].low in _TO_SUBJECT | {"of"} and after[1].low in SUBJECT_WORDS
    out_of = token.low == "out" and at + 2 < len(tokens) and tokens[at + 1].low == "of"
    if out_of and tokens[at + 2].low in SUBJECT_WORDS:
        return True
    leads = _IN_SUBJECT if plural else _TO_SUBJECT
    if token.low in leads and at + 1 < len(tokens) and tokens[at + 1].low in SUBJECT_WORDS:
        return True
    if not plural and token.low == "in" and at + 1 < len(tokens) and tokens[at + 1].kind == "number":
        return statement_ends(tokens, at + 2, tree)
    if token.low in _IN_SUM and not (at + 1 < len(tokens) and tokens[at + 1].low in ("of", ":")):
        return True
    if " ".join(one.low for one in tokens[at : at + 2]) in _IN_SUM:
        return True
    if token.low in (
        "of",
        "out",
        "x",
        "%",
        '"',
        "are",
        "were",
        "have",
        "plants",
        "cuttings",
        "pieces",
        "ppm",
        "more",
        "each",
        "in",
        "stays",
        "remains",
        "keeps",
    ):
        verb = (
            longest_phrase(tokens, at + 1, tree)
            if at + 1 < len(tokens) and token.low in ("are", "were", "have")
            else None
        )
        if verb is not None and not plural:
            return True
        return token.low not in ("in", "are", "were", "have", "out")
    phrase = longest_phrase(tokens, at, tree)
    if phrase is None:
        # "tray 9 and 14 fernbush": an unknown word after a number is what it counts, but for who did the next deed.
        return not plural and token.kind == "word" and not deed_follows(tokens, at + 1, tree)
    leaf = phrase[1]
    if "act" in leaf:
        return bool(leaf["act"].counts_before)
    if "noun" in leaf or "negation" in leaf:
        return "noun" in leaf and leaf["noun"].counts_before
    return any(role in leaf for role in _COUNTED)


def _is_numbered(tokens: list[Token], at: int) -> bool:
    """`lots 40 41 and 44 | tray 6 misted`, `… | tray #6`: another lot or tray follows."""
    after = at + 1
    if after < len(tokens) and tokens[after].low in _NUMBERED:
        after += 1
    return after < len(tokens) and tokens[after].kind in ("number", "lot")


def _says_hormone(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`stuck 24 w 3000 iba in tray 5 and 24 w | no hormone in tray 6`: so many cuttings, and no tray."""
    for place in range(at, min(at + 3, len(tokens))):
        phrase = longest_phrase(tokens, place, tree)
        if phrase is not None and not phrase[1].keys().isdisjoint(
            ("hormone", "hormone_name", "hormone_form", "ppm")
        ):
            return True
        if tokens[place].kind not in ("number", "word"):
            break
    return False


def _is_left_over(tokens: list[Token], at: int) -> bool:
    """The `left over` of `stuck 40 toyon tray 4 & 2 left over`."""
    two = " ".join(token.low for token in tokens[at : at + 2])
    return two in _LEFT_OVER or (tokens[at].low in _LEFT_OVER and tokens[at].low != "left")


def _said_of_each(tokens: list[Token], at: int) -> bool:
    """`trays 4 and 5, 48 | a tray`, `36 | in each`: what is told of each of those before."""
    return any(" ".join(token.low for token in tokens[at : at + size]) in _EACH for size in (1, 2, 3))


def _is_of_lot(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`5 | fours of lot 13`, `1 | doz lot 31`: so many pots or dozens of another lot."""
    sized = longest_phrase(tokens, at, tree)
    if sized is not None and "pot_size" in sized[1]:
        led = [token.low for token in tokens[sized[0] : sized[0] + 2]]
        return len(led) == 2 and led[0] in ("of", "from", "in") and led[1] in SUBJECT_WORDS
    return tokens[at].low in DOZENS


def _held(tokens: list[Token], at: int) -> bool:
    """`tugged 6 each in lots 9 and 10, 4 and 5 | holding`: so many that held."""
    return tokens[at].low in _HOLDING and any(token.low in _TUGGED for token in tokens[:at])


def counts_in_row(tokens: list[Token], at: int, tree: dict[str, Any], many: int, *, alone: bool = False) -> bool:
    """`lots 14 and 15 | , 20 and 25 rooted`: whether as many counts as lots stand at a place, with what they count;
    after a deed that counts they stand `alone` (`potted lots 3 and 4 | , 12 and 10`).
    """
    found, place = 0, at
    while place < len(tokens):
        step = place
        while step < len(tokens) and step < place + 2 and tokens[step].low in ALSO:
            step += 1
        if step < len(tokens) and tokens[step].kind == "fraction" and step > place and tokens[step - 1].low == "/":
            found += 1  # "12/15/9"
        elif step >= len(tokens) or tokens[step].kind != "number":
            break
        found, place = found + 1, step + 1
    return found == many > 1 and (is_counted(tokens, place, tree) or (alone and _closes(tokens, place, tree)))


def _closes(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether nothing more is told, or only who got them or what they went into (`sold lots 3 and 4, 6 and 8 | to kit`,
    `potted lots 8 and 9, 12 and 6 | in 4in`).
    """
    if statement_ends(tokens, at, tree) or tokens[at].low == "to":
        return True
    return tokens[at].low in ("in", "into") and at + 1 < len(tokens) and tokens[at + 1].kind == "number"


def before_counts(tokens: list[Token], at: int, tree: dict[str, Any], named: int) -> int | None:
    """`trays 3, 4 | , 5 - 12, 14, 9 up`: where the last of a list stands before a spaced dash and their counts."""
    place = at
    while place < len(tokens) and place < at + 2 and tokens[place].low in ALSO:
        place += 1
    if place == at or place + 2 >= len(tokens) or tokens[place].kind != "number" or tokens[place + 1].low != "-":
        return None
    spaced = not tokens[place + 1].glued and not tokens[place + 2].glued
    return place if spaced and counts_in_row(tokens, place + 2, tree, named + 1) else None


def counts_one(tokens: list[Token], at: int, end: int, tree: dict[str, Any]) -> bool:
    """`lot 4 - 12 into 1 gal`, `lot 14 - 31`: a lot, and a count after a dash; `misted tray 1 - 4` is a range."""
    if is_counted(tokens, end, tree):
        return True
    head = at - 1
    while head > 0 and tokens[head].low in _NUMBERED:
        head -= 1
    if tokens[head].low not in ("lot", "tray"):
        head = at - 1
    if tokens[head].low not in ("lot", "tray", "#"):
        return False
    near = [longest_phrase(tokens, place, tree) for place in (end, head - 1) if 0 <= place < len(tokens)]
    return not any(phrase is not None and "act" in phrase[1] and _counts_nothing(phrase[1]) for phrase in near)


def _counts_nothing(leaf: Leaf) -> bool:
    return leaf["act"].act in COUNTLESS


def deed_follows(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`trays a & b tented`: a letter before a deed, or before thanks, is a tray."""
    phrase = longest_phrase(tokens, at, tree)
    return statement_ends(tokens, at, tree) or (phrase is not None and "act" in phrase[1])


def counts_after(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether one number with what it counts stands at a place (`2 trays | 40 rooted`)."""
    return at < len(tokens) and tokens[at].kind in ("number", "fraction") and is_counted(tokens, at + 1, tree)


def is_grade(tokens: list[Token], at: int) -> bool:
    """`fed lots 4 and 5 | 10-10-10`: the grade of a feed, and no more lots."""
    run = tokens[at : at + 5]
    glued = len(run) == 5 and all(token.glued for token in run[1:])
    return glued and run[1].low == run[3].low == "-" and all(token.kind == "number" for token in run[::2])
