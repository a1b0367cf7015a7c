# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what the draws of the routed days add up to, through any practice."""

from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.practices.bed import year_sums

QUANTILES = {"p10": 0.1, "p50": 0.5, "p90": 0.9}


@dataclass(frozen=True)
class Through:
    """How the water that a practice treats is called: in keys, and in words."""

    key: str
    words: str


BED = Through("bed_percent", "through the bed")


def add_sums(trace: Trace, through: Through = BED) -> None:
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
        ("load_kg", year_sums.load_by_year, "kg", "Nitrate nitrogen that the drains bring", {}),
        ("removed_kg", year_sums.removed_by_year, "kg", "Nitrate nitrogen taken out", {}),
        (
            "site_percent",
            year_sums.site_percent_by_year,
            "%",
            "Share of the load of the site removed",
            {"volume_below_share": "days.site_over_diversion"},
        ),
        (
            through.key,
            year_sums.bed_percent_by_year,
            "%",
            f"Share of the load {through.words} removed",
            {},
        ),
        (
            "treated_volume_share",
            year_sums.treated_share_by_year,
            "-",
            f"Share of the year's water that goes {through.words}",
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
