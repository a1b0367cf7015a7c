# SPDX-License-Identifier: Apache-2.0
"""A data file that was sent: put into the job folder and named in the job file, or not kept at all.

It is written under a name that nothing has, and read there with the job as every data file is. Only
when the whole job can be read with it is the job file changed, and only then does it take the place
of a file that the reader gave up. Where it cannot be read, it is taken away again.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.desk.placing import file_name_of, free_name
from tilewater.job.edits import Edit
from tilewater.job.fields import Ask
from tilewater.job.schema import JOB_FILE, member_at
from tilewater.tasks.held import HeldJob

MOST_BYTES = 32 * 1024 * 1024
"""Largest data file that is taken: thirty years of readings each quarter of an hour are 30 MB."""


@dataclass(frozen=True)
class Kind:
    """A sort of data file.

    Attributes
    ----------
    slug : str
        Its name in an address.
    key : str
        Where the job file names it.
    beside : tuple of str
        What else of the job file says how it is read.
    fixed : tuple of (str, str)
        What the job file says where such a file is there.
    note : str
        What one should know of what stands beside.
    """

    slug: str
    key: str
    beside: tuple[str, ...] = ()
    fixed: tuple[tuple[str, str], ...] = ()
    note: str = ""

    @property
    def ask(self) -> Ask:
        """What the job file asks for."""
        return ask_at(self.key)


KINDS = (
    Kind(
        "shots",
        "survey.shots",
        (
            "survey.columns.point",
            "survey.columns.north",
            "survey.columns.east",
            "survey.columns.height",
            "survey.columns.note",
            "survey.columns.fix",
            "site.foot",
            "site.vertical_datum",
        ),
        note="Which column holds what: its heading, or its number counted from 1.",
    ),
    Kind("borings", "borings.file"),
    Kind("nitrate", "nitrate.samples"),
    Kind("stage", "ditch.series", ("ditch.gauge_zero",), (("ditch.stage", "series"),)),
    Kind("flow", "drainage.record"),
    Kind(
        "weather",
        "weather.file",
        ("weather.kind", "weather.units", "weather.station", "weather.latitude"),
    ),
    Kind("prices", "estimate.prices"),
)


def ask_at(path: str) -> Ask:
    """What the job file asks for at a path that it has."""
    member = member_at(tuple(path.split(".")))
    if member is None or member.ask is None:
        raise KeyError(path)
    return member.ask


def taken_in(
    held: HeldJob,
    kind: Kind,
    content: bytes,
    *,
    sent_as: str,
    beside: Mapping[str, Edit],
    version: str,
    replaces: bool,
) -> str:
    """Put a data file into the job folder and name it in the job file.

    Parameters
    ----------
    held : HeldJob
        The job.
    kind : Kind
        What it is.
    content : bytes
        The file.
    sent_as : str
        Name under which it was sent.
    beside : mapping of str to Edit
        What else of the job file is to say, by path.
    version : str
        Of the job as it was shown.
    replaces : bool
        Whether it takes the place of a file of the same name; else it gets a number.

    Returns
    -------
    str
        Its name in the job folder.

    Raises
    ------
    JobMoved
        If that is no longer the version of the job. Nothing is written.
    BadInputFile
        If the job cannot be read with it. Nothing is kept.
    """
    name = file_name_of(sent_as, kind.slug)
    fresh = free_name(held.folder, name)
    path = held.folder / fresh
    edits = {kind.key: fresh, **dict(kind.fixed), **beside}
    with path.open("xb") as file:
        file.write(content)
    try:
        held.keep(edits, version=version)
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    if replaces and fresh != name:
        return _in_place(held, kind, path, held.folder / name)
    return fresh


def _in_place(held: HeldJob, kind: Kind, fresh: Path, old: Path) -> str:
    """Put a file that was read in the place of one that was given up."""
    if old.is_symlink() or not old.is_file():
        return fresh.name
    fresh.replace(old)
    held.reread()
    try:
        held.keep({kind.key: old.name}, version=held.version)
    except BadInputFile:  # another page was quicker: the job names the file as it was sent
        old.replace(fresh)
        return fresh.name
    return old.name


def faults_told(error: BadInputFile, name: str) -> tuple[Fault, ...]:
    """Faults of a file that was sent first, then those that the job has besides."""
    own = tuple(fault for fault in error.faults if fault.file not in ("", JOB_FILE))
    return (*own, *(fault for fault in error.faults if fault not in own))
