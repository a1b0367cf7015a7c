# SPDX-License-Identifier: Apache-2.0
"""The invented site of Sorrel Farm, Brandreth County: bed and buffer both fit, neither wins yet."""

from collections.abc import Iterator

from tools.sites.geometry import Ditch, Grid, Mark, Pipe, Rectangle, Spot
from tools.sites.outlet import Block, Box, Line, MainLine, Outlet, Pit
from tools.sites.rover import Target, readings

SITE = Outlet(
    name="sorrel-farm",
    title="Sorrel Farm, Brandreth County",
    ditch=Ditch(
        bottom=803.00,
        bottom_width=5.0,
        side_slope=2.0,
        bank_top=810.40,
        bank_top_x=12.0,
        water=803.80,
    ),
    waters=(("ordinary", 803.80), ("spring high", 806.20)),
    right_of_way=None,
    main=MainLine(
        diameter_in=8.0,
        wall_in=0.5,
        material="smooth plastic",
        n=0.012,
        slope=0.003,
        invert_outlet=804.90,
        invert_diversion=805.17,
        upper_end=1546.0,
        property_line=1620.0,
    ),
    block=Block(x0=130.0, x1=1570.0, width=1452.0, spacing=48.0, depth=3.5, first=154.0),
    inlet=Box(x=90.0, y=0.0, sill=805.17, rim=811.80, boards_in=36.0),
    outlet=Box(x=38.0, y=151.0, sill=804.67, rim=811.80, boards_in=24.0),
    pit=Pit(
        floor=Rectangle("bed", 27.0, 30.0, 49.0, 130.0),
        floor_level=804.67,
        media_depth=3.5,
        side_slope=1.0,
        cut_slope=1.0,
        ground=811.00,
        turned_deg=-90.0,
        shown="bed",
    ),
    pipes=(
        Pipe("above", (112.0, 0.0), (91.0, 0.0), 805.236, 805.17, 8.0),
        Pipe("bypass", (89.0, 0.0), (0.0, 0.0), 805.17, 804.90, 8.0),
        Pipe("feed", (90.3, 0.65), (49.0, 30.5), 805.17, 804.97, 8.0, turns=((90.3, 30.5),)),
        Pipe("header-inlet", (48.5, 30.5), (27.5, 30.5), 804.97, 804.97, 6.0, "perforated"),
        Pipe("header-outlet", (27.5, 129.5), (48.5, 129.5), 804.67, 804.67, 6.0, "perforated"),
        Pipe("bed-to-outlet", (38.0, 130.0), (38.0, 150.35), 804.67, 804.67, 8.0),
        Pipe("return", (37.0, 151.0), (0.3, 151.0), 804.67, 804.58, 8.0),
    ),
    line=Line(x=58.8, y0=-600.0, y1=600.0, invert=807.90, diameter_in=4.0, trench_in=12.0),
    strip=Rectangle("grass", 12.0, -600.0, 100.0, 600.0),
    barrier=800.50,
    grid=Grid(2_204_615.00, 1_118_930.00, 248.00),
    ground_points=(
        (12.0, 810.40),
        (27.0, 811.00),
        (112.0, 811.00),
        (180.0, 811.90),
        (300.0, 811.60),
        (420.0, 812.60),
        (730.0, 813.20),
        (1546.0, 814.60),
        (1700.0, 814.80),
    ),
    spots=(
        Spot("low", "low spot", 300.0, 811.60),
        Spot("junction-13", "junction", 730.0, 813.20),
    ),
    benchmarks=(
        Mark("BM 1", 106.0, 24.0, 812.12, "cap at the fence corner"),
        Mark("BM 2", 14.0, 610.0, 811.05, "chiseled cross, bridge wing"),
    ),
    borings=(
        Mark("B-1", 38.0, 55.0, 811.01, "bed, end of the inlet"),
        Mark("B-2", 38.0, 110.0, 810.98, "bed, end of the outlet"),
        Mark("B-3", 52.0, -320.0, 811.00, "strip, left of the main"),
    ),
)
SEED = 805


def point_file() -> str:
    """The rover's file: semicolons; point, height, north, east, quality, note."""
    lines = ["Name;Elev;North;East;Sol;Remark"]
    lines += [
        f"S{r.point};{r.height:.2f};{r.north:.2f};{r.east:.2f};"
        f"{'autonomous' if r.floated else 'fixed'};{r.note}"
        for r in readings(targets(), SITE.grid.at, SEED)
    ]
    return "\n".join(lines) + "\n"


def targets() -> Iterator[Target]:
    """Every shot in the order of the day."""
    site, ditch = SITE, SITE.ditch
    first, second = site.benchmarks
    yield Target(first.x, first.y, first.elevation, "BM 1 start")
    yield Target(second.x, second.y, second.elevation, "BM 2")
    toe = ditch.bank_x(ditch.bottom)
    for y in (-560.0, -200.0, 20.0, 200.0, 560.0):
        yield Target(ditch.bank_top_x, y, ditch.bank_top, "top of bank")
        yield Target(toe, y, ditch.bottom, "toe", floated=y == -560.0)
        yield Target(site.strip.x1, y, site.ground(site.strip.x1), "edge of field")
    yield Target(ditch.bank_x(ditch.water), 20.0, ditch.water, "edge of water")
    yield Target(0.0, 0.0, site.main.invert_outlet, "invert 8 in smooth")
    yield Target(90.0, 0.0, site.main.invert_diversion, "invert 8 in smooth, pit")
    for y in (30.0, 80.0, 130.0):
        for x in (27.0, 38.0, 49.0, 80.0):
            yield Target(x, y, site.ground(x), "ground")
    for y in (-500.0, -300.0, -100.0, 250.0, 450.0):
        yield Target(58.8, y, site.ground(58.8), "ground on line")
    for mark in site.borings:
        yield Target(mark.x, mark.y, mark.elevation, f"boring {mark.name}")
    for x in (130.0, 180.0, 300.0, 420.0, 600.0, 730.0, 1000.0, 1300.0, 1546.0):
        yield Target(x, 0.0, site.ground(x), "ground over main")
    yield Target(site.main.property_line, 0.0, site.ground(site.main.property_line), "iron pin")
    yield Target(first.x, first.y, first.elevation, "BM 1 end")
