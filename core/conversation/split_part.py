"""Which plants went to a new lot, where the note counts them by it ("split off 30 rooted from lot 3")."""

from __future__ import annotations

import re
from dataclasses import replace

from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots.phrases import parted_of, phrases
from core.notes import Reading


def of_the_split(scene: Scene, reading: Reading) -> Reading:
    """The reading with the kind of plants kept beside each split that was counted by it."""
    if not any(one.act is Act.SPLIT for one in reading.entries):
        return reading
    text = " ".join(scene.message.text.lower().split())
    return replace(reading, entries=tuple(_with_kind(one, text) for one in reading.entries))


def _with_kind(one: Entry, text: str) -> Entry:
    if one.act is not Act.SPLIT or not one.count or parted_of(one.rest) is not None:
        return one
    for kind, words in phrases().loss_of:
        said = "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))
        if re.search(rf"(?<![\w/-]){one.count} (?:of the |of them |are |were )?(?:{said})(?!\w)", text):
            return replace(one, rest=" ".join(filter(None, (one.rest, f"{kind} ones"))))
    return one
