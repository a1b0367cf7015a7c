# SPDX-License-Identifier: Apache-2.0
"""One state of a job folder as it was read, and edits laid over it in memory.

Nothing here is written to disk. A state is never changed: what moves makes a new one.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.units import did_you_mean
from tilewater.job.checksums import checksum_text, digest_of, digest_of_file
from tilewater.job.edits import Edit, edited
from tilewater.job.file_names import is_file, lies_in, may_name
from tilewater.job.input_files import input_files
from tilewater.job.issued import ISSUED, IssuedCopy, issued_copies
from tilewater.job.reading import Job, job_of_text, read_text
from tilewater.job.schema import JOB_FILE, JobFile, member_at
from tilewater.job.typed import named_files
from tilewater.tasks.checking import Checked, checked
from tilewater.tasks.held_files import FileMemory
from tilewater.tasks.outside_files import faults_beside

Stamp = tuple[int, int] | None
"""Time and size of a file on disk; None where there is none."""


@dataclass(frozen=True)
class Laid:
    """A job with edits laid over it.

    Attributes
    ----------
    text : str
        Text of the job file with the edits.
    job : Job or None
        None where the text is at fault.
    checked : Checked or None
        The job with its data files; None where any of them is at fault.
    faults : tuple of Fault
    """

    text: str
    job: Job | None
    checked: Checked | None
    faults: tuple[Fault, ...]


@dataclass(frozen=True)
class Reading:
    """A job folder as it was read.

    Attributes
    ----------
    folder : Path
    laid : Laid
        The job without an edit.
    issued : tuple of IssuedCopy
    stamps : dict
        Of the job file and the data files that it names, taken before they were read.
    version : str
        Digest of all these files.
    files : FileMemory
        What the data files say.
    within : Path or None
        Folder that no data file is read outside of.
    """

    folder: Path
    laid: Laid
    issued: tuple[IssuedCopy, ...]
    stamps: Mapping[Path, Stamp] = field(repr=False)
    version: str
    files: FileMemory = field(repr=False)
    within: Path | None = None

    def with_edits(self, edits: Mapping[str, Edit]) -> Laid:
        """The job as it would be with edits; faults instead of an error."""
        if not edits:
            return self.laid
        if strange := tuple(_strange(edits)):
            return Laid(self.laid.text, None, None, strange)
        try:
            text = edited(self.laid.text, edits)
        except BadInputFile as error:
            return Laid(self.laid.text, None, None, error.faults)
        except ValueError:  # the text as read is no TOML, and has the fault that says so
            return Laid(self.laid.text, None, None, self.laid.faults)
        return lay(text, self.folder, self.files, issued=self.issued, within=self.within)

    def is_on_disk(self) -> bool:
        """Whether the files are still what was read: by time and size, and else by content."""
        if all(stamp_of(path) == stamp for path, stamp in self.stamps.items()):
            return True
        return version_on_disk(self.folder, self.within) == self.version


def read_folder(
    folder: Path, before: Reading | None = None, *, within: Path | None = None
) -> Reading:
    """Read a job folder as it is on disk.

    Parameters
    ----------
    folder : Path
        The job folder.
    before : Reading or None
        An earlier reading; data files that did not move are not read again.
    within : Path or None
        Folder that no data file is read outside of; None where the job may name any.

    Returns
    -------
    Reading
        With its faults, if it has any.

    Raises
    ------
    BadInputFile
        If there is no job file that could be read as text.
    """
    path = folder / JOB_FILE
    own = stamp_of(path)
    text = read_text(path)
    named = _named(folder, text, within)
    stamps = {path: own} | {each: stamp_of(each) for each in named.values()}
    version = _version(text.encode("utf-8"), named)
    files = FileMemory(frozenset(named.values()))
    if before is not None:
        files.take_over(before.files, lambda each: before.stamps.get(each) == stamps.get(each))
    is_near = within is None or lies_in(folder / ISSUED, within)
    issued = issued_copies(folder) if is_near else ()
    laid = lay(text, folder, files, issued=issued, is_read=True, within=within)
    return Reading(folder, laid, issued, stamps, version, files, within)


def lay(
    text: str,
    folder: Path,
    files: FileMemory,
    *,
    issued: tuple[IssuedCopy, ...] = (),
    is_read: bool = False,
    within: Path | None = None,
) -> Laid:
    """The job that a text stands for, with its data files.

    Parameters
    ----------
    text : str
        Text of a job file.
    folder : Path
        The job folder.
    files : FileMemory
        What its data files say.
    issued : tuple of IssuedCopy
        Copies that were issued of it.
    is_read : bool
        Whether this text is on disk; then the job keeps the digests of what it was read from.
    within : Path or None
        Folder that no data file is read outside of.

    Returns
    -------
    Laid
        The job, or its faults.
    """
    try:
        job = job_of_text(text, folder, within=within)
    except BadInputFile as error:
        beside = faults_beside(folder, within) if is_read else ()
        return Laid(text, None, None, (*error.faults, *beside))
    sources = input_files(job) if is_read else ()
    try:
        whole = checked(job, files.read(job), sources=sources, issued=issued)
    except BadInputFile as error:
        return Laid(text, job, None, error.faults)
    return Laid(text, job, whole, ())


def version_on_disk(folder: Path, within: Path | None = None) -> str:
    """Digest of the job file and of the data files that it names, as of now; "" without one."""
    try:
        text = read_text(folder / JOB_FILE)
    except BadInputFile:
        return ""
    return _version(text.encode("utf-8"), _named(folder, text, within))


def stamp_of(path: Path) -> Stamp:
    """Time and size of a file on disk."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size


def _strange(edits: Mapping[str, Edit]) -> Iterator[Fault]:
    """Faults of the paths that the job file has no place for; such a key may only be removed."""
    for where, value in edits.items():
        path = tuple(where.split("."))
        member = member_at(path)
        if value is None or (member is not None and member.ask is not None):
            continue
        above = member_at(path[:-1]) if path[:-1] else None
        beside = JobFile if len(path) == 1 else above.table if above is not None else None
        known = [each.key for each in beside.members()] if beside is not None else []
        what = f"[{'.'.join(path[:-1])}] has no '{path[-1]}'" if beside and path[:-1] else ""
        what = what or f"there is no table or key '{where}'"
        if member is not None:
            what = f"{where} is a table and takes no value. Name one of its keys"
        yield Fault(
            JOB_FILE, None, where, f"{what}. Nothing was changed.{did_you_mean(path[-1], known)}"
        )


def _named(folder: Path, text: str, within: Path | None) -> dict[str, Path]:
    """Data files that a text of a job file names and that may be read, by the name.

    None where it is no TOML.
    """
    try:
        names = [file.name for file in named_files(text)]
    except ValueError:
        return {}
    return {name: folder / name for name in names if may_name(folder, name, within)}


def _version(content: bytes, named: Mapping[str, Path]) -> str:
    digests = {name: _digest(path) for name, path in named.items()}
    return digest_of(checksum_text(digests | {JOB_FILE: digest_of(content)}).encode("utf-8"))


def _digest(path: Path) -> str:
    try:
        return digest_of_file(path) if is_file(path) else ""
    except OSError:
        return ""
