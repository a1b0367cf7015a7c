# SPDX-License-Identifier: Apache-2.0
"""Steps of the table by interval: around samples where they are few, by month where many."""

import datetime

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.chain.monitor_steps import HERE, place_key
from tilewater.monitoring.concentration import Nitrate
from tilewater.monitoring.intervals import (
    Interval,
    average_of_percents,
    edges_of_samples,
    intervals_of,
)
from tilewater.monitoring.series import DAY, Floats
from tilewater.monitoring.water_record import WaterRecord

MOST = 14
"""Samples up to which each has its own interval."""
MONTHS = 24
"""Months up to which each is an interval; beyond, quarters of a year."""


def add_intervals(trace: Trace) -> None:
    """Record the table by interval, and the average that is none."""
    places = {
        "inlet": place_key(trace, "half", "inlet"),
        "outlet": place_key(trace, "half", "outlet"),
        "past": place_key(trace, "half", "bypass"),
    }
    trace.compute(
        f"{HERE}.intervals",
        interval_table,
        unit="kg",
        title="Loads by interval",
        water=f"{HERE}.water",
        **places,
    )
    trace.compute(
        f"{HERE}.average_of_percents",
        average_of_percents,
        unit="%",
        title="Plain average of the percents by interval, which is no removal",
        intervals=f"{HERE}.intervals",
    )


def interval_table(
    water: WaterRecord, inlet: Nitrate, outlet: Nitrate, past: Nitrate
) -> tuple[Interval, ...]:
    """Loads by interval.

    Parameters
    ----------
    water : WaterRecord
        Flows. [m3/s]
    inlet : Nitrate
        Samples of the inlet. [mg/L]
    outlet : Nitrate
        Samples of the outlet. [mg/L]
    past : Nitrate
        Samples of the bypass, or of the inlet. [mg/L]

    Returns
    -------
    tuple of Interval
        Around each sample where there are 14 or fewer, else months, else quarters. [kg]

    Notes
    -----
    L = sum(C Q dt) of the steps in each    (derived)

    References
    ----------
    derived, mass is concentration times volume
    """
    own = edges_of_samples(water, outlet.time_s)
    edges = own if own.size - 1 <= MOST else _months(water, 1)
    if edges.size - 1 > MONTHS:
        edges = _months(water, 3)
    return intervals_of(water, inlet, outlet, past, edges)


def _months(water: WaterRecord, months: int) -> Floats:
    """Begins of months, or of quarters, within a record, with its ends."""
    first, last = float(water.time_s[0]), float(water.time_s[-1])
    day = datetime.date(1970, 1, 1) + datetime.timedelta(days=first // DAY)
    edges = [first]
    year, month = day.year, day.month
    while True:
        month += 1
        if month > 12:
            year, month = year + 1, 1
        if (month - 1) % months:
            continue
        at = (datetime.date(year, month, 1) - datetime.date(1970, 1, 1)).days * DAY
        if at >= last - DAY:  # days of the site end some hours apart from universal ones
            break
        if at > first + DAY:
            edges.append(at)
    return np.array([*edges, last])
