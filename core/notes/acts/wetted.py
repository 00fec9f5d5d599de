"""What was wetted, washed, sprayed or emptied: plants, seed, tools or a solution.

The rules of the shared words `soaked`, `dipped`, `rinsed`, `wiped`, `sprayed`, `dumped`, `changed` and `drained`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from core.notes.acts.beside import Decision, noun_of, words_of
from core.notes.parting.clauses import Clause
from core.notes.words.pieces import is_act
from core.notes.words.steps import Look
from core.vocabulary.everyday import is_everyday
from core.vocabulary.loading import small_words

_WASHING: Final = small_words("sayings", "washing")
WASHED: Final = Look(word.split(" ")[0] for word in _WASHING)
"""Of what may wash pests off, a sentence holds one of these."""
_LIQUIDS: Final = small_words("solutions", "liquids")
_BEING: Final = frozenset({"was", "were", "is", "are", "looks", "looked"})
_STANDING: Final = frozenset({"still", "looks", "so", "all", "totally", "really", "pretty", "too"})
_STATE_WORDS: Final = 3
_RAIN: Final = frozenset({"rain", "the rain", "storm", "thunderstorm", "sprinkler", "sprinklers", "hose", "misters"})
PRONOUNS: Final = frozenset({"it", "them", "em", "those", "that"})


def _soaks_long(clause: Clause) -> bool:
    return any(
        piece.kind == "duration" and (piece.value[0].days or piece.value[0].seconds >= 3600) for piece in clause.pieces
    )


def soaked(clause: Clause, word: str) -> Decision:
    """Tools or containers: sanitize; seed, a lot or hours: treat; a tray of plants, and what the rain soaks: water."""
    if clause.kinds() & {"lots", "trays"} and (words_of(clause) & _RAIN or "with the hose" in words_of(clause)):
        return "water", {}
    treat = noun_of(clause, "treat")
    if treat is not None and treat.says.get("treatment") != "soak":
        return "treat", dict(treat.says)
    if "lots" in clause.kinds() and clause.has("solution") and not clause.has("thing"):
        return "treat", {"treatment": "soak"}
    if clause.has("solution") or (clause.has("thing") and not clause.kinds() & {"lots", "trays"}):
        return (None, {}) if _soaked_by_weather(clause) else ("sanitize", {})
    hours = _soaks_long(clause)
    if clause.has("what") or hours or _has_seed(clause) or ("lots" in clause.kinds() and not clause.has("method")):
        return "treat", {"treatment": "soak"}
    if "trays" in clause.kinds() or (clause.has("all") and not clause.has("plant")):
        return "water", {"method": "soak"}
    if "plant" in {role for piece in clause.pieces for role in piece.roles} or "duration" in clause.kinds():
        return "treat", {"treatment": "soak"}
    return "treat", {"treatment": "soak"}


def is_soaked(clause: Clause) -> bool:
    """`it was soaked`, `tray 4 is soaked`, `lot 9 still soaked`: how it stood, and nothing that was done."""
    told = [piece for piece in clause.pieces if piece.kind != "mark"]
    lows = [piece.low for piece in told]
    if len(told) == _STATE_WORDS and lows[2] == "soaked" and told[0].kind in ("lots", "trays"):
        # "lot 9 is soaked" may be of seed.
        return lows[1] in _STANDING or (told[0].kind == "trays" and lows[1] in ("is", "are"))
    return len(lows) == _STATE_WORDS and lows[0] in PRONOUNS | {"they"} and lows[1] in _BEING


def _soaked_by_weather(clause: Clause) -> bool:
    """`irrigation leak soaked bench c`: what soaked it stands before the verb, and no solution is told."""
    first = next((piece for piece in clause.pieces if "filler" not in piece.roles), None)
    return first is not None and first.kind == "word" and is_everyday(first.low) and not clause.has("solution")


def _has_seed(clause: Clause) -> bool:
    return any(piece.low in ("seed", "seeds") for piece in clause.pieces)


def dipped(clause: Clause, word: str) -> Decision:
    """A hormone: treat; tools or a solution: sanitize; a tray of plants: water."""
    treat = noun_of(clause, "treat")
    if clause.has("hormone", "hormone_name", "hormone_form") or "ppm" in clause.kinds():
        return "treat", {"treatment": "hormone"}
    if clause.has("solution") or (clause.has("thing") and not clause.kinds() & {"lots", "trays"}):
        return "sanitize", {}
    if treat is not None:
        return "treat", dict(treat.says)
    if "trays" in clause.kinds() or word in ("dunked", "submerged"):
        return "water", {"method": "soak"}
    return "treat", {"treatment": "hormone"}


def rinsed(clause: Clause, word: str) -> Decision:
    """Tools or containers: sanitize; seed or a lot: treat."""
    if word == "swept" and not clause.has("thing"):
        return None, {}
    if _done_to_thing(clause):
        return "sanitize", {}
    watered = word == "flushed" or words_of(clause) & {"leaves", "foliage", "tops"}
    if watered and clause.kinds() & {"lots", "trays"} and not _has_seed(clause):
        return "water", {}
    if clause.has("thing", "solution", "pot_size", "container") and not (clause.kinds() & {"lots", "trays"}):
        return "sanitize", {}
    if word == "washed" and "trays" in clause.kinds() and not _has_seed(clause) and not clause.has("plant"):
        # The trays themselves, or the plants in them.
        return None, {}
    if word in ("rinsed", "washed", "flushed") and (
        clause.kinds() & {"lots", "trays"} or clause.has("plant") or _has_seed(clause)
    ):
        return "treat", {"treatment": "rinse"}
    if any(piece.kind == "word" for piece in clause.pieces):
        return "sanitize", {}
    if any(piece.kind == "amount" and piece.value[1] == "gal" for piece in clause.pieces):
        # "washed 120 gallons": pots, and no seed.
        return "sanitize", {}
    return "treat", {"treatment": "rinse"}


def _done_to_thing(clause: Clause) -> bool:
    """`washed the dome on tray 3`: a thing right after the verb, past its article."""
    at = next((place for place, piece in enumerate(clause.pieces) if piece.roles.get("shared") is clause.word), -1) + 1
    while at < len(clause.pieces) and clause.pieces[at].low in ("the", "a", "all", "my", "our", "some", "old"):
        at += 1
    return at < len(clause.pieces) and not clause.pieces[at].roles.keys().isdisjoint(("thing", "cover_noun"))


def seed_named(clause: Clause) -> bool:
    """`planted 30 acorns in tubes`."""
    return any(piece.roles.get("what") == "seed" for piece in clause.pieces)


def wiped(clause: Clause, word: str) -> Decision:
    """Tools, containers or a solution: sanitize; a pest or a lot: tend."""
    if clause.has("solution", "thing", "container", "place_word"):
        return "sanitize", {}
    if clause.has("cause") or clause.kinds() & {"lots", "trays"}:
        return "tend", {"care": "pest_control"}
    thing = any(piece.kind == "word" for piece in clause.pieces) and not words_of(clause) & {"it", "them", "em"}
    return ("sanitize", {}) if thing else (None, {})


def _use_pests(clause: Clause) -> None:
    """The words of `sprayed lot 30 | for aphids`, which tell what the spray was."""
    for place, piece in enumerate(clause.pieces):
        if piece.roles.get("cause") == "pest" and place and clause.pieces[place - 1].low in ("for", "against"):
            piece.used = clause.pieces[place - 1].used = True


def dumped(clause: Clause, word: str) -> Decision:
    """A solution: pour out; plants: lose."""
    if clause.has("solution", "hormone", "hormone_name") or words_of(clause) & _LIQUIDS:
        return "pour_out", {}
    spent = clause.has("medium") and "number" not in clause.kinds()
    if spent or words_of(clause) & {"mix", "soil", "potting mix", "media"}:
        return None, {}
    if clause.kinds() & {"lots", "trays", "number"} or clause.has("plant", "all"):
        return "lose", {}
    return "pour_out", {}


def changed(clause: Clause, word: str) -> Decision:
    """A solution: mixed anew."""
    return ("mix", {}) if clause.has("solution") else (None, {})


def drained(clause: Clause, word: str) -> Decision:
    """A solution: pour out; seed: a soak that ends."""
    if clause.has("solution", "thing") or words_of(clause) & _LIQUIDS:
        return "pour_out", {}
    if "trays" in clause.kinds() and not _has_seed(clause) and "soak" not in words_of(clause):
        return None, {}
    return "treat", {"treatment": "soak", "ends": True}


def of_pests(clause: Clause) -> bool:
    """`tray 9 has aphids, wiped them off`: what was wiped off are pests."""
    return any(piece.roles.get("cause") in ("pest", "mold") for piece in clause.pieces)


def washes_off(clause: Clause) -> bool:
    """The `hosed them off` of `spider mites on tray 4, hosed them off`, the `wiped with alcohol` after scale: what is
    washed off is told before, and no thing is cleaned.
    """
    washed = any(is_act(piece) and piece.low.split(" ")[0] in _WASHING for piece in clause.pieces[:2])
    if not washed or clause.has("thing", "container", "place_word"):
        return False
    words = words_of(clause)
    away = "off" in words or any(piece.low.endswith(" off") for piece in clause.pieces)
    return away or (clause.pieces[0].low == "wiped" and not clause.kinds() & {"lots", "trays"})


def of_tray_before(clause: Clause, before: Sequence[Clause]) -> bool:
    """`tray 8 is sitting in water, drained it`: no seed that soaked."""
    named = next((one for one in reversed(before) if one.kinds() & {"lots", "trays"} or one.has("plant")), None)
    if named is None or "trays" not in named.kinds() or clause.kinds() & {"lots", "trays"}:
        return False
    return not _has_seed(named) and named.act != "treat" and bool(words_of(clause) & PRONOUNS)


def soaks_tray(clause: Clause, before: Sequence[Clause]) -> bool:
    """`tray 9 was bone dry so i soaked it 20 min in the sink`: a tray of plants is watered."""
    if clause.word is None or clause.word.rule not in ("soaked", "dipped") or clause.kinds() & {"lots", "trays"}:
        return False
    named = next((one for one in reversed(before) if one.kinds() & {"lots", "trays"} or one.has("plant")), None)
    if named is None or not words_of(clause) & PRONOUNS or _done_to_thing(clause):
        return False
    if "trays" not in named.kinds() and named.act != "wilt":
        return False
    return not _soaks_long(clause) and not clause.has("solution", "hormone", "hormone_name", "what", "plant", "noun")


def sprayed(clause: Clause, word: str) -> Decision:
    """A pest or soap: tend; a solution: sanitize; a treatment of seed: treat."""
    if (
        all(
            piece.roles.get("shared") is clause.word
            or "filler" in piece.roles
            or piece.kind in ("lots", "trays", "moment", "person")
            for piece in clause.pieces
        )
        and word == "sprayed"
    ):
        return "tend", {"care": "pest_control"}
    plants = bool(clause.kinds() & {"lots", "trays"})
    soaps = plants and bool(words_of(clause) & {"soap", "neem", "oil", "insecticidal"})
    if clause.has("solution") and not soaps:
        return "sanitize", {}
    treat = noun_of(clause, "treat")
    if treat is not None:
        return "treat", dict(treat.says)
    causes = {piece.roles.get("cause") for piece in clause.pieces}
    _use_pests(clause)
    if causes & {"pest", "animal", "mold"} or words_of(clause) & {
        "soap",
        "neem",
        "oil",
        "insecticidal",
        "spinosad",
        "bt",
        "copper",
        "sulfur",
    }:
        return "tend", {"care": "pest_control"}
    return None, {}
