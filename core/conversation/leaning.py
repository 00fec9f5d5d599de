"""Which short notes are corrections only because of what was told just before: "wrong lot", "no bench d", "not 14 15".

Rules
1. A note that tells a deed of its own is never one. The words of corrections.toml and the latest note together decide.
2. A number put in place of another needs a record that has the other.
3. A correction of a number with the name of other things behind it ("3 volunteers") is a note.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import timedelta
from functools import cache

from core.conversation.answer_words import core_of
from core.conversation.correction_words import bare, has_one, said
from core.conversation.corrigible import wrong_number
from core.conversation.covers_back import says_not_covered
from core.conversation.fitting import fitted, given, has_day_ahead
from core.conversation.heard import either
from core.conversation.other_deed import other_deed
from core.conversation.places_known import is_place
from core.conversation.righting import corrects_the_count
from core.conversation.scene import TALK_LASTS, Scene
from core.conversation.strength_told import strength_told
from core.conversation.taking_back import MARKS
from core.entries import Act, Entry
from core.notes import Reading, read, read_answer, same_elsewhere
from core.records import Record
from core.storage import Books

_NUMBERS_REACH = timedelta(days=7)
_LEAVING = frozenset({Act.SELL, Act.GIVE, Act.RESERVE, Act.PLANT_OUT})
_PLACED = frozenset({Act.MOVE, Act.HARDEN})


def in_this_talk(books: Books, scene: Scene, reading: Reading) -> Reading:
    """The reading, or the correction (or mere note) that the talk just before makes of it."""
    if len(reading.entries) != 1:
        return reading
    reading, text = joined_on(scene, reading)
    one = reading.entries[0]
    other = other_deed(scene, text, _told_before(books, scene))
    if other is not None:
        return Reading(entries=(other,), repairs=reading.repairs)
    ratio = _ratio_told(books, scene, one, text) or strength_told(
        one, text, next(iter(_told_before(books, scene)), None)
    )
    if ratio is not None:
        return Reading(entries=(ratio,), repairs=reading.repairs)
    if one.act is Act.AMEND:
        fresh = _told_anew(books, scene, one, text)
        if fresh is not None:
            return fresh
        if _counts_other_things(one, text):
            return Reading(entries=(Entry(act=Act.NOTE, text=text),), repairs=reading.repairs)
        if one.count is not None and has_one(text, "more_of"):
            # "No, another 5 rooted" adds to what was told.
            return read(_without_opener(text), scene.local_now, scene.names)
        if _tells_of_a_place(one, text) or ((one.trays or one.lots) and says_not_covered(text)):
            note = Entry(act=Act.NOTE, lots=one.lots, trays=one.trays, text=text)
            return Reading(entries=(note,), repairs=reading.repairs)
        ahead = _of_what_lies_ahead(books, scene, reading, text)
        if ahead is not None:
            return Reading(entries=(ahead,), repairs=reading.repairs)
        if has_one(text, "adds") and not set(given(one)) - {"trays"} and (one.lots or one.trays):
            return _added(scene, reading, one, text)
        other_lot = _lot_for_lot(books, scene, one)
        if other_lot is not None:
            return Reading(entries=(other_lot,), repairs=reading.repairs)
        if (given(one) or one.lots) and not _number_for_number_said(text):
            return reading
    elif one.act is Act.REPLY:
        return _not_right(books, scene, reading, text)
    elif one.act is not Act.NOTE:
        again = _deed_again(books, scene, reading, text)
        if again is not None:
            return Reading(entries=(again,), repairs=reading.repairs)
        if not reading.asks:
            return reading
    told = _correction(books, scene, one, text)
    return Reading(entries=(told,), repairs=reading.repairs) if told is not None else reading


def joined_on(scene: Scene, reading: Reading) -> tuple[Reading, str]:
    """The reading and the words without an "and" before a correction ("and its tray 6")."""
    text = scene.message.text
    lead = next((one for one in said("joins") if bare(text).startswith(f"{one} ")), None)
    if lead is None or reading.entries[0].act is not Act.NOTE:
        return reading, text
    alone = re.sub(rf"^\W*{re.escape(lead)}\W+", "", text, flags=re.IGNORECASE)
    again = read(alone, scene.local_now, scene.names)
    corrects = len(again.entries) == 1 and again.entries[0].act is Act.AMEND and not again.asks
    return (again, alone) if corrects else (reading, text)


def _told_anew(books: Books, scene: Scene, told: Entry, text: str) -> Reading | None:
    """ "It's 31 rooted in lot 14": a count with its state and place is whole, unless that was just what was counted."""
    opener = next((one for one in said("tells") if bare(text).startswith(f"{one} ")), None)
    if opener is None or told.count is None or told.state is None or not (told.lots or told.trays):
        return None
    numbers = {books.resolve(one, scene.year()) for one in told.lots}
    for record in _told_before(books, scene):
        here = record.lot in numbers or set(told.trays) & set(record.trays)
        if here and record.entry.act is Act.CHECK and record.entry.state == told.state:
            return None
    anew = read(re.sub(r"^\W*[\w'\u2019]+(?:\s+(?:was|is|were))?\s+", "", text), scene.local_now, scene.names)
    whole = len(anew.entries) == 1 and anew.entries[0].act is Act.CHECK and not anew.asks
    return anew if whole else None


def _deed_again(books: Books, scene: Scene, reading: Reading, text: str) -> Entry | None:
    """ "No, sold 8", "actually we sold 8", "no he sold 8": the count of the deed just told, where nothing but the count
    is said, and who did it is the one who was told of.
    """
    one = reading.entries[0]
    opened = any(bare(text).startswith(f"{opener} ") for opener in said("opens"))
    openers = {word for opener in said("opens") for word in opener.split()} | {*said("opens", "doers")}
    of_another = {*bare(one.rest or "").split()} & {*said("opens", "others")}
    if not opened or one.more or one.trays or one.plant:
        return None
    beside = set(bare(one.rest or "").split()) - openers - of_another
    told = _told_before(books, scene)
    if beside:
        # "Actually sold 14 at the market": the note that says so too.
        told = [before for before in told if beside <= set(bare(before.said).split()) and before.entry.act is one.act]
        if len({before.message for before in told}) != 1 or told[0].entry.count in (None, one.count):
            return None
        return Entry(act=Act.AMEND, lots=one.lots, count=one.count, rest=f"not {told[0].entry.count}")
    if one.lots:
        numbers = {books.resolve(lot, scene.year()) for lot in one.lots}
        told = [before for before in told if before.entry.act is one.act and before.lot in numbers]
    latest = next(iter(told), None)
    if latest is None or latest.entry.act is not one.act or (of_another and latest.by in (None, scene.speaker)):
        return None
    if one.state != latest.entry.state or None in (one.count, latest.entry.count) or has_one(text, "more_of"):
        return None
    return Entry(act=Act.AMEND, lots=one.lots, count=one.count, of=one.of, approx=one.approx)


def _counts_other_things(told: Entry, text: str) -> bool:
    """Whether the number is followed by a name that no part of the correction is."""
    found = re.search(rf"\b{told.count}\s+([a-z][\w'-]*)", text.lower()) if told.count is not None else None
    return found is not None and found[1] in bare(told.rest or "").split() and found[1] not in said("after_number")


def _tells_of_a_place(told: Entry, text: str) -> bool:
    """ "It's tray 3 that needs water": more is told of the place than that it was meant."""
    rest = set(bare(told.rest or "").split()) - set(said("after_number"))
    opened = any(bare(text).startswith(f"{one} ") for one in said("tells"))
    return opened and bool(rest) and not set(given(told)) - {"trays"} and bool(told.lots or told.trays)


def _of_what_lies_ahead(books: Books, scene: Scene, reading: Reading, text: str) -> Entry | None:
    """The correction of a reminder's, target's or roster's time, which no deed of the past could have."""
    latest = next(iter(_told_before(books, scene)), None)
    if latest is None or not has_day_ahead(latest.entry):
        return None
    hours = re.search(r"\b\d{1,2}(?::\d\d)?\s*(?:-|to|till|until)\s*\d{1,2}(?::\d\d)?\b", text)
    if latest.entry.act is Act.ROSTER and hours is not None:
        again = read(f"roster {scene.speaker} mon {hours[0]}", scene.local_now, scene.names).entries
        return Entry(act=Act.AMEND, from_time=again[0].from_time, until=again[0].until) if again else None
    told = reading.entries[0]
    if not reading.asks or given(told) or told.lots:
        return None
    dated = Entry(act=Act.AMEND, on=scene.local_now.date())
    return dated if fitted(latest.entry, dated, text, scene.local_now) is not None else None


def _added(scene: Scene, reading: Reading, told: Entry, text: str) -> Reading:
    """ "no wait, tray 3 also": the acts before, there too."""
    note = Entry(act=Act.NOTE, lots=told.lots, trays=told.trays, text=text)
    again = same_elsewhere(Reading(entries=(note,)), text, [one.entry for one in scene.latest])
    return Reading(entries=(note,), repairs=reading.repairs) if again else reading


def _without_opener(text: str) -> str:
    """The words after what opens a correction; all of them where nothing does."""
    opener = next((one for one in said("opens") if bare(text).startswith(f"{one} ")), "")
    found = re.match(r"[\s,]*".join([*map(re.escape, opener.split()), ""]), text.lower())
    return text[found.end() :] if found is not None else text


def _not_right(books: Books, scene: Scene, reading: Reading, text: str) -> Reading:
    """ "Wrong" right after a note, where no reminder waits for an answer: the note is; or "mei did it": who did it."""
    one = reading.entries[0]
    doer = re.fullmatch(r"\w+ did (?:it|that|this|them|those|that one|this one)", bare(text))
    if doer is not None and one.by and not scene.replied_reminders and _told_before(books, scene):
        waits = books.open_reminders(chat=scene.chat, sent=True)
        return reading if waits else Reading(entries=(Entry(act=Act.AMEND, by=one.by),), repairs=reading.repairs)
    if bare(text) not in said("wrong") or scene.replied_reminders or books.open_reminders(chat=scene.chat, sent=True):
        return reading
    return Reading(entries=(Entry(act=Act.AMEND),)) if _told_before(books, scene) else reading


def _correction(books: Books, scene: Scene, one: Entry, text: str) -> Entry | None:
    words = bare(text)
    if corrects_the_count(scene):
        return Entry(act=Act.AMEND, count=int(core_of(text)))
    if words in said("wrong"):
        return Entry(act=Act.AMEND, rest=next((noun for noun in ("lot", "tray") if noun in words.split()), None))
    latest = _told_before(books, scene)
    number = _number_for_number(books, scene, words, latest)
    if number is not None or not latest:
        return number
    latest = [one for one in latest if one.entry.act is not Act.NOTE] or latest
    return (
        _whose(scene, words)
        or _place_for_place(words, latest)
        or _after_opener(scene, one, words, latest)
        or _state_alone(one, latest)
    )  # fmt: skip


def _place_for_place(words: str, latest: Sequence[Record]) -> Entry | None:
    """ "The slab, not the mist bench", after a move to the mist bench."""
    before, lead = latest[0].entry, r"(?:to |on |in )?(?:the )?"
    instead = either("corrections", "numbers", "instead_of")
    pair = re.fullmatch(rf"{lead}(?P<to>[a-z].*?) (?:{instead}) {lead}(?P<wrong>[a-z].*)", words)
    meant = pair is not None and before.act in _PLACED and pair["wrong"] == before.to
    return Entry(act=Act.AMEND, to=pair["to"]) if pair is not None and meant else None


def _whose(scene: Scene, words: str) -> Entry | None:
    """ "That was dell's", "that wasn't me": who did it, or that it was somebody else."""
    if words in said("not_me"):
        return Entry(act=Act.AMEND, rest="who")
    doing = "|".join(map(re.escape, said("whose")))
    found = re.fullmatch(rf"(?:{doing}) (?P<who>[\w-]+?)s?(?: (?:{'|'.join(said('whose', 'nouns'))}))?", words)
    people = {name.lower(): name for name in scene.names.people}
    return Entry(act=Act.AMEND, by=people[found["who"]]) if found is not None and found["who"] in people else None


def _told_before(books: Books, scene: Scene, lasts: timedelta = TALK_LASTS) -> list[Record]:
    """What may be corrected: the records replied to, else this person's own, the latest first."""
    if scene.replied_records:
        return [one for one in scene.replied_records if one.holds()]
    told = books.told_in(scene.chat, since=scene.message.said_at - lasts, until=scene.message.said_at)
    return [one for one in reversed(told) if one.told_by == scene.speaker and one.entry.act not in MARKS]


def _number_for_number_said(text: str) -> bool:
    return re.search(rf"\d (?:{either('answers_heard', 'in_place_of')}) \d", bare(text)) is not None


@cache
def _number_patterns() -> tuple[re.Pattern[str], ...]:
    before = "|".join(map(re.escape, said("numbers", "before")))
    after = "|".join(map(re.escape, said("numbers", "after")))
    named = (re.sub(r"\\{(\w+)\\}", r"(?P<\1>\\d{1,5})", re.escape(one)) for one in said("numbers"))
    return tuple(re.compile(rf"(?:(?:{before}) )*{one}(?: (?:{after}))*") for one in named)


def _number_for_number(books: Books, scene: Scene, words: str, latest: Sequence[Record]) -> Entry | None:
    found = next((match.groupdict() for one in _number_patterns() if (match := one.fullmatch(words))), None)
    if found is None:
        return None
    new, old, of = int(found["new"]), found.get("old"), found.get("of")
    if of is not None:
        return Entry(act=Act.AMEND, count=new, of=int(of), sample=True) if latest and new <= int(of) else None
    if old is None:
        return Entry(act=Act.AMEND, count=new) if latest else None
    for record in (*latest, *_told_before(books, scene, _NUMBERS_REACH)):
        if record.entry.count == int(old):
            return Entry(act=Act.AMEND, count=new, rest=f"not {old}")
        if record.entry.of == int(old):
            return Entry(act=Act.AMEND, of=new, rest=f"not {old}")
        if record.lot is not None and record.lot == books.resolve(old, scene.year()) and record in latest:
            if not has_one(words, "of_that_lot"):
                return Entry(act=Act.AMEND, lots=(str(new),))
            if record.entry.count is not None:
                return Entry(act=Act.AMEND, lots=(old,), count=new)
    return None


def _lot_for_lot(books: Books, scene: Scene, told: Entry) -> Entry | None:
    """ "Not 14, 16" after "lost 4 in 14": where what was wrong is the lot or tray of the note and no number of it, the
    number is the right one."""
    wrong = wrong_number(told)
    latest = next(iter(_told_before(books, scene)), None)
    if wrong is None or latest is None or set(given(told)) != {"count"} or told.lots:
        return None
    if wrong in (latest.entry.count, latest.entry.of):
        return None
    if latest.entry.trays == (str(wrong),) and not latest.entry.lots:
        return Entry(act=Act.AMEND, trays=(str(told.count),))
    if latest.lot is None or latest.lot != books.resolve(str(wrong), scene.year()):
        return None
    return Entry(act=Act.AMEND, lots=(str(told.count),))


def _after_opener(scene: Scene, one: Entry, words: str, latest: Sequence[Record]) -> Entry | None:
    opener = next((phrase for phrase in said("opens") if words.startswith(f"{phrase} ")), None)
    if opener is None:
        return None
    told = words.removeprefix(opener).strip()
    named = re.fullmatch(r"(lot|tray) ([\w-]{1,6})", told)
    if named is not None and (one.lots or one.trays):
        return Entry(act=Act.AMEND, lots=one.lots, trays=one.trays)
    before = latest[0].entry
    doer = re.fullmatch(r"(\w+) did(?: (?:it|that|this|them|those|that one|this one))?", told)
    if doer is not None and doer[1] in {name.lower() for name in scene.names.people}:
        return Entry(act=Act.AMEND, by=doer[1])
    if before.source and (told in scene.names.sources or re.fullmatch(r"m\d{1,3}", told)):
        return Entry(act=Act.AMEND, source=told)
    to = re.fullmatch(r"(?P<to_>to |for )?(?:the |our )?(?P<to>[a-z][\w -]{0,40})", told)
    if to is not None and to["to"] not in said("after_number"):
        same_kind = before.to is not None and before.to.split()[0] == to["to"].split()[0]
        named_anew = same_kind or is_place(scene, to["to"]) or opener in said("opens", "of_a_place")
        if before.act in _PLACED and named_anew:
            return Entry(act=Act.AMEND, to=to["to"])
        if before.act in _LEAVING and to["to_"]:
            return Entry(act=Act.AMEND, to=to["to"])
    return _share_or_amount(scene, told, before)


def _share_or_amount(scene: Scene, told: str, before: Entry) -> Entry | None:
    """ "no a third", "no 3 oz", "no 1:10": what the record says of a part, an amount, or a mixture."""
    if before.share is not None or before.all_of:
        filled = read_answer("count", told, scene.local_now) or {}
        return Entry(act=Act.AMEND, share=filled["share"]) if "share" in filled else None
    if before.amount is not None:
        again = read(f"collected {told} toyon seed", scene.local_now).entries
        return Entry(act=Act.AMEND, amount=again[0].amount) if again and again[0].amount else None
    if before.act is Act.VENT:
        filled = read_answer("open", told, scene.local_now) or {}
        return Entry(act=Act.AMEND, vent_open=filled["vent_open"]) if "vent_open" in filled else None
    if before.act is Act.MIX:
        again = read(f"mixed {before.solution} {told}", scene.local_now).entries
        if len(again) == 1 and again[0].act is Act.MIX and not again[0].rest and (again[0].parts or again[0].volume):
            return Entry(act=Act.AMEND, parts=again[0].parts, volume=again[0].volume)
    return None


def _ratio_told(books: Books, scene: Scene, one: Entry, text: str) -> Entry | None:
    """ "1:9", "half a cup to a gallon", after a mix of which no ratio was said; "no, half a cup in 2 gal" after any."""
    if one.act not in (Act.NOTE, Act.AMEND) or one.lots or one.trays:
        return None
    before = next((told.entry for told in _told_before(books, scene)), None)
    if before is None or before.act is not Act.MIX:
        return None
    alone = _without_opener(text)
    if alone == text and (before.parts or before.share is not None):
        return None
    told = read(f"mixed {before.solution} {alone}", scene.local_now).entries
    if len(told) != 1 or told[0].act is not Act.MIX or told[0].rest or not (told[0].parts or told[0].share):
        return None
    volume = None if alone == text and before.volume else told[0].volume
    return Entry(act=Act.AMEND, parts=told[0].parts, share=told[0].share, volume=volume)


def _state_alone(one: Entry, latest: Sequence[Record]) -> Entry | None:
    """ "i mean callused", after a count."""
    corrects = one.act is Act.CHECK and one.state is not None and one.count is None and one.share is None
    if not corrects or latest[0].entry.act is not Act.CHECK or bare(one.rest or "") not in said("opens"):
        return None
    return Entry(act=Act.AMEND, state=one.state)
