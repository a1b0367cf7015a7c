# SPDX-License-Identifier: Apache-2.0
"""Sums by year of a bed whose table is filled only where the days read it.

For a search that asks thousands of beds once each: the table has the knots of `days.bed_table`, and
what the days read of it has the same numbers, so the sums are those of `route_by_year`; what they
do not read is never solved. Beds of one piece only.
"""

from collections.abc import Mapping, Sequence

import numpy as np

from tilewater.basis.compiled import compiled
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.practices.bed import _touched
from tilewater.practices.bed._split import Array, Whole
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.bed.days import SettingWorks, media_knots
from tilewater.practices.bed.route import BedYears, DaySeries, route_by_year
from tilewater.practices.bed.split import empty_table
from tilewater.practices.bed.works import machine_of


def sums_where_read(
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
) -> Array:
    """Sums by year of draws through a bed, its table filled where they read it.

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
    array of shape (draws, years, 6)
        As `route_by_year`. [-]

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
    media = media_knots(conductivity_new, conductivity_aged, ward_coefficient)
    first = Media(*(float(part) for part in media[0]))
    machines = [
        machine_of(
            works.path, shape, first, bypass=bypass, bypass_boards=works.bypass_boards, lower=lower
        )
        for works in settings.values()
    ]
    table = empty_table(machines, media, highest_stage, most)
    rows = np.array(beds, dtype=np.float64)
    fill = compiled(_touched.fill_touched)
    for setting in np.unique(series.setting):
        fill(int(setting), machines[setting], media, series, rows, table)
    return route_by_year(series, year, beds, table, threads=1)
