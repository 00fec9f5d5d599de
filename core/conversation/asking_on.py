"""Which question is put again, of something else: "i meant lot 15", "what about 16?", "and the toyon?".

Rules
1. It goes on from this person's own question of a moment ago; without one, a lot named asks how it stands.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from typing import Any

from core.answers import Answer
from core.conversation.correction_words import bare, said
from core.conversation.fitting import given
from core.conversation.named_last import context_of
from core.conversation.scene import Scene, words_before
from core.entries import Act, Entry
from core.lots.phrases import phrases, says
from core.notes import Ask, Reading, read, read_answer
from core.questions import answer_question
from core.storage import Books

_QUESTION_LASTS = timedelta(minutes=15)
_OF_ALL = frozenset({"count", "due"})


def corrected_question(
    books: Books, scene: Scene, told: Entry, *, numbers: bool = False, of_all: bool = False
) -> Answer | None:
    """The answer to this person's question of a moment ago, about what the correction names instead; else None.

    With `numbers` a bare number names the lot; with `of_all` a question that named none counts too.
    """
    if numbers and set(given(told)) == {"count"} and not told.lots and books.resolve(str(told.count), scene.year()):
        told = Entry(act=Act.AMEND, lots=(str(told.count),))
    if told.lots and told.plant:
        # "Lot 16 is actually white sage" tells what it is and asks nothing.
        return None
    if scene.replied_records or not (told.lots or told.trays or told.plant) or set(given(told)) - {"trays", "plant"}:
        return None
    before = _words_of_question(books, scene)
    asked = _question(before, scene)
    if asked is None or not (asked.lots or asked.trays or asked.plant or (of_all and asked.about in _OF_ALL)):
        return None
    meant = replace(asked, lots=told.lots, trays=told.trays, plant=told.plant)
    return answer_question(books, meant, scene.now, before, scene.speaker)


def question_goes_on(books: Books, scene: Scene) -> Answer | None:
    """The answer to "what about 16?" after a question of this person's own; None for other words."""
    opener, told, named = _goes_on(scene.message.text, scene)
    if named:
        return corrected_question(books, scene, Entry(act=Act.AMEND, **named), of_all=True)
    return _of_another_day(books, scene, told) if opener is not None else None


def _of_another_day(books: Books, scene: Scene, words: str) -> Answer | None:
    """ "And tomorrow", after "what's due today"."""
    asked = _question(words_before(books, scene, scene.speaker, _QUESTION_LASTS), scene)
    if asked is None or asked.about != "due" or asked.lots or asked.trays or asked.plant:
        return None
    text = f"{said('asks_on', 'due')[0]} {words}"
    again = read(text, scene.local_now, scene.names).entries
    if len(again) != 1 or again[0].about != "due" or again[0].lots or again[0].trays:
        return None
    named = again[0].on is not None if again[0].rest is None else words in said("asks_on", "periods")
    return answer_question(books, again[0], scene.now, text, scene.speaker) if named else None


def asks_on(books: Books, scene: Scene) -> bool:
    """Whether the words put this person's own question of a moment ago again, and so answer none of the bot's."""
    return scene.question is not None and question_goes_on(books, scene) is not None


def of_those(books: Books, scene: Scene, asked: Entry) -> Entry:
    """The question with "how many of them are left" of the lots that this person told or asked of last; where there are
    none, with the words that nobody can tell the meaning of as left over."""
    named = asked.lots or asked.trays or asked.plant
    if asked.about != "count" or named or not says(scene.message.text, [f"of {one}" for one in phrases().them]):
        return asked
    context = context_of(books, scene, Reading(entries=(asked,), asks=(Ask(kind="lot", entry=0),)))
    source = context.replied or context.asked or context.latest
    if source is None or not (source.lots or source.trays):
        meant = next(one for one in phrases().them if says(scene.message.text, [f"of {one}"]))
        return replace(asked, rest=" ".join(filter(None, (asked.rest, meant))))
    return replace(asked, lots=source.lots, trays=source.trays)


def _words_of_question(books: Books, scene: Scene) -> str:
    """The words just before these; where they went on with a question themselves ("and 15?"), that question's."""
    message = scene.message
    since = message.said_at - _QUESTION_LASTS
    lately = books.said_lately(scene.chat, scene.speaker, since=since, until=message.said_at, but=message.message_id)
    told = [text for _, text in lately]
    return next((text for text in told if not _goes_on(text, scene)[2]), "")


def _goes_on(text: str, scene: Scene) -> tuple[str | None, str, dict[str, Any]]:
    """What goes on with a question before some words ("and of"), the words, and the lots that they name; the words are
    none where nothing goes on."""
    words = bare(text.replace("?", " "))
    opener = next((one for one in said("asks_on") if words.startswith(f"{one} ")), None)
    closer = next((one for one in said("asks_on", "closes") if words.endswith(f" {one}")), None)
    if opener is None and closer is None:
        return None, "", {}
    told = words.removeprefix(opener or "").removesuffix(closer or "").strip()
    return opener, told, read_answer("lot", told, scene.local_now) or {}


def as_question(reading: Reading, text: str = "") -> Reading:
    """The question that "lot 15 how many rooted" is, or "total losses"; the reading itself for other words."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is not None and one.act is Act.LOSE and _asks_of_losses(one, bare(text.replace("?", " ")).split()):
        asked = Entry(act=Act.ASK, about="count", did=one.act.value, lots=one.lots or ("all",), trays=one.trays)
        return Reading(entries=(asked,), repairs=reading.repairs)
    if one is None or one.act is not Act.CHECK or one.state is None or one.count is not None or one.share is not None:
        return reading
    if bare(one.rest or "") not in said("how_many"):
        return reading
    asked = Entry(act=Act.ASK, about="count", state=one.state, lots=one.lots, trays=one.trays, plant=one.plant)
    return Reading(entries=(asked,), repairs=reading.repairs)


def _asks_of_losses(one: Entry, words: list[str]) -> bool:
    counted = one.count is not None or one.share is not None or one.all_of or one.left is not None
    if counted or one.plant or one.cause or "losses" not in words:
        return False
    return all(word in said("losses") or word in (*one.lots, *one.trays) for word in words)


def _question(words: str, scene: Scene) -> Entry | None:
    """The one question that these words ask; a lot named alone asks how it stands."""
    told = as_question(read(words, scene.local_now, scene.names)).entries if words else ()
    if len(told) == 1 and told[0].act is Act.ASK:
        return told[0]
    named = re.fullmatch(r"(?:lot |#)?(\d[\d-]*)\??", bare(words))
    return Entry(act=Act.ASK, about="history", lots=(named[1],)) if named is not None else None
