# SPDX-License-Identifier: Apache-2.0
"""Rows of the comma-separated files of a job folder, with their lines and the units of columns.

The first row names the columns, the unit in square brackets behind the name: `from [ft]`. Empty
lines and lines that begin with `#` are left out. What the cells mean is said by the module of
each sort of file: `borings`, `samples`, `flow_record`, `prices`. Point files of a rover keep to no
rule of ours and are read by `points`.
"""

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from tilewater.basis.errors import BadInputFile, Fault, UnitMismatch
from tilewater.basis.units import Foot, did_you_mean, parse_quantity

_HEAD = re.compile(r"(?P<name>[^\[\]]+?)\s*(?:\[(?P<unit>[^\[\]]*)\])?")
LONGEST_LINE = 5000
LONGEST_NUMBER = 40
LARGEST = 1e12
"""No reading, coordinate or price is larger."""
MOST_BYTES = 128 * 1024 * 1024
_WIDE = re.compile(rf"[^\r\n]{{{LONGEST_LINE + 1}}}")
_NUMBER = re.compile(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?")


@dataclass(frozen=True)
class Row:
    """One row: its line in the file and its cells by column."""

    line: int
    cells: Mapping[str, str]

    def __getitem__(self, column: str) -> str:
        return self.cells.get(column, "")


@dataclass
class Sheet:
    """The rows of a file, and the faults found while they are read."""

    file: str
    line: int
    units: Mapping[str, str]
    rows: tuple[Row, ...]
    faults: list[Fault] = field(default_factory=list)

    def fault(self, line: int | None, where: str, message: str) -> None:
        """Keep a fault; `close` raises all of them at once."""
        self.faults.append(Fault(self.file, line, where, message))

    def close(self) -> None:
        """Raise what was found, in the order of the lines."""
        if self.faults:
            raise BadInputFile(*sorted(self.faults, key=lambda fault: fault.line or 0))

    def quantity(
        self, row: Row, column: str, kind: str, *, foot: Foot = "international foot"
    ) -> float | None:
        """Value of a cell in the base unit of its kind; None with a fault where there is none."""
        unit = self.units.get(column, "")
        cell = row[column]
        text = cell if plain_number(cell) is None else f"{cell} {unit}".strip()
        try:
            return parse_quantity(text, kind, foot=foot)
        except UnitMismatch as wrong:
            self.fault(row.line, column, f"{column}: {wrong}")
            return None

    def number(self, row: Row, column: str) -> float | None:
        """Plain number of a cell; None with a fault where there is none."""
        if (value := plain_number(row[column])) is None:
            self.fault(
                row.line,
                column,
                f"{column} '{row[column]}' is not a number. "
                "Write digits, with a point for decimals.",
            )
        return value

    def day(self, row: Row, column: str = "date") -> date | None:
        """Date of a cell; None with a fault where there is none."""
        try:
            return date.fromisoformat(row[column])
        except ValueError:
            self.fault(
                row.line,
                column,
                f"{column} '{row[column]}' is not a date. Write year-month-day, like 2026-05-14.",
            )
            return None


def plain_number(text: str) -> float | None:
    """Number of a text, or None; words such as nan and inf, and what is endless, are no numbers."""
    if len(text) > LONGEST_NUMBER or _NUMBER.fullmatch(text.strip()) is None:
        return None
    value = float(text)
    return value if abs(value) <= LARGEST else None


def file_text(path: Path) -> str:
    """Text of a file, with or without a byte order mark.

    Raises
    ------
    BadInputFile
        If it cannot be read, is no text, or is larger or wider than any data file.
    """
    try:
        if path.stat().st_size > MOST_BYTES:
            message = f"it is larger than {MOST_BYTES // 2**20} MB. Take the years you need of it."
            raise BadInputFile(Fault(path.name, None, "", message))
        text = path.read_text(encoding="utf-8-sig")
    except OSError:
        raise BadInputFile(
            Fault(
                path.name,
                None,
                "",
                "it cannot be read. Put the file into the job folder, or correct its name "
                "in job.toml.",
            )
        ) from None
    except UnicodeDecodeError:
        raise BadInputFile(
            Fault(path.name, None, "", "it is not UTF-8 text. Export it again as CSV in UTF-8.")
        ) from None
    if (wide := _WIDE.search(text)) is not None:
        line = text.count("\n", 0, wide.start()) + 1
        message = f"the line is longer than {LONGEST_LINE:,} letters. Export the file again."
        raise BadInputFile(Fault(path.name, line, "", message))
    return text


def cells_of(
    text: str, separator: str = ",", *, file: str = "data file"
) -> Iterator[tuple[int, list[str]]]:
    """Line number and cells of every row that holds something.

    Raises
    ------
    BadInputFile
        If a cell never ends: a quote is open.
    """
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, skipinitialspace=True)
    start = 1
    try:
        for cells in reader:
            stripped = [cell.strip() for cell in cells]
            if any(stripped) and not stripped[0].startswith("#"):
                yield start, stripped
            start = reader.line_num + 1
    except csv.Error:
        message = "a cell does not end. Look for a double quote that is not closed."
        raise BadInputFile(Fault(file, start, "", message)) from None


def read_sheet(path: Path, required: Iterable[str]) -> Sheet:
    """Rows of a file whose first row names the columns.

    Parameters
    ----------
    path : Path
        The file.
    required : iterable of str
        Columns that must be there; others are kept as they are.

    Returns
    -------
    Sheet
        The rows; the sheet collects the faults of its reader until `close`.

    Raises
    ------
    BadInputFile
        If the file cannot be read, holds no row or lacks a column.
    """
    rows = list(cells_of(file_text(path), file=path.name))
    if len(rows) < 2:
        message = (
            "it holds no row below the names of the columns. Add rows, or take it out of job.toml."
        )
        raise BadInputFile(Fault(path.name, None, "", message))
    line, head = rows[0]
    units = dict(_name_and_unit(cell) for cell in head)
    sheet = Sheet(path.name, line, units, ())
    for column in required:
        if column not in units:
            sheet.fault(
                line,
                column,
                f"there is no column '{column}'. The columns are {', '.join(units)}. "
                f"Name it in the first row.{did_you_mean(column, units)}",
            )
    if len(units) != len(head):
        sheet.fault(line, "", "two columns have the same name. Give each its own.")
    sheet.close()
    sheet.rows = tuple(_rows(sheet, rows[1:]))
    return sheet


def _name_and_unit(cell: str) -> tuple[str, str]:
    match = _HEAD.fullmatch(cell)
    if match is None:
        return cell.casefold(), ""
    return match["name"].casefold(), (match["unit"] or "").strip()


def _rows(sheet: Sheet, rows: list[tuple[int, list[str]]]) -> Iterator[Row]:
    for line, cells in rows:
        if any(cells[len(sheet.units) :]):
            sheet.fault(
                line,
                "",
                f"the row has {len(cells)} cells for {len(sheet.units)} columns. "
                "Put a text that holds a comma into double quotes.",
            )
        yield Row(line, dict(zip(sheet.units, cells, strict=False)))
