# SPDX-License-Identifier: Apache-2.0
"""Grade of a laid pipe: a bad one is found, a perfect one with honest noise passes."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.units import to_si
from tilewater.basis.unknown import is_unknown
from tilewater.ground.grade_check import (
    LaidPipe,
    comparisons_of,
    design_invert,
    flattest_reach,
    grade_of_ends,
    grade_of_reach,
    grade_status,
    laid_pipe,
    local_grade_length,
)
from tilewater.ground.standing_water import (
    back_fall_status,
    depth_by_noise,
    level_range,
    no_more_status,
    standing_depth,
    standing_depths,
    standing_place,
)
from tilewater.ground.tolerances import (
    FALSE_ALARM,
    noise_factor,
    tolerance_status,
)

FT = to_si(1.0, "ft")
STATIONS = (0.0, 25.0, 50.0, 75.0, 100.0, 125.0, 140.0)
SHOT = (1180.952, 1180.985, 1181.066, 1181.071, 1181.133, 1181.168, 1181.199)
LOWER, GRADE = 1180.948, 0.0018
LEAST, OVER = 0.0010, 50.0
TOLERANCE = 0.05


def pipe_of(stations: tuple[float, ...], levels: tuple[float, ...]) -> LaidPipe:
    """A pipe from stations and inverts in feet."""
    return laid_pipe(
        **{
            f"shot_{number}": (x * FT, z * FT)
            for number, (x, z) in enumerate(zip(stations, levels, strict=True))
        }
    )


@pytest.mark.by_hand(of=(design_invert, tolerance_status))
def test_shots_of_the_main_are_within_five_hundredths() -> None:
    off = []
    for station, level in zip(STATIONS, SHOT, strict=True):
        upper = LOWER + GRADE * 140.0
        designed = design_invert(station * FT, lower=LOWER * FT, upper=upper * FT, run=140 * FT)
        off.append(round(level - designed / FT, 3))
    assert off == [0.004, -0.008, 0.028, -0.012, 0.005, -0.005, -0.001]
    limits = {"below": TOLERANCE, "above": TOLERANCE, "noise": 0.01, "factor": 3.0}
    assert {tolerance_status(each, **limits) for each in off} == {"holds"}


@pytest.mark.by_hand(of=(flattest_reach, grade_of_reach))
def test_local_grade_is_taken_over_fifty_feet_and_not_between_neighbours() -> None:
    pipe = pipe_of(STATIONS, SHOT)
    over = {
        (100, 140): (1181.199 - 1181.133) / 40,
        (0, 50): (1181.066 - 1180.952) / 50,
        (25, 75): (1181.071 - 1180.985) / 50,
        (50, 100): (1181.133 - 1181.066) / 50,
        (75, 125): (1181.168 - 1181.071) / 50,
    }
    flattest = flattest_reach(pipe, OVER * FT)
    assert not is_unknown(flattest)
    assert (round(flattest.low / FT), round(flattest.high / FT)) == (50, 100)
    assert grade_of_reach(flattest) == pytest.approx(over[(50, 100)])
    assert grade_of_reach(flattest) > LEAST
    neighbours = flattest_reach(pipe, 1.0 * FT)
    assert not is_unknown(neighbours)
    assert neighbours.grade == pytest.approx((1181.071 - 1181.066) / 25)
    assert round(100 * neighbours.grade, 2) == 0.02


@pytest.mark.by_hand(of=(local_grade_length, comparisons_of, depth_by_noise))
def test_noise_says_over_which_length_a_grade_can_be_told() -> None:
    pipe = pipe_of(STATIONS, SHOT)
    comparisons = 7 + 7 * 6 / 2
    assert comparisons_of(pipe) == comparisons
    common = {"factor": 3.5, "designed_grade": GRADE, "grade_least": LEAST, "at_least": OVER * FT}
    length = local_grade_length(noise=0.01 * FT, run=140 * FT, **common)
    assert length / FT == pytest.approx(3.5 * 0.01 * 2**0.5 / 0.0008)
    assert local_grade_length(noise=0.001 * FT, run=140 * FT, **common) == OVER * FT
    short = local_grade_length(noise=0.001 * FT, run=40 * FT, **common)
    assert short / FT == pytest.approx(3.5 * 0.001 * 2**0.5 / 0.0008)
    by_noise = depth_by_noise(noise=0.01 * FT, factor=3.5)
    assert by_noise / FT == pytest.approx(3.5 * 0.01 * 2**0.5)


@pytest.mark.by_hand(of=(standing_depths, standing_depth, standing_place, back_fall_status))
def test_water_stands_behind_the_highest_invert_below_it() -> None:
    levels = (100.00, 100.08, 100.02, 100.05, 100.20)
    pipe = pipe_of((0.0, 20.0, 40.0, 60.0, 80.0), levels)
    depths = [round(each / FT, 2) for each in standing_depths(pipe)]
    assert depths == [0.0, 0.0, 0.06, 0.03, 0.0]
    assert standing_depth(pipe) / FT == pytest.approx(0.06)
    assert standing_place(pipe) / FT == pytest.approx(40.0)
    assert back_fall_status(standing_depth(pipe), by_noise=0.04 * FT) == "short"
    assert back_fall_status(standing_depth(pipe), by_noise=0.07 * FT) == "holds"


@pytest.mark.by_hand(of=(level_range, no_more_status, grade_of_ends, grade_status))
def test_a_level_line_is_held_over_its_length() -> None:
    pipe = pipe_of((0.0, 100.0, 200.0), (100.00, 100.07, 99.96))
    assert level_range(pipe) / FT == pytest.approx(100.07 - 99.96)
    wide = level_range(pipe)
    assert no_more_status(wide, limit=0.10 * FT, by_noise=0.05 * FT) == "short"
    assert no_more_status(wide, limit=0.10 * FT, by_noise=0.12 * FT) == "not known"
    assert no_more_status(wide, limit=0.12 * FT, by_noise=0.0) == "holds"
    assert grade_of_ends(lower=100.0, upper=100.5, run=200.0) == pytest.approx(0.0025)
    assert grade_status(0.0009, limit=LEAST) == "short"
    assert grade_status(0.0010, limit=LEAST) == "holds"


@pytest.mark.law(of=(laid_pipe,))
def test_shots_at_one_place_count_as_one() -> None:
    pipe = laid_pipe(b=(10.0, 5.0), a=(0.0, 1.0), c=(10.0, 5.2))
    assert pipe.along == (0.0, 10.0)
    assert pipe.inverts == (1.0, pytest.approx(5.1))


@pytest.mark.law(of=(standing_depths,))
@given(st.lists(st.floats(-1.0, 1.0), min_size=1, max_size=30))
def test_water_stands_nowhere_in_a_pipe_that_never_falls_back(rises: list[float]) -> None:
    levels = tuple(np.cumsum(np.abs(rises)).tolist())
    pipe = LaidPipe(tuple(float(n) for n in range(len(levels))), levels)
    assert standing_depth(pipe) == 0.0
    turned = replace(pipe, inverts=levels[::-1])
    assert standing_depth(turned) == pytest.approx(levels[-1] - levels[0])
    assert all(depth >= 0.0 for depth in standing_depths(turned))


def is_short(inverts: np.ndarray, along: np.ndarray, noise: float, design: np.ndarray) -> bool:
    """Whether anything of a pipe falls short, as the program judges it; all in feet."""
    pipe = LaidPipe(tuple(along.tolist()), tuple(inverts.tolist()))
    factor = noise_factor(comparisons_of(pipe))
    limits = {"below": TOLERANCE, "above": TOLERANCE, "noise": noise, "factor": factor}
    if any(tolerance_status(d, **limits) == "short" for d in inverts - design):
        return True
    by_noise = depth_by_noise(noise=noise, factor=factor)
    if back_fall_status(standing_depth(pipe), by_noise=by_noise) == "short":
        return True
    over = local_grade_length(
        noise=noise,
        factor=factor,
        designed_grade=GRADE,
        grade_least=LEAST,
        at_least=OVER,
        run=float(along[-1]),
    )
    reach = flattest_reach(pipe, over)
    return not is_unknown(reach) and grade_status(reach.grade, limit=LEAST) == "short"


@pytest.mark.law(of=(noise_factor, local_grade_length, back_fall_status, tolerance_status))
@pytest.mark.parametrize("noise", [0.005, 0.01, 0.025, 0.06])
@pytest.mark.parametrize("count", [7, 29])
def test_ninety_nine_of_a_hundred_perfect_pipes_pass(noise: float, count: int) -> None:
    along = np.linspace(0.0, 140.0 if count == 7 else 1400.0, count)
    design = LOWER + GRADE * along
    seeds = 1500
    rng = np.random.default_rng(2027 + count)
    short = sum(
        is_short(design + rng.normal(0.0, noise, count), along, noise, design) for _ in range(seeds)
    )
    assert short / seeds <= FALSE_ALARM


@pytest.mark.law(of=(flattest_reach, back_fall_status))
def test_bad_pipes_are_found_with_a_level() -> None:
    along = np.linspace(0.0, 280.0, 15)
    design = LOWER + GRADE * along
    rng = np.random.default_rng(7)
    belly = design - 0.30 * np.exp(-(((along - 140.0) / 40.0) ** 2))
    flat = np.where(along < 80, design, np.minimum(design, design[5] + 0.0))
    lifted = design + np.where(along > 200.0, 0.12, 0.0)
    for bad in (belly, flat, lifted):
        shots = [bad + rng.normal(0.0, 0.01, along.size) for _ in range(200)]
        assert all(is_short(each, along, 0.01, design) for each in shots)


@pytest.mark.works(of=(flattest_reach, local_grade_length, grade_of_ends))
def test_what_cannot_be_told_is_not_known_and_says_what_to_do() -> None:
    pipe = pipe_of((0.0, 20.0), (100.0, 100.04))
    reach = flattest_reach(pipe, 50.0 * FT)
    assert is_unknown(reach)
    assert "level or a laser" in reach.measure
    with pytest.raises(OutOfDomain, match=r"designed_grade is 0\.001 -\. It lies above"):
        local_grade_length(
            noise=0.0, factor=3.0, designed_grade=0.001, grade_least=0.001, at_least=1.0, run=1.0
        )
    with pytest.raises(OutOfDomain, match=r"run is 0 m\. A pipe has a length"):
        grade_of_ends(lower=0.0, upper=1.0, run=0.0)


@pytest.mark.law(of=(flattest_reach,))
@given(st.floats(0.0, 0.05), st.integers(3, 20))
def test_the_flattest_reach_of_one_grade_is_that_grade(grade: float, count: int) -> None:
    along = tuple(10.0 * n for n in range(count))
    pipe = LaidPipe(along, tuple(grade * x for x in along))
    reach = flattest_reach(pipe, 10.0)
    assert not is_unknown(reach)
    assert reach.grade == pytest.approx(grade, abs=1e-9)
    assert all(b > a for a, b in pairwise(pipe.along))
