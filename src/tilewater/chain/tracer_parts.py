# SPDX-License-Identifier: Apache-2.0
"""Numbers of a tracer summary one by one, as the steps of a test name them."""

import numpy as np

from tilewater.basis.errors import UnknownName
from tilewater.monitoring.tracer import Floats, TracerSummary


def tracer_number(summary: TracerSummary, name: str) -> float:
    """One number of a tracer test.

    Parameters
    ----------
    summary : TracerSummary
        Of the test. [-]
    name : str
        Of the number. [-]

    Returns
    -------
    float
        The number, in its own unit. [-]

    Raises
    ------
    UnknownName
        If a summary has no such number.

    Notes
    -----
    tau = sum t C Q dt / sum C Q dt,  s2 = sum (t - tau)^2 C Q dt / sum C Q dt    (levenspiel1999)
    N = tau^2 / s2,  by the peak N = tau / (tau - tp)    (levenspiel1999)
    dispersion number = s2 / (2 tau^2)    (levenspiel1999)
    recovery = sum C Q dt / M,  nominal time tn = V / Q    (levenspiel1999)
    e = tau / tn,  dead share = 1 - e,  efficiency = e (1 - 1/N)    (persson1999)
    Morrill index = t90 / t10    (morrill1932)
    short-circuit index = t16 / t50,  baffle factor = t10 / tn    (wilson2010)

    References
    ----------
    levenspiel1999, moments of a pulse
    persson1999, hydraulic efficiency, from memory
    morrill1932, dispersion index, from memory
    wilson2010, baffle factor
    """
    if not hasattr(summary, name):
        raise UnknownName(f"A tracer test has no '{name}'. Use a number of its summary.")
    return float(getattr(summary, name))


def above_background(found: Floats, background_mg_per_l: float) -> Floats:
    """Tracer above the background of the outlet.

    Parameters
    ----------
    found : array
        As the laboratory reports it. [kg/m3]
    background_mg_per_l : float
        At the outlet before the test. [mg/L]

    Returns
    -------
    array
        What the test put there; below zero where a sample lies under the background. [kg/m3]

    Notes
    -----
    C = found - background    (levenspiel1999)

    References
    ----------
    levenspiel1999, a pulse over a steady background
    """
    return found - 1e-3 * background_mg_per_l


def mean_over_time(time: Floats, values: Floats) -> float:
    """Mean of readings over the time of a test.

    Parameters
    ----------
    time : array
        Of the readings. [s]
    values : array
        Flow at these times. [m3/s]

    Returns
    -------
    float
        Mean flow. [m3/s]

    Notes
    -----
    mean = sum Q dt / sum dt, by trapezoid    (derived)

    References
    ----------
    derived, trapezoid
    """
    return float(np.trapezoid(values, time) / (time[-1] - time[0]))


def pores_of(wet_volume: float, porosity: float) -> float:
    """Water in the wet media.

    Parameters
    ----------
    wet_volume : float
        Media under water. [m3]
    porosity : float
        Effective for solutes. [-]

    Returns
    -------
    float
        Water that takes part in the flow. [m3]

    Notes
    -----
    V_pores = phi V    (ghane2019)

    References
    ----------
    ghane2019, effective porosity
    """
    return porosity * wet_volume
