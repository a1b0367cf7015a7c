# SPDX-License-Identifier: Apache-2.0
"""Soil and kinetics of a buffer at the middle of every range, and drawn from the ranges."""

from collections.abc import Mapping
from dataclasses import replace

from tilewater.nitrate.parameter_ranges import ParameterRange, Values, read_ranges
from tilewater.practices.buffer.removal import REFERENCE_C, oxic_days_of
from tilewater.practices.buffer.route import BufferDraw, BufferYears, buffer_years

PACKAGE, TABLE = "tilewater.practices", "practice_buffer_ranges"


def middle_buffer(
    length: float,
    width: float,
    barrier: float,
    line_invert: float,
    conductivity: float,
    porosity: float,
    drainable_porosity: float,
    loss_linear: float,
    loss_square: float,
    tested_at: float,
    rate_per_day: float,
    q10: float,
    oxygen: float,
    uptake: float,
) -> BufferYears:
    """Soil and kinetics as the job states them.

    Parameters
    ----------
    length, width : float
        Line that feeds, and width of the strip. [m]
    barrier, line_invert : float
        Top of the restrictive layer, and invert of the line. [m]
    conductivity : float
        Lateral, at the temperature of the tests. [m/s]
    porosity, drainable_porosity : float
        Effective; what fills and drains. [-]
    loss_linear : float
        Head that the line loses per flow. [s/m2]
    loss_square : float
        Head that the line loses per flow squared. [s2/m5]
    tested_at : float
        Ground water in the tests. [degC]
    rate_per_day : float
        First-order rate at 15 degC. [1/day]
    q10 : float
        Factor of rate and uptake per 10 degC. [-]
    oxygen : float
        In the drain water. [mg/L]
    uptake : float
        Oxygen taken up in a day, at 15 degC. [mg/L/day]

    Returns
    -------
    BufferYears

    References
    ----------
    derived, a record
    """
    draw = BufferDraw(
        length,
        width,
        barrier,
        conductivity,
        porosity,
        drainable_porosity,
        loss_linear,
        loss_square,
        tested_at,
        rate_per_day=rate_per_day,
        q10=q10,
        reference=REFERENCE_C,
        oxic_days=oxic_days_of(oxygen, uptake, REFERENCE_C, q10),
        line_invert=line_invert,
    )
    return buffer_years(draw)


def buffer_ranges(
    conductivity_factor: float,
    porosity: float,
    drainable_porosity: float,
    rate_per_day: float,
    q10: float,
    uptake: float,
    drain_flow: ParameterRange,
) -> dict[str, ParameterRange]:
    """Ranges of soil and kinetics, moved to the values of the job.

    Parameters
    ----------
    conductivity_factor : float
        How far the conductivity may be off, as a factor either way, 5 and 95 percent. [-]
    porosity, drainable_porosity : float
        Effective; what fills and drains; middle. [-]
    rate_per_day : float
        First-order rate at 15 degC, middle. [1/day]
    q10 : float
        Factor of rate and uptake per 10 degC, middle. [-]
    uptake : float
        Oxygen taken up in a day, at 15 degC, middle. [mg/L/day]
    drain_flow : ParameterRange
        Factor on the drain flow of the days. [-]

    Returns
    -------
    dict of str to ParameterRange
        By name; that of the conductivity is a factor about the value of the job.

    References
    ----------
    practice, ranges of `practice_buffer_ranges`
    """
    ranges = read_ranges(PACKAGE, TABLE)
    by = replace(
        ranges["buffer-conductivity"], low=1.0 / conductivity_factor, high=conductivity_factor
    )
    return {
        "buffer-conductivity": by,
        "buffer-porosity": ranges["buffer-porosity"].about_value(porosity),
        "buffer-drainable": ranges["buffer-drainable"].about_value(drainable_porosity),
        "buffer-rate": ranges["buffer-rate"].about_value(rate_per_day),
        "buffer-q10": ranges["buffer-q10"].about_value(q10),
        "oxygen-uptake": ranges["oxygen-uptake"].about_value(uptake),
        "nitrate-factor": ranges["nitrate-factor"],
        drain_flow.slug: drain_flow,
    }


def draw_buffers(
    drawn: Mapping[str, Values],
    length: float,
    width: float,
    barrier: float,
    line_invert: float,
    conductivity: float,
    loss_linear: float,
    loss_square: float,
    tested_at: float,
    oxygen: float,
) -> tuple[BufferYears, ...]:
    """Soil and kinetics of every draw.

    Parameters
    ----------
    drawn : mapping of str to array of shape (draws,)
        Values by name, each in the unit of its range. [-]
    length, width : float
        Line that feeds, and width of the strip. [m]
    barrier, line_invert : float
        Top of the restrictive layer, and invert of the line. [m]
    conductivity : float
        Lateral, at the temperature of the tests, middle. [m/s]
    loss_linear : float
        Head that the line loses per flow, at the middle conductivity. [s/m2]
    loss_square : float
        Head that the line loses per flow squared. [s2/m5]
    tested_at : float
        Ground water in the tests. [degC]
    oxygen : float
        In the drain water. [mg/L]

    Returns
    -------
    tuple of BufferYears

    Notes
    -----
    The loss where water spreads goes with the conductivity.

    References
    ----------
    derived, a record for each draw
    """

    def one(i: int) -> BufferYears:
        value = {slug: float(values[i]) for slug, values in drawn.items()}
        by = value["buffer-conductivity"]
        steep = value["buffer-q10"]
        draw = BufferDraw(
            length,
            width,
            barrier,
            conductivity * by,
            value["buffer-porosity"],
            min(value["buffer-drainable"], value["buffer-porosity"]),
            loss_linear / by,
            loss_square,
            tested_at,
            rate_per_day=value["buffer-rate"],
            q10=steep,
            reference=REFERENCE_C,
            oxic_days=oxic_days_of(oxygen, value["oxygen-uptake"], REFERENCE_C, steep),
            nitrate_factor=value["nitrate-factor"],
            flow_factor=value["drain-flow"],
            line_invert=line_invert,
        )
        return buffer_years(draw)

    return tuple(one(i) for i in range(next(iter(drawn.values())).size))
