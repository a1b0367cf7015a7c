# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what the field keeps back with the boards of the seasons in.

The field is run with the boards as the seasons set them and once more with none; both are drawn
alike from the ranges of its parameters. What is "removed" is what does not leave by the drains.
"""

from collections.abc import Callable
from typing import Any

from tilewater.basis.compiled import has_compiler
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain import water_balance as balance
from tilewater.chain import water_field as field
from tilewater.chain import water_series
from tilewater.chain.areas import AREA_ABOVE
from tilewater.chain.days import DRAWS, SEED
from tilewater.chain.days_sums import QUANTILES, ratio_of
from tilewater.chain.drain_flow_range import DRAIN_FLOW, add_drain_flow_range, flow_words
from tilewater.chain.nitrate_days import nitrate_key
from tilewater.chain.updated import add_updates
from tilewater.hydrology import flow_record
from tilewater.nitrate.parameter_ranges import draws_of_ranges
from tilewater.practices.bed import year_sums
from tilewater.practices.raised import draws, kept
from tilewater.practices.rules import difference, same

TAKEN, TAKEN_UNCOMPILED = 256, 16
"""Draws that the field is run for, twice each; the rest of them would cost a minute."""
OUT = "raised.run_out"
SUMS = "raised.sums"
MEAN = "raised.annual_depth_m"
UNITS = {"_kg": "kg", "_m": "m", "_percent": "%"}
"""Unit of a value by draw, by the end of its name."""
REMOVAL = (
    ("load_kg", "kg"),
    ("removed_kg", "kg"),
    ("long_run_removed_kg", "kg"),
    ("site_percent", "%"),
)
NO_FIELD = Unknown(
    "the field is not known day by day", "name a file of daily weather under [weather]"
)
WAYS = {
    "runoff": "over the ground",
    "evapotranspiration": "through plants and from the soil",
    "deep_seepage": "to the deep ground",
    "side_seepage": "to the side",
}
"""Ways that water takes in place of the drains."""


def has_field(trace: Trace) -> bool:
    """Whether the field of the job is known day by day."""
    return field.RUN in trace and trace.known(field.RUN)


def add_raised_days(trace: Trace) -> None:
    """Record the field without boards, the draws with and without, and what they keep back."""
    if not has_field(trace):
        return
    field.add_run(trace, OUT, "water.boards_out_m", "The field day by day, boards out")
    _add_balance(trace)
    _add_mean(trace)
    _add_draws(trace)
    _add_kept(trace)


def _add_balance(trace: Trace) -> None:
    """Each part of the balance of a mean year, boards out, and its change with boards in."""
    trace.compute(
        "raised.totals_out",
        balance.balance_of,
        unit="",
        title="Water balance of the whole record, boards out",
        run=OUT,
    )
    for part in ("drain_flow", "inlet_flow", *WAYS):
        here = f"raised.balance.{part}"
        trace.compute(
            f"{here}.out_m",
            balance.balance_year,
            unit="m",
            title=f"{part.replace('_', ' ').capitalize()} of a mean year, boards out",
            balance="raised.totals_out",
            run=OUT,
            part=f"water.part.{part}",
        )
        trace.compute(
            f"{here}.change_m",
            difference,
            unit="m",
            title=f"{part.replace('_', ' ').capitalize()} of a mean year, more with the boards in",
            upper=f"water.balance.{part}_m",
            lower=f"{here}.out_m",
        )


def _add_mean(trace: Trace) -> None:
    """Drainage of a mean year without boards: measured where it was, else simulated."""
    title = "Drainage of a mean year, boards out"
    trace.compute(
        "raised.simulated_depth_m_s",
        water_series.depth_of_run,
        unit="m/s",
        title="Simulated drain flow of each day, boards out",
        run=OUT,
    )
    if trace.value("water.basis") == "measured":
        trace.compute(MEAN, same, unit="m", title=title, value="water.mean_annual_depth_m")
        return
    trace.compute(
        MEAN,
        flow_record.mean_annual_depth,
        unit="m",
        title=title,
        daily_depth="raised.simulated_depth_m_s",
    )


def _add_draws(trace: Trace) -> None:
    compute = trace.compute
    add_drain_flow_range(trace)
    compute(
        "days.ranges",
        draws.field_ranges,
        unit="",
        title="Ranges of the field",
        drain_flow=DRAIN_FLOW,
    )
    ranges = add_updates(trace, "days.ranges")
    taken = TAKEN if has_compiler() else TAKEN_UNCOMPILED
    trace.constant("days.draw_count", DRAWS, "Draws", source="derived")
    trace.constant("days.seed", SEED, "Seed of the draws", source="derived")
    trace.constant("raised.draws_taken", taken, "Draws that the field is run for", source="derived")
    compute(
        "days.drawn",
        draws_of_ranges,
        unit="",
        title="Values drawn from every range",
        ranges=ranges,
        count="days.draw_count",
        seed="days.seed",
    )
    compute(
        "days.draws",
        draws.draw_fields,
        unit="",
        title="Fields drawn from their ranges",
        drawn="days.drawn",
        taken="raised.draws_taken",
    )
    first = field.FIRST_CROP_YEAR
    compute(
        SUMS,
        draws.run_pairs,
        unit="",
        title="Where the water of every draw and year goes, boards out and in",
        weather="water.weather",
        soil="water.soil",
        drains="water.drains",
        cold="water.cold",
        rotation="water.rotation",
        outlet_height="water.outlet_height_m",
        draws="days.draws",
        **({"first_year": first} if first in trace else {}),
    )
    compute(
        "days.whole_years",
        draws.whole_years_of,
        unit="",
        title="Years of the weather that are whole",
        weather="water.weather",
    )


def _add_kept(trace: Trace) -> None:
    """Draws and quantiles of what is kept back, and of where the water goes in its place."""
    trace.compute(
        "days.site_over_diversion",
        ratio_of,
        unit="-",
        title="Load of the site over the load that reaches the structure",
        part="drain_flow.site_volume_m3",
        whole="drain_flow.mean_annual_volume_m3",
    )
    for percentile, share in QUANTILES.items():
        title = f"Share of the draws below {percentile}"
        trace.constant(f"days.share_{percentile}", share, title, source="derived")
    common = {"sums": SUMS, "whole": "days.whole_years"}
    trace.compute(
        "raised.annual_depth_by_draw_m",
        kept.annual_depths,
        unit="m",
        title="Drainage of a mean year, boards out, by draw",
        annual_depth=MEAN,
        draws="days.draws",
    )
    mean = common | {"annual_depth": "raised.annual_depth_by_draw_m"}
    drawn = {"draws": "days.draws"}
    water = mean | {"area": AREA_ABOVE, "nitrate_mg_per_l": nitrate_key(trace)}
    site = mean | drawn | {"site_over_diversion": "days.site_over_diversion"}
    for name, function, title, inputs in (
        ("load_kg", kept.load_of_drains, "Nitrate nitrogen that the drains bring", water | drawn),
        ("removed_kg", kept.load_kept_back, "Nitrate nitrogen kept back", water | drawn),
        ("long_run_removed_kg", kept.load_kept_back_mean, "Kept back, mean year", water | drawn),
        ("site_percent", kept.percent_kept_back, "Share of the site's load kept back", site),
        ("kept_share", kept.share_kept_back, "Share of the drain flow kept back", common),
        ("kept_depth_m", kept.depth_kept_back, "Drain flow kept back", mean),
        ("round_boards_kg", kept.load_round_boards, "Nitrate that may pass round them", water),
    ):
        _add_quantiles(trace, name, function, title, inputs)
    for way, words in WAYS.items():
        key = f"raised.way.{way}"
        part = trace.constant(key, way, f"Way of the water: {words}", source="derived")
        title = f"Water of a mean year that goes {words} more"
        _add_quantiles(trace, f"way_{way}_m", kept.change_of_way, title, mean | {"part": part})


def _add_quantiles(
    trace: Trace, name: str, function: Callable[..., Any], title: str, inputs: dict[str, str]
) -> None:
    unit = next((u for ending, u in UNITS.items() if name.endswith(ending)), "-")
    values = f"days.all.{name}"
    trace.compute(values, function, unit=unit, title=f"{title}, by draw", **inputs)
    for percentile in QUANTILES:
        trace.compute(
            f"days.{name}.{percentile}",
            year_sums.quantile_of,
            unit=unit,
            title=f"{title}, {percentile}",
            values=values,
            share=f"days.share_{percentile}",
        )


def add_raised_removal(trace: Trace) -> None:
    """Record what is kept back under the names that every practice has."""
    for group, unit in REMOVAL:
        for percentile in QUANTILES:
            key, source = f"removal.{group}.{percentile}", f"days.{group}.{percentile}"
            if source in trace:
                title = trace.steps[source].title
                trace.compute(key, same, unit=unit, title=title, value=source)
            else:
                trace.give(Given(key, NO_FIELD, unit, f"{group.replace('_', ' ')}, {percentile}"))
    if SUMS in trace:
        trace.compute(
            "removal.whole_years",
            year_sums.count_of,
            unit="years",
            title="Whole years that the draws ran over",
            whole="days.whole_years",
        )


def tell_raised_days(trace: Trace) -> None:
    """Say where the water goes that does not leave by the drains, and what the range rests on."""
    if not trace.known("removal.removed_kg.p50", "days.round_boards_kg.p50"):
        return
    share, mass, around = (
        float(trace.value(f"days.{name}.p50"))
        for name in ("kept_share", "long_run_removed_kg", "round_boards_kg")
    )
    ways = {
        words: 1000 * float(trace.value(f"days.way_{way}_m.p50")) for way, words in WAYS.items()
    }
    told = ", ".join(f"{mm:.1f} mm {words}" for words, mm in ways.items())
    trace.findings.append(
        Finding(
            "water-goes-elsewhere",
            "caution",
            "Removal",
            f"The boards keep back {share:.1%} of the drain flow; nothing is treated. In a mean "
            f"year more water goes: {told}. What seeps may carry its nitrate round the boards: up "
            f"to {around:.2g} kg of the {mass:.2g} kg. Seepage to the side is not in the model.",
            value=around,
            unit="kg",
            source="derived",
        )
    )
    whole = int(trace.value("days.whole_years").sum())
    trace.findings.append(
        Finding(
            "days-rest-on",
            "note",
            "Removal",
            f"The range is of {len(trace.value('days.draws'))} draws of soil, nitrate and drain "
            f"flow over {whole} years of weather, each run with the boards in and out. "
            f"{flow_words(trace)} "
            "Beside measured plots the model kept back less than they did.",
            source="missing-drainage",
        )
    )
