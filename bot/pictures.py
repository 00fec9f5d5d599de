"""What can be shown as a picture or a page: a year on one page, and how a lot roots against what was expected.

Rules
1. matplotlib is imported here only, and only when something is drawn.
2. A page shows what the message says, with its ranges; what nobody counted is drawn as not known, never as zero.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from core.vocabulary.plant_writing import written

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_PAGE = (8.27, 11.69)  # A4 upright, inches
_MOST_ROWS = 30
_LONGEST_NAME = 32
_ROW, _GAP, _HEAD, _HEAD_AFTER, _FOOT = 0.24, 0.75, 1.35, 0.8, 0.5  # inches
_LEFT, _WIDE = 0.31, 0.59  # of the page's width
_INK, _QUIET, _SURE, _OTHER = "#2b3a33", "#b9c3bd", "#4c7a5d", "#8a7b5a"


def draw_season(facts: Mapping[str, Any], path: Path) -> Path:
    """The year's pages as a PDF, from the facts of a season answer; where it was written."""
    from matplotlib.backends.backend_pdf import PdfPages

    path.parent.mkdir(parents=True, exist_ok=True)
    with PdfPages(path) as pages:
        for figure in season_pages(facts):
            pages.savefig(figure)
    return path


def season_pages(facts: Mapping[str, Any]) -> list[Figure]:
    """The year's pages: every plant and way in a row of its own, as many pages as they take."""
    pages: list[Figure] = []
    below = 0.0
    for part in _parts(facts):
        if not pages or below - part.inches < _FOOT:
            pages.append(_page(facts, len(pages)))
            below = _PAGE[1] - (_HEAD if len(pages) == 1 else _HEAD_AFTER)
        high = part.inches - _GAP
        box = (_LEFT, (below - part.inches + _GAP / 2) / _PAGE[1], _WIDE, high / _PAGE[1])
        axes = pages[-1].add_axes(box)
        part.draw(axes, part.rows, part.title)
        below -= part.inches
    for place, page in enumerate(pages):
        page.text(0.05, 0.02, _unknown(facts), fontsize=8.5, color=_INK)
        if len(pages) > 1:
            page.text(0.95, 0.02, f"{place + 1} of {len(pages)}", fontsize=8.5, color=_INK, ha="right")
    return pages


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """Rows under one title, and who draws them."""

    title: str
    rows: Sequence[Any]
    draw: Callable[[Axes, Sequence[Any], str], None]

    @property
    def inches(self) -> float:
        return max(len(self.rows), 1) * _ROW + _GAP


def _parts(facts: Mapping[str, Any]) -> list[_Part]:
    parts = []
    sections = (
        ("Rooted or up, %, by plant (bar: 95 % range of the counts)", facts["rows"], _shares),
        ("By way of doing it, % (plants and dates differ: no verdict)", facts["ways"], _shares),
        ("Lost, by cause", facts["causes"], _losses),
    )
    for title, rows, draw in sections:
        for first in range(0, max(len(rows), 1), _MOST_ROWS):
            more = " (continued)" if first else ""
            parts.append(_Part(title=title + more, rows=rows[first : first + _MOST_ROWS], draw=draw))
    return parts


def _page(facts: Mapping[str, Any], before: int) -> Figure:
    page = _blank(_PAGE)
    page.text(0.05, 0.965, f"The year {facts['year']} on the bench", fontsize=18, color=_INK, va="top")
    if not before:
        page.text(0.05, 0.93, _headline(facts), fontsize=9.5, color=_INK, va="top", linespacing=1.5)
    return page


def draw_rooting(facts: Mapping[str, Any], path: Path) -> Path:
    """A lot's looks against the usual course of its plant, as PNG; where it was written.

    `facts`: `number`, `plant`, `kind`, `curve` as (day, low, middle, high) shares, `looks` as (day, rooted, of, whole),
    and the looks of the plant's `others`, a list each.
    """
    up = facts["kind"] == "seed"
    figure = _blank((7, 4.2))
    axes = figure.add_subplot()
    days = [point[0] for point in facts["curve"]]
    low, middle, high = ([point[place] * 100 for point in facts["curve"]] for place in (1, 2, 3))
    axes.fill_between(days, low, high, color=_QUIET, alpha=0.5, linewidth=0, label="8 in 10 lots")
    axes.plot(days, middle, color=_SURE, label="usual")
    for place, looks in enumerate(facts["others"]):
        seen = [(day, 100 * rooted / of) for day, rooted, of, _ in looks if of]
        axes.plot(*zip(*seen, strict=True), ".-", color=_OTHER, linewidth=0.8, label="" if place else "other lots")
    for whole, mark, name in ((True, "o", "counted"), (False, "^", "sample")):
        seen = [(day, 100 * rooted / of) for day, rooted, of, is_whole in facts["looks"] if is_whole is whole and of]
        if seen:
            axes.plot(*zip(*seen, strict=True), mark, color=_INK, label=name)
    axes.set(xlabel=f"days after {'sowing' if up else 'sticking'}", ylabel="up, %" if up else "rooted, %")
    axes.set(ylim=(-2, 100), xlim=(0, max(days, default=1)))
    axes.set_title(f"{facts['number']} {_short(str(facts['plant']))}", loc="left", color=_INK)
    axes.legend(loc="upper left", frameon=False, fontsize=9)
    axes.spines[["top", "right"]].set_visible(False)
    return _written(figure, path)


def _blank(size: tuple[float, float]) -> Figure:
    # Figures are built without pyplot, which would keep them all and choose a screen.
    from matplotlib.figure import Figure

    return Figure(figsize=size)


def _written(figure: Figure, path: Path) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    figure.savefig(path, dpi=130)
    return path


def _headline(facts: Mapping[str, Any]) -> str:
    return (
        f"{facts['started']:,} started in {facts['lots']} lots of {facts['plants']} plants · "
        f"{facts['rooted']:,} of {facts['rooted_of']:,} counted rooted or up\n"
        f"{facts['sold']:,} sold · {facts['given']:,} given · {facts['planted_out']:,} planted out · "
        f"{facts['lost']:,} lost · {facts['left']:,} left"
    )


def _shares(axes: Axes, rows: Sequence[Mapping[str, Any]], title: str) -> None:
    shown = list(rows)[::-1]
    axes.set_title(title, loc="left", x=0, fontsize=11, color=_INK)
    for place, row in enumerate(shown):
        if not row["of"]:
            axes.text(1, place, "not counted", va="center", fontsize=8, color=_INK)
            continue
        axes.plot([row["low"] * 100, row["high"] * 100], [place, place], color=_QUIET, linewidth=6)
        axes.plot(100 * row["rooted"] / row["of"], place, "o", color=_SURE)
        axes.text(102, place, f"{row['rooted']}/{row['of']}", va="center", fontsize=8, color=_INK)
    axes.set_yticks(range(len(shown)), [_short(str(row["name"])) for row in shown], fontsize=8.5)
    axes.tick_params(axis="x", labelsize=8.5)
    axes.tick_params(axis="y", length=0)
    axes.set(xlim=(0, 100), ylim=(-0.7, max(len(shown), 1) - 0.3))
    axes.spines[["top", "right", "left"]].set_visible(False)


def _losses(axes: Axes, causes: Sequence[tuple[str, int]], title: str) -> None:
    axes.set_title(title, loc="left", x=0, fontsize=11, color=_INK)
    axes.set_axis_off()
    if not causes:
        axes.text(0, 0.5, "No loss was noted. No record is not zero.", fontsize=8.5, color=_INK, va="center")
        return
    most = max(count for _, count in causes)
    axes.set(xlim=(0, most), ylim=(-0.7, len(causes) - 0.3))
    for place, (cause, count) in enumerate(reversed(causes)):
        axes.barh(place, count, height=0.6, color=_SURE)
        axes.text(-0.02 * most, place, _short(cause.replace("_", " ")), fontsize=8.5, ha="right", va="center")
        axes.text(count + 0.02 * most, place, f"{count:,}", fontsize=8.5, va="center", color=_INK)


def _short(name: str) -> str:
    name = written(name)
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}…"


def _unknown(facts: Mapping[str, Any]) -> str:
    return (
        f"Lots never counted: {len(facts['uncounted'])}. Lots whose number nobody said: {len(facts['not_counted'])}. "
        f"Unexplained plants: {abs(facts['unexplained'])}. No record is not zero."
    )
