"""Where did seed or wood come from: a place or a mother plant, or several with their counts."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.pieces import Piece
from core.notes.place_names import text_end, text_of
from core.notes.slots import Slots, joined, use
from core.vocabulary.loading import small_words

_FROM: Final = small_words("places", "from")

_SOURCE_WORDS: Final = (_FROM, _FROM | {"at", "along", "@"})

_TELLING: Final = frozenset({"act", "shared", "noun", "to_do", "plant", "medium", "container", "cause", "all", "vague"})
_PLACE_ENDS: Final = small_words("places", "ends")


def leads_to_source(slots: Slots, low: str) -> bool:
    """Whether after this little word comes where the seed or wood of this act was taken."""
    return slots.takes("source") and low in _SOURCE_WORDS[slots.act == "collect"]


def source(slots: Slots, pieces: list[Piece], place: int) -> None:
    """Where it came from, after the little word at a place."""
    following = pieces[place + 1]
    if following.kind in ("moment", "duration", "size", "break", "percent", "trays", "lots"):
        if (
            following.kind == "lots"
            and slots.act in ("stick", "sow", "divide", "collect")
            and pieces[place].low in ("from", "fr", "frm")
            and any(p.kind == "lots" for p in pieces[:place])
        ):
            slots.put("source", following.low, pieces[place], following)
        return
    if _is_mother(following.low):
        _mothers(slots, pieces, place)
        return
    if pieces[place].low not in ("from", "fr", "frm") and (
        following.kind == "number" or slots.act not in ("collect", "stick", "divide")
    ):
        return
    end = text_end(pieces, place + 1)
    text = text_of(slots, pieces, place + 1, end)
    if not text:
        return
    counted = pieces[place - 1] if place else None
    if counted is not None and counted.kind == "number" and not counted.used and counted.value.whole is not None:
        slots.values.setdefault("shares", []).append((text, counted.value.whole))
        use(counted, *pieces[place:end])
    else:
        slots.put("source", text, *pieces[place:end])


def _mothers(slots: Slots, pieces: list[Piece], place: int) -> None:
    """`from m2, m5 and m9`: mother plants by their short names."""
    end = place + 2
    while end + 1 < len(pieces) and pieces[end].low in (",", "and", "&", "+") and _is_mother(pieces[end + 1].low):
        end += 2
    counted = pieces[place - 1] if place else None
    if (
        end == place + 2
        and counted is not None
        and counted.kind == "number"
        and not counted.used
        and counted.value.whole is not None
    ):
        slots.values.setdefault("shares", []).append((pieces[place + 1].low, counted.value.whole))
        use(counted)
        use(*pieces[place:end])
        return
    slots.put("source", " ".join(piece.low for piece in pieces[place + 1 : end]).replace(" ,", ","), *pieces[place:end])


def each_mother(slots: Slots, pieces: list[Piece]) -> None:
    """`24 each m1 m2 m3`, `18 m2, 18 m5`: a count from each of several mother plants."""
    mothers = [piece for piece in pieces if _is_mother(piece.low) and not piece.used]
    counted = [(count, one) for count, one in pairwise(pieces) if one in mothers and _counts(count)]
    if counted and len(counted) == len(mothers):
        for count, mother in counted:
            slots.values.setdefault("shares", []).append((mother.low, count.value.whole))
            use(count, mother)
        return
    number = next(
        (
            piece
            for place, piece in enumerate(pieces[:-1])
            if piece.kind == "number" and not piece.used and pieces[place + 1].low in ("each", "ea")
        ),
        None,
    )
    if len(mothers) < 2 or number is None or number.value.whole is None:
        return
    slots.values["shares"] = [(mother.low, number.value.whole) for mother in mothers]
    use(number, *mothers)


def _counts(piece: Piece) -> bool:
    return piece.kind == "number" and not piece.used and piece.value.whole is not None


def known_source(slots: Slots, pieces: list[Piece]) -> None:
    """`40 toyon tips heron gulch`: a source that the crew has named before, also without `from`."""
    if not slots.takes("source") or slots.values.get("source") or slots.values.get("shares"):
        return
    for piece in pieces:
        if "source_name" in piece.roles and not piece.used:
            slots.put("source", piece.low, piece)
            return


def source_alone(slots: Slots, pieces: list[Piece]) -> None:
    """`, spoon ridge` after what was collected: unknown words that end like a place."""
    if slots.act not in ("collect",) or "source" in slots.values or not is_place(pieces):
        return
    told = [piece for piece in pieces if piece.kind != "mark"]
    slots.put("source", joined(slots.tokens, told[0].first, told[-1].last), *told)


def is_place(pieces: list[Piece]) -> bool:
    """Whether two or three words alone in their clause end like the name of a place."""
    told = [piece for piece in pieces if piece.kind != "mark"]
    if not 1 < len(told) <= 3 or any(piece.used for piece in told):
        return False
    return all(_may_name_place(piece) for piece in told) and _ends_place(told[-1])


def _may_name_place(piece: Piece) -> bool:
    return piece.kind == "word" or _ends_place(piece) or (piece.kind == "phrase" and _TELLING.isdisjoint(piece.roles))


def _ends_place(piece: Piece) -> bool:
    return piece.low in _PLACE_ENDS or "place_word" in piece.roles


def _is_mother(word: str) -> bool:
    return 1 < len(word) <= 4 and word[0].isalpha() and word[1:].isdigit()
