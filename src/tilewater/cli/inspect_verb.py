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
        str,
        typer.Option(
            help="The day of the look; today if not said, or the last of later signatures.",
            metavar="DATE",
        ),
    ] = "",
) -> None:
    """Look at the works on site: gates, hold points, chips, grade, as built and what it changes."""
    from tilewater.cli.page import margin, paper
    from tilewater.cli.verbs import show_explained, show_findings, show_lines
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.inspect_page import inspect_page
    from tilewater.tasks.checking import check_job
    from tilewater.tasks.inspecting import hold_part, inspect_checked, write_inspected
    from tilewater.tasks.look_days import BUILT, days_in, look_day
    from tilewater.tasks.reader import words_for
    from tilewater.tasks.records import record_text

    reader = system_of(units)
    hold_part(only)
    checked = check_job(job)
    look = look_day(on, date.today(), days_in(checked, BUILT), "2027-10-06")
    inspected = inspect_checked(checked, look.day, only=only, system=reader)
    if explain:
        trace, key = inspected.explained(explain)
        show_explained(inspected.job, trace, key, as_json=as_json, units=reader)
        return
    written = write_inspected(inspected, out)
    words = words_for(inspected.job, reader)
    if as_json:
        print(record_text(inspected.record), end="")
    else:
        console = paper()
        for part in inspect_page(inspected.job.title, inspected.pages, words):
            console.print(part)
    if look.is_ahead:
        margin().print(look.why)
    show_findings(inspected.notes, words.system)
    show_lines(written_lines(written))
    raise typer.Exit(SHORT if inspected.short else DONE)
