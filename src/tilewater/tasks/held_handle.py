# SPDX-License-Identifier: Apache-2.0
"""One thing of a held job that can be moved: where it stands, its steps, and a move as edits."""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor
from typing import Literal

from tilewater.basis.units import System, from_si
from tilewater.chain.looked_at import LookedAt
from tilewater.job.edits import Edit

Kind = Literal["boards", "length", "width", "depth", "pipe", "stage", "flow"]
Axis = Literal["up", "along", "across", "none"]

SAME = 1e-5
"""Values closer than this are the same step. [m]"""
MOST = 400
"""Steps of one handle at most; where there would be more, the step is made coarser."""
SIZES: Mapping[Kind, Mapping[System, tuple[float, str]]] = {
    "length": {"us": (1.0, "ft"), "si": (0.5, "m")},
    "width": {"us": (1.0, "ft"), "si": (0.5, "m")},
    "depth": {"us": (0.25, "ft"), "si": (0.1, "m")},
    "stage": {"us": (0.05, "ft"), "si": (0.02, "m")},
    "boards": {"us": (1.0, "in"), "si": (1.0, "cm")},
    "pipe": {"us": (1.0, "in"), "si": (1.0, "mm")},
    "flow": {"us": (0.01, "cfs"), "si": (0.0005, "m3/s")},
}
"""Step of each kind, and the unit in which it is typed."""


@dataclass(frozen=True)
class Handle:
    """Something that can be moved.

    Attributes
    ----------
    name : str
        Short name: `inlet-boards`, `bed-length`, `looked-at-flow`.
    words : str
        What it is, in words of the trade.
    kind : str
        "boards", "length", "width", "depth", "pipe", "stage" or "flow".
    paths : tuple of str
        Where its value stands in the job file; empty for what is only looked at.
    key : str
        Key of the trace by which its present value is explained.
    unit : str
        Of value and steps.
    value : float or None
        As it stands; None while it is not known. [m] or [m3/s]
    steps : tuple of float
        What it can be, rising; the present value is among them. [m] or [m3/s]
    axis : str
        Whether it moves "up", "along" the section, "across" it, or has no place in it.
    datum_m : float or None
        Elevation or distance along the section that its value counts from: where it stands is
        datum plus value. [m]
    system : "us" or "si"
        Units in which a move of it is typed.
    other_edits : tuple of (path, value)
        What a move of it settles besides.
    member : int or None
        Which of a list it is.
    members : tuple of str
        The whole list as it stands, for a member of one.
    setting : str
        Boards of which setting it is: "design" or a season; "" where that says nothing.
    """

    name: str
    words: str
    kind: Kind
    paths: tuple[str, ...]
    key: str
    unit: str
    value: float | None
    steps: tuple[float, ...]
    axis: Axis
    datum_m: float | None
    system: System
    other_edits: tuple[tuple[str, Edit], ...] = ()
    member: int | None = None
    members: tuple[str, ...] = ()
    setting: str = ""

    @property
    def low(self) -> float:
        """Lowest that it can be. [m] or [m3/s]"""
        return self.steps[0]

    @property
    def high(self) -> float:
        """Highest that it can be. [m] or [m3/s]"""
        return self.steps[-1]

    @property
    def index(self) -> int | None:
        """Which step it stands on."""
        return None if self.value is None else self.index_of(self.value)

    @property
    def place_m(self) -> float | None:
        """Elevation or distance along the section where it stands. [m]"""
        if self.value is None or self.datum_m is None:
            return None
        return self.datum_m + self.value

    @property
    def is_saved(self) -> bool:
        """Whether its value stands in the job file."""
        return bool(self.paths)

    def index_of(self, value: float) -> int:
        """The step nearest to a value."""
        at = bisect_left(self.steps, value)
        near = [i for i in (at - 1, at) if 0 <= i < len(self.steps)]
        return min(near, key=lambda i: abs(self.steps[i] - value))

    def typed(self, index: int) -> str:
        """A step as it is typed into the job file: `32 in`."""
        return typed(self.steps[index], self.kind, self.system)


def edit_of(handle: Handle, value: float) -> dict[str, Edit]:
    """Edits that move a handle to the step nearest to a value; none where it is not saved.

    Parameters
    ----------
    handle : Handle
        What is moved.
    value : float
        Where to. [m] or [m3/s]

    Returns
    -------
    dict
        For `HeldJob.first` and `HeldJob.keep`.
    """
    return edit_at(handle, handle.index_of(value))


def edit_at(handle: Handle, index: int) -> dict[str, Edit]:
    """Edits that move a handle to a step, counted from its lowest; see `edit_of`."""
    step = min(max(index, 0), len(handle.steps) - 1)
    if not handle.is_saved:
        return {}
    value: Edit = handle.typed(step)
    if handle.member is not None:
        members = list(handle.members)
        members[handle.member] = handle.typed(step)
        value = members
    return dict.fromkeys(handle.paths, value) | dict(handle.other_edits)


def looked_at_of(handle: Handle, value: float, now: LookedAt) -> LookedAt:
    """What is looked at once a handle is moved; the same for one that stands in the job file."""
    step = handle.steps[handle.index_of(value)]
    if handle.kind == "flow":
        return replace(now, flow_m3_s=step)
    if handle.kind == "stage":
        return replace(now, ditch_stage_m=step)
    return replace(now, setting=handle.setting) if handle.setting else now


def typed(value: float, kind: Kind, system: System) -> str:
    """A value as it is typed: feet, inches of boards and pipes, or metric."""
    unit = SIZES[kind][system][1]
    digits = f"{from_si(value, unit):.5f}".rstrip("0").rstrip(".")
    return f"{'0' if digits in ('', '-0') else digits} {unit}"


def even_steps(size: float, low: float, high: float, value: float | None) -> tuple[float, ...]:
    """Multiples of a size from low to high, and the present value.

    Parameters
    ----------
    size : float
        Made coarser, by 2, 5 or 10, where there would be too many.
    low, high : float
        Ends.
    value : float or None
        Put among them.

    Returns
    -------
    tuple of float
        Rising.
    """
    coarser = 0
    step = size
    while (high - low) / step > MOST:
        coarser += 1
        step = size * 10.0 ** (coarser // 3) * (1.0, 2.0, 5.0)[coarser % 3]
    first, last = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    return with_value([n * step for n in range(first, last + 1)], value)


def with_value(steps: Sequence[float], value: float | None) -> tuple[float, ...]:
    """Steps with the present value among them, in the place of one that is the same."""
    if value is None:
        return tuple(steps)
    others = [step for step in steps if abs(step - value) > SAME * max(1.0, abs(value))]
    return tuple(sorted((*others, value)))
