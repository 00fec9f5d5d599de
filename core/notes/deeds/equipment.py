"""What was done to the gear of the bench, not to plants: `lost the lid`, `moved the fan`, `mat died under tray 4`.

Rules
1. A deed of plants whose object, right after it, is a piece of gear tells of the gear: no act, its words are kept.
2. So does a deed or a trouble whose subject is gear, where the gear opens the statement.
3. Vents that are stuck or broken are gear too; covers only where they were lost, sold, broken or lent, for what goes
   on and comes off plants is an act.
4. A heat mat put under plants, or on for them, warms them.
"""

from __future__ import annotations

from typing import Final

from core.notes.names.people import may_be_name
from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import counted_before, keep_words, places_up_to
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_GEAR: Final = Runs(small_words("equipment", "gear") | small_words("equipment", "mats"))
_COVERED: Final = Runs(small_words("equipment", "gear") | small_words("equipment", "covers"))
_NAMED: Final = frozenset().union(*(small_words("equipment", part) for part in ("gear", "mats", "covers")))
_ALL: Final = Runs(_NAMED)
_COVERS: Final = small_words("equipment", "covers")
_MATS: Final = Runs(small_words("equipment", "mats"))
_LIKE: Final = small_words("equipment", "like")
_AFTER: Final = small_words("equipment", "after")
_TROUBLES: Final = small_words("equipment", "troubles")
_BEING: Final = small_words("covers", "being")
_ALL_OF_IT: Final = small_words("equipment", "all_of_it")
_UNDER: Final = small_words("equipment", "under")
_FITTINGS: Final = small_words("equipment", "fittings")
_VENT_TROUBLES: Final = small_words("equipment", "vent_troubles")
_WIPED: Final = frozenset({"down", "off", "out", "up", "over"})
_VERBS: Final = small_words("equipment", "verbs")
_LENDING: Final = small_words("equipment", "lending")
_INTO: Final = frozenset({"in", "into", "thru", "through"})
_DEEDS: Final = frozenset({
    "lose", "sell", "give", "move", "stick", "hold", "reserve", "split", "collect", "plant_out", "divide", "merge",
    "check", "cover", "clear",
})  # fmt: skip
_OF_COVERS: Final = frozenset({"lose", "sell", "give", "split", "reserve", "check"})
_WAYS: Final = {
    "kept": frozenset({"off"}),
    "dropped": frozenset({"over", "onto", "back on", "back over", "back"}),
    "gave": frozenset({"back", "again", "too"}),
}  # fmt: skip
KIND: Final = "gear"
"""The kind of the piece that makes its clause tell of gear."""


def _find_gear(pieces: list[Piece]) -> None:
    """Marks what was done to gear, in place; the subjects beside it are kept as such."""
    _join_names(pieces)
    signs = (
        at
        for at, gear in enumerate(pieces)
        if "vent_noun" in gear.roles or (gear.low in _ALL.heads and _ALL.end_at(pieces, at))
    )
    for place in places_up_to(pieces, signs):
        _find_at(pieces, place)


def _find_at(pieces: list[Piece], place: int) -> None:
    """Marks what was done to gear where the deed, or the gear itself at the head of a statement, is at a place."""
    if pieces[place].kind in (KIND, "break") or _puts_mat(pieces, place):
        return
    if _done_to_gear(pieces, place):
        _keep(pieces, place)
    elif _gear_opens(pieces, place):
        _keep_what_came_of_it(pieces, _keep(pieces, place))


def _join_names(pieces: list[Piece]) -> None:
    """`vent fan`, `mist heads`: gear of several words is one word, and no act of those that it holds."""
    for place, piece in enumerate(pieces):
        end = _gear_end(pieces, place, _COVERED) if piece.low in _COVERED.heads else None
        if end is None or (end == place + 1 and (" " not in piece.low or "cover_noun" in piece.roles)):
            continue
        words = " ".join(one.low for one in pieces[place:end])
        pieces[place:end] = [Piece("word", words, piece.first, pieces[end - 1].last, words)]


def _gear_end(pieces: list[Piece], at: int, names: Runs) -> int | None:
    """Where the longest name of gear that begins at a place ends; None where none does."""
    end = names.end_at(pieces, at)
    return end if end and all(one.kind in ("word", "phrase") for one in pieces[at:end]) else None


def _named_until(pieces: list[Piece], at: int, names: Runs) -> int | None:
    """Where the gear ends that begins at a place, of one name or of one that tells the other (`hose cart`)."""
    end = _gear_end(pieces, at, names)
    return end if end is None else _gear_end(pieces, end, names) or end


def _done_to_gear(pieces: list[Piece], place: int) -> bool:
    """`moved the mister over to tray 10`, `dropped tray 4s lid`, `lost 2 domes`, `left my gloves by tray 6`, `put in a
    new fan`.
    """
    word: ActWord | None = pieces[place].roles.get("act") or pieces[place].roles.get("shared")
    verbal = pieces[place].low in _VERBS or pieces[place].low in _LENDING
    if not verbal and (word is None or (word.act not in _DEEDS and word.rule != "put")):
        return False
    if counted_before(pieces, place) or (word is not None and word.counts_before and word.act != "lose"):
        return False
    at = place + 1
    if word is not None and word.act == "give" and at < len(pieces) and may_be_name(pieces[at]):
        at += 1
    at += pieces[place].low == "put" and at < len(pieces) and pieces[at].low in ("in", "up")
    while at < len(pieces) and (
        pieces[at].low in _LIKE or pieces[at].kind in ("lots", "trays", "number") or pieces[at].low in ("'s", "s")
    ):
        at += 1
    losing = pieces[place].low in _LENDING or (word is not None and word.act in _OF_COVERS and word.rule is None)
    end = _named_until(pieces, at, _ALL if losing else _GEAR)
    if losing and end is not None and _goes_on_or_off(pieces, place, end):
        return False
    return end is not None and _ends_there(pieces, end)


def _goes_on_or_off(pieces: list[Piece], place: int, end: int) -> bool:
    """`kept the lid | off tray 16`, `gave tray 4 its dome | back`, `dropped a dome | over tray 6`: a cover that
    came off plants or went on them.
    """
    ways = _WAYS.get(pieces[place].low, frozenset())
    if pieces[place].low == "gave" and pieces[place + 1].kind in ("lots", "trays"):
        return end >= len(pieces) or pieces[end].low in ways or pieces[end].kind in ("break", "moment")
    led = pieces[end + 1 : end + 3]
    return end < len(pieces) and pieces[end].low in ways and any(one.kind in ("lots", "trays") for one in led)


def _ends_there(pieces: list[Piece], at: int) -> bool:
    """Whether the gear is all that was meant: no plants are named by it (`moved the cart plants`)."""
    if at >= len(pieces) or pieces[at].kind in ("break", "lots", "trays", "moment", "duration", "compared"):
        return True
    return pieces[at].low in _AFTER


def _gear_opens(pieces: list[Piece], place: int) -> bool:
    """`the mat died under tray 4`, `mister on tray 9 stuck on`, `tray 4s fan fell`, `mist heads clogged`, `vent knob on
    tray 4 is stuck`.
    """
    at = place
    before = pieces[place - 1] if place else None
    opens = before is None or before.kind in ("break", "moment") or before.low in ("and", "but", "so")
    if not opens and not _failed_near(pieces, place):
        return False
    while at < len(pieces) and (pieces[at].low in _LIKE or pieces[at].kind in ("lots", "trays", "number")):
        at += 1
    end = _gear_end(pieces, at, _GEAR)
    if end is None and at < len(pieces) and "vent_noun" in pieces[at].roles:
        fitted = at + 1 < len(pieces) and pieces[at + 1].low in _FITTINGS
        return _in_trouble(pieces, at + 1 + fitted, vents=not fitted)
    if end is None and (cover := _gear_end(pieces, at, _COVERED)) is not None:
        return cover < len(pieces) and pieces[cover].low in _FITTINGS and _in_trouble(pieces, cover + 1)
    return end is not None and _in_trouble(pieces, end)


def _failed_near(pieces: list[Piece], place: int) -> bool:
    """`lot 30 is next to | the heater that died`: gear that is named only to tell where something is."""
    end = _gear_end(pieces, place + 1, _GEAR) if pieces[place].low in _LIKE else None
    return end is not None and end < len(pieces) and pieces[end].low in ("that", "which")


def _in_trouble(pieces: list[Piece], at: int, *, vents: bool = False) -> bool:
    """Whether what follows the gear, and where it stands, says what became of it."""
    at = _after_place(pieces, at)
    while at < len(pieces) and (pieces[at].low in _BEING or pieces[at].low in ("that", "which")):
        at += 1
    if at >= len(pieces) or _wipes_down(pieces, at) or _goes_into_solution(pieces, at):
        return False
    if vents:
        return pieces[at].low.split(" ")[0] in _VENT_TROUBLES
    word: ActWord | None = pieces[at].roles.get("act") or pieces[at].roles.get("shared")
    told = word is not None and word.act in _DEEDS and (word.rule is None or word.rule in ("took", "put"))
    return told or pieces[at].low.split(" ")[0] in _TROUBLES


def _wipes_down(pieces: list[Piece], at: int) -> bool:
    """The `down with alcohol` of `wiped the pruners and knives down with alcohol`."""
    with_what = [piece.low for piece in pieces[at + 1 : at + 2]]
    wiped = pieces[at].low in _WIPED and with_what in (["with"], ["in"], ["w"], ["w/"], ["using"])
    return wiped and any("solution" in piece.roles for piece in pieces[at + 2 : at + 4])


def _goes_into_solution(pieces: list[Piece], at: int) -> bool:
    """The `went thru bleach` of `knives went thru bleach 10 min`."""
    into = at + 1 < len(pieces) and pieces[at + 1].low in _INTO
    return into and any("solution" in piece.roles for piece in pieces[at + 2 : at + 4])


def _after_place(pieces: list[Piece], at: int) -> int:
    """Where the words end that tell where the gear is: `on tray 4`, `in the glasshouse` before `is`."""
    if at + 1 >= len(pieces) or pieces[at].low not in _AFTER | {"of"}:
        return at
    if pieces[at + 1].kind in ("lots", "trays"):
        return at + 2
    near = (end for end in range(at + 1, min(at + 4, len(pieces))) if pieces[end].low in _BEING)
    end = next(near, at)
    return at if any(one.kind == "break" or is_act(one) for one in pieces[at:end]) else end


def _keep(pieces: list[Piece], place: int) -> int:
    """Takes all meaning but the subjects' from the words of a statement, up to the next mark or deed joined to it;
    where that is.
    """
    pieces[place].kind, pieces[place].roles = KIND, NO_ROLES
    for at in range(place + 1, len(pieces)):
        piece = pieces[at]
        joined = piece.low in ("and", "but", "so", "then") and at + 1 < len(pieces) and _acts(pieces, at + 1)
        joined = joined and not _died_too(pieces, at + 1)
        if piece.kind == "break" or joined:
            return at
        if piece.kind not in ("lots", "trays", "moment"):
            keep_words(piece)
    return len(pieces)


def _keep_what_came_of_it(pieces: list[Piece], mark: int) -> None:
    """`mister stuck on, everything soaked`: what the trouble did to all is no deed."""
    if mark + 1 < len(pieces) and pieces[mark + 1].low in _ALL_OF_IT:
        _keep(pieces, mark + 1)


def _died_too(pieces: list[Piece], at: int) -> bool:
    """`my phone fell in tray 6 and | died`: what came of the gear, and nothing is counted."""
    word: ActWord | None = pieces[at].roles.get("act")
    lost = word is not None and word.act == "lose" and word.counts_before
    return lost and (at + 1 == len(pieces) or pieces[at + 1].kind in ("break", "moment") or pieces[at + 1].low == "it")


def _acts(pieces: list[Piece], at: int) -> bool:
    """Whether a deed follows within a few words."""
    near = pieces[at : at + 3]
    return any(is_act(piece) or piece.kind in ("lots", "trays") for piece in near)


def _puts_mat(pieces: list[Piece], place: int) -> bool:
    """`put the heat mat under tray 4`, `set the mat on for trays 4-6`."""
    word: ActWord | None = pieces[place].roles.get("shared")
    if word is None or word.rule != "put":
        return False
    at = place + 1
    while at < len(pieces) and pieces[at].low in _LIKE:
        at += 1
    end = _gear_end(pieces, at, _MATS)
    if end is None:
        return False
    lead = end
    while lead < len(pieces) and pieces[lead].low in _UNDER:
        lead += 1
    if lead == end or lead >= len(pieces) or pieces[lead].kind not in ("lots", "trays"):
        return False
    pieces[place].roles = {"act": ActWord(act="treat", says={"treatment": "heat"})}
    for piece in pieces[place + 1 : lead]:
        piece.roles, piece.used = {"filler": True}, True
    return True


FIND_GEAR: Final = (
    looks_for(any_of=_NAMED - _COVERS)(_find_gear),
    looks_for(any_of=_COVERS, beside=_LENDING | {f"!{act}" for act in _OF_COVERS})(_find_gear),
    looks_for(any_of=(name for name in _COVERS if " " in name))(_join_names),
    looks_for("@vent_noun", beside=_VENT_TROUBLES | _FITTINGS)(_find_gear),
    looks_for(any_of=_COVERS, beside=_FITTINGS)(_find_gear),
)
"""Mark what was done to gear, in place; little is done to covers and vents that is no act of the bench."""
