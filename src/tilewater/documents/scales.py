# SPDX-License-Identifier: Apache-2.0
"""Scales that stand on an engineer's rule, and figures as the reader wants them."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass

from tilewater.basis.units import Foot, System, format_quantity, to_si

US_STEPS = (1, 2, 3, 4, 5, 6, 8, 10, 20, 30, 40, 50, 60, 80, 100, 200, 300, 400, 500, 600, 1000)
"""Feet to the inch of paper."""
SI_STEPS = (10, 20, 25, 50, 100, 125, 200, 250, 400, 500, 750, 1000, 1250, 2000, 2500, 5000, 10000)
"""Metres in the ground to a metre of paper."""


_TIMES: ContextVar[float] = ContextVar("times", default=1.0)


@contextmanager
def printed_larger(times: float) -> Iterator[None]:
    """Draw for paper that is printed so many times larger, words and lines with it.

    Scales are chosen and told as they will be once it is printed.

    Parameters
    ----------
    times : float
        Printed size over drawn size. [-]
    """
    token = _TIMES.set(times)
    try:
        yield
    finally:
        _TIMES.reset(token)


def printed_times() -> float:
    """How many times larger than drawn the paper is printed. [-]"""
    return _TIMES.get()


def fitting_scale(length: float, room_mm: float, units: System) -> float:
    """The largest usual scale at which a length fits into a room of paper.

    Parameters
    ----------
    length : float
        [m]
    room_mm : float
        [mm]
    units : "us" or "si"

    Returns
    -------
    float
        Metres of ground on a metre of paper as drawn; the smallest usual scale where none fits.
        [-]
    """
    if units == "us":
        ratios = [step * to_si(1.0, "ft") / to_si(1.0, "in") for step in US_STEPS]
    else:
        ratios = [float(step) for step in SI_STEPS]
    ratios = [ratio * printed_times() for ratio in ratios]
    return next((ratio for ratio in ratios if length * 1000.0 / ratio <= room_mm), ratios[-1])


def round_step(length: float, parts: float) -> float:
    """A round number that goes about `parts` times into a length."""
    steps = [m * 10.0**e for e in range(-3, 5) for m in (1, 2, 5)]
    return min(steps, key=lambda step: abs(step - length / parts))


def foot_of(stated: object) -> Foot:
    """What a foot is on the ground of a job, as the job states it."""
    return "us survey foot" if stated == "us survey foot" else "international foot"


@dataclass(frozen=True)
class Figures:
    """Values in the units of the reader, with the digits of the trade."""

    units: System
    foot: Foot = "international foot"

    def elevation(self, value: float) -> str:
        """An elevation without its unit."""
        return self._say(value, "elevation", unit=False)

    def length(self, value: float) -> str:
        """A length with its unit."""
        return self._say(value, "length")

    def fall(self, value: float) -> str:
        """A difference of elevations without its unit."""
        return self._say(value, "length", unit=False)

    def station(self, value: float) -> str:
        """A station along the main."""
        return self._say(value, "station")

    def size(self, value: float) -> str:
        """A pipe or a stack of boards."""
        return self._say(value, "size")

    def about(self, value: float) -> str:
        """A length to four figures, for what is not staked to the hundredth."""
        return self._say(value, self.unit)

    def grade(self, value: float) -> str:
        """A grade of a pipe."""
        return self._say(value, "slope")

    def flow(self, value: float) -> str:
        """A flow."""
        return self._say(value, "flow")

    @property
    def unit(self) -> str:
        """Unit of lengths."""
        return "ft" if self.units == "us" else "m"

    @property
    def metre_per_unit(self) -> float:
        """A foot of the job's grid, or a metre. [m]"""
        if self.units == "si":
            return 1.0
        return to_si(1.0, "survey ft" if self.foot == "us survey foot" else "ft")

    def _say(self, value: float, kind: str, *, unit: bool = True) -> str:
        return format_quantity(value, kind, system=self.units, unit=unit, foot=self.foot)
