# SPDX-License-Identifier: Apache-2.0
"""Steps of the elevations of a buffer: structure, line and ditch, by season."""

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace
from tilewater.chain.field_crest import add_field_head, field_crest
from tilewater.practices.bed import ladder, rating_steps
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.boards import crest_elevation
from tilewater.practices.buffer.line_steps import YEAR, seasons
from tilewater.practices.rules import add_rung, same

LINE = "inputs.buffer.line_invert_m"
BYPASS = f"boards.inlet-{DESIGN}.crest_m"
CREST = "elevations.inlet_crest.elevation_m"


def add_buffer_crests(trace: Trace) -> None:
    """Record the crest that holds the field in the design setting under its name in the ladder."""
    trace.compute(
        CREST,
        same,
        unit="m",
        title="Crest that holds the water of the field, design setting",
        value=field_crest(trace),
    )


def add_buffer_levels(trace: Trace) -> None:
    """Record every rung of the ladder of a buffer."""
    zero = trace.constant("rules.none_m", 0.0, "No less than level", unit="m", source="derived")
    _add_structure(trace, zero)
    _add_storm(trace, zero)
    add_rung(
        trace,
        "line_under_crest",
        "Bypass crest above the invert of the line",
        upper=BYPASS,
        lower=LINE,
        limit=zero,
        elevation=LINE,
        where="line",
    )
    for pipe in trace.names("inputs.pipe"):
        if trace.value(f"inputs.pipe.{pipe}.use") == "bypass":
            ladder.add_bypass(trace)
            break
    ladder.add_solid_pipes(trace)
    ladder.add_season_crests(trace)
    for season in seasons(trace):
        _add_season(trace, season, zero)


def _add_structure(trace: Trace, zero: str) -> None:
    given = "inputs.structure.inlet"
    add_rung(
        trace,
        "inlet_rim",
        "Rim of the structure above the ground",
        upper=f"{given}.rim_m",
        lower=f"{given}.ground_m",
        limit="rules.rim-above-ground_m",
        elevation=f"{given}.rim_m",
        scale="freeboard",
        where="inlet structure",
    )
    add_rung(
        trace,
        "inlet_crest",
        "Crest that holds the field under the highest crest that the field allows",
        upper="highest_crest_m",
        lower=field_crest(trace),
        limit=zero,
        elevation=field_crest(trace),
        where="inlet structure",
    )


def _add_storm(trace: Trace, zero: str) -> None:
    """Water in the structure at the largest physical flow, the line shut off."""
    add_field_head(
        trace,
        "bypass",
        "drain_flow.peak_for_bypass_m3_s",
        "Head over the crest at the largest physical flow, line shut off",
    )
    rating_steps.tell_of_bypass_range(trace)
    trace.compute(
        "bypass.level_m",
        crest_elevation,
        unit="m",
        title="Water in the structure at the largest physical flow",
        sill=CREST,
        height="bypass.head_m",
    )
    add_rung(
        trace,
        "inlet_rim_storm",
        "Rim of the structure above its water at the largest physical flow",
        upper="inputs.structure.inlet.rim_m",
        lower="bypass.level_m",
        limit=zero,
        elevation="inputs.structure.inlet.rim_m",
        scale="freeboard",
        where="inlet structure",
    )


def _add_season(trace: Trace, season: str, zero: str) -> None:
    setting = DESIGN if season == YEAR else season
    crest, ordinary = f"boards.inlet-{setting}.crest_m", f"ditch.{season}.stage_m"
    ending, words = ("", "") if season == YEAR else (f"-{season}", f", {season}")
    add_rung(
        trace,
        f"bypass_over_ditch{ending}",
        f"Bypass crest above ordinary ditch water{words}",
        upper=crest,
        lower=ordinary,
        limit=zero,
        elevation=crest,
        where="ditch",
    )
    if not trace.known(crest, LINE):
        return
    under = float(trace.value(LINE)) - float(trace.value(crest))
    if setting != DESIGN and under >= 0:
        trace.findings.append(
            Finding(
                "line-dry-in-season",
                "note",
                f"Line, {season}",
                f"With the boards of {season} the water stands {feet(under)} under the "
                "invert of the line, which then takes nothing.",
                value=under,
                operator="<",
                limit=0.0,
                unit="m",
                source="derived",
            )
        )
