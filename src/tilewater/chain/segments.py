# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the main as surveyed, segment by segment.

What the segments leave out at either end, down to the outlet or up to the last spot and the upper
end of the main, is taken as the main is stated: its size, grade and material. A gap between two
segments is refused.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.areas import AREA_ABOVE, AREA_BELOW
from tilewater.chain.main_parts import (
    invert_on_grade,
    main_roughness,
    segment_grade,
    velocity_full,
    velocity_limit_by_soil,
)
from tilewater.hydraulics.grade_lines import JOINED, MainSegment, join_segments, segments_from
from tilewater.hydraulics.pipes import pipe_slope_for_velocity_full_manning, pipe_velocity_least
from tilewater.hydrology import drain_flow, main_flow
from tilewater.practices.rules import same

LINE = "main.line"
"""Key of the segments from the outlet to the upper end; there where the job has segments."""
LINE_ABOVE = "main.line_above"
"""Key of those above the diversion, cut there."""
STATED_BELOW, STATED_ABOVE = "stated-below", "stated-above"
"""Names of what the segments leave out at the lower and at the upper end."""


@dataclass(frozen=True)
class _Ends:
    """Keys of what makes a segment."""

    name: str
    station_down: str
    station_up: str
    invert_down: str
    invert_up: str
    diameter: str
    roughness: Mapping[str, str]


def add_segments(trace: Trace) -> None:
    """Record each segment, the line they make and the segment that limits it."""
    given = trace.names("inputs.segment")
    if not given:
        return
    trace.constant(
        "main.velocity_least_m_s",
        float(pipe_velocity_least(fines=False)),
        "Least velocity that keeps a full drain clean, no fine sand or silt about",
        unit="m/s",
        source="panuska-drainage",
    )
    all_of_it = (*_below(trace, given), *(_surveyed(name) for name in given), *_above(trace, given))
    for ends in all_of_it:
        _add_segment(trace, ends)
    trace.compute(
        LINE,
        join_segments,
        unit="",
        title="Segments of the main from its outlet up",
        **{argument_name(ends.name): f"main.segments.{ends.name}.segment" for ends in all_of_it},
    )
    trace.compute(
        LINE_ABOVE,
        segments_from,
        unit="",
        title="Segments of the main above the diversion",
        segments=LINE,
        station="inputs.main.station_diversion_m",
    )
    for key, line, where in (
        ("main.limiting_segment", LINE_ABOVE, "above the diversion"),
        ("main.limiting_segment_whole", LINE, "of the whole main"),
    ):
        trace.compute(
            key,
            main_flow.limiting_segment,
            unit="",
            title=f"Segment {where} that runs full first",
            segments=line,
        )
    trace.compute(
        "main.flow_full_whole_m3_s",
        main_flow.main_flow_full,
        unit="m3/s",
        title="Flow at the diversion at which the first segment of the whole main runs full",
        segments=LINE,
    )


def lowest_segment(trace: Trace) -> str:
    """Name of the segment at the outlet, as far as stations are known."""
    names = trace.names("main.segments")
    known = [n for n in names if trace.known(f"main.segments.{n}.station_down_m")]
    return min(
        known or names,
        key=lambda n: float(trace.value(f"main.segments.{n}.station_down_m")) if known else 0.0,
    )


def _surveyed(name: str) -> _Ends:
    given = f"inputs.segment.{name}"
    return _Ends(
        name,
        station_down=f"{given}.from_m",
        station_up=f"{given}.to_m",
        invert_down=f"{given}.invert_down_m",
        invert_up=f"{given}.invert_up_m",
        diameter=f"{given}.diameter_m",
        roughness={"n": f"{given}.n", "material": f"{given}.material"},
    )


def _below(trace: Trace, given: tuple[str, ...]) -> tuple[_Ends, ...]:
    """The stated main between its outlet and the lowest segment, where there is a stretch."""
    outlet = "inputs.main.station_outlet_m"
    starts = {name: f"inputs.segment.{name}.from_m" for name in given}
    if not trace.known(outlet, *starts.values()):
        return ()
    first = min(given, key=lambda name: float(trace.value(starts[name])))
    if float(trace.value(starts[first])) <= float(trace.value(outlet)) + JOINED:
        return ()
    return (
        _Ends(
            STATED_BELOW,
            station_down=outlet,
            station_up=starts[first],
            invert_down="inputs.main.invert_outlet_m",
            invert_up=f"inputs.segment.{first}.invert_down_m",
            diameter="inputs.main.diameter_m",
            roughness={"n": "drain_flow.main_n"},
        ),
    )


def _above(trace: Trace, given: tuple[str, ...]) -> tuple[_Ends, ...]:
    """The stated main between the highest segment and the last place that is asked about."""
    ends = {name: f"inputs.segment.{name}.to_m" for name in given}
    places = (
        "inputs.main.station_diversion_m",
        "inputs.main.upstream_station_m",
        *(f"inputs.spot.{spot}.station_m" for spot in trace.names("inputs.spot")),
    )
    known = [place for place in places if trace.known(place)]
    if not known or not trace.known(*ends.values()):
        return ()
    last = max(given, key=lambda name: float(trace.value(ends[name])))
    reach = float(trace.value(ends[last])) + JOINED
    beyond = [place for place in known if float(trace.value(place)) > reach]
    if not beyond:
        return ()
    end, invert = "main.station_up_m", "main.invert_up_m"
    trace.compute(
        end,
        drain_flow.largest_of,
        unit="m",
        title="Station of the upper end of the main, or of the last spot",
        **{argument_name(place.removeprefix("inputs.")): place for place in beyond},
    )
    trace.compute(
        invert,
        invert_on_grade,
        unit="m",
        title="Invert there on the stated grade",
        invert=f"inputs.segment.{last}.invert_up_m",
        slope="inputs.main.slope",
        station=end,
        start=ends[last],
    )
    return (
        _Ends(
            STATED_ABOVE,
            station_down=ends[last],
            station_up=end,
            invert_down=f"inputs.segment.{last}.invert_up_m",
            invert_up=invert,
            diameter="inputs.main.diameter_m",
            roughness={"n": "drain_flow.main_n"},
        ),
    )


def _add_segment(trace: Trace, ends: _Ends) -> None:
    name, here = ends.name, f"main.segments.{ends.name}"
    for key, source, title in (
        ("station_down_m", ends.station_down, "Station of the lower end"),
        ("station_up_m", ends.station_up, "Station of the upper end"),
        ("invert_down_m", ends.invert_down, "Invert at the lower end"),
        ("invert_up_m", ends.invert_up, "Invert at the upper end"),
        ("diameter_m", ends.diameter, "Inside diameter"),
    ):
        _same(trace, f"{here}.{key}", source, "m", f"{title} of segment {name}")
    _add_roughness(trace, ends)
    _add_share(trace, ends)
    losses = f"inputs.segment.{name}.losses"
    if losses in trace:
        _same(trace, f"{here}.losses", losses, "-", f"Velocity heads lost above segment {name}")
    else:
        trace.constant(
            f"{here}.losses", 0.0, f"Losses above segment {name}", unit="-", source="derived"
        )
    trace.constant(f"{here}.name", name, "Name of the segment", source="derived")
    trace.compute(
        f"{here}.segment",
        MainSegment,
        unit="",
        title=f"Segment {name} as the water meets it",
        name=f"{here}.name",
        station_down=f"{here}.station_down_m",
        station_up=f"{here}.station_up_m",
        invert_down=f"{here}.invert_down_m",
        invert_up=f"{here}.invert_up_m",
        diameter=f"{here}.diameter_m",
        n=f"{here}.n",
        flow_share=f"{here}.flow_share",
        loss_coefficient=f"{here}.losses",
    )
    _add_capacity(trace, name)


def _add_roughness(trace: Trace, ends: _Ends) -> None:
    key, title = f"main.segments.{ends.name}.n", f"Roughness of segment {ends.name}"
    if ends.roughness["n"] in trace:
        _same(trace, key, ends.roughness["n"], "-", title)
        return
    trace.compute(
        key,
        main_roughness,
        unit="-",
        title=f"{title} by its material",
        material=ends.roughness["material"],
        diameter=ends.diameter,
    )


def _add_share(trace: Trace, ends: _Ends) -> None:
    """Share of the flow of the diversion: by the areas, and one where none is stated."""
    key = f"main.segments.{ends.name}.flow_share"
    title = f"Flow of segment {ends.name} over the flow at the diversion"
    own, diversion = f"inputs.segment.{ends.name}.area_m2", "inputs.main.station_diversion_m"
    is_below = trace.known(ends.station_up, diversion) and (
        float(trace.value(ends.station_up)) <= float(trace.value(diversion)) + JOINED
    )
    area = own if own in trace else AREA_BELOW if is_below and AREA_BELOW in trace else None
    if area is None:
        trace.constant(key, 1.0, title, unit="-", source="derived")
        return
    trace.compute(
        key, main_flow.flow_share, unit="-", title=title, area=area, area_above=AREA_ABOVE
    )


def _add_capacity(trace: Trace, name: str) -> None:
    compute, here = trace.compute, f"main.segments.{name}"
    pipe = {"diameter": f"{here}.diameter_m", "n": f"{here}.n"}
    compute(
        f"{here}.slope",
        segment_grade,
        unit="-",
        title=f"Grade of segment {name} by its inverts",
        upper=f"{here}.invert_up_m",
        lower=f"{here}.invert_down_m",
        station_up=f"{here}.station_up_m",
        station_down=f"{here}.station_down_m",
    )
    compute(
        f"{here}.flow_full_m3_s",
        main_flow.segment_flow_full,
        unit="m3/s",
        title=f"What segment {name} carries full",
        slope=f"{here}.slope",
        **pipe,
    )
    compute(
        f"{here}.velocity_full_m_s",
        velocity_full,
        unit="m/s",
        title=f"Velocity in segment {name} running full",
        flow=f"{here}.flow_full_m3_s",
        diameter=f"{here}.diameter_m",
    )
    compute(
        f"{here}.slope_least",
        pipe_slope_for_velocity_full_manning,
        unit="-",
        title=f"Least grade at which segment {name} keeps itself clean",
        velocity="main.velocity_least_m_s",
        **pipe,
    )
    soil = f"inputs.segment.{name}.soil"
    if soil in trace:
        compute(
            f"{here}.velocity_limit_m_s",
            velocity_limit_by_soil,
            unit="m/s",
            title=f"Greatest velocity in the soil around segment {name}",
            soil=soil,
        )


def _same(trace: Trace, key: str, source: str, unit: str, title: str) -> None:
    trace.compute(key, same, unit=unit, title=title, value=source)
