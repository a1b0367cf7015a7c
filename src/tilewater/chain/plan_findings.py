# SPDX-License-Identifier: Apache-2.0
"""What the engineer must know of the plan: what does not agree, and what lies where it may not."""

from collections.abc import Iterator

from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.trace import Trace

FOOT = 0.3048
PIPE_CLOSE = 0.1 * FOOT
"""A length in plan differs from the stated one by more than taping does. [m]"""
BANK_CLOSE = 0.5 * FOOT
"""A bank is no sharper than this. [m]"""
STRIP_CLOSE = 1.0 * FOOT
"""A water's edge, and so the width of a strip, is no sharper than this. [m]"""
LINE_CLOSE = 0.01
"""Share by which the length of a line in plan may differ from what is laid. [-]"""
TOUCH = 1e-6
"""Rounding of coordinates. [m]"""


def tell_of_plan(trace: Trace) -> None:
    """Add findings on what the plan places."""
    for told in (_pipes, _lines, _bank, _main, _ground, _consents):
        trace.findings.extend(told(trace))


def _pipes(trace: Trace) -> Iterator[Finding]:
    for name in trace.names("plan.pipes"):
        plan, stated = f"plan.pipes.{name}.length_m", f"inputs.pipe.{name}.length_m"
        if not trace.known(plan, stated):
            continue
        drawn, typed = float(trace.value(plan)), float(trace.value(stated))
        if abs(drawn - typed) > PIPE_CLOSE:
            yield Finding(
                "pipe-length-in-plan",
                "caution",
                f"pipe {name}",
                f"Pipe {name} is {feet(drawn)} long by its points and {feet(typed)} "
                "as stated. Correct one of them.",
                value=drawn,
                limit=typed,
                unit="m",
                source="derived",
            )


def _lines(trace: Trace) -> Iterator[Finding]:
    """The line of a buffer as drawn against its stated width and what is laid of it."""
    stated = "inputs.buffer.width_m"
    lines = trace.names("plan.buffer_lines")
    for line in lines:
        plan = f"plan.buffer_lines.{line}.width_m"
        if not trace.known(plan, stated):
            continue
        drawn, typed = float(trace.value(plan)), float(trace.value(stated))
        if abs(drawn - typed) > STRIP_CLOSE:
            yield Finding(
                "strip-width-in-plan",
                "caution",
                f"line {line}",
                f"Line {line} lies {feet(drawn, '.1f')} from ordinary water by the plan, down the "
                f"bank, and {feet(typed, '.1f')} as stated. Flow and travel time go by the stated "
                "width. Correct buffer.width or the points of the line.",
                value=drawn,
                limit=typed,
                unit="m",
                source="derived",
            )
    yield from _length_of_line(trace, lines)


def _length_of_line(trace: Trace, lines: tuple[str, ...]) -> Iterator[Finding]:
    """The line as drawn, with its solid pipe or without, against what is laid."""
    keys = [f"plan.buffer_lines.{line}.length_m" for line in lines]
    bare, whole = "buffer.laid_length_m", "buffer.length_used_m"
    if not lines or not trace.known(bare, whole, *keys):
        return
    drawn = sum(float(trace.value(key)) for key in keys)
    least, most = (float(trace.value(key)) for key in (bare, whole))
    if not (1.0 - LINE_CLOSE) * least <= drawn <= (1.0 + LINE_CLOSE) * most:
        yield Finding(
            "line-length-in-plan",
            "caution",
            "line of the buffer",
            f"The line is {feet(drawn, '.0f')} long by its points. Its perforated branches are "
            f"{feet(least, '.0f')}, with their solid pipe {feet(most, '.0f')}. Correct one of "
            "them.",
            value=drawn,
            limit=most,
            unit="m",
            source="derived",
        )


def _bank(trace: Trace) -> Iterator[Finding]:
    stated = "inputs.ditch.edge_distance_m"
    distances = trace.names("plan.distances")
    found = [n for n in distances if n.startswith("bank_to_") and n.endswith("_cut_m")]
    known = [n for n in found if trace.known(f"plan.distances.{n}")]
    if not known or not trace.known(stated):
        return
    least = min(float(trace.value(f"plan.distances.{n}")) for n in known)
    typed = float(trace.value(stated))
    if abs(least - typed) > BANK_CLOSE:
        yield Finding(
            "edge-distance-in-plan",
            "caution",
            "ditch",
            f"The top of the cut lies {feet(least, '.1f')} from the bank top by the plan and "
            f"{feet(typed, '.1f')} as stated. Correct ditch.edge_distance or the place of the "
            "bed.",
            value=least,
            limit=typed,
            unit="m",
            source="derived",
        )


def _main(trace: Trace) -> Iterator[Finding]:
    for name in trace.names("plan.distances"):
        key = f"plan.distances.{name}"
        if not name.startswith("main_to_") or not trace.known(key):
            continue
        apart = float(trace.value(key))
        reach = "inputs.main.diameter_m"
        need = float(trace.value(reach)) / 2 if trace.known(reach) else 0.0
        if apart <= need:
            yield Finding(
                "cut-on-main",
                "caution",
                "bed",
                f"The top of the cut comes to {feet(apart, '.1f')} from the middle of the main. "
                "The main is the bypass and lies beside the bed. Move the bed.",
                value=apart,
                operator=">=",
                limit=need,
                unit="m",
                source="practice",
            )


def _ground(trace: Trace) -> Iterator[Finding]:
    ground = "plan.outlines.footprint"
    if not trace.known(ground):
        return
    stations, offsets = zip(*trace.value(ground), strict=True)
    low, high = min(stations) - TOUCH, max(stations) + TOUCH
    left, right = min(offsets) - TOUCH, max(offsets) + TOUCH
    for name in trace.names("plan.outlines"):
        key = f"plan.outlines.{name}"
        if not name.endswith("-cut") or not trace.known(key):
            continue
        if all(low <= s <= high and left <= o <= right for s, o in trace.value(key)):
            continue
        yield Finding(
            "cut-beyond-ground",
            "caution",
            name.removesuffix("-cut"),
            "The top of the cut leaves the ground that may be used where both are placed. Move "
            "the bed, or place the ground anew.",
            source="derived",
        )


def _consents(trace: Trace) -> Iterator[Finding]:
    parts = []
    for name in trace.names("plan.right_of_way"):
        key = f"plan.right_of_way.{name}.length_m"
        if key not in trace or not trace.known(key):
            continue
        inside = float(trace.value(key))
        if inside <= TOUCH:
            continue
        words = name.replace("-", " ")
        if name.startswith("pipe-"):
            whole = float(trace.value(f"plan.pipes.{name.removeprefix('pipe-')}.length_m"))
            words = f"{feet(inside, '.1f', bare=True)} of {feet(whole, '.1f')} of {words}"
        parts.append(words)
    if parts:
        yield Finding(
            "in-right-of-way",
            "note",
            "right of way",
            f"In the right of way or in the ditch lie {'; '.join(parts)}. They need consent.",
            source="derived",
        )
