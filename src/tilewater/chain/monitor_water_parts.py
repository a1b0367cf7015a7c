# SPDX-License-Identifier: Apache-2.0
"""Numbers of the measured water: volumes, days with flow, what was cut off a difference."""

import numpy as np

from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding
from tilewater.monitoring.removal_rate import flowing_days_of
from tilewater.monitoring.stage_flow import FlowRecord
from tilewater.monitoring.water_record import WaterRecord, volume_of, water_record


def water_of(start_s: float, end_s: float, **ways: FlowRecord) -> WaterRecord:
    """Flows of a practice on one axis of time, gaps bridged.

    Parameters
    ----------
    start_s : float
        Begin of the period. [s]
    end_s : float
        Its end. [s]
    **ways : FlowRecord
        treated, bypass, total. [m3/s]

    Returns
    -------
    WaterRecord
        See `monitoring.water_record.water_record`. [m3/s]

    Notes
    -----
    Q = Q1 + (Q2 - Q1) (t - t1)/(t2 - t1) in a gap;  Q_bypass = Q_total - Q_treated    (derived)

    References
    ----------
    derived, straight lines and differences
    """
    return water_record(ways, start_s=start_s, end_s=end_s)


def volume_treated(water: WaterRecord) -> float:
    """Water through the practice, on the steps where both ways are known.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]

    Returns
    -------
    float
        Volume. [m3]

    Notes
    -----
    V = sum(Q dt)    (derived)

    References
    ----------
    derived, a sum
    """
    return volume_of(np.where(water.known, water.treated.flow, 0.0), water.step_s)


def volume_bypassed(water: WaterRecord) -> float:
    """Water past the practice, on the steps where both ways are known.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]

    Returns
    -------
    float
        Volume. [m3]

    Notes
    -----
    V = sum(Q dt)    (derived)

    References
    ----------
    derived, a sum
    """
    return volume_of(np.where(water.known, water.bypass.flow, 0.0), water.step_s)


def total_volume_of(water: WaterRecord) -> float:
    """Water that came by the main, where its flow was logged, on the steps that count.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]

    Returns
    -------
    float
        Volume. [m3]

    Raises
    ------
    NoSolution
        If the main was not logged.

    Notes
    -----
    V = sum(Q dt)    (derived)

    References
    ----------
    derived, a sum
    """
    if water.total is None:
        message = "The flow of the main was not logged. Its volume is that of both ways."
        raise NoSolution(message)
    return volume_of(np.where(water.known, water.total.flow, 0.0), water.step_s)


def cut_of(water: WaterRecord) -> float:
    """Water below zero where one flow is the difference of two, cut off.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]

    Returns
    -------
    float
        Volume; an error that one sees. [m3]

    Notes
    -----
    V = sum of -(Q_total - Q_other) dt where it is below zero    (derived)

    References
    ----------
    derived, what a difference cannot hide
    """
    return water.treated.cut_m3 + water.bypass.cut_m3


def cut_of_range(water: WaterRecord) -> tuple[Finding, ...]:
    """Say where much was cut off a difference of flows.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]

    Returns
    -------
    tuple of Finding
        Empty up to two percent.
    """
    whole = volume_treated(water) + volume_bypassed(water)
    cut = cut_of(water)
    if whole <= 0.0 or cut <= 0.02 * whole:
        return ()
    return (
        Finding(
            "monitor-cut",
            "caution",
            "Closure",
            f"One flow is the difference of two, and was below zero for {cut / whole:.1%} of the "
            "water; that was cut off, so that both ways add up to more than came. Up to 2% is "
            "taken as noise. Check the zero of each logger.",
            cut / whole,
            "<=",
            0.02,
            source="practice",
        ),
    )


def flow_days_of(water: WaterRecord) -> float:
    """Days with water through the practice.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]

    Returns
    -------
    float
        Sum of the steps with flow. [days]

    Notes
    -----
    t = sum of dt where Q > 0    (derived)

    References
    ----------
    derived, a sum
    """
    return flowing_days_of(np.where(water.known, water.treated.flow, 0.0), water.step_s)


def left_out_share_of(water: WaterRecord, start_s: float, end_s: float) -> float:
    """Share of the period that loads do not count: not read, and too long to bridge.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    start_s : float
        Begin of the period. [s]
    end_s : float
        Its end. [s]

    Returns
    -------
    float
        Of the time. [-]

    Notes
    -----
    1 - sum of the steps that count / (end - start)    (derived)

    References
    ----------
    derived, a share of time
    """
    counted = float(water.step_s[water.known].sum())
    return max(0.0, 1.0 - counted / (end_s - start_s))


def left_out_share_of_range(
    water: WaterRecord, start_s: float, end_s: float
) -> tuple[Finding, ...]:
    """Say where much of the period is left out.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    start_s : float
        Begin of the period. [s]
    end_s : float
        Its end. [s]

    Returns
    -------
    tuple of Finding
        Empty up to a tenth of the time.
    """
    share = left_out_share_of(water, start_s, end_s)
    if share <= 0.1:
        return ()
    return (
        Finding(
            "monitor-left-out",
            "caution",
            "The measured time",
            f"{share:.0%} of the period has no flow that could be used, and is in no load. Up to "
            "10% is usual. The loads are those of the rest; the range says nothing of what is "
            "left out. Set the period to the time that was read.",
            share,
            "<=",
            0.1,
            source="practice",
        ),
    )
