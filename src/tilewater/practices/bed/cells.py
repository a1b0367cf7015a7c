# SPDX-License-Identifier: Apache-2.0
"""Steps of a bed in several cells, side by side between the same two structures.

All cells share depth, floor and side slope; each has its own feed, headers and outlet pipe of the
sizes that are listed. A cell with boards of its own in the diversion opens when the water stands
over them, so that low flows keep to the others.
"""

from collections.abc import Callable, Mapping
from typing import Any

from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace, argument_name
from tilewater.hydraulics.board_sets import board_set_sharp_francis
from tilewater.practices.bed import capacity
from tilewater.practices.bed.capacity import BedShape
from tilewater.practices.bed.system import NO_BOARDS, CellPlan, side_by_side
from tilewater.practices.bed.system_parts import total_of
from tilewater.practices.rules import same

SIDES = {"length": "Length", "width": "Width"}


def cell_names(trace: Trace) -> tuple[str, ...]:
    """Names of the cells; none where the bed is one."""
    return tuple(trace.names("inputs.cell"))


def add_cells(trace: Trace) -> None:
    """Record the shape of every cell, and all side by side as the bed that water meets."""
    cells = cell_names(trace)
    for cell in cells:
        _add_cell(trace, cell)
    trace.compute(
        "bed.shape",
        side_by_side,
        unit="",
        title="The cells side by side, as water meets them",
        **{argument_name(cell): f"bed.cells.{cell}.plan" for cell in cells},
    )
    if all(f"inputs.cell.{cell}.opens_at_m" in trace for cell in cells):
        trace.findings.append(
            Finding(
                "no-cell-always-open",
                "caution",
                "Cells of the bed",
                "Every cell has boards of its own, so none takes the first water. Leave one open.",
                source="practice",
            )
        )


def _add_cell(trace: Trace, cell: str) -> None:
    given, here, compute = f"inputs.cell.{cell}", f"bed.cells.{cell}", trace.compute
    for side, word in SIDES.items():
        own = f"{given}.{side}_bottom_m"
        compute(
            f"{here}.{side}_bottom_m",
            same,
            unit="m",
            title=f"{word} of the floor of cell {cell}",
            value=own if own in trace else f"bed.{side}_bottom_m",
        )
    compute(
        f"{here}.length_m",
        capacity.flow_length,
        unit="m",
        title=f"Flow length of cell {cell}",
        length_bottom=f"{here}.length_bottom_m",
        side_slope="inputs.bed.side_slope",
        media_depth="inputs.bed.media_depth_m",
    )
    compute(
        f"{here}.shape",
        BedShape,
        unit="",
        title=f"The media of cell {cell}",
        length=f"{here}.length_m",
        width=f"{here}.width_bottom_m",
        side_slope="inputs.bed.side_slope",
        media_depth="inputs.bed.media_depth_m",
    )
    if f"{given}.opens_at_m" in trace:
        compute(
            f"{here}.boards",
            board_set_sharp_francis,
            unit="",
            title=f"Boards of cell {cell} in the diversion",
            crest=f"{given}.opens_at_m",
            sill="inputs.structure.inlet.sill_m",
            crest_width="inputs.structure.inlet.crest_width_m",
        )
    else:
        trace.constant(
            f"{here}.boards", NO_BOARDS, f"Cell {cell} has no boards of its own", source="derived"
        )
    compute(
        f"{here}.plan",
        CellPlan,
        unit="",
        title=f"Cell {cell} as water meets it",
        shape=f"{here}.shape",
        boards=f"{here}.boards",
    )


def add_solid(
    trace: Trace,
    key: str,
    function: Callable[..., Any],
    *,
    unit: str,
    title: str,
    sides: Mapping[str, str],
    **inputs: str,
) -> None:
    """Record an area or volume of the bed; of several cells their sum.

    `sides` names the arguments of the function that take length and width of the floor.
    """
    cells = cell_names(trace)
    floor = {name: f"bed.{side}_bottom_m" for side, name in sides.items()}
    if not cells:
        trace.compute(key, function, unit=unit, title=title, **floor, **inputs)
        return
    stem, _, last = key.rpartition(".")
    parts = {}
    for cell in cells:
        parts[argument_name(cell)] = f"{stem}.of_{argument_name(cell)}.{last}"
        floor = {name: f"bed.cells.{cell}.{side}_bottom_m" for side, name in sides.items()}
        trace.compute(
            parts[argument_name(cell)],
            function,
            unit=unit,
            title=f"{title}, cell {cell}",
            **floor,
            **inputs,
        )
    trace.compute(key, total_of, unit=unit, title=f"{title}, all cells", **parts)
