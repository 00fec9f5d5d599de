"""Which words beside a sowing, a sticking or a check tell how it was, and are no deed or count of their own.

`mixed w/ sand`, `covered w thin grit`, `awns clipped`, `fresh cut`, `germ test`, `for callus`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.days.soak_lengths import lasts_as_soaks
from core.notes.deeds.kept_cool import only_stored, stores_those_told, stores_vessel, stores_wood
from core.notes.deeds.traded import keep_what_came
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.said import end_of_statement, is_end, keep, keep_words, said_in, state_of
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_COVERING: Final = small_words("said_beside", "covering")
_LAID_ON: Final = small_words("said_beside", "laid_on")
_GATHERED: Final = small_words("said_beside", "gathered")
_OFF_CUTTINGS: Final = small_words("said_beside", "off_cuttings")
_TAKEN_OFF: Final = small_words("said_beside", "taken_off")
_WHICH: Final = small_words("said_beside", "which_leaves")
_PRESSING: Final = small_words("said_beside", "pressing")
_STIRRED: Final = frozenset({"solution", "hormone", "hormone_name", "hormone_form", "stock", "medium"})
_TOPPED: Final = small_words("said_beside", "topped")
_FRESH: Final = small_words("said_beside", "fresh")
_PARTS: Final = small_words("names", "parts")
_SOLUTIONS: Final = ("solution", "hormone", "hormone_name", "hormone_form", "stock")
_MEASURED: Final = frozenset({"parts", "colon", "amount", "ppm", "percent"})
_SOWN: Final = frozenset({"sow", "stick"})
_MAY_TELL_HOW: Final = frozenset(
    {"sow", "treat", "mix", "move", "cover", "tend", "collect", "give", "plant_out", "check"}
)
_OUT: Final = frozenset({"out", "outside", "outdoors", "under", "to"})
_DUSTS: Final = small_words("said_beside", "dusts")
_FILLED: Final = frozenset({"pot", "stick", "sow", "move", "plant_out", "sell", "give"})


@looks_for("test", "fresh", "straight", "per", "pressed", "each", "showing", any_of=_LAID_ON)
def _keep_said_beside(pieces: list[Piece]) -> None:
    """Keeps how something was sown, stuck or found out of the acts and counts, in place."""
    for place, piece in enumerate(pieces):
        after = pieces[place + 1] if place + 1 < len(pieces) else None
        if after is None:
            break
        counted = pieces[place + 2].kind if place + 2 < len(pieces) else ""
        if after.low == "test" and state_of(piece) == "germinated" and counted in ("fraction", "percent", "number"):
            keep_words(after)
        elif _tells_how(piece, after):
            keep_words(piece, after)
        elif _is_fresh(pieces, piece) or (piece.low == "straight" and after.low.split(" ")[0] in ("in", "into")):
            keep_words(piece)
        elif piece.kind == "amount" and after.low == "per" and _counts_vessels(pieces[place + 2 : place + 3]):
            keep_words(piece, after, pieces[place + 2])
        elif piece.kind == "number" and after.low == "on" and _lies_on(pieces, place + 2):
            keep_words(piece)
        elif piece.low == "pressed" and any(one.low in ("seed", "seeds") for one in pieces[place + 1 : place + 5]):
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="sow")}
        elif piece.low == "of" and after.kind == "number" and place and pieces[place - 1].low == "each":
            if not _counts_vessels(pieces[place + 2 : place + 3]):
                keep_words(after)
        elif piece.kind == "number" and after.low == "showing" and _ends_or_place(pieces, place + 2):
            after.roles = {"act": ActWord(act="check", says={"state": "germinated"}, counts_before=True)}


@looks_for("!callused", "!germinated")
def _keep_states_meant(pieces: list[Piece]) -> None:
    """`stuck for callus`, `potted germinated acorns`: what something was for, or which ones, in place."""
    for before, piece, after in zip(pieces, pieces[1:], [*pieces[2:], None], strict=False):
        state = state_of(piece) if piece.roles else ""
        if state == "callused" and before.low in ("for", "to"):
            keep_words(before, piece)
        elif state == "germinated" and after is not None and _is_adjective(before, after):
            keep_words(piece)


@looks_for("!stick", "!collect", beside={*_TAKEN_OFF, "cut"})
def _keep_what_was_cut_off(pieces: list[Piece]) -> None:
    """`bottom leaves stripped`, `tip cut off`, `1/2 leaf cut`: how cuttings were made, beside what was stuck."""
    stuck = False
    for place, piece in enumerate(pieces):
        word = piece.roles.get("act")
        stuck = stuck or (word is not None and word.act in ("stick", "collect"))
        if not stuck or piece.low not in _OFF_CUTTINGS:
            continue
        start = place - (place > 0 and (pieces[place - 1].low in _WHICH or pieces[place - 1].kind == "fraction"))
        end = _end_of_taking_off(pieces, place + 1, halved=start < place and pieces[start].kind == "fraction")
        if end:
            keep_words(*pieces[start:end])


def _end_of_taking_off(pieces: list[Piece], at: int, *, halved: bool) -> int:
    """Where `stripped`, `cut off` and the like end that stand at a place; nought where none does."""
    for end in (at + 1, at + 2, at + 3):
        if said_in(pieces[at:end]) in _TAKEN_OFF:
            return end
    return at + 1 if halved and at < len(pieces) and pieces[at].low == "cut" else 0


def _counts_vessels(after: list[Piece]) -> bool:
    """The trays of `10 in each of 4 trays`."""
    return bool(after) and "container" in after[0].roles


def _tells_how(piece: Piece, after: Piece) -> bool:
    """`fresh cut`, `germ test`: how something was, or what it was for."""
    fresh = piece.low == "fresh" and after.low in _FRESH
    return fresh or (after.low == "test" and state_of(piece) == "germinated")


def _lies_on(pieces: list[Piece], at: int) -> bool:
    """`30 on a towel`: seed laid out for a test."""
    at += at < len(pieces) and pieces[at].low in ("a", "the", "wet", "damp")
    return at < len(pieces) and pieces[at].low.split(" ")[-1] in _LAID_ON


def _ends_or_place(pieces: list[Piece], at: int) -> bool:
    """`5 showing in tray 22`: seedlings; `5 showing roots` are told by their roots."""
    return is_end(pieces, at) or pieces[at].low in ("in", "so far", "now", "already")


def _is_adjective(before: Piece, after: Piece) -> bool:
    """Between `potted` and `acorns` a state tells which ones, and is no count of them."""
    word = before.roles.get("act")
    filled = word is not None and word.act in _FILLED
    return filled and (after.low in _PARTS or "what" in after.roles)


def _is_fresh(pieces: list[Piece], piece: Piece) -> bool:
    """`fresh sage seed`: no new solution."""
    return piece.low == "fresh" and is_act(piece) and not any(one.roles.keys() & _STIRRED for one in pieces)


@looks_for("!sow", beside=("!treat", "~soaked", "~rinsed"))
def keep_which_seed(pieces: list[Piece]) -> None:
    """`sowed scarified lupine`, `sowed soaked redbud seed`: which seed was sown, and no treatment now, in place."""
    for place in range(1, len(pieces) - 1):
        before, piece, after = pieces[place - 1 : place + 2]
        sown = before.roles.get("act")
        treated = piece.roles.get("act") or piece.roles.get("shared")
        seed = sown is not None and sown.act == "sow" and not after.roles.keys().isdisjoint(("plant", "what"))
        told = treated is not None and (treated.act == "treat" or treated.rule in ("soaked", "rinsed"))
        if seed and told and piece.low.endswith("ed"):
            keep_words(piece)


@looks_for("!sow", beside=_OUT)
def _keep_sown_before(pieces: list[Piece]) -> None:
    """`put sowed flats outside`, `sown flats out under snow`: which flats, and no sowing, in place."""
    for sown, flats, out in zip(pieces, pieces[1:], pieces[2:], strict=False):
        word = sown.roles.get("act")
        several = "container" in flats.roles and flats.low.endswith("s")
        if word is not None and word.act == "sow" and several and out.low in _OUT:
            keep_words(sown)


@looks_for("@container", beside=("=number",))
def _name_numbered_trays(pieces: list[Piece]) -> None:
    """`sowed 2 trays of buckwheat, 7 and 8`: the numbers of trays, no lots and no count."""
    for place, piece in enumerate(pieces):
        if piece.roles.get("container") == "tray" and place and pieces[place - 1].kind == "number":
            _name_trays(pieces, place + 1, pieces[place - 1].value.whole or 0)


def _name_trays(pieces: list[Piece], at: int, count: int) -> None:
    """Makes as many bare numbers as there are trays, between two marks, the names of the trays."""
    start = end_of_statement(pieces, at) + 1
    end = end_of_statement(pieces, start)
    said = pieces[start:end]
    listed = said[0] if len(said) == 1 and said[0].kind == "lots" else None
    if listed is not None and len(listed.value) == count and not listed.low.startswith(("lots ", "lot ", "#")):
        listed.kind = "trays"
        return
    numbers = [piece for piece in said if piece.kind == "number"]
    others = [piece for piece in said if piece.kind != "number" and piece.low not in ("and", "&", "+")]
    if len(numbers) != count or others or not all(piece.low.isdigit() for piece in numbers):
        return
    for piece in numbers:
        piece.kind, piece.value = "trays", (piece.low,)


KEEP_SAID_BESIDE: Final = (
    _keep_said_beside, _keep_states_meant, _keep_sown_before, _name_numbered_trays, _keep_what_was_cut_off,
    keep_what_came,
)  # fmt: skip
"""Keep such words out of the acts and counts, in place, before the clauses are parted."""


def settle_said_beside(clauses: list[Clause]) -> None:
    """Takes the act from clauses that only tell how something was sown, stuck or gathered, in place."""
    for place, clause in enumerate(clauses):
        if clause.act not in _MAY_TELL_HOW and not _is_gathered(clause):
            continue
        before = next((one for one in reversed(clauses[:place]) if one.act is not None), None)
        if before is not None and _tells_origin(before, clause):
            days = [piece for piece in clause.pieces if piece.kind in ("moment", "fraction")]
            _quiet(clause)
            keep(*days, kind="rejected")
        if clause.act == "sow" and _presses(clause) and any(one.act == "sow" for one in clauses[:place]):
            _quiet(clause)
            continue
        if _mixes_media(clause):
            _quiet(clause)
            keep(*(piece for piece in clause.pieces if "container" in piece.roles))
        if _brings_home(clause):
            clause.act, clause.says = "collect", {}
        if _lays_on(clause):
            _quiet(clause)
        if only_stored(clause, opens=not place) or (before is not None and _comes_from_cold(before, clause)):
            _quiet(clause)
        if place and stores_those_told(clauses[:place], clause):
            _quiet(clause)
        if before is not None and (stores_wood(before, clause) or stores_vessel(before, clause)):
            _quiet(clause)
        if clause.act is not None and (_went_home(clause) or (before is not None and _tells_more(before, clause))):
            _quiet(clause)


def _comes_from_cold(before: Clause, clause: Clause) -> bool:
    """`stuck the 40 toyon from the cooler`: where cuttings came from."""
    ends = clause.act == "treat" and bool(clause.says.get("ends"))
    return before.act == "stick" and ends and clause.after == "" and clause.pieces[0].low.split(" ")[0] == "from"


def _presses(clause: Clause) -> bool:
    """`sowed 60 gilia in plugs, pressed in lightly`: how it was sown, and no second sowing."""
    own = clause.kinds() & {"number", "amount", "lots", "trays", "quote"} or clause.has("plant", "what")
    return not own and any(piece.low in _PRESSING for piece in clause.pieces[:2])


def _brings_home(clause: Clause) -> bool:
    """`brought home a bag of manzanita berries from june's`: seed or wood that was gathered."""
    home = clause.act == "move" and any(piece.low == "home" for piece in clause.pieces)
    return home and clause.has("what") and not clause.kinds() & {"lots", "trays"}


def _tells_more(before: Clause, clause: Clause) -> bool:
    if before.act == "collect":
        return _mixes_seed(clause) or _samples(clause) or _tells_how_much(clause)
    sown = _mixes_seed(clause) or _covers_seed(clause) or _in_ground(clause) or _clips(clause)
    return before.act in _SOWN and sown


def _quiet(clause: Clause) -> None:
    clause.act, clause.word, clause.says = None, None, {}
    for piece in clause.pieces:
        if is_act(piece) or piece.roles.keys() & {"medium", "cutting"} or piece.kind in ("medium", "number", "percent"):
            piece.kind = "kept" if piece.kind != "phrase" or not is_act(piece) else piece.kind
            piece.roles = NO_ROLES


def _mixes_seed(clause: Clause) -> bool:
    """`mixed w/ sand`: with what seed was sown, and no solution."""
    return clause.act == "mix" and not clause.has(*_SOLUTIONS) and not clause.kinds() & _MEASURED


def _lays_on(clause: Clause) -> bool:
    """`covered tray 3 w vermiculite`, `topped w grit`: what was laid on the medium, and no dome and no pruning."""
    if clause.act != "tend":
        return _covers_seed(clause)
    topped = any(one.low in _TOPPED and after.low in ("with", "w", "w/") for one, after in pairwise(clause.pieces))
    return topped or (
        clause.pieces[0].low in _TOPPED and any(piece.low in _COVERING - {"compost"} for piece in clause.pieces)
    )


def _tells_origin(before: Clause, clause: Clause) -> bool:
    """`sowed lupine collected at heron bend`, `stuck 40 toyon cut yesterday`: where seed or wood is from, and from
    when; no collecting now.
    """
    own = clause.kinds() & {"number", "amount", "lots", "trays", "quote"} or clause.has("plant", "what")
    return before.act in _SOWN and clause.after == "" and _is_gathered(clause) and not own


def _is_gathered(clause: Clause) -> bool:
    """Whether a clause opens with how seed or wood was gathered."""
    return clause.act in (None, "collect") and clause.pieces[0].low in _GATHERED


def _mixes_media(clause: Clause) -> bool:
    """`mixed lot 7 with wet sand`, `mixed perlite and peat 3:1`: no solution."""
    if clause.act != "mix":
        return False
    media = clause.has("medium") or "medium" in clause.kinds()
    return media and not clause.has(*_SOLUTIONS) and "ppm" not in clause.kinds()


def _covers_seed(clause: Clause) -> bool:
    """`covered w thin grit`: what seed lies under, and no dome."""
    if clause.act != "cover" or clause.has("cover_noun"):
        return False
    led = any(piece.low in ("with", "w", "w/", "by", "in") for piece in clause.pieces)
    return led and (clause.has("medium") or any(piece.low in _COVERING for piece in clause.pieces))


def _in_ground(clause: Clause) -> bool:
    """`stuck 40 dogwood, straight in the ground`: where they were stuck, and nothing planted out."""
    named = clause.kinds() & {"lots", "trays", "number", "quote"} or clause.has("plant", "all", "vague")
    return clause.act == "plant_out" and not named and any("in the ground" in piece.low for piece in clause.pieces)


def _clips(clause: Clause) -> bool:
    """`awns clipped`: what was taken off the seed."""
    return clause.act == "tend" and any(piece.low in _PARTS for piece in clause.pieces)


def _samples(clause: Clause) -> bool:
    """`30 plants sampled`: how many plants seed was taken from."""
    sampled = any(piece.low == "sampled" for piece in clause.pieces)
    return clause.act == "check" and sampled and not clause.kinds() & {"lots", "trays"}


def _tells_how_much(clause: Clause) -> bool:
    """`took about 10% of the seed`: how much of what was there."""
    return clause.act == "collect" and "percent" in clause.kinds() and not clause.has("plant")


def _went_home(clause: Clause) -> bool:
    """`got home late`: somebody went home, and nothing was given."""
    if clause.act != "give" or not any(piece.low == "home" for piece in clause.pieces):
        return False
    given = clause.kinds() & {"lots", "trays", "number", "fraction", "amount"} or clause.has("plant", "all", "vague")
    return not given and clause.word is not None and clause.word.rule == "took"


@looks_for(any_of=_DUSTS, beside=("!treat",))
def keep_dusts(clauses: list[Clause]) -> None:
    """`dusted seed w fungicide`: no hormone, and no treatment that the books know, in place."""
    for clause in clauses:
        hormone = clause.act == "treat" and clause.says.get("treatment") == "hormone"
        if hormone and any(piece.low in _DUSTS for piece in clause.pieces):
            clause.act, clause.word, clause.says = None, None, {}


@looks_for("~dipped", "!treat")
def settle_dips(clauses: list[Clause]) -> None:
    """`recut and dipped tray 16, 0.8 percent talc`: fresh cut, or told with its powder, it is a hormone dip; a dip that
    lasts for hours is a soak.
    """
    for place, clause in enumerate(clauses):
        if clause.word is not None and clause.word.form == "noun" and clause.says == {"treatment": "hormone"}:
            _settle_dip_noun(clause)
        if clause.word is None or clause.word.rule != "dipped" or clause.act not in ("water", "treat"):
            continue
        if any(map(lasts_as_soaks, clause.pieces)):
            clause.act, clause.says = "treat", {"treatment": "soak"}
            continue
        before = clauses[place - 1].pieces if place else []
        after = clauses[place + 1] if place + 1 < len(clauses) and clauses[place + 1].act is None else None
        told = after is not None and after.has("hormone_form", "hormone_name", "hormone")
        if clause.act == "water" and (told or any(piece.low.split(" ")[-1] in _CUT for piece in before)):
            clause.act, clause.says = "treat", {"treatment": "hormone"}


def _settle_dip_noun(clause: Clause) -> None:
    """`hot tub dip 125f 20 min lot 9`, `peroxide dip for the tools`: what is dipped in no hormone."""
    if clause.has("hormone", "hormone_name", "hormone_form") or "ppm" in clause.kinds():
        return
    if "temp" in clause.kinds():
        clause.says = {"treatment": "hot_water"}
    elif clause.has("thing") and not clause.kinds() & {"lots", "trays"} and not clause.has("plant", "what"):
        clause.act, clause.says = "sanitize", {}


_CUT: Final = small_words("said_beside", "cut")
