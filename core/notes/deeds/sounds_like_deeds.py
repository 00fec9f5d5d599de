"""Which words sound like a deed and tell of none, or of another: how long it took, water let out, gone at a sale.

Rules
1. `lot 19 took 12 days to germinate`: how long it took, and no move.
2. `tray 3 flooded, poured off the water`: water is taken away, and none given.
3. `brought 40 fuchsia cuttings from her yard`: they were gathered there.
4. `ceanothus all gone, people asked for more`: gone at a sale, and not lost.
5. `tray 6 has 3 with black stems. Took them out.`: out of the tray for the harm, and to no other place.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.words.pieces import Piece, is_act
from core.notes.words.said import deed_of, end_of_statement, keep_words, said_in, statements
from core.notes.words.steps import looks_for
from core.vocabulary import words
from core.vocabulary.loading import small_words

_TOOK: Final = small_words("sounds_like_deeds", "took")
_POURED_OFF: Final = small_words("sounds_like_deeds", "poured_off")
_FLOODED: Final = small_words("sounds_like_deeds", "flooded")
_RAIN: Final = small_words("sounds_like_deeds", "rain")
_BROUGHT: Final = small_words("sounds_like_deeds", "brought")
_WHOSE: Final = small_words("sounds_like_deeds", "whose")
_YARDS: Final = small_words("sounds_like_deeds", "yards")
_ASKED: Final = small_words("sounds_like_deeds", "asked")
_TAKING: Final = small_words("sounds_like_deeds", "taking")
_THEM: Final = small_words("sounds_like_deeds", "them")
_SICK: Final = small_words("diseases", "names")
_GONE: Final = small_words("sounds_like_deeds", "gone")


@looks_for(any_of=_TOOK, beside=("=duration",))
def keep_how_long_it_took(pieces: list[Piece]) -> None:
    """`lot 19 took 12 days to germinate`: how long it took, in place."""
    for at, (took, lasted) in enumerate(pairwise(pieces)):
        if took.low not in _TOOK or lasted.kind != "duration" or at + 2 >= len(pieces) or pieces[at + 2].low != "to":
            continue
        end = end_of_statement(pieces, at)
        done = pieces[at + 3] if at + 3 < end else None
        word = deed_of(done) if done is not None else None
        if (done is not None and not is_act(done)) or (word is not None and word.act in ("check", "wilt")):
            keep_words(*pieces[at:end])


@looks_for(any_of=_POURED_OFF, beside=_FLOODED | _RAIN)
def keep_poured_off(pieces: list[Piece]) -> None:
    """`tray 3 flooded, poured off the water`, `drained the trays after rain`: water is taken away, in place."""
    for at, piece in enumerate(pieces):
        if piece.low not in _POURED_OFF or any("solution" in one.roles for one in pieces):
            continue
        floods = [one for one in pieces[:at] if one.low in _FLOODED]
        if floods or any(one.low in _RAIN for one in pieces[at + 1 : end_of_statement(pieces, at)]):
            keep_words(piece, *floods)


@looks_for(any_of=_BROUGHT, beside=_YARDS)
def gather_from_yards(pieces: list[Piece]) -> None:
    """`brought 40 fuchsia cuttings from her yard`: they were gathered there, in place."""
    for at, piece in enumerate(pieces):
        if piece.low not in _BROUGHT:
            continue
        said = pieces[at + 1 : end_of_statement(pieces, at)]
        lows = [one.low for one in said]
        places = [start + 1 for start, low in enumerate(lows) if low == "from"]
        yard = any({*lows[who : who + 1]} & _WHOSE and {*lows[who + 1 : who + 2]} & _YARDS for who in places)
        what = any("what" in one.roles for one in said) and any("plant" in one.roles for one in said)
        if yard and what:
            piece.roles = words().phrases["took"]


@looks_for(any_of=_GONE, beside=_ASKED)
def keep_gone_at_sales(pieces: list[Piece]) -> None:
    """`ceanothus all gone, people asked for more`: gone at a sale, and not lost, in place."""
    if any(piece.low in _ASKED and one.low == "more" for piece, one in pairwise(pieces)):
        for piece in pieces:
            if piece.low in _GONE:
                keep_words(piece)


@looks_for(any_of=_TAKING, beside=_THEM)
def throw_out_sick(pieces: list[Piece]) -> None:
    """`tray 6 has 3 with black stems. Took them out.`: out of the tray for the harm, in place; where the loss is told
    already, it is no second one.
    """
    for (before, stop), (start, end) in pairwise(statements(pieces)):
        said, run = pieces[before:stop], pieces[start:end]
        if not run or run[0].low not in _TAKING or not all(one.low in _THEM for one in run[1:]):
            continue
        words_said = f" {said_in(said)} "
        lost = any(word is not None and word.act == "lose" for word in map(deed_of, said))
        sick = any("cause" in one.roles for one in said) or any(f" {name} " in words_said for name in _SICK)
        if not any(one.kind == "number" for one in said):
            continue
        if lost and len(run) > 1:
            keep_words(run[0])
        elif sick and not any(map(is_act, said)):
            run[0].roles = words().phrases["tossed"]


SOUNDS_LIKE_DEEDS: Final = (
    keep_how_long_it_took, keep_poured_off, gather_from_yards, keep_gone_at_sales, throw_out_sick,
)  # fmt: skip
