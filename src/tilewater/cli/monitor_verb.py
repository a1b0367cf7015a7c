# SPDX-License-Identifier: Apache-2.0
"""The verb that reports what a practice removed."""

import json
from pathlib import Path
from typing import Annotated

import typer

from tilewater.cli.options import DONE, AsJson, Explain, InUnits, Job, system_of


def monitor(
    job: Job,
    as_json: AsJson = False,
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
    explain: Explain = "",
    update: Annotated[
        bool,
        typer.Option("--update", help="Show how the measurement narrows the removal rate."),
    ] = False,
) -> None:
    """What it removed, as measured: loads with their range, closure, year, trend, tracer."""
    from tilewater.chain.record_paths import key_of_path
    from tilewater.cli.page import paper
    from tilewater.cli.verbs import show_explained, show_findings, show_lines
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.monitor_page import monitor_page
    from tilewater.tasks.monitoring import monitor_job, write_monitored

    reader = system_of(units)
    done = monitor_job(job, update=update)
    if explain:
        key = key_of_path("monitor", done.trace, explain, done.record)
        show_explained(done.job, done.trace, key, as_json=as_json, units=reader)
        return
    written = write_monitored(done, reader, out)
    words = done.words(reader)
    if as_json:
        print(json.dumps(done.record, indent=1, ensure_ascii=False))
    else:
        console = paper()
        for part in monitor_page(done.job.title, done.trace, words):
            console.print(part)
        if done.tracer is not None:
            for part in done.tracer.page(words):
                console.print(part)
    show_findings(done.notes, words.system)
    show_lines(written_lines(written))
    raise typer.Exit(DONE)
