"""Where a note says that a lot or tray stands, with no word of a move: "lot 15 is in tray 9 now", "…, right?".

Rules
1. "Now", or a lot of which the books know no place, is a move; else what differs from the books is asked about.
2. What the books say already is said back, and nothing is written.
3. Only a tray, a place that the crew has named, or a word for a place of a nursery is a place ("in trouble" is none).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from core.answers import Answer, Asked, Choice, Refused
from core.conversation.asking import put_question
from core.conversation.correction_words import bare
from core.conversation.heard import either
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots import Lot, lots_in
from core.lots.trays import trays_in_place
from core.notes import Reading, read_answer
from core.questions import answer_question
from core.storage import Books
from core.vocabulary.place_words import places_of_a_nursery

_ARTICLES = re.compile(r"^(?:the|our|my|a)\s+")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """A lot or tray, the place that it is said to stand in, and whether since now or as a question."""

    move: Entry
    lots: tuple[Lot, ...]
    now: bool
    asks: bool


@cache
def _pattern() -> re.Pattern[str]:
    one = {key: either("standing", "says", key) for key in ("opens", "verbs", "leads", "now", "checks")}
    number = r"(?:\d[\d-]*[a-z]?|[a-z]\d{0,2})\b"
    what = rf"(?P<what>(?:lots?|trays?)? ?{number}(?: (?:and )?{number})*)"
    stands = rf"(?P<verb> (?:{one['verbs']}))?(?P<early> (?:{one['now']}))?(?P<lead> (?:{one['leads']}))?"
    ends = rf"(?P<late> (?:{one['now']}))?(?P<asks> (?:{one['checks']}))?"
    return re.compile(rf"(?:(?:{one['opens']}) )*{what}{stands} (?P<place>.+?){ends}")


@cache
def _wrong() -> re.Pattern[str]:
    """Where it was said to stand before, at the end ("… in tray 5 not tray 2")."""
    return re.compile(rf" (?:{either('corrections', 'numbers', 'instead_of')}) (?:in |on |at )?(?:tray )?[\w-]+$")


def standing_told(books: Books, scene: Scene, reading: Reading) -> Reading | Answer | None:
    """The move that the words come to, the answer or question that they get instead, or None for other words."""
    one = reading.entries[0] if len(reading.entries) == 1 else None
    if one is None or one.act not in (Act.NOTE, Act.ASK) or scene.message.photo is not None:
        return None
    told = _told(books, scene)
    if told is None or (one.act is Act.ASK and not told.asks):
        return None
    if _stands_there(books, told):
        where = Entry(act=Act.ASK, about="where", lots=tuple(lot.number for lot in told.lots), trays=told.move.trays)
        return answer_question(books, where, scene.now) if told.asks else Refused(why="nothing_changed")
    if not told.asks and (told.now or not any(lot.trays or lot.place for lot in told.lots)):
        return Reading(entries=(told.move,), repairs=reading.repairs)
    return _ask(books, scene, told)


def _told(books: Books, scene: Scene) -> _Told | None:
    words = bare(scene.message.text.replace(",", " ").replace("\u2019", "'").replace("'s ", " s ").replace("?", " "))
    found = _pattern().fullmatch(_wrong().sub("", words))
    if found is None or not (found["verb"] or found["early"] or found["late"] or found["asks"]):
        return None
    place = _ARTICLES.sub("", found["place"])
    named = read_answer("lot", found["what"], scene.local_now) or {}
    lots = tuple(lot for one in named.get("lots", ()) if (lot := _lot(books, scene, one)) is not None)
    trays = tuple(named.get("trays", ()))
    if not _is_place(scene, place, alone=found["lead"] is None) or (not lots and (not trays or trays_in_place(place))):
        return None
    move = Entry(act=Act.MOVE, lots=tuple(lot.number for lot in lots), trays=() if lots else trays, to=place)
    inside = lots or tuple({lot.number: lot for tray in trays for lot in lots_in(tray, books.lots())}.values())
    return _Told(move=move, lots=inside, now=bool(found["early"] or found["late"]), asks=bool(found["asks"]))


def _lot(books: Books, scene: Scene, texted: str) -> Lot | None:
    number = books.resolve(texted, scene.year())
    return books.lot(number) if number is not None else None


def _is_place(scene: Scene, place: str, *, alone: bool) -> bool:
    """Whether the words name a place; `alone` where no "in" or "on" leads to it, as with "outside"."""
    known = (*scene.names.places, *places_of_a_nursery())
    if alone:
        return place in known
    return bool(trays_in_place(place)) or any(f" {one} " in f" {place} " for one in known)


def _stands_there(books: Books, told: _Told) -> bool:
    trays = set(trays_in_place(told.move.to))
    return bool(told.lots) and all(
        trays <= set(lot.trays) if trays else lot.place == told.move.to for lot in told.lots
    )


def _ask(books: Books, scene: Scene, told: _Told) -> Asked:
    places = {lot.number: (list(lot.trays), lot.place) for lot in told.lots}
    choices = (Choice(label="yes", action={"force": "moved_there"}), Choice(label="no", action={"drop": True}))
    facts = {"places": places, "to": told.move.to}
    return put_question(books, scene, [Pending(kind="moved_there", entries=(told.move,), choices=choices, facts=facts)])
