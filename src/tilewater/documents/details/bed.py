# SPDX-License-Identifier: Apache-2.0
"""Details of a bed: the header at its end, and posts at its corners."""

from math import cos, pi, sin

from tilewater.basis.trace import Trace
from tilewater.documents.details.drafting import Detail, at_level, level_of, levels_of
from tilewater.documents.drawing.frame import Sides
from tilewater.documents.drawing.model import Drawing, Part
from tilewater.documents.scales import Figures

Room = tuple[float, float]
INTO, OUT = 2.2, 0.5
"""How far into the bed and how far out of the cut is shown. [m]"""
KEYS = (
    "bed.floor_inlet_m",
    "bed.media_top_m",
    "bed.side_slope",
    "inputs.bed.cover_depth_m",
    "inputs.pipe.header-inlet.diameter_m",
)


def header_detail(trace: Trace, figures: Figures, room: Room) -> Drawing | None:
    """The inlet end of the bed along the flow: header on the floor, chips, fabric and soil over it.

    Returns
    -------
    Drawing or None
        None where the bed or its header is not known.
    """
    found = levels_of(trace, KEYS)
    if found is None:
        return None
    floor, top, slope, cover, pipe = found
    crown = level_of(trace, "inputs.bed.crown_m") or 0.0
    ground = top + cover
    away = _from_end(trace)
    edge, upper = slope * (top - floor), slope * (ground - floor)
    box = (-INTO, floor - 0.2), (upper + OUT, ground + crown)
    free = Sides(left=30.0, bottom=7.0, right=42.0, top=13.0)
    made = Detail.to_scale("Header at the inlet end of the bed", figures, box, room, free)
    plot, low = made.plot, box[0][1]
    right = box[1][0]
    plot.fill(((-INTO, low), (right, low), (right, ground), (upper, ground), (0.0, floor),
               (-INTO, floor)), "soil")  # fmt: skip
    plot.fill(((-INTO, floor), (0.0, floor), (edge, top), (-INTO, top)), "chips")
    plot.fill(((-INTO, top), (edge, top), (upper, ground), (-INTO, ground + crown)), "cover")
    made.line((-INTO, floor), (0.0, floor), (upper, ground), layer="liner", name="lining")
    made.line((-INTO, top), (edge, top), layer="liner", name="fabric")
    made.line((right, ground), (upper, ground), (-INTO, ground + crown), layer="ground-finished")
    centre = (-away - pipe / 2, floor + pipe / 2)
    made.ring(centre, pipe / 2, "pipe-cut")
    for turn in (40.0, 140.0, 220.0, 320.0):
        c, s = cos(turn * pi / 180), sin(turn * pi / 180)
        inner, outer = 0.35 * pipe, 0.5 * pipe
        made.line((centre[0] + inner * c, centre[1] + inner * s),
                  (centre[0] + outer * c, centre[1] + outer * s), layer="pipe")  # fmt: skip
    size = (Part("header, "), Part(figures.size(pipe), KEYS[4]), Part(", perforated,"))
    made.say((centre[0], centre[1]), size, "on the floor, both ends capped", side="above left")
    made.say((-INTO + 0.3, floor), at_level(figures, "floor", floor, KEYS[0]), side="below left")
    lining = trace.value("inputs.bed.lining") if trace.known("inputs.bed.lining") else "lining"
    made.say((upper * 0.4, floor + 0.4 * (ground - floor)), f"{lining} lining up to the ground",
             side="right")  # fmt: skip
    made.say((edge * 0.5, top), at_level(figures, "top of chips", top, KEYS[1]),
             "fabric over them", side="right")  # fmt: skip
    made.say((-INTO + 0.5, ground + crown * 0.9), "soil in layers, crowned", side="left")
    x = -away - pipe - 0.35
    made.measure((x, floor + pipe), (x, top), KEYS[1], 0.0)
    made.measure((x, top), (x, ground), KEYS[3], 0.0, words=figures.fall(cover))
    return made.done()


def _from_end(trace: Trace) -> float:
    """From the end of the floor to the near side of the header. [m]"""
    keys = "inputs.pipe.header-inlet.points", "inputs.place.bed.station_m", "bed.length_bottom_m"
    if not all(key in trace and trace.known(key) for key in keys):
        return 0.1
    points, station, long = (trace.value(key) for key in keys)
    radius = (level_of(trace, KEYS[4]) or 0.0) / 2
    return max(0.0, float(station) + float(long) - float(points[0][0]) - radius)


def post_detail(figures: Figures, room: Room, words: str) -> Drawing:
    """A post that marks a corner of the bed or a line, so that no plough finds it first."""
    made = Detail.typical("Post and marker", figures, room)
    x, y = room[0] / 2 - 10.0, 18.0
    made.line((x - 40.0, y), (x + 40.0, y), layer="ground-finished")
    made.box((x - 2.0, y - 12.0), (x + 2.0, y + 30.0), "structure-cut", "structure")
    made.box((x - 7.0, y + 22.0), (x + 7.0, y + 30.0), "structure", "paper")
    made.plot.write((x, y + 25.2), "NO DIG", across="middle", weight="semibold")
    made.ring((x + 26.0, y - 8.0), 4.0, "pipe-hidden")
    made.say((x + 2.0, y + 12.0), words, side="right")
    made.say((x - 7.0, y + 26.0), "plate: what lies here,", "whom to call", side="left")
    made.say((x + 26.0, y - 4.0), "bed or line below", side="above right")
    made.say((x - 2.0, y - 8.0), "set firm below frost", side="left")
    return made.done()
