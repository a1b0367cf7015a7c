# SPDX-License-Identifier: Apache-2.0
"""Weather of a job as inputs of the chain: read, its gaps filled by the rule that the job names."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault, NoSolution
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Origin
from tilewater.basis.units import join_or
from tilewater.basis.unknown import Unknown, is_unknown
from tilewater.hydrology.weather import NEEDED, Weather, weather_findings
from tilewater.hydrology.weather_gaps import (
    RULES,
    TRADE,
    FilledWeather,
    FillRule,
    Missing,
    fill_gaps,
)
from tilewater.job.weather import WeatherChoice, WeatherFile, read_weather
from tilewater.job.weather_daymet import DAYMET

WEATHER = "inputs.weather"
"""Group of the keys of the weather."""
ARRAYS = {
    "precipitation": ("precipitation_m", "m", "Rain and melted snow of each day"),
    "temperature_max": ("temperature_max_c", "degC", "Highest temperature of each day"),
    "temperature_min": ("temperature_min_c", "degC", "Lowest temperature of each day"),
    "solar_mj_m2_day": ("solar_mj_m2_day", "MJ/m2/day", "Radiation of the sun on each day"),
    "sunshine_hours": ("sunshine_h", "h", "Bright sunshine of each day"),
    "vapour_actual_kpa": ("vapour_actual_kpa", "kPa", "Vapour pressure of each day"),
    "dew_point": ("dew_point_c", "degC", "Mean dew point of each day"),
    "humidity_max": ("humidity_max", "-", "Highest relative humidity of each day"),
    "humidity_min": ("humidity_min", "-", "Lowest relative humidity of each day"),
    "humidity_mean": ("humidity_mean", "-", "Mean relative humidity of each day"),
    "wind": ("wind_m_s", "m/s", "Mean wind of each day"),
}
"""Key, unit and title of each element."""


@dataclass(frozen=True)
class WeatherInputs:
    """What a weather file adds to a job.

    Attributes
    ----------
    givens : tuple of Given
    findings : tuple of Finding
    read : str
        What the file holds, in words.
    """

    givens: tuple[Given, ...]
    findings: tuple[Finding, ...]
    read: str


def weather_inputs(
    path: Path,
    choice: WeatherChoice,
    *,
    fill: FillRule = "none",
    fill_rest: FillRule | None = None,
    ground: Given | None = None,
) -> WeatherInputs:
    """Inputs that a weather file adds.

    Parameters
    ----------
    path : Path
        The file.
    choice : WeatherChoice
        What the job file says of it.
    fill, fill_rest : FillRule
        Rules for days without a value: rain, and the rest.
    ground : Given or None
        Ground at the bed, for a station whose elevation is not stated.

    Returns
    -------
    WeatherInputs
        Arrays of every day, place, what was filled.

    Raises
    ------
    BadInputFile
        With every fault of the file, or where days without a value are left.
    """
    file = read_weather(path, choice)
    try:
        done = fill_gaps(file.weather, fill, fill_rest)
    except NoSolution as cannot:
        message = f"{cannot}"
        raise BadInputFile(Fault(path.name, None, "fill", message)) from None
    if done.left:
        raise BadInputFile(*_gaps(file, done.left))
    weather = done.weather
    findings = (
        *file.findings,
        *done.findings,
        *_wind_left_out(weather),
        *weather_findings(weather),
    )
    return WeatherInputs(tuple(_givens(file, done, choice, ground)), findings, _read(file, weather))


def _gaps(file: WeatherFile, left: tuple[Missing, ...]) -> Iterator[Fault]:
    """A fault for each element that a field needs and that has days without a value."""
    for absent in left:
        key = "fill" if absent.element == "precipitation" else "fill_rest"
        rules = [rule for rule in RULES[1:] if key == "fill" or rule != "zero rain"]
        choice = join_or(f'"{rule}"' for rule in rules)
        leap = (
            " The calendar of this data set has no 31 December in leap years."
            if file.kind == DAYMET
            else ""
        )
        message = (
            f"{TRADE[absent.element]} has no value on {absent}.{leap} Every day needs one. Write "
            "it into the file, shorten the record by from and to, or name a rule under [weather]: "
            f"{key} = {choice}."
        )
        yield Fault(file.file, None, absent.element, message)


def _wind_left_out(weather: Weather) -> Iterator[Finding]:
    if weather.wind is not None and weather.wind_height is None:
        yield Finding(
            "weather-wind-height-not-given",
            "caution",
            "weather",
            "Wind is recorded and not used, since it grows with the height of its gauge. State "
            "wind_height under [weather]; 10 m is usual at an airport, 2 or 3 m in a field.",
        )


def _givens(
    file: WeatherFile, done: FilledWeather, choice: WeatherChoice, ground: Given | None
) -> Iterator[Given]:
    weather = done.weather
    span = f"{weather.days} days from {weather.first_day}"
    filled = {each.element: each for each in done.filled}
    origin = Origin(file.file, text=span, note=file.kind)
    yield Given(f"{WEATHER}.day", weather.day, "", "Days of the weather", origin)
    for name, (key, unit, title) in ARRAYS.items():
        if name not in weather.recorded or (name == "wind" and weather.wind_height is None):
            continue
        note = f"{filled[name].days} days filled" if name in filled else "no day filled"
        from_file = Origin(file.file, text=span, note=note)
        yield Given(f"{WEATHER}.{key}", weather.series(name), unit, title, from_file)
    share = Given(
        f"{WEATHER}.filled_share", done.share, "-", "Largest share of filled days", origin
    )
    yield share
    yield from _place(file, choice, ground)


def _place(file: WeatherFile, choice: WeatherChoice, ground: Given | None) -> Iterator[Given]:
    """Latitude and elevation where the job file does not state them."""
    if choice.latitude_deg is None:
        stated = file.stated_latitude_deg
        value = (
            Unknown("neither typed nor in the weather file", "read it from any map, to 0.1 deg")
            if stated is None
            else stated
        )
        yield Given(
            f"{WEATHER}.latitude_deg", value, "deg", "Latitude of the weather", Origin(file.file)
        )
    key, title = f"{WEATHER}.elevation_m", "Elevation of the weather"
    if choice.elevation is not None:
        return
    if file.stated_elevation is not None:
        yield Given(key, file.stated_elevation, "m", title, Origin(file.file))
    elif ground is not None and not is_unknown(ground.value):
        note = f"not given; taken as {ground.title.lower()}"
        yield Given(key, ground.value, "m", title, replace(ground.origin, note=note))


def _read(file: WeatherFile, weather: Weather) -> str:
    more = [TRADE[name] for name in weather.recorded if name not in NEEDED]
    besides = f", with {', '.join(more)}" if more else ""
    of = f" of {file.station}" if file.station else ""
    return (
        f"{file.file}: {weather.days} days of weather{of}, {weather.first_day} to "
        f"{weather.date(weather.days - 1)}{besides}"
    )
