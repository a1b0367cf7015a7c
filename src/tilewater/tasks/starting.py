# SPDX-License-Identifier: Apache-2.0
"""Start a job folder: from a few answers, or as a copy of an example."""

from collections.abc import Mapping
from pathlib import Path

from tilewater.basis.errors import UnknownName
from tilewater.job.edits import Edit
from tilewater.job.reading import Job
from tilewater.job.schema import member_at
from tilewater.job.template import copy_example, start_job


def question_of(path: str) -> str:
    """Question that asks for a value of the job file, with an example of an answer."""
    member = member_at(tuple(path.split(".")))
    if member is None or member.ask is None:
        raise UnknownName(f"No '{path}' in a job file. See tilewater start --template.")
    return f"{member.ask.title} (such as {member.ask.example})"


def start(
    folder: Path | str, *, example: str = "", answers: Mapping[str, Edit] | None = None
) -> Job:
    """Make a job folder; what is there is left alone.

    Parameters
    ----------
    folder : Path or str
        The new folder.
    example : str
        Name of an example to copy; "" to begin anew.
    answers : mapping of str to Edit or None
        Values as typed, by path in the job file: `{"main.diameter": "10 in"}`.

    Returns
    -------
    Job
        The new job as read.

    Raises
    ------
    BadInputFile
        If the folder holds a job already. Nothing is written.
    UnknownName
        If there is no such example, or an answer has no place in the job file.
    """
    return copy_example(example, folder) if example else start_job(folder, answers)
