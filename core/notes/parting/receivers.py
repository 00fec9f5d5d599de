"""Which words of a list tell another giving, keeping or sale: `and 10 for finn`, `ana 5 & bao 7`, `4 toyon 2 sage`.

And which plant is a person of that name: `gave rosa 6 coyote mint`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.names.people import NAMELIKE, may_be_name
from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.said import comma_before, end_of_statement, is_end, keep_words, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord, words
from core.vocabulary.loading import END, small_words

_ARTICLES: Final = small_words("people", "articles")
_GROUPS: Final = small_words("places", "ends") | small_words("groups", "groups") | small_words("groups", "gatherings")
_LEAVING: Final = frozenset({"lose", "sell", "give", "pot", "plant_out"})
_INCLUDING: Final = small_words("parts_told", "including")
_ALIKE: Final = frozenset({"plant", "cutting"})
_TO: Final = frozenset({"in", "into", "to"})
_COUNTED: Final = frozenset({"number", "amount"})
_AND: Final = frozenset({"and", "&", "+", "then"})


@looks_for(any_of=NAMELIKE, beside=("!give", "!sell", "!move"))
def find_namesakes(pieces: list[Piece]) -> None:
    """Takes the plant from the name of who got some (`gave rosa 6 coyote mint`, `sold iris 4 of lot 13`), or had some
    (`brought 4 back from daisy`), or got some too (`and ivy 2`), in place.
    """
    given = False
    for at in range(1, len(pieces)):
        piece, before = pieces[at], pieces[at - 1]
        if piece.low not in NAMELIKE or "plant" not in piece.roles or is_act(piece):
            continue
        word = before.roles.get("act")
        gets = word is not None and word.act in ("give", "sell") and _counts_another(pieces, at + 1)
        gets = gets or (word is not None and word.act == "give" and _counts_alone_to_end(pieces, at + 1))
        had = before.low == "from" and at > 1 and pieces[at - 2].low == "back"
        too = given and (before.kind == "break" or before.low in _AND) and _counts_alone_to_end(pieces, at + 1)
        given = given or gets
        if gets or had or too:
            piece.kind, piece.roles = "word", NO_ROLES


@looks_for("will", beside=("!give", "!sell", "!reserve"))
def find_will(pieces: list[Piece]) -> None:
    """`gave 4 of lot 1 to will`: somebody, and nothing that will be done, in place."""
    for at, (lead, piece) in enumerate(pairwise(pieces), start=1):
        ends = is_end(pieces, at + 1) or pieces[at + 1].kind == "moment" or pieces[at + 1].low in _AND
        if piece.low == "will" and lead.low in ("to", "for") and ends:
            piece.kind, piece.roles = "word", NO_ROLES


@looks_for(any_of=_INCLUDING, beside=("!give", "!sell", "!lose", "!pot"))
def keep_included(pieces: list[Piece]) -> None:
    """`sold 10 of lot 5 including 4 to kit`: some of those counted, which are no more of them, in place."""
    for start, end in statements(pieces):
        at = next((at for at in range(start, end) if pieces[at].low in _INCLUDING), end)
        if any(counts_alone(piece) for piece in pieces[start:at]):
            keep_words(*pieces[at:end])


@looks_for("promised to")
def find_promised(pieces: list[Piece]) -> None:
    """`30 of lot 17 promised to the creek school`: kept for them; `ana promised to mist` is hearsay, in place."""
    for at, piece in enumerate(pieces):
        told = [one for one in pieces[at + 1 : at + 5] if one.low not in _ARTICLES]
        if piece.low != "promised to" or not told or not _is_somebody(told):
            continue
        start = next((place + 1 for place in range(at - 1, -1, -1) if pieces[place].kind == "break"), 0)
        if any(one.kind in SUBJECTS or counts_alone(one) or "plant" in one.roles for one in pieces[start:at]):
            low = Piece("phrase", None, piece.first, piece.last - 1, "promised", words().tree["promised"][END])
            to = Piece("phrase", None, piece.last - 1, piece.last, "for", {"filler": True})
            pieces[at : at + 1] = [low, to]


def _is_somebody(told: list[Piece]) -> bool:
    group = any(one.low in _GROUPS for one in told)
    return may_be_name(told[0]) or (told[0].kind == "word" and group) or told[0].low in _GROUPS


def _counts_alone_to_end(pieces: list[Piece], at: int) -> bool:
    """`gave rosa | 6`, where no plant is told of."""
    told = pieces[at:]
    ends = len(told) == 1 or (len(told) > 1 and told[1].kind in ("break", "moment"))
    return ends and counts_alone(told[0]) and not any("plant" in one.roles for one in told)


def _counts_another(pieces: list[Piece], at: int) -> bool:
    """Whether a count with its plant or its lot stands at a place (`6 coyote mint`, `4 of lot 13`; not `6 sage 4`)."""
    told = pieces[at : at + 3]
    if len(told) < 2 or not counts_alone(told[0]):
        return False
    if told[1].low in ("of", "from"):
        return len(told) > 2 and told[2].kind in SUBJECTS
    return "plant" in told[1].roles and (len(told) == 2 or told[2].kind != "number")


@looks_for(any_of=("each", "apiece", "ea"), beside=("!give", "!sell", "!reserve", "!plant_out"))
def count_each_receiver(pieces: list[Piece]) -> None:
    """`gave 2 each to mia, bea and ann`: the count again before each who got so many, in place."""
    for at in range(1, len(pieces) - 2):
        counted = at - 1 - (at > 1 and ("plant" in pieces[at - 1].roles or pieces[at - 1].kind in SUBJECTS))
        if pieces[at].low not in ("each", "apiece", "ea"):
            continue
        led = at + 1 + (pieces[at + 1].low in ("from", "of"))
        led = led + 1 if pieces[led].kind in SUBJECTS else at + 1
        number, each, lead = pieces[counted], pieces[at], pieces[min(led, len(pieces) - 1)]
        if not counts_alone(number) or lead.low not in ("to", "for") or led + 1 >= len(pieces):
            continue
        _part_names(pieces, led + 1)
        names = [led + 1]
        while (after := _next_name(pieces, names[-1])) is not None:
            names.append(after)
        if len(names) < 2 or not all(may_be_name(pieces[place]) for place in names):
            continue
        for place, before in reversed(list(zip(names[1:], names, strict=False))):
            first = pieces[place].first
            again = Piece("number", number.value, first, first, number.low)
            to = Piece("phrase", None, first, first, lead.low, lead.roles)
            pieces[before + 1 : place] = [comma_before(pieces[place]), again, to]
        each.used, each.roles = True, {"filler": True}
        return


def _part_names(pieces: list[Piece], at: int) -> None:
    """`mia and bea`, read as one who got some, as two again, in place."""
    both, words_said = pieces[at], pieces[at].low.split(" ")
    if both.kind == "word" and len(words_said) == both.last - both.first and words_said[1:2] in (["and"], ["&"]):
        pieces[at : at + 1] = [
            Piece("word", None, place, place + 1, low) for place, low in enumerate(words_said, both.first)
        ]


def _next_name(pieces: list[Piece], place: int) -> int | None:
    """Where the next of some names in a row stands."""
    step = place + 1
    while step < len(pieces) and step < place + 3 and (pieces[step].low in _AND or pieces[step].low == ","):
        step += 1
    return step if place + 1 < step < len(pieces) and may_be_name(pieces[step]) else None


@looks_for(any_of=_AND, beside=("=counts", "=amount", "!reserve"))
def _part_members(pieces: list[Piece]) -> None:
    """Parts the members of a list that have a number of their own, in place."""
    for place, piece in enumerate(pieces[:-2]):
        if piece.low not in _AND:
            continue
        if place and (_counts_of_days(pieces, place) or _of_other_forms(pieces, place)):
            piece.kind, piece.low, piece.roles = "break", ",", {}
        if not counts_alone(pieces[place + 1]) or _deed_before(pieces, place) != "reserve":
            continue
        if pieces[place + 2].low == "for" and place + 3 < len(pieces) and not is_act(pieces[place + 3]):
            piece.kind, piece.low, piece.roles = "break", ",", {}


@looks_for("=counts", "=amount", beside=("@plant", "@cutting", "to", "in", "into"))
def _part_run_on(pieces: list[Piece]) -> None:
    """`sold 4 toyon 2 manzanita 1 ribes`, `collected 3 oz lupine 2 oz poppy`: a count and a plant after another."""
    for at, number in enumerate(pieces):
        place = at - 1
        if number.kind not in _COUNTED or place < 1 or at + 1 >= len(pieces):
            continue
        plant, other = pieces[place], pieces[at + 1]
        alike = not _ALIKE.isdisjoint(other.roles) and any(role in plant.roles for role in _ALIKE & other.roles.keys())
        potted = other.low in _TO and (_into_others(pieces, place) or _to_other_causes(pieces, place))
        listed = potted or (alike and _tells_how_many(number))
        counted = potted or _tells_how_many(pieces[place - 1])
        if listed and _deed_before(pieces, place) is not None:
            # The count stands after its plant where no count stands before the first (`sold toyon 4 sage 6`).
            begin = at if counted else at + 1
            pieces.insert(begin, comma_before(pieces[begin]))


@looks_for("=counts", beside=tuple(f"!{act}" for act in _LEAVING))
def _part_losses(pieces: list[Piece]) -> None:
    """`12/24 rooted | 2 lost`, `15/20 germ | 5 potted`: those that left the bench, after a state that has its count."""
    for place in range(len(pieces) - 3, 0, -1):
        if pieces[place + 1].kind != "number":
            continue
        whole, state, number, loss = pieces[place - 1 : place + 3]
        counted = whole.kind == "fraction" or (whole.kind == "number" and whole.value.of is not None)
        told = state.roles.get("act") or state.roles.get("noun")
        lost = loss.roles.get("act")
        if not counted or told is None or lost is None or "state" not in told.says or not counts_alone(number):
            continue
        after = pieces[place + 3 : place + 5]
        ends = not after or after[0].kind == "break" or after[0].low in ("into", "to")
        ends = ends or (counts_alone(after[0]) and is_act(after[-1]))
        if lost.act in _LEAVING and ends:
            pieces.insert(place + 1, comma_before(number))


def _into_others(pieces: list[Piece], place: int) -> bool:
    """`24 into plugs | 12 into 4in`: a count into pots after a count into others."""
    told = pieces[place : place + 4]
    if len(told) < 4 or not counts_alone(told[1]) or told[2].low not in ("in", "into"):
        return False
    return _is_vessel(told[0]) and _is_vessel(told[3]) and pieces[place - 1].low in ("in", "into")


def _to_other_causes(pieces: list[Piece], place: int) -> bool:
    """`4 to rot | 2 to slugs`: a count and its cause after another."""
    told = pieces[place : place + 4]
    if len(told) < 4 or not counts_alone(told[1]) or told[2].low != "to":
        return False
    return "cause" in told[0].roles and "cause" in told[3].roles and pieces[place - 1].low == "to"


def _is_vessel(piece: Piece) -> bool:
    gallons = piece.kind == "amount" and piece.value[1] == "gal"
    return gallons or piece.kind == "size" or bool(piece.roles.keys() & {"container", "pot_size"})


def _counts_of_days(pieces: list[Piece], place: int) -> bool:
    """`took 12 from m1 sat and 10 from m2 sun`: whether counts of two days stand around an "and"."""
    before, after = pieces[place - 1], pieces[place + 1]
    counted = _tells_how_many(after) or after.kind == "shares"
    if not counted or not _names_day(before) or not any(map(_opens_lot, pieces[:place])):
        return False
    stop = end_of_statement(pieces, place + 1)
    told = pieces[place + 2 : stop]
    return any(_names_day(piece) for piece in told) and not any(map(is_act, told))


def _of_other_forms(pieces: list[Piece], place: int) -> bool:
    """`stuck 30 tip and 18 nodal`: whether counts of two forms of cutting stand around an "and"."""
    before, number, after = pieces[place - 1], *pieces[place + 1 : place + 3]
    return "cutting" in before.roles and counts_alone(number) and "cutting" in after.roles


def _opens_lot(piece: Piece) -> bool:
    word: ActWord | None = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and (word.act in OPENING or word.rule == "took")


def _names_day(piece: Piece) -> bool:
    return piece.kind == "moment" and bool(piece.value.names_day)


def _tells_how_many(piece: Piece) -> bool:
    return counts_alone(piece) or (piece.kind == "amount" and not piece.used)


def counts_alone(piece: Piece) -> bool:
    """A bare whole number that nothing used yet and that is not out of another."""
    return piece.kind == "number" and not piece.used and piece.value.whole is not None and piece.value.of is None


def _deed_before(pieces: list[Piece], place: int) -> str | None:
    """The act of the last deed before a place in its sentence."""
    for piece in reversed(pieces[:place]):
        word: ActWord | None = piece.roles.get("act") or piece.roles.get("shared")
        if word is not None:
            return word.act
        if piece.kind == "break" and piece.low in (".", "\n", ";"):
            return None
    return None


PART_RECEIVERS: Final = (_part_run_on, _part_losses, _part_members)
"""The steps in their order."""
