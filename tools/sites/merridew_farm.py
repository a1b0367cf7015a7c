# SPDX-License-Identifier: Apache-2.0
"""The invented site of Merridew Farm, Anselm County: a buffer fits, a bed does not."""

from collections.abc import Iterator

from tools.sites.geometry import Ditch, Grid, Mark, Pipe, Rectangle, Spot
from tools.sites.outlet import Block, Box, Line, MainLine, Outlet, Pit
from tools.sites.rover import Target, readings

SITE = Outlet(
    name="merridew-farm",
    title="Merridew Farm, Anselm County",
    ditch=Ditch(
        bottom=737.20,
        bottom_width=6.0,
        side_slope=1.5,
        bank_top=744.90,
        bank_top_x=11.0,
        water=738.00,
    ),
    waters=(("ordinary", 738.00), ("spring", 741.00)),
    right_of_way=None,
    main=MainLine(
        diameter_in=8.0,
        wall_in=0.6,
        material="corrugated plastic",
        n=0.015,
        slope=0.0035,
        invert_outlet=737.69,
        invert_diversion=737.90,
        upper_end=1382.0,
        property_line=1480.0,
    ),
    block=Block(x0=95.0, x1=1415.0, width=1254.0, spacing=66.0, depth=4.0, first=128.0),
    inlet=Box(x=60.0, y=0.0, sill=737.90, rim=746.60, boards_in=56.0),
    outlet=Box(x=38.0, y=146.0, sill=737.50, rim=746.60, boards_in=24.0),
    pit=Pit(
        floor=Rectangle("bed", 31.0, 35.0, 45.0, 125.0),
        floor_level=737.50,
        media_depth=5.1,
        side_slope=1.0,
        cut_slope=1.5,
        ground=745.60,
        turned_deg=-90.0,
        shown="bed, refused",
    ),
    pipes=(
        Pipe("above", (82.0, 0.0), (61.0, 0.0), 737.977, 737.90, 8.0),
        Pipe("bypass", (59.0, 0.0), (0.0, 0.0), 737.90, 737.69, 8.0),
        Pipe("feed", (60.3, 0.65), (45.0, 35.5), 737.90, 737.80, 8.0, turns=((60.3, 35.5),)),
        Pipe("header-inlet", (44.5, 35.5), (31.5, 35.5), 737.80, 737.80, 6.0, "perforated"),
        Pipe("header-outlet", (31.5, 124.5), (44.5, 124.5), 737.50, 737.50, 6.0, "perforated"),
        Pipe("bed-to-outlet", (38.0, 125.0), (38.0, 145.35), 737.50, 737.50, 8.0),
        Pipe("return", (37.0, 146.0), (-0.3, 146.0), 737.50, 737.41, 8.0),
    ),
    line=Line(
        x=55.65,
        y0=-550.0,
        y1=550.0,
        invert=742.30,
        diameter_in=4.0,
        trench_in=12.0,
        roots=(230.0, 370.0),
    ),
    strip=Rectangle("grass", 11.0, -550.0, 66.0, 550.0),
    barrier=735.00,
    grid=Grid(1_842_300.00, 2_971_450.00, 121.25),
    ground_points=(
        (11.0, 744.90),
        (30.0, 745.60),
        (60.0, 745.60),
        (66.0, 745.70),
        (120.0, 746.40),
        (260.0, 748.80),
        (600.0, 750.20),
        (1000.0, 751.00),
        (1500.0, 752.00),
    ),
    spots=(
        Spot("edge", "low spot", 120.0, 746.40),
        Spot("junction-3", "junction", 260.0, 748.80),
    ),
    benchmarks=(
        Mark("BM 1", 74.0, -18.0, 746.81, "bolt in the pole at the lane"),
        Mark("BM 2", 12.0, 560.0, 745.33, "spike in the bridge rail"),
    ),
    borings=(
        Mark("B-1", 50.0, -300.0, 745.58, "strip, left of the main"),
        Mark("B-2", 38.0, 80.0, 745.61, "where a bed was thought of"),
        Mark("B-3", 50.0, 430.0, 745.55, "strip, right of the willows"),
    ),
    bailed=(
        Mark("H-1", 52.0, -420.0, 745.57, "bailed 2026-04-14"),
        Mark("H-2", 52.0, -90.0, 745.60, "bailed 2026-04-14"),
        Mark("H-3", 52.0, 480.0, 745.56, "bailed 2026-04-15"),
    ),
)
SEED = 737
ANEW = "bm1 close"


def point_file() -> str:
    """The rover's file: no heading; point, east, north, height, note, quality."""
    lines = [
        f"{r.point},{r.east:.3f},{r.north:.3f},{r.height:.3f},{r.note},"
        f"{'FLT' if r.floated else 'FIX'}"
        for r in readings(targets(), SITE.grid.at, SEED)
    ]
    return "\n".join(lines) + "\n"


def targets() -> Iterator[Target]:
    """Every shot in the order of the day."""
    site, ditch = SITE, SITE.ditch
    first, second = site.benchmarks
    yield Target(first.x, first.y, first.elevation, "bm1 open")
    yield Target(second.x, second.y, second.elevation, "bm2")
    toe = ditch.bank_x(ditch.bottom)
    for y in (-520.0, -260.0, -30.0, 150.0, 300.0, 520.0):
        willow = site.line.roots is not None and site.line.roots[0] <= y <= site.line.roots[1]
        yield Target(ditch.bank_top_x, y, ditch.bank_top, "tob", floated=willow)
        yield Target(toe, y, ditch.bottom, "toe", floated=willow)
        yield Target(66.0, y, site.ground(66.0), "field edge")
    yield Target(ditch.bank_x(ditch.water), -30.0, ditch.water, "water")
    yield Target(0.0, 0.0, site.main.invert_outlet, "inv 8 cpp under water")
    yield Target(60.0, 0.0, site.main.invert_diversion, "inv 8 cpp pit")
    top = site.main.invert_diversion + (site.main.diameter_in + site.main.wall_in) / 12
    yield Target(60.0, 0.0, top, "top 8 cpp pit")
    for y in (-500.0, -400.0, -200.0, -100.0, 40.0, 120.0, 210.0, 400.0, 500.0):
        for x in (34.0, 55.65):
            yield Target(x, y, site.ground(x), "gnd")
    for y in (230.0, 370.0):
        yield Target(14.0, y, site.ground(14.0), "end of willows")
    for mark in (*site.borings, *site.bailed):
        yield Target(mark.x, mark.y, mark.elevation, f"hole {mark.name}")
    for x in (90.0, 120.0, 190.0, 260.0, 400.0, 600.0, 800.0, 1000.0, 1200.0, 1382.0):
        yield Target(x, 0.0, site.ground(x), "gnd over main")
    yield Target(site.main.property_line, 0.0, site.ground(site.main.property_line), "pin")
    yield Target(first.x, first.y, first.elevation, ANEW)
