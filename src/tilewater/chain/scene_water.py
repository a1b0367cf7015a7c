# SPDX-License-Identifier: Apache-2.0
"""Where the water stands along the bed, line by line and season by season."""

from tilewater.basis.errors import TilewaterError
from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import Level, MediaPart, WaterLine
from tilewater.chain.scene_way import DESIGN
from tilewater.hydraulics.media import bed_surface_depth
from tilewater.practices.bed.capacity import BedShape, Media
from tilewater.practices.bed.capacity_steps import NODES

POINTS = 21
"""Points of the surface inside the media, both ends included."""
LOOKED_AT = "looked_at"
"""Where the steps of a flow and a ditch that are looked at are recorded."""
WORDS = {
    "criterion": "criterion: at the bypass crest, aged chips, outlet free",
    "spring": "spring: main full, cold water, highest ordinary ditch",
    "new": "new chips: at the bypass crest, outlet free",
    "snowmelt": "snowmelt: main full, coldest water",
}


def read_lines(reading: SceneReading, media: MediaPart | None) -> tuple[WaterLine, ...]:
    """The lines that the design is judged and told by."""
    trace, found = reading.trace, []
    for name in trace.names("capacity"):
        here = f"capacity.{name}"
        if f"{here}.levels" not in trace:
            continue
        words = WORDS.get(name, name)
        line = _line(reading, here, f"{here}.media", name, words, DESIGN, media)
        if line is not None:
            found.append(line)
    return tuple(sorted(found, key=lambda line: _order(line.name)))


def _order(name: str) -> int:
    return list(WORDS).index(name) if name in WORDS else len(WORDS)


def read_seasons(reading: SceneReading, media: MediaPart | None) -> tuple[WaterLine, ...]:
    """Water of each season: the main full, and at the crest where that is computed."""
    trace, found = reading.trace, []
    for season in trace.names("seasons"):
        for here, words in (
            (f"seasons.{season}.full", "main full"),
            (f"seasons.{season}", "at the crest"),
        ):
            if f"{here}.levels" not in trace:
                continue
            aged = f"seasons.{season}.media"
            line = _line(reading, here, aged, season, words, season, media)
            if line is not None:
                found.append(line)
    return tuple(found)


def read_looked_at(
    reading: SceneReading, media: MediaPart | None, setting: str, media_key: str
) -> WaterLine | None:
    """Water at the flow and the ditch that are looked at; None where it is not known."""
    return _line(reading, LOOKED_AT, media_key, LOOKED_AT, "as looked at", setting, media)


def _line(
    reading: SceneReading,
    here: str,
    media_key: str,
    name: str,
    words: str,
    setting: str,
    media: MediaPart | None,
) -> WaterLine | None:
    what = f"water of the {name} line" if here.startswith("capacity") else f"water in {name}"
    what = "water as looked at" if here == LOOKED_AT else what
    nodes = []
    for node in NODES:
        level = reading.level(f"{here}.levels_m.{node}", what)
        if level is not None:
            nodes.append((node, level))
    if len(nodes) < len(NODES):
        return None
    tailwater = reading.taken_by(f"{here}.levels", "tailwater")
    return WaterLine(
        name,
        words,
        setting,
        tuple(nodes),
        _surface(reading, dict(nodes), media, media_key, what),
        reading.level(tailwater),
        reading.number(f"{here}.flow_m3_s"),
        f"{here}.flow_m3_s",
    )


def _surface(
    reading: SceneReading,
    nodes: dict[str, Level],
    media: MediaPart | None,
    media_key: str,
    what: str,
) -> tuple[tuple[float, float], ...]:
    """Points of the surface from the inlet end to the outlet end; none where it has no answer."""
    trace = reading.trace
    cell = "" if media is None else media.cell
    keys = ("bed.floor_mean_m", f"bed.cells.{cell}.shape" if cell else "bed.shape", media_key)
    if media is None or not trace.known(*keys):
        return ()
    floor = float(trace.value(keys[0]))
    shape: BedShape = trace.value(keys[1])
    chips: Media = trace.value(keys[2])
    points = []
    for step in range(POINTS):
        distance = shape.length * step / (POINTS - 1)
        try:
            depth = bed_surface_depth(
                distance,
                nodes["inlet_end"].elevation - floor,
                nodes["outlet_end"].elevation - floor,
                length=shape.length,
                width=shape.width,
                side_slope=float(shape.side_slope),
                conductivity=chips.conductivity,
                inertia=chips.inertia,
                media_depth=shape.media_depth,
            )
        except TilewaterError as error:
            reading.miss(f"surface inside the chips, {what}", str(error))
            return ()
        points.append((media.flow_high - distance, floor + depth))
    return tuple(points)
