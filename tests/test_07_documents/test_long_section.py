# SPDX-License-Identifier: Apache-2.0
"""The long section is to scale, its numbers are those of the trace, and no two labels touch."""

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings

from tests.jobs import FOOT, corbel_inputs, with_givens
from tests.laws.test_random_jobs import changes
from tests.svg import Drawing as Reading
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Given, Trace, Value
from tilewater.basis.units import System, format_quantity
from tilewater.basis.unknown import Unknown
from tilewater.chain.design import design_bed
from tilewater.chain.inputs import JobInputs
from tilewater.chain.scene import LongSection, long_section_scene
from tilewater.documents.drawing.frame import Point
from tilewater.documents.drawing.layers import layer_of
from tilewater.documents.drawing.measured import collisions, outside_frame, struck_texts
from tilewater.documents.drawing.model import Drawing, Part, Polyline, Text
from tilewater.documents.long_section import (
    draw_long_section,
    long_section_drawing,
    long_section_sheet,
    main_reach_drawing,
    season_drawings,
    season_levels_drawing,
)
from tilewater.documents.profile.binding import mark_in_reach, mark_in_section
from tilewater.documents.profile.notes import wrapped
from tilewater.documents.profile.water import LINES

NOBODY = Unknown("nobody knows")
EXACT = 1e-9
UNITS: tuple[System, ...] = ("us", "si")


@cache
def farm() -> tuple[Trace, LongSection]:
    trace = design_bed(corbel_inputs()).trace
    return trace, long_section_scene(trace)


@cache
def way(units: System = "us") -> Drawing:
    return long_section_drawing(farm()[1], units)


@cache
def drawn(units: System = "us") -> Reading:
    return Reading(draw_long_section(farm()[1], units=units))


def scene_of(changed: dict[str, Value]) -> LongSection:
    return long_section_scene(design_bed(corbel_inputs(changed)).trace)


def typed(key: str) -> float:
    """A number of the job, in metres."""
    return float(farm()[0].value(f"inputs.{key}"))


def shapes(drawing: Drawing, name: str) -> list[tuple[Point, ...]]:
    """Points of all lines of a name, in metres."""
    lines = (each for each in drawing.entities if isinstance(each, Polyline))
    return [line.points for line in lines if line.name == name]


def shape(drawing: Drawing, name: str) -> tuple[Point, ...]:
    (only,) = shapes(drawing, name)
    return only


def xs(points: tuple[Point, ...]) -> list[float]:
    return [x for x, _ in points]


def zs(points: tuple[Point, ...]) -> list[float]:
    return [z for _, z in points]


def parts(drawing: Drawing) -> Iterator[Part]:
    """Every piece of every text."""
    for each in drawing.entities:
        if isinstance(each, Text):
            yield from each.parts


def words(drawing: Drawing) -> set[str]:
    return {each.plain for each in drawing.entities if isinstance(each, Text)}


def every_drawing(scene: LongSection, units: System, times: float = 1.0) -> list[Drawing]:
    """All drawings of the long section in rooms so many times a letter page."""
    return [
        long_section_drawing(scene, units, width_mm=250 * times, height_mm=150 * times),
        main_reach_drawing(scene, units, width_mm=250 * times, height_mm=90 * times),
        season_levels_drawing(scene, units, width_mm=250 * times),
        *season_drawings(scene, units, width_mm=120 * times, height_mm=70 * times),
    ]


@pytest.mark.works(of=(long_section_drawing,))
@pytest.mark.parametrize("units", UNITS)
def test_distances_are_those_of_the_job(units: System) -> None:
    lengths = {
        "return": typed("pipe.return.length_m"),
        "pipe from the bed": typed("pipe.bed-to-outlet.length_m"),
        "feed": typed("pipe.feed.length_m"),
        "inlet-structure": typed("structure.inlet.box_length_m"),
        "outlet-structure": typed("structure.outlet.box_length_m"),
    }
    for name, length in lengths.items():
        along = xs(shape(way(units), name))
        assert length == pytest.approx(max(along) - min(along), abs=EXACT), name
    low_top, low, high, high_top = shape(way(units), "chips")
    assert typed("bed.length_bottom_m") == pytest.approx(high[0] - low[0], abs=EXACT)
    slopes = 2 * typed("bed.side_slope") * typed("bed.media_depth_m")
    length = high_top[0] - low_top[0]
    assert slopes == pytest.approx(length - (high[0] - low[0]), abs=EXACT)


@pytest.mark.works(of=(long_section_drawing,))
@pytest.mark.parametrize("units", UNITS)
def test_heights_are_those_of_the_job(units: System) -> None:
    for box in ("inlet", "outlet"):
        up = zs(shape(way(units), f"{box}-structure"))
        assert typed(f"structure.{box}.rim_m") == pytest.approx(max(up), abs=EXACT)
        assert typed(f"structure.{box}.floor_m") == pytest.approx(min(up), abs=EXACT)
        up = zs(shape(way(units), f"{box}-boards"))
        assert typed(f"boards.{box}_m") == pytest.approx(max(up) - min(up), abs=EXACT)
    up = zs(shape(way(units), "chips"))
    assert typed("bed.media_depth_m") == pytest.approx(max(up) - min(up), abs=EXACT)
    low, high, *_ = shape(way(units), "return")
    assert typed("bed.return_invert_m") == low[1]
    assert typed("bed.outlet_invert_m") == high[1]
    assert typed("ditch.bottom_m") == min(zs(shape(way(units), "ground")))


@pytest.mark.works(of=(long_section_drawing,))
def test_water_stands_where_it_was_computed() -> None:
    for line in farm()[1].lines:
        water = shape(way(), f"water-{line.name}")
        assert len(water) > 20
        levels = {node: level.elevation for node, level in line.nodes}
        assert (levels["diversion"], levels["outlet_box"]) == (water[0][1], water[-1][1])
        assert line.surface == water[3:-3]


@pytest.mark.works(of=(main_reach_drawing,))
def test_the_main_lies_by_its_stations() -> None:
    main = main_reach_drawing(farm()[1])
    (start, diversion), *_, (_, end) = shapes(main, "main")
    assert (typed("main.station_outlet_m"), typed("main.invert_outlet_m")) == start
    assert typed("main.station_diversion_m") == diversion[0]
    assert typed("main.upstream_station_m") == end[0]
    pool = shape(main, "pool")
    assert farm()[0].value("pool_reach_m") == pytest.approx(pool[1][0] - pool[0][0], abs=EXACT)
    top, foot = shape(main, "spot-low-1")
    assert (typed("spot.low-1.station_m"), typed("spot.low-1.ground_m")) == top
    assert typed("drainage.lateral_depth_m") == pytest.approx(top[1] - foot[1], abs=EXACT)


@pytest.mark.by_hand(of=(long_section_drawing,))
def test_scales_are_the_largest_that_fit_and_are_stated() -> None:
    # 58 m of way beside 86 mm of labels: 161 mm of paper at 1:360, 242 mm at 1:240
    letter, tabloid = way(), long_section_drawing(farm()[1], width_mm=400, height_mm=250)
    assert 360.0 == pytest.approx(letter.frame.scale_x)
    assert "Scale across 1 in = 30 ft, up 1 in = 3 ft: heights drawn 10 times" in words(letter)
    assert 240.0 == pytest.approx(tabloid.frame.scale_x)
    assert "Scale across 1 in = 20 ft, up 1 in = 2 ft: heights drawn 10 times" in words(tabloid)
    assert 400.0 == pytest.approx(way("si").frame.scale_x)
    assert any(each.startswith("Scale across 1 : 400") for each in words(way("si")))


@pytest.mark.works(of=(long_section_drawing, season_drawings, main_reach_drawing))
@pytest.mark.parametrize("units", UNITS)
def test_drawings_take_no_more_room_than_they_are_given(units: System) -> None:
    for times in (1.0, 1.6):
        first, main, _, *seasons = every_drawing(farm()[1], units, times)
        assert first.frame.height_mm <= 150 * times
        assert main.frame.height_mm <= 90 * times
        assert len(seasons) == 4
        assert all(each.frame.height_mm <= 70 * times for each in seasons)


@pytest.mark.works(of=(long_section_drawing,))
def test_too_little_paper_is_said() -> None:
    with pytest.raises(OutOfDomain, match="Give a larger sheet"):
        long_section_drawing(farm()[1], width_mm=90.0)


@pytest.mark.works(of=(draw_long_section,))
@pytest.mark.parametrize("units", UNITS)
def test_every_elevation_printed_is_that_of_its_key(units: System) -> None:
    trace, found = farm()[0], drawn(units).keyed()
    assert len(found) > 130
    for key, text in found:
        upper, _, lower = key.partition(" - ")
        value = float(trace.value(upper))
        if lower:
            value -= float(trace.value(lower))
        kind = "length" if lower else "elevation"
        assert text == format_quantity(value, kind, system=units, unit=False), key


@pytest.mark.works(of=(long_section_sheet,))
@pytest.mark.parametrize(("units", "looks"), [("us", r"11\d\d\.\d\d"), ("si", r"3[56]\d\.\d{3}")])
def test_no_elevation_is_printed_without_a_key(units: System, looks: str) -> None:
    sheet = long_section_sheet(farm()[1], units)
    plain = [part.words for each in sheet for part in parts(each.drawing) if not part.key]
    assert [] == [each for each in plain if re.search(looks, each)]


@pytest.mark.works(of=(draw_long_section,))
def test_levels_that_matter_are_all_on_the_sheet() -> None:
    keys = {key for key, _ in drawn().keyed()}
    nodes = {level.key for line in farm()[1].lines for _, level in line.nodes}
    nodes |= {level.key for line in farm()[1].seasons for _, level in line.nodes}
    given_in = {
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
    computed = {"bed.media_top_m", "boards.inlet-design.crest_m", "field.low-1.storm_level_m"}
    assert set() == (nodes | given_in | computed) - keys


@pytest.mark.by_hand(of=(long_section_drawing,))
def test_falls_stand_between_the_nodes() -> None:
    trace, found = farm()[0], {part.key: part.words for part in parts(way())}
    here = "capacity.criterion.levels_m"
    up, down = (trace.value(f"{here}.{n}_end") for n in ("inlet", "outlet"))
    assert f"{(up - down) / FOOT:.2f}" == found[f"{here}.inlet_end - {here}.outlet_end"]
    over = trace.value(f"{here}.outlet_box") - trace.value("boards.outlet-design.crest_m")
    key = f"{here}.outlet_box - boards.outlet-design.crest_m"
    assert f"{over / FOOT:.2f}" == found[key]


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


@pytest.mark.works(of=(long_section_drawing, season_drawings, main_reach_drawing))
@pytest.mark.parametrize("name", JOBS)
def test_no_two_labels_touch_and_nothing_leaves_its_frame(name: str) -> None:
    scene = long_section_scene(design_bed(JOBS[name]).trace)
    for units, times in (("us", 1.0), ("us", 1.6), ("si", 1.0), ("us", 0.68)):
        for drawing in every_drawing(scene, units, times):
            assert () == collisions(drawing), (units, times, drawing.title)
            assert () == outside_frame(drawing), (units, times, drawing.title)
    sheet = long_section_sheet(scene)
    assert () == collisions(sheet)
    assert () == outside_frame(sheet)


@pytest.mark.law(of=(long_section_drawing, season_drawings, main_reach_drawing))
@settings(max_examples=12, deadline=None)
@given(changed=changes)
def test_no_two_labels_touch_on_any_job(changed: dict[str, Value]) -> None:
    scene = scene_of(changed)
    for drawing in every_drawing(scene, "us"):
        assert () == collisions(drawing)
        assert () == outside_frame(drawing)


@pytest.mark.works(of=(long_section_drawing, main_reach_drawing))
def test_no_line_runs_through_words() -> None:
    for units in UNITS:
        for drawing in every_drawing(farm()[1], units):
            assert () == struck_texts(drawing), drawing.title


@pytest.mark.works(of=(main_reach_drawing,))
def test_of_many_spots_the_wettest_have_a_column() -> None:
    def spot(index: int) -> tuple[Given, ...]:
        here, ground = f"inputs.spot.more-{index}", 1189.5 + 0.02 * index
        return (
            Given(f"{here}.kind", "low spot", "", "Kind"),
            Given(f"{here}.station_m", (200 + 25 * index) * FOOT, "m", "Station"),
            Given(f"{here}.ground_m", ground * FOOT, "m", "Ground"),
        )

    more = [each for index in range(30) for each in spot(index)]
    scene = long_section_scene(design_bed(with_givens(corbel_inputs(), *more)).trace)
    drawing = main_reach_drawing(scene)
    assert () == collisions(drawing)
    assert () == outside_frame(drawing)
    assert 34 == len([e for e in drawing.of_layer("survey") if isinstance(e, Polyline)])
    assert {"low-1", "low-2"} <= words(drawing)
    left_out = {f"more-{index}" for index in range(30)} - words(drawing)
    said = f"{len(left_out)} more spots are drawn; these have the least clear soil"
    assert said in words(drawing)


@pytest.mark.works(of=(long_section_drawing, main_reach_drawing))
def test_what_binds_is_drawn_in_plum_where_it_binds_and_nowhere_else() -> None:
    scene = farm()[1]
    assert scene.binds_at == "bed"
    low, high = shape(way(), "binds")
    assert scene.media is not None
    assert (scene.media.low, scene.media.high) == (low[0], high[0])
    assert () == main_reach_drawing(scene).of_layer("binds")
    low_spot = replace(scene, binds_at="low-1")
    (binding,) = [
        e for e in main_reach_drawing(low_spot).of_layer("binds") if isinstance(e, Polyline)
    ]
    assert "spot-low-1" == binding.name
    assert () == long_section_drawing(low_spot).of_layer("binds")
    for drawing in (long_section_drawing(low_spot), main_reach_drawing(low_spot)):
        assert any(each.endswith("(low-1)") for each in words(drawing))


@pytest.mark.works(of=(mark_in_section, mark_in_reach))
def test_every_place_that_can_bind_is_marked() -> None:
    places = {requirement.where for requirement in farm()[0].requirements if requirement.binding}
    assert {"ditch", "feed", "main", "low-1"} < places
    for place in places:
        scene = replace(farm()[1], binds_at=place)
        first, main = long_section_drawing(scene), main_reach_drawing(scene)
        assert first.of_layer("binds") or main.of_layer("binds"), place
        assert first.of_layer("binds-label"), place
        assert () == collisions(first) + outside_frame(first), place
        assert () == collisions(main) + outside_frame(main), place


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


@pytest.mark.works(of=(long_section_drawing,))
def test_a_ditch_over_its_banks_is_drawn_level() -> None:
    scene = long_section_scene(design_bed(ditch_at(1185.0, 1186.2)).trace)
    (_, left), (_, right) = shape(long_section_drawing(scene), "ditch-high")
    assert left == right == 1186.2 * FOOT


@pytest.mark.works(of=(long_section_drawing, season_levels_drawing, main_reach_drawing))
def test_where_no_level_is_known_there_is_no_scale() -> None:
    scene = long_section_scene(design_bed(JOBS["nothing known"]).trace)
    assert () == season_drawings(scene)
    for draw in (long_section_drawing, season_levels_drawing, main_reach_drawing):
        drawing = draw(scene)
        assert {drawing.title, "not known: see what is not drawn"} == words(drawing)
        assert "the bed" in drawing.about


@pytest.mark.works(of=(draw_long_section, long_section_drawing))
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
    found = Reading(draw_long_section(scene_of({key: NOBODY})))
    assert part in drawn().parts()
    assert part not in found.parts()
    listed = " ".join(found.words())
    assert "Not drawn, not known" in listed
    assert what in listed
    assert what in found.root.findtext("{http://www.w3.org/2000/svg}desc", "")


@pytest.mark.works(of=(season_drawings,))
def test_each_season_has_its_drawing() -> None:
    winter, spring, summer, autumn = season_drawings(farm()[1])
    names = [each.title.partition(":")[0] for each in (winter, spring, summer, autumn)]
    assert ["Season winter", "Season spring", "Season summer", "Season autumn"] == names
    up = zs(shape(autumn, "inlet-boards"))
    assert typed("season.autumn.inlet_boards_m") == pytest.approx(max(up) - min(up), abs=EXACT)
    (_, ordinary), *_ = shape(autumn, "ditch-ordinary")
    assert typed("season.autumn.ditch_stage_m") == ordinary


@pytest.mark.works(of=(draw_long_section,))
def test_lines_are_told_apart_without_colour() -> None:
    layers = [layer_of(name) for name in LINES]
    assert len(LINES) == len({layer.dashes for layer in layers})
    for line in farm()[1].lines:
        assert line.words in drawn().words()


@pytest.mark.law(of=(wrapped,))
def test_wrapped_words_are_all_there() -> None:
    text = "what is not known and why " + "x" * 120
    lines = wrapped(text, 40.0)
    assert text.replace(" ", "") == "".join(lines).replace(" ", "")
    assert len(lines) > 4


@pytest.mark.works(of=(draw_long_section,))
def test_drawing_names_no_outside_address_and_is_the_same_each_time() -> None:
    text = drawn().text
    assert ["http://www.w3.org/2000/svg"] == re.findall(r"https?://[^\"'\s]+", text)
    assert text == draw_long_section(farm()[1])
    assert 'width="431.8mm"' in text
