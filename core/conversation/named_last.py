"""Which lots or trays this person named last with nothing recorded of them: in a question, a look, a note asked back.

Rules
1. What was named after the latest note is what the talk is about now; a note or an undo since ends that.
2. A plant named goes on with the lot talked of, where that lot is of this plant.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from core.conversation.correction_words import bare
from core.conversation.counting import counts_plants
from core.conversation.heard import heard
from core.conversation.placing import offer
from core.conversation.recording import Pending
from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act, Entry
from core.lots.by_plant import lots_of_plant
from core.notes import Context, Reading, read
from core.storage import Books

_OF_LOTS = frozenset({"count", "due", "where", "history", "who", "stock", "open", "list"})
_NAMES_NONE = frozenset({Act.HELLO, Act.REPLY, Act.UNDO, Act.ROSTER, Act.REMIND, Act.RULE, Act.TARGET})


def context_of(books: Books, scene: Scene, reading: Reading) -> Context:
    """What the reader may fill in from the talk, with what was named in questions."""
    context = scene.context()
    if context.replied is None and scene.replied_answers is not None:
        told = books.words_of(scene.replied_answers)
        context = replace(context, replied=_named_in(books, scene, told) if told else None)
    if context.replied is not None or not any(ask.kind == "lot" for ask in reading.asks):
        return context
    return replace(context, asked=_asked_of(books, scene))


def with_lots_left_over(books: Books, scene: Scene, told: Reading, reading: Reading) -> Reading:
    """The reading with the lots that an entry's left-over numbers name ("of 14 15") in place of those of the talk, or
    where it named none.

    `told` is the reading as the words alone gave it.
    """
    entries, asks = list(reading.entries), list(reading.asks)
    for place, (before, one) in enumerate(zip(told.entries, reading.entries, strict=False)):
        words = re.sub(r"(?<=\d)/(?=\d)", " ", bare(before.rest or "")).split()
        numbers = [word for word in words if word.isdecimal()]
        small = all(word.isdecimal() or word in heard("answers_heard", "lots_left_over") for word in words)
        if not numbers or not small or before.act is not one.act or not _are_lots(books, scene, one, numbers):
            continue
        if any(ask.kind == "number" and ask.entry == place for ask in asks):
            # "14 lost 16": one of them is the count, and which is asked.
            continue
        beside = before.lots if counts_plants(one) else ()
        if before.lots and not beside:
            continue
        entries[place] = replace(one, lots=(*beside, *numbers), trays=(), rest=None)
        asks = [ask for ask in asks if ask.kind != "lot" or ask.entry != place]
    return replace(reading, entries=tuple(entries), asks=tuple(asks))


def _are_lots(books: Books, scene: Scene, one: Entry, numbers: Sequence[str]) -> bool:
    """Whether all numbers are lots, where they are several or the talk gave one; of what counts no plants they may be
    trays."""
    lots = all(books.resolve(number, scene.year()) is not None for number in numbers)
    if one.lots or one.trays or counts_plants(one):
        return lots and (bool(one.lots) or (len(numbers) > 1 and not one.trays))
    trays = {tray for lot in books.lots() for tray in lot.trays}
    return len(numbers) > 1 and (lots or set(numbers) <= trays)


def offer_of_talk(books: Books, scene: Scene, one: Entry | Pending) -> Entry | Pending:
    """The question for a lot with the lots as buttons that the talk was of, where it was of several; else with the one
    lot that stands open, where there is no other."""
    if not isinstance(one, Pending) or one.kind != "lot" or one.choices:
        return one
    source = scene.context().replied or _asked_of(books, scene) or scene.context().latest
    lots = [lot for lot in map(books.lot, source.lots if source else ()) if lot is not None and not lot.closed]
    if len(lots) > 1:
        return replace(one, choices=offer(lots))
    alone = books.lots() if not one.facts and counts_plants(one.entries[0]) else ()
    return replace(one, choices=offer(alone)) if len(alone) == 1 else one


def _asked_of(books: Books, scene: Scene) -> Entry | None:
    message = scene.message
    since = message.said_at - TALK_LASTS
    lately = books.said_lately(scene.chat, scene.speaker, since=since, until=message.said_at, but=message.message_id)
    for key, text in lately:
        if any(not _says_nothing_of_lots(one.entry) for one in books.records_of_message(key)):
            return None
        named = _named_in(books, scene, text) if text.strip() else None
        if named is not None:
            return named
    return None


def _says_nothing_of_lots(entry: Entry) -> bool:
    return entry.act is Act.NOTE and not (entry.lots or entry.trays or entry.plant)


def _named_in(books: Books, scene: Scene, text: str) -> Entry | None:
    """The lots, else the trays, else the plant that some words name last, as far as the books know them."""
    for told in reversed(read(text, scene.local_now, scene.names).entries):
        if told.act in _NAMES_NONE or (told.act is Act.ASK and told.about not in _OF_LOTS):
            continue
        numbers = [books.resolve(one, scene.year()) for one in told.lots if one != "all"]
        lots = tuple(number for number in numbers if number is not None)
        if lots:
            return Entry(act=Act.NOTE, lots=lots)
        if told.trays and told.trays != ("all",) and not told.lots:
            return Entry(act=Act.NOTE, trays=told.trays)
        if told.plant and not told.lots and not told.trays:
            return _of_plant(books, scene, told)
    return None


def _of_plant(books: Books, scene: Scene, told: Entry) -> Entry | None:
    """The plant of a question; nothing at all, so that it is asked, where a deed of one of its lots was asked back."""
    plant = told.plant or ""
    standing = [lot.number for lot in lots_of_plant(plant, books.lots())]
    if told.act is not Act.ASK and len(standing) > 1:
        return Entry(act=Act.NOTE)
    if not standing or any(one.lot in standing for one in scene.latest):
        return None
    return Entry(act=Act.NOTE, plant=plant)
