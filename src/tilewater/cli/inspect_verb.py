# SPDX-License-Identifier: Apache-2.0
"""The verb that looks at the works on site."""

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from tilewater.cli.options import DONE, SHORT, AsJson, Explain, InUnits, Job, system_of


def inspect(
    job: Job,
    as_json: AsJson = False,
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
    explain: Explain = "",
    only: Annotated[
        str, typer.Option(help='One part of it alone, such as "grade".', metavar="PART")
    ] = "",
    on: Annotated[
        str, typer.Option(help="The day of the look; today if not said.", metavar="DATE")
    ] = "",
) -> None:
    """Look at the works on site: gates, hold points, chips, grade, as built and what it changes."""
    from tilewater.cli.page import margin, paper
    from tilewater.cli.verbs import show_explained, words_for
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.findings_page import findings_page
    from tilewater.documents.pages.inspect_page import inspect_page
    from tilewater.tasks.inspecting import inspect_job, write_inspected
    from tilewater.tasks.records import record_text

    reader = system_of(units)
    inspected = inspect_job(job, _day(on), only=only, system=reader)
    if explain:
        trace = inspected.trace_of(explain)
        show_explained(inspected.job, trace, explain, as_json=as_json, units=reader)
        return
    written = write_inspected(inspected, out)
    words = words_for(inspected.job, reader)
    if as_json:
        print(record_text(inspected.record), end="")
    else:
        console = paper()
        for part in inspect_page(inspected.job.title, inspected.pages, words):
            console.print(part)
    found = findings_page(inspected.notes, words.system)
    beside = margin()
    if found is not None:
        beside.print(found)
    for line in written_lines(written):
        beside.print(line)
    raise typer.Exit(SHORT if inspected.short else DONE)


def _day(text: str) -> date:
    """The day that was typed, or today."""
    if not text:
        return date.today()
    from tilewater.basis.errors import BadInputFile, Fault

    try:
        return date.fromisoformat(text)
    except ValueError:
        message = f"'{text}' is no day. Write year-month-day, like 2027-10-06."
        raise BadInputFile(Fault("inspect", None, "--on", message)) from None
