# SPDX-License-Identifier: Apache-2.0
"""Report what a practice removed: loggers and samples of a job, led through its design's ratings.

The arithmetic is in `chain.monitor_steps` and below. Here files are read, levels and flows are told
apart, the period is set, and everything is put onto the trace of the design.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from importlib.metadata import version
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.units import System
from tilewater.chain.design import Design, design_practice
from tilewater.chain.monitor import analyse, is_measured
from tilewater.chain.monitor_intervals import add_intervals
from tilewater.chain.monitor_job import (
    RATED,
    add_against_design,
    add_errors,
    add_flow,
    add_level,
    add_rated_flow,
    add_trend,
    add_volumes,
    add_year,
)
from tilewater.chain.monitor_steps import HERE, add_measured, give
from tilewater.chain.monitor_told import add_told
from tilewater.chain.monitor_update import add_update
from tilewater.chain.plain import Record
from tilewater.documents.words import Words
from tilewater.job.schema import JOB_FILE
from tilewater.job.times import Zone
from tilewater.monitoring.series import Series
from tilewater.tasks.built_levels import as_it_stands
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.data_package import PACKAGE, data_package
from tilewater.tasks.inspection import Inspection, Part
from tilewater.tasks.measured import Measured, Measurements
from tilewater.tasks.measuring_inputs import measurements
from tilewater.tasks.monitor_record import monitor_record
from tilewater.tasks.reader import words_for
from tilewater.tasks.records import record_text
from tilewater.tasks.results import FOLDER, Written, hold_folder, write_each

__all__ = ["Monitored", "analyse", "monitor_job", "write_monitored"]

RECORD, LOADS, PAPER = "monitor.json", "loads.csv", "monitor.pdf"
FLOWS = {"inlet": "total", "outlet": "treated", "bypass": "bypass"}
"""Which way of the water a flow logger stands in, by its place."""
LEVELS = {"treated": ("outlet",), "bypass": ("bypass", "inlet")}
"""Places whose level tells a way of the water over its boards, the nearest first."""
OF_BUFFER = {"total": ("inlet",), "bypass": ("bypass",)}
"""The same where water comes over head boards and nothing leaves over boards but the bypass."""
HEAD = "structure.head.set-design"
SETS = {"inlet": ("inlet", "bypass"), "outlet": ("outlet",), "head": ()}
SETS_OF_BUFFER = {"inlet": ("bypass",), "outlet": (), "head": ("head", "inlet")}
"""Sets of the log of boards that stand in each structure."""


@dataclass(frozen=True)
class Monitored:
    """What a practice removed, on the trace of its design; nothing is written.

    Attributes
    ----------
    job : Checked
    design : Design
    measurements : Measurements
    zone : Zone
        In which days are cut.
    record : dict
        As other programs read it.
    tracer : Part or None
        The tracer tests of the job, where it has some.
    notes : tuple of Finding
    """

    job: Checked
    design: Design
    measurements: Measurements
    zone: Zone
    record: Record
    tracer: Part | None
    notes: tuple[Finding, ...]

    @property
    def trace(self) -> Trace:
        """Every number with its step."""
        return self.design.trace

    def words(self, system: System | None) -> Words:
        """How values become text: units of the reader, else those of the job."""
        return words_for(self.job, system)


def has_loggers(job: Checked) -> bool:
    """Whether a job names loggers, so that there is something to report on."""
    return bool(job.trace.names("inputs.logger"))


def monitor_job(folder: Path | str, *, update: bool = False) -> Monitored:
    """Report what the practice of a job folder removed.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.
    update : bool
        Whether the range of the removal rate is shown as the measurement narrows it.

    Returns
    -------
    Monitored

    Raises
    ------
    BadInputFile
        With every fault of its files, or where the job has no loggers or samples.
    """
    return monitor_checked(check_job(folder), update=update)


def monitor_checked(job: Checked, *, update: bool = False, by_days: bool = True) -> Monitored:
    """The same, of a job that was read; its structures are taken as they stand."""
    job = as_it_stands(job)
    read = measurements(job)
    _require_measured(job, read)
    look = Inspection(job, date.today())
    design = design_practice(job.inputs, look.practice, by_days=by_days)
    trace = design.trace
    told = len(trace.findings)
    zone = read.zone or next(iter(read.loggers.values())).zone
    _add_logged(trace, job, read)
    _add_period(trace, job, read, zone)
    for place in ("inlet", "outlet", "bypass"):
        if place in read.samples:
            give(trace, f"samples.{place}", read.samples[place], "mg/L", f"Samples, {place}")
    add_errors(trace)
    add_volumes(trace)
    add_measured(trace)
    add_told(trace)
    if not is_measured(trace):
        raise BadInputFile(Fault(JOB_FILE, None, "logger", _why_not(trace, told)))
    add_intervals(trace)
    temperature = _one(read, "temperature", ("outlet", "inlet", "bypass"))
    add_trend(trace, temperature)
    add_year(trace, _one(read, "rain", ("field", "inlet", "outlet")))
    add_against_design(trace)
    if update:
        add_update(trace, temperature)
    tracer = _tracer(job, design)
    notes = tuple(dict.fromkeys((*(job.stands or ()), *read.notes, *trace.findings[told:])))
    record = monitor_record(trace, version("tilewater"), job.inputs.name)
    return Monitored(job, design, read, zone, record, tracer, notes)


def _require_measured(job: Checked, read: Measurements) -> None:
    """Refuse a job without a flow or without samples, saying what to write."""
    faults = []
    if not (read.of("flow") or read.of("stage") or read.of("level")):
        message = (
            "the job has no logger of a flow or a level. A load needs the flow through the "
            'practice. Add [logger.NAME] with file, measures = "stage" and place = "outlet".'
        )
        faults.append(Fault(JOB_FILE, None, "logger", message))
    missing = [place for place in ("inlet", "outlet") if place not in read.samples]
    if missing:
        message = (
            f"the job has no samples of the {' and the '.join(missing)}. What was removed needs "
            "nitrate on both sides. Add [lab] with its file, and its names of the places."
        )
        faults.append(Fault(JOB_FILE, None, "lab", message))
    if faults:
        raise BadInputFile(*faults)


def _why_not(trace: Trace, told: int) -> str:
    reasons = [f.message for f in trace.findings[told:] if f.code == "cannot-compute"]
    return reasons[0] if reasons else "loads cannot be worked out. Check loggers and samples."


def _add_logged(trace: Trace, job: Checked, read: Measurements) -> None:
    """Levels and flows onto the trace, levels led over the boards that stood."""
    for place in ("inlet", "outlet", "bypass", "ditch"):
        level = next((m for m in _levels(read, place)), None)
        if level is not None:
            add_level(trace, place, level.series)
    for each in read.of("flow"):
        if each.place in FLOWS:
            add_flow(trace, FLOWS[each.place], each.series)
    has_head = HEAD in trace
    crests = _crests(job, trace, SETS_OF_BUFFER if has_head else SETS)
    for way, places in (OF_BUFFER if has_head else LEVELS).items():
        if f"{HERE}.logged.{way}" in trace:
            continue
        at = next((p for p in places if f"{HERE}.level.{p}" in trace), None)
        if at is not None and RATED[way] in crests:
            add_rated_flow(trace, way, at, crests[RATED[way]])


def _levels(read: Measurements, place: str) -> list[Measured]:
    """Loggers of a level at a place; one that is no elevation cannot be led over boards."""
    found = [*read.of("level", place), *read.of("stage", place)]
    for each in found:
        if not each.is_elevation:
            message = (
                f"logger.{each.name}: its readings are water over the sensor, whose elevation is "
                "not known. Boards are elevations. Write zero, or a zero check as an elevation."
            )
            raise BadInputFile(Fault(JOB_FILE, None, f"logger.{each.name}.zero", message))
    return found


def _crests(
    job: Checked, trace: Trace, names: Mapping[str, tuple[str, ...]]
) -> dict[str, tuple[tuple[float, float], ...]]:
    """Crests of each structure by time: those of the log of boards, else of the seasons."""
    from tilewater.tasks.board_log import board_changes

    changes = board_changes(job)
    crests = {}
    for structure, sets in names.items():
        own = [(c.time_s, c.crest_m) for c in changes if c.set in sets]
        if own:
            crests[structure] = tuple(own)
            _say_before_log(trace, structure, own[0][0])
        elif f"boards.{structure}-design.crest_m" in trace:
            crests[structure] = _season_crests(trace, structure)
    return crests


def _say_before_log(trace: Trace, structure: str, first_s: float) -> None:
    """Say that readings before the first stack of the log are a gap, where there are some."""
    places = ("inlet", "bypass", "outlet")
    levels = [trace.value(key) for p in places if (key := f"{HERE}.level.{p}") in trace]
    if not any(level.time_s.size and level.time_s[0] < first_s for level in levels):
        return
    message = (
        f"Levels were logged before the first stack of the {structure} boards in the log. What "
        "stood then is not known, so the flow over them is a gap until that stack. Write the "
        "earlier stack into the log."
    )
    trace.findings.append(Finding("monitor-before-log", "caution", f"{structure} boards", message))


def _season_crests(trace: Trace, structure: str) -> tuple[tuple[float, float], ...]:
    """Crests of the seasons of the design, over all years that loggers can have seen."""
    seasons = []
    for name in trace.names("inputs.season"):
        crest, begins = f"boards.{structure}-{name}.crest_m", f"inputs.season.{name}.from"
        if trace.known(crest, begins):
            month, day = (int(part) for part in str(trace.value(begins)).split("-"))
            seasons.append((month, day, float(trace.value(crest))))
    if not seasons:
        return ((-np.inf, float(trace.value(f"boards.{structure}-design.crest_m"))),)
    seasons.sort()
    rows = [
        ((date(year, month, day) - date(1970, 1, 1)).days * 86400.0, crest)
        for year in range(2000, 2101)
        for month, day, crest in seasons
    ]
    return ((-np.inf, seasons[-1][2]), *rows)


def _add_period(trace: Trace, job: Checked, read: Measurements, zone: Zone) -> None:
    """The period of [monitor], else that of the loggers."""
    times = [m.series.time_s for m in read.loggers.values() if m.measures in WATER]
    ends = {
        "start_s": min(float(t[0]) for t in times if t.size),
        "end_s": max(float(t[-1]) for t in times if t.size),
    }
    for key, field, later in (("start_s", "from", 0), ("end_s", "to", 1)):
        stated = job.value(f"inputs.monitor.{field}")
        if isinstance(stated, str):
            day = datetime.fromisoformat(stated) + timedelta(days=later)
            ends[key] = zone.utc_of(day)
    give(trace, "start_s", ends["start_s"], "s", "Begin of the period")
    give(trace, "end_s", ends["end_s"], "s", "End of the period")
    for key, at, title in (
        ("first_day", ends["start_s"], "First day of the period"),
        ("last_day", ends["end_s"] - 1.0, "Last day of the period"),
    ):
        give(trace, key, zone.local_of(at).date().isoformat(), "", title)
    midnights = _midnights(zone, ends["start_s"], ends["end_s"])
    give(trace, "midnights_s", midnights, "s", "Begin of each day by the clocks on site")


def _midnights(zone: Zone, start_s: float, end_s: float) -> NDArray[np.float64]:
    """Begin of each day of a period by the clocks of a zone; a day may have 23 or 25 hours."""
    first = datetime.combine(zone.local_of(start_s).date(), time())
    days = (zone.local_of(end_s - 1.0).date() - first.date()).days + 1
    return np.array([zone.utc_of(first + timedelta(days=each)) for each in range(days)])


WATER = ("stage", "level", "flow")


def _one(read: Measurements, measures: str, places: tuple[str, ...]) -> Series | None:
    """The series of a quantity, of the first place that has it."""
    for place in places:
        for each in read.of(measures, place):
            return each.series
    return None


def _tracer(job: Checked, design: Design) -> Part | None:
    """The tracer tests of the job, worked out on the same design."""
    from tilewater.tasks.tracing import tracer_names, tracing_part

    if not tracer_names(job):
        return None
    look = Inspection(job, date.today())
    look.__dict__["design"] = design
    return tracing_part(look)


def loads_csv(monitored: Monitored) -> str:
    """The table by interval as a file, SI with the unit in each name."""
    heads = (
        "from",
        "to",
        "treated_m3",
        "bypass_m3",
        "bed_in_kg",
        "bypass_kg",
        "removed_kg",
        "bed_percent",
    )
    lines = [",".join(heads)]
    for row in monitored.record["intervals"]:
        cells = (row["from"], row["to"], *(_cell(row[head]) for head in heads[2:]))
        lines.append(",".join(cells))
    return "\r\n".join(lines) + "\r\n"


def _cell(value: float | None) -> str:
    return "" if value is None else f"{value:.6g}"


def write_monitored(
    monitored: Monitored, system: System | None = None, out: Path | str | None = None
) -> Written:
    """Write the record, the table by interval, the report, and the papers of tracer tests.

    Parameters
    ----------
    monitored : Monitored
    system : "us", "si" or None
        Units of the report; those of the job where none is given.
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
    folder = monitored.job.folder / FOLDER if out is None else Path(out)
    return write_each(folder, monitored_files(monitored, system))


def monitored_files(
    monitored: Monitored, system: System | None = None
) -> Mapping[str, Callable[[], str | bytes]]:
    """The files of a report by their names, each made when it is its turn."""

    def paper() -> bytes:
        from tilewater.documents.measured import measured_pdf

        return measured_pdf(
            monitored.job.title, monitored.trace, monitored.words(system), monitored.notes
        )

    def package() -> bytes:
        parts = {"monitor": monitored.record}
        return data_package(monitored.job, parts, monitored.measurements)

    files: dict[str, Callable[[], str | bytes]] = {
        RECORD: lambda: record_text(monitored.record),
        LOADS: lambda: loads_csv(monitored),
        PAPER: paper,
        PACKAGE: package,
    }
    return files if monitored.tracer is None else files | dict(monitored.tracer.files)
