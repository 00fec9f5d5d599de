"""Where does one statement end and the next begin: the pieces of a note in clauses, each with at most one act.

Rules
1. Marks and line ends always part clauses; `and`, `then`, `but`, `&`, `+` part them only where an act or a new
   subject follows.
2. Two acts in one clause part it before the second; what it counts goes with it (`14 31 rooted 4 rotted`).
3. Words that only detail the act before them (`tossed 4 dead`, `checked tray 4, 12 rooted`) open no clause of their
   own.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.counts.shares import join_shares
from core.notes.names.groups import buys, join_two, keep_groups
from core.notes.parting.covers import find_covers
from core.notes.parting.covers_kept import keep_recovered
from core.notes.parting.deeds_in_turn import counts_once_more, denied_alone, of_its_own, turn_by_turn
from core.notes.parting.harm import bag_and_bin, count_rot, lose_to_wilt
from core.notes.parting.held_as_they_are import keep_held
from core.notes.parting.lids_ajar import open_with_lids
from core.notes.parting.loose_acts import FIND_LOOSE_ACTS, find_causes
from core.notes.parting.lots_made import FIND_LOTS_MADE
from core.notes.parting.not_deeds import (
    keep_all_there,
    keep_as_it_was,
    keep_emptied_bags,
    keep_held_covers,
    keep_house_heat,
    keep_purposes,
    keep_qualities,
    keep_ready_for,
    keep_rejected,
    keep_replacements,
    keep_sides,
    keep_turned_up,
    keep_until,
    keep_weeds_up,
)
from core.notes.parting.nouns_of_acts import counted_nouns, sensible_nouns
from core.notes.parting.parted import join_names, join_parted
from core.notes.parting.parts_harmed import keep_harm_to_parts
from core.notes.parting.plants_before_deed import tell_of_each_plant
from core.notes.parting.put_back import find_put_back
from core.notes.parting.receivers import (
    PART_RECEIVERS,
    count_each_receiver,
    find_namesakes,
    find_promised,
    find_will,
    keep_included,
)
from core.notes.parting.reservations import join_theirs, tell_reserved
from core.notes.parting.sayings import keep_idioms
from core.notes.parting.so_that import keep_being_cleaned, keep_so_that, moved_out_for_a_while, put_out_to_harden
from core.notes.parting.split_off import find_splits
from core.notes.parting.states_first import PART_STATES_FIRST
from core.notes.parting.thrown_out import keep_thrown_out
from core.notes.parting.told_again import part_covers
from core.notes.parting.unmarked import PART_UNMARKED
from core.notes.parting.untold import FIND_UNTOLD
from core.notes.parting.vents import find_vents
from core.notes.parting.wet_already import tell_water
from core.notes.parting.without_covers import tell_bare, tell_open
from core.notes.parting.work_to_come import keep_work_to_come
from core.notes.words.pieces import COUNTS, SUBJECTS, Piece, is_act
from core.notes.words.said import keep_words
from core.notes.words.steps import ALL_MARKS, Marks, Steps
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_SOFT: Final = frozenset({"and", "then", "also", "&", "+", "plus", "but", "while", "so", "after that", "n"})


_WITH: Final = frozenset({"w", "with", "w/"})
_DOING: Final = small_words("people", "doing_else")
_REFUSE: Final = frozenset({"compost", "trash", "garbage", "bin", "dump", "landfill", "burn pile", "green waste"})


_ADJECTIVES_AFTER: Final = frozenset(
    {"pot", "sell", "give", "plant_out", "move", "split", "reserve", "hold", "divide", "collect", "stick"}
)


_STEPS: Final = Steps(
    join_two, keep_groups, buys, join_names, join_parted, keep_house_heat, keep_turned_up, keep_weeds_up, join_shares,
    keep_sides,
    keep_as_it_was, keep_until, keep_all_there, keep_ready_for, keep_so_that, put_out_to_harden,
    moved_out_for_a_while, keep_being_cleaned, keep_emptied_bags,
    keep_qualities, keep_held_covers, keep_replacements, keep_purposes, keep_rejected,
    tell_water, keep_held, keep_thrown_out, keep_idioms, keep_harm_to_parts, tell_reserved, join_theirs,
    bag_and_bin, count_rot, lose_to_wilt,
    find_causes, *FIND_UNTOLD, *FIND_LOOSE_ACTS, find_splits, *FIND_LOTS_MADE, find_namesakes, find_promised,
    find_will, keep_included, count_each_receiver, *PART_RECEIVERS, tell_of_each_plant,
    keep_work_to_come, keep_recovered, tell_open, tell_bare,
    part_covers, open_with_lids, find_covers, find_vents, find_put_back,
    *PART_STATES_FIRST, *PART_UNMARKED,
)  # fmt: skip


_WHERE: Final = frozenset({"outside", "inside", "outdoors", "indoors", "to", "into", "onto"})
"""After two numbers these tell where both went (`put 14 and 15 outside`)."""


class Clause:
    """The pieces of one statement: what parted it from the one before, the words of its act, the act, its cues, and the
    marks of the sentence that it is of.
    """

    __slots__ = ("act", "after", "cue", "first", "marks", "pieces", "says", "word")

    def __init__(self, after: str, pieces: list[Piece]) -> None:
        self.after = after
        self.pieces = pieces
        self.word: ActWord | None = None
        self.act: str | None = None
        self.says: dict[str, Any] = {}
        self.cue: str | None = None
        self.marks = ALL_MARKS
        self.first = pieces[0].first if pieces else 0

    def take(self, word: ActWord) -> None:
        self.word = word
        self.act = word.act
        self.says = dict(word.says)

    def has(self, *roles: str) -> bool:
        """Whether one of its pieces has one of these meanings."""
        meanings = [piece.roles for piece in self.pieces]
        return not all(map(frozenset(roles).isdisjoint, meanings))

    def kinds(self) -> set[str]:
        return {piece.kind for piece in self.pieces}

    def __repr__(self) -> str:
        return f"<{self.after!r} {self.act} {self.says} {self.cue} {self.pieces}>"


def part(pieces: list[Piece], marks: Marks) -> list[Clause]:
    """The clauses of a sentence with these marks, in order; what stands between them is kept as `after`."""
    _STEPS.take(pieces, marks)
    clauses: list[Clause] = []
    current: list[Piece] = []
    after = ""
    for place, piece in enumerate(pieces):
        if piece.kind == "break" and not _joins(pieces, place):
            if current:
                clauses.extend(_by_acts(after, current))
                current = []
                after = piece.low
            elif after != "\n":
                after = piece.low
        elif (
            piece.low in _SOFT and current and _opens(pieces, place + 1)
            and not _lists(pieces, place) and not _says_how_much(current[-1], piece)
        ):  # fmt: skip
            piece.used = True
            clauses.extend(_by_acts(after, current))
            current, after = [], piece.low
        else:
            current.append(piece)
    if current:
        clauses.extend(_by_acts(after, current))
    for clause in clauses:
        clause.marks = marks
    return clauses


def _joins(pieces: list[Piece], place: int) -> bool:
    """Whether a mark stands inside something: `w/`, `&` in a list of things, a slash between words."""
    low = pieces[place].low
    if low in ("&", "+"):
        return not _opens(pieces, place + 1) or _lists(pieces, place)
    if low == "/":
        kept = place + 1 < len(pieces) and pieces[place + 1].kind in ("kept", "saying")
        return pieces[place].value != " / " or not (kept or _opens(pieces, place + 1))
    return low in ("(", ")", "*", "=", "[", "]", "<", ">") and low not in ("(", ")")


def _says_how_much(before: Piece, piece: Piece) -> bool:
    """`i am so fried`: very, and no other statement."""
    return piece.low == "so" and before.low in ("am", "im", "i'm", "i am", "we are", "feel", "feeling", "are", "is")


def _lists(pieces: list[Piece], place: int) -> bool:
    """`loppers and crates soaked in quat`, `row 4 and 5`: the mark between two things, or two numbers at an end."""
    ends = place + 2 >= len(pieces) or pieces[place + 2].kind == "break"
    numbers = {piece.kind for piece in (pieces[place - 1], *pieces[place + 1 : place + 2])} == {"number"}
    if numbers and (ends or (place > 1 and is_act(pieces[place - 2]) and _tells_where(pieces, place + 2))):
        return True
    if not 0 < place < len(pieces) - 1 or not pieces[place - 1].roles.keys() & {"thing", "container"}:
        return False
    heads = place == 1 or pieces[place - 2].kind == "break"
    following = pieces[place + 1]
    return bool(following.roles.keys() & {"thing", "container"}) or (heads and following.kind == "word")


def _tells_where(pieces: list[Piece], at: int) -> bool:
    """`put 14 and 15 | outside`, `brought 3 & 4 | in`: where both went; not the lot of `lost 3 and 4 | in lot 9`."""
    inward = pieces[at].low == "in" and not any(piece.kind in SUBJECTS for piece in pieces[at + 1 : at + 2])
    return inward or pieces[at].low in _WHERE


def _opens(pieces: list[Piece], place: int) -> bool:
    """Whether what follows a conjunction, up to the next mark, is a statement of its own."""
    subject = counted = named = False
    if place + 1 < len(pieces) and pieces[place].kind == "person" and pieces[place + 1].low in _DOING:
        # "potted 6 of lot 9 and | kim did the rest".
        return True
    for piece in pieces[place:]:
        if piece.kind in ("lots", "trays"):
            named = True
        elif piece.kind == "moment" and named:
            return True
        if piece.kind == "break" and piece.low not in ("&", "+", "/"):
            break
        if piece.low in _SOFT:
            if piece.low in ("then", "also"):
                continue
            break
        if (
            is_act(piece)
            or ("to_do" in piece.roles and "thing" not in piece.roles)
            or ("noun" in piece.roles and piece.roles["noun"].act != "check" and "medium" not in piece.roles)
        ):
            return True
        if "noun" in piece.roles and subject:
            return True
        if counted and (
            "cause" in piece.roles
            or piece.kind in ("lots", "trays", "size", "quote")
            or piece.low == "into"
            or "plant" in piece.roles
        ):
            return True
        if piece.kind in ("number", "fraction", "amount"):
            counted = True
        if (
            piece.kind in ("lots", "trays", "number", "fraction")
            or "plant" in piece.roles
            or "plan" in piece.roles
            or "negation" in piece.roles
        ):
            subject = True
    return subject


def _by_acts(after: str, pieces: list[Piece]) -> list[Clause]:
    acts = [(place, _word_of(piece)) for place, piece in enumerate(pieces) if is_act(piece)]
    if acts:
        acts = sorted([*acts, *counted_nouns(pieces, acts[0][0])], key=lambda found: found[0])
    else:
        weak = [(place, piece.roles["noun"]) for place, piece in enumerate(pieces) if "noun" in piece.roles]
        acts = sensible_nouns(pieces, weak)
    clauses: list[Clause] = []
    start = 0
    current = Clause(after, [])
    for place, word in acts:
        if current.word is None:
            current.take(word)
            continue
        if _details(current, word, pieces, place):
            continue
        begin = _begin_of(pieces, start, place, word, current)
        if begin <= start:
            continue
        current.pieces = pieces[start:begin]
        current.first = pieces[start].first
        _drop_moved_word(current)
        clauses.append(current)
        start = begin
        current = Clause("", [])
        current.take(word)
    current.pieces = pieces[start:]
    current.first = pieces[start].first
    clauses.append(current)
    return clauses


def _drop_moved_word(clause: Clause) -> None:
    """`lot 13: got 12 rooted`: a word that went with what the next act counts is no deed of the subject before it."""
    if not any(is_act(piece) or "noun" in piece.roles for piece in clause.pieces):
        clause.word, clause.act, clause.says = None, None, {}


def _word_of(piece: Piece) -> ActWord:
    word: ActWord = piece.roles.get("act") or piece.roles["shared"]
    return word


def _details(current: Clause, word: ActWord, pieces: list[Piece], place: int) -> bool:
    """Whether a second act word only details the first; its details are then taken over."""
    first = current.word
    assert first is not None
    if _tells_of_move(current, word, pieces, place):
        return True
    if word.act == current.act and word.rule is None:
        if of_its_own(pieces, place) or turn_by_turn(pieces, place) or counts_once_more(pieces, place):
            return False
        clash = any(current.says.get(key, value) != value for key, value in word.says.items())
        has_count = any(piece.kind in COUNTS for piece in pieces[:place])
        if current.act == "check" and "state" in current.says and "state" in word.says:
            return not clash
        if not clash and not (word.counts_before and first.counts_before and _counted_twice(pieces, place)):
            current.says.update(word.says)
            return True
        return clash and current.act in ("lose",) and not has_count
    if current.act in _ADJECTIVES_AFTER and word.act in ("check", "lose") and word.counts_before and first.rule is None:
        return place > 0 and pieces[place - 1].kind in COUNTS and not _counted_twice(pieces, place)
    if current.act == "stick" and word.act == "treat" and word.says.get("treatment") == "hormone":
        return True
    if current.act == "stick" and word.rule in ("dipped",):
        return True
    if current.act == "clear" and (word.rule == "hold" or word.act == "hold"):
        return pieces[place - 1].kind not in ("lots", "trays")
    removes = current.act == "clear" or first.rule == "dumped"
    removes = removes or (current.act == "sanitize" and _names_dead(pieces, place))
    if removes and word.act == "lose" and word.counts_before:
        current.take(word)
        return True
    if current.act == "stick" and word.act == "plant_out":
        current.take(word)
        return True
    if current.act == "lose" and word.act in ("wilt",) and not _counted_twice(pieces, place):
        current.says.setdefault("cause", "wilt")
        return True
    if first.rule in ("took", "put", "planted") and word.rule is None and word.act not in ("check",):
        current.take(word)
        return True
    return word.rule == "took" and pieces[place].low in ("got",)


def _names_dead(pieces: list[Piece], place: int) -> bool:
    """`cleaned the dead stuff out of tray 5`: what was cleaned out, no thing."""
    return not any("thing" in piece.roles or "solution" in piece.roles for piece in pieces) and place < len(pieces) - 1


def _tells_of_move(current: Clause, word: ActWord, pieces: list[Piece], place: int) -> bool:
    """`moved lot 9 off the heat mat onto bench c`: on the way; `moved the dead ones to the compost`: a loss."""
    if current.act != "move":
        return False
    if word.says.get("treatment") == "heat" and any(piece.low in ("to", "onto", "into") for piece in pieces[place:]):
        keep_words(pieces[place])
        return True
    if word.act == "lose" and word.counts_before and any(piece.low in _REFUSE for piece in pieces[place:]):
        current.take(word)
        return True
    return False


def _counted_twice(pieces: list[Piece], place: int) -> bool:
    return sum(piece.kind in COUNTS for piece in pieces[:place]) > 1


def _begin_of(pieces: list[Piece], start: int, place: int, word: ActWord, current: Clause) -> int:
    """Where the clause of a later act begins: at its word, or at the number or subject that stands right before it."""
    begin = place
    while begin > start + 1:
        before = pieces[begin - 1]
        if (
            (word.counts_before and before.kind in COUNTS)
            or (word.counts_before and before.low in _WITH and pieces[begin - 2].kind in COUNTS)
            or ("filler" in before.roles and begin - 1 > start and pieces[begin - 2].kind in ("lots", "trays"))
            or ("negation" in before.roles and begin == place and denied_alone(pieces, place))
            or (
                word.counts_before
                and (
                    "all" in before.roles
                    or "none" in before.roles
                    or "vague" in before.roles
                    or "fraction" in before.roles
                    or "negation" in before.roles
                )
            )
            or (word.act == "lose" and begin == place and "none" in before.roles)
            or (
                before.kind in ("lots", "trays")
                and any(piece.kind == before.kind for piece in pieces[start : begin - 1])
                and pieces[begin - 2].low not in ("as", "into", "to", "from", "of", "in")
            )
        ):
            begin -= 1
        else:
            break
    return begin
