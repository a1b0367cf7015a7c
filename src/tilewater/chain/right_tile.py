# SPDX-License-Identifier: Apache-2.0
"""Whether the main that was found is the one that drains the field."""

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.told import inches
from tilewater.basis.trace import Trace

SAME_SIZE = 0.01
RIGHT_TILE, FAIR_TILE = 0.2, 0.3
"""Shares of the full main that some wet day of spring should reach; practice."""


def judge_tile(trace: Trace) -> None:
    """Hold the stub against the main, and the flow of a wet day against what the main carries."""
    _tell_stub(trace)
    _add_wet_season(trace)


def _tell_stub(trace: Trace) -> None:
    stub, main = "inputs.main.stub_diameter_m", "inputs.main.diameter_m"
    if not trace.known(stub, main):
        return
    seen, real = float(trace.value(stub)), float(trace.value(main))
    if abs(seen - real) > SAME_SIZE * real:
        trace.findings.append(
            Finding(
                "stub-unlike-main",
                "note",
                "Main",
                f"The stub in the bank is {inches(seen)} and the main {inches(real)}. The "
                "main counts; who sizes by the stub errs. Make sure that the two are one line.",
                value=seen,
                limit=real,
                unit="m",
                source="practice",
            )
        )


def _add_wet_season(trace: Trace) -> None:
    """Hold a measured wet day against what the main carries: is this the right tile?"""
    flow, full = "inputs.drainage.wet_season_flow_m3_s", "drain_flow.candidates_m3_s.main_full"
    if flow not in trace:
        return
    trace.compute(
        "main.wet_season_share",
        share_of_full,
        unit="-",
        title="Flow of a wet day in spring over what the main carries full",
        flow=flow,
        full=full,
    )
    if not trace.known("main.wet_season_share"):
        return
    share = float(trace.value("main.wet_season_share"))
    if share >= FAIR_TILE:
        return
    weak = share < RIGHT_TILE
    trace.findings.append(
        Finding(
            "right-tile" if weak else "right-tile-perhaps",
            "caution" if weak else "note",
            "Main",
            f"The flow measured in the wet season is {share:.0%} of what the main carries full; "
            "some day in spring 20 to 30 percent is to be expected. "
            + (
                "Is this the right tile? Look for a second main in the trench, a dead lateral or a "
                "blocked main, and trace it."
                if weak
                else "Measure again after more rain before the main is taken for the one."
            ),
            value=share,
            operator=">=",
            limit=RIGHT_TILE,
            unit="-",
            source="practice",
        )
    )


def share_of_full(flow: float, full: float) -> float:
    """A measured flow over what the main carries full.

    Parameters
    ----------
    flow : float
        Measured flow. [m3/s]
    full : float
        What the main carries full. [m3/s]

    Returns
    -------
    float
        Share. [-]

    Raises
    ------
    OutOfDomain
        If the main carries nothing.

    Notes
    -----
    Q / Q_full    (derived)

    References
    ----------
    derived, a ratio of flows
    """
    if full <= 0:
        raise OutOfDomain(f"full flow is {full:.4g} m3/s. It must be above 0. Check the main.")
    return flow / full
