# SPDX-License-Identifier: Apache-2.0
"""Steps of a comparison: what each practice asks of its owner, and what it then costs.

Keys are those of the design of a practice after its name (`bed.removal.removed_kg.p50`); what is
compared beside it is under `NAME.owner.`.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.compare_contenders import ROW, Contender
from tilewater.chain.compare_draws import Array, cost_of_draws, mass_for_money
from tilewater.chain.compare_owner import (
    cropped_of_vegetation,
    hours_cost,
    land_cost,
    largest_difference,
    strip_area,
)
from tilewater.chain.days_sums import QUANTILES
from tilewater.chain.updated_draws import BEFORE, those_kept
from tilewater.economics.estimate import cost_per_mass, sum_of
from tilewater.practices.rules import same

HOUR, RENT = "inputs.compare.hour_usd", "inputs.compare.rent_usd_per_acre"
REMOVED = "days.all.long_run_removed_kg"
"""Key of what a practice removes in a mean year by draw."""
IN_STEP = "owner.removed_kg_by_draw"
"""Key of the same where only the draws of the bed were weighed by what was measured."""
KEPT = "bed.updated.treated_share.kept"
"""Key of the numbers of the draws that agree with the share measured at the bed."""


def adopt(trace: Trace, name: str, other: Trace) -> None:
    """Take over every step of a design under the name of its practice."""
    for key, step in other.steps.items():
        inputs = tuple((parameter, f"{name}.{source}") for parameter, source in step.inputs)
        trace.put(replace(step, key=f"{name}.{key}", inputs=inputs))


def add_owner(trace: Trace, contender: Contender) -> None:
    """Record hours, ground, wet days and cost of a practice as its owner has them."""
    name = contender.name
    _add_in_step(trace, name)
    if name == ROW:
        _add_of_row(trace)
    else:
        _add_hours(trace, name)
        _add_land(trace, name)
        _add_wet_days(trace, name)
    _add_cost(trace, name)


def _add_hours(trace: Trace, name: str) -> None:
    trace.compute(
        f"{name}.owner.hours",
        same,
        unit="h",
        title="Hours of the owner in a year",
        value=f"{name}.inputs.compare.{name}.hours",
    )
    trace.compute(
        f"{name}.owner.hours_usd",
        hours_cost,
        unit="USD",
        title="What the owner's hours of a year come to",
        hours_per_year=f"{name}.owner.hours",
        hour_usd=f"{name}.{HOUR}",
    )


def _add_land(trace: Trace, name: str) -> None:
    land, title = f"{name}.owner.land_m2", "Ground that the practice takes"
    if name == "bed":
        top = "bed.quantities.top_area_m2"
        trace.compute(land, same, unit="m2", title=title, value=top)
    elif name == "buffer":
        trace.compute(
            land,
            strip_area,
            unit="m2",
            title=title,
            line_length="buffer.buffer.line_length_m",
            width="buffer.buffer.width_m",
        )
    else:
        trace.constant(land, 0.0, f"{title}: none", unit="m2", source="practice")
    trace.compute(
        f"{name}.owner.land_usd",
        land_cost,
        unit="USD",
        title="Rent of a year of the ground taken from crops",
        land=land,
        cropped_share=_cropped(trace, name),
        rent_usd_per_acre=f"{name}.{RENT}",
    )


def _cropped(trace: Trace, name: str) -> str:
    """Share of the ground that is cropped now: as stated, else by rule."""
    stated, key = f"{name}.inputs.compare.{name}.cropped", f"{name}.owner.cropped_share"
    title = "Share of that ground that is cropped now"
    if stated in trace:
        return stated
    vegetation = f"{name}.inputs.buffer.vegetation"
    if vegetation in trace:
        trace.compute(key, cropped_of_vegetation, unit="-", title=title, vegetation=vegetation)
        return key
    note = f"{title}: all of it, since nobody says less"
    return trace.constant(key, 1.0, note, unit="-", source="practice")


def _add_wet_days(trace: Trace, name: str) -> None:
    """Days too wet in the crop season that the boards add, at the spot where they add most."""
    spots = {
        f"{spot.replace('-', '_')}_{state}": f"{name}.water.spot.{spot}.boards_{state}."
        "season_days_per_year"
        for spot in trace.names(f"{name}.water.spot")
        for state in ("in", "out")
        if f"{name}.water.spot.{spot}.boards_in.season_days_per_year" in trace
    }
    key, title = f"{name}.owner.wet_days_more", "Days too wet in a crop season that boards add"
    if not spots:
        unknown = Unknown("no wet days are counted", "give weather, and shoot the low spots")
        trace.give(Given(key, unknown, "days", title))
        return
    trace.compute(key, largest_difference, unit="days", title=title, **spots)


def _add_of_row(trace: Trace) -> None:
    """Both practices of a row together."""
    for part, unit, title in (
        ("hours", "h", "Hours of the owner in a year, both"),
        ("hours_usd", "USD", "What the owner's hours of a year come to, both"),
        ("land_m2", "m2", "Ground that both take"),
        ("land_usd", "USD", "Rent of a year of the ground taken from crops, both"),
    ):
        both = {name: f"{name}.owner.{part}" for name in ("bed", "buffer")}
        trace.compute(f"{ROW}.owner.{part}", sum_of, unit=unit, title=title, **both)
    unknown = Unknown("nobody has laid out a row", "lay out both structures on the main")
    title = "Days too wet in a crop season that boards add"
    trace.give(Given(f"{ROW}.owner.wet_days_more", unknown, "days", title))


def _add_cost(trace: Trace, name: str) -> None:
    here = f"{name}.owner"
    trace.compute(
        f"{here}.annual_usd",
        sum_of,
        unit="USD",
        title="Cost of a year with the owner's hours and ground",
        bill=f"{name}.cost.annual_usd",
        hours=f"{here}.hours_usd",
        land=f"{here}.land_usd",
    )
    for cost, removed in zip(QUANTILES, reversed(QUANTILES), strict=True):
        mass = f"{name}.removal.removed_kg.{removed}"
        if mass in trace:
            trace.compute(
                f"{here}.usd_per_kg.{cost}",
                cost_per_mass,
                unit="USD",
                title=f"Cost of a kilogram with the owner's hours and ground, {cost}",
                annual_cost=f"{here}.annual_usd",
                annual_mass=mass,
            )
    draws = removed_key(trace, name)
    if draws is not None and trace.known(f"{here}.annual_usd"):
        for key, function, unit, title in (
            ("usd_per_kg_by_draw", cost_of_draws, "USD", "Cost of a kilogram, by draw"),
            ("kg_per_usd_by_draw", mass_for_money, "kg", "Mass for a dollar, by draw"),
        ):
            trace.compute(
                f"{here}.{key}",
                function,
                unit=unit,
                title=title,
                annual_cost=f"{here}.annual_usd",
                removed=draws,
            )


def removed_key(trace: Trace, name: str) -> str | None:
    """Key of what is removed in a mean year by draw, in step with every other practice.

    None where there are no draws.
    """
    in_step = f"{name}.{IN_STEP}"
    key = in_step if in_step in trace else f"{name}.{REMOVED}"
    return key if trace.known(key) else None


def _add_in_step(trace: Trace, name: str) -> None:
    """Take the draws that agree with a share measured at the bed, so that pairs stay pairs."""
    if not is_out_of_step(trace, name) or not trace.known(f"{name}.{REMOVED}"):
        return
    trace.compute(
        f"{name}.{IN_STEP}",
        in_step_with,
        unit="kg",
        title="Removed in a mean year by draw, in step with the draws of the bed",
        of=f"{name}.{REMOVED}",
        kept=KEPT,
    )


def is_out_of_step(trace: Trace, name: str) -> bool:
    """Whether the bed's draws were weighed by a measured share, and those of a practice not."""
    parts = ("bed", "buffer") if name == ROW else (name,)
    return trace.known(KEPT) and not any(f"{part}.days.draws{BEFORE}" in trace for part in parts)


def in_step_with(of: Sequence[Any] | Array, kept: NDArray[np.int64]) -> Any:
    """Draws of a practice by the numbers that another one's draws were weighed to.

    Parameters
    ----------
    of : sequence or array
        By draw, all or the first of them. [-]
    kept : array of int
        Numbers of the draws, in rising order. [-]

    Returns
    -------
    tuple or array
        By number kept, as far as there are draws. [-]

    References
    ----------
    derived, draw 7 beside draw 7
    """
    return those_kept(of, kept[kept < len(of)])
