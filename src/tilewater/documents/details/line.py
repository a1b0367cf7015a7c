# SPDX-License-Identifier: Apache-2.0
"""Details of a buffer's line: solid at the box and past trees, the cap at its end."""

from tilewater.basis.trace import Trace
from tilewater.documents.details.drafting import Detail, level_of
from tilewater.documents.drawing.model import Drawing, Part
from tilewater.documents.scales import Figures

Room = tuple[float, float]


def solid_detail(trace: Trace, figures: Figures, room: Room) -> Drawing | None:
    """The line from its box: solid at the box and past trees; None where there is no line."""
    size = level_of(trace, "inputs.buffer.pipe_diameter_m")
    at_box = level_of(trace, "inputs.buffer.solid_at_structure_m")
    trees = level_of(trace, "inputs.buffer.tree_length_m")
    if size is None:
        return None
    made = Detail.typical("Line from its box, past trees", figures, room)
    y, left = 26.0, 22.0
    right = room[0] - 14.0
    first, second, third = (left + share * (right - left) for share in (0.22, 0.52, 0.8))
    made.box((left - 9.0, y - 8.0), (left, y + 12.0), "structure-cut", "structure")
    for start, end, wall in (
        (left, first, "pipe-cut"),
        (first, second, "pipe-hidden"),
        (second, third, "pipe-cut"),
        (third, right, "pipe-hidden"),
    ):
        for side in (-1.6, 1.6):
            made.line((start, y + side), (end, y + side), layer=wall)
    tree = (second + third) / 2
    made.ring((tree, y + 16.0), 6.0, "soil-line")
    made.line((tree, y + 10.0), (tree, y + 5.0), layer="soil-line")
    pipe = (Part("line, "), Part(figures.size(size), "inputs.buffer.pipe_diameter_m"))
    made.say(((first + second) / 2, y + 1.6), (*pipe, Part(", perforated")), side="below right")
    made.say((left - 5.0, y + 12.0), "box with the boards", side="above right")
    if at_box is not None:
        made.measure((left, y - 1.6), (first, y - 1.6), "inputs.buffer.solid_at_structure_m", -8.0,
                     "x", figures.length(at_box))  # fmt: skip
    if trees is not None:
        made.measure((second, y - 1.6), (third, y - 1.6), "inputs.buffer.tree_length_m", -8.0, "x",
                     f"{figures.length(trees)} in all")  # fmt: skip
        made.say((third, y + 1.6), "solid past roots,", "joints glued or taped", side="above right")
    return made.done()


def cap_detail(figures: Figures, room: Room) -> Drawing:
    """The end of the line: cap and marker."""
    made = Detail.typical("End of the line", figures, room, 62.0)
    x, y = room[0] / 2 + 6.0, 14.0
    made.line((x - 52.0, y + 26.0), (x + 26.0, y + 26.0), layer="ground-finished")
    for side in (-2.0, 2.0):
        made.line((x - 50.0, y + side), (x, y + side), layer="pipe-hidden")
    made.box((x, y - 3.0), (x + 3.0, y + 3.0), "structure-cut", "structure")
    made.box((x + 6.0, y + 14.0), (x + 8.0, y + 38.0), "structure-cut", "structure")
    made.say((x + 3.0, y), "cap, fixed", side="right")
    made.say((x + 8.0, y + 34.0), "post at each end", side="right")
    made.say((x - 30.0, y + 2.0), "line, level", side="above left")
    return made.done()
