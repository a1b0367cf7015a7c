# SPDX-License-Identifier: Apache-2.0
"""Heights of the ground on a grid."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import RegularGridInterpolator

from tilewater.basis.errors import OutOfDomain
from tilewater.ground.terrain import (
    Terrain,
    contour_interval,
    looks_like_other_unit,
    terrain_against_shots,
    terrain_contours,
    terrain_height,
)

COEFFICIENT = st.floats(-0.02, 0.02)


def plane(level: float, up: float, across: float) -> Terrain:
    rows, columns = np.mgrid[0:12, 0:9]
    return Terrain(100.0, 500.0, 2.5, level + 2.5 * (up * rows + across * columns))


@pytest.mark.oracle("scipy 1.17 RegularGridInterpolator", of=(terrain_height,))
def test_heights_between_the_corners_are_those_of_another_library() -> None:
    heights = np.random.default_rng(3).normal(360.0, 1.0, (12, 9))
    terrain = Terrain(100.0, 500.0, 2.5, heights)
    north, east = 100.0 + 2.5 * np.arange(12), 500.0 + 2.5 * np.arange(9)
    other = RegularGridInterpolator((north, east), heights)
    for place in ((100.0, 500.0), (127.5, 520.0), (113.3, 507.7), (126.9, 500.1)):
        assert terrain_height(terrain, *place) == pytest.approx(float(other(place)), abs=1e-9)


@pytest.mark.law(of=(terrain_contours,))
@given(up=COEFFICIENT, across=COEFFICIENT)
def test_every_contour_of_a_plane_lies_at_its_height(up: float, across: float) -> None:
    terrain = plane(360.0, up, across)
    for height, line in terrain_contours(terrain, 0.1):
        for east, north in line:
            there = 360.0 + up * (north - 100.0) + across * (east - 500.0)
            assert there == pytest.approx(height, abs=1e-6)


@pytest.mark.law(of=(terrain_height,))
def test_beyond_the_grid_and_beside_a_gap_nothing_is_known() -> None:
    terrain = plane(360.0, 0.01, 0.0)
    terrain.heights[5, 5] = np.nan
    assert np.isnan(terrain_height(terrain, 99.9, 505.0))
    assert np.isnan(terrain_height(terrain, 112.4, 512.4))
    assert np.isfinite(terrain_height(terrain, 120.0, 505.0))


@pytest.mark.by_hand(of=(terrain_against_shots,))
def test_one_wild_shot_does_not_move_the_middle() -> None:
    terrain = plane(360.0, 0.0, 0.0)
    north, east = np.full(6, 110.0), np.full(6, 510.0)
    height = np.array([360.1, 360.2, 360.15, 360.1, 360.2, 300.0])
    found = terrain_against_shots(terrain, north, east, height)
    assert found is not None
    # differences -0.1, -0.2, -0.15, -0.1, -0.2 and 60: between -0.15 and -0.1 in the middle
    assert found.median == pytest.approx(-0.125)
    # from there 0.025, 0.075, 0.025, 0.025, 0.075 and 60.125: (0.025 + 0.075) / 2
    assert found.spread == pytest.approx(0.05)
    assert terrain_against_shots(terrain, north[:4], east[:4], height[:4]) is None


@pytest.mark.by_hand(of=(looks_like_other_unit,))
def test_metres_beside_feet_are_recognised() -> None:
    # job in feet at 1186.0 ft, terrain 361.5 taken as feet: 361.5 / 1186.0 = 0.3048
    assert looks_like_other_unit(361.5, 1186.0) == "m"
    assert looks_like_other_unit(1186.0, 361.5) == "ft"
    assert looks_like_other_unit(1187.0, 1186.0) == ""


@pytest.mark.works(of=(contour_interval, terrain_contours))
def test_flat_land_has_close_contours_and_steep_land_wide_ones() -> None:
    choices = (0.1, 0.5, 1.0)
    assert contour_interval(plane(360.0, 0.01, 0.0), choices) == 0.1
    assert contour_interval(plane(360.0, 10.0, 0.0), choices) == 1.0
    with pytest.raises(OutOfDomain, match="above 0"):
        terrain_contours(plane(360.0, 0.01, 0.0), 0.0)
