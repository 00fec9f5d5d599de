"""How rates, times, comparisons, trials, outlooks, mothers and the season are told."""

from __future__ import annotations

from typing import Any

from bot.wording.figures_plain import day, in_ten, points, share, span
from bot.wording.plain import listed, percent, plural

_DIFFERS = {"mother": "mothers", "by": "people", "date": "dates", "kind": "kinds", "place": "places"}


def rate(facts: dict[str, Any]) -> list[str]:
    """A plant's rate with its range, its lots, the prior, and what was left out."""
    seed = facts["kind"] == "seed"
    verb = "comes up" if seed else "roots"
    way = f", {facts['way']}" if facts["way"] else ""
    lines = [
        f"{facts['plant']}{way}: about {percent(facts['mean'])} {verb} ({span(facts['low'], facts['high'])}, 8 in 10).",
        f"One more lot: {span(facts['lot_low'], facts['lot_high'])}, for lots differ.",
    ]
    unit = "seeds" if seed else "cuttings"
    if facts["lots"]:
        spread = f", lots from {percent(facts['worst'])} to {percent(facts['best'])}" if facts["lots"] > 1 else ""
        days = facts["newest_count_days"]
        age = f"; last counted {plural(days, 'day')} ago" if days else ""
        lines.append(
            f"Counted: {facts['hits']} of {facts['tried']} {unit} in {plural(facts['lots'], 'finished lot')}{spread}{age}."
        )
    else:
        lines.append("No finished lot of it here: a guess. No record is not zero.")
    if facts["by"]:
        lines.append(
            "Of these: " + "; ".join(f"{row['name']} {share(row['hits'], row['tried'])}" for row in facts["by"]) + "."
        )
    lines.append(_prior(facts, unit))
    lines.append(_left_out(facts))
    return lines


def _prior(facts: dict[str, Any], unit: str) -> str:
    worth = f"counts as {facts['prior_worth']} {unit}"
    if facts["published"]:
        low, high = facts["published"]
        source = f"; {_short(facts['source'])}" if facts["source"] else ""
        return f"Drawn towards the usual {span(low, high)} ({worth}{source})."
    if facts["basis"] == "other plants":
        return f"Drawn towards your other plants, about {percent(facts['prior'])} ({worth})."
    return f"Drawn towards {percent(facts['prior'])}, for nothing is known ({worth})."


def _short(source: str) -> str:
    plain = source.split(", http")[0]
    return plain if len(plain) <= 90 else plain[:88] + "…"


def _left_out(facts: dict[str, Any]) -> str:
    parts = []
    if facts["too_early"]:
        so_far = {number: f" ({rooted}/{of} on day {when})" for number, rooted, of, when in facts.get("so_far", [])}
        parts.append(f"too early to say: {listed([one + so_far.get(one, '') for one in facts['too_early'][:3]])}")
    if facts["uncounted"]:
        parts.append(f"never counted: {listed(facts['uncounted'][:4])}")
    return f"Left out, {'; '.join(parts)}." if parts else ""


def way_rate(facts: dict[str, Any]) -> list[str]:
    """A method's rate over all plants, with the plants it rests on."""
    if not facts["lots"]:
        return [f"No finished lot of {facts['way']} was counted. No record is not zero.", _left_out(facts)]
    return [
        f"{facts['way']}: about {percent(facts['mean'])} rooted ({span(facts['low'], facts['high'])}, 8 in 10).",
        f"Counted: {facts['hits']} of {facts['tried']} cuttings in {plural(facts['lots'], 'finished lot')}.",
        "By plant: "
        + "; ".join(f"{row['name']} {share(row['hits'], row['tried'])}" for row in facts["plants"][:4])
        + ".",
        "Plants differ more than methods: ask for one plant to judge the method." if len(facts["plants"]) > 1 else "",
        _left_out(facts),
    ]


def time(facts: dict[str, Any]) -> list[str]:
    """Weeks to root: first, half, most; and what they rest on."""
    verb = "up" if facts["kind"] == "seed" else "rooted"
    low, high = facts["weeks"]
    looked = (
        f"{plural(facts['looks'], 'look')} at {plural(facts['lots'], 'lot')} here, with"
        if facts["lots"]
        else "No look here yet: only"
    )
    return [
        f"{facts['plant']}: half {verb} by about day {facts['half']:.0f} ({facts['half'] / 7:.0f} weeks), of those that do.",
        f"First ones from day {facts['first']:.0f}; 9 in 10 by day {facts['most']:.0f}. First look: day {facts['first']:.0f}.",
        f"Rests on {looked[0].lower() + looked[1:]} the published {low:.0f} to {high:.0f} weeks.",
    ]


def compare(facts: dict[str, Any]) -> list[str]:
    """Both counts, the difference with its range, how sure, what stands in the way, and what would settle it."""
    one, two = facts["first"], facts["second"]
    head = f"{one['name']} {share(one['hits'], one['tried'])}, {two['name']} {share(two['hits'], two['tried'])}"
    of = f" of {facts['plant']}" if facts["plant"] else ""
    if facts["verdict"] == "nothing counted":
        lacking = listed([side["name"] for side in (one, two) if not side["tried"]])
        early = f" Too early or uncounted: {listed(facts['too_early'][:4])}." if facts["too_early"] else ""
        return [f"Can't say{of}: no finished lot of {lacking} was counted. No record is not zero.{early}"]
    first_ahead = facts["difference"] >= 0
    better = one["name"] if first_ahead else two["name"]
    low, high = (facts["low"], facts["high"]) if first_ahead else (-facts["high"], -facts["low"])
    chance = facts["chance"] if first_ahead else 1 - facts["chance"]
    wholly = [_DIFFERS.get(row["what"], row["what"]) for row in facts["differences"] if row["wholly"]]
    verdict = {
        "confounded": f"No verdict: they also differ in {listed(wholly)}.",
        "clear": f"{better} is better.",
        "leaning": f"{better} looks better, not proven.",
        "unclear": "No difference that can be told from luck.",
    }[facts["verdict"]]
    lines = [f"{verdict} {head}{of}."]
    lines.append(
        f"Difference {abs(facts['difference']) * 100:.0f} points, could be {points(low, high)}; "
        f"{better} better {in_ten(chance)} (Fisher p {_p(facts['fisher'])})."
    )
    if facts["by_tray"]:
        lines.append(
            f"Whole lots were compared ({one['lots']} and {two['lots']}), and trays have their own luck: "
            f"the cuttings are worth about {facts['worth'][0]} and {facts['worth'][1]}."
        )
    if facts["needed"] and facts["verdict"] != "clear":
        whole = f"about {max(facts['more'])} more of each in whole trays, or " if facts["by_tray"] else ""
        lines.append(f"To settle it: {whole}{facts['needed_half']} of each with every tray half and half.")
    if facts["provisional"]:
        lines.append("Counted before rooting was over: later counts may turn it.")
    elif facts["too_early"]:
        lines.append(f"Left out, too early or uncounted: {listed(facts['too_early'][:4])}.")
    return lines


def _p(chance: float) -> str:
    return "under 0.01" if chance < 0.01 else f"{chance:.2f}"


def trial(facts: dict[str, Any]) -> list[str]:
    """How the trial was dealt: tray by tray, from the labelled end, and the seed."""
    of = f" of {facts['plant']}" if facts["plant"] else ""
    lines = [f"Trial{of}, dealt at random (seed {facts['seed']}); each tray holds both, from its labelled end:"]
    for tray in range(1, min(facts["trays"], 4) + 1):
        beds = [bed for bed in facts["beds"] if bed["tray"] == tray]
        lines.append(f"Tray {tray}: " + ", then ".join(f"{bed['cuttings']} {bed['arm']}" for bed in beds) + ".")
    if facts["trays"] > 4:
        lines[-1] += f" … {facts['trays']} trays in all."
    return [*lines, "Same day, same mothers, same hands for both; text each as its own lot and count them apart."]


def outlook(facts: dict[str, Any]) -> list[str]:
    """The outlook of some lots, the worst first."""
    if not facts["rows"]:
        return ["No lot there that I can reckon with: nobody said how many were stuck."]
    rows = facts["rows"] if len(facts["rows"]) <= 3 else facts["rows"][:3]
    lines = []
    for row in rows:
        lines.append(f"{row['number']} {row['plant']}: {_look(row['roots'], row['kind'])}")
        losses = row["losses"]
        if losses["level"] in ("red", "amber") or len(rows) == 1:
            lines.append(_losses(losses))
    return lines


def _look(seen: dict[str, Any] | None, kind: str) -> str:
    word = "up" if kind == "seed" else "rooted"
    if seen is None:
        return f"nobody looked for {'seedlings' if kind == 'seed' else 'roots'} yet; no record is not zero."
    usual = f"{seen['seen']} of {seen['of']} {word} on day {seen['day']}, usually about {seen['expected']:.0f}"
    final = f" Likely ends at {span(*seen['final'])}." if seen["final"] else ""
    return {
        "red": f"failing, it seems: {usual} (so few by chance {in_ten(seen['tail'])}).{final}",
        "amber": f"slow: {usual} (so few {in_ten(seen['tail'])}).{final}",
        "fine": f"as it should be: {usual}.{final}",
        "no news": f"too early to tell: {usual}, even none would not be rare.",
    }[seen["level"]]


def _losses(seen: dict[str, Any]) -> str:
    usual = f"{seen['seen']} lost of {seen['of']} by day {seen['day']}, usually about {seen['expected']:.0f}"
    how = {"red": "far too many", "amber": "many", "fine": "as usual", "no news": "as usual"}[seen["level"]]
    return f"Losses {how}: {usual}."


def warning(kind: str, facts: dict[str, Any]) -> str:
    """A red warning beside a receipt: what was seen, what is usual, where it ends, what can still be done."""
    restick = ""
    if facts["restick_by"]:
        restick = (
            f" Last day to restick for {day(facts['due'])} was {day(facts['restick_by'])}: buy in or drop?"
            if facts["late"]
            else f" Restick by {day(facts['restick_by'])} for {day(facts['due'])}."
        )
    if kind == "failing_losses":
        return (
            f"Look at lot {facts['number']}: {facts['seen']} of {facts['of']} lost by day {facts['day']}, "
            f"usually about {facts['expected']:.0f}.{restick}"
        )
    word = "up" if facts["kind"] == "seed" else "rooted"
    final = f" Likely ends at {span(*facts['final'])}." if facts["final"] else ""
    return (
        f"Lot {facts['number']} looks to be failing: {facts['seen']} of {facts['of']} {word} on day {facts['day']}, "
        f"usually about {facts['expected']:.0f}.{final}{restick}"
    )


def mothers(facts: dict[str, Any]) -> list[str]:
    """Mothers, as if they had given alike; the largest; and how narrow that is."""
    if not facts["clones"]:
        return [
            f"No mother is noted for {facts['asked']} ({plural(facts['unknown'], 'plant')}). No record is not one mother."
        ]
    lines = [
        f"{facts['asked']}: {plural(facts['clones'], 'mother')}, worth {facts['effective']:.1f} if they had given alike; "
        f"the largest is {facts['largest']} with {percent(facts['largest_share'])}."
    ]
    if facts["narrow"]:
        lines.append(f"That is narrow (under {facts['few']}): take from more mothers next time.")
    lines.append(f"Chance that they hold a trait that 1 in 20 genes carries: {percent(facts['captured'])}.")
    if facts["unknown"]:
        lines.append(
            f"{plural(facts['unknown'], 'plant')} of no noted mother {'is' if facts['unknown'] == 1 else 'are'} not in it."
        )
    if facts["cultivar"]:
        lines.append("Cuttings of one cultivar are one clone, however many mothers.")
    return lines


def season(facts: dict[str, Any]) -> list[str]:
    """The year in six lines."""
    if not facts["lots"]:
        return [f"No lot was opened in {facts['year']} that I know of."]
    lines = [
        f"{facts['year']}: {facts['started']:,} started in {plural(facts['lots'], 'lot')} of {plural(facts['plants'], 'plant')}; "
        f"{facts['rooted']:,} of {facts['rooted_of']:,} counted rooted or up, {facts['sold']:,} sold, {facts['given']:,} given, "
        f"{facts['planted_out']:,} planted out, {facts['left']:,} left."
    ]
    if facts["lost"]:
        causes = listed([f"{count} {cause.replace('_', ' ')}" for cause, count in facts["causes"][:4]])
        lines.append(f"Lost {facts['lost']:,}: {causes}.")
    ranked = sorted((row for row in facts["rows"] if row["enough"]), key=lambda row: -row["rooted"] / row["of"])
    if ranked:
        lines.append(f"Best: {_ranked(ranked[0])}." + (f" Worst: {_ranked(ranked[-1])}." if len(ranked) > 1 else ""))
    ways = sorted((row for row in facts["ways"] if row["enough"]), key=lambda row: -row["rooted"] / row["of"])
    if len(ways) > 1:
        lines.append(f"By way: {'; '.join(_ranked(row) for row in ways[:3])}. Plants and dates differ, so no verdict.")
    open_ends = []
    if facts["uncounted"]:
        open_ends.append(f"{plural(len(facts['uncounted']), 'lot')} never counted")
    if facts["not_counted"]:
        open_ends.append(f"{plural(len(facts['not_counted']), 'lot')} with no number")
    if facts["unexplained"]:
        open_ends.append(f"{abs(facts['unexplained'])} plants unexplained")
    if open_ends:
        lines.append(f"Not known: {listed(open_ends)}.")
    return lines


def season_of_plant(facts: dict[str, Any]) -> list[str]:
    """What became of a plant's lots of the year, without what is nought."""
    plant, year = facts["plant"], facts["year"]
    if not facts["lots"]:
        return [f"No {plant} lot was opened in {year} that I know of."]
    came = f"{facts['rooted']:,} of {facts['rooted_of']:,} counted rooted or up" if facts["rooted_of"] else ""
    named = (("potted", "potted"), ("sold", "sold"), ("given", "given"), ("planted_out", "planted out"), ("lost", "lost"))
    parts = [came, *(f"{facts[key]:,} {word}" for key, word in named if facts[key]), f"{facts['left']:,} left"]
    started = f"{facts['started']:,} started in {plural(facts['lots'], 'lot')}"
    lines = [f"{plant}, {year}: {started}; {', '.join(filter(None, parts))}."]
    known = [f"{count} {cause.replace('_', ' ')}" for cause, count in facts["causes"] if cause != "unknown"]
    if known:
        lines.append(f"Lost: {listed(known[:4])}.")
    unsure = len(facts["uncounted"]) + len(facts["not_counted"])
    return [*lines, f"{plural(unsure, 'lot')} never counted."] if unsure else lines


def _ranked(row: dict[str, Any]) -> str:
    return f"{row['name']} {share(row['rooted'], row['of'])}, likely {span(row['low'], row['high'])}"
