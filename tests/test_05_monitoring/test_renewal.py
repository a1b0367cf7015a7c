# SPDX-License-Identifier: Apache-2.0
"""Two clocks of a bed: conductivity that declines and what readings say of it, and carbon."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.monitoring.carbon import (
    carbon_clock,
    carbon_for_nitrogen,
    carbon_for_oxygen,
    carbon_in_chips,
    carbon_leached,
    wood_left,
)
from tilewater.monitoring.renewal import (
    LONGEST_YEARS,
    Decline,
    ages_at_conductivity,
    conductivity_of_layers,
    decline_after_readings,
    decline_of_draws,
    quantile_of_ages,
    share_past,
    sign_stands,
    years_left,
)

DRAWS = 4000
SAMPLED = 0.05
"""Four thousand draws miss a mean or a spread by less, as a share of the spread."""


def drawn(seed: int = 1) -> Decline:
    random = np.random.default_rng(seed)
    return Decline(
        math.log(0.07) + 0.45 * random.standard_normal(DRAWS),
        0.085 + 0.03 * random.standard_normal(DRAWS),
    )


# The clock of two conductivities, 9.5 and 4.2 cm/s at 9.25 years: ln(9.5/4.2)/9.25 = 0.0882/yr
@pytest.mark.by_hand(of=(decline_of_draws,))
@pytest.mark.parametrize(("year", "shown"), [(5, "6.11"), (10, "3.93"), (15, "2.53"), (20, "1.63")])
def test_conductivity_by_year(year: float, shown: str) -> None:
    decline = decline_of_draws(np.array([0.095]), np.array([0.042]), 9.25)
    assert printed("0.0882") == decline.per_year[0]
    assert printed(shown) == 100.0 * decline.at(year)[0]


@pytest.mark.by_hand(of=(ages_at_conductivity,))
def test_the_simplified_bed_falls_under_15_percent_at_9_9_years() -> None:
    # its capacity goes with its conductivity: 14.9 percent of 0.930 cfs at 3.93 cm/s, so that
    # 15 percent takes 3.96 cm/s, and ln(9.5/3.96)/0.0882 = 9.9
    decline = decline_of_draws(np.array([0.095]), np.array([0.042]), 9.25)
    assert printed("9.9") == ages_at_conductivity(decline, 0.0396)[0]


@pytest.mark.by_hand(of=(carbon_in_chips, carbon_for_nitrogen))
def test_denitrification_hardly_empties_a_bed() -> None:
    carbon = carbon_in_chips(258.1, 215.0, 0.47)
    assert 55490 == pytest.approx(258.1 * 215.0, abs=5.0)
    assert printed("2608e1") == carbon
    assert printed("214") == carbon_for_nitrogen(200.0)
    assert printed("0.8") == 100.0 * carbon_for_nitrogen(200.0) / carbon


@pytest.mark.by_hand(of=(carbon_for_oxygen, carbon_leached, carbon_clock))
def test_oxygen_and_leaching_take_more_than_nitrate() -> None:
    # 30,000 m3 with 8 mg/L of oxygen: 240 kg O2, of carbon 12/32 of it; 4 mg/L dissolved: 120 kg
    oxygen, leached = carbon_for_oxygen(30000.0, 8.0), carbon_leached(30000.0, 4.0)
    assert oxygen == pytest.approx(90.0)
    assert leached == pytest.approx(120.0)
    clock = carbon_clock(26080.0, 0.5, carbon_for_nitrogen(100.0), oxygen, leached)
    assert clock == pytest.approx(13040.0 / (107.0 + 90.0 + 120.0))


@pytest.mark.by_hand(of=(wood_left,))
def test_half_of_the_wood_is_left_after_its_half_life() -> None:
    assert wood_left(35.0, 35.0) == pytest.approx(0.5)
    assert wood_left(9.2, 4.6) == pytest.approx(0.25)
    assert wood_left(0.0, 4.6) == 1.0


@pytest.mark.by_hand(of=(conductivity_of_layers,))
def test_new_chips_in_a_third_help_as_layers_do() -> None:
    # 1 / (1/3 / 9 + 2/3 / 3) with 9 and 3 cm/s
    assert conductivity_of_layers(0.09, 0.03, 1.0 / 3.0) == pytest.approx(
        1.0 / ((1.0 / 3.0) / 0.09 + (2.0 / 3.0) / 0.03)
    )


@pytest.mark.oracle("exact normal posterior", of=(decline_after_readings,))
def test_readings_move_the_draws_as_exact_algebra_does() -> None:
    before, error = drawn(), 0.25
    ages, seen = (1.0, 2.5, 4.0), (0.050, 0.046, 0.039)
    after = decline_after_readings(before, ages, seen, error)
    state = np.stack([before.log_new, before.per_year])
    mean, cov = state.mean(axis=1), np.cov(state)
    sees = np.array([[1.0, -age] for age in ages])
    precision = np.linalg.inv(cov) + sees.T @ sees / error**2
    exact_cov = np.linalg.inv(precision)
    exact = exact_cov @ (np.linalg.inv(cov) @ mean + sees.T @ np.log(seen) / error**2)
    found = np.stack([after.log_new, after.per_year])
    spread = np.sqrt(np.diag(exact_cov))
    assert np.abs(found.mean(axis=1) - exact) == pytest.approx(0.0, abs=SAMPLED * spread.max())
    assert found.std(axis=1) == pytest.approx(spread, rel=SAMPLED)


@pytest.mark.law(of=(decline_after_readings,))
def test_no_reading_changes_nothing_and_a_blind_one_hardly() -> None:
    before = drawn()
    assert decline_after_readings(before, (), (), 0.25) is before
    blind = decline_after_readings(before, (3.0,), (0.001,), 1e4)
    assert blind.log_new == pytest.approx(before.log_new, abs=1e-3)


@pytest.mark.law(of=(decline_after_readings, ages_at_conductivity, quantile_of_ages))
@given(age=st.floats(0.2, 8.0), seen=st.floats(0.02, 0.12), times=st.floats(1.05, 2.0))
def test_a_freer_reading_never_shortens_the_life(age: float, seen: float, times: float) -> None:
    low, high = (
        ages_at_conductivity(decline_after_readings(drawn(), (age,), (each,), 0.25), 0.03)
        for each in (seen, seen * times)
    )
    for share in (0.1, 0.5, 0.9):
        assert quantile_of_ages(high, share) >= quantile_of_ages(low, share)


@pytest.mark.law(of=(ages_at_conductivity, share_past, years_left))
@given(needed=st.floats(0.005, 0.2), now=st.floats(0.0, 30.0))
def test_ages_lie_between_0_and_60_and_a_higher_ask_ends_sooner(needed: float, now: float) -> None:
    decline = drawn()
    ages = ages_at_conductivity(decline, needed)
    assert np.all((ages >= 0.0) & (ages <= LONGEST_YEARS))
    assert np.all(ages_at_conductivity(decline, 1.2 * needed) <= ages)
    left = years_left(quantile_of_ages(ages, 0.5), now)
    assert (left <= 0.0) == (share_past(ages, now) >= 0.5) or abs(left) < 0.05


@pytest.mark.law(of=(conductivity_of_layers,))
@given(new=st.floats(0.01, 0.2), aged=st.floats(0.002, 0.2), part=st.floats(0.0, 1.0))
def test_a_part_lies_between_both(new: float, aged: float, part: float) -> None:
    found = conductivity_of_layers(new, aged, part)
    assert min(new, aged) * (1 - 1e-12) <= found <= max(new, aged) * (1 + 1e-12)


@pytest.mark.practice(of=(sign_stands,))
def test_a_sign_lies_on_its_side_of_the_limit() -> None:
    assert sign_stands(0.4, 0.5, "below")
    assert not sign_stands(0.5, 0.5, "below")
    assert sign_stands(0.2, 0.1524, "above")


@pytest.mark.works(of=(decline_after_readings, carbon_clock))
def test_what_is_no_reading_is_refused() -> None:
    with pytest.raises(OutOfDomain, match="2 ages and 1 readings are given"):
        decline_after_readings(drawn(), (1.0, 2.0), (0.05,), 0.25)
    with pytest.raises(OutOfDomain, match="carbon taken is 0 kg/year"):
        carbon_clock(1000.0, 0.5, 0.0, 0.0, 0.0)
