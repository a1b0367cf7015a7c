# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the share of the draws that keep each criterion of the standard.

Only what the draws of chips and kinetics decide has such a share: how much the bed takes, how long
the water stays, what it takes out and for how many years. Lining and drainage are as drawn.
"""

from tilewater.basis.trace import Trace
from tilewater.chain.days import are_summed
from tilewater.chain.practice import Practice
from tilewater.chain.water_peaks import FLOW as TEN_YEAR_FLOW
from tilewater.chain.water_peaks import SHARE as TEN_YEAR_SHARE
from tilewater.criteria.standards import CriterionRow
from tilewater.practices.bed import draws, year_sums
from tilewater.practices.bed._split import Array

BED_BY_DRAW = {
    "capacity.criterion.share_of_peak": "days.all.share_of_peak",
    "capacity.criterion.share_of_annual_flow": "days.all.long_run_share",
    TEN_YEAR_SHARE: "days.all.share_of_ten_year_peak",
    "capacity.criterion.retention_h": "days.all.retention_h",
    "removal.reduction_in_treated_water": "days.all.long_run_reduction",
    "life.permeability_years": "days.all.permeability_years",
}
"""What a criterion judges, and the same by draw."""


def probability_key(code: str) -> str:
    """Key of the share of the draws that keep a criterion (`605-retention`)."""
    return f"probability.{code.partition('-')[2].replace('-', '_')}"


def add_probabilities(trace: Trace, rows: tuple[CriterionRow, ...], practice: Practice) -> None:
    """Record the share of the draws that keep each criterion which draws can decide."""
    if not are_summed(trace):
        return
    practice.add_by_draw(trace)
    for row in rows:
        values = practice.by_draw.get(row.value, "")
        if values not in trace or row.operator != ">=":
            continue
        trace.compute(
            probability_key(row.code),
            year_sums.probability_above,
            unit="-",
            title=f"Share of the draws that keep the rule: {row.title.lower()}",
            values=values,
            limit=f"criteria.{row.code}.limit",
        )


def add_bed_by_draw(trace: Trace) -> None:
    """Record by draw what the criteria of a bed judge, where the days have not given it."""
    bed = {"beds": "days.draws", "table": "days.table", "free": "system.free_m"}
    aged = bed | {"years": "inputs.media.design_year"}
    flows = "days.all.capacity_m3_s"
    trace.compute(
        flows,
        draws.capacity_of_draws,
        unit="m3/s",
        title="Flow through the bed at the design year, by draw",
        **aged,
    )
    trace.compute(
        "days.all.share_of_peak",
        shares_of,
        unit="-",
        title="Share of the peak through the bed at the design year, by draw",
        flows=flows,
        peak="drain_flow.peak_for_share_m3_s",
    )
    if TEN_YEAR_FLOW in trace:
        trace.compute(
            "days.all.share_of_ten_year_peak",
            shares_of,
            unit="-",
            title="Share of the 10-year, 24-hour drain flow through the bed, by draw",
            flows=flows,
            peak=TEN_YEAR_FLOW,
        )
    trace.compute(
        "days.all.retention_h",
        draws.retention_of_draws,
        unit="h",
        title="Time in the bed at the design year, by draw",
        **aged,
    )
    trace.compute(
        "days.all.permeability_years",
        draws.life_of_draws,
        unit="years",
        title="Years until the bed no longer takes its share of the peak, by draw",
        peak="drain_flow.peak_for_share_m3_s",
        share="sizing.share_limit",
        **bed,
    )


def shares_of(flows: Array, peak: float) -> Array:
    """Shares of a peak.

    Parameters
    ----------
    flows : array
        Flow by draw. [m3/s]
    peak : float
        Peak that shares are counted against. [m3/s]

    Returns
    -------
    array
        Shares. [-]

    Notes
    -----
    share = Q / Q_peak    (derived)

    References
    ----------
    derived, a ratio of flows
    """
    return flows / peak
