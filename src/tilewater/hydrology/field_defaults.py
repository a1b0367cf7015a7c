# SPDX-License-Identifier: Apache-2.0
"""What is to be said of the defaults of a field: value, what it rests on, usual range."""

from dataclasses import dataclass

from tilewater.basis.tables import read_table
from tilewater.hydrology.field_parts import DEFAULTS, PACKAGE


@dataclass(frozen=True)
class FieldDefault:
    """What is to be said of a default.

    Attributes
    ----------
    title : str
        What it is.
    typed : str
        Value with the unit of its row.
    unit : str
        Unit of the value as computed with; that of its row where there is no SI unit for it.
    label : str
        What it rests on, and its usual range.
    """

    title: str
    typed: str
    unit: str
    label: str


def field_default_words(slug: str) -> FieldDefault:
    """What is to be said of a default: its value as typed, what it rests on, its usual range.

    Parameters
    ----------
    slug : str
        Row of the table `practice_field_defaults`. [-]

    Returns
    -------
    FieldDefault
        Words. [-]

    Raises
    ------
    UnknownName
        If there is no such row.
    """
    row = read_table(PACKAGE, DEFAULTS).row(slug)
    unit = row.text("unit")
    plain = "" if unit == "-" else f" {unit}"
    ends = f"usual {row.number('low'):g} to {row.number('high'):g}{plain}".rstrip()
    return FieldDefault(
        slug.replace("-", " ").capitalize(),
        f"{row.number('value'):g}{plain}".rstrip(),
        SI_OF.get(unit, unit or "mm/degC/day"),
        f"{HONEST[row.text('seen')]}: {row.text('basis')}; {ends}",
    )


SI_OF = {"mm/day": "m/s", "mm/yr": "m/s", "m/day": "m/s", "mm": "m"}
HONEST = {
    "read": "read",
    "memory": "from memory",
    "practice": "common practice",
    "derived": "derived in this project",
}
"""What a default rests on, in words."""
