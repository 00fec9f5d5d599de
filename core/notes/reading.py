"""What does a note say: from its words to entries, what must be asked, and what was mended.

Rules
1. Tokens, pieces, clauses, then one act a clause; every word is used, a filler, or kept in the rest.
2. A clause without an act heads those after it, adds to the one before it, or repeats that act on another subject.
3. What was not done is a note; if nothing in the note is an act, the note is kept whole.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any, Final

from core.entries import Act, Entry
from core.errors import BenchError
from core.lots.phrases import phrases
from core.notes.assembly.assemble import assemble
from core.notes.assembly.figures import figures_as_words, has_figures
from core.notes.assembly.mends import mend_tokens
from core.notes.assembly.slashes import part_slashed
from core.notes.assembly.tick_marks import read_ticks
from core.notes.counts.flats_named import name_flats
from core.notes.counts.none_hurt import keep_none_hurt
from core.notes.deeds.either_or import choices_between, either_in
from core.notes.details.apiece import apart
from core.notes.details.drafts import Draft, as_typed
from core.notes.doubtful import asked_among, asked_first, settled, unclear_among
from core.notes.everyday.side_talk import part_side_talk
from core.notes.joining.carry import carry
from core.notes.joining.noting import draft_notes
from core.notes.names.doers import tell_of_who
from core.notes.names.landforms import name_streets
from core.notes.names.who_clauses import join_who_clauses
from core.notes.names.who_did_it import name_who_did_it, tell_whose_work
from core.notes.names.who_it_was import tell_who_it_was
from core.notes.needs import missing
from core.notes.parting.clauses import Clause
from core.notes.talk.answers import answer_and_deeds
from core.notes.talk.asides import keep_remarks, part_asides
from core.notes.talk.asked import ask_of
from core.notes.talk.asking import asks_at_end, begins_question, doubts_deed, is_question, may_ask
from core.notes.talk.broken_off import keep_broken_off
from core.notes.talk.corrected_midway import corrected_midway
from core.notes.talk.deeds_after import plans_deed, tells_deed
from core.notes.talk.doubted_at_once import keep_doubted
from core.notes.talk.question_marks import BEFORE_ASKING, asks_whether_yet, only_names
from core.notes.talk.subject_asked import part_subject_asked
from core.notes.talk.talk import whole_note
from core.notes.telling import told
from core.notes.wishes.reminders import reminder_after_time
from core.notes.wishes.wanted_lists import join_wanted, part_wanted
from core.notes.wishes.wishes import begins_reminder, begins_wish, find_wishes, may_wish
from core.notes.wishes.wishes_apart import wishes_apart
from core.notes.words.known_names import kept_words, tree_with, with_names, with_right_plants
from core.notes.words.pieces import SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.steps import Marks, Steps, looks_for, marks_of
from core.notes.words.tokens import Token, split_note
from core.notes.words.values import NO_NAMES, Ask, Names, Reading, Repair
from core.vocabulary import words
from core.vocabulary.talk_phrases import whole_notes

MOST_LETTERS = 4096
_THEREFORE: Final = frozenset({"so", "and so", "so i", "so we"})
_TOLD_TWICE: Final = frozenset({Act.CLEAR, Act.HOLD, Act.UNCOVER, Act.COVER})
"""What is so after it was told once, however often one note says it."""
_WHO_DID: Final = Steps(
    tell_who_it_was, tell_of_who, tell_whose_work, join_who_clauses, name_who_did_it, keep_none_hurt,
)  # fmt: skip
_WHAT_OF: Final = Steps(join_wanted, part_wanted, part_subject_asked)
_NO_WORDS: frozenset[str] = frozenset()
_ASK_ORDER = ("plant", "lot", "count", "act", "text", "date", "number", "state", "unit", "open", "solution", "to")


def read(note: str, now: datetime, names: Names = NO_NAMES) -> Reading:
    """The reading of a note sent at `now` (the crew's naive local time). Never raises, whatever the text."""
    text = note[: 4 * MOST_LETTERS]
    tokens = split_note(text)
    if all(token.kind == "line" for token in tokens):
        return Reading()
    own = names is not NO_NAMES
    tree, kept = (tree_with(names), kept_words(names)) if own else (words().tree, _NO_WORDS)
    if "/" in text:
        tokens = part_slashed(tokens, tree)
    mended = mend_tokens(tokens, tree, kept)
    tree = with_names(tree, mended.names) if mended.names else tree
    if has_figures(text):
        figures_as_words(tokens, tree)
    repairs = tuple(mended.repairs)
    if mended.doubtful:
        return _doubtful_word(text, tokens, tree, now, mended.doubtful, repairs)
    drafts = _drafts(text, tokens, assemble(tokens, tree), now, names)
    if not drafts:
        drafts = draft_notes(text, tokens, [Clause("", assemble(tokens, tree))], now)
    reading = _reading(text, tokens, drafts, repairs, now)
    return with_right_plants(reading, names) if names.puts_plants_right else reading


def _drafts(text: str, tokens: list[Token], pieces: list[Piece], now: datetime, names: Names) -> list[Draft]:
    marks = marks_of(pieces)
    if name_streets.needed_by(marks):
        name_streets(pieces)
    if read_ticks.needed_by(marks):
        read_ticks(pieces)
        marks = marks_of(pieces)
    if keep_broken_off.needed_by(marks):
        keep_broken_off(pieces)
    if keep_doubted.needed_by(marks):
        keep_doubted(pieces)
        marks = marks_of(pieces)
    if name_flats.needed_by(marks):
        name_flats(pieces)
    mended = _correction_and_more(text, tokens, pieces, marks, now)
    if mended is not None:
        return [*mended[0], *_drafts_of_sentences(text, tokens, mended[1], marks, now, names)]
    talked = whole_note(text, tokens, pieces, marks, now)
    if talked is not None:
        return talked
    answered = answer_and_deeds(pieces, whole_notes()) if answer_and_deeds.needed_by(marks) else None
    if answered is not None:
        return [answered[0], *_drafts_of_sentences(text, tokens, answered[1], marks_of(answered[1]), now, names)]
    midway = corrected_midway(text, tokens, pieces, now) if corrected_midway.needed_by(marks) else None
    if midway is not None:
        before, amended, after = midway
        told_before = _drafts_of_sentences(text, tokens, before, marks_of(before), now, names)
        if not any(map(is_act, after)):
            amended[-1].clauses.append(Clause("", after))
            return [*told_before, *amended]
        return [*told_before, *amended, *_drafts_of_sentences(text, tokens, after, marks_of(after), now, names)]
    _WHO_DID.take(pieces, marks)
    pieces, talk = part_side_talk(pieces) if part_side_talk.needed_by(marks) else (pieces, [])
    if talk and pieces[-1].last <= talk[0].first:
        talked = whole_note(text, tokens[: pieces[-1].last], pieces, marks, now)
        if talked is not None:
            keep_remarks(text, tokens, talked, talk)
            return talked
    pieces, remarks = part_asides(pieces) if part_asides.needed_by(marks) else (pieces, [])
    drafts = _drafts_of_sentences(text, tokens, pieces, marks, now, names)
    keep_remarks(text, tokens, drafts, sorted((*talk, *remarks), key=lambda remark: remark.first))
    return drafts


def _correction_and_more(
    text: str, tokens: list[Token], pieces: list[Piece], marks: Marks, now: datetime
) -> tuple[list[Draft], list[Piece]] | None:
    """`make that 18. tray 3 watered`: a correction, and the deeds told after its sentence."""
    for place, piece in enumerate(pieces):
        if piece.kind == "break" and place and piece.low in SENTENCE_ENDS:
            told = pieces[place + 1 :]
            if not any("act" in one.roles for one in told):
                return None
            before = whole_note(text, tokens[: piece.first], pieces[:place], marks, now)
            return (before, told) if before is not None and before[0].act in ("amend", "undo") else None
    return None


def _drafts_of_sentences(
    text: str, tokens: list[Token], pieces: list[Piece], whole: Marks, now: datetime, names: Names
) -> list[Draft]:
    """The drafts of each sentence of some pieces; `whole` are the marks of the note."""
    drafts: list[Draft] = []
    _WHAT_OF.take(pieces, whole)
    sentences = _sentences(pieces, asks=may_ask(whole), wishes=may_wish(whole))
    for sentence in sentences:
        marks = whole if len(sentences) == 1 else marks_of(sentence)
        if may_wish(marks) and _reminds(sentence):
            drafts.extend(find_wishes(text, tokens, sentence, marks, now) or ())
            continue
        if may_ask(marks) and any(asks(sentence) for asks in _ASKING):
            drafts.append(ask_of(sentence, tokens, now))
            continue
        statements = wishes_apart(text, tokens, sentence, marks, now)
        for statement in statements:
            said = _drafts_of(text, tokens, statement, marks, now, names)
            more = bool(drafts) or len(statements) > 1
            if more and len(said) == 1 and said[0].act == "note" and said[0].extra.get("text") == text.strip():
                # Of the other sentences more is told than the note of this one.
                said[0].extra["text"] = _words_of(text, tokens, statement)
            drafts.extend(said)
    return drafts


def _drafts_of(
    text: str, tokens: list[Token], sentence: list[Piece], marks: Marks, now: datetime, names: Names
) -> list[Draft]:
    """The drafts of a sentence with these marks that asks nothing."""
    wished = find_wishes(text, tokens, sentence, marks, now)
    if wished is not None:
        return wished
    if _tells_cold_trouble.needed_by(marks) and _tells_cold_trouble(sentence):
        # "fridge was off 3 days" is no stratification of three days: it puts the days of those in it in doubt.
        trouble, after = _deeds_after_trouble(sentence)
        if after:
            noted = draft_notes(text, tokens, [Clause("", trouble)], now, whole=False)
            return [*noted, *told(text, tokens, after, marks_of(after), now, names)]
        read_off = [one for one in told(text, tokens, sentence, marks, now, names) if one.act == "temp"]
        return [*read_off, *draft_notes(text, tokens, [Clause("", sentence)], now, whole=False)]
    return told(text, tokens, sentence, marks, now, names)


def _deeds_after_trouble(sentence: list[Piece]) -> tuple[list[Piece], list[Piece]]:
    """`power was out | misted tray 4`: the trouble, and the deeds told after its comma, if any."""
    for at, piece in enumerate(sentence):
        if piece.kind == "break" or piece.low in _THEREFORE:
            after = sentence[at + 1 :]
            deeds = any(map(is_act, after)) and any(one.kind in SUBJECTS for one in after)
            return (sentence[:at], after) if deeds and at else (sentence, [])
    return sentence, []


def _words_of(text: str, tokens: list[Token], sentence: list[Piece]) -> str:
    """A sentence as typed, without the marks around it."""
    told = [piece for piece in sentence if piece.kind != "break"]
    return as_typed(text, tokens, told[0].first, told[-1].last)


@looks_for(any_of=phrases().trouble_where)
def _tells_cold_trouble(sentence: list[Piece]) -> bool:
    """True for words that begin with a cold place and say at once what is wrong with it, or that it runs again."""
    words = " ".join(piece.low for piece in sentence if piece.kind not in ("break", "mark"))
    return _cold_trouble().match(words) is not None


@cache
def _cold_trouble() -> re.Pattern[str]:
    known = phrases()
    where = "|".join(re.escape(word) for word in known.trouble_where)
    told = (*known.trouble_what, *known.trouble_over)
    what = "|".join(re.escape(word) for word in sorted(told, key=len, reverse=True))
    been = "(?: (?:was|is|has|had|got|been|went|found|door|again))*"
    return re.compile(rf"(?:the |our |seed )*(?:{where}){been} (?:{what})\b")


def _reminds(sentence: list[Piece]) -> bool:
    first = next((place for place, piece in enumerate(sentence) if piece.kind != "break"), 0)
    return begins_reminder(sentence, first)


def _doubted(sentence: list[Piece]) -> bool:
    first = next((place for place, piece in enumerate(sentence) if piece.kind != "break"), 0)
    return not begins_wish(sentence, first) and doubts_deed(sentence, first)


def _sentences(pieces: list[Piece], *, asks: bool, wishes: bool) -> list[list[Piece]]:
    """Runs of pieces that are one question, one wish, or the telling between them; `asks` and `wishes` tell whether
    there may be any of the kind.
    """
    if not asks and not wishes:
        return [pieces] if any(piece.kind != "break" for piece in pieces) else []
    runs: list[list[Piece]] = [[]]
    special = False
    asking = False
    timed = 0
    for place, piece in enumerate(pieces):
        fresh = place == 0 or pieces[place - 1].kind == "break"
        if (
            fresh
            and place
            and not special
            and pieces[place - 1].low in BEFORE_ASKING
            and begins_question(pieces, place)
            and only_names(runs[-1])
        ):
            runs[-1].append(piece)
            special = asking = True
            continue
        if fresh and special and place and _tells_apart(pieces, place, runs[-1]):
            runs.append([piece])
            special = asking = False
            continue
        if fresh and asking and place and pieces[place - 1].low in BEFORE_ASKING and not begins_wish(pieces, place):
            runs[-1].append(piece)
            continue
        if fresh and place < timed:
            runs[-1].append(piece)
            continue
        timed = max(timed, place + 1 + reminder_after_time(pieces, place)) if fresh else timed
        opens = fresh and (begins_question(pieces, place) or begins_wish(pieces, place) or _doubt_begins(pieces, place))
        if opens and runs[-1]:
            runs.append([])
            special = False
        if opens:
            special = True
            asking = begins_question(pieces, place)
        elif fresh and special and place and pieces[place - 1].low in (".", "\n", "?", "!", ";"):
            runs.append([])
            special = asking = False
        runs[-1].append(piece)
    return [run for run in runs if any(piece.kind != "break" for piece in run)]


def _tells_apart(pieces: list[Piece], place: int, before: list[Piece]) -> bool:
    """Whether a deed that was done, or is planned after what is wanted, is told of its own after a question or wish."""
    return tells_deed(pieces, place) or (plans_deed(pieces, place) and not _reminds(before))


_ASKING: Final = (is_question, asks_at_end, asks_whether_yet, _doubted)


def _doubt_begins(pieces: list[Piece], place: int) -> bool:
    begins = place == 0 or pieces[place - 1].low in (".", "\n", "?", "!", ";")
    return begins and doubts_deed(pieces, place)


def _reading(
    text: str, tokens: list[Token], drafts: list[Draft], repairs: tuple[Repair, ...], now: datetime
) -> Reading:
    carry(drafts)
    entries: list[Entry] = []
    asks: list[Ask] = []
    for draft in drafts:
        values, asked = draft.values(text, tokens)
        needed = [kind for kind in missing(draft.act, values) if kind not in asked]
        if "number" in asked:
            needed = [kind for kind in needed if kind not in ("lot", "count")]
        if draft.draws_on_lot():
            needed = [kind for kind in needed if kind != "plant"]
        if "unit" in asked and draft.act == "vent":
            needed = [kind for kind in needed if kind != "open"]
        kinds = sorted({*asked, *needed}, key=_ASK_ORDER.index) if asked or needed else []
        for own in apart(values):
            try:
                entry = _entry(draft, own, text, tokens)
            except BenchError:
                entry, kinds = Entry(act=Act.NOTE, text=text.strip()), ["number"]
            if entries and entry.act in _TOLD_TWICE and replace(entry, rest=None) == replace(entries[-1], rest=None):
                # "lot 12 cleared, off hold".
                rest = " ".join(filter(None, (entries[-1].rest, entry.rest)))
                entries[-1] = replace(entry, rest=rest or None)
                continue
            either = either_in(draft.clauses) if "lot" in kinds else None
            if either is not None:
                typed = as_typed(text, tokens, either.first, either.last)
                draft.choices = {**draft.choices, "lot": choices_between(entry, either, typed)}
            asks.extend(Ask(kind=kind, entry=len(entries), choices=draft.choices.get(kind, ())) for kind in kinds)
            entries.append(entry)
    return Reading(entries=tuple(entries), asks=tuple(asks), repairs=repairs)


def _entry(draft: Draft, values: dict[str, Any], text: str, tokens: list[Token]) -> Entry:
    """The entry of an act; nought in a list of losses (`lost 3 and 0`) is a note."""
    if draft.act == "lose" and values.get("count") == 0 and (said := draft.clauses[0].pieces):
        subject = {key: values[key] for key in ("lots", "trays") if key in values}
        return Entry(act=Act.NOTE, text=as_typed(text, tokens, said[0].first, said[-1].last), **subject)
    return Entry.saying(Act(draft.act), values)


def _doubtful_word(
    text: str,
    tokens: list[Token],
    tree: dict[str, Any],
    now: datetime,
    doubtful: tuple[int, tuple[str, ...]],
    repairs: tuple[Repair, ...],
) -> Reading:
    """A word that may mean two acts: settled where the rest of the note does that, else its statement is noted and
    asked with its readings; what else the note tells is told.
    """
    at, choices = doubtful
    typed = tokens[at].low
    drafts: list[list[Draft]] = []
    readings: list[Reading] = []
    for choice in choices:
        tokens[at].low = choice
        drafts.append(_drafts(text, tokens, assemble(tokens, tree), now, NO_NAMES))
        readings.append(_reading(text, tokens, drafts[-1], (), now))
    tokens[at].low = typed
    place = settled(readings)
    if place is not None:
        one = readings[place]
        return Reading(entries=one.entries, asks=one.asks, repairs=(*repairs, Repair(read=typed, as_=choices[place])))
    beside = unclear_among(readings)
    if beside is not None and len(drafts[0]) == len(readings[0].entries):
        noted = draft_notes(text, tokens, drafts[0][beside].clauses, now, whole=False)[0]
        return replace(asked_among(readings, beside, noted.extra["text"]), repairs=repairs)
    drafts_noted = draft_notes(text, tokens, [Clause("", assemble(tokens, tree))], now)
    noted_whole = _reading(text, tokens, drafts_noted, repairs, now)
    return Reading(entries=noted_whole.entries, asks=(asked_first(readings),), repairs=repairs)


__all__ = ["read"]
