# SPDX-License-Identifier: Apache-2.0
"""What the days of a record bring to a bed: settings, ditch and water by the day, and the table.

Between the steps of the chain and the daily routing of `route`.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.hydraulics.media_conductivity import forchheimer_inertia_ward
from tilewater.hydrology.ditch_stage import SeasonValue, StageRule, day_of_year, year_table
from tilewater.practices.bed._split import Array, SplitTable, Whole
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.split import split_table
from tilewater.practices.bed.works import BedPath, Shape, machine_of

Days = NDArray[np.datetime64]

MEDIA_KNOTS = 12
"""Conductivities that a table is made for."""
WORST, BEST = 0.12, 4.5
"""From this share of the aged conductivity to this multiple of the new one a table reaches."""


EPOCH = 719163
"""Number of the 1st of January 1970, counted from the year 1."""


@dataclass(frozen=True)
class SettingWorks:
    """What one setting of the boards changes.

    Attributes
    ----------
    path : BedPath
        Pipes, headers and outlet boards. [-]
    bypass_boards : BoardSet
        Boards of the diversion. [-]
    """

    path: BedPath
    bypass_boards: BoardSet


def setting_by_day(day: Days, **seasons: SeasonValue) -> Whole:
    """Which setting of the boards holds on each day.

    Parameters
    ----------
    day : array of datetime64
        Days.
    **seasons : SeasonValue
        Number of the setting by season.

    Returns
    -------
    array of int
        Number of the setting; 0, the design setting, where no season has the day. [-]

    Notes
    -----
    setting = that of the season which holds the day    (derived)

    References
    ----------
    derived, a calendar
    """
    if not seasons:
        return np.zeros(day.size, dtype=np.int64)
    table = np.nan_to_num(year_table(**seasons), nan=0.0)
    return table[day_of_year(day) - 1].astype(np.int64)


def value_by_day(day: Days, **seasons: SeasonValue) -> Array:
    """A value of the seasons on each day; a day that no season has takes the mean.

    Parameters
    ----------
    day : array of datetime64
        Days.
    **seasons : SeasonValue
        Value by season, in its own unit.

    Returns
    -------
    array
        Value of each day, in the unit of the seasons. [-]

    Notes
    -----
    value = that of the season which holds the day    (derived)

    References
    ----------
    derived, a calendar
    """
    table = year_table(**seasons)
    table = np.where(np.isnan(table), np.nanmean(table), table)
    return np.asarray(table[day_of_year(day) - 1], dtype=np.float64)


def stage_by_day(day: Days, flow: Array, rule: StageRule) -> Array:
    """Water in the ditch on each day.

    Parameters
    ----------
    day : array of datetime64
        Days.
    flow : array
        Drain flow of each day. [m3/s]
    rule : StageRule
        Ditch by day of the year, or against drain flow. [m]

    Returns
    -------
    array
        Level; where no season has the day, the mean of the others. [m]

    Notes
    -----
    z = table of the day, or straight lines between the knots of the rule    (derived)

    References
    ----------
    derived, a calendar or a rating
    """
    if rule.flow.size:
        return np.interp(flow, rule.flow, rule.level)
    table = np.where(np.isnan(rule.by_day), np.nanmean(rule.by_day), rule.by_day)
    return np.asarray(table[day_of_year(day) - 1], dtype=np.float64)


def bed_table(
    shape: Shape,
    bypass: PipeRun,
    conductivity_new: float,
    conductivity_aged: float,
    ward_coefficient: float,
    highest_stage: float,
    most: float,
    lower: PipeRun | None = None,
    **settings: SettingWorks,
) -> SplitTable:
    """Table of how inflows divide, for all settings of a job and all media it may come to.

    Parameters
    ----------
    shape : BedShape or Cells
        Size of the media. [-]
    bypass : PipeRun
        The main past the bed. [-]
    conductivity_new, conductivity_aged : float
        Of the media at 20 degC. [m/s]
    ward_coefficient : float
        Of the inertia. [-]
    highest_stage : float
        Highest level of the ditch. [m]
    most : float
        Largest inflow. [m3/s]
    lower : PipeRun or None
        Main below the junction. [-]
    **settings : SettingWorks
        Works by setting; the first is the design setting. [-]

    Returns
    -------
    SplitTable

    Notes
    -----
    12 conductivities from 0.12 of the aged to 4.5 times the new one    (derived)

    References
    ----------
    derived, tabulated balance
    """
    media = media_knots(conductivity_new, conductivity_aged, ward_coefficient)
    machines = [
        [
            machine_of(
                works.path,
                shape,
                Media(float(k), float(b)),
                bypass=bypass,
                bypass_boards=works.bypass_boards,
                lower=lower,
            )
            for k, b in media
        ]
        for works in settings.values()
    ]
    return split_table(machines, highest_stage=highest_stage, most=most)


def media_knots(
    conductivity_new: float, conductivity_aged: float, ward_coefficient: float
) -> Array:
    """Media that a table is made for, from the worst to the best.

    Parameters
    ----------
    conductivity_new, conductivity_aged : float
        At 20 degC. [m/s]
    ward_coefficient : float
        Of the inertia. [-]

    Returns
    -------
    array of shape (12, 2)
        Conductivity in m/s and inertia in s2/m2. [-]

    Notes
    -----
    12 conductivities from 0.12 of the aged to 4.5 times the new one    (derived)

    References
    ----------
    derived, knots of a table
    """
    knots = np.geomspace(WORST * conductivity_aged, BEST * conductivity_new, MEDIA_KNOTS)
    inertia = [
        float(forchheimer_inertia_ward(float(k), ward_coefficient=ward_coefficient)) for k in knots
    ]
    return np.column_stack((knots, inertia))


def even_series(day: Days, value: float) -> Array:
    """The same value on every day.

    Parameters
    ----------
    day : array of datetime64
        Days.
    value : float
        Value, in its own unit. [mg/L]

    Returns
    -------
    array
        That value by the day. [mg/L]

    Notes
    -----
    C = C_mean    (derived)

    References
    ----------
    derived, nothing better is known
    """
    return np.full(day.size, float(value))


def dates_of(day: Whole | Days) -> Days:
    """Days of a record as dates.

    Parameters
    ----------
    day : array of int or datetime64
        Days counted from the year 1, or dates already.

    Returns
    -------
    array of datetime64
        The dates.

    Notes
    -----
    day 719163 is the 1st of January 1970    (derived)

    References
    ----------
    derived, a calendar
    """
    if np.issubdtype(day.dtype, np.datetime64):
        return day.astype("datetime64[D]")
    return np.asarray((day - EPOCH).astype("datetime64[D]"))
