# SPDX-License-Identifier: Apache-2.0
"""What is raised when something cannot be computed or read.

    TilewaterError
    |-- OutOfDomain    (ValueError)       a value for which the equation has no meaning
    |-- UnknownName    (KeyError)         a name that is not in a list or table
    |-- UnitMismatch   (ValueError)       no unit, an unknown unit or a unit of another kind
    |-- NoSolution     (ArithmeticError)  the equation has no answer for these values
    |-- BadInputFile   (ValueError)       a file of the job that cannot be used as it stands
    |   `-- NewerFile                     written by a later version of the program
    `-- MissingExtra   (ImportError)      an optional library is not installed

Every message says what is wrong with value and unit, what is allowed, and what to do next.
Something that was computed but that the engineer must know is no error but a
`tilewater.basis.findings.Finding`.
"""

from dataclasses import dataclass


class TilewaterError(Exception):
    """Any error that Tilewater raises on purpose."""


class OutOfDomain(TilewaterError, ValueError):
    """A value for which the equation has no meaning."""


class UnknownName(TilewaterError, KeyError):
    """A name that is not in a list or table."""

    def __str__(self) -> str:  # KeyError would print the repr of its argument
        return str(self.args[0]) if self.args else ""


class UnitMismatch(TilewaterError, ValueError):
    """A quantity without a unit, with an unknown unit or with one of another kind."""


class NoSolution(TilewaterError, ArithmeticError):
    """An equation without an answer for the values given."""


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong in an input file: where, what, what is allowed, what to do."""

    file: str
    line: int | None
    where: str
    message: str

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file} line {self.line}"
        return f"{place}: {self.message}"


class BadInputFile(TilewaterError, ValueError):
    """A file of the job that cannot be used as it stands; carries every fault found."""

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


class NewerFile(BadInputFile):
    """A file written by a later version of the program."""


class MissingExtra(TilewaterError, ImportError):
    """An optional library is needed and not installed."""
