# SPDX-License-Identifier: Apache-2.0
"""The long section through the practice and the reach of the main above it."""

from tools.sites.canvas import (
    CHIPS,
    CHIPS_FILL,
    INK,
    MUTED,
    SOIL,
    STRUCTURE,
    WATER,
    WATER_FILL,
    Canvas,
    Frame,
)
from tools.sites.corbel_farm import site

FROM_X, TO_X = -22.0, 236.0
PIPE_WALL = site.MAIN_WALL_IN / 12
MAIN_INSIDE = site.MAIN_DIAMETER_IN / 12


def draw_section(canvas: Canvas, frame: Frame) -> None:
    """Draw the long section; the bed and its pipes are set back beside the main."""
    left, base = frame.at(FROM_X, 1178.0)
    canvas.text((left, base - 252), "Long section", size=14, weight=600)
    canvas.text(
        (left + 96, base - 252),
        "vertical 5 : 1; the bed and its pipes lie beside the main and are drawn behind it",
        colour=MUTED,
    )
    _axes(canvas, frame, (FROM_X, TO_X), range(1178, 1189, 2), range(0, 226, 25))
    _earth(canvas, frame)
    _bed(canvas, frame)
    _main(canvas, frame)
    _boxes(canvas, frame)
    _levels(canvas, frame)


def draw_reach(canvas: Canvas, frame: Frame) -> None:
    """Draw the main from the ditch to the property line with the water behind the boards."""
    left, base = frame.at(0.0, 1180.0)
    canvas.text((left, base - 216), "Up the main", size=14, weight=600)
    canvas.text(
        (left + 88, base - 216),
        "vertical 30 : 1; level water at the inlet crest reaches 1,667 ft above the diversion",
        colour=MUTED,
    )
    _axes(canvas, frame, (0.0, 2200.0), range(1180, 1193, 2), range(0, 2201, 200))
    profile = [(site.BANK_TOP_X, site.BANK_TOP), *site.GROUND_PROFILE[1:]]
    canvas.line(
        *(frame.at(x, z) for x, z in profile),
        frame.at(2200.0, 1180.0),
        frame.at(site.BANK_TOP_X, 1180.0),
        fill=SOIL,
        stroke="none",
    )
    canvas.line(*(frame.at(x, z) for x, z in profile), width=1.4)
    end, crest = site.MAIN_UPPER_END, site.crest("inlet")
    reach = site.DIVERSION[0] + site.pool_reach()
    canvas.line(
        frame.at(site.DIVERSION[0], crest),
        frame.at(reach, crest),
        frame.at(site.DIVERSION[0], site.MAIN_INVERT_DIVERSION),
        fill=WATER_FILL,
        stroke="none",
    )
    canvas.line(
        frame.at(0.0, site.main_invert(0.0)),
        frame.at(*site.DIVERSION[:1], site.MAIN_INVERT_DIVERSION),
        frame.at(end, site.main_invert(end)),
        stroke=STRUCTURE,
        width=2.4,
    )
    canvas.line(frame.at(site.DIVERSION[0], crest), frame.at(reach, crest), stroke=WATER, width=1.6)
    canvas.text(frame.at(1010, crest + 0.35), "level water 1184.20", colour=WATER)
    canvas.text(frame.at(1120, 1181.7), "main, 0.18 %", colour=STRUCTURE)
    x, y = frame.at(reach, crest)
    canvas.line((x, y), (x, y + 28), width=0.7, stroke=MUTED)
    canvas.text((x, y + 40), "the pool ends 18+07", anchor="middle")
    line = site.PROPERTY_LINE
    canvas.line(frame.at(line, 1180.0), frame.at(line, 1193.6), dash="10 3 2 3")
    canvas.text(frame.at(2136, 1193.0), "property line 21+50", anchor="end")
    canvas.text(frame.at(2064, 1183.1), "main ends 20+70", anchor="end", colour=STRUCTURE)
    x, y = frame.at(site.DIVERSION[0], crest)
    canvas.line(frame.at(site.DIVERSION[0], 1181.2), frame.at(site.DIVERSION[0], site.RIM), width=2)
    canvas.text(frame.at(site.DIVERSION[0], 1187.4), "diversion", anchor="middle")
    for spot, (dx, dy) in zip(site.SPOTS, ((-70, -34), (0, -52), (0, -30), (0, -30)), strict=True):
        at = frame.at(spot.x, spot.ground)
        label = (at[0] + dx, at[1] + dy)
        canvas.dot(at, 3, fill=INK)
        canvas.line((at[0], at[1] - 4), (label[0], label[1] + 7), width=0.7, stroke=MUTED)
        text = f"{spot.kind} {site.station(spot.x)}, {spot.ground:.2f}"
        canvas.text((label[0] - 3, label[1] + 4), text, anchor="start")


def _axes(
    canvas: Canvas, frame: Frame, ends: tuple[float, float], levels: range, stations: range
) -> None:
    low = levels[0]
    for z in levels:
        x, y = frame.at(ends[0], z)
        canvas.line((x - 6, y), (x, y), width=0.8)
        canvas.line((x, y), frame.at(ends[1], z), width=0.5, stroke=SOIL)
        canvas.text((x - 9, y + 4), f"{z}", anchor="end", colour=MUTED)
    for x_station in stations:
        x, y = frame.at(x_station, low)
        canvas.line((x, y), (x, y + 6), width=0.8)
        canvas.text((x, y + 19), site.station(x_station), anchor="middle", colour=MUTED)
    canvas.line(frame.at(ends[0], low), frame.at(ends[1], low), width=0.8)


def _earth(canvas: Canvas, frame: Frame) -> None:
    toe = site.bank_x(site.DITCH_BOTTOM)
    far_toe = toe - site.DITCH_BOTTOM_WIDTH
    stations = [FROM_X, -17.55, far_toe, toe, site.BANK_TOP_X, 39.0, 165.0, 228.0, TO_X]
    surface = [frame.at(x, site.ground(x)) for x in stations]
    canvas.line(
        *surface, frame.at(TO_X, 1178.0), frame.at(FROM_X, 1178.0), fill=SOIL, stroke="none"
    )
    water = site.WATER_ORDINARY
    rise = (water - site.DITCH_BOTTOM) * site.DITCH_SIDE_SLOPE
    canvas.line(
        frame.at(far_toe - rise, water),
        frame.at(toe + rise, water),
        frame.at(toe, site.DITCH_BOTTOM),
        frame.at(far_toe, site.DITCH_BOTTOM),
        fill=WATER_FILL,
        stroke="none",
    )
    canvas.line(
        frame.at(far_toe - rise, water), frame.at(toe + rise, water), stroke=WATER, width=1.6
    )
    canvas.line(*surface, width=1.6)


def _bed(canvas: Canvas, frame: Frame) -> None:
    floor, chips, cut = site.bed_at(0.0), site.bed_at(site.MEDIA_DEPTH), site.top_of_cut()
    top = site.BED_FLOOR + site.MEDIA_DEPTH
    shape = (
        frame.at(floor.x0, site.BED_FLOOR),
        frame.at(floor.x1, site.BED_FLOOR),
        frame.at(chips.x1, top),
        frame.at(chips.x0, top),
    )
    for fill in (CHIPS_FILL, "url(#chips)"):
        canvas.line(*shape, fill=fill, stroke=CHIPS)
    for low, high in ((chips.x0, cut.x0), (chips.x1, cut.x1)):
        canvas.line(frame.at(low, top), frame.at(high, site.BED_GROUND), width=1.0, dash="5 3")
    for name in ("bed to outlet", "return"):
        pipe = site.pipe(name)
        a, b = (pipe.start[0], pipe.invert_start), (pipe.end[0], pipe.invert_end)
        bore = pipe.diameter_in / 12
        canvas.line(
            frame.at(*a),
            frame.at(*b),
            frame.at(b[0], b[1] + bore),
            frame.at(a[0], a[1] + bore),
            fill=WATER_FILL,
            stroke=STRUCTURE,
        )
    canvas.dimension(
        frame.at(92, 1180.7), frame.at(92, 1184.2), "3.5 ft", beside=5, clear=CHIPS_FILL
    )
    canvas.dimension(
        frame.at(112, 1180.7), frame.at(112, 1186.0), "5.3 ft", beside=5, clear=CHIPS_FILL
    )
    canvas.dimension(frame.at(92, 1184.2), frame.at(92, 1186.0), "1.8 ft", beside=5, clear=SOIL)


def _main(canvas: Canvas, frame: Frame) -> None:
    for x0, x1, dash, width in ((0.0, 139.0, "7 4", 1.2), (141.0, 162.0, "", 1.4)):
        for rise in (0.0, MAIN_INSIDE):
            canvas.line(
                frame.at(x0, site.main_invert(x0) + rise),
                frame.at(x1, site.main_invert(x1) + rise),
                stroke=STRUCTURE,
                dash=dash,
                width=width,
            )
    for rise in (-PIPE_WALL, 0.0, MAIN_INSIDE, MAIN_INSIDE + PIPE_WALL):
        canvas.line(
            frame.at(162.0, site.main_invert(162.0) + rise),
            frame.at(TO_X, site.main_invert(TO_X) + rise),
            stroke=STRUCTURE,
            width=1.0,
        )
    canvas.text(frame.at(199, 1180.35), "old main, invert 1181.24 at 1+62", anchor="middle")
    canvas.text(frame.at(68, 1182.15), "bypass, in front", anchor="middle", clear=CHIPS_FILL)
    canvas.leader(frame.at(0, 1181.78), frame.at(9.5, 1183.6), "1180.95")
    canvas.text(frame.at(10.2, 1184.1), "main")


def _boxes(canvas: Canvas, frame: Frame) -> None:
    for centre, floor, sill, stack, name in (
        (site.DIVERSION, site.SILL_INLET, site.SILL_INLET, site.STACK_INLET_IN, "inlet 36 in"),
        (site.OUTLET, site.SILL_OUTLET, site.SILL_OUTLET, site.STACK_OUTLET_IN, "outlet 24 in"),
    ):
        box = site.box("", centre)
        canvas.box(frame.at(box.x0, floor), frame.at(box.x1, site.RIM), fill="#ffffff", width=1.6)
        crest = sill + stack / 12
        canvas.box(
            frame.at(centre[0] - 0.25, sill),
            frame.at(centre[0] + 0.25, crest),
            fill=STRUCTURE,
            stroke=STRUCTURE,
        )
        down = round((site.RIM - crest) * 12, 1)
        x, y = frame.at(centre[0], site.RIM)
        canvas.text((x, y - 24), name, size=13, weight=600, anchor="middle")
        canvas.text(
            (x, y - 9),
            f"crest {crest:.2f}, down {down:.1f} in, rim {site.RIM:.2f}",
            colour=MUTED,
            anchor="middle",
        )


def _levels(canvas: Canvas, frame: Frame) -> None:
    water = site.WATER_TWO_YEAR
    canvas.line(frame.at(FROM_X, water), frame.at(3.0, water), stroke=WATER, dash="3 4")
    canvas.text(frame.at(-4.8, water + 0.75), "2-year", colour=WATER, anchor="middle", size=10.5)
    canvas.text(frame.at(-4.8, water + 0.2), "1182.10", colour=WATER, anchor="middle", size=10.5)
    canvas.text(frame.at(-4.8, 1178.3), "water 1179.60", colour=WATER, anchor="middle", size=10.5)
    canvas.leader(frame.at(-0.5, 1180.7), frame.at(7, 1179.2), "bed outlet 1180.61, 22 ft at 0.4 %")
    canvas.text(frame.at(92, 1179.9), "floor 1180.70, level", anchor="middle")
    canvas.text(frame.at(60, 1186.3), "ground 1186.00", colour=MUTED)
    canvas.text(frame.at(70, 1184.5), "top of chips 1184.20", anchor="middle")
    canvas.dimension(
        frame.at(142.6, 1181.2), frame.at(142.6, 1184.2), "36 in", beside=9, clear=SOIL
    )
