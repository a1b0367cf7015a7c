# SPDX-License-Identifier: Apache-2.0
"""Sieve masses to a curve, sizes read off it, and what a missing sieve leaves not known."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.ground.gradation import (
    least_passing_at,
    most_passing_at,
    share_between,
    share_passing_at,
    size_at_share,
    uniformity_coefficient,
)
from tilewater.ground.sieving import (
    dry_mass,
    largest_share,
    mass_loss,
    mean_of_shares,
    moisture_dry_basis,
    shares_passing,
    smallest_share,
)

INCH = 0.0254
SIZES = (2 * INCH, 1.5 * INCH, INCH, 0.75 * INCH, 0.5 * INCH, 0.375 * INCH, 0.25 * INCH, 0.002)
MASSES = (1.1, 6.4, 18.9, 11.2, 9.3, 3.1, 2.2, 1.0)
PAN = 0.6
PASSING = shares_passing(SIZES, MASSES, PAN)


@pytest.mark.by_hand(of=(shares_passing,))
def test_shares_are_what_is_left_of_the_total_below_each_sieve():
    assert sum(MASSES) + PAN == pytest.approx(53.8)
    assert PASSING[0] == pytest.approx(1 - 1.1 / 53.8)
    assert PASSING[4] == pytest.approx(1 - (1.1 + 6.4 + 18.9 + 11.2 + 9.3) / 53.8)
    for digits, share in zip(
        ("98.0", "86.1", "50.9", "30.1", "12.8", "7.1", "3.0", "1.1"), PASSING, strict=True
    ):
        assert printed(digits) == 100 * share


@pytest.mark.by_hand(of=(size_at_share, uniformity_coefficient))
def test_sizes_lie_on_the_straight_line_over_the_logarithm():
    d10, d50, d60 = (size_at_share(SIZES, PASSING, share) for share in (0.1, 0.5, 0.6))
    part = (0.5 - PASSING[3]) / (PASSING[2] - PASSING[3])
    assert d50 == pytest.approx(0.75 * INCH * (1 / 0.75) ** part)
    assert printed("11.0") == 1000 * d10
    assert printed("25.1") == 1000 * d50
    assert printed("28.2") == 1000 * d60
    assert printed("2.56") == uniformity_coefficient(d60, d10)


@pytest.mark.by_hand(of=(share_between, share_passing_at))
def test_most_chips_lie_between_half_an_inch_and_two():
    larger = share_passing_at(SIZES, PASSING, 2 * INCH)
    smaller = share_passing_at(SIZES, PASSING, 0.5 * INCH)
    # retained on 1/2 in less retained on 2 in: 87.2 - 2.0
    assert printed("85.1") == 100 * share_between(larger, smaller)
    assert printed("3.0") == 100 * share_passing_at(SIZES, PASSING, 0.25 * INCH)


@pytest.mark.oracle("numpy interp", of=(share_passing_at, size_at_share))
@pytest.mark.parametrize("size_mm", [2.5, 8.0, 15.0, 22.0, 30.0, 45.0])
def test_the_curve_is_read_as_an_independent_interpolation_reads_it(size_mm: float):
    rising = np.array(SIZES[::-1])
    shares = np.array(PASSING[::-1])
    expected = float(np.interp(np.log(size_mm / 1000), np.log(rising), shares))
    if size_mm > 6.35:
        assert share_passing_at(SIZES, PASSING, size_mm / 1000) == pytest.approx(expected)
        assert size_at_share(SIZES, PASSING, expected) == pytest.approx(size_mm / 1000)
    else:  # from 6.35 mm down to 2 mm the sieves are too far apart
        with pytest.raises(NoSolution, match="none near enough on both sides"):
            share_passing_at(SIZES, PASSING, size_mm / 1000)


@pytest.mark.by_hand(of=(least_passing_at, most_passing_at, share_passing_at))
def test_a_missing_sieve_leaves_bounds_and_no_value():
    sizes, passing = SIZES[:5] + SIZES[7:], PASSING[:5] + PASSING[7:]  # 3/8 and 1/4 in are gone
    with pytest.raises(NoSolution, match=r"No sieve of 6\.35 mm \(0\.25 in\) was used"):
        share_passing_at(sizes, passing, 0.25 * INCH)
    assert least_passing_at(sizes, passing, 0.25 * INCH) == PASSING[7]
    assert most_passing_at(sizes, passing, 0.25 * INCH) == PASSING[4]
    near = SIZES[:6] + SIZES[7:], PASSING[:6] + PASSING[7:]  # only 1/4 in is gone
    with pytest.raises(NoSolution):
        share_passing_at(*near, 0.25 * INCH)


@pytest.mark.works(of=(size_at_share,))
def test_a_curve_is_not_drawn_on_beyond_its_sieves():
    with pytest.raises(NoSolution, match="D10 lies beyond the smallest sieve"):
        size_at_share(SIZES[:3], PASSING[:3], 0.10)
    with pytest.raises(NoSolution, match="D99 lies beyond the largest sieve"):
        size_at_share(SIZES, PASSING, 0.99)
    with pytest.raises(NoSolution, match="too far apart to read it"):
        size_at_share((2 * INCH, 0.25 * INCH), (0.9, 0.1), 0.5)


@pytest.mark.by_hand(of=(mass_loss,))
def test_loss_is_what_is_missing_of_the_mass_before():
    assert mass_loss(54.4, MASSES, PAN) == pytest.approx((54.4 - 53.8) / 54.4)
    assert mass_loss(53.0, MASSES, PAN) == pytest.approx(-0.8 / 53.0)


@pytest.mark.by_hand(of=(moisture_dry_basis, dry_mass))
def test_one_moisture_sample_dries_every_mass_alike():
    moisture = moisture_dry_basis(2.4, 1.5)
    assert moisture == pytest.approx(0.9 / 1.5)
    assert dry_mass(86.08, moisture) == pytest.approx(86.08 / 1.6)


@pytest.mark.law(of=(dry_mass, shares_passing, moisture_dry_basis))
@given(st.floats(0.0, 3.0))
def test_shares_do_not_depend_on_one_moisture_for_all(moisture: float):
    dried = tuple(dry_mass(mass, moisture) for mass in MASSES)
    assert shares_passing(SIZES, dried, dry_mass(PAN, moisture)) == pytest.approx(PASSING)


@pytest.mark.law(of=(shares_passing, least_passing_at, most_passing_at, share_passing_at))
@given(
    st.lists(st.floats(0.01, 20.0), min_size=8, max_size=8),
    st.floats(0.01, 5.0),
    st.floats(0.0064, 0.0507),
)
def test_a_share_read_off_lies_between_its_bounds(masses: list[float], pan: float, size: float):
    passing = shares_passing(SIZES, tuple(masses), pan)
    assert list(passing) == sorted(passing, reverse=True)
    read = share_passing_at(SIZES, passing, size)
    assert least_passing_at(SIZES, passing, size) <= read + 1e-12
    assert read <= most_passing_at(SIZES, passing, size) + 1e-12


@pytest.mark.by_hand(of=(mean_of_shares, largest_share, smallest_share))
def test_several_trucks_have_a_mean_and_a_worst():
    fines = {"one": 0.03, "two": 0.04, "three": 0.08}
    assert mean_of_shares(**fines) == pytest.approx((0.03 + 0.04 + 0.08) / 3)
    assert largest_share(**fines) == 0.08
    assert smallest_share(**fines) == 0.03


@pytest.mark.works(of=(shares_passing, mass_loss, moisture_dry_basis, uniformity_coefficient))
def test_what_has_no_meaning_is_refused_in_words():
    with pytest.raises(OutOfDomain, match="openings do not fall from sieve to sieve"):
        shares_passing((0.01, 0.02), (1.0, 1.0), 0.0)
    with pytest.raises(OutOfDomain, match="cannot be negative"):
        shares_passing((0.02, 0.01), (1.0, -1.0), 0.0)
    with pytest.raises(OutOfDomain, match="mass is 0 kg"):
        shares_passing((0.02, 0.01), (0.0, 0.0), 0.0)
    with pytest.raises(OutOfDomain, match="2 sieves stand beside 1 values"):
        shares_passing((0.02, 0.01), (1.0,), 0.0)
    with pytest.raises(OutOfDomain, match="mass before is 0 kg"):
        mass_loss(0.0, MASSES, PAN)
    with pytest.raises(OutOfDomain, match="Dry is more than 0 and no more than wet"):
        moisture_dry_basis(1.0, 1.2)
    with pytest.raises(OutOfDomain, match="more than 0"):
        uniformity_coefficient(0.02, 0.0)
