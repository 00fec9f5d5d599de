"""Whether a danger of which a message tells one half is one: the other half stands mixed, or was just talked of.

Rules
1. Bleach that was mixed and not poured out since is at hand for a day, what was put into it for some hours; what is
   felt comes of what is some hours old at most.
2. What was said in this chat within the hour counts as well, but not what came before the bleach was poured out.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act
from core.notes import half_danger, names_any
from core.records import Record, in_order
from core.storage import Books

_STANDS_FOR: Final = timedelta(hours=26)
_FELT_FOR: Final = timedelta(hours=3)
"""A day's bleach is poured out late; its smell is gone sooner (both common practice)."""


def danger_at_hand(books: Books, scene: Scene, words: str) -> str | None:
    """The kind of emergency that the words tell beside what is at hand, or None: "added vinegar" to the bleach."""
    half = half_danger(words)
    if half is None:
        return None
    said_at = scene.message.said_at
    told = books.records(acts=("mix", "sanitize", "pour_out"), since=said_at - _STANDS_FOR)
    ours = [one for one in in_order(told) if names_any(half.others, one.entry.solution or "")]
    if ours and _stands(ours[-1], scene, half.felt):
        return half.kind
    poured = [one.at for one in ours if one.entry.act is Act.POUR_OUT]
    since = max([said_at - TALK_LASTS, *poured])
    lately = books.words_lately(scene.chat, since=since, until=said_at, but=scene.message.message_id)
    return half.kind if names_any(half.others, lately) else None


def _stands(latest: Record, scene: Scene, felt: bool) -> bool:
    """Whether the latest note of a solution leaves it at hand."""
    if latest.entry.act is Act.POUR_OUT:
        return False
    mixed = latest.entry.act is Act.MIX and not felt
    return scene.message.said_at - latest.at <= (_STANDS_FOR if mixed else _FELT_FOR)
