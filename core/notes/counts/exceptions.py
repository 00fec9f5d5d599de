"""What was left out of a deed: `lots 4-8 misted except 6`, `moved lots 12-14 to the slab but not 13`, `all but tray 4`.

Rules
1. Lots or trays that are named and left out again are taken out of the list that names them.
2. Of all lots, or all plants but some, nobody can say here which they are: such words are kept, and it is asked.
3. Of a loss, `all dead but 3` tells how many are left.
"""

from __future__ import annotations

from typing import Final

from core.notes.counts.lists_before import act_near, all_before, holds_more, names_in, numbers_in, whole_before
from core.notes.words.act_kinds import COUNTLESS
from core.notes.words.pieces import COUNTS, NO_ROLES, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.runs import Runs
from core.notes.words.said import begin_of_statement, comma_before, end_of_statement, is_end
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words

EXCEPTING: Final = Runs(small_words("wholes", "excepting"))
SOFTLY: Final = small_words("wholes", "softly_excepting")
_NAMING: Final = SUBJECTS | {"number"}
_TAKEN_OFF: Final = small_words("wholes", "taken_off")
_LEAVING: Final = frozenset({"pot", "sell", "give", "plant_out", "move", "split"})
_SAID_OF_ONE: Final = small_words("beside", "said_of_one")
_BETWEEN: Final = frozenset({"the", "for", "for the", "those", "numbers", "only", "last", "the last", "other"})
_AFTER_MARK: Final = frozenset({"but", "not", "but not"})
_JOINTS: Final = frozenset({"and", "&", ",", "+", "or"})
_LEADS: Final = frozenset({"to", "in", "on", "from", "at", "of", "into", "by", "for", "today"})
_SKIPPED: Final = small_words("wholes", "left_out")
_STAYS: Final = small_words("wholes", "stays")
_TELLING: Final = frozenset({"has", "have", "had", "got", "lost", "needs", "is", "was"})
_SKIPPING: Final = frozenset({"skipped", "skip", "left", "missed"})


@looks_for("@left", "but", any_of=small_words("wholes", "excepting") | _SKIPPED | _STAYS | _SKIPPING)
def leave_out(pieces: list[Piece]) -> None:
    """Takes what a sentence leaves out from what was done, in place."""
    for at, piece in enumerate(pieces):
        begins = piece.low in EXCEPTING.heads or "left" in piece.roles
        if begins and (end := excepting_words(pieces, at)):
            _leave_out(pieces, at, end)
        elif piece.kind in _NAMING and at and pieces[at - 1].kind == "break" and names_in(piece):
            _left_out_after(pieces, at)


def excepting_words(pieces: list[Piece], at: int) -> int | None:
    """Where the words for "except" that begin at a place end."""
    if "left" in pieces[at].roles:
        return at + 1
    if pieces[at].kind == "kept" or (at == 0 and pieces[0].low == "save"):
        # "save lot 22 for ana": to be kept.
        return None
    return EXCEPTING.end_at(pieces, at) or None


def _leave_out(pieces: list[Piece], at: int, end: int) -> None:
    first = end
    while first < len(pieces) and pieces[first].low in _BETWEEN:
        first += 1
    plants_end, said_all = _plants_until(pieces, first), all_before(pieces, at)
    if plants_end and said_all is None and at and pieces[at].low in _AFTER_MARK and pieces[at - 1].low == ",":
        said_all = all_before(pieces, at - 1)
    softly = " ".join(piece.low for piece in pieces[at:end]) in SOFTLY
    if plants_end and said_all is not None and not any("plant" in one.roles for one in pieces[said_all:at]):
        if said_all != at:
            _keep(pieces[said_all])
        keep_run(pieces, at, plants_end)
        return
    if said_all is not None and first < len(pieces) and _is_vague(pieces[first]):
        if said_all != at:
            _keep(pieces[said_all])
        keep_run(pieces, at, first + 1)
        return
    whole = whole_before(pieces, at)
    last, kind, names = _left_out(pieces, first, names_in(pieces[whole]) if whole is not None else ())
    if not names:
        if said_all not in (None, at) and not plants_end and (not softly or _some_of_them(pieces, end)):
            _keep_some_left_out(pieces, said_all or 0, at, end)
        return
    if softly and last < len(pieces) and pieces[last].low in _SAID_OF_ONE:
        return
    if kind is None and said_all is None and _counts_those_left(pieces, at, end, last, whole, names):
        keep_run(pieces, at, last)
        if softly:
            _keep_count_before(pieces, at)
        return
    if kind is None and not _may_end(pieces, last, softly=softly):
        return
    if whole is not None and kind in (None, pieces[whole].kind) and holds_more(pieces[whole], names):
        if last < len(pieces) and pieces[last].low in _TELLING:
            own = _joined(pieces[at:last], pieces[whole].kind if pieces[whole].kind in SUBJECTS else "lots")
            own.value = names
            pieces[at:last] = [comma_before(own), own]
            return
        _take_out(pieces, whole, at, last, names, said_all)
    elif whole is not None and pieces[whole].value == ("all",) and said_all is None:
        _keep(pieces[whole])
        keep_run(pieces, at, last)
    elif whole is None and said_all is None and _taken_from_later(pieces, at, last, kind, names):
        return
    else:
        _of_plants(pieces, at, last, said_all, act_near(pieces, at), named=kind is not None, softly=softly)


def _counts_those_left(
    pieces: list[Piece], at: int, end: int, last: int, whole: int | None, names: tuple[str, ...]
) -> bool:
    """`potted lot 30 minus 4 runts`, `lot 14 fed except the 3 runts`: a number that counts plants left behind."""
    hard = " ".join(piece.low for piece in pieces[at:end]) not in SOFTLY - _TAKEN_OFF
    lot = whole is not None and pieces[whole].kind in SUBJECTS and set(names).isdisjoint(pieces[whole].value)
    some = pieces[last].kind == "word" if last < len(pieces) else False
    leaves = some or act_near(pieces, at) in _LEAVING
    return hard and lot and pieces[at - 1].kind != "break" and leaves


def _keep_count_before(pieces: list[Piece], at: int) -> None:
    """`potted 24 of lot 30 less 3`: whether the three are of the count before is not said."""
    while at and pieces[at - 1].kind != "break":
        at -= 1
        if pieces[at].kind == "number":
            _keep(pieces[at])


def _is_vague(piece: Piece) -> bool:
    """`all but a few`, `all but a couple`."""
    return "vague" in piece.roles or (piece.kind == "number" and bool(piece.value.approx))


def _some_of_them(pieces: list[Piece], at: int) -> bool:
    """`but the one by the door`, `but a few`: some of the plants."""
    return any(
        piece.low in ("one", "the one", "ones") or "vague" in piece.roles or "couple" in piece.roles
        for piece in pieces[at : at + 3]
    )


def _keep_some_left_out(pieces: list[Piece], said_all: int, at: int, end: int) -> None:
    """`all dead except maybe 3`, `all dead but the one by the door`: all but some that nobody can tell."""
    while end < len(pieces) and pieces[end].kind not in ("break", *SUBJECTS) and not is_act(pieces[end]):
        if pieces[end].low in ("to", "into", "onto"):
            break
        end += 1
    keep_run(pieces, at, end)
    _keep(pieces[said_all])


def _plants_until(pieces: list[Piece], at: int) -> int:
    """Where the plants end that were left out (`everything but the lupines and the yarrow`); 0 where none are."""
    end = 0
    while at < len(pieces) and "plant" in pieces[at].roles and not is_act(pieces[at]):
        end = at + 1 + (at + 1 < len(pieces) and pieces[at + 1].kind == "quote")
        at = end
        while at < len(pieces) and (pieces[at].low in _JOINTS or pieces[at].low in _BETWEEN):
            at += 1
    return end


def _taken_from_later(pieces: list[Piece], at: int, last: int, kind: str | None, names: tuple[str, ...]) -> bool:
    """`except for tray 3 all misted`, `except tray 3, trays 1-5 misted`: what is left out of a whole after it."""
    if at and pieces[at - 1].kind not in ("break", "moment"):
        return False
    for piece in pieces[last:]:
        if piece.kind == "break" and piece.low in SENTENCE_ENDS:
            return False
        if piece.kind in SUBJECTS and kind in (None, piece.kind) and holds_more(piece, names):
            piece.value = tuple(name for name in piece.value if name not in names)
            keep_run(pieces, at, last)
            return True
        if ("all" in piece.roles and piece.kind == "phrase") or piece.value == ("all",):
            _keep(piece)
            keep_run(pieces, at, last)
            return True
    return False


def _of_plants(
    pieces: list[Piece], at: int, last: int, said_all: int | None, act: str | None, *, named: bool, softly: bool
) -> None:
    """`lot 9 all dead but 3`, `potted all of lot 22 except 5`: all plants but some, or all lots but those named."""
    if not named and last - at > 1 and act == "lose" and said_all != at and (said_all is not None or not softly):
        if said_all is not None:
            pieces[said_all].roles, pieces[said_all].used = {"filler": True}, True
        pieces[at : last - 1] = [_joined(pieces[at : last - 1], "phrase")]
        pieces[at].low, pieces[at].roles = "all but", {"left": True}
    elif said_all is not None and (named or act not in (None, "lose")) and not (said_all == at and act == "check"):
        if said_all != at:
            _keep(pieces[said_all])
            if said_all + 1 < at and pieces[said_all + 1].kind == "number":
                _keep(pieces[said_all + 1])
        if named or act in COUNTLESS or said_all != at:
            keep_run(pieces, at, last)
    elif said_all is None and not named and act == "check" and (not softly or _ends_state(pieces, at, last)):
        keep_run(pieces, at, last)


def _ends_state(pieces: list[Piece], at: int, last: int) -> bool:
    """`lot 9 rooted but 3`: nothing more is told, and nothing was counted."""
    counted = any(piece.kind in COUNTS for piece in pieces[begin_of_statement(pieces, at) : at])
    return is_act(pieces[at - 1]) and is_end(pieces, last) and not counted


def _left_out_after(pieces: list[Piece], at: int) -> None:
    """`lots 3-6 watered, lot 5 skipped`, `31 not yet`, `tray 7 was wet so skipped it`: those named before, and that
    they were left out.
    """
    last, kind, names = _left_out(pieces, at, ())
    whole = whole_before(pieces, at)
    if whole is None or kind not in (None, pieces[whole].kind) or not holds_more(pieces[whole], names):
        return
    if act_near(pieces, at) == "merge" or any(piece.low == "together" for piece in pieces[whole:at]):
        return
    end, told = _said_left_out(pieces, last), _skipped_it(pieces, last) or _stays(pieces, last)
    if end:
        _take_out(pieces, whole, at, end, names, None)
    elif told:
        kept = tuple(name for name in names_in(pieces[whole]) if name not in names)
        pieces[whole].kind = pieces[whole].kind if pieces[whole].kind in SUBJECTS else "lots"
        pieces[whole].value = kept
        keep_run(pieces, at, told)


def _said_left_out(pieces: list[Piece], at: int) -> int:
    """Where the words end that say at a place that those before it were left out (`was skipped`, `not yet`)."""
    while at < len(pieces) and pieces[at].low in ("was", "were", "is", "are", "got"):
        at += 1
    for end in (at + 2, at + 1):
        said = " ".join(piece.low for piece in pieces[at:end])
        if end <= len(pieces) and said in _SKIPPED and (end == len(pieces) or _closes(pieces[end])):
            return end
    return 0


def _stays(pieces: list[Piece], at: int) -> int:
    """Where `stays in` ends that is said of a lot before a place."""
    if at >= len(pieces) or pieces[at].low.split(" ")[0] not in _STAYS:
        return 0
    end = at + 1
    while end < len(pieces) and pieces[end].kind != "break" and not is_act(pieces[end]):
        end += 1
    return end


def _closes(piece: Piece) -> bool:
    return piece.kind in ("break", "moment") or piece.low in ("and", "but", "though")


def _skipped_it(pieces: list[Piece], at: int) -> int:
    """Where `so skipped it` ends that is said of a lot before a place."""
    for place in range(at, min(at + 8, len(pieces) - 1)):
        if pieces[place].kind in SUBJECTS or pieces[place].low in SENTENCE_ENDS:
            return 0
        if pieces[place].low in _SKIPPING and pieces[place + 1].low in ("it", "them", "that", "that one"):
            return place + 2
    return 0


def _left_out(pieces: list[Piece], at: int, whole: tuple[str, ...]) -> tuple[int, str | None, tuple[str, ...]]:
    """What is named after the words for "except": where it ends, its kind (None for bare numbers), its names."""
    if at < len(pieces) and pieces[at].kind in SUBJECTS:
        return at + 1, pieces[at].kind, tuple(pieces[at].value)
    if at < len(pieces) and pieces[at].kind in ("word", "phrase") and pieces[at].low in whole:
        return at + 1, None, (pieces[at].low,)
    names: list[str] = []
    end = at
    while end < len(pieces) and numbers_in(pieces[end]):
        names.extend(numbers_in(pieces[end]))
        end += 1
        if end + 1 < len(pieces) and pieces[end].low in _JOINTS and numbers_in(pieces[end + 1]):
            end += 1
        else:
            break
    return end, None, tuple(names)


def _may_end(pieces: list[Piece], at: int, *, softly: bool) -> bool:
    """Whether a bare number before a place is a lot left out (`but 6, too wet`), and counts nothing (`but 6 dead`)."""
    if is_end(pieces, at):
        return True
    piece = pieces[at]
    word = piece.roles.get("act") or piece.roles.get("noun")
    if word is not None:
        return not word.counts_before
    if piece.kind == "moment" or piece.low in _LEADS or piece.low in ("because", "bc", "since"):
        return True
    return not softly and piece.kind in ("word", "phrase") and "plant" not in piece.roles


def _take_out(
    pieces: list[Piece], whole: int, at: int, last: int, names: tuple[str, ...], said_all: int | None
) -> None:
    """Leaves the names out of the list, or of a list of its own where another deed holds for the whole one."""
    kept = tuple(name for name in names_in(pieces[whole]) if name not in names)
    kind = pieces[whole].kind if pieces[whole].kind in SUBJECTS else "lots"
    if said_all is not None and _deed_of_its_own(pieces, said_all, last) and _told_before(pieces, whole, said_all):
        own = _joined(pieces[at:last], kind)
        own.value = kept
        pieces[at:last] = [own]
        return
    pieces[whole].kind, pieces[whole].value = kind, kept
    if last < len(pieces) and pieces[last].kind in ("word", "phrase") and _says_why(pieces[last]):
        keep_run(pieces, at, last)
        return
    start = at - (at > 0 and pieces[at - 1].low in (",", "("))
    closes = pieces[start].low == "(" and last < len(pieces) and pieces[last].low == ")"
    del pieces[start : last + closes]


def _deed_of_its_own(pieces: list[Piece], at: int, last: int) -> bool:
    """Whether a deed stands between the last mark before a place and the next one after what is left out."""
    start, end = begin_of_statement(pieces, at), end_of_statement(pieces, last)
    return any(is_act(piece) for piece in pieces[start:end])


def _says_why(piece: Piece) -> bool:
    """`skipped 13 bc wet`, `except 5 shut`: a remark on those left out, with which their words are kept."""
    return not is_act(piece) and piece.low not in _LEADS and piece.low not in ("and", "then", "but")


def _told_before(pieces: list[Piece], whole: int, until: int) -> bool:
    """Whether a deed before the last mark holds for a list (`lots 4-8 watered, fed all but 6`)."""
    marks = [place for place, piece in enumerate(pieces[whole:until], whole) if piece.kind == "break"]
    start = begin_of_statement(pieces, whole)
    return bool(marks) and any(is_act(piece) for piece in pieces[start : marks[0]])


def _keep(piece: Piece) -> None:
    """Makes the words of a whole ones that nothing uses, without the article that ends them."""
    while piece.last - piece.first > 1 and piece.low.endswith((" the", " of")):
        piece.last, piece.low = piece.last - 1, piece.low.rsplit(" ", 1)[0]
    piece.kind, piece.value, piece.roles = "exception", None, NO_ROLES


def keep_run(pieces: list[Piece], at: int, last: int) -> None:
    pieces[at:last] = [_joined(pieces[at:last], "exception")]


def _joined(run: list[Piece], kind: str) -> Piece:
    return Piece(kind, None, run[0].first, run[-1].last, " ".join(piece.low for piece in run))
