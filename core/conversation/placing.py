"""Which lots and trays an entry goes to, or which question must be asked first.

Rules
1. Lots named are looked up in the books; an unknown number is a question, never a new lot (except where the act opens
   one).
2. A tray stands for the lots in it. An act that counts plants needs one lot: where the tray holds several, it is asked
   which.
3. A plant stands for its only open lot; where it has several, it is asked which.
4. Sowing and treating seed go to the plant's only unsown seed lot, where there is one.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from core.answers import Choice
from core.conversation.counting import counts_plants
from core.conversation.merged_away import of_an_empty_tray
from core.conversation.merging import Together, goes_to_tray, in_trays_beside, staying, together
from core.entries import Act, Entry
from core.lots import Lot, tells_of_cold_again, tells_of_cold_trouble
from core.lots.by_plant import lots_of_plant
from core.lots.numbers import names_lot, parse_number
from core.lots.trays import lots_in
from core.records import in_order
from core.storage import Books
from core.vocabulary.plants import same_plant

OPENING = frozenset({Act.STICK, Act.DIVIDE})
SEED_TREATMENTS = frozenset(
    {"hot_water", "soak", "scarify", "acid", "smoke", "cold_stratify", "warm_stratify", "rinse", "heat"}
)
NEEDS_LOT = frozenset(
    {
        Act.TREAT, Act.COVER, Act.VENT, Act.AIR, Act.UNCOVER, Act.WILT, Act.WATER, Act.CHECK, Act.LOSE, Act.POT,
        Act.MOVE, Act.HARDEN, Act.TEND, Act.SPLIT, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.HOLD, Act.CLEAR,
        Act.RESERVE, Act.MERGE,
    }
)  # fmt: skip
_OF_TRAYS = frozenset({Act.COVER, Act.VENT, Act.AIR, Act.UNCOVER, Act.WATER, Act.WILT, Act.CHECK, Act.LOSE})
MOST_BUTTONS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """An entry with its lots: full numbers of lots in the books, the trays it counts for, a lot that it opens, and what
    follows from it that is an entry of its own."""

    entry: Entry
    lots: tuple[str, ...] = ()
    trays: tuple[str, ...] = ()
    opens: str | None = None
    then: tuple[Entry, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """What must be asked before the entry can go anywhere, with the choices that would settle it."""

    kind: str
    entry: Entry
    choices: tuple[Choice, ...] = ()
    facts: dict[str, Any] = field(default_factory=dict)


def place(books: Books, entry: Entry, *, year: int, reuse: list[str]) -> Placed | Unplaced:
    """The lots and trays of an entry. `reuse` holds numbers that an edited note had opened and may open again."""
    if entry.act in OPENING:
        return _open(books, entry, year, reuse)
    if entry.act is Act.SOW:
        return _sow(books, entry, year, reuse)
    if entry.act is Act.SPLIT:
        return _split(books, entry, year, reuse)
    if entry.act is Act.MERGE:
        return _merge(books, entry, year)
    if entry.act is Act.TREAT and not entry.trays and entry.treatment in SEED_TREATMENTS:
        if not entry.lots:
            return _treat_by_plant(books, entry, year, reuse)
        if entry.plant and len(entry.lots) == 1 and not entry.ends and books.resolve(entry.lots[0], year) is None:
            return _from_store(books, entry, _number_for(books, entry, year, reuse))
    return _place_by_words(books, entry, year)


def _place_by_words(books: Books, entry: Entry, year: int) -> Placed | Unplaced:
    if entry.lots:
        return _place_by_lots(books, entry, year)
    if entry.trays:
        return _place_by_trays(books, entry)
    if entry.plant and entry.act in NEEDS_LOT:
        return _place_by_plant(books, entry)
    if entry.act is Act.NOTE and (tells_of_cold_trouble(entry) or tells_of_cold_again(entry)):
        cold = [lot for lot in books.lots() if any(one.running for one in lot.colds)]
        return Placed(entry=entry, lots=tuple(lot.number for lot in cold))
    return Placed(entry=entry)


def _place_by_lots(books: Books, entry: Entry, year: int) -> Placed | Unplaced:
    if entry.lots == ("all",):
        lots = books.lots()
        return Placed(entry=entry, lots=tuple(lot.number for lot in lots), trays=_trays_of(lots))
    found: list[Lot] = []
    for texted in entry.lots:
        number = books.resolve(texted, year)
        lot = books.lot(number) if number else None
        if lot is None:
            if entry.act not in NEEDS_LOT:
                return Placed(entry=entry, trays=entry.trays)
            return _unknown_lot(books, entry, texted)
        found.append(lot)
    numbers = tuple(dict.fromkeys(lot.number for lot in found))
    then = _set_down(books, entry, found)
    return Placed(entry=entry, lots=numbers, trays=entry.trays or _trays_of(found), then=then)


def _set_down(books: Books, entry: Entry, lots: list[Lot]) -> tuple[Entry, ...]:
    """The move of what was potted into trays that stood empty (`potted 40 of lot 3 in 4in, trays 30 and 31`)."""
    if entry.act is not Act.POT or len(lots) != 1 or not entry.trays or "all" in entry.trays:
        return ()
    if any(lots_in(tray, books.lots()) for tray in entry.trays):
        return ()
    count = entry.count if entry.count != lots[0].left else None
    if count is None and not entry.all_of and entry.count is None:
        return ()
    *others, last = entry.trays
    to = f"trays {', '.join(others)} and {last}" if others else f"tray {last}"
    return (Entry(act=Act.MOVE, lots=(lots[0].number,), count=count, to=to, on=entry.on, by=entry.by),)


def known_of(books: Books, entry: Entry, year: int) -> tuple[str, ...]:
    """The lots named that the books have, where they have not all of them; empty else, and for what needs them all."""
    if len(entry.lots) < 2 or entry.act not in NEEDS_LOT - {Act.MERGE, Act.SPLIT, Act.TREAT}:
        return ()
    known = tuple(one for one in entry.lots if (number := books.resolve(one, year)) and books.lot(number))
    return known if len(known) < len(entry.lots) else ()


def _unknown_lot(books: Books, entry: Entry, texted: str) -> Unplaced:
    """Which lot was meant; where all the numbers are trays that stand on the bench, those are offered first."""
    lots = books.lots()
    choices = offer(lots)
    if entry.act in _OF_TRAYS | {Act.HOLD, Act.CLEAR} and not entry.trays and set(entry.lots) <= set(_trays_of(lots)):
        label = "the_tray" if len(entry.lots) == 1 else "the_trays"
        meant = {"lots": [], "trays": list(entry.lots)}
        choices = (Choice(label=label, action={"fill": meant}), *choices[: MOST_BUTTONS - 1])
        return Unplaced(kind="lot", entry=entry, facts={"unknown": texted, "or_trays": entry.lots}, choices=choices)
    return Unplaced(kind="lot", entry=replace(entry, lots=()), facts={"unknown": texted}, choices=choices)


def _place_by_trays(books: Books, entry: Entry) -> Placed | Unplaced:
    open_lots = books.lots()
    trays = _trays_of(open_lots) if entry.trays == ("all",) else entry.trays
    standing = [lot for lot in open_lots if any(lot in lots_in(tray, open_lots) for tray in trays)]
    if entry.plant and entry.act in NEEDS_LOT:
        standing = list(lots_of_plant(entry.plant, standing)) or standing
    merged = of_an_empty_tray(books, entry) if not standing and counts_plants(entry) else None
    if merged is not None:
        choices, facts = merged
        others = tuple(one for one in offer(open_lots) if one.action["fill"]["lots"] != [facts["into"]])
        return Unplaced(kind="lot", entry=entry, choices=(*choices, *others), facts=facts)
    if not standing and open_lots and counts_plants(entry) and not entry.plant:
        return Unplaced(kind="lot", entry=entry, choices=offer(open_lots), facts={"empty_trays": list(trays)})
    if len(standing) > 1 and counts_plants(entry):
        return Unplaced(kind="lot", entry=entry, choices=offer(standing), facts={"trays": list(trays)})
    return Placed(entry=entry, lots=tuple(lot.number for lot in standing), trays=trays)


def _place_by_plant(books: Books, entry: Entry) -> Placed | Unplaced:
    assert entry.plant is not None
    lots = list(lots_of_plant(entry.plant, books.lots()))
    if len(lots) == 1:
        return Placed(entry=entry, lots=(lots[0].number,), trays=lots[0].trays)
    if len({lot.plant for lot in lots}) > 1 and not any(same_plant(lot.plant, entry.plant) for lot in lots):
        # A short name that fits two plants.
        return Unplaced(kind="lot", entry=entry, choices=offer(lots), facts={"plant": entry.plant})
    if lots and not counts_plants(entry):
        return Placed(entry=entry, lots=tuple(lot.number for lot in lots), trays=_trays_of(lots))
    facts = {"plant": entry.plant} if lots else {"no_lot_of": entry.plant}
    return Unplaced(kind="lot", entry=entry, choices=offer(lots or books.lots()), facts=facts)


def _open(books: Books, entry: Entry, year: int, reuse: list[str]) -> Placed | Unplaced:
    if len(entry.lots) == 1:
        known = books.resolve(entry.lots[0], year)
        if known and known not in reuse:
            facts = {"taken": known, "next": books.next_lot_number(year)}
            choices = (Choice(label="new_lot", action={"fill": {"lots": []}}),)
            return Unplaced(kind="lot", entry=entry, facts=facts, choices=choices)
    return Placed(entry=entry, opens=_number_for(books, entry, year, reuse), trays=entry.trays)


def _sow(books: Books, entry: Entry, year: int, reuse: list[str]) -> Placed | Unplaced:
    if entry.lots:
        known = books.resolve(entry.lots[0], year)
        lot = books.lot(known) if known and known not in reuse else None
        if lot is None:
            return Placed(entry=entry, opens=_number_for(books, entry, year, reuse), trays=entry.trays)
        if lot.kind == "seed" and lot.sown_at is None:
            return Placed(entry=entry, lots=(lot.number,), trays=entry.trays)
        facts = {"taken": lot.number, "next": books.next_lot_number(year)}
        choices = (Choice(label="new_lot", action={"fill": {"lots": []}}),)
        return Unplaced(kind="lot", entry=entry, facts=facts, choices=choices)
    unsown = _of_source(_unsown(books, entry.plant or ""), entry.source)
    if len(unsown) == 1 and not reuse:
        return Placed(entry=entry, lots=(unsown[0].number,), trays=entry.trays)
    if len(unsown) > 1 and not reuse:
        return Unplaced(kind="lot", entry=entry, choices=offer(unsown), facts={"plant": entry.plant})
    return _from_store(books, entry, _number_for(books, entry, year, reuse))


def _treat_by_plant(books: Books, entry: Entry, year: int, reuse: list[str]) -> Placed | Unplaced:
    if not entry.plant:
        return Placed(entry=entry)
    seed = [lot for lot in _of_plant(books, entry.plant) if lot.kind == "seed"]
    for lots in (_of_source(_unsown(books, entry.plant), entry.source), _of_source(seed, entry.source)):
        if len(lots) == 1:
            return Placed(entry=entry, lots=(lots[0].number,), trays=lots[0].trays)
        if len(lots) > 1:
            return Unplaced(kind="lot", entry=entry, choices=offer(lots), facts={"plant": entry.plant})
    if entry.ends:
        return Unplaced(kind="lot", entry=entry, choices=offer(books.lots()), facts={"no_lot_of": entry.plant})
    return _from_store(books, entry, _number_for(books, entry, year, reuse))


def _from_store(books: Books, entry: Entry, number: str) -> Placed | Unplaced:
    """A lot opened from the gathered seed of its plant: of the only source there is, else it is asked which."""
    sources = seed_sources(books, entry.plant) if entry.plant and not entry.source and not entry.sources else ()
    if len(sources) > 1:
        choices = tuple(Choice(label=one, action={"fill": {"source": one}}) for one in sources[:MOST_BUTTONS])
        return Unplaced(kind="source", entry=entry, choices=choices, facts={"plant": entry.plant, "sources": sources})
    known = replace(entry, source=sources[0]) if sources else entry
    return Placed(entry=known, opens=number, trays=entry.trays)


def seed_sources(books: Books, plant: str) -> tuple[str, ...]:
    """The places and mother plants from which seed of this plant was gathered, the latest last."""
    gathered = in_order(books.records(acts=("collect",)))
    found = [one.entry for one in gathered if one.entry.what == "seed" and same_plant(one.entry.plant or "", plant)]
    return tuple(dict.fromkeys(source for entry in found for source in sources_of(entry)))


def sources_of(entry: Entry) -> list[str]:
    """Every mother plant or place that an entry names."""
    return ([entry.source] if entry.source else []) + [share.source for share in entry.sources]


def _split(books: Books, entry: Entry, year: int, reuse: list[str]) -> Placed | Unplaced:
    placed = _place_by_words(books, entry, year)
    if isinstance(placed, Unplaced):
        return placed
    if len(placed.lots) != 1:
        return Unplaced(kind="lot", entry=entry, choices=offer(books.lots()))
    if entry.to:
        known = books.resolve(entry.to, year)
        if known and known not in reuse:
            facts = {"taken": known, "next": books.next_lot_number(year)}
            choices = (Choice(label="new_lot", action={"fill": {"to": None}}),)
            return Unplaced(kind="to", entry=replace(entry, to=None), facts=facts, choices=choices)
    texted = replace(entry, lots=(entry.to,) if entry.to else ())
    return replace(placed, opens=_number_for(books, texted, year, reuse))


def _merge(books: Books, entry: Entry, year: int) -> Placed | Unplaced:
    """Lots put together: under the number that stays, and in the tray that they went into."""
    placed = _place_by_words(books, entry, year)
    if isinstance(placed, Unplaced):
        return placed
    told = together(entry)
    if len(placed.lots) == 1 and told.stays is None and len(entry.trays) > 1:
        return _one_lot_together(entry, placed.lots[0], told.goal)
    lots = placed.lots if told.stays or told.by_tray else (*placed.lots, *in_trays_beside(books, entry, placed.lots))
    number = staying(books, told, lots, year)
    gone = tuple(lot for lot in lots if lot != number)
    if number is None or not gone:
        return _which_stays(books, entry, told, lots)
    to = told.stays if told.stays and names_lot(told.stays, number) else number
    merged = replace(entry, lots=entry.lots or (*gone, number), to=to, trays=(), place=None)
    then = Entry(act=Act.MOVE, lots=(number,), to=told.goal, on=entry.on, by=entry.by)
    goes = goes_to_tray(books.lot(number), told.goal)
    return Placed(entry=merged, lots=(*gone, number), trays=placed.trays, then=(then,) if goes else ())


def _one_lot_together(entry: Entry, lot: str, goal: str | None) -> Placed | Unplaced:
    """Trays put together that hold one lot only: it was moved into one of them."""
    moved = replace(entry, act=Act.MOVE, lots=(lot,), to=goal, place=None)
    if goal is not None:
        return Placed(entry=moved, lots=(lot,), trays=entry.trays)
    trays = [f"tray {tray}" for tray in entry.trays]
    choices = tuple(Choice(label=tray, action={"fill": {"to": tray}}) for tray in trays[:MOST_BUTTONS])
    return Unplaced(kind="to", entry=moved, choices=choices, facts={"into_which": trays, "lot": lot})


def _which_stays(books: Books, entry: Entry, told: Together, lots: tuple[str, ...]) -> Unplaced:
    asked = replace(entry, lots=lots, trays=(), to=None, place=told.goal)
    facts: dict[str, Any] = {"merged": list(lots)} if len(lots) > 1 else {"alone": list(lots)}
    if told.stays is not None and parse_number(told.stays) is not None:
        facts["unknown"] = told.stays
    others = lots if len(lots) > 1 else tuple(lot.number for lot in books.lots() if lot.number not in lots)
    named = others if len(others) <= MOST_BUTTONS else ()
    choices = tuple(Choice(label=lot, action={"fill": {"to": lot}}) for lot in named)
    return Unplaced(kind="to", entry=asked, facts=facts, choices=choices)


def _number_for(books: Books, entry: Entry, year: int, reuse: list[str]) -> str:
    if len(entry.lots) == 1:
        wanted = books.full_number(entry.lots[0], year)
        if wanted in reuse:
            reuse.remove(wanted)
        return wanted
    return reuse.pop(0) if reuse else books.next_lot_number(year)


def _of_plant(books: Books, plant: str) -> list[Lot]:
    return [lot for lot in books.lots() if same_plant(lot.plant, plant)]


def _unsown(books: Books, plant: str) -> list[Lot]:
    return [lot for lot in _of_plant(books, plant) if lot.kind == "seed" and lot.sown_at is None]


def _of_source(lots: list[Lot], source: str | None) -> list[Lot]:
    """The lots that may be of this source: all where none is said; a lot whose source is unknown may be of any."""
    if source is None:
        return lots
    return [lot for lot in lots if not lot.sources or source.lower() in (one.source.lower() for one in lot.sources)]


def _trays_of(lots: list[Lot] | tuple[Lot, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(tray for lot in lots for tray in lot.trays))


def offer(lots: list[Lot] | tuple[Lot, ...]) -> tuple[Choice, ...]:
    """A button for each lot, at most six; where there are more, the person texts the number."""
    if len(lots) > MOST_BUTTONS:
        return ()
    return tuple(Choice(label=f"{lot.number} {lot.plant}", action={"fill": {"lots": [lot.number]}}) for lot in lots)
