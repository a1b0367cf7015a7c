# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what the draws of the routed days add up to, and the rules they keep."""

from tilewater.basis.trace import Trace
from tilewater.practices.bed import draws, year_sums
from tilewater.practices.bed._split import Array

QUANTILES = {"p10": 0.1, "p50": 0.5, "p90": 0.9}


def add_sums(trace: Trace) -> None:
    """Record quantiles of what is removed, treated and kept, over years and draws."""
    common = {"sums": "days.sums", "whole": "days.whole_years"}
    for percentile, share in QUANTILES.items():
        title = f"Share of the draws below {percentile}"
        trace.constant(f"days.share_{percentile}", share, title, source="derived")
    trace.compute(
        "days.site_over_diversion",
        ratio_of,
        unit="-",
        title="Load of the site over the load that reaches the diversion",
        part="drain_flow.site_volume_m3",
        whole="drain_flow.mean_annual_volume_m3",
    )
    for name, function, unit, title, more in (
        ("removed_kg", year_sums.removed_by_year, "kg", "Nitrate nitrogen taken out", {}),
        (
            "site_percent",
            year_sums.site_percent_by_year,
            "%",
            "Share of the load of the site removed",
            {"volume_below_share": "days.site_over_diversion"},
        ),
        (
            "bed_percent",
            year_sums.bed_percent_by_year,
            "%",
            "Share of the load through the bed removed",
            {},
        ),
        (
            "treated_volume_share",
            year_sums.treated_share_by_year,
            "-",
            "Share of the year's water that goes through the bed",
            {},
        ),
        ("long_run_removed_kg", year_sums.long_run_removed, "kg", "Removed in a mean year", {}),
        ("long_run_reduction", year_sums.long_run_reduction, "-", "Reduction, all years", {}),
        ("long_run_share", year_sums.long_run_share, "-", "Share treated, all years", {}),
    ):
        values = f"days.all.{name}"
        trace.compute(values, function, unit=unit, title=f"{title}, by draw", **common, **more)
        for percentile in QUANTILES:
            trace.compute(
                f"days.{name}.{percentile}",
                year_sums.quantile_of,
                unit=unit,
                title=f"{title}, {percentile}",
                values=values,
                share=f"days.share_{percentile}",
            )


RULES = {
    "share_of_peak": ("days.all.share_of_peak", "sizing.share_limit"),
    "retention": ("days.all.retention_h", "sizing.retention_limit_h"),
    "reduction": ("days.all.long_run_reduction", "sizing.reduction_limit"),
}
"""Rules whose probability the draws give: values by draw, and the limit."""


def add_probabilities(trace: Trace) -> None:
    """Record the share of the draws that keep each rule."""
    aged = {
        "beds": "days.draws",
        "table": "days.table",
        "years": "inputs.media.design_year",
        "free": "system.free_m",
    }
    trace.compute(
        "days.all.capacity_m3_s",
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
        flows="days.all.capacity_m3_s",
        peak="drain_flow.peak_for_share_m3_s",
    )
    trace.compute(
        "days.all.retention_h",
        draws.retention_of_draws,
        unit="h",
        title="Time in the bed at the design year, by draw",
        **aged,
    )
    for rule, (values, limit) in RULES.items():
        trace.compute(
            f"probability.{rule}",
            year_sums.probability_above,
            unit="-",
            title=f"Probability that the rule holds: {rule.replace('_', ' ')}",
            values=values,
            limit=limit,
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


def ratio_of(part: float, whole: float) -> float:
    """One quantity over another.

    Parameters
    ----------
    part, whole : float
        In the same unit. [m3]

    Returns
    -------
    float
        Ratio; 1 where the second is nothing. [-]

    Notes
    -----
    r = part / whole    (derived)

    References
    ----------
    derived, a ratio
    """
    return part / whole if whole > 0 else 1.0
