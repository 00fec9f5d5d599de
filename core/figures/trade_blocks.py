"""Is a block of a trade file whole: a TOML table to a value, or a complaint that a grower can act on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, fields
from typing import Any, Final, TypeVar

from core.errors import BadTradeFile

Value = TypeVar("Value")

_FITS: Final[Mapping[str, tuple[type, ...]]] = {
    "str": (str,),
    "bool": (bool,),
    "int": (int,),
    "float": (int, float),
}


def read_block(kind: type[Value], block: Mapping[str, Any], *, file: str) -> Value:
    """The block as a value of the dataclass `kind`. Raises BadTradeFile for a key unknown, missing or no number."""
    if not isinstance(block, Mapping):
        raise BadTradeFile(f"{file}: a block was expected, not {block!r}", words=str(block))
    places = {place.name: place for place in fields(kind)}  # type: ignore[arg-type]
    for key, value in block.items():
        if key not in places:
            raise BadTradeFile(f"{file}: unknown word {key!r}", words=key, hint=f"known: {', '.join(places)}")
        wanted = str(places[key].type).removesuffix(" | None")
        if wanted in _FITS and (not isinstance(value, _FITS[wanted]) or (isinstance(value, bool) and wanted != "bool")):
            raise BadTradeFile(f"{file}: {key} cannot be {value!r}", words=str(value), hint=f"{key} is a {wanted}")
    missing = [name for name, place in places.items() if place.default is MISSING and name not in block]
    if missing:
        raise BadTradeFile(f"{file}: {missing[0]} is missing", words=str(dict(block)), hint="copy a block near it")
    return kind(**block)


def read_blocks(kind: type[Value], blocks: Any, *, file: str) -> tuple[Value, ...]:
    """A list of such blocks, in the file's order. Raises BadTradeFile where there is none, or one is not whole."""
    if not isinstance(blocks, list) or not blocks:
        raise BadTradeFile(f"{file}: no block of {kind.__name__}", hint="undo the last edit of that file")
    return tuple(read_block(kind, block, file=file) for block in blocks)
