# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: who pays for a practice, in every order of the sources.

Worked for the cost as it stands and for overruns, since what a cap or an approved cost does not
follow is the owner's. A contingency is no cost and takes no part.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tilewater.basis.trace import Trace, argument_name
from tilewater.economics.estimate import share_to_the_cent, sum_to_the_cent
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

FUNDING = "funding"
GIVEN = "inputs.funding"
CASES = (("as-planned", 0.0), ("over-10", 0.10), ("over-25", 0.25))
"""Cost as it stands, and overruns that the owner should see."""
CONTRACTOR = "contractor"
OF_COST = "eligible cost"
WHOLE = "whole cost"


@dataclass(frozen=True)
class Source:
    """A source of money as the job states it.

    Attributes
    ----------
    name, title : str
    pays : str
        "per unit", "percent" or "flat".
    items : tuple of str
        Items that are eligible.
    item : str
        Item that is paid by the unit.
    of_cost : bool
        Whether its percent is of all that is eligible, in place of what others leave.
    pays_contractor : bool
    ceiling_of_whole : bool
        Whether its ceiling over all public money is of the whole cost, in place of what it counts.
    """

    name: str
    title: str
    pays: str
    items: tuple[str, ...]
    item: str = ""
    of_cost: bool = False
    pays_contractor: bool = False
    ceiling_of_whole: bool = False

    @property
    def given(self) -> str:
        """Where its inputs stand."""
        return f"{GIVEN}.{self.name}"


@dataclass(frozen=True)
class Order:
    """One order of the sources.

    Attributes
    ----------
    name : str
        Names of the sources in their turn: `county-then-state`.
    sources : tuple of str
    """

    name: str
    sources: tuple[str, ...]

    def key(self, case: str) -> str:
        """Where its steps stand, for a case of the cost."""
        return f"{FUNDING}.{case}.{self.name}"

    def paid(self, case: str, source: str) -> str:
        """Key of what a source pays."""
        return f"{self.key(case)}.{source}.paid_usd"

    def owner(self, case: str) -> str:
        """Key of what is left to the owner."""
        return f"{self.key(case)}.owner_usd"


def sources_of(trace: Trace, items: tuple[str, ...]) -> tuple[Source, ...]:
    """Sources of the job in their own order; each is whole, which is checked before.

    Parameters
    ----------
    trace : Trace
        With the inputs of the job.
    items : tuple of str
        Items of the contract.
    """
    found = []
    for name in trace.names(GIVEN):
        given = f"{GIVEN}.{name}"

        def value(key: str, given: str = given) -> object:
            return trace.value(f"{given}.{key}") if trace.known(f"{given}.{key}") else None

        said, left = value("eligible"), value("not_eligible")
        kept = [item for item in items if not isinstance(said, tuple) or item in said]
        kept = [item for item in kept if not isinstance(left, tuple) or item not in left]
        turn = value("order")
        source = Source(
            name,
            str(value("source") or name.replace("-", " ")),
            str(value("pays") or ""),
            tuple(kept),
            str(value("item") or ""),
            value("percent_of") == OF_COST,
            value("pays_to") == CONTRACTOR,
            value("ceiling_of") == WHOLE,
        )
        found.append((float(turn) if isinstance(turn, int | float) else len(items) + 1.0, source))
    return tuple(source for _, source in sorted(found, key=lambda pair: pair[0]))


def add_funding(
    trace: Trace,
    sources: tuple[Source, ...],
    amounts: Mapping[str, str],
    quantities: Mapping[str, str],
) -> tuple[Order, ...]:
    """Record who pays what in every order, for the cost as it stands and with overruns.

    Parameters
    ----------
    trace : Trace
        With the items of the bid.
    sources : tuple of Source
    amounts : mapping of str to str
        Keys of what each item of the contract costs.
    quantities : mapping of str to str
        Keys of the bid quantity of each item.

    Returns
    -------
    tuple of Order
        The sources' own order first.
    """
    trace.compute(
        f"{FUNDING}.cost_usd",
        sum_to_the_cent,
        unit="USD",
        title="Cost to be paid for, no contingency",
        **{argument_name(item): key for item, key in amounts.items()},
    )
    for source in sources:
        trace.compute(
            f"{FUNDING}.eligible.{source.name}_usd",
            sum_to_the_cent,
            unit="USD",
            title=f"Items that are eligible for {source.title}",
            **{argument_name(item): amounts[item] for item in source.items},
        )
    orders = tuple(
        Order("-then-".join(names) or "nobody", names)
        for names in orders_of(tuple(source.name for source in sources))
    )
    by_name = {source.name: source for source in sources}
    for case, overrun in CASES:
        _add_case(trace, case, overrun, sources)
        for order in orders:
            _add_order(trace, case, order, by_name, quantities)
    _add_cash(trace, orders[0], by_name)
    return orders


def _add_case(trace: Trace, case: str, overrun: float, sources: tuple[Source, ...]) -> None:
    """The cost of a case, what of it each source counts, and the ceiling over all."""
    here, compute = f"{FUNDING}.{case}", trace.compute
    words = f", {overrun:.0%} over" if overrun else ""
    share = trace.constant(f"{here}.overrun", overrun, "Overrun looked at", source="practice")
    compute(
        f"{here}.cost_usd",
        cost_with_overrun,
        unit="USD",
        title=f"Cost{words}",
        amount=f"{FUNDING}.cost_usd",
        overrun=share,
    )
    ceilings = {}
    for source in sources:
        actual, counted = (f"{here}.{sort}.{source.name}_usd" for sort in ("actual", "counted"))
        compute(
            actual,
            cost_with_overrun,
            unit="USD",
            title=f"Eligible for {source.title}{words}",
            amount=f"{FUNDING}.eligible.{source.name}_usd",
            overrun=share,
        )
        compute(
            counted,
            eligible_cost,
            unit="USD",
            title=f"Counted by {source.title}{words}: the lesser of actual and approved",
            actual=actual,
            **_where(trace, approved=f"{source.given}.approved_cost_usd"),
        )
        if f"{source.given}.combined_ceiling" in trace:
            ceilings[argument_name(source.name)] = f"{here}.limit.{source.name}_usd"
            compute(
                ceilings[argument_name(source.name)],
                share_to_the_cent,
                unit="USD",
                title=f"Most public money that {source.title} allows{words}",
                amount=f"{here}.cost_usd" if source.ceiling_of_whole else counted,
                share=f"{source.given}.combined_ceiling",
            )
    if ceilings:
        compute(
            f"{here}.ceiling_usd",
            combined_ceiling,
            unit="USD",
            title=f"Most public money together{words}",
            **ceilings,
        )


def _where(trace: Trace, **inputs: str) -> dict[str, str]:
    """Inputs that the job has."""
    return {name: key for name, key in inputs.items() if key in trace}


def _add_order(
    trace: Trace,
    case: str,
    order: Order,
    by_name: Mapping[str, Source],
    quantities: Mapping[str, str],
) -> None:
    """What each source pays in its turn, and what is left."""
    paid: dict[str, str] = {}
    where = f"{', '.join(by_name[name].title for name in order.sources)} in this order, {case}"
    for name in order.sources:
        source, here = by_name[name], f"{order.key(case)}.{name}"
        trace.compute(
            f"{here}.before_usd",
            sum_to_the_cent,
            unit="USD",
            title=f"Paid before {source.title}: {where}",
            **paid,
        )
        _add_asked(trace, case, here, source, quantities)
        trace.compute(
            f"{here}.paid_usd",
            payment,
            unit="USD",
            title=f"{source.title} pays: {where}",
            asked=f"{here}.asked_usd",
            cost=f"{FUNDING}.{case}.cost_usd",
            before=f"{here}.before_usd",
            **_where(trace, cap=f"{source.given}.cap_usd", ceiling=f"{FUNDING}.{case}.ceiling_usd"),
        )
        paid[argument_name(name)] = f"{here}.paid_usd"
    trace.compute(
        order.owner(case),
        owner_share,
        unit="USD",
        title=f"The owner pays: {where}",
        cost=f"{FUNDING}.{case}.cost_usd",
        **paid,
    )


def _add_asked(
    trace: Trace, case: str, here: str, source: Source, quantities: Mapping[str, str]
) -> None:
    """What a source owes by its own rule."""
    title = f"{source.title} owes by its own rule"
    counted = f"{FUNDING}.{case}.counted.{source.name}_usd"
    key, given = f"{here}.asked_usd", source.given
    if source.pays == "per unit":
        trace.compute(
            key,
            asked_per_unit,
            unit="USD",
            title=title,
            unit_rate=f"{given}.rate_usd",
            quantity=quantities[source.item],
            **_where(trace, approved_quantity=f"{given}.approved_quantity"),
        )
    elif source.pays == "flat":
        trace.compute(key, asked_flat, unit="USD", title=title, amount=f"{given}.rate_usd")
    elif source.of_cost:
        trace.compute(
            key,
            asked_of_the_cost,
            unit="USD",
            title=title,
            percent=f"{given}.percent",
            eligible=counted,
        )
    else:
        trace.compute(
            key,
            asked_of_the_rest,
            unit="USD",
            title=title,
            percent=f"{given}.percent",
            eligible=counted,
            before=f"{here}.before_usd",
        )


def cash_steps(trace: Trace, order: Order, by_name: Mapping[str, Source]) -> Iterator[Source]:
    """Sources that pay the owner back, the one that pays soonest first."""

    def days(source: Source) -> float:
        key = f"{source.given}.pays_after"
        return float(trace.value(key)) if trace.known(key) else float("inf")

    back = [by_name[name] for name in order.sources if not by_name[name].pays_contractor]
    yield from sorted(back, key=days)


def _add_cash(trace: Trace, order: Order, by_name: Mapping[str, Source]) -> None:
    """Money that the owner must have at hand, from the contractor's bill to the last payment."""
    case = CASES[0][0]
    received = {
        argument_name(name): order.paid(case, name)
        for name in order.sources
        if by_name[name].pays_contractor
    }
    steps = [("bill", "Owner's cash when the contractor's bill is due", dict(received))]
    for source in cash_steps(trace, order, by_name):
        received[argument_name(source.name)] = order.paid(case, source.name)
        steps.append((source.name, f"Owner's cash once {source.title} has paid", dict(received)))
    for name, title, inputs in steps:
        trace.compute(
            f"{FUNDING}.cash.{name}_usd",
            owner_cash,
            unit="USD",
            title=title,
            cost=f"{FUNDING}.{case}.cost_usd",
            **inputs,
        )
