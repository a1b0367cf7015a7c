# SPDX-License-Identifier: Apache-2.0
"""The page of units, taken from the one table of units."""

from collections.abc import Iterator

from tilewater.basis.unit_table import BASE, DOCSTRING_UNITS, KINDS, UNITS

HEAD = """# Units

Written by `python3 dev.py docs` from `tilewater.basis.unit_table`, the only place where a factor
stands.

Inside the program a bare name is coherent SI (m, m2, m3/s, kg, Pa, radians), temperatures are in
degrees Celsius and slopes are ratios. Whatever else a number is in, its name says so:
`rate_g_per_m3_day`, `depth_mm`. By the habit of the trade, nitrate is in mg/L as N and its times
are in days.

At the doors every quantity carries its unit: `62 acre`, `3/8 in/day`, `-3 degC`. A quantity
without a unit is a fault, never a guess. Answers come in US customary units, or in SI on request.
The international foot and the US survey foot are different units, and `ft` is the first.
"""


def units_page() -> str:
    """Return the page: how each kind is printed, then every unit that is understood."""
    docstring_units = ", ".join(f"`{unit}`" for unit in sorted(DOCSTRING_UNITS))
    parts = [
        HEAD,
        "## How quantities are printed",
        "",
        *printed_rows(),
        "",
        "## What is understood",
        "",
        "Shown to ten digits; the program holds exact fractions.",
        "",
        *understood_rows(),
        "",
        "## In docstrings",
        "",
        f"The unit in square brackets is one of {docstring_units}.",
    ]
    return "\n".join(parts) + "\n"


def printed_rows() -> Iterator[str]:
    """Yield the table of kinds."""
    yield "| kind | held in | US customary | SI |"
    yield "| --- | --- | --- | --- |"
    for kind in KINDS.values():
        name = kind.name.replace("_", " ")
        yield f"| {name} | {BASE[kind.dimension]} | {kind.us.unit} | {kind.si.unit} |"


def understood_rows() -> Iterator[str]:
    """Yield the table of units."""
    yield "| unit | of | one is | also written |"
    yield "| --- | --- | --- | --- |"
    for unit in UNITS:
        one = f"{float(unit.factor):.10g} {BASE[unit.dimension]}"
        also = ", ".join(f"`{spelling}`" for spelling in unit.also)
        yield f"| `{unit.name}` | {unit.dimension} | {one} | {also} |"
