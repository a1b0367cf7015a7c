# SPDX-License-Identifier: Apache-2.0
"""Steps of a bed and a buffer below it on the same main, in the trace of a comparison.

The days go through the bed and then through the buffer, draw by draw. Whether there is fall enough
for both is a row of its own; no more of how the two lie on the ground is judged.
"""

from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.trace import Trace
from tilewater.chain.compare_contenders import ROW, WORDS, Contender
from tilewater.chain.compare_steps import KEPT, in_step_with, is_out_of_step
from tilewater.chain.days_sums import QUANTILES
from tilewater.chain.verdict import NOT_KNOWN, OPEN, SHORT
from tilewater.economics.estimate import cost_per_mass, sum_of
from tilewater.practices.bed import year_sums
from tilewater.practices.in_row import route_row_by_year
from tilewater.practices.rules import difference, same

TAKEN = 256
"""Draws that both are routed for, one after the other."""


def add_row(trace: Trace) -> None:
    """Record the routed row, what it removes, what it costs, and its fall."""
    if trace.known("bed.days.draws", "buffer.days.draws"):
        _add_days(trace)
    _add_cost(trace)
    _add_fall(trace)


def verdict_of_row(trace: Trace, bed: Contender, buffer: Contender) -> str:
    """Verdict on a row: short where a part of it is; open at best, since nobody has laid it out."""
    verdicts = {bed.verdict, buffer.verdict}
    if SHORT in verdicts or _has_no_fall(trace):
        return SHORT
    return NOT_KNOWN if NOT_KNOWN in verdicts else OPEN


def row_of(trace: Trace, bed: Contender, buffer: Contender) -> Contender:
    """The row as a contender, its steps recorded."""
    add_row(trace)
    parts = [f"its {each.name} does not fit" for each in (bed, buffer) if each.verdict == SHORT]
    fall = ["its bed lets out lower than its buffer holds the water"] if _has_no_fall(trace) else []
    verdict = verdict_of_row(trace, bed, buffer)
    return Contender(ROW, WORDS[ROW], verdict=verdict, stops=(*fall, *parts))


def _has_no_fall(trace: Trace) -> bool:
    return bool(trace.value(f"{ROW}.fall.status") == "short")


def _add_days(trace: Trace) -> None:
    compute = trace.compute
    buffers = "buffer.days.draws"
    if is_out_of_step(trace, "buffer"):
        buffers = f"{ROW}.days.buffers"
        compute(
            buffers,
            in_step_with,
            unit="",
            title="Draws of the buffer, in step with those of the bed",
            of="buffer.days.draws",
            kept=KEPT,
        )
    taken = trace.constant(f"{ROW}.draws_taken", TAKEN, "Draws of the row", source="derived")
    compute(
        f"{ROW}.days.sums",
        route_row_by_year,
        unit="",
        title="Sums by year of every draw, the buffer below the bed",
        series="bed.days.series",
        year="bed.days.year",
        beds="bed.days.draws",
        table="bed.days.table",
        buffers=buffers,
        boards="buffer.days.boards",
        count=taken,
    )
    common = {"sums": f"{ROW}.days.sums", "whole": "bed.days.whole_years"}
    site = {"volume_below_share": "bed.days.site_over_diversion"}
    for name, function, unit, title, more in (
        ("removed_kg", year_sums.removed_by_year, "kg", "Nitrate nitrogen taken out by both", {}),
        ("long_run_removed_kg", year_sums.long_run_removed, "kg", "Removed in a mean year", {}),
        ("site_percent", year_sums.site_percent_by_year, "%", "Share of the site's load", site),
        (
            "treated_volume_share",
            year_sums.treated_share_by_year,
            "-",
            "Share of the year's water that goes through one of both or both",
            {},
        ),
    ):
        values = f"{ROW}.days.all.{name}"
        compute(values, function, unit=unit, title=f"{title}, by draw", **common, **more)
        for percentile in QUANTILES:
            compute(
                f"{ROW}.removal.{name}.{percentile}",
                year_sums.quantile_of,
                unit=unit,
                title=f"{title}, {percentile}",
                values=values,
                share=f"bed.days.share_{percentile}",
            )


def _add_cost(trace: Trace) -> None:
    """Both bills added up; what one mobilization would save is left out."""
    for name, title in (("total_usd", "Estimate of both"), ("annual_usd", "Cost of a year, both")):
        trace.compute(
            f"{ROW}.cost.{name}",
            sum_of,
            unit="USD",
            title=title,
            bed=f"bed.cost.{name}",
            buffer=f"buffer.cost.{name}",
        )
    for cost, removed in zip(QUANTILES, reversed(QUANTILES), strict=True):
        mass = f"{ROW}.removal.removed_kg.{removed}"
        if mass in trace:
            trace.compute(
                f"{ROW}.cost.usd_per_kg.{cost}",
                cost_per_mass,
                unit="USD",
                title=f"Cost of a kilogram removed, {cost}",
                annual_cost=f"{ROW}.cost.annual_usd",
                annual_mass=mass,
            )


def _add_fall(trace: Trace) -> None:
    """The bed lets out over its outlet crest, and the buffer holds water at its bypass crest."""
    here = f"{ROW}.fall"
    trace.compute(
        f"{here}.value_m",
        difference,
        unit="m",
        title="Outlet crest of the bed above the bypass crest of the buffer below it",
        upper="bed.elevations.outlet_crest.elevation_m",
        lower="buffer.boards.inlet-design.crest_m",
    )
    trace.compute(
        f"{here}.limit_m", same, unit="m", title="No less than level", value="bed.rules.none_m"
    )
    trace.require(
        Requirement(
            key=here,
            title="Fall enough for a buffer below the bed",
            value=f"{here}.value_m",
            operator=">=",
            limit=f"{here}.limit_m",
            unit="m",
            scale=SCALES["elevation"],
            where="main",
        )
    )
