# SPDX-License-Identifier: Apache-2.0
"""A field drawn from the ranges of its parameters, run with boards out and with boards in.

Both runs of a draw take the same field, so that their
difference is that of the boards alone.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tilewater.hydrology.crops import Crop
from tilewater.hydrology.daily_weather import DailyWeather, Series
from tilewater.hydrology.field import FieldRun, simulate_field
from tilewater.hydrology.field_parts import FieldCold, FieldDrains, FieldSoil
from tilewater.nitrate.parameter_ranges import (
    ParameterRange,
    Values,
    default_ranges,
    read_ranges,
)
from tilewater.practices.bed.year_sums import whole_years

PACKAGE, TABLE = "tilewater.practices", "practice_raised_ranges"
OUT, IN = range(2)
"""Boards out and boards in, in the sums by year."""
PARTS = ("drains", "runoff", "evapotranspiration", "deep_seepage", "side_seepage")
"""Where water leaves a field: by laterals and inlets, and by four other ways."""
YearSums = NDArray[np.float64]
"""Depths of shape (draws, years, 2, parts). [m]"""


class FieldDraw(NamedTuple):
    """One draw of what is uncertain in a field.

    Attributes
    ----------
    conductivity, drainable, deep_seepage, upward, storage, infiltration : float
        On the values of the soil. [-]
    gain : float
        By how much the nitrate of the water rises if all of it were kept back; it rises with the
        share that is. [-]
    nitrate_factor, flow_factor : float
        On nitrate and drain flow of the job; the same in every practice that is drawn alike. [-]
    """

    conductivity: float
    drainable: float
    deep_seepage: float
    upward: float
    storage: float
    infiltration: float
    gain: float
    nitrate_factor: float
    flow_factor: float


SLUGS = {
    "conductivity": "raised-conductivity",
    "drainable": "raised-drainable",
    "deep_seepage": "raised-deep-seepage",
    "upward": "raised-upward",
    "storage": "raised-storage",
    "infiltration": "raised-infiltration",
    "gain": "raised-concentration-gain",
    "nitrate_factor": "nitrate-factor",
    "flow_factor": "drain-flow",
}
"""Name of the range of each."""


def field_ranges(drain_flow: ParameterRange) -> dict[str, ParameterRange]:
    """Ranges of what is uncertain in a field.

    Parameters
    ----------
    drain_flow : ParameterRange
        Factor on the drain flow of the job. [-]

    Returns
    -------
    dict of str to ParameterRange
        By name.

    References
    ----------
    practice, ranges of `practice_raised_ranges`
    """
    ranges = read_ranges(PACKAGE, TABLE) | {"nitrate-factor": default_ranges()["nitrate-factor"]}
    ranges |= {drain_flow.slug: drain_flow}
    return {slug: ranges[slug] for slug in SLUGS.values()}


def draw_fields(drawn: Mapping[str, Values], taken: float) -> tuple[FieldDraw, ...]:
    """Draws of a field out of the values drawn from every range.

    Parameters
    ----------
    drawn : mapping of str to array
        Values by name; drawn as many as for other practices, the nitrate of draw 7 is theirs. [-]
    taken : float
        How many of them are taken, from the first on; each costs two runs of the field. [-]

    Returns
    -------
    tuple of FieldDraw

    References
    ----------
    derived, records of one draw each
    """
    count = min(int(taken), drawn["nitrate-factor"].size)
    return tuple(
        FieldDraw(**{name: float(drawn[slug][i]) for name, slug in SLUGS.items()})
        for i in range(count)
    )


def soil_of_draw(soil: FieldSoil, draw: FieldDraw) -> FieldSoil:
    """The soil of a field with the factors of a draw.

    Parameters
    ----------
    soil : FieldSoil
        Soil of the job. [-]
    draw : FieldDraw
        Factors. [-]

    Returns
    -------
    FieldSoil

    References
    ----------
    derived, products
    """
    return replace(
        soil,
        conductivity_above=soil.conductivity_above * draw.conductivity,
        conductivity_below=soil.conductivity_below * draw.conductivity,
        drainable_porosity=soil.drainable_porosity * draw.drainable,
        deep_seepage=soil.deep_seepage * draw.deep_seepage,
        upward_flux_at_one_metre=soil.upward_flux_at_one_metre * draw.upward,
        surface_storage=soil.surface_storage * draw.storage,
        infiltration=soil.infiltration * draw.infiltration,
    )


def run_pairs(
    weather: DailyWeather,
    soil: FieldSoil,
    drains: FieldDrains,
    cold: FieldCold,
    rotation: tuple[Crop, ...],
    outlet_height: float | Series,
    draws: Sequence[FieldDraw],
    first_year: float | None = None,
) -> YearSums:
    """Where the water of every draw and year goes, boards out and boards in.

    Parameters
    ----------
    weather : DailyWeather
        Days without gaps. [-]
    soil : FieldSoil
        Soil of the job. [-]
    drains : FieldDrains
        Drains of the job. [-]
    cold : FieldCold
        Snow and frost. [-]
    rotation : tuple of Crop
        One crop a calendar year, in turn. [-]
    outlet_height : float or array
        Water that the boards hold over the laterals, mean of all, as the seasons set them. [m]
    draws : sequence of FieldDraw
        Factors. [-]
    first_year : float or None
        A calendar year with the first crop; None for the first of the record. [years]

    Returns
    -------
    array of shape (draws, years, 2, 5)
        Depths by calendar year of the ways of `PARTS`. [m]

    Raises
    ------
    OutOfDomain
        If the ground would leak faster than it can empty.

    References
    ----------
    derived, two runs of the daily model of a field that differ by the boards alone
    """
    years = weather.years - int(weather.years[0])
    sums = np.zeros((len(draws), int(years[-1]) + 1, 2, len(PARTS)))
    for i, draw in enumerate(draws):
        for state, height in ((OUT, 0.0), (IN, outlet_height)):
            run = simulate_field(
                weather,
                soil=soil_of_draw(soil, draw),
                drains=drains,
                cold=cold,
                rotation=rotation,
                first_year=None if first_year is None else int(first_year),
                outlet_height=height,
            )
            for part, daily in enumerate(_ways(run)):
                sums[i, :, state, part] = np.bincount(years, weights=daily)
    return sums


def whole_years_of(weather: DailyWeather) -> NDArray[np.bool_]:
    """Which calendar years of a weather record are whole.

    Parameters
    ----------
    weather : DailyWeather
        Days without gaps. [-]

    Returns
    -------
    array of bool
        By calendar year, from that of the first day. [-]

    Raises
    ------
    OutOfDomain
        If no year is whole.

    References
    ----------
    practice, a year with a few days missing counts
    """
    return whole_years(weather.dates)


def _ways(run: FieldRun) -> tuple[Series, ...]:
    """Daily depths of `PARTS`."""
    return (
        run.drain_depth + run.inlet_depth,
        run.runoff,
        run.evapotranspiration,
        run.deep_seepage,
        run.side_seepage,
    )
