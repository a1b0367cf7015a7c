# SPDX-License-Identifier: Apache-2.0
"""A page of the daily drain flow: a middle year, the flow duration, the months and the years.

One sheet of 11 by 8.5 inches, told apart by line and height, so that it reads in grey. Nothing is
computed here.
"""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.units import System, format_quantity, from_si, unit_label
from tilewater.chain.scene_days import DaysScene
from tilewater.documents.scales import round_step
from tilewater.documents.sheet import INCH, INK, MUTED, WATER, WATER_FILL, Frame, Point, Sheet

WIDTH, HEIGHT = 11 * INCH, 8.5 * INCH
LEFT, RIGHT = 66.0, 1020.0
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
YEAR = 366.0
REMARK = (
    "Means of whole days, boards in as the seasons set them; the flow within a day peaks higher. "
    "Simulated: the page of the verb water tells what it rests on."
)
MEASURED = "Means of whole days as recorded; the flow within a day peaks higher."
HEADROOM = 1.08
DASHES = ("7 4", "2 3", "10 3 2 3")
"""Lines of the marks, in their order."""
SMALL = 9.5


@dataclass(frozen=True)
class Room:
    """Where a panel stands on the sheet. [px]"""

    left: float
    right: float
    top: float
    base: float


def draw_water_chart(scene: DaysScene, *, units: System = "us") -> str:
    """Draw the page of the daily drain flow.

    Parameters
    ----------
    scene : DaysScene
        From `tilewater.chain.scene_days.days_scene`.
    units : "us" or "si"
        Units of the reader.

    Returns
    -------
    str
        An SVG file that names no outside address. Numbers carry their key as `data-key`.
    """
    sheet = Sheet(WIDTH)
    _write_title(sheet, scene, units)
    _draw_year(sheet, scene, units, Room(LEFT, RIGHT, 112.0, 330.0))
    _draw_duration(sheet, scene, units, Room(LEFT, 500.0, 398.0, 560.0))
    _draw_months(sheet, scene, units, Room(566.0, RIGHT, 398.0, 560.0))
    _draw_years(sheet, scene, units, Room(LEFT, RIGHT, 628.0, 752.0))
    remark = REMARK if scene.basis == "simulated" else MEASURED
    sheet.text((LEFT, 796), remark, size=SMALL, colour=MUTED)
    about = f"{scene.days} days of drain flow, {scene.basis}, {scene.first} to {scene.last}"
    return sheet.svg(f"Daily drain flow: {scene.title}", about, HEIGHT)


def _write_title(sheet: Sheet, scene: DaysScene, units: System) -> None:
    sheet.text((LEFT, 44), scene.title or "Daily drain flow", size=18, bold=True)
    depth = format_quantity(scene.mean_depth, "depth", system=units)
    sheet.text(
        (LEFT, 64),
        (
            (f"Drain flow, {scene.basis}, {scene.first} to {scene.last}, mean year ", ""),
            (depth, "water.mean_annual_depth_m"),
        ),
        colour=MUTED,
    )


def _flow(value: float, units: System) -> float:
    return from_si(value, unit_label("flow", units))


def _axis(sheet: Sheet, room: Room, top: float, unit: str, parts: float = 4.0) -> float:
    """Draw the heights of a panel in the reader's unit; pixels of one unit."""
    step = round_step(top, parts)
    up = (room.base - room.top) / top
    value = 0.0
    while value <= top * (1.0 + 1e-9):
        y = room.base - value * up
        if value > 0.0:
            sheet.line(((room.left, y), (room.right, y)), stroke=MUTED, width=0.4, opacity=0.5)
        sheet.text((room.left - 6, y + 3.5), f"{value:g}", anchor="end", size=SMALL, colour=MUTED)
        value = round(value + step, 9)
    sheet.line(((room.left, room.base), (room.right, room.base)), width=1.0)
    sheet.text((room.left - 6, room.top - 9), unit, anchor="end", size=SMALL, colour=MUTED)
    return up


def _heading(sheet: Sheet, room: Room, title: str, note: str) -> None:
    label = sheet.text((room.left, room.top - 24), title, size=12, bold=True)
    sheet.text((label.x1 + 8, room.top - 24), note, size=SMALL, colour=MUTED)


def _top(values: Sequence[float]) -> float:
    return max(max(values), 1e-9) * HEADROOM


def _draw_year(sheet: Sheet, scene: DaysScene, units: System, room: Room) -> None:
    _heading(
        sheet,
        room,
        f"The year {scene.median_year}, day by day",
        "its drainage is the middle one of all years; mean of each day",
    )
    flows = [_flow(float(value), units) for value in scene.year_flow]
    marks = [_flow(mark.flow, units) for mark in scene.marks]
    top = _top([*flows, *marks])
    up = _axis(sheet, room, top, unit_label("flow", units))
    across = (room.right - room.left) / YEAR
    sheet.open_panel("year", Frame(0.0, 0.0, room.left, room.base, across, up))
    for points in _runs(scene.year_day, flows, room, across, up):
        outline = [(points[0][0], room.base), *points, (points[-1][0], room.base)]
        sheet.line(outline, stroke="none", fill=WATER_FILL, width=0.0)
        sheet.line(points, stroke=WATER, width=1.2, name="flow")
    for number, month in enumerate(MONTHS, start=1):
        first = datetime.date(scene.median_year, number, 1)
        x = room.left + (first - datetime.date(scene.median_year, 1, 1)).days * across
        sheet.line(((x, room.base), (x, room.base + 5)), width=0.8)
        sheet.text((x + 15 * across, room.base + 14), month, anchor="middle", size=SMALL)
    _draw_marks(sheet, scene, units, room, up)
    sheet.close_panel()


def _runs(
    days: NDArray[np.int64], flows: list[float], room: Room, across: float, up: float
) -> list[list[Point]]:
    """Steps of the days in a row; a gap of the record is left open."""
    found: list[list[Point]] = []
    before = -2
    for day, flow in zip(days, flows, strict=True):
        if int(day) != before + 1:
            found.append([])
        x, y = room.left + int(day) * across, room.base - flow * up
        found[-1] += [(x, y), (x + across, y)]
        before = int(day)
    return found


def _draw_marks(sheet: Sheet, scene: DaysScene, units: System, room: Room, up: float) -> None:
    for mark, dash in zip(scene.marks, DASHES, strict=False):
        y = room.base - _flow(mark.flow, units) * up
        sheet.line(((room.left, y), (room.right, y)), stroke=INK, width=0.9, dash=dash)
        said = format_quantity(mark.flow, "flow", system=units)
        parts = ((f"{mark.words} ", ""), (said, mark.key))
        sheet.text((room.right - 4, y - 4), parts, anchor="end", size=SMALL, clear="#fbfaf6")


def _draw_duration(sheet: Sheet, scene: DaysScene, units: System, room: Room) -> None:
    flowing = scene.falling[scene.falling > 0.0]
    shares = 365.25 / scene.falling.size
    longest = max(flowing.size * shares, 1.0)
    step = round_step(longest, 5.0)
    end = step * np.ceil(longest / step)
    _heading(sheet, room, "How long it flows", "days of a mean year with more than a flow")
    marks = [_flow(mark.flow, units) for mark in scene.marks]
    top = _top([_flow(float(scene.falling[0]), units), *marks])
    up = _axis(sheet, room, top, unit_label("flow", units))
    across = (room.right - room.left) / float(end)
    sheet.open_panel("duration", Frame(0.0, 0.0, room.left, room.base, across, up))
    places = min(flowing.size, 400)
    ranks = np.unique(np.linspace(0, flowing.size - 1, places).astype(np.int64))
    points = [
        (
            room.left + (int(rank) + 0.5) * shares * across,
            room.base - _flow(float(flowing[rank]), units) * up,
        )
        for rank in ranks
    ]
    if points:
        sheet.line(points, stroke=WATER, width=1.8, name="duration")
    for mark, dash in zip(marks, DASHES, strict=False):
        y = room.base - mark * up
        sheet.line(((room.left, y), (room.right, y)), stroke=INK, width=0.9, dash=dash)
    day = 0.0
    while day <= end * (1.0 + 1e-9):
        x = room.left + day * across
        sheet.line(((x, room.base), (x, room.base + 4)), width=0.8)
        sheet.text((x, room.base + 14), f"{day:g}", anchor="middle", size=SMALL, colour=MUTED)
        day += step
    sheet.close_panel()


def _draw_months(sheet: Sheet, scene: DaysScene, units: System, room: Room) -> None:
    _heading(sheet, room, "By month", "drainage of a mean year")
    depths = [float(value) for value in scene.month_depth]
    _draw_bars(sheet, "months", depths, list(MONTHS), units, room)


def _draw_years(sheet: Sheet, scene: DaysScene, units: System, room: Room) -> None:
    _heading(sheet, room, "By year", "drainage of calendar years; the broken line is the mean year")
    every = max(1, round(scene.years.size / 30))
    names = [str(year) if place % every == 0 else "" for place, year in enumerate(scene.years)]
    depths = [float(value) for value in scene.year_depth]
    up = _draw_bars(sheet, "years", depths, names, units, room)
    y = room.base - _depth(scene.mean_depth, units) * up
    sheet.line(((room.left, y), (room.right, y)), stroke=INK, width=0.9, dash=DASHES[0])


def _depth(value: float, units: System) -> float:
    return from_si(value, unit_label("depth", units))


def _draw_bars(
    sheet: Sheet,
    panel: str,
    depths: list[float],
    names: list[str],
    units: System,
    room: Room,
) -> float:
    """Draw a bar for each depth with its name under it; pixels of one unit of depth."""
    heights = [_depth(value, units) for value in depths]
    up = _axis(
        sheet, room, _top([h for h in heights if h == h] or [1.0]), unit_label("depth", units)
    )
    wide = (room.right - room.left) / max(len(heights), 1)
    sheet.open_panel(panel, Frame(0.0, 0.0, room.left, room.base, wide, up))
    for place, (height, name) in enumerate(zip(heights, names, strict=True)):
        x = room.left + place * wide
        if not np.isnan(height):
            a, b = (x + 0.15 * wide, room.base), (x + 0.85 * wide, room.base - height * up)
            sheet.box(a, b, fill=WATER_FILL, stroke=WATER, width=0.9, name="bar")
        size = SMALL if wide >= 26 else 8.0
        sheet.text((x + wide / 2, room.base + 14), name, anchor="middle", size=size)
    sheet.close_panel()
    return up
