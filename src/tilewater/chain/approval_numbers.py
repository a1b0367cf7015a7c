# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: ground disturbed, and the capacity of the main kept past the practice.

They follow a design and change nothing of it.
"""

from tilewater.basis.errors import NoSolution
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.ground.notices import ground_disturbed
from tilewater.hydraulics._pipe_run import PipeRun
from tilewater.hydraulics.grade_lines import MainSegment
from tilewater.hydraulics.pipes import pipe_flow_full_manning
from tilewater.practices.rules import same

DISTURBED, CAPACITY = "approvals.disturbed", "approvals.capacity"
UNCOUNTED = "uncounted"
ACRE = 43560 * 0.3048**2
WORKS = "quantities.seeding.quantity"
PIECES = (
    ("spoil", "spoil that stays"),
    ("pad", "the pad for chips"),
    ("access", "the way in"),
    ("other", "other ground"),
)


def add_approvals(trace: Trace) -> None:
    """Record the ground disturbed and the capacity of the main before and after."""
    _add_disturbed(trace)
    _add_capacity(trace)


def _add_disturbed(trace: Trace) -> None:
    trace.constant(
        f"{DISTURBED}.limit_m2",
        ACRE,
        "Disturbed ground from which a construction stormwater permit is asked",
        unit="m2",
        source="construction-stormwater",
    )
    given = {name: f"inputs.disturbed.{name}_m2" for name, _ in PIECES}
    left = tuple(words for name, words in PIECES[:3] if given[name] not in trace)
    trace.constant(f"{DISTURBED}.{UNCOUNTED}", left, "Ground not counted", source="derived")
    if WORKS not in trace:
        return
    pieces = {name: key for name, key in given.items() if key in trace}
    trace.compute(
        f"{DISTURBED}.area_m2",
        ground_disturbed,
        unit="m2",
        title="Ground disturbed",
        works=WORKS,
        **pieces,
    )


def full_flow_of_run(pipe: PipeRun) -> float:
    """What a pipe carries full at its own grade.

    Parameters
    ----------
    pipe : PipeRun
        Inverts, length, diameter and roughness. [-]

    Returns
    -------
    float
        Flow. [m3/s]

    Raises
    ------
    NoSolution
        If it does not fall towards its outlet.

    Notes
    -----
    Q = (1/n) A (D/4)^(2/3) S^(1/2)    (manning1891)

    References
    ----------
    manning1891, full pipe
    """
    slope = (pipe.invert_up - pipe.invert_down) / pipe.length
    return _full(pipe.diameter, slope, pipe.n)


def least_full_flow(segments: tuple[MainSegment, ...], station: float) -> float:
    """What the least stretch of a main below a station carries full.

    Parameters
    ----------
    segments : tuple of MainSegment
        The main from its outlet up. [-]
    station : float
        Upper end of the stretch asked about. [m]

    Returns
    -------
    float
        Flow. [m3/s]

    Raises
    ------
    NoSolution
        If no stretch lies below, or one does not fall towards the outlet.

    Notes
    -----
    Q = min over stretches of (1/n) A (D/4)^(2/3) S^(1/2)    (manning1891)

    References
    ----------
    manning1891, full pipe
    """
    below = [each for each in segments if each.station_down < station - 1e-6]
    if not below:
        raise NoSolution("No stretch of the main lies below the diversion. Check its station.")
    return min(
        _full(
            each.diameter,
            (each.invert_up - each.invert_down) / (each.station_up - each.station_down),
            each.n,
        )
        for each in below
    )


def _full(diameter: float, slope: float, n: float) -> float:
    if slope <= 0.0:
        raise NoSolution(
            f"slope is {slope:g}. A main without fall towards its outlet has no capacity of its "
            "own. Shoot both inverts again."
        )
    return float(pipe_flow_full_manning(diameter, slope, n=n))


def _add_capacity(trace: Trace) -> None:
    station, line = "inputs.main.station_diversion_m", "main.line"
    if not trace.known(line, station, "system.bypass.pipe"):
        return
    trace.compute(
        f"{CAPACITY}.before_m3_s",
        least_full_flow,
        unit="m3/s",
        title="What the main below the diversion carries full, as it is",
        segments=line,
        station=station,
    )
    trace.compute(
        f"{CAPACITY}.after_m3_s",
        full_flow_of_run,
        unit="m3/s",
        title="What the main past the practice carries full",
        pipe="system.bypass.pipe",
    )
    trace.compute(
        f"{CAPACITY}.limit_m3_s",
        same,
        unit="m3/s",
        title="Capacity to keep: that of before",
        value=f"{CAPACITY}.before_m3_s",
    )
    if trace.known(f"{CAPACITY}.limit_m3_s"):
        scale = 0.1 * float(trace.value(f"{CAPACITY}.limit_m3_s"))
        trace.require(
            Requirement(
                CAPACITY,
                "Main past the practice carries no less than before",
                f"{CAPACITY}.after_m3_s",
                ">=",
                f"{CAPACITY}.limit_m3_s",
                "m3/s",
                scale,
                text_status="memory",
                source="permit-list",
            )
        )
