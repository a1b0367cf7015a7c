# SPDX-License-Identifier: Apache-2.0
"""Formulas of quantities as a workbook works them, from the steps of a design.

Each function that a quantity is computed with has its formula here, in cells. What has none, and
what a person typed, is a typed cell. So the workbook says how a quantity is worked, and a changed
dimension moves it.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from tilewater.basis.trace import Step, Trace
from tilewater.basis.units import from_si
from tilewater.documents.money.live import Live, live, not_below_zero, square_root
from tilewater.practices.buffer.quantities import BEDDING, WORKING_STRIP

Cells = Mapping[str, Live]
"""Cells of the inputs of a step, by the parameter of its function."""
PRACTICE_BED = "tilewater.practices.bed."
PRACTICE_BUFFER = "tilewater.practices.buffer.quantities."
SOLIDS = "tilewater.basis.solids."
SAME = "tilewater.practices.rules.same"
LENGTHS = {"m": "ft", "m2": "ft2", "m3": "ft3"}


def _grown(cells: Cells, by: Live) -> Live:
    length, width = (_first(cells, name) for name in ("length", "width"))
    return (length + by) * (width + by)


def _first(cells: Cells, side: str) -> Live:
    """Length or width of a floor, whatever the function calls it."""
    return cells[f"bottom_{side}"] if f"bottom_{side}" in cells else cells[side]


def _area_at(cells: Cells, share: float) -> Live:
    """Level area of a hole at a share of its height."""
    if not share:
        return _first(cells, "length") * _first(cells, "width")
    height = cells["height"] if "height" in cells else cells["depth"]
    spread = cells["side_slope"] * height
    return _grown(cells, spread if share == 0.5 else 2.0 * share * spread)


def _prismoid(cells: Cells) -> Live:
    areas = _area_at(cells, 0.0), _area_at(cells, 0.5), _area_at(cells, 1.0)
    first, middle, last = areas
    return cells["depth"] * (first + 4.0 * middle + last) / 6.0


def _sheet(cells: Cells) -> Live:
    slope = square_root(1.0 + cells["side_slope"] * cells["side_slope"])
    return _grown(cells, 2.0 * (cells["depth"] * slope + cells["lap"]))


def _fabric(cells: Cells) -> Live:
    beyond = 2.0 * cells["side_slope"] * cells["depth"] + cells["lap"]
    return (1.0 + cells["allowance"]) * _grown(cells, beyond)


def _sum(cells: Cells) -> Live:
    total, *rest = cells.values()
    for each in rest:
        total = total + each
    return total


def _pipe_area(cells: Cells) -> Live:
    return 0.25 * math.pi * cells["diameter"] * cells["diameter"]


FORMULAS: dict[str, Callable[[Cells], Live]] = {
    SAME: lambda c: c["value"],
    "tilewater.practices.rules.difference": lambda c: c["upper"] - c["lower"],
    "tilewater.economics.estimate.sum_of": _sum,
    "tilewater.practices.bed.system_parts.total_of": _sum,
    f"{SOLIDS}pit_volume": _prismoid,
    f"{SOLIDS}pit_area": lambda c: _area_at(c, 1.0),
    f"{SOLIDS}pit_sheet_area": _sheet,
    f"{PRACTICE_BED}earthwork.spread": lambda c: c["depth"] * c["slope"],
    f"{PRACTICE_BED}earthwork.fabric_area": _fabric,
    f"{PRACTICE_BED}earthwork.area_times_depth": lambda c: c["area"] * c["depth"],
    f"{PRACTICE_BED}earthwork.with_allowance": lambda c: c["amount"] * (1.0 + c["allowance"]),
    f"{PRACTICE_BED}earthwork.backfill_volume": lambda c: (
        c["excavation"] - c["media"] + c["top_area"] * c["crown"]
    ),
    f"{PRACTICE_BED}earthwork.backfill_under_topsoil": lambda c: not_below_zero(
        c["all_soil"] - c["topsoil"]
    ),
    f"{PRACTICE_BED}earthwork.spoil_volume": lambda c: (
        (c["excavation"] - c["backfill"] * c["shrink"]) * c["swell"]
    ),
    f"{PRACTICE_BED}earthwork.disturbed_area": lambda c: _grown(
        c, 2.0 * (c["cut_margin"] + c["margin"])
    ),
    f"{PRACTICE_BUFFER}solid_line": lambda c: (
        c["branches"] * c["solid_at_structure"] + c.get("tree_length", live(0.0))
    ),
    f"{PRACTICE_BUFFER}trench_depth": lambda c: c["line_depth"] + c["bedding"],
    f"{PRACTICE_BUFFER}trench_volume": lambda c: (
        (c["perforated"] + c["solid"]) * c["trench_width"] * (c["line_depth"] + c["bedding"])
    ),
    f"{PRACTICE_BUFFER}envelope_volume": lambda c: (
        c["perforated"] * (c["trench_width"] * (c["diameter"] + 2.0 * c["bedding"]) - _pipe_area(c))
    ),
    f"{PRACTICE_BUFFER}backfill_of_trench": lambda c: (
        c["trench"] - c["gravel"] - (c["perforated"] + c["solid"]) * _pipe_area(c)
    ),
    f"{PRACTICE_BUFFER}disturbed_strip": lambda c: c["strip"] * (c["perforated"] + c["solid"]),
}
"""Formula of each function that quantities are computed with."""

FIXED = {
    "bedding": (BEDDING, "Bedding under the pipe, common practice"),
    "strip": (WORKING_STRIP, "Strip that the trench disturbs, common practice"),
}
"""Lengths that are fixed in a function and typed in the workbook. [m]"""


@dataclass
class Geometry:
    """Which steps a workbook shows, and how each is worked.

    Attributes
    ----------
    trace : Trace
    system : "us" or "si"
    typed : dict of str to tuple
        Title, value and unit of each typed cell, by key.
    worked : list of str
        Keys of steps with a formula, each after those that it leans on.
    """

    trace: Trace
    system: str
    typed: dict[str, tuple[str, float, str]] = field(default_factory=dict)
    worked: list[str] = field(default_factory=list)

    def take(self, key: str) -> bool:
        """Take a step with all that it leans on; whether it is known."""
        if key in self.typed or key in self.worked:
            return True
        if not self.trace.known(key):
            return False
        step = self.trace.steps[key]
        sources = [source for _, source in step.inputs if self._counts(source)]
        if self._has_formula(step) and all(self.take(source) for source in sources):
            for name in (name for name in FIXED if self._needs(step, name)):
                metres, title = FIXED[name]
                self.typed[f"fixed.{name}"] = (title, self._shown(metres, "m"), self.unit("m"))
            self.worked.append(key)
        else:
            self._type(step)
        return True

    def is_plain(self, key: str) -> bool:
        """Whether a quantity is a count of the program's own, worked from nothing."""
        step = self.trace.steps[key]
        return step.unit == "" and not step.function

    def only_repeats(self, key: str) -> str | None:
        """Key of the step that another one repeats; None where it works something."""
        step = self.trace.steps[key]
        return step.inputs[0][1] if step.function == SAME else None

    def _has_formula(self, step: Step) -> bool:
        if step.overrule is not None or step.function not in FORMULAS:
            return False
        if step.function.endswith("envelope_volume"):
            return dict(step.inputs)["envelope"] in self.trace and bool(step.value)
        return True

    def _needs(self, step: Step, name: str) -> bool:
        buried = ("trench_depth", "trench_volume", "envelope_volume")
        needing = {"bedding": buried, "strip": ("disturbed_strip",)}[name]
        return step.function.startswith(PRACTICE_BUFFER) and step.function.endswith(needing)

    def _counts(self, source: str) -> bool:
        """Whether an input is a number or a list of them; words choose a formula, no more."""
        return not isinstance(self.trace.value(source), str)

    def _type(self, step: Step) -> None:
        value = step.value
        number = float(len(value)) if isinstance(value, tuple) else float(value)
        unit = "" if isinstance(value, tuple) else step.unit
        title = f"{step.title}, number" if isinstance(value, tuple) else step.title
        self.typed[step.key] = (title, self._shown(number, unit), self.unit(unit))

    def _shown(self, number: float, unit: str) -> float:
        if self.system == "us" and unit in LENGTHS:
            return round(from_si(number, LENGTHS[unit]), 9)
        return round(number, 9)

    def unit(self, unit: str) -> str:
        """Unit of a cell, as its head says it."""
        if self.system == "us" and unit in LENGTHS:
            return LENGTHS[unit]
        return "" if unit == "-" else unit

    def formula(self, key: str, cells: Cells) -> Live:
        """Formula of a step from the cells that stand already.

        Parameters
        ----------
        key : str
        cells : mapping of str to Live
            Cells by the keys of their steps.

        Returns
        -------
        Live
        """
        step = self.trace.steps[key]
        taken = {name: cells[source] for name, source in step.inputs if source in cells}
        taken |= {name: cells[f"fixed.{name}"] for name in FIXED if self._needs(step, name)}
        return FORMULAS[step.function](taken)
