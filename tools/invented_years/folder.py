# SPDX-License-Identifier: Apache-2.0
"""A job folder of an invented site: files as they come from loggers, laboratory and clipboard.

The job file is that of a farm that is handed in, with tables written below it as plain text. The
inlet logger reads absolute pressure on standard time, the outlet logger feet on a clock that is
moved in spring and autumn.
"""

import shutil
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np

from tools.invented_years.instruments import Instruments, Stage, feet
from tools.invented_years.laboratory import DETECTION, Bottle
from tools.invented_years.site import PER_HOUR, Site, standard
from tools.invented_years.weather import Floats

ZONE = "America/Chicago"
KPA_PER_M = 9.80665
MM_PER_INCH = 25.4

TABLES = """
# Invented years: what was measured, with every fault that comes with it.
[monitor]
from = "{first}"
to = "{last}"
time_zone = "America/Chicago"

[logger.inlet]
file = "inlet.csv"
measures = "stage"
place = "inlet"
value_column = "Abs Pres, kPa"
unit = "kPa"
time_zone = "-6 h"
pressure = "absolute"
barometer = "air"
zero = "{inlet:.4f} ft"
highest = "{highest:.4f} ft"

[logger.air]
file = "air.csv"
measures = "air pressure"
place = "field"
value_column = "Abs Pres, kPa"
unit = "kPa"
time_zone = "-6 h"

[logger.outlet]
file = "outlet.csv"
measures = "stage"
place = "outlet"
value_column = "LEVEL (ft)"
unit = "ft"
date_order = "month-day-year"
clock = "switches"
zero = "{outlet:.4f} ft"

[logger.warmth]
file = "outlet.csv"
measures = "temperature"
place = "outlet"
value_column = "TEMP (C)"
unit = "degC"
date_order = "month-day-year"
clock = "switches"

[logger.rain]
file = "rain.csv"
measures = "rain"
place = "field"
value_column = "rain (in)"
unit = "in"
time_zone = "-6 h"

[lab]
file = "lab.csv"
species = "nitrate as N"

[lab.places]
inlet = "CF-IN"
outlet = "CF-OUT"

[board_log]
file = "boards-log.csv"
"""
CHECK = """
[zero_check.{name}]
logger = "{logger}"
time = "{time}"
read = "{read:.2f} ft"
"""


def write_folder(
    folder: Path,
    base: Path,
    site: Site,
    instruments: Instruments,
    bottles: tuple[Bottle, ...],
    *,
    highest_m: float,
) -> Path:
    """Write the folder of a site below a copy of the job folder `base`; the folder is returned."""
    shutil.copytree(base, folder, ignore=shutil.ignore_patterns("results", "issued"))
    inlet, outlet = instruments.inlet, instruments.outlet
    (folder / "inlet.csv").write_text(_inlet_text(inlet, instruments), encoding="utf-8")
    (folder / "air.csv").write_text(_air_text(instruments), encoding="utf-8")
    (folder / "outlet.csv").write_text(_outlet_text(outlet, instruments.water_c), encoding="utf-8")
    (folder / "rain.csv").write_text(_rain_text(site), encoding="utf-8")
    (folder / "lab.csv").write_text(_lab_text(bottles), encoding="utf-8")
    (folder / "boards-log.csv").write_text(_boards_text(site), encoding="utf-8")
    job = folder / "job.toml"
    tables = TABLES.format(
        first=site.first.isoformat(),
        last=standard(float(site.time_s[-1])).date().isoformat(),
        inlet=float(feet(np.array(inlet.sensor_m))),
        outlet=float(feet(np.array(outlet.sensor_m))),
        highest=float(feet(np.array(highest_m))),
    )
    checks = "".join(_checks(stage) for stage in (inlet, outlet))
    job.write_text(job.read_text(encoding="utf-8") + tables + checks, encoding="utf-8")
    return folder


def _checks(stage: Stage) -> str:
    return "".join(
        CHECK.format(
            name=f"{stage.place}-{number}",
            logger=stage.place,
            time=_local(at).strftime("%Y-%m-%d %H:%M"),
            read=float(feet(np.array(level))),
        )
        for number, (at, level) in enumerate(stage.checks, start=1)
    )


def _local(time_s: float) -> datetime:
    """The clock on the wall, daylight saving in it."""
    return datetime.fromtimestamp(time_s, UTC).astimezone(ZoneInfo(ZONE)).replace(tzinfo=None)


def _rows(head: str, lines: list[str]) -> str:
    return head + "\n".join(lines) + "\n"


def _inlet_text(stage: Stage, instruments: Instruments) -> str:
    head = (
        '"Plot Title: inlet"\n"Serial Number: 20871"\n\n'
        '"#","Date Time, GMT-06:00","Abs Pres, kPa","Temp, C"\n'
    )
    pressure = stage.over_sensor_m * KPA_PER_M + instruments.air_kpa
    rows = zip(stage.time_s, pressure, instruments.water_c, strict=True)
    lines = [
        f"{number},{standard(float(t)):%m/%d/%Y %H:%M:%S},{p:.4f},{c:.2f}"
        for number, (t, p, c) in enumerate(rows, start=1)
        if p == p
    ]
    return _rows(head, lines)


def _air_text(instruments: Instruments) -> str:
    head = '"Plot Title: air"\n"#","Date Time, GMT-06:00","Abs Pres, kPa"\n'
    time = instruments.inlet.time_s[::PER_HOUR]
    lines = [
        f"{number},{standard(float(t)):%m/%d/%Y %H:%M:%S},{p:.4f}"
        for number, (t, p) in enumerate(
            zip(time, instruments.air_kpa[::PER_HOUR], strict=True), start=1
        )
    ]
    return _rows(head, lines)


def _outlet_text(stage: Stage, water_c: Floats) -> str:
    head = "Station,outlet\nLogger,L-3\nDate,Time,LEVEL (ft),TEMP (C)\n"
    lines = []
    for at, over, warm in zip(stage.time_s, feet(stage.over_sensor_m), water_c, strict=True):
        if over == over:
            when = _local(float(at))
            lines.append(f"{when:%m/%d/%Y},{when:%H:%M},{over:.3f},{warm:.1f}")
    return _rows(head, lines)


def _rain_text(site: Site) -> str:
    hours = site.time_s[::PER_HOUR]
    lines = [
        f"{standard(float(t) + 3600.0):%Y-%m-%d %H:%M},{mm / MM_PER_INCH:.2f}"
        for t, mm in zip(hours, site.weather.rain_mm, strict=True)
    ]
    return _rows("time,rain (in)\n", lines)


def _lab_text(bottles: tuple[Bottle, ...]) -> str:
    names = {"inlet": "CF-IN", "outlet": "CF-OUT"}
    head = "Lab ID,Client sample,Collected,Parameter,Result,Units,MDL,Comment\n"
    lines = [
        f"{one.number},{names[one.place]},{_local(one.time_s):%Y-%m-%d %H:%M},"
        f"Nitrate as N,{f'<{DETECTION:g}' if one.is_below else f'{one.nitrate:.2f}'},mg/L,"
        f"{DETECTION:g},{f'duplicate of {one.double_of}' if one.double_of else ''}"
        for one in bottles
    ]
    return _rows(head, lines)


def _boards_text(site: Site) -> str:
    lines = [
        f"{_local(one.time_s):%Y-%m-%d %H:%M},{which},{stack:g},T. Hale,{one.why.replace(',', ';')}"
        for one in site.changes
        for which, stack in (("inlet", one.inlet_in), ("outlet", one.outlet_in))
    ]
    return _rows("time,set,stack [in],who,note\n", lines)
