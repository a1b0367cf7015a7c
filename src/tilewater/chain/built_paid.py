# SPDX-License-Identifier: Apache-2.0
"""Quantities for the final payment: designed, measured as built, and paid neat in place.

Work beyond the neat lines of the design is not paid unless it was ordered, and work short of them
is paid as it was measured. What no shot measures stays as designed and says so.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tilewater.basis.trace import Trace
from tilewater.chain.built_rerun import RERUN

PAID = "built.paid"
QUANTITIES = "quantities"
OF_BED = frozenset({"inputs.bed.floor_inlet_m", "inputs.bed.length_bottom_m"})
"""Inputs that must have been measured before volumes and areas of the bed count as measured."""
BY_BED = frozenset(
    {"woodchips", "excavation", "backfill", "spoil", "topsoil", "lining", "cover-fabric"}
)
"""Items that follow from the geometry of the bed."""
NEEDS_DEPTH = frozenset({"woodchips", "lining", "cover-fabric", "backfill", "spoil"})
DEPTH = "inputs.bed.media_depth_m"
NOT_BID = frozenset({"chips-order"})


@dataclass(frozen=True)
class PaidItem:
    """An item of the payment, in the base unit of the item.

    Attributes
    ----------
    item, unit : str
    designed : float or None
    measured : float or None
        None where no shot measures it.
    paid : float or None
        By the rule "neat in place".
    """

    item: str
    unit: str
    designed: float | None
    measured: float | None
    paid: float | None


def neat_in_place(designed: float, measured: float) -> float:
    """Quantity that is paid neat in place.

    Parameters
    ----------
    designed : float
        Within the neat lines of the design. [-]
    measured : float
        By the work as built. [-]

    Returns
    -------
    float
        The lesser of both, in their unit. [-]

    Notes
    -----
    Q = min(Q_design, Q_built)    (practice)

    References
    ----------
    practice, chips and excavation are paid within the neat lines unless more was ordered
    """
    return min(designed, measured)


def quantity_keys(trace: Trace) -> tuple[str, ...]:
    """Keys of the quantities of a design."""
    names = trace.names(QUANTITIES)
    return tuple(key for name in names if (key := f"{QUANTITIES}.{name}.quantity") in trace)


def add_paid(
    trace: Trace, after: Trace, instead: Mapping[str, Sequence[str]]
) -> tuple[PaidItem, ...]:
    """Record what is paid of each item.

    Parameters
    ----------
    trace : Trace
        Of the design, the design as built added under `rerun`. [-]
    after : Trace
        Of the design as built. [-]
    instead : mapping of str to sequence of str
        Inputs that each part replaced. [-]

    Returns
    -------
    tuple of PaidItem
        In the order of the quantities. [-]
    """
    replaced = {key for keys in instead.values() for key in keys}
    return tuple(
        _paid(trace, after, item, is_measured=_is_measured(item, replaced))
        for item in _items(trace, after)
    )


def _items(trace: Trace, after: Trace) -> Iterable[str]:
    keys = dict.fromkeys((*quantity_keys(trace), *quantity_keys(after)))
    items = (key.split(".")[1] for key in keys)
    return [item for item in items if item not in NOT_BID]


def _is_measured(item: str, replaced: set[str]) -> bool:
    return item in BY_BED and replaced >= OF_BED and (item not in NEEDS_DEPTH or DEPTH in replaced)


def _paid(trace: Trace, after: Trace, item: str, *, is_measured: bool) -> PaidItem:
    key = f"{QUANTITIES}.{item}.quantity"
    steps = trace.steps if key in trace else after.steps
    unit = steps[key].unit
    designed = float(trace.value(key)) if trace.known(key) else None
    again = f"{RERUN}.{key}"
    measured = float(trace.value(again)) if is_measured and trace.known(again) else None
    if designed is None or measured is None:
        return PaidItem(item, unit, designed, measured, designed)
    paid = trace.compute(
        f"{PAID}.{item}",
        neat_in_place,
        unit=unit,
        title=f"Paid neat in place: {item.replace('-', ' ')}",
        designed=key,
        measured=again,
    )
    return PaidItem(item, unit, designed, measured, float(paid))
