# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what the buffer removes, by the days or by two laws over a mean year.

Where daily flow is known the range is that of the draws. Else it spans the two laws and the range
of the conductivity, with flow taken as exponential: a screening figure that satisfies no criterion.
"""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.days import are_summed
from tilewater.chain.removal_parts import percent_of, share_of_load
from tilewater.hydrology.drain_flow import largest_of, least_of, treated_share_exponential
from tilewater.practices.bed.year_sums import count_of
from tilewater.practices.buffer.removal import removed_load
from tilewater.practices.rules import same

PERCENTILES = ("p10", "p50", "p90")
ENDS = {"p10": "buffer.flow_low_m3_s", "p50": "buffer.flow_m3_s", "p90": "buffer.flow_high_m3_s"}
"""Flow into the buffer that stands for each end where no days are known."""
LAWS = ("first_order", "zero_order")
BY_DAYS = (
    ("load_kg", "kg"),
    ("removed_kg", "kg"),
    ("site_percent", "%"),
    ("diverted_percent", "%"),
    ("treated_volume_share", "-"),
    ("long_run_removed_kg", "kg"),
    ("long_run_reduction", "-"),
    ("long_run_share", "-"),
)


def add_buffer_removal(trace: Trace) -> None:
    """Record the treated share and the mass removed under the names that every practice has."""
    if are_summed(trace):
        _add_by_days(trace)
    else:
        _add_by_laws(trace)


def _add_by_days(trace: Trace) -> None:
    for group, unit in BY_DAYS:
        for percentile in PERCENTILES:
            step = trace.steps[f"days.{group}.{percentile}"]
            key = f"removal.{group}.{percentile}"
            trace.compute(key, same, unit=unit, title=step.title, value=step.key)
    trace.compute(
        "removal.whole_years",
        count_of,
        unit="years",
        title="Whole years that the draws ran over",
        whole="days.whole_years",
    )
    trace.compute(
        "capacity.criterion.share_of_annual_flow",
        same,
        unit="-",
        title="Share of the water of all years that goes into the buffer, middle of the draws",
        value="removal.long_run_share.p50",
    )


def _add_by_laws(trace: Trace) -> None:
    compute = trace.compute
    for percentile, flow in ENDS.items():
        compute(
            f"removal.treated_volume_share.{percentile}",
            treated_share_exponential,
            unit="-",
            title=f"Share of the year's water that goes into the buffer, {percentile}, screening",
            capacity=flow,
            mean_flow="drain_flow.mean_flow_m3_s",
        )
        compute(
            f"removal.diverted_load_kg.{percentile}",
            share_of_load,
            unit="kg",
            title=f"Nitrate nitrogen that goes into the buffer in a mean year, {percentile}",
            load="drain_flow.annual_load_kg",
            treated_share=f"removal.treated_volume_share.{percentile}",
        )
    laws = {law: f"buffer.removal.{law}" for law in LAWS}
    for percentile, function, inputs in (
        ("p10", least_of, laws),
        ("p50", same, {"value": laws["first_order"]}),
        ("p90", largest_of, laws),
    ):
        compute(
            f"removal.share_of_diverted.{percentile}",
            function,
            unit="-",
            title=f"Share removed of the nitrate that enters, {percentile}",
            **inputs,
        )
        _add_masses(trace, percentile)
    _tell_screening(trace)


def _add_masses(trace: Trace, percentile: str) -> None:
    compute = trace.compute
    compute(
        f"removal.removed_kg.{percentile}",
        removed_load,
        unit="kg",
        title=f"Nitrate nitrogen removed in a mean year, {percentile}",
        annual_load="drain_flow.annual_load_kg",
        treated_share=f"removal.treated_volume_share.{percentile}",
        removal=f"removal.share_of_diverted.{percentile}",
    )
    for group, whole, words in (
        ("site_percent", "drain_flow.site_load_kg", "load of the site"),
        ("diverted_percent", f"removal.diverted_load_kg.{percentile}", "load into the buffer"),
    ):
        compute(
            f"removal.{group}.{percentile}",
            percent_of,
            unit="%",
            title=f"Share of the {words} removed, {percentile}",
            part=f"removal.removed_kg.{percentile}",
            whole=whole,
        )


def _tell_screening(trace: Trace) -> None:
    trace.findings.append(
        Finding(
            "treated-share-screening",
            "caution",
            "Treated share",
            "No days of flow are known, so the treated share assumes exponential flows. The range "
            "spans two laws of removal and the conductivity; it is no quantile of years, and it "
            "satisfies no criterion. Name a file of daily weather or a flow record.",
            source="derived",
        )
    )
    trace.give(
        Given(
            "capacity.criterion.share_of_annual_flow",
            Unknown("no series of flows is given", "give a daily flow record"),
            "-",
            "Share of the water of all years that goes into the buffer",
        )
    )
