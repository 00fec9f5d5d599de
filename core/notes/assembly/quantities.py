"""Which quantity is it: a number with its unit, in the order that a bench would understand."""

from __future__ import annotations

from typing import Any, Final

from core.lengths import Length
from core.notes.days.dates import length_of
from core.notes.days.moments import Moment
from core.notes.words.names_short import abbreviates_name
from core.notes.words.number_words import part_after
from core.notes.words.numbers import Number, read_number, skip_about
from core.notes.words.pieces import Piece, longest_phrase, statement_ends, words_of
from core.notes.words.tokens import VULGAR, Token
from core.vocabulary import Leaf
from core.vocabulary.loading import END, read_toml, small_words

_CELLS: Final = frozenset(read_toml("measures.toml")["cell_tray"]["cell_tray"])
_SMALL_POTS = 10
_FRACTIONS = {"1/2": 0.5, "1/4": 0.25, "3/4": 0.75, "1/3": 1 / 3, "2/3": 2 / 3}
_AFTER_LETTER: Final = small_words("quantities", "after_letter")
_OTHER_UNITS: Final = small_words("quantities", "of_no_plants")
_INCHES: Final = small_words("quantities", "inches")
_DISTANCE_WORDS: Final = small_words("quantities", "distances")
RANK_ENDINGS: Final = frozenset(read_toml("date_words.toml")["endings"])
_BEFORE_ONE: Final = frozenset({"the", "this", "that", "each", "which", "every", "no"}) | RANK_ENDINGS
_MEANT = frozenset({"meant", "i meant", "make that", "was", "it was", "should be", "in", "into"})


def quantity(tokens: list[Token], at: int, tree: dict[str, Any], before: list[Piece]) -> Piece | None:
    """The quantity that begins at a token, or None."""
    token = tokens[at]
    if token.kind == "colon":
        return Piece("colon", token.value, at, at + 1, token.low)
    start = at
    about = skip_about(tokens, at, tree)
    if at < about < len(tokens) and tokens[about].kind == "fraction":
        at = about
        token = tokens[at]
    if token.kind == "fraction":
        if (
            start
            and (tokens[start - 1].low in ("on", "since", "until") or _as_of(tokens, start))
            and 1 <= token.value[0] <= 12
            and 1 <= token.value[1] <= 31
        ):
            return Piece("moment", Moment(month=token.value[0], day=token.value[1]), start, at + 1, token.low)
        return _fraction(tokens, start, at, tree)
    found = read_number(tokens, start, tree)
    if found is None:
        return _one_of_unit(tokens, start, tree)
    number, end = found
    other = _of_no_plants(tokens, start, end, tree)
    if other is not None:
        return other
    if (
        token.low == "one"
        and number.high is None
        and (end >= len(tokens) or (start and tokens[start - 1].low in _BEFORE_ONE))
    ):
        return None
    part = _part_of_whole(tokens, start, number, end, tree)
    if part is not None:
        return part
    measured = _with_unit(tokens, start, number, end, tree, before)
    if measured is not None:
        return measured
    return Piece("number", number, start, end, words_of(tokens, start, end))


def _as_of(tokens: list[Token], at: int) -> bool:
    """`20 rooted as of 6/2`."""
    return at > 1 and tokens[at - 1].low == "of" and tokens[at - 2].low == "as"


def _of_no_plants(tokens: list[Token], start: int, end: int, tree: dict[str, Any]) -> Piece | None:
    """`5th`, `$10`, `ten dollars`, `18 inches apart`, `12 in long`: a rank, a price, a distance; no count of plants."""
    after = [token.low for token in tokens[end : end + 2]]
    if after[:1] and after[0] in RANK_ENDINGS and tokens[end].glued and tokens[end - 1].kind == "number":
        return Piece("rank", None, start, end + 1, words_of(tokens, start, end + 1))
    if after[:1] and after[0] in _OTHER_UNITS:
        last = end + 1 + (after[1:] != [] and after[1] in _DISTANCE_WORDS)
        return Piece("measure", None, start, last, words_of(tokens, start, last))
    held = longest_phrase(tokens, end + 2, tree) if after[:1] == ["in"] and end + 2 < len(tokens) else None
    if after[1:] and after[0] in _INCHES and after[1] in _DISTANCE_WORDS and not (held and "container" in held[1]):
        return Piece("measure", None, start, end + 2, words_of(tokens, start, end + 2))
    if start and tokens[start - 1].low == "$":
        return Piece("measure", None, start, end, words_of(tokens, start, end))
    return None


def _part_of_whole(tokens: list[Token], start: int, number: Number, end: int, tree: dict[str, Any]) -> Piece | None:
    """`two fifths`, `nine tenths of`: a part in words, which is a share."""
    at = end + 1 if end + 1 < len(tokens) and tokens[end].low == "-" and tokens[end].glued else end
    phrase = longest_phrase(tokens, at, tree) if at < len(tokens) else None
    if phrase is None or "part" not in phrase[1] or number.whole is None or number.high is not None:
        return None
    below = phrase[1]["part"]
    if not 0 < number.whole < below or (number.whole == 1) == tokens[phrase[0] - 1].low.endswith("s"):
        return None
    end = phrase[0] + (phrase[0] < len(tokens) and tokens[phrase[0]].low == "of")
    return Piece("phrase", None, start, end, words_of(tokens, start, end), {"fraction": number.whole / below})


def _one_of_unit(tokens: list[Token], at: int, tree: dict[str, Any]) -> Piece | None:
    """`a gallon`, `a handful of`, `half an ounce`, `a quarter lb`: one of a measure, or a part of one."""
    start = at
    at += tokens[at].low in ("a", "an")
    part = _PARTS.get(tokens[at].low) if at < len(tokens) else None
    if part is not None:
        at += 1
        at += at < len(tokens) and tokens[at].low == "of"
        at += at < len(tokens) and tokens[at].low in ("a", "an")
    elif at == start:
        return None
    if at >= len(tokens):
        return None
    if _says_how_full(tokens, at, tree):
        at += 1
    unit = longest_phrase(tokens, at, tree)
    if unit is not None and "inch" in unit[1] and tokens[at].low != "in":
        return Piece("size", f"{1 if part is None else part:g} in", start, unit[0], words_of(tokens, start, unit[0]))
    if unit is None or "amount" not in unit[1] or tokens[at].low in ("l", "gals", "g"):
        return None
    if unit[1]["amount"] == "bag" and not (unit[0] < len(tokens) and tokens[unit[0]].low == "of"):
        return None
    end = unit[0]
    words = words_of(tokens, start, end)
    return Piece("amount", (1 if part is None else part, unit[1]["amount"], Number(1)), start, end, words)


_PARTS = {"half": 0.5, "quarter": 0.25}


def _says_how_full(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`1 heaping tsp`: a word between a number and its measure."""
    said = "fullness" in tree.get(tokens[at].low, {}).get(END, {})
    unit = longest_phrase(tokens, at + 1, tree) if said and at + 1 < len(tokens) else None
    return unit is not None and "amount" in unit[1]


def _fraction(tokens: list[Token], start: int, at: int, tree: dict[str, Any]) -> Piece:
    above, below = tokens[at].value
    end = at + 1
    if below and above < below and end < len(tokens):
        unit = longest_phrase(tokens, end, tree)
        if unit is not None:
            if "inch" in unit[1] and unit[0] < len(tokens) and tokens[unit[0]].low == "deep":
                return Piece("depth", above / below, start, unit[0] + 1, words_of(tokens, start, unit[0] + 1))
            if "inch" in unit[1] and below <= 8:
                return Piece("size", f"{above / below:g} in", start, unit[0], words_of(tokens, start, unit[0]))
            if "duration" in unit[1]:
                length = length_of(above / below, unit[1]["duration"])
                if length is not None:
                    return Piece("duration", (length, None), start, unit[0], words_of(tokens, start, unit[0]))
            if tokens[end].low == "c":
                share = round(above / below, 4)
                return Piece("amount", (share, "cup", None), start, unit[0], words_of(tokens, start, unit[0]))
            if "amount" in unit[1] and unit[1]["amount"] != "bag":
                return Piece(
                    "amount",
                    (round(above / below, 4), unit[1]["amount"], None),
                    start,
                    unit[0],
                    words_of(tokens, start, unit[0]),
                )
        if tokens[end].low in ("an", "a") and end + 1 < len(tokens):
            unit = longest_phrase(tokens, end + 1, tree)
            if unit is not None and "duration" in unit[1]:
                length = length_of(above / below, unit[1]["duration"])
                return Piece("duration", (length, None), start, unit[0], words_of(tokens, start, unit[0]))
    return Piece("fraction", (above, below, start != at), start, end, words_of(tokens, start, end))


def _with_unit(
    tokens: list[Token], at: int, number: Number, end: int, tree: dict[str, Any], before: list[Piece]
) -> Piece | None:
    if end >= len(tokens):
        return None
    place = (
        end + 1
        if tokens[end].low == "-" and tokens[end].glued and end + 1 < len(tokens) and tokens[end + 1].glued
        else end
    )
    place += _says_how_full(tokens, place, tree)
    if tokens[place].low == "more" and place + 1 < len(tokens):
        more = longest_phrase(tokens, place + 1, tree)
        place += more is not None and "duration" in more[1]
    unit = longest_phrase(tokens, place, tree)
    if unit is not None and "pot_size" in unit[1] and unit[0] - place > 1:
        # "1 gallon pots": the number is of the gallon, though "gallon pots" are a size by themselves.
        unit = longest_phrase(tokens, place, tree, place + 1) or unit
    low = tokens[place].low
    value, high = number.value, number.high
    if unit is None or (low in ("l", "t") and unit[0] < len(tokens) and _glued_number(tokens[unit[0]])):
        return None
    last, leaf = unit
    if "plant" in leaf or (place == end and _begins_plant(tokens, place, tree)):
        return None
    if place == end and (abbreviates_name(tokens, place, tree) or _names_cells(tokens, at, end)):
        return None
    words = words_of(tokens, at, last)
    if "temperature" in leaf:
        if low == "c" and not tokens[place].glued and _is_cups(tokens, place):
            return Piece("amount", (value, "cup", number), at, last, words)
        if at and tokens[at - 1].low == "-" and tokens[at].glued and not tokens[at - 1].glued:
            value = -value
        celsius = (value - 32) / 1.8 if leaf["temperature"] == "f" else value
        return Piece("temp", round(celsius + 0.0, 1) + 0.0, at, last, words)
    if "percent" in leaf:
        return Piece("percent", number, at, last, words)
    if "ppm" in leaf:
        return Piece("ppm", value, at, last, words)
    if "degree" in leaf:
        if last < len(tokens) and tokens[last].low in ("f", "c"):
            celsius = (value - 32) / 1.8 if tokens[last].low == "f" else value
            return Piece("temp", round(celsius, 1) + 0.0, at, last + 1, words_of(tokens, at, last + 1))
        return Piece("degrees", value, at, last, words)
    if "times_word" in leaf and number.whole is not None:
        if (
            low == "x"
            and last < len(tokens)
            and (following := longest_phrase(tokens, last, tree)) is not None
            and ("plant" in following[1] or "cutting" in following[1])
        ):
            return Piece("number", number, at, last, words)
        return Piece("times", number.whole, at, last, words)
    if "inch" in leaf:
        size = _pot_size(tokens, place, last, low, number, tree, before)
        if size is not None:
            return Piece(size.kind, size.value, at, size.last, words_of(tokens, at, size.last))
    if "duration" in leaf:
        if number.of is not None:
            # "45 of 60 days": how much of a time is over.
            return Piece("kept", None, at, last, words)
        value, last = _and_more(tokens, value, leaf["duration"], last, tree)
        length = length_of(value, leaf["duration"])
        if length is not None and not (low in ("d", "w", "m", "s", "h") and not _unit_letter(tokens, place, tree)):
            most = length_of(high, leaf["duration"]) if high else None
            return Piece("duration", (length, most), at, last, words_of(tokens, at, last))
    if "amount" in leaf:
        if leaf["amount"] == "gal" and low == "gals" and value > 10:
            return None
        part, last = part_after(tokens, last)
        value, words = value + part, words_of(tokens, at, last)
        return Piece("amount", (value, leaf["amount"], number), at, last, words)
    return None


def _names_cells(tokens: list[Token], at: int, end: int) -> bool:
    """`in 72s`: trays that go by the number of their cells, no seconds."""
    led = at > 0 and tokens[at - 1].low in ("in", "into")
    return led and tokens[end].low == "s" and tokens[end].glued and tokens[at].low in _CELLS


def _glued_number(token: Token) -> bool:
    """The 14 of `potted 12 L14`: what stands before it names a lot, no liters."""
    return token.kind == "number" and token.glued


def _begins_plant(tokens: list[Token], place: int, tree: dict[str, Any]) -> bool:
    """`12 cup plant`: the plural of a plant's name begins with a unit."""
    last = place + 1
    if last >= len(tokens) or not tokens[last].low.endswith("s"):
        return False
    node = tree.get(tokens[place].low, {}).get(tokens[last].low[:-1], {})
    return "plant" in node.get(END, {})


def _and_more(tokens: list[Token], value: float, unit: str, end: int, tree: dict[str, Any]) -> tuple[float, int]:
    """`2 hours and a half`, `1hr15`, `1 hour 30`: what is said after the unit, added in that unit."""
    part, last = part_after(tokens, end)
    if part:
        return value + part, last
    if unit != "hours" or end >= len(tokens) or tokens[end].kind != "number" or value != int(value):
        return value, end
    minutes = tokens[end].value
    closes = statement_ends(tokens, end + 1, tree) or tokens[end + 1].kind == "mark"
    if isinstance(minutes, int) and len(tokens[end].low) == 2 and minutes < 60 and (tokens[end].glued or closes):
        return value + minutes / 60, end + 1
    return value, end


def phrase_piece(tokens: list[Token], at: int, end: int, leaf: Leaf) -> Piece:
    """The piece of a known phrase: a length of time where it is one by itself (`an hour and a half`)."""
    if "span" not in leaf:
        return Piece("phrase", None, at, end, words_of(tokens, at, end), leaf)
    length = Length.from_iso(leaf["span"])
    part, last = part_after(tokens, end)
    if part and length.seconds:
        length, end = Length(seconds=round(length.seconds * (1 + part))), last
    elif part and length.days:
        length, end = Length(seconds=round(length.days * 86400 * (1 + part))), last
    return Piece("duration", (length, None), at, end, words_of(tokens, at, end), leaf)


_LEAST_STRENGTH: Final = 100


def _unit_letter(tokens: list[Token], place: int, tree: dict[str, Any]) -> bool:
    """A unit of one letter stands right at its number, at the end of its clause (`60 d`), or before what lasts so long
    (`24 h soak`).
    """
    following = tokens[place + 1] if place + 1 < len(tokens) else None
    if tokens[place].low == "w" and not tokens[place].glued and following is not None and following.kind == "number":
        # "30 w 3000 ppm": with a strength, and no weeks.
        return not (isinstance(following.value, (int, float)) and following.value >= _LEAST_STRENGTH)
    after = (longest_phrase(tokens, place + 1, tree) or (0, {}))[1]
    return (
        tokens[place].glued
        or ("noun" in after and after["noun"].act != "check")
        or statement_ends(tokens, place + 1, tree)
        or tokens[place + 1].kind != "word"
        or tokens[place + 1].low in _AFTER_LETTER
    )


def _is_cups(tokens: list[Token], place: int) -> bool:
    return place + 1 < len(tokens) and tokens[place + 1].low == "of"


def _is_day(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`potted in 4 in on thurs`: a day after a size."""
    leaf = (longest_phrase(tokens, at, tree) or (0, {}))[1] if at < len(tokens) else {}
    return not leaf.keys().isdisjoint(("weekday", "day", "month"))


def _is_headed(before: list[Piece], piece: Piece) -> bool:
    """The lot of `14: potted 10 in bands`: a number before a colon counts nothing."""
    place = before.index(piece)
    return place + 1 < len(before) and before[place + 1].low == ":"


def _as_texted(value: float, tokens: list[Token], end: int) -> str:
    """A size with its fraction as it was texted: `3 1/2`, `3.5`."""
    typed = tokens[end - 1].low == "-" or tokens[end - 1].kind == "fraction" or tokens[end - 1].low[-1:] in VULGAR
    whole, part = divmod(value, 1)
    written = next((name for name, share in _FRACTIONS.items() if abs(share - part) < 0.01), None)
    if not typed or written is None or not whole:
        return f"{value:g}"
    return f"{whole:g} {written}"


def _pot_size(
    tokens: list[Token], place: int, last: int, low: str, number: Number, tree: dict[str, Any], before: list[Piece]
) -> Piece | None:
    value = number.value
    if last < len(tokens) and tokens[last].low == "deep":
        return Piece("depth", float(value), place, last + 1, "depth")
    if last < len(tokens) and tokens[last].low in ("roots", "root"):
        return None
    if low == "in" and not tokens[place].glued and last < len(tokens):
        if value > _SMALL_POTS:
            return None
        following = longest_phrase(tokens, last, tree)
        mark = tokens[last]
        stops = statement_ends(tokens, last, tree)
        potlike = (
            following is not None
            and "container" in following[1]
            and following[1]["container"] in ("pot", "liner", "band", "tube")
        )
        into = mark.low == "in" and last + 1 < len(tokens) and tokens[last + 1].kind == "word"
        fills = following is not None and "medium" in following[1]
        led_in = bool(before) and before[-1].low in ("to", "into", "in") and (fills or mark.low in _AFTER_SIZES)
        led_in = led_in or _is_length(before, following)
        renamed = mark.low == "not" and last + 1 < len(tokens) and tokens[last + 1].kind == "number"
        into = into or renamed or led_in or _is_day(tokens, last + (mark.low == "on"), tree)
        if (
            not stops
            and not potlike
            and not into
            and mark.low not in ("water", "of", "deep", "tall", "squares", "square", "rounds", "and")
        ):
            return None
        opened = any("act" in piece.roles and piece.roles["act"].act in ("divide", "stick", "sow") for piece in before)
        led = any(
            (piece.kind in ("number", "fraction") and not _is_headed(before, piece))
            or "all" in piece.roles
            or "vague" in piece.roles
            for piece in (before if opened else before[-6:])
        ) or (bool(before) and before[-1].low in ("to", "into"))
        of_lot = following is not None and following[0] < len(tokens) and tokens[following[0]].low in ("of", "from")
        if potlike and not led and not of_lot and not (before and before[-1].low in _MEANT):
            return None
        if mark.low in ("water", "of") and value > 4:
            return None
        if mark.low == "and" and not any(piece.kind in ("number", "fraction") for piece in before[-6:]):
            return None
    if value > 24:
        return None
    last += _is_short_for_inches(tokens, last, tree)
    return Piece("size", f"{_as_texted(value, tokens, place)} in", place, last)


def _is_short_for_inches(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """The point of `3 in. tips`, which ends no sentence."""
    if at + 1 >= len(tokens) or tokens[at].low != "." or not tokens[at].glued:
        return False
    after = longest_phrase(tokens, at + 1, tree)
    return after is not None and not after[1].keys().isdisjoint(("cutting", "wood", "what", "container"))


_AFTER_SIZES: Final = frozenset({"by", "from", "with", "w/", "using"})


def _is_length(before: list[Piece], following: tuple[int, Leaf] | None) -> bool:
    """`stuck 36 ninebark 5 in hw`, `40 4 in toyon cuttings`: how long counted cuttings were."""
    if not any("act" in piece.roles and piece.roles["act"].act in ("stick", "collect") for piece in before):
        return False
    roles = following[1].keys() if following is not None else set()
    counted = any(piece.kind == "number" for piece in before)
    return counted and (bool(roles & {"wood", "cutting"}) or (before[-1].kind == "number" and "plant" in roles))
