# SPDX-License-Identifier: Apache-2.0
"""Conductivity from bailed auger holes and from slugs."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.oracles.auger_hole import rise_per_conductivity
from tilewater.basis.errors import OutOfDomain
from tilewater.hydraulics.hole_tests import (
    auger_hole_conductivity_ernst,
    auger_hole_conductivity_ernst_range,
    geometric_mean,
    slug_conductivity_hvorslev,
    slug_conductivity_hvorslev_range,
)

DAY = 86400.0
ERNST = 0.20
"""The formula is an approximation to tables of such solutions; its author claims 20 percent."""


@pytest.mark.by_hand(of=(auger_hole_conductivity_ernst,))
def test_a_hole_of_126_centimetres_of_water_worked_once():
    """Radius 4 cm, water at 114 of 240 cm, from 145.2 to 139.6 cm in 50 s."""
    y, H, r, rate = (31.2 + 25.6) / 2, 126.0, 4.0, 5.6 / 50
    by_hand = 4000 * r / ((20 + H / r) * (2 - y / H) * y) * rate  # m/day
    found = auger_hole_conductivity_ernst(
        (1.452, 1.440, 1.428, 1.417, 1.406, 1.396),
        (0.0, 10.0, 20.0, 30.0, 40.0, 50.0),
        table_depth=1.14,
        hole_depth=2.40,
        barrier_depth=math.inf,
        radius=0.04,
    )
    assert by_hand == pytest.approx(found * DAY, rel=1e-9)
    assert by_hand == pytest.approx(0.69, abs=0.005)


@pytest.mark.oracle("flow to a hole in finite volumes", of=(auger_hole_conductivity_ernst,))
@pytest.mark.parametrize(
    ("radius", "depth", "below", "drawdown"),
    [(0.04, 1.2, 1.2, 0.4), (0.05, 0.8, 2.0, 0.5), (0.05, 1.0, 0.0, 0.5), (0.04, 0.6, 0.9, 0.3)],
)
def test_rise_in_a_hole_gives_the_conductivity_back(radius, depth, below, drawdown):
    K = 1e-5
    rate = K * rise_per_conductivity(radius, depth, below, drawdown)
    time = 0.02 * drawdown / rate
    found = auger_hole_conductivity_ernst(
        (1.0 + 1.01 * drawdown, 1.0 + 0.99 * drawdown),
        (0.0, time),
        table_depth=1.0,
        hole_depth=1.0 + depth,
        barrier_depth=1.0 + depth + below,
        radius=radius,
    )
    assert found == pytest.approx(K, rel=ERNST)


@pytest.mark.law(of=(auger_hole_conductivity_ernst,))
@given(speed=st.floats(0.1, 10.0), below=st.floats(0.0, 2.0))
def test_a_hole_that_fills_faster_is_in_freer_soil(speed, below):
    def found(pace: float) -> float:
        return auger_hole_conductivity_ernst(
            (1.5, 1.48, 1.46),
            (0.0, 20.0 / pace, 41.0 / pace),
            table_depth=1.1,
            hole_depth=2.0,
            barrier_depth=2.0 + below,
            radius=0.05,
        )

    assert found(speed) == pytest.approx(speed * found(1.0), rel=1e-9)


@pytest.mark.law(of=(auger_hole_conductivity_ernst,))
def test_readings_after_a_quarter_has_filled_do_not_count():
    hole = {"table_depth": 1.0, "hole_depth": 2.0, "barrier_depth": 3.0, "radius": 0.05}
    early = auger_hole_conductivity_ernst((1.40, 1.36, 1.32), (0.0, 20.0, 41.0), **hole)
    late = (1.40, 1.36, 1.32, 1.10)
    assert auger_hole_conductivity_ernst(late, (0.0, 20.0, 41.0, 400.0), **hole) == early


@pytest.mark.oracle("capacity of a spheroid", of=(slug_conductivity_hvorslev,))
@pytest.mark.parametrize("slender", [12.0, 30.0, 100.0])
def test_a_slug_leaves_by_the_capacity_of_its_screen(slender):
    """A long spheroid of half length a and radius b takes 4 pi sqrt(a2-b2) K / acosh(a/b)."""
    K, b, r = 4e-6, 0.05, 0.025
    a = slender * b / 2
    shape = 4 * math.pi * math.sqrt(a * a - b * b) / math.acosh(a / b)
    times = np.linspace(0.0, 500.0, 9)
    heads = 0.6 * np.exp(-shape * K * times / (math.pi * r * r))
    found = slug_conductivity_hvorslev(
        heads, times, casing_radius=r, screen_radius=b, screen_length=2 * a
    )
    assert found == pytest.approx(K, rel=0.02)
    assert () == slug_conductivity_hvorslev_range(
        heads, times, screen_radius=b, screen_length=2 * a
    )


@pytest.mark.by_hand(of=(slug_conductivity_hvorslev,))
def test_a_slug_worked_once():
    """r 2.5 cm, R 5 cm, L 1 m, 37 percent left after 10 min: K = 0.000625 ln 20 / (2 x 600)."""
    by_hand = 0.025**2 * math.log(20) / (2 * 1.0 * 600)
    found = slug_conductivity_hvorslev(
        (0.5, 0.5 / math.e),
        (0.0, 600.0),
        casing_radius=0.025,
        screen_radius=0.05,
        screen_length=1.0,
    )
    assert by_hand == pytest.approx(found, rel=1e-9)


@pytest.mark.by_hand(of=(geometric_mean,))
def test_mean_of_holes():
    assert 2.0 == pytest.approx(geometric_mean(1.0, 4.0))
    with pytest.raises(OutOfDomain, match="At least one is needed"):
        geometric_mean()


@pytest.mark.works(of=(auger_hole_conductivity_ernst_range, slug_conductivity_hvorslev_range))
def test_holes_outside_the_range_are_reported():
    found = auger_hole_conductivity_ernst_range(
        (1.05, 1.02), table_depth=1.0, hole_depth=3.5, radius=0.10
    )
    assert [f.code for f in found] == [
        "auger-hole-high",
        "auger-hole-high",
        "auger-hole-low",
        "auger-hole-low",
    ]
    bent = slug_conductivity_hvorslev_range(
        (1.0, 0.4, 0.35, 0.34), (0.0, 10.0, 200.0, 400.0), screen_radius=0.1, screen_length=0.5
    )
    assert len(bent) == 2


@pytest.mark.works(of=(auger_hole_conductivity_ernst, slug_conductivity_hvorslev))
def test_readings_that_make_no_sense_are_refused():
    hole = {"table_depth": 1.0, "hole_depth": 2.0, "barrier_depth": 3.0, "radius": 0.05}
    for depths, times, words in (
        ((1.3, 1.4), (0.0, 9.0), "stands below its rest and rises"),
        ((1.4, 1.3), (9.0, 0.0), "Each is later"),
        ((1.4,), (0.0,), "Two or more are needed"),
        ((2.4, 1.9), (0.0, 9.0), "Water stands in the hole"),
    ):
        with pytest.raises(OutOfDomain, match=words):
            auger_hole_conductivity_ernst(depths, times, **hole)
    tube = {"casing_radius": 0.02, "screen_radius": 0.05, "screen_length": 1.0}
    with pytest.raises(OutOfDomain, match="of one sign and shrink"):
        slug_conductivity_hvorslev((0.5, -0.1), (0.0, 9.0), **tube)
