# SPDX-License-Identifier: Apache-2.0
"""Run the boards of a job folder: when which stack, and what stands beside it by the log."""

from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path

import numpy as np

from tilewater.basis.findings import Finding
from tilewater.basis.memory import Memory
from tilewater.chain.choosing import design_asked
from tilewater.chain.design import Design, design_practice
from tilewater.chain.operate import Operation, add_operation, no_word
from tilewater.chain.operate_choices import INCH
from tilewater.chain.operate_compare import Compared, add_compared
from tilewater.chain.operate_plan import Period, add_periods
from tilewater.chain.operate_record import operation_record
from tilewater.chain.operate_settings import Tell
from tilewater.chain.operate_told import operation_findings
from tilewater.chain.plain import Record
from tilewater.chain.practices import CHOOSE, first_practice, kind_of
from tilewater.job.board_log import BoardChange
from tilewater.tasks.board_log import board_changes, zone_of_job
from tilewater.tasks.built_levels import as_it_stands
from tilewater.tasks.checking import Checked, check_job

FROST = ("inputs.frost.frozen_from", "inputs.frost.frozen_to")


@dataclass(frozen=True)
class Operated:
    """How the boards of a job are run; nothing is written.

    Attributes
    ----------
    job : Checked
    design : Design
        With the steps of the search in its trace.
    operation : Operation
    periods : tuple of Period
        What the lid card shows.
    changes : tuple of BoardChange
        The log of the boards; empty where the job has none.
    compared : Compared or None
        What stands on the day beside what the card asks for.
    findings : tuple of Finding
        What the engineer must know of the boards.
    record : dict
    """

    job: Checked
    design: Design
    operation: Operation
    periods: tuple[Period, ...]
    changes: tuple[BoardChange, ...]
    compared: Compared | None
    findings: tuple[Finding, ...]
    record: Record

    @property
    def notes(self) -> tuple[Finding, ...]:
        """What the engineer must know: of the files read, then of the boards."""
        return tuple(dict.fromkeys((*self.job.notes, *self.findings)))

    @property
    def is_short(self) -> bool:
        """Whether the card leaves a spot too wet, or nothing was found that keeps the limits."""
        codes = {finding.code for finding in self.findings}
        return bool(codes & {"boards-wet", "cannot-compute"})


def operate_job(folder: Path | str, *, on: date, tell: Tell = no_word) -> Operated:
    """Search how the boards of a job folder are run. Nothing is written.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.
    on : date
        Day on which what stands is compared with the card.
    tell : callable
        Told what is done now and the share that is done; raises `Stopped` to end it.

    Returns
    -------
    Operated

    Raises
    ------
    BadInputFile
        With every fault of its files, the log of the boards too.
    Stopped
        If whoever is told lets go.
    """
    return operate_checked(check_job(folder), on=on, tell=tell)


def operate_checked(job: Checked, *, on: date, tell: Tell = no_word) -> Operated:
    """The same of a job that was read; its structures are taken as they stand."""
    job = as_it_stands(job)
    changes = board_changes(job)
    design = _design(job, tell)
    return operate_design(job, design, changes, on=on, tell=tell)


def operate_design(
    job: Checked,
    design: Design,
    changes: tuple[BoardChange, ...],
    *,
    on: date,
    tell: Tell = no_word,
) -> Operated:
    """The same of a design that is finished; its trace takes the steps of the search."""
    trace = design.trace
    trace.forget()
    for given in job.inputs.givens:  # the frost holds boards of every practice
        if given.key in FROST and given.key not in trace:
            trace.give(given)
    told = len(trace.findings)
    operation = add_operation(trace, design.practice.name, tell)
    periods = add_periods(trace, operation)
    standing = standing_on(job, changes, on)
    compared = add_compared(trace, operation, standing, f"{on:%m-%d}") if standing else None
    findings = tuple(
        dict.fromkeys(
            (*(job.stands or ()), *operation_findings(trace, operation), *trace.findings[told:])
        )
    )
    record = operation_record(
        trace,
        operation,
        periods,
        findings,
        compared,
        job=job.inputs.name,
        version=version("tilewater"),
    )
    record["log"] = [change_record(job, change) for change in changes]
    return Operated(job, design, operation, periods, changes, compared, findings, record)


def _design(job: Checked, tell: Tell) -> Design:
    """The design of a job; whoever is told may let go before any step of it."""

    def goes_on() -> bool:
        tell("designing, every day and every draw", 0.0)
        return True

    goes_on()
    if kind_of(job.inputs) == CHOOSE:
        return design_asked(job.inputs).design
    practice = first_practice(job.inputs)
    return design_practice(job.inputs, practice, memory=Memory(None, goes_on))


def standing_on(job: Checked, changes: tuple[BoardChange, ...], on: date) -> dict[str, float]:
    """Heights of the stacks that stand at the end of a day by the log, by set. [m]"""
    zone = zone_of_job(job)
    end = np.datetime64(on + (date(2000, 1, 2) - date(2000, 1, 1)), "s").astype(np.int64)
    last = float(end) if zone is None else zone.utc_of_seconds(float(end))
    return {change.set: change.height_m for change in changes if change.time_s < last}


def change_record(job: Checked, change: BoardChange) -> Record:
    """A change of the log as other programs read it, by the clocks of the site."""
    zone = zone_of_job(job)
    local = (
        np.datetime64(int(change.time_s), "s").item()
        if zone is None
        else zone.local_of(change.time_s)
    )
    return {
        "time": f"{local:%Y-%m-%d %H:%M}",
        "time_s": change.time_s,
        "set": change.set,
        "height_in": change.height_m / INCH,
        "stack_in": [board / INCH for board in change.stack_m],
        "crest_m": change.crest_m,
        "who": change.who,
        "note": change.note,
        "line": change.line,
    }
