"""Seed that goes back into the cold: "back in", "toyon back in", after somebody told that it came out.

Rules
1. "Back in" alone is of what the last thing told in this chat says came out; else of the one lot that came out of the
   cold before its time this week, where nothing else stands open that could go back.
2. With its plant or number it is of that lot, as long as it is out.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import timedelta
from functools import cache

from core.conversation.correction_words import bare
from core.conversation.heard import either, heard
from core.conversation.scene import TALK_LASTS, Scene
from core.entries import Act, Entry
from core.lots import Lot, open_states
from core.lots.cold import STRATIFYING
from core.notes import Reading, read_answer
from core.records import Record
from core.storage import Books
from core.vocabulary.plants import same_plant

_REACH = timedelta(days=7)
_MAY_GO_BACK = ("cover_off", "outside", "soak")


def hear_back_in_the_cold(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading with the cold that goes on; as it was for other words, or after other talk."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act not in (Act.NOTE, Act.MOVE, Act.COVER) or one.trays or one.count is not None:
        return reading
    words = bare(scene.message.text)
    if words not in heard("answers_heard", "back_in_the_cold"):
        lots = _named(books, scene, words)
    elif one.plant or one.lots:
        return reading
    else:
        lots = _told_out(books, scene) or _out_alone(books, scene, words)
    cold = _cold_of(books, lots)
    if cold is None:
        return reading
    numbers = tuple(lot.number for lot in lots)
    goes_on = Entry(act=Act.TREAT, treatment=cold.treatment, lots=numbers, on=one.on, by=one.by)
    return Reading(entries=(goes_on,), repairs=reading.repairs)


def _told_out(books: Books, scene: Scene) -> list[Lot]:
    """The lots of which the last note in this chat told that they came out, and nothing besides."""
    since = scene.message.said_at - TALK_LASTS
    told = scene.replied_records or books.told_in(scene.chat, since=since, until=scene.message.said_at)
    last = [record for record in told if record.holds() and record.message == told[-1].message]
    ended = [record for record in last if record.entry.act is Act.TREAT and record.entry.ends]
    out = [lot for record in ended if (lot := books.lot(record.lot or "")) is not None and _is_out(lot)]
    return out if len(out) == len(last) else []


def _out_alone(books: Books, scene: Scene, words: str) -> list[Lot]:
    """The one lot that came out too early this week, where nothing else could be what goes back "in"."""
    if "in" not in words.split():
        return []
    lots = books.lots()
    out = [lot for lot in lots if _is_out(lot) and _too_early(lot) and _came_out(lot, scene)]
    if len(out) != 1:
        return []
    records = books.records(since=scene.message.said_at - _REACH)
    standing = open_states(records, lots, scene.zone, scene.now)
    return [] if any(kind in _MAY_GO_BACK for kind, _ in standing) else out


def _named(books: Books, scene: Scene, words: str) -> list[Lot]:
    """The lots that the words name as back in, where all of them are out of the cold."""
    found = _back_in().fullmatch(words)
    named = read_answer("lot", found["what"], scene.local_now) if found is not None else None
    if named is None:
        return []
    if "plant" in named:
        out = [lot for lot in books.lots() if same_plant(lot.plant, str(named["plant"])) and lot.unsown]
    else:
        numbers = [books.resolve(str(one), scene.year()) for one in named.get("lots", ())]
        out = [lot for number in numbers if number and (lot := books.lot(number)) is not None]
    plants_out = [lot for lot in out if _is_out(lot)]
    return plants_out if plants_out and (len(plants_out) == 1 or len(plants_out) == len(out)) else []


def _is_out(lot: Lot) -> bool:
    """Whether seed came out of the cold and was not sown."""
    return lot.unsown and bool(lot.colds) and not any(cold.running or cold.planned for cold in lot.colds)


def _too_early(lot: Lot) -> bool:
    asked = lot.colds[-1].days_asked
    return asked is not None and lot.colds[-1].days_counted < asked


def _came_out(lot: Lot, scene: Scene) -> bool:
    ended_at = lot.colds[-1].ended_at
    return ended_at is not None and scene.message.said_at - ended_at <= _REACH


def _cold_of(books: Books, lots: Sequence[Lot]) -> Entry | None:
    """What these lots had last, as it was told; None where there are none, or they had different things."""
    last = [_last_cold(books, lot) for lot in lots]
    treatments = {one.entry.treatment for one in last if one is not None}
    return last[0].entry if last and last[0] is not None and None not in last and len(treatments) == 1 else None


def _last_cold(books: Books, lot: Lot) -> Record | None:
    told = [one for one in books.records(("treat",), lots=(lot.number,)) if one.holds()]
    return next((one for one in reversed(told) if one.entry.treatment in STRATIFYING), None)


@cache
def _back_in() -> re.Pattern[str]:
    """ "Toyon back in", "put the toyon seed back in again", "lot 1 is back in"."""
    keys = ("verbs", "seed", "stands", "ends")
    verbs, seed, stands, ends = (either("answers_heard", "back_in_the_cold", key) for key in keys)
    what = rf"(?:the )?(?P<what>.+?)(?: (?:{seed}))?"
    return re.compile(rf"(?:(?:{verbs}) )?{what}(?: (?:{stands}))? back in(?: (?:{ends}))?")
