# SPDX-License-Identifier: Apache-2.0
"""What else a bed does on its days: nitrate used up, sulfide that can form, nitrous oxide.

Counted from the routed days at the middle of every range. These are counts of days on which
something can happen, and shares from few beds; none of them is a forecast of a concentration.
"""

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse
from tilewater.basis.tables import read_table

Array = NDArray[np.float64]
Truths = NDArray[np.bool_]

USED_UP = 0.5
"""Nitrate at the outlet below which it counts as used up, judgement. [mg/L]"""
YEAR_DAYS = 365.25
PLACES = ("low", "mid", "high")


def days_used_up(flow: Array, outlet_nitrate_mg_per_l: Array, least_mg_per_l: float) -> Truths:
    """Days on which nitrate is used up in the practice.

    Parameters
    ----------
    flow : array
        Through the practice, by the day. [m3/s]
    outlet_nitrate_mg_per_l : array
        Nitrate out of it, as N. [mg/L]
    least_mg_per_l : float
        Below it nitrate counts as used up. [mg/L]

    Returns
    -------
    array of bool
        Days with flow and less nitrate than that. [-]

    Notes
    -----
    Q > 0 and C_out < C_least    (practice)

    References
    ----------
    practice, 0.5 to 1 mg/L left keeps what follows nitrate from forming
    """
    return np.asarray((flow > 0.0) & (outlet_nitrate_mg_per_l < least_mg_per_l))


def days_of_sulfide(used_up: Truths, retention_days: Array, longest: float) -> Truths:
    """Days on which sulfide can form: nitrate used up and water held long.

    Parameters
    ----------
    used_up : array of bool
        Days on which nitrate is used up. [-]
    retention_days : array
        Time in the practice. [days]
    longest : float
        Time that was enough for sulfide. [s]

    Returns
    -------
    array of bool
        By the day. [-]

    Notes
    -----
    used up and t >= 1.7 days    (sulfide-woodchips)

    References
    ----------
    sulfide-woodchips, abstract
    """
    return np.asarray(used_up & (86400.0 * retention_days >= longest))


def days_in_a_year(days: Truths) -> float:
    """Days of a kind in a mean year.

    Parameters
    ----------
    days : array of bool
        By the day of the record. [-]

    Returns
    -------
    float
        In a year of 365.25 days. [days]

    Raises
    ------
    OutOfDomain
        If there are no days.

    Notes
    -----
    n = 365.25 n(true) / n    (derived)

    References
    ----------
    derived, a count
    """
    if not days.size:
        raise refuse("days", 0.0, "", "At least one", "Route the record")
    return float(YEAR_DAYS * days.mean())


def nitrous_oxide_share(retention_hours: Array, place: str) -> Array:
    """Share of the nitrate removed that leaves as nitrous oxide.

    Parameters
    ----------
    retention_hours : array
        Time in the bed. [h]
    place : str
        "low", "mid" or "high" of the published shares. [-]

    Returns
    -------
    array
        Nitrogen as nitrous oxide over nitrate nitrogen removed. [-]

    Raises
    ------
    OutOfDomain
        If the place is none of the three.

    Notes
    -----
    straight lines between 2.5 and 6 h, level outside    (brunton2024)

    References
    ----------
    davis2019, pilot beds
    brunton2024, full-size beds
    """
    if place not in PLACES:
        raise refuse("place", float("nan"), "", "low, mid or high", "Choose one")
    rows = read_table("tilewater.nitrate", "nitrous_oxide_shares").rows
    hours = [row.number("hours") for row in rows]
    return np.asarray(np.interp(retention_hours, hours, [row.number(place) for row in rows]))


def nitrous_oxide(removed_kg: Array, retention_days: Array, place: str) -> float:
    """Nitrogen that leaves as nitrous oxide in a mean year.

    Parameters
    ----------
    removed_kg : array
        Nitrate nitrogen removed, by the day. [kg]
    retention_days : array
        Time in the bed. [days]
    place : str
        "low", "mid" or "high" of the published shares. [-]

    Returns
    -------
    float
        Nitrogen as nitrous oxide. [kg]

    Notes
    -----
    N = 365.25 mean of (M s(t))    (brunton2024)

    References
    ----------
    davis2019, pilot beds
    brunton2024, full-size beds
    """
    share = nitrous_oxide_share(24.0 * retention_days, place)
    return float(YEAR_DAYS * np.mean(removed_kg * share))
