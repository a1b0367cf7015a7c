# SPDX-License-Identifier: Apache-2.0
"""Bed, structures, pipes and ditch solved together: one level and one division for any inflow.

Levels are elevations. The water is still in the boxes and headers; every pipe loses its entrance
head and its whole velocity head; the bed falls from end to end (Dupuit, Forchheimer). Steady flow:
what the bed or the field stores on the way is not counted here. The bare arithmetic is in
`_system`, which the compiled kernels share.
"""

from tilewater.basis.domain import require_finite, require_not_negative
from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.practices.bed import _system
from tilewater.practices.bed._system import Cell, CellLevels, Machine, Split
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.works import (
    NO_BOARDS,
    OPEN_GATE,
    BedPath,
    CellPlan,
    Cells,
    Shape,
    first_shape,
    machine_of,
    side_by_side,
)

__all__ = [
    "NO_BOARDS",
    "OPEN_GATE",
    "BedPath",
    "Cell",
    "CellLevels",
    "CellPlan",
    "Cells",
    "Machine",
    "Split",
    "bed_flow_at_diversion",
    "diversion_level_for_bed",
    "first_shape",
    "levels_along_bed",
    "machine_of",
    "side_by_side",
    "split_in_balance",
    "wet_media_volume",
]


def split_in_balance(
    inflow: float,
    stage: float,
    path: BedPath,
    shape: Shape,
    media: Media,
    bypass: PipeRun,
    bypass_boards: BoardSet,
    lower: PipeRun | None = None,
) -> Split:
    """How an inflow divides between bed and bypass, and the level at the diversion.

    Parameters
    ----------
    inflow : float
        Flow that comes down the main. [m3/s]
    stage : float
        Water in the ditch. [m]
    path : BedPath
        Pipes, headers and outlet boards of the bed. [-]
    shape : BedShape or Cells
        Size of the media. [-]
    media : Media
        Conductivity and inertia at age and temperature. [-]
    bypass : PipeRun
        The main below the bypass boards. [-]
    bypass_boards : BoardSet
        Boards of the diversion. [-]
    lower : PipeRun or None
        Main below the junction, where the bed's outflow joins it. [-]

    Returns
    -------
    Split
        Flow through the bed, flow over the bypass boards, level at the diversion. [m3/s, m]

    Raises
    ------
    OutOfDomain
        If the inflow is negative or the stage not finite.

    Notes
    -----
    Q_bed + Q_bypass = Q_in,  z_bed(Q_bed) = z_bypass(Q_bypass)    (derived)

    z_bed is the ditch, and above it the losses of return, outlet boards, pipe, header, media,
    header, feed and gate, one after the other; z_bypass the ditch, the old main and the bypass
    boards. Each rises with its flow, so there is one answer.

    References
    ----------
    derived, energy along both ways and mass at both ends
    """
    _require_flow(inflow, stage)
    machine = machine_of(
        path, shape, media, bypass=bypass, bypass_boards=bypass_boards, lower=lower
    )
    return _system.split_flow(float(inflow), float(stage), float(stage), machine)


def bed_flow_at_diversion(
    level: float, tailwater: float, path: BedPath, shape: Shape, media: Media
) -> float:
    """Flow through the bed with the water in the diversion held at a level.

    Parameters
    ----------
    level : float
        Water in the diversion box. [m]
    tailwater : float
        Water where the return ends. [m]
    path : BedPath
        Pipes, headers and outlet boards of the bed. [-]
    shape : BedShape or Cells
        Size of the media. [-]
    media : Media
        Conductivity and inertia at age and temperature. [-]

    Returns
    -------
    float
        Flow; 0 where the water does not reach over the outlet boards, negative where water comes
        back. [m3/s]

    Raises
    ------
    OutOfDomain
        If a level is not finite.

    Notes
    -----
    z_diversion - z_tailwater = losses of return, boards, pipes, headers and media at Q    (derived)

    Media by `bed_flow_forchheimer`, pipes by Manning with entrance 0.5 and the whole velocity head
    at the end, boards by their rating with Villemonte's factor where they are submerged.

    References
    ----------
    derived, energy along the way
    """
    require_finite("level", level, "m", "Check the water levels")
    require_finite("tailwater", tailwater, "m", "Check the water levels")
    machine = _alone(path, shape, media)
    return _system.bed_flow_at_level(float(level), float(tailwater), machine)


def diversion_level_for_bed(
    flow: float, tailwater: float, path: BedPath, shape: Shape, media: Media
) -> float:
    """Water in the diversion that sends a flow through the bed.

    Parameters
    ----------
    flow : float
        Flow through the bed. [m3/s]
    tailwater : float
        Water where the return ends. [m]
    path : BedPath
        Pipes, headers and outlet boards of the bed. [-]
    shape : BedShape or Cells
        Size of the media. [-]
    media : Media
        Conductivity and inertia at age and temperature. [-]

    Returns
    -------
    float
        Level. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative.

    Notes
    -----
    z_diversion = z_tailwater + losses of return, boards, pipes, headers and media at Q    (derived)

    References
    ----------
    derived, energy along the way
    """
    _require_flow(flow, tailwater)
    return _system.bed_level(float(flow), float(tailwater), _alone(path, shape, media))


def levels_along_bed(
    flow: float, tailwater: float, path: BedPath, shape: Shape, media: Media
) -> CellLevels:
    """Water from the diversion to the outlet box for a flow through the bed; its first cell.

    Parameters
    ----------
    flow : float
        Flow through the bed, of either sign. [m3/s]
    tailwater : float
        Water where the return ends. [m]
    path : BedPath
        Pipes, headers and outlet boards of the bed. [-]
    shape : BedShape or Cells
        Size of the media. [-]
    media : Media
        Conductivity and inertia at age and temperature. [-]

    Returns
    -------
    CellLevels
        Levels of the boxes, the headers and the two ends of the media. [m]

    Notes
    -----
    z_up = z_down + loss(Q), element by element    (derived)

    References
    ----------
    derived, energy along the way
    """
    machine = _alone(path, shape, media)
    outlet_box = _system.outlet_box_level(float(flow), float(tailwater), machine)
    first = float(flow)
    if len(machine.cells) > 1:
        level = _system.bed_level(float(flow), float(tailwater), machine)
        first = _system.cell_flow(level, outlet_box, machine.cells[0])
    return _system.cell_levels(first, outlet_box, machine.cells[0])


def wet_media_volume(
    flow: float, tailwater: float, path: BedPath, shape: Shape, media: Media
) -> float:
    """Media under water for a flow through the bed.

    Parameters
    ----------
    flow : float
        Flow through the bed, of either sign. [m3/s]
    tailwater : float
        Water where the return ends. [m]
    path : BedPath
        Pipes, headers and outlet boards of the bed. [-]
    shape : BedShape or Cells
        Size of the media. [-]
    media : Media
        Conductivity and inertia at age and temperature. [-]

    Returns
    -------
    float
        Volume of media and pores together. [m3]

    Notes
    -----
    V = integral of A dx between the two ends of the media    (derived)

    References
    ----------
    derived, as `bed_wet_volume` with the depths of `levels_along_bed`
    """
    machine = _alone(path, shape, media)
    level = _system.bed_level(float(flow), float(tailwater), machine)
    return _system.wet_media(float(flow), level, float(tailwater), machine)


def _alone(path: BedPath, shape: Shape, media: Media) -> Machine:
    """The way through the bed by itself; its bypass is never asked."""
    return machine_of(path, shape, media, bypass=path.outflow, bypass_boards=NO_BOARDS)


def _require_flow(flow: float, stage: float) -> None:
    require_not_negative("flow", flow, "m3/s", "Check its direction")
    require_finite("flow", flow, "m3/s", "Check the flow")
    require_finite("stage", stage, "m", "Give the water level in the ditch")
