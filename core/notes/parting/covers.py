"""Did a cover go on or come off: acts said by a noun and a little word.

`dome on`, `put the lids back`, `took domes off tray 3`, `off for good`.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.parting.covers_kept import ENDING, came_from, done_to_cover
from core.notes.parting.under_covers import back_under, fitted_with, goes_under, goes_with, is_read, is_under
from core.notes.words.pieces import NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.said import begin_of_statement, counted_before, end_of_statement, is_count, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_COVER: Final = ActWord(act="cover")
_AIR: Final = ActWord(act="air")
_UNCOVER: Final = ActWord(act="uncover")
_ON: Final = small_words("covers", "on")
_OFF: Final = small_words("covers", "off")
_VERBS_ON: Final = small_words("covers", "verbs_on")
_VERBS_OFF: Final = small_words("covers", "verbs_off")
_AT: Final = frozenset({"at", "along", "near", "by", "@"})
_BEING: Final = small_words("covers", "being")
_LIKE: Final = small_words("covers", "like")
_OFF_AFTER: Final = small_words("covers", "off_after")
_BARE_VERBS: Final = small_words("covers", "bare_verbs")
_BEFORE_COVERS: Final = small_words("covers", "before_covers")
_TAKING_OFF: Final = small_words("covers", "taking_off")
_PUTTING_BACK: Final = small_words("covers", "putting_back")
_PUTTING: Final = small_words("covers", "putting_on")
_OTHER_DEEDS: Final = frozenset({"vent", "sanitize", "mix", "lose", "collect"})
_STAYING: Final = frozenset({"stays", "stay", "staying", "stayed"})
_ON_ORDER: Final = frozenset({"order", "backorder", "sale", "loan", "hand"})
_LISTED: Final = frozenset({"and", "&", ",", "+"})
_ARTICLES: Final = frozenset({"the", "a", "my", "our"})
_WINDOW: Final = 5
_PUT_AWAY: Final = small_words("covers", "put_away")
_RAISED: Final = small_words("covers", "raised")
_BEEN: Final = frozenset({"was", "were", "been"})
_COMING: Final = small_words("covers", "coming")


@looks_for("@cover_noun", "@for_good")
def find_covers(pieces: list[Piece]) -> None:
    """Marks the cover noun with the act that its little words say, and those words as used."""
    for place, piece in enumerate(pieces):
        if "cover_noun" not in piece.roles or "act" in piece.roles:
            if "for_good" in piece.roles and piece.low.startswith("done with"):
                piece.roles = {"act": _UNCOVER, "for_good": True}
            continue
        if (place and "container" in pieces[place - 1].roles) or _is_of_plants(pieces, place):
            continue
        if _holds_cuttings(pieces, place):
            continue
        if is_under(pieces, place) and any(map(is_read, pieces)):
            continue
        if goes_under(pieces, place) or goes_with(pieces, place) or fitted_with(pieces, place):
            piece.roles = {"act": _COVER}
            continue
        if _is_described(pieces, place) or is_under(pieces, place):
            piece.kind, piece.value, piece.roles = "kept", "cover", NO_ROLES
            continue
        told = done_to_cover(pieces, place)
        if told is True or _is_put_away(pieces, place):
            _leave(piece)
            continue
        came_from(pieces, place)
        if _over_heads(pieces, place):
            piece.roles = {"act": ActWord(act="collect", says={"bagged": True, "what": "seed"})}
            continue
        act = told or back_under(pieces, place) or _without(pieces, place)
        act = act or _turned_round(pieces, place) or _direction(pieces, place)
        if act is not None and _went_to_somebody(pieces, place):
            _leave(piece)
            continue
        if act is _AIR and piece.low.startswith("bag") and not _bags_cuttings(pieces, place):
            act = None
        if act is not None:
            if act is _AIR and _for_good(pieces, place):
                act = _UNCOVER
            piece.roles = {**piece.roles, "act": act, "noun_of_cover": True}
            piece.roles.pop("thing", None)
            if place > 1 and pieces[place - 2].low not in _LISTED and _counts_covers(pieces[place - 1], piece):
                keep_words(pieces[place - 1])


def _counts_covers(number: Piece, cover: Piece) -> bool:
    """The 2 of `replaced 2 domes`, which names no lot; the 14 of `14 dome off` does."""
    return is_count(number) and number.value.whole > 1 and cover.low.endswith("s")


def _went_to_somebody(pieces: list[Piece], place: int) -> bool:
    """`returned 2 domes | to the school`: things that somebody got back, over no plants."""
    said = pieces[place + 1 : end_of_statement(pieces, place)]
    named = any(one.kind in SUBJECTS or "plant" in one.roles or "all" in one.roles for one in said)
    return not named and bool(said) and said[0].low in ("to", "from") and len(said) > 1


def _holds_cuttings(pieces: list[Piece], place: int) -> bool:
    """`stuck 12 toyon | in bags`: what they were put into, and no cover."""
    if "container" not in pieces[place].roles or not place or pieces[place - 1].low not in ("in", "into"):
        return False
    before = pieces[begin_of_statement(pieces, place) : place]
    return any("plant" in piece.roles for piece in before) and any(map(is_count, before))


def _is_of_plants(pieces: list[Piece], place: int) -> bool:
    """`pinched the tops out of lot 15`, `took the tops out of lot 9`: the tips of plants, and no lids."""
    if pieces[place].low != "tops":
        return False
    after = [piece.low for piece in pieces[place + 1 : place + 3]]
    tended = any("act" in one.roles and one.roles["act"].act == "tend" for one in pieces[max(0, place - 3) : place])
    return tended or after[:1] == ["out of"] or after == ["out", "of"]


def _is_put_away(pieces: list[Piece], place: int) -> bool:
    """`the lid of tray 8 went back in the stack`: where it is kept, and no plants went anywhere, in place."""
    start, end = begin_of_statement(pieces, place), end_of_statement(pieces, place)
    if not any(piece.low in _PUT_AWAY for piece in pieces[place + 1 : end]):
        return False
    moves = [at for at in range(start, end) if _moves(pieces[at])]
    if any(piece.kind in SUBJECTS for at in moves if at < place for piece in pieces[at:place]):
        return False
    keep_words(*(pieces[at] for at in moves))
    return True


def _moves(piece: Piece) -> bool:
    word = piece.roles.get("shared") or piece.roles.get("act")
    return word is not None and (word.rule == "put" or word.act == "move")


def _bags_cuttings(pieces: list[Piece], place: int) -> bool:
    """`bag off tray 4`, `bag off the toyon pots`; `bags off the toyon` may have been over its seed heads."""
    _, *said = (piece for piece in pieces[place : place + _WINDOW] if piece.low not in _ARTICLES)
    potted = [piece.low for piece in said[:1]] == ["off"] and "plant" in said[1].roles if len(said) > 2 else False
    held = potted and ("container" in said[2].roles or said[2].roles.get("what") == "cuttings")
    return held or any(piece.kind in ("lots", "trays") for piece in pieces)


def _for_good(pieces: list[Piece], place: int) -> bool:
    """`dome off tray 4 for good`; `dome off tray 4 1 hr, tues off for good` was first off for a while."""
    for other in pieces[place : place + _WINDOW]:
        if "for_good" in other.roles:
            return True
        if other.kind in ("duration", "moment"):
            return False
    return False


def _leave(piece: Piece) -> None:
    """Makes of a cover a thing, which may be washed, and no deed."""
    roles = {"thing": True} if "thing" in piece.roles else NO_ROLES
    piece.kind, piece.value, piece.roles = "kept" if roles is NO_ROLES else "phrase", "cover", roles


def _is_described(pieces: list[Piece], place: int) -> bool:
    """`the dome on tray 9 is cracked`, `lid broke on tray 4`: what a cover is like, and no deed; the words for it are
    taken from any deed that they tell of plants.
    """
    at = place + 1
    if at < len(pieces) and pieces[at].low in ("on", "of", "for") and pieces[at + 1 : at + 2]:
        at += 1 + (pieces[at + 1].kind in ("lots", "trays"))
        if pieces[at - 1].kind not in ("lots", "trays"):
            return False
    being = at < len(pieces) and pieces[at].low in _BEING
    at += being
    at += being and at < len(pieces) and pieces[at].low in ("going", "getting", "all")
    if at >= len(pieces) or pieces[at].low.split(" ")[0] not in _LIKE:
        return False
    while at < len(pieces) and pieces[at].kind != "break":
        if is_act(pieces[at]) and pieces[at].low.split(" ")[0] not in _LIKE:
            break
        if pieces[at].kind not in ("lots", "trays"):
            keep_words(pieces[at])
        at += 1
    return True


def _over_heads(pieces: list[Piece], place: int) -> bool:
    """Whether bags went over seed heads: a collecting, not a cover."""
    if not pieces[place].low.startswith("bag"):
        return False
    near = " ".join(piece.low for piece in pieces[place : place + 6])
    if any(word in near for word in ("seed head", "seedhead", "pods", "flower head", "heads")):
        return True
    told = pieces[place : end_of_statement(pieces, place)]
    growing = any("plant" in piece.roles for piece in told) and not any(piece.kind in SUBJECTS for piece in told)
    # "put bags on the checkermallow at pilot hill": where it grows wild.
    return growing and any(one.low in _AT and after.kind == "word" for one, after in pairwise(told))


def _without(pieces: list[Piece], place: int) -> ActWord | None:
    """`was without its cover 30 minutes`: off for so long."""
    lead = place - 1 - (place > 1 and pieces[place - 1].low in ("its", "their", "a", "the"))
    if (
        lead < 0
        or pieces[lead].low != "without"
        or not any(one.kind == "duration" for one in pieces[place : place + 3])
    ):
        return None
    pieces[lead].roles = {"filler": True}
    return _AIR


def _off_after_subject(pieces: list[Piece], place: int) -> bool:
    """`domes on 3 and 4 off for 20 min`: "on" leads to where it is, and "off" tells what was done."""
    if place + 1 >= len(pieces) or pieces[place].low != "on":
        return False
    for at, piece in enumerate(pieces[place + 1 :], place + 1):
        if piece.low in _OFF_AFTER or piece.low.startswith("off ") or _was_up(pieces, at):
            return True
        if piece.kind == "break" or is_act(piece):
            return False
    return False


def _was_up(pieces: list[Piece], at: int) -> bool:
    """`dome on tray 3 was | up for 20 min`."""
    return pieces[at].low in _RAISED and pieces[at - 1].low in _BEEN


def _turned_round(pieces: list[Piece], place: int) -> ActWord | None:
    """`off came the dome`, `back on went the lid`."""
    verb = place - 1 - (place > 1 and pieces[place - 1].low in ("the", "its", "their"))
    if verb < 1 or pieces[verb].low not in ("came", "went"):
        return None
    way = pieces[verb - 1].low
    if way not in ("on", "back on", "off"):
        return None
    for piece in pieces[verb - 1 : verb + 1]:
        piece.roles, piece.used = {"filler": True}, True
    return _AIR if way == "off" else _COVER


def _direction(pieces: list[Piece], place: int) -> ActWord | None:
    """Whether the words beside a cover put it on or take it off; None where they tell neither."""
    if any(piece.low in _BARE_VERBS for piece in pieces[max(0, place - 2) : place]):
        # "remove the dome on tray 3": an order, and "on" is where it is.
        return None
    if _of_another_deed(pieces, place):
        return None
    verb = _verb_before(pieces, place)
    if verb is not None and (off := _parted_off(pieces, verb, place)) is not None:
        _spend(verb, off)
        return _AIR
    return _way_after(pieces, place, verb) or (
        _way_right_before(pieces, place) if verb is None else _way_of_verb(pieces, place, verb)
    )


def _parted_off(pieces: list[Piece], verb: Piece, place: int) -> Piece | None:
    """The `off` of `popped off the dome on tray 4`, where "on" is where it was."""
    return next((one for one in pieces[pieces.index(verb) + 1 : place] if one.low == "off"), None)


def _of_another_deed(pieces: list[Piece], place: int) -> bool:
    """`washed the domes`, `collected under lids`: the cover belongs to a deed that puts none on and takes none off."""
    near = range(place - 1, max(-1, place - 4), -1)
    before = next((at for at in near if pieces[at].low not in _BEFORE_COVERS), None)
    deed = pieces[before].roles.get("act") if before is not None else None
    if before is None or pieces[before].low in _VERBS_ON | _VERBS_OFF:
        return False
    return deed is not None and deed.act in _OTHER_DEEDS and not counted_before(pieces, before)


def _way_after(pieces: list[Piece], place: int, verb: Piece | None) -> ActWord | None:
    """`domes back on trays 3 and 4`, `lid tray 5 off`: the way that is told within a few words after the cover."""
    for at in range(place + 1, min(place + 1 + _WINDOW, len(pieces))):
        other = pieces[at]
        if other.kind == "break":
            if at == place + 1 and _off_for_good_after(pieces, at):
                continue
            return None
        if other.low in _OFF or other.low.startswith("off ") or _was_up(pieces, at):
            _spend(verb, other)
            _spend_coming(pieces[place + 1 : at])
            return _UNCOVER if other.low.split(" ")[-1] in ENDING else _AIR
        if _off_after_subject(pieces, at):
            continue
        if other.low == "on" and at + 1 < len(pieces) and _popped_a_while(pieces, place, verb):
            return None
        if other.low == "on" and at + 1 < len(pieces) and pieces[at + 1].low in _ON_ORDER:
            return None
        if other.low in _ON:
            _spend(verb, other)
            _spend_coming(pieces[place + 1 : at])
            return _COVER
        if not _stands_between(other) and not _stays_off(pieces, at):
            return None
    return None


def _spend_coming(between: list[Piece]) -> None:
    """The `come` of `the lid on lot 23 has | come | off`, the `went` of `the lid | went | on tray 4`."""
    for piece in between:
        if (piece.kind == "word" and piece.low in _COMING) or "shared" in piece.roles:
            _spend(piece, None)


def _stays_off(pieces: list[Piece], at: int) -> bool:
    """`dome | stays off tray 3 from now on`; `domes stay on tray 3 from now on` is no deed."""
    off = at + 1 < len(pieces) and pieces[at + 1].low in _OFF
    return off and pieces[at].low in _STAYING and _for_good(pieces, at)


def _off_for_good_after(pieces: list[Piece], mark: int) -> bool:
    """`dome, off for good`."""
    after = pieces[mark + 1 : mark + 3]
    told = len(after) == 2 and after[0].low in ("off", "on") and "for_good" in after[1].roles
    return pieces[mark].low == "," and told


def _stands_between(piece: Piece) -> bool:
    """Whether a piece may stand between a cover and its way: where it is, when, or a small word."""
    if piece.kind in ("lots", "trays", "number", "moment") or "filler" in piece.roles:
        return True
    if piece.low in _COMING or piece.low in ("its", "their"):
        return True
    return "shared" in piece.roles and piece.low in ("put", "left")


def _way_right_before(pieces: list[Piece], place: int) -> ActWord | None:
    """`off lids`, with no verb."""
    before = pieces[place - 1] if place else None
    if before is None or before.low not in ("off", "took off"):
        return None
    before.used = True
    return _AIR


def _way_of_verb(pieces: list[Piece], place: int, verb: Piece) -> ActWord | None:
    """`took the lid from tray 4`, `put back the domes`, `slipped a bag over tray 5`, `popped the lids for 10 min`."""
    if verb.low in _TAKING_OFF:
        _spend(verb, None)
        return _UNCOVER if verb.low in ENDING else _AIR
    if verb.low in _PUTTING_BACK:
        _spend(verb, None)
        return _COVER
    for other in pieces[pieces.index(verb) + 1 : place]:
        if other.low in ("back", "on", "back on"):
            _spend(verb, other)
            return _COVER
        if other.low in ("off", "out"):
            _spend(verb, other)
            return _AIR
    if _popped_a_while(pieces, place, verb):
        _spend(verb, None)
        return _AIR
    named = any(one.kind in ("lots", "trays") or one.low in ("again", "back") for one in pieces[place : place + 4])
    if verb.low in _PUTTING and named:
        _spend(verb, None)
        return _COVER
    return None


def _popped_a_while(pieces: list[Piece], place: int, verb: Piece | None) -> bool:
    """`popped the lids on bench b for ten mins`: open so long, and "on" tells where; `popped the lid on for an hour`
    tells nothing of where.
    """
    told = pieces[place : end_of_statement(pieces, place)]
    on = next((after for piece, after in pairwise(told) if piece.low == "on"), None)
    closes = on is not None and (on.low == "for" or on.kind in ("duration", "moment"))
    return verb is not None and verb.low == "popped" and not closes and any(one.kind == "duration" for one in told)


def _verb_before(pieces: list[Piece], place: int) -> Piece | None:
    for step in range(1, _WINDOW):
        if place - step < 0:
            return None
        other = pieces[place - step]
        if other.kind == "break":
            return None
        if other.low in _VERBS_ON or other.low in _VERBS_OFF:
            return other
        if "act" in other.roles:
            return None
    return None


def _spend(verb: Piece | None, particle: Piece | None) -> None:
    for piece in (verb, particle):
        if piece is not None:
            piece.roles = {"filler": True}
            piece.used = True
