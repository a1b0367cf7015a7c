# SPDX-License-Identifier: Apache-2.0
"""Steps of the chain: chips ordered, delivered and used, against what the design needs.

They follow a design and change nothing of it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Given, Origin, Trace
from tilewater.basis.unknown import Unknown
from tilewater.ground.supply import (
    chips_at_end,
    chips_planned,
    chips_used,
    least_delivery,
    most_used,
    volume_delivered,
    volume_of_load,
)
from tilewater.practices.rules import same

SUPPLY, LOADS, PLACED = "supply", "supply.loads", "supply.placed"
NEEDED = "quantities.chips-order.quantity"
TOLERANCE = 0.05


@dataclass(frozen=True)
class Load:
    """A load as its ticket has it; refused loads are not counted.

    Attributes
    ----------
    ticket, time : str
    volume, mass : float or None
        As printed on the ticket. [m3, kg]
    refused : str
    file : str
    line : int
    """

    ticket: str
    time: str
    volume: float | None
    mass: float | None
    refused: str
    file: str
    line: int


def load_key(load: Load) -> str:
    """Where the volume of a load stands in the trace."""
    return f"{LOADS}.{load.ticket.replace('.', '-')}.volume_m3"


def add_supply(trace: Trace, loads: Sequence[Load], day: str = "") -> None:
    """Record each load, what is delivered, and how far it goes.

    Parameters
    ----------
    trace : Trace
        Of the design. [-]
    loads : sequence of Load
        Those that have come. [-]
    day : str
        As `2027-09-27`; what was filled on a later day is left out. "" for all. [-]
    """
    _add_needed(trace)
    for load in loads:
        _add_load(trace, load)
    taken = [load for load in loads if not load.refused]
    _add_sum(trace, f"{SUPPLY}.delivered_m3", "Chips delivered and taken", taken)
    trace.compute(
        f"{SUPPLY}.least_m3",
        least_delivery,
        unit="m3",
        title="Least delivery that is let pass",
        needed=f"{SUPPLY}.needed_m3",
        tolerance=f"{SUPPLY}.tolerance",
    )
    trace.require(
        Requirement(
            f"{SUPPLY}.delivery",
            "Chips delivered are what the bed needs, less the tolerance",
            f"{SUPPLY}.delivered_m3",
            ">=",
            f"{SUPPLY}.least_m3",
            "m3",
            10.0,
        )
    )
    for name in trace.names("inputs.chips_placed"):
        of = f"inputs.chips_placed.{name}.day"
        if not (day and trace.known(of) and str(trace.value(of)) > day):
            _add_placed(trace, name, taken)


def _add_needed(trace: Trace) -> None:
    key, title = f"{SUPPLY}.needed_m3", "Chips to order by the design"
    if NEEDED in trace:
        trace.compute(key, same, unit="m3", title=title, value=NEEDED)
    else:
        why = Unknown("the design orders no chips", "design a bed first")
        trace.constant(key, why, title, unit="m3", source="derived")
    given, key = "inputs.supply.tolerance", f"{SUPPLY}.tolerance"
    if given in trace:
        trace.compute(key, same, unit="-", title="Shortfall that is let pass", value=given)
    else:
        title = "Shortfall that is let pass"
        trace.constant(key, TOLERANCE, title, unit="-", source="practice")


def _add_load(trace: Trace, load: Load) -> None:
    key = load_key(load)
    title = f"Load of ticket {load.ticket}"
    if load.volume is not None:
        trace.give(Given(key, load.volume, "m3", title, Origin(load.file, load.line)))
        return
    mass = f"{key.removesuffix('volume_m3')}mass_kg"
    trace.give(Given(mass, load.mass, "kg", f"{title}, weighed", Origin(load.file, load.line)))
    density = "inputs.supply.bulk_density_kg_per_m3"
    if density not in trace:
        why = Unknown("no bulk density is given for loads in tons", "weigh a truck of known volume")
        density = trace.constant(
            f"{SUPPLY}.bulk_density_kg_per_m3", why, "Bulk density in the truck", source="derived"
        )
    trace.compute(key, volume_of_load, unit="m3", title=title, mass=mass, bulk_density=density)


def _add_sum(trace: Trace, key: str, title: str, loads: Sequence[Load]) -> None:
    volumes = {f"ticket_{place}": load_key(load) for place, load in enumerate(loads)}
    trace.compute(key, volume_delivered, unit="m3", title=title, **volumes)


def _add_placed(trace: Trace, name: str, taken: Sequence[Load]) -> None:
    given, here = f"inputs.chips_placed.{name}", f"{PLACED}.{name}"
    day = trace.value(f"{given}.day")
    words = f"to {day}"
    by_then = [load for load in taken if not isinstance(day, Unknown) and load.time[:10] <= day]
    _add_sum(trace, f"{here}.delivered_m3", f"Chips delivered and taken {words}", by_then)
    pad = f"{given}.stockpile_m3"
    if pad not in trace:
        pad = trace.constant(
            f"{here}.stockpile_m3", 0.0, "Chips on the pad: none said", unit="m3", source="practice"
        )
    share = f"{given}.share"
    for key, function, title, inputs in (
        (
            "used_m3",
            chips_used,
            "Chips used",
            {"delivered": f"{here}.delivered_m3", "stockpile": pad},
        ),
        (
            "planned_m3",
            chips_planned,
            "Chips by plan",
            {"needed": f"{SUPPLY}.needed_m3", "share": share},
        ),
        (
            "most_m3",
            most_used,
            "Most chips that are let pass as by plan",
            {"planned": f"{here}.planned_m3", "tolerance": f"{SUPPLY}.tolerance"},
        ),
        (
            "at_end_m3",
            chips_at_end,
            "Chips at the end if it goes on so",
            {"used_chips": f"{here}.used_m3", "share": share},
        ),
    ):
        trace.compute(f"{here}.{key}", function, unit="m3", title=f"{title}, {words}", **inputs)
    trace.require(
        Requirement(
            f"{here}.ahead",
            f"Chips used are no more than the filled part of the bed should take, {words}",
            f"{here}.used_m3",
            "<=",
            f"{here}.most_m3",
            "m3",
            10.0,
        )
    )
