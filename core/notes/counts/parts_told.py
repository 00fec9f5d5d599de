"""What is said of each, or of a part, is no count and no detail of the whole: `3 per cell`, `half powder half dip`.

Such words are kept for the rest, where a false count or a false hormone would be worse than none.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.said import sentences
from core.notes.words.steps import InEach, looks_for
from core.vocabulary import ActWord, Leaf
from core.vocabulary.loading import small_words

_PER: Final = small_words("parts_told", "leads")
_KINDS_OF_POT: Final = small_words("parts_told", "kinds_of_pot")
_PER_ONE: Final = small_words("parts_told", "per")
_WHOLE: Final = frozenset({"whole", "full", "entire", "more", "complete"})
_EACH_ONE: Final = frozenset({"each", "ea"})
_BATCHES: Final = small_words("parts_told", "batches")
_LINES: Final = small_words("parts_told", "lines")
_TURNS: Final = small_words("parts_told", "turns")
_BUCKETS: Final = small_words("parts_told", "holding")
_OF_CUTTINGS: Final[Leaf] = {"of_cuttings": True}
"""What is left of a form of cutting that is only kept: what was taken were cuttings."""
_OF_SEED: Final = frozenset({"seed", "seeds"})
_RUNNING: Final = small_words("parts_told", "running_out")
_TO_CAUSES: Final = small_words("parts_told", "of_them") | small_words("parts_told", "to_causes")
_NUMBERING: Final = frozenset({"no", "no.", "nr", "num", "number", "#"})


def _deeds(said: list[Piece]) -> list[ActWord | None]:
    return [piece.roles.get("act") or piece.roles.get("shared") for piece in said]


def _opens_lot(said: list[Piece], acts: tuple[str, ...]) -> bool:
    opening = ("took", "planted", "put")
    return any(word is not None and (word.act in acts or word.rule in opening) for word in _deeds(said))


def _keep(*pieces: Piece) -> None:
    for piece in pieces:
        if piece.kind != "break":
            piece.kind, piece.roles = "kept", _OF_CUTTINGS if "cutting" in piece.roles else NO_ROLES


@looks_for("@amount")
def find_lone_measures(pieces: list[Piece]) -> None:
    """`packet of clarkia`: one of a measure, said without its number."""
    for place, piece in enumerate(pieces[:-2]):
        unit = piece.roles.get("amount")
        heads = place == 0 or pieces[place - 1].kind == "break" or "act" in pieces[place - 1].roles
        if unit in _LONE and heads and pieces[place + 1].low == "of" and not piece.low.endswith("s"):
            piece.kind, piece.value, piece.roles = "amount", (1, unit, None), NO_ROLES


_LONE: Final = frozenset({"packet", "handful", "bag"})


@looks_for("@hormone_form", "@hormone", beside=_NUMBERING)
def _keep_makes(said: list[Piece]) -> None:
    """`#2 powder`, `no.2 powder`: the make of a powder by its number, no count and no strength."""
    for place in range(len(said) - 2):
        mark, number, powder = said[place : place + 3]
        numbered = mark.low in _NUMBERING and number.kind == "number" and number.value.high is None
        if numbered and "noun" not in powder.roles and powder.roles.keys() & {"hormone_form", "hormone"}:
            _keep(mark, number)


@looks_for("out of", "out")
def _keep_what_ran_out(said: list[Piece]) -> None:
    """`out of powder, stuck 40 sage`, `only potted 18, we're out of pots`: what there is no more of was not used."""
    for place, piece in enumerate(said):
        start = place - 2 if place > 1 and (said[place - 2].low, said[place - 1].low) == ("out", "of") else place - 1
        if start < 0 or not " ".join(one.low for one in said[start:place]).endswith("out of"):
            continue
        ran_out = said[start].low not in ("out of", "out") or start == 0
        ran_out = ran_out or said[start - 1].kind == "break" or said[start - 1].low in _RUNNING
        if piece.roles.keys() & _HORMONES:
            _keep(piece)
        elif ran_out and _is_supply(piece):
            after = [one for one in said[place + 1 : place + 2] if _is_supply(one)]
            _keep(*said[start:place], piece, *after)


def _is_supply(piece: Piece) -> bool:
    return piece.kind in ("size", "amount", "medium") or bool(piece.roles.keys() & _SUPPLIES)


_HORMONES: Final = frozenset({"hormone_form", "hormone", "hormone_name"})
_SUPPLIES: Final = frozenset({"container", "pot_size", "medium", "amount"})


@looks_for("@container", "@pot_size", beside=_PER | _EACH_ONE)
def _keep_rates(said: list[Piece]) -> None:
    """`3 per cell`, `4 to a pot`, `one seed per cell`, `128 plugs of fescue, 4 seeds each`: how many in each."""
    sown = _opens_lot(said, ("sow",))
    for place, piece in enumerate(said):
        if piece.kind != "number":
            continue
        after = place + 1
        after += after < len(said) and said[after].low in _OF_SEED
        end = _per_container(said, after)
        if end:
            _keep(*said[place:end])
            _keep_pots(said[end:])
        elif not sown or not _counts_containers(said, place):
            continue
        elif after < len(said) and said[after].low in _EACH_ONE:
            _keep(*said[place : after + 1])
        elif after + 1 < len(said) and "plant" in said[after].roles and said[after + 1].low in _EACH_ONE:
            _keep(piece, said[after + 1])


def _keep_pots(said: list[Piece]) -> None:
    """`potted 2 per pot, 12 pots`: how many pots, not how many plants."""
    for number, pot in pairwise(said):
        if number.kind == "number" and pot.roles.get("container") == "pot":
            _keep(number)


def _per_container(said: list[Piece], at: int) -> int:
    """Where `per cell`, `to a pot`, `in each cell` ends that begins at a place; nought where it is none."""
    lead = at
    while lead < len(said) and said[lead].low in _PER:
        lead += 1
    told = lead > at and (lead - at > 1 or said[at].low in _PER_ONE)
    if told and lead + 1 < len(said) and said[lead].low in _KINDS_OF_POT:
        lead += 1
    return lead + 1 if told and lead < len(said) and "container" in said[lead].roles else 0


def _counts_containers(said: list[Piece], place: int) -> bool:
    """Whether other containers are counted in the statement, so that `each` is said of them."""
    return any(
        one.kind == "number" and other.roles.keys() & {"container", "pot_size"} and one is not said[place]
        for one, other in pairwise(said)
    )


@looks_for("@container", any_of=_LINES, beside=("=number",))
def _keep_lines(said: list[Piece]) -> None:
    """`sowed penstemon in 3 rows`, `in bed 4`: rows and the number of a bed count no plants."""
    for place, piece in enumerate(said[:-1]):
        following = said[place + 1]
        whole = following.low in _WHOLE and place + 2 < len(said)
        line = said[place + 2] if whole else following
        if piece.kind == "number" and line.low in _LINES and piece.value.of is None:
            _keep(piece, following, line)
        elif piece.roles.get("container") == "bed" and following.kind == "number" and not piece.low.endswith("s"):
            counts = said[place + 2] if place + 2 < len(said) else None
            if counts is None or counts.kind == "break":
                _keep(following)


@looks_for("=moment", beside=_TURNS)
def _keep_turns(said: list[Piece]) -> None:
    """`for the 2nd time`, `the 3rd flush`: which of several turns, no day of the month."""
    for piece, following in pairwise(said):
        ordinal = piece.kind == "moment" and piece.value.day is not None and piece.value.month is None
        if ordinal and following.low in _TURNS:
            _keep(piece, following)


@looks_for("@fraction", "=number", beside=_BUCKETS)
def _keep_halves_of_buckets(said: list[Piece]) -> None:
    """`half a 5 gal bucket`: part of what a thing holds."""
    for place, piece in enumerate(said[:-1]):
        amount = said[place + 1]
        if "fraction" not in piece.roles and not (piece.kind == "number" and 0 < piece.value.value < 1):
            continue
        article = amount.low in ("a", "an", "the") and place + 2 < len(said)
        amount = said[place + 2] if article else amount
        last = place + 2 + article
        if amount.kind == "amount" and last < len(said) and said[last].low in _BUCKETS:
            _keep(*said[place : last + 1])


@looks_for(any_of=_BATCHES)
def _keep_half_batches(said: list[Piece]) -> None:
    """`a half batch of hormone`: how much was made, and no strength."""
    for piece, batch in pairwise(said):
        halved = "fraction" in piece.roles or (piece.kind == "number" and 0 < piece.value.value < 1)
        if halved and batch.low.split(" ")[0] in _BATCHES:
            _keep(piece, batch)


def _keep_different(said: list[Piece]) -> None:
    """`half powder half dip`, `20 heel 20 tip`, `18 w gel and 18 w/o`: some of them so and some otherwise."""
    taken = not any(word is not None and word.act == "stick" for word in _deeds(said))
    parts = [found for place in range(len(said)) if (found := _part_at(said, place)) is not None]
    for (start, end, kind, told), (later, last, other, different) in pairwise(parts):
        between = said[end:later]
        joined = all(piece.kind == "break" or "filler" in piece.roles for piece in between)
        whole = taken or said[start].kind != "number" or any(piece.kind == "number" for piece in said[: parts[0][0]])
        if joined and whole and kind == other and told != different:
            _keep(*said[start:last])


def _part_at(said: list[Piece], place: int) -> tuple[int, int, str, str] | None:
    """The part told at a place: where its words begin and end, of what kind it is, and what is told."""
    piece = said[place]
    counted = piece.kind == "number" and piece.value.whole is not None
    if not counted and "fraction" not in piece.roles and piece.low != "half":
        return None
    at = place + 1
    while at < len(said) and said[at].low in ("w", "with", "w/", "in", "the", "as", "were", "got", "of"):
        at += 1
    if at >= len(said):
        return None
    detail = said[at]
    if detail.low in ("w/o", "without"):
        return place, at + 1, "hormone", "none"
    if detail.low in ("none", "no hormone", "not", "plain", "control", "controls", "untreated"):
        return place, at + 1, "hormone", "none"
    noun = detail.roles.get("noun")
    if noun is not None and noun.says.get("treatment") == "hormone":
        return place, at + 1, "hormone", detail.low
    if detail.kind == "ppm" or detail.roles.keys() & _HORMONES:
        end = at + 1
        while end < len(said) and (said[end].kind == "ppm" or said[end].roles.keys() & _HORMONES):
            end += 1
        return place, end, "hormone", " ".join(one.low for one in said[at:end])
    for role in ("cutting", "wood", "medium"):
        if role in detail.roles or detail.kind == role:
            return place, at + 1, role, str(detail.roles.get(role, detail.value))
    return None


def _keep_some(said: list[Piece]) -> None:
    """`stuck 36 lavender, first 12 w no hormone`, `48 toyon, 12 w gel`: what is told of fewer than were stuck."""
    deed = max((place for place, piece in enumerate(said) if "act" in piece.roles), default=0)
    for place in range(deed + 1, len(said)):
        found = _part_at(said, place)
        if found is None or said[place].kind != "number" or found[2] == "medium":
            continue
        some = said[place].value.whole or 0
        counted = [at for at in range(deed, place) if said[at].kind == "number"]
        before = [said[at].value.whole or 0 for at in counted]
        own = _part_at(said, counted[0]) if counted else None
        if own is not None and own[2] == found[2] == "cutting" and own[3] != found[3]:
            # "stuck 30 tip and 18 nodal": others, and no part of those.
            continue
        led = said[place + 1].low in ("w", "with", "w/", "in", "got", "as", "were")
        ranked = said[place - 1].low in _SOME_OF
        led = led or found[2] in ("cutting", "wood")
        if before and some < before[0] < _LEAST_PPM and (led or ranked):
            _keep(*said[place - ranked : found[1]])


@looks_for("@fraction")
def _join_halves_in_trays(said: list[Piece]) -> None:
    """`half in tray 3 half in tray 4`: all of them in both trays, of which neither holds all."""
    halves = [place for place, piece in enumerate(said[:-2]) if "fraction" in piece.roles]
    if len(halves) != 2:
        return
    trays = [said[place + 2] for place in halves]
    if all(tray.kind == "trays" for tray in trays) and all(said[place + 1].low == "in" for place in halves):
        both = tuple(dict.fromkeys(name for tray in trays for name in tray.value))
        for tray in trays:
            tray.value = both
        _keep(*(said[place] for place in halves))


@looks_for("=ppm")
def _keep_strengths(said: list[Piece]) -> None:
    """`12 each of 0, 1000, 3000, 8000 ppm`: a trial of several strengths, of which none is that of all."""
    for place, piece in enumerate(said):
        if piece.kind != "ppm" or place < 2 or said[place - 1].low not in (",", "and", "&", "/"):
            continue
        start = place - 2
        if said[start].kind != "number":
            continue
        while start > 1 and said[start - 1].kind == "break" and said[start - 2].kind == "number":
            start -= 2
        _keep(*said[start : place + 1])


_LEAST_PPM: Final = 500
_SOME_OF: Final = frozenset({"first", "last", "other", "the other", "only"})


def _keep_exceptions(said: list[Piece]) -> None:
    """`no hormone on 10 of them`: what is told of some of them only."""
    for place, piece in enumerate(said[:-2]):
        lead, number = said[place + 1 : place + 3]
        told = piece.roles.keys() & {"hormone_form", "hormone", "cutting", "wood"}
        if told and lead.low in ("on", "for") and number.kind == "number" and _some_of_them(said, place + 2):
            _keep(piece, lead, *said[place + 2 : place + 4])


def _some_of_them(said: list[Piece], at: int) -> bool:
    after = said[at + 1].low if at + 1 < len(said) else ""
    return after in ("of them", "of em", "of those", "of these", "only")


@looks_for("@cause", "!lose", beside=("@fraction", "@vague", "=fraction", "=percent"))
def _keep_causes_of_some(said: list[Piece]) -> None:
    """`lost 12 in tray 3, about half to gnats`, `lost 8, some to rot`: what took a part of those counted before."""
    for place, piece in enumerate(said):
        if not piece.roles.keys() & {"fraction", "vague"} and piece.kind not in ("fraction", "percent"):
            continue
        at = place + 1
        while at < len(said) and said[at].low in _TO_CAUSES:
            at += 1
        counted = any(one.kind == "number" for one in said[:place])
        lost = any(word is not None and word.act == "lose" for word in _deeds(said[:place]))
        if counted and lost and at < len(said) and _blames(said[at]):
            start = place - ("approx" in said[place - 1].roles)
            _keep(*said[start : at + 1])


def _blames(piece: Piece) -> bool:
    """`rot`, or the `rotted` of `half rotted`."""
    word: ActWord | None = piece.roles.get("act")
    return ("cause" in piece.roles and word is None) or (word is not None and word.act == "lose" and word.counts_before)


@looks_for(
    "@hormone", "@hormone_form", "@hormone_name", "@cutting", "@wood", "@medium", "=medium", "=ppm", "!treat",
    "without", "w/o",
    "plain", "control", "controls", "untreated", "none", "not",
    beside=("=counts", "@fraction", "half", "them", "em", "those", "these", "only"),
)  # fmt: skip
def _keep_parts_of_opened(said: list[Piece]) -> None:
    """What is told of some of those that were stuck, gathered, sown or potted."""
    if _opens_lot(said, ("stick", "collect", "sow", "pot")):
        _keep_different(said)
        _keep_exceptions(said)
        _keep_some(said)


keep_parts: Final = InEach(
    sentences, _keep_makes, _keep_what_ran_out, _keep_rates, _keep_lines, _keep_turns, _keep_halves_of_buckets,
    _keep_half_batches, _keep_causes_of_some, _keep_parts_of_opened, _keep_strengths, _join_halves_in_trays,
)  # fmt: skip
"""Keeps the words for each and for a part out of every count and detail, in place."""
