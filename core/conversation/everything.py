"""Which lots "everything" means, and "everything but": the lots that stand open, without those left out.

Rules
1. Such words never mean the lot talked of. What was left out must be a lot, tray or plant of the books; else it is
   asked which lots or trays are meant, and nothing is recorded of any.
2. A count asked of "each lot" or "altogether" is of every open lot; "of them" keeps it to the lots talked of.
3. Seed that is not sown lies in a store or in the cold, and is not meant where the bench is tended.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from core.conversation.correction_words import bare
from core.conversation.heard import heard
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.lots import Lot, lots_in
from core.lots.by_plant import lots_of_plant
from core.lots.phrases import phrases, says
from core.notes import Ask, Reading, read, read_answer
from core.questions.listing import place_named
from core.storage import Books
from core.vocabulary.loading import read_toml

BENCH_CARE = frozenset(
    {Act.WATER, Act.TEND, Act.COVER, Act.UNCOVER, Act.AIR, Act.VENT, Act.HARDEN, Act.MOVE, Act.CHECK}
)
"""What is done to all of a bench."""
_PARTS = re.compile(r"[,.;:\n]| and ")
_ALL_ALONE = re.compile(r"(?<!\bit)(?<!\bthem) all$")
_ALL_BUT = re.compile(r"\ball (?:but|except)\b")


def _said(table: str) -> tuple[str, ...]:
    return heard("everything", table)


@cache
def _exception() -> re.Pattern[str]:
    return re.compile(rf"(?P<all>.*?)\b(?:{'|'.join(map(re.escape, _said('but')))}) (?:for )?(?P<out>.+)")


def of_everything(books: Books, scene: Scene, reading: Reading) -> tuple[Reading, tuple[int, ...]]:
    """The reading with the lots that "everything" means, and the places of entries whose lots must be asked."""
    entries, asks, held = list(reading.entries), list(reading.asks), list[int]()
    for place, one in enumerate(entries):
        own = _own_words(scene, one)
        words = bare(scene.message.text) if len(entries) == 1 else own or bare(one.rest or "")
        if not scene.replied_records and _asks_of_all(one, words):
            entries[place] = replace(one, lots=("all",), rest=_without_each(one.rest))
            asks = [ask for ask in asks if not (ask.kind == "lot" and ask.entry == place)]
            continue
        if one.act not in BENCH_CARE or one.state or not _means_no_one_lot(one):
            continue
        if not _says_all(words) and not (one.act is Act.WATER and _ALL_ALONE.search(own)):
            continue
        lots = _lots_meant(books, scene, one, _without_goal(words, one.to))
        asks = [ask for ask in asks if not (ask.kind == "lot" and ask.entry == place)]
        if lots:
            rest = _kept_beside(one, words)
            entries[place] = replace(one, lots=tuple(lot.number for lot in lots), trays=(), rest=rest)
        else:
            entries[place] = replace(one, lots=(), trays=(), rest=one.rest or words)
            held.append(place)
    return replace(reading, entries=tuple(entries), asks=tuple(asks)), tuple(held)


def on_the_bench(books: Books) -> list[Lot]:
    """The open lots but for seed that is not sown."""
    return [lot for lot in books.lots() if not (lot.kind == "seed" and lot.sown_at is None)]


def not_told_of(told: Reading, reading: Reading) -> tuple[int, ...]:
    """The places of entries that say "all three" or "both", and got one lot from the talk: those must be asked."""
    phrases = [phrase for listed in read_toml("likewise.toml")["all_of"].values() for phrase in listed]
    return tuple(
        place
        for place, (before, one) in enumerate(zip(told.entries, reading.entries, strict=False))
        if before.act is one.act
        and not (before.lots or before.trays or before.plant)
        and (one.lots or one.trays or one.plant)
        and says(bare(one.rest or ""), phrases)
    )


def without_lots(reading: Reading, places: Sequence[int]) -> Reading:
    """The reading with no lots or trays in these places."""
    entries = [
        replace(one, lots=(), trays=(), plant=None) if place in places else one
        for place, one in enumerate(reading.entries)
    ]
    return replace(reading, entries=tuple(entries))


def asked_again(reading: Reading, held: Sequence[int]) -> Reading:
    """The reading with the question for the lots of the entries in these places."""
    asks = tuple(Ask(kind="lot", entry=place) for place in held if place < len(reading.entries))
    return replace(reading, asks=(*asks, *reading.asks)) if held else reading


def _own_words(scene: Scene, one: Entry) -> str:
    """The part of a note of several deeds that tells this one ("watered all" of "watered all, vents shut")."""
    if one.act not in BENCH_CARE or not _means_no_one_lot(one) or one.lots or one.trays:
        return ""
    for part in _PARTS.split(scene.message.text):
        told = read(part, scene.local_now, scene.names).entries if part.strip() else ()
        if len(told) == 1 and told[0].act is one.act:
            return bare(part)
    return ""


def _kept_beside(one: Entry, words: str) -> str | None:
    """What the note says beside "everything" ("and swept"); where some lots are left out or a place is told, none."""
    rest = bare(one.rest or "")
    if _exception().search(words) is not None or _ALL_BUT.search(words) or _says_where(words):
        return None
    for phrase in _said("all"):
        rest = re.sub(rf"(?:^| ){re.escape(phrase)}(?= |$)", "", rest)
    return rest.strip() or None


def _says_where(words: str) -> bool:
    following = re.split(rf"\b(?:{'|'.join(map(re.escape, _said('all')))})\b", words)[-1].split()
    return bool(following) and following[0] in _said("where")


def _without_goal(words: str, to: str | None) -> str:
    """The words without where all was moved ("everything but lot 3 to the lath")."""
    if to is None:
        return words
    return re.sub(rf" (?:to|into|onto|in|on|at) (?:the )?{re.escape(to)}(?!\w)", "", words, count=1)


def _means_no_one_lot(one: Entry) -> bool:
    return one.lots in ((), ("all",)) and one.trays in ((), ("all",)) and one.plant is None and one.count is None


def _asks_of_all(one: Entry, words: str) -> bool:
    """`how many of each lot are rooted`, `how many are rooted altogether`."""
    named = one.lots or one.trays or one.plant
    if one.act is not Act.ASK or one.about != "count" or named or says(words, phrases().them):
        return False
    return says(words, _said("each_lot"))


def _without_each(rest: str | None) -> str | None:
    """The left-over words but for those that say that all are asked of."""
    told = {word for phrase in _said("each_lot") for word in phrase.split()}
    return " ".join(word for word in (rest or "").split() if word not in told) or None


def _says_all(words: str) -> bool:
    return says(words, (*_said("all"), *_said("others"))) or _ALL_BUT.search(words) is not None


def _lots_meant(books: Books, scene: Scene, one: Entry, words: str) -> list[Lot]:
    """The lots meant, or none where the words do not tell which."""
    if says(words, _said("others")):
        return []
    bench = on_the_bench(books)
    left_out = _exception().search(words)
    if left_out is not None:
        out = _named(books, scene, left_out["out"], bench)
        return [lot for lot in bench if lot not in out] if out else []
    following = re.split(rf"\b(?:{'|'.join(map(re.escape, _said('all')))})\b", words)[-1].strip()
    if one.to is None and following and following.split()[0] in _said("where"):
        place = place_named(bench, following.partition(" ")[2])
        return [lot for lot in bench if place in (lot.place, *lot.moved_partly)] if place else []
    return bench


def _named(books: Books, scene: Scene, words: str, bench: Sequence[Lot]) -> list[Lot]:
    """The lots that stand out, where the words name nothing else."""
    found: list[Lot] = []
    for part in re.split(r",| and | or ", words):
        named = read_answer("lot", part.strip(), scene.local_now) or {}
        numbers = [books.resolve(lot, scene.year()) for lot in named.get("lots", ())]
        lots = [lot for lot in bench if lot.number in numbers]
        lots += [lot for tray in named.get("trays", ()) for lot in lots_in(tray, bench)]
        if named.get("plant"):
            lots += lots_of_plant(named["plant"], bench)
        if not lots:
            return []
        found += lots
    return found
