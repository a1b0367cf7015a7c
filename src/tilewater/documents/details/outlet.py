# SPDX-License-Identifier: Apache-2.0
"""The outlet in the bank: pipe end over ordinary water, guard, rock below it."""

from tilewater.basis.trace import Trace
from tilewater.documents.details.drafting import Detail, at_level, level_of, levels_of
from tilewater.documents.drawing.frame import MM, Sides
from tilewater.documents.drawing.model import Drawing, Part
from tilewater.documents.scales import Figures

Room = tuple[float, float]
BEHIND = 0.9
"""Ground shown behind the bank top. [m]"""
BEYOND = 0.8
"""Bottom shown past the foot of the bank, at most. [m]"""
ENDS = (
    ("return", "inputs.bed.return_invert_m", "inputs.pipe.return.diameter_m"),
    ("main", "inputs.main.invert_outlet_m", "inputs.main.diameter_m"),
)
SLOPES = ("inputs.ditch.section.side_slope", "inputs.buffer.bank_slope")
LEAST_MEASURE = 8.0
"""Shortest distance on paper that is measured; both its levels are written beside it. [mm]"""
ROCK = 0.11
"""Half of the size of a rock as drawn. [m]"""
GUARD = 0.16
"""Reach of the guard past the pipe as drawn. [m]"""


def outlet_detail(trace: Trace, figures: Figures, room: Room) -> Drawing | None:
    """The end of the return, or of the main where there is none, in the bank.

    Returns
    -------
    Drawing or None
        None where the bank is not known.
    """
    bank = levels_of(trace, ("inputs.ditch.bottom_m", "inputs.ditch.bank_top_m"))
    slope_key = next((key for key in SLOPES if level_of(trace, key)), "")
    end = next((e for e in ENDS if levels_of(trace, e[1:]) is not None), None)
    if bank is None or not slope_key or end is None:
        return None
    bottom, top = bank
    name, level_key, size_key = end
    invert, pipe = level_of(trace, level_key) or 0.0, level_of(trace, size_key) or 0.0
    slope = level_of(trace, slope_key) or 1.0
    wide = level_of(trace, "inputs.ditch.section.bottom_width_m") or 1.0
    foot = slope * (top - bottom)
    far = foot + min(wide, BEYOND)
    box = (-BEHIND, bottom - 0.3), (far, top)
    free = Sides(left=26.0, bottom=18.0, right=40.0, top=20.0)
    made = Detail.to_scale(f"Outlet of the {name} in the bank", figures, box, room, free)
    low = box[0][1]
    soil = ((-BEHIND, low), (far, low), (far, bottom), (foot, bottom), (0.0, top), (-BEHIND, top))
    made.plot.fill(soil, "soil")
    water = level_of(trace, "ditch.ordinary_m")
    if water is not None and water > bottom:
        edge = slope * (top - water)
        made.plot.fill(((edge, water), (far, water), (far, bottom), (foot, bottom)), "water")
        made.line((edge, water), (far, water), layer="water", name="ordinary water")
        made.say(
            (far - 0.1, water),
            at_level(figures, "highest ordinary water", water, "ditch.ordinary_m"),
            side="right",
            layer="label-water",
        )
    made.line((-BEHIND, top), (0.0, top), (foot, bottom), (far, bottom), layer="ditch")
    out = slope * (top - invert) + 0.15
    made.box((-BEHIND, invert), (out, invert + pipe), "pipe-cut", "paper", f"pipe-{name}")
    made.line((out, invert - 0.02), (out + GUARD, invert), (out + GUARD, invert + pipe),
              (out, invert + pipe + 0.02), layer="structure")  # fmt: skip
    _rock(made, slope, top, bottom, invert, out)
    size = Part(figures.size(pipe), size_key)
    made.say((out - 0.7, invert + pipe), (Part(f"{name}, "), size, Part(", rigid, solid")),
             side="above left")  # fmt: skip
    made.say((out + GUARD, invert + pipe), "guard, hinged at the top:", "no animal gets in",
             side="right")  # fmt: skip
    said = at_level(figures, "invert", invert, level_key)
    made.say((out - 0.05, invert), said, side="below left")
    made.say((-BEHIND / 2, top), at_level(figures, "bank top", top, "inputs.ditch.bank_top_m"),
             side="above left")  # fmt: skip
    made.say((far - 0.3, bottom), at_level(figures, "bottom", bottom, "inputs.ditch.bottom_m"),
             side="below right")  # fmt: skip
    if water is not None and abs(water - invert) * MM / made.plot.frame.scale_y > LEAST_MEASURE:
        made.measure((out + GUARD + 0.25, water), (out + GUARD + 0.25, invert), level_key, 0.0)
    return made.done("guard and rock are drawn as typical, common practice")


def _rock(made: Detail, slope: float, top: float, bottom: float, invert: float, out: float) -> None:
    """Rock on fabric from under the pipe down to the foot of the bank."""
    high = invert - 0.05
    start = slope * (top - high)
    foot = slope * (top - bottom)
    steps = max(3, round((foot + 0.3 - start) / (2.0 * ROCK)))
    for number in range(steps):
        share = (number + 0.5) / steps
        x, z = start + share * (foot + 0.3 - start), high + share * (bottom - high)
        made.ring((x, z), ROCK, "structure", "structure")
    made.say((start + 0.6 * (foot - start), high + 0.6 * (bottom - high) - ROCK / 2),
             "rock on fabric", "down to the bottom", side="below")  # fmt: skip
