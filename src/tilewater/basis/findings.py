# SPDX-License-Identifier: Apache-2.0
"""What was computed but the engineer must know.

A `Finding` never stops a computation. Functions of the lower floors return plain numbers; beside
each function with a published range stands a `..._range` function that returns findings
where the range is left, so that nothing is clamped in silence. What it says may hold quantities
(`tilewater.basis.told`); subject and message are then in US customary units, and `in_units` says
the same in the units of a reader.
"""

from dataclasses import dataclass, field, replace
from typing import Literal

from tilewater.basis.told import in_units
from tilewater.basis.units import System

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
    _said: tuple[str, str] = field(init=False, repr=False, compare=False, default=("", ""))

    def __post_init__(self) -> None:
        object.__setattr__(self, "_said", (self.subject, self.message))
        for name, words in zip(("subject", "message"), self._said, strict=True):
            object.__setattr__(self, name, in_units(words, "us"))

    @property
    def record(self) -> dict[str, str]:
        """What another program reads of it: code, severity, subject, message."""
        return {
            "code": self.code,
            "severity": self.severity,
            "subject": self.subject,
            "message": self.message,
        }

    def in_units(self, system: System) -> "Finding":
        """The same finding as a reader of this system has it."""
        subject, message = (in_units(words, system) for words in self._said)
        return replace(self, subject=subject, message=message)
