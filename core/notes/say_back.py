"""How an entry is said in plain telegraphic words that the reader reads back to the same entry.

Rules
1. The subject comes first ("lot 26-001, tray 2: …"), then the act with its count, then details with commas between.
2. Each value is said in the word that the vocabulary reads as that value; what stands in `rest` is not said.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from typing import Final

from core.entries import WEEKDAYS, Act, Amount, Container, Entry, Hormone
from core.lengths import Length

_CONTAINERS: Final = {"box": "boxes", "potting mix": "potting mix"}
_VENTS: Final = {0.0: "shut", 0.1: "a crack", 0.25: "a quarter", 0.5: "half", 0.75: "three quarters", 1.0: "wide open"}
_TREATMENTS: Final = {
    "hot_water": "hot water", "soak": "soaked", "scarify": "scarified", "acid": "acid", "smoke": "smoked",
    "cold_stratify": "cold strat", "warm_stratify": "warm strat", "rinse": "rinsed", "hormone": "dipped",
    "wound": "wounded", "heat": "heat treated",
}  # fmt: skip
_WATERED: Final = {
    "mist": "misted", "tray": "bottom watered", "overhead": "overhead watered", "soak": "drenched", None: "watered",
}  # fmt: skip
_CAUSES: Final = {
    "rot": "to rot", "damping_off": "to damping off", "mold": "to mold", "dried": "dried out", "pest": "to pests",
    "animal": "to animals", "heat": "to heat", "cold": "to frost", "wilt": "to wilt", "handling": "to handling",
    "unknown": "cause unknown",
}  # fmt: skip
_CARES: Final = {
    "pinch": "pinched", "prune": "pruned", "feed": "fed", "weed": "weeded", "disbud": "disbudded", "thin": "thinned",
    "pest_control": "treated for pests", "label": "labelled",
}  # fmt: skip
_STATES: Final = {"roots_out": "roots showing", "ready": "ready", "germinated": "germinated"}


def say_back(entry: Entry) -> str:
    """The words for an entry, without a full stop; `read` makes the same entry of them."""
    act = _SAY.get(entry.act, _plain_act)
    words = act(entry)
    subject = _subject(entry)
    told = f"{subject}: {words}" if subject else words
    details = [told, _when(entry)]
    if entry.by:
        details.append(f"by {entry.by}")
    return ", ".join(part for part in details if part)


def _subject(entry: Entry) -> str:
    parts = []
    if entry.act not in (Act.MERGE, Act.AMEND, Act.ASK, Act.NOTE, Act.RULE):
        parts.append(_numbers("lot", entry.lots))
        if entry.act not in _OPENING:
            parts.append(_numbers("tray", entry.trays))
    return ", ".join(part for part in parts if part)


_OPENING: Final = frozenset({Act.STICK, Act.SOW, Act.DIVIDE})


def _numbers(word: str, numbers: tuple[str, ...]) -> str:
    if not numbers:
        return ""
    if numbers == ("all",):
        return f"all {word}s"
    if len(numbers) == 1:
        return f"{word} {numbers[0]}"
    return f"{word}s {', '.join(numbers[:-1])} and {numbers[-1]}"


def _when(entry: Entry) -> str:
    return "" if entry.on is None else f"on {moment_text(entry.on)}"


def moment_text(moment: date | datetime) -> str:
    """A local date, or date and time, as the reader takes it: "10 mar 2026 15:00"."""
    day = f"{moment.day} {moment:%b} {moment.year}".lower()
    return f"{day} at {moment:%H:%M}" if isinstance(moment, datetime) else day


def _count(entry: Entry) -> str:
    if entry.count is None:
        return "all" if entry.all_of else ""
    if entry.all_of:
        return f"all {entry.count}"
    number = f"{entry.count}-{entry.count_max}" if entry.count_max is not None else str(entry.count)
    return f"{'about ' if entry.approx else ''}{'another ' if entry.more else ''}{number}"


def _join(*parts: str | None) -> str:
    return " ".join(part for part in parts if part)


def _commas(*parts: str | None) -> str:
    return ", ".join(part for part in parts if part)


def amount_text(amount: Amount) -> str:
    """A quantity as texted: "2 gal"."""
    plural = amount.unit in ("packet", "handful", "bag", "cup") and amount.value != 1
    return f"{amount.value:g} {amount.unit}{'s' if plural else ''}"


def length_words(length: Length, most: Length | None = None) -> str:
    """A length as texted: "20 min", "90 days", "8-10 weeks" in days."""
    parts = []
    if length.months:
        parts.append(f"{length.months} months")
    if length.days:
        upper = f"-{most.days}" if most and most.days else ""
        parts.append(f"{length.days}{upper} days")
    if length.seconds:
        unit, size = _clock_unit(length, most)
        upper = f"-{most.seconds // size}" if most and most.seconds else ""
        parts.append(f"{length.seconds // size}{upper} {unit}")
    return " ".join(parts)


def _clock_unit(length: Length, most: Length | None) -> tuple[str, int]:
    for unit, size in (("hours", 3600), ("min", 60)):
        if length.seconds % size == 0 and (most is None or most.seconds % size == 0):
            return (unit.removesuffix("s") if length.seconds == size and most is None else unit), size
    return "sec", 1


def hormone_words(hormone: Hormone) -> str:
    """A hormone as texted: "3000 ppm iba powder", "no hormone"."""
    if hormone.form == "none":
        return "no hormone"
    strength = f"{hormone.ppm:g} ppm" if hormone.ppm is not None else ""
    seconds = f"{hormone.seconds} sec dip" if hormone.seconds is not None else ""
    name = hormone.name or ("hormone" if not strength or hormone.form else "")
    return _join(strength, name, hormone.form, seconds)


def _container(container: Container | None) -> str:
    if container is None:
        return ""
    kind = container.kind
    many = container.count is None or container.count != 1
    plural = _CONTAINERS.get(kind, f"{kind}es" if kind.endswith("x") else f"{kind}s") if many else kind
    return _join(str(container.count) if container.count is not None else "", container.size, plural)


def _from(entry: Entry) -> str:
    if entry.sources:
        return ", ".join(
            _join(str(share.count) if share.count is not None else "", f"from {share.source}")
            for share in entry.sources
        )
    return f"from {entry.source}" if entry.source else ""


def _opening(verb: str) -> Callable[[Entry], str]:
    def say(entry: Entry) -> str:
        cutting = entry.cutting if isinstance(entry.cutting, str) else ""
        form = f"{cutting} cuttings" if cutting else "seeds" if entry.act is Act.SOW and entry.count else ""
        amount = amount_text(entry.amount) if entry.amount else _count(entry)
        return _commas(
            _join(verb, amount, entry.plant, form),
            entry.wood,
            hormone_words(entry.hormone) if entry.hormone else "",
            entry.medium,
            _container(entry.container),
            _numbers("tray", entry.trays),
            _from(entry),
        )

    return say


def _collect(entry: Entry) -> str:
    amount = amount_text(entry.amount) if entry.amount else _count(entry)
    verb = "bagged seed heads of" if entry.bagged else "collected"
    return _join(verb, amount, entry.plant, "" if entry.bagged else entry.what, _from(entry))


def _reserve(entry: Entry) -> str:
    verb = "unreserved" if entry.ends else "reserved"
    return _join(verb, _count(entry), entry.plant, f"for {entry.to}" if entry.to else "")


def _treat(entry: Entry) -> str:
    word = _TREATMENTS.get(entry.treatment or "", entry.treatment or "treated")
    count = str(entry.count) if entry.count is not None else ""
    if entry.ends:
        ended = {"cold_stratify": "out of the fridge", "soak": "soak ended"}
        return _join(count, entry.plant, ended.get(entry.treatment or "", f"{word} ended"))
    temp = f"{entry.temp_c:g}c" if entry.temp_c is not None else ""
    length = length_words(entry.duration, entry.duration_max) if entry.duration else ""
    return _join(count, entry.plant, word, hormone_words(entry.hormone) if entry.hormone else "", temp, length)


def _check(entry: Entry) -> str:
    state = _STATES.get(entry.state or "", entry.state or "")
    of = f" of {entry.of}" if entry.of is not None else ""
    if entry.state is None and entry.count is None:
        return _join("checked", entry.plant)
    if entry.sample:
        looked = f"tugged {entry.of}, " if entry.of is not None else "sampled some, "
        return _join(entry.plant, f"{looked}{_count(entry)} {state}".strip())
    if entry.share is not None:
        share = "all" if entry.share == 1 else f"{entry.share * 100:g}%"
        return _join("about" if entry.approx else "", share, entry.plant, state)
    if entry.count is None:
        return _join(entry.plant, state)
    if entry.of is not None and not entry.approx and not entry.more:
        return _join(f"{entry.count}/{entry.of}", entry.plant, state)
    return _join(f"{_count(entry)}{of}", entry.plant, state)


def _lose(entry: Entry) -> str:
    cause = _CAUSES.get(entry.cause or "", "")
    if entry.left is not None:
        return _join("lost all but", str(entry.left), entry.plant, cause)
    share = f"{entry.share * 100:g}%" if entry.share is not None else ""
    return _join("lost", share or _count(entry), entry.plant, cause)


def _leaving(verb: str) -> Callable[[Entry], str]:
    def say(entry: Entry) -> str:
        return _join(verb, _count(entry), entry.plant, f"to {entry.to}" if entry.to else "")

    return say


def _pot(entry: Entry) -> str:
    into = _join(_container(entry.container))
    return _commas(_join("potted", _count(entry), entry.plant, f"into {into}" if into else ""), entry.medium)


def _move(entry: Entry) -> str:
    length = f"for {length_words(entry.duration, entry.duration_max)}" if entry.duration else ""
    return _join("moved", _count(entry), entry.plant, f"to {entry.to}" if entry.to else "", length)


def _harden(entry: Entry) -> str:
    length = f"for {length_words(entry.duration, entry.duration_max)}" if entry.duration else ""
    return _join(entry.plant, "hardening off", f"at {entry.to}" if entry.to else "", length)


def _air(entry: Entry) -> str:
    times = f"{entry.times}x" if entry.times else ""
    length = length_words(entry.duration, entry.duration_max) if entry.duration else ""
    return _join(entry.plant, "aired", times, length)


def _vent(entry: Entry) -> str:
    opened = entry.vent_open
    words = "" if opened is None else _VENTS.get(opened, f"{opened * 100:g}% open")
    return _join(entry.plant, "vents", words)


def _water(entry: Entry) -> str:
    depth = f"{entry.depth_in:g} in deep" if entry.depth_in is not None else ""
    return _join(_WATERED.get(entry.method, "watered"), entry.plant, depth)


def _split(entry: Entry) -> str:
    return _join("split", _count(entry), entry.plant, f"as lot {entry.to}" if entry.to else "")


def _merge(entry: Entry) -> str:
    told = _numbers("lot", entry.lots) or _numbers("tray", entry.trays)
    noun = "" if " " in (entry.to or "") else "tray " if entry.trays and not entry.lots else "lot "
    return _join("merged", told, f"into {noun}{entry.to}" if entry.to else "")


def _hold(verb: str) -> Callable[[Entry], str]:
    return lambda entry: _join(verb, entry.plant, f"for {entry.cause}" if entry.cause else "")


def _mix(entry: Entry) -> str:
    parts = ":".join(f"{part:g}" for part in entry.parts)
    share = f"{entry.share * 100:g}%" if entry.share is not None else ""
    hormone = hormone_words(entry.hormone) if entry.hormone else ""
    volume = amount_text(entry.volume) if entry.volume else ""
    return _commas(_join("mixed", share, entry.solution, parts), hormone, volume)


def _sanitize(entry: Entry) -> str:
    things = " and ".join(filter(None, (", ".join(entry.things[:-1]), entry.things[-1]))) if entry.things else ""
    solution = f"with {entry.solution}" if entry.solution else ""
    length = f"for {length_words(entry.duration)}" if entry.duration else ""
    return _join("sanitized", things, solution, length)


def _temp(entry: Entry) -> str:
    temp = f"{entry.temp_c:g} c" if entry.temp_c is not None else ""
    humidity = f"humidity {entry.humidity * 100:g}%" if entry.humidity is not None else ""
    return _commas(_join(temp, humidity), entry.place)


def _target(entry: Entry) -> str:
    due = f"by {entry.due.day} {entry.due:%b} {entry.due.year}".lower() if entry.due else ""
    return _join("need", _count(entry), entry.plant, due)


def _remind(entry: Entry) -> str:
    at = ""
    if entry.at is not None:
        at = ("on " if not isinstance(entry.at, datetime) else "") + moment_text(entry.at)
    who = " and ".join(entry.who) or "me"
    if entry.every and entry.at is None:
        at = _every(entry) + (f" at {entry.from_time:%H:%M}" if entry.from_time else "")
    return _join("remind", who, at, f"to {entry.text}" if entry.text else "")


def _every(entry: Entry) -> str:
    return "every day" if set(entry.every) == set(WEEKDAYS) else f"every {' '.join(entry.every)}"


def _roster(entry: Entry) -> str:
    begins, ends = (f"{hour:%H:%M}" if hour is not None else "" for hour in (entry.from_time, entry.until))
    hours = f"{begins}-{ends}" if begins and ends else f"from {begins}" if begins else f"until {ends}" if ends else ""
    every = _every(entry) if entry.every else ""
    return _join("roster", " ".join(entry.who), "off" if entry.ends else "", every, hours)


def _reply(entry: Entry) -> str:
    but = ""
    if entry.but is not None:
        but = "all but " + _join(_numbers("tray", entry.but.trays), _numbers("lot", entry.but.lots))
    return _join(entry.answer, length_words(entry.duration) if entry.duration else "", but)


def _ask(entry: Entry) -> str:
    return _join(
        "asked", entry.about, entry.state, entry.plant, _numbers("lot", entry.lots), _numbers("tray", entry.trays)
    )


def _amend(entry: Entry) -> str:
    cutting = entry.cutting if isinstance(entry.cutting, str) else ""
    counted = f"{_count(entry)}{f' of {entry.of}' if entry.of is not None else ''}"
    return _join("make that", _commas(
        _numbers("lot", entry.lots), _numbers("tray", entry.trays), _join(counted, entry.state), entry.plant,
        cutting, entry.wood, entry.medium,
        hormone_words(entry.hormone) if entry.hormone else "", _container(entry.container), entry.method,
        entry.solution, entry.cause,
        length_words(entry.duration) if entry.duration else "",
        f"{entry.temp_c:g} c" if entry.temp_c is not None else "",
    ))  # fmt: skip


def _plain_act(entry: Entry) -> str:
    return _join(entry.act.value.replace("_", " "), entry.plant)


def _rule(entry: Entry) -> str:
    """The words of a rule, and what it is for where they do not say so (`weaning starts day 12 | for lot 3`)."""
    what = entry.what or ""
    said = what.lower()
    plant = "" if not entry.plant or entry.plant.split(" '")[0] in said else f"for {entry.plant}"
    lots = "" if "lot" in said else _numbers("lot", entry.lots)
    trays = "" if "tray" in said else _numbers("tray", entry.trays)
    return _join(what, plant, lots, trays)


_SAY: Final[dict[Act, Callable[[Entry], str]]] = {
    Act.STICK: _opening("stuck"),
    Act.SOW: _opening("sowed"),
    Act.DIVIDE: _opening("divided"),
    Act.COLLECT: _collect,
    Act.TREAT: _treat,
    Act.COVER: lambda entry: _join("cover on", entry.plant),
    Act.UNCOVER: lambda entry: _join("cover off for good", entry.plant),
    Act.AIR: _air,
    Act.VENT: _vent,
    Act.WILT: lambda entry: _join(_count(entry), entry.plant, "wilted"),
    Act.WATER: _water,
    Act.CHECK: _check,
    Act.LOSE: _lose,
    Act.POT: _pot,
    Act.MOVE: _move,
    Act.HARDEN: _harden,
    Act.TEND: lambda entry: _join(_CARES.get(entry.care or "", entry.care or "tended"), entry.plant),
    Act.SPLIT: _split,
    Act.MERGE: _merge,
    Act.SELL: _leaving("sold"),
    Act.GIVE: _leaving("gave"),
    Act.PLANT_OUT: _leaving("planted out"),
    Act.RESERVE: _reserve,
    Act.HOLD: _hold("on hold"),
    Act.CLEAR: _hold("cleared"),
    Act.MIX: _mix,
    Act.POUR_OUT: lambda entry: _join("poured out the", entry.solution),
    Act.SANITIZE: _sanitize,
    Act.TEMP: _temp,
    Act.TARGET: _target,
    Act.REMIND: _remind,
    Act.ROSTER: _roster,
    Act.REPLY: _reply,
    Act.RULE: _rule,
    Act.ASK: _ask,
    Act.NOTE: lambda entry: entry.text or "",
    Act.AMEND: _amend,
    Act.UNDO: lambda entry: "undo",
    Act.HELLO: lambda entry: {"thanks": "thanks", "help": "help"}.get(entry.want or "", "hello"),
}  # fmt: skip
