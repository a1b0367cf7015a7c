# SPDX-License-Identifier: Apache-2.0
"""A value that is not known: not NaN, not None, not zero."""

from dataclasses import dataclass
from typing import Any, TypeGuard


@dataclass(frozen=True)
class Unknown:
    """A value nobody has yet.

    Attributes
    ----------
    why : str
        Why it is not known, in words of the trade.
    measure : str
        What would make it known.
    causes : tuple of str
        Keys of the inputs that are not known themselves; empty for an input.
    """

    why: str
    measure: str = ""
    causes: tuple[str, ...] = ()


def is_unknown(value: Any) -> TypeGuard[Unknown]:
    """Whether a value is not known."""
    return isinstance(value, Unknown)
