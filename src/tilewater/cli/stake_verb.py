# SPDX-License-Identifier: Apache-2.0
"""The verb that stakes a design out."""

import json
from pathlib import Path
from typing import Annotated

import typer

from tilewater.cli.options import DONE, SHORT, AsJson, Explain, InUnits, Job, system_of


def stake(
    job: Job,
    as_json: AsJson = False,
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
    explain: Explain = "",
    columns: Annotated[
        str,
        typer.Option(
            help='Columns for the rover in their order: "point, north, east, height, note".',
            metavar="NAMES",
        ),
    ] = "",
    keep: Annotated[
        bool, typer.Option("--keep", help="With --columns: remember them in job.toml.")
    ] = False,
    up: Annotated[
        str, typer.Option(help='Move the works up the main: "3 ft".', metavar="LENGTH")
    ] = "",
    right: Annotated[
        str, typer.Option(help='Move them to the right looking up it: "-2 ft".', metavar="LENGTH")
    ] = "",
) -> None:
    """Points for the rover, the stake list with hubs and tape checks, a shift on site."""
    from tilewater.cli.page import margin, paper
    from tilewater.cli.verbs import show_explained, words_for
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.findings_page import findings_page
    from tilewater.documents.pages.stake_page import stake_page
    from tilewater.tasks.staking import keep_columns, rover_columns, stake_job, write_staked

    reader = system_of(units)
    staked = stake_job(job, up=up, right=right)
    if explain:
        show_explained(staked.job, staked.design.trace, explain, as_json=as_json, units=reader)
        return
    named = tuple(name.strip() for name in columns.split(",") if name.strip())
    chosen = rover_columns(staked, named)
    written = write_staked(staked, chosen, out)
    if keep and named:
        keep_columns(staked, chosen)
    if as_json:
        print(json.dumps(staked.record, indent=1, ensure_ascii=False))
    else:
        console = paper()
        words = words_for(staked.job, reader)
        for part in stake_page(staked.job.title, staked.stakes, staked.shifted, words):
            console.print(part)
    found = findings_page(staked.notes, words_for(staked.job, reader).system)
    beside = margin()
    if found is not None:
        beside.print(found)
    for line in written_lines(written):
        beside.print(line)
    short = staked.shifted is not None and staked.shifted.newly_short
    raise typer.Exit(SHORT if short else DONE)
