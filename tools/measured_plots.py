# SPDX-License-Identifier: Apache-2.0
"""Plots whose drain flow was measured, what is known of their fields, and weather to run these on.

The records hold no temperature; it is made by the rule that the page on simulated fields tells.
"""

import csv
import datetime
import math
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.field_parts import FieldDrains

Series = NDArray[np.float64]

DATA = Path("drain-flow") / "daily_drain_flow.csv"
DAY = 86400.0
MM_PER_DAY = 0.001 / DAY

SEED = 20
REMEMBERED = 0.65
SWING_DEGC = (5.5, 5.5, 5.0, 4.5, 4.0, 3.2, 2.6, 2.6, 3.6, 4.4, 4.8, 5.2)
HALF_RANGE_DEGC = (4.5, 4.5, 5.0, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 5.5, 4.5, 4.5)


@dataclass(frozen=True)
class Site:
    """What is known of a field.

    Attributes
    ----------
    name : str
    latitude_deg : float
    normals : tuple of float
        Mean temperature of each month. [degC]
    drains : FieldDrains
        Of the plots with free drainage.
    shallow : FieldDrains or None
        Of the shallow plots.
    boards : tuple of (int, int, float)
        Calendar of the controlled plots: from month and day on, outlet below ground. [m]
    """

    name: str
    latitude_deg: float
    normals: tuple[float, ...]
    drains: FieldDrains
    shallow: FieldDrains | None
    boards: tuple[tuple[int, int, float], ...]


SITES = (
    Site(
        "DPAC",
        40.3,
        (-3.0, -1.2, 4.4, 10.6, 16.4, 21.4, 23.0, 22.0, 18.2, 11.8, 5.4, -0.4),
        FieldDrains(depth=0.91, spacing=15.2),
        None,
        ((1, 1, 0.10), (4, 1, 1.00), (6, 10, 0.40), (10, 1, 1.00), (12, 1, 0.10)),
    ),
    Site(
        "SERF_IA",
        41.2,
        (-5.0, -2.8, 4.0, 10.7, 16.7, 21.9, 23.8, 22.7, 18.5, 11.9, 4.5, -2.4),
        FieldDrains(depth=1.22, spacing=18.3, main_capacity=19.05 * MM_PER_DAY),
        FieldDrains(depth=0.76, spacing=12.2, main_capacity=19.05 * MM_PER_DAY),
        ((1, 1, 0.76), (4, 10, 1.20), (6, 1, 0.76)),
    ),
)


@dataclass(frozen=True, eq=False)
class Plot:
    """A measured plot. [mm/day], nan where missing."""

    site: Site
    name: str
    outlet: str
    flow: Series


def read_plots(folder: Path) -> tuple[dict[str, tuple[datetime.date, Series]], tuple[Plot, ...]]:
    """Rain of each site from its first day, in m, and its plots."""
    sites = {site.name: site for site in SITES}
    rows: dict[tuple[str, str], list[dict[str, str]]] = defaultdict(list)
    with (folder / DATA).open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            if row["siteid"] in sites:
                rows[row["siteid"], row["plotid"]].append(row)
    rain, plots = {}, []
    for (site, name), found in rows.items():
        found.sort(key=lambda row: row["date"])
        first = datetime.date.fromisoformat(found[0]["date"])
        last = datetime.date.fromisoformat(found[-1]["date"])
        if (last - first).days + 1 != len(found):
            raise ValueError(f"{site} {name} has gaps between its days. Fill them first.")
        flow = np.array([float(r["flow"]) if r["flow"] != "NA" else math.nan for r in found])
        rain[site] = (first, np.array([float(r["precip_on_site"]) for r in found]) / 1000.0)
        plots.append(Plot(sites[site], name, found[0]["dwm"], flow))
    return rain, tuple(plots)


def weather_of(site: Site, first: datetime.date, rain: Series) -> DailyWeather:
    """Weather with measured rain and temperature made from normals by the rule of the page."""
    dates = np.datetime64(first, "D") + np.arange(rain.size)
    months = dates.astype("datetime64[M]")
    month = months.astype(np.int64) % 12
    middle = (dates - months).astype(np.float64) - 15.0
    normals = np.array(site.normals)
    other = np.where(middle < 0, month - 1, month + 1) % 12
    share = np.abs(middle) / 30.5
    mean = normals[month] * (1.0 - share) + normals[other] * share
    noise = np.random.default_rng(SEED).normal(size=rain.size)
    swing = np.zeros(rain.size)
    for day in range(1, rain.size):
        kept = math.sqrt(1.0 - REMEMBERED**2) * noise[day]
        swing[day] = REMEMBERED * swing[day - 1] + kept
    mean = mean + swing * np.array(SWING_DEGC)[month]
    half = np.array(HALF_RANGE_DEGC)[month]
    return DailyWeather(first, math.radians(site.latitude_deg), rain, mean + half, mean - half)


def outlet_heights(site: Site, weather: DailyWeather) -> Series:
    """Outlet of the controlled plots above their drains, by the calendar of the site. [m]"""
    key = np.array([100 * day.month + day.day for day in weather.dates.tolist()])
    below = np.zeros(weather.days)
    for month, day, depth in site.boards:
        below[key >= 100 * month + day] = depth
    return np.maximum(0.0, site.drains.depth - below)
