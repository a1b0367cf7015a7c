# SPDX-License-Identifier: Apache-2.0
"""From quantities to the estimate: a bid list by hand. US units and dollars."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.digits import printed
from tilewater.economics.estimate import cost_per_mass, extension, share_of_amount, sum_of
from tilewater.economics.value import annual_cost, present_value_of_replacements

BID_LIST = {
    "mobilization": (1, 1500.00, "1,500.00"),
    "potholing": (4, 140.00, "560.00"),
    "excavation": (557, 6.25, "3,481.25"),
    "woodchips": (388, 36.00, "13,968.00"),
    "barrier_sheet": (447, 3.10, "1,385.70"),
    "fabric": (406, 2.40, "974.40"),
    "inlet_structure": (1, 2450.00, "2,450.00"),
    "outlet_structure": (1, 1750.00, "1,750.00"),
    "solid_pipe": (96, 17.50, "1,680.00"),
    "manifold": (48, 9.00, "432.00"),
    "collars": (4, 165.00, "660.00"),
    "backfill": (253, 3.75, "948.75"),
    "spoil": (381, 3.00, "1,143.00"),
    "seed": (0.45, 1450.00, "652.50"),
    "outlet_rock": (1, 650.00, "650.00"),
}


@pytest.mark.by_hand(of=(extension,))
@pytest.mark.parametrize("item", BID_LIST)
def test_extension_of_an_item(item):
    quantity, price, amount = BID_LIST[item]
    assert printed(amount) == extension(quantity, price)


@pytest.mark.by_hand(of=(sum_of, share_of_amount))
def test_estimate_adds_up_to_the_cent():
    subtotal = sum_of(**{item: extension(q, price) for item, (q, price, _) in BID_LIST.items()})
    contingency = share_of_amount(subtotal, 0.10)
    assert printed("32,235.60") == subtotal
    assert printed("3,223.56") == contingency
    assert printed("35,459.16") == sum_of(subtotal=subtotal, contingency=contingency)


@pytest.mark.by_hand(of=(annual_cost, cost_per_mass, present_value_of_replacements))
def test_cost_of_a_year_and_of_a_pound():
    renewal = present_value_of_replacements(
        share_of_amount(35459.16, 0.55), interval_years=10, horizon_years=20, rate=0.04
    )
    assert renewal == pytest.approx(0.55 * 35459.16 / 1.04**10)
    year = annual_cost(35459.16 + renewal, rate=0.04, years=20, upkeep_per_year=150)
    assert printed("3,729") == year
    for pounds, dollars in ((268, "13.91"), (420, "8.88")):
        assert printed(dollars) == cost_per_mass(float(year), pounds)
    assert cost_per_mass(3729.0, 0.0) == math.inf


@pytest.mark.law(of=(sum_of, share_of_amount, extension))
@given(amounts=st.lists(st.floats(0, 1e5), max_size=8), share=st.floats(0, 1))
def test_a_share_of_a_sum_is_the_sum_of_the_shares(amounts, share):
    items = {f"item_{i}": amount for i, amount in enumerate(amounts)}
    shares = {name: share_of_amount(amount, share) for name, amount in items.items()}
    assert sum_of(**shares) == pytest.approx(share_of_amount(sum_of(**items), share))
    assert extension(2.0, sum_of(**items)) == pytest.approx(2 * sum(amounts))
