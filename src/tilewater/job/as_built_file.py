# SPDX-License-Identifier: Apache-2.0
"""Shots of finished work: the file of a rover, or a book of stations and offsets.

The columns are named in `[as_built.columns]`. A book without coordinates names station and offset
in place of north and east; both are then feet of the job's foot.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.units import Foot, to_si
from tilewater.basis.unknown import is_unknown
from tilewater.ground.matching import BuiltShot
from tilewater.job.points import PointFile, read_points
from tilewater.job.rows import plain_number
from tilewater.job.shots import FEET, Shot

KEY = "inputs.as_built"
BY_GRID, BY_STATION = ("north", "east"), ("station", "offset")
ALSO = ("point", "height", "note", "fix", "rms")
OF_GRID = frozenset({"north-east-exchanged", "north-east-not-compared"})
Value = Callable[[str], Any]


@dataclass(frozen=True)
class BuiltShots:
    """What a file of finished work holds.

    Attributes
    ----------
    file : str
    by_station : bool
        Whether places are stations and offsets.
    shots : tuple of BuiltShot
    findings : tuple of Finding
    """

    file: str
    by_station: bool
    shots: tuple[BuiltShot, ...]
    findings: tuple[Finding, ...]


def read_as_built(folder: Path, value: Value) -> BuiltShots | None:
    """Shots of finished work of a job; None where it names none.

    Parameters
    ----------
    folder : Path
        The job folder.
    value : callable
        Gives the value of an input by its key; None where the job has none.

    Returns
    -------
    BuiltShots or None

    Raises
    ------
    BadInputFile
        With every fault of the file.
    """

    def said(key: str) -> Any:
        found = value(key)
        return None if is_unknown(found) else found

    name = said(f"{KEY}.shots")
    if name is None:
        return None
    columns = {each: said(f"{KEY}.columns.{each}") for each in (*ALSO, *BY_GRID, *BY_STATION)}
    by_station = columns["north"] is None and columns["station"] is not None
    sides = BY_STATION if by_station else BY_GRID
    asked = {each: columns[each] for each in ALSO}
    asked |= dict(zip(BY_GRID, (columns[side] for side in sides), strict=True))
    foot: Foot | None = said("inputs.site.foot")
    try:
        read = read_points(
            folder / str(name),
            asked,
            foot=foot,
            vertical_datum=said("inputs.site.vertical_datum"),
            drop_fix=said(f"{KEY}.drop_fix") or ("float",),
            near=None if by_station else _known_point(said),
        )
    except BadInputFile as error:
        raise BadInputFile(*(_told(fault, sides) for fault in error.faults)) from None
    shots, faults = _built(read, foot or "international foot")
    if faults:
        raise BadInputFile(*faults)
    findings = [f for f in read.findings if not (by_station and f.code in OF_GRID)]
    return BuiltShots(read.file, by_station, shots, tuple(map(_of_as_built, findings)))


def _known_point(said: Value) -> tuple[float, float] | None:
    north, east = (said(f"inputs.baseline.{side}_m") for side in BY_GRID)
    return None if north is None or east is None else (float(north), float(east))


def _built(read: PointFile, foot: Foot) -> tuple[tuple[BuiltShot, ...], list[Fault]]:
    made, faults = [], []
    keys: set[str] = set()
    for shot in read.shots:
        noise = plain_number(shot.rms) if shot.rms else None
        if (shot.rms and noise is None) or (noise is not None and noise < 0.0):
            message = (
                f"rms '{shot.rms}' is no scatter. Write a number from 0 up in the unit of the "
                "heights, or leave it blank."
            )
            faults.append(Fault(read.file, shot.line, "as_built.columns.rms", message))
            continue
        scatter = None if noise is None else to_si(noise, FEET[foot])
        place = (shot.north, shot.east)
        key = _key_of(shot, keys)
        made.append(BuiltShot(shot.point, key, place, shot.height, shot.note, scatter, shot.line))
    return tuple(made), faults


def _key_of(shot: Shot, taken: set[str]) -> str:
    """A name for keys: the point, or with its line where the point stands twice."""
    plain = "".join(c if c.isalnum() else "-" for c in shot.point.casefold())
    key = plain if plain not in taken else f"{plain}-line-{shot.line}"
    taken.add(key)
    return key


def _told(fault: Fault, sides: Iterable[str]) -> Fault:
    """A fault of the file in words of its own tables."""
    words = {
        "[survey.columns]": "[as_built.columns]",
        "survey.columns": "as_built.columns",
        "[survey]": "[as_built]",
    }
    message, where = (_replaced(text, words) for text in (fault.message, fault.where))
    for grid, side in zip(BY_GRID, sides, strict=True):
        message, where = (re.sub(rf"\b{grid}\b", side, text) for text in (message, where))
    return replace(fault, message=message, where=where)


def _of_as_built(finding: Finding) -> Finding:
    message = _replaced(finding.message, {"[survey.columns]": "[as_built.columns]"})
    message = _replaced(message, {"[survey]": "[as_built]"})
    subject = "as-built survey" if finding.subject == "survey" else f"as-built {finding.subject}"
    return replace(finding, subject=subject, message=message)


def _replaced(text: str, words: Mapping[str, str]) -> str:
    for old, new in words.items():
        text = text.replace(old, new)
    return text
