"""Was a temperature or a humidity read: degrees and percents that no treatment or solution claims.

`shade house 88f rh 40%`, `humidity in cold frame 72%`, `18.5 c & 88% humidity`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.figures.measures import to_celsius, to_fahrenheit
from core.notes.counts.heat_foretold import not_read
from core.notes.counts.heat_told import FIND_HEAT_TOLD
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.said import keep_words, pass_over, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import read_toml, small_range, small_words

_TEMP: Final = ActWord(act="temp")
_HOT: Final = {"noun": ActWord(act="treat", says={"treatment": "hot_water"})}
_POURING: Final = small_words("temps", "pouring")
_HOT_WATER_FROM_C: Final[float] = read_toml("small_words.toml")["temps"]["hot_water_from_c"]
_HOT_IN_EITHER: Final[float] = read_toml("small_words.toml")["temps"]["hot_in_either"]
_READ_UNDER_DOME: Final = small_range("temps", "bare_under_dome_f")
_WORDED: Final = frozenset({"temp", "temps", "temperature", "thermometer"})
_TAKING: Final = frozenset({"took", "taking"})
_INSTRUMENTS: Final = small_words("cues", "instruments")
_SAYING: Final = frozenset({"says", "said", "reads"})
_READ_AT: Final = frozenset({"is", "was", "at"})
_MOST_CUPS: Final[int] = read_toml("small_words.toml")["quantities"]["most_cups"]
_BELOW_ZERO: Final = frozenset({"minus", "negative"})
_COLD_PLACES: Final = small_words("temps", "cold_places")
_WARM_PLACES: Final = small_words("temps", "warm_places")
_SOIL_TEMPS: Final = small_words("temps", "soil_temps")
_READ: Final = frozenset({"number", "temp", "degrees"})
_AT_PLACES: Final = frozenset(
    f"{lead} {the}{where}" for lead in ("in", "on") for the in ("", "the ") for where in _COLD_PLACES | _WARM_PLACES
)
_JOINING: Final = frozenset({"and", "&", "+", "n"})
_TO_DETAILS: Final = frozenset({",", ":"})
_NAME_OF_HEAT: Final = 2
"""Of so many words at most is the name of a treatment that heads what is told of it (`heat mat treatment`)."""
_BREAKS: Final = frozenset({",", ";", ".", "\n", "!", "?"})


@looks_for(
    "=temp", "=degrees", "@humidity", "@place_word", "@cover_noun", "there", "temp", "temps", "temperature",
    "thermometer", "it's", "its", "under", beside=("=temp", "=degrees", "=number", "=percent"),
)  # fmt: skip
def _find_readings(pieces: list[Piece]) -> None:
    """Marks temperatures and humidities that are readings as acts, in place; a comma does not part one reading."""
    spans = _spans(pieces)
    treated = False
    timed = any(piece.kind == "duration" for piece in pieces)
    for start, end in spans:
        span = pieces[start:end]
        _keep_place_under(span)
        _keep_fridge(span)
        if any(claims(piece) for piece in span):
            treated = any(_treats(piece) for piece in span)
            continue
        if treated and pieces[start - 1].low in _TO_DETAILS and _only_heat(span, pieces[:start]):
            continue
        treated = timed and _heads_treatment(span)
        if treated:
            continue
        degrees = [piece for piece in span if piece.kind in ("temp", "degrees")]
        humid = [piece for piece in span if "humidity" in piece.roles]
        worded = [piece for piece in span if piece.low in _WORDED]
        percent = [piece for piece in span if piece.kind == "percent"]
        numbers = [piece for piece in span if piece.kind == "number"]
        if (degrees and _heats_something(span)) or not_read(span):
            continue
        first = degrees[:1] or (humid[:1] if percent or numbers else []) or (worded[:1] if numbers else [])
        if not first and _bare_reading(span):
            first = numbers[:1]
        if first:
            first[0].roles = {**first[0].roles, "act": _TEMP}
            for piece in span if any(one.low.split(" ")[-1] in _INSTRUMENTS for one in span) else ():
                if piece.low in _SAYING:
                    pass_over(piece)


@looks_for(any_of=_BELOW_ZERO, beside=("=temp",))
def _join_minus(pieces: list[Piece]) -> None:
    """`minus 4 c in the cold frame`: below zero, in place."""
    for at in range(len(pieces) - 2, -1, -1):
        below, degrees = pieces[at : at + 2]
        if below.low in _BELOW_ZERO and degrees.kind == "temp":
            above = degrees.value
            degrees.value = round(to_celsius(-to_fahrenheit(above)), 1) if degrees.low.endswith("f") else -above
            degrees.first, degrees.low = below.first, f"{below.low} {degrees.low}"
            del pieces[at]


@looks_for(any_of=_TAKING, beside=("@temp_word", *_WORDED))
def _keep_taking(pieces: list[Piece]) -> None:
    """`took temps: gh 75f`, `took the temp`: read, and nothing gathered, in place."""
    for at, piece in enumerate(pieces[:-1]):
        read = pieces[at + 1 :][: 1 + (pieces[at + 1].low == "the")][-1]
        if piece.low in _TAKING and ("temp_word" in read.roles or read.low in _WORDED):
            keep_words(piece)


@looks_for("@humidity", beside=("=number",))
def _read_humidity(pieces: list[Piece]) -> None:
    """`rh 80`, `humidity is 65`, `88f 60rh`: a bare number right beside it is in percent, in place."""
    told = [piece for piece in pieces if piece.low not in _READ_AT]
    for word, number in pairwise(told):
        if "humidity" in word.roles and number.kind == "number" and number.low.isdigit() and number.value.value <= 100:
            number.kind = "percent"
    for place in range(1, len(pieces)):
        number, word = pieces[place - 1 : place + 1]
        follows = place + 1 < len(pieces) and pieces[place + 1].kind in ("number", "percent")
        if "humidity" in word.roles and not follows and number.kind == "number" and number.low.isdigit():
            number.kind = "percent" if number.value.value <= 100 else number.kind


@looks_for("=temp", beside=("@place_word",))
def _part_places(pieces: list[Piece]) -> None:
    """`gh1 88f and gh2 84f`, `88f lath 70f slab`: a comma between the readings of several places, in place."""
    for start, end in reversed(_spans(pieces)):
        read = [at for at in range(start, end) if pieces[at].kind == "temp"]
        if len(read) < 2:
            continue
        told = (at for at in range(start, end) if "filler" not in pieces[at].roles and pieces[at].kind != "moment")
        first = next(told)
        after = first == read[0]
        spans = [(here, there) for here, there in pairwise([*read, end] if after else read)]
        if all(any("place_word" in one.roles for one in pieces[here:there]) for here, there in spans):
            for here, there in reversed(spans[:-1] if after else spans):
                _part_at(pieces, there if after else _reading_end(pieces, here))


def _reading_end(pieces: list[Piece], at: int) -> int:
    """Where a reading ends that begins with its degrees (`88f rh 40%`)."""
    at += 1
    while pieces[at].kind == "percent" or "humidity" in pieces[at].roles:
        at += 1
    return at


def _part_at(pieces: list[Piece], at: int) -> None:
    """Puts a comma before a place, or for the "and" that stands there."""
    before = at - 1 if pieces[at - 1].low in _JOINING else at
    joins = pieces[before].low in _JOINING
    first, last = (pieces[before].first, pieces[before].last) if joins else (pieces[at].first, pieces[at].first)
    pieces[before : before + joins] = [Piece("break", ",", first, last, ",")]


@looks_for("@temp_word", any_of=_SOIL_TEMPS, beside=_COLD_PLACES | _WARM_PLACES | _AT_PLACES)
def find_place_read(pieces: list[Piece]) -> None:
    """`temp in the fridge was 46`, `soil temp 68 on the mat`: where it was read, and no treatment that begins, in
    place.
    """
    read = False
    for piece in pieces:
        if read:
            _be_a_place(piece)
        read = _is_temp_word(piece) or (read and (piece.kind in _READ or "filler" in piece.roles))


def _is_temp_word(piece: Piece) -> bool:
    return "temp_word" in piece.roles or piece.low in _SOIL_TEMPS


def _be_a_place(where: Piece) -> None:
    word = where.roles.get("act") or where.roles.get("noun")
    at = where.low.rpartition(" ")[2]
    places = {"cold_stratify": _COLD_PLACES, "heat": _WARM_PLACES}
    if word is not None and at in places.get(word.says.get("treatment", ""), ()):
        at = "heat mat" if f" {where.low}".endswith(" heat mat") else at
        where.first, where.low, where.roles = where.last - len(at.split(" ")), at, {"place_word": at}


def _keep_fridge(span: list[Piece]) -> None:
    """`39f in the fridge`, `it's 78 on the mat`: where it was read, and no treatment that begins, where nothing was put
    there.
    """
    told = [piece for piece in span if "filler" not in piece.roles and piece.kind not in ("mark", "moment")]
    bare = len(told) == 2 and told[0].kind == "number" and span[0].low in ("it's", "its", "it")
    warm = len(told) == 3 and told[0].kind in ("degrees", "temp") and told[2].kind in ("lots", "trays")
    if not (bare or warm or (len(told) == 2 and told[0].kind in ("temp", "degrees"))):
        return
    _be_a_place(told[1])


@looks_for("=temp", beside=("!collect", "!sow"))
def _find_cups(pieces: list[Piece]) -> None:
    """`collected 2c toyon seed`: beside seed that was gathered or sown a few "c" are cups."""
    sown = False
    for place, piece in enumerate(pieces):
        word = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None:
            sown = word.act in ("collect", "sow")
        elif piece.kind == "break" and piece.low in ("\n", ";", "!"):
            sown = False
        told = sown and piece.kind == "temp" and piece.low.endswith("c") and 0 < piece.value <= _MOST_CUPS
        if told and pieces[place - 1].low not in ("at", "@") and not _names_place(pieces, place):
            piece.kind, piece.value = "amount", (piece.value, "cup", None)
            if pieces[place + 1 : place + 2] and pieces[place + 1].low == "." and place + 2 < len(pieces):
                pieces[place + 1].kind = "mark"


def _heats_something(span: list[Piece]) -> bool:
    """`200f 30 mins` beside the oven, `lot 9 heat mat 75f 2 weeks`: how hot and how long something was heated, and no
    reading.
    """
    hot = any(piece.kind == "temp" and piece.value >= _HOT_WATER_FROM_C for piece in span)
    timed = any(piece.kind == "duration" for piece in span)
    named = any(piece.kind in ("lots", "trays") or "plant" in piece.roles for piece in span)
    if timed and named and any(piece.low in ("heat mat", "mat", "bottom heat") for piece in span):
        return True
    return hot and timed and not any("place_word" in piece.roles for piece in span)


def _names_place(pieces: list[Piece], place: int) -> bool:
    """`sowed toyon, fridge 2c`: a place beside degrees, up to the marks around them."""
    start, end = statement_at(pieces, place)
    return any(piece.roles.keys() & {"place_word", "temp_word"} for piece in pieces[start:end])


def _keep_place_under(span: list[Piece]) -> None:
    """`humidity 90% under dome on tray 4`, `88 under dome tray 4`: where it was read, and no cover that went on."""
    if not any(piece.low.startswith("under ") for piece in span):
        return
    for number, piece in (*pairwise(span), *pairwise(span[::-1])):
        word = piece.roles.get("act")
        under = word is not None and word.act == "cover" and piece.low.startswith("under ")
        if under and number.kind == "number" and _is_bare_heat(span, number):
            number.kind, number.value = "degrees", number.value.value
    read = any(piece.kind in ("temp", "degrees") or "humidity" in piece.roles for piece in span)
    for piece in span if read else ():
        word = piece.roles.get("act")
        if word is not None and word.act == "cover" and piece.low.startswith("under "):
            piece.roles = NO_ROLES


def _is_bare_heat(span: list[Piece], number: Piece) -> bool:
    """Whether a bare number is how warm it was: a temperature is named, or it is far too warm for so many plants."""
    whole = number.value.whole
    before = span[: span.index(number)]
    deeds = (piece for piece in before if is_act(piece) and not piece.low.startswith("under "))
    if whole is None or any(deeds) or any("plant" in piece.roles for piece in span):
        return False
    return whole in _READ_UNDER_DOME or any("temp_word" in piece.roles or piece.low in _WORDED for piece in before)


@looks_for("=temp", beside=("with", "w", "w/"))
def _keep_weeks_of_each(pieces: list[Piece]) -> None:
    """`lot 9 30w/60c`: so long warm and so long cold, and no reading."""
    for place in range(2, len(pieces)):
        number, link, temp = pieces[place - 2 : place + 1]
        short = number.kind == "number" and link.low in ("with", "w", "w/") and temp.kind == "temp"
        if short and temp.low.endswith("c") and any(piece.kind == "lots" for piece in pieces[: place - 2]):
            keep_words(number, link, temp)


@looks_for("water", beside=("=temp", "=degrees", "=number"))
def _find_hot_water(pieces: list[Piece]) -> None:
    """`190 f water on lot 83 seed`, `poured water at 180f over lot 3`: water told by its heat is a treatment where it
    is hot, and never a way to water.
    """
    for place, piece in enumerate(pieces):
        if piece.low != "water":
            continue
        heat = _heat_of_water(pieces, place)
        if heat is None:
            continue
        hot = heat.value >= (_HOT_WATER_FROM_C if heat.kind == "temp" else _HOT_IN_EITHER)
        piece.kind, piece.low, piece.roles = "phrase", "hot water" if hot else piece.low, _HOT if hot else NO_ROLES
    if any(_treats(piece) and piece.low.endswith("water") for piece in pieces):
        for piece in pieces:
            piece.used = piece.used or piece.low in _POURING


def _heat_of_water(pieces: list[Piece], place: int) -> Piece | None:
    """The temperature before water, or after it and "at"."""
    before = pieces[place - 1] if place else None
    if before is not None and (before.kind == "temp" or (before.kind == "degrees" and before.value >= _HOT_IN_EITHER)):
        return before
    after = pieces[place + 1 : place + 3]
    return after[1] if len(after) == 2 and after[0].low == "at" and after[1].kind == "temp" else None


def _treats(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("noun") or piece.roles.get("shared")
    return word is not None and (word.act == "treat" or word.rule == "soaked")


def _heads_treatment(span: list[Piece]) -> bool:
    """`heat mat`, `heat mat treatment`: the name of a treatment, and no more."""
    read = any(piece.kind in ("temp", "degrees") for piece in span)
    named = [piece for piece in span if piece.kind != "moment" and "filler" not in piece.roles]
    return len(named) <= _NAME_OF_HEAT and not read and any(_treats(piece) for piece in named)


def _only_heat(span: list[Piece], before: list[Piece]) -> bool:
    """`hot water on lot 90, 170f, 1 min`, `warm strat, lot 90 at 70 f 3 weeks`: how hot and how long a treatment is,
    told after it.
    """
    named = any(piece.kind in SUBJECTS for piece in before)
    heat = ("temp", "degrees", "duration", *(() if named else SUBJECTS))
    return all(piece.kind in heat or "filler" in piece.roles for piece in span)


def _bare_reading(span: list[Piece]) -> bool:
    """`its 88 in there`, `fridge was 46`: a place, a form of "to be", and a bare number."""
    lows = [
        piece.low
        for piece in span
        if piece.kind != "moment"
        and ("filler" not in piece.roles or piece.low in ("is", "was", "at", "its", "it's", "there"))
    ]
    numbers = [piece for piece in span if piece.kind == "number"]
    places = [
        piece
        for place, piece in enumerate(span)
        if "place_word" in piece.roles
        or ((piece.low in ("here", "there") or "cover_noun" in piece.roles) and _inside(span, place))
    ]
    if len(numbers) != 1 or not 25 <= numbers[0].value.value <= 130:
        return False
    if any(piece.low == "to" for piece in span):
        return False
    known = all(
        piece.kind in ("number", "moment", "percent")
        or "place_word" in piece.roles
        or "filler" in piece.roles
        or "noun" in piece.roles
        or piece in places
        or piece.kind in ("lots", "trays")
        for piece in span
    )
    percents = [piece for piece in span if piece.kind == "percent"]
    if not known or not places or len(percents) > 1:
        return False
    of_soil = any(piece.low in _SOIL_TEMPS for piece in places)
    named = sum(piece.kind in SUBJECTS for piece in span) if of_soil else 0  # "soil temp 70 tray 14"
    bare = len(lows) == len(numbers) + len(places) + len(percents) + named
    return bare or bool({"is", "was", "at", "its", "it's"} & set(lows))


def _inside(span: list[Piece], place: int) -> bool:
    """`under the dome`, `in the tent`."""
    return any(piece.low in ("under", "in", "inside", "beneath") for piece in span[max(0, place - 2) : place])


def claims(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared")
    if word is not None and word.act != "check":
        return True
    noun = piece.roles.get("noun")
    if noun is not None and noun.act == "treat" and piece.low not in ("fridge", "heat mat"):
        return True
    return not piece.roles.keys().isdisjoint(("solution", "hormone_name", "hormone"))


def _parts_reading(pieces: list[Piece], start: int, place: int) -> bool:
    """`lath 94f | & all trays misted`: a deed of its own after a reading."""
    if pieces[place].low not in _JOINING or not any(piece.kind in ("temp", "degrees") for piece in pieces[start:place]):
        return False
    end = next((at for at in range(place + 1, len(pieces)) if pieces[at].kind == "break"), len(pieces))
    after = pieces[place + 1 : end]
    read = any(piece.kind in ("temp", "degrees", "percent", "duration") for piece in after)
    return not read and any(map(is_act, after)) and not any(map(claims, pieces[start:place]))


def _spans(pieces: list[Piece]) -> list[tuple[int, int]]:
    spans: list[tuple[int, int]] = []
    start = 0
    for place, piece in enumerate(pieces):
        if (piece.kind == "break" and piece.low in _BREAKS) or _parts_reading(pieces, start, place):
            spans.append((start, place))
            start = place + 1
    spans.append((start, len(pieces)))
    return [span for span in spans if span[0] < span[1]]


FIND_READINGS: Final = (
    _join_minus, *FIND_HEAT_TOLD, _keep_taking, _keep_weeks_of_each, _read_humidity, _find_hot_water, _find_cups,
    _part_places, _find_readings,
)  # fmt: skip
"""The steps in their order."""
