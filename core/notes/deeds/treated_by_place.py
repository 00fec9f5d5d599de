"""Were seed or wood treated, told by where they were put or lay: `stuck tray 33 back in the fridge`, `lot 41 has been
sitting in water overnight`.

Rules
1. Verbs of putting and lying tell no deed of their own beside what plants are put in to be treated.
2. Water that lots or seed lie in for hours soaks them; trays may stand in it to be watered.
3. What left a cold place ended its chill; so did what came from it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from core.notes.days.soak_lengths import lasts_as_soaks
from core.notes.words.pieces import COUNTS, Piece, is_act, names_plants
from core.notes.words.said import keep_words, pass_over, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_PASSING: Final = small_words("treated", "passing")
_PUTTING: Final = small_words("treated", "putting")
_LEAVING: Final = small_words("treated", "leaving")
_QUITTING: Final = small_words("treated", "quitting")
_COLD_PLACES: Final = small_words("treated", "cold_places")
_WATERS: Final = small_words("treated", "waters")
_DOSING: Final = small_words("treated", "dosing")
_ENDS_OF_WOOD: Final = small_words("treated", "ends_of_wood")
_STRENGTHS: Final = frozenset({"ppm", "percent", "strength"})
_SEED: Final = small_words("names", "seeds")
_GIVING: Final = frozenset(
    {"gave", "got", "given", "was given", "had", "received", "were given", "has had", "took", "taken", "giving"}
)
_WITHIN: Final = frozenset({"in", "into", "through", "with", "against", "w", "w/"})
_HEAT: Final = frozenset({"heat", "the heat", "dry heat", "high heat"})
_HORMONES: Final = ("hormone", "hormone_name")
_INTO: Final = frozenset({"in", "into", "back in", "back into", "under", "through", "to"})
_PACKETS: Final = frozenset({"packet", "packets", "envelope", "envelopes", "label", "labels", "tag", "tags"})
_TOWARDS: Final = frozenset({"into", "to", "back", "onto", "on"})
_SOAK: Final = ActWord(act="treat", says={"treatment": "soak"})
_DIP: Final = ActWord(act="treat", says={"treatment": "hormone"})
_ENDS_COLD: Final = ActWord(act="treat", says={"treatment": "cold_stratify", "ends": True})


def _treatment_of(piece: Piece) -> ActWord | None:
    """The treatment that a piece says by a verb or a noun."""
    word: ActWord | None = piece.roles.get("act") or piece.roles.get("noun")
    return word if word is not None and word.act == "treat" else None


@looks_for(any_of=_HEAT, beside=("=temp",))
def keep_in_heat(pieces: list[Piece]) -> None:
    """`lot 35 spent 3 days in | the heat | at 95f`, `lot 35 heat 3 days 95f`: a treatment, in place, where plants or
    seed, how long and how hot are told.
    """
    for at, piece in enumerate(pieces):
        start, end = statement_at(pieces, at)
        said = pieces[start:end]
        kinds = {one.kind for one in said}
        told = "duration" in kinds and "temp" in kinds and any(map(names_plants, said))
        if piece.low in _HEAT and told and not any(map(is_act, said)):
            pass_over(*(one for one in said if one.low in _PASSING))
            piece.roles = {"act": ActWord(act="treat", says={"treatment": "heat"})}


@looks_for("water", beside=("=duration",))
def soak_in_water(pieces: list[Piece]) -> None:
    """`lot 41 has been sitting in water overnight`, `left the redbud in water for 24 h`: a soak, in place."""
    for at in range(len(pieces) - 1, 0, -1):
        lead = at - 1
        while lead > 0 and pieces[lead].low in _WATERS:
            lead -= 1
        if not _is_water(pieces[at]) or pieces[lead].low not in ("in", "into"):
            continue
        start, end = statement_at(pieces, at)
        said = pieces[start:end]
        if not any(one.kind == "lots" or "plant" in one.roles or one.low in _SEED for one in said):
            continue
        verbs = [one for one in said[: lead - start] if is_act(one) or one.low in _PASSING]
        if any(is_act(one) and not _puts(one) for one in verbs) or any(one.kind in ("trays", *COUNTS) for one in said):
            continue
        unknown = any(map(_is_another_thing, said[: lead - start]))
        if any(map(lasts_as_soaks, said)) and not unknown:
            pass_over(*verbs, *pieces[lead:at])
            pieces[at].roles = {"act": _SOAK}


def _is_another_thing(piece: Piece) -> bool:
    """`lot 9 seed | packet | sat in water overnight`: what lay there, and no seed."""
    return piece.low.split(" ")[-1] in _PACKETS or (piece.kind == "word" and piece.low not in _PASSING)


def _is_water(piece: Piece) -> bool:
    """`water`, `cold water`; not `hot water`, `willow water`."""
    return piece.low.split(" ")[-1] == "water" and "brew" not in piece.roles and _treatment_of(piece) is None


def _puts(piece: Piece) -> bool:
    word: ActWord | None = piece.roles.get("shared")
    return piece.low in _PUTTING | _PASSING or (word is not None and word.rule == "put")


@looks_for(any_of=_PUTTING, beside=("!treat",))
def put_in_to_treat(pieces: list[Piece]) -> None:
    """`stuck | tray 33 | back in the fridge`, `popped | lot 9 | in hot water`: no deed but the treatment, in place."""
    for at, verb in enumerate(pieces):
        if verb.low not in _PUTTING or not is_act(verb):
            continue
        _, end = statement_at(pieces, at)
        into = next((place for place in range(at + 1, end) if _treatment_of(pieces[place]) is not None), None)
        if into is None or not any(map(names_plants, pieces[at + 1 : into])):
            continue
        between = pieces[at + 1 : into]
        led = _INTO.intersection((pieces[into].low.split(" ")[0], *pieces[into].low.split(" ")[1:2], between[-1].low))
        plain = all(names_plants(one) or "filler" in one.roles or one.low in _SEED for one in between)
        if led and plain:
            pass_over(verb)


@looks_for("gone", beside=("!treat",))
def go_into_the_cold(pieces: list[Piece]) -> None:
    """`lot 9 has | gone | into the cold`: not lost, in place."""
    for gone, where in pairwise(pieces):
        word = _treatment_of(where)
        cold = word is not None and not word.says.get("ends") and where.low.split(" ")[0] in _TOWARDS
        if gone.low == "gone" and cold and not any(one.kind in COUNTS for one in pieces):
            pass_over(gone)


@looks_for(any_of=_LEAVING, beside=("!treat",))
def leave_the_cold(pieces: list[Piece]) -> None:
    """`lot 9 emerged | from the fridge`: what came from there did nothing else, in place."""
    for at, verb in enumerate(pieces):
        where = at + 1 + (at + 1 < len(pieces) and names_plants(pieces[at + 1]))
        word = _treatment_of(pieces[where]) if where < len(pieces) else None
        if verb.low in _LEAVING and word is not None and word.says.get("ends"):
            pass_over(verb)


@looks_for(any_of=_QUITTING, beside=_COLD_PLACES)
def quit_the_cold(pieces: list[Piece]) -> None:
    """`lot 9 left the fridge`: the end of its chill, in place; not `left the fridge door open`."""
    for at in range(1, len(pieces) - 1):
        where = at + 1 + (pieces[at + 1].low == "the")
        if pieces[at].low not in _QUITTING or not names_plants(pieces[at - 1]) or where >= len(pieces):
            continue
        if pieces[where].low not in _COLD_PLACES:
            continue
        if where + 1 < len(pieces) and pieces[where + 1].kind == "word":
            keep_words(*pieces[at : where + 2])
        elif where + 1 == len(pieces) or pieces[where + 1].kind in ("break", "moment", "duration"):
            pass_over(*pieces[at + 1 : where + 1])
            pieces[at].roles = {"act": _ENDS_COLD}


@looks_for(any_of=_DOSING, beside=("@hormone_name", "@hormone", "@hormone_form"))
def dose_with_hormone(pieces: list[Piece]) -> None:
    """`lot 62 | got its | iba`, `gave | lot 9 | iba powder`, `lot 62 | had | its feet in 3000 ppm k-iba`: a treatment
    with hormone, in place.
    """
    for at, verb in enumerate(pieces):
        if verb.low not in _DOSING:
            continue
        start, end = statement_at(pieces, at)
        after = pieces[at + 1 : end]
        gave = verb.low in ("gave", "giving")
        told = after[:1] if gave else pieces[start:at] if verb.low in _GIVING else pieces[start:end]
        ends = [one for one in after if one.low in _ENDS_OF_WOOD]
        between = [one for one in after if not names_plants(one) and "filler" not in one.roles and one not in ends]
        dosed = any(map(_is_hormone, between[: 1 + (between[:1] != [] and between[0].kind in _STRENGTHS)]))
        dosed = dosed and (verb.low in _GIVING or any(one.low in _WITHIN for one in after))
        clean = not any(one.kind in COUNTS or (is_act(one) and one is not verb) for one in pieces[start:end])
        if dosed and clean and told and any(map(names_plants, told)):
            verb.roles = {"act": _DIP}
            pass_over(*ends)
            for one in ends:
                one.low = "ends"  # nobody's feet


def _is_hormone(piece: Piece) -> bool:
    """`iba`, `hormone`, `rooting powder`; not `no hormone`, `liquid`."""
    return not piece.roles.keys().isdisjoint(_HORMONES) or piece.roles.get("hormone_form") in ("powder", "gel")


@looks_for("!treat", beside=_PASSING)
def pass_through(pieces: list[Piece]) -> None:
    """`bells | sat | in smoke for an hour`, `lot 9 | underwent | the smoke treatment`: verbs of lying somewhere say no
    more than the treatment, in place.
    """
    for at, piece in enumerate(pieces):
        if piece.low not in _PASSING or is_act(piece) or piece.kind not in ("word", "phrase"):
            continue
        start, end = statement_at(pieces, at)
        said = pieces[start:end]
        if any(_treatment_of(one) is not None for one in said) and any(map(names_plants, said)):
            pass_over(piece)


@looks_for("sandpaper", "file", "roughed", "roughed up", "roughened", "abraded", "notched")
def keep_sanding(pieces: list[Piece]) -> None:
    """`smoothed the bench with sandpaper`, `roughed up the soil in tray 4`: no seed, in place."""
    for at, said in _treatments(pieces, "scarify"):
        soil = any(not one.roles.keys().isdisjoint(("medium", "thing", "container")) for one in pieces[at + 1 : at + 3])
        if soil or not any(names_plants(one) or one.low in _SEED for one in said):
            keep_words(pieces[at])


@looks_for("bark", beside=("!treat",))
def keep_gnawed(pieces: list[Piece]) -> None:
    """`bark scraped off lot 18 by deer`, `rabbits peeled the bark off lot 3`: harm, and no treatment, in place."""
    for at, said in _treatments(pieces, "wound"):
        if any(one.roles.get("cause") in ("animal", "pest") for one in said):
            keep_words(pieces[at])


def _treatments(pieces: list[Piece], how: str) -> Iterator[tuple[int, list[Piece]]]:
    """Where a treatment of a kind is told, and the statement that tells it."""
    for at, piece in enumerate(pieces):
        word = _treatment_of(piece)
        if word is not None and word.says.get("treatment") == how:
            start, end = statement_at(pieces, at)
            yield at, pieces[start:end]


TREATED_BY_PLACE: Final = (
    keep_gnawed, keep_sanding, keep_in_heat, go_into_the_cold,
    soak_in_water, put_in_to_treat, leave_the_cold, quit_the_cold, dose_with_hormone, pass_through,
)  # fmt: skip
