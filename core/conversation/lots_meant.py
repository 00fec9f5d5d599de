"""Which lots an answer to "which lot?" means where it is no bare name: "tray 2 i think", "both", "the ones in pumice".

Rules
1. A lot, tray or plant must be one of the books.
2. "Both" and "all" are the lots that stand as buttons; a count of them is then asked as of any several lots.
3. What a lot is (its medium, place, tray, plant) names it where that is true of one of the lots offered alone. So does
   that it was begun last or first, that most or fewest are left, and who began it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import Any

from core.answers import Choice
from core.conversation.answer_words import core_of
from core.conversation.doubts import EACH_OR_ALL
from core.conversation.heard import either, heard
from core.conversation.recording import Pending
from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act, Entry
from core.lots import Lot, lots_in
from core.lots.by_plant import lots_of_plant
from core.notes import read_answer
from core.storage import Books

_WORDS = "answers_heard"
_OFFERED = "of_those_offered"
_ENDS = "which_by_age_or_size"
_BEGUN = frozenset({Act.STICK, Act.DIVIDE, Act.SOW})

Meant = tuple[dict[str, Any], tuple[str, ...]]
"""What fills the note (lots, trays or plant), and the doubts that the answer settles."""


def lots_meant(books: Books, scene: Scene, first: Pending) -> Meant | None:
    """The lots that these words mean, or None where they name none in one of these ways."""
    words = core_of(scene.message.text)
    several = _several(first, words)
    if several is not None:
        return several
    offered = _lots_offered(books, first.choices)
    if len(offered) > 1:
        one = (
            _the_other(books, scene, words, offered)
            or _by_age_or_size(scene, words, offered)
            or _by_whose(scene, words, offered)
            or _by_what_it_is(words, offered)
        )
        if one is not None:
            return {"lots": (one.number,)}, ()
    if words == scene.message.text.lower().strip(" .!"):
        return None
    named = _known(books, scene, read_answer("lot", words, scene.local_now) or {})
    return (named, ()) if named is not None else None


def lots_in_doubt(books: Books, scene: Scene) -> list[Lot]:
    """The lots of "14 or 15": either of them; none where the words say no such thing."""
    parts = re.split(r"\bor\b", core_of(scene.message.text).removeprefix("either "))
    named = [read_answer("lot", part.strip(), scene.local_now) or {} for part in parts]
    numbers = [books.resolve(lot, scene.year()) for one in named for lot in one.get("lots", ())]
    lots = [books.lot(number) for number in numbers if number is not None]
    known = [lot for lot in lots if lot is not None and not lot.closed]
    return known if len(parts) > 1 and len(known) == len(parts) else []


def none_meant(first: Pending, text: str) -> bool:
    """Whether the words say that none of the lots offered is meant."""
    return len(first.choices) > 1 and core_of(text) in heard(_WORDS, _OFFERED, "none")


def _lots_offered(books: Books, choices: Sequence[Choice]) -> list[Lot]:
    numbers = (lot for one in choices for lot in one.action.get("fill", {}).get("lots", ()))
    return [lot for lot in map(books.lot, numbers) if lot is not None]


def _several(first: Pending, words: str) -> Meant | None:
    """All that stand as buttons: both, all, so many each."""
    fills = [one.action.get("fill", {}) for one in first.choices]
    if len(fills) < 2 or any(len([*fill.get("lots", ()), *fill.get("trays", ())]) != 1 for fill in fills):
        return None
    every = {
        "lots": tuple(lot for fill in fills for lot in fill.get("lots", ())),
        "trays": tuple(tray for fill in fills for tray in fill.get("trays", ())),
    }
    if words in heard(_WORDS, _OFFERED, "both") and len(fills) == 2:
        return every, ()
    if words in heard(_WORDS, _OFFERED, "all"):
        told = re.search(r"\d+", words)
        return (every, ()) if told is None or int(told[0]) == len(fills) else None
    found = re.fullmatch(rf"(?:(\d{{1,5}}) )?(?:{either(_WORDS, _OFFERED, 'each')})", words)
    count = first.entries[0].count if first.entries else None
    if found is None or count is None or found[1] not in (None, str(count)):
        return None
    return every, (EACH_OR_ALL,)


def _the_other(books: Books, scene: Scene, words: str, offered: Sequence[Lot]) -> Lot | None:
    """The one of two that nobody told of last in this chat."""
    if words not in heard(_WORDS, _OFFERED, "other"):
        return None
    lately = books.told_in(scene.chat, since=scene.message.said_at - TALK_LASTS)
    told = {one.lot for one in lately if one.message == lately[-1].message}
    left = [lot for lot in offered if lot.number not in told]
    return left[0] if len(offered) == 2 and len(left) == 1 else None


def _by_age_or_size(scene: Scene, words: str, offered: Sequence[Lot]) -> Lot | None:
    """ "The one i stuck last", "the bigger lot": the one at that end, where it stands there alone."""
    told, mine = _without_doer(words)
    own = [lot for lot in offered if scene.speaker in (lot.opened_by, lot.opened_told_by)]
    among = own if mine and own else offered
    if mine and len(own) == 1 and told in heard(_WORDS, _ENDS, "any"):
        return own[0]
    if told in heard(_WORDS, _ENDS, "last"):
        return _alone_at_end(sorted(((lot.opened_at.timestamp(), lot) for lot in among), key=_size, reverse=True))
    if told in heard(_WORDS, _ENDS, "first"):
        return _alone_at_end(sorted(((lot.opened_at.timestamp(), lot) for lot in among), key=_size))
    left = [(float(lot.left), lot) for lot in among if lot.left is not None]
    if len(left) < len(among):
        return None
    if told in heard(_WORDS, _ENDS, "most"):
        return _alone_at_end(sorted(left, key=_size, reverse=True))
    return _alone_at_end(sorted(left, key=_size)) if told in heard(_WORDS, _ENDS, "fewest") else None


def _size(one: tuple[float, Lot]) -> float:
    return one[0]


def _alone_at_end(ranked: Sequence[tuple[float, Lot]]) -> Lot | None:
    """The first of some ranked lots, where no other has the same rank."""
    if not ranked or (len(ranked) > 1 and ranked[0][0] == ranked[1][0]):
        return None
    return ranked[0][1]


def _without_doer(words: str) -> tuple[str, bool]:
    """The words without "i stuck", and whether they said that the speaker did it."""
    found = re.search(rf"\b(?:that |which )?(?:i|we)(?: just| have|ve)? (?:{either(_WORDS, _ENDS, 'began')})\b", words)
    if found is None:
        return words, False
    return " ".join(f"{words[: found.start()]} {words[found.end() :]}".split()), found[0].split()[0] != "we"


@cache
def _whose() -> re.Pattern[str]:
    """ "Thea's lot", "the one thea stuck", "mine"."""
    began, nouns = either(_WORDS, _ENDS, "began"), either(_WORDS, _ENDS, "nouns")
    one = rf"(?:the (?:{nouns})|that)(?: (?:of|from|that|which))*"
    theirs = rf"(?P<who>[\w-]+?)['\u2019]?s?(?: (?:{nouns}))?"
    return re.compile(rf"(?:{one} )?(?:{theirs}|(?P<doer>[\w-]+)(?: has|ve)? (?:{began}))")


def _by_whose(scene: Scene, words: str, offered: Sequence[Lot]) -> Lot | None:
    """The only one that the person named began."""
    found = _whose().fullmatch(words)
    told = (found["who"] or found["doer"] or "") if found is not None else ""
    names = {name.lower(): name for name in (*scene.names.people, scene.speaker)}
    mine = told in heard(_WORDS, _ENDS, "mine")
    who = scene.speaker if mine else names.get(told) or names.get(told.removesuffix("s"))
    theirs = [lot for lot in offered if who is not None and who in (lot.opened_by, lot.opened_told_by)]
    return theirs[0] if len(theirs) == 1 else None


def describes_a_lot(scene: Scene, told: Entry) -> bool:
    """Whether what reads as a lot begun only says which lot is meant ("the one i stuck last", "the one thea stuck")."""
    if told.act not in _BEGUN or told.count is not None or told.trays:
        return False
    words = core_of(scene.message.text)
    left, _ = _without_doer(words)
    by_age = left != words and any(left in heard(_WORDS, _ENDS, key) for key in ("last", "first", "any"))
    whose = _whose().fullmatch(words)
    return by_age or (whose is not None and whose["doer"] in {name.lower() for name in scene.names.people})


def _by_what_it_is(words: str, offered: Sequence[Lot]) -> Lot | None:
    telling = {_stem(word) for word in words.split() if word not in heard(_WORDS, _OFFERED, "fillers")}
    if not telling or any(word.isdecimal() for word in telling):
        return None
    fitting = [lot for lot in offered if telling <= _words_of(lot)]
    return fitting[0] if len(fitting) == 1 else None


def _words_of(lot: Lot) -> set[str]:
    """The words for what a lot is, where it stands, and in what."""
    held = (lot.plant, lot.medium, lot.cutting, lot.wood, lot.place, lot.container.kind if lot.container else None)
    told = " ".join(one for one in held if one)
    return {_stem(word) for word in re.findall(r"[\w-]+", told.lower())}


def _stem(word: str) -> str:
    return word.removesuffix("s") if len(word) > 3 else word


def _known(books: Books, scene: Scene, named: dict[str, Any]) -> dict[str, Any] | None:
    """What is named, where all of it is in the books."""
    open_lots = books.lots()
    if any(books.resolve(lot, scene.year()) is None for lot in named.get("lots", ())):
        return None
    if any(not lots_in(tray, open_lots) for tray in named.get("trays", ())):
        return None
    if named.get("plant") and not lots_of_plant(named["plant"], open_lots):
        return None
    return named or None
