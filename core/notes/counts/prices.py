"""Which numbers at a sale count no plants: `sold 12 toyon @ 8`, `paid 60`, `price lot 9 at 12`, `sold out by 10`.

A price may look like an hour: what follows right after what was sold is kept as words, and so is what somebody paid.
"""

from __future__ import annotations

import re
from typing import Final

from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece
from core.notes.words.said import begin_of_sentence, begin_of_statement, deed_of, is_end, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_PAYING: Final = small_words("prices", "paying")
_EARNING: Final = small_words("prices", "earning")
_PRICING: Final = small_words("prices", "pricing")
_BY: Final = small_words("prices", "by")
_SOLD_OUT: Final = frozenset({"sold out", "sold out of", "all sold out"})
_GONE: Final = frozenset({"gone", "all gone"})
_BARE_HOUR: Final = re.compile(r"(at|@) \d{1,2}")
_WRITTEN_HOUR: Final = re.compile(r"(0?[6-9]|1\d)[0-5]\d")
_SOLD: Final = frozenset({"plant", "container", "pot_size", "what"})


@looks_for(any_of=_PAYING, beside=("=number",))
def keep_payments(pieces: list[Piece]) -> None:
    """`reserved 12 of lot 9 for mara, paid 60`: money, in place."""
    for at in range(len(pieces) - 1):
        if pieces[at].low in _PAYING and pieces[at + 1].kind == "number":
            keep_words(*pieces[at : at + 2])


@looks_for(any_of=_EARNING, beside=("!sell",))
def keep_takings(pieces: list[Piece]) -> None:
    """`sold 8 sage, made 60`: what a sale brought, in place."""
    sold = False
    for at in range(1, len(pieces) - 1):
        word = deed_of(pieces[at])
        earned = sold and pieces[at].low in _EARNING and pieces[at - 1].kind == "break"
        if earned and pieces[at + 1].kind == "number" and is_end(pieces, at + 2):
            keep_words(*pieces[at : at + 2])
        sold = word.act == "sell" if word is not None else sold or _sells(pieces[at - 1])


def _sells(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act == "sell"


@looks_for("for", beside=("!sell",))
def keep_sums(pieces: list[Piece]) -> None:
    """`sold lot 4 for 40`, `her boat sold for 2000`: what was got for it, in place."""
    for at in range(1, len(pieces)):
        number, lead = pieces[at], pieces[at - 1]
        if number.kind != "number" or lead.low != "for" or not is_end(pieces, at + 1):
            continue
        if any(map(_sells, pieces[begin_of_statement(pieces, at) : at])):
            keep_words(lead, number)


@looks_for("=moment", beside=("!sell", *_PRICING))
def keep_prices(pieces: list[Piece]) -> None:
    """`sold 12 toyon @ 8 and 6 sage @ 6`, `price lot 9 at 12`: a price perhaps, and no hour for certain, in place."""
    for at in range(1, len(pieces)):
        if pieces[at].kind != "moment" or not _BARE_HOUR.fullmatch(pieces[at].low):
            continue
        start = begin_of_sentence(pieces, at)
        said = pieces[start:at]
        priced = any(piece.low in _PRICING for piece in pieces[begin_of_statement(pieces, at) : at])
        deeds = [word for piece in said if (word := deed_of(piece)) is not None]
        sold = bool(deeds) and deeds[-1].act == "sell" and _is_sold(pieces[at - 1])
        if priced or sold:
            keep_words(pieces[at])


def _is_sold(piece: Piece) -> bool:
    """Whether a piece is what was sold, or how many of it."""
    return piece.kind in ("number", "size", "amount", "quote", *SUBJECTS) or not _SOLD.isdisjoint(piece.roles)


@looks_for("sold out", "sold out of", "all sold out", beside=("=number",))
def tell_sold_out(pieces: list[Piece]) -> None:
    """`sold out of sage by 10`, `sold out of sage 1020`: by which hour; `sold out sage, 24 gone in an hour`: so many
    were sold, and none died; in place.
    """
    out = next((at for at, piece in enumerate(pieces) if piece.low in _SOLD_OUT), len(pieces))
    for at in range(out + 1, len(pieces)):
        number, after = pieces[at], pieces[at + 1 : at + 2]
        if pieces[at].low in SENTENCE_ENDS:
            return
        if number.kind != "number" or number.value.whole is None:
            continue
        led = pieces[at - 1].low in _BY
        if led or (_WRITTEN_HOUR.fullmatch(number.low) and (not after or after[0].kind == "break")):
            keep_words(*pieces[at - led : at + 1])
        elif after and after[0].low in _GONE:
            after[0].roles = {"act": ActWord(act="sell", counts_before=True)}


KEEP_PRICES: Final = (keep_payments, keep_takings, keep_sums, keep_prices, tell_sold_out)
"""Keep money and the hours of a sale out of counts, in place."""
