# SPDX-License-Identifier: Apache-2.0
"""What removes most here: width, length and crest of a buffer, and how flat that best is.

A wide buffer holds its water long and takes little of it; a narrow one takes much and holds it
short. The best lies between, and where flow varies it is flat: much else may decide. Flow comes as
a series of days; each is taken as steady, without storage.
"""

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import refuse, require_positive
from tilewater.hydraulics.groundwater import (
    TRAVEL_TIME_FACTOR,
    buffer_flow_dupuit,
    buffer_travel_time_mceachran,
)
from tilewater.nitrate.kinetics import outlet_nitrate_first_order, outlet_nitrate_zero_order
from tilewater.nitrate.oxygen import time_past_oxygen

Values = NDArray[np.float64]
Choice = Literal["width", "length", "head_line"]

DAY = 86400.0
FLAT = 0.9
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
    nitrate_mg_per_l : float
        Of the drain water, as N. [mg/L]
    rate_per_day : float
        First-order rate; 0 to use the rate by volume. [1/day]
    rate_g_per_m3_day : float
        Zero-order rate per volume of soil. [g/m3/day]
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
    nitrate_mg_per_l: float = 10.0
    rate_per_day: float = 0.0
    rate_g_per_m3_day: float = 0.0
    oxic_days: float = 0.0
    factor: float = TRAVEL_TIME_FACTOR


@dataclass(frozen=True)
class RemovalCurve:
    """Removal over one choice.

    Attributes
    ----------
    choice : str
        "width", "length" or "head_line".
    values : array
        What was tried. [m]
    treated_share, removal_of_treated, removed_share : array
        Of the water, of the nitrate in it, and of all nitrate.
    best : float
        Value with the largest removal. [m]
    flat_low, flat_high : float
        Values between which at least nine tenths of the best are removed. [m]
    """

    choice: str
    values: Values
    treated_share: Values
    removal_of_treated: Values
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


def capacity_of_site(site: BufferSite) -> float:
    """Flow that a buffer takes at its heads, losses at the line left out.

    Parameters
    ----------
    site : BufferSite
        The buffer. [-]

    Returns
    -------
    float
        Flow; 0 where the ditch stands as high as the line. [m3/s]

    Notes
    -----
    Q = L K (h1^2 - h2^2) / (2 W)    (dupuit1863)

    References
    ----------
    dupuit1863, level flow under a falling surface
    """
    flow = buffer_flow_dupuit(
        site.head_line,
        site.head_stream,
        width=site.width,
        length=site.length,
        conductivity=site.conductivity,
    )
    return max(0.0, float(flow))


def removal_of_treated(site: BufferSite) -> float:
    """Share of the nitrate that enters a buffer which is removed, at its capacity.

    Parameters
    ----------
    site : BufferSite
        The buffer. [-]

    Returns
    -------
    float
        Share; 0 where no water enters. [-]

    Raises
    ------
    OutOfDomain
        If the buffer has no rate, or two.

    Notes
    -----
    1 - C / C0 after t = f n W^2 / (K dh) less the time that oxygen takes    (mceachran2023)

    At lower flow the water table is lower and the time longer, so that this is on the safe side.

    References
    ----------
    mceachran2023, abstract
    srb-tracer, oxygen first
    levenspiel1999, laws of order one and zero
    """
    if (site.rate_per_day > 0) == (site.rate_g_per_m3_day > 0):
        raise refuse(
            "rate_per_day", site.rate_per_day, "1/day", "One of two laws is used", "Give one rate"
        )
    if capacity_of_site(site) <= 0.0 or site.nitrate_mg_per_l <= 0.0:
        return 0.0
    seconds = buffer_travel_time_mceachran(
        site.head_line,
        site.head_stream,
        width=site.width,
        conductivity=site.conductivity,
        porosity=site.porosity,
        factor=site.factor,
    )
    days = time_past_oxygen(float(seconds) / DAY, site.oxic_days)
    enters = site.nitrate_mg_per_l
    if site.rate_per_day > 0:
        left = outlet_nitrate_first_order(enters, days, rate_per_day=site.rate_per_day)
    else:
        rate = site.rate_g_per_m3_day / site.porosity
        left = outlet_nitrate_zero_order(enters, days, rate_mg_per_l_day=rate)
    return float(1.0 - left / enters)


def removal_curve(
    site: BufferSite, choice: Choice, tried: Values, *, daily_flow: Values
) -> RemovalCurve:
    """Removal over widths, lengths or heads at the line, and how flat its best is.

    Parameters
    ----------
    site : BufferSite
        The buffer; what is chosen is put in its place. [-]
    choice : "width", "length" or "head_line"
        What is varied. [-]
    tried : array
        What is tried, rising. [m]
    daily_flow : array
        Drain flow of each day at the diversion. [m3/s]

    Returns
    -------
    RemovalCurve

    Raises
    ------
    OutOfDomain
        If nothing is tried or no water comes.

    Notes
    -----
    share = sum(min(Q, Q_cap)) / sum(Q), removed = share (1 - C/C0)    (derived)

    References
    ----------
    derived, each day steady
    """
    if tried.size == 0:
        raise refuse("number of values", 0.0, "", "At least one is tried", "Give a range")
    water = np.maximum(daily_flow, 0.0)
    require_positive("sum of daily_flow", float(water.sum()), "m3/s", "Give days with flow")
    treated, removal = np.zeros(tried.size), np.zeros(tried.size)
    for place, value in enumerate(tried):
        there = replace(site, **{choice: float(value)})
        treated[place] = np.minimum(water, capacity_of_site(there)).sum() / water.sum()
        removal[place] = removal_of_treated(there)
    removed = treated * removal
    best = int(np.argmax(removed))
    flat = np.flatnonzero(removed >= FLAT * removed[best])
    return RemovalCurve(
        choice,
        tried,
        treated,
        removal,
        removed,
        float(tried[best]),
        float(tried[flat[0]]),
        float(tried[flat[-1]]),
    )
