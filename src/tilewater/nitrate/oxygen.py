# SPDX-License-Identifier: Apache-2.0
"""Oxygen that has to go before nitrate does.

Drain water comes with oxygen in it. Nitrate was seen to fall only once oxygen had; how fast soil
takes it up at a site is seldom known, and the defaults here are judgement.
"""

import numpy as np

from tilewater.basis.domain import Number, require_not_negative, require_positive

THRESHOLD_MG_PER_L = 4.5
"""Oxygen below which nitrate was seen to fall (srb-tracer). [mg/L]"""


def oxic_time_days(
    oxygen_mg_per_l: float,
    *,
    uptake_mg_per_l_day: float,
    threshold_mg_per_l: float = THRESHOLD_MG_PER_L,
) -> float:
    """Days until water that enters the soil has little enough oxygen for nitrate to fall.

    Parameters
    ----------
    oxygen_mg_per_l : float
        In the water that enters. [mg/L]
    uptake_mg_per_l_day : float
        What the soil takes up. [mg/L/day]
    threshold_mg_per_l : float
        Oxygen below which nitrate falls. [mg/L]

    Returns
    -------
    float
        Time; 0 where there is no more oxygen than that. [days]

    Raises
    ------
    OutOfDomain
        If oxygen or threshold is negative or the uptake not above zero.

    Notes
    -----
    t = (O2 - 4.5) / u    (srb-tracer)

    In one tracer test the water stayed oxic for the first 30 days after the soil was wetted, and
    nitrate fell once oxygen was below 4.5 mg/L; the uptake was not given.

    References
    ----------
    srb-tracer, abstract
    """
    require_not_negative("oxygen_mg_per_l", oxygen_mg_per_l, "mg/L", "Give what was measured")
    require_not_negative("threshold_mg_per_l", threshold_mg_per_l, "mg/L", "Use 4.5 mg/L")
    require_positive("uptake_mg_per_l_day", uptake_mg_per_l_day, "mg/L/day", "Use 2 in doubt")
    return max(0.0, oxygen_mg_per_l - threshold_mg_per_l) / uptake_mg_per_l_day


def time_past_oxygen(time_days: Number, oxic_days: float) -> Number:
    """Time of the water in the soil that is left once its oxygen is gone.

    Parameters
    ----------
    time_days : float or array
        Time in the pores. [days]
    oxic_days : float
        Time until oxygen is low enough. [days]

    Returns
    -------
    float or array
        What is left; 0 where the water leaves before. [days]

    Raises
    ------
    OutOfDomain
        If a time is negative.

    Notes
    -----
    t = max(0, t - t_oxic)    (srb-tracer)

    References
    ----------
    srb-tracer, abstract
    """
    require_not_negative("time_days", time_days, "days", "Give the time in the pores")
    require_not_negative("oxic_days", oxic_days, "days", "Use 0 for water without oxygen")
    left: Number = np.maximum(time_days - oxic_days, 0.0)[()]
    return left
