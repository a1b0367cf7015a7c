# SPDX-License-Identifier: Apache-2.0
"""What stands between main and ditch: pipes, headers, boards and cells of a bed, put together.

Records and their making. How the water divides among them is in `system`.
"""

from dataclasses import dataclass

from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics._board_set import BoardSet
from tilewater.hydraulics._pipe_run import G, PipeRun, friction_slope
from tilewater.practices.bed._system import Cell, Machine
from tilewater.practices.bed.capacity import BedShape, Media

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
