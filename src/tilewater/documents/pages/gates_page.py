# SPDX-License-Identifier: Apache-2.0
"""Leave to build: both gates, the locate ticket, the register of approvals and its numbers."""

from collections.abc import Sequence

from tilewater.basis.told import in_units
from tilewater.basis.trace import Trace
from tilewater.chain.approval_numbers import CAPACITY, DISTURBED
from tilewater.chain.approvals import Approval
from tilewater.chain.gates import Gate, Row
from tilewater.chain.locate import LOCATE, Ticket
from tilewater.documents.pages.said import Cell, Part, Said, Tone, block, dim, pairs, rows, status
from tilewater.documents.words import NOT_KNOWN, Words

SHAPES = {
    "there": "+ there",
    "missing": "! missing",
    "not known": "? not known",
    "not needed": "- not needed",
}
TONES: dict[str, Tone] = {
    "there": "",
    "missing": "strong",
    "not known": "aside",
    "not needed": "quiet",
}
RULES = {"read": "read", "memory": "from memory", "practice": "practice"}
"""How a rule is known, in words."""


def gates_page(
    gates: Sequence[Gate],
    ticket: Ticket,
    found: Sequence[Approval],
    trace: Trace,
    words: Words,
) -> tuple[Part, ...]:
    """Blocks of the part in their order."""
    return (
        *(gate_block(gate, words) for gate in gates),
        _locate(ticket, trace, words),
        _register(found, words),
        _numbers(trace, words),
    )


def gate_block(gate: Gate, words: Words) -> Part:
    """A gate: open or shut, and each thing it asks for with what to do next."""
    count = len(gate.missing)
    note = "open" if gate.is_open else f"shut: {count} missing or not known"
    lines = (_gate_row(row, words) for row in sorted(gate.rows, key=lambda row: row.is_open))
    table = rows(("", "what", "how it stands, what next", "rule"), lines, wide=(1, 2))
    return block(gate.title, note, table)


def _gate_row(row: Row, words: Words) -> list[Cell]:
    told = Said(in_units(row.said, words.system))
    if row.next:
        told.append(f"\n{row.next}", "strong" if not row.is_open else "quiet")
    return [Said(SHAPES[row.state], TONES[row.state]), row.what, told, dim(RULES[row.seen])]


def _locate(ticket: Ticket, trace: Trace, words: Words) -> Part:
    lines: list[tuple[str, Cell]] = [
        ("ticket", ticket.number or Said(NOT_KNOWN, "aside")),
        ("filed", ticket.filed or Said(NOT_KNOWN, "aside")),
        ("digging may begin", Said(ticket.earliest or NOT_KNOWN, "strong", f"{LOCATE}.earliest")),
        ("last day", ticket.last or Said(NOT_KNOWN, "aside")),
    ]
    lines += [(f"private: {what}", _answer(answer)) for what, answer in ticket.private]
    return block(
        "Locate ticket", "your state's rule governs; private lines are yours", pairs(lines)
    )


def _answer(answer: str) -> Cell:
    return Said(answer, "aside" if answer == NOT_KNOWN else "strong" if answer == "yes" else "")


def _register(found: Sequence[Approval], words: Words) -> Part:
    lines: list[list[Cell]] = []
    for each in found:
        about = Said(each.what).append(f"\n{in_units(each.why, words.system)}", "quiet")
        if each.who:
            about.append(f"\n{each.who}", "quiet")
        days = [
            f"{name} {day}"
            for name, day in (
                ("asked", each.asked),
                ("received", each.received),
                ("expires", each.expires),
            )
            if day
        ]
        tone: Tone = "" if each.is_closed else "strong"
        told = Said(each.state, "aside" if each.state == NOT_KNOWN else tone)
        more = "\n".join(filter(None, (", ".join(days), each.document, each.not_needed, each.next)))
        told.append(f"\n{more}" if more else "", "quiet")
        lines.append([about, told, dim(RULES.get(each.seen, "yours"))])
    note = "drawn from the design, then what the job adds; local law governs"
    table = rows(("what, why, who", "how it stands", "rule"), lines, wide=(0, 1))
    return block("Approvals", note, table)


def _numbers(trace: Trace, words: Words) -> Part:
    def said(key: str, kind: str) -> Said:
        told = words.say(trace.value(key), kind) if key in trace else NOT_KNOWN
        return Said(told, "aside" if told == NOT_KNOWN else "", key)

    lines: list[tuple[str, Cell]] = []
    area = f"{DISTURBED}.area_m2"
    if area in trace:
        unit = "acre" if words.system == "us" else "ha"
        limit = words.say(trace.value(f"{DISTURBED}.limit_m2"), unit)
        left = trace.value(f"{DISTURBED}.uncounted")
        more = f"; not counted: {', '.join(left)}" if left else ""
        lines.append(
            (
                "ground disturbed",
                said(area, unit).append(f" of {limit} (from memory){more}", "quiet"),
            )
        )
    if f"{CAPACITY}.status" in trace:
        before, after = (said(f"{CAPACITY}.{end}_m3_s", "flow") for end in ("before", "after"))
        told = Said("before ").append(before).append(", past the practice ").append(after)
        told.append("  ").append(status(str(trace.value(f"{CAPACITY}.status"))))
        lines.append(("main, running full", told))
    if "property_line.reserve_m" in trace:
        lines.append(("pool to property line", said("property_line.reserve_m", "length")))
    return block("What it rests on", "", pairs(lines))
