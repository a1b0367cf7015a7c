# SPDX-License-Identifier: Apache-2.0
"""Compare the practices of a job folder: design each, set them side by side, write the record."""

from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

from tilewater.basis.findings import Finding
from tilewater.basis.unknown import is_unknown
from tilewater.chain.compare import PracticeComparison, compare_practices
from tilewater.chain.compare_record import comparison_record
from tilewater.chain.plain import Record
from tilewater.documents.words import Words
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.records import record_text
from tilewater.tasks.results import FOLDER, Written, hold_folder, write_each

RECORD, OWNER = "compare.json", "owner-compare.pdf"


@dataclass(frozen=True)
class Compared:
    """What became of a comparison.

    Attributes
    ----------
    job : Checked
        The job as read.
    comparison : PracticeComparison
    record : dict
        The result as other programs read it.
    """

    job: Checked
    comparison: PracticeComparison
    record: Record

    @property
    def fits(self) -> bool:
        """Whether anything that was described may be built."""
        return bool(self.comparison.buildable)

    @property
    def notes(self) -> tuple[Finding, ...]:
        """What the engineer must know of the files; each design says the rest by itself."""
        return self.job.notes


def compare_job(folder: Path | str, tell: Callable[[str], None] = lambda _: None) -> Compared:
    """Compare the practices that a job folder describes. Nothing is written.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.
    tell : callable
        Takes the words of each practice before it is designed.

    Returns
    -------
    Compared

    Raises
    ------
    BadInputFile
        With every fault of its files.
    """
    job = check_job(folder)
    comparison = compare_practices(job.inputs, tell=tell)
    return Compared(job, comparison, comparison_record(comparison, version("tilewater")))


def write_compared(
    compared: Compared, words: Words, out: Path | str | None = None, *, with_papers: bool = True
) -> Written:
    """Write the record and the owner's two pages of a comparison.

    Parameters
    ----------
    compared : Compared
        The comparison.
    words : Words
        Units of the pages.
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.
    with_papers : bool
        Whether the pages are written too.

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
    folder = compared.job.folder / FOLDER if out is None else Path(out)
    files: dict[str, Callable[[], str | bytes]] = {RECORD: lambda: record_text(compared.record)}
    if with_papers:
        files[OWNER] = lambda: _owner(compared, words)
    return write_each(folder, files)


def _owner(compared: Compared, words: Words) -> bytes:
    from tilewater.documents.report.owner_compare import CompareMaterial, owner_compare_pdf

    value = compared.job.value
    known = {
        name: "" if is_unknown(text) or text is None else str(text)
        for name, text in (
            ("owner", value("inputs.people.owner")),
            ("prepared_by", value("inputs.job.prepared_by")),
            ("date", value("inputs.job.date")),
        )
    }
    return owner_compare_pdf(
        CompareMaterial(
            compared.job.title, compared.comparison, words, version("tilewater"), **known
        )
    )
