# SPDX-License-Identifier: Apache-2.0
"""Chips and kinetics of a bed at the middle of every range, and drawn from the ranges.

The ranges are those of `nitrate.parameter_ranges`, moved to the values of the job. Zero order,
first order and tanks are the routing's choice; here nitrate is taken out in four tanks with a half
saturation, so that little is left to take out where little nitrate is.
"""

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from tilewater.nitrate.media_rate import rate_where_nitrate_abounds
from tilewater.nitrate.parameter_ranges import ParameterRange, default_ranges
from tilewater.practices.bed._route import shown_conductivity
from tilewater.practices.bed._split import Array, SplitTable
from tilewater.practices.bed.life import LONGEST
from tilewater.practices.bed.route import YEAR_DAYS, BedDraw, BedYears, bed_years
from tilewater.practices.bed.split import read_split

TANKS = 4
"""Tanks in series that a bed mixes like, judgement."""
STATED_AT_MG_PER_L = 10.0
"""Nitrate at which published rates hold, judgement. [mg/L]"""
REFERENCE_C = 15.0
"""Temperature at which the rates are stated. [degC]"""
AS_SHIPPED = (
    "flush",
    "flush-years",
    "rate-decline-per-year",
    "half-saturation",
    "nitrate-factor",
)
"""Parameters of which the job states nothing; their ranges are those of the program."""


def bed_ranges(
    conductivity_new: float,
    conductivity_aged: float,
    ward_coefficient: float,
    porosity: float,
    rate_low: float,
    rate_mid: float,
    rate_high: float,
    q10: float,
    drain_flow: ParameterRange,
) -> dict[str, ParameterRange]:
    """Ranges of chips and kinetics, moved to the values of the job.

    Parameters
    ----------
    conductivity_new, conductivity_aged : float
        Of the media at 20 degC, middle. [m/s]
    ward_coefficient : float
        Of the inertia, middle. [-]
    porosity : float
        Effective for solutes, middle. [-]
    rate_low, rate_mid, rate_high : float
        Removal per volume of media at 15 degC, as 10, 50 and 90 percent quantiles. [g/m3/day]
    q10 : float
        Factor of the rate per 10 degC, middle. [-]
    drain_flow : ParameterRange
        Factor on the drain flow of the days. [-]

    Returns
    -------
    dict of str to ParameterRange
        By name.

    Notes
    -----
    The aged conductivity keeps its ratio to the new one within the range of what is left after
    years in the ground.

    References
    ----------
    practice, ranges of `nitrate.parameter_ranges`
    """
    ranges = default_ranges()
    moved = {
        "conductivity-new": conductivity_new,
        "ward-coefficient": ward_coefficient,
        "porosity-effective": porosity,
        "q10": q10,
        "conductivity-left": conductivity_aged / conductivity_new,
    }
    wanted = {slug: ranges[slug].about_value(value) for slug, value in moved.items()}
    wanted |= {slug: ranges[slug] for slug in AS_SHIPPED}
    rate = ranges["removal-rate"]
    rates = replace(rate, low=rate_low, mid=rate_mid, high=rate_high)
    return wanted | {"removal-rate": rates, drain_flow.slug: drain_flow}


def middle_bed(
    ranges: Mapping[str, ParameterRange], gradient: float, aged_years: float, renewed_years: float
) -> BedYears:
    """Chips and kinetics at the middle of every range.

    Parameters
    ----------
    ranges : mapping of str to ParameterRange
        By name. [-]
    gradient : float
        Gradient at which the tables tell media apart. [m/m]
    aged_years : float
        Age to which the share of the conductivity that is left belongs. [years]
    renewed_years : float
        Years after which the chips are new again. [years]

    Returns
    -------
    BedYears

    Notes
    -----
    every parameter at the middle of its range    (practice)

    References
    ----------
    practice, ranges of `nitrate.parameter_ranges`
    """
    middle = {slug: each.mid for slug, each in ranges.items()}
    return _bed_of(middle, gradient, aged_years, renewed_years)


def draw_beds(
    drawn: Mapping[str, Array], gradient: float, aged_years: float, renewed_years: float
) -> tuple[BedYears, ...]:
    """Chips and kinetics of every draw.

    Parameters
    ----------
    drawn : mapping of str to array of shape (draws,)
        Values by name, each in the unit of its range. [-]
    gradient : float
        Gradient at which the tables tell media apart. [m/m]
    aged_years : float
        Age to which the share of the conductivity that is left belongs. [years]
    renewed_years : float
        Years after which the chips are new again. [years]

    Returns
    -------
    tuple of BedYears

    Notes
    -----
    K_aged = K_new left;  rate where nitrate abounds from that at 10 mg/L    (derived)

    References
    ----------
    derived, a record for each draw
    """
    count = next(iter(drawn.values())).size
    return tuple(
        _bed_of(
            {slug: float(values[i]) for slug, values in drawn.items()},
            gradient,
            aged_years,
            renewed_years,
        )
        for i in range(count)
    )


def _bed_of(
    value: Mapping[str, float], gradient: float, aged_years: float, renewed_years: float
) -> BedYears:
    draw = BedDraw(
        conductivity_new=value["conductivity-new"],
        conductivity_aged=value["conductivity-new"] * value["conductivity-left"],
        aged_years=aged_years,
        ward_coefficient=value["ward-coefficient"],
        porosity=value["porosity-effective"],
        rate_g_per_m3_day=_most_of(value["removal-rate"], value["half-saturation"]),
        q10=value["q10"],
        reference=REFERENCE_C,
        flush=value["flush"],
        flush_years=value["flush-years"],
        rate_decline_per_year=value["rate-decline-per-year"],
        half_saturation_mg_per_l=value["half-saturation"],
        tanks=TANKS,
        renewed_years=renewed_years,
        nitrate_factor=value["nitrate-factor"],
        flow_factor=value["drain-flow"],
    )
    return bed_years(draw, gradient=gradient)


def capacity_of_draws(
    beds: tuple[BedYears, ...], table: SplitTable, years: float, free: float
) -> Array:
    """Largest flow that goes through the bed whole at an age, by draw.

    Parameters
    ----------
    beds : tuple of BedYears
        The draws. [-]
    table : SplitTable
        How inflows divide; its first setting counts. [-]
    years : float
        Age of the chips. [years]
    free : float
        Water below a free outlet. [m]

    Returns
    -------
    array of shape (draws,)
        Flow, water of 20 degC. [m3/s]

    Notes
    -----
    Q_c of the table at K = K_0 f^days, ditch below the outlet    (derived)

    References
    ----------
    derived, the criterion line with drawn chips
    """
    return np.array([_at_age(bed, table, years, free)[0] for bed in beds])


def retention_of_draws(
    beds: tuple[BedYears, ...], table: SplitTable, years: float, free: float
) -> Array:
    """Time in the bed at the largest flow that goes through it whole, by draw.

    Parameters
    ----------
    beds : tuple of BedYears
        The draws. [-]
    table : SplitTable
        How inflows divide; its first setting counts. [-]
    years : float
        Age of the chips. [years]
    free : float
        Water below a free outlet. [m]

    Returns
    -------
    array of shape (draws,)
        Time in the effective pores. [h]

    Notes
    -----
    t = phi V / Q_c    (practice)

    References
    ----------
    practice, plug flow through the wetted pores
    """
    hours = []
    for bed in beds:
        flow, wet = _at_age(bed, table, years, free)
        hours.append(bed.porosity * wet / flow / 3600.0 if flow > 0 else 0.0)
    return np.array(hours)


def life_of_draws(
    beds: tuple[BedYears, ...], table: SplitTable, peak: float, share: float, free: float
) -> Array:
    """Age at which a bed no longer takes its share of the peak, by draw.

    Parameters
    ----------
    beds : tuple of BedYears
        The draws. [-]
    table : SplitTable
        How inflows divide; its first setting counts. [-]
    peak : float
        Peak that the share is counted against. [m3/s]
    share : float
        Share that the bed must take. [-]
    free : float
        Water below a free outlet. [m]

    Returns
    -------
    array of shape (draws,)
        Age; 0 where new media fall short, 60 where it is later or the chips do not age. [years]

    Notes
    -----
    K_0 f^days = K,  Q_c(K) = share Q_peak, water of 20 degC    (derived)

    References
    ----------
    derived, the clock of `permeability_years` with drawn chips, read from the table
    """
    knots = table.conductivity
    capacities = np.array([_free(table, row, free) for row in range(knots.size)])
    asked = share * peak
    if asked > capacities[-1]:
        return np.zeros(len(beds))
    if asked <= capacities[0]:
        return np.full(len(beds), LONGEST)
    shown = float(np.interp(asked, capacities, knots))
    return np.array([_age_of(bed, shown) for bed in beds])


def _age_of(bed: BedYears, shown: float) -> float:
    """Age at which the media show a conductivity at the gradient of the bed, 0 to 60. [years]"""
    b = bed.inertia_scale * shown * shown * bed.gradient
    root = (math.sqrt(b * b + 4.0 * shown) - b) / (2.0 * shown)
    left = 1.0 / (root * root * bed.conductivity_new)
    if left >= 1.0:
        return 0.0
    if bed.decline_per_day >= 1.0:
        return LONGEST
    return min(LONGEST, math.log(left) / math.log(bed.decline_per_day) / YEAR_DAYS)


def _at_age(bed: BedYears, table: SplitTable, years: float, free: float) -> tuple[float, float]:
    """Capacity and wet media of a draw at an age, in water of 20 degC."""
    conductivity = bed.conductivity_new * bed.decline_per_day ** (years * YEAR_DAYS)
    inertia = bed.inertia_scale / math.sqrt(conductivity)
    shown = shown_conductivity(conductivity, inertia, bed.gradient)
    knots = table.conductivity
    capacity = float(
        np.interp(shown, knots, [_free(table, row, free) for row in range(knots.size)])
    )
    there = read_split(table, capacity, conductivity=shown, stage=free)
    return capacity, there.wet_volume


def _free(table: SplitTable, row: int, free: float) -> float:
    return float(np.interp(free, table.stage[0], table.capacity[0, row]))


def _most_of(rate: float, half_saturation: float) -> float:
    """Rate where nitrate abounds, of one that is stated at 10 mg/L."""
    return float(
        rate_where_nitrate_abounds(
            float(rate),
            nitrate_mg_per_l=STATED_AT_MG_PER_L,
            half_saturation_mg_per_l=float(half_saturation),
        )
    )
