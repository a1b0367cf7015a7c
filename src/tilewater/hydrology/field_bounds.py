# SPDX-License-Identifier: Apache-2.0
"""Bounds within which a value of the soil may be fitted: its usual range, on a scale from 0 to 1.

The ranges are those of the table `practice_field_defaults`; what lies outside of
them is for the engineer to type.
"""

import math
from dataclasses import dataclass

from tilewater.basis.errors import OutOfDomain
from tilewater.basis.tables import read_table
from tilewater.basis.unit_table import UNITS
from tilewater.basis.units import to_si
from tilewater.hydrology.field_parts import DEFAULTS, PACKAGE, SLUGS, FieldSoil

FIGURES = 3
"""Figures of a fitted value, so that what is written down is what was run."""


@dataclass(frozen=True)
class Bounds:
    """Bounds of a value of the soil, in the unit of its row.

    Attributes
    ----------
    slug : str
        Row of the defaults.
    unit : str
    low, high : float
    names : tuple of str
        Values of `FieldSoil` that it stands for.
    """

    slug: str
    unit: str
    low: float
    high: float
    names: tuple[str, ...]

    def at(self, place: float) -> float:
        """Value at a share of the way from low to high; by ratios where low is above 0."""
        if place <= 0.0:
            return self.low
        if place >= 1.0:
            return self.high
        if self.low > 0.0:
            value = self.low * (self.high / self.low) ** place
        else:
            value = self.low + (self.high - self.low) * place
        return float(f"{value:.{FIGURES}g}")

    def place(self, value: float) -> float:
        """Share of the way from low to high at which a value lies."""
        value = min(max(value, self.low), self.high)
        if self.low > 0.0:
            return math.log(value / self.low) / math.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)

    def of(self, soil: FieldSoil) -> float:
        """The value of a soil, in the unit of the row; it lies within and is one value."""
        values = {getattr(soil, name) / self.in_si(1.0) for name in self.names}
        value = float(f"{values.pop():.12g}")
        if values or not self.low <= value <= self.high:
            raise OutOfDomain(
                f"{self.slug} is {value:g} {self.unit}. A value that is fitted is one for the "
                f"whole soil and begins within {self.low:g} to {self.high:g}. Leave it out of "
                f"the fit."
            )
        return value

    def typed(self, value: float) -> str:
        """A value as it is typed into a job."""
        return f"{value:g}" if self.unit == "-" else f"{value:g} {self.unit}"

    def in_si(self, value: float) -> float:
        """A value in the unit in which the model takes it."""
        return to_si(value, self.unit) if self.unit in _KNOWN else value


_KNOWN = frozenset(unit.name for unit in UNITS)


def bounds_of(slug: str) -> Bounds:
    """Bounds within which a value of the soil is fitted: its usual range.

    Parameters
    ----------
    slug : str
        Row of the table `practice_field_defaults`. [-]

    Returns
    -------
    Bounds
        Ends of the usual range, in the unit of the row. [-]

    Raises
    ------
    UnknownName
        If there is no such row.
    """
    row = read_table(PACKAGE, DEFAULTS).row(slug)
    names = tuple(name for name, own in SLUGS[FieldSoil].items() if own == slug)
    return Bounds(slug, row.text("unit"), row.number("low"), row.number("high"), names)
