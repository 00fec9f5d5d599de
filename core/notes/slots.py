"""Which words of a clause fill which detail of its act; what nothing used is left for the rest.

Rules
1. A detail is taken only by an act that has it (`_TAKES`); what the act does not have stays unused.
2. Words after `from`, `to`, `at`, `as` are a place, a person or a plant as texted, up to the next mark or known detail.
3. After an act that opens a lot, words that nobody knows are the name of the plant.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any, Final

from core.entries import Amount, Container, Hormone, SourceShare
from core.lengths import Length
from core.notes.clauses import Clause
from core.notes.moments import Moment, resolve_past
from core.notes.numbers import Number
from core.notes.pieces import Piece
from core.notes.tokens import Token

OPENING: Final = frozenset({"stick", "sow", "divide", "collect"})
COUNTLESS: Final = frozenset({"cover", "vent", "air", "uncover", "water", "tend", "treat", "harden", "hold", "clear"})
_TAKES: Final[dict[str, frozenset[str]]] = {
    "collect": frozenset({"what", "amount", "bagged", "source"}),
    "stick": frozenset({"cutting", "wood", "hormone", "medium", "container", "source"}),
    "divide": frozenset({"container", "source", "medium"}),
    "sow": frozenset({"amount", "medium", "container", "source"}),
    "treat": frozenset({"duration", "temp_c", "hormone", "ends"}),
    "air": frozenset({"duration", "times"}),
    "vent": frozenset({"vent_open"}),
    "water": frozenset({"method", "depth_in"}),
    "check": frozenset({"state", "of", "share", "sample"}),
    "lose": frozenset({"share", "cause", "left"}),
    "pot": frozenset({"container", "medium"}),
    "move": frozenset({"to", "duration"}),
    "harden": frozenset({"to", "duration"}),
    "split": frozenset({"to", "share"}),
    "merge": frozenset({"to"}),
    "sell": frozenset({"to"}),
    "give": frozenset({"to"}),
    "plant_out": frozenset({"to"}),
    "reserve": frozenset({"to"}),
    "hold": frozenset({"cause"}),
    "clear": frozenset({"cause"}),
    "mix": frozenset({"solution", "parts", "share", "volume", "hormone"}),
    "pour_out": frozenset({"solution"}),
    "sanitize": frozenset({"things", "solution", "duration"}),
    "temp": frozenset({"temp_c", "humidity", "place"}),
}
TAKES_ALL: Final = frozenset({"lose", "pot", "split", "sell", "give", "plant_out", "move"})
_FROM: Final = frozenset({"from", "off", "off of", "taken from", "out of"})
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
_PLACE_ENDS: Final = frozenset({
    "ridge", "trail", "creek", "gulch", "point", "hill", "canyon", "meadow", "farm", "beach", "bluff", "pond", "lake", "road", "garden", "ranch", "park",
    "slough", "marsh", "valley", "mesa", "cove", "bay", "bed", "gate", "field", "grove", "yard", "river", "flat", "cliff", "dune", "dunes", "spit", "wash", "island",
})  # fmt: skip
_ARTICLES: Final = frozenset({"the", "a", "an", "my", "our"})
_ENDERS: Final = frozenset({"act", "shared", "medium", "container", "hormone_name", "wood", "for_good", "span"})
_PLANT_STOPS: Final = frozenset({
    "medium", "cutting", "wood", "container", "hormone", "hormone_name", "hormone_form", "what", "act", "shared", "pot_size", "amount", "vague", "all", "more",
})  # fmt: skip


class Slots:
    """The details gathered for one entry, and the tokens that it has used."""

    __slots__ = ("act", "asks", "clause", "doubtful", "now", "tokens", "values")

    def __init__(self, clause: Clause, tokens: list[Token], now: datetime) -> None:
        self.clause = clause
        self.act = clause.act or "note"
        self.tokens = tokens
        self.now = now
        self.values: dict[str, Any] = dict(clause.says)
        self.asks: list[str] = []
        self.doubtful: list[Piece] = []

    def takes(self, name: str) -> bool:
        return name in _TAKES.get(self.act, ())

    def put(self, name: str, value: Any, *pieces: Piece) -> bool:
        """Fills a detail once; False where it is filled already (the words then stay unused)."""
        if self.values.get(name) is not None:
            if self.values[name] == value:
                _use(*pieces)
            return self.values[name] == value
        self.values[name] = value
        _use(*pieces)
        return True


def _use(*pieces: Piece) -> None:
    for piece in pieces:
        piece.used = True


def fill(slots: Slots, pieces: list[Piece]) -> None:
    """Fills the details of an act from the pieces of its clause (or of a clause that only adds to it)."""
    for piece in pieces:
        if ("act" in piece.roles or "shared" in piece.roles) and piece.kind not in (
            "temp",
            "degrees",
            "number",
            "percent",
        ):
            _use(piece)
        elif slots.act == "stick" and "noun" in piece.roles and piece.roles["noun"].says.get("treatment") == "hormone":
            _use(piece)
        elif (
            slots.act == "treat"
            and piece.low in ("ended", "stopped", "finished", "over")
            and piece.kind in ("word", "phrase")
        ):
            slots.put("ends", True, piece)
        elif slots.act == "clear" and piece.low in ("quarantine", "hold", "isolation", "from quarantine"):
            _use(piece)
        elif "noun" in piece.roles and _same_act(piece.roles["noun"], slots):
            _use(piece)
    _texts(slots, pieces)
    for place, piece in enumerate(pieces):
        if not piece.used:
            _by_kind(slots, pieces, place, piece)
    if slots.act == "sanitize":
        _more_things(slots, pieces)
    if slots.act == "temp" and "place" not in slots.values:
        _place_of(slots, pieces)
    if slots.act in OPENING or slots.act in ("target",):
        _plant_as_texted(slots, pieces)
    _counts(slots, pieces)


def _same_act(word: Any, slots: Slots) -> bool:
    if word.act != slots.act:
        return False
    for key, value in word.says.items():
        slots.values.setdefault(key, value)
    return True


# --- texts: places, people, sources -------------------------------------------------------------------------------


def _texts(slots: Slots, pieces: list[Piece]) -> None:
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
            and pieces[place].low == "from"
            and any(p.kind == "lots" for p in pieces[:place])
        ):
            slots.put("source", following.low, pieces[place], following)
        return
    if _is_mother(following.low):
        _mothers(slots, pieces, place)
        return
    if pieces[place].low != "from" and (following.kind == "number" or slots.act not in ("collect", "stick", "divide")):
        return
    end = _text_end(pieces, place + 1)
    text = _text(slots, pieces, place + 1, end)
    if not text:
        return
    counted = pieces[place - 1] if place else None
    if counted is not None and counted.kind == "number" and not counted.used and counted.value.whole is not None:
        slots.values.setdefault("shares", []).append((text, counted.value.whole))
        _use(counted, *pieces[place:end])
    else:
        slots.put("source", text, *pieces[place:end])


def _destination(slots: Slots, pieces: list[Piece], place: int) -> None:
    start = place + 1
    while (
        start < len(pieces)
        and (
            pieces[start].low in _TO[slots.act]
            or pieces[start].low in ("back", "over")
            and start + 1 < len(pieces)
            and pieces[start + 1].low in _TO[slots.act]
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
        if end > start and (
            any(role in piece.roles for role in _ENDERS)
            or piece.low in ("for", "from", "to", "into", "with", "w/", "so", "because", "as", "per", "after", "before")
        ):
            if not (
                "container" in piece.roles and piece.roles["container"] in ("bed", "flat") or piece.low in ("soil",)
            ):
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


def joined(tokens: list[Token], first: int, last: int) -> str:
    parts = [tokens[first].low]
    for token in tokens[first + 1 : last]:
        parts.append(token.low if token.glued else f" {token.low}")
    return "".join(parts)


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
        _use(counted)
        _use(*pieces[place:end])
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
    _use(number, *mothers)


def _receiver(slots: Slots, pieces: list[Piece]) -> None:
    """`gave ana 6 toyon`: the person right after the verb."""
    for place, piece in enumerate(pieces[:-2]):
        if (
            "act" in piece.roles
            and pieces[place + 1].kind == "word"
            and pieces[place + 2].kind in ("number", "lots")
            and not pieces[place + 1].used
        ):
            slots.put("to", pieces[place + 1].low, pieces[place + 1])


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


# --- one piece at a time -------------------------------------------------------------------------------------------


def _by_kind(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    kind = piece.kind
    if kind in ("lots", "trays"):
        _subject(slots, pieces, place, piece)
    elif kind == "moment":
        _when(slots, piece)
    elif kind == "duration":
        _length(slots, pieces, place, piece)
    elif kind == "times" and slots.takes("times"):
        slots.put("times", piece.value, piece)
    elif kind == "temp" and slots.takes("temp_c"):
        slots.put("temp_c", piece.value, piece)
    elif kind == "degrees" and slots.takes("temp_c"):
        slots.doubtful.append(piece)
        slots.asks.append("unit")
    elif kind == "ppm":
        _hormone(slots, piece, ppm=piece.value)
    elif kind == "percent":
        _percent(slots, pieces, place, piece)
    elif kind == "amount":
        _amount(slots, pieces, place, piece)
    elif kind == "depth":
        if slots.act == "water":
            slots.put("depth_in", piece.value, piece)
            slots.values.setdefault("method", "tray")
    elif kind == "size":
        _size(slots, pieces, place, piece)
    elif kind == "colon":
        _ratio(slots, piece)
    elif kind == "medium":
        if slots.takes("medium"):
            slots.put("medium", piece.value, piece)
    elif kind == "parts":
        if slots.takes("parts"):
            slots.put("parts", piece.value, piece)
    elif kind == "quote":
        if "plant" in slots.values and slots.act not in OPENING and "'" not in slots.values["plant"]:
            slots.values["plant"] += f" '{piece.value}'"
            _use(piece)
        elif slots.act not in OPENING:
            slots.put("plant", f"'{piece.value}'", piece)
    elif kind in ("phrase", "word"):
        _phrase(slots, pieces, place, piece)


def _subject(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    held = slots.values.get(piece.kind)
    if held is None:
        slots.put(piece.kind, piece.value, piece)
    elif held == piece.value:
        _use(piece)
    else:
        slots.values[piece.kind] = tuple(dict.fromkeys((*held, *piece.value)))
        _use(piece)


def _place_of(slots: Slots, pieces: list[Piece]) -> None:
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
        "filler" in pieces[start].roles and "place_word" not in pieces[start].roles or pieces[start].low in _ARTICLES
    ):
        start += 1
    while end > start and "filler" in pieces[end - 1].roles:
        end -= 1
    if start < end:
        slots.put("place", joined(slots.tokens, pieces[start].first, pieces[end - 1].last), *pieces[start:end])


def _may_be_place(piece: Piece) -> bool:
    if piece.kind == "word" or "place_word" in piece.roles or "filler" in piece.roles:
        return True
    return (
        piece.kind == "number"
        and piece.value.whole is not None
        and piece.value.value < 20
        or piece.kind == "phrase"
        and not ("act" in piece.roles or "humidity" in piece.roles)
    )


def _when(slots: Slots, piece: Piece) -> None:
    moment: Moment = piece.value
    if slots.act == "reserve" and moment.days not in (0, -1, -2):
        return
    if "moment" in slots.values:
        together = slots.values["moment"].joined(moment)
        if together is None:
            return
        moment = together
    slots.values["moment"] = moment
    found = resolve_past(moment, slots.now)
    place = slots.clause.pieces.index(piece) if piece in slots.clause.pieces else 0
    if place and slots.clause.pieces[place - 1].low == "on":
        slots.clause.pieces[place - 1].used = True
    if found is None:
        slots.doubtful.append(piece)
        if "date" not in slots.asks:
            slots.asks.append("date")
        slots.values.pop("on", None)
        return
    slots.values["on"] = found
    if "date" in slots.asks:
        slots.asks.remove("date")
        for other in slots.doubtful:
            if other.kind == "moment":
                other.used = True
        slots.doubtful = [other for other in slots.doubtful if other.kind != "moment"]
    _use(piece)


def _length(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    least, most = piece.value
    if (
        slots.takes("hormone")
        and least.seconds
        and least.seconds <= 60
        and (slots.act == "stick" or slots.values.get("treatment") == "hormone")
    ):
        _hormone(slots, piece, seconds=least.seconds)
    elif slots.takes("duration") and slots.put("duration", least, piece) and most is not None:
        slots.values["duration_max"] = most


def _hormone(slots: Slots, piece: Piece, **known: Any) -> None:
    if not slots.takes("hormone"):
        return
    held: dict[str, Any] = slots.values.setdefault("hormone", {})
    for key, value in known.items():
        if held.setdefault(key, value) == value:
            _use(piece)


def _percent(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    number: Number = piece.value
    near = {role for other in pieces[max(0, place - 3) : place + 4] for role in other.roles}
    if slots.act == "temp" or ("humidity" in near and slots.takes("humidity")):
        if number.value <= 100:
            slots.put("humidity", round(number.value / 100, 4), piece)
        return
    if slots.takes("hormone") and slots.act != "mix" or slots.values.get("solution") == "hormone":
        if "hormone_name" in near or "hormone" in near or "hormone_form" in near or slots.act == "stick":
            _hormone(slots, piece, ppm=round(number.value * 10000, 4))
            return
    if slots.act == "vent" and number.value <= 100:
        slots.put("vent_open", number.value / 100, piece)
    elif slots.takes("share") and number.value <= 100:
        slots.put("share", round(number.value / 100, 4), piece)
        if number.approx:
            slots.values["approx"] = True
    elif slots.takes("solution") and "solution" in near and slots.act == "sanitize":
        _use_nothing()


def _use_nothing() -> None:
    return None


def _amount(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    value, unit, number = piece.value
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    potlike = (
        following is not None
        and "container" in following.roles
        and following.roles["container"] in ("pot", "liner", "tube")
    )
    if (
        slots.takes("container")
        and unit in ("gal", "qt", "pt")
        and slots.act in ("pot", "divide", "stick")
        or (slots.takes("container") and unit == "gal" and potlike)
    ):
        size = f"{value:g} {unit}"
        used = [piece, following] if potlike and following is not None else [piece]
        slots.put("container", {"kind": "pot", "size": size}, *used)
    elif slots.takes("volume"):
        slots.put("volume", Amount(value=value, unit=unit), piece)
    elif slots.takes("amount"):
        slots.put("amount", Amount(value=value, unit=unit), piece)
    elif unit == "bag" and slots.act in ("cover", "air") and number is not None:
        return


def _size(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    if slots.act == "water":
        slots.put("depth_in", float(piece.value.split(" ")[0]), piece)
        slots.values.setdefault("method", "tray")
    elif slots.takes("container"):
        used = [piece]
        kind = "pot"
        if following is not None and "container" in following.roles:
            used.append(following)
            kind = following.roles["container"] if following.roles["container"] in ("liner", "band", "tube") else "pot"
        slots.put("container", {"kind": kind, "size": piece.value}, *used)
    elif slots.takes("things") and following is not None and "thing" in following.roles:
        following.first = piece.first
        _use(piece)


def _ratio(slots: Slots, piece: Piece) -> None:
    first, second = piece.value
    clock = (
        isinstance(first, int)
        and isinstance(second, int)
        and first < 24
        and second < 60
        and len(piece.low.split(":")[1]) == 2
    )
    if slots.takes("parts") and not (clock and first not in (0, 1) and second not in (0, 1)):
        slots.put("parts", tuple(piece.value), piece)
    elif clock:
        piece.kind, piece.value = "moment", Moment(hour=first, minute=second)
        _when(slots, piece)


def _phrase(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    roles = piece.roles
    if "for_good" in roles and slots.act in ("air", "uncover", "cover"):
        if slots.act == "air":
            slots.act = "uncover"
        _use(piece)
    elif "vent_open" in roles and slots.takes("vent_open"):
        slots.put("vent_open", roles["vent_open"], piece)
    elif "medium" in roles and slots.takes("medium"):
        slots.put("medium", roles["medium"], piece)
    elif "solution" in roles and slots.takes("solution"):
        slots.put("solution", roles["solution"], piece)
    elif (
        "hormone_form" in roles
        and slots.takes("hormone")
        and (slots.act != "mix" or slots.values.get("solution") == "hormone")
    ):
        _hormone(slots, piece, form=roles["hormone_form"])
    elif "hormone_name" in roles and slots.takes("hormone"):
        _hormone(slots, piece, name=roles["hormone_name"])
        if slots.act == "mix":
            slots.values.setdefault("solution", "hormone")
        elif slots.act == "treat":
            slots.values.setdefault("treatment", "hormone")
    elif "hormone" in roles and slots.act == "mix":
        slots.put("solution", "hormone", piece)
    elif "hormone_name" in roles and slots.act == "pour_out":
        slots.put("solution", "hormone", piece)
    elif "hormone" in roles and (slots.takes("hormone") or slots.act == "pour_out"):
        if slots.act == "pour_out":
            slots.put("solution", "hormone", piece)
        else:
            _use(piece)
    elif "pot_size" in roles and slots.takes("things"):
        _thing(slots, pieces, place, piece)
    elif "pot_size" in roles and slots.takes("container"):
        slots.put("container", {"kind": "pot", "size": roles["pot_size"]}, piece)
    elif "thing" in roles and slots.takes("things"):
        _thing(slots, pieces, place, piece)
    elif "container" in roles and slots.takes("container"):
        _container(slots, pieces, place, piece)
    elif "wood" in roles and slots.takes("wood"):
        slots.put("wood", roles["wood"], piece)
    elif "what" in roles and slots.takes("what"):
        slots.put("what", roles["what"], piece)
    elif "cutting" in roles and slots.act == "collect":
        slots.put("what", "cuttings", piece)
    elif "cutting" in roles and slots.takes("cutting"):
        slots.put("cutting", roles["cutting"], piece)
    elif "method" in roles and slots.act == "water" and slots.values.get("method", roles["method"]) == roles["method"]:
        slots.put("method", roles["method"], piece)
    elif "cause" in roles and slots.takes("cause"):
        slots.put("cause", roles["cause"], piece)
    elif "times" in roles and slots.takes("times") and piece.low != "once":
        slots.put("times", int(roles["times"]), piece)
    elif "humidity" in roles and slots.act == "temp":
        _use(piece)
    elif "temp_word" in roles and slots.act == "temp":
        _use(piece)
    elif "plant" in roles and slots.act not in OPENING and "plant" not in slots.values:
        _plant(slots, pieces, place, piece)
    elif "all" in roles:
        _all(slots, piece)


def _plant(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    name = joined(slots.tokens, piece.first, piece.last)
    used = [piece]
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    if following is not None and following.kind == "quote":
        name += f" '{following.value}'"
        used.append(following)
    slots.put("plant", name, *used)


def _all(slots: Slots, piece: Piece) -> None:
    if slots.act in TAKES_ALL:
        if not any(slots.values.get(name) is not None for name in ("count", "share")):
            slots.put("all_of", True, piece)
    elif slots.act == "check":
        if slots.values.get("state") and "count" not in slots.values:
            slots.put("share", 1.0, piece)
    elif slots.act == "vent":
        return
    else:
        _use(piece)


def _thing(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    start = place
    while start and pieces[start - 1].kind == "word" and not pieces[start - 1].used:
        start -= 1
    name = joined(slots.tokens, pieces[start].first, piece.last)
    named = slots.values.setdefault("things_at", {})
    named[pieces[start].first] = name
    slots.values["things"] = tuple(named[at] for at in sorted(named))
    _use(*pieces[start : place + 1])


def _more_things(slots: Slots, pieces: list[Piece]) -> None:
    """`pots and saucers`: an unknown word joined to a known thing is one too."""
    for place in range(2, len(pieces)):
        piece, link, before = pieces[place], pieces[place - 1], pieces[place - 2]
        if (
            piece.kind == "word"
            and not piece.used
            and link.low in ("and", "&", ",")
            and before.used
            and before.first in slots.values.get("things_at", {})
        ):
            slots.values["things_at"][piece.first] = piece.low
            slots.values["things"] = tuple(slots.values["things_at"][at] for at in sorted(slots.values["things_at"]))
            _use(piece)


def _container(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    kind = piece.roles["container"]
    before = pieces[place - 1] if place else None
    held: dict[str, Any] | None = slots.values.get("container")
    if held is not None:
        if held["kind"] == kind or kind == "pot":
            _use(piece)
        return
    container: dict[str, Any] = {"kind": kind}
    used = [piece]
    if before is not None and before.kind == "number" and not before.used and kind not in ("pot", "bed"):
        whole = before.value.whole
        if whole is not None:
            container["count"] = whole
            used.append(before)
            following = pieces[place + 2] if place + 2 < len(pieces) else None
            if (
                following is not None
                and following.kind == "number"
                and pieces[place + 1].low == "of"
                and following.value.whole
                and "count" not in slots.values
            ):
                slots.values["count"] = whole * following.value.whole
                used.extend((pieces[place + 1], following))
    if kind == "cup" and before is not None and before.kind == "number":
        return
    slots.put("container", container, *used)


def _plant_as_texted(slots: Slots, pieces: list[Piece]) -> None:
    """The run of names, unknown words and quoted words that holds the plant of an act that opens a lot."""
    if "plant" in slots.values:
        return
    best: tuple[int, int] | None = None
    start = 0
    while start < len(pieces):
        if not _may_name(pieces[start]):
            start += 1
            continue
        end = start
        while end < len(pieces) and _may_name(pieces[end]):
            end += 1
        known = any("plant" in piece.roles for piece in pieces[start:end])
        if best is None or (known and not any("plant" in piece.roles for piece in pieces[best[0] : best[1]])):
            best = start, end
        start = end
    if best is None:
        return
    start, end = best
    while start < end and "filler" in pieces[start].roles and "plant" not in pieces[start].roles:
        start += 1
    name_parts = []
    for piece in pieces[start:end]:
        name_parts.append(
            f"'{piece.value}'" if piece.kind == "quote" else joined(slots.tokens, piece.first, piece.last)
        )
    if name_parts:
        slots.put("plant", " ".join(name_parts), *pieces[start:end])


_NO_NAMES: Final = frozenset(
    {
        "like",
        "same",
        "usual",
        "time",
        "stuff",
        "things",
        "ok",
        "well",
        "good",
        "some",
        "more",
        "extra",
        "early",
        "late",
        "together",
        "usually",
        "before",
        "instead",
        "mostly",
        "nicely",
        "carefully",
        "properly",
        "wrong",
        "upside",
    }
)


def _may_name(piece: Piece) -> bool:
    if piece.used or piece.low in _NO_NAMES:
        return False
    if piece.kind in ("word", "quote"):
        return True
    if piece.kind != "phrase":
        return False
    if "plant" in piece.roles:
        return True
    if "noun" in piece.roles and not any(role in piece.roles for role in _PLANT_STOPS):
        return True
    return piece.low in ("red", "white", "blue", "green", "yellow", "wild", "big", "dwarf", "common") and not any(
        role in piece.roles for role in _PLANT_STOPS
    )


# --- counts --------------------------------------------------------------------------------------------------------


def _counts(slots: Slots, pieces: list[Piece]) -> None:
    """The count, its range and its whole, from the numbers that nothing else used."""
    _lot_after_preposition(slots, pieces)
    for place, piece in enumerate(pieces):
        if piece.used:
            continue
        if piece.kind == "fraction":
            _out_of(slots, pieces, place, piece)
        elif piece.kind == "number" and 0 < piece.value.value < 1:
            name = "vent_open" if slots.act == "vent" else "share"
            if slots.takes(name) and slots.values.get("count") is None:
                slots.put(name, round(piece.value.value, 4), piece)
        elif "left" in piece.roles:
            _left(slots, pieces, place, piece)
        elif "none" in piece.roles and slots.act == "check":
            slots.put("count", 0, piece)
        elif "negation" in piece.roles and slots.act == "check":
            _not(slots, pieces, place, piece)
        elif "fraction" in piece.roles and slots.takes("share") and "vent_open" not in slots.values:
            if "count" not in slots.values:
                slots.put("share", round(piece.roles["fraction"], 4), piece)
        elif (
            piece.low in ("of", "out of")
            and slots.act == "check"
            and "of" not in slots.values
            and place + 1 < len(pieces)
        ):
            following = pieces[place + 1]
            if following.low in ("its", "the", "those", "these") and place + 2 < len(pieces):
                following = pieces[place + 2]
            others = [one for one in pieces if one.kind == "number" and one is not following]
            if (
                following.kind == "number"
                and not following.used
                and following.value.whole is not None
                and following.value.of is None
                and (
                    len(others) == 1
                    or not others
                    and slots.values.get("count") is not None
                    and pieces is not slots.clause.pieces
                )
            ):
                slots.put("of", following.value.whole, piece, following)
        elif "more" in piece.roles and slots.act in ("check", "lose") and _beside_number(pieces, place):
            if slots.act == "check":
                slots.values["more"] = True
            _use(piece)
    numbers = [piece for piece in pieces if piece.kind == "number" and not piece.used]
    if slots.act in COUNTLESS:
        _numbers_as_lots(slots, pieces, numbers)
        return
    _number_counts(slots, pieces, numbers)
    for place, piece in enumerate(pieces):
        if "negation" in piece.roles and not piece.used and slots.act == "check":
            _not(slots, pieces, place, piece)


def _beside_number(pieces: list[Piece], place: int) -> bool:
    return any(pieces[step].kind in ("number",) for step in (place - 1, place + 1) if 0 <= step < len(pieces))


def _lot_after_preposition(slots: Slots, pieces: list[Piece]) -> None:
    if "lots" in slots.values or "trays" in slots.values:
        return
    numbers = [piece for piece in pieces if piece.kind in ("number", "fraction") and not piece.used]
    for place, piece in enumerate(pieces[:-1]):
        following = pieces[place + 1]
        bare = (
            following.kind == "number"
            and not following.used
            and following.value.whole is not None
            and following.value.high is None
            and not following.value.approx
        )
        if (
            bare
            and following.value.of is None
            and piece.low in ("in", "from", "off", "out of", "for", "to")
            and slots.act not in ("split", "merge")
        ):
            if piece.low in ("for", "to") or len(numbers) < 2 and piece.low == "in":
                continue
            slots.put("lots", (following.low,), following)
            return


def _left(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    following = pieces[place + 1] if place + 1 < len(pieces) else None
    if (
        following is not None
        and following.kind == "number"
        and not following.used
        and following.value.whole is not None
    ):
        if not slots.takes("left"):
            following.kind = "exception"
        else:
            if following.value.of is not None:
                slots.values.setdefault("lots", (str(following.value.of),))
            slots.put("left", following.value.whole, piece, following)


def _not(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    before = pieces[place - 1] if place else None
    if (
        before is not None
        and before.kind == "number"
        and not before.used
        and before.value.whole is not None
        and "count" in slots.values
    ):
        slots.put("of", slots.values["count"] + before.value.whole, before, piece)
    elif "count" not in slots.values and not any(one.kind in ("number", "fraction") and not one.used for one in pieces):
        slots.put("count", 0, piece)


def _out_of(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    above, below, approx = piece.value
    if place and pieces[place - 1].low in ("lot", "lots", "tray", "trays"):
        slots.asks.append("number")
        return
    if slots.act == "vent" and below and above <= below:
        slots.put("vent_open", above / below, piece)
        return
    if slots.act in COUNTLESS or slots.act in ("move", "temp", "sell", "give", "pot"):
        if "on" not in slots.values and below <= 31 and 1 <= above <= 12:
            piece.value = Moment(month=above, day=below)
            piece.kind = "moment"
            _when(slots, piece)
            if "date" in slots.asks:
                piece.used = False
        elif slots.act in COUNTLESS and 1 <= above <= 12:
            slots.doubtful.append(piece)
            slots.asks.append("date")
        return
    if slots.act == "check" and above <= below:
        if "count" not in slots.values:
            slots.values["count"] = above
            slots.values["of"] = below
            if approx:
                slots.values["approx"] = True
            _use(piece)
    elif slots.act == "lose" and above <= below and "count" not in slots.values:
        if (
            (above, below) in ((1, 2), (1, 3), (2, 3), (1, 4), (3, 4))
            and place + 1 < len(pieces)
            and pieces[place + 1].low in ("of", "the", "of the")
        ):
            slots.put("share", round(above / below, 4), piece)
        else:
            slots.put("count", above, piece)
    elif "on" not in slots.values and below <= 31 and 1 <= above <= 12:
        piece.value = Moment(month=above, day=below)
        piece.kind = "moment"
        _when(slots, piece)


def _numbers_as_lots(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> None:
    named = any(slots.values.get(name) for name in ("lots", "trays", "plant"))
    if not named and len(numbers) > 1 and sum(_bare(piece) for piece in numbers) == len(numbers):
        slots.asks.append("number")
        return
    for piece in numbers:
        place = pieces.index(piece)
        before = pieces[place - 1].low if place else ""
        number: Number = piece.value
        if (
            before in ("for", "about")
            and slots.takes("duration")
            or (number.whole is None or number.of is not None or number.approx)
        ):
            if slots.takes("duration"):
                slots.asks.append("unit")
            continue
        if slots.act == "wilt" or before in ("day", "week", "step", "round", "phase", "stage", "year"):
            continue
        if slots.takes("temp_c") and number.value >= 100 and slots.values.get("treatment") == "hot_water":
            slots.asks.append("unit")
            continue
        if slots.takes("hormone") and number.value >= 500 and slots.values.get("hormone"):
            _hormone(slots, piece, ppm=number.value)
            continue
        if "lots" in slots.values or "trays" in slots.values or "plant" in slots.values:
            if slots.takes("duration") and "duration" not in slots.values and slots.act != "treat":
                slots.asks.append("unit")
            elif (
                "count" not in slots.values
                and slots.act in ("tend", "hold", "treat", "harden")
                and place + 1 < len(pieces)
            ):
                slots.put("count", number.whole, piece)
            continue
        if number.high is not None:
            low, high = int(number.value), int(number.high)
            if high - low < 60:
                slots.values["lots"] = tuple(str(one) for one in range(low, high + 1))
                _use(piece)
            continue
        if (
            not piece.low.isdigit()
            or place + 1 < len(pieces)
            and not pieces[place + 1].used
            and pieces[place + 1].kind in ("word", "phrase")
            and not _is_link(pieces[place + 1])
        ):
            continue
        slots.values["lots"] = (piece.low,)
        slots.values["loose"] = True
        _use(piece)


def _not_a_count(slots: Slots, pieces: list[Piece], piece: Piece) -> bool:
    """`3/cell`, `in two`: numbers that say how, not how many."""
    place = pieces.index(piece)
    if place + 1 < len(pieces) and pieces[place + 1].low == "/":
        return True
    return slots.act == "split" and place > 0 and pieces[place - 1].low in ("in", "into") and piece.value.value <= 4


def _is_link(piece: Piece) -> bool:
    return piece.low in (
        "and",
        "&",
        "on",
        "off",
        "at",
        "for",
        "with",
        "too",
        "again",
        "now",
        "this",
        "in",
        "today",
        "already",
        "also",
        "by",
        "as",
        "back",
        "but",
        "so",
        "from",
    )


def _stands_alone(pieces: list[Piece], piece: Piece) -> bool:
    """Whether nothing unread that it might count follows a number."""
    place = pieces.index(piece)
    if place + 1 >= len(pieces):
        return True
    following = pieces[place + 1]
    return following.used or following.kind not in ("word", "phrase") or _is_link(following)


def _number_counts(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> None:
    values = slots.values
    if slots.act == "sanitize":
        for piece in numbers:
            if piece.value.whole is not None:
                slots.put("count", piece.value.whole, piece)
        return
    if slots.act == "mix":
        for piece in numbers:
            if piece.value.high is not None and not piece.value.dashed and piece.value.whole is not None:
                slots.put("parts", (piece.value.whole, int(piece.value.high)), piece)
        return
    if slots.act == "merge":
        named = tuple(piece.low for piece in numbers if piece.low.isdigit())
        if named and "lots" not in values:
            slots.put("lots", named, *[piece for piece in numbers if piece.low.isdigit()])
        return
    if slots.act in ("pour_out", "roster", "note"):
        return
    if slots.act == "temp":
        for piece in numbers:
            if "temp_c" not in values and "humidity" not in values:
                slots.asks.append("unit")
        return
    if slots.takes("hormone") and values.get("hormone"):
        for piece in list(numbers):
            if piece.value.value >= 500 and len(numbers) > 1 and "ppm" not in values["hormone"]:
                _hormone(slots, piece, ppm=piece.value.value)
                numbers.remove(piece)
    counted = "count" in values or "share" in values or "all_of" in values or "left" in values
    subject = "lots" in values or "trays" in values or "plant" in values
    if not counted and not subject:
        if len(numbers) == 2 and all(_bare(piece) for piece in numbers) and not _explained(slots, pieces, numbers):
            slots.asks.append("number")
            return
        if len(numbers) == 1 and numbers[0].value.dashed and slots.act not in OPENING:
            slots.asks.append("number")
            return
    if (
        counted
        and not subject
        and pieces is slots.clause.pieces
        and len(numbers) == 1
        and _bare(numbers[0])
        and numbers[0].low.isdigit()
        and _stands_alone(pieces, numbers[0])
    ):
        slots.put("lots", (numbers[0].low,), numbers[0])
        return
    numbers = [piece for piece in numbers if not _not_a_count(slots, pieces, piece)]
    for piece in numbers:
        if counted:
            break
        number: Number = piece.value
        if number.whole is None:
            continue
        counted = True
        slots.put("count", number.whole, piece)
        if number.approx:
            values["approx"] = True
        if number.high is not None and number.high == int(number.high):
            values["count_max"] = int(number.high)
        if number.of is not None:
            _of(slots, pieces, piece, number)
    if values.get("sample") and "state" in values and "of" not in values:
        rest = [piece for piece in numbers if not piece.used and piece.value.whole is not None]
        if rest and rest[0].value.whole <= values["count"]:
            values["of"], values["count"] = values["count"], rest[0].value.whole
            _use(rest[0])


def _of(slots: Slots, pieces: list[Piece], piece: Piece, number: Number) -> None:
    if slots.act == "check":
        slots.values["of"] = number.of
    elif "lots" not in slots.values and "trays" not in slots.values and "plant" not in slots.values:
        slots.values.pop("count", None)
        slots.values.pop("approx", None)
        piece.used = False
        slots.asks.append("number")


def _explained(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> bool:
    """Whether a word beside one of two numbers says which is the count (`lost 9 in 14` was settled before)."""
    return slots.act == "check" and bool(slots.values.get("sample"))


def _bare(piece: Piece) -> bool:
    number: Number = piece.value
    return number.whole is not None and number.high is None and number.of is None and not number.approx


def finish(slots: Slots) -> dict[str, Any]:
    """The details as values of an entry: dictionaries made into their types, helpers dropped."""
    values = dict(slots.values)
    shares = values.pop("shares", [])
    if len(shares) == 1:
        values.setdefault("source", shares[0][0])
        values.setdefault("count", shares[0][1])
    elif shares:
        values["sources"] = tuple(SourceShare(source=source, count=count) for source, count in shares)
        values.setdefault("count", sum(count for _, count in shares))
    for name in ("moment", "loose", "things_at"):
        values.pop(name, None)
    container = values.get("container")
    if isinstance(container, dict):
        values["container"] = Container(**container)
    hormone = values.get("hormone")
    if isinstance(hormone, dict):
        if not hormone:
            values.pop("hormone")
        else:
            values["hormone"] = Hormone(**hormone)
    return {name: value for name, value in values.items() if value is not None and value != ()}


__all__ = ["Length", "Slots", "SourceShare", "fill", "finish"]
