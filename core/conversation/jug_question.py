"""Whether to ask what the bleach jug's label says: once, at the first mix of bleach, where nobody has told it."""

from __future__ import annotations

from collections.abc import Iterable

from core import answers
from core.answers import Choice
from core.conversation.recording import Pending
from core.entries import Act, Entry
from core.questions.jug import jug_of
from core.storage import Books

_ASKED = "jug_asked"
_USUAL = (5.25, 6, 7.5, 8.25)
"""Strengths on the labels of household bleach, in percent (common practice)."""


def jug_pending(books: Books, acts: Iterable[answers.Act]) -> tuple[Pending, ...]:
    """The question about the jug, where a mix of bleach calls for it and it was never asked."""
    mixed = any(act.entry.act is Act.MIX and act.entry.solution == "bleach" for act in acts)
    if not mixed or books.setting(_ASKED) is not None or jug_of(books) is not None:
        return ()
    books.settle(_ASKED, "yes")
    choices = tuple(Choice(label=f"{percent:g} %", action={"fill": {"percent": percent}}) for percent in _USUAL)
    return (Pending(kind="jug", entries=(Entry(act=Act.NOTE, text="the jug's label"),), choices=choices),)
