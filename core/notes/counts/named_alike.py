"""Which bare numbers are lots or trays because the words before them name some in the same way.

Rules
1. `lot 20 5 rooted, 21 6 rooted, 22 none`: a number that leads its count, after a lot that leads its own.
2. `yarrow in tray 1, clarkia in 2`: a number after the little word that led to a tray before.
3. `tray 6 aired, vents on 2 and 4 half`: trays, in a note that names trays and no lots.
4. `lot 14 (tray 2) 31 rooted`, `lot 12 (18)`: what stands in brackets right after a lot belongs to it.
5. `domed a and c`: letters in a list, where trays of these letters are named before.
6. `trays` alone on a line, or before a colon: the numbers that lead the lines below it are trays.
"""

from __future__ import annotations

from typing import Final

from core.notes.assembly.counted_after import SUBJECT_WORDS
from core.notes.counts.sums import count_out_of
from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece, is_act, names_plants
from core.notes.words.said import begin_of_statement
from core.notes.words.steps import looks_for

_APART: Final = frozenset({",", "\n", ";", ".", "and", "&", "-"})
_LISTING: Final = frozenset({"and", "&", ",", "+"})
_LEADS: Final = frozenset({"in", "from", "of", "on", "off"})
_COUNTING: Final = frozenset({"none", "all"})
_NOT: Final = frozenset({"not", "isn't", "isnt", "aren't", "arent"})
_OF_THOSE: Final = frozenset({"plant", "cutting", "wood"})
_STATED: Final = frozenset({"none", "all", "negation", "fraction"})
_SUBJECT_AND_STATE: Final = 2
_BEFORE_HEADS: Final = frozenset({"break", "moment", "person"})
_SKIPPED: Final = frozenset({"on", "the", "to", "off", "of", "over", "at"})
_LEADING: Final = _APART | _LEADS | _SKIPPED


@looks_for(
    "=counts", "@vent_noun", "@vent_open", "@none", "@all", "(", "=letter",
    beside=("=lots", "=trays", "=counts", "@plant"),
)  # fmt: skip
def _name_numbers(pieces: list[Piece]) -> None:
    """Makes such numbers lots or trays, in place."""
    named = False
    for at, piece in enumerate(pieces):
        if not named or (piece.kind != "number" and len(piece.low) != 1):
            named = named or piece.kind in SUBJECTS
            continue
        if _is_letter(piece) and _leads_like(pieces, at) == "trays":
            pieces[at] = Piece("trays", (piece.low,), piece.first, piece.last, piece.low)
            continue
        if not _may_be_led(pieces[at - 1]) or not _is_bare(piece):
            continue
        led = _led_like(pieces, at)
        kind = _leads_like(pieces, at) or led or _vented(pieces, at) or _stated_alike(pieces, at)
        if kind is not None:
            end = at + 1 if led else _end_of_list(pieces, at)
            numbers = [one for one in pieces[at:end] if one.kind == "number"]
            names = tuple(name for one in numbers for name in _names(one))
            low = " ".join(one.low for one in pieces[at:end])
            pieces[at:end] = [Piece(kind, names, piece.first, pieces[end - 1].last, low)]


def _may_be_led(before: Piece) -> bool:
    """Whether a number right after a piece may name something: after a mark, a little word or the vents."""
    return before.kind == "break" or before.low in _LEADING or "vent_noun" in before.roles


@looks_for(":", beside=("=lots", "=trays"))
def _name_headed(pieces: list[Piece]) -> None:
    """`tray 5 has lots 8 and 9: 8 12 rooted, 9 4 rooted`: those of the heading, each before its count, in place."""
    for colon in range(1, len(pieces)):
        head = pieces[colon - 1] if pieces[colon].low == ":" else None
        if head is not None and head.kind not in SUBJECTS and colon > 1:
            head = pieces[colon - 2]
        if head is None or head.kind not in SUBJECTS or len(head.value) < 2:
            continue
        heads = _heads_below(pieces, colon + 1, head.value)
        numbered = [place for place in heads if pieces[place].low in head.value and _told(pieces, place + 1) == "count"]
        in_order = tuple(pieces[place].low for place in heads) == head.value
        numbered = numbered if numbered[:1] == heads[:1] else []
        for place in heads if in_order else numbered:
            one = pieces[place]
            pieces[place] = Piece(head.kind, (one.low,), one.first, one.last, one.low)
        if numbered and pieces[0] is head and colon == 1:
            del pieces[:2]
        return


def _heads_below(pieces: list[Piece], at: int, names: tuple[str, ...]) -> list[int]:
    """Where statements begin from a place on, to the end of the sentence or the first line that begins otherwise."""
    heads: list[int] = []
    for place in range(at, len(pieces)):
        mark = pieces[place - 1]
        if mark.kind != "break" or pieces[place].kind == "break":
            continue
        other = mark.low == "\n" and bool(heads) and pieces[place].low not in names
        if other or (place > at and mark.low in SENTENCE_ENDS and mark.low != "\n"):
            break
        heads.append(place)
    return heads


@looks_for(*_NOT, beside=("=lots", "=trays", "@plant"))
def _deny_alike(pieces: list[Piece]) -> None:
    """`lot 14 rooted, lot 15 not`, `toyon rooted, sage not`: none of another, in place."""
    states = False
    for at, piece in enumerate(pieces):
        word = piece.roles.get("act") or piece.roles.get("noun")
        states = states or (word is not None and word.act == "check" and "state" in word.says)
        other = at > 1 and names_plants(pieces[at - 1])
        heads = other and pieces[at - 2].kind == "break"
        closes = at + 1 == len(pieces) or pieces[at + 1].kind == "break"
        if states and heads and closes and piece.low in _NOT:
            piece.low, piece.roles = "none", {"none": True}


@looks_for("(", beside=("=lots", "=trays", "=counts", "@plant"))
def _open_brackets(pieces: list[Piece]) -> None:
    """Drops the brackets around one count, lot or tray right after a lot or tray (in a note of losses around what took
    them: `tossed 4 from lot 19 (rot)`), in place.
    """
    at = 1
    lost = any("act" in piece.roles and piece.roles["act"].act == "lose" for piece in pieces)
    while at + 2 < len(pieces):
        before, opens, inside, closes = pieces[at - 1 : at + 3]
        told = inside.kind in ("number", "fraction") or (inside.kind in SUBJECTS and inside.kind != before.kind)
        listed = at > 3 and _is_bare(before) and pieces[at - 2].low in _APART and _is_bare(pieces[at - 3])
        blamed = lost and "cause" in inside.roles and before.kind in SUBJECTS
        follows = _counts(pieces, at + 3) or any(map(is_act, pieces[at + 3 : at + 4]))
        whose = not inside.roles.keys().isdisjoint(_OF_THOSE) and before.kind in SUBJECTS and follows
        told = told or blamed or whose
        counted = before.kind == "number" and inside.kind in SUBJECTS
        planted = "plant" in before.roles and inside.kind == "number" and any(map(is_act, pieces[: at - 1]))
        counted = counted or planted
        if (before.kind in SUBJECTS or listed or counted) and opens.low == "(" and closes.low == ")" and told:
            if inside.kind == "number" and _counts(pieces, at + 4) and pieces[at + 3].low == ":":
                # `tray 4 (72): 60 germinated` tells how many cells it has; a number before a colon would be a lot.
                inside.kind = "kept"
            if blamed:
                inside.roles = {**inside.roles, "of_these": True}
            del pieces[at + 2], pieces[at]
        elif lost and "cause" in inside.roles and before.kind == "number" and _whose(pieces, at + 3):
            # What took them stands best behind where they were: `lost 4 slugs` would count slugs.
            inside.roles = {**inside.roles, "of_these": True}
            pieces[at : at + 5] = [*pieces[at + 3 : at + 5], inside]
        at += 1


def _whose(pieces: list[Piece], at: int) -> bool:
    """`from tray 5`, right at a place."""
    return at + 1 < len(pieces) and pieces[at].low in ("from", "in", "of", "off") and pieces[at + 1].kind in SUBJECTS


@looks_for(",", beside=("=counts",))
def _join_doubtful(pieces: list[Piece]) -> None:
    """`14, 15 rooted`: two bare numbers alone with a state, of which either could be the lot, in place."""
    if len(pieces) < 4 or not (_is_bare(pieces[0]) and pieces[1].low == "," and _is_bare(pieces[2])):
        return
    end = next((at for at, piece in enumerate(pieces) if piece.low in SENTENCE_ENDS), len(pieces))
    word = pieces[3].roles.get("act")
    states = word is not None and word.act in ("check", "lose", "wilt") and word.counts_before
    if states and not any(map(names_plants, pieces[:end])):
        del pieces[1]


def _counts(pieces: list[Piece], at: int) -> bool:
    return at < len(pieces) and pieces[at].kind in COUNTS


def _is_bare(piece: Piece) -> bool:
    if piece.kind != "number" or not piece.low[:1].isdigit():
        return False
    number = piece.value
    return number.whole is not None and number.of is None and not number.approx and not number.each


def _is_letter(piece: Piece) -> bool:
    return piece.kind in ("word", "phrase") and len(piece.low) == 1 and piece.low.isalpha() and piece.low not in "ai"


def _names(piece: Piece) -> tuple[str, ...]:
    high = piece.value.high
    if high is None:
        return (piece.low,)
    return tuple(str(one) for one in range(int(piece.value.value), int(high) + 1))


def _end_of_list(pieces: list[Piece], at: int) -> int:
    end = at + 1
    while end + 1 < len(pieces) and pieces[end].low in ("and", "&", ",", "+") and _is_bare(pieces[end + 1]):
        end += 2
    return end


def _leads_like(pieces: list[Piece], at: int) -> str | None:
    """The kind of the lot or tray that leads the statement before, where this number leads a like one."""
    lettered = _is_letter(pieces[at])
    if at == 0 or pieces[at - 1].low not in _APART or (not lettered and pieces[at].value.high is not None):
        return None
    end = at + 1 if lettered else _end_of_list(pieces, at)
    told = _told(pieces, end)
    if told is None or (told == "count" and end > at + 1) or _lack_roots(pieces, end):
        return None
    start = at - 1
    while start and pieces[start - 1].low not in _APART:
        start -= 1
    led = next((place for place in range(start, at - 1) if pieces[place].kind in SUBJECTS), None)
    if led is None or len(pieces[led].value) > 1 or pieces[led].value[0].isalpha() != lettered:
        return None
    if any(map(_is_bare, pieces[start:led])):
        return None
    after = led + 1 + (led + 1 < at and "vent_noun" in pieces[led + 1].roles)
    return pieces[led].kind if _told(pieces, after) == told else None


def _lack_roots(pieces: list[Piece], at: int) -> bool:
    """`lot 9 12 rooted, 20 | no roots`: another lot, or so many of the same."""
    noun = pieces[at + 1].roles.get("noun") if at + 1 < len(pieces) else None
    return "none" in pieces[at].roles and noun is not None and "state" in noun.says


def _stated_alike(pieces: list[Piece], at: int) -> str | None:
    """`tray 2 rooted, 3 not, 4 half`: the kind of the one whose state was told without a count, in a list of such; in
    `lot 9 rooted, 5 not` it may be so many plants.
    """
    told = pieces[at + 1 : at + 2]
    closes = at + 2 >= len(pieces) or pieces[at + 2].kind == "break"
    if not at or pieces[at - 1].kind != "break" or not told or not closes or told[0].roles.keys().isdisjoint(_STATED):
        return None
    start = begin_of_statement(pieces, at - 1)
    before = [piece for piece in pieces[start : at - 1] if "filler" not in piece.roles]
    if len(before) != _SUBJECT_AND_STATE or before[0].kind not in SUBJECTS or len(before[0].value) != 1:
        return None
    word = before[1].roles.get("act") or before[1].roles.get("noun")
    states = word is not None and word.act == "check" and "state" in word.says
    more = pieces[at + 3 : at + 5]
    listed = states and len(more) > 1 and _is_bare(more[0]) and not _STATED.isdisjoint(more[1].roles)
    return before[0].kind if listed or not before[1].roles.keys().isdisjoint(_STATED) else None


def _told(pieces: list[Piece], at: int) -> str | None:
    """What is told right at a place: a count, or how far the vents stand open."""
    if at >= len(pieces):
        return None
    piece = pieces[at]
    if "vent_open" in piece.roles:
        return "vents"
    if piece.low == "no" and at + 1 < len(pieces) and pieces[at + 1].kind == "word" and not pieces[at + 1].roles:
        # "60/72 up, 12 no shows".
        return None
    counts = _is_bare(piece) or piece.kind in ("fraction", "percent") or not piece.roles.keys().isdisjoint(_COUNTING)
    return "count" if counts else None


def _led_like(pieces: list[Piece], at: int) -> str | None:
    """The kind of the lot or tray that the same little word led to before in the sentence."""
    if at < 2 or pieces[at - 1].low not in _LEADS or pieces[at].value.high is not None:
        return None
    if at + 1 < len(pieces) and pieces[at + 1].kind != "break" and pieces[at + 1].low not in ("and", "then", "&"):
        return None
    led = pieces[at - 2]
    led = pieces[at - 3] if led.low == "more" and at > 2 else led
    if not ("none" in led.roles or led.kind in ("number", "word", "quote") or "plant" in led.roles) or is_act(led):
        return None
    for place in range(at - 2, 0, -1):
        if pieces[place].kind == "break" and pieces[place].low in SENTENCE_ENDS:
            return None
        if pieces[place].kind in SUBJECTS and pieces[place - 1].low.split(" ")[-1] == pieces[at - 1].low:
            return pieces[place].kind
    return None


def _vented(pieces: list[Piece], at: int) -> str | None:
    """`tray 6 aired, vents on 2 and 4 half`: trays, where the note has named trays and no lots before its vents."""
    place = at
    while place and pieces[place - 1].low in _SKIPPED:
        place -= 1
    if not place or "vent_noun" not in pieces[place - 1].roles or any(piece.kind == "lots" for piece in pieces):
        return None
    end = _end_of_list(pieces, at)
    named = any(piece.kind == "trays" for piece in pieces[: place - 1])
    return "trays" if named and end < len(pieces) and "vent_open" in pieces[end].roles else None


@looks_for(*SUBJECT_WORDS, beside=("\n", ":"))
def name_below_heading(pieces: list[Piece]) -> None:
    """`trays` on a line of its own, then `1 - 12 rooted`, `2: misted`: what the numbers below it name, in place."""
    head = next((at for at, piece in enumerate(pieces) if piece.kind not in ("moment", "break")), 0)
    kind = SUBJECT_WORDS.get(pieces[head].low)
    after = range(head + 1, len(pieces))
    end = next((at for at in after if pieces[at].low not in (":", "\n", "-")), len(pieces))
    if kind is None or end == head + 1:
        return
    starts = {"\n"} if any(piece.low == "\n" for piece in pieces[head:end]) else {"\n", ",", ";"}
    named = False
    for at in range(end, len(pieces)):
        if at >= len(pieces) or (at > end and pieces[at - 1].low not in starts) or not _is_bare(pieces[at]):
            continue
        last = _end_of_list(pieces, at)
        if last < len(pieces) and _told_of_subject(pieces[last]):
            names = tuple(name for one in pieces[at:last] if one.kind == "number" for name in _names(one))
            low = " ".join(one.low for one in pieces[at:last])
            pieces[at:last] = [Piece(kind, names, pieces[at].first, pieces[last - 1].last, low)]
            named = True
    if named:
        del pieces[head:end]


def _told_of_subject(piece: Piece) -> bool:
    """A mark, a count, a cover or a deed of care right after a number: the number is what they are told of."""
    word = piece.roles.get("act") or piece.roles.get("shared")
    told = piece.kind in COUNTS or piece.low in (":", "-") or "none" in piece.roles
    cover = "cover_noun" in piece.roles and not piece.low.endswith("s")  # "12 domes" counts them
    return told or cover or "vent_noun" in piece.roles or (word is not None and not word.counts_before)


@looks_for("=letter", beside=("=trays",))
def name_letters(pieces: list[Piece]) -> None:
    """`tray a 12 rooted, tray c 9. domed a and c`: letters in a list, each of a tray named before, in place."""
    named: set[str] = set()
    at = 0
    while at < len(pieces):
        if pieces[at].kind == "trays":
            named.update(name for name in pieces[at].value if len(name) == 1 and name.isalpha())
        end = at
        while end < len(pieces) and pieces[end].low in named and pieces[end].kind in ("word", "phrase", "letter"):
            joined = end + 2 < len(pieces) and pieces[end + 1].low in _LISTING and pieces[end + 2].low in named
            end += 2 if joined else 1
            if not joined:
                break
        if end > at + 1 or (end > at and _led_alone(pieces, at)):
            run = pieces[at:end]
            names = tuple(piece.low for piece in run[::2])
            pieces[at:end] = [Piece("trays", names, run[0].first, run[-1].last, " ".join(one.low for one in run))]
        at += 1


def _led_alone(pieces: list[Piece], at: int) -> bool:
    """`9 in b`: a lone letter after a little word, at the end of its statement."""
    closes = at + 1 == len(pieces) or pieces[at + 1].kind == "break"
    return closes and at > 1 and pieces[at - 1].low in _LEADS and pieces[at - 2].kind == "number"


NAME_ALIKE: Final = (count_out_of, _open_brackets, _name_headed, _join_doubtful, _name_numbers, _deny_alike)
"""The steps in their order."""
