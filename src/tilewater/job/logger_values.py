# SPDX-License-Identifier: Apache-2.0
"""Numbers of a logger's column: which column it is, its unit, its decimals, what is missing.

A column is taken by itself only where one alone can be meant, and that is told; else it is asked.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.unit_table import UNITS, Unit
from tilewater.basis.units import did_you_mean, to_si
from tilewater.job.fields import Wrong
from tilewater.job.logger_text import LoggerTable, name_and_unit
from tilewater.job.rows import plain_number

Floats = NDArray[np.float64]

MISSING = frozenset(
    ("", "na", "nan", "n/a", "-", "--", "---", "null", "none", "missing", "logged", "nodata")
)
MISSING_NUMBERS = frozenset((-9999.0, -99999.0, -999999.0))
"""Numbers that instruments write where they have none."""
WATER = 9806.65
"""Pressure under one metre of water of 1000 kg/m3, by which columns of water are counted, in Pa."""
MERCURY = 13595.1 * 9.80665
"""The same of mercury."""

_DIMENSIONS = {
    "stage": ("length",),
    "level": ("length",),
    "rain": ("length",),
    "temperature": ("temperature",),
    "flow": ("flow",),
    "conductivity": (),
    "air pressure": (),
}
_PRESSURES = {
    **dict.fromkeys(("pa",), 1.0),
    **dict.fromkeys(("hpa", "mbar", "mb", "millibar"), 100.0),
    **dict.fromkeys(("kpa", "kpaa", "kpag"), 1000.0),
    **dict.fromkeys(("bar",), 1e5),
    **dict.fromkeys(("psi", "psia", "psig"), float(to_si(1.0, "psi"))),
    **dict.fromkeys(("cm of water", "cmh2o", "cm h2o", "cm water"), WATER / 100),
    **dict.fromkeys(("m of water", "mh2o", "m h2o", "m water"), WATER),
    **dict.fromkeys(("ft of water", "fth2o", "ft h2o", "ft water"), WATER * to_si(1.0, "ft")),
    **dict.fromkeys(("in of water", "inh2o", "in h2o", "in water"), WATER * to_si(1.0, "in")),
    **dict.fromkeys(("mmhg", "mm hg"), MERCURY / 1000),
    **dict.fromkeys(("inhg", "in hg"), MERCURY * to_si(1.0, "in")),
}
_SAID = {"psia": True, "kpaa": True, "psig": False, "kpag": False}
_CONDUCTIVITIES = {"s/m": 1.0, "ms/cm": 0.1, "us/cm": 1e-4, "ms/m": 1e-3, "ds/m": 0.1}
_NAMES = {
    "stage": ("stage", "depth", "level", "pres", "water"),
    "level": ("level", "elevation", "stage"),
    "rain": ("rain", "precip"),
    "temperature": ("temp",),
    "flow": ("flow", "discharge"),
    "conductivity": ("cond",),
    "air pressure": ("pres", "baro"),
}
_OTHERS = ("temp", "batt", "event", "serial", "quality")
"""What a column of a stage is surely not called."""
_DECIMAL_COMMA = re.compile(r"[-+]?\d*,\d+")
_THOUSANDS = re.compile(r"[-+]?\d{1,3}(,\d{3})+(\.\d*)?")


@dataclass(frozen=True)
class ColumnUnit:
    """Unit of a column: what its numbers are multiplied with, after its zero is taken off.

    Attributes
    ----------
    words : str
        As it stands in the file or the job.
    factor, zero : float
        To coherent SI, pressures to Pa.
    is_pressure : bool
    is_absolute : bool or None
        Whether that of the air is in it; None where the unit does not say.
    """

    words: str
    factor: float
    zero: float = 0.0
    is_pressure: bool = False
    is_absolute: bool | None = None


def column_by_name(table: LoggerTable, asked: str) -> int:
    """Number of the column that the job names, counted from 0.

    Raises
    ------
    Wrong
        If there is none, or several are called so.
    """
    if asked.isdigit() and 1 <= int(asked) <= len(table.heads):
        return int(asked) - 1
    wanted = asked.strip().casefold()
    whole = [i for i, head in enumerate(table.heads) if head.casefold() == wanted]
    named = [i for i, head in enumerate(table.heads) if name_and_unit(head)[0].casefold() == wanted]
    found = whole or named
    if len(found) == 1:
        return found[0]
    known = [name_and_unit(head)[0] for head in table.heads]
    if found:
        raise Wrong(f"{len(found)} columns are called '{asked}'. Name one by its number from 1.")
    raise Wrong(
        f"there is no column '{asked}'. The columns are {', '.join(known)}."
        f"{did_you_mean(asked, known)}"
    )


def column_of(table: LoggerTable, measures: str, taken: Sequence[int]) -> int:
    """Number of the column that alone can hold what a logger measures.

    Raises
    ------
    Wrong
        If none or several can.
    """
    free = [i for i in range(len(table.heads)) if i not in taken]
    named = [i for i in free if _is_called(table.heads[i], measures)]
    if len(named) == 1:
        return named[0]
    several = named or [i for i in free if _holds_numbers(table.column(i))]
    if len(several) == 1:
        return several[0]
    heads = ", ".join(table.heads)
    raise Wrong(
        f"{len(several) or 'none'} of its columns can be the {measures}: {heads}. "
        f'Name it, like value_column = "{table.heads[several[0] if several else -1]}".'
    )


def unit_of(measures: str, asked: str | None, head: str) -> ColumnUnit:
    """Unit of a column: that of the job, else that of its heading.

    Raises
    ------
    Wrong
        If there is none, or it is no unit of what is measured.
    """
    if asked is not None:
        if (unit := _unit(measures, asked)) is None:
            raise Wrong(f"'{asked}' is no unit of {_a(measures)}. Known: {_known(measures)}.")
        return unit
    for words in _unit_words(head):
        if (unit := _unit(measures, words)) is not None:
            said = head.casefold()
            is_absolute = True if unit.is_pressure and "abs" in said else unit.is_absolute
            return ColumnUnit(unit.words, unit.factor, unit.zero, unit.is_pressure, is_absolute)
    raise Wrong(
        f"the column '{head}' has no unit of {_a(measures)}. Write it under the logger, like "
        f'unit = "{_known(measures).split(", ")[0]}". Known: {_known(measures)}.'
    )


def numbers_of(
    cells: Sequence[str], lines: Sequence[int], decimals: str | None, separator: str
) -> tuple[Floats, tuple[tuple[int, str], ...]]:
    """Numbers of a column, not a number where one is missing, and the cells at fault by line.

    Raises
    ------
    Wrong
        If a comma may part thousands or decimals.
    """
    different = set(cells)
    mark = decimals or _decimals_of(different, separator)
    read = {cell: _number(cell, mark) for cell in different}
    faults = [
        (lines[i], cell)
        for i, cell in enumerate(cells)
        if read[cell] is None and cell.casefold() not in MISSING
    ]
    values = np.array([np.nan if read[c] is None else read[c] for c in cells], float)
    return values, tuple(faults)


def _number(cell: str, mark: str) -> float | None:
    if mark == "comma":
        cell = cell.replace(".", "").replace(",", ".")
    elif "," in cell and _THOUSANDS.fullmatch(cell):
        cell = cell.replace(",", "")
    value = plain_number(cell) if cell else None
    return float("nan") if value in MISSING_NUMBERS else value


def _decimals_of(cells: set[str], separator: str) -> str:
    """Mark before the decimals of a column whose job does not name it."""
    with_comma = [cell for cell in cells if "," in cell]
    if not with_comma:
        return "point"
    with_point = any("." in cell for cell in cells)
    if all(_THOUSANDS.fullmatch(cell) for cell in with_comma):
        if with_point:
            return "point"
        raise Wrong(
            f"'{min(with_comma)}' may be a number of thousands or one with three decimals. Write "
            'decimals = "comma" or decimals = "point" under the logger in job.toml.'
        )
    if all(_DECIMAL_COMMA.fullmatch(cell) for cell in with_comma) and not with_point:
        return "comma"
    return "point"


def _is_called(head: str, measures: str) -> bool:
    name = name_and_unit(head)[0].casefold()
    if measures != "temperature" and any(other in name for other in _OTHERS):
        return False
    if measures == "stage" and "baro" in name:
        return False
    return any(word in name for word in _NAMES[measures])


def _holds_numbers(cells: Sequence[str]) -> bool:
    some = [cell for cell in cells[:200] if cell]
    return bool(some) and all(
        plain_number(cell.replace(",", ".")) is not None or cell.casefold() in MISSING
        for cell in some
    )


def _unit_words(head: str) -> list[str]:
    """What in a heading may be a unit, the likelier first."""
    name, behind = name_and_unit(head)
    first = re.split(r"[(,;]", behind)[0].strip()
    last = re.split(r"[\s_]+", name)[-1]
    return [words for words in (behind, first, last) if words]


def _spelling(text: str) -> str:
    plain = text.strip().casefold().replace("µ", "u").replace("μ", "u").replace("°", "deg")
    return re.sub(r"\s+", " ", plain).replace("₂", "2")


def _unit(measures: str, text: str) -> ColumnUnit | None:
    words = _spelling(text)
    if measures in ("stage", "air pressure") and words in _PRESSURES:
        is_absolute = (
            {"a": True, "g": False}.get(words[3:]) if words[:3] in ("psi", "kpa") else None
        )
        return ColumnUnit(text, _PRESSURES[words], 0.0, True, is_absolute)
    if measures == "conductivity" and words in _CONDUCTIVITIES:
        return ColumnUnit(text, _CONDUCTIVITIES[words])
    for unit in UNITS:
        if unit.dimension in _DIMENSIONS[measures] and words in _spellings(unit):
            return ColumnUnit(text, float(unit.factor), float(unit.zero))
    return None


def _spellings(unit: Unit) -> tuple[str, ...]:
    return tuple(word.casefold() for word in (unit.name, *unit.also))


def _known(measures: str) -> str:
    if measures == "air pressure":
        return "kPa, hPa, mbar, psi, mmHg, inHg"
    if measures == "conductivity":
        return "uS/cm, mS/cm, S/m"
    own = {
        "stage": "ft, in, m, cm, mm, kPa, psi, mbar, cm of water",
        "level": "ft, survey ft, m",
        "rain": "in, mm",
        "temperature": "degC, degF",
        "flow": "cfs, gpm, L/s, m3/s",
    }
    return own[measures]


def _a(measures: str) -> str:
    return f"an {measures}" if measures[0] in "ae" else f"a {measures}"
