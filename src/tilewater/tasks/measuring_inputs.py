# SPDX-License-Identifier: Apache-2.0
"""What was measured at a practice that runs: the series of its loggers, the samples of its places.

Every file is read even where another is at fault, so that one reading tells all. Nothing is filled
and nothing taken out; what was done to a reading is a correction, a mark and a note.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Given
from tilewater.basis.units import did_you_mean
from tilewater.documents.scales import foot_of
from tilewater.job.fields import Wrong
from tilewater.job.lab_file import LabAsk, read_lab
from tilewater.job.lab_rows import LabResults
from tilewater.job.logger_file import LoggerAsk, Readings, read_logger
from tilewater.job.logger_text import LoggerTable, read_table
from tilewater.job.reading import Job
from tilewater.job.schema import JOB_FILE
from tilewater.job.times import zone_of
from tilewater.monitoring.series import SUSPECT, Series
from tilewater.tasks.checking import Checked
from tilewater.tasks.measured import Measured, Measurements
from tilewater.tasks.measured_checks import Correction, HandCheck
from tilewater.tasks.measured_lab import samples_of
from tilewater.tasks.measured_other import (
    gap_notes,
    gaps_of_series,
    outside_sense,
    rain_of,
    shift_notes,
)
from tilewater.tasks.measured_stage import StageAsk, stage_of
from tilewater.tasks.outside_files import far_file
from tilewater.tasks.outside_inputs import OutsideFiles, TypedInputs

_LOGGER, _CHECK, _LAB, _MONITOR = (
    "inputs.logger.",
    "inputs.zero_check.",
    "inputs.lab.",
    "inputs.monitor.",
)


@dataclass
class _Found:
    """What is read so far, and what is at fault."""

    inputs: TypedInputs
    folder: Path
    tables: dict[str, LoggerTable] = field(default_factory=dict)
    loggers: dict[str, Measured] = field(default_factory=dict)
    notes: list[Finding] = field(default_factory=list)
    read: list[str] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)

    def given(self, key: str) -> Given | None:
        return self.inputs.given(key)

    def text(self, key: str) -> str | None:
        value = self.inputs.value(key)
        return None if value is None else str(value)

    def number(self, key: str) -> float | None:
        value = self.inputs.value(key)
        return None if value is None else float(value)

    def fault(self, key: str, message: str) -> None:
        """Keep a fault of the job file at an input."""
        given = self.given(key)
        line = None if given is None else given.origin.line
        self.faults.append(Fault(JOB_FILE, line, key.removeprefix("inputs."), message))


def measurements(job: Checked) -> Measurements:
    """Read everything that was measured at the practice of a job.

    Parameters
    ----------
    job : Checked
        A job folder without a fault.

    Returns
    -------
    Measurements
        Series and samples; empty where the job names no file.

    Raises
    ------
    BadInputFile
        With every fault of every file.
    """
    given = TypedInputs({each.key: each for each in job.inputs.givens})
    return read_measurements(given, job.folder)


def measured_files(job: Job) -> OutsideFiles:
    """What the files of loggers and laboratory say, for a job that is checked."""
    found = OutsideFiles()
    try:
        read = read_measurements(TypedInputs({each.key: each for each in job.givens}), job.folder)
    except BadInputFile as error:
        found.faults.extend(error.faults)
        return found
    found.findings.extend(read.notes)
    found.read.extend(read.read)
    return found


def faults_of_table(job: Job, table: str) -> tuple[Fault, ...]:
    """Faults of the file that one table of a job names, such as `logger.inlet`, and of no other."""
    kept = (f"inputs.{table}.", _MONITOR, "inputs.site.foot")
    given = {each.key: each for each in job.givens if each.key.startswith(kept)}
    try:
        read_measurements(TypedInputs(given), job.folder)
    except BadInputFile as error:
        return tuple(fault for fault in error.faults if fault.file != JOB_FILE)
    return ()


def read_measurements(inputs: TypedInputs, folder: Path) -> Measurements:
    """Read what the inputs of a job name; see `measurements`."""
    found = _Found(inputs, folder)
    names = _names(inputs, _LOGGER)
    readings = {name: _readings(found, name) for name in names}
    airs = {n: r for n, r in readings.items() if found.text(f"{_LOGGER}{n}.measures") == AIR}
    checks = _checks(found, readings)
    for name, read in readings.items():
        if read is not None:
            _measured(found, name, read, airs, checks.get(name, ()))
    lab = _lab(found)
    if found.faults:
        raise BadInputFile(*dict.fromkeys(found.faults))
    samples = {} if lab is None else dict(samples_of(lab))
    found.notes += shift_notes({n: m.series for n, m in found.loggers.items() if _is_water(m)})
    zone = found.text(f"{_MONITOR}time_zone")
    return Measurements(
        found.loggers,
        samples,
        lab,
        None if zone is None else zone_of(zone),
        tuple(found.notes),
        tuple(found.read),
    )


AIR = "air pressure"


def _is_water(measured: Measured) -> bool:
    return measured.measures in ("stage", "level")


def _names(inputs: TypedInputs, start: str) -> tuple[str, ...]:
    """Names of the tables under names, in the order of the job file."""
    keys = (key.removeprefix(start).split(".")[0] for key in inputs.by_key if key.startswith(start))
    return tuple(dict.fromkeys(keys))


def _readings(found: _Found, name: str) -> Readings | None:
    """Readings of a logger; None with faults where they cannot be had."""
    start = f"{_LOGGER}{name}."
    file, measures = found.text(f"{start}file"), found.text(f"{start}measures")
    if file is None or measures is None or found.text(f"{start}place") is None:
        missing = next(k for k in ("file", "measures", "place") if not found.text(f"{start}{k}"))
        message = f"logger.{name}: {missing} is not known. Write it, or take the table out."
        found.fault(f"{start}{missing}", message)
        return None
    try:
        if file not in found.tables:
            found.tables[file] = read_table(found.folder / file)
            found.notes += far_file(found.folder, file)
        readings = read_logger(found.folder / file, _ask(found, name), found.tables[file])
    except BadInputFile as error:
        found.faults.extend(error.faults)
        return None
    found.read.append(f"{Path(file).name}: {readings.time_s.size} readings of {measures} ({name})")
    found.notes += readings.notes
    return readings


def _ask(found: _Found, name: str) -> LoggerAsk:
    start = f"{_LOGGER}{name}."
    texts = (
        "time_column",
        "date_column",
        "value_column",
        "temperature_column",
        "unit",
        "date_order",
        "decimals",
        "clock",
    )
    said = {key: found.text(f"{start}{key}") for key in texts}
    foot = foot_of(found.text("inputs.site.foot"))
    return LoggerAsk(
        name,
        str(found.text(f"{start}measures")),
        **said,
        time_zone=found.text(f"{start}time_zone") or found.text(f"{_MONITOR}time_zone"),
        clock_ahead=found.number(f"{start}clock_ahead_s") or 0.0,
        foot=foot,
    )


def _checks(
    found: _Found, readings: Mapping[str, Readings | None]
) -> dict[str, tuple[HandCheck, ...]]:
    """Readings by hand of each logger."""
    checks: dict[str, tuple[HandCheck, ...]] = {}
    site = found.text(f"{_MONITOR}time_zone")
    for name in _names(found.inputs, _CHECK):
        start = f"{_CHECK}{name}."
        logger, time = found.text(f"{start}logger"), found.text(f"{start}time")
        read = found.number(f"{start}read_m")
        if logger is None or time is None or read is None:
            found.notes.append(_open_check(name))
            continue
        if logger not in readings:
            message = (
                f"zero_check.{name}: there is no logger '{logger}'. "
                f"Write one of [logger.NAME].{did_you_mean(logger, readings)}"
            )
            found.fault(f"{start}logger", message)
            continue
        of = readings[logger]
        if of is None:
            continue
        zone = of.zone if site is None else zone_of(site)
        local = np.datetime64(time.replace(" ", "T"), "s").astype(object)
        check = HandCheck(name, zone.utc_of(local), read)
        checks[logger] = (*checks.get(logger, ()), check)
    return checks


def _open_check(name: str) -> Finding:
    return Finding(
        "logger-check-open",
        "caution",
        f"zero_check.{name}",
        f"zero_check.{name} is not used, since a part of it is unknown. It needs logger, time and "
        "read.",
    )


def _measured(
    found: _Found,
    name: str,
    read: Readings,
    airs: Mapping[str, Readings | None],
    checks: tuple[HandCheck, ...],
) -> None:
    start = f"{_LOGGER}{name}."
    measures = str(found.text(f"{start}measures"))
    corrections: tuple[Correction, ...] = ()
    is_elevation = False
    if measures in ("stage", "level"):
        try:
            stage = stage_of(
                read, _stage_ask(found, name, measures, checks), _air(found, name, airs)
            )
        except Wrong as wrong:
            found.fault(f"{start}file", f"logger.{name}: {wrong}")
            return
        series, corrections, is_elevation = stage.series, stage.corrections, stage.is_elevation
        found.notes += stage.notes
    else:
        value, flag = read.value, np.where(read.doubtful, SUSPECT, 0).astype(np.uint8)
        if measures == "rain":
            value, notes = rain_of(read, found.text(f"{start}counts"))
            found.notes += notes
        outside, notes = outside_sense(replace(read, value=value), measures)
        flag[outside] |= np.uint8(SUSPECT)
        found.notes += notes
        series = Series(name, read.time_s, value, flag)
    gaps = gaps_of_series(series)
    found.notes += gap_notes(series, gaps)
    place = str(found.text(f"{start}place"))
    found.loggers[name] = Measured(
        name, place, measures, read.file, series, is_elevation, read.zone, corrections, gaps
    )


def _stage_ask(found: _Found, name: str, measures: str, checks: tuple[HandCheck, ...]) -> StageAsk:
    start = f"{_LOGGER}{name}."
    return StageAsk(
        measures,
        found.number(f"{start}zero_m") if measures == "stage" else None,
        found.number(f"{start}highest_m"),
        found.text(f"{start}pressure"),
        found.text(f"{start}correct"),
        checks,
    )


def _air(found: _Found, name: str, airs: Mapping[str, Readings | None]) -> Readings | None:
    """The logger of the air pressure: the one named, else the only one."""
    named = found.text(f"{_LOGGER}{name}.barometer")
    if named is None:
        return next(iter(airs.values())) if len(airs) == 1 else None
    if named not in airs:
        raise Wrong(
            f"there is no logger of the air pressure called '{named}'.{did_you_mean(named, airs)} "
            'Add one with measures = "air pressure".'
        )
    return airs[named]


def _lab(found: _Found) -> LabResults | None:
    file = found.text(f"{_LAB}file")
    if file is None:
        return None
    columns, places = (
        {
            key.removeprefix(start): str(given.value)
            for key, given in found.inputs.known(start).items()
        }
        for start in (f"{_LAB}columns.", f"{_LAB}places.")
    )
    ask = LabAsk(
        columns,
        places,
        found.text(f"{_LAB}species"),
        found.text(f"{_LAB}unit"),
        found.text(f"{_LAB}date_order"),
        found.text(f"{_LAB}time_zone") or found.text(f"{_MONITOR}time_zone"),
        found.number(f"{_LAB}detection_mg_per_l"),
        found.number(f"{_LAB}holding_s"),
    )
    try:
        lab = read_lab(found.folder / file, ask)
    except BadInputFile as error:
        found.faults.extend(error.faults)
        return None
    found.notes += lab.notes
    found.notes += far_file(found.folder, file)
    found.read.append(f"{lab.file}: {len(lab.rows)} results of nitrate")
    return lab
