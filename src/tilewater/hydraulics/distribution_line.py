# SPDX-License-Identifier: Apache-2.0
"""The distribution line of a buffer: what it gives to the soil along its length, and what it takes.

A level perforated pipe, fed at one end of each branch. Head is lost along the pipe by friction and
where the water spreads from the pipe into the soil; what is left drives the flow to the stream.
Heads count from the top of the restrictive layer. Boards, and days that are not steady, are left to
the caller.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from tilewater.basis.domain import require_not_negative, require_positive
from tilewater.basis.findings import Finding
from tilewater.basis.roots import bracketed_root
from tilewater.hydraulics._exit_flow import exit_flow
from tilewater.hydraulics._pipe_run import friction_slope
from tilewater.hydraulics.line_exit import LineSoil

STEPS = 40
"""Steps along a branch."""
END_DEPTH = 0.05
"""Depth that counts as the end of the water, as a share of the diameter."""
CLOSENESS = 1e-10
ADVICE = "Count heads from the top of the restrictive layer"


@dataclass(frozen=True)
class LinePipe:
    """The pipe of a distribution line.

    Attributes
    ----------
    invert : float
        Above the restrictive layer, level. [m]
    diameter : float
        Inside. [m]
    n : float
        Manning roughness. [-]
    branches : tuple of float
        Length of each branch that gives water to the soil. [m]
    """

    invert: float
    diameter: float
    n: float
    branches: tuple[float, ...]


@dataclass(frozen=True)
class BranchFlow:
    """What one branch does.

    Attributes
    ----------
    flow : float
        Into the branch. [m3/s]
    far_head : float
        In the pipe where its water ends. [m]
    wet_length : float
        Length that water reaches. [m]
    far_share : float
        Flow per length at the far end over that at the near end; 0 where the end is dry. [-]
    """

    flow: float
    far_head: float
    wet_length: float
    far_share: float


def branch_flow(
    head_structure: float, head_stream: float, branch: float, *, pipe: LinePipe, soil: LineSoil
) -> BranchFlow:
    """Flow into one branch of a distribution line, followed along its pipe.

    Parameters
    ----------
    head_structure : float
        Water in the structure above the restrictive layer. [m]
    head_stream : float
        Stage of the stream above the restrictive layer. [m]
    branch : float
        Length of the branch. [m]
    pipe : LinePipe
        Invert, diameter and roughness. [-]
    soil : LineSoil
        Width, conductivity and resistance. [-]

    Returns
    -------
    BranchFlow

    Raises
    ------
    OutOfDomain
        If a head is negative or a length not above zero.

    Notes
    -----
    dQ/ds = q(h), dh/ds = (Q / conveyance(h - invert))^2, from the far end with Q = 0    (derived)

    The pipe may run part-full; where its water ends before the branch does, the rest is dry.
    Velocity head is not counted.

    References
    ----------
    manning1891, friction
    derived, a pipe that loses its flow along its length
    """
    require_not_negative("head_structure", head_structure, "m", ADVICE)
    require_not_negative("head_stream", head_stream, "m", ADVICE)
    for name, length in (("branch", branch), ("diameter", pipe.diameter), ("n", pipe.n)):
        require_positive(name, length, "", "Check the line")
    ends_at = pipe.invert + END_DEPTH * pipe.diameter
    if head_structure <= max(ends_at, head_stream):
        return BranchFlow(0.0, head_structure, 0.0, 0.0)
    near = exit_flow(head_structure, head_stream, *_law(soil))
    lowest = max(ends_at, head_stream)
    arguments = (head_stream, pipe, soil, head_structure)
    if _surplus(lowest, branch, *arguments) < 0.0:
        far = bracketed_root(
            _surplus, lowest, head_structure, (branch, *arguments), CLOSENESS * head_structure
        )
        flow = _followed(far, branch, head_stream, pipe, soil, head_structure)[1]
        return BranchFlow(flow, far, branch, exit_flow(far, head_stream, *_law(soil)) / near)
    wet = bracketed_root(_surplus_of_length, 0.0, branch, (lowest, *arguments), CLOSENESS * branch)
    flow = _followed(lowest, wet, head_stream, pipe, soil, head_structure)[1]
    return BranchFlow(flow, lowest, wet, 0.0)


def line_flow(
    head_structure: float, head_stream: float, *, pipe: LinePipe, soil: LineSoil
) -> float:
    """Flow into all branches of a distribution line.

    Parameters
    ----------
    head_structure : float
        Water in the structure above the restrictive layer. [m]
    head_stream : float
        Stage of the stream above the restrictive layer. [m]
    pipe : LinePipe
        Invert, diameter, roughness and branches. [-]
    soil : LineSoil
        Width, conductivity and resistance. [-]

    Returns
    -------
    float
        Flow; 0 where the stream stands as high as the water in the structure. [m3/s]

    Raises
    ------
    OutOfDomain
        If a head is negative or a length not above zero.

    Notes
    -----
    Q = sum of `branch_flow`    (derived)

    References
    ----------
    derived, branches side by side
    """
    of_length = {
        branch: branch_flow(head_structure, head_stream, branch, pipe=pipe, soil=soil).flow
        for branch in set(pipe.branches)
    }
    return sum(of_length[branch] for branch in pipe.branches)


def line_friction(branches: Sequence[float], *, diameter: float, n: float) -> float:
    """Head that the friction of an evenly feeding line takes on the mean, per flow squared.

    Parameters
    ----------
    branches : sequence of float
        Length of each branch. [m]
    diameter : float
        Inside diameter, the pipe full. [m]
    n : float
        Manning roughness. [-]

    Returns
    -------
    float
        Mean loss along the line over the square of the whole flow. [s2/m5]

    Raises
    ------
    OutOfDomain
        If there is no branch or a value is not above zero.

    Notes
    -----
    b = sum(w^3 L_i S(1)) / 4, w = L_i / sum(L), S(1) the friction slope of 1 m3/s    (derived)

    Along a branch that feeds evenly the loss is S L (1 - (1 - x/L)^3) / 3, on the mean S L / 4; at
    the far end it is a third more.

    References
    ----------
    manning1891, friction
    christiansen1942, line with many outlets
    """
    require_positive("number of branches", float(len(branches)), "", "Give the length of each")
    for branch in branches:
        require_positive("branch", branch, "m", "Give its length")
    require_positive("diameter", diameter, "m", "Give the inside diameter")
    require_positive("n", n, "", "Use 0.015 for corrugated tubing")
    slope, total = friction_slope(diameter, 1.0, diameter, n), sum(branches)
    return sum((each / total) ** 3 * each * slope / 4.0 for each in branches)


def branch_evenness_findings(branches: Sequence[BranchFlow]) -> tuple[Finding, ...]:
    """Findings where a line does not feed evenly or does not fill.

    Parameters
    ----------
    branches : sequence of BranchFlow
        The branches. [-]

    Returns
    -------
    tuple of Finding
    """
    least = min((each.far_share for each in branches), default=1.0)
    if least >= 0.8:
        return ()
    words = "its end stays dry" if least == 0.0 else f"its far end gives {least:.0%} of its near"
    return (
        Finding(
            "line-uneven",
            "caution",
            "Distribution line",
            f"One branch does not feed evenly: {words}. Use a larger pipe, shorter branches or a "
            "lower line.",
            value=least,
            operator=">=",
            limit=0.8,
            unit="-",
            source="practice",
        ),
    )


def _law(soil: LineSoil) -> tuple[float, float]:
    return soil.conductivity / (2.0 * soil.width), soil.exit_resistance


def _followed(
    far_head: float,
    length: float,
    head_stream: float,
    pipe: LinePipe,
    soil: LineSoil,
    highest: float,
) -> tuple[float, float]:
    """Head and flow at the near end of a length, from the far end where no flow is left.

    Steps are short near the far end, where the depth changes most. Over the highest head it is
    not followed; what is left of the way is then added to the head, so that a search still knows
    how far off it is.
    """

    def rates(head: float, flow: float) -> tuple[float, float]:
        given = exit_flow(head, head_stream, *law)
        if flow <= 0.0:
            return 0.0, given
        return friction_slope(head - pipe.invert, flow, pipe.diameter, pipe.n), given

    law = _law(soil)
    head, flow, way = far_head, 0.0, 0.0
    for number in range(1, STEPS + 1):
        step = length * (number / STEPS) ** 2 - way
        a, b = rates(head, flow)
        a2, b2 = rates(min(head + 0.5 * step * a, highest), flow + 0.5 * step * b)
        a3, b3 = rates(min(head + 0.5 * step * a2, highest), flow + 0.5 * step * b2)
        a4, b4 = rates(min(head + step * a3, highest), flow + step * b3)
        head += step * (a + 2.0 * a2 + 2.0 * a3 + a4) / 6.0
        flow += step * (b + 2.0 * b2 + 2.0 * b3 + b4) / 6.0
        way += step
        if head > highest:
            return head + 1.0 - way / length, flow
    return head, flow


def _surplus(
    far_head: float,
    length: float,
    head_stream: float,
    pipe: LinePipe,
    soil: LineSoil,
    wanted: float,
) -> float:
    return _followed(far_head, length, head_stream, pipe, soil, wanted)[0] - wanted


def _surplus_of_length(
    length: float,
    far_head: float,
    head_stream: float,
    pipe: LinePipe,
    soil: LineSoil,
    wanted: float,
) -> float:
    return _followed(far_head, length, head_stream, pipe, soil, wanted)[0] - wanted
