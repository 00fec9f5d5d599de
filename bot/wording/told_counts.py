"""How many there are, or went a way: each figure with its age, what it is a share of, and what is left."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from bot.wording.figures_plain import is_old
from bot.wording.plain import day_of, days_text, listed, named, near_day, percent, plural, share_there
from bot.wording.receipts import balance_line
from core.answers import CountTold, GrewTold, ThereTold, WentTold
from core.entries import Act, Entry
from core.lots import Counted, Lot
from core.notes import say_back

_STATE = {
    "rooted": "rooted", "callused": "callused", "germinated": "up", "alive": "alive", "ready": "ready",
    "flowering": "in flower", "roots_out": "with roots showing", "left": "left",
    "unrooted": "unrooted", "unpotted": "not potted", "to_pot": "rooted and not potted", "seedlings": "seedlings left",
}  # fmt: skip
_WENT = {
    "lose": "lost", "pot": "potted", "sell": "sold", "give": "given", "plant_out": "planted out", "reserve": "reserved",
    "stick": "stuck", "sow": "sown", "gone": "gone",
}  # fmt: skip
_LACKING = frozenset({"unrooted", "unpotted", "to_pot"})
_STANDING = frozenset({"alive", "left", "seedlings"})
_MOST_LOTS = 5
_MOST_SAMPLES = 2
_MOST_THERE = 8


def count_told(answer: CountTold, zone: ZoneInfo) -> str:
    """The figure, what it is a share of, who counted it when, and what is left."""
    known = [lot for lot in answer.lots if _figure(lot, answer.state) is not None]
    shown = known if known and len(answer.lots) > 1 else answer.lots
    now = answer.now if answer.on is None else None
    lines = [_count_line(lot, answer.state, now, zone) for lot in shown[:_MOST_LOTS]]
    counted = answer.state not in _STANDING | {"unpotted"}
    if answer.on is not None and counted and not known:
        return f"No count of any {_STATE[answer.state]} from {day_of(answer.on)} or before. That is not none: nobody texted it."
    if counted and not known and len(answer.lots) > _MOST_SAMPLES:
        word = _STATE[answer.state]
        lines = [
            f"No record of any {word} in {plural(len(answer.lots), 'lot')}. No record is not none: "
            f'look, and text "lot {answer.lots[0].number} 0 {word}" or the count.'
        ]
    elif len(shown) > _MOST_LOTS:
        lines.append(f"… and {len(shown) - _MOST_LOTS} more lots.")
    if len(answer.lots) > 1:
        numbers = [number for number in (_figure(lot, answer.state) for lot in answer.lots) if number is not None]
        if numbers:
            unknown = len(answer.lots) - len(numbers)
            more = f", and {plural(unknown, 'lot')} with no record" if unknown else ""
            lines.append(f"In all: {sum(numbers)} {_STATE[answer.state]} in {plural(len(numbers), 'lot')}{more}.")
    if answer.apart:
        lines.append(f"Part of {listed([lot.number for lot in answer.apart])} stands there too, not counted apart.")
    if answer.unread:
        lines.insert(0, f'I cannot count by "{answer.unread}". Without it:')
    if answer.on is not None and answer.now is not None:
        lines.insert(0, f"As the books tell it of {near_day(answer.on, answer.now.astimezone(zone).date())}:")
    return "\n".join(lines)


def grew_told(answer: GrewTold, today: date) -> str:
    """How many more there are than before a day, by lot and in all; a lot not counted by then is said as such."""
    word, since = _STATE[answer.state], near_day(answer.since, today)
    lines, more = [], 0
    for lot, before in answer.lots:
        now, then = _figure(lot, answer.state), _figure(before, answer.state) if before is not None else None
        if now is None:
            continue
        if then is None:
            lines.append(f"{named(lot)}: {now} {word} now, and no count from before {since}.")
            continue
        more += now - then
        change = f"{now - then} more {word}" if now >= then else f"{then - now} fewer {word}"
        lines.append(f"{named(lot)}: {change} since {since} ({then} before, {now} now).")
    if not lines:
        return f"No record of any {word}. That is not none: look, and text the count."
    shown = lines[:_MOST_LOTS] + ([f"… and {len(lines) - _MOST_LOTS} more lots."] if len(lines) > _MOST_LOTS else [])
    return "\n".join([*shown, f"In all: {more} more {word}."] if len(lines) > 1 and more > 0 else shown)


def there_told(answer: ThereTold) -> str:
    """How many of each lot stand there, and in all."""
    several = len({name for _, _, name in answer.spots}) > 1
    lines = [
        f"{named(lot)}{f', {name}' if several else ''}: {share_there(lot, there)}."
        for lot, there, name in answer.spots[:_MOST_THERE]
    ]
    if len(answer.spots) > _MOST_THERE:
        lines.append(f"… and {len(answer.spots) - _MOST_THERE} more lots.")
    known = [there.count for _, there, _ in answer.spots if there.count is not None]
    unknown = [lot.number for lot, there, _ in answer.spots if there.count is None]
    if len(answer.spots) > 1 and known:
        beside = f", and a part of {listed(unknown)} that nobody counted" if unknown else ""
        lines.append(f"In all: {sum(known)} there{beside}.")
    return "\n".join(lines)


def _figure(lot: Lot, state: str) -> int | None:
    return {
        "rooted": lot.rooted, "callused": lot.callused, "germinated": lot.germinated, "ready": lot.ready,
        "alive": lot.living, "left": lot.left, "unpotted": None if lot.left is None else lot.left - lot.potted,
        "unrooted": None if lot.rooted is None else lot.unrooted, "seedlings": _seedlings(lot),
        "to_pot": None if lot.rooted is None else lot.rooted - lot.potted,
    }.get(state)  # fmt: skip


def _seedlings(lot: Lot) -> int | None:
    """The seedlings of a lot that are still there and not potted."""
    return None if lot.left is None else max(lot.left - lot.potted, 0)


def _count_line(lot: Lot, state: str, now: datetime | None, zone: ZoneInfo) -> str:
    number = _figure(lot, state)
    counted = lot.counted(state)
    if state == "rooted" and lot.roots_mixed_at is not None:
        before = f" ({counted.count} before that)" if counted and counted.count is not None else ""
        split = f"not counted since the split of {day_of(lot.roots_mixed_at.astimezone(zone))}{before}"
        return f"{named(lot)}: {split}. Look, and text the count."
    if state in _STANDING:
        return _left_line(lot, state, now, zone)
    if state in _LACKING:
        return _lacking_line(lot, state, number, now, zone)
    if number is None and counted is None:
        return _no_count(lot, state, zone)
    figure = number if number is not None else counted.count if counted and counted.count is not None else None
    if figure is None:
        return _no_count(lot, state, zone)
    shares = []
    fell = counted is not None and counted.count is not None and figure < counted.count
    of = counted.of if counted and not fell else None
    if of:
        shares.append(f"{percent(figure / of)} of the {of} counted")
    elif lot.started and state == "germinated":
        shares.append(f"{percent(figure / lot.started)} of the {lot.started} sown")
    if lot.living and state != "germinated":
        shares.append(f"{percent(min(figure / lot.living, 1))} of the {lot.living} alive")
    about = "about " if counted and counted.approx else ""
    share = f": {', '.join(shares)}" if shares else ""
    when = _counted_when(counted, now, zone, told=fell) if counted else ""
    rest = balance_line(lot)
    return f"{named(lot)}: {about}{figure} {_STATE[state]}{share}{when}." + (f"\n{rest}" if rest else "")


def _lacking_line(lot: Lot, state: str, number: int | None, now: datetime | None, zone: ZoneInfo) -> str:
    """Those without roots or pots, what share they are of the living, and when roots were counted."""
    if state != "unpotted" and (number is None or lot.roots_mixed_at is not None):
        return _count_line(lot, "rooted", now, zone)
    if number is None:
        return _left_line(lot, "left", now, zone)
    share = f": {percent(number / lot.living)} of the {lot.living} alive" if lot.living else ""
    counted = lot.counted("rooted") if state != "unpotted" else None
    when = _counted_when(counted, now, zone, told=False).replace("(", "(roots ", 1) if counted else ""
    rest = balance_line(lot)
    return f"{named(lot)}: {number} {_STATE[state]}{share}{when}." + (f"\n{rest}" if rest else "")


def _counted_when(counted: Counted, now: datetime | None, zone: ZoneInfo, *, told: bool) -> str:
    """When and by whom it was counted; with the number of that count where some of those have gone since."""
    at, local = counted.at, counted.at.astimezone(zone)
    number = f"{counted.count} " if told else ""
    old = ""
    if now is not None:
        passed = now - at
        if is_old(passed):
            old = f"; that is {passed.days} days old, count again"
        elif passed.days >= 1:
            old = f", {plural(passed.days, 'day')} ago"
    return f" ({number}counted {day_of(local)} by {counted.by}{old})"


def _left_line(lot: Lot, state: str, now: datetime | None, zone: ZoneInfo) -> str:
    number = _figure(lot, state)
    if number is None and lot.kind == "seed" and lot.unsprouted is not None:
        if lot.sown_at is None:
            return f"{named(lot)}: {plural(lot.unsprouted, 'seed')}, not sown."
        return f'{named(lot)}: {lot.unsprouted} sown, none counted as up. Text a count, like "lot {lot.number} 12 germinated".'
    if number is None:
        return f'{named(lot)}: no record of how many. Text a count, like "lot {lot.number} 58 alive".'
    last = lot.last_count_at
    when = ""
    if last is not None and now is not None:
        old = "; that is old, count again" if is_old(now - last) else ""
        when = f" (last counted {day_of(last.astimezone(zone))}{old})"
    rest = balance_line(lot)
    potted = f", and {lot.potted} potted" if state == "seedlings" and lot.potted else ""
    kept = f", {lot.reserved} of them reserved" if lot.reserved and state == "left" else ""
    return f"{named(lot)}: {number} {_STATE[state]}{potted}{kept}{when}." + (f"\n{rest}" if rest else "")


def _no_count(lot: Lot, state: str, zone: ZoneInfo) -> str:
    word = _STATE[state]
    if lot.latest_sample is not None and lot.latest_sample.state == state:
        sample = lot.latest_sample
        return (
            f"{named(lot)}: only a sample, {sample.count} of {sample.of} {word} "
            f"({day_of(sample.at.astimezone(zone))}, {sample.by}). The whole lot ({lot.living} alive) was not counted."
        )
    opened = day_of(lot.opened_at.astimezone(zone))
    started = f"{lot.started} " if lot.started is not None else ""
    verb = "sown" if lot.kind == "seed" else "divided" if lot.kind == "divisions" else "stuck"
    zero = "germinated" if state == "germinated" else word
    return (
        f"{named(lot)}: no record of any {word} ({started}{verb} {opened}). "
        f'No record is not none: look, and text "lot {lot.number} 0 {zero}" or the count.'
    )


def _in_pots(size: str) -> str:
    return f"in {size} pots" if any(sign.isdigit() for sign in size) else f"in {size}s"


def went_told(answer: WentTold, today: date) -> str:
    """How many went the way asked of, by lot and in all; losses with what they died of, as far as it was told."""
    word = "in pots now" if answer.way == "pot" and answer.span is None and not answer.by else _WENT[answer.way]
    word = _in_pots(answer.size) if answer.size else word
    of_cause = f" {_died_of(answer.cause)}" if answer.cause else ""
    within = (f" by {listed(answer.by)}" if answer.by else "") + days_text(answer.span, today)
    apart = [f"{named(lot)}: {lot.potted} in pots, by size not counted apart." for lot in answer.apart[:_MOST_LOTS]]
    if not answer.counts and apart:
        return "\n".join(apart)
    if not answer.counts:
        of = f" in {listed([lot.number for lot in answer.lots])}" if 0 < len(answer.lots) <= _MOST_LOTS else ""
        return f"No record of any {word}{of_cause}{of}{within}. That is not none: nobody has texted it."
    lines = [
        f"{named(lot)}: {count} {word}{of_cause}{_causes(lot, answer)}{within}." for lot, count in answer.counts[:_MOST_LOTS]
    ]
    if len(answer.counts) > _MOST_LOTS:
        lines.append(f"… and {len(answer.counts) - _MOST_LOTS} more lots.")
    if len(answer.lots) == 1 and (rest := balance_line(answer.counts[0][0])):
        lines.append(rest)
    if len(answer.counts) > 1:
        total = sum(count for _, count in answer.counts)
        lines.append(f"In all: {total} {word}{of_cause} in {plural(len(answer.counts), 'lot')}.")
    return "\n".join([*lines, *apart])


def _causes(lot: Lot, answer: WentTold) -> str:
    """What the plants of a lot died of, where more than that nobody knows is told; of all that are gone, the ways."""
    if answer.way == "gone" and not answer.span and not answer.by:
        ways = ((lot.sold, "sold"), (lot.given, "given"), (lot.planted_out, "planted out"), (lot.lost, "lost"))
        return f" ({', '.join(f'{count} {way}' for count, way in ways if count)})"
    if answer.way != "lose" or answer.cause or answer.span or answer.by or not any(one.cause != "unknown" for one in lot.losses):
        return ""
    told = sorted(lot.losses, key=lambda one: (one.cause == "unknown", -one.count))
    return f" ({', '.join(f'{one.count} {_died_of(one.cause)}' for one in told)})"


def _died_of(cause: str) -> str:
    return say_back(Entry(act=Act.LOSE, count=1, cause=cause)).removeprefix("lost 1 ")
