# SPDX-License-Identifier: Apache-2.0
"""Days without a value in a weather record: where they are, and rules that fill them.

Nothing is filled but by a rule that the engineer named, and every filled day is counted. What each
rule does to the water is said with its name, since no rule gives back the storm that was missed.
"""

import datetime
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import NoSolution
from tilewater.basis.findings import Finding
from tilewater.hydrology.daily_weather import Series
from tilewater.hydrology.weather import ADDED, NEEDED, Weather

FillRule = Literal["none", "zero rain", "mean of the day of year", "nearest days"]
RULES: tuple[FillRule, ...] = ("none", "zero rain", "mean of the day of year", "nearest days")

WINDOW = 7
"""Days of the calendar before and after that count for the mean of a day of the year."""
LEAST_MEAN = 10
"""Values that make a mean of a day of the year."""
LONGEST_NEAREST = 5
"""Days in a row that the days beside them may stand for."""
MOST_FILLED = 0.5
"""Share without a value above which an element that can be done without is left out."""
MUCH_FILLED = 0.05
"""Share from which what is filled bears on the answer."""

DOES = {
    "zero rain": "The rain of those days is lost to the balance",
    "mean of the day of year": "Each takes the mean of its time of year, 15 days wide, over all "
    "years: the yearly sum is kept, storms and dry days are not",
    "nearest days": "Each takes what lies on a straight line between the days beside the gap",
}
"""What a rule means, as a sentence without its full stop."""

TRADE = {
    "precipitation": "rain",
    "temperature_max": "tmax",
    "temperature_min": "tmin",
    "solar_mj_m2_day": "radiation",
    "sunshine_hours": "sunshine",
    "vapour_actual_kpa": "vapour pressure",
    "dew_point": "dew point",
    "humidity_max": "humidity max",
    "humidity_min": "humidity min",
    "humidity_mean": "humidity",
    "wind": "wind",
    "snowfall": "snowfall",
    "snow_depth": "snow depth",
}
"""Elements as the trade calls them."""


@dataclass(frozen=True)
class Missing:
    """Days of an element without a value.

    Attributes
    ----------
    element : str
    days, of : int
        Days without a value, and days of the record.
    gaps : int
        Runs of such days.
    longest : int
        Length of the longest run.
    from_, to : datetime.date
        Its first and last day.
    """

    element: str
    days: int
    of: int
    gaps: int
    longest: int
    from_: datetime.date
    to: datetime.date

    @property
    def share(self) -> float:
        """Days without a value over all days."""
        return self.days / self.of

    def __str__(self) -> str:
        count = f"{self.days} of {self.of} days ({self.share:.2%})"
        if self.longest == 1:
            return f"{count}, each by itself, the first {self.from_}"
        gaps = "in 1 gap" if self.gaps == 1 else f"in {self.gaps} gaps, the longest"
        return f"{count}, {gaps} {self.from_} to {self.to} ({self.longest} days)"


@dataclass(frozen=True)
class FilledWeather:
    """A record after its gaps were filled.

    Attributes
    ----------
    weather : Weather
        Without elements that were left out.
    filled : tuple of Missing
        What was filled, by element.
    left : tuple of Missing
        What still has no value among the elements that a field needs.
    findings : tuple of Finding
    """

    weather: Weather
    filled: tuple[Missing, ...]
    left: tuple[Missing, ...]
    findings: tuple[Finding, ...]

    @property
    def share(self) -> float:
        """Largest share of filled days among the elements that a field needs."""
        return max((each.share for each in self.filled if each.element in NEEDED), default=0.0)


def missing_days(weather: Weather, element: str) -> Missing | None:
    """Days of an element without a value.

    Parameters
    ----------
    weather : Weather
        The record. [-]
    element : str
        Name of the element.

    Returns
    -------
    Missing or None
        None where every day has a value. [-]

    Raises
    ------
    OutOfDomain
        If the record has no such element.
    """
    absent = weather.missing(element)
    if not absent.any():
        return None
    firsts, ends = _gaps(absent)
    longest = int(np.argmax(ends - firsts))
    return Missing(
        element,
        int(absent.sum()),
        weather.days,
        firsts.size,
        int(ends[longest] - firsts[longest]),
        weather.date(int(firsts[longest])),
        weather.date(int(ends[longest]) - 1),
    )


def fill_gaps(weather: Weather, rule: FillRule, rest: FillRule | None = None) -> FilledWeather:
    """Fill the days of a record that have no value, by rules that were named.

    Rain, and the temperatures with it, are filled by the rule or stay open. An element that can be
    done without is left out where its rule does not fill it or most of it would be filled.

    Parameters
    ----------
    weather : Weather
        The record. [-]
    rule : FillRule
        Rule for the rain, and for the rest where it has none of its own.
    rest : FillRule or None
        Rule for all that is not rain.

    Returns
    -------
    FilledWeather
        The record, what was filled, what is left, and what the engineer must know. [-]

    Raises
    ------
    NoSolution
        If a rule cannot fill a gap.
    """
    rest = rule if rest is None else rest
    filled: list[Missing] = []
    left: list[Missing] = []
    findings: list[Finding] = []
    changed: dict[str, Series | None] = {}
    for name in (*NEEDED, *ADDED):
        if getattr(weather, name) is None or (absent := missing_days(weather, name)) is None:
            continue
        chosen = rule if name == "precipitation" else rest
        fills = chosen != "none" and (chosen != "zero rain" or name == "precipitation")
        if name in ADDED and (not fills or absent.share > MOST_FILLED):
            changed[name] = None
            findings.append(_left_out(absent, fills))
        elif fills:
            changed[name] = _filled(weather, absent, chosen)
            filled.append(absent)
            findings.append(_told(absent, chosen))
        else:
            left.append(absent)
    met = _put_in_order(weather, changed)
    if met:
        findings.append(_met(met))
    return FilledWeather(
        weather.with_series(**changed), tuple(filled), tuple(left), tuple(findings)
    )


def _gaps(absent: NDArray[np.bool_]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """First number and the one past the last of every run."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], absent.astype(np.int8), [0]))))
    return edges[::2], edges[1::2]


def _filled(weather: Weather, absent: Missing, rule: FillRule) -> Series:
    series = np.array(weather.series(absent.element))
    empty = np.isnan(series)
    if rule == "zero rain":
        series[empty] = 0.0
        return series
    if empty.all():
        raise NoSolution(
            f"{TRADE[absent.element]} has no value at all. A rule needs recorded days to fill "
            "others. Check the column."
        )
    if rule == "nearest days":
        return _from_nearest(series, absent)
    return _from_calendar(series, weather.day_of_year, absent)


def _from_nearest(series: Series, absent: Missing) -> Series:
    if absent.longest > LONGEST_NEAREST:
        raise NoSolution(
            f"{TRADE[absent.element]} has no value from {absent.from_} to {absent.to}, "
            f"{absent.longest} days. The nearest days stand for {LONGEST_NEAREST} days in a row at "
            'most. Use "mean of the day of year", or begin or end the record beside the gap.'
        )
    empty = np.isnan(series)
    number = np.arange(series.size)
    series[empty] = np.interp(number[empty], number[~empty], series[~empty])
    return series


def _from_calendar(series: Series, day_of_year: NDArray[np.int64], absent: Missing) -> Series:
    there = ~np.isnan(series)
    count = np.bincount(day_of_year[there], minlength=367)[1:]
    total = np.bincount(day_of_year[there], weights=series[there], minlength=367)[1:]
    around = np.arange(366)[:, None] + np.arange(-WINDOW, WINDOW + 1)
    counts, totals = count[around % 366].sum(axis=1), total[around % 366].sum(axis=1)
    empty = np.flatnonzero(~there)
    asked = day_of_year[empty] - 1
    few = np.flatnonzero(counts[asked] < LEAST_MEAN)
    if few.size:
        first = int(empty[few[0]])
        raise NoSolution(
            f"{TRADE[absent.element]} has {counts[asked[few[0]]]} values within {WINDOW} days of "
            f"day {day_of_year[first]} of the year, in all years together. A mean needs "
            f"{LEAST_MEAN}. Give a longer record."
        )
    series[empty] = totals[asked] / counts[asked]
    return series


def _put_in_order(weather: Weather, changed: dict[str, Series | None]) -> int:
    """Let filled temperatures meet where the lowest would lie above the highest; on how many days.

    A recorded value stays; two filled ones meet between the two.
    """
    highest = np.array(_latest(weather, changed, "temperature_max"))
    lowest = np.array(_latest(weather, changed, "temperature_min"))
    turned = lowest > highest
    filled_high = np.isnan(weather.temperature_max) & turned
    filled_low = np.isnan(weather.temperature_min) & turned
    middle = 0.5 * (highest + lowest)
    meeting = np.where(filled_high & filled_low, middle, np.where(filled_high, lowest, highest))
    highest[filled_high] = meeting[filled_high]
    lowest[filled_low] = meeting[filled_low]
    if turned.any():
        changed |= {"temperature_max": highest, "temperature_min": lowest}
    return int(turned.sum())


def _latest(weather: Weather, changed: dict[str, Series | None], element: str) -> Series:
    filled = changed.get(element)
    return weather.series(element) if filled is None else filled


def _met(days: int) -> Finding:
    return Finding(
        "weather-filled-temperatures-meet",
        "note",
        "weather",
        f"On {days} filled {'day' if days == 1 else 'days'} the lowest temperature came out above "
        "the highest; there the filled one takes the value of the other.",
        value=float(days),
    )


def _told(absent: Missing, rule: FillRule) -> Finding:
    return Finding(
        "weather-filled",
        "caution" if absent.share > MUCH_FILLED else "note",
        "weather",
        f'{TRADE[absent.element]} is filled by "{rule}" on {absent}. {DOES[rule]}.',
        value=absent.share,
        operator="<=",
        limit=MUCH_FILLED,
        unit="-",
    )


def _left_out(absent: Missing, fills: bool) -> Finding:
    why = (
        "More than half would be filled, so it is not used."
        if fills
        else "It is not used. Name a rule that fills it to use it."
    )
    return Finding(
        "weather-element-left-out",
        "caution",
        "weather",
        f"{TRADE[absent.element]} has no value on {absent}. {why}",
        value=absent.share,
        unit="-",
    )
