# SPDX-License-Identifier: Apache-2.0
"""Fits the soil of the daily field model to a measured record of drain flow, within stated bounds.

A few values of the soil are moved inside the usual ranges of the table `practice_field_defaults`;
what the job states itself is left alone. The search is the same each time. What is fitted to some
years is tried on the others, both ways round, since only that says what it is worth elsewhere.

Not in it: how sure the fitted values are. Several sets of values fit about as well, and a value
that ends on a bound stands for something that the model lacks.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain
from tilewater.hydrology.daily_weather import Series
from tilewater.hydrology.field_bounds import Bounds, bounds_of
from tilewater.hydrology.field_parts import FieldSoil
from tilewater.hydrology.goodness import (
    Months,
    bias,
    days_without_flow_share,
    kling_gupta,
    nash_sutcliffe,
    season_errors,
)

SEED = 1926
"""Where the search begins, so that it is the same each time."""
SCATTERED = 64
"""Sets of values that are tried first, spread over the bounds."""
FIRST_STEP, LAST_STEP = 0.125, 0.01
"""Steps of the refinement, as shares of the way from bound to bound."""
LEAST_DAYS = 200
"""Measured days from which a calendar year counts. [days]"""
FREE = (
    "drainable-porosity",
    "water-capacity",
    "deep-seepage",
    "upward-flux-at-one-metre",
    "infiltration",
    "surface-storage",
)
"""Values that are moved where the job does not state them, by their rows of the defaults."""

Values = Mapping[str, float]
Run = Callable[[FieldSoil], Series]


@dataclass(frozen=True, eq=False)
class FlowDays:
    """Measured days of a record, beside which a run is judged.

    Attributes
    ----------
    flow : array
        Measured flow of each day of the run, nan where it was not measured. [m/s]
    year, month : array of int
        Of each day of the run.
    """

    flow: Series
    year: NDArray[np.int64]
    month: Months

    @property
    def years(self) -> tuple[int, ...]:
        """Calendar years with enough measured days."""
        found, days = np.unique(self.year[np.isfinite(self.flow)], return_counts=True)
        return tuple(int(y) for y, n in zip(found, days, strict=True) if n >= LEAST_DAYS)

    def of(self, years: tuple[int, ...]) -> "FlowDays":
        """The same days, measured in some of the years alone."""
        return replace(self, flow=np.where(np.isin(self.year, years), self.flow, np.nan))


@dataclass(frozen=True)
class Goodness:
    """How near a run comes to the measured days.

    Attributes
    ----------
    bias, nash_sutcliffe, kling_gupta : float
    without_flow, without_flow_measured : float
        Shares of the days without flow.
    seasons : tuple of float
        Errors of the quarters as shares of all measured water.
    """

    bias: float
    nash_sutcliffe: float
    kling_gupta: float
    without_flow: float
    without_flow_measured: float
    seasons: tuple[float, ...]

    @property
    def objective(self) -> float:
        """What the fit makes small; see `fit_soil`. [-]"""
        return (1.0 - self.kling_gupta) + abs(self.without_flow - self.without_flow_measured)


def goodness_of(simulated: Series, days: FlowDays) -> Goodness:
    """How near a run of the field comes to the measured days.

    Parameters
    ----------
    simulated : array
        Simulated flow of each day. [m/s]
    days : FlowDays
        Measured flow of the same days, nan where there is none. [-]

    Returns
    -------
    Goodness
        Bias, efficiencies, days without flow and errors of the quarters. [-]

    Raises
    ------
    OutOfDomain
        If no day was measured or nothing flowed.
    """
    there = np.isfinite(days.flow)
    ours, measured = simulated[there], days.flow[there]
    return Goodness(
        bias(ours, measured),
        nash_sutcliffe(ours, measured),
        kling_gupta(ours, measured),
        days_without_flow_share(ours),
        days_without_flow_share(measured),
        season_errors(ours, measured, days.month[there]),
    )


@dataclass(frozen=True)
class Fit:
    """A soil that was fitted to some years.

    Attributes
    ----------
    years : tuple of int
        Years that it was fitted to.
    values : mapping of str to float
        Fitted values by their rows of the defaults, in the units of the rows.
    soil : FieldSoil
    before, after : Goodness
        Of the soil as it was, and of the fitted one, on those years.
    on_bound : tuple of str
        Values that ended on a bound.
    """

    years: tuple[int, ...]
    values: Values
    soil: FieldSoil
    before: Goodness
    after: Goodness
    on_bound: tuple[str, ...]


@dataclass(frozen=True)
class Trial:
    """A fit, tried on the years that it was not fitted to.

    Attributes
    ----------
    fit : Fit
    years : tuple of int
        Years that it was tried on.
    before, after : Goodness
        Of the soil as it was, and of the fitted one, on those years.
    """

    fit: Fit
    years: tuple[int, ...]
    before: Goodness
    after: Goodness


@dataclass(frozen=True)
class FieldFit:
    """A soil fitted to all years, and what half of the years say of the other half.

    Attributes
    ----------
    fit : Fit
        To all years.
    trials : tuple of Trial
        Fitted to the first half and tried on the second, and the other way round.
    """

    fit: Fit
    trials: tuple[Trial, ...]

    @property
    def holds(self) -> bool:
        """Whether every half, fitted, comes nearer to the other half than the soil as it was."""
        return all(trial.after.objective < trial.before.objective for trial in self.trials)


@dataclass(eq=False)
class _Search:
    """Runs of the field by what was moved; remembered, since the halves ask for the same."""

    run: Run
    soil: FieldSoil
    bounds: tuple[Bounds, ...]
    seed: int
    done: dict[tuple[float, ...], Series] = field(default_factory=dict)

    def soil_at(self, values: tuple[float, ...]) -> FieldSoil:
        moved = {
            name: bound.in_si(value)
            for bound, value in zip(self.bounds, values, strict=True)
            for name in bound.names
        }
        return replace(self.soil, **moved)

    def flow(self, values: tuple[float, ...]) -> Series:
        if values not in self.done:
            self.done[values] = self.run(self.soil_at(values))
        return self.done[values]

    def start(self) -> tuple[float, ...]:
        """The soil as it was, in the units of the rows."""
        return tuple(bound.of(self.soil) for bound in self.bounds)

    def best(self, days: FlowDays) -> tuple[float, ...]:
        """Values with the least objective; the soil as it was where nothing is better."""

        def miss(values: tuple[float, ...]) -> float:
            return goodness_of(self.flow(values), days).objective

        best = self.start()
        least = miss(best)
        for values in self._scattered():
            if (here := miss(values)) < least:
                best, least = values, here
        step = FIRST_STEP
        while step >= LAST_STEP:
            found, here = best, least
            for values in self._around(best, step):
                if (near := miss(values)) < here:
                    found, here = values, near
            if here < least:
                best, least = found, here
            else:
                step /= 2.0
        return best

    def _scattered(self) -> Iterator[tuple[float, ...]]:
        draws = np.random.default_rng(self.seed)
        rows = np.array([draws.permutation(SCATTERED) for _ in self.bounds], dtype=np.float64)
        for column in ((rows + draws.random(rows.shape)) / SCATTERED).T.tolist():
            yield tuple(b.at(place) for b, place in zip(self.bounds, column, strict=True))

    def _around(self, values: tuple[float, ...], step: float) -> Iterator[tuple[float, ...]]:
        for number, bound in enumerate(self.bounds):
            for way in (step, -step):
                moved = bound.at(bound.place(values[number]) + way)
                if moved != values[number]:
                    yield (*values[:number], moved, *values[number + 1 :])

    def fit(self, days: FlowDays, years: tuple[int, ...]) -> Fit:
        chosen = days.of(years)
        best = self.best(chosen)
        pairs = tuple(zip(self.bounds, best, strict=True))
        return Fit(
            years,
            {bound.slug: value for bound, value in pairs},
            self.soil_at(best),
            goodness_of(self.run(self.soil), chosen),
            goodness_of(self.flow(best), chosen),
            tuple(bound.slug for bound, value in pairs if value in (bound.low, bound.high)),
        )

    def trial(self, days: FlowDays, fitted: tuple[int, ...], tried: tuple[int, ...]) -> Trial:
        fit, other = self.fit(days, fitted), days.of(tried)
        before, after = (goodness_of(self.run(soil), other) for soil in (self.soil, fit.soil))
        return Trial(fit, tried, before, after)


def fit_soil(
    run: Run,
    days: FlowDays,
    *,
    soil: FieldSoil | None = None,
    free: tuple[str, ...] = FREE,
    seed: int = SEED,
) -> FieldFit:
    """Fit values of the soil to measured drain flow, and try each half of the years on the other.

    Parameters
    ----------
    run : callable
        Gives the flow of each day for a soil, in m/s. [-]
    days : FlowDays
        Measured flow of the same days. [-]
    soil : FieldSoil, optional
        Soil to begin with; left out, that of the defaults. [-]
    free : tuple of str
        Values that are moved, by their rows of the defaults. [-]
    seed : int
        Where the search begins. [-]

    Returns
    -------
    FieldFit
        The fit to all years, and two trials: halves of the years in their order. [-]

    Raises
    ------
    OutOfDomain
        If fewer than two calendar years were measured, nothing is free, or a free value of the
        soil begins outside its bounds.

    Notes
    -----
    J = (1 - KGE) + |d_s - d_o|    (derived)

    KGE is that of the daily flow, d the share of days without flow, simulated and observed. Values
    are spread over their usual ranges by Latin hypercube (mckay1979), then the best set is moved
    one value at a time, up and down, to the best of these neighbours; the step is halved where
    none is better (hooke1961). Values have three figures. The soil as it was is one of the sets,
    so J of the years that are fitted never grows. Years in two halves, each tried on the other:
    klemes1986.

    References
    ----------
    gupta2009, criterion with unit weights
    klemes1986, split-sample test
    mckay1979, Latin hypercube
    hooke1961, search by steps, without its jumps along a pattern
    derived, the sum of both misses, unweighted
    """
    if not free:
        raise OutOfDomain(
            "free has 0 values. At least one value of the soil is moved. Leave one to the defaults."
        )
    years = days.years
    if len(years) < 2:
        raise OutOfDomain(
            f"The record has {len(years)} calendar years with {LEAST_DAYS} measured days or more. "
            f"Two are needed, one to fit and one to try. Measure longer."
        )
    search = _Search(run, soil or FieldSoil(), tuple(bounds_of(slug) for slug in free), seed)
    middle = (len(years) + 1) // 2
    first, second = years[:middle], years[middle:]
    trials = search.trial(days, first, second), search.trial(days, second, first)
    return FieldFit(search.fit(days, years), trials)
