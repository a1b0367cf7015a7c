# SPDX-License-Identifier: Apache-2.0
"""The water of a job: how much drains, day by day, and what it leaves on paper.

Writes the daily series as a table, as parquet, and as a page of charts. What writes parquet is
loaded only here, and where it cannot be loaded the table stands alone.
"""

import csv
import importlib
import io
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path
from typing import Any

import numpy as np

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.trace import Trace
from tilewater.basis.units import System
from tilewater.basis.unknown import Unknown
from tilewater.chain.plain import Record, plain, plain_group
from tilewater.chain.practices import first_practice
from tilewater.chain.result_water import water_record
from tilewater.chain.scene_days import days_scene
from tilewater.chain.water_side import WaterSide, compute_water
from tilewater.chain.water_year import calendar
from tilewater.documents.pdf_page import pdf_page
from tilewater.documents.water_chart import draw_water_chart
from tilewater.tasks.checking import Checked, check_job
from tilewater.tasks.results import FOLDER, write_whole

SERIES, CHART = "drain-flow", "drain-flow"
BESIDE = "drain-flow-simulated"
"""Name of the simulated series where a measured one is there too."""
MM = 1000.0
MM_PER_DAY = 1000.0 * 86400.0
NO_PARQUET = (
    "Parquet was not written, since polars cannot be loaded here: {error}. The table {name} holds "
    "the same days. To have both: pip install --force-reinstall polars."
)
FLOW = (
    "basis",
    "controlled_by",
    "peak_for_share_m3_s",
    "peak_for_bypass_m3_s",
    "mean_annual_volume_m3",
    "mean_annual_depth_m",
    "flow_days_per_year",
    "annual_load_kg",
)


@dataclass(frozen=True)
class Watered:
    """The water of a job.

    Attributes
    ----------
    job : Checked
        The job as read.
    side : WaterSide
        Its water side with the trace.
    record : dict
        The result as other programs read it.
    """

    job: Checked
    side: WaterSide
    record: Record

    @property
    def notes(self) -> tuple[Finding, ...]:
        """What the engineer must know: of the files read, then of the water."""
        return tuple(dict.fromkeys((*self.job.notes, *self.side.findings)))

    @property
    def fits(self) -> bool:
        """Whether no binding limit on days too wet falls short."""
        trace = self.side.trace
        return not any(
            r.binding and trace.value(f"{r.key}.status") == "short"
            for r in trace.requirements
            if r.key.endswith(".wet_days")
        )


def water_job(folder: Path | str) -> Watered:
    """Compute the water side of a job folder. Nothing is written.

    Parameters
    ----------
    folder : Path or str
        The job folder, or its `job.toml`.

    Returns
    -------
    Watered
        Trace and record.

    Raises
    ------
    BadInputFile
        With every fault of its files.
    """
    job = check_job(folder)
    side = compute_water(job.inputs, first_practice(job.inputs))
    return Watered(job, side, _record(job, side))


def _record(job: Checked, side: WaterSide) -> Record:
    trace = side.trace
    group = "drain_flow.candidates_m3_s"
    flow = plain_group(trace, "drain_flow", *FLOW)
    flow["candidates_m3_s"] = {name: plain(trace, f"{group}.{name}") for name in trace.names(group)}
    return {
        "tilewater": version("tilewater"),
        "job": job.inputs.name,
        "drain_flow": flow,
        "water": water_record(trace),
        "pool_reach_m": plain(trace, "pool_reach_m"),
        "unknown": [
            {"key": step.key, "why": step.value.why, "measure": step.value.measure}
            for step in trace
            if step.key.startswith(("water.", "drain_flow.")) and isinstance(step.value, Unknown)
        ],
        "findings": [f.record | {"source": f.source} for f in side.findings],
    }


def write_water(watered: Watered, out: Path | str | None, units: System) -> tuple[str, ...]:
    """Write the series as tables and the page of charts; what was written, line by line.

    Parameters
    ----------
    watered : Watered
        The water of a job.
    out : Path, str or None
        Folder to write into; None for `results` in the job folder.
    units : "us" or "si"
        Units of the reader, for the charts.

    Returns
    -------
    tuple of str
        A line for each file, and one for what was left out.

    Raises
    ------
    BadInputFile
        If a folder that was named cannot be written to.
    OSError
        If the folder of the job cannot be.
    """
    trace = watered.side.trace
    if not trace.known("water.flow_m3_s"):
        return ()
    folder = watered.job.folder / FOLDER if out is None else Path(out)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        return tuple(_written(trace, folder, units))
    except OSError as error:
        if out is None:
            raise
        message = (
            f"the water cannot be written there: {(error.strerror or str(error)).lower()}. "
            "Name a folder with --out in which you may write."
        )
        raise BadInputFile(Fault(str(folder), None, "", message)) from None


def _written(trace: Trace, folder: Path, units: System) -> Iterator[str]:
    for name, columns in _tables(trace):
        table = folder / f"{name}.csv"
        write_whole(table, _csv(columns))
        yield f"Written: {table}"
        yield _parquet(columns, table)
    scene = days_scene(trace)
    if scene is None:
        yield "No chart: the series has no whole year."
        return
    svg = draw_water_chart(scene, units=units)
    write_whole(folder / f"{CHART}.svg", svg)
    yield f"Drawn: {folder / f'{CHART}.svg'}"
    page = folder / f"{CHART}.pdf"
    half = page.with_name(f"{page.name}.half")
    half.write_bytes(pdf_page(svg))
    half.replace(page)
    yield f"Drawn: {page}"


Columns = dict[str, Any]


def _tables(trace: Trace) -> Iterator[tuple[str, Columns]]:
    """Names of the tables with their columns: the series counted with, a simulated one beside."""
    is_measured = trace.value("water.basis") == "measured"
    day = trace.value("water.day")
    columns: Columns = {
        "date": calendar(day),
        "flow [m3/s]": trace.value("water.flow_m3_s"),
        "drainage [mm/day]": trace.value("water.depth_m_s") * MM_PER_DAY,
    }
    if trace.known("water.air_temperature_c"):
        columns["air [degC]"] = trace.value("water.air_temperature_c")
    if is_measured:
        yield SERIES, columns
    if not trace.known("water.run"):
        return
    run = _run_columns(trace)
    if is_measured:
        simulated = {
            "date": calendar(trace.value("water.simulated.day")),
            "flow [m3/s]": trace.value("water.simulated.flow_m3_s"),
            "drainage [mm/day]": trace.value("water.simulated.depth_m_s") * MM_PER_DAY,
        }
        yield BESIDE, simulated | run
    else:
        yield SERIES, columns | run


def _run_columns(trace: Trace) -> Columns:
    run = trace.value("water.run")
    return {
        "rain and snow [mm]": run.weather.precipitation * MM,
        "inlets [mm]": run.inlet_depth * MM,
        "runoff [mm]": run.runoff * MM,
        "evapotranspiration [mm]": run.evapotranspiration * MM,
        "deep seepage [mm]": run.deep_seepage * MM,
        "snow [mm]": run.snow * MM,
        "standing water [mm]": run.pond * MM,
        "water in the ground [mm]": run.soil_water * MM,
        "table midway [m]": run.table_depth,
        "held over laterals [m]": run.inputs.weather.outlet,
    }


def _csv(columns: Columns) -> str:
    """A table as text: six figures, and nothing where there is no value."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    for row in zip(*columns.values(), strict=True):
        writer.writerow(_cell(value) for value in row)
    return text.getvalue()


def _cell(value: Any) -> str:
    if isinstance(value, np.datetime64):
        return str(value)
    return "" if np.isnan(value) else f"{value:.6g}"


def _parquet(columns: Columns, table: Path) -> str:
    """Write a table as parquet where that can be done; what became of it."""
    try:
        polars = importlib.import_module("polars")
    except ImportError as error:
        return NO_PARQUET.format(error=error, name=table.name)
    path = table.with_suffix(".parquet")
    half = path.with_name(f"{path.name}.half")
    polars.DataFrame(columns).write_parquet(half)
    half.replace(path)
    return f"Written: {path}"
