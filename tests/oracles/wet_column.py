# SPDX-License-Identifier: Apache-2.0
"""Richards' equation in a column of soil over a water table, solved by scipy.

At a suction s, in m, the soil conducts a / (s^3 + b) and has lost C s of its water. Excess is the
water over that of a soil at rest over the same table. Lengths in m, times in days.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

CELLS = 60
FILLED = 0.98
"""Share of what the soil lacks at rest that rain fills, from the top down."""


def steady_excess(flux: float, way: float, a: float, b: float, c: float) -> float:
    """Excess in a column through which a flux goes down steadily."""

    def rise(z: float, values: NDArray[np.float64]) -> list[float]:
        suction = values[0]
        return [1.0 - flux * (suction**3 + b) / a, z - suction]

    solved = solve_ivp(rise, (0.0, way), [0.0, 0.0], method="LSODA", rtol=1e-9, atol=1e-14)
    return c * float(solved.y[1, -1])


def excess_after(
    days: Sequence[float], excess: float, way: float, a: float, b: float, c: float
) -> NDArray[np.float64]:
    """Excess left after some days in a column at rest on whose top rain has gone in."""
    step = way / CELLS
    height = (np.arange(CELLS) + 0.5) * step
    start = np.zeros(CELLS)
    for cell in reversed(range(CELLS)):
        start[cell] = min(excess / step - start.sum(), FILLED * c * height[cell])

    def change(_: float, wetness: NDArray[np.float64]) -> NDArray[np.float64]:
        suction = np.maximum(height - wetness / c, 0.0)
        conducts = a / (suction**3 + b)
        head = height - suction
        between = 0.5 * (conducts[1:] + conducts[:-1]) * np.diff(head) / step
        below = 0.5 * (conducts[0] + a / b) * head[0] / (0.5 * step)
        down = np.concatenate([[below], between, [0.0]])
        return np.diff(down) / step

    solved = solve_ivp(
        change, (0.0, max(days)), start, method="BDF", t_eval=days, rtol=1e-6, atol=1e-9
    )
    left: NDArray[np.float64] = solved.y.sum(axis=0) * step
    return left
