# SPDX-License-Identifier: Apache-2.0
"""Nitrate loads from flow and concentration, and what follows from them.

A percent is always a ratio of loads. An average of percents is no removal: intervals of low flow
with a high percent would count as much as the storms that carry the nitrate, so none is offered
here except to show by how much it misleads.
"""

import numpy as np

from tilewater.basis.domain import require_not_negative, require_positive
from tilewater.monitoring.series import Floats, Truths

GRAMS = 1000.0
ADVICE = "Check flows and concentrations"


def load_of(flow: Floats, nitrate_mg_per_l: Floats, step_s: Floats, counted: Truths) -> float:
    """Nitrate load of a flow.

    Parameters
    ----------
    flow : array
        At each step. [m3/s]
    nitrate_mg_per_l : array
        As N. [mg/L]
    step_s : array
        Length of each step. [s]
    counted : array
        Steps that count. [-]

    Returns
    -------
    float
        Load of nitrogen. [kg]

    Notes
    -----
    L = sum(C Q dt)    (derived)

    References
    ----------
    derived, mass is concentration times volume
    """
    return float(np.sum((flow * nitrate_mg_per_l * step_s)[counted])) / GRAMS


def load_difference(load_in_kg: float, load_out_kg: float) -> float:
    """Load that is taken out between two places.

    Parameters
    ----------
    load_in_kg : float
        Into the practice. [kg]
    load_out_kg : float
        Out of it. [kg]

    Returns
    -------
    float
        Negative where more came out than went in. [kg]

    Notes
    -----
    R = L_in - L_out    (derived)

    References
    ----------
    derived, a difference
    """
    return load_in_kg - load_out_kg


def site_percent_of(removed_kg: float, bed_in_kg: float, bypass_kg: float) -> float:
    """Share of the whole load of the site that was removed, bypass counted.

    Parameters
    ----------
    removed_kg : float
        Taken out in the practice. [kg]
    bed_in_kg : float
        Load that went into it. [kg]
    bypass_kg : float
        Load that went past it. [kg]

    Returns
    -------
    float
        Percent. [%]

    Raises
    ------
    OutOfDomain
        If no load came.

    Notes
    -----
    100 R / (L_in + L_bypass)    (derived)

    References
    ----------
    derived, a ratio of loads
    """
    whole = bed_in_kg + bypass_kg
    require_positive("load of the site", whole, "kg", ADVICE)
    return 100.0 * removed_kg / whole


def bed_percent_of(removed_kg: float, bed_in_kg: float) -> float:
    """Share of the load into the practice that was removed.

    Parameters
    ----------
    removed_kg : float
        Taken out in the practice. [kg]
    bed_in_kg : float
        Load that went into it. [kg]

    Returns
    -------
    float
        Percent. [%]

    Raises
    ------
    OutOfDomain
        If no load went in.

    Notes
    -----
    100 R / L_in    (derived)

    References
    ----------
    derived, a ratio of loads
    """
    require_positive("load into the practice", bed_in_kg, "kg", ADVICE)
    return 100.0 * removed_kg / bed_in_kg


def treated_share_of(treated_m3: float, bypass_m3: float) -> float:
    """Share of the water that went through the practice.

    Parameters
    ----------
    treated_m3 : float
        Through it. [m3]
    bypass_m3 : float
        Past it. [m3]

    Returns
    -------
    float
        Share of the volume. [-]

    Raises
    ------
    OutOfDomain
        If no water came.

    Notes
    -----
    V_treated / (V_treated + V_bypass)    (derived)

    References
    ----------
    derived, a ratio of volumes
    """
    require_not_negative("bypass volume", bypass_m3, "m3", ADVICE)
    whole = treated_m3 + bypass_m3
    require_positive("volume of water", whole, "m3", ADVICE)
    return treated_m3 / whole


def flow_weighted_mean_of(load_kg: float, volume_m3: float) -> float:
    """Flow-weighted mean concentration.

    Parameters
    ----------
    load_kg : float
        Load of nitrogen. [kg]
    volume_m3 : float
        Of the water that carried it. [m3]

    Returns
    -------
    float
        As N. [mg/L]

    Raises
    ------
    OutOfDomain
        If no water came.

    Notes
    -----
    C = L / V    (derived)

    References
    ----------
    derived, a ratio
    """
    require_positive("volume of water", volume_m3, "m3", ADVICE)
    return GRAMS * load_kg / volume_m3
