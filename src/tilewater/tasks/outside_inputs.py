# SPDX-License-Identifier: Apache-2.0
"""What the reader of a data file is given, and what it adds to a job."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from tilewater.basis.errors import Fault
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given
from tilewater.basis.unknown import is_unknown


@dataclass
class OutsideFiles:
    """What the files of a job say.

    Attributes
    ----------
    givens : list of Given
        Inputs to add, or to put in the place of those with the same key.
    findings : list of Finding
    faults : list of Fault
    read : list of str
        Files that were read, with what they hold.
    """

    givens: list[Given] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    read: list[str] = field(default_factory=list)

    def add(self, other: "OutsideFiles") -> None:
        """Add what another file says."""
        self.givens.extend(other.givens)
        self.findings.extend(other.findings)
        self.faults.extend(other.faults)
        self.read.extend(other.read)


@dataclass(frozen=True)
class TypedInputs:
    """The inputs of a job by key, as the reader of a data file asks for them."""

    by_key: Mapping[str, Given]

    def value(self, key: str) -> Any:
        """Value of an input; None where it is absent or not known."""
        given = self.by_key.get(key)
        return None if given is None or is_unknown(given.value) else given.value

    def given(self, key: str) -> Given | None:
        """An input as it was typed; None where it is absent."""
        return self.by_key.get(key)

    def known(self, start: str) -> dict[str, Given]:
        """Known inputs whose keys begin so, by key."""
        return {
            key: given
            for key, given in self.by_key.items()
            if key.startswith(start) and not is_unknown(given.value)
        }
