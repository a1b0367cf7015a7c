# SPDX-License-Identifier: Apache-2.0
"""Files of the later years of a job: read by `check` and by the verb that needs them.

A design rests on none of them, so no other verb opens them and it stays as quick as it was. What is
wrong in them is told by `check` together with every fault of every other file.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path

from tilewater.basis.errors import BadInputFile, NewerFile
from tilewater.job.reading import Job, read_job
from tilewater.job.toml_text import tables_of
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.outside_inputs import OutsideFiles

LaterReader = Callable[[Job], OutsideFiles]


def _measurements(job: Job) -> OutsideFiles:
    from tilewater.tasks.measuring_inputs import measured_files

    return measured_files(job)


def _tracers(job: Job) -> OutsideFiles:
    from tilewater.tasks.tracing import tracer_files

    return tracer_files(job)


def _tickets(job: Job) -> OutsideFiles:
    from tilewater.tasks.supply import read_supply

    return read_supply(job)


def _terrain(job: Job) -> OutsideFiles:
    from tilewater.tasks.terrain import terrain_files

    return terrain_files(job)


def _board_log(job: Job) -> OutsideFiles:
    from tilewater.tasks.board_log import board_log_file

    return board_log_file(job)


def _traverse(job: Job) -> OutsideFiles:
    from tilewater.tasks.traversing import traverse_file

    return traverse_file(job)


def _bids(job: Job) -> OutsideFiles:
    from tilewater.tasks.bid_inputs import bid_files_of

    return bid_files_of(job)


def _as_built(job: Job) -> OutsideFiles:
    from tilewater.tasks.built_survey import as_built_files

    return as_built_files(job)


READERS: dict[str, tuple[tuple[str, ...], LaterReader]] = {
    "bids": (("bidder",), _bids),
    "terrain": (("terrain",), _terrain),
    "traverse": (("traverse",), _traverse),
    "board log": (("board_log",), _board_log),
    "measurements": (("logger", "lab", "zero_check"), _measurements),
    "tracer tests": (("tracer",), _tracers),
    "tickets of chips": (("supply",), _tickets),
    "as built": (("as_built",), _as_built),
}
"""Tables of the job file that name such files, and the reader of all of them, by what it reads.

A reader is called only where the job file has one of its tables, gathers faults in place of raising
them, and loads what it needs when it is called."""


def check_every_file(folder: Path | str) -> Checked:
    """Read a job folder with the files of its later years.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.

    Returns
    -------
    Checked
        As `check_job` has it, with the files and notes of the later years.

    Raises
    ------
    BadInputFile
        With every fault of every file.
    """
    faults: list[BadInputFile] = []
    checked: Checked | None = None
    try:
        checked = check_job(folder)
    except NewerFile:
        raise
    except BadInputFile as error:
        faults.append(error)
    found = _later_of(folder)
    told = tuple(fault for error in faults for fault in error.faults)
    if checked is None or found.faults:
        # Two readers open the file of finished work; a fault of it is told once.
        raise BadInputFile(*dict.fromkeys((*told, *found.faults)))
    return replace(
        checked,
        files=(*checked.files, *found.read),
        notes=(*checked.notes, *found.findings),
    )


def _later_of(folder: Path | str) -> OutsideFiles:
    """What the later files say; nothing where the job file itself cannot be used."""
    found = OutsideFiles()
    try:
        job = read_job(folder)
    except BadInputFile:
        return found
    for tables, reader in READERS.values():
        if _has_any(tables_of(job.text), tables):
            try:
                found.add(reader(job))
            except BadInputFile as error:
                found.faults.extend(error.faults)
    return found


def _has_any(data: Mapping[str, object], tables: tuple[str, ...]) -> bool:
    return any(data.get(table) for table in tables)
