# SPDX-License-Identifier: Apache-2.0
"""The verb that says how the boards are run."""

import json
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tilewater.cli.options import DONE, SHORT, AsJson, Explain, InUnits, Job, system_of

if TYPE_CHECKING:
    from tilewater.documents.words import Words
    from tilewater.tasks.operating import Operated


def operate(
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
            "--on",
            help="Day on which what stands is compared; today if not said, or the end of the log.",
            metavar="DATE",
        ),
    ] = "",
) -> None:
    """Which boards on which days, the lid card, the operation plan and the form for the log."""
    from tilewater.basis.memory import Stopped
    from tilewater.chain.record_paths import key_of_path
    from tilewater.cli.page import margin
    from tilewater.cli.stopping import told
    from tilewater.cli.verbs import show_explained, show_findings, show_lines
    from tilewater.cli.written_page import written_lines
    from tilewater.tasks.board_log import days_of_log
    from tilewater.tasks.built_levels import as_it_stands
    from tilewater.tasks.checking import check_job
    from tilewater.tasks.look_days import look_day
    from tilewater.tasks.operating import operate_checked
    from tilewater.tasks.operating_papers import write_operated
    from tilewater.tasks.reader import words_for

    reader = system_of(units)
    checked = as_it_stands(check_job(job))
    look = look_day(on, date.today(), days_of_log(checked), "2028-05-14")
    beside = margin()
    if look.is_ahead:
        beside.print(look.why)
    try:
        with told(beside) as tell:
            run = operate_checked(checked, on=look.day, tell=tell)
    except Stopped as stop:
        beside.print(str(stop))
        raise typer.Exit(SHORT) from None
    if explain:
        key = key_of_path("operate", run.design.trace, explain, run.record)
        show_explained(run.job, run.design.trace, key, as_json=as_json, units=reader)
        return
    words = words_for(run.job, reader)
    with beside.status("Writing the card, the plan and the form"):
        written = write_operated(run, words.system, out)
    if as_json:
        print(json.dumps(run.record, indent=1, ensure_ascii=False))
    else:
        _print_page(run, words)
    show_findings(run.notes, words.system)
    show_lines(written_lines(written))
    raise typer.Exit(SHORT if run.is_short else DONE)


def _print_page(run: "Operated", words: "Words") -> None:
    """The answer, the card and what lies beside them."""
    from tilewater.cli.page import paper
    from tilewater.documents.pages.operate_page import operate_page

    console = paper()
    parts = (run.operation, run.periods, run.compared, words)
    for part in operate_page(run.job.title, run.design.trace, *parts):
        console.print(part)
