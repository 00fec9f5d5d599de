"""What was begun, told by other words than its own: `poked 24 nodal cuttings of sage into sand`, `tray 9 now holds 36
toyon heel cuttings`, `raided m3 for 40 snowberry cuttings`.

Rules
1. Cuttings, seed or divisions that are counted tell what a verb of placing, holding or gathering means beside them.
2. Placed they are where a tray, a medium or a vessel is named, and gathered where none is; no lot is named in either.
3. What a tray holds, or where they stand, was begun where something says that it is new (`now`, `since yesterday`);
   of seed in a tray it need not be told how much.
4. What gave them (`mother 4 parted with 36 cuttings`) is where they came from; with whom they came is who did it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from core.notes.counts.shares import is_mother
from core.notes.names.people import may_be_name
from core.notes.words.pieces import SENTENCE_ENDS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_sentence, begin_of_statement, end_of_statement
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_PLACING: Final = small_words("beginnings", "placing")
_PLACING_INTO: Final = small_words("beginnings", "placing_into")
_PLACING_SEED: Final = small_words("beginnings", "placing_seed")
_PUTTING: Final = small_words("beginnings", "putting")
_STANDING: Final = small_words("beginnings", "standing")
_HOLDING: Final = small_words("beginnings", "holding")
_GETTING: Final = small_words("beginnings", "getting")
_WITH: Final = small_words("beginnings", "gathering")
_GATHERING: Final = _WITH | {said.removesuffix("ith") for said in _WITH if said.endswith(" with")}
"""`came back with`, and so `came back w`."""
_OF_SEED: Final = small_words("beginnings", "gathering_seed")
_COMING: Final = small_words("beginnings", "coming")
_YIELDING: Final = small_words("beginnings", "yielding")
_NO_PLACING: Final = small_words("beginnings", "no_placing")
_NEWLY: Final = small_words("beginnings", "newly")
_NEW: Final = small_words("beginnings", "new")
_OLD: Final = small_words("beginnings", "old")
_BETWEEN: Final = small_words("beginnings", "between")
_HARVEST: Final = small_words("beginnings", "harvest")
_MOTHERS: Final = small_words("sources", "mothers") | small_words("places", "ends")
_AWAY: Final = frozenset({"from", "off", "out of", "off of"})
_PLACED_AT: Final = frozenset({"at", "from", "off", "off of", "along"})
_BROUGHT_WITH: Final = frozenset({"with", "w", "w/"})
_AND: Final = frozenset({"and", "then", "&", "+"})
_OPENING: Final = {"cuttings": "stick", "seed": "sow", "divisions": "divide"}
_SEED_UNITS: Final = small_words("beginnings", "units_of_seed")
_BAGS: Final = frozenset({"bag", "bed"})
_COUNTED: Final = frozenset({"number", "amount"})
_FILLING: Final = frozenset({"filled"})
_TAKING: Final = _GATHERING | _OF_SEED | _COMING | _YIELDING | _HARVEST | _FILLING

_ALL: Final = _PLACING | _PLACING_INTO | _PLACING_SEED | _PUTTING | _STANDING | _HOLDING | _GETTING | _TAKING
_OF_DIVISIONS: Final = _PLACING | _PLACING_INTO | _PUTTING | _COMING | _YIELDING | _GATHERING
_RUNS: Final = Runs(_ALL)


@looks_for("into", any_of=_ALL, beside=("@what", "@cutting", "@wood", "@of_cuttings", "=amount"))
def read_beginnings(pieces: list[Piece]) -> None:
    """Makes such words the deed that they tell, in place."""
    if any(piece.low == "into" for piece in pieces):
        _read_unknown(pieces)
    at = 0
    while (found := _RUNS.first_from(pieces, at)) is not None:
        start, end = found
        said = " ".join(piece.low for piece in pieces[start:end])
        # Of "stuck 36 toyon heel cuttings, lid went on" the lid went on, and no cuttings.
        covers = start > 0 and "cover_noun" in pieces[start - 1].roles
        act = None if covers else _act_told(pieces, start, end, said)
        if act is not None:
            pieces[start] = Piece("phrase", None, pieces[start].first, pieces[end - 1].last, said, {"act": act})
            del pieces[start + 1 : end]
            start += _tell_bringer(pieces, start, said)
            end = start + 1 + (said in _YIELDING and _lead_to_giver(pieces, start))
        at = end


def _read_unknown(pieces: list[Piece]) -> None:
    """`dell worked 36 salal cuttings into bark`: a verb that is not known, by where it put so many, in place."""
    for at, verb in enumerate(pieces[:-2]):
        if verb.kind != "word" or not verb.low.endswith("ed") or verb.low in _NO_PLACING:
            continue
        around = list(_around(pieces, at, at + 1))
        into = next((place for place in range(at + 2, len(pieces) - 1) if pieces[place].low == "into"), None)
        thing = _thing_among(around)
        if into is None or end_of_statement(pieces, at) < into or thing in (None, "divisions"):
            continue
        after = pieces[into + 1]
        placed = _is_medium(after) or after.kind == "trays" or _is_vessel(after)
        counted = pieces[at + 1].kind in _COUNTED
        if placed and counted and not any(piece.kind == "lots" or piece.low in _OLD for piece in around):
            verb.kind, verb.roles = "phrase", {"act": ActWord(act=_OPENING[thing])}


def _act_told(pieces: list[Piece], start: int, end: int, said: str) -> ActWord | None:
    """The deed that some words tell beside what stands around them; None for none."""
    around = list(_around(pieces, start, end))
    thing = _thing_among(around)
    counted = any(piece.kind in _COUNTED for piece in around)
    if thing is None or not (counted or (thing == "seed" and _is_all_there(pieces, start, end, said))):
        return None
    if any(piece.kind == "lots" or piece.low in _OLD or "to_do" in piece.roles for piece in around):
        return None
    if thing == "divisions" and said not in _OF_DIVISIONS:
        return None
    around = around if said not in _COMING else _without_origin(around)
    placed = any(_is_place(piece) and not _is_left(around, at) for at, piece in enumerate(around))
    if said in _PLACING_INTO:
        fits = placed and any(piece.low in ("into", "onto") for piece in around)
    elif said in _PLACING | _PUTTING:
        fits = placed and (said in _PLACING or _is_put(pieces, end, around))
    elif said == "got" and _got_in(pieces, end):
        fits = placed
    elif said in _PLACING_SEED:
        fits = placed and thing == "seed" and _goes_into(around)
    elif said in _STANDING:
        fits = _stands_new(pieces, start, end, said, around)
    else:
        fits = said in _HOLDING | _GETTING and _tray_holds(pieces, start, end, said, around)
    if fits:
        return ActWord(act=_OPENING[thing])
    potted = placed and thing == "divisions"
    if said not in _TAKING or (placed and not potted) or not _gathered(pieces, start, end, said, around, thing):
        return None
    says = {"what": thing} if said in _HARVEST and thing in said.split(" ") else {}
    return ActWord(act="divide" if potted else "collect", says=says)


def _is_all_there(pieces: list[Piece], start: int, end: int, said: str) -> bool:
    """`phacelia seed | is in | tray 27 now`, `toyon seed is out of the cold and | now in | tray 16`: all of a plant's
    seed, of which so much need not be told.
    """
    first = _head_of(pieces, start)
    if all("filler" in piece.roles and "what" not in piece.roles for piece in pieces[first:start]):
        first = begin_of_sentence(pieces, start)
    told = pieces[first:start]
    named = any("plant" in piece.roles for piece in told) and any("what" in piece.roles for piece in told)
    return said in _STANDING and named and pieces[end : end + 1] != [] and pieces[end].kind == "trays"


def _around(pieces: list[Piece], start: int, end: int) -> Iterator[Piece]:
    """What stands around some words of a deed, up to the next deeds and to the ends of their sentence."""
    first = start
    while first and pieces[first - 1].low not in SENTENCE_ENDS and not _is_other_deed(pieces[first - 1]):
        first -= 1
    last = end
    while last < len(pieces) and pieces[last].low not in SENTENCE_ENDS and not _is_other_deed(pieces[last]):
        last += 1
    yield from pieces[first:start]
    yield from pieces[end:last]


def _is_place(piece: Piece) -> bool:
    return _is_medium(piece) or piece.kind == "trays" or _is_vessel(piece)


def _is_left(around: list[Piece], at: int) -> bool:
    """`eased 40 cuttings | out of | tray 3`: where they are no more."""
    before = " ".join(piece.low for piece in around[max(0, at - 2) : at])
    return before.endswith(("out of", "off", "off of"))


def _goes_into(around: list[Piece]) -> bool:
    """`into | cells`, `over the | sand`; not `over the sink`."""
    leads = (at for at, piece in enumerate(around) if piece.low in ("into", "onto", "over"))
    return any(any(map(_is_place, around[at + 1 : at + 4])) for at in leads)


def _without_origin(around: list[Piece]) -> list[Piece]:
    """What stands around the coming of seed, without the end of the name of where it is from (`from dunlin | flat`)."""
    leads = [at for at, piece in enumerate(around) if piece.low in _AWAY]
    ends = {at + 2 for at in leads if around[at + 1 : at + 2] and around[at + 1].kind == "word"}
    return [piece for at, piece in enumerate(around) if at not in ends or "container" not in piece.roles]


def _is_other_deed(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return is_act(piece) and "filler" not in piece.roles and not (word is not None and word.says.get("ends"))


def _thing_among(around: list[Piece]) -> str | None:
    """What is told of: divisions, cuttings or seed; None for none of them."""
    things = {piece.roles["what"] for piece in around if "what" in piece.roles}
    if "divisions" in things:
        return "divisions"
    if "cuttings" in things or any(piece.roles.keys() & {"cutting", "wood", "of_cuttings"} for piece in around):
        return "cuttings"
    weighed = any(piece.kind == "amount" and piece.value[1] in _SEED_UNITS for piece in around)
    named = weighed and any("plant" in piece.roles for piece in around)
    return "seed" if "seed" in things or (named and not any(map(_is_medium, around))) else None


def _is_medium(piece: Piece) -> bool:
    return piece.kind == "medium" or "medium" in piece.roles


def _is_vessel(piece: Piece) -> bool:
    return "container" in piece.roles and piece.roles["container"] not in _BAGS


def _is_put(pieces: list[Piece], end: int, around: list[Piece]) -> bool:
    """`66 of them set in bark`, `150 seeds went into tray 23`: new ones, and none that were only moved."""
    known = pieces[end : end + 1] and pieces[end].low in ("the", "those", "all", "them", "back")
    treated = any(piece.roles.get("noun") and piece.roles["noun"].act == "treat" for piece in around)
    return not known and not treated and not any(piece.low in ("back", "under", "to") for piece in around)


def _stands_new(pieces: list[Piece], start: int, end: int, said: str, around: list[Piece]) -> bool:
    """`48 coyote brush tips are sitting in perlite`, `32 heel cuttings now in tray 17`."""
    into = pieces[end] if end < len(pieces) else None
    first = _head_of(pieces, start)
    article = pieces[first].low in ("the", "those", "these", "our", "all")
    if into is None or not (_is_medium(into) or into.kind == "trays" or _is_vessel(into)):
        return False
    newly = not _NEWLY.isdisjoint(said.split(" ")) or _is_new(around)
    return newly or (_is_medium(into) and "sitting" in said and not article)


def _got_in(pieces: list[Piece], end: int) -> bool:
    """`got | the buckwheat in, 90 seeds, tray 14`."""
    told = pieces[end : end_of_statement(pieces, end)]
    named = any("plant" in piece.roles for piece in told)
    return named and told[-1].low == "in" and not any(piece.kind in _COUNTED for piece in told)


def _tray_holds(pieces: list[Piece], start: int, end: int, said: str, around: list[Piece]) -> bool:
    """`tray 9 now holds 36 toyon heel cuttings`, `tray 25 got 40 twinberry tips`; not `tray 9 got its tips pinched`."""
    subject = start - 1
    while subject > 0 and pieces[subject].low in _BETWEEN:
        subject -= 1
    if subject < 0 or pieces[subject].kind != "trays" or _head_of(pieces, start) != subject:
        return False
    stop = end_of_statement(pieces, end)
    deed = next((at for at in range(end, stop) if _is_other_deed(pieces[at])), stop)
    if deed < stop and not any(piece.low in _AND for piece in pieces[end:deed]):
        return False
    return said in _GETTING or _is_new(around)


def _head_of(pieces: list[Piece], at: int) -> int:
    """Where the subject of a statement stands, after the day that it is told of."""
    first = begin_of_statement(pieces, at)
    return first + (first < at and pieces[first].kind == "moment")


def _is_new(around: list[Piece]) -> bool:
    return any(piece.low in _NEW or piece.kind == "moment" for piece in around)


def _gathered(pieces: list[Piece], start: int, end: int, said: str, around: list[Piece], thing: str) -> bool:
    """`helped ourselves to 18 cuttings at harrow point`, `3 oz of yarrow seed came back from bluff trail`."""
    if said in _COMING:
        lead = end + 2 * _is_bringer(pieces, end)
        return lead < len(pieces) and pieces[lead].low in _AWAY
    if said in _YIELDING:
        return _giver_before(pieces, start) and any("plant" in piece.roles for piece in around)
    if said in _HARVEST | _FILLING or said.endswith(" loose"):
        return any(piece.low in _PLACED_AT for piece in around)
    return said in _GATHERING or (thing == "seed" and any("plant" in piece.roles for piece in around))


def _is_bringer(pieces: list[Piece], at: int) -> bool:
    """`came back | with tamsin`; not `came back | with weevils`."""
    return at + 1 < len(pieces) and pieces[at].low in _BROUGHT_WITH and _names_bringer(pieces, at + 1)


def _names_bringer(pieces: list[Piece], at: int) -> bool:
    """Whether a name stands at a place, with nothing after it but where it is from, or a day."""
    if at >= len(pieces):
        return False
    name = pieces[at]
    closes = at + 1 >= len(pieces) or pieces[at + 1].kind in ("break", "moment") or pieces[at + 1].low in _AWAY
    return closes and may_be_name(name) and (is_given_name(name.low) or not name.low.endswith("s"))


def _tell_bringer(pieces: list[Piece], start: int, said: str) -> bool:
    """`came back from dunlin flat | with tamsin`, `seed | came home with | tamsin`: puts her before what she
    brought, in place; whether there is one.
    """
    if said in _COMING:
        leads = range(start + 1, end_of_statement(pieces, start))
        at = next((at for at in leads if _is_bringer(pieces, at)), None)
    else:
        at = start if said.split(" ")[-1] in _BROUGHT_WITH and _names_bringer(pieces, start + 1) else None
    if at is None:
        return False
    name = pieces[at + 1]
    del pieces[max(at, start + 1) : at + 2]
    pieces.insert(_head_of(pieces, start), Piece("person", name.low, name.first, name.last, name.low))
    return True


def _giver_before(pieces: list[Piece], start: int) -> bool:
    """Whether a mother plant or a place stands before what it gave, with nothing else in the statement."""
    before = pieces[_head_of(pieces, start) : start]
    while before and before[-1].low in _BETWEEN:
        before = before[:-1]
    return bool(before) and any(is_mother(piece.low) or piece.low in _MOTHERS for piece in before)


def _lead_to_giver(pieces: list[Piece], start: int) -> int:
    """Puts the little word before a giver that leads to where something is from, in place; how many pieces it is."""
    first = _head_of(pieces, start)
    token = pieces[first].first
    pieces.insert(first, Piece("phrase", None, token, token, "from", {"filler": True}))
    return 1
