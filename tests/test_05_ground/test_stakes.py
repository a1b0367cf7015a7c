# SPDX-License-Identifier: Apache-2.0
"""Cuts, hubs and tapes; a traverse that does not close; latitude and longitude near a point."""

from itertools import pairwise
from math import cos, hypot, pi, radians, sin

import pyproj
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.basis.units import from_si, to_si
from tilewater.ground.baseline import baseline_of_legs, grid_of_station_offset
from tilewater.ground.geographic import geographic_near
from tilewater.ground.stakes import (
    cut_at_hub,
    ground_distance,
    hub_beyond,
    shift_of_wrong_foot,
)
from tilewater.ground.traverse import (
    Course,
    adjusted_by_compass_rule,
    traverse_misclosure,
    traverse_precision,
)

FEET = 0.3048
HAIR = 1e-9
MILLIMETRE = 1e-3
IOWA_NORTH_FEET = "EPSG:3417"
IOWA_NORTH_METRES = "EPSG:26975"
HERE = (42.9612, -93.7925)
"""Latitude and longitude near which the checks of grids are made. [deg]"""

LOOP = (
    Course(radians(76.0), 80.40),
    Course(radians(180.0 - 36.0), 46.30),
    Course(radians(180.0 + 61.0), 72.80),
    Course(radians(360.0 - 38.0), 68.00),
)
"""N 76 E 80.40, S 36 E 46.30, S 61 W 72.80, N 38 W 68.00."""
ROUNDED = 0.002
"""The printed sums are of four courses rounded to three digits."""
SIDES = st.floats(1.0, 500.0)
TURNS = st.floats(0.0, 2 * pi)


@pytest.mark.published("compass-rule", "latitudes and departures of four courses", of=(Course,))
def test_latitudes_and_departures_are_those_printed():
    for course, latitude, departure in zip(
        LOOP[:3], ("19.451", "-37.457", "-35.294"), ("78.012", "27.214", "-63.672"), strict=True
    ):
        assert printed(latitude) == course.latitude
        assert printed(departure) == course.departure
    assert printed("53.585") == LOOP[3].latitude


@pytest.mark.published(
    "compass-rule", "misclosure and corrections", of=(traverse_misclosure, adjusted_by_compass_rule)
)
def test_the_misclosure_is_shared_out_as_printed():
    north, east = traverse_misclosure(LOOP)
    assert north == pytest.approx(0.285, abs=ROUNDED)
    assert abs(east) == pytest.approx(0.311, abs=ROUNDED)
    points = adjusted_by_compass_rule(LOOP, (0.0, 0.0))
    goes_north = [b[0] - a[0] for a, b in pairwise(points)]
    for adjusted, said in zip(goes_north, (19.3653, -37.5063, -35.3716, 53.5126), strict=True):
        assert adjusted == pytest.approx(said, abs=ROUNDED)
    goes_east = [b[1] - a[1] for a, b in pairwise(points)]
    for adjusted, said in zip(goes_east[:3], (78.1055, 27.2678, -63.5874), strict=True):
        assert adjusted == pytest.approx(said, abs=ROUNDED)


@pytest.mark.law(of=(adjusted_by_compass_rule, traverse_precision))
@given(st.lists(st.builds(Course, TURNS, SIDES), min_size=2, max_size=8))
def test_an_adjusted_loop_closes(courses):
    points = adjusted_by_compass_rule(courses, (100.0, 200.0))
    assert points[-1] == pytest.approx((100.0, 200.0), abs=1e-7)
    error = hypot(*traverse_misclosure(courses))
    if error > HAIR:
        assert traverse_precision(courses) == pytest.approx(sum(c.length for c in courses) / error)


@pytest.mark.by_hand(of=(grid_of_station_offset, ground_distance))
def test_a_bed_by_baseline_and_offset():
    """A bed of 26 by 100 ft, its lower end at N 3,813,100.00 E 4,843,520.00, azimuth 68.50."""
    line = baseline_of_legs(3813100.00 * FEET, 4843520.00 * FEET, radians(68.50))
    corners = {}
    for name, along, off, north, east in (
        ("outlet", -8, 0, "3813097.07", "4843512.56"),
        ("lower left", 0, -13, "3813112.10", "4843515.24"),
        ("lower right", 0, 13, "3813087.90", "4843524.76"),
        ("upper right", 100, 13, "3813124.55", "4843617.81"),
        ("upper left", 100, -13, "3813148.75", "4843608.28"),
        ("inlet", 108, 0, "3813139.58", "4843620.49"),
    ):
        n, e = grid_of_station_offset(line, along * FEET, off * FEET)
        assert printed(north) == n / FEET
        assert printed(east) == e / FEET
        corners[name] = (n, e)
    across = ground_distance(*corners["lower left"], *corners["upper right"]) / FEET
    assert printed("103.32") == across
    assert (
        printed("26.00") == ground_distance(*corners["lower left"], *corners["lower right"]) / FEET
    )


@pytest.mark.by_hand(of=(cut_at_hub,))
def test_a_hub_above_grade_is_a_cut_and_one_below_a_fill():
    assert cut_at_hub(1186.12, 1180.70) == pytest.approx(5.42)
    assert cut_at_hub(1180.50, 1180.70) == pytest.approx(-0.20)


@pytest.mark.law(of=(hub_beyond,))
@given(SIDES, TURNS, st.floats(0.5, 30.0))
def test_a_hub_stands_on_the_line_of_the_side_so_far_beyond(length, turn, away):
    corner = (length * cos(turn), length * sin(turn))
    hub = hub_beyond(corner, (0.0, 0.0), away)
    assert hypot(*hub) == pytest.approx(length + away)
    assert hub[0] * corner[1] == pytest.approx(hub[1] * corner[0], abs=1e-6)
    with pytest.raises(OutOfDomain):
        hub_beyond(corner, corner, away)


@pytest.mark.oracle("pyproj 3.7, transformation between two grids", of=(to_si, from_si))
def test_the_us_survey_foot_is_that_of_an_independent_projection_library():
    """One place of a state plane zone in metres and in US survey feet."""
    feet = pyproj.Transformer.from_crs("EPSG:4269", IOWA_NORTH_FEET, always_xy=True)
    metres = pyproj.Transformer.from_crs("EPSG:4269", IOWA_NORTH_METRES, always_xy=True)
    for in_feet, in_metres in zip(
        feet.transform(HERE[1], HERE[0]), metres.transform(HERE[1], HERE[0]), strict=True
    ):
        assert to_si(in_feet, "ftUS") == pytest.approx(in_metres, abs=MILLIMETRE)
        off = to_si(in_feet, "ft") - in_metres
        assert abs(off) == pytest.approx(shift_of_wrong_foot(in_metres), rel=1e-3)


@pytest.mark.oracle("pyproj 3.7, geodesic on GRS 80", of=(geographic_near,))
@given(st.floats(25.0, 49.0), st.floats(0.0, 360.0), st.floats(1.0, 2000.0))
def test_places_near_a_point_are_those_of_the_geodesic(latitude, azimuth, distance):
    geod = pyproj.Geod(ellps="GRS80")
    longitude, expected, _ = geod.fwd(-93.0, latitude, azimuth, distance)
    found = geographic_near(
        distance * cos(radians(azimuth)),
        distance * sin(radians(azimuth)),
        latitude_deg=latitude,
        longitude_deg=-93.0,
    )
    _, _, apart = geod.inv(found[1], found[0], longitude, expected)
    assert apart < (0.01 if distance < 500.0 else 0.2)


@pytest.mark.oracle("pyproj 3.7, grid factor of a state plane zone", of=(ground_distance,))
def test_what_a_missing_combined_factor_leaves_out_is_small():
    """Grid factor at the place, and the height of the ground: two hundredths in a hundred feet."""
    scale = pyproj.Proj(IOWA_NORTH_METRES).get_factors(HERE[1], HERE[0]).meridional_scale
    height = 361.0
    factor = scale * 6_372_000.0 / (6_372_000.0 + height)
    left_out = ground_distance(0.0, 0.0, 0.0, 100.0, factor=factor) - 100.0
    assert 0.0 < abs(left_out) < 0.02


@pytest.mark.oracle("pyproj 3.7, convergence of a state plane zone", of=(geographic_near,))
def test_grid_north_is_turned_by_the_convergence():
    proj = pyproj.Transformer.from_crs("EPSG:4269", IOWA_NORTH_METRES, always_xy=True)
    factors = pyproj.Proj(IOWA_NORTH_METRES).get_factors(HERE[1], HERE[0])
    east, north = proj.transform(HERE[1], HERE[0])
    longitude, latitude = proj.transform(east + 60.0, north + 80.0, direction="INVERSE")
    found = geographic_near(
        80.0,
        60.0,
        latitude_deg=HERE[0],
        longitude_deg=HERE[1],
        convergence_deg=factors.meridian_convergence,
    )
    _, _, apart = pyproj.Geod(ellps="GRS80").inv(found[1], found[0], longitude, latitude)
    turned_wrong = geographic_near(80.0, 60.0, latitude_deg=HERE[0], longitude_deg=HERE[1])
    _, _, without = pyproj.Geod(ellps="GRS80").inv(
        turned_wrong[1], turned_wrong[0], longitude, latitude
    )
    assert apart < 0.02 < without
