"""Is a note only what is right and what was wrong: `hardwood, not semi`, `lot 15 not 14`, `not rotted, dried out`.

Rules
1. Both are one detail of the same kind, and nothing else is said; then the right one corrects what was said before.
2. `said 47 rooted in lot 9 should be 44` tells both: the last number is right, and what was said names where.
3. `it was bao not me`, `it was bao who sowed it`, `no, bao did it` correct who did it.
"""

from __future__ import annotations

from datetime import datetime
from typing import Final

from core.notes.acts.slots import Slots
from core.notes.counts.shares import names_mother
from core.notes.days.who import may_be_who, may_be_who_beside
from core.notes.details.drafts import Draft
from core.notes.names.people import NAMELIKE
from core.notes.parting.clauses import Clause
from core.notes.talk.corrected_values import correct
from core.notes.talk.corrections import treatment_named
from core.notes.words.pieces import SUBJECTS, Piece, is_act
from core.notes.words.said import is_count
from core.notes.words.steps import looks_for
from core.notes.words.tokens import Token
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import small_words

_NOT: Final = small_words("corrections", "denying")
_LEADS: Final = small_words("corrections", "before_right")
_BEING: Final = frozenset({"was", "were"})
_SPEAKER: Final = small_words("people", "speaker")
_MEASURED: Final = frozenset({"lots", "trays", "number", "size", "duration", "temp", "ppm", "percent"})
_NAMED: Final = (
    "plant", "cutting", "medium", "wood", "hormone_form", "hormone_name", "container", "pot_size", "solution", "cause",
)  # fmt: skip
_BARE: Final = frozenset({"number", "lots", "trays"})
_ARTICLES: Final = small_words("places", "articles")
_LONGEST: Final = 9
_FEW: Final = 4
_LEAST_SAID: Final = 4
_SAYING: Final = small_words("corrections", "saying")
_BEFORE_SHOULD: Final = small_words("corrections", "before_should")
_DENYING: Final = small_words("corrections", "taking_back")
_DONE_TO: Final = small_words("corrections", "done_to")
_ONE_WHO: Final = small_words("corrections", "one_who")


@looks_for(any_of=_NOT)
def contrast(tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """The correction that a note is that names the right and the wrong; None where it is none."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash")]
    while solid and solid[0].low in _LEADS:
        solid = solid[1:]
    deny = next((place for place, piece in enumerate(solid) if piece.low in _NOT), None)
    if deny is None or not 3 <= len(solid) <= _LONGEST:
        return None
    before, after = solid[:deny], solid[deny + 1 :]
    right, wrong = (_without_vents(before), after) if before else _parted(pieces, after)
    if len(before) == len(after) == 1 and may_be_who_beside(before[0], after[0]) and _is_somebody(after[0], before[0]):
        return [_by(before[0], pieces, pieces, tokens, now)]
    kind = _kind(right)
    if kind == "vent_open" and right is before and "fraction" in right[-1].roles:
        # "half, not a quarter" may be of plants.
        return None
    if kind == "treatment":
        for piece in right:
            piece.roles = {"treatment": treatment_named(piece)} if treatment_named(piece) else piece.roles
    if kind is None or not (_kind(wrong) == kind or (kind in ("lots", "trays") and _kind(wrong) in _BARE)):
        return None
    clause = Clause("", right)
    clause.act = "amend"
    slots = Slots(clause, tokens, now)
    correct(slots, right, now)
    if kind == "vent_open":
        slots.put("vent_open", right[-1].roles["vent_open"], *before)
    for piece in pieces:
        piece.used = piece.used or piece.low in _LEADS
    return [Draft("amend", slots, [Clause("", pieces)])] if slots.values else None


@looks_for(any_of=_SAYING)
def said_wrong(tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """`i said 47 rooted in lot 9, should be 44`: the correction of what was said; None where it is none."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash")]
    while solid and solid[0].low in _LEADS | _SPEAKER:
        solid = solid[1:]
    if not _LEAST_SAID <= len(solid) <= _LONGEST + 1 or solid[0].low not in _SAYING:
        return None
    said, right = solid[1:-1], solid[-1]
    other = _other_detail(solid[1:])
    if other is not None:
        return _put_right(other, pieces, tokens, now)
    while said and said[-1].low in _BEFORE_SHOULD:
        said = said[:-1]
    numbers = [piece for piece in said if piece.kind == "number"]
    if len(said) == len(solid) - 2 or right.kind != "number" or len(numbers) != 1:
        return None
    for piece in pieces:
        piece.used = piece.used or said[-1].last <= piece.first < right.first
    clause = Clause("", [*(piece for piece in said if piece is not numbers[0]), right])
    clause.act = "amend"
    slots = Slots(clause, tokens, now)
    correct(slots, clause.pieces, now)
    return [Draft("amend", slots, [Clause("", pieces)])]


def _other_detail(said: list[Piece]) -> tuple[list[Piece], list[Piece]] | None:
    """The words that lead to what is right, and that, of `said perlite but its pumice`, where both are of one kind."""
    turn = next((at for at, piece in enumerate(said) if at and piece.low in _BEFORE_SHOULD), len(said))
    begin = next((at for at in range(turn, len(said)) if said[at].low not in _BEFORE_SHOULD), turn)
    wrong, right = said[:turn], said[begin:]
    kind = _kind(wrong)
    if kind in SUBJECTS and len(right) == 1 and is_count(right[0]):
        right[0].kind, right[0].value = kind, (right[0].low,)
    return (said[turn:begin], right) if begin and kind not in (None, "number") and kind == _kind(right) else None


def _put_right(
    other: tuple[list[Piece], list[Piece]], pieces: list[Piece], tokens: list[Token], now: datetime
) -> list[Draft] | None:
    leads, right = other
    clause = Clause("", right)
    clause.act = "amend"
    slots = Slots(clause, tokens, now)
    correct(slots, right, now)
    for piece in leads:
        piece.used = True
    return [Draft("amend", slots, [Clause("", pieces)])] if slots.values else None


@looks_for("who", "did", any_of=_DONE_TO)
def who_did(tokens: list[Token], pieces: list[Piece], now: datetime) -> list[Draft] | None:
    """The correction that `it was bao who sowed it` is: of who did what was told before; None where it is none."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash")]
    leads = 0
    while leads < len(solid) and (solid[leads].low in _LEADS or solid[leads].kind == "moment"):
        leads += 1
    told = solid[leads:]
    if leads and solid[0].low in _DENYING and _did_it(told):
        return [_by(told[0], solid, pieces, tokens, now)]
    one_of_them = _the_one_who(solid)
    if one_of_them is not None:
        return [_by(one_of_them, solid, pieces, tokens, now)]
    if not leads or solid[0].low in _BEING or not 3 <= len(told) <= 4 or told[1].low != "who":
        return None
    somebody = _may_do_it(told[0])
    deed = is_act(told[2]) or "shared" in told[2].roles or told[2].low == "did"
    if not somebody or not deed or any("filler" not in one.roles for one in told[3:]):
        return None
    return [_by(told[0], solid[:leads], pieces, tokens, now)]


def _may_do_it(piece: Piece) -> bool:
    return may_be_who(piece) or piece.low in NAMELIKE or ("month" in piece.roles and is_given_name(piece.low))


def _the_one_who(solid: list[Piece]) -> Piece | None:
    """The `june` of `june was the one who did that`, where no more is told."""
    said = [piece.low for piece in solid[1:]]
    told = " ".join(said).removeprefix("'s ").removeprefix("is ").removeprefix("was ")
    return solid[0] if told in _ONE_WHO and _may_do_it(solid[0]) else None


def _did_it(told: list[Piece]) -> bool:
    """`kit did that one`, `rosa stuck it`: a known name, a deed, and only small words for what it was done to."""
    named = 2 < len(told) <= _FEW and is_given_name(told[0].low) and (may_be_who(told[0]) or told[0].low in NAMELIKE)
    deed = named and (told[1].low == "did" or is_act(told[1]))
    return deed and all(piece.low in _DONE_TO for piece in told[2:])


def _parted(pieces: list[Piece], after: list[Piece]) -> tuple[list[Piece], list[Piece]]:
    """What is right and what was wrong after "not" (`not lot 14, lot 15`): parted by a mark, the right one last."""
    mark = next((piece for piece in reversed(pieces) if piece.kind in ("break", "dash")), None)
    if mark is None:
        return [], []
    right = [piece for piece in after if piece.first > mark.first]
    return right, [piece for piece in after if piece not in right]


def _is_somebody(piece: Piece, other: Piece) -> bool:
    return piece.low in _SPEAKER or may_be_who_beside(piece, other)


def _by(name: Piece, leads: list[Piece], pieces: list[Piece], tokens: list[Token], now: datetime) -> Draft:
    clause = Clause("", [name])
    clause.act = "amend"
    slots = Slots(clause, tokens, now)
    slots.put("by", name.low.removesuffix("'s"), name)
    for piece in leads:
        piece.used = piece.used or piece.low in _LEADS
    return Draft("amend", slots, [Clause("", pieces)])


def _without_vents(told: list[Piece]) -> list[Piece]:
    """The setting of `vents were half open`; else the pieces as they are."""
    setting = told[-1] if told and "vent_open" in told[-1].roles else None
    named = setting is not None and "vent_noun" in told[0].roles
    return told[-1:] if named and all(piece.low in _BEING for piece in told[1:-1]) else told


def _kind(told: list[Piece]) -> str | None:
    """The kind of the one detail that some pieces name; None for none, or for more than one."""
    kinds = [kind for piece in told if (kind := _kind_of(piece)) is not None]
    bare = all(_kind_of(piece) or piece.kind == "quote" or piece.low in _ARTICLES for piece in told)
    return kinds[0] if bare and len(kinds) == 1 else None


def _kind_of(piece: Piece) -> str | None:
    if piece.kind == "size" or (piece.kind == "amount" and piece.value[1] == "gal"):
        return "container"
    if piece.kind in _MEASURED:
        return piece.kind
    if names_mother(piece):
        return "source"
    if treatment_named(piece):
        return "treatment"
    if piece.kind != "phrase":
        return None
    if "vent_open" in piece.roles:
        return "vent_open"
    word = piece.roles.get("act")
    if word is not None:
        return "cause" if word.act == "lose" and "cause" in word.says else None
    found = next((role for role in _NAMED if role in piece.roles), None)
    return "container" if found == "pot_size" else found
