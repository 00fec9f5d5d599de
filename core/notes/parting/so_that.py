"""What follows from something: what a deed was for (`so it isnt under the drip`), why none was (`so didnt pot`)."""

from __future__ import annotations

from typing import Final

from core.notes.days.moments import Moment
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import keep_words, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_IT: Final = frozenset({"it", "they", "that", "we", "i", "nobody", "its", "the", "nothing"})
_OUT_TO_HARDEN: Final = small_words("moved_out", "to_harden")
_MODAL: Final = frozenset({"negation", "plan", "hearsay", "none"})


@looks_for("so", "so that")
def keep_so_that(pieces: list[Piece]) -> None:
    """`moved tray 10 over so it isnt under the drip`: what a deed was for; its words up to the next mark are kept.
    `lot 3 was dry so didnt pot it`: one statement.
    """
    for place, piece in enumerate(pieces[:-2]):
        if piece.low == "so" and "negation" in pieces[place + 1].roles and _gives_reason(pieces, place):
            piece.low, piece.roles = "so not", {"filler": True}
            continue
        subject, verb = pieces[place + 1 : place + 3]
        if piece.low not in ("so", "so that") or subject.low not in _IT or verb.roles.keys().isdisjoint(_MODAL):
            continue
        for kept in pieces[place:]:
            if kept.kind == "break":
                break
            keep_words(kept)


@looks_for("!harden", beside=("out", "outside", "!move", "~put"))
def put_out_to_harden(pieces: list[Piece]) -> None:
    """`lots 44-46 out at south steps for 1 hour to harden off`, `moved lot 4 outside to harden off`: what they are out
    for is what was done, in place.
    """
    for start, end in reversed(statements(pieces)):
        said = pieces[start:end]
        ends = len(said) > 2 and said[-2].low == "to" and "to_do" in said[-1].roles
        if not ends or said[-1].roles["to_do"].act != "harden" or any(_is_unsure(piece) for piece in said):
            continue
        deeds = [piece for piece in said if is_act(piece)]
        moved = [piece for piece in deeds if _moves(piece)]
        moved = moved if moved == deeds and not any(piece.low == "to" for piece in said[:-2]) else []
        harden = ActWord(act="harden")
        if moved:
            moved[0].roles = {"act": harden}
            del pieces[end - 2 : end]
        elif not deeds and _is_out(said):
            first, last = said[-2].first, said[-1].last
            pieces[end - 2 : end] = [Piece("phrase", None, first, last, f"to {said[-1].low}", {"act": harden})]


@looks_for(any_of=_OUT_TO_HARDEN, beside=("!move",))
def moved_out_for_a_while(pieces: list[Piece]) -> None:
    """`moved lot 14 out for the day`, `moved tray 3 out to harden`: hardening, and no move to a place."""
    for start, end in statements(pieces):
        deeds = [piece for piece in pieces[start:end] if is_act(piece)]
        if len(deeds) == 2 and _moves(deeds[0]) and deeds[1].low in _OUT_TO_HARDEN:
            deeds[0].roles = {"filler": True}


@looks_for("being", "is being", "are being", beside=("!sanitize",))
def keep_being_cleaned(pieces: list[Piece]) -> None:
    """`took lot 4 out, fridge is being cleaned`: somebody is at it still, and nothing was cleaned yet; kept."""
    for at, piece in enumerate(pieces[1:], 1):
        word = piece.roles.get("act")
        if word is not None and word.act == "sanitize" and pieces[at - 1].low.split(" ")[-1] == "being":
            keep_words(piece)


def _moves(piece: Piece) -> bool:
    """`moved`, `put`, `set`, `took`."""
    word = piece.roles.get("act")
    shared = piece.roles.get("shared")
    return (word is not None and word.act == "move") or (shared is not None and shared.rule in ("put", "took"))


def _is_unsure(piece: Piece) -> bool:
    return not piece.roles.keys().isdisjoint(_MODAL)


def _is_out(said: list[Piece]) -> bool:
    """`lot 4 out`, `lot 4 is outside`, and no day that may be to come."""
    told = [piece for piece in said if piece.kind != "moment"]
    ahead = any(piece.kind == "moment" and not _is_over(piece.value) for piece in said)
    if told[0].kind not in SUBJECTS or ahead or any("weekday" in piece.roles for piece in said):
        return False
    return told[1 + (told[1].low in ("is", "are"))].low in ("out", "outside")


def _is_over(moment: Moment) -> bool:
    """Today or a day before, and no weekday, which may be to come."""
    return moment.days is not None and moment.days <= 0


def _gives_reason(pieces: list[Piece], place: int) -> bool:
    """`lot 3 was dry | so didnt pot it`: a lot or tray and how it was, with no deed or count, is of the same note."""
    start = next((at for at in range(place, 0, -1) if pieces[at - 1].kind == "break"), 0)
    said = pieces[start:place]
    named = any(piece.kind in SUBJECTS for piece in said[:2])
    return named and not any(is_act(piece) or piece.kind in ("number", "fraction") for piece in said)
