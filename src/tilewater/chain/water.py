# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the daily drain flow, measured or from the weather of the job, and its years.

Keys that others read: `water.basis` says "measured" or "simulated"; `water.day` holds days counted
from the year 1, `water.flow_m3_s` the mean flow of each at the diversion, boards in as the seasons
set them; `water.air_temperature_c` the mean air temperature of each, not known without weather. A
job with neither weather nor a record has none of these but the basis, which is not known. What was
simulated beside a measured record is under `water.simulated`.
"""

from collections.abc import Callable
from typing import Any

from tilewater.basis.trace import Given, Origin, Trace
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.chain import water_balance as balance
from tilewater.chain import water_series as series
from tilewater.chain import water_year as year
from tilewater.chain.areas import AREA_ABOVE
from tilewater.chain.water_field import RUN, WEATHER, add_field_run
from tilewater.hydrology import drain_flow, flow_record
from tilewater.hydrology.ditch_shares import flow_of_days
from tilewater.practices.rules import same

BASIS, DAYS, FLOW = "water.basis", "water.day", "water.flow_m3_s"
DEPTH = "water.depth_m_s"
SIMULATED = "water.simulated"
RECORD, RECORD_DAYS = "inputs.record.daily_depth_m_s", "inputs.record.day"
PARTS = {
    "precipitation": "Rain and snow of the gauge",
    "snow_added": "Snow that the gauge missed",
    "drain_flow": "From the laterals",
    "inlet_flow": "From surface inlets",
    "runoff": "Over the ground",
    "evapotranspiration": "Evapotranspiration",
    "deep_seepage": "To the deep ground",
    "side_seepage": "To a ditch beside the field",
    "storage_change": "Left in the field",
    "error": "Rounding",
}
"""Parts of the water balance, in words."""

CLASSES = {
    ("none", None, 0.0): "without flow",
    ("to-5", 0.0, 0.05): "up to 5 percent of the peak",
    ("to-15", 0.05, 0.15): "5 to 15 percent of the peak",
    ("to-30", 0.15, 0.30): "15 to 30 percent of the peak",
    ("to-60", 0.30, 0.60): "30 to 60 percent of the peak",
    ("to-100", 0.60, 1.0): "60 to 100 percent of the peak",
    ("above", 1.0, None): "above the peak",
}
"""Classes of flow, as shares of the peak that shares are counted against: name, ends, words.

The first has no lower end and the last no upper one.
"""

Row = tuple[str, Callable[..., Any], str, str, dict[str, str]]


def add_water(trace: Trace) -> None:
    """Record the field day by day, the daily flow at the diversion with its basis, its years."""
    if f"{WEATHER}.precipitation_m" in trace:
        add_field_run(trace)
        _add_simulated(trace)
    if not _add_series(trace):
        return
    _add_years(trace)
    _add_classes(trace)


def _add_rows(trace: Trace, here: str, lines: tuple[Row, ...]) -> None:
    for name, function, unit, title, inputs in lines:
        trace.compute(f"{here}.{name}", function, unit=unit, title=title, **inputs)


def _add_simulated(trace: Trace) -> None:
    """The simulated series, whatever was measured beside it."""
    run, weather = {"run": RUN}, {"weather": "water.weather"}
    depth = {"daily_depth": f"{SIMULATED}.depth_m_s"}
    _add_rows(
        trace,
        SIMULATED,
        (
            ("day", series.days_of_weather, "", "Days of the weather", weather),
            (
                "depth_m_s",
                series.depth_of_run,
                "m/s",
                "Simulated drain flow of each day over the drained area, boards in",
                run,
            ),
            (
                "flow_m3_s",
                series.flow_of_run,
                "m3/s",
                "Simulated flow of each day at the diversion, boards in",
                run | {"area": AREA_ABOVE},
            ),
            (
                "mean_annual_depth_m",
                flow_record.mean_annual_depth,
                "m",
                "Simulated drainage of a mean year",
                depth,
            ),
            (
                "flow_days_per_year",
                flow_record.flow_days_per_year,
                "days",
                "Simulated days with flow in a mean year",
                depth,
            ),
        ),
    )
    _add_of_run(trace, run)


def _add_of_run(trace: Trace, run: dict[str, str]) -> None:
    """What only a run of the field knows: how it was limited, what it holds, its balance."""
    _add_rows(
        trace,
        "water",
        (
            (
                "evapotranspiration_form",
                balance.evapotranspiration_name,
                "",
                "Form of the reference evapotranspiration",
                run,
            ),
            (
                "days_limited",
                balance.days_limited,
                "days",
                "Days of a mean year on which the main, or the pump, holds the drains back",
                run,
            ),
            (
                "available_water_m",
                balance.water_held_by_roots,
                "m",
                "Water that the soil holds for each crop of the rotation",
                {"soil": "water.soil", "drains": "water.drains", "rotation": "water.rotation"},
            ),
            (
                "drainable_water_m",
                balance.water_that_drains,
                "m",
                "Water that drains from a field wet to the ground",
                {"soil": "water.soil", "drains": "water.drains"},
            ),
            ("totals", balance.balance_of, "", "Water balance of the whole record", run),
        ),
    )
    for part, words in PARTS.items():
        name = trace.constant(f"water.part.{part}", part, f"Part: {words}", source="derived")
        trace.compute(
            f"water.balance.{part}_m",
            balance.balance_year,
            unit="m",
            title=f"{words}, mean year",
            balance="water.totals",
            part=name,
            **run,
        )


def _add_series(trace: Trace) -> bool:
    """Record the daily flow at the diversion, measured or simulated; whether there is one."""
    title = "Daily drain flow rests on"
    if RECORD in trace and RECORD_DAYS in trace:
        trace.constant(BASIS, "measured", title, source="derived")
        depth = {"value": RECORD}
        lines: tuple[Row, ...] = (
            ("day", series.days_of_record, "", "Days of the record", {"day": RECORD_DAYS}),
            ("depth_m_s", same, "m/s", "Measured drain flow of each day", depth),
            (
                "flow_m3_s",
                flow_of_days,
                "m3/s",
                "Measured flow of each day at the diversion",
                {"daily_depth": RECORD, "area": AREA_ABOVE},
            ),
        )
    elif RUN in trace:
        run = trace.value(RUN)
        known = run if is_unknown(run) else "simulated"
        trace.give(Given(BASIS, known, "", title, Origin(source="derived")))
        lines = tuple(
            (name, same, unit, words, {"value": f"{SIMULATED}.{name}"})
            for name, unit, words in (
                ("day", "", "Days of the weather"),
                ("depth_m_s", "m/s", "Drain flow of each day over the drained area, boards in"),
                ("flow_m3_s", "m3/s", "Flow of each day at the diversion, boards in"),
            )
        )
    else:
        why = "neither weather nor a record of daily drain flow is given"
        unknown = Unknown(why, "name a file under [weather], or record under [drainage]")
        trace.give(Given(BASIS, unknown, "", title))
        return False
    _add_rows(trace, "water", lines)
    key, title = "water.air_temperature_c", "Mean air temperature of each of these days"
    if "water.weather" in trace:
        trace.compute(
            key, series.air_on_days, unit="degC", title=title, day=DAYS, weather="water.weather"
        )
    else:
        unknown = Unknown("no weather is given", "name a file of daily weather under [weather]")
        trace.give(Given(key, unknown, "degC", title))
    return True


def _add_years(trace: Trace) -> None:
    """What the series says of a mean year, its months, its years and its days."""
    depth, flow = {"daily_depth": DEPTH}, {"flow": FLOW}
    both = {"day": DAYS, "depth": DEPTH}
    mean = flow_record.mean_annual_depth
    months = "water.month_depth_m"
    _add_rows(
        trace,
        "water",
        (
            ("mean_annual_depth_m", mean, "m", "Drainage of a mean year", depth),
            (
                "mean_annual_volume_m3",
                drain_flow.annual_volume,
                "m3",
                "Water of a mean year at the diversion",
                {"annual_depth": "water.mean_annual_depth_m", "area": AREA_ABOVE},
            ),
            (
                "flow_days_per_year",
                flow_record.flow_days_per_year,
                "days",
                "Days with flow in a mean year",
                depth,
            ),
            ("zero_flow_share", year.zero_flow_share, "-", "Share of days without flow", flow),
            (
                "one_day_in_hundred_m3_s",
                year.flow_of_one_day_in_hundred,
                "m3/s",
                "Flow that one day of a hundred passes",
                flow,
            ),
            ("month_depth_m", year.month_depths, "m", "Drainage by month, mean year", both),
            (
                "month_share",
                year.month_shares,
                "-",
                "Share of the year's drainage by month",
                {"month_depth": months},
            ),
            (
                "wettest_from",
                year.wettest_months,
                "-",
                "First of the three months in a row that bring most of the water",
                {"month_share": "water.month_share"},
            ),
            (
                "wettest_share",
                year.share_of_wettest_months,
                "-",
                "Share of the year's drainage in those three months",
                {"month_share": "water.month_share"},
            ),
        ),
    )
    _add_each_year(trace, both)


def _add_each_year(trace: Trace, both: dict[str, str]) -> None:
    """What the series says of each of its calendar years."""
    depths = "water.year_depth_m"
    _add_rows(
        trace,
        "water",
        (
            ("years", year.years_of, "years", "Calendar years of the series", {"day": DAYS}),
            ("year_depth_m", year.year_depths, "m", "Drainage of each of these years", both),
            (
                "median_year",
                year.median_year,
                "years",
                "Year whose drainage is the middle one",
                {"years": "water.years", "depth": depths},
            ),
        ),
    )


def _add_classes(trace: Trace) -> None:
    """Days of a mean year and share of the water by class of flow."""
    for (name, above, to), words in CLASSES.items():
        here = f"water.classes.{name}"
        ends = {
            end: trace.constant(
                f"{here}.{end}", share, f"{word} of the class {words}", unit="-", source="derived"
            )
            for end, share, word in (("above", above, "Lower end"), ("to", to, "Upper end"))
            if share is not None
        }
        for key, function, unit, title in (
            ("days", year.days_in_class, "days", "Days of a mean year"),
            ("share_of_water", year.water_in_class, "-", "Share of the water"),
        ):
            trace.compute(
                f"{here}.{key}",
                function,
                unit=unit,
                title=f"{title}, {words}",
                flow=FLOW,
                peak="drain_flow.peak_for_share_m3_s",
                **ends,
            )
