# SPDX-License-Identifier: Apache-2.0
"""The distribution line of a buffer as steps of a trace call it: losses, flows, times."""

from collections.abc import Sequence

from tilewater.basis.domain import require_not_negative
from tilewater.basis.unknown import Unknown
from tilewater.hydraulics.distribution_line import (
    LinePipe,
    branch_flow,
    line_flow,
    line_flow_compiled,
)
from tilewater.hydraulics.groundwater import (
    buffer_flow_dupuit,
    buffer_travel_time_dupuit,
    buffer_travel_time_mceachran,
)
from tilewater.hydraulics.line_exit import LineSoil

DAY = 86400.0


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


def flow_at_heads_compiled(
    head_line: float, head_stream: float, pipe: LinePipe, soil: LineSoil
) -> float:
    """Flow into the buffer, all losses of its line taken off, compiled.

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
        As `flow_at_heads`. [m3/s]

    Notes
    -----
    Q of `flow_at_heads`    (derived)

    References
    ----------
    derived, the same branches
    """
    return line_flow_compiled(head_line, head_stream, pipe=pipe, soil=soil)


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


NO_TRAVEL = Unknown(
    "no water goes from the line to the ditch", "raise the boards, or take a lower ditch"
)
"""Travel time where there is no flow."""
LEVEL = 1e-9
"""Share by which two heads that are the same may differ."""


def is_level(head_soil: float, head_stream: float) -> bool:
    """Whether the soil at the line stands level with the ditch, so that nothing flows.

    Parameters
    ----------
    head_soil : float
        In the soil at the line. [m]
    head_stream : float
        Ditch above the restrictive layer. [m]

    Returns
    -------
    bool
    """
    return abs(head_soil - head_stream) <= LEVEL * head_stream


def travel_days(
    head_soil: float, head_stream: float, soil: LineSoil, porosity: float
) -> float | Unknown:
    """Time of the water from the line to the ditch, by the exact integral.

    Parameters
    ----------
    head_soil : float
        In the soil at the line. [m]
    head_stream : float
        Ditch above the restrictive layer. [m]
    soil : LineSoil
        Width and conductivity. [-]
    porosity : float
        Effective porosity. [-]

    Returns
    -------
    float or Unknown
        Time; not known where no water goes to the ditch. [days]

    Raises
    ------
    NoSolution
        If the line stands lower than the ditch.

    Notes
    -----
    t = (4/3) n W^2 (h1^3 - h2^3) / (K (h1^2 - h2^2)^2)    (dupuit1863)

    References
    ----------
    dupuit1863, travel time along a stream line
    """
    if is_level(head_soil, head_stream):
        return NO_TRAVEL
    seconds = buffer_travel_time_dupuit(
        head_soil,
        head_stream,
        width=soil.width,
        conductivity=soil.conductivity,
        porosity=porosity,
    )
    return float(seconds) / DAY


def travel_days_linear(
    head_soil: float, head_stream: float, soil: LineSoil, porosity: float
) -> float | Unknown:
    """Time of the water from the line to the ditch, by the mean velocity and the published factor.

    Parameters
    ----------
    head_soil : float
        In the soil at the line. [m]
    head_stream : float
        Ditch above the restrictive layer. [m]
    soil : LineSoil
        Width and conductivity. [-]
    porosity : float
        Effective porosity. [-]

    Returns
    -------
    float or Unknown
        Time; not known where no water goes to the ditch. [days]

    Raises
    ------
    NoSolution
        If the line stands lower than the ditch.

    Notes
    -----
    t = 1.11 n W^2 / (K (h1 - h2))    (mceachran2023)

    References
    ----------
    mceachran2023, abstract
    """
    if is_level(head_soil, head_stream):
        return NO_TRAVEL
    seconds = buffer_travel_time_mceachran(
        head_soil,
        head_stream,
        width=soil.width,
        conductivity=soil.conductivity,
        porosity=porosity,
    )
    return float(seconds) / DAY


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
