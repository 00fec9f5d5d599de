"""What is done to seed before it is sown, and what is no loss: `toyon seed cleaned and dried 40 g`, `baked the seed of
lot 43 at 80c for 10 minutes`.
"""

from __future__ import annotations

from typing import Final

from core.notes.words.pieces import Piece, names_plants
from core.notes.words.said import keep_words, statements
from core.notes.words.steps import looks_for
from core.vocabulary import ActWord
from core.vocabulary.loading import read_toml, small_words

_SEED: Final = small_words("names", "seeds")
_CLEANED: Final = small_words("seed_dried", "cleaned")
_BAKING: Final = small_words("seed_dried", "baking")
_KILLS_PLANTS_C: Final[float] = read_toml("small_words.toml")["seed_dried"]["kills_plants_c"]
_HEATS_SEED_C: Final[float] = read_toml("small_words.toml")["seed_dried"]["heats_seed_c"]
_JOINTS: Final = frozenset({"and", "&", "+", ",", "then"})


@looks_for("dried", beside=_CLEANED)
def keep_dried_seed(pieces: list[Piece]) -> None:
    """`toyon seed cleaned and dried 40 g`: dried for the store, in place."""
    if not any(piece.low in _SEED for piece in pieces):
        return
    for cleaned, joint, dried in zip(pieces, pieces[1:], pieces[2:], strict=False):
        if cleaned.low in _CLEANED and joint.low in _JOINTS and dried.low == "dried":
            keep_words(dried)


@looks_for(any_of=_BAKING, beside=("=temp",))
def bake_seed(pieces: list[Piece]) -> None:
    """`seed in lot 43 baked at 80c for 10 minutes`: a treatment with heat, in place; not `12 lupine baked at 105f`."""
    for start, end in statements(pieces):
        said = pieces[start:end]
        baked = next((piece for piece in said if piece.low in _BAKING), None)
        temp = next((place for place, piece in enumerate(said) if piece.kind == "temp"), None)
        if baked is None or temp is None or not any(map(_holds_seed, said)):
            continue
        seed = any(piece.low in _SEED for piece in said) and any(piece.kind == "duration" for piece in said)
        if said[temp].value >= (_HEATS_SEED_C if seed else _KILLS_PLANTS_C):
            wet = any(piece.low in ("water", "hot water") for piece in said[temp + 1 :])
            says = {"treatment": "hot_water" if wet else "heat"}
            baked.kind, baked.roles = "phrase", {"act": ActWord(act="treat", says=says)}


def _holds_seed(piece: Piece) -> bool:
    return names_plants(piece) or piece.low in _SEED
