"""Is it a question: how questions open, and how they end.

A sentence is a question where it opens like one, or ends in a question mark and tells no deed.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Final

from core.notes.names.everyday_names import OPENERS
from core.notes.parting.when_told import tells_what_then
from core.notes.talk.counts_asked import asks_of_count
from core.notes.talk.having import has_plants, tells_state
from core.notes.talk.question_marks import BEFORE_ASKING, ends_asking, only_names
from core.notes.talk.supposing import supposes
from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import end_of_statement, is_end
from core.notes.words.steps import Look, Marks, telling
from core.vocabulary import words
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import read_toml, small_words

_ASKERS: Final = small_words("asking", "askers")
_PEOPLE: Final = small_words("asking", "after_auxiliaries")
_PLANNED: Final = small_words("questions", "planned")
_FORESEEN: Final = small_words("questions", "foreseen")
_POLITE: Final = small_words("asking", "before_questions")
_BEFORE_WHEN: Final = small_words("asking", "before_when")
_WONDERING: Final = small_words("asking", "wondering")
_AUXILIARIES: Final = small_words("asking", "opening_auxiliaries")
_DONE_TO_ALL: Final = small_words("asking", "done_to_all")
_ASKED: Final = small_words("asking", "asked_to_do")
_BARE_VERBS: Final = small_words("asking", "bare_verbs")
_AFTER_NUMBERS: Final = small_words("asking", "after_numbers")
_TAGS: Final = small_words("asking", "tags")
_ARTICLES: Final = frozenset({"the", "my", "our"})
_FAR: Final = 5
"""So many pieces after `did the` may stand before its verb (`did the tray by the door wilt`)."""
_WHOSE: Final = frozenset({"i", "we", "he", "she", "you"})
_GOING_ON: Final = small_words("asking", "going_on")
_EXCLAIMED: Final = frozenset({"a", "an"})
"""After `what` these praise or lament (`what a day`)."""
_WHAT: Final = frozenset({"what", "wat", "wut"})
_DONE: Final = frozenset({"did", "got", "have", "'ve"})
_SUBJECTS: Final = frozenset({"lot", "lots", "tray", "trays"})
_ORDERING: Final = frozenset({"tell", "show", "list", "give", "count", "history"})
_OPENING: Final = frozenset(telling(word for rule in read_toml("questions.toml")["opens"] for word in rule["words"]))
_ANY: Final = frozenset({"any", "anyone", "anybody", "anything"})
_SO_TOO: Final = frozenset({"is", "are", "was", "were", "did", "do", "does", "has", "have"})
_REACHES: Final = frozenset({"hits", "reaches", "gets", "passes"})
_WHO: Final = small_words("side_talk", "who")
_PLACED: Final = small_words("side_talk", "placed")
_BEFORE_WHICH: Final = frozenset({"moment", "temp", "degrees", "lots", "trays"})
_OF_WHICH: Final = small_words("side_talk", "of_which")
_TELLING: Final = ("act", "shared", "noun", "none")
_SHRUGGING: Final = frozenset({"knows", "cares", "knew"})
"""After `who` these ask nothing where nothing follows (`he says it rooted, who knows`)."""
_ENDS_WEN: Final = _AUXILIARIES | {"to", "we", "i", "you", "was", "were"}
"""After these the short "wen" is "when"."""
_ASKING: Final = Look({"?", "hw", *_ANY, *_ORDERING, *_OPENING, *_ASKERS, *_AUXILIARIES, "yet"})
"""Of these words a sentence must hold one to ask."""


def may_ask(marks: Marks) -> bool:
    """Whether a question may begin in a sentence with these marks."""
    return _ASKING.finds_in(marks)


def begins_question(pieces: list[Piece], place: int) -> bool:
    """Whether a question begins at a piece (the first after a mark)."""
    at = _after_politeness(pieces, place)
    opens = _opens_asking(pieces, place, at)
    if opens is None:
        return "plan" not in pieces[at].roles and ends_asking(pieces, at) and _no_deed(pieces, at)
    return opens


def opens_question(pieces: list[Piece], place: int) -> bool:
    """Whether the words at a piece ask by themselves, and not only by a question mark somewhere behind them."""
    return bool(_opens_asking(pieces, place, _after_politeness(pieces, place)))


def _after_politeness(pieces: list[Piece], place: int) -> int:
    at = place
    while at < len(pieces) and (pieces[at].low in _POLITE or pieces[at].kind == "mark") and at - place < 3:
        at += 1
    if at + 1 >= len(pieces):
        return at
    asker = pieces[at + 1].low.split(" ")[0]
    when = pieces[at].low in _BEFORE_WHEN and asker == "when"
    return at + (when or (pieces[at].low in _WONDERING and asker in _ASKERS))


def _opens_asking(pieces: list[Piece], place: int, at: int) -> bool | None:
    """Whether the words at a place ask, or tell; None where only the mark at their end can tell."""
    if is_end(pieces, at):
        return False
    if at > place and pieces[place].low not in _POLITE | _BEFORE_WHEN | _WONDERING:
        return False
    if _opens(pieces, at):
        return True
    if at > place and pieces[at - 1].low == "so" and pieces[at].low in _SO_TOO and not ends_asking(pieces, at):
        # "the salsa is gone, so is basil".
        return False
    if _heads_deeds(pieces, at) or goes_on(pieces, at):
        return False
    first = pieces[at].low.split(" ")[0]
    following = [word for piece in pieces[at : at + 3] for word in piece.low.split(" ")][1:3]
    if first in _WHAT and following[:1] and following[0] in _EXCLAIMED and not ends_asking(pieces, at):
        return False
    if first == "hw" and (not following or following[0] not in ("many", "much", "do", "is", "long", "old")):
        return False
    if first == "when" and following[:1] and following[0] in _WHOSE and not ends_asking(pieces, at):
        return False
    if first == "when" and (_tells_of_self(pieces, at) or tells_what_then(pieces, at)) and not ends_asking(pieces, at):
        return False
    if shrugs(pieces, at):
        return False
    if first == "wen" and not _ENDS_WEN.issuperset(following[:1]):
        # "wen potted 12", "wen & odie sat": somebody's name.
        return False
    if first in _ASKERS:
        # "how about we move lot 5 to the shade" proposes.
        return "plan" not in pieces[at].roles and not (first == "when" and _conditional(pieces, at))
    if is_tag(pieces, at):
        return False
    if first == "history":
        return following[:1] in (["of"], ["for"], ["on"])
    if first in _ORDERING:
        return _orders(pieces, at)
    if first in _AUXILIARIES:
        return _auxiliary_asks(first, following, pieces, at)
    if first == "any" and pieces[at].low.startswith("any chance "):
        return False
    if first in ("any", "anyone", "anybody") or (first == "anything" and following):
        return True
    return None


def _may_go_on(piece: Piece) -> bool:
    """Whether a word after `which` tells more of what was named (`which took forever`)."""
    deed = piece.roles.get("act") or piece.roles.get("shared")
    done = deed is not None and deed.form == "done" and not deed.counts_before
    return (piece.kind == "word" and piece.low not in _OF_WHICH) or done


def shrugs(pieces: list[Piece], at: int) -> bool:
    """`who knows`, `who knew i could get sentimental about a dome`: nothing asked."""
    after = pieces[at + 1 : at + 2]
    return pieces[at].low == "who" and bool(after) and after[0].low in _SHRUGGING and not ends_asking(pieces, at)


def goes_on(pieces: list[Piece], at: int) -> bool:
    """`moved lot 5 to the lath, which is full now`, `for tess, who moved in next door`, `22 rooted, where last week it
    had nine`: more of what was told or of somebody, and nothing asked.
    """
    if at < 2 or pieces[at - 1].low != "," or ends_asking(pieces, at):
        return False
    words = pieces[at].low.split(" ") + [piece.low for piece in pieces[at + 1 : at + 2]]
    if len(words) < 2:
        return False
    before = pieces[at - 2]
    if words[0] in _WHO:
        named = before.kind in ("person", "word") or before.roles.keys() == {"plant"}
        return named and (is_given_name(before.low) or not is_everyday(before.low))
    said = pieces[: at - 1]
    told = any(not one.roles.keys().isdisjoint(_TELLING) or one.low.split(" ")[0] in _SO_TOO for one in said)
    told = told or before.kind in _BEFORE_WHICH or (before.kind == "word" and is_everyday(before.low))
    if words[0] == "where":
        return told and words[1] not in _PLACED
    verb = any(_may_go_on(piece) for piece in pieces[at + 1 : at + 2])
    return told and words[0] == "which" and (verb or words[1] in _GOING_ON or words[1] in OPENERS)


def _tells_of_self(pieces: list[Piece], at: int) -> bool:
    """`when tray 4 wilted i misted it`: what whoever texts did then."""
    end = end_of_statement(pieces, at)
    named = at + 1 < end and pieces[at + 1].kind in ("lots", "trays")
    done = (pieces[place + 1].roles.get("act") for place in range(at, end - 1) if pieces[place].low in ("i", "we"))
    return named and any(word is not None and word.form == "done" for word in done)


def _heads_deeds(pieces: list[Piece], at: int) -> bool:
    """`what i did today: misted 1-6, fed 7`: a heading, and nothing asked."""
    words = [word for piece in pieces[at : at + 3] for word in piece.low.split(" ")][:3]
    if len(words) < 3 or words[0] not in _WHAT or words[2] not in _DONE:
        return False
    end = next((place for place in range(at, len(pieces)) if pieces[place].kind == "break"), at)
    return pieces[end].low == ":" and not ends_asking(pieces, end)


def _has_so_many(pieces: list[Piece], at: int) -> bool:
    """`want 100 toyon, have 80`: how many there are, and nothing that they did."""
    told = pieces[at + 1 : end_of_statement(pieces, at)]
    return bool(told) and told[0].kind == "number" and not any(map(is_act, told))


def _solution_does(after: list[Piece]) -> bool:
    """The `hurt` of `will bleach hurt the snips`; `will bleach pots later` is a plan."""
    return any(piece.kind == "word" for piece in after)


def _auxiliary_asks(first: str, following: list[str], pieces: list[Piece], at: int) -> bool:
    """Whether `did`, `is`, `can` and the like open a question and no telling (`did lot 14`, `can you mist tray 3`)."""
    after = following[0] if following else ""
    ends = ends_asking(pieces, at)
    if (is_act(pieces[at]) and not ends) or supposes(pieces, at):
        return False
    if first == "did" and after in _DONE_TO_ALL and not ends:
        return False
    if first in ("did", "were") and asks_of_count(first, pieces, at):
        return True
    if first == "have" and not ends and _has_so_many(pieces, at):
        return False
    if first in ("did", "do", "have") and following and not ends and (after in _SUBJECTS or _did_some(following)):
        return (first == "have" and not has_plants(pieces, at)) or _bare_verb_follows(pieces, at)
    if first == "did" and after in _ARTICLES and not ends:
        return any(_is_bare_verb(piece) or tells_state(piece) for piece in pieces[at + 2 : at + 2 + _FAR])
    if first in ("can", "could", "would", "will") and after in _ASKED and not ends:
        return _can_we(first, following, pieces, at)
    return bool(following) and (
        after in _PEOPLE
        or (after in ("bleach", "quat") and (first != "will" or _solution_does(pieces[at + 2 : at + 3])))
        or ends
        or first == "does"
        or (first in ("is", "are", "did") and _noun_follows(pieces, at))
    )


def _bare_verb_follows(pieces: list[Piece], at: int) -> bool:
    """`did tray 3 wilt yesterday`, `did lot 30 get misted`: a bare verb asks, where `did tray 3` and no more tells."""
    if at + 2 >= len(pieces) or pieces[at + 1].kind not in ("lots", "trays"):
        return False
    return _is_bare_verb(pieces[at + 2])


def _is_bare_verb(piece: Piece) -> bool:
    return "to_do" in piece.roles or piece.low.split(" ")[0] in _BARE_VERBS


def _can_we(first: str, following: list[str], pieces: list[Piece], at: int) -> bool:
    """`can we stick more`, `will we have enough`; anything else asked of somebody is a wish."""
    if following[0] != "we" or len(following) < 2 or first == "could":
        return False
    if first in ("will", "would"):
        return following[1] in _FORESEEN
    return following[1] in _PLANNED or "get it all" in " ".join(piece.low for piece in pieces[at : at + 5])


@cache
def _openers() -> re.Pattern[str]:
    return re.compile("|".join(f"(?:{rule['says']})" for rule in read_toml("questions.toml")["opens"]))


def _opens(pieces: list[Piece], at: int) -> bool:
    """True for words that ask by themselves: "season report", "t50 of lot 1"."""
    words = []
    for piece in pieces[at:]:
        if piece.low in (".", "\n", "?", "!", ";"):
            break
        if piece.kind not in ("break", "mark"):
            words.append(piece.low)
    text = " ".join(words)
    return _openers().match(text) is not None


def _did_some(following: list[str]) -> bool:
    """`did 30 heels`, `did 1-4`: what was done; `did 14 get misted`, `did 3000 beat 1000` ask."""
    counted = following[0].replace("-", "").isdigit()
    return counted and following[1:] not in ([verb] for verb in _AFTER_NUMBERS)


def _noun_follows(pieces: list[Piece], at: int) -> bool:
    return at + 1 < len(pieces) and (
        pieces[at + 1].kind in ("word", "ppm", "percent", "number", "person", "colon", "parts")
        or any(
            role in pieces[at + 1].roles for role in ("plant", "cutting", "medium", "wood", "hormone_form", "container")
        )
    )


def is_bare(piece: Piece) -> bool:
    """The `merge` of `merge trays 3 and 4?`: a verb whose past is another word."""
    past = words().phrases.get(f"{piece.low}d", {}).get("act")
    return past is not None and past == piece.roles.get("act")


def is_tag(pieces: list[Piece], at: int) -> bool:
    """`misted tray 3, right?`: a tag that doubts what stands before it, and asks nothing by itself."""
    if not at or pieces[at - 1].low != ",":
        return False
    end = end_of_statement(pieces, at)
    tag = " ".join(piece.low for piece in pieces[at:end])
    return tag in _TAGS and end < len(pieces) and pieces[end].low == "?"


def doubts_deed(pieces: list[Piece], place: int) -> bool:
    """Whether a sentence that tells a deed ends in a question mark: then it tells none (`misted tray 2?`)."""
    for at in range(place, len(pieces)):
        if pieces[at].low == "?":
            return at > place
        if pieces[at].low in (".", "\n", ";", "!") or (
            at > place and pieces[at - 1].low in BEFORE_ASKING and begins_question(pieces, at)
        ):
            return False
    return False


def _conditional(pieces: list[Piece], at: int) -> bool:
    """`when they root, pot them`: a condition, not a question."""
    words = [word for piece in pieces[at : at + 4] for word in piece.low.split(" ")]
    if (
        len(words) > 1
        and (words[1] in _SUBJECTS or words[1].isdigit())
        and any("to_do" in piece.roles or piece.low in _REACHES for piece in pieces[at:])
        and not ends_asking(pieces, at)
    ):
        return True
    return (
        len(words) > 1
        and words[1] in ("they", "it", "roots", "the", "its", "it's")
        and not ends_asking(pieces, at)
        and (words[2:3] or [""])[0] not in ("was", "were", "is", "are", "did")
    )


def _orders(pieces: list[Piece], at: int) -> bool:
    words = " ".join(piece.low for piece in pieces[at : at + 4])
    if pieces[at].low == "list":
        return True
    if words.startswith(
        (
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


def _no_deed(pieces: list[Piece], at: int) -> bool:
    for piece in pieces[at:]:
        if piece.low in ("?", ".", "\n"):
            break
        word = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None and not word.counts_before and word.form == "done" and word.act not in ("check",):
            return piece.low in ("mixed", "fresh")
    return True


def is_question(pieces: list[Piece]) -> bool:
    """Whether a sentence asks."""
    first = next((place for place, piece in enumerate(pieces) if piece.kind != "break"), None)
    return first is not None and begins_question(pieces, first)


def asks_at_end(pieces: list[Piece]) -> bool:
    """`heel vs tip for ceanothus, which is better?`: what is asked about stands before the question."""
    for place in range(1, len(pieces)):
        if pieces[place - 1].low in BEFORE_ASKING and begins_question(pieces, place):
            return only_names(pieces[:place])
    return False
