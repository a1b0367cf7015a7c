# SPDX-License-Identifier: Apache-2.0
"""The dimensioned sketch of an outlet with a bed and a buffer: strip, plan, section, reach."""

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
from tools.sites.geometry import Mark, station
from tools.sites.outlet import LINE_FROM_MAIN, Outlet
from tools.sites.sheet_section import draw_reach, draw_section

WIDTH, HEIGHT = 1180.0, 1500.0
LEFT, RIGHT = 62.0, 1120.0
SPAN = RIGHT - LEFT
BESIDE = around(aside=(9.0, 34.0, 70.0, 120.0))
WITHIN = tuple(
    (dx, dy, "middle")
    for dy in (4.0, -14.0, 22.0, -32.0, 40.0, -50.0, 58.0, -68.0)
    for dx in (0.0, -16.0, 16.0, -60.0, 60.0)
)
"""Places for a label in the middle of something."""


def draw_sketch(site: Outlet) -> Canvas:
    """Return the whole sheet."""
    canvas = Canvas(WIDTH, HEIGHT)
    canvas.text((LEFT, 34), site.title, size=20, weight=600)
    canvas.text(
        (LEFT, 54),
        "Dimensioned sketch of an invented site. Elevations and grid in US survey feet, upstream "
        "is up in both plans; stations along the main from its end in the ditch.",
        size=12,
        colour=MUTED,
    )
    _draw_strip(canvas, site)
    _draw_plan(canvas, site)
    draw_section(canvas, site, LEFT, RIGHT, 1140.0)
    draw_reach(canvas, site, LEFT, RIGHT, 1420.0)
    _consents(canvas, site)
    return canvas


def _draw_strip(canvas: Canvas, site: Outlet) -> None:
    """The whole length of the grass along the ditch."""
    low, high = site.strip.y0 - 40, site.strip.y1 + 40
    scale = SPAN / (high - low)
    base = 235.0
    frame = Frame(low, 0.0, LEFT, base, scale, scale)
    canvas.text((LEFT, 84), "The strip", size=14, weight=600)
    _ground(canvas, site, frame, low, high)
    grass, line = site.strip, site.line
    canvas.dimension(
        frame.at(grass.y0, -28), frame.at(grass.y1, -28), f"grass {grass.size[1]:,.0f} ft"
    )
    at = frame.at(grass.y0, 0)[0] - 8
    a, b = frame.at(grass.y0, grass.x0)[1], frame.at(grass.y0, grass.x1)[1]
    canvas.dimension((at, a), (at, b), f"{grass.size[0]:.0f}", beside=-4)
    for end, way in ((line.y0, -1), (line.y1, 1)):
        near = way * LINE_FROM_MAIN
        canvas.line(frame.at(0, line.x), frame.at(near, line.x), stroke=STRUCTURE, width=3)
        canvas.line(
            frame.at(near, line.x), frame.at(end, line.x), stroke=STRUCTURE, width=2.4, dash="3 3"
        )
        canvas.keep_clear(frame.at(near, line.x), frame.at(end, line.x))
        length = line.branches[0 if way < 0 else 1]
        x = (near + end) / 2
        canvas.text_near(
            frame.at(x, line.x),
            f"line {length:.0f} ft",
            places=((0, -7, "middle"), (-90, -7, "middle"), (90, -7, "middle"), (0, 17, "middle")),
            clear=PAPER,
        )
    if line.roots is not None:
        willows = (frame.at(line.roots[0], 14.0), frame.at(line.roots[1], 14.0))
        canvas.line(*willows, stroke=MUTED, width=7, dash="2 5")
        canvas.line(
            frame.at(line.roots[0], line.x), frame.at(line.roots[1], line.x), stroke=STRUCTURE,
            width=3.4,
        )  # fmt: skip
        canvas.text_near(
            frame.at(sum(line.roots) / 2, 14.0),
            f"willows {line.tree_length:.0f} ft, line solid",
            places=((0, -8, "middle"), (0, 18, "middle")),
            clear=PAPER,
        )
    canvas.line(frame.at(0, 0), (frame.at(0, 0)[0], 96.0), stroke=STRUCTURE, width=2)
    top = site.pit.top
    canvas.box(frame.at(top.y0, top.x0), frame.at(top.y1, top.x1), fill=CHIPS_FILL, stroke=CHIPS)
    for mark in (*site.borings, *site.bailed, site.benchmarks[1]):
        _mark(canvas, frame, mark, radius=3.5)


def _ground(canvas: Canvas, site: Outlet, frame: Frame, low: float, high: float) -> None:
    """Ditch, bank, grass, right of way between two offsets."""
    ditch, grass = site.ditch, site.strip
    far = ditch.far_bank_x(ditch.water)
    near = ditch.bank_x(ditch.water)
    canvas.box(frame.at(low, far - 3), frame.at(high, ditch.bank_top_x), fill=SOIL, stroke="none")
    canvas.box(frame.at(low, far), frame.at(high, near), fill=WATER_FILL, stroke="none")
    canvas.line(frame.at(low, near), frame.at(high, near), stroke=WATER, width=0.8)
    canvas.line(frame.at(low, ditch.bank_top_x), frame.at(high, ditch.bank_top_x), width=1.6)
    canvas.box(
        frame.at(max(low, grass.y0), grass.x0), frame.at(min(high, grass.y1), grass.x1),
        stroke=MUTED, width=0.9, dash="2 3",
    )  # fmt: skip
    limit = site.right_of_way_x
    if limit is not None:
        canvas.line(frame.at(low, limit), frame.at(high, limit), dash="10 3 2 3", width=1.0)


def _mark(canvas: Canvas, frame: Frame, mark: Mark, radius: float = 5.0) -> None:
    x, y = frame.at(mark.y, mark.x)
    if mark.name.startswith("BM"):
        canvas.line((x, y - 6), (x + 5.5, y + 4), (x - 5.5, y + 4), fill=PAPER, width=1.2)
        text = f"{mark.name}, {mark.elevation:.2f}"
    else:
        canvas.dot((x, y), radius)
        canvas.line((x - radius, y), (x + radius, y), width=0.8)
        canvas.line((x, y - radius), (x, y + radius), width=0.8)
        text = mark.name
    canvas.keep_clear((x - radius, y), (x + radius, y), room=radius)
    canvas.text_near((x, y), text, places=BESIDE, clear=PAPER)


def _draw_plan(canvas: Canvas, site: Outlet) -> None:
    """The ground round the main."""
    last = max(p[1] for pipe in site.pipes for p in pipe.points)
    low, high = -62.0, max(last + 16.0, 175.0)
    top_x = max(site.inlet.x + 36.0, 96.0)
    scale = min(SPAN / (high - low), 540.0 / (top_x + 24.0))
    base = 320.0 + scale * (top_x + 24.0)
    frame = Frame(low, -24.0, LEFT, base, scale, scale)
    right = min(high, low + SPAN / scale)
    canvas.text((LEFT, 300), "At the main", size=14, weight=600)
    _ground(canvas, site, frame, low, right)
    for pipe in site.pipes:
        canvas.keep_clear(*(frame.at(y, x) for x, y in pipe.points))
    canvas.keep_clear(frame.at(low, site.line.x), frame.at(right, site.line.x))
    for mark in (*site.borings, *site.bailed):
        x, y = frame.at(mark.y, mark.x)
        canvas.keep_clear((x - 5, y), (x + 5, y), room=6.0)
    _plan_bed(canvas, site, frame)
    _plan_dimensions(canvas, site, frame, low)
    _plan_pipes(canvas, site, frame, top_x, right)
    for mark in (*site.borings, *site.bailed, *site.benchmarks):
        if low < mark.y < right and mark.x < top_x:
            _mark(canvas, frame, mark)
    canvas.text(frame.at(right - 4, -6), "ditch", anchor="end", colour=WATER)
    canvas.text(frame.at(right - 4, top_x - 8), "field", anchor="end", colour=MUTED)


def _plan_bed(canvas: Canvas, site: Outlet, frame: Frame) -> None:
    pit = site.pit
    chips, cut, floor = pit.chips, pit.top, pit.floor
    for fill in (CHIPS_FILL, "url(#chips)"):
        canvas.box(
            frame.at(chips.y0, chips.x0), frame.at(chips.y1, chips.x1), fill=fill, stroke=CHIPS
        )
    canvas.box(frame.at(cut.y0, cut.x0), frame.at(cut.y1, cut.x1), width=1.4)
    canvas.box(frame.at(floor.y0, floor.x0), frame.at(floor.y1, floor.x1), width=0.9, dash="6 3")
    middle = frame.at((floor.y0 + floor.y1) / 2, (floor.x0 + floor.x1) / 2)
    sizes = f"floor {floor.size[1]:.0f} by {floor.size[0]:.0f} ft at {pit.floor_level:.2f}"
    depths = f"chips {pit.media_depth:g} ft, cut {pit.cut_depth:.2f} ft"
    for text in (f"{pit.shown}: {sizes}", depths):
        canvas.text_near(middle, text, places=WITHIN, clear=CHIPS_FILL)


def _plan_pipes(canvas: Canvas, site: Outlet, frame: Frame, top_x: float, right: float) -> None:
    canvas.line(
        frame.at(0, top_x), frame.at(0, site.inlet.x), stroke=STRUCTURE, width=4, dash="9 3"
    )
    for pipe in site.pipes:
        solid = pipe.kind == "solid"
        canvas.line(
            *(frame.at(y, x) for x, y in pipe.points),
            stroke=STRUCTURE,
            width=4 if solid else 3,
            dash="" if solid else "3 3",
        )
        first, second = pipe.points[0], pipe.points[1]
        at = frame.at((first[1] + second[1]) / 2, (first[0] + second[0]) / 2)
        if solid:
            name = pipe.name.replace("-", " ")
            text = f"{name} {pipe.diameter_in:.0f} in, {pipe.length:.2f} ft"
            canvas.text_near(at, text, places=BESIDE, clear=PAPER)
    line = site.line
    for way, ends in ((-1, (line.y0, -LINE_FROM_MAIN)), (1, (LINE_FROM_MAIN, line.y1))):
        canvas.line(
            frame.at(0.0, site.inlet.x),
            frame.at(way * LINE_FROM_MAIN, line.x),
            stroke=STRUCTURE,
            width=1.6,
        )
        canvas.keep_clear(frame.at(0.0, site.inlet.x), frame.at(way * LINE_FROM_MAIN, line.x))
        shown = (max(ends[0], frame.x0), min(ends[1], right))
        canvas.line(
            frame.at(shown[0], line.x), frame.at(shown[1], line.x), stroke=WATER, width=1.8,
            dash="4 3",
        )  # fmt: skip
    canvas.text_near(
        frame.at(-36, line.x), f"solid {site.solid_at_structure:.1f} ft",
        places=BESIDE, colour=WATER, clear=PAPER,
    )  # fmt: skip
    canvas.text_near(
        frame.at(-36, line.x), f"line, invert {line.invert:.2f}", places=BESIDE, colour=WATER,
        clear=PAPER,
    )  # fmt: skip
    for name, box in (("inlet", site.inlet), ("outlet", site.outlet)):
        shape = box.outline
        canvas.box(
            frame.at(shape.y0, shape.x0), frame.at(shape.y1, shape.x1), fill="#ffffff", width=1.6
        )
        at = frame.at(box.y, box.x)
        text = f"{name} structure {station(box.x)}, sill {box.sill:.2f}"
        canvas.text_near(at, text, places=BESIDE, clear=PAPER)
        north, east = site.grid.at(box.x, box.y)
        grid = f"N {north:,.2f}  E {east:,.2f}"
        canvas.text_near(at, grid, places=BESIDE, colour=MUTED, clear=PAPER)


def _plan_dimensions(canvas: Canvas, site: Outlet, frame: Frame, low: float) -> None:
    ditch, line, cut = site.ditch, site.line, site.pit.top
    water = ditch.bank_x(ditch.water)
    rows = [
        (low + 10, water, line.x, f"{site.width:.1f} ft line to water"),
        (low + 30, ditch.bank_top_x, site.strip.x1, f"{site.strip.size[0]:.1f} ft of grass"),
        (cut.y0 + 2.5, ditch.bank_top_x, cut.x0, f"{site.edge_distance:.2f} ft"),
    ]
    limit = site.right_of_way_x
    if limit is not None and site.right_of_way is not None:
        rows.append((low + 50, ditch.bank_top_x, limit, f"{site.right_of_way:.0f} ft easement"))
    for y, a, b, text in rows:
        canvas.dimension(frame.at(y, a), frame.at(y, b), "", beside=5)
        canvas.text_near(frame.at(y, (a + b) / 2), text, places=BESIDE, clear=PAPER)
    z = cut.x0 - 2.0
    canvas.dimension(frame.at(cut.y0, z), frame.at(cut.y1, z), "")
    canvas.text_near(
        frame.at((cut.y0 + cut.y1) / 2, z),
        f"{cut.size[1]:.1f} ft cut",
        places=tuple(
            (dx, dy, "middle") for dy in (13.0, -5.0) for dx in (0.0, -60.0, 60.0, -110.0, 110.0)
        ),
        clear=PAPER,
    )
    y = cut.y1 + 2.5
    canvas.dimension(frame.at(y, cut.x0), frame.at(y, cut.x1), "", beside=5)
    canvas.text_near(
        frame.at(y, (cut.x0 + cut.x1) / 2), f"{cut.size[0]:.1f} ft", places=BESIDE, clear=PAPER
    )


def _consents(canvas: Canvas, site: Outlet) -> None:
    things = site.in_right_of_way
    words = "; ".join(things) if things else "nothing: there is no right of way along this ditch"
    canvas.text((LEFT, 1476), "In the right of way", size=13, weight=600, colour=INK)
    canvas.text((LEFT + 150, 1476), f"{words}.", size=12)
