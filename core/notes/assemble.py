"""What stands in a note, piece by piece: subjects, dates, numbers with their units, phrases, marks.

Rules
1. One walk from left to right; at each place the reading that needs its words most goes first: subjects, dates, numbers with
   a unit, phrases, bare words.
2. A number with a unit is that quantity and never a count. Which act takes it is decided later.
"""

from __future__ import annotations

from typing import Any

from core.lengths import Length
from core.notes.dates import length_of, read_hour_after_at, read_moment
from core.notes.moments import Moment
from core.notes.numbers import WORD_VALUES, Number, is_approx, read_number
from core.notes.pieces import BREAKS, NO_ROLES, Piece, longest_phrase, words_of
from core.notes.subjects import read_subjects
from core.notes.tokens import Token
from core.vocabulary import Leaf

_NAMED_BY_NUMBER = {
    "container",
    "pot_size",
    "vent_open",
    "cutting",
    "plant",
    "left",
    "fraction",
    "all",
    "vague",
    "thing",
    "none",
}
_NUMBER_KINDS = frozenset({"number", "fraction", "colon"})
_SMALL_POTS = 10


def assemble(tokens: list[Token], tree: dict[str, Any]) -> list[Piece]:
    """The pieces of a note in order; every token belongs to one."""
    pieces: list[Piece] = []
    at = 0
    while at < len(tokens):
        piece = _piece_at(tokens, at, tree, pieces)
        if (
            piece.kind == "duration"
            and len(pieces) > 1
            and pieces[-1].low in ("and", "&")
            and pieces[-2].kind == "duration"
            and not _joined_length(pieces[-2], piece)
        ):
            pieces.pop()
        elif (
            piece.kind == "duration"
            and pieces
            and pieces[-1].kind == "duration"
            and not _joined_length(pieces[-1], piece)
        ):
            pass
        else:
            pieces.append(piece)
        at = piece.last
    return pieces


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
    token = tokens[at]
    kind = token.kind
    if kind == "line":
        return Piece("break", "\n", at, at + 1, "\n")
    if kind == "quote":
        return Piece("quote", token.low[1:-1].strip(), at, at + 1, token.low)
    subjects = read_subjects(tokens, at, tree) if token.low in _SUBJECT_STARTS or kind == "lot" else None
    if subjects is not None:
        return Piece(subjects[0], subjects[1], at, subjects[2], words_of(tokens, at, subjects[2]))
    if kind in ("number", "colon", "iso", "slashes") or (kind == "word" and token.low in _date_starts(tree)):
        moment = read_moment(tokens, at, tree)
        if moment is not None and not (kind == "colon" and moment[0].half == ""):
            return Piece("moment", moment[0], at, moment[1], words_of(tokens, at, moment[1]))
    if kind in _NUMBER_KINDS or token.low in _NUMBER_STARTS:
        named = longest_phrase(tokens, at, tree)
        if named is not None and named[0] - at > 1 and _NAMED_BY_NUMBER & named[1].keys():
            return Piece("phrase", None, at, named[0], words_of(tokens, at, named[0]), named[1])
        piece = _quantity(tokens, at, tree, before)
        if piece is not None:
            return piece
    if (
        token.low in ("at", "around", "about", "by", "til", "till", "until", "@")
        and at + 1 < len(tokens)
        and tokens[at + 1].kind in ("number", "colon", "word")
    ):
        hour = read_hour_after_at(tokens, at + 1)
        if hour is not None and (token.low in ("at", "@") or hour[0].half or tokens[at + 1].kind == "colon"):
            moment = Moment(hour=hour[0].hour, minute=hour[0].minute, half=hour[0].half)
            return Piece("moment", moment, at, hour[1], words_of(tokens, at, hour[1]))
    if (
        token.low == "-"
        and not token.glued
        and at + 1 < len(tokens)
        and tokens[at + 1].glued
        and tokens[at + 1].kind == "number"
    ):
        return Piece("mark", None, at, at + 1, "-")
    if kind == "mark" and token.low in BREAKS:
        if token.low == "-" and token.glued and at + 1 < len(tokens) and tokens[at + 1].glued:
            return Piece("dash", "-", at, at + 1, "-")
        return Piece("break", token.low, at, at + 1, token.low)
    phrase = _phrase_before_subject(tokens, at, tree)
    if phrase is not None:
        end, leaf = phrase
        if "span" in leaf:
            return Piece("duration", (Length.from_iso(leaf["span"]), None), at, end, words_of(tokens, at, end), leaf)
        return Piece("phrase", None, at, end, words_of(tokens, at, end), leaf)
    if kind == "word":
        if token.low.endswith("s") and len(token.low) > 3:
            leaf = _singular_plant(token.low, tree)
            if leaf is not None:
                return Piece("phrase", None, at, at + 1, token.low, leaf)
        return Piece("word", None, at, at + 1, token.low)
    return Piece("mark", None, at, at + 1, token.low)


def _phrase_before_subject(tokens: list[Token], at: int, tree: dict[str, Any]) -> tuple[int, Leaf] | None:
    """The longest phrase that leaves a lot or tray with its number whole (`in tray | 30` is no phrase)."""
    phrase = longest_phrase(tokens, at, tree)
    while phrase is not None and phrase[0] - at > 1 and tokens[phrase[0] - 1].low in _SUBJECT_STARTS:
        if read_subjects(tokens, phrase[0] - 1, tree) is None:
            break
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


_SUBJECT_STARTS = frozenset({"lot", "lots", "tray", "trays", "#", "l", "t", "all", "every", "lt"})
_NUMBER_STARTS = frozenset({"about", "abt", "around", "approx", "approximately", "roughly", "circa", "ca", "~", "nearly", "almost", "maybe", "est", "≈", "over",
                            "a", "an", "half", "dozen", "doz", "couple", *WORD_VALUES})  # fmt: skip
_date_words: dict[int, frozenset[str]] = {}


def _date_starts(tree: dict[str, Any]) -> frozenset[str]:
    known = _date_words.get(id(tree))
    if known is None:
        from core.vocabulary.loading import END

        roles = ("weekday", "day", "hour", "month")
        found = {
            "last",
            "next",
            "this",
            "coming",
            "past",
            "the",
            "a",
            "an",
            "end",
            "eom",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "yesterday",
            "earlier",
            "day",
        }
        found |= {word for word, node in tree.items() if END in node and any(role in node[END] for role in roles)}
        if len(_date_words) > 8:
            _date_words.clear()
        known = _date_words[id(tree)] = frozenset(found)
    return known


def _singular_plant(word: str, tree: dict[str, Any]) -> Leaf | None:
    from core.vocabulary.loading import END

    for stem in (word[:-1], word[:-2] if word.endswith("es") else "", word[:-3] + "y" if word.endswith("ies") else ""):
        node = tree.get(stem)
        if node is not None and END in node and "plant" in node[END] and len(node[END]) == 1:
            return {"plant": word}
    return None


def _quantity(tokens: list[Token], at: int, tree: dict[str, Any], before: list[Piece]) -> Piece | None:
    token = tokens[at]
    if token.kind == "colon":
        return Piece("colon", token.value, at, at + 1, token.low)
    start = at
    if is_approx(token) and at + 1 < len(tokens) and tokens[at + 1].kind == "fraction":
        at += 1
        token = tokens[at]
    if token.kind == "fraction":
        if (
            start
            and tokens[start - 1].low in ("on", "since", "until")
            and 1 <= token.value[0] <= 12
            and 1 <= token.value[1] <= 31
        ):
            return Piece("moment", Moment(month=token.value[0], day=token.value[1]), start, at + 1, token.low)
        return _fraction(tokens, start, at, tree)
    found = read_number(tokens, start, tree)
    if found is None:
        return _one_of_unit(tokens, start, tree)
    number, end = found
    if token.low == "one" and (
        end >= len(tokens)
        or (start and tokens[start - 1].low in ("the", "this", "that", "each", "which", "every", "no"))
    ):
        return None
    measured = _with_unit(tokens, start, number, end, tree, before)
    if measured is not None:
        return measured
    return Piece("number", number, start, end, words_of(tokens, start, end))


def _one_of_unit(tokens: list[Token], at: int, tree: dict[str, Any]) -> Piece | None:
    """`a gallon`, `a handful of`: one of a measure."""
    half = tokens[at].low == "half" and at + 1 < len(tokens) and tokens[at + 1].low in ("a", "an")
    at = at + 1 if half else at
    if tokens[at].low not in ("a", "an") or at + 1 >= len(tokens):
        return None
    unit = longest_phrase(tokens, at + 1, tree)
    if (
        unit is None
        or "amount" not in unit[1]
        or unit[1]["amount"] in ("bag", "g")
        or tokens[at + 1].low == "l"
        or tokens[at + 1].low in ("gals",)
    ):
        return None
    end = unit[0]
    at = at - 1 if half else at
    return Piece("amount", (0.5 if half else 1, unit[1]["amount"], Number(1)), at, end, words_of(tokens, at, end))


def _fraction(tokens: list[Token], start: int, at: int, tree: dict[str, Any]) -> Piece:
    above, below = tokens[at].value
    end = at + 1
    if below and above < below and end < len(tokens):
        unit = longest_phrase(tokens, end, tree)
        if unit is not None:
            if "inch" in unit[1] and below <= 8:
                return Piece("size", f"{above / below:g} in", start, unit[0], words_of(tokens, start, unit[0]))
            if "duration" in unit[1]:
                length = length_of(above / below, unit[1]["duration"])
                if length is not None:
                    return Piece("duration", (length, None), start, unit[0], words_of(tokens, start, unit[0]))
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
    unit = longest_phrase(tokens, place, tree)
    low = tokens[place].low
    value, high = number.value, number.high
    if unit is None:
        return None
    last, leaf = unit
    words = words_of(tokens, at, last)
    if "temperature" in leaf:
        if low == "c" and not tokens[place].glued and _is_cups(tokens, place):
            return None
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
        if low == "x" and last < len(tokens) and tokens[last].kind == "number" and tokens[last].glued:
            return None
        return Piece("times", number.whole, at, last, words)
    if "inch" in leaf:
        size = _pot_size(tokens, place, last, low, number, tree, before)
        if size is not None:
            return Piece(size.kind, size.value, at, size.last, words_of(tokens, at, size.last))
    if "duration" in leaf:
        length = length_of(value, leaf["duration"])
        if length is not None and not (low in ("d", "w", "m", "s", "h") and not _unit_letter(tokens, place)):
            return Piece("duration", (length, length_of(high, leaf["duration"]) if high else None), at, last, words)
    if "amount" in leaf:
        if leaf["amount"] == "gal" and low == "gals" and value > 10:
            return None
        return Piece("amount", (value, leaf["amount"], number), at, last, words)
    return None


def _unit_letter(tokens: list[Token], place: int) -> bool:
    """A unit of one letter stands right at its number, or at the end of its clause (`60 d`)."""
    return (
        tokens[place].glued
        or place + 1 >= len(tokens)
        or tokens[place + 1].kind != "word"
        or tokens[place + 1].low in ("and", "then", "in", "at", "so", "on")
    )


def _is_cups(tokens: list[Token], place: int) -> bool:
    return place + 1 < len(tokens) and tokens[place + 1].low == "of"


def _pot_size(
    tokens: list[Token], place: int, last: int, low: str, number: Number, tree: dict[str, Any], before: list[Piece]
) -> Piece | None:
    value = number.value
    if last < len(tokens) and tokens[last].low == "deep":
        return Piece("depth", float(value), place, last + 1, "depth")
    if last < len(tokens) and tokens[last].low in ("tall", "long", "apart", "high", "wide", "roots", "root"):
        return None
    if low == "in" and not tokens[place].glued and last < len(tokens):
        if value > _SMALL_POTS:
            return None
        following = longest_phrase(tokens, last, tree)
        mark = tokens[last]
        stops = mark.kind in ("line",) or mark.low in BREAKS
        potlike = (
            following is not None
            and "container" in following[1]
            and following[1]["container"] in ("pot", "liner", "band", "tube")
        )
        if (
            not stops
            and not potlike
            and mark.low not in ("water", "of", "deep", "tall", "squares", "square", "rounds", "and")
        ):
            return None
        led = any(
            piece.kind in ("number", "fraction") or "all" in piece.roles or "vague" in piece.roles
            for piece in before[-6:]
        ) or (bool(before) and before[-1].low in ("to", "into"))
        if potlike and not led:
            return None
        if mark.low in ("water", "of") and value > 4:
            return None
        if mark.low == "and" and not any(piece.kind in ("number", "fraction") for piece in before[-6:]):
            return None
    if value > 24:
        return None
    written = f"{value:g}"
    return Piece("size", f"{written} in", place, last)


def lots_before_colons(pieces: list[Piece]) -> None:
    """A bare number that leads a clause before a colon or a dash is a lot (`14: 31 rooted`), in place; the mark is dropped."""
    at = 0
    while at + 1 < len(pieces):
        piece, mark = pieces[at], pieces[at + 1]
        leads = at == 0 or pieces[at - 1].kind == "break"
        if (
            not leads
            and piece.kind == "number"
            and _is_bare(piece.value)
            and mark.low == ":"
            and mark.kind == "break"
            and at + 2 < len(pieces)
            and pieces[at + 2].kind in ("number", "fraction", "percent")
        ):
            pieces.insert(at, Piece("break", ",", piece.first, piece.first, ","))
            at += 1
            leads = True
        if piece.kind == "number" and _is_bare(piece.value) and _plain_list(pieces, at):
            end = _listed_numbers(pieces, at)
            numbers = tuple(one.low for one in pieces[at:end] if one.kind == "number")
            pieces[at:end] = [Piece("lots", numbers, piece.first, pieces[end - 1].last, "lots")]
            at += 1
            continue
        if leads and piece.kind == "number" and _is_bare(piece.value):
            end = _listed_numbers(pieces, at)
            if end > at + 1 and end < len(pieces) and pieces[end].low == ":":
                numbers = tuple(one.low for one in pieces[at:end] if one.kind == "number")
                pieces[at : end + 1] = [Piece("lots", numbers, piece.first, pieces[end - 1].last, "lots")]
                continue
        if (
            leads
            and piece.kind == "number"
            and mark.kind == "break"
            and mark.low in (":", "-")
            and _is_bare(piece.value)
        ):
            pieces[at] = Piece("lots", (piece.low,), piece.first, piece.last, piece.low)
            del pieces[at + 1]
        elif leads and piece.kind == "fraction" and mark.low == ":":
            above, below, _ = piece.value
            if 1 <= above <= 12 and 1 <= below <= 31:
                pieces[at] = Piece("moment", Moment(month=above, day=below), piece.first, piece.last, piece.low)
        elif (
            leads
            and piece.kind in ("lots", "trays", "moment", "person")
            and mark.kind == "break"
            and mark.low in (":", "-")
        ):
            del pieces[at + 1]
        at += 1


def _plain_list(pieces: list[Piece], at: int) -> bool:
    """Whether bare numbers joined by "and" stand for lots: nothing that they could count follows (`misted 3, 4 and 5`)."""
    end = _listed_numbers(pieces, at)
    if end == at + 1 or not any(one.low in ("and", "&") for one in pieces[at:end]):
        return False
    if at and (
        pieces[at - 1].kind not in ("break",)
        and not (
            "act" in pieces[at - 1].roles
            and not pieces[at - 1].roles["act"].counts_before
            and pieces[at - 1].roles["act"].act in ("water", "cover", "air", "vent", "tend", "harden", "uncover")
        )
    ):
        return False
    if end >= len(pieces):
        return True
    after = pieces[end]
    if after.kind == "break":
        return after.low != ":" or True
    return (
        "all" in after.roles or "none" in after.roles or ("act" in after.roles and not after.roles["act"].counts_before)
    )


def _listed_numbers(pieces: list[Piece], at: int) -> int:
    end = at + 1
    while (
        end + 1 < len(pieces)
        and pieces[end].low in ("and", "&", ",", "+")
        and pieces[end + 1].kind == "number"
        and _is_bare(pieces[end + 1].value)
    ):
        end += 2
    return end


def _is_bare(number: Number) -> bool:
    return number.whole is not None and number.high is None and number.of is None and not number.approx


__all__ = ["NO_ROLES", "Leaf", "assemble", "lots_before_colons"]
