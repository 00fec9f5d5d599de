"""What a note puts right in the notes before it by naming what was wrong there, each way in its turn."""

from __future__ import annotations

from core.answers import Answer
from core.conversation.alive_after_all import hear_alive_after_all
from core.conversation.came_back import hear_came_back
from core.conversation.claims import claims_of, says_it_corrects, wrong_alone
from core.conversation.contrasted import hear_contrasted
from core.conversation.correction_words import bare, said, without_ends
from core.conversation.covers_back import hear_not_on
from core.conversation.instead_of import hear_instead
from core.conversation.left_out import hear_left_out
from core.conversation.lots_restated import hear_each
from core.conversation.restated import hear_restated
from core.conversation.scene import Scene
from core.conversation.swapped import hear_swapped
from core.conversation.taking_back import hear_bring_back
from core.conversation.undo_by_name import hear_undo_by_name
from core.conversation.undo_of_a_day import hear_undo_of_a_day
from core.conversation.undo_of_a_reminder import hear_reminder_undone
from core.conversation.undo_the_last import hear_undo_the_last
from core.entries import Act, Entry
from core.notes import Reading
from core.storage import Books

_SHORT = 5


def sounds_like_one(scene: Scene) -> bool:
    """Whether words that put nothing right sound as if they should ("oops the sage", "not 16", "minus 2")."""
    words = bare(scene.message.text)
    if any(words == one or words.startswith(f"{one} ") for one in said("sounds_like_one")):
        return True
    short = len(words.split()) <= _SHORT and any(mark.isdigit() for mark in words)
    taken_out = short and any(words.startswith(f"{one} ") for one in said("sounds_like_one", "with_number"))
    turned = without_ends(words, "swapped") in said("swapped") or any(
        words.startswith(f"{one} ") for one in said("swapped") if " " in one
    )
    text = scene.message.text
    claimed = bool(claims_of(scene, text)) or says_it_corrects(Entry(act=Act.NOTE, rest=text))
    return taken_out or turned or claimed or wrong_alone(scene, text) is not None


def hear_put_right(books: Books, scene: Scene, reading: Reading) -> tuple[Answer, ...]:
    """The answers to what is put right, or none where the note puts nothing right in one of these ways."""
    back = hear_bring_back(books, scene)
    if back:
        return back
    of_a_day = hear_undo_of_a_day(books, scene)
    if of_a_day is not None:
        return (of_a_day,)
    the_last = hear_undo_the_last(books, scene)
    if the_last is not None:
        return (the_last,)
    by_name = hear_reminder_undone(books, scene) or hear_undo_by_name(books, scene, reading)
    if by_name is not None:
        return (by_name,)
    # A cover that is not on is asked for again, which a correction of the note alone would not do.
    not_on = hear_not_on(books, scene, reading)
    if not_on is not None:
        return (not_on,)
    return (
        hear_each(books, scene)
        or hear_alive_after_all(books, scene, reading)
        or hear_restated(books, scene, reading)
        or hear_contrasted(books, scene, reading)
        or hear_instead(books, scene)
        or hear_left_out(books, scene, reading)
        or hear_came_back(books, scene, reading)
        or hear_swapped(books, scene)
    )
