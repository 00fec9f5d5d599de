"""Deeds told in other words than those of the bench, put into plain ones before anything else is read: `kit has dibs on
6 toyon` is `reserved 6 toyon for kit`.

Rules
1. A turn of phrase is read where a statement begins with it, but for a day, a person and small words before it, and
   ends with it, or goes on with a day or a small word: so one that is planned, denied, heard or asked is none.
2. Its words are put away; the counts, lots, places and people in it are told again in the order of the plain words.
3. One that goes on after "and" with the plants that begin its statement is told of those
   (`lots 12 and 13 had a drink | and are one lot now, 12`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass
from typing import Final

from core.notes.names.people import may_be_name
from core.notes.words.pieces import COUNTS, NO_ROLES, SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import begin_of_statement
from core.notes.words.steps import how_rare, looks_for
from core.notes.words.tokens import Token
from core.vocabulary import words
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import read_toml, small_words

_FILE: Final = read_toml("turns_of_phrase.toml")
_BEFORE: Final = frozenset(_FILE["around"]["before"])
_NOBODY: Final = frozenset(_FILE["around"]["nobody"])
_BUGS: Final = frozenset(_FILE["around"]["bugs"])
_LEADING: Final = _FILE["around"]["leading"]
_GROUPS: Final = small_words("places", "ends") | small_words("groups", "groups") | small_words("groups", "gatherings")
_ILLS: Final = small_words("diseases", "names")
_TITLES: Final = small_words("people", "titles")
_PLACES: Final = small_words("places", "structures") | frozenset(_FILE["around"]["places"])
_PART: Final = re.compile(r"\{[^{}]*\}|<[^<>]*>|\S+")
_AND: Final = frozenset({"and", "&", "and then"})
_JOINING: Final = frozenset({"and", "&", "+", "of", "from", "in", "out of", "the", "all", "all of"})
_PRONOUNS: Final = frozenset({"they", "he", "she", "some", "people", "we", "i"})
_UNSURE: Final = frozenset({"plan", "hearsay", "condition", "negation", "none", "to_do"})
_OWNED: Final = 2
"""How long the `'s` of `finn's` is."""
_SIGNS: Final = {
    "size": "§s", "amount": "§a", "moment": "§m", "duration": "§d", "fraction": "§q", "percent": "§q", "trays": "§t",
    "quote": "§u", "person": "§w",
}  # fmt: skip
_ONE: Final = r"(?:the |our |lot )?(?:§l )"
_TRAYS: Final = r"(?:the |our )?(?:§t (?:(?:and |& |\+ )§t )*)"
_SUBJECT: Final = r"(?:the |our )?(?:§[lLt] (?:(?:and |& |\+ )§[lLt] )*)"
_COUNT: Final = (
    r"(?:(?:about |the |another |all |all the |all of the )?"
    r"(?:§n |§q |one )(?:more |of the |of them |best of |strongest of )?"
    r"|the (?:best|strongest|biggest|healthiest|first|last) §n |every last one of |every one of "
    r"|all |all of |all the |all of the |both |half |half of |most of |the rest of )"
)
_OUT_OF: Final = r"(?:of |from |in |out of |off |off of |of the )"
_FORMS: Final = r"(?:seedlings |cuttings |plants |starts |plugs |liners )?"
_PLANT: Final = rf"(?:§[pf] {_FORMS})"
_PLANT_NAMED: Final = rf"(?:(?:the |our )§f |(?:the |our )?§p ){_FORMS}"
"""A plant by its name alone: not one that somebody may be called, as heather and rose."""
_BARE: Final = r"(?:seedlings |cuttings |plants |starts |babies |of them )"
_SOME: Final = (
    rf"{_COUNT}(?:{_PLANT}|{_BARE})?{_OUT_OF}?{_SUBJECT}|{_COUNT}{_OUT_OF}?{_PLANT}|{_SUBJECT}{_COUNT}?|{_PLANT_NAMED}"
)
_NAME: Final = r"(?:the |our )?(?:§[pf] )?(?:[^\W\d_][\w-]* ){1,3}?"
_LANDFORMS: Final = small_words("places", "ends") - {"market", "school", "church", "library"}
"""Where seed is gathered, and none is bought."""
_NO_NEW_CUTTINGS: Final = "rooted|unrooted|dead|live|callused|potted|old|spare|leftover"
_KINDS: Final = {
    "lot": _ONE,
    "lots": _SUBJECT,
    "trays": _TRAYS,
    "amount": r"(?:about )?§a ",
    "day": r"§m ",
    "plant": _PLANT,
    "count": r"(?:the )?(?:§n |one )",
    "some": rf"(?:{_SOME})",
    "counted": rf"(?:{_COUNT}(?:{_PLANT}|{_BARE})?{_OUT_OF}?{_SUBJECT}|{_COUNT}{_OUT_OF}?{_PLANT})",
    "part": rf"(?:{_COUNT}(?:{_PLANT}|{_BARE})?{_OUT_OF}{_SUBJECT})",
    "plants": rf"(?:the |those |these |all )?(?:§n |one )(?:of (?:them|those|these|em|'em) )?{_BARE}?",
    "share": r"§q ",
    "bed": r"(?:§c |bed )",
    "seed": r"(?:the |our |about )?(?:§n |§a )?(?:of )?§[pf] (?:seeds |seed |acorns |nuts )",
    "cuttings": (
        rf"(?:about )?§n (?!(?:[a-z-]+ )?(?:{_NO_NEW_CUTTINGS}) )"
        r"(?:[a-z-]+ ){0,2}(?:of )?§[pf] (?:[a-z-]+ ){0,2}?(?:cuttings |tips )"
    ),
    "medium": r"(?:(?:potting|seed|seedling) )?[^§ ]+§r (?:(?:and |& |\+ |, )?[^§ ]+§r )*",
    "them": r"(?:them |em |'em |these |those |it |all of them |all of em )",
    "pots": r"(?:§s |§a )?(?:§c )|§s |§a |§g ",
    "bare": r"(?:§l |§n )",
    "same": r"(?:§l |§n )",
    "who": _NAME,
    "whose": r"(?:[^\W\d_]+'s |[^\W\d_]+ 's )",
    "few": r"(?:some |a few |a bunch |several |most |part )",
    "site": r"(?:the |our )?(?:§[pf] )?(?:[^\W\d_][\w'-]*(?:§b)? ){1,3}?",
    "wild": rf"(?:the )?(?:[^\W\d_][\w'-]* ){{1,2}}?(?:{'|'.join(sorted(_LANDFORMS))}) ",
    "place": r"(?:the |our |a )?(?:[^§ ,.;:]+ ){0,4}?[^§ ]+§b (?:§n |[a-z] )?|outside |inside |outdoors |indoors ",
    "pest": r"(?:the |all the |some |a few |a bunch of |about §n |§n )?§[yz] ",
    "ill": r"(?:[a-z]+ )?§[xyz] ",
    "blight": rf"(?:(?!(?:{'|'.join(_LEADING)}) )[a-z]+ )?§[xy] ",
    "stuff": rf"(?:the |some |liquid |all the |its |their )?(?:{'|'.join(_FILE['around']['stuff'])}) ",
    "length": r"§d ",
    "since": r"(?:(?:since |as of |from )?§m )?",
}
_MARKS: Final = {
    "comma": "(?:, )?",
    "mark": "(?:[,;:-] )?",
    "end": r"(?=$|[,;:.!?()\n-] |(?:on )?§m )",
}
_CLOSE: Final = (
    rf"(?=$|[,;:.!?()\n-] |§m |{'|'.join(f'{re.escape(word)} ' for word in _FILE['around']['after'])})"
    r"(?!by (?:the )?§[yz] )"
)
"""What stands after the words of a way: no pest that did it."""
_ENDS: Final = {"...": "", "<over>": r"(?=$|[,;:.!?()\n-] |as of |since )"}
"""What a way may end with: anything may follow, or no day."""


@dataclass(frozen=True, slots=True)
class _Turn:
    """A way of saying: its words as a pattern, the plain words, and of which words a note holds one that says so."""

    says: re.Pattern[str]
    reads: tuple[str, ...]
    marks: frozenset[str]
    beside: tuple[frozenset[str], ...]


def _compiled(said: str, reads: str) -> _Turn:
    pattern, close = "", _CLOSE
    told: list[list[str]] = []
    for part in _PART.findall(said):
        if part in _ENDS:
            close = _ENDS[part]
        elif part.startswith("{"):
            choices = [choice.strip() for choice in part[1:-1].split(",")]
            told.append(choices if all(choices) else [])
            choices += [f"'s{choice[2:]}" for choice in choices if choice == "is" or choice.startswith("is ")]
            either = "|".join(_literal(choice) for choice in choices if choice)
            pattern += f"(?:{either}){'' if all(choices) else '?'}"
        elif part[1:-1] in _MARKS:
            pattern += _MARKS[part[1:-1]]
        elif part.startswith("<"):
            told.append(_FILE["around"]["stuff"] if part == "<stuff>" else [])
            pattern += f"(?P<{part[1:-1]}>{_KINDS[part[1:-1].rstrip('0123456789')]})"
        else:
            told.append([part] if part.isalpha() else [])
            pattern += _literal(part)
    marks = [frozenset(max(choice.split(" "), key=how_rare) for choice in choices) for choices in told if choices]
    marks.sort(key=lambda found: min(map(how_rare, found)), reverse=True)
    first, *others = (found | {f"{word}'s" for word in found} for found in marks)
    return _Turn(re.compile(rf"(?:^|(?<= )){pattern}{close}"), tuple(_PART.findall(reads)), first, tuple(others))


def _literal(said: str) -> str:
    """Words as they stand, of which any may be known as a place or a medium."""
    return "".join(rf"{re.escape(word)}(?:§[br])? " for word in said.split(" "))


_TURNS: Final = tuple(_compiled(said, row["reads"]) for row in _FILE["turn"] for said in row["says"])
_BY_MARK: Final[dict[str, list[int]]] = {}
for _place, _turn in enumerate(_TURNS):
    for _word in _turn.marks:
        _BY_MARK.setdefault(_word, []).append(_place)


@looks_for(*_BY_MARK)
def read_turns(pieces: list[Piece], tokens: list[Token]) -> bool:
    """Puts turns of phrase into plain words, in place; whether there was one."""
    found = False
    held = {word for piece in pieces for word in (piece.low, *piece.low.split(" "))}
    places = sorted({place for word in held for place in _BY_MARK.get(word, ())})
    turns = [turn for turn in map(_TURNS.__getitem__, places) if not any(map(held.isdisjoint, turn.beside))]
    shape = _shape_of(pieces) if turns else ("", {})
    for turn in turns:
        if _read_turn(pieces, tokens, turn, shape):
            found, shape = True, _shape_of(pieces)
        if _goes_on(pieces, turn):
            again, begin = _named_again(pieces)
            if begin and _read_turn(again, tokens, turn, _shape_of(again), begin):
                pieces[:] = again
                found, shape = True, _shape_of(pieces)
    return found


def _read_turn(
    pieces: list[Piece], tokens: list[Token], turn: _Turn, shaped: tuple[str, dict[int, int]], first: int = 0
) -> bool:
    """Puts the first such turn of phrase from a place on into plain words, in place; whether there was one. `shaped`
    are the words of the pieces, and which begins where.
    """
    shape, starts = shaped
    for match in turn.says.finditer(shape):
        spans = [match.span(group) for group in range(match.re.groups + 1)]
        if any(edge not in starts for span in spans for edge in span if edge >= 0):
            continue
        begin, end = starts[match.start()], starts[match.end()]
        if begin >= first and opens_statement(pieces, begin) and _names_right(pieces, starts, match):
            pieces[begin:end] = list(_plainly(pieces, tokens, starts, match, turn))
            return True
    return False


def _goes_on(pieces: list[Piece], turn: _Turn) -> bool:
    """Whether the words of a turn of phrase stand after an "and" that follows a deed."""
    place = next((place for place, piece in enumerate(pieces) if piece.low in _AND and _tells(pieces[:place])), None)
    return place is not None and any(not turn.marks.isdisjoint(piece.low.split(" ")) for piece in pieces[place:])


def _tells(pieces: list[Piece]) -> bool:
    return any(is_act(piece) for piece in pieces)


def _named_again(pieces: list[Piece]) -> tuple[list[Piece], int]:
    """`lots 12 and 13 had a drink , | lots 12 and 13 are one lot now`: the pieces with the plants that begin the
    statement named again for what follows its "and", and where; nowhere where what is told before is not sure.
    """
    at = next(place for place, piece in enumerate(pieces) if piece.low in _AND and _tells(pieces[:place]))
    start = begin_of_statement(pieces, at)
    while pieces[start].kind == "moment":
        start += 1
    end = start
    while end < at and _names_some(pieces[end]):
        end += 1
    named = any(names_plants(piece) for piece in pieces[start:end])
    if not named or any(not piece.roles.keys().isdisjoint(_UNSURE) for piece in pieces[:at]):
        return pieces, 0
    mark = pieces[at]
    parted = Piece("break", ",", mark.first, mark.last, ",")
    return [*pieces[:at], parted, *map(copy, pieces[start:end]), *pieces[at + 1 :]], at + 1


def _names_some(piece: Piece) -> bool:
    return piece.kind in SUBJECTS or piece.kind in COUNTS or "plant" in piece.roles or piece.low in _JOINING


def _shape_of(pieces: list[Piece]) -> tuple[str, dict[int, int]]:
    """The words of the pieces with a sign for each that is read as one thing, and which piece begins where."""
    shape, starts = "", {}
    for place, piece in enumerate(pieces):
        starts[len(shape)] = place
        shape += f"{_sign_of(piece)} "
    starts[len(shape)] = len(pieces)
    return shape, starts


def _sign_of(piece: Piece) -> str:
    if piece.kind == "lots":
        return "§l" if len(piece.value) == 1 else "§L"
    if piece.kind == "number" and piece.low != "one":
        return "§q" if piece.value.whole is None or piece.value.of is not None else "§n"
    if piece.kind == "moment" and piece.value.is_to_come:
        return "§f"
    sign = _SIGNS.get(piece.kind)
    if sign is not None:
        return sign
    roles = piece.roles
    if "plant" in roles:
        return "§f" if is_given_name(piece.low) else "§p"
    if "container" in roles and "act" not in roles:
        return "§c"
    if "pot_size" in roles:
        return "§g"
    if roles.get("cause") in ("pest", "animal") and "act" not in roles:
        return piece.low if piece.low in _BUGS else "§y" if roles["cause"] == "pest" else "§z"
    if "act" not in roles and ("cause" in roles or piece.low in _ILLS):
        return "§x"
    if "place_word" in roles or piece.low in _PLACES:
        return f"{piece.low}§b"
    if "medium" in roles and "act" not in roles:
        return f"{piece.low}§r"
    bare = piece.low.removesuffix("'s")
    return f"{bare} 's" if bare != piece.low and bare in words().phrases else piece.low


def opens_statement(pieces: list[Piece], begin: int) -> bool:
    """Whether nothing stands before the words in their statement that may make something else of them."""
    before = pieces[begin_of_statement(pieces, begin) : begin]
    if before and before[-1].low in _PRONOUNS and pieces[begin].low.startswith("say "):
        return False  # "they say 18 got their own pots"
    told = [piece for piece in before if piece.kind not in ("moment", "person") and piece.low not in _BEFORE]
    return len(told) <= 1 and all(may_be_name(piece) and piece.low not in _NOBODY for piece in told)


def _names_right(pieces: list[Piece], starts: dict[int, int], match: re.Match[str]) -> bool:
    """Whether who is named may be somebody, and the lot that stays is one of those put together."""
    if "same" in match.re.groupindex:
        staying = pieces[starts[match.start("same")]]
        lots = [one for one in pieces[starts[match.start("lots")] : starts[match.end("lots")]] if one.kind == "lots"]
        if not any((staying.value[0] if staying.kind == "lots" else staying.low) in one.value for one in lots):
            return False
    for kind in match.re.groupindex:
        if not kind.startswith("who"):
            continue
        said = [piece for piece in pieces[starts[match.start(kind)] : starts[match.end(kind)]] if piece.low != "the"]
        owns = kind.startswith("whose")
        low = said[0].low.removesuffix("'s") if owns else said[-1].low
        if low in _NOBODY:
            return False
        unknown = said[0].kind == "word" and low not in words().phrases and not is_everyday(low)
        named = unknown if owns else low in _GROUPS or _is_called_so(said)
        if not (named or is_given_name(low)):
            return False
    return True


def _is_called_so(said: list[Piece]) -> bool:
    """`odalys`, `mrs ito`."""
    return may_be_name(said[-1]) and (len(said) == 1 or said[0].low.rstrip(".") in _TITLES)


def _plainly(
    pieces: list[Piece], tokens: list[Token], starts: dict[int, int], match: re.Match[str], turn: _Turn
) -> Iterator[Piece]:
    """The pieces of the plain words: those told in the match, and new ones for the words between them."""
    first, last = pieces[starts[match.start()]].first, pieces[starts[match.end()] - 1].last
    for part in turn.reads:
        if part.startswith("<"):
            told = pieces[starts[match.start(part[1:-1])] : starts[match.end(part[1:-1])]] if match[part[1:-1]] else []
            if part.startswith("<bare") and told and told[0].kind == "number":
                told[0].kind, told[0].value = "lots", (told[0].low,)
            yield from _owner(told, tokens) if part.startswith("<whose") else told
            continue
        said = part[1:-1] if part.startswith("{") else part
        roles = words().phrases.get(said, NO_ROLES)
        yield Piece("phrase" if roles else "word", None, first, last if "act" in roles else first, said, roles)


def _owner(told: list[Piece], tokens: list[Token]) -> list[Piece]:
    """The `finn` of `finn's`."""
    one = told[0]
    if one.low.endswith("'s"):
        tokens[one.first].low = one.low[:-_OWNED]
        return [Piece("word", one.value, one.first, one.last, one.low[:-_OWNED])]
    return [one]
