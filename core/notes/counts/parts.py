"""Is only a part of a lot told of: `row 3 all rotted`, `front half none`, `a whole tray of lot 9`, `all 12 i pulled`.

"All" and "none" are then not said of the lot, and are kept with the words for the part.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.counts.each_tugged import keep_those_out, look_at_every
from core.notes.counts.tried_for_roots import find_no_roots, look_at_pulled, part_looked_at, sample_looked_at
from core.notes.words.numbers import SHARES, Number
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.said import is_end, keep_words, state_of
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord, words
from core.vocabulary.loading import END, small_words

_SIDES: Final = small_words("parts", "sides")
_PARTS: Final = small_words("parts", "parts")
_THE: Final = frozenset({"the", "all the", "all of the", "those", "only the", "just the", "my", "our"})
_WHICH: Final = _THE | {"all"}
_LEAVING: Final = frozenset({"pot", "sell", "give", "plant_out", "move", "lose"})
_OUT_OF: Final = frozenset({"of", "in", "from"})
_KINDS: Final = small_words("parts", "kinds")
_LONGEST: Final = 4
_ONE_OF: Final = small_words("parts", "one_of")
_LOOKERS: Final = small_words("parts", "lookers")
_LOOKED: Final = small_words("parts", "looked")
_HOLDING: Final = small_words("parts", "holding")


def of_a_part(pieces: list[Piece], place: int) -> bool:
    """Whether the word for all or none at a place is said of a part that its clause names."""
    if place and pieces[place - 1].low in _ONE_OF and "tray" in pieces[place].low.split(" "):
        return True
    if any("of_a_part" in piece.roles or piece.kind == "rank" for piece in pieces if not piece.used):
        return True
    return "all" in pieces[place].roles and _some_kind_follows(pieces, place + 1)


def _some_kind_follows(pieces: list[Piece], at: int) -> bool:
    """`all the small ones`, `all the duds`: those of one kind."""
    said = at
    while at < min(len(pieces), said + _LONGEST) and pieces[at].kind in ("word", "phrase") and not is_act(pieces[at]):
        if pieces[at].low in _KINDS or (pieces[at].low == "ones" and any(map(_tells_kind, pieces[said:at]))):
            return True
        at += 1
    return False


def _tells_kind(piece: Piece) -> bool:
    return piece.low not in ("the", "of", "those", "these", "my", "our")


@looks_for("ones", any_of=_SIDES)
def join_sides(pieces: list[Piece]) -> None:
    """Makes `front half`, `left side` and the `rooted ones` of `moved the rooted ones` one unread piece, in place."""
    for place in range(len(pieces) - 2, -1, -1):
        side, part = pieces[place : place + 2]
        halved = side.low in _SIDES and side.kind != "kept" and part.low in _PARTS
        if halved or (part.low == "ones" and _only_tells_which(pieces, place)):
            low = f"{side.low} {part.low}"
            pieces[place : place + 2] = [Piece("numbered", None, side.first, part.last, low, {"of_a_part": True})]


@looks_for("!rooted", "!callused", "!germinated", "!ready", beside=tuple(f"!{act}" for act in _LEAVING))
def keep_which(pieces: list[Piece]) -> None:
    """`potted all the rooted of lot 5`: which of its plants, and no count of those, in place."""
    for place in range(len(pieces) - 3, 0, -1):
        lead, state, of = pieces[place : place + 3]
        word = state.roles.get("act")
        deed = pieces[place - 1].roles.get("act")
        whose = word is not None and word.act == "check" and lead.low in _WHICH and of.low in _OUT_OF
        if whose and deed is not None and deed.act in _LEAVING and pieces[place + 3].kind in SUBJECTS:
            low = f"{lead.low} {state.low}"
            pieces[place : place + 2] = [Piece("numbered", None, lead.first, state.last, low, {"of_a_part": True})]


def _only_tells_which(pieces: list[Piece], place: int) -> bool:
    """Whether the word of a deed after "the" tells which plants: `the potted ones`; the dead ones are lost too."""
    word = pieces[place].roles.get("act")
    return word is not None and word.act != "lose" and place > 0 and pieces[place - 1].low in _WHICH


@looks_for(any_of=_HOLDING, beside=("!check",))
def count_holding(pieces: list[Piece]) -> None:
    """`tugged 10, 7 holding`, `7 of 12 tugged held`: those that held when tugged have roots; of those only looked at
    it is kept, in place.
    """
    looked: ActWord | None = None
    for place, piece in enumerate(pieces):
        word = piece.roles.get("act") or piece.roles.get("noun")
        looked = word if word is not None and word.act == "check" else looked
        count = place - 1
        while count > 0 and pieces[count].low in _LOOKED | _LOOKERS:
            count -= 1
        if looked is not None and piece.low in _HOLDING and place and _is_count(pieces[count]):
            piece.kind, piece.roles = "phrase", words().tree["rooted"][END] if looked.says.get("sample") else NO_ROLES
            if is_end(pieces, place + 2) and pieces[place + 1 : place + 2] and pieces[place + 1].low == "on":
                # "3 holding on".
                piece.last = pieces.pop(place + 1).last


@looks_for("!check", beside=("@fraction", "=fraction", "@container", "=amount", "=percent", "@vague"))
def find_looked_at(pieces: list[Piece]) -> None:
    """`looked at half of lot 22`, `checked a six pack of lot 12`, `checked 3 of 6 packs in lot 20`: only some were
    looked at, and how many is no share of those that rooted, in place.
    """
    for place, piece in enumerate(pieces):
        word = piece.roles.get("act")
        if word is None or word.act != "check" or word.counts_before or word.form != "done":
            continue
        after, before = _part_until(pieces, place + 1), place >= 2 and _is_share(pieces[place - 2])
        if after and after > place + 1:
            keep_words(*pieces[place + 1 : after])
            for other in range(after, len(pieces)):
                end = _part_until(pieces, other + 1) if pieces[other].low in ("and", "&", ",") else 0
                keep_words(*pieces[other + 1 : end])
        elif before and pieces[place - 1].kind in SUBJECTS:
            keep_words(pieces[place - 2])
        else:
            continue
        piece.roles = words().tree["sampled"][END]
        return


def _part_until(pieces: list[Piece], at: int) -> int:
    """Where the words for a part before its lot or tray end (`a six pack of | lot 12`); 0 where none stand there."""
    end = at + (at < len(pieces) and pieces[at].low in _ONE_OF)
    single = end > at or (end < len(pieces) and pieces[end].low in ("1", "one"))
    end += end == at and single
    if end >= len(pieces):
        return 0
    if end == at and (_is_share(pieces[end]) or (pieces[end].kind == "amount" and " of " in pieces[end].low)):
        end += 1
    elif end == at and _some_of_containers(pieces[end : end + 2]):
        end += 2
    elif single and "container" in pieces[end].roles:
        end += 1
        end += 2 * (end + 1 < len(pieces) and pieces[end].low == "of" and pieces[end + 1].kind == "number")
    elif single and _is_share(pieces[end]):
        end += 1
    else:
        return 0
    led = end + (end < len(pieces) and pieces[end].low in ("of", "in", "from"))
    return end if led < len(pieces) and pieces[led].kind in SUBJECTS else 0


def _some_of_containers(said: list[Piece]) -> bool:
    """`2 of 6 packs`."""
    return len(said) > 1 and said[0].kind == "number" and bool(said[0].value.of) and "container" in said[1].roles


def _is_share(piece: Piece) -> bool:
    """`half of`, `1/3`, `10%`, `a few`."""
    told = piece.kind == "phrase" and not piece.roles.keys().isdisjoint(("fraction", "vague"))
    return told or piece.kind == "percent" or (piece.kind == "fraction" and tuple(piece.value[:2]) in SHARES)


@looks_for("popped", beside=("!rooted",))
def tip_out(pieces: list[Piece]) -> None:
    """`popped 3 plugs, all rooted`: tipped out to look at their roots; seed that popped counts before it, in place. Not
    `popped 40 tips into perlite`, which are read by now.
    """
    for place, piece in enumerate(pieces[:-1]):
        counted = place and _is_count(pieces[place - 1])
        began = getattr(piece.roles.get("act"), "act", "") in ("stick", "sow")
        if piece.low != "popped" or began or counted or pieces[place + 1].kind != "number":
            continue
        if any(_state_of(one) == "rooted" for one in pieces[place + 2 :]):
            piece.roles = words().tree["tugged"][END]


def _state_of(piece: Piece) -> str:
    """The state of roots that a word tells, or an empty string."""
    state = state_of(piece)
    return state if state in ("rooted", "callused") else ""


def _is_count(piece: Piece) -> bool:
    told = ("all", "none", "both", "fraction")
    return piece.kind in ("number", "fraction") or not piece.roles.keys().isdisjoint(told)


@looks_for("@all")
def join_samples(pieces: list[Piece]) -> None:
    """Reads `all 12 i pulled` as `tugged 12 of 12`, in place: those that were looked at, not the whole lot."""
    for place, piece in enumerate(pieces[:-2]):
        number = pieces[place + 1]
        if "all" not in piece.roles or number.kind != "number" or number.value.whole is None:
            continue
        end = place + 2
        while end < len(pieces) and pieces[end].low in _LOOKERS:
            end += 1
        if end == place + 2 or end >= len(pieces) or pieces[end].low not in _LOOKED:
            continue
        tug: dict[str, Any] = words().tree["tugged"][END]
        whole = number.value.whole
        count = Number(whole, None, number.value.approx, whole)
        pieces[place : end + 1] = [
            Piece("phrase", None, piece.first, number.first, "tugged", tug),
            Piece("number", count, number.first, pieces[end].last, number.low),
        ]
        return


FIND_SAMPLES: Final = (
    find_no_roots, keep_those_out, find_looked_at, tip_out, look_at_pulled, count_holding, part_looked_at,
    sample_looked_at, join_samples, look_at_every,
)  # fmt: skip
"""Find those that were looked at, of all of a lot or tray, in place."""
