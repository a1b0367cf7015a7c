# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: does the field stay dry behind the raised water?"""

from collections.abc import Callable

from tilewater.basis.findings import Finding
from tilewater.basis.requirement import SCALES, Requirement
from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.chain.areas import AREA_ABOVE
from tilewater.chain.field_crest import add_field_head
from tilewater.chain.inlets import inlets_bring_water
from tilewater.chain.main_parts import station_difference
from tilewater.chain.segments import LINE, LINE_ABOVE
from tilewater.hydrology.drain_flow import flux_from_flow, least_of
from tilewater.practices import main_pool, wetness
from tilewater.practices.bed import old_main_steps, rating_steps
from tilewater.practices.rules import difference, same

GIVEN = "given"
"""How an answer begins that says that consent is there."""
KINDS = ("standing", "storm", "midway")
WORDS = {
    "standing": "Clear soil over standing water",
    "storm": "Clear soil over the storm grade line in the main",
    "midway": "Clear soil midway between the laterals in the storm",
}


def add_field(trace: Trace) -> None:
    """Record the three clear soils at every spot, the highest crests and the pool reach."""
    compute = trace.compute
    _add_storm(trace)
    _add_pool(trace)
    spots = tuple(spot for spot in trace.names("inputs.spot") if not _is_below(trace, spot))
    for spot in spots:
        _add_spot(trace, spot)
    if spots:
        compute(
            "highest_crest_m",
            least_of,
            unit="m",
            title="Highest bypass crest that keeps every limit of the field",
            **{argument_name(s): f"field.{s}.highest_crest_m" for s in spots},
        )
    else:
        trace.give(
            Given(
                "highest_crest_m",
                Unknown(
                    "no junction or low spot of the field is given",
                    "shoot the low spots and junctions along the main",
                ),
                "m",
                "Highest bypass crest that keeps every limit of the field",
            )
        )
    old_main_steps.add_old_main(trace)
    _add_property_line(trace)


def _add_pool(trace: Trace) -> None:
    if LINE in trace:
        trace.compute(
            "pool_reach_m",
            main_pool.pool_reach_segments,
            unit="m",
            title="Length of main that holds standing water",
            crest="elevations.inlet_crest.elevation_m",
            segments=LINE_ABOVE,
        )
        return
    trace.compute(
        "pool_reach_m",
        wetness.pool_reach,
        unit="m",
        title="Length of main that holds standing water",
        crest="elevations.inlet_crest.elevation_m",
        invert="inputs.main.invert_diversion_m",
        slope="inputs.main.slope",
    )


def _add_storm(trace: Trace) -> None:
    compute = trace.compute
    supply = {"carries": "drain_flow.candidates_m3_s.main_full"}
    if not inlets_bring_water(trace):
        supply["supplies"] = "drain_flow.candidates_m3_s.laterals_at_surface"
    compute(
        "field_storm.flow_m3_s",
        least_of,
        unit="m3/s",
        title="Flow of the storm: the main just full, if the laterals can supply it",
        **supply,
    )
    rating_steps.add_rating_uncertainties(trace)
    add_field_head(
        trace,
        "field_storm",
        "field_storm.flow_m3_s",
        "Head over the bypass crest, main just full, practice shut off",
    )
    compute(
        "field_storm.flux_m_s",
        flux_from_flow,
        unit="m/s",
        title="Drain flux of the field, main just full",
        flow="field_storm.flow_m3_s",
        area=AREA_ABOVE,
    )


def _is_below(trace: Trace, spot: str) -> bool:
    """Whether a spot lies below the structure, where the boards raise no water."""
    station, start = f"inputs.spot.{spot}.station_m", "inputs.main.station_diversion_m"
    if not trace.known(station, start) or trace.value(station) >= trace.value(start):
        return False
    trace.findings.append(
        Finding(
            "spot-below-structure",
            "note",
            spot,
            f"{spot} lies below the diversion structure. The boards raise no water there, so it is "
            "not held to the limits of the field.",
            source="derived",
        )
    )
    return True


def _add_spot(trace: Trace, spot: str) -> None:
    compute = trace.compute
    given, here = f"inputs.spot.{spot}", f"field.{spot}"
    compute(
        f"{here}.distance_m",
        station_difference,
        unit="m",
        title=f"Main from the structure to {spot}",
        station=f"{given}.station_m",
        start="inputs.main.station_diversion_m",
    )
    if f"{given}.drain_m" in trace:
        compute(
            f"{here}.drain_m",
            same,
            unit="m",
            title=f"Elevation of the lateral at {spot}",
            value=f"{given}.drain_m",
        )
    else:
        compute(
            f"{here}.drain_m",
            wetness.drain_elevation_at_spot,
            unit="m",
            title=f"Elevation of the lateral at {spot}",
            ground=f"{given}.ground_m",
            lateral_depth="inputs.drainage.lateral_depth_m",
        )
    _add_rise(trace, spot)
    _add_clear_soil(trace, spot)


def _add_rise(trace: Trace, spot: str) -> None:
    key, title = f"field.{spot}.rise_m", f"Rise from the crest to {spot} in the storm"
    if LINE in trace:
        trace.compute(
            key,
            main_pool.storm_rise_segments,
            unit="m",
            title=title,
            crest="elevations.inlet_crest.elevation_m",
            **_storm_in_segments(spot),
        )
        return
    trace.compute(
        key,
        wetness.storm_rise,
        unit="m",
        title=title,
        head="field_storm.head_m",
        grade_line="inputs.main.slope",
        distance=f"field.{spot}.distance_m",
    )


def _storm_in_segments(spot: str) -> dict[str, str]:
    """Keys of the storm as the segments meet it."""
    return {
        "head": "field_storm.head_m",
        "flow": "field_storm.flow_m3_s",
        "station": f"inputs.spot.{spot}.station_m",
        "segments": LINE_ABOVE,
    }


def _add_clear_soil(trace: Trace, spot: str) -> None:
    compute = trace.compute
    given, here = f"inputs.spot.{spot}", f"field.{spot}"
    compute(
        f"{here}.storm_level_m",
        wetness.storm_water_level,
        unit="m",
        title=f"Water in the main at {spot} in the storm",
        crest="elevations.inlet_crest.elevation_m",
        rise=f"{here}.rise_m",
        drain=f"{here}.drain_m",
    )
    compute(
        f"{here}.standing_m",
        wetness.standing_clear_soil,
        unit="m",
        title=f"{WORDS['standing']} at {spot}",
        ground=f"{given}.ground_m",
        crest="elevations.inlet_crest.elevation_m",
        drain=f"{here}.drain_m",
    )
    compute(
        f"{here}.storm_m",
        wetness.storm_clear_soil,
        unit="m",
        title=f"{WORDS['storm']} at {spot}",
        ground=f"{given}.ground_m",
        water_level=f"{here}.storm_level_m",
    )
    compute(
        f"{here}.midway_m",
        wetness.midway_clear_soil,
        unit="m",
        title=f"{WORDS['midway']} at {spot}",
        ground=f"{given}.ground_m",
        water_level=f"{here}.storm_level_m",
        drain=f"{here}.drain_m",
        flux="field_storm.flux_m_s",
        laterals="drain_flow.laterals",
    )
    _add_limits(trace, spot)


def _add_limits(trace: Trace, spot: str) -> None:
    compute = trace.compute
    given, here = f"inputs.spot.{spot}", f"field.{spot}"
    for kind in KINDS:
        own = f"{given}.{kind}_m"
        compute(
            f"{here}.limits_m.{kind}",
            same,
            unit="m",
            title=f"Limit: {WORDS[kind].lower()} at {spot}",
            value=own if own in trace else f"inputs.limits.{kind}_m",
        )
        trace.require(
            Requirement(
                key=f"{here}.{kind}",
                title=f"{WORDS[kind]} at {spot}",
                value=f"{here}.{kind}_m",
                operator=">=",
                limit=f"{here}.limits_m.{kind}",
                unit="m",
                scale=SCALES["clear soil"],
                where=spot,
            )
        )
    for kind, function, inputs in _crests(trace, spot):
        compute(
            f"{here}.crest_for_{kind}_m",
            function,
            unit="m",
            title=f"Highest crest for {kind} water at {spot}",
            limit=f"{here}.limits_m.{kind}",
            **inputs,
        )
    compute(
        f"{here}.highest_crest_m",
        least_of,
        unit="m",
        title=f"Highest crest that {spot} allows",
        **{kind: f"{here}.crest_for_{kind}_m" for kind in KINDS},
    )


def _crests(
    trace: Trace, spot: str
) -> tuple[tuple[str, Callable[..., float], dict[str, str]], ...]:
    """For each kind of water: the function of the highest crest, and what it takes."""
    in_segments = LINE in trace
    common = {"ground": f"inputs.spot.{spot}.ground_m"}
    rise = _storm_in_segments(spot) if in_segments else {"rise": f"field.{spot}.rise_m"}
    soil = {
        "drain": f"field.{spot}.drain_m",
        "flux": "field_storm.flux_m_s",
        "laterals": "drain_flow.laterals",
    }
    storm = main_pool.crest_for_storm_segments if in_segments else wetness.crest_for_storm
    midway = main_pool.crest_for_midway_segments if in_segments else wetness.crest_for_midway
    return (
        ("standing", wetness.crest_for_standing, common),
        ("storm", storm, common | rise),
        ("midway", midway, common | soil | rise),
    )


def _add_property_line(trace: Trace) -> None:
    line = "inputs.main.property_line_station_m"
    if line not in trace:
        return
    trace.compute(
        "property_line.distance_m",
        station_difference,
        unit="m",
        title="Main from the structure to the property line",
        station=line,
        start="inputs.main.station_diversion_m",
    )
    trace.compute(
        "property_line.reserve_m",
        difference,
        unit="m",
        title="Main between the end of the pool and the property line",
        upper="property_line.distance_m",
        lower="pool_reach_m",
    )
    limit = trace.constant(
        "property_line.limit_m",
        0.0,
        "Pool may reach the line, not pass it",
        unit="m",
        source="nrcs554",
    )
    if _passes_with_consent(trace):
        return
    trace.require(
        Requirement(
            key="property_line",
            title="Pool ends before the property line, or the owner above consents in writing",
            value="property_line.reserve_m",
            operator=">=",
            limit=limit,
            unit="m",
            scale=30.48,
            text_status="read",
            source="nrcs554",
            where="main",
        )
    )


def _passes_with_consent(trace: Trace) -> bool:
    """Whether the pool passes the line and the owner above has consented in writing."""
    key = "inputs.main.consent_upstream"
    if key not in trace or not trace.known(key, "property_line.reserve_m"):
        return False
    word = str(trace.value(key))
    if trace.value("property_line.reserve_m") >= 0 or word.partition(",")[0] != GIVEN:
        return False
    trace.findings.append(
        Finding(
            "pool-passes-line",
            "note",
            "Property line",
            f"The pool passes the property line; consent of the owner above is {word}.",
            source="nrcs554",
        )
    )
    return True
