# SPDX-License-Identifier: Apache-2.0
"""A drawing or a sheet of drawings as SVG, in millimetres of paper at true scale.

Texts stay texts of the vendored typeface: a browser can mark them, and typst (0.15), which places
such a file on a page of the report, keeps them as searchable text and keeps the patterns, given
the folder `documents/fonts` among its font paths. The file names no outside address.
"""

from collections.abc import Iterable, Iterator
from math import cos, radians, sin
from xml.sax.saxutils import escape, quoteattr

from tilewater.documents.drawing.dimensions import laid_out, words_of
from tilewater.documents.drawing.frame import MM, Frame, Point
from tilewater.documents.drawing.layers import DASHES, layer_of
from tilewater.documents.drawing.marks import Shape, shapes_of
from tilewater.documents.drawing.matters import MATTERS, Matter, Strokes, matter_of
from tilewater.documents.drawing.metrics import CAP, FAMILY, FONT_WEIGHTS, width_of
from tilewater.documents.drawing.model import (
    Arc,
    Area,
    Circle,
    Dimension,
    Drawing,
    Entity,
    Leader,
    Line,
    Mark,
    Placed,
    Polyline,
    Sheet,
    Text,
    sheet_of,
)
from tilewater.documents.inks import PAPER

TICK_WIDTH = 0.35
"""Line weight of the ticks of a dimension. [mm]"""
CLEAR = 0.3
"""Paper laid around a text that is kept clear. [mm]"""
CLEARS = 0.85
"""How much of what lies below that paper hides. [-]"""


def to_svg(drawn: Drawing | Sheet, *, hold_widths: bool = False) -> str:
    """Write a drawing, or several on a sheet, as SVG.

    Parameters
    ----------
    drawn : Drawing or Sheet
    hold_widths : bool
        Whether each text says its width, so that it keeps its room where the typeface is not
        installed. For browsers; typst lays texts of several parts wrong then.

    Returns
    -------
    str
        An SVG file of the size of the paper. A group `data-drawing` for each drawing says how its
        metres fall on the sheet; values carry their key as `data-key`, parts their name as
        `data-part`, lines their layer as class.
    """
    sheet = drawn if isinstance(drawn, Sheet) else sheet_of(drawn)
    wide, high = _n(sheet.width_mm), _n(sheet.height_mm)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" '
        f'viewBox="0 0 {wide} {high}" font-family="\'{FAMILY}\', sans-serif" fill="none" '
        'xml:space="preserve" stroke-linecap="round" stroke-linejoin="round" role="img" '
        f"aria-label={quoteattr(sheet.title)}>"
    )
    about = f"<title>{escape(sheet.title)}</title><desc>{escape(sheet.about)}</desc>"
    paper = f'<rect width="{wide}" height="{high}" fill="{PAPER}"/>'
    inside = (line for placed in sheet for line in _Writer(placed, sheet, hold_widths).lines())
    return "\n".join((head, about, _patterns(sheet), paper, *inside, "</svg>\n"))


def _n(value: float) -> str:
    """A length with the thousandth of a millimetre, without idle zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class _Writer:
    """One drawing, where it stands on the sheet."""

    def __init__(self, placed: Placed, sheet: Sheet, hold_widths: bool) -> None:
        self.hold_widths = hold_widths
        self.drawing, self.frame = placed.drawing, placed.drawing.frame
        self.left = placed.left_mm
        self.base = sheet.height_mm - placed.bottom_mm

    def lines(self) -> Iterator[str]:
        frame = self.frame
        yield (
            f"<g data-drawing={quoteattr(self.drawing.title)} "
            f'data-x0="{frame.low[0]:.6f}" data-y0="{frame.low[1]:.6f}" '
            f'data-left="{_n(self.left)}" data-base="{_n(self.base)}" '
            f'data-across="{MM / frame.scale_x:.9g}" data-up="{MM / frame.scale_y:.9g}">'
        )
        for entity in self.drawing.entities:
            yield from self.entity(entity)
        yield "</g>"

    def entity(self, entity: Entity) -> Iterator[str]:
        match entity:
            case Line():
                yield self.path((entity.start, entity.end), entity.layer, name=entity.name)
            case Polyline():
                yield self.path(entity.points, entity.layer, entity.closed, entity.name)
            case Area():
                yield from self.area(entity)
            case Circle():
                yield from self.circle(entity)
            case Arc():
                yield self.arc(entity)
            case Text():
                yield from self.text(entity)
            case Dimension():
                yield from self.dimension(entity)
            case Leader():
                yield self.path(entity.points, entity.layer)
                if entity.head == "dot":
                    yield from self.mark(Mark(entity.points[0], "dot", entity.layer))
            case Mark():
                yield from self.mark(entity)

    def sheet_point(self, mm: Point) -> Point:
        return self.left + mm[0], self.base - mm[1]

    def on_sheet(self, points: Iterable[Point], closed: bool = False) -> str:
        """The path through points of the frame's paper."""
        on_sheet = (self.sheet_point(point) for point in points)
        return "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in on_sheet) + ("Z" if closed else "")

    def path(
        self, points: Iterable[Point], layer: str, closed: bool = False, name: str = ""
    ) -> str:
        d = self.on_sheet((self.frame.paper(point) for point in points), closed)
        return f'<path d="{d}"{_stroke(layer)}{_named(name)}/>'

    def area(self, area: Area) -> Iterator[str]:
        rings = (area.points, *area.holes)
        d = "".join(self.on_sheet(map(self.frame.paper, ring), closed=True) for ring in rings)
        yield from _filled(f'path d="{d}" fill-rule="evenodd"', area.matter, area.name)

    def circle(self, circle: Circle) -> Iterator[str]:
        x, y = self.sheet_point(self.frame.paper(circle.centre))
        rx, ry = _radii(circle.radius, self.frame)
        oval = f'ellipse cx="{_n(x)}" cy="{_n(y)}" rx="{_n(rx)}" ry="{_n(ry)}"'
        if circle.matter:
            yield from _filled(oval, circle.matter, circle.name)
        yield f"<{oval}{_stroke(circle.layer)}{_named(circle.name)}/>"

    def arc(self, arc: Arc) -> str:
        rx, ry = _radii(arc.radius, self.frame)
        turn = (arc.to_deg - arc.from_deg) % 360.0
        tips = [
            (
                arc.centre[0] + arc.radius * cos(radians(angle)),
                arc.centre[1] + arc.radius * sin(radians(angle)),
            )
            for angle in (arc.from_deg, arc.to_deg)
        ]
        (xa, ya), (xb, yb) = (self.sheet_point(self.frame.paper(tip)) for tip in tips)
        far = 1 if turn > 180.0 else 0
        d = f"M{_n(xa)} {_n(ya)}A{_n(rx)} {_n(ry)} 0 {far} 0 {_n(xb)} {_n(yb)}"
        return f'<path d="{d}"{_stroke(arc.layer)}{_named(arc.name)}/>'

    def text(self, text: Text) -> Iterator[str]:
        x, y = self.sheet_point(self.frame.paper(text.at))
        down = {"base": 0.0, "middle": CAP / 2, "top": CAP}[text.up] * text.size_mm
        turned = f' transform="rotate({_n(-text.angle_deg)} {_n(x)} {_n(y)})"'
        turned = turned if text.angle_deg else ""
        anchor = {"left": "start", "middle": "middle", "right": "end"}[text.across]
        wide = width_of(text)
        if text.clear:
            left = x - {"left": 0.0, "middle": 0.5, "right": 1.0}[text.across] * wide
            yield (
                f'<rect x="{_n(left - CLEAR)}" y="{_n(y + down - CAP * text.size_mm - CLEAR)}" '
                f'width="{_n(wide + 2 * CLEAR)}" height="{_n(CAP * text.size_mm + 2 * CLEAR)}" '
                f'rx="{CLEAR}" fill="{PAPER}" fill-opacity="{CLEARS}"{turned}/>'
            )
        held = f' textLength="{_n(wide)}" lengthAdjust="spacingAndGlyphs"'
        inside = "".join(
            _piece(part.words, part.key, FONT_WEIGHTS[part.weight] if part.weight else 0)
            for part in text.parts
        )
        yield (
            f'<text x="{_n(x)}" y="{_n(y + down)}" font-size="{_n(text.size_mm)}" '
            f'font-weight="{FONT_WEIGHTS[text.weight]}" text-anchor="{anchor}" '
            f'class="{text.layer}" fill="{layer_of(text.layer).ink}"'
            f"{held if self.hold_widths else ''}{turned}>{inside}</text>"
        )

    def dimension(self, dimension: Dimension) -> Iterator[str]:
        placed = laid_out(dimension, self.frame)
        lines = "".join(self.on_sheet(stroke) for stroke in placed.strokes)
        yield f'<path d="{lines}"{_stroke(dimension.layer)}/>'
        ticks = "".join(self.on_sheet(tick) for tick in placed.ticks)
        yield f'<path d="{ticks}"{_stroke(dimension.layer, TICK_WIDTH)}/>'
        yield from self.text(words_of(dimension, self.frame))

    def mark(self, mark: Mark) -> Iterator[str]:
        at = self.frame.paper(mark.at)
        for shape in shapes_of(mark.kind, at, mark.angle_deg):
            d = self.on_sheet(shape.points, shape.closed)
            fill = _shape_fill(shape, mark.layer)
            yield f'<path d="{d}"{fill}{_stroke(mark.layer, solid=True)}{_named(mark.name)}/>'


def _shape_fill(shape: Shape, layer: str) -> str:
    if shape.filled:
        return f' fill="{layer_of(layer).ink}"'
    return f' fill="{PAPER}"' if shape.blank else ""


def _radii(radius: float, frame: Frame) -> Point:
    return radius * MM / frame.scale_x, radius * MM / frame.scale_y


def _stroke(name: str, width_mm: float = 0.0, *, solid: bool = False) -> str:
    layer = layer_of(name)
    dashes = () if solid else DASHES[layer.dashes]
    dashed = f' stroke-dasharray="{" ".join(map(_n, dashes))}" stroke-linecap="butt"'
    return (
        f' class="{name}" stroke="{layer.ink}" stroke-width="{_n(width_mm or layer.width_mm)}"'
        f"{dashed if dashes else ''}"
    )


def _named(name: str) -> str:
    return f" data-part={quoteattr(name)}" if name else ""


def _piece(words: str, key: str, weight: int) -> str:
    if not key and not weight:
        return escape(words)
    keyed = f" data-key={quoteattr(key)}" if key else ""
    heavy = f' font-weight="{weight}"' if weight else ""
    return f"<tspan{keyed}{heavy}>{escape(words)}</tspan>"


def _filled(shape: str, name: str, part: str) -> Iterator[str]:
    matter = matter_of(name)
    fills = [matter.ground] if matter.ground else []
    fills += [f"url(#{_pattern_name(matter, index)})" for index in range(len(matter.strokes))]
    for fill in fills:
        yield f'<{shape} class="{matter.layer}" fill="{fill}"{_named(part)}/>'
        part = ""


def _pattern_name(matter: Matter, index: int) -> str:
    return f"{matter.name}-{index}"


def _patterns(sheet: Sheet) -> str:
    used = {
        entity.matter
        for placed in sheet
        for entity in placed.drawing.entities
        if isinstance(entity, Area | Circle)
    }
    inside = "".join(
        _pattern(_pattern_name(matter, index), strokes, matter.ink)
        for matter in MATTERS.values()
        if matter.name in used
        for index, strokes in enumerate(matter.strokes)
    )
    return f"<defs>{inside}</defs>"


def _pattern(name: str, strokes: Strokes, ink: str) -> str:
    """A tile of two rows, the second moved by half a stroke and gap."""
    period = strokes.stroke_mm + strokes.gap_mm
    high = 2 * strokes.spacing_mm
    first, second = strokes.spacing_mm / 2, 1.5 * strokes.spacing_mm
    dash = max(strokes.stroke_mm, 0.01)  # a stroke of no length is not drawn everywhere
    begin = (period / 2 - dash) / 2 if strokes.gap_mm else 0.0
    rows = f"M{_n(begin)} {_n(second)}h{_n(dash)}M{_n(begin + period / 2)} {_n(first)}h{_n(dash)}"
    wrapped = begin + period / 2 + dash - period
    if strokes.gap_mm and wrapped > 0:
        rows += f"M{_n(begin - period / 2)} {_n(first)}h{_n(dash)}"
    if strokes.gap_mm and begin < 0:
        rows += f"M{_n(begin + period)} {_n(second)}h{_n(dash)}"
    right, up = strokes.start_mm
    cap = "round" if strokes.gap_mm else "butt"
    return (
        f'<pattern id="{name}" width="{_n(period)}" height="{_n(high)}" '
        'patternUnits="userSpaceOnUse" '
        f'patternTransform="translate({_n(right)} {_n(-up)}) rotate({_n(-strokes.angle_deg)})">'
        f'<path d="{rows}" fill="none" stroke="{ink}" stroke-width="{_n(strokes.width_mm)}" '
        f'stroke-linecap="{cap}"/></pattern>'
    )
