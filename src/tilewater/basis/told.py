# SPDX-License-Identifier: Apache-2.0
"""Quantities inside sentences, so that a sentence can be read in either system of units.

A sentence of the program is written once. Where it tells a length, a flow or a velocity it holds
the number itself between two marks, and the marks become digits and a unit when the sentence is
read: US customary units as the trade has them here, or SI with about as many digits. Sentences
never leave the program with marks in them.
"""

import re
from typing import NamedTuple

from tilewater.basis.units import Foot, System, from_si

_OPEN, _BETWEEN, _CLOSE = "\ue000", "\ue001", "\ue002"
_QUANTITY = re.compile(f"{_OPEN}([^{_CLOSE}]*){_CLOSE}")


class _Pair(NamedTuple):
    """A unit of the trade with its word, and the one that stands for it in SI.

    Decimals of the first shift by `more` in the second; other formats become `figures`.
    """

    us: str
    word: str
    si: str
    si_word: str
    more: int
    figures: str


_PAIRS = {
    "ft": _Pair("ft", "ft", "m", "m", 1, ".3g"),
    "survey ft": _Pair("survey ft", "ft", "m", "m", 1, ".3g"),
    "in": _Pair("in", "in", "mm", "mm", -1, ".0f"),
    "cfs": _Pair("cfs", "cfs", "L/s", "L/s", -1, ".3g"),
    "ft/s": _Pair("ft/s", "ft/s", "m/s", "m/s", 0, ".2g"),
    "acres": _Pair("acre", "acres", "ha", "ha", 0, ".3g"),
    "lb": _Pair("lb", "lb", "kg", "kg", 0, ".3g"),
    "CY": _Pair("CY", "CY", "m3", "m3", 0, ".3g"),
    "USD/lb": _Pair("USD/lb", "a pound", "USD/kg", "a kilogram", 0, ",.2f"),
}


def feet(length: float, digits: str = ".2f", *, bare: bool = False) -> str:
    """A length for a sentence: feet, or metres to one decimal more.

    Parameters
    ----------
    length : float
        The length. [m]
    digits : str
        Format of the feet. [-]
    bare : bool
        Whether its unit is left to a second quantity behind it, as in "2 to 3 ft". [-]

    Returns
    -------
    str
        The quantity between its marks. [-]
    """
    return _marked(length, "ft", digits, bare)


def elevation(level: float, foot: Foot = "international foot") -> str:
    """An elevation for a sentence: hundredths of the foot of the job, or millimetres of a metre.

    Parameters
    ----------
    level : float
        The elevation. [m]
    foot : str
        What a foot is in it. [-]

    Returns
    -------
    str
        The quantity between its marks. [-]
    """
    return _marked(level, "survey ft" if foot == "us survey foot" else "ft", ".2f", False)


def cubic_yards(volume: float, digits: str = ".0f", *, bare: bool = False) -> str:
    """A volume for a sentence: cubic yards, or cubic metres.

    Parameters
    ----------
    volume : float
        The volume. [m3]
    digits : str
        Format of the cubic yards. [-]
    bare : bool
        As of `feet`. [-]

    Returns
    -------
    str
        The quantity between its marks. [-]
    """
    return _marked(volume, "CY", digits, bare)


def dollars_a_pound(price_of_mass: float) -> str:
    """A price of mass for a sentence that has the dollar sign before it.

    Parameters
    ----------
    price_of_mass : float
        The price of a kilogram. [USD/kg]

    Returns
    -------
    str
        The quantity between its marks. [-]
    """
    return _marked(price_of_mass, "USD/lb", ",.2f", False)


def inches(length: float, digits: str = "g", *, bare: bool = False) -> str:
    """A length for a sentence: inches, or whole millimetres.

    Parameters
    ----------
    length : float
        The length. [m]
    digits : str
        Format of the inches. [-]
    bare : bool
        As of `feet`. [-]

    Returns
    -------
    str
        The quantity between its marks. [-]
    """
    return _marked(length, "in", digits, bare)


def cfs(flow: float, digits: str = ".3f", *, bare: bool = False) -> str:
    """A flow for a sentence: cubic feet a second, or litres a second.

    Parameters
    ----------
    flow : float
        The flow. [m3/s]
    digits : str
        Format of the cubic feet a second. [-]
    bare : bool
        As of `feet`. [-]

    Returns
    -------
    str
        The quantity between its marks. [-]
    """
    return _marked(flow, "cfs", digits, bare)


def feet_a_second(velocity: float, digits: str = ".2f", *, bare: bool = False) -> str:
    """A velocity for a sentence: feet a second, or metres a second.

    Parameters
    ----------
    velocity : float
        The velocity. [m/s]
    digits : str
        Format of the feet a second. [-]
    bare : bool
        As of `feet`. [-]

    Returns
    -------
    str
        The quantity between its marks. [-]
    """
    return _marked(velocity, "ft/s", digits, bare)


def acres(area: float, digits: str = ".3g", *, bare: bool = False) -> str:
    """An area of land for a sentence: acres, or hectares.

    Parameters
    ----------
    area : float
        The area. [m2]
    digits : str
        Format of the acres. [-]
    bare : bool
        As of `feet`. [-]

    Returns
    -------
    str
        The quantity between its marks. [-]
    """
    return _marked(area, "acres", digits, bare)


def pounds(mass: float, digits: str = ".0f", *, bare: bool = False) -> str:
    """A mass for a sentence: pounds, or kilograms.

    Parameters
    ----------
    mass : float
        The mass. [kg]
    digits : str
        Format of the pounds. [-]
    bare : bool
        As of `feet`. [-]

    Returns
    -------
    str
        The quantity between its marks. [-]
    """
    return _marked(mass, "lb", digits, bare)


def _marked(value: float, pair: str, digits: str, bare: bool) -> str:
    parts = (repr(float(value)), pair, digits, "bare" if bare else "")
    return f"{_OPEN}{_BETWEEN.join(parts)}{_CLOSE}"


def in_units(sentence: str, system: System) -> str:
    """A sentence with its quantities in the units of the reader.

    Parameters
    ----------
    sentence : str
        With quantities between marks, or without any. [-]
    system : "us" or "si"
        Units of the reader. [-]

    Returns
    -------
    str
        The sentence as it is read. [-]
    """
    return _QUANTITY.sub(lambda match: _read(match[1], system), sentence)


def _read(quantity: str, system: System) -> str:
    number, name, digits, bare = quantity.split(_BETWEEN)
    pair = _PAIRS[name]
    unit, word, form = (
        (pair.us, pair.word, digits)
        if system == "us"
        else (pair.si, pair.si_word, _si_form(pair, digits))
    )
    return f"{from_si(float(number), unit):{form}}" + ("" if bare else f" {word}")


def _si_form(pair: _Pair, digits: str) -> str:
    """Format of the SI value: decimals shifted, or figures where the trade has figures."""
    match = re.fullmatch(r"\.(\d)f", digits)
    if match is None:
        return pair.figures
    return f".{max(0, int(match[1]) + pair.more)}f"
