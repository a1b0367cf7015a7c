# SPDX-License-Identifier: Apache-2.0
"""Flows that the chips cannot have passed: readings in ice, wrong boards, a slipped sensor.

A logger in ice reads a level that no water has, and the boards turn it into a flow. The levels on
both sides of a bed give it away: the chips would have had to let through several times more than
new ones do. Such a reading is not converted.
"""

from dataclasses import replace

import numpy as np

from tilewater.basis.domain import require_positive
from tilewater.basis.findings import Finding
from tilewater.monitoring.series import Floats, Series
from tilewater.monitoring.stage_flow import FlowRecord

TIMES = 3.0
"""Times what new chips pass, from which a flow is not believed. [-]"""
LEAST_DROP = 0.01
"""Head drop below which loggers do not tell it; it counts as this. [m]"""
SMALL = 2e-4
"""Flow that is always believed: its loss is small and its levels too near. [m3/s]"""


def flow_passable(
    record: FlowRecord,
    level_inlet: Series,
    level_outlet: Series,
    conductivity: float,
    floor: float,
    length: float,
    width: float,
    side_slope: float,
    media_depth: float,
) -> FlowRecord:
    """Flow over the outlet boards without the readings that the chips cannot have passed.

    Parameters
    ----------
    record : FlowRecord
        Flow over the outlet boards. [m3/s]
    level_inlet : Series
        Elevation of the pool above the bed. [m]
    level_outlet : Series
        Elevation of the pool below it. [m]
    conductivity : float
        Of new chips. [m/s]
    floor : float
        Elevation of the floor of the bed. [m]
    length : float
        Flow length. [m]
    width : float
        Width of the floor. [m]
    side_slope : float
        Of the sides, horizontal to vertical. [-]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    FlowRecord
        NaN where the flow is not believed. [m3/s]

    Raises
    ------
    OutOfDomain
        If the conductivity or the length is not above zero.

    Notes
    -----
    not believed: Q > 3 K A dh / L, dh at least 1 cm    (darcy1856)

    Where the inlet was not read nothing can be said, and the reading stays.

    References
    ----------
    darcy1856, flow through media, from memory
    practice, three times what new chips pass
    """
    require_positive("conductivity", conductivity, "m/s", "Take that of new chips")
    require_positive("length", length, "m", "Check the size of the bed")
    time = record.flow.time_s
    upper, lower = (_on(each, time) for each in (level_inlet, level_outlet))
    depth = np.clip(0.5 * (upper + lower) - floor, 0.0, media_depth)
    section = width * depth + side_slope * depth**2
    drop = np.maximum(upper - lower, LEAST_DROP)
    most = TIMES * conductivity * section * drop / length
    flow = record.flow.value
    doubted = (flow > np.maximum(most, SMALL)) & ~np.isnan(most)
    value: Floats = np.where(doubted, np.nan, flow)
    return replace(record, flow=replace(record.flow, value=value))


def flow_passable_range(
    record: FlowRecord,
    level_inlet: Series,
    level_outlet: Series,
    conductivity: float,
    floor: float,
    length: float,
    width: float,
    side_slope: float,
    media_depth: float,
) -> tuple[Finding, ...]:
    """Say where flows are not believed.

    Parameters
    ----------
    record : FlowRecord
        Flow over the outlet boards. [m3/s]
    level_inlet, level_outlet : Series
        Elevations of both pools. [m]
    conductivity : float
        Of new chips. [m/s]
    floor, length, width : float
        Of the bed. [m]
    side_slope : float
        Of the sides. [-]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    tuple of Finding
    """
    kept = flow_passable(
        record,
        level_inlet,
        level_outlet,
        conductivity,
        floor,
        length,
        width,
        side_slope,
        media_depth,
    )
    lost = np.isnan(kept.flow.value) & ~np.isnan(record.flow.value)
    if not lost.any():
        return ()
    share = float(lost.mean())
    return (
        Finding(
            "monitor-not-passable",
            "caution",
            f"Level at {record.flow.name}",
            f"{share:.1%} of the readings at {record.flow.name} give a flow of more than "
            f"{TIMES:.0f} times what new chips pass at the head drop that was read. They are not "
            "converted and count as gaps. Look for ice, for boards that the log does not have, "
            "and for a sensor that slipped.",
            share,
            source="practice",
        ),
    )


def _on(series: Series, time_s: Floats) -> Floats:
    return np.asarray(np.interp(time_s, series.time_s, series.value, np.nan, np.nan))
