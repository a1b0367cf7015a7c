# SPDX-License-Identifier: Apache-2.0
"""The long section at the outlet and the reach of the main above it."""

import math

from tools.sites.canvas import (
    CHIPS,
    CHIPS_FILL,
    INK,
    MUTED,
    PAPER,
    SOIL,
    STRUCTURE,
    WATER,
    WATER_FILL,
    Canvas,
    Frame,
    around,
)
from tools.sites.geometry import station
from tools.sites.outlet import Outlet

ROOM = 250.0
"""Height of a section on the sheet, in pixels."""
ABOVE = tuple(
    (dx, dy, anchor)
    for dy in (-8.0, -22.0, -36.0, 18.0, 34.0, -50.0, -64.0, 48.0)
    for dx, anchor in ((0.0, "middle"), (8.0, "start"), (-8.0, "end"))
)
BESIDE = around(aside=(6.0, 30.0, 70.0))


def draw_section(canvas: Canvas, site: Outlet, left: float, right: float, base: float) -> None:
    """Draw the section along the main; the bed beside it is set back at its own heights."""
    ditch = site.ditch
    from_x = ditch.far_bank_x(ditch.bank_top) - 4.0
    to_x = max(site.inlet.x + 60.0, 140.0)
    low = math.floor(min(ditch.bottom, site.barrier)) - 0.0
    high = math.ceil(max(site.inlet.rim, site.ground(to_x))) + 1
    across = (right - left) / (to_x - from_x)
    up = (ROOM - 30.0) / (high - low)
    frame = Frame(from_x, low, left, base, across, up)
    canvas.text((left, base - ROOM - 8), "Section at the outlet", size=14, weight=600)
    canvas.text(
        (left + 180, base - ROOM - 8),
        f"vertical {up / across:.1f} : 1; the bed lies beside the main and is drawn behind it",
        colour=MUTED,
    )
    stations = range(0, int(to_x) + 1, 20)
    _axes(canvas, frame, (from_x, to_x), range(int(low), int(high) + 1, 2), stations)
    _earth(canvas, site, frame, from_x, to_x, low)
    for box in (site.inlet, site.outlet):
        canvas.keep_clear(frame.at(box.x, box.sill), frame.at(box.x, box.rim), room=9.0)
    canvas.keep_clear(*(frame.at(x, z) for x, z in site.ground_points if x < to_x))
    bore = site.main.diameter_in / 12
    for rise in (0.0, bore):
        canvas.keep_clear(
            frame.at(0.0, site.main_invert(0.0) + rise),
            frame.at(to_x, site.main_invert(to_x) + rise),
            room=1.5,
        )
    _bed(canvas, site, frame)
    _pipes(canvas, site, frame, to_x)
    _levels(canvas, site, frame, from_x, to_x)


def _axes(
    canvas: Canvas, frame: Frame, ends: tuple[float, float], levels: range, stations: range
) -> None:
    for z in levels:
        x, y = frame.at(ends[0], z)
        canvas.line((x - 6, y), (x, y), width=0.8)
        canvas.line((x, y), frame.at(ends[1], z), width=0.5, stroke=SOIL)
        canvas.text((x - 9, y + 4), f"{z}", anchor="end", colour=MUTED)
    for each in stations:
        x, y = frame.at(each, levels[0])
        canvas.line((x, y), (x, y + 6), width=0.8)
        canvas.text((x, y + 19), station(each), anchor="middle", colour=MUTED)
    canvas.line(frame.at(ends[0], levels[0]), frame.at(ends[1], levels[0]), width=0.8)


def _earth(
    canvas: Canvas, site: Outlet, frame: Frame, from_x: float, to_x: float, low: float
) -> None:
    ditch = site.ditch
    toe = ditch.bank_x(ditch.bottom)
    stations = sorted(
        {from_x, to_x, ditch.far_bank_x(ditch.bank_top), toe - ditch.bottom_width, toe}
        | {x for x, _ in site.ground_points if x < to_x}
    )
    surface = [frame.at(x, site.ground(x)) for x in stations]
    canvas.line(*surface, frame.at(to_x, low), frame.at(from_x, low), fill=SOIL, stroke="none")
    canvas.line(
        frame.at(ditch.far_bank_x(ditch.water), ditch.water),
        frame.at(ditch.bank_x(ditch.water), ditch.water),
        frame.at(toe, ditch.bottom),
        frame.at(toe - ditch.bottom_width, ditch.bottom),
        fill=WATER_FILL,
        stroke="none",
    )
    canvas.line(*surface, width=1.6)


def _bed(canvas: Canvas, site: Outlet, frame: Frame) -> None:
    pit = site.pit
    floor, chips, top = pit.floor, pit.chips, pit.media_top
    shape = (
        frame.at(floor.x0, pit.floor_level),
        frame.at(floor.x1, pit.floor_level),
        frame.at(chips.x1, top),
        frame.at(chips.x0, top),
    )
    for fill in (CHIPS_FILL, "url(#chips)"):
        canvas.line(*shape, fill=fill, stroke=CHIPS)
    middle = (floor.x0 + floor.x1) / 2
    canvas.text_near(
        frame.at(middle, (pit.floor_level + top) / 2),
        f"chips {pit.floor_level:.2f} to {top:.2f}",
        places=tuple(
            (dx, dy, anchor)
            for dy in (4.0, -12.0, 20.0, -26.0, 36.0)
            for dx, anchor in ((0.0, "middle"), (14.0, "start"), (-14.0, "end"))
        ),
        clear=CHIPS_FILL,
    )


def _pipes(canvas: Canvas, site: Outlet, frame: Frame, to_x: float) -> None:
    bore = site.main.diameter_in / 12
    for rise in (0.0, bore):
        canvas.line(
            frame.at(0.0, site.main_invert(0.0) + rise),
            frame.at(to_x, site.main_invert(to_x) + rise),
            stroke=STRUCTURE,
            width=1.3,
        )
    for name, box in (("inlet", site.inlet), ("outlet", site.outlet)):
        shape = box.outline
        canvas.box(
            frame.at(shape.x0, box.sill), frame.at(shape.x1, box.rim), fill="#ffffff", width=1.4
        )
        canvas.box(
            frame.at(box.x - 0.3, box.sill),
            frame.at(box.x + 0.3, box.crest),
            fill=STRUCTURE,
            stroke=STRUCTURE,
        )
        text = f"{name} {box.boards_in:.0f} in, crest {box.crest:.2f}, rim {box.rim:.2f}"
        canvas.text_near(frame.at(box.x, box.rim), text, places=ABOVE, clear=PAPER)
    line = site.line
    canvas.dot(frame.at(line.x, line.invert + line.diameter_in / 24), 4, stroke=WATER)
    canvas.text_near(
        frame.at(line.x, line.invert),
        f"line {line.invert:.2f}",
        places=BESIDE,
        colour=WATER,
    )


def _levels(canvas: Canvas, site: Outlet, frame: Frame, from_x: float, to_x: float) -> None:
    for name, level in site.waters:
        bank = site.ditch.bank_x(min(level, site.ditch.bank_top))
        canvas.line(frame.at(from_x, level), frame.at(bank, level), stroke=WATER, dash="3 4")
        canvas.text_near(
            frame.at(from_x, level),
            f"{name} {level:.2f}",
            places=tuple((4.0, dy, "start") for dy in (-4.0, 12.0, -17.0, 25.0, -30.0)),
            colour=WATER,
            clear=PAPER,
        )
    marks = (
        (0.0, site.main.invert_outlet, f"main {site.main.invert_outlet:.2f}"),
        (site.ditch.bank_top_x, site.ditch.bank_top, f"bank top {site.ditch.bank_top:.2f}"),
        (site.inlet.x + 8, site.main.invert_diversion, f"{site.main.invert_diversion:.2f}"),
        (site.ditch.bank_x(site.ditch.bottom), site.ditch.bottom, f"{site.ditch.bottom:.2f}"),
    )
    for x, level, text in marks:
        canvas.text_near(frame.at(x, level), text, places=BESIDE, clear=PAPER)
    canvas.line(frame.at(from_x, site.barrier), frame.at(to_x, site.barrier), dash="12 4")
    canvas.text_near(
        frame.at(to_x - 2, site.barrier),
        f"restrictive layer {site.barrier:.2f}",
        places=((0, -5, "end"), (0, -18, "end")),
        clear=SOIL,
    )


def draw_reach(canvas: Canvas, site: Outlet, left: float, right: float, base: float) -> None:
    """Draw the main to its upper end with the pool behind the boards and the property line."""
    main, crest, inlet = site.main, site.inlet.crest, site.inlet
    end = max(main.upper_end, main.property_line) + 100.0
    to_x = math.ceil(end / 200.0) * 200.0
    low = math.floor(main.invert_outlet) - 1
    high = math.ceil(max(z for _, z in site.ground_points)) + 2
    across, up = (right - left) / to_x, (ROOM - 60.0) / (high - low)
    frame = Frame(0.0, low, left, base, across, up)
    canvas.text((left, base - ROOM + 42), "Up the main", size=14, weight=600)
    canvas.text(
        (left + 96, base - ROOM + 42),
        f"vertical {up / across:.0f} : 1; level water at the inlet crest reaches "
        f"{site.pool_reach:,.0f} ft above the diversion",
        colour=MUTED,
    )
    _axes(canvas, frame, (0.0, to_x), range(low, high + 1, 4), range(0, int(to_x) + 1, 200))
    profile = [*site.ground_points, (to_x, site.ground_points[-1][1])]
    profile = [point for point in profile if point[0] <= to_x]
    surface = [frame.at(*point) for point in profile]
    canvas.line(
        *surface, frame.at(to_x, low), frame.at(profile[0][0], low), fill=SOIL, stroke="none"
    )
    canvas.line(*surface, width=1.4)
    pool = inlet.x + site.pool_reach
    last = min(pool, main.upper_end)
    canvas.line(
        frame.at(inlet.x, crest),
        frame.at(last, crest),
        frame.at(last, site.main_invert(last)),
        frame.at(inlet.x, main.invert_diversion),
        fill=WATER_FILL,
        stroke="none",
    )
    canvas.line(frame.at(inlet.x, crest), frame.at(last, crest), stroke=WATER, width=1.6)
    canvas.keep_clear(*surface)
    canvas.keep_clear(frame.at(inlet.x, crest), frame.at(last, crest))
    canvas.line(
        frame.at(0.0, main.invert_outlet),
        frame.at(inlet.x, main.invert_diversion),
        frame.at(main.upper_end, site.main_invert(main.upper_end)),
        stroke=STRUCTURE,
        width=2.2,
    )
    canvas.line(
        frame.at(main.property_line, low), frame.at(main.property_line, high - 1), dash="10 3 2 3"
    )
    for x, z, text, colour in (
        (main.property_line, high - 1.0, f"property line {station(main.property_line)}", INK),
        (last, crest, f"pool to {station(pool)} at {crest:.2f}", WATER),
        (main.upper_end, site.main_invert(main.upper_end),
         f"main ends {station(main.upper_end)}", STRUCTURE),
        *((spot.x, spot.ground, f"{spot.kind} {station(spot.x)}, {spot.ground:.2f}", INK)
          for spot in site.spots),
    ):  # fmt: skip
        at = frame.at(x, z)
        canvas.dot(at, 2.6, fill=INK)
        canvas.text_near(at, text, places=ABOVE, colour=colour)
