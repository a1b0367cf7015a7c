# SPDX-License-Identifier: Apache-2.0
"""What shots and bore holes add to the inputs for the plan: their places, by point and hole."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from tilewater.basis.errors import Fault
from tilewater.basis.trace import Given, Origin
from tilewater.basis.unknown import is_unknown
from tilewater.job.borings import BoringFile
from tilewater.job.points import PointFile
from tilewater.job.schema import JOB_FILE
from tilewater.job.shots import Shot

SHOTS = "inputs.shots"
BORING = "inputs.boring"


def shots_given(points: PointFile) -> Iterator[Given]:
    """All shots of a survey, those set aside among them, one list for each column."""
    shots = (*points.shots, *points.set_aside)
    origin = Origin(file=points.file, text=f"{len(shots)} shots")
    dropped = set(points.set_aside)
    columns: tuple[tuple[str, str, str, tuple[Any, ...]], ...] = (
        ("point", "", "Points of the survey", tuple(s.point for s in shots)),
        ("north_m", "m", "North of the shots", tuple(s.north for s in shots)),
        ("east_m", "m", "East of the shots", tuple(s.east for s in shots)),
        ("height_m", "m", "Heights of the shots", tuple(s.height for s in shots)),
        ("note", "", "Notes of the shots", tuple(s.note for s in shots)),
        (
            "is_used",
            "",
            "Whether a shot has a fixed position",
            tuple(s not in dropped for s in shots),
        ),
    )
    for name, unit, title, values in columns:
        yield Given(f"{SHOTS}.{name}", values, unit, title, origin)


def named_shots_given(points: PointFile, asked: Mapping[str, Given]) -> Iterator[Given | Fault]:
    """Places of the shots that lines and benchmarks name, or a fault where a name does not hold."""
    for key, given in asked.items():
        words = key.removeprefix("inputs.").rsplit(".", 1)[0]
        if key.startswith("inputs.line.") and key.endswith(".shots"):
            names: Iterable[str] = given.value
        elif key.startswith("inputs.benchmark.") and key.endswith(".shot"):
            names = (str(given.value),)
        else:
            continue
        found: list[Shot] = []
        for name in names:
            shots = points.named(name)
            if len(shots) == 1:
                found.append(shots[0])
            else:
                yield _fault(key, name, points, len(shots))
        origin = Origin(file=points.file, text=", ".join(names))
        for column in ("north", "east"):
            values = tuple(getattr(shot, column) for shot in found)
            yield Given(
                f"inputs.shot_places.{words}.{column}_m",
                values,
                "m",
                f"{column.capitalize()} of the shots of {words.replace('.', ' ')}",
                origin,
            )


def _fault(key: str, name: str, points: PointFile, times: int) -> Fault:
    where = key.removeprefix("inputs.")
    if times:
        message = (
            f"{where}: point {name} stands {times} times in {points.file}. Give each shot its own "
            "number, or name another shot."
        )
    elif any(shot.point == name for shot in points.set_aside):
        message = (
            f"{where}: point {name} of {points.file} has no fixed position and is not used. Shoot "
            "it again, or name another shot."
        )
    else:
        message = f"{where}: {points.file} has no point {name}. Correct the number."
    return Fault(JOB_FILE, None, where, message)


def borings_given(file: BoringFile, name: str) -> Iterator[Given]:
    """Place, ground and depth of each bore hole."""
    for hole in file.borings:
        origin = Origin(file=name, line=hole.line, text=hole.hole)
        for column, value, title in (
            ("station_m", hole.station, "Station"),
            ("offset_m", hole.offset, "Offset"),
            ("ground_m", hole.ground, "Ground"),
            ("bottom_m", hole.bottom, "Bottom"),
            ("water_m", hole.water, "Water the next morning"),
            ("mottles_m", hole.mottles_from, "Highest mottles"),
        ):
            if value is not None and not is_unknown(value):
                key = f"{BORING}.{hole.hole}.{column}"
                yield Given(key, value, "m", f"{title} of bore hole {hole.hole}", origin)
