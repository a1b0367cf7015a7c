# SPDX-License-Identifier: Apache-2.0
"""The long section is to scale, its numbers are those of the trace, and no two labels touch."""

import re
from functools import cache
from itertools import combinations

import pytest

from tests.jobs import FOOT, corbel_inputs, with_givens
from tests.svg import Drawing, pixels_of
from tilewater.basis.trace import Given, Trace, Value
from tilewater.basis.units import System, format_quantity
from tilewater.basis.unknown import Unknown
from tilewater.chain.design import design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.chain.scene import LongSection, long_section_scene
from tilewater.documents.levels_table import write_levels
from tilewater.documents.long_section import compose, draw_long_section
from tilewater.documents.main_panel import draw_main
from tilewater.documents.notes import LINES, write_missing
from tilewater.documents.season_panels import draw_seasons
from tilewater.documents.sheet import INCH
from tilewater.documents.way_panel import STYLES, draw_chips, draw_water

NOBODY = Unknown("nobody knows")
PIXEL = 0.006  # half of the last digit of a coordinate, and a hair
UNITS: tuple[System, ...] = ("us", "si")


@cache
def farm() -> tuple[Trace, LongSection]:
    trace = design_bed(corbel_inputs()).trace
    return trace, long_section_scene(trace)


@cache
def drawn(units: System = "us") -> Drawing:
    return Drawing(draw_long_section(farm()[1], units=units))


def scene_of(changes: dict[str, Value]) -> LongSection:
    return long_section_scene(design_bed(corbel_inputs(changes)).trace)


def typed(key: str) -> float:
    """A number of the job, in metres."""
    return float(farm()[0].value(f"inputs.{key}"))


@pytest.mark.works(of=(draw_long_section,))
@pytest.mark.parametrize("units", UNITS)
def test_distances_on_the_sheet_are_those_of_the_job(units: System) -> None:
    way = drawn(units).panel("way")
    near = PIXEL / way.number("across")
    lengths = {
        "return": typed("pipe.return.length_m"),
        "pipe from the bed": typed("pipe.bed-to-outlet.length_m"),
        "feed": typed("pipe.feed.length_m"),
        "inlet-structure": typed("structure.inlet.box_length_m"),
        "outlet-structure": typed("structure.outlet.box_length_m"),
    }
    for name, length in lengths.items():
        xs = [x for x, _ in way.shape(name)]
        assert length == pytest.approx(max(xs) - min(xs), abs=2 * near), name
    corners = way.shape("chips")
    floor = sorted(x for x, z in corners if z < sum(z for _, z in corners) / 4)
    assert typed("bed.length_bottom_m") == pytest.approx(floor[1] - floor[0], abs=2 * near)
    top = sorted(x for x, _ in corners)
    slopes = 2 * typed("bed.side_slope") * typed("bed.media_depth_m")
    assert slopes == pytest.approx(top[3] - top[0] - (floor[1] - floor[0]), abs=4 * near)


@pytest.mark.works(of=(draw_long_section, draw_chips))
@pytest.mark.parametrize("units", UNITS)
def test_heights_on_the_sheet_are_those_of_the_job(units: System) -> None:
    way = drawn(units).panel("way")
    near = PIXEL / way.number("up")
    for name, box in (("inlet", "inlet"), ("outlet", "outlet")):
        zs = [z for _, z in way.shape(f"{name}-structure")]
        assert typed(f"structure.{box}.rim_m") == pytest.approx(max(zs), abs=near)
        assert typed(f"structure.{box}.floor_m") == pytest.approx(min(zs), abs=near)
        zs = [z for _, z in way.shape(f"{name}-boards")]
        assert typed(f"boards.{box}_m") == pytest.approx(max(zs) - min(zs), abs=2 * near)
    zs = [z for _, z in way.shape("chips")]
    assert typed("bed.media_depth_m") == pytest.approx(max(zs) - min(zs), abs=2 * near)
    low, high = way.shape("return")[:2]
    assert typed("bed.return_invert_m") == pytest.approx(low[1], abs=near)
    assert typed("bed.outlet_invert_m") == pytest.approx(high[1], abs=near)
    ground = dict(way.shape("ground"))
    assert typed("ditch.bottom_m") == pytest.approx(min(ground.values()), abs=near)


@pytest.mark.works(of=(draw_water,))
@pytest.mark.parametrize("units", UNITS)
def test_water_on_the_sheet_stands_where_it_was_computed(units: System) -> None:
    scene, way = farm()[1], drawn(units).panel("way")
    near = PIXEL / way.number("up")
    for line in scene.lines:
        water = way.shape(f"water-{line.name}")
        assert len(water) > 20
        levels = {node: level.elevation for node, level in line.nodes}
        assert levels["diversion"] == pytest.approx(water[0][1], abs=near)
        assert levels["outlet_box"] == pytest.approx(water[-1][1], abs=near)
        for (x, z), found in zip(line.surface, water[3:-3], strict=True):
            assert x == pytest.approx(found[0], abs=PIXEL / way.number("across"))
            assert z == pytest.approx(found[1], abs=near)


@pytest.mark.works(of=(draw_main,))
@pytest.mark.parametrize("units", UNITS)
def test_the_main_lies_by_its_stations(units: System) -> None:
    main = drawn(units).panel("main")
    near, up = PIXEL / main.number("across"), PIXEL / main.number("up")
    (start, diversion), *_, (_, end) = main.shapes("main")
    assert typed("main.station_outlet_m") == pytest.approx(start[0], abs=near)
    assert typed("main.invert_outlet_m") == pytest.approx(start[1], abs=up)
    assert typed("main.station_diversion_m") == pytest.approx(diversion[0], abs=near)
    assert typed("main.upstream_station_m") == pytest.approx(end[0], abs=near)
    pool = main.shape("pool")
    assert farm()[0].value("pool_reach_m") == pytest.approx(pool[1][0] - pool[0][0], abs=2 * near)
    top, foot = main.shape("spot-low-1")
    assert typed("spot.low-1.station_m") == pytest.approx(top[0], abs=near)
    assert typed("spot.low-1.ground_m") == pytest.approx(top[1], abs=up)
    assert typed("drainage.lateral_depth_m") == pytest.approx(top[1] - foot[1], abs=2 * up)


@pytest.mark.works(of=(draw_long_section,))
def test_scales_are_stated_as_drawn() -> None:
    us, si = (drawn(units).panel("way") for units in UNITS)
    assert "1 in = 20 ft along, 1 in = 2 ft up, vertical 10 : 1" in drawn("us").words()
    assert INCH / 20 == pytest.approx(us.number("across") * FOOT)
    assert INCH / 2 == pytest.approx(us.number("up") * FOOT)
    assert "1 : 250 along, 1 : 25 up, vertical 10 : 1" in drawn("si").words()
    assert INCH / 0.0254 / 250 == pytest.approx(si.number("across"))
    assert INCH / 0.0254 / 25 == pytest.approx(si.number("up"))


@pytest.mark.works(of=(draw_long_section,))
@pytest.mark.parametrize(("units", "along", "up"), [("us", 20 * FOOT, FOOT), ("si", 10.0, 0.2)])
def test_scale_bars_measure_what_they_say(units: System, along: float, up: float) -> None:
    drawing, way = drawn(units), drawn(units).panel("way")
    bars = {
        path.get("data-part"): pixels_of(path)
        for path in drawing.root.iter()
        if (path.get("data-part") or "").startswith("bar-")
    }
    (left, _), (right, _) = bars["bar-along"]
    (_, top), (_, base) = bars["bar-up"]
    assert along == pytest.approx((right - left) / way.number("across"), abs=0.01)
    assert up == pytest.approx((base - top) / way.number("up"), abs=0.001)


@pytest.mark.works(of=(draw_long_section, write_levels, draw_seasons))
@pytest.mark.parametrize("units", UNITS)
def test_every_elevation_printed_is_that_of_its_key(units: System) -> None:
    trace, found = farm()[0], drawn(units).keyed()
    assert len(found) > 120
    for key, text in found:
        upper, _, lower = key.partition(" - ")
        value = float(trace.value(upper))
        if lower:
            value -= float(trace.value(lower))
        kind = "length" if lower else "elevation"
        assert text == format_quantity(value, kind, system=units, unit=False), key


@pytest.mark.works(of=(draw_long_section,))
@pytest.mark.parametrize(("units", "looks"), [("us", r"11\d\d\.\d\d"), ("si", r"3[56]\d\.\d{3}")])
def test_no_elevation_is_printed_without_a_key(units: System, looks: str) -> None:
    assert [] == [words for words in drawn(units).words_without_keys() if re.search(looks, words)]


@pytest.mark.works(of=(draw_long_section,))
def test_levels_that_matter_are_all_on_the_sheet() -> None:
    keys = {key for key, _ in drawn().keyed()}
    nodes = {level.key for line in farm()[1].lines for _, level in line.nodes}
    nodes |= {level.key for line in farm()[1].seasons for _, level in line.nodes}
    given = {
        f"inputs.{key}_m"
        for key in (
            "structure.inlet.rim",
            "structure.outlet.sill",
            "site.ground_at_bed",
            "ditch.bottom",
            "ditch.bank_top",
            "bed.floor_outlet",
            "bed.return_invert",
            "main.invert_outlet",
            "groundwater.finished",
            "spot.low-2.ground",
        )
    }
    assert set() == (nodes | given | {"bed.media_top_m", "boards.inlet-design.crest_m"}) - keys


@pytest.mark.by_hand(of=(draw_long_section,))
def test_falls_stand_between_the_nodes() -> None:
    words = drawn().words()
    trace = farm()[0]
    up, down = (trace.value(f"capacity.criterion.levels_m.{n}_end") for n in ("inlet", "outlet"))
    assert f"chips {(up - down) / FOOT:.2f}" in words
    over = trace.value("capacity.criterion.levels_m.outlet_box")
    over -= trace.value("boards.outlet-design.crest_m")
    assert f"over boards {over / FOOT:.2f}" in words


def ditch_section(width: float, slope: float) -> tuple[Given, ...]:
    here = "inputs.ditch.section"
    return (
        Given(f"{here}.bottom_width_m", width * FOOT, "m", "Width of the bottom"),
        Given(f"{here}.side_slope", slope, "-", "Side slope"),
    )


def surveyed_ditch() -> Given:
    points = ((0.0, 361.4), (3.0, 359.33), (5.0, 359.3), (9.0, 361.5))
    return Given("inputs.ditch.section.points", points, "", "Points across the ditch")


def two_cells() -> tuple[Given, ...]:
    return (
        Given("inputs.cell.a.width_bottom_m", 15 * FOOT, "m", "Width"),
        Given("inputs.cell.b.opens_at_m", 1183.6 * FOOT, "m", "Crest"),
    )


def ditch_at(ordinary: float, high: float) -> JobInputs:
    """Corbel Farm with the ditch at these levels in every season. [ft]"""
    levels = {"ditch_stage_m": ordinary * FOOT, "ditch_high_m": high * FOOT}
    seasons = ("winter", "spring", "summer", "autumn")
    return corbel_inputs({f"season.{s}.{k}": z for s in seasons for k, z in levels.items()})


JOBS: dict[str, JobInputs] = {
    "corbel farm": corbel_inputs(),
    "a short bed": corbel_inputs({"bed.length_bottom_m": 20 * FOOT}),
    "a long bed": corbel_inputs({"bed.length_bottom_m": 300 * FOOT}),
    "thin cover": corbel_inputs({"site.ground_at_bed_m": 1184.7 * FOOT}),
    "a sloping floor": corbel_inputs({"bed.floor_inlet_m": 1181.0 * FOOT}),
    "a return into the main": corbel_inputs({"bed.return": "main"}),
    "spots side by side": corbel_inputs({"spot.low-2.station_m": 320 * FOOT}),
    "a wide ditch": with_givens(corbel_inputs(), *ditch_section(12.0, 4.0)),
    "a surveyed ditch": with_givens(corbel_inputs(), surveyed_ditch()),
    "a ditch over the crests": ditch_at(1184.6, 1185.0),
    "a ditch over its banks": ditch_at(1185.0, 1186.2),
    "two cells": with_givens(corbel_inputs(), *two_cells()),
    "no boards": corbel_inputs({"boards.inlet_m": NOBODY, "boards.outlet_m": NOBODY}),
    "no ditch": corbel_inputs({"ditch.stage": NOBODY, "ditch.bottom_m": NOBODY}),
    "no feed": corbel_inputs({"pipe.feed.length_m": NOBODY}),
    "nothing known": corbel_inputs(
        {
            given.key.removeprefix("inputs."): NOBODY
            for given in corbel_inputs().givens
            if isinstance(given.value, float)
        }
    ),
}


@pytest.mark.works(of=(compose,))
@pytest.mark.parametrize("name", JOBS)
def test_no_two_labels_touch_and_none_leaves_the_sheet(name: str) -> None:
    scene = long_section_scene(design_bed(JOBS[name]).trace)
    for units in UNITS:
        sheet = compose(scene, units)
        assert len(sheet.labels) > 20
        assert [] == [
            (a.text, b.text) for a, b in combinations(sheet.labels, 2) if a.collides(b)
        ], units
        edge = [
            a.text
            for a in sheet.labels
            if a.x0 < 0 or a.x1 > sheet.width or a.y0 < 0 or a.y1 > sheet.low
        ]
        assert [] == edge, units


@pytest.mark.works(of=(long_section_scene,))
def test_water_is_drawn_inside_the_chips_of_a_cell() -> None:
    scene = long_section_scene(design_bed(JOBS["two cells"]).trace)
    wet = next(line for line in scene.lines if line.name == "criterion")

    assert scene.media is not None
    assert scene.media.flow_high == wet.surface[0][0]
    # the surface falls from end to end, and not in a straight line: water is deeper above
    (first, high), (last, low) = wet.surface[0], wet.surface[-1]
    x, z = wet.surface[len(wet.surface) // 2]
    assert low < low + (high - low) * (x - last) / (first - last) < z < high


@pytest.mark.works(of=(draw_long_section,))
def test_a_ditch_over_its_banks_is_drawn_level() -> None:
    scene = long_section_scene(design_bed(ditch_at(1185.0, 1186.2)).trace)
    way = Drawing(draw_long_section(scene)).panel("way")
    (_, left), (_, right) = way.shape("ditch-high")

    assert left == right == pytest.approx(1186.2 * FOOT, abs=PIXEL / way.number("up"))


@pytest.mark.works(of=(draw_long_section, write_missing))
@pytest.mark.parametrize(
    ("key", "part", "what"),
    [
        ("pipe.feed.length_m", "feed", "the feed"),
        ("pipe.return.diameter_m", "return", "the return"),
        ("bed.length_bottom_m", "chips", "the bed"),
        ("structure.inlet.rim_m", "inlet-structure", "the rim of the inlet structure"),
        ("media.conductivity_new_m_s", "water-criterion", "water of the criterion line"),
        ("main.invert_outlet_m", "bypass", "the main past the bed"),
        ("spot.low-1.ground_m", "spot-low-1", "spot low-1"),
    ],
)
def test_what_is_not_known_is_not_drawn_and_is_listed(key: str, part: str, what: str) -> None:
    drawing = Drawing(draw_long_section(scene_of({key: NOBODY})))
    assert part in drawn().parts()
    assert part not in drawing.parts()
    listed = " ".join(drawing.words())
    assert "Not drawn, not known" in listed
    assert what in listed
    assert what in drawing.root.findtext("{http://www.w3.org/2000/svg}desc", "")


@pytest.mark.works(of=(draw_seasons,))
def test_each_season_has_its_panel() -> None:
    panels = drawn().panels()
    assert ["season-winter", "season-spring", "season-summer", "season-autumn"] == panels[-4:]
    autumn = drawn().panel("season-autumn")
    zs = [z for _, z in autumn.shape("inlet-boards")]
    near = 2 * PIXEL / autumn.number("up")
    assert typed("season.autumn.inlet_boards_m") == pytest.approx(max(zs) - min(zs), abs=near)
    (_, ordinary), *_ = autumn.shape("ditch-ordinary")
    assert typed("season.autumn.ditch_stage_m") == pytest.approx(ordinary, abs=near)


@pytest.mark.works(of=(draw_long_section,))
def test_lines_are_told_apart_without_colour() -> None:
    assert len(STYLES) == len({(style.dash, style.width) for style in STYLES})
    assert len(LINES) == len({(style["dash"], style["width"]) for _, style in LINES})
    for line in farm()[1].lines:
        assert line.words in drawn().words()


@pytest.mark.works(of=(draw_long_section,))
def test_drawing_names_no_outside_address_and_is_the_same_each_time() -> None:
    text = drawn().text
    assert ["http://www.w3.org/2000/svg"] == re.findall(r"https?://[^\"'\s]+", text)
    assert text == draw_long_section(farm()[1])
    assert 'width="17in" height="11in"' in text
