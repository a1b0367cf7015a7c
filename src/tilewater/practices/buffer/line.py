# SPDX-License-Identifier: Apache-2.0
"""The distribution line of a buffer as steps of a trace call it: lengths, losses, flows."""

from collections.abc import Sequence

from tilewater.basis.domain import refuse, require_not_negative, require_positive
from tilewater.hydraulics.distribution_line import LinePipe, branch_flow, line_flow
from tilewater.hydraulics.groundwater import buffer_flow_dupuit
from tilewater.hydraulics.line_exit import LineSoil


def laid_length(branches: Sequence[float]) -> float:
    """Length of perforated line as it is laid, roots and all.

    Parameters
    ----------
    branches : sequence of float
        Length of each branch. [m]

    Returns
    -------
    float
        Sum. [m]

    Notes
    -----
    L = sum(L_i)    (derived)

    References
    ----------
    derived, a sum
    """
    return float(sum(branches))


def length_of_strip_used(branches: Sequence[float], solid_at_structure: float) -> float:
    """Length of strip that a line takes up, its solid pipe at the structure counted.

    Parameters
    ----------
    branches : sequence of float
        Perforated length of each branch. [m]
    solid_at_structure : float
        Solid pipe of each branch at the structure. [m]

    Returns
    -------
    float
        Length. [m]

    Notes
    -----
    sum(L_i) + N s    (derived)

    References
    ----------
    derived, a sum
    """
    return laid_length(branches) + len(branches) * solid_at_structure


def feeding_branches(branches: Sequence[float], tree_length: float = 0.0) -> tuple[float, ...]:
    """Length of each branch that lets water out, what is laid solid for trees taken off.

    Parameters
    ----------
    branches : sequence of float
        Length of each branch. [m]
    tree_length : float
        Length laid solid within reach of roots, taken off all branches alike. [m]

    Returns
    -------
    tuple of float
        Feeding lengths. [m]

    Raises
    ------
    OutOfDomain
        If the trees take the whole line.

    Notes
    -----
    L_i (1 - trees / sum(L))    (derived)

    References
    ----------
    derived, a share of each
    """
    require_not_negative("tree_length", tree_length, "m", "Use 0 where no tree stands")
    total = laid_length(branches)
    if tree_length >= total:
        raise refuse(
            "tree_length",
            tree_length,
            "m",
            f"The line is {total:.4g} m long and would feed nowhere",
            "Move the line away from the trees or take the trees down",
        )
    return tuple(each * (1.0 - tree_length / total) for each in branches)


def share_of_length(used: float, available: float) -> float:
    """Share of the strip that the line uses.

    Parameters
    ----------
    used : float
        Length of strip that the line takes up. [m]
    available : float
        Length of strip that a line could use. [m]

    Returns
    -------
    float
        Share; above 1 where the line is longer than the strip. [-]

    Raises
    ------
    OutOfDomain
        If the strip has no length.

    Notes
    -----
    share = L / L_available    (derived)

    References
    ----------
    derived, a ratio
    """
    require_positive("available", available, "m", "Tape the strip")
    return used / available


def line_pipe(
    invert: float, barrier: float, diameter: float, n: float, branches: Sequence[float]
) -> LinePipe:
    """The pipe of the line, its invert counted from the restrictive layer.

    Parameters
    ----------
    invert : float
        Elevation of the invert. [m]
    barrier : float
        Top of the restrictive layer. [m]
    diameter : float
        Inside diameter. [m]
    n : float
        Manning roughness. [-]
    branches : sequence of float
        Feeding length of each branch. [m]

    Returns
    -------
    LinePipe

    References
    ----------
    derived, a record
    """
    return LinePipe(invert - barrier, diameter, n, tuple(branches))


def flow_at_heads(head_line: float, head_stream: float, pipe: LinePipe, soil: LineSoil) -> float:
    """Flow into the buffer, all losses of its line taken off.

    Parameters
    ----------
    head_line : float
        Water in the structure above the restrictive layer. [m]
    head_stream : float
        Ditch above the restrictive layer. [m]
    pipe : LinePipe
        Pipe and branches. [-]
    soil : LineSoil
        Width, conductivity, resistance at the pipe. [-]

    Returns
    -------
    float
        Flow; 0 where the ditch stands as high. [m3/s]

    Notes
    -----
    Q = sum over branches of the flow that friction and spreading let through    (dupuit1863)

    References
    ----------
    dupuit1863, level flow under a falling surface
    ernst1962, loss where water spreads from the pipe
    manning1891, friction along the pipe
    """
    return line_flow(head_line, head_stream, pipe=pipe, soil=soil)


def flow_without_losses(
    head_line: float, head_stream: float, pipe: LinePipe, soil: LineSoil
) -> float:
    """Flow into the buffer if the line took no head.

    Parameters
    ----------
    head_line : float
        Water in the structure above the restrictive layer. [m]
    head_stream : float
        Ditch above the restrictive layer. [m]
    pipe : LinePipe
        Its branches count. [-]
    soil : LineSoil
        Width and conductivity. [-]

    Returns
    -------
    float
        Flow; negative where the ditch stands higher. [m3/s]

    Notes
    -----
    Q = L K (h1^2 - h2^2) / (2 W)    (dupuit1863)

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    return float(
        buffer_flow_dupuit(
            head_line,
            head_stream,
            width=soil.width,
            length=sum(pipe.branches),
            conductivity=soil.conductivity,
        )
    )


def head_in_soil(flow: float, head_stream: float, pipe: LinePipe, soil: LineSoil) -> float:
    """Head in the soil at the line that sends a flow to the ditch.

    Parameters
    ----------
    flow : float
        Flow into the buffer. [m3/s]
    head_stream : float
        Ditch above the restrictive layer. [m]
    pipe : LinePipe
        Its branches count. [-]
    soil : LineSoil
        Width and conductivity. [-]

    Returns
    -------
    float
        Head. [m]

    Raises
    ------
    OutOfDomain
        If the flow is negative.

    Notes
    -----
    h1 = sqrt(h2^2 + 2 W Q / (L K))    (dupuit1863)

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    require_not_negative("flow", flow, "m3/s", "Give the flow into the buffer")
    per_length = flow / sum(pipe.branches)
    square = head_stream**2 + 2.0 * soil.width * per_length / soil.conductivity
    return float(square**0.5)


def least_far_share(head_line: float, head_stream: float, pipe: LinePipe, soil: LineSoil) -> float:
    """How evenly a line feeds: flow at the far end of its worst branch over that at the near end.

    Parameters
    ----------
    head_line : float
        Water in the structure above the restrictive layer. [m]
    head_stream : float
        Ditch above the restrictive layer. [m]
    pipe : LinePipe
        Pipe and branches. [-]
    soil : LineSoil
        Width, conductivity, resistance at the pipe. [-]

    Returns
    -------
    float
        Share; 0 where an end stays dry. [-]

    Notes
    -----
    q(far) / q(near)    (derived)

    References
    ----------
    derived, a ratio
    """
    branches = (
        branch_flow(head_line, head_stream, each, pipe=pipe, soil=soil)
        for each in set(pipe.branches)
    )
    return min(branch.far_share for branch in branches)
