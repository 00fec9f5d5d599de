"""What is told of a chill that goes on: days out of the fridge, how many of its days are over, what was done in it.

Rules
1. `back in the fridge, 2 hrs out`: how long seed was out is no length of the chill.
2. `day 30 of 60 cold`, `fridge 60 days up today`: how far it is, and nothing that begins; `60 days in fridge done` ends
   it.
3. `checked lot 53 in the fridge`, `the bags in the fridge were dry`: where the seed lies.
4. `sowed lot 53 after 60 days in the fridge`: a chill that was over before the deed, and none that begins.
5. What goes from one cold place to another was moved, and its chill goes on.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece, is_act
from core.notes.words.said import begin_of_statement, keep_words, pass_over, said_in, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_UNITS: Final = frozenset({"day", "days", "week", "wk", "weeks", "wks"})
_UP: Final = small_words("strat", "up")
_DONE: Final = small_words("strat", "done")
_REACHED: Final = frozenset({"hit", "reached", "at", "made"})
_IS: Final = frozenset({"is", "'s", "s", "will", "should", "ought"})
_NEARLY: Final = small_words("strat", "nearly")
_KEPT_APART: Final = frozenset({"moment", "lots", "trays"})
_BEFORE_OUT: Final = frozenset({"after", "for", "was", "been", "only", "about", "just", "a"})
_JOINTS: Final = frozenset({"and", "then", "so", "but"})
_VESSELS: Final = small_words("strat", "vessels")
_STANDING: Final = small_words("strat", "standing")
_LASTING: Final = frozenset({"since", "for", "until", "till", "til"})
_DONE_AFTER: Final = frozenset({"sow", "pot", "stick", "plant_out", "divide", "split"})
_FROM_COLD: Final = small_words("strat", "from_cold")
_TO_COLD: Final = small_words("strat", "to_cold")
_SHELVES: Final = small_words("strat", "shelves")
_TAKING: Final = small_words("strat", "taking")
_DONE_THERE: Final = frozenset({"check", "water", "lose", "wilt", "tend"})


@looks_for("out", beside=("=duration",))
def keep_time_out(pieces: list[Piece]) -> None:
    """`lot 53 back in the fridge, 2 hrs out`, `after a day out`, `was out 3 hours`, in place."""
    for at, piece in enumerate(pieces[:-1]):
        # "lot 53 was out of the fridge 2 hrs, back in".
        again = any(one.low.split(" ")[0] == "back" for one in pieces[at + 2 :])
        out = "out of " in f"{said_in(pieces[max(0, at - 2) : at + 1])} "
        if again and out and is_chill(piece) and pieces[at + 1].kind == "duration":
            keep_words(pieces[at + 1])
    for at, piece in enumerate(pieces):
        if piece.low != "out" or not any(map(is_chill, pieces[:at])):
            continue
        beside = [one for one in (at - 1, at + 1, at + 2) if 0 <= one < len(pieces) and pieces[one].kind == "duration"]
        if not beside or (at + 2 in beside and pieces[at + 1].low != "for"):
            continue
        start = min(at, *beside)
        while start and pieces[start - 1].low in _BEFORE_OUT:
            start -= 1
        keep_words(*pieces[start : max(at, *beside) + 1])


@looks_for("=number", beside=_UNITS)
def keep_days_over(pieces: list[Piece]) -> None:
    """`lot 53 day 30 of 60 cold`: how far a treatment is, in place."""
    for at in range(len(pieces) - 2, -1, -1):
        unit, number = pieces[at : at + 2]
        if unit.low not in _UNITS or number.kind != "number" or number.value.of is None:
            continue
        low = said_in([unit, number])
        pieces[at : at + 2] = [Piece("kept", None, unit.first, number.last, low)]
        keep_words(*(piece for piece in pieces if "noun" in piece.roles and is_chill(piece)))


@looks_for("!treat", beside=_UP | _DONE | _REACHED)
def settle_days_up(pieces: list[Piece]) -> None:
    """`lot 53 fridge 60 days up today` is yet to be taken out, `60 days in fridge done` is, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        cold = next((at for at, piece in enumerate(said) if is_chill(piece)), None)
        length = next((at for at, piece in enumerate(said) if piece.kind == "duration"), None)
        if cold is None or length is None:
            continue
        if length and said[length - 1].low in _REACHED and not any("to_do" in piece.roles for piece in said):
            keep_words(*(piece for piece in said if piece.kind not in _KEPT_APART))
            continue
        last = max(cold, length) + 1
        while last < len(said) and said[last].low in ("is", "are", "all", "now"):
            last += 1
        if last >= len(said):
            continue
        over = said[last].low
        closes = last + 1 == len(said) or said[last + 1].kind == "moment"
        if over in _UP and closes:
            keep_words(*(piece for piece in said if piece.kind not in _KEPT_APART))
        elif over in _DONE and closes and begins_nothing(said[cold]):
            word = said[cold].roles.get("act") or said[cold].roles["noun"]
            says = {"treatment": word.says["treatment"], "ends": True}
            said[cold].kind, said[cold].roles = "phrase", {"act": ActWord(act="treat", says=says)}
            pass_over(said[last])


@looks_for("!treat", beside=_DONE)
def keep_nearly_over(pieces: list[Piece]) -> None:
    """`lot 53's chill is almost over`, `is over in 2 weeks`, `is over on friday`: it goes on, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        cold = next((at for at, piece in enumerate(said) if "noun" in piece.roles and is_chill(piece)), len(said))
        over = next((at for at in range(cold + 1, len(said)) if said[at].low in _DONE), 0)
        if not over or said[cold + 1].low not in _IS:
            continue
        when = [piece for piece in said[over + 1 :] if piece.low not in ("on", "in", "about", "by")]
        to_come = bool(when) and _may_be_to_come(when[0]) and said[over + 1].low != "as of"
        if to_come or any(piece.low in _NEARLY for piece in said[cold + 1 : over]):
            keep_words(*(piece for piece in said if piece.kind not in _KEPT_APART))


def _may_be_to_come(piece: Piece) -> bool:
    """`2 weeks`, `friday`, `tomorrow`; not `yesterday`."""
    if piece.kind != "moment":
        return piece.kind == "duration"
    return piece.value.is_to_come or (piece.value.weekday is not None and not piece.value.which)


@looks_for("!treat", beside=("!check", "!water", "!lose", "!wilt", "!tend"))
def keep_where_it_lies(pieces: list[Piece]) -> None:
    """`checked lot 53 in the fridge`, `lost 3 of lot 53 in the fridge`: where it was done, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        for at, piece in enumerate(said):
            there = at and (said[at - 1].kind in ("lots", "trays") or said[at - 1].low in _VESSELS)
            lies = there and is_chill(piece) and piece.low.startswith("in ")
            words = [one.roles["act"].act for one in said[:at] if "act" in one.roles]
            # "pinched tray 17 and lot 13 in the fridge 8 weeks" begins a chill.
            joined = at > 1 and said[at - 2].low in ("and", "&")
            lies = lies and not (joined and any(one.kind == "duration" for one in said[at + 1 : at + 2]))
            if lies and words and set(words) <= _DONE_THERE:
                piece.kind, piece.roles = "kept", NO_ROLES


@looks_for("!treat", beside=_STANDING)
def keep_where_it_stood(pieces: list[Piece]) -> None:
    """`2 of the 10 bags in the fridge were dry`, `the seed in the fridge smells`: where it is so, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        for at, piece in enumerate(said[:-2]):
            told = at and piece.low.startswith("in ") and is_chill(piece) and said[at + 1].low in _STANDING
            after = said[at + 2 :] if told else []
            over = any(one.kind == "duration" or one.low in _LASTING | _UP | _DONE | _REACHED for one in after)
            if after and not over:
                piece.kind, piece.roles = "kept", NO_ROLES


@looks_for("after", beside=("=duration",))
def keep_chill_before(pieces: list[Piece]) -> None:
    """`sowed lot 53 after 60 days in the fridge`: the chill that was over then, in place."""
    for at, (after, length, chill) in enumerate(zip(pieces, pieces[1:], pieces[2:], strict=False)):
        if after.low == "after" and length.kind == "duration" and is_chill(chill) and begins_nothing(chill):
            told = pieces[begin_of_statement(pieces, at) : at]
            words = [piece.roles["act"] for piece in told if "act" in piece.roles]
            if words and all(word.act in _DONE_AFTER and word.form == "done" for word in words):
                keep_words(after, length, chill)


@looks_for("!treat", beside=_FROM_COLD)
def move_within_cold(pieces: list[Piece]) -> None:
    """`lot 60 from fridge door to fridge top`, `from the fridge to the cooler`: its chill goes on, and it was moved, in
    place.
    """
    for start, end in reversed(statements(pieces)):
        said = pieces[start:end]
        out = next((at for at, piece in enumerate(said) if piece.low in _FROM_COLD and is_chill(piece)), len(said))
        back = next((at for at in range(out + 1, len(said)) if said[at].low in _TO_COLD and is_chill(said[at])), 0)
        if not back or any(piece.low not in _SHELVES for piece in said[out + 1 : back]):
            continue
        last = back + 1
        while last < len(said) and said[last].low in _SHELVES:
            last += 1
        where = " ".join((said[back].low.split(" ")[-1], *(piece.low for piece in said[back + 1 : last])))
        deed = {"act": ActWord(act="move", says={"to": where})}
        moved = Piece("phrase", None, said[back].first, said[last - 1].last, said_in(said[back:last]), deed)
        keep_words(*said[out:back])
        for piece in said[:out]:
            if _is_move(piece) or piece.low in _TAKING:
                piece.roles, piece.used = {"filler": True}, True
        pieces[start + back : start + last] = [moved]


@looks_for("!move", beside=("!treat",))
def find_moves_out(pieces: list[Piece]) -> None:
    """`moved lot 43 from fridge to greenhouse`: where it went stands before what it came out of, in place; without a
    place the chill only ends.
    """
    for start, end in reversed(statements(pieces)):
        said = pieces[start:end]
        moved = next((at for at, piece in enumerate(said) if _is_move(piece)), None)
        out = next((at for at, piece in enumerate(said) if piece.low.startswith("from ") and is_chill(piece)), None)
        if moved is None or out is None or out < moved or any("to" in piece.low.split(" ") for piece in said[:out]):
            continue
        ends = next((at for at in range(out + 1, len(said)) if said[at].low in _JOINTS), len(said))
        where = said[out + 1 : ends]
        led = len(where) > 1 and where[0].low in ("to", "into", "to the", "into the", "onto")
        if led and any("place_word" in piece.roles for piece in where) and not any(map(is_act, where)):
            days = [piece.copied() for piece in where if piece.kind == "moment"]
            pieces[start + out : start + ends] = [*where, said[out], *days]
        else:
            said[moved].roles, said[moved].used = {"filler": True}, True


def _is_move(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.act == "move"


def is_chill(piece: Piece) -> bool:
    """Whether the word is of seed that is kept cold or warm: `in the fridge`, `cold`, `strat`."""
    word = piece.roles.get("act") or piece.roles.get("noun")
    return word is not None and word.act == "treat" and word.says.get("treatment") in ("cold_stratify", "warm_stratify")


def begins_nothing(piece: Piece) -> bool:
    """`in the fridge`, `cold`, not `put in the fridge`."""
    return "noun" in piece.roles or piece.low.startswith("in ")
