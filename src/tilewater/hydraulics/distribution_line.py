# SPDX-License-Identifier: Apache-2.0
"""The distribution line of a buffer: what it gives to the soil along its length, and what it takes.

A level perforated pipe, fed at one end of each branch. Head is lost along the pipe by friction and
where the water spreads from the pipe into the soil; what is left drives the flow to the stream.
Heads count from the top of the restrictive layer. Boards, and days that are not steady, are left to
the caller.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from tilewater.basis.compiled import compiled
from tilewater.basis.domain import require_not_negative, require_positive
from tilewater.basis.findings import Finding
from tilewater.hydraulics import _line_run
from tilewater.hydraulics._line_run import LineRun
from tilewater.hydraulics._pipe_run import friction_slope
from tilewater.hydraulics.line_exit import LineSoil

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
    _require(head_structure, head_stream, branch, pipe)
    run = line_run(head_structure, head_stream, pipe=pipe, soil=soil)
    flow, far, wet = _line_run.branch_run(branch, run)
    if wet < branch:
        return BranchFlow(flow, far, wet, 0.0)
    near = _line_run.given_at(head_structure, run)
    return BranchFlow(flow, far, wet, _line_run.given_at(far, run) / near)


def line_run(
    head_structure: float, head_stream: float, *, pipe: LinePipe, soil: LineSoil
) -> LineRun:
    """A line between its structure and the stream, as its kernel takes it.

    Parameters
    ----------
    head_structure : float
        Water in the structure above the restrictive layer. [m]
    head_stream : float
        Stage of the stream above the restrictive layer. [m]
    pipe : LinePipe
        Invert, diameter and roughness. [-]
    soil : LineSoil
        Width, conductivity and resistance. [-]

    Returns
    -------
    LineRun

    References
    ----------
    derived, a record
    """
    slope = soil.conductivity / (2.0 * soil.width)
    return LineRun(
        head_structure,
        head_stream,
        pipe.invert,
        pipe.diameter,
        pipe.n,
        slope,
        soil.exit_resistance,
    )


def line_flow_compiled(
    head_structure: float, head_stream: float, *, pipe: LinePipe, soil: LineSoil
) -> float:
    """Flow into all branches of a distribution line, compiled.

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
        As `line_flow`. [m3/s]

    Raises
    ------
    OutOfDomain
        If a head is negative or a length not above zero.

    Notes
    -----
    Q of `line_flow`    (derived)

    References
    ----------
    derived, the same branches
    """
    run = line_run(head_structure, head_stream, pipe=pipe, soil=soil)
    follow, flows = compiled(_line_run.branch_run), dict[float, float]()
    for branch in set(pipe.branches):
        _require(head_structure, head_stream, branch, pipe)
        flows[branch] = follow(branch, run)[0]
    return sum(flows[branch] for branch in pipe.branches)


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


def _require(head_structure: float, head_stream: float, branch: float, pipe: LinePipe) -> None:
    require_not_negative("head_structure", head_structure, "m", ADVICE)
    require_not_negative("head_stream", head_stream, "m", ADVICE)
    for name, length in (("branch", branch), ("diameter", pipe.diameter), ("n", pipe.n)):
        require_positive(name, length, "", "Check the line")
