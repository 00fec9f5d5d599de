"""What a note puts right in the notes before it by naming what was wrong there, each way in its turn."""

from __future__ import annotations

from core.answers import Answer
from core.conversation.instead_of import hear_instead
from core.conversation.left_out import hear_left_out
from core.conversation.restated import hear_restated
from core.conversation.scene import Scene
from core.conversation.swapped import hear_swapped
from core.conversation.taking_back import hear_bring_back
from core.notes import Reading
from core.storage import Books


def hear_put_right(books: Books, scene: Scene, reading: Reading) -> tuple[Answer, ...]:
    """The answers to what is put right, or none where the note puts nothing right in one of these ways."""
    back = hear_bring_back(books, scene)
    if back is not None:
        return (back,)
    return (
        hear_restated(books, scene, reading)
        or hear_instead(books, scene)
        or hear_left_out(books, scene, reading)
        or hear_swapped(books, scene)
    )
