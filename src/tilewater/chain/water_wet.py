# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: on which days the field is too wet, boards in and boards out.

Convention: the field is run once more as if all of it lay like the spot, with the depth of the
spot's lateral under its ground and the water that the boards hold over that lateral. A day is too
wet when the water table midway between laterals ends it with less clear soil than the limit that
the spot has for midway. Water that stands higher in the main while it flows is not in it; that is
the storm of the other limits.

How many days in a row are too many is common practice without a source. A limit that the job
states itself binds; the default is shown and does not, since a small main drowns its field anyway.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Trace
from tilewater.chain import water_field as field
from tilewater.chain import water_parts as parts
from tilewater.chain.field_crest import field_crest
from tilewater.chain.pumping import has_pump
from tilewater.hydrology.crops import Crop
from tilewater.hydrology.field import FieldRun
from tilewater.hydrology.field_parts import FieldDrains
from tilewater.practices.bed.settings import DESIGN

Truths = NDArray[np.bool_]

LIMIT = "inputs.limits.wet_days"
BOARDS = {"in": "boards in", "out": "boards out"}


def add_wet_days(trace: Trace) -> None:
    """Record days and runs of days that are too wet at every spot, boards in and boards out."""
    if field.RUN not in trace:
        return
    trace.constant(
        "water.boards_out_m", 0.0, "Water over the laterals, boards out", unit="m", source="derived"
    )
    first = field.FIRST_CROP_YEAR
    trace.compute(
        "water.crop_season",
        crop_season,
        unit="",
        title="Days between planting and the end of the crop's season",
        run=field.RUN,
        rotation="water.rotation",
        **({"first_year": first} if first in trace else {}),
    )
    for spot in trace.names("field"):
        _add_spot(trace, spot)


def _add_spot(trace: Trace, spot: str) -> None:
    here = f"water.spot.{spot}"
    drains = _add_drains(trace, spot)
    heights = {"in": _add_outlet(trace, spot), "out": "water.boards_out_m"}
    for state, words in BOARDS.items():
        key = f"{here}.boards_{state}.run"
        field.add_run(
            trace,
            key,
            heights[state],
            f"The field as {spot} lies, day by day, {words}",
            drains=drains,
            function=parts.spot_run,
        )
        trace.compute(
            f"{here}.boards_{state}.wet",
            days_too_wet,
            unit="",
            title=f"Days with less clear soil midway than the limit at {spot}, {words}",
            run=key,
            limit=f"field.{spot}.limits_m.midway",
        )
        _add_counts(trace, spot, state)
    _judge(trace, spot)


def _add_counts(trace: Trace, spot: str, state: str) -> None:
    here, words = f"water.spot.{spot}", f"at {spot}, {BOARDS[state]}"
    common = {"wet": f"{here}.boards_{state}.wet", "run": f"{here}.boards_{state}.run"}
    season = {"season": "water.crop_season"}
    for name, function, title, more in (
        ("days_per_year", days_a_year, "Days too wet in a mean year", {}),
        ("season_days_per_year", days_a_year, "Days too wet in the mean crop season", season),
        ("longest_run_days", longest_run, "Longest run of days too wet in a crop season", season),
        (
            "usual_run_days",
            usual_run,
            "Run of days too wet that half the crop seasons keep to",
            season,
        ),
    ):
        trace.compute(
            f"{here}.boards_{state}.{name}",
            function,
            unit="days",
            title=f"{title} {words}",
            **common,
            **more,
        )


def _add_drains(trace: Trace, spot: str) -> str:
    """Drains of the field, with the depth of the lateral at the spot where it has its own."""
    if f"inputs.spot.{spot}.drain_m" not in trace:
        return "water.drains"
    key = f"water.spot.{spot}.drains"
    trace.compute(
        key,
        drains_at_spot,
        unit="",
        title=f"Drains of the field, as deep as at {spot}",
        drains="water.drains",
        ground=f"inputs.spot.{spot}.ground_m",
        drain=f"inputs.spot.{spot}.drain_m",
    )
    return key


def _add_outlet(trace: Trace, spot: str) -> str:
    """Water that the boards hold over the lateral at the spot, day by day."""
    here = f"water.spot.{spot}"
    title = f"Water that the boards hold over the lateral at {spot}"
    if has_pump(trace):
        return "water.boards_out_m"
    for setting in (DESIGN, *trace.names("inputs.season")):
        trace.compute(
            f"{here}.setting.{setting}.outlet_height_m",
            height_over_drain,
            unit="m",
            title=f"{title}, {setting} setting",
            crest=field_crest(trace, setting),
            drain=f"field.{spot}.drain_m",
        )
    return field.add_outlet_by_day(trace, here, title)


def _judge(trace: Trace, spot: str) -> None:
    here = f"water.spot.{spot}"
    stated = trace.steps[LIMIT].origin
    binds = stated is not None and bool(stated.file)
    status = trace.require(
        Requirement(
            key=f"field.{spot}.wet_days",
            title=f"Days in a row too wet midway at {spot}, in half the crop seasons",
            value=f"{here}.boards_in.usual_run_days",
            operator="<=",
            limit=LIMIT,
            unit="days",
            scale=1.0,
            where=spot,
            binding=binds,
        )
    )
    if status == "short":
        within, without = (trace.value(f"{here}.boards_{state}.usual_run_days") for state in BOARDS)
        trace.findings.append(
            Finding(
                "wet-days",
                "caution",
                spot,
                f"In half the crop seasons {spot} is too wet midway for more than "
                f"{float(trace.value(LIMIT)):g} days in a row: up to {float(within):g} with the "
                f"boards in, {float(without):g} with them out.",
                value=float(within),
                operator="<=",
                limit=float(trace.value(LIMIT)),
                unit="days",
                source="practice",
            )
        )


def drains_at_spot(drains: FieldDrains, ground: float, drain: float) -> FieldDrains:
    """Drains of the field, as deep under the ground as at a spot.

    Parameters
    ----------
    drains : FieldDrains
        Drains of the field. [-]
    ground : float
        Ground at the spot. [m]
    drain : float
        Elevation of the lateral there. [m]

    Returns
    -------
    FieldDrains
        The same with another depth. [-]

    Raises
    ------
    OutOfDomain
        If the lateral does not lie under the ground.

    Notes
    -----
    depth = ground - drain    (derived)

    References
    ----------
    derived, a difference
    """
    return replace(drains, depth=ground - drain)


def height_over_drain(crest: float, drain: float) -> float:
    """Water that the boards hold over a lateral.

    Parameters
    ----------
    crest : float
        Elevation of the standing water at the structure. [m]
    drain : float
        Elevation of the lateral. [m]

    Returns
    -------
    float
        Height; 0 where the lateral lies above the crest. [m]

    Notes
    -----
    E = max(0, crest - drain)    (derived)

    References
    ----------
    derived, a level pool that ends at the drain
    """
    return max(0.0, crest - drain)


def crop_season(
    run: FieldRun, rotation: tuple[Crop, ...], first_year: float | None = None
) -> Truths:
    """Days between planting and the end of the crop's season.

    Parameters
    ----------
    run : FieldRun
        The field day by day. [-]
    rotation : tuple of Crop
        One crop a calendar year, in turn. [-]
    first_year : float or None
        A calendar year with the first crop; None for the first of the record. [years]

    Returns
    -------
    array of bool
        By day of the record. [-]

    Notes
    -----
    planted <= day < planted + sum(stages)    (practice)

    A season over the turn of the year counts in the year of its planting up to 31 December.

    References
    ----------
    practice, calendar of crops
    """
    dates, years = run.weather.dates, run.weather.years
    first = run.weather.first_day.year if first_year is None else int(first_year)
    season = np.zeros(dates.size, dtype=bool)
    for year in np.unique(years):
        crop = rotation[(int(year) - first) % len(rotation)]
        planted = np.datetime64(f"{year}-{crop.planted_month:02d}-{crop.planted_day:02d}")
        since = (dates - planted).astype(np.int64)
        season |= (years == year) & (since >= 0) & (since < crop.season_days)
    return season


def days_too_wet(run: FieldRun, limit: float) -> Truths:
    """Days that end with less clear soil midway between the laterals than a limit.

    Parameters
    ----------
    run : FieldRun
        The field as the spot lies, day by day. [-]
    limit : float
        Clear soil that is asked midway. [m]

    Returns
    -------
    array of bool
        By day of the record. [-]

    Notes
    -----
    ground - table midway < limit    (derived)

    References
    ----------
    derived, the water table of the daily model at the end of the day
    """
    wet: Truths = run.table_depth < limit
    return wet


def days_a_year(wet: Truths, run: FieldRun, season: Truths | None = None) -> float:
    """Days too wet in a mean year, or in its crop season.

    Parameters
    ----------
    wet : array of bool
        Days too wet. [-]
    run : FieldRun
        The field day by day. [-]
    season : array of bool or None
        Days of the crop season; None for the whole year. [-]

    Returns
    -------
    float
        Days. [days]

    Notes
    -----
    d = 365.25 x days / days of the record    (derived)

    References
    ----------
    derived, a count
    """
    counted = wet if season is None else wet & season
    return 365.25 * int(np.count_nonzero(counted)) / run.weather.days


def longest_run(wet: Truths, run: FieldRun, season: Truths) -> float:
    """Longest run of days too wet in a crop season of the record.

    Parameters
    ----------
    wet : array of bool
        Days too wet. [-]
    run : FieldRun
        The field day by day. [-]
    season : array of bool
        Days of the crop season. [-]

    Returns
    -------
    float
        Days in a row. [days]

    Notes
    -----
    max over years of the longest run within the season    (derived)

    References
    ----------
    derived, a count
    """
    return float(max(_runs_by_year(wet & season, run)))


def usual_run(wet: Truths, run: FieldRun, season: Truths) -> float:
    """Run of days too wet that half the crop seasons keep to.

    Parameters
    ----------
    wet : array of bool
        Days too wet. [-]
    run : FieldRun
        The field day by day. [-]
    season : array of bool
        Days of the crop season. [-]

    Returns
    -------
    float
        Days in a row; the longest run of at least half the years is no longer. [days]

    Notes
    -----
    least r with share of years with longest run <= r of at least 1/2    (derived)

    References
    ----------
    derived, order of the years
    """
    runs = sorted(_runs_by_year(wet & season, run))
    return float(runs[(len(runs) - 1) // 2])


def _runs_by_year(counted: Truths, run: FieldRun) -> list[int]:
    """Longest run of days within each calendar year."""
    years = run.weather.years
    found = []
    for year in np.unique(years):
        mine = np.concatenate(([0], counted[years == year].astype(np.int8), [0]))
        turns = np.flatnonzero(np.diff(mine))
        found.append(int((turns[1::2] - turns[::2]).max()) if turns.size else 0)
    return found
