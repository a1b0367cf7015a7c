# SPDX-License-Identifier: Apache-2.0
"""Inputs of the chain as edits of a job file: what one would have typed to get these values.

The way back from a key of the trace, such as `inputs.bed.length_bottom_m`, to its path in the file
and to a text with a unit. A text that would not be read as the same value is not written.
"""

import tomllib
from collections.abc import Mapping
from typing import Any

from tilewater.basis.errors import UnitMismatch, UnknownName
from tilewater.basis.units import Foot, System, parse_quantity, unit_label
from tilewater.job.edits import Edit
from tilewater.job.fields import Ask, Quantity, Setting, Wrong
from tilewater.job.schema import JobFile, asks, trace_key

SAME = 1e-9
"""A text stands for a value where they differ by no more. [m, or the unit of the value]"""


def edits_of_inputs(text: str, inputs: Mapping[str, Any], system: System = "us") -> dict[str, Edit]:
    """Edits that give inputs of the chain other values.

    Parameters
    ----------
    text : str
        Text of the job file.
    inputs : mapping of str to value
        Values in SI by their keys in the trace.
    system : "us" or "si"
        Units in which they are typed where they can be.

    Returns
    -------
    dict of str to Edit
        By path of the job file.

    Raises
    ------
    UnknownName
        If a key is not one that can be typed in this file.
    """
    data = tomllib.loads(text)
    places = {trace_key(path, ask): (path, ask) for path, _, ask in asks(JobFile, data)}
    unknown = [key for key in inputs if key not in places]
    if unknown:
        raise UnknownName(f"'{unknown[0]}' is no value that can be typed in this job file.")
    site = data.get("site", {})
    is_survey = isinstance(site, dict) and site.get("foot") == "us survey foot"
    foot: Foot = "us survey foot" if is_survey else "international foot"
    return {
        ".".join(places[key][0]): typed(places[key][1], value, system, foot)
        for key, value in inputs.items()
    }


def typed(ask: Ask, value: Any, system: System, foot: Foot) -> Edit:
    """A value as one would type it for a field: the shortest text that is read as the same.

    Raises
    ------
    UnknownName
        If no text of the field stands for the value.
    """
    if not isinstance(ask, Quantity) or isinstance(value, str | bool):
        return value  # type: ignore[no-any-return]
    number = float(value)
    if ask.is_plain:
        return number
    units = dict.fromkeys((unit_label(ask.kind, system), *_LENGTHS[system], ask.unit))
    for digits in (4, 6, 10, 17):
        for unit in units:
            said = _said(number, ask.kind, unit, digits, foot)
            if said is not None and _is_read_as(ask, said, number, foot):
                return said
    raise UnknownName(f"No text stands for {number!r} {ask.unit} of '{ask.title}'.")


_LENGTHS: dict[System, tuple[str, ...]] = {"us": ("ft", "in"), "si": ("m", "mm")}


def _said(number: float, kind: str, unit: str, digits: int, foot: Foot) -> str | None:
    try:
        one = parse_quantity(f"1 {unit}", kind, foot=foot)
    except UnitMismatch:
        return None
    return f"{number / one:.{digits}g} {unit}"


def _is_read_as(ask: Quantity, said: str, number: float, foot: Foot) -> bool:
    try:
        return abs(ask.parse(said, Setting(foot=foot)) - number) <= SAME
    except (Wrong, UnitMismatch):
        return False
