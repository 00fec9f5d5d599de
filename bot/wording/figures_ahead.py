"""How stock, forecasts and plans are told."""

from __future__ import annotations

from typing import Any

from bot.wording.figures_plain import count_age, day, far, in_ten, rests_on
from bot.wording.plain import listed, percent, plural
from bot.wording.reminders import short_name_of

_MOST_ROWS = 5


def stock(facts: dict[str, Any]) -> list[str]:
    """What stands here by plant, ready apart from potted, and how old the counts are."""
    rows = [row for row in facts["rows"] if row["left"]]
    if not rows:
        return [f"Nothing of {facts['asked']} is left." if facts["asked"] else "Nothing is in stock that I know of."]
    lines = []
    for row in sorted(rows, key=lambda row: -row["left"])[:_MOST_ROWS]:
        ready = f"{row['ready']} ready, " if row["ready"] else ""
        kept = f", {row['reserved']} reserved" if row["reserved"] else ""
        held = f", on hold: {listed(row['held'])}" if row["held"] else ""
        lines.append(
            f"{row['plant']}: {ready}{row['potted']} potted, {row['left']} left in {listed(row['lots'][:4])}"
            f"{kept}{held} ({count_age(row['oldest_count_days'])})."
        )
    if len(rows) > _MOST_ROWS:
        lines.append(f"… and {len(rows) - _MOST_ROWS} more plants. Ask by name.")
    return lines


def forecast(facts: dict[str, Any]) -> list[str]:
    """The middle, the 1-in-10 ends, the fork, the shortfall and what can still be done."""
    plant, needed = facts["plant"], facts["needed"]
    fork = facts["fork"]
    lines = [
        f"{plant} for {far(facts['day'])}: plan on {facts['middle']} "
        f"(1 in 10 under {facts['low']}, 1 in 10 over {facts['high']})."
    ]
    if fork:
        lines.append(
            f"Fork: {fork['with']} if lot {listed(fork['lots'][:3])} "
            f"{'is' if len(fork['lots']) == 1 else 'are all'} in time ({in_ten(fork['chance_with'])}), "
            f"{fork['without']} if not ({in_ten(fork['chance_without'])})."
        )
    if needed is not None:
        lines.append(_against(facts, needed))
    lines.append(f"From {_what_there_is(facts)} in {plural(facts['lots'], 'lot')}; {_ages(facts)}.")
    if facts.get("reserved"):
        free = max(facts["middle"] - facts["reserved"], 0)
        lines.append(f"{facts['reserved']} of these are reserved: plan on {free} for the rest.")
    if facts.get("fit_from"):
        lines.append(f"{'What else' if facts['ready'] else 'What'} is rooted now is usually fit to sell from about {far(facts['fit_from'])}.")
    lines.append(_doubts(facts))
    resting = rests_on(facts, seed=facts["kind"] == "seed", lots="rate_lots", tried="rate_tried")
    lines.append(resting if facts["unrooted"] else "")
    lines = [line for line in lines if line]
    return [*lines[:6], "Frost, mice and theft to come are not in it."]


def _what_there_is(facts: dict[str, Any]) -> str:
    """What a forecast is made from: "31 alive (20 potted and 11 rooted)", "400 seeds not seen up"."""
    seeds = facts["seeds"]
    parts = (
        (facts["ready"], "ready"),
        (facts["in_pots"], "potted"),
        (facts["in_cells"], "up" if facts["kind"] == "seed" else "rooted"),
        (facts["unrooted"] - seeds, "not known rooted"),
    )
    made = listed([f"{number} {name}" for number, name in parts if number])
    alive = [f"{facts['living'] - seeds} alive ({made})"] if facts["living"] > seeds else []
    return listed([*alive, *([f"{plural(seeds, 'seed')} not seen up"] if seeds else [])])


def _against(facts: dict[str, Any], needed: int) -> str:
    chance = facts["chance"]
    line = f"Chance of {needed}: {in_ten(chance)}"
    if facts["lacking"]:
        line += f"; {facts['lacking']} short if it goes middling"
    return f"{line}. {still_possible(facts)}".rstrip() if chance < 0.9 else f"{line}."


def still_possible(facts: dict[str, Any]) -> str:
    """What can be done about a shortfall."""
    seed = facts.get("kind") == "seed"
    verb = "sow" if seed else "stick"
    if facts.get("stick_now"):
        late = f" (in time {in_ten(facts['in_time'])})" if facts["in_time"] < 0.9 else ""
        by = f", by {day(facts['latest'])} at the latest" if seed and not late else ""
        return f"Still possible: {verb} {facts['stick_now']} now{late}{by}."
    if "latest" in facts:
        return f"Too late to {verb} (last day was {day(facts['latest'])}): smaller pots, buy in, or promise less."
    return ""


def _ages(facts: dict[str, Any]) -> str:
    if facts["oldest_count_days"] is None:
        return "none counted yet" if facts["kind"] == "seed" else "no root count yet"
    old = f"; old: {listed(facts['old'][:3])}, count again" if facts["old"] else ""
    return f"oldest count {plural(facts['oldest_count_days'], 'day')}{old}"


def _doubts(facts: dict[str, Any]) -> str:
    parts = []
    if facts["uncounted"] and facts["oldest_count_days"] is not None:
        what = "seedlings" if facts["kind"] == "seed" else "roots"
        parts.append(f"{what} never counted: {listed(facts['uncounted'][:3])}")
    if facts["not_counted"]:
        parts.append(f"not in it, number never said: {listed(facts['not_counted'][:3])}")
    if facts["unexplained"]:
        parts.append(
            "unexplained: " + listed([f"{abs(count)} in {number}" for number, count in facts["unexplained"][:3]])
        )
    return f"{'; '.join(parts)}.".capitalize() if parts else ""


def forecasts(facts: dict[str, Any]) -> list[str]:
    """Each target in a line, the least sure first."""
    rows = sorted(facts["rows"], key=lambda row: row.get("chance", 0.0))
    lines = [] if rows else ["None that I can tell: each target has at least 9 chances in 10."]
    for row in rows[:_MOST_ROWS]:
        head = f"{row['plant']}, {row['needed']} for {day(row['day'])}:"
        if not row["living"]:
            lines.append(f"{head} nothing on the bench that I know of.")
            continue
        lines.append(f"{head} plan on {row['middle']} ({row['low']} to {row['high']}), enough {in_ten(row['chance'])}.")
    if len(rows) > _MOST_ROWS:
        lines.append(f"… and {len(rows) - _MOST_ROWS} more targets. Ask by plant.")
    return lines


def no_bench(facts: dict[str, Any]) -> list[str]:
    """Nothing on the bench is no forecast: what is not counted, and what can still be done."""
    lines = [f"No open lot of {facts['plant']} that I can reckon with, so no forecast for {far(facts['day'])}."]
    if facts["not_counted"]:
        lines.append(f"Number never said: lot {listed(facts['not_counted'][:3])}. Count it and ask again.")
    if facts["needed"]:
        lines.append(still_possible(facts))
    return lines


def plan(facts: dict[str, Any]) -> list[str]:
    """How many to stick, by when, what it takes, and what it rests on."""
    seed = facts["kind"] == "seed"
    verb = "sow" if seed else "stick"
    lines = []
    if facts["needed"] is not None:
        lines.append(_number(facts, verb))
        bench = facts["bench"]
        if bench:
            lines.append(
                f"Counted in: {bench['living']} alive in {plural(len(bench['lots']), 'lot')}, "
                f"good for {bench['middle']} ({bench['low']} to {bench['high']})."
            )
        lines.append(_split(facts) if facts.get("number") else "")
        if facts.get("number"):
            lines.append(_takes(facts, seed))
    lines.append(_by_when(facts, verb))
    lines.append(rests_on(facts, seed=seed))
    return [line for line in lines if line]


def _number(facts: dict[str, Any], verb: str) -> str:
    want = f"{facts['needed']} {facts['plant']}"
    if "enough" in facts:
        return f"For {want}: nothing more to {verb}, the bench gives enough {in_ten(facts['enough'])}."
    if "out_of_reach" in facts:
        reach = facts["out_of_reach"]
        return f"For {want}: out of reach; even {reach['tried']:,} would be enough only {in_ten(reach['best'])}."
    also = f", {facts['number_8']} (8 in 10)" if facts["number_8"] else ""
    return f"For {want}: {verb} {facts['number']} (9 in 10){also}. {facts['division']} would be a coin toss."


def _split(facts: dict[str, Any]) -> str:
    lots = f"Lots so far {percent(facts['worst'])} to {percent(facts['best'])}. " if facts["lots"] > 1 else ""
    saved = facts["in_four"]
    if saved and saved < facts["number"]:
        return f"{lots}Over 4 dates {saved} would do."
    return lots.rstrip()


def _takes(facts: dict[str, Any], seed: bool) -> str:
    takes = [plural(facts["trays"], "tray"), f"{facts['packs']} six-packs or {facts['needed']} pots later"]
    if not seed:
        takes.append(f"{plural(facts['mothers'], 'mother plant')} or more")
    return f"Takes {listed(takes)}."


def _by_when(facts: dict[str, Any], verb: str) -> str:
    if facts["day"] is None:
        return (
            f"From {verb}ing to sale: {facts['days_even']} days as likely as not, {facts['days_9']} to be 9 in 10 sure."
        )
    line = (
        f"For {day(facts['day'])} {verb} by {day(facts['latest'])} (9 in 10 ready), "
        f"{day(facts['latest_8'])} (8 in 10), {day(facts['latest_even'])} is a coin toss."
    )
    if facts["latest"] < facts["today"]:
        line += f" Started today: {in_ten(facts['on_time_today'])}."
    return line


def what_if(facts: dict[str, Any]) -> list[str]:
    """What sticking only so many would give, and the chance of the target."""
    lines = [
        f"{facts['stuck']} {facts['plant']} stuck give about {facts['middle']} to sell "
        f"({facts['low']} to {facts['high']}, 8 in 10), if in time."
    ]
    if facts["needed"] is not None:
        bench = " with what is on the bench" if facts["bench"] else ""
        lines.append(f"Chance of {facts['needed']}{bench}: {in_ten(facts['chance'])}.")
    if facts["day"] and facts["on_time"] < 0.9:
        lines.append(f"Stuck today they are ready for {day(facts['day'])} {in_ten(facts['on_time'])}.")
    return [*lines, rests_on(facts)]


def when(facts: dict[str, Any]) -> list[str]:
    """When a lot can move on: by its roots, with the day most should have them."""
    lines = []
    for lot in facts["lots"][:3]:
        if lot["hold"]:
            cause = "" if lot["hold"] == "unknown" else f" ({lot['hold'].replace('_', ' ')})"
            lines.append(f"{lot['number']} is on hold{cause}: nothing of it goes before that is cleared.")
        lines.append(f"{lot['number']} {lot['plant']}: day {lot['days']}, {_state(lot)}.")
        if lot.get("most_on"):
            basis = f"from {plural(lot['time_lots'], 'lot')} here" if lot["time_lots"] else "published weeks"
            lines.append(f"Roots usually from {day(lot['first_on'])}, most by {day(lot['most_on'])} ({basis}).")
    for due in facts["dues"]:
        lines.append(f"{day(due['on'])}: {short_name_of(due)}.")
    return lines or ["I have no open lot there."]


def _state(lot: dict[str, Any]) -> str:
    if lot["stage"] in ("potted", "hardening", "closed"):
        return f"{lot['stage']} already"
    if lot["kind"] == "seed":
        return "prick out at two true leaves; count what is up"
    if lot["roots_out"]:
        return "roots show: pot now"
    if lot["rooted"] is None:
        sample = lot["sample"]
        seen = f"only a sample ({sample[0]} of {sample[1]} rooted)" if sample else "no root count yet"
        return f"{seen}: evidence moves it on, so tug a dozen first"
    counted = f", {count_age(lot['count_days'])}" if lot["count_days"] is not None else ""
    if lot["living"] and lot["rooted"] / lot["living"] >= 0.7:
        return f"{lot['rooted']} of {lot['living']} rooted{counted}: pot those now"
    of = f" of {lot['living']}" if lot["living"] else ""
    return f"{lot['rooted']}{of} rooted{counted}; pot when about 7 in 10 have, or roots show"


def next_list(facts: dict[str, Any]) -> list[str]:
    """What to have on the table next time, most first."""
    rows = facts["rows"]
    if not rows:
        return ['No sale was noted yet, so no list. Text what sells, like "sold 12 toyon", and when it sold out.']
    lines = [f"For {facts['year']}, from what sold:"]
    for row in rows[:4]:
        gone = " (sold out: demand at least that)" if row["sold_out"] else ""
        vain = f", {row['in_vain']} asked for in vain" if row["in_vain"] else ""
        lines.append(
            f"{row['plant']}: have about {row['grow']} ready; sold {row['sold']}{gone}{vain}, "
            f"demand {row['low']} to {row['high']}, {plural(row['years'], 'sale')}."
        )
    more = f" {len(rows) - 4} more plants; ask by name." if len(rows) > 4 else ""
    never = f" Wanted, never sold: {listed(facts['never_sold'][:3])}." if facts["never_sold"] else ""
    return [*lines, f"One sale is one weather: a wide guess.{more}{never}"]
