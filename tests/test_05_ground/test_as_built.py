# SPDX-License-Identifier: Apache-2.0
"""Finished work against its design: levels from the outside of a pipe, tolerances, noise, size."""

from math import cos, inf, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.units import to_si
from tilewater.ground.as_built import (
    deviation,
    floor_slope,
    invert_of_pipe_bottom,
    invert_of_pipe_top,
    length_of_corners,
    mean_level,
    spread_of_levels,
    width_of_corners,
    worst_of,
)
from tilewater.ground.tolerances import (
    largest_noise,
    noise_against_tolerance,
    noise_factor,
    noise_of_mean,
    tolerance_status,
)

FT = to_si(1.0, "ft")


@pytest.mark.by_hand(of=(invert_of_pipe_top, invert_of_pipe_bottom))
def test_invert_follows_from_the_outside_of_a_pipe() -> None:
    wall, diameter = 0.4 / 12, 8.0 / 12
    top = invert_of_pipe_top(1181.90 * FT, diameter=diameter * FT, wall=wall * FT)
    assert top / FT == pytest.approx(1181.90 - 0.4 / 12 - 8.0 / 12)
    bottom = invert_of_pipe_bottom(1181.167 * FT, wall=wall * FT)
    assert bottom / FT == pytest.approx(1181.167 + 0.4 / 12)


@pytest.mark.by_hand(of=(deviation, tolerance_status))
def test_inlet_invert_six_hundredths_high_is_outside_its_tolerance() -> None:
    off = deviation(1181.26 * FT, 1181.20 * FT)
    assert off / FT == pytest.approx(0.06)
    limits = {"below": 0.05 * FT, "above": 0.05 * FT, "factor": 2.576}
    assert tolerance_status(off, noise=0.004 * FT, **limits) == "short"
    assert tolerance_status(off, noise=0.03 * FT, **limits) == "not known"


@pytest.mark.by_hand(of=(mean_level, spread_of_levels, worst_of, tolerance_status))
def test_floor_eight_hundredths_low_is_within_a_tenth() -> None:
    shots = {"a": 1180.60, "b": 1180.66, "c": 1180.60}
    mean = mean_level(**shots)
    assert mean == pytest.approx(1180.62)
    assert spread_of_levels(**shots) == pytest.approx((2 * 0.02**2 / 2 + 0.04**2 / 2) ** 0.5)
    limits = {"below": 0.10, "above": 0.10, "noise": 0.01, "factor": 2.576}
    assert tolerance_status(deviation(mean, 1180.70), **limits) == "holds"
    assert worst_of(a=0.04, b=-0.10, c=0.02) == -0.10


@pytest.mark.by_hand(of=(noise_of_mean, largest_noise))
def test_a_mean_scatters_less_than_its_shots() -> None:
    assert noise_of_mean(a=0.03, b=0.04) == pytest.approx((0.03**2 + 0.04**2) ** 0.5 / 2)
    assert largest_noise(a=0.03, b=0.04) == 0.04
    assert spread_of_levels(a=5.0) == 0.0


@pytest.mark.by_hand(of=(noise_factor,))
def test_one_comparison_has_the_usual_factor_and_many_have_more() -> None:
    assert noise_factor(1) == pytest.approx(2.5758, abs=1e-4)  # one in a hundred, two-sided
    assert noise_factor(28) > noise_factor(7) > noise_factor(1)
    with pytest.raises(OutOfDomain, match=r"comparisons is 0 -\. At least one comparison"):
        noise_factor(0)


@pytest.mark.practice(of=(noise_against_tolerance,))
def test_a_rover_is_told_to_leave_pipe_grade_to_a_level() -> None:
    told = noise_against_tolerance(0.03 * FT, 0.05 * FT, subject="feed")
    assert [each.code for each in told] == ["noise-over-half-tolerance"]
    assert "Use a level or a laser" in told[0].message
    assert "0.03 ft" in told[0].message
    assert noise_against_tolerance(0.025 * FT, 0.05 * FT, subject="feed") == ()


@pytest.mark.law(of=(tolerance_status,))
@given(st.floats(-1.0, 1.0), st.floats(0.0, 0.2), st.floats(0.0, 0.2), st.floats(0.0, 0.1))
def test_noise_never_turns_what_holds(off: float, below: float, above: float, noise: float) -> None:
    quiet = tolerance_status(off, below=below, above=above, noise=0.0, factor=3.0)
    noisy = tolerance_status(off, below=below, above=above, noise=noise, factor=3.0)
    assert quiet in ("holds", "short") or off == 0.0
    assert (noisy == "holds") == (quiet == "holds")
    assert noisy != "short" or abs(off) > 3.0 * noise


@pytest.mark.law(of=(tolerance_status,))
def test_more_cover_than_designed_is_no_fault() -> None:
    limits = {"below": 0.1, "above": inf, "noise": 0.01, "factor": 2.6}
    assert tolerance_status(2.0, **limits) == "holds"
    assert tolerance_status(-0.11, **limits) == "short"


@pytest.mark.law(of=(length_of_corners, width_of_corners))
@given(
    st.floats(5.0, 200.0),
    st.floats(0.1, 0.95),
    st.floats(0.0, 360.0),
    st.permutations([0, 1, 2, 3]),
)
def test_size_does_not_depend_on_where_the_bed_lies_or_who_shot_first(
    length: float, share: float, turn: float, order: list[int]
) -> None:
    width = share * length
    c, s = cos(radians(turn)), sin(radians(turn))
    corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    placed = [(1e6 + c * x - s * y, 2e6 + s * x + c * y) for x, y in corners]
    shot = {f"corner_{n}": placed[place] for n, place in enumerate(order)}
    assert length_of_corners(**shot) == pytest.approx(length, rel=1e-6)
    assert width_of_corners(**shot) == pytest.approx(width, rel=1e-6)


@pytest.mark.works(of=(length_of_corners, floor_slope))
def test_too_few_corners_and_one_distance_say_what_to_shoot() -> None:
    with pytest.raises(OutOfDomain, match=r"corners is 2 -\. A rectangle has 4"):
        length_of_corners(a=(0.0, 0.0), b=(1.0, 0.0))
    with pytest.raises(OutOfDomain, match="Shoot the floor at both of its ends"):
        floor_slope(a=(5.0, 1.0), b=(5.0, 2.0))


@pytest.mark.law(of=(floor_slope,))
@given(st.floats(-0.1, 0.1), st.floats(-100.0, 100.0))
def test_slope_of_a_plane_floor_is_its_slope(slope: float, level: float) -> None:
    shots = {f"s{n}": (3.0 * n, level + slope * 3.0 * n) for n in range(5)}
    assert floor_slope(**shots) == pytest.approx(slope, abs=1e-9)
