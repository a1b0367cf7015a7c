# SPDX-License-Identifier: Apache-2.0
"""The papers of a design: its drawings and reports, each made when it is its turn.

What a paper needs is loaded when it is made, so that a design without papers stays quick.
"""

from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING

from tilewater.basis.errors import OutOfDomain, TilewaterError
from tilewater.basis.units import System
from tilewater.tasks.designing import Outcome
from tilewater.tasks.results import Papers

if TYPE_CHECKING:
    from tilewater.documents.drawing.model import Drawing, Sheet
    from tilewater.documents.report import Drawn, ReportMaterial

REPORT, OWNER = "report.pdf", "owner.pdf"
UPRIGHT, SIDEWAYS = (166.0, 200.0), (200.0, 160.0)
"""Rooms for a drawing between the margins of a page, letter or A4: width and height. [mm]"""


@dataclass(frozen=True)
class Sheets:
    """One drawing in its three forms.

    Attributes
    ----------
    sheet : Drawing or Sheet
        With all that belongs to it, to look at.
    ground : Drawing
        The drawing alone, to draw on.
    page : callable
        Draws it for the room of a page: width and height in mm.
    """

    sheet: "Drawing | Sheet"
    ground: "Drawing"
    page: "Callable[[float, float], Drawing]"


Drawings = Mapping[str, Callable[[], Sheets]]
"""Drawings by the name of their files, each drawn once."""


def papers_of(outcome: Outcome, units: System, status: str = "") -> Papers:
    """Every paper of a design by the name of its file.

    Parameters
    ----------
    outcome : Outcome
        The design.
    units : "us" or "si"
        Units of the reader.
    status : str
        What kind of copy this is, for the foot of every page; "" for one that is not issued.

    Returns
    -------
    mapping of str to callable
        Gives the content of each file.
    """
    drawings: Drawings = {
        name: cache(partial(draw, outcome, units)) for name, draw in _DRAWINGS.items()
    }
    papers: dict[str, Callable[[], bytes]] = {}
    for name, draw in drawings.items():
        papers[f"{name}.svg"] = partial(_svg, draw)
        papers[f"{name}.dxf"] = partial(_dxf, draw)
    material = cache(partial(_material, outcome, units, status, drawings))
    papers[REPORT] = lambda: _report(material())
    papers[OWNER] = lambda: _owner(material())
    return papers


def _material(outcome: Outcome, units: System, status: str, drawings: Drawings) -> "ReportMaterial":
    from tilewater.documents.report import REVIEW_COPY
    from tilewater.tasks.reporting import report_material

    return report_material(
        outcome,
        units,
        drawings=tuple(_on_pages(drawings)),
        since=outcome.since,
        status=status or REVIEW_COPY,
    )


def _on_pages(drawings: Drawings) -> "Iterator[Drawn]":
    """Drawings as the report takes them; one that cannot be drawn is told by its own file."""
    from tilewater.documents.drawing.svg import to_svg
    from tilewater.documents.report import Drawn

    for name, draw in drawings.items():
        drawing = _drawn_for_page(draw)
        if drawing is not None:
            yield Drawn(
                title=drawing.title,
                caption=f"The whole sheet is {name}.svg, its lines to draw on {name}.dxf.",
                svg=to_svg(drawing),
                width_mm=drawing.frame.width_mm,
                height_mm=drawing.frame.height_mm,
                alt=": ".join(words for words in (drawing.title, drawing.about) if words),
            )


def _drawn_for_page(draw: Callable[[], Sheets]) -> "Drawing | None":
    """A drawing upright where a page has room for its words, else sideways, else none."""
    try:
        page = draw().page
    except TilewaterError:  # told where the drawing itself is written
        return None
    for room in (UPRIGHT, SIDEWAYS):
        with suppress(OutOfDomain):
            return page(*room)
    return None


def _report(material: "ReportMaterial") -> bytes:
    from tilewater.documents.report import report_pdf

    return report_pdf(material)


def _owner(material: "ReportMaterial") -> bytes:
    from tilewater.documents.report import owner_pdf

    return owner_pdf(material)


def _svg(draw: Callable[[], Sheets]) -> bytes:
    from tilewater.documents.drawing.svg import to_svg

    return to_svg(draw().sheet).encode("utf-8")


def _dxf(draw: Callable[[], Sheets]) -> bytes:
    from tilewater.documents.drawing.dxf import to_dxf

    return to_dxf(draw().ground)


def _long_section(outcome: Outcome, units: System) -> Sheets:
    from tilewater.chain.scene import long_section_scene
    from tilewater.documents.long_section import long_section_drawing, long_section_sheet

    scene = long_section_scene(outcome.design.trace)
    return Sheets(
        sheet=long_section_sheet(scene, units),
        ground=long_section_drawing(scene, units),
        page=_for_room(long_section_drawing, scene, units),
    )


def _main(outcome: Outcome, units: System) -> Sheets:
    from tilewater.chain.scene import long_section_scene
    from tilewater.documents.long_section import main_reach_drawing

    scene = long_section_scene(outcome.design.trace)
    drawing = main_reach_drawing(scene, units)
    return Sheets(drawing, drawing, _for_room(main_reach_drawing, scene, units))


def _cross_section(outcome: Outcome, units: System) -> Sheets:
    from tilewater.chain.scene_cross import cross_section_scene
    from tilewater.documents.cross_section import cross_section_drawing

    scene = cross_section_scene(outcome.design.trace)
    drawing = cross_section_drawing(scene, units)
    return Sheets(drawing, drawing, _for_room(cross_section_drawing, scene, units))


def _plan(outcome: Outcome, units: System) -> Sheets:
    from tilewater.chain.scene_plan import plan_scene
    from tilewater.documents.plan import plan_drawing

    scene = plan_scene(outcome.design.trace)
    drawing = plan_drawing(scene, units)
    return Sheets(drawing, drawing, _for_room(plan_drawing, scene, units))


def _for_room(
    draw: "Callable[..., Drawing]", scene: object, units: System
) -> "Callable[[float, float], Drawing]":
    return lambda width, height: draw(scene, units, width_mm=width, height_mm=height)


_DRAWINGS: dict[str, Callable[[Outcome, System], Sheets]] = {
    "long-section": _long_section,
    "main": _main,
    "cross-section": _cross_section,
    "plan": _plan,
}
