# SPDX-License-Identifier: Apache-2.0
"""Structures: boards with crests by season, the gate on the feed, anchor and collar."""

from tilewater.basis.trace import Trace
from tilewater.documents.details.drafting import Detail, at_level, level_of, levels_of
from tilewater.documents.drawing.frame import Sides
from tilewater.documents.drawing.model import Drawing, Part
from tilewater.documents.scales import Figures

Room = tuple[float, float]
WALL = 0.02
"""Wall of a box as drawn where it is not stated. [m]"""
BESIDE = 0.35
"""Ground shown beside a structure. [m]"""


def boards_detail(trace: Trace, figures: Figures, room: Room, name: str) -> Drawing | None:
    """A structure from upstream: its stack of boards, and crests by season from the rim down.

    Parameters
    ----------
    trace : Trace
    figures : Figures
    room : tuple of float
        Width and height of paper. [mm]
    name : str
        Of the structure, which is that of its boards.

    Returns
    -------
    Drawing or None
        None where the structure is not known.
    """
    here = f"inputs.structure.{name}"
    keys = ("sill_m", "rim_m", "ground_m", "crest_width_m", "floor_m")
    found = levels_of(trace, [f"{here}.{key}" for key in keys])
    stack_key = f"boards.{name}-design.stack_m"
    stack = trace.value(stack_key) if trace.known(stack_key) else ()
    if found is None or not isinstance(stack, tuple):
        return None
    sill, rim, ground, wide, floor = found
    outside = level_of(trace, f"{here}.box_length_m") or wide + 4 * WALL
    half, out = wide / 2, outside / 2
    box = (-out - BESIDE, floor - 0.15), (out + BESIDE, rim + 0.05)
    free = Sides(left=36.0, bottom=3.0, right=44.0, top=11.0)
    made = Detail.to_scale(f"Boards of the {name} structure", figures, box, room, free)
    _ground(made, out, ground, box[0][1])
    made.box((-out, floor - 0.05), (out, rim), "structure-cut", "structure", name)
    made.box((-half, floor), (half, rim), "structure", "paper")
    z = sill
    for board in stack:
        made.box((-half, z), (half, z + board), "structure", "structure", "board")
        z += board
    for number, (level, names) in enumerate(_crests(trace, name)):
        key = f"boards.{name}-{names[0]}.crest_m"
        down = f"boards.{name}-{names[0]}.rim_down_m"
        made.line((-half, level), (half, level), layer="water-first" if not number else "hidden")
        words = (
            Part(f"{', '.join(names)}: "),
            Part(figures.elevation(level), key),
            Part(", down "),
            Part(figures.size(rim - level), down),
        )
        made.say((half, level), words, side="right")
    made.say((-out, rim), at_level(figures, "rim", rim, f"{here}.rim_m"), side="left")
    at = (-out - BESIDE / 2, ground)
    made.say(at, at_level(figures, "ground", ground, f"{here}.ground_m"), side="left")
    made.say((-half, sill), at_level(figures, "sill", sill, f"{here}.sill_m"), side="left")
    if stack:
        pieces = " + ".join(f"{figures.size(board)}" for board in stack)
        made.say((-half * 0.4, (sill + z) / 2), "design boards,", f"{pieces}", side="left")
    made.measure((-half, rim), (half, rim), f"{here}.crest_width_m", -6.0, "x")
    return made.done("seen from upstream; crests by season, measured down from the rim")


def _ground(made: Detail, out: float, ground: float, low: float) -> None:
    for side in (-1.0, 1.0):
        points = [(side * x, y) for x, y in (
            (out, ground), (out + BESIDE, ground), (out + BESIDE, low), (out, low))]  # fmt: skip
        made.plot.fill(points, "soil")
        made.line(*points[:2], layer="ground-finished")


def _crests(trace: Trace, name: str) -> list[tuple[float, list[str]]]:
    """Crests with the settings that share them, the highest first."""
    found: dict[float, list[str]] = {}
    for each in trace.names("boards"):
        boards, _, season = each.partition("-")
        level = level_of(trace, f"boards.{each}.crest_m")
        if boards == name and level is not None:
            found.setdefault(round(level, 6), []).append(season)
    return [(level, found[level]) for level in sorted(found, reverse=True)]


def gate_detail(trace: Trace, figures: Figures, room: Room) -> Drawing | None:
    """The gate on the feed: pipe, plate and stem; None where the feed has none."""
    here = "inputs.structure.inlet"
    keys = (f"{here}.rim_m", f"{here}.floor_m", f"{here}.ground_m", "inputs.pipe.feed.diameter_m")
    found = levels_of(trace, keys)
    kind = "inputs.bed.feed_gate"
    if found is None or not trace.known(kind) or trace.value(kind) != "gate":
        return None
    rim, floor, ground, pipe = found
    outside = level_of(trace, f"{here}.box_width_m") or 0.4
    low = floor - 0.15
    box = (-outside - 0.1, low), (outside / 2 + 0.9, rim + 0.1)
    made = Detail.to_scale("Gate on the feed, in the inlet structure", figures, box, room)
    half = outside / 2
    soil = ((half, ground), (half + 0.9, ground), (half + 0.9, low), (half, low))
    made.plot.fill(soil, "soil")
    made.line(*soil[:2], layer="ground-finished")
    made.box((-half, floor - 0.05), (half, rim), "structure-cut", "structure", "inlet")
    made.box((-half + WALL, floor), (half - WALL, rim), "structure", "paper")
    made.box((half - WALL, floor), (half + 0.9, floor + pipe), "pipe-cut", "paper", "pipe-feed")
    made.box(
        (half - 3 * WALL, floor), (half - WALL, floor + 1.25 * pipe), "structure-cut", "structure"
    )
    stem = half - 2 * WALL
    made.line((stem, floor + 1.25 * pipe), (stem, rim - 0.05), layer="structure")
    made.say((stem, floor + 0.6 * (rim - floor)), "stem to the lid,", "turned from above",
             side="left")  # fmt: skip
    made.say((stem, floor + pipe), "slide gate, seals", "against the pipe", side="left")
    size = (
        Part("feed, "),
        Part(figures.size(pipe), "inputs.pipe.feed.diameter_m"),
        Part(", solid"),
    )
    made.say((half + 0.6, floor + pipe), size, side="above right")
    made.say((half + 0.3, floor), at_level(figures, "invert", floor, f"{here}.floor_m"),
             side="below right")  # fmt: skip
    made.say((-half, rim), at_level(figures, "rim", rim, f"{here}.rim_m"), side="left")
    return made.done("gate and stem are drawn as typical")


def anchor_detail(trace: Trace, figures: Figures, room: Room, concrete: str) -> Drawing:
    """Concrete at the foot of a structure, and the collar of a pipe at it.

    Parameters
    ----------
    trace : Trace
    figures : Figures
    room : tuple of float
        Width and height of paper. [mm]
    concrete : str
        How much each structure needs, in words; "" where that is not known.
    """
    made = Detail.typical("Anchor of a structure", figures, room)
    x, low, wide = room[0] / 2 - 8.0, 8.0, 22.0
    made.box((x - 11.0, low), (x + wide + 11.0, low + 10.0), "structure-cut", "structure")
    made.box((x, low + 3.0), (x + wide, low + 44.0), "structure-cut", "paper")
    made.line((x - 20.0, low + 38.0), (x, low + 38.0), layer="ground-finished")
    made.line((x + wide, low + 38.0), (x + wide + 20.0, low + 38.0), layer="ground-finished")
    for side in (x, x + wide):
        made.line((side - 3.0, low + 7.0), (side + 3.0, low + 7.0), layer="structure-cut")
    rows = ("concrete round the foot,", concrete) if concrete else ("concrete round the foot",)
    made.say((x + wide + 11.0, low + 6.0), *rows, side="above right")
    made.say((x - 3.0, low + 7.0), "bars through the box,", "cast in", side="above left")
    made.say((x + wide / 2, low + 3.0), "floor of the box", side="above left")
    made.say((x + wide, low + 24.0), "soil back by hand in layers,", "both sides level",
             side="right")  # fmt: skip
    return made.done()


def collar_detail(trace: Trace, figures: Figures, room: Room) -> Drawing | None:
    """A collar that keeps water from running along a pipe; None where none is asked."""
    count = level_of(trace, "quantities.anti-seep-collar.quantity")
    if count is None:
        return None
    made = Detail.typical("Anti-seep collar", figures, room, 64.0)
    x, y = room[0] / 2 - 5.0, 26.0
    made.box((x - 44.0, y - 6.0), (x + 22.0, y + 6.0), "pipe-cut", "paper")
    made.box((x - 1.0, y - 18.0), (x + 1.0, y + 18.0), "structure-cut", "structure")
    made.box((x - 58.0, y - 16.0), (x - 44.0, y + 26.0), "structure-cut", "structure")
    for side in (-1.0, 1.0):
        made.line((x - 3.0, y + side * 6.0), (x + 3.0, y + side * 6.0), layer="structure-cut")
    made.say((x + 1.0, y + 16.0), f"collar, one on each pipe at a structure: {count:g}",
             "three pipe widths each way", side="above right")  # fmt: skip
    made.say((x + 3.0, y + 6.0), "sealed to the pipe all round", side="right")
    made.say((x - 22.0, y - 6.0), "clay by hand in thin layers;", "no gravel along the pipe",
             side="below right")  # fmt: skip
    made.say((x - 44.0, y + 22.0), "structure", side="above right")
    return made.done()
