# SPDX-License-Identifier: Apache-2.0
"""The papers of a design: its drawings and reports, each made when it is its turn.

What a paper needs is loaded when it is made, so that a design without papers stays quick.
"""

from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache, partial
from itertools import groupby
from typing import TYPE_CHECKING

from tilewater.basis.errors import OutOfDomain, TilewaterError
from tilewater.basis.units import System
from tilewater.tasks.designing import Outcome
from tilewater.tasks.results import Papers

if TYPE_CHECKING:
    from tilewater.documents.drawing.model import Drawing, Sheet
    from tilewater.documents.report import Drawn, ReportMaterial

REPORT, OWNER = "report.pdf", "owner.pdf"
Room = tuple[float, float]
UPRIGHT, LYING = (166.0, 212.0), (239.0, 150.0)
"""Rooms for drawings between the margins of a page, letter or A4: width and height. [mm]"""
LARGER = 1.4
"""How many times larger a drawing must be in a room that it reads less well in."""
CHAPTER = 14.0
"""Room that the title of the chapter takes on its first page. [mm]"""
WAY_HEIGHT, REACH_HEIGHT = 130.0, 90.0
"""Heights on a page at which a long section is not drawn too steep. [mm]"""
GAP = 10.0
"""Room between two headers on their sheet, and more. [mm]"""
TRENCH_HEIGHT = 54.0
"""Height of a trench that stands below the section across its buffer. [mm]"""


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
        Draws it, and what explains it, for the room of a page: width and height in mm.
    rooms : tuple of tuple
        Rooms of a page, the one in which it reads best first.
    may_turn : bool
        Whether a later room is taken where the drawing is much larger in it.
    """

    sheet: "Drawing | Sheet"
    ground: "Drawing"
    page: "Callable[[float, float], tuple[Drawing, ...]]"
    rooms: tuple[Room, ...] = (LYING, UPRIGHT)
    may_turn: bool = True


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
        name: cache(partial(draw, outcome, units)) for name, draw in _drawings_of(outcome)
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
    from tilewater.documents.drawing.sheets import stacked

    files: dict[str, str] = {}
    drawn: list[tuple[Room, Drawing]] = []
    for name, draw in drawings.items():
        room, made = _drawn_for_page(draw)
        files |= {drawing.title: name for drawing in made[:1]}
        drawn += [(room, drawing) for drawing in made]
    less = CHAPTER
    for room, group in groupby(drawn, key=lambda each: each[0]):
        together = [drawing for _, drawing in group]
        for sheet in stacked(together, room[1], first_mm=room[1] - less):
            yield _on_page(sheet, files)
        less = 0.0


def _drawn_for_page(draw: Callable[[], Sheets]) -> "tuple[Room, tuple[Drawing, ...]]":
    """The first room of a page in which all words of a drawing have a place; none without one.

    A later room is taken where the drawing is much larger in it.
    """
    best: tuple[Room, tuple[Drawing, ...]] = UPRIGHT, ()
    with suppress(TilewaterError):  # told where the drawing itself is written
        sheets = draw()
        for room in sheets.rooms:
            with suppress(OutOfDomain):
                made = sheets.page(*room)
                if not best[1] or (
                    sheets.may_turn and LARGER * made[0].frame.scale_x <= best[1][0].frame.scale_x
                ):
                    best = room, made
    return best


def _on_page(sheet: "Sheet", files: Mapping[str, str]) -> "Drawn":
    from tilewater.documents.drawing.svg import to_svg
    from tilewater.documents.report import Drawn

    titles = (placed.drawing.title for placed in sheet)
    names = [files[title] for title in titles if title in files]
    to_see, to_use = (", ".join(f"{name}.{ending}" for name in names) for ending in ("svg", "dxf"))
    return Drawn(
        title=sheet.title,
        caption=f"Whole sheet: {to_see}. Lines to draw on: {to_use}." if names else "",
        svg=to_svg(sheet),
        width_mm=sheet.width_mm,
        height_mm=sheet.height_mm,
        alt=": ".join(words for words in (sheet.title, sheet.about) if words),
    )


def _report(material: "ReportMaterial") -> bytes:
    from tilewater.documents.report import report_pdf

    return report_pdf(material)


def _owner(material: "ReportMaterial") -> bytes:
    from tilewater.documents.report import owner_pdf

    return owner_pdf(material)


def _svg(draw: Callable[[], Sheets]) -> bytes:
    from tilewater.documents.drawing.svg import to_svg

    return to_svg(draw().sheet, hold_widths=True).encode("utf-8")


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
        page=_for_room(long_section_drawing, scene, units, highest=WAY_HEIGHT),
    )


def _cross_section(outcome: Outcome, units: System) -> Sheets:
    from tilewater.chain.scene_cross import cross_section_scene
    from tilewater.documents.cross_section import cross_section_drawing

    scene = cross_section_scene(outcome.design.trace)
    drawing = cross_section_drawing(scene, units)
    return Sheets(drawing, drawing, _for_room(cross_section_drawing, scene, units))


def _headers(outcome: Outcome, units: System) -> Sheets:
    """The sections through the headers, both on one sheet where they differ."""
    from tilewater.chain.scene_header import header_sections
    from tilewater.documents.drawing.sheets import stacked
    from tilewater.documents.header_section import header_section_drawing

    sections = header_sections(outcome.design.trace)
    drawings = [header_section_drawing(each, units) for each in sections]
    height = sum(drawing.frame.height_mm for drawing in drawings) + GAP * len(drawings)

    def page(width: float, height: float) -> "tuple[Drawing, ...]":
        draw = partial(header_section_drawing, width_mm=width, height_mm=height / len(sections))
        return tuple(draw(each, units) for each in sections)

    return Sheets(stacked(drawings, height)[0], drawings[0], page)


def _main(outcome: Outcome, units: System) -> Sheets:
    from tilewater.chain.scene import long_section_scene
    from tilewater.documents.long_section import main_reach_drawing

    scene = long_section_scene(outcome.design.trace)
    draw = partial(main_reach_drawing, by_season=outcome.design.practice.name == "raised")
    drawing = draw(scene, units)
    return Sheets(drawing, drawing, _for_room(draw, scene, units, highest=REACH_HEIGHT))


def _structure(outcome: Outcome, units: System) -> Sheets:
    """The structure of an outlet that is only raised, with its boards."""
    from tilewater.chain.scene_raised import raised_scene
    from tilewater.documents.raised_section import structure_drawing

    scene = raised_scene(outcome.design.trace)
    drawing = structure_drawing(scene, units)
    return Sheets(drawing, drawing, _for_room(structure_drawing, scene, units, highest=WAY_HEIGHT))


def _buffer_section(outcome: Outcome, units: System) -> Sheets:
    """The section across the buffer, and beside it the trench of its line."""
    from tilewater.documents.buffer_section import buffer_section_drawing, trench_drawing
    from tilewater.documents.drawing.sheets import beside
    from tilewater.documents.scales import foot_of
    from tilewater.practices.buffer.scene import buffer_section

    trace = outcome.design.trace
    section, foot = buffer_section(trace), foot_of(trace.value("inputs.site.foot"))
    drawing = buffer_section_drawing(section, units, foot=foot)
    trench = trench_drawing(section, units, foot=foot)

    def page(width: float, height: float) -> "tuple[Drawing, ...]":
        drawn = buffer_section_drawing(
            section, units, foot=foot, width_mm=width, height_mm=min(height, WAY_HEIGHT)
        )
        low = trench_drawing(section, units, foot=foot, height_mm=TRENCH_HEIGHT)
        return drawn, *filter(None, (low,))

    return Sheets(beside((drawing, *filter(None, (trench,)))), drawing, page)


def _line_section(outcome: Outcome, units: System) -> Sheets:
    """The section along the line of a buffer."""
    from tilewater.documents.line_section import line_section_drawing
    from tilewater.documents.scales import foot_of
    from tilewater.practices.buffer.line_scene import line_section

    trace = outcome.design.trace
    section, foot = line_section(trace), foot_of(trace.value("inputs.site.foot"))
    draw = partial(line_section_drawing, foot=foot)
    drawing = draw(section, units)
    return Sheets(drawing, drawing, _for_room(draw, section, units, highest=WAY_HEIGHT))


def _plan(outcome: Outcome, units: System) -> Sheets:
    from tilewater.chain.scene_plan import plan_scene
    from tilewater.documents.drawing.sheets import beside
    from tilewater.documents.plan import plan_drawing
    from tilewater.documents.plan_legend import plan_legend_drawing

    scene = plan_scene(outcome.design.trace)
    drawing, legend = plan_drawing(scene, units), plan_legend_drawing(scene, units)
    return Sheets(beside((drawing, legend)), drawing, _for_room(plan_drawing, scene, units))


def _main_plan(outcome: Outcome, units: System) -> Sheets:
    """The plan of the main; on its page stands the legend of both plans."""
    from tilewater.chain.scene_plan import plan_scene
    from tilewater.documents.drawing.sheets import beside
    from tilewater.documents.plan import main_plan_drawing
    from tilewater.documents.plan_legend import plan_legend_drawing

    scene = plan_scene(outcome.design.trace)
    drawing, legend = main_plan_drawing(scene, units), plan_legend_drawing(scene, units)
    page = _for_room(main_plan_drawing, scene, units, legend)
    return Sheets(beside((drawing, legend)), drawing, page, (UPRIGHT, LYING), may_turn=False)


def _for_room(
    draw: "Callable[..., Drawing]",
    scene: object,
    units: System,
    *beside: "Drawing",
    highest: float = UPRIGHT[1],
) -> "Callable[[float, float], tuple[Drawing, ...]]":
    def drawn(width: float, height: float) -> "tuple[Drawing, ...]":
        return draw(scene, units, width_mm=width, height_mm=min(height, highest)), *beside

    return drawn


def _drawings_of(outcome: Outcome) -> "Iterator[tuple[str, Callable[[Outcome, System], Sheets]]]":
    """Drawings that a practice has, by the name of their files."""
    own, trace = OWN.get(outcome.design.practice.name, ()), outcome.design.trace
    for name, draw in _DRAWINGS.items():
        needed = NEEDED.get(name, ())
        if (name in own or name in OF_ALL) and (
            not needed or any(trace.known(key) for key in needed)
        ):
            yield name, draw


OF_ALL = ("main", "plan", "main-plan")
OWN = {
    "bed": ("long-section", "cross-section", "header-section"),
    "buffer": ("buffer-section", "line-section"),
    "raised": ("structure",),
}
"""Drawings that only one practice has."""
NEEDED = {"header-section": ("system.header_inlet.length_m", "system.header_outlet.length_m")}
"""Keys of which one must be known for a drawing of what not every bed has."""
_DRAWINGS: dict[str, Callable[[Outcome, System], Sheets]] = {
    "long-section": _long_section,
    "cross-section": _cross_section,
    "header-section": _headers,
    "buffer-section": _buffer_section,
    "line-section": _line_section,
    "structure": _structure,
    "main": _main,
    "plan": _plan,
    "main-plan": _main_plan,
}
