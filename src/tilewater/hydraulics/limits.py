# SPDX-License-Identifier: Apache-2.0
"""Findings for a value outside the range in which an equation was tested.

The `..._range` functions of this floor are written with it. It decides nothing: the limits, their
source and what to do about it come from the caller.
"""

import numpy as np

from tilewater.basis.domain import Number
from tilewater.basis.findings import Finding, Severity


def outside(
    subject: str,
    value: Number,
    unit: str,
    *,
    code: str,
    source: str,
    advice: str,
    low: float | None = None,
    high: float | None = None,
    severity: Severity = "caution",
) -> tuple[Finding, ...]:
    """Findings where a value, or any value of a series, lies below `low` or above `high`.

    Parameters
    ----------
    subject : str
        What the value is, in words of the trade.
    value : float or array
        The value in `unit`; of an array the lowest and the highest count.
    unit : str
        Its unit, "" for none.
    code : str
        Code of the finding; `-low` or `-high` is added.
    source : str
        Key of the source of the limits.
    advice : str
        What to do next, a sentence without its full stop.
    low, high : float, optional
        Ends of the range in `unit`.
    severity : "note", "caution" or "fails"

    Returns
    -------
    tuple of Finding
        Empty when all is within.
    """
    found = []
    capital = subject[:1].upper() + subject[1:]
    lowest, highest = float(np.min(value)), float(np.max(value))
    if low is not None and lowest < low:
        said = f"{capital} is {_with(lowest, unit)}, below the {_with(low, unit)} from which"
        message = f"{said} {source} holds. {advice}."
        found.append(
            Finding(f"{code}-low", severity, subject, message, lowest, ">=", low, unit, source)
        )
    if high is not None and highest > high:
        said = f"{capital} is {_with(highest, unit)}, above the {_with(high, unit)} up to which"
        message = f"{said} {source} holds. {advice}."
        found.append(
            Finding(f"{code}-high", severity, subject, message, highest, "<=", high, unit, source)
        )
    return tuple(found)


def _with(value: float, unit: str) -> str:
    return f"{value:.3g} {unit}".strip()
