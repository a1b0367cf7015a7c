# SPDX-License-Identifier: Apache-2.0
"""What a computation remembers of the one before, so that only what moved is computed again.

A step is taken over where its function is the same and each of its arguments is the same: the same
object, or an equal number, word or tuple of those. A function of the chain gives the same for the
same arguments, so what is taken over is what would be computed. An array or a record that was
made anew counts as moved, whatever it holds.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import copysign
from typing import Any

from tilewater.basis.findings import Finding


class Stopped(Exception):
    """A computation that nobody waits for any more."""


@dataclass(frozen=True, slots=True)
class Call:
    """One step of an earlier computation: what it was made from, and what came of it."""

    function: Callable[..., Any]
    title: str
    arguments: Mapping[str, Any]
    value: Any
    findings: tuple[Finding, ...]


class Memory:
    """The steps of an earlier computation by key, and those of the present one.

    Parameters
    ----------
    before : mapping of str to Call
        Steps of an earlier computation.
    goes_on : callable
        Asked before each step; once it says no, `Stopped` is raised.
    quick : mapping of callable to callable
        Compiled twins by the functions that they compute the same as; a step is recorded under
        the function that can be read.
    """

    def __init__(
        self,
        before: Mapping[str, Call] | None = None,
        goes_on: Callable[[], bool] = lambda: True,
        quick: Mapping[Callable[..., Any], Callable[..., Any]] | None = None,
    ) -> None:
        self.before = {} if before is None else before
        self.quick = {} if quick is None else quick
        self.calls: dict[str, Call] = {}
        self._goes_on = goes_on

    def recall(
        self, key: str, function: Callable[..., Any], title: str, arguments: Mapping[str, Any]
    ) -> Call | None:
        """The same step of the earlier computation; None where it has to be computed."""
        if not self._goes_on():
            raise Stopped(f"Stopped before {key}.")
        call = self.before.get(key)
        if call is None or call.function is not function or call.title != title:
            return None
        old = call.arguments
        if len(old) != len(arguments):
            return None
        for name, value in arguments.items():
            if name not in old or not is_same(old[name], value):
                return None
        return call


def is_same(old: Any, new: Any) -> bool:
    """Whether a function cannot tell two values apart.

    Parameters
    ----------
    old, new : object
        Values of two computations.

    Returns
    -------
    bool
        True for the same object, and for equal numbers, words and tuples of them. [-]

    Notes
    -----
    0 and -0, 1 and 1.0 and true are told apart. A number that is none is not the same as itself
    made anew.
    """
    if old is new:
        return True
    kind = type(old)
    if kind is not type(new):
        return False
    if kind is float:
        return bool(old == new) and (old != 0.0 or copysign(1.0, old) == copysign(1.0, new))
    if kind is tuple:
        return len(old) == len(new) and all(map(is_same, old, new))
    return kind in (str, int, bool) and bool(old == new)
