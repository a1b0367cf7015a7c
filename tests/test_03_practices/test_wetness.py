# SPDX-License-Identifier: Apache-2.0
"""Clear soil behind raised water, against the arithmetic of Corbel Farm. Feet throughout."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tests.jobs import ACRE, FOOT
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.groundwater import equivalent_depth_moody
from tilewater.hydraulics.pipes import pipe_flow_full_manning
from tilewater.hydraulics.weirs import weir_head_rectangular_francis
from tilewater.hydrology.drain_flow import flux_from_flow
from tilewater.practices.wetness import (
    Laterals,
    crest_for_midway,
    crest_for_standing,
    crest_for_storm,
    drain_elevation_at_spot,
    midway_clear_soil,
    pool_reach,
    standing_clear_soil,
    storm_clear_soil,
    storm_rise,
    storm_water_level,
)

CREST, SLOPE = 1184.20, 0.0018
LOW_SPOTS = {"2+90": (1187.00, 150.0), "4+80": (1187.40, 340.0)}


def main_full() -> float:
    return float(pipe_flow_full_manning(10 / 12 * FOOT, SLOPE, n=0.013))


def head() -> float:
    return float(weir_head_rectangular_francis(main_full(), crest_width=1.17 * FOOT)) / FOOT


def laterals() -> Laterals:
    depth = equivalent_depth_moody(5 * FOOT, spacing=60 * FOOT, radius=0.0051)
    return Laterals(60 * FOOT, float(depth), 9e-6, 9e-6)


def clear_soils(ground: float, distance: float, crest: float = CREST) -> tuple[float, ...]:
    """Standing, storm and midway clear soil in feet."""
    drain = drain_elevation_at_spot(ground * FOOT, 4 * FOOT)
    rise = storm_rise(head() * FOOT, SLOPE, distance * FOOT)
    level = storm_water_level(crest * FOOT, rise, drain)
    flux = flux_from_flow(main_full(), 62 * ACRE)
    return (
        standing_clear_soil(ground * FOOT, crest * FOOT, drain) / FOOT,
        storm_clear_soil(ground * FOOT, level) / FOOT,
        midway_clear_soil(ground * FOOT, level, drain, flux, laterals()) / FOOT,
    )


@pytest.mark.by_hand(of=(standing_clear_soil, storm_clear_soil, midway_clear_soil, storm_rise))
@pytest.mark.parametrize(
    ("spot", "standing", "storm", "midway"),
    [("2+90", "2.80", "2.15", "1.09"), ("4+80", "3.20", "2.20", "1.14")],
)
def test_clear_soil_at_the_low_spots_of_corbel_farm(spot, standing, storm, midway):
    assert printed("0.385") == (0.930 / (3.33 * 1.17)) ** (2 / 3)
    assert printed("0.385") == head()
    ground, distance = LOW_SPOTS[spot]
    found = clear_soils(ground, distance)
    assert printed(standing) == found[0] == pytest.approx(ground - CREST)
    assert printed(storm) == found[1]
    assert found[1] == pytest.approx(ground - CREST - head() - SLOPE * distance)
    assert printed(midway) == found[2]


@pytest.mark.by_hand(of=(midway_clear_soil, crest_for_midway))
def test_midway_height_follows_the_ellipse_form_by_hand():
    # at 2+90 in metres: L 18.288, d 0.792, K 9e-6, q Q/A; water E above the drain, H midway:
    # 4 K H^2 + 8 K d H = q L^2 + 8 K d E + 4 K E^2
    ground, distance = LOW_SPOTS["2+90"]
    soil, q = laterals(), flux_from_flow(main_full(), 62 * ACRE)
    assert printed("0.357") == q / 0.0254 * 86400
    assert printed("2.60") == soil.equivalent_depth / FOOT
    outlet = (CREST + head() + SLOPE * distance - (ground - 4)) * FOOT
    k, d = soil.conductivity_below, soil.equivalent_depth
    right = q * soil.spacing**2 + 8 * k * d * outlet + 4 * k * outlet**2
    height = (-8 * k * d + math.sqrt((8 * k * d) ** 2 + 16 * k * right)) / (8 * k)
    assert clear_soils(ground, distance)[2] == pytest.approx(4 - height / FOOT, rel=1e-9)


@pytest.mark.by_hand(of=(crest_for_standing, crest_for_storm, crest_for_midway))
def test_midway_binds_the_crest_at_2_90():
    ground, distance = LOW_SPOTS["2+90"]
    rise = storm_rise(head() * FOOT, SLOPE, distance * FOOT)
    drain = (ground - 4) * FOOT
    flux = flux_from_flow(main_full(), 62 * ACRE)
    crests = {
        "standing": crest_for_standing(ground * FOOT, 2.0 * FOOT) / FOOT,
        "storm": crest_for_storm(ground * FOOT, 1.5 * FOOT, rise) / FOOT,
        "midway": crest_for_midway(ground * FOOT, 1.0 * FOOT, drain, rise, flux, laterals()) / FOOT,
    }
    assert printed("1184.31") == min(crests.values())
    assert min(crests, key=crests.__getitem__) == "midway"
    assert printed("0.09") == clear_soils(ground, distance)[2] - 1.0


@pytest.mark.by_hand(of=(crest_for_storm,))
@pytest.mark.parametrize(
    ("ground", "distance", "crest"),
    [(1187.00, 150, "1184.345"), (1187.40, 340, "1184.403"), (1186.30, 150, "1183.645")],
)
def test_two_feet_over_the_storm_grade_line_bound_the_crest(ground, distance, crest):
    rise = storm_rise(0.385 * FOOT, SLOPE, distance * FOOT)
    found = crest_for_storm(ground * FOOT, 2.0 * FOOT, rise) / FOOT
    assert printed(crest) == found == pytest.approx(ground - 2.0 - 0.385 - SLOPE * distance)


@pytest.mark.by_hand(of=(pool_reach,))
def test_pool_reaches_1667_feet_up_the_main():
    found = pool_reach(CREST * FOOT, 1181.20 * FOOT, SLOPE) / FOOT
    assert printed("1,667") == found == pytest.approx((1184.20 - 1181.20) / 0.0018)
    assert pool_reach(1181.0 * FOOT, 1181.20 * FOOT, SLOPE) == 0
    with pytest.raises(OutOfDomain, match="Check the grade of the main"):
        pool_reach(1182.0 * FOOT, 1181.20 * FOOT, 0.0)


soils = st.builds(
    Laterals,
    spacing=st.floats(5, 40),
    equivalent_depth=st.floats(0.1, 3),
    conductivity_below=st.floats(1e-7, 1e-4),
    conductivity_above=st.floats(1e-7, 1e-4),
)
fluxes = st.floats(1e-9, 4e-7)
depths = st.floats(0.6, 1.8)
rises = st.floats(0, 0.6)


@pytest.mark.law(
    of=(crest_for_midway, midway_clear_soil, crest_for_storm, crest_for_standing, storm_water_level)
)
@given(soil=soils, flux=fluxes, depth=depths, rise=rises, limit=st.floats(0.1, 0.9))
def test_the_highest_crest_leaves_just_the_limit(soil, flux, depth, rise, limit):
    ground, drain = 10.0, 10.0 - depth
    crest = crest_for_midway(ground, limit, drain, rise, flux, soil)
    free = midway_clear_soil(ground, drain, drain, flux, soil)
    if crest == -math.inf:
        assert free < limit + 1e-9
        return
    level = storm_water_level(crest, rise, drain)
    assert midway_clear_soil(ground, level, drain, flux, soil) == pytest.approx(limit, abs=1e-7)
    storm = storm_water_level(crest_for_storm(ground, limit, rise), rise, -math.inf)
    assert storm_clear_soil(ground, storm) == pytest.approx(limit)
    standing = crest_for_standing(ground, limit)
    assert standing_clear_soil(ground, standing, -math.inf) == pytest.approx(limit)


@pytest.mark.law(of=(midway_clear_soil, standing_clear_soil, storm_clear_soil, storm_water_level))
@given(
    soil=soils,
    flux=fluxes,
    depth=depths,
    rise=rises,
    crest=st.floats(-2, 2),
    lower=st.floats(0, 1),
)
def test_a_lower_crest_never_wets_the_field(soil, flux, depth, rise, crest, lower):
    drain = -depth

    def clear(at: float) -> tuple[float, float, float]:
        level = storm_water_level(at, rise, drain)
        return (
            standing_clear_soil(0.0, at, drain),
            storm_clear_soil(0.0, level),
            midway_clear_soil(0.0, level, drain, flux, soil),
        )

    for deep, shallow in zip(clear(crest - lower), clear(crest), strict=True):
        assert deep >= shallow - 1e-12


@pytest.mark.law(of=(midway_clear_soil, storm_water_level, standing_clear_soil))
@given(soil=soils, flux=fluxes, depth=depths, rise=rises)
def test_a_crest_swept_by_the_millimetre_moves_no_clear_soil_by_more(soil, flux, depth, rise):
    drain = -depth
    crests = [drain - 0.05 + i / 1000 for i in range(200)]
    levels = [storm_water_level(crest, rise, drain) for crest in crests]
    for clear in (
        [standing_clear_soil(0.0, crest, drain) for crest in crests],
        [storm_clear_soil(0.0, level) for level in levels],
        [midway_clear_soil(0.0, level, drain, flux, soil) for level in levels],
    ):
        steps = [first - second for first, second in pairwise(clear)]
        assert min(steps) >= -1e-9
        assert max(steps) <= 0.001 + 1e-9
