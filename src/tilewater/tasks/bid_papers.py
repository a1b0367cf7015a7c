# SPDX-License-Identifier: Apache-2.0
"""Files of a bid: its record, the workbook, the schedule that goes out, the papers."""

import csv
import io
from collections.abc import Callable, Mapping
from functools import partial
from importlib.metadata import version
from pathlib import Path

from tilewater.documents.words import Words
from tilewater.job.bids import blank_schedule
from tilewater.tasks.bidding import Bidding
from tilewater.tasks.records import record_text
from tilewater.tasks.results import FOLDER, Written, hold_folder, write_each

RECORD = "bid.json"
WORKBOOK = "bid.xlsx"
SCHEDULE_CSV, SCHEDULE_BOOK, SCHEDULE = "bid-schedule.csv", "bid-schedule.xlsx", "bid-schedule.pdf"
ESTIMATE, TABULATION, MEMO = "bid-estimate.pdf", "bid-tabulation.pdf", "award-memo.pdf"
FOR_BIDDERS = (SCHEDULE, SCHEDULE_CSV, SCHEDULE_BOOK)
"""Files that may go out to bidders; the others hold the engineer's estimate."""

Make = Callable[[], bytes | str]


def bid_files(bidding: Bidding, words: Words) -> dict[str, Make]:
    """Every file of a bid by its name, each made when it is its turn.

    Parameters
    ----------
    bidding : Bidding
    words : Words
        Units of dimensions on paper.

    Returns
    -------
    dict of str to callable
    """
    files: dict[str, Make] = {
        SCHEDULE: partial(_paper, bidding, words, SCHEDULE),
        SCHEDULE_CSV: partial(schedule_text, bidding),
        SCHEDULE_BOOK: partial(_schedule_book, bidding, words),
        WORKBOOK: partial(_workbook, bidding, words),
        ESTIMATE: partial(_paper, bidding, words, ESTIMATE),
    }
    if bidding.bid.tab is not None:
        files[TABULATION] = partial(_paper, bidding, words, TABULATION)
        files[MEMO] = partial(_paper, bidding, words, MEMO)
    return files


def schedule_text(bidding: Bidding) -> str:
    """The schedule for bidders as comma-separated text, prices blank."""
    from tilewater.documents.money.book import safe_text

    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    for row in blank_schedule(bidding.schedule):
        writer.writerow([safe_text(cell) for cell in row])
    return out.getvalue()


def _workbook(bidding: Bidding, words: Words) -> bytes:
    from tilewater.documents.money.workbook import workbook

    return workbook(bidding.bid, words, version("tilewater"))


def _schedule_book(bidding: Bidding, words: Words) -> bytes:
    from tilewater.documents.money.workbook import schedule_workbook

    return schedule_workbook(bidding.bid, words)


def _paper(bidding: Bidding, words: Words, name: str) -> bytes:
    from tilewater.documents.money import papers

    bid = papers.OnPaper(bidding.bid, words, version("tilewater"))
    press = {
        SCHEDULE: papers.schedule_pdf,
        ESTIMATE: papers.estimate_pdf,
        TABULATION: papers.tabulation_pdf,
        MEMO: papers.memo_pdf,
    }
    return press[name](bid)


def write_bid(
    bidding: Bidding,
    words: Words,
    out: Path | str | None = None,
    *,
    with_papers: bool = True,
    tell: Callable[[str], None] = lambda _: None,
) -> Written:
    """Write the record of a bid, and its workbook and papers.

    Parameters
    ----------
    bidding : Bidding
    words : Words
        Units of dimensions on paper.
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.
    with_papers : bool
        Whether workbook and papers are written beside the record.
    tell : callable
        Takes the name of each file before it is made.

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
    folder = bidding.job.folder / FOLDER if out is None else Path(out)
    files: dict[str, Make] = {RECORD: lambda: record_text(bidding.record)}
    if with_papers:
        files |= bid_files(bidding, words)
    return write_each(folder, _told(files, tell))


def _told(files: Mapping[str, Make], tell: Callable[[str], None]) -> dict[str, Make]:
    """The same files, each told before it is made."""

    def made(name: str, make: Make) -> bytes | str:
        tell(name)
        return make()

    return {name: partial(made, name, make) for name, make in files.items()}
