# SPDX-License-Identifier: Apache-2.0
"""Long work on papers: make them, issue a copy, compare practices, screen; each in a thread."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

from tilewater.basis.errors import TilewaterError
from tilewater.basis.memory import Stopped
from tilewater.basis.units import System
from tilewater.chain.plain import Record
from tilewater.desk.runs import Run
from tilewater.documents.pages.practices_page import practices_page
from tilewater.documents.pages.said import Part
from tilewater.documents.pages.screen_page import screen_page
from tilewater.documents.words import Words
from tilewater.tasks.comparing import OWNER as OWNER_OF_COMPARISON
from tilewater.tasks.comparing import compare_job, write_compared
from tilewater.tasks.designing import Outcome, design_job
from tilewater.tasks.issue_slip import IssueWords
from tilewater.tasks.issuing import Issued, issue_design
from tilewater.tasks.papers import papers_of
from tilewater.tasks.results import Written, reason_of
from tilewater.tasks.screening import PAGE, screen_folder, write_screen
from tilewater.tasks.sheeting import (
    SHEETS,
    SheetWords,
    issue_sheets,
    papers_of_set,
    press_set,
    sheet_words,
    sheets_of,
)


@dataclass(frozen=True)
class Papers:
    """Papers of a design as they were made.

    Attributes
    ----------
    outcome : Outcome
    files : mapping of str to bytes
        By the name of the file.
    troubles : tuple of (name, why)
        Those that could not be made.
    """

    outcome: Outcome
    files: Mapping[str, bytes]
    troubles: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Opened:
    """A page of words with its record and its paper for the owner.

    Attributes
    ----------
    blocks : tuple of Part
    record : dict
    files : mapping of str to bytes
    troubles : tuple of (name, why)
    """

    blocks: tuple[Part, ...]
    record: Record
    files: Mapping[str, bytes]
    troubles: tuple[tuple[str, str], ...]


def make_papers(run: Run, folder: Path, units: System) -> Papers:
    """Design a job and make every paper of it; nothing is written to the job folder."""
    run.tell("designing, every day and every draw")
    outcome = design_job(folder)
    makers: dict[str, Callable[[], bytes]] = {
        **papers_of(outcome, units),
        SHEETS: lambda: _sheets(outcome, units),
    }
    return _made(run, outcome, makers)


def draw_sheets(run: Run, folder: Path, units: System, words: SheetWords) -> Papers:
    """Design a job and draw its set of sheets; nothing is written to the job folder."""
    run.tell("designing, every day and every draw")
    outcome = design_job(folder)
    _hold(run)
    run.tell("drawing")
    makers = papers_of_set(outcome, sheets_of(outcome, units, words), units, words)
    return _made(run, outcome, makers)


def _made(run: Run, outcome: Outcome, makers: Mapping[str, Callable[[], bytes]]) -> Papers:
    """Make each paper in turn; a trouble with one leaves the others."""
    files: dict[str, bytes] = {}
    troubles: list[tuple[str, str]] = []
    for number, (name, make) in enumerate(makers.items()):
        _hold(run)
        run.tell(f"making {name}", number / len(makers))
        try:
            files[name] = make()
        except (OSError, ImportError, TilewaterError) as error:
            troubles.append((name, reason_of(error)))
    return Papers(outcome, files, tuple(troubles))


def _sheets(outcome: Outcome, units: System) -> bytes:
    """The set of sheets of a design, for review."""
    return press_set(sheets_of(outcome, units, sheet_words("review", "", "11x17")))


def issue(run: Run, folder: Path, words: IssueWords, units: System) -> Issued:
    """Issue a copy of a job as it is on disk; whole, or not at all where it is stopped."""
    run.tell("designing, every day and every draw")
    outcome = design_job(folder)

    def tell(name: str) -> None:
        _hold(run)
        run.tell(f"issuing {name}")

    return issue_design(outcome, words, date.today(), units, tell=tell)


def issue_set(run: Run, folder: Path, words: SheetWords, slip: IssueWords, units: System) -> Issued:
    """Issue a copy of a job with its set of sheets; whole, or not at all where it is stopped."""
    run.tell("designing, every day and every draw")
    outcome = design_job(folder)
    _hold(run)
    run.tell("drawing")

    def tell(name: str) -> None:
        _hold(run)
        run.tell(f"issuing {name}")

    return issue_sheets(outcome, units, words, slip.by, slip.note, date.today(), tell=tell)


def compare(run: Run, folder: Path, words: Words) -> Opened:
    """Set the practices of a job side by side."""

    def tell(practice: str) -> None:
        _hold(run)
        run.tell(f"designing {practice}")

    compared = compare_job(folder, tell)
    _hold(run)
    run.tell("writing the owner's pages")
    files, troubles = _written(lambda out: write_compared(compared, words, out))
    blocks = tuple(practices_page(compared.job.title, compared.comparison, words))[1:]
    kept = {name: content for name, content in files.items() if name == OWNER_OF_COMPARISON}
    return Opened(blocks, compared.record, kept, troubles)


def screen(run: Run, folder: Path, words: Words) -> Opened:
    """Ask what could lie at the outlet of a job."""
    run.tell("asking every practice")
    screened = screen_folder(folder)
    _hold(run)
    run.tell("writing the owner's page")
    files, troubles = _written(lambda out: write_screen(screened, words, out))
    blocks = tuple(screen_page(screened.job.title, screened.screen, words, every=True))[1:]
    kept = {name: content for name, content in files.items() if name == PAGE}
    return Opened(blocks, screened.record, kept, troubles)


def _hold(run: Run) -> None:
    """Let go where nobody waits any more."""
    if not run.goes_on():
        raise Stopped("Stopped before it was whole.")


def _written(
    write: Callable[[Path], Written],
) -> tuple[dict[str, bytes], tuple[tuple[str, str], ...]]:
    """What is written into a folder that is gone afterwards."""
    with TemporaryDirectory() as folder:
        written = write(Path(folder))
        files = {name: Path(folder, name).read_bytes() for name in written.files}
    return files, tuple(written.troubles)
