# SPDX-License-Identifier: Apache-2.0
"""Writes the page on simulated fields: the field model beside plots where drain flow was measured.

    python -m tools.measured_fields FOLDER

FOLDER holds `drain-flow/daily_drain_flow.csv`, which is not part of this repository. Nothing is
tuned to these fields: what is known of them is used, the rest are the defaults of the program.
"""

import math
import os
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.field import FieldRun, simulate_field
from tilewater.hydrology.field_parts import FieldSoil
from tilewater.hydrology.flow_record import capacity_for_share, share_within_capacity
from tools.measured_plots import (
    MM_PER_DAY,
    SITES,
    Plot,
    Series,
    Site,
    outlet_heights,
    read_plots,
    weather_of,
)
from tools.package import ROOT

PAGE = ROOT / "docs" / "simulated-fields.md"
NO_FLOW = 0.01
"""Less than a weir can show counts as no flow. [mm/day]"""
FULL_YEAR = 330
"""Recorded days from which a year is compared."""
SEASONS = ((1, 3), (4, 6), (7, 9), (10, 12))
DRY = (6, 7, 10, 11, 12)
"""Months in which most of the missing days of flow lie."""
CAPACITY = 1.27
"""10 percent of half an inch a day. [mm/day]"""

HEAD = """\
# Simulated fields

The field model beside plots where drain flow was measured, on their own rain. Written by
`python -m tools.measured_fields`; a test compares this page with the data. **Nothing was tuned to
these fields.** Depth and spacing of the drains are those of the plots, the capacity of SERF_IA is
its coefficient of 3/4 in a day; soil, crops (corn and soybean in turn), deep seepage, snow and
frost are the defaults of the program.

Measured days: repository gioscript/Missing-Drainage-Data, commit 25330b00, Apache-2.0 licence; not
part of this repository. The records hold no temperature. It is made from monthly normals (from
memory, good to about 1 degC), straight between the middles of months, with a swing of each day that
remembers 65 percent of the day before, of a standard deviation from 5.5 degC in January to 2.6 in
July, and a daily range of 9 to 11 degC; one seed for all. So snow and frost fall on other days than
they did, and reference evapotranspiration is that of Hargreaves and Samani. Only days with a
measured flow are compared; less than {no_flow} mm a day counts as no flow.

## A mean year

"""

COLUMNS = (
    "plot",
    "outlet",
    "days",
    "mm a year",
    "Jan-Mar",
    "Apr-Jun",
    "Jul-Sep",
    "Oct-Dec",
    "days without flow",
    "99th percentile, mm",
    f"caught by {CAPACITY} mm/day",
    "mm/day for 60 %",
)

YEARS = """
## Years with free drainage, mm

Measured on the recorded days of each plot with at least {full} of them, and simulated on the same
days.

| site | year | rain | first plot | second plot | simulated |
| --- | --- | --- | --- | --- | --- |
"""

MEANING = """
## What it means

{words}
"""


@dataclass(frozen=True)
class Figures:
    """Figures of a mean year of one series."""

    days: int
    depth_mm: float
    seasons: tuple[float, ...]
    no_flow: float
    high_mm: float
    caught: float
    sixty_mm: float


@cache
def simulated(folder: Path, site: Site, outlet: str) -> FieldRun:
    """The field as the plots of one kind of outlet."""
    weather = weather_of(site, *read_plots(folder)[0][site.name])
    if outlet == "SH":
        return simulate_field(weather, drains=site.shallow)
    raised = outlet_heights(site, weather) if outlet == "CD" else 0.0
    return simulate_field(weather, drains=site.drains, outlet_height=raised)


@cache
def simulated_at_once(folder: Path, site: Site) -> FieldRun:
    """The field with free drains, if what passes the roots came to the table the same day."""
    weather = simulated(folder, site, "FD").weather
    return simulate_field(weather, drains=site.drains, soil=FieldSoil(loss_at_one_metre=0.0))


def figures(flow: Series, month: NDArray[np.int64]) -> Figures:
    """Figures of the days that have a value, in mm a day."""
    there = np.isfinite(flow)
    mm, month = flow[there], month[there]
    total = float(mm.sum())
    in_season = [(month >= first) & (month <= last) for first, last in SEASONS]
    return Figures(
        mm.size,
        365.25 * float(mm.mean()),
        tuple(float(mm[season].sum()) / total for season in in_season),
        float((mm < NO_FLOW).mean()),
        float(np.quantile(mm, 0.99)),
        share_within_capacity(mm * MM_PER_DAY, 1.0, CAPACITY * MM_PER_DAY),
        capacity_for_share(mm * MM_PER_DAY, 1.0, 0.60) / MM_PER_DAY,
    )


def pair(folder: Path, plot: Plot) -> tuple[Series, Series, DailyWeather]:
    """Measured and simulated flow of the same days, in mm a day, and the weather."""
    run = simulated(folder, plot.site, plot.outlet)
    return plot.flow, flow_of(run, plot), run.weather


def flow_of(run: FieldRun, plot: Plot) -> Series:
    """Simulated flow on the days on which a plot was measured, in mm a day."""
    return np.where(np.isfinite(plot.flow), 1000.0 * run.drain_depth, math.nan)


def page(folder: Path) -> str:
    """Return the page for the data in a folder."""
    plots = sorted(read_plots(folder)[1], key=lambda p: (p.site.name, "FD CD SH".find(p.outlet)))
    lines = [HEAD.format(no_flow=NO_FLOW).rstrip(), ""]
    lines += [f"| {' | '.join(COLUMNS)} |", "| --- " * len(COLUMNS) + "|"]
    for plot in plots:
        lines += _mean_year(folder, plot)
    free = [plot for plot in plots if plot.outlet == "FD"]
    lines += [YEARS.format(full=FULL_YEAR).rstrip()]
    for site in SITES:
        lines += _years(folder, [plot for plot in free if plot.site is site])
    lines += [MEANING.format(words=_meaning(folder, plots)).rstrip()]
    return "\n".join(lines) + "\n"


def _mean_year(folder: Path, plot: Plot) -> Iterator[str]:
    measured, ours = _both(folder, plot)
    outlet = {"FD": "free", "CD": "raised by calendar", "SH": "free, shallow"}[plot.outlet]
    for f, title in ((measured, f"{plot.site.name} {plot.name}"), (ours, "simulated")):
        seasons = " | ".join(f"{share:.2f}" for share in f.seasons)
        yield (
            f"| {title} | {outlet} | {f.days:,} | {f.depth_mm:.0f} | {seasons} "
            f"| {f.no_flow:.2f} | {f.high_mm:.1f} | {f.caught:.2f} | {f.sixty_mm:.1f} |"
        )


def _years(folder: Path, plots: list[Plot]) -> Iterator[str]:
    pairs = [pair(folder, plot) for plot in plots]
    weather = pairs[0][2]
    for year in np.unique(weather.years):
        of_year = weather.years == year
        cells, ours = [], []
        for measured, simulation, _ in pairs:
            there = of_year & np.isfinite(measured)
            if there.sum() < FULL_YEAR:
                cells.append("-")
            else:
                cells.append(f"{measured[there].sum():.0f}")
                ours.append(float(simulation[there].sum()))
        if ours:
            rain = 1000.0 * float(weather.precipitation[of_year].sum())
            shown = " to ".join(f"{value:.0f}" for value in sorted({round(v) for v in ours}))
            yield (
                f"| {plots[0].site.name} | {year} | {rain:.0f} | {' | '.join(cells)} | {shown} |"
            )


def _meaning(folder: Path, plots: list[Plot]) -> str:
    """What fits and what does not, in words with the numbers of the tables."""
    said = []
    for outlet, words in (
        ("FD", "free drainage"),
        ("CD", "a raised outlet"),
        ("SH", "shallow drains"),
    ):
        found = [_both(folder, plot) for plot in plots if plot.outlet == outlet]
        ratios = [ours.depth_mm / measured.depth_mm for measured, ours in found]
        said.append(
            f"* With {words} the simulated depth is {min(ratios):.2f} to {max(ratios):.2f} of the "
            f"measured one."
        )
    together = [correlation_of_years(folder, plot) for plot in plots if plot.outlet == "FD"]
    said.append(
        f"* Years of the plots with free drainage go together with a correlation of "
        f"{min(together):.2f} to {max(together):.2f}."
    )
    free = [_both(folder, plot) for plot in plots if plot.outlet == "FD"]
    dry = [(measured.no_flow, ours.no_flow) for measured, ours in free]
    summer = [(measured.seasons[2], ours.seasons[2]) for measured, ours in free]
    winter = [(measured.seasons[0], ours.seasons[0]) for measured, ours in free]
    caught = [(measured.caught, ours.caught) for measured, ours in free]
    high = [(measured.high_mm, ours.high_mm) for measured, ours in free]
    said += [
        f"* Free drains run on fewer days than measured: {_ends(dry)} of the days have no flow.",
        _delay_words(folder, [plot for plot in plots if plot.outlet == "FD"]),
        f"* July to September brings almost nothing: {_ends(summer)} of the year. The model fills "
        f"the roots before it drains, and has no cracks and worm holes through which a storm "
        f"passes dry soil.",
        f"* January to March brings more: {_ends(winter)}. Neither the temperatures nor the snow "
        f"are those of the days.",
        f"* So the flow comes in fewer days, and a capacity of {CAPACITY} mm/day catches less of "
        f"it: {_ends(caught)}. A treated share that rests on a simulated field is low by this.",
        f"* The 99th percentile of the days is {_ends(high, 1)} mm; at DPAC it is the default "
        f"capacity of the main.",
        "* Raised and shallow plots give far less than the model. It has no seepage to the side "
        "here, and these are small plots beside others that drain deeper; the boards of SERF_IA "
        "also stayed in through 2013 and 2014. How much each of these explains is not known.",
    ]
    return "\n".join(said)


def _delay_words(folder: Path, plots: list[Plot]) -> str:
    """What the delay below the roots and the dry months do to the days without flow."""
    ours = [_both(folder, plot)[1].no_flow for plot in plots]
    once, deep, dry = [], [], []
    for plot in plots:
        run = simulated_at_once(folder, plot.site)
        once.append(figures(flow_of(run, plot), _months(run.weather)).no_flow)
        run = simulated(folder, plot.site, "FD")
        month = _months(run.weather)
        autumn = (month == 10) | (month == 11)
        deep.append(float(run.table_depth[autumn].mean()) - plot.site.drains.depth)
        missing = (plot.flow >= NO_FLOW).astype(int) - (flow_of(run, plot) >= NO_FLOW)
        dry.append(float(missing[np.isin(month, DRY)].sum() / missing.sum()))
    return (
        f"* The delay below the roots explains hardly any of them: without it the share is "
        f"{min(once):.3f} to {max(once):.3f}, with it {min(ours):.3f} to {max(ours):.3f}. While "
        f"the drains run, the table stands close under the roots and the way is short. Of the "
        f"missing days {min(dry):.2f} to {max(dry):.2f} lie in June, July and the last three "
        f"months; in October and November the simulated table stands {min(deep):.1f} to "
        f"{max(deep):.1f} m under the drains."
    )


def correlation_of_years(folder: Path, plot: Plot) -> float:
    """Correlation of measured and simulated depths over the years with enough days."""
    measured, ours, weather = pair(folder, plot)
    sums = [
        (measured[there].sum(), ours[there].sum())
        for year in np.unique(weather.years)
        if (there := (weather.years == year) & np.isfinite(measured)).sum() >= FULL_YEAR
    ]
    return float(np.corrcoef(np.array(sums).T)[0, 1])


def _both(folder: Path, plot: Plot) -> tuple[Figures, Figures]:
    measured, ours, weather = pair(folder, plot)
    month = _months(weather)
    return figures(measured, month), figures(ours, month)


def _months(weather: DailyWeather) -> NDArray[np.int64]:
    """Month of each day."""
    months: NDArray[np.int64] = weather.dates.astype("datetime64[M]").astype(np.int64) % 12 + 1
    return months


def _ends(pairs: list[tuple[float, float]], digits: int = 2) -> str:
    """Ranges of what was measured and what was simulated."""
    measured, ours = zip(*pairs, strict=True)
    return (
        f"simulated {min(ours):.{digits}f} to {max(ours):.{digits}f}, "
        f"measured {min(measured):.{digits}f} to {max(measured):.{digits}f}"
    )


def main(words: list[str]) -> None:
    """Write the page from the data in the folder that is named, or that the environment names."""
    folder = words[0] if words else os.environ.get("TILEWATER_FIELD_DATA", "")
    if not folder:
        raise SystemExit("Name the folder of the field data, or set TILEWATER_FIELD_DATA to it.")
    PAGE.write_text(page(Path(folder)), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
