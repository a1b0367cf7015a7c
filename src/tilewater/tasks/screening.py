# SPDX-License-Identifier: Apache-2.0
"""Screen a job folder: what could lie at its outlet; the record and the page for the owner."""

from dataclasses import dataclass
from functools import partial
from importlib.metadata import version
from pathlib import Path

from tilewater.basis.findings import Finding
from tilewater.chain.plain import Record
from tilewater.chain.result_screen import screen_record
from tilewater.chain.screen import Screen, screen_job
from tilewater.documents.screen_words import in_words
from tilewater.documents.words import Words
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.records import record_text
from tilewater.tasks.results import FOLDER, Written, hold_folder, write_each

RECORD, PAGE = "screen.json", "screen.pdf"


@dataclass(frozen=True)
class Screened:
    """A screened job folder.

    Attributes
    ----------
    job : Checked
        The job as read.
    screen : Screen
        What could lie there, with the trace.
    record : dict
        The result as other programs read it.
    """

    job: Checked
    screen: Screen
    record: Record

    @property
    def notes(self) -> tuple[Finding, ...]:
        """What reading the files has to say."""
        return self.job.notes


def screen_folder(folder: Path | str) -> Screened:
    """Screen a job folder. Nothing is written.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.

    Returns
    -------
    Screened

    Raises
    ------
    BadInputFile
        With every fault of its files.
    """
    job = check_job(folder)
    screen = screen_job(job.inputs)
    record = screen_record(screen, version("tilewater"), partial(in_words, words=Words("si")))
    return Screened(job, screen, record)


def write_screen(screened: Screened, words: Words, out: Path | str | None = None) -> Written:
    """Write the record and the owner's page of a screening.

    Parameters
    ----------
    screened : Screened
        The screened job.
    words : Words
        Units of the page.
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
    folder = screened.job.folder / FOLDER if out is None else Path(out)
    return write_each(
        folder,
        {
            RECORD: lambda: record_text(screened.record),
            PAGE: lambda: _page(screened, words),
        },
    )


def _page(screened: Screened, words: Words) -> bytes:
    from tilewater.documents.report.screen_paper import ScreenMaterial, screen_pdf

    def text(key: str) -> str:
        value = screened.job.value(key)
        return value if isinstance(value, str) else ""

    return screen_pdf(
        ScreenMaterial(
            title=screened.job.title,
            owner=text("inputs.people.owner"),
            prepared_by=text("inputs.job.prepared_by"),
            date=text("inputs.job.date"),
            screen=screened.screen,
            words=words,
            version=version("tilewater"),
        )
    )
