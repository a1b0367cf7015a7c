# SPDX-License-Identifier: Apache-2.0
"""What stands beside a plan: its lines and signs, and what is not on it."""

from tilewater.basis.units import System
from tilewater.chain.scene_plan_records import PlanScene
from tilewater.documents.drawing.frame import paper_frame
from tilewater.documents.drawing.model import LARGE, Drawing, Mark, MarkKind
from tilewater.documents.plan_shapes import CROSSED_OUT
from tilewater.documents.profile.notes import ROW, SAMPLE, wrapped
from tilewater.documents.profile.plot import Plot
from tilewater.documents.scales import Figures

LINES = (
    ("ditch", "bank top"),
    ("soil-line", "toe of bank, field edge, fence"),
    ("setback", "right of way, ground that may be used, buried utility"),
    ("boundary", "property line"),
    ("drain", "drain that lies in the field"),
    ("pipe", "new solid pipe"),
    ("pipe-hidden", "new perforated pipe, line of a buffer"),
    ("excavation", "top of the cut"),
    ("hidden", "floor of the bed"),
)
SIGNS: tuple[tuple[MarkKind, float, str], ...] = (
    ("dot", 0.0, "shot"),
    ("point", CROSSED_OUT, "shot without a fixed position, not used"),
    ("boring", 0.0, "bore hole, with its ground"),
    ("benchmark", 0.0, "benchmark"),
    ("ring", 0.0, "low spot or junction"),
)


def plan_legend_drawing(
    scene: PlanScene, units: System = "us", *, width_mm: float = 90.0
) -> Drawing:
    """Write what lines and signs of a plan stand for, and what is not drawn.

    Parameters
    ----------
    scene : PlanScene
        From `tilewater.chain.scene_plan.plan_scene`.
    units : "us" or "si"
        Units of the reader.
    width_mm : float
        Room on paper. [mm]

    Returns
    -------
    Drawing
        As high as it needs to be.
    """
    missing = [
        line
        for each in scene.missing
        for line in wrapped(f"{each.what}: {'; '.join(each.why)}", width_mm)
    ]
    rows = len(LINES) + len(SIGNS) + (len(missing) + 3 if missing else 0)
    plot = Plot(paper_frame(width_mm, 7.0 + ROW * rows), 0.0)
    y = _heading(plot, "Lines and signs", plot.frame.height_mm - 4.0)
    for layer, words in LINES:
        plot.rule(((0.0, y + 0.8), (SAMPLE, y + 0.8)), layer)
        plot.write((SAMPLE + 3.0, y), words)
        y -= ROW
    for kind, angle, words in SIGNS:
        at = plot.frame.ground((SAMPLE / 2, y + 0.8))
        plot.entities.append(Mark(at, kind, "survey", angle))
        plot.write((SAMPLE + 3.0, y), words)
        y -= ROW
    if missing:
        y = _heading(plot, "Not drawn, not known", y - ROW)
        for line in missing:
            plot.write((0.0, y), line)
            y -= ROW
    return plot.drawing("Lines and signs", Figures(units))


def _heading(plot: Plot, words: str, y: float) -> float:
    plot.write((0.0, y), words, size_mm=LARGE, weight="semibold")
    return y - 5.0
