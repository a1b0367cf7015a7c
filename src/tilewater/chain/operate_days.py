# SPDX-License-Identifier: Apache-2.0
"""What each setting of the boards does on every day of the record, were it left so all the time.

A bed and a buffer by the routing at the middle of every range, with the drain flow that the job
has; a raised outlet by the field run with the boards in, beside the field with none.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.hydrology.field import FieldRun
from tilewater.nitrate.side_effects import days_used_up
from tilewater.practices.bed._route import BedYears, DaySeries
from tilewater.practices.bed._split import Array, SplitTable
from tilewater.practices.bed.route import RoutedRun, route_days
from tilewater.practices.buffer._buffer_years import BufferYears
from tilewater.practices.buffer.route import route_buffer_days

Truths = NDArray[np.bool_]
DAY = 86400.0


@dataclass(frozen=True)
class SettingDays:
    """Days of several settings.

    Attributes
    ----------
    removed_kg : array of shape (settings, days)
        Nitrate nitrogen taken out or kept back. [kg]
    used_up : array of bool of shape (settings, days)
        Days on which nitrate is used up in a bed. [-]
    """

    removed_kg: Array
    used_up: Truths


def days_of_bed(
    series: DaySeries, bed: BedYears, table: SplitTable, least_mg_per_l: float
) -> SettingDays:
    """Every day through a bed in each of its settings.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature and ditch by the day. [-]
    bed : BedYears
        Media and kinetics. [-]
    table : SplitTable
        How inflows divide in each setting. [-]
    least_mg_per_l : float
        Below it nitrate counts as used up. [mg/L]

    Returns
    -------
    SettingDays

    Notes
    -----
    the days of `route_days` with one setting all the time    (derived)

    References
    ----------
    derived, each day steady
    """
    runs = [
        route_days(set_to(series, setting), bed, table)
        for setting in range(table.capacity.shape[0])
    ]
    used = [days_used_up(run.bed_flow, run.outlet_nitrate_mg_per_l, least_mg_per_l) for run in runs]
    return SettingDays(np.array([run.removed_kg for run in runs]), np.array(used))


def days_of_buffer(series: DaySeries, buffer: BufferYears, boards: Array) -> SettingDays:
    """Every day through a buffer in each of its settings.

    Nitrate is meant to be used up in the soil, so that no day counts against a setting for it.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature and ditch by the day. [-]
    buffer : BufferYears
        Soil and kinetics. [-]
    boards : array of shape (settings, 20)
        Boards of each setting. [-]

    Returns
    -------
    SettingDays

    Notes
    -----
    the days of `route_buffer_days` with one setting all the time    (derived)

    References
    ----------
    derived, soil that fills and drains
    """
    runs = [
        route_buffer_days(set_to(series, setting), buffer, boards)
        for setting in range(boards.shape[0])
    ]
    removed = np.array([run.removed_kg for run in runs])
    return SettingDays(removed, np.zeros(removed.shape, dtype=bool))


def days_of_raised(
    out: FieldRun, within: FieldRun, annual_depth: float, area: float, nitrate_mg_per_l: float
) -> SettingDays:
    """Nitrate that a raised outlet keeps back on every day, in one setting.

    Parameters
    ----------
    out, within : FieldRun
        The field day by day, boards out and boards in. [-]
    annual_depth : float
        Drainage of a mean year with the boards out, on which the days are put. [m]
    area : float
        Drained area. [m2]
    nitrate_mg_per_l : float
        Nitrate of the drain water, as N. [mg/L]

    Returns
    -------
    SettingDays
        Of one setting; negative on days on which more drains than with the boards out. [-]

    Notes
    -----
    M = C A s (q_out - q_in),  s = D / mean of q_out    (derived)

    References
    ----------
    derived, two runs that differ by the boards alone
    """
    without, held = (run.drain_depth + run.inlet_depth for run in (out, within))
    mean = 365.25 * float(without.mean())
    scale = annual_depth / mean if mean > 0.0 else 0.0
    removed = nitrate_mg_per_l * area * scale * (without - held) / 1000.0
    return SettingDays(removed[np.newaxis], np.zeros((1, removed.size), dtype=bool))


def days_side_by_side(**groups: SettingDays) -> SettingDays:
    """Days of groups of settings, one below the other.

    Parameters
    ----------
    **groups : SettingDays
        In the order of the settings. [-]

    Returns
    -------
    SettingDays

    References
    ----------
    derived, arrays put together
    """
    return SettingDays(
        np.concatenate([group.removed_kg for group in groups.values()]),
        np.concatenate([group.used_up for group in groups.values()]),
    )


def used_up_days_of(run: RoutedRun, least_mg_per_l: float) -> Truths:
    """Days of a run on which nitrate is used up.

    Parameters
    ----------
    run : RoutedRun
        Every day at the middle of every range. [-]
    least_mg_per_l : float
        Below it nitrate counts as used up. [mg/L]

    Returns
    -------
    array of bool
        By the day. [-]

    Notes
    -----
    Q > 0 and C_out < C_least    (practice)

    References
    ----------
    practice, 0.5 to 1 mg/L left keeps what follows nitrate from forming
    """
    return days_used_up(run.bed_flow, run.outlet_nitrate_mg_per_l, least_mg_per_l)


def set_to(series: DaySeries, setting: int) -> DaySeries:
    """The days of a record with one setting all the time.

    Parameters
    ----------
    series : DaySeries
        Days of the record. [-]
    setting : int
        The setting. [-]

    Returns
    -------
    DaySeries
    """
    return series._replace(setting=np.full(series.inflow.size, setting, dtype=np.int64))
