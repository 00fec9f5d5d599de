"""Where a rule or a roster stands beside other statements: `misted tray 4. weaning starts day 12 for tray 4`.

A statement is one of its own that sets a rule or tells who is there by itself; what stands between is left together.
"""

from __future__ import annotations

from datetime import datetime
from itertools import groupby
from typing import Final

from core.notes.wishes.rosters import of_work, roster
from core.notes.wishes.rules import rule_of, states_rule
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, names_plants
from core.notes.words.steps import Marks
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_HENCEFORTH: Final = small_words("rules", "henceforth")
_CHANGING: Final = frozenset({"changes", "changed", "changing", "is new", "moves", "is different"})
_AND: Final = frozenset({"and", "&"})


def wishes_apart(
    text: str, tokens: list[Token], pieces: list[Piece], marks: Marks, now: datetime
) -> list[list[Piece]]:
    """The pieces of a sentence with these marks, parted where a rule or a roster begins or ends."""
    rules, rosters = rule_of.needed_by(marks), roster.needed_by(marks)
    if not rules and not rosters:
        return [pieces]
    if not any(_may_part(piece, rules=rules) for piece in pieces[1:-1]):
        return [pieces]
    statements = _statements(text, tokens, pieces, rules=rules)
    if len(statements) < 2:
        return [pieces]

    def wishes(told: list[Piece]) -> bool:
        if rules and rule_of(text, tokens, told) is not None:
            return True
        return rosters and _is_roster(text, tokens, told, now)

    if rosters and _is_roster(text, tokens, pieces, now):
        return [pieces]
    parted: list[list[Piece]] = []
    for wished, run in groupby(statements, wishes):
        listed = list(run)
        if wished:
            parted.extend(listed)
        else:
            parted.append([piece for told in listed for piece in told])
    return parted if len(parted) > 1 else [pieces]


def _says_for_what(told: list[Piece]) -> bool:
    """The `for ceanothus` before a comma and its rule (`weaning begins on day 16`)."""
    said = [piece for piece in told if piece.kind != "break"]
    named = all(piece.kind in SUBJECTS or not piece.roles.keys().isdisjoint(("plant", "filler")) for piece in said[1:])
    if " ".join(piece.low for piece in said) in _HENCEFORTH:
        return True
    changed = any(piece.low == "default" for piece in said[:3]) and said[-1].low in _CHANGING
    return len(said) > 1 and ((said[0].low == "for" and named) or changed)


def _may_part(piece: Piece, *, rules: bool) -> bool:
    """Whether a piece ends a sentence, or, where a rule is told, may stand before another statement."""
    return piece.low in SENTENCE_ENDS or (rules and (piece.low == "," or piece.low in _AND))


def _is_roster(text: str, tokens: list[Token], told: list[Piece], now: datetime) -> bool:
    """Whether a roster is told and nothing else; reading it changes the pieces, so that copies are read."""
    return not any(map(of_work, told)) and roster(text, tokens, [piece.copied() for piece in told], now) is not None


def _statements(text: str, tokens: list[Token], pieces: list[Piece], *, rules: bool) -> list[list[Piece]]:
    """Runs up to the end of each sentence, and, at commas and "and", to a rule or from one to a deed."""
    runs: list[list[Piece]] = [[]]
    for place, piece in enumerate(pieces):
        before = pieces[place - 1].low if place else ""
        ends = place > 0 and pieces[place - 1].kind == "break" and before in SENTENCE_ENDS
        if rules and place and (before == "," or piece.low in _AND):
            told = _up_to_mark(pieces, place)
            opens = states_rule(text, tokens, told) and not _says_for_what(runs[-1])
            ends = ends or opens or (_tells_deed(told) and states_rule(text, tokens, runs[-1]))
        if ends and any(one.kind != "break" for one in runs[-1]):
            runs.append([])
            if piece.low in _AND:
                continue
        runs[-1].append(piece)
    return [run for run in runs if any(piece.kind != "break" for piece in run)]


def _up_to_mark(pieces: list[Piece], at: int) -> list[Piece]:
    end = next((place for place in range(at, len(pieces)) if pieces[place].kind == "break"), len(pieces))
    return pieces[at:end]


def _tells_deed(told: list[Piece]) -> bool:
    """`misted tray 4`, `we lost 6 of lot 9`: a deed and what it was done to."""
    done = any((word := piece.roles.get("act")) is not None and word.form == "done" for piece in told)
    return done and any(map(names_plants, told))
