# SPDX-License-Identifier: Apache-2.0
"""The verb that bids a design."""

import json
import sys
from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from tilewater.cli.options import AT_FAULT, DONE, SHORT, AsJson, Explain, InUnits, Job, system_of


def bid(
    job: Job,
    as_json: AsJson = False,
    units: InUnits = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder to write to; results in the job folder if not said.")
    ] = None,
    explain: Explain = "",
    papers: Annotated[
        bool,
        typer.Option("--papers/--no-papers", help="Write workbook and papers too, or the record."),
    ] = True,
    on: Annotated[
        str, typer.Option("--on", help="Day of the look; today if not said.", metavar="DATE")
    ] = "",
) -> None:
    """Quantities and estimate, who pays, the schedule for bidders, bids side by side, a workbook.

    Exit 1 where the design does not fit, or work is planned before a source of money allows it.
    """
    from tilewater.chain.record_paths import key_of_path
    from tilewater.cli.page import margin, paper
    from tilewater.cli.verbs import show_explained, show_findings, show_lines
    from tilewater.cli.written_page import written_lines
    from tilewater.documents.pages.bid_page import bid_page
    from tilewater.tasks.bid_papers import write_bid
    from tilewater.tasks.bidding import bid_job
    from tilewater.tasks.reader import words_for
    from tilewater.tasks.results import hold_folder

    try:
        day = date.fromisoformat(on) if on else date.today()
    except ValueError:
        print(f"'{on}' is not a date. Write year-month-day, like 2027-02-18.", file=sys.stderr)
        raise typer.Exit(AT_FAULT) from None
    reader = system_of(units)
    hold_folder(out)
    bidding = bid_job(job, day)
    if explain:
        key = key_of_path("bid", bidding.bid.trace, explain, bidding.record)
        show_explained(bidding.job, bidding.bid.trace, key, as_json=as_json, units=reader)
        return
    words = words_for(bidding.job, reader)
    if as_json:
        print(json.dumps(bidding.record, indent=1, ensure_ascii=False))
    else:
        console = paper()
        for part in bid_page(bidding.bid, words):
            console.print(part)
    beside = margin()
    show_findings(bidding.notes, words.system)
    with beside.status("Writing") as status:
        written = write_bid(
            bidding,
            words,
            out,
            with_papers=papers,
            tell=lambda name: status.update(f"Writing {name}"),
        )
    show_lines(written_lines(written))
    raise typer.Exit(SHORT if bidding.fails else DONE)
