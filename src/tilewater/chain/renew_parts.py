# SPDX-License-Identifier: Apache-2.0
"""Pieces of a renewal that the lower floors do not know: dates, the bed at work, its options."""

import math
from collections.abc import Mapping
from datetime import date

import numpy as np

from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.basis.roots import bracketed_root
from tilewater.economics.estimate import cost_per_mass
from tilewater.economics.value import annual_cost
from tilewater.hydraulics.media import conductivity_at_temperature, forchheimer_inertia_ward
from tilewater.monitoring.conductivity_index import IndexDays, Trend
from tilewater.monitoring.renewal import (
    LONGEST_YEARS,
    Decline,
    Floats,
    decline_of_draws,
)
from tilewater.nitrate.parameter_ranges import ParameterRange, default_ranges
from tilewater.practices.bed._route import DaySeries
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.life import LifeTask
from tilewater.practices.bed.system import BedPath, diversion_level_for_bed, levels_along_bed

YEAR_DAYS, DAY_S = 365.25, 86400.0
LEAST, MOST = 1e-5, 2.0
"""Conductivities between which one is looked for. [m/s]"""
CLOSE = 1e-7
"""Of the logarithm of a conductivity."""
STEP_YEARS = 0.25
"""In which the years of a bed in two parts are walked. [years]"""


def years_between(first: str, second: str) -> float:
    """Years from one day to another.

    Parameters
    ----------
    first, second : str
        Days, year-month-day. [-]

    Returns
    -------
    float
        Below zero where the second comes first. [years]

    Notes
    -----
    t = days / 365.25    (derived)

    References
    ----------
    derived, calendar
    """
    return (date.fromisoformat(second) - date.fromisoformat(first)).days / YEAR_DAYS


def age_at(time_s: float, filled: str) -> float:
    """Age of the chips at a time.

    Parameters
    ----------
    time_s : float
        Since 1970-01-01 in universal time. [s]
    filled : str
        Day the chips were placed, year-month-day. [-]

    Returns
    -------
    float
        Age. [years]

    Notes
    -----
    t = days / 365.25    (derived)

    References
    ----------
    derived, calendar
    """
    return time_s / DAY_S / YEAR_DAYS - years_between("1970-01-01", filled)


def first_of_days(days: IndexDays) -> float:
    """When the first of the logged days was.

    Parameters
    ----------
    days : IndexDays
        Days that tell the index. [-]

    Returns
    -------
    float
        Since 1970-01-01 in universal time. [s]

    Notes
    -----
    t of the first day    (derived)

    References
    ----------
    derived, a part of a record
    """
    return float(days.time_s[0])


def last_of_days(days: IndexDays) -> float:
    """When the last of the logged days was.

    Parameters
    ----------
    days : IndexDays
        Days that tell the index. [-]

    Returns
    -------
    float
        Since 1970-01-01 in universal time. [s]

    Notes
    -----
    t of the last day    (derived)

    References
    ----------
    derived, a part of a record
    """
    return float(days.time_s[-1])


def trend_at_first(trend: Trend) -> float:
    """Conductivity that loggers show at the beginning of their record.

    Parameters
    ----------
    trend : Trend
        Of flow per wet section and gradient. [-]

    Returns
    -------
    float
        At 20 degC; less than the true one by what inertia takes, a tenth or so. [m/s]

    Notes
    -----
    K = I_first    (sen1968)

    References
    ----------
    sen1968, line through the median of slopes
    """
    return trend.first


def trend_at_last(trend: Trend) -> float:
    """Conductivity that loggers show at the end of their record.

    Parameters
    ----------
    trend : Trend
        Of flow per wet section and gradient. [-]

    Returns
    -------
    float
        At 20 degC; less than the true one by what inertia takes, a tenth or so. [m/s]

    Notes
    -----
    K = I_first exp(b t)    (sen1968)

    References
    ----------
    sen1968, line through the median of slopes
    """
    return trend.first * math.exp(trend.per_year * trend.years)


def conductivity_needed(task: LifeTask, peak: float, share: float) -> float:
    """Conductivity below which a bed no longer takes its share of the peak.

    Parameters
    ----------
    task : LifeTask
        Bed and media. [-]
    peak : float
        Peak that the share is counted against. [m3/s]
    share : float
        Share that the bed must take. [-]

    Returns
    -------
    float
        At 20 degC. [m/s]

    Raises
    ------
    NoSolution
        If no media of this size take it.

    Notes
    -----
    z(K, f Q_peak) = z_crest, the whole way from diversion to ditch    (derived)

    References
    ----------
    derived, the criterion line solved for the conductivity
    """

    def surplus(log_k: float) -> float:
        media = media_like(math.exp(log_k), task.ward_coefficient)
        asked = diversion_level_for_bed(share * peak, task.tailwater, task.path, task.shape, media)
        return task.level - asked

    if surplus(math.log(MOST)) <= 0.0:
        raise NoSolution(
            f"No media let {share:.0%} of the peak through this bed: pipes and boards take all "
            "the head. See the capacity of the design."
        )
    if surplus(math.log(LEAST)) >= 0.0:
        return LEAST
    return math.exp(bracketed_root(surplus, math.log(LEAST), math.log(MOST), (), CLOSE))


def media_like(conductivity: float, ward_coefficient: float) -> Media:
    """Media of a conductivity, in water of 20 degC.

    Parameters
    ----------
    conductivity : float
        At 20 degC. [m/s]
    ward_coefficient : float
        Of the inertia. [-]

    Returns
    -------
    Media

    References
    ----------
    ward1964, inertia from the conductivity
    """
    inertia = forchheimer_inertia_ward(conductivity, ward_coefficient=ward_coefficient)
    return Media(conductivity, float(inertia))


def conductivity_observed(
    flow: float, head_loss: float, temperature: float, task: LifeTask, path: BedPath
) -> float:
    """Conductivity that a head loss and a flow show.

    Parameters
    ----------
    flow : float
        Through the bed. [m3/s]
    head_loss : float
        Inlet structure above outlet structure, as read. [m]
    temperature : float
        Of the water. [degC]
    task : LifeTask
        Bed and media. [-]
    path : BedPath
        Pipes, headers and the boards that stood. [-]

    Returns
    -------
    float
        Of the whole bed, brought to 20 degC. [m/s]

    Raises
    ------
    NoSolution
        If pipes and headers alone take more head, or hardly any is left for the media.

    Notes
    -----
    z_diversion(K, Q) - z_outlet_box(Q) = head loss; K at 20 degC by the viscosity    (derived)

    References
    ----------
    derived, levels along the bed solved for the conductivity
    """

    def surplus(log_k: float) -> float:
        at_20 = media_like(math.exp(log_k), task.ward_coefficient)
        cold = float(conductivity_at_temperature(at_20.conductivity, temperature))
        levels = levels_along_bed(
            flow, task.tailwater, path, task.shape, Media(cold, at_20.inertia)
        )
        return levels.diversion - levels.outlet_box - head_loss

    if surplus(math.log(MOST)) >= 0.0 or surplus(math.log(LEAST)) <= 0.0:
        raise NoSolution(
            f"A head loss of {head_loss:.3g} m at {1e3 * flow:.3g} L/s fits no media: pipes and "
            "headers alone take more, or nothing could pass. Read staffs and flow again."
        )
    return math.exp(bracketed_root(surplus, math.log(LEAST), math.log(MOST), (), CLOSE))


def renewal_ranges(conductivity_new: float, conductivity_aged: float) -> dict[str, ParameterRange]:
    """Ranges of the conductivity and of what is left of it, about what the job states.

    Parameters
    ----------
    conductivity_new, conductivity_aged : float
        At 20 degC. [m/s]

    Returns
    -------
    dict of str to ParameterRange
        By name.

    References
    ----------
    practice, ranges of `nitrate.parameter_ranges`
    """
    ranges = default_ranges()
    left = conductivity_aged / conductivity_new
    return {
        "conductivity-new": ranges["conductivity-new"].about_value(conductivity_new),
        "conductivity-left": ranges["conductivity-left"].about_value(left),
    }


def decline_drawn(drawn: Mapping[str, Floats], aged_years: float) -> Decline:
    """How the conductivity of every draw declines.

    Parameters
    ----------
    drawn : mapping of str to array
        Values by name. [-]
    aged_years : float
        Age to which what is left belongs. [years]

    Returns
    -------
    Decline

    References
    ----------
    derived, an even decline between two conductivities
    """
    new = drawn["conductivity-new"]
    return decline_of_draws(new, new * drawn["conductivity-left"], aged_years)


def numbers_of(**values: float) -> tuple[float, ...]:
    """Several numbers as a list."""
    return tuple(values.values())


def conductivity_by_draws(decline: Decline, age: float) -> float:
    """Middle conductivity of the draws at an age.

    Parameters
    ----------
    decline : Decline
        The draws. [-]
    age : float
        Of the chips. [years]

    Returns
    -------
    float
        At 20 degC. [m/s]

    Notes
    -----
    median of K0 exp(-r t)    (derived)

    References
    ----------
    derived, order statistics
    """
    return float(np.median(decline.at(age)))


def start_of_renewal(ages: Floats, age_now: float) -> Floats:
    """Age at which chips are due: when they fall short, or today where that has passed.

    Parameters
    ----------
    ages : array
        Age at which each draw falls short. [years]
    age_now : float
        On the day that is asked for. [years]

    Returns
    -------
    array
        Age. [years]

    Notes
    -----
    t = max(t_end, t_now)    (derived)

    References
    ----------
    derived, no earlier than today
    """
    return np.maximum(ages, age_now)


def years_of_part(seen: Decline, start: Floats, needed: float, new_share: float) -> Floats:
    """Years until a bed falls short again of whose length a share got new chips.

    Parameters
    ----------
    seen : Decline
        Of the chips; new ones are taken to be like them. [-]
    start : array
        Age of the chips that stay when the new ones come, by draw. [years]
    needed : float
        Conductivity that the criterion asks for. [m/s]
    new_share : float
        Share of the flow length that is new. [-]

    Returns
    -------
    array
        By draw, at most 60. [years]

    Notes
    -----
    1 / K(t) = s / K(t) of new + (1 - s) / K(start + t), walked by quarter years    (bear1972)

    References
    ----------
    bear1972, layers across the flow
    """
    years = np.full(start.size, LONGEST_YEARS)
    holds = np.ones(start.size, bool)
    stays = np.exp(seen.log_new - seen.per_year * start)
    for ahead in np.arange(0.0, LONGEST_YEARS, STEP_YEARS):
        faded = np.exp(-seen.per_year * ahead)
        new, old = np.exp(seen.log_new) * faded, stays * faded
        falls = holds & (1.0 / (new_share / new + (1.0 - new_share) / old) < needed)
        years[falls] = ahead
        holds &= ~falls
    return years


def years_used(ages: Floats, age_now: float, share: float) -> float:
    """Years that new chips add where they come today, while the old ones still serve.

    Parameters
    ----------
    ages : array
        Age at which each draw falls short, of old chips and of new. [years]
    age_now : float
        Of the old chips. [years]
    share : float
        Share of the draws that get so many or fewer. [-]

    Returns
    -------
    float
        Years. [years]

    Notes
    -----
    t_now + t_end - max(t_now, t_end) = min(t_now, t_end)    (derived)

    References
    ----------
    derived, what the old chips would still have served is not added
    """
    return float(np.quantile(np.minimum(ages, age_now), share))


def middle_of(first: float, second: float) -> float:
    """Age half way through some years.

    Parameters
    ----------
    first : float
        Age at their beginning. [years]
    second : float
        How many there are. [years]

    Returns
    -------
    float
        Age. [years]

    Notes
    -----
    t = t_0 + n / 2    (derived)

    References
    ----------
    derived, a mean
    """
    return first + 0.5 * second


def share_of_water(inflow: Floats, capacity: float) -> float:
    """Share of the water of many days that a capacity takes.

    Parameters
    ----------
    inflow : array
        Mean flow of each day. [m3/s]
    capacity : float
        Flow that goes through whole. [m3/s]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    share = sum min(Q, Qc) / sum Q    (derived)

    References
    ----------
    derived, steady days
    """
    total = float(np.nansum(inflow))
    if total <= 0.0:
        raise OutOfDomain("No water comes on any day. A share needs some. See the drain flow.")
    return float(np.nansum(np.minimum(inflow, capacity))) / total


def share_of_series(series: DaySeries, capacity: float) -> float:
    """Share of the water of every day that a capacity takes; see `share_of_water`.

    Parameters
    ----------
    series : DaySeries
        What the days bring. [-]
    capacity : float
        Flow that goes through whole. [m3/s]

    Returns
    -------
    float
        Share. [-]

    Notes
    -----
    share = sum min(Q, Qc) / sum Q    (derived)

    References
    ----------
    derived, steady days
    """
    return share_of_water(np.asarray(series.inflow, np.float64), capacity)


def mean_removed(removed: float, share_then: float, share_now: float) -> float:
    """Nitrogen removed in a year once less of the water is treated.

    Parameters
    ----------
    removed : float
        Now, in a year. [kg]
    share_then, share_now : float
        Share of the water that goes through the bed. [-]

    Returns
    -------
    float
        In a year. [kg]

    Notes
    -----
    N' = N s' / s; that the rest stays longer is not counted    (derived)

    References
    ----------
    derived, as the treated water
    """
    return removed * share_then / share_now


def mass_over_years(per_year: float, years: float) -> float:
    """Nitrogen removed over some years.

    Parameters
    ----------
    per_year : float
        In a year. [kg]
    years : float
        Years. [years]

    Returns
    -------
    float
        Altogether. [kg]

    Notes
    -----
    N = n t    (derived)

    References
    ----------
    derived, a product
    """
    return per_year * years


def cost_of_mass(cost: float, rate: float, years: float, per_year: float) -> float:
    """Cost of a kilogram over the years that it buys.

    Parameters
    ----------
    cost : float
        Now. [USD]
    rate : float
        Discount rate a year. [-]
    years : float
        Years bought. [years]
    per_year : float
        Nitrogen removed in a year. [kg]

    Returns
    -------
    float
        Cost of a kilogram. [USD/kg]

    Raises
    ------
    OutOfDomain
        If no years are bought or nothing is removed.

    Notes
    -----
    c = P (A/P) / n    (fraser2005)

    References
    ----------
    fraser2005, appendix A
    """
    return cost_per_mass(float(annual_cost(cost, rate=rate, years=years)), per_year)


def ratio_of(value: float, first: float) -> float:
    """One value over an earlier one.

    Parameters
    ----------
    value, first : float
        In one unit. [-]

    Returns
    -------
    float
        Ratio. [-]

    Notes
    -----
    value / first    (derived)

    References
    ----------
    derived, a ratio
    """
    return value / first


def best_of_last(shares: tuple[float, ...], years: float) -> float:
    """Largest of the last shares of a list.

    Parameters
    ----------
    shares : tuple of float
        One for each year, in their order. [-]
    years : float
        How many count. [years]

    Returns
    -------
    float
        Largest; where it lies below a limit, all do. [-]

    Raises
    ------
    OutOfDomain
        If there are fewer.

    Notes
    -----
    max of the last n    (derived)

    References
    ----------
    derived, all below a limit if the largest is
    """
    count = int(years)
    if len(shares) < count:
        raise OutOfDomain(
            f"{len(shares)} years are given. The sign takes {count}. Give more, or wait a year."
        )
    return max(shares[-count:])


def count_of(**stand: bool) -> float:
    """How many signs stand.

    Parameters
    ----------
    stand : bool
        Whether each does. [-]

    Returns
    -------
    float
        Number. [-]

    Notes
    -----
    n = number of those that stand    (derived)

    References
    ----------
    derived, counting
    """
    return float(sum(stand.values()))
