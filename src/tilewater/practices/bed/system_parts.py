# SPDX-License-Identifier: Apache-2.0
"""Single numbers out of the records of the balance, each with its own name for the trace."""

from tilewater.hydraulics._pipe_run import PipeRun, level_upstream
from tilewater.practices.bed.system import CellLevels, Split


def bed_flow_of(split: Split) -> float:
    """Flow through the bed in a balance.

    Parameters
    ----------
    split : Split
        The balance. [-]

    Returns
    -------
    float
        Flow through the bed. [m3/s]

    Notes
    -----
    Q_bed of `split_in_balance`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return split.bed_flow


def bypass_flow_of(split: Split) -> float:
    """Flow over the bypass boards in a balance.

    Parameters
    ----------
    split : Split
        The balance. [-]

    Returns
    -------
    float
        Flow over the bypass boards. [m3/s]

    Notes
    -----
    Q_bypass of `split_in_balance`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return split.bypass_flow


def level_of(split: Split) -> float:
    """Water in the diversion structure in a balance.

    Parameters
    ----------
    split : Split
        The balance. [-]

    Returns
    -------
    float
        Water in the diversion structure. [m]

    Notes
    -----
    z_diversion of `split_in_balance`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return split.level


def level_diversion(levels: CellLevels) -> float:
    """Water at the diversion structure.

    Parameters
    ----------
    levels : CellLevels
        Levels along the bed. [m]

    Returns
    -------
    float
        Level. [m]

    Notes
    -----
    z of `levels_along_bed`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return levels.diversion


def level_inlet_header(levels: CellLevels) -> float:
    """Water at the inlet header.

    Parameters
    ----------
    levels : CellLevels
        Levels along the bed. [m]

    Returns
    -------
    float
        Level. [m]

    Notes
    -----
    z of `levels_along_bed`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return levels.inlet_header


def level_inlet_end(levels: CellLevels) -> float:
    """Water at the inlet end of the media.

    Parameters
    ----------
    levels : CellLevels
        Levels along the bed. [m]

    Returns
    -------
    float
        Level. [m]

    Notes
    -----
    z of `levels_along_bed`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return levels.inlet_end


def level_outlet_end(levels: CellLevels) -> float:
    """Water at the outlet end of the media.

    Parameters
    ----------
    levels : CellLevels
        Levels along the bed. [m]

    Returns
    -------
    float
        Level. [m]

    Notes
    -----
    z of `levels_along_bed`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return levels.outlet_end


def level_outlet_header(levels: CellLevels) -> float:
    """Water at the outlet header.

    Parameters
    ----------
    levels : CellLevels
        Levels along the bed. [m]

    Returns
    -------
    float
        Level. [m]

    Notes
    -----
    z of `levels_along_bed`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return levels.outlet_header


def level_outlet_box(levels: CellLevels) -> float:
    """Water at the outlet structure.

    Parameters
    ----------
    levels : CellLevels
        Levels along the bed. [m]

    Returns
    -------
    float
        Level. [m]

    Notes
    -----
    z of `levels_along_bed`    (derived)

    References
    ----------
    derived, a part of a record
    """
    return levels.outlet_box


def pool_above(flow: float, level_down: float, pipe: PipeRun) -> float:
    """Water above a pipe that sends a flow into the water below it.

    Parameters
    ----------
    flow : float
        Flow in the pipe. [m3/s]
    level_down : float
        Water below the pipe. [m]
    pipe : PipeRun
        The pipe. [-]

    Returns
    -------
    float
        Level. [m]

    Notes
    -----
    dE/dx = S0 - Sf from the lower end up, then (1 + k) V^2/2g at the entrance    (manning1891)

    References
    ----------
    manning1891, friction
    derived, part-full or under pressure
    """
    return level_upstream(float(flow), float(level_down), pipe)
