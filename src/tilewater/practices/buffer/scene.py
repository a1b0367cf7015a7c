# SPDX-License-Identifier: Apache-2.0
"""The plain geometric record that a section across a buffer is drawn from; nothing is drawn here.

Distances run from the line toward the water's edge (0 to the width); the field lies at negative
ones. Every elevation carries the key by which it is explained; what is not known is listed.
"""

from dataclasses import dataclass

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.hydraulics.groundwater import buffer_surface_head_dupuit
from tilewater.practices.buffer.givens import LINE
from tilewater.practices.buffer.line_steps import seasons

POINTS = 24
"""Points of a drawn water table."""


@dataclass(frozen=True)
class Mark:
    """An elevation and the key that explains it. [m]"""

    elevation: float
    key: str


@dataclass(frozen=True)
class SeasonWater:
    """Water across the buffer in a season.

    Attributes
    ----------
    season : str
    structure, ditch : Mark
        Water in the structure at its crest, and ordinary water of the ditch.
    seep : Mark or None
        Where water comes out of the bank; of the criterion season only.
    table : tuple of (distance, elevation)
        Water table from the line to the bank. [m]
    flow, flow_key : float and str
        Into the buffer. [m3/s]
    """

    season: str
    structure: Mark
    ditch: Mark
    seep: Mark | None
    table: tuple[tuple[float, float], ...]
    flow: float
    flow_key: str


@dataclass(frozen=True)
class BufferSection:
    """A section across a buffer.

    Attributes
    ----------
    width : float or None
        From line to water's edge. [m]
    barrier, ground_at_line, ground_at_field_edge, bank_top, ditch_bottom : Mark or None
    line_invert : Mark or None
    line_diameter : float or None
        Inside diameter. [m]
    bank_slope : float or None
        Horizontal to vertical. [-]
    trench_width : float or None
        [m]
    envelope : str
        What lies round the line; "" where it is not known.
    waters : tuple of SeasonWater
        One of each season that is known.
    criterion_season : str
    missing : tuple of str
        Keys that are not known.
    """

    width: float | None
    barrier: Mark | None
    ground_at_line: Mark | None
    ground_at_field_edge: Mark | None
    bank_top: Mark | None
    ditch_bottom: Mark | None
    line_invert: Mark | None
    line_diameter: float | None
    bank_slope: float | None
    trench_width: float | None
    envelope: str
    waters: tuple[SeasonWater, ...]
    criterion_season: str
    missing: tuple[str, ...]


def buffer_section(trace: Trace) -> BufferSection:
    """The section across a designed buffer.

    Parameters
    ----------
    trace : Trace
        Trace of a design. [-]

    Returns
    -------
    BufferSection
    """
    missing: list[str] = []

    def number(key: str) -> float | None:
        if trace.known(key):
            return float(trace.value(key))
        missing.append(key)
        return None

    def words(key: str) -> str:
        return str(trace.value(key)) if trace.known(key) else ""

    def mark(key: str) -> Mark | None:
        value = number(key)
        return None if value is None else Mark(value, key)

    width, barrier = number(f"{LINE}.width_m"), mark(f"{LINE}.barrier_m")
    criterion = str(trace.value("buffer.criterion_season"))
    waters = [
        water
        for season in seasons(trace)
        if width is not None
        and barrier is not None
        and (water := _water(trace, season, width, barrier.elevation, season == criterion))
    ]
    return BufferSection(
        width=width,
        barrier=barrier,
        ground_at_line=mark(f"{LINE}.ground_at_line_m"),
        ground_at_field_edge=mark(f"{LINE}.ground_at_field_edge_m"),
        bank_top=mark("inputs.ditch.bank_top_m"),
        ditch_bottom=mark("inputs.ditch.bottom_m"),
        line_invert=mark(f"{LINE}.line_invert_m"),
        line_diameter=number(f"{LINE}.pipe_diameter_m"),
        bank_slope=number(f"{LINE}.bank_slope"),
        trench_width=number(f"{LINE}.trench_width_m"),
        envelope=words(f"{LINE}.envelope"),
        waters=tuple(waters),
        criterion_season=criterion,
        missing=tuple(missing),
    )


def _water(
    trace: Trace, season: str, width: float, barrier: float, is_criterion: bool
) -> SeasonWater | None:
    here = f"buffer.season.{season}"
    setting = season if season in trace.names("inputs.season") else "design"
    crest, stage = f"boards.inlet-{setting}.crest_m", f"ditch.{season}.stage_m"
    flow, head_soil, head_stream = (
        f"{here}.{name}" for name in ("flow_m3_s", "head_soil_m", "head_stream_m")
    )
    if not trace.known(crest, stage, flow, head_soil, head_stream):
        return None
    x = np.linspace(0.0, width, POINTS)
    heads = buffer_surface_head_dupuit(
        x, float(trace.value(head_soil)), float(trace.value(head_stream)), width=width
    )
    table = tuple(
        (float(a), barrier + float(b)) for a, b in zip(x, np.atleast_1d(heads), strict=True)
    )
    seep = None
    if is_criterion and trace.known("buffer.seep_m"):
        seep = Mark(float(trace.value("buffer.seep_m")), "buffer.seep_m")
    return SeasonWater(
        season,
        Mark(float(trace.value(crest)), crest),
        Mark(float(trace.value(stage)), stage),
        seep,
        table,
        float(trace.value(flow)),
        flow,
    )
