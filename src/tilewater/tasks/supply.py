# SPDX-License-Identifier: Apache-2.0
"""Chips ordered, delivered and placed: tickets read, summed, held against the design."""

from tilewater.basis.errors import BadInputFile
from tilewater.basis.findings import Finding
from tilewater.basis.told import cubic_yards
from tilewater.basis.trace import Trace
from tilewater.chain.plain import Record, plain
from tilewater.chain.supply import PLACED, SUPPLY, Load, add_supply, load_key
from tilewater.documents.pages.supply_page import supply_page
from tilewater.job.reading import Job
from tilewater.job.tickets import read_tickets
from tilewater.tasks.inspection import Inspection, Part
from tilewater.tasks.outside_inputs import OutsideFiles


def supply_part(inspection: Inspection) -> Part | None:
    """Chips by the truck; None where the job names no tickets.

    Parameters
    ----------
    inspection : Inspection
        The job and the day; tickets after the day are not counted.

    Returns
    -------
    Part or None

    Raises
    ------
    BadInputFile
        With every fault of the file of tickets.
    """
    file = inspection.job.value("inputs.supply.file")
    if not isinstance(file, str):
        return None
    last = inspection.day.isoformat()
    loads = tuple(
        Load(each.ticket, each.time, each.volume, each.mass, each.refused, file, each.line)
        for each in read_tickets(inspection.job.folder / file)
        if each.time[:10] <= last
    )
    trace = inspection.design.trace
    add_supply(trace, loads, last)
    return Part(
        key="supply",
        title="Supply of chips",
        trace=trace,
        record=_record(trace, loads),
        page=lambda words: supply_page(trace, loads, words),
        notes=_findings(trace),
        short="short" in {trace.value(key) for key in _statuses(trace)},
    )


def read_supply(job: Job) -> OutsideFiles:
    """The tickets of a job for `check`: what was read, or what is wrong in it."""
    found = OutsideFiles()
    file = job.file.supply.file
    if isinstance(file, str):
        try:
            tickets = read_tickets(job.folder / file)
        except BadInputFile as error:
            found.faults.extend(error.faults)
        else:
            found.read.append(f"{file}: {len(tickets)} tickets of chips")
    return found


def _statuses(trace: Trace) -> list[str]:
    return [
        f"{SUPPLY}.delivery.status",
        *(f"{PLACED}.{n}.ahead.status" for n in trace.names(PLACED)),
    ]


def _record(trace: Trace, loads: tuple[Load, ...]) -> Record:
    names = ("needed_m3", "delivered_m3", "least_m3", "tolerance", "delivery.status")
    ordered = "inputs.supply.ordered_m3"
    record: Record = {name.replace(".", "_"): plain(trace, f"{SUPPLY}.{name}") for name in names}
    record["ordered_m3"] = plain(trace, ordered) if ordered in trace else None
    record["tickets"] = [
        {
            "ticket": load.ticket,
            "time": load.time,
            "volume_m3": plain(trace, load_key(load)),
            "mass_kg": load.mass,
            "refused": load.refused or None,
        }
        for load in loads
    ]
    record["placed"] = {
        name: {
            key: plain(trace, f"{PLACED}.{name}.{key}")
            for key in ("delivered_m3", "used_m3", "planned_m3", "at_end_m3", "ahead.status")
        }
        for name in trace.names(PLACED)
    }
    return record


def _findings(trace: Trace) -> tuple[Finding, ...]:
    found = []
    delivered, needed = f"{SUPPLY}.delivered_m3", f"{SUPPLY}.needed_m3"
    if trace.value(f"{SUPPLY}.delivery.status") == "short":
        missing = float(trace.value(needed)) - float(trace.value(delivered))
        found.append(
            Finding(
                "supply-short",
                "caution",
                "supply of chips",
                f"{cubic_yards(missing)} of chips are still to come: delivery is under what the "
                "bed needs, less the tolerance. Order them before the last truck has left.",
                source="practice",
            )
        )
    for name in trace.names(PLACED):
        here = f"{PLACED}.{name}"
        if trace.value(f"{here}.ahead.status") == "short":
            more = float(trace.value(f"{here}.at_end_m3")) - float(trace.value(needed))
            day = trace.value(f"inputs.chips_placed.{name}.day")
            found.append(
                Finding(
                    "supply-ahead",
                    "caution",
                    "supply of chips",
                    f"On {day} more chips were used than the filled part of the bed should take. "
                    f"Going on so, {cubic_yards(more)} more are needed than ordered. Shoot the "
                    "floor and the top of the chips, and count the tickets again.",
                    source="practice",
                )
            )
    return tuple(found)
