"""What can be shown as a picture or a page: a year on one page, and how a lot roots against what was expected.

Rules
1. matplotlib is imported here only, and only when something is drawn.
2. A page shows what the message says, with its ranges; what nobody counted is drawn as not known, never as zero.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_PAGE = (8.27, 11.69)  # A4 upright, inches
_MOST_ROWS = 18
_INK, _QUIET, _SURE = "#2b3a33", "#b9c3bd", "#4c7a5d"


def draw_season(facts: Mapping[str, Any], folder: Path, *, ending: str = "pdf") -> Path:
    """The year's page (`pdf` or `png`) from the facts of a season answer; where it was written."""
    figure = _blank(_PAGE)
    grid = figure.add_gridspec(3, 1, height_ratios=(5, 4, 3), left=0.3, right=0.95, top=0.88, bottom=0.07, hspace=0.4)
    figure.suptitle(f"The year {facts['year']} on the bench", x=0.05, ha="left", fontsize=18, color=_INK)
    figure.text(0.05, 0.93, _headline(facts), fontsize=9.5, color=_INK, va="top")
    _shares(figure.add_subplot(grid[0]), facts["rows"], "Rooted or up, by plant (95 % range of the counts)")
    _shares(figure.add_subplot(grid[1]), facts["ways"], "By way of doing it (plants and dates differ: no verdict)")
    _losses(figure.add_subplot(grid[2]), facts["causes"])
    figure.text(0.05, 0.02, _unknown(facts), fontsize=8.5, color=_INK)
    return _written(figure, folder / f"season-{facts['crew']}-{facts['year']}.{ending}")


def draw_rooting(facts: Mapping[str, Any], folder: Path) -> Path:
    """A lot's looks against the expected curve, as PNG.

    `facts`: `number`, `plant`, `curve` as (day, low, middle, high) shares and `looks` as (day, rooted, of, whole).
    """
    figure = _blank((7, 4.2))
    axes = figure.add_subplot()
    days = [point[0] for point in facts["curve"]]
    low, middle, high = ([point[place] * 100 for point in facts["curve"]] for place in (1, 2, 3))
    axes.fill_between(days, low, high, color=_QUIET, alpha=0.5, linewidth=0, label="8 in 10 lots")
    axes.plot(days, middle, color=_SURE, label="usual")
    for whole, mark, name in ((True, "o", "counted"), (False, "^", "sample")):
        seen = [(day, 100 * rooted / of) for day, rooted, of, is_whole in facts["looks"] if is_whole is whole and of]
        if seen:
            axes.plot(*zip(*seen, strict=True), mark, color=_INK, label=name)
    axes.set(xlabel="days after sticking", ylabel="rooted, %", ylim=(0, 100), xlim=(0, max(days, default=1)))
    axes.set_title(f"{facts['number']} {facts['plant']}", loc="left", color=_INK)
    axes.legend(frameon=False, loc="upper left")
    axes.spines[["top", "right"]].set_visible(False)
    return _written(figure, folder / f"rooting-{facts['number']}.png")


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
        f"{facts['rooted']:,} of {facts['rooted_of']:,} counted rooted or up · {facts['sold']:,} sold · "
        f"{facts['given']:,} given · {facts['planted_out']:,} planted out · {facts['left']:,} left"
    )


def _shares(axes: Axes, rows: Sequence[Mapping[str, Any]], title: str) -> None:
    shown = list(rows[:_MOST_ROWS])[::-1]
    axes.set_title(title, loc="left", fontsize=11, color=_INK)
    for place, row in enumerate(shown):
        if not row["of"]:
            axes.text(0, place, "not counted", va="center", fontsize=8, color=_INK)
            continue
        axes.plot([row["low"] * 100, row["high"] * 100], [place, place], color=_QUIET, linewidth=6)
        axes.plot(100 * row["rooted"] / row["of"], place, "o", color=_SURE)
        axes.text(101, place, f"{row['rooted']}/{row['of']}", va="center", fontsize=8, color=_INK)
    axes.set_yticks(range(len(shown)), [str(row["name"]) for row in shown], fontsize=8.5)
    axes.set(xlim=(0, 100), ylim=(-0.7, max(len(shown), 1) - 0.3))
    axes.spines[["top", "right", "left"]].set_visible(False)


def _losses(axes: Axes, causes: Sequence[tuple[str, int]]) -> None:
    axes.set_title("Lost, by cause", loc="left", fontsize=11, color=_INK)
    shown = list(causes)[::-1]
    axes.barh(range(len(shown)), [count for _, count in shown], color=_SURE)
    axes.set_yticks(range(len(shown)), [cause.replace("_", " ") for cause, _ in shown], fontsize=8.5)
    axes.spines[["top", "right"]].set_visible(False)


def _unknown(facts: Mapping[str, Any]) -> str:
    return (
        f"Never counted: {len(facts['uncounted'])} lots. Number never said: {len(facts['not_counted'])} lots. "
        f"Unexplained plants: {abs(facts['unexplained'])}. No record is not zero."
    )
