# SPDX-License-Identifier: Apache-2.0
"""What a DXF file declares before its first entity: units, layers, dashes, styles, signs.

All lengths of the tables are millimetres of paper; the file's scale of dimensions and dashes
brings them to its units, so that one number follows another scale.
"""

from typing import TYPE_CHECKING

from tilewater.documents.drawing.dimensions import BEYOND, GAP, OFF, TICK
from tilewater.documents.drawing.frame import MM
from tilewater.documents.drawing.furniture import metre_per_unit, scale_words, units_note
from tilewater.documents.drawing.layers import DASHES, LAYERS
from tilewater.documents.drawing.marks import MARKS
from tilewater.documents.drawing.metrics import CAP, FAMILY
from tilewater.documents.drawing.model import SMALL, Drawing, Weight

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

INSUNITS = {"si": 6, "international foot": 2, "us survey foot": 21}
"""Codes of metres, feet and US survey feet."""
STYLES: dict[Weight, str] = {
    "light": "text-light",
    "regular": "text",
    "semibold": "text-semibold",
}
DIMSTYLE = "ground"
APP = "TILEWATER"
"""Under this name an entity carries the key that explains its number."""
_FILES: dict[Weight, str] = {
    "light": "SourceSans3-Light.ttf",
    "regular": "SourceSans3-Regular.ttf",
    "semibold": "SourceSans3-Semibold.ttf",
}
_INK_ON_ANY_GROUND = 7
_CUSTOM_TAG = 255


def unit_of_paper(drawing: Drawing) -> float:
    """Units of the file that a millimetre of paper covers, across. [-]"""
    return drawing.frame.scale_x / MM / metre_per_unit(drawing.units, drawing.foot)


def declare(document: "Document", drawing: Drawing) -> None:
    """Write units and tables of a drawing into an empty document."""
    _header(document, drawing)
    document.appids.add(APP)
    for name, dashes in DASHES.items():
        if dashes:
            pattern = [sum(dashes), *(d if i % 2 == 0 else -d for i, d in enumerate(dashes))]
            document.linetypes.add(name, pattern, description=name)
    for layer in LAYERS.values():
        made = document.layers.add(
            layer.name,
            color=layer.aci,
            linetype=layer.dashes if DASHES[layer.dashes] else "Continuous",
            lineweight=round(100 * layer.width_mm),
        )
        if layer.aci != _INK_ON_ANY_GROUND:
            made.rgb = rgb_of(layer.ink)
        made.description = layer.holds
    for weight, style in STYLES.items():
        made_style = document.styles.add(style, font=_FILES[weight])
        made_style.set_extended_font_data(FAMILY, bold=weight == "semibold")
    _dimstyle(document, drawing)
    _signs(document)


def rgb_of(ink: str) -> tuple[int, int, int]:
    """Red, green and blue of `#rrggbb`."""
    return int(ink[1:3], 16), int(ink[3:5], 16), int(ink[5:7], 16)


def times_words(drawing: Drawing) -> str:
    """What the file says where its heights are drawn larger; "" where they are not."""
    times = drawing.frame.exaggeration
    if abs(times - 1.0) < 1e-9:
        return ""
    return (
        f"Heights are drawn {times:.6g} times: y of this file is {times:.6g} times the elevation."
    )


def _header(document: "Document", drawing: Drawing) -> None:
    unit = unit_of_paper(drawing)
    header = document.header
    metric = drawing.units == "si"
    header["$INSUNITS"] = INSUNITS["si" if metric else drawing.foot]
    header["$MEASUREMENT"] = 1 if metric else 0
    header["$LUNITS"], header["$LUPREC"] = 2, 3 if metric else 2
    header["$LTSCALE"], header["$DIMSCALE"] = unit, unit
    header["$TEXTSIZE"] = SMALL * CAP * unit
    header["$PSLTSCALE"], header["$LWDISPLAY"] = 0, 1
    told = {
        "title": drawing.title,
        "scale": scale_words(drawing.frame, drawing.units),
        "units": units_note(drawing.units, drawing.foot),
        "heights": times_words(drawing),
    }
    for name, words in told.items():
        if words:
            header.custom_vars.append(name, words[:_CUSTOM_TAG])


def _dimstyle(document: "Document", drawing: Drawing) -> None:
    style = document.dimstyles.add(DIMSTYLE)
    settings = {
        "dimscale": unit_of_paper(drawing),
        "dimtxt": SMALL * CAP,
        "dimtxsty": STYLES["regular"],
        "dimtsz": TICK * 2**-0.5,
        "dimexo": OFF,
        "dimexe": BEYOND,
        "dimgap": GAP,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimtix": 1,
        "dimlunit": 2,
        "dimdec": 3 if drawing.units == "si" else 2,
        "dimzin": 0,
        "dimdsep": ord("."),
        "dimlfac": 1.0,
        "dimclrd": 256,
        "dimclre": 256,
        "dimclrt": 256,
    }
    for name, value in settings.items():
        style.dxf.set(name, value)


def _signs(document: "Document") -> None:
    """One block for each sign, in millimetres of paper and in the ink of the layer it stands on."""
    for kind, shapes in MARKS.items():
        block = document.blocks.new(sign_name(kind))
        for shape in shapes:
            if shape.filled:
                fill = block.add_hatch(color=0, dxfattribs={"layer": "0"})
                fill.paths.add_polyline_path(shape.points, is_closed=True)
            block.add_lwpolyline(
                shape.points, close=shape.closed, dxfattribs={"layer": "0", "color": 0}
            )


def sign_name(kind: str) -> str:
    """Name of the block of a sign."""
    return f"sign-{kind}"
