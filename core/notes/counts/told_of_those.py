"""Which words beside plants, lots and numbers only tell which or how many are meant, and are no deed, day or count.

Rules
1. `trays 3 and 4 rooted, 5 and 6 not`: the numbers before a "not" are of more lots or trays, and count nothing.
2. `the sages I stuck tuesday are wilting`, `lot 9 stuck in may is rooted, 20 of 36`: who did it and when tells which
   plants, and is not done anew.
3. `the salvia from july 30 has roots`: a day after "from" is that of the plants, not of what is told of them.
4. `sold 14 gallons at 12 each`: what each cost.
5. `trimmed roots on 6 toyon`: roots that something was done to are no finding.
6. `all trays on bench A are weaned`: those of one place are not all that there are.
7. `warm 60 days then cold 90`: a length without its unit.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.act_kinds import OPENING
from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_statement, deed_of, is_end, keep_words, one_piece, said_in, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_NOT: Final = small_words("told_of_those", "denying")
_BEING: Final = small_words("told_of_those", "being")
_STANDING: Final = small_words("told_of_those", "standing")
_DOERS: Final = small_words("told_of_those", "doers")
_THOSE: Final = small_words("told_of_those", "those")
_OPENING: Final = OPENING | {"pot", "plant_out"}
_BE: Final = small_words("told_of_those", "be")
_EACH: Final = small_words("told_of_those", "each")
_PRICED: Final = frozenset({"at", "@", "for"})
_ON: Final = frozenset({"on", "along", "under"})
_UNTIL: Final = frozenset({"to", "till", "til", "until", "thru", "through", "-", "on", "onward", "onwards"})


@looks_for(any_of=_NOT, beside=("=lots", "=trays"))
def name_others_denied(pieces: list[Piece]) -> None:
    """Makes `5 and 6 not`, after a state of other lots or trays, the names of more of them, in place."""
    for at in range(len(pieces) - 1, 3, -1):
        if at >= len(pieces) or pieces[at].low not in _NOT or not is_end(pieces, at + 1):
            continue
        end = at - (pieces[at - 1].low in _BEING)
        start = begin_of_statement(pieces, at)
        named = [piece for piece in pieces[start:end] if piece.kind == "number"]
        listed = all(piece.kind == "number" or piece.low in ("and", "&") for piece in pieces[start:end])
        subject = _told_before(pieces, start - 1) if listed and len(named) > 1 else None
        if subject is None or not all(piece.low.isdigit() for piece in named):
            continue
        names = tuple(piece.low for piece in named)
        if set(names).isdisjoint(subject.value):
            run = pieces[start:end]
            pieces[start:end] = [Piece(subject.kind, names, run[0].first, run[-1].last, said_in(run))]


def _says_little(piece: Piece) -> bool:
    return piece.kind == "moment" or "filler" in piece.roles


def _told_before(pieces: list[Piece], end: int) -> Piece | None:
    """The lots or trays of a statement that ends before a place and tells no more than their state."""
    said = pieces[begin_of_statement(pieces, end) : end]
    told = [piece for piece in said if not _says_little(piece)]
    if len(told) != 2 or told[0].kind not in SUBJECTS:
        return None
    word = deed_of(told[1])
    digits = all(name.isdigit() for name in told[0].value)
    return told[0] if digits and word is not None and word.act == "check" else None


@looks_for(any_of=_THOSE, beside=("=moment",))
def keep_which_were_done(pieces: list[Piece]) -> None:
    """Keeps `I stuck tuesday` after plants of which something else is told, in place."""
    for at in range(len(pieces) - 1, 2, -1):
        if at >= len(pieces):
            continue
        word = deed_of(pieces[at - 1])
        if word is None or word.form != "done" or word.act not in _OPENING or not _is_past_day(pieces[at]):
            continue
        said_who = pieces[at - 2].low in _DOERS
        start = at - 1 - said_who
        those = start - 1 - ("what" in pieces[start - 1].roles)
        if those < 1 or "plant" not in pieces[those].roles or pieces[those - 1].low not in _THOSE:
            continue
        before = pieces[begin_of_statement(pieces, at) : those - 1]
        done = said_who and any(map(is_act, before))
        opens = all(map(_says_little, before)) or before[-1].low == "of"
        if done or (opens and (_tells_more(pieces, at + 1) if said_who else _fares(pieces, at + 1))):
            run = pieces[start : at + 1]
            pieces[start : at + 1] = [one_piece(run, "compared")]


@looks_for("!stick", "!sow", beside=_BE)
def keep_when_stuck(pieces: list[Piece]) -> None:
    """`the sages Mei stuck monday are callused, 12 of 36`: which plants are meant, in place."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        at = next((place for place, piece in enumerate(said) if _was_stuck(piece)), None)
        be = next((place for place, piece in enumerate(said) if piece.low in _BE), None)
        if at is None or be is None or not 0 < be - at <= 2 or be + 1 >= len(said):
            continue
        led = any("plant" in piece.roles or piece.kind in ("lots", "trays") for piece in said[:at])
        state = said[be + 1].roles.get("act") or said[be + 1].roles.get("noun")
        dated = said[at + 1].kind == "moment" or "month" in said[at + 1].roles
        uncounted = not any(piece.kind in COUNTS for piece in said[:be])
        if led and dated and uncounted and isinstance(state, ActWord) and state.act not in ("stick", "sow"):
            led_by = said[at - 1].kind == "word"
            keep_words(*said[at - led_by : be])


def _was_stuck(piece: Piece) -> bool:
    word = deed_of(piece)
    return word is not None and word.act in ("stick", "sow")


def _fares(pieces: list[Piece], at: int) -> bool:
    """Whether what became of plants is told at a place."""
    word = deed_of(pieces[at]) if at < len(pieces) else None
    return word is not None and word.act in ("lose", "wilt", "check")


@looks_for("from", beside=("=moment",))
def keep_days_of_plants(pieces: list[Piece]) -> None:
    """Keeps the day of `salvia from july 30`, where something is told of those plants after it, in place."""
    for at in range(len(pieces) - 3, 0, -1):
        plants, lead, day = pieces[at - 1 : at + 2]
        if lead.low != "from" or not _is_past_day(day) or pieces[at + 2].low in _UNTIL:
            continue
        opens = all(map(_says_little, pieces[begin_of_statement(pieces, at) : at - 1]))
        if opens and not plants.roles.keys().isdisjoint(("plant", "what")) and _tells_more(pieces, at + 2):
            keep_words(lead, day)


def _is_past_day(piece: Piece) -> bool:
    return piece.kind == "moment" and piece.value.names_day and piece.value.hour is None and not piece.value.is_to_come


def _tells_more(pieces: list[Piece], at: int) -> bool:
    """Whether something is told at a place of plants that were named before it."""
    if is_end(pieces, at):
        return False
    return is_act(pieces[at]) or pieces[at].low in _BEING or pieces[at].low.split(" ")[0] in _STANDING


@looks_for(any_of=_EACH, beside=("!sell",))
def keep_prices_of_each(pieces: list[Piece]) -> None:
    """Keeps `at 12 each` after how many were sold, in place."""
    for at in range(len(pieces) - 1, 2, -1):
        lead, number = pieces[at - 2 : at]
        if pieces[at].low not in _EACH or lead.low not in _PRICED or number.kind != "number":
            continue
        words = [word for piece in pieces[: at - 2] if (word := deed_of(piece)) is not None]
        said = pieces[begin_of_statement(pieces, at) : at - 2]
        counted = any(piece.kind == "amount" or "container" in piece.roles for piece in said)
        if counted and words and words[-1].act == "sell":
            keep_words(lead, number, pieces[at])


@looks_for("roots on", beside=("!tend", "~rinsed"))
def keep_roots_tended(pieces: list[Piece]) -> None:
    """Keeps the roots of `trimmed roots on 6 toyon`, in place."""
    for at in range(1, len(pieces)):
        before = pieces[at - 2] if at > 1 and pieces[at - 1].low in ("the", "some") else pieces[at - 1]
        word = before.roles.get("act") or before.roles.get("shared")
        if pieces[at].low != "roots on" or word is None:
            continue
        if word.rule == "rinsed" or (word.act == "tend" and word.says.get("care") != "feed"):
            keep_words(pieces[at])


@looks_for("all trays", "all the trays", "all lots", "all the lots", "all flats", beside=("@place_word",))
def keep_all_of_a_place(pieces: list[Piece]) -> None:
    """Keeps `all trays on bench A`, which are not all trays, in place."""
    for at in range(len(pieces) - 3, -1, -1):
        if at + 2 >= len(pieces):
            continue
        every, lead = pieces[at : at + 2]
        if every.kind not in SUBJECTS or every.value != ("all",) or lead.low not in _ON:
            continue
        place = at + 2 + (pieces[at + 2].low in _THOSE)
        if place < len(pieces) and "place_word" in pieces[place].roles:
            letter = place + 1 < len(pieces) and len(pieces[place + 1].low) == 1
            run = pieces[at : place + 1 + letter]
            pieces[at : at + len(run)] = [one_piece(run)]


@looks_for("cold", "warm", beside=("=duration",))
def keep_days_of_chill(pieces: list[Piece]) -> None:
    """Keeps `then cold 90`, which is so many days to come, after how long something else took, in place."""
    for at in range(2, len(pieces) - 1):
        then, chill, number = pieces[at - 1 : at + 2]
        if then.low != "then" or chill.low not in ("cold", "warm") or number.kind != "number":
            continue
        alone = at + 2 < len(pieces) and pieces[at + 2].low == "for"
        if alone and any(piece.kind == "duration" for piece in pieces[: at - 1]):
            keep_words(then, chill, number)


TELL_OF_THOSE: Final = (
    name_others_denied, keep_which_were_done, keep_days_of_plants, keep_prices_of_each, keep_roots_tended,
    keep_all_of_a_place, keep_days_of_chill,
)  # fmt: skip
"""Keep what only tells which or how many are meant out of deeds, days and counts, in place."""
