# SPDX-License-Identifier: Apache-2.0
"""The curve of a tracer test as it was sampled: time since the injection, concentration, flow."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import BadInputFile
from tilewater.job.rows import read_sheet

REQUIRED = ("time", "concentration")
FEWEST = 3
GRAM = 1e-3
"""A gram is that many kilograms; mg/L are g/m3."""


@dataclass(frozen=True)
class TracerCurve:
    """The samples of a test.

    Attributes
    ----------
    file : str
    time_s : array
        Since the middle of the injection. [s]
    concentration_kg_per_m3 : array
        As reported, background included. [kg/m3]
    flow_m3_s : array or None
        Where the file has it for every sample. [m3/s]
    """

    file: str
    time_s: NDArray[np.float64]
    concentration_kg_per_m3: NDArray[np.float64]
    flow_m3_s: NDArray[np.float64] | None


def read_tracer_file(path: Path) -> TracerCurve:
    """Samples of a tracer test.

    Parameters
    ----------
    path : Path
        A file with the columns `time [h]`, `concentration [mg/L]` and, where it was read,
        `flow [cfs]`, each with its unit.

    Returns
    -------
    TracerCurve
        In the order of the file.

    Raises
    ------
    BadInputFile
        With every fault of the file.
    """
    sheet = read_sheet(path, REQUIRED)
    has_flow = "flow" in sheet.units
    times: list[float] = []
    found: list[float] = []
    flows: list[float] = []
    for row in sheet.rows:
        time = sheet.quantity(row, "time", "time")
        concentration = sheet.quantity(row, "concentration", "concentration")
        flow = sheet.quantity(row, "flow", "flow") if has_flow else 0.0
        if time is None or concentration is None or flow is None:
            continue
        if times and time <= times[-1]:
            message = (
                f"time '{row['time']}' does not come after the row before it. Times count from "
                "the middle of the injection and ascend. Sort the rows."
            )
            sheet.fault(row.line, "time", message)
            continue
        if has_flow and flow <= 0.0:
            message = (
                f"flow '{row['flow']}' is not above zero. A tracer needs water to go through. "
                "Check the row, or give one flow in job.toml."
            )
            sheet.fault(row.line, "flow", message)
            continue
        times.append(time)
        found.append(concentration * GRAM)
        flows.append(flow)
    if len(times) < FEWEST and not sheet.faults:
        sheet.fault(None, "", f"it holds {len(times)} samples. A curve takes {FEWEST} or more.")
    sheet.close()
    return TracerCurve(
        path.name,
        np.array(times),
        np.array(found),
        np.array(flows) if has_flow else None,
    )


def faults_of_tracer_file(path: Path) -> tuple[TracerCurve | None, BadInputFile | None]:
    """The curve of a file, or what is wrong with it."""
    try:
        return read_tracer_file(path), None
    except BadInputFile as error:
        return None, error
