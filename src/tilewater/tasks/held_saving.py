# SPDX-License-Identifier: Apache-2.0
"""What a held job refuses to write over, and how it says what moved."""

from collections.abc import Mapping
from pathlib import Path

from tilewater.basis.errors import Fault
from tilewater.job.edits import Edit
from tilewater.job.schema import JOB_FILE
from tilewater.job.writing import ChangedOnDisk, told_difference
from tilewater.tasks.held_reading import Stamp, stamp_of


class JobMoved(ChangedOnDisk):
    """The job is no longer what an edit was made to; nothing was written.

    `difference` holds the lines of the job file before and after; "" where only a data file moved.
    """


def moved_on_disk(error: ChangedOnDisk) -> JobMoved:
    """The same refusal, as a held job gives it."""
    return JobMoved(error.faults[0], error.difference)


def moved_files(stamps: Mapping[Path, Stamp]) -> JobMoved:
    """What to say where a data file changed since it was read."""
    names = [path.name for path, stamp in stamps.items() if stamp_of(path) != stamp]
    names = [name for name in names if name != JOB_FILE] or ["a data file"]
    message = (
        "another program changed the file since it was read. Nothing was saved. "
        "Read the job again and repeat the edit."
    )
    return JobMoved(Fault(", ".join(names), None, "", message), "")


def moved_meanwhile(before: str | None, now: str) -> JobMoved:
    """What to say where another page saved the job after this one was shown.

    Parameters
    ----------
    before : str or None
        Text that the page was made from; None where it is no longer remembered.
    now : str
        Text of the job file as it is.

    Returns
    -------
    JobMoved
        With the first line that differs.
    """
    if before is None or before == now:
        message = (
            "the job was saved or read again since this page was made. Nothing was saved. "
            "Read the job again and repeat the edit."
        )
        return JobMoved(Fault(JOB_FILE, None, "", message), "")
    return JobMoved(*told_difference(before, now, who="another page", where="as it is now"))


def in_the_way(
    before: tuple[Fault, ...], after: tuple[Fault, ...], edits: Mapping[str, Edit]
) -> tuple[Fault, ...]:
    """Faults that keep edits from being written.

    A job without faults is never given one. One that has several is mended edit by edit, so there
    only a fault at what is edited counts, or one of the file as a whole.

    Parameters
    ----------
    before, after : tuple of Fault
        Of the job as it is, and with the edits.
    edits : mapping of str to Edit
        By path of the job file.

    Returns
    -------
    tuple of Fault
        Empty where the edits may be written.
    """
    if not before:
        return after
    return tuple(
        fault
        for fault in after
        if fault.file == JOB_FILE
        and (not fault.where or any(_meet(fault.where, path) for path in edits))
    )


def _meet(where: str, path: str) -> bool:
    """Whether a fault stands at what is edited, or in it, or around it."""
    return f"{where}.".startswith(f"{path}.") or f"{path}.".startswith(f"{where}.")
