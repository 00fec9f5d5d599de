"""Which lots an answer to "which lot?" means where it is no bare name: "tray 2 i think", "both", "the ones in pumice".

Rules
1. A lot, tray or plant must be one of the books.
2. "Both" and "all" are the lots that stand as buttons; a count of them is then asked as of any several lots.
3. What a lot is (its medium, place, tray, plant) names it where that is true of one of the lots offered alone.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from core.answers import Choice
from core.conversation.answer_words import core_of
from core.conversation.doubts import EACH_OR_ALL
from core.conversation.heard import either, heard
from core.conversation.recording import Pending
from core.conversation.scene import TALK_LASTS, Scene
from core.lots import Lot, lots_in
from core.lots.by_plant import lots_of_plant
from core.notes import read_answer
from core.storage import Books

_WORDS = "answers_heard"
_OFFERED = "of_those_offered"

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
        one = _the_other(books, scene, words, offered) or _by_what_it_is(words, offered)
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
