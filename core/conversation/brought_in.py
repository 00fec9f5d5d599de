"""What of the plants outside was brought in: "brought it in", "tray 1 is back in", "they're all back inside".

Rules
1. The only lot that stands outside is meant, or all where the words say all; of several it is asked which.
2. Words that name a lot or a tray mean that one, where it stands outside. Where nothing is known to be
   outside, a move told so is one inside, and other words are no such words.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import Final

from core.answers import Answer, Choice
from core.conversation.asking import put_question
from core.conversation.correction_words import bare
from core.conversation.heard import either
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.conversation.waiting import set_aside
from core.entries import Act, Entry
from core.lots import Lot
from core.lots.trays import tray_name
from core.notes import Reading, read_answer
from core.storage import Books

_TABLE: Final = "brought_in"
_MOST_BUTTONS: Final = 6


def hear_brought_in(books: Books, scene: Scene, reading: Reading) -> Reading | Answer:
    """The reading with what came in from outside, or the question which of several; else as it was."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act not in (Act.NOTE, Act.MOVE) or one.to not in (None, "inside") or one.count:
        return reading
    words = bare(scene.message.text)
    found = _pattern().fullmatch(words)
    outside = [lot for lot in books.lots() if lot.outing is not None] if found is not None else []
    if found is None or not outside:
        told_in = found is not None and one.act is Act.MOVE and one.to is None
        asks = tuple(ask for ask in reading.asks if ask.kind != "to")
        return replace(reading, entries=(replace(one, to="inside"),), asks=asks) if told_in else reading
    plain = replace(one, act=Act.MOVE, to="inside", text=None, rest=None, answer=None, all_of=False)
    where = found["brought"] or found["stood"]
    if where:
        told = read_answer("lot", where, scene.local_now) or {}
        named = replace(plain, trays=told.get("trays", ()), lots=told.get("lots", ()))
        return _as_read(reading, [named]) if _stands_out(books, scene, named, outside) else reading
    of_reply = [lot for lot in outside if lot.number in {subject.name for subject in scene.reminded_of}]
    meant = of_reply or outside
    if len(meant) > 1 and not (found["several"] or found["all"] or found["every"]):
        return _which(books, scene, plain, meant)
    return _as_read(reading, [replace(plain, lots=(lot.number,), trays=()) for lot in meant])


def brings_place_in(text: str) -> bool:
    """Whether the words are "tray 1 is back in": more than a tray named."""
    found = _pattern().fullmatch(bare(text))
    return found is not None and bool(found["brought"] or found["stood"])


@cache
def _pattern() -> re.Pattern[str]:
    """ "I brought it in", "tray 1 is back in"."""
    who, verbs, one, several, ends, stands = (
        either("answers_heard", _TABLE, key) for key in ("who", "verbs", "one", "several", "ends", "stands")
    )
    place = r"(?P<{}>(?:lot|tray|trays|lots|#)\s?[\w-]+(?: and [\w-]+)?)"
    told = rf"(?:{verbs}) (?:{one}|(?P<several>{several})|{place.format('brought')}) (?:{ends})"
    is_in = rf"(?:(?:{one}|(?P<all>{several})|{place.format('stood')}) )?(?:{stands})"
    short = rf"(?:{either('answers_heard', _TABLE, 'short')})|(?P<every>{several}) (?:{ends})"
    return re.compile(rf"(?:(?:{who}) )*(?:{told}|{is_in}|{short})(?: (?:now|again|already))?")


def _as_read(reading: Reading, entries: Sequence[Entry]) -> Reading:
    return Reading(entries=tuple(entries), repairs=reading.repairs)


def _stands_out(books: Books, scene: Scene, named: Entry, outside: Sequence[Lot]) -> bool:
    numbers = {books.resolve(lot, scene.year()) for lot in named.lots}
    trays = {tray_name(tray) for tray in named.trays}
    return any(lot.number in numbers or trays & {*lot.trays} for lot in outside)


def _which(books: Books, scene: Scene, plain: Entry, outside: Sequence[Lot]) -> Answer:
    choices = tuple(
        Choice(label=f"lot {lot.number}", action={"fill": {"lots": [lot.number]}}) for lot in outside[:_MOST_BUTTONS]
    )
    pending = Pending(kind="lot", entries=(plain,), choices=choices)
    return put_question(books, set_aside(books, scene), [pending])
