# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what each day of the record brings to a practice, whichever it is.

Flow as `water` has it, measured or simulated; the setting of the boards and the ditch of its
season; nitrate as the job wants it known; temperature by the seasons or from the air.
"""

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.nitrate_days import add_daily_nitrate
from tilewater.hydrology.ditch_stage import SeasonValue
from tilewater.nitrate.water_temperature import drain_water_temperature
from tilewater.practices.bed import days, year_sums
from tilewater.practices.bed.route import day_series


def has_days(trace: Trace) -> bool:
    """Whether the job knows its drain flow day by day."""
    return "water.flow_m3_s" in trace and trace.known("water.day", "water.flow_m3_s")


def add_dates(trace: Trace) -> None:
    """Record the days of the record as dates."""
    trace.compute("days.date", days.dates_of, unit="", title="Days of the record", day="water.day")


def add_series(trace: Trace) -> None:
    """Record what each day brings to a practice, and which years are whole."""
    seasons = trace.names("inputs.season")
    numbers = {}
    for number, season in enumerate(seasons, 1):
        key = f"days.season-{season}"
        trace.constant(key, float(number), f"Number of the {season} setting", source="derived")
        numbers[argument_name(season)] = _add_season_value(trace, season, key, "setting")
    trace.compute(
        "days.setting",
        days.setting_by_day,
        unit="-",
        title="Setting of the boards, day by day",
        day="days.date",
        **numbers,
    )
    _add_temperature(trace, seasons)
    trace.compute(
        "days.stage_m",
        days.stage_by_day,
        unit="m",
        title="Water in the ditch, day by day",
        day="days.date",
        flow="water.flow_m3_s",
        rule="ditch.stage_rule",
    )
    add_daily_nitrate(trace, "days.nitrate_mg_per_l")
    trace.compute(
        "days.series",
        day_series,
        unit="",
        title="Flow, nitrate, temperature, ditch and boards, day by day",
        inflow="water.flow_m3_s",
        nitrate_mg_per_l="days.nitrate_mg_per_l",
        temperature="days.temperature_c",
        stage="days.stage_m",
        setting="days.setting",
    )
    for name, function, title in (
        ("year", year_sums.year_by_day, "Year of each day"),
        ("whole_years", year_sums.whole_years, "Years of the record that are whole"),
    ):
        trace.compute(f"days.{name}", function, unit="", title=title, day="days.date")


def _add_season_value(trace: Trace, season: str, value: str, what: str) -> str:
    key = f"days.{what}-{season}"
    trace.compute(
        key,
        SeasonValue,
        unit="",
        title=f"Days of {season} and their {what}",
        first=f"inputs.season.{season}.from",
        last=f"inputs.season.{season}.to",
        value=value,
    )
    return key


def _add_temperature(trace: Trace, seasons: tuple[str, ...]) -> None:
    """By the seasons where each states it, else from the air through the soil over the drains."""
    typed = [f"inputs.season.{season}.water_temperature_c" for season in seasons]
    if typed and all(key in trace and trace.known(key) for key in typed):
        values = {
            argument_name(season): _add_season_value(trace, season, key, "temperature")
            for season, key in zip(seasons, typed, strict=True)
        }
        trace.compute(
            "days.temperature_c",
            days.value_by_day,
            unit="degC",
            title="Temperature of the drain water, day by day, by the seasons",
            day="days.date",
            **values,
        )
        return
    trace.compute(
        "days.temperature_c",
        drain_water_temperature,
        unit="degC",
        title="Temperature of the drain water, day by day, from the air",
        air_temperature="water.air_temperature_c",
        depth="inputs.drainage.lateral_depth_m",
    )
