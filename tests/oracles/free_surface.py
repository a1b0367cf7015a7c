# SPDX-License-Identifier: Apache-2.0
"""Ground water with a free surface through a dam of vertical faces, in finite differences.

Baiocchi's transform makes it a problem without a moving boundary: w is the integral of the pressure
head from a point up, laplace(w) = 1 where w is above zero, and w is never negative. Solved by
projected over-relaxation, red points and black points in turn.
"""

import numpy as np

ROUNDS = 6000
STILL = 1e-11


def free_surface(
    head_up: float, head_down: float, width: float, rows: int
) -> tuple[np.ndarray, np.ndarray]:
    """Distance from the upper face and height of the free surface at the inner columns."""
    y = np.linspace(0.0, head_up, rows + 1)
    columns = round(width / y[1]) + 1
    x = np.linspace(0.0, width, columns)
    w = np.zeros((rows + 1, columns))
    w[0] = head_up**2 / 2 + (head_down**2 - head_up**2) / 2 * x / width
    w[:, 0] = (head_up - y) ** 2 / 2
    w[:, -1] = np.where(y < head_down, (head_down - y) ** 2 / 2, 0.0)
    for row in range(1, rows):
        w[row, 1:-1] = w[row, 0] + (w[row, -1] - w[row, 0]) * x[1:-1] / width
    _relax(w, x[1], y[1])
    return x[1:-1], np.array([_surface(w[:, i], y) for i in range(1, columns - 1)])


def exit_height(head_up: float, head_down: float, width: float, rows: int) -> float:
    """Height at which the free surface meets the lower face, from its shape near the face."""
    x, height = free_surface(head_up, head_down, width, rows)
    way = width - x[-9:]
    shape = np.column_stack([np.ones(9), way, way * np.log(way)])
    return float(np.linalg.lstsq(shape, height[-9:], rcond=None)[0][0])


def _relax(w: np.ndarray, dx: float, dy: float) -> None:
    along, up = 1.0 / dx**2, 1.0 / dy**2
    rows, columns = np.indices(w.shape)
    inner = np.zeros(w.shape, dtype=bool)
    inner[1:-1, 1:-1] = True
    colours = [inner & ((rows + columns) % 2 == part) for part in (0, 1)]
    pace = 2.0 / (1.0 + np.sin(np.pi / max(w.shape)))
    for _ in range(ROUNDS):
        moved = 0.0
        for colour in colours:
            r, c = rows[colour], columns[colour]
            mean = along * (w[r, c - 1] + w[r, c + 1]) + up * (w[r - 1, c] + w[r + 1, c]) - 1.0
            mean /= 2.0 * (along + up)
            new = np.maximum(0.0, w[r, c] + pace * (mean - w[r, c]))
            moved = max(moved, float(np.abs(new - w[r, c]).max()))
            w[r, c] = new
        if moved < STILL:
            return
    raise AssertionError("the free surface did not settle")


def _surface(w: np.ndarray, y: np.ndarray) -> float:
    """Where the root of w, straight near the surface, comes to zero."""
    row = int(np.flatnonzero(w > 1e-10)[-1])
    here, below = np.sqrt(w[row]), np.sqrt(w[row - 1])
    return float(y[row] + (y[1] * here / (below - here) if below > here else 0.0))
