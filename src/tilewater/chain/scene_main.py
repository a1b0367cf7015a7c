# SPDX-License-Identifier: Apache-2.0
"""The main by its own stations: past the bed to the ditch, and up the field behind the boards."""

from dataclasses import replace

from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import Level, MainPart, SegmentPart, SpotPart

WORDS = "the main and the field above"


def read_main(reading: SceneReading) -> MainPart | None:
    """The main with the pool behind the boards and the spots of the field."""
    given = "inputs.main"
    stations = reading.numbers((f"{given}.station_outlet_m", f"{given}.station_diversion_m"), WORDS)
    low = reading.level(f"{given}.invert_outlet_m", WORDS)
    high = reading.level(f"{given}.invert_diversion_m", WORDS)
    diameter = reading.number(f"{given}.diameter_m", WORDS)
    if stations is None or low is None or high is None or diameter is None:
        return None
    outlet, diversion = stations
    spots = _spots(reading)
    reach = reading.number("pool_reach_m", "the end of the pool")
    crest = reading.level("elevations.inlet_crest.elevation_m")
    head = reading.number("field_storm.head_m", "the storm grade line")
    part = MainPart(
        outlet,
        diversion,
        (),
        low,
        high,
        diameter,
        reading.number(f"{given}.upstream_station_m", "the upper end of the main"),
        reading.number(f"{given}.property_line_station_m"),
        crest,
        None if reach is None else diversion + reach,
        None if crest is None or head is None else crest.elevation + head,
        reading.level("inputs.structure.inlet.ground_m"),
        spots,
    )
    return replace(part, segments=_surveyed(reading) or _stated(reading, part))


def _surveyed(reading: SceneReading) -> tuple[SegmentPart, ...]:
    """The main as its segments were surveyed; none where the job has none."""
    trace, found = reading.trace, []
    for name in trace.names("main.segments"):
        here = f"main.segments.{name}"
        what = f"segment {name} of the main"
        numbers = reading.numbers(
            (f"{here}.station_down_m", f"{here}.station_up_m", f"{here}.diameter_m"), what
        )
        low = reading.level(f"{here}.invert_down_m", what)
        high = reading.level(f"{here}.invert_up_m", what)
        if numbers is not None and low is not None and high is not None:
            start, end, diameter = numbers
            found.append(SegmentPart(start, end, low, high, diameter))
    return tuple(sorted(found, key=lambda part: part.low))


def _stated(reading: SceneReading, main: MainPart) -> tuple[SegmentPart, ...]:
    """The main between its two inverts, then at the stated grade up to where anything lies."""
    low, at = main.outlet, main.diversion
    below = SegmentPart(low, at, main.invert_outlet, main.invert_diversion, main.diameter)
    far = main.upper_end
    if far is None:
        far = max((at, main.pool_end or at, *(spot.station for spot in main.spots)))
    slope = reading.number("inputs.main.slope", "the main above the diversion")
    if slope is None or far <= at:
        return (below,)
    end = Level(main.invert_diversion.elevation + slope * (far - at), "")
    return below, SegmentPart(at, far, main.invert_diversion, end, main.diameter)


def _spots(reading: SceneReading) -> tuple[SpotPart, ...]:
    trace, found = reading.trace, []
    for name in trace.names("inputs.spot"):
        given, here, what = f"inputs.spot.{name}", f"field.{name}", f"spot {name}"
        station = reading.number(f"{given}.station_m", what)
        ground = reading.level(f"{given}.ground_m", what)
        if station is None or ground is None:
            continue
        above = f"{here}.drain_m" in trace  # a spot below the structure is not judged
        found.append(
            SpotPart(
                name,
                str(trace.value(f"{given}.kind")),
                station,
                ground,
                reading.level(f"{here}.drain_m", f"lateral at {name}") if above else None,
                reading.level(f"{here}.storm_level_m", f"storm level at {name}") if above else None,
            )
        )
    return tuple(sorted(found, key=lambda spot: spot.station))
