# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the days of the record through the buffer, and what they add up to.

The soil fills and drains from day to day; boards and ditch are those of each season. The middle of
every uncertain parameter gives the days that are shown; the draws give the range.
"""

from tilewater.basis.compiled import has_compiler
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.chain.day_series import add_dates, add_series, has_days
from tilewater.chain.days import are_summed
from tilewater.chain.days_rules import shares_of
from tilewater.chain.days_sums import Through, add_sums
from tilewater.chain.drain_flow_range import add_drain_flow_range, flow_words
from tilewater.chain.nitrate_days import pattern_of
from tilewater.chain.redrawn import add_pairs
from tilewater.chain.updated import add_updates
from tilewater.chain.updated_draws import tell_unused_share
from tilewater.practices.buffer import draw_rules
from tilewater.practices.buffer.day_steps import add_buffer_days, route_drawn
from tilewater.practices.buffer.rules import flow_rule_604

THROUGH = Through("diverted_percent", "into the buffer")
BUFFER_BY_DRAW = {
    "buffer.share_of_peak": "days.all.share_of_peak",
    "buffer.flow_rule": "days.all.flow_rule",
}
"""What a criterion judges, and the same by draw."""
PAIRS = 64
"""Draws taken again for total shares; a buffer takes four times as long as a bed."""
MEASURED_DIVERTED, MEASURED_SITE = 84.0, 46.0
"""What measured buffers took out of what entered and of the load of the site, on the mean. [%]"""


def add_days_of_buffer(trace: Trace) -> None:
    """Record the routed days, the sums of the draws, and their quantiles under `days.`."""
    if not has_days(trace):
        return
    add_dates(trace)
    add_series(trace)
    add_drain_flow_range(trace)
    add_buffer_days(trace, add_updates)
    tell_unused_share(trace, "buffer")
    if are_summed(trace):
        add_sums(trace, THROUGH)
        if has_compiler():
            add_pairs(trace, PAIRS)
            route_drawn(trace, "pairs", "pairs_draws", "pairs_sums", "with one parameter anew")


def add_buffer_by_draw(trace: Trace) -> None:
    """Record by draw what the flow rule judges."""
    flows = "days.all.capacity_m3_s"
    trace.compute(
        flows,
        draw_rules.capacity_of_draws,
        unit="m3/s",
        title="Flow into the buffer at the bypass crest, by draw",
        buffers="days.draws",
        head_line="buffer.head_line_m",
        head_stream="buffer.head_stream_m",
    )
    trace.compute(
        "days.all.share_of_peak",
        shares_of,
        unit="-",
        title="Share of the peak into the buffer, by draw",
        flows=flows,
        peak="drain_flow.peak_for_share_m3_s",
    )
    trace.compute(
        "days.all.flow_rule",
        flow_rule_604,
        unit="-",
        title="How far the better arm of the flow rule is met, by draw",
        share_of_peak="days.all.share_of_peak",
        length_share="buffer.length_share",
        share_limit="buffer.share_limit",
    )


def tell_buffer_days(trace: Trace) -> None:
    """Say in plain words what the days rest on, and how they stand to measured buffers."""
    if not are_summed(trace):
        return
    whole = int(trace.value("days.whole_years").sum())
    diverted, site = (
        float(trace.value(f"removal.{group}.p50")) for group in ("diverted_percent", "site_percent")
    )
    trace.findings.append(
        Finding(
            "days-rest-on",
            "note",
            "Removal",
            f"The range is of {len(trace.value('days.draws'))} draws of soil, kinetics, nitrate "
            f"and drain flow over {whole} years. {flow_words(trace)} Removal is taken as "
            "first order, at rates that nobody measured here; nitrate is "
            f"{pattern_of(trace)}.",
            source="derived",
        )
    )
    trace.findings.append(
        Finding(
            "measured-buffers",
            "note",
            "Removal",
            f"Measured buffers took out {MEASURED_SITE:g} percent of the nitrate of a site and "
            f"{MEASURED_DIVERTED:g} percent of what entered, on the mean of site-years; here the "
            f"middle is {site:.0f} and {diverted:.0f} percent.",
            value=site,
            unit="%",
            source="iowa-buffers",
        )
    )
