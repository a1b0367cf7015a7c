# SPDX-License-Identifier: Apache-2.0
"""The dimensioned sketch of Corbel Farm: plan, long section and the reach up the main."""

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
)
from tools.sites.corbel_farm import site
from tools.sites.corbel_farm.section import draw_reach, draw_section

WIDTH, HEIGHT = 1180.0, 1190.0
LEFT, RIGHT = 62.0, 1120.0
FROM_X, TO_X = -22.0, 236.0
FROM_Y, TO_Y = -24.0, 80.0
ACROSS = (RIGHT - LEFT) / (TO_X - FROM_X)


def draw_sketch() -> Canvas:
    """Return the whole sheet."""
    canvas = Canvas(WIDTH, HEIGHT)
    canvas.text((LEFT, 34), "Corbel Farm, Fennick County", size=20, weight=600)
    canvas.text(
        (LEFT, 54),
        "Dimensioned sketch of an invented site. International feet; "
        "elevations above the job's datum; stations along the main from its end in the ditch.",
        size=12,
        colour=MUTED,
    )
    # offsets grow downward on the sheet: right of the main when looking upstream
    plan = Frame(FROM_X, FROM_Y, LEFT, 84.0, ACROSS, -ACROSS)
    draw_plan(canvas, plan)
    draw_section(canvas, Frame(FROM_X, 1178.0, LEFT, 788.0, ACROSS, 5 * ACROSS))
    across = (RIGHT - LEFT) / 2200.0
    draw_reach(canvas, Frame(0.0, 1180.0, LEFT, 1056.0, across, 30 * across))
    _consents(canvas)
    return canvas


def draw_plan(canvas: Canvas, plan: Frame) -> None:
    """Draw the plan, upstream to the right."""
    _grounds(canvas, plan)
    _bed(canvas, plan)
    _pipes(canvas, plan)
    _marks(canvas, plan)
    _plan_dimensions(canvas, plan)
    _north_and_scale(canvas, plan)


def _grounds(canvas: Canvas, plan: Frame) -> None:
    grass = site.strip()
    toe = site.bank_x(site.DITCH_BOTTOM)
    far_toe = toe - site.DITCH_BOTTOM_WIDTH
    far_top = far_toe - (site.BANK_TOP - site.DITCH_BOTTOM) * site.DITCH_SIDE_SLOPE
    edge = site.bank_x(site.WATER_ORDINARY)
    far_edge = far_toe - (site.WATER_ORDINARY - site.DITCH_BOTTOM) * site.DITCH_SIDE_SLOPE
    top, low = FROM_Y, TO_Y
    canvas.box(plan.at(far_top, top), plan.at(site.BANK_TOP_X, low), fill=SOIL, stroke="none")
    canvas.box(plan.at(far_edge, top), plan.at(edge, low), fill=WATER_FILL, stroke="none")
    for x in (far_top, site.BANK_TOP_X):
        canvas.line(plan.at(x, top), plan.at(x, low), width=1.6)
    for x in (far_edge, edge):
        canvas.line(plan.at(x, top), plan.at(x, low), stroke=WATER, width=0.8)
    line = site.right_of_way_x()
    canvas.line(plan.at(line, top), plan.at(line, low), dash="10 3 2 3", width=1.0)
    for y in range(int(FROM_Y) + 3, int(TO_Y), 6):
        canvas.line(plan.at(grass.x1 + 0.5, y), plan.at(TO_X, y), stroke=SOIL, width=3)
    canvas.box(
        plan.at(grass.x0, grass.y0),
        plan.at(grass.x1, grass.y1),
        stroke=MUTED,
        width=0.9,
        dash="2 3",
    )
    x_ditch = (edge + far_edge) / 2
    canvas.text(plan.at(x_ditch, -5), "ditch", colour=WATER, anchor="middle")
    canvas.leader(plan.at(x_ditch, 76), plan.at(10, 76), "water 1179.60", colour=WATER)
    canvas.text(plan.at(229.5, 40), "field", anchor="middle", colour=MUTED, clear=PAPER)
    canvas.text(
        plan.at(104, 70.4), "grass between right of way and field, 82 × 190 ft", colour=MUTED
    )


def _bed(canvas: Canvas, plan: Frame) -> None:
    cut, floor = site.top_of_cut(), site.bed_at(0.0)
    chips = site.bed_at(site.MEDIA_DEPTH)
    for outline, fill in ((chips, CHIPS_FILL), (chips, "url(#chips)")):
        a, b = plan.at(outline.x0, outline.y0), plan.at(outline.x1, outline.y1)
        canvas.box(a, b, fill=fill, stroke=CHIPS, width=0.9)
    canvas.box(plan.at(cut.x0, cut.y0), plan.at(cut.x1, cut.y1), width=1.4)
    canvas.box(plan.at(floor.x0, floor.y0), plan.at(floor.x1, floor.y1), width=0.9, dash="6 3")
    for (ax, ay), (bx, by) in (
        ((cut.x0, cut.y0), (floor.x0, floor.y0)),
        ((cut.x1, cut.y0), (floor.x1, floor.y0)),
        ((cut.x0, cut.y1), (floor.x0, floor.y1)),
        ((cut.x1, cut.y1), (floor.x1, floor.y1)),
    ):
        canvas.line(plan.at(ax, ay), plan.at(bx, by), width=0.6)
    middle = (floor.x0 + floor.x1) / 2
    canvas.text(
        plan.at(middle, 27), "woodchip bed", size=14, weight=600, anchor="middle", clear=CHIPS_FILL
    )
    canvas.text(
        plan.at(middle, 31),
        "floor 1180.70, chips 3.5 ft to 1184.20, sides 1:1, cut 5.3 ft",
        size=12,
        anchor="middle",
        clear=CHIPS_FILL,
    )


def _pipes(canvas: Canvas, plan: Frame) -> None:
    canvas.line(plan.at(TO_X, 0), plan.at(site.BYPASS[1], 0), stroke=STRUCTURE, width=4, dash="9 3")
    for pipe in site.pipes():
        solid = pipe.kind == "solid"
        canvas.line(
            plan.at(*pipe.start),
            plan.at(*pipe.end),
            stroke=STRUCTURE,
            width=4 if solid else 3,
            dash="" if solid else "3 3",
        )
    for x, y, along in COLLARS:
        dx, dy = (0.0, 1.8) if along else (1.8, 0.0)
        canvas.line(plan.at(x - dx, y - dy), plan.at(x + dx, y + dy), width=2.4)
    gate = plan.at(site.pipe("feed").start[0], 5.0)
    for way in (-1, 1):
        canvas.line(
            gate,
            (gate[0] - 5, gate[1] + 6 * way),
            (gate[0] + 5, gate[1] + 6 * way),
            fill=PAPER,
            width=1.1,
        )
    for centre in (site.DIVERSION, site.OUTLET):
        box = site.box("", centre)
        canvas.box(plan.at(box.x0, box.y0), plan.at(box.x1, box.y1), fill="#ffffff", width=1.6)
    grid = site.grid
    north, east = grid(*site.DIVERSION)
    at = plan.at(*site.DIVERSION)
    canvas.leader((at[0], at[1] - 3), plan.at(148, -8), "diversion structure 1+40, sill 1181.20")
    canvas.text(plan.at(148.7, -3.2), f"N {north:,.2f}  E {east:,.2f}", colour=MUTED)
    north, east = grid(*site.OUTLET)
    at = plan.at(site.OUTLET[0] + 0.4, site.OUTLET[1] + 0.7)
    canvas.leader(at, plan.at(36, 66.5), "outlet structure 0+22.5, sill 1180.70")
    canvas.text(plan.at(36.7, 71.0), f"N {north:,.2f}  E {east:,.2f}", colour=MUTED)
    canvas.leader(gate, plan.at(146, 10.5), "feed 8 in, 20.35 ft solid, with a gate")
    canvas.text(plan.at(90, -3), "bypass, 10 in solid, 139 ft beside the bed", anchor="middle")
    canvas.text(plan.at(199, 4.6), "old main, 10-in concrete", anchor="middle", colour=MUTED)
    canvas.text(plan.at(16.5, 34.4), "22 ft", anchor="middle")
    canvas.text(plan.at(30.3, 39.8), "20.8 ft", anchor="middle", clear=PAPER)
    canvas.text(plan.at(1.5, -3.4), "1180.95", clear=PAPER)
    canvas.text(plan.at(0.5, 40.4), "1180.61", clear=PAPER)


COLLARS = (
    (151.0, 0.0, True),
    (129.0, 0.0, True),
    (140.3, 11.0, False),
    (34.0, 36.0, True),
    (11.5, 36.0, True),
)
"""Anti-seep collars: station, offset, whether the pipe runs along the main."""


def _marks(canvas: Canvas, plan: Frame) -> None:
    for mark in site.BORINGS:
        x, y = plan.at(mark.x, mark.y)
        canvas.dot((x, y), 5)
        canvas.line((x - 5, y), (x + 5, y), width=0.9)
        canvas.line((x, y - 5), (x, y + 5), width=0.9)
        canvas.text((x + 9, y + 4), mark.name, clear=CHIPS_FILL)
    for mark in site.BENCHMARKS:
        x, y = plan.at(mark.x, mark.y)
        canvas.line((x, y - 6), (x + 5.5, y + 4), (x - 5.5, y + 4), fill=PAPER, width=1.2)
        side, anchor = (9, "start") if mark.x < 100 else (-9, "end")
        label = f"{mark.name}, {mark.elevation:.2f}"
        canvas.text((x + side, y + 4), label, anchor=anchor, clear=PAPER)


def _plan_dimensions(canvas: Canvas, plan: Frame) -> None:
    cut, floor, grass = site.top_of_cut(), site.bed_at(0.0), site.strip()
    row = -17.2
    for a, b in ((site.BANK_TOP_X, grass.x0), (grass.x0, grass.x1)):
        canvas.dimension(plan.at(a, row), plan.at(b, row), f"{b - a:.0f} ft")
    canvas.text(plan.at(35, -21.6), "right of way ends 0+33.0", colour=MUTED)
    canvas.text(plan.at(9, -21.6), "bank top 0+08.0", colour=MUTED)
    canvas.text(plan.at(221, -21.6), "field edge 2+23.0", colour=MUTED, anchor="end")
    y = 18.4
    canvas.dimension(plan.at(site.BANK_TOP_X, 12), plan.at(cut.x0, 12), "31.0 ft")
    canvas.line(plan.at(cut.x0, 11), plan.at(cut.x0, cut.y0), width=0.5, stroke=MUTED)
    canvas.dimension(plan.at(grass.x0, y), plan.at(cut.x0, y), "6.0", beside=13)
    canvas.dimension(plan.at(cut.x0, 61), plan.at(cut.x1, 61), "107.1 ft at the top of cut")
    canvas.dimension(
        plan.at(floor.x0, 47), plan.at(floor.x1, 47), "96.5 ft at the floor", clear=CHIPS_FILL
    )
    canvas.dimension(plan.at(134, floor.y0), plan.at(134, floor.y1), "30 ft", clear=CHIPS_FILL)
    canvas.dimension(plan.at(151, cut.y0), plan.at(151, cut.y1), "40.6 ft", beside=5)
    canvas.line(plan.at(cut.x1, cut.y0), plan.at(152, cut.y0), width=0.5, stroke=MUTED)
    canvas.line(plan.at(cut.x1, cut.y1), plan.at(152, cut.y1), width=0.5, stroke=MUTED)
    canvas.dimension(plan.at(70, 0.8), plan.at(70, cut.y0), "15.7 ft", beside=5)
    canvas.dimension(plan.at(141, 3.2), plan.at(162, 3.2), "21 ft", beside=12)


def _north_and_scale(canvas: Canvas, plan: Frame) -> None:
    # the sheet's right is upstream, at the azimuth of the baseline
    turn = site.AZIMUTH - math.pi / 2
    x, y = plan.at(192, 50)
    tip = (x - 34 * math.sin(turn), y - 34 * math.cos(turn))
    canvas.line((x, y), tip, width=1.4)
    for side in (-0.28, 0.28):
        way = turn + side
        canvas.line(tip, (tip[0] + 11 * math.sin(way), tip[1] + 11 * math.cos(way)), width=1.4)
    canvas.text((tip[0] + 8, tip[1] + 4), "N")
    canvas.text(plan.at(192, 53.6), "baseline azimuth 68.50°", colour=MUTED, anchor="middle")
    a, b = plan.at(167, 62), plan.at(217, 62)
    canvas.line(a, b, width=2.4, stroke=INK)
    for feet in (0, 25, 50):
        px, py = plan.at(167 + feet, 62)
        canvas.line((px, py - 4), (px, py + 4), width=1.2)
        canvas.text((px, py + 16), f"{feet}", anchor="middle", colour=MUTED)
    canvas.text((b[0] + 12, b[1] + 4), "ft", colour=MUTED)


def _consents(canvas: Canvas) -> None:
    canvas.text((LEFT, 1114), "Needs the district's consent", size=13, weight=600)
    canvas.text(
        (LEFT, 1132),
        "In the ditch or within 25 ft of its bank top: " + "; ".join(site.in_right_of_way()) + ".",
        size=12,
    )
    canvas.text(
        (LEFT, 1149),
        "The bypass replaces the old main from 0+00 to 1+62: the last 20 ft are a rigid outlet "
        "with a guard, 21 ft lie above the diversion. Five anti-seep collars.",
        size=12,
        colour=MUTED,
    )
