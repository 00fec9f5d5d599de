"""Which words of a note were misspelt: repairs of single words, made before the note is read, never in names.

Rules
1. A word before a deed at the head of a clause is a person, but for a pest (`apids took out 3`); after `from`, `to`,
   `at`, `by`, `for` a place or person; in quotes a cultivar.
2. Of the words that may be meant, one that makes a longer known phrase with the words beside it goes first, then the
   nearest; one as near to plain talk or to a plant as to an act is no act.
3. One that may still be several acts, or that alone could say what was done and cannot be read, is handed back as
   doubtful. The name of a plant stays as texted.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Final

from core.notes.assembly.listed_slips import is_listed, listed_meaning, misspelt, undrawn
from core.notes.assembly.measure_slips import measure_meant
from core.notes.assembly.name_places import after_number, is_act_word, is_name, is_place, is_within
from core.notes.assembly.small_slips import past_meant, small_word_meant
from core.notes.assembly.talk_slips import talk_meant
from core.notes.assembly.unspaced import part_unspaced
from core.notes.days.dates import read_moment
from core.notes.words.pieces import longest_phrase, statement_ends
from core.notes.words.spelling import (
    ACT_ROLES,
    alike,
    is_common,
    is_garbled,
    is_hindering,
    is_written_short,
    leaf_of,
    means_by_itself,
    nearest,
    nearest_cover,
    nearest_names,
)
from core.notes.words.tokens import Token
from core.notes.words.values import Repair
from core.vocabulary import Leaf, words
from core.vocabulary.everyday import is_given_name, is_plain_form
from core.vocabulary.loading import plain_words, small_words
from core.vocabulary.plants import right_name

_AFTER_COVER: Final = small_words("spelling", "after_cover")
_LINKS: Final = small_words("spelling", "links")
_VOCAL: Final = frozenset({
    "container", "place_word", "cause", "day", "weekday", "month", "inch", "amount", "duration", "act", "for_good",
    "vent_open",
})  # fmt: skip
_DAYS: Final = frozenset({"day", "weekday"})
_WHOLES: Final = small_words("spelling", "wholes")
_UNITS: Final = frozenset({"duration", "amount", "inch", "percent", "part", "fullness"})
_NO_PLACE: Final = frozenset({*ACT_ROLES, "filler"})
_NO_PHRASE: Final = frozenset({"filler", "remarks", "opens", "closes", "company"})
_FARTHEST: Final = 3
_SHORTEST: Final = 4
_SHORTEST_LOOKED_AT: Final = 3
_SHORTEST_DAY: Final = 6
_AS_LIKELY_DEED: Final = 1.2

_AFTER_THINGS: Final = small_words("spelling", "after_things")
_THINGS: Final = frozenset({"what", "cover_noun"})


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
    garbled: list[int] = []
    settled, told = _settled_words(), misspelt()
    for at, token in enumerate(tokens):
        if token.kind != "word" or token.low in settled:
            continue
        if token.low in told:
            mended.repairs.append(Repair(read=token.low, as_=told[token.low]))
            continue
        no_word = _is_no_word(token, tree, kept)
        if not no_word and not _may_be_mended(token.low):
            continue
        plain = undrawn(token.low) if no_word else None
        if plain is not None:
            token.low = plain
            continue
        listed = listed_meaning(tokens, at, tree) if token.low not in kept else None
        if listed is not None and listed.either:
            mended.doubtful = mended.doubtful or (at, listed.either)
        elif listed is not None:
            if listed.told:
                mended.repairs.append(Repair(read=token.low, as_=listed.word))
            token.low = listed.word
        elif _holds_deed(tokens, at, tree):
            token.low = token.low[:-2]
        elif no_word or right_name(token.low):
            typed = token.low
            if not _mend_unlisted(mended, tokens, at, tree, no_word=no_word):
                unclear.append(at)
            elif token.low == typed and no_word:
                if (parts := part_unspaced(token, tree)) is not None:
                    tokens[at : at + 1] = parts
                elif is_garbled(typed):
                    garbled.append(at)
    for at in unclear:
        _mend(mended, tokens, at, tree, last=True)
    if mended.doubtful is None and garbled:
        mended.doubtful = _deed_unread(tokens, garbled, tree)
    return mended


def _deed_unread(tokens: list[Token], garbled: list[int], tree: dict[str, Any]) -> tuple[int, tuple[str, ...]] | None:
    """A word that nobody can read (`tray 6 hjwed`), where it alone may say what was done with a lot or a tray."""
    names = any(token.low in _WHOLES or token.kind == "lot" for token in tokens)
    tells = any(token.kind == "word" and is_act_word(token.low, tree) for token in tokens)
    return (garbled[0], ()) if names and not tells else None


def _holds_deed(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`the quat's dumped`, `clarkia's up, about 60`, `the seed's been …`: whether a verb is written onto a word of the
    bench.
    """
    low = tokens[at].low
    if not low.endswith("'s") or at + 1 >= len(tokens) or low in tree or low[:-2] not in tree:
        return False
    after = tokens[at + 1].low
    if after in _AFTER_THINGS and not _THINGS.isdisjoint(words().phrases.get(low[:-2], ())):
        return True
    return is_act_word(after, tree) or (after == "up" and statement_ends(tokens, at + 2, tree))


def _mend_unlisted(mended: Mended, tokens: list[Token], at: int, tree: dict[str, Any], *, no_word: bool) -> bool:
    """Mends a word that no list of slips names; False where it could become clear by the words after it."""
    token = tokens[at]
    meant = _meant_where_it_stands(tokens, at, tree) if no_word else None
    if meant is not None:
        mended.repairs.append(Repair(read=token.low, as_=meant))
        token.low = meant
        return True
    if len(token.low) < _SHORTEST and not is_written_short(token.low):
        return True
    name = _plant_name(tokens, at, tree)
    if name is not None:
        mended.names.append(name)
        return True
    named = is_name(tokens, at, tree) and not _is_pest(token.low) and not _is_date(tokens, at)
    if not no_word or (named and not _opens_deed(tokens, at, tree)):
        return True
    return _mend(mended, tokens, at, tree)


@cache
def _settled_words() -> frozenset[str]:
    """The words that begin a known phrase and are no slip of another."""
    return frozenset(low for low in words().tree if not _may_be_mended(low))


def _may_be_mended(low: str) -> bool:
    """Whether a word that is known may still be a slip of another."""
    return is_listed(low) or low in misspelt() or low.endswith("'s") or right_name(low) is not None


def _is_no_word(token: Token, tree: dict[str, Any], kept: frozenset[str]) -> bool:
    """Whether a word is none of the vocabulary, of the crew, of plain English, and no name."""
    low = token.low
    if len(low) < _SHORTEST_LOOKED_AT or low in tree or low in plain_words() or low in kept:
        return False
    return not (is_given_name(low) or is_plain_form(low))


def _meant_where_it_stands(tokens: list[Token], at: int, tree: dict[str, Any]) -> str | None:
    """The word that an unknown one is a slip of, where only its place tells which."""
    talk = talk_meant(tokens, at) or _cover_meant(tokens, at) or past_meant(tokens[at].low)
    return talk or measure_meant(tokens, at) or small_word_meant(tokens, at, tree)


def _cover_meant(tokens: list[Token], at: int) -> str | None:
    """The cover that a word is a slip of, where it says next that it went on or off (`lod on`); None for none."""
    after = tokens[at + 1].low if at + 1 < len(tokens) else ""
    near = nearest_cover(tokens[at].low) if after in _AFTER_COVER else ()
    return near[0] if len({str(leaf_of(target)["cover_noun"]) for target in near}) == 1 else None


def _is_date(tokens: list[Token], at: int) -> bool:
    """`satruday`, `yesterdya`, `aprl 3`: days and months where a name may stand."""
    word = tokens[at].low
    roles = {role for target, _ in nearest(word) for role in leaf_of(target)}
    if at + 1 < len(tokens) and tokens[at + 1].kind == "number" and "month" in roles:
        return True
    return len(word) >= _SHORTEST_DAY and not _DAYS.isdisjoint(roles)


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
        if is_place(tokens, at) and not _VOCAL & leaf_of(found[0]).keys():
            return True
        told = leaf_of(found[0]).keys() - _NO_PLACE or _says_so_within(tokens, at, found[0])
        if is_within(tokens, at) and not told:
            return True
        mended.repairs.append(Repair(read=token.low, as_=found[0]))
        token.low = found[0]
        return True
    if last and mended.doubtful is None and any(_is_deed(word) for word in found):
        mended.doubtful = at, tuple(found)
    return not found


def _says_so_within(tokens: list[Token], at: int, word: str) -> bool:
    """Whether a word tells a deed with the one before it, and so names no place (`in quarentine`)."""
    return "act" in leaf_of(f"{tokens[at - 1].low} {word}")


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
    deed_before_lot = _before_whole(tokens, at) and any(map(_is_deed, best))
    for name, far in nearest_names(word):
        nearer = far < least and not deed_before_lot
        if name not in best and (nearer or (far == least and _stands_for_plant(tokens, at))):
            return []
    return alike(word, {target: leaf_of(target) for target in _fitting(tokens, at, best)})


def _fitting(tokens: list[Token], at: int, found: list[str]) -> list[str]:
    """Of the nearest words those that may stand at a place: no act where plain talk is as near, after a verb and its
    count no second verb, after a number an act that is counted.
    """
    whole = [target for target in found if means_by_itself(target)]
    found = whole if whole or _stands_for_plant(tokens, at) else found
    common = [target for target in found if is_common(target)]
    if common:
        # "mised" is as near to "missed" as to "misted": one says that the other was not done.
        hinders = any(is_hindering(target) for target in common)
        return [*common, *(target for target in found if hinders and _is_deed(target))]
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
        if not made and _UNITS & leaf_of(word).keys() and after_number(tokens, at):
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


def _before_whole(tokens: list[Token], at: int) -> bool:
    """Whether a lot or a tray is named right after a word at a head (`mistsd tray 4`)."""
    heads = not at or tokens[at - 1].kind in ("line", "mark")
    return heads and at + 1 < len(tokens) and tokens[at + 1].low in _WHOLES


def _is_deed(word: str) -> bool:
    return "act" in leaf_of(word) or "shared" in leaf_of(word)


def _is_counted(word: str) -> bool:
    meaning = leaf_of(word).get("act")
    return meaning is not None and bool(meaning.counts_before)


def _after_count(tokens: list[Token], at: int) -> bool:
    return after_number(tokens, at - 1 if at and tokens[at - 1].low == "of" else at)


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


