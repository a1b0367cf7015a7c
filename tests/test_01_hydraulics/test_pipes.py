# SPDX-License-Identifier: Apache-2.0
"""Drain pipes: capacity, normal depth, grade lines, materials.

D diameter, S slope, Q flow, V velocity, A area, R hydraulic radius, n Manning roughness.
"""

import math
import re

import fluids.open_flow
import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

from tests.digits import printed
from tilewater.basis.errors import NoSolution, OutOfDomain, UnknownName
from tilewater.basis.tables import read_table, slug_faults
from tilewater.hydraulics.pipes import (
    PipeRoughness,
    drainage_flow,
    drained_area,
    pipe_area_full,
    pipe_area_wetted,
    pipe_flow_full_for_head_manning,
    pipe_flow_full_manning,
    pipe_flow_full_manning_range,
    pipe_flow_largest_manning,
    pipe_flow_manning,
    pipe_flow_manning_range,
    pipe_head_loss_full_manning,
    pipe_head_loss_uniform_outflow_manning,
    pipe_hydraulic_radius,
    pipe_materials,
    pipe_normal_depth_manning,
    pipe_perimeter_wetted,
    pipe_roughness_entry,
    pipe_roughness_manning,
    pipe_slope_for_flow_full_manning,
    pipe_slope_for_velocity_full_manning,
    pipe_surface_angle,
    pipe_top_width,
    pipe_velocity_full_manning,
    pipe_velocity_least,
    pipe_velocity_limit,
    pipe_velocity_manning,
    pipe_velocity_range,
    pipe_velocity_soils,
    velocity_manning,
)

FOOT = 0.3048
INCH = FOOT / 12
CFS = FOOT**3
ACRE = 43560 * FOOT**2
INCH_PER_DAY = INCH / 86400
PACKAGE = "tilewater.hydraulics"

# The hand tables round 0.3048^(-1/3) = 1.48592 to 1.486.
ROUNDED_FACTOR = 1e-4
INTEGRATION = 1e-9
ROUND_OFF = 1e-12

GRADES = (0.0005, 0.001, 0.002, 0.003, 0.005, 0.010)
# D in, n, then cfs / ft/s at each grade.
CAPACITY = """
 3 0.015 0.017/0.35 0.024/0.49 0.034/0.70 0.042/0.85 0.054/1.10 0.077/1.56
 4 0.015 0.037/0.42 0.052/0.60 0.074/0.85 0.090/1.04 0.117/1.34 0.165/1.89
 5 0.015 0.067/0.49 0.095/0.69 0.134/0.98 0.164/1.20 0.211/1.55 0.299/2.19
 6 0.015 0.109/0.55 0.154/0.78 0.217/1.11 0.266/1.36 0.344/1.75 0.486/2.48
 8 0.015 0.234/0.67 0.331/0.95 0.468/1.34 0.574/1.64 0.741/2.12 1.047/3.00
10 0.017 0.375/0.69 0.530/0.97 0.749/1.37 0.918/1.68 1.185/2.17 1.675/3.07
12 0.017 0.609/0.78 0.862/1.10 1.218/1.55 1.492/1.90 1.927/2.45 2.724/3.47
15 0.020 0.939/0.77 1.328/1.08 1.878/1.53 2.300/1.87 2.969/2.42 4.199/3.42
18 0.020 1.527/0.86 2.159/1.22 3.053/1.73 3.740/2.12 4.828/2.73 6.828/3.86
"""
# D in, then acres at 3/8 / at 1/2 in/day for each grade, n by size.
ACRES = """
 4  2.3/1.8   3.3/2.5   4.7/3.5    5.7/4.3     7.4/5.6    10.5/7.9
 5  4.2/3.2   6.0/4.5   8.5/6.4    10.4/7.8    13.4/10.1  19.0/14.2
 6  6.9/5.2   9.8/7.3   13.8/10.4  16.9/12.7   21.8/16.4  30.9/23.1
 8  14.9/11.1 21.0/15.8 29.7/22.3  36.4/27.3   47.0/35.3  66.5/49.9
10  23.8/17.8 33.6/25.2 47.6/35.7  58.2/43.7   75.2/56.4  106.3/79.8
12  38.7/29.0 54.7/41.0 77.3/58.0  94.7/71.0   122.3/91.7 172.9/129.7
15  59.6/44.7 84.3/63.2 119.2/89.4 146.0/109.5 188.4/141.3 266.5/199.9
18  96.9/72.7 137.0/102.8 193.8/145.4 237.4/178.0 306.4/229.8 433.4/325.0
"""


def rows(table):
    return [line.split() for line in table.strip().splitlines()]


def by_hand_in_feet(inches, n, slope):
    """Flow in cfs and velocity in ft/s of a full pipe."""
    diameter = inches / 12
    velocity = 1.486 / n * (diameter / 4) ** (2 / 3) * slope**0.5
    return velocity * math.pi * diameter**2 / 4, velocity


@pytest.mark.by_hand(of=(pipe_flow_full_manning, pipe_velocity_full_manning))
@pytest.mark.parametrize("row", rows(CAPACITY), ids=lambda row: f"{row[0]} in")
def test_capacity_of_full_drain_tubing(row):
    inches, n = int(row[0]), float(row[1])
    for slope, cell in zip(GRADES, row[2:], strict=True):
        flow, velocity = by_hand_in_feet(inches, n, slope)
        assert [printed(part) for part in cell.split("/")] == [flow, velocity]
        computed = pipe_flow_full_manning(inches * INCH, slope, n=n)
        assert computed / CFS == pytest.approx(flow, rel=ROUNDED_FACTOR)
        computed = pipe_velocity_full_manning(inches * INCH, slope, n=n)
        assert computed / FOOT == pytest.approx(velocity, rel=ROUNDED_FACTOR)


@pytest.mark.by_hand(of=(pipe_flow_full_manning,))
@pytest.mark.parametrize(
    ("inches", "cfs"),
    [(6, "0.192"), (8, "0.414"), (10, "0.751"), (12, "1.221"), (15, "2.213"), (18, "3.599")],
)
def test_capacity_of_dual_wall_pipe_at_a_tenth_of_a_percent(inches, cfs):
    flow, _ = by_hand_in_feet(inches, 0.012, 0.001)
    assert printed(cfs) == flow
    computed = pipe_flow_full_manning(inches * INCH, 0.001, n=0.012)
    assert computed / CFS == pytest.approx(flow, rel=ROUNDED_FACTOR)
    steeper = pipe_flow_full_manning(inches * INCH, 0.002, n=0.012)
    assert steeper == pytest.approx(computed * math.sqrt(2), rel=ROUND_OFF)


@pytest.mark.by_hand(of=(pipe_flow_full_manning,))
@pytest.mark.parametrize(
    ("inches", "n", "slope", "litres"),
    [
        (4, 0.015, 0.001, "1.477"),
        (4, 0.015, 0.005, "3.302"),
        (6, 0.015, 0.001, "4.354"),
        (8, 0.015, 0.005, "20.969"),
        (10, 0.017, 0.001, "15.002"),
        (12, 0.017, 0.005, "54.550"),
    ],
)
def test_capacity_in_litres_per_second(inches, n, slope, litres):
    diameter = inches * 0.0254
    by_hand = 1 / n * (math.pi * diameter**2 / 4) * (diameter / 4) ** (2 / 3) * slope**0.5
    assert printed(litres) == by_hand * 1000
    assert printed(litres) == pipe_flow_full_manning(diameter, slope, n=n) * 1000


@pytest.mark.by_hand(of=(pipe_flow_full_manning, pipe_velocity_full_manning))
@pytest.mark.parametrize(
    ("n", "cfs", "ft_per_s"),
    [(0.011, "1.099", "2.01"), (0.013, "0.930", "1.70"), (0.015, "0.806", "1.48")],
)
def test_ten_inch_main_at_0_18_percent_by_roughness(n, cfs, ft_per_s):
    by_hand = 1.486 / n * 0.5454 * 0.3514 * 0.0018**0.5  # A in ft2, R^(2/3) in ft^(2/3)
    flow = pipe_flow_full_manning(10 * INCH, 0.0018, n=n) / CFS
    assert printed(cfs) == flow
    assert by_hand == pytest.approx(flow, rel=5e-4)  # A and R^(2/3) are typed with four digits
    assert printed(ft_per_s) == pipe_velocity_full_manning(10 * INCH, 0.0018, n=n) / FOOT


@pytest.mark.by_hand(of=(pipe_flow_full_manning, drained_area))
@pytest.mark.parametrize("row", rows(ACRES), ids=lambda row: f"{row[0]} in")
def test_acres_that_a_full_pipe_drains(row):
    inches = int(row[0])
    n = 0.015 if inches <= 8 else 0.017 if inches <= 12 else 0.020
    for slope, cell in zip(GRADES, row[1:], strict=True):
        by_hand, _ = by_hand_in_feet(inches, n, slope)
        flow = pipe_flow_full_manning(inches * INCH, slope, n=n)
        for coefficient, acres in zip((3 / 8, 1 / 2), cell.split("/"), strict=True):
            expected = by_hand / (coefficient / 12 / 86400 * 43560)
            assert printed(acres) == expected
            area = drained_area(flow, drainage_coefficient=coefficient * INCH_PER_DAY)
            assert area / ACRE == pytest.approx(expected, rel=ROUNDED_FACTOR)


@pytest.mark.by_hand(of=(drainage_flow, drained_area))
def test_an_acre_inch_per_day_is_43560_over_12_cubic_feet_in_86400_seconds():
    flow = drainage_flow(80 * ACRE, drainage_coefficient=0.5 * INCH_PER_DAY)
    assert flow / CFS == pytest.approx(80 * 0.5 * 43560 / 12 / 86400, rel=ROUND_OFF)
    assert printed("1.681") == flow / CFS
    assert drained_area(flow, drainage_coefficient=0.5 * INCH_PER_DAY) / ACRE == pytest.approx(80)


@pytest.mark.by_hand(of=(pipe_flow_manning, pipe_velocity_manning))
@pytest.mark.parametrize(
    ("share", "flow", "velocity"),
    [
        (0.1, "0.0209", "0.4012"),
        (0.2, "0.0876", "0.6151"),
        (0.25, "0.1370", "0.7007"),
        (0.3, "0.1958", "0.7761"),
        (0.4, "0.3370", "0.9022"),
        (0.5, "0.5000", "1.0000"),
        (0.6, "0.6718", "1.0724"),
        (0.7, "0.8372", "1.1198"),
        (0.8, "0.9775", "1.1397"),
        (0.9, "1.0658", "1.1243"),
        (0.95, "1.0745", "1.0950"),
    ],
)
def test_part_full_pipe_against_the_full_one(share, flow, velocity):
    angle = 2 * math.acos(1 - 2 * share)
    radius = (angle - math.sin(angle)) / angle  # R over that of the full pipe
    area = (angle - math.sin(angle)) / (2 * math.pi)
    assert printed(flow) == area * radius ** (2 / 3)
    pipe = {"diameter": 0.254, "slope": 0.0018, "n": 0.013}
    full_flow = pipe_flow_full_manning(**pipe)
    full_velocity = pipe_velocity_full_manning(**pipe)
    assert printed(flow) == pipe_flow_manning(share * 0.254, **pipe) / full_flow
    assert printed(velocity) == pipe_velocity_manning(share * 0.254, **pipe) / full_velocity


@pytest.mark.by_hand(of=(pipe_flow_largest_manning, pipe_normal_depth_manning))
def test_largest_flow_is_1_0757_of_the_full_one_at_0_938_of_the_diameter():
    largest = pipe_flow_largest_manning(0.3, 0.002, n=0.012)
    assert printed("1.07571") == largest / pipe_flow_full_manning(0.3, 0.002, n=0.012)
    assert printed("0.93818") == pipe_normal_depth_manning(largest, 0.3, 0.002, n=0.012) / 0.3


@pytest.mark.by_hand(of=(pipe_slope_for_velocity_full_manning,))
@pytest.mark.parametrize(
    ("inches", "n", "without_fines", "with_fines"),
    [(8, 0.015, "0.028", "0.218"), (10, 0.017, "0.026", "0.208"), (12, 0.017, "0.021", "0.163")],
)
def test_least_grade_of_large_drains_in_percent(inches, n, without_fines, with_fines):
    def grade(fines):
        velocity = pipe_velocity_least(fines=fines)
        return 100 * pipe_slope_for_velocity_full_manning(velocity, inches * INCH, n=n)

    assert printed(without_fines) == grade(False)
    assert printed(with_fines) == grade(True)


@pytest.mark.by_hand(of=(pipe_slope_for_flow_full_manning, pipe_head_loss_uniform_outflow_manning))
@pytest.mark.parametrize(
    ("litres", "slope", "loss_mm"),
    [(0.3, "4.126e-5", None), (0.5, "1.1462e-4", "5.7"), (1, None, "22.9"), (2, None, "91.7")],
)
def test_friction_in_a_four_inch_distribution_line(litres, slope, loss_mm):
    flow = litres / 1000
    area, radius = math.pi * 0.1016**2 / 4, 0.1016 / 4
    by_hand = (0.015 * flow / (area * radius ** (2 / 3))) ** 2
    computed = pipe_slope_for_flow_full_manning(flow, 0.1016, n=0.015)
    assert computed == pytest.approx(by_hand, rel=ROUND_OFF)
    loss = pipe_head_loss_uniform_outflow_manning(flow, 0.1016, length=150, n=0.015)
    assert loss == pytest.approx(by_hand * 150 / 3, rel=ROUND_OFF)
    if slope:
        assert printed(slope) == computed
    if loss_mm:
        assert printed(loss_mm) == loss * 1000


@pytest.mark.by_hand(of=(pipe_head_loss_full_manning, pipe_flow_full_for_head_manning))
def test_head_loss_is_friction_plus_one_and_a_half_velocity_heads():
    velocity = 0.02 / (math.pi * 0.2**2 / 4)
    friction = (0.012 * velocity / 0.05 ** (2 / 3)) ** 2 * 40
    by_hand = friction + (0.5 + 1.0) * velocity**2 / (2 * 9.80665)
    loss = pipe_head_loss_full_manning(0.02, 0.2, length=40, n=0.012)
    assert loss == pytest.approx(by_hand, rel=ROUND_OFF)
    flow = pipe_flow_full_for_head_manning(by_hand, 0.2, length=40, n=0.012)
    assert flow == pytest.approx(0.02, rel=ROUND_OFF)


@pytest.mark.oracle("fluids 1.3", of=(velocity_manning,))
@pytest.mark.parametrize("radius", [0.01, 0.2859, 3.0])
@pytest.mark.parametrize("slope", [0.0, 1e-4, 0.02])
def test_velocity_against_another_library(radius, slope):
    expected = fluids.open_flow.V_Manning(radius, slope, 0.013)
    assert velocity_manning(radius, slope, n=0.013) == pytest.approx(expected, rel=ROUND_OFF)


@pytest.mark.oracle("scipy 1.17", of=(pipe_area_wetted, pipe_perimeter_wetted, pipe_top_width))
@pytest.mark.parametrize("depth", [0.001, 0.03, 0.1, 0.155, 0.199, 0.2])
def test_section_against_the_chords_of_a_circle_summed(depth):
    radius = 0.1

    def half_chord(height):
        return math.sqrt(max(radius**2 - (height - radius) ** 2, 0.0))

    area, _ = quad(lambda z: 2 * half_chord(z), 0, depth, epsabs=1e-13, epsrel=1e-12)
    assert pipe_area_wetted(depth, 0.2) == pytest.approx(area, rel=INTEGRATION)
    assert pipe_top_width(depth, 0.2) == pytest.approx(2 * half_chord(depth), abs=1e-9)
    arc = 2 * radius * math.atan2(half_chord(depth), radius - depth)
    assert pipe_perimeter_wetted(depth, 0.2) == pytest.approx(arc, rel=INTEGRATION)


@pytest.mark.oracle("scipy 1.17", of=(pipe_normal_depth_manning, pipe_flow_largest_manning))
@pytest.mark.parametrize("share", [1e-6, 0.01, 0.4, 0.99, 1.0, 1.05, 1.0756])
def test_normal_depth_against_another_search(share):
    def ratio(depth):
        angle = 2 * math.acos(1 - 2 * depth)
        filled = angle - math.sin(angle)
        return filled / (2 * math.pi) * (filled / angle) ** (2 / 3)

    peak = minimize_scalar(lambda y: -ratio(y), bounds=(0.9, 0.97), options={"xatol": 1e-9})
    expected = brentq(lambda y: ratio(y) - share, 1e-6, peak.x, xtol=1e-14)
    flow = share * pipe_flow_full_manning(1.0, 0.001, n=0.013)
    # At the peak the curve is flat: depth is known to the root of the flow's last digit.
    assert pipe_normal_depth_manning(flow, 1.0, 0.001, n=0.013) == pytest.approx(expected, abs=1e-7)
    largest = pipe_flow_largest_manning(1.0, 0.001, n=0.013)
    assert largest / flow * share == pytest.approx(-peak.fun, rel=1e-12)


@pytest.mark.works(of=(pipe_normal_depth_manning,))
def test_no_flow_has_no_depth():
    assert pipe_normal_depth_manning(0.0, 0.2, 0.001, n=0.013) == 0.0
    assert pipe_normal_depth_manning(0.0, 0.2, 0.0, n=0.013) == 0.0


@pytest.mark.works(of=(pipe_normal_depth_manning,))
@pytest.mark.parametrize(
    ("slope", "said", "largest"), [(0.001, "0.001", "0.005405"), (0.0, "0", "0")]
)
def test_more_than_a_pipe_carries_has_no_normal_depth(slope, said, largest):
    message = (
        f"flow is 0.02 m3/s. A pipe of 0.1524 m at a slope of {said} carries at most {largest} "
        f"m3/s with a free surface. Take a larger pipe or more grade, or compute it as a full pipe "
        f"under pressure."
    )
    with pytest.raises(NoSolution, match=f"^{re.escape(message)}$"):
        pipe_normal_depth_manning(0.02, 6 * INCH, slope, n=0.013)


@pytest.mark.works(of=(pipe_flow_full_manning, pipe_flow_manning, pipe_surface_angle))
@pytest.mark.parametrize(
    ("call", "message"),
    [
        (
            lambda: pipe_flow_full_manning(0.0, 0.001, n=0.013),
            "diameter is 0 m. It must be above zero. Check the inside diameter.",
        ),
        (
            lambda: pipe_flow_full_manning(0.2, -0.001, n=0.013),
            "slope is -0.001. It cannot be negative. "
            "A pipe laid back carries nothing by its grade. Check the two inverts.",
        ),
        (
            lambda: pipe_flow_full_manning(0.2, 0.001, n=math.nan),
            "n is nan. It must be above zero. Take a roughness from the table of pipe materials.",
        ),
        (
            lambda: pipe_flow_manning(0.21, 0.2, 0.001, n=0.013),
            "depth is 0.21 m. It lies between 0 and the diameter. "
            "Take the full section where the pipe runs full.",
        ),
        (
            lambda: pipe_flow_manning(np.array([0.1, -0.01]), 0.2, 0.001, n=0.013),
            "depth is -0.01 m. It lies between 0 and the diameter. "
            "Take the full section where the pipe runs full.",
        ),
        (
            lambda: pipe_normal_depth_manning(-0.01, 0.2, 0.001, n=0.013),
            "flow is -0.01 m3/s. It cannot be negative. Check its direction.",
        ),
        (
            lambda: pipe_flow_full_for_head_manning(
                1.0, 0.2, length=0.0, n=0.013, entrance_coefficient=0.0, exit_coefficient=0.0
            ),
            "loss at 1 m/s is 0 m. It must be above zero. Give a length or a coefficient.",
        ),
        (
            lambda: drained_area(0.1, drainage_coefficient=0.0),
            "drainage coefficient is 0 m/s. It must be above zero. Check its unit.",
        ),
    ],
)
def test_what_has_no_meaning_is_refused_in_words(call, message):
    with pytest.raises(OutOfDomain, match=f"^{re.escape(message)}$"):
        call()


@pytest.mark.law(of=(pipe_area_full, pipe_hydraulic_radius, pipe_surface_angle, pipe_top_width))
def test_a_full_section_is_a_circle_and_an_empty_one_nothing():
    assert pipe_surface_angle(0.2, 0.2) == pytest.approx(2 * math.pi, rel=ROUND_OFF)
    assert pipe_area_wetted(0.2, 0.2) == pytest.approx(pipe_area_full(0.2), rel=ROUND_OFF)
    assert pipe_hydraulic_radius(0.2, 0.2) == pytest.approx(0.05, rel=ROUND_OFF)
    assert pipe_top_width(0.2, 0.2) == 0.0
    assert pipe_area_wetted(0.0, 0.2) == 0.0
    assert pipe_hydraulic_radius(0.0, 0.2) == 0.0


# Materials, velocities and their tables


@pytest.mark.works(of=(pipe_roughness_manning, pipe_materials))
@pytest.mark.parametrize(
    ("inches", "n"), [(3, 0.015), (8, 0.015), (10, 0.017), (12, 0.017), (15, 0.020), (24, 0.020)]
)
def test_corrugated_plastic_grows_rougher_with_size(inches, n):
    assert "corrugated-plastic" in pipe_materials()
    assert pipe_roughness_manning("corrugated-plastic", inches * INCH) == n
    assert pipe_roughness_manning("corrugated-plastic", inches * 25.4 / 1000) == n


@pytest.mark.works(of=(pipe_roughness_entry, PipeRoughness))
def test_a_roughness_says_where_it_is_from():
    tile = pipe_roughness_entry("clay-tile", 0.25)
    assert (tile.low, tile.n, tile.high) == (0.011, 0.013, 0.017)
    assert tile.source == "chow1959"
    plastic = pipe_roughness_entry("corrugated-plastic", 0.25)
    assert (plastic.low, plastic.high, plastic.source) == (None, None, "efh14")
    assert plastic.place.endswith("from memory")
    assert plastic.label == "corrugated plastic, single wall"


@pytest.mark.works(of=(pipe_roughness_entry,))
def test_an_unknown_material_lists_the_known_ones_and_the_nearest():
    message = (
        "No pipe material called 'clay tile'. Known: clay-subdrain-open-joint, clay-tile, "
        "concrete-culvert, concrete-tile, corrugated-metal, corrugated-plastic, "
        "dual-wall-plastic, smooth-plastic, smooth-plastic-perforated, tile-poor-joints. "
        "Did you mean clay-tile?"
    )
    with pytest.raises(UnknownName, match=f"^{re.escape(message)}$"):
        pipe_roughness_entry("clay tile", 0.25)


@pytest.mark.works(of=(pipe_velocity_limit, pipe_velocity_soils))
def test_velocity_limits_rise_from_sand_to_gravel():
    assert [pipe_velocity_limit(soil) / FOOT for soil in pipe_velocity_soils()] == pytest.approx(
        [3.5, 5.0, 6.0, 7.0, 9.0]
    )
    with pytest.raises(UnknownName, match=re.escape("No 'peat' in the table 'Greatest velocity")):
        pipe_velocity_limit("peat")


@pytest.mark.works(of=(pipe_velocity_range, pipe_velocity_least))
def test_a_drain_too_slow_or_too_fast_is_reported():
    assert pipe_velocity_range(0.5, fines=True, soil="silty-clay-loam") == ()
    (slow,) = pipe_velocity_range(0.4, fines=True)
    assert (slow.code, slow.severity, slow.operator) == ("pipe-velocity-low", "caution", ">=")
    assert slow.limit == pytest.approx(1.4 * FOOT)
    assert pipe_velocity_range(0.4, fines=False) == ()
    slow, fast = pipe_velocity_range(np.array([0.1, 1.2]), fines=False, soil="sand-and-sandy-loam")
    assert (slow.code, fast.code) == ("pipe-velocity-low", "pipe-velocity-high")
    assert fast.message == (
        "Velocity in the full pipe is 1.2 m/s, above the 1.07 m/s up to which nrcs606 holds. "
        "Take solid or sealed pipe, or check the limit, which is remembered."
    )


@pytest.mark.works(of=(pipe_flow_full_manning_range, pipe_flow_manning_range))
def test_a_roughness_of_no_drain_and_a_nearly_full_pipe_are_reported():
    assert pipe_flow_full_manning_range(0.2, 0.001, n=0.015) == ()
    (rough,) = pipe_flow_full_manning_range(0.2, 0.001, n=0.024)
    assert (rough.code, rough.value, rough.limit) == ("pipe-roughness-high", 0.024, 0.021)
    assert pipe_flow_manning_range(0.16, 0.2, 0.001, n=0.015) == ()
    (full,) = pipe_flow_manning_range(0.17, 0.2, 0.001, n=0.015)
    assert (full.code, full.severity) == ("pipe-depth-high", "note")


@pytest.mark.works(of=(read_table,))
@pytest.mark.parametrize(
    ("name", "count", "digest"),
    [
        ("roughness_chow", 4, "3cb3da8dd70f"),
        ("roughness_drain_tubing", 6, "585c8025a7b1"),
        ("roughness_austin", 2, "60826a6c8c27"),
        ("velocity_limits_nrcs606", 5, "aff8cf3517a6"),
    ],
)
def test_tables_of_pipes_are_edited_on_purpose_only(name, count, digest):
    table = read_table(PACKAGE, name)
    assert len(table.rows) == count
    assert slug_faults(table) == ()
    assert table.digest == digest
    for row in table.rows:
        if name.startswith("roughness") and row.is_given("low"):
            assert row.number("low") <= row.number("n") <= row.number("high")
