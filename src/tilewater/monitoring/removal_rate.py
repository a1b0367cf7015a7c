# SPDX-License-Identifier: Apache-2.0
"""Removal rate of a practice as measured, and the days on which nitrate ran out.

A rate is per volume and day, and says nothing until it says per which volume: the chips that stood
in water, or all of them. On days on which the outlet has next to no nitrate the bed could have
done more; a rate with such days in it tells the load that came, not what the bed can do.
"""

import numpy as np

from tilewater.basis.domain import require_positive
from tilewater.monitoring.series import DAY, Floats, Truths

USED_UP = 0.5
"""Nitrate at the outlet below which a day is limited by it. [mg/L]"""


def removal_rate_of(removed_kg: float, volume_m3: float, days: float) -> float:
    """Removal rate on a volume of media.

    Parameters
    ----------
    removed_kg : float
        Taken out. [kg]
    volume_m3 : float
        Of the media, wet or all of it. [m3]
    days : float
        Over which it was taken out. [days]

    Returns
    -------
    float
        Nitrogen per volume of media and day. [g/m3/day]

    Raises
    ------
    OutOfDomain
        If volume or days are not above zero.

    Notes
    -----
    r = 1000 R / (V t)    (derived)

    References
    ----------
    derived, a mass over a volume and a time
    """
    require_positive("volume of media", volume_m3, "m3", "Check the size of the bed")
    require_positive("days", days, "days", "Check the period")
    return 1000.0 * removed_kg / (volume_m3 * days)


def flowing_days_of(flow: Floats, step_s: Floats) -> float:
    """Days on which water went through.

    Parameters
    ----------
    flow : array
        Through the practice; NaN counts as none. [m3/s]
    step_s : array
        Length of each step. [s]

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
    return float(step_s[np.nan_to_num(flow) > 0.0].sum()) / DAY


def limited_steps(flow: Floats, outlet_mg_per_l: Floats) -> Truths:
    """Steps with flow on which nitrate ran out.

    Parameters
    ----------
    flow : array
        Through the practice. [m3/s]
    outlet_mg_per_l : array
        Nitrate at its outlet. [mg/L]

    Returns
    -------
    array
        True where the outlet is below 0.5 mg/L. [-]

    Notes
    -----
    C_out < 0.5 mg/L    (practice)

    References
    ----------
    practice, below it a rate falls with the nitrate that is left
    """
    return np.asarray((np.nan_to_num(flow) > 0.0) & (outlet_mg_per_l < USED_UP))


def retention_of(pore_volume_m3: float, flow_m3_s: float) -> float:
    """Time that water stays in a practice.

    Parameters
    ----------
    pore_volume_m3 : float
        Of the wet media. [m3]
    flow_m3_s : float
        Through it. [m3/s]

    Returns
    -------
    float
        Retention. [s]

    Raises
    ------
    OutOfDomain
        If the flow is not above zero.

    Notes
    -----
    t = V / Q    (derived)

    References
    ----------
    derived, a volume over a flow
    """
    require_positive("flow", flow_m3_s, "m3/s", "Take a day on which it flows")
    return pore_volume_m3 / flow_m3_s
