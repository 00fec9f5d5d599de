"""Questions that begin with what is asked about: `lot 1 how many left`, `tray 3 when was it misted`."""

from __future__ import annotations

from typing import Final

from core.notes.talk.asking import begins_question
from core.notes.words.pieces import Piece, names_plants
from core.notes.words.said import said_in
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

_AFTER_SUBJECTS: Final = small_words("asking", "after_subjects")


@looks_for(any_of=frozenset(words.split(" ")[0] for words in _AFTER_SUBJECTS))
def part_subject_asked(pieces: list[Piece]) -> None:
    """Puts a mark between a lot, tray or plant that opens a sentence and the question about it, in place."""
    for place in range(len(pieces) - 1, 0, -1):
        subject, asker = pieces[place - 1], pieces[place]
        opens = place == 1 or pieces[place - 2].kind == "break"
        named = names_plants(subject)
        words = said_in(pieces[place : place + 2]).split(" ")[:2]
        if opens and named and " ".join(words) in _AFTER_SUBJECTS and begins_question(pieces, place):
            pieces.insert(place, Piece("break", ",", asker.first, asker.first, ","))
