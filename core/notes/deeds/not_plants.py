"""Which deeds are done to tools, benches or seed, and not to plants: `boiled the snips`, `rinsed under the tap`.

Rules
1. Heat, a soak or a rinse of a thing disinfects it; of seed it is a treatment; a rinse after a treatment is one.
2. Seed that is cleaned is not disinfected: that is kept beside what was done with the seed.
3. What became of things after they were cleaned (`bleached and dried`) is no loss of plants.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.pieces import COUNTS, NO_ROLES, SUBJECTS, Piece, is_act
from core.notes.words.said import end_of_statement, keep_words
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import small_words

_HOSED: Final = small_words("not_plants", "hosed")
_HOSING: Final = small_words("not_plants", "hosing")
_DRYING: Final = small_words("not_plants", "drying")
_CLEANING: Final = small_words("not_plants", "cleaning")
_HOLDERS: Final = small_words("not_plants", "holders")
_IT: Final = frozenset({"em", "'em", "them", "it", "those", "all of them"})
_WHY: Final = frozenset({"after", "because", "since", "bc", "b/c", "cause", "cuz"})
_SEED: Final = frozenset({"seed", "seeds", "what"})
_BATHS: Final = frozenset({"hot_water", "soak", "rinse"})
_OF_PLANTS: Final = ("plant", "what", "cutting")
_MAY_BE_THINGS: Final = frozenset({"treat", "sanitize", "lose", "water", "check", "reserve"})
"""Acts that may be told of things or of seed."""


_WITH: Final = frozenset({"w", "w/", "with", "in", "using"})


@looks_for("no", "without", beside=("!sanitize", "~rinsed", "~wiped", "~dipped"))
def keep_things_lacking(pieces: list[Piece]) -> None:
    """`no gloves, washed pots anyway`: a thing that there was none of was not cleaned, in place."""
    for place, (lack, thing) in enumerate(pairwise(pieces)):
        if lack.low not in ("no", "without") or "thing" not in thing.roles:
            continue
        if not any(map(is_act, pieces[place : end_of_statement(pieces, place)])):
            keep_words(lack, thing)


@looks_for("!sanitize")
def keep_why_cleaned(pieces: list[Piece]) -> None:
    """`sanitized the bench after lot 33 rotted`: why it was done tells of no new loss, in place."""
    deed = thing = kept = False
    for piece, after in zip(pieces, [*pieces[1:], None], strict=True):
        if piece.kind == "break" and piece.low not in ("&", "+"):
            deed = thing = kept = False
        word = piece.roles.get("act") or piece.roles.get("shared")
        deed = deed or (word is not None and word.act == "sanitize")
        thing = thing or bool(piece.roles.keys() & {"thing", "solution", "place_word"})
        kept = kept or (deed and thing and piece.low in _WHY)
        # "wiped snips after lot 9 w alcohol": what with stands after why.
        if kept and after is not None and piece.low in _WITH and "solution" in after.roles:
            kept, piece.used = False, True
        if kept:
            keep_words(piece)


def settle_things(clauses: list[Clause]) -> list[Clause]:
    """The clauses with deeds on things and on seed told from those on plants."""
    clauses = _with_things_before(clauses)
    for place, clause in enumerate(clauses):
        if clause.act not in _MAY_BE_THINGS:
            continue
        before = next((one for one in reversed(clauses[:place]) if one.act is not None), None)
        if clause.act == "treat" and place and _rinses_things(clauses[place - 1], clause):
            _keep_deed(clause)
        elif clause.act == "treat" and not (before is not None and _chills_cuttings(clause, before)):
            _settle_treatment(clause, before)
        elif clause.act == "sanitize":
            _settle_cleaning(clause, before, clauses[place + 1 :])
        elif clause.act == "lose" and _washes_things(clause):
            clause.act, clause.says = "sanitize", {}
            _keep_lone_rinse(clauses[place - 1] if place else None)
        elif clause.act == "water" and _hoses_things(clause):
            _keep_deed(clause)
        elif clause.act == "check" and place + 1 < len(clauses) and _reads_place(clause, clauses[place + 1]):
            for piece in clause.pieces:
                if is_act(piece):
                    piece.roles, piece.used = NO_ROLES, True
            clause.act, clause.word, clause.says = None, None, {}
        elif _only_stays(clause, before) or _dries_seed(clause):
            _keep_deed(clause)
            _keep_numbers(clause)
        elif clause.act == "treat" and before is not None and _chills_cuttings(clause, before):
            _keep_deed(clause)
        elif clause.act == "lose" and before is not None and before.act == "sanitize" and _becomes(clause, before):
            _keep_deed(clause)
            _keep_numbers(clause)
    return clauses


def _rinses_things(before: Clause, clause: Clause) -> bool:
    """`pots out of the bleach, | rinsed`: things that lay in a solution, and no seed."""
    rinsed = clause.says.get("treatment") == "rinse" and _says_only_it(clause)
    return rinsed and before.act in (None, "move") and before.has("thing") and before.has("solution")


def _washes_things(clause: Clause) -> bool:
    """`wiped out bench a`, `washed and dried 100 pots`: what is said of plants elsewhere, here of things."""
    deed = next((piece.low for piece in clause.pieces if is_act(piece)), "")
    things = clause.has("thing") and not _of_plants(clause) and "trays" not in clause.kinds()
    return things and deed in ("wiped out", "dried")


def _keep_lone_rinse(before: Clause | None) -> None:
    """The `washed` of `washed and dried 100 pots`."""
    if before is not None and before.says.get("treatment") == "rinse" and _says_only_it(before):
        _keep_deed(before)


def _reads_place(clause: Clause, after: Clause) -> bool:
    """`checked fridge: 40f`: the place whose temperature is told, and no plants."""
    said = [piece for piece in clause.pieces if piece.kind not in ("moment", "person")]
    told = [piece for piece in said if not is_act(piece) and "filler" not in piece.roles]
    placed = bool(told) and all("place_word" in piece.roles or piece.kind == "number" for piece in told)
    return placed and after.act == "temp" and "place_word" in told[0].roles and not after.has("place_word")


def _only_stays(clause: Clause, before: Clause | None) -> bool:
    """`kept lot 48 on the warm mat 30 days`, `floated, kept 200`, `kept 12, tossed the rest`: where plants stayed, or
    how many were left, and nothing kept for somebody.
    """
    if clause.act != "reserve" or not any(is_act(piece) and piece.low in ("kept", "saved") for piece in clause.pieces):
        return False
    if any(piece.low == "for" for piece in clause.pieces):
        return False
    kept = any(is_act(piece) and piece.low == "kept" for piece in clause.pieces)
    stays = kept or ("number" not in clause.kinds() and bool(clause.kinds() & {"lots", "trays"}))
    if stays and not any(piece.low in ("back", "aside", "as", "to", "by", "all", "of") for piece in clause.pieces):
        return True
    whole = not clause.kinds() & {"lots", "trays"}
    gathered = before is not None and whole and (before.act == "collect" or "number" not in clause.kinds())
    return gathered or clause.has("place_word") or any(_is_treated(piece) for piece in clause.pieces)


def _is_treated(piece: Piece) -> bool:
    word = piece.roles.get("noun")
    return word is not None and word.act == "treat"


def _dries_seed(clause: Clause) -> bool:
    """`dried lot 27 on screens`, `lot 54 froze 1 wk`, `baked the soil`: what was done for a while, and no loss."""
    deed = next((piece.low for piece in clause.pieces if is_act(piece)), "") if clause.act == "lose" else ""
    laid = deed == "dried" and any(piece.low in _DRYING for piece in clause.pieces)
    counted = clause.kinds() & COUNTS or clause.has("all", "vague")
    if deed == "dried" and (clause.has("what") or any(piece.low in _SEED for piece in clause.pieces)):
        return not counted
    if deed in ("burned", "burnt") and _burns_fuel(clause):
        return True
    heated = deed in ("baked", "cooked") and (clause.has("medium") or "medium" in clause.kinds())
    if heated and not clause.kinds() & {"lots", "trays"} and not clause.has("plant"):
        return True
    return not counted and (laid or (deed in ("dried", "froze", "frozen") and "duration" in clause.kinds()))


def _burns_fuel(clause: Clause) -> bool:
    """`burned straw over tray 4`: what was burned there, and no plants."""
    at = next((place for place, piece in enumerate(clause.pieces) if is_act(piece)), len(clause.pieces))
    after = clause.pieces[at + 1 : at + 3]
    return len(after) == 2 and after[0].kind == "word" and after[1].low in ("over", "on", "above", "around")


def _chills_cuttings(clause: Clause, before: Clause) -> bool:
    """`collected fuchsia cuttings, in fridge till thurs`: cuttings are kept fresh, and no seed is chilled."""
    if clause.says.get("treatment") != "cold_stratify" or before.act != "collect":
        return False
    cuttings = any(piece.roles.get("what") == "cuttings" or "cutting" in piece.roles for piece in before.pieces)
    return cuttings and not clause.kinds() & {"lots", "trays"} and not clause.has("plant")


def _becomes(clause: Clause, before: Clause) -> bool:
    """`bleached and dried`, `2 broken`: what became of things that were cleaned."""
    if clause.kinds() & SUBJECTS or clause.has("plant"):
        return False
    things = before.has("thing", "container", "pot_size", "solution") or "solution" in before.says
    return things and not _of_plants(clause) and clause.word is not None and clause.word.counts_before


def _with_things_before(clauses: list[Clause]) -> list[Clause]:
    """`took the flats from the wash pile and dunked em in quat`: the things are named before "em"."""
    kept: list[Clause] = []
    for clause in clauses:
        before = kept[-1] if kept else None
        if clause.act == "sanitize" and before is not None and _speaks_of_it(clause) and _names_things(before):
            clause.pieces = [*before.pieces, *clause.pieces]
            clause.after, clause.first = before.after, before.first
            kept.pop()
        kept.append(clause)
    return kept


def _speaks_of_it(clause: Clause) -> bool:
    return any(piece.low in _IT for piece in clause.pieces) and not clause.has("thing")


def _names_things(clause: Clause) -> bool:
    return clause.act is None and clause.has("thing") and not clause.kinds() & {"lots", "trays"}


def _settle_treatment(clause: Clause, before: Clause | None) -> None:
    things = clause.has("thing") and not _of_plants(clause) and not clause.kinds() & {"trays"}
    if clause.says.get("treatment") in _BATHS and things and not clause.says.get("ends"):
        if clause.has("solution"):
            _use_word(clause)
        else:
            _keep_word(clause, clause.word)
        clause.act, clause.says = "sanitize", {}
    elif before is not None and before.act == "sanitize" and _details_bath(clause):
        if clause.says["treatment"] == "rinse":
            _keep_word(clause, clause.word)
        else:
            _use_word(clause)
        clause.act, clause.word, clause.says = None, None, {}


def _details_bath(clause: Clause) -> bool:
    """`15 min soak`, `rinsed` after things were disinfected."""
    return (
        clause.says.get("treatment") in _BATHS and _tells_only_time(clause) and not clause.kinds() & {"lots", "trays"}
    )


def _settle_cleaning(clause: Clause, before: Clause | None, after: list[Clause]) -> None:
    if clause.has("solution"):
        if _rinses_holder(clause):
            _keep_deed(clause)
        return
    by_tool = _of_plants(clause) and _only_with_tools(clause)
    if (clause.has("thing", "container", "pot_size", "place_word") and not by_tool) or _says_sterile(clause):
        return
    rule = clause.word.rule if clause.word is not None else None
    if rule == "rinsed" and not any(piece.low == "swept" for piece in clause.pieces):
        if by_tool or (before is not None and before.act == "treat"):
            clause.act, clause.says = "treat", {"treatment": "rinse"}
        return
    if _of_plants(clause) or clause.kinds() & {"amount", "trays"}:
        _keep_deed(clause)
        return
    beside = before is not None and before.act in ("collect", "sow", "treat")
    follows = next((one.act for one in after if one.act is not None), None) in ("sow", "sanitize")
    follows = follows or any(one.kinds() & {"amount", "lots", "trays"} or one.has("what") for one in after[:1])
    if (_says_only_it(clause) and (beside or follows)) or (beside and _lies_drying(clause)):
        _keep_deed(clause)


def _only_with_tools(clause: Clause) -> bool:
    """`cleaned the ceanothus seed w a sieve`: with what it was done, and not what was cleaned."""
    for place, piece in enumerate(clause.pieces):
        if piece.roles.keys() & {"thing", "container", "pot_size", "place_word"}:
            lead = place - 1 - (place > 1 and clause.pieces[place - 1].low in ("a", "the", "an", "our", "my"))
            if lead < 0 or clause.pieces[lead].low not in _TOOL_LEADS:
                return False
    return True


_TOOL_LEADS: Final = frozenset({"w", "with", "w/", "in", "thru", "through", "using", "over", "on"})


def _says_sterile(clause: Clause) -> bool:
    """Whether the word says more than that something was cleaned."""
    deed = next((piece.low for piece in clause.pieces if is_act(piece)), "")
    return deed not in _CLEANING and (clause.word is None or clause.word.rule is None)


def _rinses_holder(clause: Clause) -> bool:
    """`rinsed out the bleach bucket`: what held the solution, which was cleaned with no solution."""
    return (
        clause.word is not None
        and clause.word.rule == "rinsed"
        and any("solution" in piece.roles and piece.low.split(" ")[-1] in _HOLDERS for piece in clause.pieces)
    )


def _of_plants(clause: Clause) -> bool:
    return (
        bool(clause.kinds() & {"lots", "quote"})
        or clause.has(*_OF_PLANTS)
        or any(piece.low in _SEED for piece in clause.pieces)
    )


def _says_only_it(clause: Clause) -> bool:
    return all(
        is_act(piece) or "filler" in piece.roles or piece.kind in ("mark", "moment", "person")
        for piece in clause.pieces
    )


def _lies_drying(clause: Clause) -> bool:
    return any(piece.low in ("drying", "dried") for piece in clause.pieces)


def _tells_only_time(clause: Clause) -> bool:
    return all(
        piece.kind in ("duration", "mark", "temp", "word")
        or is_act(piece)
        or "filler" in piece.roles
        or "noun" in piece.roles
        for piece in clause.pieces
    )


def _hoses_things(clause: Clause) -> bool:
    """`hosed the benches down`: a wash, and no watering."""
    if clause.kinds() & {"lots", "trays", "quote"} or clause.has("plant"):
        return False
    hosed = any(is_act(piece) and piece.low in _HOSING for piece in clause.pieces)
    out = any(before.low == "hosed" and after.low == "out" for before, after in pairwise(clause.pieces))
    return (out and clause.has("place_word")) or (hosed and any(piece.low in _HOSED for piece in clause.pieces))


def _keep_deed(clause: Clause) -> None:
    """Makes a clause one that tells no deed; its words stay as they are."""
    _keep_word(clause, clause.word)
    clause.act, clause.word, clause.says = None, None, {}


def _keep_word(clause: Clause, word: ActWord | None) -> None:
    for piece in clause.pieces:
        if any(meaning is word for meaning in piece.roles.values()) or (is_act(piece) and piece.kind == "phrase"):
            piece.roles = NO_ROLES


def _keep_numbers(clause: Clause) -> None:
    """`bleached the pots, 2 broken`: what is counted after the cleaning was not cleaned."""
    for piece in clause.pieces:
        piece.kind = "kept" if piece.kind in ("number", "fraction", "duration") else piece.kind


def _use_word(clause: Clause) -> None:
    for piece in clause.pieces:
        if "noun" in piece.roles or is_act(piece):
            piece.used = True
            piece.roles = NO_ROLES
