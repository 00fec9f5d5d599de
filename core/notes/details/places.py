"""Where to, where from, into which lot: places, people and lots that stand after a little word, as texted.

Words after `from`, `to`, `at`, `as` go up to the next mark or known detail; articles before them are dropped.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Final

from core.notes.acts.slots import Slots, joined, use
from core.notes.details.new_lots import kept_lot, new_lot
from core.notes.details.place_names import ARTICLES, ENDING_WORDS, text_end, text_of
from core.notes.details.sources import is_place, known_source, mother_named, source, source_alone, source_leads
from core.notes.names.groups import MONTHS, NAMELIKE, people_until
from core.notes.names.people import may_be_name
from core.notes.names.place_leads import PLACE_LEADS
from core.notes.words.pieces import Piece
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import small_words

_GROUPS: Final = (
    small_words("places", "ends") | small_words("groups", "groups") | small_words("groups", "gatherings")
)
_PLACE_ENDS: Final = frozenset().union(small_words("places", "ends"), small_words("places", "structures"))
_WEATHER: Final = small_words("places", "weather")
_LETTERED: Final = small_words("places", "lettered_benches")
_OF_ROOMS: Final = small_words("places", "of_rooms")
_READ: Final = small_words("places", "read")
_CLAIMED: Final = frozenset({"spoken for", "promised", "reserved", "claimed"})
_NO_LEADS: Final[frozenset[str]] = frozenset()
_SPEAKER: Final = small_words("people", "speaker")
_TITLES: Final = small_words("people", "titles")
_NUMBERED: Final = re.compile(r"\b(tray|lot) (?:no\.?|num\.?|number|#) ?(?=\d)")
"""`tray no. 2`: a tray by its number."""
_HOME: Final = frozenset({"in", "inside", "indoors", "home"})
_NOWHERE: Final = small_words("places", "nowhere")
_PURPOSE_VERBS: Final = small_words("places", "purpose_verbs")
_PURPOSES: Final = small_words("places", "purposes")


def ends_name(piece: Piece) -> bool:
    """The `school` of `to sunset school`, the `bench` of `to sunset bench`."""
    return "place_word" in piece.roles or piece.low in _PLACE_ENDS


def texts(slots: Slots, pieces: list[Piece]) -> None:
    """Takes what stands after little words: source, person, destination, receiver, new lot."""
    leads, from_where = PLACE_LEADS.get(slots.act, _NO_LEADS), source_leads(slots)
    leading = leads | from_where | {"by"}
    for place, piece in enumerate(pieces[:-1]):
        low = piece.low
        if low not in leading or piece.used:
            continue
        if low in from_where:
            source(slots, pieces, place)
        elif low == "by" and pieces[place + 1].low in _SPEAKER:
            use(piece, pieces[place + 1])
        elif low == "by" and people_until(pieces, place) and _may_do(slots, pieces, place):
            end = people_until(pieces, place)
            slots.put("by", text_of(slots, pieces, place + 1, end), *pieces[place:end])
        elif (
            low == "by"
            and not (slots.act == "check" and pieces[place + 1].low in MONTHS)
            and not slots.values.get("by")
            and not (slots.takes("cause") and "cause" in pieces[place + 1].roles)
            and may_be_name(pieces[place + 1])
            and slots.act not in ("move", "harden", "plant_out")
        ):
            end = text_end(pieces, place + 1)
            if end - place <= 4:
                name = "to" if slots.act == "reserve" else "by"
                slots.put(name, text_of(slots, pieces, place + 1, end), *pieces[place:end])
        elif low in leads and "to" not in slots.values and piece.kind != "kept":
            _destination(slots, pieces, place)
    _beside_another(slots, pieces)
    if slots.takes("source"):
        known_source(slots, pieces)
        mother_named(slots, pieces)
        source_alone(slots, pieces)
    if slots.act in ("give", "reserve") and "to" not in slots.values:
        _claimed_by(slots, pieces)
    if slots.act in ("give", "sell", "reserve") and "to" not in slots.values:
        _receiver(slots, pieces)
    if slots.act == "give" and "to" not in slots.values:
        _taker(slots, pieces)
    if slots.act == "split":
        new_lot(slots, pieces)
    elif slots.act == "merge":
        kept_lot(slots, pieces)
    elif slots.act in ("harden", "move", "plant_out") and "to" not in slots.values and is_place(pieces):
        told = [piece for piece in pieces if piece.kind != "mark" and "loose_times" not in piece.roles]
        slots.put("to", joined(slots.tokens, told[0].first, told[-1].last), *told)
    if slots.act in ("move", "harden") and "to" not in slots.values:
        for piece in pieces:
            if piece.low in ("outside", "inside", "outdoors", "indoors") and not piece.used:
                slots.put("to", piece.low, piece)


def _destination(slots: Slots, pieces: list[Piece], place: int) -> None:
    start = place + 1
    while (
        start < len(pieces)
        and (
            pieces[start].low in PLACE_LEADS[slots.act]
            or (
                pieces[start].low in ("back", "over")
                and start + 1 < len(pieces)
                and pieces[start + 1].low in PLACE_LEADS[slots.act]
            )
        )
        and start - place < 3
    ):
        start += 1
    if start >= len(pieces):
        return
    first = pieces[start]
    if _is_purpose(pieces, start):
        return
    if _is_other_tray(slots, pieces, start):
        slots.put("to", f"tray {first.low}", *pieces[place : start + 1])
        return
    if place and pieces[place - 1].low == "home" and is_everyday(first.low):
        return
    if first.low in ("from", "off", "for", "before", "after") or first.kind == "rejected":
        return
    if first.low in _NOWHERE and not any(ends_name(piece) for piece in pieces[start + 1 : start + 2]):
        return
    if first.kind in ("moment", "duration", "lots", "size", "percent", "fraction") or first.kind == "number":
        return
    if first.kind == "trays" and slots.act != "move":
        return
    if first.kind == "amount" or "pot_size" in first.roles:
        return
    end = text_end(pieces, start)
    text = text_of(slots, pieces, start, end)
    text = _NUMBERED.sub(r"\1 ", text.removeprefix("the "))
    if not text or text in ("them", "it", "these", "those"):
        return
    if (
        pieces[place].low in ("in", "on", "at", "by", "under")
        and (_goes_on_to(pieces, place + 1) or _comes_back(pieces, start))
        and slots.act == "move"
    ):
        return
    slots.put("to", text, *pieces[place:end])


def _is_purpose(pieces: list[Piece], at: int) -> bool:
    """`put lot 9 in shade to | root`, `to | make room`: what it went there for; not `moved lot 9 to | cool frame`."""
    if pieces[at].low in _PURPOSE_VERBS and pieces[at - 1].low == "to":
        return True
    led = pieces[at].low in _PURPOSES and pieces[at - 1].low == "to"
    after = pieces[at + 1] if led and at + 1 < len(pieces) else None
    return led and (after is None or not (after.kind == "word" or ends_name(after)))


def _goes_on_to(pieces: list[Piece], at: int) -> bool:
    """Whether a little word from a place on leads to where something went."""
    leads = (step for step in range(at, len(pieces)) if pieces[step].low in ("to", "into", "onto"))
    return any(step + 1 == len(pieces) or not _is_purpose(pieces, step + 1) for step in leads)


def _comes_back(pieces: list[Piece], start: int) -> bool:
    """`brought the ones on the | slab back in`: where they were, and not where they went."""
    return any(one.low == "back" and after.low in _HOME for one, after in pairwise(pieces[start + 1 :]))


def _is_other_tray(slots: Slots, pieces: list[Piece], at: int) -> bool:
    """The 4 of `moved 12 from tray 3 to | 4`: a tray as the one that they came from."""
    left = pieces[at - 2] if at > 2 and slots.act == "move" and pieces[at].kind == "number" else None
    if left is None or left.kind != "trays" or pieces[at - 1].low != "to":
        return False
    return pieces[at - 3].low.split(" ")[-1] in ("from", "of")


def _beside_another(slots: Slots, pieces: list[Piece]) -> None:
    """`moved tray 9 next to lot 14`, `planted out 12 where lot 10 went`: a place told by another lot."""
    if slots.act not in ("move", "harden", "plant_out") or "to" in slots.values:
        return
    for place, piece in enumerate(pieces):
        if "standing" in piece.roles and not (place and pieces[place - 1].low in ("from", "off")):
            slots.put("to", joined(slots.tokens, piece.first, piece.last), piece)


def _may_do(slots: Slots, pieces: list[Piece], place: int) -> bool:
    """Whether the people after `by` may have done it: `spoken for by` is a claim, a month after `ready` a day."""
    if slots.values.get("by") or slots.act == "reserve":
        return False
    return not (slots.act == "check" and pieces[place + 1].low in MONTHS)


def _claimed_by(slots: Slots, pieces: list[Piece]) -> None:
    """`spoken for by the dune school`, `went home with marisol`: who has what was set aside or given."""
    for place, piece in enumerate(pieces[:-1]):
        claims = slots.act == "reserve" and piece.low == "by" and place and pieces[place - 1].low in _CLAIMED
        ends = slots.act == "give" and "act" in piece.roles and piece.low.endswith(" with")
        if not claims and not ends:
            continue
        end = text_end(pieces, place + 1)
        text = text_of(slots, pieces, place + 1, end)
        if text and pieces[place + 1].kind in ("word", "phrase"):
            slots.put("to", text, *pieces[place:end])
        return


def _receiver(slots: Slots, pieces: list[Piece]) -> None:
    """`gave ana 6 toyon`, `gave the river school 30`, `sold priya 3 sage`: who stands right after the verb, which holds
    for all that is told with it.
    """
    for place, piece in enumerate(pieces[:-2]):
        named = place + 1 + (pieces[place + 1].low == "the" and place + 3 < len(pieces))
        end = named
        while end < len(pieces) and pieces[end].kind == "word" and not pieces[end].used and end - named < 3:
            end += 1
        if end == named and pieces[named].low in NAMELIKE and _counts_of_lot(pieces, named + 1):
            end += 1
        if "act" not in piece.roles or not named < end < len(pieces) or not _begins_given(pieces, end):
            continue
        if slots.act == "give" or _surely_buys(pieces[named:end]):
            to = joined(slots.tokens, pieces[named].first, pieces[end - 1].last)
            slots.values["receiver"] = slots.put("to", to, *pieces[place + 1 : end]) or None


def _surely_buys(who: list[Piece]) -> bool:
    """`sold priya 3 sage`, `sold mrs dunn 6`, `sold the garden club 24 from lot 60`; not `sold fernbush 24`, `sold
    retail 3 sage`.
    """
    return who[-1].low in _GROUPS or is_given_name(who[0].low) or (len(who) > 1 and who[0].low in _TITLES)


def _taker(slots: Slots, pieces: list[Piece]) -> None:
    """`finn picked up his 12 toyon`, `mill pond took 30 deergrass`: who stands before the verb of taking."""
    at = next((place for place, piece in enumerate(pieces) if "shared" in piece.roles and place), None)
    if at is None or slots.values.get("to") or pieces[at].low not in ("took", "picked up"):
        return
    start = at
    while start and pieces[start - 1].kind != "moment" and "filler" not in pieces[start - 1].roles:
        start -= 1
    if start < at:
        slots.values.pop("by", None)
        slots.put("to", joined(slots.tokens, pieces[start].first, pieces[at - 1].last), *pieces[start:at])


def _counts_of_lot(pieces: list[Piece], at: int) -> bool:
    """`gave rosemary 12 of lot 4`: a count out of a lot, so that the name before it is no plant."""
    told = pieces[at : at + 3]
    return len(told) == 3 and told[0].kind == "number" and told[1].low in ("of", "from") and told[2].kind == "lots"


def _begins_given(pieces: list[Piece], at: int) -> bool:
    """Whether what was given begins at a place: a count, a lot, `all of`, `a six pack`."""
    piece = pieces[at]
    if piece.kind in ("number", "lots") or "container" in piece.roles:
        return True
    if piece.kind == "kept" and piece.low.isdigit():
        # "gave kit | 3 flats of sage".
        return True
    boxed = piece.low in ("a", "an") and at + 1 < len(pieces) and "container" in pieces[at + 1].roles
    whole = "all" in piece.roles and any(one.kind in ("lots", "trays") for one in pieces[at + 1 : at + 4])
    return boxed or whole


def place_of(slots: Slots, pieces: list[Piece]) -> None:
    """Where a temperature was read: the words that stand together beside it."""
    best: tuple[int, int] | None = None
    at = 0
    while at < len(pieces):
        end = at
        while end < len(pieces) and not pieces[end].used and _may_be_place(pieces[end]):
            if end > at and pieces[end].low in ENDING_WORDS:
                break
            end += 1
        if end > at:
            known = any("place_word" in piece.roles for piece in pieces[at:end])
            if any("filler" not in piece.roles for piece in pieces[at:end]) and (best is None or known):
                best = at, end
            at = end
        at += 1
    if best is None:
        return
    start, end = best
    while (
        start < end
        and (
            ("filler" in pieces[start].roles and "place_word" not in pieces[start].roles)
            or pieces[start].low in ARTICLES
        )
        and not _names_room(pieces[start:end])
    ):
        start += 1
    while end > start and ("filler" in pieces[end - 1].roles or pieces[end - 1].low in _READ):
        if pieces[end - 1].low == "a" and end - start > 1 and pieces[end - 2].low in _LETTERED:
            break
        pieces[end - 1].used = True
        end -= 1
    if start < end and "cover_noun" in pieces[start].roles:
        start = _under(pieces, best[0], start)
    if start < end and not _is_no_place(pieces[start:end]):
        slots.put("place", joined(slots.tokens, pieces[start].first, pieces[end - 1].last), *pieces[start:end])


def _names_room(said: list[Piece]) -> bool:
    """`seed room`, `cuttings fridge`: a small word that belongs to the name of the place after it."""
    return len(said) > 1 and said[0].low in _OF_ROOMS and ("place_word" in said[1].roles or said[1].kind == "word")


def _under(pieces: list[Piece], first: int, start: int) -> int:
    """Where `under the dome` begins; the cover itself where nothing leads to it (`in the tent`)."""
    lead = start
    while lead > first and pieces[lead - 1].low in ARTICLES:
        lead -= 1
    led = lead > first and pieces[lead - 1].low in ("under", "beneath", "inside")
    return lead - 1 if led else start


def _is_no_place(run: list[Piece]) -> bool:
    """`frost`, `go home`: the weather, or words of plain English that end in no word for a place."""
    if all(piece.low in _WEATHER for piece in run):
        return True
    known = any("place_word" in piece.roles for piece in run) or run[-1].low in _PLACE_ENDS
    worded = len(run) > 1 and all(piece.kind in ("word", "phrase") for piece in run)
    return not known and worded and run[0].kind == "word" and is_everyday(run[0].low)


def _may_be_place(piece: Piece) -> bool:
    if piece.kind in ("word", "letter") or "place_word" in piece.roles or "filler" in piece.roles:
        return True
    return (piece.kind == "number" and piece.value.whole is not None and piece.value.value < 20) or (
        piece.kind == "phrase" and piece.roles.keys().isdisjoint(("act", "humidity", "temp_word"))
    )
