# SPDX-License-Identifier: Apache-2.0
"""Merridew, Verling and Sorrel Farm before anything is computed: distances and elevations agree.

The site modules state what was measured and decided; here they are held against the rules of the
trade, against the job files, the borings and the point files. Feet throughout.
"""

import csv
import math
import tomllib
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from tests.digits import printed
from tilewater.job.points import read_points
from tilewater.job.shots import Shot
from tools.package import ROOT
from tools.sites import __main__ as writer
from tools.sites import merridew_farm, sheet, sorrel_farm, stage, verling_farm
from tools.sites.geometry import Rectangle, between, station
from tools.sites.outlet import BOX_LENGTH, BOX_WIDTH, SOLID_PIPE_LEAST, Outlet

ROVER_PLAN = 0.10  # four times the scatter in plan, both directions
ROVER_HEIGHT = 0.13  # four times the scatter in height, and a hundredth of rounding
HUNDREDTH = 0.005 + 1e-9
PARALLEL = ("header-inlet", "header-outlet")

MERRIDEW, VERLING, SORREL = merridew_farm.SITE, verling_farm.SITE, sorrel_farm.SITE
every_site = pytest.mark.parametrize("site", [MERRIDEW, VERLING, SORREL], ids=lambda s: s.name)


@cache
def job_of(site: Outlet) -> dict[str, Any]:
    return tomllib.loads((folder(site) / "job.toml").read_text(encoding="utf-8"))


def folder(site: Outlet) -> Path:
    return ROOT / "examples" / site.name


def number(site: Outlet, path: str) -> float:
    """Number in front of the unit of a value of the job file."""
    value: Any = job_of(site)
    for key in path.split("."):
        value = value[key]
    return float(str(value).split()[0].removesuffix("%"))


@pytest.mark.works(of=Outlet)
@every_site
def test_ditch_bank_and_main_agree(site: Outlet) -> None:
    main, ditch = site.main, site.ditch
    rise = main.invert_diversion - main.invert_outlet
    assert rise == pytest.approx(main.slope * site.inlet.x, abs=0.005)
    assert abs(ditch.bank_x(main.invert_outlet)) < 2.0  # the pipe ends at the bank
    assert site.ground(ditch.bank_top_x) == ditch.bank_top
    assert ditch.bottom < ditch.water < ditch.bank_top
    assert site.main_invert(site.inlet.x) == main.invert_diversion
    assert site.ground(site.inlet.x) == site.pit.ground


@pytest.mark.works(of=Outlet)
def test_banks_and_outlets_are_as_the_stories_say() -> None:
    assert printed("7.70") == MERRIDEW.ditch.bank_height
    assert printed("-0.31") == MERRIDEW.main.invert_outlet - MERRIDEW.ditch.water
    assert printed("-0.70") == VERLING.main.invert_outlet - VERLING.ditch.water
    assert printed("-0.92") == VERLING.pit.floor_level - VERLING.ditch.water
    assert printed("7.40") == SORREL.ditch.bank_height
    assert printed("0.87") == SORREL.pit.floor_level - SORREL.ditch.water


@pytest.mark.works(of=Outlet)
@every_site
def test_bed_fits_its_cut_its_boards_and_its_ground(site: Outlet) -> None:
    pit = site.pit
    assert pit.media_top + 0.005 >= site.inlet.crest
    assert pit.cover > 1.0
    assert site.inlet.rim >= site.ground(site.inlet.x) + 0.5
    assert site.outlet.sill == pit.floor_level
    assert pit.top.size[0] == pytest.approx(pit.floor.size[0] + 2 * pit.cut_slope * pit.cut_depth)
    for x in (pit.floor.x0, pit.floor.x1):
        assert site.ground(x) == pytest.approx(pit.ground)


@pytest.mark.works(of=Outlet)
def test_only_the_bed_of_verling_leaves_its_grass() -> None:
    for site in (MERRIDEW, SORREL):
        assert site.strip.contains(site.pit.top)
        assert site.in_right_of_way == ()
    assert not SORREL.pit.top.overlaps(SORREL.line.strip)  # either may be built beside the other
    assert printed("15.0") == VERLING.strip.size[0]
    assert printed("48.0") == VERLING.pit.top.size[0]
    assert VERLING.right_of_way_x == pytest.approx(55.7)
    assert printed("44.0") == (VERLING.right_of_way_x or 0.0) - VERLING.pit.top.x0
    assert set(VERLING.in_right_of_way) >= {"bed", "outlet structure", "distribution line"}


@pytest.mark.works(of=Outlet)
@every_site
def test_structures_have_twenty_feet_of_solid_pipe_on_each_side(site: Outlet) -> None:
    for name in ("above", "bypass", "feed", "bed-to-outlet", "return"):
        pipe = site.pipe(name)
        assert pipe.kind == "solid"
        assert pipe.length >= SOLID_PIPE_LEAST, name
    assert site.solid_at_structure >= SOLID_PIPE_LEAST
    for name, box in (("above", site.inlet), ("feed", site.inlet), ("return", site.outlet)):
        pipe = site.pipe(name)
        touches = [trench.overlaps(box.outline.grown(0.01)) for trench in pipe.trenches]
        assert any(touches), name


@pytest.mark.works(of=Outlet)
@every_site
def test_water_falls_on_its_way(site: Outlet) -> None:
    assert all(pipe.slope >= 0 for pipe in site.pipes)
    back = site.pipe("return")
    assert back.end[0] < site.ditch.bank_x(back.invert_end)
    assert site.pipe("feed").invert_start == site.inlet.sill
    for name in PARALLEL:
        header = site.pipe(name)
        assert site.pit.floor.contains(header.strip.grown(-0.51)), name


@pytest.mark.works(of=Outlet)
@every_site
def test_nothing_overlaps(site: Outlet) -> None:
    marks = [Rectangle(m.name, m.x, m.y, m.x, m.y).grown(1.0) for m in site.benchmarks]
    apart = [site.pit.top, site.inlet.outline, site.outlet.outline, *marks]
    for first, second in combinations(apart, 2):
        assert not first.overlaps(second), (first.name, second.name)
    for name in ("above", "bypass", "return"):
        for trench in site.pipe(name).trenches:
            assert not trench.overlaps(site.pit.top), name


@pytest.mark.works(of=Outlet)
@every_site
def test_line_of_the_buffer_lies_in_the_grass(site: Outlet) -> None:
    line, grass = site.line, site.strip
    assert grass.contains(line.strip)
    assert site.ground(line.x) - line.invert > 2.0
    assert line.invert < site.inlet.crest
    if line.roots is not None:
        assert line.y0 < line.roots[0] < line.roots[1] < line.y1
    assert printed("140.0") == MERRIDEW.line.tree_length


@pytest.mark.works(of=Outlet)
def test_lines_lie_as_far_from_the_water_as_the_stories_say() -> None:
    for width, site in (("55.0", MERRIDEW), ("15.0", VERLING), ("60.0", SORREL)):
        assert printed(width) == site.width


@pytest.mark.works(of=Outlet)
@every_site
def test_field_and_spots_lie_on_the_main(site: Outlet) -> None:
    assert site.block.acres == pytest.approx(number(site, "drainage.area"))
    assert site.block.laterals[-1] == site.main.upper_end
    assert site.block.x0 < site.block.laterals[0] < site.block.laterals[-1] < site.block.x1
    for spot in site.spots:
        assert site.ground(spot.x) == pytest.approx(spot.ground)
        middle = site.main_invert(spot.x) + site.main.diameter_in / 24
        assert spot.ground - site.block.depth > middle
        if spot.kind == "junction":
            assert spot.x in site.block.laterals


@pytest.mark.works(of=Outlet)
def test_pool_passes_the_property_line_in_one_example_only() -> None:
    for site in (MERRIDEW, SORREL):
        assert site.inlet.x + site.pool_reach < site.main.property_line
        assert site.main.upper_end < site.main.property_line
    assert printed("1333") == MERRIDEW.pool_reach
    assert printed("2333") == VERLING.pool_reach
    over = VERLING.inlet.x + VERLING.pool_reach - VERLING.main.property_line
    assert printed("313") == over
    assert job_of(VERLING)["main"]["consent_upstream"] == "unknown"


@pytest.mark.works(of=Outlet)
@every_site
def test_bore_holes_stand_where_their_file_says(site: Outlet) -> None:
    text = (folder(site) / "borings.csv").read_text(encoding="utf-8")
    tops = {row["hole"]: row for row in csv.DictReader(text.splitlines()) if row["ground [ft]"]}
    assert set(tops) == {mark.name for mark in site.borings}
    for mark in site.borings:
        row = tops[mark.name]
        assert float(row["ground [ft]"]) == mark.elevation
        assert (row["station [ft]"], float(row["offset [ft]"])) == (station(mark.x), mark.y)
        assert abs(site.ground(mark.x) - mark.elevation) < 0.1


def _stated(site: Outlet) -> dict[str, float]:
    pit, line, inlet, outlet = site.pit, site.line, site.inlet, site.outlet
    along, across = pit.floor.size if pit.turned_deg == 0 else pit.floor.size[::-1]
    return {
        "site.ground_at_bed": pit.ground,
        "drainage.lateral_depth": site.block.depth,
        "drainage.lateral_spacing": site.block.spacing,
        "main.diameter": site.main.diameter_in,
        "main.n": site.main.n,
        "main.slope": 100 * site.main.slope,
        "main.invert_outlet": site.main.invert_outlet,
        "main.invert_diversion": site.main.invert_diversion,
        "ditch.bottom": site.ditch.bottom,
        "ditch.bank_top": site.ditch.bank_top,
        "ditch.section.bottom_width": site.ditch.bottom_width,
        "ditch.edge_distance": site.edge_distance,
        "structure.inlet.sill": inlet.sill,
        "structure.inlet.rim": inlet.rim,
        "structure.inlet.ground": site.ground(inlet.x),
        "structure.outlet.sill": outlet.sill,
        "structure.outlet.rim": outlet.rim,
        "structure.outlet.ground": site.ground(outlet.x),
        "structure.inlet.box_length": BOX_LENGTH,
        "structure.inlet.box_width": BOX_WIDTH,
        "boards.inlet": inlet.boards_in,
        "boards.outlet": outlet.boards_in,
        "bed.length_bottom": along,
        "bed.width_bottom": across,
        "bed.media_depth": pit.media_depth,
        "bed.floor_inlet": pit.floor_level,
        "bed.floor_outlet": pit.floor_level,
        "bed.cover_depth": pit.cover,
        "bed.return_invert": site.pipe("return").invert_end,
        "buffer.width": site.width,
        "buffer.length_available": site.strip.size[1],
        "buffer.tree_length": line.tree_length,
        "buffer.pipe_diameter": line.diameter_in,
        "buffer.line_invert": line.invert,
        "buffer.ground_at_line": site.ground(line.x),
        "buffer.ground_at_field_edge": site.ground(site.strip.x1),
        "buffer.trench_width": line.trench_in,
        "buffer.barrier": site.barrier,
        **{f"pipe.{pipe.name}.length": pipe.length for pipe in site.pipes},
        **{f"pipe.{pipe.name}.diameter": pipe.diameter_in for pipe in site.pipes},
        **{f"spot.{spot.name}.ground": spot.ground for spot in site.spots},
    }


@pytest.mark.works(of=Outlet)
@every_site
def test_job_file_states_the_sketch(site: Outlet) -> None:
    differing = {
        path: (number(site, path), value)
        for path, value in _stated(site).items()
        if abs(number(site, path) - value) > HUNDREDTH
    }
    assert differing == {}
    job = job_of(site)
    assert [float(x.split()[0]) for x in job["buffer"]["branches"]] == list(site.line.branches)
    assert number(site, "buffer.solid_at_structure") == pytest.approx(
        site.solid_at_structure, abs=0.05
    )
    for path, x in (
        ("station_diversion", site.inlet.x),
        ("upstream_station", site.main.upper_end),
        ("property_line_station", site.main.property_line),
    ):
        assert job["main"][path] == station(x)
    for spot in site.spots:
        assert job["spot"][spot.name]["station"] == station(spot.x)
    for pipe in site.pipes:
        points = job["pipe"][pipe.name]["points"]
        assert [float(offset.split()[0]) for _, offset in points] == [y for _, y in pipe.points]
    assert (number(site, "baseline.north"), number(site, "baseline.east")) == (
        site.grid.north,
        site.grid.east,
    )
    assert number(site, "baseline.azimuth") == site.grid.azimuth_deg


@pytest.mark.works(of=read_points)
@pytest.mark.parametrize("farm", writer.FARMS, ids=lambda farm: farm.SITE.name)
def test_point_file_is_read_in_its_own_order_and_shows_the_site(farm: Any) -> None:
    site = farm.SITE
    survey = job_of(site)["survey"]
    read = read_points(
        folder(site) / survey["shots"],
        survey["columns"],
        foot="us survey foot",
        vertical_datum="NAVD88",
        drop_fix=survey["drop_fix"],
    )
    true = list(farm.targets())
    fixed = [target for target in true if not target.floated]
    assert len(read.shots) == len(fixed)
    assert len(read.set_aside) == len(true) - len(fixed) > 0
    for shot, target in zip(read.shots, fixed, strict=True):
        assert _off(shot, site.grid.at(target.x, target.y)) < ROVER_PLAN
        assert abs(shot.height / SURVEY_FOOT - target.height) < ROVER_HEIGHT
        assert shot.note == target.note


SURVEY_FOOT = 1200 / 3937  # m


def _off(shot: Shot, grid: tuple[float, float]) -> float:
    return math.dist((shot.north / SURVEY_FOOT, shot.east / SURVEY_FOOT), grid)


@pytest.mark.works(of=sheet.draw_sketch)
@every_site
def test_no_two_texts_of_a_sketch_collide(site: Outlet) -> None:
    labels = sheet.draw_sketch(site).labels
    assert [] == [(a.text, b.text) for a, b in combinations(labels, 2) if a.collides(b)]
    assert all(0 < a.x0 and a.x1 < sheet.WIDTH and a.y1 < sheet.HEIGHT for a in labels)


@pytest.mark.works(of=(writer.written, stage.stage_text))
def test_written_files_are_fresh() -> None:
    for file, text in writer.written():
        assert text == file.read_text(encoding="utf-8"), file.name
    assert stage.stage_text() == stage.FILE.read_text(encoding="utf-8")


@pytest.mark.by_hand(of=between)
def test_heights_between_two_points() -> None:
    assert between(((0.0, 10.0), (4.0, 12.0)), 1.0) == 10.0 + 1.0 / 4.0 * 2.0
    assert between(((0.0, 10.0), (4.0, 12.0)), 9.0) == 12.0


@pytest.mark.works(of=stage.levels)
def test_ditch_of_verling_stands_high_on_many_days() -> None:
    levels = sorted(level for _, level in stage.levels())
    assert levels[len(levels) // 2] == pytest.approx(VERLING.ditch.water, abs=0.05)
    assert VERLING.ditch.bottom < levels[0]
    assert 0.15 < sum(level > 718.4 for level in levels) / len(levels) < 0.30
