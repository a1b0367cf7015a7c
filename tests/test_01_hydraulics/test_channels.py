# SPDX-License-Identifier: Apache-2.0
"""Uniform flow in surveyed channels: geometry, Manning both ways, high water marks."""

import math
from itertools import pairwise

import pytest
from fluids.open_flow import V_Manning
from hypothesis import assume, example, given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from tests.digits import printed
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.hydraulics.channel_marks import (
    HighWaterMark,
    channel_misfit,
    channel_roughness_fitted,
    channel_roughness_least,
    channel_roughness_most,
)
from tilewater.hydraulics.channel_sections import (
    ChannelSection,
    channel_section_surveyed,
    channel_section_trapezoid,
    channel_wetted,
)
from tilewater.hydraulics.channels import (
    channel_flow_manning,
    channel_normal_level_manning,
    channel_normal_level_manning_range,
    channel_roughness_manning,
)

FOOT = 0.3048
CFS = FOOT**3
DITCH = channel_section_surveyed(
    [(0.0, 5.0), (3.0, 4.8), (6.5, 1.2), (7.2, 1.0), (8.4, 1.05), (11.0, 3.1), (15.0, 3.6), (17, 6)]
)
"""Bank, slope, bottom, slope, a berm that rises away, bank."""

widths = st.floats(0.1, 20.0)
sides = st.floats(0.0, 4.0)
depths = st.floats(0.01, 5.0)
slopes = st.floats(1e-5, 0.02)
roughnesses = st.floats(0.016, 0.15)


@pytest.mark.published(
    "chow1959", "sec. 6-6, example of a trapezoid of 20 ft, from memory", of=(channel_wetted,)
)
def test_normal_depth_of_the_trapezoid_of_the_book() -> None:
    section = channel_section_trapezoid(0.0, 20 * FOOT, 2.0)
    level = channel_normal_level_manning(400 * CFS, section, 0.0016, n=0.025)
    assert printed("3.36") == level / FOOT
    assert printed("89.8") == channel_wetted(3.36 * FOOT, section).area / FOOT**2


@pytest.mark.published(
    "cengel2006",
    "weedy trapezoid of 0.8 m with sides of 60 degrees, from memory; radius and velocity as "
    "quoted in the text of a library",
    of=(channel_wetted, channel_flow_manning),
)
def test_flow_of_a_weedy_excavated_channel() -> None:
    section = channel_section_trapezoid(0.0, 0.8, 1 / math.tan(math.radians(60)))
    water = channel_wetted(0.52, section)
    assert printed("0.2859") == water.area / water.perimeter
    assert printed("0.60") == channel_flow_manning(0.52, section, 0.005236, n=0.030)


@pytest.mark.published(
    "streeter1975", "planed wood flume of 2 m, from memory", of=(channel_normal_level_manning,)
)
def test_depth_of_a_wooden_flume() -> None:
    section = channel_section_trapezoid(0.0, 2.0, 0.0)
    assert printed("0.89") == channel_normal_level_manning(4.0, section, 0.002, n=0.012)


@pytest.mark.oracle("fluids 1.3", of=(channel_flow_manning, channel_wetted))
@given(widths, sides, sides, depths, slopes, roughnesses)
def test_flow_equals_velocity_of_a_library_over_closed_forms(b, z1, z2, y, slope, n) -> None:
    section = channel_section_trapezoid(361.0, b, z1, z2)
    area = (b + (z1 + z2) * y / 2) * y
    perimeter = b + (math.hypot(1, z1) + math.hypot(1, z2)) * y
    expected = area * V_Manning(area / perimeter, slope, n)
    level = 361.0 + y
    assert channel_flow_manning(level, section, slope, n=n) == pytest.approx(expected, rel=1e-9)


@pytest.mark.oracle("brentq of scipy on the closed trapezoid", of=(channel_normal_level_manning,))
@given(widths, sides, depths, slopes, roughnesses)
def test_normal_level_is_the_root_of_another_solver(b, z, y, slope, n) -> None:
    flow = (b + z * y) * y * V_Manning((b + z * y) * y / (b + 2 * y * math.hypot(1, z)), slope, n)

    def surplus(d: float) -> float:
        area = (b + z * d) * d
        return area * V_Manning(area / (b + 2 * d * math.hypot(1, z)), slope, n) - flow

    depth = brentq(surplus, 1e-9, 20.0, xtol=1e-12)
    section = channel_section_trapezoid(0.0, b, z)
    level = channel_normal_level_manning(flow, section, slope, n=n)
    assert level == pytest.approx(depth, abs=1e-8)


@pytest.mark.law(of=(channel_normal_level_manning, channel_flow_manning))
@given(st.floats(0.0, 30.0), st.floats(0.0, 30.0), slopes, roughnesses)
def test_stage_rises_with_flow_and_roughness_and_falls_with_slope(q1, q2, slope, n) -> None:
    low, high = sorted((q1, q2))
    assume(high < channel_flow_manning(DITCH.brim, DITCH, slope, n=1.3 * n))
    level = channel_normal_level_manning(low, DITCH, slope, n=n)
    assert DITCH.bottom <= level <= channel_normal_level_manning(high, DITCH, slope, n=n) + 1e-8
    assert level <= channel_normal_level_manning(low, DITCH, slope, n=1.3 * n) + 1e-8
    assert level <= channel_normal_level_manning(low, DITCH, slope / 1.3, n=n) + 1e-8


@pytest.mark.law(of=(channel_roughness_manning, channel_normal_level_manning))
@given(st.floats(1.1, 4.5), st.floats(0.1, 20.0), slopes)
def test_roughness_of_a_mark_gives_back_its_level(level, flow, slope) -> None:
    n = channel_roughness_manning(flow, level, DITCH, slope)
    again = channel_normal_level_manning(flow, DITCH, slope, n=n)
    assert again <= level + 1e-8  # the lowest level that carries it
    assert channel_flow_manning(again, DITCH, slope, n=n) == pytest.approx(flow, rel=1e-6)


@pytest.mark.law(of=(channel_wetted,))
@given(st.lists(st.floats(0.0, 3.0), min_size=3, max_size=12), st.floats(0.05, 2.9))
def test_area_is_the_integral_of_the_top_width(ground, level) -> None:
    section = ChannelSection(tuple(range(len(ground) + 2)), (5.0, *ground, 5.0))
    fine = [level * (i + 0.5) / 800 for i in range(800)]
    single = sorted(ground) == ground or sorted(ground, reverse=True) == ground
    assume(single)  # with several hollows the area jumps where they join
    widths = [channel_wetted(z, section).top_width for z in fine]
    integral = sum(widths) * level / 800
    step = max(abs(b - a) for a, b in pairwise([0.0, *widths])) * level / 800  # a flat floor
    assert channel_wetted(level, section).area == pytest.approx(integral, abs=max(5e-3, step))


@pytest.mark.by_hand(of=(channel_wetted,))
def test_water_behind_a_ridge_does_not_count_until_it_spills() -> None:
    section = channel_section_surveyed([(0, 5), (0, 0), (2, 0), (4, 2), (6, 1), (8, 1), (8, 5)])
    below, above = channel_wetted(1.5, section), channel_wetted(2.5, section)
    assert below.area == pytest.approx(2 * 1.5 + 1.5 * 1.5 / 2)
    assert below.perimeter == pytest.approx(1.5 + 2 + 1.5 * 2**0.5)
    assert above.top_width == pytest.approx(8)
    assert above.area == pytest.approx(
        2 * 2.5 + (2.5 + 0.5) / 2 * 2 + (0.5 + 1.5) / 2 * 2 + 1.5 * 2
    )


@pytest.mark.by_hand(of=(channel_normal_level_manning,))
def test_a_flow_that_spills_over_the_ridge_stands_at_the_ridge() -> None:
    section = channel_section_surveyed([(0, 5), (0, 0), (2, 0), (4, 2), (6, 1), (8, 1), (8, 5)])
    full = channel_flow_manning(2.0, section, 0.001, n=0.03)
    spilling = channel_flow_manning(math.nextafter(2.0, 3.0), section, 0.001, n=0.03)
    assert spilling > full
    between = (full + spilling) / 2
    assert channel_normal_level_manning(between, section, 0.001, n=0.03) == 2.0


@pytest.mark.works(of=(channel_normal_level_manning,))
def test_no_flow_stands_at_the_bottom_and_too_much_is_refused() -> None:
    assert channel_normal_level_manning(0.0, DITCH, 0.001, n=0.03) == 1.0
    with pytest.raises(NoSolution) as raised:
        channel_normal_level_manning(900.0, DITCH, 0.001, n=0.03)
    most = channel_flow_manning(5.0, DITCH, 0.001, n=0.03)
    assert str(raised.value) == (
        f"flow is 900 m3/s. The section carries {most:.4g} m3/s to the top of its lower bank at "
        "5.00 m. Survey the ground beyond the banks, or check flow, slope and roughness."
    )


@pytest.mark.works(of=(channel_section_surveyed, channel_section_trapezoid, channel_wetted))
def test_sections_that_hold_no_water_are_refused() -> None:
    with pytest.raises(OutOfDomain, match=r"^the section has 2 points\. A channel needs three"):
        channel_section_surveyed([(0, 1), (1, 0)])
    with pytest.raises(
        OutOfDomain,
        match=r"^distance is 2 m\. It comes after 3 m\. List the points across\.$",
    ):
        channel_section_surveyed([(0, 1), (3, 0), (2, 1)])
    with pytest.raises(OutOfDomain, match=r"^the lowest point of the section is at its end\."):
        channel_section_surveyed([(0, 3), (1, 2), (2, 1)])
    with pytest.raises(
        OutOfDomain,
        match=r"^bottom width is 0 m\. Upright sides need a bottom\. Tape it\.$",
    ):
        channel_section_trapezoid(0.0, 0.0, 0.0)
    with pytest.raises(NoSolution, match=r"^level is 5\.50 m\. The section ends at 5\.00 m on its"):
        channel_wetted(5.5, DITCH)


@pytest.mark.works(of=(channel_normal_level_manning_range,))
def test_a_roughness_of_pipes_is_pointed_out() -> None:
    assert channel_normal_level_manning_range(1.0, DITCH, 0.001, n=0.035) == ()
    (low,) = channel_normal_level_manning_range(1.0, DITCH, 0.001, n=0.012)
    assert low.code == "channel-roughness-low"


def marks_at(n: float, slope: float, *flows: float) -> dict[str, HighWaterMark]:
    return {
        f"mark-{i}": HighWaterMark(channel_normal_level_manning(q, DITCH, slope, n=n), q, 0.06)
        for i, q in enumerate(flows)
    }


@pytest.mark.law(of=(channel_roughness_fitted, channel_misfit))
@given(st.floats(0.02, 0.06), st.floats(2e-4, 2e-3))
def test_marks_of_one_roughness_give_it_back(n, slope) -> None:
    marks = marks_at(n, slope, 0.5, 1.0, 2.0)
    fitted = channel_roughness_fitted(DITCH, slope, **marks)
    assert fitted == pytest.approx(n, rel=1e-5)
    for mark in marks.values():
        assert channel_misfit(mark, DITCH, slope, fitted) == pytest.approx(0.0, abs=1e-4)


@pytest.mark.oracle("bounded minimum of scipy", of=(channel_roughness_fitted,))
def test_the_fit_is_the_minimum_of_another_search() -> None:
    marks = marks_at(0.035, 0.0008, 0.5, 1.5, 3.0)
    marks["mark-0"] = marks["mark-0"]._replace(level=marks["mark-0"].level + 0.15)
    marks["mark-2"] = marks["mark-2"]._replace(level=marks["mark-2"].level - 0.10, doubt=0.15)

    def squares(n: float) -> float:
        return sum((channel_misfit(m, DITCH, 0.0008, n) / m.doubt) ** 2 for m in marks.values())

    found = minimize_scalar(squares, bounds=(0.01, 0.1), method="bounded", options={"xatol": 1e-9})
    assert channel_roughness_fitted(DITCH, 0.0008, **marks) == pytest.approx(found.x, rel=1e-4)


@pytest.mark.law(of=(channel_roughness_fitted, channel_roughness_least, channel_roughness_most))
@example([(3.0, 0.2), (2.9, 4.0)])  # at the n of the first the second leaves the section
@given(st.lists(st.tuples(st.floats(1.5, 3.0), st.floats(0.2, 4.0)), min_size=1, max_size=4))
def test_the_fit_lies_within_the_range_of_single_marks(pairs) -> None:
    marks = {f"m{i}": HighWaterMark(z, q, 0.1) for i, (z, q) in enumerate(pairs)}
    least = channel_roughness_least(DITCH, 0.001, **marks)
    most = channel_roughness_most(DITCH, 0.001, **marks)
    assert least < channel_roughness_fitted(DITCH, 0.001, **marks) < most


@pytest.mark.works(of=(channel_roughness_fitted, channel_roughness_manning))
def test_a_mark_must_be_above_the_bottom_and_have_its_doubt() -> None:
    with pytest.raises(OutOfDomain, match=r"^there is no high water mark with its flow\."):
        channel_roughness_fitted(DITCH, 0.001)
    with pytest.raises(OutOfDomain, match=r"^doubt of the mark is 0 m\. It must be above zero\."):
        channel_roughness_fitted(DITCH, 0.001, a=HighWaterMark(2.0, 1.0, 0.0))
    with pytest.raises(
        OutOfDomain, match=r"^level is 0\.8 m\. It must be above the bottom, 1\.00 m\. Check it\.$"
    ):
        channel_roughness_manning(1.0, 0.8, DITCH, 0.001)
