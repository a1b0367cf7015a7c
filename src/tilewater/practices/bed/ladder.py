# SPDX-License-Identifier: Apache-2.0
"""Steps that make the ladder of elevations, from rim to ditch, by season."""

from collections.abc import Sequence

from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.hydrology.drain_flow import least_of
from tilewater.practices.bed import rating_steps
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.boards import crest_elevation
from tilewater.practices.rules import add_rung, same

YEAR = "year"
"""Season of the ditch in a job that has none."""


def add_crests(trace: Trace) -> None:
    """Record the crest of the design setting under its name in the ladder."""
    for structure in ("inlet", "outlet"):
        trace.compute(
            f"elevations.{structure}_crest.elevation_m",
            same,
            unit="m",
            title=f"Crest of the {structure} boards, design setting",
            value=f"boards.{structure}-{DESIGN}.crest_m",
        )


def add_ladder(trace: Trace) -> None:
    """Record every rung whose pair of elevations has a rule."""
    inlet = "elevations.inlet_crest.elevation_m"
    trace.compute(
        "bed.media_top_m",
        top_of_media,
        unit="m",
        title="Top of the media",
        floor="bed.floor_mean_m",
        media_depth="inputs.bed.media_depth_m",
    )
    zero = trace.constant("rules.none_m", 0.0, "No less than level", unit="m", source="derived")
    for structure in ("inlet", "outlet"):
        given = f"inputs.structure.{structure}"
        add_rung(
            trace,
            f"{structure}_rim",
            f"Rim of the {structure} structure above the ground",
            upper=f"{given}.rim_m",
            lower=f"{given}.ground_m",
            limit="rules.rim-above-ground_m",
            elevation=f"{given}.rim_m",
            scale="freeboard",
            where=f"{structure} structure",
        )
    add_rung(
        trace,
        "inlet_crest",
        "Crest of the inlet boards under the highest crest that the field allows",
        upper="highest_crest_m",
        lower=inlet,
        limit=zero,
        elevation=f"boards.inlet-{DESIGN}.crest_m",
        where="inlet structure",
    )
    add_rung(
        trace,
        "media_top",
        "Top of the media above the inlet crest",
        upper="bed.media_top_m",
        lower=inlet,
        limit=zero,
        elevation="bed.media_top_m",
        where="bed",
        exact=True,
    )
    _add_bed_rungs(trace, zero)
    _add_peak(trace)
    add_solid_pipes(trace)
    add_season_crests(trace)
    _add_ditch(trace)


def _add_bed_rungs(trace: Trace, zero: str) -> None:
    inlet, outlet = "elevations.inlet_crest.elevation_m", "elevations.outlet_crest.elevation_m"
    add_rung(
        trace,
        "ground_at_bed",
        "Ground above the top of the media",
        upper="inputs.site.ground_at_bed_m",
        lower="elevations.media_top.elevation_m",
        limit="rules.cover_m",
        elevation="inputs.site.ground_at_bed_m",
        scale="freeboard",
        where="bed",
    )
    add_rung(
        trace,
        "driving_head",
        "Inlet crest above outlet crest",
        upper=inlet,
        lower=outlet,
        limit="rules.driving-head_m",
        elevation=inlet,
        where="bed",
    )
    _add_board_step(trace)
    add_rung(
        trace,
        "floor_outlet",
        "Floor of the bed above the invert of its outlet pipe",
        upper="inputs.bed.floor_outlet_m",
        lower="inputs.bed.outlet_invert_m",
        limit=zero,
        elevation="inputs.bed.floor_outlet_m",
        where="bed",
        exact=True,
    )
    add_rung(
        trace,
        "return_fall",
        "Invert of the bed's outlet pipe above the end of its return",
        upper="inputs.bed.outlet_invert_m",
        lower="inputs.bed.return_invert_m",
        limit=zero,
        elevation="inputs.bed.outlet_invert_m",
        where="return",
    )


def _add_board_step(trace: Trace) -> None:
    """Head that is smaller than one board cannot be set, and is gone when a board is out."""
    trace.compute(
        "board_step.least_m",
        smallest_board,
        unit="m",
        title="Smallest step by which a crest can be set",
        board_heights="inputs.boards.heights_m",
        seal_gap="inputs.boards.seal_gap_m",
    )
    trace.require(
        Requirement(
            key="board_step",
            title="Inlet crest above outlet crest by more than one board",
            value="elevations.driving_head.value_m",
            operator=">=",
            limit="board_step.least_m",
            unit="m",
            scale=SCALES["elevation"],
            where="bed",
        )
    )


def _add_peak(trace: Trace) -> None:
    """Water in the inlet structure at the largest physical flow, the bed shut off."""
    rating_steps.add_bypass_head(
        trace,
        "bypass",
        "drain_flow.peak_for_bypass_m3_s",
        "Head over the bypass crest at the largest physical flow, bed shut off",
    )
    rating_steps.tell_of_bypass_range(trace)
    rating_steps.add_outlet_head(trace)
    trace.compute(
        "bypass.level_m",
        crest_elevation,
        unit="m",
        title="Water in the inlet structure at the largest physical flow",
        sill="elevations.inlet_crest.elevation_m",
        height="bypass.head_m",
    )
    add_rung(
        trace,
        "inlet_rim_storm",
        "Rim of the inlet structure above its water at the largest physical flow",
        upper="inputs.structure.inlet.rim_m",
        lower="bypass.level_m",
        limit="rules.none_m",
        elevation="inputs.structure.inlet.rim_m",
        scale="freeboard",
        where="inlet structure",
    )
    add_bypass(trace)


def add_bypass(trace: Trace) -> None:
    """Record the diameter of the bypass, and hold it to that of the main."""
    bypasses = [
        name
        for name in trace.names("inputs.pipe")
        if trace.value(f"inputs.pipe.{name}.use") == "bypass"
    ]
    if not bypasses:
        trace.give(
            Given(
                "bypass.diameter_m",
                Unknown("no pipe with the use bypass is listed", "list it under [pipe.NAME]"),
                "m",
                "Diameter of the bypass",
            )
        )
    else:
        trace.compute(
            "bypass.diameter_m",
            least_of,
            unit="m",
            title="Diameter of the bypass",
            **{argument_name(name): f"inputs.pipe.{name}.diameter_m" for name in bypasses},
        )
    trace.require(
        Requirement(
            key="bypass",
            title="Bypass no smaller than the main",
            value="bypass.diameter_m",
            operator=">=",
            limit="inputs.main.diameter_m",
            unit="m",
            scale=0.0508,
            where="bypass",
            exact=True,
        )
    )


def add_solid_pipes(trace: Trace) -> None:
    """Hold the pipes beside a structure to the length that is laid solid."""
    for pipe in trace.names("inputs.pipe"):
        given = f"inputs.pipe.{pipe}"
        kind = f"{given}.kind"
        if trace.value(kind) != "perforated":
            trace.require(
                Requirement(
                    key=f"pipes.{pipe}",
                    title=f"Solid pipe beside a structure long enough: {pipe.replace('-', ' ')}",
                    value=f"{given}.length_m" if trace.known(kind) else kind,
                    operator=">=",
                    limit="rules.solid-pipe_m",
                    unit="m",
                    scale=6.096,
                    where=pipe,
                    exact=True,
                )
            )


def add_season_crests(trace: Trace) -> None:
    """Hold the crest of each season that has its own boards to what the field allows."""
    for season in trace.names("inputs.season"):
        if f"inputs.season.{season}.inlet_boards_m" not in trace:
            continue
        crest = f"boards.inlet-{season}.crest_m"
        add_rung(
            trace,
            f"inlet_crest-{season}",
            f"Crest of the inlet boards under the highest crest that the field allows, {season}",
            upper="highest_crest_m",
            lower=crest,
            limit="rules.none_m",
            elevation=crest,
            where="inlet structure",
        )


def _add_ditch(trace: Trace) -> None:
    """Outlets above the ditch, each season with its own boards; without seasons the year."""
    for season in trace.names("inputs.season"):
        _add_ditch_rungs(trace, season, season, f"-{season}", f", {season}")
    if not trace.names("inputs.season"):
        _add_ditch_rungs(trace, YEAR, DESIGN, "", "")


def _add_ditch_rungs(trace: Trace, season: str, boards: str, ending: str, words: str) -> None:
    ordinary, crest = f"ditch.{season}.stage_m", f"boards.outlet-{boards}.crest_m"
    for name, what, upper, limit, scale in (
        (
            "main_outlet",
            "Outlet of the main",
            "inputs.main.invert_outlet_m",
            "outlet-freeboard",
            "freeboard",
        ),
        (
            "return_end",
            "End of the bed's return",
            "inputs.bed.return_invert_m",
            "return-freeboard",
            "freeboard",
        ),
        ("floor_water", "Floor of the bed", "inputs.bed.floor_outlet_m", "none", "elevation"),
    ):
        add_rung(
            trace,
            f"{name}{ending}",
            f"{what} above ordinary ditch water{words}",
            upper=upper,
            lower=ordinary,
            limit=f"rules.{limit}_m",
            elevation=upper,
            scale=scale,
            where="ditch",
        )
    add_rung(
        trace,
        f"outlet_crest{ending or '_stage'}",
        f"Outlet crest above the high stage of the ditch{words}",
        upper=crest,
        lower=f"ditch.{season}.high_m",
        limit="rules.none_m",
        elevation=crest,
        where="outlet structure",
    )


def smallest_board(board_heights: Sequence[float], seal_gap: float) -> float:
    """Smallest board that can be bought, with its seal.

    Parameters
    ----------
    board_heights : sequence of float
        Heights that can be bought. [m]
    seal_gap : float
        What the seal adds under each board. [m]

    Returns
    -------
    float
        Step of a crest. [m]

    Notes
    -----
    step = min(h_i) + g    (derived)

    References
    ----------
    derived, the least of the heights
    """
    return min(float(height) for height in board_heights) + seal_gap


def top_of_media(floor: float, media_depth: float) -> float:
    """Top of the media.

    Parameters
    ----------
    floor : float
        Floor of the bed. [m]
    media_depth : float
        Depth of the media. [m]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    top = floor + d    (derived)

    References
    ----------
    derived, a sum
    """
    return floor + media_depth
