# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: the estimate with the job's own prices, and the cost of a year.

The estimate holds a contingency for what is not foreseen; it is set aside and no cost until it is
spent, so the cost of a year is that of the items alone.
"""

from tilewater.basis.trace import Given, Trace, argument_name
from tilewater.basis.unknown import Unknown
from tilewater.economics.estimate import cost_per_mass, extension, share_of_amount, sum_of
from tilewater.economics.value import annual_cost, present_value_of_replacements

INCH = 0.0254
PERCENTILES = ("p10", "p50", "p90")
RECHARGE = "inputs.money.recharge_share"
NOT_BID = frozenset({"chips-order", "end-cap"})
"""Quantities that are printed but not paid: chips are paid neat, caps with their line."""
OF_LINE = {"perforated-line": "perforated", "solid-line": "solid"}
"""Pipe of a distribution line, by the kind that is bought."""
SORTS = {"trench": "excavation", "line-marker": "corner-post", "envelope": "gravel"}
"""Items without a price of their own, and what is like them."""


def add_money(trace: Trace) -> None:
    """Record item prices, contingency, total, annual cost and cost per kilogram."""
    items = [
        name
        for name in trace.names("quantities")
        if f"quantities.{name}.quantity" in trace and name not in NOT_BID
    ]
    for item in items:
        _add_item(trace, item)
    compute = trace.compute
    compute(
        "cost.subtotal_usd",
        sum_of,
        unit="USD",
        title="Estimate before contingency",
        **{argument_name(item): f"cost.items.{item}.usd" for item in items},
    )
    compute(
        "cost.contingency_usd",
        share_of_amount,
        unit="USD",
        title="Contingency",
        amount="cost.subtotal_usd",
        share="inputs.estimate.contingency",
    )
    compute(
        "cost.total_usd",
        sum_of,
        unit="USD",
        title="Estimate",
        subtotal="cost.subtotal_usd",
        contingency="cost.contingency_usd",
    )
    _add_year(trace)


def price_item(trace: Trace, item: str) -> str | None:
    """Item of the price file that a quantity is paid by; None where that is not known.

    A price under the quantity's own name is taken before one of its sort.
    """
    if f"inputs.price.{item}.usd" in trace:
        return item
    if item.startswith("anchor-"):
        return "anchor-concrete"
    if item in OF_LINE:
        return _price_of_line(trace, OF_LINE[item])
    if item == "lining":
        lining = trace.value("inputs.bed.lining")
        return None if isinstance(lining, Unknown) else f"lining-{lining}"
    if item.startswith("pipe-"):
        given = f"inputs.pipe.{item.removeprefix('pipe-')}"
        if not trace.known(f"{given}.kind", f"{given}.diameter_m"):
            return None
        inches = float(trace.value(f"{given}.diameter_m")) / INCH
        return f"{trace.value(f'{given}.kind')}-pipe-{inches:.4g}-in"
    return SORTS.get(item, item)


def _price_of_line(trace: Trace, kind: str) -> str | None:
    """Item of the price file for the pipe of a distribution line."""
    diameter = "inputs.buffer.pipe_diameter_m"
    if not trace.known(diameter):
        return None
    return f"{kind}-pipe-{float(trace.value(diameter)) / INCH:.4g}-in"


def _add_item(trace: Trace, item: str) -> None:
    title = trace.steps[f"quantities.{item}.quantity"].title
    priced = price_item(trace, item)
    price = f"inputs.price.{priced or item}.usd"
    if price not in trace:
        why = f"no price for {priced or item}"
        measure = "add the item to the price file" if priced else "say what it is made of"
        trace.give(Given(price, Unknown(why, measure), "USD", f"Unit price of {priced or item}"))
    trace.compute(
        f"cost.items.{item}.usd",
        extension,
        unit="USD",
        title=title,
        quantity=f"quantities.{item}.quantity",
        unit_price=price,
    )


def _add_renewals(trace: Trace) -> dict[str, str]:
    """Record the cost of new media, and return it under its name; nothing where none are used."""
    if RECHARGE not in trace:
        return {}
    compute = trace.compute
    compute(
        "cost.recharge_usd",
        share_of_amount,
        unit="USD",
        title="Cost of new media when they are spent",
        amount="cost.subtotal_usd",
        share=RECHARGE,
    )
    compute(
        "cost.renewals_usd",
        present_value_of_replacements,
        unit="USD",
        title="Value today of the new media within the period",
        amount="cost.recharge_usd",
        interval_years="inputs.money.media_years",
        horizon_years="inputs.money.years",
        rate="inputs.money.rate",
    )
    return {"renewals": "cost.renewals_usd"}


def _add_year(trace: Trace) -> None:
    renewals, compute = _add_renewals(trace), trace.compute
    compute(
        "cost.present_usd",
        sum_of,
        unit="USD",
        title=f"First cost{' and new media' if renewals else ''}, no contingency, value today",
        first="cost.subtotal_usd",
        **renewals,
    )
    compute(
        "cost.annual_usd",
        annual_cost,
        unit="USD",
        title="Cost of a year",
        present_value_of_all="cost.present_usd",
        rate="inputs.money.rate",
        years="inputs.money.years",
        upkeep_per_year="inputs.money.upkeep_usd_per_year",
    )
    for cost, removed in zip(PERCENTILES, reversed(PERCENTILES), strict=True):
        compute(
            f"cost.usd_per_kg.{cost}",
            cost_per_mass,
            unit="USD",
            title=f"Cost of a kilogram removed, {cost}",
            annual_cost="cost.annual_usd",
            annual_mass=f"removal.removed_kg.{removed}",
        )
