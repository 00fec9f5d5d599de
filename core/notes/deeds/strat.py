"""What is told of chilling, warming and soaking seed: where it begins and ends, how long it lasts, and where it is only
said in passing.

Rules
1. `from cold strat`, `from warm to cold`, `stopped the cold treatment`: an end, and what begins then.
2. A length with `early`, `left`, `of 60 days` is no length of the treatment; what is stored dry is not treated.
3. Where seed came up (`on the mat`, `in the fridge`) is no treatment that begins.
"""

from __future__ import annotations

from typing import Final

from core.lengths import Length
from core.notes.days.moments import Moment
from core.notes.deeds.kept_cool import stands_cool
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import begin_of_sentence, comma_before, keep_words, pass_over, sentences
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

COLD_OR_WARM: Final = {
    "the cold": "cold_stratify",
    "cold": "cold_stratify",
    "the warm": "warm_stratify",
    "warm": "warm_stratify",
}
_STRATS: Final = frozenset({"cold_stratify", "warm_stratify"})
_OVER: Final = small_words("strat", "done")
_NAMED_OR_DATED: Final = SUBJECTS | {"moment"}
_TAKING: Final = small_words("strat", "taking")
_STOPPING: Final = small_words("strat", "stopping")
_BEGINNING: Final = frozenset({"started", "began"})
_NOT_ALL: Final = small_words("strat", "not_all")
_TO_COME: Final = small_words("strat", "to_come")
_HOW_FAR: Final = small_words("strat", "how_far")
_SINCE: Final = small_words("strat", "since")
_STORING: Final = small_words("strat", "storing")
_FAILING: Final = small_words("strat", "failing")
_POURED_IN: Final = small_words("strat", "poured_in")
_STAYING: Final = small_words("strat", "staying")
_TO_COOL: Final = small_words("strat", "to_cool")
_FOLLOWED: Final = frozenset({"followed"})
_FOLLOWING: Final = small_words("strat", "following")
_THEN: Final = small_words("strat", "then")
_PAST: Final = small_words("strat", "past")
_STRUCTURES: Final = small_words("places", "structures")
_FRIDGES: Final = frozenset({"fridge", "the fridge", "cooler"})
_BEING: Final = small_words("covers", "being")
_STATES: Final = frozenset({"germinated", "rooted", "callused", "roots_out"})


@looks_for("!treat", any_of=(*COLD_OR_WARM, *_STAYING, *_STORING))
def _settle_strat(pieces: list[Piece]) -> None:
    """Marks what begins and ends, and keeps what is only said in passing, in place."""
    for said in _spans(pieces):
        treated = any(_treats(piece) is not None for piece in said)
        chilled = any(strat_of(piece) or piece.low in COLD_OR_WARM for piece in said)
        if chilled and (_tells_storage(said) or _tells_what_is_left(said) or _tells_how_far(said)):
            _quiet(said)
            continue
        if treated:
            _keep_failures(said)
            _keep_lengths(said)
        _keep_where_it_grew(said)
        if chilled:
            _find_ends(said)
            if any(_is_seed(piece) for piece in pieces[: pieces.index(said[-1]) + 1]):
                _find_starts(said)
        if treated:
            _find_hot_bath(said)
        if chilled:
            _find_moves_into_cold(said)


@looks_for(any_of=_FOLLOWING, beside=("!treat", "~soaked"))
def _part_what_follows(pieces: list[Piece]) -> None:
    """`2 months warm followed by 3 months cold`: two treatments, as with "then", in place."""
    for place in range(len(pieces) - 1, 0, -1):
        end = place + 1 + (pieces[place].low in _FOLLOWED and pieces[place + 1 : place + 2] != [])
        words = " ".join(piece.low for piece in pieces[place:end])
        if words not in _FOLLOWING or not any(_treats(one) is not None or _soaks(one) for one in pieces[:place]):
            continue
        then = Piece("phrase", None, pieces[place].first, pieces[end - 1].last, "then", {"filler": True})
        then.used = True
        comma = [] if pieces[place - 1].kind == "break" else [comma_before(then)]
        pieces[place:end] = [*comma, then]


@looks_for(any_of=_THEN | _FOLLOWING, beside=("=duration",))
def _keep_what_follows(pieces: list[Piece]) -> None:
    """`30 days in the fridge, then 2 weeks on the heat mat`: what is to come after so many days has not begun."""
    for start, end in sentences(pieces):
        said = pieces[start:end]
        then = next((place for place, piece in enumerate(said) if piece.low in _THEN), 0)
        before, after = said[:then], said[then + 1 :]
        timed = any(piece.kind == "duration" for piece in before) and any(strat_of(piece) for piece in before)
        words = [word for word in map(_treats, after) if word is not None]
        if not timed or any(piece.low in _PAST for piece in before) or not words:
            continue
        treatments = [word.says.get("treatment") for word in words if word.form != "done" or _is_mat(word)]
        if len(treatments) == len(words) and not _STRATS & set(treatments):
            keep_words(*after)


def _is_mat(word: ActWord) -> bool:
    return word.says.get("treatment") == "heat"


def _soaks(piece: Piece) -> bool:
    word = piece.roles.get("shared")
    return word is not None and word.rule == "soaked"


@looks_for("from", beside=("today",))
def _begin_today(pieces: list[Piece]) -> None:
    """`cold strat 12 wks from today`: how long, and the day that it begins on, in place."""
    for at in range(len(pieces) - 1, 0, -1):
        piece = pieces[at]
        lead = piece.low.removesuffix(" from today") if piece.kind == "moment" else piece.low
        before = at - 1 - (at > 1 and pieces[at - 1].low == "for")
        chilled = lead != piece.low and strat_of(pieces[before]) and "done" not in pieces[before].low
        if chilled and piece.value.shift > 0 and piece.value.days == 0:
            length = Piece("duration", (Length(days=piece.value.shift), None), piece.first, piece.last - 1, lead)
            pieces[at : at + 1] = [length, Piece("moment", Moment(days=0), piece.last - 1, piece.last, "today")]


def _spans(pieces: list[Piece]) -> list[list[Piece]]:
    """The pieces between marks."""
    spans: list[list[Piece]] = [[]]
    for piece in pieces:
        if piece.kind == "break" and piece.low not in ("&", "+", "/"):
            spans.append([])
        else:
            spans[-1].append(piece)
    return [span for span in spans if span]


def _treats(piece: Piece) -> ActWord | None:
    """The treatment that a noun or a verb at a place is, or None."""
    roles = piece.roles
    word = (roles.get("act") or roles.get("noun")) if roles else None
    return word if word is not None and word.act == "treat" else None


def strat_of(piece: Piece) -> str:
    word = _treats(piece)
    treatment = word.says.get("treatment", "") if word is not None else ""
    return treatment if treatment in _STRATS else ""


def _quiet(said: list[Piece]) -> None:
    """Takes every treatment and length out of a statement that tells of none."""
    for piece in said:
        if _treats(piece) is not None or piece.kind in ("duration", "number") or piece.low in _TO_COME:
            keep_words(piece)


def _tells_storage(said: list[Piece]) -> bool:
    """`lot 50 dry stored in the fridge w silica`."""
    return any(piece.low in _STORING for piece in said) and any(strat_of(piece) for piece in said)


def _tells_what_is_left(said: list[Piece]) -> bool:
    """`40 d of cold left on lot 51`: how long it has still to go."""
    return (
        any(piece.kind == "duration" for piece in said)
        and any(piece.low in _TO_COME and piece.kind in ("word", "phrase") for piece in said)
        and any(strat_of(piece) for piece in said)
    )


def _tells_how_far(said: list[Piece]) -> bool:
    """`lot 40 halfway thru strat`, `30 more days of cold for lot 40`, `extended lot 40 strat by 2 weeks`."""
    more = any(piece.kind == "duration" and " more " in f" {piece.low} " for piece in said)
    return (more or any(piece.low in _HOW_FAR for piece in said)) and any(strat_of(piece) for piece in said)


def _keep_failures(said: list[Piece]) -> None:
    """`heat mat was off all night`: how a thing was, and no treatment of plants."""
    for place, piece in enumerate(said[:-2]):
        if said[place + 1].low not in _BEING or said[place + 2].low not in _FAILING or _treats(piece) is None:
            continue
        if not any(one.kind in ("lots", "trays") for one in said):
            keep_words(*said[place:])
            return


def _keep_lengths(said: list[Piece]) -> None:
    """`3 days early`, `60 days too long`: lengths that are not how long a treatment lasts."""
    for place, piece in enumerate(said):
        if piece.kind != "duration":
            continue
        after = said[place + 1] if place + 1 < len(said) else None
        if place and said[place - 1].kind == "times" and piece.low.startswith("a "):
            # "rinse 3x a day".
            keep_words(said[place - 1], piece)
        elif after is not None and _is_not_all(said, place + 1):
            keep_words(piece, after)
        elif any(one.low in _SINCE for one in said) and any(map(strat_of, said)):
            keep_words(piece)


def _is_not_all(said: list[Piece], at: int) -> bool:
    """The `early` of `3 days early`, the `in` of `30 days in`; not that of `24h in water`, `30 min in smoke`."""
    word = _treats(said[at + 1]) if at + 1 < len(said) else None
    closes = at + 1 == len(said) or said[at + 1].kind not in ("word", "phrase") or said[at + 1].low == "the"
    chills = word is not None and word.says.get("treatment") in _STRATS
    return said[at].low in _NOT_ALL and (said[at].low != "in" or closes or chills)


def _keep_where_it_grew(said: list[Piece]) -> None:
    """`toyon sprouting in the fridge`, `no germ after 30 days on the mat`: where and after how long it came up."""
    state = next((place for place, piece in enumerate(said) if _tells_state(piece)), None)
    if state is None:
        return
    place = state + 1
    after = next((at for at, piece in enumerate(said[:-1]) if at > state and piece.low == "after"), 0)
    if after and said[after + 1].kind == "duration":
        keep_words(said[after], said[after + 1], *(one for one in said[after + 2 :] if _treats(one) is not None))
        return
    for piece in said[place : place + 1]:
        word = _treats(piece)
        if word is not None and piece.low.split(" ")[0] in ("in", "on") and not word.says.get("ends"):
            keep_words(piece)


def _tells_state(piece: Piece) -> bool:
    roles = piece.roles
    word = (roles.get("act") or roles.get("noun")) if roles else None
    if word is not None and word.act == "lose" and word.counts_before:
        return True
    return word is not None and word.act == "check" and word.says.get("state") in _STATES


def _find_ends(said: list[Piece]) -> None:
    """`pulled lot 51 from cold strat`, `moved lot 36 from warm to cold strat`, `end of strat`."""
    for place, piece in enumerate(said):
        lead = said[place - 1] if place else None
        treatment = strat_of(piece) or COLD_OR_WARM.get(piece.low, "")
        if not treatment:
            continue
        if _is_over(said, place):
            _end(piece, treatment, *(one for one in said[place + 1 : place + 3] if one.low in _OVER))
            return
        if lead is None or (place + 1 < len(said) and said[place + 1].low in _STRUCTURES):
            continue
        inside = place > 1 and said[place - 2].low == "in"
        if lead.low == "from" and not inside and any(one.low in _TAKING for one in said[:place]):
            _end(piece, treatment, lead, *(one for one in said[:place] if one.low in _TAKING))
            _begin_next(said[place + 1 :])
            return
        if not strat_of(piece) and piece.low != "the cold":
            continue
        stops = place - 1 - (lead.low in ("the", "its", "of") and place > 1)
        stops -= said[stops].low == "of" and stops > 0
        if said[stops].low in _STOPPING and "act" not in piece.roles:
            _end(piece, treatment, *said[stops:place])
            return


def _end(piece: Piece, treatment: str, *spent: Piece) -> None:
    piece.kind, piece.roles = "phrase", {"act": ActWord(act="treat", says={"treatment": treatment, "ends": True})}
    for one in spent:
        one.roles, one.used = {"filler": True}, True


def _is_over(said: list[Piece], place: int) -> bool:
    """`strat over for lot 40`, `stratification done lot 40`."""
    if place + 1 < len(said) and said[place + 1].low not in (*_OVER, "is", "was", "now"):
        return False
    after = [piece for piece in said[place + 1 : place + 4] if piece.low not in ("is", "was", "now")]
    over = bool(after) and after[0].low in _OVER and not any(piece.kind == "duration" for piece in said)
    if not over or len(after) < 2:
        return over
    named = after[2:] == [] or after[2].kind in SUBJECTS or "plant" in after[2].roles
    leads = after[1].low in ("on", "in") and named
    return leads or after[1].low in ("for", "now") or after[1].kind in _NAMED_OR_DATED


def _begin_next(after: list[Piece]) -> None:
    """The `to cold strat` of `from warm to cold strat`."""
    if len(after) > 2 and after[1].low == "the":
        after[1].used = True
        after = [after[0], *after[2:]]
    if len(after) > 1 and after[0].low in ("to", "into") and strat_of(after[1]):
        says = {"treatment": strat_of(after[1])}
        after[0].roles, after[0].used = {"filler": True}, True
        after[1].roles = {"act": ActWord(act="treat", says=says)}
    elif after and after[0].low.split(" ")[0] in ("to", "into") and strat_of(after[0]):
        return


def _find_starts(said: list[Piece]) -> None:
    """`ended warm strat on lot 96 and | started cold`, `lot 4 cold ended, | started the warm`: what begins."""
    for place, piece in enumerate(said):
        if not place or piece.low not in COLD_OR_WARM:
            continue
        began = said[place - 1 - (place > 1 and said[place - 1].low == "the")]
        if began.low in _BEGINNING:
            says = {"treatment": COLD_OR_WARM[piece.low]}
            piece.kind, piece.roles = "phrase", {"act": ActWord(act="treat", says=says)}
            began.roles, began.used = {"filler": True}, True


def _is_seed(piece: Piece) -> bool:
    """Whether a piece may name what is chilled: a lot, a plant, or a treatment of it."""
    strat = strat_of(piece) and piece.low not in COLD_OR_WARM
    return names_plants(piece) or bool(strat)


def _find_hot_bath(said: list[Piece]) -> None:
    """`dropped lot 47 in boiling water`: poured over or put in, and nothing lost."""
    bath = next((place for place, piece in enumerate(said) if _is_hot_bath(piece)), None)
    if not bath or said[bath - 1].low not in ("in", "into", "with", "w", "w/", "on", "over"):
        return
    for piece in said[:bath]:
        if piece.low in _POURED_IN:
            piece.roles, piece.used = {"filler": True}, True


def _find_moves_into_cold(said: list[Piece]) -> None:
    """`moved lot 3 to the fridge`: the chill begins, and nothing else; plants that only stand there were moved."""
    cold = next((place for place, piece in enumerate(said) if _begins_cold(piece)), 0)
    for piece in said[:cold]:
        word = piece.roles.get("act")
        if word is None or word.act != "move":
            continue
        if stands_cool(said, cold):
            piece.roles = {"act": ActWord(act="move", says={"to": said[cold].low.split(" ")[-1]})}
            said[cold].roles, said[cold].used = {"filler": True}, True
            return
        piece.roles, piece.used = {"filler": True}, True


def _begins_cold(piece: Piece) -> bool:
    word = piece.roles.get("act")
    cold = word is not None and word.says.get("treatment") == "cold_stratify"
    return cold and piece.low.split(" ")[0] in ("to", "into", "out")


@looks_for(any_of=_STAYING, beside=("=duration",))
def _spend_left(pieces: list[Piece]) -> None:
    """`boiling water on the seed, left overnight`: how long it stayed so."""
    for place, piece in enumerate(pieces[:-1]):
        end = place + 1
        while end < len(pieces) and pieces[end].low in _TO_COOL:
            end += 1
        stays = piece.low in _STAYING and end < len(pieces) and pieces[end].kind == "duration"
        cools = end > place + 1 and any(one.low == "water" for one in pieces[:place])
        if stays and (cools or any(_treats(one) is not None or _soaks(one) for one in pieces[:place])):
            pass_over(*pieces[place:end])


def _is_hot_bath(piece: Piece) -> bool:
    word = _treats(piece)
    return word is not None and word.form == "noun" and word.says.get("treatment") in ("hot_water", "acid", "soak")


@looks_for(any_of=_FRIDGES)
def _find_fridge_days(pieces: list[Piece]) -> None:
    """`lot 21 fridge 11/1, 12 wks`: a lot, the fridge, and how long; `bagged lot 22 in moist verm, fridge`."""
    for place, piece in enumerate(pieces):
        if piece.low not in _FRIDGES or "noun" not in piece.roles or not place:
            continue
        if place + 1 < len(pieces) and pieces[place + 1].kind == "number" and any(map(strat_of, pieces[:place])):
            # "into cold, 12 wks, fridge 2" names which fridge.
            keep_words(piece, pieces[place + 1])
            continue
        before, after = pieces[place - 1], pieces[place + 1 : place + 5]
        timed = any(one.kind == "duration" for one in after) and not any(one.low in SENTENCE_ENDS for one in after)
        named = before.kind in ("lots", "trays") or "plant" in before.roles
        if (named and timed and not any(map(is_act, pieces))) or _bagged_in_medium(pieces[:place]):
            piece.roles = {"act": piece.roles["noun"]}


def _bagged_in_medium(before: list[Piece]) -> bool:
    """Whether seed was put in a bag of moist medium before, in the same statement."""
    told = before[begin_of_sentence(before, len(before)) :]
    bagged = any(piece.low == "bagged" for piece in told)
    return bagged and any("medium" in piece.roles or piece.kind == "medium" for piece in told)


SETTLE_STRAT: Final = (
    _part_what_follows, _keep_what_follows, _begin_today, _settle_strat, _spend_left, _find_fridge_days,
)  # fmt: skip
"""The steps in their order."""
