# SPDX-License-Identifier: Apache-2.0
"""The verb that looks at what is left of a bed."""

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from tilewater.cli.options import DONE, SHORT, AsJson, Explain, InUnits, Job, system_of


def renew(
    job: Job,
    as_json: AsJson = False,
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
    explain: Explain = "",
    on: Annotated[
        str,
        typer.Option(
            help="The day that is asked for; today if not said, or the last of later readings.",
            metavar="DATE",
        ),
    ] = "",
    hand_over: Annotated[
        bool,
        typer.Option(
            "--hand-over", help="Write an archive of the whole job for who takes it over."
        ),
    ] = False,
) -> None:
    """Remaining life by two clocks, signs that chips are due, what to do and what it buys."""
    from tilewater.chain.record_paths import key_of_path
    from tilewater.cli.page import margin, paper
    from tilewater.cli.verbs import show_explained, show_findings, show_lines
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.renew_page import renew_page
    from tilewater.tasks.checking import check_job
    from tilewater.tasks.look_days import READ, days_in, look_day
    from tilewater.tasks.records import record_text
    from tilewater.tasks.renewing import renew_checked, write_renewed

    reader = system_of(units)
    checked = check_job(job)
    look = look_day(on, date.today(), days_in(checked, READ), "2031-02-01")
    renewed = renew_checked(checked, look.day)
    if explain:
        key = key_of_path("renew", renewed.trace, explain, renewed.record)
        show_explained(renewed.job, renewed.trace, key, as_json=as_json, units=reader)
        return
    written = write_renewed(renewed, out, system=reader, archive=hand_over)
    words = renewed.words(reader)
    if as_json:
        print(record_text(renewed.record), end="")
    else:
        console = paper()
        for part in renew_page(renewed.job.title, renewed.trace, words):
            console.print(part)
    if look.is_ahead:
        margin().print(look.why)
    show_findings(renewed.notes, words.system)
    show_lines(written_lines(written))
    raise typer.Exit(SHORT if renewed.short else DONE)
