# SPDX-License-Identifier: Apache-2.0
"""A measured time cut into intervals: what came, what went past and what was removed in each.

The table that a reader checks by hand. Its percents are of loads, row by row, and its total is a
ratio of sums; the average of the rows is there only to show how far it leads astray.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from tilewater.basis.errors import NoSolution
from tilewater.monitoring.concentration import Nitrate, concentration_linear
from tilewater.monitoring.loads import load_of
from tilewater.monitoring.series import DAY, Floats
from tilewater.monitoring.water_record import WaterRecord


@dataclass(frozen=True)
class Interval:
    """One interval.

    Attributes
    ----------
    start_s, end_s : float
        Since 1970-01-01 in universal time. [s]
    treated_m3, bypass_m3 : float
        Volumes. [m3]
    bed_in_kg, bypass_kg, removed_kg : float
        Loads. [kg]
    bed_percent : float
        Of the load into the practice; NaN where none came. [%]
    """

    start_s: float
    end_s: float
    treated_m3: float
    bypass_m3: float
    bed_in_kg: float
    bypass_kg: float
    removed_kg: float
    bed_percent: float


def intervals_of(
    water: WaterRecord, inlet: Nitrate, outlet: Nitrate, past: Nitrate, edges_s: Floats
) -> tuple[Interval, ...]:
    """Loads of each interval by straight lines between samples.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    outlet : Nitrate
        Samples of the outlet. [mg/L]
    past : Nitrate
        Samples of the bypass; those of the inlet where it was not sampled. [mg/L]
    edges_s : array
        Begin of the first interval, and the end of each. [s]

    Returns
    -------
    tuple of Interval
        Their loads add up to those of the whole time. [kg]

    Notes
    -----
    L = sum(C Q dt) of the steps in each    (derived)

    References
    ----------
    derived, mass is concentration times volume
    """
    came, left, by = (concentration_linear(each, water.time_s) for each in (inlet, outlet, past))
    through, over = (np.nan_to_num(way.flow) for way in (water.treated, water.bypass))
    rows = []
    last = edges_s.size - 2
    for at, (start, end) in enumerate(pairwise(edges_s)):
        upper = water.time_s <= end if at == last else water.time_s < end
        here = water.known & (water.time_s >= start) & upper
        load_in = load_of(through, came, water.step_s, here)
        removed = load_in - load_of(through, left, water.step_s, here)
        rows.append(
            Interval(
                float(start),
                float(end),
                float((through * water.step_s)[here].sum()),
                float((over * water.step_s)[here].sum()),
                load_in,
                load_of(over, by, water.step_s, here),
                removed,
                100.0 * removed / load_in if load_in > 0.0 else float("nan"),
            )
        )
    return tuple(rows)


def edges_of_samples(water: WaterRecord, sample_s: Floats) -> Floats:
    """Edges of intervals halfway between samples.

    Parameters
    ----------
    water : WaterRecord
        Its axis of time. [s]
    sample_s : array
        When samples were taken, ascending. [s]

    Returns
    -------
    array
        From the begin to the end of the record. [s]

    Notes
    -----
    halfway between samples    (derived)

    References
    ----------
    derived, each sample in the middle of its interval
    """
    first, last = float(water.time_s[0]), float(water.time_s[-1])
    halfway = 0.5 * (sample_s[1:] + sample_s[:-1])
    inner = halfway[(halfway > first) & (halfway < last)]
    return np.concatenate(([first], inner, [last]))


def average_of_percents(intervals: tuple[Interval, ...]) -> float:
    """Plain average of the percents of intervals: no removal, shown to warn of it.

    Parameters
    ----------
    intervals : tuple of Interval
        Rows of the table. [kg]

    Returns
    -------
    float
        Not to be used. [%]

    Raises
    ------
    NoSolution
        If no interval has a load.

    Notes
    -----
    mean of the percents    (derived)

    References
    ----------
    derived, an average that weighs dry weeks like storms
    """
    percents = [each.bed_percent for each in intervals if np.isfinite(each.bed_percent)]
    if not percents:
        message = "No interval has a load into the practice, so there is no percent to average."
        raise NoSolution(message)
    return float(np.mean(percents))


def days_of(interval: Interval) -> float:
    """Length of an interval.

    Parameters
    ----------
    interval : Interval
        Row of the table. [kg]

    Returns
    -------
    float
        Length. [days]

    Notes
    -----
    t = (end - start) / 86400    (derived)

    References
    ----------
    derived, a difference
    """
    return (interval.end_s - interval.start_s) / DAY
