"""A whole and its parts are not counted twice: `stuck 72 toyon, 36 in tray 2 and 36 in tray 3`.

Rules
1. Two or more statements of the same deed that add up to the count before them are told in its stead.
2. A part with a lot or tray of its own that does not add up to the whole is kept beside it.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.counts.listed_counts import EACH
from core.notes.details.drafts import SUBJECTS, Draft
from core.notes.names.place_leads import PLACE_LEADS
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import OPENING
from core.notes.words.numbers import Number
from core.notes.words.pieces import SENTENCE_ENDS, Piece, is_act
from core.notes.words.said import begin_of_statement, comma_before, deed_of, keep_words, pass_over, said_in
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_TOTALLED: Final = OPENING | {"pot", "lose", "sell", "give", "plant_out", "move"}
_APART: Final = (*SUBJECTS, "cutting", "container", "cause", "to", "source", "on")
"""Where a whole tells one of these and what follows tells another, that is no part of it."""
_OF_THEM: Final = small_words("parts_told", "of_them")
_IN_ALL: Final = small_words("parts_told", "in_all")
_WITH_PARTS: Final = 3
"""A total and its parts are so many numbers at least."""
_USUAL_GALLONS: Final = frozenset({1, 2, 3, 5, 7, 10, 15, 25})


def is_part(before: Draft, clause: Clause) -> bool:
    """Whether a clause without a deed counts some of what the deed before it counted, in a lot or tray of its own."""
    if before.part:
        elsewhere = clause.kinds() & {"lots", "trays"} or before.act == "move"
        return bool(elsewhere) and "number" in clause.kinds()
    count = before.held("count")
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    if before.act not in _TOTALLED | {"check"} or count is None or not told or clause.after in ("and", "&"):
        return False
    if clause.has("negation"):
        return False
    named = clause.kinds() & {"lots", "trays"}
    apart = bool(named) and not any(before.held(kind) for kind in named) and not _is_dealt_out(clause, count)
    moved = before.act == "move" and not before.held("to") and len(told) > 1 and told[1].low in PLACE_LEADS["move"]
    return (apart or moved) and told[0].kind == "number" and not clause.has("plant") and _whole(told[0]) < count


def _is_dealt_out(clause: Clause, count: int) -> bool:
    """`stuck 60 toyon, 20 each in trays 1-3`: what each of several holds, which makes up the whole."""
    several = [len(piece.value) for piece in clause.pieces if piece.kind in ("lots", "trays")]
    each = any(piece.low in EACH for piece in clause.pieces)
    return each and len(several) == 1 and several[0] * _whole(clause.pieces[0]) == count


def is_some_of_them(clause: Clause, counted: int | None) -> bool:
    """`3 of them rotted`, `12 of them in 4 in`: some of those counted just before."""
    if counted is None:
        return False
    return any(
        piece.kind == "number"
        and _whole(piece) <= counted
        and (after.low in _OF_THEM or said_in(clause.pieces[at + 1 : at + 3]) in _OF_THEM)
        for at, (piece, after) in enumerate(pairwise(clause.pieces))
    )


def _whole(piece: Piece) -> int:
    return int(piece.value.whole or 0) if piece.kind == "number" else 0


def fold_parts(drafts: list[Draft]) -> None:
    """Tells the parts in the stead of their whole, or keeps those that do not add up, in place."""
    at = 0
    while at < len(drafts):
        parts = _parts_after(drafts, at)
        total = drafts[at].held("count")
        if len(parts) > 1 and sum(part.held("count") for part in parts) == total:
            _hand_on(drafts[at], parts)
            del drafts[at]
            at += len(parts)
            continue
        for part in [part for part in parts if part.part]:
            for clause in part.clauses:
                for piece in clause.pieces:
                    piece.used = False
            drafts[at].clauses.extend(part.clauses)
            drafts.remove(part)
        at += 1


def _parts_after(drafts: list[Draft], at: int) -> list[Draft]:
    """The statements right after a deed that repeat it without its word and tell no other subject, form, pot or place
    than it does.
    """
    whole = drafts[at]
    if whole.act not in _TOTALLED | {"check"} or whole.held("count") is None or whole.part:
        return []
    parts: list[Draft] = []
    for draft in drafts[at + 1 :]:
        told_again = draft.slots is not None and _told_again(whole, draft)
        other = any(whole.held(name) and draft.held(name) not in (None, whole.held(name)) for name in _APART)
        if draft.act != whole.act or not told_again or other or draft.held("count") is None:
            break
        parts.append(draft)
    return parts


def _told_again(whole: Draft, draft: Draft) -> bool:
    """Whether a statement repeats a deed without its word, or blames losses that were counted without a cause."""
    if whole.act == "check":
        return draft.part
    blamed = whole.act == "lose" and not whole.held("cause") and bool(draft.held("cause"))
    return blamed or not any(is_act(piece) for piece in draft.clauses[0].pieces)


def _hand_on(whole: Draft, parts: list[Draft]) -> None:
    """Gives the parts what was told of the whole."""
    if whole.slots is None:
        return
    for part in parts:
        for name, value in whole.slots.values.items():
            if part.slots is not None and name not in ("count", "of", "approx", "count_max", "apiece"):
                part.slots.values.setdefault(name, value)
    parts[0].heads = [*whole.heads, *whole.clauses, *parts[0].heads]
    parts[0].start = min(parts[0].start, whole.start)


@looks_for("=counts", beside=(":", "(", "!split", "=subjects", "=names"))
def keep_totals(pieces: list[Piece]) -> None:
    """`potted 36: 24 from lot 3, 12 from lot 4`, `split 30 of lot 9 into 10 as lot 91 and 20 as lot 92`: a total before
    the counts that make it up counts nothing more, in place.
    """
    if sum([piece.kind == "number" for piece in pieces]) < _WITH_PARTS:
        return
    for at, piece in enumerate(pieces[:-2]):
        word = pieces[at - 1].roles.get("act") if at else None
        after = at + 1
        if word is None and (deed := deed_of(pieces[after])) is not None and deed.act in _TOTALLED:
            # "60 potted today: 24 sage, 36 toyon".
            word, after = deed, after + 1
        looked = word is not None and word.act == "check"
        if word is None or piece.kind != "number" or piece.value.whole is None or word.counts_before or looked:
            continue
        end = at + 1
        while end < len(pieces) and pieces[end].low not in SENTENCE_ENDS:
            end += 1
        colon = after
        while colon < len(pieces) - 1 and _tells_when_or_whole(pieces[colon]):
            colon += 1
        if colon >= len(pieces):
            continue
        headed = pieces[colon].low in (":", "(") or (pieces[colon].low == "," and _of_plants(pieces[colon:end]))
        parts = [_whole(one) for one in pieces[after:end] if one.kind == "number"]
        of_lots = word.act == "split" and any(one.kind == "lots" for one in pieces[at + 1 : end])
        mark = colon + (pieces[colon].kind == "moment")
        if _heads_counts_of_lots(pieces, mark):
            keep_words(piece)
            return
        if (headed or of_lots) and len(parts) > 1 and sum(parts) == piece.value.whole:
            if after > at + 1 or pieces[colon - 1].kind == "moment" or "loose_times" in pieces[colon - 1].roles:
                # "60 potted today: 24 sage, 36 toyon": told by itself, so its words are shown.
                keep_words(piece)
                return
            pass_over(piece)
            return


def _tells_when_or_whole(piece: Piece) -> bool:
    """`lost 12 | this week | : 8 currant`, `potted 36 | total | :`."""
    return piece.low in _IN_ALL or piece.kind == "moment" or "loose_times" in piece.roles


def _of_plants(said: list[Piece]) -> bool:
    """`, 4 coyote brush, 5 sage`: counts, each of a plant of its own."""
    counted = [after for piece, after in pairwise(said) if piece.kind == "number"]
    return len(counted) > 1 and all("plant" in piece.roles for piece in counted)


def _heads_counts_of_lots(pieces: list[Piece], at: int) -> bool:
    """`sold 60 | ! lot 30 20, lot 31 40`: lots each with its count, after a mark."""
    if at >= len(pieces) or pieces[at].kind != "break" or pieces[at].low == ":":
        return False
    counted = 0
    while at < len(pieces):
        while at < len(pieces) and (pieces[at].kind == "break" or pieces[at].low in ("and", "&")):
            at += 1
        number = at + 1 + (at + 1 < len(pieces) and pieces[at + 1].low == ":")
        if number >= len(pieces) or pieces[at].kind not in SUBJECTS or pieces[number].kind != "number":
            break
        counted += 1
        at = number + 1
        if at < len(pieces) and pieces[at].kind != "break" and pieces[at].low not in ("and", "&"):
            return False
    return counted > 1


@looks_for("(", beside=("=subjects",))
def keep_bracketed_parts(pieces: list[Piece]) -> None:
    """`21 rooted (tray 5 12, tray 6 9)`: what a count is made up of, in brackets after it, is kept, in place."""
    opens = next((at for at, piece in enumerate(pieces) if piece.low == "("), len(pieces))
    closes = next((at for at in range(opens, len(pieces)) if pieces[at].low == ")"), opens)
    told = [piece for piece in pieces[opens + 1 : closes] if piece.kind != "break" and "filler" not in piece.roles]
    parts = [_whole(piece) for piece in told if piece.kind == "number"]
    plain = all(piece.kind in ("number", "lots", "trays") for piece in told) and len(told) == 2 * len(parts)
    wholes = [_whole(piece) for piece in pieces[:opens] if piece.kind == "number"]
    if plain and len(parts) > 1 and sum(parts) in wholes:
        for piece in pieces[opens + 1 : closes]:
            if piece.kind != "break":
                keep_words(piece)


@looks_for("@cause", beside=("!lose",))
def part_causes(pieces: list[Piece]) -> None:
    """`10 dead tray 3 rot 6 gnats 4`: commas before what each cause took, where that makes up the whole; else it is
    kept, in place.
    """
    for at in range(len(pieces)):
        end = at
        while end + 1 < len(pieces) and _blames(pieces[end]) and _whole(pieces[end + 1]):
            end += 2
        if end == at:
            continue
        start = begin_of_statement(pieces, at)
        counts = [_whole(one) for one in pieces[start:at] if _whole(one)]
        closes = end == len(pieces) or pieces[end].kind == "break"
        lost = any("act" in one.roles and one.roles["act"].act == "lose" for one in pieces[start:at])
        if not closes or not lost or len(counts) != 1:
            continue
        parts = pieces[at:end]
        if sum(_whole(one) for one in parts) == counts[0] and len(parts) > 2:
            for step in range(end - 2, at - 1, -2):
                pieces.insert(step, comma_before(pieces[step]))
        else:
            keep_words(*parts)
        return


def _blames(piece: Piece) -> bool:
    return "cause" in piece.roles and not is_act(piece)


def _may_count_gallons(amount: Piece) -> bool:
    """The `11 gal` of so many pots of a gallon; five gallons are a pot, too."""
    return amount.value[1] == "gal" and amount.value[0] not in _USUAL_GALLONS


@looks_for("=amount")
def find_gallons(pieces: list[Piece]) -> None:
    """`potted 31: 20 4in, 11 gal`: eleven in a gallon each, where that makes up the whole, in place."""
    if not any(piece.kind == "amount" and _may_count_gallons(piece) for piece in pieces):
        return
    deed = next((at for at, piece in enumerate(pieces) if _pots(piece)), None)
    end = next((at for at, piece in enumerate(pieces) if piece.low in SENTENCE_ENDS), len(pieces))
    numbers = [piece for piece in pieces[:end] if piece.kind == "number" and piece.value.whole is not None]
    if deed is None or not numbers:
        return
    parts = sum(_whole(piece) for piece in numbers[1:])
    for at, piece in enumerate(pieces[:end]):
        if piece.kind != "amount" or not _may_count_gallons(piece) or not at:
            continue
        count = int(piece.value[0])
        alike = at > 2 and pieces[at - 2].kind == "size" and pieces[at - 3].kind == "number"
        if pieces[at - 1].kind in ("break", "size") and (alike or count + parts == _whole(numbers[0])):
            if pieces[at - 1].kind == "size":
                pieces.insert(at, comma_before(piece))
                at += 1
            one = Piece("number", Number(count), piece.first, piece.first + 1, str(count))
            pieces[at : at + 1] = [one, Piece("amount", (1, "gal", None), piece.first + 1, piece.last, "gal")]
            return


def _pots(piece: Piece) -> bool:
    word = piece.roles.get("act")
    return word is not None and word.act == "pot"
