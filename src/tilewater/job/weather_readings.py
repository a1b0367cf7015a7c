# SPDX-License-Identifier: Apache-2.0
"""What a weather file holds before it becomes a record: readings with their day and line.

Every format is read into the same `Readings`; what it has that others have not, flags of quality,
traces, totals of several days, is counted on the way and told as findings.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from tilewater.basis.errors import BadInputFile, Fault
from tilewater.basis.findings import Finding
from tilewater.basis.unit_table import UNITS
from tilewater.job.flow_record import MANY

MULTI_DAY_SHOWN = 3
"""Totals of several days that are named."""
MILLIMETRE = 0.001
INCH = 0.0254


@dataclass(frozen=True)
class Measure:
    """A unit of a column: its name in words, and how it becomes the unit of the record."""

    name: str
    factor: float
    zero: float = 0.0

    def __call__(self, value: float) -> float:
        """Value in the unit of the record."""
        return value * self.factor + self.zero


def measure_of(unit: str, dimension: str, per: float = 1.0) -> Measure:
    """A unit of the table of units, for a record that counts in `per` of its base unit."""
    known = next(u for u in UNITS if u.name == unit and u.dimension == dimension)
    return Measure(unit, float(known.factor) / per, float(known.zero) / per)


def tenths(measure: Measure, name: str) -> Measure:
    """The same unit in tenths, as archives write whole numbers."""
    return Measure(f"tenths of {name}", measure.factor / 10.0, measure.zero)


MM = Measure("mm", MILLIMETRE)
DEGC = measure_of("degC", "temperature")
DEGF = measure_of("degF", "temperature")
PERCENT = Measure("%", 0.01)


@dataclass
class Column:
    """Readings of one element.

    Attributes
    ----------
    element : str
        As `hydrology.weather` names it.
    label : str
        As the file names it.
    measure : Measure
    days : list of int
        Ordinals of the days.
    values : list of float
        As in the file.
    lines : list of int
    """

    element: str
    label: str
    measure: Measure
    days: list[int] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    lines: list[int] = field(default_factory=list)

    def add(self, day: int, value: float, line: int) -> None:
        """Keep a reading."""
        self.days.append(day)
        self.values.append(value)
        self.lines.append(line)


@dataclass(frozen=True)
class Span:
    """Days that are taken of a file."""

    first: date = date.min
    last: date = date.max

    @property
    def ordinals(self) -> range:
        """Ordinals of its days."""
        return range(self.first.toordinal(), self.last.toordinal() + 1)


@dataclass
class Readings:
    """Everything that was read of a file.

    Attributes
    ----------
    file : str
    kind : str
        Format, as the job file names it.
    columns : dict of str to Column
        By element.
    station : str
    latitude_deg, elevation : float or None
        As the file states them. [deg], [m]
    dropped : Counter
        Readings with a flag of quality, by label and flag.
    traces, presumed : Counter
        Traces, and zeros that were presumed, by label.
    totals : list of (int, float, int)
        Last day, depth in m and number of days of totals of several days.
    units_advice : str
        What to do where the readings are in another unit.
    faults : list of Fault
    """

    file: str
    kind: str
    columns: dict[str, Column] = field(default_factory=dict)
    station: str = ""
    latitude_deg: float | None = None
    elevation: float | None = None
    dropped: Counter[tuple[str, str]] = field(default_factory=Counter)
    traces: Counter[str] = field(default_factory=Counter)
    presumed: Counter[str] = field(default_factory=Counter)
    totals: list[tuple[int, float, int]] = field(default_factory=list)
    units_advice: str = ""
    faults: list[Fault] = field(default_factory=list)

    def fault(self, line: int | None, where: str, message: str) -> None:
        """Keep a fault; after many of them the rest says nothing new."""
        if len(self.faults) < MANY:
            self.faults.append(Fault(self.file, line, where, message))
        elif len(self.faults) == MANY:
            self.faults.append(Fault(self.file, line, "", "there are more faults below it."))

    def close(self) -> None:
        """Raise what was found, in the order of the lines."""
        if self.faults:
            raise BadInputFile(*sorted(self.faults, key=lambda fault: fault.line or 0))

    def findings(self) -> Iterator[Finding]:
        """What was left out or taken as something else on the way."""
        yield from self._dropped()
        yield from self._zeros()
        yield from self._totals()

    def _dropped(self) -> Iterator[Finding]:
        count = sum(self.dropped.values())
        if not count:
            return
        by_label: dict[str, list[str]] = {}
        for (label, flag), number in sorted(self.dropped.items()):
            words = FLAGS.get(flag, "flag not described")
            by_label.setdefault(label, []).append(f"{number} {flag} ({words})")
        told = "; ".join(f"{label} {', '.join(flags)}" for label, flags in by_label.items())
        yield Finding(
            "weather-flagged-dropped",
            "note",
            "weather",
            f"{count} {'reading' if count == 1 else 'readings'} that failed a check of the archive "
            f"{'is' if count == 1 else 'are'} left out: {told}. Their days count as days without a "
            "value.",
            value=float(count),
        )

    def _zeros(self) -> Iterator[Finding]:
        if count := sum(self.traces.values()):
            yield Finding(
                "weather-traces",
                "note",
                "weather",
                f"{count} {'trace counts' if count == 1 else 'traces count'} as 0: "
                f"{_by_label(self.traces)}.",
                value=float(count),
            )
        if count := sum(self.presumed.values()):
            yield Finding(
                "weather-presumed-zero",
                "note",
                "weather",
                f"{count} {'day' if count == 1 else 'days'} without an entry "
                f"{'is' if count == 1 else 'are'} presumed 0 by the archive: "
                f"{_by_label(self.presumed)}. "
                f"{'It is' if count == 1 else 'They are'} taken so.",
                value=float(count),
            )

    def _totals(self) -> Iterator[Finding]:
        if not self.totals:
            return
        depth = sum(total for _, total, _ in self.totals)
        counts = [count for *_, count in self.totals]
        on = f" on {sum(counts)} days in all" if all(counts) else ""
        largest = sorted(self.totals, key=lambda total: -total[1])[:MULTI_DAY_SHOWN]
        shown = "; ".join(
            f"{total / INCH:.2f} in over {count or 'untold'} days to {date.fromordinal(day)}"
            for day, total, count in largest
        )
        several = len(self.totals) > 1
        yield Finding(
            "weather-multi-day-totals",
            "caution",
            "weather",
            f"{len(self.totals)} {'totals' if several else 'total'} of several days, "
            f"{depth / INCH:.2f} in{on}, {'are' if several else 'is'} not in the "
            f"daily rain{', the largest' if several else ':'} {shown}. Their days count as days "
            "without a value; a rule that fills them does not know of these totals.",
            value=depth,
            unit="m",
        )


FLAGS = {
    "D": "twice",
    "G": "gap in the record",
    "I": "not in agreement with another element",
    "K": "the same for too long",
    "L": "total of several days",
    "M": "impossible",
    "N": "no zero that can be",
    "O": "out of the climate",
    "R": "far from the hours before and after",
    "S": "far from its neighbours",
    "T": "far from the days before and after",
    "W": "too warm for snow",
    "X": "out of bounds",
    "Z": "found wrong by hand",
}
"""Flags of quality of GHCN-Daily, in our words."""


def _by_label(counts: Counter[str]) -> str:
    return ", ".join(f"{number} of {label}" for label, number in sorted(counts.items()))
