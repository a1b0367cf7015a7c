# SPDX-License-Identifier: Apache-2.0
"""What a surcharged main does to the field, boards in beside boards out."""

from tilewater.basis.findings import Finding
from tilewater.basis.told import cfs
from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.main_parts import level_over_crest
from tilewater.chain.segments import LINE, LINE_ABOVE
from tilewater.hydraulics.grade_lines import grade_line_level
from tilewater.hydrology import drain_flow
from tilewater.hydrology.main_flow import main_flow_to_ground_boards, place_of_least
from tilewater.practices.bed.board_steps import set_key


def surcharge_findings(trace: Trace) -> None:
    """Say what a surcharged main does to the field, boards in beside boards out."""
    for spot in trace.names("field"):
        _add_boards_in(trace, spot)
        both = (
            f"drain_flow.surcharged.{spot}.flow_m3_s",
            f"drain_flow.surcharged.{spot}.boards_in_m3_s",
            "drain_flow.peak_for_bypass_m3_s",
        )
        if trace.known(*both):
            out, boards, peak = (float(trace.value(key)) for key in both)
            if min(out, boards) <= peak * (1 + 1e-9):
                trace.findings.append(
                    Finding(
                        "surcharge-reaches-ground",
                        "note",
                        spot,
                        f"In the largest flow the main can be made to carry, water reaches the "
                        f"ground at {spot}: from {cfs(out, '.2f')} with the boards out, from "
                        f"{cfs(boards, '.2f')} with the boards in. A main of this size "
                        "floods that spot in such a storm with or without the practice.",
                        value=min(out, boards),
                        operator=">=",
                        limit=peak,
                        unit="m3/s",
                        source="derived",
                    )
                )
    _add_least(trace)
    if LINE in trace:
        _add_levels(trace)


def _add_boards_in(trace: Trace, spot: str) -> None:
    key = f"drain_flow.surcharged.{spot}.boards_in_m3_s"
    title = f"Flow that brings water to the ground at {spot}, boards in"
    ground = f"inputs.spot.{spot}.ground_m"
    if LINE in trace:
        trace.compute(
            key,
            main_flow_to_ground_boards,
            unit="m3/s",
            title=title,
            ground=ground,
            station=f"inputs.spot.{spot}.station_m",
            boards=set_key("inlet"),
            segments=LINE_ABOVE,
        )
        return
    trace.compute(
        key,
        drain_flow.main_flow_surcharged_boards,
        unit="m3/s",
        title=title,
        ground=ground,
        distance=f"field.{spot}.distance_m",
        crest="elevations.inlet_crest.elevation_m",
        crest_width="inputs.structure.inlet.crest_width_m",
        diameter="inputs.main.diameter_m",
        n="drain_flow.main_n",
    )


def _add_least(trace: Trace) -> None:
    """The flow at which water first reaches the ground, and where, boards in and boards out."""
    spots = trace.names("field")
    if not spots:
        return
    for boards, end, flow, where in (
        ("in", "boards_in_m3_s", "main.water_reaches_ground_m3_s", "main.where"),
        ("out", "flow_m3_s", "main.water_reaches_ground_boards_out_m3_s", "main.where_boards_out"),
    ):
        flows = {argument_name(s): f"drain_flow.surcharged.{s}.{end}" for s in spots}
        trace.compute(
            flow,
            drain_flow.least_of,
            unit="m3/s",
            title=f"Flow at which water first reaches the ground, boards {boards}",
            **flows,
        )
        trace.compute(
            where,
            place_of_least,
            unit="",
            title=f"Spot where water first reaches the ground, boards {boards}",
            **flows,
        )


def _add_levels(trace: Trace) -> None:
    """Water at the upper end of each segment in the storm of the field, boards in and out."""
    trace.compute(
        "field_storm.level_m",
        level_over_crest,
        unit="m",
        title="Water at the structure in the storm, practice shut off",
        crest="elevations.inlet_crest.elevation_m",
        head="field_storm.head_m",
    )
    ways = (("in", "field_storm.level_m", LINE_ABOVE), ("out", "drain_flow.outlet_level_m", LINE))
    for boards, level, line in ways:
        names = [one.name for one in trace.value(line)] if trace.known(line) else ()
        for name in names:
            trace.compute(
                f"main.segments.{name}.level_up_boards_{boards}_m",
                grade_line_level,
                unit="m",
                title=f"Water at the upper end of segment {name} in the storm, boards {boards}",
                flow="field_storm.flow_m3_s",
                level_down=level,
                segments=line,
                station=f"main.segments.{name}.station_up_m",
            )
