# SPDX-License-Identifier: Apache-2.0
"""Gates before digging and before the start: approvals, locate ticket, what is missing.

`gates` is what other doors call: the desk, the sheets and the field book.
"""

from dataclasses import dataclass

from tilewater.basis.findings import Finding
from tilewater.basis.told import in_units
from tilewater.basis.trace import Trace
from tilewater.chain.approval_numbers import CAPACITY, DISTURBED, add_approvals
from tilewater.chain.approvals import Approval, approvals
from tilewater.chain.gates import Gate, Issue, Row, gate_for_dig, gate_for_start
from tilewater.chain.locate import GIVEN, LOCATE, Ticket, add_locate, ticket_on
from tilewater.chain.plain import Record, plain
from tilewater.documents.pages.gates_page import gates_page
from tilewater.tasks.checking import Checked
from tilewater.tasks.inspection import Inspection, Part
from tilewater.tasks.legal_holidays import legal_holidays

TABLES = ("approval", "locate", "before", "hold", "funding", "disturbed")
"""Tables of the job file that begin the time of building."""


@dataclass(frozen=True)
class Leave:
    """Leave to build as it stands on a day.

    Attributes
    ----------
    dig, start : Gate
    ticket : Ticket
    approvals : tuple of Approval
    trace : Trace
        With every number of them.
    """

    dig: Gate
    start: Gate
    ticket: Ticket
    approvals: tuple[Approval, ...]
    trace: Trace

    @property
    def gates(self) -> tuple[Gate, Gate]:
        """Both gates, that for dig first."""
        return self.dig, self.start


def gates(inspection: Inspection) -> tuple[Gate, Gate]:
    """The gate for dig and the gate for the start of construction, on the day of a look.

    Parameters
    ----------
    inspection : Inspection
        The job, its design, the day.

    Returns
    -------
    tuple of Gate
        Each names what is missing and what to do next.
    """
    return leave_of(inspection).gates


def leave_of(inspection: Inspection) -> Leave:
    """Leave to build as it stands on the day of a look; steps are added to the design's trace."""
    job, trace, day = inspection.job, inspection.design.trace, inspection.day.isoformat()
    if f"{LOCATE}.holidays" not in trace:
        add_approvals(trace)
        add_locate(trace, _holidays(job, day))
    ticket = ticket_on(trace, day)
    found = approvals(trace, day)
    start = gate_for_start(trace, found, _issues(job), day)
    return Leave(gate_for_dig(ticket, day), start, ticket, found, trace)


def _holidays(job: Checked, day: str) -> tuple[str, ...]:
    filed, own = job.value(f"{GIVEN}.filed"), job.value(f"{GIVEN}.holidays")
    state = job.value("inputs.job.state")
    return legal_holidays(
        state if isinstance(state, str) else "",
        filed if isinstance(filed, str) else day,
        own if isinstance(own, tuple) else (),
    )


def _issues(job: Checked) -> tuple[Issue, ...]:
    return tuple(Issue(copy.date, copy.status, copy.by, copy.is_sound) for copy in job.issued)


def has_building(job: Checked) -> bool:
    """Whether a job has any table of the time of building."""
    begins = tuple(f"inputs.{table}." for table in TABLES)
    return any(given.key.startswith(begins) for given in job.inputs.givens)


def gates_part(inspection: Inspection) -> Part | None:
    """The gates of a job; None where the practice stands and no table tells of building it.

    Parameters
    ----------
    inspection : Inspection

    Returns
    -------
    Part or None
        Short while a gate is shut.
    """
    is_asked = inspection.only == "gates" or inspection.is_to_be_built
    if not is_asked and not has_building(inspection.job):
        return None
    leave = leave_of(inspection)
    return Part(
        key="gates",
        title="Leave to build",
        trace=leave.trace,
        record=_record(leave),
        page=lambda words: gates_page(
            leave.gates, leave.ticket, leave.approvals, leave.trace, words
        ),
        notes=_findings(leave),
        short=not (leave.dig.is_open and leave.start.is_open),
    )


def _findings(leave: Leave) -> tuple[Finding, ...]:
    found = [
        Finding(
            "gates-local-law",
            "caution",
            "Leave to build",
            "State and local law, the drainage authority and the contract govern. This list asks; "
            "it grants nothing.",
            source="practice",
        )
    ]
    wait = f"{GIVEN}.waiting_s"
    if wait not in leave.trace and leave.ticket.filed:
        found.append(
            Finding(
                "locate-rule-not-yours",
                "caution",
                "Locate ticket",
                "The waiting time is a rule read in Iowa: 48 h, Saturdays, Sundays and legal "
                "holidays not counted. Your state's rule governs: write it under [locate].",
                source="iowa-one-call",
            )
        )
    if (
        leave.trace.known(f"{CAPACITY}.status")
        and leave.trace.value(f"{CAPACITY}.status") == "short"
    ):
        found.append(
            Finding(
                "capacity-not-kept",
                "fails",
                "Main",
                "The main past the practice carries less than before. Who owns the main, and who "
                "drains through it, must consent; better lay it larger or steeper.",
                source="permit-list",
            )
        )
    return tuple(found)


def _record(leave: Leave) -> Record:
    trace, ticket = leave.trace, leave.ticket
    numbers = {
        "disturbed_m2": f"{DISTURBED}.area_m2",
        "disturbed_limit_m2": f"{DISTURBED}.limit_m2",
        "main_before_m3_s": f"{CAPACITY}.before_m3_s",
        "main_after_m3_s": f"{CAPACITY}.after_m3_s",
        "pool_reserve_m": "property_line.reserve_m",
    }
    return {
        "gates": {
            gate.name: {
                "open": gate.is_open,
                "sentence": gate.sentence,
                "rows": [_row(row) for row in gate.rows],
            }
            for gate in leave.gates
        },
        "locate": {
            "ticket": ticket.number or None,
            "filed": ticket.filed or None,
            "earliest": ticket.earliest or None,
            "last_day": ticket.last or None,
            "private": dict(ticket.private),
        },
        "approvals": [_approval(each) for each in leave.approvals],
        **{name: plain(trace, key) if key in trace else None for name, key in numbers.items()},
    }


def _row(row: Row) -> Record:
    return {
        "what": row.what,
        "state": row.state,
        "said": in_units(row.said, "us"),
        "next": row.next or None,
        "rule": row.seen,
        "key": row.key,
    }


def _approval(each: Approval) -> Record:
    return {
        "name": each.name,
        "what": each.what,
        "why": in_units(each.why, "us"),
        "who": each.who or None,
        "state": each.state,
        "asked": each.asked or None,
        "received": each.received or None,
        "expires": each.expires or None,
        "document": each.document or None,
        "next": each.next or None,
        "rule": each.seen or None,
    }
