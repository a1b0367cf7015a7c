# SPDX-License-Identifier: Apache-2.0
"""What of a job can be taken in the hand, as rings on its section and as rulers beside it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from tilewater.chain.design import Design
from tilewater.documents.living.handles import Ring, Step
from tilewater.documents.living.layout import Layout
from tilewater.documents.living.section import View
from tilewater.documents.words import Words
from tilewater.practices.boards import HEIGHT_TOLERANCE, board_stack
from tilewater.tasks.held_handles import Handle, LookedAt, edit_at, handles_of

OVER = 11.0
"""From the top board up to its ring. [px]"""
RULER, INSET = 220.0, 12.0
"""Length of a ruler, and what is free at its ends. [px]"""
KINDS: Mapping[str, str] = {
    "boards": "size",
    "length": "length",
    "width": "length",
    "depth": "length",
    "pipe": "size",
    "stage": "elevation",
    "flow": "flow",
}
LOOKED: Mapping[str, str] = {"flow": "flow_m3_s", "stage": "ditch_stage_m"}
"""What a handle that is only looked at sends back, by its kind."""


def handles_at(design: Design, looked: LookedAt | None) -> tuple[Handle, ...]:
    """What of a design can be moved; flow and ditch stand where they are looked at."""
    found = handles_of(design)
    if looked is None:
        return found
    seen = {"flow": looked.flow_m3_s, "stage": looked.ditch_stage_m}
    return tuple(
        replace(handle, value=seen[handle.kind]) if seen.get(handle.kind) is not None else handle
        for handle in found
    )


def rings_of(
    handles: Sequence[Handle],
    design: Design,
    words: Words,
    setting: str,
    *,
    with_steps: bool = True,
) -> Callable[[View, Layout], tuple[Ring, ...]]:
    """Rings of what stands in the section, once it is known where all stands.

    Parameters
    ----------
    handles : sequence of Handle
    design : Design
    words : Words
    setting : str
        Boards that are shown: "design" or a season.
    with_steps : bool
        Whether all steps are written, or only the present one.

    Returns
    -------
    callable
        For `living_section`.
    """

    def made(view: View, layout: Layout) -> tuple[Ring, ...]:
        shown = [handle for handle in handles if _is_shown(handle, setting)]
        if not with_steps:
            shown = [_as_it_stands(handle) for handle in shown]
        rings = (_ring(handle, design, words, view, layout) for handle in shown)
        return tuple(ring for ring in rings if ring is not None)

    return made


def rulers_of(handles: Sequence[Handle], design: Design, words: Words) -> tuple[Ring, ...]:
    """Rulers of what has no place in the section: pipes, width, flow that is looked at.

    Parameters
    ----------
    handles : sequence of Handle
    design : Design
    words : Words

    Returns
    -------
    tuple of Ring
        Each on a ruler of its own.
    """
    found = []
    for handle in handles:
        if handle.axis in ("up", "along") or handle.index is None:
            continue
        steps = tuple(_steps(handle, design, words, _along_ruler(handle)))
        found.append(
            Ring(handle.name, handle.words, "x", 0.0, steps, handle.index, handle.is_saved)
        )
    return tuple(found)


def _is_shown(handle: Handle, setting: str) -> bool:
    if handle.axis not in ("up", "along") or handle.index is None or handle.datum_m is None:
        return False
    return not handle.setting or handle.setting == setting


def _as_it_stands(handle: Handle) -> Handle:
    """A handle with no step but its own."""
    assert handle.index is not None
    return replace(handle, steps=(handle.steps[handle.index],))


def _ring(handle: Handle, design: Design, words: Words, view: View, layout: Layout) -> Ring | None:
    assert handle.index is not None
    assert handle.datum_m is not None
    panel, name = layout.practice, handle.name.partition("-")[0]
    if handle.axis == "up":
        anchor = view.anchor("ditch" if handle.kind == "stage" else name)
        if anchor is None:
            return None
        over = OVER if handle.kind == "boards" else 0.0
        datum = handle.datum_m
        steps = tuple(
            _steps(handle, design, words, [panel.y(datum + s) - over for s in handle.steps])
        )
        x = panel.x(anchor)
        is_left = x > 0.6 * layout.width
        return Ring(
            handle.name, handle.words, "y", x, steps, handle.index, handle.is_saved, is_left
        )
    level = view.level_of(handle.kind)
    if level is None or handle.value is None:
        return None
    here = panel.x(handle.datum_m + handle.value)
    across = layout.scale.across
    places = [here + (step - handle.value) * across for step in handle.steps]
    steps = tuple(_steps(handle, design, words, places))
    is_left = here > 0.6 * layout.width
    return Ring(
        handle.name, handle.words, "x", panel.y(level), steps, handle.index, handle.is_saved,
        is_left,
    )  # fmt: skip


def _along_ruler(handle: Handle) -> list[float]:
    """Places along a ruler: pipes evenly, since their sizes are not even, all else to scale."""
    room, count = RULER - 2.0 * INSET, len(handle.steps)
    if handle.kind == "pipe" or handle.high <= handle.low:
        return [INSET + room * place / max(1, count - 1) for place in range(count)]
    span = handle.high - handle.low
    return [INSET + room * (step - handle.low) / span for step in handle.steps]


def _steps(handle: Handle, design: Design, words: Words, places: Sequence[float]) -> Iterator[Step]:
    for index, (value, place) in enumerate(zip(handle.steps, places, strict=True)):
        yield Step(place, says(handle, value, design, words), _does(handle, index, value))


def _does(handle: Handle, index: int, value: float) -> dict[str, Any]:
    if handle.is_saved:
        return {"edits": edit_at(handle, index)}
    return {"looked_at": {LOOKED[handle.kind]: value}}


def says(handle: Handle, value: float, design: Design, words: Words) -> str:
    """A step in the trade's words: "36 in, 5 boards"."""
    said = words.say(value, KINDS[handle.kind])
    if handle.name.startswith(("bed-", "cell-")):
        return f"{said} at the floor"
    if handle.kind != "boards":
        return said
    count = _boards_in(value, design)
    if count is None:
        return said
    if count == 0:
        return f"{said}, no boards"
    return f"{said}, {count} board{'' if count == 1 else 's'}"


def _boards_in(value: float, design: Design) -> int | None:
    """How many boards make a stack; None where none of the listed ones do."""
    trace, gap = design.trace, "inputs.boards.seal_gap_m"
    if not trace.known("inputs.boards.heights_m"):
        return None
    stack = board_stack(
        value + HEIGHT_TOLERANCE,
        board_heights=trace.value("inputs.boards.heights_m"),
        seal_gap=float(trace.value(gap)) if trace.known(gap) else 0.0,
    )
    return len(stack)
