# SPDX-License-Identifier: Apache-2.0
"""Flow into a bailed auger hole, in finite volumes round its axis.

The water table outside stays level, as all published tables of such holes take it. Rings of equal
height, radii that grow by a factor; heads count from the water table.
"""

import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

RINGS_IN, RINGS_OUT, ROWS = 6, 40, 60


def rise_per_conductivity(radius: float, depth: float, below: float, drawdown: float) -> float:
    """Rate at which the water rises over the conductivity of the soil.

    `depth` is the water in the hole at rest, `below` the soil between its bottom and the barrier,
    `drawdown` how far the water stands under its rest.
    """
    edges = np.concatenate(
        [
            np.linspace(0.0, radius, RINGS_IN + 1),
            radius * np.geomspace(1.0, 12.0 * (depth + below) / radius, RINGS_OUT + 1)[1:],
        ]
    )
    middle = 0.5 * (edges[1:] + edges[:-1])
    step = (depth + below) / ROWS
    z = (np.arange(ROWS) + 0.5) * step  # below the water table
    rings = middle.size
    in_hole = (middle[None, :] < radius) & (z[:, None] < depth)
    fixed = np.where(z[:, None] < drawdown, -z[:, None], -drawdown) * np.ones((1, rings))
    number = np.arange(ROWS * rings).reshape(ROWS, rings)
    rows, columns, weights = [], [], []
    diagonal, right = np.zeros(ROWS * rings), np.zeros(ROWS * rings)
    inflow = np.zeros(ROWS * rings)

    def join(a: tuple[int, int], b: tuple[int, int], weight: float) -> None:
        for here, there in ((a, b), (b, a)):
            if in_hole[here]:
                continue
            diagonal[number[here]] += weight
            if in_hole[there]:
                right[number[here]] += weight * fixed[there]
                inflow[number[here]] += weight
            else:
                rows.append(number[here])
                columns.append(number[there])
                weights.append(-weight)

    ring_area = np.pi * np.diff(edges**2)
    for i in range(ROWS):
        for j in range(rings):
            if j + 1 < rings and not (in_hole[i, j] and in_hole[i, j + 1]):
                near = edges[j + 1] if in_hole[i, j] else max(middle[j], 1e-6)
                far = edges[j + 1] if in_hole[i, j + 1] else middle[j + 1]
                join((i, j), (i, j + 1), 2.0 * np.pi * step / np.log(far / near))
            if i + 1 < ROWS:
                way = step * (0.5 if in_hole[i, j] != in_hole[i + 1, j] else 1.0)
                join((i, j), (i + 1, j), ring_area[j] / way)
        if i == 0:
            for j in range(rings):
                if not in_hole[0, j]:
                    diagonal[number[0, j]] += ring_area[j] / (0.5 * step)
    alone = diagonal == 0.0
    diagonal[alone] = 1.0
    all_points = np.arange(ROWS * rings)
    matrix = coo_matrix(
        (
            np.concatenate([weights, diagonal]),
            (np.concatenate([rows, all_points]), np.concatenate([columns, all_points])),
        )
    ).tocsr()
    head = spsolve(matrix, right)
    flow = float(np.sum(inflow * head) - np.sum(right))
    return flow / (np.pi * radius**2)
