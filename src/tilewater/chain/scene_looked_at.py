# SPDX-License-Identifier: Apache-2.0
"""The section of a designed practice with the water of a flow and a ditch that are looked at."""

from dataclasses import dataclass

import numpy as np

from tilewater.basis.trace import Trace
from tilewater.chain.design import Design
from tilewater.chain.looked_at import HERE, LookedAt, look_at, media_key, setting_of
from tilewater.chain.scene import long_section_scene
from tilewater.chain.scene_main import read_main
from tilewater.chain.scene_reading import SceneReading
from tilewater.chain.scene_records import LongSection, MainPart, WaterLine
from tilewater.chain.scene_water import read_looked_at
from tilewater.hydraulics.groundwater import buffer_surface_head_dupuit
from tilewater.practices.buffer.givens import LINE
from tilewater.practices.buffer.scene import (
    POINTS,
    BufferSection,
    Mark,
    SeasonWater,
    buffer_section,
)


@dataclass(frozen=True)
class LookedScene:
    """What a drawing of a practice shows at a flow and a ditch that are looked at.

    Attributes
    ----------
    looked_at : LookedAt
        Flow, ditch and boards, all of them known values where they are known at all.
    trace : Trace
        Steps of the design and of what is looked at.
    long_section : LongSection or None
        Of a bed.
    line : WaterLine or None
        Its water as looked at; None where it is not known.
    buffer_section : BufferSection or None
        Of a buffer.
    water : SeasonWater or None
        Its water as looked at; the season is "looked_at".
    main : MainPart or None
        Of an outlet raised in season.
    """

    looked_at: LookedAt
    trace: Trace
    long_section: LongSection | None = None
    line: WaterLine | None = None
    buffer_section: BufferSection | None = None
    water: SeasonWater | None = None
    main: MainPart | None = None

    def number(self, name: str) -> float | None:
        """A number of what is looked at, `flow_m3_s` or `level_m`; None where it is not known."""
        key = f"{HERE}.{name}"
        return float(self.trace.value(key)) if self.trace.known(key) else None


def looked_scene(design: Design, looked_at: LookedAt) -> LookedScene:
    """The section of a designed practice at a flow and a ditch that are looked at.

    Parameters
    ----------
    design : Design
        The designed practice. [-]
    looked_at : LookedAt
        Flow, ditch and boards. [-]

    Returns
    -------
    LookedScene
        Section and water. [-]
    """
    trace = look_at(design, looked_at)
    setting = setting_of(trace, looked_at)
    seen = LookedAt(_number(trace, "inflow_m3_s"), _number(trace, "stage_m"), setting)
    if design.practice.name == "bed":
        section = long_section_scene(trace)
        reading = SceneReading(trace)
        line = read_looked_at(reading, section.media, setting, media_key(trace, setting))
        return LookedScene(seen, trace, long_section=section, line=line)
    if design.practice.name == "buffer":
        across = buffer_section(trace)
        return LookedScene(seen, trace, buffer_section=across, water=_water(trace, across, setting))
    return LookedScene(seen, trace, main=read_main(SceneReading(trace)))


def _number(trace: Trace, name: str) -> float | None:
    key = f"{HERE}.{name}"
    return float(trace.value(key)) if trace.known(key) else None


def _water(trace: Trace, section: BufferSection, setting: str) -> SeasonWater | None:
    names = ("line_level_m", "stage_m", "flow_m3_s", "head_soil_m", "head_stream_m")
    keys = [f"{HERE}.{name}" for name in names]
    if section.width is None or not trace.known(*keys):
        return None
    level, stage, flow, head_soil, head_stream = (float(trace.value(key)) for key in keys)
    barrier = float(trace.value(f"{LINE}.barrier_m"))
    x = np.linspace(0.0, section.width, POINTS)
    heads = buffer_surface_head_dupuit(x, head_soil, head_stream, width=section.width)
    table = zip(x, np.atleast_1d(heads), strict=True)
    return SeasonWater(
        HERE,
        Mark(level, keys[0]),
        Mark(stage, keys[1]),
        None,
        tuple((float(a), barrier + float(b)) for a, b in table),
        flow,
        keys[2],
    )
