"""Is it a wish of its own kind: a reminder, a target, a rule, or who is at the bench when.

`remind me friday to order perlite`, `need 75 snowberry by nov 1`, `weaning starts day 12 for salvia`,
`odile is on sat 9-12`.
"""

from __future__ import annotations

from datetime import datetime
from typing import Final

from core.notes.days.again import find_again
from core.notes.details.drafts import Draft
from core.notes.wishes.many_reminders import several_reminders
from core.notes.wishes.reminders import reminder, reminder_after_time, reminder_words
from core.notes.wishes.rosters import roster
from core.notes.wishes.rules import rule_of
from core.notes.wishes.targets import target_at, targets
from core.notes.wishes.wanted_otherwise import wanted_otherwise
from core.notes.wishes.whose_shift import whose_shift
from core.notes.words.pieces import Piece
from core.notes.words.steps import AnyOf, Marks, looks_for
from core.notes.words.tokens import Token
from core.vocabulary.loading import small_words

_TASKS: Final = small_words("reminders", "tasks")


_BEGINNING: Final = AnyOf(reminder_words, target_at)


def may_wish(marks: Marks) -> bool:
    """Whether a reminder or a target may begin in a sentence with these marks."""
    return _BEGINNING.needed_by(marks)


def begins_wish(pieces: list[Piece], place: int) -> bool:
    """Whether a reminder or a target begins at a piece (the first after a mark)."""
    if begins_reminder(pieces, place):
        return True
    return target_at(pieces, place) is not None and _opens_sentence(pieces, place)


def begins_reminder(pieces: list[Piece], place: int) -> bool:
    """Whether a reminder begins at a piece (`remind me fri`, `at 4 remind me`)."""
    return bool(reminder_words(pieces, place) or reminder_after_time(pieces, place))


def _opens_sentence(pieces: list[Piece], place: int) -> bool:
    return place == 0 or pieces[place - 1].low in (".", "\n", ";", "!")


@looks_for("@to_do", any_of=_TASKS)
def _is_standing_task(pieces: list[Piece], first: int) -> bool:
    """`every monday check the fridge`: a task for each of some days, said as an order."""
    again = find_again(pieces[first:])
    if again is None:
        return False
    start, end = again.spans[0]
    if start == 0:
        at = first + end
        while at < len(pieces) and (
            pieces[at].kind in ("break", "moment") or pieces[at].low in ("at", "please", "we", "i")
        ):
            at += 1
    else:
        at = first
        while at < len(pieces) and pieces[at].low in ("please", "pls", "hey", ","):
            at += 1
        if pieces[-1] not in (*pieces[first + start : first + end],) and pieces[-1].kind not in ("moment", "break"):
            return False
    return at < len(pieces) and ("to_do" in pieces[at].roles or pieces[at].low in _TASKS)


_WISHES: Final = AnyOf(reminder_words, _is_standing_task, target_at, wanted_otherwise, rule_of, roster)


def find_wishes(
    text: str, tokens: list[Token], pieces: list[Piece], marks: Marks, now: datetime
) -> list[Draft] | None:
    """The drafts of a sentence with these marks that is a reminder, target, rule or roster; None where it is none."""
    if not _WISHES.needed_by(marks):
        return None
    first = next((place for place, piece in enumerate(pieces) if piece.kind != "break"), None)
    if first is None:
        return None
    found = _reminders(text, tokens, pieces, first, now) if reminder_words.needed_by(marks) else None
    if found is None and _is_standing_task.needed_by(marks) and _is_standing_task(pieces, first):
        found = [reminder(text, tokens, pieces[first:], 0, now)]
    at = target_at(pieces, first) if found is None and target_at.needed_by(marks) else None
    if at is not None:
        found = targets(text, tokens, pieces[first:], at - first, now)
    if found is None and wanted_otherwise.needed_by(marks):
        found = wanted_otherwise(text, tokens, pieces, now)
    if found is None and rule_of.needed_by(marks):
        ruled = rule_of(text, tokens, pieces)
        found = [ruled] if ruled is not None else None
    if found is None and roster.needed_by(marks):
        found = roster(text, tokens, pieces, now)
        shift = whose_shift(pieces) if found is None and whose_shift.needed_by(marks) else None
        found = roster(text, tokens, shift, now) if shift is not None else found
    return found


def _reminders(text: str, tokens: list[Token], pieces: list[Piece], first: int, now: datetime) -> list[Draft] | None:
    lead = reminder_after_time(pieces, first)
    if lead:
        told = [*pieces[first + lead :], *(piece for piece in pieces[first : first + lead] if piece.kind != "break")]
        return [reminder(text, tokens, told, reminder_words(told, 0), now)]
    words = reminder_words(pieces, first)
    if not words:
        return None
    each = several_reminders(pieces[first:], words)
    return [reminder(text, tokens, told, words, now) for told in each]
