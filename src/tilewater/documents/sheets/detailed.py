# SPDX-License-Identifier: Apache-2.0
"""Sheets of details: each drawn from the job's own sizes, or told as a typical one."""

from collections.abc import Iterator

from tilewater.documents.sheets.material import SheetMaterial
from tilewater.documents.sheets.record import GAP, Box, Picture, SheetPage, body_of

TITLE = "Details"
CELL_WIDE, CELL_HIGH = 162.0, 120.0
"""Room of one detail, at least as wide and about as high. [mm]"""


def detail_sheets(material: SheetMaterial) -> Iterator[SheetPage]:
    """All details, beside and below each other in equal rooms."""
    width, height = body_of(material.paper)
    across = max(1, int((width + GAP) / (CELL_WIDE + GAP)))
    down = max(1, round((height + GAP) / (CELL_HIGH + GAP)))
    wide, high = (width - (across - 1) * GAP) / across, (height - (down - 1) * GAP) / down
    found: list[Picture] = []
    alone: list[Picture] = []
    for name in material.draw:
        if name.startswith("detail-"):
            picture = material.picture(name, wide, high)
            if picture is not None and picture.height_mm <= high + 0.01:
                found.append(picture)
            elif (larger := material.picture(name, width, height)) is not None:
                alone.append(larger)
    sheets: list[tuple[Box, ...]] = []
    each = across * down
    for first in range(0, len(found), each):
        sheets.append(
            tuple(
                Box((n % across) * (wide + GAP), (n // across) * (high + GAP), wide, high, (one,))
                for n, one in enumerate(found[first : first + each])
            )
        )
    sheets += [(Box(0.0, 0.0, width, height, (one,)),) for one in alone]
    for number, boxes in enumerate(sheets, start=1):
        yield SheetPage(TITLE if number == 1 else f"{TITLE}, {number}", boxes)
