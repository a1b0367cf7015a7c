# SPDX-License-Identifier: Apache-2.0
"""Tables of coefficients, one CSV per published table, read to frozen rows.

A table lies in the folder `data` of the package that uses it. Its head of `#` lines says what it
is and where it comes from, then follow the names of the columns and the rows:

    # title: Roughness of drain pipe
    # source: chow1959
    # place: table 5-6
    # units: slug=text, n=-
    # read: typed from a copy
    slug,n
    clay-tile,0.013

`units` and `note` may stand on several lines; `range` is optional. A column of unit `text` holds
words, any other unit makes it a column of numbers, where an empty cell is a number that the
source does not give. `slug` names a row for good and never changes, whatever the label beside it.
"""

import csv
import hashlib
import re
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import BadInputFile, Fault, UnknownName

TEXT = "text"
SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
NUMBER = re.compile(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?")
REQUIRED = ("title", "source", "place", "units", "read")
KNOWN = (*REQUIRED, "range", "note")
SEVERAL_LINES = ("units", "note")

Cell = str | float | None
FaultAt = Callable[[int | None, str, str], None]


@dataclass(frozen=True)
class Row:
    """One row of a table.

    Attributes
    ----------
    cells : mapping of str to str, float or None
        By column; None where the source gives no number.
    """

    cells: Mapping[str, Cell]

    def number(self, column: str) -> float:
        """Return the number in a column, in the unit of that column."""
        cell = self._cell(column)
        if not isinstance(cell, float):
            said = "empty" if cell is None else f"the text '{cell}'"
            raise UnknownName(
                f"Column '{column}' is {said} in this row. A number is needed. "
                f"Use another row or column."
            )
        return cell

    def text(self, column: str) -> str:
        """Return the words in a column."""
        cell = self._cell(column)
        if not isinstance(cell, str):
            raise UnknownName(f"Column '{column}' holds numbers. Text is needed. Use `number`.")
        return cell

    def is_given(self, column: str) -> bool:
        """Whether the source gives a value in this column."""
        return self._cell(column) is not None

    def _cell(self, column: str) -> Cell:
        if column not in self.cells:
            raise UnknownName(f"No column called '{column}'. Known: {', '.join(self.cells)}.")
        return self.cells[column]


@dataclass(frozen=True)
class Table:
    """A published table with what is known about it.

    Attributes
    ----------
    name : str
        Name of the file without its ending.
    title : str
    source : str
        Key of `basis/sources.toml`.
    place : str
        Table and page in that source, or "from memory".
    units : mapping of str to str
        Unit by column, `text` for words.
    range : str
        Range of validity, or "".
    read : str
        How the numbers came here: typed, digitised, computed, from memory.
    notes : tuple of str
        Doubts and conversions.
    rows : tuple of Row
    digest : str
        Changes with any edit of the file.
    """

    name: str
    title: str
    source: str
    place: str
    units: Mapping[str, str]
    range: str
    read: str
    notes: tuple[str, ...]
    rows: tuple[Row, ...]
    digest: str

    def row(self, slug: str) -> Row:
        """Return the row of a slug."""
        for row in self.rows:
            if row.text("slug") == slug:
                return row
        known = ", ".join(self.texts("slug"))
        raise UnknownName(f"No '{slug}' in the table '{self.title}'. Known: {known}.")

    def numbers(self, column: str) -> NDArray[np.float64]:
        """Return a whole column of numbers, not to be written to."""
        column_values = np.array([row.number(column) for row in self.rows], dtype=np.float64)
        column_values.flags.writeable = False
        return column_values

    def texts(self, column: str) -> tuple[str, ...]:
        """Return a whole column of words."""
        return tuple(row.text(column) for row in self.rows)


@cache
def read_table(package: str, name: str) -> Table:
    """Read one table of a package; every later call returns the same frozen table.

    Parameters
    ----------
    package : str
        Package whose folder `data` holds the table, as `tilewater.hydraulics`.
    name : str
        Name of the file without its ending.

    Returns
    -------
    Table
        Head and rows.

    Raises
    ------
    UnknownName
        If the package has no such table.
    BadInputFile
        If the file is not a table of this form; every fault is listed with its line.
    """
    if name not in (known := table_names(package)):
        raise UnknownName(
            f"No table called '{name}' in {package}. Known: {', '.join(known) or 'none'}."
        )
    file = resources.files(package) / "data" / f"{name}.csv"
    return parse_table(file.read_text(encoding="utf-8"), name)


def table_names(package: str) -> tuple[str, ...]:
    """Return the names of all tables of a package, sorted."""
    folder = resources.files(package) / "data"
    if not folder.is_dir():
        return ()
    names = [entry.name for entry in folder.iterdir()]
    return tuple(sorted(name.removesuffix(".csv") for name in names if name.endswith(".csv")))


def parse_table(text: str, name: str) -> Table:
    """Return the table that a text holds; `name` stands for its file in messages.

    Parameters
    ----------
    text : str
        Head, names of the columns and rows.
    name : str
        Name of the file without its ending.

    Returns
    -------
    Table
        Head and rows.

    Raises
    ------
    BadInputFile
        If the text is not a table of this form; every fault is listed with its line.
    """
    faults: list[Fault] = []

    def fault(line: int | None, where: str, message: str) -> None:
        faults.append(Fault(f"{name}.csv", line, where, message))

    lines = text.splitlines()
    head = _head(lines, fault)
    body = [
        (number, next(csv.reader([line], skipinitialspace=True)))
        for number, line in enumerate(lines, start=1)
        if line.strip() and not line.startswith("#")
    ]
    if len(body) < 2:
        fault(None, "rows", "There are no rows. Add the names of the columns and a row.")
        raise BadInputFile(*faults)
    columns = body[0][1]
    units = _units(head.get("units", []), columns, fault)
    if faults:
        raise BadInputFile(*faults)
    rows = tuple(_row(number, cells, columns, units, fault) for number, cells in body[1:])
    if faults:
        raise BadInputFile(*faults)
    return Table(
        name=name,
        title=head["title"][0],
        source=head["source"][0],
        place=head["place"][0],
        units=MappingProxyType(units),
        range=head.get("range", [""])[0],
        read=head["read"][0],
        notes=tuple(head.get("note", [])),
        rows=rows,
        digest=hashlib.sha256("\n".join(lines).encode()).hexdigest()[:12],
    )


def slug_faults(table: Table) -> tuple[str, ...]:
    """Return what is wrong with the slugs of a table: their form, or one that stands twice."""
    slugs = table.texts("slug")
    misshapen = [
        f"'{slug}' is no slug. Use lower-case letters, digits and single hyphens."
        for slug in slugs
        if not SLUG.fullmatch(slug)
    ]
    doubled = [
        f"'{slug}' stands {count} times. A slug names one row."
        for slug, count in Counter(slugs).items()
        if count > 1
    ]
    return (*misshapen, *doubled)


def _head(lines: list[str], fault: FaultAt) -> dict[str, list[str]]:
    """Read what the `#` lines say, by key, and report what is missing or said twice."""
    head: dict[str, list[str]] = {}
    for number, line in enumerate(lines, start=1):
        if not line.startswith("#"):
            continue
        key, _, value = (part.strip() for part in line[1:].partition(":"))
        if key not in KNOWN:
            fault(number, "head", f"'{key}' is no key of the head. Known: {', '.join(KNOWN)}.")
        elif key in head and key not in SEVERAL_LINES:
            fault(number, key, f"'{key}' stands twice. Keep one of them.")
        else:
            head.setdefault(key, []).append(value)
    for key in REQUIRED:
        if not any(head.get(key, [])):
            fault(None, key, f"The head has no '{key}'. Add a line '# {key}: ...'.")
    return head


def _units(said: list[str], columns: list[str], fault: FaultAt) -> dict[str, str]:
    """Read the units by column and compare them with the columns that there are."""
    units: dict[str, str] = {}
    for pair in ",".join(said).split(","):
        column, equals, unit = (part.strip() for part in pair.partition("="))
        if equals and unit:
            units[column] = unit
        elif column:
            fault(None, "units", f"'{pair.strip()}' gives no unit. Write column=unit.")
    for column in columns:
        if column not in units:
            fault(None, column, f"Column '{column}' has no unit. Add '{column}=...' to units.")
    for column in units:
        if column not in columns:
            fault(None, column, f"There is a unit for '{column}' but no such column. Remove it.")
    if len(set(columns)) < len(columns):
        fault(None, "rows", "Two columns have the same name. Rename one.")
    return units


def _row(
    number: int, cells: list[str], columns: list[str], units: Mapping[str, str], fault: FaultAt
) -> Row:
    """Read one row; what cannot be read is reported and left empty."""
    if len(cells) != len(columns):
        counted = f"{len(cells)} cells where {len(columns)} columns are named"
        fault(number, "row", f"{counted}. Quote a comma.")
        return Row({})
    values: dict[str, Cell] = {}
    for column, cell in zip(columns, cells, strict=True):
        word = cell.strip()
        if units[column] == TEXT:
            values[column] = word
            continue
        if word and not NUMBER.fullmatch(word):
            fault(number, column, f"'{word}' in column '{column}' is no number.")
        else:
            values[column] = float(word) if word else None
    return Row(MappingProxyType(values))
