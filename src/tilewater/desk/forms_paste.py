# SPDX-License-Identifier: Apache-2.0
"""Rows pasted from a spreadsheet: what each becomes in the job file, with what is wrong at it.

Cells are parted by tabs, or by commas where there is no tab. The first row names the columns, by
key or by title, with a unit in brackets where the cells have none. One row is one entry; the name
of a row that is in the file already changes that entry.
"""

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from tilewater.basis.errors import UnitMismatch
from tilewater.basis.units import System, did_you_mean
from tilewater.desk.forms import at
from tilewater.desk.forms_typed import edit_of, shown_of
from tilewater.job.edits import Edit
from tilewater.job.fields import UNKNOWN, Ask, Setting, Wrong
from tilewater.job.tables import Member

NAME = "name"
_HEAD = re.compile(r"(?P<name>[^\[\]()]*?)\s*(?:[\[(](?P<unit>[^\[\]()]*)[\])])?\s*")
MOST = 500
"""Rows that are taken at once, at most."""


@dataclass(frozen=True)
class Column:
    """A column: the key of its field, its title, the unit of its cells."""

    key: str
    title: str
    unit: str


@dataclass
class PastedRow:
    """A row: its number, the entry that it becomes, what each cell becomes, what is wrong."""

    number: int
    name: str
    is_new: bool
    cells: tuple[str, ...]
    edits: dict[str, Edit] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Pasted:
    """Pasted rows of a group.

    Attributes
    ----------
    group : str
    columns : tuple of Column
    rows : tuple of PastedRow
    faults : tuple of str
        What is wrong with the whole of it.
    """

    group: str
    columns: tuple[Column, ...] = ()
    rows: tuple[PastedRow, ...] = ()
    faults: tuple[str, ...] = ()

    @property
    def edits(self) -> dict[str, Edit]:
        """Edits of all rows."""
        return {path: value for row in self.rows for path, value in row.edits.items()}

    @property
    def told(self) -> str:
        """Everything that is wrong, in one text; "" for nothing."""
        rows = [f"Row {row.number}: {fault}" for row in self.rows for fault in row.faults]
        return " ".join((*self.faults, *rows))


def columns_of(member: Member, system: System) -> tuple[Column, ...]:
    """Columns that rows of a group may have, with the unit that a bare number takes."""
    found = [Column(NAME, "Name", "")]
    for inner in member.model.members():
        if inner.ask is not None:
            unit = shown_of(inner.ask, None, system).unit
            found.append(Column(inner.key, inner.ask.title, unit))
    return tuple(found)


def read_rows(member: Member, text: str, data: Mapping[str, Any], system: System) -> Pasted:
    """What pasted rows become.

    Parameters
    ----------
    member : Member
        The group, such as that of the spots.
    text : str
        As pasted.
    data : mapping
        The job file as TOML gives it.
    system : "us" or "si"
        Units that a bare number takes where its column says none.

    Returns
    -------
    Pasted
        Rows with their edits and faults.
    """
    delimiter = "\t" if "\t" in text else ","
    lines = [row for row in csv.reader(text.strip().splitlines(), delimiter=delimiter) if any(row)]
    known = columns_of(member, system)
    if len(lines) < 2:
        return Pasted(member.key, faults=(_few(known),))
    if len(lines) - 1 > MOST:
        return Pasted(member.key, faults=(f"{len(lines) - 1} rows; {MOST} are taken at once.",))
    columns, faults = _columns(lines[0], known)
    if faults:
        return Pasted(member.key, columns, faults=faults)
    there = at(data, member.key)
    there = there if isinstance(there, Mapping) else {}
    setting = setting_of(data)
    rows = [
        _row(number, line, columns, member, there, setting)
        for number, line in enumerate(lines[1:], start=1)
    ]
    _say_twice(rows)
    return Pasted(member.key, columns, tuple(rows))


def setting_of(data: Mapping[str, Any]) -> Setting:
    """What the reading of a value depends on: the foot of the job's grid."""
    is_survey = at(data, "site.foot") == "us survey foot"
    return Setting(None, "us survey foot" if is_survey else "international foot")


def _few(known: Sequence[Column]) -> str:
    names = ", ".join(column.key for column in known[:4])
    return f"There are no rows. Copy the row of names with them, like {names}."


def _columns(
    heads: Sequence[str], known: tuple[Column, ...]
) -> tuple[tuple[Column, ...], tuple[str, ...]]:
    by_name = {_folded(c.key): c for c in known} | {_folded(c.title): c for c in known}
    columns: list[Column] = []
    faults: list[str] = []
    for place, head in enumerate(heads, start=1):
        match = _HEAD.fullmatch(head.strip())
        name = match["name"] if match else head
        column = by_name.get(_folded(name))
        if column is None:
            near = did_you_mean(name.strip(), tuple(c.key for c in known))
            keys = ", ".join(c.key for c in known)
            faults.append(f"Column {place} is '{head.strip()}'. Known: {keys}.{near}")
            continue
        unit = (match["unit"] or "").strip() if match else ""
        columns.append(Column(column.key, column.title, unit or column.unit))
    keys_here = [column.key for column in columns]
    if not faults and NAME not in keys_here:
        faults.append("No column is called name. Each row needs the name of its entry, like low-1.")
    if len(set(keys_here)) < len(keys_here):
        faults.append("A column stands twice. Keep one.")
    return tuple(columns), tuple(faults)


def _row(
    number: int,
    line: Sequence[str],
    columns: tuple[Column, ...],
    member: Member,
    there: Mapping[str, Any],
    setting: Setting,
) -> PastedRow:
    texts = dict(zip((c.key for c in columns), (*line, *[""] * len(columns)), strict=False))
    name = re.sub(r"[^a-z0-9]+", "-", texts[NAME].casefold()).strip("-")
    row = PastedRow(number, name, name not in there, ())
    if not name:
        row.faults.append("it has no name.")
    if len(line) > len(columns) and any(cell.strip() for cell in line[len(columns) :]):
        row.faults.append(f"it has {len(line)} cells, and there are {len(columns)} columns.")
    asks = {m.key: m.ask for m in member.model.members() if m.ask is not None}
    cells: list[str] = []
    for column in columns:
        if column.key == NAME:
            cells.append(name)
            continue
        value = _cell(row, asks[column.key], column, texts[column.key], setting)
        cells.append("" if value is None else _told(value))
        if value is not None:
            row.edits[f"{member.key}.{name}.{column.key}"] = value
    if row.is_new:
        for inner in member.model.members():
            path = f"{member.key}.{name}.{inner.key}"
            if inner.is_required() and path not in row.edits:
                row.edits[path] = UNKNOWN
    row.cells = tuple(cells)
    return row


def _cell(row: PastedRow, ask: Ask, column: Column, text: str, setting: Setting) -> Edit:
    try:
        value = edit_of(ask, text, column.unit)
        if value is not None and value != UNKNOWN:
            ask.read(value, setting)
    except (Wrong, UnitMismatch) as wrong:
        row.faults.append(f"{column.key}: {wrong}")
        return text
    return value


def _say_twice(rows: Sequence[PastedRow]) -> None:
    seen: set[str] = set()
    for row in rows:
        if row.name in seen:
            row.faults.append(f"'{row.name}' stands above already. Give it another name.")
        seen.add(row.name)


def _told(value: Edit) -> str:
    if isinstance(value, list):
        return "; ".join(_told(one) for one in value)
    return str(value)


def _folded(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", " ", name.casefold()).strip()
