"""How sums of the bench are told: seed, mix, room, dips, shifts."""

from __future__ import annotations

from typing import Any

from bot.wording.figures_plain import day, span
from bot.wording.plain import listed, percent, plural
from core.figures.measures import to_fahrenheit

_WARNED = {
    "hybrid": "Seed of a hybrid does not come true: name the seedlings a garden hybrid.",
    "cultivar": "Seed of a cultivar does not come true: never name the seedlings by it.",
}


def seed(facts: dict[str, Any]) -> list[str]:
    """Seeds (and grams) to sow, beside plain division, and what the germination rests on."""
    grams = facts["grams"]
    pure = f" at {facts['purity'] * 100:g} % purity" if facts["purity"] else ""
    weight = f", about {' to '.join(_grams(one) for one in dict.fromkeys(grams))}{pure}" if grams else ""
    lines = [
        f"{facts['wanted']} {facts['plant']}: sow {facts['seeds']} seeds{weight} (9 in 10). {facts['division']} would be a coin toss.",
        _germination(facts),
        f"{percent(facts['survival'])} of the seedlings are taken to live on "
        f"({'as you said' if facts['survival_said'] else 'common practice'}). Field beds come up worse.",
    ]
    if not grams:
        lines.append("How many seeds to a gram nobody told me: count a pinch and weigh it.")
    if facts["untrue"]:
        lines.append(_WARNED[facts["untrue"]])
    return lines


def _grams(grams: float) -> str:
    return f"{grams:.2g} g" if grams < 10 else f"{grams:.0f} g"


def _germination(facts: dict[str, Any]) -> str:
    share = percent(facts["germination"])
    match facts["basis"]:
        case "said" if facts["tried"]:
            ends = f": the truth may be {span(*facts['range'])}" if facts["range"] else ""
            small = ", a small test" if facts["tried"] < 100 else ""
            return f"From your test, {facts['hits']} of {facts['tried']} up{small}{ends}."
        case "said":
            return f"With {share} coming up, as you said."
        case "own":
            ends = f" ({span(*facts['range'])})" if facts["range"] else ""
            return f"Your own lots: {facts['hits']} of {facts['tried']} came up{ends}."
        case "published":
            return f"With {share} coming up: {facts['source'].split(', http')[0][:90]}. A test of 50 of your own is better."
        case _:
            return "What share comes up is not known: half is assumed. Test 50 seeds first."


def cells(facts: dict[str, Any]) -> list[str]:
    """Seeds to a cell, cells filled, cells to thin."""
    of = f"{facts['plant']}: " if facts["plant"] else ""
    if facts["seeds"] is None:
        return [
            f"{of}sow a flat and prick out: even {facts['most']} to a cell fill only {percent(facts['filled'])}.",
            _germination(facts),
        ]
    return [
        f"{of}{plural(facts['seeds'], 'seed')} to a cell fill {percent(facts['filled'])}.",
        f"Of {facts['cells']} cells about {facts['expected']} filled, {facts['thin']} to thin.",
        _germination(facts),
    ]


def medium(facts: dict[str, Any]) -> list[str]:
    """The mix, its range, and bags."""
    what = listed([_filled(count, kind, size) for count, kind, size, _ in facts["what"]])
    trays = f" They fill {plural(facts['trays'], 'tray')}." if facts["trays"] else ""
    return [
        f"{what}: about {facts['cubic_feet']:.1f} cu ft ({facts['litres']:.0f} l) of {facts['medium']}, "
        f"{plural(facts['bags'], 'bag')} of {facts['bag_cubic_feet']:g} cu ft.{trays}",
        f"Could be {facts['least_litres']:.0f} to {facts['most_litres']:.0f} l: brand and fluffing; {percent(facts['settling'])} for settling is in it.",
        "Fill 10 pots from one bag and note it: yours is the better figure.",
    ]


def _filled(count: int, kind: str, size: str) -> str:
    if kind in ("cell", "plug"):
        return f"{plural(count, kind)} ({size} to the tray)"
    return f"{count} {size + ' ' if size else ''}{kind}{'s' if count != 1 else ''}"


def bench(facts: dict[str, Any]) -> list[str]:
    """Trays by packing, not by area."""
    lines = [
        f"{plural(facts['fits'], 'tray')} of {facts['tray'][0]:g} x {facts['tray'][1]:g} in fit on "
        f"{facts['width'] / 12:g} x {facts['length'] / 12:g} ft, laid out; area alone would say {facts['by_area']}."
    ]
    if facts["more"] is not None:
        stand = f"{len(facts['standing'])} stand there by the notes" if facts["standing"] else "none is noted there"
        lines.insert(0, f"{facts['bench'].capitalize()} takes {facts['more']} more: {stand}, {facts['fits']} fit.")
        lines.append("Only as good as the notes of moves: text them, or count.")
    if facts["pots"]:
        lines.append(f"That is {facts['fits'] * facts['pots']} four-inch pots, pot to pot.")
    if facts["asked"] and facts["asked"] > (facts["more"] if facts["more"] is not None else facts["fits"]):
        lines.append(f"{facts['asked']} need {-(-facts['asked'] // max(facts['fits'], 1))} such benches.")
    return lines


def bench_length(facts: dict[str, Any]) -> list[str]:
    """Bench for so many trays, or for so many pots in trays."""
    pots = listed([_filled(count, kind, size) for count, kind, size in facts["of"]])
    lead = f"{pots} fill {plural(facts['trays'], 'tray')}, and they" if pots else plural(facts["trays"], "tray")
    width, length = facts["bench"]
    return [
        f"{lead} take {facts['length'] / 12:.1f} ft of a bench {facts['width'] / 12:g} ft wide: "
        f"{plural(facts['benches'], 'bench').replace('benchs', 'benches')} of {width:g} x {length:g} ft."
    ]


def to_a_tray(facts: dict[str, Any]) -> list[str]:
    """How many of a container go on one tray."""
    name = f"{facts['size'] + ' ' if facts['size'] else ''}{facts['kind']}s"
    return [f"{facts['a_tray']} {name} to a standard tray (common practice; makers differ a little)."]


def work(facts: dict[str, Any]) -> list[str]:
    """How long a piece of work takes."""
    hours = facts["minutes"] / 60
    return [
        f"Potting {facts['count']} takes about {hours:.1f} h of one pair of hands, half that for two.",
        f"At about {facts['count'] / hours:.0f} an hour (common practice): a new helper halves it. Time yourselves once; yours is better.",
    ]


def dip(facts: dict[str, Any]) -> list[str]:
    """Concentrate and water for a dip."""
    thinner = f" and {facts['thinner']} of water (or what its label says)" if facts["thinner"] else ""
    lines = [
        f"{facts['stock']} of the {facts['stock_ppm']:,.0f} ppm stock{thinner} make {facts['finished']} at {facts['wanted_ppm']:,.0f} ppm."
    ]
    if facts["methods"]:
        low, high = facts["seconds"]
        how = f"{low} to {high} s" if high < 600 else f"{low / 3600:.0f} h"
        lines.append(f"At that strength: {facts['methods'][0]}, {how}.")
    if "too_small_to_measure" in facts["warnings"]:
        lines.append("So little is hard to measure: use a syringe, or mix more.")
    return lines


def weighed(facts: dict[str, Any]) -> list[str]:
    """Grams of a salt for a dip."""
    counted = f" (counted as {facts['counted_as']})" if facts["counted_as"] != facts["compound"] else ""
    return [
        f"{facts['grams']:.3g} g of {facts['compound']} in {facts['finished']} are {facts['ppm']:,.0f} ppm{counted}, {facts['millimolar']:.2g} mM.",
        "Weigh on a scale that shows hundredths; the product's label says what it dissolves in.",
    ]


def talc(facts: dict[str, Any]) -> list[str]:
    """Talc for so many cuttings."""
    return [
        f"{facts['cuttings']} cuttings take about {facts['grams']:.1g} g of powder: tip that out, never dip into the jar."
    ]


def strength(facts: dict[str, Any]) -> list[str]:
    """A strength both ways."""
    molar = f", {facts['millimolar']:.3g} mM of {facts['compound']}" if facts.get("millimolar") else ""
    return [f"{facts['percent']:g} % is {facts['ppm']:,.0f} ppm{molar} (1 % is 10,000 ppm)."]


def powder(facts: dict[str, Any]) -> list[str]:
    """Grams of chlorine powder for a volume."""
    return [
        f"{facts['grams']:.3g} g of {facts['powder']:g} % powder in {facts['finished']} give {facts['percent']:g} % "
        f"available chlorine ({facts['per_litre']:.3g} g to the litre).",
        "Available chlorine by weight is the powder's figure; a bleach jug counts sodium hypochlorite.",
    ]


def alcohol(facts: dict[str, Any]) -> list[str]:
    """Alcohol and water for a strength by volume."""
    stock, water = facts["stock"], facts["water"]
    thinner = f", water to the mark of {facts['finished']} (about {water[0]}, {water[1]})" if water else ""
    lines = [f"{stock[0]} ({stock[1]}) of the {facts['product']:g} % alcohol{thinner} make {facts['wanted']:g} %."]
    if "weaker_than_usual" in facts["warnings"] or "stronger_than_usual" in facts["warnings"]:
        lines.append("To disinfect it wants 70 to 90 %: outside that it does not.")
    return lines


def shift(facts: dict[str, Any]) -> list[str]:
    """Minutes due against minutes there."""
    if not facts["jobs"]:
        return [f"Nothing is due {day(facts['day'])} that I know of."]
    due = f"{facts['due'] / 60:.1f} h of work due {day(facts['day'])} ({plural(facts['jobs'], 'job')})"
    if not facts["people"]:
        return [f"{due}; nobody is on the roster for it, which is no proof that nobody comes."]
    lines = [f"{due}, {facts['there'] / 60:.1f} h of hands ({listed(facts['people'])}): {percent(facts['share'])}."]
    if facts["waits"]:
        lines.append(f"Let wait: {listed(facts['waits'][:4])}.")
    if facts["stays"]:
        lines.append(f"Not to be put off: {listed(facts['stays'][:4])}.")
    if facts["short_by"]:
        lines.append(f"Still {facts['short_by']:.0f} min too much: ask for hands.")
    return [*lines, "Minutes are common practice; yours are better."]


def air(facts: dict[str, Any]) -> str:
    """What a reading of temperature and humidity means, beside its receipt."""
    verdict = {
        "too_wet": "too still and wet: crack a vent",
        "fits": "right",
        "too_dry": "too dry: mist, close up or shade",
    }[facts["verdict"]]
    stage = {"unrooted": "unrooted cuttings", "rooted": "rooted cuttings under cover", "open": "plants in the open"}[
        facts["stage"]
    ]
    sure = "" if facts["sure"] else " A hygrometer is off by a few percent, so not sure."
    return (
        f"Air {facts['deficit']:.2f} kPa short of full (dew point {facts['dew_c']:.0f} C, {to_fahrenheit(facts['dew_c']):.0f} F): "
        f"{verdict} for {stage}.{sure}"
    )


def air_asked(facts: dict[str, Any]) -> list[str]:
    """The deficit of the air asked about, its range by the hygrometer's error, and what it means."""
    humidity = f"{facts['humidity'] * 100:.0f} %"
    said = f"{facts['celsius']:.0f} C ({to_fahrenheit(facts['celsius']):.0f} F) and {humidity}"
    noted = f", noted last {day(facts['noted_on'])}" if facts["noted_on"] else ""
    return [
        f"Air of {said}{noted}:",
        air(facts),
        f"A few percent of humidity either way: {max(facts['least'], 0):.2f} to {facts['most']:.2f} kPa.",
    ]
