"""What a correction says is wrong, and what is right instead: "the rot was 6", "lot 15 13 not 12", "mira's was 13".

Rules
1. Every word must say which note is meant (a lot, a tray, a plant, what was counted, a person, a day, a place in the
   list, the wrong number), or be the right number; a word left over makes it no correction.
2. A number before the right one is a lot or the wrong number: which, the records say.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from core.conversation.correction_words import bare, said, without_day
from core.conversation.heard import page
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.notes import read, read_answer

_MOST_WORDS = 16
_COUNTED = frozenset({Act.CHECK, Act.LOSE, Act.POT, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.RESERVE, Act.WILT})
_PARTS = re.compile(r",|;|\n|\band\b|&")


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One number that is right, and what says which record had it wrong. `kind` is an entry of the act (and state or
    cause) that was counted; `numbers` are lots or wrong numbers; `place` counts from 0, -1 is the last. `stated` is
    False where the right number is all that is said ("no 3 rotted"), which then means the latest note alone."""

    count: int
    of: int | None = None
    kind: Entry | None = None
    lots: tuple[str, ...] = ()
    trays: tuple[str, ...] = ()
    plant: str | None = None
    numbers: tuple[int, ...] = ()
    old: int | None = None
    who: str | None = None
    day: date | None = None
    place: int | None = None
    stated: bool = True

    def names_little(self) -> bool:
        """True where nothing but what was counted, or its place in the list, says which record is meant."""
        return not (self.lots or self.trays or self.plant or self.numbers or self.old or self.who or self.day)


def claims_of(scene: Scene, text: str) -> tuple[Claim, ...]:
    """The claims that a text is from end to end, or none."""
    words = _without_leads(_words(text))
    opened = _without_openers(words)
    if not words or len(words) > _MOST_WORDS or "?" in text:
        return ()
    if len(opened) < len(words) or _verb(words) is not None or "not" in words:
        whole = _claim(scene, opened, opened=len(opened) < len(words), verb=False)
        return (whole,) if whole is not None else _claims_of_parts(scene, text)
    return ()


def _claims_of_parts(scene: Scene, text: str) -> tuple[Claim, ...]:
    parts = [part for part in _PARTS.split(text.lower()) if part.strip()]
    found: list[Claim] = []
    opened = verb = False
    for part in parts:
        words = _without_leads(_words(part))
        told = _without_openers(words)
        opened, verb = opened or len(told) < len(words), verb or _verb(told) is not None
        if not told and not found:
            continue
        one = _claim(scene, told, opened=opened, verb=verb)
        if one is None:
            return ()
        found.append(one)
    return tuple(found)


def _words(text: str) -> list[str]:
    return [word for one in bare(text.replace("#", " ")).split() if (word := one.strip(":-"))]


def _without_leads(words: Sequence[str]) -> list[str]:
    at = next((place for place, word in enumerate(words) if word not in said("restated", "leads")), len(words))
    return list(words[at:])


def _without_openers(words: Sequence[str]) -> list[str]:
    told, openers = " ".join(words), (*said("restated", "opens"), *said("opens"))
    while True:
        opener = next((one for one in openers if told.startswith(f"{one} ")), None)
        if opener is None:
            return told.split()
        told = told.removeprefix(f"{opener} ")


def _verb(words: Sequence[str]) -> tuple[int, int] | None:
    """Where the first verb between wrong and right stands, as (start, end)."""
    for start in range(1, len(words)):
        for phrase in said("restated", "verbs"):
            many = phrase.count(" ") + 1
            if " ".join(words[start : start + many]) == phrase:
                return start, start + many
    return None


def _claim(scene: Scene, words: Sequence[str], *, opened: bool, verb: bool) -> Claim | None:
    words, day = without_day(words, scene.local_now)
    words, old = _without_wrong(words)
    between = _verb(words)
    if between is not None:
        named, right = list(words[: between[0]]), list(words[between[1] :])
    else:
        place = next((at for at in reversed(range(len(words))) if _number(words[at])), None)
        if place is None or not (opened or verb or old is not None):
            return None
        named, right = list(words[:place]), list(words[place:])
        if named[-1:] == ["lot"] or named[-1:] == ["tray"]:
            return None
    value = _right(right, scene.local_now)
    claim = _named(scene, named, value) if value is not None else None
    if claim is None:
        return None
    claim = replace(claim, old=old, day=day, stated=between is not None or old is not None)
    # A bare number in place of another is read elsewhere (leaning.py).
    says_which = not claim.names_little() or claim.kind is not None or claim.place is not None
    return claim if says_which and claim != Claim(count=claim.count, numbers=claim.numbers, old=old) else None


def _number(word: str) -> tuple[int, int | None] | None:
    found = re.fullmatch(r"(\d{1,5})(?:/(\d{1,5}))?", word)
    return (int(found[1]), int(found[2]) if found[2] else None) if found is not None else None


def _right(words: Sequence[str], now: datetime) -> Claim | None:
    """The right number, with what was counted where that is said."""
    told = " ".join(words)
    for after in said("restated", "after"):
        told = told.removesuffix(f" {after}")
    solid = [word for word in told.split() if word not in said("restated", "fillers")]
    number = _number(solid[0]) if solid else None
    if number is None or any(_number(word) for word in solid[1:]):
        return None
    kind = kind_of(" ".join(solid[1:]), now) if solid[1:] else None
    if solid[1:] and kind is None:
        return None
    return Claim(count=number[0], of=number[1], kind=kind)


def _named(scene: Scene, words: Sequence[str], value: Claim) -> Claim | None:
    """The claim with what the words before its verb say of the record; None where a word says nothing."""
    claim, left, noun = value, list[str](), ""
    for word in words:
        number = _number(word)
        place = _place(word)
        if number is not None and number[1] is None:
            claim = _with_number(claim, word, noun)
        elif place is not None:
            claim = replace(claim, place=place)
        elif word in said("restated", "mine"):
            claim = replace(claim, who=scene.speaker)
        elif (who := _whose(word, scene)) is not None:
            claim = replace(claim, who=who)
        elif word not in (*said("restated", "fillers"), "tray"):
            left.append(word)
        noun = word
    if not left:
        return claim
    kind = kind_of(" ".join(left), scene.local_now)
    if kind is not None:
        return replace(claim, kind=kind) if claim.kind in (None, kind) else None
    plant = (read_answer("plant", " ".join(left), scene.local_now) or {}).get("plant")
    return replace(claim, plant=" ".join(left)) if plant is not None else None


def _with_number(claim: Claim, word: str, noun: str) -> Claim:
    if noun == "tray":
        return replace(claim, trays=(*claim.trays, word))
    if noun == "lot":
        return replace(claim, lots=(*claim.lots, word))
    return replace(claim, numbers=(*claim.numbers, int(word)))


def _place(word: str) -> int | None:
    if word == "last":
        return -1
    places = page("answers_heard")["places"]["says"]
    return next((place for place, names in enumerate(places) if word in names.split()), None)


def _whose(word: str, scene: Scene) -> str | None:
    return next((one for one in scene.names.people if word == f"{one.lower()}s"), None)


def _without_wrong(words: Sequence[str]) -> tuple[list[str], int | None]:
    """The words without "not 12", and the 12."""
    for wrong in said("numbers", "instead_of"):
        for start in range(1, len(words)):
            end = start + wrong.count(" ") + 1
            number = _number(words[end]) if end < len(words) else None
            if " ".join(words[start:end]) == wrong and number is not None and number[1] is None:
                return [*words[:start], *words[end + 1 :]], number[0]
    return list(words), None


def kind_of(words: str, now: datetime) -> Entry | None:
    """What some words say was counted ("rooted", "the rot", "losses"), as an entry of that act; None for others."""
    for note, of_cause in ((f"lot 1: 5 {words}", False), (f"lot 1: lost 5 to {words}", True)):
        told = read(note, now)
        one = told.entries[0] if len(told.entries) == 1 and not told.asks else None
        kind = Entry(act=one.act, state=one.state, cause=one.cause) if one is not None else None
        if one is not None and one.act in _COUNTED and one == replace(kind or one, lots=("1",), count=5):
            return kind if not of_cause or one.cause is not None else None
    return None


def is_kind(entry: Entry, kind: Entry) -> bool:
    """Whether an entry counts what `kind` (of kind_of) counts; a loss of no known cause may be of any."""
    if entry.act is not kind.act or (kind.state is not None and entry.state != kind.state):
        return False
    return kind.cause is None or entry.cause in (None, kind.cause)
