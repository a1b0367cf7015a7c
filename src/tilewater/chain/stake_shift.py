# SPDX-License-Identifier: Apache-2.0
"""The works moved on site: what moves with them, the inverts that follow, who may approve it.

All that has a place along the main moves by the same step and offset. Where the diversion moves
along the main its invert follows the grade of the main, and the inlet structure that stands on
it follows the invert. Floors and other inverts stay as designed; whether they still fit is judged
by the whole chain.
"""

from dataclasses import dataclass

from tilewater.basis.requirement import Requirement
from tilewater.basis.trace import Value
from tilewater.chain.design import Design
from tilewater.chain.inputs import JobInputs
from tilewater.chain.plan_parts import Outline

MAIN = "inputs.main"
MOVED_LEVELS = ("inputs.structure.inlet.sill_m", "inputs.structure.inlet.floor_m")
"""Levels that follow the invert of the main at the diversion."""
INTO_DITCH = ("return", "bypass")
"""Uses of pipes whose lower end lies in the bank, where it stays."""
LEVELS = (
    ("inputs.main.invert_diversion_m", "Invert of the main at the inlet structure"),
    ("inputs.structure.inlet.floor_m", "Floor of the inlet structure"),
    ("inputs.structure.inlet.sill_m", "Sill of the inlet structure"),
    ("boards.inlet-design.crest_m", "Crest of the inlet boards"),
    ("bed.floor_inlet_m", "Floor of the bed at its inlet"),
    ("bed.floor_outlet_m", "Floor of the bed at its outlet"),
)
"""Levels that a shift is told by, where the design has them."""
TECHNICIAN, ENGINEER = "technician", "engineer"


@dataclass(frozen=True)
class Shift:
    """How far the works are moved: up the main, and to the right looking up it. [m]"""

    station: float
    offset: float

    @property
    def largest(self) -> float:
        """The larger of both moves."""
        return max(abs(self.station), abs(self.offset))


@dataclass(frozen=True)
class Shifted:
    """What a shift does.

    Attributes
    ----------
    shift : Shift
    levels : tuple of (title, before, after)
        Levels before and after. [m]
    newly_short : tuple of Requirement
        Rules that hold before and not after.
    may_approve : "technician" or "engineer"
    why : str
        Why, in words.
    """

    shift: Shift
    levels: tuple[tuple[str, float, float], ...]
    newly_short: tuple[Requirement, ...]
    may_approve: str
    why: str


def moved_inputs(job: JobInputs, shift: Shift) -> JobInputs:
    """The inputs of a job with its works moved.

    Parameters
    ----------
    job : JobInputs
        As designed. [-]
    shift : Shift
        How far. [m]

    Returns
    -------
    JobInputs
        Moved. [-]
    """
    values: dict[str, Value] = {given.key: given.value for given in job.givens}
    moved: dict[str, Value] = {}
    for key, value in values.items():
        if key.startswith(("inputs.place.", "inputs.cell.")) and isinstance(value, float):
            if key.endswith(".station_m"):
                moved[key] = value + shift.station
            elif key.endswith(".offset_m"):
                moved[key] = value + shift.offset
        elif key.startswith("inputs.pipe.") and key.endswith(".points"):
            use = values.get(key.replace(".points", ".use"))
            moved[key] = _moved_line(value, shift, ends_in_ditch=use in INTO_DITCH)
    station = values.get(f"{MAIN}.station_diversion_m")
    if isinstance(station, float) and shift.station:
        moved[f"{MAIN}.station_diversion_m"] = station + shift.station
        moved |= _followed(values, shift.station)
    return job.changed(moved)


def _moved_line(value: Value, shift: Shift, *, ends_in_ditch: bool) -> Value:
    """Points of a pipe, moved; one on the main stays on it, an end in the ditch stays there."""
    if not isinstance(value, tuple):
        return value
    line: Outline = value
    last = len(line) - 1 if ends_in_ditch else len(line)
    return tuple(
        (s + shift.station if place < last else s, o + shift.offset if o else o)
        for place, (s, o) in enumerate(line)
    )


def _followed(values: dict[str, Value], along: float) -> dict[str, Value]:
    """The invert at the diversion and what stands on it, moved along the grade of the main."""
    grade = grade_at_diversion(values)
    if grade is None:
        return {}
    keys = (f"{MAIN}.invert_diversion_m", *MOVED_LEVELS)
    return {
        key: value + grade * along for key in keys if isinstance(value := values.get(key), float)
    }


def grade_at_diversion(values: dict[str, Value]) -> float | None:
    """Grade of the main at the diversion.

    Parameters
    ----------
    values : dict of str to Value
        Inputs of the job. [-]

    Returns
    -------
    float or None
        Fall over length; None where one of its levels is not known. [-]

    Notes
    -----
    S = (z_up - z_down) / (s_up - s_down)    (derived)

    References
    ----------
    derived, a slope
    """
    names = ("invert_diversion_m", "invert_outlet_m", "station_diversion_m", "station_outlet_m")
    found = [values.get(f"{MAIN}.{name}") for name in names]
    numbers = [value for value in found if isinstance(value, float)]
    if len(numbers) < len(names):
        return None
    high, low, up, down = numbers
    return None if up == down else (high - low) / (up - down)


def shifted(before: Design, after: Design, shift: Shift, limit: float) -> Shifted:
    """What a shift does to a design, and who may approve it.

    Parameters
    ----------
    before, after : Design
        As designed, and of the moved inputs. [-]
    shift : Shift
        How far. [m]
    limit : float
        Move that the technician may approve. [m]

    Returns
    -------
    Shifted
        Levels, rules that fall short, and who may approve. [-]
    """
    levels = tuple(
        (title, float(before.trace.value(key)), float(after.trace.value(key)))
        for key, title in LEVELS
        if before.trace.known(key) and after.trace.known(key)
    )
    short = tuple(
        one
        for one in after.trace.requirements
        if after.trace.value(f"{one.key}.status") == "short" and _held(before, one)
    )
    if short:
        named = ", ".join(one.title[0].lower() + one.title[1:] for one in short[:2])
        return Shifted(shift, levels, short, ENGINEER, f"it makes short: {named}")
    if shift.largest > limit:
        return Shifted(shift, levels, short, ENGINEER, "it is more than the technician may move")
    why = "every rule that held still holds, and it is no more than the technician may move"
    return Shifted(shift, levels, short, TECHNICIAN, why)


def _held(before: Design, requirement: Requirement) -> bool:
    key = f"{requirement.key}.status"
    return key in before.trace and before.trace.value(key) == "holds"
