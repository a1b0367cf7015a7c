# SPDX-License-Identifier: Apache-2.0
"""Money of a bid to the cent: extensions, the bid tab, sources of money in every order. US units.

T cost of the practice; chips neat 338 CY; a source of 34.00 USD/CY and one of 75 percent.
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tilewater.basis.errors import NoSolution, OutOfDomain
from tilewater.economics.alternates import alternate_change, total_with_alternate
from tilewater.economics.bids import (
    amount_written_off,
    crossing_change,
    mean_price,
    ratio_of_prices,
    share_beside,
    total_at,
)
from tilewater.economics.estimate import (
    bid_quantity,
    exact,
    extension_to_the_cent,
    share_to_the_cent,
    sum_to_the_cent,
    to_the_cent,
)
from tilewater.economics.funding import (
    asked_flat,
    asked_of_the_cost,
    asked_of_the_rest,
    asked_per_unit,
    combined_ceiling,
    cost_with_overrun,
    eligible_cost,
    orders_of,
    owner_cash,
    owner_share,
    payment,
)

from .test_estimate import BID_LIST

T = Decimal("35459.16")
NOTHING = Decimal(0)
CENTS = st.integers(0, 10**8).map(lambda cents: Decimal(cents) / 100)


@pytest.mark.by_hand(of=(extension_to_the_cent, sum_to_the_cent, share_to_the_cent))
def test_a_bid_list_adds_up_to_the_very_cent():
    amounts = {
        item: extension_to_the_cent(Decimal(str(quantity)), Decimal(str(price)))
        for item, (quantity, price, _) in BID_LIST.items()
    }
    for item, (_, _, amount) in BID_LIST.items():
        assert Decimal(amount.replace(",", "")) == amounts[item]
    subtotal = sum_to_the_cent(**amounts)
    assert Decimal("32235.60") == subtotal
    contingency = share_to_the_cent(subtotal, 0.10)
    assert Decimal("3223.56") == contingency
    assert T == sum_to_the_cent(subtotal=subtotal, contingency=contingency)


@pytest.mark.by_hand(of=(amount_written_off, extension_to_the_cent, total_at))
def test_a_wrong_extension_is_put_right_by_its_unit_price():
    right = extension_to_the_cent(Decimal(388), Decimal("41.50"))
    assert Decimal("16102.00") == right
    assert Decimal("-1000.00") == amount_written_off(Decimal(15102), right)
    # the total moves with it: 36,880 - 15,102 + 16,102
    assert Decimal(37880) == Decimal(36880) - Decimal(15102) + right
    assert Decimal("37880.00") == total_at(
        Decimal(36880), Decimal("41.50"), Decimal(1000) / Decimal("41.50")
    )


@pytest.mark.by_hand(of=(share_beside, ratio_of_prices, mean_price))
def test_the_low_bid_beside_the_estimate_and_a_mobilization_beside_its_price():
    bids = {"a": Decimal(33410), "b": Decimal(28975), "c": Decimal(37880)}
    assert "b" == min(bids, key=bids.__getitem__)
    assert -0.101 == round(share_beside(bids["b"], Decimal("32235.60")), 3)
    assert Decimal("4.000") == ratio_of_prices(Decimal(6000), Decimal(1500))
    assert Decimal("3166.67") == mean_price(a=Decimal(6000), b=Decimal(1500), c=Decimal(2000))
    with pytest.raises(NoSolution):
        ratio_of_prices(Decimal(1), NOTHING)


@pytest.mark.by_hand(of=(crossing_change, total_at))
def test_the_lowest_bid_is_level_with_the_next_where_the_quantity_crosses():
    # the lowest leads by 420.00 and asks 41.50 for chips, the next 36.00: 420 / 5.50 = 76.364 CY
    crossing = crossing_change(Decimal(420), Decimal("41.50"), Decimal(36))
    assert Decimal("76.364") == crossing
    low, other = Decimal(40000), Decimal(40420)
    ten_percent = Decimal("38.8")
    assert Decimal("41610.20") == total_at(low, Decimal("41.50"), ten_percent)
    assert Decimal("41816.80") == total_at(other, Decimal(36), ten_percent)
    assert total_at(low, Decimal("41.50"), Decimal(77)) > total_at(other, Decimal(36), Decimal(77))
    with pytest.raises(NoSolution):
        crossing_change(Decimal(420), Decimal(36), Decimal(36))


@pytest.mark.by_hand(of=(asked_per_unit, asked_of_the_rest, payment, owner_share))
def test_two_sources_one_after_the_other():
    by_unit = asked_per_unit(34.00, Decimal(338))
    assert Decimal("11492.00") == by_unit
    first = payment(by_unit, T, NOTHING)
    second = payment(asked_of_the_rest(0.75, T, first), T, first)
    assert Decimal("17975.37") == second
    assert Decimal("5991.79") == owner_share(T, first=first, second=second)


@pytest.mark.by_hand(of=(asked_of_the_rest, payment, owner_share))
def test_the_same_sources_the_other_way_round_leave_the_owner_nothing():
    percent = payment(asked_of_the_rest(0.75, T, NOTHING), T, NOTHING)
    assert Decimal("26594.37") == percent
    by_unit = payment(Decimal(11492), T, percent)
    assert Decimal("8864.79") == by_unit
    assert Decimal("0.00") == owner_share(T, percent=percent, by_unit=by_unit)


@pytest.mark.by_hand(of=(combined_ceiling, payment, owner_share))
def test_a_ceiling_over_all_public_money_holds_in_either_order():
    ceiling = combined_ceiling(first=share_to_the_cent(T, 0.90))
    assert Decimal("31913.24") == ceiling
    percent = payment(asked_of_the_rest(0.75, T, NOTHING), T, NOTHING, ceiling=ceiling)
    by_unit = payment(Decimal(11492), T, percent, ceiling=ceiling)
    assert Decimal("3545.92") == owner_share(T, percent=percent, by_unit=by_unit)
    first = payment(Decimal(11492), T, NOTHING, ceiling=ceiling)
    second = payment(asked_of_the_rest(0.75, T, first), T, first, ceiling=ceiling)
    assert Decimal("3545.92") <= owner_share(T, first=first, second=second)


@pytest.mark.by_hand(of=(payment, owner_share, cost_with_overrun))
def test_a_cap_makes_both_orders_the_same_and_an_overrun_the_owners():
    first = payment(Decimal(11492), T, NOTHING)
    second = payment(asked_of_the_rest(0.75, T, first), T, first, cap=12000.0)
    assert Decimal("11967.16") == owner_share(T, first=first, second=second)
    second = payment(asked_of_the_rest(0.75, T, NOTHING), T, NOTHING, cap=12000.0)
    first = payment(Decimal(11492), T, second)
    assert Decimal("11967.16") == owner_share(T, first=first, second=second)
    dearer = cost_with_overrun(T, 0.25)
    assert Decimal("44323.95") == dearer
    second = payment(asked_of_the_rest(0.75, dearer, first), dearer, first, cap=12000.0)
    more = owner_share(dearer, first=first, second=second) - Decimal("11967.16")
    assert dearer - T == more


@pytest.mark.by_hand(of=(eligible_cost, asked_of_the_cost, combined_ceiling))
def test_half_of_the_lesser_of_eligible_and_estimated_and_three_quarters_together():
    eligible = eligible_cost(Decimal("44000.00"), 42000.0)
    assert Decimal("42000.00") == eligible
    assert Decimal("41000.00") == eligible_cost(Decimal("41000.00"), 42000.0)
    state = asked_of_the_cost(0.50, eligible)
    assert Decimal("21000.00") == state
    ceiling = combined_ceiling(state=share_to_the_cent(eligible, 0.75))
    county = payment(asked_flat(15000.0), Decimal("44000.00"), state, ceiling=ceiling)
    assert Decimal("10500.00") == county  # 31,500 together
    assert Decimal("12500.00") == owner_share(Decimal("44000.00"), state=state, county=county)
    assert Decimal("23000.00") == owner_cash(Decimal("44000.00"), state=state)


@pytest.mark.by_hand(of=(alternate_change, total_with_alternate))
def test_an_alternate_adds_what_it_adds_and_takes_what_it_leaves_out():
    change = alternate_change(Decimal("1072.80"), Decimal("1385.70"))
    assert Decimal("-312.90") == change
    assert Decimal("31922.70") == total_with_alternate(Decimal("32235.60"), change)


@pytest.mark.by_hand(of=(bid_quantity, to_the_cent, exact))
def test_quantities_are_bid_with_the_digits_that_are_printed():
    assert Decimal(435) == bid_quantity(332.41972122374403, 0.764554857984)
    assert Decimal("0.222") == bid_quantity(899.2326789503973, 4046.8564224)
    assert Decimal("20.4") == bid_quantity(6.20268, 0.3048)
    assert Decimal(4) == bid_quantity(4.0, 1.0)
    assert Decimal(0) == bid_quantity(0.0, 1.0)
    assert Decimal("0.13") == to_the_cent(Decimal("0.125"))
    assert Decimal("0.3") == exact(0.1 + 0.2)


@pytest.mark.works(of=(payment,))
def test_more_paid_before_than_the_bill_is_refused():
    with pytest.raises(OutOfDomain, match="cannot be more than the cost"):
        payment(Decimal(1), Decimal(10), Decimal(11))


@pytest.mark.works(of=(orders_of,))
def test_up_to_four_sources_pay_in_every_order():
    assert (("a", "b"), ("b", "a")) == orders_of(("a", "b"))
    assert 24 == len(orders_of(("a", "b", "c", "d")))
    assert (tuple("abcde"),) == orders_of(tuple("abcde"))
    assert ((),) == orders_of(())


@pytest.mark.law(of=(payment, owner_share, asked_of_the_rest, combined_ceiling))
@given(
    cost=CENTS,
    flat=CENTS,
    percent=st.decimals(0, 1, places=3),
    cap=CENTS,
    ceiling=st.decimals(0, 1, places=3),
)
def test_shares_add_up_to_the_cost_and_no_one_pays_below_nothing(cost, flat, percent, cap, ceiling):
    limit = share_to_the_cent(cost, float(ceiling))
    for order in orders_of(("flat", "percent")):
        paid: dict[str, Decimal] = {}
        for name in order:
            before = sum(paid.values(), NOTHING)
            asked = flat if name == "flat" else asked_of_the_rest(float(percent), cost, before)
            most = float(cap) if name == "percent" else None
            paid[name] = payment(asked, cost, before, cap=most, ceiling=limit)
        owner = owner_share(cost, **paid)
        assert cost == owner + sum(paid.values(), NOTHING)
        assert owner >= 0
        assert min(paid.values()) >= 0
        assert sum(paid.values(), NOTHING) <= limit
