# SPDX-License-Identifier: Apache-2.0
"""Small functions of the balance: single numbers out of its records, and what its pipes need."""

from tilewater.hydraulics._pipe_run import PipeRun, level_upstream
from tilewater.hydraulics.pipes import pipe_roughness_manning
from tilewater.practices.bed.system import CellLevels, Split

WALLS = {"solid": "dual-wall-plastic", "perforated": "corrugated-plastic"}
"""Material of a laid pipe by its wall."""


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


def header_evenness(flow: float, friction: float, inlet_end: float, outlet_end: float) -> float:
    """Flow that the far end of a header gives the media, as a share of that of its near end.

    Parameters
    ----------
    flow : float
        Flow through the bed. [m3/s]
    friction : float
        Loss of the header per flow squared; all of it is taken to fall along its length. [s2/m5]
    inlet_end, outlet_end : float
        Water at the two ends of the media. [m]

    Returns
    -------
    float
        Ratio; 1 is even. [-]

    Notes
    -----
    share = (H - k Q^2) / H, H the fall through the media    (derived)

    References
    ----------
    derived, flow through the media goes with its fall
    """
    fall = inlet_end - outlet_end
    if fall <= 0:
        return 1.0
    return max(0.0, 1.0 - friction * flow * flow / fall)


def laid_pipe_roughness(kind: str, diameter: float) -> float:
    """Manning roughness of a new plastic pipe by its wall.

    Parameters
    ----------
    kind : str
        "solid" or "perforated". [-]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Roughness. [-]

    Notes
    -----
    n of dual-wall plastic for solid pipe, of corrugated plastic for perforated    (efh14)

    References
    ----------
    efh14, roughness of drains, from memory
    """
    return pipe_roughness_manning(WALLS[kind], diameter)


def total_of(**lengths: float) -> float:
    """Sum of lengths.

    Parameters
    ----------
    **lengths : float
        Lengths by name. [m]

    Returns
    -------
    float
        Their sum. [m]

    Notes
    -----
    L = L1 + L2 + ...    (derived)

    References
    ----------
    derived, a sum
    """
    return sum(lengths.values())


def length_on_grade(upper: float, lower: float, slope: float) -> float:
    """Length of pipe between two inverts on one grade.

    Parameters
    ----------
    upper, lower : float
        Inverts. [m]
    slope : float
        Grade. [-]

    Returns
    -------
    float
        Length; 0 where the upper is no higher. [m]

    Notes
    -----
    L = (z_upper - z_lower) / S    (derived)

    References
    ----------
    derived, a grade
    """
    return max(0.0, (upper - lower) / slope)
