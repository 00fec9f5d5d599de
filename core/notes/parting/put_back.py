"""Is the deed before taken back or done again in a few small words: `put it straight back`, `on again at 1:40`.

Rules
1. After a cover that came off, words of going on (`back on`, `put it back`) cover again; after one that went on, words
   of coming off air.
2. Beside wilting, what went `back on` is the cover (`tray 4 wilted, put it back on`), where no other deed was told of.
3. After vents, `shut again at 4` and `opened tray 7 halfway` set them anew; after a move, `back in at 3` is a move too,
   and its place is asked.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import NO_ROLES, Piece
from core.notes.words.said import keep
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_BETWEEN: Final = frozenset({"water", "wilt", "check", "temp", "tend", "lose", "sanitize"})
_COVERS: Final = frozenset({"cover", "air", "uncover"})
_MOVES: Final = frozenset({"move", "harden"})
_STARTS: Final = small_words("put_back", "starts")
_SMALL: Final = small_words("put_back", "small")
_ON: Final = small_words("put_back", "on")
_ON_AGAIN: Final = small_words("put_back", "on_again")
_OFF: Final = small_words("put_back", "off")
_FALLING: Final = small_words("put_back", "falling")
_IN: Final = small_words("put_back", "in")
_VENTED: Final[dict[str, float | None]] = {
    **dict.fromkeys(small_words("put_back", "shut"), 0.0),
    **dict.fromkeys(small_words("put_back", "cracked"), 0.1),
    **dict.fromkeys(small_words("put_back", "opened")),
}
_STOOD: Final = frozenset({"was", "were"})
_SOON: Final = frozenset({"early", "late", "sooner"})
_BARE: Final = frozenset({"on", "off", "in"})
_BEFORE: Final = frozenset({"lots", "trays", "moment", "person"})
_AFTER: Final = frozenset({"moment", "colon", "duration", "lots", "trays", "break", "times", "person"})
_LONGEST: Final = 6
_FIRST: Final = frozenset(
    said.split(" ")[0] for said in (*_ON, *_OFF, *_IN, *_ON_AGAIN, *_VENTED, *_SMALL, *_SOON)
)
"""The words that such words begin with."""


@looks_for(
    "!cover", "!air", "!uncover", "!vent", "!move", "!harden", "!stick", "!wilt", "@cover_noun", "@vent_noun",
    beside=_ON | _OFF | _IN | _VENTED.keys(),
)  # fmt: skip
def find_put_back(pieces: list[Piece]) -> None:
    """Marks the small words that undo or repeat the cover, the vents or the move before them, in place."""
    for place, piece in enumerate(pieces):
        if piece.low.split(" ")[0] not in _FIRST and "for_good" not in piece.roles:
            continue
        before = _deed_before(pieces, place) if place and _begins(pieces, place) else _wilted_after(pieces, place)
        if before is None:
            continue
        run = _run(pieces, place)
        said = " ".join(piece.low for piece in run if piece.low not in _SMALL | _SOON and "for_good" not in piece.roles)
        good = any("for_good" in piece.roles for piece in run)
        if said in _BARE and not good and not _says_when(pieces, place, run):
            continue
        if (before in ("air", "uncover") and said in _ON) or (before == "wilt" and said in _ON_AGAIN):
            _mark(run, ActWord(act="cover"))
        elif before == "cover" and said in _OFF:
            _keep_how_it_stood(pieces, place)
            _mark(run, ActWord(act="uncover" if good else "air"))
        elif before in _MOVES and said in _IN:
            _mark(run, ActWord(act="move"))
        elif before == "vent" and said in _VENTED and _of_vents(pieces, place, run):
            open_to = _VENTED[said]
            _mark(run, ActWord(act="vent", says={} if open_to is None else {"vent_open": open_to}))


def _deed_before(pieces: list[Piece], place: int) -> str | None:
    """The last cover, vent or move before a place, where nothing but care stands between; else wilting."""
    wilted = False
    for at in range(place - 1, -1, -1):
        piece = pieces[at]
        if _came_off_by_itself(pieces, at):
            return "air"
        word = piece.roles.get("act") or piece.roles.get("shared") or piece.roles.get("noun")
        wilted = wilted or (word is not None and word.act == "wilt" and "noun" not in piece.roles)
        small = word is not None and word.rule == "took" and "filler" in piece.roles
        noun = word is not None and "noun" in piece.roles and word.form == "noun"
        if word is None or small or noun or word.act in _BETWEEN:
            continue
        if word.rule == "put":
            return "move"
        return word.act if word.act in _COVERS | _MOVES | {"vent"} else None
    return "wilt" if wilted else None


def _wilted_after(pieces: list[Piece], place: int) -> str | None:
    """`tray 4 | put it back on early, wilted`: the first deed of a note, and why it was done."""
    if any(piece.kind not in _BEFORE and piece.low not in _SMALL for piece in pieces[:place]):
        return None
    mark = next((at for at in range(place, len(pieces)) if pieces[at].kind == "break"), len(pieces))
    words = (piece.roles.get("act") for piece in pieces[mark + 1 :])
    return "wilt" if any(word is not None and word.act == "wilt" for word in words) else None


def _keep_how_it_stood(pieces: list[Piece], place: int) -> None:
    """`dome was on tray 5 | , took it off`: how it was before is no deed, in place."""
    for noun, was, on in zip(pieces[:place], pieces[1:place], pieces[2:place], strict=False):
        if "cover_noun" in noun.roles and was.low in _STOOD and on.low in _ON:
            noun.kind, noun.roles, noun.last = "kept", NO_ROLES, on.last
            was.used = on.used = True


def _came_off_by_itself(pieces: list[Piece], at: int) -> bool:
    """`dome popped off tray 4`, `lid blew off`: no deed, but the cover was off."""
    cover = "cover_noun" in pieces[at].roles or pieces[at].value == "cover"
    return cover and at + 1 < len(pieces) and pieces[at + 1].low.split(" ")[0] in _FALLING


def _begins(pieces: list[Piece], place: int) -> bool:
    """Whether words may begin a statement of their own: after a mark or a joint, with small words and days between."""
    if pieces[place].kind == "break" or pieces[place].low in _SMALL:
        return False
    if pieces[place - 1].kind in ("moment", "duration", "colon") and pieces[place].low in ("back on", "back"):
        return True
    at = place - 1
    while at > 0 and (pieces[at].low in _SMALL or pieces[at].kind in ("moment", "person")):
        if pieces[at].low in _STARTS:
            return True
        at -= 1
    return pieces[at].kind == "break" or pieces[at].low in _STARTS


def _run(pieces: list[Piece], place: int) -> list[Piece]:
    """The words from a place up to the next mark, day, length of time, lot or tray."""
    end = place
    while end < len(pieces) and pieces[end].kind not in _AFTER and pieces[end].low not in _STARTS:
        if ("vent_open" in pieces[end].roles and end > place) or _is_remark(pieces[end]):
            break
        end += 1
    run = pieces[place:end]
    while run and run[-1].low in ("for", "at", "by", "on the", "around", "about") and len(run) > 1:
        run = run[:-1]
    return run if len(run) <= _LONGEST else []


def _says_when(pieces: list[Piece], place: int, run: list[Piece]) -> bool:
    """`on again`, `in at 7`, `on tray 4 now`: one little word that may lead to anything is a deed with these only."""
    after = pieces[place + len(run)] if place + len(run) < len(pieces) else None
    if after is None or any(piece.low == "again" for piece in run):
        return after is not None or len(run) > 1
    if after.kind in ("lots", "trays") and run[-1].low != "in":
        rest = pieces[place + len(run) + 1 :]
        return not rest or rest[0].kind == "break" or rest[0].low == "now" or _is_remark(rest[0])
    return after.kind == "moment" and after.value.hour is not None


def _of_vents(pieces: list[Piece], place: int, run: list[Piece]) -> bool:
    """Whether words of opening and shutting are of the vents: nothing else is named before the next mark."""
    for piece in pieces[place + len(run) :]:
        if piece.kind == "break" or piece.low in _STARTS or _is_remark(piece):
            return True
        told = piece.kind in _AFTER or piece.kind == "number" or "filler" in piece.roles or "vent_open" in piece.roles
        if not told:
            return False
    return True


def _is_remark(piece: Piece) -> bool:
    """`as planned`, `thanks`: said of the whole note."""
    return not piece.roles.keys().isdisjoint(("remarks", "closes"))


def _mark(run: list[Piece], word: ActWord) -> None:
    for piece in run:
        if piece.low in _SOON:
            keep(piece)
            continue
        piece.roles, piece.used = {"filler": True}, True
    deed = run[0]
    deed.kind, deed.roles = "phrase", {"act": word}
