"""Which media stand together, and in what parts.

`perlite/coir 3:1`, `2 parts perlite 1 part peat`, `1 part bleach 9 parts water`.
"""

from __future__ import annotations

from typing import Any, Final

from core.notes.pieces import Piece

_BETWEEN: Final = frozenset({"/", "+", "&", "and", "with", "-", "n", "mix", ":"})


def join_mixtures(pieces: list[Piece]) -> None:
    """Joins runs of media to one piece of kind `medium`, and parts of a solution to one of kind `parts`, in place."""
    at = 0
    while at < len(pieces):
        if "medium" in pieces[at].roles and not (
            "plant" in pieces[at].roles and at and "plant" in pieces[at - 1].roles
        ):
            _join_media(pieces, at)
        elif pieces[at].kind == "number" and at + 2 < len(pieces) and pieces[at + 1].low in ("part", "parts"):
            _join_parts(pieces, at)
        at += 1


def _join_media(pieces: list[Piece], at: int) -> None:
    named = [pieces[at].roles["medium"]]
    end = at + 1
    while end < len(pieces):
        step = end
        while step < len(pieces) and step - end < 2 and (pieces[step].low in _BETWEEN or pieces[step].kind == "dash"):
            step += 1
        if step < len(pieces) and "medium" in pieces[step].roles and pieces[step].roles["medium"] not in named:
            if pieces[step].roles["medium"] == "potting mix" and pieces[step].low == "mix":
                end = step + 1
                break
            named.append(pieces[step].roles["medium"])
            end = step + 1
        else:
            break
    if end < len(pieces) and pieces[end].low == "mix" and len(named) > 1:
        end += 1
    value = "+".join(named)
    start = at
    if len(named) > 1:
        ratio, start, end = _ratio_beside(pieces, at, end, len(named))
        if ratio:
            value = f"{value} {ratio}"
    if named == ["potting mix"] and pieces[at].low == "mix" and _mixes_solution(pieces, at):
        return
    _replace(pieces, start, end, "medium", value, {"medium": value})


def _mixes_solution(pieces: list[Piece], at: int) -> bool:
    return any("solution" in piece.roles for piece in pieces[max(0, at - 2) : at + 3])


def _ratio_beside(pieces: list[Piece], start: int, end: int, count: int) -> tuple[str, int, int]:
    for place in (end, start - 1):
        step = place
        if (
            step == end
            and step < len(pieces)
            and pieces[step].kind == "break"
            and pieces[step].low in (",", "(")
            and step + 1 < len(pieces)
        ):
            step += 1
        if not 0 <= step < len(pieces):
            continue
        piece = pieces[step]
        if piece.kind == "colon" and count == 2:
            ratio = f"{piece.value[0]:g}:{piece.value[1]:g}"
        elif piece.kind == "fraction" and count == 2 and piece.low == "50/50":
            ratio = "1:1"
        elif piece.kind == "moment" and ":" in piece.low and count == 2:
            ratio = piece.low
        elif piece.low in ("half and half", "equal parts"):
            ratio = "1:1"
        else:
            continue
        return (ratio, start, step + 1) if step >= end else (ratio, step, end)
    return "", start, end


def _join_parts(pieces: list[Piece], at: int) -> None:
    """`N part(s) X (to) M part(s) Y`."""
    names: list[Any] = []
    parts: list[float] = []
    end = at
    while end + 2 < len(pieces) and pieces[end].kind == "number" and pieces[end + 1].low in ("part", "parts"):
        name_at = end + 2
        if pieces[name_at].low == "of":
            name_at += 1
        if name_at >= len(pieces):
            break
        parts.append(pieces[end].value.value)
        names.append(pieces[name_at])
        end = name_at + 1
        while (
            end < len(pieces)
            and pieces[end].low in ("to", "and", "&", "+", ",", "in", "with")
            and end + 1 < len(pieces)
            and pieces[end + 1].kind == "number"
        ):
            end += 1
    if len(parts) < 2:
        _part_to(pieces, at)
        return
    whole = [int(part) if part == int(part) else part for part in parts]
    if all("medium" in name.roles for name in names):
        value = "+".join(name.roles["medium"] for name in names) + " " + ":".join(f"{part:g}" for part in parts)
        _replace(pieces, at, end, "medium", value, {"medium": value})
        return
    solution = next((name for name in names if "solution" in name.roles), None)
    if solution is None and names[0].kind == "word":
        solution = names[0]
    if solution is not None and len(whole) == 2 and names[1] is solution:
        whole.reverse()
    others = [Piece("parts", tuple(whole), pieces[at].first, pieces[end - 1].last, "parts")]
    if solution is not None:
        others.append(solution)
    pieces[at:end] = others


def _part_to(pieces: list[Piece], at: int) -> None:
    """`1 part to 9`: parts of which the second is only a number."""
    if at + 3 < len(pieces) and pieces[at + 2].low in ("to", "in") and pieces[at + 3].kind == "number":
        first, second = pieces[at].value.whole, pieces[at + 3].value.whole
        if first is not None and second is not None:
            pieces[at : at + 4] = [Piece("parts", (first, second), pieces[at].first, pieces[at + 3].last, "parts")]


def _replace(pieces: list[Piece], start: int, end: int, kind: str, value: Any, roles: dict[str, Any]) -> None:
    low = pieces[start].low if end - start == 1 else value
    extra = (
        {role: meaning for role, meaning in pieces[start].roles.items() if role in ("plant", "noun", "to_do", "filler")}
        if end - start == 1
        else {}
    )
    pieces[start:end] = [
        Piece(
            kind if end - start > 1 else pieces[start].kind,
            value,
            pieces[start].first,
            pieces[end - 1].last,
            low,
            {**extra, **roles},
        )
    ]


__all__ = ["join_mixtures"]
