# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what the bed removes, by the days or by the published range of rates.

Where daily flow is known the range is that of the draws of `days`. Else, and beside it, it is that
of the published rates alone, at the temperature of the spring line, over a mean year. Two
significant figures are more than either is good for.
"""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.areas import AREA_ABOVE
from tilewater.chain.days import are_summed
from tilewater.chain.removal_parts import (
    likely_reduction,
    percent_of,
    settled_reduction,
    share_of_load,
    two_figures,
)
from tilewater.hydrology.drain_flow import treated_share_exponential
from tilewater.hydrology.flow_record import share_within_capacity
from tilewater.nitrate.kinetics import rate_at_temperature
from tilewater.nitrate.removal import nitrate_removed_volumetric
from tilewater.practices.bed.life import carbon_years
from tilewater.practices.bed.year_sums import count_of, probability_above
from tilewater.practices.rules import same

RATES = (("p10", "low"), ("p50", "mid"), ("p90", "high"))
REFERENCE_C = 15.0
RATES_ONLY = " The range here is that of published rates, not a quantile of years."


def add_removal(trace: Trace) -> None:
    """Record the treated share and the mass removed, by the days where they are known.

    The low, middle and high published rate over a mean year stand beside the days, or in their
    place where no daily flow is known.
    """
    by_days = are_summed(trace)
    here = "removal.by_rates" if by_days else "removal"
    _add_treated_share(trace, here)
    _add_by_rates(trace, here)
    if by_days:
        _add_by_days(trace)
    _tell_published_beds(trace)
    if not by_days:
        _add_reduction(trace)
    _add_carbon(trace)


def _add_by_days(trace: Trace) -> None:
    """The quantiles of the draws as the answer, and the probability of the rules."""
    for group, unit in (
        ("load_kg", "kg"),
        ("removed_kg", "kg"),
        ("site_percent", "%"),
        ("bed_percent", "%"),
        ("treated_volume_share", "-"),
        ("long_run_removed_kg", "kg"),
        ("long_run_reduction", "-"),
        ("long_run_share", "-"),
    ):
        for percentile, _ in RATES:
            step = trace.steps[f"days.{group}.{percentile}"]
            trace.compute(
                f"removal.{group}.{percentile}",
                same,
                unit=unit,
                title=step.title,
                value=step.key,
            )
    trace.compute(
        "removal.whole_years",
        count_of,
        unit="years",
        title="Whole years that the draws ran over",
        whole="days.whole_years",
    )
    trace.compute(
        "removal.probability_of_reduction",
        probability_above,
        unit="-",
        title="Probability that the treated water loses as much as the rule asks, long run",
        values="days.all.long_run_reduction",
        limit="sizing.reduction_limit",
    )
    trace.compute(
        "removal.reduction_in_treated_water",
        likely_reduction,
        unit="-",
        title="Reduction in the treated water over all years, middle of the draws",
        middle="removal.long_run_reduction.p50",
        probability="removal.probability_of_reduction",
    )
    trace.compute(
        "capacity.criterion.share_of_annual_flow",
        same,
        unit="-",
        title="Share of the water of all years that goes through the bed, middle of the draws",
        value="removal.long_run_share.p50",
    )


def _add_by_rates(trace: Trace, here: str) -> None:
    compute = trace.compute
    reference = trace.constant(
        "removal.reference_c",
        REFERENCE_C,
        "Temperature of the rates",
        unit="degC",
        source="derived",
    )
    compute(
        f"{here}.treated_load_kg",
        share_of_load,
        unit="kg",
        title="Nitrate nitrogen that comes through the bed in a mean year",
        load="drain_flow.annual_load_kg",
        treated_share=f"{here}.treated_volume_share.p50",
    )
    for percentile, word in RATES:
        compute(
            f"removal.rate_{word}_g_per_m3_day",
            rate_at_temperature,
            unit="g/m3/day",
            title=f"Removal rate at the temperature of the spring line, {word}",
            rate=f"inputs.media.rate_{word}_g_per_m3_day",
            temperature="capacity.spring.temperature_c",
            q10="inputs.media.q10",
            reference=reference,
        )
        compute(
            f"{here}.removed_kg.{percentile}",
            nitrate_removed_volumetric,
            unit="kg",
            title=f"Nitrate nitrogen removed in a mean year, {word} rate",
            rate_g_per_m3_day=f"removal.rate_{word}_g_per_m3_day",
            wet_volume="capacity.criterion.wet_volume_m3",
            flow_days="drain_flow.flow_days_per_year",
            inflow_load=f"{here}.treated_load_kg",
        )
        compute(
            f"{here}.site_percent.{percentile}",
            percent_of,
            unit="%",
            title=f"Share of the load of the site removed, {word} rate",
            part=f"{here}.removed_kg.{percentile}",
            whole="drain_flow.site_load_kg",
        )
        compute(
            f"{here}.bed_percent.{percentile}",
            percent_of,
            unit="%",
            title=f"Share of the load through the bed removed, {word} rate",
            part=f"{here}.removed_kg.{percentile}",
            whole=f"{here}.treated_load_kg",
        )


YEAR_OF_DAYS = 365
"""A record shorter than this satisfies no criterion about years."""


def _add_share_of_annual_flow(trace: Trace, title: str) -> None:
    record = "inputs.record.daily_depth_m_s"
    if trace.known(record) and len(trace.value(record)) < YEAR_OF_DAYS:
        why = f"the flow record holds {len(trace.value(record))} days, less than a year"
        trace.give(
            Given(
                "capacity.criterion.share_of_annual_flow",
                Unknown(why, "record whole years"),
                "-",
                title,
            )
        )
        return
    trace.compute(
        "capacity.criterion.share_of_annual_flow",
        share_within_capacity,
        unit="-",
        title=title,
        daily_depth=record,
        area=AREA_ABOVE,
        capacity="capacity.criterion.flow_m3_s",
    )


def _tell_published_beds(trace: Trace) -> None:
    if trace.known("removal.bed_percent.p50", "sizing.reduction_limit"):
        middle = float(trace.value("removal.bed_percent.p50"))
        limit = 100 * float(trace.value("sizing.reduction_limit"))
        where = "At the middle published rate"
        if are_summed(trace):
            where = "At the middle of the draws"
        if middle < limit:
            trace.findings.append(
                Finding(
                    "middle-rate-below-rule",
                    "caution",
                    "Removal",
                    f"{where} the bed takes out {two_figures(middle)} percent of what goes "
                    f"through, and {limit:g} percent is asked. A larger bed holds the water "
                    "longer.",
                    value=middle,
                    operator=">=",
                    limit=limit,
                    unit="%",
                    source="derived",
                )
            )
    trace.findings.append(
        Finding(
            "published-beds",
            "note",
            "Removal",
            "Beds in the Midwest are assessed to remove 20 to 40 percent of a site's nitrate load "
            "a year; fifteen recent field studies have a median of 46 percent."
            + ("" if are_summed(trace) else RATES_ONLY),
            source="christianson2021",
        )
    )


def _add_reduction(trace: Trace) -> None:
    trace.compute(
        "removal.reduction_in_treated_water",
        settled_reduction,
        unit="-",
        title="Reduction in the treated water, where low and high rate agree on the rule",
        low="removal.bed_percent.p10",
        high="removal.bed_percent.p90",
        limit="sizing.reduction_limit",
        basis="drain_flow.basis",
    )


def _add_carbon(trace: Trace) -> None:
    trace.compute(
        "life.carbon_years",
        carbon_years,
        unit="years",
        title="Years of carbon for denitrification",
        media_volume="bed.media_volume_m3",
        dry_density="inputs.media.dry_density_kg_per_m3",
        removed_per_year="removal.removed_kg.p50",
    )


def _add_treated_share(trace: Trace, here: str) -> None:
    measured = "inputs.record.daily_depth_m_s" in trace
    by_days = here != "removal"
    key = f"{here}.treated_volume_share.p50"
    title = "Share of the year's water that goes through the bed"
    if measured:
        trace.compute(
            key,
            share_within_capacity,
            unit="-",
            title=f"{title}, from the flow record",
            daily_depth="inputs.record.daily_depth_m_s",
            area=AREA_ABOVE,
            capacity="capacity.criterion.flow_m3_s",
        )
        if not by_days:
            _add_share_of_annual_flow(trace, title)
    else:
        trace.compute(
            key,
            treated_share_exponential,
            unit="-",
            title=f"{title}, screening figure",
            capacity="capacity.criterion.flow_m3_s",
            mean_flow="drain_flow.mean_flow_m3_s",
        )
        if by_days:
            return
        trace.findings.append(
            Finding(
                "treated-share-screening",
                "caution",
                "Treated share",
                "No series of flows is given, so the treated share assumes exponential flows. It "
                "is a screening figure and satisfies no criterion. Give a daily flow record.",
                source="derived",
            )
        )
        trace.give(
            Given(
                "capacity.criterion.share_of_annual_flow",
                Unknown("no series of flows is given", "give a daily flow record"),
                "-",
                title,
            )
        )
    if by_days:
        return
    for other in ("p10", "p90"):
        trace.give(
            Given(
                f"removal.treated_volume_share.{other}",
                Unknown("one mean year has no range", "run a long record of weather or flow"),
                "-",
                f"{title}, {other}",
            )
        )
