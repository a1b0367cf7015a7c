# SPDX-License-Identifier: Apache-2.0
"""The field model on measured plots: the defaults, and a soil fitted to half of the years.

Plots with free drainage of the two fields with complete rain. Soil is fitted as `tilewater water
--fit` does it, and conductivity too, which nobody measured at these plots.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from tilewater.hydrology.drain_flow import treated_share_exponential
from tilewater.hydrology.field import simulate_field
from tilewater.hydrology.field_calibration import (
    FREE,
    FieldFit,
    FlowDays,
    Trial,
    fit_soil,
)
from tilewater.hydrology.field_parts import FieldSoil
from tilewater.hydrology.flow_record import capacity_for_share, share_within_capacity
from tools.measured_fields import CAPACITY, simulated
from tools.measured_flow import CAPACITIES, plots
from tools.measured_plots import MM_PER_DAY, Plot, Series, read_plots

FITTED = (*FREE, "conductivity")
TREATED = 0.60
"""Share of the water for which a capacity is looked for."""


@dataclass(frozen=True, eq=False)
class FittedPlot:
    """A plot with free drainage, its measured days and the fit to them.

    Attributes
    ----------
    title : str
    days : FlowDays
    field : FieldFit
    default : array
        Simulated with the defaults. [m/s]
    runs : tuple of array
        Simulated with the soil of each trial. [m/s]
    """

    title: str
    days: FlowDays
    field: FieldFit
    default: Series
    runs: tuple[Series, ...]


@cache
def fitted_plots(folder: Path) -> tuple[FittedPlot, ...]:
    """Plots with free drainage in the order of their names, each with its fit."""
    found = read_plots(folder)[1]
    free = sorted(
        (p for p in found if p.outlet == "FD"), key=lambda plot: (plot.site.name, plot.name)
    )
    return tuple(_fitted(folder, plot) for plot in free)


def _fitted(folder: Path, plot: Plot) -> FittedPlot:
    weather = simulated(folder, plot.site, "FD").weather
    months = weather.dates.astype("datetime64[M]").astype(np.int64) % 12 + 1
    days = FlowDays(plot.flow * MM_PER_DAY, weather.years, months)

    def run(soil: FieldSoil) -> Series:
        return simulate_field(weather, drains=plot.site.drains, soil=soil).drain_flow

    field = fit_soil(run, days, free=FITTED)
    default = simulated(folder, plot.site, "FD").drain_flow
    runs = tuple(run(trial.fit.soil) for trial in field.trials)
    return FittedPlot(f"{plot.site.name} {plot.name}", days, field, default, runs)


@dataclass(frozen=True)
class Shares:
    """Share caught by a capacity, and capacity for a share, on the years a trial was tried on.

    Attributes
    ----------
    caught, sixty : tuple of float
        Measured, with the defaults, and with the soil fitted to the other years. [-], [mm/day]
    """

    caught: tuple[float, ...]
    sixty: tuple[float, ...]


def shares_of(plot: FittedPlot, number: int) -> Shares:
    """What a fixed capacity catches on the years that a trial was not fitted to."""
    there = np.isfinite(plot.days.of(plot.field.trials[number].years).flow)
    series = [flow[there] for flow in (plot.days.flow, plot.default, plot.runs[number])]
    return Shares(
        tuple(share_within_capacity(each, 1.0, CAPACITY * MM_PER_DAY) for each in series),
        tuple(capacity_for_share(each, 1.0, TREATED) / MM_PER_DAY for each in series),
    )


@dataclass(frozen=True)
class FieldShare:
    """Share of the water within a capacity, on one plot: measured and by the screening figure."""

    title: str
    capacity_mm: float
    measured: float
    screening: float


def field_shares(folder: Path) -> Iterator[FieldShare]:
    """Every plot with free drainage and enough days, at every capacity of its page."""
    for plot in plots(folder):
        flow = plot.daily_depth
        mean = float(flow[flow > 0.0].mean())
        for capacity in CAPACITIES:
            within = capacity * MM_PER_DAY
            yield FieldShare(
                plot.title,
                capacity,
                share_within_capacity(flow, 1.0, within),
                treated_share_exponential(within, mean),
            )


def trials_of(found: tuple[FittedPlot, ...]) -> tuple[Trial, ...]:
    """Every trial of every plot."""
    return tuple(trial for plot in found for trial in plot.field.trials)
