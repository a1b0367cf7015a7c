# SPDX-License-Identifier: Apache-2.0
"""Writes the page on raised outlets: what measured pairs of plots kept back, beside the model.

    python -m tools.measured_raised FOLDER

FOLDER holds `drain-flow/daily_drain_flow.csv`, which is not part of this repository. Nothing is
tuned to these plots.
"""

import csv
import os
import sys
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from tilewater.chain.drain_flow_range import drain_flow_range
from tilewater.hydrology.daily_weather import DailyWeather
from tilewater.hydrology.field import simulate_field
from tilewater.hydrology.field_parts import FieldSoil
from tilewater.nitrate.parameter_ranges import draw_parameters
from tilewater.practices.raised.draws import draw_fields, field_ranges, soil_of_draw
from tools.measured_plots import (
    DATA,
    SITES,
    Series,
    Site,
    outlet_heights,
    read_plots,
    weather_of,
)
from tools.package import ROOT

PAGE = ROOT / "docs" / "raised-outlets.md"
DRAWS = 64
LEFT_IN = (2013, 2014)
"""Years in which the boards of SERF_IA stayed in."""
FULL_YEAR = 300
"""Days on which all plots of a site were measured, from which a year is compared."""

HEAD = """\
# Raised outlets

What pairs of plots kept back behind raised outlets, free drains beside them, and what the field
model keeps back on the same days. Written by `python -m tools.measured_raised`; a test compares
this page with the data. **Nothing was tuned to these plots.** Weather, drains and boards are those
of the page on simulated fields; the range is that of {draws} draws of the soil, as a design has it,
P10 to P90.

Measured days: repository gioscript/Missing-Drainage-Data, commit 25330b00, Apache-2.0 licence; not
part of this repository. Only days on which every plot of a pair was measured count. Kept back is 1
less the drain flow of the plots with boards over that of those without.

## Pairs

"""

COLUMNS = (
    "site",
    "free",
    "raised",
    "days",
    "free, mm a year",
    "raised, mm a year",
    "kept back",
    "by the model",
    "range",
)

YEARS = """
## Years of sites that the model was run for

| site | year | measured | by the model |
| --- | --- | --- | --- |
"""

MEANING = """
## What it means

{words}
"""


@dataclass(frozen=True, eq=False)
class Pair:
    """Plots of a site without and with boards, on the days that all were measured."""

    site: str
    free: tuple[str, ...]
    raised: tuple[str, ...]
    dates: np.ndarray
    free_flow: Series
    raised_flow: Series

    @property
    def kept(self) -> float:
        """Share of the drain flow that the boards kept back. [-]"""
        return 1.0 - float(self.raised_flow.sum() / self.free_flow.sum())


@cache
def pairs(folder: Path) -> tuple[Pair, ...]:
    """Every site with free and controlled plots, in the order of their names."""
    flows: dict[str, dict[str, dict[str, float]]] = defaultdict(lambda: defaultdict(dict))
    kinds: dict[tuple[str, str], str] = {}
    with (folder / DATA).open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            kinds[row["siteid"], row["plotid"]] = row["dwm"]
            if row["flow"] != "NA":
                flows[row["siteid"]][row["plotid"]][row["date"]] = float(row["flow"])
    found = []
    for site in sorted(flows):
        free, raised = (
            tuple(sorted(plot for plot in flows[site] if kinds[site, plot] == kind))
            for kind in ("FD", "CD")
        )
        common = sorted(set.intersection(*(set(flows[site][p]) for p in (*free, *raised))))
        means = [
            np.mean([[flows[site][plot][day] for day in common] for plot in plots], axis=0)
            for plots in (free, raised)
        ]
        found.append(Pair(site, free, raised, np.array(common, dtype="datetime64[D]"), *means))
    return tuple(found)


@cache
def kept_by_model(folder: Path, site: Site) -> tuple[Series, Series, Series]:
    """Daily flow without and with boards by the middle of the soil, and what each draw keeps."""
    weather = _weather(folder, site)
    pair = next(p for p in pairs(folder) if p.site == site.name)
    days = (pair.dates - np.datetime64(weather.first_day, "D")).astype(np.int64)
    heights = boards(site, weather)
    ranges = field_ranges(drain_flow_range("simulated"))
    draws = draw_fields(draw_parameters(ranges.values(), DRAWS, seed=1), DRAWS)
    shares: list[float] = []
    for soil in (FieldSoil(), *(soil_of_draw(FieldSoil(), draw) for draw in draws)):
        out, held = (
            simulate_field(weather, soil=soil, drains=site.drains, outlet_height=height).drain_depth
            for height in (0.0, heights)
        )
        if not shares:
            middle = 1000.0 * out[days], 1000.0 * held[days]
        shares.append(1.0 - float(held[days].sum() / out[days].sum()))
    return *middle, np.array(shares)


def boards(site: Site, weather: DailyWeather) -> Series:
    """Water over the drains by the calendar of the site, and where its boards stayed in."""
    heights = outlet_heights(site, weather)
    if site.name == "SERF_IA":
        stayed = np.isin(weather.years, LEFT_IN)
        heights = np.where(stayed, heights.max(), heights)
    return heights


def _weather(folder: Path, site: Site) -> DailyWeather:
    first, rain = read_plots(folder)[0][site.name]
    return weather_of(site, first, rain)


def page(folder: Path) -> str:
    """Return the page for the data in a folder."""
    lines = [HEAD.format(draws=DRAWS).rstrip(), ""]
    lines += [f"| {' | '.join(COLUMNS)} |", "| --- " * len(COLUMNS) + "|"]
    lines += [_row(folder, pair) for pair in pairs(folder)]
    lines += [YEARS.rstrip()]
    for site in SITES:
        lines += _years(folder, site)
    lines += [MEANING.format(words=_meaning(folder)).rstrip()]
    return "\n".join(lines) + "\n"


def _row(folder: Path, pair: Pair) -> str:
    mm = [365.25 * float(flow.mean()) for flow in (pair.free_flow, pair.raised_flow)]
    site = next((s for s in SITES if s.name == pair.site), None)
    model, spread = "not run", "-"
    if site is not None:
        shares = kept_by_model(folder, site)[2]
        low, high = np.quantile(shares[1:], (0.1, 0.9))
        model, spread = f"{shares[0]:.2f}", f"{low:.2f} to {high:.2f}"
    return (
        f"| {pair.site} | {', '.join(pair.free)} | {', '.join(pair.raised)} | {pair.dates.size:,} "
        f"| {mm[0]:.0f} | {mm[1]:.0f} | {pair.kept:.2f} | {model} | {spread} |"
    )


def _years(folder: Path, site: Site) -> Iterator[str]:
    pair = next(p for p in pairs(folder) if p.site == site.name)
    out, held, _ = kept_by_model(folder, site)
    years = pair.dates.astype("datetime64[Y]").astype(np.int64) + 1970
    for year in np.unique(years):
        of = years == year
        if of.sum() >= FULL_YEAR and pair.free_flow[of].sum() > 0 and out[of].sum() > 0:
            measured = 1.0 - pair.raised_flow[of].sum() / pair.free_flow[of].sum()
            ours = 1.0 - held[of].sum() / out[of].sum()
            yield f"| {site.name} | {year} | {measured:.2f} | {ours:.2f} |"


def _meaning(folder: Path) -> str:
    every = [pair.kept for pair in pairs(folder)]
    run = {site.name: kept_by_model(folder, site)[2] for site in SITES}
    measured = {pair.site: pair.kept for pair in pairs(folder)}
    said = [
        f"* Boards kept back {min(every):.2f} to {max(every):.2f} of the drain flow of free plots, "
        f"at {sum(kept > 0 for kept in every)} of {len(every)} sites less water with boards than "
        "without.",
    ]
    for name, shares in run.items():
        low, high = np.quantile(shares[1:], (0.1, 0.9))
        inside = low <= measured[name] <= high
        said.append(
            f"* At {name} the model keeps back {shares[0]:.2f}, {low:.2f} to {high:.2f} over the "
            f"draws; measured was {measured[name]:.2f}, "
            f"{'within' if inside else 'outside'} that range."
        )
    said += [
        "* Over all years the direction is right at both sites and the size too small at both, at "
        "SERF_IA by far: what seeps to the side is not in the model, and plots beside others that "
        "drain deeper lose most that way. A field that is raised as a whole has only its edges.",
        "* Single years of the model may have the wrong sign: water that is held over the end of "
        "one year comes out in the next.",
        "* So what a design says is kept back is low rather than high, and what does not come by "
        "the drains is not known to stay: water that went to a neighbouring drain took its nitrate "
        "with it.",
        "* Of the other sites temperature or the calendar of the boards is not at hand, so the "
        "model was not run for them.",
    ]
    return "\n".join(said)


def main(words: list[str]) -> None:
    """Write the page from the data in the folder that is named, or that the environment names."""
    folder = words[0] if words else os.environ.get("TILEWATER_FIELD_DATA", "")
    if not folder:
        raise SystemExit("Name the folder of the field data, or set TILEWATER_FIELD_DATA to it.")
    PAGE.write_text(page(Path(folder)), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
