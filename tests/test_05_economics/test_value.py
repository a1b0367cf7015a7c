# SPDX-License-Identifier: Apache-2.0
"""Capital recovery, present value, replacements, yearly cost.

P present sum, i rate, n years.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.basis.errors import OutOfDomain
from tilewater.economics.value import (
    annual_cost,
    capital_recovery_factor,
    present_value,
    present_value_of_replacements,
)

RATES = st.floats(0.0, 0.3)
YEARS = st.integers(1, 60)


@pytest.mark.by_hand(of=(capital_recovery_factor,))
@pytest.mark.parametrize(
    ("percent", "years", "factor"),
    [
        (4, 8, ".149"),
        (4, 10, ".123291"),
        (4, 12, ".107"),
        (4, 15, ".089941"),
        (4, 20, ".073582"),
        (4, 24, ".065587"),
        (4, 40, ".050523"),
        (5, 10, ".129505"),
        (5, 20, ".080243"),
        (5, 40, ".058278"),
        (6, 20, ".087185"),
        (7, 10, ".142378"),
    ],
)
def test_capital_recovery_by_its_formula(percent: int, years: int, factor: str) -> None:
    i = percent / 100
    by_hand = i * (1 + i) ** years / ((1 + i) ** years - 1)

    assert by_hand == pytest.approx(capital_recovery_factor(i, years), rel=1e-12)
    assert printed(factor) == capital_recovery_factor(i, years)


@pytest.mark.by_hand(of=(present_value_of_replacements, annual_cost))
def test_two_recharges_in_twenty_four_years() -> None:
    recharges = present_value_of_replacements(
        5000.0, interval_years=8.0, horizon_years=24.0, rate=0.04
    )

    assert 5000 / 1.04**8 + 5000 / 1.04**16 == pytest.approx(recharges, rel=1e-12)
    assert printed("18573") == 12250 + recharges
    assert printed("1218") == annual_cost(12250 + recharges, rate=0.04, years=24.0)


@pytest.mark.by_hand(of=(present_value_of_replacements, annual_cost))
def test_a_bed_with_one_recharge_and_upkeep() -> None:
    recharge = present_value_of_replacements(
        0.55 * 35459, interval_years=10.0, horizon_years=20.0, rate=0.04
    )
    cost = annual_cost(35459 + recharge, rate=0.04, years=20.0, upkeep_per_year=150.0)

    assert printed("48634") == 35459 + recharge
    assert printed("3729") == cost


@pytest.mark.by_hand(of=(annual_cost,))
@pytest.mark.parametrize(("years", "cost"), [(40, "202"), (20, "294")])
def test_a_buffer_of_four_thousand_dollars(years: int, cost: str) -> None:
    assert printed(cost) == annual_cost(4000.0, rate=0.04, years=years)


@pytest.mark.law(of=(capital_recovery_factor, present_value))
@given(rate=RATES, years=YEARS)
def test_the_payments_are_worth_the_sum(rate: float, years: int) -> None:
    payment = capital_recovery_factor(rate, years)
    worth = math.fsum(
        float(present_value(payment, rate=rate, years=year)) for year in range(1, years + 1)
    )

    assert worth == pytest.approx(1.0, rel=1e-9)


@pytest.mark.law(of=(capital_recovery_factor,))
@given(rate=st.floats(1e-12, 0.3), years=YEARS)
def test_a_longer_life_costs_less_a_year_and_a_higher_rate_more(rate: float, years: int) -> None:
    factor = capital_recovery_factor(rate, years)

    assert capital_recovery_factor(rate, years + 1) < factor
    assert capital_recovery_factor(rate * 1.01, years) >= factor
    assert factor >= max(rate, 1.0 / years)


@pytest.mark.law(of=(capital_recovery_factor,))
def test_without_interest_the_sum_is_shared_evenly() -> None:
    assert capital_recovery_factor(0.0, 10.0) == 0.1
    assert capital_recovery_factor(1e-13, 10.0) == pytest.approx(0.1, rel=1e-11)


@pytest.mark.law(of=(capital_recovery_factor, present_value))
def test_many_at_once_are_each_alone() -> None:
    rates, years = np.array([0.0, 0.04, 0.07]), np.array([10.0, 20.0, 40.0])

    assert [
        float(capital_recovery_factor(i, n)) for i, n in zip(rates, years, strict=True)
    ] == list(capital_recovery_factor(rates, years))
    assert present_value(1.0, rate=rates, years=years).shape == (3,)


@pytest.mark.law(of=(present_value_of_replacements,))
@pytest.mark.parametrize(
    ("interval", "horizon", "number"),
    [
        (8.0, 24.0, 2),
        (10.0, 20.0, 1),
        (10.0, 20.5, 2),
        (30.0, 20.0, 0),
        (2.4, 7.2, 2),
        (1.0, 0.0, 0),
    ],
)
def test_none_is_bought_on_the_last_day(interval: float, horizon: float, number: int) -> None:
    assert number == present_value_of_replacements(
        1.0, interval_years=interval, horizon_years=horizon, rate=0.0
    )


@pytest.mark.works(of=(capital_recovery_factor, present_value_of_replacements))
def test_messages_say_what_to_give() -> None:
    with pytest.raises(OutOfDomain) as refused:
        capital_recovery_factor(-0.04, 10.0)

    assert str(refused.value) == ("rate is -0.04. It cannot be negative. Give 4 percent as 0.04.")
    with pytest.raises(OutOfDomain, match=r"^years is 0 years\. It must be above zero\."):
        capital_recovery_factor(0.04, 0.0)
    with pytest.raises(OutOfDomain, match=r"^interval_years is 0 years\."):
        present_value_of_replacements(1.0, interval_years=0.0, horizon_years=1.0, rate=0.04)
