"""What is said at once beside a receipt: amounts of a mix, a bench too warm, water too deep, a batch past its time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from core.conversation.scene import Scene
from core.conversation.standing_water import water_standing_in
from core.entries import Act, Entry
from core.errors import BenchError
from core.figures.air import judge_air
from core.figures.strengths import SodiumHypochlorite
from core.lots import Lot, fold_batches, fold_cover
from core.lots.phrases import phrases, says
from core.lots.pot_sizes import sizes_named
from core.questions.jug import jug_of, strength_in, strength_told
from core.questions.mixing import strength_facts
from core.questions.warnings import early_warning
from core.records import in_order, local_day
from core.storage import Books
from core.treatments import protocols
from core.treatments.limits import deepest_water_in, too_warm_celsius
from core.vocabulary.plants import perhaps, same_plant

Remark = tuple[str, dict[str, Any]]
_MOST_WARNED = 3
_TAKING = frozenset({Act.LOSE, Act.SELL, Act.GIVE, Act.PLANT_OUT, Act.SPLIT})
PLACES_UNDER_COVER = ("dome", "cover", "lid", "bag", "tent", "tray")


def remarks_for(books: Books, scene: Scene, entry: Entry) -> list[Remark]:
    """The remarks that an act calls for, in the order of their weight."""
    match entry.act:
        case Act.TARGET:
            return _target_before(books, scene, entry)
        case Act.TEMP:
            return _too_warm(books, scene, entry) or _air(books, scene, entry)
        case Act.WATER:
            return _too_deep(entry)
        case Act.MIX if entry.solution == "bleach":
            return _amounts(books, scene, entry)
        case Act.NOTE | Act.RULE if told := _jug_told(scene, entry):
            return told
        case Act.NOTE if (inches := water_standing_in(books, scene, entry)) is not None:
            return [("deep_water", {"inches": inches})]
        case Act.STICK | Act.SOW | Act.DIVIDE | Act.COLLECT if (meant := perhaps(entry.plant or "")) is not None:
            known = (entry.plant or "") in scene.names.plants
            return [] if known else [("plant_meant", {"texted": entry.plant, "meant": meant})]
        case Act.SANITIZE if entry.solution in (None, "bleach"):
            percent = strength_in(entry)
            return [*([("jug_kept", {"percent": percent})] if percent else []), *_old_batch(books, scene)]
        case _:
            return []


def _jug_told(scene: Scene, entry: Entry) -> list[Remark]:
    percent = strength_in(entry, scene.message.text)
    return [] if percent is None else [("jug_kept", {"percent": percent})]


def potted_on(entry: Entry, said: str, before: Mapping[str, Lot | None], lots: Sequence[Lot]) -> list[Remark]:
    """That plants are taken to have gone on from smaller pots, where the words do not say so and may mean new ones."""
    if entry.act is not Act.POT or entry.count is None or says(said.lower(), phrases().potted_on):
        return []
    for lot in lots:
        was = before.get(lot.number)
        if was is not None and sizes_named(entry.rest, [size for size, _ in was.pots]):
            continue
        if was is not None and was.potted and was.potted == lot.potted and (was.left or 0) > was.potted:
            return [("potted_on", {"count": entry.count, "lot": lot.number, "potted": lot.potted})]
    return []


def _target_before(books: Books, scene: Scene, entry: Entry) -> list[Remark]:
    """The target of the plant that a new one takes the place of; that none is wanted any more."""
    if entry.count == 0:
        return [("target_over", {"plant": entry.plant})]
    told = in_order(books.records(acts=("target",)))
    own = [one for one in told if one.message != scene.key and same_plant(one.entry.plant or "", entry.plant or "")]
    before = own[-1].entry if own else None
    if before is None or not before.count or before.due is None or before.due < local_day(scene.now, scene.zone):
        return []
    due = before.due.isoformat() if before.due != entry.due else None
    return [("target_before", {"count": before.count, "due": due, "plant": entry.plant})]


def _too_warm(books: Books, scene: Scene, entry: Entry) -> list[Remark]:
    limit = too_warm_celsius()
    if entry.temp_c is None or entry.temp_c < limit:
        return []
    words = f"{entry.place or ''} {entry.rest or ''} {scene.message.text}".lower()
    covered = any(word in words for word in PLACES_UNDER_COVER) or any(
        fold_cover(books.tray_records(tray), scene.zone, scene.now).on for tray in entry.trays
    )
    return [("hot_under_cover", {"celsius": entry.temp_c})] if covered else []


def _air(books: Books, scene: Scene, entry: Entry) -> list[Remark]:
    """What the air means for what stands there; the open air of a fridge or a mat is no news."""
    if entry.temp_c is None or not entry.humidity or not 5 <= entry.temp_c <= 45:
        return []
    words = f"{entry.place or ''} {entry.rest or ''} {scene.message.text}".lower()
    if any(word in words for word in ("fridge", "cooler", "outside", "mat")):
        return []
    seen = judge_air(entry.temp_c, entry.humidity, stage=_stage_there(books, entry, words))
    facts = {"deficit": seen.deficit_kpa, "dew_c": seen.dew_point_celsius, "verdict": str(seen.verdict)}
    return [("air", facts | {"stage": seen.stage, "sure": seen.sure})]


def _stage_there(books: Books, entry: Entry, words: str) -> str:
    standing = [lot for tray in entry.trays for lot in books.lots(tray=tray)]
    if standing and all(lot.stage in ("potted", "hardening") for lot in standing):
        return "open"
    if standing and all(lot.rooted for lot in standing):
        return "rooted"
    return "unrooted" if standing or any(word in words for word in PLACES_UNDER_COVER) else "open"


def warnings_for(
    books: Books, scene: Scene, entry: Entry, before: Mapping[str, Lot | None], lots: Sequence[Lot]
) -> list[Remark]:
    """A red warning for a lot that a check or a loss has just shown to be failing; for whom more of it is kept, and
    that less is left than that."""
    if entry.act is Act.RESERVE:
        return [_kept(lot) for lot in lots if entry.ends or lot.reserved != entry.count]
    short = [remark for lot in lots if entry.act in _TAKING for remark in _short(entry, lot, before)]
    if entry.act not in (Act.CHECK, Act.LOSE) or len(lots) > _MOST_WARNED:
        return short
    return [*short, *(remark for lot in lots for remark in early_warning(books, lot, scene.now))]


def _kept(lot: Lot) -> Remark:
    """What is kept of a lot for whom, and how many are free."""
    named = sum(count for _, count in lot.kept_for)
    others = [("", lot.reserved - named)] if lot.reserved > named else []
    return ("kept_now", {"lot": lot.number, "kept": [*map(list, lot.kept_for), *map(list, others)], "free": lot.free})


def _short(entry: Entry, lot: Lot, before: Mapping[str, Lot | None]) -> list[Remark]:
    """That fewer are left than are kept: before a loss, since what is kept for nobody named shrinks with the lot."""
    was = before.get(lot.number) if entry.act is Act.LOSE else None
    facts = _kept(was or lot)[1] | {"left": lot.left or 0}
    return [("kept_short", facts)] if sum(count for _, count in facts["kept"]) > facts["left"] else []


def _too_deep(entry: Entry) -> list[Remark]:
    limit = deepest_water_in()
    if entry.depth_in is None or entry.depth_in <= limit:
        return []
    return [("deep_water", {"inches": entry.depth_in})]


def _amounts(books: Books, scene: Scene, entry: Entry) -> list[Remark]:
    """What was poured, and how strong that is; nothing is said of the strength where no ratio was.

    A strength of the jug that stands elsewhere in the note ("1 gal of bleach 1:9, label says 7.5") is of this mix.
    """
    if not entry.parts and entry.share is None:
        return [("no_ratio", {})] if entry.volume is not None else []
    try:
        told = None if strength_in(entry) else strength_told(scene.message.text)
        facts = strength_facts(entry, SodiumHypochlorite(percent=told) if told else jug_of(books))
    except BenchError as wrong:
        return [("text", {"text": f"{wrong}."})]
    return [("bleach_amounts" if entry.volume else "bleach_strength", facts)]


def _old_batch(books: Books, scene: Scene) -> list[Remark]:
    batches = [
        batch
        for batch in fold_batches(in_order(books.records(acts=("mix", "pour_out"))), scene.now)
        if batch.solution == "bleach" and batch.poured_out_at is None
    ]
    hours = protocols().working_hours("bleach")
    if not batches or hours is None:
        return []
    age_hours = (scene.now - batches[-1].mixed_at).total_seconds() / 3600
    return [("old_bleach", {"age_hours": round(age_hours), "hours": hours})] if age_hours > hours else []
