# SPDX-License-Identifier: Apache-2.0
"""What was computed but the engineer must know.

A `Finding` never stops a computation. Functions of the lower floors return plain numbers; beside
each function with a published range stands a `..._range` function that returns findings
where the range is left, so that nothing is clamped in silence.
"""

from dataclasses import dataclass
from typing import Literal

Severity = Literal["note", "caution", "fails"]


@dataclass(frozen=True)
class Finding:
    """One thing the engineer must know.

    Attributes
    ----------
    code : str
        Stable short name, never reused (`weir-head-low`).
    severity : "note", "caution" or "fails"
    subject : str
        What it is about, in words of the trade.
    message : str
        What is so, what is allowed, what to do next.
    value, limit : float or None
        In `unit`, coherent SI unless the unit says otherwise.
    operator : str
        How value should stand to limit: "<=", ">=", "<", ">" or "".
    source : str
        Key of `basis/sources.toml`, or "".
    """

    code: str
    severity: Severity
    subject: str
    message: str
    value: float | None = None
    operator: str = ""
    limit: float | None = None
    unit: str = ""
    source: str = ""
