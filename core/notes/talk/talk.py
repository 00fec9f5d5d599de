"""Is the whole note talk with the bot: a greeting, an answer to a reminder, an undo."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime
from functools import cache
from typing import Final

from core.entries import Exceptions
from core.notes.days.moments import resolve_past
from core.notes.details.drafts import Draft, as_typed
from core.notes.talk.answers import all_but, answer_and_more, answer_with_names, done_by_or_on, later_till
from core.notes.talk.contrasts import contrast, said_wrong, who_did
from core.notes.talk.corrections import amend, closes, renamed
from core.notes.words.pieces import Piece
from core.notes.words.steps import AnyOf, Marks, looks_for
from core.notes.words.tokens import Token
from core.vocabulary import words
from core.vocabulary.everyday import is_given_name
from core.vocabulary.loading import plain_words, small_words
from core.vocabulary.talk_phrases import answers_said, correction_openers, said_beside_talk, said_of, whole_notes

_TRIM: Final = re.compile(r"^[\s.!,;:)(*~\"-]+|[\s.!,;:)(*~\"-]+$")


_DRAWN: Final = re.compile(r"([a-z])\1+\b")
_SPACES: Final = re.compile(r"\s+")
_WORD: Final = re.compile(r"[\w']+")
_MARKS: Final = re.compile(r"[,.!;]| and ")

_FEW: Final = 4
"""A note of so few words may be talk, whatever it begins with."""
_INS: Final = frozenset({"in", "give"})
_UNDOES: Final = small_words("answers", "undoes")

_YES: Final = ("reply", "yes")
_AGREES: Final = small_words("answers", "agrees")
_ALL_WELL: Final = small_words("answers", "all_well")
_FAULTS: Final = small_words("answers", "faults")
_ONES: Final = small_words("answers", "one_of_those")


_TELLS: Final = frozenset({"act", "shared", "to_do", "noun", "plant", "all", "none", "negation"})


_ASKING: Final = frozenset(phrase.split(" ")[0] for phrase in said_of("aside", "asking"))


def _said_for(act: str) -> frozenset[str]:
    """The whole notes that say an act of talk."""
    return frozenset(phrase for phrase, (said, _) in whole_notes().items() if said == act)


@cache
def _most_words() -> int:
    """How many words two phrases of talk have at most, or one with a word before and after it."""
    return 2 * max(len(phrase.split(" ")) for phrase in whole_notes())


def whole_note(
    text: str, tokens: list[Token], pieces: list[Piece], marks: Marks, now: datetime
) -> list[Draft] | None:
    """The drafts of a note with these marks that is talk from end to end; None where it is not."""
    if len(tokens) > 40:
        return None
    opens = _opens_talk(tokens)
    bare = _bare(tokens) if opens or len(tokens) <= _FEW else ""
    simple = _simple(bare) if bare and bare.count(" ") <= _most_words() else None
    if simple is not None:
        return [simple]
    bare = bare if opens else ""
    if not bare and not closes(marks) and not _MAY_BE_TALK.needed_by(marks):
        return None
    taken_back = _undo_and_words(text, tokens, pieces) if _undo_and_words.needed_by(marks) else None
    answer = taken_back or _answer_of(text, tokens, pieces, bare, marks, now)
    if answer is not None:
        return [answer]
    mended = who_did(tokens, pieces, now) if who_did.needed_by(marks) else None
    if mended is None and (bare or closes(marks)):
        mended = amend(text, tokens, pieces, bare, now)
    if mended is None and contrast.needed_by(marks):
        mended = contrast(tokens, pieces, now)
    if mended is None and said_wrong.needed_by(marks):
        mended = said_wrong(tokens, pieces, now)
    if mended is None and renamed.needed_by(marks):
        mended = renamed(tokens, pieces, now)
    if mended is not None:
        return mended
    more = answer_and_more(text, tokens, pieces, known=whole_notes()) if answer_and_more.needed_by(marks) else None
    return [more] if more is not None else None


def _bare(tokens: list[Token]) -> str:
    """The words of a note in lower case, with single blanks and without the marks around them."""
    said = _SPACES.sub(" ", "".join(_spaced(token) for token in tokens if _speaks(token))).strip()
    return _TRIM.sub("", said)


def _opens_talk(tokens: list[Token]) -> bool:
    """Whether a note begins with words that talk with the bot begins with."""
    said = [token.low for token in tokens[:_FEW] if token.kind not in ("mark", "line")]
    opening = said[0] if said else ""
    drawn = opening[-1:] == opening[-2:-1] and opening not in _openings()
    going_on = _openings().get(_DRAWN.sub(r"\1", opening) if drawn else opening)
    return going_on is not None and (not going_on or said[1:2] == [] or said[1] in going_on)


@cache
def _openings() -> dict[str, frozenset[str]]:
    """The first words of talk, and the second ones; none where the first alone may be talk."""
    answers = (phrase for openers in read_talk().values() for phrases in openers.values() for phrase in phrases)
    found: dict[str, set[str]] = {}
    for phrase in (*whole_notes(), *correction_openers(), *said_beside_talk()[0], *_INS, *answers):
        said = _WORD.findall(phrase)
        if said:
            found.setdefault(said[0], set()).add(said[1] if len(said) > 1 else "")
    return {first: frozenset(() if "" in seconds else seconds) for first, seconds in found.items()}


def _answer_of(
    text: str, tokens: list[Token], pieces: list[Piece], bare: str, marks: Marks, now: datetime
) -> Draft | None:
    """The answer to a reminder that a whole note is."""
    answer = _answer(bare, pieces, now) if bare else None
    if answer is None and answer_with_names.needed_by(marks):
        answer = answer_with_names(pieces)
    if bare:
        answer = answer or all_but(pieces, read_talk()["except"])
        answer = answer or later_till(text, tokens, pieces, read_talk()["later"])
    if answer is None and done_by_or_on.needed_by(marks):
        answer = done_by_or_on(pieces, whole_notes(), now)
    return answer


@looks_for(any_of=_UNDOES | _said_for("undo"))
def _undo_and_words(text: str, tokens: list[Token], pieces: list[Piece]) -> Draft | None:
    """`scratch that, silly me`, `undo the potting one`: an undo, and words that tell nothing more."""
    which = _which_one(text, tokens, pieces)
    if which is not None:
        return which
    fault = _fault_before_undo(text, tokens, pieces)
    if fault is not None:
        return fault
    mark = next((place for place, piece in enumerate(pieces) if place and piece.kind == "break"), 0)
    if not mark or whole_notes().get(" ".join(piece.low for piece in pieces[:mark])) != ("undo", ""):
        return None
    told = [piece for piece in pieces[mark + 1 :] if piece.kind not in ("break", "mark")]
    if not told or any(piece.kind not in ("word", "phrase") or not _TELLS.isdisjoint(piece.roles) for piece in told):
        return None
    draft = Draft("undo", None, [])
    draft.extra["rest"] = as_typed(text, tokens, told[0].first, told[-1].last)
    return draft


def _fault_before_undo(text: str, tokens: list[Token], pieces: list[Piece]) -> Draft | None:
    """`wrong tray, ignore that`: what was wrong, and an undo of the whole."""
    mark = next((place for place, piece in enumerate(pieces) if place and piece.kind == "break"), 0)
    told = [piece.low for piece in pieces[:mark]]
    fault = " ".join(told[1:] if told[:1] and told[0] in said_beside_talk()[0] else told)
    undoes = whole_notes().get(" ".join(piece.low for piece in pieces[mark + 1 :])) == ("undo", "")
    if not mark or not undoes or fault not in _FAULTS:
        return None
    draft = Draft("undo", None, [])
    draft.extra["rest"] = as_typed(text, tokens, pieces[0].first, pieces[mark - 1].last)
    return draft


def _which_one(text: str, tokens: list[Token], pieces: list[Piece]) -> Draft | None:
    """`undo the potting one`: an undo that says which, in a few words (`undo that potting`)."""
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark")]
    ends = bool(solid) and solid[-1].low in _ONES
    bare = bool(solid) and solid[0].low == "undo" and all(piece.kind in ("word", "phrase") for piece in solid)
    if not 2 < len(solid) <= _LONGEST_UNDO or solid[0].low not in _UNDOES or not (ends or bare):
        return None
    told = solid[1:]
    while told and told[0].low in ("the", "that", "my", "this", "last"):
        told = told[1:]
    if len(told) < 1 + ends or len(solid) != len(pieces):
        return None
    draft = Draft("undo", None, [])
    draft.extra["rest"] = as_typed(text, tokens, told[0].first, told[-1].last)
    return draft


_MAY_BE_TALK: Final = AnyOf(
    _undo_and_words, answer_with_names, done_by_or_on, who_did, contrast, said_wrong, renamed, answer_and_more,
)  # fmt: skip
"""What may be talk though no word of talk opens the note."""
_LONGEST_UNDO: Final = 6
_WITH_NAME: Final = 2


def _spaced(token: Token) -> str:
    return token.low if token.glued else f" {token.low}"


def _speaks(token: Token) -> bool:
    return token.kind not in ("mark",) or (token.low in "?/'&%:,.-#" and token.low != "")


def _simple(bare: str) -> Draft | None:
    known = whole_notes()
    before, after = said_beside_talk()
    plain = bare.replace(",", "").split(" ")
    candidates = [bare, bare.rstrip("?"), bare.replace(",", "")]
    if len(plain) <= _most_words() // 2 and known.get(bare) is None:
        candidates.append(_DRAWN.sub(r"\1", bare))
    if len(plain) > 1 and plain[0] in before:
        candidates.append(" ".join(plain[1:]))
    if len(plain) > 1 and plain[-1] in after:
        candidates.append(" ".join(plain[:-1]))
    if len(plain) > 2 and plain[0] in before and plain[-1] in after:
        candidates.append(" ".join(plain[1:-1]))
    if plain[0] in _ASKING and len(plain) > _WITH_NAME:
        candidates.extend(_without_asking(plain))
    for candidate in candidates:
        meaning = known.get(candidate)
        if meaning is not None:
            draft = Draft(meaning[0], None, [])
            key = {"hello": "want", "reply": "answer"}.get(meaning[0])
            if key:
                draft.extra[key] = meaning[1]
            return draft
    greeted = known.get(bare.rpartition(" ")[0])
    if greeted is not None and greeted[0] == "hello" and _may_be_greeted(plain, greeted[1]):
        draft = Draft("hello", None, [])
        draft.extra.update(want=greeted[1], rest=plain[-1])
        return draft
    if plain[0] in _AGREES and " ".join(plain[1:]) in _ALL_WELL:
        # "yep all good".
        draft = Draft("reply", None, [])
        draft.extra.update(answer="yes", rest=" ".join(plain[1:]))
        return draft
    parts = [_without_before(part.strip()) for part in _MARKS.split(bare) if part.strip()]
    if len(parts) == 2 and any(known.get(part) == ("hello", "thanks") for part in parts):
        remarks = [part for part in parts if part not in known and "remarks" in words().phrases.get(part, ())]
        if remarks:
            # "thank you so much, all good".
            draft = Draft("hello", None, [])
            draft.extra.update(want="thanks", rest=remarks[0])
            return draft
    if len(parts) == 2 and _take_back(parts):
        return Draft("undo", None, [])
    if len(parts) == 2 and all(part in known for part in parts):
        meanings = [known[part] for part in parts]
        if meanings[0][0] == meanings[1][0] == "hello":
            draft = Draft("hello", None, [])
            draft.extra["want"] = next((want for _, want in meanings if want != "hi"), "hi")
            return draft
        for act, value in meanings:
            if act in ("reply", "undo"):
                draft = Draft(act, None, [])
                if act == "reply":
                    draft.extra["answer"] = value
                return draft
    return None


def _without_asking(plain: list[str]) -> Iterator[str]:
    """The `undo that` of `can you undo that please`."""
    after = said_beside_talk()[1]
    for size in range(2, 5):
        if len(plain) > size and " ".join(plain[:size]) in said_of("aside", "asking"):
            yield " ".join(plain[size:])
            if plain[-1] in after:
                yield " ".join(plain[size:-1])


def _without_before(part: str) -> str:
    """The `erase it` of `please erase it`."""
    first, _, rest = part.partition(" ")
    said = rest in whole_notes() or rest in said_of("undo", "beside")
    return rest if said and part not in whole_notes() and first in said_beside_talk()[0] else part


def _take_back(parts: list[str]) -> bool:
    """`that last one was wrong, take it out`: an undo, and beside it what says the same again."""
    undone = [whole_notes().get(part) == ("undo", "") for part in parts]
    beside = said_of("undo", "beside")
    return any(undone) and all(taken or part in beside for taken, part in zip(undone, parts, strict=True))


def _may_be_greeted(plain: list[str], want: str) -> bool:
    """`thank you bao`, `hi kit`: whether the last word may be somebody's name."""
    named = plain[-1].isalpha() and (plain[-1] not in plain_words() or is_given_name(plain[-1]))
    return named and (want != "help" or len(plain) == _WITH_NAME)


def _answer(bare: str, pieces: list[Piece], now: datetime) -> Draft | None:
    """`done all but tray 3`, `later, 30 min`, `in an hour`, `done lots 4 and 5 at 7:30`."""
    plain = bare.replace(",", "")
    solid = [piece for piece in pieces if piece.kind not in ("break", "mark", "dash")]
    if len(solid) > 1 and whole_notes().get(solid[0].low) == _YES and plain.startswith(f"{solid[0].low} "):
        # "ok done with everything but tray 7".
        plain, solid = plain.removeprefix(f"{solid[0].low} "), solid[1:]
    opening = plain.partition(" ")[0]
    if not solid:
        return None
    later = next((said for said in read_talk()["later"].get(opening, ()) if f"{plain} ".startswith(f"{said} ")), None)
    if later is not None:
        return _later(solid, later)
    if opening in _INS and solid[0].low in _LATER_IN:
        return _later(solid, "in give me")
    done = next((said for said in read_talk()["done"].get(opening, ()) if plain.startswith(f"{said} ")), None)
    return _done(solid, done, plain, now) if done is not None else None


def _later(solid: list[Piece], lead: str) -> Draft | None:
    """`later, 30 min`, `in an hour`: an answer with a length of time, and nothing else."""
    length = next((piece for piece in solid if piece.kind == "duration"), None)
    said = {*lead.split(), lead, *_LATER_IN}
    small = (one is length or said.issuperset(one.low.split(" ")) or one.low in said for one in solid)
    if length is None or not all(ok or "filler" in one.roles for ok, one in zip(small, solid, strict=True)):
        return None
    draft = Draft("reply", None, [])
    draft.extra.update(answer="later", duration=length.value[0])
    return draft


def _done(solid: list[Piece], lead: str, plain: str, now: datetime) -> Draft | None:
    """`done all but tray 3`, `done except 16`, `did lots 4 and 5 at 7:30am`: done, for some or but for some."""
    when = resolve_past(solid[-1].value, now) if solid[-1].kind == "moment" else None
    solid = solid if when is None else solid[:-1]
    solid = solid if when is None or solid[-1].low not in ("at", "on", "@") else solid[:-1]
    named: dict[str, tuple[str, ...]] = {}
    for piece in solid:
        if piece.kind in ("lots", "trays"):
            named[piece.kind] = (*named.get(piece.kind, ()), *piece.value)
    bare = () if named else tuple(piece.low for piece in solid if _is_bare_name(piece))
    if not named and not bare:
        return None
    said = " ".join(piece.low for piece in solid)
    words = plain.split(" ")[len(lead.split()) :]
    after = said[len(lead) :].strip() if said.startswith(lead) else " ".join(words)
    exceptions = read_talk()["except"].get(after.split(" ")[0], ())
    draft = Draft("reply", None, [])
    draft.extra["answer"] = "done"
    if when is not None:
        draft.extra["on"] = when
    if any(after.startswith(f"{phrase} ") for phrase in exceptions) and all(_of_exception(one, lead) for one in solid):
        draft.extra["but"] = Exceptions(lots=named.get("lots", bare), trays=named.get("trays", ()))
        return draft
    if bare:
        return None
    others = [one for one in solid if one.kind not in ("lots", "trays") and "filler" not in one.roles]
    if solid[0].low in _DID and all(one.low in (*lead.split(), lead) for one in others):
        draft.extra.update(named)
        return draft
    return None


def _of_exception(piece: Piece, lead: str) -> bool:
    """Whether a piece may stand in `done all but tray 3`."""
    named = piece.kind in ("lots", "trays") or _is_bare_name(piece)
    told = named or not piece.roles.keys().isdisjoint(("filler", "left"))
    return told or piece.low in _EXCEPT_WORDS or piece.low in lead


def _is_bare_name(piece: Piece) -> bool:
    return piece.kind == "number" and piece.low.isdigit()


_LATER_IN: Final = frozenset({"in", "give me"})
_DID: Final = frozenset({"done", "finished", "did it", "all done"})
_EXCEPT_WORDS: Final = small_words("answers", "around_exceptions")


@cache
def read_talk() -> dict[str, dict[str, tuple[str, ...]]]:
    """The openings of answers by their first word, longest first."""
    later = (*answers_said()["later"], *said_of("later", "opens"))
    said = {"later": later, "done": answers_said()["done"], "except": said_of("but", "says")}
    found: dict[str, dict[str, tuple[str, ...]]] = {name: {} for name in said}
    for name, phrases in said.items():
        for phrase in sorted(phrases, key=len, reverse=True):
            word = phrase.split(" ")[0]
            found[name][word] = (*found[name].get(word, ()), phrase)
    return found
