# SPDX-License-Identifier: Apache-2.0
"""Read a plain-text grid of ground heights: a head of six lines, then rows from north to south."""

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.ground.terrain import Terrain
from tilewater.job.rows import plain_number

NAMES = ("ncols", "nrows", "cellsize")
CORNERS = (("xllcorner", "yllcorner"), ("xllcenter", "yllcenter"))
MISSING = "nodata_value"
MOST_CELLS = 6_000_000
MOST_BYTES = 96 * 1024 * 1024
HEAD_LINES = 6
LONGEST_HEAD = 80


def read_terrain(path: Path, *, height_unit: float, grid_unit: float) -> Terrain:
    """Ground heights of a file.

    Parameters
    ----------
    path : Path
    height_unit, grid_unit : float
        Metres in a unit of the heights, and of the coordinates. [m]

    Returns
    -------
    Terrain

    Raises
    ------
    BadInputFile
        If it is no such grid, or larger than a map of one outlet.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            raise _fault(path, None, "it is larger than 96 MB. Cut out the land around the outlet.")
        lines = path.read_text(encoding="ascii").splitlines()
    except OSError:
        raise _fault(path, None, "it cannot be read. Put it into the job folder, or correct its "
                     "name in [terrain].") from None  # fmt: skip
    except UnicodeDecodeError:
        raise _fault(path, None, "it is no plain text. Export the terrain as an ASCII grid "
                     "(.asc).") from None  # fmt: skip
    head, begin = _head(path, lines)
    columns, rows, cell = (head[name] for name in NAMES)
    if not (columns >= 2 and rows >= 2 and cell > 0 and columns * rows <= MOST_CELLS):
        message = (
            f"it has {columns:.0f} columns, {rows:.0f} rows and a cell of {cell:g}. A grid has two "
            "of each at least, and 6,000,000 cells at most. Cut it out or make its cells wider."
        )
        raise _fault(path, None, message)
    heights = _heights(path, lines, begin, int(columns), int(rows))
    if MISSING in head:
        heights[heights == head[MISSING]] = np.nan
    if not np.isfinite(heights).any():
        raise _fault(path, None, "it holds no height. Export it again where the field lies.")
    is_corner = CORNERS[0][0] in head
    east, north = (head[name] for name in CORNERS[0 if is_corner else 1])
    shift = 0.5 * cell if is_corner else 0.0
    return Terrain(
        (north + shift) * grid_unit,
        (east + shift) * grid_unit,
        cell * grid_unit,
        heights[::-1] * height_unit,
    )


def _head(path: Path, lines: list[str]) -> tuple[dict[str, float], int]:
    """The values of the head by name, and the index of the first row of heights."""
    head: dict[str, float] = {}
    begin = 0
    for number, line in enumerate(lines[:HEAD_LINES], start=1):
        words = line[:LONGEST_HEAD].split()
        if len(words) != 2 or plain_number(words[0]) is not None:
            break
        value = plain_number(words[1])
        if value is None:
            message = f"'{words[1]}' is not a number. Export the terrain again as an ASCII grid."
            raise _fault(path, number, message)
        head[words[0].casefold()] = value
        begin = number
    has_corner = any(set(pair) <= set(head) for pair in CORNERS)
    missing = [name for name in NAMES if name not in head]
    if missing or not has_corner:
        lacks = missing[0] if missing else "xllcorner and yllcorner"
        message = (
            f"its head has no {lacks}. It begins with ncols, nrows, xllcorner, yllcorner, "
            "cellsize and NODATA_value, each with its number."
        )
        raise _fault(path, 1, message)
    return head, begin


def _heights(
    path: Path, lines: list[str], begin: int, columns: int, rows: int
) -> NDArray[np.float64]:
    found = np.empty((rows, columns))
    body = [(number, line) for number, line in enumerate(lines[begin:], begin + 1) if line.strip()]
    if len(body) != rows:
        message = f"it has {len(body)} rows of heights where its head says {rows}. Export it again."
        raise _fault(path, None, message)
    for row, (number, line) in enumerate(body):
        try:
            cells = np.array(line.split(), dtype=np.float64)
        except ValueError:
            raise _fault(path, number, "a height is not a number. Export it again.") from None
        if len(cells) != columns:
            message = f"the row has {len(cells)} heights where the head says {columns}."
            raise _fault(path, number, f"{message} Export it again.")
        found[row] = cells
    found[~np.isfinite(found)] = np.nan
    return found


def _fault(path: Path, line: int | None, message: str) -> BadInputFile:
    return BadInputFile(Fault(path.name, line, "", message))
