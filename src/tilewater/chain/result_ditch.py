# SPDX-License-Identifier: Apache-2.0
"""The result record of the ditch: levels by season with their band, and the flow that meets it."""

from tilewater.basis.trace import Trace
from tilewater.chain.ditch_seasons import YEAR
from tilewater.chain.plain import Record, plain

LEVELS = (
    "stage_m",
    "stage_low_m",
    "stage_high_m",
    "high_m",
    "high_low_m",
    "high_high_m",
)
MORE = (
    "days",
    "share_days",
    "by_years_m",
    "drain_flow_ordinary_m3_s",
    "drain_flow_high_m3_s",
)
"""What only some ways have."""
SHARES = tuple(
    f"{group}{kind}"
    for group in ("share_above", "days_above", "days_back", "share_of_days_back")
    for kind in ("", "_high")
)
"""Shares of the water, and days, with the ditch above a crest; at the high level too."""
GROUPS = {
    "section": ("n", "n_fitted", "n_fitted_low", "n_fitted_high", "misfit_m"),
    "flows": ("level_m", "level_low_m", "level_high_m", "doubt"),
    "marks": ("misfit_m",),
}


def ditch_record(trace: Trace) -> Record:
    """Levels of the ditch and shares of the drain flow that meet it above each crest.

    Parameters
    ----------
    trace : Trace
        The steps of a design. [-]

    Returns
    -------
    dict
        By season, then by what is compared. [-]
    """
    seasons = trace.names("inputs.season") or (YEAR,)
    record: Record = {
        "way": plain(trace, "ditch.way"),
        "seasons": list(seasons),
        "ordinary_m": plain(trace, "ditch.ordinary_m"),
        "share_basis": plain(trace, "ditch.share_basis"),
    }
    for season in seasons:
        here = f"ditch.{season}"
        record[season] = {name: plain(trace, f"{here}.{name}") for name in LEVELS} | {
            name: plain(trace, f"{here}.{name}") for name in MORE if f"{here}.{name}" in trace
        }
    for share in SHARES:
        group = f"ditch.{share}"
        if names := trace.names(group):
            record[share] = {name: plain(trace, f"{group}.{name}") for name in names}
    return record | _by_section(trace)


def _by_section(trace: Trace) -> Record:
    """Roughness, flows and marks, where the ditch is known by its section."""
    if "ditch.section.n" not in trace:
        return {}
    names = GROUPS["section"]
    found: Record = {
        "section": {
            name: plain(trace, f"ditch.section.{name}")
            for name in names
            if f"ditch.section.{name}" in trace
        }
    }
    for group in ("flows", "marks"):
        found[group] = {
            member: {
                name: plain(trace, f"ditch.{group}.{member}.{name}")
                for name in GROUPS[group]
                if f"ditch.{group}.{member}.{name}" in trace
            }
            for member in trace.names(f"ditch.{group}")
        }
    return found
