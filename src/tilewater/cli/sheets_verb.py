# SPDX-License-Identifier: Apache-2.0
"""The verb that draws the set of sheets."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.units import System
from tilewater.cli.options import DONE, SHORT, InUnits, Job, system_of

if TYPE_CHECKING:
    from tilewater.tasks.designing import Outcome
    from tilewater.tasks.sheeting import SheetWords


def sheets(
    job: Job,
    status: Annotated[
        str,
        typer.Option(help="What the set is for: review, permit, bid, construction, as-built."),
    ] = "review",
    signed: Annotated[
        str,
        typer.Option(
            help="Sign-off of the engineer, typed: name, licence number, date.", metavar="TEXT"
        ),
    ] = "",
    paper: Annotated[
        str, typer.Option(help="Size of paper: 11x17, 22x34, letter or a3.", metavar="SIZE")
    ] = "11x17",
    issue: Annotated[
        bool, typer.Option("--issue", help="Keep the set in issued/, with a row of revision.")
    ] = False,
    by: Annotated[str, typer.Option(help="Who answers for an issued set.", metavar="NAME")] = "",
    note: Annotated[
        str, typer.Option(help="For whom or for what it is issued.", metavar="TEXT")
    ] = "",
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
) -> None:
    """The set of sheets to scale in one PDF, and the specification written from its items."""
    from tilewater.tasks.designing import design_job
    from tilewater.tasks.reader import words_for
    from tilewater.tasks.results import hold_folder
    from tilewater.tasks.sheeting import sheet_words

    words = sheet_words(status, signed, paper)
    hold_issue(issue=issue, by=by, note=note, out=out)
    hold_folder(out)
    outcome = design_job(job)
    reader = words_for(outcome.job, system_of(units)).system
    show_sheets(outcome, reader, words, out, (by, note) if issue else None)
    raise typer.Exit(DONE if outcome.fits else SHORT)


def show_sheets(
    outcome: "Outcome",
    reader: System,
    words: "SheetWords",
    out: Path | None,
    issue: tuple[str, str] | None,
) -> None:
    """Write or issue a set, and list its sheets."""
    from tilewater.cli.page import margin, paper
    from tilewater.cli.verbs import show_findings, show_lines
    from tilewater.cli.written_page import written_lines
    from tilewater.tasks.bearing import SETS, bearing, others_line
    from tilewater.tasks.sheeting import (
        SIGNED,
        issue_sheets,
        papers_of_set,
        sheets_of,
        write_sheets,
    )

    made = sheets_of(outcome, reader, words)
    console, beside = paper(), margin()
    console.print(f"{made.title}, {len(made.sheets)} sheets on {made.paper.name}")
    for number, sheet in enumerate(made.sheets, start=1):
        console.print(f"  {number:>2}  {sheet.title}")
    own = bearing(outcome.notes, SETS)
    show_findings(own, reader)
    if line := others_line(len(set(outcome.notes)) - len(own)):
        beside.print(line)
    if issue is not None:
        issued = issue_sheets(outcome, reader, words, *issue, date.today())
        beside.print(f"Issued: {issued.folder}")
        beside.print(f"  sha256 of its checksums.txt: {issued.seal}")
    else:
        files = papers_of_set(outcome, made, reader, words)
        show_lines(written_lines(write_sheets(outcome, files, out)))
    if words.status in SIGNED:
        beside.print(LOCATE)


LOCATE = "The dig waits for the locate ticket, whatever this set says."


def hold_issue(*, issue: bool, by: str, note: str, out: Path | None) -> None:
    """Hold that what is typed for an issue belongs together.

    Raises
    ------
    BadInputFile
        If the name is missing, or stands without an issue.
    """
    message = ""
    if issue and not by.strip():
        message = 'a set is issued with the name of who answers for it. Write --by "R. Lindqvist"'
    elif issue and out is not None:
        message = "an issued set stands in issued/. Leave --out away"
    elif not issue and (by or note):
        message = "--by and --note belong to a set that is issued. Write --issue too"
    if message:
        raise BadInputFile(Fault("sheets", None, "--issue", f"{message}. Nothing was issued."))
