# SPDX-License-Identifier: Apache-2.0
"""Steps that show the bed in each season, with that season's boards, ditch and water.

For information: the criterion line judges the design setting. A season in which the boards are
drawn down for field work treats less, and is meant to.
"""

from tilewater.basis.trace import Trace
from tilewater.hydraulics.media import conductivity_at_temperature
from tilewater.practices.bed import capacity
from tilewater.practices.bed.capacity import Media
from tilewater.practices.bed.capacity_steps import add_balance, add_levels
from tilewater.practices.bed.system import bed_flow_at_diversion
from tilewater.practices.bed.system_steps import path_key
from tilewater.practices.rules import difference


def add_seasons(trace: Trace) -> None:
    """Record flow and share of each season, water at that season's bypass crest."""
    for season in trace.names("inputs.season"):
        if f"inputs.season.{season}.water_temperature_c" in trace:
            _add_season(trace, season)


def season_stage(trace: Trace, season: str) -> str:
    """Key of the ordinary water of the ditch in a season."""
    return f"ditch.{season}.stage_m"


def _add_season(trace: Trace, season: str) -> None:
    here, compute = f"seasons.{season}", trace.compute
    for structure in ("inlet", "outlet"):
        compute(
            f"{here}.depth_{structure}_crest_m",
            difference,
            unit="m",
            title=f"Crest of the {structure} boards above the floor, {season}",
            upper=f"boards.{structure}-{season}.crest_m",
            lower="bed.floor_mean_m",
        )
    compute(
        f"{here}.tailwater_depth_m",
        capacity.dead_pool,
        unit="m",
        title=f"Ordinary ditch water above the floor, {season}",
        leaves_at=season_stage(trace, season),
        floor="bed.floor_mean_m",
    )
    _add_flow(trace, season)


def _add_flow(trace: Trace, season: str) -> None:
    here, given, compute = f"seasons.{season}", f"inputs.season.{season}", trace.compute
    compute(
        f"{here}.conductivity_m_s",
        conductivity_at_temperature,
        unit="m/s",
        title=f"Conductivity of the aged media, {season}",
        conductivity="capacity.criterion.conductivity_20_m_s",
        temperature=f"{given}.water_temperature_c",
    )
    compute(
        f"{here}.media",
        Media,
        unit="",
        title=f"The aged media, {season}",
        conductivity=f"{here}.conductivity_m_s",
        inertia="capacity.criterion.inertia_s2_m2",
    )
    compute(
        f"{here}.flow_m3_s",
        bed_flow_at_diversion,
        unit="m3/s",
        title=f"Flow through the bed at the bypass crest, {season}",
        level=f"boards.inlet-{season}.crest_m",
        tailwater=season_stage(trace, season),
        path=path_key(season),
        shape="bed.shape",
        media=f"{here}.media",
    )
    add_balance(
        trace,
        f"{here}.full",
        f"main full, {season}",
        inflow="drain_flow.full_m3_s",
        stage=season_stage(trace, season),
        media=f"{here}.media",
        setting=season,
    )
    add_levels(
        trace,
        f"{here}.full",
        f"main full, {season}",
        tailwater=f"{here}.full.tailwater_m",
        media=f"{here}.media",
        setting=season,
    )
    compute(
        f"{here}.share_of_peak",
        capacity.share_of_flow,
        unit="-",
        title=f"Share of the peak through the bed, {season}",
        flow=f"{here}.flow_m3_s",
        peak="drain_flow.peak_for_share_m3_s",
    )
