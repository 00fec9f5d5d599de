"""What an answer says that is more than the one thing asked: "31 into 4 in", "4 rooted" of 12 tugged, "1 more".

Rules
1. Words that say the same act as the note asked about, with what it lacks, complete it; they name no other lot.
2. A bare number after "more than the books have" is the right number; after "5 more, or 5 in all?" it may say which.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any

from core.conversation.adding_to import VERBS, additions
from core.conversation.answer_words import core_of
from core.conversation.degrees_meant import degrees_in, in_celsius
from core.conversation.heard import either, heard, page
from core.conversation.numbers_meant import lot_and_count, numbers_of
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import Reading, needs_of, read, read_answer
from core.storage import Books

_TOO_MANY = frozenset(
    {"above_left", "above_unrooted", "above_potted", "above_living", "above_sown", "above_free", "potted_again"}
)
_WORDS = "answers_heard"
_OWN = frozenset({"act", "lots", "trays", "on", "by", "rest", "sample"})


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]:
    """"1 more" or "6 in all"; a bare number; "the rooted ones"."""
    only, more, in_all = (either(_WORDS, "more_or_all", key) for key in ("before", "more", "all"))
    of, rooted = (either(_WORDS, "all_rooted", key) for key in ("before", "says"))
    return (
        re.compile(rf"(?:(?:{only}) )?(\d{{1,5}}) (?:(?P<more>{more})|{in_all})"),
        re.compile(rf"(?:(?:{either(_WORDS, 'right_number', 'before')}) )*(\d{{1,5}}|[a-z-]+)"),
        re.compile(rf"(?:(?:{of}) )?(?:{rooted})"),
    )


def fuller_answer(books: Books, scene: Scene, first: Pending, said: str, reading: Reading) -> dict[str, Any] | None:
    """The keys (as published) that these words give to the first entry asked about, or None where they give none."""
    words = " ".join(scene.message.text.lower().split()).strip(" .!")
    if first.kind in _TOO_MANY:
        found = _patterns()[1].fullmatch(words)
        right = (read_answer("count", found[1], scene.local_now) or {}).get("count") if found is not None else None
        return {"count": right} if right is not None and right < (first.entries[0].count or 0) else None
    if first.kind == "unit" and (first.entries[0].act is Act.TEMP or first.entries[0].treatment == "hot_water"):
        return _degrees(words, said, first.entries[0])
    if first.kind == "unit":
        return _with_number(scene, first.entries[0], words, said)
    if first.kind == "number":
        return _lot_of_two(first.entries[0], scene)
    if first.kind == "lot" and len(reading.entries) == 1 and reading.entries[0].act is Act.NOTE:
        return additions(first.entries[0], scene.message.text, scene.local_now, scene.names)
    if first.kind == "act":
        return None
    in_parts = _in_parts(scene, first) if first.kind == "count" else None
    if in_parts is not None:
        return in_parts
    rooted = _patterns()[2].fullmatch(words) and first.kind == "count" and _rooted(books, scene, first.entries[0])
    return {"count": rooted} if rooted else _same_act(scene, first, reading)


def _in_parts(scene: Scene, first: Pending) -> dict[str, Any] | None:
    """ "Maybe 4, all rot", "just the rooted ones, 22": the count, and the details or the kind that stand beside it."""
    entry = first.entries[0]
    parts = [part.strip() for part in re.split(r"[,;]", scene.message.text.strip(" .!")) if part.strip()]
    counts = [read_answer("count", _with_guess(part), scene.local_now) or {} for part in parts]
    told = [place for place, keys in enumerate(counts) if keys.get("count") is not None]
    if len(parts) < 2 or len(told) != 1 or entry.act not in VERBS:
        return None
    keys: dict[str, Any] = dict(counts[told[0]])
    counted = replace(entry, count=keys["count"], rest=None)
    for place, part in enumerate(parts):
        if place in told:
            continue
        words = core_of(part)
        if _patterns()[2].fullmatch(words):
            keys["rest"] = words
            continue
        more = additions(counted, words.removeprefix("all "), scene.local_now, scene.names)
        if more is None:
            return None
        keys |= more
    return keys


def _with_guess(part: str) -> str:
    """The words of a count without what stands around it; "about" where that says that it is a guess."""
    words = core_of(part)
    guess = any(f" {one} " in f" {part.lower()} " for one in heard(_WORDS, "more_or_less"))
    return f"about {words}" if guess and not words.startswith("about") else words


def _rooted(books: Books, scene: Scene, entry: Entry) -> int | None:
    """How many have rooted and are not potted in the one lot that an entry names, by the books."""
    number = books.resolve(entry.lots[0], scene.year()) if len(entry.lots) == 1 else None
    lot = books.lot(number) if number else None
    return lot.rooted - lot.potted if lot is not None and lot.rooted is not None else None


def change_or_total(first: Pending, text: str, now: datetime) -> tuple[str, int] | None:
    """ "1 more" or "6 in all", said where it was asked which of both a loss is; ("more" or "all", how many)."""
    words = " ".join(text.lower().split()).strip(" .!")
    found = _patterns()[0].fullmatch(words)
    if first.kind != "change_or_total":
        return None
    if found is None:
        return _come_to_those_before(first, words, now)
    return ("more" if found["more"] else "all"), int(found[1])


def _come_to_those_before(first: Pending, words: str, now: datetime) -> tuple[str, int] | None:
    """ "Finch's 3 plus one I found": how many come to those that were told before."""
    plus = either(_WORDS, "more_or_all", "plus")
    before = first.facts.get("before")
    found = re.fullmatch(rf"(?:[^\d]*\s)?{before}\s+(?:{plus})\s+(?P<more>\w+)(?:\s[^\d]*)?", words)
    if before is None or found is None:
        return None
    more = (read_answer("count", found["more"], now) or {}).get("count")
    whole = first.entries[0].count
    return ("more", more) if more and whole in (more, more + int(before)) else None


def _degrees(unit: str, said: str, entry: Entry) -> dict[str, Any] | None:
    """ "Celsius", of the one number that the note has, or that was left over of it."""
    degrees = degrees_in(said, entry.rest or "")
    scale = next((key for key in ("fahrenheit", "celsius") if unit in heard(_WORDS, "degrees", key)), None)
    if degrees is None or scale is None:
        return None
    return {"temp_c": in_celsius(degrees, scale), "rest": None}


def _lot_of_two(entry: Entry, scene: Scene) -> dict[str, Any] | None:
    """The lot that is named of two bare numbers, by itself or its place, and the other as the count."""
    words = core_of(scene.message.text)
    named = (read_answer("lot", words, scene.local_now) or {}).get("lots", ())
    numbers = numbers_of(entry)
    place = " ".join(word for word in words.split() if word not in ("the", "one", "number"))
    for number, names in zip(numbers, page(_WORDS)["places"]["says"], strict=False):
        named = (number,) if place in names.split() else named
    whole = lot_and_count(entry, named[0]) if len(named) == 1 else None
    return {"lots": list(whole.lots), "count": whole.count, "rest": whole.rest} if whole is not None else None


def _with_number(scene: Scene, entry: Entry, unit: str, said: str) -> dict[str, Any] | None:
    """ "minutes", where the note has the number alone ("aired tray 2 for 20")."""
    numbers = re.findall(r"\bfor (\d{1,3})\b", said.lower())
    filled = read_answer("unit", f"{numbers[0]} {unit}", scene.local_now) if len(numbers) == 1 else None
    if not filled or not unit.isalpha():
        return None
    rest = re.sub(rf"\b(for )?{numbers[0]}\b", "", entry.rest or "").strip()
    return {"duration": filled["duration"].iso(), "rest": rest or None}


def _same_act(scene: Scene, first: Pending, reading: Reading) -> dict[str, Any] | None:
    asked = first.entries[0]
    told = reading.entries[0] if len(reading.entries) == 1 else None
    if told is not None and told.act is Act.NOTE and asked.act in VERBS:
        again = read(f"{VERBS[asked.act]} {scene.message.text}", scene.local_now, scene.names).entries
        told = again[0] if len(again) == 1 else None
    if told is None or told.act is not asked.act or told.rest or told.lots or told.trays or told.plant:
        return None
    keys = {key: value for key, value in told.as_keys().items() if key not in _OWN}
    if asked.sample and asked.count is not None and asked.of is None and told.count is not None and told.of is None:
        keys["of"] = asked.count
    known = asked.as_keys()
    if any(key in known and known[key] != value for key, value in keys.items() if key != "count" or "of" not in keys):
        return None
    whole = Entry.from_keys({**known, **keys})
    return keys if first.kind not in needs_of(whole) and len(keys) > 0 else None
