# SPDX-License-Identifier: Apache-2.0
"""The invented site of Verling Farm, Odell County: nothing fits, and no wide bed may seem to."""

from collections.abc import Iterator

from tools.sites.geometry import Ditch, Grid, Mark, Pipe, Rectangle, Spot
from tools.sites.outlet import Block, Box, Line, MainLine, Outlet, Pit
from tools.sites.rover import Target, readings

SITE = Outlet(
    name="verling-farm",
    title="Verling Farm, Odell County",
    ditch=Ditch(
        bottom=715.90,
        bottom_width=8.0,
        side_slope=1.5,
        bank_top=721.00,
        bank_top_x=5.7,
        water=717.90,
    ),
    waters=(("ordinary", 717.90), ("38 % of flow days above", 718.40)),
    right_of_way=50.0,
    main=MainLine(
        diameter_in=12.0,
        wall_in=0.8,
        material="corrugated plastic",
        n=0.017,
        slope=0.0005,
        invert_outlet=717.20,
        invert_diversion=717.25,
        upper_end=2760.0,
        property_line=2120.0,
    ),
    block=Block(x0=140.0, x1=2780.0, width=1320.0, spacing=40.0, depth=2.5, first=160.0),
    inlet=Box(x=100.0, y=0.0, sill=717.25, rim=722.00, boards_in=14.0),
    outlet=Box(x=16.2, y=98.0, sill=716.98, rim=722.00, boards_in=12.0),
    pit=Pit(
        floor=Rectangle("bed", 15.7, 20.0, 55.7, 77.0),
        floor_level=716.98,
        media_depth=1.5,
        side_slope=1.0,
        cut_slope=1.0,
        ground=721.00,
        turned_deg=0.0,
        shown="bed, refused",
    ),
    pipes=(
        Pipe("above", (122.0, 0.0), (101.0, 0.0), 717.261, 717.25, 12.0),
        Pipe("bypass", (99.0, 0.0), (0.0, 0.0), 717.25, 717.20, 12.0),
        Pipe("feed", (100.3, 0.65), (55.7, 48.5), 717.25, 717.10, 8.0, turns=((100.3, 48.5),)),
        Pipe("header-inlet", (55.2, 20.5), (55.2, 76.5), 717.10, 717.10, 6.0, "perforated"),
        Pipe("header-outlet", (16.2, 20.5), (16.2, 76.5), 716.98, 716.98, 6.0, "perforated"),
        Pipe("bed-to-outlet", (16.2, 77.0), (16.2, 97.35), 716.98, 716.98, 8.0),
        Pipe("return", (16.2, 98.65), (-0.5, 110.0), 716.98, 716.93, 8.0, turns=((16.2, 110.0),)),
    ),
    line=Line(x=16.05, y0=-300.0, y1=300.0, invert=718.20, diameter_in=4.0, trench_in=12.0),
    strip=Rectangle("grass", 5.7, -300.0, 20.7, 300.0),
    barrier=714.60,
    grid=Grid(612_840.00, 1_507_220.00, 2.50),
    ground_points=(
        (5.7, 721.00),
        (105.0, 721.00),
        (140.0, 721.60),
        (600.0, 722.10),
        (1250.0, 721.30),
        (1920.0, 722.30),
        (2760.0, 723.00),
        (2900.0, 723.10),
    ),
    spots=(
        Spot("low", "low spot", 1250.0, 721.30),
        Spot("junction-45", "junction", 1920.0, 722.30),
    ),
    benchmarks=(
        Mark("BM 1", 108.0, -22.0, 721.94, "cap on the power pole anchor"),
        Mark("BM 2", 22.0, -210.0, 721.47, "spike in the culvert post"),
    ),
    borings=(
        Mark("B-1", 35.0, 48.0, 721.02, "where a bed was thought of"),
        Mark("B-2", 14.0, -120.0, 720.99, "grass strip"),
    ),
)
SEED = 717


def point_file() -> str:
    """The rover's file: tabs, note and quality first, then north, east, height, point."""
    lines = ["code\tsol\tY\tX\tZ\tid"]
    lines += [
        f"{r.note}\t{1 if r.floated else 4}\t{r.north:.3f}\t{r.east:.3f}\t{r.height:.3f}\t{r.point}"
        for r in readings(targets(), SITE.grid.at, SEED)
    ]
    return "\n".join(lines) + "\n"


def targets() -> Iterator[Target]:
    """Every shot in the order of the day."""
    site, ditch = SITE, SITE.ditch
    first, second = site.benchmarks
    yield Target(first.x, first.y, first.elevation, "benchmark 1 open")
    yield Target(second.x, second.y, second.elevation, "benchmark 2")
    toe = ditch.bank_x(ditch.bottom)
    for y in (-250.0, -60.0, 60.0, 130.0, 250.0):
        yield Target(ditch.bank_top_x, y, ditch.bank_top, "bank top")
        yield Target(toe, y, ditch.bottom, "ditch bottom at toe", floated=y == 130.0)
        yield Target(site.strip.x1, y, site.ground(site.strip.x1), "edge of grass")
    yield Target(ditch.bank_x(ditch.water), -10.0, ditch.water, "water edge")
    yield Target(3.0, -6.0, 714.50, "zero of the level logger")
    yield Target(0.0, 0.0, site.main.invert_outlet, "12 in plastic invert")
    yield Target(100.0, 0.0, site.main.invert_diversion, "12 in plastic invert in pit")
    for x in (30.0, 55.7, 80.0):
        for y in (-40.0, 15.0, 50.0, 85.0):
            yield Target(x, y, site.ground(x), "ground")
    for mark in site.borings:
        yield Target(mark.x, mark.y, mark.elevation, f"boring {mark.name}")
    for x in (140.0, 300.0, 600.0, 900.0, 1100.0, 1250.0, 1400.0, 1920.0, 2400.0, 2760.0):
        yield Target(x, 0.0, site.ground(x), "ground over main")
    yield Target(site.main.property_line, 0.0, site.ground(site.main.property_line), "pin, fence")
    yield Target(first.x, first.y, first.elevation, "benchmark 1 close", number=112)
