# SPDX-License-Identifier: Apache-2.0
"""Look at what is left of a bed on a day: two clocks, signs, options, and the memo of them."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.units import System
from tilewater.basis.unknown import Unknown
from tilewater.chain.bed import BED
from tilewater.chain.choosing import design_asked
from tilewater.chain.design import Design, design_practice
from tilewater.chain.plain import Record, plain
from tilewater.chain.practices import CHOOSE, first_practice, kind_of
from tilewater.chain.renew import LIFE, MARKS, SHARES, add_renewal
from tilewater.chain.renew_carbon import AGE
from tilewater.chain.renew_options import OPTIONS, SIGNS, TITLES, add_options, add_signs
from tilewater.documents.pages.renew_page import is_short
from tilewater.documents.words import Words
from tilewater.job.schema import JOB_FILE
from tilewater.tasks.built_levels import as_it_stands
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.handing_over import ARCHIVE, hand_over
from tilewater.tasks.monitoring import has_loggers, monitor_checked
from tilewater.tasks.reader import words_for
from tilewater.tasks.records import record_text
from tilewater.tasks.results import FOLDER, Written, hold_folder, write_each
from tilewater.tasks.tracing import trace_tests

RECORD, MEMO = "renew.json", "renew.pdf"


@dataclass(frozen=True)
class Renewed:
    """What is left of a bed on a day; nothing is written.

    Attributes
    ----------
    job : Checked
    design : Design
    day : date
    notes : tuple of Finding
    """

    job: Checked
    design: Design
    day: date
    notes: tuple[Finding, ...]

    @property
    def trace(self) -> Trace:
        """The trace of the design with the steps of the renewal."""
        return self.design.trace

    @property
    def short(self) -> bool:
        """Whether the bed most likely no longer takes its share."""
        return is_short(self.trace)

    @property
    def record(self) -> Record:
        """What other programs read, in SI."""
        return renew_record(self)

    def words(self, system: System | None = None) -> Words:
        """How values become text for a reader."""
        return words_for(self.job, system)


def renew_job(folder: Path | str, day: date) -> Renewed:
    """Look at what is left of the bed of a job folder.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.
    day : date
        The day that is asked for.

    Returns
    -------
    Renewed

    Raises
    ------
    BadInputFile
        With every fault of its files, if the job has no bed of chips, or if they were placed after
        that day.
    """
    return renew_checked(check_job(folder), day)


def renew_checked(job: Checked, day: date) -> Renewed:
    """Look at what is left of the bed of a job that was read; see `renew_job`."""
    _hold_after_filling(job, day)
    _require_bed(job)
    job = as_it_stands(job)
    design, logged = _design_of(job)
    trace = design.trace
    if "life.task" not in trace:
        raise _no_bed()
    told = len(trace.findings)
    if not any(key.startswith("tracer.") for key in trace.steps):
        trace_tests(job, trace)
    add_renewal(trace, day.isoformat())
    add_signs(trace)
    add_options(trace)
    found = (finding for finding in trace.findings[told:] if not _is_of_options(finding, trace))
    return Renewed(job, design, day, tuple(dict.fromkeys((*(job.stands or ()), *logged, *found))))


def _require_bed(job: Checked) -> None:
    """Refuse a job that asks for a practice without chips, before anything is worked out."""
    if kind_of(job.inputs) != CHOOSE and first_practice(job.inputs).name != BED.name:
        raise _no_bed()


def _no_bed() -> BadInputFile:
    message = (
        "renew looks at the chips of a bed, and this job has none: a buffer or a raised outlet "
        "has nothing to renew. See its upkeep with tilewater operate."
    )
    return BadInputFile(Fault(JOB_FILE, None, "practice.kind", message))


def _hold_after_filling(job: Checked, day: date) -> None:
    """Refuse a day on which the chips were not there.

    Raises
    ------
    BadInputFile
        If they were placed after the day.
    """
    filled = job.value("inputs.renew.filled")
    if isinstance(filled, str) and day.isoformat() < filled:
        message = (
            f"The day of the look is {day}, and the chips were placed on {filled}. What is left of "
            "them is looked at from that day on. Ask for a later day."
        )
        raise BadInputFile(Fault("look", None, "on", message))


def _design_of(job: Checked) -> tuple[Design, tuple[Finding, ...]]:
    """The design of a job, with what its loggers show on its trace where they can be used."""
    if has_loggers(job):
        try:
            return monitor_checked(job).design, ()
        except BadInputFile as error:
            why = "; ".join(fault.message for fault in error.faults)
            message = f"What was logged is left out: {why} See tilewater monitor."
            note = Finding("renew-without-loggers", "caution", "Loggers", message)
            return _designed(job), (note,)
    return _designed(job), ()


def _designed(job: Checked) -> Design:
    if kind_of(job.inputs) == CHOOSE:
        return design_asked(job.inputs).design
    return design_practice(job.inputs, first_practice(job.inputs))


def _is_of_options(finding: Finding, trace: Trace) -> bool:
    """Whether a finding only says that an option that was not asked for cannot be priced."""
    return finding.code == "cannot-compute" and finding.subject.startswith("Cost of a kilogram")


def renew_record(renewed: Renewed) -> Record:
    """The renewal as other programs read it."""
    trace = renewed.trace
    places = [f"year-{mark:.0f}" for mark in MARKS]
    if trace.known(AGE):
        places.append("now")
    return {
        "tilewater": version("tilewater"),
        "job": renewed.job.inputs.name,
        "day": renewed.day.isoformat(),
        "age_years": plain(trace, AGE),
        "needed_conductivity_m_s": plain(trace, "renew.needed_conductivity_m_s"),
        "short": renewed.short,
        "life_years": {name: plain(trace, f"{LIFE}.{name}_years") for name in SHARES},
        "life_by_curve_years": {
            name: plain(trace, f"{LIFE}.by_curve.{name}_years") for name in SHARES
        },
        "left_years": {name: plain(trace, f"{LIFE}.left_{name}_years") for name in SHARES},
        "share_past": plain(trace, f"{LIFE}.share_past"),
        "observed": _observed(trace),
        "capacity": {
            place: {
                way: {
                    name: plain(trace, f"renew.capacity.{place}.{way}.{name}")
                    for name in ("age_years", "conductivity_m_s", "flow_m3_s", "share_of_peak")
                }
                for way in ("with_readings", "by_curve")
            }
            for place in places
        },
        "carbon": {
            name: plain(trace, f"renew.carbon.{name}")
            for name in (
                "stock_kg",
                "removed_kg",
                "water_m3",
                "for_nitrogen_kg",
                "for_oxygen_kg",
                "leached_kg",
                "clock_years",
                "wet_left",
                "dry_left",
            )
        },
        "signs": _signs(trace),
        "options": {option: _option(trace, option) for option in OPTIONS},
        "contract_left_years": plain(trace, "renew.contract_left_years"),
        "findings": [finding.record for finding in renewed.notes],
    }


def _observed(trace: Trace) -> Record:
    return {
        name: {
            key: plain(trace, f"renew.observed.{name}.{key}")
            for key in ("age_years", "conductivity_m_s", "by_curve_m_s")
        }
        for name in trace.names("renew.observed")
    }


def _signs(trace: Trace) -> Record:
    found: Record = {}
    for name, (title, limit, side, _) in SIGNS.items():
        stands = trace.value(f"renew.signs.{name}.stands")
        found[name] = {
            "title": title,
            "value": plain(trace, f"renew.signs.{name}.value"),
            "limit": plain(trace, f"inputs.signs.{limit}"),
            "side": side,
            "stands": None if isinstance(stands, Unknown) else stands,
        }
    return found


def _option(trace: Trace, option: str) -> Record:
    here = f"renew.options.{option}"
    found: Record = {"title": TITLES[option], "cost_usd": plain(trace, f"{here}.cost_usd")}
    for group in ("added_years", "removed_per_year_kg", "added_kg", "usd_per_kg"):
        members = {
            name: plain(trace, f"{here}.{group}.{name}")
            for name in (*SHARES, "over_leaving")
            if f"{here}.{group}.{name}" in trace
        }
        if members:
            found[group] = members
    for name in ("added_if_now_years", "share_of_peak"):
        if f"{here}.{name}" in trace:
            found[name] = plain(trace, f"{here}.{name}")
    return found


def memo_pdf(renewed: Renewed, system: System | None = None) -> bytes:
    """The memo of a renewal as PDF."""
    from tilewater.documents.renewing.memo import renewal_memo

    return renewal_memo(renewed.job.title, renewed.trace, renewed.words(system), renewed.notes)


def write_renewed(
    renewed: Renewed,
    out: Path | str | None = None,
    *,
    system: System | None = None,
    archive: bool = False,
) -> Written:
    """Write the record and the memo of a renewal; the archive of a hand-over where it is asked.

    Parameters
    ----------
    renewed : Renewed
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.
    system : "us", "si" or None
        Units of the memo; None for those of the job.
    archive : bool
        Whether the job is handed over: an archive of all of it, with a letter.

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
    folder = renewed.job.folder / FOLDER if out is None else Path(out)
    files: dict[str, Callable[[], str | bytes]] = {
        RECORD: lambda: record_text(renewed.record),
        MEMO: lambda: memo_pdf(renewed, system),
    }
    if archive:
        # Last, so that what was written before lies in it where the folder is that of the job.
        files[ARCHIVE] = lambda: hand_over(renewed.job.folder, day=renewed.day)
    return write_each(folder, files)
