# SPDX-License-Identifier: Apache-2.0
"""Chips by the truck: sums, tons, loads sent back, and use ahead of the plan."""

import pytest

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.trace import Given, Trace
from tilewater.chain.supply import Load, add_supply
from tilewater.ground.supply import (
    chips_at_end,
    chips_planned,
    chips_used,
    least_delivery,
    most_used,
    volume_delivered,
    volume_of_load,
)


def load(
    ticket: str, volume: float | None, *, mass: float | None = None, refused: str = ""
) -> Load:
    return Load(ticket, "2027-09-27 09:00", volume, mass, refused, "tickets.csv", 2)


def supplied(*loads: Load, needed: float = 100.0, **inputs: object) -> Trace:
    trace = Trace()
    trace.give(Given("quantities.chips-order.quantity", needed, "m3", "Chips to order"))
    for key, value in inputs.items():
        trace.give(Given(f"inputs.{key.replace('__', '.')}", value, "", key))
    add_supply(trace, loads)
    return trace


@pytest.mark.by_hand(of=(volume_of_load, volume_delivered, least_delivery))
def test_tons_become_volume_by_the_bulk_density_and_loads_sent_back_do_not_count():
    trace = supplied(
        load("1", 40.0),
        load("2", None, mass=16_500.0),
        load("3", 30.0, refused="soil"),
        supply__bulk_density_kg_per_m3=330.0,
    )
    assert trace.value("supply.delivered_m3") == pytest.approx(40.0 + 16_500.0 / 330.0)
    assert trace.value("supply.least_m3") == pytest.approx(100.0 * (1 - 0.05))
    assert trace.value("supply.delivery.status") == "short"


@pytest.mark.practice(of=(add_supply,))
@pytest.mark.parametrize(("delivered", "status"), [(94.9, "short"), (95.0, "holds")])
def test_delivery_is_short_below_what_is_needed_less_the_tolerance(delivered: float, status: str):
    assert supplied(load("1", delivered)).value("supply.delivery.status") == status


@pytest.mark.works(of=(add_supply,))
def test_a_load_in_tons_without_a_bulk_density_leaves_the_sum_not_known():
    trace = supplied(load("1", 40.0), load("2", None, mass=16_500.0))
    assert not trace.known("supply.delivered_m3")
    assert trace.value("supply.delivery.status") == "not known"


@pytest.mark.by_hand(of=(chips_used, chips_planned, most_used, chips_at_end))
def test_chips_used_ahead_of_the_filled_share_are_told():
    trace = supplied(
        load("1", 60.0),
        chips_placed__one__day="2027-09-27",
        chips_placed__one__share=0.4,
        chips_placed__one__stockpile_m3=10.0,
    )
    here = "supply.placed.one"
    assert trace.value(f"{here}.used_m3") == pytest.approx(60.0 - 10.0)
    assert trace.value(f"{here}.planned_m3") == pytest.approx(0.4 * 100.0)
    assert trace.value(f"{here}.most_m3") == pytest.approx(0.4 * 100.0 * 1.05)
    assert trace.value(f"{here}.at_end_m3") == pytest.approx(50.0 / 0.4)
    assert trace.value(f"{here}.ahead.status") == "short"


@pytest.mark.works(of=(add_supply,))
def test_loads_of_later_days_do_not_count_for_an_earlier_one():
    trace = supplied(
        load("1", 60.0), chips_placed__one__day="2027-09-26", chips_placed__one__share=0.4
    )
    assert trace.value("supply.placed.one.delivered_m3") == 0.0


@pytest.mark.works(of=(volume_of_load, chips_used, chips_at_end))
def test_what_has_no_meaning_is_refused_in_words():
    with pytest.raises(OutOfDomain, match="Weigh a known volume"):
        volume_of_load(1.0, 0.0)
    with pytest.raises(OutOfDomain, match=r"No more can lie on the pad than was brought"):
        chips_used(10.0, 11.0)
    with pytest.raises(OutOfDomain, match="Nothing is filled yet"):
        chips_at_end(10.0, 0.0)
    assert volume_delivered() == 0.0
    assert least_delivery(100.0, 0.05) == pytest.approx(95.0)
    assert chips_planned(100.0, 0.3) == pytest.approx(30.0)
    assert most_used(100.0, 0.05) == pytest.approx(105.0)
