# SPDX-License-Identifier: Apache-2.0
"""Sums by year of a bed whose table is filled only where the days read it.

For a search that asks thousands of beds once each: the table has the knots of `days.bed_table`, and
what the days read of it has the same numbers, so the sums are those of `route_by_year`; what they
do not read is never solved. Beds of one piece only.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from tilewater.basis.compiled import compiled
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.practices.bed import _touched
from tilewater.practices.bed._split import Array, SplitTable, Whole
from tilewater.practices.bed._system import Machine
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.bed.days import SettingWorks, media_knots
from tilewater.practices.bed.route import BedYears, DaySeries
from tilewater.practices.bed.split import empty_table
from tilewater.practices.bed.system import bed_flow_at_diversion
from tilewater.practices.bed.works import NO_BOARDS, BedPath, Shape, machine_of


@dataclass(frozen=True)
class ToRoute:
    """A bed with all that its routing takes, ready to be routed without the interpreter's lock."""

    rows: Array
    media: Array
    series: DaySeries
    year: Whole
    beds: Array
    table: SplitTable
    sums: Array

    def go(self) -> Array:
        """Sums by year of the draws, as `route_by_year` has them."""
        run = compiled(_touched.route_touched)
        run(self.rows, self.media, self.series, self.year, self.beds, self.table, self.sums)
        self.sums[:, :, 2:5] /= 1000.0
        return self.sums


def ready_to_route(
    series: DaySeries,
    year: Whole,
    beds: Sequence[BedYears],
    *,
    shape: BedShape,
    bypass: PipeRun,
    conductivity_new: float,
    conductivity_aged: float,
    ward_coefficient: float,
    highest_stage: float,
    most: float,
    settings: Mapping[str, SettingWorks],
    lower: PipeRun | None = None,
) -> ToRoute:
    """A bed whose table will be filled where its days read it.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    year : array of int of shape (days,)
        Number of the year of each day, from 0. [-]
    beds : sequence of BedYears
        The draws. [-]
    shape : BedShape
        Size of the media, of one piece. [-]
    bypass : PipeRun
        The main below the bypass boards. [-]
    conductivity_new, conductivity_aged : float
        Of the media at 20 degC. [m/s]
    ward_coefficient : float
        Of the inertia. [-]
    highest_stage : float
        Highest level of the ditch. [m]
    most : float
        Largest inflow. [m3/s]
    settings : mapping of str to SettingWorks
        Paths and boards by setting; the numbers of the series count them in order. [-]
    lower : PipeRun or None
        Main below the junction. [-]

    Returns
    -------
    ToRoute

    Raises
    ------
    OutOfDomain
        If the bed is in cells.

    References
    ----------
    derived, the table of `bed_table` where it is read
    """
    if not isinstance(shape, BedShape):
        raise OutOfDomain(
            "The bed is in cells. A table is filled where it is read for a bed of one piece only. "
            "Fill the whole table."
        )
    media = _media(conductivity_new, conductivity_aged, ward_coefficient)
    first = Media(*(float(part) for part in media[0]))
    machines = [
        machine_of(
            works.path, shape, first, bypass=bypass, bypass_boards=works.bypass_boards, lower=lower
        )
        for works in settings.values()
    ]
    table = empty_table(machines, media, highest_stage, most)
    rows = [row_of(machine) for machine in machines]
    twins = np.array([rows.index(row) for row in rows], dtype=np.int64)
    return ToRoute(
        np.array(rows),
        media,
        series._replace(setting=twins[series.setting]),  # seasons often share their boards
        year,
        np.array(beds, dtype=np.float64),
        table,
        np.zeros((len(beds), int(year.max()) + 1, 6)),
    )


def row_of(machine: Machine) -> list[float]:
    """Works of a bed of one piece as numbers in a row, the media left out.

    Parameters
    ----------
    machine : Machine
        With one cell. [-]

    Returns
    -------
    list of float
        Cell; its boards, those of the bypass and of the outlet; feed, drain, bypass, return, lower
        main. [-]

    References
    ----------
    derived, the parts of a record in order
    """
    (cell,) = machine.cells
    size = (cell.floor, cell.length, cell.width, cell.side_slope, cell.media_depth)
    way = (cell.gate, cell.header_in, cell.header_out, float(machine.joined))
    sets = (*cell.boards, *machine.bypass_boards, *machine.outlet_boards)
    pipes = (*cell.feed, *cell.drain, *machine.bypass, *machine.outflow, *machine.lower)
    return [float(number) for number in (*size, *way, *sets, *pipes)]


def bed_flow_compiled(
    level: float, tailwater: float, path: BedPath, shape: Shape, media: Media
) -> float:
    """Flow through the bed with the water in the diversion held at a level, compiled.

    Parameters
    ----------
    level : float
        Water in the diversion box. [m]
    tailwater : float
        Water where the return ends. [m]
    path : BedPath
        Pipes, headers and outlet boards of the bed. [-]
    shape : BedShape or Cells
        Size of the media; of several cells the readable twin answers. [-]
    media : Media
        Conductivity and inertia at age and temperature. [-]

    Returns
    -------
    float
        As `bed_flow_at_diversion`. [m3/s]

    Notes
    -----
    Q of `bed_flow_at_diversion`    (derived)

    References
    ----------
    derived, the same balance
    """
    if not isinstance(shape, BedShape):
        return bed_flow_at_diversion(level, tailwater, path, shape, media)
    machine = machine_of(path, shape, media, bypass=path.outflow, bypass_boards=NO_BOARDS)
    row = np.array(row_of(machine))
    flow = compiled(_touched.flow_of_row)
    return float(
        flow(float(level), float(tailwater), row, float(media.conductivity), float(media.inertia))
    )


@lru_cache(maxsize=8)
def _media(new: float, aged: float, ward: float) -> Array:
    return media_knots(new, aged, ward)
