"""What stands in a note, piece by piece: subjects, dates, numbers with their units, phrases, marks.

Rules
1. One walk from left to right; at each place the reading that needs its words most goes first: subjects, dates,
   numbers with a unit, phrases, bare words.
2. A number with a unit is that quantity and never a count. Which act takes it is decided later.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any, Final

from core.lengths import Length
from core.notes.assembly.bare_numbers import bare_number
from core.notes.assembly.quantities import phrase_piece, quantity
from core.notes.assembly.subjects import read_subjects
from core.notes.days.clocks import read_hour_after_at
from core.notes.days.date_spans import LOOSE_STARTS
from core.notes.days.dates import length_of, read_moment
from core.notes.days.moments import Moment
from core.notes.words.names_short import abbreviates_name
from core.notes.words.number_words import NUMBER_STARTS, number_of_word
from core.notes.words.numbers import Number, read_number
from core.notes.words.pieces import BREAKS, SUBJECTS, Piece, longest_phrase, statement_ends, words_of
from core.notes.words.tokens import Token
from core.vocabulary import Leaf, words
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import END, read_toml, small_words, spelled_out, split_words

_NAMED_BY_NUMBER: Final = frozenset({
    "all", "container", "cutting", "equal_parts", "fraction", "left", "none", "plant", "pot_size", "span", "thing",
    "vague", "vent_open",
})  # fmt: skip
"""The meanings of a phrase that begins with a number and says more than it (`4 in pots`)."""
_NURSERY_FLAT: Final[str] = read_toml("small_words.toml")["quantities"]["nursery_flat"]
_BEFORE_FLATS: Final = frozenset({"a", "in", "the", "per", "into"})
_LONGER_KINDS: Final = frozenset({"amount", "number"})
"""What may say more than the phrase that it begins with (`a half dozen`)."""
_NUMBER_KINDS: Final = frozenset({"number", "fraction", "colon"})
_PARTING: Final = frozenset({",", ".", ";", ":", "!", "?", "(", ")"})
"""Marks that are nothing else, whatever stands beside them."""
_DATE_KINDS: Final = frozenset({"number", "colon", "iso", "slashes"})
_HOUR_KINDS: Final = frozenset({"number", "colon", "word"})
_BEFORE_HOURS: Final = frozenset(read_toml("date_words.toml")["before_hours"])


def assemble(tokens: list[Token], tree: dict[str, Any]) -> list[Piece]:
    """The pieces of a note in order; every token belongs to one."""
    pieces: list[Piece] = []
    at = 0
    while at < len(tokens):
        piece = _piece_at(tokens, at, tree, pieces)
        if piece.kind != "duration" or not _joins_length(pieces, piece):
            pieces.append(piece)
        if piece.low == "ago":
            _long_ago(pieces)
        elif piece.kind == "colon" and len(pieces) > 1:
            _count_after_lot(pieces[-2], piece)
        at = piece.last
    return pieces


def _count_after_lot(named: Piece, piece: Piece) -> None:
    """Makes the 20 of `lot9:20 rooted` a count, as the 9 is the lot already, in place."""
    bare = named.kind in SUBJECTS and (named.low.isalpha() or named.low == "#") and named.last == piece.first
    if bare and named.value == (str(piece.value[0]),):
        piece.kind, piece.value = "number", Number(float(piece.value[1]))


def _joins_length(pieces: list[Piece], piece: Piece) -> bool:
    """Joins a length of time to the one right before it, or before its "and" (`1 hr and 15 min`), in place; whether it
    belongs there.
    """
    if len(pieces) > 1 and pieces[-1].low in ("and", "&") and pieces[-2].kind == "duration":
        joins = not _joined_length(pieces[-2], piece)
        del pieces[len(pieces) - joins :]
        return joins
    return bool(pieces) and pieces[-1].kind == "duration" and not _joined_length(pieces[-1], piece)


def _long_ago(pieces: list[Piece]) -> None:
    """Makes a length of time before `ago` the moment that it names (`half an hour ago`), in place."""
    if len(pieces) < 2 or pieces[-2].kind != "duration":
        return
    word, length = pieces.pop(), pieces.pop()
    least, most = length.value
    moment = Moment(ago=least) if most is None else Moment(loose=True)
    pieces.append(Piece("moment", moment, length.first, word.last, f"{length.low} ago"))


def _joined_length(first: Piece, second: Piece) -> bool:
    """Joins `1 hr 15 min` to one length in the first piece; True where the two do not belong together."""
    longer, most = first.value
    shorter, also = second.value
    whole = (longer.months, longer.days, longer.seconds), (shorter.months, shorter.days, shorter.seconds)
    if (
        most is not None
        or also is not None
        or (shorter.seconds >= max(longer.seconds, 1) and not longer.days and not longer.months)
    ):
        return True
    if whole[1] >= whole[0]:
        return True
    first.value = (
        Length(
            months=longer.months + shorter.months,
            days=longer.days + shorter.days,
            seconds=longer.seconds + shorter.seconds,
        ),
        None,
    )
    first.last, first.low = second.last, f"{first.low} {second.low}"
    return False


def _piece_at(tokens: list[Token], at: int, tree: dict[str, Any], before: list[Piece]) -> Piece:
    """The piece that begins at a token: what needs its words most goes first."""
    token = tokens[at]
    if token.kind == "mark" and token.low in _PARTING:
        return Piece("break", token.low, at, at + 1, token.low)
    if token.kind == "line":
        return Piece("break", "\n", at, at + 1, "\n")
    if token.kind == "quote":
        return Piece("quote", " ".join(token.low[1:-1].split()), at, at + 1, token.low)
    piece = None if _begins_words_only(tokens, at) else _piece_of_several(tokens, at, tree, before)
    if piece is not None:
        return piece
    phrase = _phrase_before_subject(tokens, at, tree)
    if phrase is not None and not ("day" in phrase[1] and len(phrase[1]) == 1 and is_given_name(token.low)):
        # The "tom" of "vera and tom" is no day.
        return phrase_piece(tokens, at, *phrase)
    if token.kind != "word":
        return Piece("mark", None, at, at + 1, token.low)
    plural = _singular_plant(token.low, tree) if token.low.endswith("s") and len(token.low) > 3 else None
    if plural is not None:
        return Piece("phrase", None, at, at + 1, token.low, plural)
    return Piece("word", None, at, at + 1, token.low)


def _piece_of_several(tokens: list[Token], at: int, tree: dict[str, Any], before: list[Piece]) -> Piece | None:
    """What is read from more than the words of a phrase: subjects, days and hours, names, numbers, marks."""
    piece = bare_number(tokens, at, tree) or _subject(tokens, at, tree) or _moment(tokens, at, tree)
    return piece or _name_of_several(tokens, at, tree) or _number(tokens, at, tree, before) or _mark(tokens, at)


def _begins_words_only(tokens: list[Token], at: int) -> bool:
    """Whether a token is a word that nothing but a phrase begins with."""
    token = tokens[at]
    if token.kind != "word" or not _is_only_word(token.low):
        return False
    return at + 1 >= len(tokens) or not tokens[at + 1].glued


@lru_cache(maxsize=4096)
def _is_only_word(low: str) -> bool:
    """Whether a word names no subject, day, hour, number or letter."""
    return not (
        low in _SUBJECT_STARTS or low in _date_starts() or low in _BEFORE_HOURS or low == "a" or _begins_number(low)
    )


def _subject(tokens: list[Token], at: int, tree: dict[str, Any]) -> Piece | None:
    """`lot 14`, `trays 1-3`, `26-014`."""
    token = tokens[at]
    if token.kind != "lot" and token.low not in _SUBJECT_STARTS:
        return None
    if token.low == "lot" and at and tokens[at - 1].low == "parking":
        return None
    if token.low == "t" and any(one.low == "mother" for one in tokens[max(0, at - 2) : at]):
        return None  # "from mother t4"
    ranged = _range_with_unit(tokens, at, tree) if token.kind == "lot" else None
    if ranged is not None:
        return ranged
    subjects = read_subjects(tokens, at, tree)
    if subjects is None:
        return None
    return Piece(subjects[0], subjects[1], at, subjects[2], words_of(tokens, at, subjects[2]))


def _moment(tokens: list[Token], at: int, tree: dict[str, Any]) -> Piece | None:
    """A day or an hour: `yesterday`, `3/5`, `at 9`, `by 4pm`."""
    token = tokens[at]
    if token.kind in _DATE_KINDS or (token.kind == "word" and token.low in _date_starts()):
        moment = read_moment(tokens, at, tree)
        if moment is not None and not (token.kind == "colon" and moment[0].half == ""):
            return Piece("moment", moment[0], at, moment[1], words_of(tokens, at, moment[1]))
    if token.low not in _BEFORE_HOURS or at + 1 >= len(tokens) or tokens[at + 1].kind not in _HOUR_KINDS:
        return None
    hour = read_hour_after_at(tokens, at + 1, tree)
    if hour is None or not (token.low in ("at", "@") or hour[0].half or tokens[at + 1].kind == "colon"):
        return None
    clock = Moment(hour=hour[0].hour, minute=hour[0].minute, half=hour[0].half)
    return Piece("moment", clock, at, hour[1], words_of(tokens, at, hour[1]))


def _name_of_several(tokens: list[Token], at: int, tree: dict[str, Any]) -> Piece | None:
    """Words that belong together as a name, or as how cuttings are: `one-seeded`, `gh2`, `var. foliolosum`."""
    if tokens[at].kind != "word":
        return None
    if _is_compound(tokens, at, tree):
        kind = "kept" if tokens[at + 2].low in _CUT_PARTS else "word"
        return Piece(kind, None, at, at + 3, words_of(tokens, at, at + 3))
    if _is_coded(tokens, at, tree):
        return Piece("phrase", None, at, at + 2, words_of(tokens, at, at + 2), {"place_word": True})
    if abbreviates_name(tokens, at, tree):
        return Piece("word", None, at, at + 3, words_of(tokens, at, at + 3))
    return None


def _number(tokens: list[Token], at: int, tree: dict[str, Any], before: list[Piece]) -> Piece | None:
    """A number, with its unit where it has one; a phrase that begins with one (`4 in pots`) where that says more."""
    token = tokens[at]
    if token.kind not in _NUMBER_KINDS and not (token.kind in ("word", "mark") and _begins_number(token.low)):
        return None
    named = longest_phrase(tokens, at, tree)
    if token.low == _NURSERY_FLAT and named is not None and at and tokens[at - 1].low in _BEFORE_FLATS:
        return phrase_piece(tokens, at, *named)
    sown = token.low == _NURSERY_FLAT and any(one.kind == "amount" for one in before)
    if sown and statement_ends(tokens, at + 1, tree):
        return Piece("kept", None, at, at + 1, token.low)
    piece = quantity(tokens, at, tree, before)
    if named is None or named[0] - at < 2 or _NAMED_BY_NUMBER.isdisjoint(named[1]):
        return piece
    longer = piece is not None and piece.kind in _LONGER_KINDS and piece.last > named[0] and "container" not in named[1]
    return piece if longer else phrase_piece(tokens, at, *named)


def _mark(tokens: list[Token], at: int) -> Piece | None:
    """A mark between words, a minus before a number, or the letter of a bench."""
    token = tokens[at]
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    glued = after is not None and after.glued
    if token.low == "-" and not token.glued and after is not None and glued and after.kind == "number":
        return Piece("mark", None, at, at + 1, "-")
    if token.kind == "mark" and token.low in BREAKS:
        if token.low == "-" and token.glued and glued:
            return Piece("dash", "-", at, at + 1, "-")
        return Piece("break", _spaced(tokens, at), at, at + 1, token.low)
    if token.low == "a" and _letters_bench(tokens, at):
        return Piece("letter", None, at, at + 1, "a")
    return None


def _letters_bench(tokens: list[Token], at: int) -> bool:
    """`from bench a to bench c`: the letter of a bench, no article."""
    if not at or tokens[at - 1].low not in _BENCHES:
        return False
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    return after is None or after.kind in ("line", "mark") or after.low in ("to", "and", "into")


_BENCHES: Final = small_words("places", "lettered_benches")


def _range_with_unit(tokens: list[Token], at: int, tree: dict[str, Any]) -> Piece | None:
    """`90-120 days` looks like a lot of the year 90 and is a range of days."""
    unit = longest_phrase(tokens, at + 1, tree) if at + 1 < len(tokens) else None
    low, high = (int(part) for part in tokens[at].low.split("-"))
    if unit is None or "duration" not in unit[1]:
        return None
    if len(tokens[at + 1].low) < 2 and not (low > _LAST_YEAR and statement_ends(tokens, unit[0], tree)):
        return None
    least, most = length_of(low, unit[1]["duration"]), length_of(high, unit[1]["duration"])
    if least is None or most is None or low >= high:
        return None
    return Piece("duration", (least, most), at, unit[0], words_of(tokens, at, unit[0]))


_LAST_YEAR: Final = 50
"""No lot is of a later year (`90-120 d` is a length of time)."""


def _spaced(tokens: list[Token], at: int) -> str:
    """A mark as its value; a slash between blanks is told apart from one inside something (`perl/verm`)."""
    apart = tokens[at].low == "/" and not tokens[at].glued and not (at + 1 < len(tokens) and tokens[at + 1].glued)
    return " / " if apart else tokens[at].low


def _phrase_before_subject(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[int, Leaf] | None:
    """The longest phrase that leaves a lot or tray with its number whole (`in tray | 30` is no phrase)."""
    phrase = longest_phrase(tokens, at, tree)
    if phrase is None or phrase[0] == at + 1:
        return phrase
    if tokens[phrase[0] - 1].low == "root":
        # "took root cuttings" has no roots yet.
        roots = longest_phrase(tokens, phrase[0] - 1, tree)
        if roots is not None and roots[0] > phrase[0]:
            phrase = longest_phrase(tokens, at, tree, phrase[0] - 1)
    if phrase is not None and phrase[0] - at > 1 and tokens[phrase[0] - 1].low == "in" and _sums_up(tokens, phrase[0]):
        return longest_phrase(tokens, at, tree, phrase[0] - 1)
    while phrase is not None and phrase[0] - at > 1 and tokens[phrase[0] - 1].low in _SUBJECT_STARTS:
        if read_subjects(tokens, phrase[0] - 1, tree) is None:
            break
        phrase = longest_phrase(tokens, at, tree, phrase[0] - 1)
    if phrase is not None and phrase[0] - at > 1 and tokens[phrase[0] - 1].low in ("a", "an"):
        number = read_number(tokens, phrase[0] - 1, tree)
        if number is not None and number[1] > phrase[0]:
            phrase = longest_phrase(tokens, at, tree, phrase[0] - 1)
    if (
        phrase is not None
        and phrase[0] < len(tokens)
        and phrase[0] - at > 1
        and tokens[phrase[0]].low in ("frame", "frames", "house", "room")
        and tokens[phrase[0] - 1].low in ("cold", "cool", "hot")
    ):
        return longest_phrase(tokens, at, tree, phrase[0] - 1)
    return phrase


def _sums_up(tokens: list[Token], at: int) -> bool:
    """`15 rooted in | all`: so many altogether."""
    ends = at + 1 >= len(tokens) or tokens[at + 1].kind in ("line", "mark")
    return at < len(tokens) and ends and tokens[at].low in ("all", "total")


_SUBJECT_STARTS = frozenset({"lot", "lots", "tray", "trays", "#", "l", "t", "all", "every", "lt"})


def _is_coded(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`gh2`, `hse3`: the short name of a place with its number, which counts nothing."""
    if not 1 < len(tokens[at].low) < 5 or at + 1 >= len(tokens) or tokens[at].low in _SUBJECT_STARTS:
        return False
    number = tokens[at + 1]
    return number.kind == "number" and number.glued and longest_phrase(tokens, at, tree) is None


def _is_compound(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """`one-seeded juniper`, `three-leaf sumac`: a number's word joined by a hyphen to an unknown word, or to a part of
    a plant before a known one, is part of a name.
    """
    if number_of_word(tokens[at].low) is None or at + 2 >= len(tokens) or tokens[at + 1].low != "-":
        return False
    joined = tokens[at + 1].glued and tokens[at + 2].glued and tokens[at + 2].kind == "word"
    if joined and tokens[at + 2].low in _COUNTED_PARTS and _plant_follows(tokens, at + 3, tree):
        return True
    known = longest_phrase(tokens, at, tree)
    return (
        joined
        and number_of_word(tokens[at + 2].low) is None
        and longest_phrase(tokens, at + 2, tree) is None
        and (known is None or known[0] <= at + 1)
    )


_CUT_PARTS: Final = small_words("names", "cut_parts")
_COUNTED_PARTS: Final = small_words("names", "counted_parts")


def _plant_follows(tokens: list[Token], at: int, tree: dict[str, Any]) -> bool:
    """The plant whose name begins so (`three-leaf | sumac`)."""
    plant = longest_phrase(tokens, at, tree) if at < len(tokens) else None
    return plant is not None and "plant" in plant[1]


def _begins_number(low: str) -> bool:
    return low in NUMBER_STARTS or low in _about_starts() or number_of_word(low) is not None


@cache
def _about_starts() -> frozenset[str]:
    """The first words of what is said for "about" before a number."""
    patterns = read_toml("cues.toml")["approx"]
    return frozenset((">", *(split_words(phrase)[0] for pattern in patterns for phrase in spelled_out(pattern))))


@cache
def _date_starts() -> frozenset[str]:
    """The first words of dates and hours."""
    roles = ("weekday", "day", "feast", "hour", "month", "ordinal")
    tree = words().tree
    known = {word for word, node in tree.items() if END in node and any(role in node[END] for role in roles)}
    return frozenset(known) | LOOSE_STARTS | frozenset(read_toml("date_words.toml")["starts"])


_PLURAL_ES = ("ses", "xes", "zes", "ches", "shes", "oes")


def _singular_plant(word: str, tree: dict[str, Any]) -> Leaf | None:
    stems = [word[:-1]]
    if word.endswith(_PLURAL_ES):
        stems.append(word[:-2])
    if word.endswith("ies"):
        stems.append(word[:-3] + "y")
    for stem in stems:
        node = tree.get(stem)
        if node is not None and END in node and "plant" in node[END] and len(node[END]) == 1:
            return {"plant": word}
    return None
