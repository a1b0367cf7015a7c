# SPDX-License-Identifier: Apache-2.0
"""The cycle of a pump that floats switch on and off in a sump, and what its pulses bring.

Inflow is taken as even through a cycle, the pump's flow as constant, and the sump as upright
between the floats. What the pipes above the sump hold is not counted, so that a real pump starts
less often. It knows no pump curve and chooses no pump.
"""

import math

from tilewater.basis.domain import require_not_negative, require_positive
from tilewater.basis.errors import OutOfDomain

HOUR = 3600.0
CAPACITY_ADVICE = "Time the sump between two marks"


def sump_volume(sump_area: float, float_on: float, float_off: float) -> float:
    """Water in the sump between the two floats.

    Parameters
    ----------
    sump_area : float
        Plan area of the sump. [m2]
    float_on, float_off : float
        Levels at which the pump starts and stops. [m]

    Returns
    -------
    float
        Volume. [m3]

    Raises
    ------
    OutOfDomain
        If the pump would start at or below the level at which it stops.

    Notes
    -----
    V = A (z_on - z_off)    (derived)

    References
    ----------
    derived, an upright sump
    """
    require_positive("sump_area", sump_area, "m2", "Measure the sump")
    if float_on <= float_off:
        raise OutOfDomain(
            f"float_on is {float_on:.4g} m and float_off {float_off:.4g} m. The pump starts above "
            "the level at which it stops. Check the two floats."
        )
    return sump_area * (float_on - float_off)


def pump_run_time(volume: float, capacity: float, inflow: float) -> float:
    """Time that the pump runs in one cycle.

    Parameters
    ----------
    volume : float
        Water in the sump between the floats. [m3]
    capacity : float
        Flow of the pump. [m3/s]
    inflow : float
        Drain flow into the sump. [m3/s]

    Returns
    -------
    float
        Time; infinite where the drains bring as much as it lifts. [s]

    Raises
    ------
    OutOfDomain
        If the capacity is not above zero or the inflow negative.

    Notes
    -----
    t = V / (Q_p - Q)    (derived)

    References
    ----------
    derived, a balance of the sump
    """
    _require_flows(capacity, inflow)
    return volume / (capacity - inflow) if inflow < capacity else math.inf


def pump_rest_time(volume: float, inflow: float) -> float:
    """Time that the pump rests in one cycle.

    Parameters
    ----------
    volume : float
        Water in the sump between the floats. [m3]
    inflow : float
        Drain flow into the sump. [m3/s]

    Returns
    -------
    float
        Time; infinite without inflow. [s]

    Raises
    ------
    OutOfDomain
        If the inflow is negative.

    Notes
    -----
    t = V / Q    (derived)

    References
    ----------
    derived, a balance of the sump
    """
    require_not_negative("inflow", inflow, "m3/s", "Check the drain flow")
    return volume / inflow if inflow > 0.0 else math.inf


def pump_starts_per_hour(volume: float, capacity: float, inflow: float) -> float:
    """How often the pump starts in an hour.

    Parameters
    ----------
    volume : float
        Water in the sump between the floats. [m3]
    capacity : float
        Flow of the pump. [m3/s]
    inflow : float
        Drain flow into the sump. [m3/s]

    Returns
    -------
    float
        Starts in an hour; 0 without inflow, and where it runs all the time. [-]

    Raises
    ------
    OutOfDomain
        If the capacity is not above zero or the inflow negative.

    Notes
    -----
    3600 / (t_run + t_rest) = 3600 Q (Q_p - Q) / (V Q_p)    (derived)

    References
    ----------
    derived, a balance of the sump
    """
    _require_flows(capacity, inflow)
    require_positive("volume", volume, "m3", "Check the floats and the sump")
    if inflow >= capacity:
        return 0.0
    return HOUR * inflow * (capacity - inflow) / (volume * capacity)


def pump_starts_most_per_hour(volume: float, capacity: float) -> float:
    """How often the pump starts in an hour at the inflow that is worst for it.

    Parameters
    ----------
    volume : float
        Water in the sump between the floats. [m3]
    capacity : float
        Flow of the pump. [m3/s]

    Returns
    -------
    float
        Starts in an hour, at an inflow of half the capacity. [-]

    Raises
    ------
    OutOfDomain
        If the capacity is not above zero.

    Notes
    -----
    3600 Q_p / (4 V)    (practice)

    References
    ----------
    practice, V = T Q_p / 4 of sumps, from memory
    derived, the largest value of Q (Q_p - Q)
    """
    return pump_starts_per_hour(volume, capacity, capacity / 2.0)


def pulse_volume(run_time: float, capacity: float) -> float:
    """Water that one run of the pump sends on.

    Parameters
    ----------
    run_time : float
        Time that the pump runs. [s]
    capacity : float
        Flow of the pump. [m3/s]

    Returns
    -------
    float
        Volume; more than the sump holds, by what flows in meanwhile. [m3]

    Notes
    -----
    V_pulse = Q_p t    (derived)

    References
    ----------
    derived, a flow over a time
    """
    return capacity * run_time


def pulse_past_bed(pulse: float, run_time: float, capacity: float, storage: float) -> float:
    """Water of one pulse that goes over the bypass boards.

    Parameters
    ----------
    pulse : float
        Water that the run sends on. [m3]
    run_time : float
        Time that the pump runs. [s]
    capacity : float
        Flow that the practice takes with water at the bypass crest. [m3/s]
    storage : float
        Room in the practice between its resting level and the bypass crest. [m3]

    Returns
    -------
    float
        Volume, no less than 0: the practice takes its capacity through the whole run, so that a
        little more may go past. [m3]

    Notes
    -----
    V_past = max(0, V_pulse - Q_bed t - V_room)    (derived)

    References
    ----------
    derived, a balance of one run
    """
    if math.isinf(run_time):
        return math.inf if pulse > 0.0 else 0.0
    return max(0.0, pulse - capacity * run_time - storage)


def room_in_media(
    wet_volume: float,
    rest_depth: float,
    porosity: float,
    *,
    length: float,
    width: float,
    side_slope: float,
) -> float:
    """Water that a bed takes up from its level at rest to its surface at full flow.

    Parameters
    ----------
    wet_volume : float
        Media under water at full flow, pores included. [m3]
    rest_depth : float
        Water over the floor at rest, level with the outlet crest. [m]
    porosity : float
        Drainable porosity. [-]
    length : float
        Way of the water. [m]
    width : float
        Width of the floor. [m]
    side_slope : float
        Horizontal per vertical of a side. [-]

    Returns
    -------
    float
        Volume, no less than 0; what the structures hold is not counted. [m3]

    Notes
    -----
    V = n (V_wet - L (W h + z h^2))    (derived)

    References
    ----------
    derived, pores between two surfaces
    """
    depth = max(0.0, rest_depth)
    resting = length * (width * depth + side_slope * depth**2)
    return porosity * max(0.0, wet_volume - resting)


def _require_flows(capacity: float, inflow: float) -> None:
    require_positive("capacity", capacity, "m3/s", CAPACITY_ADVICE)
    require_not_negative("inflow", inflow, "m3/s", "Check the drain flow")
