"""What words such as if, will, heard, not and none make of a clause."""

from __future__ import annotations

from typing import Final

from core.notes.counts.counted_not import is_whole
from core.notes.deeds.ahead import says_what_is_right
from core.notes.deeds.denied import done_to_none
from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_NOUGHT_STATES: Final = frozenset({"rooted", "callused", "germinated", "roots_out", "flowering", "ready", "alive"})
_CONDITIONS: Final = small_words("cues", "conditions")
_COUNTED: Final = frozenset({"number", "fraction", "percent", "amount", "duration", "moment"})
_BEFORE_CANS: Final = small_words("cues", "before_cans")
_LINKS_TO_SUBJECT: Final = small_words("cues", "links_to_subject")
_REASONS: Final = small_words("cues", "reasons")
_REACHES: Final = frozenset({"hits", "reaches", "gets", "passes"})
_WITH: Final = ("w", "w/", "with", "using")
_FEW: Final = 4
_HAVING: Final = small_words("denied", "having")
_AMONG: Final = frozenset({"in", "on", "for"})
_TAKEN: Final = frozenset({"pulled", "took", "lifted", "threw", "put"})
_HOPES: Final = small_words("cues", "hopes")
_INSTRUMENTS: Final = small_words("cues", "instruments")
_TELLING: Final = small_words("cues", "telling")
_SPEAKERS: Final = small_words("cues", "speakers")


@looks_for("@condition", "@plan", "@hearsay", "@negation", "@none", "not", "when", *_HOPES)
def said_by_words(clause: Clause) -> str | None:
    """What words such as `if`, `will`, `heard`, `not` and `none` make of a clause."""
    pieces = clause.pieces
    for place, piece in enumerate(pieces):
        roles = piece.roles
        if place == 0 and piece.low in _HOPES and clause.act is not None:
            return "plan"
        again = place + 1 < len(pieces) and pieces[place + 1].low in ("more", "again")
        if "condition" in roles and (piece.low in _CONDITIONS or (place == 0 and not again)):
            return "condition"
        bare = piece.low == "when" and any("to_do" in one.roles or one.low in _REACHES for one in pieces)
        if place == 0 and piece.low == "when" and (bare or clause.word is None or clause.word.form != "done"):
            return "condition"
        if "plan" in roles and not _not_a_plan(clause, pieces, place, piece):
            return "plan"
        if "hearsay" in roles and _is_hearsay(pieces, place, piece):
            return "hearsay" if _of_the_bench(clause) else "aside"
        if "negation" in roles and place + 1 < len(pieces) and pieces[place + 1].low in ("worry", "panic", "fret"):
            continue
        if not roles.keys().isdisjoint(("negation", "none")) and _tells_why(clause, pieces, place):
            continue
        if "negation" in roles and (
            _counts_others(clause, pieces, place)
            or _denies_count(clause, pieces, place)
            or not _counts_nought(clause, pieces, place)
        ):
            return "negation"
        if "vague" in roles and piece.low.startswith("not ") and clause.act in COUNTLESS:
            return "negation"
        if "none" in roles and clause.act is not None and not _none_counts(clause, pieces, place):
            return "negation"
        if "none" in roles and piece.low == "no" and (done_to_none(clause, place) or _takes_back(clause, place)):
            return "negation"
        if "none" in roles and _lacked_by_some(clause, pieces, place):
            return "negation"
    if clause.act is None and clause.kinds() & {"lots", "trays"} and _denies(pieces):
        return "negation"
    return None


def _tells_why(clause: Clause, pieces: list[Piece], place: int) -> bool:
    """`watered lot 12 cuz mei | forgot`: why it was done, and not that it was not."""
    if clause.word is None or clause.word.form != "done":
        return False
    why = next((at for at, piece in enumerate(pieces[:place]) if piece.low in _REASONS), 0)
    since = pieces[why].low == "since" and pieces[why + 1].kind == "moment"
    deed = any(clause.word is word for piece in pieces[:why] for word in piece.roles.values())
    return deed and not since and not any("negation" in piece.roles for piece in pieces[:why])


def _denies(pieces: list[Piece]) -> bool:
    """`not tray 4`, `no rot in lot 7`, `no time for tray 5`: a denial, and no count of nought (`lot 5 none`)."""
    return any(
        ("negation" in piece.roles and not (place and pieces[place - 1].kind == "number" and piece.low == "not"))
        or ("none" in piece.roles and _none_of_what(pieces, place + 1))
        for place, piece in enumerate(pieces)
    )


def _none_of_what(pieces: list[Piece], at: int) -> bool:
    if at >= len(pieces) or pieces[at].low in _LINKS_TO_SUBJECT:
        return False
    return pieces[at].kind == "word" or not pieces[at].roles.keys().isdisjoint(("cause", "thing", "filler"))


def _of_the_bench(clause: Clause) -> bool:
    """Whether what is heard or supposed is of plants: `everybody seems happy` is not, `i think` may be."""
    return (
        clause.act is not None
        or bool(clause.kinds() - {"word", "phrase", "person", "mark", "moment"})
        or not any(piece.kind == "word" for piece in clause.pieces)
        or any("plant" in piece.roles or "noun" in piece.roles for piece in clause.pieces)
    )


def _not_a_plan(clause: Clause, pieces: list[Piece], place: int, piece: Piece) -> bool:
    if piece.low == "hope" and place and pieces[place - 1].low in ("to", "for", "by", "from", "with"):
        return True
    if piece.low in ("almost", "nearly"):
        return not _nearly_done(pieces, place)
    if piece.low == "soon":
        return False
    if piece.low in ("should be", "should") and clause.act is not None and says_what_is_right(pieces, place):
        return True
    if piece.low in ("later", "next up") and clause.act is not None:
        return piece.low == "later" and any("duration" in one.kind for one in pieces)
    if piece.low in ("can", "could") and place and (pieces[place - 1].low in _BEFORE_CANS or _is_can(pieces, place)):
        return True
    if any(one.low in _TELLING for one in pieces[place + 1 : place + 2]):
        return True
    if (
        piece.low in ("will", "ill")
        and place == 0
        and place + 1 < len(pieces)
        and "act" in pieces[place + 1].roles
        and pieces[place + 1].roles["act"].form == "done"
    ):
        ahead = any(one.kind == "moment" and (one.value.days or 0) > 0 for one in pieces)
        return piece.low == "will" and not ahead
    return False


def _is_can(pieces: list[Piece], place: int) -> bool:
    """`watered tray 9 w the blue can`: a vessel at the end, led by what it was done with."""
    led = any(piece.low in _WITH for piece in pieces[max(0, place - _FEW) : place])
    return led and pieces[place].low == "can" and place + 1 == len(pieces) and pieces[place - 1].low not in _SPEAKERS


def _nearly_done(pieces: list[Piece], place: int) -> bool:
    """`we nearly dumped the bleach`: a deed that was not done; `nearly 40 rooted` only counts roughly."""
    if place + 1 >= len(pieces):
        return False
    following = pieces[place + 1]
    if "act" in following.roles or "shared" in following.roles or following.low in _TAKEN:
        return True
    spoken = place > 0 and (pieces[place - 1].kind == "person" or pieces[place - 1].low in _SPEAKERS)
    return spoken and following.kind not in _COUNTED and not following.roles.keys() & {"all", "vague", "both", "none"}


def _counts_others(clause: Clause, pieces: list[Piece], place: int) -> bool:
    """`27 not rooted`, `6 of lot 22 still have no roots`, `12 not up of 72`: the ones counted are not."""
    after = next((piece for piece in pieces[place + 1 :] if not _is_small(piece) or _says(piece, clause)), None)
    states = after is not None and _says(after, clause)
    counted = [at for at, piece in enumerate(pieces) if piece.kind in ("number", "fraction")]
    counted = counted[:-1] if len(counted) > 1 and counted[-1] > place and is_whole(pieces, counted[-1]) else counted
    if clause.act != "check" or not states or len(counted) != 1 or counted[0] > place:
        return False
    return all(_between_count_and_state(piece) for piece in pieces[counted[0] + 1 : place])


def _is_small(piece: Piece) -> bool:
    return "filler" in piece.roles or piece.low == "any"


def _lacked_by_some(clause: Clause, pieces: list[Piece], place: int) -> bool:
    """`lot 9 3 no roots`, `3 have no roots`, `lot 9 no roots on 3`: so many have none, which is no count of nought."""
    named = bool(clause.kinds() & {"lots", "trays"})
    if place and (named or pieces[place - 1].low in _HAVING) and _counts_others(clause, pieces, place):
        return True
    if place + 1 >= len(pieces) or not _says(pieces[place + 1], clause):
        return False
    number = next((at for at in range(place + 2, len(pieces)) if pieces[at].kind == "number"), 0)
    lead = pieces[number - 1].low.rpartition(" ")[2] if number else ""
    return lead == "other" or (named and lead in _AMONG)


def _says(piece: Piece, clause: Clause) -> bool:
    return any(word is clause.word for word in piece.roles.values())


def _denies_count(clause: Clause, pieces: list[Piece], place: int) -> bool:
    """`not 12 rooted`: no count of twelve, and none of nought."""
    after = pieces[place + 1] if place + 1 < len(pieces) else None
    counted = [piece for piece in pieces[:place] if piece.kind in ("number", "fraction")]
    return clause.act == "check" and after is not None and after.kind == "number" and not counted


def _takes_back(clause: Clause, place: int) -> bool:
    """`20 rooted lol no`, `no 12 rooted`: whether the count or the state is denied nobody can tell."""
    pieces = clause.pieces
    if clause.act != "check":
        return False
    counted = any(piece.kind == "number" for piece in pieces[:place])
    ends = place + 1 == len(pieces) and counted and place > 1
    return ends or (place + 1 < len(pieces) and pieces[place + 1].kind == "number")


def _between_count_and_state(piece: Piece) -> bool:
    return piece.kind in ("lots", "trays", "phrase") and not piece.roles.keys() & {"act", "shared", "noun", "none"}


def _is_hearsay(pieces: list[Piece], place: int, piece: Piece) -> bool:
    if (
        piece.low == "may"
        and place
        and pieces[place - 1].low in ("to", "for", "by", "from", "with", "gave", "and", "&", "in")
    ):
        return False
    if (
        piece.low in ("may", "might")
        and place + 1 < len(pieces)
        and "act" in pieces[place + 1].roles
        and place == 0
        and piece.low == "may"
    ):
        return False
    if place and pieces[place - 1].low.split(" ")[-1] in _INSTRUMENTS:
        # "thermometer says 88f in the lath" was read.
        return False
    counts = place + 1 < len(pieces) and pieces[place + 1].kind == "number"
    return not (counts and piece.low in ("say", "maybe", "likely"))


def _counts_nought(clause: Clause, pieces: list[Piece], place: int) -> bool:
    if clause.act == "check" and clause.says.get("state") in _NOUGHT_STATES:
        return True
    if clause.act is None and pieces[place].low in (
        "not",
        "dont",
        "don't",
        "no",
        "isn't",
        "isnt",
        "wasnt",
        "wasn't",
        "not sure",
    ):
        return (not any("to_do" in piece.roles for piece in pieces) and pieces[place].low == "not") or (
            clause.act is None and not any("to_do" in piece.roles or "noun" in piece.roles for piece in pieces)
        )
    return False


def _none_counts(clause: Clause, pieces: list[Piece], place: int) -> bool:
    """Whether "none" counts nought; `no more misting tray 5`, `no more rooted` do not."""
    if [piece.low for piece in pieces[place : place + 2]] == ["no", "more"]:
        return False
    if clause.act == "check" and clause.says.get("state") in _NOUGHT_STATES:
        return True
    return (
        pieces[place].low in ("no", "zero")
        and place + 1 < len(pieces)
        and "act" not in pieces[place + 1].roles
        and not (clause.word is not None and pieces[place + 1].roles.get("noun") is clause.word)
        and clause.act not in ("wilt", "lose")
    )
