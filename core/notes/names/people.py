"""Who did it: the person named before a deed, at the head of a note, or after `by`.

Rules
1. A single unknown word right before a deed at the head of a clause is a person, unless it is plain English (`spot
   watered`, `rain got it`); also `june`, `may`, `april`, `sage` and the like where another plant or subject follows.
2. A word that ends in s with nothing else to be done to is more likely a plant, and is kept as it is.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import COUNTS, SENTENCE_ENDS, SUBJECTS, Piece, is_act
from core.notes.words.said import comma_before, end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.notes.words.values import Names
from core.vocabulary.everyday import is_everyday, is_given_name
from core.vocabulary.loading import small_words

_AIDS: Final = small_words("people", "aids")
_TITLES: Final = small_words("people", "titles")
_BARE: Final = small_words("orders", "bare")
_GOING: Final = small_words("people", "going_on")
_JOINTS: Final = small_words("people", "joints")
_WITH: Final = frozenset({"w", "w/", "with"})
_LIGHT: Final = small_words("people", "light")
_ACTING: Final = small_words("people", "acting")
_ASKING: Final = small_words("people", "asking")
_HAVING: Final = small_words("people", "having")
_SPEAKER: Final = small_words("people", "speaker")
_CLUMSY: Final = small_words("people", "clumsy")
_PARTICIPLES: Final = small_words("people", "participles")
NAMELIKE: Final = small_words("people", "namelike")
RATHER_PEOPLE: Final = small_words("people", "rather_people")
"""Genera that a crew calls by another name: at the head of what is told they are somebody (`rosa cant make thurs`)."""

_INITIALS: Final = 2
_VOWELS: Final = frozenset("aeiouyäöüéèáàíóúñ")
NO_HEADS: Final = frozenset().union(
    small_words("people", "no_heads"), small_words("places", "structures"), small_words("places", "ends")
)


@looks_for("=word", any_of=NAMELIKE)
def find_people(pieces: list[Piece], names: Names) -> None:
    """Marks the pieces that name who did it (kind `person`), in place."""
    people = {name.lower() for name in names.people}
    _sign_speaker(pieces)
    at = 0
    while at < len(pieces):
        if (
            at == 0
            or pieces[at - 1].kind == "break"
            or pieces[at - 1].low in _JOINTS
            or pieces[at - 1].low in ("&", "+")
            or pieces[at - 1].kind == "moment"
            or (pieces[at - 1].kind in ("lots", "trays") and any(one.kind == "person" for one in pieces[:at]))
        ):
            end = _person_at(pieces, at, people) or _in_brackets(pieces, at, people)
            end = end or (at + 1 if _did_the_same(pieces, at, people) else 0)
            if end:
                if end < len(pieces) and pieces[end].low in (":", "-"):
                    del pieces[end]
                text = " ".join(piece.low for piece in pieces[at:end]).replace(" / ", "/").replace(" , ", ", ")
                if at and pieces[at - 1].kind in ("lots", "trays"):
                    pieces.insert(at, comma_before(pieces[at]))
                    at, end = at + 1, end + 1
                pieces[at:end] = [Piece("person", text, pieces[at].first, pieces[end - 1].last, text)]
        at += 1


def _sign_speaker(pieces: list[Piece]) -> None:
    """`bao: misted trays 3, 4. me: lot 9 potted 12`: the mark after whoever texts is dropped, in place."""
    for at in range(len(pieces) - 2, -1, -1):
        heads = at == 0 or pieces[at - 1].kind == "break"
        if heads and pieces[at].low in _SPEAKER and pieces[at + 1].low in (":", "-"):
            del pieces[at + 1]


def _is_named(piece: Piece, people: set[str]) -> bool:
    if piece.low in people:
        return True
    return piece.low in NAMELIKE if piece.kind == "moment" else may_be_name(piece)


def may_be_name(piece: Piece) -> bool:
    """`odalys`, `rose`: no plain English (`hand`, `theyre`), and no word of the bench that nobody is called."""
    if piece.kind == "word":
        return piece.low.isalpha() and len(piece.low) > 1 and not is_everyday(piece.low) and not _is_thumbed(piece.low)
    return piece.kind == "phrase" and piece.low in NAMELIKE


def _is_thumbed(word: str) -> bool:
    """`prnrs`, `thsmrng`: a word without its vowels, and nobody; initials (`jk`) are somebody's."""
    return len(word) > _INITIALS and _VOWELS.isdisjoint(word[0].replace("y", "") + word[1:])


@looks_for("=word", beside=("@plant",))
def part_doers(pieces: list[Piece]) -> None:
    """`40 manzanita | ana stuck 30 toyon`: a known name between a plant and a deed begins what that one did."""
    for at in range(len(pieces) - 2, 0, -1):
        name, deed = pieces[at], pieces[at + 1].roles.get("act")
        done = deed is not None and deed.form == "done" and not deed.counts_before
        known = name.kind == "word" and is_given_name(name.low) and may_be_name(name)
        if done and known and "plant" in pieces[at - 1].roles:
            pieces.insert(at, comma_before(name))


def _person_at(pieces: list[Piece], at: int, people: set[str]) -> int:
    """Where those who did it end that are named at a place; nought where nobody is."""
    titled = _titled(pieces, at)
    if (not titled and not _is_named(pieces[at], people)) or _joins_things(pieces, at):
        return 0
    end = _names_listed(pieces, at + 1 + titled, people)
    if end + 1 < len(pieces) and pieces[end].low in ("and", "&", "/", "+") and _is_named(pieces[end + 1], people):
        end += 2
    after = _after_aids(pieces, end)
    if after >= len(pieces):
        return 0
    if _heads_telling(pieces, at, after, people):
        return end
    if not _says_deed(pieces, at, after):
        return 0
    lone = not any(map(_is_done_to, pieces[after + 1 :])) and not _does_it_to_a_place(pieces[after + 1 :])
    if pieces[at].kind != "word" and pieces[at].low not in people and not _has_it_done(pieces, at, after):
        return 0 if lone or _is_plant_done_to(pieces, at, after) else end
    unknown = pieces[at].low not in people and not is_given_name(pieces[at].low)
    return 0 if lone and unknown and pieces[at].low.endswith("s") else end


def _joins_things(pieces: list[Piece], at: int) -> bool:
    """`pots and crates washed`: another thing after `and`, and nobody; `potted into tubes and walt fed lot 13`."""
    if at < 2 or pieces[at - 1].low not in ("and", "&") or is_given_name(pieces[at].low):
        return False
    before = pieces[at - 2]
    return not before.roles.keys().isdisjoint(("thing", "container")) or before.low in ("trays", "tray")


def _heads_telling(pieces: list[Piece], at: int, mark: int, people: set[str]) -> bool:
    """`ana: lot 14 31 rooted`, `kit - misted 4`, `…, willa: weeded lot 20`: a name before a mark, and what was done
    after it.
    """
    named = pieces[at].kind == "word" or pieces[at].low in RATHER_PEOPLE or _heads_as_another(pieces, at)
    if pieces[mark].low not in (":", "-") or not named or pieces[at].low in NO_HEADS:
        return False
    opens = at < 2 or pieces[at - 1].low in (".", "\n", ":") or _day_before(pieces, at)
    if not opens and (pieces[at].low in people or is_given_name(pieces[at].low)):
        if mark + 1 == len(pieces) or _says_deed(pieces, at, mark + 1):
            return mark + 1 < len(pieces)
        counted = pieces[mark + 1].kind in COUNTS or _deed_follows(pieces, mark + 1)
        return counted and any(one.kind == "person" for one in pieces[:at])
    asked = any("to_do" in piece.roles for piece in pieces[mark + 1 : mark + 2])
    by_name = pieces[mark].low == ":" and is_given_name(pieces[at].low) and not asked
    known = pieces[at].low in people or by_name
    return opens and (known or _deed_follows(pieces, mark + 1) or _heads_lines(pieces, at))


def _heads_as_another(pieces: list[Piece], at: int) -> bool:
    """`june: 14 rooted tray 25. finn: 6 rotted`: what may be a month, where somebody else heads what is told."""
    if "month" not in pieces[at].roles or not is_given_name(pieces[at].low):
        return False
    told = any(
        head.kind == "break" and name.kind == "word" and may_be_name(name) and mark.low in (":", "-")
        for head, name, mark in zip(pieces[at + 1 :], pieces[at + 2 :], pieces[at + 3 :], strict=False)
    )
    return told or any(piece.kind == "person" for piece in pieces)


def _says_deed(pieces: list[Piece], at: int, after: int) -> bool:
    """Whether the word after a name is a deed that somebody did."""
    verb = pieces[after]
    meaning = verb.roles.get("act") or verb.roles.get("shared")
    if meaning is None:
        light = verb.low in _LIGHT or ("vent_open" in verb.roles and verb.low in ("closed", "shut", "cracked"))
        beside = pieces[after + 1 : after + 2]
        light = light or (verb.low == "opened" and any("vent_noun" in one.roles for one in beside))
        light = light or (is_given_name(pieces[at].low) and _leads_to_deed(pieces, after))
        return (light and pieces[at].kind == "word") or _has_it_done(pieces, at, after)
    if meaning.counts_before:
        told = after + 1 < len(pieces) and pieces[after + 1].kind == "number"
        return verb.low in _CLUMSY and told and is_given_name(pieces[at].low)
    if meaning.form != "done" or (pieces[at].low == "will" and verb.low in _BARE):
        return False
    mixed = ("solution", "hormone", "hormone_name")
    stirred = any(one.kind == "amount" or not one.roles.keys().isdisjoint(mixed) for one in pieces[after + 1 :])
    return meaning.act != "mix" or stirred


def _leads_to_deed(pieces: list[Piece], after: int) -> bool:
    """`finn | lowered | the dome onto tray 11`: a verb that is not known, where a deed or a cover follows it."""
    verb = pieces[after]
    acts = verb.low in _ACTING or (verb.kind == "word" and verb.low.endswith("ed") and verb.low not in _ASKING)
    told = pieces[after + 1 : end_of_statement(pieces, after)]
    return acts and any(_tells_done(one) or not one.roles.keys().isdisjoint(_COVERS) for one in told)


def _has_it_done(pieces: list[Piece], at: int, after: int) -> bool:
    """`june has | lots 18 and 19 quarantined`, `june had | 20 of lot 11 potted`: what somebody had done."""
    start = after + (pieces[after].low in _HAVING)
    if start == at + 1 or pieces[start - 1].low not in _HAVING or not is_given_name(pieces[at].low):
        return False
    told = pieces[start : end_of_statement(pieces, start)]
    named = bool(told) and (told[0].kind in SUBJECTS or told[0].kind in COUNTS or "all" in told[0].roles)
    return named and any(_tells_done(one) and one.roles["act"].act not in _RECEIVING for one in told)


def _tells_done(piece: Piece) -> bool:
    deed = piece.roles.get("act")
    return deed is not None and deed.form == "done" and not deed.counts_before


_COVERS: Final = frozenset({"cover_noun", "vent_noun"})


def _is_done_to(piece: Piece) -> bool:
    named = not piece.roles.keys().isdisjoint(("plant", "thing", "solution", "all"))
    return named or piece.kind in ("lots", "trays", "number", "amount", "fraction")


def _is_plant_done_to(pieces: list[Piece], at: int, after: int) -> bool:
    """`sage potted`, `sage misted, toyon fed`: a plant that is called like somebody, where its statement names no other
    that it was done to.
    """
    if "plant" not in pieces[at].roles:
        return False
    ends = (place for place in range(after, len(pieces)) if pieces[place].kind == "break")
    told = pieces[after + 1 : next(ends, len(pieces))]
    own = any(one.kind in ("lots", "trays") or "plant" in one.roles or _is_thing(one) for one in told)
    own = own or _does_it_to_a_place(told) or _makes_solution(pieces[after])
    return not own or pieces[after].low in _PARTICIPLES


def _is_thing(piece: Piece) -> bool:
    """A thing that is no place too (`moved to town bench`)."""
    return "thing" in piece.roles and "place_word" not in piece.roles


def _does_it_to_a_place(told: list[Piece]) -> bool:
    """`iris watered | the back bench`: what somebody did, said of a place."""
    return bool(told) and told[0].low in ("the", "our") and any("place_word" in one.roles for one in told[1:3])


def _makes_solution(verb: Piece) -> bool:
    """`rose mixed bleach 1:9`: what is done to no plant."""
    return "act" in verb.roles and verb.roles["act"].act in ("mix", "pour_out")


def _did_the_same(pieces: list[Piece], at: int, people: set[str]) -> bool:
    """`gil stuck 48 toyon and | hana | 30 sage`: somebody else who did so, with a count of their own."""
    known = pieces[at].low in people or (may_be_name(pieces[at]) and is_given_name(pieces[at].low))
    if not known or at < 2 or pieces[at + 1 : at + 2] == [] or pieces[at + 1].kind not in ("number", "amount"):
        return False
    ends = [place for place in range(at) if pieces[place].low in SENTENCE_ENDS]
    said = pieces[ends[-1] if ends else 0 : at]
    before = [piece for piece in said if piece.kind == "person" or is_act(piece)]
    others = any(map(is_act, pieces[at : end_of_statement(pieces, at)]))
    return len(before) > 1 and before[-2].kind == "person" and is_act(before[-1]) and not others


def _in_brackets(pieces: list[Piece], at: int, people: set[str]) -> int:
    """`misted tray 3 (ngozi)`: a name that is known as one, by itself after a deed."""
    known = pieces[at].low in people or (may_be_name(pieces[at]) and is_given_name(pieces[at].low))
    if any(piece.roles["act"].act in _RECEIVING for piece in pieces[:at] if "act" in piece.roles):
        return 0
    around = [pieces[one].low if 0 <= one < len(pieces) else "" for one in (at - 1, at + 1)]
    return at + 1 if known and around == ["(", ")"] and any(is_act(piece) for piece in pieces[:at]) else 0


@looks_for(any_of=_WITH, beside=("and", "&"))
def keep_company(pieces: list[Piece]) -> None:
    """`collected at heron creek w lea and bo`: who was there too, and no plant, in place."""
    for at in range(len(pieces) - 3):
        lead, first, joint, second = pieces[at : at + 4]
        both = lead.low in _WITH and joint.low in ("and", "&") and first.kind == second.kind == "word"
        closes = at + 4 == len(pieces) or pieces[at + 4].kind in ("break", "moment")
        if both and closes and any(is_given_name(one.low) and may_be_name(one) for one in (first, second)):
            keep_words(first, joint, second)


@looks_for("(", beside=("=lots", "=trays"))
def tell_bracketed(pieces: list[Piece]) -> None:
    """`lot 14 (bao) 12 rooted, lot 15 (kai) 9 rooted`: who told of which lot, where each has a name; a lone name, which
    may be whose it is, is kept, in place.
    """
    found = [at for at in range(len(pieces) - 4) if _names_whose(pieces, at)]
    for at in reversed(found):
        lot, name, count = pieces[at], pieces[at + 2], pieces[at + 4]
        kind = "person" if len(found) > 1 else "kept"
        who = Piece(kind, name.low, name.first, name.last, name.low)
        pieces[at : at + 5] = [who, lot, count] if len(found) > 1 else [lot, who, count]


def _names_whose(pieces: list[Piece], at: int) -> bool:
    """A lot that opens its statement, a known name in brackets, and a count."""
    lot, opens, name, closes, count = pieces[at : at + 5]
    heads = at == 0 or pieces[at - 1].kind in ("break", "moment")
    told = count.kind in COUNTS or is_act(count)
    marks = (opens.low, closes.low) == ("(", ")") and told
    return heads and lot.kind in SUBJECTS and marks and may_be_name(name) and is_given_name(name.low)


@looks_for("(")
def name_receivers(pieces: list[Piece]) -> None:
    """`reserved 10 yarrow (ana)`: a name in brackets is whom the plants are kept for, in place."""
    for at in range(1, len(pieces) - 1):
        kept = any(piece.roles["act"].act == "reserve" for piece in pieces[:at] if "act" in piece.roles)
        if kept and may_be_name(pieces[at]) and [pieces[at - 1].low, pieces[at + 1].low] == ["(", ")"]:
            before, after = pieces[at - 1], pieces[at + 1]
            pieces[at - 1] = Piece("phrase", None, before.first, before.last, "for", {"filler": True})
            pieces[at + 1] = Piece("break", ",", after.first, after.last, ",")


_RECEIVING: Final = frozenset({"reserve", "give", "sell"})


def _after_aids(pieces: list[Piece], at: int) -> int:
    """Where the verb after who did it stands (`ana just misted`, `kit 9/30 misted`, `mei is watering`)."""
    while at < len(pieces) and (pieces[at].low in _AIDS or pieces[at].kind == "moment"):
        at += 1
    goes_on = at + 1 < len(pieces) and pieces[at].low in _GOING and pieces[at + 1].low.split(" ")[0].endswith("ing")
    return at + goes_on


def _titled(pieces: list[Piece], at: int) -> bool:
    """`mrs vance`, `aunt rosa`: a name after what somebody is called by."""
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    if pieces[at].low not in _TITLES or after is None:
        return False
    return may_be_name(after) or is_given_name(after.low)


def _names_listed(pieces: list[Piece], at: int, people: set[str]) -> int:
    """Where the names before the last end (`ana, bram` of `ana, bram and mei potted`)."""
    end = at
    while end + 2 < len(pieces) and pieces[end].low == "," and _is_named(pieces[end + 1], people):
        end += 2
    joined = end > at and end + 1 < len(pieces) and pieces[end].low in ("and", "&")
    return end if joined and _is_named(pieces[end + 1], people) else at


def _day_before(pieces: list[Piece], at: int) -> bool:
    """`tue, priya: …`: a day before who did it."""
    return pieces[at - 1].kind == "moment" or (pieces[at - 1].low == "," and pieces[at - 2].kind == "moment")


def _heads_lines(pieces: list[Piece], at: int) -> bool:
    """The second of lines that each begin with who did it (`ana: …`, `bram: …`)."""
    return at > 0 and pieces[at - 1].low == "\n" and any(piece.kind == "person" for piece in pieces[:at])


def _deed_follows(pieces: list[Piece], at: int) -> bool:
    counted = False
    while at < len(pieces) and (
        pieces[at].kind in ("lots", "trays", "number", "fraction")
        or "filler" in pieces[at].roles
        or "plant" in pieces[at].roles
    ):
        counted = counted or pieces[at].kind in ("number", "fraction")
        at += 1
    if at < len(pieces) and pieces[at].roles.keys() & {"cover_noun", "vent_noun"}:
        return True
    meaning = (pieces[at].roles.get("act") or pieces[at].roles.get("shared")) if at < len(pieces) else None
    return meaning is not None and (counted or not meaning.counts_before)
