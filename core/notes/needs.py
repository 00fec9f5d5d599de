"""What must be asked before an act can be recorded: the needs of each act, as data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

_SUBJECT: Final = ("lots", "trays", "plant")
_COUNTED: Final = ("count", "share", "all_of", "left")
_BARE: Final = frozenset({"roots_out", "flowering", "ready"})

# act -> what it needs: (ask, fields of which one must be there)
NEEDS: Final[dict[str, tuple[tuple[str, tuple[str, ...]], ...]]] = {
    **dict.fromkeys(("stick", "sow", "divide", "collect"), (("plant", ("plant",)),)),
    **dict.fromkeys(
        ("cover", "uncover", "air", "wilt", "water", "tend", "harden", "treat", "hold", "clear", "merge"),
        (("lot", _SUBJECT),),
    ),
    **dict.fromkeys(("pot", "sell", "give", "plant_out"), (("lot", _SUBJECT), ("count", ("count", "all_of")))),
    "split": (("lot", _SUBJECT), ("count", ("count", "all_of", "share"))),
    "reserve": (("lot", _SUBJECT),),
    "vent": (("lot", _SUBJECT), ("open", ("vent_open",))),
    "move": (("lot", _SUBJECT), ("to", ("to",))),
    "lose": (("lot", _SUBJECT), ("count", _COUNTED)),
    "mix": (("solution", ("solution",)),),
    "remind": (("date", ("at", "every")), ("text", ("text",))),
    "target": (("plant", ("plant",)), ("count", ("count",)), ("date", ("due",))),
}  # fmt: skip


def missing(act: str, values: Mapping[str, Any]) -> list[str]:
    """The kinds of question that an act with these values leaves open, in the published order."""
    asked = [ask for ask, fields in NEEDS.get(act, ()) if not any(_given(values, name) for name in fields)]
    if act == "check":
        asked.extend(_missing_of_check(values))
    if (
        act == "ask"
        and values.get("about") == "count"
        and values.get("state")
        and not any(_given(values, name) for name in _SUBJECT)
    ):
        asked.append("lot")
    return asked


def _given(values: Mapping[str, Any], name: str) -> bool:
    value = values.get(name)
    return value is not None and value is not False and value != ()


def _missing_of_check(values: Mapping[str, Any]) -> list[str]:
    asked = [] if any(_given(values, name) for name in _SUBJECT) else ["lot"]
    counted = _given(values, "count") or _given(values, "share")
    state = values.get("state")
    if state is not None and not counted and state not in _BARE:
        asked.append("count")
    if state is None and counted:
        asked.append("state")
    return asked
