"""Which quantity is a number with the unit after it: degrees, percent, lengths of time, volumes, sizes."""

from __future__ import annotations

import re
from typing import Any, Final

from core.figures.measures import to_celsius
from core.notes.assembly.pot_sizes import pot_size, pots_follow
from core.notes.days.dates import length_of
from core.notes.words.names_short import abbreviates_name
from core.notes.words.number_words import number_of_token, part_after
from core.notes.words.numbers import Number
from core.notes.words.pieces import Piece, longest_phrase, statement_ends, words_of
from core.notes.words.tokens import Token
from core.vocabulary import Leaf
from core.vocabulary.loading import END, read_toml, small_words

CELL_TRAYS: Final = frozenset(read_toml("measures.toml")["cell_tray"]["cell_tray"])
"""The numbers of cells that trays go by."""
_SEVERAL: Final = range(1, 21)
_BY: Final = frozenset({"x", "×"})
_AFTER_LETTER: Final = small_words("quantities", "after_letter")
AGES: Final = small_words("counted_things", "ages")
_BEFORE_NUMBERS: Final = small_words("spelling", "wholes")
_DOTTED: Final = re.compile(r"\d{1,2}\.\d{3}")
"""`3.000 ppm`: thousands parted by a point; no strength is told to a thousandth."""
_LEAST_STRENGTH: Final = 100
_FEWEST_DEGREES: Final[int] = read_toml("small_words.toml")["quantities"]["fewest_glued_degrees"]
"""So few of what is sown are cups, and no degrees."""


def says_how_full(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`1 heaping tsp`: a word between a number and its measure."""
    said = "fullness" in tree.get(tokens[at].low, {}).get(END, {})
    unit = longest_phrase(tokens, at + 1, tree) if said and at + 1 < len(tokens) else None
    return unit is not None and "amount" in unit[1]


def with_unit(
    tokens: list[Token], at: int, number: Number, end: int, tree: dict[str, Any], before: list[Piece]
) -> Piece | None:
    """The quantity that a number from `at` to `end` is with the unit after it; None where no unit follows."""
    if end >= len(tokens):
        return None
    place = _unit_place(tokens, end, tree)
    unit = _unit_at(tokens, place, tree)
    if _counts_cells(tokens, at, end):
        return Piece("cells", number.whole, at, end + 1, words_of(tokens, at, end + 1))
    if unit is None or _is_no_unit(tokens, at, end, place, unit, tree) or opens_age(tokens, place, number.value, tree):
        return None
    last, leaf = unit
    words = words_of(tokens, at, last)
    if "temperature" in leaf:
        return _degrees_of(tokens, at, number, place, last, leaf, tree)
    if "percent" in leaf:
        return Piece("percent", number, at, last, words)
    if "ppm" in leaf:
        thousands = _DOTTED.fullmatch(tokens[end - 1].low) is not None
        return Piece("ppm", number.value * (1000 if thousands else 1), at, last, words)
    if "degree" in leaf:
        return _degrees(tokens, at, number.value, last)
    if "times_word" in leaf and number.whole is not None:
        return _times(tokens, at, number, place, last, tree)
    if "inch" in leaf:
        size = pot_size(tokens, place, last, tokens[place].low, number, tree, before)
        if size is not None:
            return Piece(size.kind, size.value, at, size.last, words_of(tokens, at, size.last))
    if "centimetre" in leaf:
        if pots_follow(tokens, last, tree):
            return Piece("size", f"{number.value:g} cm", at, last, words)
        return Piece("measure", None, at, last, words)
    lasting = _lasting(tokens, at, number, place, unit, tree) if "duration" in leaf else None
    if lasting is not None or "amount" not in leaf:
        return lasting
    if leaf["amount"] == "gal" and tokens[place].low == "gals" and number.value > 10:
        return None
    part, last = part_after(tokens, last)
    return Piece("amount", (number.value + part, leaf["amount"], number), at, last, words_of(tokens, at, last))


def _unit_place(tokens: list[Token], end: int, tree: dict[str, Any]) -> int:
    """Where the unit after a number would stand: behind a hyphen, `heaping` or `more` (`10 more days`)."""
    hyphen = tokens[end].low == "-" and tokens[end].glued and end + 1 < len(tokens) and tokens[end + 1].glued
    place = end + hyphen
    place += says_how_full(tokens, place, tree)
    if tokens[place].low == "more" and place + 1 < len(tokens):
        more = longest_phrase(tokens, place + 1, tree)
        place += more is not None and "duration" in more[1]
    return place


def _unit_at(tokens: list[Token], place: int, tree: dict[str, Any]) -> tuple[int, Leaf] | None:
    unit = longest_phrase(tokens, place, tree)
    if unit is not None and "pot_size" in unit[1] and unit[0] - place > 1:
        # "1 gallon pots": the number is of the gallon, though "gallon pots" are a size by themselves.
        return longest_phrase(tokens, place, tree, place + 1) or unit
    return unit


def _is_no_unit(
    tokens: list[Token], at: int, end: int, place: int, unit: tuple[int, Leaf], tree: dict[str, Any]
) -> bool:
    """Whether the words after a number are no unit of it: `l5` and `t5` after each other, a plant, cells of a tray."""
    last, leaf = unit
    if tokens[place].low in ("l", "t") and last < len(tokens) and is_glued_number(tokens[last]):
        return True
    if "plant" in leaf:
        return True
    return place == end and (
        _begins_plant(tokens, place, tree) or abbreviates_name(tokens, place, tree) or _names_cells(tokens, at, end)
    )


def opens_age(tokens: list[Token], place: int, count: float, tree: dict[str, Any]) -> bool:
    """`rooted 20 | wk 6`, `lost 6 | day 12`: how old plants are, after a count of them, and no length of time."""
    age = tokens[place + 1] if place + 1 < len(tokens) else None
    if tokens[place].low not in AGES or age is None or tokens[place].glued or count <= 1:
        return False
    ends = statement_ends(tokens, place + 2, tree) or tokens[place + 2].low in _BEFORE_NUMBERS
    return isinstance(age.value, int) and not age.glued and ends


def _degrees_of(
    tokens: list[Token], at: int, number: Number, place: int, last: int, leaf: Leaf, tree: dict[str, Any]
) -> Piece:
    """`80f`, `-2 c`; `2 c` of what is measured in cups are those."""
    words, value = words_of(tokens, at, last), number.value
    few = not tokens[place].glued or value < _FEWEST_DEGREES
    if tokens[place].low == "c" and _is_cups(tokens, place, tree) and few:
        return Piece("amount", (value, "cup", number), at, last, words)
    if at and tokens[at - 1].low == "-" and tokens[at].glued and not tokens[at - 1].glued:
        value = -value
    return Piece("temp", _celsius(value, leaf["temperature"]), at, last, words)


def _degrees(tokens: list[Token], at: int, value: float, last: int) -> Piece:
    """`80 degrees f`, `80 degrees`."""
    if last < len(tokens) and tokens[last].low in ("f", "c"):
        return Piece("temp", _celsius(value, tokens[last].low), at, last + 1, words_of(tokens, at, last + 1))
    return Piece("degrees", value, at, last, words_of(tokens, at, last))


def _celsius(value: float, scale: str) -> float:
    return round((to_celsius(value) if scale == "f" else value) + 0.0, 1) + 0.0


def _times(tokens: list[Token], at: int, number: Number, place: int, last: int, tree: dict[str, Any]) -> Piece:
    """`3 times`, `3x`; before a plant, cuttings or the size of pots (`30 x toyon`, `12 x 4in`) it is a count."""
    words = words_of(tokens, at, last)
    following = longest_phrase(tokens, last, tree) if tokens[place].low == "x" and last < len(tokens) else None
    if following is not None and ("plant" in following[1] or "cutting" in following[1]):
        return Piece("number", number, at, last, words)
    if tokens[place].low == "x" and _is_size(tokens, last, tree):
        return Piece("number", number, at, last, words)
    return Piece("times", number.whole, at, last, words)


def _is_size(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """The `4in` of `12 x 4in`, the `1 gal` of `6 x 1 gal`."""
    if at + 1 >= len(tokens) or tokens[at].kind != "number":
        return False
    unit = longest_phrase(tokens, at + 1, tree)
    return unit is not None and ("inch" in unit[1] or unit[1].get("amount") == "gal")


def _lasting(
    tokens: list[Token], at: int, number: Number, place: int, unit: tuple[int, Leaf], tree: dict[str, Any]
) -> Piece | None:
    """`20 min`, `6-8 weeks`, `1 hr 15 min`; None where a lone letter is no unit here."""
    last, leaf = unit
    if number.of is not None:
        # "45 of 60 days": how much of a time is over.
        return Piece("kept", None, at, last, words_of(tokens, at, last))
    value, last = _and_more(tokens, number.value, leaf["duration"], last, tree)
    length = length_of(value, leaf["duration"])
    lettered = tokens[place].low in ("d", "w", "m", "s", "h") and not _unit_letter(tokens, place, tree)
    if length is None or lettered:
        return None
    most = length_of(number.high, leaf["duration"]) if number.high else None
    return Piece("duration", (length, most), at, last, words_of(tokens, at, last))


def _names_cells(tokens: list[Token], at: int, end: int) -> bool:
    """`in 72s`: trays that go by the number of their cells, no seconds."""
    led = at > 0 and tokens[at - 1].low in ("in", "into")
    return led and tokens[end].low == "s" and tokens[end].glued and tokens[at].low in CELL_TRAYS


def _counts_cells(tokens: list[Token], at: int, end: int) -> bool:
    """`two | 72s`, `128s | x 2`: several trays that go by the number of their cells, no seconds."""
    if tokens[end].low != "s" or not tokens[end].glued or tokens[at].low not in CELL_TRAYS:
        return False
    before = at - 1 - (at > 1 and tokens[at - 1].low in _BY)
    named = before > 0 and tokens[before - 1].low in ("lot", "tray", "lots", "trays", "#")
    several = number_of_token(tokens[before]) if before >= 0 and not tokens[at].glued and not named else None
    if several is None and end + 2 < len(tokens) and tokens[end + 1].low in _BY:
        several = number_of_token(tokens[end + 2])
    return several is not None and several in _SEVERAL


def is_glued_number(token: Token) -> bool:
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
    after = tokens[end + 1] if end + 1 < len(tokens) else None
    closes = statement_ends(tokens, end + 1, tree) or (after is not None and after.kind == "mark" and after.low != "%")
    if isinstance(minutes, int) and len(tokens[end].low) == 2 and minutes < 60 and (tokens[end].glued or closes):
        return value + minutes / 60, end + 1
    return value, end


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


def _is_cups(tokens: list[Token], place: int, tree: dict[str, Any]) -> bool:
    """`2 c of bleach`, `sowed 1c toyon`: what is measured in cups follows."""
    after = place + 1
    plant = longest_phrase(tokens, after, tree) if after < len(tokens) else None
    sown = plant is not None and "plant" in plant[1] and tokens[place].glued
    return after < len(tokens) and (tokens[after].low == "of" or sown)
