"""Several deeds told as things that plants had or were given: `lot 30 had a trim and a meal`, `gave tray 2 a drink, a
feed and a weeding`.

Rules
1. The first of them is read as it stands; each one after it becomes the plain word of its deed.
2. They are told of plants that stand right before "had", or right after "gave" at the head of a statement, so that
   what is planned or denied stays as it is.
"""

from __future__ import annotations

from typing import Final

from core.notes.deeds.turns_of_phrase import opens_statement
from core.notes.words.pieces import NO_ROLES, Piece, names_plants
from core.notes.words.said import begin_of_sentence
from core.notes.words.steps import looks_for
from core.vocabulary import words
from core.vocabulary.loading import read_toml, small_words

_PLAIN: Final[dict[str, str]] = {
    noun: deed for deed, nouns in read_toml("small_words.toml")["had_in_a_row"]["deeds"].items() for noun in nouns
}
_HAVING: Final = small_words("had_in_a_row", "having")
_GIVING: Final = small_words("had_in_a_row", "giving")
_LIKE: Final = small_words("had_in_a_row", "like")
_HAD: Final = _PLAIN.keys() | _PLAIN.values() | small_words("had_in_a_row", "first_only")
_JOINTS: Final = frozenset({"and", "&", "+", ",", "n", "plus", "then"})
_MOST_WORDS: Final = 4


@looks_for(*_PLAIN, beside=_HAVING | _GIVING)
def read_what_they_had(pieces: list[Piece]) -> bool:
    """Makes each thing after the first that plants had the plain word of its deed, in place; whether there was one."""
    found, at = False, 1
    while at < len(pieces):
        if pieces[at].low in _JOINTS and _last_word(pieces[at - 1]) in _HAD and _had_before(pieces, at):
            end = _thing_end(pieces, at + 1)
            if end:
                deed = _PLAIN[_last_word(pieces[end - 1])]
                first, last = pieces[at + 1].first, pieces[end - 1].last
                pieces[at + 1 : end] = [Piece("phrase", None, first, last, deed, words().phrases[deed])]
                joint = pieces[at]
                joint.kind, joint.low, joint.roles = "phrase", "and", words().phrases.get("and", NO_ROLES)
                found, at = True, at + 1
        at += 1
    return found


def _last_word(piece: Piece) -> str:
    return piece.low.rpartition(" ")[2]


def _thing_end(pieces: list[Piece], at: int) -> int:
    """Where a thing ends that plants may have (`a light feed`), and with it what is told; 0 where none does."""
    end = at
    while end < len(pieces) and end - at < _MOST_WORDS and pieces[end].kind in ("word", "phrase"):
        end += 1
        if _last_word(pieces[end - 1]) in _PLAIN:
            break
    lows = [word for piece in pieces[at:end] for word in piece.low.split(" ")]
    thing = len(lows) > 1 and lows[-1] in _PLAIN and all(low in _LIKE for low in lows[:-1])
    ends = end >= len(pieces) or pieces[end].kind in ("break", "moment") or pieces[end].low in _JOINTS
    return end if thing and ends else 0


def _had_before(pieces: list[Piece], at: int) -> bool:
    """Whether what stands before a place is a thing that plants had, or were given."""
    for place in range(at - 1, begin_of_sentence(pieces, at) - 1, -1):
        piece = pieces[place]
        verb, *more = piece.low.split(" ")
        if verb in _HAVING and place and all(_is_of_thing(one) for one in more):
            subject = place
            while subject and pieces[subject - 1].low in ("has", "have", "just", "was", "were", "been", "both", "all"):
                subject -= 1
            return subject > 0 and names_plants(pieces[subject - 1]) and opens_statement(pieces, subject - 1)
        if verb in _GIVING:
            return opens_statement(pieces, place) and any(map(names_plants, pieces[place + 1 : at]))
        given = names_plants(piece) or piece.kind == "break"
        if not given and not all(_is_of_thing(one) for one in piece.low.split(" ")):
            return False
    return False


def _is_of_thing(word: str) -> bool:
    return word in _LIKE or word in _HAD or word in _JOINTS
