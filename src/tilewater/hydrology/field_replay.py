# SPDX-License-Identifier: Apache-2.0
"""One day of a field worked again by the readable twin, with every value on the way by its name.

A number of a simulated day has no trace of its own; this is how it is explained.
"""

import datetime
from dataclasses import dataclass

from tilewater.hydrology import _field as kernel
from tilewater.hydrology._field_delay import Passed, let_down
from tilewater.hydrology._field_drain import (
    Drained,
    Outlet,
    drain_beside_inlets,
    drain_freely,
    drain_in_phases,
    outlet_at,
    table_height,
)
from tilewater.hydrology._field_ground import (
    FROZEN,
    SATURATED,
    Cold,
    Taken,
    Wetted,
    keep_cold,
    take_water,
    wet_ground,
)
from tilewater.hydrology.field import FieldRun, flag_names
from tilewater.hydrology.field_inputs import KernelInputs, empty_daily


@dataclass(frozen=True)
class DayReplay:
    """A day of a field with all that was computed on the way; depths in m, a day as unit of time.

    Attributes
    ----------
    date : datetime.date
    values : tuple of (str, float, str)
        Name, value and unit, in the order of the computation.
    branches : tuple of str
        Branches that the day took.
    state_after : State
        What the field held at the end.
    """

    date: datetime.date
    values: tuple[tuple[str, float, str], ...]
    branches: tuple[str, ...]
    state_after: kernel.State

    def value(self, name: str) -> float:
        """Value of a name."""
        return {key: value for key, value, _ in self.values}[name]


UNITS = {
    "frost": "degC-day",
    "temperature": "degC",
    "capacity": "m/day",
    "flux_highest": "m/day",
    "slope": "1/day",
    "kept": "-",
    "gain": "1/m",
    "stress_factor": "-",
    "at_pond": "days",
    "at_surface": "days",
    "at_capacity": "days",
    "time": "days",
    "flags": "-",
}
"""Units of the values that are not in m."""


def state_before(run: FieldRun, date: datetime.date) -> kernel.State:
    """What a field held at the midnight before a day.

    Parameters
    ----------
    run : FieldRun
        The run. [-]
    date : datetime.date
        The day. [-]

    Returns
    -------
    State
        Snow, frost, standing water, depletion of the roots, water above the drains and on its way
        to the table. [-]

    Raises
    ------
    OutOfDomain
        If the day is not in the record.
    """
    number = run.weather.number_of(date)
    given = run.inputs
    daily = empty_daily(max(number, 1))
    state = kernel.run_field(given.weather, 0, number, run.start, given.soil, given.drains, daily)
    return kernel.State(*(float(value) for value in state))


def replay_day(run: FieldRun, date: datetime.date) -> DayReplay:
    """Work one day of a field again, step by step.

    Parameters
    ----------
    run : FieldRun
        The run. [-]
    date : datetime.date
        The day. [-]

    Returns
    -------
    DayReplay
        Every value on the way. [-]

    Raises
    ------
    OutOfDomain
        If the day is not in the record.
    """
    number = run.weather.number_of(date)
    before = state_before(run, date)
    given = run.inputs
    brought = {name: float(series[number]) for name, series in given.weather._asdict().items()}
    cold, taken, wetted, passed, drained, outlet = _steps(before, brought, given)
    after = kernel.State(
        cold.snow, cold.frost, drained.pond, wetted.depletion, drained.ground, passed.transit
    )
    table = table_height(drained.ground, outlet, given.drains)
    parts = {
        "before": before._asdict(),
        "weather": brought,
        "cold": cold._asdict(),
        "taken": taken._asdict(),
        "wetted": wetted._asdict(),
        "passed": passed._asdict(),
        "outlet": outlet._asdict(),
        "drained": drained._asdict(),
        "after": {
            **after._asdict(),
            "table_height": table,
            "table_depth": given.drains.depth - table,
        },
    }
    values = tuple(
        (f"{part}.{name}", float(value), UNITS.get(name, "m"))
        for part, named in parts.items()
        for name, value in named.items()
    )
    flags = cold.flags + taken.flags + wetted.flags + passed.flags + drained.flags
    return DayReplay(date, values, flag_names(flags), after)


def _steps(
    before: kernel.State, brought: dict[str, float], given: KernelInputs
) -> tuple[Cold, Taken, Wetted, Passed, Drained, Outlet]:
    """The same calls as in the loop of the kernel, in the same order."""
    soil, drains = given.soil, given.drains
    cold = keep_cold(
        before.snow,
        before.frost,
        brought["snowfall"],
        brought["melt"],
        brought["temperature"],
        soil,
    )
    taken = take_water(
        brought["demand"] if cold.snow == 0.0 else 0.0,
        brought["root_depth"],
        brought["available"],
        brought["stress_from"],
        before.pond,
        before.depletion,
        before.ground,
        soil,
        drains,
    )
    water = brought["rain"] + cold.melt + taken.pond
    frozen = cold.flags & FROZEN != 0
    held = taken.ground + before.transit
    wetted = wet_ground(water, taken.depletion, held, frozen, soil, drains)
    outlet = outlet_at(brought["outlet"], min(drains.laterals, drains.main), drains)
    is_full = wetted.flags & SATURATED != 0
    transit = before.transit + wetted.passed
    passed = let_down(transit, taken.ground, brought["root_depth"], is_full, soil, drains)
    ground, pond, inlets = passed.ground, wetted.pond, wetted.inlet_flow
    if inlets > 0.0:
        drained = drain_beside_inlets(ground, pond, is_full, inlets, outlet, drains)
    elif ground > outlet.ground_free:
        drained = drain_in_phases(ground, pond, is_full, outlet, drains)
    else:
        drained = drain_freely(ground, pond, outlet, drains)
    return cold, taken, wetted, passed, drained, outlet
