# SPDX-License-Identifier: Apache-2.0
"""Steps that empty the bed: to which level, how long, in which seasons it may stand empty."""

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace, argument_name
from tilewater.hydraulics.media_recession import drain_down_time_over_pool, drained_share_over_pool
from tilewater.practices.bed import capacity, emptying, let_out
from tilewater.practices.bed.cells import add_solid, cell_names
from tilewater.practices.bed.groundwater_steps import reserve
from tilewater.practices.bed.settings import DESIGN

YEAR = "year"
"""Stands for the seasons where the ditch is known without them."""
FULL = "emptying.pore_volume_drainable_m3"
SIDES = {"length": "bottom_length", "width": "bottom_width"}
"""What the functions call length and width of the floor."""


def add_way_out(trace: Trace) -> None:
    """Record the level that the bed empties to by itself, and what stays below it."""
    trace.compute(
        "bed.leaves_at_m",
        emptying.highest_way_out,
        unit="m",
        title="Highest invert or sill below the bed that its water must pass",
        outlet_invert="inputs.bed.outlet_invert_m",
        sill="inputs.structure.outlet.sill_m",
        return_invert="inputs.bed.return_invert_m",
    )
    trace.compute(
        "bed.dead_pool_m",
        capacity.dead_pool,
        unit="m",
        title="Water that can never drain out of the bed",
        leaves_at="bed.leaves_at_m",
        floor="bed.floor_m",
    )
    _add_gate(trace)


def add_emptying(trace: Trace) -> None:
    """Record water, hours and first flow of an emptying, and each season's share."""
    compute = trace.compute
    compute(
        "emptying.full_depth_m",
        emptying.standing_depth,
        unit="m",
        title="Depth of chips under water in the full bed",
        crest_depth="bed.depth_inlet_crest_m",
        media_depth="inputs.bed.media_depth_m",
    )
    add_solid(
        trace,
        FULL,
        emptying.drainable_water,
        unit="m3",
        title="Water that the full bed could let go",
        depth="emptying.full_depth_m",
        porosity="inputs.media.porosity_drainable",
        sides=SIDES,
        side_slope="inputs.bed.side_slope",
    )
    _add_level(trace, "emptying", "bed.leaves_at_m", "ditch low")
    for season, line in (("warm", "criterion"), ("cold", "spring")):
        for share in (0.5, 0.9, 0.95):
            _add_hours(trace, season, f"capacity.{line}.conductivity_m_s", share)
    _add_first_hour(trace)
    for season in trace.names("inputs.season"):
        _add_groundwater(trace, season)
    for season in trace.names("inputs.season") or (YEAR,):
        for kind in ("ordinary", "high"):
            if stage_key(trace, season, kind):
                _add_stage(trace, season, kind)
    _tell(trace)


def _add_gate(trace: Trace) -> None:
    trace.compute(
        "feed_gate.sets",
        emptying.feed_shut_offs,
        unit="-",
        title="Gates or second sets of boards that shut off the feed",
        feed_gate="inputs.bed.feed_gate",
    )
    trace.require(
        Requirement(
            key="feed_gate",
            title="Gate or second set of boards on the feed, so that the bed can be emptied while "
            "the drains run",
            value="feed_gate.sets",
            operator=">=",
            limit=trace.constant("feed_gate.least", 1.0, "One is enough", source="practice"),
            unit="-",
            scale=1.0,
            where="feed",
            exact=True,
        )
    )


def _add_level(trace: Trace, here: str, level: str, words: str) -> None:
    """What stays and what share comes out when the bed empties to a level."""
    trace.compute(
        f"{here}.pool_m",
        emptying.standing_pool,
        unit="m",
        title=f"Water that stays in the emptied bed, {words}",
        level=level,
        floor="bed.floor_mean_m",
        media_depth="inputs.bed.media_depth_m",
    )
    trace.compute(
        f"{here}.depth_m",
        emptying.depth_above_pool,
        unit="m",
        title=f"Depth of water that leaves the full bed, {words}",
        depth="emptying.full_depth_m",
        pool=f"{here}.pool_m",
    )
    _add_share(trace, here, f"Share of the drainable water that comes out, {words}")


def _add_share(trace: Trace, here: str, title: str) -> None:
    """Share that comes out; of several cells by the water that each holds."""
    common = {
        "pool": f"{here}.pool_m",
        "depth": "emptying.full_depth_m",
        "side_slope": "inputs.bed.side_slope",
    }
    cells = cell_names(trace)
    parts = {}
    for cell in cells or ("",):
        word = argument_name(cell)
        of_cell, bed = (f".of_{word}", f"bed.cells.{cell}") if cell else ("", "bed")
        spoken = f", cell {cell}" if cell else ""
        trace.compute(
            f"{here}{of_cell}.share",
            emptying.share_let_out,
            unit="-",
            title=f"{title}{spoken}",
            **{name: f"{bed}.{side}_bottom_m" for side, name in SIDES.items()},
            **common,
        )
        if cell:
            parts[word] = f"{here}{of_cell}.leaves_m3"
            trace.compute(
                parts[word],
                let_out.water_let_out,
                unit="m3",
                title=f"Water that comes out{spoken}",
                volume=f"emptying{of_cell}.pore_volume_drainable_m3",
                share=f"{here}{of_cell}.share",
            )
    if cells:
        trace.compute(
            f"{here}.share",
            let_out.share_of_all,
            unit="-",
            title=f"{title}, all cells",
            drainable=FULL,
            **parts,
        )


def _add_hours(trace: Trace, season: str, conductivity: str, share: float) -> None:
    percent = round(100 * share)
    drained = trace.constant(
        f"drain_down.share_{percent}", share, f"{percent} percent drained", source="derived"
    )
    trace.compute(
        f"drain_down.{season}_{percent}_s",
        drain_down_time_over_pool,
        unit="s",
        title=f"Time until {percent} percent of what can leave has left, {season} water",
        share_drained=drained,
        depth="emptying.depth_m",
        pool="emptying.pool_m",
        length="bed.length_m",
        conductivity=conductivity,
        drainable_porosity="inputs.media.porosity_drainable",
    )


def _add_first_hour(trace: Trace) -> None:
    """The fastest an emptying can begin, new chips and warm water, beside what the return takes."""
    compute = trace.compute
    hour = trace.constant("emptying.hour_s", 3600.0, "First hour", unit="s", source="derived")
    compute(
        "emptying.first_hour_share",
        drained_share_over_pool,
        unit="-",
        title="Share of what can leave that leaves in the first hour, new chips",
        time=hour,
        depth="emptying.depth_m",
        pool="emptying.pool_m",
        length="bed.length_m",
        conductivity="capacity.new.conductivity_m_s",
        drainable_porosity="inputs.media.porosity_drainable",
    )
    compute(
        "emptying.leaves_m3",
        let_out.water_let_out,
        unit="m3",
        title="Water that leaves the full bed, ditch low",
        volume=FULL,
        share="emptying.share",
    )
    compute(
        "emptying.first_hour_m3_s",
        emptying.mean_outflow,
        unit="m3/s",
        title="Mean flow of the first hour, all boards out, new chips",
        share="emptying.first_hour_share",
        volume="emptying.leaves_m3",
        time=hour,
    )
    pace = trace.constant(
        "emptying.pace_s", 43200.0, "Time between two boards in spring", unit="s", source="practice"
    )
    compute(
        "emptying.pull_s",
        emptying.time_to_pull,
        unit="s",
        title="Time from the first outlet board pulled to the last, one in 12 hours",
        stack=f"boards.outlet-{DESIGN}.stack_m",
        pace=pace,
    )
    _add_return(trace)


def _add_return(trace: Trace) -> None:
    trace.compute(
        "emptying.return_full_m3_s",
        emptying.return_flow_full,
        unit="m3/s",
        title="What the return carries full",
        upper="inputs.bed.outlet_invert_m",
        lower="inputs.bed.return_invert_m",
        length="system.outflow.length_m",
        diameter="system.outflow.diameter_m",
        n="system.outflow.n",
    )


def stage_key(trace: Trace, season: str, kind: str) -> str:
    """Key of the ordinary or the high water of the ditch in a season; "" where there is none."""
    name, field = {
        "ordinary": ("stage_m", "ditch_stage_m"),
        "high": ("high_m", "ditch_high_m"),
    }[kind]
    keys = (f"ditch.{season}.{name}", "ditch.stage_m", f"inputs.season.{season}.{field}")
    return next((key for key in keys if key in trace), "")


def _add_stage(trace: Trace, season: str, kind: str) -> None:
    here = f"emptying.seasons.{season}.{kind}"
    words = f"{kind} ditch water, {season}"
    trace.compute(
        f"{here}.level_m",
        emptying.higher_of,
        unit="m",
        title=f"Level that the bed empties to, {words}",
        first="bed.leaves_at_m",
        second=stage_key(trace, season, kind),
    )
    _add_level(trace, here, f"{here}.level_m", words)
    conductivity = f"seasons.{season}.conductivity_m_s"
    if conductivity not in trace:
        return
    trace.compute(
        f"{here}.to_90_s",
        drain_down_time_over_pool,
        unit="s",
        title=f"Time until 90 percent of what can leave has left, {words}",
        share_drained="drain_down.share_90",
        depth=f"{here}.depth_m",
        pool=f"{here}.pool_m",
        length="bed.length_m",
        conductivity=conductivity,
        drainable_porosity="inputs.media.porosity_drainable",
    )


def _add_groundwater(trace: Trace, season: str) -> None:
    """Whether the lining stays down under an empty bed, with the water table of the season."""
    lining = "inputs.bed.lining"
    if trace.known(lining) and trace.value(lining) == "geotextile":
        return
    key = f"emptying.seasons.{season}.stands_empty"
    trace.compute(
        f"{key}_m",
        reserve,
        unit="m",
        title=f"Ground water under the highest that the empty bed bears, {season}",
        limit="uplift.finished.groundwater_limit_m",
        level=f"inputs.season.{season}.groundwater_m",
    )
    trace.require(
        Requirement(
            key=key,
            title=f"The bed may stand empty, {season}",
            value=f"{key}_m",
            operator=">=",
            limit="rules.none_m",
            unit="m",
            scale=SCALES["elevation"],
            where="bed",
            binding=False,
        )
    )


def _tell(trace: Trace) -> None:
    forbidden = seasons_not_to_empty(trace)
    limit = "uplift.finished.groundwater_limit_m"
    if forbidden and trace.known(limit):
        when = " and ".join(forbidden) if len(forbidden) < 3 else ", ".join(forbidden)
        trace.findings.append(
            Finding(
                "do-not-empty",
                "caution",
                "Emptying",
                f"Do not empty the bed in {when}: the ground water then stands above "
                f"{feet(float(trace.value(limit)))}, and an empty lined bed would be "
                "lifted. Put it on the lid card.",
                source="practice",
            )
        )
    first, full = "emptying.first_hour_m3_s", "emptying.return_full_m3_s"
    if trace.known(first, full) and trace.value(first) > trace.value(full):
        trace.findings.append(
            Finding(
                "emptying-fills-return",
                "note",
                "Emptying",
                "All boards out at once, the chips would give more in the first hour than the "
                "return carries full. It then empties more slowly than the hours say; pull one "
                "board at a time.",
                value=float(trace.value(first)),
                operator="<=",
                limit=float(trace.value(full)),
                unit="m3/s",
                source="derived",
            )
        )
    if trace.known("inputs.bed.return") and trace.value("inputs.bed.return") == "main":
        trace.findings.append(
            Finding(
                "emptying-into-main",
                "note",
                "Emptying",
                "The return ends in the main. With the feed shut the whole drain flow comes past "
                "that end, and the bed empties no lower than the water in the main there; the "
                "hours hold while the drains hardly run.",
                source="derived",
            )
        )


def seasons_not_to_empty(trace: Trace) -> tuple[str, ...]:
    """Seasons whose ground water stands above what the empty bed bears."""
    here = "emptying.seasons"
    return tuple(
        season
        for season in trace.names(here)
        if f"{here}.{season}.stands_empty.status" in trace
        and trace.value(f"{here}.{season}.stands_empty.status") == "short"
    )
