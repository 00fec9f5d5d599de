"""In which order the acts of one note are taken: a loss that explains a count comes before it."""

from __future__ import annotations

from collections.abc import Sequence

from core.conversation.placing import Placed, place
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.entries import Act, Entry
from core.storage import Books


def losses_that_explain(books: Books, scene: Scene, parts: Sequence[Entry | Pending]) -> list[Entry | Pending]:
    """The parts of a note, the losses first where a count of the same lot comes out of what they leave.

    "58/70 rooted, 2 lost" of a lot with 72 left speaks of the 70 that are left after the loss.
    """
    ordered = list(parts)
    for count in [one for one in parts if isinstance(one, Entry) and one.act is Act.CHECK and not one.sample]:
        place_of_count = ordered.index(count)
        losses = [
            one
            for one in ordered[place_of_count + 1 :]
            if isinstance(one, Entry) and one.act is Act.LOSE and one.count and _same_place(one, count)
        ]
        if losses and _explained(books, scene, count, sum(one.count or 0 for one in losses)):
            rest = [one for one in ordered if one not in losses]
            ordered = [*rest[:place_of_count], *losses, *rest[place_of_count:]]
    return ordered


def _same_place(one: Entry, other: Entry) -> bool:
    return (one.lots, one.trays, one.plant) == (other.lots, other.trays, other.plant)


def _explained(books: Books, scene: Scene, count: Entry, lost: int) -> bool:
    placed = place(books, count, year=scene.year(), reuse=list(scene.reuse))
    if not isinstance(placed, Placed) or len(placed.lots) != 1:
        return False
    lot = books.lot(placed.lots[0])
    if lot is None or lot.left is None:
        return False
    told = count.of if count.of is not None else count.count if count.state == "alive" else None
    return told is not None and told in (lot.left - lost, lot.left - lot.potted - lost)
