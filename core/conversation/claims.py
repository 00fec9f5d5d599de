"""What a correction says is wrong, and what is right instead: "the rot was 6", "lot 15 13 not 12", "mira's was 13".

Rules
1. Every word must say which note is meant (a lot, a tray, a plant, what was counted, a person, a day, a place in the
   list, the wrong number), or be the right number; a word left over makes it no correction.
2. A number before the right one is a lot or the wrong number: which, the records say.
3. What is right is a number, a lot or tray ("the 5 were from lot 2"), both, or the day on which a lot was begun.
4. Words that can only correct ("should be", "was wrong", "not 12") make a claim sure; a mere "was" may also report.
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

_MOST_WORDS = 18
_MOST_OF_WRONG = 4
_COUNTED = frozenset(
    {Act.CHECK, Act.LOSE, Act.POT, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.RESERVE, Act.WILT, Act.SPLIT}
)
_PARTS = re.compile(r",|;|\n|\band\b|&")


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """One number that is right, and what says which record had it wrong. `kind` is an entry of the act (and state or
    cause) that was counted; `numbers` are lots or wrong numbers; `place` counts from 0, -1 is the last. `stated` is
    False where the right number is all that is said ("no 3 rotted"), which then means the latest note alone. `to_lots`,
    `to_trays` and `on` are the right place and day; `opening` is of how a lot was begun; `sure` is no report;
    `of_what_was_counted` says "the losses were 5", and not "there were 5 lost"."""

    count: int | None = None
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
    to_lots: tuple[str, ...] = ()
    to_trays: tuple[str, ...] = ()
    on: date | None = None
    opening: bool = False
    sure: bool = False
    of_what_was_counted: bool = False

    def is_excepted(self) -> bool:
        """True for the one lot of the note just told that had another number."""
        return self.sure and not self.stated

    def says_only_where(self) -> bool:
        """True where neither what was counted nor a wrong number or a place in the list says which record is meant."""
        if self.opening or self.numbers or self.is_excepted():
            return False
        return self.kind is None and self.old is None and self.place is None

    def names_little(self) -> bool:
        """True where nothing but what was counted, or its place in the list, says which record is meant."""
        return not (self.lots or self.trays or self.plant or self.numbers or self.old or self.who or self.day)


def claims_of(scene: Scene, text: str) -> tuple[Claim, ...]:
    """The claims that a text is from end to end, or none."""
    words, was_said = _without_i_said(_without_leads(_words(text)))
    opened = without_openers(words)
    if not words or len(opened) > _MOST_WORDS or "?" in text:
        return ()
    if was_said:
        whole = _claim(scene, opened, opened=False, verb=False)
        if whole is None or not whole.stated or _says_the_place_alone(whole):
            return ()
        return (replace(whole, sure=True),)
    told = " ".join(opened)
    excepts = next((one for one in said("restated", "excepts") if told.startswith(f"{one} ")), None)
    if excepts is not None:
        return _of_one_left_out(scene, told.removeprefix(excepts).split())
    if len(opened) < len(words) or _verb(words) is not None or "not" in words or _without_opening(words)[1]:
        whole = _claim(scene, opened, opened=len(opened) < len(words), verb=False)
        return (whole,) if whole is not None else _claims_of_parts(scene, text)
    return ()


def _says_the_place_alone(claim: Claim) -> bool:
    """ "I said tray 9 but its 12": no count was said, so that the number is of another tray, which the reader knows."""
    return bool(claim.lots or claim.trays) and claim == Claim(
        count=claim.count, lots=claim.lots, trays=claim.trays, stated=claim.stated, sure=claim.sure
    )


def _of_one_left_out(scene: Scene, words: Sequence[str]) -> tuple[Claim, ...]:
    """ "Except lot 2, that lost 4": of the note just told one lot had another number."""
    numbers = [at for at, word in enumerate(words) if _number(word) and words[at - 1 : at] not in (["lot"], ["tray"])]
    if len(numbers) != 1:
        numbers = numbers[-1:] if "lot" not in words and "tray" not in words else []
    value = _right([words[at] for at in numbers], scene.local_now)
    left = [word for at, word in enumerate(words) if at not in numbers and word not in said("restated", "verbs")]
    claim = named_in(scene, left, value) if value is not None else None
    if claim is None or not (claim.lots or claim.trays or claim.plant or claim.numbers):
        return ()
    return (replace(claim, stated=False, sure=True),)


def wrong_alone(scene: Scene, text: str) -> Claim | None:
    """What "lost 3 in lot 1 was wrong" says of the record that is meant, where what is right is not said; else None."""
    words = " ".join(without_openers(_without_leads(_words(text))))
    wrong = next((one for one in said("undo_of_a_day", "wrong") if words.endswith(f" {one}")), None)
    if wrong is None or "?" in text or len(words.split()) > _MOST_WORDS:
        return None
    named, day = without_day(words.removesuffix(wrong).split(), scene.local_now)
    claim = named_in(scene, named, Claim(day=day))
    return claim if claim is not None and (claim.numbers or claim.kind) else None


def _without_i_said(words: Sequence[str]) -> tuple[list[str], bool]:
    """The words without those that tell of a note of one's own ("i said 31 rooted in 14 but its 13"), with one verb for
    its turn; and whether there are any."""
    told = f" {' '.join(words)} "
    lead = next((one for one in said("i_said") if f" {one} " in told), None)
    if lead is None:
        return list(words), False
    told = told.replace(f" {lead} ", " ", 1)
    turn = next((one for one in said("i_said", "turns") if f" {one} " in told), None)
    return (told.replace(f" {turn} ", f" {said('restated', 'sure')[-1]} ", 1) if turn else told).split(), True


def _claims_of_parts(scene: Scene, text: str) -> tuple[Claim, ...]:
    parts = [part for part in _PARTS.split(text.lower()) if part.strip()]
    found: list[Claim] = []
    opened = verb = False
    for part in parts:
        words = _without_leads(_words(part))
        told = without_openers(words)
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


def without_openers(words: Sequence[str], more: Sequence[str] = ()) -> list[str]:
    """The words without what opens a correction ("no wait", "it was"), and without `more` such words."""
    told, openers = " ".join(words), (*more, *said("restated", "opens"), *said("opens"))
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
    words, opening = _without_opening(words)
    words, wrong = _without_wrong(words, scene.local_now)
    between = _verb(words)
    if between is not None:
        named, right = list(words[: between[0]]), list(words[between[1] :])
    elif opening and (begun := without_day(words, scene.local_now))[1] is not None:
        return _begun(scene, begun[0], begun[1])
    else:
        verb = verb or opening
        place = next((at for at in reversed(range(len(words))) if _number(words[at])), None)
        if place is None or not (opened or verb or wrong is not None):
            return None
        named, right = list(words[:place]), list(words[place:])
        if named[-1:] == ["lot"] or named[-1:] == ["tray"]:
            return None
    named, day = without_day(named, scene.local_now)
    value = _right(right, scene.local_now)
    claim = named_in(scene, named, value) if value is not None else None
    if value is None or claim is None or claim.on is not None or (opening and not (claim.lots or claim.trays)):
        return None
    old = wrong.count if wrong is not None else None
    claim = replace(claim, old=old, day=day or claim.day, stated=between is not None or wrong is not None or opening)
    if wrong is not None and wrong.to_lots:
        claim = replace(claim, lots=(*claim.lots, *wrong.to_lots))
    # A bare number in place of another is read elsewhere (leaning.py).
    says_which = not claim.names_little() or claim.kind is not None or claim.place is not None
    mere_number = len(claim.numbers) < 2 and claim == Claim(count=claim.count, numbers=claim.numbers, old=old)
    if not says_which or mere_number:
        return None
    verbs = " ".join(words[slice(*between)]) if between is not None else ""
    moved = bool(claim.to_lots or claim.to_trays)
    if moved and not (claim.numbers or claim.kind or claim.place is not None):
        return None
    totals = value.kind is None and verbs in said("restated", "totals")
    return replace(
        claim,
        opening=opening,
        sure=verbs in said("restated", "sure") or moved or wrong is not None,
        of_what_was_counted=totals and day is None and value.day is None,
    )


def _begun(scene: Scene, words: Sequence[str], day: date | None) -> Claim | None:
    """ "Lot 23 was stuck on the 1st": the day on which a lot was begun."""
    claim = named_in(scene, words, Claim(on=day, opening=True))
    return claim if claim is not None and (claim.lots or claim.trays) and not claim.numbers else None


def _without_opening(words: Sequence[str]) -> tuple[list[str], bool]:
    """The words without those that tell how a lot was begun ("to start with", "we stuck"), and whether any did."""
    told = f" {' '.join(words)} "
    found = [one for one in said("restated", "opening") if f" {one} " in told]
    for one in found:
        told = told.replace(f" {one} ", " ")
    return told.split(), bool(found)


def _number(word: str) -> tuple[int, int | None] | None:
    found = re.fullmatch(r"(\d{1,5})(?:/(\d{1,5}))?", word)
    return (int(found[1]), int(found[2]) if found[2] else None) if found is not None else None


def _right(words: Sequence[str], now: datetime) -> Claim | None:
    """The right number, with what was counted where that is said, or the right lot, tray or day."""
    told = " ".join(words)
    for after in said("restated", "after"):
        told = told.removesuffix(f" {after}")
    solid, day = without_day(told.split(), now)
    claim, left, before = Claim(day=day), list[str](), ""
    for word in solid:
        number = _number(word)
        if number is not None and before == "lot":
            claim = replace(claim, to_lots=(*claim.to_lots, word))
        elif number is not None and before == "tray":
            claim = replace(claim, to_trays=(*claim.to_trays, word))
        elif number is not None and claim.count is None:
            claim = replace(claim, count=number[0], of=number[1])
        elif number is not None:
            return None
        elif word not in (*said("restated", "fillers"), "tray"):
            left.append(word)
        before = word
    if claim.count is None and day is not None and not (left or claim.to_lots or claim.to_trays):
        return Claim(on=day)
    kind = kind_of(" ".join(left), now) if left else None
    if (left and kind is None) or (claim.count is None and not (claim.to_lots or claim.to_trays)):
        return None
    return replace(claim, kind=kind)


def named_in(scene: Scene, words: Sequence[str], value: Claim) -> Claim | None:
    """The claim with what some words say of the record that is meant; None where a word says nothing."""
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


def _without_wrong(words: Sequence[str], now: datetime) -> tuple[list[str], Claim | None]:
    """The words without "not 12", "not lot 4" or "not the 2nd", and what was wrong."""
    for wrong in said("numbers", "instead_of"):
        for start in range(1, len(words)):
            end = start + wrong.count(" ") + 1
            if " ".join(words[start:end]) != wrong:
                continue
            for stop in range(min(len(words), end + _MOST_OF_WRONG), end, -1):
                found = _right(words[end:stop], now)
                if found is not None and found.kind is None and not (found.count is not None and stop > end + 1):
                    return [*words[:start], *words[stop:]], found
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


def says_it_corrects(deed: Entry) -> bool:
    """Whether what a deed could not use of its note says that a number or a place should be another ("should be 5")."""
    verbs = "|".join(map(re.escape, said("restated", "sure")))
    return re.search(rf"\b(?:{verbs}) (?:\w+ ){{0,2}}\d", bare(deed.rest or "")) is not None


def is_kind(entry: Entry, kind: Entry) -> bool:
    """Whether an entry counts what `kind` (of kind_of) counts; a loss of no known cause may be of any."""
    if entry.act is not kind.act or (kind.state is not None and entry.state != kind.state):
        return False
    return kind.cause is None or entry.cause in (None, kind.cause)
