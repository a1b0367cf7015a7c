# SPDX-License-Identifier: Apache-2.0
"""Read a whole job folder: every fault of every file at once, and what is not known yet."""

from dataclasses import dataclass
from pathlib import Path

from tilewater.basis.errors import BadInputFile, NewerFile
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given, Trace
from tilewater.basis.unknown import Unknown
from tilewater.chain.inputs import JobInputs
from tilewater.criteria.standards import Confirmation
from tilewater.job.input_files import InputFile, input_files
from tilewater.job.issued import IssuedCopy, issued_copies, issued_findings
from tilewater.job.reading import Job, read_job
from tilewater.tasks.outside_files import faults_beside, read_outside_files
from tilewater.tasks.outside_inputs import OutsideFiles


@dataclass(frozen=True)
class Checked:
    """A job folder without a fault.

    Attributes
    ----------
    folder : Path
    title : str
    inputs : JobInputs
        What the chain takes, data files included.
    files : tuple of str
        Files that were read, with what they hold.
    notes : tuple of Finding
    sources : tuple of InputFile
        The files that were read, with their digests; the job file first.
    issued : tuple of IssuedCopy
        Copies that were issued of it, as they are found.
    stands : tuple of Finding or None
        Levels taken as built in place of the design's; None where none were looked for.
    """

    folder: Path
    title: str
    inputs: JobInputs
    files: tuple[str, ...]
    notes: tuple[Finding, ...]
    sources: tuple[InputFile, ...] = ()
    issued: tuple[IssuedCopy, ...] = ()
    stands: tuple[Finding, ...] | None = None

    def value(self, key: str) -> object:
        """Value of an input; None where the job has none."""
        return next((given.value for given in self.inputs.givens if given.key == key), None)

    @property
    def trace(self) -> Trace:
        """The inputs alone, as a design begins with them."""
        return Trace.start(self.inputs.givens, self.inputs.overrules, self.inputs.assumptions)

    @property
    def unknown(self) -> tuple[Given, ...]:
        """Inputs that are not known and not assumed."""
        assumed = {assumption.key for assumption in self.inputs.assumptions}
        return tuple(
            given
            for given in self.inputs.givens
            if isinstance(given.value, Unknown) and given.key not in assumed
        )


def check_job(folder: Path | str) -> Checked:
    """Read a job folder and every data file that it names.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.

    Returns
    -------
    Checked
        The inputs, and what the engineer must know about them.

    Raises
    ------
    BadInputFile
        With every fault of the job file and of all data files that it names.
    """
    try:
        job = read_job(folder)
    except NewerFile:
        raise
    except BadInputFile as error:
        raise BadInputFile(*error.faults, *faults_beside(Path(folder))) from None
    outside = read_outside_files(job)
    return checked(job, outside, sources=input_files(job), issued=issued_copies(job.folder))


def checked(
    job: Job,
    outside: OutsideFiles,
    *,
    sources: tuple[InputFile, ...] = (),
    issued: tuple[IssuedCopy, ...] = (),
) -> Checked:
    """Set a job and what its data files say together.

    Parameters
    ----------
    job : Job
        The job as read.
    outside : OutsideFiles
        What the files that it names say.
    sources : tuple of InputFile
        The files that were read, with their digests.
    issued : tuple of IssuedCopy
        Copies that were issued of it.

    Returns
    -------
    Checked
        The inputs, and what the engineer must know about them.

    Raises
    ------
    BadInputFile
        With every fault of the data files.
    """
    if outside.faults:
        raise BadInputFile(*outside.faults)
    title = job.file.job.title
    return Checked(
        folder=job.folder,
        title=job.name if isinstance(title, Unknown) else title,
        inputs=JobInputs(
            name=job.name,
            givens=_merged(job.givens, outside.givens),
            overrules=job.overrules,
            assumptions=job.assumptions,
            confirmations=_confirmations(job),
        ),
        files=(f"job.toml: {len(job.givens)} inputs", *outside.read),
        notes=(*job.notes, *outside.findings, *issued_findings(job.folder, issued)),
        sources=sources,
        issued=issued,
    )


def job_inputs(folder: Path | str) -> tuple[JobInputs, tuple[Finding, ...]]:
    """Inputs of a job folder with those of its data files, and the notes on them."""
    checked = check_job(folder)
    return checked.inputs, checked.notes


def _merged(typed: tuple[Given, ...], outside: list[Given]) -> tuple[Given, ...]:
    instead = {given.key: given for given in outside}
    kept = tuple(instead.pop(given.key, given) for given in typed)
    return (*kept, *instead.values())


def _confirmations(job: Job) -> tuple[Confirmation, ...]:
    return tuple(
        Confirmation(c.row, c.by, c.date, c.edition, c.limit, c.origin) for c in job.confirmations
    )
