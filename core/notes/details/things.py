"""What is it called: containers, cleaned things, and the plant as texted.

After an act that opens a lot, words that nobody knows are the name of the plant.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import Any, Final

from core.notes.acts.slots import Slots, joined, use
from core.notes.assembly.units import CELL_TRAYS
from core.notes.counts.shares import is_mother
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.vocabulary.everyday import is_everyday
from core.vocabulary.loading import plain_words, small_words, split_words
from core.vocabulary.plants import plant_names

_STRUCTURES: Final = small_words("places", "structures")
_GROUPS: Final = small_words("groups", "groups")
_PLANT_STOPS: Final = frozenset({
    "medium", "cutting", "wood", "container", "hormone", "hormone_name", "hormone_form", "what", "act", "shared",
    "pot_size", "amount", "vague", "all", "more",
})  # fmt: skip


def thing(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    """Takes the name of a thing that was cleaned, with the words before it that belong to it."""
    start = place
    if _lies_in(pieces, place):
        return
    while (
        start and not pieces[start - 1].used and (pieces[start - 1].kind == "word" or _names_thing(pieces[start - 1]))
    ):
        start -= 1
    end = place + 1 + (place + 1 < len(pieces) and _its_letter(pieces, place + 1))
    name = joined(slots.tokens, pieces[start].first, pieces[end - 1].last)
    named = slots.values.setdefault("things_at", {})
    named[pieces[start].first] = name
    slots.values["things"] = tuple(named[at] for at in sorted(named))
    use(*pieces[start:end])


def count_things(slots: Slots, pieces: list[Piece], numbers: list[Piece]) -> None:
    """`bleached 40 pots`: how many things; a number after `since` or `at` is an hour, and one after `for`, or after
    what they lay in, lacks its unit (`pots in bleach for 10`).
    """
    counted = [piece for piece in numbers if not _is_timed(pieces, pieces.index(piece))]
    lasting = [piece for piece in counted if _lasts(pieces, pieces.index(piece))]
    if lasting and "duration" not in slots.values:
        slots.asks.append("unit")
    counted = [piece for piece in counted if piece not in lasting]
    told = [piece for piece in slots.clause.pieces if piece.kind == "number" and piece.used]
    if counted and told and pieces is not slots.clause.pieces and slots.values.pop("count", None) is not None:
        # "3 flats and 12 domes": neither counts all the things.
        told[0].used = False
        return
    if len(counted) == 1 and counted[0].value.whole is not None:
        slots.put("count", counted[0].value.whole, counted[0])


def _is_timed(pieces: list[Piece], place: int) -> bool:
    return place > 0 and pieces[place - 1].low in _TIMED


def _lasts(pieces: list[Piece], place: int) -> bool:
    """`for | 10`, `in bleach | 10`."""
    before = pieces[place - 1] if place else None
    ends = place + 1 >= len(pieces) or "filler" in pieces[place + 1].roles
    return before is not None and ends and (before.low == "for" or "solution" in before.roles)


_TIMED: Final = frozenset({"at", "@", "since", "by", "til", "till", "until", "from", "after", "before", "in"})


_AFTER_LETTERS: Final = frozenset({"and", "&", "then", "with", "w", "w/", "again", "too", "also", "today"})


def _its_letter(pieces: list[Piece], place: int) -> bool:
    """`bench b`, `bench a and …`, `bench 3`: the letter or number that a bench goes by."""
    if pieces[place - 1].low not in _STRUCTURES or pieces[place].used:
        return False
    piece = pieces[place]
    closes = (
        place + 1 >= len(pieces)
        or pieces[place + 1].kind == "break"
        or is_act(pieces[place + 1])
        or pieces[place + 1].low in _AFTER_LETTERS
    )
    if piece.kind == "number":
        return closes and piece.low.isdigit()
    return len(piece.low) == 1 and piece.low.isalpha() and (piece.kind == "word" or closes)


def _lies_in(pieces: list[Piece], place: int) -> bool:
    """`soaked snips in the tub`: where other things lay."""
    before = place - 1 - (place > 0 and pieces[place - 1].low in ("the", "a", "my", "our"))
    return before >= 0 and pieces[before].low in ("in", "in the", "in a", "into", "inside")


def _names_thing(piece: Piece) -> bool:
    """A noun of the bench that tells what a thing is for (`dip cups`)."""
    return "noun" in piece.roles and not any(role in piece.roles for role in ("solution", "medium", "hormone"))


def more_things(slots: Slots, pieces: list[Piece]) -> None:
    """`pots and saucers`, `the dip cups`: unknown words joined to a known thing, or right beside the deed."""
    place = 0
    while place < len(pieces):
        end = place
        while end < len(pieces) and pieces[end].kind == "word" and not pieces[end].used:
            end += 1
        if end > place and _is_thing(slots, pieces, place, end):
            named = slots.values.setdefault("things_at", {})
            named[pieces[place].first] = joined(slots.tokens, pieces[place].first, pieces[end - 1].last)
            slots.values["things"] = tuple(named[at] for at in sorted(named))
            use(*pieces[place:end])
        place = max(end, place + 1)


def _is_thing(slots: Slots, pieces: list[Piece], start: int, end: int) -> bool:
    known = slots.values.get("things_at", {})
    before = start - 1
    while before >= 0 and pieces[before].low in ("the", "all", "all the", "our", "my", "those", "these", "some"):
        before -= 1
    if before >= 0 and pieces[before].low in _JOINS:
        letter = before > 1 and pieces[before - 1].used and len(pieces[before - 1].low) < 3
        lettered = letter and pieces[before - 2].first in known
        named = lettered or pieces[before - 1].first in known or "thing" in pieces[before - 1].roles
        return before == 0 or named
    if before >= 0 and is_act(pieces[before]):
        return end >= len(pieces) or pieces[end].low not in ("off", "from", "out of")
    if pieces[end - 1].low in _GROUPS:
        # "the scouts washed 200 pots": who did it.
        return False
    heads = all(piece.kind == "moment" for piece in pieces[: before + 1])
    return heads and end < len(pieces) and (is_act(pieces[end]) or pieces[end].low in _JOINS)


_JOINS: Final = frozenset({"and", "&", ",", "+"})


def container(slots: Slots, pieces: list[Piece], place: int, piece: Piece) -> None:
    """Takes a container with its number and size (`2 six packs`, `4 in pots`)."""
    kind = piece.roles["container"]
    before = pieces[place - 1] if place else None
    held: dict[str, Any] | None = slots.values.get("container")
    if held is not None:
        if held["kind"] == kind in _HOLDS_MANY and "count" not in held and _is_count(before):
            held["count"] = before.value.whole  # type: ignore[union-attr]
            use(before)  # type: ignore[arg-type]
        if held["kind"] == kind or kind == "pot" or (held["kind"] == "cell" and kind in ("flat", "tray")):
            use(piece)
        return
    if before is not None and before.low in ("a", "an") and place > 1 and "fraction" in pieces[place - 2].roles:
        return
    if before is not None and before.kind == "dash" and place > 1:
        before = pieces[place - 2]
    if before is not None and before.kind == "number" and place > 1 and _is_side(pieces[place - 2]):
        # "4x9 flat" tells how big it is.
        before.kind = "kept"
    container: dict[str, Any] = {"kind": kind}
    used = [piece]
    times = pieces[place + 1 : place + 3]
    if len(times) == 2 and times[0].low in ("x", "×") and _is_count(times[1]) and not times[1].used:
        # "6-pack x 6".
        container["count"] = times[1].value.whole
        used.extend(times)
    if slots.values.get("per") and kind == "pot" and _is_count(before):
        # "2 acorns per pot, 20 pots".
        container["count"] = before.value.whole  # type: ignore[union-attr]
        slots.put("count", slots.values["per"] * container["count"])
        use(before)  # type: ignore[arg-type]
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


_HOLDS_MANY: Final = frozenset({"flat", "tray", "six-pack", "four-pack"})


def _is_count(piece: Piece | None) -> bool:
    return piece is not None and piece.kind == "number" and not piece.used and bool(piece.value.whole)


def _is_side(piece: Piece) -> bool:
    return piece.kind == "times" or piece.low in ("x", "×")


def cell_tray(slots: Slots, pieces: list[Piece]) -> None:
    """`in a 72`, `into 128s`: a tray that goes by the number of its cells."""
    if not slots.takes("container") or slots.values.get("container") is not None:
        return
    for place, piece in enumerate(pieces):
        if piece.kind != "number" or piece.used or piece.low not in CELL_TRAYS or not place:
            continue
        lead = place - 1 - (place > 1 and pieces[place - 1].low in ("a", "an", "the", "our"))
        several = place + 1 < len(pieces) and pieces[place + 1].low == "s"
        closes = place + 1 + several >= len(pieces) or pieces[place + 1 + several].kind in ("break", "mark")
        one_of = pieces[place - 1].low in ("a", "an") or several
        if pieces[lead].low.split(" ")[-1] in ("in", "into") and one_of and closes:
            held = {"kind": "cell"} if several else {"kind": "cell", "count": int(piece.low)}
            slots.put("container", held, *pieces[lead : place + 1 + several])
            return


def plant_as_texted(slots: Slots, pieces: list[Piece]) -> None:
    """The run of names, unknown words and quoted words that holds the plant of an act that opens a lot."""
    if slots.values.get("bagged"):
        use(*(piece for piece in pieces if piece.low in ("heads", "head")))
    if "plant" in slots.values:
        return
    best: tuple[int, int] | None = None
    start = 0
    while start < len(pieces):
        end = start
        while end < len(pieces) and _may_name(pieces[end]):
            end += 1
        run = _as_name(pieces, start, end)
        if all(piece.low in _COLOURS and "plant" not in piece.roles for piece in pieces[slice(*run)]):
            run = end, end
        known = any("plant" in piece.roles for piece in pieces[start:end])
        if not known and start < end < len(pieces) and pieces[end - 1].low in _GROUPS and is_act(pieces[end]):
            run = end, end  # "the scouts gathered acorns"
        if not known and (_tells_of_others(pieces, *run) or [one.low for one in pieces[end : end + 1]] == ["ones"]):
            run = end, end  # "40 of the biggest ones"
        if not known and run[0] < run[1] and _is_plain(pieces[run[1] - 1]):
            run = end, end  # "1 oz shaken loose", "took the edge off the seed"
        if run[0] < run[1] and (
            best is None or (known and not any("plant" in piece.roles for piece in pieces[slice(*best)]))
        ):
            best = run
        start = max(end, start + 1)
    if best is None:
        return
    start, end = best
    name_parts = []
    for piece in pieces[start:end]:
        name_parts.append(
            f"'{piece.value}'" if piece.kind == "quote" else joined(slots.tokens, piece.first, piece.last)
        )
    if name_parts:
        slots.put("plant", " ".join(name_parts), *pieces[start:end])


def _is_plain(piece: Piece) -> bool:
    """Whether a word is of plain English, and so ends no name of a plant that is not known."""
    plain = is_everyday(piece.low) or piece.low in plain_words()
    return piece.kind == "word" and plain and piece.low not in _ENDINGS


def _tells_of_others(pieces: list[Piece], start: int, end: int) -> bool:
    """`stuck tips all morning | hands | are purple`: what else is told, and no plant; one that is counted may be it."""
    if start == end or (start and pieces[start - 1].kind == "number"):
        return False
    being = end < len(pieces) and pieces[end].low in _BEING
    return (being and start > 0) or pieces[start].low in _LIMBS


def plant_treated(slots: Slots, pieces: list[Piece]) -> None:
    """`nicked 50 whitethorn`, `smoked the whispering bells`: unknown words right after what is done to seed alone; the
    seed of `soaked lot 57 seed for 12` is the lot's.
    """
    for before, piece in pairwise(pieces):
        piece.used = piece.used or (before.kind in SUBJECTS and piece.low in _SEEDS)
    noun = slots.clause.word is not None and slots.clause.word.form == "noun" and not _on_seed(pieces)
    if noun or slots.values.get("treatment") not in _OF_SEED or any(slots.values.get(name) for name in _SUBJECTS):
        return
    start = next((place + 1 for place, piece in enumerate(pieces) if is_act(piece)), _on_seed(pieces) or len(pieces))
    while start < len(pieces) and (pieces[start].kind == "number" or pieces[start].low in ("the", "of", "our")):
        start += 1
    end = start
    while end < len(pieces) and (_may_name(pieces[end]) or _names_land(pieces, end)):
        end += 1
    start, end = _as_name(pieces, start, end)
    if start < end:
        slots.put("plant", joined(slots.tokens, pieces[start].first, pieces[end - 1].last), *pieces[start:end])


def _on_seed(pieces: list[Piece]) -> int:
    """Where the words before "seed" begin that hot water came over (`boiling water over new mexico locust seed`)."""
    lead = next((at for at, piece in enumerate(pieces[:-1]) if piece.low in ("over", "on")), None)
    treated = lead is not None and any("noun" in piece.roles for piece in pieces[:lead])
    ends = [piece.low for piece in pieces if piece.low in ("seed", "seeds")]
    return lead + 1 if lead is not None and treated and ends else 0


_SEEDS: Final = frozenset({"seed", "seeds", "cuttings"})
_OF_SEED: Final = frozenset({"scarify", "smoke", "acid", "cold_stratify", "warm_stratify", "hot_water"})
_SUBJECTS: Final = ("lots", "trays", "plant")


def _as_name(pieces: list[Piece], start: int, end: int) -> tuple[int, int]:
    """A run of words without those that are no name: fillers before it; where no known plant is in it, what stands
    after a preposition, and at its end words that say how or what was done (`nicely`, `waiting`).
    """
    while start < end and not _names_land(pieces, start) and (
        pieces[start].kind == "dash" or ("filler" in pieces[start].roles and "plant" not in pieces[start].roles)
    ):
        start += 1
    while start < end and pieces[end - 1].kind == "dash":
        end -= 1
    while start < end and pieces[end - 1].kind == "word" and _tells_how(pieces[end - 1].low):
        end -= 1
    if end - start > 1 and pieces[end - 1].low in _AFTER_PLANTS and "plant" in pieces[end - 2].roles:
        end -= 1
    if any("plant" in piece.roles or piece.kind == "quote" for piece in pieces[start:end]):
        return start, end
    if _on_seed(pieces) == start and start < end:
        return start, end
    before = start - 1
    while before >= 0 and pieces[before].low in ("the", "a", "an", "our", "my", "some"):
        before -= 1
    return (end, end) if before >= 0 and pieces[before].low in _NEVER_AFTER else (start, end)


def _tells_how(word: str) -> bool:
    return word.endswith(("ed", "ing", "ly")) and not word.endswith("eed") and word not in _words_of_names()


@cache
def _words_of_names() -> frozenset[str]:
    return frozenset(word for name in plant_names() for word in split_words(name))


_NO_NAMES: Final = small_words("names", "never") | small_words("names", "wanted")
_AFTER_PLANTS: Final = small_words("names", "after_plants")
_NEVER_AFTER: Final = small_words("names", "never_after")
_AFTER_NEW: Final = small_words("names", "after_new")
_COLOURS: Final = small_words("names", "colours")
_ENDINGS: Final = small_words("names", "endings") | small_words("names", "ends_unknown")
_LIMBS: Final = small_words("names", "limbs")
_BEING: Final = small_words("names", "being")


def _names_land(pieces: list[Piece], at: int) -> bool:
    """The new of `new mexico locust`."""
    return pieces[at].low == "new" and at + 1 < len(pieces) and pieces[at + 1].low in _AFTER_NEW


def _may_name(piece: Piece) -> bool:
    if piece.used or piece.low in _NO_NAMES or is_mother(piece.low):
        return False
    if piece.kind == "dash":
        return True
    if piece.kind in ("word", "quote"):
        return True
    if piece.kind != "phrase":
        return False
    if "plant" in piece.roles:
        return True
    if "noun" in piece.roles and not any(role in piece.roles for role in _PLANT_STOPS):
        return bool(piece.roles["noun"].act != "check")
    return piece.low in _COLOURS and not any(role in piece.roles for role in _PLANT_STOPS)
