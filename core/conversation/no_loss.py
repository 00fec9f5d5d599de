"""Which words of dead plants or wilting tell of no loss: "that 31 included dead ones", "wilting gone".

Rules
1. A count that had dead ones in it is wrong: what is right is asked, and nothing is lost by it.
2. Wilting that is gone is neither wilting nor a loss; its words are kept.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from core.conversation.heard import either
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading

_WORDS = "answers_heard"


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """A count that had dead ones in it; wilting that is gone."""
    opens, what, verbs, were, dead = (
        either(_WORDS, "included", key) for key in ("opens", "what", "verbs", "were", "dead")
    )
    wilt, is_, gone = (either(_WORDS, "wilt_gone", key) for key in ("wilt", "is", "gone"))
    return (
        re.compile(
            rf"(?:(?:{opens}) )*(?:(?:{what}) )?(?:\d+ |count )?(?:rooted )?(?:(?:{were}) )?(?:{verbs}) "
            rf"(?:\w+ ){{0,2}}?(?:{dead})\b.*"
        ),
        re.compile(rf"\b(?:the )?(?:{wilt}) (?:(?:{is_}) )*(?:{gone})\b"),
    )


def without_false_loss(scene: Scene, reading: Reading) -> Reading:
    """The reading without losses that its words do not tell of."""
    words = " ".join(scene.message.text.lower().split())
    included, gone = _patterns()
    if included.fullmatch(words) and len(reading.entries) == 1 and reading.entries[0].act is Act.LOSE:
        return _count_in_doubt(scene, reading)
    found = gone.search(words)
    return _recovered(reading, scene.message.text, found[0]) if found is not None else reading


def _count_in_doubt(scene: Scene, reading: Reading) -> Reading:
    one, text = reading.entries[0], scene.message.text
    counted = any(told.entry.act is Act.CHECK for told in (*scene.latest, *scene.replied_records))
    if counted and not one.lots and not one.trays:
        return Reading(entries=(Entry(act=Act.AMEND),), repairs=reading.repairs)
    return Reading(entries=(Entry(act=Act.NOTE, lots=one.lots, trays=one.trays, text=text),), repairs=reading.repairs)


def _recovered(reading: Reading, text: str, words: str) -> Reading:
    gone = [
        place
        for place, one in enumerate(reading.entries)
        if one.act is Act.WILT or (one.act is Act.LOSE and one.count is None and one.share is None and not one.all_of)
    ]
    if not gone:
        return reading
    kept = [place for place in range(len(reading.entries)) if place not in gone]
    if not kept:
        one = reading.entries[gone[0]]
        note = Entry(act=Act.NOTE, lots=one.lots, trays=one.trays, plant=one.plant, text=text)
        return Reading(entries=(note,), repairs=reading.repairs)
    entries = [reading.entries[place] for place in kept]
    entries[-1] = replace(entries[-1], rest=" ".join(part for part in (entries[-1].rest, words) if part))
    asks = tuple(replace(ask, entry=kept.index(ask.entry)) for ask in reading.asks if ask.entry in kept)
    if "lot" not in {ask.kind for ask in asks if ask.entry == 0} and not (entries[0].lots or entries[0].trays):
        asks = (*[replace(ask, entry=0) for ask in reading.asks if ask.kind == "lot"][:1], *asks)
    return replace(reading, entries=tuple(entries), asks=asks)
