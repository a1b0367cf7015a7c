# SPDX-License-Identifier: Apache-2.0
"""How a steady inflow divides between the line of a buffer and its bypass boards.

Nothing is stored: this is where the water comes to rest while the drains keep running as they do.
The days are routed by `_route`, which counts what the soil holds.
"""

from dataclasses import dataclass
from functools import partial

from tilewater.basis.domain import require_finite, require_not_negative
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics._board_set import (
    BoardSet,
    board_flow,
    board_level_upstream,
    lowest_level,
)
from tilewater.hydraulics.distribution_line import LinePipe
from tilewater.hydraulics.line_exit import LineSoil
from tilewater.practices.buffer.line import flow_at_heads_compiled

CLOSE = 1e-6
"""How near the level is found. [m]"""


@dataclass(frozen=True)
class BufferSplit:
    """Where the water of a steady inflow goes.

    Attributes
    ----------
    level : float
        Water in the chamber of the line. [m]
    line_flow, bypass_flow : float
        Into the line, and over the bypass boards. [m3/s]
    """

    level: float
    line_flow: float
    bypass_flow: float


def split_of_inflow(
    inflow: float,
    stage: float,
    barrier: float,
    invert: float,
    pipe: LinePipe,
    soil: LineSoil,
    bypass: BoardSet,
) -> BufferSplit:
    """How a steady inflow divides between line and bypass boards, and the level over the line.

    Parameters
    ----------
    inflow : float
        Flow that comes into the chamber of the line. [m3/s]
    stage : float
        Water in the ditch. [m]
    barrier : float
        Restrictive layer. [m]
    invert : float
        Invert of the line; lower water does not reach it. [m]
    pipe : LinePipe
        Pipe and branches. [-]
    soil : LineSoil
        Width, conductivity, resistance at the pipe. [-]
    bypass : BoardSet
        Bypass boards. [-]

    Returns
    -------
    BufferSplit
        Level, flow into the line, flow over the boards. [m, m3/s]

    Raises
    ------
    OutOfDomain
        If the inflow is negative or the stage not finite.

    Notes
    -----
    Q_line(z) + Q_boards(z) = Q_in    (derived)

    The line takes what soil and pipe let through at a level, by `flow_at_heads`; nothing runs over
    the boards while that is all of the inflow. Both rise with the level, so there is one answer.

    References
    ----------
    derived, mass at the chamber
    """
    require_not_negative("inflow", inflow, "m3/s", "Give the flow that comes down the main")
    require_finite("stage", stage, "m", "Check the water of the ditch")
    taken = partial(
        _taken, barrier=barrier, invert=invert, head_stream=max(0.0, stage - barrier),
        pipe=pipe, soil=soil,
    )  # fmt: skip
    crest = lowest_level(stage, bypass)
    if inflow == 0.0:
        return BufferSplit(min(crest, max(stage, invert)), 0.0, 0.0)
    if taken(crest) >= inflow:
        if taken(invert) >= inflow:
            return BufferSplit(invert, inflow, 0.0)
        level = bracketed_root(lambda z: taken(z) - inflow, invert, crest, (), CLOSE)
        return BufferSplit(level, inflow, 0.0)
    level = bracketed_root(
        lambda z: taken(z) + board_flow(z, stage, bypass) - inflow,
        crest,
        board_level_upstream(inflow, stage, bypass) + CLOSE,
        (),
        CLOSE,
    )
    left = max(0.0, inflow - board_flow(level, stage, bypass))
    line_flow = min(taken(level), left)  # the line begins to take with a jump at its invert
    return BufferSplit(level, line_flow, inflow - line_flow)


def level_of(split: BufferSplit) -> float:
    """Water in the chamber of the line in a balance.

    Parameters
    ----------
    split : BufferSplit
        The balance. [-]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    z of `split_of_inflow`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return split.level


def line_flow_of(split: BufferSplit) -> float:
    """Flow into the line in a balance.

    Parameters
    ----------
    split : BufferSplit
        The balance. [-]

    Returns
    -------
    float
        Flow into the line. [m3/s]

    Notes
    -----
    Q_line of `split_of_inflow`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return split.line_flow


def bypass_flow_of(split: BufferSplit) -> float:
    """Flow over the bypass boards in a balance.

    Parameters
    ----------
    split : BufferSplit
        The balance. [-]

    Returns
    -------
    float
        Flow over the bypass boards. [m3/s]

    Notes
    -----
    Q_bypass of `split_of_inflow`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return split.bypass_flow


def _taken(
    level: float,
    *,
    barrier: float,
    invert: float,
    head_stream: float,
    pipe: LinePipe,
    soil: LineSoil,
) -> float:
    if level < invert:
        return 0.0
    return flow_at_heads_compiled(level - barrier, head_stream, pipe, soil)
