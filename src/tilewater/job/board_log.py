# SPDX-License-Identifier: Apache-2.0
"""The log of the boards: when which stack was set, as it was written down at the structure.

A file `boards-log.csv` has the columns time, set, stack or rim_down, who and note. The stack is its
height above the sill, or its boards from the sill up as `8+8+6`; rim_down is what the tape says
from the rim down to the top board. A tape that fits no stack of the boards there are is a fault,
with the nearest stacks named: boards are made in fixed heights, so the tape or the set is wrong.
"""

import csv
import io
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import BadInputFile, Fault, UnitMismatch
from tilewater.basis.units import Foot, did_you_mean, parse_quantity
from tilewater.job.rows import Row, Sheet, read_sheet
from tilewater.job.times import Zone, zone_of
from tilewater.job.writing import write_in_one_step
from tilewater.practices.boards import board_stack, stack_heights

COLUMNS = ("time", "set", "stack", "rim_down", "who", "note")
HEADS = ("time", "set", "stack [in]", "rim_down [in]", "who", "note")
SETS = {"inlet": "inlet", "bypass": "inlet", "outlet": "outlet", "head": "head"}
"""Sets as they may be written; the bypass boards are those of the inlet structure."""
INCH = 0.0254
FITS = 0.5 * INCH
"""A tape that is nearer to a stack than this was laid at that stack (common practice). [m]"""
UTC_ZONE = zone_of("UTC")

Array = NDArray[np.float64]


@dataclass(frozen=True)
class BoardSet:
    """What a set of boards stands in.

    Attributes
    ----------
    sill, rim : float
        Elevations. [m]
    highest : float
        Tallest stack that has room under the rim. [m]
    notch : float
        Top of the notched board above the point of its notch; 0 without. [m]
    """

    sill: float
    rim: float
    highest: float
    notch: float = 0.0


@dataclass(frozen=True)
class Boards:
    """The boards there are, and where they stand.

    Attributes
    ----------
    sets : mapping of str to BoardSet
        By "inlet", "outlet", "head".
    heights : tuple of float
        Heights that can be bought. [m]
    seal_gap : float
        What the seal adds under each board. [m]
    """

    sets: Mapping[str, BoardSet]
    heights: tuple[float, ...]
    seal_gap: float = 0.0


@dataclass(frozen=True)
class BoardChange:
    """A stack that was set.

    Attributes
    ----------
    time_s : float
        Seconds since 1970-01-01 in universal time. [s]
    set : str
        "inlet", "outlet" or "head".
    crest_m : float
        Elevation of the crest from then on. [m]
    height_m : float
        Of the stack above the sill. [m]
    stack_m : tuple of float
        Its boards from the sill up. [m]
    who, note : str
        As written.
    line : int
        Of the file.
    """

    time_s: float
    set: str
    crest_m: float
    height_m: float
    stack_m: tuple[float, ...]
    who: str = ""
    note: str = ""
    line: int = 0


def read_board_changes(
    path: Path, boards: Boards, zone: Zone | None = None, *, foot: Foot = "international foot"
) -> tuple[BoardChange, ...]:
    """Changes of the boards that a file holds.

    Parameters
    ----------
    path : Path
        The file.
    boards : Boards
        Sets and heights of the job.
    zone : Zone or None
        By whose clocks the times are; universal time where it is None.
    foot : Foot
        That of the job.

    Returns
    -------
    tuple of BoardChange
        In the order of time; what is written twice alike counts once.

    Raises
    ------
    BadInputFile
        With every fault: a set, a time or a height that cannot be read, a tape that fits no stack,
        two stacks of one set at one time.
    """
    sheet = read_sheet(path, ("time", "set"))
    if not {"stack", "rim_down"} & set(sheet.units):
        message = "there is no column 'stack' and none 'rim_down'. Give one of them."
        sheet.fault(sheet.line, "", message)
        sheet.close()
    read = [_change(sheet, row, boards, zone or UTC_ZONE, foot) for row in sheet.rows]
    changes = sorted((c for c in read if c is not None), key=lambda c: (c.time_s, c.line))
    kept: dict[tuple[float, str], BoardChange] = {}
    for change in changes:
        first = kept.setdefault((change.time_s, change.set), change)
        if abs(first.height_m - change.height_m) > 1e-6:
            sheet.fault(
                change.line,
                "time",
                f"the {change.set} boards have two stacks at one time: "
                f"{_inches(first.height_m)} in line {first.line}, {_inches(change.height_m)} here. "
                "Correct the time of one, or take it out.",
            )
    sheet.close()
    return tuple(kept.values())


def crest_at(changes: Iterable[BoardChange], board_set: str, time_s: Array) -> Array:
    """Crest of a set of boards at each of some times.

    Parameters
    ----------
    changes : iterable of BoardChange
        In the order of time.
    board_set : str
        "inlet", "bypass", "outlet" or "head".
    time_s : array
        Seconds since 1970-01-01 in universal time. [s]

    Returns
    -------
    array
        Elevation; not a number before the first change that is known. [m]

    Raises
    ------
    KeyError
        If there is no such set.
    """
    own = [change for change in changes if change.set == SETS[board_set]]
    place = np.searchsorted([c.time_s for c in own], np.asarray(time_s), side="right")
    crests = np.array([np.nan, *(change.crest_m for change in own)])
    return np.asarray(crests[place], dtype=np.float64)


def change_row(time: datetime, board_set: str, height: float, who: str, note: str) -> str:
    """A line of the log for a stack that was set, its height in inches."""
    out = io.StringIO()
    cells = (f"{time:%Y-%m-%d %H:%M}", board_set, f"{height / INCH:.4g}", "", who, note)
    csv.writer(out, lineterminator="\n").writerow([_plain(cell) for cell in cells])
    return out.getvalue()


def height_of_tape(rim_down: float, board_set: BoardSet, boards: Boards) -> float:
    """Height of the stack that a tape from the rim down to the top board fits.

    Raises
    ------
    OutOfReach
        If it fits none; the message names the nearest.
    """
    height = board_set.rim - rim_down - board_set.sill
    known = stack_heights(board_set.highest, board_heights=boards.heights, seal_gap=boards.seal_gap)
    near = sorted(known, key=lambda each: abs(each - height))[:2]
    if near and abs(near[0] - height) <= FITS:
        return near[0]
    told = " and ".join(
        f"{_inches(each)} (rim down {_inches(board_set.rim - board_set.sill - each)})"
        for each in sorted(near)
    )
    raise OutOfReach(
        f"{_inches(rim_down)} down from the rim fits no stack of these boards. The nearest are "
        f"{told}. Measure again to the top board."
    )


def height_of_stack(height: float, board_set: BoardSet, boards: Boards) -> float:
    """Height of a stack as it is written, where the boards there are can be stacked to it.

    Raises
    ------
    OutOfReach
        If they cannot; the message names the nearest.
    """
    known = stack_heights(board_set.highest, board_heights=boards.heights, seal_gap=boards.seal_gap)
    near = sorted(known, key=lambda each: abs(each - height))[:2]
    if near and abs(near[0] - height) <= 0.1 * INCH:
        return near[0]
    told = " and ".join(_inches(each) for each in sorted(near))
    raise OutOfReach(
        f"a stack of {_inches(height)} cannot be made of these boards. The nearest are {told}. "
        "Write the height above the sill."
    )


class OutOfReach(ValueError):
    """A height that no stack of the boards of the job has."""


def boards_of(height: float, boards: Boards) -> tuple[float, ...]:
    """Boards of a stack from the sill up."""
    return board_stack(height + 1e-7, board_heights=boards.heights, seal_gap=boards.seal_gap)


def _change(sheet: Sheet, row: Row, boards: Boards, zone: Zone, foot: Foot) -> BoardChange | None:
    name = SETS.get(row["set"].casefold())
    if name is None or name not in boards.sets:
        known = [word for word, of in SETS.items() if of in boards.sets]
        message = (
            f"'{row['set']}' is no set of boards of this job. Write one of {', '.join(known)}."
            f"{did_you_mean(row['set'], known)}"
        )
        sheet.fault(row.line, "set", message)
        return None
    board_set = boards.sets[name]
    time_s = _time(sheet, row, zone)
    try:
        height = _height(sheet, row, board_set, boards, foot)
    except OutOfReach as error:
        sheet.fault(row.line, "stack" if row["stack"] else "rim_down", str(error))
        return None
    if time_s is None or height is None:
        return None
    stack = boards_of(height, boards)
    crest = board_set.sill + height - (board_set.notch if stack else 0.0)
    return BoardChange(time_s, name, crest, height, stack, row["who"], row["note"], row.line)


def _time(sheet: Sheet, row: Row, zone: Zone) -> float | None:
    try:
        moment = datetime.fromisoformat(row["time"])
    except ValueError:
        sheet.fault(
            row.line,
            "time",
            f"'{row['time']}' is no time. Write it like 2027-12-01 09:30.",
        )
        return None
    if moment.tzinfo is not None:
        return moment.timestamp()
    return zone.utc_of(moment)


def _height(
    sheet: Sheet, row: Row, board_set: BoardSet, boards: Boards, foot: Foot
) -> float | None:
    """Height of the stack of a row; None with a fault where it has none."""
    if row["stack"] and row["rim_down"]:
        sheet.fault(row.line, "stack", "both stack and rim_down are given. Keep one of them.")
        return None
    if row["stack"]:
        parts = [_length(sheet, row, "stack", part, foot) for part in row["stack"].split("+")]
        if any(part is None for part in parts):
            return None
        lengths = [part for part in parts if part is not None]
        gaps = boards.seal_gap * len(lengths) if len(lengths) > 1 else 0.0
        return height_of_stack(sum(lengths) + gaps, board_set, boards)
    if row["rim_down"]:
        down = _length(sheet, row, "rim_down", row["rim_down"], foot)
        return None if down is None else height_of_tape(down, board_set, boards)
    sheet.fault(row.line, "stack", "neither stack nor rim_down is given. Give one of them.")
    return None


def _length(sheet: Sheet, row: Row, column: str, text: str, foot: Foot) -> float | None:
    unit = sheet.units.get(column, "") or "in"
    bare = text.strip().replace(".", "", 1).isdecimal()
    try:
        return parse_quantity(f"{text.strip()} {unit}" if bare else text, "size", foot=foot)
    except UnitMismatch as wrong:
        sheet.fault(row.line, column, f"{column}: {wrong}")
        return None


def _inches(length: float) -> str:
    return f"{length / INCH:.4g} in"


def _plain(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula."""
    text = " ".join(cell.split())
    return f"'{text}" if text[:1] in set("=+-@") else text


def append_change(path: Path, row: str) -> None:
    """Add a line to a log; its first line names the columns where there is no file yet.

    Raises
    ------
    BadInputFile
        If the file cannot be written.
    """
    try:
        before = path.read_text(encoding="utf-8") if path.exists() else ",".join(HEADS) + "\n"
        if before and not before.endswith("\n"):
            before += "\n"
        write_in_one_step(path, before + row)
    except OSError as error:
        message = f"it cannot be written: {error.strerror or error}. Check the folder."
        raise BadInputFile(Fault(path.name, None, "", message)) from None
