"""Which words of a note were misspelt: repairs of single words, made before the note is read, never in names.

Rules
1. A word before a deed at the head of a clause is a person, but for a pest (`apids took out 3`); after `from`, `to`,
   `at`, `by`, `for` a place or person; in quotes a cultivar.
2. Of the words that may be meant, one that makes a longer known phrase with the words beside it goes first, then the
   nearest; one as near to plain talk or to a plant as to an act is no act.
3. One that may still be several acts is handed back as doubtful. The name of a plant stays as texted.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Final

from core.notes.days.dates import read_moment
from core.notes.words.number_words import number_of_word
from core.notes.words.pieces import longest_phrase
from core.notes.words.spelling import (
    ACT_ROLES,
    alike,
    is_common,
    is_written_short,
    leaf_of,
    means_by_itself,
    nearest,
    nearest_names,
)
from core.notes.words.tokens import Token
from core.notes.words.values import Repair
from core.vocabulary import Leaf, words
from core.vocabulary.everyday import is_given_name, is_plain_form
from core.vocabulary.loading import END, plain_words, read_toml, small_words
from core.vocabulary.plants import right_name

_NAMING: Final = small_words("spelling", "before_names")
_WHOLES: Final = small_words("spelling", "wholes")
_LISTING: Final = small_words("spelling", "listing")
_LINKS: Final = small_words("spelling", "links")
_WITHIN: Final = small_words("spelling", "within")
_SIDES: Final = small_words("spelling", "sides")
_VOCAL: Final = frozenset({
    "container", "place_word", "cause", "weekday", "month", "inch", "amount", "duration", "act", "for_good",
    "vent_open",
})  # fmt: skip
_UNITS: Final = frozenset({"duration", "amount", "inch", "percent", "part", "fullness"})
_NO_PLACE: Final = frozenset({*ACT_ROLES, "filler"})
_NO_PHRASE: Final = frozenset({"filler", "remarks", "opens", "closes", "company"})
_FARTHEST: Final = 3
_AS_LIKELY_DEED: Final = 1.2


@dataclass(slots=True)
class Mended:
    """What was mended in a note: the repairs, a word that may mean several acts (its place and the choices), and the
    misspelt names of known plants, each as its words.
    """

    repairs: list[Repair] = field(default_factory=list)
    doubtful: tuple[int, tuple[str, ...]] | None = None
    names: list[tuple[str, ...]] = field(default_factory=list)


def mend_tokens(tokens: list[Token], tree: dict[str, Any], kept: frozenset[str] = frozenset()) -> Mended:
    """Mends the tokens in place, but for the words that the crew itself uses."""
    mended = Mended()
    unclear: list[int] = []
    settled = _settled_words()
    for at, token in enumerate(tokens):
        if token.kind != "word" or token.low in settled:
            continue
        if not _may_be_mended(token.low) and not _is_unknown(token, tree, kept):
            continue
        if token.low in _short():
            token.low = _short()[token.low]
            continue
        if token.low in _slips() and token.low not in tree and not _is_named(tokens, at, tree):
            token.low = _slips()[token.low]
            continue
        if _is_autocorrected(tokens, at):
            token.low = _autocorrected()[token.low][0]
            continue
        deed_next = at + 1 < len(tokens) and _is_act(tokens[at + 1].low, tree)
        if deed_next and token.low.endswith("'s") and token.low not in tree and token.low[:-2] in tree:
            # "the quat's dumped": the verb that is written onto a word of the bench.
            token.low = token.low[:-2]
            continue
        unknown = _is_unknown(token, tree, kept)
        name = _plant_name(tokens, at, tree) if unknown or right_name(token.low) else None
        if name is not None:
            mended.names.append(name)
        elif not unknown or (
            _is_name(tokens, at, tree) and not _is_pest(token.low) and not _opens_deed(tokens, at, tree)
        ):
            continue
        elif not _mend(mended, tokens, at, tree):
            unclear.append(at)
    for at in unclear:
        _mend(mended, tokens, at, tree, last=True)
    return mended


def _is_named(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """Whether a short word is a name; none is before a number (`from lto 6`)."""
    numbered = at + 1 < len(tokens) and tokens[at + 1].kind in ("number", "lot")
    return not numbered and _is_name(tokens, at, tree)


@cache
def _settled_words() -> frozenset[str]:
    """The words that begin a known phrase and are no slip of another."""
    return frozenset(low for low in words().tree if not _may_be_mended(low))


def _may_be_mended(low: str) -> bool:
    """Whether a word that is known may still be a slip of another."""
    slip = low in _slips() or low in _short() or low in _autocorrected()
    return slip or low.endswith("'s") or right_name(low) is not None


def _is_unknown(token: Token, tree: dict[str, Any], kept: frozenset[str]) -> bool:
    low = token.low
    if low in tree or low in plain_words() or low in kept:
        return False
    short = len(low) < 4 and not is_written_short(low)
    return not (short or is_given_name(low) or is_plain_form(low))


def _opens_deed(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`botom watered`: a slip in the first word of a deed of two is no person."""
    for target, _ in nearest(tokens[at].low):
        made = _phrase_with(tokens, at, target, tree)
        if made is not None and made[0] > 1 and "act" in made[1] and "act" not in leaf_of(target):
            return True
    return False


def _mend(mended: Mended, tokens: list[Token], at: int, tree: dict[str, Any], *, last: bool = False) -> bool:
    """Mends one word where it is clear what is meant; False where it could become clear by the words after it."""
    token = tokens[at]
    found = _meant(tokens, at, tree)
    if len(found) == 1:
        if _is_place(tokens, at) and not _VOCAL & leaf_of(found[0]).keys():
            return True
        if _is_within(tokens, at) and not leaf_of(found[0]).keys() - _NO_PLACE:
            return True
        mended.repairs.append(Repair(read=token.low, as_=found[0]))
        token.low = found[0]
        return True
    if last and mended.doubtful is None and any(_is_deed(word) for word in found):
        mended.doubtful = at, tuple(found)
    return not found


def _meant(tokens: list[Token], at: int, tree: dict[str, Any]) -> list[str]:
    """The words that may be meant at a place, one for each meaning; none where the word stays as it is."""
    word = tokens[at].low
    near = nearest(word)
    if not near:
        return []
    past = f"{word[:-1]}ed"
    if word.endswith("d") and any(target == past for target, _ in near):
        # "soakd": only the "e" of its ending is left out.
        return [past]
    least = near[0][1]
    best = [target for target, far in near if far == least or (far <= least * _AS_LIKELY_DEED and _is_deed(target))]
    longer = {target: made for target in best if (made := _phrase_with(tokens, at, target, tree))}
    if longer:
        longest = max(length for length, _ in longer.values())
        return alike(word, {target: leaf for target, (length, leaf) in longer.items() if length == longest})
    for name, far in nearest_names(word):
        if name not in best and (far < least or (far == least and _stands_for_plant(tokens, at))):
            return []
    return alike(word, {target: leaf_of(target) for target in _fitting(tokens, at, best)})


def _fitting(tokens: list[Token], at: int, found: list[str]) -> list[str]:
    """Of the nearest words those that may stand at a place: no act where plain talk is as near, after a verb and its
    count no second verb, after a number an act that is counted.
    """
    whole = [target for target in found if means_by_itself(target)]
    found = whole if whole or _stands_for_plant(tokens, at) else found
    if any(is_common(target) for target in found):
        return [target for target in found if is_common(target)]
    if not _after_count(tokens, at):
        return found
    if _verb_before(tokens, at):
        return [target for target in found if not _is_deed(target) or _is_counted(target)]
    units = [target for target in found if _UNITS & leaf_of(target).keys()]
    return units or [target for target in found if _is_counted(target)] or found


def _phrase_with(tokens: list[Token], at: int, word: str, tree: dict[str, Any]) -> tuple[int, Leaf] | None:
    """How long the longest known phrase, date or measure is that a word makes with those beside it, and its meanings;
    None for none.
    """
    typed, tokens[at].low = tokens[at].low, word
    try:
        made = [(phrase[0] - start, phrase[1]) for start, phrase in _phrases_over(tokens, at, tree)]
        if at and tokens[at - 1].kind == "word":
            moment = read_moment(tokens, at - 1, tree)
            if moment is not None and moment[1] > at:
                made.append((moment[1] - at + 1, leaf_of(word)))
        if not made and _UNITS & leaf_of(word).keys() and _after_number(tokens, at):
            return 1, leaf_of(word)
        return max(made, key=lambda one: one[0], default=None)
    finally:
        tokens[at].low = typed


def _phrases_over(tokens: list[Token], at: int, tree: dict[str, Any]) -> Iterator[tuple[int, tuple[int, Leaf]]]:
    """The known phrases of several words, more than links and talk, that hold the word at a place, and their starts."""
    for start in range(max(0, at - _FARTHEST), at + 1):
        phrase = longest_phrase(tokens, start, tree)
        if phrase is None or phrase[0] <= at or not phrase[1].keys() - _NO_PHRASE:
            continue
        if tokens[phrase[0] - 1].low == "out" and tokens[phrase[0] : phrase[0] + 1] and tokens[phrase[0]].low == "of":
            continue
        if any(token.low not in _LINKS for token in (*tokens[start:at], *tokens[at + 1 : phrase[0]])):
            yield start, phrase


def _plant_name(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[str, ...] | None:
    """The words of a known plant's name of several words, of which the one at a place is misspelt; None for none."""
    typed = tokens[at].low
    meant = right_name(typed)
    try:
        for word in (*(name for name, _ in nearest_names(typed)), *([meant] if meant else ())):
            tokens[at].low = word
            named = [(start, phrase[0]) for start, phrase in _phrases_over(tokens, at, tree) if "plant" in phrase[1]]
            if named:
                tokens[at].low = typed
                return tuple(token.low for token in tokens[slice(*named[0])] if token.low != "-")
        return None
    finally:
        tokens[at].low = typed


def _is_deed(word: str) -> bool:
    return "act" in leaf_of(word) or "shared" in leaf_of(word)


def _is_counted(word: str) -> bool:
    meaning = leaf_of(word).get("act")
    return meaning is not None and bool(meaning.counts_before)


def _after_number(tokens: list[Token], at: int) -> bool:
    """Whether a number stands right before a place, which is no lot or tray (`lots 3 + 4`)."""
    place = at - 1
    if place < 0 or not _is_number(tokens[place]):
        return False
    while place > 1 and tokens[place - 1].low in _LISTING and _is_number(tokens[place - 2]):
        place -= 2
    return place == 0 or tokens[place - 1].low not in _WHOLES


def _is_number(token: Token) -> bool:
    return token.kind == "number" or number_of_word(token.low) is not None


def _after_count(tokens: list[Token], at: int) -> bool:
    return _after_number(tokens, at - 1 if at and tokens[at - 1].low == "of" else at)


def _verb_before(tokens: list[Token], at: int) -> bool:
    """Whether the number before a place follows a verb at once (`potted 12 ...`)."""
    start = at - 2 - (tokens[at - 1].low == "of")
    while start > 0 and (is_common(tokens[start].low) or tokens[start].low in ("the", "up")):
        start -= 1
    return start >= 0 and _is_deed(tokens[start].low) and not _is_counted(tokens[start].low)


def _stands_for_plant(tokens: list[Token], at: int) -> bool:
    """Whether a plant's name may begin at a place: after a count, after `of`, right after a verb."""
    before = tokens[at - 1] if at else None
    return before is not None and (_after_count(tokens, at) or before.low == "of" or _is_deed(before.low))


def _is_pest(word: str) -> bool:
    """`apids`, `gopers`: pests before what they did, in the plural."""
    least = [target for target, far in nearest(word) if far == nearest(word)[0][1]]
    return len(word) >= 5 and word[-1] == "s" and any("cause" in leaf_of(target) for target in least)


@cache
def _slips() -> dict[str, str]:
    """Slips of short words, and the word that is meant."""
    return {slip: word for word, slips in read_toml("slips.toml")["slips"].items() for slip in slips}


@cache
def _short() -> dict[str, str]:
    """Words texted without their vowels, and the word that is meant."""
    return {short: word for word, told in read_toml("slips.toml")["short"].items() for short in told}


@cache
def _autocorrected() -> dict[str, tuple[str, frozenset[str], frozenset[str]]]:
    """Right words that stand for another before some: the word that is meant, those it must stand before, and those
    after which it is right.
    """
    told = read_toml("slips.toml")["autocorrected"]
    return {
        slip: (one["meant"], frozenset(one["before"]), frozenset(one.get("not_after", ())))
        for slip, one in told.items()
    }


def _is_autocorrected(tokens: list[Token], at: int) -> bool:
    """`waterd form the bottom`, `potter 10 from lot 5`: a right word that makes no sense before the next."""
    meant = _autocorrected().get(tokens[at].low)
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if meant is None or after is None or (at and tokens[at - 1].low in {"the", "a", "this", "that"} | meant[2]):
        return False
    if meant[2] and not _may_name_tray(tokens, at):
        return False
    if meant[2] and at + 2 < len(tokens) and tokens[at + 2].low == ":":
        # "fyi try 2: stuck 40 toyon": the second of several goes.
        return False
    return after.low in meant[1] or (after.kind == "number" and "#" in meant[1])


def _may_name_tray(tokens: list[Token], at: int) -> bool:
    """`stuck 40 sage | try 3`: after a deed or what it counted; else it is a verb, or a turn (`try 2: stuck 40`)."""
    before = leaf_of(tokens[at - 1].low) if at else {}
    counted = at > 1 and tokens[at - 2].kind == "number" and tokens[at - 1].kind == "word"
    told = counted or not before.keys().isdisjoint(("act", "shared", "plant"))
    return told and not (at + 2 < len(tokens) and tokens[at + 2].low == ":")


def _is_place(tokens: list[Token], at: int) -> bool:
    """Whether a word may be part of where something went or came from: after `to`, `at` or `from`, but for those
    before a number.
    """
    for one in range(at - 1, max(-1, at - 4), -1):
        if tokens[one].kind in ("line", "mark"):
            return False
        if tokens[one].low in ("to", "at", "from"):
            return not _after_number(tokens, one + 2)
    return False


def _is_within(tokens: list[Token], at: int) -> bool:
    """Whether a word says in what something is (`in the swale`)."""
    before = at - 1
    while before > 0 and (tokens[before].low in ("the", "a", "an", "our") or tokens[before].low in _SIDES):
        before -= 1
    return before >= 0 and tokens[before].low in _WITHIN


def _is_act(word: str, tree: dict[str, Any]) -> bool:
    leaf = tree.get(word, {}).get(END, {})
    return "act" in leaf or "shared" in leaf


def _is_name(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    before = tokens[at - 1] if at else None
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    if before is not None and before.low in _NAMING:
        return True
    heads = before is None or before.kind == "line" or before.low in (",", ".", ";", "and", "&")
    if heads and after is not None and after.kind == "word" and _is_act(after.low, tree):
        meaning = tree[after.low][END].get("act")
        return meaning is None or not meaning.counts_before
    return False
