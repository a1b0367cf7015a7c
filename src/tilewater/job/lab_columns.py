# SPDX-License-Identifier: Apache-2.0
"""Which column of a file of a laboratory is which: by the word of the job, else by its heading."""

from collections.abc import Mapping
from dataclasses import dataclass

from tilewater.job.fields import Wrong
from tilewater.job.logger_text import LoggerTable, name_and_unit
from tilewater.job.logger_values import column_by_name

HEADINGS: dict[str, tuple[str, ...]] = {
    "sample": ("sample id", "lab id", "sample number", "sample no", "sample"),
    "place": ("place", "site", "station", "location", "client sample", "sample site"),
    "date": ("date", "collected", "sampled", "sample date", "date collected", "date time"),
    "time": ("time", "sample time", "time collected"),
    "result": ("result", "nitrate", "no3-n", "nitrate-n", "concentration", "value", "no3"),
    "unit": ("unit", "units"),
    "analyte": ("analyte", "parameter", "test", "characteristic"),
    "species": ("species", "speciation", "counted as"),
    "detection": ("detection limit", "detection", "mdl", "reporting limit", "limit"),
    "qualifier": ("qualifier", "flag", "mark"),
    "condition": ("condition", "detection condition"),
    "analysed": ("analysed", "analyzed", "date analyzed", "date analysed"),
    "start": ("start", "composite start", "from"),
    "end": ("end", "composite end", "to"),
    "remark": ("remark", "comment", "note", "remarks", "comments", "notes"),
}
"""Our names of columns, and headings that are taken for them."""


@dataclass(frozen=True)
class Columns:
    """Columns of a file by our names, counted from 0, and the unit in the heading of the result."""

    numbers: Mapping[str, int]
    heads: tuple[str, ...]

    def number(self, name: str | None) -> int | None:
        """Number of a column; None where the file has none."""
        return None if name is None else self.numbers.get(name)

    def has(self, name: str | None) -> bool:
        """Whether the file has such a column."""
        return name in self.numbers

    def cell(self, row: list[str], name: str) -> str:
        """Cell of a row; blank where there is none."""
        at = self.numbers.get(name)
        return row[at] if at is not None and at < len(row) else ""

    def head(self, name: str) -> str:
        """Heading of a column; blank where there is none."""
        at = self.numbers.get(name)
        return "" if at is None else self.heads[at]

    @property
    def unit(self) -> str:
        """Unit in the heading of the result."""
        return name_and_unit(self.head("result"))[1]


def columns_of(table: LoggerTable, named: Mapping[str, str]) -> Columns:
    """Columns of a file.

    Parameters
    ----------
    table : LoggerTable
        The file.
    named : mapping of str to str
        Headings by our names, as the job has them.

    Returns
    -------
    Columns
        Those that are there.

    Raises
    ------
    Wrong
        If a heading of the job is not there, or there are none of place and result.
    """
    found = {name: column_by_name(table, head) for name, head in named.items()}
    for name, heads in HEADINGS.items():
        if name in found:
            continue
        for i, head in enumerate(table.heads):
            if i not in found.values() and _words(head) in heads:
                found[name] = i
                break
    for name in ("place", "result"):
        if name not in found:
            raise Wrong(
                f"no column is the {name}. Its columns are {', '.join(table.heads)}. Name it, like "
                f'{name} = "{table.heads[-1]}", under [lab.columns].'
            )
    return Columns(found, table.heads)


def _words(head: str) -> str:
    return " ".join(name_and_unit(head)[0].casefold().replace("_", " ").split())
