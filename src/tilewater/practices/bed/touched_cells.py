# SPDX-License-Identifier: Apache-2.0
"""Sums by year of a bed in cells whose table is filled only where the days read it.

The twin of `touched.ToRoute` for works of several cells, which do not lie in a row of numbers: the
days are walked for what they read, then each medium of each setting fills what is marked. What the
days read has the numbers of a whole table, so the sums are the same.
"""

from dataclasses import dataclass

import numpy as np

from tilewater.basis.compiled import compiled
from tilewater.practices.bed import _marked, _route
from tilewater.practices.bed._split import Array, SplitTable, Whole
from tilewater.practices.bed._system import Machine
from tilewater.practices.bed.route import DaySeries


@dataclass(frozen=True)
class CellsToRoute:
    """A bed in cells with all that its routing takes.

    Attributes
    ----------
    works : tuple of tuple of Machine
        For each setting the works with the media of the table. [-]
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    year : array of int of shape (days,)
        Number of the year of each day, from 0. [-]
    beds : array of shape (draws, 17)
        The draws as rows. [-]
    table : SplitTable
        Empty. [-]
    sums : array of shape (draws, years, 6)
        Zeros. [-]
    """

    works: tuple[tuple[Machine, ...], ...]
    series: DaySeries
    year: Whole
    beds: Array
    table: SplitTable
    sums: Array

    def go(self) -> Array:
        """Sums by year of the draws, as `route_by_year` has them."""
        self.fill()
        run = compiled(_route.route_draws)
        run(self.series, self.year, self.beds, self.table, 0, self.beds.shape[0], self.sums)
        self.sums[:, :, 2:5] /= 1000.0
        return self.sums

    def fill(self) -> None:
        """Fill what the days read."""
        table = self.table
        capacity, under, over = (
            np.zeros(part.shape, dtype=np.bool_)
            for part in (table.capacity, table.under[..., 0], table.over[..., 0])
        )
        mark = compiled(_marked.mark_corners)
        mark(self.series, self.beds, table, capacity, under, over)
        fill_capacities = compiled(_marked.fill_marked_capacities)
        fill_knots = compiled(_marked.fill_marked_knots)
        for setting, row in np.argwhere(capacity.any(axis=2)):
            works = self.works[setting][row]
            fill_capacities(int(setting), int(row), works, table, capacity)
        mark(self.series, self.beds, table, capacity, under, over)
        for setting, row in np.argwhere(capacity.any(axis=2)):
            fill_knots(int(setting), int(row), self.works[setting][row], table, under, over)
