# SPDX-License-Identifier: Apache-2.0
"""Steps of the distribution line: lengths, losses, flow and travel time in each season.

The criterion is judged in one season, by default the one with the highest ordinary ditch water,
with the water in the structure at the bypass crest. Keys: `buffer.season.NAME.flow_m3_s` and so on,
`buffer.flow_m3_s`, `buffer.share_of_peak`, `buffer.travel_time_days` of the criterion season.
"""

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.hydraulics.distribution_line import BranchFlow, branch_evenness_findings
from tilewater.hydraulics.line_exit import LineSoil, line_exit_resistance_ernst
from tilewater.practices.bed.capacity import share_of_flow
from tilewater.practices.bed.settings import DESIGN
from tilewater.practices.buffer import line, line_lengths
from tilewater.practices.buffer.givens import (
    LINE,
    SOIL,
    effective_radius_of,
    needed,
    or_default,
    wetted_perimeter_of_line,
)
from tilewater.practices.buffer.soil import head_above_barrier
from tilewater.practices.buffer.soil_steps import BY, KINDS, barrier
from tilewater.practices.rules import difference, same

YEAR = "year"
"""Name that stands for the whole year where a job has no seasons."""
ENDS = {
    "": "buffer.conductivity_m_s",
    "_low": "buffer.conductivity_low_m_s",
    "_high": "buffer.conductivity_high_m_s",
}


def add_line(trace: Trace) -> None:
    """Record the line, its losses, and what it gives in each season."""
    _add_lengths(trace)
    _add_pipe(trace)
    _add_exit(trace)
    for season in seasons(trace):
        _add_season(trace, season)
    _add_criterion(trace)
    _add_evenness(trace)


def seasons(trace: Trace) -> tuple[str, ...]:
    """Seasons of the job, or the whole year where it has none."""
    return trace.names("inputs.season") or (YEAR,)


def _add_lengths(trace: Trace) -> None:
    compute = trace.compute
    branches = needed(trace, f"{LINE}.branches_m", "Branches of the line", "m", "lay the line out")
    trees = f"{LINE}.tree_length_m"
    compute(
        "buffer.laid_length_m",
        line_lengths.laid_length,
        unit="m",
        title="Length of the line as laid",
        branches=branches,
    )
    compute(
        "buffer.branches_m",
        line_lengths.feeding_branches,
        unit="m",
        title="Length of each branch that lets water out",
        branches=branches,
        **({"tree_length": trees} if trees in trace else {}),
    )
    compute(
        "buffer.line_length_m",
        line_lengths.laid_length,
        unit="m",
        title="Length of line that lets water out",
        branches="buffer.branches_m",
    )
    _add_length_share(trace, branches)
    needed(trace, f"{LINE}.width_m", "From the line to the water's edge", "m", "tape it")
    compute("buffer.width_m", same, unit="m", title="Width of the strip", value=f"{LINE}.width_m")
    if trees in trace:
        trace.findings.append(
            Finding(
                "roots-at-line",
                "caution",
                "Distribution line",
                "Part of the line lies within reach of roots. It is laid solid there and feeds "
                "nothing; perforated pipe would fill with roots.",
                source="practice",
            )
        )


def _add_length_share(trace: Trace, branches: str) -> None:
    """Record the share of the strip that the line takes up, its solid pipe counted."""
    available = needed(
        trace,
        f"{LINE}.length_available_m",
        "Length of strip that a line could use",
        "m",
        "tape the strip between trees, crossings and property lines",
    )
    solid = f"{LINE}.solid_at_structure_m"
    trace.compute(
        "buffer.length_used_m",
        line_lengths.length_of_strip_used,
        unit="m",
        title="Length of strip that the line takes up",
        branches=branches,
        solid_at_structure=needed(trace, solid, "Solid pipe at the structure", "m", "plan it"),
    )
    trace.compute(
        "buffer.length_share",
        line_lengths.share_of_length,
        unit="-",
        title="Share of the strip that the line uses",
        used="buffer.length_used_m",
        available=available,
    )


def _add_pipe(trace: Trace) -> None:
    diameter = needed(trace, f"{LINE}.pipe_diameter_m", "Diameter of the line", "m", "choose it")
    invert = needed(trace, f"{LINE}.line_invert_m", "Invert of the line", "m", "choose it")
    trace.compute(
        "buffer.pipe",
        line.line_pipe,
        unit="",
        title="Pipe of the line",
        invert=invert,
        barrier=barrier(trace),
        diameter=diameter,
        n=or_default(trace, f"{LINE}.pipe_n"),
        branches="buffer.branches_m",
    )
    ground = needed(trace, f"{LINE}.ground_at_line_m", "Ground over the line", "m", "shoot it")
    trace.compute(
        "buffer.crown_m",
        crown_of,
        unit="m",
        title="Crown of the line",
        invert=invert,
        diameter=diameter,
    )
    trace.compute(
        "buffer.cover_m",
        difference,
        unit="m",
        title="Soil over the line",
        upper=ground,
        lower="buffer.crown_m",
    )


def _add_exit(trace: Trace) -> None:
    compute = trace.compute
    how = "decide it with the contractor"
    envelope = needed(trace, f"{LINE}.envelope", "What lies round the line", "", how)
    stated = f"{LINE}.effective_radius_m"
    compute(
        "buffer.effective_radius_m",
        effective_radius_of,
        unit="m",
        title="Effective radius of the line",
        envelope=envelope,
        **({"stated": stated} if stated in trace else {}),
    )
    width = needed(trace, f"{LINE}.trench_width_m", "Width of the trench", "m", how)
    compute(
        "buffer.wetted_perimeter_m",
        wetted_perimeter_of_line,
        unit="m",
        title="Perimeter by which the line lets its water out",
        envelope=envelope,
        effective_radius="buffer.effective_radius_m",
        trench_width=width,
        diameter=f"{LINE}.pipe_diameter_m",
    )
    for end, conductivity in ENDS.items():
        _add_soil_record(trace, end, conductivity)
    for kind in KINDS.values():
        if f"{BY}.{kind}_m_s" in trace:
            _add_soil_record(trace, f"_{kind}", f"{BY}.{kind}_m_s")


def _add_soil_record(trace: Trace, end: str, conductivity: str) -> None:
    trace.compute(
        f"buffer.exit_resistance{end}_s_m",
        line_exit_resistance_ernst,
        unit="s/m",
        title="Head that the line loses where water spreads, per flow per length",
        conductivity=conductivity,
        thickness="buffer.head_line_m",
        wetted_perimeter="buffer.wetted_perimeter_m",
    )
    trace.compute(
        f"buffer.soil{end}",
        LineSoil,
        unit="",
        title="Soil that the line feeds",
        width="buffer.width_m",
        conductivity=conductivity,
        exit_resistance=f"buffer.exit_resistance{end}_s_m",
    )


def _add_season(trace: Trace, season: str) -> None:
    here, compute = f"buffer.season.{season}", trace.compute
    setting = DESIGN if season == YEAR else season
    for name, function, title, level in (
        ("head_line_m", head_above_barrier, "Head at the line", f"boards.inlet-{setting}.crest_m"),
        ("head_stream_m", head_above_barrier, "Head of the ditch", f"ditch.{season}.stage_m"),
    ):
        compute(
            f"{here}.{name}",
            function,
            unit="m",
            title=f"{title} above the restrictive layer, {season}",
            elevation=level,
            barrier=barrier(trace),
        )
    heads = {"head_line": f"{here}.head_line_m", "head_stream": f"{here}.head_stream_m"}
    _add_flows(trace, season, heads)
    compute(
        f"{here}.head_soil_m",
        line.head_in_soil,
        unit="m",
        title=f"Head in the soil at the line, {season}",
        flow=f"{here}.flow_m3_s",
        head_stream=heads["head_stream"],
        pipe="buffer.pipe",
        soil="buffer.soil",
    )
    for name, days_of, words in (
        ("travel_time_days", line.travel_days, "exact integral"),
        ("travel_time_linear_days", line.travel_days_linear, "mean velocity and 1.11"),
    ):
        compute(
            f"{here}.{name}",
            days_of,
            unit="days",
            title=f"Travel time from line to ditch, {season}, {words}",
            head_soil=f"{here}.head_soil_m",
            head_stream=heads["head_stream"],
            soil="buffer.soil",
            porosity=or_default(trace, f"{SOIL}.porosity_effective"),
        )


def _add_flows(trace: Trace, season: str, heads: dict[str, str]) -> None:
    here = f"buffer.season.{season}"
    ends = [*ENDS, *(f"_{kind}" for kind in KINDS.values() if f"{BY}.{kind}_m_s" in trace)]
    for end in ends:
        words = f", conductivity {end.removeprefix('_')}" if end else ""
        trace.compute(
            f"{here}.flow{end}_m3_s",
            line.flow_at_heads,
            unit="m3/s",
            title=f"Flow into the buffer at the bypass crest, {season}{words}",
            **heads,
            pipe="buffer.pipe",
            soil=f"buffer.soil{end}",
        )
        trace.compute(
            f"{here}.share{end}_of_peak",
            share_of_flow,
            unit="-",
            title=f"Share of the peak into the buffer, {season}{words}",
            flow=f"{here}.flow{end}_m3_s",
            peak="drain_flow.peak_for_share_m3_s",
        )
    trace.compute(
        f"{here}.flow_without_losses_m3_s",
        line.flow_without_losses,
        unit="m3/s",
        title=f"Flow into the buffer if its line took no head, {season}",
        **heads,
        pipe="buffer.pipe",
        soil="buffer.soil",
    )


def criterion_season(trace: Trace) -> str:
    """Season that the share of capacity is judged by."""
    stated = f"{LINE}.criterion_season"
    names = seasons(trace)
    if stated in trace and trace.known(stated) and trace.value(stated) in names:
        return str(trace.value(stated))
    known = [n for n in names if trace.known(f"buffer.season.{n}.head_stream_m")]
    if len(known) < len(names):
        return names[0]
    return max(known, key=lambda n: float(trace.value(f"buffer.season.{n}.head_stream_m")))


COPIED = {
    "flow_m3_s": ("m3/s", "Flow into the buffer on the criterion line"),
    "flow_low_m3_s": ("m3/s", "Flow into the buffer, conductivity at its low end"),
    "flow_high_m3_s": ("m3/s", "Flow into the buffer, conductivity at its high end"),
    "flow_without_losses_m3_s": ("m3/s", "Flow into the buffer if its line took no head"),
    "share_of_peak": ("-", "Share of the peak into the buffer"),
    "share_low_of_peak": ("-", "Share of the peak, conductivity at its low end"),
    "share_high_of_peak": ("-", "Share of the peak, conductivity at its high end"),
    "head_stream_m": ("m", "Head of the ditch on the criterion line"),
    "head_soil_m": ("m", "Head in the soil at the line"),
    "travel_time_days": ("days", "Travel time from line to ditch, exact integral"),
    "travel_time_linear_days": ("days", "Travel time by mean velocity and 1.11"),
}


def _add_criterion(trace: Trace) -> None:
    season = criterion_season(trace)
    trace.constant(
        "buffer.criterion_season", season, "Season the share is judged by", source="derived"
    )
    for name, (unit, title) in COPIED.items():
        key = f"buffer.season.{season}.{name}"
        if key not in trace:
            unknown = Unknown(f"no season called {season} was computed")
            trace.give(Given(key, unknown, unit, title))
        trace.compute(f"buffer.{name}", same, unit=unit, title=f"{title}, {season}", value=key)


def _add_evenness(trace: Trace) -> None:
    season = trace.value("buffer.criterion_season")
    trace.compute(
        "buffer.far_share",
        line.least_far_share,
        unit="-",
        title="Flow at the far end of the worst branch over that at its near end",
        head_line=f"buffer.season.{season}.head_line_m",
        head_stream="buffer.head_stream_m",
        pipe="buffer.pipe",
        soil="buffer.soil",
    )
    if trace.known("buffer.far_share", "buffer.flow_m3_s") and trace.value("buffer.flow_m3_s"):
        share = float(trace.value("buffer.far_share"))
        trace.findings.extend(branch_evenness_findings([BranchFlow(0.0, 0.0, 0.0, share)]))


def crown_of(invert: float, diameter: float) -> float:
    """Elevation of the crown of a pipe, its wall left out.

    Parameters
    ----------
    invert : float
        Elevation of the invert. [m]
    diameter : float
        Inside diameter. [m]

    Returns
    -------
    float
        Elevation. [m]

    Notes
    -----
    crown = invert + D    (derived)

    References
    ----------
    derived, a sum
    """
    return invert + diameter
