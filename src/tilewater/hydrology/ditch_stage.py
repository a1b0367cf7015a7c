# SPDX-License-Identifier: Apache-2.0
"""Water level of the ditch by day and drain flow, and the drain flow that meets it too high.

However the level is known, by seasons, by a series, by a rule against drain flow or by a surveyed
section, it ends as a `StageRule`: a table of the days of a year and the knots of a rule, plain
arrays that a daily kernel can take. Days are counted in a calendar that has the 29th of February
in every year, so that one table serves all years. Where the level comes from is not decided here.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.domain import Number
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.findings import Finding
from tilewater.basis.told import cfs, feet

Series = NDArray[np.float64]
Days = NDArray[np.datetime64]

DAYS = 366
"""Days of the calendar that has the 29th of February."""


class SeasonValue(NamedTuple):
    """A value that holds from one day of the year to another.

    Attributes
    ----------
    first, last : str
        Days of the year, as `03-20`; over the turn of the year where the last comes first.
    value : float
        The value.
    """

    first: str
    last: str
    value: float


class StageRule(NamedTuple):
    """Water level of the ditch for any day of the year and any drain flow.

    Attributes
    ----------
    by_day : array of 366
        Level on each day of the year; not a number where no season has the day. [m]
    flow : array
        Drain flows of the knots of a rule, rising; empty where the level follows the day. [m3/s]
    level : array
        Levels at those flows, never falling. [m]
    """

    by_day: Series
    flow: Series
    level: Series

    def stage_on(self, day_of_year: int, flow: float) -> float:
        """Water level on a day of the year, 1 to 366, at a drain flow. [m]"""
        return stage_on_day(day_of_year, flow, self)


def day_of_year(day: Days) -> NDArray[np.int64]:
    """Number of each day within a year that has the 29th of February.

    Parameters
    ----------
    day : array of datetime64
        Days.

    Returns
    -------
    array
        1 for the 1st of January, 60 for the 29th of February, 366 for the 31st of December. [days]

    References
    ----------
    derived, the 1st of March is day 61 in every year
    """
    day = day.astype("datetime64[D]")
    start = day.astype("datetime64[Y]").astype("datetime64[D]")
    number = (day - start).astype(np.int64) + 1
    march = day.astype("datetime64[M]").astype(np.int64) % 12 >= 2
    has_29 = (start + 365).astype("datetime64[Y]") == day.astype("datetime64[Y]")
    later: NDArray[np.int64] = number + (march & ~has_29)
    return later


def is_in_season(first: str, last: str) -> NDArray[np.bool_]:
    """Which days of a year belong to a season.

    Parameters
    ----------
    first, last : str
        Days of the year, as `03-20`; both belong to it.

    Returns
    -------
    array of 366 bool
        By day of the year.
    """
    ends = np.array([f"2024-{first}", f"2024-{last}"], dtype="datetime64[D]")
    begin, end = day_of_year(ends)
    number = np.arange(1, DAYS + 1)
    after, before = number >= begin, number <= end
    inside: NDArray[np.bool_] = after & before if begin <= end else after | before
    return inside


def year_table(**seasons: SeasonValue) -> Series:
    """Value of each day of a year, from the values of its seasons.

    Parameters
    ----------
    **seasons : SeasonValue
        Seasons with their values. [m]

    Returns
    -------
    array of 366
        By day of the year; not a number on days that no season has. [m]

    Notes
    -----
    value(day) = value of the season that has the day    (derived)

    Of seasons that overlap the later one in the job counts.

    References
    ----------
    derived, a table of the days
    """
    table = np.full(DAYS, np.nan)
    for season in seasons.values():
        table[is_in_season(season.first, season.last)] = season.value
    return table


def lowest_of(by_years: tuple[float, ...], stage: float) -> float:
    """Lowest of the ordinary levels of single years and of all years together.

    Parameters
    ----------
    by_years : tuple of float
        Ordinary level of each year. [m]
    stage : float
        Ordinary level of all years together. [m]

    Returns
    -------
    float
        The lowest. [m]

    Notes
    -----
    min(level_j, level)    (derived)

    References
    ----------
    derived, years set side by side
    """
    return min(*by_years, stage)


def highest_of(by_years: tuple[float, ...], stage: float) -> float:
    """Highest of the ordinary levels of single years and of all years together.

    Parameters
    ----------
    by_years : tuple of float
        Ordinary level of each year. [m]
    stage : float
        Ordinary level of all years together. [m]

    Returns
    -------
    float
        The highest. [m]

    Notes
    -----
    max(level_j, level)    (derived)

    References
    ----------
    derived, years set side by side
    """
    return max(*by_years, stage)


def stage_rule_by_season(by_day: Series) -> StageRule:
    """Rule of a ditch whose level follows the season.

    Parameters
    ----------
    by_day : array of 366
        Level on each day of the year. [m]

    Returns
    -------
    StageRule
        The rule. [m]

    References
    ----------
    derived, a table of the days
    """
    return StageRule(by_day, np.empty(0), np.empty(0))


def stage_rule_by_flow(knots: tuple[tuple[float, float], ...]) -> StageRule:
    """Rule of a ditch whose level follows the drain flow.

    Parameters
    ----------
    knots : tuple of (float, float)
        Drain flow and level, in the order of the flow. [m3/s]

    Returns
    -------
    StageRule
        The rule. [m]

    Raises
    ------
    OutOfDomain
        If there are fewer than two knots, a flow does not rise, or a level falls.

    Notes
    -----
    level(Q) on straight lines between the knots, flat beyond both ends    (derived)

    References
    ----------
    derived, straight lines
    """
    flow, level = (np.array([knot[i] for knot in knots], dtype=np.float64) for i in (0, 1))
    if flow.size < 2:
        raise OutOfDomain(
            f"the rule has {flow.size} pairs of drain flow and level. Two at least are needed. "
            "Read the ditch at low and at high flow."
        )
    for i in range(1, flow.size):
        if not flow[i] > flow[i - 1]:
            raise OutOfDomain(
                f"flow {i + 1} of the rule is {flow[i]:g} m3/s. It must be above the one before, "
                f"{flow[i - 1]:g} m3/s. List the pairs by rising flow."
            )
        if level[i] < level[i - 1]:
            raise OutOfDomain(
                f"level {i + 1} of the rule is {level[i]:.3f} m. It cannot be below the one "
                f"before, {level[i - 1]:.3f} m. Check the two readings."
            )
    return StageRule(np.full(DAYS, np.nan), flow, level)


def stage_on_day(day_of_year: int, flow: float, rule: StageRule) -> float:
    """Water level of the ditch on a day of the year at a drain flow.

    Plain arithmetic on plain arrays, for use in a daily kernel.

    Parameters
    ----------
    day_of_year : int
        1 to 366, in a year that has the 29th of February. [-]
    flow : float
        Drain flow. [m3/s]
    rule : StageRule
        The ditch. [m]

    Returns
    -------
    float
        Elevation of the water; not a number on a day that no season has. [m]

    Notes
    -----
    level(Q) between the knots of a rule, else level(day)    (derived)

    References
    ----------
    derived, straight lines, or a table of the days
    """
    knots = len(rule.flow)
    if knots == 0:
        return float(rule.by_day[day_of_year - 1])
    if flow <= rule.flow[0]:
        return float(rule.level[0])
    for i in range(1, knots):
        if flow <= rule.flow[i]:
            share = (flow - rule.flow[i - 1]) / (rule.flow[i] - rule.flow[i - 1])
            return float(rule.level[i - 1] + share * (rule.level[i] - rule.level[i - 1]))
    return float(rule.level[knots - 1])


def stage_by_flow(flow: Number, rule: StageRule) -> Number:
    """Water level of the ditch at a drain flow, by a rule.

    Parameters
    ----------
    flow : float or array
        Drain flow. [m3/s]
    rule : StageRule
        A rule with knots. [m]

    Returns
    -------
    float or array
        Elevation of the water. [m]

    Notes
    -----
    level(Q) on straight lines between the knots, flat beyond both ends    (derived)

    References
    ----------
    derived, straight lines
    """
    level = np.interp(flow, rule.flow, rule.level)
    return float(level) if np.ndim(flow) == 0 else level


def stage_by_flow_range(flow: Number, rule: StageRule) -> tuple[Finding, ...]:
    """Findings where a drain flow lies beyond the ends of a rule.

    Parameters
    ----------
    flow : float or array
        Drain flow. [m3/s]
    rule : StageRule
        A rule with knots. [m]

    Returns
    -------
    tuple of Finding

    References
    ----------
    derived, ends of the rule
    """
    highest, most = float(np.max(flow)), float(rule.flow[-1])
    lowest, least = float(np.min(flow)), float(rule.flow[0])
    found = []
    if highest > most:
        message = (
            f"The drain flow of {cfs(highest, '.3g')} is above the last pair of the rule, "
            f"{cfs(most, '.3g')}; the ditch is held at {feet(rule.level[-1])} there and "
            "may stand higher. Read the ditch at a larger flow and add a pair."
        )
        found.append(
            Finding("ditch-rule-above", "caution", "Ditch", message, highest, "<=", most, "m3/s")
        )
    if lowest < least:
        message = (
            f"The drain flow of {cfs(lowest, '.3g')} is below the first pair of the rule, "
            f"{cfs(least, '.3g')}; the ditch is held at {feet(rule.level[0])} there. "
            "Read the ditch at low flow and add a pair."
        )
        found.append(
            Finding("ditch-rule-below", "note", "Ditch", message, lowest, ">=", least, "m3/s")
        )
    return tuple(found)
