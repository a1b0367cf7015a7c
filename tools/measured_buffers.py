# SPDX-License-Identifier: Apache-2.0
"""Writes the page on measured saturated buffers: their arithmetic, two ways to a load, two models.

    python -m tools.measured_buffers FOLDER

FOLDER holds `saturated-buffers/`, which is not part of this repository. The page is the same for
the same data and program, so a test can tell a stale one.
"""

import csv
import math
import os
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import mean, median

import numpy as np
from numpy.typing import NDArray

from tilewater.hydrology.drain_flow import treated_share_exponential
from tilewater.nitrate.oxygen import oxic_time_days
from tilewater.practices.buffer.givens import DEFAULTS, SOIL
from tilewater.practices.buffer.removal import removal_first_order, removal_zero_order
from tools.package import ROOT

PAGE = ROOT / "docs" / "measured-buffers.md"
SITE_YEARS = Path("saturated-buffers") / "site_years.csv"
FLOW_2022 = Path("saturated-buffers") / "flow_2022.csv"
NITRATE_2022 = Path("saturated-buffers") / "nitrate_2022.csv"

GPM_DAYS_TO_KG = 60 * 24 * 3.785 / 1e6
"""Gallons a minute for a day, times mg/L, in kg, as the owners of the data count a gallon."""
TREATED_WELLS = ("03", "06")
"""Wells beside the stream, whose mean is the water that leaves."""
STRUCTURE = "BX"
WIDTH, THICKNESS, WATER_C = 9.144, 1.3, 10.0
"""What no table of these sites states: width 30 ft, wet soil 1.3 m, water 10 degC."""
FACTOR = 1.11

Series = NDArray[np.float64]


@dataclass(frozen=True)
class SiteYear:
    """One year of one buffer, as printed."""

    site: str
    year: int
    flow_days: float
    tile_mm: float
    diverted_mm: float
    area_ha: float
    length_m: float
    load_kg: float
    diverted_kg: float
    removed_kg: float
    buffer_removal: float
    site_removal: float
    diversion: float
    rate_g_m_day: float

    @property
    def has_nitrate(self) -> bool:
        """Whether its loads were printed."""
        return not math.isnan(self.removed_kg)

    @property
    def mean_flow(self) -> float:
        """Drain flow on a day with flow. [m3/day]"""
        return self.tile_mm * self.area_ha * 10.0 / self.flow_days

    @property
    def diverted_share(self) -> float:
        """Diverted water over all, from the two depths."""
        return self.diverted_mm / self.tile_mm

    @property
    def diverted_per_metre(self) -> float:
        """Diverted flow on a day with flow per metre of line. [m2/day]"""
        return self.diverted_mm * self.area_ha * 10.0 / self.flow_days / self.length_m


COLUMNS = {
    "flow_days": "days with tile flow",
    "tile_mm": "total tile flow_mm/y",
    "diverted_mm": "tile flow diverted_mm/y",
    "area_ha": "Drainage Area_ha",
    "length_m": "Distribution pipe length_m",
    "load_kg": "Nitrate load from field_kg N",
    "diverted_kg": "Nitrate Load diverted_kg N",
    "removed_kg": "Nitrate load removed_kg N",
    "buffer_removal": "Buffer Removal Percentage",
    "site_removal": "EOF Removal Percentage",
    "diversion": "Flow Diversion Percentage",
    "rate_g_m_day": "NO3-N removal rate_g/m/d",
}


def site_years(folder: Path) -> tuple[SiteYear, ...]:
    """All site-years, in the order of the file; a blank is not a number."""
    with (folder / SITE_YEARS).open(encoding="utf-8", newline="") as lines:
        return tuple(
            SiteYear(
                row["Site"],
                int(row["Year"]),
                **{name: float(row[title] or "nan") for name, title in COLUMNS.items()},
            )
            for row in csv.DictReader(lines)
        )


def recomputed(row: SiteYear) -> dict[str, tuple[float, float]]:
    """Each printed ratio of a year beside the same from the printed loads and depths."""
    per_metre = 1000.0 * row.removed_kg / (row.length_m * row.flow_days)
    return {
        "removal of diverted nitrate": (row.buffer_removal, row.removed_kg / row.diverted_kg),
        "removal at the edge of the field": (row.site_removal, row.removed_kg / row.load_kg),
        "diversion": (row.diversion, row.diverted_share),
        "removal per metre and flow day": (row.rate_g_m_day, per_metre),
    }


def days_2022(folder: Path) -> tuple[list[str], Series, Series, Series]:
    """Dates, and daily flow in, past and treated of the buffer of 2022. [gpm]"""
    with (folder / FLOW_2022).open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    names = ("flow_in_gpm", "flow_bypass_gpm", "flow_treated_daily_avg_gpm")
    flows = [np.array([float(row[name]) for row in rows]) for name in names]
    return [row["Date"] for row in rows], flows[0], flows[1], flows[2]


def samples_2022(folder: Path) -> dict[str, tuple[float, float]]:
    """Nitrate in and out on each sampled date: structure, and mean of the two wells.

    Two samples of one place and day are averaged; blanks, dated the year before, are left out.
    """
    found: dict[tuple[str, str], list[float]] = {}
    with (folder / NITRATE_2022).open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            if row["Sample Date"].startswith("2022"):
                key = row["Sample Date"], row["Sample Location"]
                found.setdefault(key, []).append(float(row["NO3-N-clean"]))
    dates = sorted({date for date, _ in found})
    return {
        date: (
            mean(found[date, STRUCTURE]),
            mean(mean(found[date, well]) for well in TREATED_WELLS),
        )
        for date in dates
    }


@dataclass(frozen=True)
class Loads:
    """Loads of a year. [kg]"""

    came: float
    diverted: float
    removed: float


def loads_by_intervals(folder: Path) -> Loads:
    """Loads with the nitrate of each sample over all water since the sample before it."""
    dates, came, _, treated = days_2022(folder)
    samples = samples_2022(folder)
    ends = [dates.index(date) for date in samples]
    water = [np.diff(np.concatenate([[0.0], np.cumsum(flow)[ends]])) for flow in (came, treated)]
    entering, leaving = (np.array(values) for values in zip(*samples.values(), strict=True))
    into, diverted = water[0] @ entering, water[1] @ entering
    removed = water[1] @ (entering - leaving)
    return Loads(*(float(GPM_DAYS_TO_KG * each) for each in (into, diverted, removed)))


def loads_by_days(folder: Path) -> Loads:
    """Loads with nitrate on a straight line from sample to sample, level before and after."""
    dates, came, _, treated = days_2022(folder)
    samples = samples_2022(folder)
    ends = [dates.index(date) for date in samples]
    entering, leaving = (
        np.interp(np.arange(len(dates)), ends, values)
        for values in zip(*samples.values(), strict=True)
    )
    into, diverted = came @ entering, treated @ entering
    removed = treated @ (entering - leaving)
    return Loads(*(float(GPM_DAYS_TO_KG * each) for each in (into, diverted, removed)))


def share_at(capacity_per_metre: float, row: SiteYear) -> float:
    """Share diverted in a year at a lumped capacity, flows taken as exponential. [m2/day]"""
    capacity = capacity_per_metre * row.length_m
    return treated_share_exponential(capacity, row.mean_flow)


def fitted_capacity(rows: Sequence[SiteYear]) -> float:
    """Lumped capacity per metre with the least squares of the shares of some years. [m2/day]"""
    tried = np.geomspace(0.01, 20.0, 4001)
    misses = [sum((share_at(k, r) - r.diverted_share) ** 2 for r in rows) for k in tried]
    return float(tried[int(np.argmin(misses))])


@dataclass(frozen=True)
class Held:
    """A capacity fitted to some years of a site and tried on the others. [m2/day]"""

    site: str
    capacity: float
    fitted: tuple[SiteYear, ...]
    tested: tuple[SiteYear, ...]

    @property
    def miss(self) -> float:
        """Mean of the differences of the shares of the years that were not fitted."""
        return mean(abs(share_at(self.capacity, r) - r.diverted_share) for r in self.tested)

    @property
    def miss_of_mean(self) -> float:
        """The same if every year had the mean share of the fitted years."""
        middle = mean(r.diverted_share for r in self.fitted)
        return mean(abs(middle - r.diverted_share) for r in self.tested)


def held_out(rows: Sequence[SiteYear]) -> tuple[Held, ...]:
    """For each site a capacity from its even years, tried on its odd years."""
    found = []
    for site in dict.fromkeys(row.site for row in rows):
        of_site = [row for row in rows if row.site == site]
        even = tuple(row for row in of_site if row.year % 2 == 0)
        odd = tuple(row for row in of_site if row.year % 2 == 1)
        found.append(Held(site, fitted_capacity(even), even, odd))
    return tuple(found)


def other_sites(rows: Sequence[SiteYear]) -> dict[str, tuple[float, float]]:
    """For each site the capacity of all other sites, and how far its shares miss with it."""
    found = {}
    for site in dict.fromkeys(row.site for row in rows):
        capacity = fitted_capacity([row for row in rows if row.site != site])
        own = [row for row in rows if row.site == site]
        found[site] = (
            capacity,
            mean(abs(share_at(capacity, r) - r.diverted_share) for r in own),
        )
    return found


def default(name: str) -> float:
    """A default of the program for the soil of a buffer."""
    return DEFAULTS[f"{SOIL}.{name}"][0]


def predicted_removal(row: SiteYear) -> tuple[float, float]:
    """Removal of diverted nitrate by both laws with the defaults of the program, no fit.

    The time is 1.11 pore volumes of a strip 30 ft wide over the diverted flow of a flow day.
    """
    porosity, q10 = default("porosity_effective"), default("q10")
    days = FACTOR * porosity * WIDTH * THICKNESS / row.diverted_per_metre
    warm = q10 ** ((WATER_C - 15.0) / 10.0)
    oxic = oxic_time_days(
        default("oxygen_mg_per_l"),
        uptake_mg_per_l_day=warm * default("oxygen_uptake_mg_per_l"),
    )
    nitrate = 100.0 * row.diverted_kg / (row.diverted_mm * row.area_ha)
    first = removal_first_order(days, oxic, default("first_order_rate"), WATER_C, q10)
    rate = default("zero_order_rate_g_per_m3_day")
    zero = removal_zero_order(days, oxic, rate, porosity, nitrate, WATER_C, q10)
    return first, zero


def main(words: list[str]) -> None:
    """Write the page from the data in the folder that is named, or that the environment names."""
    from tools.measured_buffers_page import page

    folder = words[0] if words else os.environ.get("TILEWATER_FIELD_DATA", "")
    if not folder:
        raise SystemExit("Name the folder of the field data, or set TILEWATER_FIELD_DATA to it.")
    PAGE.write_text(page(Path(folder)), encoding="utf-8")


def averages(rows: Sequence[SiteYear]) -> Iterator[tuple[str, float, float, float]]:
    """Name, mean of site-years, median and pooled value of each share."""
    full = [row for row in rows if row.has_nitrate]
    parts = (
        ("removed of all nitrate", "removed_kg", "load_kg"),
        ("removed of diverted nitrate", "removed_kg", "diverted_kg"),
        ("nitrate diverted of all", "diverted_kg", "load_kg"),
    )
    for name, top, bottom in parts:
        ratios = [getattr(r, top) / getattr(r, bottom) for r in full]
        pooled = sum(getattr(r, top) for r in full) / sum(getattr(r, bottom) for r in full)
        yield name, mean(ratios), median(ratios), pooled
    ratios = [r.diverted_share for r in full]
    water = [r.tile_mm * r.area_ha for r in full]
    pooled = sum(r.diverted_mm * r.area_ha for r in full) / sum(water)
    yield "water diverted of all", mean(ratios), median(ratios), pooled


if __name__ == "__main__":
    main(sys.argv[1:])
