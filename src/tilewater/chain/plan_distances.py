# SPDX-License-Identifier: Apache-2.0
"""Steps of the plan: what keeps its distance from what, and what lies in the right of way."""

from collections.abc import Iterator

from tilewater.basis.trace import Trace, argument_name
from tilewater.chain.plan_parts import (
    DISTANCES,
    LINES,
    OUTLINES,
    PIPES,
    RIGHT_OF_WAY,
    clear_of_main,
    first_of,
    right_of_way_line,
)
from tilewater.ground.baseline import line_length
from tilewater.ground.outlines import distance_between, length_beside
from tilewater.practices.rules import difference

DISTRIBUTION = "distribution line"
"""Kind of a line that is the line of a buffer."""


def lines_of_kind(trace: Trace, kind: str) -> Iterator[str]:
    """Names of the known lines of a kind."""
    for name in trace.names("inputs.line"):
        if trace.value(f"inputs.line.{name}.kind") == kind and trace.known(f"{LINES}.{name}"):
            yield name


def cuts(trace: Trace) -> tuple[str, ...]:
    """Keys of the known outlines of cuts."""
    names = (name for name in trace.names(OUTLINES) if name.endswith("-cut"))
    return tuple(key for name in names if trace.known(key := f"{OUTLINES}.{name}"))


def add_distances(trace: Trace) -> None:
    """Record how far each cut lies from the main, the bank and the property line."""
    for cut in cuts(trace):
        name = argument_name(cut.rpartition(".")[2].removesuffix("-cut"))
        trace.compute(
            f"{DISTANCES}.main_to_{name}_cut_m",
            clear_of_main,
            unit="m",
            title="Middle of the main to the top of the cut",
            outline=cut,
        )
        for kind, word in (("bank top", "bank"), ("property line", "property_line")):
            for line in lines_of_kind(trace, kind):
                suffix = "" if line == word or kind == "bank top" else f"_{line.replace('-', '_')}"
                trace.compute(
                    f"{DISTANCES}.{word}{suffix}_to_{name}_cut_m",
                    distance_between,
                    unit="m",
                    title=f"{kind.capitalize()} to the top of the cut",
                    first=cut,
                    second=f"{LINES}.{line}",
                )


def add_line_of_buffer(trace: Trace) -> None:
    """Record how far each drawn line of a buffer lies from the bank, and so from the water."""
    if "buffer.width_m" not in trace:
        return
    banks = list(lines_of_kind(trace, "bank top"))
    for line in lines_of_kind(trace, DISTRIBUTION):
        trace.compute(
            f"plan.buffer_lines.{line}.length_m",
            line_length,
            unit="m",
            title=f"Length of line {line} in plan",
            line=f"{LINES}.{line}",
        )
        if banks:
            _add_strip(trace, line, banks[0])


def _add_strip(trace: Trace, line: str, bank: str) -> None:
    """From a line to the bank top, and on down the bank to ordinary water."""
    apart = f"{DISTANCES}.bank_to_{argument_name(line)}_line_m"
    trace.compute(
        apart,
        distance_between,
        unit="m",
        title="Bank top to the line of the buffer",
        first=f"{LINES}.{line}",
        second=f"{LINES}.{bank}",
    )
    stage = f"ditch.{trace.value('buffer.criterion_season')}.stage_m"
    slope, top = "inputs.buffer.bank_slope", "inputs.ditch.bank_top_m"
    if not all(key in trace for key in (stage, slope, top)):
        return
    trace.compute(
        f"plan.buffer_lines.{line}.width_m",
        width_by_plan,
        unit="m",
        title="From the line to the water's edge by the plan",
        bank_to_line=apart,
        bank_slope=slope,
        bank_top=top,
        stage=stage,
    )


def width_by_plan(bank_to_line: float, bank_slope: float, bank_top: float, stage: float) -> float:
    """Width of a strip as the plan has it: to the bank top, and on down the bank to the water.

    Parameters
    ----------
    bank_to_line : float
        From the bank top to the line. [m]
    bank_slope : float
        Slope of the bank, horizontal to vertical. [-]
    bank_top : float
        Elevation of the bank top. [m]
    stage : float
        Ordinary water of the ditch. [m]

    Returns
    -------
    float
        Width; water above the bank top counts as at the top. [m]

    Notes
    -----
    b = d + z max(0, bank top - stage)    (derived)

    References
    ----------
    derived, two runs on a line
    """
    return bank_to_line + bank_slope * max(0.0, bank_top - stage)


def add_right_of_way(trace: Trace) -> None:
    """The edge of the right of way, how far the cut lies from it, and what lies in it."""
    banks, width = list(lines_of_kind(trace, "bank top")), "inputs.ditch.right_of_way_m"
    beds = cuts(trace)
    if not banks or not beds or not trace.known(width):
        return
    trace.compute(
        f"{RIGHT_OF_WAY}.line",
        right_of_way_line,
        unit="m",
        title="Edge of the right of way",
        bank=f"{LINES}.{banks[0]}",
        width=width,
        bed=beds[0],
    )
    if not trace.known(f"{RIGHT_OF_WAY}.line"):
        return
    for cut in beds:
        name = argument_name(cut.rpartition(".")[2].removesuffix("-cut"))
        trace.compute(
            f"{DISTANCES}.right_of_way_to_{name}_cut_m",
            difference,
            unit="m",
            title="Edge of the right of way to the top of the cut",
            upper=f"{DISTANCES}.bank_to_{name}_cut_m",
            lower=width,
        )
    _add_within(trace, f"{LINES}.{banks[0]}")


def _add_within(trace: Trace, bank_line: str) -> None:
    """How much of each pipe and of the edge of each structure lies in the right of way."""
    bank = f"{RIGHT_OF_WAY}.of"
    trace.compute(bank, first_of, unit="m", title="A point of the bank", line=bank_line)
    parts = {f"pipe {n}": (f"pipe-{n}", f"{PIPES}.{n}.line") for n in trace.names(PIPES)}
    for name in ("inlet", "outlet"):
        if f"{OUTLINES}.{name}-structure" in trace:
            key = f"{OUTLINES}.{name}-structure"
            parts[f"the edge of the {name} structure"] = (f"{name}-structure", key)
    for words, (name, key) in parts.items():
        trace.compute(
            f"{RIGHT_OF_WAY}.{name}.length_m",
            length_beside,
            unit="m",
            title=f"Length of {words} within the right of way",
            run=key,
            line=f"{RIGHT_OF_WAY}.line",
            of=bank,
        )
