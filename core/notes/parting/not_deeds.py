"""Which words of deeds tell none: what something was for, what was done in the place of another, how things stayed.

They are kept in the rest of what was done.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import COUNTS, NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, end_of_statement, is_end, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import words
from core.vocabulary.loading import small_words

_BEFORE_PURPOSES: Final = small_words("acts", "before_purposes")
_DONE_TO: Final = frozenset({"number", "lots", "trays", "fraction"})
_SIDES: Final = small_words("acts", "sides")
_ALL_THERE: Final = small_words("acts", "all_there")
_DONE_THERE: Final = (COUNTLESS - {"treat"}) | {"check", "pot", "lose", "sell", "give", "wilt"}
_IN_PLACE_OF: Final = small_words("acts", "instead")
_INSTEAD: Final = Runs(_IN_PLACE_OF)
_QUALITIES: Final = small_words("roots", "qualities")
_RAISING: Final = small_words("no_plants", "raising")
_TURNED_UP: Final = small_words("no_plants", "turned_up") | small_words("no_plants", "machines")
_ARTICLES: Final = small_words("no_plants", "before_things")
_BLAMING: Final = frozenset({"to", "from", "by"})
_HEATING: Final = small_words("equipment", "heating")
_ON_PLANTS: Final = frozenset({"is", "off", "on", "for", "under", "to", "from", "at", "in"})
_WEEDS: Final = small_words("no_plants", "weeds")
_WORDS: Final = frozenset({"word", "phrase"})
_WEANING: Final = frozenset({"harden", "air", "uncover", "vent"})
"""What plants are got used to, before they are ready to be potted or sold."""
_STANDING: Final = frozenset({"is", "are", "was", "were", "all", "also", "now", "already"})
_GROWING: Final = frozenset({"germinated", "flowering"})
_HOLDING: Final = frozenset({"hold", "held", "holding"})


@looks_for(any_of=_BEFORE_PURPOSES)
def keep_purposes(pieces: list[Piece]) -> None:
    """`soaked 24 h before sowing`, `washed pots for potting day`: what something was done for was not done with it; its
    words up to the next mark or deed are only kept.
    """
    for place, piece in enumerate(pieces[1:], start=1):
        start = place - 1 - _time_spent(pieces, place)
        lead = pieces[start].low
        if lead not in _BEFORE_PURPOSES:
            continue
        ongoing = is_act(piece) and piece.low.split(" ")[0].endswith("ing")
        # "holding trays 4-6 for damping off": why they are held.
        ongoing = ongoing and not ("cause" in piece.roles and any(map(_holds, pieces[:place])))
        if not ongoing:
            continue
        after = pieces[place + 1] if place + 1 < len(pieces) else None
        if lead == "after" and after is not None and (after.kind in _DONE_TO or after.low in ("it", "them", "em")):
            continue
        for kept in pieces[start:]:
            if kept.kind == "break" or (kept is not piece and is_act(kept)):
                break
            keep_words(kept)


def _time_spent(pieces: list[Piece], place: int) -> int:
    """How many words before the place tell for how long, after a deed: `potted lot 9 after 2 weeks of misting`."""
    end = place - (pieces[place - 1].low == "of")
    told = end > 2 and pieces[end - 1].kind == "duration" and pieces[end - 2].low == "after"
    return place - end + 1 if told and any({"act", "noun"} & piece.roles.keys() for piece in pieces[: end - 2]) else 0


@looks_for(any_of=_RAISING, beside=_TURNED_UP)
def keep_turned_up(pieces: list[Piece]) -> None:
    """`bumped the heat mat to 78f`, `bumped the misting to twice a day`: nothing potted up, in place."""
    for place, piece in enumerate(pieces):
        if piece.low not in _RAISING or not is_act(piece):
            continue
        thing = place + 1
        while thing < len(pieces) and (pieces[thing].low in _ARTICLES or pieces[thing].low == "up"):
            thing += 1
        if not is_end(pieces, thing) and pieces[thing].low.removeprefix("the ") in _TURNED_UP:
            end = end_of_statement(pieces, thing)
            keep_words(piece, pieces[thing], *(one for one in pieces[thing + 1 : end] if is_act(one)))


@looks_for(any_of=_WEEDS, beside=("!check",))
def keep_weeds_up(pieces: list[Piece]) -> None:
    """`weeds are coming up in tray 4`, `moss flowering on lot 9`: no plants of the lot that come up, in place."""
    for place, piece in enumerate(pieces):
        state = place + 1
        while state < len(pieces) and pieces[state].low in _STANDING:
            state += 1
        word = pieces[state].roles.get("act") if piece.low in _WEEDS and not is_end(pieces, state) else None
        if word is not None and word.says.get("state") in _GROWING:
            keep_words(pieces[state])


@looks_for("heat", beside=("on", "off"))
def keep_house_heat(pieces: list[Piece]) -> None:
    """`heat off in the office`, `heat on full`: a heater that no lot or tray is named with, in place; `lost 5 to heat
    on sunday` tells a cause and a day.
    """
    for place, piece in enumerate(pieces):
        if piece.low == "heat on" and place and pieces[place - 1].low in _BLAMING and _tells_loss(pieces[:place]):
            piece.low, piece.roles = "heat", words().phrases["heat"]
        elif is_act(piece) and piece.low in _HEATING:
            lead = place + 1
            while lead < len(pieces) and pieces[lead].low in _ON_PLANTS:
                lead += 1
            beside = [*pieces[lead : lead + 1], *pieces[max(place - 1, 0) : place]]
            if not any(one.kind in ("lots", "trays") or "plant" in one.roles for one in beside):
                keep_words(piece)


def _tells_loss(told: list[Piece]) -> bool:
    return any("act" in piece.roles and piece.roles["act"].act == "lose" for piece in told)


@looks_for("under", any_of=_SIDES)
def keep_sides(pieces: list[Piece]) -> None:
    """`no vents open on the mat side`, `stuck 30 toyon, under mist`: where something is, and no deed."""
    for place, piece in enumerate(pieces[:-1]):
        after = pieces[place + 1]
        if place and piece.low == "under" and after.low == "mist" and pieces[place - 1].kind == "break":
            keep_words(after)
        leads = piece.low.split(" ")[0] in ("on", "in", "off", "out", "under")
        if leads and is_act(piece) and pieces[place + 1].low in _SIDES:
            keep_words(piece, pieces[place + 1])


@looks_for(any_of=_ALL_THERE, beside=("!treat",))
def keep_all_there(pieces: list[Piece]) -> None:
    """`misted everything on the heat mat`, `the stuff in the fridge watered`: which plants, and no second deed; they
    are none of those told of before.
    """
    deed: int | None = None
    for place, piece in enumerate(pieces):
        if not is_act(piece):
            fresh = piece.kind == "break" and place + 1 < len(pieces)
            deed = place if fresh else deed if piece.low in _ALL_THERE or _may_lead_to(piece) else None
            continue
        word = piece.roles.get("act")
        between = pieces[deed + 1 : place] if deed is not None else pieces[:place]
        told = deed is not None and is_act(pieces[deed])
        if word is None or word.act != "treat" or piece.low.split(" ")[0] not in ("on", "in"):
            deed = place if word is not None and word.act in _DONE_THERE else None
        elif any(one.low in _ALL_THERE for one in between) and (told or _is_done_there(pieces, place + 1)):
            for kept in (*between, piece):
                kept.kind, kept.roles = "exception", NO_ROLES


def _is_done_there(pieces: list[Piece], at: int) -> bool:
    """Whether a deed follows right at a place (`everything on the mat | misted`)."""
    word = pieces[at].roles.get("act") if at < len(pieces) else None
    return word is not None and word.act in _DONE_THERE


def _may_lead_to(piece: Piece) -> bool:
    return piece.low not in ("and", "&", "then") and ("filler" in piece.roles or "all" in piece.roles)


@looks_for("till", "until", "til")
def keep_until(pieces: list[Piece]) -> None:
    """`on hold till the mites are gone`, `covered until rooted`: what is waited for has not come yet."""
    done = waits = False
    for piece in pieces:
        if piece.kind == "break":
            done = waits = False
        waits = waits or (done and piece.low in ("till", "until", "til"))
        word = piece.roles.get("act")
        if waits and word is not None and word.counts_before:
            keep_words(piece)
        done = done or is_act(piece)


@looks_for("ready")
def keep_ready_for(pieces: list[Piece]) -> None:
    """`tray 3 is ready to come off the mat`: what plants are ready for was not done yet; `tray 4 ready for sticking` is
    no word of plants.
    """
    for place, piece in enumerate(pieces):
        named = any(one.kind == "lots" for one in pieces[:place])
        if piece.low == "ready" and is_act(piece) and not named and _is_planting(pieces[place + 1 : place + 3]):
            getting = [one for one in pieces[:place] if one.low in ("got", "getting", "get")]
            keep_words(*getting, *pieces[place : place + 3])
        if piece.low == "ready" and _is_for_something_else(pieces, place):
            keep_words(*(one for one in pieces[place : end_of_statement(pieces, place)] if one.kind in _WORDS))
        led = place > 1 and pieces[place - 1].low in ("come", "go", "be") and pieces[place - 2].low == "to"
        if led and is_act(piece) and any(one.low == "ready" for one in pieces[max(0, place - 4) : place]):
            keep_words(piece)


def _is_for_something_else(pieces: list[Piece], place: int) -> bool:
    """`tray 5 isn't ready | to live without a dome`: uncounted, and ready for what nobody sells or pots."""
    after = pieces[place + 1 : place + 3]
    if len(after) <= 1 or after[0].low != "to":
        return False
    word = after[1].roles.get("to_do") or after[1].roles.get("act")
    if word is not None and (place == 0 or is_end(pieces, place - 1)) and not is_end(pieces, place + 3):
        # "ready to water tray 4": who is, and no plants.
        return True
    if not (after[1].kind == "word" or after[1].low == "live" or (word is not None and word.act in _WEANING)):
        return False
    return not any(one.kind in COUNTS for one in pieces[begin_of_statement(pieces, place) : place])


def _is_planting(said: list[Piece]) -> bool:
    """The `to stick` or `for sowing` of a tray that is ready."""
    if len(said) < 2 or said[0].low not in ("to", "for"):
        return False
    word = said[1].roles.get("to_do") or said[1].roles.get("act")
    return word is not None and word.act in ("stick", "sow")


@looks_for("replaced", "swapped", beside=("!lose",))
def keep_replacements(pieces: list[Piece]) -> None:
    """`replaced 6 dead in tray 4 w fresh sage tips`: what came in the place of those that died, in place."""
    lost = False
    for place, piece in enumerate(pieces):
        lost = lost or ("act" in piece.roles and piece.roles["act"].act == "lose")
        if not lost or piece.low not in ("with", "w", "w/", "for"):
            continue
        for kept in pieces[place:]:
            if kept.kind == "break":
                break
            keep_words(kept)
        return


@looks_for(any_of=_HOLDING, beside=("@vent_noun", "@cover_noun"))
def keep_held_covers(pieces: list[Piece]) -> None:
    """`hold the vents at half`, `held the dome down with clips`: no plants are set apart, in place."""
    for place, piece in enumerate(pieces):
        told = [one for one in pieces[place + 1 : place + 3] if one.low not in ("the", "its", "their")][:1]
        if piece.low in _HOLDING and told and not told[0].roles.keys().isdisjoint(("vent_noun", "cover_noun")):
            keep_words(piece)


@looks_for(any_of=_QUALITIES, beside=("roots", "root", "callus"))
def keep_qualities(pieces: list[Piece]) -> None:
    """`31 rooted, nice white roots`: how the roots look of those that are counted already, in place."""
    for at, piece in enumerate(pieces):
        noun = piece.roles.get("noun")
        start = at
        while start and pieces[start - 1].low in _QUALITIES:
            start -= 1
        if noun is None or start == at or any("none" in one.roles for one in pieces[max(0, start - 1) : start]):
            continue
        states = (one.roles["act"].says.get("state") for one in pieces if "act" in one.roles)
        if noun.act == "check" and noun.says.get("state") in states:
            keep_words(*pieces[start : at + 1])


@looks_for("emptied", beside=("bag", "bags"))
def keep_emptied_bags(pieces: list[Piece]) -> None:
    """`emptied the bags on the lupine`: no solution, and no cover."""
    for place, piece in enumerate(pieces):
        bags = next((at for at in (place + 1, place + 2) if at < len(pieces) and pieces[at].low in ("bag", "bags")), 0)
        if piece.low == "emptied" and bags:
            keep_words(*pieces[place : bags + 1])


@looks_for("kept", "left")
def keep_as_it_was(pieces: list[Piece]) -> None:
    """`kept tray 3 covered all day`, `left 3 covered`: how it stayed, and nothing kept for anybody, or done."""
    for place, piece in enumerate(pieces):
        after = pieces[place + 1 : place + 3]
        stays = piece.low == "left" and len(after) == 2 and after[0].kind in _DONE_TO and "act" in after[1].roles
        timed = any(one.kind == "duration" for one in pieces[place + 3 :])
        if stays and not timed and after[1].roles["act"].act in ("cover", "uncover", "air"):
            for kept in (piece, *after):
                if kept.kind not in SUBJECTS:
                    keep_words(kept)
            continue
        if piece.low != "kept" or not is_act(piece):
            continue
        for other in pieces[place + 1 :]:
            if other.kind == "break":
                break
            if "act" in other.roles and other.roles["act"].act in ("cover", "vent", "air", "water"):
                piece.roles = NO_ROLES


@looks_for(any_of=_IN_PLACE_OF)
def keep_rejected(pieces: list[Piece]) -> None:
    """`bottom watered tray 4 instead of misting`, `potted into 4 in rather than 1 gal`: what was not done, or not used,
    is only kept: a deed with its words up to the next mark or told deed, else the one thing named.
    """
    for place in range(len(pieces)):
        start = _INSTEAD.end_at(pieces, place)
        end = (_deed_until(pieces, start) or _thing_until(pieces, start)) if start else 0
        heads = place == 0 or pieces[place - 1].kind in ("break", "moment")
        for kept in pieces[place:end]:
            if not (heads and kept.kind in ("lots", "trays") and end < len(pieces) and pieces[end].kind != "break"):
                kept.kind, kept.roles = "rejected", NO_ROLES


def _deed_until(pieces: list[Piece], start: int) -> int:
    end = start
    while end < len(pieces) and pieces[end].kind != "break" and pieces[end].low not in ("then", "but", "so"):
        if is_act(pieces[end]) and _is_told(pieces[end]):
            break
        end += 1
    return end if any(may_be_deed(piece) for piece in pieces[start:end]) else 0


def _thing_until(pieces: list[Piece], start: int) -> int:
    """Where the one thing ends that was not taken (`lot 4`, `1 gal`, `4 in pots`)."""
    at = start
    while at < len(pieces) and "filler" in pieces[at].roles:
        at += 1
    if is_end(pieces, at):
        return 0
    measured = pieces[at].kind in ("size", "number", "amount", "ppm", "percent")
    return at + 1 + (measured and at + 1 < len(pieces) and "container" in pieces[at + 1].roles)


def _is_told(piece: Piece) -> bool:
    return piece.low.split(" ")[0].endswith("ed") or piece.low.split(" ")[-1].endswith("ed")


def may_be_deed(piece: Piece) -> bool:
    """Whether a word tells a deed, or names one that may have been done (`misted`, `mist`, `dome`)."""
    return is_act(piece) or not piece.roles.keys().isdisjoint(("to_do", "noun", "cover_noun", "vent_noun"))


def _holds(piece: Piece) -> bool:
    word = piece.roles.get("act") or piece.roles.get("shared")
    return word is not None and (word.act == "hold" or word.rule == "hold")
