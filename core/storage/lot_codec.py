"""How a lot (or any frozen value of its kind) is written as JSON and read back the same.

Rules
1. The classes say the form: what a field's type is, decides how its JSON is read. Nothing here names a field.
2. A field that has its default is left out, so that old JSON is read by a class that has gained a field.
"""

from __future__ import annotations

from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import UTC, date, datetime
from functools import cache
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from core.errors import BooksBroken
from core.lots import Lot

_Value = TypeVar("_Value")


def write_lot(lot: Lot) -> dict[str, Any]:
    """A lot as JSON values. Raises ValueError for an instant without a zone."""
    written: dict[str, Any] = _write(lot)
    return written


def read_lot(body: dict[str, Any]) -> Lot:
    """The lot that `write_lot` wrote. Raises BooksBroken for anything else."""
    return _read_value(Lot, body)


def _write(value: Any) -> Any:
    if is_dataclass(value) and not isinstance(value, type):
        return {
            place.name: _write(getattr(value, place.name))
            for place in fields(value)
            if not _is_default(place, getattr(value, place.name))
        }
    if isinstance(value, datetime):
        if value.tzinfo is None:
            raise ValueError(f"an instant needs its zone: {value.isoformat()}")
        return value.astimezone(UTC).isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [_write(one) for one in value]
    return value


def _is_default(place: Field[Any], value: Any) -> bool:
    # 0, 0.0 and False are equal but not the same: the type is compared too.
    return place.default is not MISSING and type(value) is type(place.default) and value == place.default


@cache
def _hints(kind: Any) -> dict[str, Any]:
    return get_type_hints(kind)


def _read_value(kind: type[_Value], body: dict[str, Any]) -> _Value:
    of_class: Any = kind
    hints = _hints(of_class)
    unknown = set(body) - set(hints)
    if unknown:
        raise BooksBroken(f"a stored {kind.__name__} has unknown parts", words=", ".join(sorted(unknown)))
    try:
        return kind(**{name: _read(hints[name], value) for name, value in body.items()})
    except (TypeError, ValueError) as wrong:
        raise BooksBroken(f"a stored {kind.__name__} cannot be read", words=str(wrong)) from wrong


def _read(hint: Any, value: Any) -> Any:
    origin = get_origin(hint)
    if origin in (Union, UnionType):
        if value is None:
            return None
        choices = [one for one in get_args(hint) if one is not NoneType]
        if len(choices) > 1 and not isinstance(value, list):
            choices = [one for one in choices if get_origin(one) is not tuple] or choices
        elif isinstance(value, list):
            choices = [one for one in choices if get_origin(one) is tuple] or choices
        return _read(choices[0], value)
    if origin is tuple:
        return tuple(_read(get_args(hint)[0], one) for one in value)
    if hint is datetime:
        return datetime.fromisoformat(value)
    if hint is date:
        return date.fromisoformat(value)
    if isinstance(hint, type) and is_dataclass(hint):
        return _read_value(hint, value)
    return value
