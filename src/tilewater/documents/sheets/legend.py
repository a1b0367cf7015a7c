# SPDX-License-Identifier: Apache-2.0
"""What lines and signs of a plan stand for, in columns beside each other below it."""

from math import ceil

from tilewater.basis.units import System
from tilewater.documents.drawing.frame import paper_frame
from tilewater.documents.drawing.model import Drawing, Mark
from tilewater.documents.plan_legend import LINES, SIGNS
from tilewater.documents.profile.plot import Plot
from tilewater.documents.scales import Figures

COLUMN, ROW, SAMPLE = 86.0, 4.4, 14.0
"""Width of a column, height of a row, length of a line that is shown. [mm]"""


def legend_drawing(units: System = "us", *, width_mm: float, height_mm: float = 0.0) -> Drawing:
    """The legend in as many columns as its width holds; as high as it needs to be.

    Parameters
    ----------
    units : "us" or "si"
    width_mm : float
        [mm]
    height_mm : float
        Not asked: it takes what it needs. [mm]
    """
    columns = max(1, int(width_mm / COLUMN))
    count = len(LINES) + len(SIGNS)
    rows = ceil(count / columns)
    plot = Plot(paper_frame(width_mm, rows * ROW + 2.0), 0.0)
    for number in range(count):
        column, row = divmod(number, rows)
        x, y = column * COLUMN, (rows - row) * ROW - 2.0
        if number < len(LINES):
            layer, words = LINES[number]
            plot.rule(((x, y + 0.8), (x + SAMPLE, y + 0.8)), layer)
        else:
            kind, angle, words = SIGNS[number - len(LINES)]
            at = plot.frame.ground((x + SAMPLE / 2, y + 0.8))
            plot.entities.append(Mark(at, kind, "survey", angle))
        plot.write((x + SAMPLE + 2.5, y), words)
    return plot.drawing("Lines and signs", Figures(units))
