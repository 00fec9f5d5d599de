"""What was not meant of the note just told: "not 15", "all but tray 3", "only 14", "not all, 3 left", "not misted".

Rules
1. Only the speaker's latest note of the talk, or the note replied to, is meant, and only a lot, a tray or a deed that
   is in it.
2. Where nothing would be left of the note it is asked what is right.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from core.answers import Answer, Corrected
from core.conversation.asking import put_question
from core.conversation.correcting import amend_record
from core.conversation.correction_words import bare, said, without_ends
from core.conversation.pots_moved import in_pots_named, names_pots
from core.conversation.recording import Pending
from core.conversation.scene import Scene
from core.conversation.taking_back import take_back_records
from core.conversation.told_before import own_notes
from core.entries import Act, Entry
from core.errors import BadEntry
from core.lots.trays import lots_in
from core.notes import Reading, read, read_answer
from core.records import Record
from core.storage import Books

_LONGEST = 8


def hear_left_out(books: Books, scene: Scene, reading: Reading) -> tuple[Answer, ...]:
    """The answers to words that take something out of the note just told; none for other words."""
    words = without_ends(bare(scene.message.text), "left_out")
    if len(words.split()) > _LONGEST or "?" in scene.message.text or scene.replied_reminders:
        return ()
    told = latest_note(books, scene)
    if not told or any(one.act not in (Act.NOTE, Act.AMEND, Act.CHECK) for one in reading.entries):
        return ()
    only_potted = _only_potted(books, words, told)
    if only_potted is not None:
        return (amend_record(books, scene, told[-1].number, only_potted),)
    return _not_all(books, scene, words, told) or _not_there(books, scene, words, told) or _not_done(
        books, scene, words, told
    )  # fmt: skip


def latest_note(books: Books, scene: Scene) -> list[Record]:
    """The records of the note replied to, else of this speaker's latest note of the talk, that say what was done."""
    notes = own_notes(books, scene)
    return notes[-1] if notes else []


def _opened(words: str, key: str) -> str | None:
    """What follows the words under a key of [left_out], or None where the text does not begin so."""
    opener = next((one for one in said("left_out", key) if words.startswith(f"{one} ")), None)
    return words.removeprefix(opener).strip() if opener is not None else None


def _only_potted(books: Books, words: str, told: Sequence[Record]) -> Entry | None:
    """ "No, just the potted ones", after a move of the lot: the move of so many; None for other words."""
    only = _opened(words, "only")
    record = told[-1]
    lot = books.lot(record.lot) if record.lot is not None else None
    if only is None or lot is None or record.entry.act is not Act.MOVE or not names_pots(lot, only):
        return None
    count = in_pots_named(lot, only)
    return replace(record.entry, count=count, all_of=False, rest=only) if count else None


def _not_there(books: Books, scene: Scene, words: str, told: Sequence[Record]) -> tuple[Answer, ...]:
    out = _opened(words, "opens")
    named = read_answer("lot", out if out is not None else _opened(words, "only") or "", scene.local_now) or {}
    lots = {number for one in named.get("lots", ()) if (number := books.resolve(one, scene.year()))}
    trays = set(named.get("trays", ()))
    lots |= {lot.number for tray in trays for lot in lots_in(tray, books.lots())}
    concerned = [one for one in told if one.lot in lots or trays & set(one.trays)]
    if not named or "plant" in named or not concerned or len(lots) < len(named.get("lots", ())):
        return ()
    after = {one.entry: _without(books, scene, one.entry, lots, trays, keep=out is None) for one in concerned}
    if any(one is None for one in after.values()):
        if len(named) > 1 or out is None:
            return ()
        return what_is_right(books, scene, concerned[0], names="lot" if "lots" in named else "tray")
    first = {entry: next(one.number for one in concerned if one.entry == entry) for entry in after}
    return one_undo(
        [amend_record(books, scene, first[entry], one) for entry, one in after.items() if one not in (None, entry)]
    )


def _without(
    books: Books, scene: Scene, entry: Entry, lots: set[str], trays: set[str], *, keep: bool
) -> Entry | None:
    """The entry without (with `keep`, with no other than) these lots or trays; None where nothing would be left."""
    kept_lots = tuple(one for one in entry.lots if (books.resolve(one, scene.year()) in lots) is keep)
    if entry.lots:
        return replace(entry, lots=kept_lots, trays=()) if kept_lots else None
    standing = {tray for number in lots if (lot := books.lot(number)) for tray in lot.trays}
    kept_trays = tuple(one for one in entry.trays if (one in trays | standing) is keep)
    return replace(entry, trays=kept_trays) if kept_trays else None


def _not_all(books: Books, scene: Scene, words: str, told: Sequence[Record]) -> tuple[Answer, ...]:
    """ "Not all, all but 6", "not all, 3 left", after a note that told of all of them."""
    record = told[0]
    if len(told) != 1 or not (record.entry.all_of or record.entry.share == 1):
        return ()
    opener = next((one for one in said("not_all") if words == one or words.startswith(f"{one} ")), "")
    rest = words.removeprefix(opener).strip()
    if opener and not rest:
        return what_is_right(books, scene, record)
    left = _left(rest, "but") if record.entry.act is not Act.LOSE else _left(rest, "but") or _left(rest, "alive")
    after = _all_but(books, record, left) if left is not None else None
    return (amend_record(books, scene, record.number, after),) if after is not None else ()


def what_is_right(books: Books, scene: Scene, record: Record, **facts: str) -> tuple[Answer, ...]:
    """The question what is right of a record; an answer that comes after other notes still means this one."""
    facts |= {"message": record.message}
    return (put_question(books, scene, [Pending(kind="amend_what", entries=(Entry(act=Act.AMEND),), facts=facts)]),)


def _left(words: str, key: str) -> int | None:
    for way in said("not_all", key):
        found = re.fullmatch(re.escape(way).replace(r"\{left\}", r"(\d{1,5})"), words)
        if found is not None:
            return int(found[1])
    return None


def _all_but(books: Books, record: Record, left: int) -> Entry | None:
    plain = replace(record.entry, all_of=False, share=None)
    lot = books.lot(record.lot) if record.lot is not None else None
    try:
        if record.entry.act is Act.LOSE:
            return replace(plain, left=left)
        if lot is None or lot.left is None or left >= lot.left:
            return None
        return replace(plain, count=lot.left - left, of=lot.left if record.entry.act is Act.CHECK else None)
    except BadEntry:
        return None


def _not_done(books: Books, scene: Scene, words: str, told: Sequence[Record]) -> tuple[Answer, ...]:
    """ "Not misted": the deed of that name in the note is taken back, and the others stand."""
    if not words.startswith("not "):
        return ()
    denied = read(f"lot 1: {words.removeprefix('not ')}", scene.local_now, scene.names)
    one = denied.entries[0] if len(denied.entries) == 1 else None
    if one is None or one.act in (Act.NOTE, Act.ASK) or one.rest or one.count is not None:
        return ()
    records = [record for record in told if says_same_deed(record.entry, one)]
    return (take_back_records(books, scene, records),) if records else ()


def says_same_deed(entry: Entry, named: Entry) -> bool:
    """Whether some words ("misted", "rooted") name the deed of an entry."""
    kinds = ("act", "state", "method", "treatment", "care", "cause")
    return all(getattr(named, kind) in (None, getattr(entry, kind)) for kind in kinds)


def one_undo(answers: Sequence[Answer]) -> tuple[Answer, ...]:
    """Several corrections of one message with one button: its undo takes back what the whole message corrected."""
    alone = [replace(one, choices=()) if isinstance(one, Corrected) else one for one in answers[:-1]]
    return (*alone, *answers[-1:])
