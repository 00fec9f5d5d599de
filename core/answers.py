"""What the bot can answer: one value for each kind of answer, before it has words.

Rules
1. A turn's reply is a tuple of these; `bot.wording` has a sentence for each, and the type checker names who lacks one.
2. A `Choice` is a button: an action (JSON values, kept in the books until pressed) and a label key or the label itself.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from core.entries import Entry
from core.lots import Cover, Lot, There
from core.notes import Repair
from core.records import Record
from core.reminders import Due
from core.reminders.roster import Shift
from core.treatments.plant_facts import PlantFact


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A button: what pressing it does, and its label."""

    label: str
    action: dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One act as recorded: the entry, the lots it went to as they are now, and what of it was taken from the talk.

    `over` is told of a cover taken off: True where the airing was over when noted, False where it has just begun.
    """

    entry: Entry
    lots: tuple[Lot, ...] = ()
    trays: tuple[str, ...] = ()
    opened: bool = False
    over: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """A note that was recorded: its acts, spelling that was mended, words that no act used, and what follows.

    `instead_of` is what an edited note had recorded before.
    """

    acts: tuple[Act, ...]
    instead_of: tuple[Entry, ...] = ()
    took: tuple[str, ...] = ()
    repairs: tuple[Repair, ...] = ()
    plan: tuple[Due, ...] = ()
    cautions: tuple[str, ...] = ()
    remarks: tuple[tuple[str, dict[str, Any]], ...] = ()
    choices: tuple[Choice, ...] = ()
    late: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question of the bot's: what is missing or double-meaning in `entry`, with its choices as buttons."""

    kind: str
    entry: Entry | None = None
    choices: tuple[Choice, ...] = ()
    facts: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """Nothing was recorded, and why; `hint` says what to text instead."""

    why: str
    facts: dict[str, Any] = field(default_factory=dict)
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Undone:
    """What was taken back, and the lots as they are now; `also` was told of lots that are gone with it.

    `back_to` is what holds again because it had been corrected by what was taken back.
    """

    entries: tuple[Entry, ...]
    lots: tuple[str, ...]
    again: bool = False
    back_to: tuple[Entry, ...] = ()
    reopened: int = 0
    also: tuple[Record, ...] = ()
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Corrected:
    """A record as it was and as it is now; `beside` are other acts of its note that went along to another lot.

    `over` tells of an airing whether it is over; None for every other act.
    """

    before: Entry
    after: Entry
    over: bool | None = None
    beside: tuple[Entry, ...] = ()
    lots: tuple[Lot, ...] = ()
    plan: tuple[Due, ...] = ()
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirmed:
    """Reminders that were answered: done, put off or skipped, and what is next."""

    how: str  # done | later | skip | not_yet
    dues: tuple[Due, ...]
    until: datetime | None = None
    acts: tuple[Act, ...] = ()
    plan: tuple[Due, ...] = ()
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Safety:
    """One safety line and nothing else."""

    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Greeting:
    """A greeting, thanks, or help."""

    want: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CountTold:
    """How many of these lots are in a state, as last counted, and how old that count is.

    `state` is one of an entry's, or `left`, `unrooted`, `unpotted`, `to_pot` (with roots, not in pots).
    `apart` are lots of which only an uncounted part is asked of; `unread` are words of the question that pick by
    nothing known. The lots are as they were on a day that is over, `on`, where that was asked.
    """

    state: str
    lots: tuple[Lot, ...]
    on: date | None = None
    plant: str | None = None
    now: datetime | None = None
    apart: tuple[Lot, ...] = ()
    unread: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GrewTold:
    """How many more are in a state than were before the day `since`: each lot as it is, and as it was then (None: it
    was not there yet)."""

    state: str
    lots: tuple[tuple[Lot, Lot | None], ...]
    since: date


@dataclass(frozen=True, slots=True, kw_only=True)
class ThereTold:
    """How many of each lot stand in the trays or the place asked of, each with the name of that."""

    spots: tuple[tuple[Lot, There, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WentTold:
    """How many went a way (`way` is the act: lost, potted, sold …), by lot, ever or within the days of `span`.

    `lots` are those asked of by name, with and without a count; `cause` is what they died of, `size` the pots they
    stand in, where that was asked; `apart` are lots that stand in pots of several sizes. `by` are those whose doing was
    asked of.
    """

    way: str
    counts: tuple[tuple[Lot, int], ...]
    lots: tuple[Lot, ...]
    span: tuple[date, date] | None = None
    cause: str | None = None
    size: str | None = None
    apart: tuple[Lot, ...] = ()
    by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class UndoneTold:
    """The open lots, each with its trays, where an act is not noted within the days of `span`; `asked_of` is how many
    lots were looked at."""

    did: str
    spots: tuple[tuple[Lot, tuple[str, ...]], ...]
    span: tuple[date, date]
    asked_of: int
    method: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DueTold:
    """What is to be done when: now, on `day`, or from `day` until `until`."""

    dues: tuple[Due, ...]
    about: str
    day: date | None = None
    until: date | None = None
    lots: tuple[Lot, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WhereTold:
    """Where lots stand, or what stands in a tray or a place; `origin` where it was asked where they are from.

    `covered` is set where the covers were asked for: `these` trays were named, or `which` trays are covered.
    """

    lots: tuple[Lot, ...]
    trays: tuple[str, ...] = ()
    covers: tuple[tuple[str, Cover], ...] = ()
    asked: str = ""
    origin: bool = False
    covered: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HistoryTold:
    """What was recorded about something: the records, newest first; none is no record, never a no.

    `lots` are, for each record, all the lots that its act was told of, of those asked; `silent` are those of several
    lots or trays asked of that have no record of it. `by` are those whose deeds were asked of; where none of theirs was
    found, `others` is the newest of what others did. `span` are the days asked of.
    """

    records: tuple[Record, ...]
    asked: str
    did: str | None = None
    span: tuple[date, date] | None = None
    by: tuple[str, ...] = ()
    others: tuple[Record, ...] = ()
    who: bool = False
    lots: tuple[tuple[str, ...], ...] = ()
    silent: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class MostTold:
    """How many each person did an act to, or how often, the most first."""

    did: str
    people: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LotTold:
    """How a lot stands: what it is now, its cover, what was noted last (newest first), and what is due next; as it
    stood on a day that is over, `on`, by what was noted of the time until then."""

    lot: Lot
    on: date | None = None
    records: tuple[Record, ...] = ()
    dues: tuple[Due, ...] = ()
    covers: tuple[tuple[str, Cover], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ListTold:
    """Which lots are open, or as the question wants them; `unread` are words of it that pick by nothing known."""

    lots: tuple[Lot, ...]
    asked: str
    unread: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenTold:
    """What stands open now: covers off, things outside, soaks, stratifications, solutions."""

    opens: tuple[tuple[str, dict[str, Any]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MixTold:
    """How much of what to mix."""

    facts: dict[str, Any]
    caution: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchTold:
    """Whether a solution is still good: its age, the rule in force, or that there is no record."""

    solution: str
    facts: dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class HowTold:
    """How a piece of work is done, in a few lines, and what the bench's table knows of `plant`."""

    topic: str
    lines: tuple[str, ...]
    caution: str | None = None
    plant: str = ""
    facts: tuple[PlantFact, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FiguresTold:
    """An answer that rests on sums: `kind` names its sentence, `facts` hold its numbers and what they rest on."""

    kind: str
    facts: dict[str, Any]
    caution: str | None = None
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WhoTold:
    """Who is at the bench, or who did something; `shifts` tells the hours of a day that was asked of."""

    names: tuple[str, ...]
    asked: str
    facts: dict[str, Any] = field(default_factory=dict)
    shifts: tuple[Shift, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShiftsTold:
    """Who is on when, by the roster: in the days of `span`, or next (`following`), of `who` or of anybody."""

    shifts: tuple[Shift, ...]
    span: tuple[date, date] | None = None
    who: str = ""
    following: bool = False


Answer = (
    Noted | Asked | Refused | Undone | Corrected | Confirmed | Safety | Greeting | CountTold | DueTold | WhereTold
    | HistoryTold | LotTold | ListTold | OpenTold | WentTold | MixTold | BatchTold | HowTold | FiguresTold | WhoTold
    | UndoneTold | ThereTold | GrewTold | MostTold | ShiftsTold
)  # fmt: skip
