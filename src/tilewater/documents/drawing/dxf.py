# SPDX-License-Identifier: Apache-2.0
"""A drawing as DXF R2013, in the units of its reader on the ground.

Model space holds the ground at full size: a foot of ground is a unit of the file. On an exaggerated
drawing y is the elevation times the exaggeration, and the file says so in its properties and beside
the drawing. Texts and signs are as large as the drawing's scale needs; the layout `Sheet` shows all
at that scale. Each dimension carries its own picture, laid out as in every other output, and
measures the ground. The same drawing gives the same bytes.
"""

from io import StringIO
from math import cos, radians, sin
from typing import TYPE_CHECKING, Any

from tilewater.documents.drawing.dimensions import LaidOut, laid_out, words_of
from tilewater.documents.drawing.dxf_tables import (
    APP,
    DIMSTYLE,
    STYLES,
    declare,
    rgb_of,
    sign_name,
    times_words,
    unit_of_paper,
)
from tilewater.documents.drawing.frame import Point
from tilewater.documents.drawing.furniture import metre_per_unit
from tilewater.documents.drawing.matters import Strokes, matter_of
from tilewater.documents.drawing.metrics import CAP
from tilewater.documents.drawing.model import (
    SMALL,
    Arc,
    Area,
    Circle,
    Dimension,
    Drawing,
    Entity,
    Leader,
    Line,
    Mark,
    Polyline,
    Text,
)

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.base import BaseLayout

TICK_WEIGHT = 35
"""Line weight of ticks in hundredths of a millimetre."""
_ALIGN = {
    ("left", "base"): "LEFT",
    ("middle", "base"): "CENTER",
    ("right", "base"): "RIGHT",
    ("left", "middle"): "MIDDLE_LEFT",
    ("middle", "middle"): "MIDDLE_CENTER",
    ("right", "middle"): "MIDDLE_RIGHT",
    ("left", "top"): "TOP_LEFT",
    ("middle", "top"): "TOP_CENTER",
    ("right", "top"): "TOP_RIGHT",
}
_DIMTYPE_ROTATED, _OWN_PICTURE, _OWN_PLACE = 0, 32, 128


def to_dxf(drawing: Drawing) -> bytes:
    """Write a drawing as DXF.

    Parameters
    ----------
    drawing : Drawing

    Returns
    -------
    bytes
        A file of DXF R2013 on the layers of `layers.LAYERS`.
    """
    from ezdxf import options  # type: ignore[attr-defined]
    from ezdxf.filemanagement import new

    fixed = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # dates and ids that do not change
    try:
        document = new("R2013", units=6)
        declare(document, drawing)
        writer = _Writer(document, drawing)
        for entity in drawing.entities:
            writer.entity(entity)
        writer.say_exaggeration()
        _show(document, drawing, writer)
        _order_classes(document)
        stream = StringIO(newline="\n")
        document.write(stream)
    finally:
        options.write_fixed_meta_data_for_testing = fixed
    return stream.getvalue().encode("utf-8")


class _Writer:
    """One drawing on its way into the model space of a document."""

    def __init__(self, document: "Document", drawing: Drawing) -> None:
        self.document, self.space = document, document.modelspace()
        self.drawing, self.frame = drawing, drawing.frame
        self.metre = 1.0 / metre_per_unit(drawing.units, drawing.foot)
        self.times = drawing.frame.exaggeration
        self.mm = unit_of_paper(drawing)

    def point(self, ground: Point) -> Point:
        return ground[0] * self.metre, ground[1] * self.metre * self.times

    def points(self, ground: tuple[Point, ...]) -> list[Point]:
        return [self.point(each) for each in ground]

    def from_paper(self, mm: Point) -> Point:
        return self.point(self.frame.ground(mm))

    def entity(self, entity: Entity) -> None:
        on = {"layer": entity.layer}
        match entity:
            case Line():
                self.space.add_line(self.point(entity.start), self.point(entity.end), on)
            case Polyline():
                self.space.add_lwpolyline(
                    self.points(entity.points), close=entity.closed, dxfattribs=on
                )
            case Area():
                self.area(entity)
            case Circle():
                self.circle(entity)
            case Arc():
                self.arc(entity)
            case Text():
                self.text(entity, self.space)
            case Dimension():
                self.dimension(entity)
            case Leader():
                self.space.add_lwpolyline(self.points(entity.points), dxfattribs=on)
                if entity.head == "dot":
                    self.mark(Mark(entity.points[0], "dot", entity.layer))
            case Mark():
                self.mark(entity)

    def area(self, area: Area) -> None:
        rings = [self.points(ring) for ring in (area.points, *area.holes)]
        for hatch in self.fills(area.matter):
            for index, ring in enumerate(rings):
                hatch.paths.add_polyline_path(ring, is_closed=True, flags=16 if index else 1)

    def fills(self, name: str) -> list[Any]:
        """Hatches of a matter, still without their edge: its ground tone, then its strokes."""
        matter = matter_of(name)
        on = {"layer": matter.layer}
        made = []
        if matter.ground:
            ground = self.space.add_hatch(dxfattribs=on)
            ground.rgb = rgb_of(matter.ground)
            made.append(ground)
        if matter.strokes:
            strokes = self.space.add_hatch(dxfattribs=on)
            strokes.set_pattern_fill(
                name, definition=[self.row(each) for each in matter.strokes], scale=1.0
            )
            strokes.rgb = rgb_of(matter.ink)
            made.append(strokes)
        return made

    def row(self, strokes: Strokes) -> tuple[float, Point, Point, list[float]]:
        """A family of strokes as a line of a hatch pattern, in units of the file."""
        c, s = cos(radians(strokes.angle_deg)), sin(radians(strokes.angle_deg))
        along, up = (strokes.stroke_mm + strokes.gap_mm) / 2, strokes.spacing_mm
        offset = ((c * along - s * up) * self.mm, (s * along + c * up) * self.mm)
        right, high = strokes.start_mm
        dashes = [strokes.stroke_mm * self.mm, -strokes.gap_mm * self.mm]
        start = right * self.mm, high * self.mm
        return strokes.angle_deg, start, offset, dashes if strokes.gap_mm else []

    def circle(self, circle: Circle) -> None:
        centre = self.point(circle.centre)
        radius = circle.radius * self.metre
        major, ratio = _oval(radius, self.times)
        for hatch in self.fills(circle.matter) if circle.matter else ():
            hatch.paths.add_edge_path().add_ellipse(centre, major_axis=major, ratio=ratio)
        if ratio == 1.0:
            self.space.add_circle(centre, radius, {"layer": circle.layer})
        else:
            self.space.add_ellipse(centre, major, ratio, dxfattribs={"layer": circle.layer})

    def arc(self, arc: Arc) -> None:
        centre, on = self.point(arc.centre), {"layer": arc.layer}
        radius = arc.radius * self.metre
        major, ratio = _oval(radius, self.times)
        if ratio == 1.0:
            self.space.add_arc(centre, radius, arc.from_deg, arc.to_deg, dxfattribs=on)
            return
        back = 90.0 if self.times > 1.0 else 0.0  # parameters count from the longer axis
        start, end = radians(arc.from_deg - back), radians(arc.to_deg - back)
        self.space.add_ellipse(centre, major, ratio, start, end, dxfattribs=on)

    def text(self, text: Text, space: "BaseLayout") -> None:
        from ezdxf.enums import TextEntityAlignment

        made = space.add_text(
            text.plain,
            height=text.size_mm * CAP * self.mm,
            rotation=text.angle_deg,
            dxfattribs={"layer": text.layer, "style": STYLES[text.weight]},
        )
        made.set_placement(
            self.point(text.at), align=TextEntityAlignment[_ALIGN[text.across, text.up]]
        )
        keys = [part.key for part in text.parts if part.key]
        if keys:
            made.set_xdata(APP, [(1000, key) for key in keys])

    def mark(self, mark: Mark) -> None:
        self.space.add_blockref(
            sign_name(mark.kind),
            self.point(mark.at),
            {
                "layer": mark.layer,
                "xscale": self.mm,
                "yscale": self.mm,
                "zscale": self.mm,
                "rotation": mark.angle_deg,
            },
        )

    def dimension(self, dimension: Dimension) -> None:
        from ezdxf.entities.dimension import Dimension as Measured
        from ezdxf.entities.dimstyleoverride import DimStyleOverride

        placed = laid_out(dimension, self.frame)
        words = words_of(dimension, self.frame)
        block = self.document.blocks.new_anonymous_block(type_char="D")
        for stroke in placed.strokes:
            self.stroke(block, stroke, dimension.layer)
        for tick in placed.ticks:
            self.stroke(block, tick, dimension.layer, TICK_WEIGHT)
        self.text(words, block)
        kind = _DIMTYPE_ROTATED | _OWN_PICTURE
        upright = abs(sin(radians(placed.angle_deg))) > 0.5 and self.times != 1.0
        made = self.space.new_entity(
            "DIMENSION",
            {
                "layer": dimension.layer,
                "dimstyle": DIMSTYLE,
                "geometry": block.name,
                "dimtype": kind | (_OWN_PLACE if dimension.moved_mm != (0.0, 0.0) else 0),
                "defpoint": self.from_paper(placed.ends[1]),
                "defpoint2": self.point(dimension.start),
                "defpoint3": self.point(dimension.end),
                "angle": placed.angle_deg,
                "text_midpoint": self.middle_of(placed, words),
                "text": dimension.words,
                "actual_measurement": self.measured(placed),
            },
        )
        if upright and isinstance(made, Measured):
            DimStyleOverride(made, {"dimlfac": 1.0 / self.times}).commit()
        if dimension.key:
            made.set_xdata(APP, [(1000, dimension.key)])

    def measured(self, placed: LaidOut) -> float:
        """Length of a dimension on the ground, in units of the file."""
        (xa, ya), (xb, yb) = (self.frame.ground(end) for end in placed.ends)
        return float(((xb - xa) ** 2 + (yb - ya) ** 2) ** 0.5 * self.metre)

    def middle_of(self, placed: LaidOut, words: Text) -> Point:
        lean = radians(placed.angle_deg + 90.0)
        half = words.size_mm * CAP / 2
        x, y = placed.words_at
        return self.from_paper((x + half * cos(lean), y + half * sin(lean)))

    def stroke(
        self, space: "BaseLayout", stroke: tuple[Point, Point], layer: str, weight: int = -1
    ) -> None:
        start, end = (self.from_paper(point) for point in stroke)
        space.add_line(start, end, {"layer": layer, "lineweight": weight})

    def say_exaggeration(self) -> None:
        """Write below the drawing what its y means, where heights are drawn larger."""
        if words := times_words(self.drawing):
            at = self.frame.ground((0.0, -2 * SMALL))
            self.text(Text(at, words, layer="label-muted", size_mm=SMALL), self.space)


def _oval(radius: float, times: float) -> tuple[Point, float]:
    """Longer half axis of a circle whose heights are drawn larger, and the share of the other."""
    if abs(times - 1.0) < 1e-12:
        return (radius, 0.0), 1.0
    return ((0.0, radius * times), 1.0 / times) if times > 1.0 else ((radius, 0.0), times)


def _show(document: "Document", drawing: Drawing, writer: _Writer) -> None:
    """What is in view when the file is opened, and the layout at the drawing's scale."""
    frame = drawing.frame
    low, high = writer.point(frame.low), writer.point(frame.high)
    middle = (low[0] + high[0]) / 2, (low[1] + high[1]) / 2
    tall = high[1] - low[1]
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (*low, 0.0), (*high, 0.0)
    writer.space.reset_extents((*low, 0.0), (*high, 0.0))
    writer.space.reset_limits(low, high)
    document.set_modelspace_vport(height=max(tall, (high[0] - low[0]) / 2), center=middle)
    document.layouts.rename("Layout1", "Sheet")
    sheet = document.paperspace("Sheet")
    size = frame.width_mm, frame.height_mm
    sheet.page_setup(size=size, name="sheet", device="")
    sheet.add_viewport(
        (size[0] / 2, size[1] / 2), size, middle, tall, dxfattribs={"layer": "frame"}
    )


def _order_classes(document: "Document") -> None:
    """Declare the kinds of objects by name: ezdxf takes them as a set of words happens to lie."""
    document.classes.add_required_classes(document.dxfversion)
    document.classes.classes = dict(sorted(document.classes.classes.items()))
