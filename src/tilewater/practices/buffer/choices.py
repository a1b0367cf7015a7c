# SPDX-License-Identifier: Apache-2.0
"""What removes most here: width, length and crest of a buffer, and how flat that best is.

A wide buffer holds its water long and takes little of it; a narrow one takes much and holds it
short. The best lies between, and where flow varies it is flat: much else may decide. Here are the
closed best widths, where flow always exceeds what the buffer takes, and the record of a curve; the
curves over the days of a record are in `choices_by_days`.
"""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse, require_positive
from tilewater.hydraulics.groundwater import (
    TRAVEL_TIME_FACTOR,
)

Values = NDArray[np.float64]
Choice = Literal["width", "length", "crest"]

DAY = 86400.0
FLAT = 0.95
"""Share of the best removal down to which a choice counts as good as the best."""
BEST_S = 1.2564312086261697
"""Root of exp(s) = 1 + 2 s other than 0."""


@dataclass(frozen=True)
class BufferSite:
    """A buffer with what its soil does.

    Attributes
    ----------
    length, width : float
        Line that feeds, and distance to the ditch. [m]
    head_line, head_stream : float
        Above the restrictive layer. [m]
    conductivity : float
        Lateral. [m/s]
    porosity : float
        Effective. [-]
    rate_per_day : float
        First-order rate. [1/day]
    oxic_days : float
        Until oxygen is low enough. [days]
    factor : float
        Travel time over that of the mean velocity. [-]
    """

    length: float
    width: float
    head_line: float
    head_stream: float
    conductivity: float
    porosity: float
    rate_per_day: float = 0.0
    oxic_days: float = 0.0
    factor: float = TRAVEL_TIME_FACTOR


@dataclass(frozen=True)
class RemovalCurve:
    """Removal over one choice.

    Attributes
    ----------
    choice : str
        "width", "length" or "crest".
    values : array
        What was tried. [m]
    treated_share, removed_share : array
        Of the water that enters, and of all nitrate that is removed.
    best : float
        Value with the largest removal. [m]
    flat_low, flat_high : float
        Values between which no more than a twentieth of the best is lost. [m]
    """

    choice: str
    values: Values
    treated_share: Values
    removed_share: Values
    best: float
    flat_low: float
    flat_high: float


def best_width_first_order(
    *,
    head_fall: float,
    conductivity: float,
    porosity: float,
    rate_per_day: float,
    factor: float = TRAVEL_TIME_FACTOR,
) -> float:
    """Width that removes most where flow always exceeds what the buffer takes, first order.

    Parameters
    ----------
    head_fall : float
        Head at the line less that of the ditch. [m]
    conductivity : float
        Lateral. [m/s]
    porosity : float
        Effective. [-]
    rate_per_day : float
        First-order rate. [1/day]
    factor : float
        Travel time over that of the mean velocity. [-]

    Returns
    -------
    float
        Width. [m]

    Raises
    ------
    OutOfDomain
        If a value is not above zero.

    Notes
    -----
    W = 1.1209 sqrt(K dh / (n k f)), from exp(s) = 1 + 2 s, s = (W / W0)^2    (derived)

    It depends on soil, rate and heads as the published best width does (mceachran2020, abstract);
    71.5 percent of what enters is then removed, whatever the soil. Where flow varies the best lies
    wider.

    References
    ----------
    derived, most of (1/W)(1 - exp(-W^2/W0^2))
    mceachran2020, abstract
    """
    for name, value in (
        ("head_fall", head_fall),
        ("conductivity", conductivity),
        ("porosity", porosity),
        ("rate_per_day", rate_per_day),
        ("factor", factor),
    ):
        require_positive(name, value, "", "Check the buffer")
    scale = conductivity * DAY * head_fall / (porosity * rate_per_day * factor)
    return math.sqrt(BEST_S * scale)


def best_width_zero_order(
    *, head_fall: float, conductivity: float, nitrate_mg_per_l: float, rate_g_per_m3_day: float
) -> float:
    """Width at which nitrate just runs out, which removes most where the rate is zero order.

    Parameters
    ----------
    head_fall : float
        Head at the line less that of the ditch. [m]
    conductivity : float
        Lateral. [m/s]
    nitrate_mg_per_l : float
        Of the drain water. [mg/L]
    rate_g_per_m3_day : float
        Removal per volume of soil. [g/m3/day]

    Returns
    -------
    float
        Width. [m]

    Raises
    ------
    OutOfDomain
        If a value is not above zero.

    Notes
    -----
    W = sqrt(C K dh / r)    (derived)

    A narrower buffer is limited by its rate, a wider one by what comes in.

    References
    ----------
    derived, removal of the soil equal to the load that enters
    """
    for name, value in (
        ("head_fall", head_fall),
        ("conductivity", conductivity),
        ("nitrate_mg_per_l", nitrate_mg_per_l),
        ("rate_g_per_m3_day", rate_g_per_m3_day),
    ):
        require_positive(name, value, "", "Check the buffer")
    return math.sqrt(nitrate_mg_per_l * conductivity * DAY * head_fall / rate_g_per_m3_day)


def curve_of(
    choice: Choice, tried: Values, taken_share: Values, removed_share: Values
) -> RemovalCurve:
    """Where a choice removes most, and between which values it loses little.

    Parameters
    ----------
    choice : "width", "length" or "crest"
        What is varied. [-]
    tried : array
        What was tried, rising. [m]
    taken_share : array
        Share of the water that enters. [-]
    removed_share : array
        Share of all nitrate that is removed. [-]

    Returns
    -------
    RemovalCurve

    Raises
    ------
    OutOfDomain
        If nothing is tried.

    Notes
    -----
    flat where R >= 0.95 max(R), from the first such value to the last    (derived)

    References
    ----------
    derived, an order
    """
    if tried.size == 0:
        raise refuse("number of values", 0.0, "", "At least one is tried", "Give a range")
    best = int(np.argmax(removed_share))
    flat = np.flatnonzero(removed_share >= FLAT * removed_share[best])
    return RemovalCurve(
        choice,
        tried,
        taken_share,
        removed_share,
        float(tried[best]),
        float(tried[flat[0]]),
        float(tried[flat[-1]]),
    )
