"""How warm a place got, told with a verb of its own or with when somebody saw it, and how it is read off."""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece
from core.notes.words.runs import Runs
from core.notes.words.said import end_of_statement, keep_words, pass_over, said_in, statement_at
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_VERBS: Final = small_words("temps", "getting")
_GETTING: Final = Runs(_VERBS)
_BARE: Final = small_words("temps", "bare_subjects")
_BEING: Final = small_words("temps", "being")
_AT: Final = frozenset({"in", "on", "at", "inside"})
_FEW: Final = 4
_UP_TO: Final = small_words("temps", "up_to")
_ARRIVING: Final = small_words("temps", "arriving")
_READING: Final = small_words("temps", "reading_off")
_HUMIDITY: Final = {"humidity": True}
_DEGREES: Final = frozenset({"temp", "degrees"})
_WORDS_OF_ARRIVING: Final = 4


@looks_for(any_of=_VERBS, beside=("=temp", "=degrees", "@humidity"))
def _find_heat_reached(pieces: list[Piece]) -> None:
    """`cold frame got down to 29f`, `cooler says 4 c`, `it got down to 38f in the cold frame`: read there, and nothing
    gathered, lost or heard, in place.
    """
    for at in range(len(pieces) - 1):
        verb = _GETTING.end_at(pieces, at)
        if not verb:
            continue
        end = verb
        while end < len(pieces) - 1 and pieces[end].low in _UP_TO:
            end += 1
        begin = at
        while begin and pieces[begin - 1].low in _BEING:
            begin -= 1
        read = pieces[end].kind in _DEGREES or (pieces[end].kind == "percent" and _of_humidity(pieces, begin))
        if end < len(pieces) and read and _read_somewhere(pieces, begin, end):
            pass_over(*pieces[begin:end])


def _of_humidity(pieces: list[Piece], begin: int) -> bool:
    return begin > 0 and "humidity" in pieces[begin - 1].roles


def _read_somewhere(pieces: list[Piece], begin: int, end: int) -> bool:
    """Whether a place was told before the verb, or is told after its degrees."""
    before = pieces[begin - 1] if begin else None
    if before is not None and not before.roles.keys().isdisjoint(("place_word", "humidity")):
        return True
    opens = before is None or before.kind in ("break", "moment", "person") or before.low in _BARE
    after = pieces[end + 1 : end_of_statement(pieces, end + 1)]
    led = bool(after) and after[0].low.split(" ")[0] in _AT
    return opens and led and any("place_word" in piece.roles for piece in after[:_FEW])


@looks_for("when", beside=("=temp", "=degrees"))
def _keep_when_seen(pieces: list[Piece]) -> None:
    """`fridge was 58f when i got here`: when it was read, in place."""
    for at in range(1, len(pieces)):
        if pieces[at].low != "when" or pieces[at - 1].kind not in _DEGREES:
            continue
        end = end_of_statement(pieces, at)
        if end - at <= _WORDS_OF_ARRIVING and said_in(pieces[at + 1 : end]) in _ARRIVING:
            keep_words(*pieces[at:end])


@looks_for("hygrometer", "hygrometers", beside=("=percent",))
def _read_hygrometer(pieces: list[Piece]) -> None:
    """`hygrometer reads 65% in the mist house`, `mist house hygrometer 65%`: humidity, where nothing else is told of
    the percents (`hygrometer 10% off at the store`), in place.
    """
    for at, piece in enumerate(pieces):
        if piece.low.removesuffix("s") != "hygrometer":
            continue
        begin, end = statement_at(pieces, at)
        told = [one for one in (*pieces[begin:at], *pieces[at + 1 : end]) if one.kind != "moment"]
        percents = [one for one in told if one.kind == "percent"]
        small = all(one.kind == "percent" or _tells_where(one) or one.low in _READING for one in told)
        if len(percents) == 1 and small:
            piece.kind, piece.roles = "phrase", _HUMIDITY
            pass_over(*(one for one in told if one.low in _READING))


def _tells_where(piece: Piece) -> bool:
    """`the`, `in`, `mist house`, its number."""
    return not piece.roles.keys().isdisjoint(("place_word", "filler")) or piece.kind in ("number", "lots")


FIND_HEAT_TOLD: Final = (_read_hygrometer, _find_heat_reached, _keep_when_seen)
"""The steps in their order."""
