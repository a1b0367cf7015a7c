# SPDX-License-Identifier: Apache-2.0
"""What removes most over the days of a record: one choice of a buffer changed at a time.

Each value is routed over every day at the middle of every range; nitrate is that of the whole years
of the record. What the change does to cost, field and rules is left to a search.
"""

from collections.abc import Sequence

import numpy as np

from tilewater.basis.domain import require_positive
from tilewater.hydraulics.line_exit import line_exit_resistance_ernst
from tilewater.practices.bed._split import Array, Whole
from tilewater.practices.boards import stackable_heights
from tilewater.practices.buffer.choices import Choice, RemovalCurve, curve_of
from tilewater.practices.buffer.route import BufferYears, DaySeries, route_buffer_by_year

NARROWEST = 3.0
"""Least strip that is tried. [m]"""
TRIED = 24
"""Values of a width or a length that are tried."""


def width_curve(
    series: DaySeries,
    year: Whole,
    is_whole: Array,
    buffer: BufferYears,
    boards: Array,
    width: float,
    widest: float,
) -> RemovalCurve:
    """Removal over the widths that a strip could have.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    year : array of int of shape (days,)
        Number of the year of each day, from 0. [-]
    is_whole : array of bool of shape (years,)
        Which years are whole. [-]
    buffer : BufferYears
        Soil and kinetics at the middle of every range. [-]
    boards : array of shape (settings, 20)
        Boards of each setting. [-]
    width : float
        Width of the buffer. [m]
    widest : float
        Widest strip that there could be. [m]

    Returns
    -------
    RemovalCurve
        From 3 m to the widest.

    Raises
    ------
    OutOfDomain
        If a width is not above zero.

    Notes
    -----
    c = c_own W_own / W, A = A_own W / W_own    (dupuit1863)

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    require_positive("widest", widest, "m", "Tape the ground that may be given to the buffer")
    values = np.linspace(min(NARROWEST, widest), widest, TRIED)
    rows = [
        buffer._replace(conductance=buffer.conductance * width / w, area=buffer.area * w / width)
        for w in values
    ]
    return _curve("width", values, route_buffer_by_year(series, year, rows, boards), is_whole)


def length_curve(
    series: DaySeries,
    year: Whole,
    is_whole: Array,
    buffer: BufferYears,
    boards: Array,
    length: float,
    longest_line: float,
) -> RemovalCurve:
    """Removal over the lengths of line that a strip has room for.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    year : array of int of shape (days,)
        Number of the year of each day, from 0. [-]
    is_whole : array of bool of shape (years,)
        Which years are whole. [-]
    buffer : BufferYears
        Soil and kinetics at the middle of every range. [-]
    boards : array of shape (settings, 20)
        Boards of each setting. [-]
    length : float
        Line that feeds. [m]
    longest_line : float
        Longest line that could feed. [m]

    Returns
    -------
    RemovalCurve
        From a 24th of the longest line to the whole; branches keep their shares.

    Raises
    ------
    OutOfDomain
        If a length is not above zero.

    Notes
    -----
    c, A and the friction go with the length, the loss where water spreads against it    (derived)

    References
    ----------
    dupuit1863, level flow under a falling surface
    christiansen1942, line with many outlets
    """
    require_positive("longest_line", longest_line, "m", "Tape the strip")
    values = longest_line * np.arange(1, TRIED + 1) / TRIED
    rows = [
        buffer._replace(
            conductance=buffer.conductance * share,
            area=buffer.area * share,
            loss_linear=buffer.loss_linear / share,
            loss_square=buffer.loss_square * share,
        )
        for share in values / length
    ]
    return _curve("length", values, route_buffer_by_year(series, year, rows, boards), is_whole)


def crest_curve(
    series: DaySeries,
    year: Whole,
    is_whole: Array,
    buffer: BufferYears,
    boards: Array,
    board_heights: Sequence[float],
    seal_gap: float,
    highest: float,
    length: float,
    conductivity: float,
    wetted_perimeter: float,
) -> RemovalCurve:
    """Removal over the crests that the bypass boards can be stacked to.

    Parameters
    ----------
    series : DaySeries
        Flow, nitrate, temperature, ditch and setting by the day. [-]
    year : array of int of shape (days,)
        Number of the year of each day, from 0. [-]
    is_whole : array of bool of shape (years,)
        Which years are whole. [-]
    buffer : BufferYears
        Soil and kinetics at the middle of every range. [-]
    boards : array of shape (settings, 20)
        Boards of each setting, the design setting first. [-]
    board_heights : sequence of float
        Heights that can be bought. [m]
    seal_gap : float
        What the seal adds under each board. [m]
    highest : float
        Highest crest that the field and the structure allow. [m]
    length : float
        Line that feeds. [m]
    conductivity : float
        Of the soil round the line. [m/s]
    wetted_perimeter : float
        By which the line lets its water out. [m]

    Returns
    -------
    RemovalCurve
        Elevations of stacks that reach the line.

    Raises
    ------
    OutOfDomain
        If no stack reaches the line under the highest crest.

    Notes
    -----
    Settings that stand as the design setting go along, others stand no higher    (practice)

    References
    ----------
    dupuit1863, level flow under a falling surface
    ernst1962, loss where water spreads from the pipe
    """
    own, sill = float(boards[0, 0]), float(boards[0, 1])
    line = buffer.barrier + buffer.line_head
    heights = stackable_heights(board_heights, seal_gap=seal_gap, room=highest - sill)
    values = np.array([sill + height for height in heights if sill + height >= line])
    sums = []
    for crest in values:
        stacked = boards.copy()
        goes_along = np.abs(boards[:, 0] - own) < 1e-6
        stacked[:, 0] = np.where(goes_along, crest, np.minimum(boards[:, 0], crest))
        resistance = line_exit_resistance_ernst(
            conductivity=conductivity,
            thickness=float(crest) - buffer.barrier,
            wetted_perimeter=wetted_perimeter,
        )
        here = buffer._replace(loss_linear=resistance / length)
        sums.append(route_buffer_by_year(series, year, (here,), stacked, threads=1)[0])
    return _curve("crest", values, np.array(sums), is_whole)


def _curve(choice: Choice, values: Array, sums: Array, is_whole: Array) -> RemovalCurve:
    """Shares of the water and of the nitrate of whole years."""
    if values.size == 0:
        return curve_of(choice, values, values, values)
    inflow, into, load, _, removed, _ = sums[:, is_whole].sum(axis=1).T
    water, nitrate = (np.maximum(total, 1e-300) for total in (inflow, load))
    return curve_of(choice, values, into / water, removed / nitrate)
