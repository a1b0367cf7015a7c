# SPDX-License-Identifier: Apache-2.0
"""Bed, structures, pipes and ditch solved together: one level and one division for any inflow.

Levels are elevations. The water is still in the boxes and headers; every pipe loses its entrance
head and its whole velocity head; the bed falls from end to end (Dupuit, Forchheimer). Steady flow:
what the bed or the field stores on the way is not counted here. The bare arithmetic is in
`_system`, which the compiled kernels share.
"""

from dataclasses import dataclass

from tilewater.basis.domain import require_finite, require_not_negative
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics._pipe_run import G, PipeRun, friction_slope
from tilewater.practices.bed import _system
from tilewater.practices.bed._system import Cell, CellLevels, Machine, Split
from tilewater.practices.bed.capacity import BedShape, Media

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
    "levels_along_bed",
    "first_shape",
    "machine_of",
    "side_by_side",
    "split_in_balance",
    "wet_media_volume",
]

OPEN_GATE = float("inf")
"""A gate that takes no head: fully open, its loss is in the entrance of the feed."""
NO_BOARDS = BoardSet(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.5, float("inf"), 0.0, 0.0)
"""What a cell without boards of its own has in the diversion box."""


@dataclass(frozen=True)
class BedPath:
    """What the water passes from the diversion to the ditch, the media apart.

    Attributes
    ----------
    floor : float
        Floor of the media, level. [m]
    feed, drain, outflow : PipeRun
        Diversion to inlet header; outlet header to outlet box; outlet box to ditch or junction.
    header_in, header_out : float
        Loss of the two headers per flow squared. [s2/m5]
    outlet : BoardSet
        Boards of the outlet structure.
    gate : float
        Open area of the feed's gate times its coefficient; infinite where it takes no head. [m2]
    """

    floor: float
    feed: PipeRun
    drain: PipeRun
    outflow: PipeRun
    header_in: float
    header_out: float
    outlet: BoardSet
    gate: float = OPEN_GATE


@dataclass(frozen=True)
class CellPlan:
    """One cell of a bed.

    Attributes
    ----------
    shape : BedShape
        Size of its media. [m]
    boards : BoardSet
        Its own boards in the diversion; `NO_BOARDS` where it is always open. [-]
    """

    shape: BedShape
    boards: BoardSet


@dataclass(frozen=True)
class Cells:
    """A bed in several cells side by side.

    Attributes
    ----------
    plans : tuple of CellPlan
        The cells. [-]
    """

    plans: tuple[CellPlan, ...]


Shape = BedShape | Cells
"""A bed as water meets it: of one piece, or in cells."""


def side_by_side(**plans: CellPlan) -> Cells:
    """Several cells as one bed.

    Parameters
    ----------
    **plans : CellPlan
        Cells by name. [-]

    Returns
    -------
    Cells

    Notes
    -----
    Q_bed = Q_1 + Q_2 + ...  between the same two levels    (derived)

    References
    ----------
    derived, ways side by side
    """
    return Cells(tuple(plans.values()))


def first_shape(shape: Shape) -> BedShape:
    """The bed of one piece, or its first cell.

    Parameters
    ----------
    shape : BedShape or Cells
        The bed. [-]

    Returns
    -------
    BedShape

    References
    ----------
    derived, a part of a record
    """
    return shape.plans[0].shape if isinstance(shape, Cells) else shape


def machine_of(
    path: BedPath,
    shape: Shape,
    media: Media,
    *,
    bypass: PipeRun,
    bypass_boards: BoardSet,
    lower: PipeRun | None = None,
) -> Machine:
    """The whole between main and ditch.

    Parameters
    ----------
    path : BedPath
        Pipes, headers and outlet boards of the bed. [-]
    shape : BedShape or Cells
        Size of the media. [-]
    media : Media
        Conductivity and inertia. [-]
    bypass : PipeRun
        The main below the bypass boards. [-]
    bypass_boards : BoardSet
        Boards of the diversion. [-]
    lower : PipeRun or None
        Main below the junction, where the bed's outflow joins it; None for an outlet of its own.
        [-]

    Returns
    -------
    Machine

    References
    ----------
    derived, the parts put side by side
    """
    plans = shape.plans if isinstance(shape, Cells) else (CellPlan(shape, NO_BOARDS),)
    cells = tuple(
        Cell(
            path.floor,
            plan.shape.length,
            plan.shape.width,
            float(plan.shape.side_slope),
            plan.shape.media_depth,
            media.conductivity,
            media.inertia,
            plan.boards,
            path.gate,
            path.feed,
            path.header_in,
            path.header_out,
            path.drain,
        )
        for plan in plans
    )
    joined = lower is not None
    below = lower if lower is not None else bypass
    return Machine(cells, bypass_boards, path.outlet, bypass, path.outflow, joined, below)


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


def pipe_run(
    invert_up: float, invert_down: float, diameter: float, length: float, n: float, entrance: float
) -> PipeRun:
    """A pipe between two pools.

    Parameters
    ----------
    invert_up, invert_down : float
        Inverts at its two ends. [m]
    diameter : float
        Inside diameter. [m]
    length : float
        Length. [m]
    n : float
        Manning roughness. [-]
    entrance : float
        Entrance loss in velocity heads. [-]

    Returns
    -------
    PipeRun

    Raises
    ------
    OutOfDomain
        If diameter or roughness is not above 0, or the length negative.

    References
    ----------
    derived, a record
    """
    if diameter <= 0 or n <= 0 or length < 0:
        raise OutOfDomain(
            f"A pipe of {diameter:.4g} m, {length:.4g} m long, with n {n:.4g} is none. "
            "Diameter and roughness lie above 0, the length is not negative. Check the pipe."
        )
    return PipeRun(
        *(float(part) for part in (invert_up, invert_down, diameter, length, n, entrance))
    )


def header_loss(diameter: float, length: float, n: float, open_area: float) -> float:
    """Head that a perforated header takes, per flow squared.

    Parameters
    ----------
    diameter : float
        Inside diameter. [m]
    length : float
        Length of the perforated pipe, fed or drained at one end. [m]
    n : float
        Manning roughness. [-]
    open_area : float
        Open area of the perforations per length. [m2/m]

    Returns
    -------
    float
        Loss per flow squared. [s2/m5]

    Raises
    ------
    OutOfDomain
        If a value is not above 0.

    Notes
    -----
    k = (L / 3) (n / (A R^(2/3)))^2 + 1 / (2 g (0.6 a L)^2)    (christiansen1942)

    One third of the friction of the whole flow, because the flow falls evenly to nothing; and the
    sharp openings, all of them open. Chips that lie against them take more: how much is not known.

    References
    ----------
    christiansen1942, friction of a line with many outlets
    derived, openings as orifices
    """
    if min(diameter, length, n, open_area) <= 0:
        raise OutOfDomain(
            f"A header of {diameter:.4g} m, {length:.4g} m long, open {open_area:.4g} m2/m, is "
            "none. All of these lie above 0. Check the header."
        )
    friction = friction_slope(diameter, 1.0, diameter, n) * length
    openings = 0.6 * open_area * length
    return friction / 3.0 + 1.0 / (2.0 * G * openings * openings)
