"""Several plants of one deed: `sowed farewell to spring, blue flax and baby blue eyes in flats`.

Rules
1. Plants that are only named, one after the other, after what opens a lot were each sown, stuck or gathered.
2. What is told after the last of them (a flat, a day, one tray) holds for all; so does `40 each`. As many trays as
   plants are one for each.
3. A count that is not said of each is of all of them together: nothing is made of it.
4. A genus and its species, or two names of one plant, are one plant.
"""

from __future__ import annotations

from typing import Final

from core.notes.parting.clauses import Clause
from core.notes.words.act_kinds import COUNTLESS, OPENING
from core.notes.words.pieces import Piece
from core.notes.words.steps import looks_for
from core.vocabulary.loading import small_words
from core.vocabulary.plants import candidates, same_plant

_JOINS: Final = frozenset({",", "and", "&", "+"})
_EACH: Final = frozenset({"each", "ea", "ea.", "of each", "apiece"})
_FROM: Final = small_words("places", "from")
_OF_PLANTS: Final = OPENING | {"pot", "sell", "plant_out", "treat", "move"}
_AROUND: Final = frozenset({"moment", "mark", "person"})
_ARTICLES: Final = small_words("people", "articles")
_MEASURED: Final = frozenset({"number", "amount", "fraction", "percent"})


@looks_for("!sow", beside=("@container",))
def part_counted_flats(pieces: list[Piece]) -> None:
    """`sowed 1 flat clarkia 1 flat poppy 2 flats yarrow`: a comma before the flats of each plant, in place."""
    sown = False
    place = 0
    while place < len(pieces):
        word = pieces[place].roles.get("act")
        sown = sown or (word is not None and word.act == "sow")
        if sown and place > 2 and _begins_flats(pieces, place) and "plant" in pieces[place - 1].roles:
            first = pieces[place].first
            pieces.insert(place, Piece("break", ",", first, first, ","))
            place += 1
        place += 1


def _begins_flats(pieces: list[Piece], place: int) -> bool:
    if place + 2 >= len(pieces) or pieces[place].kind != "number" or "container" not in pieces[place + 1].roles:
        return False
    named = place + 2 + (pieces[place + 2].low == "of" and place + 3 < len(pieces))
    return "plant" in pieces[named].roles


def settle_plant_lists(clauses: list[Clause]) -> list[Clause]:
    """The clauses with each plant of a list a deed of its own."""
    if len(clauses) == 1:
        return clauses
    place = 0
    _join_headed(clauses)
    _join_trays(clauses)
    _treat_before(clauses)
    while place < len(clauses):
        end = _list_end(clauses, place)
        if end > place + 1:
            after = _tell_each(clauses, place, end)
            del clauses[end:after]
            place = end
        place += 1
    return clauses


def _join_headed(clauses: list[Clause]) -> None:
    """`sowed: lupine, poppy, yarrow`, `sowed (lupine, poppy)`: the first plant of a list after its deed."""
    for place, clause in enumerate(clauses[:-2]):
        first = clauses[place + 1]
        heads = clause.act in OPENING and clause.cue is None and not clause.has("plant") and not _is_measured(clause)
        listed = first.after in (":", "(") and first.act is None and first.cue is None and not _says_more(first)
        if heads and listed and _named(first) is not None and _is_item(clauses[place + 2]):
            clause.pieces = [*clause.pieces, *first.pieces]
            del clauses[place + 1]
            return


def _treat_before(clauses: list[Clause]) -> None:
    """`ribes and rose cold strat 90 days`, `put the ribes and the rose in the fridge`, `sage and iris pinched`: a plant
    that is only named before another that was treated or cared for was so too, in place.
    """
    for before, clause in zip(reversed(clauses[:-1]), reversed(clauses), strict=False):
        if before.act is not None or clause.act not in COUNTLESS:
            continue
        names = _named(before), _named(clause)
        told = [piece for piece in before.pieces if "filler" not in piece.roles and piece.kind not in _AROUND]
        if clause.act != "treat":
            told = [one for one in before.pieces if one.low not in _ARTICLES and one.kind not in ("moment", "person")]
        apart = clause.act != "treat" and clause.pieces[0].first > before.pieces[-1].last + 1
        alone = before.cue is None and len(told) == 1 and not apart
        treated = clause.cue is None and clause.after in _JOINS and not _is_measured(clause)
        if not (alone and treated) or None in names or _is_one(str(names[0]), str(names[1])):
            continue
        first = next(piece for piece in clause.pieces if "filler" not in piece.roles or "plant" in piece.roles)
        if "plant" not in first.roles:
            continue
        shared = [piece for piece in clause.pieces if _is_shared(piece) and piece.first > first.first]
        before.act, before.word, before.says = clause.act, clause.word, dict(clause.says)
        before.pieces = [*before.pieces, *(_copy(piece) for piece in shared)]


def _join_trays(clauses: list[Clause]) -> None:
    """`chinese houses, tray 9, and meadowfoam, tray 10`: each plant of a list with a tray of its own, in place."""
    for first in list(clauses):
        opens = first.act in OPENING and first.cue is None and _named(first) is not None and not _is_measured(first)
        at = clauses.index(first) if first in clauses else len(clauses)
        if not opens or not _tray_and_plant(clauses, at):
            continue
        while _tray_and_plant(clauses, at):
            clauses[at].pieces = [*clauses[at].pieces, *clauses.pop(at + 1).pieces]
            at += 1
            clauses[at].act, clauses[at].word, clauses[at].says = first.act, first.word, dict(first.says)
        clauses[at].pieces = [*clauses[at].pieces, *clauses.pop(at + 1).pieces]


def _tray_and_plant(clauses: list[Clause], at: int) -> bool:
    """Whether a tray, and another plant with its tray, follow a clause."""
    after = clauses[at + 1 : at + 4]
    return len(after) == 3 and _only_tray(after[0]) and _is_item(after[1]) and _only_tray(after[2])


def _only_tray(clause: Clause) -> bool:
    """`tray 10`, with nothing but talk after it."""
    told = [piece for piece in clause.pieces if "filler" not in piece.roles]
    if not told or told[0].kind != "trays" or clause.act is not None or clause.cue is not None:
        return False
    return not any(piece.kind in (*_MEASURED, "lots") or "plant" in piece.roles for piece in told[1:])


def _list_end(clauses: list[Clause], start: int) -> int:
    """Where a list of plants ends that begins with the deed of a clause; the next place where none does."""
    first = clauses[start]
    name = _named(first)
    if first.act not in _OF_PLANTS or first.cue is not None or name is None:
        return start + 1
    if (_is_measured(first) and not _says_each_first(first)) or (first.act == "move" and first.has("place_word")):
        return start + 1
    names = [name]
    end = start + 1
    while end < len(clauses) and _is_item(clauses[end]):
        other = _named(clauses[end])
        if other is None or any(_is_one(other, one) for one in names):
            return start + 1
        names.append(other)
        end += 1
        if _says_more(clauses[end - 1]):
            break
    # A last plant with words that cannot be told apart leaves the whole list as it is.
    broken = end < len(clauses) and _names_another(clauses[end])
    return start + 1 if broken else end


def _names_another(clause: Clause) -> bool:
    return clause.act is None and clause.cue is None and clause.after in _JOINS and _named(clause) is not None


def _says_each_first(clause: Clause) -> bool:
    """`one flat each of lupine and poppy`, `20 each of toyon and sage`: the measure before the plants is of each."""
    named = next((at for at, piece in enumerate(clause.pieces) if "plant" in piece.roles), 0)
    each = any(piece.low in _EACH for piece in clause.pieces[:named])
    return each and not clause.kinds() & {"lots", "trays"}


def _named(clause: Clause) -> str | None:
    """The one known plant of a clause; None where it names none or several."""
    named = [piece for piece in clause.pieces if "plant" in piece.roles and piece.kind == "phrase"]
    return named[0].low if len(named) == 1 else None


def _is_measured(clause: Clause) -> bool:
    return bool(clause.kinds() & {*_MEASURED, "lots", "trays"})


def _is_item(clause: Clause) -> bool:
    """Whether a clause only names a plant, and at most where and when."""
    if clause.act is not None or clause.cue is not None or clause.after not in _JOINS:
        return False
    told = [piece for piece in clause.pieces if "filler" not in piece.roles or "plant" in piece.roles]
    at = 1 if len(told) > 1 and "container" in told[0].roles else 0
    if at >= len(told) or "plant" not in told[at].roles or any(map(_tells_state, clause.pieces)):
        return False
    return all(_may_stand(piece) or piece.kind in _MEASURED for piece in told[at + 1 :]) or _place_at(clause) > 0


def _tells_state(piece: Piece) -> bool:
    word = piece.roles.get("noun")
    return word is not None and word.act == "check"


def _place_at(clause: Clause) -> int:
    """Where the source of the last plant of a list begins (`lupine at heron bend`); nought where there is none."""
    named = next((at for at, piece in enumerate(clause.pieces) if "plant" in piece.roles), len(clause.pieces))
    after = clause.pieces[named + 1 :]
    measured = any(piece.kind in (*_MEASURED, "lots", "duration", "size") for piece in after)
    leads = bool(after) and (after[0].low in _FROM or after[0].low in ("at", "along", "@"))
    # "moved toyon and sage to lath".
    leads = leads or (bool(after) and after[0].low in ("to", "into") and "place_word" in after[-1].roles)
    return named + 1 if leads and len(after) > 1 and not measured else 0


def _may_stand(piece: Piece) -> bool:
    if piece.kind == "moment" and (piece.value.ahead is not None or (piece.value.days or 0) > 0):
        return False
    return piece.kind in ("moment", "trays", "medium", "mark", "kept", "duration", "temp") or bool(
        piece.roles.keys() & {"container", "medium", "pot_size", "what"}
    )


def _says_more(clause: Clause) -> bool:
    return any("plant" not in piece.roles and "filler" not in piece.roles for piece in clause.pieces)


def _is_one(name: str, other: str) -> bool:
    """Whether two names are of one plant, or of a genus and its species."""
    if same_plant(name, other):
        return True
    genera = [{plant.genus for plant in candidates(one)} for one in (name, other)]
    whole = any(" " not in plant.botanical for one in (name, other) for plant in candidates(one))
    return whole and bool(genera[0] & genera[1])


def _tell_each(clauses: list[Clause], start: int, end: int) -> int:
    """Makes each clause of a list the deed of its first, in place; where the clauses end that told of each."""
    first, items = clauses[start], clauses[start:end]
    for clause in items[1:]:
        clause.act, clause.word, clause.says = first.act, first.word, dict(first.says)
    source = _place_at(items[-1]) if len(items) > 1 else 0
    placed = items[-1].pieces[source:] if source else []
    shared = [piece for piece in items[-1].pieces if _is_shared(piece) and piece not in placed]
    if not any(piece.low in _EACH for piece in items[-1].pieces):
        _keep_measures(items[-1])
    else:
        shared.extend(piece for piece in items[-1].pieces if piece.kind in _MEASURED)
    shared.extend(placed)
    for clause in items[1:]:
        clause.pieces[:0] = [_copy(piece) for piece in first.pieces if "what" in piece.roles]
    if _says_each_first(first):
        named = next(at for at, piece in enumerate(first.pieces) if "plant" in piece.roles)
        shared.extend(piece for piece in first.pieces[:named] if piece.kind in _MEASURED or _is_shared(piece))
    after = end
    while after < len(clauses) and _tells_of_each(clauses[after]):
        shared.extend(_pieces_of_each(clauses[after]))
        after += 1
    if after < len(clauses) and _counts_all(clauses[after]):
        _keep_measures(clauses[after])
    _share(items, shared)
    return after


def _keep_measures(clause: Clause) -> None:
    for piece in clause.pieces:
        piece.kind = "kept" if piece.kind in _MEASURED else piece.kind


def _counts_all(clause: Clause) -> bool:
    """`toyon and sage, 40`: a count that is not said of each."""
    return clause.act is None and clause.after in _JOINS and bool(clause.kinds() & _MEASURED) and _named(clause) is None


def _is_shared(piece: Piece) -> bool:
    shared = piece.kind in ("moment", "trays", "medium", "duration", "temp")
    return shared or bool(piece.roles.keys() & {"container", "medium", "pot_size"})


def _tells_of_each(clause: Clause) -> bool:
    """`40 each`, `tray 5`, `in flats` after a list."""
    if clause.act is not None or clause.cue is not None or clause.after not in _JOINS:
        return False
    told = [piece for piece in clause.pieces if "filler" not in piece.roles]
    each = any(piece.low in _EACH for piece in clause.pieces)
    return bool(told) and all(_is_shared(piece) or (each and piece.kind in _MEASURED) for piece in told)


def _pieces_of_each(clause: Clause) -> list[Piece]:
    return [piece for piece in clause.pieces if _is_shared(piece) or piece.kind in _MEASURED]


def _share(items: list[Clause], shared: list[Piece]) -> None:
    """Gives each clause of a list the pieces that hold for all; of as many trays as clauses one to each."""
    trays = [name for piece in shared if piece.kind == "trays" for name in piece.value]
    for at, clause in enumerate(items):
        for piece in shared:
            if piece.kind == "trays" and len(trays) == len(items):
                continue
            if piece not in clause.pieces:
                clause.pieces.append(_copy(piece))
        if trays and len(trays) == len(items):
            clause.pieces = [piece for piece in clause.pieces if piece.kind != "trays"]
            tray = next(piece for piece in shared if piece.kind == "trays")
            clause.pieces.append(Piece("trays", (trays[at],), tray.first, tray.last, tray.low))


def _copy(piece: Piece) -> Piece:
    return Piece(piece.kind, piece.value, piece.first, piece.last, piece.low, piece.roles)
