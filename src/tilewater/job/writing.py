# SPDX-License-Identifier: Apache-2.0
"""Save edits to a job file: nothing lost, nothing half written, nobody's work overwritten.

Before it writes, `save_job` compares the file on disk with the text that was read, and checks that
the edited text is still a job that can be read. The new file replaces the old in one step.
"""

import contextlib
import difflib
import os
import secrets
import shutil
from collections.abc import Mapping
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.job.edits import Edit, edited
from tilewater.job.reading import Job, job_of_text, read_text
from tilewater.job.schema import JOB_FILE


class ChangedOnDisk(BadInputFile):
    """The job file is no longer what was read; `difference` shows both versions."""

    def __init__(self, fault: Fault, difference: str) -> None:
        super().__init__(fault)
        self.difference = difference


def save_job(job: Job, edits: Mapping[str, Edit]) -> Job:
    """Write edited values to the job file, with every comment and every other value as it was.

    Parameters
    ----------
    job : Job
        The job as it was read.
    edits : mapping of str to Edit
        New values as typed, by path: `{"main.slope": "0.20 %"}`; None removes.

    Returns
    -------
    Job
        The job as it now is on disk.

    Raises
    ------
    ChangedOnDisk
        If another program changed the file since it was read. Nothing is written.
    BadInputFile
        If the edited file could not be read as a job. Nothing is written.
    """
    refuse_changed(job.folder, job.text)
    text = edited(job.text, edits)
    saved = job_of_text(text, job.folder)
    replace_text(job.folder, job.text, text)
    return saved


def replace_text(folder: Path, read: str, text: str) -> None:
    """Put a text in the place of the job file, if that is still what was read.

    Raises
    ------
    ChangedOnDisk
        If another program changed the file since it was read. Nothing is written.
    """
    refuse_changed(folder, read)
    write_in_one_step((folder / JOB_FILE).resolve(), text)


def refuse_changed(folder: Path, read: str) -> None:
    """Raise where the job file on disk is no longer the text that was read.

    Raises
    ------
    ChangedOnDisk
        With what changed.
    """
    on_disk = read_text((folder / JOB_FILE).resolve())
    if on_disk != read:
        fault, difference = told_difference(read, on_disk)
        raise ChangedOnDisk(fault, difference)


def write_in_one_step(path: Path, content: str | bytes) -> None:
    """Put a content in the place of a file, so that a reader finds the old or the new one, whole.

    Raises
    ------
    OSError
        If it cannot be written; what stood there stands there still.
    """
    half = path.with_name(f".{secrets.token_hex(8)}.part")
    try:
        with half.open("xb") as part:
            part.write(content.encode("utf-8") if isinstance(content, str) else content)
            part.flush()
            os.fsync(part.fileno())
        if path.exists():
            shutil.copymode(path, half)
        half.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            half.unlink()
        raise


def told_difference(
    read: str, now: str, *, who: str = "another program", where: str = "as it is on disk"
) -> tuple[Fault, str]:
    """What to say where a job file is no longer what was read, and its lines before and after."""
    before, after = read.splitlines(), now.splitlines()
    lines = list(difflib.unified_diff(before, after, "as it was read", where, lineterm="", n=0))
    same = next(
        (n for n, (a, b) in enumerate(zip(before, after, strict=False)) if a != b),
        min(len(before), len(after)),
    )
    if before == after:
        what = "its line ends are not the same"
    elif same >= len(before):
        what = f"'{after[same]}' is new"
    elif same >= len(after):
        what = f"'{before[same]}' is gone"
    else:
        what = f"'{before[same]}' is now '{after[same]}'"
    message = (
        f"{who} changed the file since it was read: {what}. "
        "Nothing was saved. Read the job again and repeat the edit."
    )
    return Fault(JOB_FILE, same + 1, "", message), "\n".join(lines)
