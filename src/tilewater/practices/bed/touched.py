# SPDX-License-Identifier: Apache-2.0
"""Sums by year of a bed whose table is filled only where the days read it.

For a search that asks thousands of beds once each: the table has the knots of `days.bed_table`, and
what the days read of it has the same numbers, so the sums are those of `route_by_year`; what they
do not read is never solved. A bed in cells goes by `touched_cells`.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from tilewater.basis.compiled import compiled
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.practices.bed import _system, _touched
from tilewater.practices.bed._split import Array, SplitTable, Whole
from tilewater.practices.bed._system import Machine
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.bed.days import SettingWorks, media_knots
from tilewater.practices.bed.life import LONGEST, LifeTask, age_where, media_at_age
from tilewater.practices.bed.route import BedYears, DaySeries
from tilewater.practices.bed.split import empty_table
from tilewater.practices.bed.touched_cells import CellsToRoute
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
    shape: Shape,
    bypass: PipeRun,
    conductivity_new: float,
    conductivity_aged: float,
    ward_coefficient: float,
    highest_stage: float,
    most: float,
    settings: Mapping[str, SettingWorks],
    lower: PipeRun | None = None,
) -> ToRoute | CellsToRoute:
    """A bed whose table will be filled where its days read it.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    year : array of int of shape (days,)
        Number of the year of each day, from 0. [-]
    beds : sequence of BedYears
        The draws. [-]
    shape : BedShape or Cells
        Size of the media. [-]
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
    ToRoute or CellsToRoute

    References
    ----------
    derived, the table of `bed_table` where it is read
    """
    media = _media(conductivity_new, conductivity_aged, ward_coefficient)
    apart = list(dict.fromkeys(settings.values()))  # seasons often share their boards

    def works_with(medium: Array) -> list[Machine]:
        chips = Media(float(medium[0]), float(medium[1]))
        return [
            machine_of(
                each.path,
                shape,
                chips,
                bypass=bypass,
                bypass_boards=each.bypass_boards,
                lower=lower,
            )
            for each in apart
        ]

    machines = works_with(media[0])
    table = empty_table(machines, media, highest_stage, most)
    places = np.array([apart.index(each) for each in settings.values()], dtype=np.int64)
    series = series._replace(setting=places[series.setting])
    rows, sums = np.array(beds, dtype=np.float64), np.zeros((len(beds), int(year.max()) + 1, 6))
    if not isinstance(shape, BedShape):
        works = tuple(zip(*map(works_with, media), strict=True))
        return CellsToRoute(works, series, year, rows, table, sums)
    laid = np.array([row_of(machine) for machine in machines])
    return ToRoute(laid, media, series, year, rows, table, sums)


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
        Size of the media. [-]
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
    machine = _alone(path, shape, media)
    if not isinstance(shape, BedShape):
        return float(compiled(_system.bed_flow_at_level)(float(level), float(tailwater), machine))
    row = np.array(row_of(machine))
    flow = compiled(_touched.flow_of_row)
    return float(
        flow(float(level), float(tailwater), row, float(media.conductivity), float(media.inertia))
    )


def wet_volume_compiled(
    flow: float, tailwater: float, path: BedPath, shape: Shape, media: Media
) -> float:
    """Media under water for a flow through the bed, compiled.

    Parameters
    ----------
    flow : float
        Flow through the bed, of either sign. [m3/s]
    tailwater : float
        Water where the return ends. [m]
    path : BedPath
        Pipes, headers and outlet boards of the bed. [-]
    shape : BedShape or Cells
        Size of the media. [-]
    media : Media
        Conductivity and inertia at age and temperature. [-]

    Returns
    -------
    float
        As `wet_media_volume`. [m3]

    Notes
    -----
    V of `wet_media_volume`    (derived)

    References
    ----------
    derived, the same integral
    """
    machine = _alone(path, shape, media)
    if not isinstance(shape, BedShape):
        level = compiled(_system.bed_level)(float(flow), float(tailwater), machine)
        wet_media = compiled(_system.wet_media)
        return float(wet_media(float(flow), float(level), float(tailwater), machine))
    row, wet = np.array(row_of(machine)), compiled(_touched.wet_of_row)
    chips = (float(media.conductivity), float(media.inertia))
    return float(wet(float(flow), float(tailwater), row, *chips))


def permeability_years_compiled(task: LifeTask, peak: float, share: float) -> float:
    """Age at which the bed no longer takes its share of the peak, compiled.

    Parameters
    ----------
    task : LifeTask
        Bed and media. [-]
    peak : float
        Peak that the share is counted against. [m3/s]
    share : float
        Share that the bed must take. [-]

    Returns
    -------
    float
        As `permeability_years`, to a millionth of a year. [years]

    Notes
    -----
    Q(K(t)) = f Q_peak, K(t) = K0 exp(-r t)    (derived)

    References
    ----------
    derived, the same search
    """
    flow, level = float(share * peak), float(task.level)
    if not isinstance(task.shape, BedShape):
        bed_level = compiled(_system.bed_level)

        def asked(media: Media) -> float:
            machine = _alone(task.path, task.shape, media)
            return float(bed_level(flow, float(task.tailwater), machine))

        return age_where(task, asked)
    new, aged = media_at_age(task, 0.0), media_at_age(task, task.aged_years)
    row = np.array(row_of(_alone(task.path, task.shape, new)))
    decline = math.log(new.conductivity / aged.conductivity) / task.aged_years
    age = compiled(_touched.age_of_row)
    return float(
        age(
            level, float(task.tailwater), flow, row, new.conductivity, new.inertia, decline, LONGEST
        )
    )


def _alone(path: BedPath, shape: Shape, media: Media) -> Machine:
    """The way through the bed by itself; its bypass is never asked."""
    return machine_of(path, shape, media, bypass=path.outflow, bypass_boards=NO_BOARDS)


@lru_cache(maxsize=8)
def _media(new: float, aged: float, ward: float) -> Array:
    return media_knots(new, aged, ward)
