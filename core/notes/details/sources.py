"""Where did seed or wood come from: a place or a mother plant, or several with their counts."""

from __future__ import annotations

from typing import Final

from core.notes.acts.slots import Slots, joined, use
from core.notes.counts.shares import is_mother, mothers_end
from core.notes.details.place_names import ARTICLES, text_end, text_of
from core.notes.words.pieces import Piece, is_act
from core.vocabulary.loading import small_words

_FROM: Final = small_words("places", "from")

_COLD: Final = small_words("sources", "cold")
_SOURCE_WORDS: Final = (_FROM | {"source"}, _FROM | {"source", "at", "along", "@"})

_DAYS: Final = frozenset({"yesterdays", "yesterday's", "todays", "today's"})
_TELLING: Final = frozenset({"act", "shared", "noun", "to_do", "plant", "medium", "container", "cause", "all", "vague"})
_SOME: Final = frozenset({"half", "some", "most", "a few", "few", "rest", "others", "a third"})
_EACH: Final = small_words("sources", "each")
_MOTHERS: Final = small_words("sources", "mothers")
_PLACE_ENDS: Final = small_words("places", "ends")


def source_leads(slots: Slots) -> frozenset[str]:
    """The little words after which comes where the seed or wood of this act was taken."""
    return _SOURCE_WORDS[slots.act == "collect"] if slots.takes("source") else frozenset()


def source(slots: Slots, pieces: list[Piece], place: int) -> None:
    """Where it came from, after the little word at a place; `half from the ditch` is of some of it only."""
    if place and pieces[place - 1].low in _SOME:
        return
    following = pieces[place + 1]
    if following.low in _COLD or following.low in _DAYS or _is_span(following):
        return
    if following.kind in ("moment", "duration", "size", "break", "percent", "trays", "lots", "shares"):
        if (
            following.kind == "lots"
            and slots.act in ("stick", "sow", "divide", "collect")
            and pieces[place].low in ("from", "fr", "frm")
            and any(p.kind == "lots" for p in pieces[:place])
        ):
            slots.put("source", following.low, pieces[place], following)
        return
    if is_mother(following.low):
        _mothers(slots, pieces, place)
        return
    if slots.act in ("collect", "divide") and _is_plant_itself(pieces, place):
        return
    if pieces[place].low not in ("from", "fr", "frm") and (
        following.kind == "number" or slots.act not in ("collect", "stick", "divide")
    ):
        return
    start = place + 1 + (following.low == "of" and place + 2 < len(pieces))
    end = text_end(pieces, start)
    text = text_of(slots, pieces, start, end)
    if not text or _from_each(slots, pieces, place, end):
        return
    if _plant_of_source(slots, pieces, start, end):
        return
    counted = pieces[place - 1] if place else None
    if counted is not None and counted.kind == "number" and not counted.used and counted.value.whole is not None:
        told = (counted, *pieces[place:end])
        slots.values.setdefault("shares", []).append((text, counted.value.whole, told))
        use(*told)
    else:
        slots.put("source", text, *pieces[place:end])


def _plant_of_source(slots: Slots, pieces: list[Piece], start: int, end: int) -> bool:
    """`from the big toyon`, `from the toyon m6`: the plant too, where no other is named; whether the source is m6."""
    lead = [pieces[start - 1], *pieces[start:end]]
    article = next((at for at, one in enumerate(pieces[start - 1 : end]) if one.low in ARTICLES), None)
    named = lead[(article or 0) + 1 :]
    mother = named[-1] if named and is_mother(named[-1].low) else None
    named = named[:-1] if mother is not None else named
    others = [one for one in pieces if "plant" in one.roles and one not in named]
    plain = article is not None and named and all(_TELLING.isdisjoint(one.roles) for one in named[:-1])
    if not plain or others or "plant" not in named[-1].roles or named[-1].low in _PLACE_ENDS:
        return False
    slots.put("plant", named[-1].low, named[-1])
    return mother is not None and slots.put("source", mother.low, pieces[start - 1], mother)


def _is_span(piece: Piece) -> bool:
    """`from 9 to 11`: hours."""
    return piece.kind == "number" and piece.value.high is not None and not piece.value.dashed


def _mothers(slots: Slots, pieces: list[Piece], place: int) -> None:
    """`from m2, m5 and m9`: mother plants by their short names."""
    following = pieces[place + 1]
    end = place + 2
    while end < len(pieces):
        listed = pieces[end].low in (",", "and", "&", "+") and end + 1 < len(pieces)
        if not is_mother(pieces[end + listed].low):
            break
        end += 1 + listed
    counted = pieces[place - 1] if place else None
    if (
        end == place + 2
        and counted is not None
        and counted.kind == "number"
        and not counted.used
        and counted.value.whole is not None
    ):
        told = (counted, *pieces[place:end])
        slots.values.setdefault("shares", []).append((pieces[place + 1].low, counted.value.whole, told))
        use(*told)
        return
    slots.put("source", joined(slots.tokens, following.first, pieces[end - 1].last), *pieces[place:end])


def _from_each(slots: Slots, pieces: list[Piece], place: int, end: int) -> bool:
    """`15 each from the ridge and the creek`: a count from each of two places."""
    joint = next((at for at in range(place + 2, end + 1) if _listing_at(pieces, at)), None)
    if joint is not None and joint >= end:
        end = text_end(pieces, joint + 1)
    each = next((at for at in range(max(0, place - 4), place) if pieces[at].low in _EACH), None)
    number = next((one for one in pieces[max(0, (each or 0) - 4) : each or 0] if one.kind == "number"), None)
    if joint is None or each is None or number is None or number.used or number.value.whole is None:
        return False
    for start, stop in ((place + 1, joint), (joint + 1, end)):
        share = (text_of(slots, pieces, start, stop), number.value.whole, ())
        slots.values.setdefault("shares", []).append(share)
    use(number, *pieces[each:end])
    return True


def _listing_at(pieces: list[Piece], at: int) -> bool:
    return at + 1 < len(pieces) and pieces[at].low in ("and", "&")


def mother_named(slots: Slots, pieces: list[Piece]) -> None:
    """`20 toyon m2`, `, quarry mother`: a mother plant named without a word that leads to it."""
    if slots.values.get("source") or slots.values.get("shares"):
        return
    for place, piece in enumerate(pieces):
        mother = piece.low in _MOTHERS
        if piece.used or not (mother or piece.low[0] == "m"):
            continue
        if piece.low[0] == "m" and is_mother(piece.low):
            end = mothers_end(pieces, place)
            slots.put("source", joined(slots.tokens, piece.first, pieces[end - 1].last), *pieces[place:end])
            return
        start = place
        while start and pieces[start - 1].kind == "word" and not pieces[start - 1].used:
            start -= 1
        led = start and pieces[start - 1].kind != "break" and "plant" not in pieces[start - 1].roles
        if mother and start < place and not led:
            slots.put("source", joined(slots.tokens, pieces[start].first, piece.last), *pieces[start : place + 1])
            return


def _is_plant_itself(pieces: list[Piece], place: int) -> bool:
    """`cut seed heads off the deergrass`: the plant, where no other is named, and no place."""
    at = place + 1 + (pieces[place + 1].low in ARTICLES and place + 2 < len(pieces))
    others = [one for one in pieces if "plant" in one.roles and one is not pieces[at]]
    closes = at + 1 >= len(pieces) or pieces[at + 1].kind == "break" or pieces[at + 1].low in _AFTER_PLANT
    closes = closes or is_act(pieces[at + 1])
    return "plant" in pieces[at].roles and pieces[at].low not in _PLACE_ENDS and not others and closes


_AFTER_PLANT: Final = frozenset({"at", "along", "by", "near", "@", "are", "were", "and", "went", "now", "into"})


def known_source(slots: Slots, pieces: list[Piece]) -> None:
    """`40 toyon tips heron gulch`: a source that the crew has named before, also without `from`."""
    if slots.values.get("source") or slots.values.get("shares"):
        return
    for piece in pieces:
        if "source_name" in piece.roles and not piece.used:
            slots.put("source", piece.low, piece)
            return


def source_alone(slots: Slots, pieces: list[Piece]) -> None:
    """`, spoon ridge` after what was collected: unknown words that end like a place."""
    if slots.act not in ("collect",) or "source" in slots.values:
        return
    if not is_place(pieces) and not ("plant" in slots.values and _is_called_after_plant(pieces)):
        return
    told = [piece for piece in pieces if piece.kind != "mark"]
    slots.put("source", joined(slots.tokens, told[0].first, told[-1].last), *told)


def is_place(pieces: list[Piece]) -> bool:
    """Whether two or three words alone in their clause end like the name of a place, or are `wendell's place`."""
    told = [piece for piece in pieces if piece.kind != "mark"]
    if not 1 < len(told) <= 3 or any(piece.used for piece in told):
        return False
    whose = told[-1].low == "place" and told[-2].low.endswith("s")
    return all(_may_name_place(piece) for piece in told) and (whose or _ends_place(told[-1]))


def _is_called_after_plant(told: list[Piece]) -> bool:
    """`oak flat`, `willow bend`: a plant and the end of a place's name."""
    return len(told) == 2 and told[0].roles.keys() == {"plant"} and _ends_place(told[1]) and not told[1].used


def _may_name_place(piece: Piece) -> bool:
    return piece.kind == "word" or _ends_place(piece) or (piece.kind == "phrase" and _TELLING.isdisjoint(piece.roles))


def _ends_place(piece: Piece) -> bool:
    return piece.low in _PLACE_ENDS or "place_word" in piece.roles
