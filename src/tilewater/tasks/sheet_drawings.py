# SPDX-License-Identifier: Apache-2.0
"""Drawings of a design for its sheets, each for the room that a sheet gives it."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, cast

from tilewater.basis.units import System
from tilewater.documents.scales import Figures, foot_of
from tilewater.documents.words import Words
from tilewater.tasks.designing import Outcome
from tilewater.tasks.reader import words_for

if TYPE_CHECKING:
    from tilewater.basis.trace import Trace
    from tilewater.chain.scene_plan_records import PlanScene
    from tilewater.chain.scene_records import LongSection
    from tilewater.documents.drawing.model import Drawing
    from tilewater.documents.sheets.material import Draw


def reader_of(outcome: Outcome, units: System) -> Words:
    """Words in the units of the reader and the foot of the grid."""
    return words_for(outcome.job, units)


def drawings_of(outcome: Outcome, units: System) -> "Mapping[str, Draw]":
    """Drawings of a design by name, each for the room that a sheet gives it."""
    from tilewater.chain.scene import long_section_scene
    from tilewater.chain.scene_plan import plan_scene
    from tilewater.documents.details.set_of import details_of
    from tilewater.documents.long_section import main_reach_drawing
    from tilewater.documents.plan import main_plan_drawing, plan_drawing
    from tilewater.documents.sheets.legend import legend_drawing

    trace, practice = outcome.design.trace, outcome.design.practice.name
    foot = foot_of(outcome.job.value("inputs.site.foot"))
    figures = Figures(units, foot)
    plan = plan_scene(trace)
    main = partial(main_reach_drawing, by_season=practice == "raised")
    return {
        "plan": _sized(plan_drawing, plan, units),
        "works": _sized(partial(plan_drawing, works_only=True), plan, units),
        "existing": _sized(partial(plan_drawing, shot_heights=True), as_found(plan), units),
        "main-plan": _sized(main_plan_drawing, plan, units),
        "legend": lambda width, height: legend_drawing(units, width_mm=width),
        "main": _sized(main, for_builders(long_section_scene(trace), trace, figures), units),
        **OWN.get(practice, _of_raised)(outcome, units),
        **details_of(trace, practice, reader_of(outcome, units), units, foot),
    }


def _sized(draw: "Callable[..., Drawing]", scene: object, units: System) -> "Draw":
    return lambda width, height: draw(scene, units, width_mm=width, height_mm=height)


def _of_bed(outcome: Outcome, units: System) -> "dict[str, Draw]":
    from tilewater.chain.scene import long_section_scene
    from tilewater.chain.scene_cross import cross_section_scene
    from tilewater.chain.scene_header import header_sections
    from tilewater.documents.cross_section import cross_section_drawing
    from tilewater.documents.header_section import header_section_drawing
    from tilewater.documents.long_section import long_section_drawing

    trace = outcome.design.trace
    figures = Figures(units, foot_of(outcome.job.value("inputs.site.foot")))
    return {
        "long-section": _sized(
            long_section_drawing,
            for_builders(long_section_scene(trace), trace, figures),
            units,
        ),
        "season-levels": _levels_of_seasons(long_section_scene(trace), units),
        "cross-section": _sized(cross_section_drawing, cross_section_scene(trace), units),
        **{
            f"header-{name}": _sized(header_section_drawing, section, units)
            for name, section in zip(("inlet", "outlet"), header_sections(trace), strict=False)
        },
    }


def _levels_of_seasons(scene: "LongSection", units: System) -> "Draw":
    """The table of water levels by season; it takes the height that it needs."""
    from tilewater.documents.long_section import season_levels_drawing

    return lambda width, height: season_levels_drawing(scene, units, width_mm=width)


def _of_buffer(outcome: Outcome, units: System) -> "dict[str, Draw]":
    from tilewater.documents.buffer_section import buffer_section_drawing, trench_drawing
    from tilewater.documents.line_section import line_section_drawing
    from tilewater.practices.buffer.line_scene import line_section
    from tilewater.practices.buffer.scene import buffer_section

    trace = outcome.design.trace
    foot = foot_of(trace.value("inputs.site.foot"))
    across, along = (
        partial(buffer_section_drawing, foot=foot),
        partial(line_section_drawing, foot=foot),
    )
    section = buffer_section(trace)
    drawn = {
        "buffer-section": _sized(across, section, units),
        "line-section": _sized(along, line_section(trace), units),
    }
    trench = partial(trench_drawing, foot=foot)
    if trench(section, units) is not None:
        drawn["detail-trench"] = _sized(cast("Callable[..., Drawing]", trench), section, units)
    return drawn


def _of_raised(outcome: Outcome, units: System) -> "dict[str, Draw]":
    from tilewater.chain.scene_raised import raised_scene
    from tilewater.documents.raised_section import structure_drawing

    return {"structure": _sized(structure_drawing, raised_scene(outcome.design.trace), units)}


OWN = {"bed": _of_bed, "buffer": _of_buffer, "raised": _of_raised}
"""Drawings that only one practice has."""


def for_builders(scene: "LongSection", trace: "Trace", figures: Figures) -> "LongSection":
    """A long section without the marks of a review, its parts with their stations."""
    found = []
    for title, name in (("outlet structure", "outlet"), ("diversion", "inlet")):
        key = f"plan.points.{name}-structure.station_m"
        if trace.known(key):
            found.append((title, f"sta {figures.station(float(trace.value(key)))}"))
    ends = [f"plan.points.bed-floor-{end}-near.station_m" for end in ("lower", "upper")]
    if trace.known(*ends):
        low, high = (figures.station(float(trace.value(key))) for key in ends)
        found.append(("bed", f"floor sta {low} to {high}"))
    return replace(scene, binds="", binds_at="", stations=tuple(found))


def as_found(plan: "PlanScene") -> "PlanScene":
    """The plan without the works: what was there before."""
    from tilewater.chain.scene_plan_records import PlanOutline

    new = [line for line in plan.lines if line.kind == "distribution line"]
    works = (*(line.line for line in new), *(pipe.line for pipe in plan.pipes))
    kept = (  # so that the frame is that of the plan; nothing draws them
        *(replace(outline, part="ground") for outline in plan.outlines),
        *(PlanOutline("works", "ground", line, "") for line in works),
    )
    lines = tuple(line for line in plan.lines if line not in new)
    return replace(plan, outlines=kept, lines=lines, pipes=(), distances=(), floor=None, top=None)
