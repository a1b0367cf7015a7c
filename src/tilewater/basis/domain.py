# SPDX-License-Identifier: Apache-2.0
"""Refusal of numbers for which an equation has no meaning.

Each function returns nothing when all is well, and raises `OutOfDomain` with a message of the
house form otherwise: what is wrong with value and unit, what is allowed, what to do next. A value
that is not a number is refused too; a missing day is dealt with before it comes here.
"""

import math

import numpy as np
from numpy.typing import NDArray

from tilewater.basis.errors import OutOfDomain

Number = float | NDArray[np.float64]


def refuse(name: str, value: Number, unit: str, allowed: str, advice: str) -> OutOfDomain:
    """Return the error for a value that is not allowed, to be raised.

    Parameters
    ----------
    name : str
        Name of the parameter.
    value : float or array
        What was given, in `unit`.
    unit : str
        Its unit, "" for none.
    allowed : str
        What is allowed, a sentence without its full stop.
    advice : str
        What to do next, a sentence without its full stop.

    Returns
    -------
    OutOfDomain
        "depth is -0.1 m. It cannot be negative. Check the datum."
    """
    given = f"{value:g}" if np.ndim(value) == 0 else np.array2string(np.asarray(value), threshold=5)
    return OutOfDomain(f"{name} is {f'{given} {unit}'.strip()}. {allowed}. {advice}.")


def require_positive(name: str, value: Number, unit: str, advice: str) -> None:
    """Refuse zero, negative values and what is no number.

    Parameters
    ----------
    name : str
        Name of the parameter.
    value : float or array
        What was given, in `unit`.
    unit : str
        Its unit, "" for none.
    advice : str
        What to do next, a sentence without its full stop.

    Raises
    ------
    OutOfDomain
        If any value is not above zero.
    """
    if isinstance(value, np.ndarray):
        for each in value[~(value > 0)].flat:
            raise refuse(name, float(each), unit, "It must be above zero", advice)
    elif not value > 0:
        raise refuse(name, value, unit, "It must be above zero", advice)


def require_not_negative(name: str, value: Number, unit: str, advice: str) -> None:
    """Refuse negative values and what is no number.

    Parameters
    ----------
    name : str
        Name of the parameter.
    value : float or array
        What was given, in `unit`.
    unit : str
        Its unit, "" for none.
    advice : str
        What to do next, a sentence without its full stop.

    Raises
    ------
    OutOfDomain
        If any value is below zero.
    """
    if isinstance(value, np.ndarray):
        for each in value[~(value >= 0)].flat:
            raise refuse(name, float(each), unit, "It cannot be negative", advice)
    elif not value >= 0:
        raise refuse(name, value, unit, "It cannot be negative", advice)


def require_share(name: str, value: Number, advice: str) -> None:
    """Refuse what is no share: allowed are 0 to 1, ends included.

    Parameters
    ----------
    name : str
        Name of the parameter.
    value : float or array
        What was given. [-]
    advice : str
        What to do next, a sentence without its full stop.

    Raises
    ------
    OutOfDomain
        If any value is below 0 or above 1.
    """
    if isinstance(value, np.ndarray):
        for each in value[~((value >= 0) & (value <= 1))].flat:
            raise refuse(name, float(each), "", "A share lies between 0 and 1", advice)
    elif not 0 <= value <= 1:
        raise refuse(name, value, "", "A share lies between 0 and 1", advice)


def require_finite(name: str, value: Number, unit: str, advice: str) -> None:
    """Refuse infinity and what is no number.

    Parameters
    ----------
    name : str
        Name of the parameter.
    value : float or array
        What was given, in `unit`.
    unit : str
        Its unit, "" for none.
    advice : str
        What to do next, a sentence without its full stop.

    Raises
    ------
    OutOfDomain
        If any value is infinite or no number.
    """
    if isinstance(value, np.ndarray):
        for each in value[~np.isfinite(value)].flat:
            raise refuse(name, float(each), unit, "A number is needed", advice)
    elif not math.isfinite(value):
        raise refuse(name, value, unit, "A number is needed", advice)
