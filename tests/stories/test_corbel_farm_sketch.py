# SPDX-License-Identifier: Apache-2.0
"""Corbel Farm before anything is computed: every stated distance and elevation agrees.

The site module states what was measured and decided; here it is held against the rules of the
trade, against the job file and against the point file. Feet throughout.
"""

import csv
import math
import tomllib
from collections.abc import Callable
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from tests.digits import printed
from tilewater.basis.units import from_si, parse_quantity
from tools.package import ROOT
from tools.sites.corbel_farm import __main__ as writer
from tools.sites.corbel_farm import drawing, site, survey

FARM = ROOT / "examples" / "corbel-farm"
JOB = tomllib.loads((FARM / "job.toml").read_text(encoding="utf-8"))
ROVER_PLAN = 0.10  # ft, four times the scatter in plan, both directions
ROVER_HEIGHT = 0.12  # ft, four times the scatter in height
HUNDREDTH = 0.005 + 1e-9  # ft; the job file states hundredths


def rows_of(file: Path) -> list[dict[str, str]]:
    """Rows of a comma-separated file."""
    return list(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))


def typed(path: str, kind: str = "length") -> float:
    """Value of the job file in feet (or inches for sizes)."""
    value: Any = JOB
    for key in path.split("."):
        value = value[key]
    return from_si(parse_quantity(str(value), kind), "in" if kind == "size" else "ft")


@pytest.mark.works(of=(site.main_invert, site.ground, site.bank_x))
def test_ditch_bank_and_main_agree() -> None:
    assert printed("0.18") == 100 * (1181.20 - 1180.95) / 140
    assert abs(1180.95 + 0.0018 * 140 - 1181.20) < HUNDREDTH
    assert printed("6.85") == site.BANK_TOP - site.DITCH_BOTTOM
    # the main ends 0.8 ft before the bank, where the bank has the height of its invert
    assert printed("0.8") == site.bank_x(site.MAIN_INVERT_OUTLET)
    assert site.ground(site.BANK_TOP_X) == site.BANK_TOP
    assert site.DITCH_BOTTOM < site.WATER_ORDINARY < site.MAIN_INVERT_OUTLET < site.WATER_TWO_YEAR
    assert printed("1.35") == site.MAIN_INVERT_OUTLET - site.WATER_ORDINARY


@pytest.mark.works(of=(site.top_of_cut, site.bed_at, site.crest))
def test_bed_fits_its_cut_and_its_boards() -> None:
    assert printed("5.3") == site.cut_depth()
    assert site.top_of_cut().size == pytest.approx((96.5 + 2 * 5.3, 30 + 2 * 5.3))
    assert site.bed_at(site.MEDIA_DEPTH).size == pytest.approx((96.5 + 2 * 3.5, 30 + 2 * 3.5))
    assert printed("1184.20") == site.BED_FLOOR + site.MEDIA_DEPTH
    assert printed("1184.20") == site.crest("inlet")
    assert printed("1182.70") == site.crest("outlet")
    assert printed("0.60") == site.crest("outlet") - site.WATER_TWO_YEAR
    assert printed("33.6") == (site.RIM - site.crest("inlet")) * 12
    assert site.RIM >= site.BED_GROUND + 0.5
    assert site.ground(site.DIVERSION[0]) == site.BED_GROUND


@pytest.mark.works(of=(site.strip, site.usable_ground, site.right_of_way_x))
def test_bed_lies_in_the_grass_beside_the_main_clear_of_the_right_of_way() -> None:
    cut, grass = site.top_of_cut(), site.strip()
    assert printed("31.0") == cut.x0 - site.BANK_TOP_X
    assert printed("6.0") == cut.x0 - site.right_of_way_x()
    assert printed("15.7") == cut.y0
    assert grass.size == (190.0, 82.0)
    assert site.usable_ground().size == (175.0, 47.0)
    assert site.usable_ground().contains(cut)
    assert grass.contains(site.box("", site.DIVERSION))
    assert grass.x1 < site.SPOTS[0].x
    for pipe in ("above the diversion", "bypass"):
        assert not cut.overlaps(site.pipe(pipe).strip)


@pytest.mark.works(of=site.pipes)
def test_every_structure_has_twenty_feet_of_solid_pipe_with_a_collar_on_each_side() -> None:
    touching = {
        "above the diversion": site.DIVERSION,
        "bypass": site.DIVERSION,
        "feed": site.DIVERSION,
        "bed to outlet": site.OUTLET,
        "return": site.OUTLET,
    }
    for name, structure in touching.items():
        pipe = site.pipe(name)
        assert pipe.kind == "solid"
        assert pipe.length >= site.SOLID_PIPE_LEAST
        assert site.box("", structure).grown(0.01).overlaps(pipe.strip)
        collars = [c for c in drawing.COLLARS if pipe.strip.grown(0.01).contains(_point(c))]
        assert len(collars) == 1, name
    assert printed("160") == site.pipe("above the diversion").length + site.pipe("bypass").length


def _point(collar: tuple[float, float, bool]) -> site.Rectangle:
    x, y, _ = collar
    return site.Rectangle("", x, y, x, y)


@pytest.mark.works(of=site.pipes)
def test_water_falls_through_the_bed_to_its_own_outlet() -> None:
    back = site.pipe("return")
    assert printed("22.0") == back.length
    assert abs(site.RETURN_LENGTH * site.RETURN_SLOPE - (1180.70 - 1180.61)) < HUNDREDTH
    assert back.end[0] < site.bank_x(site.RETURN_INVERT_END)
    assert printed("1.01") == site.RETURN_INVERT_END - site.WATER_ORDINARY
    assert printed("0.29") == site.main_invert(22.0) - site.BED_FLOOR
    assert all(pipe.slope >= 0 for pipe in site.pipes())
    header = site.pipe("inlet header")
    assert site.bed_at(0.0).contains(header.strip.grown(-0.51))
    x_feed = site.pipe("feed").start[0]
    upstream_half = (site.DIVERSION[0], site.box("", site.DIVERSION).x1)
    assert upstream_half[0] < x_feed < upstream_half[1]  # the feed leaves above the boards


@pytest.mark.works(of=(site.box, site.pipes, site.top_of_cut))
def test_nothing_overlaps() -> None:
    marks = [site.Rectangle(m.name, m.x, m.y, m.x, m.y).grown(1.0) for m in site.BENCHMARKS]
    apart = [
        site.top_of_cut(),
        site.box("diversion", site.DIVERSION),
        site.box("outlet", site.OUTLET),
        *marks,
    ]
    for first, second in combinations(apart, 2):
        assert not first.overlaps(second), (first.name, second.name)
    for pipe in (site.pipe("bypass"), site.pipe("return"), site.pipe("above the diversion")):
        for other in (site.top_of_cut(), *marks):
            assert not pipe.strip.overlaps(other), (pipe.name, other.name)


@pytest.mark.works(of=site.in_right_of_way)
def test_what_needs_consent_is_listed() -> None:
    assert site.in_right_of_way() == (
        "bypass pipe, 33.0 of 139.0 ft",
        "bed to outlet pipe, 9.5 of 20.8 ft",
        "return pipe, 22.0 of 22.0 ft",
        "outlet structure",
    )
    assert JOB["people"]["easements"] == "unknown"


@pytest.mark.works(of=(site.lateral_stations, site.pool_reach))
def test_field_and_pool_lie_within_the_property() -> None:
    assert (site.BLOCK[1] - site.BLOCK[0]) * site.BLOCK_WIDTH == 62 * 43560
    stations = site.lateral_stations()
    assert stations[-1] == site.MAIN_UPPER_END
    assert printed("1667") == site.pool_reach()
    pool_end = site.DIVERSION[0] + site.pool_reach()
    assert pool_end < site.MAIN_UPPER_END < site.BLOCK[1] < site.PROPERTY_LINE
    for spot in site.SPOTS:
        assert site.ground(spot.x) == pytest.approx(spot.ground)
        main_top = site.main_invert(spot.x) + site.MAIN_DIAMETER_IN / 12
        assert spot.ground - site.LATERAL_DEPTH > main_top
        if spot.kind == "junction":
            assert spot.x in stations
        else:
            assert site.ground(spot.x - 5) > spot.ground < site.ground(spot.x + 5)


@pytest.mark.works(of=site.bed_at)
def test_bore_holes_are_in_the_bed_on_the_ground() -> None:
    tops = {row["hole"]: row for row in rows_of(FARM / "borings.csv") if row["ground [ft]"]}
    for mark in site.BORINGS:
        row = tops[mark.name]
        assert float(row["ground [ft]"]) == mark.elevation
        assert (row["station [ft]"], float(row["offset [ft]"])) == (site.station(mark.x), mark.y)
        assert site.bed_at(0.0).contains(site.Rectangle("", mark.x, mark.y, mark.x, mark.y))
        assert abs(site.ground(mark.x) - mark.elevation) < 0.1


def _from_site() -> dict[tuple[str, str], float]:
    pipe = site.pipe
    return {
        ("site.ground_at_bed", "elevation"): site.BED_GROUND,
        ("drainage.lateral_depth", "length"): site.LATERAL_DEPTH,
        ("drainage.lateral_spacing", "length"): site.LATERAL_SPACING,
        ("main.diameter", "size"): site.MAIN_DIAMETER_IN,
        ("main.stub_diameter", "size"): site.STUB_DIAMETER_IN,
        ("main.invert_outlet", "elevation"): site.MAIN_INVERT_OUTLET,
        ("main.invert_diversion", "elevation"): site.MAIN_INVERT_DIVERSION,
        ("main.station_diversion", "station"): site.DIVERSION[0],
        ("main.upstream_station", "station"): site.MAIN_UPPER_END,
        ("main.property_line_station", "station"): site.PROPERTY_LINE,
        ("ditch.bottom", "elevation"): site.DITCH_BOTTOM,
        ("ditch.bank_top", "elevation"): site.BANK_TOP,
        ("ditch.section.bottom_width", "length"): site.DITCH_BOTTOM_WIDTH,
        ("ditch.right_of_way", "length"): site.RIGHT_OF_WAY,
        ("ditch.edge_distance", "length"): site.top_of_cut().x0 - site.BANK_TOP_X,
        ("season.winter.ditch_stage", "elevation"): site.WATER_ORDINARY,
        ("season.spring.ditch_high", "elevation"): site.WATER_TWO_YEAR,
        ("structure.inlet.sill", "elevation"): site.SILL_INLET,
        ("structure.inlet.rim", "elevation"): site.RIM,
        ("structure.inlet.ground", "elevation"): site.ground(site.DIVERSION[0]),
        ("structure.outlet.sill", "elevation"): site.SILL_OUTLET,
        ("structure.outlet.rim", "elevation"): site.RIM,
        ("structure.outlet.ground", "elevation"): site.ground(site.OUTLET[0]),
        ("structure.inlet.box_length", "length"): site.BOX_LENGTH,
        ("structure.inlet.box_width", "length"): site.BOX_WIDTH,
        ("boards.inlet", "size"): site.STACK_INLET_IN,
        ("boards.outlet", "size"): site.STACK_OUTLET_IN,
        ("bed.length_bottom", "length"): site.BED_LENGTH_BOTTOM,
        ("bed.width_bottom", "length"): site.BED_WIDTH_BOTTOM,
        ("bed.media_depth", "length"): site.MEDIA_DEPTH,
        ("bed.floor_inlet", "elevation"): site.BED_FLOOR,
        ("bed.floor_outlet", "elevation"): site.BED_FLOOR,
        ("bed.cover_depth", "length"): site.BED_GROUND - site.BED_FLOOR - site.MEDIA_DEPTH,
        ("bed.footprint_length", "length"): site.usable_ground().size[0],
        ("bed.footprint_width", "length"): site.usable_ground().size[1],
        ("bed.outlet_invert", "elevation"): site.SILL_OUTLET,
        ("bed.return_invert", "elevation"): site.RETURN_INVERT_END,
        ("pipe.above.length", "length"): pipe("above the diversion").length,
        ("pipe.bypass.length", "length"): pipe("bypass").length,
        ("pipe.feed.length", "length"): pipe("feed").length,
        ("pipe.header-inlet.length", "length"): pipe("inlet header").length,
        ("pipe.header-outlet.length", "length"): pipe("outlet header").length,
        ("pipe.bed-to-outlet.length", "length"): pipe("bed to outlet").length,
        ("pipe.return.length", "length"): pipe("return").length,
        ("pipe.return.diameter", "size"): pipe("return").diameter_in,
        ("pipe.feed.diameter", "size"): pipe("feed").diameter_in,
    }


@pytest.mark.works(of=parse_quantity)
def test_job_file_places_the_sketch() -> None:
    bed, ground = site.bed_at(0.0), site.usable_ground()
    stated = {
        ("baseline.north", "coordinate"): site.GRID_NORTH,
        ("baseline.east", "coordinate"): site.GRID_EAST,
        ("place.bed.station", "station"): bed.x0,
        ("place.bed.offset", "length"): bed.y0,
        ("place.footprint.station", "station"): ground.x0,
        ("place.footprint.offset", "length"): ground.y0,
        ("place.outlet.station", "station"): site.OUTLET[0],
        ("place.outlet.offset", "length"): site.OUTLET[1],
    }
    for (path, kind), value in stated.items():
        assert typed(path, kind) == pytest.approx(value, abs=HUNDREDTH), path
    azimuth = parse_quantity(JOB["baseline"]["azimuth"], "angle")
    assert azimuth == pytest.approx(math.degrees(site.AZIMUTH))
    names = {"above the diversion": "above", "inlet header": "header-inlet"}
    names |= {"outlet header": "header-outlet", "bed to outlet": "bed-to-outlet"}
    for pipe in site.pipes():
        points = JOB["pipe"][names.get(pipe.name, pipe.name)]["points"]
        ends = [
            from_si(parse_quantity(text, kind), "ft")
            for point in points
            for text, kind in zip(point, ("station", "length"), strict=True)
        ]
        assert ends == pytest.approx([*pipe.start, *pipe.end], abs=HUNDREDTH), pipe.name
    for mark, name in zip(site.BENCHMARKS, ("bm-1", "bm-2"), strict=True):
        assert typed(f"benchmark.{name}.elevation", "elevation") == pytest.approx(mark.elevation)


@pytest.mark.works(of=parse_quantity)
def test_job_file_states_the_sketch() -> None:
    differing = {
        path: (typed(path, kind), value)
        for (path, kind), value in _from_site().items()
        if abs(typed(path, kind) - value) > HUNDREDTH
    }
    assert differing == {}
    for spot in site.SPOTS:
        row = JOB["spot"][spot.name]
        assert (row["kind"], row["station"]) == (spot.kind, site.station(spot.x))
        assert typed(f"spot.{spot.name}.ground", "elevation") == pytest.approx(spot.ground)


@pytest.mark.by_hand(of=site.grid)
def test_grid_goes_along_the_azimuth() -> None:
    along, across = math.radians(68.50), math.radians(68.50 + 90)
    north = 3813100.00 + 140 * math.cos(along) + 36 * math.cos(across)
    east = 4843520.00 + 140 * math.sin(along) + 36 * math.sin(across)
    assert site.grid(140.0, 36.0) == pytest.approx((north, east), abs=1e-6)


@pytest.mark.works(of=survey.point_file)
def test_point_file_shows_the_site_within_the_scatter_of_a_rover() -> None:
    rows = rows_of(FARM / "survey" / "shots.csv")
    true = list(survey.shots())
    assert len(rows) == len(true)
    for row, (x, y, height, note) in zip(rows, true, strict=True):
        north, east = site.grid(x, y)
        off = math.dist((float(row["north_ft"]), float(row["east_ft"])), (north, east))
        assert row["note"] == note
        if row["position"] == "fixed":
            assert off < ROVER_PLAN
            assert abs(float(row["height_ft"]) - height) < ROVER_HEIGHT
        else:
            assert off > 1.0


@pytest.mark.works(of=drawing.draw_sketch)
def test_no_two_texts_of_the_sketch_collide() -> None:
    labels = drawing.draw_sketch().labels
    assert [] == [(a.text, b.text) for a, b in combinations(labels, 2) if a.collides(b)]
    assert all(0 < a.x0 and a.x1 < drawing.WIDTH and a.y1 < drawing.HEIGHT for a in labels)


@pytest.mark.works(of=(drawing.draw_sketch, survey.point_file))
@pytest.mark.parametrize(
    ("file", "make"),
    [
        (writer.PICTURE, lambda: drawing.draw_sketch().svg(writer.TITLE)),
        (writer.SHOTS, survey.point_file),
    ],
    ids=["picture", "points"],
)
def test_written_files_are_fresh(file: Path, make: Callable[[], str]) -> None:
    assert make() == file.read_text(encoding="utf-8")
