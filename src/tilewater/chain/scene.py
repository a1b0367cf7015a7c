# SPDX-License-Identifier: Apache-2.0
"""The plain geometric record that a long section is drawn from; nothing is drawn here.

All of it is read from the trace of a design: what is on the drawing is what was computed. What is
not known is left out and listed.
"""

from tilewater.basis.trace import Trace
from tilewater.chain.scene_main import read_main
from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import (
    Bypass,
    DitchPart,
    HeaderPart,
    Level,
    LongSection,
    MainPart,
    MediaPart,
    Missing,
    PipePart,
    SegmentPart,
    Setting,
    SpotPart,
    Stage,
    StructurePart,
    WaterLine,
)
from tilewater.chain.scene_water import read_lines, read_seasons
from tilewater.chain.scene_way import read_bypass, read_ditch, read_headers, read_way
from tilewater.chain.verdict import binding_of

__all__ = [
    "Bypass",
    "DitchPart",
    "HeaderPart",
    "Level",
    "LongSection",
    "MainPart",
    "MediaPart",
    "Missing",
    "PipePart",
    "SegmentPart",
    "Setting",
    "SpotPart",
    "Stage",
    "StructurePart",
    "WaterLine",
    "long_section_scene",
]

GROUNDWATER = {"building": "while building", "finished": "finished", "flotation": "flotation"}


def long_section_scene(trace: Trace, *, by_season: bool = True) -> LongSection:
    """The long section of a designed bed along the way of its water.

    Parameters
    ----------
    trace : Trace
        Trace of a design. [-]
    by_season : bool
        Whether the water of each season is read too. [-]

    Returns
    -------
    LongSection
        Parts, levels and what is missing, in SI.
    """
    reading = SceneReading(trace)
    way = read_way(reading)
    joins_main = trace.known("inputs.bed.return") and trace.value("inputs.bed.return") == "main"
    binding = binding_of(trace)
    return LongSection(
        title=_text(trace, "inputs.job.title"),
        datum=_text(trace, "inputs.site.vertical_datum"),
        foot=_text(trace, "inputs.site.foot"),
        length=way.inlet.high,
        outflow=way.outflow,
        drain=way.drain,
        feed=way.feed,
        inlet=way.inlet,
        outlet=way.outlet,
        media=way.media,
        headers=read_headers(reading, way.media),
        bypass=read_bypass(reading, joins_main),
        joins_main=joins_main,
        ditch=read_ditch(reading, way.media, joins_main),
        groundwater=_groundwater(reading),
        lines=read_lines(reading, way.media),
        seasons=read_seasons(reading, way.media) if by_season else (),
        main=read_main(reading),
        missing=reading.missing,
        binds="" if binding is None else binding.text,
        binds_at="" if binding is None else binding.where,
    )


def _text(trace: Trace, key: str) -> str:
    return str(trace.value(key)) if trace.known(key) else ""


def _groundwater(reading: SceneReading) -> tuple[tuple[str, Level], ...]:
    found = []
    for name, words in GROUNDWATER.items():
        key = f"inputs.groundwater.{name}_m"
        if key in reading.trace:
            level = reading.level(key, f"groundwater, {words}")
            if level is not None:
                found.append((words, level))
    return tuple(found)
