"""Where to, where from, into which lot: places, people and lots that stand after a little word, as texted.

Words after `from`, `to`, `at`, `as` go up to the next mark or known detail; articles before them are dropped.
"""

from __future__ import annotations

from typing import Final

from core.notes.pieces import Piece
from core.notes.slots import Slots, joined, use

_FROM: Final = frozenset({"from", "fr", "frm", "off", "off of", "taken from", "out of"})


_TO: Final[dict[str, frozenset[str]]] = {
    "move": frozenset(
        {"to", "into", "in", "on", "onto", "under", "at", "over to", "out to", "->", "by", "back to", "beside", "near"}
    ),
    "harden": frozenset({"at", "in", "on", "by", "under", "to", "outside", "along", "near", "beside"}),
    "sell": frozenset({"to"}),
    "give": frozenset({"to"}),
    "plant_out": frozenset({"at", "in", "to", "along", "by", "near", "on"}),
    "reserve": frozenset({"for", "to"}),
}


_SOURCE_WORDS: Final = (_FROM, _FROM | {"at", "along"})


_ENDING_WORDS: Final = frozenset(
    {"for", "from", "to", "into", "with", "w/", "so", "because", "as", "per", "after", "before", "til", "till", "until"}
)
_PLACE_ENDS: Final = frozenset({
    "ridge", "trail", "creek", "gulch", "point", "hill", "canyon", "meadow", "farm", "beach", "bluff", "pond",
    "lake", "road", "garden", "ranch", "park",
    "slough", "marsh", "valley", "mesa", "cove", "bay", "bed", "gate", "field", "grove", "yard", "river", "flat",
    "cliff", "dune", "dunes", "spit", "wash", "island",
})  # fmt: skip


_ARTICLES: Final = frozenset({"the", "a", "an", "my", "our"})


_ENDERS: Final = frozenset({"act", "shared", "medium", "container", "hormone_name", "wood", "for_good", "span"})


def texts(slots: Slots, pieces: list[Piece]) -> None:
    for place, piece in enumerate(pieces):
        if piece.used or place + 1 >= len(pieces):
            continue
        low = piece.low
        if slots.takes("source") and low in _SOURCE_WORDS[slots.act == "collect"]:
            _source(slots, pieces, place)
        elif (
            low == "by"
            and not slots.values.get("by")
            and pieces[place + 1].kind in ("word", "phrase")
            and not pieces[place + 1].roles.get("filler")
        ):
            end = _text_end(pieces, place + 1)
            if (
                slots.act not in ("move", "harden", "plant_out")
                and end - place <= 4
                and pieces[place + 1].low not in ("hand", "hose", "the")
            ):
                slots.put("by", _text(slots, pieces, place + 1, end), *pieces[place:end])
        elif low in _TO.get(slots.act, ()) and "to" not in slots.values:
            _destination(slots, pieces, place)
    _known_source(slots, pieces)
    _source_alone(slots, pieces)
    if slots.act == "give" and "to" not in slots.values:
        _receiver(slots, pieces)
    if slots.takes("source"):
        _each_mother(slots, pieces)
    if slots.act == "split":
        _new_lot(slots, pieces)
    elif slots.act == "merge":
        _kept_lot(slots, pieces)
    elif slots.act == "move" and "to" not in slots.values:
        for piece in pieces:
            if piece.low in ("outside", "inside", "outdoors", "indoors") and not piece.used:
                slots.put("to", piece.low, piece)


def _source(slots: Slots, pieces: list[Piece], place: int) -> None:
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
    end = _text_end(pieces, place + 1)
    text = _text(slots, pieces, place + 1, end)
    if not text:
        return
    counted = pieces[place - 1] if place else None
    if counted is not None and counted.kind == "number" and not counted.used and counted.value.whole is not None:
        slots.values.setdefault("shares", []).append((text, counted.value.whole))
        use(counted, *pieces[place:end])
    else:
        slots.put("source", text, *pieces[place:end])


def _destination(slots: Slots, pieces: list[Piece], place: int) -> None:
    start = place + 1
    while (
        start < len(pieces)
        and (
            pieces[start].low in _TO[slots.act]
            or (
                pieces[start].low in ("back", "over")
                and start + 1 < len(pieces)
                and pieces[start + 1].low in _TO[slots.act]
            )
        )
        and start - place < 3
    ):
        start += 1
    if start >= len(pieces):
        return
    first = pieces[start]
    if first.kind in ("moment", "duration", "lots", "size", "percent", "fraction") or first.kind == "number":
        return
    if first.kind == "trays" and slots.act != "move":
        return
    if first.kind == "amount" or "pot_size" in first.roles:
        return
    end = _text_end(pieces, start)
    text = _text(slots, pieces, start, end)
    text = text.removeprefix("the ")
    if not text or text in ("them", "it", "these", "those"):
        return
    if (
        pieces[place].low in ("in", "on", "at", "by", "under")
        and any(one.low in ("to", "into", "onto") for one in pieces[place + 1 :])
        and slots.act == "move"
    ):
        return
    slots.put("to", text, *pieces[place:end])


def _text_end(pieces: list[Piece], start: int) -> int:
    end = start
    while end < len(pieces):
        piece = pieces[end]
        if piece.used and end > start:
            break
        if piece.kind in (
            "break",
            "moment",
            "duration",
            "lots",
            "size",
            "temp",
            "ppm",
            "colon",
            "amount",
            "percent",
            "fraction",
        ):
            break
        if piece.kind == "trays" and end > start:
            break
        ends = any(role in piece.roles for role in _ENDERS) or piece.low in _ENDING_WORDS
        of_a_place = piece.roles.get("container") in ("bed", "flat") or piece.low == "soil"
        if end > start and ends and not of_a_place:
            break
        if piece.kind == "number" and end > start and end + 1 < len(pieces) and ("act" in pieces[end + 1].roles):
            break
        if end > start and "all" in piece.roles:
            break
        if (
            end > start
            and piece.low in ("and", "&", "+")
            and end + 1 < len(pieces)
            and (pieces[end + 1].kind == "number" or "filler" in pieces[end + 1].roles)
        ):
            break
        end += 1
    while end > start + 1 and pieces[end - 1].low in (
        "in",
        "on",
        "at",
        "and",
        "the",
        "now",
        "too",
        "also",
        "again",
        "by",
        "&",
        "already",
        "please",
        "today",
    ):
        end -= 1
    return end


def _text(slots: Slots, pieces: list[Piece], start: int, end: int) -> str:
    while start < end and pieces[start].low in _ARTICLES:
        start += 1
    if start >= end:
        return ""
    return joined(slots.tokens, pieces[start].first, pieces[end - 1].last)


def _is_mother(word: str) -> bool:
    return 1 < len(word) <= 4 and word[0].isalpha() and word[1:].isdigit()


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


def _each_mother(slots: Slots, pieces: list[Piece]) -> None:
    """`24 each m1 m2 m3`: a count from each of several mother plants."""
    mothers = [piece for piece in pieces if _is_mother(piece.low) and not piece.used]
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


def _receiver(slots: Slots, pieces: list[Piece]) -> None:
    """`gave ana 6 toyon`: the person right after the verb."""
    for place, piece in enumerate(pieces[:-2]):
        named = place + 1 + (pieces[place + 1].low == "the" and place + 3 < len(pieces))
        if (
            "act" in piece.roles
            and pieces[named].kind == "word"
            and pieces[named + 1].kind in ("number", "lots")
            and not pieces[named].used
        ):
            slots.put("to", pieces[named].low, *pieces[place + 1 : named + 1])


def _known_source(slots: Slots, pieces: list[Piece]) -> None:
    """`40 toyon tips heron gulch`: a source that the crew has named before, also without `from`."""
    if not slots.takes("source") or slots.values.get("source") or slots.values.get("shares"):
        return
    for piece in pieces:
        if "source_name" in piece.roles and not piece.used:
            slots.put("source", piece.low, piece)
            return


def _source_alone(slots: Slots, pieces: list[Piece]) -> None:
    """`, spoon ridge` after what was collected: unknown words that end like a place."""
    unknown = [piece for piece in pieces if piece.kind != "mark"]
    if slots.act not in ("collect",) or "source" in slots.values or not 1 < len(unknown) <= 3:
        return
    if all(piece.kind == "word" or piece.low in _PLACE_ENDS for piece in unknown) and unknown[-1].low in _PLACE_ENDS:
        slots.put("source", joined(slots.tokens, unknown[0].first, unknown[-1].last), *unknown)


def _new_lot(slots: Slots, pieces: list[Piece]) -> None:
    """The new lot of a split: the lot after `as`, `into`, `are`, `now`, else the second lot named."""
    named = [place for place, piece in enumerate(pieces) if piece.kind == "lots" and not piece.used]
    for place in named:
        before = [piece.low for piece in pieces[max(0, place - 3) : place]]
        if len(pieces[place].value) == 1 and (
            set(before)
            & {
                "as",
                "into",
                "are",
                "is",
                "now",
                "to",
                "make",
                "became",
                "become",
                "called",
                "new",
                "=",
                "->",
                "made",
                "be",
            }
        ):
            slots.put("to", pieces[place].value[0], pieces[place])
            return
    if len(named) == 2 and len(pieces[named[1]].value) == 1:
        slots.put("to", pieces[named[1]].value[0], pieces[named[1]])
        return
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        if (
            piece.low in ("as", "into", "to")
            and following.kind == "number"
            and not following.used
            and following.value.whole is not None
        ):
            slots.put("to", following.low, piece, following)
            return


def _kept_lot(slots: Slots, pieces: list[Piece]) -> None:
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        if piece.low in ("into", "to", "with", "as", "in") and piece.low != "with":
            if (
                following.kind == "lots"
                and len(following.value) == 1
                and any(one.kind == "lots" for one in pieces[:place]) | ("lots" in slots.values)
            ):
                slots.put("to", following.value[0], piece, following)
                return
            if following.kind == "number":
                slots.put("to", following.low, piece, following)
                return
    for place, piece in enumerate(pieces):
        if (
            piece.low in ("stays", "remains", "stay", "keeps", "kept", "lives on")
            and place
            and pieces[place - 1].kind in ("lots", "number")
        ):
            before = pieces[place - 1]
            slots.put("to", before.value[0] if before.kind == "lots" else before.low, before, piece)
            return
        if (
            piece.low in ("keep", "keeping", "kept as", "now")
            and place + 1 < len(pieces)
            and pieces[place + 1].kind in ("lots", "number")
            and slots.values.get("lots")
        ):
            kept = pieces[place + 1]
            slots.put("to", kept.value[0] if kept.kind == "lots" else kept.low, piece, kept)
            return


def place_of(slots: Slots, pieces: list[Piece]) -> None:
    """Where a temperature was read: the words that stand together beside it."""
    best: tuple[int, int] | None = None
    at = 0
    while at < len(pieces):
        end = at
        while end < len(pieces) and not pieces[end].used and _may_be_place(pieces[end]):
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
    while start < end and (
        ("filler" in pieces[start].roles and "place_word" not in pieces[start].roles) or pieces[start].low in _ARTICLES
    ):
        start += 1
    while end > start and "filler" in pieces[end - 1].roles:
        end -= 1
    if start < end and "cover_noun" in pieces[start].roles:
        while start > best[0] and pieces[start - 1].low in ("under", "beneath", "inside", *_ARTICLES):
            start -= 1
    if start < end:
        slots.put("place", joined(slots.tokens, pieces[start].first, pieces[end - 1].last), *pieces[start:end])


def _may_be_place(piece: Piece) -> bool:
    if piece.kind == "word" or "place_word" in piece.roles or "filler" in piece.roles:
        return True
    return (piece.kind == "number" and piece.value.whole is not None and piece.value.value < 20) or (
        piece.kind == "phrase" and not ("act" in piece.roles or "humidity" in piece.roles)
    )
