# SPDX-License-Identifier: Apache-2.0
"""Look at the works on site: every part that the job has something of.

Each part is made by a module of its own, which takes `Inspection` and `Part` from
`tasks.inspection`. It is entered in `PARTS` under its key, in the order of the page.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault, UnknownName
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.units import System, did_you_mean, join_or
from tilewater.chain.plain import Record
from tilewater.chain.record_paths import key_of_path
from tilewater.tasks.built_part import built_part
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.chips import chips_part
from tilewater.tasks.gates import gates_part
from tilewater.tasks.grade_part import grade_part
from tilewater.tasks.holds import before_part, holds_part
from tilewater.tasks.inspection import Inspection, Make, Page, Part
from tilewater.tasks.reader import units_for
from tilewater.tasks.records import record_text
from tilewater.tasks.results import FOLDER, Written, hold_folder, write_each
from tilewater.tasks.supply import supply_part

__all__ = ["PARTS", "Inspected", "Inspection", "Part", "inspect_job", "write_inspected"]

RECORD, RECORD_OF_ONE = "inspect.json", "inspect-{}.json"
"""Files of a look at every part, and of one at one part alone, which leaves the other as it is."""

PARTS: dict[str, Callable[[Inspection], Part | None]] = {
    "before": before_part,
    "gates": gates_part,
    "holds": holds_part,
    "chips": chips_part,
    "supply": supply_part,
    "grade": grade_part,
    "built": built_part,
}
"""Makers of the parts by key, in the order of the page; one gives None where a job has none."""


@dataclass(frozen=True)
class Inspected:
    """What was looked at; nothing is written.

    Attributes
    ----------
    inspection : Inspection
    parts : tuple of Part
    """

    inspection: Inspection
    parts: tuple[Part, ...]

    @property
    def job(self) -> Checked:
        """The job as read."""
        return self.inspection.job

    @property
    def pages(self) -> tuple[tuple[str, Page], ...]:
        """Title of each part, and what gives its blocks."""
        return tuple((part.title, part.page) for part in self.parts)

    @property
    def notes(self) -> tuple[Finding, ...]:
        """What the engineer must know of each part; `check` tells of the files of the design."""
        return tuple(dict.fromkeys(note for part in self.parts for note in part.notes))

    @property
    def short(self) -> bool:
        """Whether something that was looked at falls short."""
        return any(part.short for part in self.parts)

    @property
    def record(self) -> Record:
        """What was looked at as other programs read it, in SI."""
        return {
            "tilewater": version("tilewater"),
            "job": self.job.inputs.name,
            "day": self.inspection.day.isoformat(),
            "parts": {part.key: part.record for part in self.parts},
            "findings": [note.record for note in self.notes],
        }

    def explained(self, key: str) -> tuple[Trace, str]:
        """The trace that holds a key or a path of the record, and its key there.

        Raises
        ------
        UnknownName
            If no part has such a number.
        """
        for part in self.parts:
            found = key_of_path("inspect", part.trace, key, self.record)
            if found in part.trace:
                return part.trace, found
        keys = [step.key for part in self.parts for step in part.trace]
        raise UnknownName(f"Nothing that was looked at is called '{key}'.{did_you_mean(key, keys)}")


def inspect_job(
    folder: Path | str, day: date, *, only: str = "", system: System | None = None
) -> Inspected:
    """Look at the works of a job folder.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.
    day : date
        The day of the look.
    only : str
        Key of the one part that is asked for; "" for all.
    system : "us", "si" or None
        Units of the papers; None for those of the job.

    Returns
    -------
    Inspected

    Raises
    ------
    BadInputFile
        With every fault of its files, or if there is no such part.
    """
    hold_part(only)
    return inspect_checked(check_job(folder), day, only=only, system=system)


def hold_part(only: str) -> None:
    """Hold that the one part that is asked for is known; "" asks for all.

    Raises
    ------
    BadInputFile
        If there is no such part.
    """
    if only and only not in PARTS:
        message = f"'{only}' is no part of a look at the works. Write {join_or(PARTS)}."
        raise BadInputFile(Fault("inspect", None, "--only", message))


def inspect_checked(
    job: Checked,
    day: date,
    *,
    only: str = "",
    system: System | None = None,
    by_days: bool = True,
) -> Inspected:
    """Look at the works of a job that was read; see `inspect_job`, and `Inspection` for days."""
    inspection = Inspection(job, day, units_for(job, system), by_days=by_days, only=only)
    makers = [PARTS[only]] if only else list(PARTS.values())
    parts = (make(inspection) for make in makers)
    return Inspected(inspection, tuple(part for part in parts if part is not None))


def write_inspected(inspected: Inspected, out: Path | str | None = None) -> Written:
    """Write the record and the files of every part.

    Parameters
    ----------
    inspected : Inspected
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.

    Returns
    -------
    Written
        Each file is whole or absent.

    Raises
    ------
    BadInputFile
        If a folder that was named cannot be made.
    """
    hold_folder(out)
    folder = inspected.job.folder / FOLDER if out is None else Path(out)
    only = inspected.inspection.only
    name = RECORD_OF_ONE.format(only) if only else RECORD
    files: dict[str, Make] = {name: lambda: record_text(inspected.record)}
    for part in inspected.parts:
        files |= part.files
    return write_each(folder, files)
