# SPDX-License-Identifier: Apache-2.0
"""Set a set of sheets as PDF: vector, searchable, bookmarked, the same bytes each time."""

import json
from collections.abc import Callable
from dataclasses import asdict, replace
from functools import cache
from hashlib import sha256
from importlib import resources
from typing import Any

from tilewater.basis.errors import OutOfDomain
from tilewater.documents.paper.letters import in_typeface, shown
from tilewater.documents.paper.packed import packed
from tilewater.documents.sheets.measure import (
    AFTER,
    AFTER_TITLE,
    INSET_X,
    INSET_Y,
    heights_of,
    widths_of,
)
from tilewater.documents.sheets.record import (
    BIND,
    EDGE,
    GAP,
    STRIP,
    Block,
    Box,
    Columns,
    Picture,
    SheetPage,
    SheetSet,
)

STANDARD = "ua-1"
"""Tagged so that it can be read aloud: PDF/UA-1."""
PAD = 2.0
"""Room inside a frame. [mm]"""


def press_sheets(sheets: SheetSet) -> bytes:
    """A set of sheets as a PDF file.

    Parameters
    ----------
    sheets : SheetSet
        The set as plain records.

    Returns
    -------
    bytes
        The file; the same set gives the same bytes.

    Raises
    ------
    OutOfDomain
        If a box of a sheet holds more than it has room for.
    """
    from typst import TypstError
    from typst import compile as typeset

    files: dict[str, bytes] = {}
    data = _data_of(sheets, files)
    files["data.json"] = json.dumps(data, ensure_ascii=False).encode()
    files["main.typ"] = _layout()
    typeset_files: Callable[..., bytes] = typeset  # its hints leave out files in memory
    try:
        pdf = typeset_files(
            files,
            format="pdf",
            font_paths=[str(resources.files("tilewater.documents") / "fonts")],
            ignore_system_fonts=True,
            pdf_standards=[STANDARD],
        )
    except TypstError as error:
        if "too full" not in str(error):
            raise
        raise OutOfDomain(
            f"{error}. A box of a sheet has room for less. Use larger paper, or shorten its notes."
        ) from None
    return packed(pdf)


@cache
def _layout() -> bytes:
    return (resources.files("tilewater.documents.sheets") / "sheet.typ").read_bytes()


def _data_of(sheets: SheetSet, files: dict[str, bytes]) -> dict[str, Any]:
    bare = replace(sheets, sheets=tuple(map(_bare, sheets.sheets)))
    data: dict[str, Any] = _shown(asdict(bare))
    data |= {"bind": BIND, "edge": EDGE, "strip_width": STRIP, "gap": GAP}
    data |= {"inset_x": INSET_X, "inset_y": INSET_Y, "after": AFTER, "after_title": AFTER_TITLE}
    data["strip"]["logo"] = ""
    if sheets.strip.logo_svg:
        data["strip"]["logo"] = _file(sheets.strip.logo_svg, files)
    del data["strip"]["logo_svg"]
    for page, sheet in zip(data["sheets"], sheets.sheets, strict=True):
        for made, box in zip(page["boxes"], sheet.boxes, strict=True):
            made["blocks"] = [_block(block, box, files) for block in box.blocks]
    return data


def _bare(sheet: SheetPage) -> SheetPage:
    """A sheet whose boxes hold nothing yet: blocks are shown one by one."""
    return replace(sheet, boxes=tuple(replace(box, blocks=()) for box in sheet.boxes))


def _block(block: Block, box: Box, files: dict[str, bytes]) -> dict[str, Any]:
    if isinstance(block, Picture):
        return {
            "is": "Picture",
            "svg": _file(block.svg, files),
            "width_mm": block.width_mm,
            "height_mm": block.height_mm,
            "alt": shown(block.alt),
        }
    made: dict[str, Any] = _shown(asdict(block))
    if isinstance(block, Columns):
        wide = box.width_mm - (2 * PAD if box.framed else 0.0)
        made["widths_mm"] = widths_of(block, wide, box.size_pt)
        made["heights_mm"] = heights_of(block, wide, box.size_pt)
    return made | {"is": type(block).__name__}


def _file(svg: str, files: dict[str, bytes]) -> str:
    name = f"figure-{sha256(svg.encode()).hexdigest()[:16]}.svg"
    files[name] = in_typeface(svg).encode()
    return name


def _shown(record: Any) -> Any:
    """Words without letters that the typeface does not have."""
    if isinstance(record, str):
        return shown(record)
    if isinstance(record, dict):
        return {name: _shown(value) for name, value in record.items()}
    if isinstance(record, list | tuple):
        return [_shown(each) for each in record]
    return record
