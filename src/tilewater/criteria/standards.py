# SPDX-License-Identifier: Apache-2.0
"""Published standards as data files, and the rows they ask of a design.

One file per issuer's standard, edition and state. A revised standard is one more file; nothing here
changes. A limit that is only remembered stays marked so until somebody confirms it in the job, with
name, date and edition.
"""

import tomllib
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import Literal

from tilewater.basis.errors import UnknownName
from tilewater.basis.requirement import SCALES, Operator, Requirement
from tilewater.basis.trace import Origin, Trace

TextStatus = Literal["read", "memory", "practice"]


@dataclass(frozen=True)
class CriterionRow:
    """One criterion of a standard, as its data file states it.

    Attributes
    ----------
    code : str
        Stable name with the number of the standard (`605-retention`).
    clause, title : str
        Where it stands and what it asks, in our words.
    alternative : str
        Name of the way of sizing it belongs to; "" for a criterion that always holds.
    value : str
        Key of the value that is judged.
    operator : ">=" or "<="
    limit : float
        In `unit`.
    unit, scale : str
    text_status : "read", "memory" or "practice"
    source : str
    exact : bool
        True where a design meets the limit exactly by how it is drawn.
    confirmed : str
        Who confirmed a remembered limit, when and in which edition; "" if nobody.
    """

    code: str
    clause: str
    title: str
    alternative: str
    value: str
    operator: Operator
    limit: float
    unit: str
    scale: str
    text_status: TextStatus
    source: str
    exact: bool = False
    confirmed: str = ""

    @property
    def name(self) -> str:
        """Code without the number of the standard (`retention`)."""
        return self.code.partition("-")[2]


@dataclass(frozen=True)
class Standard:
    """A standard in one edition of one state."""

    issuer: str
    standard: str
    edition: str
    state: str
    title: str
    note: str
    rows: tuple[CriterionRow, ...]


@dataclass(frozen=True)
class Confirmation:
    """Somebody's word that a remembered limit was looked up.

    Attributes
    ----------
    row : str
        Code of the criterion.
    by, date, edition : str
        Who, when, and in which edition.
    limit : float or None
        The limit found there, in the row's unit; None if it is as remembered.
    origin : Origin or None
        Where in the job it was typed.
    """

    row: str
    by: str
    date: str
    edition: str
    limit: float | None = None
    origin: Origin | None = None


@cache
def read_standard(standard: str, edition: str, state: str = "national") -> Standard:
    """Read the data file of a standard.

    Parameters
    ----------
    standard : str
        Number of the standard, such as "605".
    edition : str
        Year of the edition.
    state : str
        State whose edition it is, or "national".

    Returns
    -------
    Standard
        With its rows in the order of the file.

    Raises
    ------
    UnknownName
        If there is no such file; the message lists those there are.
    """
    folder = resources.files("tilewater.criteria") / "data"
    file = folder / f"{standard}-{edition}-{state}.toml"
    if not file.is_file():
        known = ", ".join(sorted(f.name.removesuffix(".toml") for f in folder.iterdir()))
        raise UnknownName(
            f"No standard '{standard}' of edition '{edition}' for '{state}'. Known: {known}. "
            "Choose one of them under [criteria], or add the state's edition as a data file."
        )
    data = tomllib.loads(file.read_text(encoding="utf-8"))
    rows = tuple(
        CriterionRow(code=f"{standard}-{name}", alternative=row.pop("alternative", ""), **row)
        for name, row in data.pop("row").items()
    )
    return Standard(rows=rows, **data)


@cache
def numbers_of_standards() -> tuple[str, ...]:
    """Numbers of the standards that there are data files of."""
    folder = resources.files("tilewater.criteria") / "data"
    files = (file.name for file in folder.iterdir())
    return tuple(sorted({name.partition("-")[0] for name in files if name.endswith(".toml")}))


def confirm_rows(
    rows: tuple[CriterionRow, ...], confirmations: tuple[Confirmation, ...]
) -> tuple[CriterionRow, ...]:
    """Rows with the confirmed limits put in and marked as read."""
    by_row = {confirmation.row: confirmation for confirmation in confirmations}

    def confirm(row: CriterionRow) -> CriterionRow:
        word = by_row.get(row.code) or by_row.get(row.name)
        if word is None:
            return row
        return replace(
            row,
            limit=row.limit if word.limit is None else word.limit,
            text_status="read",
            confirmed=f"{word.by}, {word.date}, edition {word.edition}",
        )

    return tuple(confirm(row) for row in rows)


def judge_row(trace: Trace, row: CriterionRow, *, binding: bool, where: str = "bed") -> None:
    """Judge one criterion in a trace: `criteria.<code>.value`, `.limit`, `.status`, `.slack`."""
    key = f"criteria.{row.code}"
    limit = trace.constant(
        f"{key}.limit", row.limit, f"{row.title}: limit", unit=row.unit, source=row.source
    )
    trace.require(
        Requirement(
            key=key,
            title=row.title,
            value=row.value,
            operator=row.operator,
            limit=limit,
            unit=row.unit,
            scale=SCALES.get(row.scale, abs(row.limit) or 1.0),
            text_status=row.text_status,
            source=row.source,
            where=where,
            binding=binding,
            exact=row.exact,
        )
    )
