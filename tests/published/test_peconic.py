# SPDX-License-Identifier: Apache-2.0
"""Peconic Estuary Partnership: cost of a denitrifying bioreactor.

The page prints 1,723 USD a year from 20,777 USD and 57 USD a year. Its own average of the upkeep
allows for 2 percent of inflation, which it does not show; the last dollar is not comparable.
"""

import pytest

from tests.digits import printed
from tilewater.economics.value import annual_cost


@pytest.mark.published(
    "peconic", "total per year, 20 years at 5 percent, to ten dollars", of=(annual_cost,)
)
def test_cost_a_year_to_ten_dollars() -> None:
    cost = annual_cost(20777.0, rate=0.05, years=20.0, upkeep_per_year=57.0)

    assert printed("172e1") == cost


@pytest.mark.xfail(reason="the page averages its upkeep in a way it does not show", strict=True)
@pytest.mark.published("peconic", "total per year, 20 years at 5 percent", of=(annual_cost,))
def test_cost_a_year_to_the_dollar() -> None:
    cost = annual_cost(20777.0, rate=0.05, years=20.0, upkeep_per_year=57.0)

    assert printed("1723") == cost
