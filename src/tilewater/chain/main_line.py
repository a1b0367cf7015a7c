# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: what the main carries, full and surcharged, uniform or in segments."""

from tilewater.basis.trace import Given, Origin, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain.grade import tell_grade
from tilewater.chain.main_parts import main_roughness, outlet_level, station_difference
from tilewater.chain.segments import LINE, LINE_ABOVE, add_segments, lowest_segment
from tilewater.hydraulics.pipes import pipe_flow_full_manning
from tilewater.hydrology import drain_flow, main_flow

CANDIDATES = "drain_flow.candidates_m3_s"


def add_main(trace: Trace) -> None:
    """Record roughness, capacity full, and the flow that floods each spot with the boards out."""
    _add_roughness(trace)
    add_segments(trace)
    _add_full(trace)
    tell_grade(trace)
    _add_surcharged(trace)


def _add_roughness(trace: Trace) -> None:
    if trace.known("inputs.main.n"):
        trace.give(
            Given(
                "drain_flow.main_n",
                trace.value("inputs.main.n"),
                "",
                "Roughness of the main",
                trace.steps["inputs.main.n"].origin or Origin(),
            )
        )
    else:
        trace.compute(
            "drain_flow.main_n",
            main_roughness,
            unit="-",
            title="Roughness of the main by its material",
            material="inputs.main.material",
            diameter="inputs.main.diameter_m",
        )


def _add_full(trace: Trace) -> None:
    if LINE in trace:
        trace.compute(
            f"{CANDIDATES}.main_full",
            main_flow.main_flow_full,
            unit="m3/s",
            title="What the main carries full: its least segment above the diversion",
            segments=LINE_ABOVE,
        )
        lowest = f"main.segments.{lowest_segment(trace)}"
        ends = {"invert": f"{lowest}.invert_down_m", "diameter": f"{lowest}.diameter_m"}
    else:
        trace.compute(
            f"{CANDIDATES}.main_full",
            pipe_flow_full_manning,
            unit="m3/s",
            title="What the main carries full",
            diameter="inputs.main.diameter_m",
            slope="inputs.main.slope",
            n="drain_flow.main_n",
        )
        ends = {"invert": "inputs.main.invert_outlet_m", "diameter": "inputs.main.diameter_m"}
    trace.compute(
        "drain_flow.outlet_level_m",
        outlet_level,
        unit="m",
        title="Water level at the outlet of the main running full",
        **ends,
    )


def _add_surcharged(trace: Trace) -> None:
    compute = trace.compute
    spots = trace.names("inputs.spot")
    for spot in spots:
        distance = f"drain_flow.surcharged.{spot}.distance_m"
        compute(
            distance,
            station_difference,
            unit="m",
            title=f"Main from its outlet to {spot}",
            station=f"inputs.spot.{spot}.station_m",
            start="inputs.main.station_outlet_m",
        )
        _add_flooding(trace, spot, distance)
    if spots:
        compute(
            f"{CANDIDATES}.main_surcharged",
            drain_flow.least_of,
            unit="m3/s",
            title="What the main carries surcharged before water reaches the surface",
            **{argument_name(s): f"drain_flow.surcharged.{s}.flow_m3_s" for s in spots},
        )
    else:
        why = "no junction or low spot of the field is given"
        trace.give(
            Given(
                f"{CANDIDATES}.main_surcharged",
                Unknown(why, "shoot the low spots and junctions along the main"),
                "m3/s",
                "What the main carries surcharged before water reaches the surface",
            )
        )


def _add_flooding(trace: Trace, spot: str, distance: str) -> None:
    key = f"drain_flow.surcharged.{spot}.flow_m3_s"
    title = f"Flow that brings water to the ground at {spot}, boards out"
    ground, level = f"inputs.spot.{spot}.ground_m", "drain_flow.outlet_level_m"
    if LINE in trace:
        trace.compute(
            key,
            main_flow.main_flow_to_ground_free,
            unit="m3/s",
            title=title,
            ground=ground,
            station=f"inputs.spot.{spot}.station_m",
            outlet_level=level,
            segments=LINE,
        )
        return
    trace.compute(
        key,
        drain_flow.main_flow_surcharged_free,
        unit="m3/s",
        title=title,
        ground=ground,
        distance=distance,
        outlet_level=level,
        diameter="inputs.main.diameter_m",
        n="drain_flow.main_n",
    )
