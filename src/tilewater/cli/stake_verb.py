# SPDX-License-Identifier: Apache-2.0
"""The verb that stakes a design out."""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tilewater.basis.units import System
from tilewater.cli.options import DONE, SHORT, AsJson, Explain, InUnits, Job, system_of

if TYPE_CHECKING:
    from tilewater.tasks.results import Written
    from tilewater.tasks.staking import Staked


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
    from tilewater.cli.verbs import show_explained
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
    show_staked(staked, written, chosen, reader, with_page=not as_json)
    short = staked.shifted is not None and staked.shifted.newly_short
    raise typer.Exit(SHORT if short else DONE)


def show_staked(
    staked: "Staked",
    written: "Written",
    columns: tuple[str, ...],
    reader: System | None,
    *,
    with_page: bool,
) -> None:
    """Show the stake list, what must be known, and which files hold it."""
    from tilewater.cli.page import margin, paper
    from tilewater.cli.verbs import show_findings, show_lines
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.stake_page import stake_page
    from tilewater.tasks.bearing import others_line
    from tilewater.tasks.reader import words_for
    from tilewater.tasks.staking import COLUMNS_TOLD, ROVER

    words = words_for(staked.job, reader)
    console, beside = paper(), margin()
    parts = stake_page(staked.job.title, staked.stakes, staked.shifted, words, staked.traverse)
    for part in parts if with_page else ():
        console.print(part)
    show_findings(staked.own_notes, words.system)
    if line := others_line(len(staked.notes) - len(staked.own_notes)):
        beside.print(line)
    show_lines(written_lines(written))
    if ROVER in written.files:
        beside.print(
            f"Columns of {ROVER}: {', '.join(columns)}; {COLUMNS_TOLD} says what they are."
        )
