# SPDX-License-Identifier: Apache-2.0
"""Quantities as people write them, and as they are printed: one parser, one formatter.

Inside the program a bare number is in the base unit of its dimension (`unit_table.BASE`): coherent
SI, temperature in degrees Celsius, nitrate in mg/L as N, removal rates in g/m3/day, money in USD.
`parse_quantity` brings what was typed there, `format_quantity` brings it back with the digits that
the trade prints. A quantity without a unit is a fault, never a guess.

`ft` is the international foot. Elevations and stations of a job whose grid is in US survey feet are
read and printed with `foot="us survey foot"`; the two are never mixed in silence.
"""

import math
import re
from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache
from typing import Literal, overload

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import UnitMismatch, UnknownName
from tilewater.basis.unit_table import BASE, DOCSTRING_UNITS, KINDS, UNITS, Kind, Shown, Unit
from tilewater.basis.unknown import Unknown

__all__ = [
    "BASE",
    "DOCSTRING_UNITS",
    "KINDS",
    "UNITS",
    "Foot",
    "Style",
    "System",
    "base_unit",
    "did_you_mean",
    "format_quantity",
    "from_si",
    "join_or",
    "parse_quantity",
    "to_si",
    "unit_label",
]

System = Literal["us", "si"]
Foot = Literal["international foot", "us survey foot"]
Style = Literal["plain", "two figures"]
Array = NDArray[np.float64]

_NUMBER = re.compile(
    r"""(?P<sign>[+-]?)\s*(?:
        (?P<whole>\d+)\s+(?P<top>\d+)/(?P<bottom>\d+)(?![\d.])     # 5 1/2 in
      | (?P<only_top>\d+)/(?P<only_bottom>\d+)(?![\d.])            # 3/8 in/day
      | (?P<decimal>(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d*)?(?:[eE][+-]?\d{1,3})?
                   |\.\d+(?:[eE][+-]?\d{1,3})?)(?![\d.,])
    )\s*(?P<unit>.*)""",
    re.VERBOSE,
)
LONGEST = 80
"""Letters of a quantity as typed; more are no quantity."""
_STATION = re.compile(r"(\d+)\+(\d{2}(?:\.\d+)?)\s*(?:ft|feet|')?")
_TYPOGRAPHY = str.maketrans(
    {"µ": "u", "μ": "u", "²": "2", "³": "3", "°": "deg", "−": "-", "\u00a0": " ", "\u2009": " "}
)


def parse_quantity(
    text: str, kind: str, *, bare: bool = False, foot: Foot = "international foot"
) -> float:
    """Value of a quantity as typed, in the base unit of its kind.

    Parameters
    ----------
    text : str
        Number and unit as a person writes them: `1,200 ft`, `.5 in`, `3/8 in/day`, `-3 degC`.
        Stations may be written `2+90`, slopes of a bank `1.5:1`.
    kind : str
        Name of a kind in `KINDS`.
    bare : bool
        Whether a number without a unit is taken as it stands; kinds that are numbers always are.
    foot : "international foot" or "us survey foot"
        What `ft` means in an elevation, a station or a coordinate.

    Returns
    -------
    float
        Value in the base unit of the kind, see `base_unit`.

    Raises
    ------
    UnitMismatch
        If the text has no number, no unit, an unknown unit or one of another kind.
    """
    return _parsed(text, kind, bare, foot)


@lru_cache(maxsize=4096)
def _parsed(text: str, kind: str, bare: bool, foot: Foot) -> float:
    """The same; a job asks for the bounds of sense of each of its fields by their texts."""
    asked = _kind(kind)
    plain = " ".join(text.translate(_TYPOGRAPHY).split())
    if len(plain) > LONGEST:
        raise UnitMismatch(_too_large(text))
    short = _shorthand(plain, asked, foot)
    if short is not None:
        return short
    number, unit_text = _split(text, plain, asked)
    value = _as_float(number, text)
    if not unit_text:
        if bare or asked.bare:
            return value
        raise UnitMismatch(f"'{text.strip()}' has no unit. Write {_both_ways(number, asked)}.")
    unit = _find(unit_text, asked.dimension)
    if unit is None:
        raise UnitMismatch(_wrong_unit(text.strip(), unit_text, asked))
    return _as_float(number * _foot_of(unit, asked, foot).factor + unit.zero, text)


def _as_float(number: Fraction, text: str) -> float:
    try:
        return float(number)
    except OverflowError:
        raise UnitMismatch(_too_large(text)) from None


def _too_large(text: str) -> str:
    short = " ".join(text.split())
    short = short if len(short) <= LONGEST else f"{short[:LONGEST]}..."
    return f"'{short}' is no number that can be counted with. Write it with fewer digits."


def format_quantity(
    value: float | Unknown,
    kind: str,
    *,
    system: System = "us",
    style: Style = "plain",
    unit: bool = True,
    foot: Foot = "international foot",
) -> str:
    """Text of a value in the base unit, with the digits and unit that the trade prints.

    Parameters
    ----------
    value : float or Unknown
        Value in the base unit of the kind.
    kind : str
        Name of a kind in `KINDS`, or of a unit, which is then used in either system.
    system : "us" or "si"
        Units of the reader.
    style : "plain" or "two figures"
        Two significant figures for anything that rests on kinetics.
    unit : bool
        Whether the unit is printed; without it for table columns headed by `unit_label`.
    foot : "international foot" or "us survey foot"
        What `ft` means in an elevation or a station.

    Returns
    -------
    str
        `1184.20 ft`, `0.930 cfs`, `$12,250`; "not known" for an unknown value and "no limit" for
        an infinite one.
    """
    if isinstance(value, Unknown):
        return "not known"
    shown, dimension = _shown(kind, system)
    if style == "two figures":
        shown = Shown(shown.unit, significant=2, trim=False)
    known = _find(shown.unit, dimension)
    if known is None:  # pragma: no cover - the table names only units that it holds
        raise UnknownName(f"No unit called '{shown.unit}'.")
    if kind in KINDS:
        known = _foot_of(known, KINDS[kind], foot)
    number = (value - float(known.zero)) / float(known.factor)
    if math.isinf(number):
        return "no limit"
    if kind == "station" and shown.unit == "ft":
        return _station(number)
    grouped = not (kind == "elevation" or kind in ("years", "days"))
    return _with_unit(_digits(number, shown, grouped=grouped), shown.unit if unit else "")


def unit_label(kind: str, system: System = "us") -> str:
    """Unit in which a kind is printed, for the head of a column."""
    return _shown(kind, system)[0].unit


def base_unit(kind: str) -> str:
    """Unit in which values of a kind are held."""
    return BASE[_kind(kind).dimension]


@overload
def to_si(value: float, unit: str) -> float: ...
@overload
def to_si(value: Array, unit: str) -> Array: ...
def to_si(value: float | Array, unit: str) -> float | Array:
    """Value in the base unit, from a value in a named unit."""
    known = _named(unit)
    return value * float(known.factor) + float(known.zero)


@overload
def from_si(value: float, unit: str) -> float: ...
@overload
def from_si(value: Array, unit: str) -> Array: ...
def from_si(value: float | Array, unit: str) -> float | Array:
    """Value in a named unit, from a value in the base unit."""
    known = _named(unit)
    return (value - float(known.zero)) / float(known.factor)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """` Did you mean ...?` for the nearest known word, or nothing."""
    folded = {k.casefold(): k for k in known}
    near = get_close_matches(word.casefold(), folded, n=1, cutoff=0.6)
    return f" Did you mean {folded[near[0]]}?" if near else ""


def join_or(words: Iterable[str]) -> str:
    """Words as a choice: `a, b or c`."""
    *first, last = words
    return f"{', '.join(first)} or {last}" if first else last


def _spelling(text: str) -> str:
    text = text.translate(_TYPOGRAPHY).replace("^", "").replace(" per ", "/")
    return re.sub(r"\s*([/:])\s*", r"\1", " ".join(text.split())).rstrip(".").casefold()


_BY_SPELLING: dict[tuple[str, str], Unit] = {
    (unit.dimension, _spelling(spelling)): unit
    for unit in UNITS
    for spelling in (unit.name, *unit.also)
}


def _find(text: str, dimension: str) -> Unit | None:
    return _BY_SPELLING.get((dimension, _spelling(text)))


def _anywhere(text: str) -> Unit | None:
    return next((u for d in BASE if (u := _find(text, d)) is not None), None)


def _named(text: str) -> Unit:
    unit = _anywhere(text)
    if unit is None:
        names = [u.name for u in UNITS]
        raise UnknownName(
            f"No unit called '{text}'. Known: {', '.join(names)}.{did_you_mean(text, names)}"
        )
    return unit


def _kind(name: str) -> Kind:
    if name not in KINDS:
        raise UnknownName(
            f"No kind of quantity called '{name}'. Known: {', '.join(KINDS)}."
            f"{did_you_mean(name, KINDS)}"
        )
    return KINDS[name]


def _foot_of(unit: Unit, kind: Kind, foot: Foot) -> Unit:
    on_grid = kind.name in ("elevation", "station", "coordinate") and unit.name == "ft"
    return _named("survey ft") if on_grid and foot == "us survey foot" else unit


def _shorthand(plain: str, kind: Kind, foot: Foot) -> float | None:
    if kind.name == "station" and (match := _STATION.fullmatch(plain)):
        feet = 100 * Fraction(match[1]) + Fraction(match[2])
        return float(feet * _foot_of(_named("ft"), kind, foot).factor)
    return None


def _split(text: str, plain: str, kind: Kind) -> tuple[Fraction, str]:
    money = kind.dimension in ("money", "yearly cost", "unit price") and plain.startswith("$")
    match = _NUMBER.fullmatch(plain[1:].strip() if money else plain)
    if match is None:
        example = _both_ways(Fraction(60), kind)
        raise UnitMismatch(
            f"'{text.strip()}' is not a number with a unit. Write it like {example}."
        )
    if match["decimal"]:
        number = Fraction(match["decimal"].replace(",", ""))
    else:
        top, bottom = match["top"] or match["only_top"], match["bottom"] or match["only_bottom"]
        if int(bottom) == 0:
            raise UnitMismatch(f"'{text.strip()}' divides by zero. Write a number with its unit.")
        number = int(match["whole"] or 0) + Fraction(int(top), int(bottom))
    unit = match["unit"].strip()
    if money:
        unit = f"USD {unit}"
    return (-number if match["sign"] == "-" else number), unit


def _both_ways(number: Fraction, kind: Kind) -> str:
    """The number in the unit of either system: what a person may have meant, both written out."""
    us, si = _find(kind.us.unit, kind.dimension), _find(kind.si.unit, kind.dimension)
    typed = f"{float(number):.10g}"
    if kind.bare or us is None or si is None:
        return typed
    first = f"{typed} {us.name}"
    if kind.name == "slope":
        return f"{first} or {typed} ft/ft"
    if us is si:
        return first
    other = float((number * us.factor + us.zero - si.zero) / si.factor)
    return (
        f"{first} or {_digits(other, Shown('', significant=3, trim=True), grouped=False)} {si.name}"
    )


def _wrong_unit(text: str, unit_text: str, kind: Kind) -> str:
    names = [u.name for u in UNITS if u.dimension == kind.dimension]
    other = _anywhere(unit_text)
    if other is not None:
        found = next(k for k in KINDS.values() if k.dimension == other.dimension)
        write = "Write the number alone" if kind.bare else f"Write it in {join_or(names)}"
        return f"'{text}' is {found.article}; asked for is {kind.article}. {write}."
    spellings = [s for u in UNITS if u.dimension == kind.dimension for s in (u.name, *u.also)]
    return (
        f"No unit called '{unit_text}' for {kind.article}. Known: {', '.join(names)}."
        f"{did_you_mean(unit_text, spellings)}"
    )


def _shown(kind: str, system: System) -> tuple[Shown, str]:
    if kind in KINDS:
        known = KINDS[kind]
        return (known.us if system == "us" else known.si), known.dimension
    unit = _named(kind)
    decimals = 2 if unit.dimension == "unit price" else None
    return Shown(unit.name, decimals, None if decimals else 4, trim=not decimals), unit.dimension


def _digits(number: float, shown: Shown, *, grouped: bool) -> str:
    decimals = shown.decimals
    if decimals is None:
        significant = shown.significant or 3
        # rounding first: 0.9996 to three figures is 1.00, not 1.000
        size = abs(float(f"{number:.{significant - 1}e}"))
        decimals = significant - 1 - (math.floor(math.log10(size)) if size else 0)
    # a half goes up, as on paper; twelve digits first, so that a unit's last bit cannot turn it
    step = Decimal(1).scaleb(-decimals)
    rounded = Decimal(f"{number:.12g}").quantize(step, ROUND_HALF_UP)
    text = f"{rounded or Decimal(0):{',' if grouped else ''}.{max(decimals, 0)}f}"
    return text.rstrip("0").rstrip(".") if shown.trim and "." in text else text


def _station(feet: float) -> str:
    tenths = round(abs(feet) * 10)
    hundreds, rest = divmod(tenths, 1000)
    text = f"{hundreds}+{rest // 10:02d}" + (f".{rest % 10}" if rest % 10 else "")
    return f"-{text}" if feet < 0 and tenths else text


def _with_unit(digits: str, unit: str) -> str:
    if unit.startswith("USD"):
        sign, amount = ("-", digits[1:]) if digits.startswith("-") else ("", digits)
        return f"{sign}${amount}{unit.removeprefix('USD')}"
    if unit in ("", "-", ":1"):
        return digits + unit.removeprefix("-")
    return f"{digits} {unit}"
