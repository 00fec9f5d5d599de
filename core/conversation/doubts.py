"""What gives pause before an act is written: said twice, told by two people, or more than the books can hold.

Rules
1. The same words within minutes in one chat are asked about once: again, or the same?
2. What the lot cannot explain (more sold than are left, a closed lot, a lower count, a loss told of by two) is asked,
   never refused outright.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any

from core.answers import Choice
from core.conversation.before_a_count import over_the_count
from core.conversation.counting import counts_plants
from core.conversation.merged_away import offer_there, went_into
from core.conversation.placing import NEEDS_LOT, Placed, offer
from core.conversation.scene import Scene
from core.conversation.sold_or_lost import GONE, is_doubtful, sold_or_lost
from core.conversation.two_sizes import TWO_SIZES, of_two_sizes
from core.entries import Act, Entry
from core.lots import Objection, may_not
from core.lots.phrases import MIXED, phrases, says
from core.storage import Books
from core.vocabulary.plants import same_plant

SAME_WORDS_WITHIN = timedelta(minutes=15)

EACH_OR_ALL = "each_or_all"
SHARES = "shares"
"""The kind of question that asks how many in each lot."""
_YES = "yes"
_NO = "no"


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Why an act is asked about before it is written, and the answers that would settle it."""

    kind: str
    choices: tuple[Choice, ...]
    facts: dict[str, Any] = field(default_factory=dict)


def doubt(
    books: Books, scene: Scene, placed: Placed, at: datetime, forced: tuple[str, ...], *, said: str | None = None
) -> Doubt | None:
    """The first doubt about an act that nobody has settled yet, or None. `said` are the note's words, where they are
    not this message's."""
    words = scene.message.text if said is None else said
    found = _merging_others(books, placed) or _of_other_plant(books, placed)
    found = found or _each_or_all(placed, words) or _slang(placed, words) or _below_none(placed, words)
    found = found or _gone(books, placed, words) or _two_sizes(books, placed)
    if found is None or found.kind in forced:
        found = _objection(books, scene, placed, at, words)
    if found is None or found.kind in forced:
        over = over_the_count(books, scene, placed, at)
        choices = (Choice(label=_YES, action={"force": "before_a_count"}), Choice(label=_NO, action={"drop": True}))
        found = Doubt(kind="before_a_count", choices=choices, facts=over) if over is not None else found
    return found if found is not None and found.kind not in forced else None


def said_before(books: Books, scene: Scene) -> bool:
    """True where the same words stood in this chat minutes ago and were recorded."""
    message = scene.message
    since = message.said_at - SAME_WORDS_WITHIN
    return books.same_words(message.chat, message.text, since=since, but=scene.key)


def _objection(books: Books, scene: Scene, placed: Placed, at: datetime, words: str) -> Doubt | None:
    for number in placed.lots:
        lot = books.lot(number)
        if lot is None:
            continue
        found = may_not(lot, placed.entry, at=at, by=scene.speaker, said=words)
        into = went_into(books, lot) if found is not None and found.kind == "closed" else None
        if found is not None and into is not None and len(placed.lots) == 1:
            there = offer_there(placed.entry, into)
            facts = {"lot": number, "into": into.number, "entry": placed.entry.as_keys(), "there": bool(there)}
            return Doubt(kind="merged_away", choices=there or _choices(found, placed.entry), facts=facts)
        if found is not None:
            facts = {"lot": number, **plain_facts(found)}
            return Doubt(kind=found.kind, choices=_choices(found, placed.entry), facts=facts)
    return None


def _each_or_all(placed: Placed, words: str) -> Doubt | None:
    """One count told of several lots: of each, or of all of them together? "None" and "each" leave no doubt."""
    entry = placed.entry
    if len(placed.lots) < 2 or not counts_plants(entry) or entry.count == 0 or says(words, phrases().each):
        return None
    count = entry.count if entry.count is not None else entry.of if entry.of is not None else entry.left
    each = Choice(label=f"{count} in each", action={"force": EACH_OR_ALL})
    in_all = Choice(label=f"{count} in all", action={"ask": SHARES})
    facts = {"lots": list(placed.lots), "count": count}
    if says(words, phrases().together) and entry.count is not None and (entry.count or 0) > 1:
        return Doubt(kind=SHARES, choices=(), facts=facts)
    return Doubt(kind=EACH_OR_ALL, choices=(each, in_all) if entry.count is not None else (each,), facts=facts)


def _slang(placed: Placed, words: str) -> Doubt | None:
    """A loss told in words that may only mean that plants look poorly ("half dead")."""
    entry = placed.entry
    told = entry.share is not None or entry.all_of
    if entry.act is not Act.LOSE or not told or not placed.lots or not says(words, phrases().loss_slang):
        return None
    choices = (Choice(label=_YES, action={"force": "slang"}), Choice(label=_NO, action={"drop": True}))
    return Doubt(kind="slang", choices=choices, facts={"lots": list(placed.lots), "share": entry.share or 1})


def _gone(books: Books, placed: Placed, words: str) -> Doubt | None:
    """Plants that are "gone": sold, or lost?"""
    lots = [lot for lot in map(books.lot, placed.lots) if lot is not None and not lot.closed]
    if not lots or not any(is_doubtful(placed.entry, lot, words) for lot in lots):
        return None
    facts = {"lots": [lot.number for lot in lots], "count": placed.entry.count, "left": [lot.left for lot in lots]}
    return Doubt(kind=GONE, choices=sold_or_lost(placed.entry), facts=facts)


def _two_sizes(books: Books, placed: Placed) -> Doubt | None:
    """Plants that went in pots of two sizes: a count of each, or one of both?"""
    lot = books.lot(placed.lots[0]) if len(placed.lots) == 1 else None
    choices = of_two_sizes(placed.entry, lot) if lot is not None else ()
    facts = {"act": placed.entry.act.value, "count": placed.entry.count}
    return Doubt(kind=TWO_SIZES, choices=choices, facts=facts) if choices else None


def _below_none(placed: Placed, words: str) -> Doubt | None:
    """A number of plants with a minus before it ("lot 14: -4 dead"): a dash, or fewer by so many?"""
    count = placed.entry.count
    if not count or not placed.lots or not counts_plants(placed.entry):
        return None
    if re.search(rf"(?:^|[\s:,(])[-−]{count}(?![\d-])", words) is None:
        return None
    choices = (Choice(label=_YES, action={"force": "minus"}), Choice(label=_NO, action={"drop": True}))
    return Doubt(kind="minus", choices=choices, facts={"count": count, "entry": placed.entry.as_keys()})


def _of_other_plant(books: Books, placed: Placed) -> Doubt | None:
    """A lot or tray named with the plant of another lot: one of the two is a slip."""
    entry = placed.entry
    lot = books.lot(placed.lots[0]) if len(placed.lots) == 1 else None
    if lot is None or not entry.plant or placed.opens or entry.act not in NEEDS_LOT - {Act.MERGE, Act.TREAT}:
        return None
    others = [one for one in books.lots() if same_plant(one.plant, entry.plant)]
    if not others or _alike(lot.plant, entry.plant):
        return None
    offered = offer([lot, *others])
    choices = tuple(
        replace(one, action={"fill": {**one.action["fill"], "trays": [], "plant": None}, "force": "other_plant"})
        for one in offered
    )
    return Doubt(kind="other_plant", choices=choices, facts={"lot": lot.number, "is": lot.plant, "plant": entry.plant})


def _alike(one: str, other: str) -> bool:
    """Whether two plants may be the same: a name of one, or its last word, is in the other's."""
    return same_plant(one, other) or bool({*one.lower().split()} & {*other.lower().split()})


def _merging_others(books: Books, placed: Placed) -> Doubt | None:
    """Lots of different plants, or of different mother plants, do not become one without a second yes."""
    lots = [lot for lot in map(books.lot, placed.lots) if lot is not None]
    if placed.entry.act is not Act.MERGE or len(lots) < 2:
        return None
    choices = (Choice(label=_YES, action={"force": "merge_others"}), Choice(label=_NO, action={"drop": True}))
    if any(not same_plant(lots[0].plant, lot.plant) for lot in lots):
        facts = {"lots": [f"{lot.number} {lot.plant}" for lot in lots]}
    elif len({frozenset(one.source for one in lot.sources) for lot in lots if lot.sources}) > 1:
        facts = {
            "lots": [
                f"{lot.number} from {' and '.join(one.source for one in lot.sources)}" for lot in lots if lot.sources
            ]
        }
    else:
        return None
    return Doubt(kind="merge_others", choices=choices, facts=facts)


def _choices(found: Objection, entry: Entry) -> tuple[Choice, ...]:
    go_on, leave = {"force": found.kind}, {"drop": True}
    match found.kind:
        case "told_twice":
            return Choice(label="the_same", action=leave), Choice(label="more", action=go_on)
        case "change_or_total":
            more = int(found.facts["more"])
            before = int(found.facts["before"])
            in_all = f"{entry.count} in all" if (entry.count or 0) >= before else f"Among the {before}"
            over = {"fill": {"count": more}, "force": found.kind}
            return (
                Choice(label=f"{entry.count} more", action=go_on),
                Choice(label=in_all, action=over if more else leave),
            )
        case "potted_again":
            potted, count = int(found.facts["potted"]), int(entry.count or 0)
            label = "the_same" if count == potted else f"Among the {potted}" if count < potted else f"{count} in all"
            over = {"fill": {"count": count - potted}, "force": found.kind}
            return (
                Choice(label=label, action=over if count > potted else leave),
                Choice(label=f"{count} more", action=go_on),
            )
        case "germinated_cuttings":
            rooted = {"fill": {"state": "rooted"}, "force": found.kind}
            return Choice(label=f"{entry.count} rooted", action=rooted), Choice(label="seedlings", action=go_on)
        case "part_or_whole":
            return Choice(label="whole_lot", action=go_on), Choice(label="a_part", action={"fill": {"sample": True}})
        case "sold_out":
            of_those = {"fill": {"count": found.facts["count"], "all": None}, "force": found.kind}
            return (
                Choice(label=f"The {found.facts['count']} {found.facts['kind']}", action=of_those),
                Choice(label=f"All {found.facts['left']}", action=go_on),
            )
        case "split_of":
            there = [kind for kind, number in found.facts["there"].items() if (entry.count or 0) <= number]
            words = {**{kind: f"{kind} ones" for kind in there}, MIXED: MIXED}
            rests = {kind: " ".join(filter(None, (entry.rest, said))) for kind, said in words.items()}
            return tuple(Choice(label=kind, action={"fill": {"rest": rest}, **go_on}) for kind, rest in rests.items())
        case "share_of":
            ways = {found.facts["of_left"]: found.facts["left"], found.facts["of_all"]: found.facts["all"]}
            if len(ways) == 1:
                return Choice(label=_YES, action=go_on), Choice(label=_NO, action=leave)
            return tuple(
                Choice(
                    label=f"{count} of {of}",
                    action={"fill": {"count": count, "share": None, "approx": True}, "force": found.kind},
                )
                for count, of in ways.items()
            )
        case "count_lower":
            missing = {**entry.as_keys(), "act": "lose", "count": found.facts["missing"]}
            lost = {key: missing[key] for key in ("act", "count", "lots", "trays", "plant", "on") if key in missing}
            return (
                Choice(label="recount", action=go_on),
                Choice(label=f"{found.facts['missing']} lost", action={"force": found.kind, "also": lost}),
            )
        case _:
            return Choice(label=_YES, action=go_on), Choice(label=_NO, action=leave)


def plain_facts(found: Objection) -> dict[str, Any]:
    """The facts of an objection as they are kept with a question: days as text."""
    return {key: value.isoformat() if isinstance(value, datetime) else value for key, value in found.facts.items()}
