# SPDX-License-Identifier: Apache-2.0
"""Papers of a practice that runs: lid card, operation plan, record form, table of the boards."""

import csv
import io
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

from tilewater.basis.units import System, from_si
from tilewater.chain.operate_choices import INCH
from tilewater.documents.running.material import RunningMaterial
from tilewater.tasks.operating import Operated
from tilewater.tasks.reader import words_for
from tilewater.tasks.records import record_text
from tilewater.tasks.results import FOLDER, Written, hold_folder, write_each

RECORD, TABLE = "operate.json", "boards.csv"
CARD, PLAN, FORM = "lid-card.pdf", "operation-plan.pdf", "board-record.pdf"


def running_material(operated: Operated, units: System | None = None) -> RunningMaterial:
    """What the card, the plan and the form are made from.

    Parameters
    ----------
    operated : Operated
        How the boards are run.
    units : "us", "si" or None
        Units of the reader; None for those of the job.
    """
    words = words_for(operated.job, units)
    trace = operated.design.trace

    def text(key: str) -> str:
        return str(trace.value(key)) if trace.known(key) else ""

    district = text("inputs.people.drainage_district")
    by = text("inputs.job.prepared_by")
    return RunningMaterial(
        title=operated.job.title,
        practice=operated.operation.practice,
        trace=trace,
        operation=operated.operation,
        periods=operated.periods,
        findings=tuple(finding.in_units(words.system) for finding in operated.findings),
        words=words,
        call=text("inputs.operate.call") or by or "the office that gave you this card",
        district="" if district.casefold() == "none" else district,
        version=version("tilewater"),
    )


def table_text(operated: Operated) -> str:
    """The boards of the card as a table: one row for each set in each period."""
    out = io.StringIO()
    foot = "ftUS" if operated.job.value("inputs.site.foot") == "us survey foot" else "ft"
    writer = csv.writer(out, lineterminator="\n")
    heads = ("from", "until", "set", "stack from the sill up [in]", "height [in]", "rim down [in]")
    writer.writerow((*heads, "crest [ft]", "why", "rests on"))
    for period in operated.periods:
        for stack in period.stacks:
            boards = [f"{board / INCH:.4g}" for board in stack.boards]
            writer.writerow(
                (
                    "" if period.turn is None else period.turn.day,
                    period.until,
                    stack.board_set,
                    "+".join(boards) or "0",
                    f"{sum(stack.boards) / INCH:.4g}",
                    f"{stack.rim_down / INCH:.1f}",
                    f"{from_si(stack.crest, foot):.2f}",
                    period.why,
                    " ".join(() if period.turn is None else period.turn.rests_on),
                )
            )
    return out.getvalue()


def papers_of_operation(
    operated: Operated, units: System | None = None
) -> dict[str, Callable[[], bytes | str]]:
    """Lid card, operation plan, record form and table, each made when it is asked for."""

    def card() -> bytes:
        from tilewater.documents.running.card import press_card

        return press_card(running_material(operated, units))

    def plan() -> bytes:
        from tilewater.documents.running.plan import press_plan

        return press_plan(running_material(operated, units))

    def form() -> bytes:
        from tilewater.documents.running.form import press_form

        return press_form(running_material(operated, units))

    if not operated.periods:
        return {}
    return {CARD: card, PLAN: plan, FORM: form, TABLE: lambda: table_text(operated)}


def write_operated(
    operated: Operated, units: System | None = None, out: Path | str | None = None
) -> Written:
    """Write the record, the papers and the table.

    Parameters
    ----------
    operated : Operated
    units : "us", "si" or None
        Units of the reader; None for those of the job.
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.

    Returns
    -------
    Written
        Each file is whole or absent.

    Raises
    ------
    BadInputFile
        If a folder that was named cannot be made.
    """
    hold_folder(out)
    folder = operated.job.folder / FOLDER if out is None else Path(out)
    files: dict[str, Callable[[], str | bytes]] = {RECORD: lambda: record_text(operated.record)}
    return write_each(folder, files | papers_of_operation(operated, units))
