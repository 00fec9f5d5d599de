"""What is due when: every reminder that follows from a subject's history, its numbers and now.

Rules
1. `plan` is pure. It gives the reminders that are open: fallen due and unanswered, or still to come; what is answered,
   past its last useful time, or of a closed, stopped or unknown subject is not in it.
2. A kind is a row of kinds.toml and one function of its family, named in the table here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Final

from core.entries import Act
from core.records import Record, in_order
from core.reminders import asked, cover, roots, sale, seed, solutions, wean
from core.reminders.ground import Ground, History, survey
from core.reminders.values import Due
from core.treatments import Protocol, Protocols

Planner = Callable[[Ground], tuple[Due, ...]]

_OF_COVER: Final[tuple[Planner, ...]] = (
    wean.cover_back, cover.daily_look, cover.vent, wean.wean, wean.cover_off, cover.mist, cover.quiet_tray,
)  # fmt: skip
PLANNERS: Final[dict[str, tuple[Planner, ...]]] = {
    "tray": (),
    "lot": (
        roots.root_check, roots.pot_up, roots.shade_out, roots.old_count, roots.hold_review, roots.bring_in,
        seed.soak_cooled, seed.soak_ended, seed.cold_look, seed.cold_unseen, seed.cold_end, seed.warm_over,
        seed.germination_check,
    ),
    "solution": (solutions.things_soaked, solutions.past_its_time),
    "target": (sale.countdown, sale.target_short),
    "crew": (solutions.left_over, seed.bags_check, asked.as_asked, asked.hand_over),
}  # fmt: skip


def plan(history: History, protocols: Protocols, now: datetime) -> tuple[Due, ...]:
    """The open reminders of one subject at `now` (aware), soonest first."""
    ground = ground_of(history, protocols, now)
    if _is_over(ground) or _is_stopped(ground):
        return ()
    planners = PLANNERS.get(history.subject.kind, ())
    if ground.has_cover():
        planners += _OF_COVER
    dues = [due for planner in planners for due in planner(ground)]
    return tuple(sorted(dues, key=lambda due: (due.due_at, due.key())))


def ground_of(history: History, protocols: Protocols, now: datetime) -> Ground:
    """What the plan of this subject stands on, with the numbers of its plant."""
    return survey(history, _protocol_of(history, protocols), now)


def _protocol_of(history: History, protocols: Protocols) -> Protocol:
    """The numbers of the subject: of its plant, and for a tray those of the plant that asks for most patience."""
    subject = history.subject
    if subject.kind == "lot" and history.lot is not None:
        lot = history.lot
        return protocols.for_plant(lot.plant, wood=lot.wood, lot=lot.number, trays=lot.trays)
    if subject.kind == "tray" and history.lots:
        found = [
            protocols.for_plant(lot.plant, wood=lot.wood, lot=lot.number, trays=(subject.name,)) for lot in history.lots
        ]
        return max(found, key=lambda protocol: protocol.days("weaning_start"))
    trays = (subject.name,) if subject.kind == "tray" else ()
    return protocols.for_plant(None, trays=trays)


def _is_over(ground: Ground) -> bool:
    """True where the subject is no more: a lot closed or taken back, a tray whose lots have all left."""
    history = ground.history
    if history.subject.kind == "lot":
        return history.lot is None or history.lot.closed
    if history.subject.kind == "tray":
        return not history.lots and any(record.lot is not None for record in history.records if record.holds())
    return False


def _is_stopped(ground: Ground) -> bool:
    """True where somebody asked that this lot or tray be left alone, and nobody since asked for it again."""
    subject = ground.subject
    if subject.kind not in ("lot", "tray"):
        return False
    words = [record for record in in_order(ground.history.records) if _is_wish(record)]
    if subject.kind == "lot":
        return _ends_in_stop(record for record in words if record.lot == subject.name)
    of_tray = [record for record in words if subject.name in record.entry.trays]
    lots = [lot.number for lot in ground.history.lots]
    if not lots:
        return _ends_in_stop(of_tray)
    return all(_ends_in_stop(one for one in words if one.lot == lot or one in of_tray) for lot in lots)


def _is_wish(record: Record) -> bool:
    """True for words that end the reminders of a lot or tray, or ask for them again; no answer to a reminder is one."""
    entry = record.entry
    return entry.act is Act.REPLY and record.reminder is None and entry.answer in ("stop", "yes")


def _ends_in_stop(words: Iterable[Record]) -> bool:
    answers = [record.entry.answer for record in words]
    return bool(answers) and answers[-1] == "stop"
