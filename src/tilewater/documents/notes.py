# SPDX-License-Identifier: Apache-2.0
"""What stands beside a drawing: its title, its lines, what it says and what is not on it."""

from collections.abc import Iterable

from tilewater.chain.scene import LongSection
from tilewater.documents.scales import Figures
from tilewater.documents.sheet import (
    BINDS,
    CHIPS,
    CHIPS_FILL,
    INK,
    MUTED,
    STRUCTURE,
    WATER,
    WATER_FILL,
    Sheet,
    text_width,
)

ROW = 14.5
LINES = (
    ("ground", {"stroke": INK, "width": 1.6, "dash": ""}),
    ("edge of the cut, crown", {"stroke": INK, "width": 0.9, "dash": "5 3"}),
    ("ditch, ordinary water", {"stroke": WATER, "width": 1.8, "dash": ""}),
    ("ditch, high water", {"stroke": WATER, "width": 1.3, "dash": "6 4"}),
    (
        "groundwater that the design counts with",
        {"stroke": MUTED, "width": 1.1, "dash": "10 3 2 3 2 3"},
    ),
    (
        "main past the bed, beside it; drawn broken",
        {"stroke": STRUCTURE, "width": 0.9, "dash": "7 4"},
    ),
)


TOLD = 3
"""Reasons that are told one by one."""


def wrapped(text: str, size: float, room: float) -> list[str]:
    """Words in lines that fit a room. [px]"""
    lines: list[str] = []
    for word in text.split():
        if lines and text_width(f"{lines[-1]} {word}", size) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def write_paragraph(
    sheet: Sheet,
    at: tuple[float, float],
    text: str,
    room: float,
    *,
    colour: str = INK,
    size: float = 10.5,
) -> float:
    """Write words in lines; where the next line would stand."""
    x, y = at
    for line in wrapped(text, size, room):
        sheet.text((x, y), line, size=size, colour=colour)
        y += ROW
    return y


def write_title(
    sheet: Sheet, scene: LongSection, figures: Figures, left: float, right: float
) -> None:
    """Write the title of the job, what it is, and what binds."""
    sheet.text((left, 40), scene.title or "Long section", size=20, bold=True)
    about = f"Elevations and lengths in {figures.unit}"
    if figures.units == "us" and scene.foot:
        about = f"Elevations and lengths in feet ({scene.foot})"
    datum = f"; elevations above {scene.datum}" if scene.datum else ""
    sheet.text((left, 58), f"Long section with standing water. {about}{datum}.", colour=MUTED)
    if scene.binds:
        sheet.text((right, 40), "what binds", colour=MUTED, anchor="end")
        sheet.text((right, 57), scene.binds, size=12, bold=True, colour=BINDS, anchor="end")


def write_legend(sheet: Sheet, left: float, y: float) -> float:
    """Write what the lines and patterns stand for; where it ends."""
    sheet.text((left, y), "Lines", size=13, bold=True)
    y += 18
    for words, style in LINES:
        sheet.line(((left, y - 3.5), (left + 34, y - 3.5)), **style)  # type: ignore[arg-type]
        sheet.text((left + 42, y), words)
        y += ROW
    for words, fills in (
        ("chips", (CHIPS_FILL, "url(#chips)")),
        ("chips under water", (CHIPS_FILL, "url(#chips)", WATER_FILL, "url(#wet)")),
    ):
        for fill in fills:
            opacity = 0.8 if fill == WATER_FILL else 1.0
            sheet.box((left, y - 9), (left + 34, y + 2), fill=fill, stroke="none", opacity=opacity)
        sheet.box((left, y - 9), (left + 34, y + 2), stroke=CHIPS, width=0.8)
        sheet.text((left + 42, y), words)
        y += ROW
    return y


def write_missing(sheet: Sheet, scene: LongSection, left: float, right: float, y: float) -> float:
    """Write what is not drawn since it is not known; where it ends."""
    if not scene.missing:
        return y
    sheet.text((left, y), "Not drawn, not known", size=13, bold=True)
    y += 18
    for missing in scene.missing:
        told = "; ".join(missing.why[:TOLD])
        more = len(missing.why) - TOLD
        rest = f"; and {more} more" if more > 0 else ""
        y = write_paragraph(sheet, (left, y), f"{missing.what}: {told}{rest}", right - left)
    return y


def write_remarks(
    sheet: Sheet, remarks: Iterable[str], left: float, right: float, y: float
) -> float:
    """Write what a reader must know of the drawing; where it ends."""
    for remark in remarks:
        y = write_paragraph(sheet, (left, y), remark, right - left, colour=MUTED)
    return y
