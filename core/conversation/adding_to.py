"""What belongs to the deed told just before: "0.1% iba powder" after a sticking, "and 10 more" after a potting.

Rules
1. A detail that the deed has no word of yet is added to it; one that it has already is no detail but a correction.
2. "More" of a deed is another deed of the same lot; "now 40" after a count is another count. A number that may be
   another lot instead ("and 15") is asked. "All 22" after 22 says that count again.
3. Only words that say nothing else: what the verb before them does not use up makes them a note.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any

from core.conversation.heard import either, heard
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Ask, Names, Reading, read, read_answer
from core.records import Record
from core.storage import Books
from core.vocabulary.loading import read_toml

VERBS = {
    Act.POT: "potted", Act.LOSE: "lost", Act.SELL: "sold", Act.GIVE: "gave", Act.PLANT_OUT: "planted out",
    Act.STICK: "stuck", Act.SOW: "sowed", Act.DIVIDE: "divided", Act.COLLECT: "collected",
}  # fmt: skip
_TAKES_MORE = frozenset({Act.POT, Act.LOSE, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.CHECK})
_LONGEST = 8
_LEAD = 3
_NO_NUMBERS = frozenset(heard("answers_heard", "and_more", "opens") + heard("answers_heard", "and_more", "more"))


def told_besides(books: Books, scene: Scene, reading: Reading) -> Reading | None:
    """What the words add to this person's latest deed, or None where they add nothing to it."""
    note = reading.entries[0] if len(reading.entries) == 1 else None
    if note is None or note.act is not Act.NOTE or note.lots or note.trays or note.plant or scene.replied_reminders:
        return None
    latest = _latest_deed(scene)
    text = scene.message.text.strip()
    if latest is None or len(text.split()) > _LONGEST or "?" in text:
        return None
    before = latest.entry
    keys = additions(before, _without_echo(before, text), scene.local_now, scene.names)
    if keys is None and before.count is None and before.act in VERBS and text.isdecimal():
        keys = {"count": int(text)} if before.amount is None else None
    if keys:
        amend = Entry.from_keys({"act": "amend", **keys})
        return Reading(entries=(amend,), repairs=reading.repairs)
    words = _in_figures(" ".join(text.lower().split()).strip(" .!"), scene.local_now)
    more = _more_of(scene, latest, words)
    if more is None:
        return None
    elsewhere = _elsewhere(books, scene, latest, words)
    if elsewhere is not None and _says_too(words):
        return None
    asks = (Ask(kind="act", entry=0, choices=(elsewhere, more)),) if elsewhere is not None else ()
    return Reading(entries=(more,), asks=asks, repairs=reading.repairs)


def _latest_deed(scene: Scene) -> Record | None:
    """The one deed of the message replied to, else of this person's latest note."""
    told = scene.replied_records or scene.latest
    entries = {one.entry for one in told if one.holds()}
    return told[0] if len(entries) == 1 and told[0].lot is not None else None


def _without_echo(before: Entry, text: str) -> str:
    """The words without the count of the deed said again ("all 22, 4in", after 22 were potted)."""
    found = re.match(rf"all (?:of )?{before.count}\b[\s,;:]*(?=\S)", text, re.IGNORECASE) if before.count else None
    return text[found.end() :] if found is not None else text


def additions(before: Entry, text: str, now: datetime, names: Names) -> dict[str, Any] | None:
    """The keys (as published) that some words add to a deed, or None where they are no details of it."""
    verb = VERBS.get(before.act)
    if verb is None or text.isdecimal():
        return None
    count = before.count or 10
    told = read(f"{verb} {count} {before.plant or ''} {text}", now, names).entries
    if len(told) != 1 or told[0].act is not before.act or told[0].rest or told[0].lots or told[0].trays:
        return None
    known = replace(before, rest=None).as_keys()
    keys = {key: value for key, value in told[0].as_keys().items() if known.get(key) != value and key != "act"}
    if before.count is None and keys.get("count") == count:
        del keys["count"]
    return keys if keys and not set(keys) & set(known) and "on" not in keys and "by" not in keys else None


@cache
def _more() -> re.Pattern[str]:
    opens, more = (either("answers_heard", "and_more", key) for key in ("opens", "more"))
    return re.compile(rf"(?P<open>(?:(?:{opens}) )*)(?P<count>\d{{1,4}})(?P<more> (?:{more}))?(?P<rest> .*)?")


def _says_too(words: str) -> bool:
    """ "And 15 too": the same there, and no more here."""
    found = _more().fullmatch(words)
    return found is not None and (found["rest"] or "").strip() in read_toml("likewise.toml")["again"]["words"]


def _elsewhere(books: Books, scene: Scene, latest: Record, words: str) -> Entry | None:
    """The deed in the open lot that the number may be ("and 15"), its count still to be told; None where it is none."""
    found = _more().fullmatch(words)
    if found is None or found["more"] or (found["rest"] and not _says_too(words)) or "another" in found["open"]:
        return None
    number = books.resolve(found["count"], scene.year())
    lot = books.lot(number) if number is not None else None
    if lot is None or lot.closed or lot.number == latest.lot:
        return None
    kept = replace(latest.entry, lots=(found["count"],), trays=(), plant=None, left=None, rest=None)
    return replace(kept, count=None, count_max=None, of=None, approx=False, more=False, share=None, all_of=False)


@cache
def _now() -> re.Pattern[str]:
    before, after = (either("answers_heard", "now_in_all", key) for key in ("before", "after"))
    return re.compile(rf"(?:{before}) (?P<count>\d{{1,4}})(?: (?:{after}))?")


def _in_figures(words: str, now: datetime) -> str:
    """The words with the first that is a number's name as a figure ("and one more")."""
    told = words.split()
    for place, word in enumerate(told[:_LEAD]):
        named = read_answer("count", word, now) if word.isalpha() and word not in _NO_NUMBERS else None
        if named is not None and set(named) == {"count"} and named["count"]:
            return " ".join([*told[:place], str(named["count"]), *told[place + 1 :]])
    return words


def _more_of(scene: Scene, latest: Record, words: str) -> Entry | None:
    before = latest.entry
    if before.act is Act.CHECK and before.count is not None:
        total = _now().fullmatch(words)
        if total is not None:
            return Entry(act=Act.CHECK, lots=(latest.lot or "",), state=before.state, count=int(total["count"]))
    found = _more().fullmatch(words)
    if found is None or before.act not in _TAKES_MORE or not (found["open"] or found["more"]):
        return None
    if before.act is Act.CHECK:
        words = f"another {found['count']} {before.state}{found['rest'] or ''}"
    else:
        words = f"{VERBS[before.act]} {found['count']}{found['rest'] or ''}"
    told = read(words, scene.local_now, scene.names).entries
    if len(told) != 1 or told[0].act is not before.act or told[0].rest or told[0].lots or told[0].trays:
        return None
    cause = before.cause if before.act is Act.LOSE and told[0].cause is None else told[0].cause
    # "More" were not potted before, whatever the size of their pots.
    rest = found["more"].strip() if found["more"] and before.act is Act.POT else None
    return replace(told[0], lots=(latest.lot or "",), cause=cause, to=told[0].to or before.to, rest=rest)
