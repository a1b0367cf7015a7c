# SPDX-License-Identifier: Apache-2.0
"""The verb that draws the set of sheets."""

from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from tilewater.cli.options import DONE, SHORT, InUnits, Job, system_of


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
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
) -> None:
    """The set of sheets to scale in one PDF, and the specification written from its items."""
    from tilewater.cli.page import margin
    from tilewater.cli.page import paper as page
    from tilewater.cli.verbs import words_for
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.findings_page import findings_page
    from tilewater.tasks.designing import design_job
    from tilewater.tasks.results import hold_folder
    from tilewater.tasks.sheeting import sheet_words, sheets_of, specification_of, write_sheets

    words = sheet_words(status, signed, paper)
    hold_folder(out)
    outcome = design_job(job)
    reader = words_for(outcome.job, system_of(units)).system
    made = sheets_of(outcome, reader, words)
    console = page()
    console.print(f"{made.title}, {len(made.sheets)} sheets on {made.paper.name}")
    for number, sheet in enumerate(made.sheets, start=1):
        console.print(f"  {number:>2}  {sheet.title}")
    beside = margin()
    found = findings_page(outcome.notes)
    if found is not None:
        beside.print(found)
    specification = partial(specification_of, outcome, reader, words)
    for line in written_lines(write_sheets(outcome, made, specification, out)):
        beside.print(line)
    raise typer.Exit(DONE if outcome.fits else SHORT)
