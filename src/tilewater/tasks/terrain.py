# SPDX-License-Identifier: Apache-2.0
"""The terrain of a job for its map: read in the units that it is in, held against the shots."""

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.told import feet
from tilewater.basis.units import to_si
from tilewater.documents.scales import foot_of
from tilewater.ground.terrain import (
    AgainstShots,
    Terrain,
    looks_like_other_unit,
    terrain_against_shots,
)
from tilewater.job.reading import Job
from tilewater.job.schema import JOB_FILE
from tilewater.job.shots import FEET
from tilewater.job.terrain import read_terrain
from tilewater.tasks.outside_inputs import OutsideFiles
from tilewater.tasks.plan_inputs import SHOTS

FAR_OFF = 0.30
"""Terrain and shots this far apart in the middle are told. [m]"""
METRES: dict[str, float] = {"m": 1.0}
METRES.update((foot, to_si(1.0, unit)) for foot, unit in FEET.items())
GUESSED = {"m": "m", "ft": "the foot of the grid"}


@dataclass(frozen=True)
class Lie:
    """How the land lies.

    Attributes
    ----------
    terrain : Terrain
    file : str
    against : AgainstShots or None
        None where too few shots lie on it.
    findings : tuple of Finding
    """

    terrain: Terrain
    file: str
    against: AgainstShots | None
    findings: tuple[Finding, ...]


Shots = tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]
"""North, east and height of the shots that are used. [m]"""


def shots_of(values: dict[str, object]) -> Shots:
    """Places of the shots with a fixed position, from inputs by key."""
    north, east, height, is_used = (
        values.get(f"{SHOTS}.{name}") or () for name in ("north_m", "east_m", "height_m", "is_used")
    )
    rows = zip(north, east, height, is_used, strict=True)  # type: ignore[call-overload]
    used = [row[:3] for row in rows if row[3]]
    return tuple(zip(*used, strict=True)) if used else ((), (), ())  # type: ignore[return-value]


def lie_of(job: Job, shots: Shots) -> Lie | None:
    """The terrain that a job names; None where it names none.

    Raises
    ------
    BadInputFile
        If it cannot be read, or its unit is not told and cannot be seen from the shots.
    """
    table = job.file.terrain
    if not isinstance(table.file, str):
        return None
    foot = str(foot_of(job.file.site.foot or ""))
    path = job.folder / table.file
    stamp = path.stat().st_mtime_ns if path.is_file() else 0
    return _lie(path, stamp, foot, str(table.heights or ""), str(table.coordinates or ""), shots)


@lru_cache(maxsize=4)
def _lie(path: Path, stamp: int, foot: str, heights: str, coordinates: str, shots: Shots) -> Lie:
    grid_unit = METRES[coordinates or foot]
    terrain = read_terrain(path, height_unit=METRES[heights or foot], grid_unit=grid_unit)
    north, east, height = (np.array(column) for column in shots)
    findings: list[Finding] = []
    if not heights and height.size:
        unit = looks_like_other_unit(float(np.nanmedian(terrain.heights)), float(np.median(height)))
        if unit:
            message = (
                f"{path.name} appears to be in {GUESSED[unit]}: its heights are to the shots as "
                'metres are to feet. Say heights = "m", or the foot, under [terrain].'
            )
            raise BadInputFile(Fault(JOB_FILE, None, "terrain.heights", message))
    against = terrain_against_shots(terrain, north, east, height) if height.size else None
    if against is None and height.size:
        findings.append(
            Finding(
                "terrain-elsewhere",
                "caution",
                "terrain",
                f"Fewer than five shots lie on {path.name}. Its coordinates may be in another unit "
                "or another grid: say coordinates under [terrain].",
                source="practice",
            )
        )
    elif against is not None and abs(against.median) > FAR_OFF:
        findings.append(
            Finding(
                "terrain-off",
                "caution",
                "terrain",
                f"{path.name} lies {feet(abs(against.median))} "
                f"{'over' if against.median > 0 else 'under'} the shots in the middle of "
                f"{against.count}. Look at its datum.",
                value=against.median,
                unit="m",
                source="practice",
            )
        )
    return Lie(terrain, path.name, against, tuple(findings))


def terrain_files(job: Job) -> OutsideFiles:
    """The terrain of a job for `check`: what was read, or what is wrong in it."""
    found = OutsideFiles()
    try:
        lie = lie_of(job, ((), (), ()))
    except BadInputFile as error:
        found.faults.extend(error.faults)
        return found
    if lie is not None:
        rows, columns = lie.terrain.heights.shape
        found.read.append(f"{lie.file}: {rows} by {columns} heights of the ground")
        found.findings.extend(lie.findings)
    return found
